//! Cards: the keyings of one card compared, rulings laid over what was returned, the status of the card.

use super::Competition;
use super::issue::Issue;
use super::late::Late;
use super::values::{Keying, Ruling, Stands};
use crate::scoring::HoleScore;
use std::collections::HashMap;

/// Where a card is on its way to the result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CardStatus {
    /// Still on the course.
    Out,
    /// Come in, nothing keyed.
    In,
    /// Keyed by one keyer.
    KeyedOnce,
    /// Keyed by two, alike.
    KeyedTwice,
    /// Two keyings disagree.
    Mismatch,
    /// Something on it is to be looked at.
    Query,
    /// Nothing is left to do.
    Confirmed,
}

impl CardStatus {
    /// `keyed once`.
    pub const fn words(self) -> &'static str {
        match self {
            CardStatus::Out => "out",
            CardStatus::In => "in",
            CardStatus::KeyedOnce => "keyed once",
            CardStatus::KeyedTwice => "keyed twice",
            CardStatus::Mismatch => "mismatch",
            CardStatus::Query => "query",
            CardStatus::Confirmed => "confirmed",
        }
    }
}

/// One card of one round.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// What was returned, by hole of the round; `Empty` where nothing is known or keyings disagree.
    pub returned: Vec<HoleScore>,
    /// What stands after rulings.
    pub stands: Vec<HoleScore>,
    /// Places of the keyings that made it, in the order of keyers.
    pub keyings: Vec<usize>,
    /// Places of the rulings on it.
    pub rulings: Vec<usize>,
    /// Holes, by place in the round, on which keyings disagree.
    pub disagree: Vec<usize>,
    /// A ruling disqualified.
    pub disqualified: bool,
    /// Its status.
    pub status: CardStatus,
}

/// Every card, by id and round.
#[derive(Clone, Debug, Default)]
pub struct Cards<'a> {
    by_id: HashMap<&'a str, Vec<Option<Card>>>,
}

impl Cards<'_> {
    /// A card; `None` while it is out.
    pub fn get(&self, id: &str, round: usize) -> Option<&Card> {
        self.by_id.get(id)?.get(round)?.as_ref()
    }
}

/// Somebody who has a card: an entrant, or a side with one ball.
pub(super) struct Holder<'a> {
    pub id: &'a str,
    pub name: &'a str,
    /// Results written in the field, of the first round.
    pub written: &'a [HoleScore],
}

/// Joins keyings, results in the field and rulings.
pub(super) fn join<'a>(
    competition: &'a Competition,
    holders: &[Holder<'a>],
    late: &Late,
    issues: &mut Vec<Issue>,
) -> Cards<'a> {
    let rounds = competition.setup.rounds.len();
    let mut keyed: HashMap<(&str, usize), Vec<usize>> = HashMap::new();
    for (at, keying) in competition.keyings.iter().enumerate() {
        keyed.entry((keying.id.as_str(), keying.round)).or_default().push(at);
    }
    let mut ruled: HashMap<(&str, usize), Vec<usize>> = HashMap::new();
    for (at, ruling) in competition.rulings.iter().enumerate() {
        ruled.entry((ruling.id.as_str(), ruling.round)).or_default().push(at);
    }
    let mut cards = Cards { by_id: HashMap::with_capacity(holders.len()) };
    for holder in holders {
        let mut own = vec![None; rounds];
        for (round, slot) in own.iter_mut().enumerate() {
            let holes = competition.setup.rounds.get(round).map_or(&[][..], |r| r.holes.as_slice());
            let mut joining = Joining { competition, holder, holes, issues: &mut *issues };
            let keyings = keyed.remove(&(holder.id, round)).unwrap_or_default();
            let rulings = ruled.remove(&(holder.id, round)).unwrap_or_default();
            let written = if round == 0 { holder.written } else { &[] };
            *slot = joining.card(keyings, rulings, written, late.confirmed.contains(holder.id));
        }
        cards.by_id.insert(holder.id, own);
    }
    strangers(competition, &keyed, &ruled, issues);
    cards
}

// What is left belongs to no card of the field.
fn strangers(
    competition: &Competition,
    keyed: &HashMap<(&str, usize), Vec<usize>>,
    ruled: &HashMap<(&str, usize), Vec<usize>>,
    issues: &mut Vec<Issue>,
) {
    let rounds = competition.setup.rounds.len();
    let mut left: Vec<(&str, &str, usize)> = Vec::new();
    for at in keyed.values().flatten() {
        left.extend(competition.keyings.get(*at).map(|k| (k.file.as_str(), k.id.as_str(), k.round)));
    }
    for at in ruled.values().flatten() {
        left.extend(competition.rulings.get(*at).map(|r| (r.file.as_str(), r.id.as_str(), r.round)));
    }
    left.sort_unstable();
    for (file, id, round) in left {
        let (message, advice) = if round >= rounds {
            (format!("{file} is of round {}, and the competition has {rounds}", round + 1), "mend its `round`")
        } else {
            (
                format!("{file} is a card for nobody: the field has no {id}"),
                "mend the id, or enter the player in field.csv",
            )
        };
        issues.push(Issue::open("nobody", message, advice).of(id, id));
    }
}

struct Joining<'j, 'a> {
    competition: &'a Competition,
    holder: &'j Holder<'a>,
    holes: &'a [u8],
    issues: &'j mut Vec<Issue>,
}

impl Joining<'_, '_> {
    fn say(&mut self, issue: Issue) {
        self.issues.push(issue.of(self.holder.id, self.holder.name));
    }

    fn card(
        &mut self,
        mut at: Vec<usize>,
        rulings: Vec<usize>,
        written: &[HoleScore],
        confirmed: bool,
    ) -> Option<Card> {
        if at.is_empty() && written.is_empty() {
            if let Some(ruling) = rulings.first().and_then(|at| self.competition.rulings.get(*at)) {
                let message = format!("{} rules on a card that has not come in", ruling.file);
                self.say(Issue::open("ruling", message, "key the card, or take the ruling out"));
            }
            return None;
        }
        let competition = self.competition;
        at.sort_by_key(|at| competition.keyings.get(*at).map(|k| (k.copy, k.keyer.to_lowercase(), k.file.clone())));
        let keyings: Vec<&Keying> = at.iter().filter_map(|at| competition.keyings.get(*at)).collect();
        let (returned, disagree) = self.compare(&keyings, written);
        let mut card = Card {
            stands: returned.clone(),
            returned,
            rulings,
            disagree,
            disqualified: false,
            status: CardStatus::In,
            keyings: at,
        };
        self.rule(&mut card);
        let queried = self.queries(&card, &keyings);
        let keyed = keyings.iter().filter(|k| !k.copy && k.scores.iter().any(|s| s.is_entered())).count();
        let whole = card.returned.iter().all(|score| score.is_entered());
        card.status = match keyed {
            _ if !card.disagree.is_empty() => CardStatus::Mismatch,
            _ if confirmed => CardStatus::Confirmed,
            _ if queried => CardStatus::Query,
            0 if written.is_empty() => CardStatus::In,
            0 | 1 => CardStatus::KeyedOnce,
            _ if whole => CardStatus::Confirmed,
            _ => CardStatus::KeyedTwice,
        };
        if keyed < competition.setup.keyings && !confirmed && !keyings.is_empty() && whole {
            let message = "the card has been keyed once and needs a second keying";
            self.say(Issue::open("second keying", message, "let somebody else key it, or record that it is confirmed"));
        }
        Some(card)
    }

    /// The returned scores, and the holes on which keyings disagree. A card file wins over the field.
    fn compare(&mut self, keyings: &[&Keying], written: &[HoleScore]) -> (Vec<HoleScore>, Vec<usize>) {
        let mut returned = Vec::with_capacity(self.holes.len());
        let mut disagree = Vec::new();
        for (place, hole) in self.holes.iter().enumerate() {
            let of = |keying: &&Keying| keying.scores.get(place).copied().filter(|s| s.is_entered());
            let mut score: Option<HoleScore> = None;
            let mut differ = false;
            for keyed in keyings.iter().filter_map(of) {
                differ |= score.is_some_and(|first| first != keyed);
                score = score.or(Some(keyed));
            }
            if differ {
                let says: Vec<String> = keyings
                    .iter()
                    .filter_map(|k| {
                        of(k).map(|s| format!("{} keyed {s}{}", k.keyer, if k.copy { " in a copy" } else { "" }))
                    })
                    .collect();
                let message = format!("hole {hole}: {}", says.join(", "));
                self.say(
                    Issue::open("mismatch", message, "look at the card and mend the keying that is wrong")
                        .on_hole(*hole),
                );
                disagree.push(place);
                returned.push(HoleScore::Empty);
                continue;
            }
            let field = written.get(place).copied().filter(|s| s.is_entered());
            if let (Some(keyed), Some(field)) = (score, field)
                && keyed != field
            {
                let message = format!("hole {hole}: the keying has {keyed}, field.csv has {field}; the keying counts");
                self.say(
                    Issue::open("mismatch", message, "look at the card and mend the one that is wrong").on_hole(*hole),
                );
            }
            // Where a keying has begun, what the field says of later holes is not the card.
            returned.push(score.or(if keyings.is_empty() { field } else { None }).unwrap_or_default());
        }
        (returned, disagree)
    }

    fn rule(&mut self, card: &mut Card) {
        for at in card.rulings.clone() {
            let Some(ruling) = self.competition.rulings.get(at) else { continue };
            let place = self.holes.iter().position(|hole| *hole == ruling.hole);
            let Some((place, stands)) = place.and_then(|place| Some((place, card.stands.get_mut(place)?))) else {
                let message = format!("{} rules on hole {}, which the round has not", ruling.file, ruling.hole);
                self.say(Issue::open("ruling", message, "mend its `hole`"));
                continue;
            };
            let returned = card.returned.get(place).copied().unwrap_or_default();
            let nothing =
                matches!(ruling.returned, HoleScore::Empty | HoleScore::NotPlayed) && returned.gross().is_none();
            if returned != ruling.returned && !nothing {
                let was = if returned.is_entered() { returned.to_string() } else { "nothing".to_owned() };
                let message = format!(
                    "hole {}: {} says {} was returned, and the card has {was}",
                    ruling.hole,
                    ruling.file,
                    shown(ruling.returned)
                );
                self.say(
                    Issue::open("ruling", message, "a ruling is on what was returned: mend it or the keying")
                        .on_hole(ruling.hole),
                );
                continue;
            }
            match ruling.stands {
                Stands::AsReturned => {}
                Stands::Added(strokes) => *stands = HoleScore::Gross(strokes),
                Stands::NoScore => *stands = HoleScore::PickedUp,
                Stands::Disqualified => card.disqualified = true,
            }
        }
    }

    /// Whether something on the card is to be looked at; none of it changes the result.
    fn queries(&mut self, card: &Card, keyings: &[&Keying]) -> bool {
        let mut found = false;
        let gross: Option<u32> = card.returned.iter().map(|score| score.gross().map(u32::from)).sum();
        for keying in keyings {
            if let (Some(written), Some(gross)) = (keying.written_total.map(u32::from), gross)
                && written != gross
            {
                let message = format!("{written} is written on the card as its total, and the holes make {gross}");
                self.say(Issue::question(
                    "written total",
                    message,
                    "the holes count; a wrong total is no breach (Rule 3.3b)",
                ));
                found = true;
            }
            for (certified, who) in [(keying.marker, "marker"), (keying.player, "player")] {
                if certified == Some(false) {
                    let message = format!("the {who} has not certified the card");
                    self.say(Issue::question(
                        "certified",
                        message,
                        "Rule 3.3b: the Committee decides, see Local Rule L-1",
                    ));
                    found = true;
                }
            }
        }
        found
    }
}

fn shown(score: HoleScore) -> String {
    if score.is_entered() { score.to_string() } else { "nothing".to_owned() }
}

/// What a ruling did, in words.
pub fn ruling_words(ruling: &Ruling) -> String {
    let what = match ruling.stands {
        Stands::AsReturned => "stands as returned".to_owned(),
        Stands::Added(strokes) => format!("{strokes} stands, penalty strokes added"),
        Stands::Disqualified => "disqualified".to_owned(),
        Stands::NoScore => "no score on the hole".to_owned(),
    };
    let rule = ruling.rule.as_deref().map_or_else(String::new, |rule| format!(", Rule {rule}"));
    let why = ruling.why.as_deref().map_or_else(String::new, |why| format!(": {why}"));
    let by = ruling.by.as_deref().unwrap_or("the Committee");
    let at = ruling.at.as_deref().unwrap_or("");
    format!("hole {}: {} returned, {what}{rule}{why} ({by}, {at})", ruling.hole, shown(ruling.returned))
}
