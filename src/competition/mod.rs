//! Entries, cards, totals and ties as plain values.
