//! Plans worked out in the background, kept by what they were made from.

use super::State;
use crate::plan::{Aimed, HolePlan, Question};
use crate::round::Ability;
use crate::units::LengthUnit;
use crate::units::digest::Digest;
use std::sync::Arc;

/// The most plans kept; a round looks back a hole or two, never further than this.
const KEPT: usize = 64;

/// What a plan depends on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanKey {
    /// The notebook's text.
    pub notebook: Option<Digest>,
    /// The hole's number.
    pub hole: u8,
    /// The player.
    pub player: String,
    /// The player's file, whose clubs and index it rests on.
    pub player_file: Option<Digest>,
    /// The tee.
    pub tee: String,
    /// Strokes received.
    pub strokes: i32,
    /// What it is for.
    pub aimed: Aimed,
    /// The day sheet's text: wind, air, markers and the hole location.
    pub day: Option<Digest>,
    /// The unit its words are spoken in.
    pub units: LengthUnit,
    /// The layers whose aims it is held against.
    pub layers: Vec<Digest>,
}

/// The plans at hand.
#[derive(Clone, Debug, Default)]
pub struct Plans {
    made: Vec<(PlanKey, Arc<HolePlan>)>,
    /// The one that is being worked out.
    pub asked: Option<PlanKey>,
    /// Why there is none for a hole, by its key.
    pub refused: Vec<(PlanKey, String)>,
}

impl Plans {
    /// The plan for a key.
    pub fn get(&self, key: &PlanKey) -> Option<&Arc<HolePlan>> {
        self.made.iter().find(|(k, _)| k == key).map(|(_, p)| p)
    }

    /// Keeps a plan, newest last; one of the same key is replaced.
    pub fn keep(&mut self, key: PlanKey, plan: HolePlan) {
        self.made.retain(|(k, _)| *k != key);
        self.made.push((key, Arc::new(plan)));
        if self.made.len() > KEPT {
            self.made.remove(0);
        }
    }

    /// Why there is no plan for a key.
    pub fn why_none(&self, key: &PlanKey) -> Option<&str> {
        self.refused.iter().find(|(k, _)| k == key).map(|(_, w)| w.as_str())
    }
}

impl State {
    /// The question of the hole on screen with the key of its answer.
    pub fn plan_question(&self) -> Option<(PlanKey, Question)> {
        self.plan_question_at(self.position)
    }

    /// The question of the hole at a position in playing order with the key of its answer.
    pub fn plan_question_at(&self, position: usize) -> Option<(PlanKey, Question)> {
        let units = self.shown_units();
        let aimed = self.hole.aimed.unwrap_or_else(|| self.session.aimed());
        let question = self.session.question(position, self.player, self.hole.tee.as_deref(), aimed, units)?;
        Some((self.plan_key_at(position)?, question))
    }

    /// The key alone.
    pub fn plan_key_at(&self, position: usize) -> Option<PlanKey> {
        let units = self.shown_units();
        let aimed = self.hole.aimed.unwrap_or_else(|| self.session.aimed());
        let golfer = self.session.golfers.get(self.player)?;
        Some(PlanKey {
            notebook: self.session.notebook_digest,
            hole: *self.session.order.get(position)?,
            player: golfer.name.clone(),
            player_file: self.session.people.get(self.player).and_then(|p| Some(p.file.as_ref()?.digest)),
            tee: self.hole.tee.clone().unwrap_or_else(|| golfer.tee.clone()),
            strokes: golfer.strokes.get(position).copied().unwrap_or(0),
            aimed,
            day: self.session.day.as_ref().map(|(_, file)| file.digest()),
            units,
            layers: self.session.layers.iter().map(|(_, file)| file.digest()).collect(),
        })
    }

    /// The plan that may be shown for the hole on screen: in play under the Rules only the frozen one.
    pub fn shown_plan(&self) -> Option<Arc<HolePlan>> {
        if let Some(frozen) = &self.session.frozen
            && self.session.round.is_some()
            && self.hole.tee.is_none()
        {
            return frozen.hole(self.player, self.position).cloned().map(Arc::new);
        }
        if self.session.why_not(Ability::LivePlan).is_some() {
            return None;
        }
        self.derived.plan_key.as_ref().and_then(|key| self.plans.get(key)).cloned()
    }
}
