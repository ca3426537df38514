//! Front page, whole course, club distances of the day, the card.

use super::book::{Book, Edition, Wish};
use super::hole::{HoleValues, shape};
use super::leaf::{Align, Block, Cell, Entry, Head, Leaf, Sample, Table, Weight};
use crate::flight::{Family, Weather, Wind};
use crate::ground::Surface;
use crate::pattern::Source;
use crate::sheet::CardSheet;
use crate::units::plain_text::plain;
use crate::units::tenths::whole_handicap_text;
use crate::units::{Across, Length, LengthUnit};

fn entry(label: &str, words: impl Into<String>) -> Block {
    Block::Entry(Entry::new(label, words, Weight::Must))
}

/// The front page: whose, where, when, how to read it.
pub fn front(book: &Book<'_>, wish: &Wish) -> Leaf {
    let course = book.course;
    let golfer = book.golfer;
    let day = book.session.day.as_ref().map(|(day, _)| day);
    let mut blocks = Vec::new();
    let mut facts = Vec::new();
    facts.push(match book.edition {
        Edition::Player => "pocket book".to_owned(),
        Edition::Professional => "course notebook".to_owned(),
    });
    facts.extend(course.edition.as_ref().map(|e| format!("edition {}", plain(e))));
    if let Some(by) = course.by.as_ref().filter(|_| book.edition == Edition::Player) {
        facts.push(format!("by {}", plain(by)));
    }
    if book.edition == Edition::Player {
        let mut who = plain(&golfer.name).into_owned();
        if let Some(index) = golfer.index {
            who.push_str(&format!(", Handicap Index {index}"));
        }
        if let Some(handicap) = golfer.course_handicap {
            who.push_str(&format!(", Course Handicap {}", whole_handicap_text(handicap.rounded())));
            who.push_str(&format!(", plays off {}", whole_handicap_text(golfer.playing_handicap)));
        }
        blocks.push(entry("player", who));
        if let Some(why) = &golfer.why_no_strokes {
            blocks.push(entry("", format!("no strokes: {}", plain(why))));
        }
    }
    if book.edition == Edition::Professional {
        let by = course.by.as_deref().unwrap_or(&course.name);
        let yards: f64 = course.holes.iter().filter_map(|h| course.tee_on(h, book.tee_name())).map(|t| t.length).sum();
        let par: u32 = course.holes.iter().filter_map(|h| h.par.on(golfer.card)).map(u32::from).sum();
        blocks.push(Block::Title(
            plain(by).into_owned(),
            format!(
                "{} holes from the {} tee, {} {}, par {par}",
                course.holes.len(),
                plain(book.tee_name()),
                Length::yards(yards).show(book.units),
                book.units.word()
            ),
        ));
    }
    let mut tee = plain(book.tee_name()).into_owned();
    if let Some(rating) = course.rating_of(book.tee_name(), golfer.card, None, 1, course.holes.len()) {
        tee.push_str(&format!(", {} rating {}, slope {}", golfer.card.whose(), rating.rating, rating.slope));
    }
    blocks.push(entry("tee", tee));
    let mut when = vec![book.date().to_owned()];
    if let Some(day) = day {
        when.extend(day.play.as_deref().map(|p| plain(p).into_owned()));
        when.push(day.kind.word().to_owned());
    }
    blocks.push(entry("day", when.join(", ")));
    if let Some(day) = day {
        let mut air = Vec::new();
        if let Some(wind) = day.wind {
            air.push(format!("wind {:.0} m/s from {:.0}°, as forecast", wind.speed_m_s, wind.from_deg));
        }
        air.extend(day.temperature_c.map(|t| format!("{t:.0} °C")));
        air.extend(day.green_speed.map(|s| format!("greens {s:.1} ft")));
        air.extend(day.firmness.map(|f| format!("ground {}", format!("{f:?}").to_lowercase())));
        if !air.is_empty() {
            blocks.push(entry("", air.join(", ")));
        }
        let moved: Vec<String> = day
            .markers
            .iter()
            .filter(|(name, by)| name == book.tee_name() && *by != 0.0)
            .map(|(_, by)| format!("markers {:.0} {}", by.abs(), if *by > 0.0 { "forward" } else { "back" }))
            .collect();
        if !moved.is_empty() {
            blocks.push(entry("", format!("{}; the figures count from the tee's plate", moved.join(", "))));
        }
    }
    if let (Some(plans), Edition::Player) = (book.plans, book.edition) {
        let frozen = book.session.round.as_ref().and_then(|r| r.frozen()).is_some();
        let how = if frozen { format!("frozen {}", moment(&plans.at)) } else { format!("made {}", book.session.today) };
        blocks.push(entry("plan", format!("{}; {how}; {}", book.session.aimed().wants(), book.plan_words)));
    }
    let unit = match book.units {
        LengthUnit::Yards => "yards",
        LengthUnit::Metres => "metres",
    };
    blocks.push(entry(
        "figures",
        format!("{unit}, counted from this tee; reach is to where a danger begins, carry to where it is passed"),
    ));
    blocks.push(Block::Section(
        "How to read a hole".to_owned(),
        "drawn to scale, the tee below, the green above".to_owned(),
    ));
    blocks.push(Block::Key(key(book)));
    blocks.push(Block::Small(
        "At a dotted ring stand the distances from there to the front, the middle (bold) and the back of the green. At the left edge, distances from the tee. A letter with two figures: reach and carry."
            .to_owned(),
    ));
    blocks.push(Block::Section("After the round".to_owned(), "three minutes".to_owned()));
    blocks.push(Block::Words(
        "The pencil lines stand in the order in which they are keyed: hole by hole, each shot, then score, putts and penalty strokes. Tick a shot that went as planned; else write club, lie, side and what was left."
            .to_owned(),
    ));
    if wish.competition {
        blocks.push(Block::Section("Competition edition".to_owned(), "Rule 4.3a".to_owned()));
        blocks.push(Block::Words(if !wish.greens {
            "Greens are left out (Rules of Golf 2023, Rule 4.3a, Interpretation 4.3a/1). Ask the Committee whether Local Rules restrict a book further (Model Local Rules G-5, G-11).".to_owned()
        } else if wish.page.within(super::putting::LARGEST_PAGE) {
            "Greens are drawn at no more than 3/8 inch to 5 yards (1:480) on pages of no more than 4¼ by 7 inches (Rules of Golf 2023, Interpretation 4.3a/1). Print at 100 %. Ask the Committee whether Local Rules restrict a book further (Model Local Rules G-5, G-11).".to_owned()
        } else {
            "Pages larger than 4¼ by 7 inches may show no greens (Rules of Golf 2023, Interpretation 4.3a/1); they are left out, a cross marks the place of their middle. Ask the Committee whether Local Rules restrict a book further (Model Local Rules G-5, G-11).".to_owned()
        }));
    }
    blocks.push(Block::Section("Before you play".to_owned(), String::new()));
    blocks.push(Block::Words(
        "Not official: a Handicap Index is issued only by an authorised association, a course rating only by an authorised team. Local Rules and the Committee decide. Never play until the group ahead is out of range; an aim is never a person. Stop for lightning at once; mind heat, slopes and paths."
            .to_owned(),
    ));
    Leaf {
        name: "front".to_owned(),
        head: Head { name: plain(&course.name).into_owned(), facts: facts.join(" · "), ..Head::default() },
        blocks,
        colophon: book.colophon(true),
        ..Leaf::default()
    }
}

/// `2026-05-16 06:40 UTC` of a clock's `2026-05-16T06:40:12+00:00`; anything else as it stands.
fn moment(at: &str) -> String {
    match (at.get(..10), at.get(11..16), at.get(19..)) {
        (Some(day), Some(time), Some("+00:00" | "Z")) => format!("{day} {time} UTC"),
        _ => plain(at).into_owned(),
    }
}

/// Samples of the grounds that this course has, and of the marks.
fn key(book: &Book<'_>) -> Vec<(Sample, String)> {
    let has = |surface: Surface| {
        book.course.holes.iter().any(|h| h.ground.features.iter().any(|f| f.surface == surface))
            || surface == Surface::Green
    };
    let mut out: Vec<(Sample, String)> = Surface::ALL
        .into_iter()
        .filter(|s| has(*s) && !matches!(s, Surface::Rough | Surface::Tee))
        .filter(|s| !book.greens_left_out || !matches!(s, Surface::Green | Surface::Fringe))
        .map(|s| (Sample::Ground(s), s.word().to_owned()))
        .collect();
    if book.plans.is_some() {
        out.push((Sample::Steady, "steady play, shot by shot".to_owned()));
        out.push((Sample::Bold, "bold play".to_owned()));
    }
    out.push((Sample::Rings, "to the green".to_owned()));
    out.push((Sample::FromTee, "from the tee".to_owned()));
    if book.course.holes.iter().any(|h| !h.layups.is_empty()) {
        out.push((Sample::Layup, "leave the ball here".to_owned()));
    }
    if book.session.day.as_ref().is_some_and(|(d, _)| !d.hole_locations.is_empty()) {
        out.push((Sample::Pin, "today's hole".to_owned()));
    }
    if book.edition == Edition::Player {
        out.push((Sample::Stroke, "received, given back".to_owned()));
    }
    out
}

/// Every hole on one page.
pub fn whole_course(book: &Book<'_>, holes: &[HoleValues<'_>]) -> Option<Leaf> {
    let drawn: Vec<(String, super::drawing::Drawing)> = holes
        .iter()
        .filter_map(|h| {
            let length = h.sheet.length.map(|l| Length::yards(l).show(book.units)).unwrap_or_default();
            let par = h.sheet.par.map(|p| format!(", {p}")).unwrap_or_default();
            Some((format!("{} {length}{par}", h.sheet.number), h.drawing.clone()?))
        })
        .collect();
    (!drawn.is_empty()).then(|| Leaf {
        name: "whole course".to_owned(),
        head: Head {
            name: plain(&book.course.name).into_owned(),
            facts: format!("every hole from the {} tee: length, par; each to its own scale", plain(book.tee_name())),
            ..Head::default()
        },
        blocks: vec![Block::Holes(6, drawn)],
        colophon: book.colophon(true),
        ..Leaf::default()
    })
}

/// The air of the day against which carries are counted anew; `None` where nothing is known of it.
fn weather(book: &Book<'_>) -> Option<Weather> {
    let day = book.session.day.as_ref().map(|(day, _)| day)?;
    if day.temperature_c.is_none() && day.pressure_hpa.is_none() && day.wind.is_none() {
        return None;
    }
    let mut weather = Weather::STANDARD;
    weather.temperature_c = day.temperature_c.unwrap_or(weather.temperature_c);
    weather.sea_level_pa = day.pressure_hpa.map_or(weather.sea_level_pa, |hpa| hpa * 100.0);
    weather.height_m = book.course.elevation.map_or(0.0, |yards| Length::yards(yards).as_metres());
    Some(weather)
}

/// The player's clubs: carry and run as they are, and in today's air still, into and with the wind.
pub fn clubs(book: &Book<'_>) -> Leaf {
    let units = book.units;
    let show = |yards: f64| Length::yards(yards).show(units);
    let day = book.session.day.as_ref().map(|(day, _)| day);
    let wind = day.and_then(|d| d.wind).map_or(0.0, |w| w.speed_m_s);
    let family = book
        .clubs
        .iter()
        .find(|c| c.driver)
        .or_else(|| book.clubs.first())
        .and_then(|c| Family::of_driver(Length::yards(c.carry).as_metres()).ok());
    let today = weather(book).zip(family);
    let carry = |club: &crate::pattern::bag::Club, from_deg: Option<f64>| -> String {
        let Some((weather, family)) = &today else { return String::new() };
        let mut weather = *weather;
        weather.wind = from_deg.map_or(Wind::STILL, |deg| Wind::from(wind, deg));
        let flown = weather
            .air()
            .ok()
            .zip(family.club(Length::yards(club.carry).as_metres()).ok())
            .and_then(|(air, flight)| flight.change(&air, 0.0).ok());
        flown.map_or_else(|| "–".to_owned(), |c| Length::metres(c.landing.carry_m).show(units))
    };
    let mut columns = vec![
        ("club".to_owned(), Align::Left, 1),
        ("carry".to_owned(), Align::Right, 0),
        ("run".to_owned(), Align::Right, 0),
        ("total".to_owned(), Align::Right, 0),
    ];
    let windy = wind >= crate::course::day::Wind::CALM_M_S;
    if today.is_some() {
        columns.push(("today".to_owned(), Align::Right, 0));
        if windy {
            columns.push(("into".to_owned(), Align::Right, 0));
            columns.push(("with".to_owned(), Align::Right, 0));
        }
    }
    columns.push(("curve".to_owned(), Align::Right, 0));
    columns.push(("2 in 3".to_owned(), Align::Right, 0));
    let mut assumed = false;
    let rows: Vec<Vec<Cell>> = book
        .clubs
        .iter()
        .map(|club| {
            let guess = club.carry_from == Source::Assumed;
            assumed |= guess;
            let mark = if guess { "~" } else { "" };
            let mut row = vec![
                Cell::Strong(plain(&club.name).into_owned()),
                Cell::Strong(format!("{mark}{}", show(club.carry))),
                Cell::Words(show(club.run)),
                Cell::Words(show(club.carry + club.run)),
            ];
            if today.is_some() {
                row.push(Cell::Words(carry(club, None)));
                if windy {
                    row.push(Cell::Words(carry(club, Some(0.0))));
                    row.push(Cell::Words(carry(club, Some(180.0))));
                }
            }
            let curve = match shape(club.curve, book.hand()) {
                Some(_) => Across(club.curve).show(units),
                None => "·".to_owned(),
            };
            row.push(Cell::Words(curve));
            row.push(Cell::Words(format!("{}x{}", show(club.wide), show(club.deep))));
            row
        })
        .collect();
    let mut blocks = vec![Block::Table(Table { columns, rows, height: 1.55, ..Table::default() })];
    if !book.person.bag.swings.is_empty() {
        let swings: Vec<String> = book
            .person
            .bag
            .swings
            .iter()
            .map(|s| format!("{} ({}) {}", plain(&s.name), plain(&s.club), show(s.carry)))
            .collect();
        blocks.push(entry("swings", swings.join("; ")));
    }
    let mut words = vec![format!("In {}.", units.word())];
    if assumed {
        words.push("~ is assumed from the Handicap Index.".to_owned());
    }
    words.push("2 in 3: the box, wide x deep, that holds two shots in three.".to_owned());
    if today.is_some() {
        words.push("today: the carry in the day's air, still; the plan is made for an ordinary day.".to_owned());
        if windy {
            words.push(format!("into, with: a wind of {wind:.0} m/s in the face and from behind, as forecast before the round; not for measuring it on the course (Rule 4.3a)."));
        }
    }
    blocks.push(Block::Small(words.join(" ")));
    blocks.push(Block::Section("Notes".to_owned(), "of the day".to_owned()));
    blocks.extend((0..7).map(|_| Block::Pencil(String::new(), vec![super::leaf::Field::Line(String::new(), 1)])));
    Leaf {
        name: "clubs".to_owned(),
        head: Head {
            name: "Clubs".to_owned(),
            facts: format!("{}, {}", plain(&book.golfer.name), book.date()),
            ..Head::default()
        },
        blocks,
        colophon: book.colophon(false),
        ..Leaf::default()
    }
}

/// Pages to write on, so that a folded book ends with its card outside.
pub fn filled_up(mut pages: Vec<super::Page>, page: super::Size) -> Vec<super::Page> {
    let missing = pages.len().div_ceil(4) * 4 - pages.len();
    let lines = || {
        (0..((page.height - 90.0) / 16.0).max(4.0) as usize)
            .map(|_| Block::Pencil(String::new(), vec![super::leaf::Field::Line(String::new(), 1)]))
    };
    let leaf = Leaf {
        name: "notes".to_owned(),
        head: Head { name: "Notes".to_owned(), ..Head::default() },
        blocks: lines().collect(),
        ..Leaf::default()
    };
    let blank = super::lay(&[leaf], page).pages;
    let at = pages.len().saturating_sub(2);
    for _ in 0..missing {
        if let Some(first) = blank.first() {
            pages.insert(at, first.clone());
        }
    }
    pages
}

/// The card with strokes marked.
pub fn card(book: &Book<'_>) -> Leaf {
    let session = book.session;
    let golfer = book.golfer;
    let sheet = CardSheet::new(book.course, golfer, &session.order, session.holes(), &[]);
    let player = book.edition == Edition::Player;
    let mut columns = vec![
        ("hole".to_owned(), Align::Right, 0),
        (String::new(), Align::Left, 0),
        (book.units.word().to_owned(), Align::Right, 0),
        ("par".to_owned(), Align::Right, 0),
        ("index".to_owned(), Align::Right, 0),
    ];
    if player {
        columns.push(("strokes".to_owned(), Align::Centre, 0));
    }
    columns.push(("score".to_owned(), Align::Centre, 3));
    columns.push((if book.counts_points() { "points" } else { "net" }.to_owned(), Align::Centre, 2));
    columns.push(("marker".to_owned(), Align::Centre, 2));
    let length = |number: u8| {
        let hole = book.course.hole(number)?;
        Some(book.course.tee_on(hole, book.tee_name())?.length)
    };
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    let mut sums = Vec::new();
    let blank = || vec![Cell::from(""), Cell::from(""), Cell::from("")];
    let parts = sheet.parts();
    let names: &[&str] = if parts.len() > 1 { &["out", "in", "extra"] } else { &["total"] };
    let mut total = |name: &str, range: std::ops::Range<usize>, rows: &mut Vec<Vec<Cell>>| {
        let holes = session.order.get(range.clone()).unwrap_or_default();
        let yards: f64 = holes.iter().filter_map(|n| length(*n)).sum();
        let strokes: i32 = sheet.lines.get(range.clone()).unwrap_or_default().iter().map(|l| l.hole.strokes).sum();
        let mut row = vec![
            Cell::from(""),
            Cell::Strong(name.to_owned()),
            Cell::Strong(Length::yards(yards).show(book.units)),
            Cell::Strong(sheet.par(range).to_string()),
            Cell::from(""),
        ];
        if player {
            row.push(Cell::Strong(whole_handicap_text(strokes)));
        }
        row.extend(blank());
        sums.push(rows.len());
        rows.push(row);
    };
    for (part, name) in parts.iter().zip(names) {
        for i in part.clone() {
            let Some(line) = sheet.lines.get(i) else { continue };
            let hole = book.course.hole(line.hole.number);
            let mut row = vec![
                Cell::Strong(line.hole.number.to_string()),
                Cell::Words(hole.and_then(|h| h.name.as_deref()).map(|n| plain(n).into_owned()).unwrap_or_default()),
                Cell::Words(length(line.hole.number).map(|l| Length::yards(l).show(book.units)).unwrap_or_default()),
                Cell::Words(line.hole.par.to_string()),
                Cell::Words(line.stroke_index.map(|s| s.to_string()).unwrap_or_default()),
            ];
            if player {
                row.push(Cell::Dots(line.hole.strokes));
            }
            row.extend(blank());
            rows.push(row);
        }
        total(name, part.clone(), &mut rows);
    }
    if parts.len() > 1 {
        total("total", 0..sheet.round, &mut rows);
    }
    let mut facts = vec![format!("{} tee", plain(book.tee_name())), book.date().to_owned()];
    if player {
        facts.insert(0, plain(&golfer.name).into_owned());
        if golfer.course_handicap.is_some() {
            facts.push(format!("plays off {}", whole_handicap_text(golfer.playing_handicap)));
        }
    }
    Leaf {
        name: "card".to_owned(),
        head: Head { name: "Card".to_owned(), facts: facts.join(" · "), ..Head::default() },
        blocks: vec![
            Block::Table(Table { columns, rows, sums, ruled: true, height: 2.15 }),
            Block::Gap(0.6),
            Block::Pencil(
                "certified".to_owned(),
                vec![
                    super::leaf::Field::Line("player".to_owned(), 5),
                    super::leaf::Field::Line("marker".to_owned(), 5),
                ],
            ),
        ],
        colophon: book.colophon(false),
        ..Leaf::default()
    }
}
