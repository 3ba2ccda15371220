//! The program: all that it does is in [`cli`]; all that it knows is in the library.

mod cli;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::main(std::env::args_os())
}
