//! The page of everything written about a hole, and its form.

use super::course_edits::{CourseEdit, make};
use super::{Effect, How, push};
use crate::course::write::{NotMade, Sort, Thing, added, changes, hidden, not_in_a_layer, removed};
use crate::notebook;
use crate::notebook::edit::Edit;
use crate::session::Home;
use crate::shelf;
use crate::tui::commands::NoteAct;
use crate::tui::keymap::Key;
use crate::tui::state::{AnnotateScreen, Form, FormField, Notice, Screen, State, Where, fields};
use crate::units::{Across, Along};
use tui_input::{Input, InputRequest};

/// The most that a field takes.
const MOST_TYPED: usize = 2000;

/// Runs a command of the page.
pub fn run(state: &mut State, act: NoteAct, effects: &mut Vec<Effect>) {
    match act {
        NoteAct::Open => push(state, Screen::Annotate(Box::default())),
        NoteAct::Add(sort) => open_new(state, sort),
        NoteAct::Edit => edit(state),
        NoteAct::Remove => remove(state, effects),
        NoteAct::MoveHere => move_here(state, effects),
        NoteAct::WhereTo => {
            state.course_edits.own_layer = !state.course_edits.own_layer;
            let words = match state.writes_to() {
                Where::Notebook => "What you write now goes into the notebook".to_owned(),
                Where::Beside(file) => format!("What you write now goes into your own layer, {file}"),
            };
            state.notice = Some(Notice::word(words));
        }
        NoteAct::Up => step(state, -1),
        NoteAct::Down => step(state, 1),
    }
}

fn step(state: &mut State, by: isize) {
    let last = state.derived.written.things.len().saturating_sub(1);
    if let Some(page) = state.annotate_mut() {
        page.cursor = page.cursor.saturating_add_signed(by).min(last);
    }
}

/// The thing under the cursor, with its file.
pub fn chosen(state: &State) -> Option<(Where, Thing)> {
    let page = state.annotate()?;
    let all = &state.derived.written.things;
    all.get(page.cursor.min(all.len().saturating_sub(1))).cloned()
}

/// By what a layer names a thing of the notebook: its id, its name, the ground it is about, its words.
fn id_of(thing: &Thing) -> String {
    let name = match thing.sort {
        Sort::Danger => "of",
        Sort::Aim | Sort::Layup => "name",
        _ => "text",
    };
    [thing.field("id"), thing.field(name), thing.field("text")]
        .into_iter()
        .flatten()
        .next()
        .unwrap_or_default()
        .to_owned()
}

/// The place that is considered: the stand.
fn stand(state: &State) -> Option<(Along, Across)> {
    super::spot_of(state, state.derived.hole.as_ref()?)
}

fn show_form(state: &mut State, form: Form) {
    match state.annotate_mut() {
        Some(page) => page.form = Some(Box::new(form)),
        None => {
            let page = AnnotateScreen { form: Some(Box::new(form)), only_form: true, cursor: 0 };
            push(state, Screen::Annotate(Box::new(page)));
        }
    }
}

fn new_fields(sort: Sort, given: &[(&str, String)]) -> Vec<FormField> {
    let text = |key: &str| given.iter().find(|(k, _)| *k == key).map(|(_, t)| t.clone()).unwrap_or_default();
    let field = |key: &&'static str| FormField { key, input: Input::new(text(key)), was: String::new(), theirs: None };
    sort.fields().iter().map(field).collect()
}

/// Opens a form for something new, with what the stand says filled in.
fn open_new(state: &mut State, sort: Sort) {
    let Some(hole) = state.current_hole().cloned() else { return };
    let place = state.writes_to();
    // Of these a hole has one: a new one is a change of the old one.
    if matches!(sort, Sort::Walk | Sort::Caution) {
        if place != Where::Notebook {
            state.notice = Some(Notice::warning(not_in_a_layer(sort.word())));
            return;
        }
        if let Some((place, thing)) = state.derived.written.things.iter().find(|(_, t)| t.sort == sort).cloned() {
            return open_old(state, place, &thing, None);
        }
    }
    let mut given: Vec<(&str, String)> = Vec::new();
    let on_tee = state.hole.stand.is_none();
    if let Some((at, across)) = stand(state) {
        let line = hole.ground.line();
        let point = line.place(at, across);
        let to_green = hole.ground.green.as_ref().map(|g| g.middle.distance(point));
        let show = |key: &str, yards: f64| fields::shown_length(state, key, yards);
        match sort {
            Sort::Aim | Sort::Layup if !on_tee => {
                given.push(("at", show("at", at.0)));
                given.push(("across", fields::shown_side(state, across.0)));
            }
            Sort::Note => {
                let word = match to_green {
                    _ if on_tee => "tee",
                    Some(away) if away <= 30.0 => "green",
                    _ => "approach",
                };
                given.push(("at", word.to_owned()));
            }
            Sort::Danger => {
                let near = hole.ground.features.iter().filter(|f| f.surface.is_danger());
                let near = near.min_by(|a, b| a.distance(point).total_cmp(&b.distance(point)));
                if let Some(feature) = near.filter(|f| !on_tee && f.distance(point) < 60.0) {
                    given.push(("of", feature.name.clone()));
                    let edge = feature.nearest_edge(point).unwrap_or(point);
                    let side = line.locate(edge).1;
                    given.push(("side", if side.0 < 0.0 { "left" } else { "right" }.to_owned()));
                }
            }
            _ => {}
        }
    }
    if sort == Sort::Aim {
        given.push(("from", "tee".to_owned()));
    }
    let form = Form {
        sort,
        hole: hole.number,
        place,
        of: None,
        replaces: None,
        fields: new_fields(sort, &given),
        at: 0,
        message: None,
        both: false,
    };
    show_form(state, form);
}

/// Opens a form for something that is written; `replaces` when it is to stand in a layer instead.
fn open_old(state: &mut State, place: Where, thing: &Thing, replaces: Option<String>) {
    let Some(hole) = state.current_hole().map(|h| h.number) else { return };
    let field = |key: &&'static str| {
        let was = thing.field(key).map(|t| fields::to_screen(state, thing.sort, key, t)).unwrap_or_default();
        FormField {
            key,
            input: Input::new(was.clone()),
            was: if replaces.is_some() { String::new() } else { was },
            theirs: None,
        }
    };
    let form = Form {
        sort: thing.sort,
        hole,
        place,
        of: replaces.is_none().then(|| thing.clone()),
        fields: thing.sort.fields().iter().map(field).collect(),
        replaces,
        at: 0,
        message: None,
        both: false,
    };
    show_form(state, form);
}

fn edit(state: &mut State) {
    let Some((place, thing)) = chosen(state) else {
        state.notice = Some(Notice::word("Nothing is written here yet: n adds a note, a an aim point"));
        return;
    };
    let target = state.writes_to();
    if place == Where::Notebook && target != Where::Notebook {
        if matches!(thing.sort, Sort::Walk | Sort::Caution) {
            state.notice = Some(Notice::warning(not_in_a_layer(thing.sort.word())));
            return;
        }
        return open_old(state, target, &thing, Some(id_of(&thing)));
    }
    open_old(state, place, &thing, None);
}

fn root_of(state: &State, place: &Where) -> Option<notebook::Node> {
    let file = state.file_of(place)?;
    let text = shelf::course_text(&state.session, &file).map(|(text, _)| text.to_owned());
    let text = text.or_else(|| {
        let name = state.session.course_file.as_ref().map(|f| f.name.clone())?;
        Some(crate::course::write::new_layer(&name, &state.layer_person()?, None))
    })?;
    notebook::read(&text).0
}

fn ask(
    state: &mut State,
    place: Where,
    edits: Vec<Edit>,
    words: String,
    effects: &mut Vec<Effect>,
) -> Result<(), NotMade> {
    let Some(hole) = state.current_hole().map(|h| h.number) else { return Ok(()) };
    make(state, CourseEdit { place, edits, how: How::Made, hole, words, mark: None, form: None }, effects)
}

fn remove(state: &mut State, effects: &mut Vec<Effect>) {
    let Some((place, thing)) = chosen(state) else { return };
    let target = state.writes_to();
    let word = thing.sort.word();
    let done = if place == Where::Notebook && target != Where::Notebook {
        if matches!(thing.sort, Sort::Walk | Sort::Caution) {
            Err(NotMade::Refused(not_in_a_layer(word)))
        } else if let Some(root) = root_of(state, &target) {
            let number = state.current_hole().map_or(0, |h| h.number);
            ask(state, target, hidden(&root, number, &id_of(&thing)), format!("{word} hidden"), effects)
        } else {
            Ok(())
        }
    } else {
        ask(state, place, removed(&thing), format!("{word} taken out"), effects)
    };
    if let Err(why) = done {
        state.notice = Some(Notice::warning(why.to_string()));
    }
}

/// Moves the aim point or lay-up under the cursor to the stand; a note to the part of the hole on which the stand is.
fn move_here(state: &mut State, effects: &mut Vec<Effect>) {
    let (Some((place, thing)), Some((at, across))) = (chosen(state), stand(state)) else { return };
    if place == Where::Notebook && state.writes_to() != Where::Notebook {
        state.notice = Some(Notice::warning(
            "It stands in the notebook: Enter writes yours instead of it, o changes where you write",
        ));
        return;
    }
    let unit = state.session.course.as_ref().map(|c| c.units).unwrap_or_default();
    let mut now = thing.fields.clone();
    let mut put = |key: &str, text: Option<String>| {
        now.retain(|(k, _)| k != key);
        now.extend(text.map(|t| (key.to_owned(), t)));
    };
    match thing.sort {
        Sort::Aim | Sort::Layup => {
            put("at", Some(crate::course::write::notation::length(at.0.round(), unit)));
            put("across", Some(crate::course::write::notation::side(across.0.round(), unit)));
            if thing.sort == Sort::Layup {
                // What it leaves is the place itself now.
                put("to_middle", None);
            }
        }
        _ => {
            state.notice = Some(Notice::warning("Only aim points and lay-ups have a place; Enter opens the rest"));
            return;
        }
    }
    let words = format!("{} moved", thing.sort.word());
    if let Err(why) = ask(state, place, changes(&thing, &now), words, effects) {
        state.notice = Some(Notice::warning(why.to_string()));
    }
}

/// Keys while the form is open; returns whether the key was used.
pub fn form_key(state: &mut State, key: Key, effects: &mut Vec<Effect>) -> bool {
    let Some(Screen::Annotate(page)) = state.screens.last_mut() else { return false };
    let Some(form) = page.form.as_mut() else { return false };
    let many = form.fields.len().max(1);
    let go = |form: &mut Form, by: isize| form.at = (form.at as isize + by).rem_euclid(many as isize) as usize;
    let request = match key {
        Key::Char(c) => Some(InputRequest::InsertChar(c)),
        Key::Backspace => Some(InputRequest::DeletePrevChar),
        Key::Delete => Some(InputRequest::DeleteNextChar),
        Key::Left => Some(InputRequest::GoToPrevChar),
        Key::Right => Some(InputRequest::GoToNextChar),
        Key::ShiftLeft => Some(InputRequest::GoToPrevWord),
        Key::ShiftRight => Some(InputRequest::GoToNextWord),
        Key::Home => Some(InputRequest::GoToStart),
        Key::End => Some(InputRequest::GoToEnd),
        Key::Ctrl('w') => Some(InputRequest::DeletePrevWord),
        Key::Ctrl('u') => Some(InputRequest::DeleteLine),
        Key::Ctrl('c') => {
            effects.push(Effect::Quit);
            return true;
        }
        Key::Tab | Key::Down => {
            go(form, 1);
            return true;
        }
        Key::BackTab | Key::Up => {
            go(form, -1);
            return true;
        }
        Key::Esc => {
            let typed = form.is_changed() && !form.fields.iter().all(|f| f.input.value().is_empty());
            close(state);
            state.notice = typed.then(|| Notice::word("Left as it was"));
            return true;
        }
        Key::Enter => {
            keep(state, effects);
            return true;
        }
        _ => None,
    };
    if let Some(request) = request
        && let Some(field) = form.fields.get_mut(form.at)
    {
        let full = field.input.value().chars().count() >= MOST_TYPED;
        if !(full && matches!(request, InputRequest::InsertChar(_))) {
            field.input.handle(request);
        }
        if !form.both {
            form.message = None;
        }
    }
    true
}

/// Pasted text goes into the field with the focus; line breaks become blanks. Returns whether there is one.
pub fn pasted(state: &mut State, text: &str) -> bool {
    let Some(Screen::Annotate(page)) = state.screens.last_mut() else { return false };
    let Some(field) = page.form.as_mut().and_then(|form| form.fields.get_mut(form.at)) else { return false };
    let room = MOST_TYPED.saturating_sub(field.input.value().chars().count());
    let text = text.trim_end_matches(['\n', '\r']).replace("\r\n", " ").replace(['\n', '\t'], " ");
    for c in text.chars().filter(|c| !c.is_control()).take(room) {
        field.input.handle(InputRequest::InsertChar(c));
    }
    true
}

fn close(state: &mut State) {
    if let Some(page) = state.annotate_mut() {
        page.form = None;
        if page.only_form {
            state.screens.retain(|s| !matches!(s, Screen::Annotate(_)));
        }
    }
}

fn say(state: &mut State, words: String) {
    if let Some(form) = state.annotate_mut().and_then(|p| p.form.as_mut()) {
        form.message = Some(words);
    }
}

/// Keeps what was typed: it is completed and judged first, and the form stays open until the file has it.
fn keep(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(form) = state.form().cloned() else { return };
    let mut now: Vec<(String, String)> = Vec::new();
    for field in &form.fields {
        let typed = field.input.value().trim();
        if typed.is_empty() {
            continue;
        }
        // A text that was not touched is written as it is, with whatever precision it has.
        let untouched = form.of.as_ref().and_then(|t| t.field(field.key)).filter(|_| typed == field.was);
        match untouched.map(|t| Ok(t.to_owned())).unwrap_or_else(|| fields::to_file(state, form.sort, field.key, typed))
        {
            Ok(text) => now.push((field.key.to_owned(), text)),
            Err(why) => return say(state, why),
        }
    }
    if form.sort == Sort::Caution || form.sort == Sort::Walk {
        if now.is_empty() && form.of.is_none() {
            return close(state);
        }
    } else if now.iter().all(|(key, _)| matches!(key.as_str(), "from" | "at"))
        && form.of.is_none()
        && form.sort == Sort::Note
    {
        return say(state, "a note needs its words; Esc leaves it".to_owned());
    }
    // The thing as it stands now: somebody may have changed the file since the form was opened.
    let (edits, words) = match &form.of {
        None => {
            let Some(root) = root_of(state, &form.place) else { return };
            let words = format!("{} added", form.sort.word());
            (added(&root, form.hole, form.sort, &now, form.replaces.as_deref()), words)
        }
        Some(old) => {
            let Some(current) = find_again(state, &form.place, old) else {
                return say(state, format!("this {} is not in the file any more; Esc leaves it", old.sort.word()));
            };
            if current.value != old.value && !form.both {
                return show_both(state, &current);
            }
            (changes(&current, &now), format!("{} changed", form.sort.word()))
        }
    };
    if edits.is_empty() {
        return close(state);
    }
    let edit = CourseEdit {
        place: form.place.clone(),
        edits,
        how: How::Made,
        hole: form.hole,
        words,
        mark: None,
        form: Some(Box::new(form)),
    };
    // The first change of the example goes through the disk; the form closes when it is back.
    let example = state.session.home == Home::Example;
    match make(state, edit, effects) {
        Ok(()) => {
            let added = state.form().filter(|f| f.of.is_none()).map(|f| f.sort);
            close(state);
            if !example {
                choose_last(state, added);
            }
        }
        Err(why) => say(state, why.to_string()),
    }
}

/// Puts the cursor on the thing just added.
fn choose_last(state: &mut State, sort: Option<Sort>) {
    let Some(sort) = sort else { return };
    state.refresh();
    let at = state.derived.written.things.iter().rposition(|(_, t)| t.sort == sort);
    if let (Some(at), Some(page)) = (at, state.annotate_mut()) {
        page.cursor = at;
    }
}

/// The same thing in the file as it is now: by its words, else by its place.
fn find_again(state: &State, place: &Where, old: &Thing) -> Option<Thing> {
    let root = root_of(state, place)?;
    let number = state.form().map(|f| f.hole).or_else(|| state.current_hole().map(|h| h.number))?;
    let all: Vec<Thing> =
        crate::course::write::things(&root, number).into_iter().filter(|t| t.sort == old.sort).collect();
    all.iter().find(|t| t.value == old.value).or_else(|| all.iter().find(|t| t.index == old.index)).cloned()
}

/// Shows what stands in the file now beside what was typed.
fn show_both(state: &mut State, current: &Thing) {
    let shown: Vec<(&'static str, String)> = current
        .sort
        .fields()
        .iter()
        .map(|key| {
            let text = current.field(key).map(|t| fields::to_screen(state, current.sort, key, t));
            (*key, text.unwrap_or_default())
        })
        .collect();
    let Some(form) = state.annotate_mut().and_then(|p| p.form.as_mut()) else { return };
    for field in &mut form.fields {
        let now = shown.iter().find(|(key, _)| *key == field.key).map(|(_, t)| t.clone()).unwrap_or_default();
        let touched = field.input.value().trim() != field.was;
        if now != field.was && !touched {
            // What was not typed over follows the file.
            field.input = Input::new(now.clone());
        }
        field.theirs = (now != field.was && now != field.input.value()).then(|| now.clone());
        field.was = now;
    }
    form.of = Some(current.clone());
    form.both = form.fields.iter().any(|f| f.theirs.is_some());
    form.message = Some(if form.both {
        "The file was changed meanwhile, and nothing is written. On the right what stands there now, on the left yours: Enter writes yours, Esc leaves it"
            .to_owned()
    } else {
        "The file was changed meanwhile elsewhere in this; Enter writes yours into it".to_owned()
    });
    state.notice = None;
}

/// After the files were read again: an open form shows what somebody else made of it.
pub fn compare_form(state: &mut State) {
    let Some(form) = state.form().cloned() else { return };
    let Some(old) = &form.of else { return };
    if let Some(current) = find_again(state, &form.place, old).filter(|t| t.value != old.value) {
        show_both(state, &current);
    }
}

/// Shows the form of a change that could not be written again, beside what stands in the file now.
pub fn reopen(state: &mut State, form: Option<Box<Form>>, why: &NotMade) {
    let Some(mut form) = form else { return };
    if let Some(position) = state.session.order.iter().position(|n| *n == form.hole) {
        state.position = position;
    }
    form.message = Some(why.to_string());
    let old = form.of.clone();
    show_form(state, *form.clone());
    if let Some(current) = old.and_then(|old| find_again(state, &form.place, &old)) {
        show_both(state, &current);
    }
}
