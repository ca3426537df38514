//! One hole for all pupils: the list as it comes, answers as they come, and the carry at which the play changes.

use marram::jobs::Cancel;
use marram::session::{Home, Person};
use marram::shelf::{self, Load};
use marram::store::{Shelf, Store};
use marram::tui::state::{Answer, PupilsJob};
use marram::tui::story::{STORY_DAY, Story};
use marram::tui::update::{Effect, Msg, PupilsAsk, PupilsTold, pupils, update};
use std::path::Path;

fn samples() -> (Store, Story) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses");
    let store = Store::new(Shelf::at(&root));
    let wanted = shelf::Wanted { players: vec![(root.join("players/wren-hallam.yaml"), None)], ..Default::default() };
    let session = shelf::open_course(&root.join("corvane.yaml"), &wanted, STORY_DAY).unwrap();
    assert_eq!(session.home, Home::Files);
    (store, Story::of(session, 120, 36))
}

fn tell(story: &mut Story, told: PupilsTold) {
    let effects = update(&mut story.state, Msg::Pupils(told));
    story.effects.extend(effects);
}

/// Lets the edge find and read the list, as it would.
fn opened() -> (Story, PupilsJob, Vec<Person>) {
    let (store, mut story) = samples();
    story.keys("P");
    assert!(story.screen().contains("Looking for lists"), "the page is there before its list");
    let lists = shelf::pupil_lists(&store, &story.state.session);
    assert_eq!(lists[0].1, "thursday-group");
    tell(&mut story, PupilsTold::Lists(lists));
    let asked = story.effects.iter().rev().find_map(|e| match e {
        Effect::Pupils(PupilsAsk::Read(path)) => Some(path.clone()),
        _ => None,
    });
    let list = shelf::pupil_list(&store, &story.state.session, &asked.unwrap()).unwrap();
    let people = list.people.clone();
    tell(&mut story, PupilsTold::Read(list.people, list.remarks));
    let job = story.effects.iter().rev().find_map(|e| match e {
        Effect::Pupils(PupilsAsk::Work(job)) => Some((**job).clone()),
        _ => None,
    });
    (story, job.unwrap(), people)
}

#[test]
fn a_list_is_shown_at_once_and_filled_in_answer_by_answer() {
    let (mut story, mut job, people) = opened();
    assert_eq!(
        people.iter().map(|p| p.name.as_str()).collect::<Vec<_>>(),
        ["Wren Hallam", "Callum Reive", "Ines Calder"]
    );
    let screen = story.screen();
    assert!(
        screen.contains("Callum Reive") && screen.contains("working it out") && screen.contains("0 of 3"),
        "{screen}"
    );
    // One pupil is enough to see the whole of it.
    for question in job.questions.iter_mut().skip(1) {
        *question = None;
    }
    let key = job.key.clone();
    let mut seen = Vec::new();
    pupils::work(&job, &Cancel::default(), &mut |index, answer| seen.push((index, answer)));
    let of_first: Vec<&Answer> = seen.iter().filter(|(i, _)| *i == 0).map(|(_, a)| a).collect();
    assert_eq!(of_first.len(), 3, "the play, then its price, then where it changes");
    assert!(matches!(of_first[0], Answer::Play(p) if p.price.is_none() && p.crossings.is_none()));
    let Answer::Play(last) = of_first[2].clone() else { panic!() };
    let carry = people[0].carry.unwrap();
    for (at, club) in last.crossings.as_ref().unwrap() {
        assert!((carry - 41.0..=carry + 41.0).contains(at) && !club.is_empty());
    }
    for (index, answer) in seen {
        tell(&mut story, PupilsTold::Answer(Box::new(key.clone()), index, answer));
    }
    let screen = story.screen();
    assert!(screen.contains(&format!("{:.2}", last.strokes)) && !screen.contains("working it out"), "{screen}");
    assert!(screen.contains("this hole has no tee for them"), "{screen}");
    // An answer of another hole is not shown.
    let mut other = key;
    other.hole = 9;
    tell(&mut story, PupilsTold::Answer(Box::new(other), 0, Answer::None("of another hole".to_owned())));
    assert!(!story.screen().contains("of another hole"));
}

#[test]
fn without_a_list_the_players_of_the_round_stand_there_and_a_sentence_says_how_to_make_one() {
    let mut story = Story::example(80, 24);
    story.keys("P");
    tell(&mut story, PupilsTold::Lists(Vec::new()));
    let said = story.said();
    assert!(said.contains("Wren Hallam") && said.contains("pupils/NAME.csv"), "{said}");
}

#[test]
fn a_list_with_faults_says_them_and_shows_the_rest() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    std::fs::create_dir_all(root.join("pupils")).unwrap();
    std::fs::create_dir_all(root.join("players")).unwrap();
    std::fs::write(
        root.join("players/wren-hallam.yaml"),
        include_str!("../../sample-courses/players/wren-hallam.yaml"),
    )
    .unwrap();
    std::fs::write(root.join("pupils/mine.csv"), "player,tee\nWren Hallam,Moon\nNobody Here,Club\nWren Hallam,Club\n")
        .unwrap();
    let mut load = Load::new(STORY_DAY);
    load.course("corvane.yaml", include_str!("../../sample-courses/corvane.yaml").to_owned());
    let session = load.finish(Home::Files);
    let store = Store::new(Shelf::at(root));
    let list = shelf::pupil_list(&store, &session, &root.join("pupils/mine.csv")).unwrap();
    assert_eq!(list.people.len(), 1);
    assert!(list.remarks.iter().any(|r| r.contains("no Moon tees")), "{:?}", list.remarks);
    assert!(list.remarks.iter().any(|r| r.contains("Nobody Here has no player's file")), "{:?}", list.remarks);
    assert!(list.remarks.iter().any(|r| r.contains("stands twice")), "{:?}", list.remarks);
}
