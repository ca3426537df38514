//! The whole distribution of the score: a play, then the plan from wherever it finishes.

use super::eval::Course;
use super::layers::Layers;
use super::row::{Gather, Row};
use super::solve::Solved;
use std::borrow::Borrow;

/// Scores are told apart up to this many strokes; the last stands for itself and more.
pub const MOST_TOLD: usize = 60;

/// Chances of standing at places, for one number of strokes taken.
struct Wave {
    mass: Vec<f32>,
    touched: Vec<u32>,
}

impl Wave {
    fn new(places: usize) -> Self {
        Self { mass: vec![0.0; places], touched: Vec::new() }
    }

    fn add(&mut self, id: u32, mass: f32) {
        if let Some(slot) = self.mass.get_mut(id as usize)
            && mass > 0.0
        {
            if *slot == 0.0 {
                self.touched.push(id);
            }
            *slot += mass;
        }
    }

    /// Takes everything out, in the order of the places.
    fn drain(&mut self) -> Vec<(u32, f32)> {
        self.touched.sort_unstable();
        let mass = &mut self.mass;
        let take = |id: u32| mass.get_mut(id as usize).map(|slot| (id, std::mem::take(slot)));
        self.touched.drain(..).filter_map(take).collect()
    }
}

/// Chances of the total score, `chances[n]` for `n` strokes on the hole: a play that leads to `first` with `taken` strokes taken
/// before it, then the rows that `follow` gives for a place and the strokes taken. They sum to one.
pub fn spread<R: Borrow<Row>>(
    places: usize,
    first: &Row,
    taken: usize,
    follow: impl FnMut(u32, usize) -> Option<R>,
) -> Vec<f64> {
    let (mut told, waiting) = flow(places, first, taken, follow);
    // Whoever is still on the way holes out at the last score told apart, or later.
    if let Some(last) = told.last_mut() {
        *last += waiting;
    }
    let whole: f64 = told.iter().sum();
    if whole > 0.0 {
        told.iter_mut().for_each(|p| *p /= whole);
    }
    told
}

/// The same as it comes, and the chance of being on the way still. Where rows lack weight, so do the chances.
pub fn flow<R: Borrow<Row>>(
    places: usize,
    first: &Row,
    taken: usize,
    mut follow: impl FnMut(u32, usize) -> Option<R>,
) -> (Vec<f64>, f64) {
    const LEAST: f32 = 1e-9;
    let mut told = vec![0.0_f64; MOST_TOLD + 1];
    let mut waves = [Wave::new(places), Wave::new(places), Wave::new(places)];
    // Where the play began is a place of its own: the last number is never used by another.
    let stand = u32::MAX;
    let mut begun = [1.0_f32, 0.0, 0.0];
    for now in taken..MOST_TOLD {
        let [here, one, two] = &mut waves;
        let [standing, stays, agains] = &mut begun;
        let mut at = here.drain();
        if *standing > 0.0 {
            at.push((stand, *standing));
        }
        for (id, mass) in at {
            if mass < LEAST {
                continue;
            }
            let held = if id == stand { None } else { follow(id, now) };
            let row = match &held {
                Some(row) => row.borrow(),
                None if id == stand => first,
                None => continue,
            };
            row.to.iter().for_each(|(to, w)| one.add(*to, mass * w));
            row.penalised.iter().for_each(|(to, w)| two.add(*to, mass * w));
            for (j, p) in row.putts.iter().enumerate() {
                if let Some(slot) = told.get_mut((now + 2 + j).min(MOST_TOLD)) {
                    *slot += f64::from(mass * p);
                }
            }
            if id == stand {
                *stays += mass * row.stay;
                *agains += mass * row.again;
            } else {
                one.add(id, mass * row.stay);
                two.add(id, mass * row.again);
            }
        }
        waves.rotate_left(1);
        begun = [*stays, *agains, 0.0];
        let [a, b, c] = &waves;
        if begun.iter().all(|m| *m < LEAST) && [a, b, c].iter().all(|w| w.touched.is_empty()) {
            break;
        }
    }
    let waiting: f32 = waves.iter().flat_map(|w| &w.mass).chain(&begun).sum();
    (told, f64::from(waiting))
}

/// The mean of chances by score.
pub fn mean(chances: &[f64]) -> f64 {
    chances.iter().enumerate().map(|(n, p)| n as f64 * p).sum()
}

/// The standard deviation of chances by score.
pub fn deviation(chances: &[f64]) -> f64 {
    let m = mean(chances);
    let square: f64 = chances.iter().enumerate().map(|(n, p)| (n as f64 - m).powi(2) * p).sum();
    square.max(0.0).sqrt()
}

impl Solved<'_> {
    /// Where the best play from a place leads.
    pub fn row_of(&self, id: u32) -> Option<&Row> {
        let (lead, row) = (self.leads.get(id as usize)?, self.rows.get(id as usize)?);
        Some(row.get_or_init(|| lead.row(&self.course, &mut Gather::new(self.course.lattice.places.len()))))
    }
}

impl Layers {
    /// Where the best play from a place leads with this many strokes taken; `None` where the value is settled.
    pub fn row_of<'r>(&'r self, course: &Course<'_>, id: u32, taken: usize) -> Option<&'r Row> {
        let k = id as usize;
        let place = *course.lattice.places.get(k)?;
        if taken >= self.table.settled() {
            return None;
        }
        let layer = self.layer(taken);
        let choice = (*layer.best.get(k)?)?;
        let again = self.cost_of(course, place, Some(k), taken + 2);
        Some(layer.rows.get(k)?.get_or_init(|| course.row(&self.next(taken, again), place, choice, None)))
    }
}
