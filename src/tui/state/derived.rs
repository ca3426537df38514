//! Values that the views show, worked out once after each change and never while drawing.

use super::State;
use crate::ground::{HoleLine, Ribbon};
use crate::sheet::{CardSheet, HoleSheet, StandSheet};
use crate::tui::view::layout;
use ratatui::layout::Rect;

/// What was worked out from the state.
#[derive(Clone, Debug, Default)]
pub struct Derived {
    /// The hole from the player's tee, or from the tee looked from.
    pub hole: Option<HoleSheet>,
    /// What the stand answers.
    pub stand: Option<StandSheet>,
    /// The card of each player.
    pub cards: Vec<CardSheet>,
    /// The drawing, and the cells it was made for.
    pub ribbon: Option<Ribbon>,
    /// What the drawing was made from.
    ribbon_key: Option<RibbonKey>,
}

/// What a drawing depends on.
#[derive(Clone, Debug, PartialEq)]
struct RibbonKey {
    columns: u16,
    rows: u16,
    hole: usize,
    tee: Option<String>,
    true_shape: bool,
    course: usize,
}
