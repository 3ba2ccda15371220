//! How long it takes to look at a recipe over its whole input range: 2 000 input sets of the base cabinet, each through
//! script, joints, checks and plan, on all cores.

// The draws are those of the survey test, which may unwrap.
#![allow(clippy::unwrap_used)]

#[path = "../tests/survey/draw.rs"]
mod draw;

use std::sync::atomic::{AtomicUsize, Ordering};

use casewright::job::{self, Order};
use casewright::model::Shop;
use casewright::script::{Workbench, on_script_thread};
use casewright::world::Memory;
use divan::Bencher;

use draw::{Draw, input_set};

const SETS: usize = 2_000;
const CHUNK: usize = 100;

fn main() {
    divan::main();
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn base_cabinet(bencher: Bencher<'_, '_>) {
    let workers = std::thread::available_parallelism().map_or(1, usize::from);
    bencher.bench(|| {
        let (next, jobs) = (AtomicUsize::new(0), AtomicUsize::new(0));
        std::thread::scope(|scope| {
            for _ in 0..workers {
                scope.spawn(|| on_script_thread(|| jobs.fetch_add(work(&next), Ordering::Relaxed)));
            }
        });
        assert!(jobs.load(Ordering::Relaxed) > SETS / 4);
        jobs
    });
}

/// Takes chunks until none is left; tells how many sets gave a job.
fn work(next: &AtomicUsize) -> usize {
    let bench = Workbench::new(Memory::new());
    let Ok(recipe) = bench.open("base-cabinet") else { panic!("it is built in") };
    let shop = Shop::default();
    let run = |inputs: &[(String, String)]| job::run(&bench, &recipe, Order { inputs, units: None, shop: &shop });
    let declared = run(&[]).model.inputs;
    let mut jobs = 0;
    loop {
        let chunk = next.fetch_add(1, Ordering::Relaxed);
        if chunk * CHUNK >= SETS {
            return jobs;
        }
        let mut draw = Draw::new("base-cabinet", chunk);
        for _ in 0..CHUNK {
            jobs += usize::from(run(&input_set(&mut draw, &declared)).plan.is_some());
        }
    }
}
