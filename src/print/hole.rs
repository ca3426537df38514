//! The leaf of one hole: drawing, plan, dangers, notes, a pencil line a shot, the card's boxes.

use super::book::{Book, Edition};
use super::drawing::{Drawing, Wants};
use super::leaf::{Align, Block, Cell, Entry, Field, Head, Leaf, Table, Weight};
use crate::course::{Hand, Hole, HoleNotes};
use crate::ground::{Corridor, Point};
use crate::plan::{HolePlan, Play, PlayName, reasons};
use crate::sheet::{HoleSheet, NoteKind, StandSheet, Standing};
use crate::units::plain_text::plain;
use crate::units::{Length, LengthUnit};

/// Dangers that a table lists at most, with a plan and without.
const DANGERS: (usize, usize) = (7, 11);
/// A price below this says nothing, strokes (product.md: to 0.05).
const SAYS: f64 = 0.025;

/// What one hole is for one player: worked out once, for the drawing and for the words.
pub struct HoleValues<'a> {
    /// The hole.
    pub hole: &'a Hole,
    /// Its place in playing order.
    pub position: usize,
    /// What applies.
    pub sheet: HoleSheet,
    /// What is written, layers laid over.
    pub notes: HoleNotes,
    /// What the tee answers; `None` where the hole has no such tee.
    pub stand: Option<StandSheet>,
    /// What is drawn; `None` where there is no tee or nothing to draw, and for plain text.
    pub drawing: Option<Drawing>,
    /// The plan.
    pub plan: Option<&'a HolePlan>,
    /// Where the hole is cut today, when it is known.
    pub pin: Option<Point>,
}

impl<'a> HoleValues<'a> {
    /// What the hole at `position` in playing order is; `None` when it could not be read.
    pub fn new(book: &Book<'a>, position: usize, draws: bool) -> Option<Self> {
        let course = book.course;
        let number = *book.session.order.get(position)?;
        let hole = course.hole(number)?;
        let sheet = book.hole_sheet(position)?;
        let notes = book.notes(hole);
        let corridor = Corridor::new(&hole.ground);
        let tee = hole.tee(&sheet.tee);
        let stand = tee.map(|t| StandSheet::new(&corridor, &sheet, t.at, t.across, true, book.units));
        let plan = book.plans.and_then(|plans| plans.hole(book.player, position));
        let day = book.session.day.as_ref().map(|(day, _)| day);
        let location = day.and_then(|d| d.hole_location(number));
        let pin = location.zip(hole.ground.green.as_ref()).map(|(l, g)| super::putting::pin(g, l, course.units));
        let wind = day.and_then(|d| d.wind).map(|w| (w.from_deg, format!("{:.0} m/s", w.speed_m_s)));
        let drawing = stand.as_ref().filter(|_| draws).map(|stand| {
            let wants = Wants {
                hole,
                sheet: &sheet,
                notes: &notes,
                corridor: &corridor,
                stand,
                plan,
                pin,
                wind,
                units: book.units,
                green_left_out: book.greens_left_out,
            };
            Drawing::new(&wants)
        });
        Some(Self { hole, position, sheet, notes, stand, drawing, plan, pin })
    }
}

/// The leaf of a hole.
pub fn leaf(book: &Book<'_>, values: &HoleValues<'_>) -> Leaf {
    let sheet = &values.sheet;
    let units = book.units;
    let mut facts = Vec::new();
    if let Some(length) = sheet.length {
        facts.push(format!("{} {}", Length::yards(length).show(units), units.short()));
    }
    facts.extend(sheet.par.map(|par| format!("par {par}")));
    facts.extend(sheet.stroke_index.map(|index| format!("index {index}")));
    facts.push(match &sheet.instead_of {
        Some(own) => format!("{} tee (no {own} tee here)", sheet.tee),
        None => format!("{} tee", sheet.tee),
    });
    let mut blocks = Vec::new();
    if let Some(plan) = values.plan {
        plan_blocks(book, plan, &mut blocks);
    }
    green_entry(book, values, &mut blocks);
    dangers(values, units, &mut blocks);
    notes(sheet, &mut blocks);
    Leaf {
        name: format!("hole {}", sheet.number),
        head: Head {
            figure: sheet.number.to_string(),
            name: plain(sheet.name.as_deref().unwrap_or_default()).into_owned(),
            facts: facts.join(" · "),
            strokes: if book.edition == Edition::Player { sheet.strokes } else { 0 },
        },
        caution: sheet.caution.as_deref().map(|c| plain(c).into_owned()),
        drawing: values.drawing.clone(),
        blocks,
        foot: foot(book, values),
        colophon: book.colophon(true),
    }
}

/// The usual shape of a club in a word, for a player of this hand.
pub fn shape(curve: f64, hand: Hand) -> Option<&'static str> {
    let right = curve > 0.0;
    (curve.abs() >= 3.0).then_some(match (hand, right) {
        (Hand::Right, true) | (Hand::Left, false) => "fade",
        (Hand::Right, false) | (Hand::Left, true) => "draw",
    })
}

fn plan_blocks(book: &Book<'_>, plan: &HolePlan, blocks: &mut Vec<Block>) {
    let first = plan.plays.first();
    let mut aside = plan.aimed.wants().to_owned();
    if let Some(play) = first {
        let points = match plan.aimed {
            crate::plan::Aimed::Points => format!(", {:.1} points", plan.points()),
            _ => String::new(),
        };
        aside.push_str(&format!(": {:.1} strokes{points}", play.expected_strokes));
    }
    blocks.push(Block::Section("Plan".to_owned(), aside));
    for play in &plan.plays {
        blocks.push(Block::Entry(play_entry(book, play)));
    }
    blocks.push(Block::Entry(Entry::new(
        "chances",
        format!(
            "net birdie {}, net par or better {}",
            reasons::percent(plan.net_birdie()),
            reasons::percent(plan.net_par())
        ),
        Weight::Must,
    )));
    for switch in &plan.switches {
        let mut entry = Entry::new("if", switch.play.clone(), Weight::Plan);
        entry.lead = format!("{}:", switch.when);
        blocks.push(Block::Entry(entry));
    }
    if let Some(play) = first.filter(|p| !p.reasons.is_empty()) {
        blocks.push(Block::Entry(Entry::new("why", play.reasons.join(" "), Weight::Plan)));
    }
}

fn play_entry(book: &Book<'_>, play: &Play) -> Entry {
    let label = match play.name {
        PlayName::Equal => "play",
        other => other.word(),
    };
    let mut lead = String::new();
    let mut words = Vec::new();
    for (number, shot) in play.shots.iter().enumerate() {
        let curve = book.curve(&shot.club).map(|s| format!("{s}, ")).unwrap_or_default();
        let left = Length::yards(shot.leaves).show(book.units);
        let leaves = if shot.leaves >= 15.0 { format!(" (leaves {left})") } else { String::new() };
        if number == 0 {
            lead = format!("{},", shot.club);
            words.push(format!("{curve}{}{leaves}", shot.words));
        } else {
            words.push(format!("then {} {}{leaves}", shot.club, shot.words));
        }
    }
    Entry { label: label.to_owned(), letter: None, lead, words: words.join("; "), weight: Weight::Plan }
}

fn green_entry(book: &Book<'_>, values: &HoleValues<'_>, blocks: &mut Vec<Block>) {
    let Some(reading) = values.stand.as_ref().and_then(|s| s.green) else { return };
    let show = |yards: f64| Length::yards(yards).show(book.units);
    let mut words = format!(
        "front {}, middle {}, back {}",
        show(reading.front.straight),
        show(reading.middle.straight),
        show(reading.back.straight)
    );
    if let Some(green) = &values.hole.ground.green {
        words.push_str(&format!("; {} deep, {} wide", show(green.depth), show(green.width)));
        if let Some(pin) = values.pin {
            let axis = (green.back_point - green.front_point).unit();
            words.push_str(&format!("; hole {} on", show((pin - green.front_point).dot(axis))));
        }
    }
    if let Some(rise) = height(values) {
        words.push_str(&format!("; {}", rise_words(rise, book.units)));
    }
    blocks.push(Block::Section("Green".to_owned(), "straight from the tee".to_owned()));
    blocks.push(Block::Words(words));
}

/// How far the green lies above the tee, yards, where heights are written.
fn height(values: &HoleValues<'_>) -> Option<f64> {
    let ground = &values.hole.ground;
    if ground.heights.is_empty() {
        return None;
    }
    let tee = values.sheet.origin?.0;
    Some(ground.height_at(ground.length) - ground.height_at(tee))
}

fn rise_words(rise: f64, units: LengthUnit) -> String {
    let figure = Length::yards(rise.abs()).show(units);
    match figure.as_str() {
        "0" => "level with the tee".to_owned(),
        _ if rise > 0.0 => format!("{figure} above the tee"),
        _ => format!("{figure} below the tee"),
    }
}

fn dangers(values: &HoleValues<'_>, units: LengthUnit, blocks: &mut Vec<Block>) {
    let Some(stand) = &values.stand else { return };
    if stand.dangers.is_empty() {
        return;
    }
    let price = |feature: usize| {
        values.plan.and_then(|p| p.prices.iter().find(|price| price.feature == feature)).map(|p| p.strokes)
    };
    let priced = values.plan.is_some_and(|p| !p.prices.is_empty());
    let most = if priced { DANGERS.0 } else { DANGERS.1 };
    let mut order: Vec<usize> = (0..stand.dangers.len()).collect();
    let cost = |i: &usize| stand.dangers.get(*i).and_then(|d| price(d.feature)).unwrap_or(0.0);
    // The dearest are kept; they stand in the order in which they are met.
    order.sort_by(|a, b| cost(b).total_cmp(&cost(a)).then(a.cmp(b)));
    let more = order.len().saturating_sub(most);
    order.truncate(most);
    order.sort_unstable();
    let show = |yards: f64| Length::yards(yards.max(0.0)).show(units);
    let rows: Vec<Vec<Cell>> = order
        .iter()
        .filter_map(|i| stand.dangers.get(*i))
        .map(|danger| {
            let mut row = vec![
                Cell::Strong(danger.letter.map(String::from).unwrap_or_default()),
                Cell::Words(plain(&danger.name).into_owned()),
                Cell::from(danger.lies),
                Cell::Words(show(danger.reach)),
                Cell::Words(show(danger.carry)),
            ];
            if priced {
                row.push(match price(danger.feature) {
                    Some(strokes) if strokes >= SAYS => Cell::Strong(reasons::strokes(strokes)),
                    _ => Cell::from("·"),
                });
            }
            row
        })
        .collect();
    let mut columns = vec![
        (String::new(), Align::Left, 0),
        (String::new(), Align::Left, 1),
        ("side".to_owned(), Align::Left, 0),
        ("reach".to_owned(), Align::Right, 0),
        ("carry".to_owned(), Align::Right, 0),
    ];
    if priced {
        columns.push(("costs".to_owned(), Align::Right, 0));
    }
    let aside = match (priced, more) {
        (true, 0) => "costs in strokes; they do not add up".to_owned(),
        (true, n) => format!("costs in strokes; {n} cheaper ones not listed"),
        (false, 0) => "straight from the tee".to_owned(),
        (false, n) => format!("straight from the tee; {n} more not listed"),
    };
    blocks.push(Block::Section("Dangers".to_owned(), aside));
    blocks.push(Block::Table(Table { columns, rows, ..Table::default() }));
}

fn notes(sheet: &HoleSheet, blocks: &mut Vec<Block>) {
    let mut lines = sheet.shown(false).peekable();
    if lines.peek().is_none() {
        return;
    }
    blocks.push(Block::Section("Notes".to_owned(), String::new()));
    let mut last = None;
    for line in lines {
        let label = match line.kind {
            NoteKind::WalkIn => "walk in",
            NoteKind::WalkOut => "walk out",
            kind => kind.word(),
        };
        let label = if last == Some(line.kind) { "" } else { label };
        last = Some(line.kind);
        let mut words = plain(&line.words).into_owned();
        let lead = match &line.standing {
            Standing::Depends(condition) => format!("{condition}:"),
            _ => String::new(),
        };
        if let Standing::Assumes(assumed) = &line.standing {
            words.push_str(&format!(" ({assumed})"));
        }
        if let Some(whose) = &line.whose {
            words.push_str(&format!(" – {}", plain(whose)));
        }
        let weight =
            if matches!(line.kind, NoteKind::WalkIn | NoteKind::WalkOut) { Weight::Plan } else { Weight::Note };
        blocks.push(Block::Entry(Entry { label: label.to_owned(), letter: line.letter, lead, words, weight }));
    }
}

/// What is written of the green, for its own page.
pub fn green_notes(sheet: &HoleSheet) -> Vec<Block> {
    let mut blocks = Vec::new();
    let of_the_green = HoleSheet {
        lines: sheet.lines.iter().filter(|l| l.kind == NoteKind::Green).cloned().collect(),
        ..sheet.clone()
    };
    notes(&of_the_green, &mut blocks);
    blocks
}

/// A line a shot, in the order in which a shot is entered, and the boxes of the card.
fn foot(book: &Book<'_>, values: &HoleValues<'_>) -> Vec<Block> {
    let mut out = Vec::new();
    let par = usize::from(values.sheet.par.unwrap_or(4));
    let planned: Vec<String> = values
        .plan
        .and_then(|p| p.plays.first())
        .map(|p| p.shots.iter().map(|s| s.club.clone()).collect())
        .unwrap_or_else(|| vec![String::new(); par.saturating_sub(2).max(1)]);
    let fields = || {
        vec![
            Field::Tick("as planned".to_owned()),
            Field::Line("club".to_owned(), 5),
            Field::Line("lie".to_owned(), 3),
            Field::Tick("L".to_owned()),
            Field::Tick("R".to_owned()),
            Field::Line("left".to_owned(), 3),
        ]
    };
    for (number, club) in planned.iter().take(4).enumerate() {
        out.push(Block::Pencil(format!("{}  {club}", number + 1).trim_end().to_owned(), fields()));
    }
    let mut card =
        vec![Field::Box("score".to_owned()), Field::Box("putts".to_owned()), Field::Box("penalty".to_owned())];
    if book.edition == Edition::Player {
        card.push(Field::Box(if book.counts_points() { "points" } else { "net" }.to_owned()));
    }
    card.push(Field::Line("note".to_owned(), 4));
    out.push(Block::Pencil("card".to_owned(), card));
    out
}
