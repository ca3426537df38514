//! The pocket book of eighteen holes from plans already solved: PDF under 300 ms, text under 20 ms.

use divan::Bencher;
use marram::plan::Frozen;
use marram::print::{About, Book, Wish, book, lay, pdf, svg, text};
use marram::session::Session;
use marram::shelf::{Wanted, open_course};
use std::path::{Path, PathBuf};

fn main() {
    divan::main();
}

fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses").join(name)
}

#[expect(clippy::unwrap_used, reason = "a benchmark without its sample says so")]
fn corvane() -> (Session, Frozen) {
    let wanted = Wanted {
        players: vec![(sample("players/wren-hallam.yaml"), None)],
        day: Some(sample("days/2026-05-16-corvane.yaml")),
        holes: None,
    };
    let session = open_course(&sample("corvane.yaml"), &wanted, "2026-05-16").unwrap();
    let plan = std::fs::read_to_string(sample("plans/2026-05-16-corvane-links-a.json")).unwrap();
    (session, serde_json::from_str(&plan).unwrap())
}

fn wish(draws: bool) -> Wish {
    Wish { competition: true, draws, ..Wish::default() }
}

#[divan::bench(sample_count = 20)]
fn book_as_pdf(bencher: Bencher<'_, '_>) {
    let (session, frozen) = corvane();
    bencher.bench(|| {
        let wish = wish(true);
        let made = Book::new(&session, 0, None, Some(&frozen), &wish)?;
        let pages = lay(&book::book(&made, &wish), wish.page).pages;
        pdf(&pages, &About::default()).ok()
    });
}

#[divan::bench(sample_count = 20)]
fn book_as_svg(bencher: Bencher<'_, '_>) {
    let (session, frozen) = corvane();
    bencher.bench(|| {
        let wish = wish(true);
        let made = Book::new(&session, 0, None, Some(&frozen), &wish)?;
        let pages = lay(&book::book(&made, &wish), wish.page).pages;
        Some(pages.iter().map(|p| svg(p).len()).sum::<usize>())
    });
}

#[divan::bench(sample_count = 20)]
fn book_as_text(bencher: Bencher<'_, '_>) {
    let (session, frozen) = corvane();
    bencher.bench(|| {
        let wish = wish(false);
        let made = Book::new(&session, 0, None, Some(&frozen), &wish)?;
        Some(text(&book::book(&made, &wish)))
    });
}
