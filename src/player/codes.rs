//! Every diagnostic of a player and of a list of pupils beyond those of any file.

use crate::course::decode::codes;

codes! {
    /// No word whose ratings apply.
    RATINGS_ASSUMED = "ratings-assumed";
    /// A club or swing that stands twice in the bag.
    CLUB_TWICE = "club-twice";
    /// A swing with a club that is not in the bag.
    UNKNOWN_CLUB = "unknown-club";
    /// More clubs than a round allows.
    TOO_MANY_CLUBS = "too-many-clubs";
    /// Not a chance such as `1 in 12`.
    NOT_A_CHANCE = "not-a-chance";
}

/// Diagnostics of a list of pupils, whose broken files are `.csv`.
pub mod lists {
    use crate::course::decode::codes;

    codes! {
        /// The list has no header that names its columns.
        NO_HEADER = "no-header";
        /// A column that the list does not use.
        UNKNOWN_COLUMN = "unknown-column";
        /// A line without a player.
        NO_NAME = "no-name";
        /// A player who stands twice.
        PUPIL_TWICE = "pupil-twice";
        /// A quote that is not closed on its line.
        NOT_CSV = "not-csv";
    }
}
