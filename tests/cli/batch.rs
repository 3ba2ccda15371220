//! `batch`: tables of jobs.

use std::fs;
use std::path::Path;

use super::{files, run_in};

const GOOD: &str = "job,recipe,count,width\nwide,drawer-box,1,20\nnarrow,drawer-box,3,12\nlocal,own.rhai,2,\n";

/// A folder with a table of jobs and a recipe beside it.
fn with_table(table: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("jobs")).unwrap();
    fs::write(folder.path().join("jobs/jobs.csv"), table).unwrap();
    let recipe = include_str!("own.rhai");
    fs::write(folder.path().join("jobs/own.rhai"), recipe).unwrap();
    folder
}

fn batch(folder: &Path, more: &[&str]) -> super::Ran {
    run_in(folder, &[&["batch", "jobs/jobs.csv", "--out", "out"], more].concat())
}

#[test]
fn the_tables_of_the_examples_give_every_job() {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/print-studio");
    for (table, jobs) in [("fit-out.csv", 10), ("rooms.csv", 7)] {
        let folder = tempfile::tempdir().unwrap();
        let table = examples.join(table);
        let ran = run_in(folder.path(), &["batch", table.to_str().unwrap(), "--out", "out"]);
        assert_eq!(ran.code, 0, "{}", ran.all());
        assert!(!ran.all().contains("warning["), "{}", ran.all());
        let summary = fs::read_to_string(folder.path().join("out/summary.csv")).unwrap();
        assert_eq!(summary.matches(",done,").count(), jobs, "{summary}");
    }
}

#[test]
fn every_job_gets_its_folder_and_the_lists_add_up() {
    let folder = with_table(GOOD);
    let ran = batch(folder.path(), &[]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    insta::assert_snapshot!(ran.out, @r#"
    Batch  3 jobs
      job     recipe      count  state  parts each  sheets each
      wide    drawer-box      1  done            5            2
      narrow  drawer-box      3  done            5            2
      local   own.rhai        2  done            1            1

    wrote cut-list.csv, hardware.csv, edge-band.csv, stock.csv, cutting-plan.csv, offcuts.csv, summary.csv, 3 drawings to out
    "#);
    let written = files(&folder.path().join("out"));
    for job in ["wide", "narrow", "local"] {
        assert!(written.contains_key(&format!("{job}/cut-list.csv")), "{:?}", written.keys());
    }
    let text = |name: &str| String::from_utf8(written[name].clone()).unwrap();
    insta::assert_snapshot!(text("summary.csv"), @r#"
    job,recipe,count,state,parts_each,sheets_each,error
    wide,drawer-box,1,done,5,2,
    narrow,drawer-box,3,done,5,2,
    local,own.rhai,2,done,1,1,
    "#);
    insta::assert_snapshot!(text("stock.csv"), @r#"
    stock,parts,thickness_in,thickness,net,amount,unit,net_length,amount_length,length_unit,use,qty,size,cost,lost_percent,proof,note
    1/2 birch plywood,16,0.5,"1/2""",9.17,32,ft2,,,,buy,1,"96"" x 48""",,5,proven: no cheaper way exists,"1 sheet, 4 settings and 23 cuts; no plan of the same money with fewer of either was found"
    1/4 birch plywood,4,0.25,"1/4""",7.26,32,ft2,,,,buy,1,"96"" x 48""",,20,proven: no cheaper way exists,"1 sheet, 3 settings and 12 cuts; for the same money also 10 cuts rather than 12: its largest offcut is 95-1/2"" x 16-3/8"" rather than 95-1/2"" x 27-15/16"""
    test board,2,0.708661,"23/32""-",5.17,32.05,ft2,,,,buy,1,"96-1/16""+ x 48-1/32""+",,2,proven: no cheaper way exists,"a sheet of 96-1/16""+ x 48-1/32""+ weighs about 95 lb, more than the 51 lb that one person handles: have a second person, or break it down where it lies with a guided saw; 1 sheet, 2 settings and 7 cuts; no plan of the same money with fewer of either was found"
    "#);
    let all = text("cut-list.csv");
    assert!(all.starts_with("job,mark,part,qty,"), "{all}");
    // The rows of a job are the rows of its own list, times its count.
    let quantities = |text: &str, column: usize, job: Option<&str>| -> i64 {
        let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(text.as_bytes());
        let rows = reader.records().map(Result::unwrap);
        rows.filter(|row| job.is_none_or(|job| &row[0] == job)).map(|row| row[column].parse::<i64>().unwrap()).sum()
    };
    for (job, count) in [("wide", 1), ("narrow", 3), ("local", 2)] {
        let own = quantities(&text(&format!("{job}/cut-list.csv")), 2, None);
        assert_eq!(quantities(&all, 3, Some(job)), own * count, "{job}");
    }
}

#[test]
fn the_bytes_do_not_depend_on_the_number_of_threads() {
    let folder = with_table(GOOD);
    let one = batch(folder.path(), &["--threads", "1"]);
    let first = files(&folder.path().join("out"));
    for threads in ["2", "7"] {
        fs::remove_dir_all(folder.path().join("out")).unwrap();
        let again = batch(folder.path(), &["--threads", threads]);
        assert_eq!((again.code, &again.out, &again.err), (one.code, &one.out, &one.err));
        assert!(files(&folder.path().join("out")) == first);
    }
}

#[test]
fn faults_of_the_table_stop_everything() {
    for (table, told) in [
        ("job,recipe,count\na,drawer-box,two\n", "row 2, column `count`"),
        ("job,recipe,count\na,own,1\n", "did you mean `own.rhai`?"),
        ("job,recipe,count\na,drawer-bx,1\n", "did you mean `drawer-box`?"),
        ("job,recipe,count,widht\na,drawer-box,1,3\n", "did you mean `width`?"),
        ("job,recipe,count,width\na,own.rhai,1,3\nb,drawer-box,1,\n", "the recipe `own.rhai` has no such input"),
        ("job,recipe,count\na,drawer-box,1\nA,drawer-box,1\n", "one folder on many disks"),
        ("job,recipe,count\n../a,drawer-box,1\n", "cannot be a folder"),
        ("", "empty"),
    ] {
        let folder = with_table(table);
        let ran = batch(folder.path(), &[]);
        assert_eq!(ran.code, 1, "{table}: {}", ran.all());
        assert!(ran.err.contains(told), "{table}: {}", ran.all());
        assert!(ran.err.contains("nothing was written"), "{}", ran.all());
        assert!(!folder.path().join("out").exists(), "{table}");
    }
    let folder = with_table("");
    assert_eq!(run_in(folder.path(), &["batch", "none.csv", "--out", "out"]).code, 3);
    for bytes in [&b"PK\x03\x04\xff\xfe"[..], b"PK\x03\x04", b"job,recipe,count\nK\xfcche,drawer-box,1\n"] {
        fs::write(folder.path().join("jobs/jobs.csv"), bytes).unwrap();
        let ran = batch(folder.path(), &[]);
        assert_eq!(ran.code, 3, "{}", ran.all());
        assert!(ran.err.contains("save it from the spreadsheet as CSV"), "{}", ran.all());
    }
}

#[test]
fn all_faults_are_told_with_their_places() {
    let folder = with_table("job,recipe,count,widht\na,drawer-box,two,\nCON,drawer-box,1,\n,drawer-box,1,3\n");
    let ran = batch(folder.path(), &[]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(ran.err, @r#"
    error[job-table]: row 1, column `widht`: no recipe of this table has such an input
     --> jobs/jobs.csv:1:18
      |
    1 | job,recipe,count,widht
      |                  ^^^^^
      |
      = hint: did you mean `width`?

    error[job-table]: row 2, column `count`: `two` is not how many to make
     --> jobs/jobs.csv:2:14
      |
    2 | a,drawer-box,two,
      |              ^^^
      |
      = hint: write a whole number from 1 to 10000

    error[job-table]: row 3, column `job`: `CON` cannot be a folder: this is the name of a device on some systems
     --> jobs/jobs.csv:3:1
      |
    3 | CON,drawer-box,1,
      | ^^^
      |
      = hint: each job gets a folder of its name: give it a plain one

    error[job-table]: row 4, column `job`: the cell is empty
     --> jobs/jobs.csv:4:1
      |
    4 | ,drawer-box,1,3
      | ^
      |
      = hint: give the job a name

    4 errors in the table of jobs: nothing was written
    "#);
}

#[test]
fn one_bad_job_does_not_stop_the_others() {
    let folder = with_table("job,recipe,count,width\nbad,drawer-box,1,banana\ngood,drawer-box,1,20\n");
    fs::create_dir_all(folder.path().join("out/bad")).unwrap();
    fs::write(folder.path().join("out/bad/mine.txt"), "mine").unwrap();
    let ran = batch(folder.path(), &[]);
    assert_eq!(ran.code, 1, "{}", ran.all());
    let written = files(&folder.path().join("out"));
    assert!(written.contains_key("good/cut-list.csv"), "{:?}", written.keys());
    assert_eq!(written.keys().filter(|name| name.starts_with("bad/")).collect::<Vec<_>>(), ["bad/mine.txt"]);
    let summary = String::from_utf8(written["summary.csv"].clone()).unwrap();
    assert!(summary.contains("\r\nbad,drawer-box,1,failed,,,"), "{summary}");
    assert!(summary.contains("\r\ngood,drawer-box,1,done,"), "{summary}");
    assert!(ran.err.contains("job bad, row 2"), "{}", ran.err);
}

#[test]
fn jobs_of_both_units_are_added_up_in_one() {
    let metric = "units(\"mm\");\n";
    let folder = with_table("job,recipe,count\ninches,drawer-box,1\nmetric,metric.rhai,1\n");
    let recipe = format!("{metric}{}", include_str!("own.rhai"));
    fs::write(folder.path().join("jobs/metric.rhai"), recipe).unwrap();
    for (more, expected) in [(&[][..], "length_in"), (&["--units", "mm"], "length_mm")] {
        let ran = batch(folder.path(), more);
        assert_eq!(ran.code, 0, "{}", ran.all());
        let all = fs::read_to_string(folder.path().join("out/cut-list.csv")).unwrap();
        assert!(all.lines().next().unwrap().contains(expected), "{all}");
        // Sizes in words are in the unit of the list as well.
        for list in ["cut-list.csv", "hardware.csv", "edge-band.csv", "stock.csv"] {
            let text = fs::read_to_string(folder.path().join("out").join(list)).unwrap();
            let other = if more.is_empty() { " mm" } else { "\"\"" };
            assert!(!text.contains(other), "{list}: {text}");
        }
    }
    let folder = with_table("job,recipe,count\ninches,drawer-box,1\nmetric,box.rhai,1\n");
    let recipe = format!(
        "{metric}import \"drawer-box\" as boxes;\nlet ply = stock(\"3/4 birch plywood\");\nplace(boxes::drawer_box(#{{ width: 450.mm, depth: 500.mm, height: 120.mm, sides: ply, bottom: ply }}).piece, #{{}});\n"
    );
    fs::write(folder.path().join("jobs/box.rhai"), recipe).unwrap();
    let ran = batch(folder.path(), &[]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    let all = fs::read_to_string(folder.path().join("out/cut-list.csv")).unwrap();
    let joinery = all.lines().find(|line| line.starts_with("metric,")).unwrap();
    assert!(joinery.contains("groove") && !joinery.contains("mm"), "{joinery}");
}
