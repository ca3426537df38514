//! From a byte of a text to its line and column, as an editor counts them.

/// A line and a column, both from 1; columns count characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line, the first is 1.
    pub line: usize,
    /// Column in characters, the first is 1.
    pub column: usize,
}

/// What YAML takes for blank or for a line end; other white space is text.
pub(super) const BLANKS: [char; 4] = [' ', '\t', '\n', '\r'];

/// Where the lines of a text begin. A line ends with LF, CR LF or a lone CR, as in YAML.
#[derive(Clone, Debug)]
pub struct Lines<'t> {
    text: &'t str,
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    /// Finds the lines of `text`.
    pub fn new(text: &'t str) -> Self {
        let bytes = text.as_bytes();
        let mut starts = vec![0];
        for (i, &b) in bytes.iter().enumerate() {
            if b == b'\n' || (b == b'\r' && bytes.get(i + 1) != Some(&b'\n')) {
                starts.push(i + 1);
            }
        }
        Lines { text, starts }
    }

    /// How many lines there are; the empty one after a last line break counts.
    pub fn count(&self) -> usize {
        self.starts.len()
    }

    /// The number of the line, from 0, that holds `byte`; a byte past the end lies in the last line.
    pub fn index_of(&self, byte: usize) -> usize {
        self.starts.partition_point(|&s| s <= byte).saturating_sub(1)
    }

    /// First byte of line `index`, counted from 0; the length of the text past the last line.
    pub fn start(&self, index: usize) -> usize {
        self.starts.get(index).copied().unwrap_or(self.text.len())
    }

    /// Line `index`, counted from 0, without its line break; empty past the last line.
    pub fn line(&self, index: usize) -> &'t str {
        let whole = self.text.get(self.start(index)..self.start(index + 1)).unwrap_or_default();
        whole.trim_end_matches(['\n', '\r'])
    }

    /// Line and column of `byte`. A byte order mark at the start takes no column.
    pub fn place(&self, byte: usize) -> Place {
        let index = self.index_of(byte);
        let start = self.start(index);
        let mut end = byte.min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        let before = self.text.get(start..end).unwrap_or_default();
        let before = if start == 0 { before.trim_start_matches('\u{feff}') } else { before };
        Place { line: index + 1, column: before.chars().count() + 1 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_end_as_yaml_says() {
        let l = Lines::new("a\r\nbé\rc\n");
        assert_eq!(l.count(), 4);
        assert_eq!((l.line(0), l.line(1), l.line(2), l.line(3)), ("a", "bé", "c", ""));
        assert_eq!(l.place(0), Place { line: 1, column: 1 });
        assert_eq!(l.place(6), Place { line: 2, column: 3 });
        assert_eq!(l.place(7), Place { line: 3, column: 1 });
        assert_eq!(l.place(99), Place { line: 4, column: 1 });
    }

    #[test]
    fn a_byte_order_mark_takes_no_column() {
        assert_eq!(Lines::new("\u{feff}a").place(3), Place { line: 1, column: 1 });
    }
}
