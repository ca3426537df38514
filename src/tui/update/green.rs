//! The Green page: the ball over the green.

use super::{hole, push};
use crate::ground::Point;
use crate::tui::commands::Page;
use crate::tui::commands::green::GreenAct;
use crate::tui::state::{GreenScreen, Screen, State};

/// A step of the ball, yards.
const STEP: f64 = 2.0;
/// A little one.
const LITTLE: f64 = 0.5;
/// How far from the hole the ball may be put, yards.
const FARTHEST: f64 = 60.0;

/// Runs a command of the page.
pub fn run(state: &mut State, act: GreenAct) {
    match act {
        GreenAct::Open => {
            if state.page() == Page::Day
                && let Some(position) = state.day_position()
            {
                hole::arrive(state, position);
            }
            push(state, Screen::Green(GreenScreen::default()));
        }
        GreenAct::Ahead => walk(state, 0.0, STEP),
        GreenAct::Back => walk(state, 0.0, -STEP),
        GreenAct::Left => walk(state, -STEP, 0.0),
        GreenAct::Right => walk(state, STEP, 0.0),
        GreenAct::AheadOne => walk(state, 0.0, LITTLE),
        GreenAct::BackOne => walk(state, 0.0, -LITTLE),
        GreenAct::LeftOne => walk(state, -LITTLE, 0.0),
        GreenAct::RightOne => walk(state, LITTLE, 0.0),
        GreenAct::ToLeave => {
            if let Some(green) = state.green_screen_mut() {
                green.ball = None;
            }
        }
        GreenAct::Falls => {
            if let Some(green) = state.green_screen_mut() {
                green.falls = !green.falls;
            }
        }
    }
}

/// Moves the ball as the page is seen: `right` and `up` of the screen, staying on the green and near it.
fn walk(state: &mut State, right: f64, up: f64) {
    let Some(picture) = state.derived.green.picture.clone() else { return };
    let Some((ball, _)) = state.derived.green.putt.as_ref() else { return };
    let ahead = Point::towards(picture.heading_deg);
    let to = *ball + ahead.to_the_right() * right + ahead * up;
    let on = state.current_hole().and_then(|h| h.ground.green.as_ref()).is_some_and(|g| g.outline.distance(to) < 1.0);
    if on
        && to.distance(picture.pin) < FARTHEST
        && let Some(green) = state.green_screen_mut()
    {
        green.ball = Some(to);
    }
}
