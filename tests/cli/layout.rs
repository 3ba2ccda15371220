//! `layout`: lists of parts, raw problems, the rack of offcuts; and the same options at `run`.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::{Ran, files, run_in};

const PARTS: &str = "qty,part,width,length,stock,grain,note\n\
                     4,side,12,30-1/2,3/4 birch plywood,,\n\
                     2,\"door, left\",14 3/4,28,3/4 birch plywood,width,\n\
                     3,shelf,11,400mm,3/4 MDF,any,\n\
                     1,top,20,60,3/4 pine board,,glue it up\n";

fn with(parts: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("parts.csv"), parts).unwrap();
    folder
}

fn layout(folder: &Path, more: &[&str]) -> Ran {
    run_in(folder, &[&["layout", "parts.csv"], more].concat())
}

/// The rows of a table by the names of its columns.
fn table(bytes: &[u8]) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_reader(bytes);
    let header: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    reader.records().map(|row| header.iter().cloned().zip(row.unwrap().iter().map(str::to_owned)).collect()).collect()
}

#[test]
fn a_list_is_laid_out_and_shown() {
    let folder = with(PARTS);
    let ran = layout(folder.path(), &[]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    // Four sides, two doors: 4 x 366 + 2 x 413 in2 = 2290 in2, half a sheet. The top of 20 in comes from pine of at most 11-1/4 in,
    // in strips of at most 6 in less 1/8 in to joint: 20 / 5-7/8 is more than three, so four of 5 + 1/8 in.
    for told in
        ["1 of 96\" x 48\"", "1 of 97\" x 49\"", "glue each up from 4 strips of 5-1/8\"", "proven", "crosscut 30-1/2\""]
    {
        assert!(ran.out.contains(told), "{told}\n{}", ran.out);
    }
}

#[test]
fn a_list_gives_papers() {
    let folder = with(PARTS);
    let ran = layout(folder.path(), &["--out", "plan"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    let written = files(&folder.path().join("plan"));
    for paper in ["cut-list.csv", "cutting-plan.csv", "offcuts.csv", "sheet-1.svg", "sheet-2.svg", "stock.csv"] {
        assert!(written.contains_key(paper), "{paper}: {:?}", written.keys());
    }
    assert!(!written.contains_key("hardware.csv"), "{:?}", written.keys());
    // Each part is made by one cut, or left by one.
    let cuts = table(&written["cutting-plan.csv"]);
    let sides = cuts.iter().filter(|cut| cut["mark"] == "A1").count()
        + cuts.iter().filter(|cut| cut["leaves"].starts_with("A1 ")).count();
    assert_eq!(sides, 4, "{cuts:?}");
    // The grain of the doors runs along their width, so that is their length in the list.
    let list = table(&written["cut-list.csv"]);
    assert_eq!((list[1]["length"].as_str(), list[1]["width"].as_str()), ("14-3/4\"", "28\""));
}

#[test]
fn drawings_of_sheets_that_are_no_longer_cut_are_taken_away() {
    let folder = with("part,qty,length,width,stock\nside,6,90,40,3/4 birch plywood\n");
    assert_eq!(layout(folder.path(), &["--out", "plan"]).code, 0);
    let out = folder.path().join("plan");
    fs::write(out.join("sheet-9.svg"), "<svg>mine</svg>").unwrap();
    let before = files(&out);
    // One drawing for six sheets that are cut alike; a list of two stocks has two.
    assert!(before.contains_key("sheet-1.svg") && !before.contains_key("sheet-2.svg"), "{:?}", before.keys());
    fs::write(folder.path().join("parts.csv"), "part,length,width,stock\na,20,20,3/4 MDF\nb,20,20,1/2 MDF\n").unwrap();
    assert_eq!(layout(folder.path(), &["--out", "plan"]).code, 0);
    assert!(files(&out).contains_key("sheet-2.svg"));
    fs::write(folder.path().join("parts.csv"), "part,length,width,stock\na,20,20,3/4 MDF\n").unwrap();
    assert_eq!(layout(folder.path(), &["--out", "plan"]).code, 0);
    let after = files(&out);
    assert!(!after.contains_key("sheet-2.svg"), "{:?}", after.keys());
    assert_eq!(after["sheet-9.svg"], b"<svg>mine</svg>");
}

#[test]
fn wrong_rows_are_told_all_at_once() {
    let folder = with("part,qty,length,width,stock,grain\na,none,2,3,x,\nb,1,banana,-3,3/4 birch plywod,up\n");
    let ran = layout(folder.path(), &["--out", "plan"]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{}", ran.all());
    for told in [
        "row 2, column `qty`: `none` is not a whole number from 1 to 10000",
        "row 2, column `stock`: there is no stock `x`",
        "row 3, column `length`: `banana` is not a length",
        "row 3, column `width`: `-3` is zero or less",
        "did you mean `3/4 birch plywood`?",
        "row 3, column `grain`: `up` is no direction of grain",
    ] {
        assert!(ran.err.contains(told), "{told}\n{}", ran.err);
    }
    assert!(!folder.path().join("plan").exists());
    for (list, told) in [
        ("part,lenght,width,stock\n", "did you mean `length`?"),
        ("part,lenght,width\n", "the column `stock` is missing"),
        ("part,length,width,stock,quantity\n", "call it `qty`"),
        ("part,colour,length,width\n", "the column `stock` is missing"),
        ("part,length,width,stock\n ,12,12,3/4 birch plywood\n", "row 2, column `part`: the cell is empty"),
        ("part,length,width,stock\na,12,0.0001 mm,3/4 birch plywood\n", "`a` is too narrow to be cut"),
        ("part,length,width\na,1,2\n", "the column `stock` is missing"),
        ("part;length;width;stock\n", "semicolons"),
        ("", "the list is empty"),
        ("part,length,width,stock\n", "no parts"),
        ("part,length,width,stock\na,200,3,3/4 birch plywood\n", "part-beyond-stock"),
        ("part,length,width,stock\na,20,3,oak veneer band 7/8\n", "no part is cut from it"),
    ] {
        let folder = with(list);
        let ran = layout(folder.path(), &[]);
        assert_eq!(ran.code, 1, "{list}: {}", ran.all());
        assert!(ran.err.contains(told), "{list}: {}", ran.all());
    }
    // An inch mark in a cell without quotes is no quote; the fault is underlined where it stands.
    for list in ["side 3/4\" thick,12,banana", "\"side, 3/4\"\" thick\",12,banana"] {
        let folder = with(&format!("part,length,width,stock\n{list},3/4 birch plywood\n"));
        let ran = layout(folder.path(), &[]);
        let column = list.find("banana").unwrap() + 1;
        assert!(ran.err.contains(&format!("parts.csv:2:{column}")), "{}", ran.all());
    }
    assert_eq!(run_in(folder.path(), &["layout", "none.csv"]).code, 3);
    assert_eq!(run_in(folder.path(), &["layout"]).code, 2);
}

#[test]
fn the_rack_works_over_three_jobs() {
    // One sheet of 96 x 48 in gives 95-1/2 x 47-1/2. Each job needs one part of 40 x 30 in: the first buys a sheet, what is left of
    // it is enough for the second and third, and nothing is bought again.
    let folder = with("part,length,width,stock\npanel,40,30,3/4 birch plywood\n");
    let job = |number: usize| {
        let out = format!("job{number}");
        let rack = format!("job{}/offcuts.csv", number - 1);
        let more: &[&str] = if number == 1 { &[] } else { &["--offcuts", &rack] };
        let ran = layout(folder.path(), &[&["--out", &out], more].concat());
        assert_eq!(ran.code, 0, "{}", ran.all());
        let written = files(&folder.path().join(&out));
        (table(&written["stock.csv"]), table(&written["offcuts.csv"]))
    };
    let area = |rack: &[BTreeMap<String, String>]| -> f64 {
        let size = |row: &BTreeMap<String, String>, name: &str| row[name].parse::<f64>().unwrap();
        rack.iter().map(|row| size(row, "length_in") * size(row, "width_in") * size(row, "qty")).sum()
    };
    let (stock, first) = job(1);
    assert_eq!((&*stock[0]["use"], &*stock[0]["qty"]), ("buy", "1"));
    let (stock, second) = job(2);
    assert_eq!((&*stock[0]["use"], &*stock[0]["qty"]), ("rack", "1"), "{first:?}");
    let (stock, third) = job(3);
    // 95-1/2 in is two lengths of 40 in and no third: the third panel comes from what is left only if 30 in of width are; they are
    // not, as 47-1/2 is less than twice 30. So the third job buys again, and what it does not use stays on the rack.
    assert_eq!((&*stock[0]["use"], &*stock[0]["qty"]), ("buy", "1"), "{second:?}");
    assert!(area(&first) > area(&second) && area(&third) > area(&second), "{first:?}\n{second:?}\n{third:?}");
    assert!(third.iter().any(|row| row["from"] == "rack"), "{third:?}");
    // What is on a rack is given to any job of the stock.
    let ran = run_in(folder.path(), &["run", "drawer-box", "--offcuts", "job3/offcuts.csv"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
}

#[test]
fn the_rack_is_used_by_the_second_and_the_third_job() {
    // A rip blade of 1/8 in. Job 1: a side of 60 x 24 in out of a sheet of 96 x 48, trimmed to 95-1/2 x 47-1/2. Ripped at 24 and
    // crosscut at 60, it leaves 95-1/2 x 23-3/8 and 35-3/8 x 24. Job 2: a shelf of 30 x 20 comes out of the smaller of them: a strip of
    // 35-3/8 x 20, of which 5-1/4 x 20 fall away, and 35-3/8 x 3-7/8 beside it; neither is worth keeping. Job 3: a panel of 90 x 12
    // comes out of 95-1/2 x 23-3/8, and leaves 95-1/2 x 11-1/4; the end of its strip, 5-3/8 x 12, is not kept.
    let folder = tempfile::tempdir().unwrap();
    let parts = ["side,60,24", "shelf,30,20", "panel,90,12"];
    let (mut taken, mut racks) = (Vec::new(), Vec::new());
    for (number, part) in (1..).zip(parts) {
        let list = format!("part,length,width,stock\n{part},3/4 birch plywood\n");
        fs::write(folder.path().join("parts.csv"), list).unwrap();
        let (out, rack) = (format!("job{number}"), format!("job{}/offcuts.csv", number - 1));
        let more: &[&str] = if number == 1 { &[] } else { &["--offcuts", &rack] };
        let ran = layout(folder.path(), &[&["--out", &out], more].concat());
        assert_eq!(ran.code, 0, "{}", ran.all());
        let written = files(&folder.path().join(&out));
        let used = table(&written["stock.csv"]);
        taken.push(
            used.iter().map(|row| (row["use"].clone(), row["qty"].clone(), row["size"].clone())).collect::<Vec<_>>(),
        );
        let rack = table(&written["offcuts.csv"]);
        let row = |row: &BTreeMap<String, String>| {
            (row["length_in"].clone(), row["width_in"].clone(), row["qty"].clone(), row["from"].clone())
        };
        racks.push(rack.iter().map(row).collect::<Vec<_>>());
    }
    let used = |word: &str, size: &str| vec![(word.to_owned(), "1".to_owned(), size.to_owned())];
    assert_eq!(
        taken,
        [used("buy", "96\" x 48\""), used("rack", "35-3/8\" x 24\""), used("rack", "95-1/2\" x 23-3/8\"")]
    );
    let on_rack = |rows: &[(&str, &str, &str)]| -> Vec<(String, String, String, String)> {
        let row = |&(long, wide, from): &(&str, &str, &str)| (long.into(), wide.into(), "1".into(), from.into());
        rows.iter().map(row).collect()
    };
    assert_eq!(racks[0], on_rack(&[("95.5", "23.375", "sheet 1"), ("35.375", "24", "sheet 1")]));
    // What was used is gone, what was not stays as it was, to the last digit.
    assert_eq!(racks[1], on_rack(&[("95.5", "23.375", "rack")]));
    assert_eq!(racks[2], on_rack(&[("95.5", "11.25", "sheet 1")]));
    // The sums: 95.5 x 23.375 + 35.375 x 24 = 2232.3125 + 849 = 3081.3125; then 2232.3125; then 95.5 x 11.25 = 1074.375.
    let area = |rack: &[(String, String, String, String)]| -> f64 {
        rack.iter().map(|row| row.0.parse::<f64>().unwrap() * row.1.parse::<f64>().unwrap()).sum()
    };
    for (rack, sum) in racks.iter().zip([3_081.312_5, 2_232.312_5, 1_074.375]) {
        assert!((area(rack) - sum).abs() < 1e-9, "{rack:?}");
    }
}

#[test]
fn a_rack_that_cannot_be_read_is_told() {
    let folder = with(PARTS);
    fs::write(folder.path().join("rack.csv"), "stock,length,width,qty\n,none,3,2\n").unwrap();
    let ran = layout(folder.path(), &["--offcuts", "rack.csv"]);
    assert_eq!(ran.code, 1, "{}", ran.all());
    assert!(ran.err.contains("row 2, column `stock`") && ran.err.contains("row 2, column `length`"), "{}", ran.err);
    assert_eq!(layout(folder.path(), &["--offcuts", "no.csv"]).code, 3);
}

#[test]
fn ways_stages_and_seconds_are_kept() {
    let folder = with("part,qty,length,width,stock\nside,5,30,12,3/4 birch plywood\n");
    let first_cut = |more: &[&str]| {
        let ran = layout(folder.path(), &[&["--out", "plan"], more].concat());
        assert_eq!(ran.code, 0, "{}", ran.all());
        let cuts = table(&files(&folder.path().join("plan"))["cutting-plan.csv"]);
        let first = cuts.iter().find(|cut| !cut["kind"].starts_with("trim")).unwrap();
        first["kind"].clone()
    };
    assert_eq!(first_cut(&["--way", "rip-first"]), "rip");
    assert_eq!(first_cut(&["--way", "crosscut-first"]), "crosscut");
    first_cut(&["--seconds", "0.2", "--seed", "7", "--stages", "any", "--way", "free"]);
    assert_eq!(layout(folder.path(), &["--way", "sideways"]).code, 2);
    assert_eq!(layout(folder.path(), &["--stages", "0"]).code, 2);
    assert_eq!(layout(folder.path(), &["--seconds", "-1"]).code, 2);
}

#[test]
fn raw_problems_are_answered_in_order() {
    let folder = tempfile::tempdir().unwrap();
    // Four of 50 x 50 fill a sheet of 100 x 100 without kerf; with a kerf of 1 only one goes beside another: 50 + 1 + 50 is 101,
    // so each sheet holds one. Boards: 10 = 7 + 3 twice, 5 + 5, 3 + 3 (36 of length is more than 3 boards).
    let problems = "{\"name\":\"a\",\"sheet\":[100,100],\"turn\":true,\"items\":[[50,50,4]],\"kerf\":0}\n\
                    \n{\"name\":\"b\",\"sheet\":[100,100],\"turn\":false,\"items\":[[50,50,4]],\"kerf\":1}\n\
                    {\"name\":\"c\",\"length\":10,\"items\":[[7,2],[5,2],[3,4]]}\n";
    fs::write(folder.path().join("raw.jsonl"), problems).unwrap();
    for threads in ["1", "3"] {
        let ran =
            run_in(folder.path(), &["layout", "--problems", "raw.jsonl", "--seconds", "0.5", "--threads", threads]);
        assert_eq!(ran.code, 0, "{}", ran.all());
        let answers: Vec<serde_json::Value> = ran.out.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
        for (answer, (name, sheets)) in answers.iter().zip([("a", 1), ("b", 4), ("c", 4)]) {
            assert_eq!(
                (&answer["name"], &answer["sheets"], &answer["bound"]),
                (&name.into(), &sheets.into(), &sheets.into())
            );
            assert_eq!((&answer["proven"], &answer["verified"]), (&true.into(), &true.into()));
            assert!(answer["seconds"].is_number());
        }
        assert_eq!(answers.len(), 3);
    }
    let wrong = "{\"name\":\"a\",\"sheet\":[100],\"items\":[]}\nnothing\n{\"name\":\"b\",\"items\":[[1,2]]}\n";
    fs::write(folder.path().join("raw.jsonl"), wrong).unwrap();
    let ran = run_in(folder.path(), &["layout", "--problems", "raw.jsonl"]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{}", ran.all());
    for line in ["line 1:", "line 2:", "line 3: a problem has a `sheet` or a `length`"] {
        assert!(ran.err.contains(line), "{line}\n{}", ran.err);
    }
    fs::write(folder.path().join("raw.jsonl"), "{\"name\":\"a\",\"sheet\":[10,10],\"items\":[[11,2,1]]}\n").unwrap();
    let ran = run_in(folder.path(), &["layout", "--problems", "raw.jsonl"]);
    assert_eq!(ran.code, 1, "{}", ran.all());
    assert!(ran.err.contains("`a`: item 0 cannot be cut"), "{}", ran.err);
}

#[cfg(unix)]
#[test]
fn a_long_search_shows_its_progress_and_ends_at_ctrl_c() {
    // Many kinds of part, so that no plan is proven at once.
    let row = |n: i32| format!("part,{},{},{}/16,3/4 birch plywood\n", 1 + n % 3, 9 + n, 80 + 7 * n);
    let rows = (1..=40).map(row).collect::<Vec<_>>().concat();
    let folder = with(&format!("part,qty,length,width,stock\n{rows}"));
    let mut command = super::program(folder.path());
    command
        .args(["layout", "parts.csv", "--seconds", "600", "--out", "plan"])
        .env("TERM", "xterm")
        .env("NO_COLOR", "1");
    let mut session = rexpect::session::spawn_command(command, Some(60_000)).unwrap();
    session.exp_string("laying out 3/4 birch plywood").unwrap();
    session.exp_string("of 600 s; Ctrl-C takes the best so far").unwrap();
    session.send_control('c').unwrap();
    session.exp_string("papers to plan").unwrap();
    session.exp_eof().unwrap();
    let written = files(&folder.path().join("plan"));
    assert!(written.contains_key("sheet-1.svg") && !table(&written["stock.csv"]).is_empty(), "{:?}", written.keys());
}

#[test]
fn the_rack_goes_by_the_names_of_stock_and_by_thickness() {
    let folder = with("part,length,width,stock\nshelf,30,20,3/4 birch plywood\n");
    let with_rack = |rack: &str| {
        fs::write(folder.path().join("rack.csv"), format!("stock,length,width,thickness\n{rack}\n")).unwrap();
        layout(folder.path(), &["--offcuts", "rack.csv"])
    };
    // However it is written, it is the stock of that name.
    let ran = with_rack("3/4 Birch Plywood,40,30,3/4");
    assert!(ran.code == 0 && ran.err.is_empty() && ran.out.contains("rack"), "{}", ran.all());
    let ran = with_rack("3/4 birch plywod,40,30,3/4");
    assert!(
        ran.code == 0 && ran.err.contains("the rack has `3/4 birch plywod`") && ran.err.contains("3/4 birch plywood"),
        "{}",
        ran.all()
    );
    assert!(ran.out.contains("buy"), "{}", ran.out);
    // A stock that a recipe made is none of the catalog's, and nothing is wrong with it.
    let ran = with_rack("the white board of last year's fit-out,40,30,3/4");
    assert!(ran.code == 0 && ran.err.is_empty(), "{}", ran.all());
    let ran = with_rack("3/4 birch plywood,40,30,1/2");
    assert!(ran.code == 0 && ran.out.contains("buy") && ran.out.contains("1/2\" thick rather than"), "{}", ran.all());
}

#[test]
fn raw_problems_that_are_wrong_are_told_in_plain_words() {
    let folder = with("");
    let ask = |line: &str| {
        fs::write(folder.path().join("p.jsonl"), line).unwrap();
        run_in(folder.path(), &["layout", "--problems", "p.jsonl", "--seconds", "0.2"])
    };
    for (line, told) in [
        ("not json", "line 1: this is not JSON"),
        ("[]", "expected an object in braces"),
        (r#"{"name":"a","sheet":[100.5,50],"items":[]}"#, "expected a whole number"),
        (r#"{"name":"a","sheet":[9,9],"items":[[4,5,3000000000]]}"#, "more than a hundred thousand parts"),
        (r#"{"name":"a","length":9,"items":[[4,100001]]}"#, "more than a hundred thousand parts"),
        (r#"{"name":"a","sheet":[9,9],"items":[[4,5,-1]]}"#, "item 0: its count makes no sense"),
    ] {
        let ran = ask(line);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{line}");
        assert!(ran.err.contains(told), "{line}: {}", ran.err);
    }
    // Sheets of 10^12 have areas beyond what 64 bits hold. Fifty of 10^9 side by side take 5 % of its width.
    let ran = ask(
        r#"{"name":"a","sheet":[1000000000000,1000000000000],"turn":true,"items":[[1000000000,999999999,50],[3,1,100]]}"#,
    );
    assert!(
        ran.code == 0 && ran.out.contains(r#""sheets":1,"bound":1,"proven":true,"verified":true"#),
        "{} {}",
        ran.out,
        ran.err
    );
}

#[test]
fn hostile_lists_end_in_a_clear_error_soon() {
    const HEAD: &str = "part,qty,length,width,stock\n";
    let long = format!("{HEAD}{},1,3,2,3/4 MDF\n", "a".repeat(3_000_000));
    let large = format!("{HEAD}{}", "a,1,3,2,3/4 MDF\n".repeat(600_000));
    let wrong = format!("{HEAD}{}", "a,x,y,z,w\n".repeat(19_000));
    for (list, told) in [
        (long.as_str(), "line 2 has more than 4000 bytes"),
        (large.as_str(), "the list has more than 4000000 bytes"),
        (wrong.as_str(), "were not looked at"),
        (&format!("{HEAD}a,99999999999999999999,3,2,3/4 MDF\n"), "is not a whole number from 1 to 10000"),
        (&format!("{HEAD}a,10000,1,1,3/4 MDF\nb,10000,1,1,3/4 MDF\nc,1,1,1,3/4 MDF\n"), "row 4, column `qty`"),
        (&format!("{HEAD}a\0b,1,3\0,2,3/4 MDF\n"), "row 2, column `length`"),
        (&format!("{HEAD}\"a,1,3,2,3/4 MDF\n"), "row 2: a cell is opened with a quote and not closed"),
        (
            &format!("{HEAD}a,1,3\"\",-2,3/4 MDF\n\"b\nb\",1,0,2,3/4 MDF\n"),
            "row 3, column `length`: `0` is zero or less",
        ),
        (&format!("{HEAD}a,1,1e400,2,3/4 MDF\n"), "row 2, column `length`"),
    ] {
        let folder = with(list);
        let began = std::time::Instant::now();
        let ran = layout(folder.path(), &[]);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{told}: {}", ran.err.chars().take(400).collect::<String>());
        assert!(ran.err.contains(told) && ran.err.len() < 200_000, "{told}: {}", ran.err.len());
        assert!(began.elapsed().as_secs() < 20, "{told}: {:?}", began.elapsed());
    }
    // A mark of the byte order and the line ends of another system are no fault.
    let folder = with("\u{feff}part,qty,length,width,stock\r\na,1,3,2,3/4 MDF\r\n");
    assert_eq!(layout(folder.path(), &[]).code, 0);
}
