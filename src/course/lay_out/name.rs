//! Names for ground that nobody named, from its kind and place: `left bunker`, `greenside right bunker`.

use crate::ground::{Feature, HoleLine, Point, Putting, Surface};

/// How near the green a bunker must be to be called greenside, yards.
const GREENSIDE: f64 = 20.0;

/// Gives every feature without a name one made of its kind and place. Features alike in kind and place share it; the
/// letters of the drawing keep them apart.
pub fn name_the_unnamed(features: &mut [Feature], line: &HoleLine, green: Option<&Putting>) {
    for feature in features.iter_mut().filter(|feature| !feature.named) {
        feature.name = made_of_place(feature, line, green);
    }
}

fn made_of_place(feature: &Feature, line: &HoleLine, green: Option<&Putting>) -> String {
    let word = feature.surface.word();
    if matches!(feature.surface, Surface::Fairway | Surface::Green | Surface::Fringe | Surface::Rough) {
        return word.to_owned();
    }
    let places: Vec<(f64, f64)> = feature
        .shapes
        .iter()
        .flat_map(|shape| shape.outer.iter())
        .map(|point| line.locate(*point))
        .map(|(at, across)| (at.0, across.0))
        .collect();
    let least = |pick: fn(&(f64, f64)) -> f64| places.iter().map(pick).fold(f64::INFINITY, f64::min);
    let most = |pick: fn(&(f64, f64)) -> f64| places.iter().map(pick).fold(f64::NEG_INFINITY, f64::max);
    let (left, right) = (least(|p| p.1), most(|p| p.1));
    let (near, far) = (least(|p| p.0), most(|p| p.0));
    let greenside = green.filter(|green| {
        // Most bunkers lie so far from the green that its rectangle tells.
        let round = green.outline.bounds();
        let near = |point: &Point| round.distance(*point) <= GREENSIDE && green.outline.distance(*point) <= GREENSIDE;
        feature.surface == Surface::Bunker && feature.shapes.iter().flat_map(|shape| &shape.outer).any(near)
    });
    if let Some(green) = greenside {
        let middle = line.locate(green.middle);
        let (ahead, aside) = ((near + far) / 2.0 - middle.0.0, (left + right) / 2.0 - middle.1.0);
        let beside = aside.abs() / (green.width / 2.0) >= ahead.abs() / (green.depth / 2.0);
        return match (beside, aside < 0.0, ahead < 0.0) {
            (true, true, _) => format!("greenside left {word}"),
            (true, false, _) => format!("greenside right {word}"),
            (false, _, true) => format!("{word} short of the green"),
            (false, _, false) => format!("{word} behind the green"),
        };
    }
    let side = if right <= 0.0 {
        "left"
    } else if left >= 0.0 {
        "right"
    } else if near >= line.length().0 {
        "far"
    } else {
        "crossing"
    };
    match feature.surface {
        Surface::Out => match side {
            "crossing" => "out of bounds".to_owned(),
            "far" => "out of bounds behind the green".to_owned(),
            side => format!("out of bounds {side}"),
        },
        Surface::Trees if side == "left" || side == "right" => format!("trees {side}"),
        Surface::Trees | Surface::Deep | Surface::Waste if side == "crossing" => format!("{word} across the line"),
        Surface::Deep | Surface::Waste if side == "left" || side == "right" => format!("{word} {side}"),
        _ if side == "far" => format!("{word} behind the green"),
        _ => format!("{side} {word}"),
    }
}
