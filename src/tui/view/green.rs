//! The Green page: the green from above to scale, what leaves are worth or its falls, and the read of a putt.

use super::paint;
use crate::ground::{Point, Putting};
use crate::plan::GreenPicture;
use crate::tui::looks::Looks;
use crate::tui::state::State;
use crate::units::{Length, LengthUnit};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Style};
use ratatui::text::{Line, Span};

/// Ground shown around the green, yards.
const MARGIN: f64 = 3.5;
/// Strokes at which the next shade begins.
const LEVELS: [f64; 6] = [1.3, 1.6, 1.8, 1.95, 2.1, 2.3];

/// Draws the page; returns where the cursor stands: on the ball.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let looks = state.looks;
    paint::lines(buf, Rect { height: 1, ..area }, &[heading(state)], looks);
    let body = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    let green = state.current_hole().and_then(|h| h.ground.green.as_ref());
    let (Some(picture), Some(green)) = (&state.derived.green.picture, green) else {
        let words = waiting(state);
        let lines: Vec<Line<'static>> = paint::wrap(&words, usize::from(body.width))
            .into_iter()
            .map(|l| Line::styled(l, looks.caution()))
            .collect();
        paint::lines(buf, body, &lines, looks);
        return None;
    };
    let beside = area.width >= 70;
    let drawing = if beside {
        Rect { width: (body.width * 9 / 20).clamp(30, 64), ..body }
    } else {
        Rect { height: body.height * 11 / 20, ..body }
    };
    let words = if beside {
        Rect { x: drawing.right() + 2, width: body.width - drawing.width - 2, ..body }
    } else {
        Rect { y: drawing.bottom(), height: body.height - drawing.height, ..body }
    };
    let cursor = picture_of(state, picture, green, buf, drawing);
    paint::lines(buf, words, &said(state, picture, usize::from(words.width), usize::from(words.height)), looks);
    cursor
}

fn heading(state: &State) -> Line<'static> {
    let looks = state.looks;
    let number = state.session.order.get(state.position).copied().unwrap_or_default();
    let name = state.current_hole().and_then(|h| h.name.clone()).unwrap_or_default();
    let cut = state
        .session
        .hole_location_words(number)
        .map_or_else(|| "hole location not known: taken in the middle".to_owned(), |w| format!("hole cut {w}"));
    Line::from(vec![
        Span::styled(format!("Green {number} {name}"), looks.heading()),
        Span::styled(format!("{}{cut}", looks.between()), looks.quiet()),
    ])
}

fn waiting(state: &State) -> String {
    if let Some(why) = &state.derived.green.why_not {
        return why.clone();
    }
    if state.current_hole().is_none_or(|h| h.ground.green.is_none()) {
        return "This hole has no green drawn; give `green` in the notebook (o t shows the hole).".to_owned();
    }
    "The green is being worked out …".to_owned()
}

/// How the drawing lies over the plane.
struct Frame {
    middle: Point,
    up: Point,
    right: Point,
    /// Yards a column, and a half row.
    scale: f64,
    area: Rect,
}

impl Frame {
    fn new(picture: &GreenPicture, green: &Putting, area: Rect) -> Self {
        let up = Point::towards(picture.heading_deg);
        let right = up.to_the_right();
        let reach = |way: Point| {
            green.outline.outer.iter().map(|p| (*p - green.middle).dot(way).abs()).fold(1.0, f64::max) + MARGIN
        };
        let across = 2.0 * reach(right) / f64::from(area.width.max(1));
        let along = 2.0 * reach(up) / f64::from(2 * area.height.max(1));
        Self { middle: green.middle, up, right, scale: across.max(along), area }
    }

    /// The plane under a column and half row.
    fn plane(&self, column: u16, half: u16) -> Point {
        let x = (f64::from(column) + 0.5 - f64::from(self.area.width) / 2.0) * self.scale;
        let y = (f64::from(self.area.height) - f64::from(half) - 0.5) * self.scale;
        self.middle + self.right * x + self.up * y
    }

    /// The cell of a point, when it is drawn.
    fn cell(&self, at: Point) -> Option<(u16, u16)> {
        let away = at - self.middle;
        let column = (away.dot(self.right) / self.scale + f64::from(self.area.width) / 2.0).floor();
        let half = (f64::from(self.area.height) - away.dot(self.up) / self.scale).floor();
        let row = (half / 2.0).floor();
        let inside =
            column >= 0.0 && row >= 0.0 && column < f64::from(self.area.width) && row < f64::from(self.area.height);
        inside.then(|| (self.area.x + column as u16, self.area.y + row as u16))
    }
}

fn level(strokes: f64) -> usize {
    LEVELS.iter().take_while(|l| strokes >= **l).count()
}

fn picture_of(
    state: &State,
    picture: &GreenPicture,
    green: &Putting,
    buf: &mut Buffer,
    area: Rect,
) -> Option<(u16, u16)> {
    let looks = state.looks;
    let frame = Frame::new(picture, green, area);
    let falls = state.green_screen().is_some_and(|s| s.falls);
    let shade = |at: Point| -> Option<(bool, usize)> {
        let on = green.outline.contains(at);
        if falls {
            return Some((on, 0));
        }
        picture.strokes_at(at).map(|v| (on, level(f64::from(v))))
    };
    for column in 0..area.width {
        for row in 0..area.height {
            let (top, bottom) = (shade(frame.plane(column, 2 * row)), shade(frame.plane(column, 2 * row + 1)));
            let Some(cell) = buf.cell_mut((area.x + column, area.y + row)) else { continue };
            if looks.paints() {
                let colour =
                    |s: Option<(bool, usize)>| s.map_or(Color::Reset, |(on, level)| looks.leave(on, level, falls));
                cell.set_char('▀').set_style(Style::new().fg(colour(top)).bg(colour(bottom)));
            } else {
                let (glyph, style) = match top.or(bottom) {
                    Some((on, level)) => looks.leave_texture(on, if falls { 0 } else { level }),
                    None => (' ', Style::new()),
                };
                cell.set_char(glyph).set_style(style);
            }
        }
    }
    let mut mark = |at: Point, glyph: char, style: Style| {
        if let Some((x, y)) = frame.cell(at)
            && let Some(cell) = buf.cell_mut((x, y))
        {
            let back = if looks.paints() { cell.bg } else { Color::Reset };
            cell.set_char(glyph).set_style(style.bg(back));
        }
    };
    if falls || !looks.paints() {
        // The edge, where shades alone would not show it.
        for p in edge_points(green, frame.scale) {
            mark(p, if looks.ascii { '.' } else { '·' }, looks.text());
        }
    }
    let step = (4.0 / frame.scale).round().max(3.0) as u16;
    if falls {
        for column in (step / 2..area.width).step_by(usize::from(step) + 2) {
            for row in (1..area.height).step_by(usize::from(step / 2).max(2)) {
                let at = frame.plane(column, 2 * row);
                if !green.outline.contains(at) {
                    continue;
                }
                let (pct, towards) = picture.falls.fall_at(at);
                let (x, y) = (area.x + column, area.y + row);
                let words = if pct < 0.15 {
                    "0".to_owned()
                } else {
                    format!("{pct:.1}{}", arrow(towards - picture.heading_deg, looks))
                };
                let back = buf.cell((x, y)).map_or(Color::Reset, |c| c.bg);
                paint::text(
                    buf,
                    area,
                    x,
                    y,
                    &words,
                    if looks.paints() { looks.text().fg(looks.leave_ink()).bg(back) } else { looks.text() },
                    looks,
                );
            }
        }
    }
    let mut mark = |at: Point, glyph: char, style: Style| {
        if let Some((x, y)) = frame.cell(at)
            && let Some(cell) = buf.cell_mut((x, y))
        {
            let style = if looks.paints() { style.bg(cell.bg) } else { style };
            cell.set_char(glyph).set_style(style);
        }
    };
    let ink = if looks.paints() { Style::new().fg(looks.leave_ink()) } else { looks.heading() };
    let ball = state.derived.green.putt.as_ref();
    if let Some((_, putt)) = ball {
        for at in &putt.path {
            mark(*at, if looks.ascii { '.' } else { '•' }, ink);
        }
    }
    if let Some(leave) = picture.leave {
        mark(leave, '+', ink);
    }
    if let Some((target, _)) = &picture.target {
        mark(*target, 'x', ink);
    }
    mark(picture.pin, if looks.ascii { 'H' } else { '⚑' }, ink.patch(looks.heading()));
    let (at, _) = ball?;
    mark(*at, 'o', ink.patch(looks.heading()));
    frame.cell(*at)
}

/// Points of the outline close enough that each cell of it gets one.
fn edge_points(green: &Putting, step: f64) -> Vec<Point> {
    let mut out = Vec::new();
    for (a, b) in crate::ground::plane::edges(&green.outline.outer) {
        let pieces = (a.distance(b) / step.max(0.2)).ceil().clamp(1.0, 200.0) as usize;
        out.extend((0..pieces).map(|i| a + (b - a) * (i as f64 / pieces as f64)));
    }
    out
}

/// An arrow for a direction on the screen, degrees clockwise from up.
fn arrow(deg: f64, looks: Looks) -> char {
    const ARROWS: [char; 8] = ['↑', '↗', '→', '↘', '↓', '↙', '←', '↖'];
    const PLAIN: [char; 8] = ['^', '/', '>', '\\', 'v', '/', '<', '\\'];
    let at = (deg.rem_euclid(360.0) / 45.0).round() as usize % 8;
    let of = if looks.ascii { &PLAIN } else { &ARROWS };
    of.get(at).copied().unwrap_or('?')
}

/// A length of a putt: feet, or metres where metres are shown.
fn feet(m: f64, units: LengthUnit) -> String {
    match units {
        LengthUnit::Yards => {
            let ft = m / 0.3048;
            if ft < 10.0 { format!("{ft:.1} ft") } else { format!("{ft:.0} ft") }
        }
        LengthUnit::Metres => format!("{m:.1} m"),
    }
}

/// A small rise: inches, or centimetres.
fn rise(m: f64, units: LengthUnit) -> String {
    let word = if m >= 0.0 { "up" } else { "down" };
    match units {
        LengthUnit::Yards => format!("{:.0} in {word}", (m / 0.0254).abs()),
        LengthUnit::Metres => format!("{:.0} cm {word}", (100.0 * m).abs()),
    }
}

/// Everything that is said beside the drawing.
fn said(state: &State, picture: &GreenPicture, width: usize, rows: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let units = state.shown_units();
    let show = |yards: f64| Length::yards(yards).show(units);
    let mut out: Vec<Line<'static>> = Vec::new();
    let mut say = |words: String, style: Style| {
        out.extend(paint::wrap(&words, width).into_iter().map(|l| Line::styled(l, style)));
    };
    let e = &picture.edges;
    say(
        format!(
            "Edges: {} front, {} back, {} left, {} right",
            show(e.front),
            show(e.back),
            show(e.left),
            show(e.right)
        ),
        looks.figure(),
    );
    let (pct, towards) = picture.falls.fall_at(picture.pin);
    let falls = if pct < 0.05 {
        String::new()
    } else {
        format!("; at the hole {pct:.1} % {}", arrow(towards - picture.heading_deg, looks))
    };
    let speed = state.session.today_here().map_or(9.5, |d| d.green_speed);
    say(
        format!("Falls: {}{falls}. Speed {speed} ft. Grain is not modelled.", picture.falls.known.words()),
        looks.quiet(),
    );
    if let Some((_, putt)) = &state.derived.green.putt {
        say(format!("Putt {}, {}", feet(putt.length_m, units), rise(putt.rise_m, units)), looks.heading());
        match (&putt.why, putt.cups) {
            (Some(why), _) => say(why.clone(), looks.caution()),
            (None, Some((cups, low, high))) => {
                let sketched =
                    !matches!(picture.falls.known, crate::today::Known::Noted | crate::today::Known::Surveyed);
                let band = match (low, high) {
                    (Some(low), Some(high)) if !sketched => format!(" ({})", cups_band(low, high)),
                    _ => String::new(),
                };
                say(format!("Start it {}{band}", putt.words), looks.text());
                let plays = putt.plays_longer_m;
                let word = if plays >= 0.0 { "longer" } else { "shorter" };
                say(
                    format!(
                        "Plays {} {word}: {}; {} past",
                        feet(plays.abs(), units),
                        putt.pace,
                        feet(putt.past_m, units)
                    ),
                    looks.text(),
                );
                if sketched && cups.abs() > 0.25 {
                    say(
                        "How far it breaks cannot be told from one sketched fall; look, and note slopes.".to_owned(),
                        looks.quiet(),
                    );
                }
                say(
                    format!(
                        "Holed {:.0} %, three putts or more {:.0} %",
                        100.0 * putt.chances.0,
                        100.0 * putt.chances.1
                    ),
                    looks.text(),
                );
            }
            (None, None) => {}
        }
    }
    if let Some(side) = picture.safe.and_then(|i| picture.sides.get(i)) {
        let worst = picture.sides.iter().filter_map(|s| s.putts.map(|p| (s, p))).max_by(|a, b| a.1.total_cmp(&b.1));
        let against = worst.map(|(s, p)| format!("; {} {p:.2}", s.name)).unwrap_or_default();
        let putts = side.putts.unwrap_or_default();
        say(format!("Safe side: {} of the hole. From 4 there {putts:.2} putts{against}", side.name), looks.heading());
    } else {
        say("No side of the hole is the safe one: the green is level as far as is known.".to_owned(), looks.quiet());
    }
    let misses: Vec<String> = picture
        .sides
        .iter()
        .step_by(2)
        .filter_map(|s| s.beyond.map(|(v, ground)| format!("{} {v:.2} ({ground})", s.name)))
        .collect();
    if !misses.is_empty() {
        say(format!("Missed by 5: {}", misses.join(", ")), looks.text());
    }
    if let Some((target, club)) = &picture.target {
        let up = Point::towards(picture.heading_deg);
        let off = *target - picture.pin;
        let (past, right) = (off.dot(up), off.dot(up.to_the_right()));
        let mut words = Vec::new();
        if past.abs() >= 1.0 {
            words.push(format!("{} {}", show(past.abs()), if past > 0.0 { "past the hole" } else { "short of it" }));
        }
        if right.abs() >= 1.0 {
            words.push(format!("{} {}", show(right.abs()), if right > 0.0 { "right" } else { "left" }));
        }
        let words = if words.is_empty() { "at the hole".to_owned() } else { words.join(", ") };
        say(format!("From 140 out, {club}: {words} (x)"), looks.text());
    }
    let room = rows.saturating_sub(out.len() + 2);
    if let Some((_, putt)) = &state.derived.green.putt
        && room >= 5
        && putt.profile.len() > 2
    {
        out.push(Line::default());
        out.extend(profile(&putt.profile, width.min(40), 3, units, looks));
    }
    let legend =
        format!("o ball  {} hole  + ideal leave  x approach{}", if looks.ascii { 'H' } else { '⚑' }, legend(looks));
    out.push(Line::default());
    out.extend(paint::wrap(&legend, width).into_iter().map(|l| Line::styled(l, looks.quiet())));
    out
}

/// What the shades mean.
fn legend(looks: Looks) -> String {
    if looks.paints() {
        return "; greener is fewer strokes, redder more".to_owned();
    }
    let marks: Vec<String> = (0..=LEVELS.len())
        .step_by(2)
        .map(|l| {
            let (glyph, _) = looks.leave_texture(true, l);
            let below = LEVELS.get(l).map_or_else(|| "more".to_owned(), |v| format!("<{v}"));
            format!("{glyph} {below}")
        })
        .collect();
    format!("; strokes: {}", marks.join(" "))
}

fn cups_band(low: f64, high: f64) -> String {
    let side = |c: f64| if c < 0.0 { "left" } else { "right" };
    if (low < 0.0) == (high < 0.0) {
        let (a, b) = (low.abs().min(high.abs()), low.abs().max(high.abs()));
        return format!("{a:.1} to {b:.1} cups {}", side(low));
    }
    format!("{:.1} {} to {:.1} {}", low.abs(), side(low), high.abs(), side(high))
}

/// Heights along the line from the ball at the left to the hole at the right, not to scale in height.
fn profile(of: &[(f64, f64)], width: usize, rows: usize, units: LengthUnit, looks: Looks) -> Vec<Line<'static>> {
    let (Some(end), columns) = (of.last(), width.saturating_sub(2).max(8)) else { return Vec::new() };
    let low = of.iter().map(|p| p.1).fold(0.0, f64::min);
    let high = of.iter().map(|p| p.1).fold(0.0, f64::max);
    // At least an inch or two in height, so that a level putt is drawn level.
    let span = (high - low).max(0.06);
    let at = |x: usize| {
        let d = end.0 * x as f64 / (columns - 1).max(1) as f64;
        let i = of.partition_point(|p| p.0 <= d).clamp(1, of.len() - 1);
        match (of.get(i - 1), of.get(i)) {
            (Some(a), Some(b)) if b.0 > a.0 => a.1 + (b.1 - a.1) * ((d - a.0) / (b.0 - a.0)).clamp(0.0, 1.0),
            _ => 0.0,
        }
    };
    let middle = 0.5 * (low + high);
    let cells: Vec<usize> = (0..columns)
        .map(|x| {
            let share = 0.5 + (at(x) - middle) / span;
            ((1.0 - share) * (2 * rows - 1) as f64).round().clamp(0.0, (2 * rows - 1) as f64) as usize
        })
        .collect();
    let mut out = Vec::new();
    for row in 0..rows {
        let line: String = cells
            .iter()
            .enumerate()
            .map(|(x, half)| match (half / 2 == row, half % 2, looks.ascii) {
                (true, _, _) if x == 0 => 'o',
                (true, _, true) if x + 1 == columns => 'H',
                (true, _, false) if x + 1 == columns => '⚑',
                (true, 0, false) => '▔',
                (true, _, false) => '▁',
                (true, 0, true) => '-',
                (true, _, true) => '_',
                (false, ..) => ' ',
            })
            .collect();
        out.push(Line::styled(line, looks.figure()));
    }
    out.push(Line::styled(format!("along the line, heights enlarged; {}", rise(end.1, units)), looks.quiet()));
    out
}

/// The whole page as lines.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let mut out = vec![heading(state)];
    match &state.derived.green.picture {
        None => out.push(Line::from(waiting(state))),
        Some(picture) => {
            out.extend(said(state, picture, width, 8));
            for side in &picture.sides {
                let putts = side.putts.map_or_else(|| "off the green".to_owned(), |p| format!("{p:.2} putts from 4"));
                let beyond =
                    side.beyond.map_or_else(String::new, |(v, g)| format!(", {v:.2} strokes 5 beyond the edge in {g}"));
                out.push(Line::from(format!("{}: {putts}{beyond}", side.name)));
            }
        }
    }
    out
}
