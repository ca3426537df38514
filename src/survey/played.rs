//! The line of play of a draft: from the tee at its start to the middle of the green, with the bends of the mapped line.

use super::hole::{FoundGreen, FoundTee};
use super::track::{Track, metres};
use crate::ground::line::TURN_HALF;
use crate::ground::{Bend, Point};
use crate::units::Along;

/// A mapped line is drawn by hand: what bends it by no more than this is no bend.
const WOBBLE: f64 = metres(5.0);
/// A tee farther beside the line than this does not start it (open-formats 1.8).
const BESIDE: f64 = metres(40.0);
/// A turn of less than this moves nothing on a hole by a yard, degrees.
const TURN: f64 = 0.1;

/// The line of play: a mapped line with its start at its back tee and its end in the middle of its green.
pub fn played(mapped: &Track, tees: &[FoundTee], green: Option<&FoundGreen>, pins: &[(String, Point)]) -> Track {
    let back = tees.iter().find(|tee| tee.across.abs() <= BESIDE);
    let start = back.map_or(mapped.start(), |tee| tee.point);
    let from = back.map_or(0.0, |tee| tee.along);
    let end = green.map(FoundGreen::middle).or_else(|| pins.last().map(|(_, point)| *point)).unwrap_or(mapped.end());
    let to = mapped.beside(end).along;
    let mut line = vec![start];
    let mut walked = 0.0;
    for pair in mapped.0.windows(2) {
        let [a, b] = pair else { continue };
        walked += a.distance(*b);
        // Places beside the tee and beside the green are no bends.
        if walked > from + 5.0 && walked < to - 5.0 {
            line.push(*b);
        }
    }
    line.push(end);
    Track(line).simplified(WOBBLE)
}

/// The bends of a line of play, and its length as the notebook counts it.
///
/// The notebook's line turns evenly from 30 yards before a bend to 30 after it, so it cuts the corner that the mapped line
/// makes. The places of the bends are moved so that both lines run through the same ground before and after it: an arc of
/// 60 yards and a turn of θ touches its two legs 30 tan(θ/2)/(θ/2) yards from the corner.
pub fn bends(line: &Track) -> (Vec<Bend>, f64) {
    let points = &line.0;
    let whole = line.length();
    let mut bends: Vec<Bend> = Vec::new();
    let (mut walked, mut saved) = (0.0, 0.0);
    for three in points.windows(3) {
        let [a, b, c] = three else { continue };
        walked += a.distance(*b);
        let (before, after) = (*b - *a, *c - *b);
        let turn = libm::atan2(before.turn_to(after), before.dot(after));
        let degrees = turn.to_degrees();
        if degrees.abs() < TURN {
            continue;
        }
        let half = TURN_HALF.min(walked).min(whole - walked);
        let corner = half * libm::tan(turn.abs() / 2.0) / (turn.abs() / 2.0) - half;
        bends.push(Bend { at: Along(walked - saved - corner), turn_deg: degrees });
        saved += 2.0 * corner;
    }
    (bends, whole - saved)
}

/// The direction of the first leg, degrees clockwise from north.
pub fn bearing(line: &Track) -> f64 {
    let direction = match line.0.as_slice() {
        [a, b, ..] => (*b - *a).degrees(),
        _ => 0.0,
    };
    libm::fmod(direction + 360.0, 360.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::HoleLine;
    use crate::units::Across;
    use proptest::prelude::*;

    proptest! {
        /// The notebook's line ends where the mapped one does, whatever its bends.
        #[test]
        fn the_line_of_the_notebook_ends_on_the_mapped_green(
            first in 120.0..260.0f64, second in 90.0..220.0f64, third in 90.0..200.0f64,
            one in -60.0..60.0f64, two in -60.0..60.0f64,
        ) {
            let mut line = vec![Point::default()];
            let mut heading = 0.0;
            for (length, turn) in [(first, one), (second, two), (third, 0.0)] {
                let last = line.last().copied().unwrap_or_default();
                line.push(last + Point::towards(heading) * length);
                heading += turn;
            }
            let line = Track(line);
            let (bends, length) = bends(&line);
            let drawn = HoleLine::new(&bends, Along(length));
            let end = drawn.place(Along(length), Across(0.0));
            // A turn too small for a bend turns the rest of the line a little.
            prop_assert!(end.distance(line.end()) < 1.0, "{} {}", end.distance(line.end()), length);
        }
    }
}
