//! A walk as a device kept it: a waypoint wherever a stroke was played, as the shots of a round.
//!
//! A waypoint's name is the number of the hole and a word: `4 d` (the driver from here), `4 7i`, `4 2p` (two putts from here), `4 pin` (the
//! hole itself). Waypoints stand in the order of play; the ball of each stroke lies where the next waypoint is.

use crate::ground::Point;
use crate::review::import::Imported;
use crate::round::{HoleShots, PlayedShot, Spot, read_shots};
use crate::session::Session;
use crate::survey::{Source, Tie, gpx, read_ground, ties};
use crate::units::LengthUnit;
use std::collections::BTreeMap;

/// One waypoint of a hole.
struct Mark {
    name: String,
    words: String,
    position: crate::ground::LonLat,
}

/// The shots of a walk, with words on what could not be used.
///
/// # Errors
/// Every reason why the walk cannot be read.
pub fn shots_of_walk(
    session: &Session,
    player: usize,
    name: &str,
    bytes: &[u8],
) -> Result<(Imported, Vec<String>), Vec<String>> {
    let walk = gpx::read(Source { name, bytes }).map_err(|why| vec![why.to_string()])?;
    let Some(course) = &session.course else {
        return Err(vec!["the notebook of this round cannot be read".to_owned()]);
    };
    let mut words: Vec<String> =
        walk.lost.iter().map(|w| format!("waypoint `{w}` has no position and is left out")).collect();
    let mut problems = Vec::new();
    let mut waypoints = walk.waypoints;
    // A device may keep waypoints by name; their times tell the order of play.
    if waypoints.iter().all(|w| w.fix.time.is_some()) {
        waypoints.sort_by_key(|w| w.fix.time);
    }
    let mut holes: BTreeMap<usize, Vec<Mark>> = BTreeMap::new();
    for point in waypoints {
        let text = point.name.trim().to_owned();
        let digits: String = text.chars().take_while(char::is_ascii_digit).collect();
        let rest = text.get(digits.len()..).unwrap_or_default().trim().trim_start_matches(['-', ':', '.', '_']).trim();
        let position = digits.parse::<u8>().ok().and_then(|n| session.order.iter().position(|h| *h == n));
        match position {
            Some(position) => holes.entry(position).or_default().push(Mark {
                name: text.clone(),
                words: rest.to_lowercase(),
                position: point.fix.position,
            }),
            None if digits.is_empty() => words.push(format!("waypoint `{text}` names no hole and is left out")),
            None => problems.push(format!("waypoint `{text}`: hole {digits} is not in this round")),
        }
    }
    if holes.is_empty() && problems.is_empty() {
        problems.push("no waypoint names a hole; they are named as `4 d`, `4 7i`, `4 2p`, `4 pin`".to_owned());
    }
    let surveyed: Vec<(u8, Tie)> =
        session.ground.as_ref().map(|f| ties(course, &read_ground(&f.name, &f.text).0)).unwrap_or_default();
    let bag = session.clubs(player);
    let bag: Vec<&str> = bag.iter().map(String::as_str).collect();
    let tee = session.golfers.get(player).map(|g| g.tee.clone()).unwrap_or_default();
    let mut out = Imported::new();
    for (position, marks) in holes {
        let Some(hole) = session.order.get(position).and_then(|n| course.hole(*n)) else { continue };
        let is_pin = |m: &Mark| matches!(m.words.as_str(), "pin" | "hole" | "flag" | "cup");
        let pin = marks.iter().find(|m| is_pin(m));
        let strokes: Vec<&Mark> = marks.iter().filter(|m| !is_pin(m)).collect();
        let by_survey = surveyed.iter().find(|(n, _)| *n == hole.number).map(|(_, tie)| *tie);
        let own_tie = || {
            let spot = hole.ground.tees.iter().find(|t| t.name == tee)?;
            let middle = hole.ground.green.as_ref()?.middle;
            Tie::between(strokes.first()?.position, pin?.position, spot.point, middle)
        };
        let Some(tie) = by_survey.or_else(own_tie) else {
            problems.push(format!(
                "hole {}: its ground is not surveyed, so the walk needs a waypoint on its tee and one named `{} pin` at the hole",
                hole.number, hole.number
            ));
            continue;
        };
        let pin_at = pin.map(|m| tie.point(m.position));
        match hole_of(&strokes, &tie, pin_at, &bag, |p| spot(hole, p)) {
            Ok(shots) => drop(out.insert(position, shots)),
            Err(why) => problems.push(format!("hole {}: {why}", hole.number)),
        }
    }
    if problems.is_empty() { Ok((out, words)) } else { Err(problems) }
}

fn spot(hole: &crate::course::Hole, at: Point) -> Spot {
    let (along, across) = hole.ground.line().locate(at);
    Spot { at: (along.0 * 10.0).round() as i32, across: (across.0 * 10.0).round() as i32 }
}

fn hole_of(
    strokes: &[&Mark],
    tie: &Tie,
    pin: Option<Point>,
    bag: &[&str],
    spot: impl Fn(Point) -> Spot,
) -> Result<HoleShots, String> {
    let mut out = HoleShots::default();
    for (i, mark) in strokes.iter().enumerate() {
        let next = strokes.get(i + 1).map(|m| tie.point(m.position));
        let read = if mark.words.is_empty() {
            HoleShots { shots: vec![PlayedShot::default()], putts: None }
        } else {
            read_shots(&mark.words, bag, LengthUnit::Yards).map_err(|why| format!("waypoint `{}`: {why}", mark.name))?
        };
        if let Some(mut putts) = read.putts {
            if putts.first_ft.is_none() {
                let feet = pin.map(|p| 3.0 * p.distance(tie.point(mark.position)));
                putts.first_ft = feet.filter(|ft| *ft < 250.0).map(|ft| (ft * 10.0).round() as u16);
            }
            out.putts = Some(putts);
            if next.is_some() {
                return Err(format!("waypoint `{}`: putts end the hole, and another stroke comes after", mark.name));
            }
            break;
        }
        for mut shot in read.shots {
            // Relief and the stroke after it begin where the next waypoint is.
            if shot.spot.is_none() && shot.penalty != Some(crate::round::Penalty::Out) && !shot.holed {
                shot.spot = next.map(&spot);
            }
            out.shots.push(shot);
        }
    }
    match out.impossible() {
        Some(why) => Err(why),
        None => Ok(out),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;

    /// Corvane has a sketch only: a hole is tied by the tee and the pin of the walk.
    #[test]
    fn a_walk_over_one_hole_becomes_its_shots() {
        let session = crate::shelf::example("2026-05-16");
        let hole = session.course.as_ref().unwrap().hole(session.order[0]).unwrap().clone();
        let tee = hole.ground.tees.iter().find(|t| t.name == session.golfers[0].tee).unwrap().point;
        let middle = hole.ground.green.as_ref().unwrap().middle;
        let flat = crate::ground::Flat::around([crate::ground::LonLat::new(10.0, 50.0)]).unwrap();
        let at = |p: Point| flat.position(p);
        let wpt = |name: &str, p: Point| {
            format!("<wpt lat=\"{}\" lon=\"{}\"><name>{name}</name></wpt>", at(p).lat, at(p).lon)
        };
        let ball = tee + (middle - tee) * 0.6 + Point::new(9.0, 0.0);
        let green = middle + Point::new(0.0, -4.0);
        let n = hole.number;
        let text = format!(
            "<gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\">{}{}{}{}</gpx>",
            wpt(&format!("{n} d"), tee),
            wpt(&format!("{n} 7i"), ball),
            wpt(&format!("{n} 2p"), green),
            wpt(&format!("{n} pin"), middle)
        );
        let (found, words) = shots_of_walk(&session, 0, "walk.gpx", text.as_bytes()).unwrap();
        assert!(words.is_empty(), "{words:?}");
        let shots = &found[&0];
        assert_eq!(shots.shots.len(), 2);
        let (along, across) = hole.ground.line().locate(ball);
        let spot = shots.shots[0].spot.unwrap();
        assert!(
            (f64::from(spot.at) / 10.0 - along.0).abs() < 1.0 && (f64::from(spot.across) / 10.0 - across.0).abs() < 1.0
        );
        let feet = f64::from(shots.putts.unwrap().first_ft.unwrap()) / 10.0;
        assert!((feet - 12.0).abs() < 0.6, "{feet}");
        let without_pin = text.replace(&format!("{n} pin"), "tree");
        let problems = shots_of_walk(&session, 0, "walk.gpx", without_pin.as_bytes()).unwrap_err();
        assert!(problems[0].contains("not surveyed"), "{problems:?}");
        assert!(shots_of_walk(&session, 0, "walk.gpx", b"<gpx>").is_err());
    }
}
