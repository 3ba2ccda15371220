//! Jobs for the tests of this folder, built by native calls.

use super::Subject;
use crate::base::{Axis, Face, Length, Printing, Solid, Unit};
use crate::catalog;
use crate::diag::{At, Finding};
use crate::model::{
    Banding, Feature, HardwareKind, HardwareUnit, HardwareUse, JointId, JointUse, MarkOut, Model, Options, Part,
    PartId, Setting, Shape, Shop, Squareness, Stage, Step,
};
use crate::plan;

/// Makes a paper of a model in the default shop.
pub(super) fn with_subject(model: &Model, write: fn(Subject<'_>) -> Vec<u8>) -> Vec<u8> {
    let plan = plan::plan(model, &Shop::default());
    let findings = [Finding::warning("shelf-sag", "shelf `middle` would sag")
        .at(Some(At::new("a.rhai", 3, 1)))
        .hint("use thicker stock")];
    write(Subject { model, plan: &plan, findings: &findings })
}

fn inch(n: i64, d: i64) -> Length {
    Length::from_inch(n, d)
}

fn cuboid(x: Length, y: Length, z: Length) -> Solid {
    Solid::new([Length::ZERO; 3], [x, y, z])
}

/// Two drawers with two sides of 20 x 4 in each, grooved and banded, and a front of maple.
pub(super) fn two_drawers() -> Model {
    let mut model = Model::new("bank", Printing::default());
    for n in 1..=2 {
        let name = format!("drawer {n}");
        let piece = model.add_piece(&name, Some(At::new("bank.rhai", n, 2)));
        model.place(piece, Model::ROOT, [Length::ZERO; 3]);
        for face in [Face::Right, Face::Left] {
            let mut side = Part::new(
                "side",
                piece,
                catalog::stock("1/2 birch plywood").unwrap(),
                cuboid(inch(1, 2), inch(20, 1), inch(4, 1)),
            );
            let x = if face == Face::Right { (inch(1, 4), inch(1, 2)) } else { (Length::ZERO, inch(1, 4)) };
            let removed = Solid::new([x.0, Length::ZERO, inch(1, 4)], [x.1, inch(20, 1), inch(1, 2)]);
            let shape = Shape::Channel { along: Axis::Y, stopped: false };
            side.features.push(Feature { name: "groove", shape, solid: removed, face, joint: JointId(0) });
            let band = catalog::stock("birch veneer band 7/8").unwrap();
            side.bands.push(Banding { stock: band, edge: Face::Top, runs_through: false, taken_off: false });
            let part = model.add_part(side);
            model.settings.push(Setting {
                what: "fence",
                work: "groove for 1/4\" bottoms".into(),
                value: inch(1, 4),
                note: String::new(),
                part,
            });
        }
        let front = cuboid(inch(17, 1), inch(3, 4), inch(5, 1));
        model.add_part(Part::new("front", piece, catalog::stock("3/4 hard maple board").unwrap(), front));
        let slides = HardwareUse {
            item: "side-mount slides".into(),
            kind: HardwareKind::Slides,
            size: Some(inch(20, 1)),
            gauge: None,
            quantity: 1,
            unit: HardwareUnit::Pair,
            purpose: name.clone(),
            note: String::new(),
            slides: None,
            part: None,
            at: None,
        };
        let screws = HardwareUse {
            item: "pocket screw".into(),
            kind: HardwareKind::Screw,
            size: Some(inch(5, 4)),
            gauge: Some(7),
            quantity: 8,
            unit: HardwareUnit::Each,
            note: "coarse thread".into(),
            ..slides.clone()
        };
        let glue = HardwareUse {
            item: "wood glue".into(),
            kind: HardwareKind::Glue,
            size: None,
            quantity: 50_000,
            unit: HardwareUnit::Area,
            note: "area of glue joint".into(),
            ..slides.clone()
        };
        model.hardware.extend([slides, screws, glue]);
        let text = format!("Glue up {name}: sides to front and back; the bottom stays dry.");
        model.steps.push(Step { piece: Model::ROOT, stage: Stage::Build, text });
        model.squares.push(Squareness { what: name, width: inch(15, 1), depth: inch(20, 1) });
    }
    model.add_joint(JointUse {
        joint: "groove",
        member: PartId(0),
        into: vec![PartId(1)],
        options: Options::new(),
        at: Some(At::new("bank.rhai", 9, 1)),
    });
    model.mark_outs.push(MarkOut {
        what: "slide 1, centre line".into(),
        from: "from the floor of the opening".into(),
        distance: inch(33, 16),
    });
    model.notes.push("Measure the opening again before cutting.".into());
    model
}

/// One shelf of 800 x 300.5 x 18 mm.
pub(super) fn metric_shelf() -> Model {
    let mut model = Model::new("case", Printing { unit: Unit::Millimetre, denominator: 32 });
    let solid = cuboid(Length::from_mm(800), Length::from_um(300_500), Length::from_mm(18));
    model.add_part(Part::new("shelf", Model::ROOT, catalog::stock("18 mm MDF").unwrap(), solid));
    model
}
