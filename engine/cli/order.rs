//! What several commands ask for alike: a recipe, its inputs, the unit and the shop.

use std::path::Path;
use std::sync::Arc;

use casewright::base::Unit;
use casewright::diag::{Finding, did_you_mean, has_errors};
use casewright::job::{self, Order, Outcome};
use casewright::model::Shop;
use casewright::script::{self, Recipe, Sources, Workbench};
use casewright::shop_file;
use casewright::world::{Disk, World};
use clap::{Arg, ArgMatches};

use super::console::Console;
use super::disk;
use super::exit::Exit;
use super::render;

/// The code of findings about files that could not be read.
const UNREADABLE: &str = "unreadable-file";

/// The largest shop file or job table that is read. A rack of ten thousand entries is a tenth of it.
pub const FILE_LIMIT: u64 = 16 << 20;

/// The argument that names a recipe.
pub fn recipe_arg() -> Arg {
    Arg::new("recipe").value_name("RECIPE").help("A recipe file, or the name of a built-in recipe")
}

/// The arguments that give inputs their values.
pub fn inputs_arg() -> Arg {
    Arg::new("inputs")
        .value_name("NAME=VALUE")
        .num_args(0..)
        .help("Inputs of the recipe, such as \"width=16 7/8\" or depth=428mm; a bare number is in the job's unit")
}

/// The option that chooses the unit.
pub fn units_arg() -> Arg {
    Arg::new("units")
        .long("units")
        .value_name("UNIT")
        .value_parser(["in", "mm"])
        .help("Read bare numbers and print sizes in inches or millimetres [default: the shop's, else the recipe's]")
}

/// The option that names a shop file.
pub fn shop_arg() -> Arg {
    Arg::new("shop")
        .long("shop")
        .value_name("FILE")
        .value_parser(clap::builder::NonEmptyStringValueParser::new())
        .help("The shop file: measured stock, kerf, prices [default: none, a common shop is assumed]")
}

/// The option that asks for output that programs read.
pub fn json_arg() -> Arg {
    Arg::new("json").long("json").action(clap::ArgAction::SetTrue).help("Print JSON for other programs to read")
}

/// The shop that a job is made in, with the text it was read from.
#[derive(Clone, Debug, Default)]
pub struct ShopRead {
    /// The shop.
    pub shop: Shop,
    /// Its file's text under the file's name; empty without a file.
    pub sources: Sources,
}

/// What was typed, read as far as it can be without a recipe.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The recipe's file or built-in name.
    pub recipe: String,
    /// Inputs by name, as they were typed.
    pub inputs: Vec<(String, String)>,
    /// The unit asked for.
    pub units: Option<Unit>,
    /// The shop.
    pub shop: ShopRead,
}

impl Asked {
    /// Reads the arguments that the command has. The error is the code to end with; it has been told.
    pub fn read(matches: &ArgMatches, console: &mut Console) -> Result<Self, Exit> {
        let recipe = text(matches, "recipe").unwrap_or_default();
        let typed = matches.try_get_many::<String>("inputs").ok().flatten().into_iter().flatten();
        let inputs = inputs(typed.map(String::as_str)).map_err(|fault| console.usage(&fault.message, &fault.hint))?;
        Ok(Self { recipe, inputs, units: units(matches), shop: shop(matches, console)? })
    }

    /// The order for this recipe.
    pub fn order(&self) -> Order<'_> {
        Order { inputs: &self.inputs, units: self.units, shop: &self.shop.shop }
    }

    /// Opens the recipe. What is wrong with it is told, and the error is the code to end with.
    pub fn open(&self, bench: &Workbench, console: &mut Console) -> Result<Recipe, Exit> {
        open(bench, &self.recipe).map_err(|findings| {
            console.tell(&render::findings(&findings, &self.sources(bench), console.width));
            exit_for(&findings)
        })
    }

    /// Opens the recipe and runs it.
    pub fn run(&self, bench: &Workbench, console: &mut Console) -> Result<Outcome, Exit> {
        let recipe = self.open(bench, console)?;
        Ok(job::run(bench, &recipe, self.order()))
    }

    /// The text of every file that findings may point into.
    pub fn sources(&self, bench: &Workbench) -> Sources {
        let mut sources = bench.sources();
        sources.extend(self.shop.sources.clone());
        sources
    }
}

/// The code that a command ends with after these findings.
pub fn exit_for(findings: &[Finding]) -> Exit {
    if findings.iter().any(|finding| finding.code == UNREADABLE) {
        Exit::File
    } else if has_errors(findings) {
        Exit::JobErrors
    } else {
        Exit::Done
    }
}

/// Opens a recipe by its file or built-in name. A name that is neither is told with the nearest built-in one.
pub fn open(bench: &Workbench, recipe: &str) -> Result<Recipe, Vec<Finding>> {
    let built_in = script::library().iter().map(|each| each.name);
    if built_in.clone().any(|name| name == recipe) {
        return bench.open(recipe);
    }
    if recipe.trim().is_empty()
        || Disk.true_path(Path::new(recipe)).is_err_and(|error| error.kind() == std::io::ErrorKind::NotFound)
    {
        let message = format!("there is no recipe `{recipe}`: it is neither a file nor a built-in recipe");
        let hint = with_ending(recipe).map(|file| format!("did you mean `{file}`?"));
        let hint = hint.or_else(|| did_you_mean(recipe, built_in));
        return Err(vec![Finding::error(UNREADABLE, message).maybe_hint(hint)]);
    }
    bench.open(recipe)
}

/// The recipe file that a name without its ending stands for, where there is one.
pub fn with_ending(name: &str) -> Option<String> {
    let file = format!("{name}.rhai");
    (!name.trim().is_empty() && Path::new(&file).is_file()).then_some(file)
}

/// The value of a text argument.
pub fn text(matches: &ArgMatches, name: &str) -> Option<String> {
    matches.try_get_one::<String>(name).ok().flatten().cloned()
}

/// Whether a switch was given.
pub fn switch(matches: &ArgMatches, name: &str) -> bool {
    matches.try_get_one::<bool>(name).ok().flatten().copied().unwrap_or(false)
}

/// The unit asked for.
pub fn units(matches: &ArgMatches) -> Option<Unit> {
    text(matches, "units").and_then(|unit| Unit::from_short(&unit))
}

/// Reads the shop file, if one was named.
pub fn shop(matches: &ArgMatches, console: &mut Console) -> Result<ShopRead, Exit> {
    let Some(file) = text(matches, "shop") else { return Ok(ShopRead::default()) };
    read_shop(&file).map_err(|(findings, sources)| {
        console.tell(&render::findings(&findings, &sources, console.width));
        exit_for(&findings)
    })
}

/// Reads a shop file, or gives what is wrong with it together with its text.
pub fn read_shop(file: &str) -> Result<ShopRead, (Vec<Finding>, Sources)> {
    let text = read_file(file, "shop file", "save it as plain text in UTF-8")
        .map_err(|finding| (vec![*finding], Sources::new()))?;
    let sources = Sources::from([(Arc::from(file), Arc::from(text.as_str()))]);
    match shop_file::read(file, &text) {
        Ok(shop) => Ok(ShopRead { shop, sources }),
        Err(findings) => Err((findings, sources)),
    }
}

/// Reads a text file that the maker named; `save_as` says how to come by one that is text.
pub fn read_file(file: &str, what: &str, save_as: &str) -> Result<String, Box<Finding>> {
    Disk.read(Path::new(file), FILE_LIMIT).map_err(|error| {
        let short = std::fs::metadata(file).is_ok_and(|about| about.len() <= FILE_LIMIT);
        // A short file with data that cannot be read is one of bytes that are no text.
        let hint = if short && error.kind() == std::io::ErrorKind::InvalidData { save_as } else { "" };
        let finding = unreadable(file, what, &disk::reason(&error));
        Box::new(finding.maybe_hint(Some(hint.to_owned()).filter(|hint| !hint.is_empty())))
    })
}

/// The finding about a file that could not be read.
pub fn unreadable(file: &str, what: &str, why: &str) -> Finding {
    Finding::error(UNREADABLE, format!("the {what} `{file}` could not be read: {why}"))
}

/// What is wrong with a typed input, and what to type instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InputFault {
    /// What is wrong.
    pub message: String,
    /// What to do about it.
    pub hint: String,
}

/// Reads inputs of the shape NAME=VALUE. The value is for the recipe to judge; the name has to look like one.
pub fn inputs<'a>(typed: impl IntoIterator<Item = &'a str>) -> Result<Vec<(String, String)>, InputFault> {
    let typed: Vec<&str> = typed.into_iter().collect();
    let mut read: Vec<(String, String)> = Vec::new();
    for (i, text) in typed.iter().enumerate() {
        let Some((name, value)) = text.split_once('=') else {
            return Err(InputFault {
                message: format!("`{text}` is not of the form NAME=VALUE"),
                hint: stray(&typed, i),
            });
        };
        let (name, value) = (name.trim(), value.trim());
        if !is_name(name) {
            return Err(InputFault {
                message: format!("`{name}` in `{text}` is not the name of an input"),
                hint: "a name begins with a letter and has letters, digits and _ only: width=428mm".into(),
            });
        }
        if read.iter().any(|(other, _)| other == name) {
            return Err(InputFault {
                message: format!("the input `{name}` is given twice"),
                hint: "give it once".into(),
            });
        }
        read.push((name.to_owned(), value.to_owned()));
    }
    Ok(read)
}

/// What to type instead of a word that stands by itself: most often the shell has split what belongs together.
fn stray(typed: &[&str], at: usize) -> String {
    let before = at.checked_sub(1).and_then(|i| typed.get(i));
    let after = typed.get(at + 1);
    if let Some(after) = after.filter(|after| after.starts_with('=')) {
        let value = after.trim_start_matches('=').trim();
        let value = if value.is_empty() { typed.get(at + 2).copied().unwrap_or("428mm") } else { value };
        return format!("leave no blank around the `=`: {}={value}", typed.get(at).copied().unwrap_or_default());
    }
    match before.filter(|before| before.contains('=')) {
        Some(before) => {
            format!(
                "put quotes around a value with a blank: \"{before} {}\"",
                typed.get(at).copied().unwrap_or_default()
            )
        }
        None => "write the name, `=` and the value without blanks: width=428mm".into(),
    }
}

/// Whether a text can be the name of an input: as recipes name things.
pub fn is_name(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_alphabetic() || c == '_')
        && text.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inputs_are_names_with_values() {
        let read = inputs(["width=16 7/8", "name = a=b ", "notes="]).unwrap();
        let expected = [("width", "16 7/8"), ("name", "a=b"), ("notes", "")];
        assert_eq!(read, expected.map(|(name, value)| (name.to_owned(), value.to_owned())));
    }

    #[test]
    fn what_is_not_an_input_is_told_with_what_to_type() {
        for (typed, message, hint) in [
            (vec!["width", "=", "16"], "`width` is not of the form", "width=16"),
            (vec!["width", "=16"], "`width` is not of the form", "width=16"),
            (vec!["width=16", "7/8"], "`7/8` is not of the form", "\"width=16 7/8\""),
            (vec!["16"], "`16` is not of the form", "width=428mm"),
            (vec!["=16"], "`` in `=16`", "begins with a letter"),
            (vec!["2wide=16"], "`2wide`", "begins with a letter"),
            (vec!["a=1", "a=2"], "`a` is given twice", "once"),
        ] {
            let fault = inputs(typed.iter().copied()).unwrap_err();
            assert!(fault.message.contains(message), "{typed:?}: {}", fault.message);
            assert!(fault.hint.contains(hint), "{typed:?}: {}", fault.hint);
        }
    }

    #[test]
    fn an_unreadable_file_outweighs_other_errors() {
        let errors = [Finding::error("overlap", ""), Finding::error(UNREADABLE, "")];
        assert_eq!(exit_for(&errors), Exit::File);
        assert_eq!(exit_for(&errors[..1]), Exit::JobErrors);
        assert_eq!(exit_for(&[Finding::warning("x", "")]), Exit::Done);
    }

    #[test]
    fn a_shop_file_that_is_not_there_is_a_file_fault() {
        let (findings, _) = read_shop("/no/such/shop.toml").unwrap_err();
        assert_eq!(exit_for(&findings), Exit::File);
        assert!(findings[0].message.contains("no such file"), "{}", findings[0]);
    }
}
