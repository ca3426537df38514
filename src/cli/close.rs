//! `marram close COMPETITION`: writes the results with digests of what they were made from.

use super::World;
use super::total::{open, say_problems};
use crate::competition::{self, show};
use crate::shelf::{Closed, close};
use crate::store::now;
use clap::Args;

/// What to close.
#[derive(Debug, Args)]
pub struct CloseArgs {
    /// The competition: a name on the shelf, or its folder.
    #[arg(value_name = "COMPETITION")]
    pub competition: String,
    /// Why there is another result, after something has changed.
    #[arg(long, value_name = "TEXT")]
    pub reason: Option<String>,
    /// One JSON object.
    #[arg(long)]
    pub json: bool,
}

/// Runs the command: 1 where something is missing, 2 where a reason is.
pub fn run(args: &CloseArgs, world: &mut World<'_>) -> u8 {
    let opened = match open(&args.competition, world) {
        Ok(opened) => opened,
        Err(code) => return code,
    };
    say_problems(&opened, world);
    let Some(competition) = opened.competition.as_ref().filter(|_| opened.is_sound()) else {
        return 1;
    };
    let mut totals = competition::total(competition);
    totals.issues.extend(opened.issues.iter().cloned());
    let _ = world.err.write_all(show::issues_text(&totals.issues).as_bytes());
    if !totals.is_final() {
        let _ = writeln!(world.err, "marram: not closed: what is missing above has to be settled first");
        return 1;
    }
    let reason = args.reason.as_deref().map(str::trim).filter(|reason| !reason.is_empty());
    match close(&world.store, &opened, competition, &totals, reason, &now()) {
        Err(error) => world.file_trouble(&error),
        Ok(Closed::NeedsReason(proof)) => {
            world.misuse(&format!("{}; another result needs its reason: --reason TEXT", proof.words()))
        }
        Ok(Closed::Unchanged(proof)) => {
            let value = serde_json::json!({ "schema": "marram/close/1", "result": proof.result, "written": [], "proved": true });
            let text = if args.json { value.to_string() } else { proof.words() };
            u8::from(writeln!(world.out, "{text}").is_err())
        }
        Ok(Closed::Written(manifest, paths)) => {
            let shown: Vec<String> = paths.iter().map(|path| path.display().to_string()).collect();
            let value = serde_json::json!({
                "schema": "marram/close/1",
                "result": manifest.result,
                "reason": manifest.reason,
                "written": shown,
                "made_from": manifest.made_from,
            });
            let text =
                if args.json { value.to_string() } else { format!("result {}\n{}", manifest.result, shown.join("\n")) };
            u8::from(writeln!(world.out, "{text}").is_err())
        }
    }
}
