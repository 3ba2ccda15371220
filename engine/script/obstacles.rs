//! `obstacle`: what stands there already, and is none of the piece.

use rhai::{Engine, ImmutableString, Map, NativeCallContext};

use super::args::{at_key, read};
use super::desk::{DeskRef, MOST, Outcome, raise, refuse_beyond, refuse_name};
use super::functions::OBSTACLE;
use super::parts::faces_disagree;
use crate::base::{Axis, Solid};
use crate::diag::Finding;
use crate::model::Obstacle;

pub(super) fn register(engine: &mut Engine, desk: &DeskRef) {
    let shared = desk.clone();
    engine.register_fn("obstacle", move |ctx: NativeCallContext, name: ImmutableString, given: Map| {
        obstacle(&ctx, &shared, &name, &given)
    });
}

fn obstacle(ctx: &NativeCallContext, desk: &DeskRef, name: &str, given: &Map) -> Outcome<()> {
    desk.borrow().refuse_if_inputs_failed()?;
    refuse_name(ctx, "an obstacle", name)?;
    let options = read(ctx, desk, "obstacle", OBSTACLE.options, given)?;
    if given.is_empty() {
        let finding =
            Finding::error("obstacle-not-placed", format!("`{name}` is not placed, so that it would be everywhere"));
        return Err(raise(ctx, finding.hint("give the face that matters, such as `left` for a wall at the right")));
    }
    let print = desk.borrow().model.printing;
    let end = Obstacle::WITHOUT_END;
    let mut solid = Solid::new([-end; 3], [end; 3]);
    for axis in Axis::ALL {
        let [low, high, size] =
            [axis.low().name(), axis.high().name(), axis.size_name()].map(|key| options.length(key));
        let (low, high) = match (low, high, size) {
            (None, None, None) => (-end, end),
            (low, high, None) => (low.unwrap_or(-end), high.unwrap_or(end)),
            (Some(low), None, Some(size)) => (low, low + size),
            (None, Some(high), Some(size)) => (high - size, high),
            (Some(low), Some(high), Some(size)) if (high - low).same_size(size) => (low, high),
            (Some(low), Some(high), Some(size)) => {
                return Err(at_key(ctx, desk, axis.size_name(), faces_disagree(print, name, axis, high - low, size)));
            }
            (None, None, Some(_)) => {
                let message = format!("`{name}` has a {} and no place {}", axis.size_name(), axis.run_name());
                let finding = Finding::error("obstacle-not-placed", message);
                let hint = format!("give `{}` or `{}` as well", axis.low().name(), axis.high().name());
                return Err(at_key(ctx, desk, axis.size_name(), finding.hint(hint)));
            }
        };
        if high <= low {
            let message = format!("`{name}` has no {}: it would be {}", axis.size_name(), print.length(high - low));
            return Err(raise(ctx, Finding::error("size-without-size", message)));
        }
        solid.low[axis.index()] = low;
        solid.high[axis.index()] = high;
    }
    let mut desk = desk.borrow_mut();
    refuse_beyond(ctx, MOST, desk.model.obstacles.len(), "obstacles")?;
    let at = desk.at(ctx);
    desk.model.obstacles.push(Obstacle { name: name.to_owned(), solid, at });
    Ok(())
}
