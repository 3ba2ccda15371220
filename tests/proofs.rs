//! Every check that measures, by a pair of cases: one that passes, and one that a thousandth of a millimetre more makes fail.
//!
//! A file of `tests/proofs/` is named for the code of its check. What stands before the first `// limit[code]` belongs to each case; in
//! a case `more` is nothing, and then a thousandth of a millimetre. `limit[code error]` looks at one severity only. The limits of the joints
//! themselves stand in `tests/limits/`.

// A test may unwrap: a failure there is its message.
#![allow(clippy::unwrap_used)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use casewright::checks;
use casewright::diag::Finding;
use casewright::job::{self, Order};
use casewright::model::Shop;
use casewright::script::{Workbench, on_script_thread};
use casewright::world::Disk;

/// Checks that no thousandth of a millimetre can tip, and why. All others have their pair of cases.
const NO_PAIR: &[(&str, &str)] = &[
    ("fit-in-doubt", "it tells of shares of a hundred, by sums that are checked by hand and against drawn lots"),
    ("grain-without-grain", "a stock has a grain or none"),
    ("loose-part", "a part is joined or not; where two parts touch is a matter of their joint"),
    ("no-good-face", "faces are counted"),
    ("no-hinges", "hinges are named or not"),
    ("no-parts", "parts are counted"),
    ("no-swing", "a door is said to swing or not"),
    ("opens-nothing", "something is named that moves or does not"),
    ("piece-not-placed", "a piece is placed or not"),
    ("screws-in-panel-edge", "an edge is screwed into or not"),
    ("shelf-sag", "physics in figures; held to a published table in tests/handbook"),
    ("slides-overloaded", "weights"),
    ("thickness-unlike-name", "limits of standards; its own tests hold them"),
    ("tips-over", "physics in figures; held to worked sums in tests/handbook"),
    ("wood-movement", "physics in figures; held to published examples in tests/handbook"),
];

/// The line of a case that is changed to go beyond its limit, and what it is changed to.
const WITHIN: &str = "let more = 0.mm;";
const BEYOND: &str = "let more = 0.001.mm;";

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/proofs")
}

#[test]
fn every_check_that_measures_has_its_pair() {
    let kept: BTreeSet<String> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_str().unwrap().to_owned())
        .collect();
    let without: BTreeSet<&str> = NO_PAIR.iter().map(|(code, _)| *code).collect();
    for check in checks::ALL {
        let has_pair = kept.contains(check.code);
        assert_ne!(
            has_pair,
            without.contains(check.code),
            "{}: a pair of cases in tests/proofs, or why there is none",
            check.code
        );
    }
    let known: BTreeSet<&str> = checks::ALL.iter().map(|check| check.code).collect();
    let unknown = kept.iter().map(String::as_str).chain(without).filter(|code| !known.contains(code));
    assert_eq!(unknown.collect::<Vec<_>>(), Vec::<&str>::new(), "no check has these codes");
}

#[test]
fn a_thousandth_of_a_millimetre_tips_each_proof() {
    let mut wrong = Vec::new();
    on_script_thread(|| {
        for path in fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().path()) {
            let name = path.file_stem().unwrap().to_str().unwrap();
            let text = fs::read_to_string(&path).unwrap();
            let mut pieces = text.split("// limit[");
            let shared = pieces.next().unwrap();
            assert_eq!(shared.matches(WITHIN).count(), 1, "{}", path.display());
            let mut cases = 0;
            for piece in pieces {
                let (head, case) = piece.split_once(']').unwrap();
                let (code, severity) = head.split_once(' ').unwrap_or((head, ""));
                let (about, case) = case.split_once('\n').unwrap();
                let about = about.trim();
                assert_eq!(code, name, "{}", path.display());
                let told = |more: &str| {
                    let found = found(name, &format!("{shared}{case}").replace(WITHIN, more));
                    // A case that a joint refuses, or a recipe that is wrong, shows nothing.
                    let broken: Vec<String> = found
                        .iter()
                        .filter(|finding| checks::ALL.iter().all(|check| check.code != finding.code))
                        .filter(|finding| finding.code != "hardware-unlisted")
                        .map(ToString::to_string)
                        .collect();
                    assert!(broken.is_empty(), "{name}: {about}\n{}", broken.join("\n"));
                    let is_it =
                        |finding: &&Finding| finding.code == code && finding.severity.name().starts_with(severity);
                    found.iter().filter(is_it).count()
                };
                let counts = (told(WITHIN), told(BEYOND));
                if counts.0 > 0 || counts.1 == 0 {
                    wrong.push(format!(
                        "{head}: {about}: told {} times within, {} times a thousandth beyond",
                        counts.0, counts.1
                    ));
                }
                cases += 1;
            }
            assert!(cases > 0, "{} has no case", path.display());
        }
    });
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn found(name: &str, text: &str) -> Vec<Finding> {
    let bench = Workbench::new(Disk);
    let recipe = bench.compile(name, text).unwrap_or_else(|findings| panic!("{name}: {findings:#?}"));
    job::run(&bench, &recipe, Order { inputs: &[], units: None, shop: &Shop::default() }).findings
}
