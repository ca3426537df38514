//! One line of a round's log: sequence, checksum of the line, and the checksum of the line before, which chains them.
//!
//! `{"seq":7,"prev":"…","at":"2026-05-16T09:12:03+01:00","event":{…},"sum":"…"}`. The checksum covers every byte of the
//! line before `,"sum":`, `prev` among them, so each line is proved by itself and also names the line it followed.

use super::event::Event;
use crate::units::digest::Digest;
use serde::{Deserialize, Serialize};

/// The hexadecimal digits of a checksum: 64 bits of a SHA-256, enough to find damage (it is no seal against forgery).
const SUM_DIGITS: usize = 16;

/// The `prev` of a first line.
pub const NO_LINE: &str = "0000000000000000";

/// What is written between the body of a line and its checksum.
const SUM_KEY: &str = ",\"sum\":\"";

/// A line that proved itself.
#[derive(Clone, Debug, PartialEq)]
pub struct LogLine {
    /// Its number; the order of a round, whatever the clock said.
    pub seq: u64,
    /// The checksum of the line that it followed.
    pub prev: String,
    /// When it was written, as the computer's clock said; information only.
    pub at: String,
    /// Its own checksum.
    pub sum: String,
    /// What happened; `None` when this program does not know such an event.
    pub event: Option<Event>,
}

#[derive(Serialize)]
struct Body<'a> {
    seq: u64,
    prev: &'a str,
    at: &'a str,
    event: &'a Event,
}

#[derive(Deserialize)]
struct Head {
    seq: u64,
    prev: String,
    at: String,
    event: serde_json::Value,
}

fn sum_of(body: &[u8]) -> String {
    Digest::of(body).short(SUM_DIGITS)
}

/// Reads one line without its line end; `None` when it does not prove itself.
pub fn read_line(bytes: &[u8]) -> Option<LogLine> {
    // A line end changed on the way (version control does that) is no damage.
    let bytes = bytes.strip_suffix(b"\r").unwrap_or(bytes);
    let text = std::str::from_utf8(bytes).ok()?;
    let (body, tail) = text.rsplit_once(SUM_KEY)?;
    let sum = tail.strip_suffix("\"}")?;
    if sum.len() != SUM_DIGITS || sum != sum_of(body.as_bytes()) {
        return None;
    }
    let head: Head = serde_json::from_str(text).ok()?;
    Some(LogLine {
        seq: head.seq,
        prev: head.prev,
        at: head.at,
        sum: sum.to_owned(),
        event: serde_json::from_value(head.event).ok(),
    })
}

/// The end of a log, to which the next line is chained.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chain {
    next_seq: u64,
    last_sum: String,
}

impl Default for Chain {
    fn default() -> Self {
        Self { next_seq: 1, last_sum: NO_LINE.to_owned() }
    }
}

impl Chain {
    /// The chain after a line `last_sum`, when the highest number so far is `next_seq - 1`.
    pub(super) fn after(next_seq: u64, last_sum: String) -> Self {
        Self { next_seq, last_sum }
    }

    /// The number that the next line gets.
    pub const fn next_seq(&self) -> u64 {
        self.next_seq
    }

    /// The next line with its line end, and its number; `at` is the time as the clock says it.
    ///
    /// # Errors
    /// Those of `serde_json` for an event that cannot be written; none of [`Event`]'s can fail.
    pub fn write(&mut self, at: &str, event: &Event) -> Result<(u64, String), serde_json::Error> {
        let seq = self.next_seq;
        let mut line = serde_json::to_string(&Body { seq, prev: &self.last_sum, at, event })?;
        line.pop();
        let sum = sum_of(line.as_bytes());
        line.push_str(SUM_KEY);
        line.push_str(&sum);
        line.push_str("\"}\n");
        self.next_seq += 1;
        self.last_sum = sum;
        Ok((seq, line))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::round::{HoleScore, Place};

    fn one_line() -> String {
        let event = Event::Score { place: Place { player: 1, position: 3 }, score: HoleScore::Gross(5) };
        Chain::default().write("2026-05-16T09:12:03+01:00", &event).unwrap().1
    }

    #[test]
    fn a_line_is_one_json_object_that_proves_itself() {
        let line = one_line();
        assert!(
            line.starts_with(
                r#"{"seq":1,"prev":"0000000000000000","at":"2026-05-16T09:12:03+01:00","event":{"score":{"player":1,"position":3,"score":5}},"sum":""#
            ),
            "{line}"
        );
        assert!(serde_json::from_str::<serde_json::Value>(&line).is_ok());
        let read = read_line(line.trim_end().as_bytes()).unwrap();
        assert_eq!((read.seq, read.prev.as_str()), (1, NO_LINE));
        assert!(read_line(line.trim_end().replace('\n', "\r").as_bytes()).is_some());
    }

    #[test]
    fn no_changed_byte_passes() {
        let line = one_line();
        let line = line.trim_end().as_bytes();
        for index in 0..line.len() {
            for change in [1, 0x20, 0x80] {
                let mut bad = line.to_vec();
                bad[index] ^= change;
                assert_eq!(read_line(&bad), None, "byte {index} ^ {change}");
            }
            assert_eq!(read_line(&line[..index]), None, "cut at {index}");
        }
    }
}
