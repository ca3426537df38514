//! A season, and what to practise for a course.

use super::ReviewArgs;
use crate::cli::World;
use crate::review::season::{self, Season};
use crate::review::show::{self, index_text, part_json, round};
use crate::review::{Look, RoundCase, RoundReview, practise_course, review_rounds};
use crate::shelf::{self, Wanted};
use crate::store::Sort;
use crate::units::plain_text::plain_lines;
use serde_json::json;
use std::sync::atomic::AtomicBool;

/// The season of a player.
pub fn season_of(args: &ReviewArgs, world: &mut World<'_>) -> Result<(Season, Vec<RoundCase>, Vec<RoundReview>), u8> {
    let (_, rounds) = super::rounds(args, world)?;
    let cases: Vec<RoundCase> =
        rounds.into_iter().map(|(past, player)| RoundCase { session: past.session, player }).collect();
    let reviews = review_rounds(&cases, Look::Quick, true, &AtomicBool::new(false));
    let made = season::season(&cases, &reviews);
    Ok((made, cases, reviews.into_iter().flatten().collect()))
}

/// Runs `--season`.
pub fn season(args: &ReviewArgs, world: &mut World<'_>) -> u8 {
    let (made, _, reviews) = match season_of(args, world) {
        Ok(made) => made,
        Err(code) => return code,
    };
    let text = if args.json {
        as_json(&made).to_string()
    } else if args.csv {
        show::csv(&reviews).trim_end().to_owned()
    } else {
        plain_lines(&show::season_lines(&made).join("\n")).into_owned()
    };
    u8::from(writeln!(world.out, "{text}").is_err())
}

fn as_json(s: &Season) -> serde_json::Value {
    let r = |v: f64| round(v, 3);
    let group = |g: &crate::review::season::Scoring| {
        json!({ "name": g.name, "holes": g.over_par.n, "over_par": r(g.over_par.mean), "plus_minus_90": g.over_par.half.map(r),
                "gained": r(g.gained.mean), "gained_plus_minus_90": g.gained.half.map(r), "verdict": g.gained.verdict() })
    };
    json!({
        "schema": "marram/season/1", "player": s.player, "index": s.index, "index_text": index_text(s.index),
        "rounds": s.rounds.iter().map(|x| json!({ "round": x.id, "date": x.date, "place": x.place, "holes": x.holes, "gross": x.gross, "gained": r(x.gained),
            "differential": x.differential.map(|d| f64::from(d.tenths()) / 10.0), "index": x.index.map(|i| f64::from(i.value().tenths()) / 10.0) })).collect::<Vec<_>>(),
        "gained_a_round": r(s.each_round.mean), "gained_a_round_plus_minus_90": s.each_round.half.map(r),
        "parts": s.parts.iter().map(part_json).collect::<Vec<_>>(),
        "decision_cost_a_round": r(-s.decisions.0), "decisions_judged": s.decisions.1,
        "home": s.home, "by_hole": s.by_hole.iter().map(group).collect::<Vec<_>>(), "by_par": s.by_par.iter().map(group).collect::<Vec<_>>(),
        "by_wind": s.by_wind.iter().map(group).collect::<Vec<_>>(),
        "eclectic": s.eclectic.as_ref().map(|e| json!({ "place": e.place, "holes": e.holes.iter().map(|(h, p, b)| json!({ "hole": h, "par": p, "best": b })).collect::<Vec<_>>() })),
        "practice": s.practice.iter().map(|p| json!({ "what": p.what, "saves_a_round": r(p.saves), "plus_minus_90": p.half.map(r), "strokes": p.n, "sure": p.is_sure() })).collect::<Vec<_>>(),
        "forecasts": s.ledger, "remarks": s.remarks,
    })
}

/// Runs `--practise`.
pub fn practise(args: &ReviewArgs, world: &mut World<'_>) -> u8 {
    let name = args.practise.clone().unwrap_or_default();
    let session = match open(args, &name, world) {
        Ok(session) => session,
        Err(code) => return code,
    };
    let Some(golfer) = session.golfers.first() else {
        let _ = writeln!(world.err, "marram: the notebook cannot be read; marram check names its problems");
        return 1;
    };
    let found = practise_course(&session, 0, &AtomicBool::new(false));
    let course = session.course.as_ref().map(|c| c.name.clone()).unwrap_or_default();
    let text = if args.json {
        json!({
            "schema": "marram/practise/1", "course": course, "player": golfer.name, "tee": golfer.tee,
            "saves": found.iter().map(|f| json!({ "club": f.club, "lie": f.lie, "strokes_a_round": round(f.saves, 3), "plus_minus_90": f.half.map(|h| round(h, 3)), "shots_a_round": round(f.shots, 2) })).collect::<Vec<_>>(),
        })
        .to_string()
    } else {
        let mut out = format!(
            "{course}, {} tees, {}: strokes a round saved by ten per cent less spread\n\n{:<18} {:<13} {:>7} {:>8}\n",
            golfer.tee, golfer.name, "club", "lie", "saves", "shots"
        );
        for f in &found {
            let half = f.half.map_or_else(String::new, |h| format!(" ± {h:.2}"));
            out.push_str(&format!("{:<18} {:<13} {:>7.2} {:>8.1}{half}\n", f.club, f.lie, f.saves, f.shots));
        }
        out.push_str(
            "\nWorked out by playing the plan out; the plan is kept, so where it would change a little more is saved.",
        );
        plain_lines(&out).into_owned()
    };
    u8::from(writeln!(world.out, "{text}").is_err())
}

/// Opens a course for the player that is meant.
pub fn open(args: &ReviewArgs, name: &str, world: &mut World<'_>) -> Result<crate::session::Session, u8> {
    let course = world.find(Sort::Notebook, name).map_err(|e| world.file_trouble(&e))?;
    let player = super::player_file(args, world).map_err(|e| world.file_trouble(&e))?;
    if let (None, Some(name)) = (&player, &args.player) {
        return Err(world.misuse(&format!("--player `{name}` is no player on the shelf")));
    }
    let wanted =
        Wanted { players: player.into_iter().map(|(p, _)| (p, args.tee.clone())).collect(), ..Wanted::default() };
    let session = shelf::open_course(&course, &wanted, &world.today).map_err(|e| world.file_trouble(&e))?;
    if let Some(tee) = &args.tee
        && session.course.as_ref().is_some_and(|c| c.tee(tee).is_none())
    {
        return Err(world.misuse(&format!("--tee `{tee}` is no tee of this course")));
    }
    Ok(session)
}
