//! The value of a place, candidate plays and the solver, for any value of a hole score.
//!
//! [`solve`] finds the fewest strokes from every place of a [`Hole`] by its lie. The ground comes through [`Lies`], the
//! green through [`GreenValue`], the player through a [`Kit`] made of a pattern, the day through
//! [`Conditions`](crate::pattern::Conditions).

mod aims;
mod chances;
mod check;
mod choice;
mod course;
mod eval;
mod expect;
mod field;
mod finish;
mod green;
mod hole;
mod kind;
mod kit;
mod lanes;
mod lattice;
mod layers;
mod ledger;
mod look;
mod mesh;
mod outcome;
mod price;
mod row;
mod shot;
mod solution;
mod solve;
mod stand;
mod terrain;
mod worth;

pub use chances::{deviation, mean};
pub use check::BadHole;
pub use choice::Choice;
pub use expect::{PlainHole, expect};
pub use green::{GreenValue, LevelGreen};
pub use hole::{Fineness, Hole};
pub use kind::{Kind, Lies, Plain};
pub use kit::{Kit, Prepared};
pub use outcome::Outcome;
pub use price::{prices, prices_and};
pub use solution::{Carry, Pair, Play, Solution, Stand, Unsolved, solve};
pub use worth::{NoTable, Table, Worth};
