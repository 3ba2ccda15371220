//! `run`: the lists on the terminal, the papers in a folder, all or none.

use std::fs;

use super::{files, run, run_in};

/// The papers of every job.
const PAPERS: [&str; 5] = ["cut-list.csv", "edge-band.csv", "hardware.csv", "job.json", "stock.csv"];

#[test]
fn a_run_prints_the_lists() {
    let ran = run(&["run", "drawer-box"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    insta::assert_snapshot!(ran.out, @r#"
    drawer-box

    Cut list  5 parts in 4 rows
      mark  qty  part      length     width  work                                             used in
      1/2 birch plywood, 1/2"
      A1      2  side         20"        5"  groove 1/4" x 1/4" deep, 1/4" from bottom edge   drawer box
      A2      1  front        17"        5"  groove 1/4" x 1/4" deep, 1/4" from bottom edge   drawer box
                                             in the show face; 4 pocket holes
      A3      1  back         17"        5"  groove 1/4" x 1/4" deep, 1/4" from bottom edge   drawer box
                                             in the show face; 4 pocket holes
      1/4 birch plywood, 1/4"
      A4      1  bottom  19-7/16"  17-7/16"                                                   drawer box

    Hardware
          qty  item          size     for
            8  pocket screw  #6 x 1"  drawer box
      0.1 ft2  wood glue              drawer box

    Mind
      pocket screw  coarse thread in plywood, MDF and softwood, fine in hardwood
      wood glue     area of the joints to be coated; see the glue maker's coverage

    To buy and use
      stock              parts  use              of  proof
      1/2 birch plywood      4  buy  1 of 96" x 48"  proven: no cheaper way exists
      1/4 birch plywood      1  buy  1 of 96" x 48"  proven: no cheaper way exists

    About the stock
      1/2 birch plywood  1 sheet, 3 settings and 9 cuts; no plan of the same money with fewer of either
                         was found
      1/4 birch plywood  1 sheet, 2 settings and 6 cuts; no plan of the same money with fewer of either
                         was found

    Machine settings  settings.csv tells how to come by each
      set             to  for                          parts
      fence         1/4"  groove 1/4" wide, 1/4" deep  A1 A2 A3
      blade height  1/4"  groove 1/4" wide, 1/4" deep  A1 A2 A3

    Diagonals  equal ones mean square
      of          qty    outside  each diagonal
      drawer box    1  18" x 20"     26-29/32"+

    Assembly
      1.  drawer box: glue and pocket-screw the front to each side: 2 screws 1" at each, 3/4" from each
          end; pockets in its front.
      2.  drawer box: slide the bottom into the grooves of each side, the front and the back, without
          glue.
      3.  drawer box: glue and pocket-screw the back to each side: 2 screws 1" at each, 3/4" from each
          end; pockets in its back.

    Notes
      -  Glue no bottom: it floats in its groove.

    Take care
      -  Grooves, dados and rabbets are cut where a standard saw guard cannot be used: use featherboards
         and push blocks, or a jig made for the cut, and put the guard back afterwards. In United States
         workplaces 29 CFR 1910.213(a)(15) requires them; elsewhere it is good practice. Local codes and
         the machine maker's instructions come first.
      -  Cutting up sheets and boards: guard and riving knife stay on, long pieces are supported on both
         sides of the blade, narrow strips are moved with a push stick, and nobody lifts a sheet alone
         that is too heavy for one. The saw maker's instructions and local codes come first; leave a cut
         that does not feel safe, and find another way to it.
      -  Wood dust harms lungs and burns: collect it at the machine, wear a fitting respirator for what
         is left, and wear eye and ear protection. The exposure limits of local codes hold; NIOSH
         recommends no more than 1 mg/m3. For symptoms ask a licensed physician.
      -  Panels are glued products: ask for ones that meet the formaldehyde limits of local codes
         (United States: TSCA Title VI, 40 CFR 770), and follow the panel maker's instructions for
         cutting and sealing.
      -  Glue and finish: follow their makers' instructions and safety sheets for ventilation,
         temperature, open and clamping time. Rags wet with drying oil can catch fire by themselves: dry
         them spread out or keep them under water, and throw them away as local codes say.
      -  These papers are an aid to someone who knows the work. Local codes, the instructions of machine
         and hardware makers and the judgement of licensed practice go before anything written here;
         check the first part of each row against the piece before cutting the rest.
    "#);
    insta::assert_snapshot!(ran.err, @"");
}

#[test]
fn what_to_mind_is_told_once() {
    for recipe in ["bench-drawers", "drawer-bank", "drawer-box", "face-frame"] {
        let ran = run(&["run", recipe]);
        for note in ["coarse thread in plywood", "the joints to be coated", "class by geometry", "drill clearance"] {
            assert!(ran.out.matches(note).count() <= 1, "{recipe}: {}", ran.out);
        }
        let heading = |heading: &str| ran.out.find(&format!("\n{heading}"));
        let settings = heading("Machine settings");
        assert!(settings.is_none() || settings < heading("Assembly"), "{}", ran.out);
    }
}

#[test]
fn a_recipe_without_parts_is_warned_of() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("functions.rhai"), "fn twice(n) { n * 2 }\n").unwrap();
    let ran = run_in(folder.path(), &["run", "functions.rhai", "--out", "papers"]);
    assert_eq!(ran.code, 0, "{}", ran.all());
    assert!(ran.err.contains("warning[no-parts]"), "{}", ran.err);
}

#[cfg(target_os = "linux")]
#[test]
fn a_place_where_nothing_can_be_made_is_named_as_it_was_typed() {
    let ran = run(&["run", "drawer-box", "--out", "/proc/papers"]);
    assert_eq!(ran.code, 3, "{}", ran.all());
    assert!(ran.err.contains("`/proc/papers` could not be written") && ran.err.contains("hint: "), "{}", ran.err);
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
    insta::assert_snapshot!(ran.out, @"
    drawer-box: 5 parts in 4 rows, of 2 stocks
    wrote 12 papers to jobs/box
      cut-list.csv                the parts to cut: mark, quantity, stock, exact and trade sizes, grain,
                                  banding and joinery
      hardware.csv                slides in pairs, screws by gauge and length, pulls, glue by area of
                                  joint, with what each is for
      edge-band.csv               band and lipping: edges, net length, allowance at each end, length and
                                  rolls to buy
      stock.csv                   sheets and boards to buy and to use, with what they cost, as the parts
                                  are laid out on them
      cutting-plan.csv            every cut in order: sheet, rip or crosscut, what the fence or stop is
                                  set to, what it makes and leaves
      offcuts.csv                 what is on the rack when the job is cut: new offcuts, and those of
                                  before that were not used; the next job reads it
      settings.csv                fence, stop and height settings, each with the marks of the parts to
                                  cut before it is changed
      fits.csv                    each fit: the gap as drawn, the gaps at which it works, worst and
                                  likely cases, the share expected to fit
      assembly.txt                steps, positions to mark out, diagonals for square, weights, notes and
                                  cautions as plain text
      job.json                    everything in one file for other programs, with a version and a
                                  published schema
      sheet-1.svg to sheet-2.svg  a drawing of each sheet: parts with mark, name and size, the cuts
                                  numbered in order, offcuts hatched; boards several to a page
    ");
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
