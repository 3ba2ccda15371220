//! One sheet under search: a tree of cuts whose pieces keep no more than the least size that they need.
//!
//! Sizes here have the kerf added (see `docs/nesting.md`), so pieces that lie side by side simply add up. A knot is a
//! part or a row of pieces that follow each other along one axis; rows within rows alternate in axis. Only the least
//! size of a row is settled, so all the slack of a sheet stays movable: how far a knot *could* grow, if all slack above
//! it went its way, is its `room`; what it *has* now is its `slot`. A new part may go to the end of any row, or
//! beside any part in a new row across.
//!
//! Knots lie in one list, each before what it holds, with its level; that is the whole tree.

use super::problem::Axis;

/// What the search must know of a kind of part: its size with kerf and how it may lie.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    /// Sizes with kerf.
    pub width: i64,
    pub height: i64,
    /// Area of those, on the search's scale.
    pub area: i64,
    pub turns: bool,
    /// For a matched set, the direction of its row: it needs up to two levels more below it.
    pub row: Option<Axis>,
}

impl Kind {
    pub fn lying(&self, turned: bool) -> (i64, i64) {
        if turned { (self.height, self.width) } else { (self.width, self.height) }
    }
}

/// What a kind of sheet demands of its tree.
#[derive(Clone, Debug)]
pub(super) struct Frame {
    pub width: i64,
    pub height: i64,
    pub area: i64,
    /// Whether the first cut may be across X, across Y.
    pub begins: [bool; 2],
    /// The longest cut across X, across Y, with kerf.
    pub longest: [i64; 2],
    /// How many rows there may be inside each other.
    pub levels: u8,
}

impl Frame {
    /// Whether the saw can cut the whole sheet across X, across Y.
    pub fn cuts(&self) -> [bool; 2] {
        [self.height <= self.longest[0], self.width <= self.longest[1]]
    }
}

/// Room for levels: rows inside each other, a part below them, and the empty level below that.
const MOST_LEVELS: usize = 32;

/// As many levels as a sheet ever needs.
pub(super) const FREE_LEVELS: u8 = 28;

/// Marks a knot that is a row.
const ROW: u32 = u32::MAX;

#[derive(Clone, Copy, Debug)]
pub(super) struct Knot {
    /// Which kind of part, or `ROW`.
    kind: u32,
    level: u8,
    turned: bool,
    /// How many levels of rows it may need inside itself: 1 for a matched set.
    below: u8,
    width: i64,
    height: i64,
    room: (i64, i64),
    slot: (i64, i64),
}

#[derive(Clone, Debug)]
pub(super) struct Tree {
    pub frame: usize,
    knots: Vec<Knot>,
    /// The axis of the outermost row.
    axis: Axis,
    /// Area without parts.
    pub free: i64,
    /// The largest room along and across that any place has, to pass a sheet over quickly.
    most: (i64, i64),
    /// The most levels that any part needs.
    deepest: u8,
    /// Kinds, each way to lie, that have no place on this sheet as it is: most of what is asked is asked again.
    hopeless: [u64; 4],
}

/// Where a part could go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// To the end of this row.
    End(u32),
    /// Beside this part, in a new row.
    Beside(u32),
    /// Beside all there is, in a new outermost row along this axis.
    Around(Axis),
    /// Into the empty sheet.
    Empty,
}

/// How to choose between places.
#[derive(Clone, Copy, Debug)]
pub(super) struct Taste {
    pub rule: u8,
    /// What growing costs, in eighths.
    pub growth: i64,
}

impl Taste {
    /// How little a part is liked in a slot that leaves these gaps along and across; a negative gap is growth.
    #[inline]
    fn dislike(self, along: i64, across: i64, part: (i64, i64)) -> i64 {
        let grow = (-along).max(0) + (-across).max(0);
        let (a, c) = (along.max(0), across.max(0));
        let gap = match self.rule {
            0 => {
                if grow > 0 {
                    a.max(c)
                } else {
                    16 * a.min(c) + a.max(c)
                }
            }
            1 => 16 * a.max(c) + a.min(c),
            2 => 16 * c + a,
            3 => ((a + part.0).saturating_mul(c + part.1) - part.0.saturating_mul(part.1)) / part.0.min(part.1).max(1),
            _ => 8 * (a + c),
        };
        gap + 2 * self.growth * grow
    }
}

impl Tree {
    pub fn new(frame: usize, frames: &[Frame]) -> Self {
        Self {
            frame,
            knots: Vec::new(),
            axis: Axis::X,
            free: frames[frame].area,
            most: (i64::MAX, i64::MAX),
            deepest: 0,
            hopeless: [0; 4],
        }
    }

    /// Takes over another tree and keeps its own memory.
    pub fn copy_from(&mut self, other: &Self) {
        self.frame = other.frame;
        self.knots.clear();
        self.knots.extend_from_slice(&other.knots);
        self.axis = other.axis;
        self.free = other.free;
        self.most = other.most;
        self.deepest = other.deepest;
        self.hopeless = other.hopeless;
    }

    pub fn is_empty(&self) -> bool {
        self.knots.is_empty()
    }

    pub fn len(&self) -> usize {
        self.knots.len()
    }

    pub fn kinds(&self) -> impl Iterator<Item = u32> + '_ {
        self.knots.iter().filter(|knot| knot.kind != ROW).map(|knot| knot.kind)
    }

    fn is_wrong_way(&self, frame: &Frame) -> bool {
        self.knots.first().is_some_and(|root| root.kind == ROW) && !frame.begins[self.axis as usize]
    }

    #[inline]
    fn axis_at(&self, level: u8) -> Axis {
        if level.is_multiple_of(2) { self.axis } else { self.axis.other() }
    }

    /// The best place for a part that lies so, if it is better than `limit`.
    pub fn best_place(
        &mut self,
        frame: &Frame,
        (at, kind): (u32, &Kind),
        turned: bool,
        taste: Taste,
        limit: i64,
        blink: impl FnMut() -> bool,
    ) -> Option<(Place, i64)> {
        let (word, bit) = (at as usize / 32, 1_u64 << (2 * (at % 32) + u32::from(turned)));
        if self.hopeless.get(word).is_some_and(|word| word & bit != 0) {
            return None;
        }
        let mut has_place = false;
        let found = self.find_place(frame, kind, turned, taste, limit, blink, &mut has_place);
        if !has_place && let Some(word) = self.hopeless.get_mut(word) {
            *word |= bit;
        }
        found
    }

    /// The same, and whether there is any place at all.
    #[inline]
    #[allow(clippy::too_many_arguments)]
    fn find_place(
        &self,
        frame: &Frame,
        kind: &Kind,
        turned: bool,
        taste: Taste,
        mut limit: i64,
        mut blink: impl FnMut() -> bool,
        has_place: &mut bool,
    ) -> Option<(Place, i64)> {
        let (width, height) = kind.lying(turned);
        let below = u8::from(kind.row.is_some());
        let mut best = None;
        if self.knots.is_empty() {
            if width <= frame.width && height <= frame.height && 2 * below <= frame.levels {
                *has_place = true;
                let dislike = taste.dislike(frame.width - width, frame.height - height, (width, height));
                if dislike < limit {
                    return Some((Place::Empty, dislike));
                }
            }
            return None;
        }
        if width > self.most.0 || height > self.most.1 {
            return None;
        }
        // A sheet that is begun the wrong way may hold one row of parts and no more.
        let levels = if self.is_wrong_way(frame) { frame.levels.min(1) } else { frame.levels };
        let mut weigh = |levels: u8, place: Place, axis: Axis, deep: u8, room: (i64, i64), slot: (i64, i64)| {
            let (along, across) = if axis == Axis::X { (width, height) } else { (height, width) };
            if along > room.0 || across > room.1 || along > frame.longest[axis.other() as usize] {
                return;
            }
            if deep > levels {
                return;
            }
            *has_place = true;
            let dislike = taste.dislike(slot.0 - along, slot.1 - across, (along, across));
            if dislike < limit && !blink() {
                limit = dislike;
                best = Some((place, dislike));
            }
        };
        for (at, knot) in (0_u32..).zip(&self.knots) {
            if knot.level == 0 && knot.kind != ROW {
                continue;
            }
            let axis = self.axis_at(knot.level);
            let (room, slot) = match axis {
                Axis::X => ((knot.room.0 - knot.width, knot.room.1), (knot.slot.0 - knot.width, knot.slot.1)),
                Axis::Y => ((knot.room.1 - knot.height, knot.room.0), (knot.slot.1 - knot.height, knot.slot.0)),
            };
            let place = if knot.kind == ROW { Place::End(at) } else { Place::Beside(at) };
            weigh(levels, place, axis, knot.level + 1 + below.max(knot.below), room, slot);
        }
        let all = &self.knots[0];
        for axis in [Axis::X, Axis::Y] {
            if !frame.cuts()[axis as usize] || (all.kind == ROW && axis == self.axis) {
                continue;
            }
            let room = match axis {
                Axis::X => (frame.width - all.width, frame.height),
                Axis::Y => (frame.height - all.height, frame.width),
            };
            let levels = if frame.begins[axis as usize] { frame.levels } else { frame.levels.min(1) };
            weigh(levels, Place::Around(axis), axis, (self.deepest + 1).max(1 + below), room, room);
        }
        best
    }

    /// Puts a part to a place that was found for it.
    pub fn insert(&mut self, frame: &Frame, kinds: &[Kind], kind: u32, turned: bool, place: Place) {
        let (width, height) = kinds[kind as usize].lying(turned);
        let below = u8::from(kinds[kind as usize].row.is_some());
        let part = Knot { kind, level: 0, turned, below, width, height, room: (0, 0), slot: (0, 0) };
        let row = Knot { kind: ROW, below: 0, ..part };
        match place {
            Place::Empty => self.knots.push(part),
            Place::End(at) => {
                let at = at as usize;
                let level = self.knots[at].level;
                let end = self.end_of(at);
                self.knots.insert(end, Knot { level: level + 1, ..part });
            }
            Place::Beside(at) => {
                let at = at as usize;
                let level = self.knots[at].level;
                self.knots[at].level += 1;
                self.knots.insert(at, Knot { level, ..row });
                self.knots.insert(at + 2, Knot { level: level + 1, ..part });
            }
            Place::Around(axis) => {
                self.axis = axis;
                for other in &mut self.knots {
                    other.level += 1;
                }
                self.knots.insert(0, row);
                self.knots.push(Knot { level: 1, ..part });
            }
        }
        self.free -= kinds[kind as usize].area;
        self.refresh(frame);
    }

    fn end_of(&self, at: usize) -> usize {
        let level = self.knots[at].level;
        self.knots[at + 1..].iter().position(|knot| knot.level <= level).map_or(self.knots.len(), |n| at + 1 + n)
    }

    /// Takes out everything at and below a knot; the kinds that come free go to `into`.
    pub fn remove(&mut self, frame: &Frame, kinds: &[Kind], at: usize, into: &mut Vec<u32>) {
        let end = self.end_of(at);
        for knot in &self.knots[at..end] {
            if knot.kind != ROW {
                into.push(knot.kind);
                self.free += kinds[knot.kind as usize].area;
            }
        }
        let level = self.knots[at].level;
        self.knots.drain(at..end);
        if level == 0 {
            return;
        }
        let Some(parent) = self.knots[..at].iter().rposition(|knot| knot.level == level - 1) else { return };
        let end = self.end_of(parent);
        let children = self.knots[parent + 1..end].iter().filter(|knot| knot.level == level).count();
        if children != 1 {
            return;
        }
        let rows = self.knots[parent + 1].kind == ROW;
        let crosswise = self.axis.other() as usize;
        let flat = self.knots[parent + 1..end].iter().all(|knot| knot.level < level + 2 && knot.below == 0);
        if parent == 0 && rows && !(frame.cuts()[crosswise] && (frame.begins[crosswise] || flat)) {
            // What is left cannot stand on this sheet by itself.
            for knot in self.knots.drain(..) {
                if knot.kind != ROW {
                    into.push(knot.kind);
                    self.free += kinds[knot.kind as usize].area;
                }
            }
            return;
        }
        // A row of one is no row: its only piece takes its place, and if that is a row, it runs along the row above.
        self.knots.remove(parent);
        for knot in &mut self.knots[parent..end - 1] {
            knot.level -= 1;
        }
        if rows && parent == 0 {
            self.axis = self.axis.other();
        } else if rows {
            self.knots.remove(parent);
            for knot in &mut self.knots[parent..end - 2] {
                knot.level -= 1;
            }
        }
    }

    /// Works out sizes from below, then slots and rooms from above.
    pub fn refresh(&mut self, frame: &Frame) {
        let mut parents = [0_usize; MOST_LEVELS];
        let mut along = [0_i64; MOST_LEVELS];
        let mut across = [0_i64; MOST_LEVELS];
        // From the last knot to the first: what lies at a level belongs to the next knot before it that is higher up.
        for at in (0..self.knots.len()).rev() {
            let level = self.knots[at].level as usize;
            let axis = self.axis_at(self.knots[at].level);
            let knot = &mut self.knots[at];
            if knot.kind == ROW {
                let (a, c) = (along[level + 1], across[level + 1]);
                (along[level + 1], across[level + 1]) = (0, 0);
                (knot.width, knot.height) = if axis == Axis::X { (a, c) } else { (c, a) };
            }
            // The row above runs the other way.
            let (a, c) = if axis == Axis::X { (knot.height, knot.width) } else { (knot.width, knot.height) };
            along[level] += a;
            across[level] = across[level].max(c);
        }
        let mut most = (0, 0);
        let mut deepest = 0;
        for at in 0..self.knots.len() {
            let level = self.knots[at].level as usize;
            let own = self.knots[at];
            parents[level] = at;
            let axis = self.axis_at(own.level);
            let (mut room, slot) = if level == 0 {
                ((frame.width, frame.height), (frame.width, frame.height))
            } else {
                let above = &self.knots[parents[level - 1]];
                match axis {
                    // The row above runs along Y.
                    Axis::X => ((above.room.0, above.room.1 - above.height + own.height), (above.slot.0, own.height)),
                    Axis::Y => ((above.room.0 - above.width + own.width, above.room.1), (own.width, above.slot.1)),
                }
            };
            if level > 0 {
                match axis {
                    Axis::X => room.1 = room.1.min(frame.longest[0].max(own.height)),
                    Axis::Y => room.0 = room.0.min(frame.longest[1].max(own.width)),
                }
            }
            let free = match axis {
                Axis::X => (room.0 - own.width, room.1),
                Axis::Y => (room.0, room.1 - own.height),
            };
            most = (most.0.max(free.0), most.1.max(free.1));
            deepest = deepest.max(own.level + own.below);
            let knot = &mut self.knots[at];
            knot.room = room;
            knot.slot = slot;
        }
        if let Some(root) = self.knots.first() {
            let around = |axis: Axis| frame.cuts()[axis as usize] && (root.kind != ROW || self.axis != axis);
            if around(Axis::X) {
                most = (most.0.max(frame.width - root.width), most.1.max(frame.height));
            }
            if around(Axis::Y) {
                most = (most.0.max(frame.width), most.1.max(frame.height - root.height));
            }
        }
        self.most = if self.knots.is_empty() { (frame.width, frame.height) } else { most };
        self.deepest = deepest;
        self.hopeless = [0; 4];
    }

    /// Hands the tree over as nested pieces.
    pub fn shape(&self) -> Option<Shape> {
        if self.knots.is_empty() {
            return None;
        }
        Some(self.shape_at(&mut 0))
    }

    /// The tree of a shape that fits its sheet.
    pub fn of(shape: &Shape, frame: usize, frames: &[Frame], kinds: &[Kind]) -> Self {
        let mut tree = Self::new(frame, frames);
        if let Shape::Row { axis, .. } = shape {
            tree.axis = *axis;
        }
        tree.take_over(shape, 0, kinds);
        tree.refresh(&frames[frame]);
        tree
    }

    fn take_over(&mut self, shape: &Shape, level: u8, kinds: &[Kind]) {
        let (width, height) = shape.size();
        let row = Knot { kind: ROW, level, turned: false, below: 0, width, height, room: (0, 0), slot: (0, 0) };
        match shape {
            Shape::Part { kind, turned, .. } => {
                let own = &kinds[*kind as usize];
                self.free -= own.area;
                self.knots.push(Knot { kind: *kind, turned: *turned, below: u8::from(own.row.is_some()), ..row });
            }
            Shape::Row { pieces, .. } => {
                self.knots.push(row);
                pieces.iter().for_each(|piece| self.take_over(piece, level + 1, kinds));
            }
        }
    }

    fn shape_at(&self, at: &mut usize) -> Shape {
        let knot = self.knots[*at];
        *at += 1;
        if knot.kind != ROW {
            return Shape::Part { kind: knot.kind, turned: knot.turned, size: (knot.width, knot.height) };
        }
        let mut pieces = Vec::new();
        while self.knots.get(*at).is_some_and(|next| next.level > knot.level) {
            pieces.push(self.shape_at(at));
        }
        Shape::Row { axis: self.axis_at(knot.level), pieces, size: (knot.width, knot.height) }
    }
}

/// A tree as nested pieces, with kerf in all sizes.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Shape {
    Part { kind: u32, turned: bool, size: (i64, i64) },
    Row { axis: Axis, pieces: Vec<Shape>, size: (i64, i64) },
}

impl Shape {
    pub fn size(&self) -> (i64, i64) {
        match self {
            Self::Part { size, .. } | Self::Row { size, .. } => *size,
        }
    }

    /// How many rows there are inside each other.
    pub fn depth(&self) -> u8 {
        match self {
            Self::Part { .. } => 0,
            Self::Row { pieces, .. } => 1_u8.saturating_add(pieces.iter().map(Self::depth).max().unwrap_or(0)),
        }
    }
}
