//! A piece with drawers tips over.

use super::{Check, Subject};
use crate::base::{Face, Unit};
use crate::diag::Finding;
use crate::physics::{self, Balance, CHILD, Stand};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "tips-over",
    summary: "a piece tips when its drawers are open, unless it is anchored",
    why: "Plain physics, and no test of any standard: the moments of all weights about the edge of the base that the piece would tip over. \
          The job is taken as one rigid body on a level, hard floor that nothing holds; a drawer comes out by the length of its slides, \
          or by its `travel`; loads are those of the recipe or 15 lb/ft2 (73 kg/m2) of each drawer; shelves are empty. It is a warning when one open, loaded \
          drawer tips it while the others are shut and empty, and a note when 60 lb (27 kg) on the edge of that drawer do, or all \
          drawers open at once. Carpet, a sloping floor and children make it worse. A clothing storage unit that is sold in the United \
          States must meet 16 CFR 1261 (ASTM F2057-23), whose tests this is not. `anchor` says that the piece is fastened.",
    source: "statics; 60 lb is the child's weight of 15 U.S.C. 2056f(c)(2)",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    if model.anchor.is_some() {
        return;
    }
    let Some(stand) = physics::stand(model) else { return };
    for balance in &stand.balances {
        let drawer = &stand.drawers[balance.worst];
        let name = &model.piece(drawer.piece).name;
        let Some(what) = fault(&stand, balance, name, model.printing.unit) else { continue };
        let to = if balance.side == Face::Back { "backwards" } else { "forwards" };
        let message = format!("unless it is anchored, the piece tips {to} {what}");
        let hint = "anchor it to the wall or the floor and say so with `anchor(\"...\")`; slides that let one drawer open at a time, a deeper \
                    base and heavy things low down help";
        let at = model.hardware[drawer.hardware].at.clone();
        let finding = if balance.one_open < 0.0 {
            Finding::warning(CHECK.code, message)
        } else {
            Finding::note(CHECK.code, message)
        };
        findings.push(finding.at(at).hint(hint).source(CHECK.source));
    }
}

fn fault(stand: &Stand<'_>, balance: &Balance, name: &str, unit: Unit) -> Option<String> {
    let text = |kg: f64| physics::weight_text(kg, unit);
    let load = text(stand.drawers[balance.worst].load);
    if balance.one_open < 0.0 {
        return Some(format!("with `{name}` alone open and {load} in it"));
    }
    let edge = balance.edge < CHILD;
    let pull = format!("with {} on the edge of `{name}` when it is open with {load} in it", text(balance.edge));
    let drawers = stand.drawers.iter().filter(|drawer| drawer.opens == balance.side).count();
    let all = balance.all_open < 0.0 && drawers > 1;
    match (edge, all) {
        (true, true) => Some(format!("{pull}, and with all {drawers} drawers open and loaded")),
        (true, false) => Some(pull),
        (false, true) => Some(format!("with all {drawers} drawers open and loaded")),
        (false, false) => None,
    }
}

#[cfg(test)]
pub(super) mod tests {
    use std::sync::Arc;

    use super::super::bench::{bay, found, hang, slides};
    use super::*;
    use crate::base::{Length, Printing, Ratio, Solid};
    use crate::diag::Severity;
    use crate::model::{Bearer, Hold, Load, LoadUnit, Material, Model, Part, PieceId, Slides, Stock, StockForm};

    fn mm(n: i64) -> Length {
        Length::from_mm(n)
    }

    /// A block of plywood, 600 kg/m3, from corner to corner in millimetres.
    fn block(model: &mut Model, piece: PieceId, name: &str, low: [i64; 3], high: [i64; 3]) {
        let form = StockForm::Sheet { length: mm(2440), width: mm(1220) };
        let stock = Stock::new("block", Material::HardwoodPlywood, form, mm(high[2] - low[2]));
        let solid = Solid::new(low.map(mm), high.map(mm));
        model.add_part(Part::new(name, piece, Arc::new(stock), solid));
    }

    /// A case of 30 kg, 500 mm wide and deep, with one drawer of 4 kg and a front of 1 kg on slides of a length.
    pub fn cabinet(travel: i64) -> (Model, PieceId) {
        let mut model = Model::new("cabinet", Printing { unit: Unit::Millimetre, denominator: 32 });
        // 500 x 500 x 200 mm are 0.05 m3, 30 kg.
        block(&mut model, Model::ROOT, "case", [0, 0, 0], [500, 500, 200]);
        let drawer = model.add_piece("drawer", None);
        model.place(drawer, Model::ROOT, [Length::ZERO; 3]);
        // 500 x 500 mm, 26.667 mm high, are 4 kg.
        block(&mut model, drawer, "box", [0, 0, 300], [500, 500, 300]);
        let high = Length::from_nm(300_000_000 + 26_666_667);
        model.parts[1].placed.high[2] = high;
        // The front is 1 kg: 500 x 20 mm, 166.667 mm high, before the box and held to it.
        block(&mut model, Model::ROOT, "front", [0, -20, 300], [500, 0, 300]);
        model.parts[2].placed.high[2] = Length::from_nm(300_000_000 + 166_666_667);
        model.holds.push(Hold { part: crate::model::PartId(2), to: Some(crate::model::PartId(1)) });
        let opening = bay(&mut model, [mm(500); 3]);
        hang(&mut model, drawer, opening, Slides { lengths: vec![mm(travel)], ..slides() });
        (model, drawer)
    }

    /// The findings with a load of so many grams in the drawer.
    fn with(grams: i64, anchored: bool) -> Vec<Finding> {
        let (mut model, drawer) = cabinet(450);
        let amount = Ratio::new(grams, 1_000);
        model.loads.push(Load { on: Bearer::Piece(drawer), amount, unit: LoadUnit::Kilograms, of: None, at: None });
        model.anchor = anchored.then(|| "the wall".to_owned());
        found(model, &CHECK)
    }

    #[test]
    fn one_loaded_drawer_tips_a_light_case() {
        // About the front edge: case 30 x 250 = 7500; box 4 x (250 - 450) = -800; front 1 x (-10 - 450) = -460: 6240 kg mm are left. The
        // load lies at 250 - 450 = -200: 31.2 kg balance it.
        let quiet = with(31_199, false);
        assert_eq!(quiet[0].severity, Severity::Note, "{quiet:?}");
        let loud = with(31_201, false);
        assert_eq!(loud[0].severity, Severity::Warning);
        assert!(loud[0].message.contains("tips forwards with `drawer` alone open and 31 kg in it"), "{}", loud[0]);
        assert!(with(31_201, true).is_empty());
    }

    #[test]
    fn a_child_on_the_edge_is_a_note() {
        // The open front's edge is at 450 + 20 = 470 mm; 27.2155 kg on it turn with 12791 kg mm, more than the 6240 of the empty
        // drawer: 6240 / 470 = 13.3 kg tip it.
        let findings = with(0, false);
        assert!(findings[0].message.contains("with 13 kg on the edge of `drawer`"), "{}", findings[0]);
        // With a case of 60.9 kg the empty drawer leaves 15225 - 1260 = 13965 kg mm, more than a child takes.
        let (mut model, drawer) = cabinet(450);
        model.parts[0].placed.high[2] = mm(406);
        let load = Load {
            on: Bearer::Piece(drawer),
            amount: Ratio::from_integer(0),
            unit: LoadUnit::Kilograms,
            of: None,
            at: None,
        };
        model.loads.push(load);
        assert!(found(model, &CHECK).is_empty());
    }
}
