//! What a target needs: the chance of a total over the holes to come, and the plays that make it most likely.
//!
//! By backward induction over the holes: what is needed after a hole decides what is best on it. On each hole the plays weighed are
//! those of the ordinary plan within a quarter of a stroke, and the best for a score of at most par less one, par, and par and one after strokes
//! received, each followed by its own plan; so the chance is one that can be had, and the very best may be a little higher.

use super::stage::Stage;
use crate::plan::NoPlan;
use crate::scoring::stableford_points;
use crate::strategy::{Play, Solution, Table, Worth};
use serde::Serialize;
use std::sync::atomic::AtomicBool;

/// What is wanted of a round.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Target {
    /// At least so many Stableford points.
    Points(i32),
    /// At most this net score.
    Net(i32),
    /// At most this gross score.
    Gross(i32),
}

impl Target {
    /// Reads `36 points`, `net 72`, `gross 89`, `beat 90`.
    ///
    /// # Errors
    /// What can be typed.
    pub fn read(text: &str) -> Result<Self, String> {
        let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let bad = || format!("`{text}` is no target; as \"36 points\", \"net 72\", \"gross 89\", \"beat 90\"");
        let number = |w: &str| w.parse::<i32>().ok().filter(|n| (0..=400).contains(n)).ok_or_else(bad);
        match words.as_slice() {
            [n, "points" | "point" | "pts"] => Ok(Self::Points(number(n)?)),
            ["net", n] => Ok(Self::Net(number(n)?)),
            ["gross", n] => Ok(Self::Gross(number(n)?)),
            ["beat" | "break", n] => Ok(Self::Gross(number(n)?.saturating_sub(1))),
            _ => Err(bad()),
        }
    }

    /// In words.
    pub fn words(self) -> String {
        match self {
            Self::Points(n) => format!("{n} points or more"),
            Self::Net(n) => format!("net {n} or better"),
            Self::Gross(n) => format!("{n} strokes or fewer"),
        }
    }

    /// What a score adds to the count.
    pub fn count(self, par: u8, received: i32, gross: i32) -> i32 {
        match self {
            Self::Points(_) => stableford_points(i32::from(par), received, Some(gross)),
            Self::Net(_) => gross - received,
            Self::Gross(_) => gross,
        }
    }

    /// Whether a total reaches it.
    pub const fn reached(self, total: i32) -> bool {
        match self {
            Self::Points(n) => total >= n,
            Self::Net(n) | Self::Gross(n) => total <= n,
        }
    }
}

/// One way to play a hole with the chances of its score.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// In a few words: the clubs.
    pub name: String,
    /// `chances[n]` of n strokes.
    pub chances: Vec<f64>,
}

/// A hole to come.
#[derive(Clone, Debug, PartialEq)]
pub struct ToCome {
    /// Its number.
    pub hole: u8,
    /// Par.
    pub par: u8,
    /// Strokes received.
    pub received: i32,
    /// Ways to play it; the first is the ordinary plan.
    pub ways: Vec<Way>,
}

/// What is best on a hole when so much is counted before it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Advice {
    /// The hole.
    pub hole: u8,
    /// The ordinary plan.
    pub usual: String,
    /// The play for the target, with the counts before the hole for which it is best: from and to.
    pub instead: Vec<(String, i32, i32)>,
    /// The most likely count before the hole.
    pub likely: i32,
    /// The play at that count.
    pub now: String,
    /// What it adds to the chance there against the ordinary plan.
    pub adds: f64,
}

/// The chance of a target.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Needed {
    /// What is wanted.
    pub target: Target,
    /// What counts already.
    pub so_far: i32,
    /// Its chance by the best plays.
    pub chance: f64,
    /// By the ordinary plan all the way.
    pub by_plan: f64,
    /// Hole by hole, where a play differs from the ordinary plan.
    pub holes: Vec<Advice>,
}

/// Plays that gain less than this chance are the ordinary plan.
const WORTH_IT: f64 = 0.002;
/// Plays of the ordinary plan within this many strokes are weighed.
const WITHIN: f64 = 0.25;
/// Scores beyond this are this.
const MOST: usize = 20;

/// The ways to play a hole that are weighed for a target.
///
/// # Errors
/// [`NoPlan`].
pub fn ways(stage: &Stage, received: i32, cancel: &AtomicBool) -> Result<ToCome, NoPlan> {
    let question = &stage.question;
    let par = question.par;
    let mut found: Vec<Way> = Vec::new();
    let mut add = |solution: &Solution<'_>, play: &Play, label: &str| {
        let mut chances = solution.chances(solution.tee(), play);
        let beyond: f64 = chances.iter().skip(MOST).sum();
        chances.truncate(MOST);
        if let Some(last) = chances.last_mut() {
            *last += beyond;
        }
        let name = format!("{}{label}", stage.name(play));
        let same = |w: &Way| w.chances.iter().zip(&chances).all(|(a, b)| (a - b).abs() < 0.002);
        if !found.iter().any(same) {
            found.push(Way { name, chances });
        }
    };
    let net_par = i32::from(par) + received;
    stage
        .solved(&Worth::Strokes, cancel, |mut solution| {
            let plays = solution.clubs(solution.tee());
            let best = solution.plays(solution.tee()).into_iter().next();
            if let Some(best) = &best {
                add(&solution, best, "");
            }
            let least = best.as_ref().map_or(f64::INFINITY, |p| p.cost);
            let mut close: Vec<&Play> = plays.iter().filter(|p| p.cost <= least + WITHIN).collect();
            close.sort_by(|a, b| a.cost.total_cmp(&b.cost));
            for play in close.into_iter().take(3) {
                add(&solution, play, "");
            }
            for (over, label) in [(-1, ", all for a birdie"), (0, ", for net par"), (1, ", keeping the double off")] {
                let Ok(most) = usize::try_from(net_par + over) else { continue };
                solution = match solution.revalued(&Worth::Table(Table::at_most(most)), cancel) {
                    Ok(solution) => solution,
                    Err(_) => return Err(NoPlan::CalledOff),
                };
                if let Some(play) = solution.at_once(solution.tee()) {
                    add(&solution, &play, label);
                }
            }
            Ok(())
        })
        .and_then(|done| done)?;
    Ok(ToCome { hole: question.hole.number, par, received, ways: found })
}

/// The chance of a target over the holes to come, `so_far` counted already.
pub fn needed(target: Target, so_far: i32, holes: &[ToCome]) -> Needed {
    // Counts lie between those of every hole at its best and at its worst.
    let counts = |hole: &ToCome| {
        let of = |n: usize| target.count(hole.par, hole.received, n as i32);
        let all = (1..MOST).map(of);
        (all.clone().min().unwrap_or(0), all.max().unwrap_or(0))
    };
    let (mut low, mut high) = (so_far, so_far);
    let mut ranges = vec![(low, high)];
    for hole in holes {
        let (least, most) = counts(hole);
        (low, high) = (low + least, high + most);
        ranges.push((low, high));
    }
    // From the last hole back: the chance by the best way, by the ordinary one, and which way is best.
    let last = ranges.last().copied().unwrap_or((so_far, so_far));
    let end: Vec<f64> = (last.0..=last.1).map(|t| f64::from(u8::from(target.reached(t)))).collect();
    let mut best = vec![end.clone()];
    let mut usual = vec![end];
    let mut chosen: Vec<Vec<usize>> = Vec::new();
    for (i, hole) in holes.iter().enumerate().rev() {
        let range = ranges.get(i).copied().unwrap_or_default();
        let next = ranges.get(i + 1).copied().unwrap_or_default();
        let after = |values: &[f64], way: &Way, total: i32| -> f64 {
            let each = way.chances.iter().enumerate().map(|(n, p)| {
                let count = total + target.count(hole.par, hole.received, n.max(1) as i32);
                let slot = usize::try_from((count - next.0).clamp(0, next.1 - next.0)).unwrap_or(0);
                p * values.get(slot).copied().unwrap_or(0.0)
            });
            each.sum()
        };
        let (best_after, usual_after) =
            (best.last().cloned().unwrap_or_default(), usual.last().cloned().unwrap_or_default());
        let (mut values, mut plain, mut which) = (Vec::new(), Vec::new(), Vec::new());
        for total in range.0..=range.1 {
            let first = hole.ways.first().map_or(0.0, |w| after(&best_after, w, total));
            let (mut pick, mut top) = (0, first);
            for (k, way) in hole.ways.iter().enumerate().skip(1) {
                let chance = after(&best_after, way, total);
                if chance > top + if pick == 0 { WORTH_IT } else { 0.0 } {
                    (pick, top) = (k, chance);
                }
            }
            values.push(top);
            plain.push(hole.ways.first().map_or(0.0, |w| after(&usual_after, w, total)));
            which.push(pick);
        }
        best.push(values);
        usual.push(plain);
        chosen.push(which);
    }
    best.reverse();
    usual.reverse();
    chosen.reverse();
    let holes = advice(target, so_far, holes, &ranges, &best, &chosen);
    let at_start = |values: &[Vec<f64>]| values.first().and_then(|v| v.first()).copied().unwrap_or(0.0);
    Needed { target, so_far, chance: at_start(&best), by_plan: at_start(&usual), holes }
}

fn advice(
    target: Target,
    so_far: i32,
    holes: &[ToCome],
    ranges: &[(i32, i32)],
    best: &[Vec<f64>],
    chosen: &[Vec<usize>],
) -> Vec<Advice> {
    let mut out = Vec::new();
    // How likely each count is before each hole, by the best plays.
    let mut mass: Vec<(i32, f64)> = vec![(so_far, 1.0)];
    for (i, hole) in holes.iter().enumerate() {
        let (Some(range), Some(which), Some(next), Some(values)) =
            (ranges.get(i), chosen.get(i), ranges.get(i + 1), best.get(i + 1))
        else {
            break;
        };
        let pick = |total: i32| usize::try_from(total - range.0).ok().and_then(|s| which.get(s)).copied().unwrap_or(0);
        let name = |k: usize| hole.ways.get(k).map(|w| w.name.clone()).unwrap_or_default();
        let chance = |k: usize, total: i32| -> f64 {
            hole.ways.get(k).map_or(0.0, |way| {
                let each = way.chances.iter().enumerate().map(|(n, p)| {
                    let count = total + target.count(hole.par, hole.received, n.max(1) as i32);
                    let slot = usize::try_from((count - next.0).clamp(0, next.1 - next.0)).unwrap_or(0);
                    p * values.get(slot).copied().unwrap_or(0.0)
                });
                each.sum()
            })
        };
        let likely = mass.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map_or(so_far, |m| m.0);
        let seen: Vec<i32> = mass.iter().filter(|m| m.1 > 0.01).map(|m| m.0).collect();
        let mut instead: Vec<(String, i32, i32)> = Vec::new();
        for total in &seen {
            let k = pick(*total);
            if k == 0 {
                continue;
            }
            match instead.last_mut() {
                Some(last) if last.0 == name(k) && last.2 + 1 == *total => last.2 = *total,
                _ => instead.push((name(k), *total, *total)),
            }
        }
        if !instead.is_empty() {
            let now = pick(likely);
            out.push(Advice {
                hole: hole.hole,
                usual: name(0),
                instead,
                likely,
                now: name(now),
                adds: chance(now, likely) - chance(0, likely),
            });
        }
        let mut after: std::collections::BTreeMap<i32, f64> = std::collections::BTreeMap::new();
        for (total, p) in &mass {
            let Some(way) = hole.ways.get(pick(*total)) else { continue };
            for (n, q) in way.chances.iter().enumerate().filter(|(_, q)| **q > 0.0) {
                *after.entry(total + target.count(hole.par, hole.received, n.max(1) as i32)).or_default() += p * q;
            }
        }
        mass = after.into_iter().collect();
    }
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn way(name: &str, chances: &[(usize, f64)]) -> Way {
        let mut all = vec![0.0; MOST];
        for (n, p) in chances {
            if let Some(slot) = all.get_mut(*n) {
                *slot = *p;
            }
        }
        Way { name: name.to_owned(), chances: all }
    }

    fn hole(ways: Vec<Way>) -> ToCome {
        ToCome { hole: 1, par: 4, received: 0, ways }
    }

    /// By hand: steady makes 4 always, bold 3 or 6 evenly. Two holes, at most 7: one bold success is needed and enough. First hole
    /// bold: half the time 3, then steady makes 7; else 6 and all is lost. Either way 0.5 with one try... after a steady 4 the
    /// second must be bold: 0.5. Never two tries, because a failed bold costs 2.
    #[test]
    fn two_holes_by_hand() {
        let holes = || vec![hole(vec![way("steady", &[(4, 1.0)]), way("bold", &[(3, 0.5), (6, 0.5)])]); 2];
        let n = needed(Target::Gross(7), 0, &holes());
        assert!((n.chance - 0.5).abs() < 1e-12 && n.by_plan.abs() < 1e-12, "{n:?}");
        assert_eq!(needed(Target::Gross(8), 0, &holes()).chance, 1.0);
        assert!((needed(Target::Gross(6), 0, &holes()).chance - 0.25).abs() < 1e-12);
        // Points: steady 2, bold 3 or 0. Five points need one of each; six both bold.
        assert!((needed(Target::Points(5), 0, &holes()).chance - 0.5).abs() < 1e-12);
        assert!((needed(Target::Points(6), 0, &holes()).chance - 0.25).abs() < 1e-12);
        assert!((needed(Target::Points(6), 1, &holes()).chance - 0.5).abs() < 1e-12, "a point counts already");
        assert_eq!(needed(Target::Net(4), 4, &[]).chance, 1.0);
    }

    #[test]
    fn where_it_differs_is_told() {
        let holes = vec![hole(vec![way("steady", &[(4, 1.0)]), way("bold", &[(3, 0.5), (6, 0.5)])]); 2];
        let n = needed(Target::Gross(7), 0, &holes);
        let last = n.holes.last().unwrap();
        assert!(last.instead.iter().any(|(name, from, to)| name == "bold" && *from <= 4 && 4 <= *to), "{n:?}");
        assert!(needed(Target::Gross(8), 0, &holes).holes.is_empty(), "nothing to change when the plan is enough");
    }

    #[test]
    fn targets_are_read() {
        assert_eq!(Target::read("36 points"), Ok(Target::Points(36)));
        assert_eq!(Target::read("Net 72"), Ok(Target::Net(72)));
        assert_eq!(Target::read("beat 90"), Ok(Target::Gross(89)));
        for bad in ["", "36", "net", "points 3", "net 9999", "beat -3"] {
            assert!(Target::read(bad).is_err_and(|e| e.contains("36 points")), "{bad}");
        }
    }
}
