//! The Review page, and logging shots: while playing by one key each, afterwards by the Shots page.

use super::pages::*;
use super::why::*;
use super::{Act, Command, Page};
use crate::round::{LeftRight, Penalty, ShortLong, ShotLie};
use crate::tui::state::Tab;

/// What the Review page does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum ReviewAct {
    Open,
    Show(Tab),
    NextTab,
    Target,
    Agree,
    Edit,
    Refuse,
    Again,
}

/// What is logged with one key.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum LogAct {
    /// The page of all shots.
    Page,
    /// A stroke whose ball lies where the stand is.
    Here,
    /// A stroke of which nothing is known yet.
    Stroke,
    /// The last stroke with the next club.
    NextClub,
    Length(ShortLong),
    Side(LeftRight),
    Into(ShotLie),
    Cost(Penalty),
    Holed,
    Putts,
    TakeBack,
}

const REVIEW: &[Page] = &[Page::Review];

const fn log(
    act: LogAct,
    name: &'static str,
    title: &'static str,
    sentence: &'static str,
    keys: &'static [&'static str],
) -> Command {
    Command { act: Act::Log(act), name, title, hint: "", sentence, keys, pages: HOLE, why_not: can_log }
}

/// The table.
pub const TABLE: &[Command] = &[
    Command {
        act: Act::Review(ReviewAct::Open),
        name: "go-review",
        title: "Review",
        hint: "review",
        sentence: "Opens the review: plan against play, the season, what to learn, what a target needs.",
        keys: &["R"],
        pages: MAIN,
        why_not: can_review,
    },
    Command {
        act: Act::Log(LogAct::Page),
        name: "shots",
        title: "Shots",
        hint: "",
        sentence: "Opens the shots of the round, a line a hole, for entering them from the book.",
        keys: &["S S"],
        pages: HOLE_CARD,
        why_not: can_log,
    },
    log(LogAct::Here, "shot-here", "Ball here", "Logs a stroke whose ball lies where the stand is.", &["S b"]),
    log(LogAct::Stroke, "shot-next", "Another stroke", "Logs a stroke; what follows is noted to it.", &["S n"]),
    log(LogAct::NextClub, "shot-club", "Next club", "Gives the last stroke the next club of the bag.", &["S c"]),
    log(LogAct::Length(ShortLong::Short), "shot-short", "Short", "Notes that the last stroke was short.", &["S Left"]),
    log(LogAct::Length(ShortLong::Long), "shot-long", "Long", "Notes that the last stroke was long.", &["S Right"]),
    log(LogAct::Side(LeftRight::Left), "shot-left", "Left", "Notes that the last stroke was left.", &["S Up"]),
    log(LogAct::Side(LeftRight::Right), "shot-right", "Right", "Notes that the last stroke was right.", &["S Down"]),
    log(LogAct::Into(ShotLie::Fairway), "shot-fairway", "On the fairway", "The ball lies on the fairway.", &["S f"]),
    log(LogAct::Into(ShotLie::Rough), "shot-rough", "In the rough", "The ball lies in the rough.", &["S r"]),
    log(LogAct::Into(ShotLie::Sand), "shot-sand", "In a bunker", "The ball lies in a bunker.", &["S s"]),
    log(LogAct::Into(ShotLie::Trees), "shot-trees", "Under trees", "The ball lies under trees.", &["S t"]),
    log(LogAct::Into(ShotLie::Green), "shot-green", "On the green", "The ball lies on the green.", &["S g"]),
    log(
        LogAct::Cost(Penalty::Water),
        "shot-penalty-area",
        "Penalty area",
        "The stroke cost one more by relief from a penalty area.",
        &["S w"],
    ),
    log(
        LogAct::Cost(Penalty::Out),
        "shot-out",
        "Out or lost",
        "The stroke cost one more and is played again from where it was.",
        &["S o"],
    ),
    log(
        LogAct::Cost(Penalty::Unplayable),
        "shot-unplayable",
        "Unplayable",
        "The ball was unplayable and cost one more.",
        &["S u"],
    ),
    log(LogAct::Holed, "shot-holed", "Holed", "The last stroke was holed.", &["S h"]),
    log(
        LogAct::Putts,
        "shot-putts",
        "Putts",
        "Notes how many putts the hole took.",
        &["S 0", "S 1", "S 2", "S 3", "S 4", "S 5"],
    ),
    log(
        LogAct::TakeBack,
        "shot-take-back",
        "Take the stroke back",
        "Takes the last stroke of this hole out of the log.",
        &["S x"],
    ),
    Command {
        act: Act::Review(ReviewAct::Show(Tab::Round)),
        name: "review-round",
        title: "The round",
        hint: "round",
        sentence: "Shows plan against play of this round.",
        keys: &["1"],
        pages: REVIEW,
        why_not: always,
    },
    Command {
        act: Act::Review(ReviewAct::Show(Tab::Season)),
        name: "review-season",
        title: "The season",
        hint: "season",
        sentence: "Shows every round of this player on the shelf, and what to practise.",
        keys: &["2"],
        pages: REVIEW,
        why_not: always,
    },
    Command {
        act: Act::Review(ReviewAct::Show(Tab::Learn)),
        name: "review-learn",
        title: "What was learnt",
        hint: "learn",
        sentence: "Shows what logged shots say of each club, and what they propose.",
        keys: &["3"],
        pages: REVIEW,
        why_not: always,
    },
    Command {
        act: Act::Review(ReviewAct::Show(Tab::Need)),
        name: "review-need",
        title: "What do I need",
        hint: "need",
        sentence: "Shows the chance of a target over the holes to come, and the plays for it.",
        keys: &["4"],
        pages: REVIEW,
        why_not: always,
    },
    Command {
        act: Act::Review(ReviewAct::Show(Tab::Practise)),
        name: "review-practise",
        title: "Practise for this course",
        hint: "practise",
        sentence: "Shows what ten per cent less spread would save on this course, by club and lie.",
        keys: &["5"],
        pages: REVIEW,
        why_not: always,
    },
    Command {
        act: Act::Review(ReviewAct::NextTab),
        name: "review-next",
        title: "Next part",
        hint: "",
        sentence: "Goes to the next part of the review.",
        keys: &["Tab"],
        pages: REVIEW,
        why_not: always,
    },
    Command {
        act: Act::Review(ReviewAct::Target),
        name: "review-target",
        title: "Target",
        hint: "target",
        sentence: "Types a target, as 36 points, net 72, gross 89, beat 90.",
        keys: &["t"],
        pages: REVIEW,
        why_not: always,
    },
    Command {
        act: Act::Review(ReviewAct::Agree),
        name: "review-agree",
        title: "Agree",
        hint: "agree",
        sentence: "Agrees to the proposal under the cursor and writes it into the player's file.",
        keys: &["a", "Enter"],
        pages: REVIEW,
        why_not: has_proposal,
    },
    Command {
        act: Act::Review(ReviewAct::Edit),
        name: "review-edit",
        title: "Edit and agree",
        hint: "",
        sentence: "Types another figure than the one proposed.",
        keys: &["E"],
        pages: REVIEW,
        why_not: has_proposal,
    },
    Command {
        act: Act::Review(ReviewAct::Refuse),
        name: "review-refuse",
        title: "Refuse",
        hint: "",
        sentence: "Refuses the proposal; it comes again when half as many shots more stand behind it.",
        keys: &["x"],
        pages: REVIEW,
        why_not: has_proposal,
    },
    Command {
        act: Act::Review(ReviewAct::Again),
        name: "review-again",
        title: "Work it out again",
        hint: "",
        sentence: "Reads the rounds again and works this part out anew.",
        keys: &["r"],
        pages: REVIEW,
        why_not: always,
    },
];
