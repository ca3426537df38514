//! The written papers measured from outside: PDF by a PDF library, SVG by an XML reader, never by the numbers that made them.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

use lopdf::content::Content;
use lopdf::{Document, Object, ObjectId};
use marram::course::Credit;
use marram::plan::{Frozen, FrozenHole};
use marram::print::impose::impose;
use marram::print::page::{INCH, Page};
use marram::print::{About, Book, Edition, Size, Wish, advice, book, lay, papers, pdf, svg, text};
use marram::round::replay;
use marram::session::Session;
use marram::shelf::{Wanted, open_course, write_book};
use marram::store::{Shelf, Store};
use marram::tui::story::Story;
use marram::tui::update::Effect;
use proptest::prelude::*;
use std::path::{Path, PathBuf};

fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses").join(name)
}

fn session(course: &str, day: Option<&str>) -> Session {
    let wanted =
        Wanted { players: vec![(sample("players/wren-hallam.yaml"), None)], day: day.map(sample), holes: None };
    open_course(&sample(course), &wanted, "2026-05-16").unwrap()
}

fn corvane() -> (Session, Frozen) {
    let plan = std::fs::read_to_string(sample("plans/2026-05-16-corvane-links-a.json")).unwrap();
    let frozen: Frozen = serde_json::from_str(&plan).unwrap();
    let log = std::fs::read(sample("rounds/2026-05-16-corvane-links-a.log")).unwrap();
    let round = replay(&log).state.unwrap();
    let place = round.opening().players.iter().position(|p| p.name == "Wren Hallam").unwrap();
    let own = frozen.holes.iter().filter(|h| h.player == place).cloned();
    let holes: Vec<FrozenHole> = own.map(|h| FrozenHole { player: 0, ..h }).collect();
    (session("corvane.yaml", Some("days/2026-05-16-corvane.yaml")), Frozen { holes, ..frozen })
}

fn pages_of(session: &Session, frozen: Option<&Frozen>, wish: &Wish) -> Vec<Page> {
    let made = Book::new(session, 0, None, frozen, wish).unwrap();
    lay(&book::book(&made, wish), wish.page).pages
}

fn competition() -> Wish {
    Wish { competition: true, ..Wish::default() }
}

fn number(object: &Object) -> f64 {
    match object {
        Object::Integer(n) => *n as f64,
        Object::Real(n) => f64::from(*n),
        other => panic!("{other:?} is no number"),
    }
}

fn media_box(document: &Document, page: ObjectId) -> (f64, f64) {
    let dictionary = document.get_dictionary(page).unwrap();
    let media = dictionary.get(b"MediaBox").unwrap().as_array().unwrap();
    let side: Vec<f64> = media.iter().map(number).collect();
    (side[2] - side[0], side[3] - side[1])
}

/// Every filled path of a page by its colour (per mille of red, green, blue), with its greatest width in points.
fn fills(document: &Document, page: ObjectId) -> Vec<([i64; 3], f64)> {
    let content = Content::decode(&document.get_page_content(page)).unwrap();
    let (mut colour, mut path, mut out) = ([0, 0, 0], Vec::new(), Vec::new());
    let mut matrix = [1.0, 0.0, 0.0, 1.0];
    let mut stack = Vec::new();
    for operation in &content.operations {
        let n: Vec<f64> = match operation.operator.as_str() {
            "m" | "l" | "c" | "rg" | "cm" | "scn" => {
                operation.operands.iter().filter(|o| !matches!(o, Object::Name(_))).map(number).collect()
            }
            _ => Vec::new(),
        };
        match operation.operator.as_str() {
            "q" => stack.push((colour, matrix)),
            "Q" => (colour, matrix) = stack.pop().unwrap(),
            "cm" => {
                let [a, b, c, d] = matrix;
                matrix = [n[0] * a + n[1] * c, n[0] * b + n[1] * d, n[2] * a + n[3] * c, n[2] * b + n[3] * d];
            }
            "rg" | "scn" if n.len() == 3 => colour = [0, 1, 2].map(|i| (n[i] * 1000.0).round() as i64),
            "m" | "l" => path.push((n[0], n[1])),
            "c" => path.extend([(n[0], n[1]), (n[2], n[3]), (n[4], n[5])]),
            "f" | "f*" | "F" | "B" | "B*" => {
                let place = |(x, y): &(f64, f64)| (x * matrix[0] + y * matrix[2], x * matrix[1] + y * matrix[3]);
                let points: Vec<(f64, f64)> = path.iter().map(place).collect();
                out.push((colour, across(&points)));
                path.clear();
            }
            "n" | "S" | "s" => path.clear(),
            _ => {}
        }
    }
    out
}

/// The greatest distance between two points: what no turning of the page changes.
fn across(points: &[(f64, f64)]) -> f64 {
    let mut most = 0.0f64;
    for (i, a) in points.iter().enumerate() {
        for b in &points[i + 1..] {
            most = most.max((a.0 - b.0).hypot(a.1 - b.1));
        }
    }
    most
}

/// The tint of greens on paper, (200, 224, 184) of 255, per mille.
const GREEN: [i64; 3] = [784, 878, 722];

fn green_across_yards(session: &Session) -> Vec<f64> {
    let course = session.course.as_ref().unwrap();
    let outline = |h: &marram::course::Hole| {
        let ring = &h.ground.green.as_ref().unwrap().outline.outer;
        across(&ring.iter().map(|p| (p.right, p.ahead)).collect::<Vec<_>>())
    };
    course.holes.iter().map(outline).collect()
}

/// Rules of Golf 2023, Interpretation 4.3a/1: an image of a green at most 3/8 inch to 5 yards (1:480) on paper of at most
/// 4¼ by 7 inches.
#[test]
fn greens_of_the_competition_edition_keep_the_limits_of_rule_4_3a() {
    let (session, frozen) = corvane();
    let written = pdf(&pages_of(&session, Some(&frozen), &competition()), &About::default()).unwrap();
    let document = Document::load_mem(&written).unwrap();
    let truth = green_across_yards(&session);
    let smallest = truth.iter().copied().fold(f64::INFINITY, f64::min);
    let mut on_green_pages = Vec::new();
    for (number, page) in document.get_pages() {
        let (w, h) = media_box(&document, page);
        let greens: Vec<f64> =
            fills(&document, page).into_iter().filter(|(colour, _)| *colour == GREEN).map(|(_, a)| a).collect();
        if greens.is_empty() {
            continue;
        }
        assert!(w <= 4.25 * 72.0 + 0.01 && h <= 7.0 * 72.0 + 0.01, "page {number} is {w} x {h}");
        let words = document.extract_text(&[number]).unwrap();
        // A sample in the key is no green.
        if words.contains("How to read") {
            continue;
        }
        if words.contains("1:480") {
            assert!(words.contains("Rule 4.3a"), "{words}");
            on_green_pages.extend(greens);
        } else {
            // In the drawing of a hole: whatever the green, smaller than 1:480 of the smallest of the course.
            for a in greens {
                assert!(smallest * 36.0 * 72.0 / a >= 480.0, "page {number}");
            }
        }
    }
    assert_eq!(on_green_pages.len(), truth.len());
    for (hole, (paper, yards)) in on_green_pages.iter().zip(&truth).enumerate() {
        let scale = yards * 36.0 * 72.0 / paper;
        assert!(scale >= 480.0, "hole {}: 1:{scale:.1}", hole + 1);
        assert!(scale < 800.0, "hole {}: 1:{scale:.1} is too small to be of use", hole + 1);
    }
}

#[test]
fn larger_pages_leave_the_greens_out_and_say_by_which_rule() {
    let (session, frozen) = corvane();
    let wish = Wish { page: Size::A5, ..competition() };
    let written = pdf(&pages_of(&session, Some(&frozen), &wish), &About::default()).unwrap();
    let document = Document::load_mem(&written).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    let told: Vec<String> = pages.iter().map(|p| document.extract_text(&[*p]).unwrap()).collect();
    assert!(told.iter().any(|t| t.contains("Interpretation 4.3a/1") && t.contains("No green is drawn")));
    assert!(!told.iter().any(|t| t.contains("1 : ")), "no green has a scale");
    for (number, page) in document.get_pages() {
        assert!(fills(&document, page).iter().all(|(c, _)| *c != GREEN), "page {number} shows a green");
    }
    // The hole-location sheet of eighteen greens may be larger, each green to the limit.
    let day = session.day.as_ref().map(|(d, _)| d).unwrap();
    let course = session.course.as_ref().unwrap();
    let sheet = papers::hole_locations(course, day, course.units);
    let written = pdf(&lay(&[sheet], Size::A4).pages, &About::default()).unwrap();
    let document = Document::load_mem(&written).unwrap();
    let page = *document.get_pages().values().next().unwrap();
    let greens: Vec<f64> = fills(&document, page).into_iter().filter(|(c, _)| *c == GREEN).map(|(_, a)| a).collect();
    let truth = green_across_yards(&session);
    assert_eq!(greens.len(), truth.len());
    for (paper, yards) in greens.iter().zip(&truth) {
        assert!(yards * 36.0 * 72.0 / paper >= 480.0);
    }
}

#[test]
fn a_practice_book_may_draw_greens_larger() {
    let (session, frozen) = corvane();
    let wish = Wish::default();
    let written = pdf(&pages_of(&session, Some(&frozen), &wish), &About::default()).unwrap();
    let document = Document::load_mem(&written).unwrap();
    let largest = document
        .get_pages()
        .values()
        .flat_map(|p| fills(&document, *p))
        .filter(|(c, _)| *c == GREEN)
        .map(|(_, a)| a)
        .fold(0.0, f64::max);
    let greatest = green_across_yards(&session).into_iter().fold(0.0, f64::max);
    assert!(greatest * 36.0 * 72.0 / largest < 480.0, "{largest}");
    let all: Vec<u32> = document.get_pages().keys().copied().collect();
    assert!(document.extract_text(&all).unwrap().contains("not to the limits of Rule 4.3a"));
}

#[test]
fn fonts_are_embedded_subsets_and_nothing_is_smaller_than_six_points() {
    let (session, frozen) = corvane();
    let written = pdf(&pages_of(&session, Some(&frozen), &competition()), &About::default()).unwrap();
    assert!(written.len() < 400_000, "{} bytes", written.len());
    let document = Document::load_mem(&written).unwrap();
    assert_eq!(document.get_pages().len(), 26);
    let (mut fonts, mut maps) = (0, 0);
    for object in document.objects.values() {
        let Ok(dictionary) = object.as_dict() else { continue };
        if dictionary.has(b"ToUnicode") {
            maps += 1;
        }
        if dictionary.get(b"Type").and_then(Object::as_name).is_ok_and(|t| t == b"FontDescriptor") {
            fonts += 1;
            let name = String::from_utf8_lossy(dictionary.get(b"FontName").unwrap().as_name().unwrap()).into_owned();
            // A subset's name begins with six letters and a plus (ISO 32000-1, 9.6.4).
            let (tag, rest) = name.split_once('+').unwrap();
            assert!(tag.len() == 6 && tag.bytes().all(|b| b.is_ascii_uppercase()) && rest.starts_with("SourceSans3"));
            assert!(dictionary.has(b"FontFile2") || dictionary.has(b"FontFile3"), "{name} is not embedded");
        }
    }
    assert_eq!((fonts, maps), (2, 2));
    for page in document.get_pages().into_values() {
        let content = Content::decode(&document.get_page_content(page)).unwrap();
        let mut scale = vec![1.0f64];
        for operation in &content.operations {
            match operation.operator.as_str() {
                "q" => scale.push(*scale.last().unwrap()),
                "Q" => drop(scale.pop()),
                "cm" => *scale.last_mut().unwrap() *= number(&operation.operands[3]).abs(),
                "Tf" => {
                    let size = number(&operation.operands[1]) * scale.last().unwrap();
                    assert!(size >= 6.0 - 1e-6, "{size} points");
                }
                _ => {}
            }
        }
    }
}

#[test]
fn the_same_book_has_the_same_bytes_and_its_words_can_be_copied() {
    let (session, frozen) = corvane();
    let wish = competition();
    let once = pdf(&pages_of(&session, Some(&frozen), &wish), &About::default()).unwrap();
    let again = pdf(&pages_of(&session, Some(&frozen), &wish), &About::default()).unwrap();
    assert_eq!(once, again);
    let document = Document::load_mem(&once).unwrap();
    let all: Vec<u32> = document.get_pages().keys().copied().collect();
    let told = document.extract_text(&all).unwrap();
    for words in
        ["Saltpan", "Wren Hallam", "Kettle", "as planned", "4¼", "Interpretation 4.3a/1", "Handicap Index 17.6"]
    {
        assert!(told.contains(words), "{words}");
    }
}

#[test]
fn names_in_any_european_script_reach_the_paper_and_come_back() {
    let (mut session, _) = corvane();
    let name = "Žofín & Ødegård – Παπαδάκη, Ґалаґан, Țepeș ß";
    session.course.as_mut().unwrap().name = name.to_owned();
    session.golfers[0].name = "Őri Łucja".to_owned();
    let pages = pages_of(&session, None, &Wish { greens: false, ..Wish::default() });
    let document = Document::load_mem(&pdf(&pages, &About::default()).unwrap()).unwrap();
    let front = document.extract_text(&[1]).unwrap();
    assert!(front.contains(name) && front.contains("Őri Łucja"), "{front}");
    assert!(svg(&pages[0]).contains("Žofín &amp; Ødegård – Παπαδάκη, Ґалаґан, Țepeș ß"));
}

#[test]
fn the_map_is_credited_on_every_page_that_shows_it_and_every_page_has_its_lines() {
    let (mut session, frozen) = corvane();
    session.course.as_mut().unwrap().credit = Some(Credit::openstreetmap());
    let pages = pages_of(&session, Some(&frozen), &competition());
    let document = Document::load_mem(&pdf(&pages, &About::default()).unwrap()).unwrap();
    for (number, page) in document.get_pages() {
        let words = document.extract_text(&[number]).unwrap().replace('\n', " ");
        let shows = fills(&document, page).iter().any(|(c, _)| *c == GREEN);
        if shows {
            for said in ["© OpenStreetMap contributors", "ODbL-1.0", "openstreetmap.org/copyright"] {
                assert!(words.contains(said), "page {number} lacks {said}");
            }
        }
        assert!(words.contains("Not official"), "page {number}");
        assert!(words.contains("2026-05-16") && words.contains("edition 2026-05"), "page {number}");
    }
}

#[test]
fn pictures_are_well_formed_and_say_the_same_words() {
    let (session, frozen) = corvane();
    for page in pages_of(&session, Some(&frozen), &competition()) {
        let text = svg(&page);
        let mut reader = quick_xml::Reader::from_str(&text);
        let mut words = Vec::new();
        let mut depth = 0;
        loop {
            match reader.read_event().unwrap() {
                quick_xml::events::Event::Start(_) => depth += 1,
                quick_xml::events::Event::End(_) => depth -= 1,
                quick_xml::events::Event::Text(t) if depth == 2 => {
                    words.push(t.to_string());
                }
                quick_xml::events::Event::Eof => break,
                _ => {}
            }
        }
        assert_eq!(depth, 0);
        assert!(words.iter().any(|w| w.contains("Not official")), "{}", page.name);
    }
}

#[test]
fn sheets_hold_every_page_once_and_their_size() {
    let (session, frozen) = corvane();
    let pages = pages_of(&session, Some(&frozen), &competition());
    for (paper, wide) in [(Size::A4, 297.0 / 25.4 * 72.0), (Size::LETTER, 11.0 * 72.0)] {
        let sheets = impose(&pages, Size::POCKET, paper).unwrap();
        let document = Document::load_mem(&pdf(&sheets, &About::default()).unwrap()).unwrap();
        // Twenty-six pages are seven folded sheets, both sides printed.
        assert_eq!(document.get_pages().len(), 14);
        let all: Vec<u32> = document.get_pages().keys().copied().collect();
        for page in document.get_pages().into_values() {
            assert!((media_box(&document, page).0 - wide).abs() < 0.02);
        }
        let told = document.extract_text(&all).unwrap();
        assert_eq!(
            told.matches("Saltpan").count(),
            pages.iter().map(|p| p.texts().iter().filter(|(w, _)| w.contains("Saltpan")).count()).sum::<usize>()
        );
        assert!(told.contains("turned on the short edge"));
    }
}

#[test]
fn text_picture_and_pdf_come_from_the_same_leaves() {
    let (session, frozen) = corvane();
    let wish = competition();
    let made = Book::new(&session, 0, None, Some(&frozen), &wish).unwrap();
    let leaves = book::book(&made, &wish);
    let plain = text(&leaves);
    let told = plain.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(plain.lines().all(|l| l.chars().count() <= 78), "a line is too long");
    let pages = lay(&leaves, wish.page).pages;
    let four = pages.iter().find(|p| p.name == "hole 4").unwrap();
    let joined: String = four.texts().iter().map(|(w, _)| format!("{w} ")).collect();
    // The figures of hole 4 from the Club tee, read off the sheet of the hole.
    let sheet = session.hole_sheet(3, 0, None, session.golfers[0].units).unwrap();
    let length = format!("{:.0} y", sheet.length.unwrap());
    assert!(plain.contains(&length) && joined.contains(&length), "{length}");
    for words in ["212", "229", "leaves 166"] {
        assert!(told.contains(words) && joined.contains(words), "{words}: {joined}");
    }
    // The plan on paper is the frozen one.
    let plan = frozen.hole(0, 3).unwrap();
    assert!(plain.contains(&plan.plays[0].shots[0].club));
}

#[test]
fn the_professionals_edition_shows_conditions_and_no_player() {
    let (session, frozen) = corvane();
    let wish = Wish { edition: Edition::Professional, ..Wish::default() };
    for tee in ["Back", "Forward"] {
        let made = Book::new(&session, 0, Some(tee), Some(&frozen), &wish).unwrap();
        let plain = text(&book::book(&made, &wish));
        assert!(plain.contains("Isla Thorne"));
        assert!(!plain.contains("Wren") && !plain.contains("net par or better"));
        assert!(plain.contains("for carries of"), "conditions are shown where no player is known");
        assert!(plain.contains(&format!("{tee} tee")));
    }
}

#[test]
fn a_new_edition_replaces_only_the_pages_that_changed() {
    let (session, _) = corvane();
    let mut newer = session.clone();
    let course = newer.course.as_mut().unwrap();
    course.edition = Some("2026-06".to_owned());
    course.holes[3].notes[0].written.text = Some("Rewritten for June.".to_owned());
    let wish = Wish { edition: Edition::Professional, ..Wish::default() };
    let leaves = |s: &Session| book::book(&Book::new(s, 0, Some("Back"), None, &wish).unwrap(), &wish);
    let changed = papers::replaced(&leaves(&session), leaves(&newer));
    let names: Vec<&str> = changed.iter().map(|l| l.name.as_str()).collect();
    assert_eq!(names, ["hole 4"]);
    assert!(papers::replaced(&leaves(&session), leaves(&session)).is_empty());
}

#[test]
fn what_does_not_fit_is_marked_and_named() {
    let (mut session, _) = corvane();
    let hole = &mut session.course.as_mut().unwrap().holes[0];
    let long = "word ".repeat(900);
    hole.notes[0].written.text = Some(long);
    let found = advice(session.course.as_ref().unwrap(), "2026-05-16");
    assert!(found.iter().any(|s| s.leaf == "hole 1" && !s.left_out), "{found:?}");
    let wish = Wish { edition: Edition::Professional, greens: false, ..Wish::default() };
    let made = Book::new(&session, 0, Some("Back"), None, &wish).unwrap();
    let laid = lay(&book::book(&made, &wish), wish.page);
    let page = laid.pages.iter().find(|p| p.name == "hole 1").unwrap();
    assert!(page.texts().iter().any(|(w, _)| w.ends_with("word…")));
}

#[test]
fn the_key_writes_the_book_of_the_player_looked_at_and_says_where() {
    let mut story = Story::example(120, 36);
    story.keys("B");
    assert!(story.effects.contains(&Effect::WriteBook { player: 0, plans: true }), "{:?}", story.effects);
    // While it is made a second one is refused, with the reason.
    story.keys("B");
    assert!(story.state.notice.as_ref().unwrap().words.contains("being made"));
    let folder = tempfile::tempdir().unwrap();
    let store = Store::new(Shelf::at(folder.path()));
    let words = write_book(&store, &story.state.session, 0, false).unwrap();
    let file = folder.path().join("books/corvane-links-wren-hallam-2026-05-16.pdf");
    assert!(words.contains("books") && file.is_file(), "{words}");
    assert!(Document::load(file).is_ok());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    #[test]
    fn nothing_leaves_its_page_and_no_text_is_too_small(
        words in "[A-Za-zé ,.:]{0,900}", wide in 2.95f32..8.0, high in 4.6f32..11.0, hole in 0usize..18,
    ) {
        let (mut session, frozen) = corvane();
        session.order = vec![hole as u8 + 1];
        let notes = &mut session.course.as_mut().unwrap().holes[hole];
        notes.caution = Some(words.chars().take(120).collect());
        for note in &mut notes.notes {
            note.written.text = Some(words.clone());
        }
        let page = Size { width: wide * INCH, height: high.max(wide * 0.7) * INCH };
        let wish = Wish { page, ..Wish::default() };
        for page in pages_of(&session, Some(&frozen), &wish) {
            for item in &page.items {
                if let marram::print::page::Item::Text { x, y, size, face, words, .. } = item {
                    prop_assert!(*size >= 6.0);
                    let end = x + marram::print::face::width(*face, *size, words);
                    prop_assert!(*x >= 0.0 && end <= page.width && *y > 0.0 && *y <= page.height, "{}: {words} at {x} {y} to {end}", page.name);
                }
            }
        }
    }
}

#[test]
fn every_sample_course_makes_every_edition_on_every_page() {
    for course in ["corvane.yaml", "tarnholt.yaml", "ossenmoor.yaml"] {
        let session = session(course, None);
        for page in [Size::POCKET, Size::A6, Size::read("3.5x5.5in").unwrap(), Size::A4] {
            for edition in [Edition::Player, Edition::Professional] {
                let wish = Wish { edition, page, ..Wish::default() };
                let pages = pages_of(&session, None, &wish);
                let holes = session.course.as_ref().unwrap().holes.len();
                assert!(pages.len() > holes);
                assert!(pages.iter().all(|p| p.width == page.width && p.height == page.height));
                assert!(pdf(&pages, &About::default()).is_ok());
            }
        }
    }
}
