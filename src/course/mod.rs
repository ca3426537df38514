//! Course, tee, hole, green, note and layer, and their reader over `notebook`.
