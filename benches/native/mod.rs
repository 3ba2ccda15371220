//! The bench front of `examples/print-studio/bench-drawers.rhai`, built by calls of the model instead of a recipe.

use std::sync::Arc;

use casewright::base::{Axis, Face, Length, Point, Printing, Solid, Unit};
use casewright::catalog;
use casewright::model::{
    Front, FrontStyle, HardwareClass, HardwareKind, HardwareUnit, HardwareUse, Hold, JointUse, Model, Motion, Moving,
    Opening, OpeningId, Options, Part, PartId, PieceId, Shop, SlideFit, Slides, Squareness, Step, Stock, Value, Way,
};

const ZERO: Length = Length::ZERO;

/// The model as the recipe with its default inputs leaves it, but for the recipe lines and the inputs.
pub fn bench_front(shop: &Shop) -> Model {
    let mut model = Model::new("bench", Printing { unit: Unit::Inch, denominator: shop.denominator });
    let maple = stock("3/4 hard maple board");
    let (width, height, depth) = (inch(48, 1), inch(61, 2), inch(89, 4));
    let (stile, rail, post) = (inch(2, 1), inch(7, 4), inch(3, 2));
    let frame = model.add_piece("bench front", None);
    let thick = maple.thickness();
    let mut member = |name: &str, grain: Axis, x: (Length, Length), z: (Length, Length)| {
        let mut part = Part::new(name, frame, maple.clone(), Solid::new([x.0, -thick, z.0], [x.1, ZERO, z.1]));
        part.thickness = Axis::Y;
        part.grain = Some(grain);
        part.grain_asked = true;
        part.show = Some(Face::Front);
        model.add_part(part)
    };
    let left = member("stile", Axis::Z, (ZERO, stile), (ZERO, height));
    let right = member("stile", Axis::Z, (width - stile, width), (ZERO, height));
    let inside = (stile, width - stile);
    let lower = member("bottom rail", Axis::X, inside, (ZERO, rail));
    let upper = member("top rail", Axis::X, inside, (height - rail, height));
    let clear = (width - stile * 2 - post).split(2);
    let middle = stile + clear[0];
    let mid = member("mid-stile", Axis::Z, (middle, middle + post), (rail, height - rail));
    for rail in [lower, upper] {
        pocketed(&mut model, rail, &[left, right], Face::Back);
    }
    let space = |model: &mut Model, name: &str, from: Length, wide: Length| {
        model.add_opening(Opening {
            name: name.into(),
            piece: frame,
            solid: Solid::new([from, -thick, rail], [from + wide, depth, height - rail]),
            widths: vec![wide],
            heights: vec![height - rail * 2],
            diagonals: None,
            limit: inch(1, 8),
            at: None,
        })
    };
    pocketed(&mut model, mid, &[lower, upper], Face::Back);
    let spaces =
        [space(&mut model, "opening 1", stile, clear[0]), space(&mut model, "opening 2", middle + post, clear[1])];
    model.squares.push(Squareness { what: "bench front".into(), width, depth: height });
    model.place(frame, Model::ROOT, [ZERO; 3]);
    let Some(entry) = catalog::hardware("side-mount slides") else { panic!("the class is in the catalog") };
    let HardwareClass::Slides(slides) = &entry.class else { panic!("slides have a geometry") };
    for (number, &space) in [1, 4].iter().zip(&spaces) {
        bank(&mut model, space, *number, slides, &entry.note, &maple);
    }
    let note = "Glue and screw the frame to the old case from inside; pad the case out to the edges of its openings for the slides.";
    model.notes.push(note.into());
    model.settle();
    model
}

/// Three inset drawers with graduated fronts in an opening.
fn bank(model: &mut Model, space: OpeningId, first: usize, slides: &Slides, note: &str, fronts: &Arc<Stock>) {
    let (count, grade, reveal, step, room) = (3_i64, inch(2, 1), inch(1, 8), inch(1, 32), inch(1, 2));
    let opening = model.opening(space).solid;
    let whole = opening.size(Axis::Z) - reveal * 2 - reveal * (count - 1);
    let smallest = Length::from_nm((whole - grade * (count * (count - 1) / 2)).nm() / count);
    let heights: Vec<Length> = (0..count).map(|i| down(smallest + grade * (count - 1 - i), step)).collect();
    let reveals = (opening.size(Axis::Z) - heights.iter().copied().sum::<Length>()).split(4);
    let plane = opening.face(Face::Front) + fronts.thickness();
    let there = opening.face(Face::Back) - plane - inch(1, 1);
    let length = slides.lengths.iter().copied().filter(|length| *length <= there).max().unwrap_or(ZERO);
    let box_width = opening.size(Axis::X) - slides.clearance * 2;
    let mut floor = opening.face(Face::Bottom);
    for (i, &high) in heights.iter().enumerate() {
        floor += reveals[i];
        let name = format!("drawer {}", first + i);
        let below = floor.max(opening.face(Face::Bottom)) + room;
        let above = (floor + high).min(opening.face(Face::Top)) - room;
        let size = [box_width, length, down(above - below, step)];
        let (piece, box_front) = drawer_box(model, &name, size);
        let corner: Point = [opening.face(Face::Left) + slides.clearance, plane, below];
        model.place(piece, Model::ROOT, corner);
        hang(model, piece, &name, space, slides, note, length);
        let low = [opening.face(Face::Left) + reveals[0], plane - fronts.thickness(), floor];
        let solid = Solid::new(low, [opening.face(Face::Right) - reveals[0], plane, floor + high]);
        let mut front = Part::new("drawer front", Model::ROOT, fronts.clone(), solid);
        (front.thickness, front.grain, front.grain_asked, front.show) =
            (Axis::Y, Some(Axis::X), true, Some(Face::Front));
        let front = model.add_part(front);
        join(
            model,
            "butt",
            front,
            &[box_front],
            Options::new()
                .with("to", Value::Parts(vec![box_front]))
                .with("with", Value::Text("screws".into()))
                .with("count", Value::Count(4)),
        );
        model.fronts.push(Front { part: front, rest: vec![], opening: space, style: FrontStyle::Inset, at: None });
        let pulls = if solid.size(Axis::X) > inch(24, 1) { 2 } else { 1 };
        let Some(pull) = catalog::hardware("cup pull") else { panic!("the pull is in the catalog") };
        model.hardware.push(HardwareUse {
            item: "cup pull".into(),
            kind: HardwareKind::Pull,
            size: None,
            gauge: None,
            quantity: pulls,
            unit: HardwareUnit::Each,
            purpose: name.clone(),
            note: pull.note.clone(),
            slides: None,
            part: Some(front),
            at: None,
        });
        floor += high;
    }
}

/// A pocket-screwed box with a captured bottom; gives the piece and its front.
fn drawer_box(model: &mut Model, name: &str, [width, depth, height]: [Length; 3]) -> (PieceId, PartId) {
    let (ply, thin) = (stock("1/2 birch plywood"), stock("1/4 birch plywood"));
    let (thick, up) = (ply.thickness(), inch(1, 4));
    let piece = model.add_piece(name, None);
    let mut wall = |part: &str, axis: Axis, show: Face, low: Point, high: Point| {
        let mut part = Part::new(part, piece, ply.clone(), Solid::new(low, high));
        part.thickness = axis;
        let [a, b] = axis.others();
        part.grain = Some(if part.placed.size(b) > part.placed.size(a) { b } else { a });
        part.show = Some(show);
        model.add_part(part)
    };
    let left = wall("side", Axis::X, Face::Left, [ZERO, ZERO, ZERO], [thick, depth, height]);
    let right = wall("side", Axis::X, Face::Right, [width - thick, ZERO, ZERO], [width, depth, height]);
    let front = wall("front", Axis::Y, Face::Back, [thick, ZERO, ZERO], [width - thick, thick, height]);
    let back = wall("back", Axis::Y, Face::Front, [thick, depth - thick, ZERO], [width - thick, depth, height]);
    let solid = Solid::new([thick, thick, up], [width - thick, depth - thick, up + thin.thickness()]);
    let floor = model.add_part(Part::new("bottom", piece, thin, solid));
    let walls = vec![left, right, front, back];
    let clear = inch(3, 4).max(up + solid.size(Axis::Z) + inch(1, 4)).min(height.half());
    pocketed_with(model, front, &[left, right], Face::Front, &[("edge_distance", clear)]);
    let options = Options::new()
        .with("into", Value::Parts(walls.clone()))
        .with("depth", Value::Length(thick.half()))
        .with("clearance", Value::Length(inch(1, 32)));
    join(model, "groove", floor, &walls, options);
    pocketed_with(model, back, &[left, right], Face::Back, &[("edge_distance", clear)]);
    model.squares.push(Squareness { what: name.into(), width, depth });
    (piece, front)
}

fn hang(
    model: &mut Model,
    piece: PieceId,
    name: &str,
    opening: OpeningId,
    slides: &Slides,
    note: &str,
    length: Length,
) {
    let first = model.parts_of(piece).next().map(|(id, _)| id);
    let text = format!("Hang {name} in {}: fit its slides by the marks below.", model.opening(opening).name);
    model.steps.push(Step { piece: Model::ROOT, stage: casewright::model::Stage::Hang, text });
    model.step_parts.insert(model.steps.len() - 1, first.into_iter().collect());
    model.holds.extend(first.map(|part| Hold { part, to: None }));
    model.hardware.push(HardwareUse {
        item: "side-mount slides".into(),
        kind: HardwareKind::Slides,
        size: Some(length),
        gauge: None,
        quantity: 1,
        unit: HardwareUnit::Pair,
        purpose: name.into(),
        note: note.into(),
        slides: Some(SlideFit { slides: slides.clone(), carries: piece, opening, length, room_behind: inch(1, 1) }),
        part: None,
        at: None,
    });
    model.motions.push(Motion {
        moving: Moving::Piece(piece),
        way: Way::Slide { out: Face::Front, travel: length },
        behind: Vec::new(),
        with_open: Vec::new(),
        opening: Some(opening),
        at: None,
    });
}

fn pocketed(model: &mut Model, member: PartId, to: &[PartId], drill: Face) {
    pocketed_with(model, member, to, drill, &[]);
}

fn pocketed_with(model: &mut Model, member: PartId, to: &[PartId], drill: Face, more: &[(&'static str, Length)]) {
    let mut options = Options::new()
        .with("to", Value::Parts(to.to_vec()))
        .with("with", Value::Text("pocket screws".into()))
        .with("drill", Value::Faces(vec![drill]));
    for &(name, length) in more {
        options = options.with(name, Value::Length(length));
    }
    join(model, "butt", member, to, options);
}

fn join(model: &mut Model, joint: &'static str, member: PartId, into: &[PartId], options: Options) {
    model.add_joint(JointUse { joint, member, into: into.to_vec(), options, at: None });
}

fn down(length: Length, step: Length) -> Length {
    let nearest = length.to_nearest(step);
    if nearest > length { nearest - step } else { nearest }
}

fn inch(numerator: i64, denominator: i64) -> Length {
    Length::from_inch(numerator, denominator)
}

fn stock(name: &str) -> Arc<Stock> {
    catalog::stock(name).unwrap_or_else(|| panic!("{name} is in the catalog"))
}
