//! What a shelf rests on, and how far apart.

use crate::base::{Axis, Length, Solid};
use crate::model::{Model, PartId};

/// A clear span of a part that lies flat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// The axis along which it spans.
    pub axis: Axis,
    /// The widest gap between two supports.
    pub clear: Length,
}

/// The parts that joints tie to each part.
#[derive(Clone, Debug)]
pub struct Ties(Vec<Vec<PartId>>);

impl Ties {
    /// The ties of a model whose joints are made.
    pub fn of(model: &Model) -> Self {
        let mut ties = vec![Vec::new(); model.parts.len()];
        for hold in &model.holds {
            if let Some(to) = hold.to {
                ties[hold.part.0 as usize].push(to);
                ties[to.0 as usize].push(hold.part);
            }
        }
        Self(ties)
    }
}

/// The spans of a part along both of its level axes, between the supports that joints tie it to. A part without two supports
/// along any axis is taken to rest on its ends: the whole of its longer side is its span.
///
/// A support begins below the part and reaches under or along at least half of it. What stands on the part does not carry it,
/// nor does a strip along one edge. What juts out beyond the outermost support is not looked at.
pub fn spans(model: &Model, ties: &Ties, id: PartId) -> Vec<Span> {
    let shelf = model.part(id).placed;
    let supports: Vec<Solid> = ties.0[id.0 as usize]
        .iter()
        .map(|&other| model.part(other).placed)
        .filter(|other| other.low[2] < shelf.low[2])
        .collect();
    let mut spans: Vec<Span> = [(Axis::X, Axis::Y), (Axis::Y, Axis::X)]
        .into_iter()
        .filter_map(|(axis, across)| Some(Span { axis, clear: widest_gap(&shelf, &supports, axis, across)? }))
        .collect();
    if spans.is_empty() {
        let (x, y) = (shelf.size(Axis::X), shelf.size(Axis::Y));
        let axis = if y > x { Axis::Y } else { Axis::X };
        spans.push(Span { axis, clear: shelf.size(axis) });
    }
    spans
}

/// The widest gap between neighbouring supports along an axis; `None` with fewer than two of them.
fn widest_gap(shelf: &Solid, supports: &[Solid], axis: Axis, across: Axis) -> Option<Length> {
    let mut along: Vec<(Length, Length)> = supports
        .iter()
        .filter(|support| {
            let reach = support.face(across.high()).min(shelf.face(across.high()))
                - support.face(across.low()).max(shelf.face(across.low()));
            reach * 2 >= shelf.size(across)
        })
        .map(|support| (support.face(axis.low()), support.face(axis.high())))
        .collect();
    along.sort_unstable();
    let mut gaps: Vec<Length> = Vec::new();
    let mut covered: Option<Length> = None;
    for (low, high) in along {
        gaps.extend(covered.map(|covered| low - covered));
        covered = Some(covered.map_or(high, |covered| covered.max(high)));
    }
    gaps.into_iter().max().filter(|gap| gap.is_positive())
}
