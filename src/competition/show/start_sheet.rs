//! The start sheet: groups by time or by hole, and who is in them.

use super::super::Competition;
use super::super::late;
use super::super::values::Entrant;
use super::dates;
use crate::units::plain_text::plain;
use std::collections::BTreeMap;

/// The start sheet as text for the notice board; a shotgun is ordered by hole.
pub fn start_sheet(competition: &Competition) -> String {
    let late = late::apply(competition, &mut Vec::new());
    let setup = &competition.setup;
    let mut out =
        format!("{}\n{}, {}\nStart sheet\n\n", plain(&setup.name), plain(&competition.course.name), dates(competition));
    let mut groups: BTreeMap<(String, u8, u32, String), Vec<&Entrant>> = BTreeMap::new();
    let here = late.field.iter().filter(|e| e.status.is_none());
    let unknown = "99:99".to_owned();
    for entrant in here {
        let group = entrant.group.clone().unwrap_or_default();
        let key = (
            entrant.start_time.clone().unwrap_or_else(|| unknown.clone()),
            entrant.start_hole.unwrap_or(1),
            group.parse().unwrap_or(u32::MAX),
            group,
        );
        groups.entry(key).or_default().push(entrant);
    }
    let shotgun = {
        let mut times: Vec<&String> = groups.keys().map(|(time, ..)| time).collect();
        times.dedup();
        groups.len() > 1 && times.len() == 1 && groups.keys().any(|(_, hole, ..)| *hole != 1)
    };
    for ((time, hole, _, group), players) in &groups {
        let time = if *time == unknown { "no time" } else { time.as_str() };
        let names: Vec<String> = players
            .iter()
            .map(|e| {
                let tee = e.tee.as_deref().or_else(|| setup.tees.of(e.card, e.category.as_deref()));
                format!("{} ({})", plain(&e.name), plain(tee.unwrap_or("no tee")))
            })
            .collect();
        let group = if group.is_empty() { String::new() } else { format!("group {}  ", plain(group)) };
        let place = if shotgun { format!("hole {hole:>2}  ") } else { format!("{time}  hole {hole:>2}  ") };
        out.push_str(&format!("{place}{group}{}\n", names.join(", ")));
    }
    if groups.is_empty() {
        out.push_str("nobody is entered\n");
    }
    out
}
