//! Joinery in words, read from the features alone and in the part's own terms.
//!
//! Left and right twins must read the same, so nothing is said to be on the left or the right: what lies along x is at one end or
//! the other, and each part is looked at from the side from which its work comes first in order.

mod words;

pub(super) use words::words;

use crate::base::{Axis, Face, Length};
use crate::model::{Feature, Part, Shape};

/// What is done to a part, in an order that does not depend on where the part stands. Two parts with equal work and equal
/// sizes are cut alike, or as mirror images of each other.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Work {
    cuts: Vec<Cut>,
    bores: Vec<Bores>,
}

/// The sizes that belong to a [`Work`], in its order.
pub(super) type Sizes = Vec<Length>;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Cut {
    name: &'static str,
    /// The face that the tool enters; of a step, the broad face that it opens to.
    face: Face,
    place: Place,
    form: Form,
    /// Whether it ends before the low end and before the high end of its run.
    stopped: [bool; 2],
    in_show_face: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Place {
    /// Between two edges, across this axis.
    Across(Axis),
    /// At an edge.
    At(Face),
}

/// What is said of a cut besides its width and depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Form {
    /// A trench or a step, which may be stopped.
    Run,
    /// A slot with ends, blind or through.
    Slot { through: bool },
    /// A plane from edge to edge, through the thickness or across a broad face.
    Bevel { through_thickness: bool },
    /// A slot square to a bevel.
    InBevel,
    /// Sides that slope by so much to so much.
    Sloped(i64, i64),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Bores {
    name: &'static str,
    count: usize,
}

/// The sizes of one cut: width, depth, the distances from the low and the high edge, and how far it stops before the low and the
/// high end of its run.
const SIZES: usize = 6;
type CutSizes = [Length; SIZES];

/// The work on a part and its sizes.
pub(super) fn work(part: &Part) -> (Work, Sizes) {
    if part.features.is_empty() {
        return (Work::default(), Sizes::new());
    }
    let mut as_placed: Vec<Sorted> =
        part.features.iter().filter_map(|feature| cut(part, feature)).map(Sorted::of).collect();
    let mut from_behind: Vec<Sorted> = as_placed.iter().map(|one| Sorted::of(mirrored((one.cut, one.sizes)))).collect();
    for view in [&mut as_placed, &mut from_behind] {
        view.sort_unstable_by_key(|one| (one.cut, one.order));
    }
    let orders = |view: &[Sorted]| view.iter().map(|one| (one.cut, one.order)).collect::<Vec<_>>();
    let cuts = if orders(&from_behind) < orders(&as_placed) { from_behind } else { as_placed };
    let bores = bores(part);
    let diameters = bores.iter().map(|(_, diameter)| *diameter);
    let sizes = cuts.iter().flat_map(|one| one.sizes).chain(diameters).collect();
    let work = Work {
        cuts: cuts.into_iter().map(|one| one.cut).collect(),
        bores: bores.into_iter().map(|(bores, _)| bores).collect(),
    };
    (work, sizes)
}

/// A cut with what it is ordered by. Sizes count in whole micrometres there, so that the nanometres left over by an even split
/// do not turn one of two equal parts around.
struct Sorted {
    cut: Cut,
    sizes: CutSizes,
    order: [i64; SIZES],
}

impl Sorted {
    fn of((cut, sizes): (Cut, CutSizes)) -> Self {
        let step = Length::SAME_SIZE.nm();
        Self { cut, sizes, order: sizes.map(|size| (size.nm() + step / 2).div_euclid(step)) }
    }
}

/// The cut as it looks when the part is turned end for end across x.
fn mirrored((mut cut, mut sizes): (Cut, CutSizes)) -> (Cut, CutSizes) {
    let flip = |face: Face| if face.axis() == Axis::X { face.opposite() } else { face };
    let across = match cut.place {
        Place::Across(axis) => axis,
        Place::At(face) => face.axis(),
    };
    let along = third(cut.face.axis(), across);
    cut.face = flip(cut.face);
    if let Place::At(face) = &mut cut.place {
        *face = flip(*face);
    }
    if across == Axis::X {
        sizes.swap(2, 3);
    }
    if along == Axis::X {
        cut.stopped.swap(0, 1);
        sizes.swap(4, 5);
    }
    (cut, sizes)
}

fn cut(part: &Part, feature: &Feature) -> Option<(Cut, CutSizes)> {
    let (along, is_step, mut form) = match feature.shape {
        Shape::Channel { along, .. } => (along, false, Form::Run),
        Shape::Step { along, .. } => (along, true, Form::Run),
        Shape::Mortise { along } => (along, false, Form::Slot { through: false }),
        Shape::Bevel { end, .. } => return bevel(part, feature, end),
        Shape::Spline { end, width, depth } => {
            let none = Length::ZERO;
            return Some((at_end(feature, end, Form::InBevel), [width, depth, none, none, none, none]));
        }
        Shape::Dovetail { along, slope, .. } => (along, false, Form::Sloped(*slope.numer(), *slope.denom())),
        Shape::Bore(_) | Shape::Screw { .. } => return None,
    };
    // What a tool takes beyond the part is air.
    let removed = part.solid.overlap(&feature.solid)?;
    let mut face = feature.face;
    let mut across = third(face.axis(), along);
    // A step opens to two faces; which of them the tool enters does not change it. The broad one is taken as its face.
    if is_step && across == part.thickness {
        let open =
            if removed.low[across.index()] <= part.solid.low[across.index()] { across.low() } else { across.high() };
        across = face.axis();
        face = open;
    }
    // A step that runs through the thickness takes a corner: it is told by the end that it is at and the edge that it opens to.
    if is_step && along == part.thickness && across != part.length_axis() {
        let open =
            if removed.low[across.index()] <= part.solid.low[across.index()] { across.low() } else { across.high() };
        across = face.axis();
        face = open;
    }
    if let Form::Slot { through } = &mut form {
        *through = removed.size(face.axis()) >= part.solid.size(face.axis());
    }
    let low = |axis: Axis| removed.low[axis.index()] - part.solid.low[axis.index()];
    let high = |axis: Axis| part.solid.high[axis.index()] - removed.high[axis.index()];
    let place = if is_step {
        Place::At(if low(across) <= high(across) { across.low() } else { across.high() })
    } else {
        Place::Across(across)
    };
    let stops = [low(along), high(along)];
    let stopped = stops.map(|stop| stop > Length::SAME_SIZE);
    let in_show_face = part.show == Some(face);
    let sizes = [removed.size(across), removed.size(face.axis()), low(across), high(across), stops[0], stops[1]];
    Some((Cut { name: feature.name, face, place, form, stopped, in_show_face }, sizes))
}

/// A bevel is told by the end that it takes and the face that becomes the short one.
fn bevel(part: &Part, feature: &Feature, end: Face) -> Option<(Cut, CutSizes)> {
    let removed = part.solid.overlap(&feature.solid)?;
    let form = Form::Bevel { through_thickness: feature.face.axis() == part.thickness };
    let (width, depth, none) = (removed.size(end.axis()), removed.size(feature.face.axis()), Length::ZERO);
    Some((at_end(feature, end, form), [width, depth, none, none, none, none]))
}

/// A cut that is told by the end that it is at.
fn at_end(feature: &Feature, end: Face, form: Form) -> Cut {
    let (name, face) = (feature.name, feature.face);
    Cut { name, face, place: Place::At(end), form, stopped: [false; 2], in_show_face: false }
}

fn bores(part: &Part) -> Vec<(Bores, Length)> {
    let mut all: Vec<(&'static str, Length)> = part
        .features
        .iter()
        .filter_map(|feature| match feature.shape {
            Shape::Bore(bore) => Some((feature.name, bore.diameter)),
            _ => None,
        })
        .collect();
    all.sort_unstable();
    all.chunk_by(|a, b| a == b).map(|same| (Bores { name: same[0].0, count: same.len() }, same[0].1)).collect()
}

/// The axis that is neither of two. The part of a feature that runs along the axis it is entered by has no third; any will do.
fn third(a: Axis, b: Axis) -> Axis {
    Axis::ALL.into_iter().find(|&axis| axis != a && axis != b).unwrap_or(Axis::Z)
}
