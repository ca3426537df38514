//! What a stroke says of its club and of the ground: where it went against its aim, what a danger took.

use super::judge::{Flown, HoleReview, Judge, Taken};
use super::resolve::{Known, Place};
use crate::ground::{Feature, Point, Surface};
use crate::pattern::Lie;
use crate::round::Penalty;
use crate::strategy::{Outcome, Play, Stand};

impl Judge<'_, '_> {
    /// Where a shot went against its aim, where both ends are known places.
    pub(super) fn flown(
        &self,
        number: usize,
        here: Option<&Place>,
        end: Option<&Place>,
        meant: Option<&Play>,
    ) -> Option<Flown> {
        let shot = self.case.logged.shots.get(number)?;
        let (here, end, meant) = (here?, end?, meant?);
        let swing = meant.swing.as_ref()?;
        let named = shot.club.as_deref().and_then(|c| self.stage.club(c)) == Some(swing.club);
        if here.known < Known::Placed || end.known < Known::Placed || shot.penalty.is_some() || !named {
            return None;
        }
        let way = (meant.target - here.at).unit();
        let went = end.at - here.at;
        let across = went.dot(way.to_the_right());
        let along = self.on_fairway(here, meant, went.dot(way), across, swing.total)?;
        Some(Flown {
            along,
            across,
            meant: swing.total,
            spread: (swing.along, swing.across),
            aimed: shot.aim.is_some(),
            full: swing.full,
            curve: swing.curve,
            lie: swing.lie,
        })
    }

    /// How far a shot that came to rest so far along its aim would have gone on fairway: rough and sand stop the run, and that is not the
    /// club's doing. `None` where the ground does not let it rest there.
    fn on_fairway(&self, here: &Place, play: &Play, rested: f64, across: f64, total: f64) -> Option<f64> {
        let stand = Stand { at: here.at, lie: here.lie?, taken: 0 };
        let way = (play.target - here.at).unit();
        let rest = |along: f64| match self.solution.outcome(stand, play, along, across) {
            Outcome::Rests { at, .. } => Some((at - here.at).dot(way)),
            _ => None,
        };
        let (mut low, mut high) = (0.2 * total, 1.6 * total);
        for _ in 0..12 {
            let middle = 0.5 * (low + high);
            // Where the flight meets water the ball cannot have rested: it went farther or less far than that.
            if rest(middle).unwrap_or(middle) < rested {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(0.5 * (low + high))
    }

    /// What a danger took: what its lie costs against rough at the same place, or the penalty and the ground lost by it.
    pub(super) fn danger(
        &self,
        penalty: Option<Penalty>,
        end: Option<&Place>,
        gained: Option<f64>,
        taken: usize,
        out: &mut HoleReview,
    ) {
        let features = &self.stage.question.hole.ground.features;
        let named = |i: usize| features.get(i).map(|f| f.name.clone()).unwrap_or_default();
        if let Some(penalty) = penalty {
            let wanted = |s: Surface| match penalty {
                Penalty::Water => matches!(s, Surface::PenaltyRed | Surface::PenaltyYellow),
                Penalty::Out => s == Surface::Out,
                Penalty::Unplayable => s.is_danger(),
            };
            let from = end.map_or(self.stage.tee, |p| p.at);
            let feature = nearest(features, from, wanted);
            let name = feature.map_or_else(
                || {
                    match penalty {
                        Penalty::Water => "a penalty area",
                        Penalty::Out => "out of bounds",
                        Penalty::Unplayable => "an unplayable lie",
                    }
                    .to_owned()
                },
                named,
            );
            out.taken.push(Taken { feature, name, strokes: 1.0 + (-gained.unwrap_or(0.0)).max(0.0) });
            return;
        }
        let Some(place) = end else { return };
        let Some(lie) = place.lie.filter(|l| !matches!(l, Lie::Fairway | Lie::Rough | Lie::Tee)) else { return };
        let sand = matches!(lie, Lie::Sand | Lie::ShallowSand | Lie::SteepSand);
        let here = self.stage.lies.piece(place.at).filter(|i| features.get(*i).is_some_and(|f| f.surface.is_danger()));
        let feature = here.or_else(|| {
            nearest(features, place.at, |s| {
                if sand { s == Surface::Bunker } else { s == Surface::Trees || s == Surface::Deep }
            })
        });
        let Some(feature) = feature else { return };
        let rough = Place { lie: Some(Lie::Rough), ..*place };
        let strokes = self.value(place, taken).0 - self.value(&rough, taken).0;
        out.taken.push(Taken { feature: Some(feature), name: named(feature), strokes });
    }
}

fn nearest(features: &[Feature], to: Point, wanted: impl Fn(Surface) -> bool) -> Option<usize> {
    let distance = |f: &Feature| f.shapes.iter().map(|s| s.distance(to)).fold(f64::INFINITY, f64::min);
    let found = features.iter().enumerate().filter(|(_, f)| wanted(f.surface)).map(|(i, f)| (i, distance(f)));
    found.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(i, _)| i)
}
