//! The round log: what a replay makes of whole, torn, damaged and doubly written logs; undo and redo against a model.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use marram::course::model::Card;
use marram::round::*;
use marram::units::digest::Digest;
use proptest::prelude::*;

/// An opening record for `players` players over `holes` holes.
fn opening(players: usize, holes: u8) -> Opening {
    let player = |n: usize| Entrant {
        name: format!("Player {n}"),
        file: None,
        tee: "Club".to_owned(),
        card: if n.is_multiple_of(2) { Card::Men } else { Card::Women },
        handicap_index: Some("14.6".to_owned()),
        course_handicap: Some(15),
        playing_handicap: Some(14),
        strokes: vec![1; usize::from(holes)],
    };
    Opening {
        format: LOG_FORMAT.to_owned(),
        id: RoundId::next("2026-05-16", "Corvane Links", |_| false),
        date: "2026-05-16".to_owned(),
        course_name: "Corvane Links".to_owned(),
        course: FileRef { file: "corvane.yaml".to_owned(), digest: Digest::of(b"notebook") },
        layers: vec![],
        day: None,
        kind: Kind::Practice,
        play: Some("stableford".to_owned()),
        allowance: Some(95),
        holes: (1..=holes).collect(),
        players: (0..players).map(player).collect(),
        terms: RoundTerms::default(),
        no_distance_devices: false,
    }
}

/// A log as it is written: state, chain and bytes go together.
struct Written {
    state: RoundState,
    chain: Chain,
    bytes: Vec<u8>,
    clock: u32,
}

impl Written {
    fn new(players: usize, holes: u8) -> Self {
        let opening = opening(players, holes);
        let mut new = Self {
            state: RoundState::open(opening.clone()).unwrap(),
            chain: Chain::default(),
            bytes: vec![],
            clock: 0,
        };
        new.line(&Event::Opened(Box::new(opening)));
        new
    }

    fn line(&mut self, event: &Event) -> u64 {
        self.clock += 1;
        let at = format!("2026-05-16T09:{:02}:{:02}+01:00", self.clock / 60 % 60, self.clock % 60);
        let (seq, line) = self.chain.write(&at, event).unwrap();
        self.bytes.extend_from_slice(line.as_bytes());
        seq
    }

    fn happen(&mut self, event: Event) {
        let seq = self.state.apply(&event).unwrap();
        assert_eq!(self.line(&event), seq, "state and chain count alike");
    }

    fn key(&mut self, c: char) {
        let event = self.state.enter(ScoreKey::of(c).unwrap(), self.state.place()).unwrap();
        self.happen(event);
    }

    fn keys(&mut self, keys: &str) {
        keys.chars().for_each(|c| self.key(c));
    }

    fn undo(&mut self) {
        self.happen(self.state.undo().unwrap());
    }

    fn text(&self) -> String {
        String::from_utf8(self.bytes.clone()).unwrap()
    }
}

fn at(player: usize, position: usize) -> Place {
    Place { player, position }
}

/// The scores of one player as they are typed.
fn scores(state: &RoundState, player: usize) -> String {
    let text = |b: &CardBox| match b.score {
        HoleScore::Empty => "_".to_owned(),
        HoleScore::Gross(strokes) => strokes.to_string(),
        HoleScore::PickedUp => "x".to_owned(),
        HoleScore::NotPlayed => ".".to_owned(),
    };
    state.card_of(player).iter().map(text).collect::<Vec<_>>().join(" ")
}

fn problems(read: &Replay) -> Vec<Problem> {
    read.problems.iter().map(|p| p.what.clone()).collect()
}

#[test]
fn six_holes_one_changed_and_undone_resume_on_the_seventh_tee() {
    let mut log = Written::new(1, 18);
    log.keys("454634");
    let change = log.state.enter(ScoreKey::Digit(7), at(0, 2)).unwrap();
    log.happen(change);
    assert_eq!(log.state.place(), at(0, 3), "a correction moves on too");
    log.undo();
    let read = replay(&log.bytes);
    assert_eq!(read.problems, []);
    let state = read.state.unwrap();
    assert_eq!(state, log.state);
    assert!(scores(&state, 0).starts_with("4 5 4 6 3 4 _ _"));
    assert_eq!(state.resume(), at(0, 6));
    assert_eq!(state.redo().unwrap(), Event::Redo { of: 8 }, "redo survives the restart");
}

#[test]
fn digits_go_to_the_next_player_then_the_next_hole() {
    let mut log = Written::new(3, 2);
    log.keys("45");
    assert_eq!(log.state.place(), at(2, 0));
    assert_eq!(log.state.resume(), at(2, 0), "one player is still missing on the first hole");
    log.keys("x.9+");
    assert_eq!(log.state.place(), at(2, 1));
    log.keys("5");
    assert_eq!(log.state.place(), at(2, 1), "the last box stays");
    assert!(log.state.is_full());
    assert_eq!([0, 1, 2].map(|p| scores(&log.state, p)), ["4 .", "5 10", "x 5"].map(str::to_owned));
}

#[test]
fn plus_raises_the_score_just_entered() {
    let mut log = Written::new(1, 18);
    log.keys("9++");
    assert!(scores(&log.state, 0).starts_with("11 _"));
    assert_eq!(log.state.place(), at(0, 1));
    log.happen(Event::MovedTo(at(0, 5)));
    assert_eq!(replay(&log.bytes).state.unwrap().resume(), at(0, 5), "where the player went");
    assert_eq!(
        log.state.enter(ScoreKey::Raise, at(0, 5)),
        Err(NotPossible::NoScoreToRaise),
        "after a move, not the score of another hole"
    );
    assert_eq!(log.state.enter(ScoreKey::Digit(0), at(0, 5)), Err(NotPossible::Zero));
    let raised = log.state.enter(ScoreKey::Raise, at(0, 0)).unwrap();
    log.happen(raised);
    assert!(scores(&log.state, 0).starts_with("12 _"));
    for _ in 12..50 {
        log.key('+');
    }
    assert_eq!(log.state.enter(ScoreKey::Raise, at(0, 0)), Err(NotPossible::TooMany));
}

#[test]
fn details_stand_beside_the_score_and_are_undone_alone() {
    let mut log = Written::new(2, 3);
    log.keys("4");
    for set in
        [Detail::Conceded(true), Detail::PenaltyStrokes(1), Detail::Note("drop left of Kettle\n\u{1b}[2J".to_owned())]
    {
        log.happen(Event::Detail { place: at(0, 0), set });
    }
    let read = replay(&log.bytes).state.unwrap();
    let card_box = read.card_box(at(0, 0)).unwrap();
    assert!(card_box.conceded && card_box.penalty_strokes == 1 && card_box.note.starts_with("drop"));
    log.undo();
    log.undo();
    let card_box = log.state.card_box(at(0, 0)).unwrap();
    assert_eq!((card_box.penalty_strokes, card_box.note.as_str()), (0, ""));
    assert!(card_box.conceded);
    assert_eq!(card_box.score, HoleScore::Gross(4));
}

#[test]
fn a_closed_card_takes_nothing_until_it_is_opened_again() {
    let mut log = Written::new(1, 2);
    log.keys("45");
    log.happen(Event::Closed);
    let state = &log.state;
    assert_eq!(state.enter(ScoreKey::Digit(4), at(0, 0)), Err(NotPossible::Closed));
    assert_eq!(state.undo(), Err(NotPossible::Closed));
    let mut copy = state.clone();
    let score = Event::Score { place: at(0, 0), score: HoleScore::Gross(4) };
    assert_eq!(copy.apply(&score), Err(NotPossible::Closed));
    assert_eq!(&copy, state, "a refused event changes nothing");
    log.happen(Event::Reopened { why: "the sixth was a five".to_owned() });
    log.undo();
    assert_eq!(scores(&log.state, 0), "4 _");
    assert_eq!(replay(&log.bytes).state.unwrap(), log.state);
}

#[test]
fn the_readable_card_says_what_was_entered() {
    let mut log = Written::new(2, 3);
    log.keys("45x.");
    log.happen(Event::Detail { place: at(1, 0), set: Detail::Note("lost ball: yes # no".to_owned()) });
    log.happen(Event::Closed);
    let card = RoundCard::of(&log.state);
    let text = card.to_yaml().unwrap();
    assert!(text.contains("scores: 4 x _"), "{text}");
    assert!(text.contains("scores: 5 . _"), "{text}");
    assert_eq!(serde_yaml::from_str::<RoundCard>(&text).unwrap(), card, "what is written reads back");
}

#[test]
fn a_clock_set_back_changes_no_order() {
    let mut log = Written::new(1, 18);
    log.keys("4");
    log.clock = 0;
    log.keys("5");
    let read = replay(&log.bytes);
    assert_eq!(problems(&read), [Problem::ClockBack]);
    assert!(!read.problems[0].loses_something());
    assert_eq!(read.state.unwrap(), log.state);
}

#[test]
fn a_log_torn_at_any_byte_loses_its_last_line_alone() {
    let mut log = Written::new(2, 18);
    log.keys("45x6");
    log.undo();
    let mut states = vec![];
    let mut ends = vec![];
    let mut start = 0;
    for line in log.text().split_inclusive('\n') {
        start += line.len();
        ends.push(start);
        states.push(replay(&log.bytes[..start]).state);
    }
    for cut in 0..=log.bytes.len() {
        let read = replay(&log.bytes[..cut]);
        // A line that lacks only its line end proves itself and counts.
        let whole = ends.iter().filter(|end| cut + 1 >= **end).count();
        assert_eq!(read.state, whole.checked_sub(1).and_then(|n| states[n].clone()), "cut at {cut}");
        if whole == 0 {
            assert_eq!(problems(&read), [Problem::NoOpening]);
            continue;
        }
        let end = ends[whole - 1];
        assert_eq!(read.wants_line_end, cut + 1 == end, "cut at {cut}");
        assert_eq!(read.kept_bytes, end.min(cut));
        let torn = cut.saturating_sub(end);
        let expected = if torn > 0 { vec![Problem::Torn { bytes: torn }] } else { vec![] };
        assert_eq!(problems(&read), expected, "cut at {cut}");
        assert_eq!(read.chain.next_seq(), whole as u64 + 1);
    }
}

#[test]
fn a_damaged_line_in_the_middle_costs_itself_alone() {
    let mut log = Written::new(1, 18);
    log.keys("456789");
    let lines: Vec<String> = log.text().lines().map(str::to_owned).collect();
    for damaged in 1..lines.len() - 1 {
        let mut bad = lines.clone();
        bad[damaged] = bad[damaged].replace("\"at\"", "\"ad\"");
        let read = replay((bad.join("\n") + "\n").as_bytes());
        assert_eq!(read.problems, [LogProblem { line: damaged + 1, what: Problem::Damaged }]);
        assert_eq!(read.chain, log.chain, "the log goes on where it ended");
        let state = read.state.unwrap();
        for position in 0..6 {
            let lost = position + 1 == damaged;
            assert_eq!(state.card_of(0)[position].score.is_entered(), !lost);
        }
        assert_eq!(state.next_seq(), log.state.next_seq());
    }
    let mut gone = lines.clone();
    gone.drain(2..4);
    let read = replay((gone.join("\n") + "\n").as_bytes());
    assert_eq!(read.problems, [LogProblem { line: 3, what: Problem::Missing { from: 3, to: 4 } }]);
}

#[test]
fn an_undo_whose_line_was_lost_undoes_nothing_else() {
    let mut log = Written::new(1, 18);
    log.keys("456");
    log.undo();
    log.keys("7");
    let bad = log.text().replace("\"score\":6", "\"score\":8");
    let read = replay(bad.as_bytes());
    assert_eq!(problems(&read), [Problem::Damaged, Problem::DoesNotFit(NotPossible::NoSuchLine(4))]);
    assert_eq!(scores(&read.state.unwrap(), 0), scores(&log.state, 0));
}

#[test]
fn an_undo_out_of_its_order_gives_back_what_stood_there_then() {
    let mut log = Written::new(1, 18);
    for score in [4, 5] {
        log.happen(Event::Score { place: at(0, 0), score: HoleScore::Gross(score) });
    }
    let score_of = |read: Replay| read.state.unwrap().card_of(0)[0].score;
    for (event, expected) in
        [(Event::Undo { of: 3 }, 4), (Event::Undo { of: 2 }, 5), (Event::Redo { of: 2 }, 4), (Event::Undo { of: 2 }, 5)]
    {
        log.line(&event);
        let lines: Vec<String> = log.text().lines().map(str::to_owned).collect();
        // The first undo is lost, so that those after it reach past the change that it took back.
        let read = replay(lines.join("\n").replacen("\"undo\"", "\"undone\"", 1).as_bytes());
        if event != (Event::Undo { of: 3 }) {
            assert_eq!(score_of(read), HoleScore::Gross(expected), "after {event:?}");
        }
    }
}

#[test]
fn rubbish_between_and_zeros_at_the_end_are_told() {
    let mut log = Written::new(1, 18);
    log.keys("4");
    log.bytes.extend_from_slice(b"not a line\n");
    log.keys("5");
    log.bytes.extend_from_slice(&[0; 4096]);
    let read = replay(&log.bytes);
    assert_eq!(problems(&read), [Problem::Damaged, Problem::Torn { bytes: 4096 }]);
    assert_eq!(read.state.unwrap(), log.state);
}

#[test]
fn two_programs_on_one_log_lose_nothing_and_are_told() {
    for interleaved in [false, true] {
        let mut one = Written::new(1, 18);
        one.keys("44");
        let common = one.bytes.len();
        let mut two = Written { state: one.state.clone(), chain: one.chain.clone(), bytes: vec![], clock: 100 };
        one.keys("556");
        two.happen(Event::MovedTo(at(0, 8)));
        two.keys("66");
        two.undo();
        one.undo();
        let first: Vec<String> = one.text().split_inclusive('\n').map(str::to_owned).collect();
        let second: Vec<String> = two.text().split_inclusive('\n').map(str::to_owned).collect();
        let mut bytes = one.bytes[..common].to_vec();
        if interleaved {
            for (a, b) in first[3..].iter().zip(&second) {
                bytes.extend_from_slice(a.as_bytes());
                bytes.extend_from_slice(b.as_bytes());
            }
        } else {
            bytes.extend(first[3..].concat().bytes());
            bytes.extend(second.concat().bytes());
        }
        let read = replay(&bytes);
        let told = problems(&read);
        assert!(told.contains(&Problem::TwoSequences), "{told:?}");
        assert!(told.iter().all(|p| matches!(p, Problem::TwoSequences | Problem::ClockBack)), "{told:?}");
        let state = read.state.unwrap();
        assert_eq!(
            scores(&state, 0),
            "4 4 5 5 _ _ _ _ 6 _ _ _ _ _ _ _ _ _",
            "interleaved: {interleaved}; each undo reached its own program's line"
        );
        assert!(matches!(state.undo(), Err(NotPossible::WrittenTwice(_))));
        assert!(state.next_seq() > one.state.next_seq().max(two.state.next_seq()) - 1);
    }
}

#[test]
fn an_undo_of_one_program_spares_the_line_of_the_other_with_its_number() {
    let mut one = Written::new(1, 18);
    one.keys("4");
    let common = one.bytes.len();
    let mut two = Written { state: one.state.clone(), chain: one.chain.clone(), bytes: vec![], clock: 100 };
    one.keys("5");
    two.happen(Event::Score { place: at(0, 8), score: HoleScore::Gross(6) });
    let first = one.bytes.len();
    one.undo();
    let bytes = [&one.bytes[..first], &two.bytes, &one.bytes[first..]].concat();
    assert!(common < first);
    assert_eq!(scores(&replay(&bytes).state.unwrap(), 0), "4 _ _ _ _ _ _ _ 6 _ _ _ _ _ _ _ _ _");
}

#[test]
fn a_line_written_twice_counts_once() {
    let mut log = Written::new(1, 18);
    log.keys("45");
    let last = log.text().lines().last().unwrap().to_owned() + "\n";
    log.bytes.extend_from_slice(last.as_bytes());
    log.keys("6");
    let read = replay(&log.bytes);
    assert_eq!(problems(&read), [Problem::Repeated]);
    assert_eq!(read.state.unwrap(), log.state);
}

#[test]
fn changed_line_ends_are_no_damage() {
    let mut log = Written::new(2, 18);
    log.keys("45x");
    let read = replay(log.text().replace('\n', "\r\n").as_bytes());
    assert_eq!(read.problems, []);
    assert_eq!(read.state.unwrap(), log.state);
}

#[test]
fn a_later_marram_is_read_and_not_written() {
    let mut later = opening(1, 18);
    later.format = "round-log/1.1".to_owned();
    let line = Chain::default().write("2026-05-16T09:00:00Z", &Event::Opened(Box::new(later))).unwrap().1;
    let read = replay(line.as_bytes());
    assert!(read.read_only && read.state.is_some());
    assert_eq!(problems(&read), [Problem::LaterFormat("round-log/1.1".to_owned())]);

    let mut log = Written::new(1, 18);
    log.keys("4");
    let body = format!(
        r#"{{"seq":3,"prev":"{}","at":"2026-05-16T09:10:00Z","event":{{"shot":{{"club":"7 iron"}}}}"#,
        read_line(log.text().lines().last().unwrap().as_bytes()).unwrap().sum
    );
    let sum = Digest::of(body.as_bytes()).short(16);
    log.bytes.extend_from_slice(format!("{body},\"sum\":\"{sum}\"}}\n").as_bytes());
    let read = replay(&log.bytes);
    assert!(read.read_only);
    assert_eq!(problems(&read), [Problem::Unknown]);
    assert_eq!(read.chain.next_seq(), 4);
    assert_eq!(read.state.unwrap().next_seq(), 4, "state and chain count alike after a line that was passed over");
}

#[test]
fn an_opening_that_cannot_be_played_is_told() {
    let write = |opening: Opening| Chain::default().write("t", &Event::Opened(Box::new(opening))).unwrap().1;
    let mut bad = opening(1, 18);
    bad.players.clear();
    let read = replay(write(bad).as_bytes());
    assert!(read.state.is_none());
    assert!(read.problems[0].to_string().contains("1 to 4 players, not 0"), "{}", read.problems[0]);
    let mut bad = opening(2, 18);
    bad.players[1].strokes.pop();
    let read = replay(write(bad).as_bytes());
    assert!(read.problems[0].to_string().contains("Player 1 has strokes for 17 holes in a round of 18"));
    assert!(replay(b"format: course-notebook/1\n").state.is_none());
}

/// What a person does, for the property below.
#[derive(Clone, Debug)]
enum Act {
    Key(char),
    At(usize, usize, char),
    Note(usize, usize, String),
    Undo,
    Redo,
    Move(usize, usize),
    Close,
    Reopen,
    Restart,
}

fn act() -> impl Strategy<Value = Act> {
    let key = || prop::sample::select("123456789+x.".chars().collect::<Vec<_>>());
    prop_oneof![
        6 => key().prop_map(Act::Key),
        3 => (0..4usize, 0..9usize, key()).prop_map(|(p, h, c)| Act::At(p, h, c)),
        1 => (0..4usize, 0..9usize, any::<String>()).prop_map(|(p, h, n)| Act::Note(p, h, n)),
        4 => Just(Act::Undo),
        3 => Just(Act::Redo),
        1 => (0..4usize, 0..9usize).prop_map(|(p, h)| Act::Move(p, h)),
        1 => Just(Act::Close),
        1 => Just(Act::Reopen),
        1 => Just(Act::Restart),
    ]
}

/// The plainest model of undo: the list of card states gone through, and a finger on one of them.
struct Model {
    cards: Vec<Vec<Vec<CardBox>>>,
    finger: usize,
    closed: bool,
}

impl Model {
    fn change(&mut self, place: Place, set: impl Fn(&mut CardBox)) {
        self.cards.truncate(self.finger + 1);
        let mut card = self.cards[self.finger].clone();
        set(&mut card[place.player][place.position]);
        self.cards.push(card);
        self.finger += 1;
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn replay_and_undo_agree_with_a_plain_model(players in 1..=4usize, acts in prop::collection::vec(act(), 0..120)) {
        let mut log = Written::new(players, 9);
        let mut model = Model {
            cards: vec![vec![vec![CardBox::default(); 9]; players]],
            finger: 0,
            closed: false,
        };
        for act in acts {
            let event = match &act {
                Act::Key(c) => log.state.enter(ScoreKey::of(*c).unwrap(), log.state.place()),
                Act::At(p, h, c) => log.state.enter(ScoreKey::of(*c).unwrap(), at(*p, *h)),
                Act::Note(p, h, n) => Ok(Event::Detail { place: at(*p, *h), set: Detail::Note(n.clone()) }),
                Act::Undo => log.state.undo(),
                Act::Redo => log.state.redo(),
                Act::Move(p, h) => Ok(Event::MovedTo(at(*p, *h))),
                Act::Close => Ok(Event::Closed),
                Act::Reopen => Ok(Event::Reopened { why: String::new() }),
                Act::Restart => {
                    log.state = replay(&log.bytes).state.unwrap();
                    continue;
                }
            };
            let before = log.state.clone();
            let Some(event) = event.ok().filter(|e| log.state.apply(e).is_ok()) else {
                prop_assert_eq!(&before, &log.state);
                let refused_rightly = match &act {
                    Act::Undo => model.closed || model.finger == 0,
                    Act::Redo => model.closed || model.finger + 1 == model.cards.len(),
                    Act::At(p, ..) | Act::Note(p, ..) | Act::Move(p, _) => model.closed || *p >= players || matches!(act, Act::At(_, _, '+')),
                    Act::Key(c) => model.closed || *c == '+',
                    Act::Close => model.closed,
                    Act::Reopen => !model.closed,
                    Act::Restart => false,
                };
                prop_assert!(refused_rightly, "{:?} was refused", act);
                continue;
            };
            log.line(&event);
            match &event {
                Event::Score { place, score } => model.change(*place, |b| b.score = *score),
                Event::Detail { place, set: Detail::Note(n) } => model.change(*place, |b| b.note.clone_from(n)),
                Event::Undo { .. } => model.finger -= 1,
                Event::Redo { .. } => model.finger += 1,
                Event::Closed => model.closed = true,
                Event::Reopened { .. } => model.closed = false,
                _ => {}
            }
            for player in 0..players {
                prop_assert_eq!(log.state.card_of(player), &model.cards[model.finger][player][..]);
            }
            prop_assert_eq!(log.state.is_closed(), model.closed);
        }
        let read = replay(&log.bytes);
        prop_assert_eq!(&read.problems, &vec![]);
        prop_assert_eq!(read.chain, log.chain);
        prop_assert_eq!(read.state.unwrap(), log.state);
    }

    #[test]
    fn any_bytes_are_read_without_a_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let read = replay(&bytes);
        prop_assert!(read.state.is_none() && !read.problems.is_empty());
    }

    #[test]
    fn any_damage_to_a_log_leaves_the_other_lines(
        edits in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
    ) {
        let mut log = Written::new(2, 18);
        log.keys("45x6.789");
        let whole = replay(&log.bytes).state.unwrap();
        let mut bytes = log.bytes.clone();
        for (index, value) in &edits {
            let index = index.index(bytes.len());
            bytes[index] = *value;
        }
        let read = replay(&bytes);
        if let Some(state) = read.state {
            for player in 0..2 {
                for (now, then) in state.card_of(player).iter().zip(whole.card_of(player)) {
                    prop_assert!(now == then || !now.score.is_entered(), "no score is invented");
                }
            }
            if state != whole {
                prop_assert!(read.problems.iter().any(LogProblem::loses_something));
            }
        }
    }
}
