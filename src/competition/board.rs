//! What the desk shows: every card with its status by group, the field with its handicaps, live orders, late acts.
//!
//! Made once after each change of the folder; nothing on it is worked out while it is drawn.

use super::cards::{Card, CardStatus, ruling_words};
use super::needs::{Needs, needs};
use super::pad::CardSheet;
use super::proof::change_words;
use super::result::EventResult;
use super::setup::Event;
use super::units::{Unit, Units, units};
use super::values::{Entrant, Keying, Status};
use super::{Competition, Totals, show, total};
use crate::units::tenths::whole_handicap_text;
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

/// The desk's view of a competition.
#[derive(Clone, Debug)]
pub struct Board {
    /// The competition it was made from.
    pub competition: Arc<Competition>,
    /// Every card of every round: by round, start and group, name.
    pub cards: Vec<CardRow>,
    /// How many cards have each status of [`CardStatus`], in its order; those without a place by a status come last.
    pub counts: [usize; 8],
    /// The field with handicaps.
    pub field: Vec<FieldRow>,
    /// Live orders, in the order of the set-up.
    pub events: Vec<EventResult>,
    /// What each leader's place needs from those still out, by the place of the order in `events`.
    pub needs: Vec<Needs>,
    /// What is missing or disagrees.
    pub issues: Vec<super::issue::Issue>,
    /// Rulings and late acts in the order of their times.
    pub acts: Vec<ActRow>,
    /// Nothing is missing.
    pub is_final: bool,
    /// The results as the notice board shows them.
    pub notice_board: String,
}

/// One card on the list.
#[derive(Clone, Debug)]
pub struct CardRow {
    /// The entrant's or side's id.
    pub id: String,
    /// The name.
    pub name: String,
    /// The round, from 0.
    pub round: usize,
    /// The group, `""` for none.
    pub group: String,
    /// `09:12`, or `09:12 hole 10`.
    pub start: String,
    /// Where the card is on its way.
    pub status: CardStatus,
    /// Why there will be no place.
    pub without_place: Option<Status>,
    /// Who keyed it: name, holes keyed, when.
    pub keyers: Vec<KeyerRow>,
    /// The card; `None` while it is out.
    pub card: Option<Card>,
    /// What it is keyed over.
    pub sheet: Arc<CardSheet>,
}

/// One keying on the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyerRow {
    /// Which keying of the competition.
    pub keying: usize,
    /// Who.
    pub keyer: String,
    /// Holes with something in their box.
    pub entered: usize,
    /// When, as written.
    pub at: String,
    /// Every hole has something in its box.
    pub whole: bool,
    /// A conflict copy.
    pub copy: bool,
}

/// An entrant on the list.
#[derive(Clone, Debug)]
pub struct FieldRow {
    /// The id.
    pub id: String,
    /// The name.
    pub name: String,
    /// `men`, `women`.
    pub ratings: &'static str,
    /// The index, `12.4`.
    pub index: String,
    /// The tee.
    pub tee: String,
    /// The Course Handicap, rounded.
    pub course_handicap: String,
    /// The Playing Handicap of the first event that has one.
    pub playing_handicap: String,
    /// The category.
    pub category: String,
    /// Group and start.
    pub start: String,
    /// A status, or nothing.
    pub status: String,
}

/// A ruling or late act on the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ActRow {
    /// When.
    pub at: String,
    /// The card.
    pub id: Option<String>,
    /// In one line.
    pub words: String,
}

impl Board {
    /// Totals a competition and sets everything out.
    pub fn new(competition: Arc<Competition>, more: &[super::issue::Issue]) -> Board {
        let mut totals = total(&competition);
        totals.issues.extend(more.iter().cloned());
        let handicaps = Handicaps::new(&competition, &totals);
        let cards = card_rows(&competition, &totals, &handicaps);
        let mut counts = [0; 8];
        for row in &cards {
            let at = if row.without_place.is_some() { 7 } else { row.status as usize };
            if let Some(count) = counts.get_mut(at) {
                *count += 1;
            }
        }
        Board {
            cards,
            counts,
            field: totals.late.field.iter().map(|entrant| handicaps.row(entrant)).collect(),
            needs: needs(&competition, &totals),
            acts: act_rows(&competition),
            is_final: totals.is_final(),
            notice_board: show::board(&competition, &totals),
            issues: totals.issues.clone(),
            events: std::mem::take(&mut totals.events),
            competition: Arc::clone(&competition),
        }
    }

    /// The card of an id in a round.
    pub fn card(&self, id: &str, round: usize) -> Option<&CardRow> {
        self.cards.iter().find(|row| row.round == round && row.id == id)
    }

    /// The keyings of a card.
    pub fn keyings<'b>(&'b self, row: &'b CardRow) -> impl Iterator<Item = &'b Keying> {
        row.keyers.iter().filter_map(|keyer| self.competition.keyings.get(keyer.keying))
    }
}

impl CardRow {
    /// Its status in words.
    pub fn words(&self) -> &'static str {
        self.without_place.map_or(self.status.words(), Status::words)
    }

    /// How many whole keyings it has, copies left out.
    pub fn whole_keyings(&self) -> usize {
        self.keyers.iter().filter(|keyer| keyer.whole && !keyer.copy).count()
    }
}

/// The sheet and handicap of every card, by the first event that gives them.
struct Handicaps<'a> {
    competition: &'a Competition,
    sheets: HashMap<(String, usize), Arc<CardSheet>>,
    course: HashMap<String, i32>,
    names: HashMap<u8, String>,
}

impl<'a> Handicaps<'a> {
    fn new(competition: &'a Competition, totals: &Totals<'_>) -> Self {
        let names = competition.course.holes.iter().map(|h| (h.number, h.name.clone().unwrap_or_default())).collect();
        let mut made = Handicaps { competition, sheets: HashMap::new(), course: HashMap::new(), names };
        let events = &competition.setup.events;
        let mut order: Vec<&Event> = events.iter().filter(|e| e.merit.is_none()).collect();
        // Whole rounds before parts, net before gross: the first that knows a card gives its strokes.
        order.sort_by_key(|e| (e.holes.is_some(), e.count == crate::scoring::Count::Gross));
        for event in order {
            let found = units(competition, event, &totals.late.field, &mut Vec::new(), &mut HashSet::new());
            for unit in &found.list {
                made.take(event, unit, &found, &totals.late.field);
            }
        }
        made
    }

    fn take(&mut self, event: &Event, unit: &Unit, units: &Units, field: &[Entrant]) {
        for (at, round) in event.rounds.iter().enumerate() {
            for (ball, own) in unit.balls.get(at).into_iter().flatten().enumerate() {
                let entrant = unit.players.get(ball).and_then(|at| field.get(*at));
                let id = if event.play.one_ball() { Some(&unit.id) } else { entrant.map(|e| &e.id) };
                let (Some(id), Some(ground)) = (id, units.ground(at, own.ground)) else { continue };
                if let (Some(course), false) = (&own.handicap.course, event.play.one_ball()) {
                    self.course.entry(id.clone()).or_insert_with(|| course.rounded());
                }
                let key = (id.clone(), *round);
                if self.sheets.contains_key(&key) {
                    continue;
                }
                let holes = self.competition.setup.rounds.get(*round).map_or(&[][..], |r| r.holes.as_slice());
                let mut strokes = vec![0; holes.len()];
                for (n, place) in ground.places.iter().enumerate() {
                    if let (Some(slot), Some(own)) = (strokes.get_mut(*place), own.handicap.by_hole.get(n)) {
                        *slot = *own;
                    }
                }
                let sheet = CardSheet {
                    holes: holes.to_vec(),
                    names: holes.iter().map(|hole| self.names.get(hole).cloned().unwrap_or_default()).collect(),
                    pars: ground.round.pars.clone(),
                    strokes,
                    playing: own.handicap.playing,
                    event: event.name.clone(),
                    tee: ground.round.tee.clone(),
                };
                self.sheets.insert(key, Arc::new(sheet));
            }
        }
    }

    /// The sheet of a card; one without strokes where no event gives any.
    fn sheet(&self, id: &str, round: usize) -> Arc<CardSheet> {
        if let Some(sheet) = self.sheets.get(&(id.to_owned(), round)) {
            return Arc::clone(sheet);
        }
        let holes = self.competition.setup.rounds.get(round).map_or(&[][..], |r| r.holes.as_slice());
        Arc::new(CardSheet { holes: holes.to_vec(), strokes: vec![0; holes.len()], ..CardSheet::default() })
    }

    fn row(&self, entrant: &Entrant) -> FieldRow {
        let sheet = self.sheet(&entrant.id, 0);
        let text = |value: Option<i32>| value.map_or_else(String::new, whole_handicap_text);
        let setup = &self.competition.setup;
        let tee = entrant.tee.as_deref().or_else(|| setup.tees.of(entrant.card, entrant.category.as_deref()));
        FieldRow {
            id: entrant.id.clone(),
            name: entrant.name.clone(),
            ratings: entrant.card.whose(),
            index: entrant.index.map_or_else(String::new, |index| index.to_string()),
            tee: tee.unwrap_or_default().to_owned(),
            course_handicap: text(self.course.get(&entrant.id).copied()),
            playing_handicap: text(sheet.playing),
            category: entrant.category.clone().unwrap_or_default(),
            start: start_of(entrant),
            status: entrant.status.map_or_else(String::new, |status| status.words().to_owned()),
        }
    }
}

fn start_of(entrant: &Entrant) -> String {
    let hole = entrant.start_hole.filter(|hole| *hole != 1).map(|hole| format!("hole {hole}"));
    [entrant.start_time.clone(), hole].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

fn card_rows(competition: &Competition, totals: &Totals<'_>, handicaps: &Handicaps<'_>) -> Vec<CardRow> {
    let events = || competition.setup.events.iter().filter(|e| e.merit.is_none());
    let mut rows = Vec::new();
    for round in 0..competition.setup.rounds.len() {
        let plays = |one_ball: bool| events().any(|e| e.play.one_ball() == one_ball && e.rounds.contains(&round));
        let row = |id: &str, name: &str, of: Option<&Entrant>| {
            let card = totals.cards.get(id, round).cloned();
            let keyers = card.iter().flat_map(|card| &card.keyings).filter_map(|at| keyer(competition, *at)).collect();
            CardRow {
                id: id.to_owned(),
                name: name.to_owned(),
                round,
                group: of.and_then(|e| e.group.clone()).unwrap_or_default(),
                start: of.map(start_of).unwrap_or_default(),
                status: card.as_ref().map_or(CardStatus::Out, |card| card.status),
                without_place: of.and_then(|e| e.status),
                keyers,
                card,
                sheet: handicaps.sheet(id, round),
            }
        };
        // Where every event is played with one ball a side, players have no card of their own.
        if plays(false) || !plays(true) {
            rows.extend(totals.late.field.iter().map(|e| row(&e.id, &e.name, Some(e))));
        }
        let mut seen = HashSet::new();
        for event in events().filter(|e| e.play.one_ball() && e.rounds.contains(&round)) {
            for side in competition.sides_of(event).iter().filter(|side| seen.insert(side.id.clone())) {
                let players: Vec<&Entrant> =
                    side.players.iter().filter_map(|id| totals.late.field.iter().find(|e| e.id == *id)).collect();
                let names: Vec<&str> = players.iter().map(|e| e.name.as_str()).collect();
                let name = side.name.clone().unwrap_or_else(|| names.join(" & "));
                rows.push(row(&side.id, &name, players.first().copied()));
            }
        }
    }
    rows.sort_by(|a, b| {
        let number = |row: &CardRow| row.group.parse::<u32>().unwrap_or(u32::MAX);
        (a.round, number(a), &a.group, &a.start, &a.name, &a.id).cmp(&(
            b.round,
            number(b),
            &b.group,
            &b.start,
            &b.name,
            &b.id,
        ))
    });
    rows
}

fn keyer(competition: &Competition, at: usize) -> Option<KeyerRow> {
    let keying = competition.keyings.get(at)?;
    let holes = competition.setup.rounds.get(keying.round).map_or(0, |round| round.holes.len());
    let entered = keying.scores.iter().filter(|score| score.is_entered()).count();
    Some(KeyerRow {
        keying: at,
        keyer: keying.keyer.clone(),
        entered,
        at: keying.at.clone().unwrap_or_default(),
        whole: entered >= holes,
        copy: keying.copy,
    })
}

fn act_rows(competition: &Competition) -> Vec<ActRow> {
    let name = |id: &str| competition.field.iter().find(|e| e.id == id).map_or(id.to_owned(), |e| e.name.clone());
    let mut rows: Vec<ActRow> = Vec::new();
    for ruling in &competition.rulings {
        rows.push(ActRow {
            at: ruling.at.clone().unwrap_or_default(),
            id: Some(ruling.id.clone()),
            words: format!("ruling, {} ({}): {}", name(&ruling.id), ruling.id, ruling_words(ruling)),
        });
    }
    for change in &competition.changes {
        let who = change.id.as_deref().map_or_else(String::new, |id| format!("{} ({id}): ", name(id)));
        let words = format!("{who}{}", change_words(competition, change));
        rows.push(ActRow { at: change.at.clone(), id: change.id.clone(), words });
    }
    rows.sort_by(|a, b| (&a.at, &a.words).cmp(&(&b.at, &b.words)));
    rows
}
