//! The Review page: its parts are worked out in the background, proposals are agreed to, edited or refused.

use super::bag::{How, PlayerEdit};
use super::{Effect, push};
use crate::player::{Change, write};
use crate::review::propose::Proposed;
use crate::round::Ability;
use crate::session::Home;
use crate::tui::commands::ReviewAct;
use crate::tui::keymap::Key;
use crate::tui::state::{Content, Notice, ReviewAsk, ReviewScreen, Screen, State, Tab, Typed};
use std::path::PathBuf;
use tui_input::{Input, InputRequest};

/// The most characters of a target or figure.
const LONGEST: usize = 30;

/// Does what a key of the page asks.
pub fn act(state: &mut State, act: ReviewAct, effects: &mut Vec<Effect>) {
    match act {
        ReviewAct::Open => {
            let tab = if round_log(state).is_some() { Tab::Round } else { Tab::Season };
            push(state, Screen::Review(Box::new(ReviewScreen { tab, ..ReviewScreen::default() })));
            want(state, effects);
        }
        ReviewAct::Show(tab) => show(state, tab, effects),
        ReviewAct::NextTab => {
            let tab = state.review_screen().map_or(Tab::Round, |s| s.tab.next());
            show(state, tab, effects);
        }
        ReviewAct::Target => {
            show(state, Tab::Need, effects);
            if let Some(screen) = state.review_screen_mut() {
                screen.typing = Some(Typed::Target);
                screen.input = Input::new(screen.target.clone());
            }
        }
        ReviewAct::Agree => {
            let text = state.proposal().map(|p| p.change.text().to_owned());
            if let Some(text) = text {
                agree(state, &text, effects);
            }
        }
        ReviewAct::Edit => {
            let text = state.proposal().map(|p| p.change.text().to_owned()).unwrap_or_default();
            if let Some(screen) = state.review_screen_mut() {
                screen.typing = Some(Typed::Figure);
                screen.input = Input::new(text);
            }
        }
        ReviewAct::Refuse => refuse(state, effects),
        ReviewAct::Again => {
            if let Some(screen) = state.review_screen_mut() {
                let tab = screen.tab;
                screen.content.remove(&tab);
            }
            want(state, effects);
        }
    }
}

fn show(state: &mut State, tab: Tab, effects: &mut Vec<Effect>) {
    if let Some(screen) = state.review_screen_mut() {
        (screen.tab, screen.scroll, screen.cursor) = (tab, 0, 0);
    }
    want(state, effects);
}

/// The log of the round that is open.
fn round_log(state: &State) -> Option<PathBuf> {
    let round = state.session.round.as_ref()?;
    let shelf = state.session.shelf.as_ref()?;
    Some(PathBuf::from(shelf).join("rounds").join(format!("{}.log", round.opening().id.as_str())))
}

/// Asks for the part that is shown when it is not at hand.
fn want(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(screen) = state.review_screen() else { return };
    let tab = screen.tab;
    if screen.content.contains_key(&tab) {
        return;
    }
    let target = screen.target.clone();
    let player = state.player;
    let name = state.session.people.get(player).map(|p| p.name.clone()).unwrap_or_default();
    // What was prepared before the round may be looked at in it; what draws on its play may not (Rule 4.3a).
    let forbidden = state.session.why_not(Ability::PlaySoFar).filter(|_| tab != Tab::Practise);
    let asked: Result<ReviewAsk, String> = match (forbidden, tab) {
        (Some(why), _) => Err(why),
        (None, Tab::Round) => round_log(state).map(|log| ReviewAsk::Round(log, player)).ok_or_else(|| {
            "No round is open. Enter a score to begin one, or open one on the Shelf (s); 2 shows the season.".to_owned()
        }),
        (None, Tab::Season) if state.session.home == Home::Example => {
            Err("The example has no season; your own rounds make yours.".to_owned())
        }
        (None, Tab::Season) => Ok(ReviewAsk::Season(name)),
        (None, Tab::Learn) if state.session.home == Home::Example => {
            Err("The example has no logged rounds to learn from; log shots with S.".to_owned())
        }
        (None, Tab::Learn) => Ok(ReviewAsk::Learn(Box::new(state.session.clone()), player)),
        (None, Tab::Need) if target.is_empty() => {
            Err("t types a target: 36 points, net 72, gross 89, beat 90.".to_owned())
        }
        (None, Tab::Need) => Ok(ReviewAsk::Need(Box::new(state.session.clone()), player, target)),
        (None, Tab::Practise) => Ok(ReviewAsk::Practise(Box::new(state.session.clone()), player)),
    };
    let content = match asked {
        Ok(ask) => {
            effects.push(Effect::Review(Box::new(ask)));
            Content::Waiting
        }
        Err(why) => Content::Nothing(why),
    };
    if let Some(screen) = state.review_screen_mut() {
        screen.content.insert(tab, content);
    }
}

/// Takes what the edge worked out.
pub fn answered(state: &mut State, tab: Tab, content: Content) {
    if let Some(screen) = state.review_screen_mut() {
        screen.content.insert(tab, content);
    }
}

/// Moves the cursor over proposals, else the text.
pub fn step(screen: &mut ReviewScreen, by: isize) {
    let many = match screen.content.get(&screen.tab) {
        Some(Content::Lines(_, proposals)) => proposals.len(),
        _ => 0,
    };
    if many > 0 {
        screen.cursor = screen.cursor.saturating_add_signed(by).min(many - 1);
    } else {
        screen.scroll = screen.scroll.saturating_add_signed(by).min(10_000);
    }
}

fn agree(state: &mut State, text: &str, effects: &mut Vec<Effect>) {
    let Some(proposal) = state.proposal().cloned() else { return };
    let Some(number) = proposal.change.number() else {
        state.notice = Some(Notice::warning(
            "Notes are written by marram review --learn --agree N, into your own layer; the notebook stays as it is.",
        ));
        return;
    };
    let Proposed::Number { club, .. } = &proposal.change else { return };
    let Some(file) = state.session.player_file(state.player) else {
        state.notice = Some(Notice::warning("This player has no file; `marram new player NAME` makes one."));
        return;
    };
    let change = Change::Number { club: club.clone(), number, text: text.to_owned() };
    let listed = state.session.people.get(state.player).is_some_and(|p| !p.bag.clubs.is_empty());
    let assumed: Vec<&str> =
        if listed { Vec::new() } else { crate::pattern::bag::ASSUMED.iter().map(|(name, _)| *name).collect() };
    let made =
        write::edits(&file.text, &change, &assumed).and_then(|edits| write::make(&file.text, &edits).map(|_| edits));
    match made {
        Ok(edits) => {
            effects.push(Effect::EditPlayer(PlayerEdit {
                player: state.player,
                edits,
                how: How::Made,
                club: Some(club.clone()),
            }));
            gone(state);
        }
        Err(why) => state.notice = Some(Notice::warning(why)),
    }
}

fn refuse(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(proposal) = state.proposal().cloned() else { return };
    let name = state.session.people.get(state.player).map(|p| p.name.clone()).unwrap_or_default();
    effects.push(Effect::Review(Box::new(ReviewAsk::Refuse(name, Box::new(proposal)))));
    gone(state);
}

/// Takes the proposal under the cursor off the page.
fn gone(state: &mut State) {
    let Some(screen) = state.review_screen_mut() else { return };
    let cursor = screen.cursor;
    if let Some(Content::Lines(_, proposals)) = screen.content.get_mut(&Tab::Learn) {
        let mut left = proposals.to_vec();
        if cursor < left.len() {
            left.remove(cursor);
        }
        screen.cursor = cursor.min(left.len().saturating_sub(1));
        *proposals = std::sync::Arc::new(left);
    }
}

/// Keys of the text field. Returns whether the key was used.
pub fn key(state: &mut State, key: Key, effects: &mut Vec<Effect>) -> bool {
    let Some(Screen::Review(screen)) = state.screens.last_mut() else { return false };
    let Some(typing) = screen.typing else { return false };
    match key {
        Key::Enter => {
            let text = screen.input.value().trim().to_owned();
            screen.typing = None;
            match typing {
                Typed::Target => {
                    screen.target = text;
                    screen.content.remove(&Tab::Need);
                    want(state, effects);
                }
                Typed::Figure => agree(state, &text, effects),
            }
        }
        Key::Esc => screen.typing = None,
        Key::Ctrl('c') => effects.push(Effect::Quit),
        key => {
            edit(&mut screen.input, key, LONGEST);
        }
    }
    true
}

/// Lets a key change a text field of at most `most` characters; returns whether it was one of a field's keys.
pub fn edit(input: &mut Input, key: Key, most: usize) -> bool {
    let request = match key {
        Key::Char(_) if input.value().chars().count() >= most => return true,
        Key::Char(c) => InputRequest::InsertChar(c),
        Key::Backspace => InputRequest::DeletePrevChar,
        Key::Delete => InputRequest::DeleteNextChar,
        Key::Left => InputRequest::GoToPrevChar,
        Key::Right => InputRequest::GoToNextChar,
        Key::Home => InputRequest::GoToStart,
        Key::End => InputRequest::GoToEnd,
        _ => return false,
    };
    input.handle(request);
    true
}

/// Pasted text goes into the field where one is open.
pub fn pasted(state: &mut State, text: &str) -> bool {
    let (input, most) = match state.screens.last_mut() {
        Some(Screen::Review(screen)) if screen.typing.is_some() => (&mut screen.input, LONGEST),
        Some(Screen::Shots(screen)) => (&mut screen.input, super::shots::LONGEST),
        _ => return false,
    };
    for c in text.chars().filter(|c| !c.is_control()).take(most) {
        edit(input, Key::Char(c), most);
    }
    true
}
