//! `casewright completions`: what a shell needs to complete the command line.

use clap::{Arg, ArgMatches};
use clap_complete::Shell;

use super::console::Console;
use super::exit::Exit;
use super::{Command, Ran, order, program};

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "completions",
    about: "Print the completions of the command line for a shell",
    detail: "Put the output where your shell looks for completions. For bash: casewright completions bash > \
             ~/.local/share/bash-completion/completions/casewright",
    args: |command| {
        command.arg(Arg::new("shell").value_name("SHELL").required(true).value_parser(SHELLS).help("The shell"))
    },
    run,
};

const SHELLS: [&str; 5] = ["bash", "elvish", "fish", "powershell", "zsh"];

fn run(matches: &ArgMatches, console: &mut Console) -> Ran {
    let shell = match order::text(matches, "shell").unwrap_or_default().as_str() {
        "elvish" => Shell::Elvish,
        "fish" => Shell::Fish,
        "powershell" => Shell::PowerShell,
        "zsh" => Shell::Zsh,
        _ => Shell::Bash,
    };
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut program(), "casewright", &mut script);
    console.bytes(&script)?;
    Ok(Exit::Done)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::str::FromStr;

    #[test]
    fn every_shell_offered_is_one_that_is_known() {
        for shell in SHELLS {
            assert!(Shell::from_str(shell).is_ok(), "{shell}");
        }
    }
}
