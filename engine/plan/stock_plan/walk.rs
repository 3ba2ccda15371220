//! A tree of cuts as the list of cuts that someone at a saw makes, one after the other.
//!
//! All cuts in one direction are made before the pieces are turned: the strips first, then each strip. What is cut off keeps the
//! number of its cut as its name, so that it can be chalked on.

use super::{Blank, Cut, CutKind, Held, Made, PlacedPart, Source, Spot};
use crate::base::Length;
use crate::nesting::{Axis, Item, Layout, Node, Problem, Sheet};

/// What an item of the problem stands for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Label<'a> {
    pub mark: &'a str,
    pub part: &'a str,
    /// Whether it is one of the strips that the part is glued up from.
    pub strip: bool,
    pub length: Length,
    pub width: Length,
    pub shows: bool,
}

/// A sheet or board with its cuts in order. Its number is given later.
pub(super) fn blank(
    problem: &Problem,
    layout: &Layout,
    labels: &[Label<'_>],
    grain: bool,
    (source, length, width): (Source, Length, Length),
) -> Blank {
    let sheet = &problem.sheets[layout.sheet];
    let mut saw = Sawing {
        items: &problem.items,
        labels,
        kerf: problem.saw.kerf,
        // Where there is grain a rip goes along it; otherwise along the longer side.
        rip_across: if grain { Axis::Y } else { sheet.rip_across() },
        cuts: Vec::new(),
        parts: Vec::new(),
        offcuts: Vec::new(),
    };
    let (rect, begun) = saw.trimmed(sheet);
    saw.work(&layout.root, rect, Held { made_by: None, begun });
    Blank {
        number: 0,
        copies: layout.copies,
        source,
        length,
        width,
        cuts: saw.cuts,
        parts: saw.parts,
        offcuts: saw.offcuts,
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

struct Sawing<'a> {
    items: &'a [Item],
    labels: &'a [Label<'a>],
    kerf: i64,
    rip_across: Axis,
    cuts: Vec<Cut>,
    parts: Vec<PlacedPart>,
    offcuts: Vec<Spot>,
}

impl Sawing<'_> {
    /// Trims the edges in the order in which the engine reckons them: the two along the length, then the two along the width.
    fn trimmed(&mut self, sheet: &Sheet) -> (Rect, bool) {
        let mut rect = Rect { x: 0, y: 0, width: sheet.width, height: sheet.height };
        let mut begun = false;
        let trim = sheet.trim;
        for (axis, off, low) in [
            (Axis::X, trim.left, true),
            (Axis::X, trim.right, false),
            (Axis::Y, trim.bottom, true),
            (Axis::Y, trim.top, false),
        ] {
            if off == 0 {
                continue;
            }
            let along = rect.along(axis);
            let left = along - off;
            let kerf = off.min(self.kerf);
            let middle = if low { off - kerf / 2 } else { left + kerf / 2 };
            let across_length = (axis == Axis::X) == (sheet.width >= sheet.height);
            self.cuts.push(Cut {
                number: number(self.cuts.len() + 1),
                from: Held { made_by: None, begun },
                kind: if across_length { CutKind::TrimEnd } else { CutKind::TrimEdge },
                setting: Length::from_nm(left),
                length: Length::from_nm(rect.along(axis.other())),
                makes: Made::Rest,
                leaves: if off > kerf { Made::Waste } else { Made::Nothing },
                line: rect.line(axis, middle),
            });
            rect = rect.slice(axis, if low { off } else { 0 }, left);
            begun = true;
        }
        (rect, begun)
    }

    /// Makes all cuts in the direction of this node's, then turns to what they made.
    fn work(&mut self, node: &Node, rect: Rect, held: Held) {
        let Node::Cut { across, .. } = node else {
            self.made(node, rect);
            return;
        };
        let axis = *across;
        let mut turned: Vec<(&Node, Rect, Held)> = Vec::new();
        let (mut node, mut rect, mut held) = (node, rect, held);
        while let Node::Cut { across, at, first, rest } = node {
            if *across != axis {
                turned.push((node, rect, held));
                break;
            }
            let along = rect.along(axis);
            let kerf = self.kerf.min(along - at);
            let behind = rect.slice(axis, at + kerf, along - at - kerf);
            let own = number(self.cuts.len() + 1);
            // The parts of both sides are noted when the cut is made; the cut itself stands before those that follow.
            let makes = self.made(first, rect.slice(axis, 0, *at));
            let leaves = rest.as_deref().map_or(Made::Nothing, |rest| match rest {
                Node::Cut { .. } => Made::Rest,
                other => self.made(other, behind),
            });
            self.cuts.push(Cut {
                number: own,
                from: held,
                kind: if axis == self.rip_across { CutKind::Rip } else { CutKind::Crosscut },
                setting: Length::from_nm(*at),
                length: Length::from_nm(rect.along(axis.other())),
                makes,
                leaves,
                line: rect.line(axis, at + kerf / 2),
            });
            if makes == Made::Piece {
                turned.push((first, rect.slice(axis, 0, *at), Held { made_by: Some(own), begun: false }));
            }
            match rest.as_deref() {
                Some(rest @ Node::Cut { .. }) => (node, rect, held) = (rest, behind, Held { begun: true, ..held }),
                _ => break,
            }
        }
        for (node, rect, held) in turned {
            self.work(node, rect, held);
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
                    part: if label.strip { format!("{}, strip", label.part) } else { label.part.to_owned() },
                    length,
                    width,
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
