//! Every library recipe over its whole input range: thousands of input sets, drawn from the recipe's own declarations.
//!
//! Each set gives a job without errors, for which the laws below hold, or findings that each name an input to change. It
//! is never a fault of the script, a panic or a wrong part. The draws are the same in each run; `CASEWRIGHT_SURVEY=20000`
//! makes more of them, and `CASEWRIGHT_SURVEY_ONLY` names the one recipe, or recipe file, to look at.

// A test may unwrap: a failure there is its message.
#![allow(clippy::unwrap_used)]
// What each recipe refuses is shown with `--nocapture`.
#![allow(clippy::print_stdout)]

mod draw;

use std::collections::BTreeMap;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use casewright::base::{Axis, Length, Solid, Unit};
use casewright::diag::{Finding, Severity, has_errors};
use casewright::job::{self, Order, Outcome};
use casewright::model::{Feature, HardwareKind, Input, InputKind, Model, Part, Shape, Shop, Value};
use casewright::plan::Plan;
use casewright::script::{Recipe, Workbench, library, on_script_thread};
use casewright::world::Disk;

use draw::{Draw, input_set};

/// Sets a recipe when nothing else is asked for.
const SETS: usize = 2_000;
/// Sets that one thread takes at a time.
const CHUNK: usize = 250;
/// Differing failures of a recipe that are told.
const TOLD: usize = 6;
/// Of the sets of a recipe, at least one in this many must give a job: a recipe that refuses all but a few has its ranges
/// wrong, and the laws would hold for nothing.
const AT_LEAST_ONE_IN: usize = 4;

#[test]
fn every_input_set_gives_a_job_or_names_an_input() {
    let sets = std::env::var("CASEWRIGHT_SURVEY").map_or(SETS, |text| text.parse().unwrap());
    let recipes: Vec<String> = match std::env::var("CASEWRIGHT_SURVEY_ONLY") {
        Ok(only) => vec![only],
        Err(_) => library().iter().map(|built_in| built_in.name.to_owned()).collect(),
    };
    let chunks: Vec<(&str, usize)> = recipes
        .iter()
        .flat_map(|recipe| (0..sets.div_ceil(CHUNK)).map(move |chunk| (recipe.as_str(), chunk)))
        .collect();
    let next = AtomicUsize::new(0);
    let tallies: Mutex<BTreeMap<String, Tally>> = Mutex::default();
    let workers = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..workers {
            scope.spawn(|| {
                on_script_thread(|| {
                    while let Some(&(recipe, chunk)) = chunks.get(next.fetch_add(1, Ordering::Relaxed)) {
                        let count = CHUNK.min(sets - chunk * CHUNK);
                        let tally = survey(recipe, chunk, count);
                        tallies.lock().unwrap().entry(recipe.to_owned()).or_default().add(tally);
                    }
                });
            });
        }
    });
    let tallies = tallies.into_inner().unwrap();
    let mut told = String::new();
    for (recipe, tally) in &tallies {
        println!(
            "{recipe}: {} of {} sets give a job; refused most often: {:#?}",
            tally.jobs,
            tally.sets,
            tally.most_often()
        );
        for (_, (count, text)) in tally.failures.iter().take(TOLD) {
            told += &format!("\n{recipe}, {count} times like this: {text}\n");
        }
        if tally.jobs * AT_LEAST_ONE_IN < tally.sets {
            told += &format!(
                "\n{recipe}: only {} of {} sets give a job; most often: {:#?}\n",
                tally.jobs,
                tally.sets,
                tally.most_often()
            );
        }
    }
    assert!(told.is_empty(), "{told}");
}

/// What came of some sets of one recipe.
#[derive(Default)]
struct Tally {
    sets: usize,
    jobs: usize,
    /// How often each message, with its figures left out, refused a set.
    refusals: BTreeMap<String, usize>,
    /// The first failure of each kind, and how many there were.
    failures: BTreeMap<String, (usize, String)>,
}

impl Tally {
    fn add(&mut self, other: Self) {
        self.sets += other.sets;
        self.jobs += other.jobs;
        for (message, count) in other.refusals {
            *self.refusals.entry(message).or_default() += count;
        }
        for (kind, (count, text)) in other.failures {
            self.failures.entry(kind).or_insert((0, text)).0 += count;
        }
    }

    fn most_often(&self) -> Vec<(&String, &usize)> {
        let mut all: Vec<_> = self.refusals.iter().collect();
        all.sort_by_key(|(_, count)| std::cmp::Reverse(**count));
        all.truncate(TOLD);
        all
    }
}

fn survey(name: &str, chunk: usize, count: usize) -> Tally {
    let bench = Workbench::new(Disk);
    let recipe = bench.open(name).unwrap_or_else(|findings| panic!("{findings:#?}"));
    let shop = Shop::default();
    let run = |inputs: &[(String, String)], units| {
        job::run(&bench, &recipe, Order { inputs, units: Some(units), shop: &shop })
    };
    let declared = [Unit::Inch, Unit::Millimetre].map(|units| (units, run(&[], units).model.inputs));
    let mut draw = Draw::new(name, chunk);
    let mut tally = Tally::default();
    for _ in 0..count {
        let (units, inputs) = &declared[usize::from(draw.one_in(3))];
        let given = input_set(&mut draw, inputs);
        let outcome = run(&given, *units);
        tally.sets += 1;
        tally.jobs += usize::from(outcome.plan.is_some());
        for finding in outcome.findings.iter().filter(|finding| finding.severity == Severity::Error) {
            *tally.refusals.entry(without_figures(&finding.message)).or_default() += 1;
        }
        if let Err((kind, text)) = judge(&recipe, &outcome) {
            let typed: Vec<String> = given.iter().map(|(name, value)| format!("'{name}={value}'")).collect();
            let text = format!("{text}\n  casewright check {name} --units {} {}", units.short(), typed.join(" "));
            tally.failures.entry(kind).or_insert((0, text)).0 += 1;
        }
    }
    tally
}

/// Whether what came of a set is right; else a word for the kind of fault, and its story.
fn judge(recipe: &Recipe, outcome: &Outcome) -> Result<(), (String, String)> {
    match &outcome.plan {
        None => {
            let errors: Vec<&Finding> =
                outcome.findings.iter().filter(|finding| finding.severity == Severity::Error).collect();
            if errors.is_empty() {
                return Err(("silent".to_owned(), "there is neither a job nor an error".to_owned()));
            }
            match errors.iter().find(|finding| !names_an_input(finding, &outcome.model.inputs)) {
                Some(finding) => {
                    Err((format!("{} {}", finding.code, without_figures(&finding.message)), finding.to_string()))
                }
                None => Ok(()),
            }
        }
        Some(plan) => {
            assert!(!has_errors(&outcome.findings));
            laws(recipe.name(), &outcome.model, plan).map_err(|broken| (without_figures(&broken), broken))
        }
    }
}

/// A finding tells which input to change when it is the recipe's own word and says the name of one, or is the program's and
/// points at an input, or at the stock or hardware that was given for one.
fn names_an_input(finding: &Finding, inputs: &[Input]) -> bool {
    let text = format!("{} {}", finding.message, finding.hint.as_deref().unwrap_or(""));
    let words: Vec<&str> = text.split(|letter: char| !letter.is_alphanumeric() && letter != '_').collect();
    inputs.iter().any(|input| match finding.code {
        "recipe-stop" | "requirement" => words.contains(&input.name.as_str()),
        "input-out-of-range" | "wrong-input" => finding.message.contains(&format!("the input `{}`", input.name)),
        _ => {
            matches!(&input.value, Value::Text(name) if input.kind != InputKind::Choice && text.contains(name.as_str()))
        }
    })
}

fn without_figures(text: &str) -> String {
    let mut plain = String::new();
    for letter in text.chars() {
        let letter = if letter.is_ascii_digit() { '#' } else { letter };
        if !(letter == '#' && plain.ends_with('#')) {
            plain.push(letter);
        }
    }
    plain.replace("#/#", "#").replace("#-#", "#").replace("#.#", "#").replace("\"+", "\"").replace("\"-", "\"")
}

/// What holds for every job of every recipe.
fn laws(recipe: &str, model: &Model, plan: &Plan) -> Result<(), String> {
    let parts = i64::try_from(model.parts.len()).unwrap();
    let listed: i64 = plan.cut_list.iter().map(|row| row.quantity).sum();
    holds(parts > 0, || "the job has no parts".to_owned())?;
    holds(listed == parts, || format!("{listed} parts are listed of {parts}"))?;
    for row in &plan.cut_list {
        let positive = row.length.is_positive() && row.width.is_positive() && row.quantity > 0;
        holds(positive, || format!("`{}` is listed as {} x {}", row.part, row.length, row.width))?;
    }
    for part in &model.parts {
        for axis in Axis::ALL {
            holds(part.solid.size(axis).is_positive(), || format!("`{}` has no size", part.name))?;
            holds(part.placed.size(axis).is_positive(), || format!("`{}` was placed without a size", part.name))?;
        }
        holds(part.placed.size(part.thickness).same_size(part.stock.thickness()), || {
            format!("`{}` is not as thick as its stock", part.name)
        })?;
        let left: i128 = part.material().iter().map(Solid::volume).sum();
        holds(left > 0, || format!("nothing is left of `{}`", part.name))?;
        for feature in &part.features {
            holds(removes_wood(part, feature), || format!("a {} lies outside `{}`", feature.name, part.name))?;
        }
    }
    let of_kind =
        |kind| model.hardware.iter().filter(move |used| used.kind == kind).map(|used| used.quantity).sum::<i64>();
    let billed: i64 = plan.hardware.iter().filter(|row| row.item.ends_with("screw")).map(|row| row.quantity).sum();
    holds(of_kind(HardwareKind::Screw) == billed, || {
        format!("{billed} screws are billed of {}", of_kind(HardwareKind::Screw))
    })?;
    outside_sizes(recipe, model)?;
    case_adds_up(model)
}

fn holds(law: bool, broken: impl FnOnce() -> String) -> Result<(), String> {
    if law { Ok(()) } else { Err(broken()) }
}

fn removes_wood(part: &Part, feature: &Feature) -> bool {
    let inside = feature.solid.overlap(&part.solid);
    match feature.shape {
        Shape::Channel { .. } | Shape::Step { .. } => inside == Some(feature.solid),
        _ => inside.is_some(),
    }
}

/// The recipes that promise outside sizes, and the piece that has them.
const CASES: [(&str, &str); 5] = [
    ("base-cabinet", "case"),
    ("bookcase", "case"),
    ("carcass", "case"),
    ("pantry-tower", "case"),
    ("wall-cabinet", "case"),
];

/// The case is exactly as wide, deep and high as it was asked for.
fn outside_sizes(recipe: &str, model: &Model) -> Result<(), String> {
    let Some((_, piece)) = CASES.iter().find(|(name, _)| *name == recipe) else { return Ok(()) };
    let asked = |name: &str| match model.inputs.iter().find(|input| input.name == name).map(|input| &input.value) {
        Some(Value::Length(length)) => *length,
        other => panic!("{recipe} has no length `{name}`: {other:?}"),
    };
    let own = model.parts.iter().filter(|part| ["case", "plinth"].contains(&model.piece(part.piece).name.as_str()));
    let (mut low, mut high) = ([Length::LIMIT; 3], [-Length::LIMIT; 3]);
    for part in own {
        for axis in 0..3 {
            low[axis] = low[axis].min(part.solid.low[axis]);
            high[axis] = high[axis].max(part.solid.high[axis]);
        }
    }
    for (axis, name) in ["width", "depth", "height"].into_iter().enumerate() {
        let (is, wanted) = (high[axis] - low[axis], asked(name));
        holds(is == wanted, || format!("the {piece} has a {name} of {is}, and {wanted} was asked for"))?;
    }
    Ok(())
}

/// Across a case: sides, partitions and what fits between them make up the width; from its bottom up: bottom, clear
/// heights, fixed shelves and top make up the height. What fits between is read from the sizes to cut, not from places.
fn case_adds_up(model: &Model) -> Result<(), String> {
    let of = |name: &'static str| {
        model.parts.iter().filter(move |part| part.name == name && model.piece(part.piece).name == "case")
    };
    let sides: Vec<&Part> = of("side").collect();
    let ([left, right], Some(bottom)) = (sides.as_slice(), of("bottom").next()) else { return Ok(()) };
    let across = |part: &Part| part.cut_size(Axis::X);
    let width = right.solid.high[0] - left.solid.low[0];
    let joined: Length = joined_depths(model, bottom, Axis::X);
    let whole = across(left) + across(right) + across(bottom) - joined;
    holds(whole == width, || format!("sides and bottom make {whole} of a width of {width}"))?;
    // A row of fixed shelves with the partitions between them.
    let partitions: Length = of("partition").map(across).sum();
    let mut rows: BTreeMap<Length, Length> = BTreeMap::new();
    for shelf in of("fixed shelf") {
        *rows.entry(shelf.solid.low[2]).or_insert(Length::ZERO) += across(shelf) - joined_depths(model, shelf, Axis::X);
    }
    for (at, shelves) in rows {
        let whole = across(left) + across(right) + partitions + shelves;
        holds(whole == width, || {
            format!("sides, partitions and fixed shelves at {at} make {whole} of a width of {width}")
        })?;
    }
    Ok(())
}

/// How much longer a part is than what is seen of it between its neighbours: the depths of the cuts that it goes into.
fn joined_depths(model: &Model, part: &Part, axis: Axis) -> Length {
    let index = model.parts.iter().position(|other| std::ptr::eq(other, part)).unwrap();
    let mut depths = Length::ZERO;
    for (id, joint) in model.joints.iter().enumerate() {
        if joint.member.0 as usize != index || joint.options.length("clearance").is_some() {
            continue;
        }
        for &target in &joint.into {
            let cuts = model.part(target).features.iter().filter(|cut| {
                cut.joint.0 as usize == id
                    && cut.face.axis() == axis
                    && matches!(cut.shape, Shape::Channel { .. } | Shape::Step { .. })
            });
            depths += cuts.map(Feature::depth).next().unwrap_or(Length::ZERO);
        }
    }
    depths
}
