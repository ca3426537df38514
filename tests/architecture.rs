//! The rooms of the house: which may use which, which may touch the world, and that each file says what it is.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use syn::visit::Visit;

/// Rooms in order: a room may use the ones before it, less what [`FORBIDDEN`] takes away.
const ROOMS: [&str; 25] = [
    "units",
    "ground",
    "notebook",
    "course",
    "player",
    "handicap",
    "scoring",
    "competition",
    "flight",
    "putting",
    "pattern",
    "strategy",
    "today",
    "plan",
    "round",
    "sheet",
    "session",
    "review",
    "print",
    "survey",
    "store",
    "jobs",
    "shelf",
    "tui",
    "cli",
];

/// Arrows that the order would allow and the design forbids (architecture: "Arrows").
const FORBIDDEN: [(&str, &[&str]); 7] = [
    ("ground", &["notebook"]),
    ("notebook", &["units", "ground"]),
    ("handicap", &["ground", "notebook", "course", "player"]),
    ("scoring", &["ground", "notebook", "course", "player"]),
    ("flight", &["ground", "notebook", "course", "player", "handicap", "scoring", "competition"]),
    ("putting", &["ground", "notebook", "course", "player", "handicap", "scoring", "competition"]),
    ("strategy", &["scoring", "competition"]),
];

/// The rooms that may touch files, the clock and the environment.
const EDGES: [&str; 5] = ["store", "jobs", "shelf", "tui", "cli"];

/// Paths that reach the world.
const WORLD: [&str; 9] = [
    "std::fs",
    "std::env",
    "std::net",
    "std::process",
    "std::time::SystemTime",
    "std::time::Instant",
    "chrono::Local",
    "chrono::Utc",
    "std::thread",
];

fn sources(folder: &Path, out: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, out);
        } else if path.extension().is_some_and(|e| e == "rs") {
            out.push(path);
        }
    }
}

/// Collects every path that a file names, `use` trees spelled out, tests left out.
#[derive(Default)]
struct Paths {
    found: Vec<Vec<String>>,
}

fn is_test(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|a| {
        a.path().is_ident("test")
            || a.path().is_ident("cfg")
                && matches!(&a.meta, syn::Meta::List(l) if l.tokens.to_string().contains("test"))
    })
}

impl Paths {
    fn tree(&mut self, before: &[String], tree: &syn::UseTree) {
        match tree {
            syn::UseTree::Path(p) => {
                let mut path = before.to_vec();
                path.push(p.ident.to_string());
                self.tree(&path, &p.tree);
            }
            syn::UseTree::Name(n) => self.found.push([before, &[n.ident.to_string()]].concat()),
            syn::UseTree::Rename(n) => self.found.push([before, &[n.ident.to_string()]].concat()),
            syn::UseTree::Glob(_) => self.found.push(before.to_vec()),
            syn::UseTree::Group(g) => g.items.iter().for_each(|t| self.tree(before, t)),
        }
    }
}

impl<'ast> Visit<'ast> for Paths {
    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !is_test(&item.attrs) {
            syn::visit::visit_item_mod(self, item);
        }
    }
    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        if !is_test(&item.attrs) {
            syn::visit::visit_item_fn(self, item);
        }
    }
    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        if !is_test(&item.attrs) {
            self.tree(&[], &item.tree);
        }
    }
    fn visit_path(&mut self, path: &'ast syn::Path) {
        self.found.push(path.segments.iter().map(|s| s.ident.to_string()).collect());
        syn::visit::visit_path(self, path);
    }
}

/// The module path of a file below src, as `["tui", "view", "card"]`.
fn module(path: &Path) -> Vec<String> {
    let mut parts: Vec<String> = path.with_extension("").iter().map(|p| p.to_string_lossy().into_owned()).collect();
    if parts.last().is_some_and(|p| p == "mod") {
        parts.pop();
    }
    parts
}

/// The room that a path names, seen from `module`: through `crate::` or enough `super::`.
fn room_named(path: &[String], module: &[String]) -> Option<String> {
    let first = path.first()?;
    if first == "crate" || first == "marram" {
        return path.get(1).cloned();
    }
    let supers = path.iter().take_while(|p| *p == "super").count();
    (supers > 0 && supers >= module.len()).then(|| path.get(supers).cloned()).flatten()
}

#[test]
fn rooms_use_only_rooms_before_them_and_only_edges_touch_the_world() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&src, &mut files);
    assert!(files.len() > 60, "the house has been found");
    let mut wrong = BTreeSet::new();
    for file in files {
        let text = fs::read_to_string(&file).unwrap();
        let below = file.strip_prefix(&src).unwrap();
        let name = below.display();
        if !text.trim_start().starts_with("//!") {
            wrong.insert(format!("{name}: does not begin with //!"));
        }
        let module = module(below);
        let room = module.first().cloned().unwrap_or_default();
        let mut paths = Paths::default();
        paths.visit_file(&syn::parse_file(&text).unwrap_or_else(|e| panic!("{name}: {e}")));
        let own = ROOMS.iter().position(|r| *r == room);
        if own.is_none() && room != "lib" && room != "main" {
            wrong.insert(format!("{name}: is in no room of the list"));
        }
        for path in paths.found {
            if let (Some(own), Some(named)) = (own, room_named(&path, &module))
                && let Some(other) = ROOMS.iter().position(|r| *r == named)
            {
                let forbidden = FORBIDDEN.iter().any(|(r, list)| *r == room && list.contains(&named.as_str()));
                if other > own || forbidden {
                    wrong.insert(format!("{name}: {room} must not use {named}"));
                }
            }
            let joined = path.join("::");
            if own.is_some()
                && !EDGES.contains(&room.as_str())
                && WORLD.iter().any(|w| joined == *w || joined.starts_with(&format!("{w}::")))
            {
                wrong.insert(format!("{name}: {joined} outside the edge rooms"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.into_iter().collect::<Vec<_>>().join("\n"));
}

#[test]
fn the_handicap_room_holds_no_binary_floating_point() {
    let mut files = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src/handicap"), &mut files);
    for file in files {
        let mut floats = Floats::default();
        floats.visit_file(&syn::parse_file(&fs::read_to_string(&file).unwrap()).unwrap());
        assert!(!floats.found, "{} uses f32 or f64", file.display());
    }
}

#[derive(Default)]
struct Floats {
    found: bool,
}

impl<'ast> Visit<'ast> for Floats {
    fn visit_ident(&mut self, ident: &'ast syn::Ident) {
        self.found |= ident == "f32" || ident == "f64";
    }
    fn visit_lit_float(&mut self, _: &'ast syn::LitFloat) {
        self.found = true;
    }
}
