//! The Draw page: the hole as it is drawn, the line being typed, the shapes with the picked one and its edge.

use super::layout::{self, Shape};
use super::paint;
use super::ribbon::{self, Sign, SignWeight};
use crate::course::write::edges::place;
use crate::ground::Surface;
use crate::tui::state::{Entry, EntryFor, Picked, Sketched, State};
use crate::tui::update::draw::{entry_hint, shape_line};
use crate::units::{Across, Along};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

/// Columns and rows of the drawing.
pub fn cells(state: &State) -> (u16, u16) {
    let area = Rect::new(0, 0, state.size.0, state.size.1);
    let Some(shape) = layout::shape(area) else { return (0, 0) };
    let ribbon = layout::hole(area, shape, false).ribbon;
    (ribbon.width, ribbon.height)
}

fn head(state: &State) -> Line<'static> {
    let looks = state.looks;
    let between = looks.between();
    let Some(hole) = state.current_hole() else { return Line::styled("Draw", looks.heading()) };
    let count = state.draw_count();
    let from = if state.draw().is_some_and(|d| d.from_tee) {
        let tee = state.derived.hole.as_ref().map(|h| h.tee.clone()).unwrap_or_default();
        format!("counted from the {tee} tee")
    } else {
        format!("counted from the {} tee, where the line starts", hole.line_from)
    };
    let length = crate::course::write::notation::length(hole.ground.length.0, count.unit);
    let name = hole.name.clone().map(|n| format!(" {n}")).unwrap_or_default();
    let words = format!("{between}{}{name}{between}{length} {}{between}{from}", hole.number, count.unit.word());
    Line::from(vec![Span::styled("Draw", looks.heading()), Span::styled(words, looks.quiet())])
}

/// What a line is typed for.
fn entry_label(entry: &Entry) -> &'static str {
    match entry.what {
        EntryFor::Piece(surface) => match surface {
            Surface::Fairway => "fairway",
            Surface::Bunker => "bunker",
            Surface::PenaltyRed | Surface::PenaltyYellow => "penalty area",
            Surface::Trees => "trees",
            Surface::Out => "out of bounds",
            Surface::Deep => "long grass",
            Surface::Waste => "waste ground",
            _ => "ground",
        },
        EntryFor::Picked(Picked::Green) | EntryFor::Green => "green",
        EntryFor::Picked(Picked::Piece(_)) => "typed anew",
        EntryFor::Falls => "falls",
        EntryFor::Bend => "bend",
        EntryFor::Height => "height",
        EntryFor::Tee => "tee",
        EntryFor::Length => "length",
        EntryFor::NewHole => "new hole",
    }
}

/// The shapes of the hole, a line each; the position of the picked one.
fn shapes(state: &State, width: usize) -> (Vec<Line<'static>>, usize) {
    let looks = state.looks;
    let Some(hole) = state.current_hole() else { return (Vec::new(), 0) };
    let all = state.pickable();
    let picked = state.draw().and_then(|d| d.picked);
    let mut out = Vec::new();
    let mut at = 0;
    if !hole.bends.is_empty() {
        let count = state.draw_count();
        let words: Vec<String> = hole
            .bends
            .iter()
            .map(|b| {
                let turn = crate::course::write::notation::side(b.turn_deg, crate::units::LengthUnit::Yards);
                format!("at {} {turn}", count.figure(b.at))
            })
            .collect();
        out.push(Line::styled(format!("  bends          {}", words.join(", ")), looks.quiet()));
    }
    for one in &all {
        let chosen = picked == Some(*one);
        if chosen {
            at = out.len();
        }
        let (kind, line) = shape_line(state, hole, *one);
        let mark = if chosen { "> " } else { "  " };
        let edge = if chosen { edge_words(state) } else { String::new() };
        let style = if chosen { looks.heading() } else { looks.text() };
        let words = paint::shorten(&format!("{line}{edge}"), width.saturating_sub(17));
        out.push(Line::from(vec![
            Span::styled(format!("{mark}{kind:<15}"), looks.quiet()),
            Span::styled(words, style),
        ]));
    }
    if all.is_empty() {
        let words = "Nothing is drawn here yet. l types the length, g the green, f the fairway by stations, b a bunker, p a penalty area, t trees, o out of bounds; each is seen as it is typed. Tab picks a shape, Space an edge of it, the arrows move it, u takes back.";
        out.extend(paint::wrap(words, width).into_iter().map(|l| Line::styled(l, looks.quiet())));
    }
    (out, at)
}

fn edge_words(state: &State) -> String {
    let word =
        state.picked_edge().map(|(_, edge)| edge.word()).or_else(|| state.green_edge().map(|e| e.word().to_owned()));
    let arrow = if state.looks.ascii { "<>" } else { "◂▸" };
    word.map(|w| format!("  {arrow} {w}")).unwrap_or_default()
}

/// What is typed, what is missing, what cannot be laid out.
fn entry_lines(state: &State, entry: &Entry, sketched: Option<&Sketched>, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let mut out = Vec::new();
    let mut add = |words: &str, style| {
        out.extend(paint::wrap(words, width).into_iter().map(|l| Line::styled(l, style)));
    };
    if let Some(message) = &entry.message {
        add(message, looks.danger());
    } else if let Some(problem) = sketched.and_then(|s| s.problems.first()) {
        add(problem, looks.danger());
    } else {
        match sketched.and_then(|s| s.typed.as_ref()) {
            Some(Ok(_)) => add("Enter draws it; Esc leaves it", looks.figure()),
            Some(Err(missing)) => add(missing, looks.quiet()),
            None => {}
        }
    }
    add(&entry_hint(state, entry.what), looks.quiet());
    out
}

/// The page as plain text.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let mut out = vec![head(state)];
    let sketched = state.derived.sketched.as_ref();
    if let Some(entry) = state.draw().and_then(|d| d.entry.as_ref()) {
        out.push(Line::from(format!("{}: {}", entry_label(entry), entry.input.value())));
        out.extend(entry_lines(state, entry, sketched, width));
    }
    out.extend(shapes(state, width).0);
    out
}

/// Draws the page; returns where the cursor belongs: in the line, else on the edge that moves.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect, shape: Shape) -> Option<(u16, u16)> {
    let looks = state.looks;
    let l = layout::hole(area, shape, false);
    paint::lines(buf, l.head, &[head(state)], looks);
    let mut cursor = None;
    if let Some(sketched) = &state.derived.sketched {
        cursor = drawing(state, sketched, buf, l.ribbon);
    }
    let body = Rect {
        x: l.head.x,
        y: l.ribbon.bottom(),
        width: l.head.width,
        height: area.bottom().saturating_sub(l.ribbon.bottom() + 1),
    };
    let width = usize::from(body.width);
    let mut top = body.y;
    if let Some(entry) = state.draw().and_then(|d| d.entry.as_ref()) {
        let label = format!("{}: ", entry_label(entry));
        let x = paint::text(buf, body, body.x, top, &label, looks.heading(), looks);
        let room = usize::from(body.right().saturating_sub(x + 1)).max(1);
        let skip = entry.input.visual_scroll(room);
        let text: String = entry.input.value().chars().skip(skip).collect();
        paint::text(buf, body, x, top, &text, looks.figure(), looks);
        let at = x + entry.input.visual_cursor().saturating_sub(skip) as u16;
        cursor = Some((at.min(body.right().saturating_sub(1)), top));
        top += 1;
        let words = entry_lines(state, entry, state.derived.sketched.as_ref(), width);
        let under = Rect { y: top, height: body.bottom().saturating_sub(top).min(4), ..body };
        top += paint::lines(buf, under, &words, looks) as u16;
    }
    let rest = Rect { y: top, height: body.bottom().saturating_sub(top), ..body };
    let (lines, at) = shapes(state, width);
    let room = usize::from(rest.height);
    let from = if room == 0 { 0 } else { (at + 1).saturating_sub(room) };
    paint::lines(buf, rest, lines.get(from..).unwrap_or_default(), looks);
    cursor
}

fn drawing(state: &State, sketched: &Sketched, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let looks = state.looks;
    let ribbon = &sketched.ribbon;
    let mut signs: Vec<Sign> = Vec::new();
    let at = |(column, half): (usize, usize), glyph: char, weight: SignWeight| Sign {
        column: column as u16,
        row: (half / 2) as u16,
        glyph,
        weight,
    };
    let dot = if looks.ascii { '.' } else { '·' };
    let step = 2.0 * ribbon.scale();
    let dots = (sketched.hole.ground.length.0 / step).clamp(0.0, 400.0) as usize;
    signs.extend(
        (1..=dots)
            .filter_map(|i| ribbon.cell_of(Along(i as f64 * step), Across(0.0)))
            .map(|c| at(c, dot, SignWeight::Faint)),
    );
    for tee in &sketched.hole.tees {
        let first = tee.name.chars().next().unwrap_or('T');
        signs.extend(ribbon.cell_of(tee.at, tee.across).map(|c| at(c, first, SignWeight::Letter)));
    }
    let mut cursor = None;
    let hole = state.current_hole()?;
    let spot = match (state.picked_edge(), state.green_edge()) {
        (Some((index, edge)), _) => hole.sketch.pieces.get(index).and_then(|p| place(&p.form, edge)),
        (None, Some(edge)) => hole.sketch.green.as_ref().map(|g| {
            use crate::course::write::edges::GreenEdge;
            match edge {
                GreenEdge::Front => (g.front, g.across),
                GreenEdge::Back => (Along(g.front.0 + g.depth), g.across),
                GreenEdge::Width => (Along(g.front.0 + g.depth / 2.0), Across(g.across.0 - g.width / 2.0)),
                GreenEdge::Whole | GreenEdge::Turned => (Along(g.front.0 + g.depth / 2.0), g.across),
            }
        }),
        _ => None,
    };
    if let Some(cell) = spot.and_then(|(along, across)| ribbon.cell_of(along, across)) {
        signs.push(at(cell, if looks.ascii { 'X' } else { '◆' }, SignWeight::Ball));
        cursor = Some((area.x + cell.0 as u16, area.y + (cell.1 / 2) as u16));
    }
    ribbon::paint(
        buf,
        area,
        &|column, half| ribbon.cell(column, half).surface,
        &|_, _| ribbon::Over::Nothing,
        &signs,
        looks,
    );
    cursor.filter(|(x, y)| *x < area.right() && *y < area.bottom())
}
