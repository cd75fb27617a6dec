//! The program: hands the arguments over and ends with the exit code of what came of them.
#![expect(clippy::disallowed_methods, reason = "the arguments come in here")]

use std::process::ExitCode;

/// A recipe is thousands of small values made and dropped; with the system's own allocator that is a quarter
/// of a build.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    ExitCode::from(loafwright::cli::run(std::env::args_os()).code())
}
