//! Surveys checked against real maps, against each other in every shape an exporter gives them, and against hostile files.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing, clippy::type_complexity)]

mod bad;
mod commands;
mod ground;
mod map;
mod samples;
mod shapes;
mod synthetic;

use std::io::Write;
use std::path::{Path, PathBuf};

/// The folder of the open samples, beside the checkout (CI) or beside a worktree.
fn samples_dir() -> Option<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    ["../shared/data/osm", "../../shared/data/osm"].iter().map(|p| root.join(p)).find(|p| p.is_dir())
}

/// A sample by its name; says visibly that a test is skipped where the samples are absent.
fn sample(name: &str) -> Option<String> {
    let Some(folder) = samples_dir() else {
        // Written past the capture of the test harness, so that it is seen when the test passes too.
        let _ = writeln!(std::io::stderr(), "SKIPPED: {name} is not here (../shared/data/osm); this check did not run");
        return None;
    };
    Some(std::fs::read_to_string(folder.join(name)).unwrap())
}

/// Surveys one text.
fn survey(name: &str, text: &str) -> marram::survey::Survey {
    marram::survey::survey(&[marram::survey::Source { name, bytes: text.as_bytes() }], None).unwrap()
}
