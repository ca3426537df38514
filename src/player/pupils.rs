//! A list of pupils: `pupils/NAME.csv` with the columns player and tee.

use super::codes::lists::{NO_HEADER, NO_NAME, NOT_CSV, PUPIL_TWICE, UNKNOWN_COLUMN};
use crate::course::decode::{Reader, quoted};
use crate::notebook::{Diagnostic, Span, did_you_mean};

/// One of a group.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pupil {
    /// The player's name.
    pub player: String,
    /// The tee set this player uses; `None` where the list does not say.
    pub tee: Option<String>,
    /// The line of the list.
    pub span: Span,
}

const COLUMNS: &[&str] = &["player", "tee"];

/// Reads a list of pupils (RFC 4180, read leniently: comma, semicolon or tab, any order of columns, blank lines and
/// lines that begin with `#` passed over). Gives what could be understood and every problem in the order of the file.
///
/// ```
/// let (pupils, problems) = marram::player::read_pupils("player,tee\nWren Hallam,Club\n");
/// assert!(problems.is_empty());
/// assert_eq!(pupils.first().map(|p| p.player.as_str()), Some("Wren Hallam"));
/// ```
pub fn read_pupils(text: &str) -> (Vec<Pupil>, Vec<Diagnostic>) {
    let mut reader = Reader::default();
    let pupils = pupils(&mut reader, text);
    (pupils, reader.finish())
}

fn pupils(r: &mut Reader, text: &str) -> Vec<Pupil> {
    let mark = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let body = text.get(mark..).unwrap_or_default();
    let mut found: Vec<Pupil> = Vec::new();
    let mut columns: Option<(usize, Option<usize>)> = None;
    let mut table = csv::ReaderBuilder::new()
        .delimiter(delimiter(body))
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(body.as_bytes());
    for record in table.records() {
        // A text that is UTF-8 and may have lines of any length cannot fail in the parser.
        let Ok(record) = record else { continue };
        let start = record.position().and_then(|p| usize::try_from(p.byte()).ok()).unwrap_or(0);
        let span = line(text, start + mark);
        if record.iter().all(str::is_empty) {
            continue;
        }
        if record.iter().any(|field| field.contains(['\n', '\r'])) {
            r.error(NOT_CSV, span, "a quote that begins here is not closed on its line", "close it, or take it out");
            continue;
        }
        let Some((name, tee)) = columns else {
            let Some(named) = header(r, &record, span) else { return found };
            columns = Some(named);
            continue;
        };
        let player = record.get(name).unwrap_or_default();
        if player.is_empty() {
            r.error(NO_NAME, span, "this line names no player", "write the player's name in the column `player`");
        } else if found.iter().any(|p| p.player.eq_ignore_ascii_case(player)) {
            let message = format!("{} stands twice in the list", quoted(player));
            r.error(PUPIL_TWICE, span, message, "keep one of the two; the first one is read");
        } else {
            let tee = tee.and_then(|tee| record.get(tee)).filter(|tee| !tee.is_empty());
            found.push(Pupil { player: player.to_owned(), tee: tee.map(str::to_owned), span });
        }
    }
    if columns.is_none() {
        r.error(NO_HEADER, Span::at(mark), "the list is empty", "begin it with the line `player,tee`");
    }
    found
}

/// Which columns hold the player and the tee.
fn header(r: &mut Reader, record: &csv::StringRecord, span: Span) -> Option<(usize, Option<usize>)> {
    let place = |word: &str| record.iter().position(|field| folded(field) == word);
    // Other lists of the trade call the same column `name`.
    let Some(name) = place("player").or_else(|| place("name")) else {
        let message = "the first line does not name its columns";
        r.error(NO_HEADER, span, message, "begin the list with the line `player,tee`");
        return None;
    };
    let used = |field: &str| COLUMNS.contains(&folded(field).as_str()) || folded(field) == "name";
    for field in record.iter().filter(|field| !used(field)) {
        let message = format!("the column {} is not used", quoted(field));
        r.warning(UNKNOWN_COLUMN, span, message, did_you_mean(field, COLUMNS));
    }
    Some((name, place("tee")))
}

fn folded(field: &str) -> String {
    field.trim().to_lowercase()
}

/// Spreadsheets of countries with a decimal comma write semicolons.
fn delimiter(text: &str) -> u8 {
    let header = text.lines().find(|line| !line.trim().is_empty() && !line.starts_with('#')).unwrap_or_default();
    let count = |mark: char| header.matches(mark).count();
    [(b',', ','), (b';', ';'), (b'\t', '\t')]
        .into_iter()
        .max_by_key(|(byte, mark)| (count(*mark), *byte == b','))
        .map_or(b',', |(byte, _)| byte)
}

/// The line that begins at a byte or after the blank lines and comments there.
fn line(text: &str, from: usize) -> Span {
    let mut start = from;
    for raw in text.get(from..).unwrap_or_default().split_inclusive('\n') {
        if !raw.trim().is_empty() && !raw.starts_with('#') {
            return Span::new(start, start + raw.trim_end().len());
        }
        start += raw.len();
    }
    Span::at(from)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spreadsheets_of_any_country_are_read() {
        let lists = [
            "player,tee\r\nAna Vesely,Club\r\n\"Reive, Callum\",Back\r\n",
            "\u{feff}Tee;Player\nClub;Ana Vesely\n\nBack;Reive, Callum\n",
            "# Saturday\nname\ttee\nAna Vesely\tClub\nReive, Callum\tBack",
        ];
        for list in lists {
            let (pupils, problems) = read_pupils(list);
            assert_eq!(problems, [], "{list}");
            let found: Vec<(&str, Option<&str>)> =
                pupils.iter().map(|p| (p.player.as_str(), p.tee.as_deref())).collect();
            assert_eq!(found, [("Ana Vesely", Some("Club")), ("Reive, Callum", Some("Back"))], "{list}");
        }
    }

    #[test]
    fn a_problem_names_its_line() {
        let text = "\u{feff}player,tee\nAna,\n\n,Club\nAna,Back\n";
        let (pupils, problems) = read_pupils(text);
        assert_eq!(pupils.len(), 1);
        assert_eq!(pupils.first().map(|p| p.tee.clone()), Some(None));
        let lines: Vec<&str> = problems.iter().map(|d| d.span.of(text)).collect();
        assert_eq!(lines, [",Club", "Ana,Back"]);
    }
}
