//! Every command, declared once: its name, keys, title, hint, sentence, and the reason why it cannot run now.
//!
//! The hint line, the key help, the finder, `marram keys` and `docs/keys.md` are made from this table.

use super::state::State;
use crate::round::Ability;

/// The places where keys have a meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Page {
    /// The hole from above, the notes and the card strip.
    Hole,
    /// The whole card.
    Card,
    /// Notebooks, players and rounds.
    Shelf,
    /// The player's clubs.
    Bag,
    /// The key help.
    Help,
    /// The finder of commands.
    Finder,
    /// The problems of the files that are open.
    Problems,
}

impl Page {
    /// All pages, in the order of the docs.
    pub const ALL: [Self; 7] =
        [Self::Hole, Self::Card, Self::Shelf, Self::Bag, Self::Help, Self::Finder, Self::Problems];

    /// Its name on screen.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Hole => "Hole",
            Self::Card => "Card",
            Self::Shelf => "Shelf",
            Self::Bag => "Bag",
            Self::Help => "Keys",
            Self::Finder => "Commands",
            Self::Problems => "Problems",
        }
    }
}

/// What a command does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Act {
    NextHole,
    PreviousHole,
    StandAhead,
    StandBack,
    StandLeft,
    StandRight,
    StandAheadOne,
    StandBackOne,
    StandLeftOne,
    StandRightOne,
    NextThing,
    PreviousThing,
    StandOnTee,
    Score,
    RaiseScore,
    PickedUp,
    NotPlayed,
    Conceded,
    PenaltyStroke,
    ClearScore,
    Undo,
    Redo,
    TrueShape,
    AllNotes,
    MoreNotes,
    NextPlayer,
    LookFromNextTee,
    NextAim,
    Units,
    Ascii,
    Background,
    OpenCard,
    OpenShelf,
    OpenBag,
    NumberLeft,
    NumberRight,
    EditNumber,
    TypeNumber,
    ClearNumber,
    AddClub,
    RemoveClub,
    OpenHole,
    OpenHelp,
    OpenFinder,
    OpenProblems,
    CloseRound,
    Up,
    Down,
    Choose,
    Back,
    Quit,
}

/// One command of the table.
#[derive(Debug)]
pub struct Command {
    /// What it does.
    pub act: Act,
    /// Its name in lower case with hyphens, for the finder and the docs.
    pub name: &'static str,
    /// Its title.
    pub title: &'static str,
    /// One or two words for the hint line; empty keeps it off the line.
    pub hint: &'static str,
    /// What it does, in a sentence.
    pub sentence: &'static str,
    /// The keys; a sequence is written with a blank between its keys.
    pub keys: &'static [&'static str],
    /// Where the keys work.
    pub pages: &'static [Page],
    /// Why it cannot run now, in words; `None` when it can.
    pub why_not: fn(&State) -> Option<String>,
}

const HOLE: &[Page] = &[Page::Hole];
const HOLE_CARD: &[Page] = &[Page::Hole, Page::Card];
const BAG: &[Page] = &[Page::Bag];
const HOLE_CARD_BAG: &[Page] = &[Page::Hole, Page::Card, Page::Bag];
const MAIN: &[Page] = &[Page::Hole, Page::Card, Page::Shelf, Page::Bag];
const LISTS: &[Page] = &[Page::Shelf, Page::Bag, Page::Help, Page::Problems];
const EVERYWHERE: &[Page] = &[Page::Hole, Page::Card, Page::Shelf, Page::Bag, Page::Help, Page::Problems];

fn always(_: &State) -> Option<String> {
    None
}

fn needs_course(state: &State) -> Option<String> {
    state.session.course.is_none().then(|| "No notebook is open: choose one on the Shelf (s).".to_owned())
}

fn needs_score(state: &State) -> Option<String> {
    needs_course(state).or_else(|| state.session.why_no_score())
}

fn needs_round(state: &State) -> Option<String> {
    let none = || Some("No score has been entered yet.".to_owned());
    needs_score(state).or_else(|| if state.session.round.is_none() { none() } else { None })
}

fn needs_match(state: &State) -> Option<String> {
    let no_match = || "only in a match is a hole or a stroke conceded; x is picked up".to_owned();
    needs_score(state).or_else(|| match &state.session.round {
        Some(round) => round.opening().why_no_concession(),
        None => Some(no_match()),
    })
}

fn needs_players(state: &State) -> Option<String> {
    (state.session.golfers.len() < 2).then(|| "This round has one player.".to_owned())
}

fn needs_undo(state: &State) -> Option<String> {
    if state.page_below() == Page::Bag {
        return state.bag_edits.why_no_undo(state);
    }
    state.session.why_no_undo()
}

fn needs_redo(state: &State) -> Option<String> {
    if state.page_below() == Page::Bag {
        return state.bag_edits.why_no_redo(state);
    }
    state.session.why_no_redo()
}

fn stand_allowed(state: &State) -> Option<String> {
    needs_course(state).or_else(|| state.session.why_not(Ability::StandDistances))
}

fn live_plan(state: &State) -> Option<String> {
    needs_course(state).or_else(|| state.session.why_not(Ability::LivePlan)).or_else(|| {
        let frozen = state.session.frozen.is_some() && state.session.round.is_some();
        frozen.then(|| "The plan of this round is frozen.".to_owned())
    })
}

fn needs_problems(state: &State) -> Option<String> {
    state.session.problems.is_empty().then(|| "The files that are open have no problems.".to_owned())
}

fn needs_open_round(state: &State) -> Option<String> {
    state.session.why_no_close()
}

fn needs_person(state: &State) -> Option<String> {
    state.session.people.is_empty().then(|| "No player is open: choose one on the Shelf (s).".to_owned())
}

fn needs_player_file(state: &State) -> Option<String> {
    needs_person(state).or_else(|| {
        let none = state.session.player_file(state.player).is_none();
        none.then(|| "This player has no file; `marram new player NAME` makes yours.".to_owned())
    })
}

/// The table.
pub const ALL: &[Command] = &[
    Command {
        act: Act::Score,
        name: "score",
        title: "Score",
        hint: "score",
        sentence: "Writes the player's gross score for this hole and goes on to the next player, then the next hole.",
        keys: &["1", "2", "3", "4", "5", "6", "7", "8", "9"],
        pages: HOLE_CARD,
        why_not: needs_score,
    },
    Command {
        act: Act::RaiseScore,
        name: "score-raise",
        title: "One more",
        hint: "",
        sentence: "Raises the score just entered by one, for ten and more.",
        keys: &["+"],
        pages: HOLE_CARD,
        why_not: needs_score,
    },
    Command {
        act: Act::PickedUp,
        name: "score-picked-up",
        title: "Picked up",
        hint: "",
        sentence: "The player picked up on this hole.",
        keys: &["x"],
        pages: HOLE_CARD,
        why_not: needs_score,
    },
    Command {
        act: Act::NotPlayed,
        name: "score-not-played",
        title: "Not played",
        hint: "",
        sentence: "The player did not play this hole.",
        keys: &["."],
        pages: HOLE_CARD,
        why_not: needs_score,
    },
    Command {
        act: Act::Conceded,
        name: "score-conceded",
        title: "Conceded",
        hint: "",
        sentence: "In a match: gives the hole away for the player's side; where a score stands, the last stroke was conceded.",
        keys: &["y"],
        pages: HOLE_CARD,
        why_not: needs_match,
    },
    Command {
        act: Act::PenaltyStroke,
        name: "score-penalty",
        title: "Penalty stroke",
        hint: "",
        sentence: "Notes that one more of the strokes just entered is a penalty stroke; after all of them it begins at none.",
        keys: &["-"],
        pages: HOLE_CARD,
        why_not: needs_round,
    },
    Command {
        act: Act::ClearScore,
        name: "score-clear",
        title: "Clear the score",
        hint: "",
        sentence: "Takes the player's score for this hole away.",
        keys: &["Backspace", "Delete"],
        pages: HOLE_CARD,
        why_not: needs_score,
    },
    Command {
        act: Act::EditNumber,
        name: "bag-edit",
        title: "Change the number",
        hint: "change",
        sentence: "Opens the number under the cursor for typing; Enter keeps it, an empty one is assumed again.",
        keys: &["Enter"],
        pages: BAG,
        why_not: needs_player_file,
    },
    Command {
        act: Act::TypeNumber,
        name: "bag-type",
        title: "Type a number",
        hint: "",
        sentence: "Begins a new number under the cursor with this digit.",
        keys: &["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"],
        pages: BAG,
        why_not: needs_player_file,
    },
    Command {
        act: Act::ClearNumber,
        name: "bag-clear",
        title: "Leave it to be assumed",
        hint: "",
        sentence: "Takes the number under the cursor out of the player's file: it is assumed again.",
        keys: &["Backspace", "Delete"],
        pages: BAG,
        why_not: needs_player_file,
    },
    Command {
        act: Act::AddClub,
        name: "bag-add",
        title: "Add a club",
        hint: "add",
        sentence: "Adds a club to the bag by its name.",
        keys: &["a"],
        pages: BAG,
        why_not: needs_player_file,
    },
    Command {
        act: Act::RemoveClub,
        name: "bag-remove",
        title: "Take a club out",
        hint: "out",
        sentence: "Takes the club under the cursor out of the bag and of the player's file.",
        keys: &["x"],
        pages: BAG,
        why_not: needs_player_file,
    },
    Command {
        act: Act::NumberLeft,
        name: "bag-left",
        title: "Number to the left",
        hint: "",
        sentence: "Moves to the number on the left.",
        keys: &["Left", "h"],
        pages: BAG,
        why_not: always,
    },
    Command {
        act: Act::NumberRight,
        name: "bag-right",
        title: "Number to the right",
        hint: "",
        sentence: "Moves to the number on the right.",
        keys: &["Right", "l"],
        pages: BAG,
        why_not: always,
    },
    Command {
        act: Act::Undo,
        name: "undo",
        title: "Undo",
        hint: "undo",
        sentence: "Takes the last change back.",
        keys: &["u"],
        pages: HOLE_CARD_BAG,
        why_not: needs_undo,
    },
    Command {
        act: Act::Redo,
        name: "redo",
        title: "Redo",
        hint: "",
        sentence: "Makes the change that was taken back again.",
        keys: &["U"],
        pages: HOLE_CARD_BAG,
        why_not: needs_redo,
    },
    Command {
        act: Act::NextHole,
        name: "hole-next",
        title: "Next hole",
        hint: "hole",
        sentence: "Goes to the next hole in playing order.",
        keys: &["Tab", ","],
        pages: HOLE_CARD,
        why_not: needs_course,
    },
    Command {
        act: Act::PreviousHole,
        name: "hole-previous",
        title: "Previous hole",
        hint: "",
        sentence: "Goes to the previous hole in playing order.",
        keys: &["Shift-Tab", ";"],
        pages: HOLE_CARD,
        why_not: needs_course,
    },
    Command {
        act: Act::StandAhead,
        name: "stand-ahead",
        title: "Stand ahead",
        hint: "stand",
        sentence: "Walks the stand five ahead along the hole; on the card, to the next hole.",
        keys: &["Right", "l"],
        pages: HOLE_CARD,
        why_not: stand_allowed,
    },
    Command {
        act: Act::StandBack,
        name: "stand-back",
        title: "Stand back",
        hint: "",
        sentence: "Walks the stand five back along the hole; on the card, to the previous hole.",
        keys: &["Left", "h"],
        pages: HOLE_CARD,
        why_not: stand_allowed,
    },
    Command {
        act: Act::StandLeft,
        name: "stand-left",
        title: "Stand left",
        hint: "",
        sentence: "Walks the stand two to the left of the line; on the card, to the player above.",
        keys: &["Up", "k"],
        pages: HOLE_CARD,
        why_not: stand_allowed,
    },
    Command {
        act: Act::StandRight,
        name: "stand-right",
        title: "Stand right",
        hint: "",
        sentence: "Walks the stand two to the right of the line; on the card, to the player below.",
        keys: &["Down", "j"],
        pages: HOLE_CARD,
        why_not: stand_allowed,
    },
    Command {
        act: Act::StandAheadOne,
        name: "stand-ahead-one",
        title: "One ahead",
        hint: "",
        sentence: "Walks the stand one ahead.",
        keys: &["Shift-Right", "L"],
        pages: HOLE,
        why_not: stand_allowed,
    },
    Command {
        act: Act::StandBackOne,
        name: "stand-back-one",
        title: "One back",
        hint: "",
        sentence: "Walks the stand one back.",
        keys: &["Shift-Left", "H"],
        pages: HOLE,
        why_not: stand_allowed,
    },
    Command {
        act: Act::StandLeftOne,
        name: "stand-left-one",
        title: "One left",
        hint: "",
        sentence: "Walks the stand one to the left.",
        keys: &["Shift-Up", "K"],
        pages: HOLE,
        why_not: stand_allowed,
    },
    Command {
        act: Act::StandRightOne,
        name: "stand-right-one",
        title: "One right",
        hint: "",
        sentence: "Walks the stand one to the right.",
        keys: &["Shift-Down", "J"],
        pages: HOLE,
        why_not: stand_allowed,
    },
    Command {
        act: Act::NextThing,
        name: "stand-next-thing",
        title: "Next thing that matters",
        hint: "next thing",
        sentence: "Walks the stand to the next place along the hole where something begins or ends.",
        keys: &["w"],
        pages: HOLE,
        why_not: stand_allowed,
    },
    Command {
        act: Act::PreviousThing,
        name: "stand-previous-thing",
        title: "Previous thing that matters",
        hint: "",
        sentence: "Walks the stand back to the place before.",
        keys: &["W"],
        pages: HOLE,
        why_not: stand_allowed,
    },
    Command {
        act: Act::StandOnTee,
        name: "stand-on-tee",
        title: "Back on the tee",
        hint: "tee",
        sentence: "Puts the stand back on the player's tee.",
        keys: &["t"],
        pages: HOLE,
        why_not: needs_course,
    },
    Command {
        act: Act::AllNotes,
        name: "notes-all",
        title: "All notes",
        hint: "all notes",
        sentence: "Shows what does not apply to this tee and player too, greyed, with the reason.",
        keys: &["a"],
        pages: HOLE,
        why_not: needs_course,
    },
    Command {
        act: Act::MoreNotes,
        name: "notes-more",
        title: "More below",
        hint: "",
        sentence: "Turns to the lines that did not fit, and back to the first.",
        keys: &["PageDown", "Space"],
        pages: &[Page::Hole, Page::Bag],
        why_not: always,
    },
    Command {
        act: Act::TrueShape,
        name: "true-shape",
        title: "True shape",
        hint: "shape",
        sentence: "Turns the drawing between the ribbon and the true shape of the hole.",
        keys: &["v"],
        pages: HOLE,
        why_not: needs_course,
    },
    Command {
        act: Act::NextPlayer,
        name: "player-next",
        title: "Next player",
        hint: "",
        sentence: "Shows the hole for the next player of the round.",
        keys: &["p"],
        pages: HOLE_CARD_BAG,
        why_not: needs_players,
    },
    Command {
        act: Act::OpenHole,
        name: "go-hole",
        title: "Hole page",
        hint: "hole page",
        sentence: "Opens the page of the hole.",
        keys: &["Enter"],
        pages: &[Page::Card],
        why_not: needs_course,
    },
    Command {
        act: Act::OpenCard,
        name: "go-card",
        title: "Card",
        hint: "card",
        sentence: "Opens the whole card.",
        keys: &["c"],
        pages: &[Page::Hole, Page::Shelf, Page::Bag],
        why_not: needs_course,
    },
    Command {
        act: Act::OpenShelf,
        name: "go-shelf",
        title: "Shelf",
        hint: "shelf",
        sentence: "Opens the shelf: notebooks, players, rounds in progress.",
        keys: &["s"],
        pages: HOLE_CARD_BAG,
        why_not: always,
    },
    Command {
        act: Act::OpenBag,
        name: "go-bag",
        title: "Bag",
        hint: "bag",
        sentence: "Opens the player's bag: every club with its numbers, where they come from, its scatter to scale.",
        keys: &["b"],
        pages: &[Page::Hole, Page::Card, Page::Shelf],
        why_not: needs_person,
    },
    Command {
        act: Act::OpenProblems,
        name: "go-problems",
        title: "Problems",
        hint: "",
        sentence: "Lists every problem of the files that are open, each with its line and what to do.",
        keys: &["e"],
        pages: MAIN,
        why_not: needs_problems,
    },
    Command {
        act: Act::CloseRound,
        name: "round-close",
        title: "Close the round",
        hint: "",
        sentence: "Ends the round and writes its card as a readable file.",
        keys: &["r c"],
        pages: HOLE_CARD,
        why_not: needs_open_round,
    },
    Command {
        act: Act::NextAim,
        name: "plan-for",
        title: "Plan for another aim",
        hint: "plan for",
        sentence: "Plans the hole for the next aim: strokes, points, net par, par/bogey, maximum score, a match.",
        keys: &["f"],
        pages: HOLE,
        why_not: live_plan,
    },
    Command {
        act: Act::LookFromNextTee,
        name: "look-tee",
        title: "Look from another tee",
        hint: "",
        sentence: "Shows the hole as from the next set of tees; the round keeps its own.",
        keys: &["o t"],
        pages: HOLE,
        why_not: needs_course,
    },
    Command {
        act: Act::Units,
        name: "look-units",
        title: "Yards or metres",
        hint: "",
        sentence: "Shows lengths in the other unit.",
        keys: &["o u"],
        pages: MAIN,
        why_not: always,
    },
    Command {
        act: Act::Ascii,
        name: "look-ascii",
        title: "Plain characters",
        hint: "",
        sentence: "Draws with plain ASCII characters only, or with all of them again.",
        keys: &["o a"],
        pages: MAIN,
        why_not: always,
    },
    Command {
        act: Act::Background,
        name: "look-background",
        title: "Light or dark",
        hint: "",
        sentence: "Suits the colours to a light or a dark background.",
        keys: &["o b"],
        pages: MAIN,
        why_not: always,
    },
    Command {
        act: Act::Up,
        name: "up",
        title: "Up",
        hint: "",
        sentence: "Moves up in the list.",
        keys: &["Up", "k"],
        pages: LISTS,
        why_not: always,
    },
    Command {
        act: Act::Down,
        name: "down",
        title: "Down",
        hint: "move",
        sentence: "Moves down in the list.",
        keys: &["Down", "j"],
        pages: LISTS,
        why_not: always,
    },
    Command {
        act: Act::Choose,
        name: "choose",
        title: "Open",
        hint: "open",
        sentence: "Opens what the cursor is on.",
        keys: &["Enter"],
        pages: &[Page::Shelf],
        why_not: always,
    },
    Command {
        act: Act::OpenFinder,
        name: "finder",
        title: "Find a command",
        hint: "commands",
        sentence: "Finds a command by a few letters of its name and runs it.",
        keys: &[":"],
        pages: EVERYWHERE,
        why_not: always,
    },
    Command {
        act: Act::OpenHelp,
        name: "help",
        title: "Keys",
        hint: "keys",
        sentence: "Shows every key that works here.",
        keys: &["?"],
        pages: &[Page::Hole, Page::Card, Page::Shelf, Page::Bag, Page::Problems],
        why_not: always,
    },
    Command {
        act: Act::Back,
        name: "back",
        title: "Back",
        hint: "back",
        sentence: "Closes what is on top.",
        keys: &["Esc"],
        pages: EVERYWHERE,
        why_not: always,
    },
    Command {
        act: Act::Quit,
        name: "quit",
        title: "Quit",
        hint: "quit",
        sentence: "Leaves; everything is already kept.",
        keys: &["q", "Ctrl-c"],
        pages: EVERYWHERE,
        why_not: always,
    },
];

/// The command that does `act`.
pub fn of(act: Act) -> Option<&'static Command> {
    ALL.iter().find(|c| c.act == act)
}

/// The keys of a command as people read them: `1–9` for the digits, else joined by a blank word.
pub fn keys_of(command: &Command) -> String {
    if command.act == Act::Score {
        return "1–9".to_owned();
    }
    if command.act == Act::TypeNumber {
        return "0–9".to_owned();
    }
    command.keys.join(" or ")
}

/// `docs/keys.md`, whole. A test regenerates it and fails on a difference.
pub fn markdown() -> String {
    let mut out = String::from(
        "# Keys\n\nMade from the command table of the program (`marram keys --markdown`); a test keeps the two the same.\n\
         A sequence such as `o u` is two keys one after the other; while it is incomplete its continuations are shown.\n",
    );
    for page in Page::ALL {
        let mut rows = String::new();
        for command in ALL.iter().filter(|c| c.pages.contains(&page)) {
            rows.push_str(&format!(
                "| {} | {} | {} |\n",
                keys_of(command).replace('|', "\\|"),
                command.title,
                command.sentence
            ));
        }
        if !rows.is_empty() {
            out.push_str(&format!(
                "\n## {}\n\n| keys | command | what it does |\n| --- | --- | --- |\n{rows}",
                page.title()
            ));
        }
    }
    out.push_str("\nIn the finder, letters narrow the list, arrows move, Enter runs, Esc closes.\n");
    out
}

/// The keys as plain lines, for `marram keys`.
pub fn plain() -> String {
    let mut out = String::new();
    for page in Page::ALL {
        let commands: Vec<_> = ALL.iter().filter(|c| c.pages.contains(&page)).collect();
        if commands.is_empty() {
            continue;
        }
        out.push_str(&format!("{}\n", page.title()));
        for command in commands {
            out.push_str(&format!("  {:<22} {:<28} {}\n", keys_of(command), command.title, command.sentence));
        }
    }
    out
}
