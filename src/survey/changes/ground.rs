//! Pieces of ground of two editions of a hole: which is which, and how each moved.

use super::{Of, Said};
use crate::course::Hole;
use crate::ground::{Feature, Ground, HoleLine, Putting};
use crate::units::{Across, Length, LengthUnit};

/// Two pieces of one kind whose middles lie no farther apart are the same piece, yards.
const SAME: f64 = 25.0;

/// Which piece of the old ground is which of the new.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Pieces {
    /// Places in the two lists of features.
    pub both: Vec<(usize, usize)>,
    /// Those that are gone.
    pub gone: Vec<usize>,
    /// Those that are new.
    pub fresh: Vec<usize>,
}

/// Pairs the pieces of two grounds: by a name that a person gave, then by kind and place, the nearest first.
pub fn pieces(old: &Ground, new: &Ground) -> Pieces {
    let mut left: Vec<usize> = (0..old.features.len()).collect();
    let mut right: Vec<usize> = (0..new.features.len()).collect();
    let mut both = Vec::new();
    let at = |ground: &Ground, index: usize| ground.features.get(index).cloned();
    for pass in 0..2 {
        let mut near: Vec<(f64, usize, usize)> = Vec::new();
        for (a, b) in left.iter().flat_map(|a| right.iter().map(move |b| (*a, *b))) {
            let (Some(one), Some(other)) = (at(old, a), at(new, b)) else { continue };
            let kin = one.surface == other.surface || is_penalty(&one) && is_penalty(&other);
            let named = one.named && other.named && one.name.eq_ignore_ascii_case(&other.name);
            let away = super::super::flip::middle(&one).distance(super::super::flip::middle(&other));
            if kin && (named || pass == 1 && away <= SAME) {
                near.push((away, a, b));
            }
        }
        near.sort_by(|x, y| x.0.total_cmp(&y.0).then(x.1.cmp(&y.1)).then(x.2.cmp(&y.2)));
        for (_, a, b) in near {
            if left.contains(&a) && right.contains(&b) {
                left.retain(|i| *i != a);
                right.retain(|i| *i != b);
                both.push((a, b));
            }
        }
    }
    both.sort_by_key(|(_, b)| *b);
    Pieces { both, gone: left, fresh: right }
}

fn is_penalty(piece: &Feature) -> bool {
    use crate::ground::Surface;
    matches!(piece.surface, Surface::PenaltyRed | Surface::PenaltyYellow)
}

/// From where to where a piece lies along the line, and across it.
#[derive(Clone, Copy, Debug)]
struct Extent {
    from: f64,
    to: f64,
    left: f64,
    right: f64,
}

fn extent(piece: &Feature, line: &HoleLine) -> Extent {
    let mut e = Extent { from: f64::INFINITY, to: f64::NEG_INFINITY, left: f64::INFINITY, right: f64::NEG_INFINITY };
    for point in piece.shapes.iter().flat_map(|s| &s.outer) {
        let (at, across) = line.locate(*point);
        (e.from, e.to) = (e.from.min(at.0), e.to.max(at.0));
        (e.left, e.right) = (e.left.min(across.0), e.right.max(across.0));
    }
    e
}

/// Where a piece lies, as `238 to 256, 13L..27L`.
pub fn extent_words(piece: &Feature, line: &HoleLine, unit: LengthUnit) -> String {
    words(extent(piece, line), unit)
}

fn words(e: Extent, unit: LengthUnit) -> String {
    let show = |yards: f64| Length::yards(yards).show(unit);
    let side = |yards: f64| Across(yards).show(unit);
    format!("{} to {}, {}..{}", show(e.from), show(e.to), side(e.left), side(e.right))
}

/// What changed of the ground of a hole.
pub(super) fn compare(said: &mut Said<'_>, old: &Hole, new: &Hole) {
    let (before, now) = (old.ground.line(), new.ground.line());
    let pairs = pieces(&old.ground, &new.ground);
    for (a, b) in &pairs.both {
        if let (Some(a), Some(b)) = (old.ground.features.get(*a), new.ground.features.get(*b)) {
            piece(said, (a, extent(a, &before)), (b, extent(b, &now)));
        }
    }
    for b in pairs.fresh.iter().filter_map(|i| new.ground.features.get(*i)) {
        said.push(Of::Ground, format!("new: {}, {}", called(b), words(extent(b, &now), said.unit)));
    }
    for a in pairs.gone.iter().filter_map(|i| old.ground.features.get(*i)) {
        said.push(Of::Ground, format!("gone: {}, which lay {}", called(a), words(extent(a, &before), said.unit)));
    }
    match (&old.ground.green, &new.ground.green) {
        (Some(a), Some(b)) => green(said, a, b),
        (None, Some(_)) => said.push(Of::Green, "the green is drawn now"),
        (Some(_), None) => said.push(Of::Green, "the green is not drawn any more"),
        (None, None) => {}
    }
}

fn called(piece: &Feature) -> String {
    if piece.named { format!("{} ({})", piece.name, piece.surface.word()) } else { piece.name.clone() }
}

fn piece(said: &mut Said<'_>, (old, was): (&Feature, Extent), (new, is): (&Feature, Extent)) {
    if old.named && new.named && !old.name.eq_ignore_ascii_case(&new.name) {
        said.push(Of::Ground, format!("{} is called {} now", old.name, new.name));
    } else if new.named && !old.named {
        said.push(Of::Ground, format!("the {} is called {} now", old.name, new.name));
    }
    if old.surface != new.surface {
        said.push(Of::Ground, format!("{}: {} → {}", new.name, old.surface.word(), new.surface.word()));
    }
    if old.face != new.face {
        let show = |f| format!("{f:?}").to_lowercase();
        said.push(Of::Ground, format!("{}: its face is {} → {}", new.name, show(old.face), show(new.face)));
    }
    let (near, far) = (said.more(was.from, is.from), said.more(was.to, is.to));
    let (left, right) = (said.more(was.left, is.left), said.more(was.right, is.right));
    let mut how: Vec<String> = Vec::new();
    match (&near, &far) {
        (Some((a, figure)), Some((b, _))) if a == b => {
            how.push(format!("{figure} {}", if *a > 0.0 { "farther" } else { "nearer" }));
        }
        _ => {
            if let Some((by, figure)) = near {
                how.push(format!("begins {figure} {}", if by > 0.0 { "later" } else { "sooner" }));
            }
            if let Some((by, figure)) = far {
                how.push(format!("{figure} {} to carry", if by > 0.0 { "more" } else { "less" }));
            }
        }
    }
    match (&left, &right) {
        (Some((a, figure)), Some((b, _))) if a == b => {
            how.push(format!("{figure} to the {}", if *a > 0.0 { "right" } else { "left" }));
        }
        _ => {
            if let Some((by, figure)) = left {
                how.push(format!("its left edge {figure} to the {}", if by > 0.0 { "right" } else { "left" }));
            }
            if let Some((by, figure)) = right {
                how.push(format!("its right edge {figure} to the {}", if by > 0.0 { "right" } else { "left" }));
            }
        }
    }
    if how.is_empty() {
        let area = |f: &Feature| f.shapes.iter().map(crate::ground::Polygon::area).sum::<f64>();
        let (a, b) = (area(old), area(new));
        if (b - a).abs() > 0.1 * a.max(b) && (b - a).abs() > 5.0 {
            let word = if b > a { "larger" } else { "smaller" };
            how.push(format!("{:.0} % {word}", (b - a).abs() / a.max(1.0) * 100.0));
        }
    }
    if !how.is_empty() {
        let unit = said.unit;
        let words = format!("{}: {} ({} → {})", new.name, how.join(", "), words(was, unit), words(is, unit));
        said.push(Of::Ground, words);
    }
}

fn green(said: &mut Said<'_>, old: &Putting, new: &Putting) {
    if let Some((by, figure)) = said.more(old.front.0, new.front.0) {
        let word = if by > 0.0 { "farther" } else { "nearer" };
        let words = format!("its front is {figure} {word} ({} → {})", said.show(old.front.0), said.show(new.front.0));
        said.push(Of::Green, words);
    }
    for (what, a, b) in [("deep", old.depth, new.depth), ("wide", old.width, new.width)] {
        if said.more(a, b).is_some() {
            said.push(Of::Green, format!("it is {} → {} {what}", said.show(a), said.show(b)));
        }
    }
    let falls = |g: &Putting| {
        g.falls.map_or("unknown".to_owned(), |(percent, towards)| {
            let hour = libm::fmod(libm::round((towards - g.axis_deg) / 30.0) + 24.0, 12.0);
            format!("{percent} % towards {}", if hour == 0.0 { 12.0 } else { hour })
        })
    };
    let (a, b) = (falls(old), falls(new));
    if a != b {
        said.push(Of::Green, format!("it falls {a} → {b}"));
    }
}
