//! The Hole page: the drawing, the strips on its scale, the stand, the notes, the card strip.

use super::layout::{self, Shape};
use super::ribbon::{self, Over, Sign, SignWeight};
use super::{card, commit, from_here, paint, panel, plan};
use crate::ground::Distance;
use crate::ground::ribbon::Tick;
use crate::round::Ability;
use crate::sheet::{DangerLine, Standing};
use crate::tui::state::{State, ValueMap};
use crate::units::Length;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// Draws the page; returns where the terminal's cursor belongs: on the stand.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect, shape: Shape) -> Option<(u16, u16)> {
    let looks = state.looks;
    let caution = state.derived.hole.as_ref().and_then(|h| h.caution.as_deref());
    let l = layout::hole(area, shape, caution.is_some());
    head(state, buf, l.head);
    if let Some(words) = caution {
        let sign = if looks.ascii { "!" } else { "▲" };
        let line = paint::shorten(&format!("{sign} {words}"), usize::from(l.caution.width));
        paint::text(buf, l.caution, l.caution.x, l.caution.y, &line, looks.caution(), looks);
    }
    let cursor = drawing(state, buf, l.ribbon);
    strips(state, buf, l.strips);
    let (l_left, l_right) = text_columns(state, &l);
    let (left, right) = columns(state, usize::from(l_left.width), usize::from(l_right.width));
    let more = state.hole.more;
    show(state, buf, l_left, &left, more);
    show(state, buf, l_right, &right, more);
    card::draw_strip(state, buf, l.card);
    cursor
}

/// Lines of a column, from the first that was not turned away; a mark where some are left.
fn show(state: &State, buf: &mut Buffer, area: Rect, all: &[Line<'static>], more: usize) {
    if area.width == 0 || area.height == 0 {
        return;
    }
    let room = usize::from(area.height);
    if all.len() <= room {
        paint::lines(buf, area, all, state.looks);
        return;
    }
    let from = more.min(all.len().saturating_sub(1));
    let rest = all.get(from..).unwrap_or_default();
    // The last row says what is left, so that no line is half covered.
    let words = match rest.len().saturating_sub(room - 1) {
        0 => "Space: from the first".to_owned(),
        left => format!("{left} more: Space"),
    };
    paint::lines(buf, Rect { height: area.height - 1, ..area }, rest, state.looks);
    paint::right(buf, area, area.bottom() - 1, &format!(" {words} "), state.looks.chosen(), state.looks);
}

/// How many lines of text the longer column has and how many fit: for turning them.
pub fn text_extent(state: &State) -> (usize, usize) {
    let area = Rect::new(0, 0, state.size.0, state.size.1);
    let Some(shape) = layout::shape(area) else { return (0, 1) };
    let caution = state.derived.hole.as_ref().is_some_and(|h| h.caution.is_some());
    let l = layout::hole(area, shape, caution);
    let (l_left, l_right) = text_columns(state, &l);
    let (left, right) = columns(state, usize::from(l_left.width), usize::from(l_right.width));
    (left.len().max(right.len()), usize::from(l.left.height).saturating_sub(1))
}

fn head(state: &State, buf: &mut Buffer, area: Rect) {
    let looks = state.looks;
    let Some(sheet) = &state.derived.hole else {
        paint::text(buf, area, area.x, area.y, "No hole to show", looks.heading(), looks);
        return;
    };
    let name = sheet.name.clone().unwrap_or_default();
    let x = paint::text(buf, area, area.x, area.y, &format!("{} {name}", sheet.number), looks.heading(), looks);
    let units = state.shown_units();
    let length = match sheet.length {
        Some(length) => format!("{} {}", Length::yards(length).show(units), units.short()),
        None => "no such tee on this hole".to_owned(),
    };
    let example = state.session.home == crate::session::Home::Example;
    // In reading order, each with the rank at which it goes when the line is too short: the last to go has the least.
    let mut facts: Vec<(u8, String)> = vec![
        (5, state.session.course.as_ref().map(|c| c.name.clone()).unwrap_or_default()),
        match &sheet.instead_of {
            Some(own) => (0, format!("no {own} tee, from {}", sheet.tee)),
            None => (3, format!("{} tees", sheet.tee)),
        },
        (0, length),
        (1, sheet.par.map_or("no par".to_owned(), |p| format!("par {p}"))),
    ];
    facts.extend(sheet.stroke_index.map(|i| (2, format!("index {i}"))));
    facts.extend(example.then(|| (4, "example".to_owned())));
    let golfer = state.session.golfers.get(state.player);
    let who = golfer.map_or_else(String::new, |g| {
        let index = g.index.map(|i| format!(" {i}")).unwrap_or_default();
        let plays = crate::units::tenths::whole_handicap_text(g.playing_handicap);
        let arrow = if looks.ascii { "->" } else { "→" };
        let plays = if g.why_no_strokes.is_some() { String::new() } else { format!(" {arrow} {plays}") };
        format!("{}{index}{plays}", g.name)
    });
    let dots = looks.dots(sheet.strokes);
    let room = usize::from(area.right().saturating_sub(x));
    let joined = |facts: &[(u8, String)]| {
        let words: Vec<&str> = facts.iter().map(|(_, f)| f.as_str()).collect();
        format!("{}{}", looks.between(), words.join(looks.between()))
    };
    // The words for the strokes go first: the dots say the same.
    let rights = [format!("{} {}  {who}", dots, strokes_words(sheet.strokes)), format!("{dots} {who}"), dots.clone()];
    let mut right = rights.iter().map(|r| r.trim()).find(|r| r.width() + 30 <= room).unwrap_or_default();
    while facts.len() > 1 && joined(&facts).width() + right.width() + 2 > room {
        let worst = facts.iter().map(|(rank, _)| *rank).max();
        facts.retain(|(rank, _)| Some(*rank) != worst);
    }
    if joined(&facts).width() + right.width() + 2 > room {
        right = "";
    }
    paint::text(buf, area, x, area.y, &joined(&facts), looks.quiet(), looks);
    let start = area.right().saturating_sub(right.width() as u16);
    let own_dots = if right.starts_with(dots.as_str()) { dots.as_str() } else { "" };
    let after = paint::text(buf, area, start, area.y, own_dots, looks.stroke(), looks);
    paint::text(buf, area, after, area.y, right.get(own_dots.len()..).unwrap_or_default(), looks.text(), looks);
}

/// Strokes received here, in words.
pub fn strokes_words(strokes: i32) -> String {
    match strokes {
        0 => String::new(),
        1 => "one stroke here".to_owned(),
        2 => "two strokes here".to_owned(),
        n if n > 2 => format!("{n} strokes here"),
        -1 => "gives one back here".to_owned(),
        n => format!("gives {} back here", -n),
    }
}

/// The drawing with its letters, bends and the ball on the stand.
pub(super) fn drawing(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let looks = state.looks;
    let Some(drawing) = &state.derived.drawing else {
        for (i, line) in paint::wrap(&nothing_drawn(state), usize::from(area.width)).iter().enumerate() {
            paint::text(buf, area, area.x, area.y + i as u16, line, looks.quiet(), looks);
        }
        return None;
    };
    let ribbon = &drawing.ribbon;
    let mut signs = Vec::new();
    let at = |(column, half): (usize, usize), glyph: char, weight: SignWeight| Sign {
        column: column as u16,
        row: (half / 2) as u16,
        glyph,
        weight,
    };
    let dot = if looks.ascii { '.' } else { '·' };
    signs.extend(drawing.line.iter().map(|cell| at(*cell, dot, SignWeight::Faint)));
    for bend in &drawing.bends {
        let turn = format!(
            "{}{:.0}{}",
            if looks.ascii { '/' } else { '∠' },
            bend.turn_deg.abs(),
            if bend.turn_deg > 0.0 { 'R' } else { 'L' }
        );
        signs
            .extend(turn.chars().enumerate().map(|(i, c)| at((bend.column + i, bend.half_row), c, SignWeight::Letter)));
    }
    signs.extend(drawing.letters.iter().map(|l| at((l.column, l.half_row), l.letter, SignWeight::Letter)));
    let mut cursor = None;
    if let Some(cell) = state.derived.stand.as_ref().and_then(|s| ribbon.cell_of_point(s.point)) {
        signs.push(at(cell, if looks.ascii { 'O' } else { '●' }, SignWeight::Ball));
        cursor = Some((area.x + cell.0 as u16, area.y + (cell.1 / 2) as u16))
            .filter(|(x, y)| *x < area.right() && *y < area.bottom());
    }
    let answered = &state.derived.answered;
    if let Some(cell) = answered.marked_cell {
        signs.push(at(cell, '+', SignWeight::Ball));
    }
    if let Some(map) = &answered.map {
        signs.splice(0..0, map_digits(map, ribbon, &at));
    }
    let over = |column: usize, half: usize| match (&answered.map, &answered.tint) {
        (Some(map), _) => Over::Loss(map.loss(column, half).unwrap_or(0.0)),
        (None, Some(tint)) => Over::Pattern(tint.level(column, half)),
        (None, None) => Over::Nothing,
    };
    ribbon::paint(buf, area, &|column, half| ribbon.cell(column, half).surface, &over, &signs, looks);
    cursor
}

/// Digits of the map: tenths of a stroke lost, on every third column of each row.
fn map_digits(
    map: &ValueMap,
    ribbon: &crate::ground::ribbon::Ribbon,
    at: &dyn Fn((usize, usize), char, SignWeight) -> Sign,
) -> Vec<Sign> {
    let mut out = Vec::new();
    for half in (0..ribbon.half_rows()).step_by(2) {
        // Every other row is set off, so that figures stand evenly.
        for column in ((half / 2 % 2) * 2..ribbon.columns()).step_by(4) {
            let digit = match map.loss(column, half) {
                Some(loss) if loss >= 0.95 => Some('9'),
                Some(loss) if loss >= 0.05 => char::from_digit((loss * 10.0).round() as u32, 10),
                _ => None,
            };
            out.extend(digit.map(|digit| at((column, half), digit, SignWeight::Faint)));
        }
    }
    out
}

fn nothing_drawn(state: &State) -> String {
    match state.current_hole() {
        None => "This hole could not be read; e lists the problems.".to_owned(),
        Some(hole) => format!(
            "Hole {} has no green yet, so there is nothing to draw to scale. Write `sketch: {{ green: {{ front: 380, depth: 30, width: 25 }} }}` under it (docs/notebook.md).",
            hole.number
        ),
    }
}

/// The strips under the drawing: distance from the tee, fairway width, distance to the middle; all on its scale.
fn strips(state: &State, buf: &mut Buffer, area: Rect) {
    let Some(drawing) = &state.derived.drawing else { return };
    let looks = state.looks;
    let label = |buf: &mut Buffer, y: u16, words: &str| {
        let room = usize::from(area.width).saturating_sub(words.width());
        paint::text(buf, area, area.x + room as u16, y, words, looks.quiet(), looks);
        room.saturating_sub(1)
    };
    if state.hole.true_shape {
        label(buf, area.y, "true shape; distances are read at the stand");
        return;
    }
    let scale = |buf: &mut Buffer, y: u16, words: &str, ticks: &[Tick]| {
        let room = label(buf, y, words);
        for tick in ticks {
            let text = tick.figure.to_string();
            let start = tick.column.saturating_sub(text.width() / 2);
            if start + text.width() <= room {
                paint::text(buf, area, area.x + start as u16, y, &text, looks.quiet(), looks);
            }
        }
    };
    let mut y = area.y;
    if area.height >= 1 {
        scale(buf, y, "from the tee", &drawing.from_tee);
        y += 1;
    }
    if area.height >= 3 {
        let room = label(buf, y, "fairway width");
        for column in 0..room {
            if let Some(fairway) = drawing.ribbon.fairway(column) {
                // Eighths of 50 yards, so that 25 to 30 yards of fairway is about half a cell.
                let bar = ribbon::bar(((fairway.width() / 50.0 * 8.0).round() as usize).clamp(1, 8), looks);
                paint::text(buf, area, area.x + column as u16, y, &bar.to_string(), looks.figure(), looks);
            }
        }
        y += 1;
    }
    if area.height >= 2 {
        scale(buf, y, "to the middle", &drawing.to_middle);
        y += 1;
    }
    if area.height >= 4 {
        strokes_strip(state, buf, Rect { y, height: 1, ..area }, drawing);
    }
}

/// Expected strokes along the hole, under the distances they belong to.
fn strokes_strip(state: &State, buf: &mut Buffer, area: Rect, drawing: &crate::tui::state::Drawing) {
    let looks = state.looks;
    let strokes = &state.derived.answered.strokes;
    if strokes.is_empty() {
        return;
    }
    let words = "strokes to come";
    let room = usize::from(area.width).saturating_sub(words.width());
    paint::text(buf, area, area.x + room as u16, area.y, words, looks.quiet(), looks);
    for tick in &drawing.to_middle {
        let off = |at: &&(usize, f64)| at.0.abs_diff(tick.column);
        let Some((_, value)) = strokes.iter().min_by_key(off).filter(|at| off(at) <= 3) else { continue };
        let text = format!("{value:.1}");
        let start = tick.column.saturating_sub(text.width() / 2);
        if start + text.width() < room {
            paint::text(buf, area, area.x + start as u16, area.y, &text, looks.stroke(), looks);
        }
    }
}

/// The plan from the tee, from the stand when it has left the tee, or the marking of a play.
pub fn plan_lines(state: &State, width: usize) -> Vec<Line<'static>> {
    if let Some(marked) = state.commit() {
        return commit::lines(state, marked, width);
    }
    if state.hole.stand.is_some() && state.session.why_not(Ability::AdviceFromStand).is_none() {
        return from_here::lines(state, width);
    }
    plan::lines(state, width)
}

/// What the map over the drawing means, while it is shown.
pub fn map_lines(state: &State) -> Vec<Line<'static>> {
    if !state.hole.map {
        return Vec::new();
    }
    let words = match (&state.derived.answered.map, state.session.why_not(Ability::ValueMap)) {
        (_, Some(why)) => why,
        (Some(_), None) => "Map  tenths of a stroke worse than the best place level with it".to_owned(),
        (None, None) => "Map  being worked out…".to_owned(),
    };
    vec![Line::styled(words, state.looks.quiet())]
}

/// Where the text goes: a table takes both columns.
fn text_columns(state: &State, l: &layout::HoleLayout) -> (Rect, Rect) {
    if state.hole.panel.is_none() || l.right.width == 0 {
        return (l.left, l.right);
    }
    let width = l.right.right().saturating_sub(l.left.x);
    (Rect { width, ..l.left }, Rect { x: l.right.right(), width: 0, ..l.right })
}

/// The text of the page in its columns: two when `right` has room, else all in the left one.
pub fn columns(state: &State, left: usize, right: usize) -> (Vec<Line<'static>>, Vec<Line<'static>>) {
    if let Some(panel) = state.hole.panel {
        return (panel::lines(state, panel, left), Vec::new());
    }
    let mut first = plan_lines(state, left);
    first.extend(map_lines(state));
    first.extend(stand_lines(state, left));
    if right > 0 {
        let mut second = note_lines(state, right);
        second.extend(credit_lines(state, right));
        (first, second)
    } else {
        first.extend(note_lines(state, left));
        first.extend(credit_lines(state, left));
        (first, Vec::new())
    }
}

/// Whose map the ground was made from: its licence asks that it be seen with it (ODbL 1.0, 4.3).
fn credit_lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let credit = state.session.course.as_ref().and_then(|course| course.credit.as_ref());
    let words = credit.map(|credit| paint::wrap(&credit.line(), width)).unwrap_or_default();
    words.into_iter().map(|part| Line::styled(part, state.looks.quiet())).collect()
}

/// What the stand answers, as lines.
pub fn stand_lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let units = state.shown_units();
    let Some(stand) = &state.derived.stand else {
        return match &state.derived.hole {
            Some(_) => Vec::new(),
            None => vec![Line::styled("This hole is not in the notebook.", looks.quiet())],
        };
    };
    let show = |yards: f64| Length::yards(yards).show(units);
    let mut out = Vec::new();
    let place = if stand.on_tee {
        format!("on the {} tee", stand.tee)
    } else {
        let side = stand.across.show(units);
        let side = if side == "0" { "on the line".to_owned() } else { format!("{side} of the line") };
        format!("{} from the tee, {side}, {}", stand.from_tee.show(units), stand.surface.word())
    };
    out.push(Line::from(vec![
        Span::styled("Stand", looks.heading()),
        Span::raw("  "),
        Span::styled(place, looks.text()),
    ]));
    if let Some(why) = &stand.why_not {
        for part in paint::wrap(why, width) {
            out.push(Line::styled(part, looks.caution()));
        }
        return out;
    }
    if let Some(green) = &stand.green {
        let mut spans = vec![Span::styled("green   ", looks.quiet())];
        for (word, reach) in [("front", green.front), ("middle", green.middle), ("back", green.back)] {
            spans.push(Span::styled(format!("{word} "), looks.quiet()));
            spans.push(Span::styled(format!("{} ", show(reach.straight)), looks.figure()));
        }
        out.push(Line::from(spans));
        let three = [green.front, green.middle, green.back];
        if three.iter().any(Distance::differs) {
            let along = three.map(|reach| show(reach.along)).join(", ");
            out.push(Line::styled(format!("        along the line {along}"), looks.quiet()));
        }
    }
    if let Some(here) = &stand.fairway {
        out.push(Line::from(vec![
            Span::styled("fairway ", looks.quiet()),
            Span::styled(format!("{} wide here", show(here.width)), looks.figure()),
            Span::styled(format!(", {} to {}", here.left.show(units), here.right.show(units)), looks.quiet()),
        ]));
    }
    if let Some((width, at)) = stand.pinch {
        out.push(Line::from(vec![
            Span::styled("        ", looks.quiet()),
            Span::styled(format!("narrowest {}, {} from the tee", show(width), at.show(units)), looks.quiet()),
        ]));
    }
    if !stand.dangers.is_empty() {
        // Narrow columns leave the clear side out: the drawing shows it.
        let clear = width >= 46;
        let costs = state.derived.plan.as_ref().is_some_and(|p| !p.prices.is_empty());
        let room = width.saturating_sub(if clear { 32 } else { 22 } + if costs { 6 } else { 0 });
        let name_width = stand.dangers.iter().map(|d| d.name.width()).max().unwrap_or(0).min(room).max(6);
        let clear_word = if clear { "  clear side" } else { "" };
        let cost_word = if costs { "  cost" } else { "" };
        out.push(Line::styled(
            format!("  {:<name_width$} {:<6} {:>5} {:>5}{cost_word}{clear_word}", "danger", "lies", "reach", "carry"),
            looks.quiet(),
        ));
        for danger in &stand.dangers {
            out.push(danger_line(state, danger, name_width, clear, &show));
        }
    }
    // Round a bend the straight line and the hole line differ, and a player must know which is which.
    let round: Vec<String> = stand
        .dangers
        .iter()
        .filter_map(|d| {
            d.along.map(|(reach, carry)| {
                format!("{} {} to {}", d.letter.map_or_else(|| d.name.clone(), String::from), show(reach), show(carry))
            })
        })
        .collect();
    if !round.is_empty() {
        let words = format!("along the line: {}", round.join(", "));
        out.extend(paint::wrap(&words, width).into_iter().map(|part| Line::styled(part, looks.quiet())));
    }
    if !stand.tees.is_empty() {
        let words: Vec<String> = stand
            .tees
            .iter()
            .map(|(name, away)| {
                let along = if away.differs() { format!(" ({} along)", show(away.along.abs())) } else { String::new() };
                format!("{name} {}{along}", show(away.straight))
            })
            .collect();
        for (i, part) in paint::wrap(&words.join(looks.between()), width.saturating_sub(8)).into_iter().enumerate() {
            let head = if i == 0 { "tees    " } else { "        " };
            out.push(Line::from(vec![Span::styled(head, looks.quiet()), Span::styled(part, looks.quiet())]));
        }
    }
    out
}

fn danger_line(
    state: &State,
    danger: &DangerLine,
    name_width: usize,
    clear: bool,
    show: &dyn Fn(f64) -> String,
) -> Line<'static> {
    let looks = state.looks;
    let letter = danger.letter.map_or_else(|| " ".to_owned(), |c| c.to_string());
    let name = paint::shorten(&danger.name, name_width);
    let pad = name_width.saturating_sub(name.width());
    let mut spans = vec![
        Span::styled(letter, looks.danger()),
        Span::raw(" "),
        Span::styled(format!("{name}{}", " ".repeat(pad)), looks.text()),
        Span::styled(format!(" {:<6} ", danger.lies), looks.quiet()),
        Span::styled(format!("{:>5} {:>5}", show(danger.reach), show(danger.carry)), looks.figure()),
    ];
    // Prices are part of the answer that a marked play waits for.
    let hidden = state.commit().is_some_and(|c| c.committed.is_none());
    if let Some(plan) = state.derived.plan.as_ref().filter(|p| !hidden && !p.prices.is_empty()) {
        let price = plan.prices.iter().find(|p| p.feature == danger.feature).map_or(0.0, |p| p.strokes);
        let words = if price < 0.025 { String::new() } else { format!("{:.2}", (price * 20.0).round() / 20.0) };
        spans.push(Span::styled(format!("  {words:>4}"), looks.danger()));
    }
    if clear {
        spans.push(Span::styled(format!("  {}", danger.clear), looks.quiet()));
    }
    Line::from(spans)
}

/// What was written for this tee and player, as lines.
pub fn note_lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let Some(sheet) = &state.derived.hole else { return Vec::new() };
    let golfer = state.session.golfers.get(state.player);
    let whom = golfer.map_or_else(String::new, |g| format!("for {} from the {} tees", g.name, sheet.tee));
    let whom = format!("  {}", paint::shorten(&whom, width.saturating_sub(7)));
    let mut out = vec![Line::from(vec![Span::styled("Notes", looks.heading()), Span::styled(whom, looks.quiet())])];
    let label = if width < 50 { 7 } else { 9 };
    for line in sheet.shown(state.hole.all_notes) {
        let (style, tail) = match &line.standing {
            Standing::Applies => (looks.text(), String::new()),
            Standing::Assumes(words) => (looks.text(), format!(" [{words}]")),
            Standing::Depends(condition) => (looks.text(), format!(" [{condition}]")),
            Standing::Not(why) => (looks.quiet(), format!(" [not here: {why}]")),
        };
        let whose = line.whose.as_ref().map(|w| format!(" ({w})")).unwrap_or_default();
        let letter = line.letter.map(|c| format!("{c} ")).unwrap_or_default();
        let words = format!("{letter}{}{whose}{tail}", line.words);
        for (i, part) in paint::wrap(&words, width.saturating_sub(label)).into_iter().enumerate() {
            let head = if i == 0 { paint::shorten(line.kind.word(), label - 1) } else { String::new() };
            out.push(Line::from(vec![
                Span::styled(format!("{head:<label$}"), looks.quiet()),
                Span::styled(part, style),
            ]));
        }
    }
    let hidden = sheet.lines.len() - sheet.shown(false).count();
    if sheet.lines.is_empty() {
        for part in paint::wrap(NOTHING_WRITTEN, width) {
            out.push(Line::styled(part, looks.quiet()));
        }
    } else if hidden > 0 && !state.hole.all_notes {
        let more = if hidden == 1 {
            "1 more is for other tees, players or days: a shows it".to_owned()
        } else {
            format!("{hidden} more are for other tees, players or days: a shows them")
        };
        out.push(Line::styled(paint::shorten(&more, width), looks.quiet()));
    }
    out
}

/// What a hole without notes says.
const NOTHING_WRITTEN: &str = "Nothing is written for this hole yet. Worth writing: an aim with a landmark, which side must not be missed, \
where to leave the next shot, how the green falls. In the notebook, under this hole: `notes: [ { at: tee, text: \"…\" } ]`, and likewise `aims`, `dangers`, `layups` (docs/notebook.md).";
