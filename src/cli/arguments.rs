//! The command line, as clap reads it.

use super::book::BookArgs;
use super::card::CardArgs;
use super::carry::CarryArgs;
use super::changes::ChangesArgs;
use super::check::CheckArgs;
use super::close::CloseArgs;
use super::day::DayArgs;
use super::doctor::DoctorArgs;
use super::expect::ExpectArgs;
use super::handicap::HandicapArgs;
use super::man::ManArgs;
use super::merge::MergeArgs;
use super::new::NewArgs;
use super::note::NoteArgs;
use super::plan::PlanArgs;
use super::putt::PuttArgs;
use super::restore::RestoreArgs;
use super::review::ReviewArgs;
use super::scout::ScoutArgs;
use super::survey::SurveyArgs;
use super::total::TotalArgs;
use clap::{Parser, Subcommand};
use std::path::PathBuf;

/// A keyboard-driven course-management coach for golf.
#[derive(Debug, Parser)]
#[command(
    name = "marram",
    version,
    about,
    after_help = "Without a command marram opens where you left off; on the first start, the example round.\nNot official: a Handicap Index is issued only by an authorised association. Local Rules and the Committee decide."
)]
pub struct Arguments {
    /// The folder of your notebooks, players and rounds, instead of the system's (also MARRAM_FOLDER).
    #[arg(long, global = true, value_name = "DIR")]
    pub folder: Option<PathBuf>,
    /// Line mode instead of the drawn screen: type keys or commands a line at a time, only what changes is printed.
    #[arg(long)]
    pub lines: bool,
    /// What to do.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// The subcommands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Open a notebook, a round or a player on the screen.
    Open {
        /// A name on the shelf, or a file.
        #[arg(value_name = "NAME|FILE")]
        name: String,
        /// Line mode instead of the drawn screen.
        #[arg(long)]
        lines: bool,
    },
    /// Write a commented starter file, or the opening record of a round.
    New(NewArgs),
    /// Name every problem in every file, with its line and what to do.
    Check(CheckArgs),
    /// The plan, hole by hole.
    Plan(PlanArgs),
    /// The pocket book and the other papers: PDF, SVG, plain text.
    Book(BookArgs),
    /// The card with strokes received, gross, net and points.
    Card(CardArgs),
    /// Course and Playing Handicap, strokes by hole, differentials, an index, a whole field.
    Handicap(HandicapArgs),
    /// Add a note to a notebook, or to a person's own layer, and print the changed lines.
    Note(NoteArgs),
    /// A draft notebook and its ground from OpenStreetMap, GPX or GeoJSON, and the list of gaps.
    Survey(SurveyArgs),
    /// What differs between two editions of a notebook, and whose plans change.
    Changes(ChangesArgs),
    /// Take a person's layer into the notebook, hole by hole; shows what would change until --write.
    Merge(MergeArgs),
    /// What to measure next: the unmeasured numbers whose plausible error changes a plan.
    Scout(ScoutArgs),
    /// Put back what a file was before marram last rewrote it.
    Restore(RestoreArgs),
    /// A competition's order: ties and how they were settled, what is missing or disagrees.
    Total(TotalArgs),
    /// Write a competition's results with digests of what they were made from.
    Close(CloseArgs),
    /// The day sheet as text, CSV or JSON, with what the wind is on each hole; and reading one in.
    Day(DayArgs),
    /// Plan against play: strokes gained and lost, the season, what to learn, what a target needs.
    Review(Box<ReviewArgs>),
    /// What a carry becomes in other air, wind and height.
    Carry(CarryArgs),
    /// Where to start a putt, how hard, how likely.
    Putt(PuttArgs),
    /// Strokes to hole out from a lie and distance on plain ground.
    Expect(ExpectArgs),
    /// Every key of the screen.
    Keys {
        /// As the page docs/keys.md.
        #[arg(long)]
        markdown: bool,
        /// The names of the commands, for a file of your own keys.
        #[arg(long, conflicts_with = "markdown")]
        names: bool,
    },
    /// What marram sees of the terminal, the folders and the files, and what to do where something is wrong.
    Doctor(DoctorArgs),
    /// The manual page, made from the same tables as the help.
    Man(ManArgs),
    /// Completions for a shell.
    Completions {
        /// The shell.
        shell: clap_complete::Shell,
    },
}
