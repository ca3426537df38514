//! The working of a figure, line by line, as a handicap secretary would write it down.

use super::index::{Cap, IndexWorking};
use super::{CourseHandicap, Holes, Percent, Revision, Rules, TeeRating};
use crate::units::tenths::{HandicapIndex, Tenths, whole_handicap_text};
use std::fmt;

/// One line of a working: what is done and the figure it gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkingLine {
    /// What is done.
    pub what: String,
    /// The figure.
    pub figure: String,
}

impl WorkingLine {
    fn new(what: impl Into<String>, figure: impl fmt::Display) -> WorkingLine {
        WorkingLine { what: what.into(), figure: figure.to_string() }
    }
}

impl fmt::Display for WorkingLine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.what, self.figure)
    }
}

/// How a Playing Handicap was made.
pub fn playing_working(
    index: HandicapIndex,
    tee: &TeeRating,
    allowance: Percent,
    par_difference: i32,
    rules: &Rules,
) -> Vec<WorkingLine> {
    let course = super::course_handicap(index, tee, rules);
    let playing = course.playing(allowance, par_difference, rules);
    let mut lines = vec![WorkingLine::new("Handicap Index", index)];
    let mut used = index.value();
    if tee.holes == Holes::Nine {
        used = index.value().exact().halved().to_tenths();
        lines.push(WorkingLine::new("half of it, to a tenth, for nine holes", used));
    }
    lines.push(WorkingLine::new(format!("{used} × {} / 113", tee.slope), used.exact() * tee.slope.over_standard()));
    if rules.rating_less_par {
        lines.push(WorkingLine::new(
            format!("rating {} less par {}", tee.rating, tee.par),
            tee.rating - Tenths::whole(tee.par),
        ));
    }
    lines.push(course_line(course));
    if rules.round_course_handicap_first {
        lines.push(WorkingLine::new("rounded before the allowance", whole_handicap_text(course.rounded())));
    }
    lines.push(WorkingLine::new(format!("allowance {allowance}"), playing.unrounded()));
    if par_difference != 0 {
        lines.push(WorkingLine::new("difference in par, after rounding", format!("{par_difference:+}")));
    }
    lines.push(WorkingLine::new("Playing Handicap", whole_handicap_text(playing.value())));
    lines
}

fn course_line(course: CourseHandicap) -> WorkingLine {
    WorkingLine::new(
        "Course Handicap, unrounded and rounded",
        format!("{}, {}", course.unrounded(), whole_handicap_text(course.rounded())),
    )
}

impl IndexWorking {
    /// How the index was made.
    pub fn lines(&self) -> Vec<WorkingLine> {
        let Some(index) = self.index else {
            return vec![WorkingLine::new(
                format!("{} on record; an index needs three", count(self.on_record)),
                "no index",
            )];
        };
        let values: Vec<String> = self.counted.iter().map(|c| c.value.to_string()).collect();
        let mut lines = vec![
            WorkingLine::new(format!("lowest {} of {}", self.counted.len(), count(self.on_record)), values.join(" ")),
            WorkingLine::new("mean", self.mean),
        ];
        if self.adjustment != Tenths::default() {
            lines.push(WorkingLine::new("for a short record", self.adjustment));
        }
        lines.push(WorkingLine::new("before caps", self.before_caps.truncated(2)));
        if let Some(low) = self.low {
            lines.push(WorkingLine::new("Low Handicap Index", low));
            lines.push(WorkingLine::new("above it", (self.before_caps - low.value().exact()).truncated(2)));
        }
        match self.cap {
            Cap::None => {}
            Cap::Soft => lines.push(WorkingLine::new("soft cap: growth above 3.0 counts half", self.after_caps)),
            Cap::Hard => lines.push(WorkingLine::new("hard cap: growth stops at 5.0", self.after_caps)),
        }
        if self.maximum {
            lines.push(WorkingLine::new("held at the maximum", index));
        }
        lines.push(WorkingLine::new("Handicap Index", index));
        lines
    }
}

impl Revision {
    /// What this score did and how the index after it was made.
    pub fn lines(&self) -> Vec<WorkingLine> {
        let mut lines = Vec::new();
        match (self.differential, self.estimated) {
            (Some(value), false) => lines.push(WorkingLine::new("differential", value)),
            (Some(value), true) => lines.push(WorkingLine::new(
                "differential, an estimate: only the association knows the official one",
                value,
            )),
            (None, _) => lines.push(WorkingLine::new("no differential yet", "nine holes wait for another nine")),
        }
        if let Some(index) = self.in_effect.filter(|_| self.exceptional != 0) {
            lines.push(WorkingLine::new(
                format!("exceptional against {index}: taken off every differential on record"),
                format!("{}.0", self.exceptional),
            ));
        }
        lines.extend(self.working.lines());
        lines
    }
}

fn count(differentials: usize) -> String {
    match differentials {
        1 => "1 differential".to_owned(),
        many => format!("{many} differentials"),
    }
}
