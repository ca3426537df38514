//! Tables as text (CSV): cells with spans, columns by name, every problem of the file at once.
//!
//! # References
//! RFC 4180 (2005) for quoting. Lenient beyond it: with or without byte order mark, any line end, the delimiter found in
//! the header among comma, semicolon and tab, blank lines and lines beginning with `#` skipped.

use super::{Diagnostic, Span};
use std::borrow::Cow;

/// Every code that reading a table gives.
pub const TABLE_CODES: &[&str] = &[
    "table-after-quote",
    "table-column-twice",
    "table-column-unnamed",
    "table-empty",
    "table-stray-quote",
    "table-too-many-cells",
    "table-unclosed-quote",
];

/// A cell: its text with quotes undone and blanks around it removed, and where it stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cell<'t> {
    /// The text.
    pub text: Cow<'t, str>,
    /// The bytes of the cell in the file, quotes included.
    pub span: Span,
}

/// A column of the header.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// The name folded: lower case, spaces and hyphens as underscores.
    pub name: String,
    /// Where it stands.
    pub span: Span,
}

/// A row, with one cell for each column of the header; cells missing at its end are empty.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row<'t> {
    /// The cells in the order of the header.
    pub cells: Vec<Cell<'t>>,
    /// The whole row.
    pub span: Span,
}

/// A table: its header and rows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Table<'t> {
    /// The columns in the order of the file.
    pub columns: Vec<Column>,
    /// The rows in the order of the file.
    pub rows: Vec<Row<'t>>,
    /// True where cells are separated by something else than a comma, so that a comma may be a decimal point.
    pub decimal_comma: bool,
}

impl Table<'_> {
    /// The place of the first column with one of these names.
    pub fn column(&self, names: &[&str]) -> Option<usize> {
        self.columns.iter().position(|column| names.contains(&column.name.as_str()))
    }
}

impl<'t> Row<'t> {
    /// The cell of a column; `None` where there is no such column or nothing stands in it.
    pub fn get(&self, column: Option<usize>) -> Option<&Cell<'t>> {
        self.cells.get(column?).filter(|cell| !cell.text.is_empty())
    }
}

/// A column's name as it is compared: case folded, blanks, hyphens and underscores equal.
pub fn folded(name: &str) -> String {
    name.trim().to_lowercase().split([' ', '_', '-']).filter(|part| !part.is_empty()).collect::<Vec<_>>().join("_")
}

/// Reads a table; what could be understood is returned beside the problems.
pub fn read_table(text: &str) -> (Table<'_>, Vec<Diagnostic>) {
    let mut reader = Reader::new(text);
    let Some(header) = reader.record() else {
        let empty = Diagnostic::error("table-empty", Span::at(0), "the table is empty")
            .advise("the first line names the columns");
        reader.problems.push(empty);
        return (Table::default(), reader.problems);
    };
    let columns = reader.header(header);
    let decimal_comma = reader.delimiter != b',';
    let mut rows = Vec::new();
    while let Some(mut row) = reader.record() {
        if let Some(extra) = row.cells.iter().skip(columns.len()).find(|cell| !cell.text.is_empty()) {
            let message = format!("the header has {} columns, this row has more", columns.len());
            let problem = Diagnostic::error("table-too-many-cells", extra.span, message)
                .advise("a text with the separator in it is written in quotes");
            reader.problems.push(problem);
        }
        let end = Span::at(row.span.end);
        row.cells.resize_with(columns.len(), || Cell { text: Cow::Borrowed(""), span: end });
        rows.push(row);
    }
    (Table { columns, rows, decimal_comma }, reader.problems)
}

struct Reader<'t> {
    text: &'t str,
    at: usize,
    delimiter: u8,
    problems: Vec<Diagnostic>,
}

impl<'t> Reader<'t> {
    fn new(text: &'t str) -> Self {
        let at = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
        let mut reader = Reader { text, at, delimiter: b',', problems: Vec::new() };
        reader.skip_blank();
        reader.delimiter = sniffed(reader.text.get(reader.at..).unwrap_or_default());
        reader
    }

    fn byte(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn at_line_end(&self) -> bool {
        matches!(self.byte(), None | Some(b'\n' | b'\r'))
    }

    fn line_break(&mut self) {
        if self.byte() == Some(b'\r') {
            self.at += 1;
        }
        if self.byte() == Some(b'\n') {
            self.at += 1;
        }
    }

    fn skip_to_line_end(&mut self) {
        let rest = self.text.get(self.at..).unwrap_or_default();
        self.at += rest.find(['\n', '\r']).unwrap_or(rest.len());
    }

    // Lines of blanks and separators alone, which spreadsheets leave behind, count as blank.
    fn skip_blank(&mut self) {
        loop {
            let rest = self.text.get(self.at..).unwrap_or_default();
            let line = rest.split(['\n', '\r']).next().unwrap_or_default();
            let blank = line.chars().all(|c| matches!(c, ' ' | '\t' | ',' | ';'));
            if rest.is_empty() || !(blank || line.trim_start().starts_with('#')) {
                return;
            }
            self.at += line.len();
            self.line_break();
        }
    }

    fn record(&mut self) -> Option<Row<'t>> {
        self.skip_blank();
        let start = self.at;
        self.byte()?;
        let mut cells = Vec::new();
        loop {
            cells.push(self.cell());
            if self.byte() == Some(self.delimiter) {
                self.at += 1;
            } else {
                break;
            }
        }
        let span = Span::new(start, self.at);
        self.line_break();
        Some(Row { cells, span })
    }

    fn cell(&mut self) -> Cell<'t> {
        while matches!(self.byte(), Some(b' ' | b'\t')) && self.byte() != Some(self.delimiter) {
            self.at += 1;
        }
        let start = self.at;
        if self.byte() == Some(b'"') { self.quoted(start) } else { self.plain(start) }
    }

    fn plain(&mut self, start: usize) -> Cell<'t> {
        while !self.at_line_end() && self.byte() != Some(self.delimiter) {
            self.at += 1;
        }
        let written = self.text.get(start..self.at).unwrap_or_default();
        let text = written.trim();
        let span = Span::new(start, start + written.trim_end().len());
        if let Some(quote) = text.find('"') {
            let problem = Diagnostic::error(
                "table-stray-quote",
                Span::new(start + quote, start + quote + 1),
                "a quote inside a text that does not begin with one",
            );
            self.problems.push(problem.advise("put the whole text in quotes and double each quote inside"));
        }
        Cell { text: Cow::Borrowed(text), span }
    }

    fn quoted(&mut self, start: usize) -> Cell<'t> {
        self.at += 1;
        let content = self.at;
        let mut text: Option<String> = None;
        let mut copied = content;
        loop {
            let rest = self.text.get(self.at..).unwrap_or_default();
            let Some(quote) = rest.find('"') else {
                // Without its end the quote would swallow the rest of the file; only its line is given up.
                self.at = content;
                self.skip_to_line_end();
                let problem = Diagnostic::error(
                    "table-unclosed-quote",
                    Span::new(start, start + 1),
                    "a quote that is never closed",
                );
                self.problems.push(problem.advise("end the text with a quote"));
                let line = self.text.get(content..self.at).unwrap_or_default();
                return Cell { text: Cow::Borrowed(line.trim()), span: Span::new(start, self.at) };
            };
            self.at += quote + 1;
            if self.byte() != Some(b'"') {
                break;
            }
            let so_far = self.text.get(copied..self.at).unwrap_or_default();
            text.get_or_insert_default().push_str(so_far);
            self.at += 1;
            copied = self.at;
        }
        let last = self.text.get(copied..self.at - 1).unwrap_or_default();
        let text = match text {
            Some(mut text) => {
                text.push_str(last);
                Cow::Owned(text.trim().to_owned())
            }
            None => Cow::Borrowed(last.trim()),
        };
        let span = Span::new(start, self.at);
        let after = self.at;
        while !self.at_line_end() && self.byte() != Some(self.delimiter) {
            self.at += 1;
        }
        let behind = self.text.get(after..self.at).unwrap_or_default();
        if !behind.trim().is_empty() {
            let problem =
                Diagnostic::error("table-after-quote", Span::new(after, self.at), "text behind a closing quote");
            self.problems
                .push(problem.advise("only the separator may follow; double a quote that is part of the text"));
        }
        Cell { text, span }
    }

    fn header(&mut self, header: Row<'t>) -> Vec<Column> {
        let mut columns: Vec<Column> = Vec::new();
        for cell in header.cells {
            let name = folded(&cell.text);
            if name.is_empty() {
                let problem =
                    Diagnostic::warning("table-column-unnamed", cell.span, "a column without a name is not used");
                self.problems.push(problem);
            } else if columns.iter().any(|column| column.name == name) {
                let message = format!("the column `{name}` stands twice");
                self.problems.push(Diagnostic::error("table-column-twice", cell.span, message));
            }
            columns.push(Column { name, span: cell.span });
        }
        columns
    }
}

// The separator that stands most often in the header outside quotes; of equals the comma.
fn sniffed(text: &str) -> u8 {
    let mut counts = [(b',', 0_usize), (b';', 0), (b'\t', 0)];
    let mut inside = false;
    for byte in text.bytes() {
        match byte {
            b'"' => inside = !inside,
            b'\n' | b'\r' if !inside => break,
            _ if inside => {}
            _ => {
                for (delimiter, count) in &mut counts {
                    *count += usize::from(*delimiter == byte);
                }
            }
        }
    }
    let mut best = (b',', 0);
    for (delimiter, count) in counts {
        if count > best.1 {
            best = (delimiter, count);
        }
    }
    best.0
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn texts<'a>(table: &'a Table<'_>) -> Vec<Vec<&'a str>> {
        table.rows.iter().map(|row| row.cells.iter().map(|cell| cell.text.as_ref()).collect()).collect()
    }

    fn codes(text: &str) -> Vec<&'static str> {
        read_table(text).1.iter().map(|problem| problem.code).collect()
    }

    #[test]
    fn separators_marks_and_line_ends() {
        for text in [
            "Name,Handicap Index\nAna,+1.3\n",
            "\u{feff}name;handicap_index\r\nAna;+1.3\r\n",
            "# the field\n\nname\tHANDICAP-INDEX\nAna\t+1.3",
            "name , handicap_index\r Ana , +1.3 \r,\r",
        ] {
            let (table, problems) = read_table(text);
            assert_eq!(problems, [], "{text:?}");
            assert_eq!(table.column(&["handicap_index"]), Some(1), "{text:?}");
            assert_eq!(texts(&table), [["Ana", "+1.3"]], "{text:?}");
            assert_eq!(table.decimal_comma, !text.contains(','), "{text:?}");
        }
    }

    #[test]
    fn quotes() {
        let text = "name,team\n\"Souza, Ana\",\"the \"\"Reds\"\"\"\n\"two\nlines\",x\n";
        let (table, problems) = read_table(text);
        assert_eq!(problems, []);
        assert_eq!(texts(&table), [["Souza, Ana", "the \"Reds\""], ["two\nlines", "x"]]);
        assert_eq!(table.rows[0].cells[0].span.of(text), "\"Souza, Ana\"");
    }

    #[test]
    fn short_rows_and_long_ones() {
        let (table, problems) = read_table("a,b,c\n1\n1,2,3,,\n");
        assert_eq!(problems, []);
        assert_eq!(texts(&table), [["1", "", ""], ["1", "2", "3"]]);
        assert_eq!(table.rows[0].get(Some(1)), None);
        assert_eq!(codes("a,b\n1,2,3\n"), ["table-too-many-cells"]);
    }

    #[test]
    fn problems() {
        assert_eq!(codes(""), ["table-empty"]);
        assert_eq!(codes("# nothing\n\n"), ["table-empty"]);
        assert_eq!(codes("a,A\n"), ["table-column-twice"]);
        assert_eq!(codes("a,,b\n"), ["table-column-unnamed"]);
        assert_eq!(codes("a,b\n\"x,2\n3,4\n"), ["table-unclosed-quote"]);
        assert_eq!(codes("a,b\n\"x\" y,2\n"), ["table-after-quote"]);
        assert_eq!(codes("a,b\nx \"y\",2\n"), ["table-stray-quote"]);
        let seen = ["", "a,A", "a,,b", "a\n\"x", "a\n\"x\"y", "a\nx\"y", "a\n1,2"].map(|text| codes(text)[0]);
        for code in TABLE_CODES {
            assert!(seen.contains(code), "{code} has no example");
        }
        // After a quote that is never closed the next lines are still read.
        let (table, _) = read_table("a,b\n\"x,2\n3,4\n");
        assert_eq!(texts(&table)[1], ["3", "4"]);
    }

    proptest! {
        #[test]
        fn never_panics_and_spans_lie_inside(text in "[a,;\t\"#\r\n é]{0,60}") {
            let (table, problems) = read_table(&text);
            for row in &table.rows {
                prop_assert_eq!(row.cells.len(), table.columns.len());
                for cell in &row.cells {
                    prop_assert!(cell.span.end <= text.len());
                    prop_assert!(text.is_char_boundary(cell.span.start) && text.is_char_boundary(cell.span.end));
                }
            }
            for problem in &problems {
                prop_assert!(problem.span.end <= text.len());
            }
        }

        #[test]
        fn what_is_written_by_the_rule_reads_back(cells in prop::collection::vec(prop::collection::vec("[a-z,\"\n]{0,6}", 3), 1..6)) {
            let mut text = "x,y,z\r\n".to_owned();
            for row in &cells {
                let quoted: Vec<String> = row.iter().map(|cell| format!("\"{}\"", cell.replace('"', "\"\""))).collect();
                text.push_str(&quoted.join(","));
                text.push_str("\r\n");
            }
            let (table, problems) = read_table(&text);
            prop_assert_eq!(problems, vec![]);
            let trimmed: Vec<Vec<&str>> = cells.iter().map(|row| row.iter().map(|cell| cell.trim()).collect()).collect();
            prop_assert_eq!(texts(&table), trimmed);
        }
    }
}
