//! Whether the faces that a joint lays against one another are there, once every joint is cut.
//!
//! The rectangle of a bearing, or of a slope as it is seen along its axis, is parted by the edges of all material that is near it. Over each cell of it the last material of
//! the part and the first of the other are looked up, and the room between them is compared with the room that was promised.

use std::collections::HashMap;

use super::index::meet;
use super::material::{Material, before_mitres, is_open};
use super::slopes::Slope;
use crate::base::{Axis, Face, Length, Point, Solid};
use crate::model::{Bearing, Feature, JointId, Lies, Model, Part, PartId, Shape};

/// What became of a bearing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Kept {
    /// Its whole area in square nanometres, less what cuts of joints between the same two parts take, which is meant. Where such a cut
    /// takes in what bears, its walls count.
    pub whole: i128,
    /// How much of it bears as promised.
    pub bears: i128,
    /// What another joint's cut took away: the largest of such losses.
    pub lost: Option<Lost>,
    /// A room that is not what was asked, though no other joint's cut is there. Where nothing stands opposite there is none: a cut
    /// without a wall breaks out, and is told as that.
    pub room: Option<Length>,
}

/// What a cut takes of a bearing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lost {
    /// The part that is cut.
    pub part: PartId,
    /// The place of the cut among its features.
    pub feature: usize,
    /// All that is lost to that cut, in square nanometres.
    pub area: i128,
    /// The rectangle around it.
    pub around: Solid,
}

/// Works out what is left of every bearing of a model, in the order of its bearings.
pub(super) fn all_kept(model: &Model, material: &Material) -> Vec<Kept> {
    let ground = Ground::new(model, material);
    let kept = |bearing: &Bearing| match bearing.lies {
        Lies::Flat | Lies::Pin { .. } => ground.flat(bearing),
        Lies::Slope { leans } => ground.slope(bearing, leans),
    };
    model.bearings.iter().map(kept).collect()
}

/// The parts that bearings are looked for in.
struct Ground<'a> {
    model: &'a Model,
    material: &'a Material,
    /// Parts with mitres, as they were before those were cut: a mitre takes half of its cuboid, and that half is reckoned by itself.
    unmitred: HashMap<PartId, Vec<Solid>>,
}

impl<'a> Ground<'a> {
    fn new(model: &'a Model, material: &'a Material) -> Self {
        let is_mitred = |part: &Part| part.features.iter().any(|cut| matches!(cut.shape, Shape::Bevel { .. }));
        let mitred = model.part_ids().filter(|(_, part)| is_mitred(part));
        let unmitred = mitred.map(|(id, part)| (id, before_mitres(part))).collect();
        Self { model, material, unmitred }
    }

    fn material(&self, part: PartId) -> &[Solid] {
        self.unmitred.get(&part).unwrap_or(&self.material.solids[part.0 as usize])
    }

    /// A flat face on the other part, or on a pin in it.
    fn flat(&self, bearing: &Bearing) -> Kept {
        let model = self.model;
        let axes = bearing.face.axis().others();
        let own = beside(self.material(bearing.part), &bearing.area, axes);
        let other = match bearing.lies {
            Lies::Pin { deep, out } => beside(&pins(model, bearing, deep, out), &bearing.area, axes),
            _ => beside(self.material(bearing.against), &bearing.area, axes),
        };
        let (mitres, cuts): (Vec<Cut>, Vec<Cut>) =
            cuts_near(model, bearing).into_iter().partition(|cut| cut.slope.is_some());
        let edges = axes.map(|axis| {
            let cuts = cuts.iter().chain(&mitres).map(|cut| &cut.solid);
            edges(&bearing.area, axis, own.iter().chain(&other).chain(cuts))
        });
        let mut found = Found::new(model, bearing);
        for cell in cells(&bearing.area, axes, &edges) {
            let room = room(bearing.face, &cell, &own, &other);
            let bears = room.is_some_and(|room| (room - bearing.room).abs() <= Length::SAME_SIZE);
            let area = area(&cell, axes);
            let mut taken = cuts.iter().filter(|cut| !bears && covers(&cut.solid, &cell, axes)).peekable();
            if let Some(&first) = taken.peek() {
                // A wall that another joint of the same two parts leaves is measured like one of its own.
                let by_other = taken.clone().find(|cut| !is_between(model, cut.joint, bearing));
                match by_other {
                    None if taken.any(|cut| houses(model, cut, bearing)) => found.gap(area, room),
                    cut => found.lose(cut.unwrap_or(first), &cell, area),
                }
            } else if bears {
                let place = |cut: &Cut| if cut.part == bearing.part { Length::ZERO } else { bearing.room };
                let taken = |cut: &Cut| {
                    let cell = cell.grown(bearing.face, place(cut));
                    cut.takes(corners(&cell, axes, |_| cell.face(bearing.face)), axes)
                };
                found.keep(&cell, area, mitres.iter().map(|cut| (cut, taken(cut))));
            } else {
                found.gap(area, room);
            }
        }
        found.into()
    }

    /// A slope on a slope of the other part. It is looked at along the axis of its face: its cells are rectangles there too.
    fn slope(&self, bearing: &Bearing, leans: Face) -> Kept {
        let model = self.model;
        let promised = Slope { solid: bearing.area, face: bearing.face, leans };
        let axes = [promised.along(), leans.axis()];
        let there = |part: PartId, ways: [Face; 2]| {
            let cuts = model.part(part).features.iter().filter(|cut| cut.joint == bearing.joint);
            let looks = |slope: &Slope| ways == [slope.face, slope.leans] || ways == [slope.leans, slope.face];
            let off = |slope: &Slope| {
                (sum(&slope.solid, bearing.face.axis()) - sum(&bearing.area, bearing.face.axis())).abs()
            };
            let lies_there = |slope: &Slope| axes.into_iter().all(|axis| overlap(&slope.solid, &bearing.area, axis));
            let slopes = cuts.flat_map(Slope::left_by).filter(looks).filter(lies_there);
            let turned =
                slopes.map(|slope| if slope.face.axis() == bearing.face.axis() { slope } else { slope.turned() });
            turned.min_by_key(off)
        };
        let own = there(bearing.part, [bearing.face, leans]);
        let other = there(bearing.against, [bearing.face.opposite(), leans.opposite()]);
        let solids = [bearing.part, bearing.against].map(|part| model.part(part).solid);
        let cuts: Vec<Cut> = [bearing.part, bearing.against]
            .into_iter()
            .flat_map(|part| cuts_of(model, bearing, part))
            .filter(|cut| meet(&cut.solid, &bearing.area))
            .collect();
        // Where a cut begins along the face's axis, the slope comes to it at a place along the other one.
        let across = bearing.face.axis();
        let comes = |solid: &Solid| {
            [across.low(), across.high()].map(|face| {
                let place = promised.turned().at(solid.face(face));
                let mut there = *solid;
                there.set_face(leans.axis().low(), place);
                there.set_face(leans.axis().high(), place);
                there
            })
        };
        let all: Vec<Solid> = cuts
            .iter()
            .map(|cut| cut.solid)
            .chain(solids)
            .flat_map(|solid| [solid].into_iter().chain(comes(&solid)))
            .collect();
        let edges = axes.map(|axis| edges(&bearing.area, axis, all.iter()));
        let mut found = Found::new(model, bearing);
        for cell in cells(&bearing.area, axes, &edges) {
            let area = area(&cell, axes);
            let ends = [leans.axis().low(), leans.axis().high()].map(|end| cell.face(end));
            let middle = promised.at(Length::from_nm(i64::midpoint(ends[0].nm(), ends[1].nm())));
            let holds = |solid: &Solid| {
                let mut cell = cell;
                cell.set_face(across.low(), middle);
                cell.set_face(across.high(), middle);
                cell.within(solid)
            };
            let room = own.zip(other).map(|(own, other)| {
                let rooms = ends.map(|end| other.at(end) - own.at(end));
                let worst = rooms.into_iter().max_by_key(|room| (*room).abs()).unwrap_or(Length::ZERO);
                if bearing.face.is_high() { worst } else { -worst }
            });
            let bears = room.is_some_and(|room| (room - bearing.room).abs() <= Length::SAME_SIZE);
            if let Some(cut) = cuts.iter().find(|cut| cut.slope.is_none() && holds(&cut.solid)) {
                found.lose(cut, &cell, area);
            } else if bears && solids.iter().all(holds) {
                let spots = corners(&cell, axes, |place| promised.at(place));
                let mitres = cuts.iter().filter(|cut| cut.slope.is_some() && holds(&cut.solid));
                found.keep(&cell, area, mitres.map(|cut| (cut, cut.takes(spots, axes))));
            } else {
                found.gap(area, room);
            }
        }
        found.into()
    }
}

/// What has been found of a bearing so far.
struct Found<'a> {
    model: &'a Model,
    bearing: &'a Bearing,
    kept: Kept,
    losses: Vec<Lost>,
}

impl<'a> Found<'a> {
    fn new(model: &'a Model, bearing: &'a Bearing) -> Self {
        Self { model, bearing, kept: Kept::default(), losses: Vec::new() }
    }

    /// A cell of which mitres of other joints take some, and the rest bears.
    fn keep<'c>(&mut self, cell: &Solid, area: i128, mitres: impl Iterator<Item = (&'c Cut, i128)>) {
        let mut bears = area;
        for (cut, taken) in mitres {
            let taken = taken.min(bears);
            bears -= taken;
            if taken > 0 {
                self.lose(cut, cell, taken);
            }
        }
        self.kept.whole += bears;
        self.kept.bears += bears;
    }

    /// A cell that does not bear, though no other joint's cut is there.
    fn gap(&mut self, area: i128, room: Option<Length>) {
        self.kept.whole += area;
        self.kept.room = room.or(self.kept.room);
    }

    /// What a cut takes; what is cut for a joint between the same two parts is meant, and does not count.
    fn lose(&mut self, cut: &Cut, cell: &Solid, area: i128) {
        if is_between(self.model, cut.joint, self.bearing) {
            return;
        }
        self.kept.whole += area;
        match self.losses.iter_mut().find(|lost| lost.part == cut.part && lost.feature == cut.feature) {
            Some(lost) => {
                lost.area += area;
                lost.around = lost.around.hull(cell);
            }
            None => {
                self.losses.push(Lost { part: cut.part, feature: cut.feature, area, around: *cell });
            }
        }
    }
}

impl From<Found<'_>> for Kept {
    fn from(found: Found<'_>) -> Self {
        Self { lost: found.losses.into_iter().max_by_key(|lost| lost.area), ..found.kept }
    }
}

/// The pins that stand out of a part towards the face that is to lie on them, out of holes that are as deep as they must be.
fn pins(model: &Model, bearing: &Bearing, deep: Length, out: Length) -> Vec<Solid> {
    let cuts = model.part(bearing.against).features.iter();
    let holes = cuts.filter(|cut| cut.joint == bearing.joint && cut.depth().same_size(deep));
    let pin = |hole: &Feature| {
        // A hole that goes through is drilled from one side, and its pin may stand out of the other.
        let is_before = sum(&bearing.area, hole.face.axis()) < sum(&hole.solid, hole.face.axis());
        let face = if is_before { hole.face.axis().low() } else { hole.face.axis().high() };
        hole.solid.grown(face, out)
    };
    holes.map(pin).collect()
}

/// A cut of another joint that takes away what is just behind one of the two faces.
struct Cut {
    part: PartId,
    feature: usize,
    joint: JointId,
    solid: Solid,
    /// The plane of a mitre, which takes only what is beyond it.
    slope: Option<Slope>,
}

impl Cut {
    /// How much a mitre takes of a rectangle.
    fn takes(&self, corners: [Point; 4], axes: [Axis; 2]) -> i128 {
        self.slope.map_or(0, |slope| slope.takes(corners, axes))
    }
}

fn cuts_near(model: &Model, bearing: &Bearing) -> Vec<Cut> {
    let behind = |face: Face, by: Length| {
        let depth = Length::SAME_SIZE * 2;
        let mut slab = bearing.area.grown(bearing.face, by);
        slab.set_face(bearing.face.opposite(), slab.face(bearing.face));
        slab.grown(face, depth)
    };
    let sides = [
        (bearing.part, behind(bearing.face.opposite(), Length::ZERO)),
        (bearing.against, behind(bearing.face, bearing.room)),
    ];
    let near = |(part, slab): (PartId, Solid)| cuts_of(model, bearing, part).filter(move |cut| meet(&cut.solid, &slab));
    sides.into_iter().flat_map(near).collect()
}

/// The cuts of other joints in a part that let another part in.
fn cuts_of<'a>(model: &'a Model, bearing: &'a Bearing, part: PartId) -> impl Iterator<Item = Cut> + 'a {
    let features = model.part(part).features.iter().enumerate();
    let others = features.filter(move |(_, cut)| is_other(bearing, cut) && is_open(cut));
    others.map(move |(feature, cut)| {
        let slope = matches!(cut.shape, Shape::Bevel { .. }).then(|| Slope::left_by(cut).pop()).flatten();
        Cut { part, feature, joint: cut.joint, solid: cut.solid, slope }
    })
}

/// Whether a cut is of another joint, or is a mortise or slot of a butt joint for what is let into both its parts: that takes its own
/// place out of the contact.
fn is_other(bearing: &Bearing, cut: &Feature) -> bool {
    cut.joint != bearing.joint || (bearing.what == "contact" && matches!(cut.shape, Shape::Mortise { .. }))
}

/// Whether a joint works on both parts of a bearing, as that of a panel does which runs round the corner of its frame.
fn is_between(model: &Model, joint: JointId, bearing: &Bearing) -> bool {
    let joint = model.joint(joint);
    let works_on = |part: PartId| joint.member == part || joint.into.contains(&part);
    works_on(bearing.part) && works_on(bearing.against)
}

/// Whether a cut takes in what bears there, as the groove of a panel does with the stub tenon of its frame: it begins before the face and
/// goes on beyond it, so that its end is the wall or the floor that the face stands before.
fn houses(model: &Model, cut: &Cut, bearing: &Bearing) -> bool {
    let (from, upto) = (cut.solid.face(bearing.face.opposite()), cut.solid.face(bearing.face));
    let plane = bearing.area.face(bearing.face);
    let begins = if bearing.face.is_high() { plane - from } else { from - plane };
    let ends = if bearing.face.is_high() { upto - plane } else { plane - upto };
    // A joint that cuts the other part itself has its own walls there.
    let cuts = |own: &Feature| own.joint == bearing.joint;
    cut.part == bearing.against
        && begins > Length::SAME_SIZE
        && ends >= -Length::SAME_SIZE
        && !model.part(bearing.against).features.iter().any(cuts)
}

/// Material over or under a rectangle.
fn beside(material: &[Solid], area: &Solid, axes: [Axis; 2]) -> Vec<Solid> {
    let over = |solid: &&Solid| axes.into_iter().all(|axis| overlap(solid, area, axis));
    material.iter().filter(over).copied().collect()
}

/// Where the rectangle is parted along an axis.
fn edges<'a>(area: &Solid, axis: Axis, solids: impl Iterator<Item = &'a Solid>) -> Vec<Length> {
    let (low, high) = (area.face(axis.low()), area.face(axis.high()));
    let within = solids.flat_map(|solid| [solid.face(axis.low()), solid.face(axis.high())]);
    let mut edges: Vec<Length> = within.filter(|&edge| edge > low && edge < high).chain([low, high]).collect();
    edges.sort_unstable();
    edges.dedup();
    edges
}

/// The cells between the edges along two axes. A sliver as thin as the tolerance decides nothing.
fn cells(area: &Solid, axes: [Axis; 2], edges: &[Vec<Length>; 2]) -> Vec<Solid> {
    let mut cells = Vec::new();
    for first in edges[0].windows(2) {
        for second in edges[1].windows(2) {
            let mut cell = *area;
            for (axis, span) in axes.into_iter().zip([first, second]) {
                cell.low[axis.index()] = span[0];
                cell.high[axis.index()] = span[1];
            }
            if axes.into_iter().all(|axis| cell.size(axis) > Length::SAME_SIZE) {
                cells.push(cell);
            }
        }
    }
    cells
}

fn area(cell: &Solid, axes: [Axis; 2]) -> i128 {
    axes.into_iter().map(|axis| i128::from(cell.size(axis).nm())).product()
}

/// The corners of a cell, in turn; `height` tells where they are along the third axis, by their place along the second.
fn corners(cell: &Solid, [a, b]: [Axis; 2], height: impl Fn(Length) -> Length) -> [Point; 4] {
    [(a.low(), b.low()), (a.high(), b.low()), (a.high(), b.high()), (a.low(), b.high())].map(|(first, second)| {
        let at = height(cell.face(second));
        let mut point = [at; 3];
        point[a.index()] = cell.face(first);
        point[b.index()] = cell.face(second);
        point
    })
}

/// Twice the middle of a cuboid along an axis.
fn sum(solid: &Solid, axis: Axis) -> Length {
    solid.face(axis.low()) + solid.face(axis.high())
}

fn overlap(a: &Solid, b: &Solid, axis: Axis) -> bool {
    a.face(axis.low()) < b.face(axis.high()) && b.face(axis.low()) < a.face(axis.high())
}

fn covers(solid: &Solid, cell: &Solid, axes: [Axis; 2]) -> bool {
    axes.into_iter().all(|axis| {
        solid.face(axis.low()) <= cell.face(axis.low()) && cell.face(axis.high()) <= solid.face(axis.high())
    })
}

/// The room between both parts over a cell, seen the way that the face looks; none where one of them has nothing there.
fn room(face: Face, cell: &Solid, own: &[Solid], other: &[Solid]) -> Option<Length> {
    let axes = face.axis().others();
    let along = |solid: &Solid, face: Face| if face.is_high() { solid.face(face) } else { -solid.face(face) };
    let near = |solid: &Solid| {
        let position = solid.face(face.opposite());
        if face.is_high() { position } else { -position }
    };
    let plane = along(cell, face);
    let skin = Length::SAME_SIZE;
    let own = own.iter().filter(|solid| covers(solid, cell, axes) && near(solid) < plane - skin);
    let from = own.map(|solid| along(solid, face)).max()?;
    let other = other.iter().filter(|solid| covers(solid, cell, axes) && along(solid, face) > plane + skin);
    let upto = other.map(near).min()?;
    Some(upto - from)
}
