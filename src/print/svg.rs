//! A page written as SVG, in millimetres of paper and points of the page model, with the font's name and common stand-ins.

use super::page::{Face, Ink, Item, MM, Page, Step, Stroke, figure};
use std::fmt::Write as _;

/// Writes a page as one SVG.
pub fn svg(page: &Page) -> String {
    let mut out = String::with_capacity(64 * 1024);
    let (mut w, mut h, mut wide, mut high) = (String::new(), String::new(), String::new(), String::new());
    figure(page.width, &mut w);
    figure(page.height, &mut h);
    figure(page.width / MM, &mut wide);
    figure(page.height / MM, &mut high);
    let _ = writeln!(
        out,
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}mm\" height=\"{high}mm\" viewBox=\"0 0 {w} {h}\">"
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(&page.name));
    out.push_str("<style>text{font-family:'Source Sans 3','Source Sans Pro','Noto Sans',sans-serif;white-space:pre}.b{font-weight:700}</style>\n");
    let _ = writeln!(out, "<rect width=\"{w}\" height=\"{h}\" fill=\"#fff\"/>");
    let mut clips = 0;
    for item in &page.items {
        write(item, &mut out, &mut clips);
    }
    out.push_str("</svg>\n");
    out
}

fn write(item: &Item, out: &mut String, clips: &mut usize) {
    match item {
        Item::Text { x, y, size, face, ink, words } => {
            out.push_str("<text x=\"");
            figure(*x, out);
            out.push_str("\" y=\"");
            figure(*y, out);
            out.push_str("\" font-size=\"");
            figure(*size, out);
            // The reader's font may be another: the width is held to what was laid out.
            let wide = super::face::width(*face, *size, words);
            if words.chars().count() > 1 && wide > 0.0 {
                out.push_str("\" textLength=\"");
                figure(wide, out);
                out.push_str("\" lengthAdjust=\"spacingAndGlyphs");
            }
            let class = if *face == Face::Bold { " class=\"b\"" } else { "" };
            let _ = writeln!(out, "\"{class} fill=\"{}\">{}</text>", hex(*ink), escaped(words));
        }
        Item::Path { steps, fill, stroke } => {
            out.push_str("<path d=\"");
            path(steps, out);
            out.push('"');
            match fill {
                Some(ink) => {
                    let _ = write!(out, " fill=\"{}\" fill-rule=\"evenodd\"", hex(*ink));
                }
                None => out.push_str(" fill=\"none\""),
            }
            if let Some(stroke) = stroke {
                stroked(stroke, out);
            }
            out.push_str("/>\n");
        }
        Item::Clip { frame, items } => {
            *clips += 1;
            let id = *clips;
            let _ = write!(out, "<clipPath id=\"c{id}\"><path d=\"");
            path(&frame.path(), out);
            let _ = writeln!(out, "\"/></clipPath>\n<g clip-path=\"url(#c{id})\">");
            for item in items {
                write(item, out, clips);
            }
            out.push_str("</g>\n");
        }
    }
}

fn stroked(stroke: &Stroke, out: &mut String) {
    let _ = write!(out, " stroke=\"{}\" stroke-width=\"", hex(stroke.ink));
    figure(stroke.width, out);
    out.push('"');
    if let Some((on, off)) = stroke.dash {
        out.push_str(" stroke-dasharray=\"");
        figure(on, out);
        out.push(' ');
        figure(off, out);
        out.push('"');
    }
    if stroke.round {
        out.push_str(" stroke-linecap=\"round\" stroke-linejoin=\"round\"");
    }
}

fn path(steps: &[Step], out: &mut String) {
    let pair = |x: f32, y: f32, out: &mut String| {
        figure(x, out);
        out.push(' ');
        figure(y, out);
    };
    for step in steps {
        match *step {
            Step::Move(x, y) => {
                out.push('M');
                pair(x, y, out);
            }
            Step::Line(x, y) => {
                out.push('L');
                pair(x, y, out);
            }
            Step::Cubic(a, b, c, d, x, y) => {
                out.push('C');
                pair(a, b, out);
                out.push(' ');
                pair(c, d, out);
                out.push(' ');
                pair(x, y, out);
            }
            Step::Close => out.push('Z'),
        }
    }
}

fn hex(ink: Ink) -> String {
    format!("#{:02x}{:02x}{:02x}", ink.0, ink.1, ink.2)
}

/// Text as XML has it; what XML 1.0 forbids is left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' | '\r' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_from_files_cannot_break_the_markup() {
        let mut page = Page::new(10.0, 10.0, "a & b <c>");
        let words = "\"<x>\" & \u{1}\u{ffff}é".to_owned();
        page.items.push(Item::Text { x: 1.0, y: 2.0, size: 6.0, face: Face::Bold, ink: Ink::BLACK, words });
        let text = svg(&page);
        assert!(text.contains("&quot;&lt;x&gt;&quot; &amp; é</text>"), "{text}");
        assert!(text.contains("<title>a &amp; b &lt;c&gt;</title>"));
    }
}
