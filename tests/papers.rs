//! The papers as other programs read them: CSV by its rules and through a spreadsheet, JSON by its published schema.

#![allow(clippy::unwrap_used, reason = "a test's failure is its message")]

use std::path::Path;
use std::process::Command;
use std::sync::Arc;

use casewright::base::{Face, Length, Printing, Solid, Unit};
use casewright::catalog;
use casewright::diag::Finding;
use casewright::model::{
    Banding, Bore, Feature, HardwareKind, HardwareUnit, HardwareUse, JointId, MarkOut, Material, Model, Part, PartId,
    Setting, Shape, Shop, Squareness, Step, Stock, StockForm,
};
use casewright::papers::{self, Subject};
use casewright::plan::{self, Plan};

/// Names that a spreadsheet would like to make something else of, as a maker may type them.
const AWKWARD: [&str; 22] = [
    "3/4",
    "1-2",
    "2024-01-05",
    "1e5",
    "TRUE",
    "=1+2",
    "@SUM(A1)",
    "+4",
    "-4",
    "00123",
    "12:30",
    "Jan 5",
    "5%",
    "$5",
    "1,5",
    "a \"quoted\" one",
    "a, b; c",
    "two\nlines",
    " =1+2",
    "'tis",
    "#N/A",
    "plain",
];

fn inch(n: i64, d: i64) -> Length {
    Length::from_inch(n, d)
}

/// Parts of every awkward name, with sizes at every 32nd of an inch and beyond it, in pieces of awkward names.
fn awkward_job(unit: Unit) -> Model {
    let mut model = Model::new("=job", Printing { unit, denominator: 32 });
    let form = StockForm::Sheet { length: inch(96, 1), width: inch(48, 1) };
    for (i, name) in (1_i64..).zip(AWKWARD) {
        let piece = model.add_piece(name, None);
        let mut stock = Stock::new(name, Material::HardwoodPlywood, form.clone(), inch(3, 4));
        stock.measured = Some(Length::from_um(18_000 + i));
        let size = [inch(30 * 32 + i, 32), inch(11, 1) + Length::from_um(i), stock.thickness()];
        let mut part = Part::new(name, piece, Arc::new(stock), Solid::new([Length::ZERO; 3], size));
        let band = catalog::stock("birch veneer band 7/8").expect("the catalog has it");
        part.bands.push(Banding { stock: band, edge: Face::Front, runs_through: true, taken_off: false });
        let hole = Bore { diameter: inch(3, 8), pocket: true };
        let solid = Solid::new([inch(1, 1), inch(1, 1), Length::ZERO], [inch(2, 1), inch(2, 1), inch(1, 2)]);
        part.features.push(Feature {
            name: "pocket hole",
            shape: Shape::Bore(hole),
            solid,
            face: Face::Bottom,
            joint: JointId(0),
        });
        part.note = Some(name.to_owned());
        let part = model.add_part(part);
        model.hardware.push(HardwareUse {
            item: name.to_owned(),
            kind: HardwareKind::Screw,
            size: Some(inch(5, 4)),
            gauge: Some(8),
            quantity: i,
            unit: HardwareUnit::Each,
            purpose: name.to_owned(),
            note: name.to_owned(),
            slides: None,
            part: Some(part),
            at: None,
        });
        model.settings.push(Setting {
            what: "fence",
            work: name.to_owned(),
            value: inch(i, 64),
            note: name.to_owned(),
            part,
        });
        model.steps.push(Step { piece: Model::ROOT, stage: casewright::model::Stage::Build, text: name.to_owned() });
        model.mark_outs.push(MarkOut { what: name.to_owned(), from: name.to_owned(), distance: inch(i, 16) });
        model.squares.push(Squareness { what: name.to_owned(), width: inch(3 * i, 1), depth: inch(4 * i, 1) });
    }
    model
}

fn written(model: &Model, plan: &Plan) -> Vec<(&'static str, Vec<u8>)> {
    let findings = [Finding::warning("shelf-sag", "shelf `a` would sag").hint("use thicker stock")];
    let subject = Subject { model, plan, findings: &findings };
    papers::ALL.iter().map(|paper| (paper.file, (paper.write)(subject))).collect()
}

fn papers_of(model: &Model) -> Vec<(&'static str, Vec<u8>)> {
    written(model, &plan::plan(model, &Shop::default()))
}

fn is_csv(file: &str) -> bool {
    Path::new(file).extension().is_some_and(|ending| ending == "csv")
}

fn records(bytes: &[u8]) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(false).from_reader(bytes);
    reader.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect()
}

/// Columns that hold numbers: sizes named by their unit, counts and amounts.
fn is_number_column(file: &str, name: &str) -> bool {
    const AMOUNTS: [&str; 12] = [
        "parts",
        "net",
        "amount",
        "lost_percent",
        "net_length",
        "amount_length",
        "rolls",
        "cost",
        "sheet",
        "alike",
        "cut",
        "price",
    ];
    let sized = ["_in", "_mm", "_ft", "_m"].iter().any(|unit| name.ends_with(unit)) && name != "used_in";
    // The edge-band bill has its net length in trade notation beside the exact one.
    let amount = AMOUNTS.contains(&name) && !(file == "edge-band.csv" && name == "net");
    sized || amount || name == "qty" || name == "edges"
}

#[test]
fn every_paper_has_its_own_file_and_is_the_same_twice() {
    let mut files: Vec<_> = papers::ALL.iter().map(|paper| paper.file).collect();
    files.sort_unstable();
    files.dedup();
    assert_eq!(files.len(), papers::ALL.len());
    let model = awkward_job(Unit::Inch);
    assert_eq!(papers_of(&model), papers_of(&model.clone()));
}

#[test]
fn an_empty_job_has_papers_too() {
    for unit in [Unit::Inch, Unit::Millimetre] {
        let model = Model::new("", Printing { unit, denominator: 16 });
        for (file, bytes) in papers_of(&model) {
            assert!(!bytes.is_empty(), "{file}");
            if is_csv(file) {
                assert_eq!(records(&bytes).len(), 1, "{file} holds its header alone");
            }
        }
    }
}

#[test]
fn the_rule_for_cells_holds_in_every_table() {
    for unit in [Unit::Inch, Unit::Millimetre] {
        for (file, bytes) in papers_of(&awkward_job(unit)).iter().filter(|(file, _)| is_csv(file)) {
            let text = String::from_utf8(bytes.clone()).unwrap();
            assert!(text.ends_with("\r\n"), "{file}");
            let rows = records(bytes);
            let header = &rows[0];
            for row in &rows[1..] {
                assert_eq!(row.len(), header.len(), "{file}");
                for (name, cell) in header.iter().zip(row) {
                    if is_number_column(file, name) {
                        let decimal = cell.chars().all(|c| c.is_ascii_digit() || c == '.');
                        let places = cell.split_once('.').map_or(0, |(_, places)| places.len());
                        assert!(decimal && places <= 6, "{file} {name}: {cell}");
                    } else {
                        // What is harmless needs no further quote.
                        assert_eq!(papers::harmless(cell), *cell, "{file} {name}");
                    }
                }
            }
        }
    }
}

#[test]
fn quantities_agree_between_papers() {
    let model = awkward_job(Unit::Inch);
    let plan = plan::plan(&model, &Shop::default());
    let parts = i64::try_from(model.parts.len()).unwrap();
    assert_eq!(plan.cut_list.iter().map(|row| row.quantity).sum::<i64>(), parts);
    assert_eq!(plan.buying.iter().map(|row| row.parts).sum::<i64>(), parts);
    assert_eq!(plan.settings.iter().map(|row| row.quantity).sum::<i64>(), parts);
    let mut placed: Vec<PartId> = plan.cut_list.iter().flat_map(|row| row.parts.clone()).collect();
    placed.sort_unstable();
    assert!(placed.iter().copied().eq(model.part_ids().map(|(id, _)| id)));
    let edges: usize = model.parts.iter().map(|part| part.bands.len()).sum();
    assert_eq!(plan.bands.iter().map(|row| row.edges).sum::<i64>(), i64::try_from(edges).unwrap());
}

#[test]
fn the_published_schema_is_the_schema_of_what_is_written() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/job.schema.json");
    let schema = papers::job_schema();
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, &schema).unwrap();
    }
    let published = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(published == schema, "docs/job.schema.json is out of date: run this test with UPDATE_SCHEMA=1");
}

#[test]
fn a_job_is_valid_by_the_published_schema() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/job.schema.json");
    let schema: serde_json::Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for model in [awkward_job(Unit::Inch), awkward_job(Unit::Millimetre), Model::new("", Printing::default())] {
        let papers = papers_of(&model);
        let (_, bytes) = papers.iter().find(|(file, _)| *file == "job.json").unwrap();
        let job: serde_json::Value = serde_json::from_slice(bytes).unwrap();
        let faults: Vec<String> = validator.iter_errors(&job).map(|error| error.to_string()).collect();
        assert!(faults.is_empty(), "{faults:?}");
    }
    assert!(!validator.is_valid(&serde_json::json!({ "format": "casewright-job", "version": 1 })));
}

/// Opens the tables in a spreadsheet and saves them again: first as a spreadsheet of its own, then as CSV, and compares every cell.
#[test]
fn a_spreadsheet_leaves_every_cell_as_it_was() {
    let Some(office) = ["soffice", "libreoffice"]
        .into_iter()
        .find(|name| Command::new(name).arg("--version").output().is_ok_and(|output| output.status.success()))
    else {
        #[allow(clippy::print_stderr, reason = "a skipped test must say so")]
        {
            eprintln!("skipped: no LibreOffice is installed here");
        }
        return;
    };
    let folder = tempfile::tempdir().unwrap();
    let mut tables = Vec::new();
    for unit in [Unit::Inch, Unit::Millimetre] {
        for (file, bytes) in papers_of(&awkward_job(unit)).into_iter().filter(|(file, _)| is_csv(file)) {
            let name = format!("{}-{file}", unit.short());
            std::fs::write(folder.path().join(&name), &bytes).unwrap();
            tables.push((name, bytes));
        }
    }
    let convert = |from: &str, to: &str, into: &Path| {
        let files: Vec<_> = tables.iter().map(|(name, _)| folder.path().join(name.replace(".csv", from))).collect();
        let output = Command::new(office)
            .arg(format!("-env:UserInstallation=file://{}", folder.path().join("profile").display()))
            .args(["--headless", "--convert-to", to, "--outdir"])
            .arg(into)
            .args(files)
            .output()
            .unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    };
    let back = folder.path().join("back");
    convert(".csv", "xlsx", folder.path());
    convert(".xlsx", "csv", &back);
    for (name, bytes) in &tables {
        let (before, after) = (records(bytes), records(&std::fs::read(back.join(name)).unwrap()));
        assert_eq!(before.len(), after.len(), "{name}");
        for (row, (before, after)) in before.iter().zip(&after).enumerate() {
            for (column, (written, read)) in before.iter().zip(after).enumerate() {
                assert_eq!(written, read, "{name}, row {row}, column {column}");
            }
        }
    }
}
