//! Every diagnostic of a competition's own files beyond those of any file; those of a field stand in `entries`.

use crate::course::decode::codes;

codes! {
    /// A format that there is not.
    UNKNOWN_PLAY = "unknown-play";
    /// Not a handicap allowance.
    NOT_AN_ALLOWANCE = "not-an-allowance";
    /// A step of the ties that there is not.
    UNKNOWN_TIE_STEP = "unknown-tie-step";
    /// A step behind `share` or `lot`, which always settle.
    TIES_GO_ON = "ties-go-on";
    /// Two events of one name.
    EVENT_TWICE = "event-twice";
    /// No event at all.
    NO_EVENTS = "no-events";
    /// Two divisions of one name.
    DIVISION_TWICE = "division-twice";
    /// Two divisions that share indexes.
    DIVISIONS_OVERLAP = "divisions-overlap";
    /// Not a range of indexes.
    NOT_AN_INDEX_RANGE = "not-an-index-range";
    /// Not holes of a round.
    NOT_ROUND_HOLES = "not-round-holes";
    /// Holes that the round has not.
    HOLES_OUTSIDE = "holes-outside";
    /// A round that there is not.
    NO_SUCH_ROUND = "no-such-round";
    /// Terms a format cannot be played by.
    BAD_TERMS = "bad-terms";
    /// Not a maximum score.
    NOT_A_MAXIMUM = "not-a-maximum";
    /// An edition of the handicap rules that there is not.
    UNKNOWN_RULES = "unknown-rules";
    /// An event that a merit table names and there is not.
    UNKNOWN_EVENT = "unknown-event";
    /// Not a hole score.
    NOT_A_SCORE = "not-a-score";
    /// More scores than the round has holes.
    TOO_MANY_SCORES = "too-many-scores";
    /// A date without a time of day, or neither.
    NOT_A_TIME = "not-a-time";
    /// A ruling that lowers a returned score.
    RULING_LOWERS = "ruling-lowers";
    /// A ruling that fills in a score that was not returned.
    RULING_FILLS = "ruling-fills";
    /// A change whose new value is no value of what it changes.
    CHANGE_VALUE = "change-value";
    /// Not an id of a card.
    NOT_AN_ID = "not-an-id";
    /// A start time that is not `09:12`.
    NOT_A_START = "field-start";
    /// A status that there is not.
    NOT_A_STATUS = "field-status";
    /// A hole of the field's results that is no score.
    FIELD_SCORE = "field-score";
    /// A column for a hole that the round has not.
    FIELD_HOLE = "field-hole";
    /// Contact data, which no result needs.
    FIELD_CONTACT = "field-contact";
    /// A tee that the course has not.
    NO_SUCH_TEE = "field-tee";
    /// Players of a side that the field has not.
    SIDE_PLAYER = "side-player";
    /// A side that stands twice, or a player in two.
    SIDE_TWICE = "side-twice";
    /// A side of the wrong size.
    SIDE_SIZE = "side-size";
    /// A list of sides without its columns.
    SIDE_COLUMNS = "side-columns";
}
