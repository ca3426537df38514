//! A player's scoring record worked through: every score, the index after it, what the next round would do.

use crate::handicap::{
    Edge, Holes, IndexWorking, NextRound, Pcc, Returned, Revision, Rules, Score, TeeRating, WorkedRecord, WorkingLine,
    adjusted_gross_for, differential_for, index_from_record, next_round, score_differential, what_if,
};
use crate::player::{self, Player};
use crate::units::tenths::{HandicapIndex, SlopeRating, Tenths};
use chrono::NaiveDate;

/// The line that stands wherever an index is worked out.
pub const NOT_OFFICIAL: &str = "Not official: only an authorised association issues a Handicap Index.";

/// A record as the Handicap page shows it.
#[derive(Clone, Debug)]
pub struct RecordSheet {
    /// The player.
    pub name: String,
    /// The index that the player's file gives.
    pub stated: Option<HandicapIndex>,
    /// The scores in order of date.
    pub scores: Vec<ScoreLine>,
    /// How the index was made.
    pub working: Vec<WorkingLine>,
    /// What the next round would have to be to move the index, in sentences; empty without an index.
    pub next: Vec<String>,
    /// Scores that could not be used, each with the reason.
    pub left_out: Vec<String>,
    /// The tee that gross scores are turned into differentials by, when there is a rated one at hand.
    pub tee: Option<NamedTee>,
    today: NaiveDate,
    worked: WorkedRecord,
}

/// A rated tee by the name that is said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NamedTee {
    /// `the Club tees`.
    pub name: String,
    /// The course.
    pub course: String,
    /// Its ratings over eighteen holes.
    pub rating: TeeRating,
}

/// A score of the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScoreLine {
    /// The day.
    pub date: NaiveDate,
    /// Where, as written: `Corvane Links, Club`.
    pub place: String,
    /// Adjusted gross score.
    pub gross: u16,
    /// How many holes.
    pub holes: u8,
    /// Course Rating and Slope Rating.
    pub rated: String,
    /// Its differential as it stands on record now, adjustments for exceptional scores included.
    pub differential: Option<Tenths>,
    /// The differential is an estimate of ours.
    pub estimated: bool,
    /// It is among the latest twenty.
    pub on_record: bool,
    /// It counts for the index as it stands.
    pub counts: bool,
    /// What it took off the record as an exceptional score: 0, -1 or -2.
    pub exceptional: i32,
    /// The index after it.
    pub index: Option<HandicapIndex>,
}

/// A score to come, as a person types it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Coming {
    /// An adjusted gross score from the tee at hand.
    Gross(i32),
    /// An adjusted gross score with rating and slope.
    Rated(i32, Tenths, SlopeRating),
    /// A Score Differential.
    Differential(Tenths),
}

impl Coming {
    /// Reads `88`, `88 71.2 131` or `88 71.2/131`, and `14.2` or `-0.4` as a differential; a whole number below 40 is one too.
    ///
    /// # Errors
    /// What can be typed.
    pub fn parse(text: &str) -> Result<Self, String> {
        let spellings = || {
            format!(
                "`{}`: type a gross score as 88, with rating and slope as 88 71.2 131, or a differential as 14.2",
                text.trim()
            )
        };
        let words: Vec<&str> = text.split([' ', '/']).filter(|w| !w.is_empty()).collect();
        match words.as_slice() {
            [one] => {
                let value = Tenths::parse(one).map_err(|_| spellings())?;
                let is_gross = !one.contains('.') && value >= Tenths::whole(40);
                match is_gross.then(|| one.parse::<i32>()) {
                    Some(Ok(gross)) if gross <= 250 => Ok(Self::Gross(gross)),
                    Some(_) => Err(spellings()),
                    None if (Tenths::whole(-20)..=Tenths::whole(120)).contains(&value) => Ok(Self::Differential(value)),
                    None => Err(spellings()),
                }
            }
            [gross, rating, slope] => {
                let gross = gross.parse::<i32>().ok().filter(|g| (20..=250).contains(g)).ok_or_else(spellings)?;
                let rating = Tenths::parse(rating).map_err(|e| e.to_string())?;
                let slope = SlopeRating::parse(slope).map_err(|e| e.to_string())?;
                Ok(Self::Rated(gross, rating, slope))
            }
            _ => Err(spellings()),
        }
    }
}

impl RecordSheet {
    /// Works the record of `player` through as it stood on `today`; `tee` is the rated tee at hand.
    ///
    /// Scores after `today` and scores whose differential only the association can make are left out, and said.
    pub fn new(player: &Player, today: NaiveDate, tee: Option<NamedTee>, rules: &Rules) -> Self {
        let mut left_out = Vec::new();
        let mut usable: Vec<(&player::Score, Score)> = Vec::new();
        for written in &player.record {
            match usable_score(written, today) {
                Ok(score) => usable.push((written, score)),
                Err(why) => left_out.push(format!("{}: {why}", written.date)),
            }
        }
        let scores: Vec<Score> = usable.iter().map(|(_, score)| *score).collect();
        let worked = index_from_record(&scores, rules);
        let mut lines: Vec<ScoreLine> = worked
            .revisions
            .iter()
            .filter_map(|revision| Some(line_of(usable.get(revision.place)?.0, revision)))
            .collect();
        mark_record(&mut lines, &worked);
        let working = worked.revisions.last().map(Revision::lines).unwrap_or_default();
        let mut sheet = Self {
            name: player.name.clone(),
            stated: player.index.and_then(HandicapIndex::new),
            scores: lines,
            working,
            next: Vec::new(),
            left_out,
            tee,
            today,
            worked,
        };
        sheet.next = sheet.next_words();
        sheet
    }

    /// The index by the record.
    pub fn index(&self) -> Option<HandicapIndex> {
        self.worked.record.index()
    }

    /// How the index of the record stands to the one in the player's file, in a sentence.
    pub fn agreement(&self) -> String {
        match (self.index(), self.stated) {
            (Some(own), Some(stated)) if own == stated => format!("index {own} by this record, as the file says"),
            (Some(own), Some(stated)) => format!("index {own} by this record; the file says {stated}"),
            (Some(own), None) => format!("index {own} by this record; the file gives none"),
            (None, Some(stated)) => {
                format!("the file says {stated}; {} on record, an index needs three", scores_words(self.scores.len()))
            }
            (None, None) => format!("no index yet: {} on record, it needs three", scores_words(self.scores.len())),
        }
    }

    /// The day a next score could be played.
    fn next_day(&self) -> NaiveDate {
        self.worked.record.latest_date().map_or(self.today, |latest| latest.max(self.today))
    }

    /// What a score to come would do, in sentences.
    ///
    /// # Errors
    /// Why it cannot be told: no rated tee at hand.
    pub fn what_if(&self, coming: Coming) -> Result<Vec<String>, String> {
        let pcc = no_correction();
        let differential = |gross: i32, rating, slope| {
            score_differential(gross, rating, slope, pcc, Holes::Eighteen).value.unwrap_or_default()
        };
        let (value, from) = match coming {
            Coming::Differential(value) => (value, format!("a differential of {value}")),
            Coming::Rated(gross, rating, slope) => {
                let value = differential(gross, rating, slope);
                (value, format!("{gross} at {rating}/{slope} is a differential of {value}"))
            }
            Coming::Gross(gross) => {
                let tee = self
                    .tee
                    .as_ref()
                    .ok_or("no rated tee is at hand; type it with rating and slope, as 88 71.2 131")?;
                let value = differential(gross, tee.rating.rating, tee.rating.slope);
                (value, format!("{gross} from {} of {} is a differential of {value}", tee.name, tee.course))
            }
        };
        let day = self.next_day();
        let revision = what_if(&self.worked.record, day, value);
        let after = match (revision.index(), self.index()) {
            (Some(after), Some(before)) => format!("the index would be {after}, {}", moved(before, after)),
            (Some(after), None) => format!("it would give a first index, {after}"),
            (None, _) => "still no index: it needs three scores".to_owned(),
        };
        let mut out = vec![format!("{from}; {after}")];
        let mut more = Vec::new();
        if revision.index().is_some() {
            let newest = revision.working.on_record.saturating_sub(1);
            let counts = revision.working.counted.iter().any(|c| c.place == newest);
            more.push(if counts { "it would count".to_owned() } else { "it would not count".to_owned() });
        }
        if revision.exceptional != 0 {
            more.push(format!("an exceptional score: {} off every differential on record", -revision.exceptional));
        }
        more.extend(cap_words(&revision.working));
        if let Some(gone) = self.drops_out() {
            let value = gone.differential.unwrap_or_default();
            more.push(format!("the score of {} ({value}) would leave the latest twenty", gone.date));
        }
        if !more.is_empty() {
            out.push(more.join("; "));
        }
        Ok(out)
    }

    /// The score that leaves the latest twenty when the next one comes.
    fn drops_out(&self) -> Option<&ScoreLine> {
        let mut on_record = self.scores.iter().filter(|s| s.on_record);
        let first = on_record.next()?;
        (on_record.count() + 1 >= 20).then_some(first)
    }

    fn next_words(&self) -> Vec<String> {
        let day = self.next_day();
        let record = &self.worked.record;
        let Some(next) = next_round(record, day) else { return Vec::new() };
        let NextRound { now, lowers, raises, at_worst } = next;
        let mut out = vec![match lowers {
            Edge::Never => format!("No score lowers {now} in one round."),
            Edge::Always => format!("Any score lowers {now}: a worse one leaves the record."),
            Edge::At(value) => format!("{now} falls with {} or better.", self.score_words(value, false)),
        }];
        out.push(match (raises, at_worst) {
            (Edge::Never, _) => "No score raises it.".to_owned(),
            (Edge::Always, Some(worst)) => format!("Any score raises it, at most to {worst}."),
            (Edge::At(value), Some(worst)) => {
                format!("It rises with {} or worse, at most to {worst}.", self.score_words(value, true))
            }
            (Edge::Always | Edge::At(_), None) => "A bad enough score raises it.".to_owned(),
        });
        let goals = [5, 10].into_iter().filter_map(|tenths| HandicapIndex::new(now.value() - Tenths::new(tenths)));
        for goal in goals {
            if let Edge::At(value) = differential_for(record, day, goal) {
                out.push(format!("{goal} needs {} or better.", self.score_words(value, false)));
            }
        }
        out
    }

    /// A differential in words, with the gross score from the tee at hand that gives it; `worse` where the edge is the
    /// lowest differential and not the highest.
    fn score_words(&self, value: Tenths, worse: bool) -> String {
        let words = format!("a differential of {value}");
        let Some(tee) = &self.tee else { return words };
        let (rating, slope) = (tee.rating.rating, tee.rating.slope);
        let is = |gross: i32| score_differential(gross, rating, slope, no_correction(), Holes::Eighteen).value;
        let near = adjusted_gross_for(value, rating, slope, no_correction());
        // Whole strokes: the last one on the right side of the edge.
        let on_the_side = |gross: &i32| is(*gross).is_some_and(|d| if worse { d >= value } else { d <= value });
        let gross =
            if worse { (near - 2..=near + 3).find(on_the_side) } else { (near - 3..=near + 2).rev().find(on_the_side) };
        gross.map_or(words.clone(), |gross| format!("{words} ({gross} from {})", tee.name))
    }
}

/// The playing conditions calculation of a day that nobody knows yet: none.
fn no_correction() -> Pcc {
    Pcc::default()
}

fn scores_words(count: usize) -> String {
    match count {
        0 => "no score is".to_owned(),
        1 => "one score is".to_owned(),
        many => format!("{many} scores are"),
    }
}

fn moved(before: HandicapIndex, after: HandicapIndex) -> String {
    let by = after.value() - before.value();
    match by.tenths() {
        0 => "as now".to_owned(),
        up if up > 0 => format!("{by} higher"),
        down => format!("{} lower", Tenths::new(-down)),
    }
}

fn cap_words(working: &IndexWorking) -> Option<String> {
    use crate::handicap::Cap;
    match (working.cap, working.maximum) {
        (_, true) => Some("held at the maximum".to_owned()),
        (Cap::Soft, _) => Some("the soft cap would hold it".to_owned()),
        (Cap::Hard, _) => Some("the hard cap would hold it".to_owned()),
        (Cap::None, false) => None,
    }
}

/// A score of the file as the rules take it.
fn usable_score(written: &player::Score, today: NaiveDate) -> Result<Score, String> {
    let date = NaiveDate::parse_from_str(&written.date, "%Y-%m-%d").map_err(|_| "this is no date".to_owned())?;
    if date > today {
        return Err(format!("in the future, left out until then (today is {today})"));
    }
    let holes = Holes::of(usize::from(written.holes));
    let slope = SlopeRating::new(u32::from(written.slope));
    let pcc = Pcc::new(Tenths::whole(i32::from(written.pcc)));
    let returned = match (holes, slope, pcc) {
        (Some(holes), Some(slope), Some(pcc)) => Returned::Full {
            holes,
            adjusted_gross: i32::from(written.adjusted_gross),
            rating: written.rating,
            slope,
            pcc,
        },
        _ if written.differential.is_some() => Returned::OfficialOnly,
        (None, ..) => {
            return Err(format!(
                "{} holes: only the association can make its differential; add `differential`",
                written.holes
            ));
        }
        (_, None, _) => return Err(format!("slope {} is out of range", written.slope)),
        (_, _, None) => return Err(format!("a playing conditions calculation of {} is out of range", written.pcc)),
    };
    Ok(Score { date, returned, official: written.differential })
}

fn line_of(written: &player::Score, revision: &Revision) -> ScoreLine {
    let place: Vec<&str> = written.course.iter().chain(&written.tee).map(String::as_str).collect();
    ScoreLine {
        date: revision.date,
        place: place.join(", "),
        gross: written.adjusted_gross,
        holes: written.holes,
        rated: format!("{}/{}", written.rating, written.slope),
        differential: revision.differential,
        estimated: revision.estimated,
        on_record: false,
        counts: false,
        exceptional: revision.exceptional,
        index: revision.index(),
    }
}

/// Marks the scores of the latest twenty, with their differentials as they stand, and those that count.
fn mark_record(lines: &mut [ScoreLine], worked: &WorkedRecord) {
    let on_record: Vec<Tenths> = worked.record.differentials().collect();
    let Some(last) = worked.revisions.last() else { return };
    let with_one = lines.iter().filter(|l| l.differential.is_some()).count();
    let recent = lines.iter_mut().filter(|l| l.differential.is_some()).skip(with_one.saturating_sub(on_record.len()));
    for (place, (line, value)) in recent.zip(on_record).enumerate() {
        line.on_record = true;
        line.differential = Some(value);
        line.counts = last.working.counted.iter().any(|c| c.place == place);
    }
}
