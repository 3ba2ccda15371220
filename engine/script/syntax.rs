//! Faults of syntax in the maker's words: what is missing or out of place, and what to write.

use std::sync::Arc;

use rhai::{LexError, ParseErrorType, Position};

use super::faults::unknown_name;
use super::place;
use crate::diag::{At, Finding};

/// A fault of syntax.
pub(super) fn finding(kind: &ParseErrorType, position: Position, text: &str, file: &Arc<str>) -> Finding {
    let line = position.line().unwrap_or(1);
    let at = place(file, position);
    let here = text.lines().nth(line - 1).unwrap_or("");
    let column = position.position().unwrap_or(1);
    let before: String = here.chars().take(column.saturating_sub(1)).collect();
    let past_end = line > text.trim_end().lines().count() || position.is_none();
    if past_end
        && matches!(kind, ParseErrorType::MissingToken(..) | ParseErrorType::UnexpectedEOF)
        && let Some((bracket, line, column)) = unclosed(text)
    {
        return Finding::error("syntax", format!("the `{bracket}` that opens here is never closed"))
            .at(Some(At::new(file.clone(), line, column)))
            .hint("close it where it ends; from here on every line was taken as inside it");
    }
    let word: String = here.chars().skip(column.saturating_sub(1)).take_while(|c| c.is_alphanumeric()).collect();
    let finding = match kind {
        ParseErrorType::VariableUndefined(name) => unknown_name(name, text, Some(line)),
        ParseErrorType::ModuleUndefined(name) => {
            Finding::error("unknown-name", format!("nothing is imported as `{name}`"))
                .hint(format!("write `import \"...\" as {name};` in the first lines of the recipe"))
        }
        ParseErrorType::BadInput(LexError::UnterminatedString)
            if before.trim_end().ends_with(|c: char| c.is_ascii_digit()) =>
        {
            Finding::error(
                "syntax",
                "the inch mark opens a text here, because a size in a recipe has its unit in letters",
            )
            .hint("write (16 + 7/8).inch, or `16-7/8\"` between backticks where a length is wanted")
        }
        ParseErrorType::BadInput(LexError::ImproperSymbol(sign, _)) if sign == "=" => {
            Finding::error("syntax", "`=` gives a variable its value and cannot stand here")
                .hint("to compare, write ==")
        }
        ParseErrorType::VariableExpected | ParseErrorType::FnMissingName if !word.is_empty() => {
            Finding::error("syntax", format!("`{word}` is a word of the language and cannot be a name"))
                .hint("choose another name")
        }
        ParseErrorType::BadInput(LexError::MalformedNumber(digits)) => {
            Finding::error("syntax", format!("`{digits}` is not a number that can be held exactly"))
                .hint("write fewer digits; nine decimal places are finer than any saw")
        }
        ParseErrorType::BadInput(LexError::UnterminatedString) => {
            Finding::error("syntax", "the text that begins here has no end")
                .hint("close it with the same kind of quote")
        }
        ParseErrorType::UnknownOperator(operator) if operator == "/=" => {
            Finding::error("syntax", "`/=` is not used in recipes").hint("write x = x / 2")
        }
        ParseErrorType::UnexpectedEOF => Finding::error("syntax", "the recipe ends in the middle of something")
            .hint("look for a bracket that is not closed"),
        ParseErrorType::MissingToken(token, what) => missing(token, what, &before, here, column),
        ParseErrorType::Reserved(word) => {
            Finding::error("syntax", format!("`{word}` is a word of the language and cannot be a name"))
                .hint("choose another name")
        }
        ParseErrorType::ExprTooDeep => Finding::error("recipe-too-deep", "brackets are nested too deeply here")
            .hint("work it out in steps, with variables"),
        ParseErrorType::TooManyFunctions => Finding::error("recipe-too-large", "the recipe defines too many functions"),
        ParseErrorType::LiteralTooLarge(what, most) => Finding::error(
            "recipe-too-large",
            format!("this is larger than a recipe may be: {} beyond {most}", what.to_lowercase()),
        ),
        ParseErrorType::PropertyExpected => {
            Finding::error("syntax", "the name of a property is expected after the point")
                .hint("`in` is a word of the language: write .inch")
        }
        ParseErrorType::DuplicatedProperty(name) => {
            Finding::error("syntax", format!("the option `{name}` is given twice"))
        }
        ParseErrorType::FnDuplicatedDefinition(name, _) => {
            Finding::error("syntax", format!("the function `{name}` is defined twice"))
        }
        ParseErrorType::AssignmentToConstant(name) => {
            Finding::error("constant-changed", format!("`{name}` is a constant and cannot be changed"))
                .hint("declare it with `let` instead of `const`")
        }
        other => {
            let text = other.to_string();
            Finding::error("syntax", lower_first(&text))
        }
    };
    finding.at(at)
}

/// The innermost bracket of a text that is never closed, with its line and column.
pub(super) fn unclosed(text: &str) -> Option<(char, u32, u32)> {
    let mut open: Vec<(char, u32, u32)> = Vec::new();
    let (mut line, mut column) = (1, 0);
    let mut inside = Inside::Code;
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        column += 1;
        let next = letters.peek().copied();
        inside = match (inside, letter) {
            (Inside::Line, '\n') => Inside::Code,
            (Inside::Code, '/') if next == Some('/') => Inside::Line,
            (Inside::Code, '/') if next == Some('*') => Inside::Comment,
            (Inside::Comment, '*') if next == Some('/') => Inside::Code,
            (Inside::Code, '"' | '`') => Inside::Text(letter),
            (Inside::Text(quote), _) if quote == letter => Inside::Code,
            (Inside::Text('"'), '\\') => {
                letters.next();
                column += 1;
                inside
            }
            (Inside::Code, '(' | '[' | '{') => {
                open.push((letter, line, column));
                inside
            }
            (Inside::Code, ')' | ']' | '}') => {
                open.pop();
                inside
            }
            _ => inside,
        };
        if letter == '\n' {
            (line, column) = (line + 1, 0);
        }
    }
    open.pop()
}

/// What a letter of a text stands in.
#[derive(Clone, Copy)]
enum Inside {
    Code,
    Line,
    Comment,
    Text(char),
}

fn missing(token: &str, what: &str, before: &str, here: &str, column: usize) -> Finding {
    let word: String = here.chars().skip(column.saturating_sub(1)).take_while(|c| c.is_alphanumeric()).collect();
    let digits = before.trim_end();
    if digits.ends_with(|c: char| c.is_ascii_digit())
        && ["mm", "cm", "m", "inch", "in", "ft", "feet", "foot"].contains(&word.as_str())
    {
        let unit = if word == "in" { "inch" } else { &word };
        let number: String = digits
            .chars()
            .rev()
            .take_while(|c| c.is_ascii_digit() || *c == '.')
            .collect::<Vec<_>>()
            .into_iter()
            .rev()
            .collect();
        return Finding::error("syntax", format!("the unit `{word}` is not joined to its number"))
            .hint(format!("write {number}.{unit}"));
    }
    let what = lower_first(what.trim_start_matches("to ").trim());
    let place = if before.trim().is_empty() { "at the end of the line before" } else { "here" };
    let finding = Finding::error("syntax", format!("`{token}` is missing {place}"));
    if what.is_empty() { finding } else { finding.hint(format!("`{token}` is needed to {what}")) }
}

fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().collect::<String>() + letters.as_str())
}
