//! Keying one card: what each key does to it, the running totals, and what is unlikely enough to be asked about.
//!
//! A question never stops the typist: the score stands as it was typed.

use super::write::keying_text;
use crate::scoring::{HoleScore, net, stableford_points};
use std::sync::Arc;

/// What a card is keyed over: its holes with par, strokes received and names.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CardSheet {
    /// Hole numbers in the order of the card.
    pub holes: Vec<u8>,
    /// Names of the holes; empty where there is none.
    pub names: Vec<String>,
    /// Par of each hole.
    pub pars: Vec<u8>,
    /// Strokes received on each hole, by the Playing Handicap.
    pub strokes: Vec<i32>,
    /// The Playing Handicap of the first event that has one.
    pub playing: Option<i32>,
    /// The event by which strokes are shown.
    pub event: String,
    /// The tee.
    pub tee: String,
}

/// Where the next digit goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Focus {
    /// The holes.
    #[default]
    Holes,
    /// The total that is written on the card.
    WrittenTotal,
}

/// One card being keyed by one keyer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pad {
    /// The card.
    pub id: String,
    /// The name on it.
    pub name: String,
    /// The round, from 0.
    pub round: usize,
    /// Who keys it.
    pub keyer: String,
    /// Who mends a keying of somebody else.
    pub mended_by: Option<String>,
    /// Its holes.
    pub sheet: Arc<CardSheet>,
    /// The keying that is gone on with, as it was read.
    pub before: Vec<HoleScore>,
    /// A box for each hole.
    pub scores: Vec<HoleScore>,
    /// The hole the next digit is for, by place; one behind the last when all are through.
    pub at: usize,
    /// Where digits go.
    pub focus: Focus,
    /// The total written on the card, as typed.
    pub written: String,
    /// Whether the marker has certified.
    pub marker: Option<bool>,
    /// Whether the player has certified.
    pub player: Option<bool>,
}

/// Totals of what has been keyed so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Running {
    /// Holes with something in their box.
    pub entered: usize,
    /// Gross of the first half of the card.
    pub first: i32,
    /// Gross of the rest.
    pub last: i32,
    /// Gross of the holes that were holed out.
    pub gross: i32,
    /// Par of those holes.
    pub par: i32,
    /// Net of those holes.
    pub net: i32,
    /// Stableford points of the holes entered.
    pub points: i32,
    /// A hole has no score.
    pub no_score: bool,
}

impl Pad {
    /// A card to be keyed; `before` are the scores of a keying that is gone on with.
    pub fn new(id: &str, name: &str, round: usize, keyer: &str, sheet: Arc<CardSheet>, before: &[HoleScore]) -> Self {
        let mut scores = before.to_vec();
        scores.resize(sheet.holes.len(), HoleScore::Empty);
        let at = scores.iter().position(|score| !score.is_entered()).unwrap_or(scores.len());
        Pad {
            id: id.to_owned(),
            name: name.to_owned(),
            round,
            keyer: keyer.to_owned(),
            mended_by: None,
            sheet,
            before: before.to_vec(),
            scores,
            at,
            focus: Focus::Holes,
            written: String::new(),
            marker: None,
            player: None,
        }
    }

    /// Whether every hole has something in its box.
    pub fn is_whole(&self) -> bool {
        self.scores.iter().all(|score| score.is_entered())
    }

    /// A digit: a score at once, or the next figure of the written total. Returns whether anything changed.
    pub fn digit(&mut self, digit: u8) -> bool {
        if self.focus == Focus::WrittenTotal {
            let room = self.written.len() < 3 && !(self.written.is_empty() && digit == 0);
            if room {
                self.written.push(char::from(b'0' + digit.min(9)));
            }
            return room;
        }
        HoleScore::gross_of(digit).is_some_and(|score| self.put(score))
    }

    /// Puts a score in the box of the next hole and goes on.
    pub fn put(&mut self, score: HoleScore) -> bool {
        let Some(slot) = self.scores.get_mut(self.at) else { return false };
        *slot = score;
        self.at += 1;
        if self.at >= self.scores.len() && self.is_whole() {
            self.focus = Focus::WrittenTotal;
        }
        true
    }

    /// One stroke more on the hole just keyed, for 10 and above.
    pub fn raise(&mut self) -> bool {
        let Some(slot) = self.at.checked_sub(1).and_then(|at| self.scores.get_mut(at)) else { return false };
        match slot.gross().and_then(|gross| HoleScore::gross_of(gross.saturating_add(1))) {
            Some(more) => {
                *slot = more;
                self.focus = Focus::Holes;
                if self.at >= self.sheet.holes.len() && self.is_whole() {
                    self.focus = Focus::WrittenTotal;
                }
                true
            }
            None => false,
        }
    }

    /// Takes the last key back: the last figure of the written total, else the hole just keyed.
    pub fn back(&mut self) -> bool {
        if self.focus == Focus::WrittenTotal && self.written.pop().is_some() {
            return true;
        }
        self.focus = Focus::Holes;
        let Some(before) = self.at.checked_sub(1) else { return false };
        self.at = before;
        if let Some(slot) = self.scores.get_mut(before) {
            *slot = HoleScore::Empty;
        }
        true
    }

    /// Moves to another hole; behind the last is the written total.
    pub fn step(&mut self, by: isize) {
        self.at = self.at.saturating_add_signed(by).min(self.scores.len());
        self.focus = if self.at >= self.scores.len() { Focus::WrittenTotal } else { Focus::Holes };
    }

    /// The totals so far.
    pub fn running(&self) -> Running {
        let mut sum = Running::default();
        let half = self.scores.len().div_ceil(2);
        for (at, score) in self.scores.iter().enumerate() {
            if !score.is_entered() {
                continue;
            }
            sum.entered += 1;
            let par = self.sheet.pars.get(at).copied().map_or(4, i32::from);
            let strokes = self.sheet.strokes.get(at).copied().unwrap_or(0);
            let gross = score.gross().map(i32::from);
            sum.points += stableford_points(par, strokes, gross);
            match gross {
                Some(gross) => {
                    *(if at < half { &mut sum.first } else { &mut sum.last }) += gross;
                    sum.gross += gross;
                    sum.par += par;
                    sum.net += net(gross, strokes);
                }
                None => sum.no_score = true,
            }
        }
        sum
    }

    /// The written total, where one was typed.
    pub fn written_total(&self) -> Option<u16> {
        self.written.parse().ok().filter(|total| *total > 0)
    }

    /// What to look at again on the card, latest first: unlikely scores by the hole's name, a total that differs.
    pub fn questions(&self) -> Vec<String> {
        let mut out = Vec::new();
        let running = self.running();
        if let Some(written) = self.written_total()
            && self.is_whole()
            && !running.no_score
            && (self.written.len() >= running.gross.to_string().len())
            && i32::from(written) != running.gross
        {
            out.push(format!("{written} is written on the card, the holes make {}", running.gross));
        }
        for at in (0..self.scores.len()).rev() {
            out.extend(self.question_on(at));
        }
        out
    }

    /// `hole 7 Saltpan: 11 on a par 3?` where a score is unlikely.
    pub fn question_on(&self, at: usize) -> Option<String> {
        let gross = self.scores.get(at)?.gross()?;
        let par = *self.sheet.pars.get(at)?;
        let strokes = self.sheet.strokes.get(at).copied().unwrap_or(0).max(0);
        if !is_unlikely(gross, par, strokes) {
            return None;
        }
        let number = self.sheet.holes.get(at).copied().unwrap_or_default();
        let name = self.sheet.names.get(at).filter(|name| !name.is_empty()).map_or(String::new(), |n| format!(" {n}"));
        Some(format!("hole {number}{name}: {gross} on a par {par}?"))
    }

    /// The keying as a file.
    pub fn text(&self, at: &str) -> String {
        keying_text(self, at)
    }
}

/// Three under par or better, a hole in one, or five more than par with the strokes received: all happen, none often.
fn is_unlikely(gross: u8, par: u8, strokes: i32) -> bool {
    let (gross, par) = (i32::from(gross), i32::from(par));
    gross == 1 || gross <= par - 3 || gross >= par + strokes.min(3) + 5
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn pad() -> Pad {
        let sheet = CardSheet {
            holes: (1..=18).collect(),
            names: vec!["Saltpan".to_owned(); 18],
            pars: vec![4, 3, 5, 4, 4, 3, 4, 5, 4, 4, 4, 3, 5, 4, 4, 3, 4, 5],
            strokes: vec![1; 18],
            playing: Some(18),
            ..CardSheet::default()
        };
        Pad::new("M1", "Ann", 0, "wren", Arc::new(sheet), &[])
    }

    #[test]
    fn eighteen_digits_and_the_total_make_a_card() {
        let mut pad = pad();
        for digit in [5, 4, 6, 5, 5, 4, 5, 6, 5, 5, 5, 4, 6, 5, 5, 4, 5, 6] {
            assert!(pad.digit(digit));
        }
        assert!(pad.is_whole() && pad.focus == Focus::WrittenTotal);
        let running = pad.running();
        assert_eq!((running.first, running.last, running.gross, running.net), (45, 45, 90, 72));
        assert_eq!(running.points, 36, "bogey on each hole with a stroke each is net par");
        pad.digit(9);
        assert_eq!(pad.questions(), Vec::<String>::new(), "half a total asks nothing");
        pad.digit(1);
        assert_eq!(pad.questions(), ["91 is written on the card, the holes make 90"]);
        pad.back();
        pad.digit(0);
        assert_eq!(pad.questions(), Vec::<String>::new());
    }

    #[test]
    fn ten_and_more_by_plus_are_asked_about_and_stand() {
        let mut pad = pad();
        pad.digit(4);
        pad.digit(9);
        pad.raise();
        pad.raise();
        assert_eq!(pad.questions(), ["hole 2 Saltpan: 11 on a par 3?"]);
        assert_eq!(pad.scores[1], HoleScore::Gross(11));
        pad.digit(2);
        assert_eq!(pad.questions()[0], "hole 3 Saltpan: 2 on a par 5?");
        pad.back();
        pad.back();
        assert_eq!((pad.at, pad.running().gross), (1, 4));
        assert!(!pad.digit(0), "0 is no score");
    }
}
