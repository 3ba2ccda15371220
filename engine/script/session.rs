//! What the REPL keeps between lines.

use std::fmt::Write as _;

use rhai::{AST, Dynamic, Expr, LexError, ParseError, ParseErrorType, Scope, Stmt};

use super::{Order, Recipe, Workbench, faults, lint, show_value, spans, syntax};
use crate::diag::{Finding, has_errors};

/// The name that findings give a line of the REPL.
const LINE: &str = "line";

/// What the REPL keeps between lines: those that declared or changed something.
///
/// They are done again, after the recipe, before each new line: so a variable that was worked out from an input follows
/// when the input changes.
#[derive(Clone, Debug, Default)]
pub struct Session {
    lines: Vec<String>,
}

/// What became of a line of the REPL.
#[derive(Clone, Debug, PartialEq, Eq)]
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
    /// Evaluates a line with the recipe's functions, and the variables as a run of the recipe with `order` leaves them.
    ///
    /// Parts that a line makes are seen by that line only; they are not part of the job.
    pub fn evaluate(&mut self, bench: &Workbench, recipe: Option<&Recipe>, order: Order<'_>, line: &str) -> Evaluated {
        if self.is_incomplete(bench, line) {
            return Evaluated::Incomplete;
        }
        let mut scope = Scope::new();
        let mut state = State { functions: AST::empty(), imports: String::new() };
        match recipe {
            Some(recipe) => {
                let (finished, findings) = bench.run_in(recipe, order, &mut scope);
                if !finished && has_errors(&findings) && scope.is_empty() {
                    return Evaluated::Failed(findings);
                }
                state.keep(&recipe.ast);
            }
            None => bench.desk.borrow_mut().clear("", order),
        }
        for earlier in &self.lines {
            // A line that held once may fail with other inputs; what needs it will say so.
            let _ = state.run(bench, &mut scope, earlier);
        }
        match state.run(bench, &mut scope, line) {
            Ok((value, declares)) => {
                if declares {
                    self.lines.push(line.to_owned());
                }
                if value.is_unit() { Evaluated::Done } else { Evaluated::Value(show_value(&bench.engine, &value)) }
            }
            Err(findings) => Evaluated::Failed(findings),
        }
    }

    /// Whether a line wants more lines after it: a bracket, a text between backticks or a comment is open.
    pub fn is_incomplete(&self, bench: &Workbench, line: &str) -> bool {
        if open_comment(line) {
            return true;
        }
        let Some(error) = shape_error(bench, line) else { return false };
        let end = line.lines().count().max(1);
        let last = line.lines().last().unwrap_or("").chars().count();
        let position = error.position();
        let past_end = position.line().is_none_or(|at| at > end)
            || (position.line() == Some(end) && position.position().unwrap_or(0) > last);
        match error.err_type() {
            ParseErrorType::UnexpectedEOF => true,
            ParseErrorType::BadInput(LexError::UnterminatedString) => line.matches('`').count() % 2 == 1,
            ParseErrorType::ModuleUndefined(_) => syntax::unclosed(line).is_some(),
            _ => past_end,
        }
    }
}

/// What is wrong with the shape of a line, whatever its names stand for.
fn shape_error(bench: &Workbench, line: &str) -> Option<ParseError> {
    // More unknown names than a line that is typed can have.
    const NAMES: usize = 100;
    let mut scope = Scope::new();
    for _ in 0..NAMES {
        let error = bench.engine.compile_with_scope(&scope, line).err()?;
        let ParseErrorType::VariableUndefined(name) = error.err_type() else { return Some(error) };
        scope.push(name.clone(), ());
    }
    None
}

/// Functions and imports that a line can use.
struct State {
    functions: AST,
    imports: String,
}

impl State {
    fn keep(&mut self, ast: &AST) {
        self.functions = self.functions.merge(&ast.clone_functions_only());
        for line in ast.statements() {
            if let Stmt::Import(import, _) = line
                && let Expr::StringConstant(path, _) = &import.0
            {
                let _ = write!(self.imports, "import {path:?} as {}; ", import.1.name);
            }
        }
    }

    /// Runs one line; tells its value and whether it declared or changed something.
    fn run(&mut self, bench: &Workbench, scope: &mut Scope<'_>, line: &str) -> Result<(Dynamic, bool), Vec<Finding>> {
        let file: std::sync::Arc<str> = LINE.into();
        // Imports do not outlive a run, so they stand on a line of their own before this one.
        let text = format!("{}\n{line}", self.imports);
        bench.shelf.keep_source(&file, line);
        let shown = |findings: Vec<Finding>| -> Vec<Finding> {
            let mut findings: Vec<Finding> = findings.into_iter().map(one_line_up).collect();
            spans::fill(&mut findings, &bench.shelf.sources());
            findings
        };
        let ast = lint::compile_with(&bench.engine, &bench.desk, &file, &text, scope, Some(&self.functions))
            .map_err(shown)?;
        let whole = self.functions.clone_functions_only().merge(&ast);
        let before = scope.clone();
        bench.desk.borrow_mut().restart();
        match bench.engine.eval_ast_with_scope::<Dynamic>(scope, &whole) {
            Ok(value) => {
                let declares = ast.statements().iter().any(|line| {
                    matches!(line, Stmt::Var(..) | Stmt::Assignment(..)) || matches!(line, Stmt::Import(..))
                }) && (ast.statements().len() > self.imports.matches("import ").count());
                let declares = declares || ast.iter_functions().next().is_some();
                self.keep(&ast_without(&ast, self.imports.matches("import ").count()));
                Ok((value, declares))
            }
            Err(error) => {
                *scope = before;
                let desk = bench.desk.borrow();
                Err(shown(faults::findings(&error, &desk, &bench.shelf.sources(), Some(&ast), &bench.engine)))
            }
        }
    }
}

/// The AST without the import lines that were put before it.
fn ast_without(ast: &AST, imports: usize) -> AST {
    AST::new(ast.statements().iter().skip(imports).cloned().collect::<Vec<_>>(), ast.shared_lib().clone())
}

fn one_line_up(mut finding: Finding) -> Finding {
    for at in finding.at.iter_mut().chain(finding.through.iter_mut()) {
        if &*at.file == LINE {
            at.line = at.line.saturating_sub(1).max(1);
        }
    }
    finding
}

fn open_comment(text: &str) -> bool {
    let (mut depth, mut quote) = (0_usize, None);
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        match (quote, letter) {
            (Some(open), _) if letter == open => quote = None,
            (Some('"'), '\\') => {
                letters.next();
            }
            (None, '/') if letters.peek() == Some(&'*') => {
                letters.next();
                depth += 1;
            }
            (None, '*') if depth > 0 && letters.peek() == Some(&'/') => {
                letters.next();
                depth -= 1;
            }
            (None, '/') if depth == 0 && letters.peek() == Some(&'/') => {
                for rest in letters.by_ref() {
                    if rest == '\n' {
                        break;
                    }
                }
            }
            (None, '"' | '`') if depth == 0 => quote = Some(letter),
            _ => {}
        }
    }
    depth > 0
}
