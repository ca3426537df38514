//! A scoring record: the index after every score, exceptional scores, Low Handicap Index.

use super::index::{IndexWorking, ON_RECORD, exceptional_reduction, index_from_differentials};
use super::{Holes, NineHoles, Pcc, Rules, combined_nines, estimated_expected_nine, score_differential};
use crate::units::tenths::{Exact, HandicapIndex, SlopeRating, Tenths};
use chrono::NaiveDate;
use std::collections::VecDeque;

/// Days back from the most recent score in which the Low Handicap Index is sought.
const LOW_WINDOW_DAYS: i64 = 365;

/// A score of the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Score {
    /// The day it was played.
    pub date: NaiveDate,
    /// What was returned.
    pub returned: Returned,
    /// The official differential, where the authority gave one.
    pub official: Option<Tenths>,
}

/// What was returned for the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Returned {
    /// Nine or eighteen holes against their ratings.
    Full {
        /// Nine or eighteen.
        holes: Holes,
        /// Adjusted gross score.
        adjusted_gross: i32,
        /// Rating of the holes played.
        rating: Tenths,
        /// Slope of the holes played.
        slope: SlopeRating,
        /// Playing conditions calculation of the day.
        pcc: Pcc,
    },
    /// A score whose differential only the authority can make: 10 to 17 holes, or unknown ratings.
    OfficialOnly,
}

impl Score {
    /// The differential of the holes played, before rounding.
    fn own_unrounded(&self) -> Option<(Holes, Exact)> {
        match self.returned {
            Returned::Full { holes, adjusted_gross, rating, slope, pcc } => {
                Some((holes, score_differential(adjusted_gross, rating, slope, pcc, holes).unrounded))
            }
            Returned::OfficialOnly => None,
        }
    }
}

/// What a score did to the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    /// The day of the score.
    pub date: NaiveDate,
    /// Its place among the scores given, from 0.
    pub place: usize,
    /// Its differential as it entered the record, before exceptional-score adjustments; `None` while a nine waits for
    /// its other nine.
    pub differential: Option<Tenths>,
    /// The differential is our estimate, not computable from published formulas.
    pub estimated: bool,
    /// The index in effect when it was played.
    pub in_effect: Option<HandicapIndex>,
    /// What it took off the record as an exceptional score: 0, −1 or −2.
    pub exceptional: i32,
    /// The Low Handicap Index with this score on the record; `None` below twenty.
    pub low_index: Option<HandicapIndex>,
    /// The index after it and everything it was made from; its places count from the oldest differential on record.
    pub working: IndexWorking,
}

impl Revision {
    /// The index after this score.
    pub const fn index(&self) -> Option<HandicapIndex> {
        self.working.index
    }
}

#[derive(Clone, Copy, Debug)]
struct Issued {
    date: NaiveDate,
    index: HandicapIndex,
    counts_for_low: bool,
}

#[derive(Clone, Copy, Debug)]
struct WaitingNine {
    unrounded: Exact,
    after: usize,
}

/// The state of a record, to which scores are added in order of date.
#[derive(Clone, Debug)]
pub struct Record {
    rules: Rules,
    recent: VecDeque<Tenths>,
    entered: usize,
    issued: VecDeque<Issued>,
    waiting: Option<WaitingNine>,
    latest_date: Option<NaiveDate>,
    latest_index: Option<HandicapIndex>,
    latest_low: Option<HandicapIndex>,
    in_effect: Option<HandicapIndex>,
    low_in_effect: Option<HandicapIndex>,
}

impl Record {
    /// A record without scores.
    pub fn new(rules: Rules) -> Record {
        Record {
            rules,
            recent: VecDeque::with_capacity(ON_RECORD + 1),
            entered: 0,
            issued: VecDeque::new(),
            waiting: None,
            latest_date: None,
            latest_index: None,
            latest_low: None,
            in_effect: None,
            low_in_effect: None,
        }
    }

    /// The rules it follows.
    pub const fn rules(&self) -> &Rules {
        &self.rules
    }

    /// The current index.
    pub const fn index(&self) -> Option<HandicapIndex> {
        self.latest_index
    }

    /// The current Low Handicap Index; `None` below twenty scores.
    pub const fn low_index(&self) -> Option<HandicapIndex> {
        self.latest_low
    }

    /// The differentials on record with their adjustments, oldest first, at most twenty.
    pub fn differentials(&self) -> impl Iterator<Item = Tenths> + '_ {
        self.recent.iter().copied()
    }

    /// The day of the most recent score.
    pub const fn latest_date(&self) -> Option<NaiveDate> {
        self.latest_date
    }

    /// Adds a score, which must not be older than the latest, and says what it did.
    ///
    /// Scores of one day share the index and the Low Handicap Index in effect before that day: an index is revised once
    /// a day, so the indexes between them are never issued.
    ///
    /// # References
    /// Rules of Handicapping 5.1 to 5.9; 5.7 with Interpretation 5.7/1 (R&A) for the window of the Low Handicap Index.
    pub fn add(&mut self, score: &Score) -> Revision {
        if self.latest_date != Some(score.date) {
            self.in_effect = self.latest_index;
            self.low_in_effect = self.latest_low;
        }
        let entry = self.entry(score);
        let mut exceptional = 0;
        if let Some(entry) = entry {
            self.recent.push_back(entry.unrounded.to_tenths());
            self.entered += 1;
            if self.recent.len() > ON_RECORD {
                self.recent.pop_front();
            }
            if let Some(index) = self.in_effect {
                exceptional = exceptional_reduction(index, entry.tested, &self.rules);
                for differential in &mut self.recent {
                    *differential = *differential + Tenths::whole(exceptional);
                }
            }
        }
        let working = index_from_differentials(self.recent.make_contiguous(), self.low_in_effect, &self.rules);
        self.latest_date = Some(score.date);
        self.latest_index = working.index;
        self.issue(score.date, working.index);
        self.latest_low = self.lowest_issued();
        Revision {
            date: score.date,
            place: 0,
            differential: entry.map(|entry| entry.unrounded.to_tenths()),
            estimated: entry.is_some_and(|entry| entry.estimated),
            in_effect: self.in_effect,
            exceptional,
            low_index: self.latest_low,
            working,
        }
    }

    // The 18-hole differential that a score brings, if it brings one now.
    fn entry(&mut self, score: &Score) -> Option<Entry> {
        let own = score.own_unrounded();
        if let Some(official) = score.official {
            // An official figure of 18 holes hides the unrounded one that the exceptional-score test needs.
            let tested = match own {
                Some((Holes::Eighteen, unrounded)) if unrounded.to_tenths() == official => unrounded,
                _ => official.exact(),
            };
            return Some(Entry { unrounded: official.exact(), tested, estimated: false });
        }
        match own? {
            (Holes::Eighteen, unrounded) => Some(Entry { unrounded, tested: unrounded, estimated: false }),
            (Holes::Nine, nine) => self.nine(nine),
        }
    }

    // Nine holes take an expected part once there is an index (2024); before, and in 2020, two nines make an eighteen.
    fn nine(&mut self, nine: Exact) -> Option<Entry> {
        let index = self.in_effect.or(self.latest_index);
        let estimated = self.rules.nine_holes == NineHoles::Expected;
        if let (NineHoles::Expected, Some(index)) = (self.rules.nine_holes, index) {
            let unrounded = nine + estimated_expected_nine(index);
            return Some(Entry { unrounded, tested: unrounded, estimated });
        }
        let waiting = self.waiting.take().filter(|waiting| self.entered - waiting.after < ON_RECORD);
        match waiting {
            Some(first) => {
                let unrounded = combined_nines(first.unrounded, nine);
                Some(Entry { unrounded, tested: unrounded, estimated })
            }
            None => {
                self.waiting = Some(WaitingNine { unrounded: nine, after: self.entered });
                None
            }
        }
    }

    // Of one day only the last index is issued.
    fn issue(&mut self, date: NaiveDate, index: Option<HandicapIndex>) {
        if self.issued.back().is_some_and(|issued| issued.date == date) {
            self.issued.pop_back();
        }
        if let Some(index) = index {
            self.issued.push_back(Issued {
                date,
                index,
                counts_for_low: !self.rules.low_from_twentieth || self.entered >= ON_RECORD,
            });
        }
        while self.issued.front().is_some_and(|oldest| (date - oldest.date).num_days() > LOW_WINDOW_DAYS) {
            self.issued.pop_front();
        }
    }

    fn lowest_issued(&self) -> Option<HandicapIndex> {
        if self.entered < ON_RECORD {
            return None;
        }
        self.issued.iter().filter(|issued| issued.counts_for_low).map(|issued| issued.index).min()
    }
}

#[derive(Clone, Copy, Debug)]
struct Entry {
    unrounded: Exact,
    tested: Exact,
    estimated: bool,
}

/// A record worked through: every revision and the state to go on from.
#[derive(Clone, Debug)]
pub struct WorkedRecord {
    /// What each score did, in order of date.
    pub revisions: Vec<Revision>,
    /// The scores were out of order and have been sorted by date.
    pub sorted: bool,
    /// The record as it stands.
    pub record: Record,
}

/// Works through a record; scores of one day keep their order.
pub fn index_from_record(scores: &[Score], rules: &Rules) -> WorkedRecord {
    let mut order: Vec<(usize, &Score)> = scores.iter().enumerate().collect();
    let sorted = !order.is_sorted_by_key(|(_, score)| score.date);
    order.sort_by_key(|(_, score)| score.date);
    let mut record = Record::new(*rules);
    let revisions = order.into_iter().map(|(place, score)| Revision { place, ..record.add(score) }).collect();
    WorkedRecord { revisions, sorted, record }
}
