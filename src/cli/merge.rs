//! `marram merge COURSE LAYER [--hole N…] [--write]`: a person's layer taken into the notebook, hole by hole.
//!
//! Without `--write` it is a preview and nothing is touched. With it both files are backed up first; `marram restore` puts
//! them back.

use super::World;
use crate::round::slug;
use crate::store::{Expect, Limit, Sort, StoreError, read_text};
use crate::survey::merge::{MergeHole, Merged, NoMerge, merge};
use crate::units::plain_text::{plain, plain_lines};
use clap::Args;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// What to merge.
#[derive(Debug, Args)]
pub struct MergeArgs {
    /// The notebook: a name on the shelf, or a file.
    #[arg(value_name = "COURSE")]
    pub course: String,
    /// The layer: a file, or the person's name.
    #[arg(value_name = "LAYER")]
    pub layer: String,
    /// Only these holes; without it all that the layer has.
    #[arg(long, value_name = "N", value_delimiter = ',')]
    pub hole: Vec<u8>,
    /// Write both files, each backed up first. Without it only what would change is shown.
    #[arg(long)]
    pub write: bool,
    /// One JSON object.
    #[arg(long)]
    pub json: bool,
}

/// Runs the command.
pub fn run(args: &MergeArgs, world: &mut World<'_>) -> u8 {
    let notebook = match world.find(Sort::Notebook, &args.course) {
        Ok(path) => path,
        Err(error) => return world.file_trouble(&error),
    };
    let layer = layer_of(&notebook, &args.layer, world);
    let read = |path: &Path| read_text(path, Limit::YAML);
    let (text, said) = match (read(&notebook), read(&layer)) {
        (Ok(text), Ok(said)) => (text, said),
        (Err(error), _) | (_, Err(error)) => return world.file_trouble(&error),
    };
    let merged = match merge(&text.text, &said.text, &args.hole) {
        Ok(merged) => merged,
        Err(error) => {
            let _ = writeln!(world.err, "marram: {error}");
            return if matches!(error, NoMerge::NoHole(_)) { 2 } else { 1 };
        }
    };
    let mut written = false;
    if args.write {
        let write = || -> Result<(), StoreError> {
            world.store.back_up(&notebook)?;
            world.store.back_up(&layer)?;
            // The notebook first: should the second save fail, a note stands twice and none is lost.
            world.store.save(&notebook, merged.notebook.as_bytes(), Expect::AsRead(text.digest))?;
            if let Some(rest) = &merged.layer {
                world.store.save(&layer, rest.as_bytes(), Expect::AsRead(said.digest))?;
            }
            Ok(())
        };
        match write() {
            Ok(()) => written = true,
            Err(error) => return world.file_trouble(&error),
        }
    }
    let shown = if args.json {
        as_json(&merged, &notebook, &layer, written).to_string()
    } else {
        plain_lines(&as_text(&merged, &notebook, &layer, written)).into_owned()
    };
    u8::from(writeln!(world.out, "{}", shown.trim_end()).is_err())
}

/// The layer's file: a path, else `NAME.PERSON.yaml` beside the notebook.
fn layer_of(notebook: &Path, name: &str, world: &World<'_>) -> PathBuf {
    let given = world.current.join(name);
    if name.contains('/') || name.ends_with(".yaml") {
        return given;
    }
    let stem = notebook.file_stem().and_then(|s| s.to_str()).unwrap_or("course");
    notebook.with_file_name(format!("{stem}.{}.yaml", slug(name)))
}

fn as_text(merged: &Merged, notebook: &Path, layer: &Path, written: bool) -> String {
    let mut out = format!("{}’s layer into {}\n", merged.whose, notebook.display());
    for hole in &merged.holes {
        out.push_str(&format!("\nHole {}\n", hole.number));
        for step in &hole.steps {
            out.push_str(&format!("  {} ({}): {}\n", step.act.word(), one(step.list), step.words));
            if let Some(was) = &step.was {
                out.push_str(&format!("    instead of: {was}\n"));
            }
        }
        lines(&mut out, hole);
    }
    if merged.holes.is_empty() {
        out.push_str("\nThe layer has no holes.\n");
    }
    out.push('\n');
    let (n, l) = (notebook.display(), layer.display());
    if !written {
        out.push_str("Nothing is written yet; --write takes these holes into the notebook and out of the layer.\n");
    } else if merged.layer.is_some() {
        out.push_str(&format!("Written: {n}, {l}. Both were backed up: marram restore {n} {l}\n"));
    } else {
        out.push_str(&format!("Written: {n}, backed up: marram restore {n}\nThe layer {l} could not be changed safely and still says the same; take these holes out by hand.\n"));
    }
    out
}

fn one(list: &str) -> &str {
    match list {
        "aims" => "aim",
        "dangers" => "danger",
        "layups" => "lay-up",
        _ => "note",
    }
}

fn lines(out: &mut String, hole: &MergeHole) {
    for (mark, side) in [('-', &hole.before), ('+', &hole.after)] {
        for (number, line) in side {
            out.push_str(&format!("  {mark}{number:>5} {}\n", plain(line)));
        }
    }
}

fn as_json(merged: &Merged, notebook: &Path, layer: &Path, written: bool) -> Value {
    let side = |lines: &[(usize, String)]| -> Vec<Value> {
        lines.iter().map(|(line, text)| json!({ "line": line, "text": text })).collect()
    };
    let holes: Vec<Value> = merged
        .holes
        .iter()
        .map(|h| {
            let steps: Vec<Value> = h
                .steps
                .iter()
                .map(|s| json!({ "list": s.list, "act": s.act.word(), "words": s.words, "was": s.was }))
                .collect();
            json!({ "hole": h.number, "steps": steps, "before": side(&h.before), "after": side(&h.after) })
        })
        .collect();
    json!({ "schema": "marram/merge/1", "notebook": notebook.display().to_string(), "layer": layer.display().to_string(),
        "whose": merged.whose, "holes": holes, "written": written, "layer_changes": merged.layer.is_some() })
}
