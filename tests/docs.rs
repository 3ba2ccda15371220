//! README, guides and every example run; the pages that are made from the registries are up to date.
//!
//! `UPDATE_DOCS=1 cargo test --test docs` writes the made pages anew.

// A test may unwrap: a failure there is its message.
#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::{Path, PathBuf};

use casewright::diag::{Severity, codes};
use casewright::job::{self, Order};
use casewright::model::{OptionSpec, Shop};
use casewright::script::{Workbench, functions, library, on_script_thread};
use casewright::world::Disk;
use casewright::{checks, joints};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

/// The recipes of a page: its blocks marked `rhai`.
fn recipes_in(page: &str) -> Vec<String> {
    let mut recipes = Vec::new();
    let mut open: Option<String> = None;
    for line in page.lines() {
        match (&mut open, line.trim_end()) {
            (None, "```rhai") => open = Some(String::new()),
            (Some(_), "```") => recipes.extend(open.take()),
            (Some(text), line) => {
                text.push_str(line);
                text.push('\n');
            }
            _ => {}
        }
    }
    recipes
}

#[test]
fn every_recipe_of_the_guide_gives_papers() {
    let page = fs::read_to_string(root().join("docs/recipes.md")).unwrap();
    let recipes = recipes_in(&page);
    assert!(recipes.len() >= 7, "the guide has lost its recipes");
    let shop = Shop::default();
    on_script_thread(|| {
        let bench = Workbench::new(Disk);
        for (number, text) in recipes.iter().enumerate() {
            let recipe =
                bench.compile("guide.rhai", text).unwrap_or_else(|findings| panic!("recipe {number}: {findings:#?}"));
            let outcome = job::run(&bench, &recipe, Order { inputs: &[], units: None, shop: &shop });
            assert!(outcome.plan.is_some(), "recipe {number} of the guide:\n{text}\n{:#?}", outcome.findings);
            assert!(job::papers(&outcome).unwrap().iter().all(|paper| !paper.bytes.is_empty()));
        }
    });
}

#[test]
fn every_built_in_recipe_and_example_gives_papers_without_a_warning() {
    let shop = Shop::default();
    let mut names: Vec<String> = library().iter().map(|built_in| built_in.name.to_owned()).collect();
    for entry in fs::read_dir(root().join("examples/print-studio")).unwrap().map(Result::unwrap) {
        if entry.path().extension().is_some_and(|ending| ending == "rhai") {
            names.push(entry.path().display().to_string());
        }
    }
    assert!(names.len() > library().len());
    on_script_thread(|| {
        let bench = Workbench::new(Disk);
        for name in &names {
            let recipe = bench.open(name).unwrap_or_else(|findings| panic!("{name}: {findings:#?}"));
            let outcome = job::run(&bench, &recipe, Order { inputs: &[], units: None, shop: &shop });
            assert!(outcome.plan.is_some(), "{name}: {:#?}", outcome.findings);
            let loud: Vec<_> = outcome.findings.iter().filter(|finding| finding.severity != Severity::Note).collect();
            assert!(loud.is_empty(), "{name}: {loud:#?}");
        }
    });
}

#[test]
fn the_reference_is_made_from_the_registries() {
    let page = reference();
    let path = root().join("docs/reference.md");
    if std::env::var_os("UPDATE_DOCS").is_some() {
        fs::write(&path, &page).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == page, "docs/reference.md is stale: run UPDATE_DOCS=1 cargo test --test docs");
}

#[test]
fn the_page_of_joints_is_made_from_the_registry() {
    let page = joint_page();
    let path = root().join("docs/joints.md");
    if std::env::var_os("UPDATE_DOCS").is_some() {
        fs::write(&path, &page).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == page, "docs/joints.md is stale: run UPDATE_DOCS=1 cargo test --test docs");
}

/// How a joint is added to a recipe; the rest of the page is made from the joints themselves.
const JOINT_PAGE: &str = "\
# The joints, and how to use them in a recipe

Made from the program's own tables; `casewright explain NAME` prints the same for one joint.

## How to add a joint to a recipe

1. Place both parts by what is seen of them: up to the face of the other part, without tongue or tenon. They must touch, face
   to face, to a thousandth of a millimetre; the joints that cross two parts say so below.
2. Choose a joint below by its first line, and write its name as a function: first the part that is fitted, then the options.
   The option that must be given, `into` or `to`, names the parts that it meets. Two joints look at a part by itself and may be
   told what is beside it: `notch` (`beside`) and `pin_holes` (`shelf`).

       dado(shelf, #{ into: [left, right] });

3. Run `casewright check recipe.rhai`. The joint lets its part grow, cuts the other parts, and brings glue, screws, settings
   and a sentence for assembly. What cannot be made is told with its line, its size and what would cure it.
4. Change an option where the usual does not suit. A size has its unit, `fit` is a word of the shop file (`\"snug\"`,
   `\"sliding\"`, `\"loose\"`) or a length, and every other option is listed with what holds when it is left out, and why.
5. Several parts that are fitted alike are one line: `dado([shelf, divider], #{ into: side });`. The steps of assembly stand in
   an order that was proved to go together, which is that of your joints wherever it works: ask for them as you would build.
6. Look at the part in the cut list (`casewright run recipe.rhai`): its size has grown by what goes in, and `joinery` tells each cut.

Every example below runs as it stands; the project's tests run them all, and hold the sizes and places of every cut.
";

fn joint_page() -> String {
    let mut page = JOINT_PAGE.to_owned();
    page += "\n## Which joint\n\n| joint | what it is |\n|---|---|\n";
    for joint in joints::ALL {
        page += &format!("| [`{0}`](#{0}) | {1} |\n", joint.name, joint.summary);
    }
    let every: Vec<String> = joints::REFUSED_BY_ALL.iter().map(|code| format!("`{code}`")).collect();
    page += &format!("\nEvery joint refuses {}; below stands what each refuses besides.\n", every.join(", "));
    for joint in joints::ALL {
        page += &format!("\n## {}\n\n{}.\n\n{}\n", joint.name, capital(joint.summary), joint.about);
        page += &format!("\n```rhai\n{}```\n", joint.example);
        page += "\n| option | takes | when left out | for | why |\n|---|---|---|---|---|\n";
        for option in joint.options {
            let default = if option.default.is_empty() { "must be given" } else { option.default };
            page += &format!(
                "| `{}` | {} | {default} | {} | {} |\n",
                option.name,
                option.kind.describe(),
                option.help,
                option.reason
            );
        }
        page += &format!("\n* Sizes: {}\n* Cuts: {}\n* Needs: {}\n", joint.changes, joint.leaves, joint.needs);
        page += &format!("* Settings: {}\n* Proof: {}\n", joint.sets, joint.promises);
        page += &format!("* Assembly: {}\n", joint.assembly);
        page += "* Refuses:";
        for code in joint.refuses {
            page += &format!(" `{code}` ({});", story(code));
        }
        page += &format!("\n\nSource: {}.\n", joint.source);
        page = page.replace(");\n\nSource", ").\n\nSource");
    }
    page
}

fn story(code: &str) -> &'static str {
    let told = codes::ALL.iter().find(|known| known.code == code).map(|known| known.summary);
    told.or_else(|| checks::ALL.iter().find(|known| known.code == code).map(|known| known.summary)).unwrap_or_default()
}

fn reference() -> String {
    let mut page = String::from(
        "# Reference: functions, joints, checks, findings\n\nMade from the program's own tables; `casewright explain NAME` prints the same.\n\n## Functions\n",
    );
    for function in functions::FUNCTIONS {
        page += &format!("\n### {}\n\n{}\n\n    {}\n", function.name, function.about, function.usage);
        page += &options(function.options);
    }
    page += "\n## Joints\n";
    for joint in joints::ALL {
        page += &format!(
            "\n### {}\n\n{}.\n\n{}\n\nSource: {}.\n",
            joint.name,
            capital(joint.summary),
            joint.about,
            joint.source
        );
        page += &options(joint.options);
    }
    page += "\n## Checks\n";
    for check in checks::ALL {
        page += &format!(
            "\n### {}\n\n{}.\n\n{}\n\nSource: {}.\n",
            check.code,
            capital(check.summary),
            check.why,
            check.source
        );
    }
    page += "\n## Other findings\n";
    for code in codes::ALL {
        page += &format!("\n### {}\n\n{}.\n\n{}\n", code.code, capital(code.summary), code.about);
    }
    page
}

fn options(options: &[OptionSpec]) -> String {
    if options.is_empty() {
        return String::new();
    }
    let mut table = String::from("\n| option | takes | when left out | for |\n|---|---|---|---|\n");
    for option in options {
        let default = if option.default.is_empty() { "must be given" } else { option.default };
        let reason = if option.reason.is_empty() { String::new() } else { format!(" ({})", option.reason) };
        table += &format!("| `{}` | {} | {default} | {}{reason} |\n", option.name, option.kind.describe(), option.help);
    }
    table
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + letters.as_str())
}
