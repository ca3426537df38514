//! The plain text of a page: what line mode speaks and the story tests read. No drawing, only what it says.

use super::{bag, card, help, hole, problems, shelf};
use crate::tui::commands::Page;
use crate::tui::state::State;
use crate::units::plain_text::plain;
use ratatui::text::Line;

/// The page on top as lines of text.
pub fn page(state: &State) -> Vec<String> {
    let width = 100;
    let mut out = Vec::new();
    let mut add = |lines: Vec<Line<'static>>| {
        out.extend(lines.iter().map(|l| state.looks.plain(&plain(l.to_string().trim_end()))))
    };
    match state.page() {
        Page::Hole => {
            add(head(state));
            if let Some(panel) = state.hole.panel {
                add(super::panel::lines(state, panel, width));
            } else {
                add(hole::plan_lines(state, width));
            }
            add(hole::map_lines(state, width));
            add(hole::stand_lines(state, width));
            add(hole::note_lines(state, width));
            let live = state.derived.live.as_ref();
            if let Some(shown) = card::Shown::of(&state.derived.cards, live, state.player) {
                add(card::strip(shown, state.position, &card::rows_for(usize::MAX, live), width, state.looks).0);
                add(vec![Line::from(card::strip_words(state, usize::MAX))]);
            }
        }
        Page::Commit => {
            add(head(state));
            add(hole::plan_lines(state, width));
            add(hole::note_lines(state, width));
        }
        Page::Card => add(super::card_page(state, width).lines().0),
        Page::Shelf => add(shelf::lines(state, width).0),
        Page::Bag => add(bag::lines(state)),
        Page::Help => add(help::help_lines(state, state.page_below(), width)),
        Page::Finder => {
            if let Some(crate::tui::state::Screen::Finder(finder)) = state.screens.last() {
                add(vec![Line::from(format!(": {}", finder.letters))]);
                for command in finder.found(state.page_below()) {
                    add(vec![Line::from(format!("{}: {}", command.title, command.sentence))]);
                }
            }
        }
        Page::Problems => add(problems::lines(state, width)),
        Page::Handicap => add(super::handicap::lines(state, width)),
        Page::Review => add(super::review::lines(state, width)),
        Page::Shots => add(super::shots::lines(state, width)),
        Page::Annotate => add(super::annotate::lines(state, width)),
        Page::Draw => add(super::draw::lines(state, width)),
        Page::Measure => add(super::measure::lines(state, width)),
        Page::Pupils => add(super::pupils::lines(state, width)),
        Page::Scout => add(super::scout::lines(state, width).0),
        Page::Merge => add(super::scout::merge_lines(state, width)),
        Page::Day => add(super::day::lines(state, width)),
        Page::Green => add(super::green::lines(state, width)),
        Page::Desk => add(super::desk::lines(state, width)),
        Page::Keying => add(super::desk_card::keying_lines(state, width).0),
        Page::DeskCard => add(super::desk_card::card_lines(state, width).0),
        Page::Ruling => add(super::desk_card::ruling_lines(state, width).0),
        Page::DeskText => add(super::desk_card::text_lines(state, width)),
    }
    if let Some(notice) = &state.notice {
        add(vec![Line::from(notice.words.clone())]);
    }
    out
}

fn head(state: &State) -> Vec<Line<'static>> {
    let Some(sheet) = &state.derived.hole else { return Vec::new() };
    let units = state.shown_units();
    let length = sheet.length.map_or_else(
        || "no such tee here".to_owned(),
        |l| format!("{} {}", crate::units::Length::yards(l).show(units), units.word()),
    );
    let par = sheet.par.map_or_else(|| "no par".to_owned(), |p| format!("par {p}"));
    let index = sheet.stroke_index.map(|i| format!(", stroke index {i}")).unwrap_or_default();
    let strokes = hole::strokes_words(sheet.strokes);
    let strokes = if strokes.is_empty() { strokes } else { format!(", {strokes}") };
    let name = sheet.name.clone().unwrap_or_default();
    let instead = sheet.instead_of.as_ref().map(|own| format!(" (there is no {own} tee)")).unwrap_or_default();
    let mut out = vec![Line::from(format!(
        "Hole {} {name}: {length} from the {} tees{instead}, {par}{index}{strokes}",
        sheet.number, sheet.tee
    ))];
    if let Some(caution) = &sheet.caution {
        out.push(Line::from(format!("Caution: {caution}")));
    }
    out
}
