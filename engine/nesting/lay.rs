//! From a tree under search to a plan: the kerf is taken off again, items are named, rests are called what they are.

use super::plan::{Layout, Node, Plan, kept};
use super::problem::{Axis, Sheet, Turn};
use super::setup::{Member, Setup};
use super::tree::{FREE_LEVELS, Frame, Shape, Tree};
use std::collections::BTreeMap;

/// The plan that these trees stand for. Empty ones are left out, equal ones put together.
pub(super) fn plan_of<'t>(setup: &Setup, frames: &[Frame], trees: impl Iterator<Item = (usize, &'t Tree)>) -> Plan {
    let mut shapes: Vec<(usize, usize, Shape)> =
        trees.filter_map(|(sheet, tree)| Some((sheet, tree.frame, ordered(tree.shape()?)))).collect();
    shapes.sort();
    let mut left: Vec<Vec<(&[Member], u32)>> =
        setup.members.iter().map(|rows| rows.iter().map(|(row, count)| (row.as_slice(), *count)).collect()).collect();
    let mut layouts: BTreeMap<(usize, Node), u32> = BTreeMap::new();
    for (sheet, frame, shape) in shapes {
        let Some(kind) = setup.problem.sheets.get(sheet) else { continue };
        let mut lay = Lay { setup, sheet: kind, left: &mut left };
        let (whole, used) = (&setup.frames[sheet], &frames[frame]);
        let slot = (whole.width, whole.height);
        // A frame that was made smaller leaves one large rest at its side, which is cut off first.
        let root = if used.width < whole.width {
            let inner = lay.piece(&shape, (used.width, slot.1), used);
            lay.cut(Axis::X, used.width, inner, slot)
        } else if used.height < whole.height {
            let inner = lay.piece(&shape, (slot.0, used.height), used);
            lay.cut(Axis::Y, used.height, inner, slot)
        } else {
            lay.piece(&shape, slot, used)
        };
        *layouts.entry((sheet, root)).or_default() += 1;
    }
    let layouts = layouts.into_iter().map(|((sheet, root), copies)| Layout { sheet, copies, root }).collect();
    Plan { layouts }
}

/// The pieces of a row may stand in any order: large ones first, equal ones together.
fn ordered(shape: Shape) -> Shape {
    match shape {
        Shape::Row { axis, pieces, size } => {
            let mut pieces: Vec<_> = pieces.into_iter().map(ordered).collect();
            let along = |piece: &Shape| if axis == Axis::X { piece.size() } else { (piece.size().1, piece.size().0) };
            pieces.sort_by(|a, b| along(b).cmp(&along(a)).then_with(|| a.cmp(b)));
            Shape::Row { axis, pieces, size }
        }
        part @ Shape::Part { .. } => part,
    }
}

struct Lay<'s, 'l, 'p> {
    setup: &'s Setup<'p>,
    sheet: &'s Sheet,
    left: &'l mut Vec<Vec<(&'s [Member], u32)>>,
}

fn along(axis: Axis, (width, height): (i64, i64)) -> i64 {
    if axis == Axis::X { width } else { height }
}

fn with(axis: Axis, size: i64, (width, height): (i64, i64)) -> (i64, i64) {
    if axis == Axis::X { (size, height) } else { (width, size) }
}

fn is_whole(slot: (i64, i64), frame: &Frame) -> bool {
    slot == (frame.width, frame.height)
}

impl Lay<'_, '_, '_> {
    fn real(&self, axis: Axis, size: i64) -> i64 {
        size * self.setup.unit - self.setup.problem.saw.kerf_across(axis)
    }

    /// A rest of this size, if the blade leaves anything of it.
    fn rest(&self, slot: (i64, i64)) -> Option<Node> {
        let (width, height) = (self.real(Axis::X, slot.0), self.real(Axis::Y, slot.1));
        if width <= 0 || height <= 0 {
            return None;
        }
        Some(if kept(self.sheet, &self.setup.problem.saw, width, height) { Node::Offcut } else { Node::Waste })
    }

    /// Cuts the first piece off a slot and leaves the rest as it is.
    fn cut(&self, across: Axis, size: i64, first: Node, slot: (i64, i64)) -> Node {
        let all = along(across, slot);
        if size >= all {
            return first;
        }
        let rest = self.rest(with(across, all - size, slot)).map(Box::new);
        Node::Cut { across, at: self.real(across, size), first: Box::new(first), rest }
    }

    fn piece(&mut self, shape: &Shape, slot: (i64, i64), frame: &Frame) -> Node {
        match shape {
            Shape::Row { axis, pieces, .. } => {
                let mut made = Vec::new();
                for piece in pieces {
                    if let Some(row) = self.spliced(piece, *axis, slot, frame) {
                        made.extend(row);
                    } else {
                        let size = along(*axis, piece.size());
                        made.push((size, self.piece(piece, with(*axis, size, slot), frame)));
                    }
                }
                self.row(*axis, made, slot)
            }
            Shape::Part { kind, turned, .. } => {
                let row = self.take(*kind);
                let own = self.setup.kinds[*kind as usize].row.map(|axis| if *turned { axis.other() } else { axis });
                let Some(own) = own else {
                    return self.part(&row[0], *turned, slot, frame);
                };
                // What lies beside a set stays whole where there may be a cut for it; the set's own cuts go through
                // it otherwise.
                let size = shape.size();
                let across = own.other();
                let direct = frame.begins[own as usize] && along(across, slot) <= frame.longest[own as usize];
                let beside = along(own, slot) <= frame.longest[across as usize]
                    && (frame.begins[across as usize] || !is_whole(slot, frame))
                    && frame.levels == FREE_LEVELS;
                if along(across, size) < along(across, slot) && (beside || !direct) {
                    let inner = with(across, along(across, size), slot);
                    let node = self.set(&row, own, *turned, inner, frame);
                    return self.cut(across, along(across, size), node, slot);
                }
                self.set(&row, own, *turned, slot, frame)
            }
        }
    }

    /// The members of a set that runs along the row in which it lies are cut like other pieces of that row.
    fn spliced(&mut self, piece: &Shape, axis: Axis, slot: (i64, i64), frame: &Frame) -> Option<Vec<(i64, Node)>> {
        let Shape::Part { kind, turned, .. } = piece else { return None };
        let own = self.setup.kinds[*kind as usize].row.map(|axis| if *turned { axis.other() } else { axis })?;
        if own != axis {
            return None;
        }
        let row = self.take(*kind);
        Some(self.members(&row, own, *turned, slot, frame))
    }

    fn members(
        &mut self,
        row: &[Member],
        own: Axis,
        turned: bool,
        slot: (i64, i64),
        frame: &Frame,
    ) -> Vec<(i64, Node)> {
        let lying = |member: &Member| if turned { (member.size.1, member.size.0) } else { member.size };
        row.iter()
            .map(|member| {
                let size = along(own, lying(member));
                (size, self.part(member, turned, with(own, size, slot), frame))
            })
            .collect()
    }

    fn set(&mut self, row: &[Member], own: Axis, turned: bool, slot: (i64, i64), frame: &Frame) -> Node {
        let made = self.members(row, own, turned, slot, frame);
        self.row(own, made, slot)
    }

    /// Pieces one after the other; what is left stands at the end.
    fn row(&self, axis: Axis, made: Vec<(i64, Node)>, slot: (i64, i64)) -> Node {
        let used: i64 = made.iter().map(|(size, _)| size).sum();
        let mut left = along(axis, slot) - used;
        let mut rest: Option<Node> = if left > 0 { self.rest(with(axis, left, slot)) } else { None };
        for (size, first) in made.into_iter().rev() {
            rest = Some(if left == 0 {
                first
            } else {
                Node::Cut { across: axis, at: self.real(axis, size), first: Box::new(first), rest: rest.map(Box::new) }
            });
            left += size;
        }
        rest.unwrap_or(Node::Waste)
    }

    /// One part out of a slot: the cut that leaves the larger rest comes first, if it may.
    fn part(&self, member: &Member, turned: bool, slot: (i64, i64), frame: &Frame) -> Node {
        let part = Node::Part { item: member.item, turned: self.is_turned(member, turned) };
        let (width, height) = if turned { (member.size.1, member.size.0) } else { member.size };
        let upright = slot.1 <= frame.longest[0] && width <= frame.longest[1];
        let flat = slot.0 <= frame.longest[1] && height <= frame.longest[0];
        let whole = is_whole(slot, frame);
        let area = |a: i64, b: i64| i128::from(a) * i128::from(b);
        let larger = area(slot.0 - width, slot.1) >= area(slot.1 - height, slot.0);
        let first = match (upright && (!whole || frame.begins[0]), flat && (!whole || frame.begins[1])) {
            (true, true) => larger,
            (true, false) => true,
            (false, true) => false,
            (false, false) => upright,
        };
        if first {
            let inner = self.cut(Axis::Y, height, part, (width, slot.1));
            self.cut(Axis::X, width, inner, slot)
        } else {
            let inner = self.cut(Axis::X, width, part, (slot.0, height));
            self.cut(Axis::Y, height, inner, slot)
        }
    }

    /// A kind that turns may have been given either way, so an item lies turned only against its own sizes.
    fn is_turned(&self, member: &Member, turned: bool) -> bool {
        let item = &self.setup.problem.items[member.item];
        if item.matched.is_some() {
            return turned;
        }
        let other_way = item.turn == Turn::Free && item.width < item.height;
        turned != other_way
    }

    fn take(&mut self, kind: u32) -> Vec<Member> {
        for (row, count) in &mut self.left[kind as usize] {
            if *count > 0 {
                *count -= 1;
                return row.to_vec();
            }
        }
        Vec::new()
    }
}
