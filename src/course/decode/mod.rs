//! Small hand-written decoders stand on this: a reader that collects problems and goes on, and the fields of a map.
//!
//! Every value is raw text until its key gives it a meaning. A decoder asks for a key; what is missing, misspelt or out
//! of bounds becomes a [`Diagnostic`] with its place, and the answer is `None`, never an early return from the file.

pub mod code;
pub mod places;
pub mod preamble;
pub mod values;

pub use code::Code;
pub(crate) use code::codes;
pub use preamble::FileKind;
pub use values::Bounds;

use crate::notebook::diagnostic::UNREAD_CODES;
use crate::notebook::endings::comma_ended;
use crate::notebook::{Diagnostic, Entry, Kind, Node, Severity, Span, did_you_mean, nearest};
use crate::units::LengthUnit;

codes! {
    /// A key that the format does not know.
    UNKNOWN_KEY = "unknown-key";
    /// A key that must be there is not.
    MISSING_KEY = "missing-key";
    /// A key with nothing behind it.
    NO_VALUE = "no-value";
    /// A list where a map is due, a map where a text is due.
    WRONG_FORM = "wrong-form";
    /// Text where a number is due.
    NOT_A_NUMBER = "not-a-number";
    /// A number beyond its bounds.
    OUT_OF_RANGE = "out-of-range";
    /// A word that is none of the allowed ones.
    UNKNOWN_WORD = "unknown-word";
    /// A unit that is neither yards nor metres.
    UNKNOWN_UNITS = "unknown-units";
    /// A date that is not written year-month-day.
    NOT_A_DATE = "not-a-date";
    /// Not a range such as `200..`.
    NOT_A_RANGE = "not-a-range";
    /// A range or band whose end comes before its start.
    RANGE_BACKWARDS = "range-backwards";
    /// A bare number where a side is due.
    BARE_ACROSS = "bare-across";
    /// Not a place across the line.
    NOT_ACROSS = "not-across";
    /// Not a band across the line.
    NOT_A_BAND = "not-a-band";
    /// A handicap better than scratch written with a minus.
    MINUS_HANDICAP = "minus-handicap";
    /// Not a handicap.
    NOT_A_HANDICAP = "not-a-handicap";
    /// A Slope Rating beyond 55 to 155.
    SLOPE_RANGE = "slope-range";
    /// The first key is not `format`.
    FORMAT_MISSING = "format-missing";
    /// A format that marram does not know.
    UNKNOWN_FORMAT = "unknown-format";
    /// Another kind of file than the one asked for.
    WRONG_KIND = "wrong-kind";
    /// Written for a later marram.
    LATER_FORMAT = "later-format";
}

/// Collects the problems of one file while its decoders go on.
#[derive(Debug, Default)]
pub struct Reader {
    /// The unit of the file's lengths.
    pub unit: LengthUnit,
    /// Written for a later marram: what is unknown here may be known there, so it only warns.
    pub later: bool,
    problems: Vec<Diagnostic>,
    /// The text itself has an error, so that keys may be missing only because they could not be read.
    broken: bool,
}

impl Reader {
    /// A reader that goes on from the problems found in the text itself.
    pub fn new(problems: Vec<Diagnostic>) -> Self {
        let broken = problems.iter().any(|d| d.severity == Severity::Error && UNREAD_CODES.contains(&d.code));
        Self { problems, broken, ..Self::default() }
    }

    /// The problems in the order of the file.
    pub fn finish(mut self) -> Vec<Diagnostic> {
        self.problems.sort_by_key(|d| (d.span.start, d.span.end));
        self.problems
    }

    /// How many errors were found so far: a decoder compares it before and after to know whether its part is sound.
    pub fn errors(&self) -> usize {
        self.problems.iter().filter(|d| d.severity == Severity::Error).count()
    }

    /// Adds an error: what is wrong and what to do, both without a full stop.
    pub fn error(&mut self, code: Code, span: Span, message: impl Into<String>, advice: impl Into<String>) {
        self.push(code, Severity::Error, span, message.into(), advice.into());
    }

    /// Adds a warning: what was assumed and what to do.
    pub fn warning(&mut self, code: Code, span: Span, message: impl Into<String>, advice: impl Into<String>) {
        self.push(code, Severity::Warning, span, message.into(), advice.into());
    }

    fn push(&mut self, code: Code, severity: Severity, span: Span, message: String, advice: String) {
        self.problems.push(Diagnostic { code: code.text(), severity, span, message, advice });
    }

    /// Adds an error that is only a warning in a file written for a later marram.
    fn unknown(&mut self, code: Code, span: Span, message: String, advice: String) {
        let severity = if self.later { Severity::Warning } else { Severity::Error };
        self.push(code, severity, span, message, advice);
    }

    /// Opens a map and reports every key that is not among `keys`. `noun` is what the map is, as `the course` or `hole 4`.
    pub fn fields<'n>(&mut self, node: &'n Node, noun: &str, keys: &'static [&'static str]) -> Option<Fields<'n>> {
        let entries = self.entries(node, noun)?;
        for (index, entry) in entries.iter().enumerate().filter(|(_, e)| !keys.contains(&e.key.as_str())) {
            if let Some(comma) = comma_ended(node, index, keys) {
                self.problems.push(comma);
                continue;
            }
            let message = format!("{noun} has no key {}", quoted(&entry.key));
            self.unknown(UNKNOWN_KEY, entry.key_span, message, did_you_mean(&entry.key, keys));
        }
        // Whatever the map is, an `id` is one text; decoders that need it ask for it without a second report.
        if let Some(id) = entries.iter().find(|e| e.key == "id" && keys.contains(&"id")) {
            self.raw(&id.value, "id");
        }
        Some(Fields { entries, noun: noun.to_owned(), span: head(node, entries), keys })
    }

    /// The entries of a map whose keys are names rather than words of the format.
    pub fn entries<'n>(&mut self, node: &'n Node, noun: &str) -> Option<&'n [Entry]> {
        match &node.kind {
            Kind::Map(entries) => Some(entries),
            Kind::Nothing => {
                self.no_value(node, noun);
                None
            }
            Kind::Broken => None,
            _ => {
                let advice = "write `key: value` lines below it, or one `{ key: value }`";
                self.error(
                    WRONG_FORM,
                    node.span,
                    format!("{noun} needs keys with values, not {}", node.word()),
                    advice,
                );
                None
            }
        }
    }

    /// The items of a list; nothing behind the key is an empty list.
    pub fn items<'n>(&mut self, node: &'n Node, key: &str) -> &'n [Node] {
        match &node.kind {
            Kind::List(items) => items,
            Kind::Nothing | Kind::Broken => &[],
            _ => {
                let message = format!("`{key}` needs a list, not {}", node.word());
                self.error(WRONG_FORM, node.span, message, "begin each item with a dash, or write `[ …, … ]`");
                &[]
            }
        }
    }

    /// The raw text of a scalar without blanks around it, never empty.
    pub fn raw<'n>(&mut self, node: &'n Node, key: &str) -> Option<&'n str> {
        match &node.kind {
            Kind::Text { text, .. } if !text.trim().is_empty() => Some(text.trim()),
            Kind::Text { .. } | Kind::Nothing => {
                self.no_value(node, &format!("`{key}`"));
                None
            }
            Kind::Broken => None,
            _ => {
                let message = format!("`{key}` needs one value, not {}", node.word());
                self.error(WRONG_FORM, node.span, message, format!("write `{key}: VALUE` on one line"));
                None
            }
        }
    }

    fn no_value(&mut self, node: &Node, noun: &str) {
        self.error(NO_VALUE, node.span, format!("{noun} has no value"), "give it one, or take the key out");
    }
}

/// The keys of one map that has been checked for unknown ones.
#[derive(Clone, Debug)]
pub struct Fields<'n> {
    entries: &'n [Entry],
    keys: &'static [&'static str],
    /// What the map is, as `hole 4`.
    pub noun: String,
    /// The first key: where something missing is reported.
    pub span: Span,
}

impl<'n> Fields<'n> {
    /// The value of `key`, if it is there.
    pub fn get(&self, key: &'static str) -> Option<&'n Node> {
        debug_assert!(self.keys.contains(&key), "`{key}` is read but not declared for {}", self.noun);
        self.entries.iter().find(|e| e.key == key).map(|e| &e.value)
    }

    /// The `id`, which was checked when the map was opened.
    pub fn id(&self) -> Option<String> {
        let text = self.get("id")?.text()?.trim();
        (!text.is_empty()).then(|| text.to_owned())
    }

    /// Whether a key is written, declared for this map or not.
    pub fn has(&self, key: &str) -> bool {
        self.entries.iter().any(|e| e.key == key)
    }

    /// How many keys are written.
    pub fn count(&self) -> usize {
        self.entries.len()
    }

    /// Where `key` stands, or the head of the map.
    pub fn place(&self, key: &str) -> Span {
        self.entries.iter().find(|e| e.key == key).map_or(self.span, |e| e.key_span)
    }

    /// Reads `key` if it is there.
    pub fn read<T>(
        &self,
        reader: &mut Reader,
        key: &'static str,
        value: impl FnOnce(&mut Reader, &'n Node, &str) -> Option<T>,
    ) -> Option<T> {
        self.get(key).and_then(|node| value(reader, node, key))
    }

    /// Reads `key` and reports it when it is missing; `example` is the cure.
    pub fn need<T>(
        &self,
        reader: &mut Reader,
        key: &'static str,
        example: &str,
        value: impl FnOnce(&mut Reader, &'n Node, &str) -> Option<T>,
    ) -> Option<T> {
        match self.get(key) {
            Some(node) => value(reader, node, key),
            // Behind a syntax error whatever is missing may only be unread: the error itself is the thing to mend.
            None if reader.broken => None,
            // A mistyped key is one mistake, and it has been named at its own line.
            None if !reader.later && self.is_mistyped(key) => None,
            None => {
                let advice = format!("add a line such as `{example}`");
                reader.error(MISSING_KEY, self.span, format!("{} has no `{key}`", self.noun), advice);
                None
            }
        }
    }
}

impl Fields<'_> {
    /// Whether an unknown key of the map was probably meant as `key`.
    fn is_mistyped(&self, key: &str) -> bool {
        let unknown = self.entries.iter().filter(|e| !self.keys.contains(&e.key.as_str()));
        unknown.map(|e| nearest(&e.key, self.keys.iter().copied())).any(|near| near == Some(key))
    }
}

fn head(node: &Node, entries: &[Entry]) -> Span {
    entries.first().map_or(node.span, |e| e.key_span)
}

/// A text of the file in backquotes, cut where it is long.
pub fn quoted(text: &str) -> String {
    let one_line = text.trim().replace(['\n', '\r'], " ");
    if one_line.chars().count() > 40 {
        let start: String = one_line.chars().take(39).collect();
        format!("`{start}…`")
    } else {
        format!("`{one_line}`")
    }
}

/// `` `a`, `b` and `c` ``.
pub fn listed<S: AsRef<str>>(words: &[S]) -> String {
    let words: Vec<String> = words.iter().map(|w| format!("`{}`", w.as_ref())).collect();
    joined(&words, "and")
}

/// `a, b and c` with the given last word.
pub fn joined(words: &[String], last: &str) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [head @ .., end] => format!("{} {last} {end}", head.join(", ")),
    }
}
