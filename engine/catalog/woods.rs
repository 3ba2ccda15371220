//! What woods and panels weigh, how stiff they are and how far they move, each figure with its source.
//!
//! Figures are whole numbers of a small unit, so that a row reads as its table prints it. A single board may differ from
//! its species' mean by a quarter and more; what is worked out from these rows is a guide for the maker and no promise.

use crate::model::Material;

/// A published figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Figure {
    /// The figure, in the unit of its field.
    pub value: i32,
    /// Where it is from, and how far it was seen.
    pub source: &'static str,
}

/// What is known of a material. What is not known of it is left out, never guessed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Properties {
    /// Its name in the tables: `maple, sugar`.
    pub name: &'static str,
    /// Other names that the trade has for it.
    pub also: &'static [&'static str],
    /// Specific gravity in hundredths: for wood ovendry weight on the volume at 12 % moisture, for panels as delivered.
    pub gravity: Option<Figure>,
    /// The same for the heaviest that is usual, where a table gives a range: for what has to be lifted.
    pub heaviest: Option<Figure>,
    /// Modulus of elasticity in tens of thousands of pounds force a square inch; for wood along the grain, at 12 %.
    pub stiffness: Option<Figure>,
    /// Change across the grain of a quarter-sawn board, for one percent of moisture, in hundred thousandths of the size.
    pub radial: Option<Figure>,
    /// The same for a flat-sawn board.
    pub tangential: Option<Figure>,
}

/// The woods of the tables.
pub const fn woods() -> &'static [Properties] {
    WOODS
}

/// The wood of a name: as the tables have it or as the trade does. Capitals do not matter.
pub fn wood(name: &str) -> Option<&'static Properties> {
    let name = name.trim();
    WOODS.iter().find(|wood| {
        wood.name.eq_ignore_ascii_case(name) || wood.also.iter().any(|also| also.eq_ignore_ascii_case(name))
    })
}

/// What is known of a material; `None` for a wood that is not in the tables and for what is neither wood nor panel.
pub fn properties(material: &Material) -> Option<&'static Properties> {
    match material {
        Material::Wood(species) => wood(species),
        Material::HardwoodPlywood | Material::MetricPlywood => Some(&HARDWOOD_PLYWOOD),
        Material::SandedPlywood => Some(&SANDED_PLYWOOD),
        Material::Mdf => Some(&MDF),
        Material::Particleboard => Some(&PARTICLEBOARD),
        Material::Hardboard => Some(&HARDBOARD),
        Material::Other => None,
    }
}

/// Wood Handbook, FPL-GTR-190 (2010), Table 13-5; the hardwood part was read.
const TABLE_13_5: &str = "SEEN: Wood Handbook (FPL-GTR-190), Table 13-5";
/// The identity C = S / (30 - 20 S) with the green-to-ovendry shrinkage of Table 4-3, which was read.
const FROM_4_3: &str = "DERIVED: C = S / (30 - 20 S) from Wood Handbook (FPL-GTR-190), Table 4-3";
/// Wood Handbook, Tables 12-1 and 5-3b.
const HANDBOOK: &str = "SEEN: Wood Handbook (FPL-GTR-190), Table 12-1 or 5-3b";
/// An inch-pound copy of Table 5-3b.
const COPY_5_3: &str =
    "SEEN (secondary): synthmind.com, Tree_Species_Strength_Properties, a copy of Wood Handbook Table 5-3b";
const FLOORING: &str = "SEEN (secondary): flooringartists.com, dimensional-change (Wood Handbook, 1987)";
const MEMORY: &str = "from memory: Wood Handbook, Tables 5-3b and 13-5";
const TABLE_12_1: &str = "SEEN: Wood Handbook (FPL-GTR-190), Table 12-1";

/// A row whose gravity and stiffness are from one place and whose coefficients are from another.
const fn row(
    name: &'static str,
    also: &'static [&'static str],
    strength: (i32, i32, &'static str),
    movement: (i32, i32, &'static str),
) -> Properties {
    let (gravity, stiffness, seen) = strength;
    let (radial, tangential, read) = movement;
    Properties {
        name,
        also,
        gravity: figure(gravity, seen),
        heaviest: None,
        stiffness: figure(stiffness, seen),
        radial: figure(radial, read),
        tangential: figure(tangential, read),
    }
}

/// A figure, or none where the table's row has none.
const fn figure(value: i32, source: &'static str) -> Option<Figure> {
    if value == 0 { None } else { Some(Figure { value, source }) }
}

/// Nothing was found of it.
const NONE: (i32, i32, &str) = (0, 0, "");

const WOODS: &[Properties] = &[
    row("alder, red", &["alder", "red alder"], (41, 138, COPY_5_3), (151, 256, TABLE_13_5)),
    row("ash, black", &["black ash"], NONE, (172, 274, TABLE_13_5)),
    row("ash, white", &["ash", "white ash", "green ash"], (60, 174, COPY_5_3), (169, 274, TABLE_13_5)),
    row("aspen, quaking", &["aspen"], NONE, (119, 234, TABLE_13_5)),
    row("basswood, American", &["basswood"], (37, 146, COPY_5_3), (230, 330, TABLE_13_5)),
    row("beech, American", &["beech"], (64, 172, COPY_5_3), (190, 431, TABLE_13_5)),
    row("birch, paper", &["paper birch", "white birch"], (55, 159, COPY_5_3), (219, 304, TABLE_13_5)),
    row("birch, yellow", &["birch", "yellow birch", "sweet birch"], (62, 201, COPY_5_3), (256, 338, TABLE_13_5)),
    row("butternut", &[], (38, 118, COPY_5_3), (116, 223, TABLE_13_5)),
    row("cherry, black", &["cherry", "black cherry"], (50, 149, COPY_5_3), (126, 248, TABLE_13_5)),
    // SEEN (secondary): the tangential coefficient is that of the 1987 handbook; the other agrees with Table 4-3.
    Properties {
        tangential: figure(267, FLOORING),
        ..row("Douglas-fir, coast", &["Douglas fir", "Douglas-fir"], (48, 195, HANDBOOK), (165, 0, FROM_4_3))
    },
    row("elm, American", &["elm"], NONE, (144, 338, TABLE_13_5)),
    row("fir, white", &["white fir", "fir"], NONE, (112, 245, FROM_4_3)),
    row("hackberry", &[], NONE, (165, 315, TABLE_13_5)),
    row("hickory, pecan", &["pecan"], NONE, (169, 315, TABLE_13_5)),
    // Low confidence: the tables that were read name another wood so.
    row("mahogany", &["true mahogany"], (45, 150, MEMORY), (172, 238, MEMORY)),
    row("maple, red", &["soft maple", "red maple"], (54, 164, HANDBOOK), (137, 289, TABLE_13_5)),
    row("maple, silver", &["silver maple"], NONE, (102, 252, TABLE_13_5)),
    // SEEN (secondary): woodworkingnetwork.com, strength-and-density-predictors, gives the gravity; the stiffness is recalled.
    Properties {
        gravity: figure(63, "SEEN (secondary): woodworkingnetwork.com, strength-and-density-predictors"),
        stiffness: figure(183, MEMORY),
        ..row("maple, sugar", &["maple", "hard maple", "sugar maple", "black maple"], NONE, (165, 353, TABLE_13_5))
    },
    // SEEN: the Architectural Woodwork Standards (2009), clause 4.4.14.10.13, give the stiffness of northern red oak; the gravity is
    // from a magazine. Boards that are called oak and no more are taken for the oak that moves the most.
    Properties {
        gravity: figure(63, "SEEN (secondary): woodworkingnetwork.com, strength-and-density-predictors"),
        stiffness: figure(182, "SEEN: Architectural Woodwork Standards (2009), clause 4.4.14.10.13"),
        ..row("oak, red", &["oak", "red oak", "northern red oak"], NONE, (158, 369, TABLE_13_5))
    },
    row("oak, white", &["white oak"], (68, 178, HANDBOOK), (180, 365, TABLE_13_5)),
    row("pine, eastern white", &["eastern white pine", "white pine"], (35, 124, MEMORY), (71, 212, MEMORY)),
    row("pine, longleaf", &["longleaf pine"], (59, 198, HANDBOOK), NONE),
    // Boards sold as pine may be of any: the weight and stiffness of ponderosa pine, the movement of the southern pines, which is
    // the largest of those known.
    Properties {
        tangential: figure(265, FLOORING),
        ..row("pine, ponderosa", &["pine", "ponderosa pine"], (40, 129, HANDBOOK), NONE)
    },
    row("pine, red", &["red pine"], (46, 163, HANDBOOK), NONE),
    // Of the southern pines the handbook's shortleaf is neither the lightest nor the heaviest.
    Properties {
        tangential: figure(265, FLOORING),
        ..row(
            "pine, southern yellow",
            &["southern yellow pine", "yellow pine", "southern pine"],
            (51, 175, HANDBOOK),
            NONE,
        )
    },
    row("pine, sugar", &["sugar pine"], (36, 119, HANDBOOK), NONE),
    row("pine, western white", &["western white pine"], (38, 146, HANDBOOK), NONE),
    row("redcedar, western", &["western redcedar"], NONE, (81, 172, FROM_4_3)),
    row("redwood", &[], (40, 134, HANDBOOK), NONE),
    row("spruce, Sitka", &["spruce", "Sitka spruce"], (40, 157, MEMORY), (148, 263, MEMORY)),
    row("sweetgum", &[], NONE, (183, 365, TABLE_13_5)),
    row("sycamore, American", &["sycamore"], NONE, (172, 296, TABLE_13_5)),
    row("teak", &[], NONE, (0, 186, FLOORING)),
    row("walnut, black", &["walnut", "black walnut"], (55, 168, MEMORY), (190, 274, TABLE_13_5)),
    // From memory, and DERIVED from Table 4-3 to the same digits.
    row("yellow-poplar", &["poplar", "tulipwood", "yellow poplar"], (42, 158, MEMORY), (158, 289, FROM_4_3)),
];

// Table 12-1 gives ranges, and its column of gravities was read from text in which it is shifted by a line. Of the stiffness the low
// end is taken, so that a shelf is never promised more than its panel may hold; of the gravity the middle, but the high end
// for plywood of hardwood.
// The heaviest is the high end of each range.
const HARDWOOD_PLYWOOD: Properties = panel("plywood with hardwood faces", (60, 60), 101);
const SANDED_PLYWOOD: Properties = panel("softwood plywood", (50, 60), 101);
const MDF: Properties = panel("MDF", (80, 90), 52);
const PARTICLEBOARD: Properties = panel("particleboard", (70, 80), 40);
const HARDBOARD: Properties = panel("hardboard", (95, 100), 45);

const fn panel(name: &'static str, (gravity, heaviest): (i32, i32), stiffness: i32) -> Properties {
    Properties { heaviest: figure(heaviest, TABLE_12_1), ..row(name, &[], (gravity, stiffness, TABLE_12_1), NONE) }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::super::species;
    use super::*;

    #[test]
    fn every_name_is_one_wood() {
        let mut seen = HashSet::new();
        for wood in woods() {
            for name in std::iter::once(&wood.name).chain(wood.also) {
                assert!(seen.insert(name.to_lowercase()), "{name} comes twice");
            }
            assert!(wood.tangential.is_some() || wood.gravity.is_some(), "{} says nothing", wood.name);
        }
    }

    #[test]
    fn boards_of_the_catalog_have_all_that_the_checks_need() {
        for row in species() {
            let wood = wood(row.name).unwrap();
            assert!(wood.gravity.is_some() && wood.stiffness.is_some() && wood.tangential.is_some(), "{}", row.name);
            if !row.short.is_empty() {
                assert!(super::wood(row.short).is_some(), "{}", row.short);
            }
        }
        assert!(properties(&Material::Wood("hard maple".into())).is_some_and(|wood| wood.name == "maple, sugar"));
        assert_eq!(properties(&Material::Wood("unobtainium".into())), None);
        assert_eq!(properties(&Material::Other), None);
    }
}
