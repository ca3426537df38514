//! Strokes by hole from a Playing Handicap and the stroke indexes of the card.

use super::GiveBack;

/// The stroke indexes of the holes played, in hole order.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct StrokeIndexes {
    by_hole: Vec<u8>,
}

/// Which nine of an 18-hole card.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Nine {
    /// Holes 1 to 9.
    Front,
    /// Holes 10 to 18.
    Back,
}

/// What is wrong with a list of stroke indexes.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum StrokeIndexError {
    /// No hole at all.
    #[error("no stroke index given; one for each hole is needed")]
    None,
    /// One index on two holes.
    #[error("stroke index {index} stands twice, on hole {first} and on hole {second}; each is used once")]
    Twice {
        /// The index.
        index: u8,
        /// Its first hole, counted from 1.
        first: usize,
        /// Its second hole, counted from 1.
        second: usize,
    },
    /// An index that no card has.
    #[error("stroke index {index} on hole {hole}: on {holes} holes the indexes run from 1 to {highest}")]
    OutOfRange {
        /// The index.
        index: u8,
        /// Its hole, counted from 1.
        hole: usize,
        /// How many holes were given.
        holes: usize,
        /// The highest index allowed.
        highest: u8,
    },
    /// A nine was asked of a card that has not 18 holes.
    #[error("a nine is taken from 18 stroke indexes; {0} were given")]
    NotEighteen(usize),
}

impl StrokeIndexes {
    /// Stroke indexes in hole order, of any number of holes.
    ///
    /// Eighteen holes must be a permutation of 1 to 18; fewer holes (a nine of an 18-hole card, a short course) must use
    /// each index once, from 1 to 18.
    ///
    /// # Errors
    /// [`StrokeIndexError`] names the holes at fault.
    pub fn new(by_hole: &[u8]) -> Result<StrokeIndexes, StrokeIndexError> {
        if by_hole.is_empty() {
            return Err(StrokeIndexError::None);
        }
        let highest = u8::try_from(by_hole.len().max(18)).unwrap_or(u8::MAX);
        for (at, &index) in by_hole.iter().enumerate() {
            if index == 0 || index > highest {
                return Err(StrokeIndexError::OutOfRange { index, hole: at + 1, holes: by_hole.len(), highest });
            }
            if let Some(first) = by_hole.iter().take(at).position(|&other| other == index) {
                return Err(StrokeIndexError::Twice { index, first: first + 1, second: at + 1 });
            }
        }
        Ok(StrokeIndexes { by_hole: by_hole.to_vec() })
    }

    /// The published indexes of one nine of an 18-hole card (Rules of Handicapping, Appendix E).
    ///
    /// # Errors
    /// [`StrokeIndexError::NotEighteen`] when the card has not 18 holes.
    pub fn nine(&self, nine: Nine) -> Result<StrokeIndexes, StrokeIndexError> {
        if self.by_hole.len() != 18 {
            return Err(StrokeIndexError::NotEighteen(self.by_hole.len()));
        }
        let (front, back) = self.by_hole.split_at(9);
        Ok(StrokeIndexes {
            by_hole: match nine {
                Nine::Front => front.to_vec(),
                Nine::Back => back.to_vec(),
            },
        })
    }

    /// The indexes in hole order.
    pub fn by_hole(&self) -> &[u8] {
        &self.by_hole
    }

    // Place of each hole in ascending order of stroke index, from 0.
    fn ranks(&self) -> impl Iterator<Item = usize> + '_ {
        self.by_hole.iter().map(|index| self.by_hole.iter().filter(|other| *other < index).count())
    }
}

/// Strokes received on each hole in hole order (negative: given back). They sum to the Playing Handicap; the hole a
/// player starts from changes nothing.
///
/// # References
/// Rules of Handicapping, Appendix E (ascending stroke index, repeating above the number of holes) and Appendix C
/// (a plus player gives back from the highest index downwards).
pub fn strokes_by_hole(playing: i32, indexes: &StrokeIndexes) -> Vec<i32> {
    strokes_by_hole_giving_back(playing, indexes, GiveBack::default())
}

/// The same with the Committee's choice of where strokes are given back.
pub fn strokes_by_hole_giving_back(playing: i32, indexes: &StrokeIndexes, give_back: GiveBack) -> Vec<i32> {
    let holes = i32::try_from(indexes.by_hole.len()).unwrap_or(18).max(1);
    if playing < 0 && give_back == GiveBack::LowestIndexFirst {
        return strokes_by_hole(-playing, indexes).into_iter().map(|strokes| -strokes).collect();
    }
    let everywhere = playing.div_euclid(holes);
    let one_more = playing.rem_euclid(holes) as usize;
    indexes.ranks().map(|rank| everywhere + i32::from(rank < one_more)).collect()
}
