//! Course Handicap and Playing Handicap: section 1.1, 1.2 and the float traps of section 0.

use super::{course, decimal, index, percent, tee};
use marram::handicap::{Edition, Holes, Rules, course_handicap};

#[test]
fn course_handicap_table() {
    use Holes::{Eighteen, Nine};
    // (index, slope, rating, par, holes, unrounded cut to four places, rounded, grade and source)
    let rows = [
        ("8.7", 121, "35.3", 36, Nine, "4.0115", 4, "S USGA Local Guidance for Rule 6"),
        ("27.7", 129, "71.1", 72, Eighteen, "30.7221", 31, "S Miami Valley Golf Association, example 1"),
        ("7.9", 129, "71.1", 72, Eighteen, "8.1185", 8, "S same, example 2"),
        ("10.4", 125, "72", 72, Eighteen, "11.5044", 12, "S USGA FAQ, formula before 2020 (rating = par)"),
        ("18.0", 132, "36.1", 36, Nine, "10.6132", 11, "C; ratings S Clarification 6.1b/1 (men, front)"),
        ("18.0", 131, "37.0", 36, Nine, "11.4336", 11, "C; same (men, back)"),
        ("18.0", 135, "37.3", 36, Nine, "12.0522", 12, "C; same (women, front)"),
        ("-2.4", 130, "73.4", 72, Eighteen, "-1.3610", -1, "C"),
        ("54.0", 155, "74.0", 72, Eighteen, "76.0707", 76, "C"),
    ];
    for (hi, slope, rating, par, holes, unrounded, rounded, source) in rows {
        let found = course_handicap(index(hi), &tee(holes, slope, rating, par), &Rules::default());
        assert_eq!(found.unrounded().truncated(4), unrounded, "{source}");
        assert_eq!(found.rounded(), rounded, "{source}");
    }
}

#[test]
fn ties_that_doubles_get_wrong() {
    // C, section 0: exact halves that need the factor 113 in the index.
    let rows = [
        ("11.3", 124, "72.1", 72, "12.5", 13),
        ("22.6", 132, "72.1", 72, "26.5", 27),
        ("2.2", 113, "69.3", 72, "-0.5", 0),
    ];
    for (hi, slope, rating, par, exact, rounded) in rows {
        let found = course_handicap(index(hi), &tee(Holes::Eighteen, slope, rating, par), &Rules::default());
        assert_eq!(found.unrounded(), decimal(exact));
        assert_eq!(found.rounded(), rounded);
    }
}

#[test]
fn nines_add_up_to_the_eighteen() {
    // S Clarification 6.1b/1 for the figures; C for the identity.
    for (front, back, whole) in
        [(("36.1", 132), ("37.0", 131), ("73.1", 132)), (("37.3", 135), ("38.2", 141), ("75.5", 138))]
    {
        let rating = |text| marram::units::tenths::Tenths::parse(text).unwrap();
        assert_eq!(rating(front.0) + rating(back.0), rating(whole.0));
        let mean = marram::units::tenths::Exact::whole(front.1 + back.1).halved();
        assert_eq!(mean.to_whole(), whole.1);
    }
}

#[test]
fn playing_handicap_table() {
    let rows = [
        ("30.7221", 85, 0, 26, "S Miami Valley GA example 1"),
        ("8.1185", 85, 0, 7, "S same, example 2"),
        ("12.5", 95, 0, 12, "C"),
        ("9.45", 90, 0, 9, "C; rounding the Course Handicap first would give 8"),
        ("15.4", 85, 0, 13, "C"),
        ("14.2", 95, 2, 15, "C"),
        ("-3", 95, 0, -3, "C"),
        ("-2.2", 85, 0, -2, "C"),
        ("-1.5", 100, 0, -1, "C from Appendix C"),
    ];
    for (unrounded, allowance, par, playing, source) in rows {
        let found = course(unrounded).playing(percent(allowance), par, &Rules::default());
        assert_eq!(found.value(), playing, "{unrounded} {source}");
    }
}

#[test]
fn switches_of_older_editions() {
    // S Appendix C before 2024 ("Course Handicap", not unrounded): 9.45 is 9 first, 8.1 at 90 per cent.
    let old = Rules::of(Edition::Year2020);
    assert_eq!(course("9.45").playing(percent(90), 0, &old).value(), 8);
    // S golf press: Great Britain and Ireland without rating less par until April 2024.
    let before = Rules::of(Edition::Year2020Gbi);
    let found = course_handicap(index("10.0"), &tee(Holes::Eighteen, 113, "70.2", 72), &before);
    assert_eq!(found.unrounded(), decimal("10"));
}
