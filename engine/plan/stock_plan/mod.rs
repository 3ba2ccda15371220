//! The stock plan: which sheets and boards to take, and each cut in order.
//!
//! [`ask`] turns the cut list and the shop into one problem of rectangles for each stock, [`lay`] has it solved and turns the
//! answer back into sheets with parts, [`tighten`] takes slack out of it, [`walk`] puts the cuts into the order in which they are made.

mod ask;
mod lay;
mod tighten;
mod walk;
mod weight;
mod words;

use std::fmt;
use std::sync::{Arc, OnceLock};

use super::{Amount, CutRow};
use crate::base::{Length, Printing};
use crate::diag::{At, Finding};
use crate::model::{BoardRun, CuttingRules, Model, Money, RackPiece, Shop, Stock};
use crate::nesting::{self, Broken, Effort, Fault, Outcome, Problem};

/// What is to be cut out of which stock and by which rules: the question whose answer is a [`StockPlan`].
///
/// To find the answer takes a search, so it is made when it is asked for, and then kept.
#[derive(Clone, Default)]
pub struct Cutting {
    lots: Vec<Lot>,
    rules: CuttingRules,
    sheet_kerf: Length,
    /// Of boards: what a crosscut takes away, and what a rip does.
    board_kerfs: [Length; 2],
    trim_ends: [Length; 2],
    trim_edges: [Length; 2],
    rack: Vec<RackPiece>,
    printing: Printing,
    answer: OnceLock<Result<StockPlan, WrongPlan>>,
}

impl fmt::Debug for Cutting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Cutting").field("lots", &self.lots).finish_non_exhaustive()
    }
}

/// How long to search. The same work and seed give the same plan on every machine; what `stop` ends does not.
pub struct Search<'a> {
    /// Where the dice begin.
    pub seed: u64,
    /// How many attempts to better the plan are made for each stock.
    pub work: u64,
    /// Asked every now and then, for the n-th stock of so many; true ends the search for that stock with the best plan so far.
    pub stop: &'a (dyn Fn(usize, usize) -> bool + Sync),
    /// What finds a plan for one stock: [`nesting::plan`]. Whatever it answers is cut in thought before anything is made of it.
    pub engine: Engine,
}

/// What finds a plan: the engine, or in tests one that is wrong on purpose.
pub type Engine = fn(&Problem, &Effort<'_>) -> Result<Outcome, Fault>;

/// The engine made a plan that cannot be cut. That is a fault of ours and never one of the job; nothing may be made of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrongPlan {
    /// The stock that was to be cut up.
    pub stock: String,
    /// The rule that the plan breaks.
    pub broken: Broken,
}

impl fmt::Display for WrongPlan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the stock plan for `{}` cannot be cut: {}", self.stock, self.broken)
    }
}

impl std::error::Error for WrongPlan {}

impl Search<'static> {
    /// What a job gets unless more is asked for: a few milliseconds for each stock.
    // From measurements on jobs of 20 to 80 parts: most are proven best before this is spent.
    pub const USUAL: Self = Self { seed: 1, work: 1_500, stop: &|_, _| false, engine: nesting::plan };
}

impl Cutting {
    /// What the rows of a cut list need.
    pub(super) fn of(model: &Model, rows: &[CutRow], shop: &Shop) -> Self {
        let mut cutting = Self::in_shop(shop, model.printing);
        cutting.lots = ask::lots(model, rows, shop);
        cutting
    }

    /// What several jobs need together, each made so many times. Marks are led in by the name of their job.
    pub fn together(jobs: &[(&str, &Self, i64)], shop: &Shop, printing: Printing) -> Self {
        let mut cutting = Self::in_shop(shop, printing);
        for (name, job, count) in jobs {
            ask::add(&mut cutting.lots, name, &job.lots, u32::try_from(*count).unwrap_or(u32::MAX));
        }
        cutting
    }

    fn in_shop(shop: &Shop, printing: Printing) -> Self {
        Self {
            lots: Vec::new(),
            rules: shop.cutting.clone(),
            sheet_kerf: shop.sheet_kerf(),
            board_kerfs: [shop.crosscut_kerf(), shop.rip_kerf()],
            trim_ends: shop.trim_ends(),
            trim_edges: shop.trim_edges(),
            rack: shop.rack.clone(),
            printing,
            answer: OnceLock::new(),
        }
    }

    /// What can be told without a search: parts that the saw cannot cut, parts too heavy for one person.
    pub fn findings(&self) -> Vec<Finding> {
        lay::findings(self)
    }

    /// The names of the stocks, in the order in which they are laid out.
    pub fn stocks(&self) -> impl Iterator<Item = &str> {
        self.lots.iter().map(|lot| lot.stock.name.as_str())
    }

    /// The plan, found with the usual search unless [`Cutting::lay_out`] has found one before. Where the engine made a wrong one it
    /// is empty; whoever shows or writes it asks [`Cutting::lay_out`] first.
    pub fn plan(&self) -> &StockPlan {
        static NOTHING: StockPlan = StockPlan { stocks: Vec::new(), rack: Vec::new() };
        self.lay_out(&Search::USUAL).unwrap_or(&NOTHING)
    }

    /// The plan, found with this search unless there is one already.
    ///
    /// # Errors
    ///
    /// When the engine makes a plan that cannot be cut.
    pub fn lay_out(&self, search: &Search<'_>) -> Result<&StockPlan, &WrongPlan> {
        self.answer.get_or_init(|| lay::stock_plan(self, search)).as_ref()
    }
}

/// What is cut out of one stock.
#[derive(Clone, Debug)]
struct Lot {
    stock: Arc<Stock>,
    wanted: Vec<Wanted>,
}

/// Equal parts. Sizes are those of the cut list.
#[derive(Clone, Debug)]
struct Wanted {
    mark: String,
    part: String,
    length: Length,
    width: Length,
    count: u32,
    /// Whether one of its faces will be seen.
    shows: bool,
    /// The bank of fronts that it belongs to, its place in it from the top, and whether the bank follows the grain.
    bank: Option<Member>,
    at: Option<At>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Member {
    bank: u32,
    place: u32,
    along_grain: bool,
}

/// Which sheets and boards to take, and how each is cut.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StockPlan {
    /// One for each stock, in order of first appearance.
    pub stocks: Vec<StockLayout>,
    /// What is on the rack afterwards: what was not used of it, then the new offcuts.
    pub rack: Vec<RackRow>,
}

impl StockPlan {
    /// Everything that is cut up, with its stock.
    pub fn blanks(&self) -> impl Iterator<Item = (&StockLayout, &Blank)> {
        self.stocks.iter().flat_map(|stock| stock.blanks.iter().map(move |blank| (stock, blank)))
    }

    /// What all that is bought costs; `None` when a price is missing.
    pub fn cost(&self) -> Option<Money> {
        let bought = self.stocks.iter().flat_map(|stock| &stock.uses).filter(|row| row.source == Source::Bought);
        bought.map(|row| row.cost.map(|cost| cost.0)).sum::<Option<i64>>().map(Money)
    }
}

/// How one stock is cut up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StockLayout {
    /// The stock's name.
    pub stock: String,
    /// Thickness to work with.
    pub thickness: Length,
    /// Sheets or boards.
    pub form: BlankForm,
    /// Whether the stock has a grain, along its length.
    pub grain: bool,
    /// How many parts of the cut list come from it.
    pub parts: i64,
    /// What the parts of the cut list need.
    pub net: Amount,
    /// What is bought and used for them.
    pub used: Amount,
    /// What is bought and what is used of what is there.
    pub uses: Vec<UseRow>,
    /// Every sheet and board that is cut differently.
    pub blanks: Vec<Blank>,
    /// Where the area went.
    pub areas: AreaSums,
    /// How good the plan is; `None` when there is none.
    pub proof: Option<Proof>,
    /// How many different fence and stop settings its cuts need, edge trimming apart.
    pub settings: u32,
    /// How many cuts are made.
    pub cuts: u32,
    /// What else could be chosen, in words.
    pub neighbours: Vec<String>,
    /// What to mind.
    pub notes: Vec<String>,
    /// Why it was not laid out; `None` when it was.
    pub unplanned: Option<String>,
}

impl StockLayout {
    /// What the blades take away, in words; nothing where no cut is made.
    pub fn kerf_words(&self, printing: Printing) -> String {
        let of = |rips: bool| {
            let is_so = |cut: &&Cut| rips == matches!(cut.kind, CutKind::Rip | CutKind::TrimEdge);
            self.blanks.iter().flat_map(|blank| &blank.cuts).find(is_so).map(|cut| cut.kerf)
        };
        match (of(true), of(false)) {
            (Some(rip), Some(crosscut)) if rip != crosscut => {
                format!("kerf {} ripping and {} crosscutting", printing.length(rip), printing.length(crosscut))
            }
            (Some(kerf), _) | (_, Some(kerf)) => format!("kerf {}", printing.length(kerf)),
            (None, None) => String::new(),
        }
    }
}

/// In which form a stock comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlankForm {
    /// Sheets.
    Sheet,
    /// Boards.
    Board,
}

impl BlankForm {
    /// The word for one of it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Board => "board",
        }
    }
}

/// Where a sheet or board comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// It has to be bought.
    Bought,
    /// The shop file says that it is there.
    InHand,
    /// It is an offcut of an earlier job.
    Rack,
}

impl Source {
    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bought => "buy",
            Self::InHand => "in hand",
            Self::Rack => "rack",
        }
    }
}

/// So many sheets or boards of one size from one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UseRow {
    /// Where they come from.
    pub source: Source,
    /// How many.
    pub count: i64,
    /// Length of one, along the grain.
    pub length: Length,
    /// Width of one.
    pub width: Length,
    /// What they cost, where they are bought and a price is known.
    pub cost: Option<Money>,
}

/// Areas in square nanometres. Parts, offcuts, waste and sawdust add up to the sheets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct AreaSums {
    /// The raw sheets and boards.
    pub sheets: i128,
    /// The parts as they are cut, with their oversize.
    pub parts: i128,
    /// What is worth keeping.
    pub offcuts: i128,
    /// What is not, trimmed edges included.
    pub waste: i128,
    /// What the blade takes.
    pub sawdust: i128,
}

/// How good a plan is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// No cheaper plan exists.
    Best,
    /// No plan buys for less. Another one may take less from the rack and of what is in hand.
    LeastBought,
    /// What is bought may be more than any plan must buy.
    Within {
        /// It costs at most so many percent more, rounded up.
        percent: i64,
        /// How many are bought, and how many every plan must buy: where there is one size to be had, or no plan buys fewer.
        count: Option<(i64, i64)>,
    },
    /// Perhaps nothing need be bought beside what is there.
    Open,
}

/// A sheet or board, and how it and those like it are cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Blank {
    /// Its number in the job, counted from 1. Those cut alike have the numbers after it.
    pub number: u32,
    /// How many are cut like this.
    pub copies: u32,
    /// Where it comes from.
    pub source: Source,
    /// Length, along the grain.
    pub length: Length,
    /// Width.
    pub width: Length,
    /// Where it lies in the board with defects that it is cut out of first.
    pub run: Option<BoardRun>,
    /// The cuts in the order in which they are made.
    pub cuts: Vec<Cut>,
    /// The parts that come out of it.
    pub parts: Vec<PlacedPart>,
    /// The offcuts that are kept.
    pub offcuts: Vec<Spot>,
}

impl Blank {
    /// Its size in words, and where it lies in a board with defects.
    pub fn size_words(&self, printing: Printing) -> String {
        let size = printing.by(self.length, self.width);
        let Some(run) = self.run else { return size };
        let (from, to) = (printing.length(run.from), printing.length(run.from + self.length));
        format!("{size}, from {from} to {to} of a board {} long", printing.length(run.of))
    }

    /// In which order it is cut, in words: `crosscut first, then rip`. Nothing where all cuts are of one kind; trimming apart.
    pub fn way_words(&self) -> Option<String> {
        let mut kinds: Vec<CutKind> = Vec::new();
        for cut in self.cuts.iter().filter(|cut| cut.leaves != Made::Elsewhere) {
            if matches!(cut.kind, CutKind::Rip | CutKind::Crosscut) && kinds.last() != Some(&cut.kind) {
                kinds.push(cut.kind);
            }
        }
        let [first, then @ ..] = kinds.as_slice() else { return None };
        let then: Vec<&str> = then.iter().map(|kind| kind.name()).collect();
        (!then.is_empty()).then(|| format!("{} first, then {}", first.name(), then.join(", then ")))
    }

    /// Its numbers in words: `3`, `3 and 4`, `3 to 6`.
    pub fn numbers(&self) -> String {
        match self.copies {
            0 | 1 => self.number.to_string(),
            2 => format!("{} and {}", self.number, self.number + 1),
            more => format!("{} to {}", self.number, self.number + more - 1),
        }
    }
}

impl Proof {
    /// What it says, in words.
    pub fn words(self) -> String {
        match self {
            Self::Best => "proven: no cheaper way exists".to_owned(),
            Self::LeastBought => "proven: no plan buys less; one may use less of what is there".to_owned(),
            Self::Within { percent, count: Some((bought, least)) } if bought <= least => {
                format!("no plan buys fewer; what is bought costs at most {percent} % more than every plan must buy")
            }
            Self::Within { count: Some((bought, least)), .. } => {
                format!("{bought} are bought; every plan must buy {least} at least")
            }
            Self::Within { percent, count: None } => {
                format!("what is bought costs at most {percent} % more than every plan must buy")
            }
            Self::Open => "not proven: perhaps what is there would be enough".to_owned(),
        }
    }
}

impl AreaSums {
    /// The share of what is used that is neither in parts nor kept, in percent, rounded up.
    pub fn lost_percent(&self) -> i64 {
        let lost = (self.waste + self.sawdust) * 100;
        let sheets = self.sheets.max(1);
        i64::try_from((lost + sheets - 1) / sheets).unwrap_or(100)
    }
}

/// A rectangle on a sheet: x along the length, y along the width.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The corner nearest to zero.
    pub at: (Length, Length),
    /// Its size along x and y.
    pub size: (Length, Length),
}

/// A part, or a strip of one, where it lies on its sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlacedPart {
    /// The mark of its row in the cut list.
    pub mark: String,
    /// What it is called.
    pub part: String,
    /// Its length as it is cut from the sheet, along the grain unless it is free to turn.
    pub length: Length,
    /// Its width as it is cut from the sheet.
    pub width: Length,
    /// Whether that is more than its size in the cut list.
    pub rough: Rough,
    /// Whether it lies with its length across the sheet.
    pub turned: bool,
    /// Whether one of its faces will be seen.
    pub shows: bool,
    /// Where it lies.
    pub spot: Spot,
}

/// Whether a part is cut over its size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rough {
    /// It is cut to its size.
    No,
    /// It is jointed or trimmed to this length and width afterwards.
    To(Length, Length),
    /// It is one of the strips that a part is glued up from.
    Strip,
}

/// One cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Its number on this sheet, counted from 1.
    pub number: u32,
    /// What is cut.
    pub from: Held,
    /// How.
    pub kind: CutKind,
    /// What the fence or stop is set to: the size of what is cut off, or of what is left when an edge is trimmed.
    pub setting: Length,
    /// What the blade that makes it takes away.
    pub kerf: Length,
    /// How long the cut is.
    pub length: Length,
    /// Whether that is more than the shop's saw can make.
    pub beyond_saw: bool,
    /// Whether what is cut off is narrower than the fence alone is good for.
    pub needs_jig: bool,
    /// What is cut off.
    pub makes: Made,
    /// What is left.
    pub leaves: Made,
    /// The middle of the kerf on the raw sheet.
    pub line: [(Length, Length); 2],
}

/// The piece in hand when a cut is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held {
    /// The cut that made it; `None` for the raw sheet or board.
    pub made_by: Option<u32>,
    /// Whether something has been cut off it already.
    pub begun: bool,
}

/// The ways to cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutKind {
    /// A factory end is trimmed.
    TrimEnd,
    /// A factory edge is trimmed.
    TrimEdge,
    /// Along the grain, or along the longer side of a sheet without grain.
    Rip,
    /// Across.
    Crosscut,
}

impl CutKind {
    /// The trade's word.
    pub const fn name(self) -> &'static str {
        match self {
            Self::TrimEnd => "trim an end",
            Self::TrimEdge => "trim an edge",
            Self::Rip => "rip",
            Self::Crosscut => "crosscut",
        }
    }
}

/// What becomes of one side of a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Made {
    /// A part, by its place among the parts of the sheet.
    Part(usize),
    /// An offcut that is kept, by its place among those of the sheet.
    Offcut(usize),
    /// A piece that is cut on, named by the number of this cut.
    Piece,
    /// The piece in hand, which is cut on.
    Rest,
    /// Nothing to keep.
    Waste,
    /// Nothing at all: the blade takes what was left.
    Nothing,
    /// The other part of a board with defects.
    Elsewhere,
}

/// So many offcuts of one size on the rack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RackRow {
    /// The offcut.
    pub piece: RackPiece,
    /// The sheet or board that it was cut from in this job; `None` for what was on the rack before.
    pub from: Option<u32>,
}

#[cfg(test)]
mod tests {
    use super::super::testing::{inch, solid, stock};
    use super::*;
    use crate::model::{FirstCut, Front, FrontStyle, OpeningId, Part, StockForm, SupplySize};
    use crate::plan;

    /// Parts of one stock by length, width and count.
    fn job(stock: &Arc<Stock>, parts: &[(Length, Length, i32)]) -> Model {
        let mut model = Model::new("job", Printing::default());
        for (i, &(length, width, count)) in parts.iter().enumerate() {
            for _ in 0..count {
                let size = solid([Length::ZERO; 3], [length, width, stock.thickness()]);
                model.add_part(Part::new(&format!("part {i}"), Model::ROOT, stock.clone(), size));
            }
        }
        model
    }

    fn laid_out(model: &Model, shop: &Shop) -> StockPlan {
        plan::plan(model, shop).cutting.plan().clone()
    }

    #[test]
    fn what_is_in_hand_is_used_first_and_the_rest_is_bought() {
        // Three panels of 60 x 40 in take a sheet each: one is in hand, two are bought for 70.00 each.
        let mut birch = (*stock("3/4 birch plywood")).clone();
        let usual = SupplySize { length: inch(96, 1), width: inch(48, 1), price: None, run: None };
        birch.supply.in_hand = vec![(1, usual)];
        birch.price = Some(crate::model::Price { amount: Money(7_000), per: crate::model::Per::Sheet });
        let model = job(&Arc::new(birch), &[(inch(60, 1), inch(40, 1), 3)]);
        let plan = laid_out(&model, &Shop::default());
        let uses: Vec<(Source, i64, Option<Money>)> =
            plan.stocks[0].uses.iter().map(|row| (row.source, row.count, row.cost)).collect();
        assert_eq!(uses, [(Source::Bought, 2, Some(Money(14_000))), (Source::InHand, 1, None)]);
        assert_eq!((plan.cost(), plan.stocks[0].proof), (Some(Money(14_000)), Some(Proof::Best)));
    }

    #[test]
    fn the_cheapest_mix_of_sizes_is_taken() {
        // A panel of 50 x 50 in goes onto a sheet of 5 x 5 ft alone, however dear it is.
        let mut birch = (*stock("3/4 birch plywood")).clone();
        birch.supply.sizes = vec![SupplySize { length: inch(60, 1), width: inch(60, 1), price: None, run: None }];
        let model = job(&Arc::new(birch), &[(inch(50, 1), inch(50, 1), 1), (inch(90, 1), inch(10, 1), 1)]);
        let plan = laid_out(&model, &Shop::default());
        let sizes: Vec<Length> = plan.stocks[0].uses.iter().map(|row| row.length).collect();
        assert_eq!(sizes, [inch(96, 1), inch(60, 1)]);
    }

    #[test]
    fn a_saw_that_cannot_do_it_is_told_before_anything_is_cut() {
        let model = job(&stock("3/4 birch plywood"), &[(inch(80, 1), inch(20, 1), 1)]);
        let mut shop = Shop::default();
        assert!(plan::plan(&model, &shop).cutting.findings().is_empty());
        // The side of 80 in is a rip of 80 in at least, whatever is cut first.
        shop.cutting.longest_rip = Some(inch(60, 1));
        let findings = plan::plan(&model, &shop).cutting.findings();
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].code, "beyond-the-saw");
        assert!(findings[0].message.contains("`longest_rip` 60\""), "{}", findings[0].message);
        shop.cutting.longest_rip = Some(inch(84, 1));
        assert!(plan::plan(&model, &shop).cutting.findings().is_empty());
    }

    #[test]
    fn parts_of_boards_are_ripped_over_their_size() {
        // 2 in from pine: the narrowest board that holds 2-1/8 in is 2-1/2 in wide; a part of 2-1/2 in is taken as it is.
        let model = job(&stock("3/4 pine board"), &[(inch(40, 1), inch(2, 1), 1), (inch(40, 1), inch(5, 2), 1)]);
        let plan = laid_out(&model, &Shop::default());
        let mut widths: Vec<Length> =
            plan.blanks().flat_map(|(_, blank)| &blank.parts).map(|part| part.width).collect();
        widths.sort_unstable();
        assert_eq!(widths, [inch(17, 8), inch(5, 2)]);
    }

    #[test]
    fn the_fronts_of_a_bank_are_cut_next_to_each_other() {
        let birch = stock("3/4 birch plywood");
        let mut model = job(&birch, &[(inch(30, 1), inch(20, 1), 2)]);
        for (place, height) in [(0, 10), (11, 8), (20, 6)] {
            let low = [Length::ZERO, Length::ZERO, inch(place, 1)];
            let high = [inch(20, 1), birch.thickness(), inch(place + height, 1)];
            let part = model.add_part(Part::new("front", Model::ROOT, birch.clone(), solid(low, high)));
            model.fronts.push(Front {
                part,
                rest: vec![],
                opening: OpeningId(0),
                style: FrontStyle::Applied,
                at: None,
            });
        }
        let plan = laid_out(&model, &Shop::default());
        let fronts: Vec<&PlacedPart> =
            plan.blanks().flat_map(|(_, blank)| &blank.parts).filter(|part| part.part == "front").collect();
        // From the top down: 6, 8 and 10 in wide, each an eighth of an inch, the kerf, beside the one before.
        assert_eq!(fronts.iter().map(|part| part.width).collect::<Vec<_>>(), [inch(6, 1), inch(8, 1), inch(10, 1)]);
        for pair in fronts.windows(2) {
            assert_eq!(pair[0].spot.at.0, pair[1].spot.at.0);
            assert_eq!(pair[0].spot.at.1 + pair[0].spot.size.1 + inch(1, 8), pair[1].spot.at.1);
        }
    }

    /// Does what the list of cuts says, piece by piece as it names them, and gives back the sizes of the parts that come of it.
    fn sawn(stock: &StockLayout, blank: &Blank, shop: &Shop) -> Vec<(Length, Length)> {
        use std::collections::BTreeMap;
        let is_board = stock.form == BlankForm::Board;
        let rip_is_y = is_board || stock.grain || blank.length >= blank.width;
        let mut pieces: BTreeMap<Option<u32>, (Length, Length)> = BTreeMap::from([(None, (blank.length, blank.width))]);
        let mut parts = vec![None; blank.parts.len()];
        let mut offcuts = vec![None; blank.offcuts.len()];
        for (i, cut) in blank.cuts.iter().enumerate() {
            assert_eq!(cut.number as usize, i + 1);
            let hand = pieces.remove(&cut.from.made_by).expect("the piece that it names is there");
            let across_y = match cut.kind {
                CutKind::Rip => rip_is_y,
                CutKind::Crosscut => !rip_is_y,
                CutKind::TrimEdge => blank.length >= blank.width,
                CutKind::TrimEnd => blank.length < blank.width,
            };
            let (along, length) = if across_y { (hand.1, hand.0) } else { (hand.0, hand.1) };
            assert_eq!(cut.length, length, "{cut:?}");
            let size = |along| if across_y { (hand.0, along) } else { (along, hand.1) };
            assert!(cut.setting < along, "{cut:?} of {hand:?}");
            let trims = matches!(cut.kind, CutKind::TrimEdge | CutKind::TrimEnd);
            let kerf = match cut.kind {
                _ if !is_board => shop.sheet_kerf(),
                CutKind::Rip => shop.rip_kerf(),
                _ => shop.crosscut_kerf(),
            };
            assert_eq!(cut.kerf, kerf);
            let behind = (along - cut.setting - kerf).max(Length::ZERO);
            for (made, along) in [(cut.makes, cut.setting), (cut.leaves, behind)] {
                match made {
                    Made::Part(part) => assert_eq!(parts[part].replace(size(along)), None),
                    Made::Offcut(offcut) => assert_eq!(offcuts[offcut].replace(size(along)), None),
                    Made::Piece => assert_eq!(pieces.insert(Some(cut.number), size(along)), None),
                    Made::Rest => assert_eq!(pieces.insert(cut.from.made_by, size(along)), None),
                    Made::Nothing => assert!(trims || behind == Length::ZERO),
                    Made::Waste | Made::Elsewhere => {}
                }
            }
        }
        assert!(pieces.is_empty() || blank.cuts.is_empty(), "left in hand: {pieces:?}");
        for (offcut, spot) in offcuts.iter().zip(&blank.offcuts) {
            assert_eq!(*offcut, Some(spot.size));
        }
        for (part, placed) in parts.iter().zip(&blank.parts) {
            assert!(part.is_none_or(|size| size == placed.spot.size) && (part.is_some() || blank.cuts.is_empty()));
        }
        blank.parts.iter().map(|part| part.spot.size).collect()
    }

    fn sawn_all(model: &Model, shop: &Shop) -> StockPlan {
        let plan = laid_out(model, shop);
        for (stock, blank) in plan.blanks() {
            sawn(stock, blank, shop);
            let areas = &stock.areas;
            assert_eq!(areas.parts + areas.offcuts + areas.waste + areas.sawdust, areas.sheets);
        }
        plan
    }

    #[test]
    fn cuts_done_as_they_are_listed_make_the_parts() {
        // Random jobs with a rack, in every way of working and number of stages, on saws large and small. The dice are those of a
        // linear congruence (Numerical Recipes' figures, from memory): any would do.
        let mut dice = 7_u32;
        let mut roll = |n: i64| {
            dice = dice.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            i64::from(dice >> 8) % n
        };
        let stocks = ["3/4 birch plywood", "3/4 MDF", "3/4 pine board", "3/4 hard maple board", "18 mm MDF"].map(stock);
        let mut from_rack = 0;
        for round in 0..60 {
            let stock = &stocks[usize::try_from(roll(5)).unwrap()];
            let count = 1 + roll(12);
            let parts: Vec<_> = (0..count)
                .map(|_| (inch(64 + roll(4_000), 64), inch(64 + roll(1_500), 64), i32::try_from(1 + roll(4)).unwrap()))
                .collect();
            let mut shop = Shop { kerf: Length::from_nm(roll(4_000_000)), ..Shop::default() };
            let blade = Length::from_nm(roll(4_000_000));
            shop.cutting.sheet_kerf = (roll(3) == 0).then_some(blade);
            shop.cutting.rip_kerf = (roll(2) == 0).then_some(blade);
            shop.cutting.crosscut_kerf = (roll(3) == 0).then_some(inch(1, 16));
            shop.cutting.first = FirstCut::ALL[usize::try_from(roll(3)).unwrap()].0;
            shop.cutting.stages = Some(u8::try_from(1 + roll(5)).unwrap()).filter(|&stages| stages < 5);
            shop.cutting.longest_rip = (roll(3) == 0).then(|| inch(70 + roll(40), 1));
            shop.cutting.crosscut_capacity = (roll(3) == 0).then(|| inch(24 + roll(40), 1));
            shop.rack = (0..roll(6))
                .map(|_| RackPiece {
                    stock: stock.name.clone(),
                    thickness: None,
                    length: inch(20 + roll(60), 1),
                    width: inch(5 + roll(40), 1),
                    count: u32::try_from(1 + roll(2)).unwrap(),
                    price: (roll(2) == 0).then_some(Money(0)),
                })
                .collect();
            let plan = sawn_all(&job(stock, &parts), &shop);
            from_rack += plan.blanks().filter(|(_, blank)| blank.source == Source::Rack).count();
            // A cut that the saw cannot make is only ever one that trims what is longer than it, and says so.
            let trims = |cut: &Cut| matches!(cut.kind, CutKind::TrimEdge | CutKind::TrimEnd);
            let mut beyond = plan.blanks().flat_map(|(_, blank)| &blank.cuts).filter(|cut| cut.beyond_saw);
            assert!(beyond.all(trims), "{round}");
        }
        assert!(from_rack > 10, "{from_rack}");
    }

    #[test]
    fn a_sheet_too_long_to_rip_is_cut_across_first_and_trimmed_after() {
        // 96 in is more than the 60 in that can be ripped: the ends are trimmed, then a head cut at 50 in, and only then the edges of
        // what it made.
        let model = job(&stock("3/4 birch plywood"), &[(inch(50, 1), inch(20, 1), 2)]);
        let mut shop = Shop::default();
        shop.cutting.longest_rip = Some(inch(60, 1));
        let plan = sawn_all(&model, &shop);
        let cuts = &plan.stocks[0].blanks[0].cuts;
        let kinds: Vec<CutKind> = cuts.iter().map(|cut| cut.kind).take(4).collect();
        assert_eq!(kinds, [CutKind::TrimEnd, CutKind::TrimEnd, CutKind::Crosscut, CutKind::TrimEdge]);
        assert!(cuts.iter().all(|cut| !cut.beyond_saw
            && (cut.kind == CutKind::Crosscut || cut.length <= inch(60, 1) || cut.kind == CutKind::TrimEnd)));
        // With a crosscut of no more than 24 in, the strips come first and their ends are trimmed one by one.
        shop.cutting.longest_rip = None;
        shop.cutting.crosscut_capacity = Some(inch(24, 1));
        let plan = sawn_all(&model, &shop);
        let cuts = &plan.stocks[0].blanks[0].cuts;
        assert_eq!(cuts[0].kind, CutKind::TrimEdge);
        assert!(
            cuts.iter().position(|cut| cut.kind == CutKind::Rip)
                < cuts.iter().position(|cut| cut.kind == CutKind::TrimEnd)
        );
        // And one that can neither be ripped nor cut across is told.
        shop.cutting.longest_rip = Some(inch(60, 1));
        let plan = laid_out(&model, &shop);
        assert!(plan.stocks[0].unplanned.as_ref().is_some_and(|why| why.contains("guided saw")), "{plan:?}");
    }

    #[test]
    fn a_good_length_is_cut_free_of_its_board_first() {
        // From 43 to 84 in of a board of 84 in: 41 in, cut off at 41 in from the far end; from 20 to 60: first 60, then 40.
        let mut cherry = (*stock("4/4 cherry board")).clone();
        let run = |from: i64| Some(BoardRun { of: inch(84, 1), from: inch(from, 1) });
        for (from, long, settings) in [(43, 41, vec![41]), (20, 40, vec![60, 40]), (0, 40, vec![40])] {
            let good = SupplySize { length: inch(long, 1), width: inch(6, 1), price: None, run: run(from) };
            cherry.supply.in_hand = vec![(1, good)];
            let plan = laid_out(&job(&Arc::new(cherry.clone()), &[(inch(36, 1), inch(5, 1), 1)]), &Shop::default());
            let blank = &plan.stocks[0].blanks[0];
            assert_eq!(blank.source, Source::InHand);
            let cuts: Vec<Length> =
                blank.cuts.iter().filter(|cut| cut.leaves == Made::Elsewhere).map(|cut| cut.setting).collect();
            assert_eq!(cuts, settings.into_iter().map(|size| inch(size, 1)).collect::<Vec<_>>());
        }
    }

    #[test]
    fn each_saw_takes_its_own_kerf() {
        // A board of 8 ft, half an inch off each end: 95 in. Three lengths of 31-5/8 in and two kerfs of 1/16 in are just 95 in, with two of
        // 1/8 in they are 95-1/8 in. Likewise across: two strips of 2-7/8 in and a rip of 1/4 in are 6 in.
        let mut maple = (*stock("3/4 hard maple board")).clone();
        maple.form = StockForm::Board { widths: vec![inch(6, 1)], lengths: vec![inch(96, 1)] };
        let mut shop = Shop::default();
        shop.cutting.joint_oversize = Length::ZERO;
        let boards = |shop: &Shop| {
            let model = job(&Arc::new(maple.clone()), &[(inch(253, 8), inch(23, 8), 6)]);
            sawn_all(&model, shop).stocks[0].uses[0].count
        };
        assert_eq!(boards(&shop), 2);
        shop.cutting.crosscut_kerf = Some(inch(1, 16));
        assert_eq!(boards(&shop), 1);
        shop.cutting.rip_kerf = Some(inch(1, 4));
        assert_eq!(boards(&shop), 1);
        shop.cutting.rip_kerf = Some(inch(5, 16));
        assert_eq!(boards(&shop), 2);
        // The saw of the sheets is another one again.
        shop.cutting.sheet_kerf = Some(inch(1, 4));
        let plan = sawn_all(&job(&stock("3/4 birch plywood"), &[(inch(30, 1), inch(20, 1), 2)]), &shop);
        assert_eq!(plan.stocks[0].kerf_words(Printing::default()), "kerf 1/4\"");
        assert_eq!(
            sawn_all(&job(&Arc::new(maple.clone()), &[(inch(30, 1), inch(2, 1), 2)]), &shop).stocks[0]
                .kerf_words(Printing::default()),
            "kerf 5/16\" ripping and 1/16\" crosscutting"
        );
    }

    #[test]
    fn a_thin_part_is_cut_with_a_jig_and_leaves_the_offcuts_as_wide_as_ever() {
        // Strips of half an inch are thinner than the 3/4 in that the fence is good for; the panels are not. The shop keeps everything from
        // a quarter inch on, and still no offcut is narrower than 3/4 in.
        let mut shop = Shop::default();
        (shop.cutting.offcut_short, shop.cutting.offcut_long) = (inch(1, 4), inch(1, 4));
        let model = job(&stock("3/4 MDF"), &[(inch(40, 1), inch(1, 2), 3), (inch(30, 1), inch(20, 1), 2)]);
        let plan = sawn_all(&model, &shop);
        let stock = &plan.stocks[0];
        assert!(
            stock.notes.iter().any(|note| note.contains("3/4\"") && note.ends_with("part 0, 1/2\"")),
            "{:?}",
            stock.notes
        );
        let cuts: Vec<&Cut> = stock.blanks.iter().flat_map(|blank| &blank.cuts).collect();
        assert!(cuts.iter().any(|cut| cut.needs_jig));
        assert!(cuts.iter().all(|cut| cut.needs_jig == (cut.setting < inch(3, 4))));
        let narrowest =
            stock.blanks.iter().flat_map(|blank| &blank.offcuts).map(|spot| spot.size.0.min(spot.size.1)).min();
        assert!(narrowest.is_some_and(|narrowest| narrowest >= inch(3, 4)), "{narrowest:?}");
    }

    #[test]
    fn a_strip_of_a_board_is_kept_where_it_is_long_enough() {
        // A board of 96 x 6 in, trimmed to 95, a part of 60 x 3 in cut to 3-1/8: beside it 95 x 2-3/4 in or 60 x 2-3/4, more than 2 x 24 in;
        // and 95 - 60 - 1/8 = 34-7/8 in behind it.
        let mut maple = (*stock("3/4 hard maple board")).clone();
        maple.form = StockForm::Board { widths: vec![inch(6, 1)], lengths: vec![inch(96, 1)] };
        let model = job(&Arc::new(maple), &[(inch(60, 1), inch(3, 1), 1)]);
        let mut shop = Shop::default();
        let kept = |shop: &Shop| {
            let plan = sawn_all(&model, shop);
            plan.rack.iter().map(|row| (row.piece.length, row.piece.width)).collect::<Vec<_>>()
        };
        let all = kept(&shop);
        assert!(all.len() == 2 && all.iter().any(|&(_, width)| width == inch(11, 4)), "{all:?}");
        shop.cutting.board_offcut_width = inch(4, 1);
        assert!(kept(&shop).iter().all(|&(_, width)| width == inch(6, 1)));
        shop.cutting.board_offcut_length = inch(40, 1);
        assert!(kept(&shop).is_empty());
    }

    #[test]
    fn what_is_cut_rough_has_its_size_beside_it() {
        let model = job(&stock("3/4 pine board"), &[(inch(40, 1), inch(2, 1), 1), (inch(40, 1), inch(20, 1), 1)]);
        let plan = laid_out(&model, &Shop::default());
        let parts = || plan.blanks().flat_map(|(_, blank)| &blank.parts);
        let rail = parts().find(|part| part.part == "part 0").unwrap();
        assert_eq!((rail.width, rail.rough), (inch(17, 8), Rough::To(inch(40, 1), inch(2, 1))));
        assert!(parts().filter(|part| part.part == "part 1, strip").all(|part| part.rough == Rough::Strip));
        // A sheet is cut to size unless the shop says otherwise.
        let plan = laid_out(&job(&stock("3/4 MDF"), &[(inch(40, 1), inch(2, 1), 1)]), &Shop::default());
        assert!(plan.blanks().flat_map(|(_, blank)| &blank.parts).all(|part| part.rough == Rough::No));
    }

    #[test]
    fn a_proof_speaks_of_what_is_bought() {
        // Three panels of 60 x 40 in: one comes off the rack at a price that no bound foresees, two are bought, and no plan buys fewer: by
        // area, what is left after the rack's 62 x 41 in needs more than one sheet.
        let model = job(&stock("3/4 birch plywood"), &[(inch(60, 1), inch(40, 1), 3)]);
        let mut shop = Shop::default();
        let piece = |length, width, count, price| RackPiece {
            stock: "3/4 birch plywood".to_owned(),
            thickness: None,
            length: inch(length, 1),
            width: inch(width, 1),
            count,
            price,
        };
        shop.rack = vec![piece(62, 41, 1, None)];
        let proof = laid_out(&model, &shop).stocks[0].proof;
        assert!(matches!(proof, Some(Proof::Best | Proof::LeastBought)), "{proof:?}");
        // Three cleats of 16 x 2 in, cut 2-1/8 in wide: two come out of 36-5/8 in of the rack, the third needs a board, and none is
        // cheaper than the least one.
        let cleats = job(&stock("3/4 hard maple board"), &[(inch(16, 1), inch(2, 1), 3)]);
        shop.rack = vec![RackPiece {
            stock: "3/4 hard maple board".to_owned(),
            length: inch(293, 8),
            width: inch(17, 8),
            ..piece(0, 0, 1, None)
        }];
        let proof = laid_out(&cleats, &shop).stocks[0].proof;
        assert!(matches!(proof, Some(Proof::Best | Proof::LeastBought)), "{proof:?}");
        // All that is needed lies there: whatever it is reckoned to be worth, nothing is bought.
        shop.rack = vec![piece(62, 41, 2, None), piece(70, 45, 2, None)];
        let plan = laid_out(&model, &shop);
        assert!(plan.stocks[0].uses.iter().all(|row| row.source == Source::Rack));
        assert!(matches!(plan.stocks[0].proof, Some(Proof::Best | Proof::LeastBought)));
        assert_eq!(
            Proof::Within { percent: 17, count: Some((7, 6)) }.words(),
            "7 are bought; every plan must buy 6 at least"
        );
    }

    #[test]
    fn what_is_of_another_thickness_stays_on_the_rack() {
        let model = job(&stock("3/4 birch plywood"), &[(inch(30, 1), inch(20, 1), 1)]);
        let mut shop = Shop::default();
        let piece = |thickness| RackPiece {
            stock: "3/4 birch plywood".to_owned(),
            thickness: Some(thickness),
            length: inch(40, 1),
            width: inch(30, 1),
            count: 1,
            price: None,
        };
        // 23/32 in is what the panel measures when it is called 3/4 in; half an inch is another panel.
        for (thickness, source) in [(inch(23, 32), Source::Rack), (inch(1, 2), Source::Bought)] {
            shop.rack = vec![piece(thickness)];
            let plan = laid_out(&model, &shop);
            assert_eq!(plan.stocks[0].uses[0].source, source, "{thickness:?}");
            let told = plan.stocks[0].notes.iter().any(|note| note.contains("1/2\" thick rather than 3/4\""));
            assert_eq!(told, source == Source::Bought);
            assert_eq!(plan.rack.iter().any(|row| row.piece == piece(thickness)), told);
        }
    }

    #[test]
    fn the_order_of_work_on_a_board_is_told() {
        // A part as wide as its board is cut to length only; two side by side are cut off together and then ripped, or the other way round.
        let mut maple = (*stock("3/4 hard maple board")).clone();
        maple.form = StockForm::Board { widths: vec![inch(6, 1)], lengths: vec![inch(96, 1)] };
        let maple = Arc::new(maple);
        let plan = laid_out(&job(&maple, &[(inch(40, 1), inch(6, 1), 2)]), &Shop::default());
        assert_eq!(plan.stocks[0].blanks[0].way_words(), None);
        let plan = laid_out(&job(&maple, &[(inch(40, 1), inch(2, 1), 3)]), &Shop::default());
        let way = plan.stocks[0].blanks[0].way_words().unwrap();
        assert!(["crosscut first, then rip", "rip first, then crosscut"].contains(&way.as_str()), "{way}");
    }

    #[test]
    fn silly_stock_does_no_harm() {
        let tiny = StockForm::Sheet { length: Length::from_nm(1), width: Length::ZERO };
        let silly = Arc::new(Stock::new("s", crate::model::Material::Other, tiny, inch(1, 1)));
        let model = job(&silly, &[(inch(30, 1), inch(20, 1), 1), (Length::LIMIT, Length::LIMIT, 1)]);
        let plan = laid_out(&model, &Shop::default());
        assert!(plan.stocks[0].unplanned.is_some() && plan.blanks().next().is_none());
    }
}
