//! Common sheets, boards and bands.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock};

use super::species::species;
use crate::base::Length;
use crate::model::{Material, Stock, StockForm};

/// The catalog's stock of a name.
///
/// The name is taken as a maker types it: capitals, an inch mark or `in` after the thickness, and a missing space before
/// `mm` do not matter.
pub fn stock(name: &str) -> Option<Arc<Stock>> {
    let catalog = &*CATALOG;
    let place = catalog.places.get(name).copied().or_else(|| catalog.places.get(plain(name).as_str()).copied())?;
    catalog.rows.get(place).cloned()
}

/// The names of all stock of the catalog, in its order.
pub fn stock_names() -> impl Iterator<Item = &'static str> {
    CATALOG.rows.iter().map(|stock| stock.name.as_str())
}

/// The thickness by which boards are sold and board feet are counted, before they are dressed.
///
/// A board that was measured thinner than a name of whole quarters of an inch (named 1 in, measured 13/16 in) is sold by
/// that name. Any other named in fractions of an inch is sold by the quarters that it is dressed from, never less than one
/// inch. Boards named in millimetres are counted as named.
pub fn sold_thickness(stock: &Stock) -> Length {
    let named = stock.named;
    let quarter = Length::from_inch(1, 4);
    let is_rough_name = named >= Length::INCH && named.nm() % quarter.nm() == 0;
    if !is_inch_size(named) || (is_rough_name && stock.measured.is_some_and(|measured| measured < named)) {
        return named;
    }
    let row = DRESSED.iter().find(|(_, sixteenths)| named <= Length::from_inch(*sixteenths, 16));
    // From memory: beyond the table a quarter of an inch is dressed away, and the next quarter is what is sold.
    row.map_or_else(
        || {
            let quarters = (named + quarter * 2 - Length::from_nm(1)).nm() / quarter.nm();
            quarter * quarters
        },
        |(quarters, _)| quarter * *quarters,
    )
}

/// Whether a size is a whole number of 64ths of an inch, as sizes named in inches are.
pub(super) fn is_inch_size(size: Length) -> bool {
    size.nm() % Length::from_inch(1, 64).nm() == 0
}

/// Hardwood thickness in quarters of an inch, and what is left in sixteenths when both faces are dressed.
// SEEN: engineeringtoolbox.com, hardwood-lumber-dimensions-chart-d_1462 (column S2S); 10/4 is left out, it is not there.
// That stock under one inch counts as one inch is SEEN: goodwoodcorp.com, HardWoodTerminology.
const DRESSED: [(i64, i64); 7] = [(4, 13), (5, 17), (6, 21), (7, 24), (8, 28), (12, 44), (16, 60)];

struct Catalog {
    rows: Vec<Arc<Stock>>,
    places: HashMap<String, usize>,
}

static CATALOG: LazyLock<Catalog> = LazyLock::new(|| {
    let mut rows = Vec::new();
    sheets(&mut rows);
    boards(&mut rows);
    bands(&mut rows);
    let mut places = HashMap::new();
    for (place, stock) in rows.iter().enumerate() {
        places.entry(plain(&stock.name)).or_insert(place);
        places.insert(stock.name.clone(), place);
    }
    Catalog { rows: rows.into_iter().map(Arc::new).collect(), places }
});

/// The name without what makers add or leave out: capitals, the inch mark, the space before `mm`, doubled spaces.
fn plain(name: &str) -> String {
    let lower = name.to_lowercase().replace(['"', '″', '”'], " ");
    let mut words: Vec<String> = Vec::new();
    for word in lower.split_whitespace() {
        let is_number = |text: &str| {
            !text.is_empty() && text.starts_with(|c: char| c.is_ascii_digit()) && !text.contains(char::is_alphabetic)
        };
        let after_number = words.last().is_some_and(|last| is_number(last));
        if after_number && (word == "in" || word == "inch") {
            continue;
        }
        match word.strip_suffix("mm").or_else(|| word.strip_suffix("in")) {
            Some(number) if is_number(number) => {
                words.push(number.to_owned());
                if word.ends_with("mm") {
                    words.push("mm".to_owned());
                }
            }
            _ => words.push(word.to_owned()),
        }
    }
    words.join(" ")
}

fn sheets(rows: &mut Vec<Stock>) {
    // Common practice, no source: inch plywood and hardboard come in sheets of 4 by 8 feet.
    let inch_sheet = || StockForm::Sheet { length: Length::from_inch(96, 1), width: Length::from_inch(48, 1) };
    // Common practice, no source: fibreboard and particleboard leave the press an inch over, 49 by 97 inches.
    let inch_oversize = || StockForm::Sheet { length: Length::from_inch(97, 1), width: Length::from_inch(49, 1) };
    // SEEN: plyterra.com, size-and-koinos, lists panels of 1220 by 2440 mm.
    let metric_sheet = || StockForm::Sheet { length: Length::from_mm(2440), width: Length::from_mm(1220) };

    for row in species().iter().filter(|row| row.faces_plywood) {
        for thickness in inches(&[(1, 4), (3, 8), (1, 2), (5, 8), (3, 4), (1, 1)]) {
            let name = format!("{} {} plywood", thickness.0, row.short);
            rows.push(sheet(name, Material::HardwoodPlywood, inch_sheet(), thickness.1, 2));
        }
    }
    for thickness in inches(&[(1, 4), (3, 8), (1, 2), (5, 8), (3, 4)]) {
        let name = format!("{} sanded plywood", thickness.0);
        rows.push(sheet(name, Material::SandedPlywood, inch_sheet(), thickness.1, 1));
    }
    for row in species().iter().filter(|row| row.faces_plywood) {
        // SEEN: plyterra.com, size-and-koinos, the sanded thicknesses of a birch mill; other faces follow by common practice.
        for um in [4_000, 6_500, 9_000, 12_000, 15_000, 18_000, 21_000, 24_000] {
            let thickness = millimetres(um);
            let name = format!("{} {} plywood", thickness.0, row.short);
            rows.push(sheet(name, Material::MetricPlywood, metric_sheet(), thickness.1, 2));
        }
    }
    for thickness in inches(&[(1, 8), (1, 4), (3, 8), (1, 2), (5, 8), (3, 4), (1, 1)]) {
        rows.push(sheet(format!("{} MDF", thickness.0), Material::Mdf, inch_oversize(), thickness.1, 2));
    }
    for mm in [3, 6, 9, 12, 15, 16, 18, 19, 22, 25, 30] {
        rows.push(sheet(format!("{mm} mm MDF"), Material::Mdf, metric_sheet(), Length::from_mm(mm), 2));
    }
    for thickness in inches(&[(1, 8), (1, 4)]) {
        rows.push(sheet(format!("{} hardboard", thickness.0), Material::Hardboard, inch_sheet(), thickness.1, 1));
    }
    for mm in [3, 5, 6] {
        rows.push(sheet(format!("{mm} mm hardboard"), Material::Hardboard, metric_sheet(), Length::from_mm(mm), 1));
    }
    for (kind, faces) in [("particleboard", 0), ("melamine particleboard", 2)] {
        for thickness in inches(&[(1, 2), (5, 8), (3, 4)]) {
            let name = format!("{} {kind}", thickness.0);
            rows.push(sheet(name, Material::Particleboard, inch_oversize(), thickness.1, faces));
        }
        for mm in [12, 16, 18, 19, 25] {
            let name = format!("{mm} mm {kind}");
            rows.push(sheet(name, Material::Particleboard, metric_sheet(), Length::from_mm(mm), faces));
        }
    }
}

fn boards(rows: &mut Vec<Stock>) {
    for row in species() {
        let softwood = matches!(row.name, "pine" | "spruce");
        // SEEN: engineeringtoolbox.com, hardwood-lumber-dimensions-chart-d_1462: what S2S leaves of each rough thickness.
        // That 4/4 is often sold at 3/4 is common practice; woodbin.com says that there is no standard for it.
        let surfaced = "S2S thickness: engineeringtoolbox.com hardwood lumber chart; 1/2 and 3/4 are common practice";
        for (name, thickness) in [
            ("1/2", Length::from_inch(1, 2)),
            ("3/4", Length::from_inch(3, 4)),
            ("4/4", Length::from_inch(13, 16)),
            ("5/4", Length::from_inch(17, 16)),
            ("6/4", Length::from_inch(21, 16)),
            ("8/4", Length::from_inch(7, 4)),
        ] {
            if softwood && name != "3/4" {
                continue;
            }
            let form = if softwood { softwood_boards() } else { any_board() };
            rows.push(wood(format!("{name} {} board", row.name), row.name, form, thickness, surfaced));
        }
        // Common practice, no source: thicknesses to which boards named in millimetres are dressed.
        for mm in [12, 15, 18, 20, 22, 25, 32, 40] {
            let name = format!("{mm} mm {} board", row.name);
            rows.push(wood(name, row.name, any_board(), Length::from_mm(mm), COMMON));
        }
    }
}

/// Hardwood boards come in random widths and lengths.
fn any_board() -> StockForm {
    StockForm::Board { widths: Vec::new(), lengths: Vec::new() }
}

/// Softwood boards dressed four sides, one inch nominal: 1x2 to 1x12.
fn softwood_boards() -> StockForm {
    // SEEN (secondary): engineeringtoolbox.com, softwood-lumber-standard-d_1270, dry face widths of PS 20.
    let widths = [(3, 2), (5, 2), (7, 2), (11, 2), (29, 4), (37, 4), (45, 4)];
    // Common practice, no source: lengths that a yard keeps, in feet.
    let lengths = [6, 8, 10, 12];
    StockForm::Board {
        widths: widths.map(|(n, d)| Length::from_inch(n, d)).to_vec(),
        lengths: lengths.map(|feet| Length::from_inch(feet * 12, 1)).to_vec(),
    }
}

fn bands(rows: &mut Vec<Stock>) {
    // Common practice, no source: iron-on veneer is about 0.6 mm with its glue; small rolls hold 25 feet or 7.5 m.
    let veneer = Length::from_um(600);
    let inch_roll = Some(Length::from_inch(25 * 12, 1));
    let metric_roll = Some(Length::from_mm(7_500));
    let veneers = species().iter().filter(|row| row.faces_plywood).map(|row| row.short);
    for face in veneers {
        let material = || Material::Wood(face.to_owned());
        for (words, width) in inches(&[(7, 8), (2, 1)]) {
            let form = StockForm::Band { width, roll: inch_roll, taken_off: false };
            rows.push(band(format!("{face} veneer band {words}"), material(), form, veneer));
        }
        for mm in [22, 50] {
            let form = StockForm::Band { width: Length::from_mm(mm), roll: metric_roll, taken_off: false };
            rows.push(band(format!("{face} veneer band {mm} mm"), material(), form, veneer));
        }
    }
    // Common practice, no source: melamine band is about 0.4 mm and sold like veneer.
    for (words, width) in inches(&[(7, 8)]) {
        let form = StockForm::Band { width, roll: inch_roll, taken_off: false };
        rows.push(band(format!("melamine band {words}"), Material::Other, form, Length::from_um(400)));
    }
    let form = StockForm::Band { width: Length::from_mm(22), roll: metric_roll, taken_off: false };
    rows.push(band("melamine band 22 mm".to_owned(), Material::Other, form, Length::from_um(400)));
    // Common practice, no source: from 1 mm on, the core is cut smaller by the band; rolls of 50 m.
    for (thickness, taken_off) in [(500, false), (1_000, true), (2_000, true)] {
        for width in [22, 28, 43] {
            let form =
                StockForm::Band { width: Length::from_mm(width), roll: Some(Length::from_mm(50_000)), taken_off };
            let (words, thickness) = millimetres(thickness);
            rows.push(band(format!("{words} plastic band {width} mm"), Material::Other, form, thickness));
        }
    }
    for row in species().iter().filter(|row| !row.short.is_empty()) {
        let material = || Material::Wood(row.short.to_owned());
        // Common practice, no source: lipping is ripped 1/16 in wider than a 3/4 in panel and trimmed flush.
        for (words, thickness) in inches(&[(1, 8), (1, 4), (3, 8), (1, 2), (3, 4)]) {
            let form = StockForm::Band { width: Length::from_inch(13, 16), roll: None, taken_off: true };
            rows.push(band(format!("{words} {} lipping", row.short), material(), form, thickness));
        }
        // Common practice, no source: 2 mm wider than an 18 mm panel.
        for mm in [3, 6, 10, 12, 20] {
            let form = StockForm::Band { width: Length::from_mm(20), roll: None, taken_off: true };
            rows.push(band(format!("{mm} mm {} lipping", row.short), material(), form, Length::from_mm(mm)));
        }
    }
}

const COMMON: &str = "common practice, no source";

fn sheet(name: String, material: Material, form: StockForm, thickness: Length, show_faces: u8) -> Stock {
    Stock { show_faces, source: COMMON, ..Stock::new(&name, material, form, thickness) }
}

fn wood(name: String, species: &str, form: StockForm, thickness: Length, source: &'static str) -> Stock {
    Stock { source, ..Stock::new(&name, Material::Wood(species.to_owned()), form, thickness) }
}

fn band(name: String, material: Material, form: StockForm, thickness: Length) -> Stock {
    Stock { source: COMMON, ..Stock::new(&name, material, form, thickness) }
}

/// Sizes in inches with the words for them; a whole number is followed by `in`, so that it cannot be taken for a count.
fn inches(sizes: &'static [(i64, i64)]) -> impl Iterator<Item = (String, Length)> {
    sizes.iter().map(|&(n, d)| {
        let words = if d == 1 { format!("{n} in") } else { format!("{n}/{d}") };
        (words, Length::from_inch(n, d))
    })
}

fn millimetres(um: i64) -> (String, Length) {
    let length = Length::from_um(um);
    (length.to_string(), length)
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    #[test]
    fn names_are_unique_and_found() {
        let mut seen = HashSet::new();
        for name in stock_names() {
            assert!(seen.insert(name), "{name} comes twice");
            assert_eq!(stock(name).unwrap().name, name);
            assert!(!stock(name).unwrap().source.is_empty(), "{name}");
            assert!(stock(name).unwrap().named.is_positive());
        }
        let plain_names: HashSet<String> = stock_names().map(plain).collect();
        assert_eq!(plain_names.len(), stock_names().count(), "two names are one when typed loosely");
    }

    #[test]
    fn names_of_the_scheme_are_there() {
        for (name, thickness) in [
            ("3/4 birch plywood", Length::from_inch(3, 4)),
            ("1/4 birch plywood", Length::from_inch(1, 4)),
            ("18 mm birch plywood", Length::from_mm(18)),
            ("6.5 mm birch plywood", Length::from_um(6_500)),
            ("1/2 MDF", Length::from_inch(1, 2)),
            ("1 in MDF", Length::INCH),
            ("3/4 hard maple board", Length::from_inch(3, 4)),
            ("5/4 cherry board", Length::from_inch(17, 16)),
            ("maple veneer band 7/8", Length::from_um(600)),
            ("1/4 maple lipping", Length::from_inch(1, 4)),
            ("2 mm plastic band 22 mm", Length::from_mm(2)),
            ("18 mm melamine particleboard", Length::from_mm(18)),
        ] {
            assert_eq!(stock(name).unwrap().thickness(), thickness, "{name}");
        }
    }

    #[test]
    fn a_makers_spelling_is_understood() {
        for (typed, name) in [
            ("3/4\" Birch Plywood", "3/4 birch plywood"),
            ("3/4 in birch plywood", "3/4 birch plywood"),
            ("3/4in birch  plywood", "3/4 birch plywood"),
            ("18mm birch plywood", "18 mm birch plywood"),
            ("1/2 mdf", "1/2 MDF"),
            ("1 MDF", "1 in MDF"),
            ("maple veneer band 7/8\"", "maple veneer band 7/8"),
        ] {
            assert_eq!(stock(typed).map(|stock| stock.name.clone()).as_deref(), Some(name), "{typed}");
        }
        assert!(stock("18 birch plywood").is_none(), "18 what is not said");
        assert!(stock("").is_none());
    }

    #[test]
    fn boards_are_sold_by_the_quarter_they_are_dressed_from() {
        // S2S column: 13/16 of 4/4, 1-1/16 of 5/4, 1-5/16 of 6/4, 1-3/4 of 8/4; under one inch counts as one inch.
        for (name, sold) in [
            ("1/2 cherry board", Length::INCH),
            ("3/4 hard maple board", Length::INCH),
            ("4/4 hard maple board", Length::INCH),
            ("5/4 hard maple board", Length::from_inch(5, 4)),
            ("6/4 hard maple board", Length::from_inch(3, 2)),
            ("8/4 hard maple board", Length::from_inch(2, 1)),
            ("20 mm beech board", Length::from_mm(20)),
        ] {
            assert_eq!(sold_thickness(&stock(name).unwrap()), sold, "{name}");
        }
        let mut rough = Stock::new("4/4 ash", Material::Wood("ash".into()), any_board(), Length::INCH);
        // One inch when dressed comes out of 5/4; named one inch and measured 13/16, it is 4/4.
        assert_eq!(sold_thickness(&rough), Length::from_inch(5, 4));
        rough.measured = Some(Length::from_inch(13, 16));
        assert_eq!(sold_thickness(&rough), Length::INCH);
        // 4 in dressed: 4-1/4, a whole number of quarters already.
        rough.named = Length::from_inch(4, 1);
        rough.measured = None;
        assert_eq!(sold_thickness(&rough), Length::from_inch(17, 4));
    }
}
