//! Every diagnostic of surveyed ground, and where its features stand in the text.

use crate::notebook::{self, Diagnostic, Span};

/// The file is no GeoJSON that can be used.
pub const GROUND_BROKEN: &str = "ground-broken";
/// A feature that cannot be used.
pub const FEATURE_UNUSED: &str = "feature-unused";
/// A feature that names a hole the notebook does not have.
pub const FEATURE_OF_NO_HOLE: &str = "feature-of-no-hole";
/// A hole whose ground cannot be tied to its line.
pub const NOT_TIED: &str = "ground-not-tied";
/// Survey and notebook disagree by more than 3 yards about a fixed point.
pub const DISAGREES: &str = "survey-disagrees";
/// A piece named in the notebook that the survey does not have.
pub const NOT_SURVEYED: &str = "not-surveyed";
/// A penalty area whose colour nobody says.
pub const COLOUR_UNKNOWN: &str = "colour-unknown";
/// A danger of a piece of ground that neither notebook nor survey has.
pub const UNKNOWN_DANGER: &str = "danger-of-nothing";

/// The file that the notebook names cannot be read.
pub const GROUND_MISSING: &str = "ground-missing";

/// All of them.
pub const CODES: [&str; 9] = [
    GROUND_MISSING,
    GROUND_BROKEN,
    FEATURE_UNUSED,
    FEATURE_OF_NO_HOLE,
    NOT_TIED,
    DISAGREES,
    NOT_SURVEYED,
    COLOUR_UNKNOWN,
    UNKNOWN_DANGER,
];

/// A warning that the ground file of a notebook cannot be read, at the key that names it.
pub fn ground_missing(notebook: &str, named: &str, what: &str, cure: &str) -> Diagnostic {
    let root = notebook::read(notebook).0;
    let node = root.as_ref().and_then(|root| root.get("course")).and_then(|course| course.get("ground"));
    let span = node.map_or(Span::default(), |node| node.span);
    let words =
        format!("the surveyed ground {} cannot be read and the sketches stand alone: {what}", notebook::quoted(named));
    let advice = if cure.is_empty() { "put it beside the notebook, or take `ground` out" } else { cure };
    Diagnostic::warning(GROUND_MISSING, span, words).advise(advice)
}

/// The place of every feature of a GeoJSON text that is known to be sound, in order.
pub fn feature_spans(text: &str) -> Vec<Span> {
    let bytes = text.as_bytes();
    let mut spans = Vec::new();
    // Depth of braces and brackets; the features are the maps in the list behind the key at depth 1.
    let (mut depth, mut at, mut list, mut start) = (0_usize, 0, None, 0);
    let mut key = "";
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'"' => {
                let end = string_end(bytes, at);
                if depth == 1 {
                    key = text.get(at + 1..end.saturating_sub(1)).unwrap_or_default();
                }
                at = end;
                continue;
            }
            b'{' | b'[' => {
                depth += 1;
                if *byte == b'[' && depth == 2 && key == "features" {
                    list = Some(depth);
                } else if *byte == b'{' && list == Some(depth - 1) {
                    start = at;
                }
            }
            b'}' | b']' => {
                if *byte == b'}' && list.is_some_and(|l| l + 1 == depth) {
                    spans.push(Span::new(start, at + 1));
                }
                if *byte == b']' && list == Some(depth) {
                    return spans;
                }
                depth = depth.saturating_sub(1);
            }
            _ => {}
        }
        at += 1;
    }
    spans
}

fn string_end(bytes: &[u8], start: usize) -> usize {
    let mut at = start + 1;
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'\\' => at += 2,
            b'"' => return at + 1,
            _ => at += 1,
        }
    }
    bytes.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn features_are_found_by_their_braces() {
        let text = r#"{"a":[{"x":1}],"features":[ {"p":{"q":"}]\""}}, {"r":[1,[2]]}],"features2":[{}]}"#;
        let found: Vec<&str> = feature_spans(text).into_iter().map(|s| s.of(text)).collect();
        assert_eq!(found, [r#"{"p":{"q":"}]\""}}"#, r#"{"r":[1,[2]]}"#]);
    }
}
