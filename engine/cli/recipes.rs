//! `casewright recipes`: the built-in ones.

use casewright::script;
use clap::ArgMatches;
use serde::Serialize;

use super::console::Console;
use super::exit::Exit;
use super::json::say_json;
use super::order;
use super::table::{Column, Group, section};
use super::{Command, Ran};

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "recipes",
    about: "List the built-in recipes",
    detail: "Each can be run by its name, and imported by other recipes. `casewright inputs NAME` lists what one asks for.",
    args: |command| command.arg(order::json_arg()),
    run,
};

#[derive(Serialize)]
struct Listed {
    version: u32,
    recipes: Vec<RecipeJson>,
}

#[derive(Serialize)]
struct RecipeJson {
    name: &'static str,
    about: String,
}

fn run(matches: &ArgMatches, console: &mut Console) -> Ran {
    let library = script::library();
    if order::switch(matches, "json") {
        let recipes = library.iter().map(|each| RecipeJson { name: each.name, about: each.about() }).collect();
        say_json(console, &Listed { version: 1, recipes })?;
    } else {
        const COLUMNS: [Column; 2] = [Column::words("recipe", 28), Column::text("makes")];
        let rows = library.iter().map(|each| vec![each.name.to_owned(), each.about()]).collect();
        let groups = [Group { heading: String::new(), rows }];
        console.say(&section("Built-in recipes", "", &COLUMNS, &groups, console.width))?;
    }
    Ok(Exit::Done)
}
