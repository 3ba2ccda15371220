//! `stock`, `sheet`, `board` and `band`: what parts are made of.

use std::sync::Arc;

use rhai::{Engine, ImmutableString, Map, NativeCallContext};

use super::args::{at_key, read, refuse_unless};
use super::desk::{Desk, DeskRef, MOST_SLIDES, Outcome, raise, refuse_beyond, refuse_name};
use super::functions::{BAND, BOARD, SHEET};
use crate::base::{Length, Ratio, Unit, parse_length};
use crate::catalog;
use crate::diag::{Finding, nearest};
use crate::model::{Material, Money, Options, Per, Price, Stock, StockForm};

/// A stock in a script.
#[derive(Clone, Debug)]
pub(super) struct StockHandle(pub Arc<Stock>);

// Common practice, no source: iron-on veneer below half a millimetre is not reckoned with, anything thicker is.
const TAKEN_OFF_FROM: Length = Length::from_um(500);

/// Far beyond any stock; with it, a sum of prices stays within its range.
const HIGHEST_PRICE: Ratio = Ratio::new_raw(10_000_000, 1);

pub(super) fn register(engine: &mut Engine, desk: &DeskRef) {
    engine.register_type_with_name::<StockHandle>("stock");
    engine.register_get("thickness", |stock: &mut StockHandle| stock.0.thickness());
    engine.register_get("expected", |stock: &mut StockHandle| expected(&stock.0));
    engine.register_get("named", |stock: &mut StockHandle| stock.0.named);
    engine.register_get("has_grain", |stock: &mut StockHandle| stock.0.grain);
    engine.register_get("name", |stock: &mut StockHandle| -> ImmutableString { stock.0.name.as_str().into() });
    engine.register_fn("to_string", |stock: &mut StockHandle| -> ImmutableString { stock.0.name.as_str().into() });
    engine.register_fn("to_debug", |stock: &mut StockHandle| -> ImmutableString { stock.0.name.as_str().into() });
    let shared = desk.clone();
    engine.register_fn("stock", move |ctx: NativeCallContext, name: ImmutableString| find(&ctx, &shared, &name));
    let shared = desk.clone();
    engine.register_fn("sheet", move |ctx: NativeCallContext, name: ImmutableString, given: Map| {
        let options = read(&ctx, &shared, "sheet", SHEET.options, &given)?;
        let form = StockForm::Sheet {
            length: size(&ctx, &shared, &options, "length")?,
            width: size(&ctx, &shared, &options, "width")?,
        };
        add(&ctx, &shared, &name, of_sheet(options.text("material")), form, &options, Per::Sheet)
    });
    let shared = desk.clone();
    engine.register_fn("board", move |ctx: NativeCallContext, name: ImmutableString, given: Map| {
        let options = read(&ctx, &shared, "board", BOARD.options, &given)?;
        for key in ["widths", "lengths"] {
            let all = options.lengths(key).iter().all(|length| length.is_positive());
            refuse_unless(&ctx, &shared, key, all, "must be more than nothing")?;
        }
        let species = options.text("species").unwrap_or_default().to_owned();
        let form = StockForm::Board { widths: options.lengths("widths"), lengths: options.lengths("lengths") };
        add(&ctx, &shared, &name, Material::Wood(species), form, &options, Per::BoardFoot)
    });
    let shared = desk.clone();
    engine.register_fn("band", move |ctx: NativeCallContext, name: ImmutableString, given: Map| {
        let options = read(&ctx, &shared, "band", BAND.options, &given)?;
        let thickness = size(&ctx, &shared, &options, "thickness")?;
        let roll = options.length("roll").is_none_or(Length::is_positive);
        refuse_unless(&ctx, &shared, "roll", roll, "must be more than nothing")?;
        let form = StockForm::Band {
            width: size(&ctx, &shared, &options, "width")?,
            roll: options.length("roll"),
            taken_off: options.yes("taken_off").unwrap_or(thickness >= TAKEN_OFF_FROM),
        };
        add(&ctx, &shared, &name, Material::Other, form, &options, Per::Metre)
    });
}

/// How thick a stock is likely to be: as it was measured, else the middle of what its standard allows.
fn expected(stock: &Stock) -> Length {
    match catalog::thickness_tolerance(stock) {
        Some(allowed) if stock.measured.is_none() => allowed.low + (allowed.high - allowed.low).half(),
        _ => stock.thickness(),
    }
}

/// What a word of `material` says of a sheet.
fn of_sheet(word: Option<&str>) -> Material {
    match word {
        Some("hardwood plywood") => Material::HardwoodPlywood,
        Some("sanded plywood") => Material::SandedPlywood,
        Some("metric plywood") => Material::MetricPlywood,
        Some("mdf") => Material::Mdf,
        Some("particleboard") => Material::Particleboard,
        Some("hardboard") => Material::Hardboard,
        _ => Material::Other,
    }
}

fn find(ctx: &NativeCallContext, desk: &DeskRef, name: &str) -> Outcome<StockHandle> {
    let desk = desk.borrow();
    desk.refuse_if_inputs_failed()?;
    if let Some(stock) = desk.find_stock(name) {
        return Ok(StockHandle(stock));
    }
    Err(raise(ctx, unknown_stock(&desk, name)))
}

/// What to say of a name that no stock has.
pub(super) fn unknown_stock(desk: &Desk, name: &str) -> Finding {
    let names = desk.stock_names();
    let near = || nearest(name, names.iter().map(String::as_str)).map(|near| format!("did you mean `{near}`?"));
    let hint = other_thickness(name, &names).or_else(near).unwrap_or_else(|| {
        "name one of the catalog (`casewright explain stock` lists them), of the shop file, or make it with sheet, board or band".into()
    });
    Finding::error("unknown-stock", format!("no stock is called `{name}`")).hint(hint)
}

/// The nearest thickness in which a material is known, and which others there are; of those in the unit that was written,
/// if there are any.
fn other_thickness(name: &str, names: &[String]) -> Option<String> {
    let (wanted, unit, material) = thickness_and_material(name)?;
    let mut known: Vec<(bool, Length, &str, &str)> = names
        .iter()
        .filter_map(|name| {
            let (size, own_unit, of) = thickness_and_material(name)?;
            let written = name.get(..name.len() - of.len())?.trim();
            of.eq_ignore_ascii_case(material).then_some((own_unit != unit, size, written, name.as_str()))
        })
        .collect();
    known.sort_unstable();
    known.dedup();
    let alike = known.first()?.0;
    known.retain(|(other_unit, ..)| *other_unit == alike);
    let (.., near) = known.iter().min_by_key(|(_, size, ..)| (*size - wanted).abs())?;
    let sizes: Vec<&str> = known.iter().map(|(_, _, written, _)| *written).collect();
    Some(format!("did you mean `{near}`? {material} is known in {}", sizes.join(", ")))
}

/// What a name of stock begins with, as a thickness with its unit, and the rest: inches, unless it says millimetres.
fn thickness_and_material(name: &str) -> Option<(Length, Unit, &str)> {
    let name = name.trim();
    let number = &name[..name.find(|c: char| !(c.is_ascii_digit() || "./".contains(c))).unwrap_or(0)];
    let rest = name[number.len()..].trim_start();
    let units = [("mm ", Unit::Millimetre), ("in ", Unit::Inch), ("inch ", Unit::Inch), ("\" ", Unit::Inch)];
    let found = units.into_iter().find_map(|(word, unit)| Some((unit, rest.strip_prefix(word)?)));
    let (unit, material) = found.unwrap_or((Unit::Inch, rest));
    let size = parse_length(number, Some(unit)).ok()?;
    Some((size, unit, material.trim()))
}

fn size(ctx: &NativeCallContext, desk: &DeskRef, options: &Options, key: &str) -> Outcome<Length> {
    let size = options.length(key).unwrap_or(Length::ZERO);
    refuse_unless(ctx, desk, key, size.is_positive(), "must be more than nothing")?;
    Ok(size)
}

fn add(
    ctx: &NativeCallContext,
    desk: &DeskRef,
    name: &str,
    material: Material,
    form: StockForm,
    options: &Options,
    usual: Per,
) -> Outcome<StockHandle> {
    refuse_name(ctx, "a stock", name)?;
    refuse_beyond(ctx, MOST_SLIDES, desk.borrow().stocks.len(), "stocks")?;
    let mut stock = Stock::new(name, material, form, size(ctx, desk, options, "thickness")?);
    stock.measured = options.length("measured");
    let measured = stock.measured.is_none_or(Length::is_positive);
    refuse_unless(ctx, desk, "measured", measured, "must be more than nothing")?;
    if matches!(stock.form, StockForm::Sheet { .. }) {
        let pressed = matches!(stock.material, Material::Mdf | Material::Particleboard | Material::Hardboard);
        stock.grain = options.yes("grain").unwrap_or(!pressed);
    }
    if let Some(faces) = options.count("show_faces") {
        stock.show_faces = u8::try_from(faces).ok().filter(|faces| *faces <= 2).ok_or_else(|| {
            let finding =
                Finding::error("wrong-count", format!("a sheet has two faces; {faces} of them cannot be good"));
            at_key(ctx, desk, "show_faces", finding.hint("give 0, 1 or 2"))
        })?;
    }
    if let Some(price) = options.number("price") {
        let per = options.text("per").and_then(|word| Per::ALL.into_iter().find(|(_, name)| *name == word));
        stock.price = Some(Price { amount: hundredths(ctx, desk, price)?, per: per.map_or(usual, |(per, _)| per) });
    }
    let mut desk = desk.borrow_mut();
    desk.refuse_if_inputs_failed()?;
    stock.at = desk.at(ctx);
    if desk.stocks.contains_key(name) {
        return Err(raise(
            ctx,
            Finding::error("stock-twice", format!("the recipe makes two stocks called `{name}`"))
                .hint("give each its own name"),
        ));
    }
    // What the shop measured or paid holds, whoever named the stock first.
    if let Some(known) = desk.shop.find_stock(name) {
        stock.measured = known.measured.or(stock.measured);
        stock.price = known.price.or(stock.price);
    }
    let stock = Arc::new(stock);
    desk.stocks.insert(name.to_owned(), stock.clone());
    Ok(StockHandle(stock))
}

fn hundredths(ctx: &NativeCallContext, desk: &DeskRef, price: Ratio) -> Outcome<Money> {
    let amount = num_traits::CheckedMul::checked_mul(&price, &Ratio::from_integer(100));
    match amount {
        Some(amount) if *amount.numer() >= 0 && price <= HIGHEST_PRICE => Ok(Money(*amount.round().numer())),
        _ => {
            let finding = Finding::error("wrong-price", "a price is a plain number, from nothing to ten million");
            Err(at_key(ctx, desk, "price", finding.hint("write it without its currency: price: 84.50")))
        }
    }
}
