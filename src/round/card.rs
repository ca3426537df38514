//! The readable card of a round, written as YAML at its close and on demand. The log stays the truth.

use super::event::Kind;
use super::id::RoundId;
use super::state::{CardBox, RoundState};
use crate::course::model::Card;
use crate::scoring::HoleScore;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The kind of file that a readable card is.
pub const CARD_FORMAT: &str = "round-card/1";

/// A box of the card that has more than a score.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct HoleDetail {
    /// The hole's number.
    pub hole: u8,
    /// The hole or the last stroke was conceded.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub conceded: bool,
    /// The side gave up the match on this hole.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub gave_up: bool,
    /// How many of the strokes are penalty strokes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub penalty_strokes: Option<u8>,
    /// A note.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The shots, as a line of the log of shots (docs/review.md).
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub shots: String,
}

/// One player's card.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlayerCard {
    /// The name.
    pub name: String,
    /// The tee set.
    pub tee: String,
    /// `men` or `women`.
    pub ratings: String,
    /// The Handicap Index as the trade writes it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handicap_index: Option<String>,
    /// The Playing Handicap, `14` or `+2`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub playing_handicap: Option<String>,
    /// Par by hole, when the writer of the card knows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub par: Option<String>,
    /// Strokes received by hole, given back with a minus.
    pub strokes_received: String,
    /// Scores by hole: strokes, `x` picked up, `.` not played, `_` nothing yet.
    pub scores: String,
    /// Boxes with more than a score.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub details: Vec<HoleDetail>,
    /// Totals, when the writer of the card computed them: `gross`, `net`, `points` …
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub totals: BTreeMap<String, i32>,
}

/// The readable card of a round.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RoundCard {
    /// [`CARD_FORMAT`].
    pub format: String,
    /// The round's name.
    pub round: RoundId,
    /// The day.
    pub date: String,
    /// The course's name.
    pub course: String,
    /// What it is played for.
    pub kind: Kind,
    /// The golf format.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub play: Option<String>,
    /// What the format is played by, in words: allowance, maximum, net or gross.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub terms: String,
    /// Where each side stands, in the words of the format, when the writer of the card worked it out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub standing: Vec<String>,
    /// Whether the card is closed.
    pub closed: bool,
    /// The holes in playing order.
    pub holes: String,
    /// The cards.
    pub players: Vec<PlayerCard>,
}

impl RoundCard {
    /// The card as entered; par and totals are for the caller to fill in.
    pub fn of(state: &RoundState) -> Self {
        let opening = state.opening();
        let order = state.order();
        let holders = opening.holders();
        let players = opening.players.iter().enumerate().filter(|(index, _)| holders.contains(index));
        let players = players.map(|(index, player)| {
            let boxes = state.card_of(index);
            let details = order.iter().zip(boxes);
            PlayerCard {
                name: opening.name_of_box(index),
                tee: player.tee.clone(),
                ratings: match player.card {
                    Card::Men => "men",
                    Card::Women => "women",
                }
                .to_owned(),
                handicap_index: player.handicap_index.clone(),
                playing_handicap: player.playing_handicap.map(handicap_text),
                par: None,
                strokes_received: joined((0..order.len()).map(|position| opening.strokes_at(index, position))),
                scores: joined(boxes.iter().take(order.len()).map(|b| score_text(b.score))),
                details: details.filter_map(|(hole, b)| detail_of(*hole, b)).collect(),
                totals: BTreeMap::new(),
            }
        });
        Self {
            format: CARD_FORMAT.to_owned(),
            round: opening.id.clone(),
            date: opening.date.clone(),
            course: opening.course_name.clone(),
            kind: opening.kind,
            play: opening.play.clone(),
            terms: opening.terms_words(),
            standing: Vec::new(),
            closed: state.is_closed(),
            holes: joined(&order),
            players: players.collect(),
        }
    }

    /// The card as the text of its file.
    ///
    /// # Errors
    /// Those of the YAML writer, which these plain values do not meet.
    pub fn to_yaml(&self) -> Result<String, serde_yaml::Error> {
        let body = serde_yaml::to_string(self)?;
        Ok(format!(
            "# Written by marram from {}.log, which stays the truth; what is changed here is not read back.\n{body}",
            self.round
        ))
    }
}

fn detail_of(hole: u8, card_box: &CardBox) -> Option<HoleDetail> {
    let detail = HoleDetail {
        hole,
        conceded: card_box.conceded,
        gave_up: card_box.gave_up,
        penalty_strokes: (card_box.penalty_strokes > 0).then_some(card_box.penalty_strokes),
        note: card_box.note.clone(),
        shots: super::write_shots(&card_box.shots, crate::units::LengthUnit::Yards),
    };
    let says_more = detail.conceded || detail.gave_up || detail.penalty_strokes.is_some() || !detail.note.is_empty();
    let says_more = says_more || !detail.shots.is_empty();
    says_more.then_some(detail)
}

/// As the trade writes it: better than scratch with a plus.
fn handicap_text(handicap: i32) -> String {
    if handicap < 0 { format!("+{}", handicap.unsigned_abs()) } else { handicap.to_string() }
}

fn score_text(score: HoleScore) -> String {
    match score {
        HoleScore::Empty => "_".to_owned(),
        HoleScore::Gross(strokes) => strokes.to_string(),
        HoleScore::PickedUp => "x".to_owned(),
        HoleScore::NotPlayed => ".".to_owned(),
    }
}

fn joined<T: ToString>(items: impl IntoIterator<Item = T>) -> String {
    let texts: Vec<String> = items.into_iter().map(|item| item.to_string()).collect();
    texts.join(" ")
}
