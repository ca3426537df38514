//! Values that the views show, worked out once after each change and never while drawing.

use super::{Answered, DayShown, GreenShown, Measured, PlanKey, ShownRecord, Sketched, State, WrittenThings};
use crate::ground::ribbon::{BendMark, Letter, Ribbon, Tick, View};
use crate::ground::stops::Stop;
use crate::ground::{Corridor, Point};
use crate::plan::HolePlan;
use crate::round::Ability;
use crate::sheet::{BagSheet, CardSheet, HoleSheet, LiveCard, StandSheet};
use crate::tui::commands::Page;
use crate::tui::update::spot_of;
use crate::tui::view::layout;
use crate::units::digest::Digest;
use crate::units::{Across, Along, LengthUnit};
use ratatui::layout::Rect;
use std::sync::Arc;

/// What was worked out from the state.
#[derive(Clone, Debug, Default)]
pub struct Derived {
    /// The hole from the player's tee, or from the tee looked from.
    pub hole: Option<HoleSheet>,
    /// What the stand answers.
    pub stand: Option<StandSheet>,
    /// The card of each player.
    pub cards: Vec<CardSheet>,
    /// The state of the round in its format.
    pub live: Option<LiveCard>,
    /// The bag of the player looked at, while its page is open.
    pub bag: Option<BagSheet>,
    /// The record on the Handicap page, while it is open.
    pub record: Option<ShownRecord>,
    /// What the plan of this hole is made from.
    pub plan_key: Option<PlanKey>,
    /// The plan of this hole, when it is at hand and may be shown.
    pub plan: Option<Arc<HolePlan>>,
    /// The Day sheet page, while it is open.
    pub day: DayShown,
    /// The Green page, while it is open.
    pub green: GreenShown,
    /// What the solved hole answers.
    pub answered: Answered,
    /// The drawing.
    pub drawing: Option<Arc<Drawing>>,
    /// Everything written about the hole, while its page is open.
    pub written: WrittenThings,
    /// The hole as it is drawn on the Draw page.
    pub sketched: Option<Sketched>,
    /// What the Measure page measures.
    pub measured: Option<Measured>,
    /// The places along the hole where something matters.
    pub stops: Vec<Stop>,
    corridor: Option<Arc<Corridor>>,
    corridor_key: Option<CorridorKey>,
    ribbon_key: Option<RibbonKey>,
}

/// The drawing of a hole with everything that stands on and under it.
#[derive(Clone, Debug)]
pub struct Drawing {
    /// The ground by half-cell.
    pub ribbon: Ribbon,
    /// Letters that the text shares.
    pub letters: Vec<Letter>,
    /// Turns of the line.
    pub bends: Vec<BendMark>,
    /// Half-cells of the hole line.
    pub line: Vec<(usize, usize)>,
    /// Distances from the tee, under it.
    pub from_tee: Vec<Tick>,
    /// Distances to the middle of the green, under it.
    pub to_middle: Vec<Tick>,
    /// The middle of each half-cell, row by row.
    pub points: Arc<Vec<Point>>,
}

/// What the cuts through a hole were made from.
#[derive(Clone, Debug, PartialEq)]
struct CorridorKey {
    hole: u8,
    notebook: Option<Digest>,
}

/// What a drawing was made from.
#[derive(Clone, Debug, PartialEq)]
struct RibbonKey {
    ground: CorridorKey,
    columns: u16,
    rows: u16,
    tee: String,
    true_shape: bool,
    units: LengthUnit,
}

impl Derived {
    /// Works everything out for `state`; what has not changed since `before` is taken over.
    pub fn of(state: &State, mut before: Self) -> Self {
        let units = state.shown_units();
        let hole = state.session.hole_sheet(state.position, state.player, state.hole.tee.as_deref(), units);
        let cards = state.session.cards();
        let bag_open = state.screens.iter().any(|s| s.page() == Page::Bag);
        let bag = if bag_open { state.session.bag_sheet(state.player) } else { None };
        let record = state.shown_record(before.record.take());
        let mut out = Self { live: state.session.live(&cards), record, cards, hole, bag, ..before };
        let Some(here) = state.current_hole() else {
            return Self {
                cards: out.cards,
                live: out.live,
                record: out.record,
                hole: out.hole,
                bag: out.bag,
                ..Self::default()
            };
        };
        let key = CorridorKey { hole: here.number, notebook: state.session.notebook_digest };
        if out.corridor_key.as_ref() != Some(&key) {
            let corridor = Corridor::new(&here.ground);
            out.stops = corridor.stops();
            out.corridor = Some(Arc::new(corridor));
            out.corridor_key = Some(key.clone());
        }
        out.stand = None;
        if let (Some(corridor), Some(sheet)) = (&out.corridor, &out.hole)
            && let Some((at, across)) = spot_of(state, sheet)
        {
            let on_tee = state.hole.stand.is_none();
            let mut stand = StandSheet::new(corridor, sheet, at, across, on_tee, units);
            stand.why_not = state.session.why_not(Ability::StandDistances);
            out.stand = Some(stand);
        }
        out.draw(state, key);
        out
    }

    /// How wide the fairway is at a place, yards; `None` where there is none.
    pub fn fairway_width(&self, at: Along, across: Across) -> Option<f64> {
        self.corridor.as_ref()?.fairway_at(at, across).map(|f| f.width())
    }

    /// Makes the drawing when its cells, its hole or its tee have changed.
    fn draw(&mut self, state: &State, ground: CorridorKey) {
        let area = Rect::new(0, 0, state.size.0, state.size.1);
        let (Some(shape), Some(sheet), Some(corridor)) = (layout::shape(area), &self.hole, &self.corridor) else {
            self.drawing = None;
            self.ribbon_key = None;
            return;
        };
        let cells = layout::hole(area, shape, sheet.caution.is_some()).ribbon;
        let key = RibbonKey {
            ground,
            columns: cells.width,
            rows: cells.height,
            tee: sheet.tee.clone(),
            true_shape: state.hole.true_shape,
            units: state.shown_units(),
        };
        if self.ribbon_key.as_ref() == Some(&key) {
            return;
        }
        let ground = corridor.ground();
        let (columns, halves) = (usize::from(cells.width), usize::from(cells.height) * 2);
        let tee = ground.tees.iter().position(|t| t.name == sheet.tee).unwrap_or(0);
        let view = if state.hole.true_shape { View::TrueShape } else { View::AlongLine };
        self.drawing = ground.green.as_ref().map(|_| {
            let ribbon = Ribbon::new(ground, tee, columns, halves, view);
            let origin = sheet.origin.unwrap_or_default();
            // A dot of the line each second column of the drawing, from the tee to the end of the line.
            let dots = ((ground.length.0 - origin.0.0) / (2.0 * ribbon.scale())).max(0.0) as usize;
            let place = |i: usize| Along(origin.0.0 + i as f64 * 2.0 * ribbon.scale());
            let line = (1..=dots).filter_map(|i| ribbon.cell_of(place(i), Across(0.0))).collect();
            Arc::new(Drawing {
                letters: ribbon.letters(&sheet.marks),
                bends: ribbon.bends(),
                line,
                from_tee: ribbon.from_tee(origin, key.units),
                to_middle: ribbon.to_middle(key.units),
                points: Arc::new((0..columns * halves).map(|i| ribbon.point(i % columns, i / columns)).collect()),
                ribbon,
            })
        });
        self.ribbon_key = Some(key);
    }
}
