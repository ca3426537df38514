//! The live card of a round: a replay of its events so far, and what one more event does to it.

use super::allow::{Ability, Stage, WhyNot, allows};
use super::event::{Detail, Event, MOST_HOLES, MOST_PLAYERS, Opening, Place, StoredText};
use super::played_shot::HoleShots;
use crate::scoring::HoleScore;
use crate::units::digest::Digest;
use std::collections::HashSet;

/// The most characters of a note to one hole.
pub const LONGEST_NOTE: usize = 1000;

/// One box of the card: the score of one player on one hole, with its details.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct CardBox {
    /// What was entered.
    pub score: HoleScore,
    /// The hole or the last stroke was conceded.
    pub conceded: bool,
    /// The side gave up the match on this hole.
    pub gave_up: bool,
    /// How many of the strokes are penalty strokes.
    pub penalty_strokes: u8,
    /// A note to the hole.
    pub note: String,
    /// The shots that were logged.
    pub shots: HoleShots,
}

/// Why an event cannot happen now.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotPossible {
    /// Nothing stands on the undo list.
    #[error("nothing to undo")]
    NothingToUndo,
    /// Nothing stands on the redo list.
    #[error("nothing to redo")]
    NothingToRedo,
    /// The line that an undo or redo names is not one that can be.
    #[error("line {0} cannot be undone or redone here")]
    NoSuchLine(u64),
    /// Two programs numbered their lines alike.
    #[error("two programs wrote line {0} of this round; correct the score in its place instead")]
    WrittenTwice(u64),
    /// The card is closed.
    #[error("this card is closed; open it again to correct it")]
    Closed,
    /// The card is open.
    #[error("this card is open already")]
    NotClosed,
    /// There is no such player or hole.
    #[error("this card has no such player or hole")]
    NoSuchBox,
    /// `+` without a score.
    #[error("no score to raise; enter a digit first")]
    NoScoreToRaise,
    /// 0 as a score.
    #[error("0 is no score; for 10 press 9 and then +")]
    Zero,
    /// More strokes than a box takes.
    #[error("a hole takes at most {most} strokes here; x is picked up", most = HoleScore::MOST)]
    TooMany,
    /// A note beyond its length.
    #[error("a note to a hole has at most {LONGEST_NOTE} characters")]
    LongNote,
    /// Shots that cannot have been.
    #[error("{0}")]
    ImpossibleShots(String),
    /// A second opening record.
    #[error("this round is open already")]
    OpenedTwice,
    /// The plan is frozen.
    #[error("the plan of this round is frozen already")]
    FrozenTwice,
    /// An opening record that cannot be played.
    #[error("{0}")]
    BadOpening(String),
}

/// A score or detail that was set, with what stood there before.
#[derive(Clone, Debug, PartialEq)]
struct Change {
    key: u64,
    seq: u64,
    place: Place,
    set: Set,
    before: CardBox,
}

#[derive(Clone, Debug, PartialEq)]
enum Set {
    Score(HoleScore),
    Detail(Detail),
}

impl Set {
    fn on(&self, card_box: &mut CardBox) {
        match self {
            Self::Score(score) => card_box.score = *score,
            Self::Detail(Detail::Conceded(yes)) => card_box.conceded = *yes,
            Self::Detail(Detail::GaveUp(yes)) => card_box.gave_up = *yes,
            Self::Detail(Detail::PenaltyStrokes(strokes)) => card_box.penalty_strokes = *strokes,
            Self::Detail(Detail::Note(note)) => card_box.note.clone_from(note),
            Self::Detail(Detail::Shots(shots)) => card_box.shots.clone_from(shots),
        }
    }
}

/// A round as its log tells it up to some line.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundState {
    opening: Opening,
    boxes: Vec<Vec<CardBox>>,
    done: Vec<Change>,
    undone: Vec<Change>,
    place: Place,
    moved_last: bool,
    just_entered: Option<Place>,
    texts: Vec<StoredText>,
    frozen: Option<(String, Digest)>,
    no_distance_devices: bool,
    started: bool,
    closed: bool,
    next_key: u64,
    next_seq: u64,
    written_twice: HashSet<u64>,
}

impl RoundState {
    /// A round of which nothing but the opening record is known, as line 1.
    ///
    /// # Errors
    /// [`NotPossible::BadOpening`] naming what does not fit.
    pub fn open(opening: Opening) -> Result<Self, NotPossible> {
        check_opening(&opening).map_err(NotPossible::BadOpening)?;
        let boxes = vec![vec![CardBox::default(); opening.positions()]; opening.players.len()];
        Ok(Self {
            no_distance_devices: opening.no_distance_devices,
            place: opening.first_box(),
            opening,
            boxes,
            done: Vec::new(),
            undone: Vec::new(),
            moved_last: false,
            just_entered: None,
            texts: Vec::new(),
            frozen: None,
            started: false,
            closed: false,
            next_key: 1,
            next_seq: 2,
            written_twice: HashSet::new(),
        })
    }

    /// The opening record.
    pub const fn opening(&self) -> &Opening {
        &self.opening
    }

    /// One box; `None` when the card has no such player or hole.
    pub fn card_box(&self, place: Place) -> Option<&CardBox> {
        self.boxes.get(place.player)?.get(place.position)
    }

    /// The boxes of one player in playing order; empty for no such player.
    pub fn card_of(&self, player: usize) -> &[CardBox] {
        self.boxes.get(player).map_or(&[], Vec::as_slice)
    }

    /// The box that the next digit fills: after a score the next player, then the next hole.
    pub const fn place(&self) -> Place {
        self.place
    }

    /// Where to stand when the round is taken up again: where the players went last, else the tee after the last hole that
    /// has an entry, or the player still missing on it.
    pub fn resume(&self) -> Place {
        if self.moved_last {
            return self.place;
        }
        let holes = self.order().len();
        let entered =
            |position: usize| self.boxes.iter().any(|card| card.get(position).is_some_and(CardBox::is_settled));
        let Some(last) = (0..holes).rev().find(|p| entered(*p)) else {
            return self.opening.first_box();
        };
        self.first_empty_on(last)
            .or_else(|| (last + 1 < holes).then_some(Place { player: 0, position: last + 1 }))
            .or_else(|| (0..holes).find_map(|p| self.first_empty_on(p)))
            .unwrap_or(Place { position: last, ..self.opening.first_box() })
    }

    /// The box after `place`: the next player who has one, then the next hole; the last one stays.
    pub fn after(&self, place: Place) -> Place {
        let next = self.opening.holders().into_iter().find(|player| *player > place.player);
        match next {
            Some(player) => Place { player, ..place },
            None => self.on_the_next_hole(place),
        }
    }

    /// The first box of the hole after `place`; on the last hole `place` stays.
    pub fn on_the_next_hole(&self, place: Place) -> Place {
        if place.position + 1 < self.order().len() {
            Place { position: place.position + 1, ..self.opening.first_box() }
        } else {
            place
        }
    }

    /// The box scored last, as long as nothing else happened: the one that `+` raises.
    pub const fn just_entered(&self) -> Option<Place> {
        self.just_entered
    }

    /// Whether nothing more is awaited on any hole.
    pub fn is_full(&self) -> bool {
        (0..self.order().len()).all(|position| self.is_settled_at(position))
    }

    /// Whether the first score was ever entered, undone or not.
    pub const fn has_started(&self) -> bool {
        self.started
    }

    /// Whether the card is closed.
    pub const fn is_closed(&self) -> bool {
        self.closed
    }

    /// The texts stored at the first score; empty until then.
    pub fn texts(&self) -> &[StoredText] {
        &self.texts
    }

    /// The stamp and digest of the frozen plan.
    pub fn frozen(&self) -> Option<(&str, Digest)> {
        self.frozen.as_ref().map(|(stamp, digest)| (stamp.as_str(), *digest))
    }

    /// Whether the Committee forbids distance-measuring devices (Model Local Rule G-5).
    pub const fn no_distance_devices(&self) -> bool {
        self.no_distance_devices
    }

    /// The number of the next event's line.
    pub const fn next_seq(&self) -> u64 {
        self.next_seq
    }

    /// Before the first score, in play, or over.
    pub const fn stage(&self) -> Stage {
        if self.closed {
            Stage::Over
        } else if self.started {
            Stage::InPlay
        } else {
            Stage::BeforeFirstScore
        }
    }

    /// Whether this round may show or do `ability` now.
    ///
    /// # Errors
    /// The reason why not, naming the Rule.
    pub fn allows(&self, ability: Ability) -> Result<(), WhyNot> {
        allows(self.opening.kind, self.stage(), self.no_distance_devices, ability)
    }

    /// The event that undoes the last score or detail.
    ///
    /// # Errors
    /// [`NotPossible`] when there is none, or it cannot be undone.
    pub fn undo(&self) -> Result<Event, NotPossible> {
        self.check_open()?;
        let last = self.done.last().ok_or(NotPossible::NothingToUndo)?;
        self.check_written_once(last.seq)?;
        Ok(Event::Undo { of: last.seq })
    }

    /// The event that does again what was undone last.
    ///
    /// # Errors
    /// [`NotPossible`] when there is none.
    pub fn redo(&self) -> Result<Event, NotPossible> {
        self.check_open()?;
        let last = self.undone.last().ok_or(NotPossible::NothingToRedo)?;
        self.check_written_once(last.seq)?;
        Ok(Event::Redo { of: last.seq })
    }

    /// Lets `event` happen as the next line and gives its number; on an error nothing has changed.
    ///
    /// # Errors
    /// [`NotPossible`] with the reason.
    pub fn apply(&mut self, event: &Event) -> Result<u64, NotPossible> {
        let seq = self.next_seq;
        self.apply_line(seq, event, None)?;
        Ok(seq)
    }

    /// The key that the next applied line gets.
    pub(super) const fn next_key(&self) -> u64 {
        self.next_key
    }

    /// Numbers the next line `next_seq`: lines that were passed over have used the numbers before it.
    pub(super) fn number_from(&mut self, next_seq: u64) {
        self.next_seq = next_seq;
    }

    /// Remembers that two lines carry the number `seq`.
    pub(super) fn mark_written_twice(&mut self, seq: u64) {
        self.written_twice.insert(seq);
    }

    /// As [`Self::apply`] for line `seq`; `target` is the key of the line that an undo or redo names, when its number alone
    /// does not tell.
    pub(super) fn apply_line(&mut self, seq: u64, event: &Event, target: Option<u64>) -> Result<(), NotPossible> {
        match event {
            Event::Opened(_) => return Err(NotPossible::OpenedTwice),
            Event::Texts(texts) => self.texts.clone_from(texts),
            Event::PlanFrozen { .. } if self.frozen.is_some() => return Err(NotPossible::FrozenTwice),
            Event::PlanFrozen { stamp, digest } => self.frozen = Some((stamp.clone(), *digest)),
            Event::NoDistanceDevices(yes) => self.no_distance_devices = *yes,
            Event::Score { place, score } => {
                self.change(seq, *place, Set::Score(*score))?;
                self.started = true;
                if score.is_entered() {
                    self.place = self.after(*place);
                    self.just_entered = Some(*place);
                }
            }
            Event::Detail { place, set } => {
                check_detail(set)?;
                // A detail is noted to a box that was filled already: what is filled next and what `+` raises stay.
                let (next, entered) = (self.place, self.just_entered);
                self.change(seq, *place, Set::Detail(set.clone()))?;
                // A logged shot is a stroke of the round: from then on it is in play.
                self.started |= matches!(set, Detail::Shots(shots) if !shots.is_empty());
                (self.place, self.just_entered) = (next, entered);
            }
            Event::Undo { of } => self.undo_line(*of, target)?,
            Event::Redo { of } => self.redo_line(*of, target)?,
            Event::MovedTo(place) => {
                self.card_box(*place).ok_or(NotPossible::NoSuchBox)?;
                self.go_to(*place);
                self.moved_last = true;
            }
            Event::Closed if self.closed => return Err(NotPossible::Closed),
            Event::Closed => self.closed = true,
            Event::Reopened { .. } if !self.closed => return Err(NotPossible::NotClosed),
            Event::Reopened { .. } => self.closed = false,
        }
        self.next_key += 1;
        self.next_seq = self.next_seq.max(seq + 1);
        Ok(())
    }

    fn go_to(&mut self, place: Place) {
        self.place = place;
        self.moved_last = false;
        self.just_entered = None;
    }

    fn change(&mut self, seq: u64, place: Place, set: Set) -> Result<(), NotPossible> {
        self.check_open()?;
        let key = self.next_key;
        let card_box = self.box_mut(place).ok_or(NotPossible::NoSuchBox)?;
        let before = card_box.clone();
        set.on(card_box);
        self.undone.clear();
        self.done.push(Change { key, seq, place, set, before });
        self.go_to(place);
        Ok(())
    }

    fn undo_line(&mut self, of: u64, target: Option<u64>) -> Result<(), NotPossible> {
        self.check_open()?;
        let index = find(&self.done, of, target).ok_or(NotPossible::NoSuchLine(of))?;
        let is_last = index + 1 == self.done.len();
        let change = self.done.remove(index);
        if is_last {
            if let Some(card_box) = self.box_mut(change.place) {
                card_box.clone_from(&change.before);
            }
        } else {
            self.rebuild();
        }
        self.go_to(change.place);
        self.undone.push(change);
        Ok(())
    }

    fn redo_line(&mut self, of: u64, target: Option<u64>) -> Result<(), NotPossible> {
        self.check_open()?;
        let index = find(&self.undone, of, target).ok_or(NotPossible::NoSuchLine(of))?;
        let mut change = self.undone.remove(index);
        let place = change.place;
        let was_score = matches!(change.set, Set::Score(score) if score.is_entered());
        if let Some(card_box) = self.box_mut(place) {
            change.before = card_box.clone();
            change.set.on(card_box);
        }
        self.done.push(change);
        self.go_to(place);
        if was_score {
            self.place = self.after(place);
        }
        Ok(())
    }

    /// Plays all changes again, for an undo that a damaged log asks for out of its order.
    fn rebuild(&mut self) {
        self.boxes.iter_mut().flatten().for_each(|b| *b = CardBox::default());
        let mut done = std::mem::take(&mut self.done);
        for change in &mut done {
            if let Some(card_box) = self.box_mut(change.place) {
                change.before = card_box.clone();
                change.set.on(card_box);
            }
        }
        self.done = done;
    }

    fn box_mut(&mut self, place: Place) -> Option<&mut CardBox> {
        self.boxes.get_mut(place.player)?.get_mut(place.position)
    }

    pub(super) const fn check_open(&self) -> Result<(), NotPossible> {
        if self.closed { Err(NotPossible::Closed) } else { Ok(()) }
    }

    fn check_written_once(&self, seq: u64) -> Result<(), NotPossible> {
        if self.written_twice.contains(&seq) { Err(NotPossible::WrittenTwice(seq)) } else { Ok(()) }
    }
}

fn find(changes: &[Change], seq: u64, target: Option<u64>) -> Option<usize> {
    match target {
        Some(key) => changes.iter().rposition(|c| c.key == key),
        None => changes.iter().rposition(|c| c.seq == seq),
    }
}

fn check_detail(detail: &Detail) -> Result<(), NotPossible> {
    match detail {
        Detail::PenaltyStrokes(strokes) if *strokes > HoleScore::MOST => Err(NotPossible::TooMany),
        Detail::Note(note) if note.chars().count() > LONGEST_NOTE => Err(NotPossible::LongNote),
        Detail::Shots(shots) => shots.impossible().map_or(Ok(()), |why| Err(NotPossible::ImpossibleShots(why))),
        _ => Ok(()),
    }
}

fn check_opening(opening: &Opening) -> Result<(), String> {
    let (players, holes) = (opening.players.len(), opening.holes.len());
    if !(1..=MOST_PLAYERS).contains(&players) {
        return Err(format!("a round has 1 to {MOST_PLAYERS} players, not {players}"));
    }
    if !(1..=MOST_HOLES).contains(&holes) {
        return Err(format!("a round has 1 to {MOST_HOLES} holes, not {holes}"));
    }
    for player in &opening.players {
        if player.strokes.len() != holes {
            return Err(format!(
                "{} has strokes for {} holes in a round of {holes}",
                player.name,
                player.strokes.len()
            ));
        }
    }
    let sides = &opening.terms.sides;
    let named: Vec<usize> = sides.iter().flatten().copied().collect();
    let once = (0..players).all(|player| named.iter().filter(|n| **n == player).count() == 1);
    if !sides.is_empty() && (!once || named.len() != players) {
        return Err("the sides of the round do not name each of its players once".to_owned());
    }
    Ok(())
}
