//! The inputs that a recipe declares, and the values that a job gave them.

use super::{StockForm, Value};
use crate::base::Length;
use crate::diag::At;

/// What an input takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum InputKind {
    /// One length, in any notation of the trade.
    Length,
    /// Several lengths, separated by semicolons.
    Lengths,
    /// A whole number.
    Count,
    /// A plain number.
    Number,
    /// One of the words listed.
    Choice,
    /// Any text.
    Text,
    /// `yes` or `no`.
    YesNo,
    /// A sheet by its name.
    Sheet,
    /// A board by its name.
    Board,
    /// A sheet or a board by its name.
    SheetOrBoard,
    /// A band by its name.
    Band,
}

impl InputKind {
    /// All kinds with the words that name them in recipes and what they take.
    pub const ALL: [(Self, &'static str, &'static str); 11] = [
        (
            Self::Length,
            "length",
            "one length in any notation of the trade: 16 7/8, 16-7/8\", 1' 4-7/8\", 428mm, 42.8 cm; a bare number is in the job's unit",
        ),
        (Self::Lengths, "lengths", "several lengths separated by semicolons: 36; 35-15/16; 36. An empty text is none"),
        (Self::Count, "count", "a whole number: 6"),
        (Self::Number, "number", "a plain number, whole, decimal or fraction: 3, 1.5, 7/8"),
        (Self::Choice, "choice", "one of the words that the recipe lists"),
        (Self::Text, "text", "any text"),
        (Self::YesNo, "yes/no", "yes or no"),
        (
            Self::Sheet,
            "sheet",
            "the name of a sheet of the recipe, the shop file or the catalog; its limits are those of the thickness",
        ),
        (
            Self::Board,
            "board",
            "the name of a board of the recipe, the shop file or the catalog; its limits are those of the thickness",
        ),
        (Self::SheetOrBoard, "sheet or board", "the name of a sheet or a board; its limits are those of the thickness"),
        (Self::Band, "band", "the name of an edge band or lipping; its limits are those of the thickness"),
    ];

    /// The words that name it.
    pub fn name(self) -> &'static str {
        Self::ALL.into_iter().find(|(kind, ..)| *kind == self).map_or("", |(_, name, _)| name)
    }

    /// Whether it takes the name of a stock, so that its limits are those of a thickness.
    pub fn is_stock(self) -> bool {
        matches!(self, Self::Sheet | Self::Board | Self::SheetOrBoard | Self::Band)
    }

    /// Whether it takes stock of this form.
    pub fn takes_form(self, form: &StockForm) -> bool {
        match form {
            StockForm::Sheet { .. } => matches!(self, Self::Sheet | Self::SheetOrBoard),
            StockForm::Board { .. } => matches!(self, Self::Board | Self::SheetOrBoard),
            StockForm::Band { .. } => self == Self::Band,
        }
    }
}

/// An input that a recipe declared, with the value it has in this job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Input {
    /// Its name on the command line and in job tables.
    pub name: String,
    /// What it takes.
    pub kind: InputKind,
    /// The value that holds when none is given.
    pub default: Value,
    /// The smallest value, for lengths, counts and numbers; the smallest thickness of a stock.
    pub min: Option<Value>,
    /// The largest value or thickness.
    pub max: Option<Value>,
    /// The value must lie a whole number of these above `min` (or above zero).
    pub step: Option<Value>,
    /// The words of a choice; of a stock, the words that may stand for having none.
    pub choices: Vec<String>,
    /// One line of help.
    pub help: String,
    /// The value in this job.
    pub value: Value,
    /// Whether the job gave it.
    pub given: bool,
    /// The recipe line that declared it.
    pub at: Option<At>,
}

impl Value {
    /// The value as a maker would type it; `length` prints a length.
    pub fn typed(&self, length: impl Fn(Length) -> String) -> String {
        match self {
            Self::Length(one) => length(*one),
            Self::Lengths(many) => many.iter().map(|one| length(*one)).collect::<Vec<_>>().join("; "),
            Self::Count(count) => count.to_string(),
            Self::Number(number) => number.to_string(),
            Self::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
            Self::Text(text) => text.clone(),
            Self::Texts(texts) => texts.join("; "),
            Self::Faces(faces) => faces.iter().map(|face| face.name()).collect::<Vec<_>>().join("; "),
            Self::Stock(stock) => stock.name.clone(),
            Self::Parts(_) | Self::Piece(_) | Self::Opening(_) | Self::Moving(_) => String::new(),
        }
    }
}
