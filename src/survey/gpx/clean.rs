//! What a phone makes of a walk, cleaned: bad fixes out, jumps out, a median, and the mean of a place where one stood still.
//!
//! # References
//! reference/open-formats 2.4 and 2.5: 2 to 5 m in the open, 4 to 13 m under trees; the bounds below.

use super::read::{Fix, Gpx, Track};
use crate::ground::{Flat, LonLat, Point};
use crate::survey::track::{Track as Line, metres};

/// Faster than a walker, metres a second.
const FASTEST: f64 = 4.0;
/// Fixes within this of a waypoint's time tell where one stood, milliseconds.
const MOMENT: i64 = 5_000;
/// Who stands still stays within this.
const STILL: f64 = metres(3.0);
/// How much a walked line may be simplified.
const SIMPLER: f64 = metres(2.0);

/// The places of a walked outline or line.
pub fn line(track: &Track) -> Vec<LonLat> {
    let good: Vec<&Fix> = track
        .fixes
        .iter()
        .filter(|f| f.hdop.is_none_or(|h| h <= 5.0) && f.satellites.is_none_or(|s| s >= 5.0))
        .collect();
    let Some(flat) = Flat::around(good.iter().map(|f| f.position)) else { return Vec::new() };
    let mut kept: Vec<(Point, Option<i64>)> = Vec::new();
    for fix in good {
        let point = flat.point(fix.position);
        let jump = kept.last().is_some_and(|(last, time)| {
            let seconds = time.zip(fix.time).map(|(a, b)| (b - a).max(0) as f64 / 1000.0);
            seconds.is_some_and(|s| last.distance(point) > metres(FASTEST) * s.max(0.5))
        });
        if !jump {
            kept.push((point, fix.time));
        }
    }
    let points: Vec<Point> = kept.iter().map(|(p, _)| *p).collect();
    let smooth = Line(median(&points)).simplified(SIMPLER);
    smooth.0.into_iter().map(|p| flat.position(p)).collect()
}

/// The median of five neighbours on each coordinate; the ends stay as they are.
fn median(points: &[Point]) -> Vec<Point> {
    let middle = |mut values: Vec<f64>| {
        values.sort_by(f64::total_cmp);
        values.get(values.len() / 2).copied().unwrap_or_default()
    };
    let count = points.len();
    (0..count)
        .map(|i| {
            let reach = i.min(count - 1 - i).min(2);
            let window = points.get(i - reach..=i + reach).unwrap_or_default();
            Point::new(
                middle(window.iter().map(|p| p.right).collect()),
                middle(window.iter().map(|p| p.ahead).collect()),
            )
        })
        .collect()
}

/// Puts waypoints that were taken standing still at the mean of the walk's fixes around their time.
pub fn stand_still(gpx: &mut Gpx) {
    let mut fixes: Vec<&Fix> = gpx.tracks.iter().flat_map(|t| &t.fixes).filter(|f| f.time.is_some()).collect();
    fixes.sort_by_key(|f| f.time);
    for waypoint in &mut gpx.waypoints {
        let Some(time) = waypoint.fix.time else { continue };
        let from = fixes.partition_point(|f| f.time < Some(time - MOMENT));
        let to = fixes.partition_point(|f| f.time <= Some(time + MOMENT));
        let near = fixes.get(from..to).unwrap_or_default();
        if near.len() < 3 {
            continue;
        }
        let flat = Flat::about(waypoint.fix.position);
        let points: Vec<Point> = near.iter().map(|f| flat.point(f.position)).collect();
        let mean = points.iter().fold(Point::default(), |sum, p| sum + *p) * (1.0 / points.len() as f64);
        let still = points.iter().all(|p| p.distance(mean) <= STILL) && mean.length() <= metres(15.0);
        if still {
            waypoint.fix.position = flat.position(mean);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::read::Waypoint;
    use super::*;

    fn fix(x: f64, y: f64, time: i64) -> Fix {
        let flat = Flat::about(LonLat::new(5.0, 50.0));
        Fix { position: flat.position(Point::new(metres(x), metres(y))), time: Some(time), ..Fix::default() }
    }

    fn from_origin(position: LonLat) -> f64 {
        Flat::about(LonLat::new(5.0, 50.0)).point(position).length() / metres(1.0)
    }

    #[test]
    fn a_jump_is_left_out() {
        let fixes =
            vec![fix(0.0, 0.0, 0), fix(1.0, 0.0, 1000), fix(80.0, 0.0, 2000), fix(3.0, 0.0, 3000), fix(4.0, 0.5, 4000)];
        let line = line(&Track { name: String::new(), fixes });
        assert!(line.iter().all(|p| from_origin(*p) < 5.0));
    }

    #[test]
    fn who_stood_still_is_placed_at_the_mean_and_who_walked_is_not() {
        let still: Vec<Fix> = (-5..=5).map(|i| fix(f64::from(i % 2), 1.0, i64::from(i) * 1000)).collect();
        let mut gpx = Gpx {
            waypoints: vec![Waypoint { fix: fix(6.0, 0.0, 0), ..Waypoint::default() }],
            tracks: vec![Track { name: String::new(), fixes: still }],
            lost: Vec::new(),
        };
        stand_still(&mut gpx);
        assert!(gpx.waypoints.iter().all(|w| from_origin(w.fix.position) < 1.2));
        let walked: Vec<Fix> = (-5..=5).map(|i| fix(f64::from(i) * 1.5, 0.0, i64::from(i) * 1000)).collect();
        let before = vec![Waypoint { fix: fix(6.0, 0.0, 0), ..Waypoint::default() }];
        let mut gpx = Gpx {
            waypoints: before.clone(),
            tracks: vec![Track { name: String::new(), fixes: walked }],
            lost: Vec::new(),
        };
        stand_still(&mut gpx);
        assert_eq!(gpx.waypoints, before);
    }
}
