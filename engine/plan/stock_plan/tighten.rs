//! A plan as a maker would want it: strips no wider than what is in them, equal settings next to each other, what is left in
//! one piece at the end of each run of cuts.

use crate::nesting::{self, Axis, Item, Layout, Node, Plan, Problem, Score, Sheet};

/// The plan made tidy, if it is still one that can be cut and no worse than it was; otherwise the plan as it is.
pub(super) fn tidied(problem: &Problem, plan: &Plan) -> Plan {
    let layouts = plan.layouts.iter().map(|layout| tidy(problem, layout).unwrap_or_else(|| layout.clone())).collect();
    let tidy = Plan { layouts };
    let together = tidy.layouts.iter().map(|layout| gathered(problem, layout).unwrap_or_else(|| layout.clone()));
    let together = Plan { layouts: together.collect() };
    let good = |better: &Plan, plan: &Plan| {
        nesting::verify(problem, better).is_ok() && Score::of(problem, better) <= Score::of(problem, plan)
    };
    [together, tidy].into_iter().find(|better| good(better, plan)).unwrap_or_else(|| plan.clone())
}

/// How many pieces of a run are looked at for gathering; beyond it the tries would take long.
// From measurements: a run of twelve has 66 neighbourhoods, which take a tenth of a millisecond.
const GATHERED: usize = 12;

/// The sheet with neighbouring pieces of its first run cut off as one and parted later, where the rests behind them are worth more
/// in one piece than in one each. Nothing when no such change betters it.
fn gathered(problem: &Problem, layout: &Layout) -> Option<Layout> {
    let sheet = problem.sheets.get(layout.sheet)?;
    let bench = Bench { problem, sheet };
    let Node::Cut { across, .. } = &layout.root else { return None };
    let members = bench.in_order(&layout.root, *across);
    if !(2..=GATHERED).contains(&members.len()) {
        return None;
    }
    let kept = |layout: &Layout| Score::of(problem, &Plan { layouts: vec![layout.clone()] }).offcuts;
    let mut best: Option<(i64, Layout)> = None;
    for first in 0..members.len() {
        for last in first + 1..members.len() {
            let Some(root) = bench.gathered(*across, &members, first, last) else { continue };
            let other = Layout { root, ..layout.clone() };
            let worth = kept(&other);
            if worth > best.as_ref().map_or(kept(layout), |(best, _)| *best) && nesting::replay(problem, &other).is_ok()
            {
                best = Some((worth, other));
            }
        }
    }
    best.map(|(_, layout)| layout)
}

fn tidy(problem: &Problem, layout: &Layout) -> Option<Layout> {
    let sheet = problem.sheets.get(layout.sheet)?;
    let bench = Bench { problem, sheet };
    let root = bench.rebuilt(&layout.root, sheet.usable())?;
    Some(Layout { root, ..layout.clone() })
}

struct Bench<'a> {
    problem: &'a Problem,
    sheet: &'a Sheet,
}

impl Bench<'_> {
    /// The least size that the parts in a piece need along an axis; nothing when it holds none.
    fn need(&self, node: &Node, axis: Axis) -> Option<i64> {
        match node {
            Node::Part { item, turned } => {
                let item = self.problem.items.get(*item)?;
                Some(if (axis == Axis::X) == *turned { item.height } else { item.width })
            }
            Node::Waste | Node::Offcut => None,
            Node::Cut { across, first, rest, .. } => {
                let (first, rest) = (self.need(first, axis), rest.as_deref().and_then(|rest| self.need(rest, axis)));
                match (first, rest) {
                    (Some(first), Some(rest)) if *across == axis => {
                        Some(first + self.problem.saw.kerf_across(axis) + rest)
                    }
                    (Some(first), Some(rest)) => Some(first.max(rest)),
                    (one, other) => one.or(other),
                }
            }
        }
    }

    /// The same parts out of a piece of this size, each run of cuts with what it needs and the rest behind it. Nothing when they
    /// do not go in.
    fn rebuilt(&self, node: &Node, size: (i64, i64)) -> Option<Node> {
        if self.need(node, Axis::X).is_none() {
            return Some(self.spare(size));
        }
        let (across, members) = match node {
            Node::Cut { across, .. } => (*across, self.members(node, *across)),
            // A part that lies in a piece larger than itself is trimmed, first along its longer slack.
            other => {
                let slack = |axis| along(size, axis) - self.need(other, axis).unwrap_or(0);
                let across = if slack(Axis::X) > 0 { Axis::X } else { Axis::Y };
                if slack(across) == 0 {
                    return Some(other.clone());
                }
                (across, vec![other])
            }
        };
        let kerf = self.problem.saw.kerf_across(across);
        let mut left = along(size, across);
        let mut made: Vec<(i64, Node)> = Vec::new();
        for (i, member) in members.iter().enumerate() {
            let need = self.need(member, across)?;
            if need > left {
                return None;
            }
            made.push((need, self.rebuilt(member, sized(size, across, need))?));
            if i + 1 < members.len() {
                left -= need + kerf;
            } else {
                left -= need;
            }
        }
        self.one_after_the_other(across, size, made, left)
    }

    /// Pieces cut off one after the other, with so much left behind the last one.
    fn one_after_the_other(
        &self,
        across: Axis,
        size: (i64, i64),
        mut made: Vec<(i64, Node)>,
        left: i64,
    ) -> Option<Node> {
        let kerf = self.problem.saw.kerf_across(across);
        // The last piece is cut off when something is left behind it.
        let mut rest = if left == 0 {
            made.pop().map(|(_, node)| Box::new(node))
        } else {
            (left > kerf).then(|| Box::new(self.spare(sized(size, across, left - kerf))))
        };
        for (at, first) in made.into_iter().rev() {
            rest = Some(Box::new(Node::Cut { across, at, first: Box::new(first), rest }));
        }
        rest.map(|node| *node)
    }

    /// The whole sheet with some neighbours of its first run cut off as one piece, that piece cut to what they need the other way,
    /// and then parted. Nothing when they need all of it the other way.
    fn gathered(&self, across: Axis, members: &[&Node], first: usize, last: usize) -> Option<Node> {
        let (size, other) = (self.sheet.usable(), across.other());
        let [kerf, deep_kerf] = [across, other].map(|axis| self.problem.saw.kerf_across(axis));
        let whole = along(size, other);
        let inner = members.get(first..=last)?;
        let deep = inner.iter().map(|member| self.need(member, other)).max()??;
        if deep + deep_kerf >= whole {
            return None;
        }
        let mut made = Vec::new();
        let (mut left, mut group) = (along(size, across), Vec::new());
        for (i, member) in members.iter().enumerate() {
            let need = self.need(member, across)?;
            left -= if made.is_empty() && group.is_empty() { need } else { need + kerf };
            if !(first..=last).contains(&i) {
                made.push((need, self.rebuilt(member, sized(size, across, need))?));
                continue;
            }
            group.push((need, self.rebuilt(member, sized(sized(size, across, need), other, deep))?));
            if i == last {
                let wide: i64 = group.iter().map(|(need, _)| need + kerf).sum::<i64>() - kerf;
                let piece = sized(sized(size, across, wide), other, deep);
                let parted = self.one_after_the_other(across, piece, std::mem::take(&mut group), 0)?;
                let spare = self.spare(sized(sized(size, across, wide), other, whole - deep - deep_kerf));
                let (at, first, rest) = (deep, Box::new(parted), Some(Box::new(spare)));
                made.push((wide, Node::Cut { across: other, at, first, rest }));
            }
        }
        if left < 0 { None } else { self.one_after_the_other(across, size, made, left) }
    }

    /// The pieces of a run that hold parts, the larger ones first. Matched fronts keep their order.
    fn members<'n>(&self, node: &'n Node, axis: Axis) -> Vec<&'n Node> {
        let mut members = self.in_order(node, axis);
        let is_matched = |node: &&Node| matches!(node, Node::Part { item, .. } if self.problem.items.get(*item).is_some_and(|item: &Item| item.matched.is_some()));
        if !members.iter().any(is_matched) {
            members.sort_by_key(|member| std::cmp::Reverse(self.need(member, axis)));
        }
        members
    }

    /// The pieces of a run that hold parts, as they follow each other.
    fn in_order<'n>(&self, node: &'n Node, axis: Axis) -> Vec<&'n Node> {
        let mut members: Vec<&Node> = Vec::new();
        let mut open = vec![node];
        while let Some(next) = open.pop() {
            match next {
                Node::Cut { across, first, rest, .. } if *across == axis => {
                    open.extend(rest.as_deref());
                    open.push(first);
                }
                other if self.need(other, axis).is_some() => members.push(other),
                _ => {}
            }
        }
        members
    }

    fn spare(&self, (width, height): (i64, i64)) -> Node {
        if nesting::kept(self.sheet, &self.problem.saw, width, height) { Node::Offcut } else { Node::Waste }
    }
}

fn along((width, height): (i64, i64), axis: Axis) -> i64 {
    if axis == Axis::X { width } else { height }
}

fn sized((width, height): (i64, i64), axis: Axis, size: i64) -> (i64, i64) {
    if axis == Axis::X { (size, height) } else { (width, size) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nesting::{Keep, Matched, Saw, Turn};

    fn part(item: usize) -> Node {
        Node::Part { item, turned: false }
    }

    fn cut(across: Axis, at: i64, first: Node, rest: Option<Node>) -> Node {
        Node::Cut { across, at, first: Box::new(first), rest: rest.map(Box::new) }
    }

    fn problem(items: &[(i64, i64)]) -> Problem {
        let item = |&(width, height): &(i64, i64)| Item { width, height, count: 1, turn: Turn::Fixed, matched: None };
        let keep = Keep { short: 10, long: 10, worth: 1_000_000 };
        Problem {
            sheets: vec![Sheet { keep, ..Sheet::new(100, 50) }],
            items: items.iter().map(item).collect(),
            saw: Saw { kerf: 1, ..Saw::default() },
        }
    }

    #[test]
    fn a_strip_is_as_wide_as_what_is_in_it() {
        // A strip of 24 with a part of 20 in it: the cut that trims the part to 20 falls away, and the offcut grows from
        // 50 - 24 - 1 = 25 to 29.
        let problem = problem(&[(60, 20)]);
        let trimmed = cut(Axis::Y, 20, part(0), Some(Node::Waste));
        let root = cut(Axis::Y, 24, cut(Axis::X, 60, trimmed, Some(Node::Offcut)), Some(Node::Offcut));
        let plan = Plan { layouts: vec![Layout { sheet: 0, copies: 1, root }] };
        assert!(nesting::verify(&problem, &plan).is_ok());
        let tidy = tidied(&problem, &plan);
        let wanted = cut(Axis::Y, 20, cut(Axis::X, 60, part(0), Some(Node::Offcut)), Some(Node::Offcut));
        assert_eq!(tidy.layouts[0].root, wanted);
    }

    #[test]
    fn neighbours_are_parted_late_where_the_rest_is_then_in_one_piece() {
        // Two strips of 20 out of 50, each with a part of 30 at its head: they leave 69 x 20 twice. Cut off together, 41 wide, and
        // parted behind a cut at 30, they leave 69 x 41 in one piece: (69 x 41)^2 is more than 2 x (69 x 20)^2.
        let problem = problem(&[(30, 20), (30, 20)]);
        let strip = |item| cut(Axis::X, 30, part(item), Some(Node::Offcut));
        let root = cut(Axis::Y, 20, strip(0), Some(cut(Axis::Y, 20, strip(1), Some(Node::Waste))));
        let plan = Plan { layouts: vec![Layout { sheet: 0, copies: 1, root }] };
        assert!(nesting::verify(&problem, &plan).is_ok());
        let parted = cut(Axis::Y, 20, part(0), Some(part(1)));
        let wanted = cut(Axis::Y, 41, cut(Axis::X, 30, parted, Some(Node::Offcut)), Some(Node::Waste));
        assert_eq!(tidied(&problem, &plan).layouts[0].root, wanted);
    }

    #[test]
    fn equal_settings_stand_together_and_matched_fronts_stay() {
        let mut problem = problem(&[(20, 50), (30, 50), (20, 50)]);
        let tail = cut(Axis::X, 20, part(2), Some(Node::Offcut));
        let root = cut(Axis::X, 20, part(0), Some(cut(Axis::X, 30, part(1), Some(tail))));
        let plan = Plan { layouts: vec![Layout { sheet: 0, copies: 1, root }] };
        let order = |plan: &Plan| {
            let mut order = Vec::new();
            let mut here = &plan.layouts[0].root;
            while let Node::Cut { at, rest: Some(rest), .. } = here {
                order.push(*at);
                here = rest;
            }
            order
        };
        assert_eq!(order(&tidied(&problem, &plan)), [30, 20, 20]);
        for (place, item) in (0..).zip(&mut problem.items) {
            item.matched = Some(Matched { set: 0, place, along: Axis::X });
        }
        assert_eq!(order(&tidied(&problem, &plan)), [20, 30, 20]);
    }
}
