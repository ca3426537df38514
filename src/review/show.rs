//! A review in lines of text and as JSON.

use super::judge::{HoleReview, Part};
use super::mean::signed;
use super::round::{PartReview, RoundReview};
use serde_json::{Value, json};

/// The review of a round as lines, at most 100 columns.
pub fn lines(review: &RoundReview) -> Vec<String> {
    let mut out = vec![format!("{}, {}, {} tees: {}", review.course, review.date, review.tee, review.player)];
    let (expected, taken) = review.expected_and_taken();
    if taken > 0 {
        let (told, all) = review.told();
        out.push(format!(
            "{taken} strokes where {expected:.1} were to be expected of you: {}; {told} of {all} strokes are logged",
            signed(review.gained())
        ));
    }
    out.extend(review.remarks.iter().map(|r| format!("note  {r}")));
    out.push(String::new());
    out.extend(parts(&review.parts(), review.index));
    let (cost, judged) = review.decisions();
    if judged > 0 {
        out.push(format!("choices of club cost {:.2} in {judged} judged; the rest is execution", -cost + 0.0));
    }
    out.push(String::new());
    out.push("The holes that mattered".to_owned());
    for hole in review.holes_that_mattered(3) {
        out.push(format!("  {:<3} {:>6}  {}", hole.hole, signed(hole.gained.unwrap_or(0.0)), story(hole)));
    }
    let shots = review.shots_that_mattered(3);
    if !shots.is_empty() {
        out.push("The strokes that mattered".to_owned());
        out.extend(shots.iter().map(|(hole, words, gained)| format!("  {hole:<3} {:>6}  {words}", signed(*gained))));
    }
    if !review.dangers.is_empty() {
        out.push("Dangers: said and took".to_owned());
        for danger in &review.dangers {
            let said = danger.price.map_or_else(|| "not priced".to_owned(), |p| format!("said {p:.2}"));
            let took = match danger.times {
                0 => "took nothing".to_owned(),
                1 => format!("took {:.2}", danger.took),
                n => format!("took {:.2} in {n} visits", danger.took),
            };
            out.push(format!("  {:<3} {}: {said}, {took}", danger.hole, danger.name));
        }
    }
    out.push(String::new());
    out.push("Hole by hole: expected, score, gained; then each stroke with what it gained".to_owned());
    for hole in &review.holes {
        out.extend(hole_lines(hole));
    }
    out.push(String::new());
    out.push(
        "Your own expectation is the solver's for your bag by the notebook of that day; ± is a 90 % interval."
            .to_owned(),
    );
    out
}

/// Parts of the game in a table.
pub fn parts(parts: &[PartReview], index: f64) -> Vec<String> {
    let against = format!("against index {}", index_text(index));
    let mut out = vec![format!("{:<10} {:>4} {:>7} {:>18}  a stroke", "part", "n", "gained", against)];
    for part in parts {
        let against = part.against_index.filter(|_| part.each.n > 0).map_or_else(String::new, signed);
        out.push(format!(
            "{:<10} {:>4} {:>7} {:>18}  {}",
            part.part.word(),
            part.each.n,
            if part.each.n > 0 { signed(part.total) } else { "-".to_owned() },
            against,
            if part.part == Part::Penalty { String::new() } else { part.each.words() }
        ));
    }
    out
}

/// An index as the trade writes it.
pub fn index_text(index: f64) -> String {
    if index < 0.0 { format!("+{:.1}", -index) } else { format!("{index:.1}") }
}

/// What made a hole what it was: its dearest and its best stroke.
fn story(hole: &HoleReview) -> String {
    let score = hole.score.map_or_else(|| "no score".to_owned(), |s| format!("{s} on a par {}", hole.par));
    let mut strokes: Vec<(f64, String)> = hole
        .shots
        .iter()
        .filter_map(|s| Some((s.gained? - f64::from(s.penalty), s.words())))
        .chain(hole.putts.and_then(|p| Some((p.gained?, format!("{} putts", p.count)))))
        .collect();
    strokes.sort_by(|a, b| b.0.abs().total_cmp(&a.0.abs()));
    match strokes.first() {
        Some((gained, words)) => format!("{score}: {words} ({})", signed(*gained)),
        None => score,
    }
}

/// One hole with its strokes.
pub fn hole_lines(hole: &HoleReview) -> Vec<String> {
    let score = hole.score.map_or_else(|| "-".to_owned(), |s| s.to_string());
    let gained = hole.gained.map_or_else(String::new, signed);
    let mut out = vec![format!("{:<3} par {}  {:>5.2} {:>3} {:>6}", hole.hole, hole.par, hole.expected, score, gained)];
    for shot in &hole.shots {
        let figure = match shot.gained {
            None => "     ?".to_owned(),
            Some(gained) => format!("{:>6}", signed(gained - f64::from(shot.penalty))),
        };
        let decision = match (shot.decision, &shot.planned) {
            (Some(cost), Some(planned)) if cost < 0.0 => {
                format!(
                    " [decision {}: {planned}; execution {}]",
                    signed(cost),
                    shot.execution.map_or_else(String::new, signed)
                )
            }
            _ => String::new(),
        };
        out.push(format!("      {figure}  {}{decision}", shot.words()));
    }
    if let Some(putts) = &hole.putts {
        let from =
            putts.first_ft.map_or_else(|| ", first length not known".to_owned(), |ft| format!(" from {ft:.0} ft"));
        let figure = putts.gained.map_or_else(|| "?".to_owned(), signed);
        out.push(format!("      {figure:>6}  {} putt{}{from}", putts.count, if putts.count == 1 { "" } else { "s" }));
    }
    out.extend(hole.remarks.iter().map(|r| format!("              {r}")));
    out
}

/// The review of a round as one object.
pub fn json(review: &RoundReview) -> Value {
    let r = |v: f64| round(v, 3);
    let (expected, taken) = review.expected_and_taken();
    let (told, strokes) = review.told();
    let (decisions, judged) = review.decisions();
    let hole = |h: &HoleReview| {
        json!({
            "hole": h.hole, "par": h.par, "strokes_received": h.received, "gross": h.score,
            "expected_strokes": r(h.expected), "gained": h.gained.map(r), "not_logged_gained": r(h.not_told),
            "shots": h.shots.iter().map(|s| json!({
                "shot": s.number, "club": s.club, "lie": s.lie, "to_hole_yd": s.to_hole_yd.map(|v| round(v, 1)),
                "left_yd": s.left_yd.map(|v| round(v, 1)), "into": s.into, "part": s.part.word(), "planned": s.planned,
                "before": s.before.map(r), "after": s.after.map(r), "penalty_strokes": s.penalty, "gained": s.gained.map(r),
                "decision": s.decision.map(r), "execution": s.execution.map(r), "against_index": s.against_index.map(r), "about": s.about,
            })).collect::<Vec<_>>(),
            "putts": h.putts.map(|p| json!({ "count": p.count, "first_ft": p.first_ft, "gained": p.gained.map(r), "against_index": p.against_index.map(r) })),
            "remarks": h.remarks,
        })
    };
    json!({
        "schema": "marram/review/1",
        "round": review.id, "date": review.date, "course": review.course, "player": review.player, "tee": review.tee,
        "index": review.index, "index_text": index_text(review.index),
        "gross": if taken > 0 { Some(taken) } else { None }, "expected_strokes": r(expected), "gained": r(review.gained()),
        "strokes_logged": told, "strokes": strokes, "decision_cost": r(-decisions), "decisions_judged": judged,
        "parts": review.parts().iter().map(part_json).collect::<Vec<_>>(),
        "holes_that_mattered": review.holes_that_mattered(3).iter().map(|h| h.hole).collect::<Vec<_>>(),
        "shots_that_mattered": review.shots_that_mattered(3).iter().map(|(hole, words, gained)| json!({ "hole": hole, "what": words, "gained": r(*gained) })).collect::<Vec<_>>(),
        "dangers": review.dangers.iter().map(|d| json!({ "hole": d.hole, "name": d.name, "said_strokes": d.price.map(r), "took_strokes": r(d.took), "times": d.times })).collect::<Vec<_>>(),
        "holes": review.holes.iter().map(hole).collect::<Vec<_>>(),
        "remarks": review.remarks,
    })
}

/// A part of the game as an object.
pub fn part_json(part: &PartReview) -> Value {
    let m = part.each;
    json!({
        "part": part.part.word(), "strokes": m.n, "gained": round(part.total, 3), "gained_each": round(m.mean, 4),
        "plus_minus_90": m.half.map(|h| round(h, 4)), "verdict": m.verdict(), "against_index": part.against_index.map(|a| round(a, 3)),
    })
}

/// Every judged stroke as CSV (RFC 4180), a line each.
pub fn csv(reviews: &[RoundReview]) -> String {
    let mut out = String::from(
        "round,date,course,player,hole,par,gross,shot,club,lie,to_hole_yd,left_yd,into,part,planned,before,after,penalty_strokes,gained,decision,execution,against_index,about\r\n",
    );
    let cell = |text: &str| {
        if text.contains([',', '"', '\n', '\r']) {
            format!("\"{}\"", text.replace('"', "\"\""))
        } else {
            text.to_owned()
        }
    };
    let figure = |v: Option<f64>| v.map_or_else(String::new, |v| format!("{}", round(v, 3)));
    for review in reviews {
        for hole in &review.holes {
            let head = [
                cell(&review.id),
                review.date.clone(),
                cell(&review.course),
                cell(&review.player),
                hole.hole.to_string(),
                hole.par.to_string(),
                hole.score.map_or_else(String::new, |s| s.to_string()),
            ]
            .join(",");
            for s in &hole.shots {
                out.push_str(&format!(
                    "{head},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}\r\n",
                    s.number,
                    cell(s.club.as_deref().unwrap_or_default()),
                    s.lie,
                    figure(s.to_hole_yd),
                    figure(s.left_yd),
                    s.into.unwrap_or_default(),
                    s.part.word(),
                    cell(s.planned.as_deref().unwrap_or_default()),
                    figure(s.before),
                    figure(s.after),
                    s.penalty,
                    figure(s.gained),
                    figure(s.decision),
                    figure(s.execution),
                    figure(s.against_index),
                    s.about
                ));
            }
            if let Some(p) = &hole.putts {
                out.push_str(&format!(
                    "{head},,putter,green,{},0,,putt,,,,0,{},,{},{},false\r\n",
                    figure(p.first_ft.map(|ft| ft / 3.0)),
                    figure(p.gained),
                    figure(p.gained),
                    figure(p.against_index)
                ));
            }
        }
    }
    out
}

/// To some places.
pub fn round(value: f64, places: i32) -> f64 {
    let scale = 10f64.powi(places);
    (value * scale).round() / scale + 0.0
}

use super::learn::Figure;
use super::propose::{Calibration, ClubLearnt, Proposal};
use super::season::{Scoring, Season};
use super::target::Needed;
use crate::units::{Across, Length, LengthUnit};

/// A season as lines.
pub fn season_lines(season: &Season) -> Vec<String> {
    let mut out = vec![format!("{}: {} rounds", season.player, season.rounds.len())];
    out.extend(season.remarks.iter().map(|r| format!("note  {r}")));
    out.push(String::new());
    out.push(format!(
        "{:<12} {:<34} {:>5} {:>7} {:>7} {:>6}",
        "date", "course, tee", "gross", "gained", "differ.", "index"
    ));
    for round in &season.rounds {
        let holes = if round.holes == 18 { String::new() } else { format!("  {} holes", round.holes) };
        let text = |v: Option<String>| v.unwrap_or_else(|| "-".to_owned());
        out.push(format!(
            "{:<12} {:<34} {:>5} {:>7} {:>7} {:>6}{holes}",
            round.date,
            clipped(&round.place, 34),
            round.gross,
            signed(round.gained),
            text(round.differential.map(|d| d.to_string())),
            text(round.index.map(|i| i.to_string())),
        ));
    }
    let gained: Vec<f64> = season.rounds.iter().map(|r| r.gained).collect();
    if gained.len() >= 3 {
        out.push(format!("gained, first to last: {}", bars(&gained)));
    }
    out.push(format!("gained a round against your own expectation: {}", season.each_round.words()));
    out.push(
        "The index here is made from these rounds alone. Not official: only an authorised association issues one."
            .to_owned(),
    );
    out.push(String::new());
    out.extend(parts(&season.parts, season.index));
    if season.decisions.1 > 0 {
        out.push(format!(
            "choices of club cost {:.2} a round ({} judged)",
            -season.decisions.0 + 0.0,
            season.decisions.1
        ));
    }
    if !season.practice.is_empty() {
        out.push(String::new());
        out.push(format!("What to practise: strokes a round lost against index {}", index_text(season.index)));
        out.extend(practice_lines(season));
    }
    for (title, groups) in [("By par", &season.by_par), ("By wind", &season.by_wind), ("By hole", &season.by_hole)] {
        if groups.is_empty() {
            continue;
        }
        let home = if title == "By hole" {
            season.home.clone().map_or_else(String::new, |h| format!(", {h}"))
        } else {
            String::new()
        };
        out.push(String::new());
        out.push(format!("{title}{home}: over par, and against your own expectation"));
        out.extend(groups.iter().map(group_line));
    }
    if let Some(best) = &season.eclectic {
        let scores: Vec<String> = best.holes.iter().map(|(_, _, s)| s.to_string()).collect();
        let total: u32 = best.holes.iter().map(|(_, _, s)| u32::from(*s)).sum();
        let par: u32 = best.holes.iter().map(|(_, p, _)| u32::from(*p)).sum();
        out.push(String::new());
        out.push(format!("Eclectic, {}: {} = {total} (par {par})", best.place, scores.join(" ")));
    }
    out.push(String::new());
    out.push(format!("Forecasts of net par or better: {}", season.ledger.words()));
    out.extend(season.ledger.steps.iter().map(|s| format!("  {}", s.words())));
    if let Some(brier) = season.ledger.brier {
        out.push(format!("  mean square error {brier:.3} (0.250 is a coin)"));
    }
    out
}

/// The practice list.
pub fn practice_lines(season: &Season) -> Vec<String> {
    let line = |p: &super::season::Practice| {
        let half = p.half.map_or_else(String::new, |h| format!(" ± {h:.2}"));
        let says = if p.saves <= 0.0 {
            "not a loss"
        } else if p.is_sure() {
            "practise this"
        } else {
            "too few to tell"
        };
        format!("  {:<30} {:>6}{half:<8} {:>5} strokes  {says}", p.what, format!("{:.2}", p.saves), p.n)
    };
    season.practice.iter().map(line).collect()
}

fn group_line(group: &Scoring) -> String {
    let half = group.over_par.half.map_or_else(String::new, |h| format!(" ± {h:.2}"));
    format!(
        "  {:<14} {:>4} holes  {:>6}{half:<8}  {}",
        group.name,
        group.over_par.n,
        signed(group.over_par.mean),
        group.gained.words()
    )
}

/// Figures as a row of bars, the least lowest.
pub fn bars(values: &[f64]) -> String {
    const STEPS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let step = |v: f64| if high > low { ((v - low) / (high - low) * 7.0).round() as usize } else { 3 };
    values.iter().map(|v| STEPS.get(step(*v)).copied().unwrap_or('▄')).collect()
}

fn clipped(text: &str, most: usize) -> String {
    if text.chars().count() <= most { text.to_owned() } else { text.chars().take(most - 1).chain(['…']).collect() }
}

/// What a target needs, as lines.
pub fn need_lines(found: &Needed) -> Vec<String> {
    let percent = |p: f64| format!("{:.0} %", 100.0 * p);
    let mut out = vec![format!(
        "{}: {} by the best plays, {} by the ordinary plan all the way; {} so far",
        found.target.words(),
        percent(found.chance),
        percent(found.by_plan),
        found.so_far
    )];
    if found.holes.is_empty() {
        out.push("the ordinary plan is the play on every hole".to_owned());
        return out;
    }
    out.push("Where the play differs, by what counts before the hole:".to_owned());
    for advice in &found.holes {
        let ways: Vec<String> = advice
            .instead
            .iter()
            .map(
                |(name, from, to)| {
                    if from == to { format!("{name} at {from}") } else { format!("{name} at {from} to {to}") }
                },
            )
            .collect();
        out.push(format!("  {:<3} {} instead of {}", advice.hole, ways.join("; "), advice.usual));
    }
    out.push("Elsewhere the ordinary plan. Worked out from the chances of each hole's score; the very best may be a little higher.".to_owned());
    out
}

/// What was learnt of the clubs, and what is proposed.
pub fn learnt_lines(
    name: &str,
    clubs: &[ClubLearnt],
    constant: Option<&Calibration>,
    proposals: &[Proposal],
    refused: usize,
    unit: LengthUnit,
) -> Vec<String> {
    let show = |yards: f64| Length::yards(yards).show(unit);
    let within = |f: Figure| format!("{} ({}-{})", show(f.value), show(f.low), show(f.high));
    let mut out = vec![
        format!("{name}: what logged full shots say, from the pattern in the bag onwards"),
        format!("{:<16} {:>5} {:>16} {:>16} {:>14} {:>14}", "club", "shots", "carry", "side", "wide", "deep"),
    ];
    for seen in clubs.iter().filter(|c| c.learnt.shots > 0) {
        let side = format!(
            "{} ({}..{})",
            Across(seen.side.value).show(unit),
            Across(seen.side.low).show(unit),
            Across(seen.side.high).show(unit)
        );
        out.push(format!(
            "{:<16} {:>5} {:>16} {:>16} {:>14} {:>14}",
            clipped(&seen.club.name, 16),
            seen.learnt.shots,
            within(seen.carry),
            side,
            within(seen.wide),
            within(seen.deep)
        ));
    }
    if clubs.iter().all(|c| c.learnt.shots == 0) {
        out.push("no full shot with club and place at both ends is logged yet".to_owned());
    }
    out.push(constant.map_or_else(|| "scores: too few holes to calibrate by".to_owned(), Calibration::words));
    out.push(String::new());
    if proposals.is_empty() {
        out.push("Nothing is proposed: no figure differs from your bag beyond doubt.".to_owned());
    } else {
        out.push(
            "Proposed (--agree N, --agree N --as TEXT, --refuse N); nothing is changed until you agree:".to_owned(),
        );
        out.extend(proposals.iter().zip(1..).map(|(p, n)| format!("{n:>3}  {}", p.words)));
    }
    if refused > 0 {
        out.push(format!("{refused} refused before and not shown"));
    }
    out
}
