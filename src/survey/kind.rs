//! What an element is, told from its tags. Tags are free text: anything not understood is kept as it is and listed.
//!
//! # References
//! OpenStreetMap wiki, *Key:golf*, *Tag:leisure=golf_course*, *Tag:golf=water_hazard* (copies of 2025): penalty areas were
//! called hazards before 2019, `water_hazard` is yellow, `lateral_water_hazard` red. Elements that are no part of golf:
//! *leisure=pitch* with *sport=golf* alone, *leisure=miniature_golf*.

use super::element::Tags;
use crate::ground::Surface;

/// What an element is.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// The grounds of a course.
    Course,
    /// A playing line from tee to green, as it is mapped.
    Hole,
    /// The line of play of a notebook, which ties its numbers to the map.
    Line,
    /// A teeing area.
    Tee,
    /// A hole location.
    Pin,
    /// A putting green.
    Green,
    /// A fairway.
    Fairway,
    /// The fringe of a green.
    Fringe,
    /// Rough.
    Rough,
    /// A bunker.
    Bunker,
    /// A penalty area, or water whose marking is not known (`None`).
    Penalty(Option<Colour>),
    /// Out of bounds.
    Out,
    /// Trees.
    Trees,
    /// Long grass, scrub, heather.
    Deep,
    /// Bare sand, stone or wet ground whose marking is not known.
    Waste,
    /// A path.
    Path,
    /// A road, a wall, a fence, a building: a boundary perhaps, never by itself.
    Object,
    /// A practice ground.
    DrivingRange,
    /// The clubhouse.
    Clubhouse,
    /// A distance marker whose name says what it should read.
    Marker,
    /// A note or an aim point of somebody who walked the course.
    Note,
    /// Golf, but not understood: the value as it is written.
    Other(String),
    /// Nothing of golf.
    Ground,
}

/// The colour of a penalty area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Colour {
    /// Lateral relief is allowed.
    Red,
    /// Back on the line.
    Yellow,
}

impl Colour {
    /// The word of files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Red => "red",
            Self::Yellow => "yellow",
        }
    }
}

impl Kind {
    /// The word of reports and of `surface` in GeoJSON.
    pub fn word(&self) -> &str {
        match self {
            Self::Course => "course",
            Self::Hole => "hole",
            Self::Line => "line",
            Self::Tee => "tee",
            Self::Pin => "pin",
            Self::Green => "green",
            Self::Fairway => "fairway",
            Self::Fringe => "fringe",
            Self::Rough => "rough",
            Self::Bunker => "bunker",
            Self::Penalty(_) => "penalty",
            Self::Out => "out",
            Self::Trees => "trees",
            Self::Deep => "deep",
            Self::Waste => "waste",
            Self::Path => "path",
            Self::Object => "object",
            Self::DrivingRange => "driving_range",
            Self::Clubhouse => "clubhouse",
            Self::Marker => "marker",
            Self::Note => "note",
            Self::Other(value) => value,
            Self::Ground => "ground",
        }
    }

    /// The kind of ground that it is, when the ground of a hole is made of it.
    pub const fn surface(&self) -> Option<Surface> {
        Some(match self {
            Self::Tee => Surface::Tee,
            Self::Green => Surface::Green,
            Self::Fairway => Surface::Fairway,
            Self::Fringe => Surface::Fringe,
            Self::Rough => Surface::Rough,
            Self::Bunker => Surface::Bunker,
            Self::Penalty(Some(Colour::Red)) => Surface::PenaltyRed,
            // Without a colour it is yellow (Rules of Golf 2023, 17.1a).
            Self::Penalty(_) => Surface::PenaltyYellow,
            Self::Out => Surface::Out,
            Self::Trees => Surface::Trees,
            Self::Deep => Surface::Deep,
            Self::Waste => Surface::Waste,
            _ => return None,
        })
    }

    /// Whether it is counted in a report: everything of golf.
    pub const fn is_golf(&self) -> bool {
        !matches!(self, Self::Ground | Self::Line | Self::Object | Self::Trees | Self::Deep | Self::Waste | Self::Path)
    }
}

/// What the tags say. A `golf` key wins over every other.
pub fn kind_of(tags: &Tags) -> Kind {
    if let Some(value) = tags.word("golf") {
        return golf(&value, tags);
    }
    let word = |key: &str| tags.word(key).unwrap_or_default();
    if word("leisure") == "golf_course" {
        return Kind::Course;
    }
    match word("natural").as_str() {
        "water" => return Kind::Penalty(None),
        "wood" | "tree" | "tree_row" => return Kind::Trees,
        "scrub" | "heath" => return Kind::Deep,
        "sand" | "beach" | "wetland" | "bare_rock" | "shingle" | "scree" => return Kind::Waste,
        _ => {}
    }
    if tags.get("waterway").is_some() {
        return Kind::Penalty(None);
    }
    if word("landuse") == "forest" {
        return Kind::Trees;
    }
    match word("highway").as_str() {
        "" => {}
        "path" | "footway" | "track" | "bridleway" | "cycleway" | "steps" => return Kind::Path,
        "service" if tags.get("golf_cart").is_some() => return Kind::Path,
        _ => return Kind::Object,
    }
    if tags.get("barrier").is_some() || tags.get("building").is_some() {
        return Kind::Object;
    }
    Kind::Ground
}

fn golf(value: &str, tags: &Tags) -> Kind {
    // Several values: the first that is understood counts.
    let mut parts = value.split(';').map(str::trim);
    let known = |part: &str| {
        Some(match part {
            "hole" => Kind::Hole,
            "line" => Kind::Line,
            "tee" | "tee_box" | "teebox" | "tee_markers" => Kind::Tee,
            "pin" | "flag" | "cup" => Kind::Pin,
            "green" if tags.word("practice").as_deref() == Some("yes") => Kind::DrivingRange,
            "green" => Kind::Green,
            "fairway" => Kind::Fairway,
            "fringe" | "apron" => Kind::Fringe,
            "rough" | "semi_rough" => Kind::Rough,
            "deep_rough" => Kind::Deep,
            "bunker" => Kind::Bunker,
            "water_hazard" => Kind::Penalty(Some(Colour::Yellow)),
            "lateral_water_hazard" => Kind::Penalty(Some(Colour::Red)),
            "penalty_area" | "hazard" | "lateral_hazard" | "water" => Kind::Penalty(colour_of(tags)),
            "out_of_bounds" => Kind::Out,
            "waste_area" | "waste" => Kind::Waste,
            "trees" => Kind::Trees,
            "driving_range" | "practice" | "practice_area" => Kind::DrivingRange,
            "clubhouse" => Kind::Clubhouse,
            "cartpath" | "cart_path" | "path" => Kind::Path,
            "marker" | "distance_marker" => Kind::Marker,
            "note" | "aim" => Kind::Note,
            _ => return None,
        })
    };
    parts.find_map(known).unwrap_or_else(|| Kind::Other(value.to_owned()))
}

fn colour_of(tags: &Tags) -> Option<Colour> {
    match tags.word("colour").or_else(|| tags.word("color"))?.as_str() {
        "red" => Some(Colour::Red),
        "yellow" => Some(Colour::Yellow),
        _ => None,
    }
}

/// Whether a closed line with these tags is a surface.
pub fn is_areal(tags: &Tags) -> bool {
    if tags.get("golf").is_some() {
        return match kind_of(tags) {
            Kind::Path => false,
            // What is not understood may be a surface, but an open line of it is one too.
            Kind::Other(_) => tags.word("area").as_deref() == Some("yes"),
            Kind::Hole | Kind::Line | Kind::Out => false,
            _ => true,
        };
    }
    match kind_of(tags) {
        Kind::Course => true,
        Kind::Penalty(_) => tags.get("waterway").is_none() || tags.word("waterway").as_deref() == Some("riverbank"),
        Kind::Trees | Kind::Deep | Kind::Waste => tags.word("natural").as_deref() != Some("tree_row"),
        Kind::Object => tags.get("building").is_some(),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kind(pairs: &[(&str, &str)]) -> Kind {
        kind_of(&Tags(pairs.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect()))
    }

    #[test]
    fn golf_wins_and_other_sports_are_nothing() {
        assert_eq!(kind(&[("highway", "path"), ("golf", "hole")]), Kind::Hole);
        assert_eq!(kind(&[("leisure", "pitch"), ("sport", "golf")]), Kind::Ground);
        assert_eq!(kind(&[("leisure", "pitch"), ("sport", "golf"), ("golf", "green")]), Kind::Green);
        assert_eq!(kind(&[("leisure", "miniature_golf")]), Kind::Ground);
        assert_eq!(kind(&[("golf", " Bunker ")]), Kind::Bunker);
        assert_eq!(kind(&[("golf", "snack_bar")]), Kind::Other("snack_bar".to_owned()));
    }

    #[test]
    fn penalty_areas_have_the_colours_of_their_old_names() {
        assert_eq!(kind(&[("golf", "water_hazard"), ("natural", "water")]), Kind::Penalty(Some(Colour::Yellow)));
        assert_eq!(kind(&[("golf", "lateral_water_hazard")]), Kind::Penalty(Some(Colour::Red)));
        assert_eq!(kind(&[("natural", "water")]), Kind::Penalty(None));
    }
}
