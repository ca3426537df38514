//! What the Green page remembers: the ball, and the greens that were worked out.

use super::{PlanKey, Screen, State};
use crate::ground::Point;
use crate::plan::GreenPicture;
use crate::round::Ability;
use crate::today::PuttRead;
use std::sync::Arc;

/// Greens kept.
const KEPT: usize = 24;

/// The Green page.
#[derive(Clone, Debug, Default)]
pub struct GreenScreen {
    /// The ball; `None` stands at the ideal leave, or short of the hole.
    pub ball: Option<Point>,
    /// The falls instead of what leaves are worth.
    pub falls: bool,
}

/// Greens by what they were worked out from.
#[derive(Clone, Debug, Default)]
pub struct Greens {
    made: Vec<(PlanKey, Result<Arc<GreenPicture>, String>)>,
    /// The one that is being worked out.
    pub asked: Option<PlanKey>,
}

impl Greens {
    /// What was found for a key.
    pub fn get(&self, key: &PlanKey) -> Option<&Result<Arc<GreenPicture>, String>> {
        self.made.iter().find(|(k, _)| k == key).map(|(_, found)| found)
    }

    /// Keeps what was found.
    pub fn keep(&mut self, key: PlanKey, found: Result<Arc<GreenPicture>, String>) {
        if self.asked.as_ref() == Some(&key) {
            self.asked = None;
        }
        self.made.push((key, found));
        if self.made.len() > KEPT {
            self.made.drain(..1);
        }
    }
}

/// What the page shows, worked out from the state.
#[derive(Clone, Debug, Default)]
pub struct GreenShown {
    /// The green, when it is at hand.
    pub picture: Option<Arc<GreenPicture>>,
    /// Why there is none.
    pub why_not: Option<String>,
    /// The ball and its read.
    pub putt: Option<(Point, PuttRead)>,
}

impl State {
    /// The Green page, wherever it lies in the stack.
    pub fn green_screen(&self) -> Option<&GreenScreen> {
        self.screens.iter().rev().find_map(|s| if let Screen::Green(green) = s { Some(green) } else { None })
    }

    /// The Green page, to be changed.
    pub fn green_screen_mut(&mut self) -> Option<&mut GreenScreen> {
        self.screens.iter_mut().rev().find_map(|s| if let Screen::Green(green) = s { Some(green) } else { None })
    }

    /// The green of the hole on screen as the page shows it; what has not changed since `before` is taken over.
    pub fn shown_green(&self, before: GreenShown) -> GreenShown {
        let Some(screen) = self.green_screen() else { return GreenShown::default() };
        if let Some(why) = self.session.why_not(Ability::GreenRead) {
            return GreenShown { why_not: Some(why), ..GreenShown::default() };
        }
        let Some((key, question)) = self.plan_question() else { return GreenShown::default() };
        let picture = match self.greens.get(&key) {
            None => return GreenShown::default(),
            Some(Err(why)) => return GreenShown { why_not: Some(why.clone()), ..GreenShown::default() },
            Some(Ok(picture)) => Arc::clone(picture),
        };
        let short = picture.pin - Point::towards(picture.heading_deg) * 4.0;
        let ball = screen.ball.or(picture.leave).unwrap_or(short);
        let same = before.picture.as_ref().is_some_and(|p| Arc::ptr_eq(p, &picture));
        let kept = before.putt.filter(|(at, _)| same && *at == ball);
        let putt = kept.unwrap_or_else(|| {
            let read = PuttRead::new(
                &picture.falls,
                &picture.worth,
                question.green_speed(),
                &question.putting_skill(),
                ball,
                picture.pin,
            );
            (ball, read)
        });
        GreenShown { picture: Some(picture), why_not: None, putt: Some(putt) }
    }

    /// The green to work out while the page is open.
    pub fn next_green(&self) -> Option<(PlanKey, crate::plan::Question)> {
        if self.green_screen().is_none()
            || self.greens.asked.is_some()
            || self.session.why_not(Ability::GreenRead).is_some()
        {
            return None;
        }
        let (key, question) = self.plan_question()?;
        self.greens.get(&key).is_none().then_some((key, question))
    }
}
