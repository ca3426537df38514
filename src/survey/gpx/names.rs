//! Names of waypoints, typed with cold thumbs: `1T white`, `1 B`, `1 SNR`, `1-F`, `A4 M150 left`, `12WNL`.

use crate::survey::track::metres;

/// What a point means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Code {
    /// A tee.
    Tee,
    /// A bend of the line.
    Bend,
    /// The front of the green.
    Front,
    /// Its middle.
    Centre,
    /// Its back.
    Back,
    /// A point on its edge.
    Edge,
    /// A bunker.
    Bunker,
    /// The near edge of a bunker.
    BunkerNear,
    /// The far edge of a bunker.
    BunkerFar,
    /// Water.
    Water,
    /// The near edge of water.
    WaterNear,
    /// The far edge of water.
    WaterFar,
    /// The edge of a red penalty area.
    Red,
    /// The edge of a yellow penalty area.
    Yellow,
    /// A point of the boundary.
    Out,
    /// A tree.
    Tree,
    /// A distance marker.
    Marker,
    /// An aim point.
    Aim,
    /// A note.
    Note,
}

/// Codes by their letters, longer ones before those that begin them.
const CODES: [(&str, Code); 19] = [
    ("SN", Code::BunkerNear),
    ("SF", Code::BunkerFar),
    ("WN", Code::WaterNear),
    ("WF", Code::WaterFar),
    ("PR", Code::Red),
    ("PY", Code::Yellow),
    ("T", Code::Tee),
    ("B", Code::Bend),
    ("F", Code::Front),
    ("C", Code::Centre),
    ("K", Code::Back),
    ("G", Code::Edge),
    ("S", Code::Bunker),
    ("W", Code::Water),
    ("O", Code::Out),
    ("X", Code::Tree),
    ("M", Code::Marker),
    ("A", Code::Aim),
    ("N", Code::Note),
];

/// Colours that are written against the code, as in `7Twhite`.
const COLOURS: [&str; 12] =
    ["white", "yellow", "red", "blue", "black", "gold", "green", "orange", "silver", "purple", "back", "forward"];

/// The radius of a bunker of which only the place is known, yards.
pub const BUNKER: f64 = metres(5.0);

impl Code {
    /// Whether a side may follow.
    const fn has_side(self) -> bool {
        matches!(
            self,
            Self::Bunker
                | Self::BunkerNear
                | Self::BunkerFar
                | Self::Water
                | Self::WaterNear
                | Self::WaterFar
                | Self::Out
                | Self::Tree
                | Self::Red
                | Self::Yellow
                | Self::Marker
        )
    }

    /// Whether several points of one name are several points, and not one that was taken twice.
    pub const fn repeats(self) -> bool {
        matches!(
            self,
            Self::Bend
                | Self::Edge
                | Self::Bunker
                | Self::Water
                | Self::Red
                | Self::Yellow
                | Self::Out
                | Self::Tree
                | Self::Note
        )
    }
}

/// A name taken apart.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Default)]
pub struct Name {
    /// The letter of a loop or course.
    pub course: Option<char>,
    /// The hole.
    pub hole: Option<u8>,
    /// What the point means.
    pub code: Option<Code>,
    /// Its side, `L`, `R` or `C`.
    pub side: Option<char>,
    /// Its serial number, or what a marker reads.
    pub number: Option<u16>,
    /// The words after it.
    pub words: String,
}

fn is_separator(c: char) -> bool {
    matches!(c, ' ' | '-' | '.' | '/' | '_' | ',' | '\t')
}

/// Takes a name apart. What is not understood stays in the words.
pub fn name_of(text: &str) -> Name {
    let text = text.trim();
    let (course, hole, rest) = hole(text);
    if let Some((code, side, number, words)) = code(rest) {
        return Name { course, hole, code: Some(code), side, number, words: words.to_owned() };
    }
    Name { course, hole, words: rest.trim_matches(is_separator).to_owned(), ..Name::default() }
}

fn hole(text: &str) -> (Option<char>, Option<u8>, &str) {
    let nothing = (None, None, text);
    let first = text.chars().next();
    let letter = first.filter(char::is_ascii_alphabetic);
    let from = text.get(letter.map_or(0, char::len_utf8)..).unwrap_or_default();
    let end = from.find(|c: char| !c.is_ascii_digit()).unwrap_or(from.len());
    let (digits, rest) = from.split_at(end);
    match digits.parse::<u8>() {
        Ok(number) if (1..=2).contains(&digits.len()) && (1..=36).contains(&number) => {
            (letter.map(|c| c.to_ascii_uppercase()), Some(number), rest.trim_start_matches(is_separator))
        }
        _ => nothing,
    }
}

/// The code at the start of the rest: the longest that leaves something that can follow it.
fn code(rest: &str) -> Option<(Code, Option<char>, Option<u16>, &str)> {
    CODES.iter().find_map(|(letters, code)| {
        let head = rest.get(..letters.len())?;
        if !head.eq_ignore_ascii_case(letters) {
            return None;
        }
        let mut after = rest.get(letters.len()..)?;
        let mut side = None;
        if code.has_side()
            && let Some(c) = after.chars().next().map(|c| c.to_ascii_uppercase()).filter(|c| "LRC".contains(*c))
        {
            let then = after.chars().nth(1);
            if then.is_none_or(|c| is_separator(c) || c.is_ascii_digit()) {
                side = Some(c);
                after = after.get(1..)?;
            }
        }
        let end = after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len());
        let (digits, after) = after.split_at(end);
        let number = digits.parse().ok();
        let words = after.trim_matches(is_separator);
        let joined = !after.is_empty() && !after.starts_with(is_separator);
        let colour = *code == Code::Tee && COLOURS.iter().any(|c| after.eq_ignore_ascii_case(c));
        if joined && !colour {
            return None;
        }
        // `4 M 150`: what a marker reads may stand apart.
        let (number, words) = match number {
            None if *code == Code::Marker => {
                let end = words.find(|c: char| !c.is_ascii_digit()).unwrap_or(words.len());
                let (digits, rest) = words.split_at(end);
                (digits.parse().ok(), rest.trim_matches(is_separator))
            }
            number => (number, words),
        };
        Some((*code, side, number, words))
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn of(text: &str) -> (Option<u8>, Option<Code>, Option<char>, Option<u16>, String) {
        let n = name_of(text);
        (n.hole, n.code, n.side, n.number, n.words)
    }

    /// The examples of open-formats 2.3.
    #[test]
    fn the_examples_are_read() {
        assert_eq!(of("1T white"), (Some(1), Some(Code::Tee), None, None, "white".into()));
        assert_eq!(of("1 B"), (Some(1), Some(Code::Bend), None, None, String::new()));
        assert_eq!(of("1 SNR"), (Some(1), Some(Code::BunkerNear), Some('R'), None, String::new()));
        assert_eq!(of("1 SFR"), (Some(1), Some(Code::BunkerFar), Some('R'), None, String::new()));
        assert_eq!(of("1-F"), (Some(1), Some(Code::Front), None, None, String::new()));
        assert_eq!(of("1.C"), (Some(1), Some(Code::Centre), None, None, String::new()));
        assert_eq!(of("1/K"), (Some(1), Some(Code::Back), None, None, String::new()));
        assert_eq!(of("12WNL"), (Some(12), Some(Code::WaterNear), Some('L'), None, String::new()));
        let marker = name_of("A4 M150 left");
        assert_eq!(
            (marker.course, marker.hole, marker.code, marker.number),
            (Some('A'), Some(4), Some(Code::Marker), Some(150))
        );
        assert_eq!(marker.words, "left");
    }

    #[test]
    fn case_blanks_and_serials_do_not_matter() {
        assert_eq!(of("7 t WHITE").1, Some(Code::Tee));
        assert_eq!(of("7twhite"), (Some(7), Some(Code::Tee), None, None, "white".into()));
        assert_eq!(of("3B1"), (Some(3), Some(Code::Bend), None, Some(1), String::new()));
        assert_eq!(of("3 SL2"), (Some(3), Some(Code::Bunker), Some('L'), Some(2), String::new()));
        assert_eq!(of("4M150").3, Some(150));
        assert_eq!(of("4 m 150").3, Some(150));
        assert_eq!(of("07_G"), (Some(7), Some(Code::Edge), None, None, String::new()));
        assert_eq!(of("5PRL"), (Some(5), Some(Code::Red), Some('L'), None, String::new()));
    }

    #[test]
    fn what_is_no_code_stays_as_words() {
        assert_eq!(of("7 Tree on the left"), (Some(7), None, None, None, "Tree on the left".into()));
        assert_eq!(of("WPT 12"), (None, None, None, None, "WPT 12".into()));
        assert_eq!(of("001"), (None, None, None, None, "001".into()));
        assert_eq!(of("2026-05-03 10:12:44"), (None, None, None, None, "2026-05-03 10:12:44".into()));
        assert_eq!(of("T white"), (None, Some(Code::Tee), None, None, "white".into()));
        assert_eq!(
            of("9 N aim left of the mast"),
            (Some(9), Some(Code::Note), None, None, "aim left of the mast".into())
        );
        assert_eq!(of(""), (None, None, None, None, String::new()));
    }

    proptest::proptest! {
        #[test]
        fn no_name_is_too_odd(text in "\\PC{0,12}") {
            let _ = name_of(&text);
        }
    }
}
