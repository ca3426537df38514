//! Other papers: hole locations, start sheet, results, and the pages that a new edition replaces.

use super::leaf::{Align, Block, Cell, Head, Leaf, Table};
use super::putting::GreenDrawing;
use crate::competition::{Competition, Totals, show};
use crate::course::{Course, DaySheet};
use crate::units::LengthUnit;
use crate::units::plain_text::plain;
use crate::units::tenths::whole_handicap_text;

/// The hole-location sheet: every green with today's hole, at no more than 1:480 (nine or more greens on one sheet may be
/// larger than a book's page; Interpretation 4.3a/1).
pub fn hole_locations(course: &Course, day: &DaySheet, units: LengthUnit) -> Leaf {
    let greens: Vec<GreenDrawing> = course
        .holes
        .iter()
        .filter_map(|hole| {
            let mut green = GreenDrawing::new(hole, day.hole_location(hole.number), course.units, units, true)?;
            // A sheet of hole locations says where the holes are and nothing of the ground.
            green.falls.clear();
            if day.hole_location(hole.number).is_none() {
                green.facts.push("not known".to_owned());
            }
            Some(green)
        })
        .collect();
    let columns = match greens.len() {
        0..=4 => 2,
        5..=9 => 3,
        _ => 4,
    };
    let mut colophon = vec![
        format!("{} · {} · paces on from the front edge; lines every 5", plain(&course.name), day.date),
        "Each green at no more than 1:480 (Rules of Golf 2023, Interpretation 4.3a/1). Print at 100 %. The Committee's own sheet decides.".to_owned(),
    ];
    colophon.extend(course.credit.as_ref().map(|c| plain(&c.line()).into_owned()));
    Leaf {
        name: "hole locations".to_owned(),
        head: Head {
            name: "Hole locations".to_owned(),
            facts: format!("{} · {}", plain(&course.name), day.date),
            ..Head::default()
        },
        blocks: vec![Block::Greens(columns, greens)],
        colophon,
        ..Leaf::default()
    }
}

/// The start sheet: groups in the order of their times.
pub fn start_sheet(competition: &Competition) -> Leaf {
    let mut field: Vec<_> = competition.field.iter().filter(|e| e.status.is_none()).collect();
    // `9:12` comes before `10:00`.
    let minutes = |time: &str| {
        let (h, m) = time.split_once(':')?;
        Some(h.trim().parse::<u32>().ok()? * 60 + m.trim().parse::<u32>().ok()?)
    };
    let key = |e: &crate::competition::values::Entrant| {
        let time = e.start_time.as_deref();
        (
            time.is_none(),
            time.and_then(minutes).unwrap_or(u32::MAX),
            time.map(str::to_owned),
            e.start_hole,
            e.group.clone(),
        )
    };
    field.sort_by_key(|e| key(e));
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    let mut sums = Vec::new();
    let mut last = None;
    for entrant in field {
        let here = key(entrant);
        let begins = last.as_ref() != Some(&here);
        last = Some(here);
        if begins {
            sums.push(rows.len());
        }
        let only = |words: String| if begins { Cell::Strong(words) } else { Cell::from("") };
        rows.push(vec![
            only(entrant.start_time.clone().unwrap_or_else(|| "–".to_owned())),
            only(entrant.start_hole.map(|h| h.to_string()).unwrap_or_else(|| "1".to_owned())),
            only(entrant.group.as_deref().map(|g| plain(g).into_owned()).unwrap_or_default()),
            Cell::Words(plain(&entrant.name).into_owned()),
            Cell::Words(entrant.tee.as_deref().map(|t| plain(t).into_owned()).unwrap_or_default()),
            Cell::Words(entrant.index.map(|i| i.to_string()).unwrap_or_default()),
            Cell::Words(entrant.playing_handicap.map(whole_handicap_text).unwrap_or_default()),
        ]);
    }
    let columns = [
        ("time", Align::Right),
        ("hole", Align::Right),
        ("group", Align::Left),
        ("name", Align::Left),
        ("tee", Align::Left),
        ("index", Align::Right),
        ("plays off", Align::Right),
    ];
    // A column in which nobody has anything is left out.
    let used: Vec<bool> = (0..columns.len())
        .map(|at| rows.iter().any(|row| row.get(at).is_some_and(|cell| !cell.plain().is_empty())))
        .collect();
    let keep = |at: usize| used.get(at).copied().unwrap_or(true);
    let table = Table {
        columns: columns
            .iter()
            .enumerate()
            .filter(|(at, _)| keep(*at))
            .map(|(_, (n, a))| ((*n).to_owned(), *a, u8::from(*n == "name")))
            .collect(),
        rows: rows
            .into_iter()
            .map(|row| row.into_iter().enumerate().filter(|(at, _)| keep(*at)).map(|(_, cell)| cell).collect())
            .collect(),
        sums,
        ..Table::default()
    };
    Leaf {
        name: "start sheet".to_owned(),
        head: Head {
            name: format!("{}: start sheet", plain(&competition.setup.name)),
            facts: format!("{} · {}", plain(&competition.course.name), show::dates(competition)),
            ..Head::default()
        },
        blocks: vec![Block::Table(table)],
        colophon: vec![
            "Be at the starting point ready to play at your time (Rule 5.3a). The Committee decides.".to_owned(),
        ],
        ..Leaf::default()
    }
}

/// The notice of results.
pub fn results(competition: &Competition, totals: &Totals<'_>) -> Leaf {
    let mut blocks = Vec::new();
    if !totals.is_final() {
        blocks.push(Block::Caution("not final: cards or decisions are missing".to_owned()));
    }
    for table in show::tables(competition, totals) {
        blocks.push(Block::Section(plain(&table.title).into_owned(), plain(&table.terms).into_owned()));
        blocks.push(Block::Table(Table {
            columns: table
                .columns
                .iter()
                .zip(&table.figures)
                .map(|(name, figure)| {
                    let share = match *name {
                        "Name" => 3,
                        "Settled by" => 2,
                        _ => 0,
                    };
                    let name = if *name == "Playing Handicap" { "Plays off" } else { name };
                    (name.to_owned(), if *figure { Align::Right } else { Align::Left }, share)
                })
                .collect(),
            rows: table
                .rows
                .iter()
                .map(|row| {
                    row.iter()
                        .enumerate()
                        .map(|(i, cell)| {
                            let words = plain(cell).into_owned();
                            if i < 2 { Cell::Strong(words) } else { Cell::Words(words) }
                        })
                        .collect()
                })
                .collect(),
            ..Table::default()
        }));
    }
    let awards = show::award_lines(competition, totals);
    if !awards.is_empty() {
        blocks.push(Block::Section("Awards".to_owned(), String::new()));
        blocks.extend(awards.into_iter().map(|a| Block::Words(plain(&a).into_owned())));
    }
    Leaf {
        name: "results".to_owned(),
        head: Head {
            name: plain(&competition.setup.name).into_owned(),
            facts: format!("{} · {}", plain(&competition.course.name), show::dates(competition)),
            ..Head::default()
        },
        blocks,
        colophon: vec![show::FOOT.to_owned()],
        ..Leaf::default()
    }
}

/// The leaves of a new edition that an old one has not: everything but the small lines at the foot is compared.
pub fn replaced(old: &[Leaf], new: Vec<Leaf>) -> Vec<Leaf> {
    let same =
        |a: &Leaf, b: &Leaf| Leaf { colophon: Vec::new(), ..a.clone() } == Leaf { colophon: Vec::new(), ..b.clone() };
    new.into_iter()
        .filter(|leaf| leaf.name != "front")
        .filter(|leaf| !old.iter().any(|before| before.name == leaf.name && same(before, leaf)))
        .map(|leaf| {
            let facts = format!("replaces the page of the last edition · {}", leaf.head.facts);
            let is_hole = leaf.drawing.is_some();
            let mut colophon = leaf.colophon.clone();
            if is_hole {
                // The head of a hole has no room for it.
                if let Some(first) = colophon.first_mut() {
                    first.insert_str(0, "Replaces the page of the last edition. ");
                }
                Leaf { colophon, ..leaf }
            } else {
                Leaf { head: Head { facts, ..leaf.head.clone() }, ..leaf }
            }
        })
        .collect()
}
