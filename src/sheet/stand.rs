//! What a spot on the hole answers, in the counting and the names of one player.

use super::HoleSheet;
use crate::ground::{Corridor, Distance, GreenReading, Ground, Lies, Point, Side, Surface};
use crate::units::{Across, Along, FromTee, Length, LengthUnit};

/// One danger as a line of the page.
#[derive(Clone, Debug, PartialEq)]
pub struct DangerLine {
    /// Which piece of ground, by index.
    pub feature: usize,
    /// The letter it shares with the drawing.
    pub letter: Option<char>,
    /// Its name.
    pub name: String,
    /// What it is.
    pub surface: Surface,
    /// `left`, `right` or `across`.
    pub lies: &'static str,
    /// Straight to where it begins, yards.
    pub reach: f64,
    /// Straight to where it ends, yards: what must be carried, or is passed.
    pub carry: f64,
    /// The same two along the hole line, where one of them differs from the straight one by five yards or more.
    pub along: Option<(f64, f64)>,
    /// Which side is clear and by how much, in words.
    pub clear: String,
}

/// Fairway beside the stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FairwayHere {
    /// Its left edge.
    pub left: Across,
    /// Its right edge.
    pub right: Across,
    /// Its width, yards.
    pub width: f64,
}

/// A spot considered by one player.
#[derive(Clone, Debug, PartialEq)]
pub struct StandSheet {
    /// It is the tee.
    pub on_tee: bool,
    /// The tee set it is counted from.
    pub tee: String,
    /// From that tee, along the line.
    pub from_tee: FromTee,
    /// Beside the line.
    pub across: Across,
    /// In the plane.
    pub point: Point,
    /// The lie.
    pub surface: Surface,
    /// The three distances to the green.
    pub green: Option<GreenReading>,
    /// The fairway level with it.
    pub fairway: Option<FairwayHere>,
    /// Where it is narrowest ahead: how wide, and how far from the tee.
    pub pinch: Option<(f64, FromTee)>,
    /// Dangers ahead, nearest first.
    pub dangers: Vec<DangerLine>,
    /// To each tee, straight and along the line.
    pub tees: Vec<(String, Distance)>,
    /// Why nothing may be said from here.
    pub why_not: Option<String>,
}

impl StandSheet {
    /// Reads the hole from (`at`, `across`) for the player of `hole`; names and letters as on the page.
    pub fn new(
        corridor: &Corridor,
        hole: &HoleSheet,
        at: Along,
        across: Across,
        on_tee: bool,
        units: LengthUnit,
    ) -> Self {
        let ground: &Ground = corridor.ground();
        let tee = ground.tees.iter().position(|t| t.name == hole.tee).unwrap_or(usize::MAX);
        let reading = corridor.stand(at, across, tee);
        let origin = hole.origin.unwrap_or_default();
        let mut dangers: Vec<DangerLine> = Vec::new();
        for danger in &reading.dangers {
            let Some(feature) = ground.features.get(danger.feature) else { continue };
            let (lies, clear) = lies_words(danger.lies, units);
            let letter = hole.marks.iter().find(|(i, _)| *i == danger.feature).map(|(_, c)| *c);
            // A player speaks of one thing once: its pieces on one side with less than a short shot between them are one.
            if let Some(line) =
                dangers.iter_mut().rev().find(|l| l.name == feature.name && l.letter == letter && l.lies == lies)
                && danger.reach.straight - line.carry < ONE_THING
            {
                line.carry = line.carry.max(danger.carry.straight);
                continue;
            }
            dangers.push(DangerLine {
                feature: danger.feature,
                letter,
                name: feature.name.clone(),
                surface: danger.surface,
                lies,
                reach: danger.reach.straight,
                carry: danger.carry.straight,
                along: (danger.reach.differs() || danger.carry.differs())
                    .then_some((danger.reach.along, danger.carry.along)),
                clear,
            });
        }
        Self {
            on_tee,
            tee: hole.tee.clone(),
            from_tee: reading.from_tee,
            across,
            point: reading.point,
            surface: reading.lie,
            green: reading.green,
            fairway: reading.fairway.map(|f| FairwayHere { left: f.left, right: f.right, width: f.width() }),
            pinch: reading.pinch.map(|(f, _)| (f.width(), origin.from_tee(f.at))),
            dangers,
            tees: ground
                .tees
                .iter()
                .zip(&reading.tees)
                .filter(|(t, d)| !(on_tee && t.name == hole.tee) && d.straight > 0.5)
                .map(|(t, d)| (t.name.clone(), *d))
                .collect(),
            why_not: None,
        }
    }
}

/// Pieces of one danger nearer to one another than this are spoken of as one, yards.
const ONE_THING: f64 = 40.0;

/// Where a danger lies and which side of it is clear, in words.
fn lies_words(lies: Lies, units: LengthUnit) -> (&'static str, String) {
    let show = |yards: f64| Length::yards(yards).show(units);
    match lies {
        Lies::Beside { side, room } => {
            let (here, clear) = match side {
                Side::Left => ("left", "right"),
                Side::Right => ("right", "left"),
            };
            (here, format!("{clear}, {}", show(room)))
        }
        Lies::Across { around: Some((side, room)) } => {
            let side = match side {
                Side::Left => "left",
                Side::Right => "right",
            };
            ("across", format!("{side}, {} aside", show(room)))
        }
        Lies::Across { around: None } => ("across", "none: carry it".to_owned()),
    }
}
