//! Named points and outlines of a walk as elements of a map, so that they go the way of every other map.

use super::clean::{line, stand_still};
use super::names::{BUNKER, Code, Name, name_of};
use super::read::{Gpx, Track, Waypoint};
use crate::ground::plane::edges;
use crate::ground::{Flat, LonLat, Point};
use crate::survey::clip::disc;
use crate::survey::element::{Element, Map, Patch, Shape, Tags, ring};
use crate::survey::kind::{Kind, kind_of};
use crate::survey::track::metres;
use crate::survey::values::reference;
use crate::units::length::METRES_PER_YARD;

/// Points of one name nearer than this are one point taken twice.
const TWICE: f64 = metres(10.0);
/// A track whose ends lie nearer than this is an outline.
const CLOSES: f64 = metres(15.0);
/// An outline smaller than this is a slip, square metres.
const LEAST_AREA: f64 = 20.0;
/// How far water reaches to a side of which only near and far edge are known, yards.
const WATER_SIDE: f64 = 40.0;

/// A waypoint with its name taken apart.
#[derive(Clone, Debug)]
struct Mark {
    id: String,
    name: Name,
    words: String,
    position: LonLat,
    elevation: Option<f64>,
}

/// Everything that was marked on one hole.
struct HoleMarks<'a> {
    course: Option<char>,
    hole: u8,
    marks: Vec<&'a Mark>,
    tracks: Vec<(&'a Name, Vec<LonLat>, bool, String)>,
    flat: Flat,
}

/// Builds the elements of a walk.
pub fn build(map: &mut Map, mut gpx: Gpx) {
    for name in &gpx.lost {
        map.discard(format!("wpt/{name}"), "it has no position that can be read");
    }
    stand_still(&mut gpx);
    let taken = marks(map, &gpx.waypoints);
    let marks = merged(map, taken);
    let mut tracks = Vec::new();
    for (index, track) in gpx.tracks.iter().enumerate() {
        tracks.extend(named_track(map, index, track));
    }
    let Some(flat) = Flat::around(
        marks
            .iter()
            .map(|m| m.position)
            .chain(tracks.iter().flat_map(|t: &(Name, Vec<LonLat>, bool, String)| t.1.iter().copied())),
    ) else {
        return;
    };
    let mut holes: Vec<(Option<char>, u8)> = marks.iter().filter_map(|m| Some((m.name.course, m.name.hole?))).collect();
    holes.extend(tracks.iter().filter_map(|t| Some((t.0.course, t.0.hole?))));
    holes.sort_unstable();
    holes.dedup();
    for (course, hole) in holes {
        let of = |name: &Name| name.hole == Some(hole) && name.course == course;
        let own = HoleMarks {
            course,
            hole,
            marks: marks.iter().filter(|m| of(&m.name)).collect(),
            tracks: tracks.iter().filter(|t| of(&t.0)).map(|t| (&t.0, t.1.clone(), t.2, t.3.clone())).collect(),
            flat,
        };
        own.build(map);
    }
    for mark in marks.iter().filter(|m| m.name.hole.is_none()) {
        let mut tags = Tags::default();
        tags.add("golf", "note");
        tags.add("name", mark.words.clone());
        map.elements.push(Element { id: mark.id.clone(), tags, shape: Shape::Point(mark.position) });
    }
}

/// The waypoints in the order in which they were taken, each with a hole where one is known.
fn marks(map: &mut Map, waypoints: &[Waypoint]) -> Vec<Mark> {
    let mut order: Vec<usize> = (0..waypoints.len()).collect();
    if waypoints.iter().all(|w| w.fix.time.is_some()) {
        order.sort_by_key(|i| waypoints.get(*i).and_then(|w| w.fix.time));
    }
    let mut ids: Vec<String> = Vec::new();
    let mut last: Option<(Option<char>, u8)> = None;
    let mut marks = Vec::new();
    for index in order {
        let Some(waypoint) = waypoints.get(index) else { continue };
        let label =
            if waypoint.name.trim().is_empty() { format!("{}", index + 1) } else { waypoint.name.trim().to_owned() };
        let mut id = format!("wpt/{label}");
        let mut nth = 2;
        while ids.contains(&id) {
            id = format!("wpt/{label}#{nth}");
            nth += 1;
        }
        ids.push(id.clone());
        let mut name = name_of(&waypoint.name);
        match (name.hole, name.code, last) {
            (Some(hole), ..) => last = Some((name.course, hole)),
            (None, Some(_), Some((course, hole))) => {
                map.warn(format!("{id}: its name has no hole; taken as hole {hole}, the last one named before it"));
                (name.course, name.hole) = (course, Some(hole));
            }
            _ => {}
        }
        let words = match (name.code, waypoint.words.trim()) {
            (_, "") => name.words.clone(),
            (Some(_), words) if name.words.is_empty() => words.to_owned(),
            (_, words) => format!("{}: {words}", name.words),
        };
        let position = waypoint.fix.position;
        marks.push(Mark { id, words, position, elevation: waypoint.fix.elevation, name });
    }
    marks
}

/// Points of one name as one: the mean of those that lie together, the later of those that do not.
fn merged(map: &mut Map, marks: Vec<Mark>) -> Vec<Mark> {
    let mut kept: Vec<(Mark, f64)> = Vec::new();
    for mark in marks {
        let single = mark.name.code.is_some() && mark.name.hole.is_some();
        let alike = kept.iter_mut().rev().find(|(other, _)| single && other.name == mark.name);
        let Some((other, count)) = alike else {
            kept.push((mark, 1.0));
            continue;
        };
        let flat = Flat::about(other.position);
        let away = flat.point(mark.position);
        if away.length() <= TWICE && !matches!(mark.name.code, Some(Code::Edge | Code::Tree | Code::Note)) {
            other.position = flat.position(away * (1.0 / (*count + 1.0)));
            *count += 1.0;
        } else if mark.name.code.is_some_and(Code::repeats) {
            kept.push((mark, 1.0));
        } else {
            map.warn(format!(
                "{}: it was taken twice, {:.0} m apart; the later one is kept",
                other.id,
                away.length() * METRES_PER_YARD
            ));
            map.discard(other.id.clone(), "another point of this name was taken later");
            *other = mark;
            *count = 1.0;
        }
    }
    kept.into_iter().map(|(mark, _)| mark).collect()
}

/// A track whose name says what it is: its places, whether it closes, its id.
fn named_track(map: &mut Map, index: usize, track: &Track) -> Option<(Name, Vec<LonLat>, bool, String)> {
    let name = name_of(&track.name);
    let code = name.code.filter(|_| name.hole.is_some())?;
    let id = format!(
        "trk/{}",
        if track.name.trim().is_empty() { (index + 1).to_string() } else { track.name.trim().to_owned() }
    );
    let places = line(track);
    let (Some(first), Some(last)) = (places.first(), places.last()) else {
        map.discard(id, "none of its fixes can be trusted");
        return None;
    };
    let flat = Flat::about(*first);
    let closes = flat.point(*last).length() <= CLOSES && places.len() > 3;
    let outline = matches!(code, Code::Edge | Code::Bunker | Code::Water | Code::Red | Code::Yellow | Code::Tree);
    let open = matches!(code, Code::Out | Code::Bend | Code::Water | Code::Red | Code::Yellow);
    if closes && outline {
        let points: Vec<Point> = places.iter().map(|p| flat.point(*p)).collect();
        let area = edges(&points).map(|(a, b)| a.right * b.ahead - b.right * a.ahead).sum::<f64>().abs() / 2.0;
        let square_metres = area * METRES_PER_YARD * METRES_PER_YARD;
        if square_metres < LEAST_AREA {
            map.discard(id, format!("its outline covers only {square_metres:.0} m²"));
            return None;
        }
    } else if !open {
        map.discard(id, "its ends do not meet within 15 m, so it is no outline");
        return None;
    }
    Some((name, places, closes && outline, id))
}

impl HoleMarks<'_> {
    fn label(&self) -> String {
        self.course.map_or(self.hole.to_string(), |c| format!("{c}{}", self.hole))
    }

    fn of(&self, code: Code) -> Vec<&Mark> {
        let mut found: Vec<&Mark> = self.marks.iter().copied().filter(|m| m.name.code == Some(code)).collect();
        // A serial number orders points; without one the order in which they were taken does.
        found.sort_by_key(|m| m.name.number);
        found
    }

    fn point(&self, mark: &Mark) -> Point {
        self.flat.point(mark.position)
    }

    fn push(&self, map: &mut Map, id: &str, tags: &[(&str, &str)], shape: Shape, mark: Option<&Mark>) {
        let mut all = Tags::default();
        for (key, value) in tags {
            all.add(*key, *value);
        }
        let own = format!("gpx/{}", self.label());
        all.add("holes", if self.course.is_some() { own } else { format!("{};{own}", self.hole) });
        if let Some(mark) = mark {
            if !mark.words.is_empty() {
                all.add("name", mark.words.clone());
            }
            if let Some(elevation) = mark.elevation {
                all.add("ele", format!("{elevation}"));
            }
        }
        map.elements.push(Element { id: id.to_owned(), tags: all, shape });
    }

    fn area(&self, points: &[Point]) -> Shape {
        let outer = ring(points.iter().map(|p| self.flat.position(*p)).collect());
        Shape::Area(vec![Patch { outer, inner: Vec::new() }])
    }

    /// The middle of the green: `C`, else the middle of `F` and `K`, else the mean of its edge.
    fn target(&self) -> Option<Point> {
        let first = |code| self.of(code).first().map(|m| self.point(m));
        let middle = || Some((first(Code::Front)? + first(Code::Back)?) * 0.5);
        let mean = |points: &[Point]| {
            let count = points.len() as f64;
            (count > 0.0).then(|| points.iter().fold(Point::default(), |sum, p| sum + *p) * (1.0 / count))
        };
        let edge = || {
            let marked: Vec<Point> = self.of(Code::Edge).into_iter().map(|m| self.point(m)).collect();
            let walked = self.tracks.iter().find(|t| t.0.code == Some(Code::Edge) && t.2);
            let walked = || walked.map(|t| t.1.iter().map(|p| self.flat.point(*p)).collect::<Vec<_>>());
            mean(&marked).or_else(|| mean(&walked()?))
        };
        first(Code::Centre).or_else(middle).or_else(edge)
    }

    fn build(&self, map: &mut Map) {
        let target = self.target();
        self.line(map, target);
        for mark in self.of(Code::Tee) {
            let mut tags = vec![("golf", "tee")];
            let words = mark.name.words.clone();
            if !words.is_empty() {
                tags.push(("tee", &words));
            }
            self.push(map, &mark.id, &tags, Shape::Point(mark.position), Some(mark));
        }
        self.green(map, target);
        self.bunkers(map);
        self.water(map, target);
        self.edges_and_outlines(map);
        for mark in self.of(Code::Tree) {
            self.push(map, &mark.id, &[("natural", "tree")], Shape::Point(mark.position), None);
        }
        for mark in self.of(Code::Marker) {
            let reads = mark.name.number.map(|n| n.to_string()).unwrap_or_default();
            self.push(map, &mark.id, &[("golf", "marker"), ("reads", &reads)], Shape::Point(mark.position), Some(mark));
        }
        for (code, golf) in [(Code::Aim, "aim"), (Code::Note, "note")] {
            for mark in self.of(code) {
                self.push(map, &mark.id, &[("golf", golf)], Shape::Point(mark.position), Some(mark));
            }
        }
        for mark in self.marks.iter().filter(|m| m.name.code.is_none()) {
            if mark.words.is_empty() {
                map.discard(mark.id.clone(), "its name says a hole and nothing else");
                continue;
            }
            self.push(map, &mark.id, &[("golf", "note")], Shape::Point(mark.position), Some(mark));
        }
    }

    /// The hole line: from the tee farthest from the target through the bends.
    fn line(&self, map: &mut Map, target: Option<Point>) {
        let mapped = self.course.is_none()
            && map.elements.iter().any(|e| {
                kind_of(&e.tags) == Kind::Hole
                    && e.tags
                        .get("ref")
                        .map(reference)
                        .is_some_and(|r| r.number == Some(self.hole) && r.letter.is_none())
            });
        let bends = self.of(Code::Bend);
        if mapped {
            for bend in bends {
                map.discard(bend.id.clone(), format!("the map has a line for hole {}", self.hole));
            }
            return;
        }
        let tees = self.of(Code::Tee);
        let label = self.label();
        let Some(target) = target else {
            map.warn(format!("hole {label}: no point of its green was taken (C, F and K, or G), so it has no line"));
            return;
        };
        let away = |m: &&&Mark| self.point(m).distance(target);
        let Some(start) = tees.iter().max_by(|a, b| away(a).total_cmp(&away(b))) else {
            map.warn(format!("hole {label}: no tee was taken (T), so it has no line"));
            return;
        };
        let mut points = vec![self.point(start)];
        points.extend(bends.iter().map(|m| self.point(m)));
        for track in self.tracks.iter().filter(|t| t.0.code == Some(Code::Bend)) {
            points.extend(track.1.iter().map(|p| self.flat.point(*p)));
        }
        points.push(target);
        let line = points.into_iter().map(|p| self.flat.position(p)).collect();
        self.push(map, &format!("gpx/{label}"), &[("golf", "hole"), ("ref", &label)], Shape::Line(line), None);
    }

    fn green(&self, map: &mut Map, target: Option<Point>) {
        let edge = self.of(Code::Edge);
        let (front, back) = (self.of(Code::Front), self.of(Code::Back));
        let walked = self.tracks.iter().any(|t| t.0.code == Some(Code::Edge) && t.2);
        let id = format!("gpx/{} green", self.label());
        if edge.len() >= 3 {
            let points = round_their_centre(edge.iter().map(|m| self.point(m)).collect());
            self.push(map, &id, &[("golf", "green")], self.area(&points), None);
        } else if !walked && let (Some(front), Some(back)) = (front.first(), back.first()) {
            let (a, b) = (self.point(front), self.point(back));
            let depth = a.distance(b);
            map.warn(format!(
                "hole {}: of its green only front and back were taken; it is drawn as wide as it is deep",
                self.label()
            ));
            let circle = disc((a + b) * 0.5, depth / 2.0);
            self.push(map, &id, &[("golf", "green")], self.area(&circle.outer), None);
        } else if !walked && !edge.is_empty() {
            for mark in edge {
                map.discard(mark.id.clone(), "three points of its edge make a green, and here are fewer");
            }
        }
        // The middle is where the line ends; it is no hole location, but nothing else marks it.
        if let (Some(_), Some(centre)) = (target, self.of(Code::Centre).first()) {
            self.push(map, &centre.id, &[("golf", "pin")], Shape::Point(centre.position), None);
        }
    }

    fn bunkers(&self, map: &mut Map) {
        for mark in self.of(Code::Bunker) {
            let circle = disc(self.point(mark), BUNKER);
            map.warn(format!("{}: of this bunker only a place was taken; it is drawn 5 m round it", mark.id));
            self.push(map, &mark.id, &[("golf", "bunker")], self.area(&circle.outer), Some(mark));
        }
        self.pairs(map, Code::BunkerNear, Code::BunkerFar, |map, near, far| {
            let (a, b) = (self.point(near), self.point(far));
            // As wide as deep, at least 5 yards.
            let circle = disc((a + b) * 0.5, a.distance(b).max(5.0) / 2.0);
            self.push(map, &near.id, &[("golf", "bunker")], self.area(&circle.outer), Some(near));
        });
    }

    fn water(&self, map: &mut Map, target: Option<Point>) {
        const TAGS: [(&str, &str); 2] = [("golf", "penalty_area"), ("natural", "water")];
        self.pairs(map, Code::WaterNear, Code::WaterFar, |map, near, far| {
            let (a, b) = (self.point(near), self.point(far));
            let ahead = if a.distance(b) >= 2.0 { b - a } else { target.unwrap_or(b) - a };
            let right = ahead.unit().to_the_right() * WATER_SIDE;
            let (left, right) = match near.name.side {
                Some('L') => (right * -1.0, Point::default()),
                Some('R') => (Point::default(), right),
                _ => (right * -1.0, right),
            };
            map.warn(format!(
                "{}: near and far edge of this water were taken and no width; it is drawn 40 yards to its side",
                near.id
            ));
            self.push(map, &near.id, &TAGS, self.area(&[a + left, b + left, b + right, a + right]), Some(near));
        });
        let points = self.of(Code::Water);
        match points.as_slice() {
            [] => {}
            [one] => {
                map.warn(format!("{}: of this water only a place was taken; it is drawn 5 m round it", one.id));
                self.push(map, &one.id, &TAGS, self.area(&disc(self.point(one), BUNKER).outer), Some(one));
            }
            [a, b] => {
                let line = vec![a.position, b.position];
                self.push(map, &a.id, &TAGS, Shape::Line(line), Some(a));
            }
            [first, ..] => {
                let outline = round_their_centre(points.iter().map(|m| self.point(m)).collect());
                self.push(map, &first.id, &TAGS, self.area(&outline), Some(first));
            }
        }
    }

    /// Edges of penalty areas and boundaries taken point by point, and walked outlines.
    fn edges_and_outlines(&self, map: &mut Map) {
        let tags = |code| match code {
            Code::Red => ("golf", "lateral_water_hazard"),
            Code::Yellow => ("golf", "water_hazard"),
            Code::Out => ("golf", "out_of_bounds"),
            Code::Edge => ("golf", "green"),
            Code::Bunker => ("golf", "bunker"),
            Code::Tree => ("golf", "trees"),
            _ => ("golf", "penalty_area"),
        };
        for code in [Code::Red, Code::Yellow, Code::Out] {
            let points = self.of(code);
            match points.as_slice() {
                [] => {}
                [one] => map.discard(one.id.clone(), "one point makes no line; take two or more"),
                [first, .., last] => {
                    let closes = points.len() > 3 && self.point(first).distance(self.point(last)) <= CLOSES;
                    let outline: Vec<Point> = points.iter().map(|m| self.point(m)).collect();
                    let shape = if closes && code != Code::Out {
                        self.area(&outline)
                    } else {
                        Shape::Line(points.iter().map(|m| m.position).collect())
                    };
                    self.push(map, &first.id, &[tags(code)], shape, Some(first));
                }
            }
        }
        for (name, places, closes, id) in &self.tracks {
            let Some(code) = name.code.filter(|c| *c != Code::Bend) else { continue };
            let shape = if *closes {
                Shape::Area(vec![Patch { outer: ring(places.clone()), inner: Vec::new() }])
            } else {
                Shape::Line(places.clone())
            };
            self.push(map, id, &[tags(code)], shape, None);
        }
    }

    /// Near and far edges that belong together: of one side and serial number.
    fn pairs(&self, map: &mut Map, near: Code, far: Code, mut each: impl FnMut(&mut Map, &Mark, &Mark)) {
        let mut fars = self.of(far);
        for mark in self.of(near) {
            let fits = |m: &&Mark| m.name.side == mark.name.side && m.name.number == mark.name.number;
            match fars.iter().position(fits) {
                Some(at) => each(map, mark, fars.remove(at)),
                None => map.discard(mark.id.clone(), "its far edge was not taken under the same side and number"),
            }
        }
        for mark in fars {
            map.discard(mark.id.clone(), "its near edge was not taken under the same side and number");
        }
    }
}

/// Points sorted round their centre.
fn round_their_centre(mut points: Vec<Point>) -> Vec<Point> {
    let centre = points.iter().fold(Point::default(), |sum, p| sum + *p) * (1.0 / points.len().max(1) as f64);
    points.sort_by(|a, b| (*a - centre).degrees().total_cmp(&(*b - centre).degrees()));
    points
}
