//! Leaves laid out on pages of a size: the largest text at which all of a leaf fits; what still does not is shortened at a word,
//! with a mark, and named.

use super::face::{fitted, width};
use super::flow::{Column, LEADING, caution, dots, entry_lines, flow, label_width, weight};
use super::leaf::{Block, Leaf, Table, Weight};
use super::page::{Face, Frame, Ink, Item, Page, SMALLEST, Stroke};
use super::size::Size;
use super::sketch::sketch;
use super::table;
use std::collections::HashMap;

/// Sizes of the text, tried from the largest; the first four only on pages wider than a pocket's.
const SIZES: [f32; 12] = [11.6, 10.8, 10.0, 9.2, 8.4, 8.0, 7.6, 7.2, 6.9, 6.6, 6.3, SMALLEST];
/// From this width on, points.
const WIDE: f32 = 380.0;

fn sizes(page: Size) -> impl Iterator<Item = f32> + Clone {
    SIZES.into_iter().skip(if page.width >= WIDE { 0 } else { 4 })
}
/// Below this size text is given more of the width.
const ROOMY: f32 = 6.9;
/// The size at which a list begins to run on to another page rather than shrink.
const RUNS_ON: f32 = 7.2;

/// Text that did not fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shortened {
    /// The leaf, as `hole 4`.
    pub leaf: String,
    /// Its label, as `aim`.
    pub label: String,
    /// How it begins.
    pub words: String,
    /// Nothing of it is printed.
    pub left_out: bool,
}

impl Shortened {
    /// In a sentence.
    pub fn sentence(&self) -> String {
        let how = if self.left_out { "is left out" } else { "is shortened" };
        format!("{}: `{} {}` {how}: the page has no room for all of its text", self.leaf, self.label, self.words)
    }
}

/// Leaves on pages.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Laid {
    /// The pages.
    pub pages: Vec<Page>,
    /// What did not fit.
    pub shortened: Vec<Shortened>,
}

/// Lays leaves out on pages of a size.
pub fn lay(leaves: &[Leaf], size: Size) -> Laid {
    let mut laid = Laid::default();
    for leaf in leaves {
        if leaf.drawing.is_some() {
            let page = drawn(leaf, size, &mut laid.shortened);
            laid.pages.push(page);
        } else {
            run_on(leaf, size, &mut laid);
        }
    }
    laid
}

/// The room inside the margins.
fn inside(size: Size) -> Frame {
    let margin = (size.width * 0.042).clamp(11.0, 34.0);
    Frame::new(margin, margin, size.width - 2.0 * margin, size.height - 2.0 * margin)
}

/// Head, caution and colophon; gives what room is left between them.
fn surround(leaf: &Leaf, page: &mut Page, frame: &Frame) -> Frame {
    let mut y = head(leaf, frame, &mut page.items);
    if let Some(words) = &leaf.caution {
        y = caution(words, frame.x, y, frame.w, 7.2, &mut page.items);
    }
    let lines: Vec<String> =
        leaf.colophon.iter().flat_map(|line| super::face::lines(Face::Regular, SMALLEST, line, frame.w, 0.0)).collect();
    let high = lines.len() as f32 * SMALLEST * LEADING;
    let top = frame.bottom() - high;
    if !lines.is_empty() {
        page.items.push(Item::rule((frame.x, top - 1.0), (frame.right(), top - 1.0), Stroke::solid(Ink::RULE, 0.4)));
    }
    for (n, words) in lines.into_iter().enumerate() {
        let y = top + SMALLEST * 0.92 + n as f32 * SMALLEST * LEADING;
        page.items.push(Item::Text { x: frame.x, y, size: SMALLEST, face: Face::Regular, ink: Ink::SOFT, words });
    }
    Frame::new(frame.x, y, frame.w, top - 3.0 - y)
}

fn head(leaf: &Leaf, frame: &Frame, items: &mut Vec<Item>) -> f32 {
    let head = &leaf.head;
    if head.figure.is_empty() && head.name.is_empty() {
        return frame.y;
    }
    let mut x = frame.x;
    let base = frame.y + 18.5;
    if !head.figure.is_empty() {
        items.push(Item::Text {
            x,
            y: base,
            size: 25.0,
            face: Face::Bold,
            ink: Ink::BLACK,
            words: head.figure.clone(),
        });
        x += width(Face::Bold, 25.0, &head.figure) + 6.0;
    }
    let dot = 2.5;
    let dotted = head.strokes.unsigned_abs().min(6) as f32 * (2.0 * dot + 1.4);
    let room = frame.right() - x - dotted - 4.0;
    let name = fitted(Face::Bold, 12.5, &head.name, room);
    items.push(Item::Text { x, y: frame.y + 9.6, size: 12.5, face: Face::Bold, ink: Ink::BLACK, words: name });
    let facts = fitted(Face::Regular, 8.2, &head.facts, frame.right() - x);
    items.push(Item::Text { x, y: base + 0.6, size: 8.2, face: Face::Regular, ink: Ink::BLACK, words: facts });
    dots(head.strokes, frame.right() - dotted, frame.y + 6.0, dot, items);
    items.push(Item::rule((frame.x, base + 4.4), (frame.right(), base + 4.4), Stroke::solid(Ink::BLACK, 1.1)));
    base + 7.6
}

/// A leaf with its drawing at the left, its text beside it.
fn drawn(leaf: &Leaf, page_size: Size, shortened: &mut Vec<Shortened>) -> Page {
    let mut page = Page::new(page_size.width, page_size.height, &leaf.name);
    let frame = inside(page_size);
    let mut room = surround(leaf, &mut page, &frame);
    let foot = Column { x: room.x, w: room.w, size: 6.8, picture: 0.0 };
    let none = HashMap::new();
    let high = flow(&leaf.foot, &foot, 0.0, &none, &mut Vec::new());
    if high > 0.0 {
        let top = room.bottom() - high;
        page.items.push(Item::rule((room.x, top), (room.right(), top), Stroke::solid(Ink::BLACK, 0.6)));
        flow(&leaf.foot, &foot, top + 0.5, &none, &mut page.items);
        room.h -= high + 3.0;
    }
    // A hole with much to say gives its text more of the width.
    let mut wide = 0.0;
    let mut column = Column { x: 0.0, w: 0.0, size: SMALLEST, picture: 0.0 };
    let mut set = (SMALLEST, HashMap::new(), Vec::new());
    for share in [0.375, 0.33, 0.29] {
        wide = (room.w * share).clamp(62.0, 190.0);
        column = Column { x: room.x + wide + 7.0, w: room.w - wide - 7.0, ..column };
        let mut lost = Vec::new();
        let (size, most) = fit(leaf, &column, room.h, sizes(page_size), &mut lost);
        set = (size, most, lost);
        if set.0 >= ROOMY {
            break;
        }
    }
    let (size, most, lost) = set;
    shortened.extend(lost);
    if let Some(drawing) = &leaf.drawing {
        let place = Frame::new(room.x, room.y, wide, room.h);
        page.items.extend(sketch(drawing, &place, false).items);
    }
    flow(&leaf.blocks, &Column { size, ..column }, room.y, &most, &mut page.items);
    page
}

/// The largest size at which the blocks fit, and where none does, how many lines each entry may keep.
fn fit(
    leaf: &Leaf,
    column: &Column,
    room: f32,
    sizes: impl Iterator<Item = f32>,
    shortened: &mut Vec<Shortened>,
) -> (f32, HashMap<usize, usize>) {
    let mut most = HashMap::new();
    let mut scrap = Vec::new();
    let mut needs = |size: f32, most: &HashMap<usize, usize>| {
        scrap.clear();
        flow(&leaf.blocks, &Column { size, ..*column }, 0.0, most, &mut scrap)
    };
    for size in sizes {
        if needs(size, &most) <= room {
            return (size, most);
        }
    }
    let small = Column { size: SMALLEST, ..*column };
    let label = label_width(&leaf.blocks, SMALLEST);
    let mut lines: Vec<(usize, Weight, usize)> = Vec::new();
    for (index, block) in leaf.blocks.iter().enumerate() {
        if let Block::Entry(entry) = block
            && weight(block) != Weight::Must
        {
            lines.push((index, entry.weight, entry_lines(entry, &small, label)));
        }
    }
    let whole: HashMap<usize, usize> = lines.iter().map(|(i, _, n)| (*i, *n)).collect();
    let mut over = needs(SMALLEST, &most) - room;
    // The longest note gives first, then the plan's words; the last line of each goes when nothing else is left.
    let least: [(Weight, usize); 4] = [(Weight::Note, 2), (Weight::Note, 1), (Weight::Plan, 1), (Weight::Note, 0)];
    for (weight, least) in least {
        while over > 0.0 {
            let longest =
                lines.iter_mut().filter(|(_, w, n)| *w == weight && *n > least).max_by_key(|(i, _, n)| (*n, *i));
            let Some((index, _, n)) = longest else { break };
            *n -= 1;
            most.insert(*index, *n);
            over -= SMALLEST * LEADING + if *n == 0 { SMALLEST * 0.12 } else { 0.0 };
        }
    }
    for (index, keeps) in &lines.iter().map(|(i, _, n)| (*i, *n)).collect::<Vec<_>>() {
        if whole.get(index).is_some_and(|n| n > keeps)
            && let Some(Block::Entry(entry)) = leaf.blocks.get(*index)
        {
            shortened.push(Shortened {
                leaf: leaf.name.clone(),
                label: entry.label.clone(),
                words: entry.all().split_whitespace().take(6).collect::<Vec<_>>().join(" "),
                left_out: *keeps == 0,
            });
        }
    }
    (SMALLEST, most)
}

/// A leaf without a drawing: smaller text down to a limit, then more pages.
fn run_on(leaf: &Leaf, size: Size, laid: &mut Laid) {
    let frame = inside(size);
    let none = HashMap::new();
    let mut rest: Vec<Block> = leaf.blocks.clone();
    let mut part = 1;
    loop {
        let name = if part == 1 { leaf.name.clone() } else { format!("{} ({part})", leaf.name) };
        let mut page = Page::new(size.width, size.height, &name);
        let mut shown = leaf.clone();
        if part > 1 {
            shown.head.facts = format!("{} (page {part})", leaf.head.facts).trim_start().to_owned();
            shown.caution = None;
        }
        let room = surround(&shown, &mut page, &frame);
        let pictures = rest.iter().any(|b| matches!(b, Block::Greens(..) | Block::Holes(..)));
        let measure = |blocks: &[Block], size: f32| {
            let column = Column { x: 0.0, w: room.w, size, picture: 0.0 };
            flow(blocks, &column, 0.0, &none, &mut Vec::new())
        };
        let mut sizes = sizes(size).filter(|s| *s >= RUNS_ON);
        let fits = sizes.find(|s| measure(&rest, *s) <= room.h);
        let (text, now) = match fits {
            Some(text) => (text, std::mem::take(&mut rest)),
            None => {
                let (now, later) = split(std::mem::take(&mut rest), RUNS_ON, &room, &measure);
                rest = later;
                (RUNS_ON, now)
            }
        };
        let left = if pictures { (room.h - measure(&now, text)).max(0.0) } else { 0.0 };
        let column = Column { x: room.x, w: room.w, size: text, picture: left };
        flow(&now, &column, room.y, &none, &mut page.items);
        laid.pages.push(page);
        if rest.is_empty() {
            return;
        }
        part += 1;
    }
}

/// What fits a page, and what is left for the next; at least one block or row goes, so that it ends.
fn split(
    blocks: Vec<Block>,
    size: f32,
    room: &Frame,
    measure: &dyn Fn(&[Block], f32) -> f32,
) -> (Vec<Block>, Vec<Block>) {
    let mut now: Vec<Block> = Vec::new();
    let mut blocks = blocks.into_iter();
    while let Some(block) = blocks.next() {
        let used = measure(&now, size);
        now.push(block);
        if measure(&now, size) <= room.h {
            continue;
        }
        let Some(block) = now.pop() else { break };
        let mut later = Vec::new();
        match block {
            Block::Table(table) => {
                let spare = room.h - used - table::height(&Table { rows: Vec::new(), ..table.clone() }, size);
                let fits = (spare / table::row_height(&table, size)).floor().max(0.0) as usize;
                let fits = if now.is_empty() { fits.max(1) } else { fits };
                if fits >= 1 && fits < table.rows.len() {
                    let (first, second) = table.rows.split_at(fits);
                    let sums = |from: usize, to: usize| {
                        table.sums.iter().filter(|s| **s >= from && **s < to).map(|s| s - from).collect::<Vec<_>>()
                    };
                    now.push(Block::Table(Table { rows: first.to_vec(), sums: sums(0, fits), ..table.clone() }));
                    let rest = Table { rows: second.to_vec(), sums: sums(fits, usize::MAX), ..table.clone() };
                    later.push(Block::Table(rest));
                } else if now.is_empty() {
                    now.push(Block::Table(table));
                } else {
                    later.push(Block::Table(table));
                }
            }
            other if now.is_empty() => now.push(other),
            other => later.push(other),
        }
        // A section's name never stands alone at the foot of a page.
        if matches!(now.last(), Some(Block::Section(..)))
            && now.len() > 1
            && let Some(section) = now.pop()
        {
            later.insert(0, section);
        }
        later.extend(blocks);
        return (now, later);
    }
    (now, Vec::new())
}
