//! Late acts applied to the field in the order of their times.

use super::Competition;
use super::issue::Issue;
use super::values::{Change, Entrant, Status, What};
use std::collections::{HashMap, HashSet};

/// The field as the late acts leave it.
#[derive(Clone, Debug, Default)]
pub struct Late {
    /// Entrants with their present values.
    pub field: Vec<Entrant>,
    /// Statuses in one event alone, by event in lower case and id.
    pub in_event: HashMap<(String, String), Option<Status>>,
    /// Cards that the Committee confirmed.
    pub confirmed: HashSet<String>,
    /// The changes in the order of their times.
    pub order: Vec<usize>,
}

/// Applies the changes of a competition.
pub fn apply(competition: &Competition, issues: &mut Vec<Issue>) -> Late {
    let mut late = Late { field: competition.field.clone(), ..Late::default() };
    if competition.changes.is_empty() {
        return late;
    }
    let place: HashMap<String, usize> = late.field.iter().enumerate().map(|(at, e)| (e.id.clone(), at)).collect();
    late.order = (0..competition.changes.len()).collect();
    late.order.sort_by_key(|at| competition.changes.get(*at).map(|c| (c.at.replacen(' ', "T", 1), c.file.clone())));
    for change in late.order.clone().into_iter().filter_map(|at| competition.changes.get(at)) {
        let Some(id) = &change.id else { continue };
        if change.what == What::Confirmed {
            late.confirmed.insert(id.clone());
            continue;
        }
        let Some(entrant) = place.get(id).and_then(|at| late.field.get_mut(*at)) else {
            let message = format!("{} is about {id}, which the field has not", change.file);
            issues.push(Issue::open("nobody", message, "mend the id, or enter the player in field.csv").of(id, id));
            continue;
        };
        if let (Some(event), What::Status(status)) = (&change.event, &change.what) {
            late.in_event.insert((event.to_lowercase(), id.clone()), *status);
            continue;
        }
        let before = set(entrant, &change.what);
        check_from(change, &before, entrant, issues);
    }
    late
}

fn check_from(change: &Change, before: &str, entrant: &Entrant, issues: &mut Vec<Issue>) {
    let Some(from) = &change.from else { return };
    let same = from.eq_ignore_ascii_case(before)
        || matches!(change.what, What::Status(_)) && Status::parse(from).is_some_and(|s| s.words() == before);
    if !same {
        let message = format!("{} says the {} was {from}, and it was {before}", change.file, change.what.words());
        issues.push(Issue::question("change", message, "see which is right").of(&entrant.id, &entrant.name));
    }
}

/// Sets the new value and gives the one before, as it would be written.
fn set(entrant: &mut Entrant, what: &What) -> String {
    let or_none = |text: Option<String>| text.unwrap_or_else(|| "none".to_owned());
    match what {
        What::Status(status) => {
            let before = std::mem::replace(&mut entrant.status, *status);
            or_none(before.map(|s| s.words().to_owned()))
        }
        What::Index(index) => {
            // A Course Handicap that was given was made from the old index.
            entrant.course_handicap = None;
            or_none(entrant.index.replace(*index).map(|i| i.to_string()))
        }
        What::PlayingHandicap(value) => {
            let before = entrant.playing_handicap.replace(*value);
            or_none(before.map(crate::units::tenths::whole_handicap_text))
        }
        What::Tee(tee) => or_none(entrant.tee.replace(tee.clone())),
        What::Category(category) => or_none(entrant.category.replace(category.clone())),
        What::Group(group) => or_none(entrant.group.replace(group.clone())),
        What::StartTime(time) => or_none(entrant.start_time.replace(time.clone())),
        What::StartHole(hole) => or_none(entrant.start_hole.replace(*hole).map(|h| h.to_string())),
        What::Name(name) => std::mem::replace(&mut entrant.name, name.clone()),
        What::Confirmed | What::Lot(_) | What::PlayOff(_) => String::new(),
    }
}
