//! Logging shots: one key each on the Hole page, a line a hole on the Shots page. Kept like scores, undone like scores.

use super::review::edit;
use super::{Effect, happen, push};
use crate::pattern::bag::complete;
use crate::round::{Detail, Event, HoleShots, Place, PlayedShot, PuttsTaken, ShotLie, Spot, write_shots};
use crate::scoring::HoleScore;
use crate::tui::commands::LogAct;
use crate::tui::keymap::Key;
use crate::tui::state::{Notice, Screen, ShotsScreen, State};
use crate::units::{Across, Along};
use tui_input::Input;

/// The most characters of a line of shots.
pub const LONGEST: usize = 300;

/// The box whose shots are logged: the player's own.
fn place_of(state: &State) -> Place {
    Place { player: state.session.holder(state.player), position: state.position }
}

/// Does what a key of logging asks; without a round it begins one first, and the edge sends the key again.
pub fn act(state: &mut State, act: LogAct, key: Key, effects: &mut Vec<Effect>) {
    if act == LogAct::Page {
        push(state, Screen::Shots(ShotsScreen::default()));
        arrive(state, state.position);
        return;
    }
    if state.session.round.is_none() {
        effects.push(Effect::Begin);
        // The key in hand comes again and completes the sequence.
        state.pending = vec![Key::Char('S')];
        return;
    }
    let mut hole = state.logged(state.position);
    if let Err(why) = change(state, &mut hole, act, key) {
        state.notice = Some(Notice::warning(why));
        return;
    }
    store(state, hole, effects);
}

fn change(state: &State, hole: &mut HoleShots, act: LogAct, key: Key) -> Result<(), String> {
    const NONE: &str = "No stroke is logged on this hole yet: S b logs one where the stand is, S n any other.";
    match act {
        LogAct::Page => {}
        LogAct::Here => {
            let Some((at, across)) = state.hole.stand else {
                return Err("Walk the stand to where the ball lies first, or use S n.".to_owned());
            };
            let spot = Spot { at: tenths(at.0), across: tenths(across.0) };
            hole.shots.push(PlayedShot {
                club: likely_club(state, hole, spot),
                spot: Some(spot),
                ..PlayedShot::default()
            });
        }
        LogAct::Stroke => hole.shots.push(PlayedShot::default()),
        LogAct::TakeBack => {
            if hole.putts.take().is_none() && hole.shots.pop().is_none() {
                return Err(NONE.to_owned());
            }
        }
        LogAct::Putts => {
            let Key::Char(c) = key else { return Ok(()) };
            let count = c.to_digit(10).and_then(|d| u8::try_from(d).ok()).unwrap_or(0);
            let first_ft = hole.putts.and_then(|p| p.first_ft).or_else(|| first_putt(state, hole));
            hole.putts = (count > 0).then_some(PuttsTaken { count, first_ft });
            if let Some(last) = hole.shots.last_mut().filter(|_| count > 0)
                && last.into.is_none()
            {
                last.into = Some(ShotLie::Green);
            }
        }
        other => {
            let bag = state.session.clubs(state.player);
            let last = hole.shots.last_mut().ok_or(NONE)?;
            match other {
                LogAct::NextClub => {
                    let now = last.club.as_ref().and_then(|c| bag.iter().position(|b| b == c));
                    let next = now.map_or(0, |n| n + 1);
                    last.club = bag.get(if next < bag.len() { next } else { 0 }).cloned();
                }
                LogAct::Length(length) => last.length = if last.length == Some(length) { None } else { Some(length) },
                LogAct::Side(side) => last.side = if last.side == Some(side) { None } else { Some(side) },
                LogAct::Into(lie) => last.into = if last.into == Some(lie) { None } else { Some(lie) },
                LogAct::Cost(why) => last.penalty = if last.penalty == Some(why) { None } else { Some(why) },
                LogAct::Holed => last.holed = !last.holed,
                _ => {}
            }
        }
    }
    Ok(())
}

fn tenths(yards: f64) -> i32 {
    (yards * 10.0).round() as i32
}

/// The club whose usual length comes nearest to how far the ball went.
fn likely_club(state: &State, hole: &HoleShots, to: Spot) -> Option<String> {
    let ground = &state.current_hole()?.ground;
    let line = ground.line();
    let golfer = state.session.golfers.get(state.player)?;
    let point = |s: Spot| line.place(Along(f64::from(s.at) / 10.0), Across(f64::from(s.across) / 10.0));
    let from = match hole.shots.last() {
        None => ground.tees.iter().find(|t| t.name == golfer.tee)?.point,
        Some(last) => point(last.spot?),
    };
    let went = from.distance(point(to));
    let person = state.session.people.get(state.player)?;
    let clubs = complete(&person.bag, &person.skill()).1;
    let usable = clubs.iter().filter(|c| hole.shots.is_empty() || !c.driver);
    usable.min_by(|a, b| (a.total() - went).abs().total_cmp(&(b.total() - went).abs())).map(|c| c.name.clone())
}

/// The length of the first putt where the last ball's place is known.
fn first_putt(state: &State, hole: &HoleShots) -> Option<u16> {
    let ground = &state.current_hole()?.ground;
    let spot = hole.shots.last()?.spot?;
    let at = ground.line().place(Along(f64::from(spot.at) / 10.0), Across(f64::from(spot.across) / 10.0));
    let feet = 3.0 * at.distance(ground.green.as_ref()?.middle);
    (feet < 150.0).then_some((feet * 10.0).round() as u16)
}

/// Writes the shots of the hole looked at into the log, and says what stands there now.
fn store(state: &mut State, hole: HoleShots, effects: &mut Vec<Effect>) -> bool {
    let closed = state.session.round.as_ref().is_some_and(crate::round::RoundState::is_closed);
    if closed {
        happen(state, Event::Reopened { why: "shots entered afterwards".to_owned() }, effects);
        let kept = stored(state, hole, effects);
        happen(state, Event::Closed, effects);
        return kept;
    }
    stored(state, hole, effects)
}

fn stored(state: &mut State, hole: HoleShots, effects: &mut Vec<Effect>) -> bool {
    let place = place_of(state);
    let number = state.session.order.get(state.position).copied().unwrap_or(0);
    let line = write_shots(&hole, state.shot_units());
    if !happen(state, Event::Detail { place, set: Detail::Shots(hole) }, effects) {
        return false;
    }
    let words = if line.is_empty() { "no shots".to_owned() } else { line };
    state.notice = Some(Notice::word(format!("Hole {number}: {words}")));
    true
}

/// Goes to a hole on the Shots page, its line in the field.
fn arrive(state: &mut State, position: usize) {
    if position != state.position {
        super::hole::arrive(state, position);
    }
    let line = state.logged_line(position);
    if let Some(Screen::Shots(screen)) = state.screens.last_mut() {
        screen.input = Input::new(line);
    }
}

/// Keys of the Shots page: what is typed is the line; Enter keeps it and goes on. Returns whether the key was used.
pub fn key(state: &mut State, key: Key, effects: &mut Vec<Effect>) -> bool {
    let Some(Screen::Shots(screen)) = state.screens.last_mut() else { return false };
    match key {
        Key::Enter | Key::Down | Key::Up | Key::Tab => {
            if !keep(state, effects) {
                return true;
            }
            let last = state.session.order.len().saturating_sub(1);
            let next = match key {
                Key::Up => state.position.saturating_sub(1),
                _ => (state.position + 1).min(last),
            };
            if key == Key::Enter && state.position == last {
                state.notice = Some(Notice::word("That was the last hole; R reviews the round."));
            }
            arrive(state, next);
        }
        Key::Esc => {
            // What was typed and not kept is said, once, before it goes.
            let unkept =
                state.shots_screen().is_some_and(|s| s.input.value().trim() != state.logged_line(state.position));
            if unkept && !keep(state, effects) {
                if effects.contains(&Effect::Begin) {
                    return true;
                }
                // A first Esc says why the line cannot be kept; a second one leaves it.
                let line = state.logged_line(state.position);
                if let Some(Screen::Shots(screen)) = state.screens.last_mut() {
                    screen.input = Input::new(line);
                }
                return true;
            }
            state.screens.pop();
        }
        Key::Ctrl('c') => effects.push(Effect::Quit),
        key => return edit(&mut screen.input, key, LONGEST),
    }
    true
}

/// Keeps the typed line where it differs from the log; false when it cannot be read.
fn keep(state: &mut State, effects: &mut Vec<Effect>) -> bool {
    let typed = match state.typed_shots() {
        Ok(typed) => typed,
        Err(why) => {
            state.notice = Some(Notice::warning(why));
            return false;
        }
    };
    if typed == state.logged(state.position) {
        return true;
    }
    if state.session.round.is_none() {
        // The first line begins a round; the key in hand then comes again.
        effects.push(Effect::Begin);
        return false;
    }
    let place = place_of(state);
    let empty =
        state.session.round.as_ref().and_then(|r| r.card_box(place)).is_some_and(|b| b.score == HoleScore::Empty);
    let closed = state.session.round.as_ref().is_some_and(crate::round::RoundState::is_closed);
    let score = u8::try_from(typed.strokes())
        .ok()
        .and_then(HoleScore::gross_of)
        .filter(|_| empty && !closed && typed.holed_out());
    if !store(state, typed, effects) {
        return false;
    }
    // A wholly told hole without a score has the score that its shots make.
    if let Some(score) = score {
        happen(state, Event::Score { place, score }, effects);
    }
    true
}
