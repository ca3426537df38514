//! Map files as their bytes: which format it is, and one reader for each. No reader fails outright on one bad element.

mod geojson;
mod osm;
mod osm_xml;
mod overpass;
mod rings;
pub mod xml;

use super::element::Map;

/// A file as it was handed in.
#[derive(Clone, Copy, Debug)]
pub struct Source<'a> {
    /// Its name, for messages.
    pub name: &'a str,
    /// Its bytes.
    pub bytes: &'a [u8],
}

/// Why a whole file cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {what}; {cure}")]
pub struct Unreadable {
    /// The file, with line and column where they are known.
    pub place: String,
    /// What is wrong.
    pub what: String,
    /// What to do.
    pub cure: String,
}

impl Unreadable {
    pub(crate) fn new(place: impl Into<String>, what: impl Into<String>, cure: impl Into<String>) -> Self {
        Self { place: place.into(), what: what.into(), cure: cure.into() }
    }

    /// At a byte of a text.
    pub(crate) fn at(source: Source<'_>, at: usize, what: impl Into<String>, cure: impl Into<String>) -> Self {
        let before = source.bytes.get(..at.min(source.bytes.len())).unwrap_or_default();
        let line = before.iter().filter(|b| **b == b'\n').count() + 1;
        let start = before.iter().rposition(|b| *b == b'\n').map_or(0, |p| p + 1);
        let column = String::from_utf8_lossy(before.get(start..).unwrap_or_default()).chars().count() + 1;
        Self::new(format!("{}:{line}:{column}", source.name), what, cure)
    }
}

/// The formats that are read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// OpenStreetMap XML, API 0.6.
    OsmXml,
    /// Overpass JSON.
    Overpass,
    /// GeoJSON.
    GeoJson,
    /// GPX 1.0 and 1.1.
    Gpx,
    /// An Esri ASCII grid of heights.
    AsciiGrid,
    /// A tile of heights in the SRTM form.
    Hgt,
}

const CURE: &str = "give OpenStreetMap XML (.osm), Overpass JSON, GeoJSON, GPX, or heights as .asc or .hgt";

/// Which format a file has, by what stands in it and not by its name.
///
/// # Errors
/// [`Unreadable`] with what it is instead, where that can be told.
pub fn format_of(source: Source<'_>) -> Result<Format, Unreadable> {
    let refuse = |what: &str| Err(Unreadable::new(source.name, what, CURE));
    if super::heights::hgt_side(source.bytes.len()).is_some() && source.name.to_lowercase().ends_with(".hgt") {
        return Ok(Format::Hgt);
    }
    let bytes = source.bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(source.bytes);
    let start = bytes.iter().position(|b| !b.is_ascii_whitespace()).unwrap_or(bytes.len());
    let head = bytes.get(start..).unwrap_or_default();
    match head.first() {
        None => refuse("the file is empty"),
        Some(b'<') => match xml::root_of(source)? {
            root if root == "osm" => Ok(Format::OsmXml),
            root if root == "gpx" => Ok(Format::Gpx),
            root if root == "osmChange" => refuse("this is a list of changes, not a map"),
            root => refuse(&format!("this is XML of another kind, <{}>", crate::units::plain_text::plain(&root))),
        },
        Some(b'{') => {
            // Whichever of the two keys stands first at the top tells; a reader reports the rest.
            let text = String::from_utf8_lossy(head);
            Ok(if overpass::looks_like(&text) { Format::Overpass } else { Format::GeoJson })
        }
        Some(b'[') => refuse("this is a JSON list, not a map"),
        Some(_) if head.get(..5).is_some_and(|h| h.eq_ignore_ascii_case(b"ncols")) => Ok(Format::AsciiGrid),
        Some(_) if head.starts_with(b"PK") || head.starts_with(b"\x1f\x8b") => {
            refuse("the file is packed; unpack it first")
        }
        Some(_) if head.windows(9).take(64).any(|w| w == b"OSMHeader") => {
            refuse("this is a packed OpenStreetMap extract (PBF); convert it to .osm first")
        }
        Some(_) if head.starts_with(b"II*\0") || head.starts_with(b"MM\0*") => {
            refuse("this is a TIFF picture; convert the heights to an ASCII grid (.asc) first")
        }
        Some(_) => refuse("this is no map that marram reads"),
    }
}

/// The text of a file.
///
/// # Errors
/// [`Unreadable`] at the first byte that is not UTF-8.
pub fn text_of<'a>(source: Source<'a>) -> Result<&'a str, Unreadable> {
    match std::str::from_utf8(source.bytes) {
        Ok(text) => Ok(text.strip_prefix('\u{feff}').unwrap_or(text)),
        Err(error) => {
            Err(Unreadable::at(source, error.valid_up_to(), "this is not UTF-8 text", "save or export it as UTF-8"))
        }
    }
}

/// Reads a map of lines and areas: OpenStreetMap XML, Overpass JSON or GeoJSON.
///
/// # Errors
/// [`Unreadable`] when the file as a whole cannot be used.
pub fn read_map(source: Source<'_>, format: Format) -> Result<Map, Unreadable> {
    match format {
        Format::OsmXml => osm_xml::read(source),
        Format::Overpass => overpass::read(source),
        Format::GeoJson => geojson::read(source),
        Format::Gpx | Format::AsciiGrid | Format::Hgt => Ok(Map::default()),
    }
}
