//! The rows of a card: which are shown, what stands in their boxes, the strip at the foot of the Hole page.

use super::paint;
use crate::handicap::Scoring;
use crate::scoring::HoleScore;
use crate::sheet::{CardLine, CardSheet, LiveCard, LiveSide};
use crate::tui::looks::Looks;
use crate::tui::state::State;
use crate::units::tenths::whole_handicap_text;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use std::ops::Range;
use unicode_width::UnicodeWidthStr;

/// The rows of a card.
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
    /// What the format of the round makes of each hole.
    Format,
}

impl Row {
    fn word(self, live: Option<&LiveCard>) -> &'static str {
        match self {
            Self::Gross => "gross",
            Self::Hole => "hole",
            Self::Strokes => "stroke",
            Self::Points => "points",
            Self::Par => "par",
            Self::Net => "net",
            Self::Index => "index",
            Self::Format => live.and_then(|l| l.row).unwrap_or("format"),
        }
    }
}

/// The rows that a round shows, from the one that never goes to the one that goes first. A format shows the figure that it
/// compares and no other count: net in a net match, points in Stableford, neither where gross scores are compared.
fn rows_that_matter(live: Option<&LiveCard>) -> Vec<Row> {
    use Row::{Format, Gross, Hole, Index, Net, Par, Points, Strokes};
    let Some(live) = live else { return vec![Gross, Hole, Strokes, Points, Par, Net, Index] };
    let format = live.row.is_some();
    let rows: &[Row] = match (live.play.scoring, live.gross) {
        (Scoring::Stableford, false) => &[Gross, Hole, Format, Strokes, Points, Par, Index],
        (Scoring::Stableford, true) => &[Gross, Hole, Format, Points, Par, Index],
        // What counts is net already, limited to the maximum.
        (Scoring::Maximum, false) => &[Gross, Hole, Format, Strokes, Par, Index],
        (_, false) => &[Gross, Hole, Format, Strokes, Net, Par, Index],
        (_, true) => &[Gross, Hole, Format, Par, Index],
    };
    rows.iter().copied().filter(|row| *row != Format || format).collect()
}

/// The rows that fit in `rows`, in the order in which they stand.
pub fn rows_for(rows: usize, live: Option<&LiveCard>) -> Vec<Row> {
    let order = [Row::Hole, Row::Par, Row::Index, Row::Strokes, Row::Gross, Row::Net, Row::Points, Row::Format];
    let mut kept = rows_that_matter(live);
    kept.truncate(rows);
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

/// The card of one player or side with what the format makes of it.
#[derive(Clone, Copy, Debug)]
pub struct Shown<'a> {
    /// The card.
    pub sheet: &'a CardSheet,
    /// The round's format and the side, when there is one.
    pub live: Option<(&'a LiveCard, &'a LiveSide)>,
}

impl<'a> Shown<'a> {
    /// The card of `player`.
    pub fn of(cards: &'a [CardSheet], live: Option<&'a LiveCard>, player: usize) -> Option<Self> {
        let sheet = cards.get(player)?;
        Some(Self { sheet, live: live.and_then(|l| Some((l, l.side_of(player)?))) })
    }
}

const LABEL: usize = 7;

/// The columns that a card needs to stand whole, with three columns a box.
pub const fn whole_width(holes: usize) -> usize {
    LABEL + holes * 3 + 15
}

/// Which positions are shown when the card is wider than the page: the part that holds `at`.
fn window(sheet: &CardSheet, at: usize, width: usize) -> (Range<usize>, usize) {
    let n = sheet.lines.len();
    // Wide boxes only where the words beside the card still fit.
    let cell = if width >= LABEL + n * 4 + 46 { 4 } else { 3 };
    let room = width.saturating_sub(LABEL + 12) / cell;
    if room >= n {
        return (0..n, cell);
    }
    let part = sheet.parts().into_iter().find(|part| part.contains(&at)).unwrap_or(0..n);
    if room >= part.len() || room == 0 {
        return (part.start..part.end.min(part.start + room.max(1)), cell);
    }
    let first = at.saturating_sub(room / 2).min(n.saturating_sub(room));
    (first..(first + room).min(n), cell)
}

/// The card as lines of at most `width` columns, the box of position `at` marked; and where that box is.
pub fn strip(
    shown: Shown<'_>,
    at: usize,
    rows: &[Row],
    width: usize,
    looks: Looks,
) -> (Vec<Line<'static>>, Option<BoxPlace>) {
    let (range, cell) = window(shown.sheet, at, width);
    rows_of(shown, rows, range, cell, at, looks)
}

/// Rows of a card over the positions of `range`, with totals after each part that is shown whole.
pub fn rows_of(
    shown: Shown<'_>,
    rows: &[Row],
    range: Range<usize>,
    cell: usize,
    at: usize,
    looks: Looks,
) -> (Vec<Line<'static>>, Option<BoxPlace>) {
    let sheet = shown.sheet;
    let parts = sheet.parts();
    let ends = |position: usize| {
        let part = parts.iter().find(|part| part.end == position + 1)?;
        let shown = range.start <= part.start && parts.len() > 1 && part.end <= sheet.round;
        shown.then(|| part.clone())
    };
    let mut place = None;
    let mut out = Vec::new();
    for (y, row) in rows.iter().enumerate() {
        let mut spans = vec![Span::styled(format!("{:<LABEL$}", row.word(shown.live.map(|l| l.0))), looks.quiet())];
        let mut column = LABEL;
        for position in range.clone() {
            let Some(line) = sheet.lines.get(position) else { continue };
            let (text, style) = boxed(*row, shown, line, position, looks);
            let here = position == at && matches!(row, Row::Gross | Row::Hole);
            let text = if here && *row == Row::Gross && text.is_empty() { "_".to_owned() } else { text };
            let text = paint::shorten(&text, cell - 1);
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
            if let Some(part) = ends(position) {
                spans.push(Span::styled(format!("{:>4} ", part_total(*row, shown, part)), looks.text()));
                column += 5;
            }
        }
        spans.push(Span::styled(format!("{:>5}", whole_total(*row, shown)), looks.heading()));
        out.push(Line::from(spans));
    }
    (out, place)
}

fn boxed(row: Row, shown: Shown<'_>, line: &CardLine, position: usize, looks: Looks) -> (String, Style) {
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
        Row::Gross => (scored(line), looks.text()),
        Row::Net => (hole.net().map(|n| n.to_string()).unwrap_or_default(), looks.text()),
        Row::Points => (hole.points().map(|p| p.to_string()).unwrap_or_default(), looks.text()),
        Row::Format => {
            let mark = shown.live.and_then(|(_, side)| side.marks.get(position)).cloned().unwrap_or_default();
            (mark, looks.figure())
        }
    }
}

/// A box as it stands: the score, `c` where the hole or the last stroke was conceded, `p` where penalty strokes are noted.
fn scored(line: &CardLine) -> String {
    let score = match line.hole.score {
        HoleScore::Empty => String::new(),
        score => score.to_string(),
    };
    let mark = match (line.conceded, line.penalty_strokes) {
        (true, _) => "c",
        (false, 0) => "",
        (false, _) => "p",
    };
    format!("{score}{mark}")
}

fn part_total(row: Row, shown: Shown<'_>, range: Range<usize>) -> String {
    let first = range.start == 0;
    let sheet = shown.sheet;
    let total = sheet.part(range.clone());
    match row {
        Row::Hole => if first { "out" } else { "in" }.to_owned(),
        Row::Par => sheet.par(range).to_string(),
        Row::Index | Row::Strokes | Row::Format => String::new(),
        _ if total.entered == 0 => String::new(),
        Row::Gross => figure(total.gross, total.has_total()),
        Row::Net => figure(total.net, total.has_total()),
        Row::Points => total.points.to_string(),
    }
}

fn whole_total(row: Row, shown: Shown<'_>) -> String {
    let sheet = shown.sheet;
    let total = sheet.total();
    match row {
        Row::Hole => "total".to_owned(),
        Row::Par => sheet.par(0..sheet.round).to_string(),
        Row::Index => String::new(),
        Row::Strokes => whole_handicap_text(sheet.lines.iter().take(sheet.round).map(|l| l.hole.strokes).sum()),
        Row::Format => shown.live.map(|(_, side)| side.figure.clone()).unwrap_or_default(),
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

/// Draws the card strip of the player looked at: their rows, where the format stands, and whether all is kept.
pub fn draw_strip(state: &State, buf: &mut Buffer, area: Rect) {
    let live = state.derived.live.as_ref();
    let Some(shown) = Shown::of(&state.derived.cards, live, state.player) else { return };
    let (width, height) = (usize::from(area.width), usize::from(area.height));
    let looks = state.looks;
    let kept = state.session.round.as_ref().map(|round| {
        let last = round.next_seq().saturating_sub(1);
        if state.kept >= last { "kept" } else { "writing…" }
    });
    let words = strip_words(state);
    let rows = rows_for(height, live);
    let (mut lines, _) = strip(shown, state.position, &rows, width, looks);
    let room = lines.last().map_or(0, |line| width.saturating_sub(line.width() + 2));
    if live.is_some() && height > 1 && words.width() > room {
        // What the format says matters more than a row that can be looked up on the card.
        let rows = rows_for(height - 1, live);
        lines = strip(shown, state.position, &rows, width, looks).0;
        let kept = kept.filter(|_| width >= words.width() + 12);
        let kept = kept.map(|kept| format!("{}{kept}", looks.between())).unwrap_or_default();
        lines.push(Line::from(vec![
            Span::styled(paint::shorten(&words, width), looks.heading()),
            Span::styled(kept, looks.quiet()),
        ]));
    } else {
        let style = if live.is_some() { looks.heading() } else { looks.quiet() };
        let beside = [(words, style), (kept.unwrap_or_default().to_owned(), looks.quiet())];
        for (line, (words, style)) in lines.iter_mut().rev().zip(beside) {
            if line.width() + words.width() + 2 <= width && !words.is_empty() {
                line.push_span(Span::raw("  "));
                line.push_span(Span::styled(words, style));
            }
        }
    }
    paint::lines(buf, area, &lines, looks);
}

/// Where the player looked at stands, in one sentence: the format's words and what is still needed, else against the
/// handicap.
pub fn strip_words(state: &State) -> String {
    let side = state.derived.live.as_ref().and_then(|live| Some((live, live.side_of(state.player)?)));
    match side {
        Some((live, side)) => {
            let name = if live.sides.len() > 1 { format!("{}: ", side.name) } else { String::new() };
            let needs = side.needs.as_ref().map(|needs| format!("; {needs}")).unwrap_or_default();
            format!("{name}{}{needs}", side.now)
        }
        None => state.derived.cards.get(state.player).map(CardSheet::against_handicap).unwrap_or_default(),
    }
}
