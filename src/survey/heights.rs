//! Heights of the ground from a grid in longitude and latitude: Esri ASCII and SRTM tiles.
//!
//! A grid of thirty metres tells tee from green where they differ by ten metres or more; it says nothing of greens. What is
//! made of it are whole metres along the line, and below [`FLAT_M`] nothing at all.
//!
//! # References
//! Esri ASCII raster format: header keywords in any case, values row by row from the north. SRTM: 16-bit signed, big-endian,
//! 3601 or 1201 a side from the north, named by the centre of the south-west sample, voids -32768 (reference/open-formats 3).

use super::read::{Source, Unreadable, text_of};
use crate::ground::LonLat;

/// Differences below this are flat, metres.
pub const FLAT_M: f64 = 3.0;
/// The most values a grid may have.
const MOST: usize = 40_000_000;

/// The side of an SRTM tile by its size in bytes.
pub fn hgt_side(bytes: usize) -> Option<usize> {
    match bytes {
        25_934_402 => Some(3601),
        2_884_802 => Some(1201),
        _ => None,
    }
}

/// Heights on a grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    columns: usize,
    rows: usize,
    /// The centre of the south-west cell.
    corner: LonLat,
    /// From one cell to the next, degrees.
    cell: f64,
    /// Row by row from the north, metres; a void is no number.
    values: Vec<f32>,
}

impl Grid {
    /// The height at a place, metres, between the four cells round it; `None` outside or beside a void.
    pub fn at(&self, place: LonLat) -> Option<f64> {
        let column = (place.lon - self.corner.lon) / self.cell;
        let from_south = (place.lat - self.corner.lat) / self.cell;
        let row = (self.rows - 1) as f64 - from_south;
        let inside = |v: f64, count: usize| v >= 0.0 && v <= (count - 1) as f64;
        if !(inside(column, self.columns) && inside(row, self.rows)) {
            return None;
        }
        // Inside the grid, so both fit.
        let (left, top) = ((column as usize).min(self.columns - 2), (row as usize).min(self.rows - 2));
        let (x, y) = (column - left as f64, row - top as f64);
        let value = |r: usize, c: usize| {
            let height = f64::from(*self.values.get(r * self.columns + c)?);
            height.is_finite().then_some(height)
        };
        let north = value(top, left)? * (1.0 - x) + value(top, left + 1)? * x;
        let south = value(top + 1, left)? * (1.0 - x) + value(top + 1, left + 1)? * x;
        Some(north * (1.0 - y) + south * y)
    }
}

/// Reads an Esri ASCII grid.
///
/// # Errors
/// [`Unreadable`] for a grid that is not in degrees, is not whole, or holds something that is no number.
pub fn ascii_grid(source: Source<'_>) -> Result<Grid, Unreadable> {
    let refuse = |what: String, cure: &str| Err(Unreadable::new(source.name, what, cure));
    let text = text_of(source)?;
    let mut words = text.split_ascii_whitespace().peekable();
    let (mut columns, mut rows, mut cell, mut void) = (0.0, 0.0, f64::NAN, -9999.0);
    let (mut x, mut y) = ((f64::NAN, 0.0), (f64::NAN, 0.0));
    while let Some(word) = words.peek().filter(|w| w.starts_with(|c: char| c.is_ascii_alphabetic())) {
        let key = word.to_ascii_lowercase();
        words.next();
        let value = words.next().and_then(|v| v.parse::<f64>().ok()).filter(|v| v.is_finite());
        let Some(value) = value else { return refuse(format!("{key} has no number"), "export the grid again") };
        match key.as_str() {
            "ncols" => columns = value,
            "nrows" => rows = value,
            // The corner of a cell, half a cell from its centre.
            "xllcorner" => x = (value, 0.5),
            "yllcorner" => y = (value, 0.5),
            "xllcenter" => x = (value, 0.0),
            "yllcenter" => y = (value, 0.0),
            "cellsize" => cell = value,
            "nodata_value" => void = value,
            _ => {
                return refuse(
                    format!("{key} is no key of such a grid"),
                    "give one with square cells, as `AAIGrid` writes it",
                );
            }
        }
    }
    let in_degrees = x.0.abs() <= 180.0 && y.0.abs() <= 90.0 && cell > 0.0 && cell <= 0.02;
    if !in_degrees {
        let what = "this grid is in projected metres, or its place is missing".to_owned();
        return refuse(what, "convert it to latitude and longitude first");
    }
    let count = columns * rows;
    if !(columns >= 2.0 && rows >= 2.0 && columns.fract() == 0.0 && rows.fract() == 0.0 && count <= MOST as f64) {
        return refuse(format!("a grid of {columns} by {rows} cannot be read"), "cut it to the course first");
    }
    let mut values = Vec::with_capacity((count as usize).min(text.len()));
    for word in words {
        let Ok(value) = word.parse::<f64>() else {
            let word: String = word.chars().take(20).collect();
            return refuse(format!("`{word}` is no height"), "export the grid again");
        };
        values.push(if value == void { f32::NAN } else { value as f32 });
    }
    if values.len() != count as usize {
        let what = format!("it has {} heights and should have {count}", values.len());
        return refuse(what, "export the grid again: it was cut off or its header is wrong");
    }
    let corner = LonLat::new(x.0 + x.1 * cell, y.0 + y.1 * cell);
    Ok(Grid { columns: columns as usize, rows: rows as usize, corner, cell, values })
}

/// Reads an SRTM tile; its name says where it lies.
///
/// # Errors
/// [`Unreadable`] for a name or a size that is none of a tile.
pub fn hgt(source: Source<'_>) -> Result<Grid, Unreadable> {
    let Some(side) = hgt_side(source.bytes.len()) else {
        return Err(Unreadable::new(
            source.name,
            "this is not the size of a tile of heights",
            "give the tile unpacked and whole",
        ));
    };
    let Some(corner) = tile_corner(source.name) else {
        let cure = "name it by its south-west corner, as N51E010.hgt";
        return Err(Unreadable::new(source.name, "the name of a tile says where it lies, and this one does not", cure));
    };
    let values = source
        .bytes
        .chunks_exact(2)
        .map(|pair| match pair {
            [high, low] => match i16::from_be_bytes([*high, *low]) {
                -32768 => f32::NAN,
                height => f32::from(height),
            },
            _ => f32::NAN,
        })
        .collect();
    Ok(Grid { columns: side, rows: side, corner, cell: 1.0 / (side - 1) as f64, values })
}

/// `N51E010` as a place.
fn tile_corner(name: &str) -> Option<LonLat> {
    let bare = name.rsplit(['/', '\\']).next()?.to_ascii_uppercase();
    let (lat_sign, rest) = match bare.split_at_checked(1)? {
        ("N", rest) => (1.0, rest),
        ("S", rest) => (-1.0, rest),
        _ => return None,
    };
    let (lat, rest) = rest.split_at_checked(2)?;
    let (lon_sign, rest) = match rest.split_at_checked(1)? {
        ("E", rest) => (1.0, rest),
        ("W", rest) => (-1.0, rest),
        _ => return None,
    };
    let lon = rest.get(..3)?;
    Some(LonLat::new(lon_sign * lon.parse::<f64>().ok()?, lat_sign * lat.parse::<f64>().ok()?))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Grid, Unreadable> {
        ascii_grid(Source { name: "x.asc", bytes: text.as_bytes() })
    }

    #[test]
    fn heights_lie_between_the_centres_of_cells() {
        // Corner form: the centre of the south-west cell is half a cell in.
        let grid =
            read("NCOLS 3\nnrows 2\nxllcorner 10\nyllcorner 50\ncellsize 0.001\nnodata_value -1\n10 20 30\n40 50 -1\n")
                .unwrap();
        let at = |x: f64, y: f64| grid.at(LonLat::new(10.0 + x * 0.001, 50.0 + y * 0.001));
        assert!((at(0.5, 0.5).unwrap() - 40.0).abs() < 1e-6, "south-west is the last row");
        assert!((at(0.5, 1.5).unwrap() - 10.0).abs() < 1e-6);
        assert!((at(1.0, 1.0).unwrap() - 30.0).abs() < 1e-3, "the mean of four");
        assert_eq!(at(2.2, 0.9), None, "beside a void");
        assert_eq!(at(0.2, 0.5), None, "outside the centres");
        let centre = read("ncols 2\nnrows 2\nxllcenter 10\nyllcenter 50\ncellsize 0.001\n1 2 3 4").unwrap();
        assert!((centre.at(LonLat::new(10.0, 50.0)).unwrap() - 3.0).abs() < 1e-6);
    }

    #[test]
    fn grids_that_are_not_in_degrees_or_not_whole_are_refused() {
        let projected = read("ncols 2\nnrows 2\nxllcorner 431000\nyllcorner 5200000\ncellsize 5\n1 2 3 4").unwrap_err();
        assert!(projected.what.contains("projected metres"), "{projected}");
        assert!(
            read("ncols 2\nnrows 2\nxllcorner 1\nyllcorner 1\ncellsize 0.001\n1 2 3")
                .unwrap_err()
                .what
                .contains("3 heights")
        );
        assert!(
            read("ncols 2\nnrows 2\nxllcorner 1\nyllcorner 1\ncellsize 0.001\n1 2 3 x")
                .unwrap_err()
                .what
                .contains("`x`")
        );
        assert!(read("ncols 1e9\nnrows 1e9\nxllcorner 1\nyllcorner 1\ncellsize 0.001\n1").is_err());
        assert!(read("ncols nan\n").is_err());
    }

    #[test]
    fn a_tile_is_placed_by_its_name_and_read_from_the_north() {
        let mut bytes = vec![0_u8; 2_884_802];
        // The north-west sample is 100, the one east of it a void.
        bytes[..4].copy_from_slice(&[0, 100, 0x80, 0]);
        let grid = hgt(Source { name: "tiles/S31W052.hgt", bytes: &bytes }).unwrap();
        assert_eq!(grid.at(LonLat::new(-52.0, -30.5)), Some(0.0));
        assert_eq!(grid.at(LonLat::new(-52.0, -30.0)), None, "beside the void");
        assert!(hgt(Source { name: "heights.hgt", bytes: &bytes }).is_err());
    }
}
