//! Handicap allowances, team handicaps and match strokes: section 2.

use super::{course, percent};
use marram::handicap::{Allowance, CourseHandicap, Play, Rules, match_strokes, recommended, team_handicap};

fn allowance(play: &str) -> String {
    recommended(Play::parse(play).unwrap()).allowance.to_string()
}

#[test]
fn the_table_of_2024() {
    // S Rules of Handicapping, Appendix C (2024, USGA text). (format, allowance, off the lowest)
    let rows = [
        ("stroke", "95 %", false),
        ("stableford", "95 %", false),
        ("par-bogey", "95 %", false),
        ("maximum", "95 %", false),
        ("match", "100 %", true),
        ("four-ball stroke", "85 %", false),
        ("four-ball stableford", "85 %", false),
        ("four-ball par-bogey", "90 %", false),
        ("four-ball match", "90 %", true),
        ("foursomes", "50 % of the sum", false),
        ("foursomes match", "50 % of the sum", true),
        ("greensomes", "60-40 % low to high", false),
        ("greensomes match", "60-40 % low to high", true),
        ("chapman", "60-40 % low to high", false),
        ("chapman match", "60-40 % low to high", true),
        ("best 1 of 4", "75 %", false),
        ("best 2 of 4", "85 %", false),
        ("best 3 of 4", "100 %", false),
        ("best 4 of 4", "100 %", false),
        ("best 1 of 4 par-bogey", "75 %", false),
        ("best 2 of 4 par-bogey", "80 %", false),
        ("best 3 of 4 par-bogey", "90 %", false),
        ("best 4 of 4 par-bogey", "100 %", false),
        ("scramble 4", "25-20-15-10 % low to high", false),
        ("scramble 3", "30-20-10 % low to high", false),
        ("scramble 2", "35-15 % low to high", false),
        ("total of 2 match", "100 %", true),
    ];
    for (play, text, lowest) in rows {
        assert_eq!(allowance(play), text, "{play}");
        let row = recommended(Play::parse(play).unwrap());
        assert_eq!(row.off_the_lowest, lowest, "{play}");
        assert!(row.in_the_table, "{play}");
    }
    assert!(!recommended(Play::parse("best 2 of 4 stableford").unwrap()).in_the_table);
}

#[test]
fn four_ball() {
    // S Miami Valley GA: 85 per cent of the unrounded Course Handicaps.
    for (unrounded, playing) in [("30.7221", 26), ("8.1185", 7)] {
        let found = course(unrounded).playing(percent(85), 0, &Rules::default());
        assert_eq!(found.value(), playing);
    }
}

#[test]
fn strokes_of_a_match() {
    // S association format sheet: "17 shall receive four strokes from 13".
    assert_eq!(match_strokes(&[17, 13]), [4, 0]);
    // C
    assert_eq!(match_strokes(&[-1, 8, 12, 20]), [0, 9, 13, 21]);
    // C: the allowance first, then the difference; the reverse would give 90 per cent of 11.4, which is 10.
    let playing = |text| course(text).playing(percent(90), 0, &Rules::default()).value();
    assert_eq!(match_strokes(&[playing("1.6"), playing("13.0")]), [0, 11]);
}

#[test]
fn team_handicaps() {
    // C from Appendix C (S): Course Handicaps in any order, unrounded sum, side's handicap.
    let rows: [(&str, &[&str], &str, i32); 6] = [
        ("foursomes", &["12.4", "20.3"], "16.35", 16),
        ("greensomes", &["18.9", "7.6"], "12.12", 12),
        ("scramble 4", &["5.2", "11.8", "17.4", "24.6"], "8.73", 9),
        ("scramble 3", &["6", "12", "18"], "6", 6),
        ("scramble 2", &["21.0", "9.0"], "6.3", 6),
        ("scramble 2", &["10", "-2"], "0.8", 1),
    ];
    for (play, players, unrounded, side) in rows {
        let players: Vec<CourseHandicap> = players.iter().map(|p| course(p)).collect();
        let allowance = recommended(Play::parse(play).unwrap()).allowance;
        let found = team_handicap(&allowance, &players, &Rules::default()).unwrap();
        assert_eq!(found.unrounded(), super::decimal(unrounded), "{play}");
        assert_eq!(found.value(), side, "{play}");
    }
    let wrong = team_handicap(&Allowance::LowToHigh(vec![percent(35), percent(15)]), &[course("1")], &Rules::default());
    assert!(wrong.is_err());
}

#[test]
fn parts_rounded_one_by_one_is_a_switch() {
    // C: half of 12.5 and of 13.5 is 6.25 and 6.75: 13 together, 6 + 7 = 13; half of 3.0 and 5.0 is 1.5 and 2.5: 4, or 2 + 3.
    let foursomes = recommended(Play::parse("foursomes").unwrap()).allowance;
    let players = [course("3"), course("5")];
    let apart = Rules { round_team_parts: true, ..Rules::default() };
    assert_eq!(team_handicap(&foursomes, &players, &Rules::default()).unwrap().value(), 4);
    assert_eq!(team_handicap(&foursomes, &players, &apart).unwrap().value(), 5);
}
