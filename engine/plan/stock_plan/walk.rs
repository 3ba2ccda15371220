//! A tree of cuts as the list of cuts that someone at a saw makes, one after the other.
//!
//! All cuts in one direction are made before the pieces are turned: the strips first, then all of them across. Among these, cuts of
//! one setting are made one after the other, whatever piece they are in, so that fence and stop are set as seldom as can be. What is
//! cut off keeps the number of its cut as its name, so that it can be chalked on.
//!
//! Edges are trimmed first. Where the saw cannot make a cut as long as the raw sheet, its edges are trimmed on the pieces that the
//! first run of cuts makes of it; the places of all other cuts are the same.

use std::collections::VecDeque;

use super::lay::Size;
use super::{Blank, Cut, CutKind, Held, Made, PlacedPart, Rough, Spot};
use crate::base::Length;
use crate::model::{Stock, StockForm};
use crate::nesting::{Axis, Item, Layout, Node, Problem, Saw, Sheet};

/// What an item of the problem stands for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Label<'a> {
    pub mark: &'a str,
    pub part: &'a str,
    pub length: Length,
    pub width: Length,
    pub rough: Rough,
    pub shows: bool,
}

/// A sheet or board with its cuts in order. Its number is given later.
pub(super) fn blank(problem: &Problem, layout: &Layout, labels: &[Label<'_>], stock: &Stock, size: &Size) -> Blank {
    let sheet = &problem.sheets[layout.sheet];
    let mut saw = Sawing {
        items: &problem.items,
        labels,
        saw: &problem.saw,
        // A board is ripped along its length, and where there is grain a rip goes along it; otherwise along the longer side.
        rip_across: if stock.grain || matches!(stock.form, StockForm::Board { .. }) {
            Axis::Y
        } else {
            sheet.rip_across()
        },
        long: sheet.rip_across().other(),
        limits: [Axis::X, Axis::Y].map(|axis| problem.saw.longest_cut(sheet, axis)),
        cuts: Vec::new(),
        parts: Vec::new(),
        offcuts: Vec::new(),
    };
    saw.cut_free(size);
    saw.work(begun(problem, sheet, &layout.root, !saw.cuts.is_empty()));
    Blank {
        number: 0,
        copies: layout.copies,
        source: size.source,
        length: size.length,
        width: size.width,
        run: size.run,
        cuts: saw.cuts,
        parts: saw.parts,
        offcuts: saw.offcuts,
    }
}

/// Whether a raw sheet can be begun at all: whether one of its two directions is within what the saw can cut.
pub(super) fn can_begin(problem: &Problem, sheet: &Sheet) -> bool {
    let within = |axis, length: i64| problem.saw.longest_cut(sheet, axis).is_none_or(|longest| length <= longest);
    within(Axis::X, sheet.height) || within(Axis::Y, sheet.width)
}

/// The sheet with the edges that are to be trimmed, in an order that the saw can do.
fn begun<'n>(problem: &Problem, sheet: &Sheet, root: &'n Node, cut_free: bool) -> Run<'n> {
    let within = |axis, length: i64| problem.saw.longest_cut(sheet, axis).is_none_or(|longest| length <= longest);
    let trim = sheet.trim;
    let edges = |axis, low, high| {
        [Edge { axis, off: low, low: true }, Edge { axis, off: high, low: false }]
            .into_iter()
            .filter(|edge| edge.off > 0)
    };
    let (ends, sides) = (edges(Axis::X, trim.left, trim.right), edges(Axis::Y, trim.bottom, trim.top));
    let (width, height) = sheet.usable();
    let first = match root {
        Node::Cut { across, .. } => Some(*across),
        _ => None,
    };
    let (now, later): (Vec<Edge>, Vec<Edge>) = if within(Axis::X, sheet.height) {
        // The engine knows the trimmed sheet; it is too long to rip exactly when head cuts are the first ones.
        if within(Axis::Y, width) || first != Some(Axis::X) {
            (ends.chain(sides).collect(), Vec::new())
        } else {
            (ends.collect(), sides.collect())
        }
    } else if within(Axis::X, height) || first != Some(Axis::Y) {
        (sides.chain(ends).collect(), Vec::new())
    } else {
        (sides.collect(), ends.collect())
    };
    Run {
        node: Some(root),
        rect: Rect { x: 0, y: 0, width: sheet.width, height: sheet.height },
        held: Held { made_by: None, begun: cut_free },
        trims: now.into(),
        later,
        along: first,
    }
}

#[derive(Clone, Copy)]
struct Rect {
    x: i64,
    y: i64,
    width: i64,
    height: i64,
}

impl Rect {
    fn along(self, axis: Axis) -> i64 {
        if axis == Axis::X { self.width } else { self.height }
    }

    /// The slice that begins so far along the axis.
    fn slice(self, axis: Axis, from: i64, size: i64) -> Self {
        match axis {
            Axis::X => Self { x: self.x + from, width: size, ..self },
            Axis::Y => Self { y: self.y + from, height: size, ..self },
        }
    }

    fn spot(self) -> Spot {
        let nm = Length::from_nm;
        Spot { at: (nm(self.x), nm(self.y)), size: (nm(self.width), nm(self.height)) }
    }

    /// The line across it that lies so far along the axis.
    fn line(self, axis: Axis, at: i64) -> [(Length, Length); 2] {
        let nm = |x: i64, y: i64| (Length::from_nm(x), Length::from_nm(y));
        match axis {
            Axis::X => [nm(self.x + at, self.y), nm(self.x + at, self.y + self.height)],
            Axis::Y => [nm(self.x, self.y + at), nm(self.x + self.width, self.y + at)],
        }
    }
}

/// An edge that is to be trimmed.
#[derive(Clone, Copy)]
struct Edge {
    axis: Axis,
    off: i64,
    /// Whether it is the edge at the lower end of the axis.
    low: bool,
}

/// A piece in hand with the cuts that are made in it in one direction. What they make is cut on in the other.
struct Run<'n> {
    /// What becomes of it; nothing when all is done.
    node: Option<&'n Node>,
    rect: Rect,
    held: Held,
    /// The edges that are trimmed first.
    trims: VecDeque<Edge>,
    /// The edges that are trimmed on each piece that comes of it.
    later: Vec<Edge>,
    /// The direction of its cuts.
    along: Option<Axis>,
}

/// What the saw is set to: trimming before cutting, and the size.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Set {
    trims: Option<(Axis, bool)>,
    size: i64,
}

impl<'n> Run<'n> {
    fn next(&self) -> Option<Set> {
        if let Some(edge) = self.trims.front() {
            return Some(Set { trims: Some((edge.axis, edge.low)), size: self.rect.along(edge.axis) - edge.off });
        }
        match self.node {
            Some(Node::Cut { across, at, .. }) if Some(*across) == self.along => Some(Set { trims: None, size: *at }),
            _ => None,
        }
    }

    /// A piece that comes of it: cut on in its own direction, once its edges are trimmed.
    fn piece(&self, node: &'n Node, rect: Rect, held: Held) -> Self {
        let along = match node {
            Node::Cut { across, .. } => Some(*across),
            _ => None,
        };
        Self { node: Some(node), rect, held, trims: self.later.clone().into(), later: Vec::new(), along }
    }
}

struct Sawing<'a> {
    items: &'a [Item],
    labels: &'a [Label<'a>],
    saw: &'a Saw,
    rip_across: Axis,
    /// The axis of the longer side.
    long: Axis,
    /// The longest cut across X and across Y.
    limits: [Option<i64>; 2],
    cuts: Vec<Cut>,
    parts: Vec<PlacedPart>,
    offcuts: Vec<Spot>,
}

impl Sawing<'_> {
    fn limit(&self, axis: Axis) -> Option<i64> {
        self.limits[usize::from(axis == Axis::Y)]
    }

    /// Cuts a good length out of a board with defects: first the far end, then the near one.
    fn cut_free(&mut self, size: &Size) {
        let Some(run) = size.run else { return };
        let (long, wide) = (size.length, size.width);
        let mut cut = |setting: Length, x: Length| {
            self.cuts.push(Cut {
                number: number(self.cuts.len() + 1),
                from: Held { made_by: None, begun: !self.cuts.is_empty() },
                kind: CutKind::Crosscut,
                setting,
                kerf: Length::from_nm(self.saw.kerf_across(Axis::X)),
                length: wide,
                beyond_saw: self.limit(Axis::X).is_some_and(|longest| wide.nm() > longest),
                needs_jig: false,
                makes: Made::Rest,
                leaves: Made::Elsewhere,
                line: [(x, Length::ZERO), (x, wide)],
            });
        };
        if run.from + long < run.of {
            cut(run.from + long, long);
        }
        if run.from.is_positive() {
            cut(long, Length::ZERO);
        }
    }

    /// Makes all cuts of the first direction, then those of the other in all that came of them, and so on.
    fn work(&mut self, first: Run<'_>) {
        let mut level = vec![first];
        while !level.is_empty() {
            let mut next = Vec::new();
            let mut set: Option<Set> = None;
            loop {
                // As long as a setting is of use anywhere it stays; then the edges come first, and the larger sizes.
                let same = level.iter().position(|run| set.is_some() && run.next() == set);
                let best = || {
                    let open = level.iter().enumerate().filter_map(|(i, run)| Some((run.next()?, i)));
                    let rank = |(set, i): &(Set, usize)| {
                        (set.trims.is_none(), set.trims, std::cmp::Reverse((set.size, std::cmp::Reverse(*i))))
                    };
                    open.min_by_key(rank).map(|(_, i)| i)
                };
                let Some(which) = same.or_else(best) else { break };
                set = level[which].next();
                self.step(&mut level[which], &mut next);
            }
            for run in level {
                self.settled(run, &mut next);
            }
            level = next;
        }
    }

    /// A run whose cuts in one direction are made: what is left is cut on in the other.
    fn settled<'n>(&mut self, run: Run<'n>, next: &mut Vec<Run<'n>>) {
        match run.node {
            Some(node @ Node::Cut { .. }) => next.push(run.piece(node, run.rect, run.held)),
            // A whole sheet that is a part, or an offcut, without any cut.
            Some(node) => {
                self.made(node, run.rect);
            }
            None => {}
        }
    }

    /// Makes the next cut of a run.
    fn step<'n>(&mut self, run: &mut Run<'n>, next: &mut Vec<Run<'n>>) {
        match run.trims.pop_front() {
            Some(edge) => self.trim(run, edge),
            None => self.cut(run, next),
        }
    }

    fn trim(&mut self, run: &mut Run<'_>, edge: Edge) {
        let (axis, off) = (edge.axis, edge.off);
        let left = run.rect.along(axis) - off;
        let kerf = off.min(self.saw.kerf_across(axis));
        let middle = if edge.low { off - kerf / 2 } else { left + kerf / 2 };
        let behind = run.rect.slice(axis, if edge.low { off } else { 0 }, left);
        let makes = match run.node {
            Some(node @ (Node::Part { .. } | Node::Offcut)) if run.trims.is_empty() => {
                run.node = None;
                self.made(node, behind)
            }
            _ => Made::Rest,
        };
        self.cuts.push(Cut {
            number: number(self.cuts.len() + 1),
            from: run.held,
            kind: if axis == self.long { CutKind::TrimEnd } else { CutKind::TrimEdge },
            setting: Length::from_nm(left),
            kerf: Length::from_nm(self.saw.kerf_across(axis)),
            length: Length::from_nm(run.rect.along(axis.other())),
            beyond_saw: self.limit(axis).is_some_and(|longest| run.rect.along(axis.other()) > longest),
            needs_jig: false,
            makes,
            leaves: if off > kerf { Made::Waste } else { Made::Nothing },
            line: run.rect.line(axis, middle),
        });
        run.rect = behind;
        run.held.begun = true;
    }

    fn cut<'n>(&mut self, run: &mut Run<'n>, next: &mut Vec<Run<'n>>) {
        let Some(Node::Cut { across, at, first, rest }) = run.node else { return };
        let (axis, rect) = (*across, run.rect);
        let along = rect.along(axis);
        let kerf = self.saw.kerf_across(axis).min(along - at);
        let (front, behind) = (rect.slice(axis, 0, *at), rect.slice(axis, at + kerf, along - at - kerf));
        let own = number(self.cuts.len() + 1);
        // Whether a piece has to be taken in hand again: to be cut on, or because its edges are not trimmed.
        let goes_on = |node: &Node| match node {
            Node::Cut { .. } => true,
            Node::Part { .. } | Node::Offcut => !run.later.is_empty(),
            Node::Waste => false,
        };
        let makes = if goes_on(first) {
            next.push(run.piece(first, front, Held { made_by: Some(own), begun: false }));
            Made::Piece
        } else {
            self.made(first, front)
        };
        let held = run.held;
        let leaves = match rest.as_deref() {
            None => Made::Nothing,
            Some(left) if goes_on(left) => Made::Rest,
            Some(left) => self.made(left, behind),
        };
        self.cuts.push(Cut {
            number: own,
            from: held,
            kind: if axis == self.rip_across { CutKind::Rip } else { CutKind::Crosscut },
            setting: Length::from_nm(*at),
            kerf: Length::from_nm(self.saw.kerf_across(axis)),
            length: Length::from_nm(rect.along(axis.other())),
            beyond_saw: self.limit(axis).is_some_and(|longest| rect.along(axis.other()) > longest),
            needs_jig: *at < self.saw.narrowest,
            makes,
            leaves,
            line: rect.line(axis, at + kerf / 2),
        });
        run.node = None;
        run.rect = behind;
        run.held = Held { begun: true, ..held };
        if leaves == Made::Rest
            && let Some(rest) = rest.as_deref()
        {
            if matches!(rest, Node::Cut { across, .. } if *across == axis) {
                run.node = Some(rest);
            } else {
                next.push(run.piece(rest, behind, run.held));
            }
        }
    }

    /// Takes note of a piece that needs no more cuts; anything else is cut on.
    fn made(&mut self, node: &Node, rect: Rect) -> Made {
        match node {
            Node::Part { item, turned } => {
                let Some(label) = self.labels.get(*item) else { return Made::Waste };
                let own = self.items.get(*item).map(|item| (Length::from_nm(item.width), Length::from_nm(item.height)));
                let (length, width) = own.unwrap_or((label.length, label.width));
                self.parts.push(PlacedPart {
                    mark: label.mark.to_owned(),
                    part: if label.rough == Rough::Strip {
                        format!("{}, strip", label.part)
                    } else {
                        label.part.to_owned()
                    },
                    length,
                    width,
                    rough: label.rough,
                    turned: *turned,
                    shows: label.shows,
                    spot: rect.spot(),
                });
                Made::Part(self.parts.len() - 1)
            }
            Node::Offcut => {
                self.offcuts.push(rect.spot());
                Made::Offcut(self.offcuts.len() - 1)
            }
            Node::Waste => Made::Waste,
            Node::Cut { .. } => Made::Piece,
        }
    }
}

fn number(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}
