//! Questions about a solved hole, answered behind the screen: from any stand, club by club, format by format.

use super::state::PlanKey;
use crate::ground::Point;
use crate::plan::{self, ForFormat, Judged, Mark, NoPlan, Pinned, Question, SolvedHole, StandPlan, WhatIf};
use crate::strategy::Fineness;
use crate::units::{Across, Along};
use std::sync::atomic::AtomicBool;
use std::sync::{Arc, Mutex, PoisonError};

/// The most solved holes kept: the one on screen, its neighbours, and the same for another aim.
const KEPT: usize = 4;

/// A place on the hole; `None` is the tee.
pub type Place = Option<(Along, Across)>;

/// What is asked, and what its answer is kept by.
#[derive(Clone, Debug, PartialEq)]
pub enum AskKey {
    /// The plan from a stand, with every club.
    Stand(PlanKey, Place),
    /// Every format side by side.
    Compare(PlanKey),
    /// The plan with something changed.
    WhatIf(PlanKey),
    /// The value of the places at these points.
    Map(PlanKey, Arc<Vec<Point>>),
    /// What was committed to, from a stand.
    Judge(PlanKey, Place, Mark),
    /// What pinned plays cost today.
    Pinned(PlanKey, Vec<Pinned>),
}

impl AskKey {
    /// The plan that it belongs to.
    pub const fn plan(&self) -> &PlanKey {
        match self {
            Self::Stand(key, _)
            | Self::Compare(key)
            | Self::WhatIf(key)
            | Self::Map(key, _)
            | Self::Judge(key, ..)
            | Self::Pinned(key, _) => key,
        }
    }
}

/// An answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// The plan from a stand.
    Stand(StandPlan),
    /// Every format.
    Compare(Vec<ForFormat>),
    /// Every change.
    WhatIf(Vec<WhatIf>),
    /// Strokes to come by point.
    Map(Vec<Option<f64>>),
    /// What was committed to, judged; `None` when the club is not played from there.
    Judged(Option<Judged>),
    /// What each pinned play costs.
    Pinned(Vec<Option<f64>>),
}

/// The solved holes at hand, shared by the workers.
#[derive(Clone, Debug, Default)]
pub struct Holes(Arc<Mutex<Vec<(PlanKey, Arc<SolvedHole>)>>>);

impl Holes {
    /// The solved hole of a key, solved now when it is not at hand.
    ///
    /// # Errors
    /// [`NoPlan`].
    pub fn solved(&self, key: &PlanKey, question: &Question, cancel: &AtomicBool) -> Result<Arc<SolvedHole>, NoPlan> {
        let found = {
            let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            kept.iter().find(|(k, _)| k == key).map(|(_, solved)| Arc::clone(solved))
        };
        if let Some(solved) = found {
            return Ok(solved);
        }
        // Solved outside the lock: another worker never waits for it.
        let solved = Arc::new(SolvedHole::new(question, Fineness::USUAL, cancel)?);
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(k, _)| k != key);
        kept.push((key.clone(), Arc::clone(&solved)));
        if kept.len() > KEPT {
            kept.remove(0);
        }
        Ok(solved)
    }

    /// Answers what is asked.
    ///
    /// # Errors
    /// [`NoPlan`].
    pub fn answer(&self, ask: &AskKey, question: &Question, cancel: &AtomicBool) -> Result<Answer, NoPlan> {
        let solved = || self.solved(ask.plan(), question, cancel);
        Ok(match ask {
            AskKey::Stand(_, at) => Answer::Stand(solved()?.from_stand(*at)),
            AskKey::Compare(_) => Answer::Compare(plan::compare(question, cancel)?),
            AskKey::WhatIf(_) => Answer::WhatIf(plan::what_if(question, cancel)?),
            AskKey::Map(_, points) => Answer::Map(solved()?.values(points)),
            AskKey::Judge(_, at, mark) => Answer::Judged(solved()?.judge(*at, *mark)),
            AskKey::Pinned(_, pins) => {
                let solved = solved()?;
                Answer::Pinned(pins.iter().map(|pin| solved.pinned_cost(pin)).collect())
            }
        })
    }
}
