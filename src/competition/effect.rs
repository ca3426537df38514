//! What a ruling would do before it is made: the lawful outcomes, each totalled and compared.
//!
//! # References
//! Rules of Golf 3.3b(3) (2023): a score returned too high stands; too low, or missing, disqualifies, but penalty strokes
//! the player did not know of are added by the Committee while the competition is open. 21.1c, 21.2c, 21.3c: breaches that
//! cost the hole.

use super::result::Line;
use super::values::{Ruling, Stands};
use super::{Competition, Totals, total};
use crate::scoring::HoleScore;

/// One lawful outcome and what it does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// What would stand.
    pub stands: Stands,
    /// When it is right, in words.
    pub when: String,
    /// What changes: the event, who, and how, one line each.
    pub changes: Vec<String>,
}

impl Outcome {
    /// The outcome and its effect, several lines.
    pub fn words(&self) -> String {
        let mut text = format!("{}\n", self.when);
        for change in &self.changes {
            text.push_str(&format!("    {change}\n"));
        }
        if self.changes.is_empty() {
            text.push_str("    changes no place\n");
        }
        text
    }
}

/// The lawful outcomes for one returned score, with `added` penalty strokes where those are. `None` when no such score
/// has come in.
pub fn outcomes(competition: &Competition, id: &str, round: usize, hole: u8, added: u8) -> Option<Vec<Outcome>> {
    let before = total(competition);
    let place = competition.setup.rounds.get(round)?.holes.iter().position(|own| *own == hole)?;
    let returned = *before.cards.get(id, round)?.returned.get(place)?;
    let mut choices = Vec::new();
    if let Some(strokes) = returned.gross() {
        choices.push((
            Stands::AsReturned,
            format!("{strokes} stands as returned: no more strokes than that were taken (3.3b(3))"),
        ));
        let sum = strokes.saturating_add(added).min(HoleScore::MOST);
        choices.push((
            Stands::Added(sum),
            format!("{sum} stands: {added} penalty strokes the player did not know of are added (3.3b(3))"),
        ));
    }
    choices
        .push((Stands::Disqualified, "disqualified: fewer were returned than taken, or nothing (3.3b(3))".to_owned()));
    choices.push((Stands::NoScore, "no score on the hole: a breach that costs the hole in points, par/bogey or maximum score (21.1c, 21.2c, 21.3c)".to_owned()));
    let outcomes = choices.into_iter().map(|(stands, when)| {
        let mut after = competition.clone();
        after.rulings.push(ruling(id, round, hole, returned, stands));
        let changes = changes(&before, &total(&after), id);
        Outcome { stands, when, changes }
    });
    Some(outcomes.collect())
}

fn ruling(id: &str, round: usize, hole: u8, returned: HoleScore, stands: Stands) -> Ruling {
    let id = id.to_owned();
    Ruling { file: String::new(), id, round, hole, returned, stands, rule: None, why: None, by: None, at: None }
}

/// The lines of the card itself wherever they move, and who else gets another place among the first three.
fn changes(before: &Totals<'_>, after: &Totals<'_>, id: &str) -> Vec<String> {
    let mut told = Vec::new();
    for (old, new) in before.events.iter().zip(&after.events) {
        for line in &new.lines {
            let own = line.id == id || line.players.iter().any(|player| player.id == id);
            let Some(was) = old.lines.iter().find(|other| other.id == line.id) else { continue };
            let near = [was.place, line.place].into_iter().flatten().any(|place| place <= 3);
            if standing(was) != standing(line) && (own || near) {
                told.push(format!("{}: {} {} → {}", new.title(), line.name, standing(was), standing(line)));
            }
        }
    }
    told
}

fn standing(line: &Line) -> String {
    let place = match (line.place, line.status) {
        (Some(place), _) if line.tied => format!("{place}="),
        (Some(place), _) => place.to_string(),
        (None, Some(status)) => status.code().to_owned(),
        (None, None) => "no place".to_owned(),
    };
    match line.result.filter(|_| line.place.is_some()) {
        Some(figure) => format!("{place} with {figure}"),
        None => place,
    }
}
