//! A part: a cuboid of one stock, with its grain, its faces, its banded edges and the material taken out of it.

use std::sync::Arc;

use super::{Feature, PieceId, Stock};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::At;

/// A band or lipping on one edge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Banding {
    /// The band.
    pub stock: Arc<Stock>,
    /// The edge, named by where it looks.
    pub edge: Face,
    /// Whether it runs over the ends of the bands on the neighbouring edges.
    pub runs_through: bool,
    /// Whether the core is cut smaller by the band's thickness, so that the finished part has the size drawn.
    pub taken_off: bool,
}

/// When a part is brought to size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BandingOrder {
    /// The core is cut to its final size, then banded.
    AfterSizing,
    /// The core is cut longer by this much along its banded edges, banded, and trimmed to size through band and core together.
    BeforeSizing(Length),
}

/// One part of a piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is called: `side`, `bottom`.
    pub name: String,
    /// The piece that it belongs to.
    pub piece: PieceId,
    /// What it is made of.
    pub stock: Arc<Stock>,
    /// Where the maker placed it: what is seen of it, without tongues.
    pub placed: Solid,
    /// What it fills with its tongues, once the joints are made.
    pub solid: Solid,
    /// The axis of its thickness.
    pub thickness: Axis,
    /// The axis that its grain runs along; `None` for stock without grain.
    pub grain: Option<Axis>,
    /// Whether the recipe asked for that grain direction, rather than leaving it to the longer side.
    pub grain_asked: bool,
    /// The face that will be seen, if one matters.
    pub show: Option<Face>,
    /// Banded edges.
    pub bands: Vec<Banding>,
    /// When it is banded.
    pub banding_order: BandingOrder,
    /// Material taken out of it.
    pub features: Vec<Feature>,
    /// Why no joint holds it, if that is meant: `rests on shelf pins`.
    pub loose: Option<String>,
    /// A word for the maker.
    pub note: Option<String>,
    /// The recipe line that made it.
    pub at: Option<At>,
}

impl Part {
    /// A part of `stock` at `placed`, with its grain along its longer side and nothing done to it yet.
    ///
    /// The thickness runs along the axis on which `placed` is as thick as the stock; of several, the shortest, then the first.
    pub fn new(name: &str, piece: PieceId, stock: Arc<Stock>, placed: Solid) -> Self {
        let thickness = thickness_axis(&placed, stock.thickness());
        let grain = stock.grain.then(|| longer(&placed, thickness));
        Self {
            name: name.to_owned(),
            piece,
            stock,
            placed,
            solid: placed,
            thickness,
            grain,
            grain_asked: false,
            show: None,
            bands: Vec::new(),
            banding_order: BandingOrder::AfterSizing,
            features: Vec::new(),
            loose: None,
            note: None,
            at: None,
        }
    }

    /// The axis that the list's length runs along: the grain, or without grain the longer side.
    pub fn length_axis(&self) -> Axis {
        self.grain.unwrap_or_else(|| longer(&self.solid, self.thickness))
    }

    /// The axis that the list's width runs along.
    pub fn width_axis(&self) -> Axis {
        let [a, b] = self.thickness.others();
        if self.length_axis() == a { b } else { a }
    }

    /// The size to cut along an axis: what the part fills, less the bands that are taken off, plus what is trimmed after banding.
    pub fn cut_size(&self, axis: Axis) -> Length {
        let bands: Length =
            self.bands_across(axis).filter(|band| band.taken_off).map(|band| band.stock.thickness()).sum();
        self.solid.size(axis) - bands + self.trimmed_after_banding(axis)
    }

    /// The size when all is done along an axis: what the part fills, plus the bands that are not taken off.
    pub fn finished_size(&self, axis: Axis) -> Length {
        let bands: Length =
            self.bands_across(axis).filter(|band| !band.taken_off).map(|band| band.stock.thickness()).sum();
        self.solid.size(axis) + bands
    }

    /// What is cut off along an axis once the part is banded.
    pub fn trimmed_after_banding(&self, axis: Axis) -> Length {
        match self.banding_order {
            BandingOrder::BeforeSizing(allowance)
                if axis != self.thickness && self.bands.iter().any(|band| band.edge.axis() != axis) =>
            {
                allowance
            }
            _ => Length::ZERO,
        }
    }

    /// The band on an edge, if there is one.
    pub fn band_on(&self, edge: Face) -> Option<&Banding> {
        self.bands.iter().find(|band| band.edge == edge)
    }

    /// The finished length of the band on an edge: the edge, less the neighbours' bands where those run through.
    pub fn band_length(&self, band: &Banding) -> Length {
        let along = self.edge_axis(band.edge);
        let shortened: Length = [along.low(), along.high()]
            .into_iter()
            .filter_map(|end| self.band_on(end))
            .filter(|end| end.runs_through && !band.runs_through)
            .map(|end| end.stock.thickness())
            .sum();
        self.finished_size(along) - shortened
    }

    /// The axis that an edge runs along.
    pub fn edge_axis(&self, edge: Face) -> Axis {
        let [a, b] = self.thickness.others();
        if edge.axis() == a { b } else { a }
    }

    /// The material that is left, as cuboids that do not overlap.
    pub fn material(&self) -> Vec<Solid> {
        self.solid.less_all(self.features.iter().map(|feature| &feature.solid))
    }

    fn bands_across(&self, axis: Axis) -> impl Iterator<Item = &Banding> {
        self.bands.iter().filter(move |band| band.edge.axis() == axis)
    }
}

fn thickness_axis(solid: &Solid, thickness: Length) -> Axis {
    let fits = |axis: &Axis| solid.size(*axis).same_size(thickness);
    Axis::ALL
        .into_iter()
        .filter(fits)
        .min_by_key(|&axis| solid.size(axis))
        .unwrap_or_else(|| Axis::ALL.into_iter().min_by_key(|&axis| solid.size(axis)).unwrap_or(Axis::Z))
}

fn longer(solid: &Solid, thickness: Axis) -> Axis {
    let [a, b] = thickness.others();
    if solid.size(b) > solid.size(a) { b } else { a }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Material, Model, StockForm};

    fn stock(thickness: Length, form: StockForm) -> Arc<Stock> {
        Arc::new(Stock::new("test stock", Material::Other, form, thickness))
    }

    fn shelf() -> Part {
        // A shelf 30 in wide, 11 in deep, 3/4 in thick.
        let sheet = stock(
            Length::from_inch(3, 4),
            StockForm::Sheet { length: Length::from_inch(96, 1), width: Length::from_inch(48, 1) },
        );
        let high = [Length::from_inch(30, 1), Length::from_inch(11, 1), Length::from_inch(3, 4)];
        Part::new("shelf", Model::ROOT, sheet, Solid::new([Length::ZERO; 3], high))
    }

    fn lipping(edge: Face, runs_through: bool, taken_off: bool) -> Banding {
        let form = StockForm::Band { width: Length::from_inch(7, 8), roll: None, taken_off };
        Banding { stock: stock(Length::from_inch(1, 4), form), edge, runs_through, taken_off }
    }

    #[test]
    fn bands_that_are_taken_off_make_the_core_smaller() {
        let mut part = shelf();
        part.bands = vec![lipping(Face::Front, true, true), lipping(Face::Left, false, true)];
        assert_eq!((part.length_axis(), part.width_axis()), (Axis::X, Axis::Y));
        // 30 - 1/4 by 11 - 1/4; the finished shelf keeps 30 by 11.
        assert_eq!(part.cut_size(Axis::X), Length::from_inch(119, 4));
        assert_eq!(part.cut_size(Axis::Y), Length::from_inch(43, 4));
        assert_eq!(part.finished_size(Axis::X), Length::from_inch(30, 1));
        // The front lipping runs through (30 in); the left one stops behind it (11 - 1/4).
        assert_eq!(part.band_length(&part.bands[0]), Length::from_inch(30, 1));
        assert_eq!(part.band_length(&part.bands[1]), Length::from_inch(43, 4));
    }

    #[test]
    fn bands_that_are_not_taken_off_make_the_part_larger() {
        let mut part = shelf();
        part.bands = vec![lipping(Face::Front, true, false)];
        assert_eq!(part.cut_size(Axis::Y), Length::from_inch(11, 1));
        assert_eq!(part.finished_size(Axis::Y), Length::from_inch(45, 4));
    }

    #[test]
    fn banding_before_sizing_leaves_the_ends_to_trim() {
        let mut part = shelf();
        part.bands = vec![lipping(Face::Front, true, true)];
        part.banding_order = BandingOrder::BeforeSizing(Length::from_inch(1, 2));
        assert_eq!(part.cut_size(Axis::X), Length::from_inch(61, 2));
        assert_eq!(part.cut_size(Axis::Y), Length::from_inch(43, 4));
        assert_eq!(part.finished_size(Axis::X), Length::from_inch(30, 1));
    }
}
