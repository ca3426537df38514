//! A player's bag as it is shown: every number with where it comes from, the steps between clubs, what its owner must know.

use crate::course::Card;
use crate::pattern::bag::{Bag, Club, Remark, Source, carried_share, complete, is_putter, usual_share};
use crate::pattern::{Footing, Skill};
use crate::player::Number;
use crate::units::{Across, Length, LengthUnit};

/// The usual step from club to club, as a share of the drive: that of the assumed bag.
const USUAL_STEP: f64 = 0.05;
/// A step of more than so many usual ones is a gap (common practice: 10 to 15 yards a club, a hole from about 18).
const GAP_STEPS: f64 = 1.5;
/// A step of less than so many usual ones is an overlap (common practice: two clubs within five yards do one job).
const OVERLAP_STEPS: f64 = 0.5;
/// Most clubs in a round (Rules of Golf 2023, 4.1b(1)).
const MOST_CLUBS: usize = 14;

/// A bag ready to be shown. Lengths are yards.
#[derive(Clone, Debug, PartialEq)]
pub struct BagSheet {
    /// The player's name.
    pub player: String,
    /// The clubs from the longest; those that cannot be reckoned with, and the putter, come last.
    pub rows: Vec<BagRow>,
    /// No club of the file can be reckoned with: every row is assumed and stands in no file.
    pub all_assumed: bool,
    /// The drive, carry and run, that assumed lengths are shares of.
    pub drive: f64,
    /// Whether that drive is what the player's own carries mean; else it is the index's.
    pub drive_from: Source,
    /// Of whom the assumed numbers are, as `Handicap Index 17.6, men's card`.
    pub assumed_of: String,
    /// What the owner must know, in sentences.
    pub remarks: Vec<String>,
}

/// One club.
#[derive(Clone, Debug, PartialEq)]
pub struct BagRow {
    /// Its name as the player writes it.
    pub name: String,
    /// Its numbers; `None` for a putter and for a club whose length nothing says.
    pub shot: Option<Club>,
    /// The step in carry to the next shorter club.
    pub step: Option<Step>,
}

/// The step in carry from a club to the next shorter one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Yards; below zero where the next carries further and runs less.
    pub yards: f64,
    /// How it compares with the usual one.
    pub sort: StepSort,
}

/// How a step between clubs compares with the usual one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepSort {
    /// As usual.
    Even,
    /// Wider: some distances have no club.
    Gap,
    /// Narrower: two clubs do the work of one.
    Overlap,
}

impl BagSheet {
    /// The bag of a player; `index` is in strokes, plus handicaps negative, `None` where there is none.
    pub fn new(player: &str, bag: &Bag, index: Option<f64>, skill: &Skill) -> Self {
        let (drive, clubs, found) = complete(bag, skill);
        let all_assumed = found.contains(&Remark::EmptyBag);
        let steps = steps(&clubs, drive);
        let mut rows: Vec<BagRow> = clubs
            .into_iter()
            .zip(steps)
            .map(|(c, step)| BagRow { name: c.name.clone(), shot: Some(c), step })
            .collect();
        for club in &bag.clubs {
            if rows.iter().all(|r| !r.name.eq_ignore_ascii_case(&club.name)) {
                rows.push(BagRow { name: club.name.clone(), shot: None, step: None });
            }
        }
        let given = |r: &BagRow| r.shot.as_ref().is_some_and(|c| c.carry_from == Source::Given);
        let drive_from = if rows.iter().any(given) { Source::Given } else { Source::Assumed };
        let mut remarks: Vec<String> = found.iter().map(Remark::to_string).collect();
        remarks.dedup();
        remarks.extend(too_many(bag));
        remarks.extend(footing(skill, index));
        Self {
            player: player.to_owned(),
            rows,
            all_assumed,
            drive,
            drive_from,
            assumed_of: assumed_of(index, skill),
            remarks,
        }
    }

    /// Gaps and overlaps as sentences, in the unit the person reads.
    pub fn steps_in_words(&self, units: LengthUnit) -> Vec<String> {
        let show = |yards: f64| Length::yards(yards).show(units);
        let mut out = Vec::new();
        for pair in self.rows.windows(2) {
            let [BagRow { name: long, shot: Some(a), step: Some(step) }, BagRow { name: short, shot: Some(b), .. }] =
                pair
            else {
                continue;
            };
            match step.sort {
                StepSort::Even => {}
                StepSort::Gap => out.push(format!(
                    "gap of {}: {long} carries {}, {short} {}; between them no full club fits",
                    show(step.yards),
                    show(a.carry),
                    show(b.carry)
                )),
                StepSort::Overlap => out.push(format!(
                    "overlap: {long} carries {}, {short} {}; the two do the work of one",
                    show(a.carry),
                    show(b.carry)
                )),
            }
        }
        out
    }

    /// The row of a club by its name.
    pub fn row_of(&self, name: &str) -> Option<usize> {
        self.rows.iter().position(|r| r.name.eq_ignore_ascii_case(name.trim()))
    }

    /// Where a number comes from, in a sentence.
    pub fn origin(&self, row: &BagRow, number: Number, units: LengthUnit) -> String {
        let Some(club) = &row.shot else {
            return if is_putter(&row.name) {
                "a putter has no number here: putting is assumed from the Handicap Index".to_owned()
            } else {
                "left out: its name says nothing of its length; give its carry".to_owned()
            };
        };
        let of = &self.assumed_of;
        match (number, row.from(number)) {
            (_, Some(Source::Given)) => "given in the player's file".to_owned(),
            (Number::Carry, _) => {
                let share = usual_share(&club.name).unwrap_or_default();
                let drive = Length::yards(self.drive).show(units);
                let total = share * self.drive;
                let carried = 100.0 * carried_share(total, self.drive);
                let whose = match self.drive_from {
                    Source::Given => "that the given carries mean".to_owned(),
                    Source::Assumed => format!("of {of}"),
                };
                format!("assumed: {:.0} % of a drive of {drive} {whose}, {carried:.0} % of it carried", 100.0 * share)
            }
            (Number::Run, _) => "assumed: what a shot of this carry usually runs".to_owned(),
            (Number::Curve, _) => "assumed: a usual shot ends where it starts".to_owned(),
            (Number::Box, _) => format!("assumed from {of} for a shot of this length"),
            (Number::Mishits, _) => format!("assumed from {of}"),
        }
    }
}

impl BagRow {
    /// Where a number comes from; `None` for a club without numbers.
    pub fn from(&self, number: Number) -> Option<Source> {
        let club = self.shot.as_ref()?;
        Some(match number {
            Number::Carry => club.carry_from,
            Number::Run => club.run_from,
            Number::Curve => club.curve_from,
            Number::Box => club.box_from,
            Number::Mishits => club.mishits_from,
        })
    }

    /// A number as a person reads it, without its source: `146`, `7R`, `34 x 26`, `1 in 12`.
    pub fn figure(&self, number: Number, units: LengthUnit) -> Option<String> {
        let club = self.shot.as_ref()?;
        let show = |yards: f64| Length::yards(yards).show(units);
        Some(match number {
            Number::Carry => show(club.carry),
            Number::Run => show(club.run),
            Number::Curve => Across(club.curve).show(units),
            Number::Box => format!("{} x {}", show(club.wide), show(club.deep)),
            Number::Mishits if club.mishits <= 0.0 => "none".to_owned(),
            Number::Mishits => format!("1 in {:.0}", 1.0 / club.mishits),
        })
    }
}

fn steps(clubs: &[Club], drive: f64) -> Vec<Option<Step>> {
    let usual = USUAL_STEP * drive;
    let mut out: Vec<Option<Step>> = clubs
        .windows(2)
        .map(|pair| match pair {
            [a, b] => {
                let yards = a.carry - b.carry;
                let sort = if yards > GAP_STEPS * usual {
                    StepSort::Gap
                } else if yards < OVERLAP_STEPS * usual {
                    StepSort::Overlap
                } else {
                    StepSort::Even
                };
                Some(Step { yards, sort })
            }
            _ => None,
        })
        .collect();
    out.resize(clubs.len(), None);
    out
}

fn too_many(bag: &Bag) -> Option<String> {
    let listed = bag.clubs.len();
    let putter = bag.clubs.iter().any(|c| is_putter(&c.name));
    if listed > MOST_CLUBS {
        Some(format!("{listed} clubs are listed; at most 14 may be carried in a round (Rule 4.1b)"))
    } else if listed == MOST_CLUBS && !putter {
        Some("14 clubs are listed and none is a putter; with one they are 15, and at most 14 may be carried in a round (Rule 4.1b)".to_owned())
    } else {
        None
    }
}

fn footing(skill: &Skill, index: Option<f64>) -> Option<String> {
    if index.is_none() {
        return Some(format!("no Handicap Index is given: what is assumed is that of a player of {:.0}", skill.index));
    }
    match skill.ground {
        Footing::Fitted => None,
        Footing::BetweenScratchAndTour => {
            Some("better than scratch: what is assumed lies between scratch and the tour, less certain".to_owned())
        }
        Footing::BeyondTheRows => {
            Some("beyond an index of 36 what is assumed is drawn on from below, less certain".to_owned())
        }
    }
}

fn assumed_of(index: Option<f64>, skill: &Skill) -> String {
    let card = match skill.card {
        Card::Men => "men's",
        Card::Women => "women's",
    };
    match index {
        Some(index) if index < 0.0 => format!("Handicap Index +{:.1} on the {card} card", -index),
        Some(index) => format!("Handicap Index {index:.1}, {card} card"),
        None => format!("an index of {:.0} on the {card} card", skill.index),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::pattern::BagClub;

    fn club(name: &str, carry: f64) -> BagClub {
        BagClub { name: name.to_owned(), carry: (carry > 0.0).then_some(carry), ..BagClub::default() }
    }

    fn sheet(clubs: Vec<BagClub>) -> BagSheet {
        let bag = Bag { clubs, swings: Vec::new() };
        BagSheet::new("A", &bag, Some(17.6), &Skill::of_index(17.6, Card::Men))
    }

    #[test]
    fn gaps_and_overlaps_are_measured_in_steps_of_the_players_own_drive() {
        let s =
            sheet(vec![club("driver", 214.0), club("4 hybrid", 172.0), club("5 iron", 169.0), club("6 iron", 158.0)]);
        let sorts: Vec<_> = s.rows.iter().map(|r| r.step.map(|s| s.sort)).collect();
        assert_eq!(sorts, [Some(StepSort::Gap), Some(StepSort::Overlap), Some(StepSort::Even), None]);
        let words = s.steps_in_words(LengthUnit::Yards);
        assert_eq!(words.len(), 2);
        assert!(words[0].starts_with("gap of 42: driver carries 214, 4 hybrid 172"), "{words:?}");
    }

    #[test]
    fn each_number_says_where_it_comes_from() {
        let s = sheet(vec![club("driver", 214.0), club("7 iron", 0.0), club("old faithful", 0.0), club("putter", 0.0)]);
        let origin = |row: usize, number| s.origin(&s.rows[row], number, LengthUnit::Yards);
        assert_eq!(origin(0, Number::Carry), "given in the player's file");
        assert!(origin(1, Number::Carry).contains("67 % of a drive of"), "{}", origin(1, Number::Carry));
        assert!(origin(1, Number::Carry).contains("the given carries mean"));
        assert!(origin(0, Number::Box).contains("Handicap Index 17.6, men's card"));
        assert_eq!(s.rows[2].shot, None);
        assert!(s.remarks.iter().any(|r| r.contains("old faithful")), "{:?}", s.remarks);
        assert!(origin(3, Number::Carry).contains("putter"));
    }

    #[test]
    fn an_empty_bag_is_all_assumed_and_no_index_is_said() {
        let empty = BagSheet::new("A", &Bag::default(), None, &Skill::of_index(18.0, Card::Women));
        assert!(empty.all_assumed && empty.rows.len() == 13);
        assert!(empty.remarks.iter().any(|r| r.contains("all are assumed")));
        assert!(empty.remarks.iter().any(|r| r.contains("no Handicap Index")));
    }

    #[test]
    fn a_fifteenth_club_is_named_with_its_rule() {
        let clubs = |n: usize| (0..n).map(|i| club(&format!("{i} made"), 60.0 + 10.0 * i as f64)).collect::<Vec<_>>();
        assert!(sheet(clubs(13)).remarks.is_empty());
        assert!(sheet(clubs(14)).remarks[0].contains("with one they are 15"));
        assert!(sheet(clubs(15)).remarks[0].contains("Rule 4.1b"));
    }
}
