//! Who is placed in an event: an entrant or a side, with the handicap of each ball in each round.

use super::Competition;
use super::handicaps::{BallHandicap, Ground, lowest_par, one_ball, own_ball};
use super::issue::Issue;
use super::ratings::rated;
use super::setup::Event;
use super::values::Entrant;
use crate::course::Card;
use crate::handicap::Sides;
use crate::scoring::Count;
use std::collections::{HashMap, HashSet};

/// One that is placed.
#[derive(Clone, Debug)]
pub struct Unit {
    /// The entrant's or the side's.
    pub id: String,
    /// The name, of a side those of its players.
    pub name: String,
    /// Places in the field.
    pub players: Vec<usize>,
    /// For each round that counts, each ball's handicap.
    pub balls: Vec<Vec<UnitBall>>,
    /// Why it cannot be placed at all.
    pub fault: Option<String>,
}

/// A ball's handicap and the ground it is played over.
#[derive(Clone, Debug)]
pub struct UnitBall {
    /// The handicap.
    pub handicap: BallHandicap,
    /// Which of the round's grounds.
    pub ground: usize,
}

impl Unit {
    fn only(&self) -> Option<&BallHandicap> {
        match self.balls.first()?.as_slice() {
            [one] => Some(&one.handicap),
            _ => None,
        }
    }

    /// The Playing Handicap where the unit has one.
    pub fn playing(&self) -> Option<i32> {
        self.only()?.playing
    }

    /// Strokes received on the event's holes in a round, where the unit has one handicap.
    pub fn received(&self) -> Option<i32> {
        self.only().map(BallHandicap::received)
    }
}

/// All units of an event.
#[derive(Clone, Debug, Default)]
pub struct Units {
    /// The units.
    pub list: Vec<Unit>,
    grounds: Vec<Vec<Ground>>,
}

impl Units {
    /// A ground of a round that counts.
    pub fn ground(&self, round: usize, at: usize) -> Option<&Ground> {
        self.grounds.get(round)?.get(at)
    }
}

/// Makes the units of an event.
pub(super) fn units(
    competition: &Competition,
    event: &Event,
    field: &[Entrant],
    issues: &mut Vec<Issue>,
    said: &mut HashSet<(String, String)>,
) -> Units {
    let mut units = Units { list: members(competition, event, field, issues, said), grounds: Vec::new() };
    for round in &event.rounds {
        let mut maker = Maker::new(competition, event, *round);
        let of: Vec<Result<usize, String>> = field.iter().map(|entrant| maker.ground_of(entrant)).collect();
        let lowest = lowest_par(event, maker.grounds.iter());
        for unit in &mut units.list {
            match balls(competition, event, field, unit, &of, &maker.grounds, lowest) {
                Ok(balls) => unit.balls.push(balls),
                Err(fault) => {
                    unit.balls.push(Vec::new());
                    unit.fault = unit.fault.take().or(Some(fault));
                }
            }
        }
        units.grounds.push(maker.grounds);
    }
    units
}

fn members(
    competition: &Competition,
    event: &Event,
    field: &[Entrant],
    issues: &mut Vec<Issue>,
    said: &mut HashSet<(String, String)>,
) -> Vec<Unit> {
    let unit =
        |id: &str, name: String, players| Unit { id: id.to_owned(), name, players, balls: Vec::new(), fault: None };
    if event.play.sides == Sides::Individual {
        return field.iter().enumerate().map(|(at, e)| unit(&e.id, e.name.clone(), vec![at])).collect();
    }
    let place: HashMap<&str, usize> = field.iter().enumerate().map(|(at, e)| (e.id.as_str(), at)).collect();
    let sides = competition.sides_of(event);
    if sides.is_empty() && said.insert((event.name.clone(), "no sides".to_owned())) {
        let message = format!("{} has no sides", event.name);
        let advice = "name a list with `sides: sides.csv`, or give the field a column `team`";
        issues.push(Issue::open("no sides", message, advice).in_event(&event.name));
    }
    let mut list = Vec::with_capacity(sides.len());
    for side in sides {
        let players: Vec<usize> = side.players.iter().filter_map(|id| place.get(id.as_str()).copied()).collect();
        let names: Vec<&str> = players.iter().filter_map(|at| field.get(*at)).map(|e| e.name.as_str()).collect();
        let name = side.name.clone().unwrap_or_else(|| names.join(" & "));
        let mut made = unit(&side.id, name, players);
        if made.players.len() != event.play.players() {
            made.fault = Some(format!(
                "a side in {} has {} players, this one has {}",
                event.play,
                event.play.players(),
                made.players.len()
            ));
        }
        list.push(made);
    }
    list
}

fn balls(
    competition: &Competition,
    event: &Event,
    field: &[Entrant],
    unit: &Unit,
    of: &[Result<usize, String>],
    grounds: &[Ground],
    lowest: i32,
) -> Result<Vec<UnitBall>, String> {
    let setup = &competition.setup;
    let mut players: Vec<(&Entrant, usize, &Ground)> = Vec::with_capacity(unit.players.len());
    for at in &unit.players {
        let (Some(entrant), Some(ground)) = (field.get(*at), of.get(*at)) else { continue };
        let ground = ground.as_ref().map_err(String::clone)?;
        if let Some(found) = grounds.get(*ground) {
            players.push((entrant, *ground, found));
        }
    }
    // Strokes decide nothing where gross scores count, so a handicap may be missing there.
    let scratch = |places: usize| BallHandicap { by_hole: vec![0; places], ..BallHandicap::default() };
    let forgive = |made: Result<BallHandicap, String>, holes: usize| match made {
        Err(_) if event.count == Count::Gross => Ok(scratch(holes)),
        other => other,
    };
    if event.play.one_ball() {
        let own: Vec<(&Entrant, &Ground)> = players.iter().map(|(entrant, _, ground)| (*entrant, *ground)).collect();
        let Some((_, at, ground)) = players.first() else { return Ok(Vec::new()) };
        let handicap = forgive(one_ball(setup, event, &own, lowest), ground.places.len())?;
        return Ok(vec![UnitBall { handicap, ground: *at }]);
    }
    let mut balls = Vec::with_capacity(players.len());
    for (entrant, at, ground) in players {
        let made = own_ball(setup, event, entrant, ground, lowest);
        balls.push(UnitBall { handicap: forgive(made, ground.places.len())?, ground: at });
    }
    Ok(balls)
}

/// Looks each tee up once for each card.
struct Maker<'a> {
    competition: &'a Competition,
    event: &'a Event,
    round: &'a [u8],
    grounds: Vec<Ground>,
    known: HashMap<(String, Card), Result<usize, String>>,
}

impl<'a> Maker<'a> {
    fn new(competition: &'a Competition, event: &'a Event, round: usize) -> Self {
        let round = competition.setup.rounds.get(round).map_or(&[][..], |round| round.holes.as_slice());
        Maker { competition, event, round, grounds: Vec::new(), known: HashMap::new() }
    }

    fn ground_of(&mut self, entrant: &Entrant) -> Result<usize, String> {
        let course = &self.competition.course;
        let named = entrant
            .tee
            .as_deref()
            .or_else(|| self.competition.setup.tees.of(entrant.card, entrant.category.as_deref()));
        let tee = match (named, course.tees.as_slice()) {
            (Some(named), _) => named,
            (None, [only]) => only.name.as_str(),
            (None, _) => {
                return Err(format!(
                    "no tee: neither the entry nor the set-up names one for the {} card",
                    entrant.card.whose()
                ));
            }
        };
        let key = (tee.to_lowercase(), entrant.card);
        if let Some(known) = self.known.get(&key) {
            return known.clone();
        }
        let part = self.event.holes.as_deref().unwrap_or(self.round);
        let made = rated(course, tee, entrant.card, self.round).and_then(|round| {
            let places = part.iter().filter_map(|hole| self.round.iter().position(|own| own == hole)).collect();
            let part = rated(course, tee, entrant.card, part)?;
            self.grounds.push(Ground { round, part, places });
            Ok(self.grounds.len() - 1)
        });
        self.known.insert(key, made.clone());
        made
    }
}
