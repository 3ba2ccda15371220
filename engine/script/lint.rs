//! Compiles a text and finds every slip that can be seen without running it: unknown functions, unknown options.

use std::collections::BTreeSet;
use std::sync::Arc;

use rhai::{AST, ASTNode, Engine, Expr, FnCallExpr, Position, Scope, Stmt};

use super::desk::DeskRef;
use super::{args, functions, limits, place, syntax};
use crate::diag::{At, Finding, nearest};

/// Compiles `text`, and notes where the options of its calls stand.
///
/// # Errors
/// One fault of syntax, or every unknown function and option.
pub(super) fn compile(
    engine: &Engine,
    desk: &DeskRef,
    file: &Arc<str>,
    text: &str,
    scope: &Scope<'_>,
) -> Result<AST, Vec<Finding>> {
    compile_with(engine, desk, file, text, scope, None)
}

/// The same, with functions that are defined elsewhere.
pub(super) fn compile_with(
    engine: &Engine,
    desk: &DeskRef,
    file: &Arc<str>,
    text: &str,
    scope: &Scope<'_>,
    elsewhere: Option<&AST>,
) -> Result<AST, Vec<Finding>> {
    if text.len() as u64 > limits::SOURCE_BYTES {
        let finding =
            Finding::error("recipe-too-large", format!("a recipe may have {} KB of text", limits::SOURCE_BYTES >> 10));
        return Err(vec![finding.at(Some(At::new(file.clone(), 1, 1)))]);
    }
    let mut ast = engine
        .compile_with_scope(scope, text)
        .map_err(|error| vec![syntax::finding(error.err_type(), error.position(), text, file)])?;
    ast.set_source(file.as_ref());
    let findings = walk(engine, desk, file, &ast, elsewhere);
    if findings.is_empty() { Ok(ast) } else { Err(findings) }
}

/// The names of inputs that the text declares by a plain `input("name", ...)`.
pub(super) fn declared_inputs(ast: &AST) -> Vec<String> {
    let mut names = Vec::new();
    for_each_call(ast, |call, _| {
        if call.name == "input"
            && let Some(Expr::StringConstant(name, _)) = call.args.first()
        {
            names.push(name.to_string());
        }
    });
    names
}

/// More slips than this are one slip seen many times, and to look for what each of them meant takes its time.
const MOST_FAULTS: usize = 50;

/// Functions that the engine knows without having them.
const WORDS: [&str; 9] = ["call", "curry", "is_shared", "type_of", "print", "debug", "Fn", "is_def_var", "is_def_fn"];

fn walk(engine: &Engine, desk: &DeskRef, file: &Arc<str>, ast: &AST, elsewhere: Option<&AST>) -> Vec<Finding> {
    let engine_names = desk.borrow_mut().engine_functions(engine);
    let own: BTreeSet<&str> = [Some(ast), elsewhere]
        .into_iter()
        .flatten()
        .flat_map(AST::iter_functions)
        .map(|function| function.name)
        .chain(WORDS)
        .collect();
    let mut findings = Vec::new();
    if let Some(position) = first_this(ast) {
        let finding = Finding::error("not-in-recipes", "`this` is not for recipes").at(place(file, position));
        findings.push(finding.hint("hand the value in as an argument, and give the new one back"));
    }
    let mut desk = desk.borrow_mut();
    for_each_call(ast, |call, position| {
        if findings.len() >= MOST_FAULTS {
            return;
        }
        let name = call.name.as_str();
        let at = place(file, position);
        if call.args.len() > limits::CALL_ARGUMENTS {
            let message =
                format!("a call may have {} arguments; this one has {}", limits::CALL_ARGUMENTS, call.args.len());
            findings.push(Finding::error("recipe-too-large", message).at(at).hint("hand them over as a list"));
            return;
        }
        if call.is_operator_call() || !name.starts_with(|c: char| c.is_alphabetic() || c == '_') {
            return;
        }
        let imported = !call.namespace.is_empty();
        if !imported && !own.contains(name) && !engine_names.contains(name) {
            let known: BTreeSet<&str> = own.iter().copied().chain(engine_names.iter().map(String::as_str)).collect();
            let hint = nearest(name, known).map(|near| format!("did you mean `{near}`?"));
            findings.push(
                Finding::error("unknown-function", format!("there is no function `{name}`")).at(at).maybe_hint(hint),
            );
            return;
        }
        let Some((keys, at)) = call.args.last().and_then(|last| map_keys(last, file)).zip(at) else { return };
        if let Some(options) = functions::options_of(name).filter(|_| !imported) {
            for (key, key_at) in &keys {
                if !options.iter().any(|option| option.name == key) {
                    let finding = args::unknown_option(name, key, options.iter().map(|option| option.name));
                    findings.push(finding.at(Some(key_at.clone())));
                }
            }
        }
        desk.key_places.insert((at.file, at.line, at.column), keys);
    });
    findings
}

fn map_keys(argument: &Expr, file: &Arc<str>) -> Option<Vec<(String, At)>> {
    let Expr::Map(entries, _) = argument else { return None };
    Some(entries.0.iter().filter_map(|(key, _)| Some((key.name.to_string(), place(file, key.pos)?))).collect())
}

fn for_each_call(ast: &AST, mut visit: impl FnMut(&FnCallExpr, Position)) {
    ast.walk(&mut |path: &[ASTNode<'_>]| {
        match path.last() {
            Some(ASTNode::Expr(Expr::FnCall(call, position) | Expr::MethodCall(call, position))) => {
                visit(call, *position);
            }
            Some(ASTNode::Stmt(Stmt::FnCall(call, position))) => visit(call, *position),
            _ => {}
        }
        true
    });
}

/// The first `this` of a text: a function that changes what it is called on hides where a size comes from, and the limits of
/// what a list may hold.
fn first_this(ast: &AST) -> Option<Position> {
    let mut found = None;
    ast.walk(&mut |path: &[ASTNode<'_>]| {
        if let Some(ASTNode::Expr(Expr::ThisPtr(position))) = path.last() {
            found = Some(*position);
        }
        found.is_none()
    });
    found
}
