//! Turns a message into a new state and a list of effects; touches nothing else.

mod annotate;
pub mod bag;
mod book;
mod card;
mod course_edits;
pub mod day;
pub mod desk;
mod desk_card;
pub mod desk_forms;
pub mod draw;
mod draw_line;
pub mod green;
mod handicap;
mod hole;
mod lists;
mod measure;
mod plan;
pub mod pupils;
mod review;
mod score;
pub mod scout;
mod shots;
pub mod today;

pub use bag::{How, PlayerEdit};
pub use course_edits::{CourseAsk, CourseEdit, CourseTold};
pub use day::DayEdit;
pub use desk::{DeskAsk, DeskNews};
pub use hole::spot_of;
pub use plan::target as marked_target;
pub use pupils::{PupilsAsk, PupilsTold};

use super::ask::{Answer, AskKey};
use super::commands::{Act, Command, Page};
use super::keymap::{Found, Key};
use super::state::{Content, Notice, PlanKey, ReviewAsk, Screen, ShelfFile, State, Tab};
use crate::notebook::edit::Edit;
use crate::plan::{Commitment, HolePlan, Pins, Question};
use crate::round::{Ability, Detail, Event, StoredText};
use crate::session::Session;
use crate::shelf::ShelfItem;
use crate::units::LengthUnit;
use std::path::PathBuf;

/// Everything that can reach the screen. Closed: what is not here cannot happen to it.
#[derive(Debug)]
pub enum Msg {
    /// A key.
    Key(Key),
    /// A command by its name, as line mode takes it.
    Named(&'static Command),
    /// Text pasted into the terminal.
    Paste(String),
    /// The terminal has a new size.
    Resize(u16, u16),
    /// A round was begun for the key in hand; its home is now in files.
    Begun(Box<Session>),
    /// A plan was worked out, or there is none and why.
    Planned(Box<PlanKey>, Result<Box<HolePlan>, String>),
    /// A question about a solved hole was answered, or why not.
    Answered(Box<AskKey>, Result<Box<Answer>, String>),
    /// The question in work has no answer, and why.
    AnswerLost(String),
    /// Something else was opened.
    Opened(Box<Session>, Option<Notice>),
    /// The open files were read again.
    Reread(Box<Session>, Option<Notice>),
    /// A player's file was changed: what is open now, what was asked, the edits that take it back, a word.
    PlayerEdited(Box<Session>, PlayerEdit, Vec<Edit>, String),
    /// Of a change of the notebook or a layer.
    Course(CourseTold),
    /// Of pupils.
    Pupils(PupilsTold),
    /// The log is synced up to this line.
    Kept(u64),
    /// A player's file from the shelf was read, for the Handicap page.
    PlayerRead(ShelfFile),
    /// The shelf was listed.
    Shelf(Vec<ShelfItem>),
    /// The round's log could not be written or synced.
    Trouble(String),
    /// The round was closed.
    Closed(String),
    /// A part of the review was worked out.
    Reviewed(Tab, Content),
    /// A page of the day is told something.
    Today(today::Told),
    /// The book was written, or why not.
    BookWritten(Result<String, String>),
    /// A word for the person.
    Say(Notice),
    /// What the competition's folder tells.
    Desk(Box<DeskNews>),
}

/// What the update asks the edge to do.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Begin a round from what is open, making the person's own copy of the example first.
    Begin,
    /// Append an event to the round's log: written before the next key is handled.
    Append(Event),
    /// Store the texts by which the round is to be judged: at the first score, before it.
    KeepTexts,
    /// Change a player's file, the person's own copy of the example first.
    EditPlayer(PlayerEdit),
    /// Change the notebook or a layer.
    Course(CourseAsk),
    /// Find, read and work out pupils.
    Pupils(PupilsAsk),
    /// List the shelf.
    ListShelf,
    /// Read a player's file for the Handicap page.
    ReadPlayer(PathBuf),
    /// Open the example.
    OpenExample,
    /// Open a notebook, a round or a player's example from a file.
    Open(PathBuf),
    /// Work a plan out in the background; a newer one replaces one that waits.
    Plan(Box<PlanKey>, Box<Question>),
    /// Add the prices of the dangers to a plan, in the background.
    Price(Box<PlanKey>, Box<Question>, Box<HolePlan>),
    /// Work a part of the review out, in the background.
    Review(Box<ReviewAsk>),
    /// A page of the day asks for something.
    Today(today::Ask),
    /// Answer a question about a solved hole, in the background; a newer one replaces one that waits.
    Ask(Box<AskKey>, Box<Question>),
    /// Keep the pinned plays.
    KeepPins(Box<Pins>),
    /// Keep what was committed to.
    KeepCommitment(Box<Commitment>),
    /// Make the pocket book of a player and write it on the shelf; with a plan where one may be printed.
    WriteBook {
        /// The player, by place.
        player: usize,
        /// With the plan.
        plans: bool,
    },
    /// Write the closed card.
    WriteCard,
    /// What the desk asks for.
    Desk(DeskAsk),
    /// Leave.
    Quit,
}

/// Lets `msg` happen.
pub fn update(state: &mut State, msg: Msg) -> Vec<Effect> {
    let mut effects = Vec::new();
    match msg {
        Msg::Key(key) => {
            state.notice = None;
            key_pressed(state, key, &mut effects);
        }
        Msg::Named(command) => {
            state.notice = None;
            state.pending.clear();
            let key = command.keys.first().and_then(|k| k.split(' ').next_back()).and_then(Key::read);
            if command.pages.contains(&state.page()) {
                run(state, command, key.unwrap_or(Key::Enter), &mut effects);
            } else {
                let words = format!("{} is not for this page; ? says what is", command.title);
                state.notice = Some(Notice::warning(words));
            }
        }
        Msg::Paste(text) => pasted(state, &text, &mut effects),
        Msg::Resize(width, height) => state.size = (width, height),
        Msg::Begun(session) => {
            state.session = *session;
            state.player = state.session.holder(state.player);
        }
        Msg::Opened(session, notice) => {
            state.session = *session;
            state.course_edits = super::state::CourseEdits::default();
            state.screens.clear();
            state.notice = notice;
            state.hole = super::state::HoleScreen::default();
            state.units = None;
            state.stand_where_the_round_is();
            state.show_why_nothing_opens();
            if state.session.course.is_none() {
                effects.push(Effect::ListShelf);
            }
        }
        Msg::Reread(session, notice) => {
            state.notice = notice;
            course_edits::reread(state, *session, &mut effects);
            state.position = state.position.min(state.session.order.len().saturating_sub(1));
        }
        Msg::Planned(key, Ok(plan)) => {
            if state.plans.asked.as_ref() == Some(&*key) {
                state.plans.asked = None;
            }
            state.plans.keep(*key, *plan);
        }
        Msg::Planned(key, Err(why)) => {
            if state.plans.asked.as_ref() == Some(&*key) {
                state.plans.asked = None;
            }
            state.plans.refused.push((*key, why));
        }
        Msg::Answered(key, answer) => plan::answered(state, *key, answer.map(|a| *a), &mut effects),
        Msg::AnswerLost(why) => {
            if let Some(key) = state.answers.asked.take() {
                state.answers.keep(key, Err(why));
            }
        }
        Msg::PlayerEdited(session, edit, inverse, words) => bag::edited(state, *session, edit, inverse, words),
        Msg::Course(told) => course_edits::told(state, told, &mut effects),
        Msg::Pupils(told) => pupils::told(state, told, &mut effects),
        Msg::Kept(seq) => state.kept = state.kept.max(seq),
        Msg::Shelf(items) => {
            state.shelf = items;
            lists::keep_cursor_inside(state);
        }
        Msg::PlayerRead(file) => handicap::show(state, Some(file)),
        Msg::Trouble(words) => state.notice = Some(Notice::failure(words)),
        Msg::Closed(words) => state.notice = Some(Notice::word(words)),
        Msg::Reviewed(tab, content) => review::answered(state, tab, content),
        Msg::Today(told) => today::told(state, told),
        Msg::BookWritten(answer) => book::written(state, answer),
        Msg::Say(notice) => state.notice = Some(notice),
        Msg::Desk(news) => desk::news(state, *news),
    }
    draw::keep_inside(state);
    // A match may have gone on to an extra hole, or come back from one.
    state.session.follow_round();
    state.position = state.position.min(state.session.order.len().saturating_sub(1));
    state.refresh();
    effects.extend(today::wanted(state).map(Effect::Today));
    effects.extend(wanted_plan(state));
    effects.extend(state.next_ask().map(|(key, question)| Effect::Ask(Box::new(key), Box::new(question))));
    effects
}

/// Asks for the plan of the hole on screen when it is not at hand, then for its prices; only where it may be shown.
fn wanted_plan(state: &mut State) -> Option<Effect> {
    if state.session.why_not(Ability::LivePlan).is_some()
        || state.session.frozen.is_some() && state.session.round.is_some()
    {
        return None;
    }
    let key = state.derived.plan_key.clone()?;
    if state.plans.asked.as_ref() == Some(&key) || state.plans.why_none(&key).is_some() {
        return None;
    }
    let priced = state.plans.get(&key).map(|plan| !plan.prices.is_empty());
    if priced == Some(true) {
        return None;
    }
    let (key, question) = state.plan_question()?;
    let has_dangers = question.hole.ground.features.iter().any(|f| f.surface.is_danger());
    let effect = match state.plans.get(&key) {
        None => Effect::Plan(Box::new(key.clone()), Box::new(question)),
        Some(_) if !has_dangers => return None,
        Some(plan) => Effect::Price(Box::new(key.clone()), Box::new(question), Box::new(HolePlan::clone(plan))),
    };
    state.plans.asked = Some(key);
    Some(effect)
}

fn key_pressed(state: &mut State, key: Key, effects: &mut Vec<Effect>) {
    if state.page() == Page::Finder && lists::finder_key(state, key, effects) {
        return;
    }
    if desk_forms::key(state, key, effects) || state.page() == Page::Day && day::field_key(state, key, effects) {
        return;
    }
    if state.page() == Page::Bag && bag::field_key(state, key, effects)
        || handicap::key(state, key, effects)
        || annotate::form_key(state, key, effects)
        || draw::entry_key(state, key, effects)
        || measure::marker_key(state, key, effects)
    {
        return;
    }
    if review::key(state, key, effects) || shots::key(state, key, effects) {
        return;
    }
    if key == Key::Esc && !state.pending.is_empty() {
        state.pending.clear();
        return;
    }
    state.pending.push(key);
    let keys = std::mem::take(&mut state.pending);
    match state.keymap.find(state.page(), &keys) {
        Found::Command(command, last) => run(state, command, last, effects),
        Found::Pending(_) => state.pending = keys,
        Found::Nothing if keys.len() > 1 => {
            let typed: Vec<String> = keys.iter().map(Key::to_string).collect();
            state.notice = Some(Notice::warning(format!("{} means nothing here; ? shows the keys", typed.join(" "))));
        }
        Found::Nothing if key == Key::Char('0') && matches!(state.page(), Page::Hole | Page::Card) => {
            state.notice = Some(Notice::warning("A score is 1 or more; for 10 press 9, then +"));
        }
        Found::Nothing => {
            state.notice = Some(Notice::warning(format!("{key} means nothing here; ? shows the keys")));
        }
    }
}

/// Runs a command, or says why it cannot run.
pub(super) fn run(state: &mut State, command: &'static Command, key: Key, effects: &mut Vec<Effect>) {
    if let Some(reason) = (command.why_not)(state) {
        state.notice = Some(Notice::warning(format!("{}: {reason}", command.title)));
        return;
    }
    let on_card = state.page() == Page::Card;
    if let Some(Screen::Card { scroll }) = state.screens.last_mut() {
        // Whatever else is done on the card, the focus comes into view again.
        *scroll = if command.act == Act::MoreNotes { scroll.saturating_add(1) } else { 0 };
    }
    match command.act {
        Act::Score | Act::RaiseScore | Act::PickedUp | Act::NotPlayed | Act::ClearScore => {
            score::enter(state, command.act, key, effects);
        }
        Act::Undo | Act::Redo if state.page() == Page::Bag => bag::undo(state, command.act == Act::Redo, effects),
        Act::Undo | Act::Redo if state.page() == Page::Day => day::undo(state, command.act == Act::Redo, effects),
        Act::Undo | Act::Redo
            if state.writes_course()
                || (if command.act == Act::Redo { state.notes_redo_first() } else { state.notes_undo_first() }) =>
        {
            course_edits::undo(state, command.act == Act::Redo, effects);
            draw::keep_inside(state);
        }
        Act::Note(act) => annotate::run(state, act, effects),
        Act::Draw(act) => draw::run(state, act, effects),
        Act::Measure(act) => measure::run(state, act),
        Act::Pupils(act) => pupils::run(state, act, effects),
        Act::Scout(act) => scout::run(state, act, effects),
        Act::Merge(act) => scout::run_merge(state, act, effects),
        Act::Day(act) => day::run(state, act, key, effects),
        Act::Green(act) => green::run(state, act),
        Act::Conceded => score::concede(state, effects),
        Act::GiveUp => score::give_up(state, effects),
        Act::PenaltyStroke => score::penalty(state, effects),
        Act::Undo | Act::Redo => score::undo(state, command.act == Act::Redo, effects),
        Act::NextHole => hole::step(state, 1),
        Act::PreviousHole => hole::step(state, -1),
        Act::StandAhead if on_card => hole::step(state, 1),
        Act::StandBack if on_card => hole::step(state, -1),
        Act::StandLeft if on_card => card::other_player(state, -1),
        Act::StandRight if on_card => card::other_player(state, 1),
        Act::StandAhead => hole::walk(state, 5.0, 0.0),
        Act::StandBack => hole::walk(state, -5.0, 0.0),
        Act::StandLeft => hole::walk(state, 0.0, -2.0),
        Act::StandRight => hole::walk(state, 0.0, 2.0),
        Act::StandAheadOne => hole::walk(state, 1.0, 0.0),
        Act::StandBackOne => hole::walk(state, -1.0, 0.0),
        Act::StandLeftOne => hole::walk(state, 0.0, -1.0),
        Act::StandRightOne => hole::walk(state, 0.0, 1.0),
        Act::NextThing => hole::to_thing(state, true),
        Act::PreviousThing => hole::to_thing(state, false),
        Act::StandOnTee => state.hole.stand = None,
        Act::TrueShape => state.hole.true_shape = !state.hole.true_shape,
        Act::AllNotes => {
            state.hole.all_notes = !state.hole.all_notes;
            state.hole.more = 0;
        }
        Act::MoreNotes if state.page() == Page::Bag => bag::turn_page(state),
        Act::MoreNotes if on_card => {}
        Act::MoreNotes => hole::turn_page(state),
        Act::NextPlayer => card::next_player(state),
        Act::NextAim => {
            let now = state.hole.aimed.unwrap_or_else(|| state.session.aimed());
            state.hole.aimed = Some(now.next());
        }
        Act::LookFromNextTee => hole::look_from_next_tee(state),
        Act::Units => {
            state.units = Some(match state.shown_units() {
                LengthUnit::Yards => LengthUnit::Metres,
                LengthUnit::Metres => LengthUnit::Yards,
            });
        }
        Act::Ascii => state.looks.ascii = !state.looks.ascii,
        Act::Background => state.looks.light = !state.looks.light,
        Act::OpenHole => state.screens.clear(),
        Act::OpenCard => push(state, Screen::Card { scroll: 0 }),
        Act::OpenShelf => {
            push(state, Screen::Shelf { cursor: 0 });
            effects.push(Effect::ListShelf);
        }
        Act::OpenBag => push(state, Screen::Bag(super::state::BagScreen::default())),
        Act::NumberLeft => bag::step_number(state, -1),
        Act::NumberRight => bag::step_number(state, 1),
        Act::EditNumber => bag::edit(state, None),
        Act::TypeNumber => bag::edit(state, if let Key::Char(c) = key { Some(c) } else { None }),
        Act::ClearNumber => bag::clear(state, effects),
        Act::AddClub => bag::add(state),
        Act::RemoveClub => bag::remove(state, effects),
        Act::OpenHelp => state.screens.push(Screen::Help { scroll: 0 }),
        Act::OpenFinder => state.screens.push(Screen::Finder(super::state::Finder::default())),
        Act::OpenHandicap => handicap::open(state, effects),
        Act::TypeScore => handicap::type_score(state),
        Act::OpenProblems => push(state, Screen::Problems { scroll: 0 }),
        Act::CloseRound => score::close(state, effects),
        Act::WriteBook => book::write(state, effects),
        Act::Up | Act::Down if state.page() == Page::Bag => {
            bag::step(state, if command.act == Act::Up { -1 } else { 1 });
        }
        Act::Up | Act::Down if state.page() == Page::Day => {
            day::step(state, if command.act == Act::Up { -1 } else { 1 });
        }
        Act::Up => lists::step(state, -1),
        Act::Down => lists::step(state, 1),
        Act::Choose => lists::choose(state, effects),
        Act::Review(act) => review::act(state, act, effects),
        Act::Log(act) => shots::act(state, act, key, effects),
        Act::Plan(act) => plan::run(state, act, effects),
        Act::Back => back(state),
        Act::Quit => leave(state, effects),
        Act::Desk(act) => desk::run(state, act, key, effects),
    }
}

/// Leaves, with the hole that is looked at kept in the round.
fn leave(state: &mut State, effects: &mut Vec<Effect>) {
    score::keep_place(state, effects);
    effects.push(Effect::Quit);
}

/// Puts a screen on top; the same screen lower in the stack is taken out, so that Esc never comes by it twice.
fn push(state: &mut State, screen: Screen) {
    state.screens.retain(|s| s.page() != screen.page() && !matches!(s.page(), Page::Help | Page::Finder));
    state.screens.push(screen);
}

/// Esc peels one layer, in a fixed order: a screen, then what was turned on over the hole, then the stand.
fn back(state: &mut State) {
    // A keyer who presses Esc once too often must not find the digits of the next card in a round.
    if state.desk_first && matches!(state.screens.as_slice(), [Screen::Desk]) {
        state.notice = Some(Notice::word("Nothing is on top; q quits, and everything is kept. s opens the Shelf."));
        return;
    }
    if let Some(gone) = state.screens.pop() {
        if let (Screen::Keying, Some(desk)) = (&gone, state.desk.as_mut()) {
            desk.pad = None;
        }
        return;
    }
    let hole = &mut state.hole;
    if hole.panel.take().is_some() {
        hole.more = 0;
    } else if hole.map {
        hole.map = false;
    } else if hole.club.take().is_some() || hole.tee.take().is_some() {
    } else if hole.true_shape {
        hole.true_shape = false;
    } else if hole.all_notes {
        hole.all_notes = false;
    } else if hole.stand.take().is_some() {
    } else {
        state.notice = Some(Notice::word("Nothing is on top; q quits, and everything is kept."));
    }
}

/// Pasted text goes into a text field, and nowhere else: it is never taken for keys.
fn pasted(state: &mut State, text: &str, effects: &mut Vec<Effect>) {
    if let Some(Screen::Finder(finder)) = state.screens.last_mut() {
        finder.letters.extend(text.chars().filter(|c| !c.is_control()).take(60));
        finder.cursor = 0;
    } else if !day::pasted(state, text, effects)
        && !bag::pasted(state, text)
        && !handicap::pasted(state, text)
        && !annotate::pasted(state, text)
        && !draw::pasted(state, text)
        && !desk_forms::pasted(state, text)
        && !review::pasted(state, text)
    {
        state.notice = Some(Notice::warning("Pasted text was not used: no text field is open here."));
    }
}

/// Applies an event to the round in memory and asks for it to be written; a refusal becomes a notice.
fn happen(state: &mut State, event: Event, effects: &mut Vec<Effect>) -> bool {
    let texts = texts_of(&state.session);
    let Some(round) = state.session.round.as_mut() else { return false };
    // Both copies of the round, here and at the edge, must count the same lines: undo names lines by their number.
    if matches!(event, Event::Score { .. } | Event::Detail { set: Detail::Shots(_), .. })
        && !round.has_started()
        && round.texts().is_empty()
        && !texts.is_empty()
    {
        let event = Event::Texts(texts);
        match round.apply(&event) {
            Ok(_) => effects.extend([Effect::Append(event), Effect::KeepTexts]),
            Err(reason) => state.notice = Some(Notice::warning(reason.to_string())),
        }
    }
    let Some(round) = state.session.round.as_mut() else { return false };
    match round.apply(&event) {
        Ok(_) => {
            effects.push(Effect::Append(event));
            true
        }
        Err(reason) => {
            state.notice = Some(Notice::warning(reason.to_string()));
            false
        }
    }
}

fn texts_of(session: &Session) -> Vec<StoredText> {
    session
        .texts()
        .into_iter()
        .map(|(role, file)| StoredText { role, file: session.name_in_log(file), digest: file.digest() })
        .collect()
}
