//! Layer 3: the shop file: TOML text to a [`Shop`], or findings with their lines.
//!
//! Sizes are texts in the notations of the trade, or plain numbers in the file's unit. A plain number is read from the digits
//! that stand in the file, never through a floating number, so that 0.703 is exact.

mod air;
mod cutting;

pub use cutting::{CUTTING_KEYS, SIZE_KEYS, SUPPLY_KEYS};

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::base::{Length, Printing, Ratio, Unit, parse_length, parse_ratio};
use crate::catalog;
use crate::diag::{At, Finding, did_you_mean, nearest};
use crate::model::{Fits, Material, Money, Per, Price, Shop, Stock, StockForm, SupplySize};
use cutting::InHand;

/// The code of findings about text that is not TOML.
pub const SYNTAX: &str = "shop-file-syntax";
/// The code of findings about keys: unknown, given twice, missing or out of place.
pub const KEY: &str = "shop-file-key";
/// The code of findings about values that cannot be what their key asks for.
pub const VALUE: &str = "shop-file-value";

/// A key of the shop file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Key {
    /// Its name.
    pub name: &'static str,
    /// What it takes.
    pub takes: &'static str,
    /// What it is for.
    pub help: &'static str,
}

/// The keys of the shop itself.
pub const SHOP_KEYS: [Key; 14] = [
    Key { name: "units", takes: "\"in\" or \"mm\"", help: "the unit that the shop works in" },
    Key { name: "rule", takes: "16, 32 or 64", help: "the finest division of the rule, to the inch" },
    Key { name: "kerf", takes: "a length", help: "what the saw blade takes away" },
    Key { name: "trim", takes: "a length", help: "what is trimmed from each factory edge of a sheet" },
    Key {
        name: "cutting_tolerance",
        takes: "a length",
        help: "how far a cut may be off, each way; the assembly sheet says it",
    },
    Key { name: "waste", takes: "a percentage", help: "what is bought beyond what the parts need" },
    Key { name: "band_allowance", takes: "a length", help: "band cut longer than its edge at each end" },
    Key { name: "driest_humidity", takes: "a percentage", help: "the air where the work stands, in its driest month" },
    Key { name: "driest_temperature", takes: "a temperature", help: "the temperature there in that month" },
    Key { name: "dampest_humidity", takes: "a percentage", help: "the air in its dampest month" },
    Key { name: "dampest_temperature", takes: "a temperature", help: "the temperature there in that month" },
    Key { name: "fits", takes: "a table of three lengths", help: "how much wider than what goes in a cut is made" },
    Key { name: "stock", takes: "a table for each stock", help: "what is on the rack" },
    Key { name: "cutting", takes: "a table", help: "how sheets and boards are cut up" },
];

/// The keys of the fits.
pub const FIT_KEYS: [Key; 3] = [
    Key { name: "snug", takes: "a length", help: "the fit of what is glued or driven home" },
    Key { name: "sliding", takes: "a length", help: "the fit of what slides in and stays free to move" },
    Key { name: "loose", takes: "a length", help: "the fit of what is put in and taken out" },
];

/// The keys of a stock.
pub const STOCK_KEYS: [Key; 15] = [
    Key { name: "kind", takes: "\"sheet\", \"board\" or \"band\"", help: "the form in which it is bought" },
    Key { name: "material", takes: "a word from the list", help: "what it is made of" },
    Key { name: "species", takes: "a text", help: "the wood, when the material is \"wood\"" },
    Key { name: "named", takes: "a length", help: "the thickness that it is sold as" },
    Key { name: "measured", takes: "a length", help: "the thickness that was measured" },
    Key { name: "length", takes: "a length", help: "the length of a sheet, along the grain" },
    Key { name: "width", takes: "a length", help: "the width of a sheet or of a band" },
    Key { name: "widths", takes: "a list of lengths", help: "the widths of board to be had" },
    Key { name: "lengths", takes: "a list of lengths", help: "the lengths of board to be had" },
    Key { name: "roll", takes: "a length", help: "the length of a roll of band" },
    Key { name: "taken_off", takes: "true or false", help: "whether a core is cut smaller by the band's thickness" },
    Key { name: "grain", takes: "true or false", help: "whether it has a grain" },
    Key { name: "show_faces", takes: "0, 1 or 2", help: "how many of its faces are good enough to be seen" },
    Key { name: "price", takes: "an amount of money", help: "what it costs" },
    Key { name: "per", takes: "what the price is for", help: "sheet, board foot, metre, foot or roll" },
];

/// What a word for a material says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Made {
    /// Of this.
    Of(Material),
    /// Of wood; a species has to say which.
    OfWood,
}

/// The words for what a stock is made of; `wood` wants a `species` as well.
pub const MATERIALS: [(&str, Made); 8] = [
    ("hardwood plywood", Made::Of(Material::HardwoodPlywood)),
    ("sanded plywood", Made::Of(Material::SandedPlywood)),
    ("metric plywood", Made::Of(Material::MetricPlywood)),
    ("mdf", Made::Of(Material::Mdf)),
    ("particleboard", Made::Of(Material::Particleboard)),
    ("hardboard", Made::Of(Material::Hardboard)),
    ("wood", Made::OfWood),
    ("other", Made::Of(Material::Other)),
];

// Common practice, no source: iron-on veneer below half a millimetre is not reckoned with, anything thicker is.
const TAKEN_OFF_FROM: Length = Length::from_um(500);

/// The widest cut of a saw blade.
// Common practice, no source: what is wider is a dado set, and cuts no stock to size.
const WIDEST_KERF: Length = Length::from_inch(1, 2);

/// Reads a shop file. A bare number is in the file's `units`, or in inches when it does not say. Every fault is told, not
/// only the first.
pub fn read(file: &str, text: &str) -> Result<Shop, Vec<Finding>> {
    read_beside(file, text, &catalog_stock)
}

/// The catalog's stock of a name.
fn catalog_stock(name: &str) -> Option<Arc<Stock>> {
    catalog::stock(name)
}

/// Reads a shop file whose entries may build on the stock that `known` finds by name.
fn read_beside(file: &str, text: &str, known: &dyn Fn(&str) -> Option<Arc<Stock>>) -> Result<Shop, Vec<Finding>> {
    // Some editors put a mark of the byte order before the text; it means nothing.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (table, errors) = DeTable::parse_recoverable(text);
    let mut reader = Reader { file: file.into(), text, unit: Unit::Inch, findings: Vec::new() };
    let shop = reader.shop(table.get_ref(), known);
    // After the rest, because a size that lost its quotes is judged in the file's unit.
    for error in &errors {
        reader.syntax(error);
    }
    let mut findings = reader.findings;
    // What is left of a line that is no TOML would be judged a second time.
    let broken: Vec<u32> = findings.iter().filter(|finding| finding.code == SYNTAX).filter_map(line_of).collect();
    findings.retain(|finding| finding.code == SYNTAX || line_of(finding).is_none_or(|line| !broken.contains(&line)));
    if findings.is_empty() {
        return Ok(shop);
    }
    findings.sort_by(|a, b| (&a.at, &a.message).cmp(&(&b.at, &b.message)));
    findings.dedup();
    Err(findings)
}

fn line_of(finding: &Finding) -> Option<u32> {
    finding.at.as_ref().map(|at| at.line)
}

/// A key with its value, as they stand in the file.
type Entry<'a> = (&'a str, Range<usize>, &'a Spanned<DeValue<'a>>);

struct Reader<'a> {
    file: Arc<str>,
    text: &'a str,
    unit: Unit,
    findings: Vec<Finding>,
}

impl Reader<'_> {
    fn shop(&mut self, table: &DeTable<'_>, known: &dyn Fn(&str) -> Option<Arc<Stock>>) -> Shop {
        let entries = in_order(table);
        let mut shop = Shop::default();
        // Every bare number depends on the unit, wherever in the file it is named.
        if let Some((_, _, value)) = entries.iter().find(|(key, ..)| *key == "units") {
            shop.units = self.units(value);
            self.unit = shop.units.unwrap_or(Unit::Inch);
        }
        let mut season = None;
        for (key, span, value) in entries {
            if key.ends_with("humidity") {
                season = Some(value.span());
            }
            match key {
                "units" => {}
                "rule" => set(&mut shop.denominator, self.whole(key, value, &[16, 32, 64])),
                // A slip of the unit is met here: nobody's blade takes half an inch, nobody trims half a foot.
                "kerf" => set(&mut shop.kerf, self.small_length(key, value, WIDEST_KERF)),
                "trim" => set(&mut shop.trim, self.small_length(key, value, Length::from_inch(6, 1))),
                "cutting_tolerance" => {
                    set(&mut shop.cutting_tolerance, self.small_length(key, value, Length::from_inch(1, 4)));
                }
                "waste" => set(&mut shop.waste, self.percentage(key, value)),
                "band_allowance" => {
                    set(&mut shop.band_allowance, self.small_length(key, value, Length::from_inch(12, 1)));
                }
                "driest_humidity" => set(&mut shop.driest.humidity, self.humidity(key, value)),
                "driest_temperature" => set(&mut shop.driest.celsius, self.temperature(key, value)),
                "dampest_humidity" => set(&mut shop.dampest.humidity, self.humidity(key, value)),
                "dampest_temperature" => set(&mut shop.dampest.celsius, self.temperature(key, value)),
                "fits" => shop.fits = self.fits(value),
                "stock" => shop.stock = self.rack(value, known),
                "cutting" => shop.cutting = self.cutting(value),
                _ => self.unknown_key(key, span, &SHOP_KEYS),
            }
        }
        self.refuse_turned_seasons(&shop, season);
        shop
    }

    fn fits(&mut self, value: &Spanned<DeValue<'_>>) -> Fits {
        let mut fits = Fits::default();
        let Some(table) = value.get_ref().as_table() else {
            self.wrong_kind("fits", value, "a table: [fits], and below it snug = 0");
            return fits;
        };
        // More than an eighth of an inch of play is no fit.
        let most = Length::from_inch(1, 8);
        for (key, span, value) in in_order(table) {
            match key {
                "snug" => set(&mut fits.snug, self.small_length(key, value, most)),
                "sliding" => set(&mut fits.sliding, self.small_length(key, value, most)),
                "loose" => set(&mut fits.loose, self.small_length(key, value, most)),
                _ => self.unknown_key(key, span, &FIT_KEYS),
            }
        }
        if fits.snug > fits.sliding || fits.sliding > fits.loose {
            let message = "the fits are not in order: snug must be the tightest and loose the widest".to_owned();
            let print = Printing { unit: self.unit, denominator: 64 };
            let [snug, sliding, loose] = [fits.snug, fits.sliding, fits.loose].map(|fit| print.length(fit));
            let hint = format!("as it stands, snug is {snug}, sliding is {sliding} and loose is {loose}");
            self.tell(VALUE, message, value.span(), &hint);
        }
        fits
    }

    fn rack(&mut self, value: &Spanned<DeValue<'_>>, known: &dyn Fn(&str) -> Option<Arc<Stock>>) -> Vec<Arc<Stock>> {
        let Some(table) = value.get_ref().as_table() else {
            self.wrong_kind("stock", value, "a table for each stock: [stock.\"3/4 birch plywood\"]");
            return Vec::new();
        };
        let mut rack = Vec::new();
        let mut names = BTreeSet::new();
        for (name, span, value) in in_order(table) {
            let Some(entry) = value.get_ref().as_table() else {
                // A key that stands right under [stock] is most often one whose stock was not named.
                let hint = match STOCK_KEYS.iter().find(|key| key.name == name) {
                    Some(_) => "name the stock in the heading: [stock.\"3/4 birch plywood\"]",
                    None => "write the stock as a table of its own: [stock.\"3/4 birch plywood\"]",
                };
                self.tell(KEY, format!("`{name}` under `stock` is not the table of a stock"), span, hint);
                continue;
            };
            if name.trim().is_empty() {
                self.tell(KEY, "a stock has no name".into(), span, "write its name in the heading, in quotes");
                continue;
            }
            let known = known(name);
            // The catalog takes a name in more ways than one; recipes and lists use its own.
            let name = known.as_deref().map_or(name, |stock| stock.name.as_str());
            if !names.insert(name.to_owned()) {
                self.tell(KEY, format!("the stock `{name}` is given twice"), span, "put all of it under one heading");
                continue;
            }
            if let Some(stock) = self.stock(name, &span, entry, known.as_deref()) {
                rack.push(Arc::new(stock));
            }
        }
        rack
    }

    fn stock(&mut self, name: &str, span: &Range<usize>, table: &DeTable<'_>, known: Option<&Stock>) -> Option<Stock> {
        let given = self.given(name, table);
        let kind = given.kind.or_else(|| known.map(|stock| Kind::of(&stock.form)));
        let Some(kind) = kind else {
            if !given.has("kind") {
                let near = nearest(name, catalog::stock_names()).map(|near| format!("did you mean `{near}`?"));
                let new = "add kind = \"sheet\", \"board\" or \"band\", its sizes and `named`; or give the name as the catalog has it";
                let message = format!("`{name}` is not in the catalog, and does not say what kind of stock it is");
                self.tell(KEY, message, span.clone(), near.as_deref().unwrap_or(new));
            }
            return None;
        };
        if let (Some(known), Some(said)) = (known, given.kind) {
            let is = Kind::of(&known.form);
            if is != said {
                let at = given.spans.get("kind").cloned().unwrap_or_else(|| span.clone());
                self.tell(
                    KEY,
                    format!("`{name}` is a {} in the catalog, not a {}", is.name(), said.name()),
                    at,
                    "leave `kind` away, or give the stock a name of its own",
                );
                return None;
            }
        }
        for (key, at) in &given.spans {
            if !kind.knows(key) {
                self.tell(KEY, format!("a {} has no `{key}`", kind.name()), at.clone(), kind.instead_of(key));
            }
        }
        let base = known.map(|stock| stock.form.clone());
        let form = self.form(name, span, kind, &given, base)?;
        let named = given.named.or_else(|| known.map(|stock| stock.named)).or_else(|| {
            self.missing(name, span, &given, "named", "the thickness that it is sold as");
            None
        })?;
        let material = given.material.clone().or_else(|| known.map(|stock| stock.material.clone()));
        // A board is of wood whatever else is said of it; a sheet of which nothing is said is taken to have a grain, since a
        // part turned by mistake is worse than one that could have been turned.
        let material = material.or_else(|| (kind == Kind::Board).then(|| Material::Wood(String::new())));
        let mut fresh = Stock::new(name, material.clone().unwrap_or(Material::Other), form.clone(), named);
        fresh.grain |= kind == Kind::Sheet && material.is_none();
        let mut stock = known.cloned().unwrap_or_else(|| fresh.clone());
        if given.has("material") {
            // Another material answers the question of grain anew.
            stock.grain = fresh.grain;
        }
        stock.material = material.unwrap_or(Material::Other);
        stock.form = form;
        stock.named = named;
        stock.measured = given.measured.or(stock.measured);
        stock.grain = given.grain.unwrap_or(stock.grain);
        stock.show_faces = given.show_faces.unwrap_or(stock.show_faces);
        stock.price = self.price(name, span, kind, &given, stock.price);
        let usual = match &stock.form {
            StockForm::Sheet { length, width } => Some((*length, *width)),
            _ => None,
        };
        stock.supply = cutting::supply(given.sold, given.in_hand, usual);
        stock.source = "the shop file";
        stock.at = Some(self.at(span));
        Some(stock)
    }

    /// Reads every key of a stock, whatever kind it is, so that all that is wrong with it is told at once.
    fn given(&mut self, name: &str, table: &DeTable<'_>) -> Given {
        let mut given = Given::default();
        // Nothing thicker is sold by thickness. A board of 12 m is the longest that a lorry brings, and no sheet is longer.
        let (thickness, size) = (Length::from_inch(6, 1), Length::from_mm(12_000));
        let mut species = None;
        for (key, span, value) in in_order(table) {
            if !STOCK_KEYS.iter().chain(&SUPPLY_KEYS).any(|known| known.name == key) {
                self.unknown_key(key, span, &STOCK_KEYS);
                continue;
            }
            given.spans.insert(key.to_owned(), span);
            match key {
                "kind" => given.kind = self.word(key, value, &Kind::ALL.map(|kind| (kind.name(), kind))),
                "material" => given.material_word = self.word(key, value, &MATERIALS),
                "species" => species = self.texts(key, value),
                "named" => given.named = self.size(key, value, thickness),
                "measured" => given.measured = self.size(key, value, thickness),
                "length" => given.length = self.size(key, value, size),
                "width" => given.width = self.size(key, value, size),
                "widths" => given.widths = self.sizes(key, value, size),
                "lengths" => given.lengths = self.sizes(key, value, size),
                "roll" => given.roll = self.size(key, value, Length::LIMIT),
                "taken_off" => given.taken_off = self.yes_no(key, value),
                "grain" => given.grain = self.yes_no(key, value),
                "show_faces" => {
                    given.show_faces = self.whole(key, value, &[0, 1, 2]).and_then(|n| u8::try_from(n).ok());
                }
                "price" => given.amount = self.money(key, value),
                "sizes" => given.sold = self.sizes_sold(value),
                "in_hand" => given.in_hand = self.in_hand(value),
                _ => given.per = self.word(key, value, &Per::ALL.map(|(per, word)| (word, per))),
            }
        }
        given.material = match (given.material_word.clone(), species) {
            (Some(Made::Of(material)), None) => Some(material),
            (Some(Made::OfWood), Some(species)) => Some(Material::Wood(species)),
            (Some(Made::OfWood), None) => {
                let at = given.spans.get("material").cloned().unwrap_or_default();
                if !given.has("species") {
                    self.tell(
                        KEY,
                        format!("`{name}` is of wood and does not say which"),
                        at,
                        "add species = \"cherry\"",
                    );
                }
                None
            }
            (None, Some(species)) if given.kind == Some(Kind::Board) => Some(Material::Wood(species)),
            (Some(Made::Of(_)) | None, Some(_)) => {
                let at = given.spans.get("species").cloned().unwrap_or_default();
                let message = format!("`{name}` has a species, and its material is not given as wood");
                self.tell(KEY, message, at, "add material = \"wood\", or leave `species` away");
                None
            }
            (None, None) => None,
        };
        given
    }

    fn form(
        &mut self,
        name: &str,
        span: &Range<usize>,
        kind: Kind,
        given: &Given,
        base: Option<StockForm>,
    ) -> Option<StockForm> {
        match kind {
            Kind::Sheet => {
                let base = match base {
                    Some(StockForm::Sheet { length, width }) => Some((length, width)),
                    _ => None,
                };
                let length = given.length.or(base.map(|(length, _)| length));
                let width = given.width.or(base.map(|(_, width)| width));
                if length.is_none() {
                    self.missing(name, span, given, "length", "the length of a sheet");
                }
                if width.is_none() {
                    self.missing(name, span, given, "width", "the width of a sheet");
                }
                Some(StockForm::Sheet { length: length?, width: width? })
            }
            Kind::Board => {
                let (base_widths, base_lengths) = match base {
                    Some(StockForm::Board { widths, lengths }) => (widths, lengths),
                    _ => (Vec::new(), Vec::new()),
                };
                let widths = given.widths.clone().unwrap_or(base_widths);
                let lengths = given.lengths.clone().unwrap_or(base_lengths);
                Some(StockForm::Board { widths, lengths })
            }
            Kind::Band => {
                let (base_width, base_roll, base_taken_off) = match base {
                    Some(StockForm::Band { width, roll, taken_off }) => (Some(width), roll, Some(taken_off)),
                    _ => (None, None, None),
                };
                let width = given.width.or(base_width).or_else(|| {
                    self.missing(name, span, given, "width", "the width of the band");
                    None
                })?;
                let thick = given.named.is_some_and(|thickness| thickness >= TAKEN_OFF_FROM);
                let taken_off = given.taken_off.or(base_taken_off).unwrap_or(thick);
                Some(StockForm::Band { width, roll: given.roll.or(base_roll), taken_off })
            }
        }
    }

    fn price(
        &mut self,
        name: &str,
        span: &Range<usize>,
        kind: Kind,
        given: &Given,
        known: Option<Price>,
    ) -> Option<Price> {
        let usual = match kind {
            Kind::Sheet => Some(Per::Sheet),
            Kind::Band if given.roll.is_some() => Some(Per::Roll),
            Kind::Board | Kind::Band => known.map(|price| price.per),
        };
        let price_at = given.spans.get("price").cloned().unwrap_or_else(|| span.clone());
        let per_at = given.spans.get("per").cloned().unwrap_or_else(|| span.clone());
        if let Some(per) = given.per.filter(|per| !kind.sold_per().contains(per)) {
            let words: Vec<&str> = kind.sold_per().iter().map(|per| per.name()).collect();
            let message = format!("`{name}` is a {}, which has no price per {}", kind.name(), per.name());
            self.tell(VALUE, message, per_at, &format!("write per = \"{}\"", words.join("\" or \"")));
            return None;
        }
        let amount = given.amount.or_else(|| known.map(|price| price.amount));
        match (amount, given.per.or(usual)) {
            (Some(amount), Some(per)) => Some(Price { amount, per }),
            (Some(_), None) if !given.has("per") => {
                let words: Vec<&str> = kind.sold_per().iter().map(|per| per.name()).collect();
                let hint = format!("add per = \"{}\"", words.join("\" or \""));
                self.tell(KEY, format!("`{name}` has a price and does not say what it is for"), price_at, &hint);
                None
            }
            (None, _) if given.per.is_some() && !given.has("price") => {
                let message = format!("`{name}` says what its price is for, and has none");
                self.tell(KEY, message, per_at, "add price = 12.50, or leave `per` away");
                None
            }
            _ => None,
        }
    }

    fn units(&mut self, value: &Spanned<DeValue<'_>>) -> Option<Unit> {
        self.word("units", value, &[("in", Unit::Inch), ("mm", Unit::Millimetre)])
    }

    /// A length of nothing or more, up to what makes sense.
    fn small_length(&mut self, key: &str, value: &Spanned<DeValue<'_>>, most: Length) -> Option<Length> {
        let length = self.length(key, value)?;
        if length.is_negative() {
            self.tell(VALUE, format!("`{key}` is less than nothing"), value.span(), "write zero or more");
            return None;
        }
        self.at_most(key, value, length, most)
    }

    /// A length of more than nothing, up to what makes sense.
    fn size(&mut self, key: &str, value: &Spanned<DeValue<'_>>, most: Length) -> Option<Length> {
        let length = self.length(key, value)?;
        if !length.is_positive() {
            self.tell(VALUE, format!("`{key}` is zero or less"), value.span(), "write what was measured");
            return None;
        }
        self.at_most(key, value, length, most)
    }

    fn at_most(&mut self, key: &str, value: &Spanned<DeValue<'_>>, length: Length, most: Length) -> Option<Length> {
        if length <= most {
            return Some(length);
        }
        let printing = Printing { unit: self.unit, denominator: 64 };
        let message = format!("`{key}` of {} is more than {}", printing.length(length), printing.length(most));
        self.tell(VALUE, message, value.span(), "check its unit: write it with the size, such as \"3 mm\" or '1/8\"'");
        None
    }

    fn sizes(&mut self, key: &str, value: &Spanned<DeValue<'_>>, most: Length) -> Option<Vec<Length>> {
        let Some(list) = value.get_ref().as_array() else {
            self.wrong_kind(key, value, "a list of lengths in brackets: [\"4 in\", \"6 in\"]");
            return None;
        };
        let sizes: Vec<Option<Length>> = list.iter().map(|value| self.size(key, value, most)).collect();
        let mut sizes: Vec<Length> = sizes.into_iter().collect::<Option<_>>()?;
        sizes.sort_unstable();
        sizes.dedup();
        Some(sizes)
    }

    fn length(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<Length> {
        let written = match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Integer(_) | DeValue::Float(_) => self.digits(value),
            _ => {
                self.wrong_kind(key, value, "a length: a text such as \"18 mm\" or '3/4\"', or a plain number");
                return None;
            }
        };
        parse_length(&written, Some(self.unit))
            .map_err(|error| self.tell(VALUE, format!("`{key}`: {}", error.message), value.span(), &error.hint))
            .ok()
    }

    fn percentage(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<Ratio> {
        const HINT: &str = "write it with its sign: waste = \"20%\"";
        let DeValue::String(text) = value.get_ref() else {
            let digits = self.digits(value);
            if value.get_ref().is_integer() || value.get_ref().is_float() {
                let message = format!("`{key}` of {digits} can be read in two ways, as a percentage or as a share");
                self.tell(VALUE, message, value.span(), &format!("write it with its sign: {key} = \"{digits}%\""));
            } else {
                self.wrong_kind(key, value, "a percentage: \"20%\"");
            }
            return None;
        };
        let Some(number) = text.trim().strip_suffix('%') else {
            self.tell(VALUE, format!("`{key}` of `{text}` is not a percentage"), value.span(), HINT);
            return None;
        };
        match parse_ratio(number) {
            Ok(percent) if percent >= Ratio::from_integer(0) && percent <= Ratio::from_integer(200) => {
                // Whole hundredths of a percent keep the ratio far from overflow.
                let hundredths = (percent * Ratio::from_integer(100)).round();
                Some(hundredths / Ratio::from_integer(10_000))
            }
            Ok(_) => {
                self.tell(VALUE, format!("`{key}` of `{text}` is not from 0% to 200%"), value.span(), HINT);
                None
            }
            Err(error) => {
                self.tell(VALUE, format!("`{key}`: {}", error.message), value.span(), HINT);
                None
            }
        }
    }

    fn money(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<Money> {
        let written = match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Integer(_) | DeValue::Float(_) => self.digits(value),
            _ => {
                self.wrong_kind(key, value, "an amount of money: 74.50");
                return None;
            }
        };
        let hundredths = parse_ratio(&written)
            .ok()
            .filter(|amount| *amount >= Ratio::from_integer(0) && *amount < Ratio::from_integer(1_000_000_000))
            .map(|amount| Ratio::new_raw(amount.numer().saturating_mul(100), *amount.denom()).reduced())
            .filter(Ratio::is_integer);
        if hundredths.is_none() {
            let message = format!("`{key}` of `{written}` is not an amount of money");
            let hint = "write digits with at most two after the point, no sign of money: 74.50";
            self.tell(VALUE, message, value.span(), hint);
        }
        hundredths.map(|amount| Money(amount.to_integer()))
    }

    fn whole(&mut self, key: &str, value: &Spanned<DeValue<'_>>, allowed: &[i64]) -> Option<i64> {
        let number = if value.get_ref().is_integer() { self.digits(value).parse::<i64>().ok() } else { None };
        if let Some(number) = number.filter(|number| allowed.contains(number)) {
            return Some(number);
        }
        let words: Vec<String> = allowed.iter().map(ToString::to_string).collect();
        self.wrong_kind(key, value, &format!("one of {}", words.join(", ")));
        None
    }

    fn yes_no(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<bool> {
        let said = value.get_ref().as_bool();
        if said.is_none() {
            self.wrong_kind(key, value, "true or false, without quotes");
        }
        said
    }

    fn texts(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<String> {
        let text = value.get_ref().as_str().map(|text| text.trim().to_owned()).filter(|text| !text.is_empty());
        if text.is_none() {
            self.wrong_kind(key, value, "a text in quotes");
        }
        text
    }

    /// One word of a list.
    fn word<T: Clone>(&mut self, key: &str, value: &Spanned<DeValue<'_>>, words: &[(&'static str, T)]) -> Option<T> {
        let known = words.iter().map(|(word, _)| *word);
        let Some(text) = value.get_ref().as_str() else {
            let list: Vec<String> = known.map(|word| format!("\"{word}\"")).collect();
            self.wrong_kind(key, value, &format!("one of {}", list.join(", ")));
            return None;
        };
        let found = words.iter().find(|(word, _)| *word == text).map(|(_, meaning)| meaning.clone());
        if found.is_none() {
            let message = format!("`{key}` cannot be `{text}`");
            let hint = did_you_mean(text, known).unwrap_or_default();
            self.tell(VALUE, message, value.span(), &hint);
        }
        found
    }

    /// The digits of a number as they stand in the file, without what TOML allows and no notation of the trade has.
    fn digits(&self, value: &Spanned<DeValue<'_>>) -> String {
        let written = self.text.get(value.span()).unwrap_or_default();
        written.strip_prefix('+').unwrap_or(written).replace('_', "")
    }

    fn unknown_key(&mut self, key: &str, span: Range<usize>, known: &[Key]) {
        let names = known.iter().map(|key| key.name);
        let elsewhere = if std::ptr::eq(known.as_ptr(), SHOP_KEYS.as_ptr()) { &STOCK_KEYS[..] } else { &SHOP_KEYS[..] };
        let hint = if CUTTING_KEYS.iter().any(|other| other.name == key) {
            "this key belongs to the cutting of stock: write it below a heading [cutting]".to_owned()
        } else if elsewhere.iter().any(|other| other.name == key) {
            if elsewhere.len() == STOCK_KEYS.len() {
                "this key belongs to a stock: write it below a heading such as [stock.\"3/4 birch plywood\"]".to_owned()
            } else {
                "this key belongs to the shop: write it above the first heading".to_owned()
            }
        } else if !known.iter().any(|own| own.name == FIT_KEYS[0].name) && FIT_KEYS.iter().any(|fit| fit.name == key) {
            "this key belongs to the fits: write it below the heading [fits]".to_owned()
        } else {
            did_you_mean(key, names).unwrap_or_default()
        };
        self.tell(KEY, format!("there is no key `{key}` here"), span, &hint);
    }

    fn missing(&mut self, name: &str, span: &Range<usize>, given: &Given, key: &str, what: &str) {
        // A value that was given and refused has been told already.
        if !given.has(key) {
            self.tell(KEY, format!("`{name}` has no `{key}`"), span.clone(), &format!("add {key}, {what}"));
        }
    }

    fn wrong_kind(&mut self, key: &str, value: &Spanned<DeValue<'_>>, wanted: &str) {
        let is = match value.get_ref() {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date or time",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        let shown = self.text.get(value.span()).filter(|text| !text.contains('\n') && text.chars().count() <= 40);
        let message = match (value.get_ref(), shown) {
            (DeValue::Table(_) | DeValue::Array(_), _) | (_, None) => format!("`{key}` is {is}, and cannot be that"),
            (_, Some(text)) => format!("`{key}` cannot be {text}"),
        };
        self.tell(VALUE, message, value.span(), &format!("write {wanted}"));
    }

    fn syntax(&mut self, error: &toml::de::Error) {
        let span = error.span().unwrap_or(0..0);
        let at = self.at(&span);
        let message = error.message().lines().next().unwrap_or("this is not TOML");
        if message == "duplicate key" {
            let key = self.text.get(span.clone()).unwrap_or_default();
            self.tell(KEY, format!("`{key}` is given twice"), span, "keep one of them");
            return;
        }
        let line = self.text.lines().nth((at.line as usize).saturating_sub(1)).unwrap_or_default().trim();
        let uncommented = line.split('#').next().unwrap_or_default();
        if let Some((key, size)) = uncommented.split_once('=').map(|(key, size)| (key.trim(), size.trim()))
            && let Some(quoted) = self.quoted(size)
        {
            let message = format!("`{key}`: the size {size} stands without quotes");
            self.tell(SYNTAX, message, span, &format!("write it in quotes: {key} = {quoted}"));
            return;
        }
        let hint = if line.starts_with('[') {
            "a heading is a name in brackets, and a name with blanks or slashes goes into quotes: [stock.\"3/4 birch plywood\"]"
        } else if line.contains('=') && line.matches('"').count() == 3 {
            "put a size in inches into single quotes, which leave its own sign alone: kerf = '1/8\"'"
        } else if line.contains('=') {
            "a size with a fraction or a unit goes into quotes: kerf = \"1/8 in\""
        } else {
            "a line is a key, `=` and a value: kerf = \"1/8 in\""
        };
        self.tell(SYNTAX, format!("this is not TOML: {message}"), span, hint);
    }

    /// A size that stands without quotes, as it has to be written: with its unit, in quotes that leave an inch sign alone.
    fn quoted(&self, size: &str) -> Option<String> {
        parse_length(size, Some(self.unit)).ok()?;
        if size.ends_with(|c: char| c.is_ascii_digit()) {
            return Some(match self.unit {
                Unit::Inch => format!("'{size}\"'"),
                Unit::Millimetre => format!("\"{size} mm\""),
            });
        }
        let quote = if size.contains('"') { '\'' } else { '"' };
        (!size.contains(quote)).then(|| format!("{quote}{size}{quote}"))
    }

    fn tell(&mut self, code: &'static str, message: String, span: Range<usize>, hint: &str) {
        let at = self.at(&span);
        let hint = Some(hint.to_owned()).filter(|hint| !hint.is_empty());
        self.findings.push(Finding::error(code, message).at(Some(at)).maybe_hint(hint));
    }

    /// The place of a span of bytes; what goes beyond its first line is left out of the span.
    fn at(&self, span: &Range<usize>) -> At {
        let start = floor_boundary(self.text, span.start);
        let end = floor_boundary(self.text, span.end.max(start));
        let before = self.text.get(..start).unwrap_or_default();
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let marked = self.text.get(start..end).unwrap_or_default().lines().next().unwrap_or_default();
        let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        At {
            file: self.file.clone(),
            line: count(before.matches('\n').count() + 1),
            column: count(before.get(line_start..).unwrap_or_default().chars().count() + 1),
            span: count(marked.chars().count()),
        }
    }
}

/// What the keys of one stock say.
#[derive(Default)]
struct Given {
    spans: BTreeMap<String, Range<usize>>,
    kind: Option<Kind>,
    material_word: Option<Made>,
    material: Option<Material>,
    named: Option<Length>,
    measured: Option<Length>,
    length: Option<Length>,
    width: Option<Length>,
    widths: Option<Vec<Length>>,
    lengths: Option<Vec<Length>>,
    roll: Option<Length>,
    taken_off: Option<bool>,
    grain: Option<bool>,
    show_faces: Option<u8>,
    amount: Option<Money>,
    per: Option<Per>,
    sold: Option<Vec<SupplySize>>,
    in_hand: Option<InHand>,
}

impl Given {
    /// Whether the key stands in the file, with whatever value.
    fn has(&self, key: &str) -> bool {
        self.spans.contains_key(key)
    }
}

/// The kinds of stock, in the words of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Sheet,
    Board,
    Band,
}

impl Kind {
    const ALL: [Self; 3] = [Self::Sheet, Self::Board, Self::Band];

    const fn name(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Board => "board",
            Self::Band => "band",
        }
    }

    const fn of(form: &StockForm) -> Self {
        match form {
            StockForm::Sheet { .. } => Self::Sheet,
            StockForm::Board { .. } => Self::Board,
            StockForm::Band { .. } => Self::Band,
        }
    }

    const fn sold_per(self) -> &'static [Per] {
        match self {
            Self::Sheet => &[Per::Sheet],
            Self::Board => &[Per::BoardFoot, Per::Metre, Per::Foot],
            Self::Band => &[Per::Roll, Per::Metre, Per::Foot],
        }
    }

    fn knows(self, key: &str) -> bool {
        match key {
            "length" => self == Self::Sheet,
            "width" => self != Self::Board,
            "widths" | "lengths" => self == Self::Board,
            "roll" | "taken_off" => self == Self::Band,
            "show_faces" | "sizes" | "in_hand" => self != Self::Band,
            _ => true,
        }
    }

    fn instead_of(self, key: &str) -> &'static str {
        match (self, key) {
            (Self::Board, "width") => "list the widths to be had: widths = [\"4 in\", \"6 in\"]",
            (Self::Board, "length") => "list the lengths to be had: lengths = [\"8 ft\"]",
            (Self::Sheet, "widths") => "a sheet has one `width`",
            (Self::Sheet, "lengths") => "a sheet has one `length`",
            (Self::Band, "length" | "lengths") => "the length of a roll is `roll`",
            (Self::Band, "widths") => "a band has one `width`; give each width a name of its own",
            _ => "leave it away",
        }
    }
}

fn set<T>(place: &mut T, value: Option<T>) {
    if let Some(value) = value {
        *place = value;
    }
}

/// The entries of a table as they follow each other in the file.
fn in_order<'a>(table: &'a DeTable<'a>) -> Vec<Entry<'a>> {
    let mut entries: Vec<Entry<'a>> =
        table.iter().map(|(key, value)| (key.get_ref().as_ref(), key.span(), value)).collect();
    entries.sort_by_key(|(_, span, _)| span.start);
    entries
}

/// The last boundary between characters at or before a byte.
fn floor_boundary(text: &str, byte: usize) -> usize {
    (0..=byte.min(text.len())).rev().find(|&at| text.is_char_boundary(at)).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn catalog(name: &str) -> Option<Arc<Stock>> {
        let sheet = StockForm::Sheet { length: Length::from_inch(96, 1), width: Length::from_inch(48, 1) };
        let stock = match name {
            "3/4 birch plywood" => Stock::new(name, Material::HardwoodPlywood, sheet, Length::from_inch(3, 4)),
            "4/4 maple" => Stock::new(
                name,
                Material::Wood("maple".into()),
                StockForm::Board { widths: Vec::new(), lengths: Vec::new() },
                Length::from_inch(1, 1),
            ),
            _ => return None,
        };
        Some(Arc::new(stock))
    }

    fn good(text: &str) -> Shop {
        read_beside("shop.toml", text, &catalog).unwrap_or_else(|findings| panic!("{findings:#?}"))
    }

    /// The findings in short: `code line:column message`.
    fn bad(text: &str) -> Vec<String> {
        let findings = read_beside("shop.toml", text, &catalog).unwrap_err();
        findings
            .iter()
            .map(|finding| {
                let at = finding.at.as_ref().unwrap();
                format!("{} {}:{} {}", finding.code, at.line, at.column, finding.message)
            })
            .collect()
    }

    const EXAMPLE: &str = include_str!("../examples/shop.toml");
    const PAGE: &str = include_str!("../docs/shop-file.md");

    #[test]
    fn the_example_says_the_defaults_and_explains_every_key() {
        let shop = good(EXAMPLE);
        let default = Shop::default();
        assert_eq!(
            (shop.kerf, shop.trim, shop.cutting_tolerance, shop.waste, shop.band_allowance, shop.fits),
            (
                default.kerf,
                default.trim,
                default.cutting_tolerance,
                default.waste,
                default.band_allowance,
                default.fits
            )
        );
        assert_eq!(
            (shop.denominator, shop.driest, shop.dampest),
            (default.denominator, default.driest, default.dampest)
        );
        assert_eq!(shop.cutting, default.cutting);
        for key in SHOP_KEYS
            .iter()
            .chain(&FIT_KEYS)
            .chain(&STOCK_KEYS)
            .chain(&CUTTING_KEYS)
            .chain(&SUPPLY_KEYS)
            .chain(&SIZE_KEYS)
        {
            assert!(EXAMPLE.contains(key.name), "the example does not mention `{}`", key.name);
            assert!(PAGE.contains(&format!("`{}`", key.name)), "the page does not mention `{}`", key.name);
        }
        for (word, _) in MATERIALS {
            assert!(PAGE.contains(&format!("\"{word}\"")), "the page does not mention \"{word}\"");
        }
    }

    #[test]
    fn sizes_are_exact_in_every_way_of_writing() {
        let shop = good(
            "kerf = 0.125\ntrim = '1/4\"'\ncutting_tolerance = \"0.4 mm\"\n[stock.\"3/4 birch plywood\"]\nmeasured = 0.703\n",
        );
        assert_eq!(shop.kerf, Length::from_inch(1, 8));
        assert_eq!(shop.cutting_tolerance, Length::from_um(400));
        // 0.703 in = 0.703 * 25.4 mm = 17.8562 mm.
        assert_eq!(shop.stock[0].measured, Some(Length::from_nm(17_856_200)));
        assert_eq!(shop.stock[0].thickness(), Length::from_nm(17_856_200));
        let metric = good("kerf = 3\nunits = \"mm\"\n");
        assert_eq!((metric.units, metric.kerf), (Some(Unit::Millimetre), Length::from_mm(3)));
    }

    #[test]
    fn an_entry_builds_on_the_catalog_or_stands_alone() {
        let shop = good(
            "[stock.\"3/4 birch plywood\"]\nmeasured = \"18 mm\"\nprice = 74.5\n\
             [stock.\"shop grade\"]\nkind = \"sheet\"\nnamed = \"12 mm\"\nlength = \"2440 mm\"\nwidth = \"1220 mm\"\nshow_faces = 1\n\
             [stock.\"4/4 maple\"]\nwidths = [6, 4, 6]\nprice = \"9\"\nper = \"board foot\"\n\
             [stock.\"maple band\"]\nkind = \"band\"\nmaterial = \"wood\"\nspecies = \"maple\"\nnamed = \"0.5 mm\"\nwidth = \"22 mm\"\n\
             roll = \"50 m\"\nprice = 20\ntaken_off = true\n",
        );
        let birch = shop.find_stock("3/4 birch plywood").unwrap();
        assert_eq!(birch.named, Length::from_inch(3, 4));
        assert_eq!(birch.measured, Some(Length::from_mm(18)));
        assert_eq!(birch.price, Some(Price { amount: Money(7450), per: Per::Sheet }));
        assert!(birch.grain);
        let shop_grade = shop.find_stock("shop grade").unwrap();
        assert_eq!((&shop_grade.material, shop_grade.grain, shop_grade.show_faces), (&Material::Other, true, 1));
        assert_eq!(shop_grade.at.as_ref().map(|at| at.line), Some(4));
        let maple = shop.find_stock("4/4 maple").unwrap();
        let widths = vec![Length::from_inch(4, 1), Length::from_inch(6, 1)];
        assert_eq!(maple.form, StockForm::Board { widths, lengths: Vec::new() });
        let band = shop.find_stock("maple band").unwrap();
        assert_eq!(band.material, Material::Wood("maple".into()));
        assert_eq!(band.price, Some(Price { amount: Money(2000), per: Per::Roll }));
        assert!(band.is_taken_off());
    }

    #[test]
    fn every_fault_is_told_at_its_place() {
        let table = [
            ("kerff = 3", "shop-file-key 1:1 there is no key `kerff` here"),
            ("measured = 3", "shop-file-key 1:1 there is no key `measured` here"),
            ("kerf = \"banana\"", "shop-file-value 1:8 `kerf`: `banana` is not a length"),
            ("kerf = true", "shop-file-value 1:8 `kerf` cannot be true"),
            ("kerf = -1", "shop-file-value 1:8 `kerf` is less than nothing"),
            ("kerf = 3", "shop-file-value 1:8 `kerf` of 3\" is more than 1/2\""),
            ("kerf = nan", "shop-file-value 1:8 `kerf`: `nan` is not a length"),
            ("kerf = 0x3", "shop-file-value 1:8 `kerf`: `x` is not a unit that is known here"),
            ("kerf = 1979-05-27", "shop-file-value 1:8 `kerf` cannot be 1979-05-27"),
            (
                "units = \"mm\"\nkerf = \"1/8\"",
                "shop-file-value 2:8 `kerf`: `1/8` can be read in two ways, because a fraction is an inch notation and this job is in mm",
            ),
            ("rule = 12", "shop-file-value 1:8 `rule` cannot be 12"),
            ("units = \"cubit\"", "shop-file-value 1:9 `units` cannot be `cubit`"),
            ("waste = 20", "shop-file-value 1:9 `waste` of 20 can be read in two ways, as a percentage or as a share"),
            ("waste = \"a fifth\"", "shop-file-value 1:9 `waste` of `a fifth` is not a percentage"),
            ("waste = \"900%\"", "shop-file-value 1:9 `waste` of `900%` is not from 0% to 200%"),
            ("stock = 3", "shop-file-value 1:9 `stock` cannot be 3"),
            ("[stock]\nmeasured = 3", "shop-file-key 2:1 `measured` under `stock` is not the table of a stock"),
            (
                "[stock.x]\nmeasured = 0.7",
                "shop-file-key 1:8 `x` is not in the catalog, and does not say what kind of stock it is",
            ),
            ("[stock.x]\nkind = \"sheet\"\nlength = 96\nwidth = 48", "shop-file-key 1:8 `x` has no `named`"),
            ("[stock.x]\nkind = \"plank\"", "shop-file-value 2:8 `kind` cannot be `plank`"),
            (
                "[stock.\"4/4 maple\"]\nkind = \"sheet\"",
                "shop-file-key 2:1 `4/4 maple` is a board in the catalog, not a sheet",
            ),
            ("[stock.\"4/4 maple\"]\nwidth = 4", "shop-file-key 2:1 a board has no `width`"),
            (
                "[stock.\"4/4 maple\"]\nprice = 4",
                "shop-file-key 2:1 `4/4 maple` has a price and does not say what it is for",
            ),
            (
                "[stock.\"4/4 maple\"]\nper = \"foot\"",
                "shop-file-key 2:1 `4/4 maple` says what its price is for, and has none",
            ),
            (
                "[stock.\"4/4 maple\"]\nprice = 4\nper = \"roll\"",
                "shop-file-value 3:1 `4/4 maple` is a board, which has no price per roll",
            ),
            (
                "[stock.\"4/4 maple\"]\nprice = 4.999\nper = \"foot\"",
                "shop-file-value 2:9 `price` of `4.999` is not an amount of money",
            ),
            (
                "[stock.\"4/4 maple\"]\nspecies = \"oak\"",
                "shop-file-key 2:1 `4/4 maple` has a species, and its material is not given as wood",
            ),
            (
                "[stock.\"4/4 maple\"]\nmaterial = \"wood\"",
                "shop-file-key 2:1 `4/4 maple` is of wood and does not say which",
            ),
            ("[stock.\"4/4 maple\"]\nkerf = 4", "shop-file-key 2:1 there is no key `kerf` here"),
            ("[stock.\"4/4 maple\"]\nmeasured = 0", "shop-file-value 2:12 `measured` is zero or less"),
            ("[stock.\"4/4 maple\"]\nshow_faces = 3", "shop-file-value 2:14 `show_faces` cannot be 3"),
            ("[stock.\"4/4 maple\"]\ngrain = \"yes\"", "shop-file-value 2:9 `grain` cannot be \"yes\""),
            ("kerf = '1/8'\nkerf = '1/4'", "shop-file-key 2:1 `kerf` is given twice"),
        ];
        for (text, expected) in table {
            assert_eq!(bad(text), [expected], "{text}");
        }
    }

    #[test]
    fn text_that_is_not_toml_says_what_to_write() {
        for (text, place, hint) in [
            ("kerf = 1/8", (1, 8), "write it in quotes: kerf = '1/8\"'"),
            ("kerf = 3 mm # the new blade", (1, 8), "write it in quotes: kerf = \"3 mm\""),
            ("kerf = 1/8\"", (1, 8), "write it in quotes: kerf = '1/8\"'"),
            ("units = \"mm\"\nkerf = 1/8", (2, 8), "goes into quotes"),
            ("kerf = \"1/8\"\"", (1, 13), "single quotes"),
            ("\n[stock.3/4 birch]\n", (2, 9), "a heading is a name in brackets"),
            ("kerf", (1, 5), "a line is a key"),
        ] {
            let findings = read_beside("shop.toml", text, &catalog).unwrap_err();
            let first = &findings[0];
            assert_eq!(first.code, SYNTAX, "{text}: {first}");
            let at = first.at.as_ref().unwrap();
            assert_eq!((at.line, at.column), place, "{text}: {first}");
            assert!(first.hint.as_ref().unwrap().contains(hint), "{text}: {first}");
        }
    }

    #[test]
    fn all_faults_are_told_at_once_and_in_order() {
        let told = bad("kerff = 1\ntrim = \"x\"\nrule = 5\n[stock.\"4/4 maple\"]\nwidht = 3\nmeasured = 1979-05-27\n");
        let lines: Vec<&str> = told.iter().map(|line| line.split(' ').nth(1).unwrap()).collect();
        assert_eq!(lines, ["1:1", "2:8", "3:8", "5:1", "6:12"]);
        let told = bad("kerff = 1\ntrim = 1/8\nrule = 5\n");
        assert_eq!(told.len(), 3, "{told:?}");
    }

    #[test]
    fn columns_count_characters() {
        let told = bad("[stock.\"Bücher\"]\nkind = \"sheet\"; \"ü\"");
        assert!(told.iter().all(|line| line.starts_with("shop-file-")), "{told:?}");
        assert_eq!(bad("\"kérf\" = 1\n\"é\" = 2")[1], "shop-file-key 2:1 there is no key `é` here");
        assert_eq!(bad("\u{feff}kerff = 1")[0], "shop-file-key 1:1 there is no key `kerff` here");
    }

    proptest! {
        #[test]
        fn no_text_panics(text in "\\PC{0,60}") {
            let _ = read_beside("shop.toml", &text, &catalog);
        }

        #[test]
        fn no_scrambled_shop_file_panics(cut in 0_usize..4000, put in "[\\PC\n]{0,4}", len in 0_usize..20) {
            let start = floor_boundary(EXAMPLE, cut);
            let end = floor_boundary(EXAMPLE, (cut + len).min(EXAMPLE.len()).max(start));
            let text = format!("{}{put}{}", &EXAMPLE[..start], &EXAMPLE[end..]);
            let _ = read_beside("shop.toml", &text, &catalog);
        }
    }
}
