//! Layer 4: the lists that a shop works from, as pure functions of the model.

pub mod amounts;
mod banded;
mod buying;
mod cautions;
mod cut_list;
mod edge_band;
mod fits;
mod hands;
mod hardware;
mod joinery;
mod names;
mod order;
mod settings;
mod squares;
mod stock_plan;
#[cfg(test)]
mod testing;
mod weights;

pub use buying::{BOARD_FOOT, buying_together};
pub use stock_plan::{
    AreaSums, Blank, BlankForm, Cut, CutKind, Cutting, Engine, Held, Made, PlacedPart, Proof, RackRow, Rough, Search,
    Source, Spot, StockLayout, StockPlan, UseRow, WrongPlan,
};

use std::sync::Arc;

use crate::base::{Length, Printing};
use crate::model::{HardwareUnit, MarkOut, Model, Money, PartId, Shop, Stock};
use crate::proof::Proved;

/// Draws up everything that the papers print from a settled model whose joints are made.
///
/// The same model gives the same plan. A model with error findings has no plan worth printing; the job decides that.
pub fn plan(model: &Model, shop: &Shop) -> Plan {
    plan_of(&Proved::new(model), shop)
}

/// The same, of a model whose proof may be worked out in part already.
pub fn plan_of(proof: &Proved<'_>, shop: &Shop) -> Plan {
    let model = proof.model;
    let mut stocks = StockTable::default();
    let cut_list = cut_list::cut_list(model, &mut stocks);
    let short = names::Shortener::new(model);
    Plan {
        title: model.title.clone(),
        printing: model.printing,
        cutting_tolerance: shop.cutting_tolerance,
        hardware: hardware::hardware(model, &short),
        bands: edge_band::bands(model, shop, &mut stocks),
        buying: buying::buying(model, shop, &mut stocks),
        settings: settings::settings(model, &cut_list),
        mark_outs: mark_outs(model),
        squares: squares::squares(model, &short),
        fits: fits::fits(model, shop, &short),
        weights: weights::weights(model, &short),
        steps: short.join(order::steps(proof).iter().map(String::as_str)),
        notes: notes(model, &cut_list, &short),
        cautions: cautions::cautions(model),
        cutting: Cutting::of(model, &cut_list, shop),
        cut_list,
    }
}

/// The recipe's positions, and for every box on slides where its lower edge comes, which is where slides are lined up.
fn mark_outs(model: &Model) -> Vec<MarkOut> {
    let slides = model.hardware.iter().filter_map(|used| {
        let fit = used.slides.as_ref()?;
        let opening = model.opening(fit.opening);
        Some(MarkOut {
            what: format!("lower edge of {}", model.piece(fit.carries).name),
            from: format!("the floor of {}", opening.name),
            distance: model.bounds(fit.carries)?.low[2] - opening.solid.low[2],
        })
    });
    slides.chain(model.mark_outs.iter().cloned()).collect()
}

/// The recipe's notes, then the words that parts carry, each with the mark of its part.
fn notes(model: &Model, cut_list: &[CutRow], short: &names::Shortener<'_>) -> Vec<String> {
    let mut notes = short.join(model.notes.iter().map(String::as_str));
    for row in cut_list {
        let mut of_row: Vec<&str> = row.parts.iter().filter_map(|&id| model.part(id).note.as_deref()).collect();
        of_row.dedup();
        notes.extend(short.join(of_row).into_iter().map(|note| format!("{} ({}): {note}", row.mark, row.part)));
    }
    if !model.obstacles.is_empty() {
        let mut names: Vec<String> = model.obstacles.iter().map(|obstacle| format!("`{}`", obstacle.name)).collect();
        names.dedup();
        notes.push(format!("Proved to be clear of what stands there already: {}.", names.join(", ")));
    }
    notes
}

/// The stocks of a job in order of first appearance. A job has few, and most of its parts share one.
#[derive(Default)]
struct StockTable<'a>(Vec<&'a Arc<Stock>>);

impl<'a> StockTable<'a> {
    /// The place of a stock; two that are equal in everything are one.
    fn place(&mut self, stock: &'a Arc<Stock>) -> usize {
        let known = self
            .0
            .iter()
            .position(|known| Arc::ptr_eq(known, stock))
            .or_else(|| self.0.iter().position(|known| *known == stock));
        known.unwrap_or_else(|| {
            self.0.push(stock);
            self.0.len() - 1
        })
    }
}

/// Everything that the papers print.
#[derive(Clone, Debug)]
pub struct Plan {
    /// What the job is called.
    pub title: String,
    /// How its lengths are printed.
    pub printing: Printing,
    /// How far a cut may be off, each way, as the shop holds it.
    pub cutting_tolerance: Length,
    /// The parts to cut.
    pub cut_list: Vec<CutRow>,
    /// The hardware to have at hand.
    pub hardware: Vec<HardwareRow>,
    /// The bands to buy.
    pub bands: Vec<BandRow>,
    /// The sheets and boards to buy, reckoned by area and length.
    pub buying: Vec<BuyRow>,
    /// Machine settings, each with all parts that share it.
    pub settings: Vec<SettingRow>,
    /// Positions to mark out.
    pub mark_outs: Vec<MarkOut>,
    /// Boxes to check for square by their diagonals.
    pub squares: Vec<SquareRow>,
    /// How far each fit may be off.
    pub fits: Vec<FitRow>,
    /// What the pieces weigh, the whole job first.
    pub weights: Vec<WeightRow>,
    /// Assembly, one sentence a step.
    pub steps: Vec<String>,
    /// Notes of the recipe.
    pub notes: Vec<String>,
    /// The usual cautions for the work in this job.
    pub cautions: Vec<&'static str>,
    /// What is to be cut from which stock; it gives the stock plan.
    pub cutting: Cutting,
}

/// Equal parts of the cut list. Sizes are those to cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutRow {
    /// The mark to pencil on.
    pub mark: String,
    /// What the part is called.
    pub part: String,
    /// How many.
    pub quantity: i64,
    /// The stock's name.
    pub stock: String,
    /// Thickness to work with.
    pub thickness: Length,
    /// Length to cut, along the grain where there is one.
    pub length: Length,
    /// Width to cut.
    pub width: Length,
    /// Whether the stock's grain runs along the length.
    pub grain: bool,
    /// Banded edges in words; empty when there are none.
    pub banded: String,
    /// Joinery in words; empty when there is none.
    pub joinery: String,
    /// The pieces that it goes into, in words.
    pub used_in: String,
    /// Finished length and width, where they differ from those to cut.
    pub finished: Option<(Length, Length)>,
    /// How many of the parts are mirror images of the first; `joinery` says so too.
    pub mirrored: i64,
    /// The parts, in the order of the recipe.
    pub parts: Vec<PartId>,
}

/// A line of the hardware bill.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HardwareRow {
    /// What it is.
    pub item: String,
    /// Its size in words.
    pub size: String,
    /// How many; square millimetres for an area.
    pub quantity: i64,
    /// How it is counted.
    pub unit: HardwareUnit,
    /// What it is for.
    pub purpose: String,
    /// What to mind.
    pub note: String,
}

/// A line of the edge-band bill: one band of one width.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BandRow {
    /// The band's name.
    pub band: String,
    /// Its width.
    pub width: Length,
    /// Its thickness.
    pub thickness: Length,
    /// How many edges it goes on.
    pub edges: i64,
    /// The sum of the finished edge lengths.
    pub net: Length,
    /// What is added at each end of each edge.
    pub allowance: Length,
    /// Band that goes onto cores cut over their size, and is trimmed off with them.
    pub trimmed: Length,
    /// The length to buy: net, what is trimmed off, and the allowance at both ends of each edge.
    pub to_buy: Length,
    /// Rolls to buy and the length of one; `None` for band that is not sold on rolls.
    pub rolls: Option<(i64, Length)>,
    /// What it costs, where a price is known.
    pub cost: Option<Money>,
    /// What to mind.
    pub note: String,
}

/// A line of what to buy: one stock, and for boards of fixed widths one width of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuyRow {
    /// The stock's name.
    pub stock: String,
    /// How many parts are cut from it.
    pub parts: i64,
    /// Thickness to work with.
    pub thickness: Length,
    /// What the parts need.
    pub net: Amount,
    /// The waste allowance in percent, a half rounded up.
    pub waste_percent: i64,
    /// What they need with the waste allowance.
    pub with_waste: Amount,
    /// Whole sheets or board lengths to buy, with their length and width, where the stock has a size.
    pub to_buy: Option<(i64, Length, Length)>,
    /// What it costs, where a price is known.
    pub cost: Option<Money>,
    /// What to mind: how the figures were come by.
    pub note: String,
}

/// An area of sheet, or a length and volume of board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amount {
    /// Square nanometres of sheet.
    Area(i128),
    /// Length of board of one width and the volume that it holds in cubic nanometres (144 cubic inches are a board foot).
    Board {
        /// The sum of the lengths.
        length: Length,
        /// Its volume at the thickness the stock is sold as.
        volume: i128,
    },
}

/// A machine setting and the parts that share it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SettingRow {
    /// What is set.
    pub what: &'static str,
    /// What for.
    pub work: String,
    /// The size to set.
    pub value: Length,
    /// How to come by it.
    pub note: String,
    /// The marks of the parts that share it, in order.
    pub marks: Vec<String>,
    /// How many parts in all.
    pub quantity: i64,
}

/// The diagonal that a square box has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SquareRow {
    /// What is measured.
    pub what: String,
    /// How many of them.
    pub quantity: i64,
    /// Outside width and depth.
    pub sides: (Length, Length),
    /// The diagonal, to the nearest nanometre.
    pub diagonal: Length,
}

/// Fits that are alike, and how far they may be off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FitRow {
    /// What is fitted into what, in words.
    pub fit: &'static str,
    /// The boxes, panels or fronts.
    pub of: String,
    /// How many of them.
    pub quantity: i64,
    /// The gap as drawn; below zero where the part is larger than its place.
    pub gap: Length,
    /// The least and the largest gap at which it works.
    pub works: (Length, Length),
    /// The smallest and largest gap when everything is off to one side.
    pub worst: (Length, Length),
    /// The gap's middle less and plus the root of the sum of the squares.
    pub likely: (Length, Length),
    /// The share that is expected to fit, in whole percent, rounded down.
    pub percent: u8,
    /// What moves the gap most, in words.
    pub matters_most: String,
}

/// What a piece weighs by its stock: without hardware, finish and load.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WeightRow {
    /// The piece, or several of one weight.
    pub what: String,
    /// How many of them.
    pub quantity: i64,
    /// The weight of one, in grams.
    pub grams: i64,
    /// Grams of it whose density is not known and was assumed.
    pub assumed: i64,
}
