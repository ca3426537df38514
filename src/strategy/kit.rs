//! A player's swings laid out in points, once for all holes.

use super::Fineness;
use super::finish::Flight;
use crate::pattern::{Bag, Cloud, Lie, Pattern, Points, Skill, Swing};
use std::sync::{Arc, Mutex, PoisonError};

/// Below this length the value of a shot bends sharply near the hole and takes more points.
const SHORT: f64 = 60.0;

/// A swing with its clouds.
#[derive(Clone, Debug)]
pub struct Prepared {
    /// The swing.
    pub swing: Swing,
    /// Its flight.
    pub flight: Flight,
    /// Few points, to leave out the plays that are no good.
    pub screen: Cloud,
    /// More, to weigh those that are.
    pub weigh: Cloud,
    /// Most, for the value.
    pub value: Cloud,
}

/// Every swing of a player from every lie.
#[derive(Clone, Debug)]
pub struct Kit {
    /// The player.
    pub pattern: Pattern,
    /// How finely the swings are laid out.
    pub fineness: Fineness,
    swings: Vec<Vec<Prepared>>,
    shown: (Points, Points),
}

/// A kit that was laid out lately, and what it was made of.
struct Lately {
    bag: Bag,
    skill: Skill,
    fineness: Fineness,
    kit: Arc<Kit>,
}

/// Kits laid out lately, the last used first: a course is planned hole by hole for one player.
static LATELY: Mutex<Vec<Lately>> = Mutex::new(Vec::new());
/// As many are kept.
const KEPT: usize = 6;

impl Kit {
    /// The kit of a player's bag, laid out once for all holes that follow.
    pub fn of(bag: &Bag, skill: &Skill, fineness: Fineness) -> Arc<Self> {
        let mut lately = LATELY.lock().unwrap_or_else(PoisonError::into_inner);
        let same = |l: &Lately| l.bag == *bag && l.skill == *skill && l.fineness == fineness;
        if let Some(found) = lately.iter().position(same) {
            let found = lately.remove(found);
            let kit = Arc::clone(&found.kit);
            lately.insert(0, found);
            return kit;
        }
        let kit = Arc::new(Self::new(Pattern::of(bag, skill), fineness));
        lately.insert(0, Lately { bag: bag.clone(), skill: skill.clone(), fineness, kit: Arc::clone(&kit) });
        lately.truncate(KEPT);
        kit
    }

    /// Lays out the swings of `pattern`.
    pub fn new(pattern: Pattern, fineness: Fineness) -> Self {
        let sets = |n: usize| (Points::new(n), Points::new((n / 4).max(4)));
        let (screen, weigh, value) = (sets(16), sets(fineness.weigh), sets(fineness.value));
        let short = (sets(2 * fineness.weigh), sets(2 * fineness.value));
        let swings = Lie::ALL
            .iter()
            .map(|lie| {
                let prepare = |swing: &Swing| {
                    let (weigh, value) = if swing.total < SHORT { (&short.0, &short.1) } else { (&weigh, &value) };
                    Prepared {
                        flight: Flight::of(swing),
                        screen: Cloud::new(swing, &screen.0, &screen.1),
                        weigh: Cloud::new(swing, &weigh.0, &weigh.1),
                        value: Cloud::new(swing, &value.0, &value.1),
                        swing: swing.clone(),
                    }
                };
                pattern.swings(*lie).iter().map(prepare).collect()
            })
            .collect();
        Self { pattern, fineness, swings, shown: sets(fineness.shown) }
    }

    /// The points of an ordinary shot and of a mishit that is shown to a person.
    pub fn shown(&self) -> (&Points, &Points) {
        (&self.shown.0, &self.shown.1)
    }

    /// The swings from a lie, the longest first.
    pub fn swings(&self, lie: Lie) -> &[Prepared] {
        self.swings.get(lie as usize).map_or(&[], Vec::as_slice)
    }
}
