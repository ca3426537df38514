//! Flight and putting: published checks, goldens, facts of the trade, properties. `docs/physics.md` has them as tables.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

#[path = "physics/closed_forms.rs"]
mod closed_forms;
#[path = "physics/flight_checks.rs"]
mod flight_checks;
#[path = "physics/goldens.rs"]
mod goldens;
#[path = "physics/properties.rs"]
mod properties;
#[path = "physics/putting_checks.rs"]
mod putting_checks;
#[path = "physics/reference.rs"]
mod reference;

/// Asserts that two figures differ by no more than a tolerance, and says by how much they do.
#[track_caller]
fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "got {got}, want {want} within {within}, off by {}", got - want);
}

const YARD: f64 = 0.9144;
