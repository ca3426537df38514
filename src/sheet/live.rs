//! The live state of a round in its format: where each side stands after every hole, in the format's own words.

use crate::handicap::{Play, Scoring, Sides};
use crate::scoring::{Count, Format, HoleValue, Side, Standing};

/// The last holes of a round on which it is said what is still needed.
const CHASE_FROM: usize = 9;

/// A round in its format.
#[derive(Clone, Debug, PartialEq)]
pub struct LiveCard {
    /// The format.
    pub play: Play,
    /// What it is played by, in words: `95 % allowance`.
    pub terms: String,
    /// The figure that is compared, net or gross: `points, strokes received taken off`.
    pub compares: &'static str,
    /// Gross scores are compared.
    pub gross: bool,
    /// What an empty hole means.
    pub empty_hole: &'static str,
    /// The word before the row of each side, where the format has a row of its own.
    pub row: Option<&'static str>,
    /// Whether the row stands once under the balls of a side, and not under each ball.
    pub whole_side: bool,
    /// The sides in the order of the card.
    pub sides: Vec<LiveSide>,
    /// How many holes the round has, without extra holes.
    pub holes: usize,
}

/// Where a side stands.
#[derive(Clone, Debug, PartialEq)]
pub struct LiveSide {
    /// Who plays on it, as places among the players.
    pub players: Vec<usize>,
    /// Their names.
    pub name: String,
    /// What each hole brought, as the row of the format shows it; empty while it is open.
    pub marks: Vec<String>,
    /// The figure of the row as it stands.
    pub figure: String,
    /// The balls of the side that counted on each hole, a bit for each.
    pub counted: Vec<u8>,
    /// The state after each hole in the format's words; the same as before it where nothing was decided.
    pub after: Vec<String>,
    /// The state now.
    pub now: String,
    /// What is still needed for the level score, on the last holes.
    pub needs: Option<String>,
    /// What is still possible.
    pub possible: String,
    /// Where it stands, as figures.
    pub standing: Standing,
    /// Which partner plays from each tee, where that alternates: the place in `players` if the first one began.
    pub tees: Vec<Option<usize>>,
}

/// Who is on a side, and their names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SideName {
    /// Places among the players.
    pub players: Vec<usize>,
    /// Their names.
    pub name: String,
}

impl LiveCard {
    /// The state of `sides` by the rules of a format; `names` in the same order.
    pub fn new(rules: &dyn Format, terms: String, sides: &[Side], names: Vec<SideName>) -> Self {
        let play = rules.play();
        let row = row_of(play);
        let sides: Vec<LiveSide> =
            names.into_iter().enumerate().map(|(side, name)| live_side(rules, sides, side, name)).collect();
        Self {
            play,
            terms,
            compares: rules.compares(),
            gross: rules.terms().count == Count::Gross,
            empty_hole: rules.empty_hole(),
            row,
            whole_side: play.players() > 1 && !play.one_ball(),
            sides,
            holes: rules.terms().holes,
        }
    }

    /// The side on which a player is.
    pub fn side_of(&self, player: usize) -> Option<&LiveSide> {
        self.sides.iter().find(|side| side.players.contains(&player))
    }

    /// Whether nothing can change it any more.
    pub fn is_over(&self) -> bool {
        self.sides.iter().all(|side| side.standing.over)
    }

    /// Whether it is a match that is decided while holes are left, or won on an extra hole.
    pub fn is_won(&self) -> bool {
        self.play.scoring == Scoring::Match && self.is_over()
    }
}

/// The row that a format adds to the card; a single ball in stroke play or Stableford has its row already.
const fn row_of(play: Play) -> Option<&'static str> {
    match (play.scoring, play.players() > 1 && !play.one_ball()) {
        (Scoring::Match, _) => Some("match"),
        (Scoring::ParBogey, _) => Some("target"),
        (Scoring::Maximum, _) => Some("counts"),
        (Scoring::Stroke | Scoring::Stableford, true) => Some("side"),
        (Scoring::Stroke | Scoring::Stableford, false) => None,
    }
}

fn live_side(rules: &dyn Format, sides: &[Side], side: usize, name: SideName) -> LiveSide {
    let longest = sides.iter().map(Side::len).max().unwrap_or(0);
    let standing = rules.standing(sides, side, usize::MAX);
    let is_match = rules.play().scoring == Scoring::Match;
    let mut marks = Vec::with_capacity(longest);
    let mut counted = Vec::with_capacity(longest);
    let mut ended = false;
    for at in 0..longest {
        let result = rules.hole(sides, side, at);
        counted.push(result.counted);
        let mark = match result.value {
            HoleValue::Open => String::new(),
            _ if ended => String::new(),
            _ if is_match => up_mark(rules.standing(sides, side, at + 1).figure.unwrap_or(0)),
            HoleValue::NoScore => "x".to_owned(),
            HoleValue::Strokes(figure) | HoleValue::Points(figure) => figure.to_string(),
            HoleValue::Won => "+".to_owned(),
            HoleValue::Tied => "0".to_owned(),
            HoleValue::Lost => "-".to_owned(),
        };
        marks.push(mark);
        ended = ended || is_match && rules.standing(sides, side, at + 1).over;
    }
    let after = (0..longest).map(|at| rules.words(sides, side, at + 1)).collect();
    let asked = !standing.over && standing.decided > 0 && standing.left <= CHASE_FROM;
    let needs = asked.then(|| rules.chase(sides, side, level(rules, sides, side))).flatten();
    let figure = match (standing.figure, standing.decided) {
        (_, 0) => String::new(),
        (None, _) => "none".to_owned(),
        (Some(figure), _) if matches!(rules.play().scoring, Scoring::Match) => up_mark(figure),
        (Some(figure), _) if rules.play().scoring == Scoring::ParBogey && figure > 0 => format!("+{figure}"),
        (Some(figure), _) => figure.to_string(),
    };
    LiveSide {
        players: name.players,
        name: name.name,
        marks,
        figure,
        counted,
        after,
        now: rules.words(sides, side, usize::MAX),
        needs,
        possible: rules.possible(sides, side),
        standing,
        tees: (0..longest).map(|at| rules.on_the_tee(at)).collect(),
    }
}

/// `2u`, `1d`, `=`: up, down and level as a row of the card has room for.
fn up_mark(figure: i32) -> String {
    match figure {
        0 => "=".to_owned(),
        up if up > 0 => format!("{up}u"),
        down => format!("{}d", -down),
    }
}

/// The figure of a side that plays to its handicap: what people ask of the last holes.
fn level(rules: &dyn Format, sides: &[Side], side: usize) -> i32 {
    let terms = rules.terms();
    let balls = match rules.play().sides {
        Sides::BestOfFour(count) => i32::from(count),
        Sides::TotalOfTwo => 2,
        _ => 1,
    };
    let holes = i32::try_from(terms.holes).unwrap_or(18);
    match rules.play().scoring {
        Scoring::Match | Scoring::ParBogey => 0,
        Scoring::Stableford => 2 * holes * balls,
        Scoring::Stroke | Scoring::Maximum => {
            let card = sides.get(side).and_then(|side| side.balls.first());
            let par: i32 = card.map_or(0, |ball| ball.holes.iter().take(terms.holes).map(|h| i32::from(h.par)).sum());
            par * balls
        }
    }
}
