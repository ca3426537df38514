//! Lots and play-offs that were recorded.

use super::Competition;
use super::late::Late;
use super::setup::Event;
use super::values::What;

/// What `put_in_order` needs to know of an event.
pub(super) trait Draws {
    fn event(&self) -> &Event;
    /// The recorded order of a play-off or lot in which this id stands.
    fn drawn(&self, lot: bool, division: Option<&str>, id: &str) -> Option<usize>;
}

/// Where an id stands in the latest recorded lot or play-off of an event.
pub(super) fn drawn(
    competition: &Competition,
    late: &Late,
    event: &Event,
    lot: bool,
    division: Option<&str>,
    id: &str,
) -> Option<usize> {
    let changes = late.order.iter().rev().filter_map(|at| competition.changes.get(*at));
    let mut records = changes.filter(|change| {
        let same = |a: Option<&str>, b: Option<&str>| match (a, b) {
            (Some(a), Some(b)) => a.eq_ignore_ascii_case(b),
            (None, _) => true,
            (Some(_), None) => false,
        };
        change.event.as_deref().is_some_and(|name| name.eq_ignore_ascii_case(&event.name))
            && same(change.division.as_deref(), division)
    });
    records.find_map(|change| match &change.what {
        What::Lot(ids) if lot => ids.iter().position(|one| one == id),
        What::PlayOff(ids) if !lot => ids.iter().position(|one| one == id),
        _ => None,
    })
}
