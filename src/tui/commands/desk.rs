//! The Desk: cards, keying, rulings, late acts, results.

use super::pages::*;
use super::why::*;
use super::{Act, Command, Page};

/// What a command of the Desk does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum DeskAct {
    Open,
    New,
    Up,
    Down,
    PageUp,
    PageDown,
    First,
    Last,
    Left,
    Right,
    NextPart,
    PreviousPart,
    Enter,
    View,
    Score,
    Zero,
    Raise,
    Lower,
    PickedUp,
    NotPlayed,
    TakeBack,
    WrittenTotal,
    Marker,
    Player,
    Find,
    In,
    Rule,
    LateAct,
    Confirm,
    Proof,
    Draw,
    Import,
    EnterEntrant,
    AddEvent,
    StartSheet,
    Close,
    Keyer,
    Mend,
    Undo,
}

const DESK: &[Page] = &[Page::Desk];
const KEYING: &[Page] = &[Page::Keying];
const CARD: &[Page] = &[Page::DeskCard];
const RULING: &[Page] = &[Page::Ruling];
const DESK_CARD: &[Page] = &[Page::Desk, Page::DeskCard];
const MOVE: &[Page] = &[Page::Desk, Page::Ruling, Page::DeskText];

const fn desk(
    act: DeskAct,
    name: &'static str,
    title: &'static str,
    hint: &'static str,
    sentence: &'static str,
    keys: &'static [&'static str],
    pages: &'static [Page],
) -> Command {
    Command { act: Act::Desk(act), name, title, hint, sentence, keys, pages, why_not: needs_desk }
}

const fn always_desk(command: Command) -> Command {
    Command { why_not: always, ..command }
}

const fn cards(command: Command) -> Command {
    Command { why_not: needs_cards, ..command }
}

/// The table.
pub const TABLE: &[Command] = &[
    always_desk(desk(DeskAct::Open, "go-desk", "Desk", "", "Opens the competition desk: of the competitions on the shelf the one that was changed last.", &["D"], MAIN)),
    cards(desk(DeskAct::Score, "desk-score", "Key a card", "key", "Keys the card under the cursor from its first open hole; on a card, the hole under the cursor.", &["1", "2", "3", "4", "5", "6", "7", "8", "9"], DESK_CARD)),
    desk(DeskAct::Score, "key-score", "Score", "score", "Enters the score of the hole and goes on to the next; in the written total a figure of it.", &["1", "2", "3", "4", "5", "6", "7", "8", "9"], KEYING),
    desk(DeskAct::Zero, "key-zero", "Nought of a total", "", "The figure 0 of the written total.", &["0"], KEYING),
    desk(DeskAct::Raise, "key-raise", "One more", "10 up", "Raises the score just keyed by one, for 10 and more.", &["+"], KEYING),
    desk(DeskAct::PickedUp, "key-picked-up", "No score", "no score", "The hole was not holed out.", &["x"], KEYING),
    desk(DeskAct::NotPlayed, "key-not-played", "Not played", "", "The hole was not played.", &["."], KEYING),
    desk(DeskAct::TakeBack, "key-back", "Take back", "back", "Takes the score just keyed back.", &["Backspace", "u"], KEYING),
    desk(DeskAct::Left, "key-left", "Hole before", "", "Goes to the hole before.", &["Left", "h", ",", "Shift-Tab"], KEYING),
    desk(DeskAct::Right, "key-right", "Hole after", "", "Goes to the next hole; behind the last to the written total.", &["Right", "l", ";", "Tab"], KEYING),
    desk(DeskAct::WrittenTotal, "key-total", "Written total", "total", "Types the total that is written on the card, as a check; a difference is a question.", &["t"], KEYING),
    desk(DeskAct::Marker, "key-marker", "Marker certified", "", "Says whether the marker has certified the card: not said, yes, no.", &["m"], KEYING),
    desk(DeskAct::Player, "key-player", "Player certified", "", "Says whether the player has certified the card: not said, yes, no.", &["p"], KEYING),
    desk(DeskAct::Enter, "key-next", "Next card", "next card", "The card is done: goes on to the next one that waits for this keyer.", &["Enter"], KEYING),
    desk(DeskAct::Enter, "desk-enter", "Open", "open", "Opens what the cursor is on: a card to key or to look at, a line's proof, a value of the set-up.", &["Enter"], DESK),
    desk(DeskAct::Enter, "ruling-choose", "Choose", "choose", "Takes the outcome under the cursor; rule, reason and name are asked before it is saved.", &["Enter"], RULING),
    desk(DeskAct::Enter, "card-key", "Key this card", "key", "Keys this card, or goes on with one's own keying at this hole.", &["Enter"], CARD),
    desk(DeskAct::NextPart, "desk-next-part", "Next part", "parts", "Goes to the next part: cards, live, field, acts, problems, set-up, results.", &["Tab"], DESK),
    desk(DeskAct::PreviousPart, "desk-previous-part", "Part before", "", "Goes to the part before.", &["Shift-Tab"], DESK),
    desk(DeskAct::Find, "desk-find", "Find a card", "find", "Finds a card by letters of its name, id or group; Enter keys it.", &["/"], &[Page::Desk, Page::Keying]),
    desk(DeskAct::View, "desk-view", "Look at the card", "view", "Shows the card: keyings hole by hole, rulings, what stands.", &["v"], DESK),
    desk(DeskAct::Rule, "desk-rule", "Ruling", "ruling", "Rules on the hole under the cursor: the lawful outcomes with what each would change.", &["r"], DESK_CARD),
    desk(DeskAct::LateAct, "desk-act", "Late act", "late act", "Records a withdrawal, another index or tee, a status, as a dated act.", &["a"], DESK_CARD),
    desk(DeskAct::Confirm, "desk-confirm", "Confirm", "confirm", "The Committee confirms the card: its questions are answered.", &["g"], DESK_CARD),
    desk(DeskAct::In, "desk-in", "Has come in", "", "Marks the card under the cursor as come in, before it is keyed.", &["i"], DESK),
    desk(DeskAct::Proof, "desk-proof", "Proof of place", "proof", "Explains a line: strokes, keyings, rulings, ties with their figures.", &["p"], DESK_CARD),
    desk(DeskAct::Draw, "desk-lot", "Lot or play-off", "", "Records a lot or play-off between those who are tied on the live part.", &["L"], DESK),
    desk(DeskAct::Mend, "card-mend", "Mend the other keying", "mend", "Mends the keying of the other keyer at this hole, recorded as mended by you.", &["M"], CARD),
    desk(DeskAct::Import, "desk-import", "Read a list", "", "Takes a CSV list over as the field, whole or not at all.", &["F"], DESK),
    desk(DeskAct::EnterEntrant, "desk-enter-entrant", "Late entry", "", "Adds an entry to the field by keys.", &["E"], DESK),
    desk(DeskAct::AddEvent, "desk-add-event", "Add an event", "", "Adds an event to the set-up.", &["+"], DESK),
    desk(DeskAct::StartSheet, "desk-start-sheet", "Start sheet", "", "Shows the start sheet: times, groups, tees.", &["T"], DESK),
    desk(DeskAct::Close, "desk-close", "Close", "close", "Writes the results with digests; a change after that needs a reason and makes the next result.", &["C"], DESK),
    always_desk(desk(DeskAct::New, "desk-new", "New competition", "", "Makes a new competition on the shelf and opens it.", &["N"], DESK)),
    desk(DeskAct::Keyer, "desk-keyer", "Keyer", "", "Says who keys here; each keyer needs a name of their own.", &["n"], DESK),
    desk(DeskAct::Undo, "desk-undo", "Undo", "", "Takes the last ruling or late act of this desk back.", &["u"], DESK_CARD),
    desk(DeskAct::Raise, "ruling-more", "A stroke more", "strokes", "One penalty stroke more.", &["+"], RULING),
    desk(DeskAct::Lower, "ruling-less", "A stroke less", "", "One penalty stroke less.", &["-"], RULING),
    desk(DeskAct::Left, "desk-left", "To the left", "", "The live order before; on a card the hole before.", &["Left", "h"], DESK_CARD),
    desk(DeskAct::Right, "desk-right", "To the right", "", "The next live order; on a card the next hole.", &["Right", "l"], DESK_CARD),
    desk(DeskAct::Up, "desk-up", "Up", "", "Moves up.", &["Up", "k"], MOVE),
    desk(DeskAct::Down, "desk-down", "Down", "", "Moves down.", &["Down", "j"], MOVE),
    desk(DeskAct::PageUp, "desk-page-up", "A page up", "", "Moves up a page.", &["PageUp"], MOVE),
    desk(DeskAct::PageDown, "desk-page-down", "A page down", "", "Moves down a page.", &["PageDown", "Space"], MOVE),
    desk(DeskAct::First, "desk-first", "First", "", "Moves to the first line.", &["Home"], MOVE),
    desk(DeskAct::Last, "desk-last", "Last", "", "Moves to the last line.", &["End"], MOVE),
];
