//! The program: hands the arguments over and ends with the exit code of what came of them.

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(loafwright::cli::run(std::env::args_os()).code())
}
