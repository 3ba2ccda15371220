//! Layer 4: recipes. The only place that names `rhai`.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::diag::Finding;
use crate::job::Order;
use crate::world::World;

/// The text of every file that was read, by the name that findings give it.
pub type Sources = BTreeMap<Arc<str>, Arc<str>>;

/// A built-in recipe.
#[derive(Clone, Copy, Debug)]
pub struct BuiltIn {
    /// Its name: `drawer-box`.
    pub name: &'static str,
    /// What it makes, in one line.
    pub about: &'static str,
    /// Its text.
    pub text: &'static str,
}

/// The built-in recipes, in order of name.
pub fn library() -> &'static [BuiltIn] {
    &[]
}

/// Where recipes are compiled and run: one engine and its modules. It cannot leave its thread; see [`on_script_thread`].
pub struct Workbench;

/// A compiled recipe.
pub struct Recipe;

impl Recipe {
    /// The recipe's name: the built-in name, or the file's name without its ending.
    pub fn name(&self) -> &str {
        ""
    }
    /// The names of the functions that the recipe itself defines, for completion.
    pub fn function_names(&self) -> Vec<String> {
        Vec::new()
    }
}

impl Workbench {
    /// A workbench that reads recipes from `world`.
    pub fn new(world: impl World + 'static) -> Self {
        let _ = world;
        Self
    }
    /// Opens a recipe by its built-in name or its file. The findings tell an unreadable file apart by the code `unreadable-file`.
    pub fn open(&self, recipe: &str) -> Result<Recipe, Vec<Finding>> {
        let _ = recipe;
        unimplemented!()
    }
    /// Compiles a recipe from its text.
    pub fn compile(&self, file: &str, text: &str) -> Result<Recipe, Vec<Finding>> {
        let _ = (file, text);
        unimplemented!()
    }
    /// The text of every file read so far, for findings that point into them.
    pub fn sources(&self) -> Sources {
        Sources::new()
    }
    /// The names of all functions that a recipe can call, for completion.
    pub fn function_names(&self) -> Vec<String> {
        Vec::new()
    }
}

/// What the REPL keeps between lines: the variables and functions that its lines made.
#[derive(Default)]
pub struct Session {}

/// What became of a line of the REPL.
#[derive(Clone, Debug)]
pub enum Evaluated {
    /// It has a value, printed.
    Value(String),
    /// It was done and has no value.
    Done,
    /// It is not finished: more lines are wanted.
    Incomplete,
    /// It failed; the session is as it was.
    Failed(Vec<Finding>),
}

impl Session {
    /// Evaluates a line with the recipe's functions, and the variables as the recipe's last run with `order` left them.
    pub fn evaluate(&mut self, bench: &Workbench, recipe: Option<&Recipe>, order: Order<'_>, line: &str) -> Evaluated {
        let _ = (bench, recipe, order, line);
        unimplemented!()
    }
    /// Whether a line wants more lines after it.
    pub fn is_incomplete(&self, bench: &Workbench, line: &str) -> bool {
        let _ = (bench, line);
        false
    }
}

/// Runs `work` on a thread whose stack is large enough for every script that keeps within the limits.
/// Everything that touches a [`Workbench`] happens in there.
pub fn on_script_thread<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    let _ = &work;
    unimplemented!()
}
