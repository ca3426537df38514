//! The writer's lint: what a club professional should look at in a notebook before others read it. Advice alone; the club's card
//! and the Committee rule.
//!
//! # References
//! Par by length: Rules of Handicapping, Appendix F (reference/open-formats 6.1). Stroke indexes: Rules of Handicapping, Appendix
//! E (reference/handicap-and-rules 5.5). The rest: common practice.

use crate::course::{Card, Course, Hole, Written};
use crate::notebook::{Diagnostic, Node, Span};
use crate::units::length::METRES_PER_YARD;
use crate::units::{Length, LengthUnit};

/// A tee from which no aim applies.
pub const TEE_WITHOUT_AIM: &str = "tee-without-aim";
/// A danger that does not say its side.
pub const DANGER_WITHOUT_SIDE: &str = "danger-without-side";
/// A note too long for the pocket book.
pub const NOTE_TOO_LONG: &str = "note-too-long";
/// An aim that names a person or a house.
pub const AIM_AT_PERSON: &str = "aim-at-a-person-or-house";
/// A par outside the published lengths.
pub const PAR_OUTSIDE: &str = "par-outside-lengths";
/// Stroke indexes against the published guidance.
pub const INDEX_GUIDANCE: &str = "stroke-index-guidance";

/// All of them.
pub const CODES: [&str; 6] =
    [TEE_WITHOUT_AIM, DANGER_WITHOUT_SIDE, NOTE_TOO_LONG, AIM_AT_PERSON, PAR_OUTSIDE, INDEX_GUIDANCE];

/// The longest note that stands on a page of the pocket book beside a hole and its plan, characters: six lines of forty.
pub const POCKET: usize = 240;

/// Yards from and to which a par is published, men and women; `None` is without an end.
type Lengths = (u8, (f64, Option<f64>), (f64, Option<f64>));

/// Appendix F; the metres of the appendix stand beside them and are not the same numbers turned over.
const YARDS: [Lengths; 4] = [
    (3, (0.0, Some(260.0)), (0.0, Some(220.0))),
    (4, (240.0, Some(490.0)), (200.0, Some(420.0))),
    (5, (450.0, Some(710.0)), (370.0, Some(600.0))),
    (6, (670.0, None), (570.0, None)),
];
/// See [`YARDS`].
const METRES: [Lengths; 4] = [
    (3, (0.0, Some(240.0)), (0.0, Some(200.0))),
    (4, (220.0, Some(450.0)), (180.0, Some(380.0))),
    (5, (410.0, Some(650.0)), (340.0, Some(550.0))),
    (6, (610.0, None), (520.0, None)),
];

/// Everything worth a look, in the order of the text. `root` is the text's node tree, for the places.
pub fn advice(course: &Course, root: Option<&Node>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for hole in &course.holes {
        aims(course, hole, &mut found);
        dangers(hole, &mut found);
        lengths(hole, &mut found);
        people(hole, &mut found);
        par(course, hole, root, &mut found);
    }
    for card in Card::BOTH {
        let both = course.holes.iter().all(|h| h.stroke_index.men == h.stroke_index.women);
        if card == Card::Women && both {
            continue;
        }
        indexes(course, card, both, root, &mut found);
    }
    found.sort_by_key(|d: &Diagnostic| (d.span.start, d.span.end));
    found
}

/// Where a key of a hole stands; the hole itself where it is not found.
fn place(root: Option<&Node>, hole: &Hole, key: &str) -> Span {
    let holes = root.and_then(|r| r.get("holes")).map(Node::items).unwrap_or_default();
    let own = holes.iter().find(|h| h.span.start <= hole.span.start && hole.span.start <= h.span.end);
    own.and_then(|h| h.get(key)).map_or(hole.span, |n| n.span)
}

/// A par 3 has its aim too: which half of the green.
fn aims(course: &Course, hole: &Hole, found: &mut Vec<Diagnostic>) {
    let from_tee = |aim: &&crate::course::Aim| aim.from == crate::course::From::Tee;
    let bare: Vec<&str> = hole
        .tees
        .iter()
        .filter(|tee| course.tee(&tee.name).is_some())
        .filter(|tee| {
            !hole
                .aims
                .iter()
                .filter(from_tee)
                .any(|aim| aim.written.when.tees.as_ref().is_none_or(|tees| tees.iter().any(|t| *t == tee.name)))
        })
        .map(|tee| tee.name.as_str())
        .collect();
    if bare.is_empty() {
        return;
    }
    let words = format!("hole {}: no aim from {}", hole.number, bare.join(", "));
    let advice = "write under `aims` where the ball should finish, with something to aim at; a player without it sees the solver's line alone";
    found.push(Diagnostic::warning(TEE_WITHOUT_AIM, hole.span, words).advise(advice));
}

fn dangers(hole: &Hole, found: &mut Vec<Diagnostic>) {
    for danger in hole.dangers.iter().filter(|d| d.side.is_none()) {
        let of = danger.of.as_ref().map(|of| format!(" `{of}`")).unwrap_or_default();
        let words = format!("hole {}: the danger{of} does not say its side", hole.number);
        let advice = "add `side: left`, right, short or long: on the tee the side is what a player asks for";
        found.push(Diagnostic::warning(DANGER_WITHOUT_SIDE, danger.written.span, words).advise(advice));
    }
}

/// Everything written about a hole.
fn written(hole: &Hole) -> impl Iterator<Item = &Written> {
    let aims = hole.aims.iter().map(|a| &a.written);
    let dangers = hole.dangers.iter().map(|d| &d.written);
    let layups = hole.layups.iter().map(|l| &l.written);
    aims.chain(dangers).chain(layups).chain(hole.notes.iter().map(|n| &n.written))
}

fn lengths(hole: &Hole, found: &mut Vec<Diagnostic>) {
    for item in written(hole) {
        let length = item.text.as_ref().map_or(0, |t| t.chars().count());
        if length > POCKET {
            let words = format!("hole {}: {length} characters are too long for the pocket book", hole.number);
            let advice = format!("say it in {POCKET}; what a player needs before the swing is one thing");
            found.push(Diagnostic::warning(NOTE_TOO_LONG, item.span, words).advise(advice));
        }
    }
}

/// What a house is called, and how a person is.
const HOUSES: [&str; 14] = [
    "house",
    "cottage",
    "villa",
    "bungalow",
    "farmhouse",
    "window",
    "windows",
    "conservatory",
    "bedroom",
    "balcony",
    "garden",
    "patio",
    "greenhouse",
    "driveway",
];
/// See [`HOUSES`].
const PEOPLE: [&str; 8] = ["mr", "mrs", "ms", "miss", "dr", "sir", "lady", "rev"];

fn people(hole: &Hole, found: &mut Vec<Diagnostic>) {
    for aim in &hole.aims {
        let texts = [aim.name.as_deref(), aim.landmark.as_deref(), aim.written.text.as_deref()];
        let Some(named) = texts.into_iter().flatten().find_map(names_somebody) else { continue };
        let words = format!("hole {}: this aim names a person or a house, `{named}`", hole.number);
        let advice = "aim at something that stays and is nobody's: a tree, a bunker, the edge of the green; a house gets another owner, and a ball may follow the aim";
        found.push(Diagnostic::warning(AIM_AT_PERSON, aim.written.span, words).advise(advice));
    }
}

/// The words that name a person or a house. The clubhouse is the club's own.
fn names_somebody(text: &str) -> Option<String> {
    let words: Vec<&str> = text.split(|c: char| !(c.is_alphanumeric() || matches!(c, '\'' | '’'))).collect();
    for (nth, word) in words.iter().enumerate() {
        let next = words.get(nth + 1).copied().unwrap_or_default();
        let lower = word.to_lowercase();
        let capital = |w: &str| w.chars().next().is_some_and(char::is_uppercase);
        if HOUSES.contains(&lower.as_str()) {
            return Some((*word).to_owned());
        }
        if PEOPLE.contains(&lower.as_str()) && capital(word) && capital(next) {
            return Some(format!("{word} {next}"));
        }
        // `Hallam's chimney`: something of somebody, whose name has a capital inside a sentence.
        let owner = ["'s", "’s"].iter().find_map(|end| word.strip_suffix(end));
        if nth > 0 && owner.is_some_and(capital) && !next.is_empty() {
            return Some(format!("{word} {next}"));
        }
    }
    None
}

/// Whether a par is published for a length, by the table of the unit in which the course is measured.
fn published(par: u8, yards: f64, card: Card, unit: LengthUnit) -> bool {
    let (table, length) = match unit {
        LengthUnit::Yards => (YARDS, yards),
        LengthUnit::Metres => (METRES, yards * METRES_PER_YARD),
    };
    table.iter().filter(|(p, ..)| *p == par).any(|(_, men, women)| {
        let (from, to) = if card == Card::Men { men } else { women };
        length.round() >= *from && to.is_none_or(|to| length.round() <= to)
    })
}

fn par(course: &Course, hole: &Hole, root: Option<&Node>, found: &mut Vec<Diagnostic>) {
    for card in Card::BOTH {
        let Some(par) = hole.par.on(card) else { continue };
        let rated = |name: &str| course.tee(name).is_some_and(|t| t.ratings.on(card).is_some());
        for tee in hole.tees.iter().filter(|t| rated(&t.name)) {
            if published(par, tee.length, card, course.units) {
                continue;
            }
            let length = Length::yards(tee.length).show(course.units);
            let words = format!(
                "hole {}: par {par} at {length} from {} is outside the published range for the {} card",
                hole.number,
                tee.name,
                card.whose()
            );
            let advice = "the club's card rules; altitude and the lie of the hole may explain it (Rules of Handicapping, Appendix F)";
            let span = place(root, hole, "par");
            found.push(Diagnostic::warning(PAR_OUTSIDE, span, words).advise(advice));
        }
    }
}

/// The guidance for eighteen holes. Fewer have no published pattern.
fn indexes(course: &Course, card: Card, both: bool, root: Option<&Node>, found: &mut Vec<Diagnostic>) {
    let all: Vec<(&Hole, u8)> = course.holes.iter().filter_map(|h| Some((h, h.stroke_index.on(card)?))).collect();
    let mut sorted: Vec<u8> = all.iter().map(|(_, i)| *i).collect();
    sorted.sort_unstable();
    let numbered = all.iter().zip(1..).all(|((h, _), n)| h.number == n);
    if all.len() != 18 || !numbered || !sorted.iter().copied().eq(1..=18) {
        return;
    }
    let whose = if both { String::new() } else { format!(" on the {} card", card.whose()) };
    let mut say = |hole: &Hole, words: String, advice: &str| {
        let span = place(root, hole, "stroke_index");
        let advice = format!("{advice} (Rules of Handicapping, Appendix E); the club's card rules");
        found.push(Diagnostic::warning(INDEX_GUIDANCE, span, words).advise(advice));
    };
    let nine = |front: bool| all.iter().filter(move |(h, _)| (h.number <= 9) == front);
    let odd = |front: bool| nine(front).filter(|(_, i)| i % 2 == 1).count();
    if odd(true) != 9
        && odd(true) != 0
        && let Some((first, _)) = all.first()
    {
        let words = format!("odd and even stroke indexes are mixed on the front nine{whose}: {} odd", odd(true));
        say(first, words, "odd on one nine and even on the other, so that a handicap's strokes fall evenly on both");
    }
    for front in [true, false] {
        let mut order: Vec<(&Hole, u8)> = nine(front).copied().collect();
        order.sort_by_key(|(_, index)| *index);
        let in_nine = |hole: &Hole| if front { hole.number } else { hole.number - 9 };
        let [(lowest, index), (second, next), ..] = order.as_slice() else { continue };
        let place = in_nine(lowest);
        // Holes 3 and 7 of a nine are the neighbours that the guidance allows.
        if !(3..=7).contains(&place) {
            let words = format!(
                "hole {}: the lowest stroke index of its nine, {index}{whose}, stands near its end",
                lowest.number
            );
            say(
                lowest,
                words,
                "the lowest belongs in the middle triad of the nine, so that the stroke comes before a match is over",
            );
        }
        let triad = |hole: &Hole| (in_nine(hole) - 1) / 3;
        if triad(second) == 1 || triad(second) == triad(lowest) {
            let words = format!(
                "hole {}: the second lowest stroke index of its nine, {next}{whose}, stands beside the lowest",
                second.number
            );
            say(
                second,
                words,
                "the second lowest belongs in the first or the third triad of the nine, away from the lowest",
            );
        }
    }
    for pair in all.windows(2) {
        let [(a, first), (b, second)] = pair else { continue };
        if *first <= 6 && *second <= 6 {
            let words = format!(
                "holes {} and {}: stroke indexes {first} and {second}{whose} follow each other",
                a.number, b.number
            );
            say(b, words, "indexes of 6 or less do not stand on consecutive holes");
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::course::read;

    const NOTEBOOK: &str = include_str!("../../sample-courses/corvane.yaml");

    fn codes(text: &str) -> Vec<(&'static str, String)> {
        let course = read(text).0.unwrap();
        let root = crate::notebook::read(text).0;
        advice(&course, root.as_ref()).into_iter().map(|d| (d.code, d.message)).collect()
    }

    /// What comes with a change and is not there without it.
    fn new(code: &str, from: &str, to: &str) -> Vec<String> {
        let of = |text: &str| {
            let all = codes(text).into_iter().filter(|(c, _)| *c == code).map(|(_, m)| m);
            all.collect::<Vec<_>>()
        };
        assert!(NOTEBOOK.contains(from), "{from}");
        let before = of(NOTEBOOK);
        of(&NOTEBOOK.replacen(from, to, 1)).into_iter().filter(|m| !before.contains(m)).collect()
    }

    fn hole(par: u8, index: u8, number: u8, rest: &str) -> String {
        format!(
            "  - hole: {number}\n    par: {par}\n    stroke_index: {index}\n    line_from: Club\n    tees:\n      Club: {{ length: 380 }}\n{rest}"
        )
    }

    fn book(holes: &str) -> String {
        format!(
            "format: course-notebook/1\ncourse:\n  name: Invented\n  units: yards\ntees:\n  - name: Club\n    men: {{ rating: 71.0, slope: 129 }}\nholes:\n{holes}"
        )
    }

    #[test]
    fn a_tee_without_an_aim_is_named_and_one_with_is_not() {
        let bare = book(&hole(4, 1, 1, ""));
        assert!(codes(&bare).iter().any(|(c, m)| *c == TEE_WITHOUT_AIM && m.contains("Club")), "{:?}", codes(&bare));
        let aimed =
            book(&hole(4, 1, 1, "    aims:\n      - { name: middle, at: 230, across: 0, text: The middle. }\n"));
        assert!(!codes(&aimed).iter().any(|(c, _)| *c == TEE_WITHOUT_AIM), "{:?}", codes(&aimed));
    }

    #[test]
    fn a_danger_without_a_side_is_named() {
        let text = book(&hole(4, 1, 1, "    dangers:\n      - { of: green, text: It falls away. }\n"));
        assert!(codes(&text).iter().any(|(c, _)| *c == DANGER_WITHOUT_SIDE));
        let text = book(&hole(4, 1, 1, "    dangers:\n      - { of: green, side: long, text: It falls away. }\n"));
        assert!(!codes(&text).iter().any(|(c, _)| *c == DANGER_WITHOUT_SIDE));
    }

    #[test]
    fn a_note_longer_than_a_page_is_named() {
        let note = |n: usize| {
            let words = "x".repeat(n);
            book(&hole(4, 1, 1, &format!("    notes:\n      - {{ at: tee, text: {words} }}\n")))
        };
        assert!(codes(&note(POCKET + 1)).iter().any(|(c, _)| *c == NOTE_TOO_LONG));
        assert!(!codes(&note(POCKET)).iter().any(|(c, _)| *c == NOTE_TOO_LONG));
    }

    #[test]
    fn an_aim_at_a_person_or_a_house_is_named() {
        for text in ["the white house", "left of Mrs Brandt", "over Hallam’s chimney", "the bedroom window"] {
            assert!(names_somebody(text).is_some(), "{text}");
        }
        for text in
            ["the clubhouse flag", "the mast", "A fade off the mast falls to the right half", "it's the left half"]
        {
            assert_eq!(names_somebody(text), None, "{text}");
        }
        let named = new(AIM_AT_PERSON, "landmark: the mast", "landmark: the red house");
        assert!(named.is_empty() || named.iter().all(|m| m.contains("house")), "{named:?}");
        let text =
            book(&hole(4, 1, 1, "    aims:\n      - { name: x, at: 230, across: 0, text: At the red house. }\n"));
        assert!(codes(&text).iter().any(|(c, _)| *c == AIM_AT_PERSON));
    }

    #[test]
    fn pars_are_held_against_appendix_f() {
        for (par, yards, card, inside) in [
            (3, 260.0, Card::Men, true),
            (3, 261.0, Card::Men, false),
            (4, 178.0, Card::Men, false),
            (4, 240.0, Card::Men, true),
            (4, 420.0, Card::Women, true),
            (5, 369.0, Card::Women, false),
            (5, 710.0, Card::Men, true),
            (6, 700.0, Card::Men, true),
        ] {
            assert_eq!(published(par, yards, card, LengthUnit::Yards), inside, "par {par}, {yards}");
        }
        // 410 m is 448 yards: a five by the metres of the appendix, which are its own numbers.
        assert!(published(5, 410.0 / METRES_PER_YARD, Card::Men, LengthUnit::Metres));
        assert!(!published(5, 410.0 / METRES_PER_YARD, Card::Men, LengthUnit::Yards));
        assert!(codes(&book(&hole(3, 1, 1, ""))).iter().any(|(c, m)| *c == PAR_OUTSIDE && m.contains("380")));
        assert!(!codes(&book(&hole(4, 1, 1, ""))).iter().any(|(c, _)| *c == PAR_OUTSIDE));
    }

    fn index_faults(order: [u8; 18]) -> usize {
        let holes: String = order.iter().zip(1..).map(|(index, n)| hole(4, *index, n, "")).collect();
        codes(&book(&holes)).iter().filter(|(c, _)| *c == INDEX_GUIDANCE).count()
    }

    #[test]
    fn stroke_indexes_are_held_against_appendix_e() {
        // The allocation of reference/handicap-and-rules 5.5 without a fault.
        assert_eq!(index_faults([7, 13, 3, 17, 1, 9, 15, 5, 11, 8, 14, 4, 18, 2, 10, 16, 6, 12]), 0);
        // The lowest of the front nine on the first hole.
        assert!(index_faults([1, 13, 3, 17, 7, 9, 15, 5, 11, 8, 14, 4, 18, 2, 10, 16, 6, 12]) > 0);
        // The second lowest in the middle triad, and 3 and 1 on holes that follow each other (the same table).
        assert!(index_faults([7, 13, 11, 3, 1, 9, 15, 5, 17, 8, 14, 4, 18, 2, 10, 16, 6, 12]) >= 2);
        // In order: consecutive low ones, odd and even mixed, the lowest at the ends.
        let straight: Vec<u8> = (1..=18).collect();
        assert!(index_faults(straight.try_into().unwrap()) >= 5);
    }
}
