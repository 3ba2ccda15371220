//! The lists of all jobs together: the papers' own rows, times the count of their job, with the job before each.

use casewright::base::{Length, Printing, Unit};
use casewright::model::{Model, Per, Shop};
use casewright::papers::{self, Subject, harmless};
use casewright::plan::{self, BandRow, CutRow, Cutting, HardwareRow, Plan, WrongPlan};

use super::jobs::Job;
use crate::cli::explain::paper;

/// The papers that are added up.
const LISTS: [&str; 3] = ["cut-list.csv", "hardware.csv", "edge-band.csv"];

/// What to buy for all jobs, and how it is cut up for all of them together. The drawings belong to these.
const OF_STOCK: [&str; 3] = ["stock.csv", "cutting-plan.csv", "offcuts.csv"];

/// The list of jobs and their states.
pub const SUMMARY: &str = "summary.csv";

/// Every file that a batch writes beside the folders of its jobs.
pub const FILES: [&str; 7] = [LISTS[0], LISTS[1], LISTS[2], OF_STOCK[0], OF_STOCK[1], OF_STOCK[2], SUMMARY];

/// A job whose papers were written.
#[derive(Clone, Copy, Debug)]
pub struct Finished<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its model.
    pub model: &'a Model,
    /// Its lists, for one of them.
    pub plan: &'a Plan,
}

/// The lists of all jobs, each with its file name. They are in one unit: the one asked for, else the one that all jobs have,
/// else inches.
///
/// # Errors
///
/// When the stock plan of all jobs together cannot be cut, which is a fault of ours.
pub fn lists(finished: &[Finished<'_>], units: Option<Unit>, shop: &Shop) -> Result<Vec<(String, Vec<u8>)>, WrongPlan> {
    let printing = printing(finished, units);
    let alike: Vec<InOneUnit> = finished.iter().map(|each| in_one_unit(each, printing, shop)).collect();
    let mut lists: Vec<_> =
        LISTS.into_iter().filter_map(|file| Some((file.to_owned(), list(file, &alike, printing)?))).collect();
    lists.extend(stock(finished, printing, shop)?);
    Ok(lists)
}

/// A job as the lists of all jobs print it.
struct InOneUnit<'a> {
    job: &'a Job,
    model: Model,
    plan: Plan,
}

/// The job in the unit of the lists, times its count. It is planned anew, since words about joinery hold sizes too.
fn in_one_unit<'a>(each: &Finished<'a>, printing: Printing, shop: &Shop) -> InOneUnit<'a> {
    let mut model = each.model.clone();
    model.printing = printing;
    let own = if each.plan.printing == printing { each.plan.clone() } else { plan::plan(&model, shop) };
    InOneUnit { job: each.job, plan: times(&own, &model, each.job.count), model }
}

/// What to buy for all jobs: not the sum of what each buys, since jobs share sheets. All of them are laid out together, and cut
/// by that plan; the plan in the folder of a job is for making it alone.
fn stock(finished: &[Finished<'_>], printing: Printing, shop: &Shop) -> Result<Vec<(String, Vec<u8>)>, WrongPlan> {
    let jobs: Vec<(&Model, i64)> = finished.iter().map(|each| (each.model, each.job.count)).collect();
    let cut: Vec<(&str, &Cutting, i64)> =
        finished.iter().map(|each| (each.job.name.as_str(), &each.plan.cutting, each.job.count)).collect();
    let cutting = Cutting::together(&cut, shop, printing);
    let plan = Plan {
        title: "all jobs together".to_owned(),
        buying: plan::buying_together(&jobs, shop),
        cutting,
        printing,
        ..empty()
    };
    let model = Model::new("", printing);
    let subject = Subject { model: &model, plan: &plan, findings: &[] };
    let all = papers::all(subject)?.into_iter();
    Ok(all.filter(|(file, _)| OF_STOCK.contains(&file.as_str()) || papers::is_drawing_name(file)).collect())
}

/// A cell of a table that is not a paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cell {
    /// Text, which no spreadsheet may take for anything else.
    Text(String),
    /// A whole number.
    Number(i64),
    /// Nothing.
    Empty,
}

/// CSV of the rows, with the line ends that RFC 4180 asks for.
pub fn csv(rows: impl IntoIterator<Item = Vec<Cell>>) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new().flexible(true).terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    for row in rows {
        // Memory takes every row.
        let _ = writer.write_record(row.iter().map(|cell| match cell {
            Cell::Text(text) => harmless(text).into_owned(),
            Cell::Number(number) => number.to_string(),
            Cell::Empty => String::new(),
        }));
    }
    writer.into_inner().unwrap_or_default()
}

fn printing(finished: &[Finished<'_>], units: Option<Unit>) -> Printing {
    let mut all = finished.iter().map(|each| each.plan.printing);
    let first = all.next().unwrap_or_default();
    let shared = if all.all(|other| other.unit == first.unit) { first.unit } else { Unit::Inch };
    Printing { unit: units.unwrap_or(shared), ..first }
}

/// One paper over all jobs. The papers write their rows themselves, so that sizes and words are the same as in the folders.
fn list(file: &str, jobs: &[InOneUnit<'_>], printing: Printing) -> Option<Vec<u8>> {
    let paper = paper(file)?;
    let rows_of =
        |model: &Model, plan: &Plan| read_back(&(paper.write)(Subject { model, plan, findings: &[] })).into_iter();
    // A plan of nothing gives the header, also when no job came to its end.
    let head = rows_of(&Model::new("", printing), &Plan { printing, ..empty() }).take(1);
    let mut rows: Vec<Vec<String>> = head.map(|head| led_in("job", head)).collect();
    for each in jobs {
        rows.extend(rows_of(&each.model, &each.plan).skip(1).map(|row| led_in(&each.job.name, row)));
    }
    let mut writer = csv::WriterBuilder::new().flexible(true).terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    for row in rows {
        // These cells were made harmless when they were first written.
        let _ = writer.write_record(&row);
    }
    Some(writer.into_inner().unwrap_or_default())
}

fn led_in(job: &str, mut row: Vec<String>) -> Vec<String> {
    row.insert(0, harmless(job).into_owned());
    row
}

fn read_back(bytes: &[u8]) -> Vec<Vec<String>> {
    let bytes = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes);
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(bytes);
    reader.records().flatten().map(|record| record.iter().map(str::to_owned).collect()).collect()
}

/// The lists for so many of a job.
fn times(plan: &Plan, model: &Model, count: i64) -> Plan {
    Plan {
        cut_list: plan
            .cut_list
            .iter()
            .map(|row| CutRow { quantity: row.quantity.saturating_mul(count), ..row.clone() })
            .collect(),
        hardware: plan
            .hardware
            .iter()
            .map(|row| HardwareRow { quantity: row.quantity.saturating_mul(count), ..row.clone() })
            .collect(),
        bands: plan.bands.iter().map(|row| band_times(row, model, count)).collect(),
        ..plan.clone()
    }
}

/// A band for so many of a job. Rolls are counted anew from the whole length: two jobs of half a roll need one.
fn band_times(row: &BandRow, model: &Model, count: i64) -> BandRow {
    let to_buy = row.to_buy * count;
    let rolls = row.rolls.map(|(rolls, length)| {
        let whole = if length.is_positive() { (to_buy.nm() + length.nm() - 1) / length.nm() } else { rolls * count };
        (whole, length)
    });
    let stock =
        model.parts.iter().flat_map(|part| &part.bands).map(|band| &band.stock).find(|stock| stock.name == row.band);
    let price = stock.and_then(|stock| stock.price);
    let cost = row.cost.map(|mut cost| {
        cost.0 = match (price, rolls) {
            (Some(price), Some((rolls, _))) if price.per == Per::Roll => price.amount.0.saturating_mul(rolls),
            _ => cost.0.saturating_mul(count),
        };
        cost
    });
    BandRow {
        edges: row.edges * count,
        net: row.net * count,
        trimmed: row.trimmed * count,
        to_buy,
        rolls,
        cost,
        ..row.clone()
    }
}

fn empty() -> Plan {
    Plan {
        title: String::new(),
        printing: Printing::default(),
        cutting_tolerance: Length::ZERO,
        cut_list: Vec::new(),
        hardware: Vec::new(),
        bands: Vec::new(),
        buying: Vec::new(),
        settings: Vec::new(),
        mark_outs: Vec::new(),
        fits: Vec::new(),
        squares: Vec::new(),
        weights: Vec::new(),
        steps: Vec::new(),
        notes: Vec::new(),
        cautions: Vec::new(),
        cutting: Cutting::default(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::table::tests::sample;

    #[test]
    fn quantities_are_times_the_count_and_rolls_are_counted_anew() {
        let plan = sample();
        let model = Model::new("", plan.printing);
        let three = times(&plan, &model, 3);
        assert_eq!(three.cut_list[0].quantity, 6);
        assert_eq!(three.cut_list[0].length, plan.cut_list[0].length);
        assert_eq!(three.hardware[0].quantity, 3);
        // One box takes 44 in of a roll of 600 in; fourteen take 616 in, so two rolls.
        assert_eq!(times(&plan, &model, 13).bands[0].rolls, Some((1, Length::from_inch(600, 1))));
        assert_eq!(times(&plan, &model, 14).bands[0].rolls, Some((2, Length::from_inch(600, 1))));
        assert_eq!(three.bands[0].to_buy, Length::from_inch(132, 1));
    }

    #[test]
    fn no_cell_is_a_formula() {
        let text = |text: &str| Cell::Text(text.to_owned());
        let rows = vec![vec![text("=1+1"), text("a, \"b\""), text("3-4"), Cell::Number(-3), Cell::Empty]];
        assert_eq!(csv(rows), b"'=1+1,\"a, \"\"b\"\"\",'3-4,-3,\r\n");
    }
}
