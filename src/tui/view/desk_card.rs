//! A card at the desk: being keyed, looked at with its keyings, ruled on; and texts of the desk.

use super::desk::{ends, fit, form_over, kept};
use super::{help, paint};
use crate::competition::cards::ruling_words;
use crate::competition::pad::{CardSheet, Focus, Pad};
use crate::scoring::HoleScore;
use crate::tui::looks::Looks;
use crate::tui::state::{Desk, State};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Columns of the names of rows.
const LABEL: usize = 9;

/// A row of boxes: its name, a text and style for each hole, a sum of a part of the card.
struct Boxes<'b> {
    label: String,
    cells: Vec<(String, Style)>,
    sum: Option<Box<dyn Fn(std::ops::Range<usize>) -> String + 'b>>,
}

/// Draws a card being keyed.
pub fn keying(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let desk = state.desk.as_ref()?;
    let (lines, at) = keying_lines(state, usize::from(area.width));
    paint::lines(buf, area, &lines, state.looks);
    let cursor = at.map(|(row, column)| (area.x + column as u16, area.y + row as u16));
    if desk.form.is_some() {
        form_over(state, buf, area)
    } else {
        cursor.filter(|(x, y)| *x < area.right() && *y < area.bottom())
    }
}

/// A card being keyed as lines, and row and column of the box that the next digit is for.
pub fn keying_lines(state: &State, width: usize) -> (Vec<Line<'static>>, Option<(usize, usize)>) {
    let looks = state.looks;
    let Some((desk, pad)) = state.desk.as_ref().and_then(|desk| Some((desk, desk.pad.as_ref()?))) else {
        return (vec![Line::styled("No card is being keyed.", looks.text())], None);
    };
    let mending =
        if pad.mended_by.is_some() { format!("mending the keying of {}", pad.keyer) } else { "Keying".to_owned() };
    let title = format!("{mending}{}{} ({})", looks.between(), pad.name, pad.id);
    let mut out = vec![ends(Span::styled(title, looks.heading()), kept(desk, looks), width)];
    let row = desk.board.as_ref().and_then(|board| board.card(&pad.id, pad.round));
    let mut facts = Vec::new();
    if !pad.sheet.tee.is_empty() {
        facts.push(format!("{} tees", pad.sheet.tee));
    }
    if let Some(playing) = pad.sheet.playing {
        let text = crate::units::tenths::whole_handicap_text(playing);
        facts.push(format!("Playing Handicap {text} ({})", pad.sheet.event));
    }
    if desk.board.as_ref().is_some_and(|board| board.competition.setup.rounds.len() > 1) {
        facts.push(format!("round {}", pad.round + 1));
    }
    if let Some(row) = row {
        if !row.group.is_empty() {
            facts.push(format!("group {} {}", row.group, row.start).trim_end().to_owned());
        }
        let others = row.keyers.iter().filter(|k| !k.keyer.eq_ignore_ascii_case(&pad.keyer) && !k.copy).count();
        if others > 0 && pad.mended_by.is_none() {
            facts.push("keyed before by somebody else: key what stands on the card".to_owned());
        }
    }
    out.extend(paint::wrap(&facts.join(looks.between()), width).into_iter().map(|l| Line::styled(l, looks.quiet())));
    out.push(Line::default());
    let scores: Vec<(String, Style)> = pad
        .scores
        .iter()
        .enumerate()
        .map(|(at, score)| {
            let here = at == pad.at && pad.focus == Focus::Holes;
            let asks = pad.question_on(at).is_some();
            let text = if score.is_entered() { score.to_string() } else { "_".to_owned() };
            let style = if here {
                looks.chosen()
            } else if asks {
                looks.caution()
            } else {
                looks.figure()
            };
            (text, style)
        })
        .collect();
    let rows = vec![
        par_row(&pad.sheet, looks),
        strokes_row(&pad.sheet, looks),
        Boxes {
            label: "score".to_owned(),
            cells: scores,
            sum: Some(Box::new(|range| {
                let sum: u32 =
                    pad.scores.get(range).unwrap_or_default().iter().filter_map(|s| s.gross()).map(u32::from).sum();
                if sum == 0 { String::new() } else { sum.to_string() }
            })),
        },
    ];
    let (lines, place) = table(&pad.sheet, &rows, pad.at, 2, width, looks);
    let top = out.len();
    out.extend(lines);
    out.push(Line::default());
    out.push(running(pad, looks));
    let total_at = out.len();
    let hint = if pad.focus == Focus::WrittenTotal { "  as a check, or Enter" } else { "" };
    let head = "Total written on the card: ";
    let figures = fit(if pad.written.is_empty() { "_" } else { &pad.written }, 3);
    let said = |who: &str, said: Option<bool>| {
        let said = match said {
            None => "not said",
            Some(true) => "yes",
            Some(false) => "NO",
        };
        format!("{who}: {said}")
    };
    out.push(Line::from(vec![
        Span::styled(head, looks.text()),
        Span::styled(figures, if pad.focus == Focus::WrittenTotal { looks.chosen() } else { looks.figure() }),
        Span::styled(hint, looks.quiet()),
    ]));
    out.push(Line::styled(
        format!("Certified by {}, {}", said("marker (m)", pad.marker), said("player (p)", pad.player)),
        looks.quiet(),
    ));
    out.push(Line::default());
    for question in pad.questions().into_iter().take(4) {
        out.extend(paint::wrap(&question, width).into_iter().map(|l| Line::styled(l, looks.caution())));
    }
    let cursor = match pad.focus {
        Focus::Holes => place.map(|(row, column)| (top + row, column)),
        Focus::WrittenTotal => Some((total_at, head.len() + pad.written.len())),
    };
    (out, cursor)
}

fn running(pad: &Pad, looks: Looks) -> Line<'static> {
    let sum = pad.running();
    let to_par = sum.gross - sum.par;
    let to_par = if to_par == 0 { "level".to_owned() } else { format!("{to_par:+}") };
    let mut parts = vec![
        format!("{} of {} holes", sum.entered, pad.scores.len()),
        format!("out {}", sum.first),
        format!("in {}", sum.last),
        format!("gross {} ({to_par})", sum.gross),
    ];
    if pad.sheet.playing.is_some() {
        parts.push(format!("net {}", sum.net));
    }
    parts.push(format!("{} points", sum.points));
    if sum.no_score {
        parts.push("a hole without a score".to_owned());
    }
    Line::styled(parts.join(looks.between()), looks.heading())
}

fn par_row(sheet: &CardSheet, looks: Looks) -> Boxes<'static> {
    let pars = sheet.pars.clone();
    Boxes {
        label: "par".to_owned(),
        cells: sheet.pars.iter().map(|par| (par.to_string(), looks.quiet())).collect(),
        sum: Some(Box::new(move |range| {
            pars.get(range).map_or_else(String::new, |own| own.iter().map(|p| u32::from(*p)).sum::<u32>().to_string())
        })),
    }
}

fn strokes_row(sheet: &CardSheet, looks: Looks) -> Boxes<'static> {
    let cells = sheet.strokes.iter().map(|strokes| {
        let text = match strokes {
            0 => String::new(),
            n @ 1.. => n.to_string(),
            n => format!("{n}"),
        };
        (text, looks.quiet())
    });
    Boxes { label: "receives".to_owned(), cells: cells.collect(), sum: None }
}

/// Rows of boxes in one band, or two where the width is too small; and the place of box `at` in row `of`.
fn table(
    sheet: &CardSheet,
    rows: &[Boxes<'_>],
    at: usize,
    of: usize,
    width: usize,
    looks: Looks,
) -> (Vec<Line<'static>>, Option<(usize, usize)>) {
    let holes = sheet.holes.len();
    let half = holes.div_ceil(2);
    let one_band = LABEL + holes * 3 + 3 * 5 <= width;
    let cell = if LABEL + holes * 4 + 3 * 5 <= width { 4 } else { 3 };
    let bands: Vec<Vec<std::ops::Range<usize>>> = if one_band && holes > 9 {
        vec![vec![0..half, half..holes]]
    } else if holes > 9 {
        vec![vec![0..half], vec![half..holes]]
    } else {
        vec![vec![0..holes]]
    };
    let mut out = Vec::new();
    let mut place = None;
    for (band_at, band) in bands.iter().enumerate() {
        if band_at > 0 {
            out.push(Line::default());
        }
        let mut line = vec![Span::styled(fit("hole", LABEL), looks.quiet())];
        for range in band {
            for hole in sheet.holes.get(range.clone()).unwrap_or_default() {
                line.push(Span::styled(format!("{hole:>cell$}"), looks.text()));
            }
            if holes > 9 {
                let name = if range.start == 0 { "out" } else { "in" };
                line.push(Span::styled(format!("{name:>5}"), looks.quiet()));
            }
        }
        let ends_here = band.last().is_some_and(|range| range.end == holes);
        if ends_here {
            line.push(Span::styled(" total", looks.quiet()));
        }
        out.push(Line::from(line));
        for (row_at, row) in rows.iter().enumerate() {
            let mut line = vec![Span::styled(fit(&row.label, LABEL), looks.quiet())];
            let mut column = LABEL;
            for range in band {
                for n in range.clone() {
                    let (text, style) = row.cells.get(n).cloned().unwrap_or_default();
                    let pad = cell.saturating_sub(text.len());
                    if n == at && row_at == of {
                        place = Some((out.len(), column + cell - 1));
                    }
                    line.push(Span::raw(" ".repeat(pad)));
                    line.push(Span::styled(text, style));
                    column += cell;
                }
                if holes > 9 {
                    let sum = row.sum.as_ref().map_or_else(String::new, |sum| sum(range.clone()));
                    line.push(Span::styled(format!("{sum:>5}"), looks.text()));
                    column += 5;
                }
            }
            if ends_here {
                let sum = row.sum.as_ref().map_or_else(String::new, |sum| sum(0..holes));
                line.push(Span::styled(format!("{sum:>6}"), looks.heading()));
            }
            out.push(Line::from(line));
        }
    }
    (out, place)
}

/// Draws a card looked at.
pub fn card(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let (lines, at) = card_lines(state, usize::from(area.width));
    help::scrolled(buf, area, &lines, 0, state.looks);
    form_over(state, buf, area)
        .or_else(|| at.map(|(row, column)| (area.x + column as u16, area.y + row as u16)))
        .filter(|(x, y)| *x < area.right() && *y < area.bottom())
}

/// A card looked at as lines, and row and column of the hole under the cursor.
pub fn card_lines(state: &State, width: usize) -> (Vec<Line<'static>>, Option<(usize, usize)>) {
    let looks = state.looks;
    let nothing = || (vec![Line::styled("No card is open.", looks.text())], None);
    let Some(desk) = &state.desk else { return nothing() };
    let (Some(board), Some((id, round, hole))) = (&desk.board, &desk.card) else { return nothing() };
    let Some(row) = board.card(id, *round) else { return nothing() };
    let title = format!("Card{0}{1} ({2}){0}{3}", looks.between(), row.name, row.id, row.words());
    let mut out = vec![ends(Span::styled(title, looks.heading()), kept(desk, looks), width), Line::default()];
    let blind = desk.is_blind(row);
    let disagree = row.card.as_ref().map(|card| card.disagree.clone()).unwrap_or_default();
    let mut rows = vec![par_row(&row.sheet, looks), strokes_row(&row.sheet, looks)];
    let mut notes = Vec::new();
    for keying in board.keyings(row) {
        let own = keying.keyer.eq_ignore_ascii_case(&desk.keyer);
        let when = keying.at.as_deref().unwrap_or("no time");
        let mended = keying.mended_by.as_deref().map_or_else(String::new, |by| format!(", mended by {by}"));
        let total = keying.written_total.map_or_else(String::new, |t| format!(", {t} written on the card"));
        let copy = if keying.copy { ", a conflict copy" } else { "" };
        let entered = keying.scores.iter().filter(|score| score.is_entered()).count();
        notes.push((
            format!("{} keyed {entered} holes at {when}{mended}{total}{copy} ({})", keying.keyer, keying.file),
            looks.quiet(),
        ));
        if blind && !own {
            notes
                .push((format!("what {} keyed is hidden until a second keying is whole", keying.keyer), looks.quiet()));
            continue;
        }
        rows.push(score_row(&keying.keyer, &keying.scores, &disagree, looks));
    }
    if let Some(card) = &row.card {
        if row.keyers.is_empty() {
            rows.push(score_row("field", &card.returned, &disagree, looks));
        }
        if card.stands != card.returned && !blind {
            rows.push(score_row("stands", &card.stands, &[], looks));
        }
    }
    rows.push(Boxes {
        label: String::new(),
        cells: (0..row.sheet.holes.len())
            .map(|at| match (at == *hole, disagree.contains(&at)) {
                (true, true) => ("^!".to_owned(), looks.danger()),
                (true, false) => ("^".to_owned(), looks.heading()),
                (false, true) => ("!".to_owned(), looks.danger()),
                _ => (String::new(), looks.quiet()),
            })
            .collect(),
        sum: None,
    });
    let of = rows.len() - 1;
    let (lines, place) = table(&row.sheet, &rows, *hole, of, width, looks);
    let top = out.len();
    out.extend(lines);
    out.push(Line::default());
    let name = row.sheet.names.get(*hole).filter(|name| !name.is_empty()).cloned().unwrap_or_default();
    let number = row.sheet.holes.get(*hole).copied().unwrap_or_default();
    let par = row.sheet.pars.get(*hole).copied().unwrap_or_default();
    notes.insert(0, (format!("Hole {number} {name}, par {par}. A digit keys it, r rules on it."), looks.text()));
    if !disagree.is_empty() {
        let words =
            "The keyings disagree where ! stands: look at the card. A digit mends your own keying, M the other one.";
        notes.push((words.to_owned(), looks.caution()));
    }
    for ruling in row.card.iter().flat_map(|card| &card.rulings).filter_map(|at| board.competition.rulings.get(*at)) {
        notes.push((format!("ruling: {}", ruling_words(ruling)), looks.text()));
    }
    for act in board.acts.iter().filter(|act| act.id.as_deref() == Some(id) && !act.words.starts_with("ruling")) {
        notes.push((act.words.clone(), looks.text()));
    }
    for issue in board.issues.iter().filter(|issue| issue.id.as_deref() == Some(id)) {
        notes.push((format!("{}: {}; {}", issue.weight.word(), issue.message, issue.advice), looks.caution()));
    }
    for (words, style) in notes {
        out.extend(paint::wrap(&words, width).into_iter().map(|l| Line::styled(l, style)));
    }
    (out, place.map(|(row, column)| (top + row, column)))
}

fn score_row<'b>(name: &str, scores: &'b [HoleScore], disagree: &[usize], looks: Looks) -> Boxes<'b> {
    let cells = scores.iter().enumerate().map(|(at, score)| {
        let text = if score.is_entered() { score.to_string() } else { "_".to_owned() };
        (text, if disagree.contains(&at) { looks.danger() } else { looks.figure() })
    });
    Boxes {
        label: paint::shorten(name, LABEL - 1),
        cells: cells.collect(),
        sum: Some(Box::new(move |range| {
            let end = range.end.min(scores.len());
            let own = scores.get(range.start.min(end)..end).unwrap_or_default();
            own.iter().filter_map(|s| s.gross()).map(u32::from).sum::<u32>().to_string()
        })),
    }
}

/// Draws a ruling being considered.
pub fn ruling(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let (lines, at) = ruling_lines(state, usize::from(area.width));
    let room = usize::from(area.height);
    let scroll = (at + 3).saturating_sub(room).min(lines.len().saturating_sub(room));
    help::scrolled(buf, area, &lines, scroll, state.looks);
    form_over(state, buf, area).or_else(|| Some((area.x, area.y + at.checked_sub(scroll)? as u16)))
}

/// A ruling being considered as lines, and the line of the outcome under the cursor.
pub fn ruling_lines(state: &State, width: usize) -> (Vec<Line<'static>>, usize) {
    let looks = state.looks;
    let Some((desk, ruling)) = state.desk.as_ref().and_then(|desk| Some((desk, desk.ruling.as_ref()?))) else {
        return (vec![Line::styled("No ruling is open.", looks.text())], 0);
    };
    let mut out = vec![Line::styled(
        format!("Ruling{0}{1}{0}hole {2}", looks.between(), name_of(desk, &ruling.id), ruling.hole),
        looks.heading(),
    )];
    let words = "What was returned is never altered. The lawful outcomes, and what each would change:";
    out.extend(paint::wrap(words, width).into_iter().map(|l| Line::styled(l, looks.quiet())));
    out.push(Line::default());
    let mut at = 0;
    if ruling.outcomes.is_empty() {
        out.push(Line::styled("Working them out.", looks.quiet()));
    }
    for (n, outcome) in ruling.outcomes.iter().enumerate() {
        let here = n == ruling.cursor;
        if here {
            at = out.len();
        }
        for (part_at, part) in paint::wrap(&outcome.when, width.saturating_sub(2)).into_iter().enumerate() {
            let lead = if here && part_at == 0 { "> " } else { "  " };
            let style = if here && part_at == 0 { looks.chosen() } else { looks.text() };
            out.push(Line::styled(format!("{lead}{part}"), style));
        }
        if outcome.changes.is_empty() {
            out.push(Line::styled("      changes no place", looks.quiet()));
        }
        for change in outcome.changes.iter().take(8) {
            for part in paint::wrap(change, width.saturating_sub(6)) {
                out.push(Line::styled(format!("      {part}"), looks.caution()));
            }
        }
        if outcome.changes.len() > 8 {
            out.push(Line::styled(format!("      and {} more", outcome.changes.len() - 8), looks.quiet()));
        }
    }
    out.push(Line::default());
    let words = format!("+ and - change the penalty strokes ({}). The Committee decides (Rule 20.2).", ruling.added);
    out.extend(paint::wrap(&words, width).into_iter().map(|l| Line::styled(l, looks.quiet())));
    if let Some(form) = &desk.form {
        // Read aloud, the form is part of the page.
        at = at.min(out.len() + form.fields.len());
    }
    (out, at)
}

fn name_of(desk: &Desk, id: &str) -> String {
    let name = desk.rows().iter().find(|row| row.id == id).map(|row| row.name.clone());
    name.map_or_else(|| id.to_owned(), |name| format!("{name} ({id})"))
}

/// Draws a text of the desk.
pub fn text(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let scroll = state.desk.as_ref().and_then(|desk| desk.text.as_ref()).map_or(0, |(_, _, scroll)| *scroll);
    help::scrolled(buf, area, &text_lines(state, usize::from(area.width)), scroll, state.looks);
    None
}

/// A text of the desk as lines.
pub fn text_lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let Some((title, lines, _)) = state.desk.as_ref().and_then(|desk| desk.text.as_ref()) else { return Vec::new() };
    let mut out = vec![Line::styled(title.clone(), looks.heading()), Line::default()];
    for line in lines {
        let indent = line.len() - line.trim_start().len();
        // A row of figures that is too long is cut by the edge rather than broken into nonsense.
        if line.trim_start().chars().filter(char::is_ascii_digit).count() > 12 || line.chars().count() <= width {
            out.push(Line::styled(line.clone(), looks.text()));
            continue;
        }
        for part in paint::wrap(line, width.saturating_sub(indent)) {
            out.push(Line::styled(format!("{}{part}", " ".repeat(indent)), looks.text()));
        }
    }
    out
}
