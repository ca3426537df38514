//! Values of tags: hole numbers, pars, stroke indexes, distances and the names of tees, as mappers write them.
//!
//! # References
//! OpenStreetMap wiki, *Tag:golf=hole* and *Tag:golf=tee*: `ref`, `par`, `handicap`, `dist`, exceptions as `par:red`; the unit
//! of `dist` is stated nowhere, so it is the one in which it agrees with the line.

use super::element::Tags;
use crate::course::{ByCard, Card};
use crate::units::length::METRES_PER_YARD;

/// A hole's number with the letter of its loop and what else stood in `ref`.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Reference {
    /// Its number, 1 to 36.
    pub number: Option<u8>,
    /// The letter of its loop, as `A` in `A3` or `3A`.
    pub letter: Option<char>,
    /// What else stood there, as a name.
    pub rest: Option<String>,
}

/// Reads `ref`: `4`, `04`, `A3`, `3B`, `14 - Some Name`.
pub fn reference(text: &str) -> Reference {
    let text = text.trim();
    let Some(start) = text.find(|c: char| c.is_ascii_digit()) else {
        return Reference { rest: Some(text.to_owned()).filter(|t| !t.is_empty()), ..Reference::default() };
    };
    let (before, from) = text.split_at(start);
    let end = from.find(|c: char| !c.is_ascii_digit()).unwrap_or(from.len());
    let (digits, after) = from.split_at(end);
    let number = digits.parse::<u8>().ok().filter(|n| (1..=36).contains(n));
    let lone = |part: &str| {
        let part = part.trim().trim_matches(['-', '.', '_', '/', ' ']);
        let mut letters = part.chars();
        letters.next().filter(|c| c.is_alphabetic() && letters.next().is_none())
    };
    let letter = lone(before).or_else(|| lone(after)).map(|c| c.to_ascii_uppercase());
    let rest = after.trim().trim_start_matches(['-', '.', ':', ',', ' ']).trim();
    let rest = (rest.chars().count() > 1).then(|| rest.to_owned());
    Reference { number, letter, rest }
}

/// Whom the part of a key after its colon means.
fn card_of(suffix: &str) -> Option<Card> {
    match suffix {
        "men" | "male" | "m" | "gents" => Some(Card::Men),
        "women" | "female" | "w" | "ladies" => Some(Card::Women),
        _ => None,
    }
}

/// A whole number within bounds for both cards, with exceptions by card; the keys that were not understood.
pub fn by_card(tags: &Tags, key: &str, least: u8, most: u8) -> (ByCard<u8>, Vec<String>) {
    let number = |text: &str| text.trim().parse::<u8>().ok().filter(|n| (least..=most).contains(n));
    let both = tags.get(key).and_then(number);
    let mut value = ByCard { men: both, women: both };
    let mut odd = Vec::new();
    if let Some(text) = tags.get(key).filter(|_| both.is_none()) {
        odd.push(format!("{key}={text}"));
    }
    for (name, text) in &tags.0 {
        let Some(suffix) = name.strip_prefix(key).and_then(|rest| rest.strip_prefix(':')) else { continue };
        match (card_of(&suffix.to_lowercase()), number(text)) {
            (Some(Card::Men), Some(n)) => value.men = Some(n),
            (Some(Card::Women), Some(n)) => value.women = Some(n),
            _ => odd.push(format!("{name}={text}")),
        }
    }
    (value, odd)
}

/// A distance as written, in yards, set against the measured line: the nearer of both units where none is given. `None` when
/// it is no distance or disagrees with the line by more than 15 % (open-formats 1.4).
pub fn distance(text: &str, line: f64) -> Option<f64> {
    let text = text.trim().replace(',', "");
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(text.len());
    let (figure, unit) = text.split_at(end);
    let figure: f64 = figure.parse().ok()?;
    let in_metres = figure / METRES_PER_YARD;
    let yards = match unit.trim().to_lowercase().as_str() {
        "m" | "metres" | "meters" => in_metres,
        "yd" | "y" | "yds" | "yards" => figure,
        "ft" | "'" | "feet" => figure / 3.0,
        "" if (in_metres - line).abs() < (figure - line).abs() => in_metres,
        "" => figure,
        _ => return None,
    };
    ((yards - line).abs() <= 0.15 * line).then_some(yards)
}

/// The names of the tee sets that a tee is for: `gold;white` is two. Without any, none.
pub fn tee_names(tags: &Tags) -> Vec<String> {
    let text = ["tee", "colour", "color", "tee:colour"].iter().find_map(|key| tags.get(key)).or_else(|| {
        // A name that says more than the set, as "12th tee", names no set.
        tags.get("name").filter(|name| !name.chars().any(|c| c.is_ascii_digit()))
    });
    let names = text.into_iter().flat_map(|t| t.split([';', ',', '/'])).map(str::trim).filter(|t| !t.is_empty());
    names.filter(|t| t.chars().count() <= 24 && !t.starts_with('#')).map(capital).collect()
}

/// With a capital letter where it is written in small ones.
fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn references_are_read_as_mappers_write_them() {
        let of = |text| {
            let r = reference(text);
            (r.number, r.letter, r.rest)
        };
        assert_eq!(of("4"), (Some(4), None, None));
        assert_eq!(of("04"), (Some(4), None, None));
        assert_eq!(of("A3"), (Some(3), Some('A'), None));
        assert_eq!(of("3b"), (Some(3), Some('B'), None));
        assert_eq!(of("14 - Long Reach"), (Some(14), None, Some("Long Reach".to_owned())));
        assert_eq!(of("99").0, None);
        assert_eq!(of("practice"), (None, None, Some("practice".to_owned())));
    }

    #[test]
    fn a_distance_without_a_unit_is_the_one_that_fits_the_line() {
        assert_eq!(distance("385", 380.0), Some(385.0));
        assert!((distance("385", 424.0).unwrap_or_default() - 421.04).abs() < 0.01, "metres");
        assert_eq!(distance("1,155 ft", 380.0), Some(385.0));
        assert_eq!(distance("385 yd", 300.0), None, "it disagrees with the line");
    }

    #[test]
    fn cards_have_their_exceptions() {
        let tags =
            Tags(vec![("par".into(), "4".into()), ("par:women".into(), "5".into()), ("par:red".into(), "5".into())]);
        let (par, odd) = by_card(&tags, "par", 3, 6);
        assert_eq!((par.men, par.women), (Some(4), Some(5)));
        assert_eq!(odd, ["par:red=5"]);
    }

    #[test]
    fn a_tee_may_belong_to_two_sets() {
        let tags = Tags(vec![("tee".into(), "gold;white".into())]);
        assert_eq!(tee_names(&tags), ["Gold", "White"]);
    }
}
