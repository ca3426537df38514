//! Pages written as PDF: fonts embedded as subsets, text that can be copied, the same bytes for the same pages.

use super::face::{self, BOLD, REGULAR};
use super::page::{Face, Frame, Ink, Item, Page, Step, Stroke};
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke as PdfStroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};

/// What a file says of itself.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct About {
    /// Its title.
    pub title: String,
    /// Who wrote the notebook.
    pub author: Option<String>,
}

/// Why there is no PDF.
#[derive(Debug, thiserror::Error)]
#[error("the PDF could not be written: {0}")]
pub struct NoPdf(String);

struct Fonts {
    regular: Font,
    bold: Font,
}

/// Writes pages as one PDF.
///
/// # Errors
/// [`NoPdf`] when a page has no size or the fonts cannot be read.
pub fn pdf(pages: &[Page], about: &About) -> Result<Vec<u8>, NoPdf> {
    let font = |file: &'static [u8]| {
        Font::new(file.to_vec().into(), 0).ok_or_else(|| NoPdf("a font of the program cannot be read".to_owned()))
    };
    let fonts = Fonts { regular: font(REGULAR)?, bold: font(BOLD)? };
    // No times are written, so that the same book has the same bytes.
    let settings = SerializeSettings { enable_tagging: false, ..SerializeSettings::default() };
    let mut document = Document::new_with(settings);
    let mut outline = Outline::new();
    for (number, page) in pages.iter().enumerate() {
        let settings = PageSettings::from_wh(page.width, page.height)
            .ok_or_else(|| NoPdf(format!("page {} has no size", number + 1)))?;
        let mut written = document.start_page_with(settings);
        let mut surface = written.surface();
        for item in &page.items {
            draw(&mut surface, &fonts, item);
        }
        surface.finish();
        written.finish();
        if !page.name.is_empty() {
            let top = XyzDestination::new(number, Point::from_xy(0.0, 0.0));
            outline.push_child(OutlineNode::new(page.name.clone(), top));
        }
    }
    document.set_outline(outline);
    let mut metadata =
        Metadata::new().title(about.title.clone()).creator("marram".to_owned()).language("en".to_owned());
    if let Some(author) = &about.author {
        metadata = metadata.authors(vec![author.clone()]);
    }
    document.set_metadata(metadata);
    document.finish().map_err(|error| NoPdf(format!("{error:?}")))
}

fn draw(surface: &mut Surface<'_>, fonts: &Fonts, item: &Item) {
    match item {
        Item::Text { x, y, size, face, ink, words } => {
            let glyphs: Vec<KrillaGlyph> = words
                .char_indices()
                .map(|(at, letter)| {
                    let glyph = face::glyph(*face, letter);
                    let range = at..at + letter.len_utf8();
                    KrillaGlyph::new(GlyphId::new(glyph.id), glyph.advance, 0.0, 0.0, 0.0, range, None)
                })
                .collect();
            let font = match face {
                Face::Regular => fonts.regular.clone(),
                Face::Bold => fonts.bold.clone(),
            };
            surface.set_stroke(None);
            surface.set_fill(Some(filled(*ink)));
            surface.draw_glyphs(Point::from_xy(*x, *y), &glyphs, font, words, *size, false);
        }
        Item::Path { steps, fill, stroke } => {
            let Some(path) = path(steps) else { return };
            surface.set_fill(fill.map(filled));
            surface.set_stroke(stroke.map(stroked));
            surface.draw_path(&path);
        }
        Item::Clip { frame, items } => {
            let Some(path) = path(&Frame::path(frame)) else { return };
            surface.push_clip_path(&path, &FillRule::NonZero);
            for item in items {
                draw(surface, fonts, item);
            }
            surface.pop();
        }
    }
}

fn colour(ink: Ink) -> rgb::Color {
    rgb::Color::new(ink.0, ink.1, ink.2)
}

fn filled(ink: Ink) -> Fill {
    Fill { paint: colour(ink).into(), opacity: NormalizedF32::ONE, rule: FillRule::EvenOdd }
}

fn stroked(stroke: Stroke) -> PdfStroke {
    PdfStroke {
        paint: colour(stroke.ink).into(),
        width: stroke.width,
        miter_limit: 4.0,
        line_cap: if stroke.round { LineCap::Round } else { LineCap::Butt },
        line_join: if stroke.round { LineJoin::Round } else { LineJoin::Miter },
        opacity: NormalizedF32::ONE,
        dash: stroke.dash.map(|(on, off)| StrokeDash { array: vec![on, off], offset: 0.0 }),
    }
}

/// Hundredths of a point are finer than any printer, and shorter to write.
fn short(value: f32) -> f32 {
    (value * 100.0).round() / 100.0
}

fn path(steps: &[Step]) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for step in steps {
        match *step {
            Step::Move(x, y) => builder.move_to(short(x), short(y)),
            Step::Line(x, y) => builder.line_to(short(x), short(y)),
            Step::Cubic(a, b, c, d, x, y) => {
                builder.cubic_to(short(a), short(b), short(c), short(d), short(x), short(y));
            }
            Step::Close => builder.close(),
        }
    }
    builder.finish()
}
