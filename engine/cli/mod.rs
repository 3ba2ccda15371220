//! Layer 8: commands, the terminal, the disk, exit codes: all that prints or touches the disk.
//!
//! One file a command, each with one line in [`ALL`]. Commands print through [`console::Console`]; the library never prints.

// What these lints forbid elsewhere is what this layer is for.
#![allow(clippy::print_stdout, clippy::print_stderr)]

mod batch;
mod check;
mod completions;
mod console;
mod disk;
mod exit;
mod explain;
mod fault;
mod inputs;
mod json;
mod layout;
mod man;
mod order;
mod recipes;
mod render;
mod repl;
mod run;
mod table;

use std::ffi::OsString;
use std::process::ExitCode;

use casewright::diag::{did_you_mean, nearest};
use casewright::script::on_script_thread;
use clap::error::{ContextKind, ErrorKind};
use clap::{Arg, ArgMatches};

use console::Console;
use exit::Exit;

/// How a command ended. Both sides are the code to end with; the error is for ending early with `?`.
type Ran = Result<Exit, Exit>;

/// One command.
#[derive(Clone, Copy, Debug)]
pub struct Command {
    /// The word that calls it.
    pub name: &'static str,
    /// What it does, in one line.
    pub about: &'static str,
    /// How it is used, and what may surprise.
    pub detail: &'static str,
    /// Its arguments.
    pub args: fn(clap::Command) -> clap::Command,
    /// Does it.
    run: fn(&ArgMatches, &mut Console) -> Ran,
}

/// All commands, in the order in which help shows them.
pub const ALL: [Command; 10] = [
    run::COMMAND,
    check::COMMAND,
    inputs::COMMAND,
    recipes::COMMAND,
    explain::COMMAND,
    repl::COMMAND,
    batch::COMMAND,
    layout::COMMAND,
    completions::COMMAND,
    man::COMMAND,
];

/// Runs the program with the arguments that it was called with.
pub fn main(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    fault::listen();
    let args: Vec<OsString> = args.into_iter().collect();
    let ran = fault::caught(|| on_script_thread(|| dispatch(args, &mut Console::standard())));
    match ran {
        Ok(exit) => exit.into(),
        Err(told) => {
            Console::standard().tell(&told);
            Exit::Fault.into()
        }
    }
}

fn dispatch(args: Vec<OsString>, console: &mut Console) -> Exit {
    let given: Vec<String> = args.iter().map(|arg| arg.to_string_lossy().into_owned()).collect();
    let matches = match program().try_get_matches_from(args) {
        Ok(matches) => matches,
        Err(error) if error.kind() == ErrorKind::InvalidSubcommand => {
            let typed = error.get(ContextKind::InvalidSubcommand).map(ToString::to_string).unwrap_or_default();
            let hint = did_you_mean(&typed, ALL.iter().map(|command| command.name)).unwrap_or_default();
            return console.usage(&format!("there is no command `{typed}`"), &hint);
        }
        Err(error) if error.kind() == ErrorKind::UnknownArgument && dashed_input(&error, &given).is_some() => {
            let (message, hint) = dashed_input(&error, &given).unwrap_or_default();
            return console.usage(&message, &hint);
        }
        Err(error) if error.use_stderr() => {
            console.tell(&error.to_string());
            return Exit::Usage;
        }
        // Help and version are answers, not errors.
        Err(answer) => return console.say(&answer.to_string()).err().unwrap_or(Exit::Done),
    };
    let Some((name, matches)) = matches.subcommand() else { return Exit::Usage };
    let Some(command) = ALL.iter().find(|command| command.name == name) else { return Exit::Usage };
    (command.run)(matches, console).unwrap_or_else(|exit| exit)
}

/// What to tell of an option that nobody knows, when it looks like an input of the recipe: `--width 24` or `--width=24`.
fn dashed_input(error: &clap::Error, given: &[String]) -> Option<(String, String)> {
    let command = given.get(1).filter(|name| ["run", "check"].contains(&name.as_str()))?;
    let unknown = error.get(ContextKind::InvalidArg)?.to_string();
    let named = |word: &&String| word.split('=').next() == unknown.split('=').next();
    let at = given.iter().position(|word| named(&word))?;
    let (word, typed) = given.get(at)?.split_once('=').map_or((given.get(at)?.as_str(), None), |(a, b)| (a, Some(b)));
    let name = word.strip_prefix("--")?.replace('-', "_");
    let program = program();
    let mut options = program.get_subcommands().flat_map(clap::Command::get_arguments).filter_map(Arg::get_long);
    // What some command has as an option, or what is a slip of one, was not meant as an input.
    if !order::is_name(&name) || options.any(|option| nearest(&name, [option]).is_some()) {
        return None;
    }
    let next = given.get(at + 1).filter(|next| !next.starts_with('-') && !next.contains('='));
    let value = typed.or(next.map(String::as_str)).unwrap_or("24");
    let input = match (value.contains('"'), value.contains([' ', '\''])) {
        (false, false) => format!("{name}={value}"),
        (false, true) => format!("\"{name}={value}\""),
        (true, _) => format!("'{name}={}'", value.replace('\'', "'\\''")),
    };
    Some((format!("`{word}` is not an option of `{command}`"), format!("inputs have no dashes: write {input}")))
}

/// The whole command line.
pub fn program() -> clap::Command {
    let codes: Vec<String> = exit::ALL.iter().map(|(_, code, meaning)| format!("  {code:>2}  {meaning}")).collect();
    clap::Command::new("casewright")
        .version(env!("CARGO_PKG_VERSION"))
        .about("Recipes for case furniture, and the papers that a shop works from")
        .after_help(format!("Exit codes:\n{}", codes.join("\n")))
        .max_term_width(console::WIDTH)
        .subcommand_required(true)
        .arg_required_else_help(true)
        .disable_help_subcommand(true)
        .subcommands(ALL.iter().map(|command| {
            let about = clap::Command::new(command.name).about(command.about).after_help(command.detail);
            (command.args)(about)
        }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_command_line_is_sound() {
        program().debug_assert();
    }

    #[test]
    fn every_command_says_what_it_does() {
        for command in ALL {
            assert!(!command.about.is_empty() && !command.about.ends_with('.'), "{}", command.name);
            assert!(!command.detail.is_empty(), "{}", command.name);
        }
    }

    #[test]
    fn wrong_usage_and_help_are_told_apart() {
        for (args, exit) in [
            (vec!["casewright"], Exit::Usage),
            (vec!["casewright", "rnu"], Exit::Usage),
            (vec!["casewright", "run"], Exit::Usage),
            (vec!["casewright", "run", "x", "--units", "cubits"], Exit::Usage),
            (vec!["casewright", "run", "x", "--out", ""], Exit::Usage),
            (vec!["casewright", "run", "x", "width"], Exit::Usage),
            (vec!["casewright", "--help"], Exit::Done),
            (vec!["casewright", "run", "--help"], Exit::Done),
            (vec!["casewright", "--version"], Exit::Done),
        ] {
            let (mut console, ..) = console::tests::console();
            let given = args.iter().map(OsString::from).collect();
            assert_eq!(dispatch(given, &mut console), exit, "{args:?}");
        }
    }

    /// `docs/commands.md` is made from the registry: `CASEWRIGHT_WRITE_DOCS=1 cargo test commands_are_documented` writes it anew.
    #[test]
    fn commands_are_documented() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/commands.md");
        let page = man::page();
        if std::env::var_os("CASEWRIGHT_WRITE_DOCS").is_some() {
            std::fs::write(path, &page).unwrap();
        }
        let written = std::fs::read_to_string(path).unwrap_or_default();
        assert!(written == page, "docs/commands.md is not what the commands say; see this test's comment");
    }
}
