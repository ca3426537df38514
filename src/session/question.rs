//! The question that a plan answers, from what is open.

use super::{Session, facts};
use crate::course::{Aim, Hole, HoleNotes};
use crate::plan::{Aimed, Question};
use crate::sheet::Standing;
use crate::today::Day;
use crate::units::LengthUnit;

impl Session {
    /// The question for the hole at `position` in playing order, for a player, from `tee` when another than theirs is
    /// looked from; `None` when the hole or the player is missing.
    pub fn question(
        &self,
        position: usize,
        player: usize,
        tee: Option<&str>,
        aimed: Aimed,
        units: LengthUnit,
    ) -> Option<Question> {
        let course = self.course.as_ref()?;
        let number = *self.order.get(position)?;
        let hole = course.hole(number)?;
        let (golfer, person) = (self.golfers.get(player)?, self.people.get(player)?);
        // Without an index the pattern is that of a player of 18, as cli.md assumes one.
        let index = golfer.index.map_or(18.0, |i| f64::from(i.value().tenths()) / 10.0);
        let mut question =
            Question::new(course, hole, tee.unwrap_or(&golfer.tee), golfer.card, index, person.bag.clone());
        question.strokes_received = golfer.strokes.get(position).copied().unwrap_or(0);
        question.aimed = aimed;
        question.units = units;
        let sheet = self.day.as_ref().map(|(day, _)| day);
        question.measured = person.measured;
        question.day = Day::of(course, sheet);
        question.cut = sheet.and_then(|day| day.hole_location(number)).cloned();
        question.forward = sheet.map_or(0.0, |day| day.markers_forward(course, &question.tee));
        question.aims = self.aims_for(hole, player, &question.tee, question.strokes_received, units);
        Some(question)
    }

    /// The day on this course, as the sheet says it; a usual day without one.
    pub fn today_here(&self) -> Option<Day> {
        Some(Day::of(self.course.as_ref()?, self.day.as_ref().map(|(day, _)| day)))
    }

    /// The written aims that apply to a player on a hole today, with those of their layers.
    fn aims_for(&self, hole: &Hole, player: usize, tee: &str, strokes: i32, units: LengthUnit) -> Vec<Aim> {
        let Some(golfer) = self.golfers.get(player) else { return Vec::new() };
        let mut golfer = golfer.clone();
        tee.clone_into(&mut golfer.tee);
        let facts = self.facts(hole, &golfer, strokes, units);
        let nobody = self.people.get(player).is_some_and(|p| p.assumed);
        let layers = self.layers.iter().map(|(layer, _)| layer).filter(|layer| nobody || layer.is_for(&golfer.name));
        let applies =
            |aim: &Aim| matches!(facts::standing(&aim.written, &facts), Standing::Applies | Standing::Assumes(_));
        HoleNotes::with_layers(hole, layers).aims.into_iter().filter(applies).collect()
    }

    /// What the day sheet or the round is played for, as far as a plan can serve it.
    pub fn aimed(&self) -> Aimed {
        let play = self.round.as_ref().and_then(|r| r.opening().play.clone());
        let play = play.or_else(|| self.day.as_ref().and_then(|(day, _)| day.play.clone()));
        play.and_then(|p| Aimed::read(&p)).unwrap_or_default()
    }
}
