//! The handicap room computes exactly: no binary float stands anywhere in it, nor in the tenths it is made of.

use std::fs;
use std::path::{Path, PathBuf};
use syn::visit::Visit;

#[derive(Default)]
struct Floats(Vec<String>);

impl<'a> Visit<'a> for Floats {
    fn visit_ident(&mut self, ident: &'a syn::Ident) {
        if ident == "f32" || ident == "f64" {
            self.0.push(ident.to_string());
        }
    }

    fn visit_lit_float(&mut self, literal: &'a syn::LitFloat) {
        self.0.push(literal.to_string());
    }

    fn visit_macro(&mut self, called: &'a syn::Macro) {
        // Tokens of a macro are not parsed; their text tells.
        let text = called.tokens.to_string();
        self.0.extend(["f32", "f64"].into_iter().filter(|word| text.contains(word)).map(str::to_owned));
        syn::visit::visit_macro(self, called);
    }
}

fn sources() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = vec![root.join("units/tenths.rs")];
    files.extend(fs::read_dir(root.join("handicap")).unwrap().map(|entry| entry.unwrap().path()));
    files
}

#[test]
fn no_binary_float() {
    let files = sources();
    assert!(files.len() > 10, "the room was found");
    for file in files {
        let parsed = syn::parse_file(&fs::read_to_string(&file).unwrap()).unwrap();
        let mut floats = Floats::default();
        floats.visit_file(&parsed);
        assert_eq!(floats.0, Vec::<String>::new(), "{}", file.display());
    }
}

#[test]
fn the_check_sees_floats() {
    let parsed = syn::parse_file("fn f(x: f64) -> i32 { (x * 1.5) as i32 }").unwrap();
    let mut floats = Floats::default();
    floats.visit_file(&parsed);
    assert_eq!(floats.0, ["f64", "1.5"]);
}
