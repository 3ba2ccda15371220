//! The REPL, through a pipe and through a real terminal.

use std::fs;

use super::{files, typed_in};

fn piped(lines: &[&str]) -> super::Ran {
    let folder = tempfile::tempdir().unwrap();
    typed_in(folder.path(), &["repl", "drawer-box"], &(lines.join("\n") + "\n"))
}

#[test]
fn inputs_are_set_and_the_lists_follow() {
    let ran = piped(&["width = 16 7/8", ":changes", ":inputs"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.all());
    insta::assert_snapshot!(ran.out, @"");
}

#[test]
fn expressions_have_the_recipes_functions() {
    let ran = piped(&["7/8 + 1/8", "let x = 3;", "x * 2", "width", "fn twice(n) {", "  n * 2", "}", "twice(21)"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.all());
    let answers = ran.out.split("\n\n").last().unwrap();
    insta::assert_snapshot!(answers, @"");
}

#[test]
fn errors_never_end_it() {
    let ran = piped(&[
        "width = banana",
        ":undo",
        "widht = 3",
        "nonsense(1)",
        "7/0",
        ":parts now",
        ":nothing",
        ":open no-such-recipe",
        ":write",
        "}",
        "1 + 1",
    ]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.all());
    assert!(ran.out.contains("`:undo` takes it back"), "{}", ran.out);
    assert!(ran.out.contains("did you mean the input `width`?"), "{}", ran.out);
    assert!(ran.out.trim_end().ends_with("\n2"), "{}", ran.out);
}

#[test]
fn an_undone_change_leaves_everything_as_it_was() {
    let ran = piped(&[":parts", "width = 20", ":undo", ":parts", ":undo", ":parts"]);
    let lists: Vec<&str> = ran.out.split("Cut list").collect();
    // The lists: on opening, asked for, after the change, after undoing it, asked for again.
    assert_eq!(lists.len(), 6, "{}", ran.out);
    assert_eq!(lists[2].lines().count() > 2, true);
    assert!(ran.out.contains("no recipe is open"), "{}", ran.out);
}

#[test]
fn a_change_of_unit_changes_no_size() {
    let ran = piped(&["width = 16", ":units mm", "width", ":changes", ":units in"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    assert!(ran.out.contains("406.4 mm"), "{}", ran.out);
    assert!(ran.out.contains("no part has changed"), "{}", ran.out);
}

#[test]
fn papers_are_written_from_the_repl() {
    let folder = tempfile::tempdir().unwrap();
    let ran = typed_in(folder.path(), &["repl"], ":open drawer-box\n:write my papers\n:quit\nnever read\n");
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.all());
    assert!(files(&folder.path().join("my papers")).contains_key("cut-list.csv"), "{}", ran.out);
    assert!(!ran.out.contains("never"), "{}", ran.out);
    fs::write(folder.path().join("file"), "").unwrap();
    let ran = typed_in(folder.path(), &["repl", "drawer-box"], ":write file\n1+1\n");
    assert!(ran.out.contains("not a folder") && ran.out.ends_with("2\n"), "{}", ran.out);
}

#[cfg(unix)]
mod terminal {
    use rexpect::session::{PtySession, spawn_command};

    use super::super::program;

    /// How long anything may take on a busy machine, in milliseconds.
    const PATIENCE: u64 = 20_000;

    fn open(folder: &std::path::Path, args: &[&str]) -> PtySession {
        let mut command = program(folder);
        command.arg("repl").args(args).env("TERM", "xterm").env("NO_COLOR", "1");
        spawn_command(command, Some(PATIENCE)).unwrap()
    }

    #[test]
    fn lines_history_completion_and_blocks_work_in_a_terminal() {
        let folder = tempfile::tempdir().unwrap();
        let mut session = open(folder.path(), &["drawer-box"]);
        session.exp_string("Cut list").unwrap();
        session.exp_string("> ").unwrap();
        session.send_line("1 + 1").unwrap();
        session.exp_string("\n2").unwrap();
        // A block goes on until its brace is closed.
        session.send_line("fn twice(n) {").unwrap();
        session.send_line("n * 2 }").unwrap();
        session.send_line("twice(21)").unwrap();
        session.exp_string("\n42").unwrap();
        // Completion of an input's name, with what has to follow it.
        session.send("wid\t16 7/8\n").unwrap();
        session.flush().unwrap();
        session.exp_string("width = 16 7/8").unwrap();
        session.exp_string("hardware").unwrap();
        // Ctrl-C abandons the line, never the program.
        session.send("something(").unwrap();
        session.send_control('c').unwrap();
        session.send_line("20 + 3").unwrap();
        session.exp_string("\n23").unwrap();
        // Ctrl-D ends.
        session.send_control('d').unwrap();
        session.exp_eof().unwrap();

        let history = std::fs::read_to_string(folder.path().join("state/casewright/history")).unwrap();
        assert!(history.contains("width = 16 7/8"), "{history}");
        // The arrow up brings back the last line of the time before.
        let mut session = open(folder.path(), &[]);
        session.exp_string("> ").unwrap();
        session.send("\x1b[A\n").unwrap();
        session.flush().unwrap();
        session.exp_string("\n23").unwrap();
        session.send_line(":quit").unwrap();
        session.exp_eof().unwrap();
    }

    #[test]
    fn a_history_that_cannot_be_kept_is_no_trouble() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("state"), "in the way").unwrap();
        let mut session = open(folder.path(), &[]);
        session.exp_string("> ").unwrap();
        session.send_line("1 + 2").unwrap();
        session.exp_string("\n3").unwrap();
        session.send_line(":quit").unwrap();
        session.exp_eof().unwrap();
    }
}
