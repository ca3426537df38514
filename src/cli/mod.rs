//! Arguments, subcommands, plain and JSON output, exit codes.

pub mod carry;
pub mod expect;
pub mod putt;
pub mod values;
