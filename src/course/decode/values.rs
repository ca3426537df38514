//! Values with a meaning given by their key: numbers, words, dates, ranges, ratios, handicaps.

use super::{
    Fields, MINUS_HANDICAP, NOT_A_DATE, NOT_A_HANDICAP, NOT_A_NUMBER, NOT_A_RANGE, OUT_OF_RANGE, RANGE_BACKWARDS,
    Reader, SLOPE_RANGE, UNKNOWN_WORD, quoted,
};
use crate::course::condition::Range;
use crate::course::model::{ByCard, Rating};
use crate::notebook::{Kind, Node, Span, did_you_mean};
use crate::units::LengthUnit;
use crate::units::place::read_decimal;
use crate::units::tenths::{Fault, HandicapIndex, SlopeRating, Tenths, parse_whole_handicap};

/// The least and greatest value of a number, with the words that say so.
#[derive(Clone, Copy, Debug)]
pub struct Bounds {
    /// Least value.
    pub least: f64,
    /// Greatest value.
    pub most: f64,
    /// What has these bounds, as `a hole number`.
    pub what: &'static str,
}

impl Bounds {
    /// Bounds of `what`.
    pub const fn new(what: &'static str, least: f64, most: f64) -> Self {
        Self { least, most, what }
    }

    fn hold(self, value: f64) -> bool {
        value >= self.least && value <= self.most
    }
}

/// A signed decimal of plain digits.
pub fn signed(text: &str) -> Option<f64> {
    let text = text.trim();
    if let Some(rest) = text.strip_prefix(['-', '\u{2212}']) {
        read_decimal(rest).map(|v| -v)
    } else {
        read_decimal(text.strip_prefix('+').unwrap_or(text))
    }
}

impl Reader {
    /// A text.
    pub fn text(&mut self, node: &Node, key: &str) -> Option<String> {
        self.raw(node, key).map(str::to_owned)
    }

    /// One text or a list of them.
    pub fn texts(&mut self, node: &Node, key: &str) -> Option<Vec<(String, Span)>> {
        self.one_or_more(node, key, |reader, item, key| reader.text(item, key).map(|text| (text, item.span)))
    }

    /// One value or a list of them, without those that could not be read.
    pub fn one_or_more<'n, T>(
        &mut self,
        node: &'n Node,
        key: &str,
        mut value: impl FnMut(&mut Self, &'n Node, &str) -> Option<T>,
    ) -> Option<Vec<T>> {
        match &node.kind {
            Kind::List(items) => Some(items.iter().filter_map(|item| value(self, item, key)).collect()),
            _ => value(self, node, key).map(|one| vec![one]),
        }
    }

    /// A number within bounds.
    pub fn number(&mut self, node: &Node, key: &str, bounds: Bounds) -> Option<f64> {
        let value = self.any_number(node, key)?;
        self.within(value, node.span, key, bounds)
    }

    /// A whole number within bounds that are not negative.
    pub fn whole(&mut self, node: &Node, key: &str, bounds: Bounds) -> Option<u32> {
        self.signed_whole(node, key, bounds).and_then(|v| u32::try_from(v).ok())
    }

    /// A whole number within bounds.
    pub fn signed_whole(&mut self, node: &Node, key: &str, bounds: Bounds) -> Option<i32> {
        let value = self.any_number(node, key)?;
        if value.fract() != 0.0 {
            let message = format!("`{key}` is {value}, and {} is a whole number", bounds.what);
            self.error(NOT_A_NUMBER, node.span, message, "write it without a decimal point");
            return None;
        }
        // Bounds lie far inside what a whole number holds, so the cast keeps the value.
        self.within(value, node.span, key, bounds).map(|v| v as i32)
    }

    /// A small whole number such as a hole, a par or an index.
    pub fn small(&mut self, node: &Node, key: &str, bounds: Bounds) -> Option<u8> {
        self.whole(node, key, bounds).and_then(|v| u8::try_from(v).ok())
    }

    /// A length of the file's unit, within bounds given in yards, as yards.
    pub fn length(&mut self, node: &Node, key: &str, bounds: Bounds) -> Option<f64> {
        let value = self.any_number(node, key)?;
        let yard = self.unit.in_yards();
        let bounds = Bounds { least: (bounds.least / yard).round(), most: (bounds.most / yard).round(), ..bounds };
        self.within(value, node.span, key, bounds).map(|v| v * yard)
    }

    fn any_number(&mut self, node: &Node, key: &str) -> Option<f64> {
        let text = self.raw(node, key)?;
        let value = signed(text);
        if value.is_none() {
            let bare = text.trim_end_matches(|c: char| c.is_ascii_alphabetic() || c.is_whitespace() || c == '%');
            let advice = match signed(bare) {
                Some(_) if LengthUnit::Yards == self.unit => {
                    format!("write the figure alone, `{key}: {bare}`; lengths are in yards here")
                }
                Some(_) => format!("write the figure alone, `{key}: {bare}`; lengths are in metres here"),
                None if text.contains(',') => "write a decimal with a point, as 12.5".to_owned(),
                None => "write a plain number, as 12 or 12.5".to_owned(),
            };
            self.error(NOT_A_NUMBER, node.span, format!("`{key}` needs a number, not {}", quoted(text)), advice);
        }
        value
    }

    fn within(&mut self, value: f64, span: Span, key: &str, bounds: Bounds) -> Option<f64> {
        if bounds.hold(value) {
            return Some(value + 0.0);
        }
        let message =
            format!("`{key}` is {value}, and {} lies between {} and {}", bounds.what, bounds.least, bounds.most);
        self.error(OUT_OF_RANGE, span, message, "check the figure and its unit");
        None
    }

    /// One of a few words.
    pub fn word<T: Copy>(&mut self, node: &Node, key: &str, words: &[(&str, T)]) -> Option<T> {
        let text = self.raw(node, key)?;
        let folded = text.to_lowercase();
        if let Some((_, value)) = words.iter().find(|(word, _)| *word == folded) {
            return Some(*value);
        }
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        let advice = did_you_mean(text, &known);
        self.unknown(UNKNOWN_WORD, node.span, format!("`{key}` cannot be {}", quoted(text)), advice);
        None
    }

    /// A date, `2026-05-16`, kept as it is written.
    pub fn date(&mut self, node: &Node, key: &str) -> Option<String> {
        let text = self.raw(node, key)?;
        let shape = text.len() == 10 && text.bytes().enumerate().all(|(i, b)| (b == b'-') == (i == 4 || i == 7));
        if shape && chrono::NaiveDate::parse_from_str(text, "%Y-%m-%d").is_ok() {
            return Some(text.to_owned());
        }
        let advice = "write year, month, day: `2026-05-16`";
        self.error(NOT_A_DATE, node.span, format!("`{key}` needs a date, not {}", quoted(text)), advice);
        None
    }

    /// A range of lengths in the file's unit, `200..`, as yards. A single figure is refused: nobody carries exactly 200.
    pub fn length_range(&mut self, node: &Node, key: &str) -> Option<Range> {
        let yard = self.unit.in_yards();
        self.range_of(node, key, None, |text| read_decimal(text).map(|v| v * yard))
    }

    /// A range of counts; a single figure is that count alone.
    pub fn count_range(&mut self, node: &Node, key: &str) -> Option<Range> {
        self.range_of(node, key, Some(()), signed)
    }

    /// A range of Playing Handicaps as the trade writes them: `+2..5` goes from two better than scratch to five.
    pub fn handicap_range(&mut self, node: &Node, key: &str) -> Option<Range> {
        let text = self.raw(node, key)?;
        let minus = |part: &str| part.trim().starts_with(['-', '\u{2212}']);
        if text.split("..").any(minus) {
            self.minus_handicap(node.span, key, text);
            return None;
        }
        self.range_of(node, key, Some(()), |text| parse_whole_handicap(text).ok().map(f64::from))
    }

    fn range_of(
        &mut self,
        node: &Node,
        key: &str,
        single: Option<()>,
        value: impl Fn(&str) -> Option<f64>,
    ) -> Option<Range> {
        let text = self.raw(node, key)?;
        let range = match text.split_once("..") {
            Some((from, to)) => end(from, &value).zip(end(to, &value)).map(|(from, to)| Range { from, to }),
            None => single.and_then(|()| value(text)).map(|v| Range { from: Some(v), to: Some(v) }),
        };
        let Some(range) = range.filter(|r| r.from.is_some() || r.to.is_some()) else {
            let advice = match signed(text) {
                Some(_) => format!("write `{key}: {text}..` for that and more, or `{key}: ..{text}` for that and less"),
                None => "write `200..` for 200 and more, `..200` for 200 and less, `10..18` for both".to_owned(),
            };
            self.error(NOT_A_RANGE, node.span, format!("`{key}` needs a range, not {}", quoted(text)), advice);
            return None;
        };
        if range.from.zip(range.to).is_some_and(|(from, to)| from > to) {
            let message = format!("`{key}` ends before it begins: {}", quoted(text));
            self.error(RANGE_BACKWARDS, node.span, message, "write the smaller figure first");
            return None;
        }
        Some(range)
    }

    /// A Handicap Index, plus handicaps negative inside.
    pub fn handicap_index(&mut self, node: &Node, key: &str) -> Option<Tenths> {
        let text = self.raw(node, key)?;
        match HandicapIndex::parse(text) {
            Ok(index) => Some(index.value()),
            Err(error) if matches!(error.fault, Fault::Minus(_)) => {
                self.minus_handicap(node.span, key, text);
                None
            }
            Err(error) => {
                let message = format!("`{key}` needs a Handicap Index, not {}", quoted(text));
                self.error(NOT_A_HANDICAP, node.span, message, error.fault.to_string());
                None
            }
        }
    }

    fn minus_handicap(&mut self, span: Span, key: &str, text: &str) {
        let plus = text.replace(['-', '\u{2212}'], "+");
        let message = format!("`{key}` is {}, and a handicap is never written with a minus", quoted(text));
        let advice = format!("better than scratch is written with a plus: `{plus}`");
        self.error(MINUS_HANDICAP, span, message, advice);
    }

    /// A figure in tenths within bounds, as a Course Rating.
    pub fn tenths(&mut self, node: &Node, key: &str, bounds: Bounds) -> Option<Tenths> {
        let text = self.raw(node, key)?;
        match Tenths::parse(text) {
            Ok(value) => self.within(f64::from(value.tenths()) / 10.0, node.span, key, bounds).map(|_| value),
            Err(error) => {
                let message = format!("`{key}` needs a figure in tenths, not {}", quoted(text));
                self.error(NOT_A_NUMBER, node.span, message, error.fault.to_string());
                None
            }
        }
    }

    /// A Slope Rating.
    pub fn slope(&mut self, node: &Node, key: &str) -> Option<u16> {
        let text = self.raw(node, key)?;
        let slope = SlopeRating::parse(text).ok().and_then(|slope| u16::try_from(slope.value()).ok());
        if slope.is_none() {
            let message =
                format!("`{key}` cannot be {}: a Slope Rating is a whole number from 55 to 155", quoted(text));
            self.error(
                SLOPE_RANGE,
                node.span,
                message,
                "take it from the rating table; 113 is a course of standard difficulty",
            );
        }
        slope
    }

    /// `rating` and `slope` of an opened map.
    pub fn rating(&mut self, fields: &Fields<'_>, bounds: Bounds) -> Option<Rating> {
        let rating = fields.need(self, "rating", "rating: 71.2", |r, n, k| r.tenths(n, k, bounds));
        let slope = fields.need(self, "slope", "slope: 125", Self::slope);
        Some(Rating { rating: rating?, slope: slope? })
    }

    /// One value for both cards, or a map with `men` and `women`.
    pub fn by_card<T: Copy>(
        &mut self,
        node: &Node,
        key: &str,
        mut value: impl FnMut(&mut Self, &Node, &str) -> Option<T>,
    ) -> Option<ByCard<T>> {
        if !matches!(node.kind, Kind::Map(_)) {
            return value(self, node, key).map(ByCard::both);
        }
        let fields = self.fields(node, &format!("`{key}`"), &["men", "women"])?;
        let men = fields.read(self, "men", |r, n, _| value(r, n, key));
        let women = fields.read(self, "women", |r, n, _| value(r, n, key));
        Some(ByCard { men, women })
    }
}

fn end(text: &str, value: impl Fn(&str) -> Option<f64>) -> Option<Option<f64>> {
    let text = text.trim();
    if text.is_empty() { Some(None) } else { value(text).map(Some) }
}
