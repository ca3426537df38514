//! Where a play leads, as chances of places.

use super::Kind;
use super::eval::{Course, Next};
use super::finish::Finish;
use super::lattice::Stencil;
use super::ledger::MOST_AGAIN;
use super::mesh::Mesh;
use super::shot::{Shot, Sink};
use crate::pattern::putts::MOST_PUTTS;

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

    /// Adds the places of a stencil.
    #[inline]
    pub fn place(&mut self, stencil: &Stencil, weight: f32, penalised: bool) {
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

/// Where a choice leads, as it is found: chances of cells and of places. It becomes a [`Row`] when somebody asks for chances of places.
#[derive(Clone, Debug, Default)]
pub struct Lead {
    /// Cells and chances, one stroke taken.
    cells: Vec<(u32, f32)>,
    /// The same with a penalty stroke besides.
    penalised_cells: Vec<(u32, f32)>,
    /// Places, where a cell lies on several kinds of ground.
    places: Vec<(Stencil, f32)>,
    /// The same with a penalty stroke besides.
    penalised: Vec<(Stencil, f32)>,
    /// Chance of playing again from the same place with a penalty stroke.
    again: f32,
    /// Chance that the ball stays where it is.
    stay: f32,
}

impl Lead {
    /// Empties it for another play.
    pub fn clear(&mut self) {
        self.cells.clear();
        self.penalised_cells.clear();
        self.places.clear();
        self.penalised.clear();
        (self.again, self.stay) = (0.0, 0.0);
    }

    /// Strokes to come by this play when places are worth `values` and cells about `field`: a play made again is worth what it is worth.
    pub fn strokes(&self, values: &[f32], field: &[f32]) -> f32 {
        let repeated = self.again + self.stay;
        if repeated > MOST_AGAIN {
            return f32::INFINITY;
        }
        let cell = |(cell, weight): &(u32, f32)| weight * field.get(*cell as usize).copied().unwrap_or_default();
        let place = |(stencil, weight): &(Stencil, f32)| weight * stencil.mean(values);
        let sum = self.cells.iter().map(cell).sum::<f32>() + self.places.iter().map(place).sum::<f32>();
        let penalised = self.penalised_cells.iter().map(|c| cell(c) + c.1).sum::<f32>()
            + self.penalised.iter().map(|p| place(p) + p.1).sum::<f32>();
        (1.0 + sum + penalised + self.again) / (1.0 - repeated)
    }

    /// How unevenly the places that this play of place `id` leads to have moved, by weight: what moves evenly changes no choice.
    /// `moved` tells by how much a place did.
    pub fn unevenly(&self, mesh: &Mesh, id: usize, moved: impl Fn(usize) -> f32) -> f32 {
        let of = |stencil: &Stencil| -> f32 {
            stencil
                .ids
                .iter()
                .zip(stencil.weights)
                .map(|(id, w)| if w > 0.0 { w * moved(*id as usize) } else { 0.0 })
                .sum()
        };
        // A good half of the points is enough to tell.
        let cells = self.cells.iter().step_by(2).chain(&self.penalised_cells).map(|(cell, weight)| {
            let (stencils, share) = mesh.of(*cell);
            (share * stencils.iter().map(of).sum::<f32>(), *weight)
        });
        let places = self.places.iter().chain(&self.penalised).map(|(stencil, weight)| (of(stencil), *weight));
        let all: Vec<(f32, f32)> = cells.chain(places).chain([(moved(id), self.again + self.stay)]).collect();
        let (sum, whole) = all.iter().fold((0.0, 1e-9), |(sum, whole), (by, w)| (sum + by * w, whole + w));
        let middle = sum / whole;
        all.iter().map(|(by, weight)| (by - middle).abs() * weight).sum::<f32>() / whole
    }

    /// The chances of places that it means.
    pub fn row(&self, course: &Course<'_>, gather: &mut Gather) -> Row {
        let wide = course.terrain.cols * course.terrain.rows;
        for (cells, penalised) in [(&self.cells, false), (&self.penalised_cells, true)] {
            for (cell, weight) in cells {
                let (stencils, share) = course.mesh.of(*cell);
                for stencil in stencils {
                    gather.place(stencil, weight * share, penalised);
                }
                if stencils.is_empty()
                    && !penalised
                    && let Some(putts) = course.greens.of(wide, *cell as usize)
                {
                    gather.row.putts.iter_mut().zip(putts).for_each(|(a, b)| *a += weight * b);
                }
            }
        }
        for (places, penalised) in [(&self.places, false), (&self.penalised, true)] {
            places.iter().for_each(|(stencil, weight)| gather.place(stencil, *weight, penalised));
        }
        (gather.row.again, gather.row.stay) = (self.again, self.stay);
        gather.take()
    }

    /// Adds a stencil of places.
    pub fn place(&mut self, stencil: Stencil, weight: f32) {
        self.places.push((stencil, weight));
    }

    /// Adds a ball that stays.
    pub fn stay(&mut self, weight: f32) {
        self.stay += weight;
    }
}

/// Gathers the points of one shot.
struct Gathering<'s, 'a> {
    course: &'s Course<'a>,
    next: &'s Next<'s>,
    lead: &'s mut Lead,
    share: f32,
}

impl Sink for Gathering<'_, '_> {
    fn plain(&mut self, cells: &[u32], weights: &[f32], _: f32) {
        let share = self.share;
        self.lead.cells.extend(cells.iter().zip(weights).map(|(cell, weight)| (*cell, weight * share)));
    }

    fn lossy(&mut self, cell: u32, weight: f32, kind: Kind) {
        let value = self.next.field.roughly().get(cell as usize).copied().unwrap_or(f32::NAN);
        self.lead.lie(cell, self.course.lost(kind), value > self.next.again, weight * self.share);
    }

    fn odd(&mut self, weight: f32, end: Finish) {
        self.course.gather(self.next, self.lead, weight * self.share, end);
    }
}

impl Lead {
    /// Adds a ball at rest in a cell where it is lost with some chance, or played again because that is better.
    fn lie(&mut self, cell: u32, lost: f32, replayed: bool, weight: f32) {
        let lost = if replayed { 1.0 } else { lost };
        self.again += weight * lost;
        if lost < 1.0 {
            self.cells.push((cell, weight * (1.0 - lost)));
        }
    }
}

impl Course<'_> {
    /// Gathers where a shot leads; `share` of it.
    pub fn gather_shot(&self, next: &Next<'_>, shot: &Shot<'_>, share: f32, lead: &mut Lead) {
        self.over(next.field, shot, &mut Gathering { course: self, next, lead, share });
    }

    /// Gathers one finish.
    pub fn gather(&self, next: &Next<'_>, lead: &mut Lead, weight: f32, end: Finish) {
        match end {
            Finish::Lies(spot, kind) => {
                let lost = self.lost(kind);
                let cell = self.terrain.cell(spot);
                let Some(lie) = kind.lie().filter(|_| !self.terrain.fills(cell, kind)) else {
                    let value = next.field.roughly().get(cell).copied().unwrap_or(f32::NAN);
                    lead.lie(cell as u32, lost, kind != Kind::Green && value > next.again, weight);
                    return;
                };
                let stencil = self.lattice.stencil(&self.terrain, lie, spot);
                let lost = if stencil.mean(next.values) > next.again { 1.0 } else { lost };
                lead.again += weight * lost;
                lead.places.push((stencil, weight * (1.0 - lost)));
            }
            Finish::Wet { dry, ground, wet, kind, .. } => {
                let (value, drop) = self.relief(next, (dry, ground), wet, kind);
                match drop.filter(|_| value <= next.again) {
                    Some((spot, ground)) => {
                        let cell = self.terrain.cell(spot);
                        match ground.lie().filter(|_| !self.terrain.fills(cell, ground)) {
                            Some(lie) => {
                                lead.penalised.push((self.lattice.stencil(&self.terrain, lie, spot), weight));
                            }
                            None => lead.penalised_cells.push((cell as u32, weight)),
                        }
                    }
                    None => lead.again += weight,
                }
            }
            Finish::Out(_) => lead.again += weight,
            Finish::Stays => lead.stay += weight,
        }
    }
}
