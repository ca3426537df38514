//! Keyings, rulings and late acts as the files that the readers read.

use super::pad::Pad;
use super::values::{Change, Ruling, Stands, What};
use crate::scoring::HoleScore;

/// A text as YAML reads it back, whatever it holds; line ends and control characters become blanks.
pub fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

fn line(out: &mut String, key: &str, value: Option<&str>) {
    if let Some(value) = value.filter(|value| !value.trim().is_empty()) {
        out.push_str(&format!("{key}: {}\n", quoted(value.trim())));
    }
}

fn boxes(scores: &[HoleScore]) -> String {
    let last = scores.iter().rposition(|score| score.is_entered()).map_or(0, |at| at + 1);
    let words = scores.iter().take(last).map(|s| if s.is_entered() { s.to_string() } else { "_".to_owned() });
    words.collect::<Vec<_>>().join(" ")
}

/// `cards/ID/KEYER.yaml`.
pub(super) fn keying_text(pad: &Pad, at: &str) -> String {
    let mut out = String::from("format: keying/1\n");
    line(&mut out, "id", Some(&pad.id));
    line(&mut out, "keyer", Some(&pad.keyer));
    out.push_str(&format!("at: {at}\n"));
    if pad.round > 0 {
        out.push_str(&format!("round: {}\n", pad.round + 1));
    }
    out.push_str(&format!("scores: \"{}\"\n", boxes(&pad.scores)));
    if let Some(total) = pad.written_total() {
        out.push_str(&format!("written_total: {total}\n"));
    }
    let said: Vec<String> = [("marker", pad.marker), ("player", pad.player)]
        .into_iter()
        .filter_map(|(who, said)| said.map(|said| format!("{who}: {}", if said { "yes" } else { "no" })))
        .collect();
    if !said.is_empty() {
        out.push_str(&format!("certified: {{ {} }}\n", said.join(", ")));
    }
    line(&mut out, "mended_by", pad.mended_by.as_deref());
    out
}

/// Where a keying lies in the competition's folder.
pub fn keying_file(id: &str, keyer: &str, round: usize) -> String {
    let keyer = file_stem(keyer);
    let round = if round > 0 { format!(".{}", round + 1) } else { String::new() };
    format!("cards/{id}/{keyer}{round}.yaml")
}

/// A name as it can name a file on every system: letters and digits, lower case, hyphens between them.
pub fn file_stem(name: &str) -> String {
    let mut out = String::new();
    for c in name.chars().flat_map(char::to_lowercase) {
        if c.is_alphanumeric() {
            out.push(c);
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    let out: String = out.chars().take(40).collect();
    let out = out.trim_matches('-');
    if out.is_empty() { "keyer".to_owned() } else { out.to_owned() }
}

/// `rulings/ID-N.yaml`.
pub fn ruling_text(ruling: &Ruling) -> String {
    let mut out = String::from("format: ruling/1\n");
    line(&mut out, "id", Some(&ruling.id));
    if ruling.round > 0 {
        out.push_str(&format!("round: {}\n", ruling.round + 1));
    }
    out.push_str(&format!("hole: {}\n", ruling.hole));
    let returned = if ruling.returned.is_entered() { ruling.returned.to_string() } else { "none".to_owned() };
    out.push_str(&format!("returned: \"{returned}\"\n"));
    let stands = match ruling.stands {
        Stands::AsReturned => "as returned".to_owned(),
        Stands::Added(strokes) => strokes.to_string(),
        Stands::Disqualified => "disqualified".to_owned(),
        Stands::NoScore => "no score".to_owned(),
    };
    out.push_str(&format!("stands: {stands}\n"));
    line(&mut out, "rule", ruling.rule.as_deref());
    line(&mut out, "why", ruling.why.as_deref());
    line(&mut out, "by", ruling.by.as_deref());
    if let Some(at) = &ruling.at {
        out.push_str(&format!("at: {at}\n"));
    }
    out
}

/// `changes/ID-N.yaml`.
pub fn change_text(change: &Change) -> String {
    let mut out = String::from("format: change/1\n");
    line(&mut out, "id", change.id.as_deref());
    let what = match &change.what {
        What::PlayingHandicap(_) => "playing_handicap",
        What::StartTime(_) => "start_time",
        What::StartHole(_) => "start_hole",
        other => other.words(),
    };
    out.push_str(&format!("what: {what}\n"));
    line(&mut out, "from", change.from.as_deref());
    match &change.what {
        What::Confirmed => {}
        What::Lot(ids) | What::PlayOff(ids) => {
            let ids: Vec<String> = ids.iter().map(|id| quoted(id)).collect();
            out.push_str(&format!("to: [ {} ]\n", ids.join(", ")));
        }
        What::Status(None) => out.push_str("to: none\n"),
        What::Status(Some(status)) => out.push_str(&format!("to: {}\n", status.code())),
        other => line(&mut out, "to", Some(&other.to())),
    }
    line(&mut out, "why", change.why.as_deref());
    line(&mut out, "event", change.event.as_deref());
    line(&mut out, "division", change.division.as_deref());
    line(&mut out, "by", change.by.as_deref());
    line(&mut out, "witness", change.witness.as_deref());
    out.push_str(&format!("at: {}\n", change.at));
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::read::{read_change, read_keying, read_ruling};
    use super::super::values::Status;
    use super::*;
    use std::sync::Arc;

    #[test]
    fn what_is_written_is_read_back() {
        let sheet = super::super::pad::CardSheet { holes: (1..=18).collect(), ..Default::default() };
        let mut pad = Pad::new("M1", "Ann", 1, "Jo \"the\" K: eyer # 2", Arc::new(sheet), &[]);
        for digit in [5, 4, 6] {
            pad.digit(digit);
        }
        pad.step(1);
        pad.put(HoleScore::PickedUp);
        pad.written = "88".to_owned();
        pad.marker = Some(false);
        let (read, problems) = read_keying(&pad.text("2026-05-16T15:20:00+01:00"), "k", |_| Some(18));
        assert_eq!(problems, []);
        let read = read.unwrap();
        assert_eq!((read.keyer.as_str(), read.round), ("Jo \"the\" K: eyer # 2", 1));
        assert_eq!(read.scores.len(), 5);
        assert_eq!(read.scores[3], HoleScore::Empty);
        assert_eq!((read.written_total, read.marker, read.player), (Some(88), Some(false), None));

        let ruling = Ruling {
            file: "r".to_owned(),
            id: "M1".to_owned(),
            round: 0,
            hole: 7,
            returned: HoleScore::Gross(5),
            stands: Stands::Added(7),
            rule: Some("3.3b(3)".to_owned()),
            why: Some("two: not known".to_owned()),
            by: Some("Committee".to_owned()),
            at: Some("2026-05-16T15:20:00Z".to_owned()),
        };
        for stands in [Stands::Added(7), Stands::AsReturned, Stands::Disqualified, Stands::NoScore] {
            let ruling = Ruling { stands, ..ruling.clone() };
            assert_eq!(read_ruling(&ruling_text(&ruling), "r"), (Some(ruling), vec![]));
        }

        let change = |what| Change {
            file: "c".to_owned(),
            id: Some("M1".to_owned()),
            at: "2026-05-16T15:20:00Z".to_owned(),
            by: Some("C".to_owned()),
            what,
            from: None,
            why: Some("w".to_owned()),
            event: None,
            division: None,
            witness: None,
        };
        for what in [
            What::Status(Some(Status::Withdrawn)),
            What::Status(None),
            What::Index(crate::units::tenths::HandicapIndex::parse("+1.3").unwrap()),
            What::PlayingHandicap(-2),
            What::Tee("58".to_owned()),
            What::Category("Senior: men".to_owned()),
            What::Group("4".to_owned()),
            What::StartTime("09:12".to_owned()),
            What::StartHole(10),
            What::Name("Ann O'Bo".to_owned()),
            What::Confirmed,
        ] {
            let change = change(what);
            assert_eq!(read_change(&change_text(&change), "c"), (Some(change.clone()), vec![]), "{change:?}");
        }
        let lot = Change {
            id: None,
            event: Some("medal".to_owned()),
            division: Some("A".to_owned()),
            witness: Some("Isla".to_owned()),
            ..change(What::Lot(vec!["M1".to_owned(), "M2".to_owned()]))
        };
        assert_eq!(read_change(&change_text(&lot), "c"), (Some(lot), vec![]));
    }
}
