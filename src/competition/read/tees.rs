//! Tees that set-up and field name, against the course: said once, where they are written.

use super::super::codes::NO_SUCH_TEE;
use super::super::setup::Setup;
use super::super::values::Entrant;
use crate::course::Course;
use crate::course::decode::quoted;
use crate::notebook::{Diagnostic, Span, did_you_mean};

/// Problems of `competition.yaml` and of `field.csv`.
pub fn check_tees(setup: &Setup, field: &[Entrant], course: &Course) -> (Vec<Diagnostic>, Vec<Diagnostic>) {
    let known: Vec<&str> = course.tees.iter().map(|set| set.name.as_str()).collect();
    let problem = |tee: &str, span: Span| {
        let there = known.iter().any(|name| name.eq_ignore_ascii_case(tee.trim()));
        (!there).then(|| {
            let message = format!("{} has no tee {}", course.name, quoted(tee));
            let near = did_you_mean(tee, &known);
            let advice = if near.is_empty() { format!("it has {}", known.join(", ")) } else { near };
            Diagnostic::error(NO_SUCH_TEE.text(), span, message).advise(advice)
        })
    };
    let set_up = setup.tees.named().filter_map(|tee| problem(tee, setup.tees_at)).collect();
    let entries = field.iter().filter_map(|e| problem(e.tee.as_deref()?, e.tee_at.unwrap_or(e.span)));
    (set_up, entries.collect())
}
