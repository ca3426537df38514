//! What a round's kind allows to be shown and done while it is played.
//!
//! # References
//! Rules of Golf (January 2023), Rule 4.3a(1) to (3): distance and direction may be had, elevation changes may not be measured,
//! a line of play or a club from where the ball lies may not be had; forecasts may be had, wind may not be measured; what was
//! gathered before the round may be used and data recorded for afterwards, not worked upon. Interpretation 4.3a/1: size and
//! scale of green drawings. Committee Procedures, Model Local Rule G-5: distance-measuring devices forbidden.

use super::event::Kind;

/// Where a round stands for Rule 4.3a.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stage {
    /// Opened and not begun: what is worked out now was prepared before the round.
    BeforeFirstScore,
    /// From the first score to the close.
    InPlay,
    /// The card is closed.
    Over,
}

/// Something that marram can show or do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ability {
    /// Notes, aims, dangers and lay-ups of the notebook as written.
    Notes,
    /// The plan as it was frozen, with its switch lines.
    FrozenPlan,
    /// The day sheet as forecast.
    Forecast,
    /// The card, its totals and the match state.
    CardAndTotals,
    /// Entering scores, clubs and shots for afterwards.
    Recording,
    /// Straight, level distances between fixed points.
    FixedDistances,
    /// Straight, level distances from the stand.
    StandDistances,
    /// The plan worked out anew.
    LivePlan,
    /// The best play, club or line from the stand.
    AdviceFromStand,
    /// Where the pattern with a club would finish from the stand.
    PatternFromStand,
    /// What a distance plays like with wind, height, temperature or slope.
    PlaysLike,
    /// Height differences measured now.
    Heights,
    /// Wind as measured at the course.
    MeasuredWind,
    /// The falls and contours of a green.
    GreenContours,
    /// The read of a putt.
    GreenRead,
    /// Values of places drawn over the hole.
    ValueMap,
    /// Every club from the stand with what it costs.
    ClubTable,
    /// The plan for other formats, worked out anew.
    CompareFormats,
    /// The plan with something changed.
    WhatIf,
    /// A play marked and judged against the plan.
    CommitFirst,
    /// What the play so far says about the rest.
    PlaySoFar,
}

impl Ability {
    /// Every ability.
    pub const ALL: [Self; 21] = [
        Self::Notes,
        Self::FrozenPlan,
        Self::Forecast,
        Self::CardAndTotals,
        Self::Recording,
        Self::FixedDistances,
        Self::StandDistances,
        Self::LivePlan,
        Self::AdviceFromStand,
        Self::PatternFromStand,
        Self::PlaysLike,
        Self::Heights,
        Self::MeasuredWind,
        Self::GreenContours,
        Self::GreenRead,
        Self::ValueMap,
        Self::ClubTable,
        Self::CompareFormats,
        Self::WhatIf,
        Self::CommitFirst,
        Self::PlaySoFar,
    ];

    /// The paragraph of Rule 4.3a that forbids it in play under the Rules, with what it forbids; `None` when it is allowed.
    const fn forbidden_by(self) -> Option<(&'static str, &'static str)> {
        match self {
            Self::Notes
            | Self::FrozenPlan
            | Self::Forecast
            | Self::CardAndTotals
            | Self::Recording
            | Self::FixedDistances
            | Self::StandDistances => None,
            Self::LivePlan => Some(("4.3a(3)", "a plan worked out during the round; the frozen one stays")),
            Self::AdviceFromStand => Some(("4.3a(1)", "a line of play or a club for where the ball lies")),
            Self::PatternFromStand => Some(("4.3a(1)", "the finish of a club from where the ball lies")),
            Self::PlaysLike => Some(("4.3a(1)", "a distance changed for wind, height or slope")),
            Self::Heights => Some(("4.3a(1)", "a measured change of elevation")),
            Self::MeasuredWind => Some(("4.3a(2)", "wind measured at the course; the forecast stays")),
            Self::GreenContours => {
                Some(("4.3a(1)", "the contours of a green on a screen that are not to the permitted scale"))
            }
            Self::GreenRead => Some(("4.3a(1)", "a line of play on the putting green")),
            Self::ClubTable => Some(("4.3a(1)", "a choice of club for where the ball lies")),
            Self::CompareFormats => Some(("4.3a(3)", "a plan worked out anew for another format")),
            Self::WhatIf => Some(("4.3a(3)", "a plan worked out anew with something changed")),
            Self::CommitFirst => Some(("4.3a(1)", "a judgement of a line of play or a club")),
            Self::ValueMap => Some(("4.3a(1)", "a ranking of places for where the ball lies")),
            Self::PlaySoFar => Some(("4.3a(3)", "conclusions from the play of this round; they come after its close")),
        }
    }
}

/// Why an ability is off, in one line for the screen.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WhyNot {
    /// Rule 4.3a forbids it.
    #[error("off in this {word} round: Rule {rule} forbids {what}; check the Local Rules too", word = .kind.word())]
    Rule {
        /// What the round is played for.
        kind: Kind,
        /// The paragraph.
        rule: &'static str,
        /// What it forbids.
        what: &'static str,
    },
    /// The Committee forbids it by a Local Rule on top of Rule 4.3a.
    #[error("off: the Committee forbids distance-measuring devices in this round (Model Local Rule G-5 to Rule 4.3a)")]
    NoDistanceDevices,
}

/// Whether a round of this kind may show or do `ability` at this stage; `no_distance_devices` where Model Local Rule G-5 holds.
///
/// ```
/// use marram::round::{allows, Ability, Kind, Stage};
/// assert!(allows(Kind::Practice, Stage::InPlay, false, Ability::GreenRead).is_ok());
/// let why = allows(Kind::Competition, Stage::InPlay, false, Ability::GreenRead).unwrap_err();
/// assert!(why.to_string().contains("Rule 4.3a"));
/// ```
///
/// # Errors
/// The reason why not, naming the Rule.
pub fn allows(kind: Kind, stage: Stage, no_distance_devices: bool, ability: Ability) -> Result<(), WhyNot> {
    if !kind.under_the_rules() || stage != Stage::InPlay {
        return Ok(());
    }
    if no_distance_devices && ability == Ability::StandDistances {
        return Err(WhyNot::NoDistanceDevices);
    }
    match ability.forbidden_by() {
        Some((rule, what)) => Err(WhyNot::Rule { kind, rule, what }),
        None => Ok(()),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    /// The table of `handicap-and-rules.md` 3.5 (Rules of Golf 2023, 4.3a).
    #[test]
    fn the_table_of_rule_4_3a() {
        use Ability::*;
        let allowed = [Notes, FrozenPlan, Forecast, CardAndTotals, Recording, FixedDistances, StandDistances];
        for kind in Kind::ALL {
            for ability in Ability::ALL {
                let free = kind == Kind::Practice || allowed.contains(&ability);
                assert_eq!(allows(kind, Stage::InPlay, false, ability).is_ok(), free, "{kind:?} {ability:?}");
                assert!(allows(kind, Stage::BeforeFirstScore, true, ability).is_ok());
                assert!(allows(kind, Stage::Over, true, ability).is_ok());
            }
        }
    }

    #[test]
    fn every_reason_names_the_rule_in_one_line() {
        for ability in Ability::ALL {
            if let Err(why) = allows(Kind::ForHandicap, Stage::InPlay, true, ability) {
                let why = why.to_string();
                assert!(why.contains("Rule 4.3a") && !why.contains('\n'), "{why}");
            }
        }
    }

    #[test]
    fn the_local_rule_takes_the_distances_from_the_stand() {
        let off = allows(Kind::Competition, Stage::InPlay, true, Ability::StandDistances);
        assert_eq!(off, Err(WhyNot::NoDistanceDevices));
        assert!(allows(Kind::Competition, Stage::InPlay, true, Ability::FixedDistances).is_ok());
        assert!(allows(Kind::Practice, Stage::InPlay, true, Ability::StandDistances).is_ok());
    }
}
