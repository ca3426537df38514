//! Published and hand-computed vectors of the handicap rules and the Rules of Golf, each with its source and grade.
//!
//! Grades: S seen in the source named, C computed by hand from a rule graded S, M from memory. `standards/README.md` lists
//! what was taken, what was left out and why.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "standards/adjusted.rs"]
mod adjusted;
#[path = "standards/allowances.rs"]
mod allowances;
#[path = "standards/card.rs"]
mod card;
#[path = "standards/course_handicap.rs"]
mod course_handicap;
#[path = "standards/differentials.rs"]
mod differentials;
#[path = "standards/exact.rs"]
mod exact;
#[path = "standards/formats.rs"]
mod formats;
#[path = "standards/index.rs"]
mod index_vectors;
#[path = "standards/matches.rs"]
mod matches;
#[path = "standards/oracle.rs"]
mod oracle;
#[path = "standards/points.rs"]
mod points;
#[path = "standards/record.rs"]
mod record;
#[path = "standards/strokes.rs"]
mod strokes;
#[path = "standards/working.rs"]
mod working;

use marram::handicap::{CourseHandicap, Holes, Percent, TeeRating};
use marram::units::tenths::{Exact, HandicapIndex, SlopeRating, Tenths};

/// An index from signed decimal text, plus handicaps negative as in the specification's tables.
fn index(text: &str) -> HandicapIndex {
    HandicapIndex::new(Tenths::parse(text).unwrap()).unwrap()
}

fn tee(holes: Holes, slope: u32, rating: &str, par: i32) -> TeeRating {
    TeeRating { holes, rating: Tenths::parse(rating).unwrap(), slope: SlopeRating::new(slope).unwrap(), par }
}

/// An exact decimal of up to four places.
fn decimal(text: &str) -> Exact {
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, text),
    };
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let units: i64 = format!("{whole}{part:0<4}").parse().unwrap();
    Exact::ratio(sign * units, 10_000.try_into().unwrap())
}

fn course(text: &str) -> CourseHandicap {
    CourseHandicap::from_exact(decimal(text))
}

fn percent(value: u8) -> Percent {
    Percent::new(value).unwrap()
}
