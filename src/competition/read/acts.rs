//! Rulings and changes: what the Committee decided, and what happened late.

use super::super::codes::{CHANGE_VALUE, NOT_A_SCORE, RULING_FILLS, RULING_LOWERS};
use super::super::values::{Change, Ruling, Stands, Status, What};
use super::keying::SCORE_ADVICE;
use super::setup::HOLE;
use super::{file, id, is_id, moment};
use crate::course::decode::{Bounds, Fields, FileKind, Reader, quoted};
use crate::notebook::{Diagnostic, Node};
use crate::scoring::HoleScore;
use crate::units::tenths::{HandicapIndex, parse_whole_handicap};

const RULING_KEYS: &[&str] = &["format", "id", "round", "hole", "returned", "stands", "rule", "why", "by", "at"];
const CHANGE_KEYS: &[&str] = &["format", "id", "at", "by", "what", "from", "to", "why", "event", "division", "witness"];
const ROUND: Bounds = Bounds::new("a round", 1.0, 50.0);

/// Reads a ruling; `name` is its file, for messages.
pub fn read_ruling(text: &str, name: &str) -> (Option<Ruling>, Vec<Diagnostic>) {
    file(text, FileKind::Ruling, |r, root| ruling(r, root, name))
}

/// Reads a change; `name` is its file, for messages.
pub fn read_change(text: &str, name: &str) -> (Option<Change>, Vec<Diagnostic>) {
    file(text, FileKind::Change, |r, root| change(r, root, name))
}

fn ruling(r: &mut Reader, root: &Node, name: &str) -> Option<Ruling> {
    let fields = r.fields(root, "the ruling", RULING_KEYS)?;
    let card = fields.need(r, "id", "id: M0142", id);
    let round = fields.read(r, "round", |r, n, k| r.small(n, k, ROUND)).map_or(0, |round| usize::from(round) - 1);
    let hole = fields.need(r, "hole", "hole: 7", |r, n, k| r.small(n, k, HOLE));
    let returned = fields.need(r, "returned", "returned: 5", returned);
    let stands = match returned {
        Some(returned) => fields.need(r, "stands", "stands: 6", |r, n, k| stands(r, n, k, returned)),
        None => None,
    };
    let rule = fields.need(r, "rule", "rule: 3.3b(3)", Reader::text);
    let why = fields.need(r, "why", "why: two penalty strokes not known to the player", Reader::text);
    let by = fields.need(r, "by", "by: Committee", Reader::text);
    let at = fields.need(r, "at", "at: 2026-05-16T15:20", moment);
    if r.errors() > 0 {
        return None;
    }
    Some(Ruling {
        file: name.to_owned(),
        id: card?,
        round,
        hole: hole?,
        returned: returned?,
        stands: stands?,
        rule,
        why,
        by,
        at,
    })
}

fn returned(r: &mut Reader, node: &Node, key: &str) -> Option<HoleScore> {
    let text = r.raw(node, key)?;
    match text.to_lowercase().as_str() {
        "none" | "nothing" | "no score" => Some(HoleScore::Empty),
        _ => score(r, node, key),
    }
}

fn score(r: &mut Reader, node: &Node, key: &str) -> Option<HoleScore> {
    let text = r.raw(node, key)?;
    let score = HoleScore::parse(text).ok();
    if score.is_none() {
        r.error(NOT_A_SCORE, node.span, format!("`{key}` is {}, no score", quoted(text)), SCORE_ADVICE);
    }
    score
}

fn stands(r: &mut Reader, node: &Node, key: &str, returned: HoleScore) -> Option<Stands> {
    let text = r.raw(node, key)?;
    match text.to_lowercase().as_str() {
        "as returned" => return Some(Stands::AsReturned),
        "dq" | "disqualified" => return Some(Stands::Disqualified),
        "x" | "no score" => return Some(Stands::NoScore),
        _ => {}
    }
    let stands = score(r, node, key)?.gross()?;
    match returned.gross() {
        Some(returned) if stands == returned => Some(Stands::AsReturned),
        Some(returned) if stands > returned => Some(Stands::Added(stands)),
        Some(returned) => {
            let message = format!("{returned} was returned, and {stands} is fewer");
            let advice = "a returned score that is too high stands (Rule 3.3b(3)): write `stands: as returned`; a slip of the keyer is mended in the keying";
            r.error(RULING_LOWERS, node.span, message, advice);
            None
        }
        None => {
            let message = "no score was returned on this hole, so none can stand";
            let advice = "in stroke play that disqualifies (Rule 3.3b(3)): write `stands: disqualified`; elsewhere `stands: no score`";
            r.error(RULING_FILLS, node.span, message, advice);
            None
        }
    }
}

/// What a change can be about, as `what` names it.
#[derive(Clone, Copy)]
enum Subject {
    Status,
    Given(Status),
    Index,
    Playing,
    Tee,
    Category,
    Group,
    StartTime,
    StartHole,
    Name,
    Confirmed,
    Lot,
    PlayOff,
}

const SUBJECTS: [(&str, Subject); 19] = [
    ("withdrawn", Subject::Given(Status::Withdrawn)),
    ("disqualified", Subject::Given(Status::Disqualified)),
    ("no return", Subject::Given(Status::NoReturn)),
    ("no show", Subject::Given(Status::NoShow)),
    ("status", Subject::Status),
    ("index", Subject::Index),
    ("handicap_index", Subject::Index),
    ("playing_handicap", Subject::Playing),
    ("playing handicap", Subject::Playing),
    ("tee", Subject::Tee),
    ("category", Subject::Category),
    ("group", Subject::Group),
    ("start_time", Subject::StartTime),
    ("start_hole", Subject::StartHole),
    ("name", Subject::Name),
    ("confirmed", Subject::Confirmed),
    ("lot", Subject::Lot),
    ("play-off", Subject::PlayOff),
    ("play off", Subject::PlayOff),
];

fn change(r: &mut Reader, root: &Node, name: &str) -> Option<Change> {
    let fields = r.fields(root, "the change", CHANGE_KEYS)?;
    let subject = fields.need(r, "what", "what: withdrawn", |r, n, k| r.word(n, k, &SUBJECTS));
    let drawn = matches!(subject, Some(Subject::Lot | Subject::PlayOff));
    let card = if drawn { None } else { fields.need(r, "id", "id: M0142", id) };
    let at = fields.need(r, "at", "at: 2026-05-16T15:20", moment);
    let by = fields.need(r, "by", "by: Committee", Reader::text);
    let why = if drawn {
        fields.read(r, "why", Reader::text)
    } else {
        fields.need(r, "why", "why: index of the day before was used", Reader::text)
    };
    let from = fields.read(r, "from", Reader::text);
    let event = if drawn {
        fields.need(r, "event", "event: medal", Reader::text)
    } else {
        fields.read(r, "event", Reader::text)
    };
    let division = fields.read(r, "division", Reader::text);
    let witness = match subject {
        Some(Subject::Lot) => fields.need(r, "witness", "witness: Isla Thorne", Reader::text),
        _ => fields.read(r, "witness", Reader::text),
    };
    let what = subject.and_then(|subject| what(r, &fields, subject));
    if r.errors() > 0 {
        return None;
    }
    Some(Change { file: name.to_owned(), id: card, at: at?, by, what: what?, from, why, event, division, witness })
}

fn what(r: &mut Reader, fields: &Fields<'_>, subject: Subject) -> Option<What> {
    let value = |r: &mut Reader, example: &str, parse: &dyn Fn(&str) -> Result<What, String>| {
        fields.need(r, "to", example, |r, n, k| {
            let text = r.raw(n, k)?;
            match parse(text) {
                Ok(what) => Some(what),
                Err(advice) => {
                    r.error(CHANGE_VALUE, n.span, format!("`to` cannot be {}", quoted(text)), advice);
                    None
                }
            }
        })
    };
    match subject {
        Subject::Given(status) => Some(What::Status(Some(status))),
        Subject::Confirmed => Some(What::Confirmed),
        Subject::Status => value(r, "to: WD", &|text| match text.to_lowercase().as_str() {
            "none" | "in" => Ok(What::Status(None)),
            _ => Status::parse(text)
                .map(|s| What::Status(Some(s)))
                .ok_or_else(|| "write NR, WD, DQ, NS, or none".to_owned()),
        }),
        Subject::Index => {
            value(r, "to: 12.9", &|text| HandicapIndex::parse(text).map(What::Index).map_err(|e| e.fault.to_string()))
        }
        Subject::Playing => value(r, "to: 14", &|text| {
            parse_whole_handicap(text).map(What::PlayingHandicap).map_err(|e| e.fault.to_string())
        }),
        Subject::Tee => value(r, "to: Club", &|text| Ok(What::Tee(text.to_owned()))),
        Subject::Category => value(r, "to: Senior", &|text| Ok(What::Category(text.to_owned()))),
        Subject::Group => value(r, "to: 4", &|text| Ok(What::Group(text.to_owned()))),
        Subject::Name => value(r, "to: Ana Vesely", &|text| Ok(What::Name(text.to_owned()))),
        Subject::StartTime => value(r, "to: 09:12", &|text| {
            super::field::start_time(text)
                .map(What::StartTime)
                .ok_or_else(|| "write hours and minutes, as 09:12".to_owned())
        }),
        Subject::StartHole => value(r, "to: 10", &|text| {
            let hole = text.parse().ok().filter(|hole| (1..=36).contains(hole));
            hole.map(What::StartHole).ok_or_else(|| "write a hole number, as 10".to_owned())
        }),
        Subject::Lot | Subject::PlayOff => {
            let ids = fields.need(r, "to", "to: [ M0142, M0007 ]", |r, n, k| r.texts(n, k))?;
            let mut order = Vec::new();
            for (text, span) in ids {
                if !is_id(&text) || order.contains(&text) {
                    let message = format!("`to` cannot have {} here", quoted(&text));
                    r.error(CHANGE_VALUE, span, message, "name each id once, the first placed first");
                } else {
                    order.push(text);
                }
            }
            Some(if matches!(subject, Subject::Lot) { What::Lot(order) } else { What::PlayOff(order) })
        }
    }
}
