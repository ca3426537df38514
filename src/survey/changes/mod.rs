//! Two editions of a notebook compared in golf's words: what is longer, what moved, what is said now; and the pupils whose plans
//! change by it.
//!
//! Distances are from the start of each hole's line, as the notebook writes them, in the unit of the new edition.

mod ground;
mod plans;

pub use ground::{Pieces, extent_words, pieces};
pub use plans::{PlanChange, plan_change};

use crate::course::{ByCard, Card, Course, Hole, HoleNotes, TeeSet, Written, condition_words};
use crate::units::{Across, Length, LengthUnit};

/// What a change is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Of {
    /// The course: its tees and ratings, green speed.
    Course,
    /// The card: par, stroke index, name.
    Card,
    /// The line: lengths, bends, heights.
    Line,
    /// A piece of ground.
    Ground,
    /// The green.
    Green,
    /// What is written about the hole.
    Written,
}

impl Of {
    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Course => "course",
            Self::Card => "card",
            Self::Line => "line",
            Self::Ground => "ground",
            Self::Green => "green",
            Self::Written => "written",
        }
    }
}

/// One change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The hole; `None` for the whole course.
    pub hole: Option<u8>,
    /// What it is of.
    pub of: Of,
    /// In words, without the hole.
    pub words: String,
}

/// Everything in which two editions differ, hole by hole.
pub fn compare(old: &Course, new: &Course) -> Vec<Change> {
    let mut found: Vec<Change> = Vec::new();
    let unit = new.units;
    let mut all = Said { hole: None, unit, found: &mut found };
    all.course(old, new);
    for hole in &new.holes {
        let mut said = Said { hole: Some(hole.number), unit, found: &mut found };
        match old.hole(hole.number) {
            Some(before) => said.hole(before, hole),
            None => said.push(Of::Course, "the hole is new"),
        }
    }
    for gone in old.holes.iter().filter(|h| new.hole(h.number).is_none()) {
        let words = if new.unread.contains(&gone.number) { "the hole cannot be read now" } else { "the hole is gone" };
        found.push(Change { hole: Some(gone.number), of: Of::Course, words: words.to_owned() });
    }
    found
}

/// Where words about one hole go.
struct Said<'a> {
    hole: Option<u8>,
    unit: LengthUnit,
    found: &'a mut Vec<Change>,
}

impl Said<'_> {
    fn push(&mut self, of: Of, words: impl Into<String>) {
        self.found.push(Change { hole: self.hole, of, words: words.into() });
    }

    fn course(&mut self, old: &Course, new: &Course) {
        self.text(Of::Course, "the name", Some(&old.name), Some(&new.name));
        self.text(Of::Course, "the edition", old.edition.as_ref(), new.edition.as_ref());
        self.text(Of::Course, "its author", old.by.as_ref(), new.by.as_ref());
        if old.green_speed != new.green_speed {
            let show = |v: Option<f64>| v.map_or("unknown".to_owned(), |v| format!("{v} feet"));
            self.push(Of::Course, format!("usual green speed {} → {}", show(old.green_speed), show(new.green_speed)));
        }
        if old.firmness != new.firmness {
            let show = |f| format!("{f:?}").to_lowercase();
            self.push(Of::Course, format!("the ground is {} → {}", show(old.firmness), show(new.firmness)));
        }
        for tee in &new.tees {
            match old.tees.iter().find(|t| t.name == tee.name) {
                None => self.push(Of::Course, format!("{} tees are new", tee.name)),
                Some(before) => self.ratings(before, tee),
            }
        }
        for gone in old.tees.iter().filter(|t| new.tee(&t.name).is_none()) {
            self.push(Of::Course, format!("{} tees are gone", gone.name));
        }
    }

    fn ratings(&mut self, old: &TeeSet, new: &TeeSet) {
        for card in Card::BOTH {
            let show = |set: &TeeSet| {
                set.ratings
                    .on(card)
                    .map_or("not rated".to_owned(), |r| format!("{} / {}", r.whole.rating, r.whole.slope))
            };
            let (before, now) = (show(old), show(new));
            if before != now {
                self.push(Of::Course, format!("{} tees on the {} card: {before} → {now}", new.name, card.whose()));
            }
        }
    }

    fn text(&mut self, of: Of, what: &str, old: Option<&String>, new: Option<&String>) {
        match (old, new) {
            (Some(a), Some(b)) if a != b => self.push(of, format!("{what} “{a}” → “{b}”")),
            (None, Some(b)) => self.push(of, format!("{what} “{b}” is new")),
            (Some(a), None) => self.push(of, format!("{what} “{a}” is gone")),
            _ => {}
        }
    }

    fn hole(&mut self, old: &Hole, new: &Hole) {
        self.text(Of::Card, "its name", old.name.as_ref(), new.name.as_ref());
        self.by_card("par", old.par, new.par);
        self.by_card("stroke index", old.stroke_index, new.stroke_index);
        self.line(old, new);
        ground::compare(self, old, new);
        let notes = |hole: &Hole| HoleNotes::with_layers(hole, []);
        self.written(&notes(old), &notes(new));
        self.text(Of::Written, "the caution", old.caution.as_ref(), new.caution.as_ref());
        self.text(Of::Written, "the way in", old.walk_in.as_ref(), new.walk_in.as_ref());
        self.text(Of::Written, "the way out", old.walk_out.as_ref(), new.walk_out.as_ref());
    }

    fn by_card(&mut self, what: &str, old: ByCard<u8>, new: ByCard<u8>) {
        let show = |v: Option<u8>| v.map_or("unknown".to_owned(), |v| v.to_string());
        if old.men == old.women && new.men == new.women {
            if old.men != new.men {
                self.push(Of::Card, format!("{what} {} → {}", show(old.men), show(new.men)));
            }
            return;
        }
        for card in Card::BOTH.into_iter().filter(|card| old.on(*card) != new.on(*card)) {
            let words = format!("{what} on the {} card {} → {}", card.whose(), show(old.on(card)), show(new.on(card)));
            self.push(Of::Card, words);
        }
    }

    fn show(&self, yards: f64) -> String {
        Length::yards(yards).show(self.unit)
    }

    /// By how much something differs as it is written; `None` for less than one of the unit.
    fn more(&self, old: f64, new: f64) -> Option<(f64, String)> {
        let differs = (new / self.unit.in_yards()).round() - (old / self.unit.in_yards()).round();
        (differs != 0.0).then(|| (differs, format!("{}", differs.abs())))
    }

    fn line(&mut self, old: &Hole, new: &Hole) {
        for tee in &new.tees {
            let Some(before) = old.tees.iter().find(|t| t.name == tee.name) else {
                self.push(Of::Line, format!("it has {} tees now, {} long", tee.name, self.show(tee.length)));
                continue;
            };
            if let Some((by, figure)) = self.more(before.length, tee.length) {
                let word = if by > 0.0 { "longer" } else { "shorter" };
                let words = format!(
                    "{figure} {word} from {} ({} → {})",
                    tee.name,
                    self.show(before.length),
                    self.show(tee.length)
                );
                self.push(Of::Line, words);
            }
            if (before.across.0 - tee.across.0).abs() >= 1.0 {
                let side = |x: Across| x.show(self.unit);
                let words = format!("{} tee stands at {} → {}", tee.name, side(before.across), side(tee.across));
                self.push(Of::Line, words);
            }
        }
        for gone in old.tees.iter().filter(|t| !new.tees.iter().any(|n| n.name == t.name)) {
            self.push(Of::Line, format!("it has no {} tees any more", gone.name));
        }
        let bends = |hole: &Hole| {
            let show = |b: &crate::ground::Bend| {
                let side = if b.turn_deg < 0.0 { "left" } else { "right" };
                format!("{:.0}° {side} at {}", b.turn_deg.abs(), self.show(b.at.0))
            };
            let all: Vec<String> = hole.bends.iter().map(show).collect();
            if all.is_empty() { "straight".to_owned() } else { all.join(", ") }
        };
        let (before, now) = (bends(old), bends(new));
        if before != now {
            self.push(Of::Line, format!("the line bends {before} → {now}"));
        }
        let up = |hole: &Hole| {
            let last = hole.heights.last().map_or(0.0, |h| h.1);
            let word = if last < 0.0 { "down" } else { "up" };
            format!("{} {word}", self.show(last.abs()))
        };
        let (before, now) = (up(old), up(new));
        if before != now {
            self.push(Of::Line, format!("its end lies {before} → {now}"));
        }
    }

    fn written(&mut self, old: &HoleNotes, new: &HoleNotes) {
        let of = |notes: &HoleNotes| {
            let aims = notes.aims.iter().map(|a| ("aim", a.written.clone()));
            let dangers = notes.dangers.iter().map(|d| {
                let of = d.of.clone().map(|of| format!("{of}: "));
                let text = d.written.text.clone().unwrap_or_default();
                ("danger", Written { text: Some(format!("{}{text}", of.unwrap_or_default())), ..d.written.clone() })
            });
            let layups = notes.layups.iter().map(|l| ("lay-up", l.written.clone()));
            let said = notes.notes.iter().map(|n| ("note", n.written.clone()));
            aims.chain(dangers).chain(layups).chain(said).collect::<Vec<_>>()
        };
        let (before, now) = (of(old), of(new));
        let words = |w: &Written| w.text.clone().unwrap_or_else(|| w.id.clone());
        // What is the same on both sides pairs first: one name may stand for several.
        let mut left: Vec<&(&str, Written)> = before.iter().collect();
        let mut fresh: Vec<&(&str, Written)> = Vec::new();
        for item in &now {
            let same = |o: &&(&str, Written)| o.0 == item.0 && o.1.text == item.1.text && o.1.when == item.1.when;
            match left.iter().position(same) {
                Some(index) => {
                    left.remove(index);
                }
                None => fresh.push(item),
            }
        }
        for (word, item) in fresh {
            match left.iter().position(|(kind, old)| kind == word && old.id == item.id) {
                Some(index) => {
                    let (_, old) = left.remove(index);
                    if old.text == item.text {
                        let show = |w: &Written| match condition_words(&w.when, self.unit) {
                            all if all.is_empty() => "for everyone".to_owned(),
                            some => some,
                        };
                        self.push(Of::Written, format!("{word} “{}”: {} → {}", item.id, show(old), show(item)));
                    } else {
                        self.push(Of::Written, format!("{word} “{}” → “{}”", words(old), words(item)));
                    }
                }
                None => self.push(Of::Written, format!("new {word}: “{}”", words(item))),
            }
        }
        for (word, gone) in left {
            self.push(Of::Written, format!("{word} gone: “{}”", words(gone)));
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::course::read;

    const NOTEBOOK: &str = include_str!("../../../sample-courses/corvane.yaml");

    fn said(edit: impl Fn(&str) -> String) -> Vec<String> {
        let (old, new) = (read(NOTEBOOK).0.unwrap(), read(&edit(NOTEBOOK)).0.unwrap());
        compare(&old, &new).into_iter().map(|c| format!("{:?} {}: {}", c.hole, c.of.word(), c.words)).collect()
    }

    #[test]
    fn an_edition_does_not_differ_from_itself() {
        assert_eq!(said(str::to_owned), Vec::<String>::new());
    }

    #[test]
    fn changes_are_told_in_the_words_of_the_game() {
        let lines = said(|t| t.replacen("from: 238, to: 256", "from: 243, to: 261", 1));
        assert_eq!(lines.len(), 1, "{lines:?}");
        assert!(lines.iter().all(|l| l.contains("5 farther")), "{lines:?}");
        let course = read(NOTEBOOK).0.unwrap();
        let index = course.hole(4).unwrap().stroke_index.men.unwrap();
        assert!(index > 0);
        let lines = said(|t| t.replacen("green_speed: ", "green_speed: 1", 1));
        assert!(lines.iter().any(|l| l.contains("green speed")), "{lines:?}");
    }
}
