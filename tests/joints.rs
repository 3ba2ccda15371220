//! Every joint by the example in its own story: it runs without a word of complaint, and its drawing as numbers is the one that
//! is kept in `tests/golden/joints/`.
//! Its limits stand in `tests/limits/`: each case is run where it is just allowed, and a thousandth of a millimetre beyond.
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
use casewright::model::{Feature, HardwareUnit, Kind, Shape, Shop};
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

/// What is refused whatever the sizes are: a face, a word or a pair of parts that cannot be meant.
const NOT_A_SIZE: [&str; 16] = [
    "banded-edge-in-cut",
    "broad-face-in-cut",
    "face-not-named",
    "joint-not-flat",
    "joint-twice",
    "joint-with-itself",
    "keeps-beside-lap",
    "no-end-for-dowels",
    "notch-not-at-corner",
    "option-without-effect",
    "pins-in-level-part",
    "pocket-in-broad-face",
    "pocket-in-edge",
    "rabbet-in-edge",
    "stop-beside-the-cut",
    // Counted, and attacked in `tests/hostile`.
    "too-many-cuts",
];

/// A case of `tests/limits/`: the code of its refusal, what it is about, and the recipe that is just within it.
struct Limit {
    code: String,
    about: String,
    recipe: String,
}

/// The line of a case that is changed to go beyond its limit, and what it is changed to.
const WITHIN: &str = "let more = 0.mm;";
const BEYOND: &str = "let more = 0.001.mm;";

/// The cases of a joint: what stands before the first belongs to each.
fn limits(joint: &Joint) -> Vec<Limit> {
    let path = root().join("tests/limits").join(format!("{}.rhai", joint.name));
    let text = fs::read_to_string(&path).unwrap_or_else(|_| panic!("{} has no limits in tests/limits", joint.name));
    let mut pieces = text.split("// limit[");
    let shared = pieces.next().unwrap();
    assert_eq!(shared.matches(WITHIN).count(), 1, "{}", path.display());
    pieces
        .map(|piece| {
            let (code, case) = piece.split_once(']').unwrap();
            let (about, case) = case.split_once('\n').unwrap();
            Limit { code: code.to_owned(), about: about.trim().to_owned(), recipe: format!("{shared}{case}") }
        })
        .collect()
}

/// Each limit is just allowed, and refused with its own code and a cure a thousandth of a millimetre beyond.
#[test]
fn a_thousandth_of_a_millimetre_beyond_each_limit_is_refused() {
    let mut wrong = Vec::new();
    on_script_thread(|| {
        for joint in ALL {
            for limit in limits(joint) {
                let told = format!("{}: {}: {}", joint.name, limit.code, limit.about);
                let refusals = |recipe: &str| refusals(&run(joint.name, recipe));
                let within = refusals(&limit.recipe);
                if !within.is_empty() {
                    wrong.push(format!("{told}\n  is not allowed: {}", within.join("\n  ")));
                }
                let beyond = refusals(&limit.recipe.replace(WITHIN, BEYOND));
                let expected = format!("error[{}]: {}:", limit.code, joint.name);
                if beyond.len() != 1 || !beyond[0].starts_with(&expected) || !beyond[0].contains("\n  hint: ") {
                    wrong.push(format!("{told}\n  a thousandth beyond gives: {}", beyond.join("\n  ")));
                }
            }
        }
    });
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

/// The errors of a job that joints raise; what checks make of so narrow a case is their own affair.
fn refusals(outcome: &Outcome) -> Vec<String> {
    let is_check = |code: &str| checks::ALL.iter().any(|check| check.code == code);
    let errors = outcome.findings.iter().filter(|finding| finding.severity == Severity::Error);
    errors.filter(|finding| !is_check(finding.code)).map(ToString::to_string).collect()
}

/// A joint cannot be added without its limits: every size that it refuses has one, and so has every way to make it.
#[test]
fn every_limit_has_its_case() {
    for joint in ALL {
        let limits = limits(joint);
        for code in joint.refuses.iter().chain(REFUSED_BY_ALL) {
            let is_size = !NOT_A_SIZE.contains(code);
            let has_case = limits.iter().any(|limit| limit.code == *code);
            assert_eq!(is_size, has_case, "{}: {code} is a size and has no case, or the other way about", joint.name);
        }
        for limit in &limits {
            assert!(joint.refuses.contains(&limit.code.as_str()), "{} does not tell of {}", joint.name, limit.code);
            assert!(limit.recipe.contains(&format!("{}(", joint.name)), "{}: {}", joint.name, limit.about);
        }
        let words = joint.options.iter().filter_map(|option| match option.kind {
            Kind::Choice(words) => Some((option.name, words)),
            _ => None,
        });
        for (option, words) in words {
            for word in words {
                let given = format!("{option}: \"{word}\"");
                assert!(
                    limits.iter().any(|limit| limit.recipe.contains(&given)),
                    "{}: no limit is tried with {given}",
                    joint.name
                );
            }
        }
    }
    let kept = fs::read_dir(root().join("tests/limits")).unwrap().count();
    assert_eq!(kept, ALL.len(), "limits are kept of a joint that is no more");
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
