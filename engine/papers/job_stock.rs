//! The stock plan in `job.json`.

use schemars::JsonSchema;
use serde::Serialize;

use super::job_json::{Size, whole_mm};
use crate::base::Printing;
use crate::plan::{Blank, Cut, Made, PlacedPart, Proof, RackRow, Rough, Spot, StockLayout, UseRow};

/// How one stock is cut up.
#[derive(Serialize, JsonSchema)]
pub(super) struct StockPlanView<'a> {
    stock: &'a str,
    /// `sheet` or `board`.
    form: &'static str,
    parts: i64,
    /// What is bought and used of what is there.
    uses: Vec<UseView>,
    /// Sheets, parts, offcuts, waste and sawdust in square millimetres, each rounded up.
    area_mm2: [i64; 5],
    /// Whether no cheaper plan exists, with what is on the rack and in hand at its price.
    proven: bool,
    /// How many percent what is bought may cost more than the least that every plan must buy; nothing when that is not known, or when
    /// it was not laid out.
    #[serde(skip_serializing_if = "Option::is_none")]
    within_percent: Option<i64>,
    /// Different fence and stop settings, edge trimming apart.
    settings: u32,
    /// Cuts.
    cuts: u32,
    /// What else could be chosen, in words.
    neighbours: &'a [String],
    /// What to mind.
    notes: &'a [String],
    /// Why it was not laid out, when it was not.
    #[serde(skip_serializing_if = "Option::is_none")]
    unplanned: Option<&'a str>,
    /// Every sheet or board that is cut differently.
    sheets: Vec<SheetView<'a>>,
}

#[derive(Serialize, JsonSchema)]
struct UseView {
    /// `buy`, `in hand` or `rack`.
    source: &'static str,
    count: i64,
    /// Length and width of one.
    size: [Size; 2],
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<String>,
}

/// Places on a sheet are x along its length and y along its width, in nanometres.
#[derive(Serialize, JsonSchema)]
struct SheetView<'a> {
    /// The number of the first one; those cut alike have the numbers after it.
    number: u32,
    /// How many are cut like this.
    copies: u32,
    /// `buy`, `in hand` or `rack`.
    source: &'static str,
    length_nm: i64,
    width_nm: i64,
    parts: Vec<PlacedView<'a>>,
    offcuts: Vec<SpotView>,
    cuts: Vec<SawCutView>,
}

#[derive(Serialize, JsonSchema)]
struct PlacedView<'a> {
    mark: &'a str,
    part: &'a str,
    /// Length and width in the cut list, of a part that is cut rough.
    #[serde(skip_serializing_if = "Option::is_none")]
    to_size_nm: Option<[i64; 2]>,
    /// Whether it lies with its length across the sheet.
    turned: bool,
    spot: SpotView,
}

#[derive(Serialize, JsonSchema)]
struct SpotView {
    at_nm: [i64; 2],
    size_nm: [i64; 2],
}

/// A cut; the piece that it is made in is the sheet, or the one that the cut `from` made.
#[derive(Serialize, JsonSchema)]
struct SawCutView {
    number: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    from: Option<u32>,
    /// `trim an end`, `trim an edge`, `rip` or `crosscut`.
    kind: &'static str,
    setting_nm: i64,
    /// What the blade takes away.
    kerf_nm: i64,
    length_nm: i64,
    makes: MadeView,
    leaves: MadeView,
}

/// What becomes of one side of a cut.
#[derive(Serialize, JsonSchema)]
struct MadeView {
    /// `part`, `offcut`, `piece` (named by the number of its cut), `rest` (the piece in hand), `waste`, `nothing`, or
    /// `elsewhere`: the other part of a board with defects.
    what: &'static str,
    /// The place among the parts or offcuts of the sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    place: Option<usize>,
}

/// An offcut on the rack.
#[derive(Serialize, JsonSchema)]
pub(super) struct RackView<'a> {
    stock: &'a str,
    count: u32,
    /// Length and width.
    size: [Size; 2],
    /// The sheet that it was cut from; nothing for what was on the rack before.
    #[serde(skip_serializing_if = "Option::is_none")]
    from_sheet: Option<u32>,
}

impl<'a> StockPlanView<'a> {
    pub(super) fn of(stock: &'a StockLayout, printing: Printing) -> Self {
        let areas = &stock.areas;
        let use_of = |row: &UseRow| UseView {
            source: row.source.name(),
            count: row.count,
            size: Size::two(row.length, row.width, printing),
            cost: row.cost.map(|cost| cost.to_string()),
        };
        Self {
            stock: &stock.stock,
            form: stock.form.name(),
            parts: stock.parts,
            uses: stock.uses.iter().map(use_of).collect(),
            area_mm2: [areas.sheets, areas.parts, areas.offcuts, areas.waste, areas.sawdust]
                .map(|area| whole_mm(area, 2)),
            proven: stock.proof == Some(Proof::Best),
            within_percent: stock.proof.and_then(|proof| match proof {
                Proof::Best | Proof::LeastBought => Some(0),
                Proof::Within { percent, .. } => Some(percent),
                Proof::Open => None,
            }),
            settings: stock.settings,
            cuts: stock.cuts,
            neighbours: &stock.neighbours,
            notes: &stock.notes,
            unplanned: stock.unplanned.as_deref(),
            sheets: stock.blanks.iter().map(SheetView::of).collect(),
        }
    }
}

impl<'a> SheetView<'a> {
    fn of(blank: &'a Blank) -> Self {
        Self {
            number: blank.number,
            copies: blank.copies,
            source: blank.source.name(),
            length_nm: blank.length.nm(),
            width_nm: blank.width.nm(),
            parts: blank.parts.iter().map(PlacedView::of).collect(),
            offcuts: blank.offcuts.iter().map(SpotView::of).collect(),
            cuts: blank.cuts.iter().map(SawCutView::of).collect(),
        }
    }
}

impl<'a> PlacedView<'a> {
    fn of(part: &'a PlacedPart) -> Self {
        let to_size_nm = match part.rough {
            Rough::To(length, width) => Some([length.nm(), width.nm()]),
            Rough::No | Rough::Strip => None,
        };
        Self { mark: &part.mark, part: &part.part, to_size_nm, turned: part.turned, spot: SpotView::of(&part.spot) }
    }
}

impl SpotView {
    fn of(spot: &Spot) -> Self {
        Self { at_nm: [spot.at.0.nm(), spot.at.1.nm()], size_nm: [spot.size.0.nm(), spot.size.1.nm()] }
    }
}

impl SawCutView {
    fn of(cut: &Cut) -> Self {
        Self {
            number: cut.number,
            from: cut.from.made_by,
            kind: cut.kind.name(),
            setting_nm: cut.setting.nm(),
            kerf_nm: cut.kerf.nm(),
            length_nm: cut.length.nm(),
            makes: MadeView::of(cut.makes),
            leaves: MadeView::of(cut.leaves),
        }
    }
}

impl MadeView {
    fn of(made: Made) -> Self {
        let (what, place) = match made {
            Made::Part(place) => ("part", Some(place)),
            Made::Offcut(place) => ("offcut", Some(place)),
            Made::Piece => ("piece", None),
            Made::Rest => ("rest", None),
            Made::Waste => ("waste", None),
            Made::Nothing => ("nothing", None),
            Made::Elsewhere => ("elsewhere", None),
        };
        Self { what, place }
    }
}

impl<'a> RackView<'a> {
    pub(super) fn of(row: &'a RackRow, printing: Printing) -> Self {
        let piece = &row.piece;
        Self {
            stock: &piece.stock,
            count: piece.count,
            size: Size::two(piece.length, piece.width, printing),
            from_sheet: row.from,
        }
    }
}
