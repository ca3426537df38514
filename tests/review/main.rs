//! Reviews of whole seasons: what was put into three invented players is what the review finds.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod bad_input;
mod need;
mod seasons;

use marram::pattern::Pattern;
use marram::review::propose::{Proposed, clubs, of_clubs, of_holes};
use marram::review::season::{Season, season};
use marram::review::{Look, RoundCase, RoundReview, Verdict, review_round, review_rounds, show};
use marram::shelf;
use marram::store::{Shelf, Store};
use marram::units::LengthUnit;
use seasons::{Invented, JESS, ORLA, TAM, make};
use std::sync::OnceLock;
use std::sync::atomic::AtomicBool;

const ROUNDS: usize = 24;

/// A season, reviewed.
pub struct Reviewed {
    pub cases: Vec<RoundCase>,
    pub reviews: Vec<RoundReview>,
    pub season: Season,
}

pub fn cases(folder: &std::path::Path, name: &str) -> Vec<RoundCase> {
    let store = Store::new(Shelf::at(folder));
    let (rounds, words) = shelf::rounds_of(&store, name, "2026-12-01");
    assert!(words.is_empty(), "{words:?}");
    rounds.into_iter().map(|(past, player)| RoundCase { session: past.session, player }).collect()
}

fn reviewed(who: &Invented) -> Reviewed {
    let folder = match std::env::var_os("MARRAM_KEEP_SEASONS") {
        Some(keep) => std::path::PathBuf::from(keep).join(marram::round::slug(who.name)),
        None => tempfile::tempdir().unwrap().keep(),
    };
    make(&folder, who, ROUNDS);
    let cases = cases(&folder, who.name);
    assert_eq!(cases.len(), ROUNDS);
    let found = review_rounds(&cases, Look::Quick, true, &AtomicBool::new(false));
    let season = season(&cases, &found);
    if std::env::var_os("MARRAM_KEEP_SEASONS").is_none() {
        std::fs::remove_dir_all(&folder).unwrap();
    }
    Reviewed { cases, reviews: found.into_iter().map(|r| r.unwrap()).collect(), season }
}

fn orla() -> &'static Reviewed {
    static MADE: OnceLock<Reviewed> = OnceLock::new();
    MADE.get_or_init(|| reviewed(&ORLA))
}

fn tam() -> &'static Reviewed {
    static MADE: OnceLock<Reviewed> = OnceLock::new();
    MADE.get_or_init(|| reviewed(&TAM))
}

fn jess() -> &'static Reviewed {
    static MADE: OnceLock<Reviewed> = OnceLock::new();
    MADE.get_or_init(|| reviewed(&JESS))
}

fn proposals(of: &Reviewed) -> Vec<(String, String)> {
    let person = &of.cases[0].session.people[0];
    let pattern = Pattern::of(&person.bag, &person.skill());
    let found = of_clubs(&clubs(&of.reviews, &pattern), LengthUnit::Yards);
    found
        .into_iter()
        .filter_map(|p| match p.change {
            Proposed::Number { club, key, text } => Some((format!("{club} {key}"), text)),
            Proposed::Note { .. } => None,
        })
        .collect()
}

#[test]
fn the_driver_that_goes_right_is_found_and_nothing_else() {
    let of = orla();
    let found = proposals(of);
    let curve = found.iter().find(|(what, _)| what == "driver curve").unwrap_or_else(|| panic!("{found:?}"));
    let yards: f64 = curve.1.trim_end_matches('R').parse().unwrap();
    // Seven hundredths of a drive of about 220.
    assert!((11.0..=20.0).contains(&yards), "{found:?}");
    assert!(found.len() <= 2, "only the driver was wrong: {found:?}");
    let notes = of_holes(&of.reviews);
    let right = notes.iter().filter(|p| p.words.contains("ended right of the aim")).count();
    let left = notes.iter().filter(|p| p.words.contains("ended left of the aim")).count();
    assert!(right >= 3 && left <= 1, "{notes:?}");
}

#[test]
fn the_bad_putter_is_told_to_putt() {
    let season = &tam().season;
    let first = &season.practice[0];
    assert!(first.what.contains("putts") && first.is_sure(), "{:#?}", season.practice);
    let putting = season.parts.iter().find(|p| p.part == marram::review::Part::Putt).unwrap();
    assert_eq!(putting.each.verdict(), Verdict::Loses);
}

#[test]
fn an_iron_from_every_tee_shows_as_decisions() {
    let (orla, jess) = (&orla().season, &jess().season);
    assert!(
        -jess.decisions.0 > 0.5 && -jess.decisions.0 > 3.0 * -orla.decisions.0,
        "{:?} {:?}",
        jess.decisions,
        orla.decisions
    );
    let found = proposals(self::jess());
    assert!(found.iter().any(|(what, _)| what == "7 iron carry"), "{found:?}");
}

/// A known miss: Tam's clubs are what they were taken for, and of Jess's only the 7 iron's carry differs; yet the carry and the
/// box of the 3 wood are proposed too, and more of the 7 iron than its carry. What is left of the ground after it is taken out
/// of a finish is not noise. When this fails because there are fewer, the tests above take the stricter bound again: at most
/// one proposal for Tam, at most three for Jess.
#[test]
fn miss_more_is_proposed_than_was_put_in() {
    let names = |of: &Reviewed| proposals(of).into_iter().map(|(what, _)| what).collect::<Vec<_>>();
    let (tam, jess) = (names(tam()), names(jess()));
    assert!((2..=3).contains(&tam.len()) && tam.iter().all(|what| what.starts_with("3 wood")), "{tam:?}");
    let of_two_clubs = |what: &String| what.starts_with("3 wood") || what.starts_with("7 iron");
    assert!((4..=7).contains(&jess.len()) && jess.iter().all(of_two_clubs), "{jess:?}");
}

/// Decisions, executions and penalties of wholly logged holes sum to what the hole gained.
#[test]
fn strokes_gained_telescope() {
    for review in &orla().reviews {
        for hole in review.holes.iter().filter(|h| h.score.is_some()) {
            assert!(hole.not_told.abs() < 1e-6, "{} {}: {:?}", review.id, hole.hole, hole);
        }
    }
}

/// Who plays as expected scores as expected: the plan's own expectation holds within its interval for the player whose clubs and
/// choices are what they were taken for, the putter's faults apart.
#[test]
fn forecasts_are_kept_and_scored() {
    let of = orla();
    let all = of.season.ledger.all.unwrap();
    assert_eq!(all.n, ROUNDS * 18 - of.reviews.iter().flat_map(|r| &r.holes).filter(|h| h.score.is_none()).count());
    assert!(
        all.said > 0.2 && all.said < 0.95 && of.season.ledger.brier.unwrap() < 0.25,
        "{}",
        of.season.ledger.words()
    );
}

#[test]
fn pages_can_be_read() {
    let of = jess();
    let review = review_round(&of.cases[3], &AtomicBool::new(false)).unwrap();
    let lines = show::lines(&review);
    let text = lines.join("\n");
    for words in ["The holes that mattered", "The strokes that mattered", "against index 20.0", "Hole by hole"] {
        assert!(text.contains(words), "{text}");
    }
    let season = show::season_lines(&of.season).join("\n");
    for words in ["What to practise", "By par", "Eclectic", "Forecasts of net par"] {
        assert!(season.contains(words), "{season}");
    }
    let json = show::json(&review);
    assert_eq!(json["schema"], "marram/review/1");
    assert_eq!(json["holes"].as_array().unwrap().len(), 18);
    let csv = show::csv(std::slice::from_ref(&review));
    let columns = csv.lines().next().unwrap().split(',').count();
    let mut reader = csv::ReaderBuilder::new().from_reader(csv.as_bytes());
    assert!(reader.records().all(|r| r.unwrap().len() == columns));
}
