//! Records worked out a second time by `oracle.py`, which shares no code with the program: every differential,
//! exceptional score, low and index agrees.

use chrono::NaiveDate;
use marram::handicap::{Holes, Pcc, Returned, Rules, Score, index_from_record};
use marram::units::tenths::{HandicapIndex, SlopeRating, Tenths};

struct Row {
    record: String,
    score: Score,
    differential: Tenths,
    exceptional: i32,
    low: Option<Tenths>,
    index: Option<Tenths>,
}

fn rows() -> Vec<Row> {
    include_str!("oracle.csv")
        .lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            let tenths = |at: usize| Tenths::parse(cells[at]).unwrap();
            let maybe = |at: usize| (!cells[at].is_empty()).then(|| tenths(at));
            Row {
                record: cells[0].to_owned(),
                score: Score {
                    date: NaiveDate::parse_from_str(cells[1], "%Y-%m-%d").unwrap(),
                    returned: Returned::Full {
                        holes: Holes::Eighteen,
                        adjusted_gross: cells[2].parse().unwrap(),
                        rating: tenths(3),
                        slope: SlopeRating::parse(cells[4]).unwrap(),
                        pcc: Pcc::parse(cells[5]).unwrap(),
                    },
                    official: None,
                },
                differential: tenths(6),
                exceptional: cells[7].parse().unwrap(),
                low: maybe(8),
                index: maybe(9),
            }
        })
        .collect()
}

#[test]
fn every_index_agrees_with_the_oracle() {
    let rows = rows();
    assert!(rows.len() > 1000);
    assert!(rows.iter().any(|row| row.exceptional == -2) && rows.iter().any(|row| row.exceptional == -1));
    let mut caps = 0;
    for record in rows.chunk_by(|a, b| a.record == b.record) {
        let scores: Vec<Score> = record.iter().map(|row| row.score).collect();
        let worked = index_from_record(&scores, &Rules::default());
        for (row, found) in record.iter().zip(&worked.revisions) {
            let place = format!("record {} on {}", row.record, row.score.date);
            let value = |index: Option<HandicapIndex>| index.map(HandicapIndex::value);
            assert_eq!(found.differential, Some(row.differential), "{place}");
            assert_eq!(found.exceptional, row.exceptional, "{place}");
            assert_eq!(value(found.index()), row.index, "{place}");
            assert_eq!(value(found.low_index), row.low, "{place}");
            caps += usize::from(found.working.cap != marram::handicap::Cap::None);
        }
    }
    assert!(caps > 50, "the caps bite in these records");
}
