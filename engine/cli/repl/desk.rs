//! What a line of the REPL means, and what is answered. Knows no terminal.

use std::fmt::Write as _;
use std::path::Path;
use std::rc::Rc;

use casewright::base::{Unit, decimal_mm};
use casewright::diag::{Finding, Severity, has_errors, nearest};
use casewright::job::{self, Order, Outcome};
use casewright::model::{HardwareUnit, Value};
use casewright::plan::{Amount, Plan};
use casewright::script::{Evaluated, Recipe, Session, Sources, Workbench};
use casewright::world::Disk;

use super::changes::{Shown, same_parts, short_list};
use crate::cli::disk::{self, Sheet};
use crate::cli::inputs::{self, Values};
use crate::cli::order::{self, ShopRead, is_name};
use crate::cli::render::{self, ERROR, QUIET, counted, one_line, paint, tally, visible, wrapped};
use crate::cli::{fault, run, table};

/// A command of the REPL.
pub struct Command {
    /// Its word, with the colon.
    pub name: &'static str,
    /// How it is typed.
    pub usage: &'static str,
    /// What it does, in one line.
    pub about: &'static str,
    act: fn(&mut Desk, &str) -> String,
}

/// All commands, in the order in which help shows them.
pub const COMMANDS: [Command; 12] = [
    Command { name: ":inputs", usage: ":inputs", about: "the inputs with their values", act: |desk, _| desk.inputs() },
    Command { name: ":parts", usage: ":parts", about: "the whole cut list", act: |desk, _| desk.parts() },
    Command {
        name: ":bills",
        usage: ":bills",
        about: "hardware, edge band and what to buy",
        act: |desk, _| desk.bills(),
    },
    Command {
        name: ":findings",
        usage: ":findings",
        about: "everything that was found, with its place",
        act: |desk, _| desk.findings(),
    },
    Command {
        name: ":changes",
        usage: ":changes",
        about: "what the last change did to the parts",
        act: |desk, _| desk.changes(),
    },
    Command {
        name: ":write",
        usage: ":write DIR",
        about: "write the papers into a folder, all or none",
        act: Desk::write,
    },
    Command {
        name: ":open",
        usage: ":open RECIPE",
        about: "open another recipe, by file or built-in name",
        act: Desk::open,
    },
    Command {
        name: ":units",
        usage: ":units in|mm",
        about: "print and read sizes in inches or millimetres; what was typed keeps its size",
        act: Desk::units,
    },
    Command { name: ":undo", usage: ":undo", about: "take the last change back", act: |desk, _| desk.undo() },
    Command {
        name: ":redo",
        usage: ":redo",
        about: "make the change again that was taken back last",
        act: |desk, _| desk.redo(),
    },
    Command { name: ":help", usage: ":help", about: "what can be typed", act: |_, _| help() },
    Command {
        name: ":quit",
        usage: ":quit",
        about: "leave (Ctrl-D does it too)",
        act: |desk, _| {
            desk.ended = true;
            String::new()
        },
    },
];

/// The recipe at hand and everything that was set.
pub struct Desk {
    /// For lines that are evaluated without a recipe.
    bench: Workbench,
    shop: ShopRead,
    setup: Setup,
    past: Vec<Setup>,
    /// What was taken back, the last of it last; another change leaves nothing to make again.
    future: Vec<Setup>,
    outcome: Option<Outcome>,
    /// The plan before the last change, and the last one that came out.
    plans: (Option<Plan>, Option<Plan>),
    /// The names of the inputs, from the last run that told them all.
    names: Vec<String>,
    session: Session,
    width: usize,
    /// Whether it is time to leave.
    pub ended: bool,
}

/// What a change changes, and undo brings back.
#[derive(Clone, Default)]
struct Setup {
    recipe: Option<Rc<Opened>>,
    inputs: Vec<(String, String)>,
    units: Option<Unit>,
}

/// A recipe on a bench of its own: its imports are looked for from its own folder.
struct Opened {
    bench: Workbench,
    recipe: Recipe,
}

impl Desk {
    /// A desk without a recipe.
    pub fn new(bench: Workbench, units: Option<Unit>, shop: ShopRead, width: usize) -> Self {
        Self {
            bench,
            shop,
            setup: Setup { units, ..Setup::default() },
            past: Vec::new(),
            future: Vec::new(),
            outcome: None,
            plans: (None, None),
            names: Vec::new(),
            session: Session::default(),
            width,
            ended: false,
        }
    }

    /// Takes a line and gives the answer.
    pub fn take(&mut self, line: &str) -> String {
        let line = line.trim();
        if line.is_empty() {
            return String::new();
        }
        if line.starts_with(':') {
            return self.command(line);
        }
        match self.setting(line) {
            Some((name, value)) => {
                let (name, value) = (name.to_owned(), value.to_owned());
                self.set(&name, &value)
            }
            None => self.evaluate(line),
        }
    }

    /// Takes a text of one or more lines, as they are pasted, and gives the answers. Lines that belong together are taken
    /// together.
    pub fn take_all(&mut self, text: &str) -> String {
        let mut answers = String::new();
        let mut pending = String::new();
        for line in text.lines() {
            pending.push_str(line);
            if self.is_incomplete(&pending) {
                pending.push('\n');
                continue;
            }
            answers += self.take(&std::mem::take(&mut pending)).as_str();
            if self.ended {
                return answers;
            }
        }
        answers += self.take(&pending).as_str();
        answers
    }

    /// Whether a text of one or more lines wants more after its last.
    pub fn wants_more(&self, text: &str) -> bool {
        let mut pending = String::new();
        for line in text.lines() {
            pending.push_str(line);
            if self.is_incomplete(&pending) {
                pending.push('\n');
            } else {
                pending.clear();
            }
        }
        !pending.is_empty()
    }

    /// Whether a line wants more lines after it.
    pub fn is_incomplete(&self, line: &str) -> bool {
        let line = line.trim();
        !line.is_empty()
            && !line.starts_with(':')
            && self.setting(line).is_none()
            && self.session.is_incomplete(self.bench(), line)
    }

    /// Words that may stand where `word` begins, for completion: what to show, and what to put in.
    pub fn completions(&self, before: &str, word: &str) -> Vec<(String, String)> {
        let plain = |all: Vec<String>| all.into_iter().map(|each| (each.clone(), each)).collect::<Vec<_>>();
        let fits = |all: Vec<(String, String)>| {
            let mut all: Vec<_> = all.into_iter().filter(|(shown, _)| shown.starts_with(word)).collect();
            all.sort();
            all.dedup();
            all
        };
        if before.trim_start().starts_with(":open") {
            return fits(plain(casewright::script::library().iter().map(|each| each.name.to_owned()).collect()));
        }
        if before.trim_start().starts_with(":units") {
            return fits(plain(vec!["in".into(), "mm".into()]));
        }
        if before.trim().is_empty() && word.starts_with(':') {
            return fits(plain(COMMANDS.iter().map(|command| command.name.to_owned()).collect()));
        }
        let mut all = plain(self.bench().function_names());
        if let Some(recipe) = &self.setup.recipe {
            all.extend(plain(recipe.recipe.function_names()));
        }
        let names = self.names.iter();
        if before.trim().is_empty() {
            all.extend(names.map(|name| (name.clone(), format!("{name} = "))));
        } else {
            all.extend(names.map(|name| (name.clone(), name.clone())));
        }
        // Nobody calls an operator or a hidden function by its name.
        all.retain(|(shown, _)| is_name(shown) && !shown.starts_with('_'));
        fits(all)
    }

    /// Opens a recipe; the one at hand stays when that fails.
    pub fn open(&mut self, recipe: &str) -> String {
        if recipe.is_empty() {
            return complaint("there is no recipe to open", "write its file or built-in name: :open drawer-box");
        }
        let bench = Workbench::new(Disk);
        match order::open(&bench, recipe) {
            Err(findings) => render::findings(&findings, &bench.sources(), self.width),
            Ok(recipe) => {
                let opened = Opened { bench, recipe };
                let fresh = Setup { recipe: Some(Rc::new(opened)), inputs: Vec::new(), units: self.setup.units };
                let before = std::mem::replace(&mut self.setup, fresh);
                self.changed_from(before);
                self.start_anew();
                self.run()
            }
        }
    }

    fn command(&mut self, line: &str) -> String {
        let (name, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
        match COMMANDS.iter().find(|command| command.name == name) {
            Some(command) if command.usage == command.name && !rest.trim().is_empty() => {
                complaint(&format!("`{name}` takes nothing after it"), "")
            }
            Some(command) => (command.act)(self, rest.trim()),
            None => {
                let near = nearest(name, COMMANDS.iter().map(|command| command.name));
                let hint =
                    near.map_or_else(|| ":help lists the commands".into(), |near| format!("did you mean `{near}`?"));
                complaint(&format!("there is no command `{}`", one_line(name)), &hint)
            }
        }
    }

    /// A line that sets an input: its name and the value as it was typed.
    fn setting<'a>(&self, line: &'a str) -> Option<(&'a str, &'a str)> {
        let (name, value) = assignment(line)?;
        self.names.iter().any(|known| known == name).then_some((name, value))
    }

    fn set(&mut self, name: &str, value: &str) -> String {
        let before = self.setup.clone();
        self.setup.inputs.retain(|(other, _)| other != name);
        if !value.is_empty() {
            self.setup.inputs.push((name.to_owned(), value.to_owned()));
        }
        let Some(outcome) = self.outcome_now() else { return no_recipe() };
        let refused = refusals(&outcome, name);
        if !refused.is_empty() {
            // The recipe never saw the value, so nothing is learnt from this run but that.
            self.setup = before;
            let stays = self.value_of(name).map(|value| format!("`{name}` stays {value}\n")).unwrap_or_default();
            return self.told(&refused) + visible(&stays).as_str();
        }
        self.changed_from(before);
        self.take_over(outcome)
    }

    /// Keeps what was, so that it can be brought back. What was opened first is where taking back ends.
    fn changed_from(&mut self, before: Setup) {
        self.future.clear();
        if before.recipe.is_some() {
            self.past.push(before);
        }
    }

    /// Forgets what belongs to the recipe that was at hand before.
    fn start_anew(&mut self) {
        self.plans = (None, None);
        self.names.clear();
        self.session = Session::default();
    }

    /// The value that an input has now, as it is typed.
    fn value_of(&self, name: &str) -> Option<String> {
        let outcome = self.outcome.as_ref()?;
        let input = outcome.model.inputs.iter().find(|input| input.name == name)?;
        Some(input.value.typed(|length| outcome.model.printing.length(length)))
    }

    fn units(&mut self, unit: &str) -> String {
        let Some(unit) = Unit::from_short(unit) else {
            return complaint("the unit is `in` or `mm`", ":units mm");
        };
        let before = self.setup.clone();
        self.pin_lengths();
        self.setup.units = Some(unit);
        self.changed_from(before);
        if self.setup.recipe.is_some() { self.run() } else { String::new() }
    }

    /// Writes the unit to every length that was typed, so that a change of unit changes how it is printed, never what it is.
    fn pin_lengths(&mut self) {
        let Some(outcome) = &self.outcome else { return };
        for (name, typed) in &mut self.setup.inputs {
            let value =
                outcome.model.inputs.iter().find(|input| input.name == *name && input.given).map(|input| &input.value);
            if let Some(value @ (Value::Length(_) | Value::Lengths(_))) = value {
                *typed = value.typed(|length| format!("{} mm", decimal_mm(length)));
            }
        }
    }

    fn undo(&mut self) -> String {
        let Some(setup) = self.past.pop() else { return "nothing is left to take back\n".into() };
        let after = self.go_to(setup);
        self.future.push(after);
        self.run()
    }

    fn redo(&mut self) -> String {
        let Some(setup) = self.future.pop() else { return "nothing was taken back\n".into() };
        let before = self.go_to(setup);
        self.past.push(before);
        self.run()
    }

    /// Takes up another setup and gives the one that was.
    fn go_to(&mut self, setup: Setup) -> Setup {
        let was = std::mem::replace(&mut self.setup, setup);
        let same = match (&was.recipe, &self.setup.recipe) {
            (Some(was), Some(is)) => Rc::ptr_eq(was, is),
            _ => false,
        };
        if !same {
            self.start_anew();
        }
        was
    }

    /// Runs the recipe as it is set, and shows what came of it in short form.
    fn run(&mut self) -> String {
        match self.outcome_now() {
            Some(outcome) => self.take_over(outcome),
            None => no_recipe(),
        }
    }

    /// What comes of the recipe as it is set.
    fn outcome_now(&self) -> Option<Outcome> {
        let opened = self.setup.recipe.as_ref()?;
        let order = Order { inputs: &self.setup.inputs, units: self.setup.units, shop: &self.shop.shop };
        Some(job::run(&opened.bench, &opened.recipe, order))
    }

    /// Makes a run the one at hand, and shows it in short form.
    fn take_over(&mut self, outcome: Outcome) -> String {
        // A run that stopped at an error may not have come to all inputs; those that are known stay known.
        let all: Vec<String> = outcome.model.inputs.iter().map(|input| input.name.clone()).collect();
        if has_errors(&outcome.findings) {
            self.names.extend(all.into_iter().filter(|name| !self.names.contains(name)).collect::<Vec<_>>());
        } else {
            self.names = all;
        }
        let plan = outcome.plan.clone().filter(|_| !has_errors(&outcome.findings));
        if let Some(plan) = plan {
            self.plans = (self.plans.1.take(), Some(plan));
        }
        let text = self.short(&outcome);
        self.outcome = Some(outcome);
        text
    }

    /// What came of a run: the parts with what changed, the bills in a line each, the findings.
    fn short(&self, outcome: &Outcome) -> String {
        if has_errors(&outcome.findings) {
            let mut text = self.told(&outcome.findings);
            text += &tally(&outcome.findings);
            text += ": no cut list";
            text += if self.past.is_empty() { "\n" } else { " (the change stands; `:undo` takes it back)\n" };
            return text;
        }
        let Some(plan) = &outcome.plan else { return "nothing came of it\n".into() };
        let mut text = short_list(self.plans.0.as_ref(), plan, Shown::All, self.width);
        if self.plans.0.as_ref().is_some_and(|old| same_parts(old, plan)) {
            text += "no part has changed\n";
        }
        text += &bills_in_short(plan, self.width);
        for finding in &outcome.findings {
            let weight = if finding.severity == Severity::Warning { "warning" } else { "note" };
            let line = format!("{weight}[{}]: {}", finding.code, finding.message);
            let _ = writeln!(text, "{}", wrapped(&line, self.width));
        }
        if outcome.findings.iter().any(|finding| finding.hint.is_some()) {
            let _ = writeln!(text, "{}", paint(QUIET, "`:findings` tells where, and what would help"));
        }
        text
    }

    fn evaluate(&mut self, line: &str) -> String {
        let order = Order { inputs: &self.setup.inputs, units: self.setup.units, shop: &self.shop.shop };
        let opened = self.setup.recipe.clone();
        let bench = opened.as_ref().map_or(&self.bench, |opened| &opened.bench);
        let recipe = opened.as_ref().map(|opened| &opened.recipe);
        match self.session.evaluate(bench, recipe, order, line) {
            Evaluated::Value(value) => visible(&value) + "\n",
            Evaluated::Done => String::new(),
            Evaluated::Incomplete => complaint("the line is not finished", "close every bracket, brace and quote"),
            Evaluated::Failed(mut findings) => {
                let near = assignment(line).and_then(|(name, _)| nearest(name, self.names.iter().map(String::as_str)));
                if let (Some(near), Some(first)) = (near, findings.first_mut()) {
                    first.hint = Some(format!("did you mean the input `{near}`?"));
                }
                if let Some(finding) = findings.iter_mut().find(|finding| finding.code == "unknown-name")
                    && let Some(name) = finding.message.split('`').nth(1)
                    && self.recipe_text().is_some_and(|text| is_made_within(&text, name))
                {
                    finding.hint = Some(format!(
                        "the recipe makes `{name}` inside a loop, a condition or a function, and it is gone at its end"
                    ));
                }
                self.told(&findings)
            }
        }
    }

    fn inputs(&self) -> String {
        match &self.outcome {
            None => no_recipe(),
            Some(outcome) if outcome.model.inputs.is_empty() => "the recipe asks for nothing\n".into(),
            Some(outcome) => inputs::table(&outcome.model.inputs, outcome.model.printing, Values::Shown, self.width),
        }
    }

    fn parts(&self) -> String {
        self.with_plan(|plan| table::cut_list(&plan.cut_list, plan.printing, self.width))
    }

    fn bills(&self) -> String {
        self.with_plan(|plan| {
            [
                table::hardware(&plan.hardware, plan.printing, self.width),
                table::bands(&plan.bands, plan.printing, self.width),
                table::buying(&plan.buying, plan.printing, self.width),
            ]
            .concat()
        })
    }

    fn findings(&self) -> String {
        match &self.outcome {
            None => no_recipe(),
            Some(outcome) if outcome.findings.is_empty() => "nothing found\n".into(),
            Some(outcome) => format!("{}{}\n", self.told(&outcome.findings), tally(&outcome.findings)),
        }
    }

    fn changes(&self) -> String {
        match &self.plans {
            (Some(old), Some(new)) if !same_parts(old, new) => short_list(Some(old), new, Shown::Changed, self.width),
            (Some(_), Some(_)) => "no part has changed\n".into(),
            _ => "nothing has changed yet\n".into(),
        }
    }

    fn write(&mut self, folder: &str) -> String {
        if folder.is_empty() {
            return complaint("there is no folder to write to", "name one: :write papers");
        }
        let Some(outcome) = &self.outcome else { return no_recipe() };
        if outcome.plan.is_none() || has_errors(&outcome.findings) {
            return complaint("a job with errors has no papers", ":findings shows what is wrong");
        }
        let papers = match job::papers(outcome) {
            Ok(papers) => papers,
            Err(wrong) => return fault::told(&wrong.to_string()),
        };
        let sheets: Vec<Sheet<'_>> = papers.iter().map(Sheet::from).collect();
        match disk::write_all(Path::new(folder), &sheets) {
            Ok(()) => run::written(folder, &papers, self.width),
            Err(fault) => complaint(&fault.to_string(), &fault.hint),
        }
    }

    /// What the plan says, or why there is none.
    fn with_plan(&self, show: impl FnOnce(&Plan) -> String) -> String {
        match &self.outcome {
            None => no_recipe(),
            Some(outcome) => match outcome.plan.as_ref().filter(|_| !has_errors(&outcome.findings)) {
                Some(plan) => show(plan),
                None => complaint("a job with errors has no lists", ":findings shows what is wrong"),
            },
        }
    }

    /// The text of the recipe at hand.
    fn recipe_text(&self) -> Option<std::sync::Arc<str>> {
        let opened = self.setup.recipe.as_ref()?;
        let is_its = |file: &str| Path::new(file).file_stem().is_some_and(|stem| stem == opened.recipe.name());
        opened.bench.sources().into_iter().find(|(file, _)| is_its(file)).map(|(_, text)| text)
    }

    fn bench(&self) -> &Workbench {
        self.setup.recipe.as_ref().map_or(&self.bench, |opened| &opened.bench)
    }

    fn told(&self, findings: &[Finding]) -> String {
        let mut sources: Sources = self.bench().sources();
        sources.extend(self.shop.sources.clone());
        render::findings(findings, &sources, self.width)
    }
}

/// The errors about the value that was given to an input.
fn refusals(outcome: &Outcome, name: &str) -> Vec<Finding> {
    // The codes of `script::inputs` for a value that the input cannot have.
    const REFUSED: [&str; 2] = ["wrong-input", "input-out-of-range"];
    let input = outcome.model.inputs.iter().find(|input| input.name == name);
    let of_it = |finding: &&Finding| {
        REFUSED.contains(&finding.code) && input.is_some_and(|input| input.at.is_some() && input.at == finding.at)
    };
    outcome.findings.iter().filter(of_it).cloned().collect()
}

/// Whether a recipe makes a variable of this name inside braces, where it ends with them.
fn is_made_within(text: &str, name: &str) -> bool {
    let mut depth = 0_usize;
    text.lines().any(|line| {
        let code = line.split("//").next().unwrap_or_default();
        let words: Vec<&str> = code.split(|c: char| !(c.is_alphanumeric() || c == '_')).collect();
        let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
        let made = |word: &str| words.windows(2).any(|pair| pair == [word, name]);
        let within = made("for") || (made("let") && (depth > 0 || code.contains('{') && !code.contains("#{")));
        depth = (depth + code.matches('{').count()).saturating_sub(code.matches('}').count());
        within
    })
}

/// A line of the shape NAME = VALUE, which is not a comparison.
fn assignment(line: &str) -> Option<(&str, &str)> {
    let (name, value) = line.split_once('=')?;
    let name = name.trim();
    if !is_name(name) || value.starts_with(['=', '>']) || line.contains('\n') {
        return None;
    }
    // Who writes recipes ends lines with a semicolon out of habit.
    let value = value.trim();
    Some((name, value.strip_suffix(';').unwrap_or(value).trim_end()))
}

/// The bills in a line each.
fn bills_in_short(plan: &Plan, width: usize) -> String {
    let mut text = String::new();
    let mut line = |heading: &str, items: Vec<String>| {
        if !items.is_empty() {
            let _ = writeln!(text, "{}", wrapped(&format!("{heading}: {}", items.join("; ")), width));
        }
    };
    let hardware = plan.hardware.iter().filter(|row| row.unit != HardwareUnit::Area).map(|row| {
        let item = format!("{} {}", row.item, row.size);
        match row.unit {
            HardwareUnit::Pair => format!("{} of {}", count(row.quantity, "pair"), item.trim_end()),
            HardwareUnit::Each | HardwareUnit::Area => format!("{} {}", row.quantity, item.trim_end()),
        }
    });
    line("hardware", hardware.collect());
    let bands = plan.bands.iter().map(|row| format!("{} of {}", plan.printing.length(row.to_buy), row.band));
    line("edge band", bands.collect());
    let buying = plan.buying.iter().map(|row| match (row.to_buy, row.net) {
        (Some((sheets, ..)), Amount::Area(_)) => format!("{} of {}", count(sheets, "sheet"), row.stock),
        (Some((lengths, ..)), Amount::Board { .. }) => format!("{} of {}", count(lengths, "length"), row.stock),
        (None, _) => format!("{} of {}", table::amount(row.with_waste, plan.printing.unit), row.stock),
    });
    line("to buy", buying.collect());
    text
}

fn count(count: i64, word: &str) -> String {
    counted(usize::try_from(count).unwrap_or(0), word)
}

fn help() -> String {
    let lines: Vec<(&str, &str)> = super::lines().collect();
    let longest = lines.iter().map(|(line, _)| line.len()).max().unwrap_or(0);
    let shown = lines.iter().map(|(line, about)| format!("  {line:longest$}  {}", paint(QUIET, about)));
    shown.collect::<Vec<_>>().join("\n") + "\n"
}

fn complaint(message: &str, hint: &str) -> String {
    let hint = if hint.is_empty() { String::new() } else { format!("  hint: {}\n", visible(hint)) };
    format!("{}: {}\n{hint}", paint(ERROR, "error"), visible(message))
}

fn no_recipe() -> String {
    complaint("no recipe is open", ":open drawer-box, or another file or built-in name")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::table::tests::sample;
    use casewright::world::Memory;

    fn desk() -> Desk {
        Desk::new(Workbench::new(Memory::new()), None, ShopRead::default(), 100)
    }

    fn plain(text: &str) -> String {
        anstream::adapter::strip_str(text).to_string()
    }

    #[test]
    fn settings_and_expressions_are_told_apart() {
        for (line, expected) in [
            ("width = 16 7/8", Some(("width", "16 7/8"))),
            ("width=428mm;", Some(("width", "428mm"))),
            ("width =", Some(("width", ""))),
            ("width == 3", None),
            ("let x = 3", None),
            ("f(x) = 3", None),
            ("width", None),
            ("f = |x| {\n x }", None),
        ] {
            assert_eq!(assignment(line), expected, "{line}");
        }
        let mut desk = desk();
        desk.names = vec!["width".into()];
        assert!(desk.setting("width = 3").is_some());
        assert!(desk.setting("depth = 3").is_none());
    }

    #[test]
    fn variables_that_end_with_their_block_are_known() {
        let text = "let a = #{\n b: 1 };\nfor i in 0..3 {\n  let inner = i;\n}\nfn f() { let g = 1; g }\nlet last = 2;";
        for (name, within) in
            [("a", false), ("b", false), ("i", true), ("inner", true), ("g", true), ("last", false), ("x", false)]
        {
            assert_eq!(is_made_within(text, name), within, "{name}");
        }
    }

    #[test]
    fn without_a_recipe_every_command_still_answers() {
        for command in COMMANDS {
            let mut desk = desk();
            let answer = plain(&desk.take(command.name));
            assert!(!answer.is_empty() || command.name == ":quit", "{}", command.name);
            assert_eq!(desk.ended, command.name == ":quit");
        }
    }

    #[test]
    fn slips_are_told_with_what_was_meant() {
        let mut desk = desk();
        assert!(desk.take(":part").contains("did you mean `:parts`?"));
        assert!(desk.take(":banana").contains(":help lists the commands"));
        assert!(desk.take(":parts A1").contains("takes nothing after it"));
        assert!(desk.take(":units cubit").contains("`in` or `mm`"));
        assert_eq!(desk.take("   "), "");
    }

    #[test]
    fn completion_offers_what_may_stand_there() {
        let mut desk = desk();
        desk.names = vec!["width".into(), "wide".into()];
        assert_eq!(
            desk.completions("", "wid"),
            [("wide".into(), "wide = ".into()), ("width".into(), "width = ".into())]
        );
        assert_eq!(desk.completions("2 * ", "widt"), [("width".to_owned(), "width".to_owned())]);
        assert_eq!(desk.completions("", ":u"), [":undo", ":units"].map(|word| (word.to_owned(), word.to_owned())));
        assert_eq!(desk.completions(":units ", "m"), [("mm".to_owned(), "mm".to_owned())]);
    }

    #[test]
    fn bills_fit_a_line_each() {
        insta::assert_snapshot!(bills_in_short(&sample(), 100), @r#"
        hardware: 1 pair of side-mount ball-bearing slides 20"
        edge band: 44" of birch veneer band
        to buy: 1 sheet of 1/2 birch plywood
        "#);
    }
}
