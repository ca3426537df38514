//! Values of the command line: all that is wrong with them said at once, quoted as typed.

use super::USAGE;
use crate::handicap::{Holes, StrokeIndexError, StrokeIndexes, TeeRating};
use crate::units::tenths::{SlopeRating, Tenths};
use serde_json::{Number, Value};
use std::fmt::Display;
use std::io::{self, Write};

/// Collects what is wrong with the values.
#[derive(Debug, Default)]
pub(super) struct Checker {
    problems: Vec<String>,
}

impl Checker {
    /// The value, or its problem noted under the option's name.
    pub(super) fn take<T, E: Display>(&mut self, option: &str, value: Result<T, E>) -> Option<T> {
        match value {
            Ok(value) => Some(value),
            Err(problem) => {
                self.problems.push(format!("{option} {problem}"));
                None
            }
        }
    }

    /// Notes a problem.
    pub(super) fn note(&mut self, problem: impl Into<String>) {
        self.problems.push(problem.into());
    }

    /// Says everything that is wrong.
    pub(super) fn refuse(self, err: &mut dyn Write) -> io::Result<i32> {
        for problem in self.problems {
            writeln!(err, "error: {}", crate::notebook::report::clean(&problem))?;
        }
        Ok(USAGE)
    }

    /// True when nothing was wrong.
    pub(super) fn is_fine(&self) -> bool {
        self.problems.is_empty()
    }

    /// Rating, slope, par and number of holes as one.
    pub(super) fn tee(&mut self, rating: &str, slope: &str, par: &str, holes: &str) -> Option<TeeRating> {
        let holes = self.holes(holes);
        let slope = self.take("--slope", SlopeRating::parse(slope));
        // Bounds only make sense for a known number of holes.
        let rating = self.rating(rating, holes);
        let par = self.par(par, holes);
        Some(TeeRating { holes: holes?, rating: rating?, slope: slope?, par: par? })
    }

    /// 9 or 18.
    pub(super) fn holes(&mut self, text: &str) -> Option<Holes> {
        let holes = text.trim().parse().ok().and_then(Holes::of);
        if holes.is_none() {
            self.note(format!("--holes `{text}`: ratings are of 9 or 18 holes"));
        }
        holes
    }

    /// A Course Rating of so many holes.
    pub(super) fn rating(&mut self, text: &str, holes: Option<Holes>) -> Option<Tenths> {
        let rating = self.take("--rating", Tenths::parse(text))?;
        match holes.and_then(|holes| rating_problem(rating, holes)) {
            Some(problem) => {
                self.note(format!("--rating `{text}`: {problem}"));
                None
            }
            None => Some(rating),
        }
    }

    fn par(&mut self, text: &str, holes: Option<Holes>) -> Option<i32> {
        let bounds = match holes {
            Some(Holes::Nine) => 27..=54,
            _ => 54..=108,
        };
        let par = text.trim().parse::<i32>().ok().filter(|par| holes.is_none() || bounds.contains(par));
        if par.is_none() {
            self.note(format!(
                "--par `{text}`: par of {} holes is a whole number from {} to {}",
                holes.map_or(18, Holes::count),
                bounds.start(),
                bounds.end()
            ));
        }
        par
    }

    /// Stroke indexes of 9 or 18 holes, separated by commas.
    pub(super) fn stroke_indexes(&mut self, text: &str) -> Option<StrokeIndexes> {
        let mut indexes = Vec::new();
        for part in text.split(',') {
            match part.trim().parse::<u8>() {
                Ok(index) => indexes.push(index),
                Err(_) => self.note(format!(
                    "--stroke-index `{}`: a stroke index is a whole number from 1 to 18; write them like 5,13,1,…",
                    part.trim()
                )),
            }
        }
        if !self.is_fine() {
            return None;
        }
        if indexes.len() != 9 && indexes.len() != 18 {
            self.note(format!("--stroke-index `{text}`: {} stroke indexes; 9 or 18 are needed", indexes.len()));
            return None;
        }
        let checked: Result<StrokeIndexes, StrokeIndexError> = StrokeIndexes::new(&indexes);
        self.take(&format!("--stroke-index `{text}`:"), checked)
    }
}

/// What is wrong with a Course Rating of so many holes.
pub(super) fn rating_problem(rating: Tenths, holes: Holes) -> Option<String> {
    let (least, most) = match holes {
        Holes::Nine => (Tenths::new(180), Tenths::new(540)),
        Holes::Eighteen => (Tenths::new(360), Tenths::new(999)),
    };
    if (least..=most).contains(&rating) {
        return None;
    }
    Some(format!("a Course Rating of {} holes is from {least} to {most}", holes.count()))
}

/// What is wrong with an adjusted gross score of so many holes.
pub(super) fn gross_problem(gross: i32, holes: Holes) -> Option<String> {
    let (least, most) = match holes {
        Holes::Nine => (9, 200),
        Holes::Eighteen => (18, 400),
    };
    if (least..=most).contains(&gross) {
        return None;
    }
    Some(format!("an adjusted gross score of {} holes is a whole number from {least} to {most}", holes.count()))
}

/// A figure of tenths as a JSON number.
pub(super) fn number(value: Tenths) -> Value {
    Number::from_f64(f64::from(value.tenths()) / 10.0).map_or(Value::Null, Value::Number)
}
