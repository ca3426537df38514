//! The Pupils page: lists, and the work behind it, told pupil by pupil.

use super::{Effect, push};
use crate::jobs::Cancel;
use crate::pattern::bag::{BagClub, complete};
use crate::pattern::{Bag, Skill};
use crate::plan::{HolePlan, Pin, Question, plan, price};
use crate::session::Person;
use crate::session::person_index;
use crate::tui::commands::PupilAct;
use crate::tui::state::{Answer, PupilPlay, PupilsJob, PupilsKey, PupilsScreen, Screen, State};
use std::path::PathBuf;

/// What is asked of the edge.
#[derive(Clone, Debug, PartialEq)]
pub enum PupilsAsk {
    /// Find the lists.
    List,
    /// Read one.
    Read(PathBuf),
    /// Work it out behind the screen; a newer one takes its place.
    Work(Box<PupilsJob>),
}

/// What the edge says.
#[derive(Debug)]
pub enum PupilsTold {
    /// The lists, by path and name.
    Lists(Vec<(PathBuf, String)>),
    /// The players of one, and what is to be said of it.
    Read(Vec<Person>, Vec<String>),
    /// An answer for one pupil.
    Answer(Box<PupilsKey>, usize, Answer),
}

/// The steps by which a bag is made longer and shorter to find where the play changes.
const STEPS: [f64; 5] = [0.04, 0.08, 0.12, 0.16, 0.2];

/// Runs a command of the page.
pub fn run(state: &mut State, act: PupilAct, effects: &mut Vec<Effect>) {
    match act {
        PupilAct::Open => {
            push(state, Screen::Pupils(Box::<PupilsScreen>::default()));
            effects.push(Effect::Pupils(PupilsAsk::List));
        }
        PupilAct::Up | PupilAct::Down => {
            let by = if act == PupilAct::Up { -1 } else { 1 };
            if let Some(page) = state.pupils_mut() {
                page.cursor = page.cursor.saturating_add_signed(by).min(page.people.len().saturating_sub(1));
            }
        }
        PupilAct::NextList => {
            let Some(page) = state.pupils_mut() else { return };
            if page.lists.len() < 2 {
                state.notice = Some(crate::tui::state::Notice::word("There is no other list of pupils"));
                return;
            }
            page.list = (page.list + 1) % page.lists.len();
            if let Some((path, _)) = page.lists.get(page.list) {
                effects.push(Effect::Pupils(PupilsAsk::Read(path.clone())));
            }
        }
    }
}

/// What the edge said.
pub fn told(state: &mut State, told: PupilsTold, effects: &mut Vec<Effect>) {
    let own = state.session.people.clone();
    let Some(page) = state.pupils_mut() else { return };
    match told {
        PupilsTold::Lists(lists) => {
            page.listed = true;
            page.lists = lists;
            match page.lists.first() {
                Some((path, _)) => effects.push(Effect::Pupils(PupilsAsk::Read(path.clone()))),
                None => {
                    page.people = own;
                    page.remarks = vec![
                        "No list of pupils yet. Write pupils/NAME.csv on the shelf: the line `player,tee`, then one pupil a line."
                            .to_owned(),
                    ];
                    begin(state, effects);
                }
            }
        }
        PupilsTold::Read(people, remarks) => {
            page.people = people;
            page.remarks = remarks;
            page.cursor = 0;
            begin(state, effects);
        }
        PupilsTold::Answer(key, index, answer) => {
            if page.key.as_ref() == Some(&*key)
                && let Some(slot) = page.answers.get_mut(index)
            {
                *slot = Some(answer);
            }
        }
    }
}

/// Asks for the answers of the page.
fn begin(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(number) = state.current_hole().map(|h| h.number) else { return };
    let aimed = state.hole.aimed.unwrap_or_else(|| state.session.aimed());
    let notebook = state.session.notebook_digest;
    let Some(page) = state.pupils() else { return };
    let list = page.lists.get(page.list).map(|(p, _)| p.clone()).unwrap_or_default();
    let key = PupilsKey { notebook, hole: number, aimed, list };
    let questions: Vec<Option<(Question, f64)>> = page.people.iter().map(|p| question(state, p, &key)).collect();
    let many = questions.len();
    if let Some(page) = state.pupils_mut() {
        page.answers = vec![None; many];
        page.key = Some(key.clone());
    }
    effects.push(Effect::Pupils(PupilsAsk::Work(Box::new(PupilsJob { key, questions }))));
}

fn question(state: &State, person: &Person, key: &PupilsKey) -> Option<(Question, f64)> {
    let course = state.session.course.as_ref()?;
    let hole = course.hole(key.hole)?;
    let tee = course.tee_on(hole, &person.tee)?;
    let index = person_index(person);
    let mut question = Question::new(course, hole, &tee.name, person.card, index, person.bag.clone());
    let golfer = person.on_tee(course, &state.session.order, &state.session.rules);
    let position = state.session.order.iter().position(|n| *n == key.hole).unwrap_or_default();
    question.strokes_received = golfer.strokes.get(position).copied().unwrap_or(0);
    question.aimed = key.aimed;
    question.units = state.shown_units();
    question.pin = Pin::Middle;
    let carry = person.driver_carry().map(|(yards, _)| yards).unwrap_or(200.0);
    Some((question, carry))
}

/// Works a job out: first every play, then prices and crossings, each told as soon as it is known.
pub fn work(job: &PupilsJob, cancel: &Cancel, tell: &mut dyn FnMut(usize, Answer)) {
    let mut plans: Vec<Option<HolePlan>> = Vec::new();
    for (index, asked) in job.questions.iter().enumerate() {
        let made = match asked {
            None => Err("this hole has no tee for them".to_owned()),
            Some((question, _)) => plan(question, cancel.flag()).map_err(|e| e.to_string()),
        };
        if cancel.is_cancelled() {
            return;
        }
        match made {
            Ok(made) => {
                tell(index, Answer::Play(Box::new(play_of(&made, None, None))));
                plans.push(Some(made));
            }
            Err(why) => {
                tell(index, Answer::None(why));
                plans.push(None);
            }
        }
    }
    for (index, (asked, made)) in job.questions.iter().zip(&mut plans).enumerate() {
        let (Some((question, carry)), Some(made)) = (asked, made) else { continue };
        if price(question, made, cancel.flag()).is_err() || cancel.is_cancelled() {
            return;
        }
        let dearest = made.prices.first().map(|p| {
            let name = question.hole.ground.features.get(p.feature).map(|f| f.name.clone()).unwrap_or_default();
            (name, p.strokes)
        });
        let priced = Some(dearest.unwrap_or_default());
        tell(index, Answer::Play(Box::new(play_of(made, priced.clone(), None))));
        let Some(crossings) = crossings(question, *carry, made, cancel) else { return };
        tell(index, Answer::Play(Box::new(play_of(made, priced, Some(crossings)))));
    }
}

fn play_of(plan: &HolePlan, price: Option<(String, f64)>, crossings: Option<Vec<(f64, String)>>) -> PupilPlay {
    let play = plan.plays.first();
    let shots = play.map(|p| p.shots.as_slice()).unwrap_or_default();
    let first = shots.first().map(|s| format!("{}, {}", s.club, s.words)).unwrap_or_default();
    PupilPlay { play: first, strokes: play.map_or(0.0, |p| p.expected_strokes), price, crossings }
}

/// The club of the first shot: what makes one play another.
fn first_club(plan: &HolePlan) -> String {
    plan.plays.first().and_then(|p| p.shots.first()).map(|s| s.club.clone()).unwrap_or_default()
}

/// The same bag with every carry made longer or shorter by a share; what was assumed is then given.
fn scaled(bag: &Bag, skill: &Skill, share: f64) -> Bag {
    let (_, whole, _) = complete(bag, skill);
    let clubs = whole
        .iter()
        .map(|club| {
            let given = bag.clubs.iter().find(|c| c.name == club.name).cloned();
            let blank = BagClub { name: club.name.clone(), ..BagClub::default() };
            BagClub { carry: Some(club.carry * share), ..given.unwrap_or(blank) }
        })
        .collect();
    let swings = bag.swings.iter().cloned().map(|s| crate::pattern::bag::KnownSwing { carry: s.carry * share, ..s });
    Bag { clubs, swings: swings.collect() }
}

/// The driver's carries, shorter and longer than the pupil's, at which the first club becomes another: every carry of the bag is made
/// longer or shorter together. `None` when the work was called off.
fn crossings(question: &Question, carry: f64, own: &HolePlan, cancel: &Cancel) -> Option<Vec<(f64, String)>> {
    let skill = Skill::of_index(question.index, question.card);
    let club = first_club(own);
    let ask = |share: f64| -> Option<String> {
        let asked = Question { bag: scaled(&question.bag, &skill, share), ..question.clone() };
        plan(&asked, cancel.flag()).ok().map(|p| first_club(&p))
    };
    let mut out = Vec::new();
    for sign in [-1.0, 1.0] {
        let mut near = 0.0;
        for step in STEPS {
            let other = ask(1.0 + sign * step)?;
            if other == club {
                near = step;
                continue;
            }
            // Halved until the edge is known to a yard or two.
            let (mut same, mut far, mut named) = (near, step, other);
            while (far - same) * carry > 2.0 {
                let middle = (same + far) / 2.0;
                let found = ask(1.0 + sign * middle)?;
                if found == club {
                    same = middle;
                } else {
                    far = middle;
                    named = found;
                }
            }
            out.push((carry * (1.0 + sign * far), named));
            break;
        }
    }
    Some(out)
}
