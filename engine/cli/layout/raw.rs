//! Raw problems in the shape in which they are published, a line of JSON each, answered a line each in their order.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use casewright::diag::{At, Finding};
use casewright::nesting::{self, Boards, Effort, Fault, Problem, Stages, Trimming, Turn};
use casewright::script::Sources;
use serde::{Deserialize, Serialize};

use super::super::console::Console;
use super::super::exit::Exit;
use super::super::{Ran, fault, order, render};
use super::search::{Sought, interrupted};
use super::sheet_rows::CODE;

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    name: String,
    #[serde(default)]
    sheet: Option<[i64; 2]>,
    #[serde(default)]
    length: Option<i64>,
    #[serde(default)]
    turn: bool,
    items: Vec<Vec<i64>>,
    #[serde(default)]
    kerf: i64,
}

#[derive(Serialize)]
struct Answer {
    name: String,
    sheets: u64,
    bound: i64,
    proven: bool,
    verified: bool,
    seconds: f64,
}

/// The answer, or why there is none and the code for it.
type Answered = Result<Answer, (String, Exit)>;

enum Asked {
    Sheets(Problem),
    Boards(Boards),
}

/// Answers every problem of a file. A line that cannot be read is told with its number, all of them at once, before any is answered.
pub fn answer(file: &str, sought: &Sought, threads: usize, console: &mut Console) -> Ran {
    let text = order::read_file(file, "file of problems", "save it as plain text in UTF-8").map_err(|finding| {
        console.tell(&render::findings(&[*finding], &Sources::new(), console.width));
        Exit::File
    })?;
    let mut problems = Vec::new();
    let mut faults = Vec::new();
    for (i, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
        match read(line, sought) {
            Ok(problem) => problems.push(problem),
            Err((why, column)) => {
                let number = u32::try_from(i + 1).unwrap_or(u32::MAX);
                let finding =
                    Finding::error(CODE, format!("line {number}: {why}")).at(Some(At::new(file, number, column)));
                let hint = "a line is {\"name\":\"a\",\"sheet\":[2440,1220],\"turn\":true,\"items\":[[600,300,4]],\"kerf\":3}, or \
                            with \"length\":2440 and \"items\":[[600,4]] for boards";
                faults.push(finding.hint(hint));
            }
        }
    }
    if !faults.is_empty() {
        let sources = Sources::from([(file.into(), text.as_str().into())]);
        console.tell(&render::findings(&faults, &sources, console.width));
        return Ok(Exit::JobErrors);
    }
    in_order(&problems, sought, threads, console)
}

fn read(line: &str, sought: &Sought) -> Result<(String, Asked), (String, u32)> {
    let read: Line = serde_json::from_str(line).map_err(|error| {
        let told = error.to_string();
        let what = in_plain_words(told.split(" at line ").next().unwrap_or(&told));
        (what, u32::try_from(error.column()).unwrap_or(1).max(1))
    })?;
    let whole = |fault: Fault| (fault.to_string(), 1);
    let items = || -> Result<Vec<[i64; 3]>, (String, u32)> {
        let three = |item: &Vec<i64>| <[i64; 3]>::try_from(item.as_slice());
        read.items
            .iter()
            .map(three)
            .collect::<Result<_, _>>()
            .map_err(|_| ("an item of a sheet is [w,h,n]".to_owned(), 1))
    };
    let asked = match (read.sheet, read.length) {
        (Some(sheet), None) => {
            let turn = if read.turn { Turn::Free } else { Turn::Fixed };
            let mut problem = Problem::raw(sheet, turn, &items()?, read.kerf).map_err(whole)?;
            // The shop's own three stages are no rule of a published problem.
            problem.saw.stages =
                sought.stages.filter(|&most| most > 0).map(|most| Stages { most, trimming: Trimming::Extra });
            Asked::Sheets(problem)
        }
        (None, Some(length)) => {
            let two = |item: &Vec<i64>| <[i64; 2]>::try_from(item.as_slice());
            let items: Result<Vec<[i64; 2]>, _> = read.items.iter().map(two).collect();
            let items = items.map_err(|_| ("an item of a board is [l,n]".to_owned(), 1))?;
            Asked::Boards(Boards::raw(length, &items, read.kerf).map_err(whole)?)
        }
        _ => return Err(("a problem has a `sheet` or a `length`".to_owned(), 1)),
    };
    Ok((read.name, asked))
}

/// What the reader of JSON says, without the names of our types.
fn in_plain_words(told: &str) -> String {
    let expected = told
        .replace("struct Line with 6 elements", "an object in braces")
        .replace("struct Line", "an object in braces");
    let number =
        expected.replace("expected i64", "expected a whole number").replace("an array of length", "a list of length");
    if number == "expected ident" { "this is not JSON".to_owned() } else { number }
}

/// Answers on so many threads and says each answer as soon as all before it are there.
fn in_order(problems: &[(String, Asked)], sought: &Sought, threads: usize, console: &mut Console) -> Ran {
    let next = AtomicUsize::new(0);
    let done: Mutex<Vec<Option<Answered>>> = Mutex::new((0..problems.len()).map(|_| None).collect());
    let mut exit = Exit::Done;
    std::thread::scope(|scope| {
        for _ in 0..threads.clamp(1, problems.len().max(1)) {
            scope.spawn(|| {
                loop {
                    let at = next.fetch_add(1, Ordering::Relaxed);
                    let Some((name, asked)) = problems.get(at) else { break };
                    let answer =
                        fault::caught(|| solved(name, asked, sought)).unwrap_or_else(|told| Err((told, Exit::Fault)));
                    if let Ok(mut done) = done.lock()
                        && let Some(place) = done.get_mut(at)
                    {
                        *place = Some(answer);
                    }
                }
            });
        }
        for (at, (name, _)) in problems.iter().enumerate() {
            let answer = loop {
                let ready = done.lock().ok().and_then(|mut done| done.get_mut(at).and_then(Option::take));
                match ready {
                    Some(answer) => break answer,
                    None => std::thread::sleep(Duration::from_millis(1)),
                }
            };
            match answer {
                Ok(answer) => {
                    let text = serde_json::to_string(&answer).unwrap_or_default();
                    if let Err(exit) = console.say(&text) {
                        // Nobody reads on: what has not been begun is left.
                        next.store(problems.len(), Ordering::Relaxed);
                        return Err(exit);
                    }
                }
                Err((why, end)) => {
                    console.tell(&format!("error: `{}`: {why}", render::one_line(name)));
                    exit = exit.and(end);
                }
            }
        }
        Ok(exit)
    })
}

fn solved(name: &str, asked: &Asked, sought: &Sought) -> Result<Answer, (String, Exit)> {
    let begun = Instant::now();
    let seconds = sought.seconds.unwrap_or(Duration::from_secs(1));
    let stop = || begun.elapsed() >= seconds || interrupted();
    let effort = Effort { seed: sought.seed, work: u64::MAX, stop: &stop };
    let (sheets, bound, proven) = match asked {
        Asked::Sheets(problem) => {
            let outcome = nesting::plan(problem, &effort).map_err(told)?;
            (outcome.plan.sheets(), outcome.bound, outcome.proven)
        }
        Asked::Boards(problem) => {
            let outcome = nesting::plan_boards(problem, &effort).map_err(told)?;
            (outcome.plan.boards(), outcome.bound, outcome.proven)
        }
    };
    // Every plan that the engine hands out has passed its verifier.
    let seconds = (begun.elapsed().as_secs_f64() * 1_000.0).round() / 1_000.0;
    Ok(Answer { name: name.to_owned(), sheets, bound, proven, verified: true, seconds })
}

fn told(fault: Fault) -> (String, Exit) {
    let exit = if matches!(fault, Fault::Engine(_)) { Exit::Fault } else { Exit::JobErrors };
    (fault.to_string(), exit)
}
