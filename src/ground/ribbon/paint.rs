//! Which ground each half-cell shows.

use super::{HalfCell, Ribbon, View};
use crate::ground::corridor::{Section, nearest_fairway, seen};
use crate::ground::hole::Ground;
use crate::ground::plane::Point;
use crate::ground::section::{Knife, Span};
use crate::ground::surface::Surface;
use crate::units::{Across, Along};

/// A danger that fills a third of a half-cell is shown in it before harmless ground.
const DANGER_COUNTS: f64 = 2.0;

/// What was met in a half-cell: which ground and how much of it, in half-cells.
#[derive(Clone, Copy, Debug)]
struct Share {
    surface: Surface,
    feature: Option<usize>,
    size: f64,
}

/// The best half-cell for a piece of ground that has none yet.
#[derive(Clone, Copy, Debug, Default)]
struct Best {
    cells: usize,
    size: f64,
    place: Option<(usize, usize)>,
    /// Its mirror image in the line where both are filled alike.
    twin: Option<(usize, usize)>,
}

impl Ribbon {
    pub(super) fn paint(&mut self, ground: &Ground) {
        self.cells = vec![HalfCell::NONE; self.columns * self.half_rows];
        self.fairways = vec![None; if self.view == View::AlongLine { self.columns } else { 0 }];
        let knife = Knife::new(ground);
        let mut best = vec![Best::default(); ground.features.len()];
        let mut shares: Vec<Vec<Share>> = vec![Vec::new(); self.half_rows];
        let mut spans: Vec<Span> = Vec::new();
        // Cuts in the middle and beside it; more where a half-cell is so long that a ditch could slip between them.
        let cuts: u32 = if self.scale <= 1.0 {
            1
        } else if self.scale <= 4.5 {
            3
        } else {
            5
        };
        for column in 0..self.columns {
            shares.iter_mut().for_each(Vec::clear);
            let mut ground_ends = (f64::NEG_INFINITY, f64::INFINITY);
            for cut in 0..cuts {
                let inside = (f64::from(cut) + 0.5) / f64::from(cuts);
                let (ends, seen) = self.cut(&knife, column as f64 + inside, &mut spans);
                ground_ends = (ends.0.max(ground_ends.0), ends.1.min(ground_ends.1));
                for span in &seen {
                    self.share_out(span, f64::from(cuts), &mut shares);
                }
                if cut == cuts / 2
                    && let Some(fairway) = self.fairways.get_mut(column)
                {
                    let at = Along(self.first + (column as f64 + 0.5) * self.scale);
                    *fairway = nearest_fairway(&Section { at, spans: seen }, 0.0);
                }
            }
            for (half_row, shares) in shares.iter().enumerate() {
                for share in shares {
                    note(&mut best, share, (column, half_row), self.half_rows);
                }
                let across = self.level(0.0, half_row as f64 + 0.5).1;
                if across < ground_ends.0 || across > ground_ends.1 {
                    continue;
                }
                let cell = winner(shares);
                if let Some(best) = cell.feature.and_then(|feature| best.get_mut(feature)) {
                    best.cells += 1;
                }
                if let Some(place) = self.cells.get_mut(half_row * self.columns + column) {
                    *place = cell;
                }
            }
        }
        self.keep_the_small(ground, &mut best);
        self.keep_green_and_tees(ground);
    }

    /// Cuts through a column and gives how far the ground reaches there and what is seen of it.
    fn cut(&self, knife: &Knife, column: f64, spans: &mut Vec<Span>) -> ((f64, f64), Vec<Span>) {
        let ahead_by = self.first + column * self.scale;
        let half = self.half_rows as f64 / 2.0 * self.scale;
        let (top, bottom) = (self.middle - half, self.middle + half);
        let (place, right, ends) = match self.view {
            View::AlongLine => {
                let (place, ahead) = self.line.at(Along(ahead_by));
                let limit = |across: f64| {
                    let far = self.line.place(Along(ahead_by), Across(across));
                    if self.line.is_straight() || self.line.locate(far).1.0.abs() > across.abs() - 1e-6 {
                        across
                    } else {
                        across.signum() * self.line.reach(Along(ahead_by), across).abs().min(across.abs())
                    }
                };
                (place, ahead.to_the_right(), (limit(top), limit(bottom)))
            }
            View::TrueShape => {
                let frame = self.frame;
                (frame.origin + frame.ahead * ahead_by, frame.ahead.to_the_right(), (top, bottom))
            }
        };
        knife.cut(place, right, ends, spans);
        (ends, seen(spans))
    }

    /// Gives each half-cell its share of a span.
    fn share_out(&self, span: &Span, cuts: f64, shares: &mut [Vec<Share>]) {
        let row_of = |across: f64| (across - self.middle) / self.scale + self.half_rows as f64 / 2.0;
        let (from, to) = (row_of(span.left).max(0.0), row_of(span.right).min(self.half_rows as f64));
        if to <= from {
            return;
        }
        let last = to.ceil() as usize;
        for (half_row, shares) in shares.iter_mut().enumerate().take(last).skip(from.floor() as usize) {
            let top = half_row as f64;
            let size = (to.min(top + 1.0) - from.max(top)) / cuts;
            match shares.iter_mut().find(|share| share.surface == span.surface && share.feature == span.feature) {
                Some(share) => share.size += size,
                None => shares.push(Share { surface: span.surface, feature: span.feature, size }),
            }
        }
    }

    /// Gives one half-cell to every feature that is seen on the drawing and won none.
    fn keep_the_small(&mut self, ground: &Ground, best: &mut [Best]) {
        for (index, feature) in ground.features.iter().enumerate() {
            let Some(found) = best.get(index).copied() else { continue };
            if found.cells > 0 {
                continue;
            }
            // A feature that slipped between all cuts is looked for by its middle.
            let by_middle = || {
                feature
                    .shapes
                    .iter()
                    .map(|shape| shape.middle())
                    .find(|middle| ground.feature_at(*middle) == Some(index))
                    .and_then(|middle| self.cell_of_point(middle))
            };
            let Some(place) = found.place.or_else(by_middle) else { continue };
            let cell = HalfCell { surface: Some(feature.surface), feature: Some(index) };
            self.give(place, cell, best);
            if let Some(twin) = found.twin {
                self.give(twin, cell, best);
            }
        }
    }

    /// Gives a half-cell, or one next to it, without taking another feature's last one.
    fn give(&mut self, place: (usize, usize), cell: HalfCell, best: &mut [Best]) {
        let near = [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1)];
        for (right, down) in near {
            let Some(column) = place.0.checked_add_signed(right) else { continue };
            let Some(half_row) = place.1.checked_add_signed(down) else { continue };
            if column >= self.columns || half_row >= self.half_rows {
                continue;
            }
            let owner = self.cell(column, half_row).feature;
            let last_one = owner.and_then(|owner| best.get(owner)).is_some_and(|best| best.cells == 1);
            if last_one {
                continue;
            }
            if let Some(best) = owner.and_then(|owner| best.get_mut(owner)) {
                best.cells = best.cells.saturating_sub(1);
            }
            if let Some(best) = cell.feature.and_then(|feature| best.get_mut(feature)) {
                best.cells += 1;
            }
            if let Some(place) = self.cells.get_mut(half_row * self.columns + column) {
                *place = cell;
            }
            return;
        }
    }

    /// The green and the tees are never lost either.
    fn keep_green_and_tees(&mut self, ground: &Ground) {
        let mut keep = |point: Point, surface: Surface| {
            let (column, half_row) = self.spot_of(point);
            // On the edge of two half-cells it lies in both, so that the mirrored hole has the same.
            let rows = [half_row - 1e-6, half_row + 1e-6].map(|row| self.on_drawing((column, row)));
            let shown = rows.iter().flatten().any(|(column, row)| self.cell(*column, *row).surface == Some(surface));
            for (column, half_row) in rows.into_iter().flatten().filter(|_| !shown) {
                if let Some(place) = self.cells.get_mut(half_row * self.columns + column)
                    && place.surface.is_some_and(|there| !there.is_danger())
                {
                    *place = HalfCell { surface: Some(surface), feature: None };
                }
            }
        };
        for tee in &ground.tees {
            if ground.surface_at(tee.point) == Surface::Tee {
                keep(tee.point, Surface::Tee);
            }
        }
        if let Some(green) = &ground.green
            && ground.surface_at(green.middle) == Surface::Green
        {
            keep(green.middle, Surface::Green);
        }
    }
}

/// Remembers where a feature fills most of a half-cell; of equal ones the first from the left and then nearest the line.
fn note(best: &mut [Best], share: &Share, place: (usize, usize), half_rows: usize) {
    let Some(best) = share.feature.and_then(|feature| best.get_mut(feature)) else { return };
    let off_line = |place: (usize, usize)| (2 * place.1 + 1).abs_diff(half_rows);
    let larger = share.size > best.size + 1e-9;
    let alike = (share.size - best.size).abs() <= 1e-9;
    match best.place {
        Some(there) if alike && there.0 == place.0 && off_line(there) == off_line(place) => best.twin = Some(place),
        Some(there) if alike && there.0 == place.0 && off_line(place) < off_line(there) => {
            (best.place, best.twin) = (Some(place), None);
        }
        _ if larger => (best.size, best.place, best.twin) = (share.size, Some(place), None),
        _ => {}
    }
}

/// The ground that fills most of a half-cell, dangers counted double; of equal ones the one that wins where they lie
/// on each other. What is not drawn is rough.
fn winner(shares: &[Share]) -> HalfCell {
    let rough = 1.0 - shares.iter().map(|share| share.size).sum::<f64>();
    // In millionths, so that the two sides of a mirrored hole do not differ by a last digit.
    let weigh = |share: &Share| {
        let counts = if share.surface.is_danger() { DANGER_COUNTS } else { 1.0 };
        (share.size * counts * 1e6).round() as i64
    };
    let drawn = shares
        .iter()
        .max_by(|a, b| weigh(a).cmp(&weigh(b)).then(b.surface.cmp(&a.surface)).then(b.feature.cmp(&a.feature)));
    let rest = HalfCell { surface: Some(Surface::Rough), feature: None };
    match drawn {
        Some(share) if weigh(share) >= (rough * 1e6).round() as i64 => {
            HalfCell { surface: Some(share.surface), feature: share.feature }
        }
        _ => rest,
    }
}
