//! The font of the papers: widths, lines broken at words, text shortened at a word.
//!
//! # References
//! Source Sans 3, Adobe, SIL Open Font License 1.1: `fonts/OFL.txt` beside the two faces, which are shipped unaltered.

use super::page::Face;
use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};
use std::collections::HashMap;
use std::sync::OnceLock;

/// The upright face as a file.
pub const REGULAR: &[u8] = include_bytes!("fonts/SourceSans3_400Regular.ttf");
/// The bold face as a file.
pub const BOLD: &[u8] = include_bytes!("fonts/SourceSans3_700Bold.ttf");
/// The licence of both.
pub const LICENCE: &str = include_str!("fonts/OFL.txt");

/// The mark after text that was shortened.
pub const MORE: char = '…';

/// A glyph: its number in the face and its width as a share of the size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glyph {
    /// Its number.
    pub id: u32,
    /// Its width.
    pub advance: f32,
}

struct Widths {
    plain: [Glyph; 128],
    rest: HashMap<char, Glyph>,
    missing: Glyph,
}

impl Widths {
    fn of(file: &[u8]) -> Self {
        let missing = Glyph { id: 0, advance: 0.5 };
        let mut made = Self { plain: [missing; 128], rest: HashMap::new(), missing };
        let Ok(font) = FontRef::new(file) else { return made };
        let em = f32::from(font.metrics(Size::unscaled(), LocationRef::default()).units_per_em).max(1.0);
        let widths = font.glyph_metrics(Size::unscaled(), LocationRef::default());
        for (code, glyph) in font.charmap().mappings() {
            let Some(letter) = char::from_u32(code) else { continue };
            let advance = widths.advance_width(glyph).unwrap_or(0.0) / em;
            let glyph = Glyph { id: glyph.to_u32(), advance };
            match made.plain.get_mut(code as usize) {
                Some(slot) => *slot = glyph,
                None => {
                    made.rest.insert(letter, glyph);
                }
            }
        }
        made.missing = made.plain.get(usize::from(b'?')).copied().unwrap_or(missing);
        made
    }

    fn glyph(&self, letter: char) -> Glyph {
        let known = self.plain.get(letter as usize).copied().filter(|g| g.id != 0);
        known.or_else(|| self.rest.get(&letter).copied()).unwrap_or(self.missing)
    }
}

fn widths(face: Face) -> &'static Widths {
    static FACES: [OnceLock<Widths>; 2] = [OnceLock::new(), OnceLock::new()];
    let [regular, bold] = &FACES;
    match face {
        Face::Regular => regular.get_or_init(|| Widths::of(REGULAR)),
        Face::Bold => bold.get_or_init(|| Widths::of(BOLD)),
    }
}

/// The glyph of a letter; that of `?` where the font has none.
pub fn glyph(face: Face, letter: char) -> Glyph {
    widths(face).glyph(letter)
}

/// Whether the font has this letter.
pub fn has(face: Face, letter: char) -> bool {
    let widths = widths(face);
    letter == '?' || widths.glyph(letter).id != widths.missing.id
}

/// The width of words at a size, points.
pub fn width(face: Face, size: f32, words: &str) -> f32 {
    let widths = widths(face);
    words.chars().map(|letter| widths.glyph(letter).advance).sum::<f32>() * size
}

/// Breaks words into lines of at most `room` points, `first` of them less on the first line; a word that is too long is cut.
pub fn lines(face: Face, size: f32, words: &str, room: f32, first: f32) -> Vec<String> {
    let mut out = Vec::new();
    let mut line = String::new();
    let mut used = first;
    let space = glyph(face, ' ').advance * size;
    for word in words.split_whitespace() {
        let wide = width(face, size, word);
        if !line.is_empty() && used + space + wide > room {
            out.push(std::mem::take(&mut line));
            used = 0.0;
        }
        if !line.is_empty() {
            line.push(' ');
            used += space;
        } else if wide > room - used && used > 0.0 {
            // What stands before it on the first line leaves no room.
            out.push(String::new());
            used = 0.0;
        }
        if wide <= room {
            line.push_str(word);
            used += wide;
            continue;
        }
        for letter in word.chars() {
            let wide = glyph(face, letter).advance * size;
            if used + wide > room && !line.is_empty() {
                out.push(std::mem::take(&mut line));
                used = 0.0;
            }
            line.push(letter);
            used += wide;
        }
    }
    if !line.is_empty() {
        out.push(line);
    }
    out
}

/// Words that fit `room` points, shortened at a word with a mark where they do not.
pub fn fitted(face: Face, size: f32, words: &str, room: f32) -> String {
    if width(face, size, words) <= room {
        return words.to_owned();
    }
    let mark = glyph(face, MORE).advance * size;
    let mut kept = String::new();
    for word in words.split_whitespace() {
        let longer = if kept.is_empty() { word.to_owned() } else { format!("{kept} {word}") };
        if width(face, size, &longer) + mark > room {
            break;
        }
        kept = longer;
    }
    if kept.is_empty() {
        // Not even one word fits: letters, so that something is said.
        let mut used = mark;
        for letter in words.chars() {
            used += glyph(face, letter).advance * size;
            if used > room {
                break;
            }
            kept.push(letter);
        }
    }
    let kept = kept.trim_end_matches([',', ';', ':', '.', ' ']);
    format!("{kept}{MORE}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn european_scripts_have_their_glyphs() {
        let names = "Åse Ødegård, Þóra, Łukasz Żółć, Őri, Çağla, Dvořák, Ījabs, Čiurlionis, Ștefan, Ελένη Παπαδάκη, Олена Ґалаґан, ßœæ «…» – — ½ ≤ ≥ ± ° × ′ ″ ♦";
        for face in [Face::Regular, Face::Bold] {
            let lacking: String = names.chars().filter(|c| *c != '♦' && !has(face, *c)).collect();
            assert_eq!(lacking, "");
        }
        assert!(!has(Face::Regular, '語'));
    }

    #[test]
    fn text_is_shortened_at_a_word_with_a_mark() {
        let words = "the white gable of the salt store";
        let room = width(Face::Regular, 7.0, "the white gable of the");
        assert_eq!(fitted(Face::Regular, 7.0, words, room), "the white gable of…");
        assert_eq!(fitted(Face::Regular, 7.0, words, 1000.0), words);
    }

    proptest! {
        #[test]
        fn lines_keep_every_letter_and_the_room(words in "[a-zé ]{0,200}", room in 20.0f32..200.0) {
            let broken = lines(Face::Regular, 7.0, &words, room, 0.0);
            let letters = |s: &str| s.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            prop_assert_eq!(letters(&broken.concat()), letters(&words));
            for line in &broken {
                prop_assert!(width(Face::Regular, 7.0, line) <= room + 0.01);
            }
            prop_assert!(width(Face::Regular, 7.0, &fitted(Face::Regular, 7.0, &words, room)) <= room + 0.01);
        }
    }
}
