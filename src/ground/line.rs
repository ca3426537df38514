//! The hole line: the intended route from its start through the bends to the depth of the green's middle.
//!
//! # Construction
//! The line starts at the origin along `ahead`. It is straight except round each bend, where its direction turns
//! **evenly** over the length from [`TURN_HALF`] yards before the bend to as many after it: a circular arc whose own
//! length is measured along the line, so a place `at` is exactly the length walked along the line, and the middle of
//! the arc stands at the bend. A turn of *t* radians over 60 yards has the radius 60/*t* (18 degrees: 191 yards).
//!
//! - A bend nearer than that to an end of the line turns within the room it has, the same length before and after.
//! - Where two bends are nearer together than 60 yards their turns **add**: each still turns evenly over its own length.
//! - Before the start and past the end the line goes straight on for ever.
//!
//! A position `(along, across)` lies on the normal of the line at `along`, `across` yards to the right. Outside a bend
//! the ground fans out; inside it narrows, and beyond the turning radius there is none: shapes there are refused.
//! Distances of shots are always straight lines of the plane; see [`super::Distance`].
//!
//! # References
//! notebook.md, "Bends".

use super::hole::Bend;
use super::plane::Point;
use crate::units::{Across, Along};

/// How far before and after a bend the line turns, yards.
pub const TURN_HALF: f64 = 30.0;

/// The sharpest bend that can be drawn, degrees.
pub const SHARPEST: f64 = 150.0;

/// How far an open side of a shape reaches, yards.
pub const OPEN_REACH: f64 = 400.0;

/// A stretch of the line on which the direction turns evenly or not at all.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Leg {
    /// Where it begins and ends along the line; the first begins and the last ends nowhere.
    from: f64,
    to: f64,
    /// The place along the line that `start` belongs to.
    anchor: f64,
    start: Point,
    /// Radians clockwise from `ahead` at `start`.
    heading: f64,
    /// Radians a yard, positive to the right.
    curve: f64,
    /// The direction at `start`.
    ahead: Point,
    /// The turning centre, of a leg that turns.
    centre: Point,
}

impl Leg {
    fn new(from: f64, to: f64, anchor: f64, start: Point, heading: f64, curve: f64) -> Self {
        let (sin, cos) = libm::sincos(heading);
        let ahead = Point::new(sin, cos);
        let centre = if curve == 0.0 { start } else { start + ahead.to_the_right() * (1.0 / curve) };
        Self { from, to, anchor, start, heading, curve, ahead, centre }
    }

    /// Straight on from the start for ever.
    fn straight_to(to: f64) -> Self {
        Self::new(f64::NEG_INFINITY, to, 0.0, Point::default(), 0.0, 0.0)
    }

    /// `point` is at least so far from this leg, yards.
    fn at_least(&self, point: Point) -> f64 {
        if self.curve == 0.0 { 0.0 } else { (point.distance(self.centre) - (1.0 / self.curve).abs()).abs() }
    }

    /// The point on the line and its direction.
    fn at(&self, along: f64) -> (Point, Point) {
        let walked = along - self.anchor;
        if self.curve == 0.0 {
            return (self.start + self.ahead * walked, self.ahead);
        }
        let (sin_end, cos_end) = libm::sincos(self.heading + self.curve * walked);
        let chord = Point::new(self.ahead.ahead - cos_end, sin_end - self.ahead.right) * (1.0 / self.curve);
        (self.start + chord, Point::new(sin_end, cos_end))
    }

    /// The place on this leg nearest to `point`.
    fn nearest(&self, point: Point) -> f64 {
        let walked = if self.curve == 0.0 {
            (point - self.start).dot(self.ahead)
        } else {
            let normal = (self.centre - point) * self.curve.signum();
            let heading = libm::atan2(-normal.ahead, normal.right);
            let middle = self.curve * (self.to - self.from) / 2.0;
            // Turned back into one round about the middle of the arc, so that the nearer end is taken outside it.
            let turn = libm::remainder(heading - self.heading - middle, 2.0 * std::f64::consts::PI) + middle;
            turn / self.curve
        };
        (self.anchor + walked).clamp(self.from, self.to)
    }
}

/// A bend as the line takes it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// Which bend of the notebook, by index.
    pub bend: usize,
    /// Its middle.
    pub at: Along,
    /// By how many degrees; positive to the right.
    pub turn_deg: f64,
    /// Where the line begins to turn.
    pub from: Along,
    /// Where it has turned.
    pub to: Along,
    /// The radius of this turn alone, yards.
    pub radius: f64,
}

/// Why a bend cannot be drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BendProblem {
    /// It stands within a yard of an end of the line or beyond it.
    OffTheLine {
        /// Which bend.
        bend: usize,
    },
    /// It turns by more than [`SHARPEST`] degrees.
    TooSharp {
        /// Which bend.
        bend: usize,
    },
}

/// The hole line. Made from the bends and the length; see the file's head.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleLine {
    legs: Vec<Leg>,
    turns: Vec<Turn>,
    length: f64,
}

impl HoleLine {
    /// The line through `bends` to `length`. Bends that cannot be drawn are left out; [`Self::problems`] names them.
    pub fn new(bends: &[Bend], length: Along) -> Self {
        let length = length.0;
        let turns: Vec<Turn> = bends
            .iter()
            .enumerate()
            .filter(|(index, bend)| problem(*index, bend, length).is_none() && bend.turn_deg != 0.0)
            .map(|(index, bend)| {
                let half = TURN_HALF.min(bend.at.0).min(length - bend.at.0);
                Turn {
                    bend: index,
                    at: bend.at,
                    turn_deg: bend.turn_deg,
                    from: Along(bend.at.0 - half),
                    to: Along(bend.at.0 + half),
                    radius: 2.0 * half / bend.turn_deg.to_radians().abs(),
                }
            })
            .collect();
        let mut breaks: Vec<f64> = turns.iter().flat_map(|t| [t.from.0, t.to.0]).collect();
        breaks.sort_by(f64::total_cmp);
        breaks.dedup();
        let mut legs = vec![Leg::straight_to(breaks.first().copied().unwrap_or(f64::INFINITY))];
        for (index, &from) in breaks.iter().enumerate() {
            let to = breaks.get(index + 1).copied().unwrap_or(f64::INFINITY);
            let middle = (from + to.min(from + 2.0)) / 2.0;
            let curve = turns
                .iter()
                .filter(|t| t.from.0 < middle && middle < t.to.0)
                .map(|t| t.turn_deg.to_radians() / (t.to.0 - t.from.0))
                .sum::<f64>();
            if let Some(&last) = legs.last() {
                let heading = last.heading + last.curve * (from - last.anchor);
                legs.push(Leg::new(from, to, from, last.at(from).0, heading, curve));
            }
        }
        Self { legs, turns, length }
    }

    /// The bends that cannot be drawn on a line of this length.
    pub fn problems(bends: &[Bend], length: Along) -> Vec<BendProblem> {
        bends.iter().enumerate().filter_map(|(index, bend)| problem(index, bend, length.0)).collect()
    }

    /// The length from the start to the depth of the middle of the green, yards.
    pub const fn length(&self) -> Along {
        Along(self.length)
    }

    /// The bends as the line takes them, in the order of the notebook.
    pub fn turns(&self) -> &[Turn] {
        &self.turns
    }

    /// Whether it turns anywhere.
    pub fn is_straight(&self) -> bool {
        self.legs.len() == 1
    }

    fn leg(&self, along: f64) -> Leg {
        let index = self.legs.partition_point(|leg| leg.to <= along);
        self.legs.get(index).or(self.legs.last()).copied().unwrap_or_else(|| Leg::straight_to(f64::INFINITY))
    }

    /// The point of the plane at a position of the hole.
    ///
    /// ```
    /// use marram::ground::{HoleLine, Point};
    /// use marram::units::{Across, Along};
    /// let line = HoleLine::new(&[], Along(400.0));
    /// assert_eq!(line.place(Along(250.0), Across(-12.0)), Point::new(-12.0, 250.0));
    /// ```
    pub fn place(&self, along: Along, across: Across) -> Point {
        let (point, ahead) = self.leg(along.0).at(along.0);
        point + ahead.to_the_right() * across.0
    }

    /// The point on the line and the direction of the line there, of length one.
    pub fn at(&self, along: Along) -> (Point, Point) {
        self.leg(along.0).at(along.0)
    }

    /// The position of a point on the hole: the nearest place of the line, and how far beside it.
    ///
    /// Inside a bend, where the grounds of two legs meet, the earlier of two equally near places is given.
    pub fn locate(&self, point: Point) -> (Along, Across) {
        let mut best = (f64::INFINITY, 0.0, 0.0);
        let mut look = |leg: &Leg| {
            if leg.at_least(point) >= best.0 {
                return;
            }
            let along = leg.nearest(point);
            let (on_line, ahead) = leg.at(along);
            let away = point - on_line;
            let distance = away.length();
            if distance < best.0 - 1e-9 {
                best = (distance, along, away.dot(ahead.to_the_right()));
            }
        };
        // The straight legs are quickly asked, and most points are then known to be nearer to them than to any bend.
        self.legs.iter().filter(|leg| leg.curve == 0.0).for_each(&mut look);
        self.legs.iter().filter(|leg| leg.curve != 0.0).for_each(&mut look);
        (Along(best.1), Across(best.2))
    }

    /// The direction of the line, degrees clockwise from `ahead`.
    pub fn heading_deg(&self, along: Along) -> f64 {
        let leg = self.leg(along.0);
        (leg.heading + leg.curve * (along.0 - leg.anchor)).to_degrees()
    }

    /// The direction of the last leg, degrees clockwise from `ahead`.
    pub fn last_heading_deg(&self) -> f64 {
        self.legs.last().map_or(0.0, |leg| leg.heading.to_degrees())
    }

    /// The turning centre's place across the line: the ground of the hole ends there. `None` where it runs straight.
    pub fn turning_radius(&self, along: Along) -> Option<Across> {
        let curve = self.leg(along.0).curve;
        (curve != 0.0).then(|| Across(1.0 / curve))
    }

    /// How far the ground of `along` reaches to one side before that of another part of the line is nearer, at most
    /// [`OPEN_REACH`]: the same sign as `side`.
    pub fn reach(&self, along: Along, side: f64) -> f64 {
        let sign = side.signum();
        let own = |across: f64| {
            let point = self.place(along, Across(sign * across));
            self.locate(point).1.0.abs() > across - 1e-6
        };
        if self.is_straight() || own(OPEN_REACH) {
            return sign * OPEN_REACH;
        }
        let (mut low, mut high) = (0.0, OPEN_REACH);
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            if own(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        sign * low
    }

    /// The places at which the stretch `from`..`to` must be broken so that straight pieces follow the line within
    /// a hundredth of a yard, both ends included. `from` must not be beyond `to`.
    pub(crate) fn steps(&self, from: f64, to: f64) -> Vec<f64> {
        let mut steps = vec![from];
        for leg in &self.legs {
            let (start, end) = (leg.from.max(from), leg.to.min(to));
            if end <= start {
                continue;
            }
            if leg.curve != 0.0 {
                let count = ((end - start) / 2.0).ceil().max(1.0);
                let pieces = count as usize;
                steps.extend((1..pieces).map(|i| start + (end - start) * (i as f64 / count)));
            }
            steps.push(end);
        }
        if steps.last() != Some(&to) {
            steps.push(to);
        }
        steps
    }

    /// The turning of the line between two neighbouring steps, radians a yard.
    pub(crate) fn curve_between(&self, from: f64, to: f64) -> f64 {
        self.leg((from + to) / 2.0).curve
    }
}

fn problem(index: usize, bend: &Bend, length: f64) -> Option<BendProblem> {
    if !(bend.at.0 >= 1.0 && bend.at.0 <= length - 1.0) {
        Some(BendProblem::OffTheLine { bend: index })
    } else if bend.turn_deg.abs() <= SHARPEST {
        None
    } else {
        Some(BendProblem::TooSharp { bend: index })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn bend(at: f64, turn_deg: f64) -> Bend {
        Bend { at: Along(at), turn_deg }
    }

    #[test]
    fn a_right_angle_turns_on_a_quarter_circle() {
        // Plane geometry: a quarter circle of length 60 has the radius 120/pi and moves as far right as ahead.
        let line = HoleLine::new(&[bend(200.0, 90.0)], Along(400.0));
        let radius = 120.0 / std::f64::consts::PI;
        let end = line.place(Along(230.0), Across(0.0));
        assert!((end.right - radius).abs() < 1e-9 && (end.ahead - 170.0 - radius).abs() < 1e-9);
        let green = line.place(Along(400.0), Across(0.0));
        assert!((green.right - radius - 170.0).abs() < 1e-9);
        assert!((green.ahead - end.ahead).abs() < 1e-9);
        let inside = line.turning_radius(Along(200.0)).map(|a| a.0);
        assert!(inside.is_some_and(|r| (r - radius).abs() < 1e-9));
        assert_eq!(line.turning_radius(Along(100.0)), None);
    }

    #[test]
    fn the_corvane_bend_has_the_radius_of_its_angle() {
        // notebook.md, hole 4: 18 degrees over 60 yards.
        let line = HoleLine::new(&[bend(262.0, 18.0)], Along(427.5));
        assert!((line.turns()[0].radius - 60.0 / 18f64.to_radians()).abs() < 1e-9);
        assert!((line.heading_deg(Along(262.0)) - 9.0).abs() < 1e-9);
        assert!((line.last_heading_deg() - 18.0).abs() < 1e-9);
    }

    #[test]
    fn bends_near_each_other_add_and_near_an_end_take_the_room_they_have() {
        let close = HoleLine::new(&[bend(200.0, 30.0), bend(220.0, -30.0)], Along(400.0));
        assert!((close.heading_deg(Along(210.0)) - 10.0).abs() < 1e-9);
        assert!(close.last_heading_deg().abs() < 1e-9);
        let early = HoleLine::new(&[bend(10.0, 20.0)], Along(400.0));
        assert_eq!(early.turns()[0].to, Along(20.0));
        assert_eq!(early.place(Along(-50.0), Across(3.0)), Point::new(3.0, -50.0));
        let wrong = [bend(500.0, 20.0), bend(100.0, 170.0), bend(f64::NAN, 3.0)];
        assert_eq!(HoleLine::problems(&wrong, Along(400.0)).len(), 3);
        assert!(HoleLine::new(&wrong, Along(400.0)).is_straight());
    }

    #[test]
    fn an_open_side_inside_a_bend_ends_where_the_other_leg_is_nearer() {
        let line = HoleLine::new(&[bend(200.0, 90.0)], Along(400.0));
        // On the bisector of a right angle the two legs are equally far: as far across as the corner is ahead.
        let corner = 170.0 + 120.0 / std::f64::consts::PI;
        assert!((line.reach(Along(100.0), 1.0) - (corner - 100.0)).abs() < 1e-3);
        assert_eq!(line.reach(Along(100.0), -1.0), -OPEN_REACH);
    }

    prop_compose! {
        fn lines()(length in 80.0..650.0f64)(
            length in Just(length),
            bends in prop::collection::vec((2.0..length - 2.0, -80.0..80.0f64), 0..3),
        ) -> HoleLine {
            let bends: Vec<Bend> = bends.into_iter().map(|(at, turn)| bend(at, turn)).collect();
            HoleLine::new(&bends, Along(length))
        }
    }

    proptest! {
        #[test]
        fn a_place_is_located_where_it_was_put(line in lines(), share in -0.2..1.2f64, side in -1.0..1.0f64) {
            let along = Along(share * line.length().0);
            let across = Across(side * 0.999 * line.reach(along, side).abs());
            let found = line.locate(line.place(along, across));
            prop_assert!((found.0.0 - along.0).abs() < 1e-4, "{found:?} {along:?} {across:?}");
            prop_assert!((found.1.0 - across.0).abs() < 1e-4, "{found:?} {along:?} {across:?}");
        }

        #[test]
        fn a_point_lies_where_it_is_located(line in lines(), right in -300.0..300.0f64, ahead in -100.0..700.0f64) {
            let point = Point::new(right, ahead);
            let (along, across) = line.locate(point);
            prop_assert!(line.place(along, across).distance(point) < 1e-6);
        }

        #[test]
        fn the_line_is_as_long_as_it_says(line in lines()) {
            let count = 4000;
            let step = line.length().0 / f64::from(count);
            let on = |i: i32| line.place(Along(f64::from(i) * step), Across(0.0));
            let walked: f64 = (0..count).map(|i| on(i).distance(on(i + 1))).sum();
            prop_assert!((walked - line.length().0).abs() < 0.05);
        }

        #[test]
        fn a_mirrored_line_is_mirrored_exactly(
            at in 31.0..200.0f64, turn in -90.0..90.0f64, along in -20.0..420.0f64, across in -60.0..60.0f64,
        ) {
            let line = HoleLine::new(&[bend(at, turn)], Along(400.0));
            let mirror = HoleLine::new(&[bend(at, -turn)], Along(400.0));
            let point = line.place(Along(along), Across(across));
            prop_assert_eq!(mirror.place(Along(along), Across(-across)), point.mirrored());
            prop_assert_eq!(mirror.locate(point.mirrored()).1.0, -line.locate(point).1.0);
        }
    }
}
