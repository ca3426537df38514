//! A player, the bag and the record, and their reader over `notebook`.
