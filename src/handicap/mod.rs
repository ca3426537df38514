//! Course and Playing Handicap, strokes by hole, differentials, the index: exact arithmetic only.
//!
//! Figures are integers, tenths and exact ratios; no binary float stands anywhere in this room. A handicap better than
//! scratch is negative inside (`+2` is −2). An index computed here is for planning and checking: a Handicap Index is
//! issued only by an authorised association.
//!
//! ```
//! use marram::handicap::{Holes, Percent, Rules, StrokeIndexes, TeeRating, course_handicap, strokes_by_hole};
//! use marram::units::tenths::{HandicapIndex, SlopeRating, Tenths};
//!
//! let rules = Rules::default();
//! let tee = TeeRating {
//!     holes: Holes::Eighteen,
//!     rating: Tenths::parse("71.2")?,
//!     slope: SlopeRating::parse("131")?,
//!     par: 72,
//! };
//! let course = course_handicap(HandicapIndex::parse("12.4")?, &tee, &rules);
//! assert_eq!(course.unrounded().truncated(4), "13.5752");
//! let playing = course.playing(Percent::parse("95")?, 0, &rules);
//! assert_eq!(playing.value(), 13);
//! let card = StrokeIndexes::new(&[5, 13, 1, 11, 17, 3, 15, 7, 9, 6, 14, 2, 12, 18, 4, 16, 8, 10])?;
//! assert_eq!(strokes_by_hole(playing.value(), &card).iter().sum::<i32>(), 13);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod adjusted;
mod allowance;
mod course;
mod differential;
mod index;
mod next;
mod play;
mod record;
mod rules;
mod strokes;
mod team;
mod working;

pub use adjusted::{
    Acceptance, AdjustedGross, AdjustedHole, BallLies, Recorded, ReturnedHole, adjusted_gross, adjusted_hole, hole_cap,
    most_likely,
};
pub use allowance::{Allowance, Percent, PercentError, Recommended, recommended};
pub use course::{CourseHandicap, Holes, PlayingHandicap, TeeRating, course_handicap, par_difference};
pub use differential::{
    Differential, Pcc, PccError, adjusted_gross_for, combined_nines, estimated_expected_nine, score_differential,
};
pub use index::{Cap, Counted, IndexWorking, exceptional_reduction, index_from_differentials, lowest_counting};
pub use next::{Edge, NextRound, differential_for, next_round, what_if};
pub use play::{Play, Scoring, Sides, UnknownPlay};
pub use record::{Record, Returned, Revision, Score, WorkedRecord, index_from_record};
pub use rules::{Edition, GiveBack, NineHoles, Rules, UnknownRules};
pub use strokes::{Nine, StrokeIndexError, StrokeIndexes, strokes_by_hole, strokes_by_hole_giving_back};
pub use team::{TeamError, TeamHandicap, match_strokes, team_handicap};
pub use working::{WorkingLine, playing_working};
