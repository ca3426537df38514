//! `--learn`: what shots say of clubs and holes, as proposals that are agreed to, edited or refused.

use super::ReviewArgs;
use crate::cli::World;
use crate::cli::note::{NoteArgs, NoteAt};
use crate::player::{self, Change};
use crate::review::propose::{Proposal, Proposed, calibrate, clubs, of_clubs, of_holes};
use crate::review::show::{self, round};
use crate::session::{Home, Session};
use crate::shelf::{self, Load};
use crate::store::{Limit, read_text};
use crate::units::plain_text::plain_lines;
use serde_json::json;
use std::sync::atomic::AtomicBool;

/// Runs it.
pub fn run(args: &ReviewArgs, world: &mut World<'_>) -> u8 {
    let (made, cases, reviews) = match super::whole::season_of(args, world) {
        Ok(made) => made,
        Err(code) => return code,
    };
    let session = match of_player(args, world) {
        Ok(session) => session,
        Err(code) => return code,
    };
    let Some(person) = session.as_ref().and_then(|s| s.people.first()).or_else(|| {
        let last = cases.last()?;
        last.session.people.get(last.player)
    }) else {
        return world.misuse("there is no such player");
    };
    let pattern = crate::pattern::Pattern::of(&person.bag, &person.skill());
    let learnt = clubs(&reviews, &pattern);
    let mut proposals = of_clubs(&learnt, person.units);
    proposals.extend(of_holes(&reviews));
    let name = person.name.clone();
    let refused = shelf::refusals(&world.store, &name);
    let waiting = proposals.len();
    proposals.retain(|p| !refused.holds(p));
    let hidden = waiting - proposals.len();
    if args.agree.is_some() || args.refuse.is_some() {
        return answer(args, &proposals, session.as_ref(), &name, &cases, world);
    }
    let questions: Vec<_> = cases
        .last()
        .map(|c| {
            (0..c.session.order.len())
                .filter_map(|p| c.session.question(p, c.player, None, c.session.aimed(), person.units))
                .collect()
        })
        .unwrap_or_default();
    let constant = calibrate(&reviews, &questions, &AtomicBool::new(false));
    let text = if args.json {
        let figure = |f: crate::review::learn::Figure| json!({ "value": round(f.value, 3), "low": round(f.low, 3), "high": round(f.high, 3), "moved": f.moved });
        json!({
            "schema": "marram/learn/1", "player": name, "rounds": made.rounds.len(),
            "clubs": learnt.iter().filter(|c| c.learnt.shots > 0).map(|c| json!({
                "club": c.club.name, "shots": c.learnt.shots, "ordinary": round(c.learnt.ordinary, 1), "carry_yd": figure(c.carry), "side_yd": figure(c.side),
                "wide_yd": figure(c.wide), "deep_yd": figure(c.deep), "mishits": figure(c.learnt.mishits) })).collect::<Vec<_>>(),
            "calibration": constant.map(|c| json!({ "factor": round(c.factor, 3), "low": round(c.low, 3), "high": round(c.high, 3), "holes": c.holes })),
            "proposals": proposals.iter().zip(1..).map(|(p, n)| json!({ "number": n, "words": p.words, "shots": p.shots, "change": p.change })).collect::<Vec<_>>(),
            "refused": hidden,
        })
        .to_string()
    } else {
        plain_lines(&show::learnt_lines(&name, &learnt, constant.as_ref(), &proposals, hidden, person.units).join("\n"))
            .into_owned()
    };
    u8::from(writeln!(world.out, "{text}").is_err())
}

/// The player's file, opened by itself; `None` where there is none.
fn of_player(args: &ReviewArgs, world: &mut World<'_>) -> Result<Option<Session>, u8> {
    let found = super::player_file(args, world).map_err(|e| world.file_trouble(&e))?;
    let Some((path, _)) = found else { return Ok(None) };
    let file = read_text(&path, Limit::YAML).map_err(|e| world.file_trouble(&e))?;
    let mut load = Load::new(&world.today);
    load.player(&path.display().to_string(), file.text, None);
    Ok(Some(load.finish(Home::Files)))
}

fn numbers(text: &str, most: usize, option: &str) -> Result<Vec<usize>, String> {
    if text.trim() == "all" {
        return Ok((0..most).collect());
    }
    text.split([',', ' '])
        .filter(|w| !w.is_empty())
        .map(|w| {
            let number = w.parse::<usize>().ok().filter(|n| (1..=most).contains(n));
            number.map(|n| n - 1).ok_or_else(|| format!("{option} `{w}` is no proposal; there are {most}"))
        })
        .collect()
}

fn answer(
    args: &ReviewArgs,
    proposals: &[Proposal],
    session: Option<&Session>,
    name: &str,
    cases: &[crate::review::RoundCase],
    world: &mut World<'_>,
) -> u8 {
    let of = |text: &Option<String>, option: &str| {
        text.as_deref().map_or_else(|| Ok(Vec::new()), |t| numbers(t, proposals.len(), option))
    };
    let (agreed, refused) = match (of(&args.agree, "--agree"), of(&args.refuse, "--refuse")) {
        (Ok(a), Ok(r)) => (a, r),
        (Err(why), _) | (_, Err(why)) => return world.misuse(&why),
    };
    if args.instead.is_some() && agreed.len() != 1 {
        return world.misuse("--as says what to write instead of one proposal; agree to one at a time with it");
    }
    if let Some(twice) = agreed.iter().find(|a| refused.contains(a)) {
        return world.misuse(&format!("proposal {} cannot be agreed to and refused", twice + 1));
    }
    let mut session = session.cloned();
    for number in agreed {
        let Some(proposal) = proposals.get(number) else { continue };
        let text = args.instead.clone().unwrap_or_else(|| proposal.change.text().to_owned());
        let code = match &proposal.change {
            Proposed::Number { club, .. } => write_number(&mut session, club, proposal, &text, world),
            Proposed::Note { course, hole, .. } => {
                let file = cases.iter().find_map(|c| {
                    let opening = c.session.round.as_ref()?.opening();
                    (opening.course_name == *course).then(|| opening.course.file.clone())
                });
                let whose = Some(name.to_owned());
                let root = world.store.shelf().root().to_path_buf();
                let course = file.map_or_else(|| course.clone(), |f| root.join(f).display().to_string());
                let args = NoteArgs { course, hole: *hole, at: NoteAt::Tee, text, whose, json: false };
                super::super::note::run(&args, world)
            }
        };
        if code != 0 {
            return code;
        }
    }
    let gone: Vec<&Proposal> = refused.iter().filter_map(|n| proposals.get(*n)).collect();
    if gone.is_empty() {
        return 0;
    }
    match shelf::refuse(&world.store, name, &gone) {
        Ok(path) => u8::from(writeln!(world.out, "{} refused, kept in {}", gone.len(), path.display()).is_err()),
        Err(error) => world.file_trouble(&error),
    }
}

fn write_number(
    session: &mut Option<Session>,
    club: &str,
    proposal: &Proposal,
    text: &str,
    world: &mut World<'_>,
) -> u8 {
    let Some(open) = session.as_ref() else {
        let _ = writeln!(world.err, "marram: this player has no file to write in; marram new player NAME makes one");
        return 1;
    };
    let (Some(file), Some(number)) = (open.player_file(0), proposal.change.number()) else { return 1 };
    let change = Change::Number { club: club.to_owned(), number, text: text.to_owned() };
    // A bag that stands in no file is written out by name first.
    let listed = open.people.first().is_some_and(|p| !p.bag.clubs.is_empty());
    let assumed: Vec<&str> =
        if listed { Vec::new() } else { crate::pattern::bag::ASSUMED.iter().map(|(name, _)| *name).collect() };
    let edits = match player::write::edits(&file.text, &change, &assumed) {
        Ok(edits) => edits,
        Err(why) => {
            let _ = writeln!(world.err, "marram: {why}");
            return 1;
        }
    };
    match shelf::edit_player(&world.store, open, 0, &edits) {
        Ok(done) => {
            let code = u8::from(writeln!(world.out, "{}; {}", proposal.words, done.words).is_err());
            *session = Some(done.session);
            code
        }
        Err(error) => {
            let _ = writeln!(world.err, "marram: {error}");
            1
        }
    }
}
