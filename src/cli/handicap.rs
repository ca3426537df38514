//! `marram handicap …`: Course and Playing Handicap, strokes by hole, differentials, an index, a whole field.
//!
//! The commands get what lies outside them as [`Surroundings`]: today's date, how a file is read, how a course is found.
//! Exit codes: 0 fine, 1 a file is wrong, 2 a value of the command line is.

mod field;
mod figures;
mod problems;
mod record;
mod values;

pub use field::{FIELD_CODES, FieldArgs, allowance_of};
pub use figures::{CourseArgs, DifferentialArgs, PlayingArgs, StrokesArgs};
pub use record::{IndexArgs, RECORD_CODES};

use crate::handicap::{Nine, Rules, TeeRating};
use chrono::NaiveDate;
use std::io::{self, Write};
use values::Checker;

/// Everything went well.
pub const FINE: i32 = 0;
/// A file is wrong.
pub const DATA: i32 = 1;
/// The command line is wrong.
pub const USAGE: i32 = 2;

/// The arguments of `marram handicap`.
#[derive(Clone, Debug, clap::Args)]
pub struct HandicapArgs {
    /// What to work out.
    #[command(subcommand)]
    pub what: HandicapCommand,
    /// Print JSON: one object, or one a line where a list is asked for.
    #[arg(long, global = true)]
    pub json: bool,
    /// Edition of the Rules of Handicapping: 2024, 2024-denmark, 2020 or 2020-gbi.
    #[arg(long, global = true, value_name = "EDITION", default_value = "2024")]
    pub rules: String,
}

/// What to work out.
#[derive(Clone, Debug, clap::Subcommand)]
pub enum HandicapCommand {
    /// The Course Handicap of an index on a tee.
    Course(CourseArgs),
    /// The Playing Handicap: Course Handicap, allowance, difference in par.
    Playing(PlayingArgs),
    /// Strokes received (given back below zero) on each hole.
    Strokes(StrokesArgs),
    /// The Score Differential of an adjusted gross score.
    Differential(DifferentialArgs),
    /// An index from differentials or from a scoring record; not official, an index is issued by an association.
    Index(IndexArgs),
    /// Handicaps and strokes of every entry in a field.
    Field(FieldArgs),
}

/// Whose card and ratings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, clap::ValueEnum)]
pub enum Card {
    /// The men's.
    #[default]
    Men,
    /// The women's.
    Women,
}

impl From<crate::course::Card> for Card {
    fn from(card: crate::course::Card) -> Card {
        match card {
            crate::course::Card::Men => Card::Men,
            crate::course::Card::Women => Card::Women,
        }
    }
}

impl Card {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Card::Men => "men",
            Card::Women => "women",
        }
    }
}

/// A tee as one card knows it: its ratings, and par and stroke index of its holes in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RatedTee {
    /// The tee's name as the course writes it.
    pub name: String,
    /// Rating, slope and par.
    pub rating: TeeRating,
    /// Stroke index of each hole.
    pub stroke_indexes: Vec<u8>,
}

/// A course, as far as handicaps need it.
pub trait CourseRatings {
    /// A tee for one card, of the whole course or one nine; `None` names the only tee there is.
    ///
    /// # Errors
    /// What is wrong and which tees or ratings there are, in one sentence.
    fn rated(&self, tee: Option<&str>, card: Card, nine: Option<Nine>) -> Result<RatedTee, String>;
}

/// A text with the name it is spoken of by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NamedText {
    /// The name for messages.
    pub name: String,
    /// The text.
    pub text: String,
}

/// Reads a file given on the command line; the error is one sentence that names it.
pub type ReadFile<'a> = &'a dyn Fn(&str) -> Result<NamedText, String>;
/// Finds a course given on the command line; the error is one or more lines that name it.
pub type FindCourse<'a> = &'a dyn Fn(&str) -> Result<Box<dyn CourseRatings>, String>;

/// What lies outside the command.
#[derive(Clone, Copy)]
pub struct Surroundings<'a> {
    /// Today: no score is later.
    pub today: NaiveDate,
    /// Reads a file.
    pub read: ReadFile<'a>,
    /// Finds a course.
    pub course: FindCourse<'a>,
}

/// Runs the command; answers with the exit code.
pub fn command(args: &HandicapArgs, around: &Surroundings<'_>, out: &mut dyn Write, err: &mut dyn Write) -> i32 {
    match run(args, around, out, err) {
        Ok(code) => code,
        // Whoever reads us has read enough.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => FINE,
        Err(error) => {
            // There is nowhere left to say it when this fails too.
            let _ = writeln!(err, "error: the answer could not be written: {error}");
            DATA
        }
    }
}

fn run(args: &HandicapArgs, around: &Surroundings<'_>, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<i32> {
    let mut checker = Checker::default();
    let rules = checker.take("--rules", Rules::parse(&args.rules)).unwrap_or_default();
    let asked = Asked { json: args.json, rules };
    match &args.what {
        HandicapCommand::Course(course) => figures::course(course, &asked, checker, out, err),
        HandicapCommand::Playing(playing) => figures::playing(playing, &asked, checker, out, err),
        HandicapCommand::Strokes(strokes) => figures::strokes(strokes, &asked, checker, out, err),
        HandicapCommand::Differential(score) => figures::differential(score, &asked, checker, out, err),
        HandicapCommand::Index(index) => record::index(index, &asked, around, checker, out, err),
        HandicapCommand::Field(entries) => field::field(entries, &asked, around, checker, out, err),
    }
}

#[cfg(test)]
mod tests;

/// What every subcommand is asked.
struct Asked {
    json: bool,
    rules: Rules,
}
