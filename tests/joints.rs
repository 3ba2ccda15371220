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
use casewright::model::{Feature, Fits, HardwareUnit, Kind, Shape, Shop};
use casewright::proof::Proved;
use casewright::script::{Workbench, on_script_thread};
use casewright::world::Disk;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

#[test]
fn every_story_is_whole() {
    assert!(ALL.windows(2).all(|pair| pair[0].name < pair[1].name), "joints stand in the order of their names");
    for joint in ALL {
        let sentences =
            [joint.about, joint.changes, joint.leaves, joint.needs, joint.sets, joint.promises, joint.assembly];
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

/// What each joint states that it lays against another part, in the words of its bearings: joints and their words in order. Only where a
/// notch names nothing beside it, pin holes no shelf and a hinge no case are there not two parts that meet.
const BEARS: &[(&str, &[&str])] = &[
    ("box_joint", &["finger"]),
    ("bridle", &["tongue"]),
    ("butt", &["contact"]),
    ("cleat", &["contact"]),
    ("dado", &["edge", "tongue"]),
    ("dovetail", &["end of a tail", "root", "side of a tail"]),
    ("groove", &["edge"]),
    ("half_lap", &["lap"]),
    ("hinge", &["back at a hinge"]),
    ("lock_rabbet", &["tongue"]),
    ("mitre", &["mitred face"]),
    ("notch", &["face"]),
    ("pin_holes", &["underside"]),
    ("rabbet", &["edge"]),
    ("stub_tenon", &["tenon"]),
    ("tenon", &["tenon"]),
    ("tongue_and_groove", &["tongue"]),
];

/// Every joint states what it lays on what, it is all there on the finished parts, and it is measured to a thousandth: what was promised
/// is moved by that and by twice that, either way.
#[test]
fn every_joint_keeps_what_it_promises() {
    on_script_thread(|| {
        for (joint, (name, words)) in ALL.iter().zip(BEARS) {
            assert_eq!(joint.name, *name, "each joint has its line, in order");
            let outcome = run(joint.name, &fitted_example(joint));
            let mut model = outcome.model;
            let is_own: Vec<bool> =
                model.bearings.iter().map(|one| model.joint(one.joint).joint == joint.name).collect();
            let own = || (0..is_own.len()).filter(|&at| is_own[at]);
            let mut said: Vec<&str> = own().map(|at| model.bearings[at].what).collect();
            said.sort_unstable();
            said.dedup();
            assert_eq!(said, *words, "{name}");
            let loses = |at: usize| {
                let (bearing, kept) = (&model.bearings[at], Proved::new(&model).kept()[at].clone());
                let is_whole = kept.whole == kept.bears && kept.bears > 0;
                (!is_whole).then(|| format!("{name}: {} of {}: {kept:?}", bearing.what, model.full_name(bearing.part)))
            };
            assert_eq!(own().find_map(loses), None);
            let mut measured: Vec<&str> = Vec::new();
            for at in own().collect::<Vec<_>>() {
                let promised = model.bearings[at].room;
                for by in [-2, -1, 1, 2] {
                    model.bearings[at].room = promised + Length::from_um(by);
                    let kept = Proved::new(&model).kept()[at].clone();
                    let told = format!("{name}: {} moved by {by}: {kept:?}", model.bearings[at].what);
                    assert_eq!(kept.bears > 0, by.abs() == 1, "{told}");
                    assert_eq!(kept.room.is_some(), by.abs() == 2, "{told}");
                    if by == 2 {
                        measured.push(model.bearings[at].what);
                    }
                }
                model.bearings[at].room = promised;
            }
            measured.sort_unstable();
            measured.dedup();
            assert_eq!(measured, *words, "{name}");
        }
    });
}

/// What is refused whatever the sizes are: a face, a word or a pair of parts that cannot be meant.
const NOT_A_SIZE: [&str; 17] = [
    "banded-edge-in-cut",
    "broad-face-in-cut",
    "cleat-misplaced",
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

/// Each word of the shop's fits reaches each joint that takes a fit: it gives the very cuts that the shop's length gives, a looser
/// word takes more away, and without a word the joint takes the one that its story names.
#[test]
fn every_fit_of_the_shop_reaches_every_joint() {
    let um = Length::from_um;
    let shop = Shop { fits: Fits { snug: um(100), sliding: um(300), loose: um(700) }, ..Shop::default() };
    let lengths = ["0.1.mm", "0.3.mm", "0.7.mm"];
    on_script_thread(|| {
        for joint in ALL {
            let Some(fit) = joint.options.iter().find(|option| option.kind == Kind::Fit) else { continue };
            let example = fitted_example(joint);
            let cuts = |given: &str| {
                let text: Vec<String> = example
                    .lines()
                    .map(|line| match line.strip_prefix(joint.name) {
                        Some(rest) if rest.starts_with('(') => line.replacen("#{ ", &format!("#{{ {given}"), 1),
                        _ => line.to_owned(),
                    })
                    .collect();
                let outcome = run_in(&shop, joint.name, &text.join("\n"));
                assert_eq!(refusals(&outcome), Vec::<String>::new(), "{}: {given}", joint.name);
                let cuts = outcome.model.parts.iter().flat_map(|part| part.features.clone());
                cuts.map(|cut| (cut.name, cut.solid)).collect::<Vec<_>>()
            };
            let by_word = Fits::WORDS.map(|word| cuts(&format!("{}: \"{word}\", ", fit.name)));
            let by_length = lengths.map(|length| cuts(&format!("{}: {length}, ", fit.name)));
            assert_eq!(by_word, by_length, "{}: a word is the shop's length", joint.name);
            let taken = by_word.each_ref().map(|cuts| cuts.iter().map(|(_, solid)| solid.volume()).sum::<i128>());
            assert!(taken[0] < taken[1] && taken[1] < taken[2], "{}: {taken:?}", joint.name);
            let usual = Fits::WORDS.iter().position(|word| fit.default.contains(&format!("\"{word}\"")));
            assert_eq!(cuts(""), by_word[usual.unwrap()], "{}: {} when left out", joint.name, fit.default);
        }
    });
}

/// The example of a joint; where it shows no fit, one that does.
fn fitted_example(joint: &Joint) -> String {
    match joint.name {
        "notch" => r#"let ply = stock("3/4 birch plywood");
let side = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 24.inch, bottom: 0.inch, height: 34.inch });
let rail = part("rail", #{ stock: ply, left: 0.inch, width: 30.inch, front: 0.inch, bottom: 0.inch, height: 4.inch });
notch(side, #{ beside: rail, at: ["front", "bottom"] });
"#
        .to_owned(),
        // All of its mitres with a spline.
        "mitre" => {
            joint.example.replace("to: [left, right] }", "to: [left, right], spline: stock(\"1/4 birch plywood\") }")
        }
        _ => joint.example.to_owned(),
    }
}

/// What goes in was measured: cuts are as wide as that, not as its name.
#[test]
fn cuts_are_as_wide_as_what_goes_in_was_measured() {
    let sheet = r#"sheet("thin", #{ thickness: 6.mm, measured: 5.6.mm, length: 2440.mm, width: 1220.mm })"#;
    let parts = r#"units("mm");
let maple = board("maple", #{ species: "hard maple", thickness: 20.mm });
let one = part("one", #{ stock: maple, left: 0.mm, width: 60.mm, front: 0.mm, bottom: 0.mm, height: 400.mm, grain: "up" });
"#;
    let panel = format!(
        "let two = part(\"two\", #{{ stock: {sheet}, left: 60.mm, width: 200.mm, front: 7.mm, bottom: 0.mm, height: 400.mm }});"
    );
    let rail = r#"let two = part("two", #{ stock: maple, left: 60.mm, width: 200.mm, front: 0.mm, bottom: 0.mm, height: 60.mm, grain: "across" });"#;
    let planed = r#"let two = part("two", #{ stock: board("planed", #{ species: "hard maple", thickness: 18.mm, measured: 17.mm }),
    left: 60.mm, width: 200.mm, front: 0.mm, bottom: 0.mm, height: 400.mm, grain: "up" });"#;
    on_script_thread(|| {
        for (joint, lines, at, wide) in [
            ("groove", format!("{panel} groove(two, #{{ into: one }});"), 0, 5_600),
            ("dado", format!("{panel} dado(two, #{{ into: one }});"), 0, 5_600),
            ("mitre", format!("{rail} mitre(two, #{{ to: one, spline: {sheet} }});"), 1, 5_600),
            // A third of a board planed to 17, down to a half: 5.5; of the 18 of its name it would be 6.
            ("tongue_and_groove", format!("{planed} tongue_and_groove(two, #{{ into: one, fit: 0.mm }});"), 0, 5_500),
        ] {
            let outcome = run(joint, &format!("{parts}{lines}"));
            assert_eq!(refusals(&outcome), Vec::<String>::new(), "{joint}");
            let cut = &outcome.model.parts[0].features[at];
            assert_eq!(cut.solid.size(Axis::Y), Length::from_um(wide), "{joint}");
        }
    });
}

fn run(name: &str, text: &str) -> Outcome {
    run_in(&Shop::default(), name, text)
}

fn run_in(shop: &Shop, name: &str, text: &str) -> Outcome {
    let bench = Workbench::new(Disk);
    let recipe = bench.compile(name, text).unwrap_or_else(|findings| panic!("{name}: {findings:#?}"));
    job::run(&bench, &recipe, Order { inputs: &[], units: None, shop })
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
        Shape::Spline { end, width, depth } => {
            format!("spline slot {} wide, {} deep, in the {}", decimal_mm(width), decimal_mm(depth), end.name())
        }
        Shape::Bevel { along, end } => format!("bevel {}, takes the {}", run(along, false), end.name()),
        Shape::Dovetail { along, slope, wide } => {
            format!("dovetail {}, slope {slope}, wide at the {}", run(along, false), wide.name())
        }
        Shape::Bore(bore) => format!("bore {}{}", decimal_mm(bore.diameter), if bore.pocket { ", pocket" } else { "" }),
        Shape::Screw { diameter } => format!("screw {}", decimal_mm(diameter)),
    };
    format!("{how}, from the {}", feature.face.name())
}
