//! How good the cutting-stock engine is on published instances, and how fast.
//!
//! `cargo bench --bench nesting -- --seconds 1 --limit 10 --set og`. Sets: `og` guillotine without turning, `rg` with,
//! `og3` three stages, `rg3`, `furniture`, `furniture-turn`, `boards`, `job`, `unseen`; all of them when none is named. The instances are read from
//! the folder that the variable `CUTTING` names; without it only `job` and `unseen` are measured.

// What is measured is written to standard output: that is what a bench is for.
#![allow(clippy::print_stdout)]
#![allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)]

use casewright::nesting::{
    Boards, Effort, Item, Keep, Problem, Saw, Sheet, Stages, Trim, Trimming, Turn, plan, plan_boards,
};
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

struct Options {
    seconds: f64,
    limit: usize,
    skip: usize,
    /// Only every so manieth instance.
    every: usize,
    sets: Vec<String>,
    each: bool,
    seed: u64,
}

fn main() {
    let mut options =
        Options { seconds: 1.0, limit: usize::MAX, skip: 0, every: 1, sets: Vec::new(), each: false, seed: 1 };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut number = || words.next().and_then(|text| text.parse::<f64>().ok()).unwrap_or(1.0);
        match word.as_str() {
            "--seconds" => options.seconds = number(),
            "--limit" => options.limit = number() as usize,
            "--every" => options.every = (number() as usize).max(1),
            "--skip" => options.skip = number() as usize,
            "--seed" => options.seed = number() as u64,
            "--set" => options.sets.extend(words.next()),
            "--each" => options.each = true,
            _ => {}
        }
    }
    let wanted = |set: &str| options.sets.is_empty() || options.sets.iter().any(|own| own == set);
    if wanted("job") {
        jobs(&options);
    }
    if wanted("unseen") {
        unseen(&options);
    }
    let Some(folder) = folder() else {
        println!("the variable CUTTING names no folder of instances: nothing else to measure");
        return;
    };
    for (set, turn, stages, column) in [
        ("og", Turn::Fixed, None, "OG"),
        ("rg", Turn::Free, None, "RG"),
        ("og3", Turn::Fixed, Some(3), "OG"),
        ("rg3", Turn::Free, Some(3), "RG"),
    ] {
        if wanted(set) {
            sheets(&folder, "2d_bin_packing_100.jsonl", set, turn, stages, column, &options);
        }
    }
    if wanted("furniture") {
        sheets(&folder, "2d_furniture_orders_20.jsonl", "furniture", Turn::Fixed, None, "OG", &options);
    }
    if wanted("furniture-turn") {
        sheets(&folder, "2d_furniture_orders_20.jsonl", "furniture-turn", Turn::Free, None, "RG", &options);
    }
    if wanted("boards") {
        boards(&folder, &options);
    }
}

fn folder() -> Option<PathBuf> {
    std::env::var_os("CUTTING").map(PathBuf::from).filter(|folder| folder.is_dir())
}

fn lines(folder: &Path, file: &str) -> Vec<Value> {
    let text = std::fs::read_to_string(folder.join(file)).unwrap_or_default();
    text.lines().filter_map(|line| serde_json::from_str(line).ok()).collect()
}

fn sheets(folder: &Path, file: &str, set: &str, turn: Turn, stages: Option<u8>, column: &str, options: &Options) {
    let (mut total, mut known, mut bounds, mut proven, mut jobs, mut late) = (0, 0, 0, 0, 0, 0.0_f64);
    let mut spent = 0.0;
    for line in lines(folder, file).iter().skip(options.skip).step_by(options.every).take(options.limit) {
        let items: Vec<[i64; 3]> = serde_json::from_value(line["items"].clone()).unwrap_or_default();
        let sheet: [i64; 2] = serde_json::from_value(line["bin"].clone()).unwrap_or_default();
        let Ok(mut problem) = Problem::raw(sheet, turn, &items, 0) else { continue };
        problem.saw.stages = stages.map(|most| Stages { most, trimming: Trimming::Extra });
        let began = Instant::now();
        let limit = Duration::from_secs_f64(options.seconds);
        let stop = || began.elapsed() >= limit;
        let outcome = plan(&problem, &Effort { seed: options.seed, ..Effort::until(&stop) });
        let seconds = began.elapsed().as_secs_f64();
        spent += seconds;
        late = late.max(seconds);
        let values = if line["values"].is_object() { &line["values"] } else { line };
        let best = values[format!("{column}_ub")].as_u64();
        match outcome {
            Ok(outcome) => {
                jobs += 1;
                total += outcome.plan.sheets();
                known += best.unwrap_or(outcome.plan.sheets());
                bounds += outcome.bound;
                proven += u32::from(outcome.proven);
                if options.each || best.is_some_and(|best| outcome.plan.sheets() > best && options.seconds > 0.5) {
                    println!(
                        "  {} {}: {} sheets, bound {}, best known {best:?}, bound known {:?}, {seconds:.3} s",
                        set,
                        line["name"],
                        outcome.plan.sheets(),
                        outcome.bound,
                        values[format!("{column}_lb")].as_u64()
                    );
                }
            }
            Err(fault) => println!("  {}: {fault}", line["name"]),
        }
    }
    let over = 100.0 * (total as f64 - known as f64) / known.max(1) as f64;
    println!(
        "{set}: {jobs} jobs, {total} sheets, best known {known} ({over:+.2} %), bounds {bounds}, {proven} proven, \
         {spent:.1} s in all, longest {late:.3} s"
    );
}

fn boards(folder: &Path, options: &Options) {
    let (mut jobs, mut best, mut proven, mut spent, mut late) = (0, 0, 0, 0.0, 0.0_f64);
    for line in lines(folder, "1d_32.jsonl").iter().skip(options.skip).step_by(options.every).take(options.limit) {
        let items: Vec<[i64; 2]> = serde_json::from_value(line["items"].clone()).unwrap_or_default();
        let Ok(problem) = Boards::raw(line["c"].as_i64().unwrap_or(1), &items, 0) else { continue };
        let began = Instant::now();
        let limit = Duration::from_secs_f64(options.seconds);
        let stop = || began.elapsed() >= limit;
        let outcome = plan_boards(&problem, &Effort { seed: options.seed, ..Effort::until(&stop) });
        let seconds = began.elapsed().as_secs_f64();
        (spent, late) = (spent + seconds, late.max(seconds));
        jobs += 1;
        match outcome {
            Ok(outcome) => {
                // Where the optimum is open, the bound of the file stands for it.
                let optimum = line["opt"].as_i64().or(line["lp_lb"].as_i64()).unwrap_or(0);
                best += u32::from(outcome.cost == optimum || outcome.proven);
                proven += u32::from(outcome.proven);
                if options.each || !outcome.proven {
                    println!(
                        "  {}: {} boards, bound {}, {optimum} in the file, {seconds:.3} s",
                        line["id"], outcome.cost, outcome.bound
                    );
                }
            }
            Err(fault) => println!("  {}: {fault}", line["id"]),
        }
    }
    println!("boards: {jobs} jobs, {best} at the optimum, {proven} proven, {spent:.1} s in all, longest {late:.3} s");
}

/// Orders as a small shop has them, drawn anew from the seed: 10 to 80 parts of 3 to 12 kinds in round sizes, half of them
/// with a grain, on sheets of 2440 x 1220 mm and 96 x 48 in with a kerf of 3.2 mm; half the orders have offcuts on a rack.
fn unseen(options: &Options) {
    let mut dice = options.seed ^ 0x5eed;
    let mut roll = |from: i64, to: i64| {
        dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        from + (dice >> 33).cast_signed() % (to - from + 1)
    };
    let (mut cost, mut bound, mut proven, mut parts, mut spent, mut late) = (0, 0, 0, 0, 0.0, 0.0_f64);
    for order in 0..100 {
        // Tenths of a millimetre.
        let (sheet, step) = if order % 2 == 0 { ([24_400, 12_200], 50) } else { ([24_384, 12_192], 127) };
        let kinds = roll(3, 12);
        let each = (roll(10, 80) / kinds).max(1);
        let items = (0..kinds).map(|_| {
            let (long, short) = (roll(1_500, 22_000), roll(800, 7_000));
            let turn = if roll(0, 1) == 0 { Turn::Free } else { Turn::Fixed };
            let count = u32::try_from(roll(1, 2 * each - 1)).unwrap_or(1);
            Item { width: long / step * step, height: short / step * step, count, turn, matched: None }
        });
        let items = items.collect();
        let mut sheets = vec![Sheet { cost: 60, ..Sheet::new(sheet[0], sheet[1]) }];
        for _ in 0..(order / 2 % 2) * roll(1, 4) {
            sheets.push(Sheet { cost: 0, count: Some(1), ..Sheet::new(roll(4_000, 20_000), roll(3_000, 11_000)) });
        }
        let problem = Problem { sheets, items, saw: Saw { kerf: 32, ..Saw::default() } };
        let began = Instant::now();
        let limit = Duration::from_secs_f64(options.seconds);
        let is_over = || began.elapsed() >= limit;
        match plan(&problem, &Effort { seed: options.seed, ..Effort::until(&is_over) }) {
            Ok(outcome) => {
                let seconds = began.elapsed().as_secs_f64();
                (spent, late) = (spent + seconds, late.max(seconds));
                parts += problem.parts();
                cost += outcome.score.cost;
                bound += outcome.bound;
                proven += u32::from(outcome.proven);
                if options.each && !outcome.proven {
                    println!("  order {order}: cost {}, bound {}", outcome.score.cost, outcome.bound);
                }
            }
            Err(fault) => println!("  order {order}: {fault}"),
        }
    }
    let over = 100.0 * (cost - bound) as f64 / bound.max(1) as f64;
    println!(
        "unseen: 100 orders, {parts} parts, cost {cost}, bounds {bound} ({over:+.2} %), {proven} proven, {spent:.1} s in all, \
         longest {late:.3} s"
    );
}

/// A usual job (80 parts in 4 materials, each planned for a quarter of the time) and a large one (2 000 parts of 60
/// kinds), sizes in nanometres, with kerf, trim and offcuts that are worth keeping.
fn jobs(options: &Options) {
    let mut dice = options.seed;
    let mut roll = |from: i64, to: i64| {
        dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        from + (dice >> 33).cast_signed() % (to - from)
    };
    let mut order = |kinds: usize, each: u32| {
        let items = (0..kinds).map(|_| {
            let (width, height) = (roll(200, 1100) * 1_000_000, roll(80, 600) * 1_000_000);
            Item { width, height, count: each, turn: Turn::Free, matched: None }
        });
        let mut sheet = Sheet::new(2_440_000_000, 1_220_000_000);
        (sheet.cost, sheet.keep) = (6_000, Keep { short: 200_000_000, long: 400_000_000, worth: 3_000 });
        sheet.trim = Trim { left: 5_000_000, right: 5_000_000, bottom: 5_000_000, top: 5_000_000 };
        Problem { sheets: vec![sheet], items: items.collect(), saw: Saw { kerf: 3_200_000, ..Saw::default() } }
    };
    let usual: Vec<Problem> = (0..4).map(|_| order(10, 2)).collect();
    let large = [order(60, 33)];
    for (name, problems, seconds) in [("usual", &usual[..], 0.08), ("large", &large[..], 9.0)] {
        let began = Instant::now();
        let limit = Duration::from_secs_f64(seconds / problems.len() as f64);
        let (mut parts, mut used, mut cost, mut bound, mut first) = (0, 0, 0, 0, 0.0);
        for problem in problems {
            let now = Instant::now();
            if let Ok(outcome) = plan(problem, &Effort::work(0)) {
                first += now.elapsed().as_secs_f64();
                cost += outcome.score.cost;
            }
            let now = Instant::now();
            let stop = || now.elapsed() >= limit;
            if let Ok(outcome) = plan(problem, &Effort { seed: options.seed, ..Effort::until(&stop) }) {
                parts += problem.parts();
                used += outcome.plan.sheets();
                bound += outcome.bound / 6_000;
            }
        }
        println!(
            "{name}: {parts} parts, {used} sheets, bound {bound}; {} at once in {first:.3} s; {:.3} s in all",
            cost / 6_000,
            began.elapsed().as_secs_f64()
        );
    }
}
