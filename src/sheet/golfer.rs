//! A player on a tee of a course: whose card, how many strokes and where.

use crate::course::{Card, Circuit, Course, Hand, ShotShape};
use crate::handicap::{
    CourseHandicap, Holes, Percent, PlayingHandicap, Rules, StrokeIndexes, TeeRating, course_handicap, strokes_by_hole,
};
use crate::units::LengthUnit;
use crate::units::tenths::{HandicapIndex, SlopeRating};

/// A player on a tee.
#[derive(Clone, Debug, PartialEq)]
pub struct Golfer {
    /// The name.
    pub name: String,
    /// Whose ratings, par and stroke index apply.
    pub card: Card,
    /// The tee set's name.
    pub tee: String,
    /// The Handicap Index; `None` plays without strokes.
    pub index: Option<HandicapIndex>,
    /// The Course Handicap; `None` where there is no index or the tee is not rated for this card.
    pub course_handicap: Option<CourseHandicap>,
    /// The Playing Handicap; 0 without one.
    pub playing_handicap: i32,
    /// Strokes received by position in playing order; negative are given back.
    pub strokes: Vec<i32>,
    /// Stroke indexes by position in playing order.
    pub stroke_indexes: Vec<Option<u8>>,
    /// The unit this person reads.
    pub units: LengthUnit,
    /// The hand they play with.
    pub hand: Hand,
    /// The driver's carry in yards, when known.
    pub carry: Option<f64>,
    /// That carry is assumed: the player does not give one.
    pub carry_assumed: bool,
    /// The usual shape with the driver, when known.
    pub shape: Option<ShotShape>,
    /// Why there are no strokes, in a sentence, when there are none for want of something.
    pub why_no_strokes: Option<String>,
}

/// What a player brings to a tee; the rest of [`Golfer`] follows.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry<'a> {
    /// The name.
    pub name: &'a str,
    /// Whose card.
    pub card: Card,
    /// The Handicap Index, when there is one.
    pub index: Option<HandicapIndex>,
    /// A Playing Handicap that was given and holds whatever the index says.
    pub given: Option<i32>,
    /// The handicap allowance.
    pub allowance: Percent,
    /// The unit.
    pub units: LengthUnit,
    /// The hand.
    pub hand: Hand,
    /// The driver's carry in yards.
    pub carry: Option<f64>,
    /// That carry is assumed: the player does not give one.
    pub carry_assumed: bool,
    /// The driver's shape.
    pub shape: Option<ShotShape>,
}

impl Golfer {
    /// Works out the strokes of `entry` on `tee` of `course` over `holes` (numbers in playing order), by `rules`.
    pub fn new(course: &Course, tee: &str, holes: &[u8], entry: &Entry<'_>, rules: &Rules) -> Self {
        let stroke_indexes = stroke_indexes(course, holes, entry.card);
        let mut golfer = Self {
            name: entry.name.to_owned(),
            card: entry.card,
            tee: tee.to_owned(),
            index: entry.index,
            course_handicap: None,
            playing_handicap: 0,
            strokes: vec![0; holes.len()],
            stroke_indexes,
            units: entry.units,
            hand: entry.hand,
            carry: entry.carry,
            carry_assumed: entry.carry_assumed,
            shape: entry.shape,
            why_no_strokes: None,
        };
        let given = entry.given.map(CourseHandicap::from_whole);
        let worked = given.map_or_else(|| golfer.work_out(course, holes, rules), Ok);
        match worked {
            Ok(handicap) => {
                golfer.course_handicap = Some(handicap);
                let playing: PlayingHandicap = handicap.playing(entry.allowance, 0, rules);
                golfer.playing_handicap = entry.given.unwrap_or_else(|| playing.value());
                match golfer.strokes_of(golfer.playing_handicap) {
                    Ok(strokes) => golfer.strokes = strokes,
                    Err(why) => golfer.why_no_strokes = Some(why),
                }
            }
            Err(why) => golfer.why_no_strokes = Some(why),
        }
        golfer
    }

    /// Strokes by the full Course Handicap, as a round without a format has them; none where they cannot be placed.
    pub fn strokes_at_full(&self) -> Vec<i32> {
        let full = self.course_handicap.and_then(|c| self.strokes_of(c.rounded()).ok());
        full.unwrap_or_else(|| vec![0; self.stroke_indexes.len()])
    }

    fn work_out(&self, course: &Course, holes: &[u8], rules: &Rules) -> Result<CourseHandicap, String> {
        let index = self.index.ok_or_else(|| format!("{} has no Handicap Index", self.name))?;
        let who = match self.card {
            Card::Men => "men",
            Card::Women => "women",
        };
        let count = Holes::of(holes.len()).ok_or_else(|| format!("a card of {} holes has no handicap", holes.len()))?;
        let circuit = circuit_of(course, holes);
        let first = usize::from(*holes.first().unwrap_or(&1));
        let rating = if circuit.is_some() || holes.len() == course.holes.len() {
            course.rating_of(&self.tee, self.card, circuit, 1, holes.len())
        } else {
            course.rating_of(&self.tee, self.card, None, first, first + holes.len() - 1)
        }
        .ok_or_else(|| format!("the {} tees have no rating for {who} over these holes", self.tee))?;
        let slope = SlopeRating::new(u32::from(rating.slope))
            .ok_or_else(|| format!("slope {} is out of range", rating.slope))?;
        let mut par = 0;
        for number in holes {
            let hole = course.holes.iter().find(|h| h.number == *number);
            let here = hole.and_then(|h| h.par.on(self.card));
            par += i32::from(here.ok_or_else(|| format!("hole {number} has no par for {who}"))?);
        }
        let tee = TeeRating { holes: count, rating: rating.rating, slope, par };
        Ok(course_handicap(index, &tee, rules))
    }

    /// Where so many strokes are received (negative: given back), in playing order.
    ///
    /// # Errors
    /// Why they cannot be placed: the card lacks stroke indexes.
    pub fn strokes_of(&self, handicap: i32) -> Result<Vec<i32>, String> {
        let all: Option<Vec<u8>> = self.stroke_indexes.iter().copied().collect();
        let all = all.ok_or_else(|| "the card lacks a stroke index on some holes".to_owned())?;
        let indexes = StrokeIndexes::new(&ranked(&all)).map_err(|e| e.to_string())?;
        Ok(strokes_by_hole(handicap, &indexes))
    }
}

/// Indexes re-numbered from 1 in their own order, so that nine of an eighteen-hole card are allocated in the ascending
/// order of the published ones (Rules of Handicapping, Appendix E). A hole played twice without a circuit of its own
/// comes first on its first time round (our choice: the Committee's card decides).
fn ranked(indexes: &[u8]) -> Vec<u8> {
    let mut order: Vec<usize> = (0..indexes.len()).collect();
    order.sort_by_key(|i| (indexes.get(*i).copied().unwrap_or(u8::MAX), *i));
    let mut out = vec![0; indexes.len()];
    for (rank, i) in (1u8..).zip(order) {
        if let Some(slot) = out.get_mut(i) {
            *slot = rank;
        }
    }
    out
}

/// The circuit that is played when these holes are, in this order; `None` for all holes in order or a part of them.
fn circuit_of<'c>(course: &'c Course, holes: &[u8]) -> Option<&'c Circuit> {
    let in_order = course.holes.iter().map(|h| h.number).eq(holes.iter().copied());
    course.circuits.iter().find(|c| c.holes == holes).filter(|_| !in_order)
}

/// Stroke indexes in playing order: a circuit's own where it gives one, else the holes'.
fn stroke_indexes(course: &Course, holes: &[u8], card: Card) -> Vec<Option<u8>> {
    let own = circuit_of(course, holes).and_then(|c| c.stroke_index.get(card));
    if let Some(list) = own {
        return list.iter().map(|i| Some(*i)).collect();
    }
    holes.iter().map(|n| course.holes.iter().find(|h| h.number == *n).and_then(|h| h.stroke_index.on(card))).collect()
}
