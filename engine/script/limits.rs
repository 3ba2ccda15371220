//! What a recipe may use of the machine: no disk, no network, no clock, bounded steps, memory and time.
//!
//! Each limit answers something that was seen to outlive or crash an engine without it; `tests/hostile/` holds them.

use std::cell::Cell;
use std::thread;
use std::time::{Duration, Instant};

use rhai::packages::{
    ArithmeticPackage, BasicArrayPackage, BasicFnPackage, BasicIteratorPackage, BasicMapPackage, BasicMathPackage,
    BasicStringPackage, LanguageCorePackage, LogicPackage, MoreStringPackage, Package,
};
use rhai::{
    Array, Dynamic, Engine, EvalAltResult, ImmutableString, LexError, Map, NativeCallContext, OptimizationLevel,
    Position, Token,
};

use super::desk::{Desk, DeskRef, raise};
use crate::base::memory::held_by_thread;
use crate::diag::Finding;

/// The longest recipe file, in bytes: some two thousand lines. What the engine's parser does with names takes the square of them.
pub(super) const SOURCE_BYTES: u64 = 96 * 1024;
/// The most arguments that a call may have: the engine's search for a function doubles with each.
pub(super) const CALL_ARGUMENTS: usize = 32;
/// Steps of the script engine; a recipe of two hundred parts takes some ten thousand.
const STEPS: u64 = 2_000_000;
/// Bytes that a script may hold at once beyond what there was when it began; one step may double them before it is seen.
const BYTES: i64 = 96 << 20;
/// The last resort against a single slow step repeated often.
const TIME: Duration = Duration::from_millis(800);
/// Steps between two looks at the bytes that are held.
const STEPS_BETWEEN_COUNTS: u64 = 8;
/// Steps between two looks at the clock, which costs more than a step.
const STEPS_BETWEEN_LOOKS: u64 = 16;
const STRING_BYTES: usize = 50_000;
const LIST_ITEMS: usize = 10_000;
const MAP_ITEMS: usize = 5_000;
/// A decimal holds 28 digits exactly; the point is one more.
const DECIMAL_DIGITS: usize = 29;
/// Uses of variables between two measurings of one.
const USES_BETWEEN_MEASURINGS: u32 = 64;
/// Enough stack for the longest chain of values that the steps allow to be built, when it is dropped.
const STACK_BYTES: usize = 256 << 20;

/// Runs `work` on a thread whose stack is large enough for every script that keeps within the limits.
/// Everything that touches a [`Workbench`](super::Workbench) happens in there.
///
/// # Panics
/// When `work` panics, and when the machine cannot start a thread.
pub fn on_script_thread<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    thread::scope(|scope| {
        let thread = thread::Builder::new().name("recipe".to_owned()).stack_size(STACK_BYTES).spawn_scoped(scope, work);
        match thread {
            Ok(thread) => thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)),
            Err(error) => panic!("the machine cannot start a thread for recipes: {error}"),
        }
    })
}

/// An engine with the packages that a recipe needs, chosen one by one, and every limit set.
pub(super) fn engine(desk: &DeskRef) -> Engine {
    let mut engine = Engine::new_raw();
    for package in [
        LanguageCorePackage::new().as_shared_module(),
        ArithmeticPackage::new().as_shared_module(),
        LogicPackage::new().as_shared_module(),
        BasicStringPackage::new().as_shared_module(),
        MoreStringPackage::new().as_shared_module(),
        BasicIteratorPackage::new().as_shared_module(),
        BasicArrayPackage::new().as_shared_module(),
        BasicMapPackage::new().as_shared_module(),
        BasicFnPackage::new().as_shared_module(),
        BasicMathPackage::new().as_shared_module(),
    ] {
        engine.register_global_module(package);
    }
    engine
        .set_optimization_level(OptimizationLevel::None)
        .set_strict_variables(true)
        .set_fail_on_invalid_map_property(true)
        .set_max_operations(STEPS)
        .set_max_call_levels(48)
        .set_max_expr_depths(64, 32)
        .set_max_string_size(STRING_BYTES)
        .set_max_array_size(LIST_ITEMS)
        .set_max_map_size(MAP_ITEMS)
        .set_max_variables(1_000)
        .set_max_functions(500)
        .set_max_modules(50)
        .disable_symbol("eval");
    own_words(&mut engine);
    watch(&mut engine, desk);
    measure(&mut engine);
    replace_unbounded(&mut engine);
    engine
}

/// Words that the engine keeps for itself and never uses are names here: `default` and `with` are options that makers read.
/// A decimal with more places than are kept exactly is no number.
fn own_words(engine: &mut Engine) {
    const FREE: [&str; 12] =
        ["default", "with", "new", "is", "case", "match", "use", "shared", "module", "package", "static", "public"];
    // Marked as volatile by its authors, and pinned with the engine's version; `tests/language.rs` holds it.
    #[allow(deprecated)]
    engine.on_parse_token(|token, _, _| match token {
        Token::Reserved(word) if FREE.contains(&word.as_str()) => Token::Identifier(word),
        Token::DecimalConstant(number) if number.1.len() > DECIMAL_DIGITS => {
            Token::LexError(Box::new(LexError::MalformedNumber(number.1.chars().take(DECIMAL_DIGITS).collect())))
        }
        other => other,
    });
}

fn watch(engine: &mut Engine, desk: &DeskRef) {
    let desk = desk.clone();
    engine.on_progress(move |steps| {
        // One step adds at most a text and a list, so that a look at every few of them sees the bytes in time.
        if steps % STEPS_BETWEEN_COUNTS != 0 {
            return None;
        }
        // The desk is only ever borrowed inside a native call, and this runs between them.
        let desk = desk.try_borrow().ok()?;
        if held_by_thread() - desk.bytes_at_start > BYTES {
            let megabytes = BYTES >> 20;
            return Some(Dynamic::from(
                Finding::error("recipe-too-large", format!("the recipe holds more than {megabytes} MB at once"))
                    .hint("keep fewer or shorter lists and texts; a recipe describes parts and needs little of either"),
            ));
        }
        (steps % STEPS_BETWEEN_LOOKS == 0 && is_late(&desk)).then(|| Dynamic::from(too_slow()))
    });
}

/// Measures every so manieth variable that is used. The engine measures a list when it is built, and not when an item of it is
/// replaced, so that many shares of one long text could be put into it: no memory yet, until it is printed or compared.
fn measure(engine: &mut Engine) {
    let uses = Cell::new(0_u32);
    // Marked as volatile by its authors, and pinned with the engine's version; `tests/hostile` holds it.
    #[allow(deprecated)]
    engine.on_var(move |name, _, context| {
        uses.set(uses.get().wrapping_add(1));
        if uses.get().is_multiple_of(USES_BETWEEN_MEASURINGS)
            && let Some(value) = context.scope().get(name)
        {
            let mut size = Size::default();
            size.add(value);
            if size.text > STRING_BYTES || size.items > LIST_ITEMS.max(MAP_ITEMS) {
                let finding = Finding::error("recipe-too-large", format!("`{name}` has grown too large"))
                    .hint("keep fewer or shorter lists and texts; a recipe describes parts and needs little of either");
                return Err(Box::new(EvalAltResult::ErrorRuntime(Dynamic::from(finding), Position::NONE)));
            }
        }
        Ok(None)
    });
}

/// How much a value holds, everything in it included.
#[derive(Default)]
struct Size {
    items: usize,
    text: usize,
}

impl Size {
    fn add(&mut self, value: &Dynamic) {
        if let Ok(text) = value.as_immutable_string_ref() {
            self.text += text.len();
        } else if let Some(list) = value.read_lock::<Array>() {
            self.items += list.len();
            list.iter().for_each(|item| self.add(item));
        } else if let Some(map) = value.read_lock::<Map>() {
            self.items += map.len();
            map.values().for_each(|item| self.add(item));
        }
    }
}

/// Functions of the packages that wait, leave, or may build a huge text in one step.
fn replace_unbounded(engine: &mut Engine) {
    engine.register_fn("sleep", |ctx: NativeCallContext, _seconds: Dynamic| not_here(&ctx, "sleep"));
    // A function for any value gives way to the package's own for a whole number.
    engine.register_fn("sleep", |ctx: NativeCallContext, _seconds: i64| not_here(&ctx, "sleep"));
    engine.register_fn("exit", |ctx: NativeCallContext| not_here(&ctx, "exit"));
    engine.register_fn("exit", |ctx: NativeCallContext, _value: Dynamic| not_here(&ctx, "exit"));
    engine.register_fn("to_json", |ctx: NativeCallContext, _map: &mut Map| not_here(&ctx, "to_json"));
    engine.register_fn("parse_json", |ctx: NativeCallContext, _text: ImmutableString| not_here(&ctx, "parse_json"));

    macro_rules! replace {
        ($($find:ty, $with:ty);+) => {$(
            engine.register_fn(
                "replace",
                |ctx: NativeCallContext, text: &mut ImmutableString, find: $find, with: $with| -> Result<(), Box<EvalAltResult>> {
                    *text = replaced(&ctx, text, &find.to_string(), &with.to_string())?.into();
                    Ok(())
                },
            );
        )+};
    }
    replace!(ImmutableString, ImmutableString; char, ImmutableString; ImmutableString, char; char, char);
}

/// Whether a run has used up its time; for work of ours that takes the engine no step.
pub(super) fn is_late(desk: &Desk) -> bool {
    desk.started.elapsed() > TIME
}

/// The finding for a run that has used up its time.
pub(super) fn too_slow() -> Finding {
    let tenths = TIME.as_millis() / 100;
    Finding::error("recipe-too-slow", format!("the recipe ran for more than {}.{} s", tenths / 10, tenths % 10))
        .hint("look for a loop over long texts or lists")
}

fn not_here(ctx: &NativeCallContext, name: &str) -> Result<Dynamic, Box<EvalAltResult>> {
    Err(raise(
        ctx,
        Finding::error("not-in-recipes", format!("`{name}` is not for recipes: a recipe only describes"))
            .hint("to end a recipe with a message, write stop(\"...\")"),
    ))
}

/// `replace`, refused before a text that is too long is made.
fn replaced(ctx: &NativeCallContext, text: &str, find: &str, with: &str) -> Result<String, Box<EvalAltResult>> {
    let found = if find.is_empty() { text.chars().count() + 1 } else { text.matches(find).count() };
    let grown = (text.len() + found.saturating_mul(with.len())).saturating_sub(found * find.len());
    if grown > STRING_BYTES {
        return Err(raise(
            ctx,
            Finding::error(
                "recipe-too-large",
                format!("the text that `replace` makes is longer than {STRING_BYTES} bytes"),
            ),
        ));
    }
    Ok(text.replace(find, with))
}

/// When a run begins: the moment, and the bytes that the thread holds already.
pub(super) fn start() -> (Instant, i64) {
    (Instant::now(), held_by_thread())
}
