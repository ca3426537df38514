//! The `marram` command: start and exit code, nothing else.

fn main() -> std::process::ExitCode {
    marram::cli::main()
}
