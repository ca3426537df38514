//! `marram card [ROUND]`: the card with strokes received, gross, net, points; `--scores` enters a card.

use super::World;
use crate::round::{Detail, Event, Place};
use crate::scoring::HoleScore;
use crate::session::{Home, Session};
use crate::sheet::{CardLine, CardSheet, Golfer, LiveCard};
use crate::shelf;
use crate::store::{OpenRound, Sort, StoreError, TextOf};
use crate::tui::looks::{Depth, Looks};
use crate::tui::view::card_page::CardPage;
use clap::Args;
use serde_json::{Value, json};

/// Which card.
#[derive(Debug, Args)]
pub struct CardArgs {
    /// The round: a name on the shelf or a file; without it the round last open, else the example's card.
    pub round: Option<String>,
    /// Enter a card: a score a hole in playing order, as "5 4 3 x . 6"; x is picked up, . not played, y in a match gives the
    /// hole away, a dash or _ leaves a hole as it is.
    #[arg(long)]
    pub scores: Option<String>,
    /// Whose scores these are, by name or number; the first player without it.
    #[arg(long, requires = "scores")]
    pub player: Option<String>,
    /// Close the round after the scores and write its readable card.
    #[arg(long)]
    pub close: bool,
    /// One JSON object.
    #[arg(long)]
    pub json: bool,
}

/// Runs the command.
pub fn run(args: &CardArgs, world: &mut World<'_>) -> u8 {
    let (session, round) = match open(args, world) {
        Ok(opened) => opened,
        Err(error) => return world.file_trouble(&error),
    };
    let mut session = session;
    if args.scores.is_some() || args.close {
        let Some(mut round) = round else {
            let why = session.read_only.clone().unwrap_or_else(|| {
                "no round is open to enter a card in; marram new round --course NAME makes one".to_owned()
            });
            let _ = writeln!(world.err, "marram: {why}");
            return 1;
        };
        if let Some(scores) = &args.scores
            && let Err(code) = enter(&mut session, &mut round, args, scores, world)
        {
            return code;
        }
        if args.close
            && let Err(code) = close(&mut session, &mut round, world)
        {
            return code;
        }
        if let Err(error) = round.log.finish() {
            return world.file_trouble(&error);
        }
    }
    let cards = session.cards();
    if cards.is_empty() {
        let _ =
            writeln!(world.err, "marram: the notebook of this round cannot be read; marram check names its problems");
        return 1;
    }
    let shown = if args.json { as_json(&session, &cards) } else { as_text(&session, &cards) };
    u8::from(writeln!(world.out, "{shown}").is_err())
}

fn open(args: &CardArgs, world: &World<'_>) -> Result<(Session, Option<OpenRound>), StoreError> {
    let (settings, _) = world.store.settings();
    let path = match &args.round {
        Some(name) => Some(world.find(Sort::Round, name)?),
        None => settings.last().round.as_ref().map(std::path::PathBuf::from).filter(|p| p.is_file()),
    };
    let Some(path) = path else { return Ok((shelf::example(&world.today), None)) };
    let taken = shelf::take_up(&world.store, &path, &world.today, Box::new(|_| {}))?;
    for words in &taken.words {
        eprintln!("marram: {words}");
    }
    Ok((taken.session, taken.round))
}

/// Enters every score of the list, or none: the whole list is read before the first is written.
fn enter(
    session: &mut Session,
    round: &mut OpenRound,
    args: &CardArgs,
    scores: &str,
    world: &mut World<'_>,
) -> Result<(), u8> {
    let words: Vec<&str> = scores.split([' ', ',']).filter(|w| !w.is_empty()).collect();
    let holes = round.state.opening().positions();
    if words.len() > holes {
        return Err(world.misuse(&format!("--scores has {} scores; this round has {holes} holes", words.len())));
    }
    let player = match &args.player {
        None => 0,
        Some(name) => session.player_named(name).ok_or_else(|| {
            let names: Vec<&str> = session.golfers.iter().map(|g| g.name.as_str()).collect();
            world.misuse(&format!("`{name}` plays not in this round; {} do", names.join(", ")))
        })?,
    };
    let player = session.holder(player);
    let mut events = Vec::new();
    for (position, word) in words.iter().enumerate() {
        if matches!(*word, "_" | "-") {
            continue;
        }
        let place = Place { player, position };
        if *word == "y" {
            let set = Detail::Conceded(true);
            let why = round.state.opening().why_no_concession();
            if let Some(why) = why {
                return Err(world.misuse(&format!("--scores, score {}: {why}", position + 1)));
            }
            events.push(Event::Detail { place, set });
            continue;
        }
        let score = HoleScore::parse(word)
            .map_err(|error| world.misuse(&format!("--scores, score {}: {error}", position + 1)))?;
        events.push(Event::Score { place, score });
    }
    for event in events {
        if !round.state.has_started() && round.state.texts().is_empty() {
            let texts = shelf::keep_texts(session);
            let named = Event::Texts(texts.iter().map(TextOf::stored).collect());
            let _ = round.happen(&named);
            round.log.keep_texts(texts);
        }
        let written = round.happen(&event).map_err(|reason| {
            let _ = writeln!(world.err, "marram: {reason}");
            1
        })?;
        if let Some(error) = written.waits {
            return Err(world.file_trouble(&error));
        }
    }
    session.round = Some(round.state.clone());
    session.refresh();
    Ok(())
}

/// Closes the round and writes its card.
fn close(session: &mut Session, round: &mut OpenRound, world: &mut World<'_>) -> Result<(), u8> {
    let written = round.happen(&Event::Closed).map_err(|reason| {
        let _ = writeln!(world.err, "marram: {reason}");
        1
    })?;
    if let Some(error) = written.waits {
        return Err(world.file_trouble(&error));
    }
    session.round = Some(round.state.clone());
    match shelf::write_card(&world.store, session) {
        Ok(Some(path)) => {
            let _ = writeln!(world.err, "{}", path.display());
            Ok(())
        }
        Ok(None) => Ok(()),
        Err(error) => Err(world.file_trouble(&error)),
    }
}

fn as_text(session: &Session, cards: &[CardSheet]) -> String {
    let looks = Looks { depth: Depth::None, ascii: false, light: false };
    let mut out = String::new();
    let course = session.course.as_ref().map(|c| c.name.clone()).unwrap_or_default();
    let kind = session.round.as_ref().map_or("no round yet", |r| r.opening().kind.word());
    let example = if session.home == Home::Example { ", the example inside the program" } else { "" };
    out.push_str(&format!("{course}, {kind}{example}\n\n"));
    let live = session.live(cards);
    let page = CardPage { session, cards, live: live.as_ref(), player: usize::MAX, at: usize::MAX, width: 100, looks };
    for line in page.lines().0 {
        out.push_str(crate::units::plain_text::plain(line.to_string().trim_end()).as_ref());
        out.push('\n');
    }
    out.trim_end().to_owned()
}

fn as_json(session: &Session, cards: &[CardSheet]) -> String {
    let course = session.course.as_ref().map(|c| c.name.clone());
    let live = session.live(cards);
    let opening = session.round.as_ref().map(|r| r.opening());
    let one_of = |player: usize| {
        let (golfer, sheet) = (session.golfers.get(player)?, cards.get(player)?);
        let mut card = one(golfer, sheet);
        if let Some(opening) = opening.filter(|o| o.one_ball()) {
            card["player"] = json!(opening.name_of_box(player));
        }
        if let Some(side) = live.as_ref().and_then(|l| l.side_of(player)) {
            card["standing"] = json!(side.now);
        }
        Some(card)
    };
    let mut all: Vec<Value> = session.holders().into_iter().filter_map(one_of).collect();
    let mut value = json!({ "schema": "marram/card/1", "course": course });
    if session.home == Home::Example {
        value["example"] = json!(true);
    }
    if let Some(opening) = opening {
        value["kind"] = json!(opening.kind.word());
        value["play"] = json!(opening.play);
        value["allowance"] = json!(opening.allowance);
    }
    if let Some(live) = &live {
        value["terms"] = json!(live.terms);
        value["compares"] = json!(live.compares);
        value["over"] = json!(live.is_over());
        value["sides"] = Value::Array(sides(session, live));
    }
    if let [single] = all.as_mut_slice() {
        if let (Some(target), Some(source)) = (value.as_object_mut(), single.as_object_mut()) {
            target.append(source);
        }
    } else {
        for card in &mut all {
            card["course"] = json!(course);
        }
        value["cards"] = Value::Array(all);
    }
    value.to_string()
}

/// The sides of a format with where each stands.
fn sides(session: &Session, live: &LiveCard) -> Vec<Value> {
    let name = |player: &usize| session.golfers.get(*player).map(|g| g.name.clone());
    live.sides
        .iter()
        .map(|side| {
            json!({
                "players": side.players.iter().filter_map(name).collect::<Vec<_>>(),
                "standing": side.now,
                "figure": side.standing.figure,
                "decided": side.standing.decided,
                "left": side.standing.left,
                "over": side.standing.over,
                "needs": side.needs,
                "by_hole": side.marks,
            })
        })
        .collect()
}

fn one(golfer: &Golfer, sheet: &CardSheet) -> Value {
    let total = sheet.total();
    let hole = |(position, line): (usize, &CardLine)| {
        let mut hole = json!({
            "hole": line.hole.number,
            "par": line.hole.par,
            "stroke_index": line.stroke_index,
            "strokes_received": line.hole.strokes,
            "gross": line.hole.gross(),
            "net": line.hole.net(),
            "points": line.hole.points(),
        });
        if position >= sheet.round {
            hole["extra"] = json!(true);
        }
        if line.conceded {
            hole["conceded"] = json!(true);
        }
        if line.penalty_strokes > 0 {
            hole["penalty_strokes"] = json!(line.penalty_strokes);
        }
        hole
    };
    let holes: Vec<Value> = sheet.lines.iter().enumerate().map(hole).collect();
    let whole = total.has_total() && total.entered > 0;
    json!({
        "player": golfer.name,
        "tee": golfer.tee,
        "playing_handicap": golfer.playing_handicap,
        "holes": holes,
        "gross": whole.then_some(total.gross),
        "net": whole.then_some(total.net),
        "points": (total.entered > 0).then_some(total.points),
    })
}
