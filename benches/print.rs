//! The pocket book: paper made from plans already solved.

fn main() {}
