//! A round's format: who plays with whom, what handicaps follow, where each receives strokes.

use super::Session;
use crate::handicap::{
    Allowance, CourseHandicap, Play, Scoring, match_strokes, par_difference, recommended, team_handicap,
};
use crate::round::{Kind, RoundTerms};
use crate::scoring::MaximumScore;

/// Playing Handicaps of the players, and their strokes by hole.
type Allotted = (Vec<Option<i32>>, Vec<Vec<i32>>);

/// What a person asks of a round that is begun; what is not asked the day sheet says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RoundWish {
    /// What it is played for.
    pub kind: Option<Kind>,
    /// Its format.
    pub play: AskedPlay,
}

/// The format that is asked for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum AskedPlay {
    /// The day sheet's, else none.
    #[default]
    OfTheDay,
    /// None: strokes are counted, whatever the day sheet says.
    Plain,
    /// This one.
    Format(PlayWish),
}

/// A format with the Terms that are asked for; what is left out is as usual.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlayWish {
    /// The format.
    pub play: Play,
    /// The allowance; the recommended one when not given.
    pub allowance: Option<Allowance>,
    /// The maximum of Maximum Score; net double bogey when not given.
    pub maximum: Option<MaximumScore>,
    /// Gross scores are compared.
    pub gross: bool,
    /// A match that is tied after the round stands.
    pub tie_stands: bool,
    /// Who plays together, as places among the players; in their order when empty.
    pub sides: Vec<Vec<usize>>,
}

impl PlayWish {
    /// The format by its usual Terms.
    pub const fn usual(play: Play) -> Self {
        Self { play, allowance: None, maximum: None, gross: false, tie_stands: false, sides: Vec::new() }
    }
}

/// A format laid out for the players of a session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arranged {
    /// The format.
    pub play: Play,
    /// The allowance in per cent, where it is one figure.
    pub allowance: Option<u16>,
    /// The rest, as a round keeps it.
    pub terms: RoundTerms,
    /// The published table has the format; otherwise the nearest one's allowance was taken.
    pub in_the_table: bool,
    /// The Playing Handicap of each player, the side's where it has one ball; `None` without one.
    pub playing: Vec<Option<i32>>,
    /// Strokes received by each player in playing order.
    pub strokes: Vec<Vec<i32>>,
}

impl Session {
    /// The format that today's day sheet names, by its usual Terms; `None` when it names none.
    pub fn play_of_the_day(&self) -> Option<PlayWish> {
        let (day, _) = self.day.as_ref()?;
        Play::parse(day.play.as_deref()?).ok().map(PlayWish::usual)
    }

    /// Lays a format out for the players on their tees.
    ///
    /// # Errors
    /// Why it cannot be played so, in a sentence: players, sides, or a handicap that is missing.
    pub fn arrange(&self, wish: &PlayWish) -> Result<Arranged, String> {
        let play = wish.play;
        let sides = self.sides_for(wish)?;
        let usual = recommended(play);
        let allowance = wish.allowance.clone().unwrap_or_else(|| usual.allowance.clone());
        let given = wish.allowance.as_ref().is_some_and(|a| *a != usual.allowance);
        let (percent, shares) = match &allowance {
            _ if wish.gross => (None, Vec::new()),
            Allowance::Each(percent) | Allowance::Combined(percent) => (Some(u16::from(percent.value())), Vec::new()),
            Allowance::LowToHigh(shares) => (None, shares.iter().map(|s| s.value()).collect()),
        };
        let maximum = (play.scoring == Scoring::Maximum)
            .then(|| wish.maximum.clone().unwrap_or(MaximumScore::NetDoubleBogey).to_string());
        let (playing, strokes) = if wish.gross {
            let none = vec![0; self.order.len()];
            (vec![None; self.golfers.len()], vec![none; self.golfers.len()])
        } else {
            self.handicaps(play, &allowance, &sides)?
        };
        Ok(Arranged {
            play,
            allowance: percent,
            terms: RoundTerms {
                shares,
                allowance_given: given && !wish.gross,
                maximum,
                gross: wish.gross,
                tie_stands: wish.tie_stands && play.scoring == Scoring::Match,
                sides: if play.players() == 1 { Vec::new() } else { sides },
            },
            in_the_table: usual.in_the_table || given || wish.gross,
            playing,
            strokes,
        })
    }

    /// The sides that were asked for, or the players in their order; checked.
    fn sides_for(&self, wish: &PlayWish) -> Result<Vec<Vec<usize>>, String> {
        let (play, players) = (wish.play, self.golfers.len());
        let each = play.players();
        let sides: Vec<Vec<usize>> = if wish.sides.is_empty() {
            let all: Vec<usize> = (0..players).collect();
            all.chunks(each).map(<[usize]>::to_vec).collect()
        } else {
            wish.sides.clone()
        };
        let partners = if each == 1 { "one player".to_owned() } else { format!("{each} players") };
        let players = if players == 1 { "one player".to_owned() } else { format!("{players} players") };
        if sides.iter().any(|side| side.len() != each) {
            return Err(format!("in {play} a side has {partners}; this round has {players}"));
        }
        if play.scoring == Scoring::Match && sides.len() != 2 {
            return Err(format!("{play} is played between two sides of {partners}; this round has {players}"));
        }
        Ok(sides)
    }

    /// Playing Handicaps and strokes by hole.
    fn handicaps(&self, play: Play, allowance: &Allowance, sides: &[Vec<usize>]) -> Result<Allotted, String> {
        let pars: Vec<i32> = (0..self.golfers.len()).map(|player| self.par_of(player)).collect();
        let lowest = pars.iter().copied().min().unwrap_or(0);
        let difference = |player: usize| par_difference(play, pars.get(player).copied().unwrap_or(lowest), lowest);
        let course = |player: usize| -> Result<CourseHandicap, String> {
            let golfer = self.golfers.get(player).ok_or("a side names a player who is not in the round")?;
            let why = || golfer.why_no_strokes.clone().unwrap_or_else(|| format!("{} has no handicap", golfer.name));
            golfer.course_handicap.ok_or_else(why)
        };
        let mut playing: Vec<Option<i32>> = vec![None; self.golfers.len()];
        for side in sides {
            let one_ball = if let Allowance::Each(_) = allowance {
                None
            } else {
                let courses: Result<Vec<CourseHandicap>, String> = side.iter().map(|p| course(*p)).collect();
                let team = team_handicap(allowance, &courses?, &self.rules).map_err(|e| e.to_string())?;
                // The side adds the most of what its partners' tees would (6.2b for a side is the Committee's to say).
                Some(team.value() + side.iter().map(|p| difference(*p)).max().unwrap_or(0))
            };
            for player in side {
                let own = match (one_ball, allowance, course(*player)) {
                    (Some(side), ..) => Some(side),
                    (None, Allowance::Each(percent), Ok(course)) => {
                        Some(course.playing(*percent, difference(*player), &self.rules).value())
                    }
                    (None, _, Err(why)) if play.scoring == Scoring::Match => {
                        return Err(format!("{why}, and in a net match everybody needs a handicap"));
                    }
                    _ => None,
                };
                if let Some(slot) = playing.get_mut(*player) {
                    *slot = own;
                }
            }
        }
        let received: Vec<i32> = if recommended(play).off_the_lowest {
            match_strokes(&playing.iter().map(|p| p.unwrap_or(0)).collect::<Vec<_>>())
        } else {
            playing.iter().map(|p| p.unwrap_or(0)).collect()
        };
        let mut strokes = vec![vec![0; self.order.len()]; self.golfers.len()];
        for side in sides {
            for player in side {
                // One ball is played by the card of the side's first player.
                let card = if play.one_ball() { side.first().copied().unwrap_or(*player) } else { *player };
                let (Some(golfer), Some(count)) = (self.golfers.get(card), received.get(*player)) else { continue };
                if *count != 0
                    && let Some(slot) = strokes.get_mut(*player)
                {
                    *slot = golfer.strokes_of(*count)?;
                }
            }
        }
        Ok((playing, strokes))
    }

    /// Par of the round for a player; holes without one count nothing.
    fn par_of(&self, player: usize) -> i32 {
        let (Some(course), Some(golfer)) = (&self.course, self.golfers.get(player)) else { return 0 };
        let par = |number: &u8| course.hole(*number).and_then(|hole| hole.par.on(golfer.card));
        self.order.iter().filter_map(par).map(i32::from).sum()
    }
}
