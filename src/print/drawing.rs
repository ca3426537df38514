//! What is drawn of a hole, in yards of its plane and words of one player's unit: nothing is worked out after this.

use crate::course::{Hole, HoleNotes};
use crate::ground::{Corridor, Point, Polygon, Surface};
use crate::plan::{HolePlan, Play};
use crate::sheet::{HoleSheet, StandSheet, Standing};
use crate::units::{Across, Along, Length, LengthUnit};

/// Distances are marked at every so many units.
const EVERY: f64 = 50.0;
/// A ring nearer to the tee than this says nothing, yards.
const NEAR_TEE: f64 = 45.0;
/// Straight reaches and carries are written beside dangers shorter than this along the hole, yards.
const SHORT: f64 = 70.0;

/// One piece of ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// What it is.
    pub surface: Surface,
    /// Its outlines.
    pub polygons: Vec<Polygon>,
    /// The letter it shares with the text.
    pub letter: Option<char>,
    /// Reach and carry from the tee, as `211-229`; empty where they are not written into the drawing.
    pub figures: String,
}

/// Distances to the green from a place of the hole line.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// Yards to the middle.
    pub radius: f64,
    /// Where it crosses the hole line.
    pub spot: Point,
    /// To the front, as figures.
    pub front: String,
    /// To the middle.
    pub middle: String,
    /// To the back.
    pub back: String,
}

/// A place to leave the next shot from.
#[derive(Clone, Debug, PartialEq)]
pub struct Leave {
    /// The left end of its bar.
    pub left: Point,
    /// The right end.
    pub right: Point,
    /// What is left from it.
    pub words: String,
}

/// A hole as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// The player's tee.
    pub tee: Point,
    /// The middle of the green; the end of the line where there is none.
    pub middle: Point,
    /// Every tee of the hole.
    pub tees: Vec<Point>,
    /// Ground, what wins last.
    pub shapes: Vec<Shape>,
    /// The outline of the green.
    pub green: Option<Polygon>,
    /// The green is not drawn, only its place is marked: the page is larger than Rule 4.3a allows for images of greens.
    pub green_left_out: bool,
    /// Where the hole is cut today, when it is known.
    pub pin: Option<Point>,
    /// The hole line from the tee on.
    pub line: Vec<Point>,
    /// Distances to the green.
    pub rings: Vec<Ring>,
    /// Distances from the tee: yards and figure.
    pub from_tee: Vec<(f64, String)>,
    /// Where the shots of the recommended play finish, the tee first.
    pub steady: Vec<Point>,
    /// The same of the bold play, where its first shot is another.
    pub bold: Vec<Point>,
    /// Lay-up ground of the notes.
    pub leaves: Vec<Leave>,
    /// Where today's wind blows to, degrees clockwise from `ahead`, and its speed in words.
    pub wind: Option<(f64, String)>,
}

/// What a drawing is made from.
pub struct Wants<'a> {
    /// The hole.
    pub hole: &'a Hole,
    /// What applies to this player.
    pub sheet: &'a HoleSheet,
    /// What is written about the hole, layers laid over.
    pub notes: &'a HoleNotes,
    /// The hole cut across.
    pub corridor: &'a Corridor,
    /// What the tee answers.
    pub stand: &'a StandSheet,
    /// The plan.
    pub plan: Option<&'a HolePlan>,
    /// Where the hole is cut.
    pub pin: Option<Point>,
    /// The wind on this day: the compass direction it comes from and its words.
    pub wind: Option<(f64, String)>,
    /// The unit figures are written in.
    pub units: LengthUnit,
    /// See [`Drawing::green_left_out`].
    pub green_left_out: bool,
}

impl Drawing {
    /// What is drawn of a hole for one player.
    pub fn new(wants: &Wants<'_>) -> Self {
        let ground = &wants.hole.ground;
        let line = wants.corridor.line();
        let origin = wants.sheet.origin.unwrap_or_default();
        let middle = ground.green.as_ref().map_or_else(|| line.place(line.length(), Across(0.0)), |g| g.middle);
        let tee = wants.stand.point;
        let mut shapes: Vec<Shape> = ground
            .features
            .iter()
            .enumerate()
            .map(|(index, feature)| Shape {
                surface: feature.surface,
                polygons: feature.shapes.clone(),
                letter: wants.sheet.marks.iter().find(|(i, _)| *i == index).map(|(_, letter)| *letter),
                figures: figures(wants.stand, index, wants.units),
            })
            .collect();
        shapes.extend(ground.green.iter().map(|green| Shape {
            surface: Surface::Green,
            polygons: vec![green.outline.clone()],
            letter: None,
            figures: String::new(),
        }));
        if wants.green_left_out {
            shapes.retain(|s| !matches!(s.surface, Surface::Green | Surface::Fringe));
        }
        // What wins where shapes overlap is drawn last.
        shapes.sort_by_key(|shape| std::cmp::Reverse(shape.surface));
        let whole = tee.distance(middle);
        let step = Length::new(EVERY, wants.units).as_yards();
        let count = ((whole - NEAR_TEE) / step).floor().max(0.0) as usize;
        let rings = (1..=count.min(6)).filter_map(|n| ring(wants, middle, n as f64 * step)).collect();
        let from_tee = (3..=count.min(8))
            .map(|n| n as f64 * step)
            .filter(|radius| *radius < whole - NEAR_TEE)
            .map(|radius| (radius, Length::yards(radius).show(wants.units)))
            .collect();
        let start = origin.0.0;
        let end = line.length().0;
        let mut way = vec![tee];
        let steps = ((end - start) / 10.0).ceil().max(1.0) as usize;
        way.extend((1..=steps).map(|i| {
            let at = start + (end - start) * i as f64 / steps as f64;
            line.place(Along(at), Across(0.0))
        }));
        let place = |play: &Play| {
            let finishes = play.shots.iter().map(|shot| line.place(origin.along(shot.at), shot.across));
            std::iter::once(tee).chain(finishes).collect::<Vec<Point>>()
        };
        let plays = wants.plan.map(|p| p.plays.as_slice()).unwrap_or_default();
        let steady = plays.first().map(place).unwrap_or_default();
        let bold = plays
            .get(1)
            .map(place)
            .filter(|b| b.get(1).zip(steady.get(1)).is_some_and(|(b, s)| b.distance(*s) >= 4.0))
            .unwrap_or_default();
        let wind = wants.wind.clone().and_then(|(from, words)| {
            let bearing = wants.hole.bearing?;
            Some((from + 180.0 - bearing, words))
        });
        Self {
            tee,
            middle,
            tees: ground.tees.iter().map(|t| t.point).collect(),
            shapes,
            green: ground.green.as_ref().map(|g| g.outline.clone()),
            green_left_out: wants.green_left_out,
            pin: wants.pin,
            line: way,
            rings,
            from_tee,
            steady,
            bold,
            leaves: leaves(wants, middle),
            wind,
        }
    }

    /// The direction from the tee to the green, of length one.
    pub fn up(&self) -> Point {
        let way = self.middle - self.tee;
        if way.length() < 1.0 { Point::new(0.0, 1.0) } else { way.unit() }
    }
}

/// Reach and carry of a danger, where it is short enough for two figures to tell.
fn figures(stand: &StandSheet, feature: usize, units: LengthUnit) -> String {
    let mut found = stand.dangers.iter().filter(|d| d.feature == feature);
    match (found.next(), found.next()) {
        (Some(one), None) if one.carry - one.reach < SHORT && one.carry > 20.0 => {
            format!("{}–{}", Length::yards(one.reach).show(units), Length::yards(one.carry).show(units))
        }
        _ => String::new(),
    }
}

/// The place of the hole line from which the middle of the green is so far, and what it reads there.
fn ring(wants: &Wants<'_>, middle: Point, radius: f64) -> Option<Ring> {
    let line = wants.corridor.line();
    let (mut near, mut far) = (wants.sheet.origin.unwrap_or_default().0.0, line.length().0);
    let left = |at: f64| line.place(Along(at), Across(0.0)).distance(middle);
    for _ in 0..24 {
        let half = (near + far) / 2.0;
        if left(half) > radius { near = half } else { far = half }
    }
    let tee = wants.hole.ground.tees.iter().position(|t| t.name == wants.sheet.tee).unwrap_or(usize::MAX);
    let green = wants.corridor.stand(Along(near), Across(0.0), tee).green?;
    let show = |yards: f64| Length::yards(yards).show(wants.units);
    Some(Ring {
        radius,
        spot: line.place(Along(near), Across(0.0)),
        front: show(green.front.straight),
        middle: show(radius),
        back: show(green.back.straight),
    })
}

fn leaves(wants: &Wants<'_>, middle: Point) -> Vec<Leave> {
    let line = wants.corridor.line();
    let shown: Vec<&str> = wants
        .sheet
        .lines
        .iter()
        .filter(|l| l.kind == crate::sheet::NoteKind::Leave && !matches!(l.standing, Standing::Not(_)))
        .map(|l| l.words.as_str())
        .collect();
    let mut out = Vec::new();
    for layup in &wants.notes.layups {
        // Only what this player is shown is drawn.
        if !shown.iter().any(|words| layup.written.text.as_deref().is_none_or(|t| words.contains(t.trim()))) {
            continue;
        }
        let at = match (layup.to_middle, layup.at) {
            (Some(left), _) => line.length().0 - left,
            (None, Some(at)) => at.0,
            (None, None) => continue,
        };
        let fairway = wants.corridor.fairway_at(Along(at), layup.across.unwrap_or_default());
        let (left, right) = match (layup.across, fairway) {
            (Some(across), _) => (across.0 - 7.0, across.0 + 7.0),
            (None, Some(fairway)) => (fairway.left.0, fairway.right.0),
            (None, None) => (-10.0, 10.0),
        };
        let spot = line.place(Along(at), Across((left + right) / 2.0));
        out.push(Leave {
            left: line.place(Along(at), Across(left)),
            right: line.place(Along(at), Across(right)),
            words: format!(
                "leave {}",
                Length::yards(layup.to_middle.unwrap_or_else(|| spot.distance(middle))).show(wants.units)
            ),
        });
    }
    out
}
