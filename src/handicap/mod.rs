//! Course and Playing Handicap, strokes by hole, differentials, the index: exact arithmetic only.
