//! One script function for each joint of the registry.

use rhai::{Array, Engine, Map, NativeCallContext};

use super::args::{a_value, read};
use super::desk::{DeskRef, MOST_JOINTS, Outcome, raise, refuse_beyond};
use super::parts::PartHandle;
use crate::diag::Finding;
use crate::joints::{ALL, Joint};
use crate::model::{JointUse, PartId};

pub(super) fn register(engine: &mut Engine, desk: &DeskRef) {
    for joint in ALL {
        let shared = desk.clone();
        engine.register_fn(joint.name, move |ctx: NativeCallContext, part: PartHandle, given: Map| {
            ask(&ctx, &shared, joint, &[part.0], &given)
        });
        let shared = desk.clone();
        engine.register_fn(joint.name, move |ctx: NativeCallContext, parts: Array, given: Map| -> Outcome<()> {
            let mut members = Vec::with_capacity(parts.len());
            for part in &parts {
                let Some(part) = part.read_lock::<PartHandle>() else {
                    let message = format!("`{}` joins parts; {} is in the list", joint.name, a_value(part));
                    return Err(raise(&ctx, Finding::error("wrong-kind", message)));
                };
                members.push(part.0);
            }
            ask(&ctx, &shared, joint, &members, &given)
        });
    }
}

fn ask(ctx: &NativeCallContext, desk: &DeskRef, joint: &'static Joint, members: &[PartId], given: &Map) -> Outcome<()> {
    let options = read(ctx, desk, joint.name, joint.options, given)?;
    let into = options.parts(joint.target).to_vec();
    let mut desk = desk.borrow_mut();
    desk.refuse_if_inputs_failed()?;
    let pairs = members.len().saturating_mul(into.len());
    refuse_beyond(ctx, MOST_JOINTS, desk.joined.saturating_add(pairs.saturating_sub(1)), "joints between two parts")?;
    desk.joined += pairs;
    let at = desk.at(ctx);
    for &member in members {
        desk.model.add_joint(JointUse {
            joint: joint.name,
            member,
            into: into.clone(),
            options: options.clone(),
            at: at.clone(),
        });
    }
    Ok(())
}
