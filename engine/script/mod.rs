//! Layer 4: recipes. The only place that names `rhai`.
//!
//! A recipe describes; it never checks, plans or writes. [`Workbench`] compiles and runs recipes, one engine to a thread;
//! what a run leaves is a [`Drawn`] model and findings.

mod args;
mod desk;
mod faults;
pub mod functions;
mod hardware;
mod inputs;
mod joints;
mod library;
mod limits;
mod lint;
mod modules;
mod motion;
mod numbers;
mod obstacles;
mod parts;
mod serve;
mod session;
mod spans;
mod stock;
mod syntax;
mod words;

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fmt;
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::sync::Arc;

use rhai::{AST, Dynamic, Engine, Scope};

use crate::base::{Printing, Unit};
use crate::diag::{At, Finding, did_you_mean, has_errors};
use crate::model::{Model, Shop};
use crate::world::World;

use desk::{Desk, DeskRef};
pub use library::{BuiltIn, library};
pub use limits::on_script_thread;
pub use session::{Evaluated, Session};

/// The text of every file that was read, by the name that findings give it.
pub type Sources = BTreeMap<Arc<str>, Arc<str>>;

/// What a maker asks for: a recipe's inputs, and the shop that it is made in.
#[derive(Clone, Copy, Debug)]
pub struct Order<'a> {
    /// Inputs as they were typed, by name.
    pub inputs: &'a [(String, String)],
    /// The unit asked for; else the shop's, else the recipe's, else inches.
    pub units: Option<Unit>,
    /// The shop.
    pub shop: &'a Shop,
}

/// What a recipe drew.
#[derive(Clone, Debug)]
pub struct Drawn {
    /// The settled model with the inputs that were declared; its parts are complete only if `finished`.
    pub model: Model,
    /// Whether the recipe came to its end.
    pub finished: bool,
    /// What went wrong, and what the recipe had to say.
    pub findings: Vec<Finding>,
}

/// A compiled recipe.
#[derive(Clone, Debug)]
pub struct Recipe {
    name: String,
    about: String,
    ast: AST,
    declared: Vec<String>,
}

impl Recipe {
    /// The recipe's name: the built-in name, or the file's name without its ending.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The first line of its heading comment, without a full stop; empty when it has none.
    pub fn about(&self) -> &str {
        &self.about
    }

    /// The names of the functions that the recipe itself defines, for completion.
    pub fn function_names(&self) -> Vec<String> {
        let mut names: Vec<String> = self.ast.iter_functions().map(|function| function.name.to_owned()).collect();
        names.sort_unstable();
        names.dedup();
        names
    }
}

/// Where recipes are compiled and run: one engine and its modules. It cannot leave its thread; see [`on_script_thread`].
pub struct Workbench {
    engine: Engine,
    desk: DeskRef,
    shelf: Rc<modules::Shelf>,
}

impl fmt::Debug for Workbench {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Workbench").finish_non_exhaustive()
    }
}

impl Workbench {
    /// A workbench that reads recipes from `world`.
    pub fn new(world: impl World + 'static) -> Self {
        let desk: DeskRef = Rc::new(RefCell::new(Desk::default()));
        let shelf = Rc::new(modules::Shelf::new(Rc::new(world)));
        let mut engine = limits::engine(&desk);
        numbers::register(&mut engine, &desk);
        inputs::register(&mut engine, &desk);
        stock::register(&mut engine, &desk);
        parts::register(&mut engine, &desk);
        joints::register(&mut engine, &desk);
        hardware::register(&mut engine, &desk);
        motion::register(&mut engine, &desk);
        obstacles::register(&mut engine, &desk);
        serve::register(&mut engine, &desk);
        words::register(&mut engine, &desk);
        engine.set_module_resolver(modules::Resolver::new(shelf.clone(), desk.clone()));
        Self { engine, desk, shelf }
    }

    /// Opens a recipe by its built-in name or its file.
    ///
    /// # Errors
    /// Every fault that can be seen without running it. An unreadable file has the code `unreadable-file`.
    pub fn open(&self, recipe: &str) -> Result<Recipe, Vec<Finding>> {
        self.shelf.forget_files();
        if let Some(built_in) = library().iter().find(|built_in| built_in.name == recipe) {
            self.shelf.set_root(None);
            return self.compile_named(built_in.name, &library::file_name(built_in.name), built_in.text);
        }
        let path = Path::new(recipe);
        match self.shelf.world().read(path, limits::SOURCE_BYTES) {
            Ok(text) => {
                self.shelf.set_root(Some(folder_of(path)));
                let name =
                    path.file_stem().map_or_else(|| recipe.to_owned(), |stem| stem.to_string_lossy().into_owned());
                self.compile_named(&name, recipe, &text)
            }
            Err(error) => {
                let looks_like_file = recipe.contains(['/', '\\']) || path.extension().is_some();
                let hint = did_you_mean(recipe, library().iter().map(|built_in| built_in.name));
                let finding =
                    Finding::error("unreadable-file", format!("the recipe `{recipe}` cannot be read: {error}"));
                Err(vec![if looks_like_file {
                    finding
                        .hint("give the path of a recipe file, or the name of a built-in recipe (`casewright recipes`)")
                } else {
                    finding.maybe_hint(hint)
                }])
            }
        }
    }

    /// Compiles a recipe from its text. `file` is what findings call it; imports are looked for in its folder.
    ///
    /// # Errors
    /// Every fault that can be seen without running it.
    pub fn compile(&self, file: &str, text: &str) -> Result<Recipe, Vec<Finding>> {
        self.shelf.forget_files();
        let path = Path::new(file);
        self.shelf.set_root(Some(folder_of(path)));
        let name = path.file_stem().map_or_else(|| file.to_owned(), |stem| stem.to_string_lossy().into_owned());
        self.compile_named(&name, file, text)
    }

    /// Runs a compiled recipe.
    pub fn run(&self, recipe: &Recipe, order: Order<'_>) -> Drawn {
        let (finished, findings) = self.run_in(recipe, order, &mut Scope::new());
        let mut model = std::mem::replace(&mut self.desk.borrow_mut().model, Model::new("", Printing::default()));
        model.settle();
        Drawn { model, finished, findings }
    }

    /// The text of every file read so far, for findings that point into them.
    pub fn sources(&self) -> Sources {
        self.shelf.sources()
    }

    /// The names of all functions that a recipe can call, for completion.
    pub fn function_names(&self) -> Vec<String> {
        functions::names().map(str::to_owned).collect()
    }

    fn compile_named(&self, name: &str, file: &str, text: &str) -> Result<Recipe, Vec<Finding>> {
        let file: Arc<str> = file.into();
        let text = without_mark(text);
        self.shelf.keep_source(&file, text);
        let ast = lint::compile(&self.engine, &self.desk, &file, text, &Scope::new()).map_err(|mut findings| {
            spans::fill(&mut findings, &self.shelf.sources());
            findings
        })?;
        let declared = lint::declared_inputs(&ast);
        Ok(Recipe { name: name.to_owned(), about: library::about(text), ast, declared })
    }

    /// Runs a recipe and leaves its model on the desk; tells whether it came to its end, and what was found.
    fn run_in(&self, recipe: &Recipe, order: Order<'_>, scope: &mut Scope<'_>) -> (bool, Vec<Finding>) {
        self.desk.borrow_mut().clear(&recipe.name, order);
        let ended = self.engine.run_ast_with_scope(scope, &recipe.ast);
        let mut desk = self.desk.borrow_mut();
        let finished = ended.is_ok();
        if let Err(error) = ended {
            let stopped_by_inputs = faults::is_quiet_stop(&error);
            if !stopped_by_inputs {
                let found = faults::findings(&error, &desk, &self.shelf.sources(), Some(&recipe.ast), &self.engine);
                desk.findings.extend(found);
            }
        }
        desk.report_unknown_inputs(&recipe.declared);
        let finished = finished && !has_errors(&desk.findings);
        let mut findings = std::mem::take(&mut desk.findings);
        spans::fill(&mut findings, &self.shelf.sources());
        (finished, findings)
    }
}

/// How a job prints its lengths: the unit asked for, else the shop's, else the recipe's, else inches.
fn printing(order: Order<'_>) -> (Printing, bool) {
    let fixed = order.units.or(order.shop.units);
    (Printing { unit: fixed.unwrap_or(Unit::Inch), denominator: order.shop.denominator }, fixed.is_some())
}

/// The text without the byte order mark that some editors put before it.
fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// A value that a script can hold but not look into, turned to text for the REPL.
fn show_value(engine: &Engine, value: &Dynamic) -> String {
    let mut scope = Scope::new();
    scope.push("it", value.clone());
    engine
        .eval_with_scope::<String>(&mut scope, "`${it}`")
        .unwrap_or_else(|_| faults::type_word(value.type_name()).to_owned())
}

/// Where a script position lies.
fn place(file: &Arc<str>, position: rhai::Position) -> Option<At> {
    let line = u32::try_from(position.line()?).ok()?;
    let column = u32::try_from(position.position().unwrap_or(1)).ok()?;
    Some(At::new(file.clone(), line, column.max(1)))
}
