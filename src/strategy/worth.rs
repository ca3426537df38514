//! What a hole score is worth. The solver knows nothing else of a format.

use std::fmt;

/// The value of every score that a hole can end with.
#[derive(Clone, Debug, PartialEq)]
pub enum Worth {
    /// Each stroke counts one, without end: the fewest are wanted.
    Strokes,
    /// A value by strokes taken, for as long as it changes.
    Table(Table),
}

/// A value by strokes taken; the last stands for every higher score.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    values: Vec<f64>,
}

/// Why a table cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoTable {
    /// There is no value.
    Empty,
    /// More strokes than [`Table::LONGEST`] are told apart.
    TooLong,
    /// A value is not a number, or a higher score is worth more than a lower one.
    Rises,
}

impl fmt::Display for NoTable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "a table of values by score needs at least one value"),
            Self::TooLong => write!(f, "a table of values by score ends at {} strokes", Table::LONGEST),
            Self::Rises => write!(f, "a higher score on the hole cannot be worth more than a lower one"),
        }
    }
}

impl std::error::Error for NoTable {}

impl Table {
    /// The most strokes that are told apart.
    pub const LONGEST: usize = 30;

    /// `values[n]` is what holing out in `n` strokes is worth, from 0 strokes; the last holds for every higher score.
    ///
    /// # Errors
    /// An empty or overlong table, or one in which a higher score is worth more.
    ///
    /// ```
    /// use marram::strategy::Table;
    /// let points = Table::new(vec![6.0, 5.0, 4.0, 3.0, 2.0, 1.0, 0.0]).unwrap(); // par 4 without strokes
    /// assert_eq!(points.worth(4), 2.0);
    /// assert_eq!(points.worth(11), 0.0);
    /// ```
    pub fn new(mut values: Vec<f64>) -> Result<Self, NoTable> {
        if values.is_empty() {
            return Err(NoTable::Empty);
        }
        if values.len() > Self::LONGEST + 1 {
            return Err(NoTable::TooLong);
        }
        let falls = values.windows(2).all(|w| matches!(w, [a, b] if a >= b));
        if !falls || values.iter().any(|v| !v.is_finite()) {
            return Err(NoTable::Rises);
        }
        while let [.., a, b] = values.as_slice()
            && a == b
        {
            values.pop();
        }
        Ok(Self { values })
    }

    /// One up to and including `score`, nothing beyond it.
    pub fn at_most(score: usize) -> Self {
        let mut values = vec![1.0; score.min(Self::LONGEST - 1) + 1];
        values.push(0.0);
        Self { values }
    }

    /// The chance of a lower score than an opponent's, halves counting `half`. `chances[n]` is the opponent's chance of `n` strokes
    /// after handicap strokes, compared with our strokes less `received`.
    pub fn against(chances: &[f64], received: i32, half: f64) -> Self {
        let of = |net: i64| usize::try_from(net).ok().and_then(|n| chances.get(n)).copied().unwrap_or_default();
        let longest = chances.len() as i64 + i64::from(received.max(0));
        let longest = longest.clamp(1, Self::LONGEST as i64);
        let mut values: Vec<f64> = (0..=longest)
            .map(|strokes| {
                let net = strokes - i64::from(received);
                let higher: f64 = ((net + 1).max(0)..chances.len() as i64).map(of).sum();
                higher + half * of(net)
            })
            .collect();
        // A rounded sum of chances must not rise by a hair.
        let mut least = f64::INFINITY;
        for v in &mut values {
            least = least.min(*v);
            *v = least;
        }
        Self { values }
    }

    /// The value of holing out in `strokes`.
    pub fn worth(&self, strokes: usize) -> f64 {
        self.values.get(strokes).or(self.values.last()).copied().unwrap_or_default()
    }

    /// From this many strokes on the value is the same.
    pub fn settled(&self) -> usize {
        self.values.len().saturating_sub(1)
    }
}

impl Worth {
    /// The mean value of these chances, `chances[n]` being that of `n` strokes. For strokes the mean is negative: fewer is better.
    pub fn mean(&self, chances: &[f64]) -> f64 {
        chances
            .iter()
            .enumerate()
            .map(|(n, p)| {
                p * match self {
                    Self::Strokes => -(n as f64),
                    Self::Table(table) => table.worth(n),
                }
            })
            .sum()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn tables_are_checked() {
        assert_eq!(Table::new(vec![]), Err(NoTable::Empty));
        assert_eq!(Table::new(vec![1.0, 2.0]), Err(NoTable::Rises));
        assert_eq!(Table::new(vec![f64::NAN]), Err(NoTable::Rises));
        assert_eq!(Table::new(vec![0.0; 40]), Err(NoTable::TooLong));
        assert_eq!(Table::new(vec![2.0, 1.0, 0.0, 0.0, 0.0]).unwrap().settled(), 2);
        assert!(!NoTable::Rises.to_string().is_empty());
    }

    #[test]
    fn an_opponent_is_beaten_halved_or_not() {
        // The opponent makes four or five, evenly.
        let t = Table::against(&[0.0, 0.0, 0.0, 0.0, 0.5, 0.5], 0, 0.5);
        assert_eq!((t.worth(3), t.worth(4), t.worth(5), t.worth(6)), (1.0, 0.75, 0.25, 0.0));
        let with_stroke = Table::against(&[0.0, 0.0, 0.0, 0.0, 0.5, 0.5], 1, 0.5);
        assert_eq!(with_stroke.worth(5), 0.75);
        let at_most = Table::at_most(5);
        assert_eq!((at_most.worth(5), at_most.worth(6)), (1.0, 0.0));
    }
}
