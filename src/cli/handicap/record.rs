//! `index`: from differentials on the command line, or from a scoring record in a file.

use super::figures::write_working;
use super::problems::report;
use super::values::{Checker, gross_problem, number, rating_problem};
use super::{Asked, DATA, FINE, Surroundings};
use crate::handicap::{
    Edge, Holes, IndexWorking, NextRound, Pcc, Returned, Revision, Score, WorkedRecord, index_from_differentials,
    index_from_record, next_round,
};
use crate::notebook::report::clean as shown;
use crate::notebook::table::{Cell, Row, Table, read_table};
use crate::notebook::{Diagnostic, Span};
use crate::units::tenths::{HandicapIndex, SlopeRating, Tenths};
use chrono::NaiveDate;
use serde_json::{Map, Value, json};
use std::fmt::Display;
use std::io::{self, Write};

/// Codes of the problems a record can have.
pub const RECORD_CODES: &[&str] = &[
    "record-column-missing",
    "record-column-unknown",
    "record-date",
    "record-future",
    "record-gross",
    "record-holes",
    "record-needs-official",
    "record-pcc",
    "record-rating",
    "record-slope",
    "record-differential",
    "record-value-missing",
];

/// Differentials, or a record.
#[derive(Clone, Debug, clap::Args)]
pub struct IndexArgs {
    /// A scoring record: CSV with the columns date, adjusted_gross, rating, slope, and where needed pcc, holes,
    /// differential (the official one).
    #[arg(value_name = "RECORD.csv", conflicts_with_all = ["differentials", "low"])]
    pub record: Option<String>,
    /// Score Differentials, oldest first, like 15.3,15.2,16.6.
    #[arg(long, allow_hyphen_values = true)]
    pub differentials: Option<String>,
    /// Low Handicap Index: applies the caps.
    #[arg(long, value_name = "INDEX", allow_hyphen_values = true)]
    pub low: Option<String>,
}

pub(super) fn index(
    args: &IndexArgs,
    asked: &Asked,
    around: &Surroundings<'_>,
    mut checker: Checker,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> io::Result<i32> {
    match (&args.record, &args.differentials) {
        (Some(record), None) if checker.is_fine() => from_record(record, asked, around, out, err),
        (None, Some(list)) => from_list(list, args.low.as_deref(), asked, checker, out, err),
        (None, None) => {
            checker.note("a record (a CSV file) or --differentials is needed, like --differentials 15.3,15.2,16.6");
            checker.refuse(err)
        }
        (Some(_), None) => checker.refuse(err),
        (Some(_), Some(_)) => {
            checker.note("a record and --differentials exclude each other");
            checker.refuse(err)
        }
    }
}

fn from_list(
    list: &str,
    low: Option<&str>,
    asked: &Asked,
    mut checker: Checker,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> io::Result<i32> {
    let low = low.and_then(|low| checker.take("--low", HandicapIndex::parse(low)));
    let mut differentials = Vec::new();
    for part in list.split(',').filter(|_| !list.trim().is_empty()) {
        let read = Tenths::parse(part.strip_prefix('+').unwrap_or(part));
        if let Some(value) = checker.take("--differentials", read) {
            differentials.push(value);
        }
    }
    if !checker.is_fine() {
        return checker.refuse(err);
    }
    let working = index_from_differentials(&differentials, low, &asked.rules);
    if asked.json {
        writeln!(out, "{}", Value::Object(working_object(&working)))?;
    } else {
        write_index(&working, out)?;
        write_working(working.lines().iter(), out)?;
    }
    Ok(FINE)
}

fn write_index(working: &IndexWorking, out: &mut dyn Write) -> io::Result<()> {
    match working.index {
        Some(index) => writeln!(out, "Handicap Index {index} (not official: an index is issued by an association)"),
        None => writeln!(out, "no Handicap Index"),
    }
}

// `used`, `adjustment`, `cap`, `maximum` as the fixed form has them.
fn working_object(working: &IndexWorking) -> Map<String, Value> {
    let mut object = Map::new();
    let mut put = |key: &str, value: Value| object.insert(key.to_owned(), value);
    put("schema", json!("marram/handicap-index/1"));
    put("index", index_value(working.index));
    put("index_text", index_text(working.index));
    put("used", json!(working.counted.len()));
    put("adjustment", number(working.adjustment));
    put("cap", json!(working.cap.name()));
    put("maximum", json!(working.maximum));
    put("official", json!(false));
    object
}

fn index_value(index: Option<HandicapIndex>) -> Value {
    index.map_or(Value::Null, |index| number(index.value()))
}

fn index_text(index: Option<HandicapIndex>) -> Value {
    index.map_or(Value::Null, |index| json!(index.to_string()))
}

fn from_record(
    file: &str,
    asked: &Asked,
    around: &Surroundings<'_>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> io::Result<i32> {
    let source = match (around.read)(file) {
        Ok(source) => source,
        Err(problem) => {
            writeln!(err, "error: {}", shown(&problem))?;
            return Ok(DATA);
        }
    };
    let (table, mut problems) = read_table(&source.text);
    let scores = RecordReader::new(&table, around.today, &mut problems).scores();
    if report(&source.name, &source.text, &problems, err)? {
        return Ok(DATA);
    }
    let worked = index_from_record(&scores, &asked.rules);
    if worked.sorted {
        writeln!(err, "note: {}: the record was out of order; it was sorted by date", shown(&source.name))?;
    }
    let next = next_round(&worked.record, around.today);
    if asked.json {
        write_json(&worked, next, out)?
    } else {
        write_plain(&worked, next, out)?
    }
    Ok(FINE)
}

fn write_json(worked: &WorkedRecord, next: Option<NextRound>, out: &mut dyn Write) -> io::Result<()> {
    let nothing = index_from_differentials(&[], None, worked.record.rules());
    let last = worked.revisions.last().map_or(&nothing, |revision| &revision.working);
    let mut object = working_object(last);
    let low = worked.record.low_index();
    object.insert("low_index".to_owned(), index_value(low));
    object.insert("low_index_text".to_owned(), index_text(low));
    object.insert("next".to_owned(), next.map_or(Value::Null, next_object));
    let scores: Vec<Value> = worked.revisions.iter().map(score_object).collect();
    object.insert("scores".to_owned(), Value::Array(scores));
    writeln!(out, "{}", Value::Object(object))
}

fn next_object(next: NextRound) -> Value {
    let edge = |edge| match edge {
        Edge::Never => json!("never"),
        Edge::Always => json!("always"),
        Edge::At(value) => number(value),
    };
    json!({
        "lowers_up_to": edge(next.lowers),
        "raises_from": edge(next.raises),
        "index_at_worst": index_value(next.at_worst),
    })
}

fn score_object(revision: &Revision) -> Value {
    json!({
        "date": revision.date.to_string(),
        "differential": revision.differential.map_or(Value::Null, number),
        "estimated": revision.estimated,
        "exceptional": revision.exceptional,
        "low_index": index_value(revision.low_index),
        "low_index_text": index_text(revision.low_index),
        "index": index_value(revision.index()),
        "index_text": index_text(revision.index()),
    })
}

fn write_plain(worked: &WorkedRecord, next: Option<NextRound>, out: &mut dyn Write) -> io::Result<()> {
    let text = |index: Option<HandicapIndex>| index.map_or_else(|| "-".to_owned(), |index| index.to_string());
    writeln!(out, "{:<10}  {:>12}  {:>11}  {:>5}  {:>5}", "date", "differential", "exceptional", "low", "index")?;
    for revision in &worked.revisions {
        let differential = revision.differential.map_or_else(|| "-".to_owned(), |value| value.to_string());
        let mark = if revision.estimated { "*" } else { " " };
        let exceptional = if revision.exceptional == 0 { String::new() } else { format!("{}.0", revision.exceptional) };
        writeln!(
            out,
            "{}  {differential:>11}{mark}  {exceptional:>11}  {:>5}  {:>5}",
            revision.date,
            text(revision.low_index),
            text(revision.index())
        )?;
    }
    if worked.revisions.iter().any(|revision| revision.estimated) {
        writeln!(out, "* an estimate: give the official figure in the column `differential`")?;
    }
    writeln!(out)?;
    let Some(last) = worked.revisions.last() else {
        return writeln!(out, "no Handicap Index: no scores");
    };
    write_index(&last.working, out)?;
    write_working(last.lines().iter(), out)?;
    if let Some(next) = next {
        let lowers = match next.lowers {
            Edge::Never => "no next differential lowers it".to_owned(),
            Edge::Always => "any next differential lowers it".to_owned(),
            Edge::At(value) => format!("a next differential up to {value} lowers it"),
        };
        let raises = match next.raises {
            Edge::Never => "none raises it".to_owned(),
            Edge::Always => "any raises it".to_owned(),
            Edge::At(value) => format!("one from {value} raises it"),
        };
        writeln!(out, "  {lowers}, {raises}; at worst it becomes {}", text(next.at_worst))?;
    }
    Ok(())
}

/// Columns a record may have, by all their names.
const COLUMNS: [&[&str]; 7] = [
    &["date"],
    &["adjusted_gross"],
    &["rating", "course_rating"],
    &["slope", "slope_rating"],
    &["pcc"],
    &["holes"],
    &["differential"],
];

struct RecordReader<'a, 't> {
    table: &'a Table<'t>,
    today: NaiveDate,
    problems: &'a mut Vec<Diagnostic>,
    columns: [Option<usize>; 7],
}

impl<'a, 't> RecordReader<'a, 't> {
    fn new(table: &'a Table<'t>, today: NaiveDate, problems: &'a mut Vec<Diagnostic>) -> Self {
        let columns = COLUMNS.map(|names| table.column(names));
        let mut reader = RecordReader { table, today, problems, columns };
        reader.check_columns();
        reader
    }

    fn check_columns(&mut self) {
        let [date, gross, rating, slope, _, _, official] = self.columns;
        let header = self.table.columns.first().map_or(Span::at(0), |column| column.span);
        if self.table.columns.is_empty() {
            return;
        }
        let full = [gross, rating, slope].iter().all(Option::is_some);
        for (place, name) in [(date, "date"), (gross, "adjusted_gross"), (rating, "rating"), (slope, "slope")] {
            // A record of official differentials alone needs nothing but their dates.
            if place.is_none() && (name == "date" || !(full || official.is_some())) {
                let problem = Diagnostic::error("record-column-missing", header, format!("no column `{name}`"));
                let advice = "a record has the columns date, adjusted_gross, rating, slope, and where needed pcc, holes, \
                              differential";
                self.problems.push(problem.advise(advice));
            }
        }
        for column in &self.table.columns {
            let known = COLUMNS.iter().any(|names| names.contains(&column.name.as_str()));
            if !known && !column.name.is_empty() {
                let message = format!("the column `{}` is not used", column.name);
                self.problems.push(Diagnostic::warning("record-column-unknown", column.span, message));
            }
        }
    }

    fn scores(mut self) -> Vec<Score> {
        let table = self.table;
        if self.columns.iter().take(1).any(Option::is_none) {
            return Vec::new();
        }
        table.rows.iter().filter_map(|row| self.score(row)).collect()
    }

    // A value of one cell, its problem noted; `None` where nothing stands or it is wrong.
    fn value<T, E: Display>(
        &mut self,
        row: &Row<'t>,
        column: usize,
        code: &'static str,
        parse: impl Fn(&str) -> Result<T, E>,
    ) -> Option<T> {
        let cell = row.get(self.columns.get(column).copied().flatten())?;
        let name = COLUMNS.get(column).and_then(|names| names.first()).copied().unwrap_or_default();
        let text = if self.table.decimal_comma { cell.text.replace(',', ".") } else { cell.text.to_string() };
        match parse(&text) {
            Ok(value) => Some(value),
            Err(problem) => {
                self.problems.push(Diagnostic::error(code, cell.span, format!("{name} {problem}")));
                None
            }
        }
    }

    fn score(&mut self, row: &Row<'t>) -> Option<Score> {
        let before = self.problems.len();
        let today = self.today;
        let future = |date: &NaiveDate| *date > today;
        let date = self.value(row, 0, "record-date", date_of);
        let cell = row.get(self.columns.first().copied().flatten()).cloned().unwrap_or_default();
        match &date {
            Some(date) if future(date) => {
                let message = format!("date `{date}` is in the future; today is {today}");
                self.problems.push(Diagnostic::error("record-future", cell.span, message));
            }
            None if cell.text.is_empty() => self.missing(row, "date"),
            _ => {}
        }
        let holes = self.value(row, 5, "record-holes", holes_of);
        let official = self.value(row, 6, "record-differential", Tenths::parse);
        let gross = self.value(row, 1, "record-gross", |text| {
            text.parse::<i32>().map_err(|_| format!("`{text}`: a whole number of strokes is needed"))
        });
        let rating = self.value(row, 2, "record-rating", Tenths::parse);
        let slope = self.value(row, 3, "record-slope", SlopeRating::parse);
        let pcc = self.value(row, 4, "record-pcc", Pcc::parse).unwrap_or_default();
        if self.problems.len() > before {
            return None;
        }
        let holes = holes.unwrap_or(18);
        let returned = match (Holes::of(holes), gross, rating, slope) {
            (Some(holes), Some(adjusted_gross), Some(rating), Some(slope)) => {
                if let Some(problem) = rating_problem(rating, holes) {
                    let text = self.text(row, 2);
                    self.fault(row, 2, "record-rating", &format!("rating `{text}`: {problem}"));
                }
                if let Some(problem) = gross_problem(adjusted_gross, holes) {
                    self.fault(row, 1, "record-gross", &format!("adjusted_gross `{adjusted_gross}`: {problem}"));
                }
                Returned::Full { holes, adjusted_gross, rating, slope, pcc }
            }
            (None, ..) if official.is_none() => {
                let message = format!("holes `{holes}`: only the association knows the differential of {holes} holes");
                self.fault(row, 5, "record-needs-official", &message);
                return None;
            }
            _ if official.is_some() => Returned::OfficialOnly,
            (Some(_), gross, rating, slope) => {
                for (missing, name) in
                    [(gross.is_none(), "adjusted_gross"), (rating.is_none(), "rating"), (slope.is_none(), "slope")]
                {
                    if missing {
                        self.missing(row, name);
                    }
                }
                return None;
            }
            (None, ..) => return None,
        };
        (self.problems.len() == before).then_some(Score { date: date?, returned, official })
    }

    fn text(&self, row: &Row<'t>, column: usize) -> String {
        row.get(self.columns.get(column).copied().flatten()).map(|cell| cell.text.to_string()).unwrap_or_default()
    }

    fn missing(&mut self, row: &Row<'t>, name: &str) {
        let message = format!("no `{name}` in this row");
        self.problems.push(Diagnostic::error("record-value-missing", row.span, message));
    }

    fn fault(&mut self, row: &Row<'t>, column: usize, code: &'static str, message: &str) {
        let cell: Option<&Cell<'t>> = row.get(self.columns.get(column).copied().flatten());
        let span = cell.map_or(row.span, |cell| cell.span);
        let advice = match code {
            "record-needs-official" => "give the official one in the column `differential`",
            _ => "",
        };
        self.problems.push(Diagnostic::error(code, span, message).advise(advice));
    }
}

fn date_of(text: &str) -> Result<NaiveDate, String> {
    // Chrono reads `2026-5-1` too; a date is written with two digits for month and day.
    Some(text)
        .filter(|text| text.len() == 10)
        .and_then(|text| NaiveDate::parse_from_str(text, "%Y-%m-%d").ok())
        .ok_or_else(|| format!("`{text}`: a date is written year-month-day, like 2026-05-16"))
}

fn holes_of(text: &str) -> Result<usize, String> {
    text.parse::<usize>()
        .ok()
        .filter(|holes| (9..=18).contains(holes))
        .ok_or_else(|| format!("`{text}`: a score is of 9 to 18 holes"))
}
