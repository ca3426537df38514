//! When two plans of a hole are another play, and the small differences that make them so.
//!
//! A plan counts as changed only when the new one no longer has the old first shot among the plays that are worth the same: a
//! person changes no club for nothing.

use crate::course::{Hole, Sure};
use crate::ground::{Feature, Point, Polygon};
use crate::pattern::{Bag, BagClub};
use crate::plan::{HolePlan, Play, Question};
use crate::units::Length;

/// An aim that moves by less is the same aim, yards.
pub const SAME_AIM: f64 = 10.0;

/// Whether the recommended play of `old` is none of those that `new` holds worth the same.
pub fn changed(old: &HolePlan, new: &HolePlan) -> bool {
    let Some(before) = old.plays.first() else { return !new.plays.is_empty() };
    !new.plays.iter().any(|after| same_play(before, after))
}

/// Whether two plays begin with the same shot: the same club, in a full swing or a part of it, to much the same place.
pub fn same_play(a: &Play, b: &Play) -> bool {
    match (a.shots.first(), b.shots.first()) {
        (Some(a), Some(b)) => {
            let moved = Point::new(a.across.0 - b.across.0, a.at.0 - b.at.0).length();
            club_of(&a.club) == club_of(&b.club) && moved < SAME_AIM
        }
        (None, None) => true,
        _ => false,
    }
}

/// The club of a swing: `driver` of `driver, part swing`.
pub fn club_of(swing: &str) -> &str {
    swing.split(',').next().unwrap_or(swing)
}

/// A play in a few words: `driver 214, 4 left; 7 iron`.
pub fn play_words(play: &Play, question: &Question) -> String {
    let clubs: Vec<String> = play
        .shots
        .iter()
        .enumerate()
        .map(|(nth, shot)| {
            if nth > 0 {
                return shot.club.clone();
            }
            format!(
                "{} to {}, {}",
                shot.club,
                Length::yards(shot.at.0).show(question.units),
                side(shot.across.0, question)
            )
        })
        .collect();
    clubs.join("; ")
}

fn side(across: f64, question: &Question) -> String {
    let shown = Length::yards(across.abs()).show(question.units);
    match shown.as_str() {
        "0" => "on the line".to_owned(),
        _ if across < 0.0 => format!("{shown} left"),
        _ => format!("{shown} right"),
    }
}

/// By how much a number may plausibly be off, yards: one standard deviation of its error, by how it is known.
///
/// # References
/// Phones and maps: reference/open-formats 2.4, 2–5 m in the open. Laser, pacing, a guess and a number of which nothing is said:
/// common practice.
pub const fn doubt(sure: Option<Sure>) -> f64 {
    match sure {
        Some(Sure::Laser) => 1.0,
        Some(Sure::Paced) => 3.0,
        Some(Sure::Map) => 5.0,
        None => 8.0,
        Some(Sure::Guess) => 12.0,
    }
}

/// The middles of the four equally likely quarters of a normal error, in standard deviations.
///
/// # References
/// Means of a standard normal over its quartiles: ±φ(z₀.₇₅)/0.25 = ±1.2711, ±(φ(0) − φ(z₀.₇₅))/0.25 = ±0.3247.
pub const QUARTERS: [f64; 4] = [-1.2711, -0.3247, 0.3247, 1.2711];

/// A hole with one piece of ground moved along the line and across it, yards.
pub fn with_moved(hole: &Hole, feature: usize, along: f64, across: f64) -> Hole {
    let mut hole = hole.clone();
    let line = hole.ground.line();
    if let Some(piece) = hole.ground.features.get_mut(feature) {
        let place = middle(piece);
        let ahead = Point::towards(line.heading_deg(line.locate(place).0));
        let by = ahead * along + ahead.to_the_right() * across;
        piece.shapes.iter_mut().for_each(|shape| shift(shape, by));
    }
    hole
}

/// A hole whose green lies so much farther along its line.
pub fn with_green_moved(hole: &Hole, along: f64) -> Hole {
    let mut hole = hole.clone();
    let by = Point::towards(hole.ground.line().last_heading_deg()) * along;
    if let Some(green) = &mut hole.ground.green {
        green.front.0 += along;
        for point in [&mut green.middle, &mut green.front_point, &mut green.back_point] {
            *point = *point + by;
        }
        shift(&mut green.outline, by);
        hole.ground.length.0 += along;
    }
    hole
}

/// The middle of a piece of ground: of its largest surface.
pub fn middle(piece: &Feature) -> Point {
    let largest = piece.shapes.iter().max_by(|a, b| a.area().total_cmp(&b.area()));
    largest.map(Polygon::middle).unwrap_or_default()
}

fn shift(shape: &mut Polygon, by: Point) {
    for point in shape.outer.iter_mut().chain(shape.inner.iter_mut().flatten()) {
        *point = *point + by;
    }
}

/// The carry of the longest club, and the question as it would be asked with another one: the other clubs stay.
pub fn longest(question: &Question) -> Option<(usize, f64, Question)> {
    let clubs = question.pattern().clubs;
    let nth = clubs.iter().enumerate().max_by(|a, b| a.1.carry.total_cmp(&b.1.carry)).map(|(i, _)| i)?;
    let carry = clubs.get(nth)?.carry;
    // Every number is spelled out, so that nothing else is assumed anew when one of them moves.
    let clubs = clubs.iter().map(|c| BagClub {
        name: c.name.clone(),
        carry: Some(c.carry),
        run: Some(c.run),
        curve: Some(c.curve),
        wide: Some(c.wide),
        deep: Some(c.deep),
        lean: Some(c.lean),
        mishits: Some(c.mishits),
    });
    let bag = Bag { clubs: clubs.collect(), swings: question.bag.swings.clone() };
    Some((nth, carry, Question { bag, ..question.clone() }))
}

/// The question with the carry of one club changed.
pub fn with_carry(question: &Question, club: usize, carry: f64) -> Question {
    let mut question = question.clone();
    if let Some(club) = question.bag.clubs.get_mut(club) {
        club.carry = Some(carry);
    }
    question
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn quarters_are_the_means_of_a_normal_error() {
        // By numbers: the mean of the upper quarter and of the one below it, summed over a fine grid.
        let step = 1e-4;
        let (mut low, mut high) = ((0.0, 0.0), (0.0, 0.0));
        let mut z: f64 = step / 2.0;
        while z < 8.0 {
            let weight = libm::exp(-z * z / 2.0);
            let part = if z < 0.674_489_75 { &mut low } else { &mut high };
            part.0 += weight * z;
            part.1 += weight;
            z += step;
        }
        assert!((low.0 / low.1 - 0.3247).abs() < 1e-3 && (high.0 / high.1 - 1.2711).abs() < 1e-3);
    }

    #[test]
    fn a_piece_moves_along_its_own_part_of_the_line() {
        let text = include_str!("../../sample-courses/corvane.yaml");
        let course = crate::course::read(text).0.unwrap();
        for hole in course.holes.iter().filter(|h| !h.ground.features.is_empty() && !h.ground.bends.is_empty()) {
            let line = hole.ground.line();
            let before = line.locate(middle(hole.ground.features.first().unwrap()));
            let moved = with_moved(hole, 0, 5.0, 0.0);
            let after = line.locate(middle(moved.ground.features.first().unwrap()));
            assert!(((after.0.0 - before.0.0).abs() - 5.0).abs() < 2.5, "hole {}: {before:?} {after:?}", hole.number);
            let green = with_green_moved(hole, 5.0);
            assert!((green.ground.length.0 - hole.ground.length.0 - 5.0).abs() < 1e-9);
        }
    }
}
