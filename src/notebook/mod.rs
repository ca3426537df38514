//! The text of human files: guard, nodes with spans, diagnostics, lossless edits. Knows no golf.
