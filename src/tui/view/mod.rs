//! Draws the state; works nothing out. The same lines make the plain text of a page.

pub mod annotate;
pub mod bag;
mod bag_scale;
pub mod card;
pub mod card_page;
pub mod commit;
pub mod day;
pub mod desk;
pub mod desk_card;
pub mod desk_form;
pub mod draw;
pub mod from_here;
pub mod green;
pub mod handicap;
pub mod help;
pub mod hole;
pub mod layout;
pub mod measure;
pub mod paint;
pub mod panel;
pub mod plain;
pub mod plan;
pub mod plot;
pub mod problems;
pub mod pupils;
pub mod review;
pub mod ribbon;
pub mod scout;
pub mod shelf;
pub mod shots;

use super::commands::{self, Page};
use super::keymap::Found;
use super::looks::Looks;
use super::state::{Screen, State, Weight};
use layout::Shape;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use unicode_width::UnicodeWidthStr;

/// Draws everything; returns where the terminal's cursor belongs.
pub fn view(state: &State, buf: &mut Buffer) -> Option<(u16, u16)> {
    let area = buf.area;
    let Some(shape) = layout::shape(area) else {
        let (w, h) = layout::LEAST;
        let words = format!("needs {w}x{h}");
        paint::text(buf, area, area.x, area.y, &words, Style::new(), state.looks);
        return None;
    };
    let inner = Rect { height: area.height - 1, ..area };
    let below = state.page_below();
    let mut cursor = match below {
        Page::Card => draw_card(state, buf, inner, shape),
        Page::Shelf => shelf::draw(state, buf, inner),
        Page::Bag => bag::draw(state, buf, inner, shape),
        Page::Handicap => handicap::draw(state, buf, inner),
        Page::Review => review::draw(state, buf, inner),
        Page::Shots => shots::draw(state, buf, inner),
        Page::Annotate => annotate::draw(state, buf, area, shape),
        Page::Draw => draw::draw(state, buf, area, shape),
        Page::Measure => measure::draw(state, buf, area, shape),
        Page::Pupils => pupils::draw(state, buf, inner, shape),
        Page::Scout => scout::draw(state, buf, inner, shape),
        Page::Merge => scout::draw_merge(state, buf, inner, shape),
        Page::Day => day::draw(state, buf, inner),
        Page::Green => green::draw(state, buf, inner),
        Page::Desk => desk::draw(state, buf, inset(inner, shape)),
        Page::Keying => desk_card::keying(state, buf, inset(inner, shape)),
        Page::DeskCard => desk_card::card(state, buf, inset(inner, shape)),
        Page::Ruling => desk_card::ruling(state, buf, inset(inner, shape)),
        Page::DeskText => desk_card::text(state, buf, inset(inner, shape)),
        Page::Problems => {
            let scroll = scroll_of(state, Page::Problems);
            help::scrolled(buf, inner, &problems::lines(state, usize::from(inner.width)), scroll, state.looks);
            None
        }
        Page::Hole | Page::Commit | Page::Help | Page::Finder => hole::draw(state, buf, area, shape),
    };
    match state.screens.last() {
        Some(Screen::Help { scroll }) => {
            clear(buf, inner, state.looks);
            help::scrolled(buf, inner, &help::help_lines(state, below, usize::from(inner.width)), *scroll, state.looks);
            cursor = None;
        }
        Some(Screen::Finder(finder)) => cursor = help::finder(buf, inner, state, finder, below),
        _ => {}
    }
    let margin = u16::from(shape == Shape::Wide);
    foot(state, buf, Rect { x: area.x + margin, y: area.bottom() - 1, width: area.width - 2 * margin, height: 1 });
    cursor
}

/// One column in from the edge where there is room.
fn inset(area: Rect, shape: Shape) -> Rect {
    let margin = u16::from(shape == Shape::Wide);
    Rect { x: area.x + margin, width: area.width - 2 * margin, ..area }
}

fn scroll_of(state: &State, page: Page) -> usize {
    state
        .screens
        .iter()
        .rev()
        .find_map(|s| match s {
            Screen::Card { scroll } | Screen::Problems { scroll } if s.page() == page => Some(*scroll),
            _ => None,
        })
        .unwrap_or(0)
}

fn clear(buf: &mut Buffer, area: Rect, looks: Looks) {
    for y in area.top()..area.bottom() {
        paint::text(buf, area, area.x, y, &" ".repeat(usize::from(area.width)), Style::reset(), looks);
    }
}

fn draw_card(state: &State, buf: &mut Buffer, area: Rect, _shape: Shape) -> Option<(u16, u16)> {
    let looks = state.looks;
    let title = state.session.course.as_ref().map(|c| c.name.clone()).unwrap_or_default();
    let kind = state.session.round.as_ref().map_or("no round yet", |r| r.opening().kind.word());
    let x = paint::text(buf, area, area.x, area.y, "Card", looks.heading(), looks);
    paint::text(
        buf,
        area,
        x,
        area.y,
        &format!("{}{title}{}{kind}", looks.between(), looks.between()),
        looks.quiet(),
        looks,
    );
    let body = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    let (lines, place) = card_page(state, usize::from(area.width)).lines();
    let room = usize::from(body.height);
    let focus = place.map_or(0, |p| usize::from(p.row + 4).saturating_sub(room));
    let scroll = card_scroll(focus, lines.len(), room, scroll_of(state, Page::Card));
    help::turned(buf, body, &lines, scroll, ": Space", looks);
    place
        .and_then(|p| Some((body.x + p.column, body.y + p.row.checked_sub(scroll as u16)?)))
        .filter(|(x, y)| *x < body.right() && *y < body.bottom())
}

/// The first line of the card to show in `room` rows: the box with the focus is kept in view; each turn goes on from there
/// to the last line, then from the first one back to the focus.
fn card_scroll(focus: usize, lines: usize, room: usize, turns: usize) -> usize {
    let last = lines.saturating_sub(room);
    let focus = focus.min(last);
    let step = room.saturating_sub(1).max(1);
    let (down, up) = ((last - focus).div_ceil(step), focus.div_ceil(step));
    match turns % (1 + down + up) {
        turn if turn <= down => (focus + turn * step).min(last),
        turn => (turn - down - 1) * step,
    }
}

/// The whole card at `width` columns.
fn card_page(state: &State, width: usize) -> card_page::CardPage<'_> {
    card_page::CardPage {
        session: &state.session,
        cards: &state.derived.cards,
        live: state.derived.live.as_ref(),
        player: state.player,
        at: state.position,
        width,
        looks: state.looks,
    }
}

/// The foot: a notice, else the continuations of a sequence, else the hints.
fn foot(state: &State, buf: &mut Buffer, area: Rect) {
    let looks = state.looks;
    let width = usize::from(area.width);
    if let Some(notice) = &state.notice {
        let style = match notice.weight {
            Weight::Word => looks.heading(),
            Weight::Warning => looks.caution(),
            Weight::Failure => looks.danger().patch(looks.heading()),
        };
        // What must be read takes the rows it needs; a word that all is well never hides the card.
        let most = if notice.weight == Weight::Word { 1 } else { most_foot_rows(buf.area.height) };
        let lines = foot_lines(&notice.words, width, most);
        return foot_up(buf, area, &lines, style, looks);
    }
    let page = state.page();
    if let Found::Pending(next) = state.keymap.find(page, &state.pending)
        && !state.pending.is_empty()
    {
        let mut lines = vec![String::new()];
        for (key, command) in next {
            let words = format!("{key} {}", command.title.to_lowercase());
            match lines.last_mut() {
                Some(line) if line.is_empty() => *line = words,
                Some(line) if line.width() + 3 + words.width() <= width => *line += &format!("   {words}"),
                _ => lines.push(words),
            }
        }
        return foot_up(buf, area, &lines, looks.text(), looks);
    }
    if let Some(words) = text_hints(state) {
        paint::text(buf, area, area.x, area.y, &paint::shorten(words, width), looks.quiet(), looks);
        return;
    }
    let mut x = area.x;
    for (keys, words) in hints(state, page) {
        let need = (keys.width() + words.width() + 4) as u16;
        if x + need > area.right() + 3 {
            break;
        }
        x = paint::text(buf, area, x, area.y, &keys, looks.figure(), looks);
        x = paint::text(buf, area, x, area.y, &format!(" {words}   "), looks.quiet(), looks);
    }
}

/// What the keys do while a text is typed on a page whose letters are commands otherwise.
fn text_hints(state: &State) -> Option<&'static str> {
    match state.screens.last()? {
        Screen::Annotate(page) if page.form.is_some() => {
            Some("Enter keeps   Tab next field   Shift-Tab back   Esc leaves")
        }
        Screen::Draw(page) if page.entry.is_some() => Some("Enter draws   Esc leaves   Ctrl-u clears the line"),
        Screen::Measure(page) if page.marker.is_some() => Some("Enter compares   Esc leaves"),
        _ => None,
    }
}

/// How many rows the foot may take from the page above it: a long word may, and never most of a small screen.
fn most_foot_rows(height: u16) -> usize {
    usize::from(height / 6).clamp(1, 4)
}

/// Words broken over at most `most` lines; what is more is cut with a mark.
fn foot_lines(words: &str, width: usize, most: usize) -> Vec<String> {
    let mut lines = paint::wrap(words, width);
    if lines.len() > most {
        let rest = lines.split_off(most.saturating_sub(1)).join(" ");
        lines.push(paint::shorten(&rest, width));
    }
    lines
}

/// Draws lines from the foot upwards.
fn foot_up(buf: &mut Buffer, area: Rect, lines: &[String], style: Style, looks: Looks) {
    let rows = u16::try_from(lines.len()).unwrap_or(1).max(1);
    let all = Rect { y: area.bottom().saturating_sub(rows), height: rows, ..area };
    clear(buf, Rect { x: 0, width: buf.area.width, ..all }, looks);
    for (y, line) in (all.y..).zip(lines) {
        paint::text(buf, all, all.x, y, line, style, looks);
    }
}

/// The hint line of a page: keys and words of its commands that can run now, from the table.
fn hints(state: &State, page: Page) -> Vec<(String, String)> {
    let mut out: Vec<(String, String)> = Vec::new();
    let can = |c: &&commands::Command| c.pages.contains(&page) && !c.hint.is_empty() && (c.why_not)(state).is_none();
    for command in commands::all().filter(can) {
        let keys = match command.act {
            _ if state.keymap.is_own(command) => state.keymap.first(command),
            commands::Act::Score | commands::Act::Desk(commands::DeskAct::Score) => "1-9".to_owned(),
            commands::Act::NextHole => ", ;".to_owned(),
            commands::Act::StandAhead if page == Page::Card => continue,
            commands::Act::StandAhead => {
                if state.looks.ascii {
                    "arrows".to_owned()
                } else {
                    "←↑↓→".to_owned()
                }
            }
            commands::Act::Down => {
                if state.looks.ascii {
                    "arrows".to_owned()
                } else {
                    "↑↓".to_owned()
                }
            }
            _ => state.keymap.first(command),
        };
        out.push((keys, command.hint.to_owned()));
    }
    // The help key comes first to the eye at the end of the line on wide screens and must survive on narrow ones.
    if let Some(at) = out.iter().position(|(k, _)| k == "?") {
        let help = out.remove(at);
        out.insert(out.len().min(2), help);
    }
    out
}
