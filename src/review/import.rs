//! Shots from a list: one row a shot, or one row a hole with its line of shots. All rows are read before any is used.

use crate::notebook::table::{Row, Table, read_table};
use crate::notebook::{Diagnostic, Lines};
use crate::round::{HoleShots, club_name, read_shots};
use crate::units::LengthUnit;
use std::collections::BTreeMap;

/// Columns of a list with a row a shot.
const BY_SHOT: [&str; 9] = ["club", "lie", "left", "beside", "at", "across", "into", "miss", "penalty"];

/// Shots by position in playing order.
pub type Imported = BTreeMap<usize, HoleShots>;

/// Reads a list of shots for the holes `order` of a round.
///
/// # Errors
/// Every problem of the list, each with its line.
pub fn read_csv(text: &str, order: &[u8], bag: &[&str], unit: LengthUnit) -> Result<Imported, Vec<String>> {
    let lines = Lines::new(text);
    let (table, found) = read_table(text);
    let at = |d: &Diagnostic| format!("line {}: {}", lines.place(d.span.start).line, d.message);
    let mut problems: Vec<String> = found.iter().map(at).collect();
    let of_line = |row: &Row<'_>| lines.place(row.span.start).line;
    let hole = table.column(&["hole"]);
    let line = table.column(&["shots", "line"]);
    let by_shot: Vec<&str> = BY_SHOT.into_iter().filter(|c| table.column(&[c]).is_some()).collect();
    if hole.is_none() {
        problems.push("line 1: there is no column `hole`; a list is hole,shots or hole,club,lie,left,…".to_owned());
    }
    if line.is_some() && !by_shot.is_empty() {
        problems.push(format!(
            "line 1: two formats in one list: `shots` is a row a hole, `{}` a row a shot; keep one of them",
            by_shot.join("`, `")
        ));
    }
    if line.is_none() && by_shot.is_empty() {
        problems.push("line 1: there is neither a column `shots` nor one of club, left, into".to_owned());
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut lines_of: BTreeMap<usize, Vec<(usize, String)>> = BTreeMap::new();
    for row in &table.rows {
        let number = row.get(hole).map(|c| c.text.trim().to_owned()).unwrap_or_default();
        let Some(position) = number.parse::<u8>().ok().and_then(|n| order.iter().position(|h| *h == n)) else {
            problems.push(format!("line {}: hole `{number}` is not in this round", of_line(row)));
            continue;
        };
        let written = match line {
            Some(_) => row.get(line).map(|c| c.text.to_string()).unwrap_or_default(),
            None => match shot_line(&table, row) {
                Ok(text) => text,
                Err(why) => {
                    problems.push(format!("line {}: {why}", of_line(row)));
                    continue;
                }
            },
        };
        lines_of.entry(position).or_default().push((of_line(row), written));
    }
    let mut out = Imported::new();
    for (position, rows) in lines_of {
        if line.is_some() && rows.len() > 1 {
            let again: Vec<String> = rows.iter().map(|(l, _)| l.to_string()).collect();
            problems.push(format!(
                "line {}: hole {} stands there more than once",
                again.join(" and "),
                order.get(position).unwrap_or(&0)
            ));
            continue;
        }
        let first = rows.first().map_or(1, |(l, _)| *l);
        let whole: Vec<String> = rows.into_iter().map(|(_, t)| t).collect();
        match read_shots(&whole.join(", "), bag, unit) {
            Ok(shots) => drop(out.insert(position, shots)),
            Err(why) => problems.push(format!("from line {first}: {why}")),
        }
    }
    if problems.is_empty() { Ok(out) } else { Err(problems) }
}

/// A row of single columns as the words of a line of shots, so that both forms are read by one reader.
fn shot_line(table: &Table<'_>, row: &Row<'_>) -> Result<String, String> {
    let cell = |name: &str| row.get(table.column(&[name])).map(|c| c.text.trim().to_owned());
    if let Some(putts) = cell("putts") {
        let first = cell("first_ft").map_or_else(String::new, |ft| format!(" {ft}"));
        return Ok(format!("{putts}p{first}"));
    }
    let mut words = Vec::new();
    if let Some(club) = cell("club") {
        words.push(format!("\"{}\"", club.replace('"', " ")));
        if club_name(&club, &[]).is_none() && club.chars().all(|c| c.is_ascii_digit()) {
            return Err(format!("club `{club}` is a number and no club"));
        }
    }
    words.extend(cell("lie").map(|lie| format!("({lie})")));
    match (cell("at"), cell("across")) {
        (Some(at), across) => words.push(format!("@{at}:{}", across.unwrap_or_else(|| "0".to_owned()))),
        (None, Some(across)) => return Err(format!("across `{across}` needs a column `at` to be a place")),
        (None, None) => {}
    }
    words.extend(cell("left"));
    words.extend(cell("beside"));
    words.extend(cell("miss"));
    words.extend(cell("into"));
    words.extend(cell("penalty"));
    Ok(words.join(" "))
}

/// The shots of a round as a list with a row a hole, that [`read_csv`] reads back.
pub fn write_csv(order: &[u8], shots: &[&HoleShots], unit: LengthUnit) -> String {
    let mut out = String::from("hole,shots\r\n");
    for (hole, shots) in order.iter().zip(shots).filter(|(_, s)| !s.is_empty()) {
        out.push_str(&format!("{hole},\"{}\"\r\n", crate::round::write_shots(shots, unit).replace('"', "\"\"")));
    }
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;

    const BAG: [&str; 3] = ["driver", "7 iron", "sand wedge"];

    fn read(text: &str) -> Result<Imported, Vec<String>> {
        read_csv(text, &[1, 2, 3], &BAG, LengthUnit::Yards)
    }

    #[test]
    fn both_forms_say_the_same() {
        let lines = read("hole,shots\n2,\"d 180 8R r, 7i sl, sw g, 2p 18\"\n").unwrap();
        let rows = read(
            "hole,club,left,beside,miss,into,putts,first_ft\n2,d,180,8R,,r\n2,7 iron,,,sl\n2,sw,,,,g\n2,,,,,,2,18\n",
        )
        .unwrap();
        assert_eq!(lines, rows);
        let shots: Vec<&HoleShots> = vec![&lines[&1], &lines[&1]];
        let again = write_csv(&[2, 3], &shots, LengthUnit::Yards);
        assert_eq!(read(&again).unwrap()[&1], lines[&1]);
    }

    #[test]
    fn what_is_wrong_names_its_line() {
        for (text, words) in [
            ("hole,shots,club\n1,d f,d\n", "two formats"),
            ("hole,shots\n9,d f\n", "line 2: hole `9`"),
            ("hole,shots\n1,d f\n1,d r\n", "more than once"),
            ("hole,shots\n1,zz f\n", "from line 2: shot 1"),
            ("shots\nd f\n", "no column `hole`"),
            ("hole,colour\n1,red\n", "neither"),
            ("hole,club,at,across\n1,d,,8R\n", "needs a column `at`"),
            ("hole,club,left\n1,d,2000\n", "not believed"),
        ] {
            let problems = read(text).unwrap_err().join("; ");
            assert!(problems.contains(words), "{text:?}: {problems}");
        }
    }
}
