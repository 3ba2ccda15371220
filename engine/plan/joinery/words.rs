//! The work on a part as the cut list says it.

use super::{Cut, CutSizes, Form, Place, SIZES, Work, third};
use crate::base::{Axis, Face, Length, Printing};
use crate::model::Part;

/// The work of a part in words, clauses joined by semicolons; empty when there is none.
pub(in crate::plan) fn words(part: &Part, work: &Work, sizes: &[Length], printing: Printing) -> String {
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
