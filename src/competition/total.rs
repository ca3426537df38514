//! The total: every event's order from cards, handicaps and ties; what is missing or disagrees is named.

use super::cards::{Card, Cards, Holder, join};
use super::draws::{Draws, drawn};
use super::issue::Issue;
use super::late::{self, Late};
use super::merit;
use super::order::{Scored, put_in_order};
use super::setup::Event;
use super::units::{Unit, Units, units};
use super::values::{Entrant, SideEntry, Status};
use super::words::hole_words;
use super::{
    Competition,
    result::{EventResult, Line, PlayerRef},
};
use crate::handicap::Scoring;
use crate::scoring::{self, Ball, CardHole, Count, Format, HoleScore, Side, Standing, Terms};
use std::collections::HashSet;

/// A competition totalled.
#[derive(Clone, Debug)]
pub struct Totals<'a> {
    /// Each event, or each of its divisions, in the order of the set-up.
    pub events: Vec<EventResult>,
    /// What is missing or disagrees, the weightiest first.
    pub issues: Vec<Issue>,
    /// The field after late acts, and the acts in order.
    pub late: Late,
    /// Every card.
    pub cards: Cards<'a>,
    /// Match-play draws.
    pub brackets: Vec<super::draw::Bracket>,
}

impl Totals<'_> {
    /// Whether nothing is missing.
    pub fn is_final(&self) -> bool {
        self.issues.iter().all(|issue| issue.weight != super::issue::Weight::Open)
    }
}

/// Totals a competition.
pub fn total(competition: &Competition) -> Totals<'_> {
    let mut issues = Vec::new();
    let late = late::apply(competition, &mut issues);
    let cards = join(competition, &holders(competition), &late, &mut issues);
    let mut events: Vec<EventResult> = Vec::new();
    let mut said = HashSet::new();
    for (place, event) in competition.setup.events.iter().enumerate() {
        if event.merit.is_some() {
            let line = merit::total(competition, place, event, &events, &late, &mut issues);
            events.push(line);
            continue;
        }
        let work = Work { competition, late: &late, cards: &cards, place, event };
        work.total(&mut events, &mut issues, &mut said);
    }
    awards(competition, &mut issues);
    let brackets = super::draw::brackets(competition, &mut issues);
    issues.sort_by(|a, b| (a.weight, &a.name, a.hole, &a.message).cmp(&(b.weight, &b.name, b.hole, &b.message)));
    issues.dedup();
    Totals { events, issues, late, cards, brackets }
}

fn holders(competition: &Competition) -> Vec<Holder<'_>> {
    let mut holders: Vec<Holder<'_>> = competition
        .field
        .iter()
        .map(|entrant| Holder { id: &entrant.id, name: &entrant.name, written: &entrant.scores })
        .collect();
    let mut seen: HashSet<&str> = HashSet::new();
    for event in competition.setup.events.iter().filter(|event| event.play.one_ball()) {
        for side in competition.sides_of(event) {
            if seen.insert(side.id.as_str()) {
                holders.push(Holder { id: &side.id, name: side.name.as_deref().unwrap_or(&side.id), written: &[] });
            }
        }
    }
    holders
}

fn awards(competition: &Competition, issues: &mut Vec<Issue>) {
    for award in &competition.setup.awards {
        match &award.id {
            None => {
                let message = format!("nobody has won {} yet", award.name);
                issues.push(Issue::question("award", message, "write its `id` in competition.yaml"));
            }
            Some(id) if !competition.field.iter().any(|entrant| entrant.id == *id) => {
                let message = format!("{} went to {id}, which the field has not", award.name);
                issues.push(Issue::open("nobody", message, "mend its `id` in competition.yaml").of(id, id));
            }
            Some(_) => {}
        }
    }
}

struct Work<'w, 'a> {
    competition: &'a Competition,
    late: &'w Late,
    cards: &'w Cards<'a>,
    place: usize,
    event: &'a Event,
}

/// A unit's round made ready for its format.
struct RoundCard {
    side: [Side; 1],
    all_out: bool,
    disagrees: bool,
}

impl Work<'_, '_> {
    fn total(&self, events: &mut Vec<EventResult>, issues: &mut Vec<Issue>, said: &mut HashSet<(String, String)>) {
        let formats = self.formats();
        let units = units(self.competition, self.event, &self.late.field, issues, said);
        let mut scored: Vec<(Scored, Vec<usize>)> = Vec::with_capacity(units.list.len());
        for unit in &units.list {
            if let Some(one) = self.score(unit, &units, &formats, issues, said) {
                scored.push((one, unit.players.clone()));
            }
        }
        if self.event.divisions.is_empty() {
            let lines = put_in_order(self, scored.into_iter().map(|(one, _)| one).collect(), &formats, None, issues);
            events.push(self.result(None, lines));
            return;
        }
        let mut placed = vec![false; scored.len()];
        for division in &self.event.divisions {
            let mut own = Vec::new();
            for ((one, players), placed) in scored.iter().zip(placed.iter_mut()) {
                let all = players.iter().filter_map(|at| self.late.field.get(*at)).all(|e| division.has(e));
                if all {
                    *placed = true;
                    own.push(one.clone());
                }
            }
            let lines = put_in_order(self, own, &formats, Some(&division.name), issues);
            events.push(self.result(Some(division.name.clone()), lines));
        }
        for ((one, _), placed) in scored.iter().zip(placed) {
            if !placed {
                let message = format!("no division of {} has room for {}", self.event.name, one.line.name);
                let advice = "widen a division, or give the player an index or category that fits";
                issues.push(
                    Issue::open("no division", message, advice)
                        .of(&one.line.id, &one.line.name)
                        .in_event(&self.event.name),
                );
            }
        }
    }

    fn result(&self, division: Option<String>, lines: Vec<Line>) -> EventResult {
        EventResult {
            event: self.place,
            name: self.event.name.clone(),
            play: Some(self.event.play),
            count: self.event.count,
            division,
            lines,
        }
    }

    /// One format for each round that counts; the set-up has proved that there are.
    fn formats(&self) -> Vec<Box<dyn Format>> {
        let rounds = if self.event.eclectic {
            &self.event.rounds[..self.event.rounds.len().min(1)]
        } else {
            &self.event.rounds[..]
        };
        rounds
            .iter()
            .filter_map(|round| {
                let holes =
                    self.event.holes.as_ref().or_else(|| Some(&self.competition.setup.rounds.get(*round)?.holes))?;
                let terms = Terms {
                    holes: holes.len(),
                    count: self.event.count,
                    target_over_par: self.event.target_over_par,
                    maximum: self.event.maximum.clone(),
                    extra_holes: false,
                };
                scoring::format(self.event.play, terms).ok()
            })
            .collect()
    }

    fn status(&self, unit: &Unit) -> Option<Status> {
        let of = |entrant: &Entrant, id: &str| {
            let key = (self.event.name.to_lowercase(), entrant.id.clone());
            let own = match self.late.in_event.get(&key) {
                Some(status) => *status,
                None => entrant.status,
            };
            let ruled = |id: &str| {
                let mut rounds = self.event.rounds.iter();
                rounds.any(|round| self.cards.get(id, *round).is_some_and(|card| card.disqualified))
            };
            own.or_else(|| (ruled(&entrant.id) || ruled(id)).then_some(Status::Disqualified))
        };
        let mut statuses = unit.players.iter().filter_map(|at| self.late.field.get(*at)).map(|e| of(e, &unit.id));
        if self.event.play.one_ball() {
            return statuses.flatten().next();
        }
        // A side with several balls goes on while one partner does.
        let all: Option<Vec<Status>> = statuses.by_ref().collect();
        all.and_then(|all| all.into_iter().min())
    }

    fn card_of(&self, unit: &Unit, ball: usize, round: usize) -> Option<&Card> {
        if self.event.play.one_ball() {
            return self.cards.get(&unit.id, round);
        }
        let entrant = self.late.field.get(*unit.players.get(ball)?)?;
        self.cards.get(&entrant.id, round)
    }

    fn round_card(&self, unit: &Unit, units: &Units, at: usize, round: usize) -> RoundCard {
        let mut made = RoundCard { side: [Side::default()], all_out: true, disagrees: false };
        let numbers = self.event.holes.as_ref().or_else(|| Some(&self.competition.setup.rounds.get(round)?.holes));
        let numbers = numbers.map_or(&[][..], |holes| holes.as_slice());
        for (ball, handicap) in unit.balls.get(at).into_iter().flatten().enumerate() {
            let Some(ground) = units.ground(at, handicap.ground) else { continue };
            let card = self.card_of(unit, ball, round);
            made.all_out &= card.is_none();
            let holes = numbers.iter().enumerate().map(|(n, number)| {
                let place = ground.places.get(n).copied().unwrap_or(n);
                made.disagrees |= card.is_some_and(|card| card.disagree.contains(&place));
                CardHole {
                    number: *number,
                    par: ground.part.pars.get(n).copied().unwrap_or(4),
                    strokes: handicap.handicap.by_hole.get(n).copied().unwrap_or(0),
                    score: card.and_then(|card| card.stands.get(place).copied()).unwrap_or_default(),
                }
            });
            let holes = holes.collect();
            let [side] = &mut made.side;
            side.balls.push(Ball { holes });
        }
        made
    }

    fn score(
        &self,
        unit: &Unit,
        units: &Units,
        formats: &[Box<dyn Format>],
        issues: &mut Vec<Issue>,
        said: &mut HashSet<(String, String)>,
    ) -> Option<Scored> {
        let mut rounds: Vec<RoundCard> =
            self.event.rounds.iter().enumerate().map(|(at, round)| self.round_card(unit, units, at, *round)).collect();
        if self.event.eclectic {
            rounds = best_of_each_hole(rounds);
        }
        let status = self.status(unit);
        let mut line = Line {
            id: unit.id.clone(),
            name: unit.name.clone(),
            players: self.players(unit),
            playing_handicap: unit.playing(),
            strokes_received: unit.received(),
            status,
            ..Line::default()
        };
        let mut why: Option<(&'static str, String, Option<u8>)> =
            unit.fault.clone().map(|fault| ("handicap", fault, None));
        let mut figures = Vec::with_capacity(rounds.len());
        let mut standings = Vec::with_capacity(rounds.len());
        for (round, format) in rounds.iter().zip(formats) {
            let standing = format.standing(&round.side, 0, usize::MAX);
            figures.push(standing.figure.map(i64::from));
            standings.push(standing);
            let open = (standing.left > 0).then(|| open_holes(&round.side, &**format));
            let found = match (round.all_out, round.disagrees, open, standing.no_score) {
                (true, ..) => Some(("out", "no card has come in".to_owned(), None)),
                (_, _, Some(_), _) if round.disagrees => Some(("mismatch", "two keyings disagree".to_owned(), None)),
                (_, _, Some(holes), _) => {
                    Some(("unfinished", format!("no score on {}", hole_words(&holes)), holes.first().copied()))
                }
                (_, _, None, Some(hole)) => Some(("no score", format!("hole {hole} was not holed out"), Some(hole))),
                _ => None,
            };
            why = why.or(found);
            if status.is_none() && self.event.play.scoring != Scoring::Stroke {
                self.not_played(unit, &round.side, issues, said);
            }
        }
        self.sums(&mut line, &rounds, &standings, formats);
        let total = figures.iter().copied().sum::<Option<i64>>().filter(|_| why.is_none());
        line.result = total.and_then(|figure| i32::try_from(figure).ok());
        if status.is_none()
            && let Some((what, words, hole)) = why
        {
            self.say(unit, what, &words, hole, issues, said);
            line.unfinished = Some(words);
        }
        let better_more = matches!(self.event.play.scoring, Scoring::Stableford | Scoring::ParBogey);
        Some(Scored {
            figure: total.filter(|_| status.is_none()).map(|figure| if better_more { -figure } else { figure }),
            last_round: figures.last().copied().flatten().map(|figure| if better_more { -figure } else { figure }),
            last: rounds.pop().map(|round| round.side).unwrap_or_default(),
            line,
        })
    }

    fn players(&self, unit: &Unit) -> Vec<PlayerRef> {
        let players = unit.players.iter().enumerate().filter_map(|(ball, at)| {
            let entrant = self.late.field.get(*at)?;
            let handicap = unit.balls.first().and_then(|balls| balls.get(ball));
            Some(PlayerRef {
                id: entrant.id.clone(),
                name: entrant.name.clone(),
                index: entrant.index,
                playing_handicap: handicap
                    .filter(|_| !self.event.play.one_ball())
                    .and_then(|ball| ball.handicap.playing),
            })
        });
        players.collect()
    }

    // Points and maximum need no score on a hole; that a card has none is still worth a look.
    fn not_played(&self, unit: &Unit, side: &[Side; 1], issues: &mut Vec<Issue>, said: &mut HashSet<(String, String)>) {
        if self.event.play.players() > 1 && !self.event.play.one_ball() {
            return;
        }
        let holes = side.iter().flat_map(|side| &side.balls).flat_map(|ball| &ball.holes);
        let left: Vec<u8> = holes.filter(|hole| hole.score == HoleScore::NotPlayed).map(|hole| hole.number).collect();
        if !left.is_empty() && said.insert((unit.id.clone(), "not played".to_owned())) {
            let message = format!("{} not played; lawful in {}", hole_words(&left), self.event.play);
            let issue = Issue::question("not played", message, "if the round was given up, the status is NR or WD");
            issues.push(issue.of(&unit.id, &unit.name));
        }
    }

    fn say(
        &self,
        unit: &Unit,
        what: &'static str,
        words: &str,
        hole: Option<u8>,
        issues: &mut Vec<Issue>,
        said: &mut HashSet<(String, String)>,
    ) {
        // The two keyings have already been named hole by hole.
        if what == "mismatch" || !said.insert((unit.id.clone(), words.to_owned())) {
            return;
        }
        let advice = match what {
            "out" => "key the card, or give the status: NR, WD, DQ or NS",
            "no score" => {
                "without a score on each hole stroke play has no total: rule on it, or give the status NR or DQ"
            }
            "handicap" => "mend the entry in field.csv",
            _ => "key the holes, or give the status",
        };
        let mut issue = Issue::open(what, words.to_owned(), advice).of(&unit.id, &unit.name);
        issue.hole = hole;
        issues.push(issue);
    }

    /// Gross, net and points over the rounds.
    fn sums(&self, line: &mut Line, rounds: &[RoundCard], standings: &[Standing], formats: &[Box<dyn Format>]) {
        let play = self.event.play;
        let mut gross = Some(0);
        let mut net = Some(0);
        let mut points = Some(0);
        for ((round, standing), format) in rounds.iter().zip(standings).zip(formats) {
            let holes = format.terms().holes;
            let own: Option<i32> = (0..holes).map(|at| format.hole(&round.side, 0, at).gross).sum();
            let one = round
                .side
                .iter()
                .flat_map(|side| &side.balls)
                .next()
                .filter(|_| play.players() == 1 || play.one_ball());
            let received = one.map(|ball| ball.holes.iter().map(|hole| hole.strokes).sum::<i32>());
            let strokes = matches!(play.scoring, Scoring::Stroke | Scoring::Maximum);
            let counted = standing.figure.filter(|_| standing.left == 0);
            let round_net =
                if strokes && self.event.count == Count::Net { counted } else { own.zip(received).map(|(g, r)| g - r) };
            let round_points = match play.scoring {
                Scoring::Stableford => counted,
                _ => one.and_then(|ball| ball.holes.iter().map(CardHole::points).sum()),
            };
            gross = gross.zip(own).map(|(sum, own)| sum + own);
            net = net.zip(round_net).map(|(sum, own)| sum + own);
            points = points.zip(round_points).map(|(sum, own)| sum + own);
        }
        (line.gross, line.net, line.points) = (gross, net, points);
    }
}

impl Draws for Work<'_, '_> {
    fn event(&self) -> &Event {
        self.event
    }

    fn drawn(&self, lot: bool, division: Option<&str>, id: &str) -> Option<usize> {
        drawn(self.competition, self.late, self.event, lot, division, id)
    }
}

fn open_holes(side: &[Side; 1], format: &dyn Format) -> Vec<u8> {
    let number =
        |at: usize| side.iter().flat_map(|s| &s.balls).find_map(|ball| ball.holes.get(at)).map(|hole| hole.number);
    (0..format.terms().holes)
        .filter(|at| format.hole(side, 0, *at).value == scoring::HoleValue::Open)
        .filter_map(number)
        .collect()
}

// One card whose holes are the best of all rounds; strokes are those of the first.
fn best_of_each_hole(rounds: Vec<RoundCard>) -> Vec<RoundCard> {
    let mut rounds = rounds.into_iter();
    let Some(mut best) = rounds.next() else { return Vec::new() };
    for round in rounds {
        best.all_out &= round.all_out;
        let holes = best.side.iter_mut().flat_map(|s| &mut s.balls).flat_map(|b| &mut b.holes);
        for (own, other) in holes.zip(round.side.iter().flat_map(|s| &s.balls).flat_map(|b| &b.holes)) {
            own.score = match (own.gross(), other.gross()) {
                (Some(a), Some(b)) if b < a => other.score,
                (Some(_), _) => own.score,
                (None, Some(_)) => other.score,
                // Where a later round is still open the hole is.
                (None, None) if other.score == HoleScore::Empty => HoleScore::Empty,
                (None, None) => own.score,
            };
        }
    }
    vec![best]
}

/// The sides of an event, of a file or of the field's column.
impl Competition {
    /// The sides of an event; none for individuals.
    pub fn sides_of(&self, event: &Event) -> &[SideEntry] {
        let key = event.sides.clone().unwrap_or_default();
        self.sides.get(&key).map_or(&[], |sides| sides.as_slice())
    }
}
