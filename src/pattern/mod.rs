//! Shot patterns: where a club's shots finish, from bag and skill, from a lie.
