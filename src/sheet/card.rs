//! A player's card as it stands: strokes, gross, net, points and totals.

use super::Golfer;
use crate::course::Course;
use crate::round::CardBox;
use crate::scoring::{CardHole, Running, running};

/// One hole of a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CardLine {
    /// The hole with what was entered.
    pub hole: CardHole,
    /// Its stroke index, where the card has one.
    pub stroke_index: Option<u8>,
    /// The hole or the last stroke on it was conceded.
    pub conceded: bool,
    /// How many of the strokes are penalty strokes, as noted.
    pub penalty_strokes: u8,
    /// The totals up to and with this hole.
    pub running: Running,
}

/// The card of one player.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct CardSheet {
    /// The holes in playing order.
    pub lines: Vec<CardLine>,
    /// How many holes the first part has: nine of eighteen, else all.
    pub first_part: usize,
    /// How many holes the round has; what follows are the extra holes of a match, which no total counts.
    pub round: usize,
}

impl CardSheet {
    /// The card of `golfer` over `holes` (hole numbers in playing order, the first `round` of them the round) with what was
    /// entered so far.
    pub fn new(course: &Course, golfer: &Golfer, holes: &[u8], round: usize, entered: &[CardBox]) -> Self {
        let boxes: Vec<(CardHole, Option<u8>)> = holes
            .iter()
            .enumerate()
            .map(|(i, number)| {
                let hole = course.holes.iter().find(|h| h.number == *number);
                let card_hole = CardHole {
                    number: *number,
                    par: hole.and_then(|h| h.par.on(golfer.card)).unwrap_or(4),
                    strokes: golfer.strokes.get(i).copied().unwrap_or(0),
                    score: entered.get(i).map(|b| b.score).unwrap_or_default(),
                };
                (card_hole, golfer.stroke_indexes.get(i).copied().flatten())
            })
            .collect();
        let card: Vec<CardHole> = boxes.iter().map(|(h, _)| *h).collect();
        let lines = boxes
            .iter()
            .zip(running(&card))
            .enumerate()
            .map(|(i, ((hole, stroke_index), running))| CardLine {
                hole: *hole,
                stroke_index: *stroke_index,
                conceded: entered.get(i).is_some_and(|b| b.conceded),
                penalty_strokes: entered.get(i).map_or(0, |b| b.penalty_strokes),
                running,
            })
            .collect();
        let round = round.min(holes.len());
        Self { lines, first_part: if round > 9 { round.div_ceil(2) } else { round }, round }
    }

    /// The totals of the holes entered so far.
    pub fn total(&self) -> Running {
        self.lines.get(..self.round).and_then(<[_]>::last).map(|l| l.running).unwrap_or_default()
    }

    /// The parts in which a card stands: out and in, and the extra holes of a match.
    pub fn parts(&self) -> Vec<std::ops::Range<usize>> {
        let (n, out, round) =
            (self.lines.len(), self.first_part.min(self.lines.len()), self.round.min(self.lines.len()));
        [0..out, out..round, round..n].into_iter().filter(|part| !part.is_empty()).collect()
    }

    /// The totals of the holes of a part, by position.
    pub fn part(&self, range: std::ops::Range<usize>) -> Running {
        let holes: Vec<CardHole> = self.lines.get(range).unwrap_or_default().iter().map(|l| l.hole).collect();
        running(&holes).last().copied().unwrap_or_default()
    }

    /// Par of a range of positions.
    pub fn par(&self, range: std::ops::Range<usize>) -> u32 {
        self.lines.get(range).unwrap_or_default().iter().map(|l| u32::from(l.hole.par)).sum()
    }

    /// How the card stands against the handicap, in words; empty before the first score.
    pub fn against_handicap(&self) -> String {
        let total = self.total();
        if total.entered == 0 {
            return String::new();
        }
        match total.points_to_handicap {
            0 => "level with the handicap".to_owned(),
            n if n > 0 => format!("{} better than the handicap", count(n)),
            n => format!("{} worse than the handicap", count(-n)),
        }
    }
}

/// Small numbers in words, as a sentence has them.
fn count(n: i32) -> String {
    const WORDS: [&str; 10] = ["none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    usize::try_from(n).ok().and_then(|i| WORDS.get(i)).map_or_else(|| n.to_string(), |w| (*w).to_owned())
}
