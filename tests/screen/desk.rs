//! The Desk: competition day played through by keys, alone and by two keyers on one folder, against the independent total
//! of `tests/competition/oracle.py`; folders that vanish, disks that fill, every look at every size.

use marram::shelf::latest;
use marram::store::{Disk, Fault, Faults, Shelf, Step, Store};
use marram::tui::commands::Page;
use marram::tui::desk_run::DeskThread;
use marram::tui::keymap::Key;
use marram::tui::looks::{Depth, Looks};
use marram::tui::state::{Desk, Part};
use marram::tui::story::Story;
use marram::tui::update::{DeskAsk, DeskNews, Effect, Msg, update};
use serde_json::Value;
use std::collections::BTreeMap;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, sync_channel};
use std::time::{Duration, Instant};

fn medal() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/competition/medal")
}

/// A program at a desk: the screen's state, and the thread behind it at work on a real folder.
struct At {
    story: Story,
    thread: Option<DeskThread>,
    news: Receiver<DeskNews>,
}

impl At {
    fn store(store: Store, folder: &Path) -> At {
        let (tell, news) = sync_channel(256);
        let thread = DeskThread::start(store, Box::new(move |told| tell.send(told).is_ok())).unwrap();
        let mut at = At { story: Story::example(120, 36), thread: Some(thread), news };
        at.ask(DeskAsk::Open(Some(folder.to_owned())));
        at.until("it is read", |desk| desk.board.is_some() || desk.errors > 0);
        at
    }

    fn folder(folder: &Path) -> At {
        At::store(Store::new(Shelf::at(folder.join("shelf"))), folder)
    }

    fn ask(&self, ask: DeskAsk) {
        self.thread.as_ref().unwrap().ask(ask);
    }

    fn hear(&mut self) {
        while let Ok(news) = self.news.try_recv() {
            let effects = update(&mut self.story.state, Msg::Desk(Box::new(news)));
            self.pass_on(effects);
        }
    }

    fn pass_on(&mut self, effects: Vec<Effect>) {
        for effect in effects {
            if let Effect::Desk(ask) = effect {
                self.ask(ask);
            }
        }
    }

    fn press(&mut self, key: Key) {
        self.hear();
        let before = self.story.effects.len();
        self.story.press(key);
        let effects = self.story.effects.split_off(before);
        self.pass_on(effects);
    }

    fn keys(&mut self, keys: &str) {
        for key in keys.split_whitespace().filter_map(Key::read) {
            self.press(key);
        }
    }

    /// Types a text, then Enter.
    fn enter(&mut self, text: &str) {
        text.chars().for_each(|c| self.press(Key::Char(c)));
        self.press(Key::Enter);
    }

    fn desk(&self) -> &Desk {
        self.story.state.desk.as_ref().unwrap()
    }

    fn until(&mut self, what: &str, done: impl Fn(&Desk) -> bool) {
        let end = Instant::now() + Duration::from_secs(20);
        while Instant::now() < end {
            self.hear();
            if self.story.state.desk.as_ref().is_some_and(|desk| done(desk)) {
                return;
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        panic!("never: {what}\n{}", self.story.said());
    }

    fn kept(&mut self) {
        self.until("all is kept", |desk| desk.waiting == 0 && desk.typed.is_empty());
    }

    fn status(&self, id: &str) -> String {
        self.desk().board.as_ref().unwrap().card(id, 0).unwrap().words().to_owned()
    }

    /// Finds a card by its id and keys its eighteen boxes; how many keys it took.
    fn key_card(&mut self, id: &str, scores: &str) -> usize {
        self.press(Key::Char('/'));
        self.enter(id);
        assert_eq!(self.story.state.page(), Page::Keying, "{id}\n{}", self.story.said());
        let mut presses = 0;
        for word in scores.split_whitespace() {
            let (first, more) = match word.parse::<u8>() {
                Ok(strokes) if strokes > 9 => ('9', strokes - 9),
                _ => (word.chars().next().unwrap(), 0),
            };
            self.press(Key::Char(first));
            (0..more).for_each(|_| self.press(Key::Char('+')));
            presses += 1 + usize::from(more);
        }
        presses
    }

    /// Back to the list of cards.
    fn go_to_cards(&mut self) {
        while self.story.state.page() != Page::Desk {
            self.press(Key::Esc);
        }
        while self.desk().part != Part::Cards {
            self.press(Key::Tab);
        }
    }

    fn late_act(&mut self, id: &str, what: &str, to: &str, why: &str) {
        self.go_to_cards();
        let at = self.desk().rows().iter().position(|row| row.id == id).unwrap();
        self.press(Key::Home);
        (0..at).for_each(|_| self.press(Key::Down));
        let acts = self.desk().board.as_ref().unwrap().acts.len();
        self.press(Key::Char('a'));
        while self.desk().form.as_ref().unwrap().value(0) != what {
            self.press(Key::Right);
        }
        self.press(Key::Enter);
        self.enter(to);
        self.enter(why);
        self.press(Key::Enter);
        self.until("the act is recorded", |desk| desk.form.is_none() && desk.board.as_ref().unwrap().acts.len() > acts);
    }

    fn rule(&mut self, id: &str, hole: usize, outcome: usize, why: &str) {
        self.go_to_cards();
        self.press(Key::Char('/'));
        self.enter(id);
        assert_eq!(self.story.state.page(), Page::DeskCard);
        (1..hole).for_each(|_| self.press(Key::Right));
        self.press(Key::Char('r'));
        self.until("the outcomes are shown", |desk| desk.ruling.as_ref().is_some_and(|r| !r.outcomes.is_empty()));
        (0..outcome).for_each(|_| self.press(Key::Down));
        self.press(Key::Enter);
        self.press(Key::Enter);
        self.enter(why);
        self.press(Key::Enter);
        self.until("the ruling is recorded", |desk| desk.ruling.is_none());
    }

    fn leave(mut self) -> Vec<String> {
        drop(std::mem::replace(&mut self.news, sync_channel(1).1));
        self.thread.take().unwrap().finish()
    }
}

/// The competition as set up, nobody entered; and the list as it came, without the two late entries.
fn before_the_day() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    for name in ["competition.yaml", "saltgate.yaml", "sides.csv"] {
        std::fs::copy(medal().join(name), folder.path().join(name)).unwrap();
    }
    let text = std::fs::read_to_string(medal().join("field.csv")).unwrap();
    let head = text.lines().next().unwrap();
    std::fs::write(folder.path().join("field.csv"), format!("{head}\r\n")).unwrap();
    let rows: Vec<&str> = text.lines().filter(|l| !l.starts_with("M083") && !l.starts_with("M084")).collect();
    let list = folder.path().join("shelf-list.csv");
    std::fs::write(&list, rows.join("\r\n") + "\r\n").unwrap();
    (folder, list)
}

/// The eighteen boxes of every card that came in, as they stand on paper.
fn paper() -> BTreeMap<String, String> {
    let mut cards = BTreeMap::new();
    for entry in std::fs::read_dir(medal().join("cards")).unwrap() {
        let path = entry.unwrap().path();
        let text = std::fs::read_to_string(path.join("wren.yaml")).unwrap();
        let scores = text.split("scores: \"").nth(1).unwrap().split('"').next().unwrap().to_owned();
        cards.insert(path.file_name().unwrap().to_string_lossy().into_owned(), scores);
    }
    cards
}

fn expected() -> Value {
    let file = medal().join("../expected.json");
    serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap()
}

fn agrees_with_the_oracle(folder: &Path) {
    let (manifest, _) = latest(folder).unwrap().unwrap();
    let expected = expected();
    let (ours, theirs) = (manifest.total["events"].as_array().unwrap(), expected["events"].as_array().unwrap());
    assert_eq!(ours.len(), theirs.len());
    let mut compared = 0;
    for (own, other) in ours.iter().zip(theirs) {
        let (own, other) = (own["order"].as_array().unwrap(), other["order"].as_array().unwrap());
        assert_eq!(own.len(), other.len());
        for (own, other) in own.iter().zip(other) {
            compared += 1;
            for key in ["id", "place"] {
                assert_eq!(own[key], other[key], "{own} against {other}");
            }
            if other["place"].is_null() {
                assert_eq!(own["status"], other["status"], "{own}");
                continue;
            }
            assert_eq!((&own["tied"], &own["decided_by"]), (&other["tied"], &other["decided_by"]), "{own}");
            assert_eq!(own["result"].as_i64().unwrap().abs(), other["figure"].as_i64().unwrap().abs(), "{own}");
        }
    }
    assert!(compared > 250, "{compared} lines");
}

/// What happens besides keying: late acts, rulings, as in the oracle's own list.
fn incidents(at: &mut At) {
    at.late_act("M020", "withdrawn", "", "unwell after four holes");
    at.late_act("M031", "no return", "", "no score on hole 12");
    at.late_act("M060", "index", "30.5", "the index of the day before stood in the field");
    at.late_act("M066", "no show", "", "did not come to the tee");
    at.rule("M050", 4, 2, "a stroke fewer than taken was returned");
    at.rule("M055", 7, 1, "two penalty strokes the player did not know of");
}

fn enter_the_field(at: &mut At, list: &Path) {
    at.press(Key::Char('F'));
    at.enter(&list.display().to_string());
    at.until("82 are entered", |desk| desk.board.as_ref().is_some_and(|b| b.field.len() == 82));
    for (id, name, index, tee) in [("M083", "Piet Quarles", "23.1", "Tern"), ("M084", "Dara Garth", "35.6", "Gull")] {
        let before = at.desk().board.as_ref().unwrap().field.len();
        at.press(Key::Char('E'));
        at.enter(name);
        at.enter(id);
        at.press(Key::Enter); // men
        at.enter(index);
        at.enter(tee);
        at.press(Key::Enter); // no category
        at.enter("21");
        at.enter("10:40");
        at.press(Key::Enter);
        at.until("one more is entered", |desk| {
            desk.form.is_none() && desk.board.as_ref().unwrap().field.len() > before
        });
    }
}

#[test]
fn the_day_alone_agrees_with_the_oracle() {
    let (folder, list) = before_the_day();
    let mut at = At::folder(folder.path());
    assert!(at.story.said().contains("Nobody is entered"), "{}", at.story.said());
    enter_the_field(&mut at, &list);
    at.go_to_cards();
    at.press(Key::Char('n'));
    at.enter("wren");
    let paper = paper();
    let mut most = 0;
    for (id, scores) in &paper {
        // One slip: hole 3 of M007 as one more.
        let typed = if id == "M007" { slip(scores) } else { scores.clone() };
        most = most.max(at.key_card(id, &typed));
    }
    at.go_to_cards();
    assert!(most <= 22, "{most} keys for a card");
    at.kept();
    assert_eq!((at.status("M007").as_str(), at.status("M020").as_str()), ("keyed once", "out"));
    // The same person keys a second time under another name, blind.
    at.press(Key::Char('n'));
    (0..4).for_each(|_| at.press(Key::Backspace));
    at.enter("isla");
    at.press(Key::Char('/'));
    at.enter("M007");
    assert!(!at.story.said().contains(&format!("gross {}", 70)), "the first keying is not shown");
    assert!(at.story.said().contains("keyed before by somebody else"), "{}", at.story.said());
    for (id, scores) in &paper {
        at.key_card(id, scores);
    }
    at.go_to_cards();
    at.kept();
    at.until("M007 differs", |desk| desk.board.as_ref().unwrap().card("M007", 0).unwrap().words() == "mismatch");
    at.press(Key::Char('/'));
    at.enter("M007");
    let said = at.story.said();
    assert!(said.contains("hole 3: isla keyed") && said.contains("The keyings disagree where ! stands"), "{said}");
    assert_eq!(at.desk().card.as_ref().unwrap().2, 2, "the cursor stands on the hole");
    at.press(Key::Char('M'));
    assert!(at.story.said().contains("mending the keying of wren"), "{}", at.story.said());
    at.press(Key::Char(paper["M007"].split(' ').nth(2).unwrap().chars().next().unwrap()));
    at.press(Key::Enter);
    at.until("M007 is confirmed", |desk| desk.board.as_ref().unwrap().card("M007", 0).unwrap().words() == "confirmed");
    let mended = std::fs::read_to_string(folder.path().join("cards/M007/wren.yaml")).unwrap();
    assert!(mended.contains("mended_by: \"isla\""), "{mended}");

    at.go_to_cards();
    at.press(Key::Char('C'));
    at.until("it is not closed yet", |_| true);
    std::thread::sleep(Duration::from_millis(300));
    at.hear();
    assert!(at.story.said().contains("Not closed"), "{}", at.story.said());
    incidents(&mut at);
    at.go_to_cards();
    at.until("nothing is missing", |desk| desk.board.as_ref().unwrap().is_final);
    at.press(Key::Char('C'));
    at.until("result 1 stands", |desk| desk.proof.as_ref().is_some_and(|proof| proof.result == 1 && proof.holds()));
    agrees_with_the_oracle(folder.path());

    // After the close a change needs a reason and makes result 2; what stands in a result is not taken back.
    at.press(Key::Char('u'));
    std::thread::sleep(Duration::from_millis(200));
    at.hear();
    assert!(at.story.said().contains("stands in a result that was closed"), "{}", at.story.said());
    at.late_act("M001", "withdrawn", "", "signed for the wrong card");
    at.press(Key::Char('C'));
    at.until("a reason is asked", |desk| desk.form.is_some());
    at.enter("a card was taken back");
    at.until("result 2 stands", |desk| desk.proof.as_ref().is_some_and(|proof| proof.result == 2 && proof.holds()));
    assert_eq!(at.leave(), Vec::<String>::new());
}

fn slip(scores: &str) -> String {
    let mut words: Vec<String> = scores.split(' ').map(str::to_owned).collect();
    words[2] = (words[2].parse::<u8>().unwrap() + 1).to_string();
    words.join(" ")
}

#[test]
fn two_keyers_on_one_folder_lose_nothing() {
    let (folder, list) = before_the_day();
    let mut wren = At::folder(folder.path());
    let mut isla = At::folder(folder.path());
    enter_the_field(&mut wren, &list);
    isla.until("the field came over", |desk| desk.board.as_ref().unwrap().field.len() == 84);
    for (at, name) in [(&mut wren, "wren"), (&mut isla, "isla")] {
        at.go_to_cards();
        at.press(Key::Char('n'));
        at.enter(name);
    }
    let paper = paper();
    // They go through the pile from its two ends, key by key between one another.
    for ((first, one), (second, two)) in paper.iter().zip(paper.iter().rev()) {
        wren.key_card(first, one);
        isla.key_card(second, two);
    }
    for at in [&mut wren, &mut isla] {
        at.go_to_cards();
        at.kept();
    }
    // What the other has keyed is seen within two seconds.
    let began = Instant::now();
    for at in [&mut wren, &mut isla] {
        at.until("all 82 cards are confirmed", |desk| desk.board.as_ref().unwrap().counts[6] + 1 >= 82);
    }
    assert!(began.elapsed() < Duration::from_secs(4), "{:?}", began.elapsed());
    assert!(wren.desk().rows().iter().all(|row| row.keyers.is_empty() || row.keyers.len() == 2));
    incidents(&mut isla);
    wren.until("the other's acts came over", |desk| desk.board.as_ref().unwrap().is_final);
    wren.go_to_cards();
    wren.press(Key::Char('C'));
    wren.until("closed", |desk| desk.proof.as_ref().is_some_and(|proof| proof.holds()));
    isla.until("the other sees the result", |desk| desk.proof.as_ref().is_some_and(|proof| proof.holds()));
    agrees_with_the_oracle(folder.path());
}

#[test]
fn two_of_one_name_are_kept_side_by_side_and_shown() {
    let (folder, list) = before_the_day();
    let mut one = At::folder(folder.path());
    enter_the_field(&mut one, &list);
    let mut two = At::folder(folder.path());
    for at in [&mut one, &mut two] {
        at.press(Key::Char('n'));
        at.enter("wren");
    }
    let par = "4 3 5 4 4 3 4 5 4 4 4 3 5 4 4 3 4 5";
    // Neither sees the other before both have begun.
    one.press(Key::Char('/'));
    one.enter("M002");
    two.press(Key::Char('/'));
    two.enter("M002");
    par.split(' ').for_each(|s| one.keys(s));
    one.kept();
    "5".split(' ').for_each(|s| two.keys(s));
    two.until("a word says so", |desk| desk.waiting == 0);
    two.go_to_cards();
    two.until("the copy is named", |desk| {
        desk.board.as_ref().unwrap().issues.iter().any(|issue| issue.what == "conflict copy")
    });
    let mut names: Vec<String> = std::fs::read_dir(folder.path().join("cards/M002"))
        .unwrap()
        .map(|e| e.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    assert_eq!(names, ["wren (conflict 1).yaml", "wren.yaml"]);
    let kept = std::fs::read_to_string(folder.path().join("cards/M002/wren.yaml")).unwrap();
    assert!(kept.contains(&format!("scores: \"{par}\"")), "{kept}");
}

#[test]
fn a_folder_that_vanishes_comes_back_with_nothing_lost() {
    let (folder, list) = before_the_day();
    let place = folder.path().join("stick");
    std::fs::create_dir(&place).unwrap();
    for name in ["competition.yaml", "saltgate.yaml", "sides.csv", "field.csv"] {
        std::fs::rename(folder.path().join(name), place.join(name)).unwrap();
    }
    let store = || Store::new(Shelf::at(folder.path().join("shelf")));
    let mut at = At::store(store(), &place);
    enter_the_field(&mut at, &list);
    at.press(Key::Char('n'));
    at.enter("wren");
    at.press(Key::Char('/'));
    at.enter("M001");
    at.keys("5 4");
    at.kept();
    let away = folder.path().join("away");
    std::fs::rename(&place, &away).unwrap();
    at.keys("5 4 4");
    at.until("it is said", |desk| desk.waiting > 0 && desk.trouble.is_some() && desk.gone.is_some());
    at.keys("3");
    assert!(at.story.said().contains("NOT kept"), "{}", at.story.said());
    at.press(Key::Esc);
    assert!(at.story.said().contains("The folder cannot be read now"), "{}", at.story.said());
    std::fs::rename(&away, &place).unwrap();
    at.until("it is kept again", |desk| desk.waiting == 0 && desk.gone.is_none());
    let text = std::fs::read_to_string(place.join("cards/M001/wren.yaml")).unwrap();
    assert!(text.contains("scores: \"5 4 5 4 4 3\""), "{text}");
    // Away for good: what was typed is put aside on this computer, and said.
    at.press(Key::Char('/'));
    at.enter("M001");
    std::fs::rename(&place, &away).unwrap();
    at.keys("6");
    let told = at.leave();
    assert!(told.len() == 1 && told[0].contains("kept-aside"), "{told:?}");
    let aside = std::fs::read_to_string(folder.path().join("shelf/kept-aside/M001-wren.yaml")).unwrap();
    assert!(aside.contains("scores: \"5 4 5 4 4 3 6\""), "{aside}");
}

#[derive(Default)]
struct Full(AtomicBool);

impl Faults for Full {
    fn before(&self, step: Step, _: &Path) -> Option<Fault> {
        let full = self.0.load(Ordering::SeqCst);
        matches!(step, Step::Write(_)).then_some(Fault::Fails(ErrorKind::StorageFull)).filter(|_| full)
    }
}

#[test]
fn a_disk_that_fills_is_said_and_tried_again() {
    let (folder, list) = before_the_day();
    let full = Arc::new(Full::default());
    let disk = Disk::with_faults(full.clone());
    let mut at = At::store(Store::on_disk(Shelf::at(folder.path().join("shelf")), disk), folder.path());
    enter_the_field(&mut at, &list);
    at.press(Key::Char('n'));
    at.enter("wren");
    full.0.store(true, Ordering::SeqCst);
    at.press(Key::Char('/'));
    at.enter("M001");
    at.keys("5 4 5");
    at.until("it is said", |desk| desk.trouble.as_ref().is_some_and(|t| t.contains("disk is full")));
    full.0.store(false, Ordering::SeqCst);
    at.kept();
    assert!(folder.path().join("cards/M001/wren.yaml").is_file());
}

#[test]
fn a_list_with_a_mistake_changes_nothing_and_says_where() {
    let (folder, list) = before_the_day();
    let text = std::fs::read_to_string(&list).unwrap();
    let bad = folder.path().join("bad.csv");
    std::fs::write(&bad, text.replacen(";9,7;", ";9,75;", 1)).unwrap();
    let mut at = At::folder(folder.path());
    at.press(Key::Char('F'));
    at.enter(&bad.display().to_string());
    at.until("it is refused", |desk| desk.form.as_ref().is_some_and(|form| !form.refused.is_empty()));
    let said = at.story.said();
    assert!(said.contains("bad.csv:2:") && said.contains("too many decimals"), "{said}");
    assert!(at.desk().board.as_ref().unwrap().field.is_empty());
    at.press(Key::Esc);
    assert!(at.desk().form.is_none());
}

#[test]
fn the_live_part_says_what_the_leader_needs_and_lines_explain_themselves() {
    let folder = tempfile::tempdir().unwrap();
    copy(&medal(), folder.path());
    std::fs::remove_dir_all(folder.path().join("cards/M041")).unwrap();
    let mut at = At::folder(folder.path());
    at.keys("Tab");
    // M014 leads division A with net 61; M041 plays off 4 with men's par 72: 72 − … by hand below.
    let said = at.story.said();
    assert!(said.contains("In the clubhouse: ") && said.contains("with net 61"), "{said}");
    let strokes = at.desk().board.as_ref().unwrap().card("M041", 0).unwrap().sheet.playing.unwrap();
    let row = at.desk().board.as_ref().unwrap().card("M041", 0).unwrap().name.clone();
    assert!(said.contains(&format!("{row}: gross {} passes, {} ties", 60 + strokes, 61 + strokes)), "{said}");
    at.keys("Enter");
    at.until("the proof is shown", |desk| desk.text.is_some());
    let said = at.story.said();
    assert!(said.contains("Proof of place: M014") && said.contains("tie: ") && said.contains("last 9"), "{said}");
}

#[test]
fn every_page_looks_right_at_every_usual_size() {
    let folder = tempfile::tempdir().unwrap();
    copy(&medal(), folder.path());
    let mut at = At::folder(folder.path());
    for (width, height, depth, ascii) in [
        (120, 36, Depth::True, false),
        (80, 24, Depth::Sixteen, false),
        (60, 20, Depth::None, false),
        (60, 20, Depth::None, true),
        (20, 6, Depth::None, false),
    ] {
        at.story.state.size = (width, height);
        at.story.state.looks = Looks { depth, ascii, light: false };
        for part in Part::ALL {
            at.go_to_cards();
            while at.desk().part != part {
                at.press(Key::Tab);
            }
            let screen = at.story.screen();
            assert!(!ascii || screen.is_ascii(), "{screen}");
            if height >= 20 {
                assert!(
                    screen.contains(&format!("[{}", part.title())) && screen.contains("84 cards"),
                    "{part:?}\n{screen}"
                );
            }
        }
        at.go_to_cards();
        at.press(Key::Char('v'));
        let screen = at.story.screen();
        if height >= 20 {
            assert!(
                screen.contains("wren") && screen.contains("isla") && screen.contains("119") == screen.contains("M055"),
                "{screen}"
            );
        }
        at.press(Key::Esc);
    }
    assert_eq!(at.story.state.page(), Page::Desk);
}

#[test]
fn without_a_competition_the_desk_says_what_to_do() {
    let mut story = Story::example(80, 24);
    story.keys("D");
    assert!(story.effects.contains(&Effect::Desk(DeskAsk::Open(None))));
    update(
        &mut story.state,
        Msg::Desk(Box::new(DeskNews::NotOpened("There is no competition on the shelf: N makes one".to_owned()))),
    );
    assert!(story.said().contains("N makes one"), "{}", story.said());
    story.keys("N");
    for c in "Spring Medal".chars() {
        story.press(Key::Char(c));
    }
    story.keys("Enter");
    assert!(story.effects.contains(&Effect::Desk(DeskAsk::New("Spring Medal".to_owned()))));
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), target).unwrap();
        }
    }
}
