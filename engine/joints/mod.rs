//! Layer 3: joints. Each lives in a file that tells its whole story, and has one line in [`ALL`].

use crate::model::OptionSpec;

/// One kind of joint. Its name is the recipe function that asks for it.
#[derive(Clone, Copy, Debug)]
pub struct Joint {
    /// The recipe function, and what papers call it.
    pub name: &'static str,
    /// What it is, in one line.
    pub summary: &'static str,
    /// The option that names the other parts: `into` or `to`.
    pub target: &'static str,
    /// Its options, the target first.
    pub options: &'static [OptionSpec],
    /// What it does to both parts, and when to choose it.
    pub about: &'static str,
    /// Where its defaults are from.
    pub source: &'static str,
}
