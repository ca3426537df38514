//! A Handicap Index from differentials, with its whole working.

use super::Rules;
use crate::units::tenths::{Exact, HandicapIndex, Tenths};
use std::num::NonZeroU32;

/// How many of the most recent differentials are looked at.
pub const ON_RECORD: usize = 20;

const TENTHS_IN_ONE: NonZeroU32 = match NonZeroU32::new(10) {
    Some(ten) => ten,
    None => NonZeroU32::MIN,
};
/// Growth above the Low Handicap Index from which it counts half: 3.0.
const SOFT_FROM: Tenths = Tenths::whole(3);
/// The most an index may grow above the Low Handicap Index: 5.0.
const HARD_AT: Tenths = Tenths::whole(5);

/// Which cap held the index down.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Cap {
    /// None.
    #[default]
    None,
    /// Growth above 3.0 counted half.
    Soft,
    /// Growth was stopped at 5.0.
    Hard,
}

impl Cap {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Cap::None => "none",
            Cap::Soft => "soft",
            Cap::Hard => "hard",
        }
    }
}

/// A differential that counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Counted {
    /// Its place among the differentials given, from 0, oldest first.
    pub place: usize,
    /// Its value with exceptional-score adjustments.
    pub value: Tenths,
}

/// An index and everything it was made from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct IndexWorking {
    /// Differentials looked at, at most 20.
    pub on_record: usize,
    /// Those that counted, lowest first.
    pub counted: Vec<Counted>,
    /// Their mean, exactly; nought when none counted.
    pub mean: Exact,
    /// What is added for a short record: −2.0, −1.0 or 0.
    pub adjustment: Tenths,
    /// Mean and adjustment, before caps.
    pub before_caps: Exact,
    /// What growth was measured from.
    pub low: Option<HandicapIndex>,
    /// Which cap held it.
    pub cap: Cap,
    /// After the caps, to a tenth.
    pub after_caps: Tenths,
    /// The highest index there is held it.
    pub maximum: bool,
    /// The index; `None` with fewer than three differentials.
    pub index: Option<HandicapIndex>,
}

impl IndexWorking {
    fn none(on_record: usize, low: Option<HandicapIndex>) -> IndexWorking {
        IndexWorking {
            on_record,
            counted: Vec::new(),
            mean: Exact::ZERO,
            adjustment: Tenths::default(),
            before_caps: Exact::ZERO,
            low,
            cap: Cap::None,
            after_caps: Tenths::default(),
            maximum: false,
            index: None,
        }
    }
}

/// How many of the lowest count and what is added, for so many differentials; `None` where there is no index.
///
/// # References
/// Rules of Handicapping 5.2a, table (R&A); Denmark issues an index from the first result (Danish Golf Union).
pub fn lowest_counting(on_record: usize, rules: &Rules) -> Option<(NonZeroU32, Tenths)> {
    let (lowest, adjustment) = match on_record {
        0 => return None,
        1 | 2 if rules.index_from_first_score => (1, -20),
        1 | 2 => return None,
        3 => (1, -20),
        4 => (1, -10),
        5 => (1, 0),
        6 => (2, -10),
        7 | 8 => (2, 0),
        9..=11 => (3, 0),
        12..=14 => (4, 0),
        15 | 16 => (5, 0),
        17 | 18 => (6, 0),
        19 => (7, 0),
        _ => (8, 0),
    };
    NonZeroU32::new(lowest).map(|lowest| (lowest, Tenths::new(adjustment)))
}

/// The index of the most recent twenty of `differentials` (oldest first, exceptional-score adjustments included); caps
/// bite where a Low Handicap Index is given.
///
/// # References
/// Rules of Handicapping 5.2b for the order: mean of the lowest, to a tenth, soft cap, hard cap (5.8), maximum (5.3).
pub fn index_from_differentials(differentials: &[Tenths], low: Option<HandicapIndex>, rules: &Rules) -> IndexWorking {
    let skipped = differentials.len().saturating_sub(ON_RECORD);
    let mut places: Vec<Counted> =
        differentials.iter().enumerate().skip(skipped).map(|(place, &value)| Counted { place, value }).collect();
    let on_record = places.len();
    let Some((lowest, adjustment)) = lowest_counting(on_record, rules) else {
        return IndexWorking::none(on_record, low);
    };
    // Of equal differentials the newer is said to count; the mean is the same.
    places.sort_by(|a, b| a.value.cmp(&b.value).then(b.place.cmp(&a.place)));
    places.truncate(lowest.get() as usize);
    let sum: i64 = places.iter().map(|counted| i64::from(counted.value.tenths())).sum();
    let mean = Exact::ratio(sum, lowest.saturating_mul(TENTHS_IN_ONE));
    let averaged = if rules.round_before_caps { mean.to_tenths().exact() } else { mean };
    let before_caps = averaged + adjustment.exact();
    let (capped, cap) = capped(before_caps, low);
    let after_caps = capped.to_tenths();
    let maximum = after_caps > rules.maximum.value();
    let index = if maximum { Some(rules.maximum) } else { HandicapIndex::new(after_caps) };
    IndexWorking { on_record, counted: places, mean, adjustment, before_caps, low, cap, after_caps, maximum, index }
}

fn capped(before: Exact, low: Option<HandicapIndex>) -> (Exact, Cap) {
    let Some(low) = low.map(|low| low.value().exact()) else {
        return (before, Cap::None);
    };
    let growth = before - low;
    if growth <= SOFT_FROM.exact() {
        return (before, Cap::None);
    }
    let allowed = SOFT_FROM.exact() + (growth - SOFT_FROM.exact()).halved();
    if allowed > HARD_AT.exact() { (low + HARD_AT.exact(), Cap::Hard) } else { (low + allowed, Cap::Soft) }
}

/// What an exceptional score takes off every differential on record: 0, −1 or −2 whole units.
///
/// # References
/// Rules of Handicapping 5.9: index in effect when the round was played less the **unrounded** differential; from 7.0 −1,
/// from 10.0 −2.
pub fn exceptional_reduction(in_effect: HandicapIndex, unrounded: Exact, rules: &Rules) -> i32 {
    let differential = if rules.exceptional_on_rounded { unrounded.to_tenths().exact() } else { unrounded };
    let gain = in_effect.value().exact() - differential;
    if gain >= Exact::whole(10) {
        -2
    } else if gain >= Exact::whole(7) {
        -1
    } else {
        0
    }
}
