//! Checks a plan by cutting it: every cut replayed on the raw sheet, in whole numbers.
//!
//! This shares nothing with the search but the types of problem and plan, so that a fault in one does not hide in the
//! other. What holds for a plan that passes: every cut goes from edge to edge of the piece it is made in and lies inside
//! it; every part has exactly its size, turned only if it may; limits of saw, way and stages are kept; each item is made
//! exactly as often as needed and no more sheets are used than there are; matched sets lie together in order; and
//! parts + offcuts + waste + sawdust are the area of the sheets, to the last unit.

use super::boards::{BoardPlan, Boards};
use super::plan::{Layout, Node, Plan, kept};
use super::problem::{Axis, Item, Problem, Sheet, Thin, Trimming, Turn};
use std::collections::BTreeMap;
use std::fmt;

/// What is wrong with a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Broken {
    /// It names a sheet, board or item that the problem does not have, or a layout that is cut no times.
    Unknown,
    /// A cut lies at or beyond an edge of its piece.
    Outside,
    /// The piece behind a cut is missing or should be none.
    Rest,
    /// A part has not its size.
    Size,
    /// A part lies turned and may not.
    Turned,
    /// The sheet is begun with the wrong cut.
    Way,
    /// The direction changes too often.
    Stages,
    /// A cut is longer than the saw can make.
    Saw,
    /// A piece that is cut off is narrower than allowed.
    Narrow,
    /// A rest is called an offcut and is too small, or waste and is large enough to keep.
    Offcut,
    /// An item is made too often or not often enough.
    Demand,
    /// More sheets or boards of a kind are used than there are.
    Count,
    /// The members of a matched set do not lie together in order.
    Matched,
    /// Parts, offcuts, waste and sawdust are not the sheet.
    Area,
}

impl fmt::Display for Broken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Unknown => "it names stock or an item that is not there",
            Self::Outside => "a cut lies outside its piece",
            Self::Rest => "the piece behind a cut is wrong",
            Self::Size => "a part has not its size",
            Self::Turned => "a part is turned against its grain",
            Self::Way => "a sheet is begun with the wrong cut",
            Self::Stages => "the direction of cutting changes too often",
            Self::Saw => "a cut is longer than the saw can make",
            Self::Narrow => "a strip is too narrow to be cut safely",
            Self::Offcut => "a rest is not what it is called",
            Self::Demand => "an item is not made as often as needed",
            Self::Count => "more stock is used than there is",
            Self::Matched => "a matched set does not lie together",
            Self::Area => "parts, offcuts, waste and sawdust are not the sheet",
        })
    }
}

/// Where the area of all sheets of a plan went. The sum is the area of the raw sheets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Areas {
    /// Area of the raw sheets.
    pub sheets: i128,
    /// In parts.
    pub parts: i128,
    /// In offcuts that are kept.
    pub offcuts: i128,
    /// In rests that are not kept, trimmed edges included.
    pub waste: i128,
    /// Under the blade.
    pub sawdust: i128,
}

/// A part as it comes off the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Which item of the problem.
    pub item: usize,
    /// Whether it lies turned.
    pub turned: bool,
    /// Its lower left corner on the raw sheet.
    pub at: (i64, i64),
    /// Its size along x and y.
    pub size: (i64, i64),
}

/// Replays the plan; returns where the area went, or the first thing that is wrong.
pub fn verify(problem: &Problem, plan: &Plan) -> Result<Areas, Broken> {
    let mut total = Areas::default();
    let mut made: BTreeMap<usize, u64> = BTreeMap::new();
    let mut used: BTreeMap<usize, u64> = BTreeMap::new();
    for layout in &plan.layouts {
        let (areas, placed) = replay(problem, layout)?;
        let copies = u64::from(layout.copies);
        if copies == 0 {
            return Err(Broken::Unknown);
        }
        *used.entry(layout.sheet).or_default() += copies;
        for part in &placed {
            *made.entry(part.item).or_default() += copies;
        }
        sets_lie_together(problem, &placed)?;
        total.sheets += areas.sheets * i128::from(copies);
        total.parts += areas.parts * i128::from(copies);
        total.offcuts += areas.offcuts * i128::from(copies);
        total.waste += areas.waste * i128::from(copies);
        total.sawdust += areas.sawdust * i128::from(copies);
    }
    for (at, item) in problem.items.iter().enumerate() {
        if made.get(&at).copied().unwrap_or(0) != u64::from(item.count) {
            return Err(Broken::Demand);
        }
    }
    for (at, sheet) in problem.sheets.iter().enumerate() {
        let most = sheet.count.map_or(u64::MAX, u64::from);
        if used.get(&at).copied().unwrap_or(0) > most {
            return Err(Broken::Count);
        }
    }
    if total.parts + total.offcuts + total.waste + total.sawdust != total.sheets {
        return Err(Broken::Area);
    }
    Ok(total)
}

/// The parts of one sheet with their places on the raw sheet, and where its area went.
pub fn replay(problem: &Problem, layout: &Layout) -> Result<(Areas, Vec<Placed>), Broken> {
    let sheet = problem.sheets.get(layout.sheet).ok_or(Broken::Unknown)?;
    let mut bench = Bench { problem, sheet, areas: Areas::default(), placed: Vec::new() };
    bench.areas.sheets = area(sheet.width, sheet.height);
    let rest = bench.trimmed()?;
    bench.cut(&layout.root, rest, Path { stages: 0, last: None })?;
    let Areas { sheets, parts, offcuts, waste, sawdust } = bench.areas;
    if parts + offcuts + waste + sawdust != sheets {
        return Err(Broken::Area);
    }
    Ok((bench.areas, bench.placed))
}

fn area(width: i64, height: i64) -> i128 {
    i128::from(width) * i128::from(height)
}

#[derive(Clone, Copy)]
struct Piece {
    x: i64,
    y: i64,
    width: i64,
    height: i64,
}

/// How a piece was come by: how many runs of cuts in one direction, and the direction of the last.
#[derive(Clone, Copy)]
struct Path {
    stages: u32,
    last: Option<Axis>,
}

struct Bench<'a> {
    problem: &'a Problem,
    sheet: &'a Sheet,
    areas: Areas,
    placed: Vec<Placed>,
}

impl Bench<'_> {
    /// Trims the four edges one after the other. What falls off is waste but for the kerf, which lies inside the trim.
    fn trimmed(&mut self) -> Result<Piece, Broken> {
        let trim = self.sheet.trim;
        let mut piece = Piece { x: 0, y: 0, width: self.sheet.width, height: self.sheet.height };
        for (across, size, low) in [
            (Axis::X, trim.left, true),
            (Axis::X, trim.right, false),
            (Axis::Y, trim.bottom, true),
            (Axis::Y, trim.top, false),
        ] {
            if size == 0 {
                continue;
            }
            let (along, length) = match across {
                Axis::X => (piece.width, piece.height),
                Axis::Y => (piece.height, piece.width),
            };
            if size >= along {
                return Err(Broken::Outside);
            }
            let dust = size.min(self.problem.saw.kerf_across(across));
            self.areas.sawdust += area(dust, length);
            self.areas.waste += area(size - dust, length);
            match across {
                Axis::X => piece.width -= size,
                Axis::Y => piece.height -= size,
            }
            match (across, low) {
                (Axis::X, true) => piece.x += size,
                (Axis::Y, true) => piece.y += size,
                _ => {}
            }
        }
        Ok(piece)
    }

    fn cut(&mut self, node: &Node, piece: Piece, path: Path) -> Result<(), Broken> {
        match node {
            Node::Part { item, turned } => self.part(*item, *turned, piece),
            Node::Offcut | Node::Waste => {
                let keep = kept(self.sheet, &self.problem.saw, piece.width, piece.height);
                if keep != matches!(node, Node::Offcut) {
                    return Err(Broken::Offcut);
                }
                let into = if keep { &mut self.areas.offcuts } else { &mut self.areas.waste };
                *into += area(piece.width, piece.height);
                Ok(())
            }
            Node::Cut { across, at, first, rest } => {
                let path = self.path(*across, first, rest.as_deref(), path)?;
                self.saw_can(*across, piece)?;
                let (one, dust, other) = divide(piece, *across, *at, self.problem.saw.kerf_across(*across))?;
                self.areas.sawdust += dust;
                for (node, piece) in [(Some(&**first), Some(one)), (rest.as_deref(), other)] {
                    let (node, piece) = match (node, piece) {
                        (Some(node), Some(piece)) => (node, piece),
                        (None, None) => continue,
                        _ => return Err(Broken::Rest),
                    };
                    let size = if *across == Axis::X { piece.width } else { piece.height };
                    let may_be_thin = self.problem.saw.thin == Thin::WithJig;
                    if size < self.problem.saw.narrowest && holds_part(node) && !may_be_thin {
                        return Err(Broken::Narrow);
                    }
                    self.cut(node, piece, path)?;
                }
                Ok(())
            }
        }
    }

    /// Counts the stage that a cut belongs to and holds the limits of way and stages.
    fn path(&self, across: Axis, first: &Node, rest: Option<&Node>, before: Path) -> Result<Path, Broken> {
        let saw = &self.problem.saw;
        if before.last.is_none() && !saw.may_begin(self.sheet, across) {
            // Cuts in one direction only are neither way nor the other; trimming single parts does not change that.
            let mut pieces = [Some(first), rest].into_iter().flatten();
            if !pieces.all(|piece| one_way(piece, across)) {
                return Err(Broken::Way);
            }
        }
        let stages = if before.last == Some(across) { before.stages } else { before.stages + 1 };
        if let Some(limit) = saw.stages {
            let trims = matches!(first, Node::Part { .. }) && rest.is_none_or(is_spare);
            let free = trims && limit.trimming == Trimming::Extra;
            if stages > u32::from(limit.most) + u32::from(free) {
                return Err(Broken::Stages);
            }
        }
        Ok(Path { stages, last: Some(across) })
    }

    fn saw_can(&self, across: Axis, piece: Piece) -> Result<(), Broken> {
        let length = if across == Axis::X { piece.height } else { piece.width };
        match self.problem.saw.longest_cut(self.sheet, across) {
            Some(longest) if length > longest => Err(Broken::Saw),
            _ => Ok(()),
        }
    }

    fn part(&mut self, item: usize, turned: bool, piece: Piece) -> Result<(), Broken> {
        let wanted = self.problem.items.get(item).ok_or(Broken::Unknown)?;
        if turned && wanted.turn == Turn::Fixed {
            return Err(Broken::Turned);
        }
        if lying(wanted, turned) != (piece.width, piece.height) {
            return Err(Broken::Size);
        }
        self.areas.parts += area(piece.width, piece.height);
        self.placed.push(Placed { item, turned, at: (piece.x, piece.y), size: (piece.width, piece.height) });
        Ok(())
    }
}

fn lying(item: &Item, turned: bool) -> (i64, i64) {
    if turned { (item.height, item.width) } else { (item.width, item.height) }
}

/// Whether a piece is cut on in this direction only, but for cuts that trim one part.
fn one_way(node: &Node, across: Axis) -> bool {
    match node {
        Node::Cut { across: own, first, rest, .. } if *own == across => {
            one_way(first, across) && rest.as_deref().is_none_or(|rest| one_way(rest, across))
        }
        Node::Cut { first, rest, .. } => matches!(**first, Node::Part { .. }) && rest.as_deref().is_none_or(is_spare),
        _ => true,
    }
}

fn is_spare(node: &Node) -> bool {
    matches!(node, Node::Offcut | Node::Waste)
}

fn holds_part(node: &Node) -> bool {
    match node {
        Node::Part { .. } => true,
        Node::Offcut | Node::Waste => false,
        Node::Cut { first, rest, .. } => holds_part(first) || rest.as_deref().is_some_and(holds_part),
    }
}

/// One cut: the piece before the blade, the area under it, and the piece behind it, if anything is left there.
fn divide(piece: Piece, across: Axis, at: i64, kerf: i64) -> Result<(Piece, i128, Option<Piece>), Broken> {
    let (along, length) = match across {
        Axis::X => (piece.width, piece.height),
        Axis::Y => (piece.height, piece.width),
    };
    if at < 1 || at >= along {
        return Err(Broken::Outside);
    }
    let dust = kerf.min(along - at);
    let rest = along - at - dust;
    let sized = |from: i64, size: i64| match across {
        Axis::X => Piece { x: piece.x + from, width: size, ..piece },
        Axis::Y => Piece { y: piece.y + from, height: size, ..piece },
    };
    let behind = (rest > 0).then(|| sized(at + dust, rest));
    Ok((sized(0, at), area(dust, length), behind))
}

/// Follows each set from its first member to its last: the next lies one kerf further on, on the same line.
fn sets_lie_together(problem: &Problem, placed: &[Placed]) -> Result<(), Broken> {
    let mut sets: BTreeMap<u32, Vec<(u32, usize, Axis)>> = BTreeMap::new();
    for (at, item) in problem.items.iter().enumerate() {
        if let Some(matched) = item.matched {
            sets.entry(matched.set).or_default().push((matched.place, at, matched.along));
        }
    }
    for members in sets.values_mut() {
        members.sort_unstable_by_key(|&(place, item, _)| (place, item));
        let Some(&(_, leader, along)) = members.first() else { continue };
        let here = |item: usize| placed.iter().filter(move |part| part.item == item);
        let leaders = here(leader).count();
        if members.iter().any(|&(_, item, _)| here(item).count() != leaders) {
            return Err(Broken::Matched);
        }
        for first in here(leader) {
            let axis = if first.turned { along.other() } else { along };
            let (mut x, mut y) = first.at;
            for &(_, item, _) in members.iter() {
                let found = here(item).find(|part| part.at == (x, y) && part.turned == first.turned);
                let part = found.ok_or(Broken::Matched)?;
                match axis {
                    Axis::X => x += part.size.0 + problem.saw.kerf_across(Axis::X),
                    Axis::Y => y += part.size.1 + problem.saw.kerf_across(Axis::Y),
                }
            }
        }
    }
    Ok(())
}

/// Replays a plan for boards: each board trimmed at both ends, its pieces cut off one after the other.
pub fn verify_boards(problem: &Boards, plan: &BoardPlan) -> Result<(), Broken> {
    let mut made = vec![0_u64; problem.items.len()];
    let mut used = vec![0_u64; problem.stock.len()];
    for layout in &plan.layouts {
        let board = problem.stock.get(layout.stock).ok_or(Broken::Unknown)?;
        if layout.copies == 0 {
            return Err(Broken::Unknown);
        }
        *used.get_mut(layout.stock).ok_or(Broken::Unknown)? += u64::from(layout.copies);
        let mut left = board.length - board.trim_start - board.trim_end;
        for &item in &layout.items {
            let length = problem.items.get(item).ok_or(Broken::Unknown)?.length;
            if length > left {
                return Err(Broken::Outside);
            }
            left = (left - length - problem.kerf).max(0);
            *made.get_mut(item).ok_or(Broken::Unknown)? += u64::from(layout.copies);
        }
        if left != layout.left {
            return Err(Broken::Rest);
        }
    }
    let demanded = problem.items.iter().map(|item| u64::from(item.count));
    if !demanded.eq(made.iter().copied()) {
        return Err(Broken::Demand);
    }
    let over = |(board, &used): (&super::boards::Board, &u64)| board.count.is_some_and(|most| used > u64::from(most));
    if problem.stock.iter().zip(&used).any(over) {
        return Err(Broken::Count);
    }
    Ok(())
}
