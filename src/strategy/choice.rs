//! What a player may do from a place, and what it leads to.

use super::eval::{Course, Fan, Next, Tally};
use super::finish::{Finish, back_on_line, finish, trees_along};
use super::lattice::{Place, Stencil};
use super::terrain::Spot;
use super::{Kind, Prepared};
use crate::pattern::putts::MOST_PUTTS;
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

/// Where a choice leads: chances of places, of putts, and of the same place again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Place and chance, one stroke taken.
    pub to: Vec<(u32, f32)>,
    /// The same with a penalty stroke besides.
    pub penalised: Vec<(u32, f32)>,
    /// Chance of holing out in exactly 1, 2 … putts after this stroke.
    pub putts: [f32; MOST_PUTTS],
    /// Chance of playing again from the same place with a penalty stroke.
    pub again: f32,
    /// Chance that the ball stays where it is.
    pub stay: f32,
}

/// Room for gathering a row.
pub struct Gather {
    free: Vec<f32>,
    penalised: Vec<f32>,
    touched: Vec<u32>,
    row: Row,
}

impl Gather {
    /// Room for this many places.
    pub fn new(places: usize) -> Self {
        Self { free: vec![0.0; places], penalised: vec![0.0; places], touched: Vec::new(), row: Row::default() }
    }

    fn place(&mut self, stencil: Stencil, weight: f32, penalised: bool) {
        for (id, share) in stencil.ids.iter().zip(stencil.weights) {
            if share <= 0.0 {
                continue;
            }
            let k = *id as usize;
            let (Some(f), Some(p)) = (self.free.get_mut(k), self.penalised.get_mut(k)) else { continue };
            if *f == 0.0 && *p == 0.0 {
                self.touched.push(*id);
            }
            *(if penalised { p } else { f }) += weight * share;
        }
    }

    /// The row gathered; the room is empty again.
    pub fn take(&mut self) -> Row {
        let mut row = std::mem::take(&mut self.row);
        self.touched.sort_unstable();
        self.touched.dedup();
        for id in self.touched.drain(..) {
            let k = id as usize;
            for (from, to) in [(&mut self.free, &mut row.to), (&mut self.penalised, &mut row.penalised)] {
                if let Some(weight) = from.get_mut(k)
                    && *weight != 0.0
                {
                    to.push((id, *weight));
                    *weight = 0.0;
                }
            }
        }
        row
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
                let punched = place.lie == Lie::Trees && self.real();
                let plain = self.cloud_for(place, prepared, depth);
                let changed = self.changed(&prepared.swing, place.spot, aim, plain);
                let cloud = changed.as_ref().unwrap_or(plain);
                if punched {
                    return self.punch(next, place, aim, (prepared, cloud), depth == Depth::Screen);
                }
                self.tally(next, place.spot, aim, cloud, prepared.flight, fan)
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

    /// Where a choice from a place leads.
    pub fn row(
        &self,
        next: &Next<'_>,
        place: Place,
        choice: Choice,
        cloud: Option<&Cloud>,
        gather: &mut Gather,
    ) -> Row {
        self.row_seen(next, place, choice, cloud, gather, &mut |_, _| {})
    }

    /// The same; `see` is told the weight and the finish of every point.
    pub fn row_seen(
        &self,
        next: &Next<'_>,
        place: Place,
        choice: Choice,
        cloud: Option<&Cloud>,
        gather: &mut Gather,
        see: &mut dyn FnMut(f32, Finish),
    ) -> Row {
        match choice {
            Choice::Swing { swing, aim } => {
                if let Some(prepared) = self.swing(place.lie, swing) {
                    let plain = cloud.unwrap_or_else(|| self.cloud_for(place, prepared, Depth::Value));
                    let changed = cloud.is_none().then(|| self.changed(&prepared.swing, place.spot, aim, plain));
                    let changed = changed.flatten();
                    let cloud = changed.as_ref().unwrap_or(plain);
                    self.each_finish(place, aim, prepared, cloud, |weight, end| {
                        see(weight, end);
                        self.gather(next, gather, weight, end);
                    });
                }
            }
            Choice::Recover => {
                let to = self.recovery(place.spot);
                for (lie, share) in [(Lie::Fairway, 0.8), (Lie::Rough, 0.2)] {
                    gather.place(self.lattice.stencil(&self.terrain, lie, to), share, false);
                }
            }
            Choice::Drop { spot, lie } => gather.place(self.lattice.stencil(&self.terrain, lie, spot), 1.0, false),
        }
        gather.take()
    }

    /// Gathers one finish.
    pub fn gather(&self, next: &Next<'_>, gather: &mut Gather, weight: f32, end: Finish) {
        match end {
            Finish::Lies(spot, kind) => {
                let Some(lie) = kind.lie() else {
                    let putts = self.greens.at(&self.terrain, spot);
                    gather.row.putts.iter_mut().zip(putts).for_each(|(a, b)| *a += weight * b);
                    return;
                };
                let stencil = self.lattice.stencil(&self.terrain, lie, spot);
                if super::field::needs_care(kind) && stencil.mean(next.values) > next.again {
                    gather.row.again += weight;
                    return;
                }
                let lost = self.lost(kind);
                gather.row.again += weight * lost;
                gather.place(stencil, weight * (1.0 - lost), false);
            }
            Finish::Wet { dry, ground, wet, kind, .. } => {
                let (value, drop) = self.relief(next, (dry, ground), wet, kind);
                match drop.filter(|_| value <= next.again) {
                    Some((spot, ground)) => {
                        let lie = ground.lie().unwrap_or(Lie::Fairway);
                        gather.place(self.lattice.stencil(&self.terrain, lie, spot), weight, true);
                    }
                    None => gather.row.again += weight,
                }
            }
            Finish::Out(_) => gather.row.again += weight,
            Finish::Stays => gather.row.stay += weight,
        }
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
        let (s, c) = libm::sincosf(aim);
        let from = place.spot;
        let punch = (place.lie == Lie::Trees && self.real()).then(|| self.way_out(from, aim, prepared));
        let fan = if punch.is_none() { self.fan_about(place, aim, prepared) } else { None };
        for (i, (a, b)) in cloud.along.iter().zip(&cloud.across).enumerate() {
            let mut weight = cloud.weight_of(i);
            let to = Spot { x: from.x + a * s + b * c, y: from.y + a * c - b * s };
            let mut lines = fan.as_ref();
            if let Some((clear, beyond)) = &punch {
                f(weight * (1.0 - clear), Finish::Stays);
                weight *= clear;
                lines = beyond.as_ref();
            }
            let trees = lines.map(|fan| fan.along(aim + b / a.max(1.0))).filter(|t| !t.is_empty());
            f(weight, finish(&self.terrain, from, to, cloud.carried, trees.map(|t| (t, prepared.flight))));
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

    /// Yards of trees to go through from a spot in them.
    pub fn through(&self, from: Spot, aim: f32, farthest: f32) -> f32 {
        match trees_along(&self.terrain, from, libm::sincosf(aim), 1.4 * farthest).first() {
            Some((begin, end)) if *begin <= 0.5 => *end,
            _ => 0.0,
        }
    }

    /// Out of the trees in a direction: the chance that a ball is not caught and left where it was, and trees beyond the first.
    fn way_out(&self, from: Spot, aim: f32, prepared: &Prepared) -> (f32, Option<Fan>) {
        let dir = libm::sincosf(aim);
        let mut trees = trees_along(&self.terrain, from, dir, 1.4 * prepared.swing.total as f32);
        let through = match trees.first() {
            Some((begin, end)) if *begin <= 0.5 => *end,
            _ => 0.0,
        };
        if through > 0.0 {
            trees.remove(0);
        }
        (libm::expf(-through / CLEAR_WAY).max(LEAST_CLEAR), Fan::single(trees))
    }

    fn punch(
        &self,
        next: &Next<'_>,
        place: Place,
        aim: f32,
        (prepared, cloud): (&Prepared, &Cloud),
        glance: bool,
    ) -> Tally {
        let (clear, fan) = self.way_out(place.spot, aim, prepared);
        let out = if glance {
            Tally::of(self.glance(next, place.spot, aim, cloud))
        } else {
            self.tally(next, place.spot, aim, cloud, prepared.flight, fan.as_ref())
        };
        Tally { sum: clear * out.sum, again: clear * out.again, stay: 1.0 - clear }
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
