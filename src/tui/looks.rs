//! Colours, textures and characters: how much the terminal can show and what each surface looks like in it.
//!
//! Colour carries nothing alone. In true colour and 256 colours a surface is a colour **and** a pattern of lighter and
//! darker half-cells; in 16 colours, without colour and in plain ASCII it is a character of its own.

use crate::ground::Surface;
use ratatui::style::{Color, Modifier, Style};

/// How many colours the terminal shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// No colour at all (NO_COLOR or a bare terminal).
    None,
    /// The sixteen named colours.
    Sixteen,
    /// The 256-colour cube.
    Indexed,
    /// 24-bit colour.
    True,
}

/// How this terminal is drawn on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Looks {
    /// Colours.
    pub depth: Depth,
    /// Only characters of ASCII.
    pub ascii: bool,
    /// The background is light.
    pub light: bool,
}

impl Looks {
    /// From the environment, asked through `var` so that nothing here reads it. No query is sent to the terminal:
    /// the first frame never waits for an answer.
    pub fn from_environment(var: impl Fn(&str) -> Option<String>) -> Self {
        let term = var("TERM").unwrap_or_default();
        let depth = if var("NO_COLOR").is_some_and(|v| !v.is_empty()) || term == "dumb" || term == "vt100" {
            Depth::None
        } else if var("COLORTERM").is_some_and(|v| v == "truecolor" || v == "24bit") {
            Depth::True
        } else if term.contains("256") || term.contains("direct") {
            Depth::Indexed
        } else {
            Depth::Sixteen
        };
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(|k| var(k).filter(|v| !v.is_empty()));
        let plain_locale = locale.as_deref().is_some_and(|l| l == "C" || l == "POSIX");
        let ascii =
            var("MARRAM_ASCII").is_some_and(|v| !v.is_empty()) || term == "dumb" || term == "linux" && plain_locale;
        // COLORFGBG is `foreground;background`; 7 and 15 are the light backgrounds of the named colours.
        let light = var("COLORFGBG").and_then(|v| v.rsplit(';').next().map(|b| b == "7" || b == "15")).unwrap_or(false);
        Self { depth, ascii, light }
    }

    /// Whether the drawing uses half-cells of colour; otherwise characters.
    pub fn paints(self) -> bool {
        !self.ascii && matches!(self.depth, Depth::True | Depth::Indexed)
    }

    fn colour(self, rgb: (u8, u8, u8)) -> Color {
        match self.depth {
            Depth::True => Color::Rgb(rgb.0, rgb.1, rgb.2),
            Depth::Indexed => Color::Indexed(nearest_of_256(rgb)),
            Depth::Sixteen | Depth::None => Color::Reset,
        }
    }

    fn named(self, rgb: (u8, u8, u8), sixteen: Color) -> Style {
        match self.depth {
            Depth::None => Style::new(),
            Depth::Sixteen => Style::new().fg(sixteen),
            Depth::True | Depth::Indexed => Style::new().fg(self.colour(rgb)),
        }
    }

    /// Ordinary text.
    pub fn text(self) -> Style {
        Style::new()
    }

    /// A heading.
    pub fn heading(self) -> Style {
        Style::new().add_modifier(Modifier::BOLD)
    }

    /// Labels and what does not apply.
    pub fn quiet(self) -> Style {
        let (rgb, sixteen) =
            if self.light { ((104, 104, 98), Color::DarkGray) } else { ((140, 142, 134), Color::DarkGray) };
        match self.depth {
            Depth::None => Style::new().add_modifier(Modifier::DIM),
            Depth::Sixteen => Style::new().fg(sixteen),
            _ => self.named(rgb, sixteen),
        }
    }

    /// A figure that matters.
    pub fn figure(self) -> Style {
        let rgb = if self.light { (18, 92, 112) } else { (134, 196, 214) };
        self.named(rgb, Color::Cyan)
    }

    /// What is dear: a price, a danger.
    pub fn danger(self) -> Style {
        let rgb = if self.light { (168, 48, 30) } else { (232, 128, 104) };
        self.named(rgb, Color::Red)
    }

    /// A warning line.
    pub fn caution(self) -> Style {
        let rgb = if self.light { (150, 88, 0) } else { (240, 188, 92) };
        self.named(rgb, Color::Yellow).add_modifier(Modifier::BOLD)
    }

    /// Strokes received and what is good.
    pub fn stroke(self) -> Style {
        let rgb = if self.light { (140, 92, 0) } else { (236, 190, 96) };
        self.named(rgb, Color::Yellow)
    }

    /// The cursor's place in a list or on the card.
    pub fn chosen(self) -> Style {
        Style::new().add_modifier(Modifier::REVERSED)
    }

    /// The two shades of a surface: its own and its pattern's.
    pub fn surface(self, surface: Surface) -> (Color, Color) {
        let pair = self.surface_rgb(surface);
        (self.colour(pair.0), self.colour(pair.1))
    }

    /// One shade of a surface: its pattern's where `shaded`.
    pub fn shade(self, surface: Surface, shaded: bool) -> Color {
        let (own, pattern) = self.surface(surface);
        if shaded { pattern } else { own }
    }

    /// A shade of a surface under a club's pattern.
    pub fn under_pattern(self, surface: Surface, shaded: bool, level: u8) -> Color {
        let (own, pattern) = self.surface_rgb(surface);
        let over = if self.light { (150, 96, 0) } else { (255, 232, 140) };
        let share = if level >= 2 { 0.52 } else { 0.30 };
        self.colour(mixed(if shaded { pattern } else { own }, over, share))
    }

    /// A shade of a surface by what the place costs, in strokes.
    pub fn under_loss(self, surface: Surface, shaded: bool, loss: f64) -> Color {
        let (own, pattern) = self.surface_rgb(surface);
        let share = (loss / 1.0).clamp(0.0, 1.0) * 0.75;
        self.colour(mixed(if shaded { pattern } else { own }, (206, 74, 48), share))
    }

    fn surface_rgb(self, surface: Surface) -> ((u8, u8, u8), (u8, u8, u8)) {
        let dark = !self.light;
        match surface {
            Surface::Out => {
                if dark {
                    ((70, 66, 74), (104, 98, 108))
                } else {
                    ((186, 180, 188), (146, 140, 150))
                }
            }
            Surface::PenaltyRed => {
                if dark {
                    ((46, 92, 150), (186, 72, 72))
                } else {
                    ((132, 176, 224), (206, 84, 84))
                }
            }
            Surface::PenaltyYellow => {
                if dark {
                    ((46, 92, 150), (206, 180, 74))
                } else {
                    ((132, 176, 224), (214, 178, 40))
                }
            }
            Surface::Bunker => {
                if dark {
                    ((226, 206, 158), (204, 182, 132))
                } else {
                    ((252, 226, 150), (232, 200, 118))
                }
            }
            Surface::Green => {
                if dark {
                    ((116, 202, 120), (104, 188, 108))
                } else {
                    ((74, 180, 98), (60, 164, 86))
                }
            }
            Surface::Fringe => {
                if dark {
                    ((58, 122, 72), (52, 112, 64))
                } else {
                    ((58, 142, 74), (50, 130, 66))
                }
            }
            Surface::Tee => {
                if dark {
                    ((124, 186, 112), (124, 186, 112))
                } else {
                    ((110, 186, 100), (110, 186, 100))
                }
            }
            Surface::Fairway => {
                if dark {
                    ((76, 142, 66), (88, 156, 76))
                } else {
                    ((146, 206, 128), (132, 194, 114))
                }
            }
            Surface::Trees => {
                if dark {
                    ((24, 58, 40), (44, 88, 58))
                } else {
                    ((84, 132, 92), (60, 106, 70))
                }
            }
            Surface::Deep => {
                if dark {
                    ((92, 96, 46), (120, 118, 60))
                } else {
                    ((172, 164, 88), (148, 140, 68))
                }
            }
            Surface::Waste => {
                if dark {
                    ((136, 118, 84), (112, 98, 68))
                } else {
                    ((206, 176, 132), (180, 152, 108))
                }
            }
            Surface::Rough => {
                if dark {
                    ((48, 84, 46), (54, 92, 50))
                } else {
                    ((188, 216, 170), (178, 208, 160))
                }
            }
        }
    }

    /// A box of two in three: of a neighbour (1), of the club looked at (2), where both lie (3).
    pub fn scatter(self, level: u8) -> Color {
        let rgb = match (level, self.light) {
            (0 | 1, false) => (54, 76, 92),
            (2, false) => (196, 150, 70),
            (_, false) => (164, 124, 58),
            (0 | 1, true) => (190, 208, 222),
            (2, true) => (232, 190, 112),
            (_, true) => (214, 168, 88),
        };
        self.colour(rgb)
    }

    /// The same as a character with its style, where half-cells cannot be painted.
    pub fn scatter_texture(self, level: u8) -> (char, Style) {
        let glyph = match (level, self.ascii) {
            (0 | 1, false) => '░',
            (2, false) => '▒',
            (_, false) => '▓',
            (0 | 1, true) => ':',
            (2, true) => '#',
            (_, true) => '%',
        };
        let style = match (self.depth, level) {
            (Depth::None, _) => Style::new(),
            (_, 0 | 1) => Style::new().fg(Color::DarkGray),
            _ => Style::new().fg(Color::Yellow),
        };
        (glyph, style)
    }

    /// What a ball there is worth, from the fewest strokes (0) to the most (6): on the green and beside it; `plain` paints no worth.
    pub fn leave(self, on_green: bool, level: usize, plain: bool) -> Color {
        if plain {
            return self.surface(if on_green { Surface::Green } else { Surface::Rough }).0;
        }
        const DARK: [(u8, u8, u8); 7] =
            [(38, 128, 84), (54, 122, 72), (86, 124, 60), (124, 122, 52), (150, 104, 46), (158, 80, 46), (146, 54, 48)];
        const LIGHT: [(u8, u8, u8); 7] = [
            (120, 208, 150),
            (150, 214, 140),
            (188, 216, 128),
            (222, 212, 120),
            (236, 190, 116),
            (240, 164, 118),
            (236, 138, 126),
        ];
        const BESIDE: [(u8, u8, u8); 2] = [(58, 60, 56), (44, 45, 43)];
        const BESIDE_LIGHT: [(u8, u8, u8); 2] = [(214, 214, 206), (192, 192, 186)];
        let of = |list: &[(u8, u8, u8)], at: usize| list.get(at.min(list.len() - 1)).copied().unwrap_or_default();
        let rgb = match (on_green, self.light) {
            (true, false) => of(&DARK, level),
            (true, true) => of(&LIGHT, level),
            (false, false) => of(&BESIDE, usize::from(level > 5)),
            (false, true) => of(&BESIDE_LIGHT, usize::from(level > 5)),
        };
        self.colour(rgb)
    }

    /// Ink on those shades.
    pub fn leave_ink(self) -> Color {
        self.colour(if self.light { (16, 18, 16) } else { (246, 246, 240) })
    }

    /// The same as a character with its style, where half-cells cannot be painted.
    pub fn leave_texture(self, on_green: bool, level: usize) -> (char, Style) {
        const MARKS: [char; 7] = [' ', '·', ':', '░', '▒', '▓', '█'];
        const PLAIN: [char; 7] = [' ', '.', ':', '-', '=', '#', '@'];
        if !on_green {
            return (' ', Style::new());
        }
        let of = if self.ascii { &PLAIN } else { &MARKS };
        (of.get(level).copied().unwrap_or('#'), self.quiet())
    }

    /// Whether the half-cell at this column and half-row belongs to the pattern rather than the ground of a surface.
    pub fn pattern(surface: Surface, column: usize, half_row: usize) -> bool {
        match surface {
            // Mown stripes run across the line of play.
            Surface::Fairway | Surface::Fringe => (column / 4).is_multiple_of(2),
            Surface::Green => (column / 2 + half_row / 2).is_multiple_of(2),
            Surface::Tee => false,
            Surface::Out => (column + half_row).is_multiple_of(4),
            Surface::PenaltyRed | Surface::PenaltyYellow => {
                (column + 3 * (half_row / 2)).is_multiple_of(7) && half_row % 2 == 1
            }
            Surface::Bunker => column.is_multiple_of(2) && half_row.is_multiple_of(2),
            Surface::Trees => (column + 2 * half_row) % 5 < 2,
            Surface::Deep => (3 * column + half_row).is_multiple_of(4),
            Surface::Waste => (column + 3 * half_row).is_multiple_of(5),
            Surface::Rough => (5 * column + 3 * half_row).is_multiple_of(11),
        }
    }

    /// The character of a surface where half-cells cannot be painted.
    pub fn texture(self, surface: Surface) -> char {
        if self.ascii {
            match surface {
                Surface::Out => '#',
                Surface::PenaltyRed => '~',
                Surface::PenaltyYellow => '=',
                Surface::Bunker => ':',
                Surface::Green => '@',
                Surface::Fringe => 'o',
                Surface::Tee => 'T',
                Surface::Fairway => '-',
                Surface::Trees => '^',
                Surface::Deep => '"',
                Surface::Waste => ',',
                Surface::Rough => ' ',
            }
        } else {
            match surface {
                Surface::Out => '╱',
                Surface::PenaltyRed => '≈',
                Surface::PenaltyYellow => '≋',
                Surface::Bunker => '∴',
                Surface::Green => '▓',
                Surface::Fringe => '▒',
                Surface::Tee => '▪',
                Surface::Fairway => '░',
                Surface::Trees => '♠',
                Surface::Deep => '"',
                Surface::Waste => ',',
                Surface::Rough => ' ',
            }
        }
    }

    /// The colour of a surface's character in sixteen colours.
    pub fn texture_style(self, surface: Surface) -> Style {
        if self.depth == Depth::None {
            return Style::new();
        }
        let colour = match surface {
            Surface::Out | Surface::Rough => Color::DarkGray,
            Surface::PenaltyRed => Color::Red,
            Surface::PenaltyYellow => Color::Yellow,
            Surface::Bunker | Surface::Waste | Surface::Deep => Color::Yellow,
            Surface::Green | Surface::Fringe | Surface::Tee => Color::LightGreen,
            Surface::Fairway | Surface::Trees => Color::Green,
        };
        Style::new().fg(colour)
    }

    /// The dark and light inks for letters on painted ground.
    pub fn ink_on(self, surface: Surface) -> Color {
        let dark_ground = match surface {
            Surface::Bunker | Surface::Green | Surface::Tee | Surface::Fringe => false,
            Surface::Fairway | Surface::Waste | Surface::Rough | Surface::Deep | Surface::Out => !self.light,
            Surface::Trees | Surface::PenaltyRed | Surface::PenaltyYellow => true,
        };
        self.colour(if dark_ground { (250, 250, 244) } else { (16, 20, 14) })
    }

    /// A full dot for a stroke received, a hollow one for a stroke given back.
    pub fn dots(self, strokes: i32) -> String {
        let (full, hollow) = if self.ascii { ('*', 'o') } else { ('●', '○') };
        match strokes {
            0 => String::new(),
            n @ 1..=3 => std::iter::repeat_n(full, n as usize).collect(),
            n if n > 3 => format!("{n}{full}"),
            n @ -2..=-1 => std::iter::repeat_n(hollow, n.unsigned_abs() as usize).collect(),
            n => format!("{}{hollow}", -n),
        }
    }

    /// A separator between facts on one line.
    pub fn between(self) -> &'static str {
        if self.ascii { " - " } else { " · " }
    }

    /// `text` with every character that plain ASCII lacks replaced, when only ASCII may be shown.
    pub fn plain(self, text: &str) -> String {
        if !self.ascii || text.is_ascii() {
            return text.to_owned();
        }
        let mut out = String::with_capacity(text.len());
        for c in text.chars() {
            match c {
                c if c.is_ascii() => out.push(c),
                '–' | '—' | '−' | '·' | '•' => out.push('-'),
                '’' | '‘' | '′' => out.push('\''),
                '“' | '”' | '″' => out.push('"'),
                '…' => out.push_str("..."),
                '°' => out.push_str(" deg"),
                '●' => out.push('*'),
                '○' => out.push('o'),
                '½' => out.push_str("1/2"),
                '←' => out.push('<'),
                '→' => out.push('>'),
                '×' => out.push('x'),
                'à'..='å' | 'æ' => out.push('a'),
                'è'..='ë' => out.push('e'),
                'ì'..='ï' => out.push('i'),
                'ò'..='ö' | 'ø' => out.push('o'),
                'ù'..='ü' => out.push('u'),
                'ç' => out.push('c'),
                'ñ' => out.push('n'),
                _ => out.push('?'),
            }
        }
        out
    }
}

/// The nearest colour of the 6 × 6 × 6 cube or the grey ramp (xterm's 256 colours).
fn nearest_of_256((r, g, b): (u8, u8, u8)) -> u8 {
    let level = |v: u8| -> u8 {
        if v < 48 {
            0
        } else if v < 115 {
            1
        } else {
            ((u16::from(v) - 35) / 40) as u8
        }
    };
    let value = |l: u8| -> i32 { if l == 0 { 0 } else { 55 + 40 * i32::from(l) } };
    let far = |a: (i32, i32, i32)| -> i32 {
        let (x, y, z) = (a.0 - i32::from(r), a.1 - i32::from(g), a.2 - i32::from(b));
        x * x + y * y + z * z
    };
    let (lr, lg, lb) = (level(r), level(g), level(b));
    let cube = far((value(lr), value(lg), value(lb)));
    let mean = (i32::from(r) + i32::from(g) + i32::from(b)) / 3;
    let grey = ((mean - 8).clamp(0, 230) / 10) as u8;
    let shade = 8 + 10 * i32::from(grey);
    if far((shade, shade, shade)) < cube { 232 + grey.min(23) } else { 16 + 36 * lr + 6 * lg + lb }
}

/// `share` of `over` in `under`.
fn mixed(under: (u8, u8, u8), over: (u8, u8, u8), share: f64) -> (u8, u8, u8) {
    let one = |a: u8, b: u8| (f64::from(a) * (1.0 - share) + f64::from(b) * share).round() as u8;
    (one(under.0, over.0), one(under.1, over.1), one(under.2, over.2))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn looks(pairs: &[(&str, &str)]) -> Looks {
        Looks::from_environment(|k| pairs.iter().find(|(n, _)| *n == k).map(|(_, v)| (*v).to_owned()))
    }

    #[test]
    fn the_environment_decides_the_depth() {
        assert_eq!(looks(&[("TERM", "xterm-256color")]).depth, Depth::Indexed);
        assert_eq!(looks(&[("TERM", "xterm"), ("COLORTERM", "truecolor")]).depth, Depth::True);
        assert_eq!(looks(&[("TERM", "xterm"), ("COLORTERM", "truecolor"), ("NO_COLOR", "1")]).depth, Depth::None);
        assert_eq!(
            looks(&[("TERM", "xterm"), ("NO_COLOR", "")]).depth,
            Depth::Sixteen,
            "an empty NO_COLOR does not count (no-color.org)"
        );
        assert!(looks(&[("COLORFGBG", "0;15")]).light);
    }

    #[test]
    fn every_surface_differs_from_every_other_without_colour() {
        let all = [
            Surface::Out,
            Surface::PenaltyRed,
            Surface::PenaltyYellow,
            Surface::Bunker,
            Surface::Green,
            Surface::Fringe,
            Surface::Tee,
            Surface::Fairway,
            Surface::Trees,
            Surface::Deep,
            Surface::Waste,
            Surface::Rough,
        ];
        for ascii in [false, true] {
            let looks = Looks { depth: Depth::None, ascii, light: false };
            let mut seen: Vec<char> = all.iter().map(|s| looks.texture(*s)).collect();
            seen.sort_unstable();
            seen.dedup();
            assert_eq!(seen.len(), all.len());
            assert!(!ascii || seen.iter().all(char::is_ascii));
        }
    }
}
