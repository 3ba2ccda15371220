//! `casewright check`: a job's findings, and nothing else.

use casewright::diag::Severity;
use casewright::script::Workbench;
use casewright::world::Disk;
use clap::ArgMatches;
use serde::Serialize;

use super::console::Console;
use super::json::{FindingJson, say_json};
use super::order::{self, Asked, exit_for};
use super::render::{self, tally};
use super::{Command, Ran};

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "check",
    about: "Check a recipe and its inputs: every finding, no papers",
    detail: "Ends with code 1 when there is an error; warnings and notes end with 0. With --json, findings are printed as \
             one JSON object, errors in the recipe and in its inputs alike.",
    args,
    run,
};

#[derive(Serialize)]
struct Checked {
    version: u32,
    recipe: String,
    errors: usize,
    warnings: usize,
    notes: usize,
    findings: Vec<FindingJson>,
}

fn args(command: clap::Command) -> clap::Command {
    command
        .arg(order::recipe_arg().required(true))
        .arg(order::inputs_arg())
        .arg(order::units_arg())
        .arg(order::shop_arg())
        .arg(order::json_arg())
}

fn run(matches: &ArgMatches, console: &mut Console) -> Ran {
    let asked = Asked::read(matches, console)?;
    let bench = Workbench::new(Disk);
    let (name, findings) = match order::open(&bench, &asked.recipe) {
        Ok(recipe) => (recipe.name().to_owned(), casewright::job::run(&bench, &recipe, asked.order()).findings),
        Err(findings) => (asked.recipe.clone(), findings),
    };
    let exit = exit_for(&findings);
    if order::switch(matches, "json") {
        let count = |severity| findings.iter().filter(|finding| finding.severity == severity).count();
        let checked = Checked {
            version: 1,
            recipe: name,
            errors: count(Severity::Error),
            warnings: count(Severity::Warning),
            notes: count(Severity::Note),
            findings: findings.iter().map(FindingJson::from).collect(),
        };
        say_json(console, &checked)?;
    } else {
        let tally = tally(&findings);
        let tally = if tally.is_empty() { "nothing found".to_owned() } else { tally };
        // The findings are what was asked for here, so they go where answers go.
        console.say(&render::findings(&findings, &asked.sources(&bench), console.width))?;
        console.say(&format!("{}: {tally}", render::one_line(&name)))?;
    }
    Ok(exit)
}
