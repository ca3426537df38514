//! Hatches and stipples cut to shapes: what tells grounds apart where there is no colour.

use super::page::{Frame, Ink, Item, Step, Stroke};
use crate::ground::Surface;

/// A ring of page points.
pub type Ring = Vec<(f32, f32)>;

/// How a kind of ground looks on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Its tint.
    pub tint: Ink,
    /// What is drawn over the tint.
    pub pattern: Pattern,
    /// Its edge.
    pub edge: Option<Stroke>,
}

/// What is drawn over a tint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pattern {
    /// Nothing.
    Plain,
    /// Parallel lines: degrees (0, 45 or -45), gap, width.
    Lines(f32, f32, f32, Ink),
    /// Dots in a staggered grid: gap, size.
    Dots(f32, f32, Ink),
    /// Short upright strokes in a staggered grid: gap, height.
    Tufts(f32, f32, Ink),
}

/// How a kind of ground looks. No two share both pattern and edge.
pub const fn look(surface: Surface) -> Look {
    const LINE: Ink = Ink(60, 60, 60);
    match surface {
        Surface::Fairway => Look {
            tint: Ink(233, 241, 224),
            pattern: Pattern::Plain,
            edge: Some(Stroke::solid(Ink(150, 165, 135), 0.4)),
        },
        Surface::Tee => {
            Look { tint: Ink(220, 233, 208), pattern: Pattern::Plain, edge: Some(Stroke::solid(LINE, 0.4)) }
        }
        Surface::Green => {
            Look { tint: Ink(200, 224, 184), pattern: Pattern::Plain, edge: Some(Stroke::solid(Ink::BLACK, 0.8)) }
        }
        Surface::Fringe => Look {
            tint: Ink(220, 234, 208),
            pattern: Pattern::Plain,
            edge: Some(Stroke::dashed(Ink(120, 135, 105), 0.35, 1.2, 1.0)),
        },
        Surface::Bunker => Look {
            tint: Ink(250, 241, 216),
            pattern: Pattern::Dots(2.1, 0.55, Ink(120, 95, 40)),
            edge: Some(Stroke::solid(Ink(70, 55, 25), 0.6)),
        },
        Surface::PenaltyRed => Look {
            tint: Ink(218, 232, 243),
            pattern: Pattern::Lines(0.0, 2.4, 0.35, Ink(70, 110, 150)),
            edge: Some(Stroke::solid(Ink(170, 40, 40), 0.8)),
        },
        Surface::PenaltyYellow => Look {
            tint: Ink(218, 232, 243),
            pattern: Pattern::Lines(0.0, 2.4, 0.35, Ink(70, 110, 150)),
            edge: Some(Stroke::dashed(Ink(150, 110, 0), 0.9, 3.0, 1.6)),
        },
        Surface::Trees => {
            Look { tint: Ink(226, 232, 222), pattern: Pattern::Dots(5.2, 3.0, Ink(142, 164, 138)), edge: None }
        }
        Surface::Deep => {
            Look { tint: Ink(243, 241, 230), pattern: Pattern::Tufts(3.6, 1.9, Ink(125, 120, 80)), edge: None }
        }
        Surface::Waste => Look {
            tint: Ink(248, 243, 230),
            pattern: Pattern::Dots(4.2, 0.6, Ink(130, 110, 70)),
            edge: Some(Stroke::dashed(Ink(130, 110, 70), 0.4, 1.4, 1.4)),
        },
        Surface::Out => Look {
            tint: Ink(228, 228, 228),
            pattern: Pattern::Lines(45.0, 3.0, 0.45, Ink(120, 120, 120)),
            edge: Some(Stroke::dashed(Ink::BLACK, 0.9, 4.0, 2.0)),
        },
        Surface::Rough => Look { tint: Ink::WHITE, pattern: Pattern::Plain, edge: None },
    }
}

/// A ground of these rings as it is seen in `frame`.
pub fn ground(surface: Surface, rings: &[Ring], frame: &Frame) -> Vec<Item> {
    let look = look(surface);
    let outline = outline(rings);
    let mut items = vec![Item::fill(outline.clone(), look.tint)];
    let stroke = match look.pattern {
        Pattern::Plain => None,
        Pattern::Lines(degrees, gap, width, ink) => {
            Some((lines(rings, frame, degrees, gap), Stroke::solid(ink, width)))
        }
        Pattern::Dots(gap, across, ink) => {
            let steps = spots(rings, frame, gap);
            let steps = steps.into_iter().flat_map(|(x, y)| [Step::Move(x, y), Step::Line(x + 0.01, y)]).collect();
            Some((steps, Stroke::dots(ink, across)))
        }
        Pattern::Tufts(gap, height, ink) => {
            let steps = spots(rings, frame, gap);
            let steps = steps.into_iter().flat_map(|(x, y)| [Step::Move(x, y), Step::Line(x, y - height)]).collect();
            Some((steps, Stroke::solid(ink, 0.4)))
        }
    };
    if let Some((steps, stroke)) = stroke.filter(|(steps, _): &(Vec<Step>, Stroke)| !steps.is_empty()) {
        items.push(Item::line(steps, stroke));
    }
    if let Some(edge) = look.edge {
        items.push(Item::line(outline, edge));
    }
    items
}

/// Rings as a path.
pub fn outline(rings: &[Ring]) -> Vec<Step> {
    let mut steps = Vec::new();
    for ring in rings {
        for (i, &(x, y)) in ring.iter().enumerate() {
            steps.push(if i == 0 { Step::Move(x, y) } else { Step::Line(x, y) });
        }
        if !ring.is_empty() {
            steps.push(Step::Close);
        }
    }
    steps
}

/// Where a row at `y` lies in the shape: pairs of left and right, in order (even-odd).
pub fn row(rings: &[Ring], y: f32) -> Vec<(f32, f32)> {
    let mut crossings: Vec<f32> = Vec::new();
    for ring in rings {
        let next = ring.iter().skip(1).chain(ring.first());
        for (&(ax, ay), &(bx, by)) in ring.iter().zip(next) {
            if (ay <= y) != (by <= y) {
                crossings.push(ax + (y - ay) / (by - ay) * (bx - ax));
            }
        }
    }
    crossings.sort_by(f32::total_cmp);
    crossings.chunks_exact(2).filter_map(|pair| Some((*pair.first()?, *pair.get(1)?))).collect()
}

fn turned((x, y): (f32, f32), degrees: f32) -> (f32, f32) {
    let (sin, cos) = degrees.to_radians().sin_cos();
    (x * cos - y * sin, x * sin + y * cos)
}

/// Parallel lines in a shape, as far as they may be seen in `frame`.
pub fn lines(rings: &[Ring], frame: &Frame, degrees: f32, gap: f32) -> Vec<Step> {
    let back = |p| turned(p, -degrees);
    let lie: Vec<Ring> = rings.iter().map(|r| r.iter().map(|p| turned(*p, degrees)).collect()).collect();
    let corners =
        [(frame.x, frame.y), (frame.right(), frame.y), (frame.x, frame.bottom()), (frame.right(), frame.bottom())]
            .map(|p| turned(p, degrees));
    let span = |axis: fn(&(f32, f32)) -> f32| {
        let low = corners.iter().map(axis).fold(f32::INFINITY, f32::min);
        let high = corners.iter().map(axis).fold(f32::NEG_INFINITY, f32::max);
        (low, high)
    };
    let ((left, right), (top, bottom)) = (span(|p| p.0), span(|p| p.1));
    let within = |axis: fn(&(f32, f32)) -> f32, pick: fn(f32, f32) -> f32, start: f32| {
        lie.iter().flatten().map(axis).fold(start, pick)
    };
    let (low, high) = (within(|p| p.1, f32::min, f32::INFINITY), within(|p| p.1, f32::max, f32::NEG_INFINITY));
    let (first, last) = ((top.max(low) / gap).ceil() as i32, (bottom.min(high) / gap).floor() as i32);
    let mut steps = Vec::new();
    for n in first..=last {
        let y = n as f32 * gap;
        for (from, to) in row(&lie, y) {
            let (from, to) = (from.max(left), to.min(right));
            if to > from {
                let (a, b) = (back((from, y)), back((to, y)));
                steps.extend([Step::Move(a.0, a.1), Step::Line(b.0, b.1)]);
            }
        }
    }
    steps
}

/// A staggered grid of spots in a shape, as far as it may be seen in `frame`; the grid is the page's, so that neighbours agree.
pub fn spots(rings: &[Ring], frame: &Frame, gap: f32) -> Vec<(f32, f32)> {
    let rise = gap * 0.866;
    let low = rings.iter().flatten().map(|p| p.1).fold(f32::INFINITY, f32::min).max(frame.y);
    let high = rings.iter().flatten().map(|p| p.1).fold(f32::NEG_INFINITY, f32::max).min(frame.bottom());
    let mut out = Vec::new();
    for n in (low / rise).ceil() as i32..=(high / rise).floor() as i32 {
        let y = n as f32 * rise;
        let shift = if n % 2 == 0 { 0.0 } else { gap / 2.0 };
        for (from, to) in row(rings, y) {
            let (from, to) = (from.max(frame.x), to.min(frame.right()));
            for k in ((from - shift) / gap).ceil() as i32..=((to - shift) / gap).floor() as i32 {
                out.push((k as f32 * gap + shift, y));
            }
        }
    }
    out
}

#[cfg(test)]
#[allow(clippy::panic)]
mod tests {
    use super::*;

    fn square() -> Vec<Ring> {
        vec![
            vec![(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)],
            vec![(4.0, 4.0), (6.0, 4.0), (6.0, 6.0), (4.0, 6.0)],
        ]
    }

    #[test]
    fn hatches_stay_in_the_shape_and_out_of_its_holes() {
        let frame = Frame::new(-5.0, -5.0, 30.0, 30.0);
        let inside = |x: f32, y: f32| {
            let e = 0.02;
            (-e..=10.0 + e).contains(&x) && (-e..=10.0 + e).contains(&y)
        };
        for degrees in [0.0, 45.0, -45.0] {
            let steps = lines(&square(), &frame, degrees, 1.5);
            assert!(steps.len() > 8);
            for pair in steps.chunks(2) {
                let [Step::Move(ax, ay), Step::Line(bx, by)] = pair else { panic!("{pair:?}") };
                assert!(inside(*ax, *ay) && inside(*bx, *by));
                let (mx, my) = ((ax + bx) / 2.0, (ay + by) / 2.0);
                assert!(!((4.1..5.9).contains(&mx) && (4.1..5.9).contains(&my)), "{mx} {my}");
            }
        }
        for (x, y) in spots(&square(), &frame, 1.0) {
            assert!(inside(x, y));
        }
    }

    #[test]
    fn no_two_grounds_look_alike_without_colour() {
        // What a grey printer keeps: the kind of pattern with its figures, the kind of edge, and tints at least 6 apart.
        let shape = |s: Surface| {
            let look = look(s);
            let pattern = match look.pattern {
                Pattern::Plain => "plain".to_owned(),
                Pattern::Lines(a, b, c, _) => format!("lines {a} {b} {c}"),
                Pattern::Dots(a, b, _) => format!("dots {a} {b}"),
                Pattern::Tufts(a, b, _) => format!("tufts {a} {b}"),
            };
            let edge = look.edge.map(|e| (e.width > 0.5, e.dash.is_some()));
            (pattern, edge, look.tint.grey())
        };
        for (i, a) in Surface::ALL.iter().enumerate() {
            for b in Surface::ALL.iter().skip(i + 1) {
                let (x, y) = (shape(*a), shape(*b));
                let alike = x.0 == y.0 && x.1 == y.1 && x.2.abs_diff(y.2) < 6;
                assert!(!alike, "{a:?} {b:?}");
            }
        }
    }
}
