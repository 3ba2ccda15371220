//! The usual cautions for the work in a job. Each leaves the last word to those who can see the shop.

use crate::base::{Axis, Length};
use crate::model::{HardwareKind, Material, Model, Shape};
use crate::physics;

/// The cautions that belong to the job, in the order of the work.
pub(super) fn cautions(model: &Model) -> Vec<&'static str> {
    ROWS.iter().filter(|row| (row.belongs)(model)).map(|row| row.text).collect()
}

struct Row {
    belongs: fn(&Model) -> bool,
    text: &'static str,
}

const ROWS: &[Row] = &[
    // SEEN: 29 CFR 1910.213(a)(15), quoted in OSHRC docket 15047; it binds employers and is good practice elsewhere.
    Row {
        belongs: has_channels,
        text: "Grooves, dados and rabbets are cut where a standard saw guard cannot be used: use featherboards and \
               push blocks, or a jig made for the cut, and put the guard back afterwards. In United States workplaces \
               29 CFR 1910.213(a)(15) requires them; elsewhere it is good practice. Local codes and the machine maker's \
               instructions come first.",
    },
    // Common practice, no source.
    Row {
        belongs: has_parts,
        text: "Cutting up sheets and boards: guard and riving knife stay on, long pieces are supported on both sides of the \
               blade, narrow strips are moved with a push stick, and nobody lifts a sheet alone that is too heavy for one. \
               The saw maker's instructions and local codes come first; leave a cut that does not feel safe, and find \
               another way to it.",
    },
    // Common practice, no source: below these sizes hands come too near to a blade.
    Row {
        belongs: has_small_parts,
        text: "Some parts are shorter than 12 in (305 mm) or narrower than 3 in (75 mm): cut them from a longer or wider \
               piece, with a sled, a push block or clamps that keep hands away from the blade. Keep within the smallest \
               work that the machine maker's instructions allow, and within local codes.",
    },
    // SEEN: osha.gov, SLTC/wooddust/evaluation: NIOSH recommends 1 mg/m3 of wood dust; the legal limits are higher.
    Row {
        belongs: has_parts,
        text: "Wood dust harms lungs and burns: collect it at the machine, wear a fitting respirator for what is left, \
               and wear eye and ear protection. The exposure limits of local codes hold; NIOSH recommends no more than \
               1 mg/m3. For symptoms ask a licensed physician.",
    },
    // SEEN (secondary): compositepanel.org, formaldehyde-standards-tsca-title-vi (40 CFR 770).
    Row {
        belongs: has_panels,
        text: "Panels are glued products: ask for ones that meet the formaldehyde limits of local codes (United States: \
               TSCA Title VI, 40 CFR 770), and follow the panel maker's instructions for cutting and sealing.",
    },
    // Common practice, no source.
    Row {
        belongs: has_glue,
        text: "Glue and finish: follow their makers' instructions and safety sheets for ventilation, temperature, open \
               and clamping time. Rags wet with drying oil can catch fire by themselves: dry them spread out or keep them \
               under water, and throw them away as local codes say.",
    },
    // Common practice, no source.
    Row {
        belongs: has_slides,
        text: "Slides carry what their maker's load class says for a pair of that length, with the fasteners the maker \
               names: the classes here are by geometry. The slide maker's instructions come first.",
    },
    // SEEN: cpsc.gov business guidance, clothing storage units: from 27 in tall; 16 CFR 1261.2 makes ASTM F2057-23 binding for
    // those sold as such. Whether a unit passes is for its tests to say.
    Row {
        belongs: could_tip,
        text: "Tip-over: a piece with drawers that stands 27 in (686 mm) or taller, or that its own open drawers can bring \
               over, can fall on a child. Anchor it to the structure of the wall before anything is put into it, and fit \
               slides that let one drawer open at a time. What is reckoned here is plain statics. Clothing storage units \
               that are sold in the United States must meet the law's own test, 16 CFR 1261 (ASTM F2057-23), which this \
               is not. Local codes, and a licensed professional for what the wall will hold, have the last word.",
    },
    // From memory: the load constant of the lifting equation of NIOSH (1991), 51 lb (23 kg), for a good lift by healthy people.
    Row {
        belongs: is_heavy,
        text: "Lifting: the whole piece, or a part of it, weighs more than 51 lb (23 kg), the most that the lifting equation of NIOSH \
               allows in the best posture: empty it, take drawers out, and carry it with two or with a trolley. At work local codes \
               on manual handling come first; with an injury ask licensed medical practice.",
    },
    Row {
        belongs: has_parts,
        text: "These papers are an aid to someone who knows the work. Local codes, the instructions of machine and \
               hardware makers and the judgement of licensed practice go before anything written here; check the first \
               part of each row against the piece before cutting the rest.",
    },
];

/// A height from which drawers make a piece likely to tip, as the guidance for clothing storage counts it.
// SEEN: cpsc.gov business guidance, clothing storage units.
const TALL: Length = Length::from_inch(27, 1);

fn has_parts(model: &Model) -> bool {
    !model.parts.is_empty()
}

fn is_heavy(model: &Model) -> bool {
    // From memory: NIOSH, as above.
    const MOST_KG: f64 = 23.0;
    model.parts.iter().map(|part| physics::of_part(part).kg).sum::<f64>() > MOST_KG
}

fn has_channels(model: &Model) -> bool {
    model
        .parts
        .iter()
        .flat_map(|part| &part.features)
        .any(|feature| matches!(feature.shape, Shape::Channel { .. } | Shape::Step { .. } | Shape::Dovetail { .. }))
}

fn has_small_parts(model: &Model) -> bool {
    // Common practice, no source: the sizes that the caution names.
    let (short, narrow) = (Length::from_inch(12, 1), Length::from_inch(3, 1));
    model.parts.iter().any(|part| {
        let (a, b) = (part.cut_size(part.length_axis()), part.cut_size(part.width_axis()));
        a.max(b) < short || a.min(b) < narrow
    })
}

fn has_panels(model: &Model) -> bool {
    model.parts.iter().any(|part| {
        matches!(
            part.stock.material,
            Material::HardwoodPlywood
                | Material::SandedPlywood
                | Material::MetricPlywood
                | Material::Mdf
                | Material::Particleboard
        )
    })
}

fn has_glue(model: &Model) -> bool {
    model.hardware.iter().any(|one| one.kind == HardwareKind::Glue)
}

fn has_slides(model: &Model) -> bool {
    model.hardware.iter().any(|one| one.kind == HardwareKind::Slides)
}

fn could_tip(model: &Model) -> bool {
    is_tall_with_drawers(model) || physics::tips(model)
}

/// Taller than the whole job's parts stand, or than an opening that was measured in a piece that is not part of the job.
fn is_tall_with_drawers(model: &Model) -> bool {
    let reaches = |top: Length, floor: Length| top - floor >= TALL;
    let bounds = model.parts.iter().map(|part| part.solid).reduce(|a, b| a.hull(&b));
    let z = Axis::Z.index();
    has_slides(model)
        && (bounds.is_some_and(|solid| reaches(solid.high[z], solid.low[z].min(Length::ZERO)))
            || model.openings.iter().any(|opening| reaches(opening.solid.high[z], opening.solid.low[z])))
}
