//! The table of jobs: a CSV file, read whole, with every fault at its row and column.

use std::collections::BTreeMap;

use casewright::diag::{At, Finding, did_you_mean};

use super::names;
use super::work::AllCame;
use crate::cli::order::is_name;

/// The code of findings about the table itself.
pub const CODE: &str = "job-table";

/// The columns that every table has.
const FIXED: [&str; 3] = ["job", "recipe", "count"];

/// The most that are made of one job: far above any order, far below overflow.
const MOST: i64 = 10_000;

/// The most rows of a table.
const ROWS: usize = 10_000;

/// A row of the table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// Its name, and its folder's.
    pub name: String,
    /// The recipe's file or built-in name, as it stands in the table.
    pub recipe: String,
    /// How many are made.
    pub count: i64,
    /// The inputs that are given, by name.
    pub inputs: Vec<(String, String)>,
    /// The row as a spreadsheet counts it; the header is row 1.
    pub row: usize,
    /// Where each filled cell stands, by column.
    cells: BTreeMap<String, At>,
}

/// The whole table.
#[derive(Clone, Debug)]
pub struct Table {
    /// The file as its user names it; recipes are looked for from its folder.
    pub file: String,
    /// The jobs in order.
    pub jobs: Vec<Job>,
    /// The input columns with their place in the header.
    inputs: Vec<(String, At)>,
}

/// Reads the table, with the faults that it has in itself. Rows with faults are kept, so that the rest of them can be looked at
/// as well; what only the recipes can tell is left to [`faults_of_columns`].
pub fn read(file: &str, text: &str) -> (Table, Vec<Finding>) {
    let mut table = Table { file: file.to_owned(), jobs: Vec::new(), inputs: Vec::new() };
    // Spreadsheets put a mark of the byte order before the text.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut records = records(file, text);
    let mut faults = Vec::new();
    if records.is_empty() {
        let fault = Finding::error(CODE, "the table of jobs is empty");
        faults.push(fault.at(Some(At::new(file, 1, 1))).hint("begin it with a header: job,recipe,count"));
        return (table, faults);
    }
    let header = records.remove(0);
    let columns = columns(&header, &mut faults);
    for record in records.iter().filter(|record| record.cells.iter().any(|cell| !cell.text.is_empty())) {
        if table.jobs.len() == ROWS {
            let fault = Finding::error(CODE, format!("the table has more than {ROWS} jobs"));
            faults
                .push(fault.at(record.cells.first().map(|cell| cell.at.clone())).hint("split it into several tables"));
            break;
        }
        table.jobs.push(job(record, &columns, &mut faults));
    }
    same_names(&table.jobs, &mut faults);
    if table.jobs.is_empty() && faults.is_empty() {
        let fault = Finding::error(CODE, "the table has a header and no jobs");
        faults.push(fault.at(Some(At::new(file, 1, 1))).hint("write a job in each line below the header"));
    }
    let inputs = columns.iter().filter_map(Head::named).filter(|(name, _)| !FIXED.contains(name));
    table.inputs = inputs.map(|(name, at)| (name.to_owned(), at.clone())).collect();
    (table, faults)
}

/// The faults that show once the recipes have said what they ask for: columns that none of them knows, and cells that are
/// filled for a recipe that does not know their column.
pub fn faults_of_columns(table: &Table, came: &AllCame) -> Vec<Finding> {
    let mut faults: Vec<Finding> = came.unopened.clone();
    let mut strangers = Vec::new();
    // A recipe with errors of its own may not have come to all its inputs; then nothing can be said of its columns.
    let all_told = came.jobs.iter().all(|job| job.inputs.is_some());
    let known: Vec<&str> =
        came.jobs.iter().filter_map(|job| job.inputs.as_ref()).flatten().map(String::as_str).collect();
    for (column, at) in &table.inputs {
        if all_told && !known.contains(&column.as_str()) {
            let fault =
                Finding::error(CODE, format!("row 1, column `{column}`: no recipe of this table has such an input"));
            let words = known.iter().copied().chain(FIXED);
            faults.push(fault.at(Some(at.clone())).maybe_hint(did_you_mean(column, words)));
            strangers.push(column.as_str());
        }
    }
    for (job, came) in table.jobs.iter().zip(&came.jobs) {
        let Some(known) = &came.inputs else { continue };
        for (name, _) in
            job.inputs.iter().filter(|(name, _)| !known.contains(name) && !strangers.contains(&name.as_str()))
        {
            let message = format!("row {}, column `{name}`: the recipe `{}` has no such input", job.row, job.recipe);
            let hint = did_you_mean(name, known.iter().map(String::as_str));
            let fault = Finding::error(CODE, message).at(job.at(name));
            faults.push(fault.hint("leave the cell empty").maybe_hint(hint.filter(|hint| hint.starts_with("did"))));
        }
    }
    faults
}

impl Job {
    /// Where a filled cell stands.
    pub fn at(&self, column: &str) -> Option<At> {
        self.cells.get(column).cloned()
    }
}

/// A cell and its place.
struct Cell {
    text: String,
    at: At,
}

struct Record {
    row: usize,
    cells: Vec<Cell>,
}

/// The head of a column.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Head {
    Named(String, At),
    /// Left by a spreadsheet; its cells must be empty.
    Blank,
    /// Its name has been told to be wrong; its cells are passed over.
    Refused,
}

impl Head {
    fn named(&self) -> Option<(&str, &At)> {
        match self {
            Self::Named(name, at) => Some((name, at)),
            Self::Blank | Self::Refused => None,
        }
    }
}

/// Reads the header.
fn columns(header: &Record, faults: &mut Vec<Finding>) -> Vec<Head> {
    let mut columns: Vec<Head> = Vec::new();
    let place = header.cells.first().map(|cell| cell.at.clone());
    for cell in &header.cells {
        let name = cell.text.as_str();
        if columns.iter().filter_map(Head::named).any(|(other, _)| other == name) {
            let fault = Finding::error(CODE, format!("row 1: the column `{name}` is there twice"));
            faults.push(fault.at(Some(cell.at.clone())).hint("keep one of them"));
            columns.push(Head::Refused);
        } else if name.is_empty() {
            columns.push(Head::Blank);
        } else if is_name(name) {
            columns.push(Head::Named(name.to_owned(), cell.at.clone()));
        } else {
            let fault = Finding::error(CODE, format!("row 1: `{name}` cannot be the name of an input"));
            let hint = if name.contains(';') {
                "this file has semicolons between its cells: save it with commas"
            } else {
                "a column is named for an input of the recipe, such as width"
            };
            faults.push(fault.at(Some(cell.at.clone())).hint(hint));
            columns.push(Head::Refused);
        }
    }
    // A header that cannot be read says nothing about what is missing in it.
    if faults.is_empty() {
        for wanted in
            FIXED.into_iter().filter(|wanted| !columns.iter().filter_map(Head::named).any(|(name, _)| name == *wanted))
        {
            let fault = Finding::error(CODE, format!("row 1: there is no column `{wanted}`"));
            faults.push(fault.at(place.clone()).hint("the header begins with job,recipe,count"));
        }
    }
    columns
}

fn job(record: &Record, columns: &[Head], faults: &mut Vec<Finding>) -> Job {
    let row = record.row;
    let mut job =
        Job { name: String::new(), recipe: String::new(), count: 1, inputs: Vec::new(), row, cells: BTreeMap::new() };
    let start = record.cells.first().map(|cell| cell.at.clone());
    let mut tell = |message: String, at: Option<At>, hint: &str| {
        faults.push(Finding::error(CODE, message).at(at).hint(hint));
    };
    for (i, cell) in record.cells.iter().enumerate().filter(|(_, cell)| !cell.text.is_empty()) {
        let at = Some(cell.at.clone());
        let column = match columns.get(i) {
            Some(Head::Named(name, _)) => name,
            Some(Head::Refused) => continue,
            Some(Head::Blank) => {
                tell(
                    format!("row {row}: this cell is in a column without a name"),
                    at,
                    "name the column, or empty the cell",
                );
                continue;
            }
            None => {
                tell(format!("row {row} has more cells than the header"), at, "a value with a comma goes into quotes");
                break;
            }
        };
        job.cells.insert(column.clone(), cell.at.clone());
        match column.as_str() {
            "job" => match names::unfit(&cell.text) {
                None => job.name.clone_from(&cell.text),
                Some(why) => {
                    job.name.clone_from(&cell.text);
                    let message = format!("row {row}, column `job`: `{}` cannot be a folder: {why}", cell.text);
                    tell(message, at, "each job gets a folder of its name: give it a plain one");
                }
            },
            "recipe" => job.recipe.clone_from(&cell.text),
            "count" => match cell.text.parse::<i64>() {
                Ok(count) if (1..=MOST).contains(&count) => job.count = count,
                _ => {
                    let message = format!("row {row}, column `count`: `{}` is not how many to make", cell.text);
                    tell(message, at, &format!("write a whole number from 1 to {MOST}"));
                }
            },
            _ => job.inputs.push((column.clone(), cell.text.clone())),
        }
    }
    for (missing, hint) in [("job", "give the job a name"), ("recipe", "name a recipe file or a built-in recipe")] {
        let there = columns.iter().filter_map(Head::named).any(|(name, _)| name == missing);
        if there && !job.cells.contains_key(missing) {
            tell(format!("row {row}, column `{missing}`: the cell is empty"), start.clone(), hint);
        }
    }
    job
}

fn same_names(jobs: &[Job], faults: &mut Vec<Finding>) {
    let mut seen: BTreeMap<String, &Job> = BTreeMap::new();
    for job in jobs.iter().filter(|job| !job.name.is_empty()) {
        match seen.get(&names::folded(&job.name)) {
            Some(first) => {
                let message = if first.name == job.name {
                    format!("row {}, column `job`: `{}` is the name of row {} already", job.row, job.name, first.row)
                } else {
                    format!(
                        "row {}, column `job`: `{}` and `{}` of row {} are one folder on many disks",
                        job.row, job.name, first.name, first.row
                    )
                };
                let fault = Finding::error(CODE, message).at(job.at("job"));
                faults.push(fault.hint("give each job its own name; for several of the same, use `count`"));
            }
            None => {
                seen.insert(names::folded(&job.name), job);
            }
        }
    }
}

/// Cuts the text into records and cells with their places.
///
/// The library reads the cells; their places are found by walking the same text by the same rules, since it only tells where
/// a record begins.
fn records(file: &str, text: &str) -> Vec<Record> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
    let file: std::sync::Arc<str> = file.into();
    let mut places = Places { text, byte: 0, line: 1, column: 1, row: 1 };
    let mut records = Vec::new();
    for record in reader.records() {
        // The text is UTF-8 and records may be of any length, so nothing is left that could fail.
        let Ok(record) = record else { continue };
        places.skip_blank_lines();
        let row = places.row;
        let mut cells = Vec::new();
        for field in &record {
            let (line, column, span) = places.next_cell();
            let at = At { file: file.clone(), line, column, span };
            cells.push(Cell { text: field.trim().to_owned(), at });
        }
        places.end_record();
        records.push(Record { row, cells });
    }
    records
}

/// A walk through the text, cell by cell.
struct Places<'a> {
    text: &'a str,
    byte: usize,
    line: u32,
    column: u32,
    row: usize,
}

impl Places<'_> {
    fn peek(&self) -> Option<char> {
        self.text.get(self.byte..).and_then(|rest| rest.chars().next())
    }

    fn step(&mut self) -> Option<char> {
        let next = self.peek()?;
        self.byte += next.len_utf8();
        if next == '\n' {
            self.line += 1;
            self.column = 1;
        } else {
            self.column += 1;
        }
        Some(next)
    }

    fn skip_blank_lines(&mut self) {
        while let Some('\r' | '\n') = self.peek() {
            if self.step() == Some('\n') {
                self.row += 1;
            }
        }
    }

    /// Walks over a cell and the comma after it; gives its line, column and length.
    fn next_cell(&mut self) -> (u32, u32, u32) {
        let (line, column) = (self.line, self.column);
        let mut span = 0;
        let mut quoted = self.peek() == Some('"');
        if quoted {
            self.step();
            span += 1;
        }
        while let Some(next) = self.peek() {
            match next {
                '"' if quoted => {
                    self.step();
                    span += 1;
                    if self.peek() == Some('"') {
                        self.step();
                        span += 1;
                    } else {
                        quoted = false;
                    }
                    continue;
                }
                ',' if !quoted => {
                    self.step();
                    break;
                }
                '\n' | '\r' if !quoted => break,
                _ => {}
            }
            self.step();
            if self.line == line {
                span += 1;
            }
        }
        (line, column, span)
    }

    fn end_record(&mut self) {
        while let Some('\r') = self.peek() {
            self.step();
        }
        if self.peek() == Some('\n') {
            self.step();
        }
        self.row += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn bad(text: &str) -> Vec<String> {
        let (_, mut faults) = read("jobs.csv", text);
        faults.sort_by(|a, b| a.at.cmp(&b.at));
        faults
            .iter()
            .map(|fault| {
                let at = fault.at.as_ref().unwrap();
                format!("{}:{} {}", at.line, at.column, fault.message)
            })
            .collect()
    }

    #[test]
    fn jobs_are_read_with_their_inputs() {
        let text = "\u{feff}job,recipe,count,width,note\r\nA,drawer-box,2,16 7/8,\r\n,,,,\r\n\r\nB,b.rhai,,,\"two, \"\"three\"\"\"\r\n";
        let (table, faults) = read("jobs.csv", text);
        assert_eq!(faults, []);
        assert_eq!(table.jobs.len(), 2);
        let (a, b) = (&table.jobs[0], &table.jobs[1]);
        assert_eq!((a.name.as_str(), a.recipe.as_str(), a.count, a.row), ("A", "drawer-box", 2, 2));
        assert_eq!(a.inputs, [("width".to_owned(), "16 7/8".to_owned())]);
        assert_eq!((b.count, b.row), (1, 5));
        assert_eq!(b.inputs, [("note".to_owned(), "two, \"three\"".to_owned())]);
        assert_eq!(b.at("note").unwrap().to_string(), "jobs.csv:5:12");
        assert_eq!(a.at("width").unwrap().span, 6);
    }

    #[test]
    fn every_fault_has_its_row_and_column() {
        let head = "job,recipe,count,width\n";
        for (rows, expected) in [
            ("a,r,x,1", "2:5 row 2, column `count`: `x` is not how many to make"),
            ("a,r,0,1", "2:5 row 2, column `count`: `0` is not how many to make"),
            ("a,r,2.5,1", "2:5 row 2, column `count`: `2.5` is not how many to make"),
            (",r,1,1", "2:1 row 2, column `job`: the cell is empty"),
            ("a,,1,1", "2:1 row 2, column `recipe`: the cell is empty"),
            ("a/b,r,1,1", "2:1 row 2, column `job`: `a/b` cannot be a folder: a folder's name cannot have `/` in it"),
            ("a,r,1,1\na,r,1,1", "3:1 row 3, column `job`: `a` is the name of row 2 already"),
            ("a,r,1,1\nA,r,1,1", "3:1 row 3, column `job`: `A` and `a` of row 2 are one folder on many disks"),
            ("a,r,1,1,2", "2:9 row 2 has more cells than the header"),
        ] {
            assert_eq!(bad(&format!("{head}{rows}\n")), [expected], "{rows}");
        }
        for (text, expected) in [
            ("", "1:1 the table of jobs is empty"),
            ("job,recipe,count\n", "1:1 the table has a header and no jobs"),
            ("job,recipe\na,b\n", "1:1 row 1: there is no column `count`"),
            ("job,recipe,count,width,width\n", "1:24 row 1: the column `width` is there twice"),
            ("job,recipe,count,2wide\n", "1:18 row 1: `2wide` cannot be the name of an input"),
            ("job;recipe;count\na;b;1\n", "1:1 row 1: `job;recipe;count` cannot be the name of an input"),
            ("job,recipe,count,\na,b,1,2\n", "2:7 row 2: this cell is in a column without a name"),
        ] {
            assert_eq!(bad(text), [expected], "{text}");
        }
    }

    #[test]
    fn all_faults_are_told_at_once_in_order() {
        let told = bad("job,recipe,count\n\n\"a\nb\",r,1\nc,r,x\nCON,r,1\n");
        let places: Vec<&str> = told.iter().map(|line| line.split(' ').next().unwrap()).collect();
        assert_eq!(places, ["3:1", "5:5", "6:1"]);
        assert!(told[1].contains("row 4"), "{}", told[1]);
    }

    proptest! {
        #[test]
        fn no_text_panics_and_every_place_is_in_it(text in "[ab,\"\r\n é;]{0,60}") {
            for record in records("jobs.csv", &text) {
                for cell in record.cells {
                    prop_assert!(cell.at.line as usize <= text.matches('\n').count() + 1);
                }
            }
            let _ = read("jobs.csv", &format!("job,recipe,count\n{text}"));
            let _ = read("jobs.csv", &text);
        }
    }
}
