//! GPX 1.0 and 1.1: waypoints, routes and tracks by the local names of their elements, extensions passed over.

use crate::ground::LonLat;
use crate::survey::read::xml::{self, Attributes, Visit};
use crate::survey::read::{Source, Unreadable};

/// One fix of the device.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fix {
    /// Where.
    pub position: LonLat,
    /// Metres, above whatever the device counts from.
    pub elevation: Option<f64>,
    /// Milliseconds since 1970, UTC.
    pub time: Option<i64>,
    /// Horizontal dilution of precision.
    pub hdop: Option<f64>,
    /// Satellites.
    pub satellites: Option<f64>,
}

impl Default for Fix {
    fn default() -> Self {
        let position = LonLat::new(f64::NAN, f64::NAN);
        Self { position, elevation: None, time: None, hdop: None, satellites: None }
    }
}

/// A named place.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Waypoint {
    /// Its name.
    pub name: String,
    /// What its maker wrote of it.
    pub words: String,
    /// Where it is.
    pub fix: Fix,
}

/// A stretch of walking.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Track {
    /// Its name.
    pub name: String,
    /// The fixes of one segment.
    pub fixes: Vec<Fix>,
}

/// What a file holds.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Gpx {
    /// The waypoints, in the order of the file.
    pub waypoints: Vec<Waypoint>,
    /// The segments of the tracks.
    pub tracks: Vec<Track>,
    /// Waypoints without a position.
    pub lost: Vec<String>,
}

/// Reads a GPX file.
///
/// # Errors
/// [`Unreadable`] for broken or hostile XML; a bad waypoint is listed.
pub fn read(source: Source<'_>) -> Result<Gpx, Unreadable> {
    let mut file = File::default();
    xml::read(source, &mut file)?;
    Ok(file.gpx)
}

#[derive(Default)]
struct File {
    gpx: Gpx,
    /// The waypoint or route point that is open, and its depth.
    waypoint: Option<(usize, Waypoint)>,
    fix: Option<(usize, Fix)>,
    track_name: String,
    segment: Vec<Fix>,
}

fn number(text: &str) -> Option<f64> {
    text.trim().parse().ok().filter(|n: &f64| n.is_finite())
}

fn time(text: &str) -> Option<i64> {
    chrono::DateTime::parse_from_rfc3339(text.trim()).ok().map(|t| t.timestamp_millis())
}

fn fix_of(attributes: &Attributes<'_>) -> Fix {
    let get = |name: &str| attributes.get(name).and_then(number).unwrap_or(f64::NAN);
    Fix { position: LonLat::new(get("lon"), get("lat")), ..Fix::default() }
}

fn note(fix: &mut Fix, name: &str, text: &str) {
    match name {
        "ele" => fix.elevation = number(text),
        "time" => fix.time = time(text),
        "hdop" => fix.hdop = number(text),
        "sat" => fix.satellites = number(text),
        _ => {}
    }
}

impl Visit for File {
    fn open(&mut self, name: &str, attributes: &Attributes<'_>, depth: usize) {
        match name {
            "wpt" | "rtept" if self.waypoint.is_none() => {
                self.waypoint = Some((depth, Waypoint { fix: fix_of(attributes), ..Waypoint::default() }));
            }
            "trkpt" if self.fix.is_none() => self.fix = Some((depth, fix_of(attributes))),
            "trk" if depth == 2 => self.track_name.clear(),
            "trkseg" => self.segment.clear(),
            _ => {}
        }
    }

    fn text(&mut self, name: &str, text: &str, depth: usize) {
        // Only what stands directly in a point is the point's; extensions nest deeper.
        if let Some((_, point)) = self.waypoint.as_mut().filter(|(at, _)| depth == at + 1) {
            match name {
                "name" => point.name = text.to_owned(),
                "cmt" | "desc" if point.words != text => {
                    if !point.words.is_empty() {
                        point.words.push_str("; ");
                    }
                    point.words.push_str(text);
                }
                _ => note(&mut point.fix, name, text),
            }
        } else if let Some((_, fix)) = self.fix.as_mut().filter(|(at, _)| depth == at + 1) {
            note(fix, name, text);
        } else if name == "name" && depth == 3 {
            self.track_name = text.to_owned();
        }
    }

    fn close(&mut self, name: &str, depth: usize) {
        match name {
            "wpt" | "rtept" if self.waypoint.as_ref().is_some_and(|(at, _)| *at == depth) => {
                if let Some((_, point)) = self.waypoint.take() {
                    if point.fix.position.is_on_earth() {
                        self.gpx.waypoints.push(point);
                    } else {
                        self.gpx.lost.push(point.name);
                    }
                }
            }
            "trkpt" if self.fix.as_ref().is_some_and(|(at, _)| *at == depth) => {
                if let Some((_, fix)) = self.fix.take().filter(|(_, fix)| fix.position.is_on_earth()) {
                    self.segment.push(fix);
                }
            }
            "trkseg" => {
                let fixes = std::mem::take(&mut self.segment);
                if fixes.len() > 1 {
                    self.gpx.tracks.push(Track { name: self.track_name.clone(), fixes });
                }
            }
            _ => {}
        }
    }
}
