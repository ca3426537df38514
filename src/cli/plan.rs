//! `marram plan COURSE`: the plan, hole by hole.

use super::World;
use crate::plan::{Aimed, HolePlan, Question, plan, price, reasons};
use crate::session::Session;
use crate::shelf::{self, Wanted};
use crate::store::{Sort, StoreError};
use crate::units::Length;
use clap::Args;
use rayon::prelude::*;
use serde_json::{Value, json};
use std::sync::atomic::AtomicBool;
use std::time::Instant;

/// What to plan.
#[derive(Debug, Args)]
pub struct PlanArgs {
    /// The course: a name on the shelf or a file.
    pub course: String,
    /// The player; the only one, else the last used, else one assumed from index 18.
    #[arg(long)]
    pub player: Option<String>,
    /// The tee.
    #[arg(long)]
    pub tee: Option<String>,
    /// One hole only.
    #[arg(long)]
    pub hole: Option<u8>,
    /// The day sheet.
    #[arg(long)]
    pub day: Option<String>,
    /// What it is for: stroke, stableford, par-bogey, maximum, match, net-par.
    #[arg(long)]
    pub format: Option<String>,
    /// One JSON object.
    #[arg(long)]
    pub json: bool,
    /// Times to standard error.
    #[arg(long)]
    pub timings: bool,
}

/// Runs the command.
pub fn run(args: &PlanArgs, world: &mut World<'_>) -> u8 {
    let aimed = match args.format.as_deref().map(|f| Aimed::read(f).ok_or(f)) {
        None => None,
        Some(Ok(aimed)) => Some(aimed),
        Some(Err(word)) => {
            return world.misuse(&format!(
                "--format `{word}` is none of stroke, stableford, par-bogey, maximum, match, net-par"
            ));
        }
    };
    let session = match open(args, world) {
        Ok(session) => session,
        Err(error) => return world.file_trouble(&error),
    };
    let Some(course) = session.course.clone() else {
        let _ = writeln!(world.err, "marram: the notebook cannot be read; marram check names its problems");
        return 1;
    };
    if let Some(tee) = &args.tee
        && course.tee(tee).is_none()
    {
        let names: Vec<&str> = course.tees.iter().map(|t| t.name.as_str()).collect();
        return world.misuse(&format!("--tee `{tee}` is no tee of {}; it has {}", course.name, names.join(", ")));
    }
    let positions: Vec<usize> =
        (0..session.order.len()).filter(|p| args.hole.is_none_or(|h| session.order.get(*p) == Some(&h))).collect();
    if positions.is_empty() {
        return world.misuse(&format!("--hole {} is no hole of {}", args.hole.unwrap_or(0), course.name));
    }
    let aimed = aimed.unwrap_or_else(|| session.aimed());
    let started = Instant::now();
    let questions: Vec<Question> = positions
        .iter()
        .filter_map(|p| {
            session.question(
                *p,
                0,
                args.tee.as_deref(),
                aimed,
                session.golfers.first().map(|g| g.units).unwrap_or_default(),
            )
        })
        .collect();
    let never = AtomicBool::new(false);
    // Holes are independent; they are collected in order, so that the answer never depends on the threads.
    let plans: Vec<Result<HolePlan, String>> = questions
        .par_iter()
        .map(|q| {
            let mut made = plan(q, &never).map_err(|e| e.to_string())?;
            price(q, &mut made, &never).map_err(|e| e.to_string())?;
            Ok(made)
        })
        .collect();
    if args.timings {
        let _ = writeln!(world.err, "{} holes with prices in {:?}", plans.len(), started.elapsed());
    }
    let player = session.golfers.first().map(|g| g.name.clone()).unwrap_or_default();
    let tee = args.tee.clone().or_else(|| session.golfers.first().map(|g| g.tee.clone())).unwrap_or_default();
    let text = if args.json {
        let holes: Vec<Value> = questions.iter().zip(&plans).map(|(q, p)| as_json(q, p)).collect();
        json!({ "schema": "marram/plan/1", "course": course.name, "player": player, "tee": tee, "format": aimed.word(), "holes": holes }).to_string()
    } else {
        let mut out = format!("{}, {tee} tees, {player}, {}\n", course.name, aimed.wants());
        for (question, plan) in questions.iter().zip(&plans) {
            out.push_str(&as_text(question, plan));
        }
        if let Some(credit) = &course.credit {
            out.push_str(&format!("\n{}", credit.line()));
        }
        out.push_str("\nA plan for an ordinary day, made before the round. The Rules, the Committee and your own eyes come first.");
        crate::units::plain_text::plain_lines(&out).into_owned()
    };
    u8::from(writeln!(world.out, "{text}").is_err())
}

fn open(args: &PlanArgs, world: &World<'_>) -> Result<Session, StoreError> {
    let course = world.find(Sort::Notebook, &args.course)?;
    let (settings, _) = world.store.settings();
    let player = match &args.player {
        Some(name) => Some(world.find(Sort::Player, name)?),
        None => shelf::player_for(&world.store, settings.last()),
    };
    let day = args.day.as_deref().map(|d| world.find(Sort::Day, d)).transpose()?;
    let wanted = Wanted { players: player.into_iter().map(|p| (p, args.tee.clone())).collect(), day, holes: None };
    let mut session = shelf::open_course(&course, &wanted, &world.today)?;
    if let Some(tee) = &args.tee {
        session.people.iter_mut().filter(|p| p.assumed).for_each(|p| p.tee.clone_from(tee));
        session.refresh();
    }
    Ok(session)
}

fn as_text(question: &Question, plan: &Result<HolePlan, String>) -> String {
    let name = question.hole.name.clone().unwrap_or_default();
    let show = |yards: f64| Length::yards(yards).show(question.units);
    let length = question.hole.tee(&question.tee).map(|t| show(t.length)).unwrap_or_default();
    let mut out = format!("\n{} {name}  {length}, par {}", question.hole.number, question.par);
    if question.strokes_received != 0 {
        out.push_str(&format!(", {} received", question.strokes_received));
    }
    out.push('\n');
    let plan = match plan {
        Ok(plan) => plan,
        Err(why) => return format!("{out}  {why}\n"),
    };
    for play in &plan.plays {
        let shots: Vec<String> =
            play.shots.iter().map(|s| format!("{} {} (leaves {})", s.club, s.words, show(s.leaves))).collect();
        out.push_str(&format!("  {:<7} {}\n", play.name.word(), shots.join("; ")));
        out.push_str(&format!(
            "          {:.2} strokes, {:.2} points, net par or better {}\n",
            play.expected_strokes,
            plan.points(),
            reasons::percent(plan.net_par())
        ));
    }
    if let Some(first) = plan.plays.first() {
        for reason in &first.reasons {
            out.push_str(&format!("  why     {reason}\n"));
        }
    }
    let prices: Vec<String> = plan
        .prices
        .iter()
        .filter(|p| p.strokes >= 0.025)
        .filter_map(|p| {
            Some(format!("{} {}", question.hole.ground.features.get(p.feature)?.name, reasons::strokes(p.strokes)))
        })
        .collect();
    if !prices.is_empty() {
        out.push_str(&format!("  costs   {} (prices do not add up)\n", prices.join(", ")));
    }
    for switch in &plan.switches {
        out.push_str(&format!("  switch  {}: {}\n", switch.when, switch.play));
    }
    for remark in &plan.remarks {
        out.push_str(&format!("  note    {remark}\n"));
    }
    out
}

fn as_json(question: &Question, plan: &Result<HolePlan, String>) -> Value {
    let length = question.hole.tee(&question.tee).map(|t| round(t.length, 1));
    let plan = match plan {
        Ok(plan) => plan,
        Err(why) => {
            return json!({ "hole": question.hole.number, "par": question.par, "length_yd": length, "strokes_received": question.strokes_received, "plays": [], "why": why });
        }
    };
    let chances: serde_json::Map<String, Value> = plan
        .chances()
        .iter()
        .enumerate()
        .filter(|(_, p)| **p >= 1e-6)
        .map(|(n, p)| (n.to_string(), json!(round(*p, 6))))
        .collect();
    let plays: Vec<Value> = plan
        .plays
        .iter()
        .map(|play| {
            let shots: Vec<Value> = play
                .shots
                .iter()
                .map(|s| {
                    json!({
                        "club": s.club,
                        "aim": { "at_yd": round(s.at.0, 1), "across_yd": round(s.across.0, 1), "words": s.words },
                        "carry_yd": round(s.carry, 1),
                        "leaves_yd": round(s.leaves, 1),
                    })
                })
                .collect();
            json!({ "name": play.name.word(), "shots": shots, "expected_strokes": round(play.expected_strokes, 3), "worth": round(play.worth, 3), "reasons": play.reasons })
        })
        .collect();
    let origin = question.origin();
    let line = question.hole.ground.line();
    let dangers: Vec<Value> = plan
        .prices
        .iter()
        .filter_map(|price| {
            let feature = question.hole.ground.features.get(price.feature)?;
            let places: Vec<(f64, f64)> = feature
                .shapes
                .iter()
                .flat_map(|s| s.outer.iter())
                .map(|p| {
                    let (at, across) = line.locate(*p);
                    (origin.from_tee(at).0, across.0)
                })
                .collect();
            let low = places.iter().map(|p| p.0).fold(f64::INFINITY, f64::min);
            let high = places.iter().map(|p| p.0).fold(f64::NEG_INFINITY, f64::max);
            let (left, right) = (places.iter().any(|p| p.1 < 0.0), places.iter().any(|p| p.1 > 0.0));
            let side = match (left, right) {
                (true, true) => "across",
                (true, false) => "left",
                _ => "right",
            };
            Some(json!({ "name": feature.name, "kind": feature.surface.word(), "side": side, "from_yd": round(low, 1), "to_yd": round(high, 1), "cost_strokes": round(price.strokes, 3), "chance": round(price.chance, 4) }))
        })
        .collect();
    let switches: Vec<Value> = plan.switches.iter().map(|s| json!({ "when": s.when, "play": s.play })).collect();
    json!({
        "hole": question.hole.number,
        "par": question.par,
        "length_yd": length,
        "strokes_received": question.strokes_received,
        "expected_strokes": plan.plays.first().map(|p| round(p.expected_strokes, 3)),
        "expected_points": round(plan.points(), 3),
        "chance_net_birdie_or_better": round(plan.net_birdie(), 4),
        "chance_net_par_or_better": round(plan.net_par(), 4),
        "score_chances": chances,
        "plays": plays,
        "dangers": dangers,
        "switches": switches,
        "remarks": plan.remarks,
    })
}

fn round(value: f64, places: i32) -> f64 {
    let scale = 10f64.powi(places);
    (value * scale).round() / scale + 0.0
}
