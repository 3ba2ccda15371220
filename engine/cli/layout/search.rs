//! How long to search and by which way of working: the options that `run` and `layout` share.

use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use casewright::model::{FirstCut, Shop};
use casewright::plan::{Cutting, Engine, Search, StockPlan, WrongPlan};
use casewright::script::Sources;
use clap::{Arg, ArgMatches};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::super::console::Console;
use super::super::exit::Exit;
use super::super::{order, render};
use super::rack as offcuts;

/// The options.
pub fn args(command: clap::Command) -> clap::Command {
    command
        .arg(
            Arg::new("seconds")
                .long("seconds")
                .value_name("S")
                .value_parser(seconds)
                .help("Search for a better stock plan for so long; Ctrl-C takes the best so far [default: a moment]"),
        )
        .arg(
            Arg::new("seed")
                .long("seed")
                .value_name("N")
                .value_parser(clap::value_parser!(u64))
                .help("Where the dice of the search begin [default: 1]"),
        )
        .arg(
            Arg::new("way")
                .long("way")
                .value_name("WAY")
                .value_parser(["rip-first", "crosscut-first", "free"])
                .help("With which cut a sheet is begun [default: the shop's, else rip-first]"),
        )
        .arg(
            Arg::new("stages")
                .long("stages")
                .value_name("N")
                .value_parser(stages)
                .help("How often the direction of cutting may change: 1 to 9, or any [default: the shop's, else 3]"),
        )
        .arg(
            Arg::new("offcuts")
                .long("offcuts")
                .value_name("FILE")
                .value_parser(clap::builder::NonEmptyStringValueParser::new())
                .help("The rack: the offcuts.csv of an earlier job"),
        )
}

fn seconds(text: &str) -> Result<Duration, String> {
    let seconds = text.parse::<f64>().ok().filter(|seconds| (0.0..=86_400.0).contains(seconds));
    seconds.map(Duration::from_secs_f64).ok_or_else(|| "write seconds, such as 10 or 0.5".to_owned())
}

fn stages(text: &str) -> Result<u8, String> {
    let number =
        if text == "any" { Some(0) } else { text.parse::<u8>().ok().filter(|number| (1..=9).contains(number)) };
    number.ok_or_else(|| "write a number from 1 to 9, or any".to_owned())
}

/// What was asked for.
#[derive(Clone, Copy, Debug)]
pub struct Sought {
    /// How long to search; the usual moment when it is not said.
    pub seconds: Option<Duration>,
    /// Where the dice begin.
    pub seed: u64,
    /// The way of working, if it is not the shop's.
    pub first: Option<FirstCut>,
    /// The limit of stages, if it is not the shop's; 0 for none.
    pub stages: Option<u8>,
    /// What finds the plans.
    pub engine: Engine,
}

impl Sought {
    /// Reads the options.
    pub fn read(matches: &ArgMatches) -> Self {
        let first = order::text(matches, "way").map(|way| match way.as_str() {
            "crosscut-first" => FirstCut::Crosscut,
            "free" => FirstCut::Free,
            _ => FirstCut::Rip,
        });
        Self {
            seconds: matches.try_get_one::<Duration>("seconds").ok().flatten().copied(),
            seed: matches.try_get_one::<u64>("seed").ok().flatten().copied().unwrap_or(Search::USUAL.seed),
            first,
            stages: matches.try_get_one::<u8>("stages").ok().flatten().copied(),
            engine: Search::USUAL.engine,
        }
    }

    /// Puts them in the place of the shop's own.
    pub fn rules(&self, shop: &mut Shop) {
        shop.cutting.first = self.first.unwrap_or(shop.cutting.first);
        if let Some(stages) = self.stages {
            shop.cutting.stages = Some(stages).filter(|&stages| stages > 0);
        }
    }

    /// Searches, with a sign of life on a terminal after half a second. The time is shared among the stocks; what one does not need
    /// is left to the next.
    pub fn lay_out<'a>(&self, cutting: &'a Cutting) -> Result<&'a StockPlan, &'a WrongPlan> {
        let begun = Instant::now();
        let shown = Shown::new(cutting.stocks().map(str::to_owned).collect());
        let shares: OnceLock<Vec<OnceLock<Instant>>> = OnceLock::new();
        let stop = |which: usize, of: usize| {
            let now = begun.elapsed();
            shown.at(which, now, self.seconds);
            let late = self.seconds.is_some_and(|seconds| {
                let shares = shares.get_or_init(|| (0..of).map(|_| OnceLock::new()).collect());
                let end = shares.get(which).map(|end| {
                    let left = seconds.saturating_sub(now);
                    let stocks = u32::try_from(of.saturating_sub(which)).unwrap_or(1).max(1);
                    *end.get_or_init(|| begun + now + left / stocks)
                });
                end.is_none_or(|end| Instant::now() >= end)
            });
            late || interrupted()
        };
        let work = if self.seconds.is_some() { u64::MAX } else { Search::USUAL.work };
        let plan = cutting.lay_out(&Search { seed: self.seed, work, stop: &stop, engine: self.engine });
        shown.bar.finish_and_clear();
        plan
    }
}

/// What a terminal shows while the search goes on.
struct Shown {
    bar: ProgressBar,
    stocks: Vec<String>,
}

impl Shown {
    fn new(stocks: Vec<String>) -> Self {
        // A bar that has nowhere to be drawn stays quiet, as where errors go to a file.
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr());
        // Nobody knows how far a search has come; how long it goes on is in the words.
        if let Ok(style) = ProgressStyle::with_template("{wide_msg}") {
            bar.set_style(style);
        }
        Self { bar, stocks }
    }

    fn at(&self, which: usize, now: Duration, of: Option<Duration>) {
        if now < Duration::from_millis(500) {
            return;
        }
        let stock = self.stocks.get(which).map_or("", String::as_str);
        let time = of.map_or_else(
            || format!("{} s", now.as_secs()),
            |of| format!("{} of {} s", now.as_secs(), of.as_secs_f64().ceil()),
        );
        let text = format!("laying out {}: {time}; Ctrl-C takes the best so far", render::one_line(stock));
        if self.bar.message() != text {
            self.bar.set_message(text);
            self.bar.tick();
        }
    }
}

static INTERRUPTED: AtomicBool = AtomicBool::new(false);

/// Whether Ctrl-C was pressed since the search was listened for. A second one ends the program.
pub fn interrupted() -> bool {
    static LISTENING: OnceLock<()> = OnceLock::new();
    LISTENING.get_or_init(|| {
        // 130 is what shells report for a program that Ctrl-C ended (128 and the number of the signal, POSIX).
        let pressed = || {
            if INTERRUPTED.swap(true, Ordering::Relaxed) {
                std::process::exit(130);
            }
        };
        // Where there is no such signal the search ends by itself.
        let _ = ctrlc::set_handler(pressed);
    });
    INTERRUPTED.load(Ordering::Relaxed)
}

/// Reads the rack that was named into the shop.
pub fn rack(matches: &ArgMatches, shop: &mut Shop, console: &mut Console) -> Result<(), Exit> {
    let Some(file) = order::text(matches, "offcuts") else { return Ok(()) };
    let unit = order::units(matches).or(shop.units);
    let text =
        order::read_file(&file, "list of offcuts", "save it from the spreadsheet as CSV in UTF-8, not as a workbook");
    let text = text.map_err(|finding| {
        console.tell(&render::findings(&[*finding], &Sources::new(), console.width));
        Exit::File
    })?;
    match offcuts::read(&file, &text, unit) {
        Ok(mut pieces) => {
            let notes = offcuts::by_name(&mut pieces, shop);
            if !notes.is_empty() {
                console.tell(&render::findings(&notes, &Sources::new(), console.width));
            }
            shop.rack = pieces;
        }
        Err(findings) => {
            let sources = Sources::from([(file.as_str().into(), text.as_str().into())]);
            console.tell(&render::findings(&findings, &sources, console.width));
            return Err(order::exit_for(&findings).and(Exit::JobErrors));
        }
    }
    Ok(())
}
