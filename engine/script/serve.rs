//! `movement` and `load`: what solid wood does through the year, and what shelves and drawers are to carry.

use rhai::{Engine, Map, NativeCallContext};

use super::args::{read, refuse_unless};
use super::desk::{DeskRef, Outcome};
use super::functions::MOVEMENT;
use super::stock::StockHandle;
use crate::base::Length;
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
