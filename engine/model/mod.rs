//! Layer 2: the piece as it stands in the shop: parts of stock, joints between them, openings and hardware.
//!
//! A model is built by calls that read like the work (`add_piece`, `add_part`, `add_joint`); a recipe does nothing else.
//! Positions are in the piece they were written for until [`Model::settle`] turns them into positions in the whole job.

mod bearing;
mod cutting;
mod feature;
mod hardware;
mod input;
mod load;
mod motion;
mod obstacle;
mod opening;
mod options;
mod part;
mod shop;
mod stock;

pub use bearing::{Bearing, Lies};
pub use cutting::{BoardRun, CuttingRules, FirstCut, RackPiece, Supply, SupplySize};
pub use feature::{Bore, Feature, Shape};
pub use hardware::{Hardware, HardwareClass, HardwareKind, HardwareUse, SlideFit, Slides, Unit as HardwareUnit};
pub use input::{Input, InputKind};
pub use load::{Bearer, Load, LoadUnit};
pub use motion::{Motion, Moving, StandsOut, Turn, Way};
pub use obstacle::Obstacle;
pub use opening::{Diagonals, Front, FrontStyle, Opening, plumb_height};
pub use options::{Kind, OptionSpec, Options, Value};
pub use part::{Banding, BandingOrder, Part};
pub use shop::{Air, Fits, Shop};
pub use stock::{Material, Money, Per, Price, Stock, StockForm};

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::base::{Length, Point, Printing, Solid, Unit};
use crate::diag::At;

/// Names a piece of a [`Model`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PieceId(pub u32);

/// Names a part of a [`Model`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PartId(pub u32);

/// Names an opening of a [`Model`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct OpeningId(pub u32);

/// Names a joint of a [`Model`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct JointId(pub u32);

/// A piece of furniture or a part of one that is built by itself: a bench, its drawer bank, one drawer box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// What it is called.
    pub name: String,
    /// The piece that it stands in; only the root has none once the model is settled.
    pub parent: Option<PieceId>,
    /// Where its zero corner lies in its parent; in the whole job once the model is settled.
    pub shift: Point,
    /// The recipe line that made it.
    pub at: Option<At>,
}

/// A joint between one part and the parts it meets, as the recipe asked for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JointUse {
    /// The joint's name in `joints::ALL`.
    pub joint: &'static str,
    /// The part that is fitted.
    pub member: PartId,
    /// The parts that it is fitted to.
    pub into: Vec<PartId>,
    /// What the recipe chose.
    pub options: Options,
    /// The recipe line that made it.
    pub at: Option<At>,
}

/// One setting of a machine that a joint needs, and the parts that share it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setting {
    /// What is set: `fence`, `blade height`, `depth stop` ...
    pub what: &'static str,
    /// What for: `groove for 1/4" panels`.
    pub work: String,
    /// The size to set.
    pub value: Length,
    /// How to come by it, or what to mind.
    pub note: String,
    /// The part that needs it.
    pub part: PartId,
}

/// When work is done, in the order of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// On parts that still lie flat: notches, rows of holes.
    Parts,
    /// Putting pieces together.
    Build,
    /// Where it will stand, before anything is put into it.
    Anchor,
    /// Hinges and their plates.
    Fit,
    /// What moves: drawers, doors, lids.
    Hang,
}

/// A sentence for assembly, the piece that it is about, and when it comes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// The piece that holds every part of the step.
    pub piece: PieceId,
    /// When it comes.
    pub stage: Stage,
    /// The sentence.
    pub text: String,
}

/// A part held to another by a joint or by hardware. `None` stands for what the job hangs in: the room or a measured opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hold {
    /// The part that is held.
    pub part: PartId,
    /// What holds it.
    pub to: Option<PartId>,
}

/// A position to mark out on a part or in an opening, as the recipe worked it out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MarkOut {
    /// What is marked: `slide 2, centre line`.
    pub what: String,
    /// From where: `from the floor of the opening`.
    pub from: String,
    /// How far.
    pub distance: Length,
}

/// A box whose diagonals tell whether it is square.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Squareness {
    /// What is measured.
    pub what: String,
    /// The outside width of the glued-up box.
    pub width: Length,
    /// Its outside depth or height.
    pub depth: Length,
}

/// The whole job: everything that checks, lists and papers are made from.
#[derive(Clone, Debug)]
pub struct Model {
    /// What the job is called.
    pub title: String,
    /// How its lengths are printed.
    pub printing: Printing,
    /// The pieces; the first is the root.
    pub pieces: Vec<Piece>,
    /// The parts, in the order in which the recipe made them.
    pub parts: Vec<Part>,
    /// The openings.
    pub openings: Vec<Opening>,
    /// The fronts that cover or fill openings.
    pub fronts: Vec<Front>,
    /// Openings whose fronts may have uneven gaps, because the recipe says so.
    pub uneven: Vec<OpeningId>,
    /// What moves, and how.
    pub motions: Vec<Motion>,
    /// What stands out from parts: pulls, hinge plates.
    pub stands_out: Vec<StandsOut>,
    /// What stands where the piece will stand, and is none of it.
    pub obstacles: Vec<Obstacle>,
    /// The joints as asked for.
    pub joints: Vec<Arc<JointUse>>,
    /// Hardware that recipe and joints need.
    pub hardware: Vec<HardwareUse>,
    /// What holds what, as joints and hardware left it.
    pub holds: Vec<Hold>,
    /// The joints that let their part turn.
    pub hinges: Vec<JointId>,
    /// The faces that the joints lay against one another.
    pub bearings: Vec<Bearing>,
    /// Machine settings that the joints need.
    pub settings: Vec<Setting>,
    /// What shelves and drawers are to carry.
    pub loads: Vec<Load>,
    /// What the piece is fastened to so that it cannot tip, if the recipe says so.
    pub anchor: Option<String>,
    /// Sentences for assembly, in the order of the recipe.
    pub steps: Vec<Step>,
    /// By the place of a step: the parts that it joins or hangs, the one that is fitted first.
    pub step_parts: BTreeMap<usize, Vec<PartId>>,
    /// Positions to mark out.
    pub mark_outs: Vec<MarkOut>,
    /// Boxes to check for square.
    pub squares: Vec<Squareness>,
    /// Notes of the recipe for the maker.
    pub notes: Vec<String>,
    /// The inputs with their values in this job.
    pub inputs: Vec<Input>,
}

impl Model {
    /// An empty job with its root piece.
    pub fn new(title: &str, printing: Printing) -> Self {
        Self {
            title: title.to_owned(),
            printing,
            pieces: vec![Piece { name: title.to_owned(), parent: None, shift: [Length::ZERO; 3], at: None }],
            parts: Vec::new(),
            openings: Vec::new(),
            fronts: Vec::new(),
            uneven: Vec::new(),
            motions: Vec::new(),
            stands_out: Vec::new(),
            obstacles: Vec::new(),
            joints: Vec::new(),
            hardware: Vec::new(),
            holds: Vec::new(),
            hinges: Vec::new(),
            bearings: Vec::new(),
            settings: Vec::new(),
            loads: Vec::new(),
            anchor: None,
            steps: Vec::new(),
            step_parts: BTreeMap::new(),
            mark_outs: Vec::new(),
            squares: Vec::new(),
            notes: Vec::new(),
            inputs: Vec::new(),
        }
    }

    /// The piece that everything else stands in.
    pub const ROOT: PieceId = PieceId(0);

    /// The unit of the job.
    pub const fn unit(&self) -> Unit {
        self.printing.unit
    }

    /// Adds a piece that is not yet placed.
    pub fn add_piece(&mut self, name: &str, at: Option<At>) -> PieceId {
        self.pieces.push(Piece { name: name.to_owned(), parent: None, shift: [Length::ZERO; 3], at });
        PieceId(id(self.pieces.len()))
    }

    /// Places a piece in another by a shift of its zero corner.
    pub fn place(&mut self, piece: PieceId, parent: PieceId, shift: Point) {
        let piece = self.piece_mut(piece);
        piece.parent = Some(parent);
        piece.shift = shift;
    }

    /// Adds a part.
    pub fn add_part(&mut self, part: Part) -> PartId {
        self.parts.push(part);
        PartId(id(self.parts.len()))
    }

    /// Adds an opening.
    pub fn add_opening(&mut self, opening: Opening) -> OpeningId {
        self.openings.push(opening);
        OpeningId(id(self.openings.len()))
    }

    /// Adds a joint, to be made once every part is there.
    pub fn add_joint(&mut self, joint: JointUse) -> JointId {
        self.joints.push(Arc::new(joint));
        JointId(id(self.joints.len()))
    }

    /// The piece of an id.
    pub fn piece(&self, id: PieceId) -> &Piece {
        &self.pieces[id.0 as usize]
    }

    /// The piece of an id, to be changed.
    pub fn piece_mut(&mut self, id: PieceId) -> &mut Piece {
        &mut self.pieces[id.0 as usize]
    }

    /// The part of an id.
    pub fn part(&self, id: PartId) -> &Part {
        &self.parts[id.0 as usize]
    }

    /// The part of an id, to be changed.
    pub fn part_mut(&mut self, id: PartId) -> &mut Part {
        &mut self.parts[id.0 as usize]
    }

    /// The opening of an id.
    pub fn opening(&self, id: OpeningId) -> &Opening {
        &self.openings[id.0 as usize]
    }

    /// The joint of an id.
    pub fn joint(&self, id: JointId) -> &JointUse {
        &self.joints[id.0 as usize]
    }

    /// Every part with its id.
    pub fn part_ids(&self) -> impl Iterator<Item = (PartId, &Part)> {
        self.parts.iter().enumerate().map(|(i, part)| (PartId(id(i + 1)), part))
    }

    /// The parts of a piece and of the pieces in it.
    pub fn parts_of(&self, piece: PieceId) -> impl Iterator<Item = (PartId, &Part)> {
        self.part_ids().filter(move |(_, part)| self.stands_in(part.piece, piece))
    }

    /// Whether `piece` is `outer` or stands in it.
    pub fn stands_in(&self, piece: PieceId, outer: PieceId) -> bool {
        let mut next = Some(piece);
        while let Some(id) = next {
            if id == outer {
                return true;
            }
            next = self.piece(id).parent;
        }
        false
    }

    /// The innermost piece in which all of these parts stand.
    pub fn common_piece(&self, parts: impl IntoIterator<Item = PartId>) -> PieceId {
        let mut parts = parts.into_iter().map(|part| self.part(part).piece);
        let Some(first) = parts.next() else { return Self::ROOT };
        parts.fold(first, |mut common, piece| {
            while common != Self::ROOT && !self.stands_in(piece, common) {
                common = self.piece(common).parent.unwrap_or(Self::ROOT);
            }
            common
        })
    }

    /// How many pieces a piece stands in.
    pub fn depth(&self, piece: PieceId) -> usize {
        std::iter::successors(self.piece(piece).parent, |outer| self.piece(*outer).parent).count()
    }

    /// The smallest cuboid around all parts of a piece.
    pub fn bounds(&self, piece: PieceId) -> Option<Solid> {
        self.parts_of(piece).map(|(_, part)| part.solid).reduce(|a, b| a.hull(&b))
    }

    /// The smallest cuboid around all parts of a piece as placed, in its own coordinates, before the model is settled.
    pub fn bounds_as_placed(&self, piece: PieceId) -> Option<Solid> {
        let in_piece = |part: &Part| {
            let mut solid = part.placed;
            let mut next = part.piece;
            while next != piece {
                solid = solid.shifted(self.piece(next).shift);
                next = self.piece(next).parent?;
            }
            Some(solid)
        };
        self.parts_of(piece).filter_map(|(_, part)| in_piece(part)).reduce(|a, b| a.hull(&b))
    }

    /// The part's name with the piece that it stands in: `drawer 2 / side`.
    pub fn full_name(&self, id: PartId) -> String {
        let part = self.part(id);
        if part.piece == Self::ROOT {
            return part.name.clone();
        }
        format!("{} / {}", self.piece(part.piece).name, part.name)
    }

    /// Turns every position into a position in the whole job. Pieces that were never placed stay at the zero corner.
    pub fn settle(&mut self) {
        let shifts: Vec<Point> = (1..=self.pieces.len()).map(|i| self.shift_in_job(PieceId(id(i)))).collect();
        for part in &mut self.parts {
            let shift = shifts[part.piece.0 as usize];
            part.placed = part.placed.shifted(shift);
            part.solid = part.placed;
        }
        for opening in &mut self.openings {
            opening.solid = opening.solid.shifted(shifts[opening.piece.0 as usize]);
        }
        for (piece, shift) in self.pieces.iter_mut().zip(shifts) {
            piece.shift = shift;
        }
    }

    /// How far a piece stands from the job's zero corner while the model is being drawn; once it is settled, each piece's own
    /// shift tells that.
    pub(crate) fn shift_in_job(&self, piece: PieceId) -> Point {
        let mut sum = [Length::ZERO; 3];
        let mut next = Some(piece);
        while let Some(id) = next {
            let piece = self.piece(id);
            for (axis, total) in sum.iter_mut().enumerate() {
                *total += piece.shift[axis];
            }
            next = piece.parent;
        }
        sum
    }
}

/// The id of the last of `count` entries. A job is far below four thousand million of anything.
fn id(count: usize) -> u32 {
    u32::try_from(count - 1).unwrap_or(u32::MAX)
}
