//! How long reviews take: `cargo bench --bench review`. A fully logged round, a season of 100 rounds, a target over 18 holes.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing)]

#[path = "../tests/review/seasons.rs"]
#[allow(dead_code)]
mod seasons;

use divan::Bencher;
use marram::review::season::season;
use marram::review::target::Target;
use marram::review::{Look, RoundCase, need, review_round, review_rounds};
use marram::shelf;
use marram::store::{Shelf, Store};
use std::sync::OnceLock;
use std::sync::atomic::AtomicBool;

static GO: AtomicBool = AtomicBool::new(false);

fn main() {
    divan::main();
}

/// A hundred rounds of one player, as they lie on a shelf.
fn shelf_of_rounds() -> &'static tempfile::TempDir {
    static MADE: OnceLock<tempfile::TempDir> = OnceLock::new();
    MADE.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        seasons::make(folder.path(), &seasons::ORLA, 100);
        folder
    })
}

fn cases() -> Vec<RoundCase> {
    let store = Store::new(Shelf::at(shelf_of_rounds().path()));
    let (rounds, _) = shelf::rounds_of(&store, "Orla Fenwick", "2026-12-01");
    rounds.into_iter().map(|(past, player)| RoundCase { session: past.session, player }).collect()
}

/// Number: under 300 ms.
#[divan::bench(sample_count = 10)]
fn one_logged_round(bencher: Bencher) {
    let case = cases().swap_remove(0);
    bencher.bench_local(|| review_round(&case, &GO).unwrap());
}

/// Number: under 2 s, the reading of the hundred logs and notebooks included.
#[divan::bench(sample_count = 3)]
fn season_of_a_hundred_rounds(bencher: Bencher) {
    shelf_of_rounds();
    bencher.bench_local(|| {
        let cases = cases();
        let reviews = review_rounds(&cases, Look::Quick, true, &GO);
        season(&cases, &reviews)
    });
}

/// The part of it that reads.
#[divan::bench(sample_count = 3)]
fn reading_a_hundred_rounds(bencher: Bencher) {
    shelf_of_rounds();
    bencher.bench_local(cases);
}

/// Number: under 1 s.
#[divan::bench(sample_count = 5)]
fn plan_for_a_target(bencher: Bencher) {
    let session = shelf::example("2026-05-16");
    bencher.bench_local(|| need(&session, 0, Target::Points(36), &GO).unwrap());
}
