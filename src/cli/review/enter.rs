//! Entering shots from a list or a walk: all of it, or nothing.

use super::ReviewArgs;
use crate::cli::World;
use crate::review::import::{Imported, read_csv};
use crate::round::{Detail, Event, Place};
use crate::scoring::HoleScore;
use crate::session::Session;
use crate::shelf;
use crate::store::{Limit, TextOf, read};
use std::path::{Path, PathBuf};

/// Enters the shots of a file into the round whose log is `log`.
pub fn shots(args: &ReviewArgs, file: &str, log: &Path, world: &mut World<'_>) -> Result<(), u8> {
    let path = PathBuf::from(file);
    let path = if path.is_absolute() { path } else { world.current.join(path) };
    let bytes = read(&path, Limit::MAP).map_err(|e| world.file_trouble(&e))?.bytes;
    let taken =
        shelf::take_up(&world.store, log, &world.today, Box::new(|_| {})).map_err(|e| world.file_trouble(&e))?;
    let session = taken.session;
    let player = super::player_of(args, &session, world)?;
    let Some(mut round) = taken.round else {
        let why = session.read_only.clone().unwrap_or_else(|| "this round cannot be written".to_owned());
        let _ = writeln!(world.err, "marram: {why}");
        return Err(1);
    };
    let said = |world: &mut World<'_>, problems: &[String]| {
        for problem in problems {
            let _ = writeln!(world.err, "{}: error: {problem}", path.display());
        }
        let _ = writeln!(world.err, "marram: nothing was entered");
        1
    };
    let walk = path.extension().is_some_and(|e| e.eq_ignore_ascii_case("gpx"));
    let found = if walk {
        shelf::shots_of_walk(&session, player, &path.display().to_string(), &bytes)
    } else {
        of_list(&session, player, &bytes)
    };
    let found = match found {
        Ok((found, words)) => {
            for word in words {
                let _ = writeln!(world.err, "marram: {word}");
            }
            found
        }
        Err(problems) => return Err(said(world, &problems)),
    };
    let holder = session.holder(player);
    let was_closed = round.state.is_closed();
    let mut events = Vec::new();
    if was_closed {
        events.push(Event::Reopened { why: "shots entered afterwards".to_owned() });
    }
    let count = found.len();
    for (position, shots) in found {
        let place = Place { player: holder, position };
        // A wholly told hole without a score has the score that its shots make.
        let empty = round.state.card_box(place).is_some_and(|b| b.score == HoleScore::Empty);
        let score = u8::try_from(shots.strokes()).ok().and_then(HoleScore::gross_of);
        let whole = shots.holed_out();
        events.push(Event::Detail { place, set: Detail::Shots(shots) });
        if let Some(score) = score.filter(|_| empty && whole) {
            events.push(Event::Score { place, score });
        }
    }
    if was_closed {
        events.push(Event::Closed);
    }
    if !round.state.has_started() && round.state.texts().is_empty() {
        let texts = shelf::keep_texts(&session);
        let named = Event::Texts(texts.iter().map(TextOf::stored).collect());
        let _ = round.happen(&named);
        round.log.keep_texts(texts);
    }
    for event in events {
        let written = round.happen(&event).map_err(|reason| {
            let _ = writeln!(world.err, "marram: {reason}");
            1
        })?;
        if let Some(error) = written.waits {
            return Err(world.file_trouble(&error));
        }
    }
    round.log.finish().map_err(|e| world.file_trouble(&e))?;
    let _ = writeln!(world.err, "shots of {count} holes entered from {}", path.display());
    Ok(())
}

fn of_list(session: &Session, player: usize, bytes: &[u8]) -> Result<(Imported, Vec<String>), Vec<String>> {
    let text =
        std::str::from_utf8(bytes).map_err(|_| vec!["this is no text in UTF-8; save the list as UTF-8".to_owned()])?;
    let bag = session.clubs(player);
    let names: Vec<&str> = bag.iter().map(String::as_str).collect();
    let unit = session.golfers.get(player).map(|g| g.units).unwrap_or_default();
    read_csv(text, &session.order, &names, unit).map(|found| (found, Vec::new()))
}
