//! A story: what is open, keys, and the screen they lead to, without a terminal. Tests and pictures are made with it.

use super::ask::Holes;
use super::keymap::Key;
use super::looks::{Depth, Looks};
use super::state::State;
use super::update::today::{Ask, Told};
use super::update::{CourseAsk, CourseEdit, CourseTold, DayEdit, Effect, Msg, PlayerEdit, update};
use super::view::{plain, view};
use crate::plan::{GreenPicture, hole_today, price};
use crate::round::{RoundId, RoundState};
use crate::session::{Home, RoundWish, Session};
use crate::shelf;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// The day of stories, so that they never change by themselves.
pub const STORY_DAY: &str = "2026-05-16";

/// A state that takes keys and keeps the effects that it asked for.
#[derive(Debug)]
pub struct Story {
    /// The state.
    pub state: State,
    /// Every effect asked for so far.
    pub effects: Vec<Effect>,
    holes: Holes,
}

impl Story {
    /// A story on the example, in true colour on a dark background.
    pub fn example(width: u16, height: u16) -> Self {
        Self::of(shelf::example(STORY_DAY), width, height)
    }

    /// A story on a session.
    pub fn of(session: Session, width: u16, height: u16) -> Self {
        let looks = Looks { depth: Depth::True, ascii: false, light: false };
        Self {
            state: State::new(session, (width, height), looks, STORY_DAY.to_owned()),
            effects: Vec::new(),
            holes: Holes::default(),
        }
    }

    /// Presses keys, written as in the key help with blanks between them. A round that a score begins is kept in memory.
    pub fn keys(&mut self, keys: &str) -> &mut Self {
        for key in keys.split_whitespace().filter_map(Key::read) {
            self.press(key);
        }
        self
    }

    /// Presses one key.
    pub fn press(&mut self, key: Key) {
        let effects = update(&mut self.state, Msg::Key(key));
        if effects.contains(&Effect::Begin) {
            let mut session = self.state.session.clone();
            let name = session.course.as_ref().map(|c| c.name.clone()).unwrap_or_default();
            let id = RoundId::next(STORY_DAY, &name, |_| false);
            session.round = session
                .opening(id, STORY_DAY, &RoundWish::default())
                .ok()
                .and_then(|o| RoundState::open(o.opening).ok());
            session.refresh();
            let begun = session.round.is_some();
            update(&mut self.state, Msg::Begun(Box::new(session)));
            self.effects.push(Effect::Begin);
            if begun {
                self.press(key);
            }
            return;
        }
        for effect in &effects {
            match effect {
                Effect::EditPlayer(edit) => self.edit_player(edit.clone()),
                Effect::Course(CourseAsk::OwnCopy(edit)) => self.own_copy(edit.clone()),
                Effect::Today(Ask::Edit(edit)) => self.edit_day(edit.clone()),
                _ => {}
            }
        }
        self.effects.extend(effects);
    }

    /// Works out every plan that was asked for, as the planner would behind the screen.
    pub fn settle(&mut self) -> &mut Self {
        let never = AtomicBool::new(false);
        let mut waiting = std::mem::take(&mut self.effects);
        // The first frame asks too: the loop at the edge sends the size again after it.
        let (width, height) = self.state.size;
        waiting.extend(update(&mut self.state, Msg::Resize(width, height)));
        while let Some(effect) = waiting.pop() {
            let (key, answer) = match effect {
                Effect::Today(Ask::Hole(key, question)) => {
                    let found = hole_today(&question, &never).map_err(|e| e.to_string());
                    waiting.extend(update(&mut self.state, Msg::Today(Told::Hole(key, found))));
                    continue;
                }
                Effect::Today(Ask::Green(key, question)) => {
                    let found = GreenPicture::new(&question, &never).map(Arc::new).map_err(|e| e.to_string());
                    waiting.extend(update(&mut self.state, Msg::Today(Told::Green(key, found))));
                    continue;
                }
                Effect::Plan(key, question) => {
                    let solved = self.holes.solved(&key, &question, &never);
                    (key, solved.map(|solved| Box::new(solved.plan())))
                }
                Effect::Price(key, question, mut made) => {
                    let priced = price(&question, &mut made, &never);
                    (key, priced.map(|()| made))
                }
                Effect::Ask(key, question) => {
                    let answer = self.holes.answer(&key, &question, &never);
                    let answer = answer.map(Box::new).map_err(|e| e.to_string());
                    waiting.extend(update(&mut self.state, Msg::Answered(key, answer)));
                    continue;
                }
                other => {
                    self.effects.push(other);
                    continue;
                }
            };
            waiting.extend(update(&mut self.state, Msg::Planned(key, answer.map_err(|e| e.to_string()))));
        }
        self
    }

    /// The example becomes the person's own in memory.
    fn own_copy(&mut self, edit: Box<CourseEdit>) {
        let mut session = self.state.session.clone();
        session.home = Home::Files;
        let words = "This is your own copy now, in memory".to_owned();
        let told = CourseTold::Copied(Box::new(session), edit, words);
        let effects = update(&mut self.state, Msg::Course(told));
        self.effects.extend(effects);
    }

    /// Text pasted into the terminal.
    pub fn paste(&mut self, text: &str) -> &mut Self {
        let effects = update(&mut self.state, Msg::Paste(text.to_owned()));
        for effect in &effects {
            if let Effect::Today(Ask::Edit(edit)) = effect {
                self.edit_day(edit.clone());
            }
        }
        self.effects.extend(effects);
        self
    }

    /// Types text as it is, blanks included.
    pub fn types(&mut self, text: &str) -> &mut Self {
        for c in text.chars() {
            self.press(Key::Char(c));
        }
        self
    }

    /// The text of the notebook as it is open.
    pub fn notebook(&self) -> &str {
        self.state.session.course_file.as_ref().map_or("", |f| f.text.as_str())
    }

    /// A change of the day sheet is made in memory.
    fn edit_day(&mut self, edit: DayEdit) {
        let msg = match shelf::day_edited(&self.state.session, &edit.edits) {
            Ok((session, made)) => {
                let words = format!("Changed, lines {:?}", made.lines);
                Msg::Today(Told::Edited(Box::new(session), edit, made.inverse, words))
            }
            Err(error) => Msg::Trouble(error.to_string()),
        };
        let effects = update(&mut self.state, msg);
        self.effects.extend(effects);
    }

    /// A change of a player's file is made in memory.
    fn edit_player(&mut self, edit: PlayerEdit) {
        let msg = match shelf::edited(&self.state.session, edit.player, &edit.edits) {
            Ok((session, made)) => {
                let words = format!("Changed, lines {:?}", made.lines);
                Msg::PlayerEdited(Box::new(session), edit, made.inverse, words)
            }
            Err(error) => Msg::Trouble(error.to_string()),
        };
        update(&mut self.state, msg);
    }

    /// The screen as it would be drawn.
    pub fn buffer(&self) -> Buffer {
        let mut buffer = Buffer::empty(Rect::new(0, 0, self.state.size.0, self.state.size.1));
        view(&self.state, &mut buffer);
        buffer
    }

    /// The screen as text, a line a row.
    pub fn screen(&self) -> String {
        let buffer = self.buffer();
        let mut out = String::new();
        for y in 0..buffer.area.height {
            let row: String =
                (0..buffer.area.width).filter_map(|x| buffer.cell((x, y))).map(|c| c.symbol().to_owned()).collect();
            out.push_str(row.trim_end());
            out.push('\n');
        }
        out
    }

    /// The plain text of the page.
    pub fn said(&self) -> String {
        plain::page(&self.state).join("\n")
    }
}
