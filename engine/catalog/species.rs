//! Species of wood that the catalog offers as boards, lipping and veneer.

/// A species as the trade names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Species {
    /// Its name in stock names: `hard maple`.
    pub name: &'static str,
    /// The shorter name that lipping, veneer and plywood go by, where the trade has one: `maple`.
    pub short: &'static str,
    /// Whether plywood faced with it is commonly stocked.
    pub faces_plywood: bool,
}

/// The species of the catalog.
pub const fn species() -> &'static [Species] {
    // Common practice, no source: species that a hardwood dealer or home centre keeps.
    const ROWS: &[Species] = &[
        row("birch", "birch", true),
        row("hard maple", "maple", true),
        row("soft maple", "", false),
        row("red oak", "red oak", true),
        row("white oak", "white oak", true),
        row("oak", "oak", true),
        row("cherry", "cherry", true),
        row("walnut", "walnut", true),
        row("ash", "ash", true),
        row("beech", "beech", true),
        row("poplar", "poplar", false),
        row("alder", "alder", false),
        row("mahogany", "mahogany", false),
        row("pine", "pine", false),
        row("spruce", "spruce", false),
    ];
    ROWS
}

const fn row(name: &'static str, short: &'static str, faces_plywood: bool) -> Species {
    Species { name, short, faces_plywood }
}
