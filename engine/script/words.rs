//! What a recipe says to its maker, and what its own functions are told: notes, warnings, options.

use rhai::{Dynamic, Engine, EvalAltResult, ImmutableString, Map, NativeCallContext};

use super::args::{a_value, length, number, on_one_line, read, refuse_unless, unknown_option};
use super::desk::{DeskRef, MOST, MOST_WORDS, Outcome, WORDS_OF_ONE, raise, refuse_beyond, refuse_name, refuse_talk};
use super::faults::{type_word, with_article};
use super::functions::{CHECK_SQUARE, MARK_OUT};
use super::numbers::with_its_unit;
use crate::base::{Length, Ratio};
use crate::diag::{Finding, did_you_mean};
use crate::model::{MarkOut, Squareness};

/// Stands for an option that must be given.
#[derive(Clone, Copy, Debug)]
struct Required;

pub(super) fn register(engine: &mut Engine, desk: &DeskRef) {
    engine.register_type_with_name::<Required>("required option");
    engine.register_fn("required", || Required);
    engine.register_fn("options", |ctx: NativeCallContext, function: ImmutableString, given: Map, known: Map| {
        options(&ctx, &function, given, known)
    });
    engine
        .register_fn("given_or", |value: Dynamic, otherwise: Dynamic| if value.is_unit() { otherwise } else { value });
    engine.register_fn("is_given", |value: Dynamic| !value.is_unit());
    let shared = desk.clone();
    engine.register_fn("note", move |ctx: NativeCallContext, text: ImmutableString| -> Outcome<()> {
        let mut desk = shared.borrow_mut();
        refuse_talk(&ctx, &mut desk.printed, &text)?;
        desk.model.notes.push(on_one_line(&text));
        Ok(())
    });
    let shared = desk.clone();
    engine.register_fn("warn", move |ctx: NativeCallContext, text: ImmutableString| -> Outcome<()> {
        let mut desk = shared.borrow_mut();
        refuse_talk(&ctx, &mut desk.printed, &text)?;
        let at = desk.at(&ctx);
        desk.findings.push(Finding::warning("recipe-warning", text.to_string()).at(at));
        Ok(())
    });
    engine.register_fn("stop", |ctx: NativeCallContext, text: ImmutableString| -> Outcome<()> {
        Err(raise(&ctx, Finding::error("recipe-stop", text.to_string())))
    });
    let shared = desk.clone();
    engine.register_fn("mark_out", move |ctx: NativeCallContext, what: ImmutableString, given: Map| -> Outcome<()> {
        let options = read(&ctx, &shared, "mark_out", MARK_OUT.options, &given)?;
        refuse_name(&ctx, "a position to mark out", &what)?;
        refuse_beyond(&ctx, MOST, shared.borrow().model.mark_outs.len(), "positions to mark out")?;
        shared.borrow_mut().model.mark_outs.push(MarkOut {
            what: what.to_string(),
            from: options.text("from").unwrap_or_default().to_owned(),
            distance: options.length("distance").unwrap_or(Length::ZERO),
        });
        Ok(())
    });
    let shared = desk.clone();
    engine.register_fn(
        "check_square",
        move |ctx: NativeCallContext, what: ImmutableString, given: Map| -> Outcome<()> {
            let options = read(&ctx, &shared, "check_square", CHECK_SQUARE.options, &given)?;
            let (width, depth) = (options.length("width"), options.length("depth"));
            let (Some(width), Some(depth)) = (width, depth) else { return Ok(()) };
            refuse_name(&ctx, "a box to check", &what)?;
            refuse_beyond(&ctx, MOST, shared.borrow().model.squares.len(), "boxes to check")?;
            for (key, size) in [("width", width), ("depth", depth)] {
                refuse_unless(&ctx, &shared, key, size.is_positive(), "must be more than nothing")?;
            }
            shared.borrow_mut().model.squares.push(Squareness { what: what.to_string(), width, depth });
            Ok(())
        },
    );
    printing(engine, desk);
}

/// `print` and `debug` go to the findings as notes: a recipe has no terminal.
fn printing(engine: &mut Engine, desk: &DeskRef) {
    let shared = desk.clone();
    engine.on_print(move |text| say(&shared, text));
    let shared = desk.clone();
    engine.on_debug(move |text, _, _| say(&shared, text));
}

fn say(desk: &DeskRef, text: &str) {
    let Ok(mut desk) = desk.try_borrow_mut() else { return };
    if desk.printed + text.len() <= MOST_WORDS {
        desk.printed += text.len() + WORDS_OF_ONE;
        desk.findings.push(Finding::note("printed", text.to_owned()));
    }
}

/// A fault in what a script function was given: it lies with the caller, at the option named, or at the call.
#[derive(Clone, Debug)]
pub(super) struct OfCaller {
    pub finding: Finding,
    pub key: String,
}

/// Reads the options of a script function by a map of defaults.
fn options(ctx: &NativeCallContext, function: &str, mut given: Map, mut known: Map) -> Outcome<Map> {
    for key in given.keys() {
        if !known.contains_key(key) {
            let names: Vec<&str> = known.keys().map(smartstring_str).collect();
            return Err(of_caller(ctx, key, unknown_option(function, key, names.iter().copied())));
        }
    }
    for (key, value) in &mut known {
        match given.get_mut(key) {
            None if value.is::<Required>() => {
                let finding = Finding::error("missing-option", format!("`{function}` needs the option `{key}`"));
                return Err(of_caller(ctx, key, finding.maybe_hint(near_miss(key, &given))));
            }
            None => {}
            Some(own) if value.is::<Required>() || value.is_unit() => std::mem::swap(value, own),
            Some(own) => {
                let Some(suits) = suited(own, value) else {
                    let wanted = if value.is::<Length>() { "length" } else { type_word(value.type_name()) };
                    let wanted = with_article(wanted);
                    let message = format!("`{key}` of `{function}` takes {wanted}; {} was given", a_value(own));
                    let finding = Finding::error("wrong-kind", message).maybe_hint(hint_for(own, value));
                    return Err(of_caller(ctx, key, finding));
                };
                *value = suits;
            }
        }
    }
    Ok(known)
}

fn of_caller(ctx: &NativeCallContext, key: &str, finding: Finding) -> Box<EvalAltResult> {
    let fault = OfCaller { finding, key: key.to_owned() };
    Box::new(EvalAltResult::ErrorRuntime(Dynamic::from(fault), ctx.call_position()))
}

/// What to write where a bare number stands for a length.
fn hint_for(value: &Dynamic, default: &Dynamic) -> Option<String> {
    if !default.is::<Length>() {
        return None;
    }
    number(value).map(with_its_unit)
}

fn near_miss(key: &str, given: &Map) -> Option<String> {
    did_you_mean(key, given.keys().map(smartstring_str).collect::<Vec<_>>()).filter(|hint| hint.starts_with("did"))
}

fn smartstring_str(key: &rhai::Identifier) -> &str {
    key.as_str()
}

/// The value, if it is of the default's kind; texts become lengths where a length is wanted.
fn suited(value: &Dynamic, default: &Dynamic) -> Option<Dynamic> {
    if value.type_id() == default.type_id() {
        return Some(value.clone());
    }
    if default.is::<Length>() {
        return length(value).ok().map(Dynamic::from);
    }
    let wants_number = default.is_int() || default.is::<Ratio>() || default.is::<rust_decimal::Decimal>();
    (wants_number && number(value).is_some()).then(|| value.clone())
}
