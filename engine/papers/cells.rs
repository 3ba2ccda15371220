//! Tables as CSV that a spreadsheet opens without doing anything to them.
//!
//! Records follow RFC 4180: CRLF after every one, the same number of fields in each, a field with a comma, a quote or a line
//! break in quotes, a quote inside doubled. Beyond that the RFC says nothing of what a spreadsheet makes of a field, so [`harmless`]
//! keeps text text.

use std::borrow::Cow;

use crate::base::{Length, Printing};
use crate::model::Money;

/// A table that is being written, field by field.
pub(super) struct Table {
    writer: csv::Writer<Vec<u8>>,
    printing: Printing,
}

impl Table {
    /// A table with its header. Headers are ours and need no guard.
    pub(super) fn new(printing: Printing, header: &[&str]) -> Self {
        let writer = csv::WriterBuilder::new()
            .terminator(csv::Terminator::CRLF)
            .quote_style(csv::QuoteStyle::Necessary)
            .from_writer(Vec::with_capacity(2_048));
        let mut table = Self { writer, printing };
        for name in header {
            table.raw(name);
        }
        table.end();
        table
    }

    /// A field of text.
    pub(super) fn text(&mut self, text: &str) -> &mut Self {
        self.raw(&harmless(text))
    }

    /// A field that is a number.
    pub(super) fn number(&mut self, number: impl ToString) -> &mut Self {
        self.raw(&number.to_string())
    }

    /// A size as an exact decimal.
    pub(super) fn decimal(&mut self, size: Length) -> &mut Self {
        let printing = self.printing;
        self.raw(&printing.decimal(size))
    }

    /// A size in trade notation.
    pub(super) fn size(&mut self, size: Length) -> &mut Self {
        let printing = self.printing;
        self.text(&printing.length(size))
    }

    /// What something costs; empty when that is not known.
    pub(super) fn cost(&mut self, cost: Option<Money>) -> &mut Self {
        self.raw(&cost.map(|cost| cost.to_string()).unwrap_or_default())
    }

    /// An empty field.
    pub(super) fn nothing(&mut self) -> &mut Self {
        self.raw("")
    }

    /// Ends the record.
    pub(super) fn end(&mut self) {
        // Nothing is written but to memory, which does not fail; a record of a wrong length would, and the tests count fields.
        let _ = self.writer.write_record(None::<&[u8]>);
    }

    /// The bytes of the table.
    pub(super) fn finish(self) -> Vec<u8> {
        self.writer.into_inner().unwrap_or_default()
    }

    fn raw(&mut self, field: &str) -> &mut Self {
        let _ = self.writer.write_field(field);
        self
    }
}

/// The text with a single quote before it where a spreadsheet would take it for a formula, a number, a date or a truth value.
///
/// A formula: its first character, or its first after blanks, is one of = + - @ tab, carriage return, line feed or NUL, or the
/// full-width form of one. A number or date: it has digits and no word or inch mark that keeps it text.
// SEEN: OWASP www-community, CSV_Injection (= + - @ tab CR LF), and OWASP ASVS 5, 1.2.10 (= + - @ tab NUL): the union.
pub fn harmless(text: &str) -> Cow<'_, str> {
    if begins_a_formula(text) || reads_as_a_value(text) { Cow::Owned(format!("'{text}")) } else { Cow::Borrowed(text) }
}

fn begins_a_formula(text: &str) -> bool {
    let is_formula =
        |c: char| matches!(c, '=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '\0' | '＝' | '＋' | '－' | '＠' | '−');
    let is_blank = |c: char| c.is_whitespace() || matches!(c, '\u{feff}' | '\u{200b}'..='\u{200f}' | '\u{2060}');
    text.starts_with(is_formula) || text.trim_start_matches(is_blank).starts_with(is_formula)
}

/// Words that numbers, dates and times are written with.
// From memory, and tried on a spreadsheet: exponents, halves of the day, English months and days of the week.
const VALUE_WORDS: [&str; 42] = [
    "e",
    "a",
    "p",
    "am",
    "pm",
    "jan",
    "feb",
    "mar",
    "apr",
    "may",
    "jun",
    "jul",
    "aug",
    "sep",
    "sept",
    "oct",
    "nov",
    "dec",
    "january",
    "february",
    "march",
    "april",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
    "mon",
    "tue",
    "wed",
    "thu",
    "fri",
    "sat",
    "sun",
    "true",
    "false",
    "t",
    "z",
    "inf",
    "nan",
];

/// Whether a spreadsheet may take the text for a number, a date, a time or a truth value.
fn reads_as_a_value(text: &str) -> bool {
    let text = text.trim();
    let is_digit = |c: char| c.is_ascii_digit() || ('０'..='９').contains(&c);
    let first = text.chars().next();
    if text.eq_ignore_ascii_case("true") || text.eq_ignore_ascii_case("false") {
        return true;
    }
    // An inch mark is in no number or date, and most sizes here have one; a number sign stands before a gauge, and a single
    // quote at the beginning keeps text already.
    if !text.contains(is_digit) || text.contains(['"', '#']) || text.starts_with('\'') {
        return false;
    }
    let mut words = text.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty());
    let known = |word: &str| VALUE_WORDS.iter().any(|value| value.eq_ignore_ascii_case(word));
    // `A1` and `E5` are text: a value that begins with letters begins with the name of a month or day.
    let begins_with_word = first.is_some_and(char::is_alphabetic);
    if begins_with_word && words.next().is_some_and(|word| word.len() < 3 || !known(word)) {
        return false;
    }
    words.all(known)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_a_spreadsheet_would_change_gets_a_quote() {
        for text in [
            "=1+1",
            "+1",
            "-2",
            "@x",
            "\tx",
            "\rx",
            "\nx",
            "\0x",
            " =1",
            "\u{a0}@x",
            "\u{feff}=1",
            "＝1",
            "3/4",
            "1-2",
            "2024-01-05",
            "1e5",
            "1E5",
            "TRUE",
            "False",
            "00123",
            "12:30",
            "5%",
            "$5",
            "1,5",
            "Jan 5",
            "5-Mar",
            "MAR 1",
            "10:30 AM",
            "0.5",
            ".5",
            "5.",
            "(5)",
            "1 000",
            "2024-01-05T10:00Z",
            "１２",
            "Sep-10",
        ] {
            assert_eq!(harmless(text), format!("'{text}"), "{text:?}");
        }
    }

    #[test]
    fn what_is_plainly_text_is_left_alone() {
        for text in [
            "",
            "side",
            "A1",
            "E5",
            "A1a",
            "P2",
            "AM1",
            "3/4\"",
            "1-1/2\"",
            "45/64\"+",
            "18 mm",
            "18 mm-",
            "428.6 mm",
            "3/4 birch plywood",
            "#8 x 1-1/4\"",
            "#8",
            "drawer x6; bench",
            "2 long edges",
            "1st",
            "0x10",
            "true north",
            "30\" x 11\"",
            "#8 x 31.8 mm-",
            "margin 3",
            "may",
            "'=1",
        ] {
            assert_eq!(harmless(text), text, "{text:?}");
        }
    }

    proptest! {
        #[test]
        fn every_text_comes_back_with_at_most_a_quote(rows in prop::collection::vec("\\PC{0,12}|[=+@\\t\\r\\n\",-]{0,4}", 1..8)) {
            let mut table = Table::new(Printing::default(), &["a", "b"]);
            for text in &rows {
                table.text(text).number(7).end();
            }
            let bytes = table.finish();
            prop_assert!(bytes.ends_with(b"\r\n"));
            let mut reader = csv::ReaderBuilder::new().flexible(false).from_reader(bytes.as_slice());
            let read: Vec<_> = reader.records().map(Result::unwrap).collect();
            prop_assert_eq!(read.len(), rows.len());
            for (record, text) in read.iter().zip(&rows) {
                let field = &record[0];
                prop_assert!(field == text || field.strip_prefix('\'') == Some(text));
                prop_assert!(!begins_a_formula(field) && !reads_as_a_value(field));
                prop_assert_eq!(&record[1], "7");
            }
        }
    }
}
