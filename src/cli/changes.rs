//! `marram changes OLD NEW`: what differs between two editions of a notebook in golf's words, and whose plans change.

use super::World;
use crate::course::Course;
use crate::session::Session;
use crate::shelf::{self, Wanted, open_group};
use crate::store::{Sort, StoreError};
use crate::survey::changes::{Change, PlanChange, compare, plan_change};
use crate::units::plain_text::{plain, plain_lines};
use clap::Args;
use rayon::prelude::*;
use serde_json::{Value, json};
use std::sync::atomic::AtomicBool;

/// What to compare.
#[derive(Debug, Args)]
pub struct ChangesArgs {
    /// The edition before: a notebook, by name or file.
    #[arg(value_name = "OLD")]
    pub old: String,
    /// The edition now.
    #[arg(value_name = "NEW")]
    pub new: String,
    /// A group whose plans are worked out on both: a CSV with the columns player and tee, or its name on the shelf.
    #[arg(long, value_name = "LIST")]
    pub pupils: Option<String>,
    /// One JSON object.
    #[arg(long)]
    pub json: bool,
}

/// A pupil and the holes that changed for them.
struct PupilChanges {
    name: String,
    tee: String,
    holes: Vec<PlanChange>,
}

/// Runs the command.
pub fn run(args: &ChangesArgs, world: &mut World<'_>) -> u8 {
    match answer(args, world) {
        Ok(text) => u8::from(writeln!(world.out, "{}", text.trim_end()).is_err()),
        Err(code) => code,
    }
}

fn answer(args: &ChangesArgs, world: &mut World<'_>) -> Result<String, u8> {
    let mut wanted = Wanted::default();
    let mut left = Vec::new();
    if let Some(list) = &args.pupils {
        let group = match open_group(&world.store, &world.current, list) {
            Ok(group) => group,
            Err(error) => return Err(world.file_trouble(&error)),
        };
        for problem in &group.problems {
            let _ = writeln!(world.err, "marram: {problem}");
        }
        wanted.players = group.players;
        left = group.missing;
    }
    let (old, new) = (open(&args.old, &wanted, world)?, open(&args.new, &wanted, world)?);
    let (Some(before), Some(now)) = (&old.course, &new.course) else { return Err(1) };
    let changes = compare(before, now);
    let pupils = if args.pupils.is_some() { plans(&old, &new) } else { Vec::new() };
    for name in &left {
        let _ = writeln!(world.err, "marram: {} has no file in players/ and is left out", plain(name));
    }
    Ok(if args.json {
        as_json(before, now, &changes, &pupils, &left).to_string()
    } else {
        plain_lines(&as_text(now, &changes, &pupils, args.pupils.is_some())).into_owned()
    })
}

fn open(name: &str, wanted: &Wanted, world: &mut World<'_>) -> Result<Session, u8> {
    let found: Result<Session, StoreError> =
        world.find(Sort::Notebook, name).and_then(|path| shelf::open_course(&path, wanted, &world.today));
    match found {
        Ok(session) if session.course.is_some() => Ok(session),
        Ok(_) => {
            let _ = writeln!(world.err, "marram: {name} cannot be read as a notebook; marram check names its problems");
            Err(1)
        }
        Err(error) => Err(world.file_trouble(&error)),
    }
}

/// Every pupil on every hole that both editions have. Holes are independent and are collected in order.
fn plans(old: &Session, new: &Session) -> Vec<PupilChanges> {
    let never = AtomicBool::new(false);
    let pairs: Vec<(usize, usize, usize)> = (0..new.golfers.len())
        .flat_map(|player| {
            new.order
                .iter()
                .enumerate()
                .filter_map(move |(position, hole)| Some((player, old.order.iter().position(|h| h == hole)?, position)))
        })
        .collect();
    let made: Vec<(usize, Option<PlanChange>)> = pairs
        .par_iter()
        .filter_map(|(player, before, now)| {
            let units = new.golfers.get(*player)?.units;
            let a = old.question(*before, *player, None, old.aimed(), units)?;
            let b = new.question(*now, *player, None, new.aimed(), units)?;
            Some((*player, plan_change(&a, &b, &never).ok().flatten()))
        })
        .collect();
    let golfers = new.golfers.iter().enumerate();
    golfers
        .map(|(player, golfer)| PupilChanges {
            name: golfer.name.clone(),
            tee: golfer.tee.clone(),
            holes: made.iter().filter(|(p, _)| *p == player).filter_map(|(_, change)| change.clone()).collect(),
        })
        .collect()
}

fn strokes(value: f64) -> String {
    format!("{}{:.2}", if value < 0.0 { "−" } else { "+" }, value.abs())
}

fn as_text(course: &Course, changes: &[Change], pupils: &[PupilChanges], asked: bool) -> String {
    let mut out = format!("{}\n", course.name);
    if changes.is_empty() {
        out.push_str("Nothing differs between the two editions.\n");
    }
    let mut last: Option<Option<u8>> = None;
    for change in changes {
        if last != Some(change.hole) {
            out.push('\n');
            match change.hole.and_then(|n| course.hole(n)) {
                Some(hole) => {
                    let name = hole.name.as_ref().map(|n| format!("  {n}")).unwrap_or_default();
                    out.push_str(&format!("Hole {}{name}\n", hole.number));
                }
                None => out.push_str(&change.hole.map_or("The course\n".to_owned(), |n| format!("Hole {n}\n"))),
            }
            last = Some(change.hole);
        }
        out.push_str(&format!("  {}\n", change.words));
    }
    if changes.iter().any(|c| c.hole.is_some()) {
        out.push_str("\nPlaces are counted from the start of each hole's line.\n");
    }
    if !asked {
        return out;
    }
    for pupil in pupils {
        out.push_str(&format!("\n{}, {} tees\n", pupil.name, pupil.tee));
        if pupil.holes.is_empty() {
            out.push_str("  no plan changes\n");
        }
        for change in &pupil.holes {
            let more = change.more().map(|m| format!(" ({} strokes)", strokes(m))).unwrap_or_default();
            let show = |play: &Option<String>| play.clone().unwrap_or_else(|| "no plan".to_owned());
            if change.play_changes {
                out.push_str(&format!(
                    "  hole {}: {} → {}{more}\n",
                    change.hole,
                    show(&change.before),
                    show(&change.now)
                ));
            } else {
                out.push_str(&format!("  hole {}: the same play, {}{more}\n", change.hole, show(&change.now)));
            }
        }
    }
    out
}

fn as_json(old: &Course, new: &Course, changes: &[Change], pupils: &[PupilChanges], left: &[String]) -> Value {
    let round = |v: Option<f64>| v.map(|v| (v * 1000.0).round() / 1000.0 + 0.0);
    let changes: Vec<Value> =
        changes.iter().map(|c| json!({ "hole": c.hole, "of": c.of.word(), "words": c.words })).collect();
    let pupils: Vec<Value> = pupils
        .iter()
        .map(|p| {
            let holes: Vec<Value> = p
                .holes
                .iter()
                .map(|h| {
                    json!({ "hole": h.hole, "play_changes": h.play_changes, "before": h.before, "now": h.now,
                        "expected_strokes_before": round(h.strokes_before), "expected_strokes_now": round(h.strokes_now),
                        "more_strokes": round(h.more()) })
                })
                .collect();
            json!({ "player": p.name, "tee": p.tee, "holes": holes })
        })
        .collect();
    json!({ "schema": "marram/changes/1", "course": new.name, "old_edition": old.edition, "new_edition": new.edition,
        "changes": changes, "pupils": pupils, "left_out": left })
}
