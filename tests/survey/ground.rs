//! ground
