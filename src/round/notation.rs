//! A hole's shots as one line, as they stand in a pencilled book: `d 232 8R r, 7i sl, sw g, 2p 18`.
//!
//! Shots are parted by commas. In a shot: the club; a bare number is what it left to the hole; `8R` is how far beside the hole
//! line; `@232:8R` is a place on the ribbon, counted from the start of the line; a letter is what it finished in; `sl` is short
//! left; `w`, `o`, `u` cost a stroke. `2p 18` is two putts, the first of 18 feet. docs/review.md has the whole of it.

use super::played_shot::{HoleShots, LeftRight, Penalty, PlayedShot, PuttsTaken, ShortLong, ShotLie, Spot};
use crate::units::{Across, LengthUnit};

/// Short forms of clubs, with what they stand for.
const CLUBS: [(&str, &str); 9] = [
    ("d", "driver"),
    ("dr", "driver"),
    ("pw", "pitching wedge"),
    ("gw", "gap wedge"),
    ("aw", "gap wedge"),
    ("sw", "sand wedge"),
    ("lw", "lob wedge"),
    ("p", "putter"),
    ("pt", "putter"),
];

/// The club that a person means: a club of the bag by its name or short form (`7i`, `3w`, `4h`, `d`, `pw`), else the usual name
/// that a short form stands for.
pub fn club_name(text: &str, bag: &[&str]) -> Option<String> {
    let text = text.trim();
    if text.is_empty() {
        return None;
    }
    let in_bag = |name: &str| bag.iter().find(|c| c.trim().eq_ignore_ascii_case(name)).map(|c| (*c).to_owned());
    if let Some(club) = in_bag(text) {
        return Some(club);
    }
    let lower = text.to_lowercase();
    if let Some(long) = spelled(&lower) {
        return Some(in_bag(&long).unwrap_or(long));
    }
    let mut begins = bag.iter().filter(|c| c.to_lowercase().starts_with(&lower));
    begins.next().filter(|_| begins.next().is_none()).map(|c| (*c).to_owned())
}

fn spelled(lower: &str) -> Option<String> {
    if let Some((_, long)) = CLUBS.iter().find(|(short, long)| *short == lower || *long == lower) {
        return Some((*long).to_owned());
    }
    for (letter, word) in [("w", "wood"), ("h", "hybrid"), ("i", "iron")] {
        let number = lower.strip_suffix(letter).or_else(|| lower.strip_suffix(word)).map(str::trim);
        if let Some(n) = number.and_then(|n| n.parse::<u8>().ok())
            && (1..=15).contains(&n)
        {
            return Some(format!("{n} {word}"));
        }
    }
    None
}

fn short_club(club: &str) -> String {
    let lower = club.to_lowercase();
    let short = CLUBS.iter().find(|(_, long)| *long == lower).map(|(short, _)| (*short).to_owned());
    let numbered = || {
        let (number, word) = lower.split_once(' ')?;
        number.parse::<u8>().ok()?;
        let letter = ["wood", "hybrid", "iron"].into_iter().find(|w| *w == word)?.get(..1)?;
        Some(format!("{number}{letter}"))
    };
    match short.or_else(numbered) {
        // A name that reads back as another spelling is written out.
        Some(short) if spelled(&short).as_deref() == Some(club) => short,
        _ => format!("\"{}\"", club.replace(['"', ','], " ")),
    }
}

/// Reads a line of shots; `bag` are the player's clubs, lengths without a unit are in `unit`.
///
/// ```
/// use marram::round::{read_shots, ShotLie};
/// use marram::units::LengthUnit;
/// let hole = read_shots("d 180 8R r, 7i sl, sw g, 2p 18", &["driver", "7 iron"], LengthUnit::Yards).unwrap();
/// assert_eq!((hole.shots.len(), hole.strokes()), (3, 5));
/// assert_eq!(hole.shots[0].into, Some(ShotLie::Rough));
/// ```
///
/// # Errors
/// Which shot, what is not understood, and what would be.
pub fn read_shots(line: &str, bag: &[&str], unit: LengthUnit) -> Result<HoleShots, String> {
    let mut out = HoleShots::default();
    let segments: Vec<&str> = line.split([',', ';']).map(str::trim).collect();
    if segments.iter().all(|s| s.is_empty()) {
        return Ok(out);
    }
    for (i, segment) in segments.iter().enumerate() {
        if segment.is_empty() {
            // A comma at the end is a slip of the finger.
            if i + 1 == segments.len() {
                continue;
            }
            return Err(format!("there is nothing between two commas before shot {}", out.shots.len() + 2));
        }
        if out.putts.is_some() {
            return Err(format!("`{segment}` comes after the putts; putts end the hole"));
        }
        if let Some(putts) = putts_of(segment)? {
            out.putts = Some(putts);
            continue;
        }
        let number = out.shots.len() + 1;
        out.shots.push(shot_of(segment, bag, unit).map_err(|why| format!("shot {number}: {why}"))?);
    }
    match out.impossible() {
        Some(why) => Err(why),
        None => Ok(out),
    }
}

/// `2p 18`, `2p`, `p2 18ft`.
fn putts_of(segment: &str) -> Result<Option<PuttsTaken>, String> {
    let mut words = segment.split_whitespace();
    let first = words.next().unwrap_or_default().to_lowercase();
    let (Some(digits), true) = (
        first.strip_suffix('p').or_else(|| first.strip_prefix('p')).filter(|d| d.bytes().all(|b| b.is_ascii_digit())),
        first.len() > 1,
    ) else {
        return Ok(None);
    };
    let count: u8 = digits.parse().map_err(|_| format!("`{first}` is no number of putts"))?;
    let first_ft = match words.next() {
        None => None,
        Some(word) => {
            let figure = word.trim_end_matches("ft").trim_end_matches('\'');
            let feet: f64 = figure.parse().map_err(|_| format!("`{word}` is no length of a putt in feet, as 18"))?;
            if !(0.0..=250.0).contains(&feet) {
                return Err(format!("a first putt of {word} feet is not believed"));
            }
            Some((feet * 10.0).round() as u16)
        }
    };
    match words.next() {
        Some(word) => Err(format!("`{word}` after the putts is not understood; putts are as 2p 18")),
        None => Ok(Some(PuttsTaken { count, first_ft })),
    }
}

fn shot_of(segment: &str, bag: &[&str], unit: LengthUnit) -> Result<PlayedShot, String> {
    let mut shot = PlayedShot::default();
    let mut rest = segment.trim();
    if let Some(quoted) = rest.strip_prefix('"') {
        let (name, after) = quoted.split_once('"').ok_or("the name of the club has no closing quotation mark")?;
        shot.club = Some(club_name(name, bag).unwrap_or_else(|| name.trim().to_owned()));
        rest = after;
    }
    let mut words: Vec<&str> = rest.split_whitespace().collect();
    // The lie may stand before the club, as one says it: from the bunker, sand wedge.
    if let Some(lie) = words.first().copied().filter(|w| w.starts_with('(')) {
        token(lie, unit, &mut shot)?;
        words.remove(0);
    }
    let mut start = 0;
    if shot.club.is_none() {
        // `7 iron` and `pitching wedge` are two words; the longest that is a club wins.
        let one = words.first().copied().unwrap_or_default();
        let two = words.get(..2).map(|w| w.join(" "));
        let full = two.as_deref().and_then(|t| {
            let known = spelled(&t.to_lowercase()).is_some() || bag.iter().any(|c| c.eq_ignore_ascii_case(t));
            known.then(|| club_name(t, bag)).flatten()
        });
        if let Some(club) = full {
            (shot.club, start) = (Some(club), 2);
        } else if !one.is_empty() && !token(one, unit, &mut PlayedShot::default())? {
            let club = club_name(one, bag)
                .ok_or_else(|| format!("`{one}` is no club of this bag and no place; clubs are as d, 3w, 7i, pw"))?;
            (shot.club, start) = (Some(club), 1);
        }
    }
    for word in words.iter().skip(start) {
        if !token(word, unit, &mut shot)? {
            return Err(format!(
                "`{word}` is not understood; a number is what it left, 8R is beside the line, f r s t g what it finished in, sl short left, w o u a penalty, h holed"
            ));
        }
    }
    Ok(shot)
}

/// Takes one word into `shot`; `false` when it is none of the words of a finish.
fn token(word: &str, unit: LengthUnit, shot: &mut PlayedShot) -> Result<bool, String> {
    let lower = word.to_lowercase();
    if lower == "?" {
        return Ok(true);
    }
    if let Some(inside) = lower.strip_prefix('(').and_then(|w| w.strip_suffix(')')) {
        shot.lie = Some(lie_of(inside).ok_or_else(|| format!("`{word}` is no lie; as (r), (s), (t)"))?);
        return Ok(true);
    }
    if let Some(place) = lower.strip_prefix("aim@") {
        shot.aim = Some(spot_of(place, unit)?);
        return Ok(true);
    }
    if let Some(place) = lower.strip_prefix('@') {
        shot.spot = Some(spot_of(place, unit)?);
        return Ok(true);
    }
    if let Some(into) = lie_of(&lower) {
        if shot.into.is_some_and(|before| before != into) {
            return Err(format!("`{word}` and `{}` are two places for one ball", shot.into.map_or("", ShotLie::word)));
        }
        shot.into = Some(into);
        return Ok(true);
    }
    let (length, side) = match lower.as_str() {
        "short" | "sh" => (Some(ShortLong::Short), None),
        "long" | "lg" => (Some(ShortLong::Long), None),
        "left" | "lt" => (None, Some(LeftRight::Left)),
        "right" | "rt" => (None, Some(LeftRight::Right)),
        "sl" => (Some(ShortLong::Short), Some(LeftRight::Left)),
        "sr" => (Some(ShortLong::Short), Some(LeftRight::Right)),
        "ll" => (Some(ShortLong::Long), Some(LeftRight::Left)),
        "lr" => (Some(ShortLong::Long), Some(LeftRight::Right)),
        _ => (None, None),
    };
    if length.is_some() || side.is_some() {
        shot.length = length.or(shot.length);
        shot.side = side.or(shot.side);
        return Ok(true);
    }
    let penalty = match lower.as_str() {
        "w" | "water" => Some(Penalty::Water),
        "o" | "ob" | "out" | "lost" => Some(Penalty::Out),
        "u" | "unplayable" => Some(Penalty::Unplayable),
        "h" | "in" | "holed" => {
            shot.holed = true;
            return Ok(true);
        }
        _ => None,
    };
    if penalty.is_some() {
        shot.penalty = penalty;
        return Ok(true);
    }
    let (figure, own) = match lower.strip_suffix('y').or_else(|| lower.strip_suffix("yd")) {
        Some(figure) => (figure, LengthUnit::Yards),
        None => match lower.strip_suffix('m') {
            Some(figure) => (figure, LengthUnit::Metres),
            None => (lower.as_str(), unit),
        },
    };
    if let Ok(value) = figure.parse::<f64>() {
        let yards = value * own.in_yards();
        if !(0.0..=900.0).contains(&yards) {
            return Err(format!("`{word}` to the hole is not believed; at most 900 yards"));
        }
        if shot.left.is_some() {
            return Err(format!("`{word}` is a second distance to the hole"));
        }
        shot.left = Some((yards * 10.0).round() as u32);
        return Ok(true);
    }
    if figure.ends_with(['l', 'r'])
        && let Some(across) = Across::read(figure, own)
    {
        if across.0.abs() > 400.0 {
            return Err(format!("`{word}` is beside another hole"));
        }
        shot.beside = Some((across.0 * 10.0).round() as i32);
        return Ok(true);
    }
    Ok(false)
}

fn lie_of(word: &str) -> Option<ShotLie> {
    Some(match word {
        "f" | "fairway" | "fringe" => ShotLie::Fairway,
        "r" | "rough" => ShotLie::Rough,
        "deep" | "hay" => ShotLie::Deep,
        "waste" => ShotLie::Waste,
        "s" | "sand" | "bunker" => ShotLie::Sand,
        "t" | "trees" => ShotLie::Trees,
        "g" | "green" => ShotLie::Green,
        "tee" => ShotLie::Tee,
        _ => return None,
    })
}

/// `232:8R`.
fn spot_of(text: &str, unit: LengthUnit) -> Result<Spot, String> {
    let bad = || format!("`{text}` is no place on the ribbon, as @232:8R");
    let (at, across) = text.split_once(':').unwrap_or((text, "0"));
    let at: f64 = at.parse().map_err(|_| bad())?;
    let across = if across == "0" { Across(0.0) } else { Across::read(across, unit).ok_or_else(bad)? };
    let tenths = |yards: f64| (yards * 10.0).round();
    let at = tenths(at * unit.in_yards());
    if !(-2_000.0..=9_000.0).contains(&at) || across.0.abs() > 400.0 {
        return Err(format!("`{text}` is not on this hole"));
    }
    Ok(Spot { at: at as i32, across: tenths(across.0) as i32 })
}

/// The line that [`read_shots`] reads back as the same, lengths in `unit`; exact in yards.
pub fn write_shots(hole: &HoleShots, unit: LengthUnit) -> String {
    let mut parts: Vec<String> = hole.shots.iter().map(|s| shot_text(s, unit)).collect();
    if let Some(putts) = hole.putts {
        let first = putts.first_ft.map_or_else(String::new, |ft| format!(" {}", tenths_text(i64::from(ft))));
        parts.push(format!("{}p{first}", putts.count));
    }
    parts.join(", ")
}

fn shot_text(shot: &PlayedShot, unit: LengthUnit) -> String {
    let figure = |tenths: i64| match unit {
        LengthUnit::Yards => tenths_text(tenths),
        LengthUnit::Metres => tenths_text((tenths as f64 / unit.in_yards()).round() as i64),
    };
    let beside = |tenths: i32| match tenths {
        0 => "0R".to_owned(),
        t if t < 0 => format!("{}L", figure(-i64::from(t))),
        t => format!("{}R", figure(i64::from(t))),
    };
    let place = |s: Spot| format!("{}:{}", figure(i64::from(s.at)), beside(s.across));
    let mut words: Vec<String> = Vec::new();
    words.extend(shot.club.as_deref().map(short_club));
    words.extend(shot.lie.map(|lie| format!("({})", lie.letter())));
    words.extend(shot.aim.map(|s| format!("aim@{}", place(s))));
    words.extend(shot.spot.map(|s| format!("@{}", place(s))));
    // A bare `15 w` would read as a club, so a shot of an unknown club says so before its figure.
    words.extend((shot.club.is_none() && shot.left.is_some()).then(|| "?".to_owned()));
    words.extend(shot.left.map(|l| figure(i64::from(l))));
    words.extend(shot.beside.map(beside));
    words.extend(
        match (shot.length, shot.side) {
            (None, None) => None,
            (Some(ShortLong::Short), None) => Some("short"),
            (Some(ShortLong::Long), None) => Some("long"),
            (None, Some(LeftRight::Left)) => Some("left"),
            (None, Some(LeftRight::Right)) => Some("right"),
            (Some(ShortLong::Short), Some(LeftRight::Left)) => Some("sl"),
            (Some(ShortLong::Short), Some(LeftRight::Right)) => Some("sr"),
            (Some(ShortLong::Long), Some(LeftRight::Left)) => Some("ll"),
            (Some(ShortLong::Long), Some(LeftRight::Right)) => Some("lr"),
        }
        .map(str::to_owned),
    );
    words.extend(shot.into.map(|lie| lie.letter().to_owned()));
    words.extend(shot.penalty.map(|p| match p {
        Penalty::Water => "w".to_owned(),
        Penalty::Out => "o".to_owned(),
        Penalty::Unplayable => "u".to_owned(),
    }));
    if shot.holed {
        words.push("h".to_owned());
    }
    if words.is_empty() {
        // A stroke of which nothing is known is still a stroke.
        words.push("?".to_owned());
    }
    words.join(" ")
}

fn tenths_text(tenths: i64) -> String {
    let (sign, size) = (if tenths < 0 { "-" } else { "" }, tenths.unsigned_abs());
    if size % 10 == 0 { format!("{sign}{}", size / 10) } else { format!("{sign}{}.{}", size / 10, size % 10) }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const BAG: [&str; 6] = ["driver", "3 wood", "7 iron", "pitching wedge", "sand wedge", "54 wedge"];

    fn read(line: &str) -> Result<HoleShots, String> {
        read_shots(line, &BAG, LengthUnit::Yards)
    }

    #[test]
    fn a_pencilled_line_is_read() {
        let hole = read("d 232 8R r, 7i sl, (s) sw g, 2p 18").unwrap();
        assert_eq!(hole.shots[0].club.as_deref(), Some("driver"));
        assert_eq!((hole.shots[0].left, hole.shots[0].beside), (Some(2320), Some(80)));
        assert_eq!((hole.shots[1].length, hole.shots[1].side), (Some(ShortLong::Short), Some(LeftRight::Left)));
        assert_eq!((hole.shots[2].lie, hole.shots[2].into), (Some(ShotLie::Sand), Some(ShotLie::Green)));
        assert_eq!(hole.shots[2].club.as_deref(), Some("sand wedge"));
    }

    #[test]
    fn clubs_by_their_short_forms() {
        for (short, long) in
            [("d", "driver"), ("3W", "3 wood"), ("7i", "7 iron"), ("PW", "pitching wedge"), ("54", "54 wedge")]
        {
            assert_eq!(club_name(short, &BAG).as_deref(), Some(long));
        }
        assert_eq!(club_name("4h", &BAG).as_deref(), Some("4 hybrid"), "the usual name where the bag has none");
        assert_eq!(club_name("zebra", &BAG), None);
        assert_eq!(read("7 iron 140 f").unwrap().shots[0].club.as_deref(), Some("7 iron"));
    }

    #[test]
    fn what_is_wrong_is_said_with_its_shot() {
        for (line, words) in [
            ("d 232, zz 3", "shot 2"),
            ("d f r", "two places"),
            ("d 2000", "not believed"),
            ("d 100 90", "second distance"),
            ("2p 18, sw g", "after the putts"),
            ("2p eighteen", "feet"),
            ("d,,7i", "between two commas"),
            ("d h, 7i", "nothing comes after"),
            ("20p", "15 putts"),
            ("d 600R", "another hole"),
            ("d @x:8R", "ribbon"),
        ] {
            let error = read(line).unwrap_err();
            assert!(error.contains(words), "{line}: {error}");
        }
        assert_eq!(read("  ").unwrap(), HoleShots::default());
        assert_eq!(read("d f,").unwrap().shots.len(), 1);
    }

    fn shot() -> impl Strategy<Value = PlayedShot> {
        let club = prop::option::of(prop::sample::select(vec!["driver", "7 iron", "54 wedge", "odd, \"club\""]));
        let lie = || prop::option::of(prop::sample::select(ShotLie::ALL[1..].to_vec()));
        let spot = || prop::option::of((-50..6000_i32, -900..900_i32).prop_map(|(at, across)| Spot { at, across }));
        let length = prop::option::of(prop::sample::select(vec![ShortLong::Short, ShortLong::Long]));
        let side = prop::option::of(prop::sample::select(vec![LeftRight::Left, LeftRight::Right]));
        let penalty = prop::option::of(prop::sample::select(vec![Penalty::Water, Penalty::Out, Penalty::Unplayable]));
        (
            (club, lie(), spot(), spot()),
            (prop::option::of(0..6000_u32), prop::option::of(-900..900_i32), length, side, lie(), penalty),
        )
            .prop_map(|((club, lie, aim, spot), (left, beside, length, side, into, penalty))| PlayedShot {
                club: club.map(|c| c.replace(['"', ','], " ").trim().to_owned()),
                lie,
                aim,
                spot,
                left,
                beside,
                length,
                side,
                into,
                penalty,
                holed: false,
            })
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back_the_same(shots in prop::collection::vec(shot(), 0..6), putts in prop::option::of((0..5_u8, prop::option::of(0..900_u16)))) {
            let hole = HoleShots { shots, putts: putts.map(|(count, first_ft)| PuttsTaken { count, first_ft }) };
            let text = write_shots(&hole, LengthUnit::Yards);
            prop_assert_eq!(read(&text), Ok(hole), "{}", text);
        }

        #[test]
        fn nothing_typed_panics(line in "\\PC{0,60}") {
            let _ = read(&line);
        }
    }
}
