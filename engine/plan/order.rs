//! The order of work: what is built by itself first, and each joint when the last of its parts goes in.

use std::collections::{HashMap, HashSet};

use super::names;
use crate::model::{Model, Moving, PartId, PieceId, Stage};
use crate::proof::Proved;
use crate::proof::order::Assembly;

/// The steps in the order of work: what is done to parts that lie flat, what is built, what is hung. What is built by itself comes first, pieces of one kind together; in each the order in which it was
/// proved to go together, which is the recipe's own wherever that works. What is done to several parts alike is said once.
pub(super) fn steps(proof: &Proved<'_>) -> Vec<String> {
    let model = proof.model;
    let assemblies: HashMap<PieceId, Times<'_>> =
        proof.assemblies().iter().map(|assembly| (assembly.piece, Times::new(assembly))).collect();
    // The first step that fits a part is its own; what fastens it further comes once all that it meets is there.
    let mut fitted: HashSet<PartId> = HashSet::new();
    let mut by_piece: Vec<Vec<Placed>> = vec![Vec::new(); model.pieces.len()];
    for (at, step) in model.steps.iter().enumerate() {
        let parts = model.step_parts.get(&at).map_or(&[][..], Vec::as_slice);
        let (last, fitted_at) = assemblies.get(&step.piece).map_or((0, 0), |times| times.of(model, step.piece, parts));
        let is_built = step.stage == Stage::Build;
        let further = is_built && parts.first().is_some_and(|part| !fitted.insert(*part));
        by_piece[step.piece.0 as usize].push(((step.stage, last, further, if further { 0 } else { fitted_at }), at));
    }
    let mut said: Vec<(usize, usize, String)> = Vec::with_capacity(model.steps.len());
    for steps in &mut by_piece {
        steps.sort_unstable();
        said.extend(said_once(model, steps));
    }
    // Kinds of pieces come in the order in which the recipe first works on them.
    let mut kinds: Vec<&str> = Vec::new();
    for step in &model.steps {
        let (kind, _) = names::numbered(&model.piece(step.piece).name);
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    let mut order: Vec<((Stage, usize, usize, usize), String)> = Vec::with_capacity(said.len());
    for (at, nth, text) in said {
        let step = &model.steps[at];
        let (kind, _) = names::numbered(&model.piece(step.piece).name);
        let place = kinds.iter().position(|known| *known == kind).unwrap_or(0);
        // Deeper pieces first, so that a piece is built before it goes into another.
        order.push(((step.stage, usize::MAX - model.depth(step.piece), place, nth), text));
    }
    order.sort_by_key(|(key, _)| *key);
    order.into_iter().map(|(_, text)| text).collect()
}

/// The steps of a piece in their order, those that follow each other and read the same as one: which step it is, its place in the
/// order, and its text with how often it is done. Where something else has to come between, each says how many are meant.
fn said_once(model: &Model, steps: &[Placed]) -> Vec<(usize, usize, String)> {
    let text = |at: usize| model.steps[at].text.as_str();
    let runs: Vec<&[Placed]> = steps.chunk_by(|(_, a), (_, b)| text(*a) == text(*b)).collect();
    let mut in_all: HashMap<&str, usize> = HashMap::new();
    for (_, at) in steps {
        *in_all.entry(text(*at)).or_default() += 1;
    }
    let mut done: HashMap<&str, usize> = HashMap::new();
    let mut said = Vec::with_capacity(runs.len());
    for (nth, run) in runs.into_iter().enumerate() {
        let Some(&(_, at)) = run.first() else { continue };
        let text = text(at);
        let (all, done) = (in_all[text], done.entry(text).or_default());
        *done += run.len();
        let often = match (all, run.len()) {
            (1, _) => String::new(),
            (all, here) if all == here => format!(" ({all} times)"),
            (all, _) if all == *done => " (the rest)".to_owned(),
            (all, here) => format!(" ({here} of {all})"),
        };
        let text = if often.is_empty() { text.to_owned() } else { format!("{}{often}.", text.trim_end_matches('.')) };
        said.push((at, nth, text));
    }
    said
}

/// When a step comes: at which stage, after which part, whether it fastens further, how early that part was fitted; and which step it is.
type Placed = ((Stage, usize, bool, usize), usize);

/// When each item of a piece goes in.
struct Times<'a> {
    at: HashMap<Moving, usize>,
    assembly: &'a Assembly,
}

impl<'a> Times<'a> {
    fn new(assembly: &'a Assembly) -> Self {
        Self { at: assembly.order.iter().enumerate().map(|(at, item)| (*item, at)).collect(), assembly }
    }

    /// When the last part of a step is in its place, and when the part that is fitted is.
    fn of(&self, model: &Model, piece: PieceId, parts: &[PartId]) -> (usize, usize) {
        let times: Vec<usize> =
            parts.iter().filter_map(|&part| self.at.get(&item_in(model, piece, part)?).copied()).collect();
        let mut last = times.iter().copied().max().unwrap_or(0);
        // Those that go in as one are put together before they meet what was there already.
        for group in &self.assembly.groups {
            let inside = |time: &usize| group.contains(time);
            if times.iter().any(inside) && !times.iter().all(inside) {
                last = last.max(group.end - 1);
            }
        }
        (last, times.first().copied().unwrap_or(0))
    }
}

/// What a part belongs to as seen in a piece: itself, or the piece in that piece that it stands in.
fn item_in(model: &Model, piece: PieceId, part: PartId) -> Option<Moving> {
    let mut item = Moving::Part(part);
    let mut at = model.part(part).piece;
    while at != piece {
        item = Moving::Piece(at);
        at = model.piece(at).parent?;
    }
    Some(item)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::base::{Length, Printing, Solid};
    use crate::joints;
    use crate::model::{JointUse, Material, Options, Part, Shop, Stock, StockForm, Value};

    #[test]
    fn a_bottom_in_four_grooves_goes_in_before_the_last_joint_is_closed() {
        // A box 400 x 300 x 100 of 12 mm stock; the recipe asks for the back before the bottom.
        let mm = Length::from_mm;
        let mut model = Model::new("box", Printing::default());
        let form = StockForm::Sheet { length: mm(2_440), width: mm(1_220) };
        let stock = |thick| Arc::new(Stock::new("ply", Material::Other, form.clone(), mm(thick)));
        let mut add = |name: &str, thick, low: [i64; 3], high: [i64; 3]| {
            model.add_part(Part::new(name, Model::ROOT, stock(thick), Solid::new(low.map(mm), high.map(mm))))
        };
        let left = add("left", 12, [0, 0, 0], [12, 300, 100]);
        let right = add("right", 12, [388, 0, 0], [400, 300, 100]);
        let front = add("front", 12, [12, 0, 0], [388, 12, 100]);
        let back = add("back", 12, [12, 288, 0], [388, 300, 100]);
        let bottom = add("bottom", 6, [12, 12, 10], [388, 288, 16]);
        for (joint, member, into) in [
            ("butt", front, vec![left, right]),
            ("butt", back, vec![left, right]),
            ("groove", bottom, vec![left, right, front, back]),
        ] {
            let target = joints::find(joint).unwrap().target;
            let options = Options::new().with(target, Value::Parts(into.clone()));
            model.add_joint(JointUse { joint, member, into, options, at: None });
        }
        model.settle();
        assert!(joints::make(&mut model, &Shop::default()).is_empty());
        let steps = steps(&Proved::new(&model));
        let of = |word: &str| steps.iter().position(|step| step.contains(word)).unwrap();
        assert!(of("the front to") < of("the bottom into") && of("the bottom into") < of("the back to"), "{steps:?}");
    }
}
