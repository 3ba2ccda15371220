//! How fast a job is, from the recipe's text to the bytes of its papers.
//!
//! `cargo bench`: a six-drawer bank in a face frame. `text_to_papers` compiles the recipe each time, `compiled_to_papers`
//! once; `native_to_papers` builds the very same model by calls and takes it the rest of the way; `script_alone` and
//! `native_alone` leave out all that comes after the model. Each further stage is measured by itself: `joints_alone`,
//! `checks_alone`, `lists_alone` (the plan without its stock plan), `stock_plan_alone` and `papers_alone`.

mod native;

use casewright::checks;
use casewright::job::{self, Order};
use casewright::joints;
use casewright::model::{Model, Shop};
use casewright::plan;
use casewright::proof::Proved;
use casewright::script::{Recipe, Workbench, on_script_thread};
use casewright::world::Memory;
use divan::{Bencher, black_box};

const RECIPE: &str = include_str!("../examples/print-studio/bench-drawers.rhai");

fn main() {
    on_script_thread(divan::main);
}

fn bench() -> (Workbench, Recipe, Shop) {
    let bench = Workbench::new(Memory::new());
    let recipe = bench.compile("bench.rhai", RECIPE).unwrap_or_else(|findings| panic!("{findings:?}"));
    (bench, recipe, Shop::default())
}

fn order(shop: &Shop) -> Order<'_> {
    Order { inputs: &[], units: None, shop }
}

#[divan::bench]
fn text_to_papers(bencher: Bencher<'_, '_>) {
    let (bench, _, shop) = bench();
    bencher.bench_local(|| {
        let Ok(recipe) = bench.compile("bench.rhai", black_box(RECIPE)) else { panic!("the recipe does not compile") };
        job::papers(&job::run(&bench, &recipe, order(&shop)))
    });
}

#[divan::bench]
fn compiled_to_papers(bencher: Bencher<'_, '_>) {
    let (bench, recipe, shop) = bench();
    bencher.bench_local(|| job::papers(&job::run(&bench, black_box(&recipe), order(&shop))));
}

#[divan::bench]
fn native_to_papers(bencher: Bencher<'_, '_>) {
    let (bench, recipe, shop) = bench();
    same_as_the_recipe(&bench, &recipe, &shop);
    bencher.bench_local(|| job::papers(&job::build(native::bench_front(black_box(&shop)), Vec::new(), &shop)));
}

#[divan::bench]
fn script_alone(bencher: Bencher<'_, '_>) {
    let (bench, recipe, shop) = bench();
    bencher.bench_local(|| bench.run(black_box(&recipe), order(&shop)));
}

#[divan::bench]
fn native_alone(bencher: Bencher<'_, '_>) {
    let shop = Shop::default();
    bencher.bench_local(|| native::bench_front(black_box(&shop)));
}

/// The model as the recipe leaves it, before its joints are made.
fn model() -> (Model, Shop) {
    let (bench, recipe, shop) = bench();
    (bench.run(&recipe, order(&shop)).model, shop)
}

#[divan::bench]
fn joints_alone(bencher: Bencher<'_, '_>) {
    let (model, shop) = model();
    bencher.with_inputs(|| model.clone()).bench_local_refs(|model| joints::make(model, &shop));
}

#[divan::bench]
fn checks_alone(bencher: Bencher<'_, '_>) {
    let (mut model, shop) = model();
    joints::make(&mut model, &shop);
    bencher.bench_local(|| {
        let proof = Proved::new(black_box(&model));
        checks::run(checks::Subject { model: &model, shop: &shop, proof: &proof })
    });
}

#[divan::bench]
fn lists_alone(bencher: Bencher<'_, '_>) {
    let (mut model, shop) = model();
    joints::make(&mut model, &shop);
    bencher.bench_local(|| plan::plan(black_box(&model), &shop));
}

#[divan::bench]
fn stock_plan_alone(bencher: Bencher<'_, '_>) {
    let (mut model, shop) = model();
    joints::make(&mut model, &shop);
    let fresh = || plan::plan(&model, &shop);
    bencher.with_inputs(fresh).bench_local_refs(|plan| plan.cutting.plan().blanks().count());
}

#[divan::bench]
fn papers_alone(bencher: Bencher<'_, '_>) {
    let (bench, recipe, shop) = bench();
    let done = job::run(&bench, &recipe, order(&shop));
    // The stock plan is made once and kept.
    assert!(job::papers(&done).is_ok_and(|papers| !papers.is_empty()));
    bencher.bench_local(|| job::papers(black_box(&done)));
}

/// The comparison means nothing unless both ways give the very same papers.
fn same_as_the_recipe(bench: &Workbench, recipe: &Recipe, shop: &Shop) {
    let bare = |mut model: Model| {
        model.inputs.clear();
        model.parts.iter_mut().for_each(|part| part.at = None);
        model.pieces.iter_mut().for_each(|piece| piece.at = None);
        model.joints.iter_mut().for_each(|joint| std::sync::Arc::make_mut(joint).at = None);
        model.openings.iter_mut().for_each(|opening| opening.at = None);
        model.fronts.iter_mut().for_each(|front| front.at = None);
        model.hardware.iter_mut().for_each(|used| used.at = None);
        model.motions.iter_mut().for_each(|motion| motion.at = None);
        format!("{model:#?}")
    };
    let (drawn, native) = (bare(bench.run(recipe, order(shop)).model), bare(native::bench_front(shop)));
    let differs = drawn.lines().zip(native.lines()).find(|(a, b)| a != b);
    assert!(drawn == native, "recipe and native model differ: {differs:?}");
}
