//! Named options: what a script function or joint may be told, and what it was told.
//!
//! One table of [`OptionSpec`]s serves reading, "did you mean", completion, `explain` and the reference pages.

use std::sync::Arc;

use super::{Moving, OpeningId, PartId, PieceId, Stock};
use crate::base::{Face, Length, Ratio};

/// What an option takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A length with its unit.
    Length,
    /// One length or a list of them.
    Lengths,
    /// A whole number.
    Count,
    /// A plain number, whole or not.
    Number,
    /// `true` or `false`.
    YesNo,
    /// Text.
    Text,
    /// One text or a list of them.
    Texts,
    /// One of the words listed.
    Choice(&'static [&'static str]),
    /// A fit by the shop's word for it, or a length.
    Fit,
    /// The name of a face.
    Face,
    /// One face or a list of them.
    Faces,
    /// A stock.
    Stock,
    /// A part.
    Part,
    /// One part or a list of them.
    Parts,
    /// A piece.
    Piece,
    /// An opening.
    Opening,
    /// A part or piece that moves, or a list of them.
    Moving,
    /// Anything: for defaults and choices whose kind the recipe decides.
    Any,
}

impl Kind {
    /// What it takes, in words.
    pub fn describe(self) -> String {
        match self {
            Self::Length => "a length, such as 18.mm or (7/8).inch".into(),
            Self::Lengths => "a length or a list of lengths".into(),
            Self::Count => "a whole number".into(),
            Self::Number => "a plain number".into(),
            Self::YesNo => "true or false".into(),
            Self::Text => "text in quotes".into(),
            Self::Texts => "text in quotes or a list of texts".into(),
            Self::Choice(words) => {
                format!("one of {}", words.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", "))
            }
            Self::Fit => "a fit of the shop, \"snug\", \"sliding\" or \"loose\", or a length".into(),
            Self::Face => "a face: \"left\", \"right\", \"front\", \"back\", \"bottom\" or \"top\"".into(),
            Self::Faces => "a face or a list of faces, such as [\"front\", \"left\"]".into(),
            Self::Stock => "a stock, as `stock(\"...\")` gives it".into(),
            Self::Part => "a part, as `part(...)` gives it".into(),
            Self::Parts => "a part or a list of parts".into(),
            Self::Piece => "a piece, as `piece(...)` gives it".into(),
            Self::Opening => "an opening, as `opening(...)` gives it".into(),
            Self::Moving => "a part or piece that moves, or a list of them".into(),
            Self::Any => "any value".into(),
        }
    }
}

/// One option: its name, what it takes, what it is when left out, and why one would set it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OptionSpec {
    /// Its name in the recipe.
    pub name: &'static str,
    /// What it takes.
    pub kind: Kind,
    /// What holds when it is left out, in words; empty when it must be given.
    pub default: &'static str,
    /// What it is for.
    pub help: &'static str,
    /// Why the default is what it is: a standard, a handbook, or common practice, said which. Empty where there is no default.
    pub reason: &'static str,
}

impl OptionSpec {
    /// An option that must be given.
    pub const fn must(name: &'static str, kind: Kind, help: &'static str) -> Self {
        Self { name, kind, default: "", help, reason: "" }
    }

    /// An option that may be left out.
    pub const fn may(name: &'static str, kind: Kind, default: &'static str, help: &'static str) -> Self {
        Self { name, kind, default, help, reason: "" }
    }

    /// The option with the reason for its default.
    #[must_use]
    pub const fn because(self, reason: &'static str) -> Self {
        Self { reason, ..self }
    }
}

/// A value that was given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// A length.
    Length(Length),
    /// Several lengths.
    Lengths(Vec<Length>),
    /// A whole number.
    Count(i64),
    /// A plain number.
    Number(Ratio),
    /// Yes or no.
    YesNo(bool),
    /// Text.
    Text(String),
    /// Several texts.
    Texts(Vec<String>),
    /// Faces.
    Faces(Vec<Face>),
    /// A stock.
    Stock(Arc<Stock>),
    /// Parts.
    Parts(Vec<PartId>),
    /// A piece.
    Piece(PieceId),
    /// An opening.
    Opening(OpeningId),
    /// What moves.
    Moving(Vec<Moving>),
}

/// The options that were given, in the order of their specs. They have been checked against the specs, so that reading
/// an option of a kind that its spec does not name finds nothing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Options(Vec<(&'static str, Value)>);

impl Options {
    /// No options.
    pub const fn new() -> Self {
        Self(Vec::new())
    }

    /// The options with one more.
    #[must_use]
    pub fn with(mut self, name: &'static str, value: Value) -> Self {
        self.0.push((name, value));
        self
    }

    /// The value of an option, if it was given.
    pub fn get(&self, name: &str) -> Option<&Value> {
        self.0.iter().find(|(given, _)| *given == name).map(|(_, value)| value)
    }

    /// Whether both say the same, one option left out of account.
    pub fn same_but_for(&self, other: &Self, name: &str) -> bool {
        let rest = |(given, _): &&(&'static str, Value)| *given != name;
        self.0.iter().filter(rest).eq(other.0.iter().filter(rest))
    }

    /// A length, if it was given.
    pub fn length(&self, name: &str) -> Option<Length> {
        match self.get(name)? {
            Value::Length(length) => Some(*length),
            _ => None,
        }
    }

    /// A list of lengths; empty if none was given.
    pub fn lengths(&self, name: &str) -> Vec<Length> {
        match self.get(name) {
            Some(Value::Lengths(lengths)) => lengths.clone(),
            Some(Value::Length(length)) => vec![*length],
            _ => Vec::new(),
        }
    }

    /// A whole number, if it was given.
    pub fn count(&self, name: &str) -> Option<i64> {
        match self.get(name)? {
            Value::Count(count) => Some(*count),
            _ => None,
        }
    }

    /// A plain number, if it was given.
    pub fn number(&self, name: &str) -> Option<Ratio> {
        match self.get(name)? {
            Value::Number(number) => Some(*number),
            Value::Count(count) => Some(Ratio::from_integer(*count)),
            _ => None,
        }
    }

    /// Yes or no, if it was given.
    pub fn yes(&self, name: &str) -> Option<bool> {
        match self.get(name)? {
            Value::YesNo(yes) => Some(*yes),
            _ => None,
        }
    }

    /// A text, if it was given.
    pub fn text(&self, name: &str) -> Option<&str> {
        match self.get(name)? {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    /// A list of texts; empty if none was given.
    pub fn texts(&self, name: &str) -> Vec<&str> {
        match self.get(name) {
            Some(Value::Texts(texts)) => texts.iter().map(String::as_str).collect(),
            Some(Value::Text(text)) => vec![text],
            _ => Vec::new(),
        }
    }

    /// The faces; empty if none was given.
    pub fn faces(&self, name: &str) -> &[Face] {
        match self.get(name) {
            Some(Value::Faces(faces)) => faces,
            _ => &[],
        }
    }

    /// One face, if exactly one was given.
    pub fn face(&self, name: &str) -> Option<Face> {
        match self.faces(name) {
            [face] => Some(*face),
            _ => None,
        }
    }

    /// A stock, if it was given.
    pub fn stock(&self, name: &str) -> Option<Arc<Stock>> {
        match self.get(name)? {
            Value::Stock(stock) => Some(stock.clone()),
            _ => None,
        }
    }

    /// The parts; empty if none was given.
    pub fn parts(&self, name: &str) -> &[PartId] {
        match self.get(name) {
            Some(Value::Parts(parts)) => parts,
            _ => &[],
        }
    }

    /// A piece, if it was given.
    pub fn piece(&self, name: &str) -> Option<PieceId> {
        match self.get(name)? {
            Value::Piece(piece) => Some(*piece),
            _ => None,
        }
    }

    /// What moves; empty if none was given.
    pub fn moving(&self, name: &str) -> &[Moving] {
        match self.get(name) {
            Some(Value::Moving(moving)) => moving,
            _ => &[],
        }
    }

    /// An opening, if it was given.
    pub fn opening(&self, name: &str) -> Option<OpeningId> {
        match self.get(name)? {
            Value::Opening(opening) => Some(*opening),
            _ => None,
        }
    }
}
