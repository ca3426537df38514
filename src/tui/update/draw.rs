//! The Draw page: shapes typed as a line and moved by arrow keys, each change a lossless edit of the notebook.

use super::course_edits::{CourseEdit, make};
use super::draw_line::{change, line_of, new_hole};
use super::{Effect, How, hole, push};
use crate::course::write::edges::{green_moved, mirrored, moved};
use crate::course::write::sketch::{Change, NewPiece, edits, seen};
use crate::course::{Form, Hole};
use crate::ground::Ribbon;
use crate::ground::ribbon::View;
use crate::notebook;
use crate::tui::commands::DrawAct;
use crate::tui::keymap::Key;
use crate::tui::state::{Entry, EntryFor, Mark, Notice, Picked, Screen, Sketched, SketchedFrom, State, Where};
use crate::tui::view::draw::cells;
use std::sync::Arc;
use tui_input::{Input, InputRequest};

/// The most that a line takes.
const MOST_TYPED: usize = 400;

/// Runs a command of the page.
pub fn run(state: &mut State, act: DrawAct, effects: &mut Vec<Effect>) {
    match act {
        DrawAct::Open => push(state, Screen::Draw(Box::default())),
        DrawAct::Type(what) => open(state, what, String::new()),
        DrawAct::Retype => retype(state),
        DrawAct::NextShape => step(state, 1),
        DrawAct::PreviousShape => step(state, -1),
        DrawAct::NextEdge => {
            if let Some(draw) = state.draw_mut() {
                draw.edge += 1;
            }
        }
        DrawAct::Move(along, across) => move_it(state, f64::from(along), f64::from(across), effects),
        DrawAct::Mirror => mirror(state, effects),
        DrawAct::Remove => remove(state, effects),
        DrawAct::CountFrom => {
            if let Some(draw) = state.draw_mut() {
                draw.from_tee = !draw.from_tee;
            }
        }
        DrawAct::NextHole | DrawAct::PreviousHole => {
            if let Some(draw) = state.draw_mut() {
                draw.picked = None;
                draw.edge = 0;
            }
            hole::step(state, if act == DrawAct::NextHole { 1 } else { -1 });
        }
        DrawAct::TrueShape => state.hole.true_shape = !state.hole.true_shape,
    }
}

fn open(state: &mut State, what: EntryFor, text: String) {
    if let Some(draw) = state.draw_mut() {
        draw.entry = Some(Entry { what, input: Input::new(text), message: None });
    }
}

fn retype(state: &mut State) {
    let count = state.draw_count();
    let Some(picked) = state.draw().and_then(|d| d.picked) else {
        state.notice = Some(Notice::word("Nothing is picked: Tab picks the shapes one after the other"));
        return;
    };
    if let Some(line) = state.current_hole().and_then(|h| line_of(h, picked, count)) {
        open(state, EntryFor::Picked(picked), line);
    }
}

fn step(state: &mut State, by: isize) {
    let all = state.pickable();
    if all.is_empty() {
        state.notice = Some(Notice::word("Nothing is drawn yet: l types the length, g the green, f the fairway"));
        return;
    }
    let Some(draw) = state.draw_mut() else { return };
    let now = draw.picked.and_then(|p| all.iter().position(|q| *q == p));
    let next = match now {
        None if by < 0 => all.len() - 1,
        None => 0,
        Some(at) => (at as isize + by).rem_euclid(all.len() as isize) as usize,
    };
    draw.picked = all.get(next).copied();
    draw.edge = 0;
}

/// Writes a change of the hole; the words say what it was.
fn write(
    state: &mut State,
    what: &Change,
    words: String,
    mark: Option<Mark>,
    effects: &mut Vec<Effect>,
) -> Result<(), String> {
    let (Some(hole), Some(file), Some(course)) =
        (state.current_hole(), &state.session.course_file, &state.session.course)
    else {
        return Err("this hole is not in the notebook".to_owned());
    };
    let root = notebook::read(&file.text).0.ok_or("the notebook cannot be read")?;
    let edits = edits(&root, hole, what, course.units)?;
    if edits.is_empty() {
        return Ok(());
    }
    let hole = hole.number;
    let edit = CourseEdit { place: Where::Notebook, edits, how: How::Made, hole, words, mark, form: None };
    make(state, edit, effects).map_err(|e| e.to_string())
}

fn piece_words(piece: &NewPiece) -> String {
    piece.name.clone().unwrap_or_else(|| piece.surface.word().to_owned())
}

fn move_it(state: &mut State, along: f64, across: f64, effects: &mut Vec<Effect>) {
    let yard = state.session.course.as_ref().map_or(1.0, |c| c.units.in_yards());
    let Some(hole) = state.current_hole() else { return };
    let number = hole.number;
    let (change, words, edge) = if let Some((index, edge)) = state.picked_edge() {
        let Some(piece) = hole.sketch.pieces.get(index) else { return };
        let form = moved(&piece.form, edge, along * yard, across * yard);
        let new = NewPiece { form, ..NewPiece::from(piece) };
        let words = format!("{}, {} moved", piece_words(&new), edge.word());
        (Change::Set(index, new), words, format!("{index} {edge:?}"))
    } else if let Some((edge, green)) = state.green_edge().zip(hole.sketch.green.as_ref()) {
        let degrees = edge == crate::course::write::edges::GreenEdge::Turned;
        let new = green_moved(green, edge, along * yard, if degrees { across } else { across * yard });
        (Change::Green(Box::new(new)), format!("green, {} moved", edge.word()), format!("green {edge:?}"))
    } else {
        state.notice = Some(Notice::word("Nothing is picked: Tab picks the shapes one after the other"));
        return;
    };
    if let Err(why) = write(state, &change, words, Some(Mark(number, edge)), effects) {
        state.notice = Some(Notice::warning(why));
    }
}

fn mirror(state: &mut State, effects: &mut Vec<Effect>) {
    let Some((Picked::Piece(index), hole)) = state.draw().and_then(|d| d.picked).zip(state.current_hole()) else {
        state.notice = Some(Notice::word("Pick a shape first: Tab picks them one after the other"));
        return;
    };
    let Some(piece) = hole.sketch.pieces.get(index) else { return };
    if matches!(piece.form, Form::Stations(_)) {
        state.notice = Some(Notice::warning("A fairway has both its sides already"));
        return;
    }
    // A name stands for one piece of ground.
    let new = NewPiece { form: mirrored(&piece.form), name: None, ..NewPiece::from(piece) };
    let words = format!("{} copied to the other side", piece_words(&NewPiece::from(piece)));
    add(state, new, words, effects);
}

fn add(state: &mut State, new: NewPiece, words: String, effects: &mut Vec<Effect>) {
    let form = new.form.clone();
    match write(state, &Change::Add(new), words, None, effects) {
        Ok(()) => pick_form(state, &form),
        Err(why) => state.notice = Some(Notice::warning(why)),
    }
}

/// Picks the piece that was just drawn: the last one of this form.
fn pick_form(state: &mut State, form: &Form) {
    let Some(hole) = state.current_hole() else { return };
    let at = hole.sketch.pieces.iter().rposition(|p| p.form == *form);
    if let (Some(at), Some(draw)) = (at, state.draw_mut()) {
        draw.picked = Some(Picked::Piece(at));
        draw.edge = 0;
    }
}

fn remove(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(picked) = state.draw().and_then(|d| d.picked) else {
        state.notice = Some(Notice::word("Nothing is picked: Tab picks the shapes one after the other"));
        return;
    };
    let Picked::Piece(index) = picked else {
        state.notice = Some(Notice::warning("A hole keeps its green; Enter types it anew"));
        return;
    };
    let words = state
        .current_hole()
        .and_then(|h| h.sketch.pieces.get(index))
        .map(|p| format!("{} taken out", piece_words(&NewPiece::from(p))))
        .unwrap_or_default();
    match write(state, &Change::Remove(index), words, None, effects) {
        Ok(()) => {
            if let Some(draw) = state.draw_mut() {
                draw.picked = None;
                draw.edge = 0;
            }
        }
        Err(why) => state.notice = Some(Notice::warning(why)),
    }
}

/// Keeps what is picked on something that is there.
pub fn keep_inside(state: &mut State) {
    let all = state.pickable();
    if let Some(draw) = state.draw_mut()
        && draw.picked.is_some_and(|p| !all.contains(&p))
    {
        draw.picked = None;
        draw.edge = 0;
    }
}

/// Keys while a line is typed; returns whether the key was used.
pub fn entry_key(state: &mut State, key: Key, effects: &mut Vec<Effect>) -> bool {
    let Some(Screen::Draw(draw)) = state.screens.last_mut() else { return false };
    let Some(entry) = draw.entry.as_mut() else { return false };
    let request = match key {
        Key::Char(_) if entry.input.value().chars().count() >= MOST_TYPED => None,
        Key::Char(c) => Some(InputRequest::InsertChar(c)),
        Key::Backspace => Some(InputRequest::DeletePrevChar),
        Key::Delete => Some(InputRequest::DeleteNextChar),
        Key::Left => Some(InputRequest::GoToPrevChar),
        Key::Right => Some(InputRequest::GoToNextChar),
        Key::ShiftLeft => Some(InputRequest::GoToPrevWord),
        Key::ShiftRight => Some(InputRequest::GoToNextWord),
        Key::Home => Some(InputRequest::GoToStart),
        Key::End => Some(InputRequest::GoToEnd),
        Key::Ctrl('u') => Some(InputRequest::DeleteLine),
        Key::Ctrl('w') => Some(InputRequest::DeletePrevWord),
        Key::Ctrl('c') => {
            effects.push(Effect::Quit);
            return true;
        }
        Key::Esc => {
            draw.entry = None;
            return true;
        }
        Key::Enter => {
            keep(state, effects);
            return true;
        }
        _ => None,
    };
    if let Some(request) = request {
        entry.message = None;
        entry.input.handle(request);
    }
    true
}

/// Pasted text goes into the open line; returns whether there is one.
pub fn pasted(state: &mut State, text: &str) -> bool {
    let Some(Screen::Draw(draw)) = state.screens.last_mut() else { return false };
    let Some(entry) = draw.entry.as_mut() else { return false };
    let room = MOST_TYPED.saturating_sub(entry.input.value().chars().count());
    for c in text.chars().map(|c| if c.is_whitespace() { ' ' } else { c }).filter(|c| !c.is_control()).take(room) {
        entry.input.handle(InputRequest::InsertChar(c));
    }
    true
}

fn keep(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(entry) = state.draw().and_then(|d| d.entry.clone()) else { return };
    let text = entry.input.value().trim().to_owned();
    let close = |state: &mut State| {
        if let Some(draw) = state.draw_mut() {
            draw.entry = None;
        }
    };
    if text.is_empty() {
        return close(state);
    }
    let done = match entry.what {
        EntryFor::NewHole => keep_new_hole(state, &text, effects),
        what => keep_change(state, what, &text, effects),
    };
    match done {
        Ok(()) => close(state),
        Err(why) => {
            if let Some(entry) = state.draw_mut().and_then(|d| d.entry.as_mut()) {
                entry.message = Some(why);
            }
        }
    }
}

fn keep_change(state: &mut State, what: EntryFor, text: &str, effects: &mut Vec<Effect>) -> Result<(), String> {
    let count = state.draw_count();
    let hole = state.current_hole().ok_or("this hole is not in the notebook")?;
    let change = change(hole, what, text, count)?;
    let words = match &change {
        Change::Add(new) => format!("{} drawn", piece_words(new)),
        Change::Set(_, new) => format!("{} drawn anew", piece_words(new)),
        Change::Remove(_) => "taken out".to_owned(),
        Change::Green(_) => "green drawn".to_owned(),
        Change::Bends(_) => "bends drawn".to_owned(),
        Change::Heights(_) => "heights written".to_owned(),
        Change::Tee { tee, .. } => format!("{tee} tee placed"),
    };
    write(state, &change, words, None, effects)?;
    match change {
        Change::Add(new) => pick_form(state, &new.form),
        Change::Green(_) => {
            if let Some(draw) = state.draw_mut() {
                draw.picked = Some(Picked::Green);
                draw.edge = 0;
            }
        }
        _ => {}
    }
    Ok(())
}

fn keep_new_hole(state: &mut State, text: &str, effects: &mut Vec<Effect>) -> Result<(), String> {
    let course = state.session.course.as_ref().ok_or("no notebook is open")?;
    let hole = new_hole(course, text)?;
    if state.session.round.is_some() {
        return Err("a round is open, and its holes are fixed: draw the new hole after it".to_owned());
    }
    let number = hole.number;
    let edit = CourseEdit {
        place: Where::Notebook,
        edits: vec![hole.edit()],
        how: How::Made,
        hole: number,
        words: format!("hole {number} begun"),
        mark: None,
        form: None,
    };
    make(state, edit, effects).map_err(|e| e.to_string())?;
    if let Some(position) = state.session.order.iter().position(|n| *n == number) {
        hole::arrive(state, position);
        if let Some(draw) = state.draw_mut() {
            draw.picked = None;
        }
    }
    Ok(())
}

impl State {
    /// The hole as it is drawn on the Draw page, with the change that is being typed; taken over from `before` where nothing it is
    /// made from has changed.
    pub fn sketched(&self, before: Option<Sketched>) -> Option<Sketched> {
        let draw = self.draw()?;
        let hole = self.current_hole()?;
        let area = cells(self);
        let tee = self.derived_tee();
        let typed = draw.entry.as_ref().map(|e| (e.what, e.input.value().to_owned(), draw.from_tee));
        let made_from = SketchedFrom {
            hole: (self.session.notebook_digest, hole.number),
            typed: typed.clone(),
            cells: (area.0, area.1, self.hole.true_shape),
            tee: tee.clone(),
        };
        if before.as_ref().is_some_and(|b| b.made_from == made_from) {
            return before;
        }
        let count = self.draw_count();
        let read = typed
            .filter(|(what, _, _)| *what != EntryFor::NewHole)
            .map(|(what, text, _)| change(hole, what, &text, count));
        let (shown, problems) = match &read {
            Some(Ok(change)) => {
                let (hole, problems) = seen(hole, change);
                let unit = count.unit;
                (hole, problems.iter().map(|p| p.what.message(unit)).collect())
            }
            _ => (hole.clone(), Vec::new()),
        };
        let ribbon = ribbon_of(&shown, &tee, area, self.hole.true_shape);
        Some(Sketched { hole: shown, ribbon: Arc::new(ribbon), typed: read, problems, made_from })
    }

    fn derived_tee(&self) -> String {
        let golfer = self.session.golfers.get(self.player).map(|g| g.tee.clone()).unwrap_or_default();
        self.hole.tee.clone().unwrap_or(golfer)
    }
}

fn ribbon_of(hole: &Hole, tee: &str, area: (u16, u16), true_shape: bool) -> Ribbon {
    let index = hole.ground.tees.iter().position(|t| t.name == tee).unwrap_or(0);
    let view = if true_shape { View::TrueShape } else { View::AlongLine };
    Ribbon::new(&hole.ground, index, usize::from(area.0), usize::from(area.1) * 2, view)
}

/// What is picked in a word, and its line.
pub fn shape_line(state: &State, hole: &Hole, picked: Picked) -> (&'static str, String) {
    let line = line_of(hole, picked, state.draw_count()).unwrap_or_default();
    let kind = match picked {
        Picked::Green => "green",
        Picked::Piece(index) => hole.sketch.pieces.get(index).map_or("", |p| match p.surface {
            crate::ground::Surface::PenaltyRed | crate::ground::Surface::PenaltyYellow => "penalty area",
            other => other.word(),
        }),
    };
    let falls = match (picked, hole.sketch.green.as_ref().and_then(|g| g.falls)) {
        (Picked::Green, Some((percent, towards))) => format!(", falls {percent} % towards {towards}"),
        _ => String::new(),
    };
    (kind, format!("{line}{falls}"))
}

/// How a line is typed, in a sentence.
pub fn entry_hint(state: &State, what: EntryFor) -> String {
    let unit = state.draw_count().unit.word();
    match what {
        EntryFor::Piece(crate::ground::Surface::Fairway) => {
            format!(
                "Stations in {unit}: a place along the line and its two edges, as 140 16L16R 220 20L18R 345 11L12R."
            )
        }
        EntryFor::Piece(surface) => {
            let words = match surface {
                crate::ground::Surface::Bunker => " steep or shallow and a name may follow.",
                crate::ground::Surface::PenaltyYellow | crate::ground::Surface::PenaltyRed => {
                    " Without red it is yellow (Rule 17.1a); a name may follow."
                }
                _ => " A name may follow.",
            };
            format!(
                "From, to, two sides: 238 256 13L27L; one side reaches outwards: 0 440 75L; a path and its width: 0 40R 330 52R 8; three places or more: an outline.{words}"
            )
        }
        EntryFor::Picked(_) => "The same figures, to be typed over.".to_owned(),
        EntryFor::Green => {
            "Depth and width: 31 24; front, depth and width: 412 31 24; then its place 2R and its turn 15R.".to_owned()
        }
        EntryFor::Falls => {
            "Per cent and hour of the clock face: 1.8 7; 12 is straight on, 6 back to the player.".to_owned()
        }
        EntryFor::Bend => "Where the line turns and by how many degrees: 262 18R; 262 0 takes it out.".to_owned(),
        EntryFor::Height => "A place and its height against the start: 262 -4.".to_owned(),
        EntryFor::Tee => "The name of a tee set, its length, its side: Club 401 3L.".to_owned(),
        EntryFor::Length => format!("The length of the line in {unit}, from its tee to the middle of the green."),
        EntryFor::NewHole => "Number, par, length, and the stroke index when it is known: 3 4 420 7.".to_owned(),
    }
}
