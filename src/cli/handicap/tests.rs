//! The commands as typed: fixed forms, exit codes, messages.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use super::*;
use crate::handicap::{Holes, TeeRating};
use crate::units::tenths::{SlopeRating, Tenths};
use clap::Parser;
use serde_json::{Value, json};

#[derive(Debug, Parser)]
struct Typed {
    #[command(flatten)]
    handicap: HandicapArgs,
}

/// An invented course: tees Back (par 72) and Forward (women's par 73).
struct Links;

impl CourseRatings for Links {
    fn rated(&self, tee: Option<&str>, card: Card, nine: Option<Nine>) -> Result<RatedTee, String> {
        let indexes = [5, 13, 1, 11, 17, 3, 15, 7, 9, 6, 14, 2, 12, 18, 4, 16, 8, 10];
        if nine == Some(Nine::Front) {
            let rating = TeeRating {
                holes: Holes::Nine,
                rating: Tenths::parse("35.3").unwrap(),
                slope: SlopeRating::new(121).unwrap(),
                par: 36,
            };
            return Ok(RatedTee { name: "Back".to_owned(), rating, stroke_indexes: indexes[..9].to_vec() });
        }
        let (name, rating, slope, par) = match (tee, card) {
            (Some("Back"), Card::Men) => ("Back", "71.2", 131, 72),
            (Some("Back"), Card::Women) => ("Back", "77.0", 140, 74),
            (Some("Forward"), Card::Women) => ("Forward", "72.1", 125, 73),
            (Some(other), card) => {
                return Err(format!("no tee `{other}` with {}'s ratings; there are Back, Forward", card.word()));
            }
            (None, _) => return Err("no tee: give --tee or a column `tee`; there are Back, Forward".to_owned()),
        };
        Ok(RatedTee {
            name: name.to_owned(),
            rating: TeeRating {
                holes: Holes::Eighteen,
                rating: Tenths::parse(rating).unwrap(),
                slope: SlopeRating::new(slope).unwrap(),
                par,
            },
            stroke_indexes: indexes.to_vec(),
        })
    }
}

struct Answer {
    code: i32,
    out: String,
    err: String,
}

impl Answer {
    fn json(&self) -> Value {
        assert_eq!((self.code, self.err.as_str()), (FINE, ""));
        serde_json::from_str(&self.out).unwrap()
    }

    fn lines(&self) -> Vec<Value> {
        self.out.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
    }
}

fn run_on(line: &str, file: &str) -> Answer {
    let words = std::iter::once("handicap").chain(line.split(' '));
    let typed = match Typed::try_parse_from(words) {
        Ok(typed) => typed,
        Err(error) => return Answer { code: error.exit_code(), out: String::new(), err: error.to_string() },
    };
    let read = |name: &str| match name {
        "missing.csv" => Err("`missing.csv`: there is no such file".to_owned()),
        name => Ok(NamedText { name: name.to_owned(), text: file.to_owned() }),
    };
    let course = |name: &str| -> Result<Box<dyn CourseRatings>, String> {
        if name == "links" { Ok(Box::new(Links)) } else { Err(format!("`{name}`: there is no such course")) }
    };
    let around = Surroundings { today: NaiveDate::from_ymd_opt(2026, 5, 16).unwrap(), read: &read, course: &course };
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = command(&typed.handicap, &around, &mut out, &mut err);
    Answer { code, out: String::from_utf8(out).unwrap(), err: String::from_utf8(err).unwrap() }
}

fn run(line: &str) -> Answer {
    run_on(line, "")
}

#[test]
fn fixed_forms() {
    let course = run("course --index 12.4 --slope 131 --rating 71.2 --par 72 --json");
    assert_eq!(
        course.out,
        "{\"schema\":\"marram/handicap-course/1\",\"course_handicap\":14,\"unrounded\":\"13.5752\"}\n"
    );
    let nine = run("course --index 8.7 --slope 121 --rating 35.3 --par 36 --holes 9 --json").json();
    assert_eq!((&nine["course_handicap"], &nine["unrounded"]), (&json!(4), &json!("4.0115")));
    let playing =
        run("playing --index +2.4 --slope 130 --rating 73.4 --par 72 --allowance 95 --par-difference 1 --json").json();
    assert_eq!((&playing["playing_handicap"], &playing["unrounded"]), (&json!(0), &json!("-1.2930")));
    let card = "5,13,1,11,17,3,15,7,9,6,14,2,12,18,4,16,8,10";
    let strokes = run(&format!("strokes --playing +2 --stroke-index {card} --json")).json();
    assert_eq!(strokes["strokes"], json!([0, 0, 0, 0, -1, 0, 0, 0, 0, 0, 0, 0, 0, -1, 0, 0, 0, 0]));
    let nine = run(&format!("strokes --playing 5 --stroke-index {card} --nine front --json")).json();
    assert_eq!(nine["strokes"], json!([1, 0, 1, 0, 0, 1, 0, 1, 1]));
    let differential = run("differential --adjusted-gross 95 --rating 67.3 --slope 111 --json").json();
    assert_eq!((&differential["differential"], &differential["unrounded"]), (&json!(28.2), &json!("28.1990")));
    let minus = run("differential --adjusted-gross 69 --rating 71.5 --slope 125 --pcc -1 --json").json();
    assert_eq!((&minus["differential"], &minus["unrounded"]), (&json!(-1.4), &json!("-1.3560")));
    let nine = run("differential --adjusted-gross 42 --rating 35.6 --slope 125 --pcc 1 --holes 9 --json").json();
    assert_eq!((&nine["differential"], &nine["unrounded"]), (&Value::Null, &json!("5.3336")));
}

#[test]
fn index_from_differentials() {
    let found = run("index --differentials 15.3,15.2,16.6 --json");
    assert!(found.out.starts_with("{\"schema\":\"marram/handicap-index/1\",\"index\":13.2,\"index_text\":\"13.2\",\"used\":1,\"adjustment\":-2.0,\"cap\":\"none\",\"maximum\":false"));
    let capped = run("index --differentials 15.3,15.2,16.6 --low 10.0 --json").json();
    assert_eq!((&capped["index"], &capped["cap"]), (&json!(13.1), &json!("soft")));
    let plus = run("index --differentials -1.2,-1.3,3,3,3,3,3 --json").json();
    assert_eq!((&plus["index"], &plus["index_text"]), (&json!(-1.2), &json!("+1.2")));
    let few = run("index --differentials 15.3,15.2 --json").json();
    assert_eq!((&few["index"], &few["used"]), (&Value::Null, &json!(0)));
    let highest = run("index --differentials 57.3,57.3,57.3,57.3,57.3 --json").json();
    assert_eq!((&highest["index"], &highest["maximum"]), (&json!(54.0), &json!(true)));
    let words = run("index --differentials 15.3,15.2,16.6");
    assert!(words.out.contains("not official") && words.out.contains("for a short record: -2.0"), "{}", words.out);
}

#[test]
fn values_out_of_bounds_are_quoted_as_typed() {
    let course = "course --slope 131 --rating 71.2 --par 72 --index";
    for (line, said) in [
        (
            format!("{course} -1.3"),
            "error: --index `-1.3`: a handicap better than scratch is written with a plus, `+1.3`",
        ),
        (format!("{course} 54.1"), "error: --index `54.1`: the highest Handicap Index is 54.0"),
        (format!("{course} 12.45"), "error: --index `12.45`: too many decimals"),
        (format!("{course} NaN"), "error: --index `NaN`: not a decimal number"),
        (
            "course --index 1 --slope 54 --rating 71.2 --par 72".into(),
            "error: --slope `54`: a Slope Rating is a whole number from 55 to 155",
        ),
        ("course --index 1 --slope 156 --rating 71.2 --par 72".into(), "error: --slope `156`"),
        ("course --index 1 --slope 113 --rating 71.23 --par 72".into(), "error: --rating `71.23`: too many decimals"),
        (
            "course --index 1 --slope 113 --rating 71.2 --par 72 --holes 9".into(),
            "error: --rating `71.2`: a Course Rating of 9 holes",
        ),
        (
            "course --index 1 --slope 113 --rating 71.2 --par 72 --holes 17".into(),
            "error: --holes `17`: ratings are of 9 or 18 holes",
        ),
        (
            "playing --index 1 --slope 113 --rating 71.2 --par 72 --allowance 101".into(),
            "error: --allowance `101`: a handicap allowance is",
        ),
        (
            "playing --index 1 --slope 113 --rating 71.2 --par 72 --allowance 95 --par-difference x".into(),
            "error: --par-difference `x`",
        ),
        (
            "strokes --playing -2 --stroke-index 1,2,3,4,5,6,7,8,9".into(),
            "error: --playing `-2`: a handicap better than scratch is written with a plus, `+2`",
        ),
        (
            "strokes --playing 2 --stroke-index 1,2,3,4,5,6,7,8,1".into(),
            "stroke index 1 stands twice, on hole 1 and on hole 9",
        ),
        (
            "strokes --playing 2 --stroke-index 1,2,3,4,5,6,7,8,9,10,11,12,13,14,15,16,17".into(),
            "17 stroke indexes; 9 or 18 are needed",
        ),
        ("strokes --playing 2 --stroke-index 1,2,3,4,5,6,7,8,19".into(), "stroke index 19 on hole 9"),
        ("strokes --playing 2 --stroke-index 1,2,x".into(), "error: --stroke-index `x`"),
        (
            "strokes --playing 2 --stroke-index 1,2,3,4,5,6,7,8,9 --nine front".into(),
            "a nine is taken from 18 stroke indexes; 9 were given",
        ),
        ("differential --adjusted-gross 0 --rating 71.2 --slope 113".into(), "error: --adjusted-gross `0`"),
        ("differential --adjusted-gross 95 --rating 71.2 --slope 113 --pcc 4".into(), "error: --pcc `4`"),
        ("index --differentials 15.3,x".into(), "error: --differentials `x`"),
        ("index --differentials 15.3 --low -1".into(), "error: --low `-1`"),
        ("index".into(), "error: a record (a CSV file) or --differentials is needed"),
        ("index --differentials 1 --rules 1999".into(), "error: --rules `1999` is no edition"),
        ("field x.csv --course links --play skins".into(), "error: --play `skins` is no format"),
        ("field x.csv --course links --play stroke --allowance 120".into(), "error: --allowance `120`"),
        (
            "field x.csv --course links --play greensomes --allowance 60".into(),
            "takes shares from low to high, like 60-40",
        ),
        ("field x.csv --course links --play stroke --tee Gold".into(), "error: --tee `Gold`: no tee `Gold`"),
    ] {
        let answer = run(&line);
        assert_eq!(answer.code, USAGE, "{line}");
        assert!(answer.err.contains(said), "{line}\n{}", answer.err);
        assert_eq!(answer.out, "", "{line}");
    }
    // All that is wrong is said at once.
    let several = run("course --index -1.3 --slope 200 --rating x --par 3");
    assert_eq!(several.err.lines().count(), 4, "{}", several.err);
}

#[test]
fn a_record() {
    let mut text = "date;Adjusted Gross;rating;slope;pcc;holes\n".to_owned();
    for day in 1..=20 {
        text.push_str(&format!("2026-01-{day:02};85;70,0;113;;\n"));
    }
    text.push_str("2026-02-01;78;70,0;113;0;18\n2026-03-01;45;35,0;113;;9\n");
    let answer = run_on("index record.csv --json", &text);
    let object = answer.json();
    let scores = object["scores"].as_array().unwrap();
    assert_eq!(scores.len(), 22);
    assert_eq!(scores[1]["index"], Value::Null);
    assert_eq!((&scores[2]["index"], &scores[2]["low_index"]), (&json!(13.0), &Value::Null));
    // 20 × 15.0 then 8.0: −1 on every differential, 13.125.
    assert_eq!((&scores[20]["exceptional"], &scores[20]["index"]), (&json!(-1), &json!(13.1)));
    assert_eq!(scores[20]["low_index"], json!(13.0));
    // Nine holes: 10 + 0.52 × 13.1 + 1.197 = 18.009.
    assert_eq!((&scores[21]["differential"], &scores[21]["estimated"]), (&json!(18.0), &json!(true)));
    assert_eq!(object["index"], scores[21]["index"]);
    assert_eq!(object["used"], json!(8));
    let words = run_on("index record.csv", &text);
    assert!(words.out.contains("* an estimate"), "{}", words.out);
    assert!(words.out.contains("a next differential up to"), "{}", words.out);
}

#[test]
fn a_record_out_of_order_is_sorted_and_said() {
    let text = "date,adjusted_gross,rating,slope\n2026-02-01,90,70,113\n2026-01-01,80,70,113\n2026-03-01,85,70,113\n";
    let answer = run_on("index record.csv --json", text);
    assert_eq!(answer.code, FINE);
    assert!(answer.err.contains("sorted by date"), "{}", answer.err);
    let object: Value = serde_json::from_str(&answer.out).unwrap();
    assert_eq!(object["scores"][0]["date"], json!("2026-01-01"));
    assert_eq!(object["index"], json!(8.0));
}

#[test]
fn an_empty_record_is_no_index() {
    let object = run_on("index record.csv --json", "date,adjusted_gross,rating,slope\n").json();
    assert_eq!((&object["index"], &object["scores"]), (&Value::Null, &json!([])));
}

#[test]
fn what_is_wrong_with_a_record() {
    let header = "date,adjusted_gross,rating,slope,pcc,holes,differential\n";
    let mut seen = Vec::new();
    for (row, at, code, said) in [
        ("2026-02-30,85,70,113,,,", "2:1", "record-date", "date `2026-02-30`: a date is written year-month-day"),
        ("16.5.2026,85,70,113,,,", "2:1", "record-date", "date `16.5.2026`"),
        ("2026-05-17,85,70,113,,,", "2:1", "record-future", "is in the future; today is 2026-05-16"),
        (",85,70,113,,,", "2:1", "record-value-missing", "no `date` in this row"),
        ("2026-05-01,0,70,113,,,", "2:12", "record-gross", "adjusted_gross `0`: an adjusted gross score of 18 holes"),
        ("2026-05-01,x,70,113,,,", "2:12", "record-gross", "adjusted_gross `x`"),
        ("2026-05-01,85,170,113,,,", "2:15", "record-rating", "rating `170`"),
        ("2026-05-01,85,70,200,,,", "2:18", "record-slope", "slope `200`: a Slope Rating"),
        ("2026-05-01,85,70,113,4,,", "2:22", "record-pcc", "pcc `4`"),
        ("2026-05-01,85,70,113,,8,", "2:23", "record-holes", "holes `8`"),
        ("2026-05-01,85,70,113,,14,", "2:23", "record-needs-official", "only the association knows"),
        ("2026-05-01,85,70,113,,,1.25", "2:24", "record-differential", "differential `1.25`: too many decimals"),
        ("2026-05-01,,70,113,,,", "2:1", "record-value-missing", "no `adjusted_gross` in this row"),
    ] {
        let answer = run_on("index record.csv", &format!("{header}{row}\n"));
        assert_eq!((answer.code, answer.out.as_str()), (DATA, ""), "{row}");
        assert!(answer.err.starts_with(&format!("record.csv:{at}: error: ")), "{row}\n{}", answer.err);
        assert!(answer.err.contains(said), "{row}\n{}", answer.err);
        seen.push(code);
    }
    let answer = run_on("index record.csv", "date,adjusted_gross\n2026-05-01,85\n");
    assert!(answer.err.contains("no column `rating`") && answer.code == DATA, "{}", answer.err);
    seen.push("record-column-missing");
    let answer = run_on("index record.csv", "date,differential,marker\n2026-05-01,12.0,AB\n");
    assert!(answer.err.contains("warning: the column `marker` is not used") && answer.code == FINE, "{}", answer.err);
    seen.push("record-column-unknown");
    for code in RECORD_CODES {
        assert!(seen.contains(code), "{code} has no example");
    }
    // All the problems of a file at once; a file that is not there.
    let answer = run_on("index record.csv", &format!("{header}x,85,70,113,,,\n2026-05-01,85,70,200,,,\n"));
    assert_eq!(answer.err.matches("error:").count(), 2);
    let answer = run("index missing.csv");
    assert_eq!((answer.code, answer.err.as_str()), (DATA, "error: `missing.csv`: there is no such file\n"));
    // An official figure needs no ratings, and ten to seventeen holes need it.
    let answer = run_on("index record.csv --json", &format!("{header}2026-05-01,,,,,14,18.2\n"));
    assert_eq!(answer.json()["scores"][0]["differential"], json!(18.2));
}

const FIELD: &str =
    "id,name,handicap_index,tee,ratings\n007,Ana Reed,12.4,,women\n,Bo Hale,+1.3,Back,\n,Cy Dunn,54,Back,men\n";

#[test]
fn a_field() {
    let answer = run_on("field field.csv --course links --tee Forward --play stroke --json", FIELD);
    assert_eq!((answer.code, answer.err.as_str()), (FINE, ""));
    let lines = answer.lines();
    // 12.4 × 125 / 113 + (72.1 − 73) = 12.8168; 95 % is 12.18; par 73 against 72 adds one.
    assert_eq!(lines[0]["id"], json!("007"));
    assert_eq!((&lines[0]["course_handicap"], &lines[0]["playing_handicap"]), (&json!(13), &json!(13)));
    assert_eq!(lines[0]["strokes"].as_array().unwrap().iter().map(|s| s.as_i64().unwrap()).sum::<i64>(), 13);
    // −1.3 × 131 / 113 − 0.8 = −2.3071; 95 % is −2.19.
    assert_eq!(
        (&lines[1]["index"], &lines[1]["index_text"], &lines[1]["playing_handicap"]),
        (&json!(-1.3), &json!("+1.3"), &json!(-2))
    );
    assert_eq!(lines[1]["id"], Value::Null);
    assert_eq!(lines[2]["course_handicap"], json!(62));
    // In Stableford no difference in par is added.
    let points = run_on("field field.csv --course links --tee Forward --play stableford --json", FIELD).lines();
    assert_eq!(points[0]["playing_handicap"], json!(12));
    let whole =
        run_on("field field.csv --course links --tee Forward --play stableford --allowance 100 --json", FIELD).lines();
    assert_eq!(whole[0]["playing_handicap"], json!(13));
    let words = run_on("field field.csv --course links --tee Forward --play stroke", FIELD);
    assert!(words.out.contains("Bo Hale    +1.3      +2       +2"), "{}", words.out);
    let matched = run_on("field field.csv --course links --tee Forward --play match --json", FIELD);
    assert!(matched.err.contains("the lowest plays off 0"));
}

#[test]
fn a_field_over_nine_holes() {
    // The index is halved to 4.4 first (S USGA Local Guidance for Rule 6); 4.0115 at 95 per cent is 3.81.
    let text = "name,index\nAna,8.7\n";
    let lines = run_on("field field.csv --course links --tee Back --play stableford --nine front --json", text).lines();
    assert_eq!((&lines[0]["course_handicap"], &lines[0]["playing_handicap"]), (&json!(4), &json!(4)));
    assert_eq!(lines[0]["strokes"], json!([1, 0, 1, 0, 0, 1, 0, 1, 0]));
}

#[test]
fn handicaps_that_are_given_win() {
    let text = "name,handicap_index,course_handicap,playing_handicap\nAna,12.4,,\nBo,12.4,20,\nCy,,,+3\n";
    let lines = run_on("field field.csv --course links --tee Back --play stroke --json", text).lines();
    assert_eq!(
        (&lines[1]["course_handicap"], &lines[1]["playing_handicap"], &lines[1]["given"]),
        (&json!(20), &json!(19), &json!("course_handicap"))
    );
    assert_eq!(
        (&lines[2]["course_handicap"], &lines[2]["playing_handicap"], &lines[2]["given"]),
        (&Value::Null, &json!(-3), &json!("playing_handicap"))
    );
    assert_eq!(lines[0]["given"], Value::Null);
}

#[test]
fn sides_share_a_handicap() {
    let text = "name,course_handicap,team\nA,6,Reds\nB,12,blues\nC,18,reds\nD,22,Blues\n";
    let of = |play: &str| {
        let lines = run_on(&format!("field field.csv --course links --tee Back --play {play} --json"), text).lines();
        lines.iter().map(|line| line["playing_handicap"].as_i64().unwrap()).collect::<Vec<_>>()
    };
    assert_eq!(of("foursomes"), [12, 17, 12, 17]);
    // 60 % of 6 and 40 % of 18 is 10.8; 7.2 + 8.8 is 16.
    assert_eq!(of("greensomes"), [11, 16, 11, 16]);
    let answer = run_on(
        "field field.csv --course links --tee Back --play foursomes",
        "name,course_handicap,team\nA,6,x\nB,7,\n",
    );
    assert_eq!(answer.code, DATA);
    assert!(answer.err.contains("a side in foursomes has 2 players, this team has 1"), "{}", answer.err);
    assert!(answer.err.contains("field.csv:3:1: error: no `team` in this row"), "{}", answer.err);
}

#[test]
fn what_is_wrong_with_a_field() {
    let header = "id,name,handicap_index,tee,ratings\n";
    let mut seen = Vec::new();
    for (rows, at, code, said) in [
        (
            "1,A,-1.3,,",
            "2:5",
            "field-index",
            "handicap_index `-1.3`: a handicap better than scratch is written with a plus, `+1.3`",
        ),
        ("1,A,54.1,,", "2:5", "field-index", "the highest Handicap Index is 54.0"),
        ("1,A,12.45,,", "2:5", "field-index", "too many decimals"),
        ("1,A,NaN,,", "2:5", "field-index", "not a decimal number"),
        ("1,,12.4,,", "2:1", "field-name", "no name"),
        ("1,A,,,", "2:1", "field-no-handicap", "A has no handicap"),
        ("1,A,1,,juniors", "2:8", "field-card", "ratings `juniors`"),
        ("1,A,1,Gold,", "2:7", "field-tee", "no tee `Gold`"),
        ("1,A,1,,\n1,B,2,,", "3:1", "field-id-twice", "the id `1` stands twice"),
        (",A,1,,\n,a,2,,", "2:1", "field-name-twice", "`A` stands more than once"),
    ] {
        let answer =
            run_on("field field.csv --course links --tee Back --play stroke --json", &format!("{header}{rows}\n"));
        assert_eq!((answer.code, answer.out.as_str()), (DATA, ""), "{rows}");
        assert!(answer.err.starts_with(&format!("field.csv:{at}: error: ")), "{rows}\n{}", answer.err);
        assert!(answer.err.contains(said), "{rows}\n{}", answer.err);
        seen.push(code);
    }
    // Ids tell equal names apart.
    let answer = run_on(
        "field field.csv --course links --tee Back --play stroke --json",
        &format!("{header}1,A,1,,\n2,a,2,,\n"),
    );
    assert_eq!(answer.code, FINE);
    let answer = run_on("field field.csv --course links --tee Back --play stroke", "name\nA\n");
    assert!(answer.err.contains("no column `handicap_index`"), "{}", answer.err);
    seen.push("field-column-missing");
    let answer = run_on(
        "field field.csv --course links --tee Back --play stroke",
        "name,playing_handicap,shoe_size,h1\nA,+2,44,5\nB,2.5,44,5\n",
    );
    assert!(answer.err.contains("`shoe_size` is not used") && !answer.err.contains("`h1`"), "{}", answer.err);
    assert!(answer.err.contains("playing_handicap `2.5`: a whole number"), "{}", answer.err);
    seen.extend(["field-column-unknown", "field-handicap"]);
    let capped: String = (0..6).map(|n| format!("{n},P{n},36.0,,\n")).collect();
    let answer = run_on("field field.csv --course links --tee Back --play stroke --json", &format!("{header}{capped}"));
    assert!(answer.err.contains("6 entries have exactly 36.0") && answer.code == FINE, "{}", answer.err);
    seen.extend(["field-capped", "field-team", "field-team-size"]);
    for code in FIELD_CODES {
        assert!(seen.contains(code), "{code} has no example");
    }
    let answer = run_on("field field.csv --course nowhere --play stroke", FIELD);
    assert_eq!((answer.code, answer.err.as_str()), (DATA, "error: `nowhere`: there is no such course\n"));
}

proptest::proptest! {
    /// Whatever stands in a file, the answer is an exit code and words, never a panic, and a wrong file prints nothing.
    #[test]
    fn any_file_gets_an_answer(
        header in "(date|adjusted_gross|rating|slope|pcc|holes|differential|name|index|tee|team|id|ratings|playing_handicap|,|;|\t|\")*",
        rows in proptest::collection::vec("(2026-0[1-9]-0[1-9]|[+-]?[0-9]{1,4}([.,][0-9]{1,2})?|Back|Forward|women|M|x|é|,|;|\"|\r?\n){0,12}", 0..8),
    ) {
        let text = format!("{header}\n{}", rows.join("\n"));
        for line in [
            "index file.csv --json",
            "index file.csv",
            "index file.csv --rules 2020",
            "field file.csv --course links --tee Back --play stroke --json",
            "field file.csv --course links --tee Back --play foursomes",
        ] {
            let answer = run_on(line, &text);
            proptest::prop_assert!(answer.code == FINE || answer.code == DATA);
            proptest::prop_assert_eq!(answer.code == DATA && !answer.out.is_empty(), false);
            proptest::prop_assert_eq!(answer.code == DATA, answer.err.contains("error: "));
        }
    }
}
