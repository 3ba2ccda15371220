//! Wrong recipes and inputs, each with the findings it must give and the place they must point at.
//!
//! A case is a file of this folder, or a folder with a `main.rhai`. What is expected stands in the file, as a comment on the
//! very line that the finding must point at:
//!
//! ```text
//! let w = 16.mm + 1;  //~ error[bare-number] @15-15 cannot be added | write 1.mm or 1.inch
//! ```
//!
//! After the code come, each only where it matters: the first and last column underlined, a piece of the message, a piece of
//! the hint after `|` (`-` for any), and after a second `|` the `file:line` of a call that led there. `//~^` points at the line before,
//! `//~!` expects a finding without a place. A line `//! NAME=VALUE` at the head gives an input; `//! units: mm` the unit.
//! A case fails when a finding is missing, and when it has one that is not expected.

// A test may unwrap: a failure there is its message.
#![allow(clippy::unwrap_used)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use casewright::base::Unit;
use casewright::diag::{At, Finding, codes};
use casewright::model::Shop;
use casewright::script::{Order, Workbench, on_script_thread};
use casewright::world::Disk;
use casewright::{checks, job};

/// A finding that a case expects.
#[derive(Debug)]
struct Expected {
    file: String,
    line: u32,
    placed: bool,
    head: String,
    columns: Option<(u32, u32)>,
    message: String,
    hint: String,
    through: String,
}

#[test]
fn every_wrong_recipe_gives_its_findings() {
    let cases = cases();
    assert!(cases.len() >= 50, "only {} cases were found", cases.len());
    let faults: Vec<String> = cases.iter().flat_map(|case| judge(case)).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n\n"));
}

/// Every code that the engine can raise is shown by a case, so that each has been judged as its reader will see it.
#[test]
fn every_code_has_a_case() {
    // What takes a long or deep recipe to raise is in `tests/hostile`; what is not raised by recipes has tests of its own.
    const ELSEWHERE: [&str; 13] = [
        "beyond-the-saw",
        "job-table",
        "more-of-the-same",
        "part-list",
        "recipe-fault",
        "recipe-too-deep",
        "recipe-too-long",
        "recipe-too-slow",
        "shop-file-key",
        "shop-file-syntax",
        "shop-file-value",
        "too-many-cuts",
        "unreadable-file",
    ];
    let mut shown: BTreeSet<String> = ELSEWHERE.into_iter().map(str::to_owned).collect();
    for case in cases() {
        for path in files_of(&case) {
            shown.extend(expected_in(&path).into_iter().filter_map(|one| code_of(&one.head).map(str::to_owned)));
        }
    }
    let missing: Vec<&str> = known_codes().into_iter().filter(|code| !shown.contains(*code)).collect();
    assert!(missing.is_empty(), "no case shows {missing:?}");
}

/// What the proof says of a job is told so that a maker can mend it: which part, by how much, and what would cure it.
#[test]
fn every_finding_of_the_proof_is_measured_and_has_a_cure() {
    // The one finding of the proof that is no matter of size is `opens-nothing`: something is named that does not move.
    const PROOF: [&str; 21] = [
        "box-beside-opening",
        "box-misfits-slides",
        "breaks-out",
        "fit-not-kept",
        "front-off-opening",
        "hole-meets-cut",
        "joint-cut-away",
        "locked-in",
        "loose-part",
        "moving-part-fixed",
        "no-joint-between",
        "opening-out-of-true",
        "opens-nothing",
        "panel-misfits-groove",
        "path-blocked",
        "reveal-closed",
        "reveal-uneven",
        "shared-space",
        "slide-room-taken",
        "slide-too-long",
        "thin-wall",
    ];
    let mut told = BTreeSet::new();
    let mut faults = Vec::new();
    for case in cases() {
        for finding in found(&case).into_iter().filter(|finding| PROOF.contains(&finding.code)) {
            told.insert(finding.code);
            let names_part = finding.message.contains('`');
            let has_size = is_measured(&finding.message) || finding.code == "opens-nothing";
            let cure = finding.hint.as_deref().unwrap_or("");
            if !names_part || !has_size || cure.is_empty() {
                faults.push(format!("{}: {finding}", case.display()));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n\n"));
    assert_eq!(told.into_iter().collect::<Vec<_>>(), PROOF, "each has its case");
}

/// Whether a text has a length or an angle in it.
fn is_measured(text: &str) -> bool {
    text.char_indices().filter(|(_, letter)| letter.is_ascii_digit()).any(|(at, _)| {
        let rest = &text[at + 1..];
        ["\"", " mm", " of ", " degrees"].iter().any(|unit| rest.starts_with(unit))
    })
}

/// The stories of the codes are complete: `explain` knows every code that is written in the engine, and no other.
#[test]
fn every_code_has_its_story() {
    let mut written = BTreeSet::new();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("engine");
    for path in rust_files(&root) {
        // The papers' and the checks' tests make findings of their own.
        if path.ends_with("papers/testing.rs") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let text = text.split("#[cfg(test)]").next().unwrap_or("");
        for start in ["Finding::error(", "Finding::warning(", "Finding::note(", "code: "] {
            for (at, word) in text.match_indices(start) {
                let rest = text[at + word.len()..].trim_start();
                if let Some((code, _)) = rest.strip_prefix('"').and_then(|rest| rest.split_once('"')) {
                    written.insert(code.to_owned());
                }
            }
        }
        // A code that a file raises at many places stands in a constant.
        for (at, word) in text.match_indices("const ") {
            let line = text[at + word.len()..].lines().next().unwrap_or("");
            let Some((name, value)) = line.split_once(": &str = ") else { continue };
            if ["Finding::error(", "Finding::note(", "tell("]
                .iter()
                .any(|call| text.contains(&format!("{call}{name},")))
            {
                written.insert(value.trim_matches(['"', ';']).to_owned());
            }
        }
    }
    for check in checks::ALL {
        written.remove(check.code);
    }
    let told: BTreeSet<String> = codes::ALL.iter().map(|code| code.code.to_owned()).collect();
    assert_eq!(written.difference(&told).collect::<Vec<_>>(), Vec::<&String>::new(), "codes without a story");
    assert_eq!(told.difference(&written).collect::<Vec<_>>(), Vec::<&String>::new(), "stories without a code");
}

#[test]
fn stories_are_in_order_and_whole() {
    assert!(codes::ALL.windows(2).all(|pair| pair[0].code < pair[1].code));
    for code in codes::ALL {
        assert!(code.about.ends_with('.') && !code.summary.ends_with('.'), "{}", code.code);
        assert!(checks::ALL.iter().all(|check| check.code != code.code), "{} is a check's code", code.code);
    }
}

fn known_codes() -> Vec<&'static str> {
    codes::ALL.iter().map(|code| code.code).chain(checks::ALL.iter().map(|check| check.code)).collect()
}

/// What is wrong with the findings of a case.
fn judge(case: &Path) -> Vec<String> {
    let main = main_of(case);
    let folder = main.parent().unwrap().to_owned();
    let findings = found(case);

    let local = |at: &At| {
        Path::new(&*at.file)
            .strip_prefix(&folder)
            .map_or_else(|_| at.file.to_string(), |path| path.display().to_string())
    };
    let mut left: Vec<&Finding> = findings.iter().collect();
    let mut faults = Vec::new();
    for expected in files_of(case).iter().flat_map(|path| expected_in(path)) {
        let found = left.iter().position(|finding| {
            format!("{}[{}]", finding.severity.name(), finding.code) == expected.head
                && finding.at.is_some() == expected.placed
                && finding.at.as_ref().is_none_or(|at| local(at) == expected.file && at.line == expected.line)
                && expected
                    .columns
                    .is_none_or(|columns| finding.at.as_ref().is_some_and(|at| columns == underlined(at)))
                && finding.message.contains(&expected.message)
                && finding.hint.as_deref().unwrap_or("").contains(&expected.hint)
                && (expected.through.is_empty()
                    || finding.through.iter().any(|at| format!("{}:{}", local(at), at.line) == expected.through))
        });
        match found {
            Some(index) => {
                left.remove(index);
            }
            None => faults.push(format!("{}: not found: {expected:?}", case.display())),
        }
    }
    let told = |finding: &&Finding| {
        let columns = finding.at.as_ref().map(underlined);
        format!("{}: not expected: {finding}\n  columns {columns:?}", case.display())
    };
    faults.extend(left.iter().map(told));
    faults
}

fn main_of(case: &Path) -> PathBuf {
    if case.is_dir() { case.join("main.rhai") } else { case.to_owned() }
}

/// The findings of a case, with the inputs and the unit that it asks for.
fn found(case: &Path) -> Vec<Finding> {
    let main = main_of(case);
    let text = fs::read_to_string(&main).unwrap();
    let head: Vec<&str> = text.lines().filter_map(|line| line.strip_prefix("//! ")).collect();
    let inputs: Vec<(String, String)> = head
        .iter()
        .filter_map(|line| line.split_once('='))
        .map(|(name, value)| (name.to_owned(), value.to_owned()))
        .collect();
    let units = head.iter().find_map(|line| Unit::from_short(line.strip_prefix("units: ")?));
    on_script_thread(|| findings(&main, &inputs, units))
}

fn underlined(at: &At) -> (u32, u32) {
    (at.column, at.column + at.span.max(1) - 1)
}

fn findings(main: &Path, inputs: &[(String, String)], units: Option<Unit>) -> Vec<Finding> {
    let bench = Workbench::new(Disk);
    let shop = Shop::default();
    let recipe = match bench.open(main.to_str().unwrap()) {
        Ok(recipe) => recipe,
        Err(findings) => return findings,
    };
    job::run(&bench, &recipe, Order { inputs, units, shop: &shop }).findings
}

/// The findings that a file expects.
fn expected_in(path: &Path) -> Vec<Expected> {
    let text = fs::read_to_string(path).unwrap();
    let file = path.file_name().unwrap().to_string_lossy().into_owned();
    let mut all = Vec::new();
    for (number, line) in (1_u32..).zip(text.lines()) {
        for marker in line.split("//~").skip(1) {
            let (marker, line, placed) = match marker.strip_prefix('^') {
                Some(marker) => (marker, number - 1, true),
                None => marker.strip_prefix('!').map_or((marker, number, true), |marker| (marker, number, false)),
            };
            let mut fields = marker.split(" | ").map(str::trim);
            let (head, rest) = fields.next().and_then(|first| first.split_once(']')).expect("a marker has a code");
            let (columns, message) = match rest.trim().strip_prefix('@') {
                Some(rest) => {
                    let (columns, message) = rest.split_once(' ').unwrap_or((rest, ""));
                    let (first, last) = columns.split_once('-').expect("two columns");
                    (Some((first.parse().unwrap(), last.parse().unwrap())), message)
                }
                None => (None, rest.trim()),
            };
            all.push(Expected {
                file: file.clone(),
                line,
                placed,
                head: format!("{}]", head.trim()),
                columns,
                message: message.to_owned(),
                hint: fields.next().unwrap_or("").trim_matches('-').to_owned(),
                through: fields.next().unwrap_or("").to_owned(),
            });
        }
    }
    all
}

fn code_of(head: &str) -> Option<&str> {
    head.split_once('[')?.1.strip_suffix(']')
}

/// Every case: a recipe of the folder, or a folder of recipes.
fn cases() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/findings");
    let mut found: Vec<PathBuf> = fs::read_dir(root)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir() || path.extension().is_some_and(|ending| ending == "rhai"))
        .collect();
    found.sort();
    found
}

fn files_of(case: &Path) -> Vec<PathBuf> {
    if !case.is_dir() {
        return vec![case.to_owned()];
    }
    let files = fs::read_dir(case).unwrap().map(|entry| entry.unwrap().path());
    files.filter(|path| path.is_file() && path.extension().is_some_and(|ending| ending == "rhai")).collect()
}

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries
        .flat_map(|path| if path.is_dir() { rust_files(&path) } else { vec![path] })
        .filter(|path| path.extension().is_some_and(|ending| ending == "rs"))
        .collect()
}
