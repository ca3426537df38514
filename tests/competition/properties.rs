//! Properties: the order is total and stable, input order never matters, a worse card changes no winner, nine + nine.

use crate::scene::{competition, line, places, set_up};
use marram::competition::total;
use proptest::prelude::*;

const EVENTS: &str = "  - { name: net, play: stroke, ties: [ last 9, last 6, last 3, last hole, share ] }\n  - { name: gross, play: stroke, count: gross, ties: [ share ] }\n  - { name: points, play: stableford, ties: [ last 9, hole by hole, share ] }\n  - { name: par, play: par-bogey, ties: [ last 9, share ] }\n  - { name: max, play: maximum, maximum: net double bogey, ties: [ last 6, share ] }\n  - { name: front, play: stableford, holes: 1..9 }\n  - { name: back, play: stableford, holes: 10..18 }";

type Entry = (i32, Vec<u8>);

fn entries() -> impl Strategy<Value = Vec<Entry>> {
    prop::collection::vec((-4_i32..30, prop::collection::vec(2_u8..7, 18)), 2..12)
}

fn field(entries: &[(usize, &Entry)]) -> String {
    let holes: Vec<String> = (1..=18).map(|hole| format!("h{hole}")).collect();
    let mut text = format!("id,name,playing_handicap,{}\n", holes.join(","));
    for (id, (playing, scores)) in entries {
        let playing = if *playing < 0 { format!("+{}", -playing) } else { playing.to_string() };
        let scores: Vec<String> = scores.iter().map(u8::to_string).collect();
        // Names repeat, so that only ids tell lines apart.
        text += &format!("P{id},Name {},{playing},{}\n", id % 3, scores.join(","));
    }
    text
}

const NAMES: [&str; 7] = ["net", "gross", "points", "par", "max", "front", "back"];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn input_order_never_matters(entries in entries(), turn in 0_usize..12) {
        let numbered: Vec<(usize, &Entry)> = entries.iter().enumerate().collect();
        let mut turned = numbered.clone();
        let at = turn % turned.len();
        turned.rotate_left(at);
        turned.reverse();
        let (a, b) = (competition(&set_up(1, EVENTS), &field(&numbered), None), competition(&set_up(1, EVENTS), &field(&turned), None));
        let (a, b) = (total(&a), total(&b));
        for name in NAMES {
            prop_assert_eq!(places(&a, name), places(&b, name));
        }
    }

    #[test]
    fn the_order_is_total(entries in entries()) {
        let numbered: Vec<(usize, &Entry)> = entries.iter().enumerate().collect();
        let competition = competition(&set_up(1, EVENTS), &field(&numbered), None);
        let totals = total(&competition);
        for name in NAMES {
            let places = places(&totals, name);
            prop_assert_eq!(places.len(), entries.len());
            for (at, (_, place, tied, _)) in places.iter().enumerate() {
                let sharers = places.iter().filter(|other| other.1 == *place).count();
                prop_assert_eq!(*tied, sharers > 1);
                // 1, 1, 3: a place is one more than the lines before it.
                let before = places.iter().filter(|other| other.1 < *place).count();
                prop_assert_eq!(place.unwrap(), before + 1);
                prop_assert!(before <= at);
            }
        }
    }

    #[test]
    fn a_worse_card_changes_no_winner(entries in entries(), worse in 1_u8..4) {
        let numbered: Vec<(usize, &Entry)> = entries.iter().enumerate().collect();
        let before = competition(&set_up(1, EVENTS), &field(&numbered), None);
        // Worse than somebody on every hole, with the same handicap.
        let (playing, scores) = &entries[0];
        let added: Entry = (*playing, scores.iter().map(|score| score + worse).collect());
        let mut more = numbered.clone();
        more.push((entries.len(), &added));
        let after = competition(&set_up(1, EVENTS), &field(&more), None);
        let (before, after) = (total(&before), total(&after));
        for name in ["net", "gross"] {
            let winners = |places: Vec<(String, Option<usize>, bool, Option<String>)>| -> Vec<String> {
                places.into_iter().filter(|place| place.1 == Some(1)).map(|place| place.0).collect()
            };
            prop_assert_eq!(winners(places(&before, name)), winners(places(&after, name)));
        }
    }

    #[test]
    fn nine_and_nine_make_eighteen(entries in entries()) {
        let numbered: Vec<(usize, &Entry)> = entries.iter().enumerate().collect();
        let competition = competition(&set_up(1, EVENTS), &field(&numbered), None);
        let totals = total(&competition);
        for (id, _) in &numbered {
            let of = |name: &str| line(&totals, name, &format!("P{id}")).clone();
            let (front, back, whole) = (of("front"), of("back"), of("points"));
            prop_assert_eq!(front.points.unwrap() + back.points.unwrap(), whole.points.unwrap());
            prop_assert_eq!(front.gross.unwrap() + back.gross.unwrap(), whole.gross.unwrap());
            prop_assert_eq!(front.strokes_received.unwrap() + back.strokes_received.unwrap(), whole.strokes_received.unwrap());
            prop_assert_eq!(front.net.unwrap() + back.net.unwrap(), whole.net.unwrap());
        }
    }
}
