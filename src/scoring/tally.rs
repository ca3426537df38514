//! Formats that add up: what a hole is worth in the unit of the format, and the state that follows.

use super::sides::{BallValue, Better, Partners, SideValue};
use super::{Ball, CardHole, Count, Format, HoleResult, HoleValue, Side, Standing, Terms};
use crate::handicap::Play;

/// Most balls a side has.
const MOST_BALLS: usize = 4;

/// The unit of a format that adds up holes: strokes, points, holes won less lost.
pub(super) trait Unit: Send + Sync {
    /// Whether fewer or more is better.
    fn better(&self) -> Better;
    /// What a ball brings to a hole.
    fn ball(&self, hole: &CardHole, terms: &Terms) -> BallValue;
    /// The gross that is shown for it.
    fn gross(&self, hole: &CardHole) -> Option<i32> {
        hole.gross()
    }
    /// The least and the most that a ball can still bring, where bounded.
    fn bounds(&self, hole: &CardHole, terms: &Terms) -> (Option<i32>, Option<i32>);
    /// A figure of a hole as a value.
    fn value(&self, figure: i32) -> HoleValue;
    /// The figure of a hole played to the handicap.
    fn level(&self, par: i32) -> i32;
    /// What is compared.
    fn compares(&self, count: Count) -> &'static str;
    /// What an empty hole means.
    fn empty_hole(&self) -> &'static str;
    /// The state in words.
    fn words(&self, figure: i32, against: i32, decided: usize, left: usize, terms: &Terms) -> String;
    /// `4 points from`, before the holes left.
    fn need(&self, needed: i32) -> String;
    /// The target in words.
    fn goal(&self, target: i32, count: Count) -> String;
}

/// A format that adds up holes.
pub(super) struct Tally {
    pub(super) play: Play,
    pub(super) terms: Terms,
    pub(super) unit: Box<dyn Unit>,
    pub(super) partners: Box<dyn Partners>,
}

/// The balls of a side on a hole; a short card is empty there.
pub(super) fn on_hole(side: &Side, at: usize) -> impl Iterator<Item = Option<&CardHole>> {
    side.balls.iter().take(MOST_BALLS).map(move |ball: &Ball| ball.holes.get(at))
}

/// Fills a small array with what each ball of a side brings; returns it and the number of balls.
pub(super) fn brought(
    side: &Side,
    at: usize,
    value: impl Fn(&CardHole) -> BallValue,
) -> ([BallValue; MOST_BALLS], usize) {
    let mut values = [BallValue::Empty; MOST_BALLS];
    let mut balls = 0;
    for (slot, hole) in values.iter_mut().zip(on_hole(side, at)) {
        *slot = hole.map_or(BallValue::Empty, &value);
        balls += 1;
    }
    (values, balls)
}

/// The number of the hole on a side's card.
pub(super) fn number(side: &Side, at: usize) -> Option<u8> {
    on_hole(side, at).flatten().next().map(|hole| hole.number)
}

impl Tally {
    fn side_value(&self, side: &Side, at: usize) -> SideValue {
        let (values, balls) = brought(side, at, |hole| self.unit.ball(hole, &self.terms));
        self.partners.side(values.get(..balls).unwrap_or(&values), self.unit.better())
    }

    // What an open hole can still become: known balls as they are, the others at their bounds.
    fn bounds(&self, side: &Side, at: usize) -> (Option<i32>, Option<i32>) {
        let bound = |most: bool| {
            let (values, balls) = brought(side, at, |hole| match self.unit.ball(hole, &self.terms) {
                BallValue::Empty => {
                    let (low, high) = self.unit.bounds(hole, &self.terms);
                    (if most { high } else { low }).map_or(BallValue::Empty, BallValue::Figure)
                }
                known => known,
            });
            match self.partners.side(values.get(..balls).unwrap_or(&values), self.unit.better()) {
                SideValue::Figure(figure, _) => Some(figure),
                _ => None,
            }
        };
        (bound(false), bound(true))
    }
}

impl Format for Tally {
    fn play(&self) -> Play {
        self.play
    }

    fn terms(&self) -> &Terms {
        &self.terms
    }

    fn compares(&self) -> &'static str {
        self.unit.compares(self.terms.count)
    }

    fn needs(&self) -> String {
        self.partners.needs().to_owned()
    }

    fn empty_hole(&self) -> &'static str {
        self.unit.empty_hole()
    }

    fn ends(&self) -> &'static str {
        "after the last hole of the round"
    }

    fn on_the_tee(&self, at: usize) -> Option<usize> {
        self.partners.on_the_tee(at)
    }

    fn hole(&self, sides: &[Side], side: usize, at: usize) -> HoleResult {
        let Some(side) = sides.get(side) else {
            return HoleResult { value: HoleValue::Open, counted: 0, gross: None };
        };
        match self.side_value(side, at) {
            SideValue::Open => HoleResult { value: HoleValue::Open, counted: 0, gross: None },
            SideValue::NoScore => HoleResult { value: HoleValue::NoScore, counted: 0, gross: None },
            SideValue::Figure(figure, counted) => HoleResult {
                value: self.unit.value(figure),
                counted,
                gross: on_hole(side, at)
                    .enumerate()
                    .filter(|(ball, _)| counted & (1 << ball) != 0)
                    .map(|(_, hole)| hole.and_then(|hole| self.unit.gross(hole)))
                    .sum(),
            },
        }
    }

    fn standing(&self, sides: &[Side], side: usize, after: usize) -> Standing {
        let mut standing = Standing {
            decided: 0,
            left: 0,
            skipped: None,
            figure: None,
            no_score: None,
            against: 0,
            least: None,
            most: None,
            over: false,
            ended_with: None,
        };
        let Some(side) = sides.get(side) else {
            return standing;
        };
        let mut total = 0;
        let (mut least, mut most) = (Some(0), Some(0));
        let mut first_open = None;
        for at in 0..self.terms.holes {
            let value = if at < after { self.side_value(side, at) } else { SideValue::Open };
            match value {
                SideValue::Open => {
                    standing.left += 1;
                    first_open = first_open.or_else(|| number(side, at));
                    let (low, high) = self.bounds(side, at);
                    least = least.zip(low).map(|(sum, low)| sum + low);
                    most = most.zip(high).map(|(sum, high)| sum + high);
                    continue;
                }
                SideValue::NoScore => standing.no_score = standing.no_score.or_else(|| number(side, at)),
                SideValue::Figure(figure, counted) => {
                    total += figure;
                    least = least.map(|sum| sum + figure);
                    most = most.map(|sum| sum + figure);
                    standing.against += figure
                        - on_hole(side, at)
                            .enumerate()
                            .filter(|(ball, _)| counted & (1 << ball) != 0)
                            .filter_map(|(_, hole)| hole.map(|hole| self.unit.level(i32::from(hole.par))))
                            .sum::<i32>();
                }
            }
            standing.decided += 1;
            standing.skipped = first_open;
        }
        standing.over = standing.left == 0;
        if standing.no_score.is_none() {
            (standing.figure, standing.least, standing.most) = (Some(total), least, most);
        }
        standing
    }

    fn words(&self, sides: &[Side], side: usize, after: usize) -> String {
        let standing = self.standing(sides, side, after);
        match (standing.figure, standing.no_score) {
            (None, Some(hole)) => format!("no total: hole {hole} was not holed out"),
            (Some(figure), _) if standing.decided > 0 => {
                self.unit.words(figure, standing.against, standing.decided, standing.left, &self.terms)
            }
            _ => "not started".to_owned(),
        }
    }

    fn chase(&self, sides: &[Side], side: usize, target: i32) -> Option<String> {
        let standing = self.standing(sides, side, usize::MAX);
        let Some(figure) = standing.figure else {
            return Some(self.words(sides, side, usize::MAX));
        };
        let better = self.unit.better();
        let goal = self.unit.goal(target, self.terms.count);
        let reaches = |figure: i32| match better {
            Better::Less => figure <= target,
            Better::More => figure >= target,
        };
        let (best, worst) = match better {
            Better::Less => (standing.least, standing.most),
            Better::More => (standing.most, standing.least),
        };
        if worst.is_some_and(reaches) {
            return Some(format!("has {goal}"));
        }
        if best.is_some_and(|best| !reaches(best)) {
            return Some(if standing.over {
                format!("missed {goal} by {}", (figure - target).abs())
            } else {
                format!("{goal} is out of reach")
            });
        }
        let holes = holes_left(standing.left, standing.skipped.is_some());
        Some(format!("needs {} {holes} for {goal}", self.unit.need(target - figure)))
    }

    fn possible(&self, sides: &[Side], side: usize) -> String {
        let standing = self.standing(sides, side, usize::MAX);
        let goal = |figure| self.unit.goal(figure, self.terms.count);
        match (standing.least, standing.most) {
            _ if standing.over || standing.no_score.is_some() => self.words(sides, side, usize::MAX),
            (Some(least), Some(most)) => format!("from {} to {} is possible", goal(least), goal(most)),
            (Some(least), None) => format!("no better than {} is possible", goal(least)),
            _ => "anything is possible".to_owned(),
        }
    }
}

/// `after 7`.
pub(super) fn after(decided: usize) -> String {
    format!("after {decided}")
}

/// `1 point`, `4 points`.
pub(super) fn plural(number: i32, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// `2 up`, `1 down`, `level`.
pub(super) fn up_or_down(figure: i32) -> String {
    match figure {
        0 => "level".to_owned(),
        up if up > 0 => format!("{up} up"),
        down => format!("{} down", -down),
    }
}

/// `the last two`, or `the 2 holes still open` where they are not the last ones.
pub(super) fn holes_left(left: usize, skipped: bool) -> String {
    const WORDS: [&str; 10] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    match (left, skipped) {
        (1, false) => "the last hole".to_owned(),
        (1, true) => "the hole still open".to_owned(),
        (left, true) => format!("the {left} holes still open"),
        (left, false) => match WORDS.get(left) {
            Some(word) => format!("the last {word}"),
            None => format!("the last {left}"),
        },
    }
}

/// The state of a count of strokes: `net 2 under par after 7`, at the end `net 71, 1 under par`.
pub(super) fn strokes_words(figure: i32, against: i32, decided: usize, left: usize, count: Count) -> String {
    let against = match against {
        0 => "level with par".to_owned(),
        over if over > 0 => format!("{over} over par"),
        under => format!("{} under par", -under),
    };
    if left == 0 {
        format!("{} {figure}, {against}", count.name())
    } else {
        format!("{} {against} {}", count.name(), after(decided))
    }
}

/// `9 or better on`.
pub(super) fn strokes_need(needed: i32) -> String {
    format!("{needed} or better on")
}

/// `net 72`.
pub(super) fn strokes_goal(target: i32, count: Count) -> String {
    format!("{} {target}", count.name())
}
