//! The hole cut across at every yard of its line: where each danger begins and ends, how wide the fairway is.
//!
//! Made once when the ground changes; every reading of a stand is then a walk through it.

use super::hole::Ground;
use super::line::HoleLine;
use super::section::{Knife, Span, cut_out};
use super::surface::Surface;
use crate::units::{Across, Along};

/// How far to each side of the line the hole is looked at, yards.
pub const SIDE: f64 = 120.0;

/// How far behind the start and past the green it is looked at, yards.
pub const ENDS: f64 = 60.0;

/// One cut: what is seen at a place of the line, nothing hidden by what lies over it.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// The place along the line.
    pub at: Along,
    /// What is seen, from left to right; between the spans lies rough.
    pub spans: Vec<Span>,
}

/// A connected piece of a danger as it is seen along the hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Which feature, by index.
    pub feature: usize,
    /// What it is.
    pub surface: Surface,
    /// Where it begins along the line.
    pub from: Along,
    /// Where it ends.
    pub to: Along,
    /// Its left and right edges at each cut, in order along the line; several at one place where it has arms.
    pub slices: Vec<Slice>,
}

/// A part of ground at one cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slice {
    /// The place along the line.
    pub at: f64,
    /// Its left edge across the line.
    pub left: f64,
    /// Its right edge.
    pub right: f64,
}

/// The fairway between its edges at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fairway {
    /// Where along the line.
    pub at: Along,
    /// Its left edge.
    pub left: Across,
    /// Its right edge.
    pub right: Across,
}

impl Fairway {
    /// Its width, yards.
    pub fn width(&self) -> f64 {
        self.right.0 - self.left.0
    }
}

/// The hole cut across at every yard of its line.
#[derive(Clone, Debug)]
pub struct Corridor {
    ground: Ground,
    line: HoleLine,
    knife: Knife,
    sections: Vec<Section>,
    parts: Vec<Part>,
}

impl Corridor {
    /// Cuts this ground.
    pub fn new(ground: &Ground) -> Self {
        let mut corridor = Self {
            line: ground.line(),
            knife: Knife::new(ground),
            ground: ground.clone(),
            sections: Vec::new(),
            parts: Vec::new(),
        };
        let mut spans = Vec::new();
        corridor.sections = corridor
            .places()
            .into_iter()
            .map(|at| Section { at: Along(at), spans: corridor.seen_at(at, &mut spans) })
            .collect();
        corridor.parts = corridor.find_parts();
        corridor
    }

    /// The ground that was cut.
    pub const fn ground(&self) -> &Ground {
        &self.ground
    }

    /// Its line.
    pub const fn line(&self) -> &HoleLine {
        &self.line
    }

    /// Every cut, in order along the line.
    pub fn sections(&self) -> &[Section] {
        &self.sections
    }

    /// The connected pieces of every danger, in the order of the notebook's features and then along the line.
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// What is seen across the line at a place, cut there exactly.
    pub fn section_at(&self, at: Along) -> Section {
        Section { at, spans: self.seen_at(at.0, &mut Vec::new()) }
    }

    /// The fairway at a place: the stretch that holds `across`, else the nearest one; `None` where there is none.
    pub fn fairway_at(&self, at: Along, across: Across) -> Option<Fairway> {
        nearest_fairway(&self.section_at(at), across.0)
    }

    /// Where the fairway is narrower than before and after by at least `less` yards, along the line.
    pub fn pinches(&self, less: f64) -> Vec<Fairway> {
        let mut found = Vec::new();
        let widths: Vec<Option<Fairway>> = self.sections.iter().map(|s| nearest_fairway(s, 0.0)).collect();
        for stretch in widths.split(Option::is_none) {
            let stretch: Vec<Fairway> = stretch.iter().flatten().copied().collect();
            let mut widest_before = 0.0f64;
            let mut narrowest: Option<Fairway> = None;
            for fairway in stretch {
                let width = fairway.width();
                match narrowest {
                    Some(pinch) if width >= pinch.width() + less => {
                        found.push(pinch);
                        narrowest = None;
                        widest_before = width;
                    }
                    Some(pinch) if width < pinch.width() => narrowest = Some(fairway),
                    None if width <= widest_before - less => narrowest = Some(fairway),
                    _ => widest_before = widest_before.max(width),
                }
            }
        }
        found
    }

    /// Every yard from behind the tees to past the green, and the middle of what lies between two of them.
    fn places(&self) -> Vec<f64> {
        let length = self.line.length().0;
        let tees = self.ground.tees.iter().map(|tee| tee.at.0);
        let from = (tees.fold(0.0, f64::min) - ENDS).max(-super::shapes::FARTHEST).floor();
        let past = self.ground.green.as_ref().map_or(0.0, |green| green.depth / 2.0);
        let to = (length + past + ENDS).min(2.0 * super::shapes::FARTHEST).ceil();
        let mut places: Vec<f64> = (0..=(to - from) as i32).map(|i| from + f64::from(i)).collect();
        let dangers = self.ground.features.iter().filter(|f| f.surface.is_danger());
        for shape in dangers.flat_map(|f| &f.shapes) {
            let bounds = shape.bounds();
            if (bounds.right - bounds.left).min(bounds.far - bounds.near) >= 2.0 && self.line.is_straight() {
                continue;
            }
            let along: Vec<f64> = shape.outer.iter().map(|p| self.line.locate(*p).0.0).collect();
            let near = along.iter().copied().fold(f64::INFINITY, f64::min);
            let far = along.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            if far - near < 1.5 && near > from && far < to {
                places.push((near + far) / 2.0);
            }
        }
        places.sort_by(f64::total_cmp);
        places.dedup();
        places
    }

    /// How far the ground of a place reaches to both sides.
    pub(crate) fn ends(&self, at: f64) -> (f64, f64) {
        let side = |sign: f64| {
            let far = self.line.place(Along(at), Across(sign * SIDE));
            if self.line.is_straight() || self.line.locate(far).1.0.abs() > SIDE - 1e-6 {
                sign * SIDE
            } else {
                sign * self.line.reach(Along(at), sign).abs().min(SIDE)
            }
        };
        (side(-1.0), side(1.0))
    }

    fn seen_at(&self, at: f64, spans: &mut Vec<Span>) -> Vec<Span> {
        let (place, ahead) = self.line.at(Along(at));
        self.knife.cut(place, ahead.to_the_right(), self.ends(at), spans);
        seen(spans)
    }

    fn find_parts(&self) -> Vec<Part> {
        let mut parts: Vec<Part> = Vec::new();
        for (index, feature) in self.ground.features.iter().enumerate() {
            if !feature.surface.is_danger() {
                continue;
            }
            let mut threads: Vec<Vec<Slice>> = Vec::new();
            // Threads that reach the last cut, by index.
            let mut open: Vec<usize> = Vec::new();
            for section in &self.sections {
                let here: Vec<Slice> = section
                    .spans
                    .iter()
                    .filter(|span| span.feature == Some(index))
                    .map(|span| Slice { at: section.at.0, left: span.left, right: span.right })
                    .collect();
                open = join(&mut threads, &open, &here);
            }
            threads.retain(|thread| !thread.is_empty());
            threads.sort_by(|a, b| first(a).total_cmp(&first(b)));
            parts.extend(threads.into_iter().map(|mut slices| {
                slices.sort_by(|a, b| a.at.total_cmp(&b.at).then(a.left.total_cmp(&b.left)));
                self.part(index, feature.surface, slices)
            }));
        }
        parts
    }

    /// Finds the ends of a part between the cuts.
    fn part(&self, feature: usize, surface: Surface, slices: Vec<Slice>) -> Part {
        let mut spans = Vec::new();
        let mut end = |slice: &Slice, step: f64| {
            edge_between(slice.at, slice.at + step, |middle| {
                let there = |span: &Span| {
                    span.feature == Some(feature) && span.left <= slice.right + 3.0 && span.right >= slice.left - 3.0
                };
                self.seen_at(middle, &mut spans).iter().any(there)
            })
        };
        let (first, last) = (slices.first().map_or(0.0, |s| s.at), slices.last().map_or(0.0, |s| s.at));
        let from = slices.iter().take_while(|s| s.at == first).map(|s| end(s, -1.0)).fold(first, f64::min);
        let to = slices.iter().rev().take_while(|s| s.at == last).map(|s| end(s, 1.0)).fold(last, f64::max);
        Part { feature, surface, from: Along(from), to: Along(to), slices }
    }
}

/// The edge of something that is there at `inside` and not at `outside`. Ground drawn from a whole yard begins at it.
pub(crate) fn edge_between(mut inside: f64, mut outside: f64, mut there: impl FnMut(f64) -> bool) -> f64 {
    let whole = [inside, outside];
    for _ in 0..10 {
        let middle = (inside + outside) / 2.0;
        if there(middle) {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    let middle = (inside + outside) / 2.0;
    whole.into_iter().find(|end| (end - middle).abs() < 0.002).unwrap_or(middle)
}

fn first(slices: &[Slice]) -> f64 {
    slices.iter().map(|slice| slice.at).fold(f64::INFINITY, f64::min)
}

/// Adds the slices of one cut to the threads they touch; the threads that reach this cut.
fn join(threads: &mut Vec<Vec<Slice>>, open: &[usize], here: &[Slice]) -> Vec<usize> {
    let mut now: Vec<usize> = Vec::new();
    let last: Vec<(usize, Vec<Slice>)> = open
        .iter()
        .filter_map(|&index| {
            let thread = threads.get(index)?;
            let at = thread.last()?.at;
            Some((index, thread.iter().rev().take_while(|s| s.at == at).copied().collect()))
        })
        .collect();
    // Where threads have run together, an earlier index stands for the later one.
    let mut stands_for: Vec<usize> = (0..threads.len()).collect();
    for &slice in here {
        let touching: Vec<usize> = last
            .iter()
            .filter(|(_, slices)| slices.iter().any(|s| s.left <= slice.right && slice.left <= s.right))
            .filter_map(|(index, _)| stands_for.get(*index).copied())
            .collect();
        let Some(&home) = touching.iter().min() else {
            threads.push(vec![slice]);
            stands_for.push(threads.len() - 1);
            now.push(threads.len() - 1);
            continue;
        };
        for &other in touching.iter().filter(|&&other| other != home) {
            let moved = threads.get_mut(other).map(std::mem::take).unwrap_or_default();
            if let Some(thread) = threads.get_mut(home) {
                thread.extend(moved);
                // The newest cut must stay last, because the next cut looks there.
                thread.sort_by(|a, b| a.at.total_cmp(&b.at));
            }
            for stand in stands_for.iter_mut().filter(|stand| **stand == other) {
                *stand = home;
            }
            now.retain(|index| *index != other);
        }
        if let Some(thread) = threads.get_mut(home) {
            thread.push(slice);
        }
        now.push(home);
    }
    now.sort_unstable();
    now.dedup();
    now
}

/// What is seen of spans that overlap, from left to right.
pub(crate) fn seen(spans: &[Span]) -> Vec<Span> {
    let mut taken: Vec<(f64, f64)> = Vec::with_capacity(spans.len());
    let mut seen: Vec<Span> = Vec::with_capacity(spans.len());
    for span in spans {
        let mut pieces = vec![(span.left, span.right)];
        for &(from, to) in &taken {
            cut_out(&mut pieces, from, to);
        }
        if !pieces.is_empty() {
            taken.push((span.left, span.right));
        }
        seen.extend(pieces.into_iter().map(|(left, right)| Span { left, right, ..*span }));
    }
    seen.sort_by(|a, b| a.left.total_cmp(&b.left));
    seen
}

/// The fairway of a cut that holds `across`, else the nearest.
pub(crate) fn nearest_fairway(section: &Section, across: f64) -> Option<Fairway> {
    let mut whole: Vec<Fairway> = Vec::new();
    for span in section.spans.iter().filter(|span| span.surface == Surface::Fairway) {
        match whole.last_mut() {
            // Two fairways drawn side by side are one.
            Some(last) if span.left - last.right.0 < 1e-6 => last.right = Across(span.right),
            _ => whole.push(Fairway { at: section.at, left: Across(span.left), right: Across(span.right) }),
        }
    }
    let away = |fairway: &Fairway| (fairway.left.0 - across).max(across - fairway.right.0).max(0.0);
    whole
        .into_iter()
        .filter(|fairway| fairway.width() > 0.0)
        .min_by(|a, b| away(a).total_cmp(&away(b)).then(b.width().total_cmp(&a.width())))
}
