//! The Playing Handicap of a ball in one event, and the strokes it receives on each hole.

use super::ratings::Rated;
use super::setup::{Event, PartStrokes, Setup};
use super::values::Entrant;
use crate::handicap::{
    Allowance, CourseHandicap, course_handicap, par_difference, strokes_by_hole_giving_back, team_handicap,
};

/// The handicap of a ball in an event.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BallHandicap {
    /// The Course Handicap.
    pub course: Option<CourseHandicap>,
    /// The Playing Handicap, as played from; `None` where there is none.
    pub playing: Option<i32>,
    /// It was given rather than computed.
    pub given: bool,
    /// What tees of another par add.
    pub par_difference: i32,
    /// Strokes on the holes of the event, in the order of the card.
    pub by_hole: Vec<i32>,
}

impl BallHandicap {
    /// Strokes received on the event's holes together.
    pub fn received(&self) -> i32 {
        self.by_hole.iter().sum()
    }
}

/// The tee over the whole round, and over the event's holes where they are a part of it.
#[derive(Clone, Debug)]
pub struct Ground {
    /// Over the round.
    pub round: Rated,
    /// Over the event's holes.
    pub part: Rated,
    /// Where each hole of the event lies in the round.
    pub places: Vec<usize>,
}

impl Ground {
    /// What the Course Handicap of an event is made over.
    pub fn base(&self, event: &Event) -> &Rated {
        if as_a_nine(event) { &self.part } else { &self.round }
    }
}

fn as_a_nine(event: &Event) -> bool {
    event.holes.is_some() && event.strokes == PartStrokes::AsANine
}

/// The Course Handicap of an entrant in an event.
///
/// # Errors
/// Why there is none, in one sentence.
pub fn course_of(setup: &Setup, event: &Event, entrant: &Entrant, ground: &Ground) -> Result<CourseHandicap, String> {
    if let (Some(given), false) = (entrant.course_handicap, as_a_nine(event)) {
        return Ok(CourseHandicap::from_whole(given));
    }
    let base = ground.base(event);
    match (entrant.index, &base.rating) {
        (Some(index), Some(rating)) => Ok(course_handicap(index, rating, &setup.rules)),
        (None, _) => Err("no handicap is entered".to_owned()),
        (_, None) => Err(format!("the {} tees have no {} rating over these holes", base.tee, entrant.card.whose())),
    }
}

/// The handicap of an entrant's own ball.
///
/// # Errors
/// Why there is none, in one sentence.
pub fn own_ball(
    setup: &Setup,
    event: &Event,
    entrant: &Entrant,
    ground: &Ground,
    lowest_par: i32,
) -> Result<BallHandicap, String> {
    let course = course_of(setup, event, entrant, ground);
    let difference = difference(event, ground, lowest_par);
    let percent = match &event.allowance {
        Allowance::Each(percent) => *percent,
        Allowance::Combined(_) | Allowance::LowToHigh(_) => {
            return Err("in this format the side has one handicap".to_owned());
        }
    };
    let playing = match (entrant.playing_handicap, &course) {
        (Some(given), _) => given,
        (None, Ok(course)) => course.playing(percent, difference, &setup.rules).value(),
        (None, Err(why)) => return Err(why.clone()),
    };
    let given = entrant.playing_handicap.is_some();
    Ok(BallHandicap {
        course: course.ok(),
        playing: Some(playing),
        given,
        par_difference: if given { 0 } else { difference },
        by_hole: by_hole(setup, event, ground, playing),
    })
}

fn difference(event: &Event, ground: &Ground, lowest_par: i32) -> i32 {
    if event.par_difference { par_difference(event.play, ground.base(event).par(), lowest_par) } else { 0 }
}

/// The one handicap of partners with one ball; strokes fall by the first player's card.
///
/// # Errors
/// Why there is none, in one sentence.
pub fn one_ball(
    setup: &Setup,
    event: &Event,
    players: &[(&Entrant, &Ground)],
    lowest_par: i32,
) -> Result<BallHandicap, String> {
    let first = players.first().map(|(_, ground)| *ground).ok_or("the side has no players")?;
    let differences = players.iter().map(|(_, ground)| difference(event, ground, lowest_par));
    let difference = differences.max().unwrap_or(0);
    if let Some(given) = players.iter().find_map(|(entrant, _)| entrant.playing_handicap) {
        let by_hole = by_hole(setup, event, first, given);
        return Ok(BallHandicap { course: None, playing: Some(given), given: true, par_difference: 0, by_hole });
    }
    let mut courses = Vec::with_capacity(players.len());
    for (entrant, ground) in players {
        courses.push(course_of(setup, event, entrant, ground).map_err(|why| format!("{}: {why}", entrant.name))?);
    }
    let side = team_handicap(&event.allowance, &courses, &setup.rules).map_err(|error| error.to_string())?;
    let playing = side.value() + difference;
    Ok(BallHandicap {
        course: None,
        playing: Some(playing),
        given: false,
        par_difference: difference,
        by_hole: by_hole(setup, event, first, playing),
    })
}

/// The least par that anybody of the field plays in the event.
pub fn lowest_par<'g>(event: &Event, grounds: impl Iterator<Item = &'g Ground>) -> i32 {
    grounds.map(|ground| ground.base(event).par()).min().unwrap_or(0)
}

fn by_hole(setup: &Setup, event: &Event, ground: &Ground, playing: i32) -> Vec<i32> {
    if as_a_nine(event) {
        return strokes_by_hole_giving_back(playing, &ground.part.indexes, setup.give_back);
    }
    let round = strokes_by_hole_giving_back(playing, &ground.round.indexes, setup.give_back);
    ground.places.iter().map(|place| round.get(*place).copied().unwrap_or(0)).collect()
}
