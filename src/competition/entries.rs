//! The entries of a field, read from a table: every problem by line and column, all or nothing.

use crate::course::Card;
use crate::notebook::table::{Cell, Row, Table};
use crate::notebook::{Diagnostic, Span};
use crate::units::tenths::{HandicapIndex, Tenths, parse_whole_handicap};
use std::collections::{HashMap, HashSet};
use std::fmt::Display;

/// Codes of the problems a field can have.
pub const FIELD_CODES: &[&str] = &[
    "field-capped",
    "field-card",
    "field-column-missing",
    "field-column-unknown",
    "field-handicap",
    "field-id-twice",
    "field-index",
    "field-name",
    "field-name-twice",
    "field-no-handicap",
    "field-team",
    "field-team-size",
    "field-tee",
];

/// One entry.
#[derive(Clone, Debug)]
pub struct Entry<'t> {
    /// Membership number or the like, as text.
    pub id: Option<Cell<'t>>,
    /// The name.
    pub name: String,
    /// Handicap Index.
    pub index: Option<HandicapIndex>,
    /// A Course Handicap that was given.
    pub course_handicap: Option<i32>,
    /// A Playing Handicap that was given; it holds for every event.
    pub playing_handicap: Option<i32>,
    /// The tee, as written.
    pub tee: Option<Cell<'t>>,
    /// Whose ratings apply.
    pub card: Card,
    /// The side, as written.
    pub team: Option<Cell<'t>>,
    /// The whole row.
    pub span: Span,
    /// Which row of the table it is, from 0.
    pub row: usize,
}

/// Columns that are read or belong to other uses of the same file.
const KNOWN: [&str; 22] = [
    "name",
    "first_name",
    "last_name",
    "id",
    "gender",
    "ratings",
    "handicap_index",
    "index",
    "course_handicap",
    "playing_handicap",
    "tee",
    "category",
    "division",
    "team",
    "partner",
    "group",
    "start_time",
    "start_hole",
    "status",
    "paid",
    "email",
    "phone",
];

struct Columns {
    name: Option<usize>,
    first: Option<usize>,
    last: Option<usize>,
    id: Option<usize>,
    card: Option<usize>,
    index: Option<usize>,
    course: Option<usize>,
    playing: Option<usize>,
    tee: Option<usize>,
    team: Option<usize>,
}

/// What an entry must have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wants {
    /// A handicap of some kind; without it only gross scores can be counted.
    pub handicap: bool,
    /// A column `team`, which says who plays with whom.
    pub team: bool,
}

/// Reads the entries of a table; a list with an error is not to be used in part.
pub fn read_entries<'t>(table: &Table<'t>, wants: Wants, problems: &mut Vec<Diagnostic>) -> Vec<Entry<'t>> {
    if table.columns.is_empty() {
        return Vec::new();
    }
    let columns = Columns {
        name: table.column(&["name"]),
        first: table.column(&["first_name"]),
        last: table.column(&["last_name"]),
        id: table.column(&["id"]),
        card: table.column(&["ratings", "gender"]),
        index: table.column(&["handicap_index", "index"]),
        course: table.column(&["course_handicap"]),
        playing: table.column(&["playing_handicap"]),
        tee: table.column(&["tee"]),
        team: table.column(&["team"]),
    };
    check_columns(table, &columns, wants, problems);
    if problems.iter().any(|problem| problem.code == "field-column-missing") {
        return Vec::new();
    }
    let mut reader = EntryReader { table, columns, wants, problems };
    let entries: Vec<Entry<'t>> = table.rows.iter().enumerate().filter_map(|(at, row)| reader.entry(at, row)).collect();
    check_twice(&entries, problems);
    check_capped(&entries, table, problems);
    entries
}

fn check_columns(table: &Table<'_>, columns: &Columns, wants: Wants, problems: &mut Vec<Diagnostic>) {
    let header = table.columns.first().map_or(Span::at(0), |column| column.span);
    let mut missing = |name: &str, advice: &str| {
        let problem = Diagnostic::error("field-column-missing", header, format!("no column `{name}`"));
        problems.push(problem.advise(advice.to_owned()));
    };
    if columns.name.is_none() && (columns.first.is_none() || columns.last.is_none()) {
        missing("name", "give `name`, or `first_name` and `last_name`");
    }
    if wants.handicap && columns.index.is_none() && columns.course.is_none() && columns.playing.is_none() {
        missing("handicap_index", "give `handicap_index`, or `course_handicap` or `playing_handicap`");
    }
    if wants.team && columns.team.is_none() {
        missing("team", "partners with one ball share one handicap; `team` says who they are");
    }
    for column in &table.columns {
        let hole = column.name.strip_prefix('h').and_then(|hole| hole.parse::<u8>().ok());
        if !column.name.is_empty() && hole.is_none() && !KNOWN.contains(&column.name.as_str()) {
            let message = format!("the column `{}` is not used", column.name);
            problems.push(Diagnostic::warning("field-column-unknown", column.span, message));
        }
    }
}

struct EntryReader<'a, 't> {
    table: &'a Table<'t>,
    columns: Columns,
    wants: Wants,
    problems: &'a mut Vec<Diagnostic>,
}

impl<'t> EntryReader<'_, 't> {
    fn value<T, E: Display>(
        &mut self,
        row: &Row<'t>,
        column: Option<usize>,
        code: &'static str,
        name: &str,
        parse: impl Fn(&str) -> Result<T, E>,
    ) -> Option<T> {
        let cell = row.get(column)?;
        let text = if self.table.decimal_comma { cell.text.replace(',', ".") } else { cell.text.to_string() };
        match parse(&text) {
            Ok(value) => Some(value),
            Err(problem) => {
                self.problems.push(Diagnostic::error(code, cell.span, format!("{name} {problem}")));
                None
            }
        }
    }

    fn entry(&mut self, at: usize, row: &Row<'t>) -> Option<Entry<'t>> {
        let before = self.problems.len();
        let name = self.name(row);
        if name.is_empty() {
            self.problems.push(Diagnostic::error("field-name", row.span, "no name in this row"));
        }
        let index = self.value(row, self.columns.index, "field-index", "handicap_index", HandicapIndex::parse);
        let course_handicap =
            self.value(row, self.columns.course, "field-handicap", "course_handicap", parse_whole_handicap);
        let playing_handicap =
            self.value(row, self.columns.playing, "field-handicap", "playing_handicap", parse_whole_handicap);
        let card = self.value(row, self.columns.card, "field-card", "ratings", card_of).unwrap_or_default();
        if self.problems.len() > before {
            return None;
        }
        if self.wants.handicap && index.is_none() && course_handicap.is_none() && playing_handicap.is_none() {
            let problem = Diagnostic::error("field-no-handicap", row.span, format!("{name} has no handicap"))
                .advise("give handicap_index (like 12.4 or +1.3), course_handicap or playing_handicap");
            self.problems.push(problem);
            return None;
        }
        Some(Entry {
            id: row.get(self.columns.id).cloned(),
            name,
            index,
            course_handicap,
            playing_handicap,
            tee: row.get(self.columns.tee).cloned(),
            card,
            team: row.get(self.columns.team).cloned(),
            span: row.span,
            row: at,
        })
    }

    fn name(&self, row: &Row<'t>) -> String {
        if let Some(name) = row.get(self.columns.name) {
            return name.text.to_string();
        }
        let parts = [self.columns.first, self.columns.last];
        let parts: Vec<&str> = parts.iter().filter_map(|column| Some(row.get(*column)?.text.as_ref())).collect();
        parts.join(" ")
    }
}

fn card_of(text: &str) -> Result<Card, String> {
    match text.to_lowercase().as_str() {
        "men" | "man" | "m" | "male" | "x" => Ok(Card::Men),
        "women" | "woman" | "w" | "f" | "female" => Ok(Card::Women),
        _ => Err(format!("`{text}`: the ratings are men or women (gender: M, F or X)")),
    }
}

// An id stands once; a name may stand twice only where ids tell the entries apart.
fn check_twice(entries: &[Entry<'_>], problems: &mut Vec<Diagnostic>) {
    let mut ids: HashSet<&str> = HashSet::new();
    // How often each name stands, and whether every time with an id.
    let mut names: HashMap<String, (usize, bool)> = HashMap::new();
    for entry in entries {
        if let Some(id) = &entry.id
            && !ids.insert(id.text.as_ref())
        {
            let message = format!("the id `{}` stands twice", id.text);
            problems.push(Diagnostic::error("field-id-twice", id.span, message));
        }
        let (times, told_apart) = names.entry(entry.name.to_lowercase()).or_insert((0, true));
        *times += 1;
        *told_apart = *told_apart && entry.id.is_some();
    }
    for entry in entries {
        if names.get(&entry.name.to_lowercase()).is_some_and(|(times, told_apart)| *times > 1 && !told_apart) {
            let message = format!("`{}` stands more than once", entry.name);
            let problem = Diagnostic::error("field-name-twice", entry.span, message);
            problems.push(problem.advise("give each an `id`, or take one out"));
        }
    }
}

// Many entries at exactly the highest index look as if a limit had been put on them.
fn check_capped(entries: &[Entry<'_>], table: &Table<'_>, problems: &mut Vec<Diagnostic>) {
    let Some(highest) = entries.iter().filter_map(|entry| entry.index).max() else {
        return;
    };
    let there = entries.iter().filter(|entry| entry.index == Some(highest)).count();
    if there >= 5 && there * 20 >= entries.len() && highest.value() >= Tenths::whole(18) {
        let span = table.column(&["handicap_index", "index"]).and_then(|at| table.columns.get(at)).map(|c| c.span);
        let message = format!("{there} entries have exactly {highest}, the highest here: was a limit put on the list?");
        problems.push(Diagnostic::warning("field-capped", span.unwrap_or_default(), message));
    }
}
