//! What a player may do from a place, and what it leads to.

use super::eval::{Course, Fan, Next, Tally};
use super::finish::{Finish, back_on_line, trees_along};
use super::lattice::Place;
use super::row::{Gather, Lead, Row};
use super::shot::Shot;
use super::terrain::Spot;
use super::{Kind, Prepared};
use crate::pattern::{Cloud, Lie, Model};

/// Something to do from a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Choice {
    /// A swing, by its number among those of the lie, aimed in a direction (radians clockwise from ahead).
    Swing {
        /// Number of the swing.
        swing: u16,
        /// Direction of the aim.
        aim: f32,
    },
    /// The printed model's stroke out of trees.
    Recover,
    /// Unplayable (Rule 19.2): a drop, one stroke.
    Drop {
        /// Where.
        spot: Spot,
        /// How the ball then lies.
        lie: Lie,
    },
}

/// Which cloud of a swing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// Few points.
    Screen,
    /// More.
    Weigh,
    /// Most.
    Value,
}

/// A way out of trees.
pub struct WayOut {
    /// Its direction.
    pub aim: f32,
    /// Yards of trees to go through.
    pub through: f32,
    /// The chance that a ball is not caught and left where it was.
    pub clear: f32,
    /// Trees beyond the first.
    pub beyond: Option<Fan>,
}

impl Prepared {
    /// The cloud of this depth.
    pub fn cloud(&self, depth: Depth) -> &Cloud {
        match depth {
            Depth::Screen => &self.screen,
            Depth::Weigh => &self.weigh,
            Depth::Value => &self.value,
        }
    }
}

impl Course<'_> {
    /// The swing behind a choice from this lie.
    pub fn swing(&self, lie: Lie, number: u16) -> Option<&Prepared> {
        self.hole.kit.swings(lie).get(usize::from(number))
    }

    /// The points to use: a stroke out of trees is known too roughly to deserve many, and far places matter too little.
    fn cloud_for<'k>(&self, place: Place, prepared: &'k Prepared, depth: Depth) -> &'k Cloud {
        let spare = place.far || place.lie == Lie::Trees && self.real();
        match depth {
            Depth::Value if spare => &prepared.weigh,
            Depth::Weigh if spare => &prepared.screen,
            depth => prepared.cloud(depth),
        }
    }

    /// What a choice from a place is worth.
    pub fn weigh(&self, next: &Next<'_>, place: Place, choice: Choice, depth: Depth, fan: Option<&Fan>) -> Tally {
        match choice {
            Choice::Swing { swing, aim } => {
                let Some(prepared) = self.swing(place.lie, swing) else {
                    return Tally::of(f32::INFINITY);
                };
                let shot = self.shot(prepared, place.spot, aim, self.cloud_for(place, prepared, depth));
                if place.lie == Lie::Trees && self.real() {
                    let way = self.way_out(place.spot, aim, 1.4 * prepared.swing.total as f32);
                    return self.punch(next, &shot, &way, depth == Depth::Screen);
                }
                self.tally(next, &shot.among(fan))
            }
            Choice::Recover => {
                let to = self.recovery(place.spot);
                let sum = 0.8 * self.value_at(next.values, Lie::Fairway, to)
                    + 0.2 * self.value_at(next.values, Lie::Rough, to);
                Tally::of(sum)
            }
            Choice::Drop { spot, lie } => Tally::of(self.value_at(next.values, lie, spot)),
        }
    }

    /// Where a choice from a place leads; `cloud` is that of the most points unless another is given.
    pub fn lead(
        &self,
        next: &Next<'_>,
        place: Place,
        choice: Choice,
        cloud: Option<&Cloud>,
        fan: Option<&Fan>,
        lead: &mut Lead,
    ) {
        lead.clear();
        match choice {
            Choice::Swing { swing, aim } => {
                let Some(prepared) = self.swing(place.lie, swing) else { return };
                let cloud = cloud.unwrap_or_else(|| self.cloud_for(place, prepared, Depth::Value));
                let shot = self.shot(prepared, place.spot, aim, cloud);
                if place.lie == Lie::Trees && self.real() {
                    let way = self.way_out(place.spot, aim, 1.4 * prepared.swing.total as f32);
                    self.gather_shot(next, &shot.among(way.beyond.as_ref()), way.clear, lead);
                    lead.stay(1.0 - way.clear);
                } else {
                    self.gather_shot(next, &shot.among(fan), 1.0, lead);
                }
            }
            Choice::Recover => {
                let to = self.recovery(place.spot);
                for (lie, share) in [(Lie::Fairway, 0.8), (Lie::Rough, 0.2)] {
                    lead.place(self.lattice.stencil(&self.terrain, lie, to), share);
                }
            }
            Choice::Drop { spot, lie } => lead.place(self.lattice.stencil(&self.terrain, lie, spot), 1.0),
        }
    }

    /// The same as chances of places.
    pub fn row(&self, next: &Next<'_>, place: Place, choice: Choice, cloud: Option<&Cloud>) -> Row {
        let fan = self.fan(place, std::iter::once(&choice));
        let mut lead = Lead::default();
        self.lead(next, place, choice, cloud, fan.as_ref(), &mut lead);
        lead.row(self, &mut Gather::new(self.lattice.places.len()))
    }

    /// Calls `f` with the weight and the finish of every point of a swing.
    pub fn each_finish(
        &self,
        place: Place,
        aim: f32,
        prepared: &Prepared,
        cloud: &Cloud,
        mut f: impl FnMut(f32, Finish),
    ) {
        let shot = self.shot(prepared, place.spot, aim, cloud);
        if place.lie == Lie::Trees && self.real() {
            let way = self.way_out(place.spot, aim, 1.4 * prepared.swing.total as f32);
            f(1.0 - way.clear, Finish::Stays);
            self.each_end(&shot.among(way.beyond.as_ref()), |weight, end| f(weight * way.clear, end));
        } else {
            let fan = self.fan_about(place, aim, prepared);
            self.each_end(&shot.among(fan.as_ref()), f);
        }
    }

    /// The fan of trees for one aim.
    pub fn fan_about(&self, place: Place, aim: f32, prepared: &Prepared) -> Option<Fan> {
        if !self.real() {
            return None;
        }
        let wide = 3.0 * (prepared.swing.across / prepared.swing.total.max(1.0)) as f32 + 0.05;
        Fan::new(&self.terrain, place.spot, (aim - wide, aim + wide), 1.2 * prepared.swing.total as f32)
    }

    /// Where the printed model's stroke out of trees goes: on to the fairway, advancing 0.8 (d - 85) yards, at most 0.38 of the drive.
    pub fn recovery(&self, from: Spot) -> Spot {
        let away = from.away();
        let most = 0.38 * self.hole.kit.pattern.skill.drive as f32;
        let left = away - (0.8 * (away - 85.0)).clamp(0.0, most);
        let beside = |p: &&Spot| (p.away() - left).abs();
        self.line.iter().min_by(|a, b| beside(a).total_cmp(&beside(b))).copied().unwrap_or(from)
    }

    /// Out of trees in a direction, as far as `reach` yards.
    pub fn way_out(&self, from: Spot, aim: f32, reach: f32) -> WayOut {
        let mut trees = trees_along(&self.terrain, from, libm::sincosf(aim), reach);
        let through = match trees.first() {
            Some((begin, end)) if *begin <= 0.5 => *end,
            _ => 0.0,
        };
        if through > 0.0 {
            trees.remove(0);
        }
        let clear = libm::expf(-through / CLEAR_WAY).max(LEAST_CLEAR);
        WayOut { aim, through, clear, beyond: Fan::single(trees) }
    }

    /// What a shot out of trees is worth; at a first look trees beyond those about the ball stop nothing.
    pub fn punch(&self, next: &Next<'_>, shot: &Shot<'_>, way: &WayOut, glance: bool) -> Tally {
        let out = if glance {
            Tally::of(self.glance(next, shot))
        } else {
            self.tally(next, &shot.among(way.beyond.as_ref()))
        };
        Tally { sum: way.clear * out.sum, again: way.clear * out.again, stay: 1.0 - way.clear }
    }

    /// Drops for a ball that cannot be played (Rule 19.2b and c): back on the line, or within two club-lengths.
    pub fn unplayable(&self, from: Spot) -> impl Iterator<Item = Choice> + '_ {
        const TWO_CLUB_LENGTHS: f32 = 2.5;
        let lateral = (0..8).filter_map(move |k| {
            let (s, c) = libm::sincosf(std::f32::consts::FRAC_PI_4 * k as f32);
            let spot = Spot { x: from.x + TWO_CLUB_LENGTHS * s, y: from.y + TWO_CLUB_LENGTHS * c };
            let kind = self.terrain.kind(spot);
            (spot.away() >= from.away() - 0.1 && kind != Kind::Trees).then_some((spot, kind.lie()?))
        });
        let back = back_on_line(&self.terrain, from, 1.0).and_then(|spot| Some((spot, self.terrain.kind(spot).lie()?)));
        back.into_iter().chain(lateral).map(|(spot, lie)| Choice::Drop { spot, lie })
    }

    /// Whether the printed stroke out of trees is the one.
    pub fn recovers(&self, place: Place) -> bool {
        place.lie == Lie::Trees && self.hole.kit.pattern.model == Model::Printed
    }
}

/// Yards of trees that a ball struck low passes through with a chance of 1/e (assumed).
const CLEAR_WAY: f32 = 75.0;
/// However deep the trees, three strokes in ten find a way on (assumed).
const LEAST_CLEAR: f32 = 0.3;
