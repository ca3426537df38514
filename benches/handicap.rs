//! Speed of the handicap and scoring rooms: a field of 10,000, a record of 2,000 scores, cards.
//!
//! `cargo bench --bench handicap`. Wanted: the field under 0.5 s from text to text, the record with every intermediate
//! index under 50 ms.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use chrono::{Days, NaiveDate};
use clap::Parser;
use divan::{Bencher, black_box};
use marram::cli::handicap::{Card, CourseRatings, HandicapArgs, NamedText, RatedTee, Surroundings, command};
use marram::handicap::{
    Holes, Nine, Pcc, Play, Returned, Rules, Score, StrokeIndexes, TeeRating, index_from_record, next_round,
    strokes_by_hole,
};
use marram::scoring::{Ball, CardHole, HoleScore, MaximumScore, Side, Terms, format};
use marram::units::tenths::{SlopeRating, Tenths};

const CARD: [u8; 18] = [5, 13, 1, 11, 17, 3, 15, 7, 9, 6, 14, 2, 12, 18, 4, 16, 8, 10];

fn main() {
    divan::main();
}

#[derive(Parser)]
struct Typed {
    #[command(flatten)]
    handicap: HandicapArgs,
}

struct Links;

impl CourseRatings for Links {
    fn rated(&self, tee: Option<&str>, card: Card, _nine: Option<Nine>) -> Result<RatedTee, String> {
        Ok(RatedTee {
            name: tee.unwrap_or("Back").to_owned(),
            rating: TeeRating {
                holes: Holes::Eighteen,
                rating: Tenths::new(if card == Card::Men { 712 } else { 770 }),
                slope: SlopeRating::new(131).unwrap(),
                par: 72,
            },
            stroke_indexes: CARD.to_vec(),
        })
    }
}

fn field(entries: usize) -> String {
    let mut text = "id,name,handicap_index,tee,ratings\r\n".to_owned();
    for entry in 0..entries {
        let tenths = (entry * 37) % 540;
        let card = if entry % 3 == 0 { "women" } else { "men" };
        text.push_str(&format!("M{entry:05},Player {entry},{}.{},Back,{card}\r\n", tenths / 10, tenths % 10));
    }
    text
}

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 5, 16).unwrap()
}

#[divan::bench(args = [100, 10_000])]
fn field_from_text_to_json(bencher: Bencher<'_, '_>, entries: usize) {
    let text = field(entries);
    let typed =
        Typed::parse_from(["handicap", "field", "field.csv", "--course", "links", "--play", "stroke", "--json"]);
    let read = |name: &str| Ok(NamedText { name: name.to_owned(), text: text.clone() });
    let course = |_: &str| -> Result<Box<dyn CourseRatings>, String> { Ok(Box::new(Links)) };
    let around = Surroundings { today: today(), read: &read, course: &course };
    bencher.bench_local(|| {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        assert_eq!(command(&typed.handicap, &around, &mut out, &mut err), 0);
        out
    });
}

fn record(scores: u64) -> Vec<Score> {
    (0..scores)
        .map(|n| Score {
            date: NaiveDate::from_ymd_opt(2015, 1, 1).unwrap() + Days::new(n * 2),
            returned: Returned::Full {
                holes: if n % 7 == 3 { Holes::Nine } else { Holes::Eighteen },
                adjusted_gross: i32::try_from(if n % 7 == 3 { 42 + n * 13 % 9 } else { 80 + n * 31 % 23 }).unwrap(),
                rating: Tenths::new(if n % 7 == 3 { 353 } else { 712 }),
                slope: SlopeRating::new(u32::try_from(100 + n % 40).unwrap()).unwrap(),
                pcc: Pcc::default(),
            },
            official: None,
        })
        .collect()
}

#[divan::bench(args = [20, 2_000])]
fn record_with_every_index(bencher: Bencher<'_, '_>, scores: u64) {
    let scores = record(scores);
    bencher.bench_local(|| index_from_record(black_box(&scores), &Rules::default()));
}

#[divan::bench]
fn what_the_next_round_must_be(bencher: Bencher<'_, '_>) {
    let worked = index_from_record(&record(2_000), &Rules::default());
    bencher.bench_local(|| next_round(black_box(&worked.record), today()));
}

fn side(playing: i32) -> Side {
    let strokes = strokes_by_hole(playing, &StrokeIndexes::new(&CARD).unwrap());
    let holes = strokes.iter().zip(1_u8..).map(|(&strokes, number)| CardHole {
        number,
        par: 4,
        strokes,
        score: HoleScore::Gross(3 + number % 4),
    });
    Side::new(vec![Ball { holes: holes.collect() }])
}

#[divan::bench(args = ["stroke", "stableford", "par-bogey", "maximum"])]
fn standings_of_10_000_cards(bencher: Bencher<'_, '_>, name: &str) {
    let terms = Terms { maximum: Some(MaximumScore::NetDoubleBogey), ..Terms::net(18) };
    let game = format(Play::parse(name).unwrap(), terms).unwrap();
    let cards: Vec<Side> = (0..10_000).map(|n| side(n % 40)).collect();
    bencher.bench_local(|| {
        cards.iter().filter_map(|card| game.standing(std::slice::from_ref(card), 0, 18).figure).sum::<i32>()
    });
}

#[divan::bench]
fn state_of_a_match_after_a_key(bencher: Bencher<'_, '_>) {
    let game = format(Play::parse("match").unwrap(), Terms::net(18)).unwrap();
    let sides = [side(4), side(0)];
    bencher.bench_local(|| game.words(black_box(&sides), 0, 12));
}
