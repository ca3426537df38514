//! The letters that a drawing and the lines of a text share for its dangers.

use super::hole::Ground;

/// A letter for each danger of the ground: the feature's index and its letter, in the order of the features.
///
/// A named one takes a capital letter of its name, the first that is free, a leading article left out; all others take
/// a, b, c … in the order in which they begin along the hole. After z come the capitals that are left, and then none.
pub fn marks(ground: &Ground) -> Vec<(usize, char)> {
    let mut taken: Vec<char> = Vec::new();
    let mut marks: Vec<(usize, char)> = Vec::new();
    let mut unnamed: Vec<(f64, usize)> = Vec::new();
    let line = ground.line();
    for (index, feature) in ground.features.iter().enumerate() {
        if !feature.surface.is_danger() {
            continue;
        }
        let own = feature.named.then(|| letters_of(&feature.name).find(|letter| !taken.contains(letter))).flatten();
        match own {
            Some(letter) => {
                taken.push(letter);
                marks.push((index, letter));
            }
            None => {
                let begins = feature
                    .shapes
                    .iter()
                    .flat_map(|shape| &shape.outer)
                    .map(|point| line.locate(*point).0.0)
                    .fold(f64::INFINITY, f64::min);
                unnamed.push((begins, index));
            }
        }
    }
    unnamed.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let free = ('a'..='z').chain(('A'..='Z').filter(|letter| !taken.contains(letter)));
    marks.extend(unnamed.iter().map(|(_, index)| *index).zip(free));
    marks.sort_unstable();
    marks
}

/// The capital letters of a name in its order. Only plain letters, so that a bare terminal can show them.
fn letters_of(name: &str) -> impl Iterator<Item = char> + '_ {
    let lower = name.to_ascii_lowercase();
    let article = ["the ", "a ", "an "].into_iter().find(|article| lower.starts_with(article));
    let rest = name.get(article.map_or(0, str::len)..).unwrap_or(name);
    rest.chars().filter(char::is_ascii_alphabetic).map(|letter| letter.to_ascii_uppercase())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Face, Feature, Point, Polygon, Surface};
    use crate::units::Along;

    fn feature(name: &str, named: bool, surface: Surface, ahead: f64) -> Feature {
        let corners = [(0.0, 0.0), (0.0, 5.0), (5.0, 5.0)];
        let outer = corners.iter().map(|(x, y)| Point::new(*x, ahead + y)).collect();
        Feature {
            name: name.to_owned(),
            named,
            surface,
            face: Face::Usual,
            shapes: vec![Polygon { outer, inner: Vec::new() }],
        }
    }

    #[test]
    fn names_give_capitals_and_the_rest_come_in_order_of_the_hole() {
        let ground = Ground {
            bends: Vec::new(),
            length: Along(400.0),
            tees: Vec::new(),
            features: vec![
                feature("fairway", false, Surface::Fairway, 100.0),
                feature("Kettle", true, Surface::Bunker, 238.0),
                feature("left bunker", false, Surface::Bunker, 390.0),
                feature("the creek", true, Surface::PenaltyRed, 0.0),
                feature("Kiln", true, Surface::Bunker, 280.0),
                feature("K", true, Surface::Bunker, 300.0),
                feature("trees left", false, Surface::Trees, 60.0),
            ],
            green: None,
            heights: Vec::new(),
        };
        assert_eq!(marks(&ground), [(1, 'K'), (2, 'c'), (3, 'C'), (4, 'I'), (5, 'b'), (6, 'a')]);
        assert_eq!(marks(&ground.mirrored()), marks(&ground));
    }
}
