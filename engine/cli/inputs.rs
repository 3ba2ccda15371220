//! `casewright inputs`: what a recipe asks for.

use casewright::base::Printing;
use casewright::diag::Severity;
use casewright::model::{Input, Value};
use casewright::script::Workbench;
use casewright::world::Disk;
use clap::ArgMatches;
use serde::Serialize;

use super::console::Console;
use super::exit::Exit;
use super::json::say_json;
use super::order::{self, Asked, exit_for};
use super::table::{Column, Group, section};
use super::{Command, Ran, render};

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "inputs",
    about: "List the inputs that a recipe asks for, with their defaults and limits",
    detail: "The recipe is run once with its defaults to learn what it asks for. `casewright explain KIND` tells what an \
             input of that kind takes.",
    args,
    run,
};

#[derive(Serialize)]
struct Listed {
    version: u32,
    recipe: String,
    unit: &'static str,
    inputs: Vec<InputJson>,
}

/// An input as programs read it; every value is written as a maker would type it.
#[derive(Serialize)]
struct InputJson {
    name: String,
    kind: &'static str,
    default: String,
    min: Option<String>,
    max: Option<String>,
    step: Option<String>,
    choices: Vec<String>,
    help: String,
}

/// The inputs as a table; with `values`, also the value that each has now.
pub fn table(inputs: &[Input], printing: Printing, values: Values, width: usize) -> String {
    const COLUMNS: [Column; 6] = [
        Column::words("input", 28),
        Column::words("takes", 10),
        Column::words("now", 20),
        Column::words("default", 20),
        Column::words("range", 26),
        Column::text("what it is"),
    ];
    let typed = |value: &Value| value.typed(|length| printing.length(length));
    let rows = inputs
        .iter()
        .map(|input| {
            let now = match values {
                Values::Shown => typed(&input.value),
                Values::Hidden => String::new(),
            };
            // A value that is the default needs no saying twice.
            let default = if now == typed(&input.default) { String::new() } else { typed(&input.default) };
            vec![
                input.name.clone(),
                input.kind.name().to_owned(),
                now,
                default,
                range(input, &typed),
                input.help.clone(),
            ]
        })
        .collect();
    section("Inputs", "", &COLUMNS, &[Group { heading: String::new(), rows }], width)
}

/// Whether a table of inputs shows the values that they have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Values {
    /// Values and defaults.
    Shown,
    /// Defaults only.
    Hidden,
}

/// What an input may be: `6" to 48", steps of 1/8"`, or its choices.
fn range(input: &Input, typed: &impl Fn(&Value) -> String) -> String {
    if !input.choices.is_empty() && !input.kind.is_stock() {
        return input.choices.join(", ");
    }
    let limits = match (&input.min, &input.max) {
        (Some(min), Some(max)) => format!("{} to {}", typed(min), typed(max)),
        (Some(min), None) => format!("{} or more", typed(min)),
        (None, Some(max)) => format!("{} or less", typed(max)),
        (None, None) => String::new(),
    };
    if input.kind.is_stock() {
        let thick = if limits.is_empty() { String::new() } else { format!("{limits} thick") };
        let words = [vec![thick], input.choices.clone()].concat();
        return words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(", or ");
    }
    match &input.step {
        Some(step) if limits.is_empty() => format!("steps of {}", typed(step)),
        Some(step) => format!("{limits}, steps of {}", typed(step)),
        None => limits,
    }
}

fn args(command: clap::Command) -> clap::Command {
    command
        .arg(order::recipe_arg().required(true))
        .arg(order::units_arg())
        .arg(order::shop_arg())
        .arg(order::json_arg())
}

fn run(matches: &ArgMatches, console: &mut Console) -> Ran {
    let asked = Asked::read(matches, console)?;
    let bench = Workbench::new(Disk);
    let recipe = asked.open(&bench, console)?;
    let outcome = casewright::job::run(&bench, &recipe, asked.order());
    // A recipe may declare all its inputs and still not come to its end with the defaults; then the list holds and the
    // errors tell why. Without a list, they are all there is to say.
    let errors: Vec<_> =
        outcome.findings.iter().filter(|finding| finding.severity == Severity::Error).cloned().collect();
    console.tell(&render::findings(&errors, &asked.sources(&bench), console.width));
    if outcome.model.inputs.is_empty() && !errors.is_empty() {
        return Ok(exit_for(&errors));
    }
    let printing = outcome.model.printing;
    if order::switch(matches, "json") {
        let typed = |value: &Value| value.typed(|length| printing.length(length));
        let inputs = outcome.model.inputs.iter().map(|input| InputJson {
            name: input.name.clone(),
            kind: input.kind.name(),
            default: typed(&input.default),
            min: input.min.as_ref().map(typed),
            max: input.max.as_ref().map(typed),
            step: input.step.as_ref().map(typed),
            choices: input.choices.clone(),
            help: input.help.clone(),
        });
        let listed = Listed {
            version: 1,
            recipe: recipe.name().to_owned(),
            unit: printing.unit.short(),
            inputs: inputs.collect(),
        };
        say_json(console, &listed)?;
    } else if outcome.model.inputs.is_empty() {
        console.say(&format!("{} asks for nothing", render::one_line(recipe.name())))?;
    } else {
        console.say(&table(&outcome.model.inputs, printing, Values::Hidden, console.width))?;
    }
    Ok(if errors.is_empty() { Exit::Done } else { exit_for(&errors) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use casewright::base::Length;
    use casewright::model::InputKind;

    /// Two inputs of a recipe.
    fn sample() -> Vec<Input> {
        let length = |n| Value::Length(Length::from_inch(n, 8));
        let input = Input {
            name: "width".into(),
            kind: InputKind::Length,
            default: length(128),
            min: Some(length(24)),
            max: Some(length(384)),
            step: None,
            choices: Vec::new(),
            help: "outside width of the box".into(),
            value: length(135),
            given: true,
            at: None,
        };
        let choice = Input {
            name: "back".into(),
            kind: InputKind::Choice,
            default: Value::Text("full".into()),
            min: None,
            max: None,
            choices: vec!["full".into(), "cut down".into()],
            help: "how high the back is".into(),
            value: Value::Text("full".into()),
            given: false,
            ..input.clone()
        };
        vec![input, choice]
    }

    #[test]
    fn inputs_read_as_they_are_typed() {
        let text =
            |values| anstream::adapter::strip_str(&table(&sample(), Printing::default(), values, 100)).to_string();
        insta::assert_snapshot!(text(Values::Hidden), @r#"
        Inputs
          input  takes   default  range           what it is
          width  length  16"      3" to 48"       outside width of the box
          back   choice  full     full, cut down  how high the back is
        "#);
        insta::assert_snapshot!(text(Values::Shown), @r#"
        Inputs
          input  takes   now      default  range           what it is
          width  length  16-7/8"  16"      3" to 48"       outside width of the box
          back   choice  full              full, cut down  how high the back is
        "#);
    }
}
