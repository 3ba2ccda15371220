//! `units`, `input` and `requires`: what a recipe asks of its maker.

use rhai::{Array, Dynamic, Engine, ImmutableString, Map, NativeCallContext};

use super::args::{a_value, at_key, number, on_one_line, read, unknown_option};
use super::desk::{Desk, DeskRef, MOST_INPUTS, Outcome, raise, refuse_beyond, refuse_name, refuse_talk};
use super::functions::{INPUT, UNITS};
use super::stock::unknown_stock;
use crate::base::{Length, Ratio, Unit, parse_length, parse_ratio};
use crate::diag::{At, Finding, did_you_mean, nearest};
use crate::model::{Input, InputKind, StockForm, Value};

pub(super) fn register(engine: &mut Engine, desk: &DeskRef) {
    let shared = desk.clone();
    engine.register_fn("units", move |ctx: NativeCallContext, unit: ImmutableString| units(&ctx, &shared, &unit));
    let shared = desk.clone();
    engine.register_fn("job_unit", move || -> ImmutableString { shared.borrow().model.unit().short().into() });
    let shared = desk.clone();
    engine.register_fn("by_unit", move |inch: Length, metric: Length| match shared.borrow().model.unit() {
        Unit::Inch => inch,
        Unit::Millimetre => metric,
    });
    let shared = desk.clone();
    engine.register_fn("input", move |ctx: NativeCallContext, name: ImmutableString, given: Map| {
        input(&ctx, &shared, &name, &given)
    });
    let shared = desk.clone();
    engine.register_fn("requires", move |ctx: NativeCallContext, holds: bool, message: ImmutableString| {
        requires(&ctx, &shared, holds, &message)
    });
    let shared = desk.clone();
    engine.register_fn("not_used", move |ctx: NativeCallContext, names: Array, why: ImmutableString| {
        not_used(&ctx, &shared, &names, &why)
    });
}

fn units(ctx: &NativeCallContext, desk: &DeskRef, unit: &str) -> Outcome<()> {
    let Some(unit) = Unit::from_short(unit) else {
        return Err(raise(
            ctx,
            Finding::error("unknown-choice", format!("`{}` takes \"in\" or \"mm\"; \"{unit}\" is neither", UNITS.name)),
        ));
    };
    let mut desk = desk.borrow_mut();
    if !desk.model.inputs.is_empty() {
        return Err(raise(
            ctx,
            Finding::error(
                "units-too-late",
                "`units` comes after an input, which has been read in another unit already",
            )
            .hint("write `units` in the first line of the recipe"),
        ));
    }
    if !desk.unit_fixed {
        desk.model.printing.unit = unit;
    }
    Ok(())
}

fn requires(ctx: &NativeCallContext, desk: &DeskRef, holds: bool, message: &str) -> Outcome<()> {
    if holds {
        return Ok(());
    }
    let mut desk = desk.borrow_mut();
    refuse_talk(ctx, &mut desk.printed, message)?;
    let at = desk.at(ctx);
    desk.findings
        .push(Finding::error("requirement", message.to_owned()).at(at).hint("change the inputs so that this holds"));
    Ok(())
}

fn input(ctx: &NativeCallContext, desk: &DeskRef, name: &str, given: &Map) -> Outcome<Dynamic> {
    let specs = INPUT.options;
    refuse_name(ctx, "an input", name)?;
    refuse_beyond(ctx, MOST_INPUTS, desk.borrow().model.inputs.len(), "inputs")?;
    for key in given.keys() {
        if !specs.iter().any(|spec| spec.name == key.as_str()) {
            return Err(at_key(ctx, desk, key, unknown_option("input", key, specs.iter().map(|spec| spec.name))));
        }
    }
    let words = read(ctx, desk, "input", specs, &of_text(given))?;
    let at = desk.borrow_mut().at(ctx);
    let declared = Declaration { ctx, desk, name, given, at: at.clone() };
    let choices: Vec<String> = words.texts("choices").into_iter().map(str::to_owned).collect();
    let kind = declared.kind(words.text("kind"), &choices)?;
    let default = declared.value("default", kind)?.ok_or_else(|| {
        raise(
            ctx,
            Finding::error("missing-option", format!("the input `{name}` has no `default`"))
                .hint("give every input a value that works, so that the recipe can be tried at once"),
        )
    })?;
    let mut input = Input {
        name: name.to_owned(),
        kind,
        value: default.clone(),
        default,
        min: declared.value("min", kind)?,
        max: declared.value("max", kind)?,
        step: declared.value("step", kind)?,
        choices,
        help: words.text("help").unwrap_or_default().to_owned(),
        given: false,
        at,
    };
    let mut desk = desk.borrow_mut();
    if desk.model.inputs.iter().any(|known| known.name == name) {
        return Err(raise(
            ctx,
            Finding::error("input-twice", format!("the input `{name}` is declared twice"))
                .hint("declare it once and keep its value in a variable"),
        ));
    }
    if let Some(fault) = fault_of_default(&desk, &input) {
        return Err(raise(ctx, fault));
    }
    let typed: Vec<String> =
        desk.given.iter().filter(|(given, _)| given == name).map(|(_, text)| text.clone()).collect();
    if typed.len() > 1 {
        let finding = Finding::error("input-given-twice", format!("the input `{name}` is given more than once"));
        let finding = finding.at(input.at.clone()).hint("give it once");
        desk.findings.push(finding);
    }
    if let Some(text) = typed.first() {
        match read_typed(&desk, &input, text).and_then(|value| in_range(&desk, &input, &value).map(|()| value)) {
            Ok(value) => {
                input.value = value;
                input.given = true;
            }
            Err(finding) => {
                let at = input.at.clone();
                desk.findings.push(finding.at(at));
            }
        }
    }
    let value = script_value(&input.value);
    desk.model.inputs.push(input);
    Ok(value)
}

/// Notes each of the inputs that the maker gave and that have no effect.
fn not_used(ctx: &NativeCallContext, desk: &DeskRef, names: &Array, why: &str) -> Outcome<()> {
    let mut desk = desk.borrow_mut();
    refuse_talk(ctx, &mut desk.printed, why)?;
    for name in names {
        let known: Vec<String> = desk.model.inputs.iter().map(|input| input.name.clone()).collect();
        let Ok(name) = name.as_immutable_string_ref().map(|name| name.to_string()) else {
            let message = format!("`not_used` takes the names of inputs; {} is in the list", a_value(name));
            return Err(raise(ctx, Finding::error("wrong-kind", message)));
        };
        let Some(input) = desk.model.inputs.iter().find(|input| input.name == name.as_str()) else {
            let finding = Finding::error(
                "unknown-input",
                format!("`not_used` names `{name}`, and this recipe has no such input"),
            );
            return Err(raise(ctx, finding.maybe_hint(did_you_mean(&name, known.iter().map(String::as_str)))));
        };
        if !input.given {
            continue;
        }
        let (message, at) = (format!("`{name}` is not used: {}", on_one_line(why)), input.at.clone());
        desk.findings.push(Finding::note("input-not-used", message).at(at).hint(format!("leave `{name}` out")));
    }
    Ok(())
}

/// The options that are plain text, for the general reader; the others are read by the input's kind.
fn of_text(given: &Map) -> Map {
    given
        .iter()
        .filter(|(key, _)| ["help", "kind", "choices"].contains(&key.as_str()))
        .map(|(key, value)| (key.clone(), value.clone()))
        .collect()
}

struct Declaration<'a, 'c> {
    ctx: &'a NativeCallContext<'c>,
    desk: &'a DeskRef,
    name: &'a str,
    given: &'a Map,
    at: Option<At>,
}

impl Declaration<'_, '_> {
    fn kind(&self, word: Option<&str>, choices: &[String]) -> Outcome<InputKind> {
        if let Some(word) = word {
            return InputKind::ALL.into_iter().find(|(_, name, _)| *name == word).map(|(kind, ..)| kind).ok_or_else(
                || {
                    let known = InputKind::ALL.map(|(_, name, _)| name);
                    let finding = Finding::error("unknown-choice", format!("there is no input of kind \"{word}\""));
                    at_key(self.ctx, self.desk, "kind", finding.maybe_hint(did_you_mean(word, known)))
                },
            );
        }
        if !choices.is_empty() {
            return Ok(InputKind::Choice);
        }
        let default = self.given.get("default");
        Ok(match default {
            Some(value) if value.is::<Length>() => InputKind::Length,
            Some(value) if value.is_array() => InputKind::Lengths,
            Some(value) if value.is_int() => InputKind::Count,
            Some(value) if value.is_bool() => InputKind::YesNo,
            Some(value) if value.is_string() => InputKind::Text,
            _ => InputKind::Number,
        })
    }

    fn value(&self, key: &str, kind: InputKind) -> Outcome<Option<Value>> {
        let Some(given) = self.given.get(key) else { return Ok(None) };
        // The limits of several lengths are those of each; the limits of a stock are those of its thickness.
        let is_limit = key != "default" && (kind == InputKind::Lengths || kind.is_stock());
        let one = if is_limit { InputKind::Length } else { kind };
        let read = match one {
            InputKind::Length => super::args::length(given).ok().map(Value::Length),
            InputKind::Lengths => given
                .read_lock::<Array>()
                .and_then(|list| list.iter().map(|item| super::args::length(item).ok()).collect::<Option<Vec<_>>>())
                .map(Value::Lengths),
            InputKind::Count => given.as_int().ok().map(Value::Count),
            InputKind::Number => number(given).map(Value::Number),
            InputKind::YesNo => given.as_bool().ok().map(Value::YesNo),
            InputKind::Choice
            | InputKind::Text
            | InputKind::Sheet
            | InputKind::Board
            | InputKind::SheetOrBoard
            | InputKind::Band => given.as_immutable_string_ref().ok().map(|text| Value::Text(text.to_string())),
        };
        if read.is_some() {
            return Ok(read);
        }
        let finding = Finding::error(
            "wrong-kind",
            format!(
                "`{key}` of the input `{}` does not suit its kind, {}; {} was given",
                self.name,
                kind.name(),
                a_value(given)
            ),
        )
        .at(self.at.clone())
        .hint(match one {
            InputKind::Length => "write a length with its unit, such as 18.mm or (7/8).inch",
            InputKind::Lengths => "write a list of lengths, such as [36.inch, 900.mm]",
            InputKind::Count => "write a whole number",
            InputKind::Number => "write a plain number",
            InputKind::YesNo => "write true or false",
            InputKind::Choice | InputKind::Text => "write text in quotes",
            InputKind::Sheet | InputKind::Board | InputKind::SheetOrBoard | InputKind::Band => {
                "write the name of a stock in quotes, such as \"3/4 birch plywood\""
            }
        });
        Err(at_key(self.ctx, self.desk, key, finding))
    }
}

fn fault_of_default(desk: &Desk, input: &Input) -> Option<Finding> {
    if let Value::Text(word) = &input.default
        && input.kind == InputKind::Choice
        && !input.choices.contains(word)
    {
        return Some(
            Finding::error(
                "wrong-default",
                format!("the default \"{word}\" of the input `{}` is not among its choices", input.name),
            )
            .hint(format!("its choices are {}", input.choices.join(", "))),
        );
    }
    let fault = match &input.default {
        Value::Text(name) if input.kind.is_stock() => {
            read_stock(desk, input, name).and_then(|value| in_range(desk, input, &value))
        }
        default => in_range(desk, input, default),
    };
    let fault = fault.err()?;
    Some(
        Finding::error("wrong-default", format!("the default breaks the input's own rule: {}", fault.message))
            .maybe_hint(fault.hint),
    )
}

/// Reads what was typed for an input.
fn read_typed(desk: &Desk, input: &Input, text: &str) -> Result<Value, Finding> {
    let unit = desk.model.printing.unit;
    let wrong = |message: String, hint: String| {
        Finding::error("wrong-input", format!("the input `{}` cannot be read: {message}", input.name)).hint(hint)
    };
    let word = text.trim();
    match input.kind {
        InputKind::Length => parse_length(text, Some(unit)).map(Value::Length).map_err(|e| wrong(e.message, e.hint)),
        InputKind::Lengths => text
            .split(';')
            .map(str::trim)
            .filter(|one| !one.is_empty())
            .map(|one| parse_length(one, Some(unit)))
            .collect::<Result<Vec<_>, _>>()
            .map(Value::Lengths)
            .map_err(|e| {
                let several = text.contains(',') && !text.contains(';');
                let hint = if several {
                    "several lengths have semicolons between them: 6; 8-1/2; 10".to_owned()
                } else {
                    e.hint
                };
                wrong(e.message, hint)
            }),
        InputKind::Count => word
            .parse::<i64>()
            .map(Value::Count)
            .map_err(|_| wrong(format!("`{word}` is not a whole number"), "write digits only, such as 6".to_owned())),
        InputKind::Number => {
            let hint = "write digits, with a point or a fraction: 3, 1.5 or 7/8";
            parse_ratio(text)
                .map(Value::Number)
                .map_err(|_| wrong(format!("`{word}` is not a plain number"), hint.to_owned()))
        }
        InputKind::YesNo => match word.to_lowercase().as_str() {
            "yes" | "true" | "y" => Ok(Value::YesNo(true)),
            "no" | "false" | "n" => Ok(Value::YesNo(false)),
            _ => Err(wrong(format!("`{word}` is neither yes nor no"), "write yes or no".to_owned())),
        },
        InputKind::Choice if input.choices.iter().any(|choice| choice == word) => Ok(Value::Text(word.to_owned())),
        InputKind::Choice => {
            if word.is_empty() {
                let hint = format!("choose one of {}; or leave the input out", input.choices.join(", "));
                return Err(wrong("it has no value".to_owned(), hint));
            }
            let hint = did_you_mean(word, input.choices.iter().map(String::as_str)).unwrap_or_default();
            Err(wrong(format!("`{word}` is not among its choices"), hint))
        }
        InputKind::Text => Ok(Value::Text(text.to_owned())),
        InputKind::Sheet | InputKind::Board | InputKind::SheetOrBoard | InputKind::Band => {
            read_stock(desk, input, word)
        }
    }
}

/// The stock of a name, or one of the words that stand for having none.
fn read_stock(desk: &Desk, input: &Input, name: &str) -> Result<Value, Finding> {
    if input.choices.iter().any(|choice| choice == name) {
        return Ok(Value::Text(name.to_owned()));
    }
    let told = |message: String| Finding::error("wrong-input", format!("the input `{}`: {message}", input.name));
    let Some(stock) = desk.find_stock(name) else {
        // Quotes that a shell has left are none of the name.
        let name = name.trim_matches(['"', '\'']);
        let unknown = unknown_stock(desk, name);
        let word =
            nearest(name, input.choices.iter().map(String::as_str)).map(|near| format!("did you mean `{near}`?"));
        return Err(told(unknown.message).maybe_hint(word.or(unknown.hint)));
    };
    if !input.kind.takes_form(&stock.form) {
        let form = match stock.form {
            StockForm::Sheet { .. } => "sheet",
            StockForm::Board { .. } => "board",
            StockForm::Band { .. } => "band",
        };
        let default = input.default.typed(|length| desk.model.printing.length(length));
        return Err(told(format!("`{}` is a {form}, and a {} is wanted", stock.name, input.kind.name()))
            .hint(format!("`{default}` is what the recipe takes when it is left out")));
    }
    Ok(Value::Text(stock.name.clone()))
}

/// Whether a value keeps the input's own limits.
fn in_range(desk: &Desk, input: &Input, value: &Value) -> Result<(), Finding> {
    let print_length = |length: Length| desk.model.printing.length(length);
    let stock = match value {
        Value::Text(name) if input.kind.is_stock() => desk.find_stock(name),
        _ => None,
    };
    // Of a stock it is the thickness that has limits.
    let thickness = stock.map(|stock| Value::Length(stock.thickness()));
    let print = |value: &Value| value.typed(print_length);
    let shown = |value: &Value| match &thickness {
        Some(thick) => format!("`{}`, {} thick", print(value), print(thick)),
        None => print(value),
    };
    let each: Vec<Ratio> = amounts(thickness.as_ref().unwrap_or(value));
    let fault = |message: String, hint: String| {
        Err(Finding::error("input-out-of-range", format!("the input `{}` {message}", input.name)).hint(hint))
    };
    let range = match (&input.min, &input.max) {
        (Some(min), Some(max)) if input.kind.is_stock() => {
            format!("choose stock from {} to {} thick", print(min), print(max))
        }
        (Some(min), Some(max)) => format!("give a value from {} to {}", print(min), print(max)),
        (Some(min), None) => format!("give {} or more", print(min)),
        (None, Some(max)) => format!("give {} or less", print(max)),
        (None, None) => String::new(),
    };
    if let (Value::Lengths(given), Value::Lengths(usual)) = (value, &input.default)
        && given.is_empty()
        && !usual.is_empty()
    {
        return fault(
            "needs at least one length".to_owned(),
            format!("it is {} when it is left out", print(&input.default)),
        );
    }
    for amount in each {
        if let Some(min) = &input.min
            && amounts(min).first().is_some_and(|min| amount < *min)
        {
            return fault(format!("is {}, below its smallest value", shown(value)), range);
        }
        if let Some(max) = &input.max
            && amounts(max).first().is_some_and(|max| amount > *max)
        {
            return fault(format!("is {}, above its largest value", shown(value)), range);
        }
        if let Some(step) = &input.step {
            let from = input.min.as_ref().and_then(|min| amounts(min).first().copied()).unwrap_or_default();
            let off_step = amounts(step).first().is_some_and(|step| {
                *step.numer() != 0
                    && num_traits::CheckedSub::checked_sub(&amount, &from)
                        .and_then(|above| num_traits::CheckedDiv::checked_div(&above, step))
                        .is_none_or(|count| !count.is_integer())
            });
            if off_step {
                let above = input.min.as_ref().map(|min| format!(", counted from {}", print(min))).unwrap_or_default();
                return fault(
                    format!("is {}, which is not a whole number of steps", print(value)),
                    format!("give a multiple of {}{above}", print(step)),
                );
            }
        }
    }
    Ok(())
}

fn amounts(value: &Value) -> Vec<Ratio> {
    match value {
        Value::Length(length) => vec![Ratio::from_integer(length.nm())],
        Value::Lengths(lengths) => lengths.iter().map(|length| Ratio::from_integer(length.nm())).collect(),
        Value::Count(count) => vec![Ratio::from_integer(*count)],
        Value::Number(number) => vec![*number],
        _ => Vec::new(),
    }
}

fn script_value(value: &Value) -> Dynamic {
    match value {
        Value::Length(length) => Dynamic::from(*length),
        Value::Lengths(lengths) => Dynamic::from_array(lengths.iter().map(|&length| Dynamic::from(length)).collect()),
        Value::Count(count) => Dynamic::from_int(*count),
        Value::Number(number) if number.is_integer() => Dynamic::from_int(*number.numer()),
        Value::Number(number) => Dynamic::from(*number),
        Value::YesNo(yes) => Dynamic::from_bool(*yes),
        Value::Text(text) => Dynamic::from(ImmutableString::from(text.as_str())),
        _ => Dynamic::UNIT,
    }
}
