//! The scout's list: which number to measure next, because an error in it that is plausible would change how a hole is played.
//!
//! Bounded: the ten dearest pieces of ground of a hole, two players a tee, eight moved grounds a piece. One hole at a time, so that it
//! can run behind the screen and be called off between two solves.

use super::flip::{QUARTERS, changed, doubt, play_words, with_green_moved, with_moved};
use crate::course::{Hole, Sure};
use crate::plan::{HolePlan, NoPlan, Question, plan, price};
use crate::units::{Across, Along};
use std::sync::atomic::AtomicBool;

/// The most pieces of ground of a hole that are looked at.
pub const DEAREST: usize = 10;
/// A piece that costs less than this many strokes decides nothing wherever it lies.
const WORTH: f64 = 0.01;
/// The most players of one tee that are asked.
pub const PLAYERS: usize = 2;

/// What to measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// How far along the hole it lies: reach and carry.
    Along,
    /// How far from the line.
    Across,
    /// How far it is to the front of the green.
    Front,
}

impl Measure {
    /// What to do, as the list says it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Along => "how far it is to carry",
            Self::Across => "how far it lies from the line",
            Self::Front => "how far it is to the front",
        }
    }
}

/// A player for whom a number matters.
#[derive(Clone, Debug, PartialEq)]
pub struct Matters {
    /// The player.
    pub player: String,
    /// How often a plausible error changes the play, 0 to 1 in quarters.
    pub share: f64,
    /// The play as it is.
    pub play: String,
    /// What it would be.
    pub instead: String,
}

/// One number to measure.
#[derive(Clone, Debug, PartialEq)]
pub struct ScoutLine {
    /// The hole.
    pub hole: u8,
    /// What it is a number of: the name of a piece of ground, or `green`.
    pub what: String,
    /// Which number.
    pub measure: Measure,
    /// Where it lies now, from the start of the line.
    pub at: Along,
    /// And beside the line.
    pub across: Across,
    /// How well it is known; `None` where nobody says.
    pub sure: Option<Sure>,
    /// One standard deviation of its error, yards.
    pub doubt: f64,
    /// How often a plausible error changes a play: the mean over the players asked.
    pub share: f64,
    /// Strokes that the piece costs the player it costs most; 0 for the green.
    pub price: f64,
    /// For whom it matters, the most often first.
    pub players: Vec<Matters>,
}

/// The numbers of one hole that nobody measured and that would change a play; of each tee the first two players are asked.
/// Ranked; what changes no play is not there.
///
/// # Errors
/// [`NoPlan`] when no player can play the hole as it is drawn, or the work was called off.
pub fn scout_hole(players: &[(&str, &Question)], cancel: &AtomicBool) -> Result<Vec<ScoutLine>, NoPlan> {
    let mut found: Vec<ScoutLine> = Vec::new();
    let mut asked: Vec<&(&str, &Question)> = Vec::new();
    for player in players {
        if asked.iter().filter(|(_, q)| q.tee == player.1.tee).count() < PLAYERS {
            asked.push(player);
        }
    }
    for (name, question) in &asked {
        let mut base = plan(question, cancel)?;
        price(question, &mut base, cancel)?;
        for (line, share, instead) in numbers(question, &base, cancel)? {
            let play = base.plays.first().map(|p| play_words(p, question)).unwrap_or_default();
            let matters = Matters { player: (*name).to_owned(), share, play, instead };
            let known = found.iter_mut().find(|l| l.what == line.what && l.measure == line.measure);
            match known {
                Some(known) => {
                    known.price = known.price.max(line.price);
                    known.players.push(matters);
                }
                None => found.push(ScoutLine { players: vec![matters], ..line }),
            }
        }
    }
    let count = asked.len().max(1);
    for line in &mut found {
        line.share = line.players.iter().map(|p| p.share).sum::<f64>() / f64::from(u8::try_from(count).unwrap_or(1));
        line.players.sort_by(|a, b| b.share.total_cmp(&a.share));
    }
    rank(&mut found);
    Ok(found)
}

/// The most often decisive first; of equals the dearer, then the earlier hole.
pub fn rank(lines: &mut [ScoutLine]) {
    lines.sort_by(|a, b| {
        b.share
            .total_cmp(&a.share)
            .then(b.price.total_cmp(&a.price))
            .then(a.hole.cmp(&b.hole))
            .then(a.what.cmp(&b.what))
    });
}

/// Each doubtful number of a hole that changes this player's play, with how often it does and the other play.
fn numbers(question: &Question, base: &HolePlan, cancel: &AtomicBool) -> Result<Vec<(ScoutLine, f64, String)>, NoPlan> {
    let hole = &question.hole;
    let line = hole.ground.line();
    let mut found = Vec::new();
    let mut push = |line: ScoutLine, moved: &dyn Fn(f64) -> Hole| -> Result<(), NoPlan> {
        let (mut flips, mut instead) = (0_u8, None);
        // The two ends first: where neither changes anything, what lies between them is not tried.
        let [low, inner_low, inner_high, high] = QUARTERS;
        for quarter in [low, high, inner_low, inner_high] {
            if flips == 0 && (quarter == inner_low || quarter == inner_high) {
                break;
            }
            let asked = Question { hole: moved(quarter * line.doubt), ..question.clone() };
            let new = plan(&asked, cancel)?;
            if changed(base, &new) {
                flips += 1;
                instead = instead.or_else(|| new.plays.first().map(|p| play_words(p, question)));
            }
        }
        if let Some(instead) = instead {
            found.push((line, f64::from(flips) / 4.0, instead));
        }
        Ok(())
    };
    for cost in base.prices.iter().take(DEAREST).filter(|cost| cost.strokes >= WORTH) {
        let Some(piece) = hole.ground.features.get(cost.feature) else { continue };
        let sure = sure_of(hole, &piece.name);
        if measured(sure) {
            continue;
        }
        let (at, across) = line.locate(super::flip::middle(piece));
        let of = |measure| ScoutLine {
            hole: hole.number,
            what: piece.name.clone(),
            measure,
            at,
            across,
            sure,
            doubt: doubt(sure),
            share: 0.0,
            price: cost.strokes,
            players: Vec::new(),
        };
        push(of(Measure::Along), &|by| with_moved(hole, cost.feature, by, 0.0))?;
        push(of(Measure::Across), &|by| with_moved(hole, cost.feature, 0.0, by))?;
    }
    let sure = hole.sketch.green.as_ref().and_then(|g| g.sure);
    if let Some(green) = hole.ground.green.as_ref().filter(|_| !measured(sure)) {
        let line = ScoutLine {
            hole: hole.number,
            what: "green".to_owned(),
            measure: Measure::Front,
            at: green.front,
            across: line.locate(green.middle).1,
            sure,
            doubt: doubt(sure),
            share: 0.0,
            price: 0.0,
            players: Vec::new(),
        };
        push(line, &|by| with_green_moved(hole, by))?;
    }
    Ok(found)
}

/// Paced and lasered numbers are measured; the others are not.
const fn measured(sure: Option<Sure>) -> bool {
    matches!(sure, Some(Sure::Laser | Sure::Paced))
}

/// How well the notebook knows a piece of ground: by what it says of the piece of this name.
fn sure_of(hole: &Hole, name: &str) -> Option<Sure> {
    let alike = |other: &Option<String>| other.as_deref().is_some_and(|other| other.eq_ignore_ascii_case(name));
    hole.sketch.pieces.iter().find(|p| alike(&p.name) || alike(&p.id)).and_then(|p| p.sure)
}
