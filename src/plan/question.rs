//! What a plan is asked of: one hole, one player, one tee, one aim.

use super::Aimed;
use crate::course::day::HoleLocation;
use crate::course::{Aim, Card, Course, Hole};
use crate::ground::Point;
use crate::pattern::{Bag, Lie, Pattern, Skill};
use crate::putting::{GreenSpeed, PuttingSkill};
use crate::today::{self, Day, GreenWorth, HoleAir, Reference};
use crate::units::{Along, LengthUnit, TeeOrigin};

/// Where on the green the hole is cut, as far as it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Pin {
    /// A third of the depth from the front.
    Front,
    /// The middle, also when it is unknown.
    #[default]
    Middle,
    /// A third of the depth from the back.
    Back,
}

/// One hole for one player.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The course with this hole only: its name, landmarks and units.
    pub course: Course,
    /// The hole.
    pub hole: Hole,
    /// The tee set.
    pub tee: String,
    /// Whose card.
    pub card: Card,
    /// Par on it.
    pub par: u8,
    /// Strokes received here.
    pub strokes_received: i32,
    /// The Handicap Index; plus handicaps negative.
    pub index: f64,
    /// The player's clubs.
    pub bag: Bag,
    /// What it is for.
    pub aimed: Aimed,
    /// Where the hole is cut, when nobody has said.
    pub pin: Pin,
    /// Today's hole location, when it is known.
    pub cut: Option<HoleLocation>,
    /// The day.
    pub day: Day,
    /// The air in which the player's carries hold.
    pub measured: Reference,
    /// How far the markers are moved forward today, yards.
    pub forward: f64,
    /// The unit words are spoken in.
    pub units: LengthUnit,
    /// The written aims that apply to this player today.
    pub aims: Vec<Aim>,
}

impl Question {
    /// The question for `hole` of `course`; only what this hole needs is taken along.
    pub fn new(course: &Course, hole: &Hole, tee: &str, card: Card, index: f64, bag: Bag) -> Self {
        let course = course.without_holes();
        Self {
            tee: tee.to_owned(),
            card,
            par: hole.par.on(card).unwrap_or(4),
            strokes_received: 0,
            index,
            bag,
            aimed: Aimed::default(),
            pin: Pin::default(),
            cut: None,
            day: Day::usual(&course),
            measured: Reference::default(),
            forward: 0.0,
            units: course.units,
            aims: Vec::new(),
            hole: hole.clone(),
            course,
        }
    }

    /// The player's pattern.
    pub fn pattern(&self) -> Pattern {
        Pattern::of(&self.bag, &Skill::of_index(self.index, self.card))
    }

    /// The tee in the plane, today's markers allowed for; `None` when the hole has no such tee.
    pub fn tee_point(&self) -> Option<Point> {
        let tee = self.hole.ground.tees.iter().find(|t| t.name == self.tee)?;
        if self.forward == 0.0 {
            return Some(tee.point);
        }
        // Moved along the hole, staying as far beside the line.
        Some(self.hole.ground.line().place(Along(tee.at.0 + self.forward), tee.across))
    }

    /// The conditions of the day on this hole for a player of this pattern.
    pub fn air(&self, pattern: &Pattern) -> HoleAir {
        HoleAir::new(&self.day, &self.hole, pattern.longest_carry(Lie::Tee), &self.measured)
    }

    /// The errors of this putter.
    pub fn putting_skill(&self) -> PuttingSkill {
        today::putting_skill(self.index, self.card)
    }

    /// The speed of the greens today, held inside what putting is worked out for.
    pub fn green_speed(&self) -> GreenSpeed {
        GreenSpeed::held(self.day.green_speed)
    }

    /// What a ball on this green is worth to this player, the hole cut at `pin`.
    pub fn green(&self, pin: Point, pattern: &Pattern) -> GreenWorth {
        GreenWorth::new(&self.hole, pin, self.green_speed(), self.putting_skill(), &pattern.putts)
    }

    /// Where this player counts from.
    pub fn origin(&self) -> TeeOrigin {
        let mut origin = self.hole.origin(&self.tee).unwrap_or_default();
        origin.0.0 += self.forward;
        origin
    }

    /// The hole in the plane; `None` without a green.
    pub fn pin_point(&self) -> Option<Point> {
        let green = self.hole.ground.green.as_ref()?;
        if let Some(cut) = &self.cut {
            return Some(today::place_of(green, cut, self.course.units));
        }
        let share = |a: Point, b: Point, t: f64| Point {
            right: a.right + (b.right - a.right) * t,
            ahead: a.ahead + (b.ahead - a.ahead) * t,
        };
        Some(match self.pin {
            Pin::Middle => green.middle,
            Pin::Front => share(green.front_point, green.back_point, 1.0 / 6.0),
            Pin::Back => share(green.front_point, green.back_point, 5.0 / 6.0),
        })
    }
}
