//! Tables set on a page.

use super::face::{fitted, width};
use super::flow::{LEADING, cell_width, dots};
use super::leaf::{Align, Cell, Table};
use super::page::{Face, Frame, Ink, Item, SMALLEST, Stroke};

/// How high a row is.
pub fn row_height(table: &Table, size: f32) -> f32 {
    if table.height > 0.0 { table.height * size } else { size * LEADING + if table.ruled { 2.6 } else { 0.6 } }
}

/// How high a table is.
pub fn height(table: &Table, size: f32) -> f32 {
    let head = if headed(table) { head_size(size) * LEADING + 2.0 } else { 0.0 };
    head + table.rows.len() as f32 * row_height(table, size) + size * 0.3
}

fn headed(table: &Table) -> bool {
    table.columns.iter().any(|(name, ..)| !name.is_empty())
}

fn head_size(size: f32) -> f32 {
    (size * 0.88).max(SMALLEST)
}

/// The widths of the columns in `w`.
fn columns(table: &Table, w: f32, size: f32) -> Vec<f32> {
    let gap = size * 0.75;
    let natural: Vec<f32> = table
        .columns
        .iter()
        .enumerate()
        .map(|(at, (name, ..))| {
            let head = width(Face::Regular, head_size(size), name);
            let cells = table.rows.iter().filter_map(|row| row.get(at)).map(|cell| cell_width(cell, size));
            cells.fold(head, f32::max) + gap
        })
        .collect();
    let whole: f32 = natural.iter().sum();
    let shares: f32 = table.columns.iter().map(|(.., share)| f32::from(*share)).sum();
    if whole <= w {
        // What is left over goes to the columns that may grow, else to all of a ruled table.
        let spare = w - whole;
        return natural
            .iter()
            .zip(&table.columns)
            .map(|(wide, (.., share))| {
                if shares > 0.0 {
                    wide + spare * f32::from(*share) / shares
                } else if table.ruled {
                    wide + spare / natural.len() as f32
                } else {
                    *wide
                }
            })
            .collect();
    }
    let fixed: f32 = natural.iter().zip(&table.columns).filter(|(_, (.., s))| *s == 0).map(|(wide, _)| wide).sum();
    if shares > 0.0 && fixed < w * 0.9 {
        let flexible = whole - fixed;
        let share = (w - fixed) / flexible;
        natural.iter().zip(&table.columns).map(|(wide, (.., s))| if *s == 0 { *wide } else { wide * share }).collect()
    } else {
        natural.iter().map(|wide| wide * w / whole).collect()
    }
}

/// Sets a table; gives where it ends.
pub fn set(table: &Table, x: f32, w: f32, size: f32, y: f32, items: &mut Vec<Item>) -> f32 {
    let widths = columns(table, w, size);
    let wide: f32 = widths.iter().sum();
    let mut y = y;
    let pad = size * 0.375;
    if headed(table) {
        let small = head_size(size);
        let mut cx = x;
        for ((name, align, _), width) in table.columns.iter().zip(&widths) {
            cell(&Cell::Words(name.clone()), *align, cx, y + small * 0.95, *width, pad, small, Ink::SOFT, items);
            cx += width;
        }
        y += small * LEADING + 1.0;
        items.push(Item::rule((x, y), (x + wide, y), Stroke::solid(Ink::BLACK, 0.6)));
        y += 1.0;
    }
    let high = row_height(table, size);
    let top = y;
    for (number, row) in table.rows.iter().enumerate() {
        if table.sums.contains(&number) {
            items.push(Item::fill(Frame::new(x, y, wide, high).path(), Ink::BAND));
        }
        let mut cx = x;
        for ((content, (_, align, _)), width) in row.iter().zip(&table.columns).zip(&widths) {
            let base = y + high / 2.0 + size * 0.33;
            cell(content, *align, cx, base, *width, pad, size, Ink::BLACK, items);
            cx += width;
        }
        y += high;
        if table.ruled || (number + 1) % 3 == 0 && table.rows.len() > 6 && table.sums.is_empty() {
            items.push(Item::rule((x, y), (x + wide, y), Stroke::solid(Ink::RULE, 0.35)));
        }
    }
    if table.ruled {
        let mut cx = x;
        for width in std::iter::once(&0.0).chain(&widths) {
            cx += width;
            items.push(Item::rule((cx, top), (cx, y), Stroke::solid(Ink::RULE, 0.35)));
        }
        items.push(Item::rule((x, top), (x + wide, top), Stroke::solid(Ink::RULE, 0.35)));
    }
    y + size * 0.3
}

#[allow(clippy::too_many_arguments)]
fn cell(content: &Cell, align: Align, x: f32, base: f32, w: f32, pad: f32, size: f32, ink: Ink, items: &mut Vec<Item>) {
    let room = w - 2.0 * pad;
    let at = |wide: f32| match align {
        Align::Left => x + pad,
        Align::Right => x + w - pad - wide,
        Align::Centre => x + (w - wide) / 2.0,
    };
    match content {
        Cell::Words(words) | Cell::Strong(words) => {
            let face = if matches!(content, Cell::Strong(_)) { Face::Bold } else { Face::Regular };
            if words.is_empty() {
                return;
            }
            let words = fitted(face, size, words, room + 0.05);
            let x = at(width(face, size, &words));
            items.push(Item::Text { x, y: base, size, face, ink, words });
        }
        Cell::Dots(count) => {
            dots(*count, at(cell_width(content, size) - 1.4), base - size * 0.3, size * 0.23, items);
        }
        Cell::Box => {
            let high = size * 1.15;
            let frame = Frame::new(at(14.0), base - size * 0.9, 14.0, high);
            items.push(Item::shape(frame.path(), Ink::WHITE, Stroke::solid(Ink::SOFT, 0.5)));
        }
    }
}
