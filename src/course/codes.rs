//! Every diagnostic of a course notebook, a layer and a day sheet beyond those of any file ([`super::decode::CODES`]).

use super::decode::codes;

codes! {
    /// No hole can be read.
    NO_HOLES = "no-holes";
    /// A file name that leads out of the notebook's folder.
    PATH_OUTSIDE = "path-outside";
    /// A tee set, circuit or landmark named twice.
    NAME_TWICE = "name-twice";
    /// A tee that the course does not have.
    UNKNOWN_TEE = "unknown-tee";
    /// A hole without a place for one of the course's tee sets.
    TEE_MISSING = "tee-missing";
    /// A Course Rating that a course of that many holes hardly has.
    RATING_RANGE = "rating-range";
    /// Two holes with one number.
    HOLE_TWICE = "hole-twice";
    /// A number missing from the sequence of holes.
    HOLE_MISSING = "hole-missing";
    /// Not 9 or 18 holes: stroke indexes are not asked to be complete.
    HOLE_COUNT = "hole-count";
    /// A hole that the course does not have.
    UNKNOWN_HOLE = "unknown-hole";
    /// A par, a stroke index or tees that the file says are not known yet.
    NOT_KNOWN_YET = "not-known-yet";
    /// A par beyond 3 to 6.
    PAR_RANGE = "par-range";
    /// A par without its stroke index.
    PAR_WITHOUT_INDEX = "par-without-index";
    /// A stroke index without its par.
    INDEX_WITHOUT_PAR = "index-without-par";
    /// A stroke index that the card cannot have.
    INDEX_RANGE = "stroke-index-range";
    /// A stroke index on two holes of one card.
    INDEX_TWICE = "stroke-index-twice";
    /// A stroke index that no hole of a card has.
    INDEX_MISSING = "stroke-index-missing";
    /// A circuit with another number of stroke indexes than holes.
    INDEX_COUNT = "stroke-index-count";
    /// A tee's length disagrees with the line by more than 3.
    LENGTH_DISAGREES = "length-disagrees";
    /// The green lies in front of a tee or of the start of the line.
    GREEN_BEFORE_TEE = "green-before-tee";
    /// A bend that does not lie between the start of the line and the green.
    BEND_OUTSIDE = "bend-outside";
    /// Places along the line that do not go forward.
    NOT_IN_ORDER = "not-in-order";
    /// A piece of ground without a form, or with two.
    PIECE_FORM = "piece-form";
    /// A shape with too few points.
    TOO_FEW_POINTS = "too-few-points";
    /// A bunker longer than its hole.
    LONGER_THAN_HOLE = "longer-than-hole";
    /// A piece of ground far behind the green or the tee.
    BEYOND_HOLE = "beyond-hole";
    /// A shape that crosses itself.
    CROSSES_ITSELF = "crosses-itself";
    /// A shape that reaches beyond the turning radius inside a bend.
    BEYOND_TURN = "beyond-turn";
    /// A penalty area without a colour.
    COLOUR_ASSUMED = "colour-assumed";
    /// A grid of heights whose rows differ in length.
    UNEVEN_GRID = "uneven-grid";
    /// An aim point at a landmark that neither the hole nor the course names.
    UNKNOWN_LANDMARK = "unknown-landmark";
    /// A danger of a piece of ground that is not on the hole.
    UNKNOWN_PIECE = "unknown-piece";
    /// An aim point that is nowhere.
    AIM_WITHOUT_PLACE = "aim-without-place";
    /// A lay-up that is nowhere.
    LAYUP_WITHOUT_PLACE = "layup-without-place";
    /// A danger that names neither ground nor side nor says anything.
    DANGER_SAYS_NOTHING = "danger-says-nothing";
    /// Not a place to play from.
    NOT_A_PLACE = "not-a-place";
    /// Not holes such as `1..9`.
    NOT_HOLES = "not-holes";
    /// Two things on one hole with one `id`.
    ID_TWICE = "id-twice";
    /// A layer that replaces or hides what is not there.
    REPLACES_NOTHING = "replaces-nothing";
    /// A layer or day sheet for another edition of the notebook.
    OTHER_EDITION = "other-edition";
    /// Not a hole location such as `14 on, 5 from left`.
    NOT_A_HOLE_LOCATION = "not-a-hole-location";
    /// A hole location that is not on the green.
    OFF_THE_GREEN = "off-the-green";
    /// Not a wind speed with its unit.
    NOT_A_SPEED = "not-a-speed";
    /// Markers that are moved neither forward nor back.
    NOT_MARKERS = "not-markers";
}
