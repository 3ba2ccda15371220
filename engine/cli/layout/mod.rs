//! `casewright layout`: a stock plan for any list of parts, without a recipe; or raw problems, a line each.
//!
//! [`sheet_rows`] reads tables with their faults at row and column, [`parts`] and [`rack`] say what their columns mean, [`raw`]
//! answers problems as they are published, [`search`] is how long to look.

pub mod rack;
pub mod search;

mod parts;
mod raw;
mod sheet_rows;

use std::path::Path;
use std::sync::Arc;

use casewright::diag::{Finding, has_errors};
use casewright::job::Written;
use casewright::model::{Model, Shop};
use casewright::papers::{self, Subject};
use casewright::plan::{self, Plan, WrongPlan};
use casewright::script::Sources;
use clap::{Arg, ArgMatches};

use super::console::Console;
use super::exit::Exit;
use super::order::{self, exit_for};
use super::run::{in_one_line, out_arg, write_papers};
use super::{Command, Ran, render, table};

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "layout",
    about: "Lay out a list of parts on sheets and boards: what to buy, and every cut in order",
    detail: "PARTS.csv has a header with the columns part, length, width and stock, and if you like qty, grain and note, in any \
             order. Sizes are in any notation of the trade; a bare number is in the unit of --units, else of the shop, else inches. \
             Grain is `length`, `width` or `any`; left empty it runs along the length of stock that has one.\n\nWith --out the \
             papers are written: stock.csv, cutting-plan.csv, offcuts.csv, the cut list and a drawing of each sheet. Without it \
             they are shown. The offcuts.csv of one job is the rack of the next: --offcuts.\n\nWith --problems, raw problems are \
             read, a line of JSON each: {\"name\":\"a\",\"sheet\":[W,H],\"turn\":true,\"items\":[[w,h,n]],\"kerf\":0}, or for boards \
             {\"name\":\"b\",\"length\":L,\"items\":[[l,n]]}. Answers come a line each, in order.",
    args,
    run,
};

fn args(command: clap::Command) -> clap::Command {
    let command = command
        .arg(Arg::new("parts").value_name("PARTS.csv").required_unless_present("problems").help("The list of parts"))
        .arg(out_arg())
        .arg(order::units_arg())
        .arg(order::shop_arg())
        .arg(
            Arg::new("problems")
                .long("problems")
                .value_name("FILE")
                .conflicts_with_all(["parts", "out", "offcuts", "way"])
                .help("Answer raw problems, a line of JSON each"),
        )
        .arg(
            Arg::new("threads")
                .long("threads")
                .value_name("N")
                .requires("problems")
                .value_parser(clap::value_parser!(u16).range(1..=64))
                .help("Answer so many problems at a time [default: 1]"),
        );
    search::args(command)
}

fn run(matches: &ArgMatches, console: &mut Console) -> Ran {
    let sought = search::Sought::read(matches);
    if let Some(file) = order::text(matches, "problems") {
        let threads = matches.get_one::<u16>("threads").copied().map_or(1, usize::from);
        return raw::answer(&file, &sought, threads, console);
    }
    let mut shop = order::shop(matches, console)?;
    sought.rules(&mut shop.shop);
    search::rack(matches, &mut shop.shop, console)?;
    let file = order::text(matches, "parts").unwrap_or_default();
    let text =
        order::read_file(&file, "list of parts", "save it from the spreadsheet as CSV in UTF-8, not as a workbook");
    let text = text.map_err(|finding| {
        console.tell(&render::findings(&[*finding], &Sources::new(), console.width));
        Exit::File
    })?;
    let unit = order::units(matches).or(shop.shop.units);
    let (model, mut findings) = parts::read(&file, &text, unit, &shop.shop);
    let drawn = (!has_errors(&findings)).then(|| planned(&model, &shop.shop, &mut findings));
    let mut sources = shop.sources;
    sources.insert(Arc::from(file.as_str()), Arc::from(text.as_str()));
    console.tell(&render::findings(&findings, &sources, console.width));
    let drawn = drawn.filter(|_| !has_errors(&findings));
    let Some(plan) = drawn else {
        console.tell(&format!("{}: no plan\n", render::tally(&findings)));
        return Ok(exit_for(&findings).and(Exit::JobErrors));
    };
    sought.lay_out(&plan.cutting).map_err(|wrong| console.wrong_plan(wrong))?;
    match order::text(matches, "out") {
        None => console.say(&[table::stock_plan(&plan, console.width), table::cuts(&plan, console.width)].concat())?,
        Some(folder) => {
            let subject = Subject { model: &model, plan: &plan, findings: &findings };
            let papers = written(subject).map_err(|wrong| console.wrong_plan(&wrong))?;
            let told = write_papers(&folder, &papers, console)?;
            console.say(&format!("{}\n{told}", in_one_line(&plan)))?;
        }
    }
    Ok(Exit::Done)
}

fn planned(model: &Model, shop: &Shop, findings: &mut Vec<Finding>) -> Plan {
    let plan = plan::plan(model, shop);
    findings.extend(plan.cutting.findings());
    plan
}

/// The papers that say something of a list of parts.
fn written(subject: Subject<'_>) -> Result<Vec<Written>, WrongPlan> {
    const OF_A_LIST: [&str; 4] = ["cut-list.csv", "stock.csv", "cutting-plan.csv", "offcuts.csv"];
    let says =
        |file: &str| OF_A_LIST.contains(&file) || Path::new(file).extension().is_some_and(|ending| ending == "svg");
    let all = papers::all(subject)?.into_iter().filter(|(file, _)| says(file));
    Ok(all.map(|(file, bytes)| Written { file, bytes }).collect())
}
