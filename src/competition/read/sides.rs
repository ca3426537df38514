//! `sides.csv`: the id of a side and the ids of its players in order.

use super::super::codes::{NOT_AN_ID, SIDE_COLUMNS, SIDE_PLAYER, SIDE_SIZE, SIDE_TWICE};
use super::super::values::{Entrant, SideEntry};
use super::is_id;
use crate::notebook::table::{Cell, read_table};
use crate::notebook::{Diagnostic, Severity, Span, did_you_mean};
use std::collections::{BTreeMap, HashMap};

/// Reads a list of sides of `players` players each, all of them in `field`. A list with an error gives nothing.
pub fn read_sides(text: &str, field: &[Entrant], players: usize) -> (Vec<SideEntry>, Vec<Diagnostic>) {
    let (table, mut problems) = read_table(text);
    let id = table.column(&["id", "side"]);
    let name = table.column(&["name"]);
    let columns: Vec<usize> = table
        .columns
        .iter()
        .enumerate()
        .filter(|(_, column)| column.name.starts_with("player") || column.name.starts_with("partner"))
        .map(|(at, _)| at)
        .collect();
    if (id.is_none() || columns.len() < players) && !table.columns.is_empty() {
        let span = table.columns.first().map_or(Span::at(0), |column| column.span);
        let problem =
            Diagnostic::error(SIDE_COLUMNS.text(), span, format!("a list of sides needs `id` and {players} players"));
        problems.push(problem.advise(format!("begin it with the line `{}`", header(players))));
        return (Vec::new(), problems);
    }
    let ids: HashMap<&str, ()> = field.iter().map(|entrant| (entrant.id.as_str(), ())).collect();
    let known: Vec<&str> = field.iter().map(|entrant| entrant.id.as_str()).collect();
    let mut sides: Vec<SideEntry> = Vec::new();
    let mut used: HashMap<String, ()> = HashMap::new();
    for row in &table.rows {
        let mut bad = |code: &'static str, span: Span, message: String, advice: String| {
            problems.push(Diagnostic::error(code, span, message).advise(advice));
        };
        let Some(side) = row.get(id) else {
            bad(NOT_AN_ID.text(), row.span, "a side without an id".to_owned(), "give it one, as S1".to_owned());
            continue;
        };
        if !is_id(&side.text) || ids.contains_key(side.text.as_ref()) {
            bad(
                NOT_AN_ID.text(),
                side.span,
                format!("`{}` cannot be the id of a side", side.text),
                "give it one that no player has, as S1".to_owned(),
            );
        }
        if sides.iter().any(|other| other.id == side.text) {
            bad(
                SIDE_TWICE.text(),
                side.span,
                format!("the side `{}` stands twice", side.text),
                "keep one of the two".to_owned(),
            );
        }
        let cells: Vec<&Cell<'_>> = columns.iter().filter_map(|column| row.get(Some(*column))).collect();
        if cells.len() != players {
            bad(
                SIDE_SIZE.text(),
                row.span,
                format!("a side has {players} players here, this one has {}", cells.len()),
                "fill it, or take it out".to_owned(),
            );
        }
        for cell in &cells {
            if !ids.contains_key(cell.text.as_ref()) {
                bad(
                    SIDE_PLAYER.text(),
                    cell.span,
                    format!("the field has no id `{}`", cell.text),
                    did_you_mean(&cell.text, &known),
                );
            } else if used.insert(cell.text.to_string(), ()).is_some() {
                bad(
                    SIDE_TWICE.text(),
                    cell.span,
                    format!("`{}` plays in two sides", cell.text),
                    "keep one of the two".to_owned(),
                );
            }
        }
        sides.push(SideEntry {
            id: side.text.to_string(),
            name: row.get(name).map(|cell| cell.text.to_string()),
            players: cells.iter().map(|cell| cell.text.to_string()).collect(),
            span: row.span,
        });
    }
    if problems.iter().any(|problem| problem.severity == Severity::Error) {
        sides.clear();
    }
    (sides, problems)
}

fn header(players: usize) -> String {
    let names: Vec<String> = (1..=players).map(|n| format!("player_{n}")).collect();
    format!("id,{}", names.join(","))
}

/// Sides from the field's column `team`, in the order of their first players.
pub fn sides_of_field(field: &[Entrant]) -> Vec<SideEntry> {
    let mut sides: Vec<SideEntry> = Vec::new();
    let mut place: BTreeMap<String, usize> = BTreeMap::new();
    for entrant in field {
        let Some(team) = &entrant.team else { continue };
        let at = *place.entry(team.to_lowercase()).or_insert_with(|| {
            sides.push(SideEntry { id: team.clone(), name: None, players: Vec::new(), span: entrant.span });
            sides.len() - 1
        });
        if let Some(side) = sides.get_mut(at) {
            side.players.push(entrant.id.clone());
        }
    }
    sides
}
