//! Which elements belong to which course: by outline, else by nearness; and the loops of a site that has several.

use super::element::{Map, Tags};
use super::kind::Kind;
use super::placed::Placed;
use super::track::metres;
use super::values::reference;
use crate::ground::{Flat, Point};

/// How far outside its outline ground still belongs to a course (open-formats 1.9).
const ROUND_OUTLINE: f64 = metres(60.0);
/// Golf without an outline belongs together when it lies no farther apart than this.
const TOGETHER: f64 = metres(350.0);
/// A course drawn as a place names the outline that lies no farther away than this.
const ALIAS: f64 = metres(300.0);

/// A course of the map, or one loop of a site.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct CourseFound {
    /// Its name, when the map gives one; with the name of the loop.
    pub name: Option<String>,
    /// The id of its outline.
    pub id: Option<String>,
    /// Other names of the same place.
    pub aliases: Vec<String>,
    /// Its outline among the placed elements.
    pub outline: Option<usize>,
    /// Its hole lines, by place in the list of placed elements.
    pub holes: Vec<usize>,
    /// Everything of golf that belongs to it, hole lines of other loops left out.
    pub members: Vec<usize>,
    /// How many greens have their middle inside.
    pub greens: usize,
}

impl CourseFound {
    /// How much golf the map shows of it.
    pub fn features(&self) -> usize {
        self.members.len()
    }
}

/// Finds the courses of a map. Gives them in the order of the file, and the golf that belongs to none.
pub fn courses(map: &mut Map, placed: &[Placed]) -> (Vec<CourseFound>, Vec<usize>) {
    let mut found: Vec<CourseFound> = Vec::new();
    for (index, item) in placed.iter().enumerate() {
        if item.kind == Kind::Course && !item.shapes().is_empty() {
            let element = map.elements.get(item.element);
            found.push(CourseFound {
                name: element.and_then(|e| name_of(&e.tags)),
                id: element.map(|e| e.id.clone()),
                outline: Some(index),
                ..CourseFound::default()
            });
        }
    }
    aliases(map, placed, &mut found);
    let mut loose = Vec::new();
    for (index, item) in placed.iter().enumerate() {
        if item.kind == Kind::Course || !item.kind.is_golf() {
            continue;
        }
        match home(placed, &found, item.middle) {
            Some(course) => {
                if let Some(course) = found.get_mut(course) {
                    course.members.push(index);
                }
            }
            None => loose.push(index),
        }
    }
    let (groups, loose) = together(placed, loose);
    for members in groups {
        found.push(CourseFound { members, ..CourseFound::default() });
    }
    for course in &mut found {
        let of = |kind: &Kind| {
            let members = course.members.iter().copied();
            members.filter(|i| placed.get(*i).is_some_and(|p| p.kind == *kind)).collect::<Vec<_>>()
        };
        course.holes = of(&Kind::Hole);
        course.greens = of(&Kind::Green).iter().filter(|i| inside(placed, course.outline, **i)).count();
    }
    let found = found.into_iter().flat_map(|course| loops(map, placed, course)).collect();
    (found, loose)
}

/// Whether something lies inside an outline; everything does where there is none.
fn inside(placed: &[Placed], outline: Option<usize>, index: usize) -> bool {
    let Some(outline) = outline.and_then(|o| placed.get(o)) else { return true };
    placed.get(index).is_some_and(|p| outline.holds(p.middle))
}

/// The name that a person knows: of the course before that of the grounds.
fn name_of(tags: &Tags) -> Option<String> {
    let text = ["golf:course:name", "name"].iter().find_map(|key| tags.get(key))?.trim();
    (!text.is_empty()).then(|| text.to_owned())
}

/// A course drawn as a place is another name of the outline it lies in or near; else a course of which nothing is drawn.
fn aliases(map: &mut Map, placed: &[Placed], found: &mut Vec<CourseFound>) {
    for item in placed.iter().filter(|p| p.kind == Kind::Course && p.shapes().is_empty()) {
        let Some(element) = map.elements.get(item.element) else { continue };
        let (name, id) = (name_of(&element.tags), element.id.clone());
        let away = |course: &CourseFound| {
            course.outline.and_then(|o| placed.get(o)).map_or(f64::INFINITY, |o| o.distance(item.middle))
        };
        let nearest = found.iter_mut().min_by(|a, b| away(a).total_cmp(&away(b)));
        match nearest.filter(|course| away(course) <= ALIAS) {
            Some(course) => {
                let words = match (&course.name, &name) {
                    (Some(known), Some(name)) if known != name => format!("it is {known} under another name, {name}"),
                    _ => "it is a course that has an outline".to_owned(),
                };
                if course.name.is_none() {
                    course.name.clone_from(&name);
                }
                course.aliases.extend(name);
                map.discard(id, words);
            }
            None => found.push(CourseFound { name, id: Some(id), ..CourseFound::default() }),
        }
    }
}

/// The course whose outline holds a point, the smallest of several; else the nearest within reach.
fn home(placed: &[Placed], found: &[CourseFound], point: Point) -> Option<usize> {
    let outlines = found.iter().enumerate().filter_map(|(i, c)| Some((i, c.outline.and_then(|o| placed.get(o))?)));
    let holding = outlines.clone().filter(|(_, o)| o.holds(point));
    holding.min_by(|a, b| a.1.area().total_cmp(&b.1.area())).map(|(i, _)| i).or_else(|| {
        let near = outlines.filter(|(_, o)| o.bounds.distance(point) <= ROUND_OUTLINE);
        near.map(|(i, o)| (i, o.distance(point)))
            .filter(|(_, away)| *away <= ROUND_OUTLINE)
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(i, _)| i)
    })
}

/// Golf without an outline in groups that lie together. A group without a hole line or a green is no course.
fn together(placed: &[Placed], loose: Vec<usize>) -> (Vec<Vec<usize>>, Vec<usize>) {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut waiting = loose;
    let mut rest = Vec::new();
    while let Some(first) = waiting.pop() {
        let mut group = vec![first];
        let mut next = 0;
        while let Some(here) = group.get(next).and_then(|i| placed.get(*i)) {
            let reach = here.bounds;
            let near = |index: &usize| {
                placed.get(*index).is_some_and(|p| {
                    let beside = (p.bounds.left - reach.right).max(reach.left - p.bounds.right).max(0.0);
                    let before = (p.bounds.near - reach.far).max(reach.near - p.bounds.far).max(0.0);
                    Point::new(beside, before).length() <= TOGETHER
                })
            };
            let (with, without): (Vec<usize>, Vec<usize>) = waiting.into_iter().partition(near);
            group.extend(with);
            waiting = without;
            next += 1;
        }
        group.sort_unstable();
        let of_course = |i: &usize| placed.get(*i).is_some_and(|p| matches!(p.kind, Kind::Hole | Kind::Green));
        if group.iter().any(of_course) { groups.push(group) } else { rest.extend(group) }
    }
    groups.sort_by_key(|group| group.first().copied());
    rest.sort_unstable();
    (groups, rest)
}

/// The loops of a site: by relation, by the course that a hole names, by the letter in its `ref`, else by following the way
/// from green to tee where numbers repeat.
fn loops(map: &mut Map, placed: &[Placed], course: CourseFound) -> Vec<CourseFound> {
    let mut keys: Vec<Option<String>> = course.holes.iter().map(|i| loop_of(map, placed, *i)).collect();
    let mut names: Vec<Option<String>> = Vec::new();
    // A name on some of the holes alone tells nothing apart.
    let only = keys.iter().flatten().next().cloned();
    if keys.iter().flatten().all(|key| Some(key) == only.as_ref()) {
        keys.iter_mut().for_each(|key| key.clone_from(&only));
    }
    for key in &keys {
        if !names.contains(key) {
            names.push(key.clone());
        }
    }
    names.sort();
    let mut groups: Vec<(Option<String>, Vec<usize>)> = names
        .into_iter()
        .map(|name| {
            let holes = course.holes.iter().zip(&keys).filter(|(_, key)| **key == name).map(|(i, _)| *i).collect();
            (name, holes)
        })
        .collect();
    let mut split = Vec::new();
    for (name, holes) in groups.drain(..) {
        let chains = chains(map, placed, &holes);
        if chains.len() == 1 {
            split.push((name, holes));
            continue;
        }
        let site = course.name.clone().unwrap_or_else(|| "this course".to_owned());
        map.warn(format!(
            "numbers of holes repeat on {site}; the holes were followed from green to tee and taken as {} courses, A to {}: check which is which",
            chains.len(),
            letter(chains.len() - 1)
        ));
        for (index, holes) in chains.into_iter().enumerate() {
            let own = letter(index).to_string();
            split.push((Some(name.as_ref().map_or(own.clone(), |n| format!("{n} {own}"))), holes));
        }
    }
    if split.len() <= 1 {
        return vec![course];
    }
    let all = course.holes.clone();
    split
        .into_iter()
        .map(|(label, holes)| {
            let members = course.members.iter().copied().filter(|i| holes.contains(i) || !all.contains(i)).collect();
            let name = match (&course.name, label) {
                (Some(site), Some(label)) if !site.contains(label.as_str()) => Some(format!("{site}, {label}")),
                (Some(site), _) => Some(site.clone()),
                (None, label) => label,
            };
            let greens = greens_of(placed, &holes, &course);
            CourseFound { name, holes, members, greens, ..course.clone() }
        })
        .collect()
}

/// The greens at which these holes end.
fn greens_of(placed: &[Placed], holes: &[usize], course: &CourseFound) -> usize {
    let greens = course.members.iter().filter_map(|i| placed.get(*i)).filter(|p| p.kind == Kind::Green);
    greens
        .filter(|green| holes.iter().any(|h| end_of(placed, *h).is_some_and(|end| green.distance(end) <= metres(40.0))))
        .count()
}

fn letter(index: usize) -> char {
    (b'A'..=b'Z').nth(index).map_or('Z', char::from)
}

fn loop_of(map: &Map, placed: &[Placed], hole: usize) -> Option<String> {
    let element = map.elements.get(placed.get(hole)?.element)?;
    let group = map.groups.iter().find(|g| g.members.contains(&element.id));
    let of_group = group
        .map(|g| name_of(&g.tags).or_else(|| g.tags.get("ref").map(str::to_owned)).unwrap_or_else(|| g.id.clone()));
    let named = || ["golf:course:name", "course"].iter().find_map(|key| element.tags.get(key));
    of_group
        .or_else(|| named().map(|n| n.trim().to_owned()).filter(|n| !n.is_empty()))
        .or_else(|| element.tags.get("ref").and_then(|r| reference(r).letter).map(String::from))
}

fn end_of(placed: &[Placed], hole: usize) -> Option<Point> {
    match &placed.get(hole)?.lies {
        super::placed::Lies::Line(line) => line.last().copied(),
        _ => None,
    }
}

fn start_of(placed: &[Placed], hole: usize) -> Option<Point> {
    match &placed.get(hole)?.lies {
        super::placed::Lies::Line(line) => line.first().copied(),
        _ => None,
    }
}

/// Holes whose numbers repeat, as one chain for each copy: the next number begins nearest to where the last one ended.
fn chains(map: &Map, placed: &[Placed], holes: &[usize]) -> Vec<Vec<usize>> {
    let number = |hole: usize| {
        let element = map.elements.get(placed.get(hole)?.element)?;
        reference(element.tags.get("ref")?).number
    };
    let mut numbered: Vec<(u8, usize)> = holes.iter().filter_map(|h| Some((number(*h)?, *h))).collect();
    numbered.sort();
    let copies = numbered.chunk_by(|a, b| a.0 == b.0).map(<[_]>::len).max().unwrap_or(1);
    let repeated = numbered.chunk_by(|a, b| a.0 == b.0).filter(|same| same.len() > 1).count();
    let different = numbered.chunk_by(|a, b| a.0 == b.0).count();
    // One number that stands twice is a slip and not a second course.
    if copies == 1 || repeated < 3 || repeated * 4 < different {
        return vec![holes.to_vec()];
    }
    let mut chains: Vec<Vec<usize>> = Vec::new();
    for same in numbered.chunk_by(|a, b| a.0 == b.0) {
        let mut free: Vec<usize> = same.iter().map(|(_, hole)| *hole).collect();
        let mut taken = vec![false; chains.len()];
        // The shortest walk first, so that one bad pair does not decide the others.
        loop {
            let walks =
                chains.iter().enumerate().filter(|(c, _)| taken.get(*c) == Some(&false)).flat_map(|(c, chain)| {
                    let from = chain.last().and_then(|h| end_of(placed, *h));
                    free.iter()
                        .enumerate()
                        .filter_map(move |(f, hole)| Some((c, f, from?.distance(start_of(placed, *hole)?))))
                });
            let Some((chain, hole, _)) = walks.min_by(|a, b| a.2.total_cmp(&b.2)) else { break };
            let hole = free.remove(hole);
            if let Some(list) = chains.get_mut(chain) {
                list.push(hole);
            }
            if let Some(flag) = taken.get_mut(chain) {
                *flag = true;
            }
        }
        chains.extend(free.into_iter().map(|hole| vec![hole]));
    }
    let unnumbered: Vec<usize> = holes.iter().copied().filter(|h| number(*h).is_none()).collect();
    if let Some(first) = chains.first_mut() {
        first.extend(unnumbered);
    }
    chains
}

/// The plane in which elements of a whole file are grouped.
pub fn plane_of(map: &Map) -> Flat {
    Flat::around(map.elements.iter().flat_map(|e| e.shape.positions()))
        .unwrap_or_else(|| Flat::about(Default::default()))
}
