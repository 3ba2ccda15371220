//! `movement`, `load` and `anchor`: what solid wood does through the year, what shelves and drawers are to carry, and what keeps a
//! piece from tipping.

use rhai::{Array, Engine, ImmutableString, Map, NativeCallContext};

use super::args::{a_value, at_key, read, refuse_unless};
use super::desk::{DeskRef, MOST, Outcome, raise, refuse_beyond, refuse_name};
use super::functions::{LOAD, MOVEMENT};
use super::parts::{PartHandle, PieceHandle};
use super::stock::StockHandle;
use crate::base::{Length, Ratio};
use crate::diag::Finding;
use crate::model::{Bearer, Load, LoadUnit, Model, Options, Stage, Step};
use crate::physics::{self, Sawn};

pub(super) fn register(engine: &mut Engine, desk: &DeskRef) {
    let shared = desk.clone();
    engine.register_fn("movement", move |ctx: NativeCallContext, stock: StockHandle, width: Length| {
        movement(&ctx, &shared, &stock, width, &Map::new())
    });
    let shared = desk.clone();
    engine.register_fn("movement", move |ctx: NativeCallContext, stock: StockHandle, width: Length, given: Map| {
        movement(&ctx, &shared, &stock, width, &given)
    });
    let shared = desk.clone();
    engine.register_fn("load", move |ctx: NativeCallContext, part: PartHandle, given: Map| {
        load(&ctx, &shared, &[Bearer::Part(part.0)], &given)
    });
    let shared = desk.clone();
    engine.register_fn("load", move |ctx: NativeCallContext, piece: PieceHandle, given: Map| {
        load(&ctx, &shared, &[Bearer::Piece(piece.0)], &given)
    });
    let shared = desk.clone();
    engine.register_fn("load", move |ctx: NativeCallContext, all: Array, given: Map| -> Outcome<()> {
        let mut bearers = Vec::with_capacity(all.len());
        for one in &all {
            if let Some(part) = one.read_lock::<PartHandle>() {
                bearers.push(Bearer::Part(part.0));
            } else if let Some(piece) = one.read_lock::<PieceHandle>() {
                bearers.push(Bearer::Piece(piece.0));
            } else {
                let message = format!("`load` takes parts and pieces; {} is in the list", a_value(one));
                return Err(raise(&ctx, Finding::error("wrong-kind", message)));
            }
        }
        load(&ctx, &shared, &bearers, &given)
    });
    let shared = desk.clone();
    engine.register_fn("anchor", move |ctx: NativeCallContext, to: ImmutableString| -> Outcome<()> {
        refuse_name(&ctx, "what a piece is anchored to", &to)?;
        let mut desk = shared.borrow_mut();
        desk.refuse_if_inputs_failed()?;
        let text = format!("Anchor it to {to} before anything is put into it.");
        if desk.model.anchor.replace(to.to_string()).is_none_or(|before| before != *to) {
            desk.model.steps.push(Step { piece: Model::ROOT, stage: Stage::Anchor, text });
        }
        Ok(())
    });
}

fn movement(
    ctx: &NativeCallContext,
    desk: &DeskRef,
    stock: &StockHandle,
    width: Length,
    given: &Map,
) -> Outcome<Length> {
    let options = read(ctx, desk, "movement", MOVEMENT.options, given)?;
    refuse_unless(ctx, desk, "width", !width.is_negative(), "of `movement` cannot be negative")?;
    let sawn = if options.text("sawn") == Some("quarter") { Sawn::Quarter } else { Sawn::Flat };
    let mut desk = desk.borrow_mut();
    let Some(year) = physics::movement(&stock.0, width, sawn, &desk.shop) else { return Ok(Length::ZERO) };
    if !year.known {
        let at = desk.at(ctx);
        let finding = physics::wood_unknown(&stock.0, year.wood).at(at);
        desk.findings.push(finding);
    }
    Ok(physics::rounded_up(year.mm, desk.model.printing))
}

/// More than a house weighs on one shelf is a slip.
const HEAVIEST: Ratio = Ratio::new_raw(100_000, 1);

fn load(ctx: &NativeCallContext, desk: &DeskRef, on: &[Bearer], given: &Map) -> Outcome<()> {
    let options = read(ctx, desk, "load", LOAD.options, given)?;
    let (unit, amount) = amount(ctx, desk, &options)?;
    let mut desk = desk.borrow_mut();
    desk.refuse_if_inputs_failed()?;
    let at = desk.at(ctx);
    let of = options.text("of").map(str::to_owned);
    for &on in on {
        refuse_beyond(ctx, MOST, desk.model.loads.len(), "loads")?;
        desk.model.loads.push(Load { on, amount, unit, of: of.clone(), at: at.clone() });
    }
    Ok(())
}

/// The one amount that is given.
fn amount(ctx: &NativeCallContext, desk: &DeskRef, options: &Options) -> Outcome<(LoadUnit, Ratio)> {
    let mut given = LoadUnit::ALL.into_iter().filter_map(|(unit, key, _)| Some((unit, key, options.number(key)?)));
    let Some((unit, key, amount)) = given.next() else {
        let finding = Finding::error("wrong-load", "`load` is not told how much");
        return Err(raise(
            ctx,
            finding.hint("write load(shelf, #{ kg: 20 }), or lb, kg_per_m2, lb_per_ft2, kg_per_m, lb_per_ft"),
        ));
    };
    if let Some((_, second, _)) = given.next() {
        let finding =
            Finding::error("wrong-load", format!("`load` is told how much twice, as `{key}` and as `{second}`"));
        return Err(at_key(ctx, desk, second, finding.hint("keep one of them; a second `load` adds to the first")));
    }
    if amount < Ratio::from_integer(0) || amount > HEAVIEST {
        let finding = Finding::error("wrong-load", format!("`{key}` of `load` is not from 0 to 100000"));
        return Err(at_key(ctx, desk, key, finding.hint("check the number and its unit")));
    }
    Ok((unit, amount))
}
