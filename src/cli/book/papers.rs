//! The papers of a competition.

use super::{BookArgs, Made, Paper, Print, write};
use crate::cli::World;
use crate::cli::total::{open, say_problems};
use crate::competition;
use crate::print::papers;

/// The start sheet or the notice of results.
pub fn competition(args: &BookArgs, print: &Print, world: &mut World<'_>) -> u8 {
    let opened = match open(&args.course, world) {
        Ok(opened) => opened,
        Err(code) => return code,
    };
    say_problems(&opened, world);
    let Some(competition) = opened.competition.as_ref().filter(|_| opened.is_sound()) else { return 1 };
    let (word, leaf) = if args.paper == Paper::StartSheet {
        ("start-sheet", papers::start_sheet(competition))
    } else {
        let mut totals = competition::total(competition);
        totals.issues.extend(opened.issues.iter().cloned());
        ("results", papers::results(competition, &totals))
    };
    let made = Made {
        name: format!("{}-{word}", crate::round::slug(&competition.setup.name)),
        title: format!("{}: {}", competition.setup.name, leaf.name),
        author: None,
        leaves: vec![leaf],
    };
    write::write(args, print, vec![made], world)
}
