//! The heaviest cutting of one sheet, exactly: the most that parts which come out of it by cuts from edge to edge can
//! weigh together, each as often as one likes.
//!
//! A piece is worth the heaviest part that fits it, or the sum of the two pieces that a cut makes of it (Gilmore and
//! Gomory, "Multistage cutting stock problems of two and more dimensions", 1965). Few sizes of pieces have to be looked
//! at. Let `sums` be all lengths that parts add up to, and `down(l)` the largest of them that is no longer than `l`. A
//! piece may be made as short as the sums within it, and then as long as the sums beside it allow, so it is enough to
//! look at `down(room - s)` for all sums `s` (Scheithauer and Terno, "The G4-heuristic for the pallet loading problem",
//! 1996). As sums of sums are sums, `down(down(room - s) - t) = down(room - (s + t))`, so all that a cut makes of such a
//! piece is of this sort again.

use super::problem::Axis;
use std::collections::BTreeSet;

/// The most lengths that are looked at along one axis.
const MOST_LENGTHS: usize = 2_500;

/// How many lengths are looked at side by side.
const LANES: usize = 8;

/// A part in one way to lie.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lying {
    pub width: i64,
    pub height: i64,
}

/// The lengths of pieces along one axis, and all ways to cut each of them in two.
#[derive(Debug)]
struct Lengths {
    all: Vec<i64>,
    /// Where the cuts of each length begin in `cuts`; one more entry than lengths.
    begins: Vec<usize>,
    /// The two pieces, by place in `all`.
    cuts: Vec<(u16, u16)>,
}

impl Lengths {
    /// All that have to be looked at; `None` when they are too many.
    fn all(room: i64, parts: &BTreeSet<i64>) -> Option<Self> {
        let mut sums = BTreeSet::from([0]);
        let mut next = Some(0);
        while let Some(sum) = next {
            sums.extend(parts.iter().map(|length| sum + length).take_while(|&longer| longer <= room));
            if sums.len() > MOST_LENGTHS {
                return None;
            }
            next = sums.range(sum + 1..).next().copied();
        }
        Some(Self::between(room, &sums, BTreeSet::new()))
    }

    /// Some of them: one part again and again, two different ones where that is not too many, and what is left beside
    /// those.
    fn some(room: i64, parts: &BTreeSet<i64>) -> Self {
        let mut sums: BTreeSet<i64> = BTreeSet::from([0]);
        sums.extend(parts.iter().flat_map(|&length| (1..=(room / length).min(12)).map(move |times| times * length)));
        let pairs = || parts.iter().flat_map(|one| parts.iter().map(move |two| one + two).filter(|&pair| pair <= room));
        if parts.len() < 20 {
            sums.extend(pairs());
        }
        Self::between(room, &sums, sums.clone())
    }

    fn between(room: i64, sums: &BTreeSet<i64>, mut all: BTreeSet<i64>) -> Self {
        all.extend(sums.iter().filter_map(|sum| sums.range(..=room - sum).next_back()));
        let all: Vec<i64> = all.into_iter().filter(|&length| length > 0).collect();
        let (mut begins, mut cuts) = (vec![0], Vec::new());
        for &length in &all {
            for (first, &size) in (0_u16..).zip(&all).take_while(|&(_, &size)| 2 * size <= length) {
                let rest = all.partition_point(|&other| other <= length - size);
                // A rest that holds nothing is no reason to cut.
                if let Ok(rest @ 1..) = u16::try_from(rest) {
                    cuts.push((first, rest - 1));
                }
            }
            begins.push(cuts.len());
        }
        Self { all, begins, cuts }
    }

    fn cuts(&self, at: usize) -> &[(u16, u16)] {
        &self.cuts[self.begins[at]..self.begins[at + 1]]
    }
}

/// A sheet with the table of the heaviest cuttings of its pieces.
#[derive(Debug)]
pub(super) struct Heaviest {
    widths: Lengths,
    heights: Lengths,
    /// What each piece is worth, width by width.
    worth: Vec<i32>,
}

/// The greatest sum of weights on one sheet that the table can hold.
pub(super) const MOST_WORTH: i64 = 1 << 30;

impl Heaviest {
    /// A table that looks at all pieces; `None` when they are too many.
    pub fn exact(width: i64, height: i64, parts: &[Lying]) -> Option<Self> {
        let (wide, high) = lengths(width, height, parts);
        Some(Self::of(Lengths::all(width, &wide)?, Lengths::all(height, &high)?))
    }

    /// A table that looks at some pieces only, so that what it finds may not be the heaviest.
    pub fn rough(width: i64, height: i64, parts: &[Lying]) -> Self {
        let (wide, high) = lengths(width, height, parts);
        Self::of(Lengths::some(width, &wide), Lengths::some(height, &high))
    }

    fn of(widths: Lengths, heights: Lengths) -> Self {
        let worth = vec![0; widths.all.len() * heights.all.len()];
        Self { widths, heights, worth }
    }

    /// How many steps it takes to fill the table.
    pub fn steps(&self) -> u64 {
        (self.widths.cuts.len() * self.heights.all.len() + self.heights.cuts.len() * self.widths.all.len()) as u64
    }

    /// The most that the sheet can hold when each part has this worth; their sum must stay within [`MOST_WORTH`].
    pub fn weigh(&mut self, parts: &[Lying], worth: &[i64]) -> i64 {
        let high = self.heights.all.len();
        if self.worth.is_empty() {
            return 0;
        }
        self.worth.fill(0);
        for (part, &worth) in parts.iter().zip(worth) {
            let at = self.widths.all.partition_point(|&length| length < part.width);
            let up = self.heights.all.partition_point(|&length| length < part.height);
            if at < self.widths.all.len() && up < high {
                let cell = &mut self.worth[at * high + up];
                *cell = (*cell).max(i32::try_from(worth).unwrap_or(i32::MAX / 2));
            }
        }
        let least = self.widths.all[0];
        let mut block = vec![[0_i32; LANES]; high];
        let mut at = 0;
        while at < self.widths.all.len() {
            // Widths that differ by less than the least one are no pieces of each other.
            let near = |other: &&i64| **other - self.widths.all[at] < least;
            let lanes = self.widths.all[at..].iter().take(LANES).take_while(near).count();
            for lane in 0..lanes {
                self.cut_widths(at + lane);
                for (row, &worth) in block.iter_mut().zip(&self.worth[(at + lane) * high..]) {
                    row[lane] = worth;
                }
            }
            cut_heights(&self.heights, &mut block);
            for lane in 0..lanes {
                for (row, worth) in block.iter().zip(&mut self.worth[(at + lane) * high..]) {
                    *worth = row[lane];
                }
            }
            at += lanes;
        }
        self.worth.last().map_or(0, |&worth| i64::from(worth))
    }

    /// The best of one width but for cuts across its height.
    fn cut_widths(&mut self, at: usize) {
        let high = self.heights.all.len();
        let (before, rest) = self.worth.split_at_mut(at * high);
        let own = &mut rest[..high];
        if at > 0 {
            for (own, &narrower) in own.iter_mut().zip(&before[(at - 1) * high..]) {
                *own = (*own).max(narrower);
            }
        }
        for &(one, two) in self.widths.cuts(at) {
            let one = &before[usize::from(one) * high..][..high];
            let two = &before[usize::from(two) * high..][..high];
            for ((own, one), two) in own.iter_mut().zip(one).zip(two) {
                *own = (*own).max(one + two);
            }
        }
    }

    /// The heaviest cutting by the weights of before, and those that begin with other cuts: so many at most.
    pub fn nests(&self, parts: &[Lying], worth: &[i64], most: usize) -> Vec<Nest> {
        let found = Finder { table: self, parts, worth };
        let Some(all) = self.worth.len().checked_sub(1) else { return Vec::new() };
        let corner = (all / self.heights.all.len(), all % self.heights.all.len());
        let mut nests: Vec<Nest> = found.nest(corner).into_iter().collect();
        let mut cuts: Vec<(i32, Cut)> =
            found.cuts(corner).map(|cut| (self.at(cut.one) + self.at(cut.two), cut)).collect();
        cuts.sort_by_key(|&(worth, _)| -worth);
        cuts.dedup_by_key(|&mut (worth, _)| worth);
        nests.extend(cuts.iter().skip(1).take(most.saturating_sub(1)).filter_map(|(_, cut)| found.halves(*cut)));
        nests
    }

    fn at(&self, (at, up): Cell) -> i32 {
        self.worth[at * self.heights.all.len() + up]
    }
}

/// The widths and heights of what fits.
fn lengths(width: i64, height: i64, parts: &[Lying]) -> (BTreeSet<i64>, BTreeSet<i64>) {
    let within = || parts.iter().filter(|part| part.width <= width && part.height <= height);
    (within().map(|part| part.width).collect(), within().map(|part| part.height).collect())
}

/// How a piece is cut: a part, by its place in the list, or a row of pieces along an axis.
#[derive(Clone, Debug)]
pub(super) enum Nest {
    Part(usize),
    Row(Axis, Vec<Nest>),
}

impl Nest {
    /// Pieces one after the other. Rows that run the same way are one row; a row of one is no row.
    pub fn row(along: Axis, pieces: Vec<Self>) -> Option<Self> {
        let mut row = Vec::new();
        for piece in pieces {
            match piece {
                Self::Row(axis, pieces) if axis == along => row.extend(pieces),
                piece => row.push(piece),
            }
        }
        if row.len() > 1 { Some(Self::Row(along, row)) } else { row.pop() }
    }
}

/// A piece, by its width and height in the lists of lengths.
type Cell = (usize, usize);

/// A cut across an axis and the two pieces that it makes.
#[derive(Clone, Copy)]
struct Cut {
    across: Axis,
    one: Cell,
    two: Cell,
}

/// Reads out of a filled table how the heaviest cuttings are made.
struct Finder<'a> {
    table: &'a Heaviest,
    parts: &'a [Lying],
    worth: &'a [i64],
}

impl Finder<'_> {
    fn cuts(&self, (at, up): Cell) -> impl Iterator<Item = Cut> + '_ {
        let upright = self.table.widths.cuts(at).iter().map(move |&(one, two)| Cut {
            across: Axis::X,
            one: (usize::from(one), up),
            two: (usize::from(two), up),
        });
        let flat = self.table.heights.cuts(up).iter().map(move |&(one, two)| Cut {
            across: Axis::Y,
            one: (at, usize::from(one)),
            two: (at, usize::from(two)),
        });
        upright.chain(flat)
    }

    fn nest(&self, mut cell: Cell) -> Option<Nest> {
        let own = self.table.at(cell);
        if own == 0 {
            return None;
        }
        loop {
            let (width, height) = (self.table.widths.all[cell.0], self.table.heights.all[cell.1]);
            let is_all = |&at: &usize| {
                let Lying { width: wide, height: high } = self.parts[at];
                wide <= width && high <= height && self.worth[at] == i64::from(own)
            };
            if let Some(part) = (0..self.parts.len()).find(is_all) {
                return Some(Nest::Part(part));
            }
            if let Some(cut) = self.cuts(cell).find(|cut| self.table.at(cut.one) + self.table.at(cut.two) == own) {
                return self.halves(cut);
            }
            // A smaller piece is worth as much.
            if cell.0 > 0 && self.table.at((cell.0 - 1, cell.1)) == own {
                cell.0 -= 1;
            } else {
                cell.1 = cell.1.checked_sub(1)?;
            }
        }
    }

    /// What a cut makes of its two pieces.
    fn halves(&self, cut: Cut) -> Option<Nest> {
        Nest::row(cut.across, [self.nest(cut.one), self.nest(cut.two)].into_iter().flatten().collect())
    }
}

/// The best of some widths side by side, height after height.
fn cut_heights(heights: &Lengths, block: &mut [[i32; LANES]]) {
    for up in 0..block.len() {
        let mut own = block[up];
        if up > 0 {
            for (own, &lower) in own.iter_mut().zip(&block[up - 1]) {
                *own = (*own).max(lower);
            }
        }
        for &(one, two) in heights.cuts(up) {
            let (one, two) = (&block[usize::from(one)], &block[usize::from(two)]);
            for lane in 0..LANES {
                own[lane] = own[lane].max(one[lane] + two[lane]);
            }
        }
        block[up] = own;
    }
}
