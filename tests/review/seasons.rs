//! Three invented players with a season each, played out by the program's own solver and written through its own rounds.
//!
//! What each does wrong is put in here and nowhere else; the review has to find it.

use marram::course::Card;
use marram::ground::Point;
use marram::pattern::putts::MOST_PUTTS;
use marram::pattern::{Lie, Pattern, Putts, Skill, Swing};
use marram::plan::Aimed;
use marram::review::chance::Dice;
use marram::review::simulate::{Played, Plays, play_hole};
use marram::review::stage::{REVIEWED, Stage};
use marram::round::{Detail, Event, Kind, Place};
use marram::scoring::HoleScore;
use marram::session::RoundWish;
use marram::shelf::{self, Wanted};
use marram::store::{Shelf, Store, TextOf};
use marram::strategy::{Kit, Play, Solution, Stand, Worth};
use rayon::prelude::*;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// What a player really does, beside what their file says.
#[derive(Clone, Copy, Debug, Default)]
pub struct Truth {
    /// Every driver finishes so much right of its aim, as a share of its length.
    pub driver_right: f64,
    /// The 7 iron really goes this share of what the file says.
    pub seven_iron: Option<f64>,
    /// Direction of putts is so many times worse.
    pub putts: Option<f64>,
    /// Takes the 7 iron from every tee of a par 4 or 5, whatever the plan says.
    pub afraid_of_the_driver: bool,
}

/// One invented player.
pub struct Invented {
    pub name: &'static str,
    pub file: &'static str,
    pub tee: &'static str,
    pub truth: Truth,
    pub seed: u64,
}

/// Drives that finish right, and nothing else.
pub const ORLA: Invented = Invented {
    name: "Orla Fenwick",
    file: "format: player/1\nname: Orla Fenwick\nhandicap: { index: 12.0, ratings: men }\nunits: yards\n",
    tee: "Club",
    truth: Truth { driver_right: 0.07, seven_iron: None, putts: None, afraid_of_the_driver: false },
    seed: 41,
};

/// Putts badly, and nothing else.
pub const TAM: Invented = Invented {
    name: "Tam Oxley",
    file: "format: player/1\nname: Tam Oxley\nhandicap: { index: 8.0, ratings: men }\nunits: yards\n",
    tee: "Club",
    truth: Truth { driver_right: 0.0, seven_iron: None, putts: Some(1.7), afraid_of_the_driver: false },
    seed: 42,
};

/// Takes the 7 iron from every tee, and believes in a longer one than there is.
pub const JESS: Invented = Invented {
    name: "Jess Marlow",
    file: "format: player/1\nname: Jess Marlow\nhandicap: { index: 20.0, ratings: men }\nunits: yards\n",
    tee: "Club",
    truth: Truth { driver_right: 0.0, seven_iron: Some(0.88), putts: None, afraid_of_the_driver: true },
    seed: 43,
};

struct Player<'t> {
    truth: &'t Truth,
    pattern: &'t Pattern,
    putts: &'t Putts,
    long_hole: bool,
}

impl Player<'_> {
    fn is(&self, swing: &Swing, name: &str) -> bool {
        self.pattern.clubs.get(swing.club).is_some_and(|c| c.name == name)
    }
}

impl Plays for Player<'_> {
    fn choose(&mut self, solution: &Solution<'_>, stand: Stand, first: &Play) -> Play {
        if self.truth.afraid_of_the_driver && self.long_hole && stand.lie == Lie::Tee {
            let iron = self.pattern.swings(stand.lie).iter().find(|s| s.full && self.is(s, "7 iron"));
            if let Some(swing) = iron
                && let Some(play) = solution.marked(stand, swing.club, swing.total, solution.hole().pin)
            {
                return play;
            }
        }
        first.clone()
    }

    fn swing(&mut self, meant: &Swing) -> Swing {
        let mut real = meant.clone();
        if let Some(share) = self.truth.seven_iron
            && self.is(meant, "7 iron")
        {
            real.total *= share;
        }
        real
    }

    fn bias(&mut self, meant: &Swing) -> f64 {
        if self.is(meant, "driver") { self.truth.driver_right } else { 0.0 }
    }

    fn putts(&mut self, solution: &Solution<'_>, at: Point) -> [f64; MOST_PUTTS] {
        let pin = solution.hole().pin;
        if self.truth.putts.is_some() {
            self.putts.chances(at.distance(pin))
        } else {
            solution.hole().green.chances(at)
        }
    }
}

/// Plays `rounds` rounds of a season on Corvane Links and writes them on the shelf `folder`.
pub fn make(folder: &Path, who: &Invented, rounds: usize) {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses");
    std::fs::create_dir_all(folder.join("players")).unwrap();
    let course = folder.join("corvane.yaml");
    std::fs::copy(samples.join("corvane.yaml"), &course).unwrap();
    let player = folder.join("players").join(format!("{}.yaml", marram::round::slug(who.name)));
    std::fs::write(&player, who.file).unwrap();
    let wanted = Wanted { players: vec![(player, Some(who.tee.to_owned()))], ..Wanted::default() };
    let first = shelf::open_course(&course, &wanted, "2026-03-01").unwrap();
    let index = f64::from(first.golfers[0].index.unwrap().value().tenths()) / 10.0;
    let skill = Skill::of_index(index, Card::Men);
    let pattern = Pattern::of(&first.people[0].bag, &skill);
    let putts = Putts::new(skill.putt_deg * who.truth.putts.unwrap_or(1.0), marram::pattern::putts::PACE_SPREAD);
    let kit = Arc::new(Kit::new(pattern.clone(), REVIEWED));
    let never = AtomicBool::new(false);
    let holes: Vec<Vec<Played>> = (0..first.order.len())
        .into_par_iter()
        .map(|position| {
            let question = first.question(position, 0, None, Aimed::Strokes, first.golfers[0].units).unwrap();
            let long_hole = question.par >= 4;
            let stage = Stage::new(question, kit.clone()).unwrap();
            stage
                .solved(&Worth::Strokes, &never, |solution| {
                    let mut player = Player { truth: &who.truth, pattern: &pattern, putts: &putts, long_hole };
                    let mut dice = Dice::new(who.seed * 1000 + position as u64);
                    (0..rounds).map(|_| play_hole(&stage, &solution, &mut player, &mut dice)).collect()
                })
                .unwrap()
        })
        .collect();
    let store = Store::new(Shelf::at(folder));
    for number in 0..rounds {
        let date = format!("2026-{:02}-{:02}", 3 + number / 28, 1 + number % 28);
        let open = shelf::open_course(&course, &wanted, &date).unwrap();
        let wish = RoundWish { kind: Some(Kind::Practice), ..RoundWish::default() };
        let mut begun = shelf::begin(&store, &open, &wish, Box::new(|_| {})).unwrap();
        let texts = shelf::keep_texts(&begun.session);
        begun.round.happen(&Event::Texts(texts.iter().map(TextOf::stored).collect())).unwrap();
        begun.round.log.keep_texts(texts);
        for (position, played) in holes.iter().enumerate() {
            let place = Place { player: 0, position };
            let played = &played[number];
            begun.round.happen(&Event::Detail { place, set: Detail::Shots(played.log.clone()) }).unwrap();
            let score = played.score.and_then(HoleScore::gross_of).unwrap_or(HoleScore::PickedUp);
            begun.round.happen(&Event::Score { place, score }).unwrap();
        }
        begun.round.happen(&Event::Closed).unwrap();
        begun.round.log.finish().unwrap();
    }
}
