//! Values to a page model to paper.
