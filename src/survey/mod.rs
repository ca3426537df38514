//! Open map data to draft ground.
