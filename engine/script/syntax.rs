//! Faults of syntax in the maker's words: what is missing or out of place, and what to write.
//!
//! The engine names the sign that it missed; where a bracket was forgotten, or an option's `#`, that is seldom the slip itself.
//! So each fault is first looked at in the text, and no word of the engine's own reaches the maker.

use std::sync::Arc;

use rhai::{LexError, ParseErrorType, Position};

use super::faults::unknown_name;
use super::place;
use crate::diag::{At, Finding};

/// Words that begin a line of a recipe, so that what came before must have ended.
pub(super) const BEGINNINGS: [&str; 9] = ["let", "const", "fn", "for", "if", "while", "loop", "return", "import"];

/// A fault of syntax.
pub(super) fn finding(kind: &ParseErrorType, position: Position, text: &str, file: &Arc<str>) -> Finding {
    let spot = Spot::new(text, position);
    let past_end = spot.line > text.trim_end().lines().count() || position.is_none();
    if past_end
        && matches!(kind, ParseErrorType::MissingToken(..) | ParseErrorType::UnexpectedEOF)
        && let Some((bracket, line, column)) = unclosed(text)
    {
        return Finding::error("syntax", format!("the `{bracket}` that opens here is never closed"))
            .at(Some(At::new(file.clone(), line, column)))
            .hint("close it where it ends; from here on every line was taken as inside it");
    }
    if let Some((finding, open)) = spot.without_hash() {
        return finding.at(Some(At::new(file.clone(), open.line, open.column)));
    }
    let finding = spot.number(kind).or_else(|| spot.bracket(kind)).unwrap_or_else(|| told(kind, &spot));
    finding.at(place(file, position))
}

fn told(kind: &ParseErrorType, spot: &Spot<'_>) -> Finding {
    let syntax = |message: &str| Finding::error("syntax", message);
    let word = word_at(spot.rest);
    match kind {
        ParseErrorType::BadInput(fault) => unreadable(fault, spot),
        ParseErrorType::VariableUndefined(name) => unknown_name(name, spot.text, Some(spot)),
        ParseErrorType::ModuleUndefined(name) => {
            Finding::error("unknown-name", format!("nothing is imported as `{name}`"))
                .hint(format!("write `import \"...\" as {name};` in the first lines of the recipe"))
        }
        ParseErrorType::FnMissingName | ParseErrorType::VariableExpected
            if !word.starts_with(|c: char| c.is_alphabetic() || c == '_') =>
        {
            syntax("a name is missing here").hint("a name begins with a letter, and has letters, digits and _")
        }
        ParseErrorType::VariableExpected | ParseErrorType::FnMissingName => no_name(word),
        ParseErrorType::Reserved(word) => {
            if word.starts_with(char::is_alphabetic) {
                no_name(word)
            } else {
                unreadable(&LexError::UnexpectedInput(word.clone()), spot)
            }
        }
        ParseErrorType::ForbiddenVariable(name) => no_name(name),
        ParseErrorType::UnknownOperator(operator) if operator == "/=" => {
            syntax("`/=` is not used in recipes").hint("write x = x / 2")
        }
        ParseErrorType::UnknownOperator(operator) => {
            syntax(&format!("`{operator}` is no sign of the language")).hint("write + - * / or a comparison")
        }
        ParseErrorType::UnexpectedEOF => {
            syntax("the recipe ends in the middle of something").hint("look for a bracket that is not closed")
        }
        ParseErrorType::MissingToken(token, what) => missing(token, what, spot),
        ParseErrorType::ExprTooDeep => Finding::error("recipe-too-deep", "brackets are nested too deeply here")
            .hint("work it out in steps, with variables"),
        ParseErrorType::TooManyFunctions => Finding::error("recipe-too-large", "the recipe defines too many functions"),
        ParseErrorType::LiteralTooLarge(what, most) => {
            let what = if what.to_lowercase().contains("string") { "this text is longer" } else { "this is larger" };
            Finding::error("recipe-too-large", format!("{what} than a recipe may hold, which is {most}"))
        }
        ParseErrorType::PropertyExpected if spot.before.trim_end().ends_with('.') => {
            syntax("a unit or a name is expected after the point").hint("`in` is a word of the language: write .inch")
        }
        ParseErrorType::PropertyExpected => {
            syntax("the name of an option is expected here").hint("options are written #{ name: value, name: value }")
        }
        ParseErrorType::DuplicatedProperty(name) => syntax(&format!("the option `{name}` is given twice")),
        ParseErrorType::FnDuplicatedDefinition(name, _) => syntax(&format!("the function `{name}` is defined twice")),
        ParseErrorType::DuplicatedVariable(name) | ParseErrorType::VariableExists(name) => {
            syntax(&format!("the name `{name}` is used twice here")).hint("give each its own name")
        }
        ParseErrorType::FnDuplicatedParam(function, name) => {
            syntax(&format!("the function `{function}` takes two values called `{name}`"))
                .hint("give each its own name")
        }
        ParseErrorType::FnMissingParams(name) => syntax(&format!("the brackets after `fn {name}` are missing"))
            .hint(format!("write fn {name}() {{ ... }}, with the names that it takes between the brackets")),
        ParseErrorType::FnMissingBody(name) => syntax(&format!("what the function `{name}` does is missing"))
            .hint("it stands between { and } after the names that the function takes"),
        ParseErrorType::WrongFnDefinition => {
            syntax("a function cannot be defined inside other lines").hint("move it out of the { } round it")
        }
        ParseErrorType::WrongDocComment => {
            syntax("a comment with three strokes belongs to a function").hint("write // for a plain comment")
        }
        ParseErrorType::WrongExport => {
            syntax("`export` cannot stand here").hint("a recipe's functions and constants can be imported without it")
        }
        ParseErrorType::LoopBreak => {
            syntax(&format!("`{}` stands in no loop", if word.is_empty() { "break" } else { word }))
                .hint("it ends or goes on with a `for`, `while` or `loop` round it")
        }
        ParseErrorType::AssignmentToConstant(name) if !name.is_empty() => {
            Finding::error("constant-changed", format!("`{name}` is a constant and cannot be changed"))
                .hint("declare it with `let` instead of `const`")
        }
        ParseErrorType::AssignmentToInvalidLHS(_) | ParseErrorType::AssignmentToConstant(_) => {
            syntax("what stands before `=` cannot be given a value")
                .hint("only a variable can, or an option of one: let width = 3.mm; to compare, write ==")
        }
        ParseErrorType::MalformedIndexExpr(_) => {
            syntax("an item of a list is taken by its number, an option by its name")
                .hint("write list[0] for the first item, and options.width for an option")
        }
        ParseErrorType::MismatchedType(wanted, _) if wanted.contains("boolean") => {
            Finding::error("wrong-kind", "a condition is needed here")
                .hint("write a comparison, such as width > 12.inch")
        }
        ParseErrorType::MismatchedType(..) => Finding::error("wrong-kind", "a list is needed here")
            .hint("write `for i in 0..count { ... }` or `for item in list { ... }`"),
        ParseErrorType::ExprExpected(_) => syntax("a value is missing here").hint("write a number, a length or a name"),
        ParseErrorType::WrongSwitchIntegerCase
        | ParseErrorType::WrongSwitchDefaultCase
        | ParseErrorType::WrongSwitchCaseCondition => syntax("this case of `switch` cannot stand here")
            .hint("`_`, for all other values, comes last and has no `if`"),
        _ => syntax("this cannot be read").hint("look at what stands just before it"),
    }
}

fn no_name(word: &str) -> Finding {
    let small = word.to_lowercase();
    if small != word && BEGINNINGS.contains(&small.as_str()) {
        return Finding::error("syntax", format!("`{word}` cannot stand here"))
            .hint(format!("did you mean `{small}`? Words of the language are written small"));
    }
    Finding::error("syntax", format!("`{word}` is a word of the language and cannot be a name"))
        .hint("choose another name")
}

/// What the engine could not even split into words and signs.
fn unreadable(fault: &LexError, spot: &Spot<'_>) -> Finding {
    let syntax = |message: String| Finding::error("syntax", message);
    match fault {
        LexError::UnterminatedString if spot.before.trim_end().ends_with(|c: char| c.is_ascii_digit()) => {
            syntax("the inch mark opens a text here, because a size in a recipe has its unit in letters".into())
                .hint("write (16 + 7/8).inch, or `16-7/8\"` between backticks where a length is wanted")
        }
        LexError::UnterminatedString => {
            syntax("the text that begins here has no end".into()).hint("close it with the same kind of quote")
        }
        LexError::MalformedChar(_) => {
            syntax("a text stands between double quotes".into()).hint("write \"left\", not 'left'")
        }
        LexError::MalformedNumber(digits) => syntax(format!("`{digits}` is not a number that can be held exactly"))
            .hint("write fewer digits; nine decimal places are finer than any saw"),
        LexError::MalformedEscapeSequence(_) => syntax("`\\` has a meaning of its own in a text".into())
            .hint("write \\\\ for a single \\, or \\\" for a quote"),
        LexError::ImproperSymbol(sign, _) if sign == "=" => {
            syntax("`=` gives a variable its value and cannot stand here".into()).hint("to compare, write ==")
        }
        LexError::ImproperSymbol(sign, _) | LexError::UnexpectedInput(sign) => no_sign(sign, spot),
        _ => syntax("this cannot be read".into()).hint("look at what stands just before it"),
    }
}

fn no_sign(sign: &str, spot: &Spot<'_>) -> Finding {
    let syntax = |message: String| Finding::error("syntax", message);
    let instead = match sign {
        "===" => Some("=="),
        "!==" | "<>" => Some("!="),
        "<-" | "=<" => Some("<="),
        "=>" => Some(">="),
        ":=" => Some("="),
        "“" | "”" | "„" => Some("straight quotes: \""),
        "–" | "—" | "−" => Some("the plain minus: -"),
        "×" => Some("*"),
        "÷" => Some("/"),
        _ => None,
    };
    if let Some(instead) = instead {
        return syntax(format!("`{sign}` is no sign of the language")).hint(format!("write {instead}"));
    }
    let fractions = [("½", "1/2"), ("¼", "1/4"), ("¾", "3/4"), ("⅛", "1/8"), ("⅜", "3/8"), ("⅝", "5/8"), ("⅞", "7/8")];
    if let Some((_, fraction)) = fractions.iter().find(|(one, _)| *one == sign) {
        let whole = digits_at_end(spot.before);
        let number = if whole.is_empty() { (*fraction).to_owned() } else { format!("{whole} + {fraction}") };
        return syntax("a fraction is written with its stroke".into()).hint(format!("write ({number}).inch"));
    }
    if sign.starts_with('#') {
        return syntax("`#` stands only before the { of options".into())
            .hint("write #{ name: value }, without a space");
    }
    if [";", ")", "]", "}", ","].contains(&sign) {
        return syntax(format!("a value is missing before `{sign}`")).hint("write a number, a length or a name there");
    }
    syntax(format!("`{sign}` cannot stand here")).hint("look for what is missing before it, or take it out")
}

fn missing(token: &str, what: &str, spot: &Spot<'_>) -> Finding {
    let word = word_at(spot.rest);
    let before = spot.before.trim_end();
    if let Some(unit) = unit_of(word).filter(|_| before.ends_with(|c: char| c.is_ascii_digit() || c == ')')) {
        let number = number_at_end(before);
        return Finding::error("syntax", format!("the unit `{word}` is not joined to its number"))
            .hint(format!("write {number}.{unit}"));
    }
    let place = if before.is_empty() { "at the end of the line before" } else { "here" };
    let finding = Finding::error("syntax", format!("`{token}` is missing {place}"));
    let hint = match token {
        ";" => "each step of a recipe ends with `;`",
        ":" => "an option is written name: value",
        "," if what.contains("object map") => "a comma stands between two options",
        "," if what.contains("array") => "a comma stands between two items of a list",
        "," if what.contains("call") => "a comma stands between two values that are handed to a function",
        "," => "a comma stands between two names or cases",
        "(" => "what is handed to a function stands in round brackets",
        "{" => "the lines that belong together stand between { and }",
        "}" => "it closes the options or lines that { opened",
        ")" => "it closes the bracket that ( opened",
        "]" => "it closes the list that [ opened",
        "in" => "write `for i in 0..count { ... }` or `for item in list { ... }`",
        _ => return finding,
    };
    finding.hint(hint)
}

/// Where a fault lies in its text.
pub(super) struct Spot<'a> {
    text: &'a str,
    /// The line, from 1.
    pub line: usize,
    /// What stands on the line before the place, and from the place on.
    pub before: &'a str,
    pub rest: &'a str,
    open: Vec<Open>,
}

impl<'a> Spot<'a> {
    fn new(text: &'a str, position: Position) -> Self {
        let line = position.line().unwrap_or(1);
        let here = text.lines().nth(line - 1).unwrap_or("");
        let column = position.position().unwrap_or(1);
        let at = here.char_indices().nth(column.saturating_sub(1)).map_or(here.len(), |(at, _)| at);
        let (before, rest) = here.split_at(at);
        let end: usize = text.split_inclusive('\n').take(line - 1).map(str::len).sum::<usize>() + at;
        Self { text, line, before, rest, open: open_brackets(text.get(..end).unwrap_or(text)) }
    }

    /// Whether the place lies in the body of a function.
    pub fn in_function(&self) -> bool {
        self.open.iter().any(|open| {
            let line = self.text.lines().nth(open.line as usize - 1).unwrap_or("").trim_start();
            open.bracket == '{' && ["fn ", "private fn "].iter().any(|start| line.starts_with(start))
        })
    }

    /// Whether a step of the recipe begins here.
    pub fn begins(&self) -> bool {
        let before = self.before.trim_end();
        before.is_empty() || before.ends_with([';', '{', '}'])
    }

    /// Options in plain braces, which the engine takes as a block of lines.
    fn without_hash(&self) -> Option<(Finding, &Open)> {
        let open = self.open.last().filter(|open| open.bracket == '{' && !open.hash)?;
        let inside = self.text.get(open.at + 1..)?.trim_start();
        let name = word_at(inside);
        let value = inside[name.len()..].trim_start().strip_prefix(':')?;
        if name.is_empty() || value.starts_with(':') {
            return None;
        }
        let finding = Finding::error("syntax", "options stand in `#{ }`, and the `#` is missing here");
        Some((finding.hint(format!("write #{{ {name}: ... }}")), open))
    }

    /// A number that is written as on paper: `1 1/2`, or `1,5`.
    fn number(&self, kind: &ParseErrorType) -> Option<Finding> {
        if !matches!(kind, ParseErrorType::MissingToken(..) | ParseErrorType::PropertyExpected) {
            return None;
        }
        let unit = |rest: &str| {
            let rest = rest.trim_start();
            let rest = rest.strip_prefix('.').unwrap_or(rest);
            let word = if rest.starts_with('"') { "inch" } else { unit_of(word_at(rest)).unwrap_or("") };
            if word.is_empty() { String::new() } else { format!(".{word}") }
        };
        let before = self.before.trim_end();
        // The comma is where the engine stops, or, among options, what follows it.
        let comma = match self.rest.strip_prefix(',') {
            Some(rest) => Some((before, rest)),
            None => before.strip_suffix(',').map(|before| (before, self.rest)),
        };
        if let Some((before, rest)) = comma {
            let (whole, places) = (digits_at_end(before), digits_at(rest));
            if whole.is_empty() || places.is_empty() {
                return None;
            }
            let unit = unit(&rest[places.len()..]);
            return Some(
                Finding::error("syntax", "the decimal sign is a point, not a comma")
                    .hint(format!("write {whole}.{places}{unit}")),
            );
        }
        let whole = digits_at_end(before);
        let over = digits_at(self.rest);
        let under = digits_at(self.rest.get(over.len()..)?.strip_prefix('/')?);
        if whole.is_empty() || over.is_empty() || under.is_empty() {
            return None;
        }
        let unit = unit(&self.rest[over.len() + 1 + under.len()..]);
        Some(
            Finding::error("syntax", "a whole number and a fraction are joined by `+`")
                .hint(format!("write ({whole} + {over}/{under}){unit}")),
        )
    }

    /// A bracket that was forgotten, or that is one too many.
    fn bracket(&self, kind: &ParseErrorType) -> Option<Finding> {
        let sign = match kind {
            ParseErrorType::MissingToken(..) | ParseErrorType::PropertyExpected => self.rest.chars().next(),
            ParseErrorType::BadInput(LexError::UnexpectedInput(sign)) => sign.chars().next(),
            _ => None,
        }?;
        let is_closer = [')', ']', '}'].contains(&sign);
        let Some(open) = self.open.last() else {
            return is_closer.then(|| {
                Finding::error("syntax", format!("`{sign}` closes nothing: no bracket is open here"))
                    .hint("take it out, or open its bracket before it")
            });
        };
        let closer = open.closer();
        let lines = open.bracket == '{' && !open.hash;
        let begins = self.before.trim().is_empty() && BEGINNINGS.contains(&word_at(self.rest));
        let place = if (is_closer && sign != closer) || (sign == ';' && !lines) {
            format!("before `{sign}`")
        } else if begins && !lines {
            "at the end of the line before".to_owned()
        } else {
            return None;
        };
        let hash = if open.hash { "#" } else { "" };
        let line = if open.line as usize == self.line { String::new() } else { format!(" in line {}", open.line) };
        Some(
            Finding::error("syntax", format!("`{closer}` is missing {place}"))
                .hint(format!("it closes the `{hash}{}`{line}", open.bracket)),
        )
    }
}

/// A bracket that is open at a place.
struct Open {
    bracket: char,
    /// Whether it opens options: `#{`.
    hash: bool,
    at: usize,
    line: u32,
    column: u32,
}

impl Open {
    fn closer(&self) -> char {
        match self.bracket {
            '(' => ')',
            '[' => ']',
            _ => '}',
        }
    }
}

/// The innermost bracket of a text that is never closed, with its line and column.
pub(super) fn unclosed(text: &str) -> Option<(char, u32, u32)> {
    open_brackets(text).last().map(|open| (open.bracket, open.line, open.column))
}

/// The brackets that are open at the end of a text, outermost first.
fn open_brackets(text: &str) -> Vec<Open> {
    let mut open: Vec<Open> = Vec::new();
    let (mut line, mut column) = (1, 0);
    let mut inside = Inside::Code;
    let mut last = ' ';
    let mut letters = text.char_indices().peekable();
    while let Some((at, letter)) = letters.next() {
        column += 1;
        let next = letters.peek().map(|(_, letter)| *letter);
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
                open.push(Open { bracket: letter, hash: letter == '{' && last == '#', at, line, column });
                inside
            }
            (Inside::Code, ')' | ']' | '}') => {
                open.pop();
                inside
            }
            _ => inside,
        };
        last = letter;
        if letter == '\n' {
            (line, column) = (line + 1, 0);
        }
    }
    open
}

/// What a letter of a text stands in.
#[derive(Clone, Copy)]
enum Inside {
    Code,
    Line,
    Comment,
    Text(char),
}

/// The word that a text begins with.
pub(super) fn word_at(text: &str) -> &str {
    &text[..text.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(text.len())]
}

fn digits_at(text: &str) -> &str {
    &text[..text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len())]
}

/// The digits that a text ends with.
pub(super) fn digits_at_end(text: &str) -> &str {
    &text[text.trim_end_matches(|c: char| c.is_ascii_digit()).len()..]
}

/// The unit that a word means.
fn unit_of(word: &str) -> Option<&str> {
    match word {
        "in" => Some("inch"),
        "ft" => Some("feet"),
        "mm" | "cm" | "m" | "inch" | "inches" | "feet" | "foot" => Some(word),
        _ => None,
    }
}

/// The number that a text ends with, as it is written before a unit: `428`, `0.5`, `(1/2)`, `(1 + 1/2)`.
fn number_at_end(text: &str) -> String {
    if text.ends_with(')') {
        let start = text.rfind('(').unwrap_or(0);
        return text[start..].to_owned();
    }
    let plain = text.trim_end_matches(|c: char| c.is_ascii_digit() || c == '.').len();
    match text[..plain].strip_suffix('/') {
        Some(left) => fraction(left, &text[plain..]),
        None => text[plain..].to_owned(),
    }
}

/// A fraction in brackets, with the whole number before it: `left` ends before the stroke, `under` stands after it.
pub(super) fn fraction(left: &str, under: &str) -> String {
    let over = digits_at_end(left.trim_end());
    let left = left.trim_end();
    let before = left[..left.len() - over.len()].trim_end();
    let whole = before.strip_suffix(['-', '+']).map_or("", |before| digits_at_end(before.trim_end()));
    if whole.is_empty() { format!("({over}/{under})") } else { format!("({whole} + {over}/{under})") }
}
