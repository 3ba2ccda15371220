//! `casewright explain`: the story of a finding, joint, input kind or paper, from the registries that make them.

use casewright::catalog;
use casewright::checks::Check;
use casewright::diag::codes::Code;
use casewright::diag::did_you_mean;
use casewright::joints::Joint;
use casewright::model::{InputKind, OptionSpec};
use casewright::papers::Paper;
use casewright::script::functions::{FUNCTIONS, Function};
use clap::{Arg, ArgMatches};

use super::console::Console;
use super::exit::Exit;
use super::render::{HEADING, QUIET, paint};
use super::table::{Column, Group, section};
use super::{Command, Ran, order};

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "explain",
    about: "Explain a finding, joint, recipe function, input kind or paper; without a name, list them all",
    detail: "A finding is printed with its code in brackets: casewright explain shared-space",
    args: |command| {
        command
            .arg(Arg::new("code").value_name("CODE").help("The code of a finding, or the name of anything in the list"))
    },
    run,
};

/// What can be explained.
#[derive(Clone, Debug)]
pub struct Story {
    /// The word it is asked for by.
    name: &'static str,
    /// What sort of thing it is.
    sort: Sort,
    /// What it is, in one line.
    summary: String,
    /// The whole of it, in paragraphs.
    about: String,
    /// Its options, for a joint: name, what it takes and what holds when it is left out, help.
    options: Vec<[String; 3]>,
    /// Names of the catalog that it takes.
    catalog: Vec<Vec<String>>,
    /// What it rests on.
    source: &'static str,
}

/// The sorts of things that can be explained, in the order in which they are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Sort {
    Finding,
    Joint,
    Function,
    InputKind,
    Paper,
}

impl Sort {
    const ALL: [Self; 5] = [Self::Finding, Self::Joint, Self::Function, Self::InputKind, Self::Paper];

    const fn one(self) -> &'static str {
        match self {
            Self::Finding => "finding",
            Self::Joint => "joint",
            Self::Function => "recipe function",
            Self::InputKind => "input kind",
            Self::Paper => "paper",
        }
    }

    const fn many(self) -> &'static str {
        match self {
            Self::Finding => "Findings",
            Self::Joint => "Joints",
            Self::Function => "Recipe functions",
            Self::InputKind => "Input kinds",
            Self::Paper => "Papers",
        }
    }
}

/// Every story that the registries tell, by sort and name.
pub fn stories() -> Vec<Story> {
    let (joints, checks, codes, papers) = registries();
    let mut stories: Vec<Story> = Vec::new();
    stories.extend(checks.iter().map(of_check));
    stories.extend(codes.iter().map(of_code));
    stories.extend(joints.iter().map(of_joint));
    stories.extend(FUNCTIONS.iter().map(of_function));
    stories.extend(InputKind::ALL.into_iter().map(|(_, name, takes)| of_input_kind(name, takes)));
    stories.extend(papers.iter().map(of_paper));
    stories.sort_by_key(|story| (story.sort, story.name));
    stories
}

/// The paper that is written to a file of this name.
pub fn paper(file: &str) -> Option<&'static Paper> {
    let (.., papers) = registries();
    papers.iter().find(|paper| paper.file == file)
}

/// What a paper holds, in one line; nothing for a file that is no paper.
pub fn paper_summary(file: &str) -> &'static str {
    paper(file).map_or("", |paper| paper.summary)
}

type Registries = (&'static [Joint], &'static [Check], &'static [Code], &'static [Paper]);

fn registries() -> Registries {
    (casewright::joints::ALL, casewright::checks::ALL, casewright::diag::codes::ALL, casewright::papers::ALL)
}

fn of_check(check: &Check) -> Story {
    Story {
        name: check.code,
        sort: Sort::Finding,
        summary: check.summary.to_owned(),
        about: check.why.to_owned(),
        options: Vec::new(),
        catalog: Vec::new(),
        source: check.source,
    }
}

fn of_code(code: &Code) -> Story {
    Story {
        name: code.code,
        sort: Sort::Finding,
        summary: code.summary.to_owned(),
        about: code.about.to_owned(),
        options: Vec::new(),
        catalog: Vec::new(),
        source: "",
    }
}

fn of_joint(joint: &Joint) -> Story {
    Story {
        name: joint.name,
        sort: Sort::Joint,
        summary: joint.summary.to_owned(),
        about: joint.about.to_owned(),
        options: joint.options.iter().map(of_option).collect(),
        catalog: Vec::new(),
        source: joint.source,
    }
}

fn of_function(function: &Function) -> Story {
    // What a name may be is told where the name is asked for.
    let catalog = match function.name {
        "stock" => by_rest(catalog::stock_names()),
        "slides" | "hardware" => catalog::hardware_names().map(|name| vec![name.to_owned()]).collect(),
        _ => Vec::new(),
    };
    Story {
        name: function.name,
        sort: Sort::Function,
        summary: function.about.trim_end_matches('.').to_owned(),
        about: function.usage.to_owned(),
        options: function.options.iter().map(of_option).collect(),
        catalog,
        source: "",
    }
}

/// Names that differ in their size only, one row for all of them: what they are, and the sizes.
fn by_rest(names: impl Iterator<Item = &'static str>) -> Vec<Vec<String>> {
    let mut rows: Vec<(String, Vec<String>)> = Vec::new();
    for name in names {
        let is_size = |word: &&str| word.starts_with(|c: char| c.is_ascii_digit()) || matches!(*word, "mm" | "in");
        let sizes: Vec<&str> = name.split(' ').filter(is_size).collect();
        // A band's name ends in its width, so its place is kept.
        let rest: Vec<&str> = name.split(' ').map(|word| if is_size(&word) { ".." } else { word }).collect();
        let mut rest = rest.join(" ");
        while rest.contains(".. ..") {
            rest = rest.replace(".. ..", "..");
        }
        let size = sizes.join(" ");
        match rows.iter_mut().find(|(other, _)| *other == rest) {
            Some((_, sizes)) => sizes.push(size),
            None => rows.push((rest, vec![size])),
        }
    }
    rows.into_iter().map(|(rest, sizes)| vec![rest, sizes.join(", ")]).collect()
}

fn of_option(option: &OptionSpec) -> [String; 3] {
    let left_out =
        if option.default.is_empty() { "must be given".to_owned() } else { format!("else {}", option.default) };
    [option.name.to_owned(), format!("{}; {left_out}", option.kind.describe()), option.help.to_owned()]
}

fn of_input_kind(name: &'static str, takes: &'static str) -> Story {
    Story {
        name,
        sort: Sort::InputKind,
        summary: takes.to_owned(),
        about: String::new(),
        options: Vec::new(),
        catalog: Vec::new(),
        source: "",
    }
}

fn of_paper(paper: &Paper) -> Story {
    Story {
        name: paper.file,
        sort: Sort::Paper,
        summary: paper.summary.to_owned(),
        about: String::new(),
        options: Vec::new(),
        catalog: Vec::new(),
        source: "",
    }
}

fn run(matches: &ArgMatches, console: &mut Console) -> Ran {
    let stories = stories();
    let Some(wanted) = order::text(matches, "code") else {
        console.say(&list(&stories, console.width))?;
        return Ok(Exit::Done);
    };
    // People copy the code with its brackets, or with the weight before it.
    let code = wanted.trim().trim_end_matches(':').trim_end_matches(']');
    let code = code.rsplit('[').next().unwrap_or(code);
    let found: Vec<&Story> = stories.iter().filter(|story| story.name.eq_ignore_ascii_case(code)).collect();
    if found.is_empty() {
        let near = did_you_mean(code, stories.iter().map(|story| story.name));
        let hint = near.unwrap_or_else(|| "`casewright explain` lists everything that can be explained".into());
        return Err(console.usage(&format!("nothing here is called `{code}`"), &hint));
    }
    for story in found {
        console.say(&whole(story, console.width))?;
    }
    Ok(Exit::Done)
}

fn list(stories: &[Story], width: usize) -> String {
    const COLUMNS: [Column; 2] = [Column::words("name", 28), Column::text("what it is")];
    let groups: Vec<Group> = Sort::ALL
        .into_iter()
        .map(|sort| Group {
            heading: sort.many().to_owned(),
            rows: stories
                .iter()
                .filter(|story| story.sort == sort)
                .map(|story| vec![story.name.to_owned(), story.summary.clone()])
                .collect(),
        })
        .collect();
    section("What can be explained", "", &COLUMNS, &groups, width)
}

fn whole(story: &Story, width: usize) -> String {
    const COLUMNS: [Column; 3] = [Column::words("option", 20), Column::words("takes", 36), Column::text("for")];
    const CATALOG: [Column; 2] = [Column::words("name", 32), Column::text("sizes")];
    let mut text = format!("{}  {}\n\n", paint(HEADING, story.name), paint(QUIET, story.sort.one()));
    text += &paragraph(&story.summary, width);
    for about in story.about.split("\n\n") {
        text += &paragraph(about, width);
    }
    let rows = story.options.iter().map(|option| option.to_vec()).collect();
    text += &section("Options", "", &COLUMNS, &[Group { heading: String::new(), rows }], width);
    let groups = [Group { heading: String::new(), rows: story.catalog.clone() }];
    text += &section("In the catalog", "", &CATALOG, &groups, width);
    if !story.source.is_empty() {
        text += &paragraph(&format!("Source: {}", story.source), width);
    }
    text
}

/// A paragraph in lines of the width, with a blank line after it.
fn paragraph(text: &str, width: usize) -> String {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    if lines.is_empty() { String::new() } else { lines.join("\n") + "\n\n" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_story_is_told_once_and_whole() {
        let stories = stories();
        for story in &stories {
            assert!(!story.name.is_empty() && !story.summary.is_empty(), "{story:?}");
            if matches!(story.sort, Sort::Finding | Sort::Joint) {
                assert!(!story.about.is_empty(), "{story:?}");
            }
        }
        for pair in stories.windows(2) {
            assert!((pair[0].sort, pair[0].name) != (pair[1].sort, pair[1].name), "{} is told twice", pair[0].name);
        }
    }

    #[test]
    fn a_story_reads_from_the_name_to_the_source() {
        let story = Story {
            name: "dado",
            sort: Sort::Joint,
            summary: "a trench across the grain".into(),
            about: "It holds a shelf.\n\nIt is cut with a stack of blades or a router, to the thickness as measured."
                .into(),
            options: vec![["depth".into(), "a length; else a third of the thickness".into(), "how deep".into()]],
            catalog: Vec::new(),
            source: "common practice, no source",
        };
        insta::assert_snapshot!(anstream::adapter::strip_str(&whole(&story, 60)).to_string(), @r#"
        dado  joint

        a trench across the grain

        It holds a shelf.

        It is cut with a stack of blades or a router, to the
        thickness as measured.

        Options
          option  takes                                 for
          depth   a length; else a third of the         how deep
                  thickness

        Source: common practice, no source
        "#);
    }

    #[test]
    fn the_code_is_found_as_people_copy_it() {
        use super::super::console::tests::console;
        for typed in ["length", "LENGTH", "error[length]:", "[length]"] {
            let (mut console, out, _) = console();
            let matches = super::super::program().get_matches_from(["casewright", "explain", typed]);
            let ran = run(matches.subcommand().unwrap().1, &mut console);
            assert_eq!(ran, Ok(Exit::Done), "{typed}");
            assert!(out.text().starts_with("length  input kind"), "{}", out.text());
        }
        let (mut console, _, err) = console();
        let matches = super::super::program().get_matches_from(["casewright", "explain", "lenght"]);
        assert_eq!(run(matches.subcommand().unwrap().1, &mut console), Err(Exit::Usage));
        assert!(err.text().contains("did you mean `length`?"), "{}", err.text());
    }
}
