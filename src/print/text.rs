//! Leaves as plain text for any printer, 78 columns wide; the same words and figures as on paper.

use super::leaf::{Align, Block, Field, Leaf, Table};
use crate::units::plain_text::plain_lines;
use unicode_width::UnicodeWidthStr;

/// How wide the text is.
const COLUMNS: usize = 78;
/// How wide the labels before entries are.
const LABEL: usize = 9;

/// Writes leaves one after the other.
pub fn text(leaves: &[Leaf]) -> String {
    let mut out = String::with_capacity(leaves.len() * 2048);
    for (number, leaf) in leaves.iter().enumerate() {
        if number > 0 {
            out.push_str("\n\u{c}");
        }
        write(leaf, &mut out);
    }
    // A form feed between leaves is what a line printer turns the page on; everything else is plain.
    out.split('\u{c}').map(|leaf| plain_lines(leaf).into_owned()).collect::<Vec<_>>().join("\u{c}")
}

fn write(leaf: &Leaf, out: &mut String) {
    let head = &leaf.head;
    let mut line = String::new();
    if !head.figure.is_empty() {
        line.push_str(&head.figure);
        line.push_str("  ");
    }
    line.push_str(&head.name);
    if !head.facts.is_empty() {
        line.push_str("  ");
        line.push_str(&head.facts);
    }
    match head.strokes {
        0 => {}
        n if n < 0 => line.push_str(&format!("  {} given back", -n)),
        n => line.push_str(&format!("  {} received", "*".repeat(n.unsigned_abs().min(9) as usize))),
    }
    push(out, "", &line, 4);
    out.push_str(&"=".repeat(COLUMNS));
    out.push('\n');
    if let Some(caution) = &leaf.caution {
        push(out, "CAUTION ", caution, 8);
        out.push('\n');
    }
    if let Some(drawing) = &leaf.drawing {
        for ring in &drawing.rings {
            out.push_str(&format!("  {:>4} to the middle: front {}, back {}\n", ring.middle, ring.front, ring.back));
        }
    }
    for block in leaf.blocks.iter().chain(&leaf.foot) {
        self::block(block, out);
    }
    out.push('\n');
    for line in &leaf.colophon {
        push(out, "", line, 0);
    }
}

/// Words wrapped to the width, after a head that fills `indent` columns on the lines that follow.
fn push(out: &mut String, head: &str, words: &str, indent: usize) {
    let mut line = head.to_owned();
    let mut used = head.width();
    let mut fresh = true;
    for word in words.split_whitespace() {
        let wide = word.width();
        if !fresh && used + 1 + wide > COLUMNS {
            out.push_str(line.trim_end());
            out.push('\n');
            line = " ".repeat(indent);
            used = indent;
            fresh = true;
        }
        if !fresh {
            line.push(' ');
            used += 1;
        }
        line.push_str(word);
        used += wide;
        fresh = false;
    }
    out.push_str(line.trim_end());
    out.push('\n');
}

fn block(block: &Block, out: &mut String) {
    match block {
        Block::Section(words, aside) => {
            out.push('\n');
            let aside = if aside.is_empty() { String::new() } else { format!("  {aside}") };
            push(out, "", &format!("{}{aside}", words.to_uppercase()), 2);
        }
        Block::Title(large, below) => {
            push(out, "", large, 0);
            push(out, "", below, 0);
            out.push('\n');
        }
        Block::Entry(entry) => {
            let letter = entry.letter.map(|l| format!("{l} ")).unwrap_or_default();
            let head = format!("  {:<LABEL$}{letter}", entry.label);
            push(out, &head, &entry.all(), 2 + LABEL);
        }
        Block::Words(words) => push(out, "", words, 0),
        Block::Small(words) => push(out, "  ", words, 2),
        Block::Caution(words) => push(out, "CAUTION ", words, 8),
        Block::Table(table) => self::table(table, out),
        Block::Pencil(name, fields) => {
            let mut line = format!("  {name:<23} ");
            for field in fields {
                let words = match field {
                    Field::Line(word, share) => format!("{word} {}", "_".repeat(usize::from(*share).clamp(3, 14))),
                    Field::Tick(word) => format!("[ ] {word}"),
                    Field::Box(word) => format!("{word} [  ]"),
                };
                if line.width() + 2 + words.width() > COLUMNS {
                    out.push_str(line.trim_end());
                    out.push('\n');
                    line = " ".repeat(26);
                }
                line.push_str(&words);
                line.push_str("  ");
            }
            out.push_str(line.trim_end());
            out.push('\n');
        }
        // Samples of hatches say nothing without them.
        Block::Key(_) => {}
        Block::Gap(_) => out.push('\n'),
        Block::Greens(_, greens) => {
            for green in greens {
                push(out, "  ", &format!("{}: {}", green.name, green.facts.join("; ")), 4);
                for fall in &green.falls {
                    let turn = (fall.to_deg - green.up.degrees()).rem_euclid(360.0);
                    let clock = match (turn / 30.0).round() as u32 % 12 {
                        0 => 12,
                        n => n,
                    };
                    out.push_str(&format!("    falls {:.1} % towards {clock} o'clock\n", fall.percent));
                }
            }
        }
        Block::Holes(_, holes) => {
            for (name, _) in holes {
                push(out, "  ", name, 4);
            }
        }
    }
}

fn table(table: &Table, out: &mut String) {
    let cells: Vec<Vec<String>> = table.rows.iter().map(|r| r.iter().map(super::leaf::Cell::plain).collect()).collect();
    let widths: Vec<usize> = table
        .columns
        .iter()
        .enumerate()
        .map(|(at, (name, ..))| {
            cells.iter().filter_map(|r| r.get(at)).map(|c| c.width()).chain([name.width()]).max().unwrap_or(0)
        })
        .collect();
    let heads: Vec<String> = table.columns.iter().map(|(name, ..)| name.clone()).collect();
    let headed = heads.iter().any(|h| !h.is_empty());
    for row in headed.then_some(&heads).into_iter().chain(&cells) {
        let mut line = String::from("  ");
        for ((cell, wide), (_, align, _)) in row.iter().zip(&widths).zip(&table.columns) {
            let blanks = wide.saturating_sub(cell.width());
            let before = match align {
                Align::Left => 0,
                Align::Right => blanks,
                Align::Centre => blanks / 2,
            };
            line.push_str(&" ".repeat(before));
            line.push_str(cell);
            line.push_str(&" ".repeat(blanks - before));
            line.push_str("  ");
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
}
