//! Runs every job of a table, on all cores, without writing anything.

use std::collections::{BTreeMap, BTreeSet};
use std::io::IsTerminal;
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use casewright::base::Unit;
use casewright::diag::{Finding, did_you_mean, has_errors};
use casewright::job::{self, Order, Outcome, Written};
use casewright::model::Shop;
use casewright::script::{self, Recipe, Sources, Workbench, on_script_thread};
use casewright::world::Disk;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::jobs::{CODE, Job, Table};
use crate::cli::{fault, order};

/// What came of one job.
#[derive(Debug, Default)]
pub struct Came {
    /// The run; nothing when the recipe could not be opened, or the program made a mistake.
    pub outcome: Option<Outcome>,
    /// Why the recipe could not be opened.
    pub refused: Vec<Finding>,
    /// Its papers, when it has any.
    pub papers: Vec<Written>,
    /// The text of every file that findings point into.
    pub sources: Sources,
    /// The names of all inputs that its recipe knows; nothing when the recipe did not come to its end with its defaults, so
    /// that it may know more.
    pub inputs: Option<Vec<String>>,
    /// A fault of our own, as it is to be told.
    pub fault: Option<String>,
}

impl Came {
    /// Everything that was found in the job.
    pub fn findings(&self) -> &[Finding] {
        self.outcome.as_ref().map_or(&self.refused, |outcome| &outcome.findings)
    }
}

/// What came of all jobs.
#[derive(Debug)]
pub struct AllCame {
    /// One for each job, in their order.
    pub jobs: Vec<Came>,
    /// Rows whose recipe is neither a file nor a built-in name.
    pub unopened: Vec<Finding>,
}

/// Runs all jobs of a table on so many threads. The order of what comes out does not depend on their number.
pub fn run_all(table: &Table, units: Option<Unit>, shop: &Shop, threads: usize) -> AllCame {
    let folder = Path::new(&table.file).parent().unwrap_or_else(|| Path::new(""));
    let located: Vec<Result<String, Option<Box<Finding>>>> = table.jobs.iter().map(|job| locate(folder, job)).collect();
    let recipes: BTreeSet<&str> = located.iter().flatten().map(String::as_str).collect();
    let recipes: Vec<&str> = recipes.into_iter().collect();
    let progress = progress(recipes.len() + table.jobs.len());
    // First each recipe is asked for its inputs, then the jobs are run: both are work of the same kind for the same threads.
    let known: Vec<Option<Vec<String>>> = on_threads(threads, recipes.len(), &|benches, i| {
        let order = Order { inputs: &[], units, shop };
        let asked = recipes.get(i).map(|recipe| {
            benches.with(recipe, |opened| match opened {
                Ok((bench, recipe)) => {
                    let outcome = job::run(bench, recipe, order);
                    // An error may have hidden inputs that come after it.
                    let names = outcome.model.inputs.iter().map(|input| input.name.clone()).collect();
                    (!has_errors(&outcome.findings)).then_some(names)
                }
                Err(_) => None,
            })
        });
        progress.inc(1);
        asked.and_then(Result::ok).flatten()
    });
    let mut jobs = on_threads(threads, table.jobs.len(), &|benches, i| {
        let came = match (table.jobs.get(i), located.get(i)) {
            (Some(job), Some(Ok(recipe))) => run_one(benches, recipe, job, Order { inputs: &job.inputs, units, shop }),
            _ => Came::default(),
        };
        progress.inc(1);
        came
    });
    progress.finish_and_clear();
    for (came, located) in jobs.iter_mut().zip(&located) {
        let place = located.as_ref().ok().and_then(|recipe| recipes.iter().position(|other| other == recipe));
        let mut inputs = place.and_then(|place| known.get(place).cloned().flatten());
        // Some recipes ask for more when an input says so; what the job's own run declared is known as well.
        if let (Some(inputs), Some(outcome)) = (&mut inputs, &came.outcome) {
            inputs.extend(outcome.model.inputs.iter().map(|input| input.name.clone()));
        }
        came.inputs = inputs;
    }
    AllCame { jobs, unopened: located.into_iter().filter_map(Result::err).flatten().map(|finding| *finding).collect() }
}

fn run_one(benches: &mut Benches, recipe: &str, job: &Job, order: Order<'_>) -> Came {
    let ran = benches.with(recipe, |opened| match opened {
        Err(findings) => Came { refused: findings.clone(), ..Came::default() },
        Ok((bench, recipe)) => {
            let mut outcome = job::run(bench, recipe, order);
            point_at_cells(&mut outcome, job);
            let whole = outcome.plan.is_some() && !has_errors(&outcome.findings);
            let (papers, fault) = match if whole { job::papers(&outcome) } else { Ok(Vec::new()) } {
                Ok(papers) => (papers, None),
                Err(wrong) => (Vec::new(), Some(fault::told(&wrong.to_string()))),
            };
            let sources = if outcome.findings.is_empty() { Sources::new() } else { bench.sources() };
            Came { papers, sources, fault, outcome: Some(outcome), ..Came::default() }
        }
    });
    match ran {
        Ok(mut came) => {
            if !came.refused.is_empty() {
                came.sources = benches.sources(recipe);
            }
            came
        }
        Err(fault) => Came { fault: Some(fault), ..Came::default() },
    }
}

/// A finding about an input's value points to the line that declares the input; the value itself stands in the table.
fn point_at_cells(outcome: &mut Outcome, job: &Job) {
    for finding in &mut outcome.findings {
        let mut declared = outcome.model.inputs.iter().filter(|input| input.at.is_some() && input.at == finding.at);
        if let Some(cell) = declared.find_map(|input| job.at(&input.name)) {
            finding.at = Some(cell);
        }
    }
}

/// The recipe of a job: a file from the table's folder, or a built-in name. Of an empty cell there is nothing more to say.
fn locate(folder: &Path, job: &Job) -> Result<String, Option<Box<Finding>>> {
    if job.recipe.is_empty() {
        return Err(None);
    }
    let path = folder.join(&job.recipe);
    if path.exists() && !path.is_dir() {
        return Ok(path.to_string_lossy().into_owned());
    }
    let built_in = script::library().iter().map(|each| each.name);
    if built_in.clone().any(|name| name == job.recipe) {
        return Ok(job.recipe.clone());
    }
    let message = format!(
        "row {}, column `recipe`: `{}` is neither a file beside this table nor a built-in recipe",
        job.row, job.recipe
    );
    let finding = Finding::error(CODE, message).at(job.at("recipe"));
    let file = order::with_ending(&path.to_string_lossy()).map(|_| format!("did you mean `{}.rhai`?", job.recipe));
    Err(Some(Box::new(finding.maybe_hint(file.or_else(|| did_you_mean(&job.recipe, built_in))))))
}

/// The workbenches of one thread, one for each recipe: a recipe's imports are looked for from its own folder.
#[derive(Default)]
struct Benches(BTreeMap<String, Bench>);

struct Bench {
    bench: Workbench,
    recipe: Result<Recipe, Vec<Finding>>,
}

impl Benches {
    /// Does something with an opened recipe. After a fault of ours its bench is thrown away, since nobody knows what is left on it.
    fn with<T>(
        &mut self,
        recipe: &str,
        work: impl FnOnce(Result<(&Workbench, &Recipe), &Vec<Finding>>) -> T,
    ) -> Result<T, String> {
        let done = fault::caught(|| {
            let entry = self.0.entry(recipe.to_owned()).or_insert_with(|| {
                let bench = Workbench::new(Disk);
                let recipe = bench.open(recipe);
                Bench { bench, recipe }
            });
            work(entry.recipe.as_ref().map(|recipe| (&entry.bench, recipe)))
        });
        if done.is_err() {
            self.0.remove(recipe);
        }
        done
    }

    fn sources(&self, recipe: &str) -> Sources {
        self.0.get(recipe).map(|entry| entry.bench.sources()).unwrap_or_default()
    }
}

/// Does `count` pieces of work on so many threads; the results are in the order of the work.
fn on_threads<T: Send + Default>(
    threads: usize,
    count: usize,
    work: &(dyn Fn(&mut Benches, usize) -> T + Sync),
) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let results: Mutex<Vec<(usize, T)>> = Mutex::new(Vec::with_capacity(count));
    std::thread::scope(|scope| {
        for _ in 0..threads.clamp(1, count.max(1)) {
            scope.spawn(|| {
                on_script_thread(|| {
                    let mut benches = Benches::default();
                    let mut mine = Vec::new();
                    loop {
                        let i = next.fetch_add(1, Ordering::Relaxed);
                        if i >= count {
                            break;
                        }
                        mine.push((i, work(&mut benches, i)));
                    }
                    if let Ok(mut results) = results.lock() {
                        results.append(&mut mine);
                    }
                });
            });
        }
    });
    let mut ordered: Vec<T> = std::iter::repeat_with(T::default).take(count).collect();
    for (i, result) in results.into_inner().unwrap_or_default() {
        if let Some(place) = ordered.get_mut(i) {
            *place = result;
        }
    }
    ordered
}

/// A bar on the terminal; nothing where errors go to a file.
fn progress(length: usize) -> ProgressBar {
    if !std::io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::with_draw_target(Some(length as u64), ProgressDrawTarget::stderr());
    if let Ok(style) = ProgressStyle::with_template("running {pos} of {len} {wide_bar}") {
        bar.set_style(style.progress_chars("=- "));
    }
    bar
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_keep_their_order_on_any_number_of_threads() {
        for threads in [1, 2, 7, 100] {
            assert_eq!(on_threads(threads, 20, &|_, i| i * i), (0..20).map(|i| i * i).collect::<Vec<_>>());
        }
        assert!(on_threads(4, 0, &|_, i| i).is_empty());
    }

    #[test]
    fn a_fault_in_one_piece_of_work_leaves_the_others() {
        let done = on_threads(2, 4, &|benches, i| {
            benches.with("nowhere.rhai", |_| [10, 20, 30][std::hint::black_box(i)]).unwrap_or(0)
        });
        assert_eq!(done, [10, 20, 30, 0]);
    }
}
