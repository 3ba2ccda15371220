//! `casewright explain`: the story of a finding, joint, input kind or paper, from the registries that make them; that of
//! built-in recipes and of the catalog's hardware as well.

mod built_in;
mod hardware;
mod woods;

use casewright::catalog;
use casewright::checks::Check;
use casewright::diag::codes::Code;
use casewright::diag::did_you_mean;
use casewright::joints::{Joint, REFUSED_BY_ALL};
use casewright::model::{Hardware, InputKind, Kind, OptionSpec};
use casewright::papers::{DRAWINGS, Paper};
use casewright::script::functions::{FUNCTIONS, Function};
use casewright::script::{self, BuiltIn};
use clap::{Arg, ArgMatches};

use super::console::Console;
use super::exit::Exit;
use super::render::{HEADING, QUIET, paint};
use super::table::{Column, Group, section};
use super::{Command, Ran};

/// The story of the command.
pub const COMMAND: Command = Command {
    name: "explain",
    about: "Explain a finding, joint, recipe, function, input kind, paper or hardware; without a name, list them all",
    detail: "A finding is printed with its code in brackets: casewright explain shared-space\n\nA word of a joint's options \
             leads to the joint: casewright explain pocket screws",
    args: |command| {
        command.arg(
            Arg::new("code")
                .value_name("CODE")
                .num_args(0..)
                .help("The code of a finding, or the name of anything in the list"),
        )
    },
    run,
};

/// What can be explained.
#[derive(Clone, Debug)]
pub struct Story {
    /// The word it is asked for by.
    name: &'static str,
    /// Other words for the same: the functions that a built-in recipe gives to others.
    also: Vec<String>,
    /// Words of its options, which lead to it when nothing is called so.
    words: Vec<&'static str>,
    /// What sort of thing it is.
    sort: Sort,
    /// What it is, in one line.
    summary: String,
    /// The whole of it, in paragraphs.
    about: String,
    /// What is best read in columns.
    listings: Vec<Listing>,
    /// A recipe that shows it, whole.
    example: &'static str,
    /// What it rests on.
    source: &'static str,
}

impl Story {
    /// A story of nothing but what it is.
    fn new(sort: Sort, name: &'static str, summary: impl Into<String>) -> Self {
        Self {
            name,
            also: Vec::new(),
            words: Vec::new(),
            sort,
            summary: summary.into(),
            about: String::new(),
            listings: Vec::new(),
            example: "",
            source: "",
        }
    }
}

/// A table of a story.
#[derive(Clone, Debug)]
struct Listing {
    heading: String,
    columns: &'static [Column],
    rows: Vec<Vec<String>>,
    /// A sentence below it; empty when there is none.
    below: String,
}

const OPTIONS: [Column; 3] = [Column::words("option", 20), Column::words("takes", 36), Column::text("for")];
const CATALOG: [Column; 2] = [Column::words("name", 32), Column::text("sizes")];
const SIZES: [Column; 3] = [Column::words("what", 14), Column::words("size", 50), Column::text("for")];
const FACTS: [Column; 2] = [Column::words("of", 12), Column::text("what")];
const CODES: [Column; 2] = [Column::words("finding", 26), Column::text("the fault")];
const GIVEN: [Column; 3] = [Column::words("option", 20), Column::words("when left out", 40), Column::text("for")];

/// The sorts of things that can be explained, in the order in which they are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Sort {
    Finding,
    Joint,
    Function,
    InputKind,
    Paper,
    BuiltIn,
    Hardware,
}

impl Sort {
    const ALL: [Self; 7] =
        [Self::Finding, Self::Joint, Self::Function, Self::InputKind, Self::Paper, Self::BuiltIn, Self::Hardware];

    const fn one(self) -> &'static str {
        match self {
            Self::Finding => "finding",
            Self::Joint => "joint",
            Self::Function => "recipe function",
            Self::InputKind => "input kind",
            Self::Paper => "paper",
            Self::BuiltIn => "built-in recipe",
            Self::Hardware => "hardware",
        }
    }

    const fn many(self) -> &'static str {
        match self {
            Self::Finding => "Findings",
            Self::Joint => "Joints",
            Self::Function => "Recipe functions",
            Self::InputKind => "Input kinds",
            Self::Paper => "Papers",
            Self::BuiltIn => "Built-in recipes",
            Self::Hardware => "Hardware",
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
    stories.extend(InputKind::ALL.into_iter().map(|(_, name, takes)| Story::new(Sort::InputKind, name, takes)));
    stories.extend(papers.iter().map(|paper| Story::new(Sort::Paper, paper.file, paper.summary)));
    stories.extend(DRAWINGS.iter().map(|drawings| Story::new(Sort::Paper, drawings.file, drawings.summary)));
    stories.extend(script::library().iter().map(of_built_in));
    stories.extend(catalog::hardware_names().filter_map(catalog::hardware).map(of_hardware));
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
    let numbered = |pattern: &str| {
        let (before, after) = pattern.split_once('N').unwrap_or((pattern, ""));
        let number = file.strip_prefix(before).and_then(|rest| rest.strip_suffix(after));
        number.is_some_and(|number| number.bytes().all(|byte| byte.is_ascii_digit()))
    };
    let drawings = || DRAWINGS.iter().find(|drawings| numbered(drawings.file)).map_or("", |drawings| drawings.summary);
    paper(file).map_or_else(drawings, |paper| paper.summary)
}

type Registries = (&'static [Joint], &'static [Check], &'static [Code], &'static [Paper]);

fn registries() -> Registries {
    (casewright::joints::ALL, casewright::checks::ALL, casewright::diag::codes::ALL, casewright::papers::ALL)
}

fn of_check(check: &Check) -> Story {
    let story = Story::new(Sort::Finding, check.code, check.summary);
    Story { about: check.why.to_owned(), source: check.source, ..story }
}

fn of_code(code: &Code) -> Story {
    Story { about: code.about.to_owned(), ..Story::new(Sort::Finding, code.code, code.summary) }
}

fn of_joint(joint: &Joint) -> Story {
    Story {
        words: words(joint.options),
        about: joint.about.to_owned(),
        listings: vec![options(joint.options), facts(joint), refused(joint)],
        example: joint.example,
        source: joint.source,
        ..Story::new(Sort::Joint, joint.name, joint.summary)
    }
}

/// What a joint does to the parts, and what it needs.
fn facts(joint: &Joint) -> Listing {
    let row = |of: &str, what: &str| vec![of.to_owned(), what.to_owned()];
    let rows = vec![
        row("sizes", joint.changes),
        row("cuts", joint.leaves),
        row("needs", joint.needs),
        row("settings", joint.sets),
        row("proof", joint.promises),
        row("assembly", joint.assembly),
    ];
    Listing { heading: "What it does".to_owned(), columns: &FACTS, rows, below: String::new() }
}

/// What a joint refuses, each fault in one line.
fn refused(joint: &Joint) -> Listing {
    let (.., checks, codes, _) = registries();
    let told = |code: &str| {
        let story = codes.iter().find(|known| known.code == code).map(|known| known.summary);
        story.or_else(|| checks.iter().find(|known| known.code == code).map(|known| known.summary)).unwrap_or_default()
    };
    let all = joint.refuses.iter().chain(REFUSED_BY_ALL);
    let rows = all.map(|code| vec![(*code).to_owned(), told(code).to_owned()]).collect();
    let below = "`casewright explain CODE` says what to do about each.".to_owned();
    Listing { heading: "What it refuses".to_owned(), columns: &CODES, rows, below }
}

fn of_function(function: &Function) -> Story {
    // What a name may be is told where the name is asked for.
    let rows = match function.name {
        "stock" => by_rest(catalog::stock_names()),
        "slides" | "hardware" => catalog::hardware_names().map(|name| vec![name.to_owned()]).collect(),
        _ => Vec::new(),
    };
    let mut listing = Listing { heading: "In the catalog".to_owned(), columns: &CATALOG, rows, below: String::new() };
    if function.name == "movement" {
        listing = woods::listing();
    }
    Story {
        words: words(function.options),
        about: function.usage.to_owned(),
        listings: vec![options(function.options), listing],
        ..Story::new(Sort::Function, function.name, function.about.trim_end_matches('.'))
    }
}

fn of_built_in(recipe: &BuiltIn) -> Story {
    let name = recipe.name;
    let functions = built_in::functions(recipe.text);
    let mut about = built_in::heading(recipe);
    about += &format!(
        "\n\n`casewright inputs {name}` lists its inputs, and `casewright run {name}` makes it with their defaults."
    );
    if let Some(first) = functions.first() {
        about += &format!(
            "\n\nOther recipes build with it: `import \"{name}\" as made;` and then `made::{}(#{{ ... }})` with the options \
             below.",
            first.name
        );
    }
    let listings = functions
        .iter()
        .map(|function| Listing {
            heading: function.name.clone(),
            columns: &GIVEN,
            rows: function.options.iter().map(|option| option.to_vec()).collect(),
            below: match function.gives.as_str() {
                "" => String::new(),
                gives => format!("It gives back: {gives}."),
            },
        })
        .collect();
    Story {
        also: functions.iter().map(|function| function.name.clone()).collect(),
        about,
        listings,
        ..Story::new(Sort::BuiltIn, name, recipe.about())
    }
}

fn of_hardware(entry: &'static Hardware) -> Story {
    let rows = hardware::sizes(entry);
    Story {
        about: entry.note.clone(),
        listings: vec![Listing { heading: "Sizes".to_owned(), columns: &SIZES, rows, below: String::new() }],
        source: entry.source,
        ..Story::new(Sort::Hardware, &entry.name, hardware::summary(entry))
    }
}

/// The names of options and the words that they choose from, each word of them by itself as well.
fn words(options: &[OptionSpec]) -> Vec<&'static str> {
    let mut words: Vec<&'static str> = Vec::new();
    for option in options {
        words.push(option.name);
        if let Kind::Choice(choices) = option.kind {
            words.extend(choices.iter().flat_map(|choice| std::iter::once(*choice).chain(choice.split(' '))));
        }
    }
    words
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

fn options(options: &[OptionSpec]) -> Listing {
    let row = |option: &OptionSpec| {
        let left_out =
            if option.default.is_empty() { "must be given".to_owned() } else { format!("else {}", option.default) };
        let reason = if option.reason.is_empty() { String::new() } else { format!(" ({})", option.reason) };
        vec![
            option.name.to_owned(),
            format!("{}; {left_out}", option.kind.describe()),
            format!("{}{reason}", option.help),
        ]
    };
    let rows = options.iter().map(row).collect();
    Listing { heading: "Options".to_owned(), columns: &OPTIONS, rows, below: String::new() }
}

fn run(matches: &ArgMatches, console: &mut Console) -> Ran {
    let stories = stories();
    let typed = matches.try_get_many::<String>("code").ok().flatten().into_iter().flatten();
    let wanted = typed.map(String::as_str).collect::<Vec<_>>().join(" ");
    if wanted.is_empty() {
        console.say(&list(&stories, console.width))?;
        return Ok(Exit::Done);
    }
    // People copy the code with its brackets, or with the weight before it.
    let code = wanted.trim().trim_end_matches(':').trim_end_matches(']');
    let code = code.rsplit('[').next().unwrap_or(code);
    let found = called(&stories, code);
    if !found.is_empty() {
        for story in found {
            console.say(&whole(story, console.width))?;
        }
        return Ok(Exit::Done);
    }
    match &with_word(&stories, code)[..] {
        [] => {
            let known = stories.iter().flat_map(|story| {
                let also = story.also.iter().map(String::as_str);
                std::iter::once(story.name).chain(also).chain(story.words.iter().copied())
            });
            let hint = did_you_mean(code, known);
            let hint = hint.unwrap_or_else(|| "`casewright explain` lists everything that can be explained".into());
            return Err(console.usage(&format!("nothing here is called `{code}`"), &hint));
        }
        [only] => {
            console.say(&paint(QUIET, &format!("`{code}` is a word of the {} `{}`:\n", only.sort.one(), only.name)))?;
            console.say(&whole(only, console.width))?;
        }
        several => {
            let rows = several.iter().map(|story| vec![story.name.to_owned(), story.summary.clone()]).collect();
            let groups = [Group { heading: String::new(), rows }];
            console.say(&section(&format!("What has an option with `{code}`"), "", &NAMES, &groups, console.width))?;
        }
    }
    Ok(Exit::Done)
}

/// The stories of this name, else those that have it as another one.
fn called<'a>(stories: &'a [Story], name: &str) -> Vec<&'a Story> {
    let named: Vec<&Story> = stories.iter().filter(|story| story.name.eq_ignore_ascii_case(name)).collect();
    if !named.is_empty() {
        return named;
    }
    stories.iter().filter(|story| story.also.iter().any(|also| also.eq_ignore_ascii_case(name))).collect()
}

/// The stories with an option of this word; joints before functions, since a word of the trade is asked for most often.
fn with_word<'a>(stories: &'a [Story], word: &str) -> Vec<&'a Story> {
    let has = |story: &&Story| story.words.iter().any(|known| known.eq_ignore_ascii_case(word));
    let first = stories.iter().filter(has).map(|story| story.sort).min();
    stories.iter().filter(has).filter(|story| Some(story.sort) == first).collect()
}

/// Names with what they are. The widest name of the catalog fits on a line.
const NAMES: [Column; 2] = [Column::words("name", 34), Column::text("what it is")];

fn list(stories: &[Story], width: usize) -> String {
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
    section("What can be explained", "", &NAMES, &groups, width)
}

fn whole(story: &Story, width: usize) -> String {
    let mut text = format!("{}  {}\n\n", paint(HEADING, story.name), paint(QUIET, story.sort.one()));
    text += &paragraph(&story.summary, width);
    for about in story.about.split("\n\n") {
        text += &paragraph(about, width);
    }
    for listing in &story.listings {
        let groups = [Group { heading: String::new(), rows: listing.rows.clone() }];
        text += &section(&listing.heading, "", listing.columns, &groups, width);
        text += &paragraph(&listing.below, width);
    }
    if !story.example.is_empty() {
        text += &format!("{}\n", paint(HEADING, "Example"));
        for line in story.example.lines() {
            text += &format!("  {line}\n");
        }
        text.push('\n');
    }
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
            about: "It holds a shelf.\n\nIt is cut with a stack of blades or a router, to the thickness as measured."
                .into(),
            listings: vec![Listing {
                heading: "Options".into(),
                columns: &OPTIONS,
                rows: vec![vec!["depth".into(), "a length; else a third of the thickness".into(), "how deep".into()]],
                below: String::new(),
            }],
            source: "common practice, no source",
            ..Story::new(Sort::Joint, "dado", "a trench across the grain")
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

    #[test]
    fn words_of_options_lead_to_their_joint() {
        let stories = stories();
        for (word, joints) in [
            ("pocket screws", vec!["butt"]),
            ("pocket", vec!["butt"]),
            ("Screws", vec!["butt", "cleat"]),
            ("edge_distance", vec!["butt", "cleat", "hinge", "pin_holes"]),
        ] {
            assert!(called(&stories, word).is_empty(), "{word}");
            let names: Vec<&str> = with_word(&stories, word).iter().map(|story| story.name).collect();
            assert_eq!(names, joints, "{word}");
        }
        assert!(with_word(&stories, "glue").len() > 1);
        assert_eq!(called(&stories, "drawer_box")[0].name, "drawer-box");
        assert_eq!(called(&stories, "Side-Mount Slides")[0].sort, Sort::Hardware);
    }
}
