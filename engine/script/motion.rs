//! `swing` and `lift`: what turns on hinges. And what `hang` and `hardware` say about moving.

use rhai::{Engine, Map, NativeCallContext};

use super::args::{at_key, read, refuse_unless};
use super::desk::{Desk, DeskRef, MOST, Outcome, raise, refuse_beyond};
use super::functions::{Function, LIFT, SWING};
use super::parts::{PartHandle, PieceHandle};
use crate::base::{Axis, Face, Length};
use crate::diag::Finding;
use crate::model::{Hold, Model, Motion, Moving, Options, PartId, Stage, StandsOut, Step, Turn, Way};

pub(super) fn register(engine: &mut Engine, desk: &DeskRef) {
    for function in [&SWING, &LIFT] {
        let shared = desk.clone();
        engine.register_fn(function.name, move |ctx: NativeCallContext, part: PartHandle, given: Map| {
            turn(&ctx, &shared, function, Moving::Part(part.0), &given)
        });
        let shared = desk.clone();
        engine.register_fn(function.name, move |ctx: NativeCallContext, piece: PieceHandle, given: Map| {
            turn(&ctx, &shared, function, Moving::Piece(piece.0), &given)
        });
    }
}

// Common practice, no source: concealed hinges open to 95 degrees at the least; a lid stands upright on its stay.
const SWING_ANGLE: i64 = 95;
const LIFT_ANGLE: i64 = 90;

fn turn(
    ctx: &NativeCallContext,
    desk: &DeskRef,
    function: &'static Function,
    moving: Moving,
    given: &Map,
) -> Outcome<()> {
    desk.borrow().refuse_if_inputs_failed()?;
    let options = read(ctx, desk, function.name, function.options, given)?;
    let lid = function.name == LIFT.name;
    let name = desk.borrow().model.moving_name(moving);
    let hinged = options.face("hinged").unwrap_or(Face::Back);
    let opens = options.face("opens").unwrap_or(if lid { Face::Top } else { Face::Front });
    if hinged.axis() == opens.axis() {
        let finding = Finding::error(
            "hinges-on-broad-face",
            format!("`{name}` opens to the {}, so that its hinges cannot be on its {}", opens.name(), hinged.name()),
        );
        let [a, b] = opens.axis().others();
        let edges = [a.low(), a.high(), b.low(), b.high()].map(|face| format!("\"{}\"", face.name())).join(", ");
        return Err(at_key(ctx, desk, "hinged", finding.hint(format!("name one of its edges: {edges}"))));
    }
    let angle = options.count("angle").unwrap_or(if lid { LIFT_ANGLE } else { SWING_ANGLE });
    let Some(degrees) = u32::try_from(angle).ok().filter(|angle| (1..=Turn::MOST).contains(angle)) else {
        let finding = Finding::error("wrong-angle", format!("`{name}` cannot open by {angle} degrees"));
        return Err(at_key(
            ctx,
            desk,
            "angle",
            finding.hint(format!("give the degrees that its hinges open to, from 1 to {}", Turn::MOST)),
        ));
    };
    let behind = options.text("line").map_or(lid, |line| line == "back");
    let line = if behind { opens.opposite() } else { opens };
    let way = Way::Turn(Turn { hinged, opens, line, degrees });
    let mut desk = desk.borrow_mut();
    let first = add(ctx, &mut desk, moving, way, &options)?;
    let place = options.opening("opening").map(|id| format!(" in {}", desk.model.opening(id).name));
    let place = place.unwrap_or_default();
    let text = format!("Hang {name}{place} with its hinges on the {}; it opens to {degrees} degrees.", hinged.name());
    let step = desk.model.steps.len();
    desk.model.step_parts.insert(step, vec![first]);
    desk.model.steps.push(Step { piece: Model::ROOT, stage: Stage::Hang, text });
    desk.model.holds.push(Hold { part: first, to: None });
    Ok(())
}

/// Puts a motion into the model, and tells the first part of what moves.
pub(super) fn add(
    ctx: &NativeCallContext,
    desk: &mut Desk,
    moving: Moving,
    way: Way,
    options: &Options,
) -> Outcome<PartId> {
    let name = desk.model.moving_name(moving);
    let first = match moving {
        Moving::Part(part) => Some(part),
        Moving::Piece(piece) => desk.model.parts_of(piece).next().map(|(id, _)| id),
    };
    let Some(first) = first else {
        let finding = Finding::error("empty-piece", format!("the piece `{name}` has no parts to hang"));
        return Err(raise(ctx, finding.hint("make its parts first")));
    };
    if desk.model.motions.iter().any(|motion| motion.moving == moving) {
        let finding = Finding::error("moves-twice", format!("`{name}` is hung twice"));
        return Err(raise(ctx, finding.hint("hang it once; build another one for the second place")));
    }
    refuse_beyond(ctx, MOST, desk.model.motions.len(), "things that move")?;
    let at = desk.at(ctx);
    desk.model.motions.push(Motion {
        moving,
        way,
        behind: options.moving("behind").to_vec(),
        with_open: options.moving("with_open").to_vec(),
        opening: options.opening("opening"),
        at,
    });
    Ok(first)
}

/// More pulls on one part than anyone fits.
const MOST_ON_ONE: i64 = 100;

/// What `hardware` says about how far something stands out.
pub(super) fn stands_out(
    ctx: &NativeCallContext,
    desk: &DeskRef,
    what: &str,
    quantity: i64,
    options: &Options,
) -> Outcome<Option<StandsOut>> {
    const PLACES: [&str; 6] = ["face", "wide", "high", "from_left", "from_front", "from_bottom"];
    let Some(by) = options.length("stands_out") else {
        let Some(key) = PLACES.into_iter().find(|key| options.get(key).is_some()) else { return Ok(None) };
        let message = format!("hardware: `{key}` has no effect, because `stands_out` is not given");
        let finding = Finding::error("option-without-effect", message);
        return Err(at_key(ctx, desk, key, finding.hint(format!("give `stands_out` as well, or leave `{key}` out"))));
    };
    let Some(&part) = options.parts("on").first() else {
        let finding =
            Finding::error("option-without-effect", "hardware: `stands_out` needs the part that it stands out from");
        return Err(at_key(ctx, desk, "stands_out", finding.hint("name the part: on: front")));
    };
    for key in ["stands_out", "wide", "high"] {
        let fits = options.length(key).is_none_or(Length::is_positive);
        refuse_unless(ctx, desk, key, fits, "must be more than nothing")?;
    }
    if quantity > MOST_ON_ONE {
        let finding = Finding::error("wrong-count", format!("{quantity} of `{what}` cannot stand out of one part"));
        return Err(at_key(ctx, desk, "quantity", finding.hint("leave `stands_out` out for what is bought in bulk")));
    }
    let face = options.face("face").or(desk.borrow().model.part(part).show).unwrap_or(Face::Front);
    let from = |axis: Axis| options.length(["from_left", "from_front", "from_bottom"][axis.index()]);
    let idle = ["from_left", "from_front", "from_bottom"][face.axis().index()];
    if options.get(idle).is_some() {
        let message = format!("hardware: `{idle}` has no effect on the {} of a part", face.name());
        let finding = Finding::error("option-without-effect", message);
        return Err(at_key(ctx, desk, idle, finding.hint(format!("leave `{idle}` out, or name another `face`"))));
    }
    let axes = face.axis().others();
    let wide = options.length("wide").or(options.length("size")).unwrap_or(by);
    let at = desk.borrow_mut().at(ctx);
    Ok(Some(StandsOut {
        what: what.to_owned(),
        part,
        face,
        by,
        size: [wide, options.length("high").unwrap_or(by)],
        middle: axes.map(from),
        count: quantity,
        at,
    }))
}
