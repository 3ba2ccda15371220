//! What a joint brings besides its cuts: glue and hardware for the bill, and its sentence for the bench.

use super::Work;
use crate::base::Length;
use crate::model::{HardwareKind, HardwareUnit, HardwareUse, JointUse, Model, PartId, Stage, Step};

/// Adds an area to the glue that the job needs.
pub(super) fn add_glue(work: &mut Work<'_>, joint: &JointUse, square_mm: i64) {
    let purpose = piece_name(work, joint.member);
    work.model.hardware.push(HardwareUse {
        item: "wood glue".to_owned(),
        kind: HardwareKind::Glue,
        size: None,
        gauge: None,
        quantity: square_mm,
        unit: HardwareUnit::Area,
        purpose,
        note: "area of the joints to be coated; see the glue maker's coverage".to_owned(),
        slides: None,
        part: Some(joint.member),
        at: joint.at.clone(),
    });
}

/// Adds hardware that goes by its name to the bill.
pub(super) fn add_hardware(
    work: &mut Work<'_>,
    joint: &JointUse,
    item: &str,
    kind: HardwareKind,
    size: Option<Length>,
    quantity: i64,
    note: &str,
) {
    let purpose = piece_name(work, joint.member);
    work.model.hardware.push(HardwareUse {
        item: item.to_owned(),
        kind,
        size,
        gauge: None,
        quantity,
        unit: HardwareUnit::Each,
        purpose,
        note: note.to_owned(),
        slides: None,
        part: Some(joint.member),
        at: joint.at.clone(),
    });
}

/// The words of a joint for a sentence: where it is made, what is fitted, and to what.
pub(super) struct Named {
    /// `drawer 2: ` when all parts belong to one piece that is not the whole job.
    pub place: String,
    /// `the bottom`.
    pub member: String,
    /// `each side, the front and the back`.
    pub targets: String,
}

/// Names a joint's parts as one would say them at the bench.
pub(super) fn named(work: &Work<'_>, joint: &JointUse) -> Named {
    let piece = work.model.part(joint.member).piece;
    let together = joint.into.iter().all(|&target| work.model.part(target).piece == piece);
    let say = |id: PartId| {
        let part = work.model.part(id);
        if together || part.piece == Model::ROOT { part.name.clone() } else { of_piece(work, id) }
    };
    let the = |name: &str| {
        // A piece that its one part does not share the name of is called by its own: `door 2 left`, not `the door 2 left`.
        let of_piece = work.model.pieces.iter().any(|piece| piece.name == name);
        let of_part = work.model.parts.iter().any(|part| part.name == name);
        if of_piece && !of_part { name.to_owned() } else { format!("the {name}") }
    };
    let mut counted: Vec<(String, usize)> = Vec::new();
    for &target in &joint.into {
        let name = say(target);
        match counted.iter_mut().find(|(known, _)| *known == name) {
            Some((_, count)) => *count += 1,
            None => counted.push((name, 1)),
        }
    }
    let words: Vec<String> =
        counted.into_iter().map(|(name, count)| if count == 1 { the(&name) } else { format!("each {name}") }).collect();
    let targets = match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => words.concat(),
    };
    let place =
        if together && piece != Model::ROOT { format!("{}: ", piece_name(work, joint.member)) } else { String::new() };
    Named { place, member: the(&say(joint.member)), targets }
}

/// A part of another piece: `stile of face frame`. Where its name has that of the piece in it, or the piece is nothing else, one of
/// both is enough: `plinth front`, `bench top`, `door 1 left`.
fn of_piece(work: &Work<'_>, id: PartId) -> String {
    let (part, piece) = (&work.model.part(id).name, piece_name(work, id));
    let begins =
        |name: &str, word: &str| name.strip_prefix(word).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '));
    let alone = || work.model.parts_of(work.model.part(id).piece).nth(1).is_none();
    if begins(part, &piece) {
        part.clone()
    } else if begins(&piece, part) && alone() {
        piece
    } else {
        format!("{part} of {piece}")
    }
}

/// Adds what is done at the bench to the piece that holds all parts of the joint.
pub(super) fn add_step(work: &mut Work<'_>, joint: &JointUse, stage: Stage, said: &Named, text: &str) {
    let piece = work.model.common_piece(joint.into.iter().copied().chain([joint.member]));
    work.model.steps.push(Step { piece, stage, text: sentence(&said.place, text) });
}

/// The sentence with the place before it, beginning with a capital where there is none.
pub(super) fn sentence(place: &str, text: &str) -> String {
    if place.is_empty() { capital(text) } else { format!("{place}{text}") }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

/// What the piece of a part is called.
pub(super) fn piece_name(work: &Work<'_>, part: PartId) -> String {
    work.model.piece(work.model.part(part).piece).name.clone()
}
