//! Joinery in words, read from the features alone and in the part's own terms.
//!
//! Left and right twins must read the same, so nothing is said to be on the left or the right: what lies along x is at one end or
//! the other, and each part is looked at from the side from which its work comes first in order.

use crate::base::{Axis, Face, Length, Printing};
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

/// The work of a part in words, clauses joined by semicolons; empty when there is none.
pub(super) fn words(part: &Part, work: &Work, sizes: &[Length], printing: Printing) -> String {
    let mut clauses = cut_clauses(part, work, sizes, printing);
    let mut count_of: Vec<(&str, usize)> = Vec::new();
    for bores in &work.bores {
        match count_of.iter_mut().find(|(name, _)| *name == bores.name) {
            Some((_, count)) => *count += bores.count,
            None => count_of.push((bores.name, bores.count)),
        }
    }
    clauses.extend(count_of.into_iter().map(|(name, count)| counted(count, name)));
    clauses.join("; ")
}

fn counted(count: usize, name: &str) -> String {
    format!("{count} {name}{}", if count == 1 { "" } else { "s" })
}

/// A clause without its face, and the face.
struct Clause {
    text: String,
    face: Face,
    in_show_face: bool,
    /// What is said last.
    tail: String,
    /// Whether it takes a corner: then it is told by how far it goes in from two edges, the second of which is its face.
    is_corner: bool,
}

fn cut_clauses(part: &Part, work: &Work, sizes: &[Length], printing: Printing) -> Vec<String> {
    let mut left: Vec<(&Cut, CutSizes)> = work
        .cuts
        .iter()
        .zip(sizes.chunks_exact(SIZES))
        .map(|(cut, sizes)| (cut, std::array::from_fn(|i| sizes[i])))
        .collect();
    let mut clauses = Vec::new();
    while let Some(&(first, first_sizes)) = left.first() {
        // Cuts alike but for their place are one clause.
        let (alike, others): (Vec<_>, Vec<_>) =
            left.into_iter().partition(|(cut, sizes)| is_alike(first, &first_sizes, cut, sizes));
        let (at_other_end, others) = twins(part, first, &first_sizes, &alike, others);
        left = others;
        let is_corner = matches!(first.place, Place::At(_))
            && first.form == Form::Run
            && run_of(first) == part.thickness
            && first.stopped == [false; 2];
        let size = size_words(part, first, &first_sizes, printing);
        let text = match first.place {
            Place::At(_) => step_words(part, first, (&first_sizes, &size), &alike, is_corner, printing),
            Place::Across(across) => channel_words(part, first, across, &size, &alike, printing),
        };
        let text = text + stop_words(part, first, &first_sizes, at_other_end, printing).as_str();
        let tail = match first.form {
            Form::Sloped(across, along) => format!(", sides sloping {across} in {along}"),
            _ => String::new(),
        };
        clauses.push(Clause { text, face: first.face, in_show_face: first.in_show_face, tail, is_corner });
    }
    with_faces(part, clauses)
}

/// A cut with its sizes, as the clauses are made from them.
type Told<'a> = (&'a Cut, CutSizes);

/// Whether what is alike but at the other end of its run is there for every one of these cuts, and what is left without it.
/// Only cuts that stay near their end are told so.
fn twins<'a>(
    part: &Part,
    first: &Cut,
    first_sizes: &CutSizes,
    alike: &[Told<'a>],
    others: Vec<Told<'a>>,
) -> (bool, Vec<Told<'a>>) {
    if near_end(part, first, first_sizes).is_none() {
        return (false, others);
    }
    let turned = |cut: &Cut, sizes: &CutSizes| {
        let (mut cut, mut sizes) = (*cut, *sizes);
        cut.stopped.swap(0, 1);
        sizes.swap(4, 5);
        (cut, sizes)
    };
    let (there, rest): (Vec<_>, Vec<_>) = others.iter().copied().partition(|(cut, sizes)| {
        let (cut, sizes) = turned(cut, sizes);
        is_alike(first, first_sizes, &cut, &sizes)
    });
    let places = |cuts: &[Told<'_>]| {
        let mut places: Vec<_> = cuts.iter().map(|(cut, sizes)| (cut.place, sizes[2], sizes[3])).collect();
        places.sort_unstable();
        places
    };
    if places(&there) == places(alike) { (true, rest) } else { (false, others) }
}

/// Of a cut that is open at one end and stays nearer to it than half the part: that end, and how far it goes in.
fn near_end(part: &Part, cut: &Cut, sizes: &CutSizes) -> Option<(Face, Length)> {
    if matches!(cut.form, Form::Slot { .. }) {
        return None;
    }
    let along = run_of(cut);
    let (open, stop) = match cut.stopped {
        [true, false] => (along.high(), sizes[4]),
        [false, true] => (along.low(), sizes[5]),
        _ => return None,
    };
    let long = part.solid.size(along) - stop;
    (long < stop).then_some((open, long))
}

/// `1/4" x 3/8" deep`; of a mortise the length as well, of a mitre the face that stays long.
fn size_words(part: &Part, cut: &Cut, sizes: &CutSizes, printing: Printing) -> String {
    let [width, depth] = [sizes[0], sizes[1]].map(|size| printing.length(size));
    match cut.form {
        Form::Run | Form::InBevel => format!("{width} x {depth} deep"),
        Form::Slot { through } => {
            let along = run_of(cut);
            let length = printing.length(part.solid.size(along) - sizes[4] - sizes[5]);
            if through { format!("{width} x {length} through") } else { format!("{width} x {length} x {depth} deep") }
        }
        Form::Bevel { .. } => format!("{width} x {depth}"),
        Form::Sloped(..) => format!("{width} x {depth} deep"),
    }
}

/// The axis that a cut runs along.
fn run_of(cut: &Cut) -> Axis {
    let across = match cut.place {
        Place::Across(axis) => axis,
        Place::At(face) => face.axis(),
    };
    third(cut.face.axis(), across)
}

fn is_alike(a: &Cut, a_sizes: &CutSizes, b: &Cut, b_sizes: &CutSizes) -> bool {
    let same = |i: usize| a_sizes[i].same_size(b_sizes[i]);
    let same_kind = match (a.place, b.place) {
        (Place::Across(a), Place::Across(b)) => a == b,
        // Steps at all edges are one clause, unless they are stopped: then their runs must be along one axis.
        (Place::At(x), Place::At(y)) => a.stopped == [false, false] || x.axis() == y.axis(),
        _ => false,
    };
    same_kind
        && a.name == b.name
        && a.form == b.form
        && a.face == b.face
        && a.stopped == b.stopped
        && same(0)
        && same(1)
        && same(4)
        && same(5)
}

fn step_words(
    part: &Part,
    first: &Cut,
    (sizes, size): (&CutSizes, &str),
    alike: &[Told<'_>],
    is_corner: bool,
    printing: Printing,
) -> String {
    let mut edges: Vec<Face> = alike
        .iter()
        .filter_map(|(cut, _)| match cut.place {
            Place::At(face) => Some(face),
            Place::Across(_) => None,
        })
        .collect();
    edges.sort_unstable();
    edges.dedup();
    let edges = edge_words(part, &edges);
    if is_corner {
        let [along, deep] = [sizes[0], sizes[1]].map(|size| printing.length(size));
        return format!("{} {along} in from {edges}, {deep} in from", first.name);
    }
    match first.form {
        Form::Bevel { through_thickness: true } => format!("{} {size} through the thickness at {edges}", first.name),
        Form::Bevel { .. } => {
            format!("{} {size} at {edges}, {} long", first.name, edge_name(part, first.face.opposite()))
        }
        Form::InBevel => format!("{} {size} in the bevel at {edges}", first.name),
        _ => format!("{} {size} at {edges}", first.name),
    }
}

/// `back edge`, `both ends`, `both ends and bottom edge`, `all edges`. A lone edge along x is `one end`.
fn edge_words(part: &Part, edges: &[Face]) -> String {
    let mut words: Vec<String> = Vec::new();
    let along = [part.length_axis(), part.width_axis(), part.thickness];
    if along[..2].iter().all(|axis| edges.contains(&axis.low()) && edges.contains(&axis.high())) {
        return "all edges".into();
    }
    for axis in along {
        match [edges.contains(&axis.low()), edges.contains(&axis.high())] {
            [true, true] => words.push(format!("both {}s", kind_of_edge(part, axis))),
            [true, false] => words.push(edge_name(part, axis.low())),
            [false, true] => words.push(edge_name(part, axis.high())),
            [false, false] => {}
        }
    }
    words.join(" and ")
}

/// `end`, `edge` or `face`: what a part has across an axis.
fn kind_of_edge(part: &Part, axis: Axis) -> &'static str {
    if axis == part.thickness {
        "face"
    } else if axis == part.length_axis() {
        "end"
    } else {
        "edge"
    }
}

fn edge_name(part: &Part, face: Face) -> String {
    let kind = kind_of_edge(part, face.axis());
    match face {
        Face::Left => format!("one {kind}"),
        Face::Right => format!("the other {kind}"),
        _ => format!("{} {kind}", face.name()),
    }
}

fn channel_words(part: &Part, first: &Cut, across: Axis, size: &str, alike: &[Told<'_>], printing: Printing) -> String {
    let from = |face: Face, distances: &[Length]| {
        if let [distance] = distances
            && distance.same_size(Length::ZERO)
        {
            return format!("at {}", edge_name(part, face));
        }
        let distances: Vec<String> = distances.iter().map(|&distance| printing.length(distance)).collect();
        format!("{} from {}", listed(&distances), edge_name(part, face))
    };
    let edge_face = first.face.axis() != part.thickness;
    let place = if edge_face { format!(" in {}", edge_name(part, first.face)) } else { String::new() };
    match alike {
        [(_, sizes)] if sizes[2].same_size(sizes[3]) => format!("{} {size}{place}, centred", first.name),
        [(_, sizes)] => {
            let near = if sizes[2] <= sizes[3] { (across.low(), sizes[2]) } else { (across.high(), sizes[3]) };
            format!("{} {size}{place}, {}", first.name, from(near.0, &[near.1]))
        }
        [(_, a), (_, b)] if a[2].same_size(b[3]) && a[3].same_size(b[2]) => {
            let distance = a[2].min(b[2]);
            let from = if distance.same_size(Length::ZERO) {
                "at".to_owned()
            } else {
                format!("{} from", printing.length(distance))
            };
            format!("2 {}s {size}{place}, {from} both {}s", first.name, kind_of_edge(part, across))
        }
        _ => {
            let mut distances: Vec<Length> = alike.iter().map(|(_, sizes)| sizes[2]).collect();
            distances.sort_unstable();
            format!("{} {size}{place}, {}", counted(alike.len(), first.name), from(across.low(), &distances))
        }
    }
}

/// `10" and 20"`, `1", 2" and 3"`.
fn listed(words: &[String]) -> String {
    match words {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        _ => words.concat(),
    }
}

fn stop_words(part: &Part, cut: &Cut, sizes: &CutSizes, at_other_end: bool, printing: Printing) -> String {
    let along = run_of(cut);
    if matches!(cut.form, Form::Slot { .. }) {
        return slot_words(part, along, sizes, printing);
    }
    if let Some((open, long)) = near_end(part, cut, sizes) {
        let long = printing.length(long);
        return if at_other_end {
            format!(", {long} in from both {}s", kind_of_edge(part, along))
        } else {
            format!(", {long} in from {}", edge_name(part, open))
        };
    }
    let short = |size: Length, words: String| format!(", stopped {} short of {words}", printing.length(size));
    match cut.stopped {
        [false, false] => String::new(),
        [true, true] if sizes[4].same_size(sizes[5]) => short(sizes[4], format!("both {}s", kind_of_edge(part, along))),
        [true, true] => {
            short(sizes[4], edge_name(part, along.low())) + short(sizes[5], edge_name(part, along.high())).as_str()
        }
        [true, false] => short(sizes[4], edge_name(part, along.low())),
        [false, true] => short(sizes[5], edge_name(part, along.high())),
    }
}

/// Where a slot lies along its run.
fn slot_words(part: &Part, along: Axis, sizes: &CutSizes, printing: Printing) -> String {
    if sizes[4].same_size(sizes[5]) {
        return String::new();
    }
    let (face, from) = if sizes[4] <= sizes[5] { (along.low(), sizes[4]) } else { (along.high(), sizes[5]) };
    format!(", {} from {}", printing.length(from), edge_name(part, face))
}

/// Adds the broad face to the clauses where the part is worked on both, or on the face that will be seen.
fn with_faces(part: &Part, clauses: Vec<Clause>) -> Vec<String> {
    let broad = |face: Face| face.axis() == part.thickness;
    let on = |face: Face| clauses.iter().any(|clause| clause.face == face);
    let on_both = on(part.thickness.low()) && on(part.thickness.high());
    let mut words: Vec<String> = Vec::new();
    for (i, clause) in clauses.iter().enumerate() {
        let twin = |other: &Clause| {
            other.face == clause.face.opposite() && other.text == clause.text && other.tail == clause.tail
        };
        if (broad(clause.face) || clause.is_corner) && clauses[..i].iter().any(twin) {
            continue;
        }
        let place = if clause.is_corner && clauses.iter().any(twin) {
            format!(" both {}s", kind_of_edge(part, clause.face.axis()))
        } else if clause.is_corner {
            format!(" {}", edge_name(part, clause.face))
        } else if !broad(clause.face) {
            String::new()
        } else if clauses.iter().any(twin) {
            " in both faces".to_owned()
        } else if clause.in_show_face {
            " in the show face".to_owned()
        } else if on_both && part.show.is_some() {
            " in the face behind".to_owned()
        } else if on_both {
            format!(" in {}", edge_name(part, clause.face))
        } else {
            String::new()
        };
        let pause = if clause.text.ends_with(", centred") && !place.is_empty() { "," } else { "" };
        words.push(format!("{}{pause}{place}{}", clause.text, clause.tail));
    }
    words
}
