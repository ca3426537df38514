//! Figures and holes in words.

use crate::handicap::Play;
use crate::units::tenths::Exact;

/// `hole 7`, `holes 7 and 9`, `holes 10 to 18`.
pub fn hole_words(holes: &[u8]) -> String {
    match holes {
        [] => "no hole".to_owned(),
        [one] => format!("hole {one}"),
        [one, two] => format!("holes {one} and {two}"),
        [first, .., last] if usize::from(last.saturating_sub(*first)) + 1 == holes.len() => {
            format!("holes {first} to {last}")
        }
        _ => format!("holes {}", holes.iter().map(u8::to_string).collect::<Vec<_>>().join(", ")),
    }
}

/// A figure with a fraction, `36 1/3`.
pub fn mixed(numerator: i64, denominator: i64) -> String {
    if denominator <= 1 {
        return numerator.to_string();
    }
    let (mut a, mut b) = (numerator.abs(), denominator);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    let (numerator, denominator) = (numerator / a.max(1), denominator / a.max(1));
    let (whole, rest) = (numerator.abs() / denominator, numerator.abs() % denominator);
    let sign = if numerator < 0 { "-" } else { "" };
    match (whole, rest) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, rest) => format!("{sign}{rest}/{denominator}"),
        (whole, rest) => format!("{sign}{whole} {rest}/{denominator}"),
    }
}

/// Points that may be halves or thirds, in hundredths at most.
pub fn points_text(points: Exact) -> String {
    if points.is_whole() {
        return points.to_whole().to_string();
    }
    let hundredths = points.rounded(2);
    format!("{}.{:02}", hundredths / 100, hundredths % 100).trim_end_matches('0').to_owned()
}

/// The format's name for people, a merit table named as such.
pub fn play_words(play: Option<Play>) -> String {
    play.map_or_else(|| "points for places".to_owned(), |play| play.to_string())
}
