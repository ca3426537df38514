//! Match play between two sides: holes won, conceded, tied; extra holes; over when the lead exceeds the holes left
//! (Rules of Golf 3.2).

use super::sides::{BallValue, Better, Partners, SideValue};
use super::tally::{brought, number, on_hole};
use super::{CardHole, Count, Format, HoleResult, HoleScore, HoleValue, Side, Standing, Terms};
use crate::handicap::Play;

pub(super) struct MatchPlay {
    pub(super) play: Play,
    pub(super) terms: Terms,
    pub(super) partners: Box<dyn Partners>,
}

/// How a match stands, seen from the first side.
#[derive(Clone, Copy, Debug)]
struct State {
    lead: i32,
    decided: usize,
    left: usize,
    played: usize,
    skipped: Option<u8>,
    end: Option<End>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    /// The lead exceeded the holes left.
    Decided,
    /// Won on an extra hole.
    Extra,
    /// Tied, and the tie stands.
    Tied,
    /// One side gave up: 1 when the first side has won.
    GivenUp(i32),
}

impl MatchPlay {
    fn value(&self, side: &Side, at: usize) -> SideValue {
        let (values, balls) = brought(side, at, |hole| match (hole.score, hole.gross()) {
            (HoleScore::Empty, _) => BallValue::Empty,
            (_, Some(gross)) => BallValue::Figure(self.counted(hole, gross)),
            (_, None) => BallValue::NoScore,
        });
        self.partners.side(values.get(..balls).unwrap_or(&values), Better::Less)
    }

    fn counted(&self, hole: &CardHole, gross: i32) -> i32 {
        match self.terms.count {
            Count::Net => gross - hole.strokes,
            Count::Gross => gross,
        }
    }

    // 1 when the first side wins the hole, −1 when the second does, `None` while it is open.
    fn outcome(&self, first: &Side, second: &Side, at: usize) -> Option<i32> {
        match (first.conceded.contains(&at), second.conceded.contains(&at)) {
            (true, false) => return Some(-1),
            (false, true) => return Some(1),
            // Both cannot give one hole away; the scores decide.
            _ => {}
        }
        match (self.value(first, at), self.value(second, at)) {
            (SideValue::Open, _) | (_, SideValue::Open) => None,
            // Nobody completed the hole and who picked up last is unknown: tied (Clarification 23.2a/1).
            (SideValue::NoScore, SideValue::NoScore) => Some(0),
            (SideValue::NoScore, _) => Some(-1),
            (_, SideValue::NoScore) => Some(1),
            (SideValue::Figure(ours, _), SideValue::Figure(theirs, _)) => Some((theirs - ours).signum()),
        }
    }

    fn walk(&self, sides: &[Side], after: usize) -> State {
        let holes = self.terms.holes;
        let mut state = State { lead: 0, decided: 0, left: holes, played: 0, skipped: None, end: None };
        let [first, second] = sides else {
            return state;
        };
        let given_up = match (first.gave_up_after, second.gave_up_after) {
            (Some(ours), Some(theirs)) if theirs < ours => Some((theirs, 1)),
            (Some(ours), _) => Some((ours, -1)),
            (None, Some(theirs)) => Some((theirs, 1)),
            (None, None) => None,
        };
        let mut first_open = None;
        for at in 0..first.len().max(second.len()).min(after) {
            if let Some((_, winner)) = given_up.filter(|(given, _)| *given <= at) {
                state.end = Some(End::GivenUp(winner));
                return state;
            }
            if at >= holes && (state.left > 0 || !self.terms.extra_holes) {
                break;
            }
            let Some(outcome) = self.outcome(first, second, at) else {
                first_open = first_open.or_else(|| number(first, at));
                continue;
            };
            state.played = at + 1;
            state.lead += outcome;
            state.skipped = first_open;
            if at >= holes {
                if outcome != 0 {
                    state.end = Some(End::Extra);
                    return state;
                }
                continue;
            }
            state.decided += 1;
            state.left = holes - state.decided;
            if state.lead.unsigned_abs() as usize > state.left {
                state.end = Some(End::Decided);
                return state;
            }
        }
        if let Some((_, winner)) = given_up.filter(|(given, _)| *given <= after) {
            state.end = Some(End::GivenUp(winner));
        } else if state.left == 0 && !self.terms.extra_holes {
            state.end = Some(End::Tied);
        }
        state
    }
}

// The first side as it is, the second with the signs turned.
fn seen_from(side: usize, lead: i32) -> i32 {
    if side == 0 { lead } else { -lead }
}

fn to_i32(count: usize) -> i32 {
    i32::try_from(count).unwrap_or(i32::MAX)
}

// The shortest way to win from here: a hole after a hole until the lead exceeds what is left.
fn earliest_win(lead: i32, left: usize) -> Option<String> {
    let left = to_i32(left);
    let wins = (left - lead).div_euclid(2) + 1;
    match left - wins {
        remaining if wins < 1 || remaining < 0 => None,
        0 => Some(format!("{} up", lead + wins)),
        remaining => Some(format!("{} & {remaining}", lead + wins)),
    }
}

impl Format for MatchPlay {
    fn play(&self) -> Play {
        self.play
    }

    fn terms(&self) -> &Terms {
        &self.terms
    }

    fn compares(&self) -> &'static str {
        match self.terms.count {
            Count::Net => "net scores hole by hole, strokes received from the lowest handicap",
            Count::Gross => "gross scores hole by hole",
        }
    }

    fn needs(&self) -> String {
        format!("of both sides {}, or that the hole was conceded", self.partners.needs())
    }

    fn empty_hole(&self) -> &'static str {
        "still to play; the hole is open until both sides have an entry"
    }

    fn ends(&self) -> &'static str {
        if self.terms.extra_holes {
            "when the lead exceeds the holes left; a tie after the last hole is played on hole by hole"
        } else {
            "when the lead exceeds the holes left; a tie after the last hole stands"
        }
    }

    fn on_the_tee(&self, at: usize) -> Option<usize> {
        self.partners.on_the_tee(at)
    }

    fn hole(&self, sides: &[Side], side: usize, at: usize) -> HoleResult {
        let open = HoleResult { value: HoleValue::Open, counted: 0, gross: None };
        let (Some(own), [first, second]) = (sides.get(side), sides) else {
            return open;
        };
        let value = match self.outcome(first, second, at).map(|won| seen_from(side, won)) {
            None => HoleValue::Open,
            Some(1) => HoleValue::Won,
            Some(0) => HoleValue::Tied,
            Some(_) => HoleValue::Lost,
        };
        match self.value(own, at) {
            SideValue::Figure(_, counted) => HoleResult {
                value,
                counted,
                gross: on_hole(own, at)
                    .enumerate()
                    .filter(|(ball, _)| counted & (1 << ball) != 0)
                    .map(|(_, hole)| hole.and_then(CardHole::gross))
                    .sum(),
            },
            _ => HoleResult { value, ..open },
        }
    }

    fn standing(&self, sides: &[Side], side: usize, after: usize) -> Standing {
        let state = self.walk(sides, after);
        let lead = seen_from(side, state.lead);
        let left = to_i32(state.left);
        let over = state.end.is_some();
        Standing {
            decided: state.decided,
            left: state.left,
            skipped: state.skipped,
            figure: Some(lead),
            no_score: None,
            against: lead,
            least: Some(if over { lead } else { lead - left }),
            most: Some(if over { lead } else { lead + left }),
            over,
            ended_with: (state.end == Some(End::Decided)).then_some(state.left),
        }
    }

    fn words(&self, sides: &[Side], side: usize, after: usize) -> String {
        let state = self.walk(sides, after);
        let lead = seen_from(side, state.lead);
        let holes = lead.abs();
        let (result, way) = if lead > 0 { ("won", "up") } else { ("lost", "down") };
        match state.end {
            Some(End::GivenUp(winner)) => {
                let result = if seen_from(side, winner) > 0 { "won" } else { "lost" };
                format!("{result}, the match given up after {}", state.played)
            }
            Some(End::Tied) => "tied".to_owned(),
            Some(End::Extra) => format!("{result} {holes} {way} after {} holes", state.played),
            Some(End::Decided) if state.left == 0 => format!("{result} {holes} {way}"),
            Some(End::Decided) => format!("{result} {holes} & {}", state.left),
            None if state.left == 0 => {
                format!("tied after {}, extra holes decide", state.played)
            }
            None if lead == 0 => format!("tied with {} to play", state.left),
            None => format!("{holes} {way} with {} to play", state.left),
        }
    }

    fn chase(&self, _sides: &[Side], _side: usize, _target: i32) -> Option<String> {
        None
    }

    fn possible(&self, sides: &[Side], side: usize) -> String {
        let state = self.walk(sides, usize::MAX);
        if state.end.is_some() || state.left == 0 {
            return self.words(sides, side, usize::MAX);
        }
        let lead = seen_from(side, state.lead);
        let left = to_i32(state.left);
        let best = earliest_win(lead, state.left).map(|win| format!("at best won {win}"));
        let worst = earliest_win(-lead, state.left).map(|win| format!("at worst lost {}", win.replace("up", "down")));
        match (best, worst) {
            (Some(best), None) => format!("{best}, cannot lose in the round"),
            (None, Some(worst)) if left + lead == 0 => {
                let must = if left == 1 { "the last hole".to_owned() } else { format!("all {left} holes left") };
                format!("must win {must} to tie, {worst}")
            }
            (Some(best), Some(worst)) => format!("{best}, {worst}"),
            (None, None) => "tied at best".to_owned(),
            (None, Some(worst)) => worst,
        }
    }
}
