//! The order of an event: totals, ties by matching scorecards, places.
//!
//! # References
//! Rules of Golf, Committee Procedures 5A(6) in its older text (USGA Handicap System Manual 9-5(iii); former Rules of Golf,
//! Appendix I): last nine, six, three, last hole; net with a half, a third, a sixth, an eighteenth of the handicap,
//! fractions not disregarded; with several starting tees holes 10–18, 13–18, 16–18, 18 of the card. Points of the same
//! holes in Stableford, hole by hole from the last: Golf Australia, by way of a member club. That the last of several
//! rounds is compared first is from memory.

use super::draws::Draws;
use super::issue::Issue;
use super::result::{Decided, Line, SpanFigure};
use super::setup::{Event, TieStep, TieStrokes};
use super::words::mixed;
use crate::handicap::Scoring;
use crate::scoring::{Count, Format, HoleValue, Side};
use std::cmp::Ordering;

/// A line with what it is ordered by; smaller figures are better.
#[derive(Clone, Debug)]
pub(super) struct Scored {
    pub line: Line,
    /// The total; `None`: no place.
    pub figure: Option<i64>,
    /// The last round alone.
    pub last_round: Option<i64>,
    /// The card of the last round.
    pub last: [Side; 1],
}

/// One figure to compare by, smaller is better.
#[derive(Clone, Debug)]
struct Key {
    what: Decided,
    /// `None`: nothing is recorded.
    value: Option<i64>,
    /// The value counts so many parts of a stroke.
    parts: i64,
    /// Shown with its sign turned, where more is better.
    turned: bool,
}

/// Orders the lines of an event or division.
pub(super) fn put_in_order(
    draws: &dyn Draws,
    mut scored: Vec<Scored>,
    formats: &[Box<dyn Format>],
    division: Option<&str>,
    issues: &mut Vec<Issue>,
) -> Vec<Line> {
    scored.sort_by(|a, b| match (a.figure, b.figure) {
        (Some(x), Some(y)) => x.cmp(&y),
        (Some(_), None) => Ordering::Less,
        (None, Some(_)) => Ordering::Greater,
        (None, None) => a.line.status.cmp(&b.line.status).then_with(|| by_name(&a.line, &b.line)),
    });
    let maker = Keys { draws, event: draws.event(), format: formats.last().map(|f| &**f), division };
    let mut lines: Vec<Line> = Vec::with_capacity(scored.len());
    let mut rest = scored.into_iter().peekable();
    while let Some(first) = rest.next() {
        let Some(figure) = first.figure else {
            lines.push(first.line);
            continue;
        };
        let mut group = vec![first];
        while rest.peek().is_some_and(|next| next.figure == Some(figure)) {
            group.extend(rest.next());
        }
        let place = lines.len() + 1;
        if let [_] = group.as_slice() {
            lines.extend(group.into_iter().map(|one| Line { place: Some(place), ..one.line }));
        } else {
            maker.settle(group, place, &mut lines, issues);
        }
    }
    lines
}

fn by_name(a: &Line, b: &Line) -> Ordering {
    // Compared letter by letter: thousands of equal totals would make thousands of copies.
    a.name
        .chars()
        .flat_map(char::to_lowercase)
        .cmp(b.name.chars().flat_map(char::to_lowercase))
        .then_with(|| a.id.cmp(&b.id))
}

struct Keys<'k> {
    draws: &'k dyn Draws,
    event: &'k Event,
    format: Option<&'k dyn Format>,
    division: Option<&'k str>,
}

impl Keys<'_> {
    fn settle(&self, group: Vec<Scored>, place: usize, lines: &mut Vec<Line>, issues: &mut Vec<Issue>) {
        let mut keyed: Vec<(Vec<Key>, Line)> = group.into_iter().map(|one| (self.keys(&one), one.line)).collect();
        // What is not recorded comes behind what is, and is equal to its like.
        let rank = |key: &Key| key.value.unwrap_or(i64::MAX);
        let compare = |a: &[Key], b: &[Key]| a.iter().map(rank).cmp(b.iter().map(rank));
        keyed.sort_by(|a, b| compare(&a.0, &b.0).then_with(|| by_name(&a.1, &b.1)));
        let mut at = 0;
        while let Some((keys, _)) = keyed.get(at) {
            let same = keyed.iter().skip(at).take_while(|other| compare(&other.0, keys) == Ordering::Equal).count();
            let next = keyed.get(at + same).map(|(other, _)| separated(keys, other));
            let decided = match next {
                Some(step) => step,
                None if same > 1 => Some(self.unsettled(&keyed, at, same, issues)),
                None => None,
            };
            // Members in the middle of a tie that nothing has settled still need the announced end.
            if next.is_some() && same > 1 {
                self.unsettled(&keyed, at, same, issues);
            }
            for (keys, line) in keyed.iter_mut().skip(at).take(same) {
                line.place = Some(place + at);
                line.tied = same > 1;
                line.decided_by = decided;
                line.spans = keys.iter().filter_map(shown).collect();
            }
            at += same;
        }
        lines.extend(keyed.into_iter().map(|(_, line)| line));
    }

    /// A tie at the end of all steps: shared, or waiting for a lot or play-off that is named as missing.
    fn unsettled(&self, keyed: &[(Vec<Key>, Line)], at: usize, same: usize, issues: &mut Vec<Issue>) -> Decided {
        let waits = self.event.ties.iter().find(|step| matches!(step, TieStep::Lot | TieStep::PlayOff));
        let Some(step) = waits else { return Decided::Step(TieStep::Share) };
        let members: Vec<&Line> = keyed.iter().skip(at).take(same).map(|(_, line)| line).collect();
        let names: Vec<&str> = members.iter().map(|line| line.name.as_str()).collect();
        let ids: Vec<&str> = members.iter().map(|line| line.id.as_str()).collect();
        let division = self.division.map_or_else(String::new, |d| format!(", division {d}"));
        let message = format!("{}{division}: {} are tied and no {step} is recorded", self.event.name, names.join(", "));
        let advice = format!(
            "write it as a file in changes/: `what: {step}`, `event: {}`, `to: [ {} ]` in the order it gave{}",
            self.event.name,
            ids.join(", "),
            if *step == TieStep::Lot { ", with its `witness`" } else { "" }
        );
        let mut issue = Issue::open("tie", message, advice).in_event(&self.event.name);
        issue.id = ids.first().map(|id| (*id).to_owned());
        issue.name = names.first().map(|name| (*name).to_owned());
        issues.push(issue);
        Decided::Step(*step)
    }

    fn keys(&self, one: &Scored) -> Vec<Key> {
        let mut keys = Vec::new();
        let mut last_round_told = self.event.rounds.len() < 2 || self.event.eclectic;
        for step in &self.event.ties {
            if matches!(step, TieStep::Last(_) | TieStep::HoleByHole | TieStep::LastRound) && !last_round_told {
                last_round_told = true;
                keys.push(self.plain(TieStep::LastRound, one.last_round, true));
            }
            match step {
                TieStep::Share | TieStep::LastRound => {}
                TieStep::LowerHandicap => {
                    keys.push(self.plain(*step, one.line.playing_handicap.map(i64::from), false));
                }
                TieStep::Lot | TieStep::PlayOff => {
                    let drawn = self.draws.drawn(*step == TieStep::Lot, self.division, &one.line.id);
                    keys.push(self.plain(*step, drawn.and_then(|at| i64::try_from(at + 1).ok()), false));
                }
                TieStep::Last(holes) => {
                    let count = usize::from(*holes);
                    keys.push(self.over(Decided::Step(*step), one, |holes| holes.saturating_sub(count)..holes));
                }
                TieStep::HoleByHole => {
                    let holes = self.format.map_or(0, |format| format.terms().holes);
                    for at in (0..holes).rev() {
                        let number = one
                            .last
                            .iter()
                            .flat_map(|s| &s.balls)
                            .find_map(|b| b.holes.get(at))
                            .map_or(0, |h| h.number);
                        keys.push(self.over(Decided::Hole(number), one, |_| at..at + 1));
                    }
                }
            }
        }
        keys
    }

    fn plain(&self, step: TieStep, value: Option<i64>, figure: bool) -> Key {
        let turned = figure && !self.less_is_better();
        Key { what: Decided::Step(step), value, parts: 1, turned }
    }

    fn less_is_better(&self) -> bool {
        matches!(self.event.play.scoring, Scoring::Stroke | Scoring::Maximum | Scoring::Match)
    }

    /// The figure of some holes of the last card, by their places.
    fn over(&self, what: Decided, one: &Scored, span: impl Fn(usize) -> std::ops::Range<usize>) -> Key {
        let Some(format) = self.format else { return Key { what, value: None, parts: 1, turned: false } };
        let holes = format.terms().holes;
        let span = span(holes);
        let part = i64::try_from(span.len()).unwrap_or(1);
        let whole = i64::try_from(holes).unwrap_or(18).max(1);
        let fractions =
            self.event.count == Count::Net && self.event.tie_strokes == TieStrokes::Fractions && self.less_is_better();
        if let (true, Some(handicap)) = (fractions, one.line.strokes_received) {
            let gross: Option<i32> = span.map(|at| format.hole(&one.last, 0, at).gross).sum();
            let value = gross.map(|gross| i64::from(gross) * whole - i64::from(handicap) * part);
            return Key { what, value, parts: whole, turned: false };
        }
        let mut sum = 0;
        for at in span {
            sum += match format.hole(&one.last, 0, at).value {
                HoleValue::Strokes(strokes) => i64::from(strokes),
                HoleValue::Points(points) => -i64::from(points),
                HoleValue::Won => -1,
                HoleValue::Lost => 1,
                HoleValue::Tied | HoleValue::Open | HoleValue::NoScore => 0,
            };
        }
        Key { what, value: Some(sum), parts: 1, turned: !self.less_is_better() }
    }
}

fn separated(a: &[Key], b: &[Key]) -> Option<Decided> {
    a.iter().zip(b).find(|(x, y)| x.value != y.value).map(|(x, _)| x.what)
}

fn shown(key: &Key) -> Option<SpanFigure> {
    let value = key.value?;
    Some(SpanFigure { span: key.what, figure: mixed(if key.turned { -value } else { value }, key.parts) })
}
