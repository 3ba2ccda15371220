//! Numbers and lengths in recipes: `/` is exact, sizes carry their unit, and what would silently go wrong is an error.
//!
//! `7/8` is a fraction and `8/2` a whole number; decimals are exact decimals. A length is made by a unit (`16.inch`,
//! `(16 + 7/8).inch`, `18.mm`), and every operator that the engine would answer with a silent `false` or a wrong value is
//! registered as an error that says what to write.

use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, CheckedSub};
use rhai::{Array, Dynamic, Engine, ImmutableString, NativeCallContext};
use rust_decimal::Decimal;

use super::args::{a_value, length as as_length, length_text, number as as_number};
use super::desk::{DeskRef, Outcome, raise};
use crate::base::{Length, OutOfRange, Printing, Ratio, Unit};
use crate::diag::Finding;

pub(super) fn register(engine: &mut Engine, desk: &DeskRef) {
    engine.register_type_with_name::<Length>("length");
    engine.register_type_with_name::<Ratio>("fraction");
    division(engine);
    units(engine);
    plain_arithmetic(engine);
    length_arithmetic(engine);
    comparisons(engine);
    functions(engine);
    printing(engine, desk);
}

/// The exact value of a decimal, if it fits.
pub(super) fn decimal_ratio(number: Decimal) -> Option<Ratio> {
    let number = number.normalize();
    let mantissa = i64::try_from(number.mantissa()).ok()?;
    let scale = 10_i64.checked_pow(number.scale())?;
    Some(Ratio::new(mantissa, scale))
}

/// A fraction as a recipe would write it.
pub(super) fn fraction_text(number: Ratio) -> String {
    if number.is_integer() { number.numer().to_string() } else { format!("{}/{}", number.numer(), number.denom()) }
}

/// A number as a script value: whole numbers stay whole, so that they can count and index.
fn value(number: Ratio) -> Dynamic {
    if number.is_integer() { Dynamic::from_int(*number.numer()) } else { Dynamic::from(number) }
}

fn too_large(ctx: &NativeCallContext) -> Box<rhai::EvalAltResult> {
    raise(
        ctx,
        Finding::error("number-too-large", "the result is too large to be held exactly").hint("check the numbers"),
    )
}

fn too_long(ctx: &NativeCallContext) -> Box<rhai::EvalAltResult> {
    raise(
        ctx,
        Finding::error("number-too-large", "this length is longer than a kilometre")
            .hint("lengths go up to one kilometre; check the numbers and their units"),
    )
}

fn by_zero(ctx: &NativeCallContext) -> Box<rhai::EvalAltResult> {
    raise(
        ctx,
        Finding::error("division-by-zero", "this divides by zero").hint("check what the divisor is before dividing"),
    )
}

fn kept<T>(ctx: &NativeCallContext, result: Result<T, OutOfRange>) -> Outcome<T> {
    result.map_err(|_| too_long(ctx))
}

/// Makes `/` an operator of our own: the engine's is a whole-number division that cannot be replaced while it is built in.
fn division(engine: &mut Engine) {
    engine.disable_symbol("/").disable_symbol("/=");
    // 180 is the precedence of the built-in `*` and `/`. The symbol is disabled above, so this cannot fail.
    let _ = engine.register_custom_operator("/", 180);
    macro_rules! divide {
        ($($a:ty, $b:ty);+) => {$(
            engine.register_fn("/", |ctx: NativeCallContext, a: $a, b: $b| -> Outcome<Dynamic> {
                let (Some(a), Some(b)) = (a.ratio(), b.ratio()) else { return Err(too_large(&ctx)) };
                if *b.numer() == 0 {
                    return Err(by_zero(&ctx));
                }
                a.checked_div(&b).map(value).ok_or_else(|| too_large(&ctx))
            });
        )+};
    }
    divide!(i64, i64; i64, Ratio; i64, Decimal; Ratio, i64; Ratio, Ratio; Ratio, Decimal; Decimal, i64; Decimal, Ratio; Decimal, Decimal);
    macro_rules! share {
        ($($b:ty),+) => {$(
            engine.register_fn("/", |ctx: NativeCallContext, a: Length, b: $b| -> Outcome<Length> {
                let Some(b) = b.ratio() else { return Err(too_large(&ctx)) };
                if *b.numer() == 0 {
                    return Err(by_zero(&ctx));
                }
                kept(&ctx, a.over(b))
            });
            engine.register_fn("/", |ctx: NativeCallContext, a: $b, b: Length| -> Outcome<Length> {
                let a = a.ratio().map(fraction_text).unwrap_or_default();
                Err(raise(&ctx, Finding::error("number-over-length", format!("a plain number, {a}, is divided by the length {}", length_text(b)))
                    .hint(format!("to write a fraction of a unit, put it in brackets: ({a}/8).inch"))))
            });
        )+};
    }
    share!(i64, Ratio, Decimal);
    engine.register_fn("/", |ctx: NativeCallContext, a: Length, b: Length| -> Outcome<Dynamic> {
        a.ratio_to(b).map(value).map_err(|_| by_zero(&ctx))
    });
    engine.register_fn("/", |ctx: NativeCallContext, a: Dynamic, b: Dynamic| -> Outcome<Dynamic> {
        Err(raise(
            &ctx,
            Finding::error("wrong-kind", format!("{} cannot be divided by {}", a_value(&a), a_value(&b)))
                .hint("divide numbers by numbers, lengths by numbers, or lengths by lengths"),
        ))
    });
}

/// The three kinds of plain number, as an exact fraction.
trait Exact {
    fn ratio(self) -> Option<Ratio>;
}

impl Exact for i64 {
    fn ratio(self) -> Option<Ratio> {
        Some(Ratio::from_integer(self))
    }
}

impl Exact for Ratio {
    fn ratio(self) -> Option<Ratio> {
        Some(self)
    }
}

impl Exact for Decimal {
    fn ratio(self) -> Option<Ratio> {
        decimal_ratio(self)
    }
}

fn units(engine: &mut Engine) {
    macro_rules! unit {
        ($($number:ty),+; $($name:literal = $unit:expr, $times:literal);+) => {
            unit!(@each [$($number),+] $($name = $unit, $times);+);
        };
        (@each $numbers:tt $($name:literal = $unit:expr, $times:literal);+) => {$(
            unit!(@one $numbers $name, $unit, $times);
        )+};
        (@one [$($number:ty),+] $name:literal, $unit:expr, $times:literal) => {$(
            engine.register_fn(concat!("get$", $name), |ctx: NativeCallContext, number: &mut $number| -> Outcome<Length> {
                let count = number.ratio().and_then(|number| number.checked_mul(&Ratio::from_integer($times)));
                let Some(count) = count else { return Err(too_long(&ctx)) };
                kept(&ctx, Length::of(count, $unit))
            });
        )+};
    }
    unit!(i64, Ratio, Decimal;
        "inch" = Unit::Inch, 1; "inches" = Unit::Inch, 1; "feet" = Unit::Inch, 12; "foot" = Unit::Inch, 12;
        "mm" = Unit::Millimetre, 1; "cm" = Unit::Millimetre, 10; "m" = Unit::Millimetre, 1000);
}

fn plain_arithmetic(engine: &mut Engine) {
    macro_rules! arithmetic {
        ($($a:ty, $b:ty);+) => {$(
            engine.register_fn("+", |ctx: NativeCallContext, a: $a, b: $b| plain(&ctx, a.ratio(), b.ratio(), |a, b| a.checked_add(b)));
            engine.register_fn("-", |ctx: NativeCallContext, a: $a, b: $b| plain(&ctx, a.ratio(), b.ratio(), |a, b| a.checked_sub(b)));
            engine.register_fn("*", |ctx: NativeCallContext, a: $a, b: $b| plain(&ctx, a.ratio(), b.ratio(), |a, b| a.checked_mul(b)));
        )+};
    }
    arithmetic!(Ratio, Ratio; Ratio, i64; i64, Ratio; Ratio, Decimal; Decimal, Ratio);
    engine.register_fn("-", |ctx: NativeCallContext, number: Ratio| negated(&ctx, number));
    engine.register_fn("+", |number: Ratio| number);
    engine.register_fn(
        "abs",
        |ctx: NativeCallContext, number: Ratio| {
            if *number.numer() < 0 { negated(&ctx, number) } else { Ok(number) }
        },
    );
    // By hand, because the fraction's own rounding overflows near the ends of its range. The divisor is positive.
    engine.register_fn("floor", |number: Ratio| number.numer().div_euclid(*number.denom()));
    engine.register_fn("ceiling", |number: Ratio| {
        let more = i64::from(number.numer().rem_euclid(*number.denom()) > 0);
        number.numer().div_euclid(*number.denom()) + more
    });
    engine.register_fn("floor", |number: i64| number);
    engine.register_fn("ceiling", |number: i64| number);
}

fn negated(ctx: &NativeCallContext, number: Ratio) -> Outcome<Ratio> {
    Ratio::from_integer(0).checked_sub(&number).ok_or_else(|| too_large(ctx))
}

fn plain(
    ctx: &NativeCallContext,
    a: Option<Ratio>,
    b: Option<Ratio>,
    op: impl Fn(&Ratio, &Ratio) -> Option<Ratio>,
) -> Outcome<Dynamic> {
    match (a, b) {
        (Some(a), Some(b)) => op(&a, &b).map(value).ok_or_else(|| too_large(ctx)),
        _ => Err(too_large(ctx)),
    }
}

fn length_arithmetic(engine: &mut Engine) {
    engine.register_fn("+", |ctx: NativeCallContext, a: Length, b: Length| kept(&ctx, a.plus(b)));
    engine.register_fn("-", |ctx: NativeCallContext, a: Length, b: Length| kept(&ctx, a.minus(b)));
    engine.register_fn("-", |a: Length| -a);
    engine.register_fn("+", |a: Length| a);
    engine.register_fn("*", |ctx: NativeCallContext, a: Length, b: Length| -> Outcome<Length> {
        Err(raise(
            &ctx,
            Finding::error(
                "length-times-length",
                format!("the length {} times the length {} is an area, not a length", length_text(a), length_text(b)),
            )
            .hint("multiply a length by a plain number, such as 2 * 18.mm"),
        ))
    });
    macro_rules! scale {
        ($($number:ty),+) => {$(
            engine.register_fn("*", |ctx: NativeCallContext, a: Length, b: $number| scaled(&ctx, a, b.ratio()));
            engine.register_fn("*", |ctx: NativeCallContext, a: $number, b: Length| scaled(&ctx, b, a.ratio()));
        )+};
    }
    scale!(i64, Ratio, Decimal);
    for operator in ["+", "-"] {
        engine.register_fn(operator, move |ctx: NativeCallContext, a: Length, b: Dynamic| {
            mixed(&ctx, operator, Dynamic::from(a), b)
        });
        engine.register_fn(operator, move |ctx: NativeCallContext, a: Dynamic, b: Length| {
            mixed(&ctx, operator, a, Dynamic::from(b))
        });
    }
    // Text and a length may be joined: notes and names say sizes.
    engine.register_fn("%", |ctx: NativeCallContext, a: Length, b: Length| -> Outcome<Length> {
        if b == Length::ZERO { Err(by_zero(&ctx)) } else { Ok(Length::from_nm(a.nm().wrapping_rem(b.nm()))) }
    });
}

fn scaled(ctx: &NativeCallContext, length: Length, factor: Option<Ratio>) -> Outcome<Length> {
    factor.map_or_else(|| Err(too_large(ctx)), |factor| kept(ctx, length.times(factor)))
}

fn mixed(ctx: &NativeCallContext, operator: &str, a: Dynamic, b: Dynamic) -> Outcome<Length> {
    let verb = if operator == "+" { "added to" } else { "subtracted from" };
    // What is wrong comes first, where the order does not matter.
    let (first, second) = if operator == "+" && as_number(&a).is_some() { (&a, &b) } else { (&b, &a) };
    let bare = [&a, &b].into_iter().find_map(as_number);
    let message = format!("{} cannot be {verb} {}", a_value(first), a_value(second));
    let finding = match bare {
        Some(number) => Finding::error("bare-number", message).hint(with_its_unit(number)),
        None => Finding::error("wrong-kind", message).hint("add and subtract lengths with lengths"),
    };
    Err(raise(ctx, finding))
}

fn comparisons(engine: &mut Engine) {
    macro_rules! compare {
        ($($name:literal $op:tt),+) => {$(
            engine.register_fn($name, |a: Length, b: Length| a $op b);
            engine.register_fn($name, |a: Ratio, b: Ratio| a $op b);
            engine.register_fn($name, |a: Ratio, b: i64| a $op Ratio::from_integer(b));
            engine.register_fn($name, |a: i64, b: Ratio| Ratio::from_integer(a) $op b);
            engine.register_fn($name, |ctx: NativeCallContext, a: Ratio, b: Decimal| -> Outcome<bool> {
                b.ratio().map(|b| a $op b).ok_or_else(|| too_large(&ctx))
            });
            engine.register_fn($name, |ctx: NativeCallContext, a: Decimal, b: Ratio| -> Outcome<bool> {
                a.ratio().map(|a| a $op b).ok_or_else(|| too_large(&ctx))
            });
            // Without these the engine answers an unlike pair with a silent `false`.
            engine.register_fn($name, |ctx: NativeCallContext, a: Length, b: Dynamic| unlike(&ctx, Dynamic::from(a), b));
            engine.register_fn($name, |ctx: NativeCallContext, a: Dynamic, b: Length| unlike(&ctx, a, Dynamic::from(b)));
            engine.register_fn($name, |ctx: NativeCallContext, a: Ratio, b: Dynamic| unlike(&ctx, Dynamic::from(a), b));
            engine.register_fn($name, |ctx: NativeCallContext, a: Dynamic, b: Ratio| unlike(&ctx, a, Dynamic::from(b)));
        )+};
    }
    compare!("<" <, "<=" <=, ">" >, ">=" >=, "==" ==, "!=" !=);
}

/// What to write instead of a bare number.
pub(super) fn with_its_unit(number: Ratio) -> String {
    let number = fraction_text(number);
    if number.contains('/') { format!("write ({number}).inch") } else { format!("write {number}.mm or {number}.inch") }
}

fn unlike(ctx: &NativeCallContext, a: Dynamic, b: Dynamic) -> Outcome<bool> {
    let message = format!("{} cannot be compared with {}", a_value(&a), a_value(&b));
    let bare = match (a.is::<Length>(), b.is::<Length>()) {
        (true, _) => as_number(&b),
        (_, true) => as_number(&a),
        _ => None,
    };
    let finding = match bare {
        Some(number) => Finding::error("bare-number", message).hint(with_its_unit(number)),
        None if a.is_unit() || b.is_unit() => Finding::error("wrong-kind", message)
            .hint("one side has no value: a function may end without giving a value"),
        None => Finding::error("wrong-kind", message).hint("compare lengths with lengths, and numbers with numbers"),
    };
    Err(raise(ctx, finding))
}

fn functions(engine: &mut Engine) {
    engine.register_fn("split", |ctx: NativeCallContext, whole: Length, count: i64| -> Outcome<Array> {
        if !(1..=1000).contains(&count) {
            return Err(raise(
                &ctx,
                Finding::error("wrong-count", format!("a length cannot be split into {count} pieces"))
                    .hint("give a count from 1 to 1000"),
            ));
        }
        Ok(whole.split(usize::try_from(count).unwrap_or(1)).into_iter().map(Dynamic::from).collect())
    });
    engine.register_fn("round_to", |length: Length, step: Length| length.to_nearest(step));
    engine.register_fn("round_down", |length: Length, step: Length| {
        let nearest = length.to_nearest(step);
        if nearest > length { nearest - step.abs() } else { nearest }
    });
    engine.register_fn("round_up", |length: Length, step: Length| {
        let nearest = length.to_nearest(step);
        if nearest < length { nearest + step.abs() } else { nearest }
    });
    engine.register_fn("abs", |length: Length| length.abs());
    engine.register_fn("min", |a: Length, b: Length| a.min(b));
    engine.register_fn("max", |a: Length, b: Length| a.max(b));
    for name in ["min", "max"] {
        engine.register_fn(name, move |ctx: NativeCallContext, a: Length, b: Dynamic| {
            bare_beside(&ctx, name, Dynamic::from(a), b)
        });
        engine.register_fn(name, move |ctx: NativeCallContext, a: Dynamic, b: Length| {
            bare_beside(&ctx, name, a, Dynamic::from(b))
        });
    }
    engine.register_fn("smallest", |ctx: NativeCallContext, list: Array| {
        lengths(&ctx, "smallest", &list)?.into_iter().min().ok_or_else(|| empty(&ctx, "smallest"))
    });
    engine.register_fn("largest", |ctx: NativeCallContext, list: Array| {
        lengths(&ctx, "largest", &list)?.into_iter().max().ok_or_else(|| empty(&ctx, "largest"))
    });
    engine.register_fn("sum", |ctx: NativeCallContext, list: Array| -> Outcome<Length> {
        lengths(&ctx, "sum", &list)?.into_iter().try_fold(Length::ZERO, Length::plus).map_err(|_| too_long(&ctx))
    });
}

fn bare_beside(ctx: &NativeCallContext, name: &str, a: Dynamic, b: Dynamic) -> Outcome<Length> {
    let message = format!("`{name}` takes two lengths; it was given {} and {}", a_value(&a), a_value(&b));
    let number = [&a, &b].into_iter().find_map(as_number);
    let hint = number.map_or_else(|| "give two lengths".to_owned(), with_its_unit);
    Err(raise(ctx, Finding::error("bare-number", message).hint(hint)))
}

fn lengths(ctx: &NativeCallContext, name: &str, list: &Array) -> Outcome<Vec<Length>> {
    list.iter()
        .map(|item| {
            as_length(item).map_err(|_| {
                raise(
                    ctx,
                    Finding::error(
                        "wrong-kind",
                        format!("`{name}` takes a list of lengths; {} is in it", a_value(item)),
                    )
                    .hint("give every item its unit"),
                )
            })
        })
        .collect()
}

fn empty(ctx: &NativeCallContext, name: &str) -> Box<rhai::EvalAltResult> {
    raise(
        ctx,
        Finding::error("empty-list", format!("`{name}` was given an empty list")).hint("give at least one length"),
    )
}

fn printing(engine: &mut Engine, desk: &DeskRef) {
    for name in ["to_string", "to_debug", "print", "debug"] {
        let shared = desk.clone();
        engine.register_fn(name, move |length: &mut Length| -> ImmutableString {
            print_of(&shared).length(*length).into()
        });
        engine.register_fn(name, |number: &mut Ratio| -> ImmutableString { fraction_text(*number).into() });
    }
    let shared = desk.clone();
    engine.register_fn("+", move |text: ImmutableString, length: Length| -> ImmutableString {
        format!("{text}{}", print_of(&shared).length(length)).into()
    });
    let shared = desk.clone();
    engine.register_fn("+", move |length: Length, text: ImmutableString| -> ImmutableString {
        format!("{}{text}", print_of(&shared).length(length)).into()
    });
    engine.register_fn("+", |text: ImmutableString, number: Ratio| -> ImmutableString {
        format!("{text}{}", fraction_text(number)).into()
    });
}

fn print_of(desk: &DeskRef) -> Printing {
    desk.borrow().model.printing
}
