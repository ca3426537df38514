//! Works out what the Review page asks for, beside the keys.

use super::state::{Content, ReviewAsk};
use crate::jobs::Cancel;
use crate::pattern::Pattern;
use crate::review::propose::{Proposal, calibrate, clubs, of_clubs, of_holes};
use crate::review::season::season;
use crate::review::target::Target;
use crate::review::{Look, RoundCase, RoundReview, need, practise_course, review_round, review_rounds, show};
use crate::session::Session;
use crate::shelf;
use crate::store::Store;
use std::sync::Arc;

/// The answer to a question of the page.
pub fn answer(store: &Store, ask: &ReviewAsk, today: &str, cancel: &Cancel) -> Content {
    let made = match ask {
        ReviewAsk::Round(log, player) => round(log, *player, today, cancel).map(|l| (l, Vec::new())),
        ReviewAsk::Season(name) => {
            let (cases, reviews) = rounds(store, name, today, cancel);
            if cases.is_empty() {
                Err(format!("No round of {name} lies on this shelf yet."))
            } else {
                Ok((show::season_lines(&season(&cases, &reviews)), Vec::new()))
            }
        }
        ReviewAsk::Learn(session, player) => learnt(store, session, *player, today, cancel),
        ReviewAsk::Need(session, player, text) => Target::read(text)
            .and_then(|target| need(session, *player, target, cancel.flag()))
            .map(|found| (show::need_lines(&found), Vec::new())),
        ReviewAsk::Practise(session, player) => {
            let found = practise_course(session, *player, cancel.flag());
            let mut out = vec!["Strokes a round saved by ten per cent less spread, by club and lie".to_owned()];
            out.push(format!("{:<18} {:<13} {:>6} {:>8}", "club", "lie", "saves", "shots"));
            for f in found.iter().take(20) {
                let half = f.half.map_or_else(String::new, |h| format!(" ± {h:.2}"));
                out.push(format!("{:<18} {:<13} {:>6.2} {:>8.1}{half}", f.club, f.lie, f.saves, f.shots));
            }
            Ok((out, Vec::new()))
        }
        ReviewAsk::Refuse(name, proposal) => {
            return match shelf::refuse(store, name, &[proposal]) {
                Ok(_) => Content::Waiting,
                Err(error) => Content::Nothing(error.to_string()),
            };
        }
    };
    match made {
        Ok((lines, proposals)) => Content::Lines(Arc::new(lines), Arc::new(proposals)),
        Err(why) => Content::Nothing(why),
    }
}

fn round(log: &std::path::Path, player: usize, today: &str, cancel: &Cancel) -> Result<Vec<String>, String> {
    let past = shelf::as_it_was(log, today).map_err(|e| e.to_string())?;
    let case = RoundCase { session: past.session, player };
    let mut review = review_round(&case, cancel.flag())?;
    review.remarks.extend(past.words);
    Ok(show::lines(&review))
}

fn rounds(
    store: &Store,
    name: &str,
    today: &str,
    cancel: &Cancel,
) -> (Vec<RoundCase>, Vec<Result<RoundReview, String>>) {
    let (found, _) = shelf::rounds_of(store, name, today);
    let cases: Vec<RoundCase> =
        found.into_iter().map(|(past, player)| RoundCase { session: past.session, player }).collect();
    let reviews = review_rounds(&cases, Look::Quick, true, cancel.flag());
    (cases, reviews)
}

fn learnt(
    store: &Store,
    session: &Session,
    player: usize,
    today: &str,
    cancel: &Cancel,
) -> Result<(Vec<String>, Vec<Proposal>), String> {
    let person = session.people.get(player).ok_or("there is no such player")?;
    let (cases, reviews) = rounds(store, &person.name, today, cancel);
    let reviews: Vec<RoundReview> = reviews.into_iter().flatten().collect();
    let pattern = Pattern::of(&person.bag, &person.skill());
    let seen = clubs(&reviews, &pattern);
    let refused = shelf::refusals(store, &person.name);
    let mut proposals = of_clubs(&seen, person.units);
    proposals.extend(of_holes(&reviews));
    let waiting = proposals.len();
    proposals.retain(|p| !refused.holds(p));
    let questions: Vec<_> = cases
        .last()
        .map(|c| {
            let aimed = c.session.aimed();
            (0..c.session.order.len())
                .filter_map(|p| c.session.question(p, c.player, None, aimed, person.units))
                .collect()
        })
        .unwrap_or_default();
    let constant = calibrate(&reviews, &questions, cancel.flag());
    let mut lines =
        show::learnt_lines(&person.name, &seen, constant.as_ref(), &[], waiting - proposals.len(), person.units);
    if !proposals.is_empty() {
        lines.retain(|l| !l.starts_with("Nothing is proposed"));
        lines.push("Proposed: a agrees, E edits first, x refuses; nothing is changed until you agree".to_owned());
    }
    Ok((lines, proposals))
}
