//! The forms of the Desk: what each asks, its keys, what it makes of what was typed.

use super::desk::{DeskAsk, begin};
use super::{Effect, leave};
use crate::competition::board::CardRow;
use crate::competition::values::{Change, Ruling, Stands, Status, What};
use crate::scoring::HoleScore;
use crate::tui::commands::Page;
use crate::tui::keymap::Key;
use crate::tui::state::{DeskField as FormField, DeskForm as Form, FormKind, Notice, Part, State};
use crate::units::tenths::{HandicapIndex, parse_whole_handicap};
use std::path::PathBuf;
use tui_input::InputRequest;

/// The most characters of a field.
const LONGEST: usize = 400;

/// What a late act can be about.
const ACTS: [&str; 13] = [
    "withdrawn",
    "no return",
    "no show",
    "disqualified",
    "plays after all",
    "index",
    "playing handicap",
    "tee",
    "category",
    "group",
    "start time",
    "start hole",
    "name",
];

fn open(state: &mut State, form: Form) {
    if let Some(desk) = state.desk.as_mut() {
        desk.form = Some(form);
    }
}

/// Who keys here.
pub fn keyer(state: &mut State, kind: FormKind) {
    let now = state.desk.as_ref().map(|desk| desk.keyer.clone()).unwrap_or_default();
    let field = FormField::new("name", "each keyer has a name of their own; two keyings of a card need two", &now);
    open(state, Form::new(kind, "Who keys here?", vec![field]));
}

/// Finds a card.
pub fn find(state: &mut State) {
    let field = FormField::new("find", "letters of the name, the id, or a group number", "");
    open(state, Form::new(FormKind::Find, "Which card?", vec![field]));
}

/// A late act on the card under the cursor.
pub fn late_act(state: &mut State) {
    let on_card = state.page() == Page::DeskCard;
    let Some(desk) = state.desk.as_ref() else { return };
    let id = if on_card { desk.card.as_ref().map(|c| c.0.clone()) } else { desk.id_here() };
    let name = id.as_deref().and_then(|id| Some(desk.board.as_ref()?.field.iter().find(|e| e.id == id)?.name.clone()));
    let (Some(id), Some(name)) = (id, name) else {
        state.notice = Some(Notice::warning("The cursor is on no player of the field"));
        return;
    };
    let fields = vec![
        FormField::choice("what", &ACTS),
        FormField::new("to", "the new value, where it has one: an index as 12.4 or +1.3, a tee, a time as 09:12", ""),
        FormField::new("why", "as it will stand in the record", ""),
        FormField::new("by", "who decides", &by(state)),
    ];
    open(state, Form::new(FormKind::Act(id), format!("Late act: {name}"), fields));
}

fn by(state: &State) -> String {
    state.desk.as_ref().map(|desk| desk.by.clone()).filter(|by| !by.is_empty()).unwrap_or("Committee".to_owned())
}

/// Rule, reason and name of the ruling that was chosen.
pub fn ruling(state: &mut State) {
    let Some(choice) = state.desk.as_ref().and_then(|desk| desk.ruling.as_ref()) else { return };
    let Some(outcome) = choice.outcomes.get(choice.cursor) else { return };
    let rule = if outcome.stands == Stands::NoScore { "21" } else { "3.3b(3)" };
    let fields = vec![
        FormField::new("rule", "the Rule it rests on", rule),
        FormField::new("why", "as it will stand in the record", ""),
        FormField::new("by", "who decides", &by(state)),
    ];
    let title = format!("Ruling on hole {} of {}: {}", choice.hole, choice.id, outcome.when);
    open(state, Form::new(FormKind::Ruling, title, fields));
}

/// A lot or play-off between those who are tied at the cursor.
pub fn draw(state: &mut State) {
    let Some(desk) = state.desk.as_ref() else { return };
    let order = desk.board.as_ref().and_then(|board| board.events.get(desk.order));
    let line = order.and_then(|order| order.lines.get(desk.cursor()));
    let (Part::Live, Some(order), Some(line)) = (desk.part, order, line) else {
        state.notice = Some(Notice::warning("Go to a line of the live part that is tied"));
        return;
    };
    let tied: Vec<&str> = order
        .lines
        .iter()
        .filter(|other| other.place.is_some() && other.result == line.result)
        .map(|other| other.id.as_str())
        .collect();
    if tied.len() < 2 {
        state.notice = Some(Notice::warning(format!("{} is tied with nobody", line.name)));
        return;
    }
    let fields = vec![
        FormField::choice("how", &["lot", "play-off"]),
        FormField::new("order", "ids from first to last", &tied.join(" ")),
        FormField::new("witness", "who saw it", ""),
        FormField::new("by", "who decides", &by(state)),
    ];
    let kind = FormKind::Draw(order.name.clone(), order.division.clone());
    let title = format!("Tie in {}", order.title());
    open(state, Form::new(kind, title, fields));
}

/// A list to take over.
pub fn import(state: &mut State) {
    let field = FormField::new("file", "a CSV list with name, handicap_index, ratings, tee …; whole or not at all", "");
    open(state, Form::new(FormKind::Import, "Read a list as the field", vec![field]));
}

/// A new entry.
pub fn entrant(state: &mut State) {
    let fields = vec![
        FormField::new("name", "", ""),
        FormField::new("id", "made from the name when it stays empty", ""),
        FormField::choice("ratings", &["men", "women"]),
        FormField::new("handicap_index", "12.4, better than scratch +1.3", ""),
        FormField::new("tee", "only where it is not the usual one", ""),
        FormField::new("category", "", ""),
        FormField::new("group", "", ""),
        FormField::new("start_time", "09:12", ""),
        FormField::new("start_hole", "", ""),
    ];
    open(state, Form::new(FormKind::Enter, "A late entry", fields));
}

/// A value of the set-up.
pub fn value(state: &mut State) {
    let Some(desk) = state.desk.as_ref() else { return };
    let Some(row) = desk.setup.get(desk.cursor()).cloned() else { return };
    let title = if row.of.is_empty() { row.key.clone() } else { format!("{}: {}", row.of, row.key) };
    let field = FormField::new("value", row.hint, &row.value);
    open(state, Form::new(FormKind::Value(Box::new(row)), title, vec![field]));
}

/// A new event.
pub fn event(state: &mut State) {
    let field = FormField::new("event", "name and format, as: best gross, stroke; or { name: …, play: … }", "");
    open(state, Form::new(FormKind::Event, "A new event", vec![field]));
}

/// A new competition.
pub fn new_competition(state: &mut State) {
    if state.desk.is_none() {
        state.desk = Some(Box::default());
    }
    let field = FormField::new("name", "Spring Medal; its folder is made on the shelf", "");
    open(state, Form::new(FormKind::New, "A new competition", vec![field]));
}

/// Keys of the open form. Returns whether the key was used.
pub fn key(state: &mut State, key: Key, effects: &mut Vec<Effect>) -> bool {
    let on_desk = matches!(state.page(), Page::Desk | Page::Keying | Page::DeskCard | Page::Ruling | Page::DeskText);
    let Some(desk) = state.desk.as_mut().filter(|_| on_desk) else { return false };
    let Some(form) = desk.form.as_mut() else { return false };
    let last = form.fields.len().saturating_sub(1);
    let Some(field) = form.fields.get_mut(form.at) else { return false };
    let request = match key {
        Key::Esc => {
            desk.form = None;
            return true;
        }
        Key::Ctrl('c') => {
            leave(state, effects);
            return true;
        }
        Key::Enter if form.at < last => {
            form.at += 1;
            return true;
        }
        Key::Enter => {
            submit(state, effects);
            return true;
        }
        Key::Tab | Key::Down => {
            form.at = (form.at + 1).min(last);
            return true;
        }
        Key::BackTab | Key::Up => {
            form.at = form.at.saturating_sub(1);
            return true;
        }
        Key::Left | Key::Right | Key::Char(' ') if !field.choices.is_empty() => {
            let count = field.choices.len();
            let now = field.choices.iter().position(|c| *c == field.input.value()).unwrap_or(0);
            let by = if key == Key::Left { count - 1 } else { 1 };
            let next = field.choices.get((now + by) % count).copied().unwrap_or_default();
            field.input = tui_input::Input::new(next.to_owned());
            return true;
        }
        Key::Char(c) if !field.choices.is_empty() => {
            // The first letter of a choice chooses it.
            let now = field.choices.iter().position(|own| *own == field.input.value()).unwrap_or(0);
            let count = field.choices.len();
            let found = (1..=count)
                .filter_map(|by| field.choices.get((now + by) % count))
                .find(|choice| choice.starts_with(c.to_ascii_lowercase()));
            if let Some(choice) = found {
                field.input = tui_input::Input::new((*choice).to_owned());
            }
            return true;
        }
        Key::Char(c) if field.input.value().chars().count() < LONGEST => InputRequest::InsertChar(c),
        Key::Backspace => InputRequest::DeletePrevChar,
        Key::Delete => InputRequest::DeleteNextChar,
        Key::Left => InputRequest::GoToPrevChar,
        Key::Right => InputRequest::GoToNextChar,
        Key::Home => InputRequest::GoToStart,
        Key::End => InputRequest::GoToEnd,
        Key::Ctrl('u') => InputRequest::DeleteLine,
        _ => return true,
    };
    if field.choices.is_empty() {
        field.input.handle(request);
    }
    form.refused.clear();
    true
}

/// Pasted text goes into the field. Returns whether it was used.
pub fn pasted(state: &mut State, text: &str) -> bool {
    let Some(form) = state.desk.as_mut().and_then(|desk| desk.form.as_mut()) else { return false };
    let Some(field) = form.fields.get_mut(form.at).filter(|field| field.choices.is_empty()) else { return false };
    let room = LONGEST.saturating_sub(field.input.value().chars().count());
    for c in text.chars().filter(|c| !c.is_control()).take(room) {
        field.input.handle(InputRequest::InsertChar(c));
    }
    true
}

/// The cards that fit what is typed, best first.
pub fn found<'d>(rows: &'d [CardRow], typed: &str) -> Vec<&'d CardRow> {
    let wanted = typed.trim().to_lowercase();
    if wanted.is_empty() {
        return Vec::new();
    }
    let rank = |row: &CardRow| {
        let (name, id) = (row.name.to_lowercase(), row.id.to_lowercase());
        if id == wanted || row.group == wanted {
            Some(0)
        } else if name.split([' ', '-']).any(|word| word.starts_with(&wanted)) || name.starts_with(&wanted) {
            Some(1)
        } else if id.starts_with(&wanted)
            || id.trim_start_matches(|c: char| !c.is_ascii_digit()).trim_start_matches('0') == wanted
        {
            Some(2)
        } else {
            (name.contains(&wanted) || id.contains(&wanted)).then_some(3)
        }
    };
    let mut found: Vec<(u8, usize, &CardRow)> =
        rows.iter().enumerate().filter_map(|(at, row)| rank(row).map(|rank| (rank, at, row))).collect();
    found.sort_by_key(|(rank, at, _)| (*rank, *at));
    found.into_iter().map(|(_, _, row)| row).collect()
}

/// A late act; the edge puts the time in.
pub fn change(id: Option<String>, what: What, why: &str, by: &str) -> Change {
    Change {
        file: String::new(),
        id,
        at: String::new(),
        by: Some(by.to_owned()),
        what,
        from: None,
        why: Some(why.to_owned()),
        event: None,
        division: None,
        witness: None,
    }
}

/// What was typed is made use of; a mistake stays in the form with its reason.
fn submit(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(desk) = state.desk.as_mut() else { return };
    let Some(form) = desk.form.clone() else { return };
    match ask(desk, &form) {
        Err(reason) => {
            if let Some(form) = desk.form.as_mut() {
                form.refused = vec![reason];
            }
        }
        Ok(Made::Ask(ask)) => effects.push(Effect::Desk(ask)),
        Ok(Made::Keyer(name)) => {
            desk.keyer = name;
            desk.form = None;
            if let FormKind::KeyerThen(id, round, digit) = form.kind {
                begin(state, &id, round, digit, effects);
            }
        }
        Ok(Made::Card(id, round)) => {
            desk.form = None;
            if let Some(at) = desk.rows().iter().position(|row| row.id == id && row.round == round) {
                if let Some(cursor) = desk.cursors.first_mut() {
                    *cursor = at;
                }
                desk.part = Part::Cards;
                let waits = desk.rows().get(at).is_some_and(|row| desk.keyer.is_empty() || desk.waits_for_me(row));
                if waits {
                    begin(state, &id, round, None, effects);
                } else {
                    super::desk::close_pad(state);
                }
            }
        }
    }
}

enum Made {
    Ask(DeskAsk),
    Keyer(String),
    Card(String, usize),
}

fn ask(desk: &mut crate::tui::state::Desk, form: &Form) -> Result<Made, String> {
    let first = form.value(0);
    let needed = |text: String, what: &str| if text.is_empty() { Err(format!("{what} is missing")) } else { Ok(text) };
    Ok(Made::Ask(match &form.kind {
        FormKind::Keyer | FormKind::KeyerThen(..) => return Ok(Made::Keyer(needed(first, "the name")?)),
        FormKind::Find => {
            let row = found(desk.rows(), &first).first().map(|row| (row.id.clone(), row.round));
            let (id, round) = row.ok_or_else(|| format!("no card fits `{first}`"))?;
            return Ok(Made::Card(id, round));
        }
        FormKind::Ruling => {
            let choice = desk.ruling.clone().ok_or("no ruling is open")?;
            let outcome = choice.outcomes.get(choice.cursor).ok_or("no outcome is chosen")?;
            let card = desk.board.as_ref().and_then(|board| board.card(&choice.id, choice.round)).ok_or("no card")?;
            let place = card.sheet.holes.iter().position(|hole| *hole == choice.hole);
            let returned = place.and_then(|at| card.card.as_ref()?.returned.get(at).copied());
            desk.by = needed(form.value(2), "who decides")?;
            DeskAsk::Rule(Box::new(Ruling {
                file: String::new(),
                id: choice.id.clone(),
                round: choice.round,
                hole: choice.hole,
                returned: returned.unwrap_or(HoleScore::Empty),
                stands: outcome.stands,
                rule: Some(needed(first, "the rule")?),
                why: Some(needed(form.value(1), "the reason")?),
                by: Some(form.value(2)),
                at: None,
            }))
        }
        FormKind::Act(id) => {
            let what = act(&first, &form.value(1))?;
            let why = needed(form.value(2), "the reason")?;
            desk.by = needed(form.value(3), "who decides")?;
            let mut change = change(Some(id.clone()), what, &why, &desk.by);
            change.from = desk.board.as_ref().and_then(|board| {
                let row = board.field.iter().find(|row| row.id == *id)?;
                let entrant = board.competition.field.iter().find(|e| e.id == *id)?;
                match &change.what {
                    What::Index(_) => Some(row.index.clone()).filter(|i| !i.is_empty()),
                    What::Tee(_) => entrant.tee.clone().filter(|tee| *tee == row.tee),
                    _ => None,
                }
            });
            if let (What::Tee(tee), Some(board)) = (&change.what, &desk.board)
                && board.competition.course.tee(tee).is_none()
            {
                let names: Vec<&str> = board.competition.course.tees.iter().map(|t| t.name.as_str()).collect();
                return Err(format!(
                    "`{tee}` is no tee of {}; it has {}",
                    board.competition.course.name,
                    names.join(", ")
                ));
            }
            DeskAsk::Change(Box::new(change))
        }
        FormKind::Draw(event, division) => {
            let ids: Vec<String> =
                form.value(1).split([' ', ',']).filter(|id| !id.is_empty()).map(str::to_owned).collect();
            let known = |id: &String| desk.rows().iter().any(|row| row.id == *id);
            if let Some(stranger) = ids.iter().find(|id| !known(id)) {
                return Err(format!("the field has no {stranger}"));
            }
            let lot = first == "lot";
            let what = if lot { What::Lot(ids) } else { What::PlayOff(ids) };
            let witness = form.value(2);
            if lot && witness.is_empty() {
                return Err("a lot needs its witness".to_owned());
            }
            desk.by = needed(form.value(3), "who decides")?;
            let mut change = change(None, what, "", &desk.by);
            (change.why, change.event, change.division) = (None, Some(event.clone()), division.clone());
            change.witness = Some(witness).filter(|w| !w.is_empty());
            DeskAsk::Change(Box::new(change))
        }
        FormKind::Import => DeskAsk::Import(PathBuf::from(needed(first, "the file")?)),
        FormKind::Enter => {
            needed(first, "the name")?;
            let entry = form.fields.iter().enumerate().map(|(at, field)| (field.label.to_owned(), form.value(at)));
            DeskAsk::Enter(entry.collect())
        }
        FormKind::Value(row) => DeskAsk::SetUp(Some(row.clone()), first),
        FormKind::Event => DeskAsk::SetUp(None, needed(first, "the event")?),
        FormKind::Reason => DeskAsk::Close(Some(needed(first, "the reason")?)),
        FormKind::New => DeskAsk::New(needed(first, "the name")?),
    }))
}

fn act(what: &str, to: &str) -> Result<What, String> {
    let text = || if to.is_empty() { Err("the new value is missing".to_owned()) } else { Ok(to.to_owned()) };
    Ok(match what {
        "withdrawn" => What::Status(Some(Status::Withdrawn)),
        "no return" => What::Status(Some(Status::NoReturn)),
        "no show" => What::Status(Some(Status::NoShow)),
        "disqualified" => What::Status(Some(Status::Disqualified)),
        "plays after all" => What::Status(None),
        "index" => What::Index(HandicapIndex::parse(to).map_err(|e| e.to_string())?),
        "playing handicap" => What::PlayingHandicap(parse_whole_handicap(to).map_err(|e| e.to_string())?),
        "tee" => What::Tee(text()?),
        "category" => What::Category(text()?),
        "group" => What::Group(text()?),
        "start time" => {
            What::StartTime(crate::competition::read::start_time(to).ok_or("write hours and minutes, as 09:12")?)
        }
        "start hole" => {
            What::StartHole(to.parse().ok().filter(|hole| (1..=36).contains(hole)).ok_or("write a hole number, as 10")?)
        }
        _ => What::Name(text()?),
    })
}
