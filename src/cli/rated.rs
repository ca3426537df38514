//! A notebook's tees as the handicap commands ask for them.

use super::World;
use super::handicap::{Card, CourseRatings, HandicapArgs, NamedText, RatedTee, Surroundings, command};
use crate::course::{self, Course};
use crate::handicap::{Holes, Nine, TeeRating};
use crate::notebook::report::Report;
use crate::store::{Limit, Sort, read_text};
use crate::units::tenths::SlopeRating;
use chrono::NaiveDate;
use std::path::PathBuf;

/// A course opened for its ratings.
struct Rated(Course);

impl CourseRatings for Rated {
    fn rated(&self, tee: Option<&str>, card: Card, nine: Option<Nine>) -> Result<RatedTee, String> {
        let course = &self.0;
        let names: Vec<&str> = course.tees.iter().map(|t| t.name.as_str()).collect();
        let name = match (tee, names.as_slice()) {
            (Some(tee), _) => tee,
            (None, [only]) => only,
            (None, _) => {
                return Err(format!(
                    "{} has the tees {}; say which with --tee or a column `tee`",
                    course.name,
                    names.join(", ")
                ));
            }
        };
        let Some(set) = course.tees.iter().find(|t| t.name.eq_ignore_ascii_case(name)) else {
            return Err(format!("`{name}` is no tee of {}; it has {}", course.name, names.join(", ")));
        };
        let on = match card {
            Card::Men => course::Card::Men,
            Card::Women => course::Card::Women,
        };
        let (first, last) = match nine {
            None => (1, course.holes.len()),
            Some(Nine::Front) => (1, 9),
            Some(Nine::Back) => (10, 18),
        };
        let lacks = |what: &str| format!("the {} tees of {} have no {what} for {}", set.name, course.name, card.word());
        let rating = course.rating_of(&set.name, on, None, first, last).ok_or_else(|| lacks("rating"))?;
        let holes = course.holes.get(first - 1..last).ok_or_else(|| lacks("such nine"))?;
        let par = holes.iter().map(|h| h.par.on(on).map(i32::from)).sum::<Option<i32>>().ok_or_else(|| lacks("par"))?;
        let stroke_indexes = holes
            .iter()
            .map(|h| h.stroke_index.on(on))
            .collect::<Option<Vec<u8>>>()
            .ok_or_else(|| lacks("stroke index"))?;
        let slope = SlopeRating::new(u32::from(rating.slope)).ok_or_else(|| lacks("lawful slope"))?;
        let count = Holes::of(holes.len())
            .ok_or_else(|| format!("{} has {} holes; a handicap needs 9 or 18", course.name, holes.len()))?;
        Ok(RatedTee {
            name: set.name.clone(),
            rating: TeeRating { holes: count, rating: rating.rating, slope, par },
            stroke_indexes,
        })
    }
}

/// Runs `marram handicap` in `world`.
pub fn run(args: &HandicapArgs, world: &mut World<'_>) -> u8 {
    let shelf = world.store.shelf().clone();
    let current = world.current.clone();
    let read = |name: &str| {
        let file = read_text(&PathBuf::from(name), Limit::YAML).map_err(|e| e.to_string())?;
        Ok(NamedText { name: name.to_owned(), text: file.text })
    };
    let find = |name: &str| {
        let path = shelf.find(Sort::Notebook, name, &current).map_err(|e| e.to_string())?;
        let text = read_text(&path, Limit::YAML).map_err(|e| e.to_string())?.text;
        let (read, problems) = course::read(&text);
        let course = read.ok_or_else(|| Report::new(&path.display().to_string(), &text, &problems).to_text())?;
        Ok(Box::new(Rated(course)) as Box<dyn CourseRatings>)
    };
    let today = NaiveDate::parse_from_str(&world.today, "%Y-%m-%d").unwrap_or(NaiveDate::MAX);
    let around = Surroundings { today, read: &read, course: &find };
    let code = command(args, &around, world.out, world.err);
    u8::try_from(code).unwrap_or(2)
}
