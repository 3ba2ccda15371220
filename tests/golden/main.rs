//! Whole jobs with every paper they give, compared byte for byte.
//!
//! Each job is a folder with a `job.txt` (the recipe, then one `NAME=VALUE` a line; `units=` and `shop=` are read apart) and
//! the papers of that job. `UPDATE_GOLDEN=1 cargo test --test golden` writes them anew; read the difference before you
//! commit it, and say in the commit why it changed.

// A test may unwrap: a failure there is its message.
#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::{Path, PathBuf};

use casewright::base::Unit;
use casewright::job::{self, Order};
use casewright::model::Shop;
use casewright::script::{Workbench, on_script_thread};
use casewright::shop_file;
use casewright::world::Disk;

#[test]
fn whole_jobs_give_the_papers_that_are_kept() {
    let here = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden");
    let mut folders: Vec<PathBuf> = fs::read_dir(&here)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.join("job.txt").is_file())
        .collect();
    folders.sort();
    assert!(folders.len() >= 4, "golden jobs are missing");
    let mut differ = Vec::new();
    for folder in &folders {
        let papers = papers(folder);
        let mut kept: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
            .filter(|name| name != "job.txt")
            .collect();
        kept.sort();
        if std::env::var_os("UPDATE_GOLDEN").is_some() {
            for name in &kept {
                fs::remove_file(folder.join(name)).unwrap();
            }
            for (name, bytes) in &papers {
                fs::write(folder.join(name), bytes).unwrap();
            }
            continue;
        }
        let mut names: Vec<String> = papers.iter().map(|(name, _)| name.clone()).collect();
        names.sort();
        assert_eq!(names, kept, "{}", folder.display());
        for (name, bytes) in &papers {
            let old = fs::read(folder.join(name)).unwrap();
            if &old != bytes {
                differ.push(first_difference(&folder.join(name), &old, bytes));
            }
        }
    }
    assert!(differ.is_empty(), "{}", differ.join("\n"));
}

fn papers(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let text = fs::read_to_string(folder.join("job.txt")).unwrap();
    let mut lines = text.lines();
    let recipe = lines.next().unwrap();
    let mut units = None;
    let mut shop = Shop::default();
    let mut inputs = Vec::new();
    for line in lines.filter(|line| !line.is_empty()) {
        let (name, value) = line.split_once('=').unwrap();
        match name {
            "units" => units = Unit::from_short(value),
            "shop" => {
                let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(value)).unwrap();
                shop = shop_file::read(value, &text).unwrap_or_else(|findings| panic!("{findings:#?}"));
            }
            _ => inputs.push((name.to_owned(), value.to_owned())),
        }
    }
    on_script_thread(|| {
        let bench = Workbench::new(Disk);
        let recipe = bench.open(recipe).unwrap_or_else(|findings| panic!("{findings:#?}"));
        let outcome = job::run(&bench, &recipe, Order { inputs: &inputs, units, shop: &shop });
        assert!(outcome.plan.is_some(), "{}: {:#?}", folder.display(), outcome.findings);
        job::papers(&outcome).unwrap().into_iter().map(|paper| (paper.file, paper.bytes)).collect()
    })
}

fn first_difference(path: &Path, old: &[u8], new: &[u8]) -> String {
    let (old, new) = (String::from_utf8_lossy(old), String::from_utf8_lossy(new));
    let line =
        old.lines().zip(new.lines()).position(|(a, b)| a != b).unwrap_or(old.lines().count().min(new.lines().count()));
    format!(
        "{}:{}\n  kept: {}\n  now:  {}",
        path.display(),
        line + 1,
        old.lines().nth(line).unwrap_or("(end)"),
        new.lines().nth(line).unwrap_or("(end)")
    )
}
