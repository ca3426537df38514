//! What stands on and under the ribbon: letters, bends, distances.

use super::{Ribbon, View};
use crate::units::{Across, Along, Length, LengthUnit, TeeOrigin};

/// Where a bend is marked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BendMark {
    /// Which bend, by index.
    pub bend: usize,
    /// By how many degrees it turns; positive to the right.
    pub turn_deg: f64,
    /// The half-cell of the line at the bend.
    pub column: usize,
    /// See `column`.
    pub half_row: usize,
}

/// A figure of a strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tick {
    /// The column it stands for.
    pub column: usize,
    /// The distance there, in whole units.
    pub figure: i32,
}

/// A letter of the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Letter {
    /// Which feature, by index.
    pub feature: usize,
    /// Its letter.
    pub letter: char,
    /// The half-cell it is written in; its terminal row is half of the half-row.
    pub column: usize,
    /// See `column`.
    pub half_row: usize,
}

impl Ribbon {
    /// The bends that are on the drawing.
    pub fn bends(&self) -> Vec<BendMark> {
        self.line
            .turns()
            .iter()
            .filter_map(|turn| {
                let (column, half_row) = self.cell_of(turn.at, Across(0.0))?;
                Some(BendMark { bend: turn.bend, turn_deg: turn.turn_deg, column, half_row })
            })
            .collect()
    }

    /// The half-cells of the tees, in the order of the ground's tees; `None` for one outside the drawing.
    pub fn tees(&self) -> Vec<Option<(usize, usize)>> {
        self.tees.iter().map(|tee| self.cell_of_point(*tee)).collect()
    }

    /// Round distances along the line from a tee. None in the true shape, whose columns have no one distance.
    pub fn from_tee(&self, tee: TeeOrigin, unit: LengthUnit) -> Vec<Tick> {
        self.ticks(tee.0, 1.0, unit)
    }

    /// Round distances along the line to the middle of the green, from left to right. None in the true shape.
    pub fn to_middle(&self, unit: LengthUnit) -> Vec<Tick> {
        let mut ticks = self.ticks(self.line.length(), -1.0, unit);
        ticks.reverse();
        ticks
    }

    /// Distances from `zero` towards `direction`, as round and as many as have room.
    fn ticks(&self, zero: Along, direction: f64, unit: LengthUnit) -> Vec<Tick> {
        if self.view == View::TrueShape || self.columns == 0 {
            return Vec::new();
        }
        let column_of = |figure: f64| {
            let at = zero.0 + direction * Length::new(figure, unit).as_yards();
            (at - self.first) / self.scale
        };
        // Figures of three digits with room between them.
        let room = |step: &&f64| (column_of(**step) - column_of(0.0)).abs() >= 6.0;
        let step = [10.0, 25.0, 50.0, 100.0, 200.0, 500.0].iter().find(room).copied().unwrap_or(1000.0);
        (0..200)
            .map(|i| f64::from(i) * step)
            .map(|figure| (figure, column_of(figure)))
            .take_while(|(_, column)| direction < 0.0 || *column < self.columns as f64)
            .take_while(|(_, column)| direction > 0.0 || *column >= 0.0)
            .filter(|(_, column)| *column >= 0.0 && *column < self.columns as f64)
            .map(|(figure, column)| Tick { column: column as usize, figure: figure as i32 })
            .collect()
    }

    /// Where to write the letters of [`crate::ground::marks`]: in the middle of what is seen of each feature, no two in
    /// one terminal cell. A feature that is not on the drawing has none.
    pub fn letters(&self, marks: &[(usize, char)]) -> Vec<Letter> {
        let mut sums: Vec<(usize, f64, f64, f64)> = marks.iter().map(|mark| (mark.0, 0.0, 0.0, 0.0)).collect();
        let owned = |feature: usize| {
            self.cells.iter().enumerate().filter(move |(_, cell)| cell.feature == Some(feature)).map(|(index, _)| {
                let (half_row, column) = (index / self.columns.max(1), index % self.columns.max(1));
                (column, half_row)
            })
        };
        for (index, cell) in self.cells.iter().enumerate() {
            let Some(feature) = cell.feature else { continue };
            if let Some(sum) = sums.iter_mut().find(|sum| sum.0 == feature) {
                sum.1 += 1.0;
                sum.2 += (index % self.columns.max(1)) as f64;
                sum.3 += (index / self.columns.max(1)) as f64;
            }
        }
        let mut letters: Vec<Letter> = Vec::with_capacity(marks.len());
        for (&(feature, letter), sum) in marks.iter().zip(&sums) {
            if sum.1 == 0.0 {
                continue;
            }
            let (right, down) = (sum.2 / sum.1, sum.3 / sum.1);
            let away = |place: &(usize, usize)| {
                let (x, y) = (place.0 as f64 - right, place.1 as f64 - down);
                x * x + y * y
            };
            let free = owned(feature)
                .filter(|place| !letters.iter().any(|l| l.column == place.0 && l.half_row / 2 == place.1 / 2))
                .min_by(|a, b| away(a).total_cmp(&away(b)));
            if let Some((column, half_row)) = free {
                letters.push(Letter { feature, letter, column, half_row });
            }
        }
        letters
    }
}
