//! What is asked: sheets, items, saw and shop rules, as whole numbers of one unit.

use super::fault::Fault;

/// The largest side of a sheet or item, so that areas and their sums stay within `i128` with room to spare.
pub const LARGEST: i64 = 1_000_000_000_000;

/// The most parts of a problem.
// A million took 3.5 s to their first plan in a development build, so a tenth of them about a third of a second; no search can be stopped
// before it has that plan.
pub(super) const MOST_PARTS: u64 = 100_000;

/// A direction on the sheet. A cut *across* X stands upright and divides the width; across Y it divides the height.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Axis {
    /// Along the width.
    X,
    /// Along the height.
    Y,
}

impl Axis {
    /// The other direction.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::X => Self::Y,
            Self::Y => Self::X,
        }
    }
}

/// How much is taken off each edge of a raw sheet before anything is cut from it, the kerf of the trimming cut included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Trim {
    /// At the edge where x is 0.
    pub left: i64,
    /// At the edge where x is the width.
    pub right: i64,
    /// At the edge where y is 0.
    pub bottom: i64,
    /// At the edge where y is the height.
    pub top: i64,
}

/// When a piece that is left over is kept, and what it is then worth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Keep {
    /// The least short side of an offcut that is kept.
    pub short: i64,
    /// The least long side of an offcut that is kept.
    pub long: i64,
    /// What a whole sheet's area would be worth as one offcut, in the unit of cost. An offcut with the fraction f of
    /// the sheet's area is worth f² of it, so that one large offcut is worth more than two small ones.
    pub worth: i64,
}

/// One kind of sheet, as it is bought or found on the rack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Raw width.
    pub width: i64,
    /// Raw height.
    pub height: i64,
    /// How many there are; `None` when any number can be had.
    pub count: Option<u32>,
    /// What one costs, in any unit of money that is whole. 0 for what is already paid.
    pub cost: i64,
    /// What is trimmed off its edges.
    pub trim: Trim,
    /// What becomes of large rests.
    pub keep: Keep,
}

impl Sheet {
    /// A sheet of which any number can be had for 1 each, with nothing trimmed.
    pub fn new(width: i64, height: i64) -> Self {
        Self { width, height, count: None, cost: 1, trim: Trim::default(), keep: Keep::default() }
    }

    /// Width and height once the edges are trimmed.
    pub fn usable(&self) -> (i64, i64) {
        (self.width - self.trim.left - self.trim.right, self.height - self.trim.bottom - self.trim.top)
    }

    /// The axis that a rip divides: a rip runs along the longer side of the raw sheet, along its width when it is
    /// square.
    pub fn rip_across(&self) -> Axis {
        if self.height > self.width { Axis::X } else { Axis::Y }
    }
}

/// Whether an item may lie turned by a quarter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Turn {
    /// It lies as it is given, for instance because of the grain.
    Fixed,
    /// It may lie either way.
    Free,
}

/// An item's place in a matched set: its members are cut next to each other, with one kerf between, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Matched {
    /// Which set. All members of a set have the same count: so many sets are cut, each out of one sheet.
    pub set: u32,
    /// Its place in the set, counted up along the axis.
    pub place: u32,
    /// The direction in which the members follow each other, while nothing is turned. The same for the whole set.
    pub along: Axis,
}

/// One kind of rectangle to be cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// Finished width: along the sheet's width unless turned.
    pub width: i64,
    /// Finished height.
    pub height: i64,
    /// How many are needed, at least 1.
    pub count: u32,
    /// Whether it may lie turned.
    pub turn: Turn,
    /// Its matched set, if it belongs to one. A set turns as a whole, and only if all its members may.
    pub matched: Option<Matched>,
}

/// With which cut a sheet is begun.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Way {
    /// The first cuts of a sheet are rips; crosscuts come first only where the sheet is too long for the saw to rip.
    RipFirst,
    /// The first cuts of a sheet are crosscuts; rips come first only where the sheet is too wide for the saw.
    CrosscutFirst,
    /// Whatever is best.
    #[default]
    Free,
}

/// Whether the last cut that frees one part from a rest counts as a stage.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Trimming {
    /// A cut that leaves one part and a rest may come after the last stage.
    #[default]
    Extra,
    /// It is a stage like any other.
    Counted,
}

/// How often the direction of cutting may change on the way to a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stages {
    /// The most runs of cuts in one direction, one after the other, that lead to a part. At least 1.
    pub most: u8,
    /// Whether trimming a part to size counts.
    pub trimming: Trimming,
}

/// What becomes of parts that are narrower than the saw cuts off.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Thin {
    /// They are refused.
    #[default]
    Refused,
    /// They are cut all the same, with a jig, and the strips in which they lie. Offcuts stay as wide as ever.
    WithJig,
}

/// The saw and the shop's way of working.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Saw {
    /// How wide the blade cuts.
    pub kerf: i64,
    /// How wide the blade cuts that makes the cuts across X, where it is not the same one. Nothing may turn then.
    pub kerf_across_x: Option<i64>,
    /// With which cut a sheet is begun.
    pub way: Way,
    /// The limit of stages; `None` for as many as it takes.
    pub stages: Option<Stages>,
    /// The longest cut along the sheet's longer side.
    pub longest_rip: Option<i64>,
    /// The longest cut along the sheet's shorter side.
    pub crosscut_capacity: Option<i64>,
    /// The narrowest piece that may be cut off to be used: with a part in it, or as an offcut. What falls away may be
    /// narrower.
    pub narrowest: i64,
    /// What becomes of parts that are narrower than that.
    pub thin: Thin,
}

impl Saw {
    /// The longest cut across `axis` of this sheet.
    pub fn longest_cut(&self, sheet: &Sheet, axis: Axis) -> Option<i64> {
        if axis == sheet.rip_across() { self.longest_rip } else { self.crosscut_capacity }
    }

    /// How wide the blade cuts that makes the cuts across `axis`.
    pub fn kerf_across(&self, axis: Axis) -> i64 {
        match (axis, self.kerf_across_x) {
            (Axis::X, Some(kerf)) => kerf,
            _ => self.kerf,
        }
    }

    /// Whether the first cut of what is left of this sheet after trimming may be across `axis`. The way rules, unless
    /// the cut that it asks for is longer than the saw can make.
    pub fn may_begin(&self, sheet: &Sheet, axis: Axis) -> bool {
        let wanted = match self.way {
            Way::Free => return true,
            Way::RipFirst => sheet.rip_across(),
            Way::CrosscutFirst => sheet.rip_across().other(),
        };
        let (width, height) = sheet.usable();
        let length = if wanted == Axis::X { height } else { width };
        axis == wanted || self.longest_cut(sheet, wanted).is_some_and(|longest| length > longest)
    }
}

/// Rectangles to be cut out of sheets by cuts that go from edge to edge.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problem {
    /// The kinds of sheet that can be used.
    pub sheets: Vec<Sheet>,
    /// What is needed.
    pub items: Vec<Item>,
    /// How it is cut.
    pub saw: Saw,
}

impl Problem {
    /// A raw problem, the shape in which problems are published: one sheet of unlimited number, items as width,
    /// height, copies, all of which may turn or none.
    pub fn raw(sheet: [i64; 2], turn: Turn, items: &[[i64; 3]], kerf: i64) -> Result<Self, Fault> {
        let items = items
            .iter()
            .enumerate()
            .map(|(at, &[width, height, copies])| {
                let count = counted(copies, at)?;
                Ok(Item { width, height, count, turn, matched: None })
            })
            .collect::<Result<_, Fault>>()?;
        let problem = Self { sheets: vec![Sheet::new(sheet[0], sheet[1])], items, saw: Saw { kerf, ..Saw::default() } };
        problem.check()?;
        Ok(problem)
    }

    /// How many parts are needed altogether.
    pub fn parts(&self) -> u64 {
        self.items.iter().map(|item| u64::from(item.count)).sum()
    }

    /// Refuses what is no problem at all: sizes that are not positive or too large, sets that contradict themselves.
    /// Whether every item fits some sheet is found out by [`super::plan()`].
    pub fn check(&self) -> Result<(), Fault> {
        let side = |size: i64| (1..=LARGEST).contains(&size);
        for (at, sheet) in self.sheets.iter().enumerate() {
            let fault = |what| Err(Fault::Sheet { sheet: at, what });
            let Trim { left, right, bottom, top } = sheet.trim;
            if !side(sheet.width) || !side(sheet.height) {
                return fault("size");
            }
            if [left, right, bottom, top].iter().any(|&trim| !(0..=LARGEST).contains(&trim)) {
                return fault("trim");
            }
            if !(0..=LARGEST).contains(&sheet.cost) || !(0..=LARGEST).contains(&sheet.keep.worth) {
                return fault("cost");
            }
        }
        for (at, item) in self.items.iter().enumerate() {
            let fault = |what| Err(Fault::Item { item: at, what });
            if !side(item.width) || !side(item.height) {
                return fault("size");
            }
            if item.count == 0 {
                return fault("count");
            }
            // A part that turns would change its size with the kerf.
            if item.turn == Turn::Free && self.saw.kerf_across(Axis::X) != self.saw.kerf {
                return fault("turning under two kerfs");
            }
            if let Some(own) = item.matched {
                let others = self.items.iter().enumerate().filter_map(|(i, x)| x.matched.map(|m| (i, x, m)));
                for (i, other, matched) in others.filter(|(_, _, m)| m.set == own.set) {
                    let same = other.count == item.count && matched.along == own.along;
                    if !same || (i != at && matched.place == own.place) {
                        return fault("matched set");
                    }
                }
            }
        }
        let saw = &self.saw;
        let limits = [saw.longest_rip.unwrap_or(1), saw.crosscut_capacity.unwrap_or(1)];
        let kerfs = [saw.kerf, saw.kerf_across(Axis::X)];
        if kerfs.iter().any(|kerf| !(0..=LARGEST).contains(kerf)) || limits.iter().any(|&limit| limit < 1) {
            return Err(Fault::Saw);
        }
        if saw.stages.is_some_and(|stages| stages.most == 0) {
            return Err(Fault::Saw);
        }
        if self.parts() > MOST_PARTS {
            return Err(Fault::TooMany);
        }
        Ok(())
    }
}

/// How many are needed, as it is read.
pub(super) fn counted(copies: i64, item: usize) -> Result<u32, Fault> {
    u32::try_from(copies).map_err(|_| if copies < 0 { Fault::Item { item, what: "count" } } else { Fault::TooMany })
}
