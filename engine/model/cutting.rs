//! How a shop gets parts out of sheets and boards: its saw, its habits, what it keeps and what it has in hand.

use super::Money;
use crate::base::{Length, Ratio};

/// With which cut a sheet is begun.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FirstCut {
    /// Along the longer side, into strips.
    #[default]
    Rip,
    /// Along the shorter side.
    Crosscut,
    /// Whichever is better.
    Free,
}

impl FirstCut {
    /// All of them with the words that name them.
    pub const ALL: [(Self, &'static str); 3] =
        [(Self::Rip, "rip first"), (Self::Crosscut, "crosscut first"), (Self::Free, "free")];
}

/// The rules by which stock is cut up. The defaults are marked in the shop file's reference.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CuttingRules {
    /// With which cut a sheet is begun.
    pub first: FirstCut,
    /// How often the direction of cutting may change on the way to a part; `None` for as often as it takes.
    pub stages: Option<u8>,
    /// What the saw that cuts sheets takes away; `None` for the shop's kerf.
    pub sheet_kerf: Option<Length>,
    /// What the saw that rips boards takes away; `None` for the shop's kerf.
    pub rip_kerf: Option<Length>,
    /// What the saw that crosscuts boards takes away; `None` for the shop's kerf.
    pub crosscut_kerf: Option<Length>,
    /// What is trimmed off the two short sides of a sheet; `None` for the shop's trim.
    pub trim_ends: Option<[Length; 2]>,
    /// What is trimmed off the two long sides of a sheet; `None` for the shop's trim.
    pub trim_edges: Option<[Length; 2]>,
    /// What is cut off each end of a board.
    pub end_trim: Length,
    /// The longest rip that the saw's surroundings allow.
    pub longest_rip: Option<Length>,
    /// The longest crosscut that the saw can make.
    pub crosscut_capacity: Option<Length>,
    /// The narrowest piece that is cut off at the fence without a jig.
    pub narrowest: Length,
    /// The weight, in grams, up to which one person handles a piece.
    pub heaviest: i64,
    /// The least short side of an offcut of a sheet that is kept.
    pub offcut_short: Length,
    /// The least long side of an offcut of a sheet that is kept.
    pub offcut_long: Length,
    /// The least width of what is kept of a board.
    pub board_offcut_width: Length,
    /// The least length of what is kept of a board.
    pub board_offcut_length: Length,
    /// What a whole sheet on the rack is worth, as a share of a new one.
    pub offcut_worth: Ratio,
    /// What a part that is ripped from a board is cut wider, to be jointed off.
    pub joint_oversize: Length,
    /// What a part of a board is cut longer, to be squared off.
    pub length_oversize: Length,
    /// What a part of a sheet is cut over its size each way, to be trimmed or edged off.
    pub panel_oversize: Length,
    /// The widest strip that goes into a glued-up part.
    pub widest_strip: Length,
    /// Whether the fronts of one bank are cut next to each other in order.
    pub match_fronts: bool,
}

impl Default for CuttingRules {
    fn default() -> Self {
        Self {
            // Common practice, no source: a whole sheet is easiest to rip into strips first.
            first: FirstCut::Rip,
            // Common practice, no source: rip, crosscut, and one more rip is what a crew keeps in its head.
            stages: Some(3),
            sheet_kerf: None,
            rip_kerf: None,
            crosscut_kerf: None,
            trim_ends: None,
            trim_edges: None,
            // Common practice, no source: half an inch off each end takes dirt, paint and most end checks away.
            end_trim: Length::from_inch(1, 2),
            longest_rip: None,
            crosscut_capacity: None,
            // Common practice, no source: what is narrower than three quarters of an inch wants a jig for thin strips.
            narrowest: Length::from_inch(3, 4),
            // From memory: 23 kg (51 lb) is the load constant of the revised NIOSH lifting equation.
            heaviest: 23_000,
            // Common practice, no source: what is smaller than 6 by 24 inches is seldom found again.
            offcut_short: Length::from_inch(6, 1),
            offcut_long: Length::from_inch(24, 1),
            // Common practice, no source: a strip of two by twenty-four inches still makes a rail, an edging or a drawer side.
            board_offcut_width: Length::from_inch(2, 1),
            board_offcut_length: Length::from_inch(24, 1),
            // Common practice, no source: stored stock is worth half, since it takes room and may not be used.
            offcut_worth: Ratio::new(1, 2),
            // Common practice, no source: an eighth of an inch for one pass over each edge.
            joint_oversize: Length::from_inch(1, 8),
            length_oversize: Length::ZERO,
            panel_oversize: Length::ZERO,
            // Common practice, no source: panels glued up from strips of up to six inches stay flatter.
            widest_strip: Length::from_inch(6, 1),
            match_fronts: true,
        }
    }
}

/// A further size of a stock: sold, or in hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SupplySize {
    /// Length, along the grain.
    pub length: Length,
    /// Width.
    pub width: Length,
    /// What one costs, where a price is known.
    pub price: Option<Money>,
    /// Where it lies in a board with defects, when it is what is good between two of them.
    pub run: Option<BoardRun>,
}

/// A good length of a board, between two defects or a defect and an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoardRun {
    /// The length of the whole board.
    pub of: Length,
    /// How far from the board's end it begins.
    pub from: Length,
}

/// What there is of a stock beside its usual size.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Supply {
    /// Other sizes that are sold.
    pub sizes: Vec<SupplySize>,
    /// Pieces in hand, with how many there are.
    pub in_hand: Vec<(u32, SupplySize)>,
}

/// An offcut on the shop's rack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RackPiece {
    /// The name of its stock.
    pub stock: String,
    /// Its thickness, where the list says it.
    pub thickness: Option<Length>,
    /// Length, along the grain.
    pub length: Length,
    /// Width.
    pub width: Length,
    /// How many.
    pub count: u32,
    /// What using one is reckoned to cost; by the rule for offcuts when it is not said.
    pub price: Option<Money>,
}
