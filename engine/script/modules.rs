//! Imports: from the built-in library and from the recipe's own folder, and from nowhere else.
//!
//! Importing a recipe gives its functions and constants; its other lines, which ask for inputs and make parts, do not run.

use std::cell::RefCell;
use std::collections::HashMap;
use std::path::{Component, Path, PathBuf};
use std::rc::Rc;
use std::sync::Arc;

use rhai::{AST, ASTFlags, Dynamic, Engine, EvalAltResult, Module, ModuleResolver, Position, Scope, Shared, Stmt};

use super::desk::DeskRef;
use super::{Sources, library, limits, lint, without_mark};
use crate::diag::{Finding, did_you_mean};
use crate::world::World;

type SharedModule = Shared<Module>;

/// Several findings at once, as an error value of the engine.
#[derive(Clone, Debug)]
pub(super) struct Faults(pub Vec<Finding>);

/// Compiled modules and the texts that were read.
pub(super) struct Shelf {
    world: Rc<dyn World>,
    root: RefCell<Option<PathBuf>>,
    modules: RefCell<HashMap<String, SharedModule>>,
    sources: RefCell<Sources>,
    loading: RefCell<Vec<String>>,
}

impl Shelf {
    pub fn new(world: Rc<dyn World>) -> Self {
        Self {
            world,
            root: RefCell::new(None),
            modules: RefCell::new(HashMap::new()),
            sources: RefCell::new(Sources::new()),
            loading: RefCell::new(Vec::new()),
        }
    }

    pub fn world(&self) -> &dyn World {
        &*self.world
    }

    /// The folder that imports of files are looked for in.
    pub fn set_root(&self, root: Option<PathBuf>) {
        *self.root.borrow_mut() = root;
    }

    /// Forgets modules that came from files, which may have changed; built-in ones stay.
    pub fn forget_files(&self) {
        self.modules.borrow_mut().retain(|name, _| is_built_in(name));
    }

    pub fn keep_source(&self, file: &Arc<str>, text: &str) {
        self.sources.borrow_mut().insert(file.clone(), text.into());
    }

    pub fn sources(&self) -> Sources {
        self.sources.borrow().clone()
    }
}

/// Files that import files that import files: more than any family of recipes needs.
const DEEPEST: usize = 20;

fn is_built_in(name: &str) -> bool {
    library().iter().any(|built_in| built_in.name == name)
}

/// Finds what a recipe imports.
pub(super) struct Resolver {
    shelf: Rc<Shelf>,
    desk: DeskRef,
}

impl Resolver {
    pub fn new(shelf: Rc<Shelf>, desk: DeskRef) -> Self {
        Self { shelf, desk }
    }

    fn load(&self, engine: &Engine, name: &str) -> Result<SharedModule, Vec<Finding>> {
        if let Some(module) = self.shelf.modules.borrow().get(name) {
            return Ok(module.clone());
        }
        if self.shelf.loading.borrow().iter().any(|loading| loading == name) {
            let chain =
                self.shelf.loading.borrow().iter().map(|one| format!("`{one}`")).collect::<Vec<_>>().join(" imports ");
            let finding = Finding::error("import-cycle", format!("{chain} imports `{name}` again"));
            return Err(vec![finding.hint("move what both need into a third file")]);
        }
        // To read and compile a file takes the engine no step, so that nothing else would stop a recipe of many large files.
        if limits::is_late(&self.desk.borrow()) {
            return Err(vec![limits::too_slow()]);
        }
        if self.shelf.loading.borrow().len() >= DEEPEST {
            let finding =
                Finding::error("recipe-too-deep", format!("files import each other more than {DEEPEST} deep"));
            return Err(vec![finding.hint("import what is needed in the recipe itself")]);
        }
        let (file, text) = self.text(name).map_err(|finding| vec![finding])?;
        let file: Arc<str> = file.into();
        let text = without_mark(&text);
        self.shelf.keep_source(&file, text);
        self.shelf.loading.borrow_mut().push(name.to_owned());
        let module = self.compile(engine, &file, text);
        self.shelf.loading.borrow_mut().pop();
        let module: SharedModule = module?.into();
        self.shelf.modules.borrow_mut().insert(name.to_owned(), module.clone());
        Ok(module)
    }

    fn compile(&self, engine: &Engine, file: &Arc<str>, text: &str) -> Result<Module, Vec<Finding>> {
        let ast = lint::compile(engine, &self.desk, file, text, &Scope::new())?;
        let kept: Vec<Stmt> = ast.statements().iter().filter_map(as_of_module).collect();
        let ast = AST::new_with_source(kept, ast.shared_lib().clone(), file.as_ref());
        Module::eval_ast_as_new(Scope::new(), &ast, engine).map_err(|error| {
            super::faults::findings(&error, &self.desk.borrow(), &self.shelf.sources(), Some(&ast), engine)
        })
    }

    fn text(&self, name: &str) -> Result<(String, String), Finding> {
        let root = self.shelf.root.borrow().clone();
        let beside = root.as_ref().map(|root| root.join(format!("{name}.rhai")));
        let exists = beside.as_ref().is_some_and(|path| self.shelf.world.true_path(path).is_ok());
        if let Some(built_in) = library().iter().find(|built_in| built_in.name == name) {
            if exists {
                let finding = Finding::error(
                    "import-twofold",
                    format!("`{name}` is a built-in recipe and a file in the recipe's folder"),
                );
                return Err(finding.hint("give the file another name"));
            }
            return Ok((library::file_name(name), built_in.text.to_owned()));
        }
        let plain = Path::new(name).components().all(|part| matches!(part, Component::Normal(_)));
        if !plain || name.contains('\\') || name.is_empty() {
            let finding = Finding::error("import-outside", format!("`{name}` does not lie in the recipe's folder"));
            return Err(finding.hint("import by a plain name, such as \"drawer-box\" or \"parts/legs\""));
        }
        let missing = || {
            let names = library().iter().map(|built_in| built_in.name);
            let hint =
                did_you_mean(name, names).map_or_else(String::new, |hint| format!("; of the built-in recipes, {hint}"));
            Finding::error("import-missing", format!("there is no recipe `{name}` to import"))
                .hint(format!("put `{name}.rhai` into the folder of the recipe{hint}"))
        };
        let (Some(root), Some(path)) = (root, beside) else { return Err(missing()) };
        let Ok(true_path) = self.shelf.world.true_path(&path) else { return Err(missing()) };
        if !true_path.starts_with(self.true_folder(&root)) {
            let finding = Finding::error("import-outside", format!("`{name}` leads out of the recipe's folder"));
            return Err(finding.hint("put the file itself into the folder"));
        }
        let text =
            self.shelf.world.read(&path, limits::SOURCE_BYTES).map_err(|error| {
                Finding::error("import-unreadable", format!("`{name}.rhai` cannot be read: {error}"))
            })?;
        Ok((path.display().to_string(), text))
    }

    /// A folder's true place; a world in memory has no folders, and its paths are true as they are.
    fn true_folder(&self, root: &Path) -> PathBuf {
        self.shelf.world.true_path(root).unwrap_or_else(|_| root.to_owned())
    }
}

/// A top-level line of an imported recipe as it is carried over: constants, which are seen from outside, and imports.
fn as_of_module(line: &Stmt) -> Option<Stmt> {
    match line {
        Stmt::Import(..) | Stmt::Export(..) => Some(line.clone()),
        Stmt::Var(named, flags, position) if flags.intersects(ASTFlags::CONSTANT) => {
            Some(Stmt::Var(named.clone(), *flags | ASTFlags::EXPORTED, *position))
        }
        _ => None,
    }
}

impl ModuleResolver for Resolver {
    fn resolve(
        &self,
        engine: &Engine,
        _source: Option<&str>,
        path: &str,
        position: Position,
    ) -> Result<SharedModule, Box<EvalAltResult>> {
        self.load(engine, path)
            .map_err(|faults| Box::new(EvalAltResult::ErrorRuntime(Dynamic::from(Faults(faults)), position)))
    }
}
