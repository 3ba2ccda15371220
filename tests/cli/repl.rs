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
    insta::assert_snapshot!(ran.out, @r#"
    Cut list  5 parts
      mark  qty  part                   size  stock
      A1      2  side               20" x 5"  1/2 birch plywood
      A2      1  front              17" x 5"  1/2 birch plywood
      A3      1  back               17" x 5"  1/2 birch plywood
      A4      1  bottom  19-7/16" x 17-7/16"  1/4 birch plywood

    hardware: 8 pocket screw #6 x 1"
    to buy: 1 sheet of 1/2 birch plywood; 1 sheet of 1/4 birch plywood
    Cut list  5 parts
         mark  qty  part                   size  stock              was
         A1      2  side               20" x 5"  1/2 birch plywood
      ~  A2      1  front          15-7/8" x 5"  1/2 birch plywood  17" x 5"
      ~  A3      1  back           15-7/8" x 5"  1/2 birch plywood  17" x 5"
      ~  A4      1  bottom  19-7/16" x 16-5/16"  1/4 birch plywood  19-7/16" x 17-7/16"

    hardware: 8 pocket screw #6 x 1"
    to buy: 1 sheet of 1/2 birch plywood; 1 sheet of 1/4 birch plywood
    Changes
         mark  qty  part                   size  stock              was
      ~  A2      1  front          15-7/8" x 5"  1/2 birch plywood  17" x 5"
      ~  A3      1  back           15-7/8" x 5"  1/2 birch plywood  17" x 5"
      ~  A4      1  bottom  19-7/16" x 16-5/16"  1/4 birch plywood  19-7/16" x 17-7/16"

    Inputs
      input           takes       now                default  range                 what it is
      width           length      16-7/8"            18"      4" to 48"             outside width
      depth           length      20"                         6" to 36"             outside depth
      height          length      5"                          1" to 18"             height of the sides;
                                                                                    a tray has low ones
      sides           sheet or    1/2 birch plywood           3/8" to 1" thick      stock of sides,
                      board                                                         front and back
      bottom          sheet       1/4 birch plywood           1/8" to 3/4" thick    stock of the bottom
      corners         choice      sides run through           sides run through,    which parts run
                                                              front and back run    through at the
                                                              through               corners; box joints
                                                                                    and dovetails say it
                                                                                    themselves
      back            choice      full height                 full height, cut      a cut down back lets
                                                              down                  the bottom slide in
                                                                                    under it
      hold            choice      pocket screws               pocket screws,        what holds the
                                                              screws, glue, lock    corners
                                                              rabbet, box joint,
                                                              half-blind dovetail
      bottom_in       choice      grooves                     grooves, slips        the bottom in
                                                                                    grooves of the
                                                                                    sides, or on slips
                                                                                    glued to them
      groove_depth    length      0"                          0" to 1/2"            depth of the
                                                                                    bottom's groove; 0
                                                                                    is half the sides'
                                                                                    thickness
      groove_up       length      1/4"                        1/8" to 2"            from the lower edge
                                                                                    up to the groove
      clearance       length      1/32"                       0" to 1/8"            room between each
                                                                                    edge of the bottom
                                                                                    and the floor of its
                                                                                    groove
      dividers        count       0                           0 to 8                dividers from front
                                                                                    to back
      cross_dividers  count       0                           0 to 8                dividers from side
                                                                                    to side; where they
                                                                                    cross the others,
                                                                                    both are slotted
      divider         sheet or    1/4 birch plywood           1/8" to 3/4" thick    stock of the
                      board                                                         dividers
      band            band        none                        none                  edge band on the top
                                                                                    edges, or none
    "#);
}

#[test]
fn expressions_have_the_recipes_functions() {
    let ran = piped(&["7/8 + 1/8", "let x = 3;", "x * 2", "width", "fn twice(n) {", "  n * 2", "}", "twice(21)"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.all());
    let answers = ran.out.split("\n\n").last().unwrap();
    insta::assert_snapshot!(answers, @r#"
    hardware: 8 pocket screw #6 x 1"
    to buy: 1 sheet of 1/2 birch plywood; 1 sheet of 1/4 birch plywood
    1
    6
    18"
    42
    "#);
}

#[test]
fn errors_never_end_it() {
    let ran = piped(&[
        "width = banana",
        "height = 2",
        "groove_up = 2",
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
    assert_eq!(lists.len(), 7, "{}", ran.out);
    assert_eq!(lists[2].lines().nth(1), lists[5].lines().nth(1));
    assert_eq!(ran.out.matches("nothing is left to take back").count(), 1, "{}", ran.out);
}

#[test]
fn what_was_taken_back_can_be_made_again() {
    let ran = piped(&[":redo", "width = 20", ":undo", ":redo", "width", ":undo", "width = 21", ":redo", "width"]);
    assert!(ran.out.contains("\n20\"\n"), "{}", ran.out);
    // Before anything was taken back, and after another change.
    assert_eq!(ran.out.matches("nothing was taken back").count(), 2, "{}", ran.out);
    assert!(ran.out.ends_with("\n21\"\n"), "{}", ran.out);
}

#[test]
fn another_recipe_can_be_left_and_taken_up_again() {
    let ran =
        piped(&["width = 20", ":open edged-panel", ":undo", "width", ":undo", ":undo", ":redo", ":redo", "width"]);
    assert!(ran.out.contains("\n20\"\n"), "{}", ran.out);
    assert_eq!(ran.out.matches("nothing is left to take back").count(), 1, "{}", ran.out);
    assert!(ran.out.ends_with("\n30\"\n"), "{}", ran.out);
}

#[test]
fn a_refused_value_does_not_stand() {
    let ran = piped(&["width = 20", "width = 80", "width", "width = banana", ":undo", "width"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    assert_eq!(ran.out.matches("`width` stays 20\"").count(), 2, "{}", ran.out);
    assert!(ran.out.ends_with("\n18\"\n"), "{}", ran.out);
}

#[test]
fn a_variable_of_a_block_is_told_as_one() {
    let folder = tempfile::tempdir().unwrap();
    let ran = typed_in(folder.path(), &["repl", "bench-drawers"], "divider\nstretchers.len\n");
    assert!(ran.out.contains("the recipe makes `divider` inside a loop"), "{}", ran.out);
    assert!(ran.out.ends_with("\n2\n"), "{}", ran.out);
}

#[test]
fn a_change_of_unit_keeps_the_sizes_that_were_typed() {
    let ran = piped(&["width = 16", ":units mm", "width", "width = 400", ":units in", "width"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    assert!(ran.out.contains("\n406.4 mm\n"), "{}", ran.out);
    // 400 mm are 15.748 in, printed to the nearest 1/32.
    assert!(ran.out.ends_with("\n15-3/4\"-\n"), "{}", ran.out);
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

    /// Waits for the prompt, since what is typed before it is lost; types; waits for the answer.
    fn step(session: &mut PtySession, typed: &str, answer: &str) {
        session.exp_string("> ").unwrap();
        session.send(typed).unwrap();
        session.flush().unwrap();
        session.exp_string(answer).unwrap();
    }

    #[test]
    fn lines_history_completion_and_blocks_work_in_a_terminal() {
        let folder = tempfile::tempdir().unwrap();
        let mut session = open(folder.path(), &["drawer-box"]);
        step(&mut session, "1 + 1\n", "\n2");
        // A block goes on until its brace is closed.
        step(&mut session, "fn twice(n) {\nn * 2 }\n", "n * 2 }");
        step(&mut session, "twice(21)\n", "\n42");
        // Completion of an input's name, with what has to follow it.
        step(&mut session, "wid\t16 7/8\n", "15-7/8");
        // Ctrl-C abandons the line, never the program.
        step(&mut session, "something(", "something(");
        session.send_control('c').unwrap();
        step(&mut session, "20 + 3\n", "\n23");
        session.exp_string("> ").unwrap();
        // Ctrl-D ends.
        session.send_control('d').unwrap();
        session.exp_eof().unwrap();

        let history = std::fs::read_to_string(folder.path().join("state/casewright/history")).unwrap();
        assert!(history.contains("width = 16 7/8"), "{history}");
        // The arrow up brings back the last line of the time before.
        let mut session = open(folder.path(), &[]);
        step(&mut session, "\x1b[A\n", "\n23");
        step(&mut session, ":quit\n", ":quit");
        session.exp_eof().unwrap();
    }

    #[test]
    fn a_history_that_cannot_be_kept_is_no_trouble() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("state"), "in the way").unwrap();
        let mut session = open(folder.path(), &[]);
        step(&mut session, "1 + 2\n", "\n3");
        step(&mut session, ":quit\n", ":quit");
        session.exp_eof().unwrap();
    }
}
