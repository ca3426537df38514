//! The page of measuring: two places moved over the hole, and what lies between them.

use super::{Effect, push};
use crate::ground::stops::Matter;
use crate::survey::measure::{Reference, crossed, front_edge_deg, gap, length_disagrees, marker};
use crate::tui::commands::MeasureAct;
use crate::tui::keymap::Key;
use crate::tui::state::{MeasureScreen, Measured, Notice, Screen, State};
use crate::units::place::read_decimal;
use crate::units::{Across, Along, Length};
use tui_input::{Input, InputRequest};

/// Runs a command of the page.
pub fn run(state: &mut State, act: MeasureAct) {
    let Some(hole) = state.current_hole().cloned() else { return };
    if act == MeasureAct::Open {
        let tee = tee_place(state);
        let from = state.derived.hole.as_ref().and_then(|s| super::spot_of(state, s)).unwrap_or(tee);
        let to = green_place(state, 0).unwrap_or((hole.ground.length, Across(0.0)));
        push(state, Screen::Measure(Box::new(MeasureScreen { ends: [from, to], moving: 0, marker: None, read: None })));
        return;
    }
    let unit = state.shown_units().in_yards();
    let tee = tee_place(state);
    let greens: Vec<_> = (0..3).filter_map(|i| green_place(state, i)).collect();
    let stops: Vec<Along> = state
        .derived
        .stops
        .iter()
        .filter(|s| matches!(s.what, Matter::DangerBegins(_) | Matter::DangerEnds(_)))
        .map(|s| s.at)
        .collect();
    let Some(page) = state.measure_mut() else { return };
    let Some(end) = page.ends.get_mut(page.moving) else { return };
    match act {
        MeasureAct::Open => {}
        MeasureAct::Move(along, across) => {
            let tidy = |v: f64| (v * 1024.0).round() / 1024.0;
            end.0.0 = tidy((end.0.0 + f64::from(along) * unit).clamp(-60.0, hole.ground.length.0 + 120.0));
            end.1.0 = tidy((end.1.0 + f64::from(across) * unit).clamp(-200.0, 200.0));
        }
        MeasureAct::OtherEnd => page.moving = 1 - page.moving.min(1),
        MeasureAct::FromHere => {
            let here = *end;
            page.ends = [here, here];
            page.moving = 1;
        }
        MeasureAct::Tee => *end = tee,
        MeasureAct::Green => {
            let now = greens.iter().position(|g| (g.0.0 - end.0.0).abs() < 0.5 && (g.1.0 - end.1.0).abs() < 0.5);
            let next = now.map_or(0, |i| (i + 1) % greens.len().max(1));
            match greens.get(next) {
                Some(place) => *end = *place,
                None => state.notice = Some(Notice::warning("This hole has no green yet; n d draws it")),
            }
        }
        MeasureAct::NextThing => {
            let next = stops.iter().find(|s| s.0 > end.0.0 + 0.5).or(stops.first());
            match next {
                Some(at) => end.0 = *at,
                None => state.notice = Some(Notice::word("No danger is drawn on this hole")),
            }
        }
        MeasureAct::Marker => page.marker = Some(Input::default()),
    }
}

fn tee_place(state: &State) -> (Along, Across) {
    let sheet = state.derived.hole.as_ref();
    let tee = sheet.and_then(|s| state.current_hole()?.tee(&s.tee));
    tee.map_or((Along(0.0), Across(0.0)), |t| (t.at, t.across))
}

/// The middle, front or back of the green as a place of the hole.
fn green_place(state: &State, which: usize) -> Option<(Along, Across)> {
    let hole = state.current_hole()?;
    let green = hole.ground.green.as_ref()?;
    let point = [green.middle, green.front_point, green.back_point].get(which).copied()?;
    Some(hole.ground.line().locate(point))
}

/// Keys while a marker is typed; returns whether the key was used.
pub fn marker_key(state: &mut State, key: Key, effects: &mut Vec<Effect>) -> bool {
    let unit = state.shown_units();
    let Some(Screen::Measure(page)) = state.screens.last_mut() else { return false };
    let Some(input) = page.marker.as_mut() else { return false };
    let request = match key {
        Key::Char(_) if input.value().chars().count() >= 20 => None,
        Key::Char(c) => Some(InputRequest::InsertChar(c)),
        Key::Backspace => Some(InputRequest::DeletePrevChar),
        Key::Left => Some(InputRequest::GoToPrevChar),
        Key::Right => Some(InputRequest::GoToNextChar),
        Key::Esc => {
            page.marker = None;
            return true;
        }
        Key::Ctrl('c') => {
            effects.push(Effect::Quit);
            return true;
        }
        Key::Enter => {
            let typed = input.value().trim().to_lowercase();
            let mut words = typed.split_whitespace();
            let figure = words.next().and_then(read_decimal).filter(|v| *v > 0.0);
            let front = words.next();
            match (figure, front) {
                _ if typed.is_empty() => {
                    page.marker = None;
                    page.read = None;
                }
                (Some(figure), None | Some("front" | "f" | "middle")) => {
                    let at = page.ends.get(page.moving).copied().unwrap_or_default();
                    let to_front = matches!(front, Some("front" | "f"));
                    page.read = Some((at, Length::new(figure, unit).as_yards(), to_front));
                    page.marker = None;
                }
                _ => state.notice = Some(Notice::warning("What the marker reads: 150 to the middle, or 150 front")),
            }
            return true;
        }
        _ => None,
    };
    if let Some(request) = request {
        input.handle(request);
    }
    true
}

impl State {
    /// What the Measure page shows.
    pub fn measured(&self) -> Option<Measured> {
        let page = self.measure()?;
        let hole = self.current_hole()?;
        let ground = &hole.ground;
        let line = ground.line();
        let points = page.ends.map(|(at, across)| line.place(at, across));
        let [from, to] = points;
        let name = |i: usize| ground.features.get(i).map_or_else(String::new, |f| f.name.clone());
        let mut out = Measured {
            points,
            straight: from.distance(to),
            along: (page.ends[1].0.0 - page.ends[0].0.0).abs(),
            crossed: crossed(ground, from, to).into_iter().map(|c| (name(c.feature), c)).collect(),
            ..Measured::default()
        };
        let nearest = |point, but: Option<usize>| {
            let all = ground.features.iter().enumerate().filter(|(i, f)| f.surface.is_danger() && Some(*i) != but);
            all.min_by(|a, b| a.1.distance(point).total_cmp(&b.1.distance(point))).map(|(i, _)| i)
        };
        let first = nearest(from, None);
        if let (Some(a), Some(b)) = (first, nearest(to, first))
            && let (Some(one), Some(two)) = (ground.features.get(a), ground.features.get(b))
            && let Some((p, q, width)) = gap(&one.shapes, &two.shapes)
        {
            out.gap = Some((name(a), name(b), width, [p, q]));
        }
        let moving = points.get(page.moving).copied().unwrap_or(to);
        if let Some(green) = &ground.green {
            out.green = Some([green.front_point, green.middle, green.back_point].map(|p| moving.distance(p)));
            let away = green.middle - from;
            if away.length() > 5.0 {
                let heading = libm::atan2(away.right, away.ahead).to_degrees();
                out.front_edge = front_edge_deg(green, heading);
            }
        }
        let place = page.ends.get(page.moving).copied().unwrap_or_default();
        out.fairway = self.derived.fairway_width(place.0, place.1);
        let units = self.shown_units();
        let show = |yards: f64| Length::yards(yards).show(units);
        if let Some(((at, across), reads, to_front)) = page.read
            && let Some(green) = &ground.green
        {
            let reference = if to_front { Reference::Front } else { Reference::Middle };
            let check = marker(Length::yards(reads), line.place(at, across), green, reference);
            if !check.agrees {
                let which = if to_front { "front" } else { "middle" };
                let other = if to_front { Reference::Middle } else { Reference::Front };
                let fits = marker(Length::yards(reads), line.place(at, across), green, other).agrees;
                let hint = match (fits, to_front) {
                    (true, true) => "; it fits the middle: markers usually read to the middle",
                    (true, false) => "; it fits the front edge: this marker may read to the front",
                    _ => "",
                };
                out.warnings.push(format!(
                    "the marker reads {} and the {which} of the green is {} away{hint}",
                    show(reads),
                    show(check.measured)
                ));
            }
            out.marker = Some((check, to_front));
        }
        for tee in &hole.tees {
            let measured = ground.length.0 - tee.at.0;
            if let Some(words) = length_disagrees(tee.length, measured, units) {
                out.warnings.push(format!("{} tee: {words}", tee.name));
            }
        }
        Some(out)
    }
}
