//! Makes the pictures of the README and the docs from the program's real screens, as SVG.
//!
//! `cargo run --example pictures` writes them to `docs/pictures/`. The screens are the buffers that the program itself
//! would put on the terminal, for the embedded example and the keys named below.

use anyhow::Context;
use marram::tui::story::Story;
use ratatui::buffer::Buffer;
use ratatui::style::{Color, Modifier};
use std::fmt::Write;
use std::path::Path;

const CELL: (usize, usize) = (9, 18);
const PAPER: (u8, u8, u8) = (22, 24, 22);
const INK: (u8, u8, u8) = (218, 220, 212);

/// Name, size and keys of each picture.
const PICTURES: [(&str, (u16, u16), &str); 3] =
    [("hole", (120, 44), "5 4 6"), ("card", (100, 24), "5 4 6 4 3 5 c"), ("keys", (100, 40), "?")];

fn main() -> anyhow::Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/pictures");
    std::fs::create_dir_all(&folder)?;
    for (name, (width, height), keys) in PICTURES {
        let mut story = Story::example(width, height);
        story.keys(keys);
        story.settle();
        let path = folder.join(format!("{name}.svg"));
        std::fs::write(&path, svg(&story.buffer())).with_context(|| format!("writing {}", path.display()))?;
        println!("{}", path.display());
    }
    Ok(())
}

fn rgb(colour: Color, otherwise: (u8, u8, u8)) -> (u8, u8, u8) {
    match colour {
        Color::Rgb(r, g, b) => (r, g, b),
        _ => otherwise,
    }
}

/// The buffer as an SVG picture: one rectangle a run of background, one text a run of letters.
fn svg(buffer: &Buffer) -> String {
    let area = buffer.area;
    let (w, h) = (usize::from(area.width) * CELL.0, usize::from(area.height) * CELL.1);
    let mut out = String::new();
    let hex = |c: (u8, u8, u8)| format!("#{:02x}{:02x}{:02x}", c.0, c.1, c.2);
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" height=\"{h}\" font-family=\"ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace\" font-size=\"14.5\">\n<rect width=\"{w}\" height=\"{h}\" fill=\"{}\"/>",
        hex(PAPER)
    );
    for y in 0..area.height {
        for x in 0..area.width {
            let Some(cell) = buffer.cell((x, y)) else { continue };
            let (mut fg, mut bg) = (rgb(cell.fg, INK), rgb(cell.bg, PAPER));
            if cell.modifier.contains(Modifier::REVERSED) {
                std::mem::swap(&mut fg, &mut bg);
            }
            let (px, py) = (usize::from(x) * CELL.0, usize::from(y) * CELL.1);
            if bg != PAPER {
                let _ = writeln!(
                    out,
                    "<rect x=\"{px}\" y=\"{py}\" width=\"{}\" height=\"{}\" fill=\"{}\"/>",
                    CELL.0,
                    CELL.1,
                    hex(bg)
                );
            }
            match cell.symbol() {
                " " | "" => {}
                "▀" => {
                    let _ = writeln!(
                        out,
                        "<rect x=\"{px}\" y=\"{py}\" width=\"{}\" height=\"{}\" fill=\"{}\"/>",
                        CELL.0,
                        CELL.1 / 2,
                        hex(fg)
                    );
                }
                symbol => {
                    let weight = if cell.modifier.contains(Modifier::BOLD) { " font-weight=\"700\"" } else { "" };
                    let safe = symbol.replace('&', "&amp;").replace('<', "&lt;");
                    let _ =
                        writeln!(out, "<text x=\"{px}\" y=\"{}\" fill=\"{}\"{weight}>{safe}</text>", py + 14, hex(fg));
                }
            }
        }
    }
    out.push_str("</svg>\n");
    out
}
