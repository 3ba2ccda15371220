//! Findings as the terminal shows them: the line, a caret under the place, what to do.

use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use casewright::diag::{At, Finding, Severity};
use casewright::script::Sources;

/// A way to make text stand out, as the codes that terminals understand. A stream that is no terminal takes them off.
#[derive(Clone, Copy, Debug)]
pub struct Paint(&'static str);

/// For headings.
pub const HEADING: Paint = Paint("1");
/// For what matters less than the rest.
pub const QUIET: Paint = Paint("2");
/// For what stops the papers.
pub const ERROR: Paint = Paint("1;31");
/// For what is new.
pub const ADDED: Paint = Paint("32");
/// For what is gone.
pub const GONE: Paint = Paint("31");
/// For what is another than it was.
pub const CHANGED: Paint = Paint("33");

/// The text in a paint.
pub fn paint(paint: Paint, text: &str) -> String {
    if text.is_empty() { String::new() } else { format!("\x1b[{}m{text}\x1b[0m", paint.0) }
}

/// The findings one below the other, with a blank line after each.
pub fn findings(findings: &[Finding], sources: &Sources, width: usize) -> String {
    findings.iter().map(|each| finding(each, sources, width) + "\n\n").collect()
}

/// How many findings of each weight: `1 error, 2 warnings`. Empty when there are none.
pub fn tally(findings: &[Finding]) -> String {
    [(Severity::Error, "error"), (Severity::Warning, "warning"), (Severity::Note, "note")]
        .into_iter()
        .filter_map(|(severity, word)| match findings.iter().filter(|each| each.severity == severity).count() {
            0 => None,
            count => Some(counted(count, word)),
        })
        .collect::<Vec<_>>()
        .join(", ")
}

/// A number with its word: `1 part`, `2 parts`.
pub fn counted(count: usize, word: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {word}{plural}")
}

/// The text with every sign that would steer a terminal, or turn the direction of reading, made visible.
///
/// Names and messages may come from a recipe that nobody vouches for; a terminal must show them, never obey them.
pub fn visible(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\n' => c,
            '\t' => ' ',
            '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => '\u{fffd}',
            // The pictures of the control characters stand in the same order as the characters.
            '\0'..='\u{1f}' => char::from_u32(0x2400 + u32::from(c)).unwrap_or('\u{fffd}'),
            c if c.is_control() => '\u{fffd}',
            c => c,
        })
        .collect()
}

/// The text on one line.
pub fn one_line(text: &str) -> String {
    visible(text).replace('\n', " ")
}

/// The text in lines of at most `width` letters, broken at spaces; those after the first are set in. A longer word stays whole.
pub fn wrapped(text: &str, width: usize) -> String {
    const SET_IN: &str = "  ";
    let mut lines = String::new();
    let mut long = 0;
    for word in one_line(text).split(' ').filter(|word| !word.is_empty()) {
        let letters = word.chars().count();
        if long > 0 && long + 1 + letters > width {
            lines += "\n";
            lines += SET_IN;
            long = SET_IN.len();
        } else if long > 0 {
            lines.push(' ');
            long += 1;
        }
        lines += word;
        long += letters;
    }
    lines
}

fn finding(finding: &Finding, sources: &Sources, width: usize) -> String {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let mut group = Group::with_title(level.primary_title(visible(&finding.message)).id(finding.code));
    if let Some(at) = &finding.at {
        group = match line_of(at, sources) {
            Some(line) => group.element(snippet(at, line)),
            None => {
                group.element(Origin::path(visible(&at.file)).line(at.line as usize).char_column(at.column as usize))
            }
        };
    }
    let mut notes: Vec<(&str, String)> =
        finding.through.iter().map(|at| ("by way of", visible(&at.to_string()))).collect();
    notes.extend(finding.hint.iter().map(|hint| ("hint", visible(hint))));
    notes.extend(finding.source.iter().map(|source| ("source", visible(source))));
    // Without a place there is no margin for the notes to stand beside.
    let beside = finding.at.is_some();
    for (name, note) in notes.iter().filter(|_| beside) {
        group = group.element(Level::NOTE.with_name(*name).message(note));
    }
    let report: &[Group<'_>] = &[group];
    let text = Renderer::styled().decor_style(DecorStyle::Ascii).term_width(width).render(report);
    let below = notes.iter().filter(|_| !beside);
    below.fold(indent_place(text), |text, (name, note)| format!("{text}\n  = {}: {note}", paint(HEADING, name)))
}

/// A place without a line of source stands at the very edge; it goes where it stands with one.
fn indent_place(text: String) -> String {
    let Some(arrow) = text.find("--> ") else { return text };
    let start = text[..arrow].rfind('\n').map_or(0, |at| at + 1);
    if anstream::adapter::strip_str(&text[start..arrow]).to_string().is_empty() {
        format!("{} {}", &text[..start], &text[start..])
    } else {
        text
    }
}

fn snippet(at: &At, line: &str) -> Snippet<'static, Annotation<'static>> {
    // A sign for a sign, so that columns stay; tabs are laid out by the library.
    let line = line.split('\t').map(visible).collect::<Vec<_>>().join("\t");
    let span = span_in(&line, at.column, at.span);
    Snippet::source(line)
        .path(visible(&at.file))
        .line_start(at.line as usize)
        .annotation(AnnotationKind::Primary.span(span))
}

/// The line that a place names, where its file was read and is that long.
fn line_of<'a>(at: &At, sources: &'a Sources) -> Option<&'a str> {
    let text = sources.get(&at.file)?;
    let index = usize::try_from(at.line).ok()?.checked_sub(1)?;
    text.lines().nth(index)
}

/// The bytes of a place in its line. A column past the end means the end; a span of nothing is one character, or where a word
/// begins the whole word.
fn span_in(line: &str, column: u32, span: u32) -> Range<usize> {
    let skip = column.saturating_sub(1) as usize;
    let start = line.char_indices().nth(skip).map_or(line.len(), |(byte, _)| byte);
    let rest = &line[start..];
    let bytes = if span > 0 {
        rest.char_indices().nth(span as usize).map_or(rest.len(), |(byte, _)| byte)
    } else {
        let word: usize = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').map(char::len_utf8).sum();
        if word > 0 { word } else { rest.chars().next().map_or(0, char::len_utf8) }
    };
    start..start + bytes
}

#[cfg(test)]
mod tests {
    use super::*;
    use insta::assert_snapshot;

    fn shown(finding: &Finding, text: &str) -> String {
        let mut sources = Sources::new();
        sources.insert("case.rhai".into(), text.into());
        anstream::adapter::strip_str(&findings(std::slice::from_ref(finding), &sources, 100)).to_string()
    }

    fn at(line: u32, column: u32, span: u32) -> At {
        At { file: "case.rhai".into(), line, column, span }
    }

    #[test]
    fn a_finding_shows_its_line_and_what_to_do() {
        let finding = Finding::warning("shelf-sag", "shelf `middle` would sag 4.1 mm under 20 kg; the limit is 2.3 mm")
            .at(Some(at(2, 9, 0)))
            .hint("use 25 mm stock, or keep the span under 760 mm")
            .source("the handbook, table and page");
        let mut finding = finding;
        finding.through.push(At::new("bench.rhai", 40, 3));
        assert_snapshot!(shown(&finding, "let a = 1;\nlet s = shelf(a);\n"), @r#"
        warning[shelf-sag]: shelf `middle` would sag 4.1 mm under 20 kg; the limit is 2.3 mm
         --> case.rhai:2:9
          |
        2 | let s = shelf(a);
          |         ^^^^^
          |
          = by way of: bench.rhai:40:3
          = hint: use 25 mm stock, or keep the span under 760 mm
          = source: the handbook, table and page
        "#);
    }

    #[test]
    fn a_place_without_its_text_is_still_named() {
        let finding = Finding::error("x", "what is wrong").at(Some(at(9, 2, 0))).hint("what to do");
        assert_snapshot!(shown(&finding, "one line"), @r#"
        error[x]: what is wrong
         --> case.rhai:9:2
         = hint: what to do
        "#);
        let nowhere = Finding::note("x", "what is worth knowing");
        assert_snapshot!(shown(&nowhere, ""), @"note[x]: what is worth knowing");
    }

    #[test]
    fn letters_of_many_bytes_tabs_and_ends_of_lines_keep_the_caret_in_place() {
        let finding = |line, column, span| Finding::error("x", "what is wrong").at(Some(at(line, column, span)));
        assert_snapshot!(shown(&finding(1, 12, 5), "let été = \"ß\"; wrong"), @r#"
        error[x]: what is wrong
         --> case.rhai:1:12
          |
        1 | let été = "ß"; wrong
          |            ^^^^^
        "#);
        assert_snapshot!(shown(&finding(1, 3, 0), "\t\tshelf(1)"), @r#"
        error[x]: what is wrong
         --> case.rhai:1:3
          |
        1 |         shelf(1)
          |         ^^^^^
        "#);
        assert_snapshot!(shown(&finding(1, 40, 3), "short"), @r#"
        error[x]: what is wrong
         --> case.rhai:1:6
          |
        1 | short
          |      ^
        "#);
        assert_snapshot!(shown(&finding(2, 1, 0), "a\n\nb"), @r#"
        error[x]: what is wrong
         --> case.rhai:2:1
          |
        2 |
          | ^
        "#);
        assert_snapshot!(shown(&finding(1, 0, 0), "a"), @r#"
        error[x]: what is wrong
         --> case.rhai:1:1
          |
        1 | a
          | ^
        "#);
    }

    #[test]
    fn a_very_long_line_is_cut_around_the_place() {
        let line = format!("{} here {}", "left ".repeat(20_000), "right ".repeat(20_000));
        let finding = Finding::error("x", "what is wrong").at(Some(at(1, 100_002, 4)));
        let shown = shown(&finding, &line);
        assert!(shown.contains("here"), "{shown}");
        assert!(shown.lines().all(|line| line.chars().count() <= 110), "{shown}");
    }

    #[test]
    fn a_terminal_is_never_steered() {
        let finding = Finding::error("x", "name \u{1b}[2J and \u{202e}gnp").at(Some(at(1, 1, 1))).hint("\u{7}bell");
        let shown = shown(&finding, "\u{1b}]0;title\u{7} \u{9b}1m");
        assert!(!shown.chars().any(|c| c.is_control() && c != '\n'), "{shown:?}");
        assert!(!shown.contains('\u{202e}'));
        assert_eq!(visible("a\tb\u{1b}"), "a b\u{241b}");
    }

    #[test]
    fn long_lines_are_broken_between_words() {
        assert_eq!(wrapped("to buy: 2 sheets of birch", 12), "to buy: 2\n  sheets of\n  birch");
        assert_eq!(wrapped("two  words", 10), "two words");
        assert_eq!(wrapped("a-word-that-is-long and", 6), "a-word-that-is-long\n  and");
        assert_eq!(wrapped("", 6), "");
    }

    #[test]
    fn findings_are_counted_in_words() {
        let all = [Finding::error("a", ""), Finding::warning("b", ""), Finding::warning("c", "")];
        assert_eq!(tally(&all), "1 error, 2 warnings");
        assert_eq!(tally(&[]), "");
    }
}
