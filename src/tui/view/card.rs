//! The card: the strip at the foot of the Hole page, and the whole card of one to four players.

use super::paint;
use crate::scoring::HoleScore;
use crate::sheet::{CardLine, CardSheet, Golfer};
use crate::tui::looks::Looks;
use crate::units::tenths::whole_handicap_text;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// The rows a card can show, from the one that never goes to the one that goes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Row {
    /// Gross scores.
    Gross,
    /// Hole numbers.
    Hole,
    /// Strokes received.
    Strokes,
    /// Stableford points.
    Points,
    /// Par.
    Par,
    /// Net scores.
    Net,
    /// Stroke indexes.
    Index,
}

impl Row {
    const fn word(self) -> &'static str {
        match self {
            Self::Gross => "gross",
            Self::Hole => "hole",
            Self::Strokes => "stroke",
            Self::Points => "points",
            Self::Par => "par",
            Self::Net => "net",
            Self::Index => "index",
        }
    }
}

/// The rows that fit in `rows`, in the order in which they stand.
pub fn rows_for(rows: usize) -> Vec<Row> {
    let order = [Row::Hole, Row::Par, Row::Index, Row::Strokes, Row::Gross, Row::Net, Row::Points];
    let keep = [Row::Gross, Row::Hole, Row::Strokes, Row::Points, Row::Par, Row::Net, Row::Index];
    let kept = keep.get(..rows.min(keep.len())).unwrap_or_default();
    order.into_iter().filter(|r| kept.contains(r)).collect()
}

/// Where a box of the card stands: for the terminal's cursor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoxPlace {
    /// Column from the left of the card.
    pub column: u16,
    /// Row from the top of the card.
    pub row: u16,
}

const LABEL: usize = 7;

/// Which positions are shown when the card is wider than the page: the part that holds `at`.
fn window(sheet: &CardSheet, at: usize, width: usize) -> (std::ops::Range<usize>, usize) {
    let n = sheet.lines.len();
    // Wide boxes only where the words beside the card still fit.
    let cell = if width >= LABEL + n * 4 + 46 { 4 } else { 3 };
    let room = width.saturating_sub(LABEL + 12) / cell;
    if room >= n {
        return (0..n, cell);
    }
    let part = sheet.first_part.max(1);
    let (start, end) = if at < part { (0, part) } else { (part, n) };
    if room >= end - start || room == 0 {
        return (start..end.min(start + room.max(1)), cell);
    }
    let first = at.saturating_sub(room / 2).min(n.saturating_sub(room));
    (first..(first + room).min(n), cell)
}

/// The card of one player as lines of at most `width` columns, the box of position `at` marked; and where that box is.
pub fn strip(
    sheet: &CardSheet,
    at: usize,
    rows: &[Row],
    width: usize,
    looks: Looks,
) -> (Vec<Line<'static>>, Option<BoxPlace>) {
    let n = sheet.lines.len();
    let (range, cell) = window(sheet, at, width);
    let whole = range == (0..n);
    let mut place = None;
    let mut out = Vec::new();
    for (y, row) in rows.iter().enumerate() {
        let mut spans = vec![Span::styled(format!("{:<LABEL$}", row.word()), looks.quiet())];
        let mut column = LABEL;
        for position in range.clone() {
            let Some(line) = sheet.lines.get(position) else { continue };
            let (text, style) = boxed(*row, line, looks);
            let here = position == at && matches!(row, Row::Gross | Row::Hole);
            let text = if here && *row == Row::Gross && text.is_empty() { "_".to_owned() } else { text };
            if position == at && *row == Row::Gross {
                place = Some(BoxPlace { column: (column + cell - 1 - 1) as u16, row: y as u16 });
            }
            let pad = (cell - 1).saturating_sub(text.width());
            spans.push(Span::raw(" ".repeat(pad)));
            spans.push(Span::styled(
                text,
                if here { looks.heading().patch(style).patch(looks.chosen()) } else { style },
            ));
            spans.push(Span::raw(" "));
            column += cell;
            if position + 1 == sheet.first_part && n > sheet.first_part && whole {
                spans.push(Span::styled(format!("{:>4} ", part_total(*row, sheet, 0..sheet.first_part)), looks.text()));
                column += 5;
            }
        }
        if n > sheet.first_part && whole {
            spans.push(Span::styled(format!("{:>4} ", part_total(*row, sheet, sheet.first_part..n)), looks.text()));
        }
        spans.push(Span::styled(format!("{:>5}", whole_total(*row, sheet)), looks.heading()));
        out.push(Line::from(spans));
    }
    (out, place)
}

fn boxed(row: Row, line: &CardLine, looks: Looks) -> (String, Style) {
    let hole = &line.hole;
    match row {
        Row::Hole => (hole.number.to_string(), looks.quiet()),
        Row::Par => (hole.par.to_string(), looks.quiet()),
        Row::Index => (line.stroke_index.map(|i| i.to_string()).unwrap_or_default(), looks.quiet()),
        Row::Strokes => {
            let dots = looks.dots(hole.strokes);
            (
                if dots.chars().count() > 2 {
                    format!("{}{}", hole.strokes.abs(), looks.dots(hole.strokes.signum()))
                } else {
                    dots
                },
                looks.stroke(),
            )
        }
        Row::Gross => (
            match hole.score {
                HoleScore::Empty => String::new(),
                score => score.to_string(),
            },
            looks.text(),
        ),
        Row::Net => (hole.net().map(|n| n.to_string()).unwrap_or_default(), looks.text()),
        Row::Points => (hole.points().map(|p| p.to_string()).unwrap_or_default(), looks.text()),
    }
}

fn part_total(row: Row, sheet: &CardSheet, range: std::ops::Range<usize>) -> String {
    let first = range.start == 0;
    let total = sheet.part(range.clone());
    match row {
        Row::Hole => if first { "out" } else { "in" }.to_owned(),
        Row::Par => sheet.par(range).to_string(),
        Row::Index | Row::Strokes => String::new(),
        _ if total.entered == 0 => String::new(),
        Row::Gross => figure(total.gross, total.has_total()),
        Row::Net => figure(total.net, total.has_total()),
        Row::Points => total.points.to_string(),
    }
}

fn whole_total(row: Row, sheet: &CardSheet) -> String {
    let total = sheet.total();
    match row {
        Row::Hole => "total".to_owned(),
        Row::Par => sheet.par(0..sheet.lines.len()).to_string(),
        Row::Index => String::new(),
        Row::Strokes => whole_handicap_text(sheet.lines.iter().map(|l| l.hole.strokes).sum()),
        _ if total.entered == 0 => String::new(),
        Row::Gross => figure(total.gross, total.has_total()),
        Row::Net => figure(total.net, total.has_total()),
        Row::Points => total.points.to_string(),
    }
}

/// A total of strokes that lacks a hole is no total: it is marked.
fn figure(strokes: i32, whole: bool) -> String {
    if whole { strokes.to_string() } else { format!("({strokes})") }
}

/// The whole card of every player, with what stands for each, as lines; and where the box of (`player`, `at`) is.
pub fn page(
    golfers: &[Golfer],
    sheets: &[CardSheet],
    player: usize,
    at: usize,
    width: usize,
    looks: Looks,
) -> (Vec<Line<'static>>, Option<BoxPlace>) {
    let mut out = Vec::new();
    let mut place = None;
    for (i, (golfer, sheet)) in golfers.iter().zip(sheets).enumerate() {
        let mark = if golfers.len() > 1 && i == player { "> " } else { "" };
        let handicap = match (golfer.index, &golfer.why_no_strokes) {
            (_, Some(why)) => format!("no strokes: {why}"),
            (Some(index), None) => {
                let course = golfer.course_handicap.map(|c| whole_handicap_text(c.rounded())).unwrap_or_default();
                format!(
                    "index {index}, Course Handicap {course}, plays off {}",
                    whole_handicap_text(golfer.playing_handicap)
                )
            }
            (None, None) => format!("plays off {}", whole_handicap_text(golfer.playing_handicap)),
        };
        out.push(Line::from(vec![
            Span::styled(format!("{mark}{}", golfer.name), looks.heading()),
            Span::styled(format!("  {} tees{}{handicap}", golfer.tee, looks.between()), looks.quiet()),
        ]));
        let top = out.len() as u16;
        let rows = [Row::Hole, Row::Par, Row::Index, Row::Strokes, Row::Gross, Row::Net, Row::Points];
        let parts: Vec<CardSheet> = parts_to_fit(sheet, width);
        let mut first = 0;
        for part in &parts {
            let here = at.checked_sub(first).filter(|p| *p < part.lines.len());
            let offset = out.len() as u16;
            let (lines, found) = strip(part, here.unwrap_or(usize::MAX), &rows, width, looks);
            if i == player && here.is_some() {
                place = found.map(|p| BoxPlace { column: p.column, row: p.row + offset });
            }
            out.extend(lines);
            first += part.lines.len();
        }
        debug_assert!(top <= out.len() as u16);
        let words = sheet.against_handicap();
        let total = sheet.total();
        if total.entered > 0 {
            let to_par = match total.to_par {
                0 => "level par".to_owned(),
                n if n > 0 => format!("{n} over par"),
                n => format!("{} under par", -n),
            };
            let holes = if total.entered == 1 { "1 hole".to_owned() } else { format!("{} holes", total.entered) };
            let missing = if total.has_total() {
                String::new()
            } else {
                format!("{}{} without a score", looks.between(), total.without_score)
            };
            out.push(Line::styled(
                format!(
                    "after {holes}: {to_par}{}{} points{}{words}{missing}",
                    looks.between(),
                    total.points,
                    looks.between()
                ),
                looks.text(),
            ));
        }
        out.push(Line::default());
    }
    (out, place)
}

/// The card whole when it fits, else its nines one under the other.
fn parts_to_fit(sheet: &CardSheet, width: usize) -> Vec<CardSheet> {
    let n = sheet.lines.len();
    if n <= sheet.first_part || width >= LABEL + n * 3 + 15 {
        return vec![sheet.clone()];
    }
    let (front, back) = sheet.lines.split_at(sheet.first_part);
    [front, back].iter().map(|p| CardSheet { lines: p.to_vec(), first_part: p.len() }).collect()
}

/// The strip's height in words for the plain rendering: what the row under the cursor says.
pub fn said(sheet: &CardSheet, at: usize) -> String {
    let Some(line) = sheet.lines.get(at) else { return String::new() };
    let paint = match line.hole.score {
        HoleScore::Empty => "no score yet".to_owned(),
        HoleScore::Gross(n) => format!("gross {n}"),
        HoleScore::PickedUp => "picked up".to_owned(),
        HoleScore::NotPlayed => "not played".to_owned(),
    };
    paint::shorten(&paint, 40)
}
