//! Exact decimals of the handicap trade: tenths, ratios, a Handicap Index, a Slope Rating; how they are read and printed.
//!
//! Nothing here is a binary float: `11.3 × 124 / 113 + 0.1` is 12.5 exactly and rounds to 13, which doubles get wrong.

use std::cmp::Ordering;
use std::fmt;
use std::num::NonZeroU32;
use std::ops::{Add, Mul, Neg, Sub};

/// An exact ratio of two integers, always in lowest terms.
///
/// Sums and products of the handicap rules stay far below 2^127; the denominators are 10, 100, 113, a slope and a count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Exact {
    numerator: i128,
    denominator: i128,
}

fn greatest_common_divisor(mut a: i128, mut b: i128) -> i128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.abs()
}

impl Exact {
    /// Nought.
    pub const ZERO: Exact = Exact::whole(0);

    /// A whole number.
    pub const fn whole(value: i64) -> Exact {
        Exact { numerator: value as i128, denominator: 1 }
    }

    /// `numerator / denominator`.
    pub fn ratio(numerator: i64, denominator: NonZeroU32) -> Exact {
        Exact::reduced(i128::from(numerator), i128::from(denominator.get()))
    }

    /// So many hundredths: a handicap allowance of 95 per cent is `Exact::hundredths(95)`.
    pub fn hundredths(value: i64) -> Exact {
        Exact::reduced(i128::from(value), 100)
    }

    /// So many thousandths.
    pub fn thousandths(value: i64) -> Exact {
        Exact::reduced(i128::from(value), 1000)
    }

    /// Half of the value, exactly.
    pub fn halved(self) -> Exact {
        Exact::reduced(self.numerator, self.denominator * 2)
    }

    /// The value shared among `parts`.
    pub fn divided_by(self, parts: NonZeroU32) -> Exact {
        Exact::reduced(self.numerator, self.denominator * i128::from(parts.get()))
    }

    // Callers guarantee a denominator above zero.
    fn reduced(numerator: i128, denominator: i128) -> Exact {
        let divisor = greatest_common_divisor(numerator, denominator).max(1);
        Exact { numerator: numerator / divisor, denominator: denominator / divisor }
    }

    /// The one rounding of the handicap rules: nearest, exact halves towards plus infinity; the result counts units of
    /// the last place kept (`places` = 1: tenths).
    ///
    /// # References
    /// Rules of Handicapping 5.1a, 6.1, 6.2 (".5 rounded upwards"); 5.1c (negative differentials "upward towards 0");
    /// Appendix C 2024 (a plus player "moves up towards zero including rounding").
    pub fn rounded(self, places: u32) -> i64 {
        let scale = 10_i128.pow(places.min(9));
        let doubled = 2 * self.numerator * scale + self.denominator;
        let floor = doubled.div_euclid(2 * self.denominator);
        i64::try_from(floor).unwrap_or(if floor < 0 { i64::MIN } else { i64::MAX })
    }

    /// Rounded to the nearest whole number, halves towards plus infinity.
    pub fn to_whole(self) -> i32 {
        saturate(self.rounded(0))
    }

    /// Rounded to the nearest tenth, halves towards plus infinity.
    pub fn to_tenths(self) -> Tenths {
        Tenths(saturate(self.rounded(1)))
    }

    /// True when the value is a whole number.
    pub fn is_whole(self) -> bool {
        self.denominator == 1
    }

    /// Decimal text cut off (not rounded) after `places`, towards zero: `13.5752`.
    pub fn truncated(self, places: u32) -> String {
        let places = places.min(9);
        let scale = 10_i128.pow(places);
        let units = self.numerator * scale / self.denominator;
        let sign = if units < 0 { "-" } else { "" };
        let units = units.abs();
        if places == 0 {
            return format!("{sign}{units}");
        }
        let width = places as usize;
        format!("{sign}{}.{:0width$}", units / scale, units % scale)
    }
}

fn saturate(value: i64) -> i32 {
    i32::try_from(value).unwrap_or(if value < 0 { i32::MIN } else { i32::MAX })
}

impl Add for Exact {
    type Output = Exact;
    fn add(self, other: Exact) -> Exact {
        if self.denominator == other.denominator {
            return Exact::reduced(self.numerator + other.numerator, self.denominator);
        }
        Exact::reduced(
            self.numerator * other.denominator + other.numerator * self.denominator,
            self.denominator * other.denominator,
        )
    }
}

impl Neg for Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        Exact { numerator: -self.numerator, denominator: self.denominator }
    }
}

impl Sub for Exact {
    type Output = Exact;
    fn sub(self, other: Exact) -> Exact {
        self + -other
    }
}

impl Mul for Exact {
    type Output = Exact;
    fn mul(self, other: Exact) -> Exact {
        Exact::reduced(self.numerator * other.numerator, self.denominator * other.denominator)
    }
}

impl std::iter::Sum for Exact {
    fn sum<I: Iterator<Item = Exact>>(items: I) -> Exact {
        items.fold(Exact::ZERO, Add::add)
    }
}

impl PartialOrd for Exact {
    fn partial_cmp(&self, other: &Exact) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Exact {
    fn cmp(&self, other: &Exact) -> Ordering {
        (self.numerator * other.denominator).cmp(&(other.numerator * self.denominator))
    }
}

/// Four places, cut off towards zero, as the working shows them.
impl fmt::Display for Exact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.truncated(4))
    }
}

impl From<Tenths> for Exact {
    fn from(value: Tenths) -> Exact {
        value.exact()
    }
}

/// A decimal with one place, held as a count of tenths: a Course Rating, a Score Differential, a correction.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tenths(i32);

impl Tenths {
    /// So many tenths: `Tenths::new(712)` is 71.2.
    pub const fn new(tenths: i32) -> Tenths {
        Tenths(tenths)
    }

    /// A whole number of units.
    pub const fn whole(value: i32) -> Tenths {
        Tenths(value.saturating_mul(10))
    }

    /// The count of tenths.
    pub const fn tenths(self) -> i32 {
        self.0
    }

    /// The same value as an exact ratio.
    pub fn exact(self) -> Exact {
        Exact::reduced(i128::from(self.0), 10)
    }

    /// Reads `71.2`, `71`, `-1.3`: at most one decimal, an optional minus.
    ///
    /// # Errors
    /// [`FigureError`] names the text and the fault.
    pub fn parse(text: &str) -> Result<Tenths, FigureError> {
        let trimmed = text.trim();
        let fault = |fault| FigureError::new(trimmed, fault);
        let (negative, digits) = match trimmed.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (true, rest),
            None => (false, trimmed),
        };
        let tenths = plain_tenths(digits).map_err(fault)?;
        Ok(Tenths(if negative { -tenths } else { tenths }))
    }
}

impl Add for Tenths {
    type Output = Tenths;
    fn add(self, other: Tenths) -> Tenths {
        Tenths(self.0.saturating_add(other.0))
    }
}

impl Sub for Tenths {
    type Output = Tenths;
    fn sub(self, other: Tenths) -> Tenths {
        Tenths(self.0.saturating_sub(other.0))
    }
}

/// Signed decimal text: `28.2`, `-2.3`.
impl fmt::Display for Tenths {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let size = self.0.unsigned_abs();
        f.pad(&format!("{sign}{}.{}", size / 10, size % 10))
    }
}

// Digits with at most one decimal, no sign, at most four digits before the point.
fn plain_tenths(text: &str) -> Result<i32, Fault> {
    let (whole, decimals) = match text.split_once('.') {
        Some((whole, decimals)) => (whole, Some(decimals)),
        None => (text, None),
    };
    let all_digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    if !all_digits(whole) || decimals.is_some_and(|d| !all_digits(d)) {
        return Err(Fault::NotANumber);
    }
    if decimals.is_some_and(|d| d.len() > 1) {
        return Err(Fault::TooManyDecimals);
    }
    let whole = whole.trim_start_matches('0');
    if whole.len() > 4 {
        return Err(Fault::TooLong);
    }
    let digits = format!("{whole}{}", decimals.unwrap_or("0"));
    digits.parse().map_err(|_| Fault::NotANumber)
}

/// A Handicap Index; better than scratch is negative inside and written with a plus: `+1.3` is −1.3.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HandicapIndex(Tenths);

impl HandicapIndex {
    /// The highest index there is, 54.0 (Rules of Handicapping 5.3).
    pub const MAXIMUM: HandicapIndex = HandicapIndex(Tenths::new(540));

    /// An index from its value, plus handicaps negative; `None` above 54.0.
    pub fn new(value: Tenths) -> Option<HandicapIndex> {
        (value <= HandicapIndex::MAXIMUM.0).then_some(HandicapIndex(value))
    }

    /// The value, plus handicaps negative.
    pub const fn value(self) -> Tenths {
        self.0
    }

    /// Reads an index as the trade writes it: `12.4`, `+1.3`, also `plus 1.3` and a spreadsheet's `'+1.3`.
    ///
    /// # Errors
    /// [`FigureError`] for a minus sign (with the right spelling), two decimals, above 54.0, anything not a number.
    pub fn parse(text: &str) -> Result<HandicapIndex, FigureError> {
        let trimmed = text.trim();
        let fault = |fault| FigureError::new(trimmed, fault);
        let (plus, digits) = trade_sign(trimmed).map_err(fault)?;
        let tenths = plain_tenths(digits).map_err(fault)?;
        if !plus && tenths > HandicapIndex::MAXIMUM.0.tenths() {
            return Err(fault(Fault::IndexTooHigh));
        }
        if tenths > 999 {
            return Err(fault(Fault::TooLong));
        }
        Ok(HandicapIndex(Tenths(if plus { -tenths } else { tenths })))
    }
}

/// As the trade writes it: `12.4`, `+1.3`.
impl fmt::Display for HandicapIndex {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let tenths = self.0.tenths();
        let size = tenths.unsigned_abs();
        let sign = if tenths < 0 { "+" } else { "" };
        f.pad(&format!("{sign}{}.{}", size / 10, size % 10))
    }
}

// The sign of a handicap and the digits behind it.
fn trade_sign(text: &str) -> Result<(bool, &str), Fault> {
    let bare = text.strip_prefix('\'').unwrap_or(text);
    let worded = bare.get(..5).filter(|word| word.eq_ignore_ascii_case("plus ")).and_then(|_| bare.get(5..));
    if let Some(rest) = worded {
        return Ok((true, rest.trim_start()));
    }
    if let Some(rest) = bare.strip_prefix('+') {
        return Ok((true, rest));
    }
    match bare.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => {
            let rest = rest.trim_start();
            plain_tenths(rest)?;
            Err(Fault::Minus(rest.to_owned()))
        }
        None => Ok((false, bare)),
    }
}

/// Reads a whole Course or Playing Handicap as the trade writes it: `14`, `+2` (which is −2).
///
/// # Errors
/// [`FigureError`] for a minus sign, decimals, more than two digits, anything not a number.
pub fn parse_whole_handicap(text: &str) -> Result<i32, FigureError> {
    let trimmed = text.trim();
    let fault = |fault| FigureError::new(trimmed, fault);
    let (plus, digits) = trade_sign(trimmed).map_err(fault)?;
    let tenths = plain_tenths(digits).map_err(fault)?;
    if digits.contains('.') {
        return Err(fault(Fault::NotWhole));
    }
    if tenths > 990 {
        return Err(fault(Fault::TooLong));
    }
    Ok(if plus { -(tenths / 10) } else { tenths / 10 })
}

/// Writes a whole handicap as the trade does: `14`, `+2` for −2.
pub fn whole_handicap_text(value: i32) -> String {
    if value < 0 { format!("+{}", value.unsigned_abs()) } else { value.to_string() }
}

/// A Slope Rating, 55 to 155; 113 is standard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SlopeRating(NonZeroU32);

impl SlopeRating {
    /// The lowest slope there is.
    pub const LOWEST: u32 = 55;
    /// The highest slope there is.
    pub const HIGHEST: u32 = 155;
    /// The slope of a course of standard difficulty.
    pub const STANDARD: NonZeroU32 = match NonZeroU32::new(113) {
        Some(slope) => slope,
        None => NonZeroU32::MIN,
    };

    /// A slope, `None` outside 55 to 155.
    pub fn new(value: u32) -> Option<SlopeRating> {
        if (SlopeRating::LOWEST..=SlopeRating::HIGHEST).contains(&value) {
            NonZeroU32::new(value).map(SlopeRating)
        } else {
            None
        }
    }

    /// Reads `131`.
    ///
    /// # Errors
    /// [`FigureError`] outside 55 to 155 or when not a whole number.
    pub fn parse(text: &str) -> Result<SlopeRating, FigureError> {
        let trimmed = text.trim();
        trimmed.parse::<u32>().ok().and_then(SlopeRating::new).ok_or_else(|| FigureError::new(trimmed, Fault::Slope))
    }

    /// The number itself.
    pub fn value(self) -> u32 {
        self.0.get()
    }

    /// `slope / 113`, what a Handicap Index is multiplied by.
    pub fn over_standard(self) -> Exact {
        Exact::ratio(i64::from(self.value()), SlopeRating::STANDARD)
    }

    /// `113 / slope`, what strokes above the rating are multiplied by.
    pub fn standard_over(self) -> Exact {
        Exact::ratio(i64::from(SlopeRating::STANDARD.get()), self.0)
    }
}

impl fmt::Display for SlopeRating {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, f)
    }
}

/// A text that was to be a figure, and what is wrong with it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{text}`: {fault}")]
pub struct FigureError {
    /// The text as it stood.
    pub text: String,
    /// What is wrong.
    pub fault: Fault,
}

impl FigureError {
    fn new(text: &str, fault: Fault) -> FigureError {
        FigureError { text: text.to_owned(), fault }
    }
}

/// What can be wrong with a figure.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// Letters, `NaN`, nothing, a lone point.
    #[error("not a decimal number; write it like 12.4")]
    NotANumber,
    /// More than one decimal.
    #[error("too many decimals; one is allowed, like 12.4")]
    TooManyDecimals,
    /// A decimal where a whole number is due.
    #[error("a whole number is needed here, like 14 or +2")]
    NotWhole,
    /// More digits than any figure of the game has.
    #[error("larger than any figure of this kind")]
    TooLong,
    /// A minus before a handicap.
    #[error("a handicap better than scratch is written with a plus, `+{0}`; a minus is never written")]
    Minus(String),
    /// An index above the maximum.
    #[error("the highest Handicap Index is 54.0")]
    IndexTooHigh,
    /// A slope out of bounds.
    #[error("a Slope Rating is a whole number from 55 to 155")]
    Slope,
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn halves_go_up() {
        // Rules of Handicapping 5.1c and section 0 of the specification.
        let tenth = |hundredths| Exact::hundredths(hundredths).to_tenths().to_string();
        assert_eq!(tenth(-154), "-1.5");
        assert_eq!(tenth(-155), "-1.5");
        assert_eq!(tenth(-156), "-1.6");
        assert_eq!(tenth(-565), "-5.6");
        assert_eq!(tenth(565), "5.7");
        assert_eq!(Exact::hundredths(1250).to_whole(), 13);
        assert_eq!(Exact::hundredths(-150).to_whole(), -1);
        assert_eq!(Exact::hundredths(-151).to_whole(), -2);
    }

    #[test]
    fn index_as_the_trade_writes_it() {
        let read = |text: &str| HandicapIndex::parse(text).map(|i| i.value().tenths());
        assert_eq!(read("12.4"), Ok(124));
        assert_eq!(read("12"), Ok(120));
        assert_eq!(read("+1.3"), Ok(-13));
        assert_eq!(read("'+1.3"), Ok(-13));
        assert_eq!(read("Plus 1.3"), Ok(-13));
        assert_eq!(read("54.0"), Ok(540));
        let fault = |text: &str| read(text).unwrap_err().fault;
        assert_eq!(fault("-1.3"), Fault::Minus("1.3".into()));
        assert_eq!(fault("\u{2212}1.3"), Fault::Minus("1.3".into()));
        assert_eq!(fault("54.1"), Fault::IndexTooHigh);
        assert_eq!(fault("12.45"), Fault::TooManyDecimals);
        for text in ["NaN", "inf", "", ".", "12.", "1e1", "--1", "+-1", "12,4"] {
            assert_eq!(fault(text), Fault::NotANumber, "{text}");
        }
        assert!(read("-1.3").unwrap_err().to_string().contains("written with a plus, `+1.3`"));
    }

    #[test]
    fn whole_handicaps() {
        assert_eq!(parse_whole_handicap("+2"), Ok(-2));
        assert_eq!(parse_whole_handicap("21"), Ok(21));
        assert_eq!(parse_whole_handicap("2.5").unwrap_err().fault, Fault::NotWhole);
        assert_eq!(whole_handicap_text(-2), "+2");
    }

    #[test]
    fn slope_bounds() {
        assert!(SlopeRating::parse("54").is_err());
        assert!(SlopeRating::parse("156").is_err());
        assert_eq!(SlopeRating::parse("155").map(SlopeRating::value), Ok(155));
    }

    #[test]
    fn cut_off_towards_zero() {
        assert_eq!(Exact::thousandths(-1999).truncated(2), "-1.99");
        assert_eq!(Exact::thousandths(-1).truncated(2), "0.00");
        assert_eq!(Exact::thousandths(12_345).truncated(4), "12.3450");
    }

    proptest! {
        #[test]
        fn an_index_reads_back(tenths in -999_i32..=540) {
            let index = HandicapIndex::new(Tenths::new(tenths)).unwrap();
            prop_assert_eq!(HandicapIndex::parse(&index.to_string()), Ok(index));
            prop_assert_eq!(Tenths::parse(&index.value().to_string()), Ok(index.value()));
        }

        #[test]
        fn rounding_is_nearest_and_up(n in -100_000_i64..100_000, d in 1_u32..400) {
            let exact = Exact::ratio(n, NonZeroU32::new(d).unwrap());
            let error = Exact::whole(exact.rounded(0)) - exact;
            prop_assert!(error <= Exact::hundredths(50) && error > Exact::hundredths(-50));
        }
    }
}
