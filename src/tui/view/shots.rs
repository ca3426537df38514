//! The Shots page: a line a hole, the one looked at in a field, and what it means as it is typed.

use super::paint;
use crate::tui::state::State;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

/// Before the line of a hole: its number, par and score.
const HEAD: usize = 12;

/// How a line is written, for the foot of the page.
const FORM: &str = "d 150 8R r, 7i sl, (s) sw g, 2p 18: club, what it left, beside the line, what it finished in; sl ll sr lr missed; w o u a penalty; h holed; p putts and the first in feet";

/// Draws the page; returns the place of the cursor.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let width = usize::from(area.width);
    let form = paint::wrap(FORM, width);
    let (head, means) = (head(state), means(state, width));
    let foot = 1 + means.len() + form.len();
    paint::lines(buf, Rect { height: 1, ..area }, &[head], state.looks);
    let room = usize::from(area.height).saturating_sub(1 + foot).max(1);
    let (rows, place) = rows(state, width);
    let start = state.position.saturating_sub(room.saturating_sub(2)).min(rows.len().saturating_sub(room));
    let body = Rect { y: area.y + 1, height: room as u16, ..area };
    paint::lines(buf, body, rows.get(start..).unwrap_or_default(), state.looks);
    let below = Rect { y: body.bottom() + 1, height: area.bottom().saturating_sub(body.bottom() + 1), ..area };
    let mut words: Vec<Line<'static>> = means;
    words.extend(form.into_iter().map(|l| Line::styled(l, state.looks.quiet())));
    paint::lines(buf, below, &words, state.looks);
    let row = state.position.checked_sub(start)?;
    Some((area.x + place.min(area.width.saturating_sub(1)), body.y + u16::try_from(row).ok()?))
}

/// The whole page as lines.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let mut out = vec![head(state)];
    out.extend(rows(state, width).0);
    out.extend(means(state, width));
    out.push(Line::from(FORM));
    out
}

fn head(state: &State) -> Line<'static> {
    let looks = state.looks;
    let golfer = state.session.golfers.get(state.player);
    let name = golfer.map(|g| g.name.clone()).unwrap_or_default();
    let between = looks.between();
    Line::from(vec![
        Span::styled("Shots", looks.heading()),
        Span::styled(format!("{between}{name}{between}Enter keeps the line and goes on, Esc leaves"), looks.quiet()),
    ])
}

/// The holes with their lines, and the column of the cursor.
fn rows(state: &State, width: usize) -> (Vec<Line<'static>>, u16) {
    let looks = state.looks;
    let mut out = Vec::new();
    let mut place = HEAD as u16;
    let room = width.saturating_sub(HEAD).max(8);
    for (position, number) in state.session.order.iter().enumerate() {
        let par = state.derived.cards.get(state.player).and_then(|c| c.lines.get(position)).map_or(0, |l| l.hole.par);
        let score = state.session.boxes(state.player).get(position).map(|b| b.score.to_string()).unwrap_or_default();
        let score = if score.is_empty() { "-".to_owned() } else { score };
        let here = position == state.position;
        let head = format!("{}{number:<3}par {par} {score:>2} ", if here { ">" } else { " " });
        if !here {
            let line = paint::shorten(&looks.plain(&state.logged_line(position)), room);
            out.push(Line::from(vec![Span::styled(head, looks.quiet()), Span::styled(line, looks.text())]));
            continue;
        }
        let Some(screen) = state.shots_screen() else { continue };
        // A long line shows the part about the cursor.
        let cursor = screen.input.visual_cursor();
        let from = screen.input.visual_scroll(room.saturating_sub(1));
        let shown: String = screen.input.value().chars().skip(from).take(room).collect();
        place = (HEAD + cursor.saturating_sub(from)) as u16;
        out.push(Line::from(vec![
            Span::styled(head, looks.heading()),
            Span::styled(format!("{shown:<room$}"), looks.chosen()),
        ]));
    }
    (out, place)
}

/// What the typed line means: strokes against the card, or what is wrong.
fn means(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let (words, style) = match state.typed_shots() {
        Err(why) => (why, looks.caution()),
        Ok(shots) if shots.is_empty() => ("nothing is logged of this hole".to_owned(), looks.quiet()),
        Ok(shots) => {
            let strokes = shots.strokes();
            let card = state.session.boxes(state.player).get(state.position).and_then(|b| b.score.gross());
            let card = match card.map(usize::from) {
                Some(card) if card == strokes => ", as the card says".to_owned(),
                Some(card) => format!("; the card says {card}, and the card counts"),
                None if shots.holed_out() => "; that becomes the score".to_owned(),
                None => "; not holed yet".to_owned(),
            };
            let penalties = match shots.penalties() {
                0 => String::new(),
                1 => ", a penalty among them".to_owned(),
                n => format!(", {n} penalties among them"),
            };
            (format!("{strokes} strokes{penalties}{card}"), looks.figure())
        }
    };
    paint::wrap(&words, width).into_iter().map(|l| Line::styled(looks.plain(&l), style)).collect()
}
