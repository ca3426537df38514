//! Rounds in a format for the stories: players on a course, the format, the round opened in memory.

use marram::round::{RoundId, RoundState};
use marram::session::{AskedPlay, Home, PlayWish, RoundWish, Session};
use marram::shelf::Load;
use marram::tui::story::{STORY_DAY, Story};

pub const WREN: &str = include_str!("../../sample-courses/players/wren-hallam.yaml");
pub const CALLUM: &str = include_str!("../../sample-courses/players/callum-reive.yaml");
pub const INES: &str = include_str!("../../sample-courses/players/ines-calder.yaml");
pub const TAMSIN: &str =
    "format: player/1\nname: Tamsin Orr\nhandicap: { index: 9.4, ratings: women }\nunits: yards\nhand: right\n";

const CORVANE: &str = include_str!("../../sample-courses/corvane.yaml");

/// Players with their tees on the sample links.
pub fn session(players: &[(&str, &str)]) -> Session {
    let mut load = Load::new(STORY_DAY);
    load.course("corvane.yaml", CORVANE.to_owned());
    for (i, (text, tee)) in players.iter().enumerate() {
        load.player(&format!("players/{i}.yaml"), (*text).to_owned(), Some(tee));
    }
    load.finish(Home::Files)
}

/// A round of `wish` for these players, opened.
pub fn round(players: &[(&str, &str)], wish: PlayWish) -> Session {
    let mut session = session(players);
    let id = RoundId::next(STORY_DAY, "Corvane Links", |_| false);
    let wish = RoundWish { kind: None, play: AskedPlay::Format(wish) };
    let opened = session.opening(id, STORY_DAY, &wish).unwrap();
    session.round = Some(RoundState::open(opened.opening).unwrap());
    session.refresh();
    session
}

/// The story of a round.
pub fn story(players: &[(&str, &str)], wish: PlayWish, width: u16, height: u16) -> Story {
    Story::of(round(players, wish), width, height)
}
