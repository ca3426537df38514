//! The Desk page: its head, its parts, an open form.

use super::paint;
use crate::competition::board::{Board, CardRow};
use crate::competition::cards::CardStatus;
use crate::competition::issue::Weight;
use crate::competition::result::Line as ResultLine;
use crate::handicap::Scoring;
use crate::tui::looks::Looks;
use crate::tui::state::{Desk, DeskForm as Form, FormKind, Part, State};
use crate::tui::update::desk_forms::found;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// From this width on the groups stand beside the cards.
const WITH_GROUPS: usize = 78;
const GROUPS_WIDTH: usize = 24;

/// Draws the page; returns where the cursor belongs.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let width = usize::from(area.width);
    let head = head(state, width);
    let rows = (head.len() as u16).min(area.height.saturating_sub(1));
    paint::lines(buf, Rect { height: rows, ..area }, &head, state.looks);
    let body = Rect { y: area.y + rows, height: area.height - rows, ..area };
    let desk = state.desk.as_ref()?;
    let beside = desk.part == Part::Cards && width >= WITH_GROUPS && desk.board.is_some();
    let list_width = if beside { width - GROUPS_WIDTH - 2 } else { width };
    let (lines, at) = part_lines(state, desk, list_width);
    let room = usize::from(body.height);
    let scroll = scroll_to(at, lines.len(), room);
    let shown = lines.get(scroll..).unwrap_or_default();
    paint::lines(buf, Rect { width: list_width as u16, ..body }, shown, state.looks);
    if beside && let Some(board) = &desk.board {
        let right = Rect { x: body.x + (list_width + 2) as u16, width: GROUPS_WIDTH as u16, ..body };
        let groups = group_lines(board, state.looks, room);
        let here = desk
            .row()
            .map_or(0, |row| groups.iter().position(|(g, _)| *g == (row.round, row.group.clone())).unwrap_or(0));
        let from = scroll_to(here, groups.len(), room);
        let lines: Vec<Line<'static>> = groups.into_iter().skip(from).map(|(_, line)| line).collect();
        paint::lines(buf, right, &lines, state.looks);
    }
    let place = at.checked_sub(scroll).filter(|y| *y < room && !lines.is_empty());
    let cursor = place.map(|y| (area.x, body.y + y as u16));
    form_over(state, buf, area).or(cursor)
}

fn scroll_to(at: usize, length: usize, room: usize) -> usize {
    (at + 1 + room / 4).saturating_sub(room).min(length.saturating_sub(room))
}

/// The whole page as lines.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let mut out = head(state, width);
    let Some(desk) = &state.desk else { return out };
    out.extend(part_lines(state, desk, width).0);
    if let Some(form) = &desk.form {
        out.extend(form_lines(desk, form, width, state.looks).0);
    }
    out
}

/// Name, keyer, parts, counts.
fn head(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let Some(desk) = &state.desk else {
        return vec![
            Line::styled("Desk", looks.heading()),
            Line::default(),
            Line::styled("No competition is open. N makes one; the Shelf (s) lists those there are.", looks.text()),
        ];
    };
    let Some(board) = &desk.board else {
        let words = match (&desk.gone, desk.folder.is_empty()) {
            (Some(words), _) => words.clone(),
            (None, true) => "No competition is open. N makes one; the Shelf (s) lists those there are.".to_owned(),
            (None, false) if desk.errors > 0 => {
                format!("{}: {} errors stand in the way of a total", desk.folder, desk.errors)
            }
            (None, false) => format!("Reading {}", desk.folder),
        };
        let mut out = vec![Line::styled("Desk", looks.heading())];
        out.extend(paint::wrap(&words, width).into_iter().map(|l| Line::styled(l, looks.text())));
        if !desk.folder.is_empty() {
            out.push(tabs(desk, looks, width));
        }
        return out;
    };
    let setup = &board.competition.setup;
    let dates: Vec<&str> = setup.rounds.iter().map(|round| round.date.as_str()).collect();
    let title = format!("Desk{0}{1}{0}{2}", looks.between(), setup.name, dates.join(" and "));
    let mut out = vec![ends(Span::styled(title, looks.heading()), kept(desk, looks), width)];
    out.push(tabs(desk, looks, width));
    out.push(Line::from(counts(board, looks)));
    let mut warn = |words: String| {
        out.extend(paint::wrap(&words, width).into_iter().map(|l| Line::styled(l, looks.danger())));
    };
    if let Some(words) = &desk.gone {
        warn(format!("The folder cannot be read now, what you see is as it was: {words}"));
    }
    if let Some(words) = &desk.trouble {
        warn(format!("{} not kept yet, tried again: {words}", desk.waiting));
    }
    if desk.errors > 0 {
        warn(format!("A file has an error ({}); what you see is as it was before: see Problems", desk.errors));
    }
    out
}

/// Left and right of one line.
pub fn ends(left: Span<'static>, right: Span<'static>, width: usize) -> Line<'static> {
    let room = width.saturating_sub(right.width() + 1);
    let text = paint::shorten(&left.content, room);
    let pad = width.saturating_sub(text.width() + right.width());
    Line::from(vec![Span::styled(text, left.style), Span::raw(" ".repeat(pad)), right])
}

/// Who keys, and whether what was keyed is on the disk.
pub fn kept(desk: &Desk, looks: Looks) -> Span<'static> {
    let keyer = if desk.keyer.is_empty() { String::new() } else { format!("keyer {}", desk.keyer) };
    match desk.waiting {
        0 if keyer.is_empty() => Span::raw(""),
        0 => Span::styled(format!("{keyer}{}kept", looks.between()), looks.quiet()),
        n if desk.trouble.is_some() => Span::styled(format!("{keyer}{}{n} NOT kept", looks.between()), looks.danger()),
        _ => Span::styled(format!("{keyer}{}keeping", looks.between()), looks.quiet()),
    }
}

fn tabs(desk: &Desk, looks: Looks, width: usize) -> Line<'static> {
    let mut spans = Vec::new();
    let gap = if width < 64 { " " } else { "  " };
    for part in Part::ALL {
        let problems = desk.board.as_ref().map_or(0, |b| b.issues.len()) + desk.errors;
        let title = match part {
            Part::Problems if problems > 0 => format!("{} {problems}", part.title()),
            _ => part.title().to_owned(),
        };
        let here = part == desk.part;
        let title = if here { format!("[{title}]") } else { title };
        spans.push(Span::styled(title, if here { looks.chosen() } else { looks.quiet() }));
        spans.push(Span::raw(gap));
    }
    Line::from(spans)
}

fn counts(board: &Board, looks: Looks) -> Vec<Span<'static>> {
    let names = ["out", "in", "keyed once", "keyed twice", "mismatch", "query", "confirmed", "no place"];
    let mut spans = vec![Span::styled(format!("{} cards: ", board.cards.len()), looks.text())];
    let mut some = false;
    for (at, (count, name)) in board.counts.iter().zip(names).enumerate() {
        if *count == 0 {
            continue;
        }
        if some {
            spans.push(Span::styled(looks.between(), looks.quiet()));
        }
        some = true;
        let style = if at == 4 || at == 5 { looks.caution() } else { looks.text() };
        spans.push(Span::styled(format!("{count} {name}"), style));
    }
    let end = if board.is_final { "   final" } else { "   not final" };
    spans.push(Span::styled(end, if board.is_final { looks.heading() } else { looks.quiet() }));
    spans
}

/// The mark of a card: a sign for each status, with a letter or shape of its own.
fn mark(row: &CardRow) -> (&'static str, bool) {
    if let Some(status) = row.without_place {
        return (status.code(), false);
    }
    match row.status {
        CardStatus::Out => (".", false),
        CardStatus::In => ("i", false),
        CardStatus::KeyedOnce => ("1", false),
        CardStatus::KeyedTwice => ("2", false),
        CardStatus::Mismatch => ("!", true),
        CardStatus::Query => ("?", true),
        CardStatus::Confirmed => ("=", false),
    }
}

type GroupLine = ((usize, String), Line<'static>);

/// A line a group: its name and a mark a card.
fn group_lines(board: &Board, looks: Looks, room: usize) -> Vec<GroupLine> {
    let mut out: Vec<GroupLine> = Vec::new();
    for row in &board.cards {
        let key = (row.round, row.group.clone());
        if out.last().is_none_or(|(last, _)| *last != key) {
            let group = if row.group.is_empty() { "no group".to_owned() } else { row.group.clone() };
            let head = format!("{:>3} {:<6}", paint::shorten(&group, 8), paint::shorten(&row.start, 6));
            out.push((key, Line::from(vec![Span::styled(head, looks.quiet())])));
        }
        if let Some((_, line)) = out.last_mut()
            && line.width() + 3 < GROUPS_WIDTH
        {
            let (mark, asks) = mark(row);
            line.push_span(Span::styled(format!(" {mark}"), if asks { looks.danger() } else { looks.text() }));
        }
    }
    if room > out.len() + 3 {
        for words in ["", ". out  i in  1 once", "2 twice  = confirmed", "! mismatch  ? query"] {
            out.push(((usize::MAX, String::new()), Line::styled(words, looks.quiet())));
        }
    }
    out
}

/// The part looked at as lines, and the line of its cursor.
fn part_lines(state: &State, desk: &Desk, width: usize) -> (Vec<Line<'static>>, usize) {
    let looks = state.looks;
    let Some(board) = &desk.board else {
        return match desk.part {
            Part::SetUp => set_up(desk, looks, width),
            _ => (desk.problems.iter().map(|l| Line::styled(l.clone(), looks.text())).collect(), desk.cursor()),
        };
    };
    match desk.part {
        Part::Cards => cards(desk, board, looks, width),
        Part::Live => live(desk, board, looks, width),
        Part::Field => field(desk, board, looks, width),
        Part::Acts => acts(desk, board, looks, width),
        Part::Problems => problems(desk, board, looks, width),
        Part::SetUp => set_up(desk, looks, width),
        Part::Results => {
            let mut out = Vec::new();
            if let Some(proof) = &desk.proof {
                let style = if proof.holds() { looks.heading() } else { looks.caution() };
                out.extend(paint::wrap(&proof.words(), width).into_iter().map(|l| Line::styled(l, style)));
            } else {
                out.push(Line::styled("Not closed yet; C closes when nothing is missing.", looks.quiet()));
            }
            out.push(Line::default());
            out.extend(board.notice_board.lines().map(|l| Line::styled(l.to_owned(), looks.text())));
            (out, desk.cursor())
        }
    }
}

fn cursor_style(here: bool, looks: Looks) -> (&'static str, Style) {
    if here { ("> ", looks.chosen()) } else { ("  ", looks.text()) }
}

/// Text in so many columns.
pub fn fit(text: &str, width: usize) -> String {
    let text = paint::shorten(text, width);
    let pad = width.saturating_sub(text.width());
    format!("{text}{}", " ".repeat(pad))
}

fn cards(desk: &Desk, board: &Board, looks: Looks, width: usize) -> (Vec<Line<'static>>, usize) {
    let mut out = Vec::new();
    let mut at = 0;
    let mut last = None;
    if board.cards.is_empty() {
        let words = "Nobody is entered. F reads a list, E enters a player by keys.";
        return (paint::wrap(words, width).into_iter().map(|l| Line::styled(l, looks.text())).collect(), 0);
    }
    let name_width = width.saturating_sub(2 + 13 + 7 + 18).clamp(12, 30);
    for (index, row) in board.cards.iter().enumerate() {
        let key = (row.round, &row.group, &row.start);
        if last != Some(key) {
            last = Some(key);
            let round = if board.competition.setup.rounds.len() > 1 {
                format!("round {}, ", row.round + 1)
            } else {
                String::new()
            };
            let group = if row.group.is_empty() { "no group".to_owned() } else { format!("group {}", row.group) };
            out.push(Line::styled(format!("{round}{group} {}", row.start), looks.quiet()));
        }
        let here = index == desk.cursor();
        if here {
            at = out.len();
        }
        let (lead, style) = cursor_style(here, looks);
        let asks = mark(row).1;
        let keyers: Vec<String> = row
            .keyers
            .iter()
            .map(|k| {
                let copy = if k.copy { " copy" } else { "" };
                if k.whole { format!("{}{copy}", k.keyer) } else { format!("{}{copy} {}", k.keyer, k.entered) }
            })
            .collect();
        out.push(Line::from(vec![
            Span::styled(format!("{lead}{}", fit(&row.name, name_width)), style),
            Span::styled(format!(" {}", fit(row.words(), 13)), if asks { looks.caution() } else { looks.text() }),
            Span::styled(fit(&row.id, 7), looks.quiet()),
            Span::styled(keyers.join(", "), looks.quiet()),
        ]));
    }
    (out, at)
}

fn figures(line: &ResultLine, scoring: Option<Scoring>) -> String {
    let number = |value: Option<i32>| value.map_or_else(|| "  -".to_owned(), |v| format!("{v:>3}"));
    match scoring {
        None => line.merit.map_or_else(String::new, crate::competition::words::points_text),
        Some(Scoring::Stableford) => format!("{} points", number(line.points)),
        Some(Scoring::ParBogey) => line.result.map_or_else(|| "-".to_owned(), |r| format!("{r:+}")),
        Some(_) => format!("gross {} net {}", number(line.gross), number(line.net)),
    }
}

fn live(desk: &Desk, board: &Board, looks: Looks, width: usize) -> (Vec<Line<'static>>, usize) {
    let Some(order) = board.events.get(desk.order) else {
        return (vec![Line::styled("There is no event: + adds one to the set-up.", looks.text())], 0);
    };
    let scoring = order.play.map(|play| play.scoring);
    let title = format!("{} ({} of {}, Left and Right)", order.title(), desk.order + 1, board.events.len());
    let mut out = vec![Line::styled(title, looks.heading())];
    if let Some(needs) = board.needs.get(desk.order) {
        let can: Vec<_> = needs.out.iter().filter(|need| need.can).collect();
        if !needs.leader.is_empty() && !needs.out.is_empty() {
            let words =
                format!("In the clubhouse: {}. Still out {}, can pass {}:", needs.leader, needs.out.len(), can.len());
            out.extend(paint::wrap(&words, width).into_iter().map(|l| Line::styled(l, looks.text())));
            for need in can.iter().take(6) {
                out.extend(
                    paint::wrap(&need.words, width.saturating_sub(2))
                        .into_iter()
                        .map(|l| Line::styled(format!("  {l}"), looks.caution())),
                );
            }
            if can.len() > 6 {
                out.push(Line::styled(format!("  and {} more", can.len() - 6), looks.quiet()));
            }
        } else if !needs.leader.is_empty() {
            out.push(Line::styled(format!("Nobody is out. First: {}.", needs.leader), looks.text()));
        }
    }
    let mut at = 0;
    let name_width = width.saturating_sub(2 + 6 + 20 + 16).clamp(12, 32);
    for (index, line) in order.lines.iter().enumerate() {
        let here = index == desk.cursor();
        if here {
            at = out.len();
        }
        let (lead, style) = cursor_style(here, looks);
        let place = match (line.place, line.status) {
            (Some(place), _) if line.tied => format!("{place}="),
            (Some(place), _) => place.to_string(),
            (None, Some(status)) => status.code().to_owned(),
            (None, None) => String::new(),
        };
        let settled = match (&line.decided_by, &line.unfinished) {
            (Some(by), _) => by.to_string(),
            (None, Some(why)) => why.clone(),
            _ => String::new(),
        };
        let spans = vec![
            Span::styled(format!("{lead}{place:<5}{}", fit(&line.name, name_width)), style),
            Span::styled(format!(" {:<18} ", figures(line, scoring)), looks.figure()),
            Span::styled(settled, looks.quiet()),
        ];
        out.push(Line::from(spans));
    }
    if order.lines.is_empty() {
        out.push(Line::styled("Nobody is in this division.", looks.quiet()));
    }
    (out, at)
}

fn field(desk: &Desk, board: &Board, looks: Looks, width: usize) -> (Vec<Line<'static>>, usize) {
    if board.field.is_empty() {
        let words = "Nobody is entered. F reads a list, E enters a player by keys.";
        return (paint::wrap(words, width).into_iter().map(|l| Line::styled(l, looks.text())).collect(), 0);
    }
    let as_of =
        board.competition.setup.as_of.as_deref().map_or_else(String::new, |day| format!(", indexes as of {day}"));
    let name_width = width.saturating_sub(60).clamp(14, 30);
    let head = format!(
        "  {} {:<7} {:<6} {:>5} {:<9} {:>4} {:>4}  {}",
        fit("name", name_width),
        "id",
        "rated",
        "index",
        "tee",
        "CH",
        "PH",
        "start"
    );
    let mut out = vec![
        Line::styled(format!("{} entries{as_of}; Enter shows the working", board.field.len()), looks.text()),
        Line::styled(head, looks.quiet()),
    ];
    let mut at = 0;
    for (index, row) in board.field.iter().enumerate() {
        let here = index == desk.cursor();
        if here {
            at = out.len();
        }
        let (lead, style) = cursor_style(here, looks);
        let start = [row.status.as_str(), row.start.as_str(), row.category.as_str()];
        let start: Vec<&str> = start.into_iter().filter(|part| !part.is_empty()).collect();
        out.push(Line::from(vec![
            Span::styled(format!("{lead}{}", fit(&row.name, name_width)), style),
            Span::styled(
                format!(
                    " {} {:<6} {:>5} {} {:>4} {:>4}  {}",
                    fit(&row.id, 7),
                    row.ratings,
                    row.index,
                    fit(&row.tee, 9),
                    row.course_handicap,
                    row.playing_handicap,
                    start.join(", ")
                ),
                looks.text(),
            ),
        ]));
    }
    (out, at)
}

fn wrapped_list(items: Vec<(String, Style)>, cursor: usize, looks: Looks, width: usize) -> (Vec<Line<'static>>, usize) {
    let mut out = Vec::new();
    let mut at = 0;
    for (index, (words, style)) in items.into_iter().enumerate() {
        let here = index == cursor;
        if here {
            at = out.len();
        }
        for (n, part) in paint::wrap(&words, width.saturating_sub(2)).into_iter().enumerate() {
            let lead = if here && n == 0 { "> " } else { "  " };
            let style = if here && n == 0 { looks.chosen() } else { style };
            out.push(Line::styled(format!("{lead}{part}"), style));
        }
    }
    (out, at)
}

fn acts(desk: &Desk, board: &Board, looks: Looks, width: usize) -> (Vec<Line<'static>>, usize) {
    if board.acts.is_empty() {
        return (vec![Line::styled("No ruling and no late act has been recorded.", looks.text())], 0);
    }
    let items = board.acts.iter().map(|act| (act.words.clone(), looks.text())).collect();
    wrapped_list(items, desk.cursor(), looks, width)
}

fn problems(desk: &Desk, board: &Board, looks: Looks, width: usize) -> (Vec<Line<'static>>, usize) {
    let mut items: Vec<(String, Style)> = Vec::new();
    for issue in &board.issues {
        let who = match (&issue.name, &issue.id) {
            (Some(name), Some(id)) if name != id => format!("{name} ({id}): "),
            (Some(name), _) => format!("{name}: "),
            _ => String::new(),
        };
        let style = if issue.weight == Weight::Open { looks.caution() } else { looks.text() };
        items.push((format!("{}: {who}{}; {}", issue.weight.word(), issue.message, issue.advice), style));
    }
    items.extend(desk.problems.iter().map(|l| (l.clone(), looks.text())));
    if items.is_empty() {
        return (vec![Line::styled("Nothing is missing and nothing disagrees.", looks.text())], 0);
    }
    wrapped_list(items, desk.cursor(), looks, width)
}

fn set_up(desk: &Desk, looks: Looks, width: usize) -> (Vec<Line<'static>>, usize) {
    let mut out = Vec::new();
    let mut at = 0;
    let mut last: Option<Option<usize>> = None;
    for (index, row) in desk.setup.iter().enumerate() {
        if last != Some(row.event) {
            last = Some(row.event);
            let heading = if row.event.is_none() { "The competition".to_owned() } else { format!("Event: {}", row.of) };
            out.push(Line::styled(heading, looks.heading()));
        }
        let here = index == desk.cursor();
        if here {
            at = out.len();
        }
        let (lead, style) = cursor_style(here, looks);
        let room = width.saturating_sub(20);
        let value = if row.value.is_empty() {
            Span::styled(paint::shorten(&format!("({})", row.hint), room), looks.quiet())
        } else {
            Span::styled(paint::shorten(&row.value, room), looks.text())
        };
        out.push(Line::from(vec![Span::styled(format!("{lead}{:<16} ", row.key), style), value]));
    }
    (out, at)
}

/// Draws an open form over the lower part of a page of the desk; returns where its cursor is.
pub fn form_over(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let desk = state.desk.as_ref()?;
    let form = desk.form.as_ref()?;
    let (lines, at) = form_lines(desk, form, usize::from(area.width), state.looks);
    let rows = (lines.len() as u16).min(area.height);
    let over = Rect { y: area.bottom() - rows, height: rows, ..area };
    for y in over.top()..over.bottom() {
        paint::text(buf, over, over.x, y, &" ".repeat(usize::from(over.width)), Style::reset(), state.looks);
    }
    let from = lines.len().saturating_sub(usize::from(rows));
    paint::lines(buf, over, lines.get(from..).unwrap_or_default(), state.looks);
    let (row, column) = at;
    let y = over.y + row.checked_sub(from)? as u16;
    Some((over.x + (column as u16).min(over.width.saturating_sub(1)), y))
}

/// The form as lines, and row and column of its cursor.
fn form_lines(desk: &Desk, form: &Form, width: usize, looks: Looks) -> (Vec<Line<'static>>, (usize, usize)) {
    let rule = if looks.ascii { "-" } else { "─" };
    let mut out = vec![Line::styled(rule.repeat(width), looks.quiet())];
    out.extend(paint::wrap(&form.title, width).into_iter().map(|l| Line::styled(l, looks.heading())));
    let mut cursor = (0, 0);
    let label_width = form.fields.iter().map(|f| f.label.len()).max().unwrap_or(0) + 2;
    for (at, field) in form.fields.iter().enumerate() {
        let here = at == form.at;
        let label = format!("{:<label_width$}", field.label);
        let value = field.input.value();
        let room = width.saturating_sub(label_width + 1);
        // The end of a long value is what is being typed.
        let from = field.input.visual_scroll(room);
        let shown: String = value.chars().skip(from).collect();
        if here {
            cursor = (out.len(), label_width + field.input.visual_cursor().saturating_sub(from));
        }
        let value = if field.choices.is_empty() { shown.clone() } else { format!("< {value} >") };
        let pad = 24_usize.saturating_sub(value.width()).min(room.saturating_sub(value.width()));
        let mut spans = vec![
            Span::styled(label, if here { looks.heading() } else { looks.quiet() }),
            Span::styled(format!("{value}{}", " ".repeat(pad)), if here { looks.chosen() } else { looks.text() }),
        ];
        let left = width.saturating_sub(label_width + value.width() + pad + 2);
        if here && field.hint.width() <= left {
            spans.push(Span::styled(format!("  {}", field.hint), looks.quiet()));
        }
        out.push(Line::from(spans));
        if here && field.hint.width() > left {
            out.extend(paint::wrap(field.hint, width).into_iter().map(|l| Line::styled(l, looks.quiet())));
        }
    }
    if form.kind == FormKind::Find {
        for (n, row) in found(desk.rows(), &form.value(0)).into_iter().take(5).enumerate() {
            let lead = if n == 0 { "> " } else { "  " };
            let words = format!("{lead}{} {} {}", fit(&row.name, 26), fit(&row.id, 8), row.words());
            out.push(Line::styled(words, if n == 0 { looks.text() } else { looks.quiet() }));
        }
    }
    for reason in form.refused.iter().take(12) {
        out.extend(paint::wrap(reason, width).into_iter().map(|l| Line::styled(l, looks.caution())));
    }
    let foot = if form.fields.len() > 1 {
        "Enter goes on, Up and Down change fields, Esc leaves it"
    } else {
        "Enter takes it, Esc leaves it"
    };
    out.push(Line::styled(foot, looks.quiet()));
    (out, cursor)
}
