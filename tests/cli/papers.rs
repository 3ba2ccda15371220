//! `run`: the lists on the terminal, the papers in a folder, all or none.

use std::fs;

use super::{files, run, run_in};

/// The papers of every job.
const PAPERS: [&str; 5] = ["cut-list.csv", "edge-band.csv", "hardware.csv", "job.json", "stock.csv"];

#[test]
fn a_run_prints_the_lists() {
    let ran = run(&["run", "drawer-box"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    insta::assert_snapshot!(ran.out, @"");
    insta::assert_snapshot!(ran.err, @"");
}

#[test]
fn papers_are_written_and_named() {
    let folder = tempfile::tempdir().unwrap();
    let ran = run_in(folder.path(), &["run", "drawer-box", "--out", "jobs/box"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    let written = files(folder.path());
    for paper in PAPERS {
        assert!(written.contains_key(&format!("jobs/box/{paper}")), "{paper}: {:?}", written.keys());
        assert!(ran.out.contains(paper), "{}", ran.out);
    }
    assert!(
        written.keys().all(|name| name.starts_with("jobs/box/") && !name.contains(".casewright")),
        "{:?}",
        written.keys()
    );
    insta::assert_snapshot!(ran.out, @"");
}

#[test]
fn papers_replace_papers_and_other_files_stay() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("papers");
    fs::create_dir(&out).unwrap();
    fs::write(out.join("mine.txt"), "mine").unwrap();
    fs::write(out.join("cut-list.csv"), "old").unwrap();
    let ran = run_in(folder.path(), &["run", "drawer-box", "--out", "papers"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    let written = files(&out);
    assert_eq!(written["mine.txt"], b"mine");
    assert!(
        written["cut-list.csv"].starts_with(b"mark,")
            || written["cut-list.csv"].starts_with("\u{feff}mark,".as_bytes())
    );
    assert!(run_in(folder.path(), &["run", "drawer-box", "--out", "papers"]).code == 0);
    assert_eq!(files(&out), written);
}

#[test]
fn a_failed_job_leaves_the_folder_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("papers");
    let run_out = |args: &[&str]| run_in(folder.path(), &[&["run", "drawer-box", "--out", "papers"], args].concat());
    assert_eq!(run_out(&[]).code, 0);
    let before = files(&out);
    let ran = run_out(&["no_such_input=3"]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{}", ran.all());
    assert!(ran.err.contains("no papers"), "{}", ran.err);
    assert_eq!(files(&out), before);
}

#[test]
fn a_folder_that_cannot_be_written_to_is_a_file_fault() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("papers"), "a file").unwrap();
    let ran = run_in(folder.path(), &["run", "drawer-box", "--out", "papers"]);
    assert_eq!((ran.code, ran.out.as_str()), (3, ""), "{}", ran.all());
    assert!(ran.err.contains("it is a file, not a folder"), "{}", ran.err);

    fs::remove_file(folder.path().join("papers")).unwrap();
    fs::create_dir_all(folder.path().join("papers/stock.csv")).unwrap();
    let ran = run_in(folder.path(), &["run", "drawer-box", "--out", "papers"]);
    assert_eq!(ran.code, 3, "{}", ran.all());
    assert!(ran.err.contains("in the way"), "{}", ran.err);
    assert!(files(folder.path()).is_empty());
}

#[test]
fn units_and_inputs_reach_the_papers() {
    let folder = tempfile::tempdir().unwrap();
    let ran = run_in(folder.path(), &["run", "drawer-box", "--units", "mm", "--out", "papers"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    let cut_list = String::from_utf8(files(folder.path())["papers/cut-list.csv"].clone()).unwrap();
    assert!(cut_list.contains("thickness_mm,length_mm,width_mm"), "{cut_list}");
    let inch = run_in(folder.path(), &["run", "drawer-box", "--units", "in"]).out;
    let metric = run_in(folder.path(), &["run", "drawer-box", "--units", "mm"]).out;
    assert!(inch.contains('"') && !metric.contains('"'), "{metric}");
}
