//! One problem of rectangles for each stock, and the answer turned back into sheets and boards.

use std::collections::BTreeMap;

use super::super::Amount;
use super::super::buying::{self, Bought};
use super::walk::{self, Label};
use super::{
    AreaSums, Blank, BlankForm, Cutting, Engine, Lot, Member, Proof, RackRow, Rough, Search, Source, StockLayout,
    StockPlan, UseRow, Wanted, WrongPlan, tighten, weight, words,
};
use crate::base::{Length, Ratio};
use crate::catalog;
use crate::diag::Finding;
use crate::model::{BoardRun, FirstCut, Money, Per, RackPiece, Stock, StockForm, SupplySize};
use crate::nesting::{
    self, Axis, Broken, Effort, Fault, Item, Keep, Matched, Outcome, Plan, Problem, Saw, Score, Sheet, Stages, Thin,
    Trim, Trimming, Turn, Way,
};

/// The code of findings about parts that the shop's saw cannot cut.
pub(super) const BEYOND_SAW: &str = "beyond-the-saw";
/// The code of findings about parts that one person cannot handle.
pub(super) const HEAVY: &str = "heavy-part";

pub(super) fn findings(cutting: &Cutting) -> Vec<Finding> {
    let mut findings = Vec::new();
    for lot in &cutting.lots {
        for wanted in &lot.wanted {
            findings.extend(beyond_saw(cutting, lot, wanted));
            findings.extend(heavy(cutting, lot, wanted));
        }
    }
    findings
}

/// A part that could be cut from a sheet, but not on this saw.
fn beyond_saw(cutting: &Cutting, lot: &Lot, wanted: &Wanted) -> Option<Finding> {
    let rules = &cutting.rules;
    let limits = [(rules.longest_rip, "longest_rip"), (rules.crosscut_capacity, "crosscut_capacity")];
    if limits.iter().all(|(limit, _)| limit.is_none()) {
        return None;
    }
    let alone = Lot { stock: lot.stock.clone(), wanted: vec![Wanted { count: 1, bank: None, ..wanted.clone() }] };
    let cannot = |saw: Saw| {
        let mut asked = Asked::of(cutting, &alone)?;
        asked.problem.saw = saw;
        Some(matches!(nesting::plan(&asked.problem, &Effort::work(0)), Err(Fault::TooLarge { .. })))
    };
    let saw = saw(cutting, lot);
    let unlimited = Saw { longest_rip: None, crosscut_capacity: None, ..saw };
    if cannot(saw) != Some(true) || cannot(unlimited) == Some(true) {
        return None;
    }
    let set: Vec<String> = limits
        .iter()
        .filter_map(|(limit, name)| limit.map(|limit| format!("`{name}` {}", cutting.printing.length(limit))))
        .collect();
    let message = format!(
        "{} {} is cut to {}, which the saw cannot do within {}",
        wanted.mark,
        wanted.part,
        cutting.printing.by(wanted.length, wanted.width),
        set.join(" and ")
    );
    let hint = "cut it with a guided saw and take the limit out of the shop file, or make it of two parts";
    Some(Finding::error(BEYOND_SAW, message).at(wanted.at.clone()).hint(hint))
}

fn heavy(cutting: &Cutting, lot: &Lot, wanted: &Wanted) -> Option<Finding> {
    let grams = weight::grams(&lot.stock, wanted.length, wanted.width);
    (grams > cutting.rules.heaviest).then(|| {
        let unit = cutting.printing.unit;
        let message = format!(
            "{} {} weighs about {}, more than the {} that one person handles",
            wanted.mark,
            wanted.part,
            weight::words(grams, unit),
            weight::words(cutting.rules.heaviest, unit)
        );
        let hint = "cut, turn and mount it with a second person; `heaviest` in the shop file sets the limit";
        Finding::note(HEAVY, message).at(wanted.at.clone()).hint(hint)
    })
}

pub(super) fn stock_plan(cutting: &Cutting, search: &Search<'_>) -> Result<StockPlan, WrongPlan> {
    let mut plan = StockPlan::default();
    let mut rack = cutting.rack.clone();
    let mut made: Vec<RackRow> = Vec::new();
    let mut number = 1;
    for (which, lot) in cutting.lots.iter().enumerate() {
        let stop = || (search.stop)(which, cutting.lots.len());
        let effort = Effort { seed: search.seed, work: search.work, stop: &stop };
        let wrong = |broken| WrongPlan { stock: lot.stock.name.clone(), broken };
        let mut layout = lay_out(cutting, lot, search.engine, &effort).map_err(wrong)?;
        for blank in &mut layout.blanks {
            blank.number = number;
            number += blank.copies;
            take_from_rack(&mut rack, &lot.stock, blank);
            for spot in &blank.offcuts {
                let piece = RackPiece {
                    stock: layout.stock.clone(),
                    thickness: Some(layout.thickness),
                    length: spot.size.0,
                    width: spot.size.1,
                    count: blank.copies,
                    price: None,
                };
                let row = RackRow { piece, from: Some(blank.number) };
                let like = |own: &&mut RackRow| {
                    own.from == row.from && RackPiece { count: row.piece.count, ..own.piece.clone() } == row.piece
                };
                match made.iter_mut().find(like) {
                    Some(own) => own.piece.count += row.piece.count,
                    None => made.push(row),
                }
            }
        }
        plan.stocks.push(layout);
    }
    let left = rack.into_iter().filter(|piece| piece.count > 0);
    plan.rack = left.map(|piece| RackRow { piece, from: None }).chain(made).collect();
    Ok(plan)
}

fn take_from_rack(rack: &mut [RackPiece], stock: &Stock, blank: &Blank) {
    if blank.source != Source::Rack {
        return;
    }
    let mut needed = blank.copies;
    for piece in rack.iter_mut().filter(|piece| is_of(piece, stock)) {
        if (piece.length, piece.width) == (blank.length, blank.width) {
            let taken = needed.min(piece.count);
            piece.count -= taken;
            needed -= taken;
        }
    }
}

/// Whether a piece of the rack is of this stock, and as thick.
fn is_of(piece: &RackPiece, stock: &Stock) -> bool {
    piece.stock == stock.name && !is_of_other_thickness(piece, stock)
}

fn is_of_other_thickness(piece: &RackPiece, stock: &Stock) -> bool {
    // Common practice, no source: panels sold as one thickness differ by less than that from pile to pile.
    let near = Length::from_inch(1, 32);
    let off = |thickness: Length| (thickness - stock.thickness()).abs();
    piece.thickness.is_some_and(|thickness| off(thickness) > near)
}

/// What lies on the rack under the name of a stock and is of another thickness.
fn other_thickness(cutting: &Cutting, stock: &Stock) -> Option<String> {
    let of_name = |piece: &&RackPiece| piece.stock == stock.name && piece.count > 0;
    let other = cutting.rack.iter().filter(of_name).find(|piece| is_of_other_thickness(piece, stock))?;
    let thickness = other.thickness.map(|thickness| cutting.printing.length(thickness)).unwrap_or_default();
    Some(format!(
        "on the rack there is some that is {thickness} thick rather than {}: it stays there",
        cutting.printing.length(stock.thickness())
    ))
}

/// The problem of one stock, with what its numbers stand for.
struct Asked<'a> {
    problem: Problem,
    sizes: Vec<Size>,
    labels: Vec<Label<'a>>,
    notes: Vec<String>,
}

/// A size in which a stock can be had.
#[derive(Clone, Copy, Debug)]
pub(super) struct Size {
    pub(super) source: Source,
    pub(super) length: Length,
    pub(super) width: Length,
    pub(super) run: Option<BoardRun>,
    price: Option<Money>,
    count: Option<u32>,
}

fn lay_out(cutting: &Cutting, lot: &Lot, engine: Engine, effort: &Effort<'_>) -> Result<StockLayout, Broken> {
    let stock = &lot.stock;
    let mut layout = StockLayout {
        stock: stock.name.clone(),
        thickness: stock.thickness(),
        form: form(stock),
        grain: stock.grain,
        parts: lot.wanted.iter().map(|wanted| i64::from(wanted.count)).sum(),
        net: net(lot),
        used: amount(stock, 0, 0),
        uses: Vec::new(),
        blanks: Vec::new(),
        areas: AreaSums::default(),
        proof: None,
        settings: 0,
        cuts: 0,
        neighbours: Vec::new(),
        notes: Vec::new(),
        unplanned: None,
    };
    if layout.parts > MOST_PARTS {
        layout.unplanned = Some(format!("more than {MOST_PARTS} parts are not laid out at once: split the order"));
        return Ok(layout);
    }
    let Some(mut asked) = Asked::of(cutting, lot) else {
        layout.unplanned = Some(nothing_to_cut_from(cutting, lot));
        return Ok(layout);
    };
    let mut answer = engine(&asked.problem, effort);
    if answer.is_err() && asked.forget_banks() {
        answer = engine(&asked.problem, effort);
    }
    let outcome = match answer {
        Ok(outcome) => outcome,
        Err(Fault::Engine(broken)) => return Err(broken),
        Err(fault) => {
            layout.unplanned = Some(why_not(cutting, &asked, &fault));
            return Ok(layout);
        }
    };
    let plan = tighten::tidied(&asked.problem, &outcome.plan);
    let score = Score::of(&asked.problem, &plan);
    let areas = nesting::verify(&asked.problem, &plan)?;
    layout.areas = AreaSums {
        sheets: areas.sheets,
        parts: areas.parts,
        offcuts: areas.offcuts,
        waste: areas.waste,
        sawdust: areas.sawdust,
    };
    layout.blanks = plan
        .layouts
        .iter()
        .filter_map(|own| {
            let size = asked.sizes.get(own.sheet)?;
            Some(walk::blank(&asked.problem, own, &asked.labels, stock, size))
        })
        .collect();
    layout.uses = uses(&asked.sizes, &plan);
    layout.used = total(stock, &layout.uses);
    layout.proof = Some(proof(&asked, &outcome, &plan, effort));
    layout.settings = score.settings;
    layout.cuts = score.cuts;
    layout.neighbours =
        words::neighbours(&asked.problem, (&score, &plan), &outcome.neighbours, (layout.form, cutting.printing));
    layout.notes = asked.notes;
    if !layout.uses.iter().any(|row| row.cost.is_some()) && layout.uses.iter().any(|row| row.source == Source::Bought) {
        layout.notes.extend(buying::waste_of_price(stock.price, None));
    }
    layout.notes.extend(any_board(stock, &layout.uses));
    layout.notes.extend(sheet_weight(cutting, stock, &layout.uses));
    Ok(layout)
}

/// How many parts of one stock are laid out at once.
// From measurements: two thousand parts take a tenth of a second before any search, and the time grows faster than their number.
const MOST_PARTS: i64 = 5_000;

fn form(stock: &Stock) -> BlankForm {
    if matches!(stock.form, StockForm::Sheet { .. }) { BlankForm::Sheet } else { BlankForm::Board }
}

fn nothing_to_cut_from(cutting: &Cutting, lot: &Lot) -> String {
    let rules = &cutting.rules;
    if (rules.longest_rip.is_some() || rules.crosscut_capacity.is_some()) && !sizes(cutting, lot).is_empty() {
        return "the saw can neither rip nor crosscut any of it whole: break it down with a guided saw and list the pieces as \
                `in_hand`, or mend `longest_rip` and `crosscut_capacity`"
            .to_owned();
    }
    match &lot.stock.form {
        StockForm::Board { .. } => "nothing is left of a board once its ends are trimmed".to_owned(),
        _ => "nothing is left of a sheet once its edges are trimmed".to_owned(),
    }
}

fn why_not(cutting: &Cutting, asked: &Asked<'_>, fault: &Fault) -> String {
    let name = |item: usize| {
        asked.labels.get(item).map_or_else(String::new, |label| {
            format!("{} {}, {}", label.mark, label.part, cutting.printing.by(label.length, label.width))
        })
    };
    match fault {
        Fault::TooLarge { item } => {
            let saw = &asked.problem.saw;
            let by_saw = if saw.longest_rip.or(saw.crosscut_capacity).is_some() { " on this saw" } else { "" };
            let usable = asked.problem.sheets.iter().map(Sheet::usable);
            let largest = usable
                .max_by_key(|&(long, wide)| i128::from(long) * i128::from(wide))
                .map(|(long, wide)| cutting.printing.by(Length::from_nm(long), Length::from_nm(wide)));
            let largest =
                largest.map(|size| format!(", the largest of which gives {size} within its trim")).unwrap_or_default();
            format!("{} cannot be cut from any of it{by_saw}{largest}", name(*item))
        }
        Fault::TooNarrow { item } => format!("{} is narrower than the saw may cut", name(*item)),
        Fault::ShortOfStock { left } => {
            let found: Vec<String> = left.iter().map(|&(item, count)| format!("{count} of {}", name(item))).collect();
            format!("what is in hand is not enough; without a place: {}", found.join("; "))
        }
        _ => "its sizes or counts are beyond what can be laid out".to_owned(),
    }
}

impl<'a> Asked<'a> {
    /// The problem; `None` when there is nothing that could be cut up.
    fn of(cutting: &Cutting, lot: &'a Lot) -> Option<Self> {
        let mut sizes = sizes(cutting, lot);
        let saw_alone = Problem { saw: saw(cutting, lot), ..Problem::default() };
        sizes.retain(|size| walk::can_begin(&saw_alone, &sheet(cutting, &lot.stock, size)));
        let sheets: Vec<Sheet> = sizes.iter().map(|size| sheet(cutting, &lot.stock, size)).collect();
        let room: Vec<(i64, i64)> = sheets.iter().map(Sheet::usable).collect();
        if !room.iter().any(|&(long, wide)| long > 0 && wide > 0) {
            return None;
        }
        let mut asked = Self {
            problem: Problem { sheets, items: Vec::new(), saw: Saw::default() },
            sizes,
            labels: Vec::new(),
            notes: Vec::new(),
        };
        let mut sets = BTreeMap::new();
        for wanted in &lot.wanted {
            asked.add(cutting, lot, wanted, &room, &mut sets);
        }
        asked.problem.saw = saw(cutting, lot);
        asked.notes.extend(asked.thin_parts(cutting));
        asked.notes.extend(rack_left_out(cutting, &lot.stock));
        asked.notes.extend(other_thickness(cutting, &lot.stock));
        let (near, one) = (Length::SAME_SIZE.nm(), &mut asked.problem.items);
        one_size(one.iter_mut().flat_map(|item| [&mut item.width, &mut item.height]).collect(), near);
        Some(asked)
    }

    fn add(
        &mut self,
        cutting: &Cutting,
        lot: &'a Lot,
        wanted: &'a Wanted,
        room: &[(i64, i64)],
        sets: &mut BTreeMap<u32, bool>,
    ) {
        let rules = &cutting.rules;
        let is_board = form(&lot.stock) == BlankForm::Board;
        let longest = room.iter().map(|&(long, _)| long).max().unwrap_or(0);
        let widest = room.iter().map(|&(_, wide)| wide).max().unwrap_or(0);
        let (mut long, mut wide) = (wanted.length.nm(), wanted.width.nm());
        let (more_long, more_wide) = if is_board {
            (rules.length_oversize.nm(), rules.joint_oversize.nm())
        } else {
            (rules.panel_oversize.nm(), rules.panel_oversize.nm())
        };
        let mut strips = 1;
        if is_board && wide > widest + Length::SAME_SIZE.nm() {
            (strips, wide) = glued_up(wide, rules.widest_strip.nm().min(widest), more_wide);
            self.notes.push(format!(
                "{} {}: glue each up from {strips} strips of {}, jointed, to {} wide",
                wanted.mark,
                wanted.part,
                cutting.printing.length(Length::from_nm(wide)),
                cutting.printing.length(wanted.width)
            ));
        } else if is_board {
            // A board that is just as wide, or wider by less than is jointed off, is taken as it is.
            let as_it_is = room.iter().any(|&(_, board)| (wide..wide + more_wide).contains(&board));
            wide += if as_it_is || wide + more_wide > widest { 0 } else { more_wide };
        } else if wide + more_wide <= widest {
            wide += more_wide;
        }
        if long + more_long <= longest {
            long += more_long;
        }
        // A length that was split may lie a nanometre beyond what the sheet gives.
        let near =
            |size: i64, most: i64| if size > most && size - most <= Length::SAME_SIZE.nm() { most } else { size };
        let (long, wide) = (near(long, longest), near(wide, widest));
        let matched = wanted.bank.map(|Member { bank, place, along_grain }| {
            sets.insert(bank, along_grain);
            Matched { set: bank, place, along: if along_grain { Axis::X } else { Axis::Y } }
        });
        self.problem.items.push(Item {
            width: long,
            height: wide,
            count: wanted.count.saturating_mul(strips),
            turn: if lot.stock.grain || is_board { Turn::Fixed } else { Turn::Free },
            matched,
        });
        self.labels.push(Label {
            mark: &wanted.mark,
            part: &wanted.part,
            length: Length::from_nm(long),
            width: Length::from_nm(wide),
            rough: if strips > 1 {
                Rough::Strip
            } else if oversize((long, wide), wanted) {
                Rough::To(wanted.length, wanted.width)
            } else {
                Rough::No
            },
            shows: wanted.shows,
        });
    }

    /// Says which parts are narrower than the fence is good for.
    fn thin_parts(&self, cutting: &Cutting) -> Option<String> {
        let narrowest = self.problem.saw.narrowest;
        let thin = |item: &Item| item.width.min(item.height) < narrowest;
        let mut named: Vec<String> = Vec::new();
        for (label, item) in self.labels.iter().zip(&self.problem.items).filter(|(_, item)| thin(item)) {
            let size = cutting.printing.length(Length::from_nm(item.width.min(item.height)));
            let words = format!("{} {}, {size}", label.mark, label.part);
            if !named.contains(&words) {
                named.push(words);
            }
        }
        let narrowest = cutting.printing.length(Length::from_nm(narrowest));
        (!named.is_empty()).then(|| {
            format!(
                "narrower than the {narrowest} that the fence alone is good for, so cut with a jig for thin strips: {}",
                named.join("; ")
            )
        })
    }

    /// Lets the fronts of banks lie where they like; says so. False when there are none.
    fn forget_banks(&mut self) -> bool {
        let mut any = false;
        for item in &mut self.problem.items {
            any |= item.matched.take().is_some();
        }
        if any {
            self.notes.push(
                "the fronts of a bank do not fit one sheet next to each other: they are cut where they fit, so their grain \
                 does not run through"
                    .to_owned(),
            );
        }
        any
    }
}

/// Whether a part is cut over its size.
fn oversize((long, wide): (i64, i64), wanted: &Wanted) -> bool {
    let near = Length::SAME_SIZE.nm();
    long - wanted.length.nm() > near || wide - wanted.width.nm() > near
}

/// How many strips a part is glued up from, and how wide each is cut: equal ones, rounded up to what a rule shows.
fn glued_up(width: i64, widest: i64, oversize: i64) -> (u32, i64) {
    // A sixteenth of an inch: what is cut too wide is jointed off.
    let step = Length::from_inch(1, 16).nm();
    let most = (widest - oversize).max(step);
    let strips = (width - 1) / most + 1;
    let each = ((width - 1) / strips + 1 + oversize - 1) / step * step + step;
    (u32::try_from(strips).unwrap_or(u32::MAX), each.min(widest.max(1)))
}

/// Makes sizes that differ by no more than a saw can tell the same, each the least of its kind, so that they share a setting.
fn one_size(mut sizes: Vec<&mut i64>, near: i64) {
    sizes.sort_unstable();
    let mut least: Option<i64> = None;
    for size in sizes {
        match least {
            Some(least) if *size - least <= near => *size = least,
            _ => least = Some(*size),
        }
    }
}

/// Every size in which the stock can be had: what is sold, what is in hand, what is on the rack.
fn sizes(cutting: &Cutting, lot: &Lot) -> Vec<Size> {
    let stock = &lot.stock;
    let mut sizes = Vec::new();
    let bought = |size: SupplySize| Size {
        source: Source::Bought,
        length: size.length,
        width: size.width,
        run: size.run,
        price: size.price,
        count: None,
    };
    match &stock.form {
        StockForm::Sheet { length, width } => {
            let price = buying::cost(stock.price, &Bought { sheets: Some(1), ..Bought::default() });
            sizes.push(bought(SupplySize { length: *length, width: *width, price, run: None }));
        }
        StockForm::Board { widths, lengths } => {
            let (widths, lengths) = to_be_had(stock, widths, lengths);
            for &width in widths.iter().filter(|width| width.is_positive()) {
                for &length in lengths.iter().filter(|length| length.is_positive()) {
                    let price = board_price(stock, length, width);
                    sizes.push(bought(SupplySize { length, width, price, run: None }));
                }
            }
        }
        StockForm::Band { .. } => {}
    }
    sizes.extend(stock.supply.sizes.iter().map(|&size| bought(size)));
    for &(count, size) in &stock.supply.in_hand {
        let price = size.price.or_else(|| same_size(&sizes, size).and_then(|same| same.price));
        sizes.push(Size { source: Source::InHand, count: Some(count), price, ..bought(size) });
    }
    let mut rack: BTreeMap<(Length, Length), (u32, Option<Money>)> = BTreeMap::new();
    for piece in cutting.rack.iter().filter(|piece| is_of(piece, stock) && piece.count > 0) {
        let entry = rack.entry((piece.length, piece.width)).or_insert((0, piece.price));
        entry.0 = entry.0.saturating_add(piece.count);
    }
    // A rack of hundreds would slow the search down; the largest pieces are the ones that save a sheet.
    let mut rack: Vec<_> = rack.into_iter().collect();
    rack.sort_by_key(|&((length, width), _)| std::cmp::Reverse(area(length, width)));
    sizes.extend(rack.into_iter().take(RACK_PIECES).map(|((length, width), (count, price))| Size {
        source: Source::Rack,
        length,
        width,
        run: None,
        price,
        count: Some(count),
    }));
    sizes
}

/// How many sizes of it there are on the rack, where they are more than are looked at.
fn rack_left_out(cutting: &Cutting, stock: &Stock) -> Option<String> {
    let of_it = cutting.rack.iter().filter(|piece| is_of(piece, stock) && piece.count > 0);
    let mut sizes: Vec<_> = of_it.map(|piece| (piece.length, piece.width)).collect();
    sizes.sort_unstable();
    sizes.dedup();
    (sizes.len() > RACK_PIECES).then(|| {
        format!(
            "the rack has it in {} sizes: the {RACK_PIECES} largest were looked at, and the proof is about these",
            sizes.len()
        )
    })
}

/// The widths and lengths of boards that can be counted on. Where boards come in any width or length, these are what a yard has in
/// every pile; whoever buys picks boards that are at least so large.
fn to_be_had(stock: &Stock, widths: &[Length], lengths: &[Length]) -> (Vec<Length>, Vec<Length>) {
    let is_metric = stock.named.nm() % Length::from_inch(1, 64).nm() != 0;
    // SEEN (secondary): engineeringtoolbox.com and woodbin.com, hardwood lumber: boards of the better grades are at least 6 in wide and
    // 8 ft long; wider ones up to 10 in, longer ones up to 16 ft and the millimetres are common practice, no source.
    let (wide, long): (Vec<Length>, Vec<Length>) = if is_metric {
        ([150, 200, 250].map(Length::from_mm).to_vec(), [2_000, 2_500, 3_000, 4_000].map(Length::from_mm).to_vec())
    } else {
        let inch = |size| Length::from_inch(size, 1);
        ([6, 8, 10].map(inch).to_vec(), [96, 120, 144, 192].map(inch).to_vec())
    };
    let or = |own: &[Length], usual: Vec<Length>| if own.is_empty() { usual } else { own.to_vec() };
    (or(widths, wide), or(lengths, long))
}

/// What has to be said when boards of any size are laid out.
fn any_board(stock: &Stock, uses: &[UseRow]) -> Option<String> {
    let StockForm::Board { widths, lengths } = &stock.form else { return None };
    let what = match (widths.is_empty(), lengths.is_empty()) {
        (true, true) => "any width and length",
        (true, false) => "any width",
        (false, true) => "any length",
        (false, false) => return None,
    };
    uses.iter().any(|row| row.source == Source::Bought).then(|| {
        format!(
            "its boards come in {what}: buy such as are at least so large; list what you bought as `in_hand` in the shop file, or say \
             the `widths` and `lengths` to be had, and lay it out again before you cut"
        )
    })
}

/// How many different offcuts of a stock are looked at.
// Common practice, no source: a rack holds fewer of one stock.
const RACK_PIECES: usize = 40;

fn same_size(sizes: &[Size], size: SupplySize) -> Option<Size> {
    sizes.iter().copied().find(|own| (own.length, own.width) == (size.length, size.width))
}

fn area(length: Length, width: Length) -> i128 {
    i128::from(length.nm()) * i128::from(width.nm())
}

fn board_price(stock: &Stock, length: Length, width: Length) -> Option<Money> {
    let volume = area(length, width).saturating_mul(i128::from(catalog::sold_thickness(stock).nm()));
    buying::cost(stock.price, &Bought { length: Some(length), volume: Some(volume), ..Bought::default() })
}

/// A size as the engine knows it: x along the length.
fn sheet(cutting: &Cutting, stock: &Stock, size: &Size) -> Sheet {
    let rules = &cutting.rules;
    let board = form(stock) == BlankForm::Board;
    let is_raw = size.source != Source::Rack;
    let trim = match (is_raw, board) {
        (false, _) => Trim::default(),
        (true, true) => Trim { left: rules.end_trim.nm(), right: rules.end_trim.nm(), bottom: 0, top: 0 },
        (true, false) => {
            let ([left, right], [bottom, top]) = (cutting.trim_ends, cutting.trim_edges);
            // The ends are the short sides, also of a sheet whose grain runs across.
            let ([left, right], [bottom, top]) =
                if size.length < size.width { ([bottom, top], [left, right]) } else { ([left, right], [bottom, top]) };
            Trim { left: left.nm(), right: right.nm(), bottom: bottom.nm(), top: top.nm() }
        }
    };
    let new = value(stock, size);
    let worth = share(new, rules.offcut_worth).max(1);
    let cost = match (size.source, size.price) {
        (Source::Bought, _) => new,
        // A little less than a new one, so that it is taken first; for nothing it would be wasted.
        (Source::InHand, _) => new - new / 100,
        (Source::Rack, Some(price)) if is_priced(stock) => price.0.saturating_mul(PER_HUNDREDTH),
        (Source::Rack, _) => share(new, rules.offcut_worth),
    };
    let (short, long) = if board {
        // What is shorter than its board is wide has its grain the wrong way for most parts.
        (rules.board_offcut_width.min(size.width), rules.board_offcut_length.max(size.width))
    } else {
        (rules.offcut_short, rules.offcut_long)
    };
    Sheet {
        width: size.length.nm(),
        height: size.width.nm(),
        count: size.count,
        cost: cost.clamp(0, nesting::LARGEST),
        trim,
        keep: Keep { short: short.nm(), long: long.nm(), worth: worth.min(nesting::LARGEST) },
    }
}

/// Hundredths of money are counted finely enough for shares of them to differ.
const PER_HUNDREDTH: i64 = 100;

fn is_priced(stock: &Stock) -> bool {
    match &stock.form {
        StockForm::Sheet { .. } => stock.price.is_some_and(|price| price.per == Per::Sheet),
        _ => stock.price.is_some_and(|price| matches!(price.per, Per::BoardFoot | Per::Foot | Per::Metre)),
    }
}

/// What a size is worth new: its price, or by its area. Where no price is known, a square centimetre counts one.
fn value(stock: &Stock, size: &Size) -> i64 {
    let whole = area(size.length, size.width);
    let by_area = || i64::try_from(whole / i128::from(Length::from_mm(10).nm()).pow(2)).unwrap_or(nesting::LARGEST);
    if !is_priced(stock) {
        return by_area().max(1);
    }
    let priced = match (size.source, size.price, &stock.form) {
        (Source::Bought | Source::InHand, Some(price), _) => Some(price.0.saturating_mul(PER_HUNDREDTH)),
        (_, _, StockForm::Sheet { length, width }) => stock.price.and_then(|price| {
            let sheet = i128::from(price.amount.0) * i128::from(PER_HUNDREDTH);
            i64::try_from(sheet.checked_mul(whole)?.checked_div(area(*length, *width))?).ok()
        }),
        _ => board_price(stock, size.length, size.width).map(|price| price.0.saturating_mul(PER_HUNDREDTH)),
    };
    priced.unwrap_or_else(by_area).clamp(1, nesting::LARGEST)
}

fn share(of: i64, part: Ratio) -> i64 {
    let product = i128::from(of) * i128::from(*part.numer()) / i128::from((*part.denom()).max(1));
    i64::try_from(product).unwrap_or(nesting::LARGEST)
}

/// The saw. A part that is narrower than the fence is good for has to be cut all the same, with a jig.
fn saw(cutting: &Cutting, lot: &Lot) -> Saw {
    let rules = &cutting.rules;
    let board = form(&lot.stock) == BlankForm::Board;
    let way = match rules.first {
        // Boards are cut to rough length or ripped first, whichever leaves more; there is no sheet to wrestle with.
        _ if board => Way::Free,
        FirstCut::Rip => Way::RipFirst,
        FirstCut::Crosscut => Way::CrosscutFirst,
        FirstCut::Free => Way::Free,
    };
    // A board lies along X, so a cut across X is a crosscut.
    let (kerf, kerf_across_x) = match cutting.board_kerfs {
        [crosscut, rip] if board => (rip.nm(), Some(crosscut.nm())),
        _ => (cutting.sheet_kerf.nm(), None),
    };
    Saw {
        kerf,
        kerf_across_x,
        way,
        stages: rules.stages.map(|most| Stages { most, trimming: Trimming::Extra }),
        longest_rip: rules.longest_rip.map(Length::nm),
        crosscut_capacity: rules.crosscut_capacity.map(Length::nm),
        narrowest: rules.narrowest.nm(),
        thin: Thin::WithJig,
    }
}

/// How good a plan is. What is bought counts first: what lies on the rack or is in hand has a price of its own in the search, and a share
/// of that says little about money that is spent.
fn proof(asked: &Asked<'_>, outcome: &Outcome, plan: &Plan, effort: &Effort<'_>) -> Proof {
    let problem = &asked.problem;
    if outcome.proven {
        return Proof::Best;
    }
    let is_bought = |sheet: usize| asked.sizes.get(sheet).is_some_and(|size| size.source == Source::Bought);
    let bought: Vec<(usize, i64)> = plan
        .layouts
        .iter()
        .filter(|layout| is_bought(layout.sheet))
        .map(|layout| (layout.sheet, i64::from(layout.copies)))
        .collect();
    if bought.is_empty() {
        return Proof::LeastBought;
    }
    let price = |sheet: usize| problem.sheets.get(sheet).map_or(0, |sheet| sheet.cost);
    let cost: i128 = bought.iter().map(|&(sheet, copies)| i128::from(price(sheet)) * i128::from(copies)).sum();
    let brief = Effort { work: effort.work.min(Search::USUAL.work), ..*effort };
    // The same question with all that is there for nothing, and what is bought at its price or by its number.
    let least_bought = |price: &dyn Fn(&Sheet) -> i64, enough: i64| {
        let mut new_only = problem.clone();
        for (at, sheet) in new_only.sheets.iter_mut().enumerate() {
            sheet.cost = if is_bought(at) { price(sheet) } else { 0 };
        }
        nesting::least_cost(&new_only, enough, &brief).unwrap_or(0)
    };
    let all_is_bought = (0..asked.sizes.len()).all(is_bought);
    let least = if all_is_bought {
        outcome.bound
    } else {
        least_bought(&|sheet| sheet.cost, i64::try_from(cost).unwrap_or(i64::MAX))
    };
    let count: i64 = bought.iter().map(|(_, copies)| copies).sum();
    let fewest = least_bought(&|_| 1, count);
    // However cheap, so many have to be bought.
    let cheapest =
        problem.sheets.iter().enumerate().filter(|&(at, _)| is_bought(at)).map(|(_, sheet)| sheet.cost).min();
    let least = i128::from(least).max(i128::from(fewest) * i128::from(cheapest.unwrap_or(0)));
    if cost <= least {
        return if all_is_bought { Proof::Best } else { Proof::LeastBought };
    }
    if least <= 0 {
        return Proof::Open;
    }
    let percent = i64::try_from(((cost - least) * 100 + least - 1) / least).unwrap_or(i64::MAX);
    let one_kind = (0..asked.sizes.len()).filter(|&sheet| is_bought(sheet)).count() == 1;
    Proof::Within { percent, count: (one_kind || count <= fewest).then_some((count, fewest)) }
}

/// What is bought and used, a row for each size.
fn uses(sizes: &[Size], plan: &Plan) -> Vec<UseRow> {
    let mut counts: BTreeMap<usize, i64> = BTreeMap::new();
    for layout in &plan.layouts {
        *counts.entry(layout.sheet).or_default() += i64::from(layout.copies);
    }
    let row = |(at, count): (usize, i64)| {
        let size = sizes.get(at)?;
        let each = size.price.filter(|_| size.source == Source::Bought);
        let cost = each.and_then(|each| each.0.checked_mul(count)).map(Money);
        Some(UseRow { source: size.source, count, length: size.length, width: size.width, cost })
    };
    let mut rows: Vec<UseRow> = counts.into_iter().filter_map(row).collect();
    rows.sort_by_key(|row| (row.source, std::cmp::Reverse(area(row.length, row.width))));
    rows
}

/// What the parts need, without oversize.
fn net(lot: &Lot) -> Amount {
    let times = |wanted: &Wanted, each: i128| each.saturating_mul(i128::from(wanted.count));
    let areas = lot.wanted.iter().map(|wanted| times(wanted, area(wanted.length, wanted.width)));
    let lengths = lot.wanted.iter().map(|wanted| times(wanted, i128::from(wanted.length.nm())));
    amount(&lot.stock, areas.fold(0, i128::saturating_add), lengths.fold(0, i128::saturating_add))
}

fn total(stock: &Stock, uses: &[UseRow]) -> Amount {
    let areas = uses.iter().map(|row| area(row.length, row.width) * i128::from(row.count));
    amount(stock, areas.sum(), uses.iter().map(|row| i128::from(row.length.nm()) * i128::from(row.count)).sum())
}

fn amount(stock: &Stock, area: i128, length: i128) -> Amount {
    match form(stock) {
        BlankForm::Sheet => Amount::Area(area),
        BlankForm::Board => Amount::Board {
            length: Length::from_nm(i64::try_from(length).unwrap_or(i64::MAX)),
            volume: area.saturating_mul(i128::from(catalog::sold_thickness(stock).nm())),
        },
    }
}

fn sheet_weight(cutting: &Cutting, stock: &Stock, uses: &[UseRow]) -> Option<String> {
    let heaviest = uses.iter().max_by_key(|row| area(row.length, row.width))?;
    let grams = weight::grams(stock, heaviest.length, heaviest.width);
    let unit = cutting.printing.unit;
    (grams > cutting.rules.heaviest).then(|| {
        format!(
            "a {} of {} weighs about {}, more than the {} that one person handles: have a second person, or break it down \
             where it lies with a guided saw",
            form(stock).name(),
            cutting.printing.by(heaviest.length, heaviest.width),
            weight::words(grams, unit),
            weight::words(cutting.rules.heaviest, unit)
        )
    })
}
