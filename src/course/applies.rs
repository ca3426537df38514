//! Whether something written applies to this person today, with the reason in words.

use super::condition::{Hand, HoleLocationArea, Range, ShotShape, When, WindSide};
use super::decode::joined;
use super::written::Written;
use crate::units::tenths::whole_handicap_text;
use crate::units::{Length, LengthUnit};

/// What is known of the person, the hole and the day. What is `None` is not known.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Facts<'a> {
    /// The tee set that is played.
    pub tee: &'a str,
    /// The player's driver carry.
    pub carry: Option<Length>,
    /// That carry is assumed from the Handicap Index, and is spoken of so.
    pub carry_assumed: bool,
    /// The Playing Handicap; plus handicaps are negative.
    pub playing_handicap: Option<i32>,
    /// Strokes received on this hole; negative when one is given back.
    pub strokes: Option<i32>,
    /// The areas in which today's hole lies, as back and left.
    pub hole_location: Option<Vec<HoleLocationArea>>,
    /// The wind on this hole; empty when it is calm.
    pub wind: Option<Vec<WindSide>>,
    /// The player's usual shape with the driver.
    pub shape: Option<ShotShape>,
    /// The player's hand.
    pub hand: Hand,
    /// The player's name.
    pub player: &'a str,
    /// Today as an ISO date, for what holds until a day.
    pub today: Option<&'a str>,
    /// The unit in which the person reads.
    pub unit: LengthUnit,
}

/// Whether something applies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Applies {
    /// Everything that it asks for holds.
    Yes,
    /// Something does not hold; the words say what, as `for carries of 200 and more; yours is 185`.
    No(String),
    /// Something is not known today; the words are the condition, as `when the hole is at the back`.
    Unknown(String),
}

/// One thing asked for: its sentence, whether it holds when that is known, and what the person has instead.
struct Asked {
    words: String,
    holds: Option<bool>,
    yours: Option<String>,
}

/// Judges a `when` block. What is certain to fail wins over what is unknown.
pub fn applies(when: &When, facts: &Facts<'_>) -> Applies {
    let asked = asked(when, facts);
    if let Some(failed) = asked.iter().find(|a| a.holds == Some(false)) {
        return Applies::No(match &failed.yours {
            Some(yours) => format!("{}; {yours}", failed.words),
            None => failed.words.clone(),
        });
    }
    let unknown: Vec<String> = asked.into_iter().filter(|a| a.holds.is_none()).map(|a| a.words).collect();
    if unknown.is_empty() { Applies::Yes } else { Applies::Unknown(joined(&unknown, "and")) }
}

impl Written {
    /// Judges its `when` block and the day until which it holds.
    pub fn applies(&self, facts: &Facts<'_>) -> Applies {
        match (&self.until, facts.today) {
            // ISO dates are in the order of their texts.
            (Some(until), Some(today)) if today > until.as_str() => Applies::No(format!("it held until {until}")),
            _ => applies(&self.when, facts),
        }
    }
}

/// Every condition of a `when` block in words, for a person who reads in `unit`; empty when it asks for nothing.
pub fn condition_words(when: &When, unit: LengthUnit) -> String {
    let facts = Facts { unit, ..Facts::default() };
    joined(&asked(when, &facts).into_iter().map(|a| a.words).collect::<Vec<_>>(), "and")
}

fn asked(when: &When, facts: &Facts<'_>) -> Vec<Asked> {
    let mut asked = Vec::new();
    if let Some(tees) = &when.tees {
        asked.push(Asked {
            words: format!("from {}", joined(tees, "or")),
            holds: Some(tees.iter().any(|tee| tee == facts.tee)),
            yours: Some(format!("you play {}", facts.tee)),
        });
    }
    if let Some(range) = when.carry {
        let show = |yards: f64| Length::yards(yards).show(facts.unit);
        asked.push(Asked {
            words: format!("for carries of {}", range_words(range, show)),
            holds: facts.carry.map(|carry| range.holds(carry.as_yards())),
            yours: facts.carry.map(|carry| {
                let assumed = if facts.carry_assumed { "assumed " } else { "" };
                format!("yours is {assumed}{}", carry.show(facts.unit))
            }),
        });
    }
    if let Some(range) = when.playing_handicap {
        let show = |value: f64| whole_handicap_text(value as i32);
        asked.push(Asked {
            words: handicap_words(range, show),
            holds: facts.playing_handicap.map(|value| range.holds(f64::from(value))),
            yours: facts.playing_handicap.map(|value| format!("yours is {}", whole_handicap_text(value))),
        });
    }
    if let Some(range) = when.strokes {
        asked.push(Asked {
            words: stroke_words(range),
            holds: facts.strokes.map(|value| range.holds(f64::from(value))),
            yours: facts.strokes.map(received),
        });
    }
    if let Some(areas) = &when.hole_location {
        let words: Vec<String> = areas.iter().map(|area| area.words().to_owned()).collect();
        let known = facts.hole_location.as_ref();
        asked.push(Asked {
            words: format!("when the hole is {}", joined(&words, "or")),
            holds: known.map(|today| areas.iter().any(|area| today.contains(area))),
            yours: None,
        });
    }
    if let Some(winds) = &when.wind {
        let words: Vec<String> = winds.iter().map(|wind| wind.words().to_owned()).collect();
        let known = facts.wind.as_ref();
        asked.push(Asked {
            words: joined(&words, "or"),
            holds: known.map(|today| winds.iter().any(|wind| today.contains(wind))),
            yours: None,
        });
    }
    if let Some(shapes) = &when.shape {
        let words: Vec<String> = shapes.iter().map(|shape| shape.words().to_owned()).collect();
        asked.push(Asked {
            words: format!("for players who hit {}", joined(&words, "or")),
            holds: facts.shape.map(|shape| shapes.contains(&shape)),
            yours: facts.shape.map(|shape| format!("you hit {}", shape.words())),
        });
    }
    if let Some(hand) = when.hand {
        let words = match hand {
            Hand::Right => "for right-handers",
            Hand::Left => "for left-handers",
        };
        asked.push(Asked { words: words.to_owned(), holds: Some(hand == facts.hand), yours: None });
    }
    if let Some(names) = &when.pupil {
        let same = |name: &String| name.trim().to_lowercase() == facts.player.trim().to_lowercase();
        asked.push(Asked {
            words: format!("for {}", joined(names, "and")),
            holds: Some(names.iter().any(same)),
            yours: None,
        });
    }
    asked
}

impl Range {
    /// Whether a value lies in it, both ends included.
    pub fn holds(self, value: f64) -> bool {
        // A carry converted from metres must not miss its own figure by a rounding error.
        let slack = 1e-6;
        self.from.is_none_or(|from| value >= from - slack) && self.to.is_none_or(|to| value <= to + slack)
    }
}

/// `200 and more`, `200 and less`, `10 to 18`, `3`.
fn range_words(range: Range, show: impl Fn(f64) -> String) -> String {
    match (range.from, range.to) {
        (Some(from), Some(to)) if from == to => show(from),
        (Some(from), Some(to)) => format!("{} to {}", show(from), show(to)),
        (Some(from), None) => format!("{} and more", show(from)),
        (None, Some(to)) => format!("{} and less", show(to)),
        (None, None) => "any size".to_owned(),
    }
}

fn handicap_words(range: Range, show: impl Fn(f64) -> String) -> String {
    match (range.from, range.to) {
        (Some(from), Some(to)) if from == to => format!("for a Playing Handicap of {}", show(from)),
        _ => format!("for Playing Handicaps of {}", range_words(range, show)),
    }
}

fn stroke_words(range: Range) -> String {
    match (range.from, range.to) {
        (Some(1.0), None) => "when you receive a stroke here".to_owned(),
        (None, Some(0.0)) => "when you receive no stroke here".to_owned(),
        (Some(0.0), Some(0.0)) => "when you receive no stroke here".to_owned(),
        (Some(from), Some(to)) if from == to && from == 1.0 => "when you receive one stroke here".to_owned(),
        _ => format!(
            "when you receive {} strokes here",
            range_words(range, |v| format!("{v}")).replace(" and more", " or more").replace(" and less", " or fewer")
        ),
    }
}

fn received(strokes: i32) -> String {
    match strokes {
        0 => "you receive none".to_owned(),
        1 => "you receive one".to_owned(),
        n if n < 0 => "you give one back".to_owned(),
        n => format!("you receive {n}"),
    }
}

impl HoleLocationArea {
    /// As it is said of the hole: `at the back`, `on the left`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Front => "at the front",
            Self::Middle => "in the middle",
            Self::Back => "at the back",
            Self::Left => "on the left",
            Self::Right => "on the right",
        }
    }
}

impl WindSide {
    /// As it is said: `into the wind`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Into => "into the wind",
            Self::With => "with the wind",
            Self::Across => "in a crosswind",
        }
    }

    /// The side of a wind that comes from `from_deg` (compass) on a leg that plays towards `bearing_deg` (compass).
    ///
    /// Within 45 degrees of the line of play it is into or with, else across (our convention).
    pub fn of(from_deg: f64, bearing_deg: f64) -> Self {
        let off = (from_deg - bearing_deg).rem_euclid(360.0);
        let off = if off > 180.0 { 360.0 - off } else { off };
        if off <= 45.0 {
            Self::Into
        } else if off >= 135.0 {
            Self::With
        } else {
            Self::Across
        }
    }
}

impl ShotShape {
    /// As it is said: `a fade`, `straight`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Draw => "a draw",
            Self::Fade => "a fade",
            Self::Straight => "it straight",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn facts() -> Facts<'static> {
        Facts {
            tee: "Club",
            carry: Some(Length::yards(214.0)),
            playing_handicap: Some(15),
            strokes: Some(1),
            player: "Wren Hallam",
            ..Facts::default()
        }
    }

    fn range(from: Option<f64>, to: Option<f64>) -> Option<Range> {
        Some(Range { from, to })
    }

    #[test]
    fn all_that_is_given_must_hold() {
        let when =
            When { tees: Some(vec!["Back".into(), "Club".into()]), carry: range(Some(200.0), None), ..When::default() };
        assert_eq!(applies(&when, &facts()), Applies::Yes);
        let short = Facts { carry: Some(Length::yards(185.0)), ..facts() };
        assert_eq!(applies(&when, &short), Applies::No("for carries of 200 and more; yours is 185".into()));
        let assumed = Facts { carry_assumed: true, ..short };
        assert_eq!(applies(&when, &assumed), Applies::No("for carries of 200 and more; yours is assumed 185".into()));
        let other = Facts { tee: "Forward", ..facts() };
        assert_eq!(applies(&when, &other), Applies::No("from Back or Club; you play Forward".into()));
        assert_eq!(applies(&When::default(), &Facts::default()), Applies::Yes);
    }

    #[test]
    fn what_is_unknown_today_is_a_third_state() {
        let when = When {
            hole_location: Some(vec![HoleLocationArea::Back]),
            wind: Some(vec![WindSide::Into]),
            ..When::default()
        };
        let words = "when the hole is at the back and into the wind";
        assert_eq!(applies(&when, &facts()), Applies::Unknown(words.into()));
        let front = Facts { hole_location: Some(vec![HoleLocationArea::Front]), ..facts() };
        assert_eq!(applies(&when, &front), Applies::No("when the hole is at the back".into()), "certain failure wins");
        let back = Facts { hole_location: Some(vec![HoleLocationArea::Back, HoleLocationArea::Left]), ..facts() };
        assert_eq!(applies(&when, &back), Applies::Unknown("into the wind".into()));
        let calm = Facts { wind: Some(vec![]), ..back };
        assert_eq!(applies(&when, &calm), Applies::No("into the wind".into()));
        let carry = When { carry: range(Some(200.0), None), ..When::default() };
        let stranger = Facts { carry: None, ..facts() };
        assert_eq!(applies(&carry, &stranger), Applies::Unknown("for carries of 200 and more".into()));
    }

    #[test]
    fn words_are_for_people_in_their_unit() {
        let words = |when: When| condition_words(&when, LengthUnit::Metres);
        assert_eq!(words(When { carry: range(None, Some(200.0)), ..When::default() }), "for carries of 183 and less");
        let plus = When { playing_handicap: range(Some(-2.0), Some(5.0)), ..When::default() };
        assert_eq!(words(plus), "for Playing Handicaps of +2 to 5");
        assert_eq!(
            words(When { strokes: range(Some(1.0), None), ..When::default() }),
            "when you receive a stroke here"
        );
        assert_eq!(
            words(When { strokes: range(Some(2.0), None), ..When::default() }),
            "when you receive 2 or more strokes here"
        );
        assert_eq!(words(When { shape: Some(vec![ShotShape::Fade]), ..When::default() }), "for players who hit a fade");
        assert_eq!(words(When { hand: Some(Hand::Left), ..When::default() }), "for left-handers");
        assert_eq!(words(When { pupil: Some(vec!["Wren".into()]), ..When::default() }), "for Wren");
    }

    #[test]
    fn a_note_ends_with_its_day() {
        let note = Written { until: Some("2026-10-01".into()), ..Written::default() };
        let on = |today| note.applies(&Facts { today: Some(today), ..facts() });
        assert_eq!(on("2026-10-01"), Applies::Yes);
        assert_eq!(on("2026-10-02"), Applies::No("it held until 2026-10-01".into()));
    }

    #[test]
    fn wind_is_judged_against_the_line_of_play() {
        // Common practice: a wind from where one plays towards is in the face.
        assert_eq!(WindSide::of(250.0, 248.0), WindSide::Into);
        assert_eq!(WindSide::of(70.0, 250.0), WindSide::With);
        assert_eq!(WindSide::of(340.0, 250.0), WindSide::Across);
        assert_eq!(WindSide::of(10.0, 350.0), WindSide::Into);
    }
}
