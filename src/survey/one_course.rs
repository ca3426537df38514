//! The whole way from files to the holes of one course, with everything that was not used.

use super::attach;
use super::courses::{self, CourseFound};
use super::element::{Discarded, Map};
use super::gpx;
use super::heights;
use super::hole::SurveyedHole;
use super::kind::Kind;
use super::lines;
use super::order;
use super::placed::{Placed, without_doubles};
use super::played::played;
use super::profile;
use super::read::{Format, Source, Unreadable, format_of, read_map};
use super::said;
use super::values;
use crate::course::{ByCard, Card, Credit};
use crate::ground::Flat;
use crate::units::length::METRES_PER_YARD;
use std::collections::BTreeMap;

/// A course as reports list it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Its name.
    pub name: Option<String>,
    /// The id of its outline.
    pub id: Option<String>,
    /// Other names of the same place.
    pub aliases: Vec<String>,
    /// How many hole lines.
    pub holes: usize,
    /// How many greens have their middle inside.
    pub greens: usize,
}

/// Something of golf that lies along no hole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unattached {
    /// Its id.
    pub id: String,
    /// What it is.
    pub kind: String,
}

/// One course of the map, hole by hole.
#[derive(Clone, Debug)]
pub struct Survey {
    /// Every course of the map.
    pub courses: Vec<Listed>,
    /// The name of the course that was surveyed: the map's, else that of the file.
    pub name: String,
    /// Whether the map names it.
    pub named: bool,
    /// What the whole file holds, by kind.
    pub found: BTreeMap<String, usize>,
    /// The holes, in the order of their numbers.
    pub holes: Vec<SurveyedHole>,
    /// Golf along no hole.
    pub unattached: Vec<Unattached>,
    /// What could not be used, with the reason.
    pub discarded: Vec<Discarded>,
    /// What a person should look at.
    pub warnings: Vec<String>,
    /// Whose data it is.
    pub credits: Vec<Credit>,
    /// The plane of the course.
    pub flat: Flat,
    /// Everything in that plane.
    pub placed: Vec<Placed>,
    /// The elements themselves.
    pub map: Map,
    /// The id of its outline.
    pub outline: Option<String>,
    /// How many holes the map says the course has.
    pub said_holes: Option<u8>,
}

impl Survey {
    /// How many pieces of a kind lie along a hole, by the word of reports.
    pub fn along(&self, hole: &SurveyedHole, word: &str) -> usize {
        hole.along.iter().filter(|a| self.placed.get(a.index).is_some_and(|p| p.kind.word() == word)).count()
    }

    /// Takes heights from grids or from the walk, and compares what stands on the ground with what is said of it.
    fn measure(&mut self, grids: &[heights::Grid]) {
        for hole in &mut self.holes {
            hole.profile = profile::profile(hole, grids, &self.map, &self.flat);
            self.warnings.extend(profile::disagreements(hole));
        }
        if !grids.is_empty() && !self.holes.is_empty() && self.holes.iter().all(|h| h.profile.places.is_empty()) {
            self.warnings.push("the heights do not reach this course, or it is flat to three metres".to_owned());
        }
    }

    /// The placed element with this id.
    pub fn index_of(&self, id: &str) -> Option<usize> {
        self.placed.iter().position(|p| self.map.elements.get(p.element).is_some_and(|e| e.id == id))
    }

    /// How far a distance on the longest hole can be wrong, in words.
    pub fn error_words(&self) -> String {
        let points = self.holes.iter().flat_map(|h| h.played.0.iter().copied());
        let reach = points.map(|p| p.length()).fold(0.0, f64::max);
        let longest = self.holes.iter().map(SurveyedHole::line_yards).fold(0.0, f64::max);
        let metres = self.flat.error_bound(reach, longest) * METRES_PER_YARD;
        if metres < 0.01 { "a centimetre".to_owned() } else { format!("{:.0} cm", (metres * 100.0).ceil()) }
    }
}

/// Why there is no survey.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// A file cannot be used.
    #[error("{0}")]
    File(#[from] Unreadable),
    /// No course has this name.
    #[error("no course of the map is named `{name}`; it has {}", listed(.known))]
    NoSuchCourse {
        /// The name that was asked for.
        name: String,
        /// The names there are.
        known: Vec<String>,
    },
}

fn listed(names: &[String]) -> String {
    if names.is_empty() { "no course with a name".to_owned() } else { names.join(", ") }
}

/// Reads files and surveys the course with this name, or the one with the most golf.
///
/// # Errors
/// [`Refused`] when a file cannot be used at all, or no course has the name. A bad element is no error: it is listed.
pub fn survey(sources: &[Source<'_>], course: Option<&str>) -> Result<Survey, Refused> {
    survey_over(sources, course, |_| {})
}

/// The same, with `change` made to what was read before anything is attached to a hole.
///
/// # Errors
/// As [`survey`].
pub fn survey_over(
    sources: &[Source<'_>],
    course: Option<&str>,
    change: impl FnOnce(&mut Map),
) -> Result<Survey, Refused> {
    let mut map = Map::default();
    let (mut walks, mut grids) = (Vec::new(), Vec::new());
    for source in sources {
        let format = format_of(*source)?;
        match format {
            Format::Gpx => walks.push(gpx::read(*source)?),
            Format::AsciiGrid => grids.push(heights::ascii_grid(*source)?),
            Format::Hgt => grids.push(heights::hgt(*source)?),
            _ => map.join(read_map(*source, format)?),
        }
    }
    // A walk may add to the holes of a map, so it comes after every map.
    walks.into_iter().for_each(|walk| gpx::build(&mut map, walk));
    without_doubles(&mut map);
    change(&mut map);
    let world = courses::plane_of(&map);
    let placed: Vec<Placed> = map.elements.iter().enumerate().map(|(i, e)| Placed::new(i, e, &world)).collect();
    let (found, loose) = courses::courses(&mut map, &placed);
    let chosen = choose(&found, course)?;
    let file = sources.first().map_or("course", |s| stem(s.name));
    let counts = counts(&map, &placed, &found);
    let mut survey = one_course(map, placed, &found, chosen, loose, counts, file);
    survey.measure(&grids);
    Ok(survey)
}

/// The name of a file without its folder and ending.
fn stem(name: &str) -> &str {
    let bare = name.rsplit(['/', '\\']).next().unwrap_or(name);
    bare.split_once('.').map_or(bare, |(stem, _)| stem)
}

fn choose(found: &[CourseFound], name: Option<&str>) -> Result<Option<usize>, Refused> {
    let Some(name) = name else {
        // Of equals the first, so that the order of the answer is that of the file.
        let most = found.iter().map(CourseFound::features).max();
        return Ok(found.iter().position(|c| Some(c.features()) == most));
    };
    let fold = |text: &str| text.trim().to_lowercase();
    let named = |c: &CourseFound| c.name.iter().chain(&c.aliases).chain(&c.id).any(|n| fold(n) == fold(name));
    let within = |c: &CourseFound| c.name.iter().chain(&c.aliases).any(|n| fold(n).contains(&fold(name)));
    let mut holding = found.iter().enumerate().filter(|(_, c)| within(c));
    let only = match (holding.next(), holding.next()) {
        (Some((index, _)), None) => Some(index),
        _ => None,
    };
    found.iter().position(named).or(only).map(Some).ok_or_else(|| Refused::NoSuchCourse {
        name: name.to_owned(),
        known: found.iter().filter_map(|c| c.name.clone().or_else(|| c.id.clone())).collect(),
    })
}

fn counts(map: &Map, placed: &[Placed], found: &[CourseFound]) -> BTreeMap<String, usize> {
    let mut counts = BTreeMap::new();
    for item in placed {
        let golf = item.kind.is_golf() || map.elements.get(item.element).is_some_and(|e| e.tags.get("golf").is_some());
        if golf && item.kind != Kind::Course {
            *counts.entry(item.kind.word().to_owned()).or_default() += 1;
        }
    }
    let outlines: std::collections::BTreeSet<&String> = found.iter().filter_map(|c| c.id.as_ref()).collect();
    if !outlines.is_empty() {
        counts.insert("course".to_owned(), outlines.len());
    }
    counts
}

fn one_course(
    mut map: Map,
    world: Vec<Placed>,
    found: &[CourseFound],
    chosen: Option<usize>,
    loose: Vec<usize>,
    counts: BTreeMap<String, usize>,
    file: &str,
) -> Survey {
    let course = chosen.and_then(|i| found.get(i)).cloned().unwrap_or_default();
    // The plane of the course is its own: far from its middle a plane is less true.
    let centre = course.holes.iter().chain(&course.members).chain(&course.outline).filter_map(|i| world.get(*i));
    let centre: Vec<_> = centre.filter_map(|p| map.elements.get(p.element)).collect();
    let flat = Flat::around(centre.iter().flat_map(|e| e.shape.positions())).unwrap_or_else(|| courses::plane_of(&map));
    let placed: Vec<Placed> = map.elements.iter().enumerate().map(|(i, e)| Placed::new(i, e, &flat)).collect();
    let tracks = lines::lines(&mut map, &placed, &course.holes);
    let numbers = order::numbers(&mut map, &placed, &tracks);
    let greens = attach::greens(&map, &placed, &course.members, &tracks);
    let (mut tees, no_tee) = attach::tees(&map, &placed, &course.members, &tracks);
    let (mut pins, no_pin) = attach::pins(&map, &placed, &course.members, &tracks, &greens);
    let (mut ground, no_ground) = attach::ground(&map, &placed, &course.members, &tracks, &greens);
    let (mut said, no_said) = said::said(&map, &placed, &course.members, &tracks);
    let lost = attach::lost_greens(&map, &placed, &course.members);
    if greens.iter().flatten().count() < tracks.len() || tracks.is_empty() {
        lost.into_iter().for_each(|words| map.warn(words));
    }
    let mut holes = Vec::with_capacity(tracks.len());
    for (index, hole) in tracks.iter().enumerate() {
        let Some(element) = placed.get(hole.index).and_then(|p| map.elements.get(p.element)).cloned() else { continue };
        let (par, odd_par) = values::by_card(&element.tags, "par", 3, 6);
        let (stroke_index, odd_index) = values::by_card(&element.tags, "handicap", 1, 36);
        let odd: Vec<String> = odd_par.into_iter().chain(odd_index).collect();
        if !odd.is_empty() {
            map.warn(format!("{}: not understood and left out: {}", element.id, odd.join(", ")));
        }
        let length = hole.track.length();
        let stated = element.tags.get("dist").and_then(|text| values::distance(text, length));
        if let Some(text) = element.tags.get("dist").filter(|_| stated.is_none()) {
            map.warn(format!(
                "{}: dist={text} does not agree with its line of {length:.0} yards and is left out",
                element.id
            ));
        }
        let reference = element.tags.get("ref").map(values::reference).unwrap_or_default();
        let green = greens.get(index).cloned().flatten();
        let own_tees = tees.get_mut(index).map(std::mem::take).unwrap_or_default();
        let own_pins = pins.get_mut(index).map(std::mem::take).unwrap_or_default();
        if let [_, _, ..] = own_pins.as_slice() {
            let ids: Vec<&str> = own_pins.iter().map(|(id, _)| id.as_str()).collect();
            map.warn(format!(
                "{}: {} hole locations are mapped ({}); the last is taken",
                element.id,
                ids.len(),
                ids.join(", ")
            ));
        }
        holes.push(SurveyedHole {
            id: element.id.clone(),
            number: numbers.get(index).cloned().unwrap_or(super::hole::Number::Known(0)),
            name: element
                .tags
                .get("name")
                .map(str::trim)
                .filter(|n| !n.is_empty())
                .map(str::to_owned)
                .or(reference.rest),
            par,
            stroke_index,
            stated,
            played: played(&hole.track, &own_tees, green.as_ref(), &own_pins),
            track: hole.track.clone(),
            tees: own_tees,
            green,
            pins: own_pins,
            along: ground.get_mut(index).map(std::mem::take).unwrap_or_default(),
            profile: profile::Profile::default(),
            said: said.get_mut(index).map(std::mem::take).unwrap_or_default(),
        });
    }
    holes.sort_by_key(|h| h.number.in_draft());
    indexes(&mut map, &mut holes);
    if course.holes.is_empty() {
        map.warn("the map shows no hole lines: draw one for each hole, from tee to green, and survey again");
    }
    let used: Vec<usize> = holes.iter().filter_map(|h| h.green.as_ref()).map(|g| g.index).collect();
    let no_green = course
        .members
        .iter()
        .copied()
        .filter(|i| placed.get(*i).is_some_and(|p| matches!(p.kind, Kind::Green)) && !used.contains(i));
    let other = course.members.iter().copied().filter(|i| {
        let kind = placed.get(*i).map(|p| &p.kind);
        matches!(kind, Some(Kind::DrivingRange | Kind::Clubhouse | Kind::Other(_)))
    });
    let lone: Vec<usize> =
        no_green.chain(no_tee).chain(no_pin).chain(no_ground).chain(no_said).chain(other).chain(loose).collect();
    let mut unattached: Vec<Unattached> = Vec::new();
    for index in lone {
        let Some(item) = placed.get(index) else { continue };
        let Some(element) = map.elements.get(item.element) else { continue };
        let line = Unattached { id: element.id.clone(), kind: item.kind.word().to_owned() };
        if !unattached.contains(&line) {
            unattached.push(line);
        }
    }
    let outline = course.outline.and_then(|o| placed.get(o)).and_then(|p| map.elements.get(p.element));
    let said_holes = outline.and_then(|e| {
        let text = e.tags.get("golf:course").or_else(|| e.tags.get("holes"))?;
        values::reference(text).number
    });
    if let Some(words) = incomplete(&holes, said_holes) {
        map.warn(words);
    }
    let courses = found.iter().map(|c| Listed {
        name: c.name.clone(),
        id: c.id.clone(),
        aliases: c.aliases.clone(),
        holes: c.holes.len(),
        greens: c.greens,
    });
    Survey {
        courses: courses.collect(),
        named: course.name.is_some(),
        name: course.name.clone().unwrap_or_else(|| file.to_owned()),
        found: counts,
        holes,
        unattached,
        discarded: map.discarded.clone(),
        warnings: map.warnings.clone(),
        credits: map.credits.clone(),
        flat,
        placed,
        map,
        outline: course.id.clone(),
        said_holes,
    }
}

/// What to say where there are not nine or eighteen holes, nor as many as the map says the course has.
fn incomplete(holes: &[SurveyedHole], said: Option<u8>) -> Option<String> {
    let count = u8::try_from(holes.len()).ok().filter(|n| *n > 0)?;
    let whole = said.unwrap_or(if count <= 9 { 9 } else { 18 });
    if count >= whole {
        return None;
    }
    let numbers: Vec<u8> = holes.iter().filter(|h| h.number.is_known()).map(|h| h.number.in_draft()).collect();
    let lines = if count == 1 { "one hole line is".to_owned() } else { format!("{count} hole lines are") };
    let words = format!("{lines} on the map, and the course would have {whole}");
    if numbers.len() < holes.len() {
        return Some(format!("{words}: which are missing the map does not say"));
    }
    let missing: Vec<String> = (1..=whole).filter(|n| !numbers.contains(n)).map(|n| n.to_string()).collect();
    Some(format!("{words}: no line for {}", missing.join(", ")))
}

/// Stroke indexes that the card cannot have are taken out, each with its hole named (open-formats 6.6).
fn indexes(map: &mut Map, holes: &mut [SurveyedHole]) {
    let count = holes.len();
    let both_alike = holes.iter().all(|h| h.stroke_index.men == h.stroke_index.women);
    for card in Card::BOTH {
        let mut seen: Vec<(u8, String)> = Vec::new();
        for hole in holes.iter_mut() {
            let Some(index) = hole.stroke_index.on(card) else { continue };
            let whose = if both_alike { String::new() } else { format!(" on the {} card", card.whose()) };
            let first = seen.iter().find(|(known, _)| *known == index).map(|(_, id)| id.clone());
            let too_high = usize::from(index) > count.max(if count == 9 || count == 18 { count } else { 18 });
            let why = if let Some(first) = &first {
                Some(format!("{}: stroke index {index} stands on {first} too{whose} and is left out here", hole.id))
            } else if too_high {
                Some(format!("{}: stroke index {index}{whose} is none of {count} holes and is left out", hole.id))
            } else {
                None
            };
            match why {
                Some(words) => {
                    map.warn(words);
                    take_out(&mut hole.stroke_index, card);
                }
                None => seen.push((index, hole.id.clone())),
            }
        }
    }
}

fn take_out(value: &mut ByCard<u8>, card: Card) {
    match card {
        Card::Men => value.men = None,
        Card::Women => value.women = None,
    }
}
