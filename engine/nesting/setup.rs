//! A problem as the search sees it: kerf added to all sizes, equal items merged, matched sets as one piece, the sizes
//! divided by what they have in common.

use super::fault::Fault;
use super::problem::{Axis, Problem, Thin, Trimming, Turn};
use super::tree::{FREE_LEVELS, Frame, Kind};
use std::collections::BTreeMap;

/// A member of a matched set inside its piece, or the only part of a piece.
#[derive(Clone, Debug)]
pub(super) struct Member {
    pub item: usize,
    /// Size with kerf, on the search's scale.
    pub size: (i64, i64),
}

pub(super) struct Setup<'a> {
    pub problem: &'a Problem,
    pub kinds: Vec<Kind>,
    /// How many of each kind are needed.
    pub needed: Vec<u32>,
    /// For each kind, the rows of members that it can stand for, each with its count: one member, or a set in order.
    pub members: Vec<Vec<(Vec<Member>, u32)>>,
    /// One for each kind of sheet; width 0 where trimming leaves nothing.
    pub frames: Vec<Frame>,
    pub costs: Vec<i64>,
    pub limits: Vec<u32>,
    /// One unit of the search in units of the problem.
    pub unit: i64,
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// What a bound counts: a part, a whole matched set, or a member of one.
pub(super) struct Piece {
    /// Which kind it is; `None` for a member of a set.
    pub kind: Option<usize>,
    pub width: i64,
    pub height: i64,
    pub turns: bool,
    pub needed: u32,
}

impl<'a> Setup<'a> {
    /// All that is needed. A set stays whole where its members fill its rectangle and `whole_sets` says so; otherwise
    /// its members count one by one, because other parts may lie beside the short ones.
    pub fn pieces(&self, whole_sets: bool) -> Vec<Piece> {
        let mut pieces = Vec::new();
        for (at, kind) in self.kinds.iter().enumerate() {
            let (turns, needed) = (kind.turns, self.needed[at]);
            let is_even = |(row, _): &(Vec<Member>, u32)| match kind.row {
                None => true,
                Some(Axis::X) => whole_sets && row.iter().all(|member| member.size.1 == kind.height),
                Some(Axis::Y) => whole_sets && row.iter().all(|member| member.size.0 == kind.width),
            };
            if self.members[at].iter().all(is_even) {
                let (width, height) = (kind.width, kind.height);
                pieces.push(Piece { kind: kind.row.is_none().then_some(at), width, height, turns, needed });
                continue;
            }
            for member in self.members[at].iter().flat_map(|(row, _)| row) {
                pieces.push(Piece { kind: None, width: member.size.0, height: member.size.1, turns, needed });
            }
        }
        pieces
    }

    pub fn new(problem: &'a Problem) -> Result<Self, Fault> {
        problem.check()?;
        let kerf = [Axis::X, Axis::Y].map(|axis| problem.saw.kerf_across(axis));
        let mut unit = 0;
        for item in &problem.items {
            unit = gcd(gcd(unit, item.width + kerf[0]), item.height + kerf[1]);
        }
        for sheet in &problem.sheets {
            let (width, height) = sheet.usable();
            unit = gcd(gcd(unit, (width + kerf[0]).max(0)), (height + kerf[1]).max(0));
        }
        let unit = unit.max(1);
        let mut setup = Self {
            problem,
            kinds: Vec::new(),
            needed: Vec::new(),
            members: Vec::new(),
            frames: Vec::new(),
            costs: problem.sheets.iter().map(|sheet| sheet.cost).collect(),
            limits: problem.sheets.iter().map(|sheet| sheet.count.unwrap_or(u32::MAX)).collect(),
            unit,
        };
        setup.add_frames();
        setup.add_kinds();
        setup.scale_areas();
        setup.refuse_what_cannot_be_cut()?;
        Ok(setup)
    }

    fn add_frames(&mut self) {
        let saw = &self.problem.saw;
        for sheet in &self.problem.sheets {
            let (width, height) = sheet.usable();
            let there = width > 0 && height > 0;
            let size = |along: i64, axis| if there { (along + saw.kerf_across(axis)) / self.unit } else { 0 };
            let longest = [Axis::X, Axis::Y].map(|axis| {
                saw.longest_cut(sheet, axis).map_or(i64::MAX / 4, |longest| {
                    // A cut is as long as its piece the other way.
                    (longest + saw.kerf_across(axis.other())) / self.unit
                })
            });
            let (width, height) = (size(width, Axis::X), size(height, Axis::Y));
            let levels = saw.stages.map_or(FREE_LEVELS, |stages| {
                let rows = stages.most - u8::from(stages.trimming == Trimming::Counted);
                rows.min(FREE_LEVELS)
            });
            let begins = [Axis::X, Axis::Y].map(|axis| saw.may_begin(sheet, axis));
            self.frames.push(Frame { width, height, area: 0, begins, longest, levels });
        }
    }

    fn add_kinds(&mut self) {
        let mut sets: BTreeMap<u32, Vec<usize>> = BTreeMap::new();
        let mut singles: BTreeMap<(i64, i64, bool), Vec<usize>> = BTreeMap::new();
        for (at, item) in self.problem.items.iter().enumerate() {
            if let Some(matched) = item.matched {
                sets.entry(matched.set).or_default().push(at);
            } else {
                let (mut width, mut height) = self.size_of(at);
                let turns = item.turn == Turn::Free && width != height;
                // Which way it was given does not matter where it may turn.
                if turns && width < height {
                    (width, height) = (height, width);
                }
                singles.entry((width, height, turns)).or_default().push(at);
            }
        }
        for ((width, height, turns), items) in singles {
            let rows = items
                .iter()
                .map(|&item| (vec![Member { item, size: (width, height) }], self.problem.items[item].count));
            let rows: Vec<_> = rows.collect();
            self.needed.push(rows.iter().map(|(_, count)| count).sum());
            self.members.push(rows);
            self.kinds.push(Kind { width, height, area: 0, turns, row: None });
        }
        for mut items in sets.into_values() {
            let place = |item: usize| self.problem.items[item].matched.map_or(0, |matched| matched.place);
            items.sort_by_key(|&item| place(item));
            let Some(first) = items.first().map(|&item| &self.problem.items[item]) else { continue };
            let along = first.matched.map_or(Axis::X, |matched| matched.along);
            let row: Vec<_> = items.iter().map(|&item| Member { item, size: self.size_of(item) }).collect();
            let sum = |side: fn(&Member) -> i64| row.iter().map(side).sum::<i64>();
            let most = |side: fn(&Member) -> i64| row.iter().map(side).max().unwrap_or(0);
            let (width, height) = match along {
                Axis::X => (sum(|m| m.size.0), most(|m| m.size.1)),
                Axis::Y => (most(|m| m.size.0), sum(|m| m.size.1)),
            };
            let turns = items.iter().all(|&item| self.problem.items[item].turn == Turn::Free);
            self.needed.push(first.count);
            self.members.push(vec![(row, first.count)]);
            let row = (items.len() > 1).then_some(along);
            self.kinds.push(Kind { width, height, area: 0, turns, row });
        }
    }

    /// How many parts are needed.
    pub fn parts(&self) -> u64 {
        self.needed.iter().map(|&count| u64::from(count)).sum()
    }

    /// Size with kerf, on the search's scale.
    fn size_of(&self, item: usize) -> (i64, i64) {
        let (item, saw) = (&self.problem.items[item], &self.problem.saw);
        let with = |size: i64, axis| (size + saw.kerf_across(axis)) / self.unit;
        (with(item.width, Axis::X), with(item.height, Axis::Y))
    }

    /// Areas are scaled by a power of two so that no sum of them overflows. For usual sizes nothing is lost.
    fn scale_areas(&mut self) {
        let area = |width: i64, height: i64| i128::from(width) * i128::from(height);
        let sheet = self.frames.iter().map(|frame| area(frame.width, frame.height)).max().unwrap_or(1);
        let parts: i128 = self.needed.iter().map(|&count| i128::from(count)).sum();
        let mut shift = 0;
        while (sheet * (parts + 1)) >> shift > i128::from(i64::MAX / 8) {
            shift += 1;
        }
        let scaled = |width, height| i64::try_from(area(width, height) >> shift).unwrap_or(i64::MAX / 8);
        for frame in &mut self.frames {
            frame.area = scaled(frame.width, frame.height);
        }
        for kind in &mut self.kinds {
            kind.area = scaled(kind.width, kind.height);
        }
    }

    fn refuse_what_cannot_be_cut(&self) -> Result<(), Fault> {
        for (item, wanted) in self.problem.items.iter().enumerate() {
            let saw = &self.problem.saw;
            if wanted.width.min(wanted.height) < saw.narrowest && saw.thin == Thin::Refused {
                return Err(Fault::TooNarrow { item });
            }
        }
        for (kind, rows) in self.kinds.iter().zip(&self.members) {
            let fits = self.frames.iter().zip(&self.limits).any(|(frame, &limit)| limit > 0 && fits(kind, frame));
            if !fits {
                let item = rows.first().and_then(|(row, _)| row.first()).map_or(0, |member| member.item);
                return Err(Fault::TooLarge { item });
            }
        }
        Ok(())
    }
}

/// Whether most parts are needed so often that the same sheets are cut again and again.
pub(super) fn has_many_alike(parts: u64, kinds: usize) -> bool {
    parts >= 4 * kinds as u64
}

/// Whether a piece can be cut out of an empty sheet of this kind at all.
pub(super) fn fits(kind: &Kind, frame: &Frame) -> bool {
    [false, true].into_iter().filter(|&turned| !turned || kind.turns).any(|turned| fits_so(kind, frame, turned))
}

/// The same for one way to lie.
pub(super) fn fits_so(kind: &Kind, frame: &Frame, turned: bool) -> bool {
    let (width, height) = kind.lying(turned);
    if width > frame.width || height > frame.height {
        return false;
    }
    if kind.row.is_some() && frame.levels < 2 {
        return false;
    }
    let (narrower, lower) = (width < frame.width, height < frame.height);
    let [upright, flat] = frame.cuts();
    match (narrower, lower) {
        (false, false) => true,
        (true, false) => upright,
        (false, true) => flat,
        (true, true) => {
            frame.levels > 0 && (upright && width <= frame.longest[1] || flat && height <= frame.longest[0])
        }
    }
}
