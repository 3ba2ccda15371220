//! Whether what moves has its way free: the volume that it sweeps against all that stands there.

use std::collections::HashMap;

use super::Proved;
use super::bodies::Body;
use super::index::{Index, meet, within_tolerance};
use super::material::Material;
use super::turning::{self, Quad, Spot};
use crate::base::{Axis, Face, Length, Point, Solid};
use crate::model::{Model, Motion, Moving, PartId, StandsOut, Turn, Way};

/// What meets on a way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Meeting {
    /// The motion, by its place in the model.
    pub motion: usize,
    /// What of it meets.
    pub own: Thing,
    /// What it meets.
    pub other: Thing,
    /// The motion that the other belongs to and how it stands, if it moves itself.
    pub other_moves: Option<(usize, Stand)>,
    /// How far it goes before they meet: a length of a slide, degrees of a turn.
    pub after: After,
    /// The least move of the other that frees the way: which way and how far.
    pub cure: Option<(Face, Length)>,
}

/// A part, or what stands out from one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thing {
    /// The part itself.
    Part(PartId),
    /// What stands out from a part, by its place in the model.
    StandsOut(usize),
    /// What stands there already, by its place in the model.
    Obstacle(usize),
}

/// How a thing that moves stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    /// Closed.
    Closed,
    /// Open all the way.
    Open,
}

/// How far something goes before it meets something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum After {
    /// Of a slide.
    Length(Length),
    /// Of a turn; it meets before the next degree.
    Degrees(u32),
}

/// What was found about the ways of a model.
#[derive(Clone, Debug, Default)]
pub struct Ways {
    /// The first meeting of each motion with each other thing.
    pub meetings: Vec<Meeting>,
    /// Whether all ways were looked at to their end.
    pub complete: bool,
}

/// Pairs of cuboids looked at before the proof is given up: a hundred times what a large job takes.
const MOST_STEPS: usize = 2_000_000;
/// More meetings than this are one slip seen many times.
const MOST_MEETINGS: usize = 100;

/// Looks at the way of everything that moves.
pub fn ways(proof: &Proved<'_>) -> Ways {
    ways_with(proof, &[])
}

/// Looks at the way of everything that moves as if these stood out as well. Their places go on behind those of the model.
pub fn ways_with(proof: &Proved<'_>, more: &[StandsOut]) -> Ways {
    let model = proof.model;
    if model.motions.is_empty() {
        return Ways { complete: true, ..Ways::default() };
    }
    let (material, bodies) = (proof.material(), proof.bodies());
    let mut found = Ways { meetings: Vec::new(), complete: material.complete };
    let stage = Stage::new(model, material, bodies, more);
    let mut steps = MOST_STEPS;
    for motion in 0..model.motions.len() {
        stage.look(motion, &mut found.meetings, &mut steps);
        if steps == 0 || found.meetings.len() >= MOST_MEETINGS {
            found.complete &= steps > 0;
            break;
        }
    }
    found
}

/// Everything that can be met, and who moves it.
struct Stage<'a> {
    model: &'a Model,
    things: Vec<(Thing, Vec<Solid>)>,
    /// The motions that move each thing, and the things that each motion moves.
    moved_by: Vec<Vec<usize>>,
    moves: Vec<Vec<usize>>,
    /// By motion: its way, none for one that moves nothing.
    sweeps: Vec<Option<Sweep>>,
    /// By motion: those that say that they may stand open with it.
    open_with: Vec<Vec<usize>>,
    index: Index,
    by_moving: HashMap<Moving, usize>,
}

impl<'a> Stage<'a> {
    fn new(model: &'a Model, material: &Material, bodies: &[Body], more: &[StandsOut]) -> Self {
        let mut moved_by = vec![Vec::new(); model.parts.len()];
        for (motion, body) in bodies.iter().enumerate() {
            for part in &body.parts {
                moved_by[part.0 as usize].push(motion);
            }
        }
        let mut things: Vec<(Thing, Vec<Solid>)> =
            model.part_ids().map(|(id, _)| Thing::Part(id)).zip(material.solids.iter().cloned()).collect();
        for (at, stands_out) in model.stands_out.iter().chain(more).enumerate() {
            things.push((Thing::StandsOut(at), stands_out.solids(model)));
            moved_by.push(moved_by[stands_out.part.0 as usize].clone());
        }
        for (at, obstacle) in model.obstacles.iter().enumerate() {
            things.push((Thing::Obstacle(at), vec![obstacle.solid]));
            moved_by.push(Vec::new());
        }
        let mut moves = vec![Vec::new(); model.motions.len()];
        for (thing, motions) in moved_by.iter().enumerate() {
            for &motion in motions {
                moves[motion].push(thing);
            }
        }
        let around = |solids: &Vec<Solid>| solids.iter().copied().reduce(|a, b| a.hull(&b)).unwrap_or(NOTHING);
        let index = Index::new(things.iter().map(|(_, solids)| around(solids)).collect());
        let by_moving: HashMap<Moving, usize> =
            model.motions.iter().enumerate().map(|(at, motion)| (motion.moving, at)).collect();
        let bounds = bounds(model, &by_moving);
        let sweep = |motion: &Motion| Sweep::new(motion, *bounds.get(by_moving.get(&motion.moving).copied()?)?);
        let mut open_with = vec![Vec::new(); model.motions.len()];
        for (at, motion) in model.motions.iter().enumerate() {
            // Of two motions of one thing, both may stand open.
            for other in motion.with_open.iter().filter_map(|moving| by_moving.get(moving)) {
                open_with[*other].push(at);
            }
        }
        let sweeps = model.motions.iter().map(sweep).collect();
        Self { model, things, moved_by, moves, sweeps, open_with, index, by_moving }
    }

    /// Looks at the way of one motion, past what stands still or closed and past what may stand open.
    fn look(&self, at: usize, meetings: &mut Vec<Meeting>, steps: &mut usize) {
        let motion = &self.model.motions[at];
        let Some(sweep) = &self.sweeps[at] else { return };
        let known = |list: &[Moving]| list.iter().filter_map(|moving| self.by_moving.get(moving).copied()).collect();
        let behind: Vec<usize> = known(&motion.behind);
        let with_open: Vec<usize> = known(&motion.with_open);
        // Two that may stand open together are opened in either order.
        let as_well = self.by_moving.get(&motion.moving).map_or(&[][..], |&known| &self.open_with[known]);
        let as_well = as_well.iter().copied().filter(|other| *other != at && !with_open.contains(other));
        let open: Vec<usize> = behind.iter().chain(&with_open).copied().chain(as_well).collect();
        let mut met: Vec<(usize, Stand)> = Vec::new();
        for &own in &self.moves[at] {
            for solid in &self.things[own].1 {
                let space = sweep.around(solid);
                self.index.any(&space, |other| {
                    let movers = &self.moved_by[other];
                    if movers.contains(&at) || movers.iter().any(|mover| behind.contains(mover)) {
                        return false;
                    }
                    let shapes = self.things[other].1.iter().map(|&solid| Shape::Solid(within_tolerance(&solid)));
                    let pair = Pair { at, own, other, stand: Stand::Closed };
                    self.meet(sweep, solid, shapes, pair, &mut met, meetings, steps)
                });
                for &mover in &open {
                    let Some(opened) = &self.sweeps[mover] else { continue };
                    for &other in &self.moves[mover] {
                        if self.moved_by[other].contains(&at) {
                            continue;
                        }
                        let shapes = self.things[other].1.iter().map(|solid| opened.end(&within_tolerance(solid)));
                        let pair = Pair { at, own, other, stand: Stand::Open };
                        if self.meet(sweep, solid, shapes, pair, &mut met, meetings, steps) {
                            return;
                        }
                    }
                }
                if *steps == 0 || meetings.len() >= MOST_MEETINGS {
                    return;
                }
            }
        }
    }

    /// Notes the meeting of one cuboid with one thing, once for a thing. Gives whether it is time to stop.
    #[allow(clippy::too_many_arguments)]
    fn meet(
        &self,
        sweep: &Sweep,
        solid: &Solid,
        shapes: impl Iterator<Item = Shape>,
        pair: Pair,
        met: &mut Vec<(usize, Stand)>,
        meetings: &mut Vec<Meeting>,
        steps: &mut usize,
    ) -> bool {
        if met.contains(&(pair.other, pair.stand)) {
            return false;
        }
        for shape in shapes {
            *steps = steps.saturating_sub(1);
            if *steps == 0 {
                return true;
            }
            if !sweep.meets(solid, &shape) {
                continue;
            }
            met.push((pair.other, pair.stand));
            let (after, cure) = sweep.how(solid, &shape);
            let mover = self.moved_by[pair.other].first().copied();
            meetings.push(Meeting {
                motion: pair.at,
                own: self.things[pair.own].0,
                other: self.things[pair.other].0,
                other_moves: mover.map(|mover| (mover, pair.stand)),
                after,
                cure,
            });
            break;
        }
        meetings.len() >= MOST_MEETINGS
    }
}

/// By motion: the smallest cuboid around what it moves, as that was placed and without what stands out of it.
fn bounds(model: &Model, by_moving: &HashMap<Moving, usize>) -> Vec<Option<Solid>> {
    let mut bounds: Vec<Option<Solid>> = vec![None; model.motions.len()];
    for (id, part) in model.part_ids() {
        let pieces = std::iter::successors(Some(part.piece), |&piece| model.piece(piece).parent);
        for moving in std::iter::once(Moving::Part(id)).chain(pieces.map(Moving::Piece)) {
            if let Some(&motion) = by_moving.get(&moving) {
                bounds[motion] = Some(bounds[motion].map_or(part.placed, |known| known.hull(&part.placed)));
            }
        }
    }
    bounds
}

const NOTHING: Solid = Solid::new([Length::ZERO; 3], [Length::ZERO; 3]);

#[derive(Clone, Copy)]
struct Pair {
    at: usize,
    own: usize,
    other: usize,
    stand: Stand,
}

/// What stands somewhere: a cuboid, or one that has been turned.
enum Shape {
    Solid(Solid),
    Turned { along: Axis, from: Length, to: Length, corners: [[i128; 2]; 4] },
}

/// A motion with its line worked out.
enum Sweep {
    Slide { out: Face, travel: Length },
    Turn { turn: Turn, hinge: Hinge },
}

impl Sweep {
    /// The way of a motion of what fills `bounds`, if it fills anything.
    fn new(motion: &Motion, bounds: Option<Solid>) -> Option<Self> {
        Some(match motion.way {
            Way::Slide { out, travel } => Self::Slide { out, travel },
            Way::Turn(turn) => Self::Turn { turn, hinge: Hinge::new(&bounds?, turn) },
        })
    }

    /// A cuboid that holds all of the swept volume.
    fn around(&self, solid: &Solid) -> Solid {
        match self {
            Self::Slide { out, travel } => solid.grown(*out, *travel),
            Self::Turn { hinge, .. } => {
                let reach = hinge.reach(solid);
                let mut around = *solid;
                for (place, axis) in [hinge.across, hinge.outwards].map(Face::axis).into_iter().enumerate() {
                    around.low[axis.index()] = hinge.at[place] - reach;
                    around.high[axis.index()] = hinge.at[place] + reach;
                }
                around
            }
        }
    }

    /// Whether the cuboid meets the shape on its way. What shares space already while it is closed is no matter of the way; it is
    /// told as shared space.
    fn meets(&self, solid: &Solid, shape: &Shape) -> bool {
        match (self, shape) {
            (Self::Slide { out, travel }, Shape::Solid(other)) => {
                meet(&solid.grown(*out, *travel), other) && !meet(solid, other) && !other.is_empty()
            }
            (Self::Slide { out, travel }, Shape::Turned { along, from, to, corners }) => {
                let swept = solid.grown(*out, *travel);
                let [a, b] = along.others().map(Axis::index);
                let spot = |point: Point| [point[a], point[b]].map(|length| i128::from(length.nm()));
                swept.low[along.index()] < *to
                    && *from < swept.high[along.index()]
                    && turning::share(&turning::rectangle(spot(swept.low), spot(swept.high)), corners)
            }
            (Self::Turn { turn, hinge }, _) => {
                let Some((leaf, other)) = hinge.both(*turn, solid, shape) else { return false };
                !turning::share(&leaf, &other) && turning::meets(&leaf, &other, turn.degrees)
            }
        }
    }

    /// How far it goes before it meets the shape, and what would free its way.
    fn how(&self, solid: &Solid, shape: &Shape) -> (After, Option<(Face, Length)>) {
        // The shape lacks its skin; what is told counts from its true faces.
        let skin = Length::SAME_SIZE;
        match self {
            Self::Slide { out, travel } => {
                let other = shape.around();
                let apart = other.face(out.opposite()) - solid.face(*out);
                let apart = if out.is_high() { apart } else { -apart };
                let swept = solid.grown(*out, *travel);
                let aside = out.axis().others().into_iter().flat_map(|axis| [axis.low(), axis.high()]);
                let cure = aside.chain([*out]).filter(|way| !is_endless(&other, way.opposite())).map(|way| {
                    let by = swept.face(way) - other.face(way.opposite());
                    (way, (if way.is_high() { by } else { -by }) + skin)
                });
                (After::Length((apart - skin).max(Length::ZERO)), least(cure))
            }
            Self::Turn { turn, hinge } => {
                let Some((leaf, other)) = hinge.both(*turn, solid, shape) else { return (After::Degrees(0), None) };
                let (mut free, mut met) = (0, turn.degrees);
                while met - free > 1 {
                    let middle = u32::midpoint(free, met);
                    if turning::meets(&leaf, &other, middle) { met = middle } else { free = middle }
                }
                let ways = [(hinge.across, [1, 0]), (hinge.across.opposite(), [-1, 0])];
                let ways = ways.into_iter().chain([(hinge.outwards, [0, 1]), (hinge.outwards.opposite(), [0, -1])]);
                let most = hinge.reach(solid) * 2;
                let cure = ways.filter_map(|(face, way)| {
                    Some((face, turning::way_out(&leaf, &other, turn.degrees, way, most)? + skin))
                });
                (After::Degrees(free), least(cure))
            }
        }
    }

    /// Where a cuboid stands when it is open all the way.
    fn end(&self, solid: &Solid) -> Shape {
        match self {
            Self::Slide { out, travel } => {
                let mut shift = [Length::ZERO; 3];
                shift[out.axis().index()] = if out.is_high() { *travel } else { -*travel };
                Shape::Solid(solid.shifted(shift))
            }
            Self::Turn { turn, hinge } => hinge.turned(*turn, solid),
        }
    }
}

/// Whether a cuboid has no end at a face: an obstacle of which nobody said where it ends.
fn is_endless(solid: &Solid, face: Face) -> bool {
    solid.face(face).abs() >= Length::LIMIT - Length::SAME_SIZE * 2
}

fn least(cures: impl Iterator<Item = (Face, Length)>) -> Option<(Face, Length)> {
    cures.min_by_key(|(_, by)| *by).map(|(face, by)| (face, by.to_nearest(Length::SAME_SIZE)))
}

impl Shape {
    fn around(&self) -> Solid {
        match self {
            Self::Solid(solid) => *solid,
            Self::Turned { along, from, to, corners } => {
                let mut around = NOTHING;
                around.low[along.index()] = *from;
                around.high[along.index()] = *to;
                for (place, axis) in along.others().into_iter().enumerate() {
                    let places = || corners.iter().map(|corner| length(corner[place]));
                    around.low[axis.index()] = places().min().unwrap_or(Length::ZERO);
                    around.high[axis.index()] = places().max().unwrap_or(Length::ZERO);
                }
                around
            }
        }
    }
}

/// The plane across a hinge line. Its first axis goes from the hinge across the leaf, its second the way that the leaf opens.
struct Hinge {
    along: Axis,
    across: Face,
    outwards: Face,
    at: [Length; 2],
}

impl Hinge {
    fn new(bounds: &Solid, turn: Turn) -> Self {
        let (across, outwards) = (turn.hinged.opposite(), turn.opens);
        Self { along: turn.along(), across, outwards, at: [bounds.face(turn.hinged), bounds.face(turn.line)] }
    }

    /// The farthest that any corner is from the hinge line, rounded up.
    fn reach(&self, solid: &Solid) -> Length {
        let farthest = self
            .quad(solid)
            .iter()
            .map(|[x, y]| (x * x + y * y).cast_unsigned().isqrt().cast_signed() + 1)
            .max()
            .unwrap_or(0);
        length(farthest)
    }

    fn quad(&self, solid: &Solid) -> Quad {
        let [low, high] = [solid.low, solid.high]
            .map(|point| self.spot([self.across, self.outwards].map(|face| point[face.axis().index()])));
        let order = |a: i128, b: i128| (a.min(b), a.max(b));
        let (x, y) = (order(low[0], high[0]), order(low[1], high[1]));
        turning::rectangle([x.0, y.0], [x.1, y.1])
    }

    /// A place along the two axes as seen from the hinge line.
    fn spot(&self, place: [Length; 2]) -> Spot {
        let seen = |at: usize, face: Face| {
            let from = i128::from((place[at] - self.at[at]).nm());
            if face.is_high() { from } else { -from }
        };
        [seen(0, self.across), seen(1, self.outwards)]
    }

    /// The leaf's cuboid and the shape in the plane, if they stand at one height along the hinge line.
    fn both(&self, turn: Turn, solid: &Solid, shape: &Shape) -> Option<(Quad, Quad)> {
        let around = shape.around();
        let axis = turn.along().index();
        if solid.low[axis] >= around.high[axis] || around.low[axis] >= solid.high[axis] || around.is_empty() {
            return None;
        }
        let other = match shape {
            Shape::Turned { along, corners, .. } if *along == self.along => {
                let order = if self.across.axis().index() < self.outwards.axis().index() { [0, 1] } else { [1, 0] };
                corners.map(|corner| self.spot(order.map(|place| length(corner[place]))))
            }
            // What hangs on a hinge line across this one is taken as the cuboid around it.
            _ => self.quad(&around),
        };
        Some((self.quad(solid), other))
    }

    /// Where a cuboid stands when the leaf has turned.
    fn turned(&self, turn: Turn, solid: &Solid) -> Shape {
        let first = self.across.axis().index() < self.outwards.axis().index();
        let corners = turning::turned(&self.quad(solid), turn.degrees).map(|spot| {
            let place = |at: usize, face: Face| {
                i128::from(self.at[at].nm()) + if face.is_high() { spot[at] } else { -spot[at] }
            };
            let (x, y) = (place(0, self.across), place(1, self.outwards));
            if first { [x, y] } else { [y, x] }
        });
        let axis = self.along.index();
        let turned = Shape::Turned { along: self.along, from: solid.low[axis], to: solid.high[axis], corners };
        if turn.degrees.is_multiple_of(90) { Shape::Solid(turned.around()) } else { turned }
    }
}

fn length(nm: i128) -> Length {
    Length::from_nm(i64::try_from(nm).unwrap_or(i64::MAX))
}
