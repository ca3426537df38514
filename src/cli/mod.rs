//! Arguments, subcommands, plain and JSON output, exit codes.

pub mod handicap;
