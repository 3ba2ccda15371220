//! `casewright batch`: many jobs from one table.
//!
//! [`jobs`] reads the table, [`work`] runs every row before anything is written, [`combined`] adds the lists up.

mod combined;
mod jobs;
mod names;
mod work;

use std::num::NonZeroUsize;
use std::path::Path;

use casewright::diag::{Finding, Severity, has_errors};
use casewright::plan::{BlankForm, Source, UseRow};
use casewright::script::Sources;
use clap::{Arg, ArgMatches};

use super::console::Console;
use super::disk::{self, Sheet};
use super::exit::Exit;
use super::order::{self, exit_for};
use super::render::{self, HEADING, counted, one_line, paint, tally};
use super::run::out_arg;
use super::table::{Column, Group, section};
use super::{Command, Ran};

use combined::{Cell, Finished};
use jobs::{Job, Table};
use work::{AllCame, Came};

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "batch",
    about: "Run every job of a table: a folder of papers each, and the lists of all together",
    detail: "JOBS.csv has a header with the columns job, recipe and count, and a column for each input; an empty cell leaves \
             an input at its default, and an empty count is one. A recipe is a file, looked for from the folder of the table, or \
             a built-in name.\n\nAll rows are run before anything is written. A fault in the table itself - a column that no \
             recipe knows, a wrong count, a job named twice - stops everything. A job with errors does not stop the others: \
             it gets no folder (one from an earlier batch stays as it was), and summary.csv says so.\n\nIn DIR: a folder of \
             papers for each job; cut-list.csv, hardware.csv and edge-band.csv with the rows of all jobs, quantities times \
             count; stock.csv with what to buy for all jobs together, by area and length as in the stock.csv of a job; \
             summary.csv with the parts and sheets of one of each job. The lists of all jobs are in one unit: that of --units, else the one that all jobs have, \
             else inches. Rolls of band are counted for each job by itself.",
    args,
    run,
};

/// What became of one job.
struct Ended<'a> {
    job: &'a Job,
    /// Parts and sheets of one of them; nothing when it failed.
    figures: Option<(i64, i64)>,
    /// Why it failed, for the summary; empty when it did not.
    error: String,
    exit: Exit,
}

fn args(command: clap::Command) -> clap::Command {
    command
        .arg(Arg::new("jobs").value_name("JOBS.csv").required(true).help("The table of jobs"))
        .arg(out_arg().required(true))
        .arg(order::units_arg())
        .arg(order::shop_arg())
        .arg(
            Arg::new("threads")
                .long("threads")
                .value_name("N")
                .value_parser(clap::value_parser!(NonZeroUsize))
                .help("How many jobs to run at once [default: as many as the machine has cores]"),
        )
}

fn run(matches: &ArgMatches, console: &mut Console) -> Ran {
    let file = order::text(matches, "jobs").unwrap_or_default();
    let folder = order::text(matches, "out").unwrap_or_default();
    let shop = order::shop(matches, console)?;
    let text = read_table(&file).map_err(|finding| {
        console.tell(&render::findings(&[*finding], &Sources::new(), console.width));
        Exit::File
    })?;
    if Path::new(&folder).is_file() {
        return Err(console.file_fault(&format!("`{folder}` is a file, not a folder"), "give another folder to --out"));
    }
    let threads = matches.try_get_one::<NonZeroUsize>("threads").ok().flatten().copied();
    let threads = threads.or_else(|| std::thread::available_parallelism().ok()).map_or(1, NonZeroUsize::get);
    let units = order::units(matches);
    let mut sources = shop.sources.clone();
    sources.insert(file.as_str().into(), text.as_str().into());
    let (table, mut faults) = jobs::read(&file, &text);
    let came = work::run_all(&table, units, &shop.shop, threads);
    faults.extend(jobs::faults_of_columns(&table, &came));
    if !faults.is_empty() {
        faults.sort_by(|a, b| a.at.cmp(&b.at));
        return Err(refuse(&faults, &table, &came, &sources, console));
    }
    let mut finished = Vec::new();
    let mut ended = Vec::new();
    for (job, came) in table.jobs.iter().zip(&came.jobs) {
        let end = finish(job, came, &sources, Path::new(&folder), console);
        if let (None, Some(outcome)) = (failure(&end), &came.outcome)
            && let Some(plan) = &outcome.plan
        {
            finished.push(Finished { job, model: &outcome.model, plan });
        }
        ended.push(end);
    }
    let lists = combined::lists(&finished, units, &shop.shop).map_err(|wrong| console.wrong_plan(&wrong))?;
    let summary = summary(&ended);
    let mut sheets: Vec<Sheet<'_>> = lists.iter().map(|(file, bytes)| Sheet { file, bytes }).collect();
    sheets.push(Sheet { file: combined::SUMMARY, bytes: &summary });
    let written = disk::write_all(Path::new(&folder), &sheets);
    console.say(&shown(&ended, console.width))?;
    let mut exit = ended.iter().map(|end| end.exit).fold(Exit::Done, Exit::and);
    if let Err(fault) = written {
        exit = exit.and(console.file_fault(&fault.to_string(), &fault.hint));
    } else {
        let drawn = sheets.iter().filter(|sheet| casewright::papers::is_drawing_name(sheet.file)).count();
        let mut files: Vec<String> = sheets.iter().map(|sheet| sheet.file.to_owned()).collect();
        files.retain(|file| !casewright::papers::is_drawing_name(file));
        if drawn > 0 {
            files.push(counted(drawn, "drawing"));
        }
        console.say(&format!("wrote {} to {}", files.join(", "), one_line(&folder)))?;
    }
    Ok(exit)
}

/// Reads the text of a table. A workbook is what people have at hand, and it is no text.
fn read_table(file: &str) -> Result<String, Box<Finding>> {
    const SAVE_AS: &str = "save it from the spreadsheet as CSV in UTF-8, not as a workbook";
    let text = order::read_file(file, "table of jobs", SAVE_AS)?;
    // The first bytes of every zip file, which a workbook is: APPNOTE.TXT 4.3.7, local file header signature.
    if text.starts_with("PK\u{3}\u{4}") {
        return Err(Box::new(order::unreadable(file, "table of jobs", "it is a workbook").hint(SAVE_AS)));
    }
    Ok(text)
}

/// Tells the faults of a table, and the errors of its jobs as well, so that all can be mended at once.
fn refuse(faults: &[Finding], table: &Table, came: &AllCame, files: &Sources, console: &mut Console) -> Exit {
    console.tell(&render::findings(faults, files, console.width));
    for (job, came) in table.jobs.iter().zip(&came.jobs) {
        // An input that the recipe does not know has been told as a fault of its column.
        let errors = came.findings().iter().filter(|finding| finding.severity == Severity::Error);
        let errors: Vec<Finding> = errors.filter(|finding| finding.code != "unknown-input").cloned().collect();
        tell_of_job(job, came, &errors, files, console);
    }
    console.tell(&format!("{} in the table of jobs: nothing was written\n", tally(faults)));
    Exit::JobErrors
}

/// Tells what was found in a job, under its name.
fn tell_of_job(job: &Job, came: &Came, findings: &[Finding], files: &Sources, console: &mut Console) {
    if findings.is_empty() {
        return;
    }
    console.tell(&paint(HEADING, &format!("job {}, row {}\n", one_line(&job.name), job.row)));
    let mut sources = came.sources.clone();
    sources.extend(files.clone());
    console.tell(&render::findings(findings, &sources, console.width));
}

fn failure<'a>(end: &'a Ended<'_>) -> Option<&'a str> {
    Some(end.error.as_str()).filter(|error| !error.is_empty())
}

/// Tells what was found in a job, and writes its papers when it has any.
fn finish<'a>(job: &'a Job, came: &Came, files: &Sources, folder: &Path, console: &mut Console) -> Ended<'a> {
    let failed = |error: String, exit| Ended { job, figures: None, error, exit };
    if let Some(fault) = &came.fault {
        console.tell(&paint(HEADING, &format!("job {}, row {}\n", one_line(&job.name), job.row)));
        console.tell(fault);
        return failed("a fault of the program itself; please report it".into(), Exit::Fault);
    }
    tell_of_job(job, came, came.findings(), files, console);
    let plan = came.outcome.as_ref().and_then(|outcome| outcome.plan.as_ref());
    let Some(plan) = plan.filter(|_| !has_errors(came.findings())) else {
        let errors = came.findings().iter().filter(|finding| finding.severity == Severity::Error);
        let errors: Vec<String> =
            errors.map(|finding| format!("{}: {}", finding.code, one_line(&finding.message))).collect();
        let error = if errors.is_empty() { "it has no papers".to_owned() } else { errors.join("; ") };
        return failed(error, exit_for(came.findings()).and(Exit::JobErrors));
    };
    let sheets: Vec<Sheet<'_>> = came.papers.iter().map(Sheet::from).collect();
    if let Err(fault) = disk::write_all(&folder.join(&job.name), &sheets) {
        return failed(fault.to_string(), console.file_fault(&fault.to_string(), &fault.hint));
    }
    let parts = plan.cut_list.iter().map(|row| row.quantity).sum();
    let of_sheets = plan.cutting.plan().stocks.iter().filter(|stock| stock.form == BlankForm::Sheet);
    let bought =
        |uses: &[UseRow]| -> i64 { uses.iter().filter(|row| row.source == Source::Bought).map(|row| row.count).sum() };
    let sheets = of_sheets.map(|stock| bought(&stock.uses)).sum();
    Ended { job, figures: Some((parts, sheets)), error: String::new(), exit: Exit::Done }
}

/// A row a job: `job,recipe,count,state,parts_each,sheets_each,error`. Parts and sheets are those of one, not times the count.
fn summary(ended: &[Ended<'_>]) -> Vec<u8> {
    let text = |text: &str| Cell::Text(text.to_owned());
    let head = ["job", "recipe", "count", "state", "parts_each", "sheets_each", "error"].map(text).to_vec();
    let rows = ended.iter().map(|end| {
        let figure = |pick: fn((i64, i64)) -> i64| end.figures.map_or(Cell::Empty, |both| Cell::Number(pick(both)));
        vec![
            text(&end.job.name),
            text(&end.job.recipe),
            Cell::Number(end.job.count),
            text(state(end)),
            figure(|(parts, _)| parts),
            figure(|(_, sheets)| sheets),
            text(&end.error),
        ]
    });
    combined::csv(std::iter::once(head).chain(rows))
}

fn state(end: &Ended<'_>) -> &'static str {
    if failure(end).is_some() { "failed" } else { "done" }
}

fn shown(ended: &[Ended<'_>], width: usize) -> String {
    const COLUMNS: [Column; 7] = [
        Column::words("job", 24),
        Column::words("recipe", 24),
        Column::number("count"),
        Column::words("state", 6),
        Column::number("parts each"),
        Column::number("sheets each"),
        Column::text("error"),
    ];
    let rows = ended
        .iter()
        .map(|end| {
            let (parts, sheets) =
                end.figures.map(|(parts, sheets)| (parts.to_string(), sheets.to_string())).unwrap_or_default();
            vec![
                end.job.name.clone(),
                end.job.recipe.clone(),
                end.job.count.to_string(),
                state(end).to_owned(),
                parts,
                sheets,
                end.error.clone(),
            ]
        })
        .collect();
    let failed = ended.iter().filter(|end| failure(end).is_some()).count();
    let summary = match failed {
        0 => counted(ended.len(), "job"),
        failed => format!("{}, {failed} failed", counted(ended.len(), "job")),
    };
    section("Batch", &summary, &COLUMNS, &[Group { heading: String::new(), rows }], width)
}
