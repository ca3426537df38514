//! Results written out: strict CSV, a page that holds everything, no index unless the set-up says so.

use crate::scene::{competition, copy_of_medal, marram, set_up};
use marram::competition::show::{board, csv, for_record, html, json, markdown, record_csv};
use marram::competition::total;

fn with_names(names: &[&str], more: &str) -> marram::competition::Competition {
    let mut text = "id,name,handicap_index,h1,h2,h3,h4,h5,h6,h7,h8,h9,h10,h11,h12,h13,h14,h15,h16,h17,h18\n".to_owned();
    for (at, name) in names.iter().enumerate() {
        let name = name.replace('"', "\"\"");
        text += &format!("P{at},\"{name}\",12.{},4,3,5,4,4,3,4,5,4,4,4,3,5,4,4,3,4,5\n", at % 10);
    }
    let events = "  - { name: medal, play: stroke, ties: [ share ] }";
    competition(&set_up(1, events).replacen("events:", &format!("{more}events:"), 1), &text, None)
}

#[test]
fn csv_is_strict_and_safe_only_when_asked() {
    let odd = with_names(&["=1+1", "Souza, \"Ana\"", "plain"], "");
    let totals = total(&odd);
    let text = csv(&odd, &totals, false);
    assert!(text.contains(",=1+1,") && text.contains("\"Souza, \"\"Ana\"\"\""), "{text}");
    assert!(text.ends_with("\r\n") && text.matches('\n').count() == text.matches("\r\n").count());
    let safe = csv(&odd, &totals, true);
    assert!(safe.contains(",'=1+1,"), "{safe}");
    // It reads back, every row as long as the header.
    let mut reader = ::csv::ReaderBuilder::new().flexible(false).from_reader(text.as_bytes());
    assert_eq!(reader.records().map(Result::unwrap).count(), 3);
}

#[test]
fn the_index_is_published_only_when_the_set_up_says_so() {
    let hidden = with_names(&["Ana Vesely"], "");
    let shown = with_names(&["Ana Vesely"], "publish_index: yes\n");
    for (competition, published) in [(&hidden, false), (&shown, true)] {
        let totals = total(competition);
        let texts = [
            board(competition, &totals),
            csv(competition, &totals, false),
            markdown(competition, &totals),
            html(competition, &totals),
            json(competition, &totals).to_string(),
        ];
        for text in texts {
            assert_eq!(text.contains("12.0"), published, "{text}");
        }
    }
}

#[test]
fn the_page_is_small_closed_and_safe() {
    let names: Vec<String> = (0..300).map(|at| format!("Wilhelmina <b>Player</b> Number {at}")).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let many = with_names(&names, "");
    let page = html(&many, &total(&many));
    assert!(page.len() < 200_000, "{} bytes", page.len());
    for outside in ["http:", "https:", "src=", "<script", "@import", "url(", "<b>"] {
        assert!(!page.contains(outside), "{outside}");
    }
    for inside in [
        "<!DOCTYPE html>",
        "lang=\"en\"",
        "charset=\"utf-8\"",
        "name=\"viewport\"",
        "scope=\"col\"",
        "scope=\"row\"",
        "<caption>",
        "@media print",
    ] {
        assert!(page.contains(inside), "{inside}");
    }
}

#[test]
fn markdown_and_board_show_no_active_text() {
    let odd = with_names(&["A|B *c* <i>", "\u{1b}[2J\u{202e}x"], "");
    let totals = total(&odd);
    assert!(markdown(&odd, &totals).contains("A\\|B \\*c\\* &lt;i>"), "{}", markdown(&odd, &totals));
    let board = board(&odd, &totals);
    assert!(!board.contains('\u{1b}') && !board.contains('\u{202e}'));
}

#[test]
fn scores_for_the_record_are_capped_by_the_full_course_handicap() {
    let mut one = with_names(&["Ana Vesely"], "");
    one.field[0].scores[0] = marram::scoring::HoleScore::Gross(12);
    let totals = total(&one);
    let record = for_record(&one, &totals);
    // 12.0 × 131/113 + 72.1 − 72 = 14.01 → 14: a stroke on hole 1 (index 13), so net double bogey is 7 (3.1b).
    assert_eq!(record[0].adjusted_gross, Some(68 + 7));
    // 113/131 × (75 − 72.1) = 2.50 (5.1a).
    assert_eq!(record[0].differential.unwrap().to_string(), "2.5");
    assert!(record_csv(&record, false).starts_with("id,name,date,tee,adjusted_gross,"));
}

#[test]
fn the_record_of_the_medal_holds_every_card_that_came_in() {
    let folder = copy_of_medal();
    let said = marram(&["total", ".", "--as", "record"], folder.path());
    assert_eq!(said.out.lines().count(), 1 + 82, "84 entries, one withdrawn and one no show without a card");
}

/// The board as it hangs: reviewed by eye when it changes.
#[test]
fn the_board_of_the_medal() {
    let folder = copy_of_medal();
    let said = marram(&["total", "."], folder.path());
    insta::assert_snapshot!("medal-board", said.out);
}
