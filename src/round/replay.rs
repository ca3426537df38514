//! From the bytes of a log to the state of its round, whatever happened to the bytes.

use super::event::{Event, LOG_FORMAT};
use super::line::{Chain, LogLine, NO_LINE, read_line};
use super::state::{NotPossible, RoundState};
use chrono::DateTime;
use std::collections::HashMap;
use std::fmt;

/// The most problems told of one log.
const MOST_PROBLEMS: usize = 200;

/// One problem of a log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogProblem {
    /// The line it stands on, counted from 1.
    pub line: usize,
    /// What is wrong.
    pub what: Problem,
}

/// What can be wrong with a log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Problem {
    /// The end of the log is a line that was never finished, as after a power cut.
    Torn {
        /// Its bytes.
        bytes: usize,
    },
    /// A line in the middle does not prove itself.
    Damaged,
    /// Lines between are missing.
    Missing {
        /// The first number missing.
        from: u64,
        /// The last number missing.
        to: u64,
    },
    /// Two programs wrote the round at once: from here lines do not follow each other.
    TwoSequences,
    /// A line stands there twice; the second was passed over.
    Repeated,
    /// The log does not begin with an opening record.
    NoOpening,
    /// An event of a later marram.
    Unknown,
    /// The log was begun by a later marram.
    LaterFormat(String),
    /// The event does not fit the round; it was passed over.
    DoesNotFit(NotPossible),
    /// The clock was set back before this line.
    ClockBack,
    /// There were more problems than are told.
    More(usize),
}

impl LogProblem {
    /// Whether something entered may be missing from the card (a note otherwise).
    pub const fn loses_something(&self) -> bool {
        !matches!(self.what, Problem::Repeated | Problem::ClockBack)
    }

    /// What to do about it, in one sentence.
    pub const fn advice(&self) -> &'static str {
        match self.what {
            Problem::Torn { .. } => "it is set aside beside the log; enter that score again",
            Problem::Damaged | Problem::Missing { .. } => {
                "compare the card with the paper card and correct it in place"
            }
            Problem::TwoSequences => {
                "every line of both was read, the later one counts; compare the card and correct it in place"
            }
            Problem::NoOpening => "take the round from a copy, or enter its scores in a new round",
            Problem::Unknown | Problem::LaterFormat(_) => "open it with that version; here it is only read",
            Problem::DoesNotFit(_) => "compare the card and correct it in place",
            Problem::Repeated | Problem::ClockBack => "nothing needs doing",
            Problem::More(_) => "",
        }
    }
}

impl fmt::Display for LogProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: ", self.line)?;
        match &self.what {
            Problem::Torn { bytes } => write!(f, "the last line is torn ({bytes} bytes), as after a power cut"),
            Problem::Damaged => f.write_str("the line is damaged"),
            Problem::Missing { from, to } if from == to => write!(f, "entry {from} is missing before it"),
            Problem::Missing { from, to } => write!(f, "entries {from} to {to} are missing before it"),
            Problem::TwoSequences => f.write_str("two programs wrote this round at once"),
            Problem::Repeated => f.write_str("the line stands there twice and counts once"),
            Problem::NoOpening => f.write_str("this is no round's log: it does not begin with an opening record"),
            Problem::Unknown => f.write_str("an entry of a later marram that this one does not know"),
            Problem::LaterFormat(format) => write!(f, "the round was written by a later marram (`{format}`)"),
            Problem::DoesNotFit(why) => write!(f, "the entry was passed over: {why}"),
            Problem::ClockBack => f.write_str("the clock was set back before this entry; its order stays"),
            Problem::More(count) => write!(f, "{count} more problems in this log"),
        }
    }
}

/// What a log says.
#[derive(Clone, Debug, PartialEq)]
pub struct Replay {
    /// The round; `None` when there is no opening record that could be read.
    pub state: Option<RoundState>,
    /// All that was wrong, in the order of the lines.
    pub problems: Vec<LogProblem>,
    /// How many bytes at the front are to be kept: all but a torn end.
    pub kept_bytes: usize,
    /// Whether the last line to be kept lacks only its line end.
    pub wants_line_end: bool,
    /// Where the next line is chained on.
    pub chain: Chain,
    /// Whether a later marram wrote in it, so that this one only reads it.
    pub read_only: bool,
}

/// Reads a log. Every line that proves itself counts, in the order of the file, whatever stands between.
///
/// ```
/// use marram::round::replay;
/// let read = replay(b"");
/// assert!(read.state.is_none() && read.kept_bytes == 0);
/// ```
pub fn replay(bytes: &[u8]) -> Replay {
    let mut reader = Reader::default();
    let mut start = 0;
    let mut number = 0;
    let mut doubtful = Vec::new();
    let mut kept_bytes = 0;
    let mut wants_line_end = false;
    while let Some(rest) = bytes.get(start..).filter(|rest| !rest.is_empty()) {
        number += 1;
        let length = rest.iter().position(|b| *b == b'\n').unwrap_or(rest.len());
        let end = (start + length + 1).min(bytes.len());
        let line = rest.get(..length).unwrap_or_default();
        if let Some(read) = read_line(line) {
            let damaged = !doubtful.is_empty();
            for line in doubtful.drain(..) {
                reader.report(line, Problem::Damaged);
            }
            reader.take(number, &read, damaged);
            kept_bytes = end;
            wants_line_end = length == rest.len();
        } else if line.iter().all(u8::is_ascii_whitespace) && doubtful.is_empty() {
            kept_bytes = end;
        } else {
            doubtful.push(number);
        }
        start = end;
    }
    reader.finish(bytes, kept_bytes, wants_line_end, doubtful.first().copied())
}

#[derive(Default)]
struct Reader {
    state: Option<RoundState>,
    problems: Vec<LogProblem>,
    untold: usize,
    /// By checksum: what a line followed, its number, the key it was applied with.
    seen: HashMap<String, (String, u64, u64)>,
    last_sum: Option<String>,
    last_at: Option<DateTime<chrono::FixedOffset>>,
    highest: u64,
    two_told: bool,
    read_only: bool,
}

impl Reader {
    fn report(&mut self, line: usize, what: Problem) {
        if self.problems.len() < MOST_PROBLEMS {
            self.problems.push(LogProblem { line, what });
        } else {
            self.untold += 1;
        }
    }

    fn take(&mut self, number: usize, line: &LogLine, after_damage: bool) {
        if self.seen.contains_key(&line.sum) {
            return self.report(number, Problem::Repeated);
        }
        self.check_order(number, line, after_damage);
        self.check_clock(number, line);
        let key = self.state.as_ref().map_or(0, RoundState::next_key);
        let entry = (line.prev.clone(), line.seq, key);
        self.happen(number, line);
        self.seen.insert(line.sum.clone(), entry);
        self.last_sum = Some(line.sum.clone());
        self.highest = self.highest.max(line.seq);
    }

    fn check_order(&mut self, number: usize, line: &LogLine, after_damage: bool) {
        let follows = line.prev == self.last_sum.as_deref().unwrap_or(NO_LINE);
        let used = line.seq <= self.highest;
        if used && let Some(state) = &mut self.state {
            state.mark_written_twice(line.seq);
        }
        let forks = !follows && (used || self.seen.contains_key(&line.prev));
        if forks {
            if !self.two_told {
                self.two_told = true;
                self.report(number, Problem::TwoSequences);
            }
        } else if !follows && !after_damage && line.seq > self.highest + 1 {
            let from = self.highest + 1;
            self.report(number, Problem::Missing { from, to: line.seq - 1 });
        }
    }

    fn check_clock(&mut self, number: usize, line: &LogLine) {
        let Ok(at) = DateTime::parse_from_rfc3339(&line.at) else {
            return;
        };
        if self.last_at.is_some_and(|last| at < last) {
            self.report(number, Problem::ClockBack);
        }
        self.last_at = Some(at);
    }

    fn happen(&mut self, number: usize, line: &LogLine) {
        let Some(event) = &line.event else {
            self.read_only = true;
            return self.report(number, Problem::Unknown);
        };
        let target = match event {
            Event::Undo { of } | Event::Redo { of } => self.line_named(line, *of),
            _ => None,
        };
        let result = match (&mut self.state, event) {
            (Some(state), _) => state.apply_line(line.seq, event, target),
            (none, Event::Opened(opening)) => {
                if opening.format != LOG_FORMAT {
                    self.read_only = true;
                    let what = Problem::LaterFormat(opening.format.clone());
                    self.problems.push(LogProblem { line: number, what });
                }
                RoundState::open((**opening).clone()).map(|state| *none = Some(state))
            }
            (None, _) if self.seen.is_empty() => return self.report(number, Problem::NoOpening),
            (None, _) => return,
        };
        if let Err(why) = result {
            self.report(number, Problem::DoesNotFit(why));
        }
    }

    /// The key of the line `of` among those that `line` followed; asked only where two programs used numbers alike.
    fn line_named(&self, line: &LogLine, of: u64) -> Option<u64> {
        if !self.two_told {
            return None;
        }
        let mut sum = &line.prev;
        while let Some((prev, seq, key)) = self.seen.get(sum) {
            if *seq == of {
                return Some(*key);
            }
            sum = prev;
        }
        None
    }

    fn finish(mut self, bytes: &[u8], kept_bytes: usize, wants_line_end: bool, torn: Option<usize>) -> Replay {
        if let Some(line) = torn.filter(|_| self.state.is_some()) {
            let bytes = bytes.len() - kept_bytes;
            self.report(line, Problem::Torn { bytes });
        }
        if self.state.is_none() && !self.problems.iter().any(|p| p.what == Problem::NoOpening) {
            self.report(1, Problem::NoOpening);
        }
        if self.untold > 0 {
            let line = self.problems.last().map_or(1, |p| p.line);
            let what = Problem::More(self.untold);
            self.problems.push(LogProblem { line, what });
        }
        if let Some(state) = &mut self.state {
            state.number_from(self.highest + 1);
        }
        Replay {
            state: self.state,
            problems: self.problems,
            kept_bytes,
            wants_line_end,
            chain: Chain::after(self.highest + 1, self.last_sum.unwrap_or_else(|| NO_LINE.to_owned())),
            read_only: self.read_only,
        }
    }
}
