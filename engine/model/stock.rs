//! What parts are made of: sheets, boards and bands, with the thickness that was measured on the rack.

use std::fmt;

use super::Supply;
use crate::base::Length;
use crate::diag::At;

/// What a stock is made of, as far as standards for its thickness tell materials apart.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Material {
    /// Plywood with hardwood faces, sold by inch thicknesses.
    HardwoodPlywood,
    /// Sanded softwood plywood.
    SandedPlywood,
    /// Plywood sold by metric thicknesses, sanded.
    MetricPlywood,
    /// Medium density fibreboard.
    Mdf,
    /// Particleboard.
    Particleboard,
    /// Hardboard.
    Hardboard,
    /// Solid wood of a species.
    Wood(String),
    /// Anything else.
    Other,
}

/// An amount of money in hundredths of whatever the shop counts in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Money(pub i64);

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        write!(f, "{sign}{}.{:02}", self.0.abs() / 100, self.0.abs() % 100)
    }
}

/// What a price is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Per {
    /// One sheet.
    Sheet,
    /// One board foot (144 cubic inches).
    BoardFoot,
    /// One metre of board or band.
    Metre,
    /// One foot of board or band.
    Foot,
    /// One roll.
    Roll,
}

impl Per {
    /// All of them with the words that name them.
    pub const ALL: [(Self, &'static str); 5] = [
        (Self::Sheet, "sheet"),
        (Self::BoardFoot, "board foot"),
        (Self::Metre, "metre"),
        (Self::Foot, "foot"),
        (Self::Roll, "roll"),
    ];

    /// The words that name it.
    pub fn name(self) -> &'static str {
        Self::ALL.into_iter().find(|(per, _)| *per == self).map_or("", |(_, name)| name)
    }
}

/// A price and what it is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Price {
    /// How much.
    pub amount: Money,
    /// For what.
    pub per: Per,
}

/// The form in which a stock is bought.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum StockForm {
    /// A sheet; grain, where it has any, runs along its length.
    Sheet {
        /// Length, along the grain.
        length: Length,
        /// Width.
        width: Length,
    },
    /// Boards; grain runs along the length.
    Board {
        /// Widths to be had, dressed; empty when any width can be had.
        widths: Vec<Length>,
        /// Lengths to be had; empty when any length can be had.
        lengths: Vec<Length>,
    },
    /// Edge band or lipping.
    Band {
        /// Its width before trimming.
        width: Length,
        /// The length of a roll; `None` for lipping that is ripped from boards or bought in lengths.
        roll: Option<Length>,
        /// Whether a core is cut smaller by the band's thickness, unless the part says otherwise.
        taken_off: bool,
    },
}

/// Something to make parts of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Its name in recipes, shop files and lists.
    pub name: String,
    /// What it is made of.
    pub material: Material,
    /// The form in which it is bought.
    pub form: StockForm,
    /// The thickness that it is sold as.
    pub named: Length,
    /// The thickness that was measured.
    pub measured: Option<Length>,
    /// Whether it has a grain.
    pub grain: bool,
    /// How many of its two faces are good enough to be seen.
    pub show_faces: u8,
    /// Its price, where one is known.
    pub price: Option<Price>,
    /// Other sizes, and what is in hand.
    pub supply: Supply,
    /// Where its figures are from.
    pub source: &'static str,
    /// The recipe line that made it, if a recipe did.
    pub at: Option<At>,
}

impl Stock {
    /// A stock with both faces good, grain for wood and plywood, nothing measured and no price.
    pub fn new(name: &str, material: Material, form: StockForm, named: Length) -> Self {
        let grain = matches!(
            material,
            Material::HardwoodPlywood | Material::SandedPlywood | Material::MetricPlywood | Material::Wood(_)
        );
        Self {
            name: name.to_owned(),
            material,
            form,
            named,
            measured: None,
            grain,
            show_faces: 2,
            price: None,
            supply: Supply::default(),
            source: "",
            at: None,
        }
    }

    /// The thickness to work with: as measured, or else as named.
    pub fn thickness(&self) -> Length {
        self.measured.unwrap_or(self.named)
    }

    /// Whether it is a band or lipping.
    pub const fn is_band(&self) -> bool {
        matches!(self.form, StockForm::Band { .. })
    }

    /// Whether a core is cut smaller for this band, unless a part says otherwise.
    pub const fn is_taken_off(&self) -> bool {
        matches!(self.form, StockForm::Band { taken_off: true, .. })
    }
}
