//! `casewright repl`: a recipe at hand, one line at a time.
//!
//! What a line means is decided in [`desk`], which knows no terminal; [`reader`] brings the lines, from a terminal or a pipe.

mod changes;
mod desk;
mod reader;

use std::cell::RefCell;
use std::rc::Rc;

use casewright::script::Workbench;
use casewright::world::Disk;
use clap::ArgMatches;

use super::console::Console;
use super::exit::Exit;
use super::order::{self, Asked};
use super::{Command, Ran};

use desk::Desk;

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "repl",
    about: "Work with a recipe line by line: set inputs, see what changes, evaluate expressions",
    detail: "A line `width = 16 7/8` sets an input; a line that begins with a colon is a command (`:help` lists them); any \
             other line is evaluated with the recipe's functions. Errors never end it. Lines may also come from a pipe: \
             printf 'width = 16 7/8\\n:parts\\n' | casewright repl drawer-box",
    args: |command| command.arg(order::recipe_arg()).arg(order::units_arg()).arg(order::shop_arg()),
    run,
};

/// What can be typed, with what it does.
pub fn lines() -> impl Iterator<Item = (&'static str, &'static str)> {
    let plain = [
        (
            "NAME = VALUE",
            "set an input in the notation of the trade; with nothing after the `=`, go back to its default",
        ),
        ("EXPRESSION", "evaluate it with the recipe's functions and variables; a block may take several lines"),
    ];
    plain.into_iter().chain(desk::COMMANDS.iter().map(|command| (command.usage, command.about)))
}

fn run(matches: &ArgMatches, console: &mut Console) -> Ran {
    let asked = Asked::read(matches, console)?;
    let mut desk = Desk::new(Workbench::new(Disk), asked.units, asked.shop, console.width);
    if !asked.recipe.is_empty() {
        let reply = desk.open(&asked.recipe);
        console.say(&reply)?;
    }
    let desk = Rc::new(RefCell::new(desk));
    if reader::is_terminal() {
        reader::from_terminal(&desk, console)?;
    } else {
        reader::from_pipe(&desk, std::io::stdin().lock(), console)?;
    }
    Ok(Exit::Done)
}
