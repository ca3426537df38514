//! How the balls of a side become the side's hole; one kind of side a file.

mod best_of_four;
mod four_ball;
mod foursomes;
mod greensomes;
mod scramble;
mod single;
mod total_of_two;

use crate::handicap::Sides;

/// What one ball brings to a hole, in the unit of the format.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum BallValue {
    /// Nothing entered.
    Empty,
    /// Entered, without a score that the format could use.
    NoScore,
    /// A figure.
    Figure(i32),
}

impl BallValue {
    const fn figure(self) -> Option<i32> {
        match self {
            BallValue::Figure(figure) => Some(figure),
            _ => None,
        }
    }

    const fn is_empty(self) -> bool {
        matches!(self, BallValue::Empty)
    }
}

/// What the side has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SideValue {
    /// Not known yet.
    Open,
    /// No score.
    NoScore,
    /// The figure and the balls it was made of, a bit for each.
    Figure(i32, u8),
}

/// Whether fewer or more is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Better {
    Less,
    More,
}

impl Better {
    fn beats(self, a: i32, b: i32) -> bool {
        match self {
            Better::Less => a < b,
            Better::More => a > b,
        }
    }
}

/// A kind of side.
pub(super) trait Partners: Send + Sync {
    /// What the side has of what its balls brought.
    fn side(&self, balls: &[BallValue], better: Better) -> SideValue;
    /// What a hole of the card needs, after "each hole needs".
    fn needs(&self) -> &'static str;
    /// Which partner plays from the tee, where that alternates.
    fn on_the_tee(&self, _at: usize) -> Option<usize> {
        None
    }
}

/// The rules of a kind of side.
pub(super) fn partners(sides: Sides) -> Box<dyn Partners> {
    match sides {
        Sides::Individual => Box::new(single::Single),
        Sides::FourBall => Box::new(four_ball::FourBall),
        Sides::Foursomes => Box::new(foursomes::Foursomes),
        Sides::Greensomes => Box::new(greensomes::Greensomes),
        Sides::Chapman => Box::new(greensomes::Chapman),
        Sides::Scramble(_) => Box::new(scramble::Scramble),
        Sides::BestOfFour(count) => Box::new(best_of_four::BestOfFour(usize::from(count))),
        Sides::TotalOfTwo => Box::new(total_of_two::TotalOfTwo),
    }
}

/// The sum of the best `count` figures: open until so many are known or every ball has an entry.
fn best(balls: &[BallValue], count: usize, better: Better) -> SideValue {
    let known = balls.iter().filter(|ball| ball.figure().is_some()).count();
    if known < count {
        let waiting = balls.is_empty() || balls.iter().any(|ball| ball.is_empty());
        return if waiting { SideValue::Open } else { SideValue::NoScore };
    }
    let (mut sum, mut counted) = (0, 0_u8);
    for _ in 0..count {
        let mut leader: Option<(usize, i32)> = None;
        for (at, figure) in balls.iter().enumerate().filter_map(|(at, ball)| Some((at, ball.figure()?))) {
            let taken = counted & bit(at) != 0;
            if !taken && leader.is_none_or(|(_, best)| better.beats(figure, best)) {
                leader = Some((at, figure));
            }
        }
        if let Some((at, figure)) = leader {
            sum += figure;
            counted |= bit(at);
        }
    }
    SideValue::Figure(sum, counted)
}

fn bit(ball: usize) -> u8 {
    u32::try_from(ball).ok().and_then(|ball| 1_u8.checked_shl(ball)).unwrap_or(0)
}
