//! The aim that a professional wrote against the solver's: both are shown where they differ, neither is hidden.

use super::model::Professional;
use super::solved::SolvedHole;
use crate::course::{Aim, From};
use crate::ground::Point;
use crate::strategy::{Play, Stand};
use crate::units::Across;

/// Below this the two are one.
const DIFFERS: f64 = 0.05;

/// The written aim from the tee that costs most against the plan, when it is more than 0.05.
pub fn against(solved: &SolvedHole) -> Option<Professional> {
    let tee = solved.solution().tee();
    let best = solved.solution().plays(tee).first()?.cost;
    solved
        .question()
        .aims
        .iter()
        .filter(|aim| aim.from == From::Tee)
        .filter_map(|aim| {
            let play = along(solved, tee, aim)?;
            let club = play.swing.as_ref().map(|s| solved.ready().kit.pattern.name(s))?;
            let costs = (play.cost - best).max(0.0);
            Some(Professional { aim: spoken(aim), whose: aim.written.from_layer.clone(), club, costs })
        })
        .filter(|p| p.costs > DIFFERS)
        .max_by(|a, b| a.costs.total_cmp(&b.costs))
}

/// The best club on the line of an aim: towards the landmark, or to the place where the ball should finish.
fn along(solved: &SolvedHole, tee: Stand, aim: &Aim) -> Option<Play> {
    let question = solved.question();
    let line = question.hole.ground.line();
    let towards = match (&aim.landmark, aim.at) {
        (_, Some(at)) => line.place(at, aim.across.unwrap_or(Across(0.0))),
        (Some(name), None) => {
            let landmarks = question.hole.landmarks.iter().chain(&question.course.landmarks);
            let landmark = landmarks.into_iter().find(|l| l.name.eq_ignore_ascii_case(name))?;
            let deg = super::words::direction(&question.hole, landmark, tee.at)?;
            let (right, ahead) = (deg.to_radians().sin() * 1000.0, deg.to_radians().cos() * 1000.0);
            Point { right: tee.at.right + right, ahead: tee.at.ahead + ahead }
        }
        (None, None) => return None,
    };
    let swings = solved.ready().kit.pattern.swings(tee.lie);
    let reach = (towards - tee.at).length();
    // A place to finish names the club too: only full swings that end within a club of it are meant.
    let fits = |total: f64| aim.at.is_none() || (total - reach).abs() <= 20.0;
    let all: Vec<(usize, f64)> = swings.iter().filter(|s| s.full).map(|s| (s.club, s.total)).collect();
    let longest = all.iter().map(|(_, total)| *total).fold(0.0, f64::max);
    let fitting: Vec<(usize, f64)> =
        all.iter().copied().filter(|(_, total)| fits(*total) || *total == longest && reach > longest).collect();
    let meant = if fitting.is_empty() { all } else { fitting };
    meant
        .into_iter()
        .filter_map(|(club, total)| solved.solution().marked(tee, club, total, towards))
        .min_by(|a, b| a.cost.total_cmp(&b.cost))
}

/// The aim in a few words.
fn spoken(aim: &Aim) -> String {
    match (&aim.name, &aim.landmark, &aim.written.text) {
        (Some(name), _, _) => name.clone(),
        (None, Some(landmark), _) => format!("at {landmark}"),
        (None, None, Some(text)) => text.clone(),
        (None, None, None) => "the written aim".to_owned(),
    }
}
