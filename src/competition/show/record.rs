//! Adjusted gross scores and Score Differentials of a competition's cards, to hand to the handicap system.
//!
//! # References
//! Rules of Handicapping 3.1 to 3.3 (adjusted gross, by the full rounded Course Handicap), 5.1 (differential).

use super::super::cards::Card;
use super::super::late::Late;
use super::super::ratings::rated;
use super::super::values::{Entrant, Status};
use super::super::{Competition, Totals};
use super::csv_field;
use crate::handicap::{
    Acceptance, Holes, Pcc, ReturnedHole, StrokeIndexes, TeeRating, adjusted_gross, course_handicap,
    score_differential, strokes_by_hole_giving_back,
};
use crate::scoring::HoleScore;
use crate::units::tenths::{Exact, Tenths};

/// A card as it enters the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScoreForRecord {
    /// The entrant.
    pub id: String,
    /// The name.
    pub name: String,
    /// The day.
    pub date: String,
    /// The tee.
    pub tee: String,
    /// Rating, slope and par of the holes of the round.
    pub rating: TeeRating,
    /// Holes that were started.
    pub holes: usize,
    /// The sum of the holes as they count for the record; `None` where a hole has no number.
    pub adjusted_gross: Option<i32>,
    /// The differential without a playing conditions calculation; `None` for nine holes or part of a round.
    pub differential: Option<Tenths>,
    /// Of nine holes, unrounded.
    pub nine: Option<Exact>,
    /// Why there is no score or no differential.
    pub remark: &'static str,
}

/// Every individual card that came in, in the order of the field.
pub fn for_record(competition: &Competition, totals: &Totals<'_>) -> Vec<ScoreForRecord> {
    let individual = competition.setup.events.iter().any(|e| !e.play.one_ball() && e.merit.is_none());
    let mut scores = Vec::new();
    if !individual {
        return scores;
    }
    for (at, round) in competition.setup.rounds.iter().enumerate() {
        for entrant in &totals.late.field {
            let Some(card) = totals.cards.get(&entrant.id, at) else { continue };
            scores.extend(score(competition, &totals.late, entrant, card, &round.date, &round.holes));
        }
    }
    scores
}

fn score(
    competition: &Competition,
    _late: &Late,
    entrant: &Entrant,
    card: &Card,
    date: &str,
    holes: &[u8],
) -> Option<ScoreForRecord> {
    let setup = &competition.setup;
    let only = if let [only] = competition.course.tees.as_slice() { Some(only.name.as_str()) } else { None };
    let tee = entrant.tee.as_deref().or_else(|| setup.tees.of(entrant.card, entrant.category.as_deref())).or(only)?;
    let ground = rated(&competition.course, tee, entrant.card, holes).ok()?;
    let rating = ground.rating?;
    let strokes: Option<Vec<i32>> = entrant.index.map(|index| {
        let course = course_handicap(index, &rating, &setup.rules).rounded();
        strokes_of(course, &ground.indexes, setup.give_back)
    });
    let returned: Vec<_> = card
        .stands
        .iter()
        .enumerate()
        .map(|(place, score)| {
            let returned = match score {
                HoleScore::Gross(strokes) => ReturnedHole::Holed(*strokes),
                HoleScore::PickedUp => ReturnedHole::NotFinished { most_likely: None },
                HoleScore::NotPlayed | HoleScore::Empty => ReturnedHole::NotPlayed,
            };
            let par = ground.pars.get(place).copied().map_or(4, i32::from);
            (par, strokes.as_ref().and_then(|strokes| strokes.get(place).copied()), returned)
        })
        .collect();
    let adjusted = adjusted_gross(&returned, &setup.rules);
    let differential = adjusted
        .total
        .map(|total| score_differential(total, rating.rating, rating.slope, Pcc::default(), rating.holes));
    let fine = matches!(
        (adjusted.acceptance, rating.holes),
        (Acceptance::Eighteen, Holes::Eighteen) | (Acceptance::Nine, Holes::Nine)
    );
    let remark = match (adjusted.acceptance, entrant.status, card.disagree.is_empty()) {
        (_, _, false) => "keyings disagree",
        (_, Some(Status::Disqualified), _) => {
            "disqualified: whether the score counts is for the Rules of Handicapping 2.1b"
        }
        (Acceptance::TooFew, ..) => "too few holes for a score",
        (Acceptance::NotFullWithoutIndex, ..) => "without an index only full nines and eighteens count",
        (Acceptance::PartOfEighteen, ..) => "10 to 17 holes: the differential is official only",
        (Acceptance::Nine, ..) if rating.holes == Holes::Eighteen => "nine of eighteen holes: enter as nine",
        _ => "",
    };
    let counts = fine && card.disagree.is_empty();
    Some(ScoreForRecord {
        id: entrant.id.clone(),
        name: entrant.name.clone(),
        date: date.to_owned(),
        tee: ground.tee.clone(),
        rating,
        holes: adjusted.played,
        adjusted_gross: adjusted.total.filter(|_| counts),
        differential: differential.filter(|_| counts).and_then(|d| d.value),
        nine: differential.filter(|_| counts && rating.holes == Holes::Nine).map(|d| d.unrounded),
        remark,
    })
}

fn strokes_of(course: i32, indexes: &StrokeIndexes, give_back: crate::handicap::GiveBack) -> Vec<i32> {
    strokes_by_hole_giving_back(course, indexes, give_back)
}

/// The list for the handicap system: columns as `marram handicap index` reads them, with id and name in front.
pub fn record_csv(scores: &[ScoreForRecord], spreadsheet_safe: bool) -> String {
    let mut out =
        "id,name,date,tee,adjusted_gross,rating,slope,par,holes,differential,nine_hole_differential,remark\r\n"
            .to_owned();
    for score in scores {
        let text = |text: &str| csv_field(text, spreadsheet_safe);
        let cells = [
            text(&score.id),
            text(&score.name),
            score.date.clone(),
            text(&score.tee),
            score.adjusted_gross.map_or_else(String::new, |gross| gross.to_string()),
            score.rating.rating.to_string(),
            score.rating.slope.to_string(),
            score.rating.par.to_string(),
            score.holes.to_string(),
            score.differential.map_or_else(String::new, |value| value.to_string()),
            score.nine.map_or_else(String::new, |value| value.truncated(4)),
            text(score.remark),
        ];
        out.push_str(&cells.join(","));
        out.push_str("\r\n");
    }
    out
}
