//! How far a place reaches: the engine tells where a word begins, and the text where it ends.

use super::Sources;
use crate::diag::{At, Finding};

/// Fills in the span of every place that has none and whose text is at hand.
pub(super) fn fill(findings: &mut [Finding], sources: &Sources) {
    for at in findings.iter_mut().flat_map(|finding| finding.at.iter_mut().chain(finding.through.iter_mut())) {
        fill_one(at, sources);
    }
}

fn fill_one(at: &mut At, sources: &Sources) {
    if at.span > 0 {
        return;
    }
    let Some(text) = sources.get(&at.file) else { return };
    let line = usize::try_from(at.line).ok().and_then(|line| text.lines().nth(line.checked_sub(1)?));
    let column = usize::try_from(at.column).unwrap_or(0).saturating_sub(1);
    at.span = line.map_or(0, |line| u32::try_from(word(line, column)).unwrap_or(0));
}

/// The number of characters of the word, number, text or sign that begins at a column, counted from 0.
fn word(line: &str, column: usize) -> usize {
    let letters: Vec<char> = line.chars().skip(column).collect();
    let run = |belongs: fn(char) -> bool| letters.iter().take_while(|&&letter| belongs(letter)).count();
    match letters.first() {
        None => 0,
        Some(&quote @ ('"' | '`' | '\'')) => {
            let mut escaped = false;
            let end = letters.iter().skip(1).position(|&letter| {
                let closes = letter == quote && !escaped;
                escaped = letter == '\\' && !escaped && quote != '`';
                closes
            });
            // A text that does not end on its line: only its opening quote is certain.
            end.map_or(1, |end| end + 2)
        }
        Some(digit) if digit.is_ascii_digit() => {
            let whole = run(|letter| letter.is_ascii_digit() || letter == '_');
            let places = letters[whole..].iter().skip(1).take_while(|letter| letter.is_ascii_digit()).count();
            if letters.get(whole) == Some(&'.') && places > 0 { whole + 1 + places } else { whole }
        }
        Some(letter) if letter.is_alphabetic() || *letter == '_' => {
            run(|letter| letter.is_alphanumeric() || letter == '_')
        }
        Some(sign) if "+-*/%<>=!&|^~?.:".contains(*sign) => run(|letter| "+-*/%<>=!&|^~?.:".contains(letter)),
        Some(_) => 1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_numbers_texts_and_signs_end_where_they_end() {
        for (line, column, span) in [
            ("let width = 3;", 4, 5),
            ("widht", 0, 5),
            ("16.875.inch", 0, 6),
            ("16.inch", 0, 2),
            ("a <= b", 2, 2),
            ("say(\"a \\\" b\")", 4, 8),
            ("say(\"open", 4, 1),
            ("say(`a\\`)", 4, 4),
            ("f(x)", 1, 1),
            ("größe", 0, 5),
            ("x", 1, 0),
            ("x", 70_000, 0),
        ] {
            assert_eq!(word(line, column), span, "{line:?} from {column}");
        }
    }
}
