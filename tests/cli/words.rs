//! Commands that answer with words: help, usage errors, lists, explanations, checks.

use std::io::pipe;
use std::process::Stdio;

use super::{program, run, run_in};

/// The built-in recipes that every release has.
const BUILT_IN: [&str; 5] = ["bench-drawers", "drawer-bank", "drawer-box", "edged-panel", "face-frame"];

#[test]
fn wrong_usage_ends_with_2_and_says_what_to_type() {
    for (args, said) in [
        (&["rnu", "x"][..], "did you mean `run`?"),
        (&["run"], "<RECIPE>"),
        (&["run", "drawer-box", "width"], "`width` is not of the form NAME=VALUE"),
        (&["run", "drawer-box", "width", "=", "16"], "leave no blank around the `=`: width=16"),
        (&["run", "drawer-box", "width=16", "7/8"], "put quotes around a value with a blank: \"width=16 7/8\""),
        (&["run", "drawer-box", "width=1", "width=2"], "given twice"),
        (&["run", "drawer-box", "--units", "cubit"], "[possible values: in, mm]"),
        (&["run", "drawer-box", "--out", ""], "--out <DIR>"),
        (&["run", "drawer-box", "--shop", ""], "--shop <FILE>"),
        (&["run", "drawer-box", "--json"], "--json"),
        (&["check", "drawer-box", "--out", "x"], "--out"),
        (&["run", "drawer-box", "--width", "24"], "inputs have no dashes: write width=24"),
        (&["check", "drawer-box", "--groove-up=16 7/8"], "inputs have no dashes: write \"groove_up=16 7/8\""),
        (&["run", "drawer-box", "--unit", "mm"], "--units"),
        (&["explain", "no-such-thing-at-all"], "nothing here is called `no-such-thing-at-all`"),
        (&["completions", "tcsh"], "tcsh"),
        (&["batch", "jobs.csv"], "--out <DIR>"),
        (&["batch", "jobs.csv", "--out", "x", "--threads", "0"], "--threads"),
    ] {
        let ran = run(args);
        assert_eq!(ran.code, 2, "{args:?}: {}", ran.all());
        assert_eq!(ran.out, "", "{args:?}");
        assert!(ran.err.contains(said), "{args:?}: {}", ran.all());
    }
}

#[test]
fn help_is_an_answer() {
    let ran = run(&["--help"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!(ran.out, @r#"
    Recipes for case furniture, and the papers that a shop works from

    Usage: casewright <COMMAND>

    Commands:
      run          Run a recipe: its cut list and bills on the terminal, or all papers in a folder
      check        Check a recipe and its inputs: every finding, no papers
      inputs       List the inputs that a recipe asks for, with their defaults and limits
      recipes      List the built-in recipes
      explain      Explain a finding, joint, recipe, function, input kind, paper or hardware; without a
                   name, list them all
      repl         Work with a recipe line by line: set inputs, see what changes, evaluate expressions
      batch        Run every job of a table: a folder of papers each, and the lists of all together
      layout       Lay out a list of parts on sheets and boards: what to buy, and every cut in order
      completions  Print the completions of the command line for a shell
      man          Print the manual page

    Options:
      -h, --help     Print help
      -V, --version  Print version

    Exit codes:
       0  everything asked for was done; there may be warnings
       1  the job, the shop file or a job of the batch has errors
       2  the command line is not understood
       3  a file could not be read or written
      70  a fault of the program itself; please report it
    "#);
    assert_eq!(run(&["--version"]).out, format!("casewright {}\n", env!("CARGO_PKG_VERSION")));
    // Without anything typed, the same help is told, and it was not what was meant.
    let nothing = run(&[]);
    assert_eq!(nothing.code, 2);
    assert_eq!(nothing.err, ran.out);
}

#[test]
fn a_recipe_that_is_nowhere_is_told_with_the_nearest_name() {
    for command in ["run", "check", "inputs"] {
        let ran = run(&[command, "drawer-bx"]);
        assert_eq!(ran.code, 3, "{}", ran.all());
        let told = if command == "check" { &ran.out } else { &ran.err };
        assert!(told.contains("there is no recipe `drawer-bx`"), "{}", ran.all());
        assert!(told.contains("did you mean `drawer-box`?"), "{}", ran.all());
    }
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("ink-cabinet.rhai"), "").unwrap();
    for name in ["ink-cabinet", "./ink-cabinet"] {
        let ran = run_in(folder.path(), &["run", name]);
        assert!(ran.err.contains(&format!("did you mean `{name}.rhai`?")), "{}", ran.all());
    }
    std::fs::create_dir(folder.path().join("folder.rhai")).unwrap();
    let ran = run_in(folder.path(), &["run", "folder.rhai"]);
    assert_eq!(ran.code, 3, "{}", ran.all());
    std::fs::write(folder.path().join("bytes.rhai"), [0xff, 0xfe]).unwrap();
    assert_eq!(run_in(folder.path(), &["run", "bytes.rhai"]).code, 3);
}

#[test]
fn the_built_in_recipes_are_listed_and_each_says_what_it_asks_for() {
    let ran = run(&["recipes"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let json = run(&["recipes", "--json"]);
    let listed: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    for name in BUILT_IN {
        assert!(ran.out.contains(name), "{}", ran.out);
        let all = listed["recipes"].as_array().unwrap();
        let entry = all.iter().find(|entry| entry["name"] == name).unwrap();
        assert!(!entry["about"].as_str().unwrap().is_empty(), "{name}");
        let inputs = run(&["inputs", name]);
        assert_eq!((inputs.code, inputs.err.as_str()), (0, ""), "{name}");
        let json: serde_json::Value = serde_json::from_str(&run(&["inputs", name, "--json"]).out).unwrap();
        for input in json["inputs"].as_array().unwrap() {
            let word = input["name"].as_str().unwrap();
            assert!(inputs.out.contains(word), "{name}: {word}");
            assert!(!input["help"].as_str().unwrap().is_empty(), "{name}: {word} has no help");
            // A default that cannot be typed would not be a default.
            let typed = format!("{word}={}", input["default"].as_str().unwrap());
            let checked = run(&["check", name, &typed]);
            assert_eq!(checked.code, 0, "{name} {typed}: {}", checked.all());
        }
    }
}

#[test]
fn check_tells_findings_to_people_and_to_programs() {
    let ran = run(&["check", "drawer-box"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    assert!(ran.out.starts_with("drawer-box: ") || ran.out.contains("\ndrawer-box: "), "{}", ran.out);
    let ran = run(&["check", "drawer-box", "widht=3"]);
    assert_eq!(ran.code, 1, "{}", ran.all());
    assert!(ran.out.contains("widht"), "{}", ran.out);
    let ran = run(&["check", "drawer-box", "widht=3", "--json"]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(json["version"], 1);
    assert!(json["errors"].as_u64().unwrap() >= 1);
    let finding = &json["findings"][0];
    for key in ["code", "severity", "message", "at", "through", "hint", "source"] {
        assert!(finding.get(key).is_some(), "{key}: {finding}");
    }
}

#[test]
fn an_error_in_a_recipe_is_shown_at_its_line() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("wrong.rhai"), "let a = 3;\nlet b = part(\n").unwrap();
    let ran = run_in(folder.path(), &["run", "wrong.rhai", "--out", "papers"]);
    assert_eq!(ran.code, 1, "{}", ran.all());
    assert_eq!(ran.out, "");
    assert!(ran.err.contains("--> wrong.rhai:"), "{}", ran.err);
    assert!(!folder.path().join("papers").exists());
}

#[test]
fn a_shop_file_is_used_or_told_with_its_lines() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("shop.toml"), "kerff = 3\ntrim = \"banana\"\n").unwrap();
    let ran = run_in(folder.path(), &["check", "drawer-box", "--shop", "shop.toml"]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(ran.err, @r#"
    error[shop-file-key]: there is no key `kerff` here
     --> shop.toml:1:1
      |
    1 | kerff = 3
      | ^^^^^
      |
      = hint: did you mean `kerf`?

    error[shop-file-value]: `trim`: `banana` is not a length
     --> shop.toml:2:8
      |
    2 | trim = "banana"
      |        ^^^^^^^^
      |
      = hint: write one such as 16-7/8", 1' 4-7/8", 428mm, 42.8 cm or 0.703in
    "#);
    let ran = run_in(folder.path(), &["check", "drawer-box", "--shop", "none.toml"]);
    assert_eq!(ran.code, 3);
    insta::assert_snapshot!(ran.err, @"error[unreadable-file]: the shop file `none.toml` could not be read: there is no such file or folder");
    std::fs::write(folder.path().join("shop.toml"), "units = \"mm\"\n").unwrap();
    let ran = run_in(folder.path(), &["inputs", "drawer-box", "--shop", "shop.toml"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    assert!(ran.out.contains(" mm") && !ran.out.contains('"'), "{}", ran.out);
}

#[test]
fn everything_in_the_list_of_explanations_can_be_explained() {
    let list = run(&["explain"]);
    assert_eq!((list.code, list.err.as_str()), (0, ""));
    let mut seen = 0;
    for line in list.out.lines() {
        // Names begin where headings and wrapped text do not.
        let Some(name) = line.strip_prefix("  ").and_then(|line| line.split("  ").next()) else { continue };
        let heading =
            ["Findings", "Joints", "Input kinds", "Papers", "name", "Recipe functions", "Built-in recipes", "Hardware"]
                .contains(&name);
        if name.is_empty() || heading {
            continue;
        }
        let ran = run(&["explain", name]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{name}");
        seen += 1;
    }
    assert!(seen > 10, "{}", list.out);
}

#[test]
fn shells_and_man_get_their_pages() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let ran = run(&["completions", shell]);
        assert_eq!(ran.code, 0);
        assert!(ran.out.contains("casewright") && ran.out.contains("batch"), "{shell}");
    }
    let ran = run(&["man"]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.contains(".TH casewright") && ran.out.contains("Exit codes"), "{}", ran.out);
}

#[test]
fn a_reader_that_goes_away_ends_it_quietly() {
    let folder = tempfile::tempdir().unwrap();
    for args in [&["man"][..], &["recipes"], &["run", "drawer-box"], &["inputs", "drawer-box", "--json"]] {
        let (reader, writer) = pipe().unwrap();
        drop(reader);
        let done = program(folder.path()).args(args).stdin(Stdio::null()).stdout(writer).output().unwrap();
        assert_eq!(done.status.code(), Some(0), "{args:?}");
        let told = String::from_utf8_lossy(&done.stderr);
        assert!(!told.contains("error") && !told.contains("panicked"), "{args:?}: {told}");
    }
}

#[test]
fn output_to_a_file_has_no_colours_and_fits_a_hundred_columns() {
    for args in [&["run", "bench-drawers"][..], &["explain"], &["inputs", "drawer-bank"], &["recipes"], &["--help"]] {
        let ran = run(args);
        for text in [&ran.out, &ran.err] {
            assert!(!text.contains('\u{1b}'), "{args:?}");
        }
        for line in ran.out.lines() {
            assert!(line.chars().count() <= 100, "{args:?}: {line}");
        }
    }
}
