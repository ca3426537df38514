//! `marram scout COURSE`: what to pace next, because a plausible error in it would change a plan.

use super::World;
use crate::plan::{NoPlan, Question};
use crate::shelf::{self, Wanted, open_group};
use crate::store::{Sort, StoreError};
use crate::survey::scout::{ScoutLine, rank, scout_hole};
use crate::units::plain_text::plain_lines;
use crate::units::{Across, Length, LengthUnit};
use clap::Args;
use rayon::prelude::*;
use serde_json::{Value, json};
use std::sync::atomic::AtomicBool;

/// What to scout.
#[derive(Debug, Args)]
pub struct ScoutArgs {
    /// The course: a name on the shelf or a file.
    pub course: String,
    /// The players who are asked, the first two of each tee; without them the last used, else one assumed from index 18.
    #[arg(long, num_args = 1.., value_name = "NAME", conflicts_with = "pupils")]
    pub player: Vec<String>,
    /// The tee of those players.
    #[arg(long)]
    pub tee: Option<String>,
    /// A group instead: a CSV with the columns player and tee, or its name on the shelf.
    #[arg(long, value_name = "LIST")]
    pub pupils: Option<String>,
    /// One hole only.
    #[arg(long)]
    pub hole: Option<u8>,
    /// One JSON object.
    #[arg(long)]
    pub json: bool,
}

/// Runs the command.
pub fn run(args: &ScoutArgs, world: &mut World<'_>) -> u8 {
    let session = match open(args, world) {
        Ok(session) => session,
        Err(error) => return world.file_trouble(&error),
    };
    let Some(course) = &session.course else {
        let _ = writeln!(world.err, "marram: the notebook cannot be read; marram check names its problems");
        return 1;
    };
    let positions: Vec<usize> =
        (0..session.order.len()).filter(|p| args.hole.is_none_or(|h| session.order.get(*p) == Some(&h))).collect();
    if positions.is_empty() {
        return world.misuse(&format!("--hole {} is no hole of {}", args.hole.unwrap_or(0), course.name));
    }
    let never = AtomicBool::new(false);
    let scouted: Vec<Result<Vec<ScoutLine>, (u8, NoPlan)>> = positions
        .par_iter()
        .map(|position| {
            let asked: Vec<(&str, Question)> = session
                .golfers
                .iter()
                .enumerate()
                .filter_map(|(player, golfer)| {
                    let question =
                        session.question(*position, player, args.tee.as_deref(), session.aimed(), course.units)?;
                    Some((golfer.name.as_str(), question))
                })
                .collect();
            let asked: Vec<(&str, &Question)> = asked.iter().map(|(name, q)| (*name, q)).collect();
            let hole = session.order.get(*position).copied().unwrap_or(0);
            scout_hole(&asked, &never).map_err(|why| (hole, why))
        })
        .collect();
    let mut lines: Vec<ScoutLine> = Vec::new();
    let mut left: Vec<(u8, String)> = Vec::new();
    for result in scouted {
        match result {
            Ok(found) => lines.extend(found),
            Err((hole, why)) => left.push((hole, why.to_string())),
        }
    }
    rank(&mut lines);
    let shown = if args.json {
        as_json(&course.name, &lines, &left).to_string()
    } else {
        plain_lines(&as_text(&course.name, &lines, &left, course.units)).into_owned()
    };
    u8::from(writeln!(world.out, "{}", shown.trim_end()).is_err())
}

fn open(args: &ScoutArgs, world: &mut World<'_>) -> Result<crate::session::Session, StoreError> {
    let path = world.find(Sort::Notebook, &args.course)?;
    let mut players = Vec::new();
    if let Some(list) = &args.pupils {
        let group = open_group(&world.store, &world.current, list)?;
        for words in group
            .problems
            .iter()
            .cloned()
            .chain(group.missing.iter().map(|name| format!("{name} has no file in players/ and is left out")))
        {
            let _ = writeln!(world.err, "marram: {words}");
        }
        players = group.players;
    }
    for name in &args.player {
        players.push((world.find(Sort::Player, name)?, args.tee.clone()));
    }
    if players.is_empty() && args.pupils.is_none() {
        let (settings, _) = world.store.settings();
        players.extend(shelf::player_for(&world.store, settings.last()).map(|p| (p, args.tee.clone())));
    }
    shelf::open_course(&path, &Wanted { players, ..Wanted::default() }, &world.today)
}

fn known(line: &ScoutLine) -> &'static str {
    use crate::course::Sure;
    match line.sure {
        Some(Sure::Guess) => "guessed",
        Some(Sure::Map) => "from the map",
        Some(Sure::Paced) => "paced",
        Some(Sure::Laser) => "lasered",
        None => "nobody says",
    }
}

fn as_text(course: &str, lines: &[ScoutLine], left: &[(u8, String)], unit: LengthUnit) -> String {
    let show = |yards: f64| Length::yards(yards).show(unit);
    let mut out = format!("{course}: what to measure next\n\n");
    if lines.is_empty() {
        out.push_str("No number that is unmeasured or guessed would change a play by a plausible error.\n");
    }
    for line in lines {
        out.push_str(&format!(
            "hole {:>2}  {}: {} (now {}, {}; {}, ±{})\n",
            line.hole,
            line.what,
            line.measure.words(),
            show(line.at.0),
            Across(line.across.0).show(unit),
            known(line),
            show(line.doubt),
        ));
        for player in &line.players {
            out.push_str(&format!(
                "         {:.0} in 4 for {}: {} → {}\n",
                player.share * 4.0,
                player.player,
                player.play,
                player.instead
            ));
        }
    }
    if !lines.is_empty() {
        out.push_str("\nPlaces are counted from the start of each hole's line, aims from the player's tee.\n");
    }
    for (hole, why) in left {
        out.push_str(&format!("hole {hole:>2}  not scouted: {why}\n"));
    }
    out
}

fn as_json(course: &str, lines: &[ScoutLine], left: &[(u8, String)]) -> Value {
    let tenth = |v: f64| (v * 10.0).round() / 10.0 + 0.0;
    let lines: Vec<Value> = lines
        .iter()
        .map(|l| {
            let players: Vec<Value> = l
                .players
                .iter()
                .map(|p| json!({ "player": p.player, "share": p.share, "play": p.play, "instead": p.instead }))
                .collect();
            json!({ "hole": l.hole, "what": l.what, "measure": format!("{:?}", l.measure).to_lowercase(),
                "at_yd": tenth(l.at.0), "across_yd": tenth(l.across.0),
                "sure": l.sure.map(|s| format!("{s:?}").to_lowercase()), "error_yd": tenth(l.doubt),
                "share": l.share, "cost_strokes": (l.price * 1000.0).round() / 1000.0, "players": players })
        })
        .collect();
    let left: Vec<Value> = left.iter().map(|(hole, why)| json!({ "hole": hole, "why": why })).collect();
    json!({ "schema": "marram/scout/1", "course": course, "measure": lines, "left_out": left })
}
