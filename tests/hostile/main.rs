//! Recipes and files that attack: each ends in a clear finding, within a second and 300 MB, and none in a crash.
//!
//! Every case runs in a process of its own, this same test program, so that a stack overflow or an abort is one failed case.

// A test may unwrap: a failure there is its message.
#![allow(clippy::unwrap_used)]
// What the child found goes to its parent through its output.
#![allow(clippy::print_stdout)]

mod cases;

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use casewright::diag::{Finding, Severity};
use casewright::job;
use casewright::model::Shop;
use casewright::script::{Order, Workbench, on_script_thread};
use casewright::world::Disk;

use cases::{Case, Ends, all};

/// What a case may take.
const TIME: Duration = Duration::from_secs(1);
const PEAK_KB: u64 = 300 * 1024;
/// A build for tests is not optimised, and its machine has other work.
const SLOWER: u32 = if cfg!(debug_assertions) { 5 } else { 2 };
/// The variable that tells the child which case to run.
const CHILD: &str = "HOSTILE_CASE";

#[test]
fn every_attack_ends_in_a_clear_finding() {
    let only = std::env::var("HOSTILE_ONLY").unwrap_or_default();
    let faults: Vec<String> = all()
        .filter(|case| case.name.contains(&only))
        .filter_map(|case| judge(case).err().map(|fault| format!("{}: {fault}", case.name)))
        .collect();
    assert!(faults.is_empty(), "{} of {} attacks came through:\n{}", faults.len(), all().count(), faults.join("\n"));
}

#[test]
fn names_are_unique() {
    let mut seen = std::collections::BTreeSet::new();
    assert!(all().all(|case| seen.insert(case.name)), "two cases have one name");
}

/// Not a test by itself: the other side of [`judge`].
#[test]
fn child() {
    let Ok(name) = std::env::var(CHILD) else { return };
    let case = all().find(|case| case.name == name).expect("a case of that name");
    let folder = tempfile::tempdir().expect("a folder for the case");
    (case.write)(folder.path());
    let recipe = folder.path().join("main.rhai").display().to_string();
    let started = Instant::now();
    let findings = on_script_thread(|| run(&recipe));
    let taken = started.elapsed().as_millis();
    for finding in &findings {
        if finding.severity == Severity::Error {
            let plain = finding.message.chars().chain(finding.hint.iter().flat_map(|hint| hint.chars()));
            println!("CODE {} {}", finding.code, plain.filter(|c| !c.is_control()).take(200).collect::<String>());
        }
    }
    println!("COUNT {}", findings.len());
    println!("TAKEN {taken} {}", peak_kb());
}

fn run(recipe: &str) -> Vec<Finding> {
    let bench = Workbench::new(Disk);
    let shop = Shop::default();
    let opened = match bench.open(recipe) {
        Ok(opened) => opened,
        Err(findings) => return findings,
    };
    let outcome = job::run(&bench, &opened, Order { inputs: &[], units: None, shop: &shop });
    let papers = job::papers(&outcome).expect("a stock plan that can be cut");
    assert_eq!(papers.is_empty(), outcome.plan.is_none());
    outcome.findings
}

/// Runs a case in a process of its own and tells what is wrong with its end.
fn judge(case: &Case) -> Result<(), String> {
    let exe = std::env::current_exe().expect("this program");
    let mut process = Command::new(exe)
        .args(["--exact", "child", "--nocapture", "--test-threads=1"])
        .env(CHILD, case.name)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("a child process");
    let stdout = process.stdout.take().expect("its output");
    let reader = std::thread::spawn(move || std::io::read_to_string(stdout).unwrap_or_default());
    let stderr = process.stderr.take().expect("its errors");
    let complaints = std::thread::spawn(move || std::io::read_to_string(stderr).unwrap_or_default());
    let started = Instant::now();
    let status = loop {
        match process.try_wait().expect("its state") {
            Some(status) => break status,
            None if started.elapsed() > Duration::from_mins(1) => {
                process.kill().expect("its end");
                return Err("it went on for a minute".to_owned());
            }
            None => std::thread::sleep(Duration::from_millis(2)),
        }
    };
    let said = reader.join().unwrap_or_default();
    if !status.success() {
        let why = complaints.join().unwrap_or_default();
        let why = why.lines().find(|line| !line.trim().is_empty()).unwrap_or("");
        return Err(format!("it crashed ({status}): {why}\n{said}"));
    }
    let lines =
        |word: &str| said.lines().filter_map(|line| line.split_once(word)).map(|(_, rest)| rest.to_owned()).collect();
    let codes: Vec<String> = lines("CODE ");
    let (count, numbers): (Vec<String>, Vec<String>) = (lines("COUNT "), lines("TAKEN "));
    let count: usize = count.first().and_then(|count| count.parse().ok()).ok_or("it did not come to its end")?;
    let numbers: Vec<u64> = numbers
        .iter()
        .flat_map(|line| line.split(' ').filter_map(|number| number.parse().ok()).collect::<Vec<_>>())
        .collect();
    let [taken, peak] = numbers[..] else { return Err("it did not come to its end".to_owned()) };
    if std::env::var("HOSTILE_ONLY").is_ok() {
        println!("{}: {taken} ms, {} MB, {count} findings: {:?}", case.name, peak / 1024, codes.first());
    }
    case.ends.suits(&codes)?;
    // Whatever happens a hundred thousand times, nobody reads more than some hundreds of findings.
    if count > 2_000 {
        return Err(format!("it ends in {count} findings"));
    }
    if Duration::from_millis(taken) > TIME * SLOWER {
        return Err(format!("it took {taken} ms"));
    }
    if peak > PEAK_KB {
        return Err(format!("it took {} MB", peak / 1024));
    }
    Ok(())
}

impl Ends {
    fn suits(self, codes: &[String]) -> Result<(), String> {
        let is = |wanted: &&str| codes.iter().any(|code| code.split(' ').next() == Some(wanted));
        let fine = match self {
            Self::Code(code) => is(&code),
            Self::OneOf(wanted) => wanted.iter().any(is),
            Self::Well => codes.is_empty(),
        };
        if fine { Ok(()) } else { Err(format!("expected {self:?}, found {:?}", &codes[..codes.len().min(3)])) }
    }
}

/// The most memory that this process has held, in kilobytes; nothing where the machine does not tell.
fn peak_kb() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.trim().trim_end_matches(" kB").parse().ok()).unwrap_or(0)
}
