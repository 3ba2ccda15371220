//! Reads the options map of a call by the table of its options, so that every slip is told with its place.

use rhai::{Array, Dynamic, ImmutableString, Map, NativeCallContext};
use rust_decimal::Decimal;

use super::desk::{DeskRef, Outcome, raise};
use super::faults::{type_word, with_article};
use super::numbers::{decimal_ratio, fraction_text};
use super::parts::{OpeningHandle, PartHandle, PieceHandle};
use super::stock::StockHandle;
use crate::base::{Face, Length, Printing, Ratio, Unit, parse_length};
use crate::diag::{Finding, did_you_mean, nearest};
use crate::model::{Fits, Kind, Moving, OptionSpec, Options, Value};

/// Reads `given` by `specs`.
///
/// # Errors
/// An unknown option, a missing one, a value of the wrong kind; each at the option's own place where it is written there.
pub(super) fn read(
    ctx: &NativeCallContext,
    desk: &DeskRef,
    function: &str,
    specs: &[OptionSpec],
    given: &Map,
) -> Outcome<Options> {
    for key in given.keys() {
        if !specs.iter().any(|spec| spec.name == key.as_str()) {
            return Err(unknown(ctx, desk, function, key, specs.iter().map(|spec| spec.name)));
        }
    }
    let mut options = Options::new();
    for spec in specs {
        match given.get(spec.name) {
            None if spec.default.is_empty() => {
                let finding =
                    Finding::error("missing-option", format!("`{function}` needs the option `{}`", spec.name))
                        .hint(format!("{}: {}", spec.help, spec.kind.describe()));
                return Err(raise(ctx, finding));
            }
            None => {}
            Some(value) => match convert(spec, value) {
                Ok(value) => options = options.with(spec.name, value),
                Err(wrong) => return Err(at_key(ctx, desk, spec.name, wrong.finding(function, spec))),
            },
        }
    }
    Ok(options)
}

/// An option that is not known, as a raised finding.
pub(super) fn unknown<'a>(
    ctx: &NativeCallContext,
    desk: &DeskRef,
    function: &str,
    key: &str,
    known: impl IntoIterator<Item = &'a str> + Clone,
) -> Box<rhai::EvalAltResult> {
    at_key(ctx, desk, key, unknown_option(function, key, known))
}

/// The finding for an option that is not known.
pub(super) fn unknown_option<'a>(
    function: &str,
    key: &str,
    known: impl IntoIterator<Item = &'a str> + Clone,
) -> Finding {
    Finding::error("unknown-option", format!("`{function}` has no option `{key}`")).maybe_hint(did_you_mean(key, known))
}

/// Raises a finding at the place of an option.
pub(super) fn at_key(ctx: &NativeCallContext, desk: &DeskRef, key: &str, finding: Finding) -> Box<rhai::EvalAltResult> {
    let at = desk.borrow_mut().at_key(ctx, key);
    raise(ctx, finding.at(at))
}

/// Refuses a size that cannot be, at the place of its option.
pub(super) fn refuse_unless(
    ctx: &NativeCallContext,
    desk: &DeskRef,
    key: &str,
    holds: bool,
    must: &str,
) -> Outcome<()> {
    if holds {
        Ok(())
    } else {
        Err(at_key(ctx, desk, key, Finding::error("size-without-size", format!("`{key}` {must}"))))
    }
}

/// Why a value does not suit its option.
pub(super) struct Wrong {
    what: String,
    hint: Option<String>,
    code: &'static str,
}

impl Wrong {
    fn kind(value: &Dynamic) -> Self {
        Self { what: format!("{} was given", a_value(value)), hint: None, code: "wrong-kind" }
    }

    fn finding(self, function: &str, spec: &OptionSpec) -> Finding {
        let message = format!("`{}` of `{function}` takes {}; {}", spec.name, short(spec.kind), self.what);
        let hint = self.hint.unwrap_or_else(|| match spec.kind {
            Kind::Choice([first, ..]) => format!("write one of them, such as {}: \"{first}\"", spec.name),
            kind => format!("write {}", kind.describe()),
        });
        Finding::error(self.code, message).hint(hint)
    }
}

fn short(kind: Kind) -> String {
    if let Kind::Choice(words) = kind {
        return either(words);
    }
    let text = kind.describe();
    text.split_once(&[',', ':'][..]).map_or(text.clone(), |(head, _)| head.to_owned())
}

/// Words to choose from: `"in" or "mm"`.
fn either(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    match quoted.split_last() {
        Some((last, others)) if !others.is_empty() => format!("{} or {last}", others.join(", ")),
        _ => quoted.join(""),
    }
}

/// A value in words: "the whole number 3", "a list".
pub(super) fn a_value(value: &Dynamic) -> String {
    if let Ok(number) = value.as_int() {
        return format!("the bare number {number}");
    }
    if let Some(number) = value.read_lock::<Decimal>() {
        return format!("the bare number {}", number.normalize());
    }
    if let Some(number) = value.read_lock::<Ratio>() {
        return format!("the bare number {}", fraction_text(*number));
    }
    if let Some(length) = value.read_lock::<Length>() {
        return format!("the length {}", length_text(*length));
    }
    if let Ok(text) = value.as_immutable_string_ref() {
        return format!("the text \"{}\"", clipped(&text));
    }
    with_article(type_word(value.type_name()))
}

/// A length as it was most likely written: in inches when it is a division of the rule, else in millimetres.
pub(super) fn length_text(length: Length) -> String {
    let rule = Printing { unit: Unit::Inch, denominator: 64 };
    if length.nm() % Length::from_inch(1, 64).nm() == 0 { rule.length(length) } else { length.to_string() }
}

fn clipped(text: &str) -> String {
    if text.chars().count() <= 40 { text.to_owned() } else { text.chars().take(40).chain("...".chars()).collect() }
}

fn convert(spec: &OptionSpec, value: &Dynamic) -> Result<Value, Wrong> {
    match spec.kind {
        Kind::Length => length(value).map(Value::Length),
        Kind::Lengths => match value.read_lock::<Array>() {
            Some(list) => list.iter().map(length).collect::<Result<_, _>>().map(Value::Lengths),
            None => length(value).map(|one| Value::Lengths(vec![one])),
        },
        Kind::Count => value.as_int().map(Value::Count).map_err(|_| Wrong::kind(value)),
        Kind::Number => number(value).map(Value::Number).ok_or_else(|| Wrong::kind(value)),
        Kind::YesNo => value.as_bool().map(Value::YesNo).map_err(|_| Wrong::kind(value)),
        Kind::Text | Kind::Any => text(value).map(Value::Text),
        Kind::Texts => match value.read_lock::<Array>() {
            Some(list) => list.iter().map(text).collect::<Result<_, _>>().map(Value::Texts),
            None => text(value).map(|one| Value::Texts(vec![one])),
        },
        Kind::Choice(words) => choice(value, words),
        Kind::Fit => fit(value),
        Kind::Face => face(value).map(|one| Value::Faces(vec![one])),
        Kind::Faces => match value.read_lock::<Array>() {
            Some(list) => list.iter().map(face).collect::<Result<_, _>>().map(Value::Faces),
            None => face(value).map(|one| Value::Faces(vec![one])),
        },
        Kind::Stock => handle::<StockHandle>(value).map(|stock| Value::Stock(stock.0)),
        Kind::Part => handle::<PartHandle>(value).map(|part| Value::Parts(vec![part.0])),
        Kind::Parts => match value.read_lock::<Array>() {
            Some(list) if list.is_empty() => {
                Err(Wrong { what: "the list is empty".into(), hint: None, code: "wrong-kind" })
            }
            Some(list) => list
                .iter()
                .map(|one| handle::<PartHandle>(one).map(|part| part.0))
                .collect::<Result<_, _>>()
                .map(Value::Parts),
            None => handle::<PartHandle>(value).map(|part| Value::Parts(vec![part.0])),
        },
        Kind::Piece => handle::<PieceHandle>(value).map(|piece| Value::Piece(piece.0)),
        Kind::Opening => handle::<OpeningHandle>(value).map(|opening| Value::Opening(opening.0)),
        Kind::Moving => match value.read_lock::<Array>() {
            Some(list) => list.iter().map(moving).collect::<Result<_, _>>().map(Value::Moving),
            None => moving(value).map(|one| Value::Moving(vec![one])),
        },
    }
}

fn handle<T: Clone + 'static>(value: &Dynamic) -> Result<T, Wrong> {
    value.read_lock::<T>().map(|handle| handle.clone()).ok_or_else(|| Wrong::kind(value))
}

fn moving(value: &Dynamic) -> Result<Moving, Wrong> {
    if let Some(part) = value.read_lock::<PartHandle>() {
        return Ok(Moving::Part(part.0));
    }
    handle::<PieceHandle>(value).map(|piece| Moving::Piece(piece.0))
}

/// A length: a length, or a text in a notation of the trade with its unit.
pub(super) fn length(value: &Dynamic) -> Result<Length, Wrong> {
    if let Some(length) = value.read_lock::<Length>() {
        return Ok(*length);
    }
    if let Ok(text) = value.as_immutable_string_ref() {
        return parse_length(&text, None).map_err(|error| Wrong {
            what: error.message,
            hint: Some(error.hint),
            code: "not-a-length",
        });
    }
    if number(value).is_some() {
        return Err(bare_number(value));
    }
    Err(Wrong::kind(value))
}

fn bare_number(value: &Dynamic) -> Wrong {
    let (written, plain) = match (value.as_int(), value.read_lock::<Decimal>(), value.read_lock::<Ratio>()) {
        (Ok(number), ..) => (number.to_string(), true),
        (_, Some(number), _) => (number.normalize().to_string(), true),
        (_, _, Some(number)) => (fraction_text(*number), false),
        _ => (String::new(), true),
    };
    let hint = if plain { format!("write {written}.mm or {written}.inch") } else { format!("write ({written}).inch") };
    Wrong { what: format!("{} has no unit", a_value(value)), hint: Some(hint), code: "bare-number" }
}

/// A plain number of any of the three kinds.
pub(super) fn number(value: &Dynamic) -> Option<Ratio> {
    if let Ok(number) = value.as_int() {
        return Some(Ratio::from_integer(number));
    }
    if let Some(number) = value.read_lock::<Decimal>() {
        return decimal_ratio(*number);
    }
    value.read_lock::<Ratio>().map(|number| *number)
}

fn text(value: &Dynamic) -> Result<String, Wrong> {
    value.as_immutable_string_ref().map(|text| on_one_line(&text)).map_err(|_| Wrong::kind(value))
}

/// A text as it may stand in a list or on a terminal: what would move the pen is a space.
pub(super) fn on_one_line(text: &str) -> String {
    text.replace(char::is_control, " ")
}

/// A fit by its word, or a length.
fn fit(value: &Dynamic) -> Result<Value, Wrong> {
    if let Ok(word) = value.as_immutable_string_ref() {
        if let Some(known) = Fits::WORDS.into_iter().find(|known| *known == word.as_str()) {
            return Ok(Value::Text(known.to_owned()));
        }
        if !word.contains(|c: char| c.is_ascii_digit()) {
            return Err(Wrong {
                what: format!("\"{}\" is none of them", clipped(&word)),
                hint: nearest(&word, Fits::WORDS).map(|near| format!("did you mean `{near}`?")),
                code: "unknown-choice",
            });
        }
    }
    length(value).map(Value::Length)
}

fn choice(value: &Dynamic, words: &'static [&'static str]) -> Result<Value, Wrong> {
    let word = text(value)?;
    if words.contains(&word.as_str()) {
        return Ok(Value::Text(word));
    }
    Err(Wrong {
        what: format!("\"{}\" is none of them", clipped(&word)),
        hint: nearest(&word, words.iter().copied()).map(|near| format!("did you mean `{near}`?")),
        code: "unknown-choice",
    })
}

fn face(value: &Dynamic) -> Result<Face, Wrong> {
    let word = text(value)?;
    Face::from_name(&word).ok_or_else(|| Wrong {
        what: format!("\"{}\" is not a face", clipped(&word)),
        hint: did_you_mean(&word, Face::ALL.map(Face::name)),
        code: "unknown-choice",
    })
}

/// The text of an argument that must be text.
pub(super) fn words(text: &ImmutableString) -> String {
    text.to_string()
}
