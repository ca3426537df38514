//! Blocks set one below the other in a column of a page.

use super::face::{MORE, fitted, width};
use super::hatch::ground;
use super::leaf::{Block, Cell, Entry, Field, Sample, Weight};
use super::page::{Face, Frame, Ink, Item, SMALLEST, Step, Stroke, circle};
use super::sketch::sketch;
use super::table;
use std::collections::HashMap;

/// Line height as a share of the size.
pub const LEADING: f32 = 1.19;

/// What a column is set with.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// Its left edge.
    pub x: f32,
    /// Its width.
    pub w: f32,
    /// The size of its text.
    pub size: f32,
    /// How high pictures that fill what is left may become.
    pub picture: f32,
}

/// Words of one face on a line, and where they begin.
type Run = (Face, String, f32);

/// Words of several faces broken into lines.
fn runs(parts: &[(Face, &str)], size: f32, room: f32) -> Vec<Vec<Run>> {
    let mut out: Vec<Vec<Run>> = Vec::new();
    let mut line: Vec<Run> = Vec::new();
    let mut used = 0.0;
    for (face, words) in parts {
        let space = width(*face, size, " ");
        for word in words.split_whitespace() {
            for piece in pieces(*face, size, word, room) {
                let wide = width(*face, size, &piece);
                if used > 0.0 && used + space + wide > room {
                    out.push(std::mem::take(&mut line));
                    used = 0.0;
                }
                let gap = if used > 0.0 { space } else { 0.0 };
                match line.last_mut() {
                    Some((last, said, _)) if *last == *face => {
                        said.push(' ');
                        said.push_str(&piece);
                    }
                    _ => line.push((*face, piece.clone(), used + gap)),
                }
                used += gap + wide;
            }
        }
    }
    if !line.is_empty() {
        out.push(line);
    }
    out
}

/// A word, cut where it is wider than the room.
fn pieces(face: Face, size: f32, word: &str, room: f32) -> Vec<String> {
    if width(face, size, word) <= room {
        vec![word.to_owned()]
    } else {
        super::face::lines(face, size, word, room, 0.0)
    }
}

/// Lines of which at most `most` are kept, the last of them shortened at a word with a mark.
fn kept(mut lines: Vec<Vec<Run>>, most: usize, size: f32, room: f32) -> Vec<Vec<Run>> {
    if lines.len() <= most {
        return lines;
    }
    lines.truncate(most);
    if let Some((face, words, x)) = lines.last_mut().and_then(|l| l.last_mut()) {
        let marked = format!("{}{MORE}", words.trim_end_matches([',', ';', ':', '.']));
        *words = if width(*face, size, &marked) + *x <= room {
            marked
        } else {
            fitted(*face, size, &format!("{words} {words}"), room - *x)
        };
    }
    lines
}

/// How wide the labels of entries are at a size.
pub fn label_width(blocks: &[Block], size: f32) -> f32 {
    let labels = blocks.iter().filter_map(|b| match b {
        Block::Entry(e) => {
            Some(width(Face::Regular, size, &e.label) + if e.letter.is_some() { size * 1.15 } else { 0.0 })
        }
        _ => None,
    });
    let widest = labels.fold(0.0f32, f32::max);
    if widest > 0.0 { widest + size * 0.55 } else { 0.0 }
}

/// How many lines an entry takes.
pub fn entry_lines(entry: &Entry, column: &Column, label: f32) -> usize {
    runs(&[(Face::Bold, &entry.lead), (Face::Regular, &entry.words)], column.size, column.w - label).len().max(1)
}

/// Sets blocks from `y` down; `most` holds how many lines an entry may take, by index. Gives where it ended.
pub fn flow(blocks: &[Block], column: &Column, y: f32, most: &HashMap<usize, usize>, items: &mut Vec<Item>) -> f32 {
    let label = label_width(blocks, column.size);
    let mut y = y;
    for (index, block) in blocks.iter().enumerate() {
        y = set(block, column, label, y, most.get(&index).copied().unwrap_or(usize::MAX), index == 0, items);
    }
    y
}

fn text(x: f32, y: f32, size: f32, face: Face, ink: Ink, words: &str) -> Item {
    Item::Text { x, y, size, face, ink, words: words.to_owned() }
}

fn set(block: &Block, column: &Column, label: f32, y: f32, most: usize, first: bool, items: &mut Vec<Item>) -> f32 {
    let (x, w, size) = (column.x, column.w, column.size);
    let line = size * LEADING;
    match block {
        Block::Section(words, aside) => {
            let top = if first { y } else { y + size * 0.42 };
            let base = top + size * 0.95;
            items.push(Item::rule((x, top), (x + w, top), Stroke::solid(Ink::BLACK, 0.6)));
            items.push(text(x, base, size, Face::Bold, Ink::BLACK, words));
            let from = x + width(Face::Bold, size, words) + size * 0.5;
            let aside = fitted(Face::Regular, size, aside, x + w - from);
            items.push(text(from, base, size, Face::Regular, Ink::SOFT, &aside));
            top + line + size * 0.1
        }
        Block::Title(large, below) => {
            let big = size * 2.2;
            let big = (0..12)
                .map(|n| big - n as f32)
                .find(|s| *s <= size || width(Face::Bold, *s, large) <= w)
                .unwrap_or(size);
            items.push(text(x, y + big * 1.5, big, Face::Bold, Ink::BLACK, &fitted(Face::Bold, big, large, w)));
            let second = size * 1.15;
            let lines = runs(&[(Face::Regular, below)], second, w);
            for (n, runs) in lines.iter().enumerate() {
                for (face, words, at) in runs {
                    items.push(text(
                        x + at,
                        y + big * 1.5 + second * (1.5 + n as f32 * LEADING),
                        second,
                        *face,
                        Ink::SOFT,
                        words,
                    ));
                }
            }
            y + big * 1.5 + second * (1.9 + lines.len() as f32 * LEADING)
        }
        Block::Entry(entry) => {
            if most == 0 {
                return y;
            }
            let base = y + size * 0.92;
            items.push(text(x, base, size, Face::Regular, Ink::SOFT, &entry.label));
            if let Some(letter) = entry.letter {
                let wide = width(Face::Bold, size, &letter.to_string());
                items.push(text(
                    x + label - size * 0.55 - wide,
                    base,
                    size,
                    Face::Bold,
                    Ink::BLACK,
                    &letter.to_string(),
                ));
            }
            let parts = [(Face::Bold, entry.lead.as_str()), (Face::Regular, entry.words.as_str())];
            let lines = kept(runs(&parts, size, w - label), most, size, w - label);
            for (n, runs) in lines.iter().enumerate() {
                for (face, words, at) in runs {
                    items.push(text(x + label + at, base + n as f32 * line, size, *face, Ink::BLACK, words));
                }
            }
            y + lines.len().max(1) as f32 * line + size * 0.12
        }
        Block::Words(words) | Block::Small(words) => {
            let small = matches!(block, Block::Small(_));
            let size = if small { (size * 0.9).max(SMALLEST) } else { size };
            let ink = if small { Ink::SOFT } else { Ink::BLACK };
            let lines = runs(&[(Face::Regular, words)], size, w);
            for (n, runs) in lines.iter().enumerate() {
                for (face, words, at) in runs {
                    items.push(text(x + at, y + size * 0.92 + n as f32 * size * LEADING, size, *face, ink, words));
                }
            }
            y + lines.len() as f32 * size * LEADING + size * 0.3
        }
        Block::Caution(words) => caution(words, x, y, w, size, items),
        Block::Table(table) => table::set(table, x, w, size, y, items),
        Block::Pencil(name, fields) => pencil(name, fields, column, y, items),
        Block::Key(samples) => key(samples, column, y, items),
        Block::Gap(lines) => y + lines * line,
        Block::Greens(columns, greens) => {
            let columns = (*columns).max(1);
            let rows = greens.len().div_ceil(columns).max(1);
            let (cell_w, cell_h) = (w / columns as f32, column.picture / rows as f32);
            for (i, green) in greens.iter().enumerate() {
                let (cx, cy) = (x + (i % columns) as f32 * cell_w, y + (i / columns) as f32 * cell_h);
                items.push(text(
                    cx + 2.0,
                    cy + size,
                    size + 0.8,
                    Face::Bold,
                    Ink::BLACK,
                    &fitted(Face::Bold, size + 0.8, &green.name, cell_w - 4.0),
                ));
                let small = (size * 0.86).max(SMALLEST);
                let mut down = cy + size + 1.0;
                for fact in &green.facts {
                    down += small * LEADING;
                    items.push(text(
                        cx + 2.0,
                        down,
                        small,
                        Face::Regular,
                        Ink::SOFT,
                        &fitted(Face::Regular, small, fact, cell_w - 4.0),
                    ));
                }
                let frame = Frame::new(cx + 1.0, down + 3.0, cell_w - 4.0, (cy + cell_h - down - 7.0).max(10.0));
                let (drawn, scale) = green.draw(&frame);
                items.extend(drawn);
                let words = format!("1 : {:.0}", f64::from(super::page::INCH) * 36.0 / scale);
                let wide = width(Face::Regular, SMALLEST, &words);
                items.push(text(cx + cell_w - wide - 3.0, cy + size, SMALLEST, Face::Regular, Ink::SOFT, &words));
            }
            y + column.picture
        }
        Block::Holes(columns, holes) => {
            let columns = (*columns).max(1);
            let rows = holes.len().div_ceil(columns).max(1);
            let (cell_w, cell_h) = (w / columns as f32, column.picture / rows as f32);
            for (i, (name, drawing)) in holes.iter().enumerate() {
                let (cx, cy) = (x + (i % columns) as f32 * cell_w, y + (i / columns) as f32 * cell_h);
                let (number, rest) = name.split_once(' ').unwrap_or((name, ""));
                items.push(text(cx, cy + 7.5, 8.0, Face::Bold, Ink::BLACK, number));
                let from = cx + width(Face::Bold, 8.0, number) + 2.5;
                items.push(text(
                    from,
                    cy + 7.5,
                    SMALLEST,
                    Face::Regular,
                    Ink::BLACK,
                    &fitted(Face::Regular, SMALLEST, rest, cx + cell_w - from - 2.0),
                ));
                let frame = Frame::new(cx, cy + 9.5, cell_w - 4.0, cell_h - 13.0);
                items.extend(sketch(drawing, &frame, true).items);
            }
            y + column.picture
        }
    }
}

/// A warning in a box with a triangle.
pub fn caution(words: &str, x: f32, y: f32, w: f32, size: f32, items: &mut Vec<Item>) -> f32 {
    let lines = runs(&[(Face::Bold, "Caution"), (Face::Regular, words)], size, w - 18.0);
    let high = lines.len() as f32 * size * LEADING + 4.0;
    items.push(Item::shape(Frame::new(x, y, w, high).path(), Ink::WHITE, Stroke::solid(Ink::BLACK, 0.9)));
    let (tx, ty) = (x + 4.0, y + high / 2.0);
    let triangle =
        vec![Step::Move(tx, ty + 3.6), Step::Line(tx + 8.4, ty + 3.6), Step::Line(tx + 4.2, ty - 3.8), Step::Close];
    items.push(Item::fill(triangle, Ink::BLACK));
    items.push(Item::rule((tx + 4.2, ty - 1.4), (tx + 4.2, ty + 1.2), Stroke::solid(Ink::WHITE, 0.9)));
    items.push(Item::fill(circle(tx + 4.2, ty + 2.3, 0.55), Ink::WHITE));
    for (n, runs) in lines.iter().enumerate() {
        for (face, words, at) in runs {
            let base = y + 2.0 + size * 0.92 + n as f32 * size * LEADING;
            items.push(text(x + 15.0 + at, base, size, *face, Ink::BLACK, words));
        }
    }
    y + high + 3.0
}

/// A line of fields; the lines to write on share what room the words leave.
fn pencil(name: &str, fields: &[Field], column: &Column, y: f32, items: &mut Vec<Item>) -> f32 {
    let size = column.size.clamp(SMALLEST, 7.0);
    let high = 13.0f32.max(size * 1.9);
    let base = y + high - 3.6;
    let small = SMALLEST;
    let head = if name.is_empty() { 0.0 } else { 66.0f32.min(column.w * 0.27) };
    if !name.is_empty() {
        items.push(text(column.x, base, size, Face::Bold, Ink::BLACK, &fitted(Face::Bold, size, name, head - 3.0)));
    }
    let least = |field: &Field| match field {
        Field::Line(word, _) => width(Face::Regular, small, word) + 6.0,
        Field::Tick(word) => width(Face::Regular, small, word) + 13.0,
        Field::Box(word) => width(Face::Regular, small, word) + 22.0,
    };
    // On a narrow page the fields go on below.
    let line = |field: &Field| if matches!(field, Field::Line(..)) { 12.0 } else { 0.0 };
    let mut used = head;
    let fits = fields.iter().take_while(|field| {
        used += least(field) + line(field);
        used <= column.w
    });
    let fits = fits.count().max(1);
    let (fields, rest) = fields.split_at(fits.min(fields.len()));
    let fixed: f32 = fields.iter().map(least).sum();
    let shares: f32 = fields.iter().map(|f| if let Field::Line(_, share) = f { f32::from(*share) } else { 0.0 }).sum();
    let spare = (column.w - head - fixed).max(0.0);
    let mut x = column.x + head;
    let thin = Stroke::solid(Ink::SOFT, 0.5);
    for field in fields {
        match field {
            Field::Line(word, share) => {
                items.push(text(x, base, small, Face::Regular, Ink::SOFT, word));
                x += width(Face::Regular, small, word) + 2.0;
                let long = spare * f32::from(*share) / shares.max(1.0);
                items.push(Item::rule((x, base + 1.0), (x + long, base + 1.0), thin));
                x += long + 4.0;
            }
            Field::Tick(word) => {
                items.push(Item::shape(Frame::new(x, base - 5.4, 6.4, 6.4).path(), Ink::WHITE, thin));
                items.push(text(x + 8.2, base, small, Face::Regular, Ink::SOFT, word));
                x += width(Face::Regular, small, word) + 13.0;
            }
            Field::Box(word) => {
                items.push(text(x, base, small, Face::Regular, Ink::SOFT, word));
                x += width(Face::Regular, small, word) + 2.0;
                items.push(Item::shape(
                    Frame::new(x, base - 8.2, 15.0, 10.4).path(),
                    Ink::WHITE,
                    Stroke::solid(Ink::BLACK, 0.7),
                ));
                x += 20.0;
            }
        }
    }
    if rest.is_empty() { y + high } else { pencil("", rest, column, y + high, items) }
}

fn key(samples: &[(Sample, String)], column: &Column, y: f32, items: &mut Vec<Item>) -> f32 {
    let size = column.size.min(7.4);
    let cell = column.w / 2.0;
    let high = 12.5;
    for (i, (sample, words)) in samples.iter().enumerate() {
        let (x, top) = (column.x + (i % 2) as f32 * cell, y + (i / 2) as f32 * high);
        let frame = Frame::new(x, top + 1.0, 22.0, high - 3.0);
        items.push(Item::Clip { frame: frame.inset(-0.5), items: picture(*sample, &frame) });
        items.push(text(
            x + 26.0,
            top + high * 0.68,
            size,
            Face::Regular,
            Ink::BLACK,
            &fitted(Face::Regular, size, words, cell - 29.0),
        ));
    }
    y + samples.len().div_ceil(2) as f32 * high + 2.0
}

/// One sample of the key.
fn picture(sample: Sample, frame: &Frame) -> Vec<Item> {
    let (left, right, mid) = (frame.x, frame.right(), frame.y + frame.h / 2.0);
    let centre = (left + right) / 2.0;
    match sample {
        Sample::Ground(surface) => {
            let ring = vec![(left, frame.y), (right, frame.y), (right, frame.bottom()), (left, frame.bottom())];
            ground(surface, &[ring], frame)
        }
        Sample::Steady | Sample::Bold => {
            let bold = sample == Sample::Bold;
            let stroke = if bold { Stroke::dashed(Ink::BLACK, 0.8, 3.0, 2.0) } else { Stroke::solid(Ink::BLACK, 1.0) };
            let (fill, ink) = if bold { (Ink::WHITE, Ink::BLACK) } else { (Ink::BLACK, Ink::WHITE) };
            vec![
                Item::rule((left, mid), (right - 7.0, mid), stroke),
                Item::shape(circle(right - 4.5, mid, 3.5), fill, Stroke::solid(Ink::BLACK, 0.7)),
                text(right - 4.5 - width(Face::Bold, SMALLEST, "1") / 2.0, mid + 2.0, SMALLEST, Face::Bold, ink, "1"),
            ]
        }
        Sample::Rings => {
            vec![Item::rule((left, mid), (right, mid), Stroke::dashed(Ink(110, 110, 110), 0.45, 0.9, 1.5))]
        }
        Sample::FromTee => vec![Item::rule((left, mid), (left + 12.0, mid), Stroke::solid(Ink::BLACK, 0.5))],
        Sample::Layup => vec![Item::rule((left, mid), (right, mid), Stroke::dashed(Ink::BLACK, 1.4, 2.2, 1.2))],
        Sample::Pin => vec![
            Item::rule((centre, frame.bottom()), (centre, frame.y), Stroke::solid(Ink::BLACK, 0.6)),
            Item::fill(
                vec![
                    Step::Move(centre, frame.y),
                    Step::Line(centre + 4.2, frame.y + 1.6),
                    Step::Line(centre, frame.y + 3.2),
                    Step::Close,
                ],
                Ink::BLACK,
            ),
        ],
        Sample::Stroke => vec![
            Item::fill(circle(left + 4.0, mid, 2.2), Ink::BLACK),
            Item::shape(circle(left + 14.0, mid, 2.2), Ink::WHITE, Stroke::solid(Ink::BLACK, 0.7)),
        ],
    }
}

/// Whether a block may be shortened, and how soon.
pub fn weight(block: &Block) -> Weight {
    match block {
        Block::Entry(entry) => entry.weight,
        _ => Weight::Must,
    }
}

/// Dots for strokes received, rings for those given back, from `x` to the right; gives where they end.
pub fn dots(count: i32, x: f32, y: f32, r: f32, items: &mut Vec<Item>) -> f32 {
    let mut x = x;
    for _ in 0..count.unsigned_abs().min(6) {
        let ring = circle(x + r, y, r);
        items.push(if count > 0 {
            Item::fill(ring, Ink::BLACK)
        } else {
            Item::shape(ring, Ink::WHITE, Stroke::solid(Ink::BLACK, 0.7))
        });
        x += 2.0 * r + 1.4;
    }
    x
}

/// The width of a cell's words.
pub fn cell_width(cell: &Cell, size: f32) -> f32 {
    match cell {
        Cell::Words(words) => width(Face::Regular, size, words),
        Cell::Strong(words) => width(Face::Bold, size, words),
        Cell::Dots(n) => n.unsigned_abs().min(6) as f32 * (size * 0.46 + 1.4),
        Cell::Box => 16.0,
    }
}
