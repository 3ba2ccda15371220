//! Every joint by the example in its own story: it runs without a word of complaint, and its drawing as numbers is the one that
//! is kept in `tests/golden/joints/`.
//!
//! `UPDATE_GOLDEN=1 cargo test --test joints` writes the drawings anew; work out by hand what changed before you commit it.

// A test may unwrap: a failure there is its message.
#![allow(clippy::unwrap_used)]

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use casewright::base::{Axis, Length, Point, Solid, decimal_mm};
use casewright::checks;
use casewright::diag::{Severity, codes};
use casewright::job::{self, Order, Outcome};
use casewright::joints::{ALL, Joint, REFUSED_BY_ALL};
use casewright::model::{Feature, HardwareUnit, Shape, Shop};
use casewright::script::{Workbench, on_script_thread};
use casewright::world::Disk;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

#[test]
fn every_story_is_whole() {
    assert!(ALL.windows(2).all(|pair| pair[0].name < pair[1].name), "joints stand in the order of their names");
    for joint in ALL {
        let sentences = [joint.about, joint.changes, joint.leaves, joint.needs, joint.sets, joint.assembly];
        assert!(
            sentences.iter().all(|text| text.ends_with('.')),
            "{}: every part of its story is a sentence",
            joint.name
        );
        assert!(!joint.summary.is_empty() && !joint.source.is_empty() && !joint.refuses.is_empty(), "{}", joint.name);
        assert!(joint.example.contains(&format!("{}(", joint.name)), "{}: its example does not use it", joint.name);
        assert!(joint.example.ends_with(";\n"), "{}", joint.name);
        assert_eq!(joint.options[0].name, joint.target, "{}: the target comes first", joint.name);
        for option in joint.options {
            let needs_reason = !option.default.is_empty();
            assert_eq!(needs_reason, !option.reason.is_empty(), "{}: why is `{}` so", joint.name, option.name);
        }
    }
}

/// What a joint refuses is told with its story, and a wrong recipe shows it; that of too many cuts is in `tests/hostile`.
#[test]
fn every_refusal_is_shown() {
    let cases: String = fs::read_dir(root().join("tests/findings"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "rhai"))
        .map(|path| fs::read_to_string(path).unwrap())
        .collect();
    for joint in ALL {
        assert!(joint.refuses.windows(2).all(|pair| pair[0] < pair[1]), "{}: refusals in order", joint.name);
        for code in joint.refuses.iter().chain(REFUSED_BY_ALL) {
            let known = codes::ALL.iter().any(|known| known.code == *code);
            assert!(
                known || checks::ALL.iter().any(|check| check.code == *code),
                "{}: {code} has no story",
                joint.name
            );
            assert!(
                cases.contains(&format!("error[{code}]")) || *code == "too-many-cuts",
                "{}: no case shows {code}",
                joint.name
            );
        }
    }
}

#[test]
fn every_example_runs_and_gives_the_drawing_that_is_kept() {
    let folder = root().join("tests/golden/joints");
    let mut differ = Vec::new();
    on_script_thread(|| {
        for joint in ALL {
            let outcome = run(joint.name, joint.example);
            let loud: Vec<_> = outcome
                .findings
                .iter()
                .filter(|finding| finding.severity != Severity::Note)
                .map(ToString::to_string)
                .collect();
            assert!(loud.is_empty(), "{}: {}", joint.name, loud.join("\n"));
            assert!(job::papers(&outcome).unwrap().iter().all(|paper| !paper.bytes.is_empty()));
            let drawing = drawing(joint, &outcome);
            let path = folder.join(format!("{}.txt", joint.name));
            if std::env::var_os("UPDATE_GOLDEN").is_some() {
                fs::create_dir_all(&folder).unwrap();
                fs::write(&path, &drawing).unwrap();
            }
            if fs::read_to_string(&path).unwrap_or_default() != drawing {
                differ.push(format!("{} differs from what the joint gives:\n{drawing}", path.display()));
            }
        }
    });
    assert!(differ.is_empty(), "{}", differ.join("\n"));
    let kept = fs::read_dir(&folder).unwrap().count();
    assert_eq!(kept, ALL.len(), "a drawing is kept of a joint that is no more");
}

fn run(name: &str, text: &str) -> Outcome {
    let shop = Shop::default();
    let bench = Workbench::new(Disk);
    let recipe = bench.compile(name, text).unwrap_or_else(|findings| panic!("{name}: {findings:#?}"));
    job::run(&bench, &recipe, Order { inputs: &[], units: None, shop: &shop })
}

/// A job as numbers: each part with its size, each cut in the part's own coordinates, settings, hardware and steps.
fn drawing(joint: &Joint, outcome: &Outcome) -> String {
    let model = &outcome.model;
    let mut text = format!(
        "{}: sizes in millimetres, cuts from the part's left, front, bottom corner\n\n{}",
        joint.name, joint.example
    );
    for part in &model.parts {
        let zero = part.solid.low;
        let grown = if part.solid == part.placed { String::new() } else { format!(", placed {}", sizes(&part.placed)) };
        writeln!(text, "\npart {}: {}{grown}", part.name, sizes(&part.solid)).unwrap();
        for feature in &part.features {
            let (low, high) = (from(feature.solid.low, zero), from(feature.solid.high, zero));
            writeln!(text, "  {}: {low} to {high}, {}", feature.name, shape(feature)).unwrap();
        }
    }
    let Some(plan) = &outcome.plan else { return text };
    text.push('\n');
    for row in &plan.cut_list {
        writeln!(text, "cut list: {} x {}: {}", row.quantity, row.part, row.joinery).unwrap();
    }
    for row in &plan.settings {
        writeln!(text, "setting: {} {} for {}: {}", row.what, row.value, row.work, row.note).unwrap();
    }
    for one in &model.hardware {
        let size = one.size.map(|size| format!(" {size}")).unwrap_or_default();
        let unit = if one.unit == HardwareUnit::Area { " mm2" } else { "" };
        writeln!(text, "hardware: {}{unit} {}{size}", one.quantity, one.item).unwrap();
    }
    for step in &model.steps {
        writeln!(text, "step: {}", step.text).unwrap();
    }
    text
}

/// A cuboid's sizes: width x depth x height.
fn sizes(solid: &Solid) -> String {
    Axis::ALL.map(|axis| decimal_mm(solid.size(axis))).join(" x ")
}

/// A point measured from the part's own left, front, bottom corner.
fn from(point: Point, zero: Point) -> String {
    let own: [Length; 3] = std::array::from_fn(|axis| point[axis] - zero[axis]);
    format!("({})", own.map(decimal_mm).join(", "))
}

fn shape(feature: &Feature) -> String {
    let run = |along: Axis, stopped: bool| format!("along {along:?}{}", if stopped { ", stopped" } else { "" });
    let how = match feature.shape {
        Shape::Channel { along, stopped } => format!("channel {}", run(along, stopped)),
        Shape::Step { along, stopped } => format!("step {}", run(along, stopped)),
        Shape::Mortise { along } => format!("mortise {}", run(along, false)),
        Shape::Bevel { along, end } => format!("bevel {}, takes the {}", run(along, false), end.name()),
        Shape::Dovetail { along, slope, wide } => {
            format!("dovetail {}, slope {slope}, wide at the {}", run(along, false), wide.name())
        }
        Shape::Bore(bore) => format!("bore {}{}", decimal_mm(bore.diameter), if bore.pocket { ", pocket" } else { "" }),
        Shape::Screw { diameter } => format!("screw {}", decimal_mm(diameter)),
    };
    format!("{how}, from the {}", feature.face.name())
}
