//! The shop: what is on the rack as measured, what the saw takes, what things cost, how a rule is read.

use std::sync::Arc;

use super::{CuttingRules, RackPiece, Stock};
use crate::base::{Length, Ratio, Unit};

/// Facts about the shop that every job shares. The defaults are marked in the shop file's reference.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shop {
    /// The unit that the shop works in, if the shop file says.
    pub units: Option<Unit>,
    /// The finest division of the shop's rule, to the inch: 16, 32 or 64.
    pub denominator: i64,
    /// What the saw blade takes away, of every saw that is not given one of its own.
    pub kerf: Length,
    /// What is trimmed from each factory edge of a sheet.
    pub trim: Length,
    /// How far a cut may be off, each way.
    pub cutting_tolerance: Length,
    /// The share of area or length bought beyond what the parts need.
    pub waste: Ratio,
    /// Band cut longer than its edge at each end, to be trimmed flush.
    pub band_allowance: Length,
    /// The air that the work stands in at its driest.
    pub driest: Air,
    /// The air that it stands in at its dampest.
    pub dampest: Air,
    /// How much wider than what goes in a cut is made.
    pub fits: Fits,
    /// Stock of the shop: new, or the catalog's with measured thickness, price and size.
    pub stock: Vec<Arc<Stock>>,
    /// How sheets and boards are cut up.
    pub cutting: CuttingRules,
    /// The offcuts on its rack.
    pub rack: Vec<RackPiece>,
}

/// Air that wood takes up moisture from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Air {
    /// Relative humidity, from 0 to 1.
    pub humidity: Ratio,
    /// Temperature in degrees Celsius.
    pub celsius: Ratio,
}

impl Default for Shop {
    fn default() -> Self {
        Self {
            units: None,
            denominator: 32,
            // Common practice, no source: a full-kerf table saw blade takes an eighth of an inch.
            kerf: Length::from_inch(1, 8),
            // Common practice, no source: a quarter inch off a factory edge before it is used as a reference.
            trim: Length::from_inch(1, 4),
            // Common practice, no source: half of 1/32 in each way is what a careful shop holds from a stop.
            cutting_tolerance: Length::from_inch(1, 64),
            // Common practice, no source: a fifth more than the parts need.
            waste: Ratio::new(1, 5),
            // Common practice, no source: an inch of overhang at each end, trimmed off after banding.
            band_allowance: Length::from_inch(1, 1),
            // Common practice, no source: a room that is lived in and heated stays between 30 and 65 % at about 70 F. Wood comes to
            // 6 and 12 % there: SEEN, woodweb.com, Ratios_Relative_humidity_to_moisture_content.
            driest: Air { humidity: Ratio::new_raw(3, 10), celsius: Ratio::new_raw(190, 9) },
            dampest: Air { humidity: Ratio::new_raw(13, 20), celsius: Ratio::new_raw(190, 9) },
            fits: Fits::default(),
            stock: Vec::new(),
            cutting: CuttingRules::default(),
            rack: Vec::new(),
        }
    }
}

/// How much wider than the measured thickness of what goes in a cut is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fits {
    /// For what is glued or driven home.
    pub snug: Length,
    /// For what has to slide in and stay free to move.
    pub sliding: Length,
    /// For what is put in and taken out.
    pub loose: Length,
}

impl Fits {
    /// The words for the three, in the order of their size.
    pub const WORDS: [&str; 3] = ["snug", "sliding", "loose"];

    /// The allowance of a word.
    pub fn of(&self, word: &str) -> Option<Length> {
        match word {
            "snug" => Some(self.snug),
            "sliding" => Some(self.sliding),
            "loose" => Some(self.loose),
            _ => None,
        }
    }
}

impl Default for Fits {
    fn default() -> Self {
        Self {
            // Common practice, no source: a cut as wide as the part was measured closes under a clamp.
            snug: Length::ZERO,
            // Common practice, no source: the thickness of two sheets of paper lets a part slide by hand without a rattle.
            sliding: Length::from_um(200),
            // Common practice, no source: a thirty-second of an inch, less than a millimetre, drops in.
            loose: Length::from_um(800),
        }
    }
}

impl Shop {
    /// What is taken away by the saw that cuts sheets.
    pub fn sheet_kerf(&self) -> Length {
        self.cutting.sheet_kerf.unwrap_or(self.kerf)
    }

    /// What is taken away by the saw that rips boards.
    pub fn rip_kerf(&self) -> Length {
        self.cutting.rip_kerf.unwrap_or(self.kerf)
    }

    /// What is taken away by the saw that crosscuts boards.
    pub fn crosscut_kerf(&self) -> Length {
        self.cutting.crosscut_kerf.unwrap_or(self.kerf)
    }

    /// What is trimmed off the two short sides of a sheet.
    pub fn trim_ends(&self) -> [Length; 2] {
        self.cutting.trim_ends.unwrap_or([self.trim; 2])
    }

    /// What is trimmed off the two long sides of a sheet.
    pub fn trim_edges(&self) -> [Length; 2] {
        self.cutting.trim_edges.unwrap_or([self.trim; 2])
    }

    /// The shop's own stock of a name.
    pub fn find_stock(&self, name: &str) -> Option<&Arc<Stock>> {
        self.stock.iter().find(|stock| stock.name == name)
    }
}
