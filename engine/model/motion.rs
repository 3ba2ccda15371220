//! What moves once the piece stands: drawers slide, doors and flaps swing, lids lift. And what stands out from a part.

use super::{Model, OpeningId, PartId, PieceId};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::At;

/// Names what moves: a piece with all that is in it and on it, or one part with what is on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Moving {
    /// A part that is made of nothing else: a slab door.
    Part(PartId),
    /// A piece: a drawer box, a door of frame and panel.
    Piece(PieceId),
}

/// How something moves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Motion {
    /// What moves.
    pub moving: Moving,
    /// Which way and how far.
    pub way: Way,
    /// What must be open before it can move: the door in front of a drawer.
    pub behind: Vec<Moving>,
    /// What may stand open at the same time.
    pub with_open: Vec<Moving>,
    /// The opening that it closes or runs in, where the recipe names one.
    pub opening: Option<OpeningId>,
    /// The recipe line that said so.
    pub at: Option<At>,
}

/// Which way something moves, and how far.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Straight out.
    Slide {
        /// The way out, as the face that leads.
        out: Face,
        /// How far.
        travel: Length,
    },
    /// Round a hinge line.
    Turn(Turn),
}

/// A turn round the line where two faces of the leaf meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Turn {
    /// The edge that the hinges are on.
    pub hinged: Face,
    /// The face that swings outwards.
    pub opens: Face,
    /// Which broad face the hinge line lies in: `opens`, or the face behind it.
    pub line: Face,
    /// How far it turns, in whole degrees from 1 to [`Turn::MOST`].
    pub degrees: u32,
}

impl Turn {
    /// A leaf folds flat against what it hangs on at 270 degrees and goes no further.
    pub const MOST: u32 = 270;

    /// The axis that the hinge line runs along.
    pub fn along(&self) -> Axis {
        Axis::ALL
            .into_iter()
            .find(|&axis| axis != self.hinged.axis() && axis != self.opens.axis())
            .unwrap_or(self.hinged.axis())
    }
}

/// Something bought that stands out from a face of a part and moves with it: a pull, a hinge plate, a lock.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StandsOut {
    /// What it is called.
    pub what: String,
    /// The part that it is fixed to.
    pub part: PartId,
    /// The face that it stands out from.
    pub face: Face,
    /// How far it stands out.
    pub by: Length,
    /// Its size along the two axes of the face, in their order.
    pub size: [Length; 2],
    /// Where its middle is along these two axes, from the low faces of the part; else the middle.
    pub middle: [Option<Length>; 2],
    /// How many there are; where no place is given along the first axis they share it evenly.
    pub count: i64,
    /// The recipe line that said so.
    pub at: Option<At>,
}

impl StandsOut {
    /// The cuboids that hold it, in the coordinates of the part.
    pub fn solids(&self, model: &Model) -> Vec<Solid> {
        let part = model.part(self.part).placed;
        let [first, second] = self.face.axis().others();
        (0..self.count)
            .map(|nth| {
                let mut solid = part;
                solid.set_face(self.face.opposite(), part.face(self.face));
                solid = solid.grown(self.face, self.by);
                for (axis, size, given) in
                    [(first, self.size[0], self.middle[0]), (second, self.size[1], self.middle[1])]
                {
                    // The middle of the nth of equal shares of the first axis; there is one share of the second.
                    let (nth, count) = if axis == first { (nth, self.count) } else { (0, 1) };
                    let share = part.size(axis).nm() / (2 * count) * (2 * nth + 1);
                    let low = part.face(axis.low()) + given.unwrap_or(Length::from_nm(share)) - size.half();
                    solid.set_face(axis.low(), low);
                    solid.set_face(axis.high(), low + size);
                }
                solid
            })
            .collect()
    }
}

impl Model {
    /// The name of what moves, as papers say it.
    pub fn moving_name(&self, moving: Moving) -> String {
        match moving {
            Moving::Part(part) => self.full_name(part),
            Moving::Piece(piece) => self.piece(piece).name.clone(),
        }
    }

    /// Whether a part is what moves or stands in it.
    pub fn is_of(&self, part: PartId, moving: Moving) -> bool {
        match moving {
            Moving::Part(own) => own == part,
            Moving::Piece(piece) => self.stands_in(self.part(part).piece, piece),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::base::Printing;
    use crate::model::{Material, Part, Stock, StockForm};

    #[test]
    fn two_pulls_share_a_front_and_one_stands_in_its_middle() {
        let mm = Length::from_mm;
        let mut model = Model::new("test", Printing::default());
        let form = StockForm::Sheet { length: mm(2_440), width: mm(1_220) };
        let stock = Arc::new(Stock::new("ply", Material::Other, form, mm(18)));
        let solid = Solid::new([mm(100), mm(0), mm(50)], [mm(900), mm(18), mm(250)]);
        let part = model.add_part(Part::new("front", Model::ROOT, stock, solid));
        let mut pull = StandsOut {
            what: "pull".into(),
            part,
            face: Face::Front,
            by: mm(30),
            size: [mm(120), mm(20)],
            middle: [None, None],
            count: 1,
            at: None,
        };
        // The middle of 100 to 900 is 500, that of 50 to 250 is 150.
        let one = Solid::new([mm(440), mm(-30), mm(140)], [mm(560), mm(0), mm(160)]);
        assert_eq!(pull.solids(&model), [one]);
        // Two share 800: their middles are 200 and 600 from the left. 40 from the lower edge is 90 up.
        pull.count = 2;
        pull.middle = [None, Some(mm(40))];
        let lows: Vec<_> = pull.solids(&model).iter().map(|solid| (solid.low[0], solid.low[2])).collect();
        assert_eq!(lows, [(mm(240), mm(80)), (mm(640), mm(80))]);
    }
}
