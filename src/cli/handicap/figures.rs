//! `course`, `playing`, `strokes`, `differential`: one figure from the values of the command line.

use super::values::{Checker, gross_problem, number};
use super::{Asked, FINE};
use crate::handicap::{
    Holes, Nine, Pcc, Percent, TeeRating, WorkingLine, course_handicap, playing_working, score_differential,
    strokes_by_hole,
};
use crate::units::tenths::{HandicapIndex, SlopeRating, parse_whole_handicap, whole_handicap_text};
use serde_json::{Value, json};
use std::io::{self, Write};

/// An index and a rated tee.
#[derive(Clone, Debug, clap::Args)]
pub struct CourseArgs {
    /// Handicap Index, like 12.4 or +1.3.
    #[arg(long, allow_hyphen_values = true)]
    pub index: String,
    /// Slope Rating, 55 to 155.
    #[arg(long, allow_hyphen_values = true)]
    pub slope: String,
    /// Course Rating, like 71.2.
    #[arg(long, allow_hyphen_values = true)]
    pub rating: String,
    /// Par.
    #[arg(long, allow_hyphen_values = true)]
    pub par: String,
    /// 9 or 18: what rating, slope and par are of.
    #[arg(long, default_value = "18", allow_hyphen_values = true)]
    pub holes: String,
}

/// The same with an allowance.
#[derive(Clone, Debug, clap::Args)]
pub struct PlayingArgs {
    /// Index and tee.
    #[command(flatten)]
    pub course: CourseArgs,
    /// Handicap allowance in per cent, 0 to 100.
    #[arg(long, allow_hyphen_values = true)]
    pub allowance: String,
    /// Par of the player's tee less the lowest par in the competition.
    #[arg(long, value_name = "STROKES", default_value = "0", allow_hyphen_values = true)]
    pub par_difference: String,
}

/// A Playing Handicap and stroke indexes.
#[derive(Clone, Debug, clap::Args)]
pub struct StrokesArgs {
    /// Playing Handicap, like 21 or +2.
    #[arg(long, allow_hyphen_values = true)]
    pub playing: String,
    /// Stroke indexes in hole order, like 5,13,1,…
    #[arg(long, value_name = "INDEXES", allow_hyphen_values = true)]
    pub stroke_index: String,
    /// A nine of the 18 indexes; the Playing Handicap is that of the nine.
    #[arg(long, value_enum)]
    pub nine: Option<NineChoice>,
}

/// Which nine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum NineChoice {
    /// Holes 1 to 9.
    Front,
    /// Holes 10 to 18.
    Back,
}

impl From<NineChoice> for Nine {
    fn from(choice: NineChoice) -> Nine {
        match choice {
            NineChoice::Front => Nine::Front,
            NineChoice::Back => Nine::Back,
        }
    }
}

/// An adjusted gross score on a rated tee.
#[derive(Clone, Debug, clap::Args)]
pub struct DifferentialArgs {
    /// Adjusted gross score.
    #[arg(long, allow_hyphen_values = true)]
    pub adjusted_gross: String,
    /// Course Rating, like 71.2.
    #[arg(long, allow_hyphen_values = true)]
    pub rating: String,
    /// Slope Rating, 55 to 155.
    #[arg(long, allow_hyphen_values = true)]
    pub slope: String,
    /// Playing conditions calculation of the day, -1 to 3, as published.
    #[arg(long, default_value = "0", allow_hyphen_values = true)]
    pub pcc: String,
    /// 9 or 18.
    #[arg(long, default_value = "18", allow_hyphen_values = true)]
    pub holes: String,
}

impl CourseArgs {
    fn read(&self, checker: &mut Checker) -> Option<(HandicapIndex, TeeRating)> {
        let index = checker.take("--index", HandicapIndex::parse(&self.index));
        let tee = checker.tee(&self.rating, &self.slope, &self.par, &self.holes);
        Some((index?, tee?))
    }
}

pub(super) fn course(
    args: &CourseArgs,
    asked: &Asked,
    mut checker: Checker,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> io::Result<i32> {
    let Some((index, tee)) = args.read(&mut checker).filter(|_| checker.is_fine()) else {
        return checker.refuse(err);
    };
    let found = course_handicap(index, &tee, &asked.rules);
    if asked.json {
        let object = json!({
            "schema": "marram/handicap-course/1",
            "course_handicap": found.rounded(),
            "unrounded": found.unrounded().truncated(4),
        });
        writeln!(out, "{object}")?;
    } else {
        writeln!(out, "Course Handicap {}", whole_handicap_text(found.rounded()))?;
        let working = playing_working(index, &tee, Percent::FULL, 0, &asked.rules);
        // The last lines of the working are those of the Playing Handicap.
        let lines = working.iter().take_while(|line| !line.what.starts_with("allowance"));
        write_working(lines, out)?;
    }
    Ok(FINE)
}

pub(super) fn playing(
    args: &PlayingArgs,
    asked: &Asked,
    mut checker: Checker,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> io::Result<i32> {
    let course = args.course.read(&mut checker);
    let allowance = checker.take("--allowance", Percent::parse(&args.allowance));
    let difference = args.par_difference.trim().parse::<i32>().ok().filter(|strokes| strokes.abs() <= 18);
    if difference.is_none() {
        checker.note(format!("--par-difference `{}`: a whole number of strokes from -18 to 18", args.par_difference));
    }
    let (Some((index, tee)), Some(allowance), Some(difference), true) =
        (course, allowance, difference, checker.is_fine())
    else {
        return checker.refuse(err);
    };
    let course = course_handicap(index, &tee, &asked.rules);
    let found = course.playing(allowance, difference, &asked.rules);
    if asked.json {
        let object = json!({
            "schema": "marram/handicap-playing/1",
            "playing_handicap": found.value(),
            "unrounded": found.unrounded().truncated(4),
            "course_handicap": course.rounded(),
        });
        writeln!(out, "{object}")?;
    } else {
        writeln!(out, "Playing Handicap {}", whole_handicap_text(found.value()))?;
        write_working(playing_working(index, &tee, allowance, difference, &asked.rules).iter(), out)?;
    }
    Ok(FINE)
}

pub(super) fn strokes(
    args: &StrokesArgs,
    asked: &Asked,
    mut checker: Checker,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> io::Result<i32> {
    let playing = checker.take("--playing", parse_whole_handicap(&args.playing));
    let indexes = checker.stroke_indexes(&args.stroke_index).and_then(|indexes| match args.nine {
        None => Some(indexes),
        Some(nine) => checker.take("--nine", indexes.nine(nine.into())),
    });
    let (Some(playing), Some(indexes), true) = (playing, indexes, checker.is_fine()) else {
        return checker.refuse(err);
    };
    let strokes = strokes_by_hole(playing, &indexes);
    if asked.json {
        writeln!(out, "{}", json!({ "schema": "marram/handicap-strokes/1", "strokes": strokes }))?;
    } else {
        let first = if args.nine == Some(NineChoice::Back) { 10 } else { 1 };
        let row = |title: &str, cells: Vec<String>| {
            let cells: Vec<String> = cells.iter().map(|cell| format!("{cell:>3}")).collect();
            format!("{title:<13}{}", cells.concat())
        };
        writeln!(out, "{}", row("hole", (first..).take(strokes.len()).map(|hole| hole.to_string()).collect()))?;
        writeln!(out, "{}", row("stroke index", indexes.by_hole().iter().map(u8::to_string).collect()))?;
        writeln!(out, "{}", row("strokes", strokes.iter().map(i32::to_string).collect()))?;
    }
    Ok(FINE)
}

pub(super) fn differential(
    args: &DifferentialArgs,
    asked: &Asked,
    mut checker: Checker,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> io::Result<i32> {
    let holes = checker.holes(&args.holes);
    let rating = checker.rating(&args.rating, holes);
    let slope = checker.take("--slope", SlopeRating::parse(&args.slope));
    let pcc = checker.take("--pcc", Pcc::parse(&args.pcc));
    let gross = args.adjusted_gross.trim().parse::<i32>().ok();
    let bounded = holes.unwrap_or(Holes::Eighteen);
    let gross_fault = match gross {
        Some(gross) => holes.and_then(|holes| gross_problem(gross, holes)),
        None => gross_problem(0, bounded),
    };
    if let Some(problem) = gross_fault {
        checker.note(format!("--adjusted-gross `{}`: {problem}", args.adjusted_gross));
    }
    let (Some(holes), Some(rating), Some(slope), Some(pcc), Some(gross), true) =
        (holes, rating, slope, pcc, gross, checker.is_fine())
    else {
        return checker.refuse(err);
    };
    let found = score_differential(gross, rating, slope, pcc, holes);
    if asked.json {
        let object = json!({
            "schema": "marram/handicap-differential/1",
            "differential": found.value.map_or(Value::Null, number),
            "unrounded": found.unrounded.truncated(4),
        });
        writeln!(out, "{object}")?;
        return Ok(FINE);
    }
    match found.value {
        Some(value) => writeln!(out, "Score Differential {value}")?,
        None => writeln!(out, "Score Differential of the nine holes {}, not rounded", found.unrounded)?,
    }
    let correction = match holes {
        Holes::Eighteen => format!("{}", pcc.value()),
        Holes::Nine => format!("half of {}", pcc.value()),
    };
    writeln!(out, "  113 / {slope} × ({gross} − {rating} − {correction}): {}", found.unrounded)?;
    Ok(FINE)
}

/// Writes a working under its result.
pub(super) fn write_working<'a>(lines: impl Iterator<Item = &'a WorkingLine>, out: &mut dyn Write) -> io::Result<()> {
    for line in lines {
        writeln!(out, "  {line}")?;
    }
    Ok(())
}
