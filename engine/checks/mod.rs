//! Layer 4: checks. Each is named for the fault it finds and lives in a file that tells its whole story.

mod box_beside_opening;
mod box_misfits_slides;
mod breaks_out;
mod drawer_rubs;
mod fit_in_doubt;
mod fit_not_kept;
mod front_off_opening;
mod grain_without_grain;
mod hinged_elsewhere;
mod hole_meets_cut;
mod joint_cut_away;
mod locked_in;
mod loose_part;
mod moving_part_fixed;
mod no_good_face;
mod no_hinges;
mod no_joint_between;
mod no_parts;
mod no_swing;
mod opening_out_of_true;
mod opens_nothing;
mod panel_misfits_groove;
mod part_beyond_stock;
mod path_blocked;
mod piece_not_placed;
mod reveal_closed;
mod reveal_uneven;
mod room_not_given;
mod screw_out_of_reach;
mod screws_in_panel_edge;
mod shared_space;
mod shelf_on_one_side;
mod shelf_sag;
mod slide_room_taken;
mod slide_too_long;
mod slides_overloaded;
mod thickness_unlike_name;
mod thin_wall;
mod tips_over;
mod too_small_to_cut;
mod wide_board;
mod wood_movement;

use crate::base::Solid;
use crate::diag::Finding;
use crate::model::{HardwareUse, Model, Opening, Shop, SlideFit};
use crate::proof::Proved;

/// Every check. One line for each; `explain`, the reference and completeness tests read this list.
pub const ALL: &[Check] = &[
    box_beside_opening::CHECK,
    box_misfits_slides::CHECK,
    breaks_out::CHECK,
    drawer_rubs::CHECK,
    fit_in_doubt::CHECK,
    fit_not_kept::CHECK,
    front_off_opening::CHECK,
    grain_without_grain::CHECK,
    hinged_elsewhere::CHECK,
    hole_meets_cut::CHECK,
    joint_cut_away::CHECK,
    locked_in::CHECK,
    loose_part::CHECK,
    moving_part_fixed::CHECK,
    no_good_face::CHECK,
    no_hinges::CHECK,
    no_joint_between::CHECK,
    no_parts::CHECK,
    no_swing::CHECK,
    opening_out_of_true::CHECK,
    opens_nothing::CHECK,
    panel_misfits_groove::CHECK,
    part_beyond_stock::CHECK,
    path_blocked::CHECK,
    piece_not_placed::CHECK,
    reveal_closed::CHECK,
    reveal_uneven::CHECK,
    room_not_given::CHECK,
    screw_out_of_reach::CHECK,
    screws_in_panel_edge::CHECK,
    shared_space::CHECK,
    shelf_on_one_side::CHECK,
    shelf_sag::CHECK,
    slide_room_taken::CHECK,
    slide_too_long::CHECK,
    slides_overloaded::CHECK,
    thickness_unlike_name::CHECK,
    thin_wall::CHECK,
    tips_over::CHECK,
    too_small_to_cut::CHECK,
    wide_board::CHECK,
    wood_movement::CHECK,
];

/// What a check looks at: the settled model with its joints made, and the shop.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The job.
    pub model: &'a Model,
    /// The shop.
    pub shop: &'a Shop,
    /// What checks share of the proof that the job fits.
    pub proof: &'a Proved<'a>,
}

/// A box that hangs on slides in an opening.
#[derive(Clone, Copy, Debug)]
struct Hung<'a> {
    used: &'a HardwareUse,
    fit: &'a SlideFit,
    /// The cuboid round the box.
    bounds: Solid,
    opening: &'a Opening,
    /// What the box is called.
    name: &'a str,
}

impl<'a> Subject<'a> {
    /// Every box on slides.
    fn hung(self) -> impl Iterator<Item = Hung<'a>> {
        let model = self.model;
        model.hardware.iter().filter_map(move |used| {
            let fit = used.slides.as_ref()?;
            let bounds = model.bounds(fit.carries)?;
            Some(Hung { used, fit, bounds, opening: model.opening(fit.opening), name: &model.piece(fit.carries).name })
        })
    }
}

/// One check.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// The code of its findings.
    pub code: &'static str,
    /// The fault, in one line.
    pub summary: &'static str,
    /// Why it matters, and how it is worked out.
    pub why: &'static str,
    /// The standard, handbook or practice that it rests on.
    pub source: &'static str,
    /// Looks for the fault.
    pub run: fn(Subject<'_>, &mut Vec<Finding>),
}

/// Runs every check. Of one that finds the same fault over and over, the first hundred are told.
pub fn run(subject: Subject<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in ALL {
        let mut found = Vec::new();
        (check.run)(subject, &mut found);
        if found.len() >= MOST {
            found.truncate(MOST);
            let message = format!("`{}` is told {MOST} times here; there may be more of it", check.code);
            found.push(Finding::note("more-of-the-same", message).hint("mend the first ones and look again"));
        }
        findings.extend(found);
    }
    findings
}

/// More findings of one check than this are one slip seen many times; checks that look at pairs stop there.
const MOST: usize = 100;

#[cfg(test)]
pub(crate) mod bench {
    //! Small models for the checks' own tests.

    use std::sync::Arc;

    use super::{Check, Subject};
    use crate::base::{Length, Printing, Solid};
    use crate::diag::Finding;
    use crate::joints;
    use crate::model::{
        HardwareKind, HardwareUnit, HardwareUse, JointUse, Material, Model, Opening, OpeningId, Options, Part, PartId,
        PieceId, Shop, SlideFit, Slides, Stock, StockForm, Value,
    };
    use crate::proof::Proved;

    /// Sixteenths of an inch.
    pub fn s(sixteenths: i64) -> Length {
        Length::from_inch(sixteenths, 16)
    }

    /// An empty job in inches.
    pub fn job() -> Model {
        Model::new("test job", Printing::default())
    }

    /// A sheet of 96 x 48 in of a thickness in sixteenths.
    pub fn sheet(sixteenths: i64) -> Stock {
        let form = StockForm::Sheet { length: Length::from_inch(96, 1), width: Length::from_inch(48, 1) };
        Stock::new("test ply", Material::HardwoodPlywood, form, s(sixteenths))
    }

    /// Adds a part from corner to corner, in sixteenths.
    pub fn add(model: &mut Model, piece: PieceId, name: &str, stock: &Stock, low: [i64; 3], high: [i64; 3]) -> PartId {
        let solid = Solid::new(low.map(s), high.map(s));
        model.add_part(Part::new(name, piece, Arc::new(stock.clone()), solid))
    }

    /// An opening from zero, of a width, depth and height.
    pub fn bay(model: &mut Model, size: [Length; 3]) -> OpeningId {
        let [width, _, height] = size;
        model.add_opening(Opening {
            name: "bay".into(),
            piece: Model::ROOT,
            solid: Solid::new([Length::ZERO; 3], size),
            widths: vec![width],
            heights: vec![height],
            diagonals: None,
            limit: s(2),
            at: None,
        })
    }

    /// Slides of half an inch a side and 1/32 in of slack, 20 in long.
    pub fn slides() -> Slides {
        Slides {
            clearance: s(8),
            slack: Length::from_inch(1, 32),
            lengths: vec![s(320)],
            height: s(28),
            under: Length::ZERO,
            load_kg: 45,
        }
    }

    /// Hangs a piece in an opening, on the longest of these slides.
    pub fn hang(model: &mut Model, carries: PieceId, opening: OpeningId, slides: Slides) {
        let length = slides.lengths[slides.lengths.len() - 1];
        model.hardware.push(HardwareUse {
            item: "slides".into(),
            kind: HardwareKind::Slides,
            size: Some(length),
            gauge: None,
            quantity: 1,
            unit: HardwareUnit::Pair,
            purpose: "drawer".into(),
            note: String::new(),
            slides: Some(SlideFit { slides, carries, opening, length, room_behind: Length::ZERO }),
            part: None,
            at: None,
        });
    }

    /// Asks for a joint.
    pub fn join(model: &mut Model, joint: &'static str, member: PartId, into: &[PartId], options: Options) {
        let target = joints::find(joint).map_or("into", |joint| joint.target);
        let options = options.with(target, Value::Parts(into.to_vec()));
        model.add_joint(JointUse { joint, member, into: into.to_vec(), options, at: None });
    }

    /// Settles the job, makes its joints (which must all succeed) and runs one check.
    pub fn found(mut model: Model, check: &Check) -> Vec<Finding> {
        let shop = Shop::default();
        model.settle();
        let failed = joints::make(&mut model, &shop);
        assert!(failed.is_empty(), "{failed:?}");
        let mut findings = Vec::new();
        (check.run)(Subject { model: &model, shop: &shop, proof: &Proved::new(&model) }, &mut findings);
        findings
    }
}
