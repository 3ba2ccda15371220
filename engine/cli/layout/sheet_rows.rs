//! A table with a header: cells by the name of their column, each with its place for findings.

use std::collections::BTreeMap;

use casewright::base::{Length, Unit, parse_length};
use casewright::diag::{At, Finding, did_you_mean, nearest};

/// The code of findings about lists of parts and offcuts.
pub const CODE: &str = "part-list";

/// The most rows of a list, the most bytes of it and of one of its lines: ten times what a full list has.
const ROWS: usize = 20_000;
const BYTES: usize = 4_000_000;
const LINE: usize = 4_000;

/// After so many faults no more are looked for: nobody reads them.
const FAULTS: usize = 200;

/// A row below the header.
#[derive(Debug)]
pub struct Row {
    /// Its number as a spreadsheet counts it; the header is row 1.
    pub number: usize,
    cells: BTreeMap<String, (String, At)>,
    start: At,
}

/// Reads a table. Columns that are not known and those that are missing are told, and nothing else is read then.
pub fn read(file: &str, text: &str, known: &[&str], wanted: &[&str], faults: &mut Vec<Finding>) -> Vec<Row> {
    // Spreadsheets put a mark of the byte order before the text.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let lines: Vec<&str> = text.lines().collect();
    let too_large = if text.len() > BYTES {
        Some(format!("the list has more than {BYTES} bytes"))
    } else {
        lines.iter().position(|line| line.len() > LINE).map(|i| format!("line {} has more than {LINE} bytes", i + 1))
    };
    if let Some(message) = too_large {
        // The line itself is not shown: it would fill the screen.
        faults.push(
            Finding::error(CODE, message).hint("is this the list that you meant? split one that is truly so long"),
        );
        return Vec::new();
    }
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
    let mut header: Vec<String> = Vec::new();
    let mut rows: Vec<Row> = Vec::new();
    let mut swallows = false;
    for (i, record) in reader.records().enumerate() {
        let number = i + 1;
        let Ok(record) = record else {
            faults.push(fault(
                At::new(file, 1, 1),
                format!("row {number} cannot be read as CSV"),
                "save it as CSV in UTF-8",
            ));
            break;
        };
        swallows = record.iter().next_back().is_some_and(|cell| cell.contains('\n'));
        let line = record.position().map_or(1, |place| u32::try_from(place.line()).unwrap_or(u32::MAX));
        let places = places(file, &lines, line, &record);
        if i == 0 {
            header = record.iter().map(|name| name.trim().to_lowercase()).collect();
            check_header(&header, &places, known, wanted, faults);
            if !faults.is_empty() {
                return rows;
            }
            continue;
        }
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        if rows.len() == ROWS {
            faults.push(fault(At::new(file, line, 1), format!("the list has more than {ROWS} rows"), "split it"));
            break;
        }
        let mut cells = BTreeMap::new();
        for (column, cell) in record.iter().enumerate() {
            let at = places.get(column).cloned().unwrap_or_else(|| At::new(file, line, 1));
            match header.get(column).filter(|name| !name.is_empty()) {
                Some(name) => {
                    // Our own papers put a quote before text that a spreadsheet would change.
                    let cell = cell.trim();
                    cells.insert(name.clone(), (cell.strip_prefix('\'').unwrap_or(cell).to_owned(), at));
                }
                None if cell.trim().is_empty() => {}
                None => faults.push(fault(
                    at,
                    format!("row {number}: `{}` stands in no column", cell.trim()),
                    "a cell with a comma goes into quotes",
                )),
            }
        }
        rows.push(Row { number, cells, start: At::new(file, line, 1) });
    }
    // A cell that is opened with a quote and not closed swallows all that follows.
    if let Some(last) = rows.last().filter(|_| swallows && !text.trim_end().ends_with('"')) {
        let message = format!("row {}: a cell is opened with a quote and not closed", last.number);
        let hint = "close it; a sign of inches inside quotes is written twice: \"16-7/8\"\"\"";
        faults.push(Finding::error(CODE, message).at(Some(last.start.clone())).hint(hint));
        return Vec::new();
    }
    if header.is_empty() {
        let hint = format!("begin it with a header: {}", wanted.join(","));
        faults.push(fault(At::new(file, 1, 1), "the list is empty".to_owned(), &hint));
    }
    rows
}

fn check_header(header: &[String], places: &[At], known: &[&str], wanted: &[&str], faults: &mut Vec<Finding>) {
    let place = |i: usize| places.get(i).or(places.first()).cloned();
    for (i, name) in header.iter().enumerate().filter(|(_, name)| !name.is_empty()) {
        if !known.contains(&name.as_str()) {
            let message = if name.contains(';') {
                "row 1: this file has semicolons between its cells".to_owned()
            } else {
                format!("row 1: there is no column `{name}` in this list")
            };
            let other = OTHER_WORDS.iter().find(|(other, _)| other == name).filter(|(_, own)| known.contains(own));
            let near = match other {
                Some((_, own)) => format!("call it `{own}`"),
                None => did_you_mean(name, known.iter().copied()).unwrap_or_default(),
            };
            let hint = if name.contains(';') { "save it with commas".to_owned() } else { near };
            let hint = Some(hint).filter(|hint| !hint.is_empty());
            faults.push(Finding::error(CODE, message).at(place(i)).maybe_hint(hint));
        } else if header.iter().take(i).any(|other| other == name) {
            faults.push(
                Finding::error(CODE, format!("row 1: the column `{name}` is there twice"))
                    .at(place(i))
                    .hint("keep one"),
            );
        }
    }
    // A slip in a name is told as that, and a list with other marks between its cells has one column.
    let meant = |own: &String| {
        let other = OTHER_WORDS.iter().find(|(other, _)| other == own).map(|(_, own)| *own);
        other.or_else(|| nearest(own, known.iter().copied()))
    };
    let slips: Vec<&str> = header.iter().filter_map(meant).collect();
    let in_one = header.iter().any(|name| name.contains(';'));
    for name in wanted.iter().filter(|name| !in_one && !slips.contains(name)) {
        let message = format!("row 1: the column `{name}` is missing");
        let hint = format!("the header has {}", wanted.join(", "));
        faults.push(Finding::error(CODE, message).at(place(0)).hint(hint));
    }
}

/// What other lists call the columns.
const OTHER_WORDS: [(&str, &str); 10] = [
    ("count", "qty"),
    ("quantity", "qty"),
    ("pieces", "qty"),
    ("name", "part"),
    ("item", "part"),
    ("material", "stock"),
    ("sheet", "stock"),
    ("board", "stock"),
    ("notes", "note"),
    ("remarks", "note"),
];

fn fault(at: At, message: String, hint: &str) -> Finding {
    Finding::error(CODE, message).at(Some(at)).maybe_hint(Some(hint.to_owned()).filter(|hint| !hint.is_empty()))
}

/// Where each cell of a record stands, as far as it stands on one line.
fn places(file: &str, lines: &[&str], line: u32, record: &csv::StringRecord) -> Vec<At> {
    let written = lines.get((line as usize).saturating_sub(1)).copied().unwrap_or_default();
    let mut places = Vec::new();
    let (mut column, mut quoted, mut start) = (1_u32, false, 1_u32);
    // Quotes hold a cell together only where they begin it; elsewhere they are inches.
    let mut in_quotes = false;
    for c in written.chars().chain([',']) {
        if c == '"' && (in_quotes || column == start) {
            in_quotes = true;
            quoted = !quoted;
        }
        if c == ',' && !quoted {
            let mut at = At::new(file, line, start);
            at.span = column - start;
            places.push(at);
            start = column + 1;
            in_quotes = false;
        }
        column += 1;
    }
    places.truncate(record.len().max(1));
    places
}

impl Row {
    /// Whether enough faults were told; then one more says so.
    pub fn too_many(&self, faults: &mut Vec<Finding>) -> bool {
        if faults.len() < FAULTS {
            return false;
        }
        let message = format!(
            "the rows from row {} on were not looked at: there are {} faults before",
            self.number,
            faults.len()
        );
        faults.push(Finding::error(CODE, message).hint("mend these first"));
        true
    }

    /// The text of a cell, if it is filled.
    pub fn text(&self, column: &str) -> Option<&str> {
        self.cells.get(column).map(|(text, _)| text.as_str()).filter(|text| !text.is_empty())
    }

    /// Where a cell stands; where its row begins when it has none.
    pub fn at(&self, column: &str) -> At {
        self.cells.get(column).map_or_else(|| self.start.clone(), |(_, at)| at.clone())
    }

    /// A fault in a cell, with its row and column.
    pub fn fault(&self, column: &str, message: &str, hint: &str) -> Finding {
        fault(self.at(column), format!("row {}, column `{column}`: {message}", self.number), hint)
    }

    /// A size of more than nothing; the fault is told.
    pub fn size(&self, column: &str, unit: Unit, faults: &mut Vec<Finding>) -> Option<Length> {
        let Some(text) = self.text(column) else {
            faults.push(self.fault(column, "the cell is empty", "write a size such as 16-7/8\" or 428mm"));
            return None;
        };
        match parse_length(text, Some(unit)) {
            Ok(size) if size.is_positive() => Some(size),
            Ok(_) => {
                faults.push(self.fault(column, &format!("`{text}` is zero or less"), "write what is to be cut"));
                None
            }
            Err(error) => {
                faults.push(self.fault(column, &error.message, &error.hint));
                None
            }
        }
    }

    /// A whole number from one on; one when the cell is empty.
    pub fn count(&self, column: &str, most: u32, faults: &mut Vec<Finding>) -> Option<u32> {
        let Some(text) = self.text(column) else { return Some(1) };
        let count = text.parse::<u32>().ok().filter(|count| (1..=most).contains(count));
        if count.is_none() {
            let message = format!("`{text}` is not a whole number from 1 to {most}");
            faults.push(self.fault(column, &message, "write how many, or leave the cell empty for one"));
        }
        count
    }
}
