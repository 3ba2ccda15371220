//! Laws that hold for every job: nothing overlaps, counts agree between papers, a bigger opening never gives a smaller
//! drawer, and the same recipe with the same inputs gives the same bytes.

// A test may unwrap: a failure there is its message.
#![allow(clippy::unwrap_used)]

use casewright::base::{Axis, Length};
use casewright::diag::{Severity, has_errors};
use casewright::job::{self, Order, Outcome};
use casewright::model::{HardwareKind, Shop};
use casewright::plan::Made;
use casewright::script::{Recipe, Workbench, on_script_thread};
use casewright::world::Disk;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// Runs `law` on jobs of a recipe with inputs drawn by `inputs`. The seed is fixed: a law is held, not gambled on.
fn for_jobs<S: Strategy<Value = Vec<(String, String)>> + Send>(
    recipe: &str,
    count: u32,
    inputs: S,
    law: impl Fn(&Workbench, &Recipe, &[(String, String)], &Outcome) + Send,
) {
    on_script_thread(move || {
        let bench = Workbench::new(Disk);
        let recipe = bench.open(recipe).unwrap_or_else(|findings| panic!("{findings:#?}"));
        let config = Config { cases: count, failure_persistence: None, ..Config::default() };
        let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
        let ran = runner.run(&inputs, |inputs| {
            let outcome = run(&bench, &recipe, &inputs);
            law(&bench, &recipe, &inputs, &outcome);
            Ok(())
        });
        if let Err(error) = ran {
            panic!("{error}");
        }
    });
}

fn run(bench: &Workbench, recipe: &Recipe, inputs: &[(String, String)]) -> Outcome {
    job::run(bench, recipe, Order { inputs, units: None, shop: &Shop::default() })
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap()
}

fn given(name: &str, value: impl ToString) -> (String, String) {
    (name.to_owned(), value.to_string())
}

/// Sixteenths of an inch, as typed.
fn sixteenths(count: i64) -> String {
    format!("{count}/16in")
}

fn bank() -> impl Strategy<Value = Vec<(String, String)>> {
    let heights = prop::sample::select(vec!["equal", "graduated"]);
    let style = prop::sample::select(vec!["applied", "inset"]);
    let back = prop::sample::select(vec!["full height", "cut down"]);
    (96_i64..960, 160_i64..1344, 128_i64..640, 1_i64..12, heights, style, back).prop_map(
        |(width, height, depth, drawers, heights, style, back)| {
            vec![
                given("width", sixteenths(width)),
                given("height", sixteenths(height)),
                given("depth", sixteenths(depth)),
                given("drawers", drawers),
                given("heights", heights),
                given("style", style),
                given("back", back),
            ]
        },
    )
}

#[test]
fn every_bank_is_built_or_says_which_input_to_change() {
    for_jobs("drawer-bank", 1500, bank(), |_, _, inputs, outcome| {
        if outcome.plan.is_none() {
            assert!(has_errors(&outcome.findings));
            for finding in outcome.findings.iter().filter(|finding| finding.severity != Severity::Note) {
                // A job that cannot be is the recipe's own word, or has a hint; it is never a fault of the script.
                let said = ["recipe-stop", "no-slide-fits", "requirement", "part-beyond-stock"].contains(&finding.code);
                assert!(said, "{inputs:?}\n{finding}");
            }
        }
    });
}

#[test]
fn the_books_of_a_bank_agree() {
    for_jobs("drawer-bank", 300, bank(), |bench, recipe, inputs, outcome| {
        let Some(plan) = &outcome.plan else { return };
        let model = &outcome.model;
        // Every part is in one row of the cut list.
        let listed: i64 = plan.cut_list.iter().map(|row| row.quantity).sum();
        assert_eq!(listed, i64::try_from(model.parts.len()).unwrap());
        // Every screw of the model is on the bill.
        let used: i64 =
            model.hardware.iter().filter(|used| used.kind == HardwareKind::Screw).map(|used| used.quantity).sum();
        let billed: i64 = plan.hardware.iter().filter(|row| row.item.ends_with("screw")).map(|row| row.quantity).sum();
        assert_eq!(used, billed);
        // What is left of every part and what was cut away are the whole of it.
        for part in &model.parts {
            let left: i128 = part.material().iter().map(casewright::base::Solid::volume).sum();
            assert!(left > 0 && left <= part.solid.volume());
        }
        // Each sheet is its parts, its offcuts, what is lost and the sawdust; what is cut is what is listed.
        let stock_plan = plan.cutting.plan();
        for stock in &stock_plan.stocks {
            assert!(stock.unplanned.is_some() == stock.blanks.is_empty(), "{inputs:?}: {:?}", stock.unplanned);
            let areas = stock.areas;
            assert_eq!(areas.parts + areas.offcuts + areas.waste + areas.sawdust, areas.sheets);
            let used: i128 = stock
                .uses
                .iter()
                .map(|row| i128::from(row.length.nm()) * i128::from(row.width.nm()) * i128::from(row.count))
                .sum();
            assert_eq!(used, areas.sheets);
            for blank in &stock.blanks {
                let made = |made: Made| matches!(made, Made::Part(_));
                let cut_off = blank.cuts.iter().map(|cut| usize::from(made(cut.makes)) + usize::from(made(cut.leaves)));
                assert_eq!(cut_off.sum::<usize>(), blank.parts.len(), "{inputs:?}: a part that no cut frees");
            }
        }
        let laid_out: u32 = stock_plan.blanks().map(|(_, blank)| count(blank.parts.len()) * blank.copies).sum();
        let planned: i64 =
            stock_plan.stocks.iter().filter(|stock| stock.unplanned.is_none()).map(|stock| stock.parts).sum();
        assert_eq!(i64::from(laid_out), planned, "{inputs:?}");
        // Fronts and reveals fill the height exactly.
        if let [first, .., last] = model.fronts.as_slice() {
            let (low, high) = (model.part(first.part).solid, model.part(last.part).solid);
            let gaps: Vec<Length> = model
                .fronts
                .windows(2)
                .map(|pair| model.part(pair[1].part).solid.low[2] - model.part(pair[0].part).solid.high[2])
                .collect();
            let fronts: Length = model.fronts.iter().map(|front| model.part(front.part).solid.size(Axis::Z)).sum();
            assert_eq!(fronts + gaps.iter().copied().sum(), high.high[2] - low.low[2]);
            let (least, most) = (gaps.iter().min().unwrap(), gaps.iter().max().unwrap());
            assert!((*most - *least).nm() <= 1, "{inputs:?}: reveals are not even");
        }
        // The same again gives the same bytes.
        assert_eq!(job::papers(outcome), job::papers(&run(bench, recipe, inputs)), "{inputs:?}");
    });
}

#[test]
fn a_bigger_opening_never_gives_a_smaller_drawer() {
    for_jobs("drawer-bank", 300, bank(), |bench, recipe, inputs, outcome| {
        let Some(_) = &outcome.plan else { return };
        let wider: Vec<(String, String)> = inputs
            .iter()
            .map(|(name, value)| {
                if name == "width" || name == "height" || name == "depth" {
                    let count: i64 = value.trim_end_matches("/16in").parse().unwrap();
                    given(name, sixteenths(count + 7))
                } else {
                    given(name, value)
                }
            })
            .collect();
        let larger = run(bench, recipe, &wider);
        let Some(_) = &larger.plan else { return };
        let sizes = |outcome: &Outcome| {
            outcome
                .model
                .parts
                .iter()
                .filter(|part| part.name == "side")
                .map(|part| [part.solid.size(Axis::Y), part.solid.size(Axis::Z)])
                .collect::<Vec<_>>()
        };
        for (small, large) in sizes(outcome).iter().zip(sizes(&larger)) {
            assert!(small[0] <= large[0] && small[1] <= large[1], "{inputs:?}");
        }
    });
}

#[test]
fn marks_stay_when_a_size_changes() {
    on_script_thread(|| {
        let bench = Workbench::new(Disk);
        let recipe = bench.open("bench-drawers").unwrap_or_else(|findings| panic!("{findings:#?}"));
        let marks = |inputs: &[(String, String)]| {
            let outcome = run(&bench, &recipe, inputs);
            let plan = outcome.plan.unwrap_or_else(|| panic!("{:#?}", outcome.findings));
            plan.cut_list.into_iter().map(|row| (row.mark, row.part)).collect::<Vec<_>>()
        };
        assert_eq!(marks(&[]), marks(&[given("width", "66"), given("height", "36"), given("depth", "25-1/2")]));
    });
}

#[test]
fn every_panel_and_frame_is_built_or_says_why() {
    let panel = (32_i64..1536, 32_i64..768, 0_usize..4, any::<bool>(), 0_usize..3, any::<bool>()).prop_map(
        |(width, depth, edges, ends, off, first)| {
            vec![
                given("width", sixteenths(width)),
                given("depth", sixteenths(depth)),
                given("edges", ["front", "front and back", "front and ends", "all round"][edges]),
                given("corners", if ends { "ends run through" } else { "front runs through" }),
                given("taken_off", ["as the band says", "yes", "no"][off]),
                given("order", if first { "band, then cut to size" } else { "cut to size, then band" }),
            ]
        },
    );
    for_jobs("edged-panel", 600, panel, |_, _, inputs, outcome| {
        for finding in outcome.findings.iter().filter(|finding| {
            outcome.plan.is_none() && finding.severity != Severity::Note && finding.code != "requirement"
        }) {
            assert!(finding.code == "part-beyond-stock", "{inputs:?}\n{finding}");
        }
    });
    let frame = (96_i64..1536, 96_i64..1536, 1_i64..8, 1_i64..8).prop_map(|(width, height, columns, rows)| {
        vec![
            given("case_width", sixteenths(width)),
            given("case_height", sixteenths(height)),
            given("columns", columns),
            given("rows", rows),
        ]
    });
    for_jobs("face-frame", 600, frame, |_, _, inputs, outcome| {
        for finding in
            outcome.findings.iter().filter(|finding| outcome.plan.is_none() && finding.severity != Severity::Note)
        {
            let said = ["recipe-stop", "pocket-leaves-part", "part-beyond-stock"].contains(&finding.code);
            assert!(said, "{inputs:?}\n{finding}");
        }
    });
}
