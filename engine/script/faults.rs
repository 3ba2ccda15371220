//! Turns the engine's errors into findings: in the maker's words, at their place, with what to write instead.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Arc;

use rhai::{AST, Dynamic, Engine, EvalAltResult};

use super::desk::{Desk, QuietStop};
use super::library::{self, library};
use super::modules::Faults;
use super::syntax::{BEGINNINGS, Spot, digits_at_end, fraction, word_at};
use super::words::OfCaller;
use super::{Sources, functions, place};
use crate::diag::{At, Finding, did_you_mean, nearest};

/// Whether a script was ended because its inputs were refused, which has been reported already.
pub(super) fn is_quiet_stop(error: &EvalAltResult) -> bool {
    match error {
        EvalAltResult::ErrorInFunctionCall(_, _, inner, _) | EvalAltResult::ErrorInModule(_, inner, _) => {
            is_quiet_stop(inner)
        }
        EvalAltResult::ErrorTerminated(token, _) => token.is::<QuietStop>(),
        _ => false,
    }
}

/// The findings of a script's error.
pub(super) fn findings(
    error: &EvalAltResult,
    desk: &Desk,
    sources: &Sources,
    ast: Option<&AST>,
    engine: &Engine,
) -> Vec<Finding> {
    let found = located(error, desk, sources, ast, engine).into_iter();
    found.map(|finding| makers_line_first(mended_fraction(finding, sources))).collect()
}

/// The findings with the innermost place first, as the engine tells it.
fn located(error: &EvalAltResult, desk: &Desk, sources: &Sources, ast: Option<&AST>, engine: &Engine) -> Vec<Finding> {
    let mut file: Arc<str> = ast.and_then(AST::source).unwrap_or("").into();
    let mut through: Vec<At> = Vec::new();
    let mut error = error;
    loop {
        match error {
            EvalAltResult::ErrorInFunctionCall(_, source, inner, position) => {
                through.extend(place(&file, *position));
                if !source.is_empty() {
                    file = source.as_str().into();
                }
                error = inner;
            }
            EvalAltResult::ErrorInModule(_, inner, position) => {
                through.extend(place(&file, *position));
                error = inner;
            }
            _ => break,
        }
    }
    through.reverse();
    let at = place(&file, error.position());
    if let EvalAltResult::ErrorRuntime(value, _) = error {
        if let Some(faults) = value.read_lock::<Faults>() {
            return faults.0.iter().cloned().map(|finding| with_place(finding, at.as_ref(), &through)).collect();
        }
        if let Some(fault) = value.read_lock::<OfCaller>() {
            let finding = fault.finding.clone();
            let Some((caller, through)) = through.split_first() else {
                return vec![with_place(finding, at.as_ref(), &[])];
            };
            return vec![with_place(finding, Some(&desk.place_of_key(caller, &fault.key)), through)];
        }
    }
    let names = Names { desk, sources, ast, engine, file: &file };
    vec![with_place(one(error, &names), at.as_ref(), &through)]
}

fn with_place(mut finding: Finding, at: Option<&At>, through: &[At]) -> Finding {
    match &finding.at {
        // A finding of an imported file keeps its place; the import is what led there.
        Some(own) if at.is_some_and(|at| at.file != own.file) => finding.through.extend(at.cloned()),
        Some(_) => {}
        None => finding.at = at.cloned(),
    }
    finding.through.extend(through.iter().cloned());
    finding
}

/// A fault inside a built-in recipe that the maker calls is told at the maker's own line: that is the one to change.
/// The built-in place comes first in the way that led there.
fn makers_line_first(mut finding: Finding) -> Finding {
    let built_in = |at: &At| library().iter().any(|built_in| *at.file == library::file_name(built_in.name));
    if let Some(inner) = finding.at.clone().filter(built_in)
        && let Some(own) = finding.through.iter().position(|at| !built_in(at))
    {
        finding.at = Some(finding.through.remove(own));
        finding.through.insert(0, inner);
    }
    finding
}

/// The fraction that stands before a unit, as it was written and then in brackets: the operator saw only its two sides.
fn mended_fraction(finding: Finding, sources: &Sources) -> Finding {
    if finding.code != "number-over-length" {
        return finding;
    }
    let written = finding.at.as_ref().and_then(|at| {
        let line = sources.get(&at.file)?.lines().nth(usize::try_from(at.line).ok()?.checked_sub(1)?)?;
        let (stroke, _) = line.char_indices().nth(usize::try_from(at.column).ok()?.checked_sub(1)?)?;
        let (left, right) = (&line[..stroke], line[stroke..].strip_prefix('/')?.trim_start());
        let (under, rest) = right.split_once('.')?;
        let unit = word_at(rest);
        let plain = left.trim_end().ends_with(|c: char| c.is_ascii_digit());
        let under_is_number = !under.is_empty() && under.chars().all(|c| c.is_ascii_digit());
        let divisor = format!("{under}.{unit}");
        (plain && under_is_number && !unit.is_empty())
            .then(|| (digits_at_end(left.trim_end()), divisor, fraction(left, under), unit))
    });
    let Some((over, divisor, number, unit)) = written else { return finding };
    Finding {
        message: format!("a plain number, {over}, is divided by the length {divisor}"),
        hint: Some(format!("to write a fraction of a unit, put it in brackets: {number}.{unit}")),
        ..finding
    }
}

/// What is known by name where an error happened.
struct Names<'a> {
    desk: &'a Desk,
    sources: &'a Sources,
    ast: Option<&'a AST>,
    engine: &'a Engine,
    file: &'a Arc<str>,
}

impl Names<'_> {
    fn text(&self) -> &str {
        self.sources.get(self.file).map_or("", |text| text)
    }
}

fn one(error: &EvalAltResult, names: &Names<'_>) -> Finding {
    match error {
        EvalAltResult::ErrorRuntime(value, _) | EvalAltResult::ErrorTerminated(value, _) => thrown(value, names),
        EvalAltResult::ErrorParsing(kind, position) => {
            super::syntax::finding(kind, *position, names.text(), names.file)
        }
        EvalAltResult::ErrorFunctionNotFound(signature, _) => no_function(signature, names),
        EvalAltResult::ErrorVariableNotFound(name, _) => unknown_name(name, names.text(), None),
        EvalAltResult::ErrorModuleNotFound(name, _) => {
            Finding::error("unknown-name", format!("nothing is imported as `{name}`"))
                .hint(format!("write `import \"...\" as {name};` in the first lines of the recipe"))
        }
        EvalAltResult::ErrorPropertyNotFound(name, _) => {
            let known = options_written(names.text());
            Finding::error("unknown-property", format!("there is no `{name}` in these options"))
                .maybe_hint(near(name, known.iter().map(String::as_str).filter(|known| *known != name)))
        }
        EvalAltResult::ErrorDotExpr(text, _) => property(text, names),
        EvalAltResult::ErrorIndexNotFound(index, _) => {
            Finding::error("unknown-property", format!("there is nothing at `{index}`"))
        }
        EvalAltResult::ErrorArrayBounds(count, index, _) => {
            Finding::error("list-too-short", format!("the list has {count} items, so there is no item {index}"))
                .hint("items count from 0; the last is -1")
        }
        EvalAltResult::ErrorStringBounds(count, index, _) => {
            Finding::error("list-too-short", format!("the text has {count} letters, so there is no letter {index}"))
        }
        EvalAltResult::ErrorMismatchDataType(wanted, given, _)
        | EvalAltResult::ErrorMismatchOutputType(wanted, given, _) => mismatch(wanted, given),
        EvalAltResult::ErrorIndexingType(kind, _) => {
            Finding::error("wrong-kind", format!("{} has no items to take by number", with_article(&types(kind))))
        }
        EvalAltResult::ErrorFor(_) => {
            Finding::error("wrong-kind", "`for` can only go through a list, a range or a text")
                .hint("write `for i in 0..count { ... }` or `for item in list { ... }`")
        }
        EvalAltResult::ErrorArithmetic(text, _) if text.to_lowercase().contains("zero") => {
            Finding::error("division-by-zero", "this divides by zero")
        }
        EvalAltResult::ErrorArithmetic(..) => {
            Finding::error("number-too-large", "the result is too large to be held exactly").hint("check the numbers")
        }
        EvalAltResult::ErrorTooManyOperations(_) => {
            Finding::error("recipe-too-long", "the recipe takes too many steps; a loop may have no end")
                .hint("look at the conditions of its loops")
        }
        EvalAltResult::ErrorStackOverflow(_) => {
            Finding::error("recipe-too-deep", "functions call each other too deeply")
                .hint("a function may be calling itself without an end")
        }
        EvalAltResult::ErrorDataTooLarge(what, _) => {
            Finding::error("recipe-too-large", format!("a value grows too large: {}", what.to_lowercase()))
        }
        EvalAltResult::ErrorTooManyVariables(_) => {
            Finding::error("recipe-too-large", "the recipe has too many variables")
        }
        EvalAltResult::ErrorTooManyModules(_) => {
            Finding::error("recipe-too-large", "the recipe imports too many files")
        }
        EvalAltResult::ErrorAssignmentToConstant(name, _) => {
            Finding::error("constant-changed", format!("`{name}` is a constant and cannot be changed"))
                .hint("declare it with `let` instead of `const`")
        }
        EvalAltResult::ErrorNonPureMethodCallOnConstant(name, _) => {
            Finding::error("constant-changed", format!("`{name}` would change a constant"))
        }
        EvalAltResult::ErrorDataRace(..) => Finding::error("value-in-use", "a value is used inside itself here")
            .hint("keep what is needed of it in a variable first"),
        other => {
            let text = other.to_string();
            let text = text.split(" (line ").next().unwrap_or(&text).to_owned();
            Finding::error("recipe-fault", text)
        }
    }
}

fn thrown(value: &Dynamic, names: &Names<'_>) -> Finding {
    if let Some(finding) = value.read_lock::<Finding>() {
        return finding.clone();
    }
    let text = super::show_value(names.engine, value);
    Finding::error("recipe-stop", text)
}

fn near<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(name, known).map(|near| format!("did you mean `{near}`?"))
}

/// A name that is not known, with the likely reason.
pub(super) fn unknown_name(name: &str, text: &str, spot: Option<&Spot<'_>>) -> Finding {
    let finding = Finding::error("unknown-name", format!("nothing is called `{name}` here"));
    let words = identifiers(text);
    let own: Vec<&str> = words.iter().map(String::as_str).filter(|word| *word != name).collect();
    if let Some(spot) = spot.filter(|spot| spot.begins()) {
        let after = spot.rest[word_at(spot.rest).len()..].trim_start();
        if after.starts_with(|c: char| c.is_alphanumeric() || "_\"({".contains(c))
            && let Some(word) = nearest(name, BEGINNINGS)
        {
            let small = if name.to_lowercase() == word { " Words of the language are written small" } else { "" };
            return finding.hint(format!("did you mean `{word}`?{small}"));
        }
        if after.starts_with('=') && !after.starts_with("==") {
            let near = near(name, own).map_or_else(String::new, |near| format!("{near} "));
            return finding.hint(format!("{near}a new name begins with `let`: let {name} = ..."));
        }
    }
    let declared = declared_in(text, name);
    if let (Some(line), Some(spot)) = (declared, spot) {
        return if spot.in_function() {
            finding.hint(OUTSIDE)
        } else if line > spot.line {
            finding.hint(format!("it is declared further down, in line {line}: move that line up"))
        } else {
            finding.hint("it was declared between { and }, and ended with them: declare it before the {")
        };
    }
    if declared.is_some() {
        return finding.hint(OUTSIDE);
    }
    finding.maybe_hint(near(name, own.into_iter().chain(functions::names().map(|name| -> &str { name }))))
}

const OUTSIDE: &str = "a function does not see the variables outside it: hand them in as arguments";

/// The first line of a text that declares a variable or constant of this name.
fn declared_in(text: &str, name: &str) -> Option<usize> {
    let declares = |line: &str| {
        let rest = ["let ", "const "].iter().find_map(|word| line.trim_start().strip_prefix(word))?;
        let rest = rest.trim_start().strip_prefix(name)?;
        rest.trim_start().starts_with(['=', ';']).then_some(())
    };
    text.lines().position(|line| declares(line).is_some()).map(|index| index + 1)
}

/// The names that a text declares: variables, constants, functions and their arguments, loop variables, imports.
fn identifiers(text: &str) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    let words: Vec<&str> =
        text.split(|c: char| !(c.is_alphanumeric() || c == '_')).filter(|word| !word.is_empty()).collect();
    for pair in words.windows(2) {
        if ["let", "const", "fn", "for", "as"].contains(&pair[0]) {
            names.insert(pair[1].to_owned());
        }
    }
    for line in text.lines() {
        if let Some((_, rest)) = line.split_once("fn ")
            && let Some((arguments, _)) = rest.split_once('(').and_then(|(_, rest)| rest.split_once(')'))
        {
            names.extend(arguments.split(',').map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()));
        }
    }
    names
}

/// The names of options that a text writes: words before a colon.
fn options_written(text: &str) -> BTreeSet<String> {
    let word = |text: &str| {
        let letters: Vec<char> =
            text.trim_end().chars().rev().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        letters.into_iter().rev().collect::<String>()
    };
    text.match_indices(':').map(|(at, _)| word(&text[..at])).filter(|word| !word.is_empty()).collect()
}

/// The functions of what a text imports under a name, as far as its source was read; each with how it is written.
fn functions_imported(names: &Names<'_>, module: &str) -> BTreeMap<String, String> {
    let alias = format!(" as {module};");
    let path = names.text().lines().find_map(|line| {
        let rest = line.trim_start().strip_prefix("import")?;
        rest.contains(&alias).then(|| rest.split('"').nth(1))?
    });
    let Some(path) = path else { return BTreeMap::new() };
    let file = format!("{path}.rhai");
    let text = names.sources.iter().find(|(name, _)| Path::new(&***name).ends_with(&file)).map(|(_, text)| text);
    let defined = text.map_or("", |text| text).lines().filter_map(|line| line.trim_start().strip_prefix("fn "));
    let called = defined.filter_map(|rest| {
        let (name, rest) = rest.split_once('(')?;
        let (takes, _) = rest.split_once(')')?;
        Some((name.trim().to_owned(), format!("{}({})", name.trim(), takes.trim())))
    });
    called.collect()
}

fn no_function(signature: &str, names: &Names<'_>) -> Finding {
    // The engine reports what `sort` cannot do as if it were a function's name.
    if signature.contains("cannot be sorted") {
        return Finding::error("wrong-kind", "a list can only be put in order when its items are of one kind")
            .hint("sort numbers, or texts; for lengths give `sort` a function: list.sort(|a, b| ...)");
    }
    let (name, arguments) =
        signature.split_once(" (").map_or((signature, ""), |(name, rest)| (name, rest.trim_end_matches(')')));
    let given = types(arguments);
    if !name.starts_with(|c: char| c.is_alphabetic() || c == '_') {
        return operator(name, arguments, &given);
    }
    let own: Vec<String> =
        names.ast.map(|ast| ast.iter_functions().map(|f| f.name.to_owned()).collect()).unwrap_or_default();
    let plain = name.rsplit("::").next().unwrap_or(name);
    if let Some(usage) = functions::usage_of(plain) {
        let with = listed(&given);
        let message = match functions::takes(plain) {
            Some(takes) => format!("`{plain}` takes {takes}; it was given {with}"),
            None => format!("`{plain}` cannot take {with}"),
        };
        return Finding::error("wrong-arguments", message).hint(format!("it is written {usage}"));
    }
    if let Some((module, function)) = name.rsplit_once("::") {
        let known = functions_imported(names, module);
        if let Some(written) = known.get(function) {
            let message = format!("`{function}` of `{module}` cannot take {}", listed(&given));
            return Finding::error("wrong-arguments", message).hint(format!("it is written {module}::{written}"));
        }
        return Finding::error("unknown-function", format!("`{module}` has no function `{function}`"))
            .maybe_hint(did_you_mean(function, known.keys().map(String::as_str)));
    }
    let script = names.ast.and_then(|ast| ast.iter_functions().find(|function| function.name == name));
    if let Some(function) = script {
        let count = function.params.len();
        let values = if count == 1 { "value" } else { "values" };
        let there = if given.is_empty() { 0 } else { given.split(", ").count() };
        let message = format!("`{name}` takes {count} {values}; it was given {there}");
        return Finding::error("wrong-arguments", message)
            .hint(format!("it is written {name}({})", function.params.join(", ")));
    }
    let engine_names = engine_functions(names.engine);
    let known: Vec<&str> = own.iter().chain(&engine_names).map(String::as_str).collect();
    if known.contains(&name) {
        return Finding::error("wrong-arguments", format!("`{name}` cannot be used with {}", listed(&given)));
    }
    Finding::error("unknown-function", format!("there is no function `{name}`"))
        .maybe_hint(near(plain, known.iter().copied()))
}

fn operator(name: &str, arguments: &str, given: &str) -> Finding {
    if arguments.contains("get$") || name.contains('$') {
        return Finding::error("wrong-kind", format!("this cannot be done with ({given})"));
    }
    let finding =
        Finding::error("wrong-kind", format!("`{name}` cannot be used between {}", given.replace(", ", " and ")));
    if arguments.contains("nothing") || arguments.contains("()") {
        return finding.hint("one side has no value: a function may end without giving one");
    }
    finding.hint("work with lengths and lengths, or numbers and numbers")
}

/// Names of the engine's own functions that a recipe may use on lists, texts and options.
pub(super) fn engine_functions(engine: &Engine) -> Vec<String> {
    let mut names = engine.collect_fn_metadata(None, |info| Some(info.metadata.name.to_string()), true);
    names.retain(|name| name.starts_with(|c: char| c.is_ascii_lowercase()) && !name.contains('$'));
    names.sort_unstable();
    names.dedup();
    names
}

fn property(text: &str, names: &Names<'_>) -> Finding {
    // The engine says: Unknown property 'widht' - a getter is not registered for type 'part'
    let mut quoted = text.split('\'').skip(1).step_by(2);
    let (Some(name), Some(kind)) = (quoted.next(), quoted.next()) else {
        return Finding::error("unknown-property", text.to_owned());
    };
    let word = type_word(kind);
    let known: &[&str] = match word {
        "part" => &[
            "left",
            "right",
            "front",
            "back",
            "bottom",
            "top",
            "width",
            "depth",
            "height",
            "thickness",
            "stock",
            "name",
        ],
        "opening" => &["left", "right", "front", "back", "bottom", "top", "width", "depth", "height", "taper", "name"],
        "piece" => &["width", "depth", "height", "name"],
        "stock" => &["thickness", "expected", "named", "name", "has_grain"],
        "slides" => &["clearance", "slack", "height", "under", "name"],
        "whole number" | "decimal number" | "fraction" => &["inch", "mm", "cm", "m", "foot", "feet"],
        _ => &[],
    };
    let finding = Finding::error("unknown-property", format!("{} has no `{name}`", with_article(word)));
    if word == "length" {
        return finding.hint("a length has its unit already; multiply or divide it by a plain number");
    }
    if name == "in" || name == "inc" {
        return finding.hint("write .inch");
    }
    let _ = names.desk;
    finding.maybe_hint(did_you_mean(name, known.iter().copied()))
}

fn mismatch(wanted: &str, given: &str) -> Finding {
    let (wanted, given) = (types(wanted), types(given));
    let finding = Finding::error(
        "wrong-kind",
        format!("{} is needed here; this is {}", with_article(&wanted), with_article(&given)),
    );
    if wanted == "yes or no" { finding.hint("write a comparison, such as width > 12.inch") } else { finding }
}

/// The engine's type names in the maker's words.
fn types(list: &str) -> String {
    let list = list.replace("&str | ImmutableString | String", "string");
    list.split(", ").map(|name| type_word(name.trim())).collect::<Vec<_>>().join(", ")
}

/// A list of types in words, each with its article: "text and a whole number".
fn listed(list: &str) -> String {
    let words: Vec<String> = list.split(", ").filter(|word| !word.is_empty()).map(with_article).collect();
    match words.split_last() {
        None => "nothing".to_owned(),
        Some((only, [])) => only.clone(),
        Some((end, others)) => format!("{} and {end}", others.join(", ")),
    }
}

/// The word with its article; "nothing" and "yes or no" stand by themselves.
pub(super) fn with_article(word: &str) -> String {
    match word {
        "nothing" | "yes or no" | "text" | "slides" => word.to_owned(),
        _ if word.starts_with(['a', 'e', 'i', 'o', 'u']) => format!("an {word}"),
        _ => format!("a {word}"),
    }
}

/// A type in the maker's words.
pub(super) fn type_word(name: &str) -> &str {
    match name {
        "i64" | "int" | "INT" => "whole number",
        "decimal" | "Decimal" | "rust_decimal::decimal::Decimal" => "decimal number",
        "string" | "ImmutableString" | "char" => "text",
        "bool" => "yes or no",
        "array" => "list",
        "map" => "set of options #{...}",
        "()" => "nothing",
        "Fn" => "function",
        "range" | "range=" => "range",
        other => other.trim_start_matches("&mut "),
    }
}
