//! `--target`: what a target needs, before a round and in practice rounds during it.

use super::ReviewArgs;
use crate::cli::World;
use crate::review::show::round;
use crate::review::target::Target;
use crate::review::{need, show};
use crate::round::Ability;
use crate::shelf;
use crate::units::plain_text::plain_lines;
use serde_json::json;
use std::sync::atomic::AtomicBool;

/// Runs it.
pub fn run(args: &ReviewArgs, world: &mut World<'_>) -> u8 {
    let target = match Target::read(args.target.as_deref().unwrap_or_default()) {
        Ok(target) => target,
        Err(why) => return world.misuse(&format!("--target {why}")),
    };
    let (session, player) = match (&args.round, &args.course) {
        (None, Some(course)) => match super::whole::open(args, course, world) {
            Ok(session) => (session, 0),
            Err(code) => return code,
        },
        _ => {
            let path = match super::round_path(args, world) {
                Ok(path) => path,
                Err(code) => return code,
            };
            let past = match shelf::as_it_was(&path, &world.today) {
                Ok(past) => past,
                Err(error) => return world.file_trouble(&error),
            };
            match super::player_of(args, &past.session, world) {
                Ok(player) => (past.session, player),
                Err(code) => return code,
            }
        }
    };
    if let Some(why) = session.why_not(Ability::PlaySoFar) {
        let _ = writeln!(world.err, "marram: {why}");
        return 1;
    }
    let found = match need(&session, player, target, &AtomicBool::new(false)) {
        Ok(found) => found,
        Err(why) => {
            let _ = writeln!(world.err, "marram: {why}");
            return 1;
        }
    };
    let text = if args.json {
        json!({
            "schema": "marram/need/1", "target": target.words(), "so_far": found.so_far, "chance": round(found.chance, 4), "chance_by_plan": round(found.by_plan, 4),
            "holes": found.holes,
        })
        .to_string()
    } else {
        plain_lines(&show::need_lines(&found).join("\n")).into_owned()
    };
    u8::from(writeln!(world.out, "{text}").is_err())
}
