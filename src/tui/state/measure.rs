//! The page of measuring: two places on a hole and what lies between them.

use super::State;
use crate::ground::Point;
use crate::survey::measure::{Crossed, MarkerCheck};
use crate::units::{Across, Along};
use tui_input::Input;

/// The page.
#[derive(Clone, Debug, Default)]
pub struct MeasureScreen {
    /// The two places; the first is where one stands.
    pub ends: [(Along, Across); 2],
    /// Which of them moves.
    pub moving: usize,
    /// What a marker reads at the place that moves, being typed.
    pub marker: Option<Input>,
    /// The marker that was typed: its place, what it reads in yards, and whether it reads to the front.
    pub read: Option<((Along, Across), f64, bool)>,
}

/// What was measured.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Measured {
    /// The places in the plane.
    pub points: [Point; 2],
    /// Straight from one to the other, yards.
    pub straight: f64,
    /// Along the hole line, yards.
    pub along: f64,
    /// The dangers between them: name, what is crossed.
    pub crossed: Vec<(String, Crossed)>,
    /// The narrowest gap between the two pieces of ground nearest to the two places: their names, width.
    pub gap: Option<(String, String, f64, [Point; 2])>,
    /// From the second place to front, middle and back of the green.
    pub green: Option<[f64; 3]>,
    /// The angle of the front edge for a ball from the first place, degrees; right of it farther is positive.
    pub front_edge: Option<f64>,
    /// The fairway's width at the place that moves.
    pub fairway: Option<f64>,
    /// A marker against the ground.
    pub marker: Option<(MarkerCheck, bool)>,
    /// Where card, line and marker disagree.
    pub warnings: Vec<String>,
}

impl State {
    /// The page, wherever it lies in the stack.
    pub fn measure(&self) -> Option<&MeasureScreen> {
        self.screens.iter().rev().find_map(|s| if let super::Screen::Measure(m) = s { Some(&**m) } else { None })
    }

    /// The page, to be changed.
    pub fn measure_mut(&mut self) -> Option<&mut MeasureScreen> {
        self.screens
            .iter_mut()
            .rev()
            .find_map(|s| if let super::Screen::Measure(m) = s { Some(&mut **m) } else { None })
    }
}
