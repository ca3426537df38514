//! Cards for the tests: pars, strokes and scores as words; `_` is an empty hole.

use marram::scoring::{Ball, CardHole, HoleScore, Side};

pub fn ball(pars: &str, strokes: &str, scores: &str) -> Ball {
    let mut scores = scores.split_whitespace();
    let strokes = strokes.split_whitespace();
    let holes = pars.split_whitespace().zip(strokes).enumerate().map(|(at, (par, strokes))| CardHole {
        number: u8::try_from(at + 1).unwrap(),
        par: par.parse().unwrap(),
        strokes: strokes.parse().unwrap(),
        score: match scores.next() {
            None | Some("_") => HoleScore::Empty,
            Some(text) => HoleScore::parse(text).unwrap(),
        },
    });
    Ball { holes: holes.collect() }
}

pub fn sides_of(balls: Vec<Ball>) -> Side {
    Side::new(balls)
}

pub fn side(pars: &str, strokes: &str, scores: &str) -> Side {
    Side::new(vec![ball(pars, strokes, scores)])
}

pub fn from_parts(pars: &[u8], strokes: &[i32], gross: &[u8]) -> Side {
    let holes = pars.iter().zip(strokes).zip(gross).enumerate().map(|(at, ((&par, &strokes), &gross))| CardHole {
        number: u8::try_from(at + 1).unwrap(),
        par,
        strokes,
        score: HoleScore::gross_of(gross).unwrap(),
    });
    Side::new(vec![Ball { holes: holes.collect() }])
}
