//! Plane geometry of a hole: its line with bends, shapes, surfaces, distances. Uses `units` only.
