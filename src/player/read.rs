//! A player from the text of a file.

use super::codes::{CLUB_TWICE, NOT_A_CHANCE, RATINGS_ASSUMED, TOO_MANY_CLUBS, UNKNOWN_CLUB};
use super::model::{Club, Measured, Player, Score, Shot, Spread, Swing};
use crate::course::decode::{Bounds, Fields, FileKind, Reader, quoted};
use crate::course::read::{head::units, when::HANDS};
use crate::course::{Card, Hand};
use crate::notebook::{self, Diagnostic, Node, did_you_mean};
use crate::units::Length;

/// Keys of a player.
pub const KEYS: &[&str] =
    &["format", "name", "handicap", "units", "hand", "carries_measured", "clubs", "swings", "record"];
/// Keys of the handicap.
pub const HANDICAP_KEYS: &[&str] = &["index", "ratings"];
/// Keys of the air in which carries were measured.
pub const MEASURED_KEYS: &[&str] = &["temperature", "height", "pressure"];
/// Keys of a club.
pub const CLUB_KEYS: &[&str] = &["club", "id", "carry", "run", "curve", "two_in_three", "mishits"];
/// Keys of a part swing.
pub const SWING_KEYS: &[&str] = &["name", "id", "club", "carry", "run", "curve", "two_in_three", "mishits"];
/// Keys of the box of two in three.
pub const SPREAD_KEYS: &[&str] = &["wide", "deep"];
/// Keys of a round of the record.
pub const SCORE_KEYS: &[&str] =
    &["date", "id", "course", "tee", "adjusted_gross", "rating", "slope", "pcc", "holes", "differential"];

/// Most clubs in a round (Rules of Golf 2023, 4.1b(1)).
const MOST_CLUBS: usize = 14;
/// Yards; longer than anyone carries a ball.
const CARRY: Bounds = Bounds::new("a carry", 1.0, 420.0);
const RUN: Bounds = Bounds::new("a run", 0.0, 150.0);
const CURVE: f64 = 80.0;
const SPREAD: Bounds = Bounds::new("a side of the box", 0.5, 200.0);
const HEIGHT: Bounds = Bounds::new("a height above sea level", -500.0, 6000.0);
const TEMPERATURE: Bounds = Bounds::new("a temperature in degrees Celsius", -40.0, 55.0);
const PRESSURE: Bounds = Bounds::new("a pressure at sea level in hectopascals", 850.0, 1100.0);
const GROSS: Bounds = Bounds::new("an adjusted gross score", 20.0, 250.0);
const RATING: Bounds = Bounds::new("a Course Rating", 15.0, 100.0);
/// Rules of Handicapping 5.6: the playing conditions calculation is -1, 0, 1, 2 or 3.
const PCC: Bounds = Bounds::new("a playing conditions calculation", -1.0, 3.0);
const HOLES: Bounds = Bounds::new("a number of holes", 9.0, 18.0);
const DIFFERENTIAL: Bounds = Bounds::new("a Score Differential", -20.0, 120.0);
const CARDS: &[(&str, Card)] = &[("men", Card::Men), ("women", Card::Women)];

/// Reads a player. Gives what could be understood and every problem in the order of the file; `None` when the text is
/// not a player at all.
///
/// ```
/// let (player, problems) = marram::player::read("format: player/1\nname: Ana\nhandicap: { index: +1.3, ratings: women }\n");
/// assert!(problems.is_empty());
/// assert_eq!(player.and_then(|p| p.index_text()).as_deref(), Some("+1.3"));
/// ```
pub fn read(text: &str) -> (Option<Player>, Vec<Diagnostic>) {
    let (root, problems) = notebook::read(text);
    let mut reader = Reader::new(problems);
    let player = root.and_then(|root| player(&mut reader, &root));
    (player, reader.finish())
}

fn player(r: &mut Reader, root: &Node) -> Option<Player> {
    if !r.preamble(root, FileKind::Player) {
        return None;
    }
    let fields = r.fields(root, "a player", KEYS)?;
    r.unit = fields.read(r, "units", units).unwrap_or_default();
    let name = fields.need(r, "name", "name: Wren Hallam", Reader::text);
    let handicap = fields.read(r, "handicap", |r, n, _| handicap(r, n));
    let (index, ratings) = handicap.unwrap_or_default();
    let clubs = fields.read(r, "clubs", |r, n, k| Some(clubs(r, n, k))).unwrap_or_default();
    let swings = fields.read(r, "swings", |r, n, k| Some(swings(r, n, k, &clubs))).unwrap_or_default();
    Some(Player {
        name: name.unwrap_or_else(|| "a player without a name".to_owned()),
        index,
        ratings,
        units: r.unit,
        hand: fields.read(r, "hand", |r, n, k| r.word(n, k, HANDS)).unwrap_or(Hand::Right),
        carries_measured: fields.read(r, "carries_measured", |r, n, _| measured(r, n)),
        clubs,
        swings,
        record: fields.read(r, "record", |r, n, k| Some(record(r, n, k))).unwrap_or_default(),
        read_only: r.later,
    })
}

fn handicap(r: &mut Reader, node: &Node) -> Option<(Option<crate::units::tenths::Tenths>, Card)> {
    let fields = r.fields(node, "the handicap", HANDICAP_KEYS)?;
    let index = fields.read(r, "index", Reader::handicap_index);
    if fields.get("ratings").is_none() {
        let message = "whose ratings apply is not said; the men's are taken";
        r.warning(RATINGS_ASSUMED, fields.span, message, "add `ratings: men` or `ratings: women`");
    }
    let ratings = fields.read(r, "ratings", |r, n, k| r.word(n, k, CARDS)).unwrap_or_default();
    Some((index, ratings))
}

fn measured(r: &mut Reader, node: &Node) -> Option<Measured> {
    let fields = r.fields(node, "`carries_measured`", MEASURED_KEYS)?;
    Some(Measured {
        temperature_c: fields.read(r, "temperature", |r, n, k| r.number(n, k, TEMPERATURE)),
        height: fields.read(r, "height", |r, n, k| r.length(n, k, HEIGHT).map(Length::yards)),
        pressure_hpa: fields.read(r, "pressure", |r, n, k| r.number(n, k, PRESSURE)),
    })
}

fn clubs(r: &mut Reader, node: &Node, key: &str) -> Vec<Club> {
    let mut clubs: Vec<Club> = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = r.fields(item, "a club", CLUB_KEYS) else { continue };
        let Some(name) = fields.need(r, "club", "club: 7 iron", Reader::text) else { continue };
        let shot = shot(r, &fields);
        if clubs.iter().any(|c| c.name.eq_ignore_ascii_case(&name)) {
            twice(r, &fields, "club", &name);
            continue;
        }
        clubs.push(Club { name, shot, span: fields.span });
    }
    if let Some(extra) = clubs.get(MOST_CLUBS) {
        let message = format!("the bag holds {} clubs", clubs.len());
        r.warning(TOO_MANY_CLUBS, extra.span, message, "at most 14 may be carried in a round (Rule 4.1b)");
    }
    clubs
}

fn swings(r: &mut Reader, node: &Node, key: &str, clubs: &[Club]) -> Vec<Swing> {
    let mut swings: Vec<Swing> = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = r.fields(item, "a swing", SWING_KEYS) else { continue };
        let name = fields.need(r, "name", "name: half wedge", Reader::text);
        let club = fields.need(r, "club", "club: gap wedge", Reader::text);
        fields.need(r, "carry", "carry: 55", |_, _, _| Some(()));
        let shot = shot(r, &fields);
        let (Some(name), Some(club)) = (name, club) else { continue };
        if swings.iter().any(|s| s.name.eq_ignore_ascii_case(&name)) {
            twice(r, &fields, "swing", &name);
            continue;
        }
        // A bag that is not given is assumed, and then holds whatever a swing needs.
        if !clubs.is_empty() && !clubs.iter().any(|c| c.name.eq_ignore_ascii_case(&club)) {
            let names: Vec<&str> = clubs.iter().map(|c| c.name.as_str()).collect();
            let span = fields.get("club").map_or(fields.span, |n| n.span);
            let message = format!("the bag has no club {}", quoted(&club));
            r.warning(UNKNOWN_CLUB, span, message, did_you_mean(&club, &names));
        }
        if shot.carry.is_some() {
            swings.push(Swing { name, club, shot, span: fields.span });
        }
    }
    swings
}

fn twice(r: &mut Reader, fields: &Fields<'_>, noun: &str, name: &str) {
    let message = format!("there are two {noun}s named {}", quoted(name));
    r.error(CLUB_TWICE, fields.span, message, "keep one of the two; the first one is read");
}

fn shot(r: &mut Reader, fields: &Fields<'_>) -> Shot {
    Shot {
        carry: fields.read(r, "carry", |r, n, k| r.length(n, k, CARRY).map(Length::yards)),
        run: fields.read(r, "run", |r, n, k| r.length(n, k, RUN).map(Length::yards)),
        curve: fields.read(r, "curve", |r, n, k| r.across_within(n, k, CURVE)),
        two_in_three: fields.read(r, "two_in_three", |r, n, _| spread(r, n)),
        mishits: fields.read(r, "mishits", chance),
    }
}

fn spread(r: &mut Reader, node: &Node) -> Option<Spread> {
    let fields = r.fields(node, "`two_in_three`", SPREAD_KEYS)?;
    let wide = fields.need(r, "wide", "wide: 34", |r, n, k| r.length(n, k, SPREAD).map(Length::yards));
    let deep = fields.need(r, "deep", "deep: 26", |r, n, k| r.length(n, k, SPREAD).map(Length::yards));
    Some(Spread { wide: wide?, deep: deep? })
}

/// `1 in 12`, as a chance.
fn chance(r: &mut Reader, node: &Node, key: &str) -> Option<f64> {
    let text = r.raw(node, key)?;
    let found = text.split_once(" in ").and_then(|(one, of)| {
        let (one, of) = (one.trim().parse::<u16>().ok()?, of.trim().parse::<u16>().ok()?);
        (one < of).then(|| f64::from(one) / f64::from(of))
    });
    if found.is_none() {
        let message = format!("`{key}` needs a chance, not {}", quoted(text));
        r.error(NOT_A_CHANCE, node.span, message, "write `1 in 12`; `0 in 12` where there are none");
    }
    found
}

fn record(r: &mut Reader, node: &Node, key: &str) -> Vec<Score> {
    r.items(node, key).iter().filter_map(|item| score(r, item)).collect()
}

fn score(r: &mut Reader, node: &Node) -> Option<Score> {
    let fields = r.fields(node, "a round of the record", SCORE_KEYS)?;
    let date = fields.need(r, "date", "date: 2026-04-12", Reader::date);
    let course = fields.read(r, "course", Reader::text);
    let tee = fields.read(r, "tee", Reader::text);
    let gross = fields.need(r, "adjusted_gross", "adjusted_gross: 91", |r, n, k| r.whole(n, k, GROSS));
    let rating = r.rating(&fields, RATING);
    let pcc = fields.read(r, "pcc", |r, n, k| r.signed_whole(n, k, PCC));
    let holes = fields.read(r, "holes", |r, n, k| r.small(n, k, HOLES));
    let differential = fields.read(r, "differential", |r, n, k| r.tenths(n, k, DIFFERENTIAL));
    let rating = rating?;
    Some(Score {
        date: date?,
        course,
        tee,
        adjusted_gross: u16::try_from(gross?).ok()?,
        rating: rating.rating,
        slope: rating.slope,
        pcc: pcc.and_then(|v| i8::try_from(v).ok()).unwrap_or(0),
        holes: holes.unwrap_or(18),
        differential,
        span: fields.span,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::course::ShotShape;

    #[test]
    fn every_key_is_documented() {
        let page = include_str!("../../docs/notebook.md");
        let lists = [KEYS, HANDICAP_KEYS, MEASURED_KEYS, CLUB_KEYS, SWING_KEYS, SPREAD_KEYS, SCORE_KEYS];
        let absent: Vec<&&str> = lists
            .into_iter()
            .flatten()
            .filter(|key| !page.contains(&format!("`{key}`")) && !page.contains(&format!("{key}: ")))
            .collect();
        assert!(absent.is_empty(), "{absent:?}");
    }

    fn with_driver(hand: &str, curve: &str) -> Player {
        let text = format!(
            "format: player/1\nname: A\nunits: metres\nhand: {hand}\nclubs:\n  - {{ club: 3 wood, carry: 190 }}\n  \
             - {{ club: Driver, carry: 210, curve: {curve}, mishits: 1 in 12, two_in_three: {{ wide: 34, deep: 26 }} }}\n"
        );
        let (player, problems) = read(&text);
        assert_eq!(problems, []);
        player.unwrap()
    }

    #[test]
    fn a_fade_bends_away_from_the_hands() {
        // Common practice: a right-hander's fade goes right, a left-hander's left.
        assert_eq!(with_driver("right", "7R").shape(), Some(ShotShape::Fade));
        assert_eq!(with_driver("right", "7L").shape(), Some(ShotShape::Draw));
        assert_eq!(with_driver("left", "7L").shape(), Some(ShotShape::Fade));
        assert_eq!(with_driver("left", "0").shape(), Some(ShotShape::Straight));
    }

    #[test]
    fn a_bag_is_read_in_its_unit() {
        let player = with_driver("right", "7R");
        assert!((player.carry().unwrap().as_metres() - 210.0).abs() < 1e-9, "the driver's, not the first club's");
        let driver = player.longest().unwrap();
        assert_eq!(driver.shot.mishits, Some(1.0 / 12.0));
        assert!((driver.shot.two_in_three.unwrap().wide.as_metres() - 34.0).abs() < 1e-9);
        assert_eq!(driver.shot.run, None, "what is not given stays open");
        assert_eq!(player.index, None);
    }
}
