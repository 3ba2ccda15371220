//! `casewright run`: a recipe's papers, on the terminal or in a folder.

use std::path::Path;

use casewright::diag::has_errors;
use casewright::job::{self, Outcome, Written};
use casewright::plan::Plan;
use casewright::script::Workbench;
use casewright::world::Disk;
use clap::{Arg, ArgMatches};

use super::console::Console;
use super::disk::{self, Sheet};
use super::exit::Exit;
use super::layout::search::{self, Sought};
use super::order::{self, Asked, exit_for};
use super::render::{self, counted, tally};
use super::table::{Column, Group, section};
use super::{Command, Ran, table};

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "run",
    about: "Run a recipe: its cut list and bills on the terminal, or all papers in a folder",
    detail: "Without --out, the lists are printed and nothing is written. With --out, the papers are written into the \
             folder: all of them, or none when the job has errors or the folder cannot be written to. Other files in the \
             folder stay as they are.\n\nA value with a blank needs quotes: \"width=16 7/8\", or write width=16-7/8.",
    args,
    run,
};

/// The option that names the folder for papers.
pub fn out_arg() -> Arg {
    Arg::new("out")
        .long("out")
        .value_name("DIR")
        .value_parser(clap::builder::NonEmptyStringValueParser::new())
        .help("Write the papers into this folder, which is made if it is not there")
}

/// Writes papers and says which: the text to show.
pub fn write_papers(folder: &str, papers: &[Written], console: &mut Console) -> Result<String, Exit> {
    let sheets: Vec<Sheet<'_>> = papers.iter().map(Sheet::from).collect();
    disk::write_all(Path::new(folder), &sheets).map_err(|fault| console.file_fault(&fault.to_string(), &fault.hint))?;
    Ok(written(folder, papers, console.width))
}

/// What was written, a line a paper.
pub fn written(folder: &str, papers: &[Written], width: usize) -> String {
    const COLUMNS: [Column; 2] = [Column::words("", 30), Column::text("")];
    let mut rows: Vec<Vec<String>> = Vec::new();
    for paper in papers {
        let about = super::explain::paper_summary(&paper.file);
        match rows.last_mut() {
            // Drawings of one kind are told once, with their first and last file.
            Some(last) if last.get(1).is_some_and(|told| told == about) => {
                let first = last[0].split(" to ").next().unwrap_or_default().to_owned();
                last[0] = format!("{first} to {}", paper.file);
            }
            _ => rows.push(vec![paper.file.clone(), about.to_owned()]),
        }
    }
    let heading = format!("wrote {} to {}", counted(papers.len(), "paper"), render::one_line(folder));
    let text = section(&heading, "", &COLUMNS, &[Group { heading: String::new(), rows }], width);
    text.trim_end().to_owned() + "\n"
}

/// The job in one line: `bench: 42 parts in 18 rows, of 3 stocks`.
pub fn in_one_line(plan: &Plan) -> String {
    let parts: i64 = plan.cut_list.iter().map(|row| row.quantity).sum();
    let mut stocks: Vec<&str> = plan.cut_list.iter().map(|row| row.stock.as_str()).collect();
    stocks.sort_unstable();
    stocks.dedup();
    format!(
        "{}: {} in {}, of {}",
        render::one_line(&plan.title),
        counted(usize::try_from(parts).unwrap_or(0), "part"),
        counted(plan.cut_list.len(), "row"),
        counted(stocks.len(), "stock")
    )
}

fn args(command: clap::Command) -> clap::Command {
    let command = command
        .arg(order::recipe_arg().required(true))
        .arg(order::inputs_arg())
        .arg(out_arg())
        .arg(order::units_arg())
        .arg(order::shop_arg());
    search::args(command)
}

fn run(matches: &ArgMatches, console: &mut Console) -> Ran {
    let mut asked = Asked::read(matches, console)?;
    let sought = Sought::read(matches);
    sought.rules(&mut asked.shop.shop);
    search::rack(matches, &mut asked.shop.shop, console)?;
    let bench = Workbench::new(Disk);
    let outcome = asked.run(&bench, console)?;
    console.tell(&render::findings(&outcome.findings, &asked.sources(&bench), console.width));
    hand_over(&outcome, &sought, order::text(matches, "out").as_deref(), console)
}

/// Prints the lists of a job, or writes its papers into the folder that was named.
fn hand_over(outcome: &Outcome, sought: &Sought, folder: Option<&str>, console: &mut Console) -> Ran {
    let Some(plan) = outcome.plan.as_ref().filter(|_| !has_errors(&outcome.findings)) else {
        return Ok(without_plan(outcome, console));
    };
    sought.lay_out(&plan.cutting).map_err(|wrong| console.wrong_plan(wrong))?;
    match folder {
        None => console.say(&table::plan(plan, console.width))?,
        Some(folder) => {
            let papers = job::papers(outcome).map_err(|wrong| console.wrong_plan(&wrong))?;
            let told = write_papers(folder, &papers, console)?;
            console.say(&format!("{}\n{told}", in_one_line(plan)))?;
        }
    }
    Ok(Exit::Done)
}

/// Says that there is nothing to print or write, and gives the code for it.
fn without_plan(outcome: &Outcome, console: &mut Console) -> Exit {
    console.tell(&format!("{}: no papers\n", tally(&outcome.findings)));
    // A job without a plan has an error finding; should it not, that is still no success.
    exit_for(&outcome.findings).and(Exit::JobErrors)
}

#[cfg(test)]
mod tests {
    use casewright::model::Shop;
    use casewright::nesting::{self, Node};
    use casewright::plan::Search;
    use casewright::script::on_script_thread;

    use super::*;
    use crate::cli::console::tests::console;

    #[test]
    fn a_stock_plan_that_cannot_be_cut_ends_in_our_fault_and_writes_nothing() {
        on_script_thread(|| {
            // An engine that forgets all parts but one of each sheet.
            let forgets = |problem: &nesting::Problem, effort: &nesting::Effort<'_>| {
                let mut outcome = nesting::plan(problem, effort)?;
                for layout in &mut outcome.plan.layouts {
                    layout.root = Node::Part { item: 0, turned: false };
                }
                Ok(outcome)
            };
            let bench = Workbench::new(Disk);
            let recipe = bench.open("drawer-box").unwrap();
            let outcome = job::run(&bench, &recipe, job::Order { inputs: &[], units: None, shop: &Shop::default() });
            let folder = tempfile::tempdir().unwrap();
            let out = folder.path().join("papers");
            let sought = Sought { seconds: None, seed: 1, first: None, stages: None, engine: forgets };
            let (mut console, said, told) = console();
            let ended = hand_over(&outcome, &sought, out.to_str(), &mut console);
            assert_eq!((ended, Exit::Fault.code()), (Err(Exit::Fault), 70));
            assert_eq!((said.text().as_str(), out.exists()), ("", false));
            for part in
                ["the stock plan for `1/2 birch plywood` cannot be cut: a part has not its size", "please report it"]
            {
                assert!(told.text().contains(part), "{}", told.text());
            }
            assert!(job::papers(&outcome).is_err());
            // The engine itself makes one that can be.
            let outcome = job::run(&bench, &recipe, job::Order { inputs: &[], units: None, shop: &Shop::default() });
            let sound = Sought { engine: Search::USUAL.engine, ..sought };
            assert_eq!(hand_over(&outcome, &sound, out.to_str(), &mut console), Ok(Exit::Done));
            assert!(out.join("cutting-plan.csv").exists());
        });
    }
}
