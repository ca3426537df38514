//! What a course says of one tee for one card over some holes: rating, slope, par, stroke indexes.

use crate::course::{Card, Course};
use crate::handicap::{Holes, StrokeIndexes, TeeRating};
use crate::units::tenths::SlopeRating;

/// A tee over the holes asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rated {
    /// The tee as the notebook writes it.
    pub tee: String,
    /// Rating, slope and par, where these holes are rated.
    pub rating: Option<TeeRating>,
    /// Par of each hole.
    pub pars: Vec<u8>,
    /// Stroke indexes of the holes.
    pub indexes: StrokeIndexes,
}

impl Rated {
    /// Par of the holes together.
    pub fn par(&self) -> i32 {
        self.pars.iter().map(|par| i32::from(*par)).sum()
    }
}

/// Looks a tee up; its name may be written in any case.
///
/// # Errors
/// What is missing, in one sentence.
pub fn rated(course: &Course, tee: &str, card: Card, holes: &[u8]) -> Result<Rated, String> {
    let Some(set) = course.tees.iter().find(|set| set.name.eq_ignore_ascii_case(tee.trim())) else {
        let names: Vec<&str> = course.tees.iter().map(|set| set.name.as_str()).collect();
        return Err(format!("`{tee}` is no tee of {}; it has {}", course.name, names.join(", ")));
    };
    let mut pars = Vec::with_capacity(holes.len());
    let mut indexes = Vec::with_capacity(holes.len());
    for number in holes {
        let hole =
            course.hole(*number).ok_or_else(|| format!("{} has no hole {number} that can be read", course.name))?;
        let lacks = |what: &str| format!("hole {number} of {} has no {what} on the {} card", course.name, card.whose());
        pars.push(hole.par.on(card).ok_or_else(|| lacks("par"))?);
        indexes.push(hole.stroke_index.on(card).ok_or_else(|| lacks("stroke index"))?);
    }
    let indexes = StrokeIndexes::new(&indexes).map_err(|fault| format!("{}: {fault}", course.name))?;
    let par = pars.iter().map(|par| i32::from(*par)).sum();
    let rating = rating_over(course, &set.name, card, holes, par);
    Ok(Rated { tee: set.name.clone(), rating, pars, indexes })
}

fn rating_over(course: &Course, tee: &str, card: Card, holes: &[u8], par: i32) -> Option<TeeRating> {
    let (first, last) = (usize::from(*holes.iter().min()?), usize::from(*holes.iter().max()?));
    if last + 1 - first != holes.len() {
        return None;
    }
    let rating = course.rating_of(tee, card, None, first, last)?;
    let slope = SlopeRating::new(u32::from(rating.slope))?;
    Some(TeeRating { holes: Holes::of(holes.len())?, rating: rating.rating, slope, par })
}
