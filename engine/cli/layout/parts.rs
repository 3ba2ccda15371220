//! The list of parts: a model of loose parts, so that marks, plan and papers come about as they do for a recipe.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use casewright::base::{Axis, Length, Printing, Solid, Unit};
use casewright::catalog;
use casewright::checks;
use casewright::diag::{Finding, did_you_mean};
use casewright::model::{Model, Part, Shop, Stock};
use casewright::proof::Proved;

use super::sheet_rows::{self, CODE, Row};

const KNOWN: [&str; 7] = ["part", "qty", "length", "width", "stock", "grain", "note"];
const WANTED: [&str; 4] = ["part", "length", "width", "stock"];

/// The most of one row, and of the whole list.
const MOST: u32 = 10_000;
const PARTS: usize = 20_000;

/// Reads the list. All faults are told at once; the model has the rows that are sound.
pub fn read(file: &str, text: &str, unit: Option<Unit>, shop: &Shop) -> (Model, Vec<Finding>) {
    let unit = unit.unwrap_or(Unit::Inch);
    let name = Path::new(file).file_stem().map_or_else(|| file.to_owned(), |stem| stem.to_string_lossy().into_owned());
    let mut model = Model::new(&name, Printing { unit, denominator: shop.denominator });
    let mut faults = Vec::new();
    let rows = sheet_rows::read(file, text, &KNOWN, &WANTED, &mut faults);
    let mut stocks = BTreeMap::new();
    let mut up = Length::ZERO;
    for row in &rows {
        if row.too_many(&mut faults) {
            break;
        }
        add(&mut model, row, unit, shop, &mut stocks, &mut up, &mut faults);
    }
    if rows.is_empty() && faults.is_empty() {
        faults.push(
            Finding::error(CODE, "the list has a header and no parts").hint("write a part in each line below it"),
        );
    }
    if faults.is_empty() {
        // A list has no joints and no places; that each part comes out of its stock has to hold all the same.
        let proof = Proved::new(&model);
        for check in checks::ALL.iter().filter(|check| ["part-beyond-stock", "too-small-to-cut"].contains(&check.code))
        {
            (check.run)(checks::Subject { model: &model, shop, proof: &proof }, &mut faults);
            faults.dedup_by(|a, b| a.at == b.at);
        }
    }
    (model, faults)
}

fn add(
    model: &mut Model,
    row: &Row,
    unit: Unit,
    shop: &Shop,
    stocks: &mut BTreeMap<String, Option<Arc<Stock>>>,
    up: &mut Length,
    faults: &mut Vec<Finding>,
) {
    let name = row.text("part").map(str::to_owned);
    if name.is_none() {
        faults.push(row.fault("part", "the cell is empty", "write what the part is called"));
    }
    let length = row.size("length", unit, faults);
    let width = row.size("width", unit, faults);
    let count = row.count("qty", MOST, faults);
    let stock = stock(row, shop, stocks, faults);
    let grain = grain(row, stock.as_deref(), faults);
    let (Some(name), Some(length), Some(width), Some(count), Some(stock), Some(grain)) =
        (name, length, width, count, stock, grain)
    else {
        return;
    };
    if model.parts.len() + count as usize > PARTS {
        faults.push(row.fault("qty", &format!("the list has more than {PARTS} parts"), "split it into several lists"));
        return;
    }
    let thickness = stock.thickness();
    for _ in 0..count {
        let low = [Length::ZERO, Length::ZERO, *up];
        let Ok(high) = up.plus(thickness) else { return };
        let mut part = Part::new(&name, Model::ROOT, stock.clone(), Solid::new(low, [length, width, high]));
        part.thickness = Axis::Z;
        part.grain = grain;
        part.loose = Some("it is one of a list".to_owned());
        part.note = row.text("note").map(str::to_owned);
        part.at = Some(row.at("part"));
        model.add_part(part);
        *up = high;
    }
}

/// The shop's stock of a name, or the catalog's.
pub fn named(name: &str, shop: &Shop) -> Option<Arc<Stock>> {
    let own = shop.find_stock(name).cloned();
    own.or_else(|| {
        let found = catalog::stock(name)?;
        Some(shop.find_stock(&found.name).cloned().unwrap_or(found))
    })
}

fn stock(
    row: &Row,
    shop: &Shop,
    known: &mut BTreeMap<String, Option<Arc<Stock>>>,
    faults: &mut Vec<Finding>,
) -> Option<Arc<Stock>> {
    let Some(name) = row.text("stock") else {
        faults.push(row.fault(
            "stock",
            "the cell is empty",
            "write the stock as the catalog or the shop file names it",
        ));
        return None;
    };
    let stock = known.entry(name.to_owned()).or_insert_with(|| named(name, shop)).clone();
    match stock {
        Some(stock) if stock.is_band() => {
            let message = format!("`{name}` is a band, and no part is cut from it");
            faults.push(row.fault("stock", &message, "name a sheet or a board"));
            None
        }
        None => {
            let mut names: Vec<&str> = shop.stock.iter().map(|stock| stock.name.as_str()).collect();
            for own in catalog::stock_names() {
                names.push(own);
            }
            let near = did_you_mean(name, names).unwrap_or_default();
            faults.push(row.fault("stock", &format!("there is no stock `{name}`"), &near));
            None
        }
        found => found,
    }
}

#[expect(clippy::option_option, reason = "a fault, no grain, or an axis: three answers, used once")]
/// The axis of the grain: x along the length, y along the width.
fn grain(row: &Row, stock: Option<&Stock>, faults: &mut Vec<Finding>) -> Option<Option<Axis>> {
    let has = stock.is_none_or(|stock| stock.grain);
    match row.text("grain").map(str::to_lowercase).as_deref() {
        None => Some(has.then_some(Axis::X)),
        Some("length" | "along" | "yes") => Some(has.then_some(Axis::X)),
        Some("width" | "across") => Some(has.then_some(Axis::Y)),
        Some("any" | "no" | "none") => Some(None),
        Some(other) => {
            let message = format!("`{other}` is no direction of grain");
            faults.push(row.fault("grain", &message, "write length, width or any; or leave the cell empty"));
            None
        }
    }
}
