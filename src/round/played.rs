//! The golf format of a round: its sides, whose boxes are filled, and the extra holes of a match.

use super::event::{Opening, Place};
use super::state::{CardBox, RoundState};
use crate::handicap::{Play, Scoring, recommended};
use crate::scoring::{Ball, CardHole, Count, Format, MaximumScore, Side, Terms, format};

/// The most extra holes of a match: once more round eighteen.
pub const MOST_EXTRA_HOLES: usize = 18;

/// Par of a hole where no figure against par is asked for: a match compares strokes alone.
const ANY_PAR: u8 = 4;

impl Opening {
    /// The format, when the round has one that this program knows.
    pub fn play(&self) -> Option<Play> {
        self.play.as_deref().and_then(|name| Play::parse(name).ok())
    }

    /// Who plays together, as places among the players; each alone where nothing else is said.
    pub fn sides(&self) -> Vec<Vec<usize>> {
        if self.terms.sides.is_empty() {
            (0..self.players.len()).map(|player| vec![player]).collect()
        } else {
            self.terms.sides.clone()
        }
    }

    /// Whether partners share one ball, and so one box on each hole.
    pub fn one_ball(&self) -> bool {
        self.play().is_some_and(Play::one_ball)
    }

    /// The player in whose boxes the score of `player` stands: the first of the side where it has one ball.
    pub fn holder(&self, player: usize) -> usize {
        if !self.one_ball() {
            return player;
        }
        let side = self.terms.sides.iter().find(|side| side.contains(&player));
        side.and_then(|side| side.first()).copied().unwrap_or(player)
    }

    /// The players whose boxes are filled, in the order of the card.
    pub fn holders(&self) -> Vec<usize> {
        (0..self.players.len()).filter(|player| self.holder(*player) == *player).collect()
    }

    /// The box in which the round begins: the first hole of the first player who has boxes.
    pub fn first_box(&self) -> Place {
        Place { player: self.holders().first().copied().unwrap_or(0), position: 0 }
    }

    /// The name over the boxes of `player`: the partners' where they share one ball.
    pub fn name_of_box(&self, player: usize) -> String {
        let side: Vec<usize> = if self.one_ball() {
            self.terms.sides.iter().find(|side| side.contains(&player)).cloned().unwrap_or_else(|| vec![player])
        } else {
            vec![player]
        };
        self.names(&side)
    }

    /// The names of players, joined as partners are.
    pub fn names(&self, players: &[usize]) -> String {
        let names: Vec<&str> = players.iter().filter_map(|p| self.players.get(*p)).map(|p| p.name.as_str()).collect();
        names.join(" & ")
    }

    /// What the format is played by, in words: `95 % allowance`, `gross`, `maximum net double bogey`; empty for a plain
    /// count.
    pub fn terms_words(&self) -> String {
        let Some(play) = self.play() else { return String::new() };
        let mut words = Vec::new();
        let shares: Vec<String> = self.terms.shares.iter().map(u8::to_string).collect();
        if self.terms.gross {
            words.push("gross, no strokes received".to_owned());
        } else if !shares.is_empty() {
            words.push(format!("handicap {} % low to high", shares.join("-")));
        } else if let Some(allowance) = self.allowance {
            words.push(format!("{allowance} % {}", if play.one_ball() { "of the partners' sum" } else { "allowance" }));
        }
        if self.terms.allowance_given
            && let Some(words) = words.last_mut()
        {
            words.push_str(&format!(" (set for this round; recommended {})", recommended(play).allowance));
        }
        if let (Scoring::Maximum, Some(maximum)) = (play.scoring, &self.terms.maximum) {
            words.push(format!("maximum {maximum}"));
        }
        if play.scoring == Scoring::Match && self.terms.tie_stands {
            words.push("a tie stands".to_owned());
        }
        words.join(", ")
    }

    /// Whether a tie after the round is played on.
    pub fn plays_on(&self) -> bool {
        self.play().is_some_and(|play| play.scoring == Scoring::Match) && !self.terms.tie_stands
    }

    /// Why nothing can be conceded here, in a sentence; `None` in a match.
    pub fn why_no_concession(&self) -> Option<String> {
        match self.play() {
            Some(play) if play.scoring == Scoring::Match => None,
            Some(play) => Some(format!("only in a match is a hole or a stroke conceded; in {play} x is picked up")),
            None => Some("only in a match is a hole or a stroke conceded; x is picked up".to_owned()),
        }
    }

    /// How many boxes a player has: the holes of the round, and room for the extra holes of a match.
    pub fn positions(&self) -> usize {
        self.holes.len() + if self.plays_on() { MOST_EXTRA_HOLES } else { 0 }
    }

    /// The number of the hole at `position`; extra holes begin again with the first hole of the round (the Committee may
    /// begin elsewhere).
    pub fn hole_at(&self, position: usize) -> Option<u8> {
        (position < self.positions()).then_some(())?;
        self.holes.get(position.checked_rem(self.holes.len())?).copied()
    }

    /// Strokes that a player receives at `position`; on an extra hole those of the hole as in the round.
    ///
    /// # References
    /// Rules of Handicapping, Appendix C (2024): on extra holes strokes are taken as allocated on the card.
    pub fn strokes_at(&self, player: usize, position: usize) -> i32 {
        let strokes = self.players.get(player).map_or(&[][..], |p| &p.strokes);
        position.checked_rem(self.holes.len()).and_then(|at| strokes.get(at)).copied().unwrap_or(0)
    }

    /// The rules of the format with the Terms of this round; `None` for a plain count.
    pub fn rules_of_play(&self) -> Option<Box<dyn Format>> {
        let play = self.play()?;
        let stated = self.terms.maximum.as_deref().and_then(|text| MaximumScore::parse(text).ok());
        let maximum = match play.scoring {
            Scoring::Maximum => Some(stated.unwrap_or(MaximumScore::NetDoubleBogey)),
            _ => None,
        };
        let terms = Terms {
            count: if self.terms.gross { Count::Gross } else { Count::Net },
            maximum,
            extra_holes: !self.terms.tie_stands,
            ..Terms::net(self.holes.len())
        };
        format(play, terms).ok()
    }
}

impl CardBox {
    /// Whether nothing more is awaited in this box: it has an entry, or its side gave the hole away.
    pub const fn is_settled(&self) -> bool {
        self.score.is_entered() || self.conceded
    }

    /// Whether the side gave the hole away.
    pub const fn gives_hole(&self) -> bool {
        self.conceded && !self.score.is_entered()
    }
}

impl RoundState {
    /// The sides with what is entered, `par` by player and position; the holes of the round and the extra ones that stand.
    pub fn sides(&self, par: impl Fn(usize, usize) -> u8) -> Vec<Side> {
        self.sides_over(self.order().len(), par)
    }

    fn sides_over(&self, positions: usize, par: impl Fn(usize, usize) -> u8) -> Vec<Side> {
        let opening = self.opening();
        let one_ball = opening.one_ball();
        let side_of = |players: &Vec<usize>| {
            let balls = players.iter().take(if one_ball { 1 } else { players.len() }).map(|player| Ball {
                holes: (0..positions)
                    .filter_map(|position| {
                        Some(CardHole {
                            number: opening.hole_at(position)?,
                            par: par(*player, position),
                            strokes: opening.strokes_at(*player, position),
                            score: self.card_of(*player).get(position).map(|b| b.score).unwrap_or_default(),
                        })
                    })
                    .collect(),
            });
            let mut side = Side::new(balls.collect());
            let gave = |position: &usize| {
                players.iter().any(|p| self.card_of(*p).get(*position).is_some_and(CardBox::gives_hole))
            };
            side.conceded = (0..positions).filter(gave).collect();
            side
        };
        opening.sides().iter().map(side_of).collect()
    }

    /// The holes by number in playing order: those of the round and, in a match that is tied after them, the extra holes
    /// up to the one that is played.
    pub fn order(&self) -> Vec<u8> {
        let opening = self.opening();
        let last = opening.holes.len() + self.extra_holes();
        (0..last).filter_map(|position| opening.hole_at(position)).collect()
    }

    /// How many extra holes stand on the card: none before a match is tied after its round, then those played and the
    /// one to come.
    pub fn extra_holes(&self) -> usize {
        let opening = self.opening();
        if !opening.plays_on() {
            return 0;
        }
        let Some(rules) = opening.rules_of_play() else { return 0 };
        let holes = opening.holes.len();
        let sides = self.sides_over(opening.positions(), |_, _| ANY_PAR);
        if rules.check(&sides).is_err() || rules.standing(&sides, 0, holes).left > 0 {
            return 0;
        }
        // Each extra hole that tied brings the next; an open one is the one in play.
        let tied = |extra: usize| rules.hole(&sides, 0, holes + extra - 1).value == crate::scoring::HoleValue::Tied;
        let mut extra = 0;
        while extra < MOST_EXTRA_HOLES && !rules.standing(&sides, 0, holes + extra).over && (extra == 0 || tied(extra))
        {
            extra += 1;
        }
        extra
    }

    /// Whether nothing more is awaited on the hole at `position`.
    pub fn is_settled_at(&self, position: usize) -> bool {
        self.first_empty_on(position).is_none()
    }

    /// The first player of the card whose box at `position` is empty; none where a side gave the hole away.
    pub(super) fn first_empty_on(&self, position: usize) -> Option<Place> {
        let holders = self.opening().holders();
        let at = |player: usize| self.card_of(player).get(position);
        if (0..self.opening().players.len()).any(|player| at(player).is_some_and(CardBox::gives_hole)) {
            return None;
        }
        let player = holders.into_iter().find(|player| at(*player).is_some_and(|b| !b.is_settled()))?;
        Some(Place { player, position })
    }
}
