//! Palettes that hold for eyes that see fewer colours: contrast of text, and neighbouring ground told apart.
//!
//! # References
//! WCAG 2.1 (W3C, 2018), 1.4.3: contrast of text at least 4.5 to 1, by relative luminance. Machado, Oliveira and Fernandes,
//! *A physiologically-based model for simulation of color vision deficiency* (IEEE TVCG 15/6, 2009): matrices at full
//! severity, `from memory`. CIE 1976 L*a*b* distance; 10 is seen at a glance between fields side by side (`from memory`).

use marram::ground::Surface;
use marram::tui::looks::{Depth, Looks};
use ratatui::style::{Color, Style};

type Linear = [f64; 3];

const EYES: [(&str, [[f64; 3]; 3]); 4] = [
    ("all colours", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
    (
        "no red cones",
        [[0.152_286, 1.052_583, -0.204_868], [0.114_503, 0.786_281, 0.099_216], [-0.003_882, -0.048_116, 1.051_998]],
    ),
    (
        "no green cones",
        [[0.367_322, 0.860_646, -0.227_968], [0.280_085, 0.672_501, 0.047_413], [-0.011_820, 0.042_940, 0.968_881]],
    ),
    (
        "no blue cones",
        [[1.255_528, -0.076_749, -0.178_779], [-0.078_411, 0.930_809, 0.147_602], [0.004_733, 0.691_367, 0.303_900]],
    ),
];

fn linear(colour: Color) -> Linear {
    let Color::Rgb(r, g, b) = colour else { panic!("{colour:?} is not a true colour") };
    [r, g, b].map(|c| {
        let c = f64::from(c) / 255.0;
        if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    })
}

fn seen(colour: Linear, eye: &[[f64; 3]; 3]) -> Linear {
    eye.map(|row| row.iter().zip(colour).map(|(m, c)| m * c).sum::<f64>().clamp(0.0, 1.0))
}

fn luminance([r, g, b]: Linear) -> f64 {
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

fn lab([r, g, b]: Linear) -> [f64; 3] {
    let f = |t: f64| if t > 0.008_856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 };
    let x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
    let y = f(luminance([r, g, b]));
    let z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

fn apart(a: Linear, b: Linear) -> f64 {
    lab(a).iter().zip(lab(b)).map(|(p, q)| (p - q).powi(2)).sum::<f64>().sqrt()
}

fn looks(light: bool) -> Looks {
    Looks { depth: Depth::True, ascii: false, light }
}

#[test]
fn text_stands_out_from_its_background() {
    for light in [false, true] {
        let looks = looks(light);
        let ground = if light { 1.0 } else { 0.0 };
        let styles: [(&str, Style); 5] = [
            ("quiet", looks.quiet()),
            ("figure", looks.figure()),
            ("danger", looks.danger()),
            ("caution", looks.caution()),
            ("stroke", looks.stroke()),
        ];
        for (name, style) in styles {
            for (eye, matrix) in &EYES {
                let y = luminance(seen(linear(style.fg.unwrap()), matrix));
                let (high, low) = if y > ground { (y, ground) } else { (ground, y) };
                let contrast = (high + 0.05) / (low + 0.05);
                assert!(contrast >= 4.5, "{name}, light {light}, {eye}: {contrast:.1}");
            }
        }
    }
}

#[test]
fn ground_that_lies_side_by_side_is_told_apart_by_every_eye() {
    use Surface::*;
    let neighbours = [
        (Fairway, Rough),
        (Green, Fairway),
        (Green, Fringe),
        (Fringe, Fairway),
        (Bunker, Fairway),
        (Bunker, Rough),
        (Bunker, Green),
        (PenaltyRed, Fairway),
        (PenaltyRed, Rough),
        (PenaltyRed, Trees),
        (PenaltyYellow, Fairway),
        (PenaltyYellow, Rough),
        (Trees, Rough),
        (Out, Rough),
        (Out, Trees),
        (Deep, Rough),
        (Deep, Fairway),
        (Deep, Waste),
        (Waste, Rough),
        (Waste, Bunker),
        (Tee, Rough),
    ];
    for light in [false, true] {
        let looks = looks(light);
        for (a, b) in neighbours {
            let ((a1, a2), (b1, b2)) = (looks.surface(a), looks.surface(b));
            for (eye, matrix) in &EYES {
                let far = |p, q| apart(seen(linear(p), matrix), seen(linear(q), matrix));
                let distance = far(a1, b1).max(far(a2, b2));
                assert!(distance >= 10.0, "{a:?} beside {b:?}, light {light}, {eye}: {distance:.1}");
            }
        }
    }
}
