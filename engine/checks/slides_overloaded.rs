//! A drawer is too heavy for its slides.

use super::{Check, Subject};
use crate::diag::{Finding, Severity};
use crate::model::{Bearer, PieceId};
use crate::physics;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "slides-overloaded",
    summary: "a drawer with its front and its load weighs more than its slides carry",
    why: "What moves with the drawer is weighed: its box, its front, all that joints tie to them, and the load that the recipe gives by \
          `load`. Where it gives none, 15 lb/ft2 (73 kg/m2) of the box are assumed, and going over is only a note. The load class is that \
          of the slides as the catalog or the recipe has it, for a pair; the slide maker's figure for the length comes first.",
    source: "ANSI/KCMA A161.1 as a trade magazine restates it (fdmc-online.com, 2017-03): drawers are loaded with 15 lb/ft2; weights from the \
             Wood Handbook (FPL-GTR-190)",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let unit = model.printing.unit;
    let drawers = physics::drawers(model);
    // Drawers that say the same are told once, at the first of them.
    let mut told: Vec<(String, Finding, usize)> = Vec::new();
    for drawer in &drawers {
        let class = drawer.fit.slides.load_kg;
        let holds = num_traits::ToPrimitive::to_f64(&class).unwrap_or(0.0);
        let all = drawer.own.kg + drawer.load;
        // Slides whose class is not known say 0.
        if class == 0 || all <= holds {
            continue;
        }
        let text = |kg: f64| physics::weight_text(kg, unit);
        let load = if drawer.loads.is_empty() {
            format!("the 15 lb/ft2 (73 kg/m2) that are assumed for a drawer, {}", text(drawer.load))
        } else {
            format!("its load of {}", text(drawer.load))
        };
        let message = format!(
            " weighs {} with its front; with {load} that is {} on slides for {}",
            text(drawer.own.kg),
            text(all),
            text(holds)
        );
        if let Some((_, _, more)) = told.iter_mut().find(|(known, ..)| *known == message) {
            *more += 1;
            continue;
        }
        let name = &model.piece(drawer.piece).name;
        let used = &model.hardware[drawer.hardware];
        let (severity, hint) = if drawer.loads.is_empty() {
            (Severity::Note, "say what it carries with `load`, or choose slides of a higher class")
        } else {
            (Severity::Warning, "choose slides of a higher class, or put less into it")
        };
        let mut finding = Finding::warning(CHECK.code, format!("`{name}`{message}"))
            .at(used.at.clone())
            .hint(hint)
            .source(CHECK.source);
        finding.severity = severity;
        told.push((message, finding, 0));
    }
    findings.extend(told.into_iter().map(|(message, mut finding, more)| {
        if more > 0 {
            let others = if more == 1 { "one more like it".to_owned() } else { format!("{more} more like it") };
            finding.message = finding.message.replacen(&message, &format!(", and {others}, each{message}"), 1);
        }
        finding
    }));
    for load in &model.loads {
        let Bearer::Piece(piece) = load.on else { continue };
        let hangs = |fit: PieceId| model.stands_in(piece, fit);
        if !drawers.iter().any(|drawer| hangs(drawer.piece)) {
            let name = &model.piece(piece).name;
            let message =
                format!("`{name}` is to carry {load} and does not hang on slides, so that nothing is reckoned from it");
            let hint = "give the load to the shelf or the top that it lies on";
            findings.push(Finding::note(CHECK.code, message).at(load.at.clone()).hint(hint));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::found;
    use super::super::tips_over::tests::cabinet;
    use super::*;
    use crate::base::Ratio;
    use crate::model::{Load, LoadUnit};

    #[test]
    fn the_box_its_front_and_its_load_go_onto_the_slides() {
        // The drawer of the test cabinet weighs 5.0 kg with its front, on slides for 45 kg.
        let build = |grams: i64, on_slides: bool| {
            let (mut model, drawer) = cabinet(450);
            let on = if on_slides { drawer } else { crate::model::Model::ROOT };
            let amount = Ratio::new(grams, 1_000);
            model.loads.push(Load { on: Bearer::Piece(on), amount, unit: LoadUnit::Kilograms, of: None, at: None });
            found(model, &CHECK)
        };
        assert!(build(39_999, true).is_empty());
        let findings = build(40_001, true);
        assert_eq!(findings[0].severity, Severity::Warning);
        assert!(findings[0].message.contains("its load of 40 kg that is 45 kg on slides for 45 kg"), "{}", findings[0]);
        // A load on a piece that does not hang is told.
        assert!(build(10_000, false)[0].message.contains("does not hang on slides"));
    }

    #[test]
    fn an_assumed_load_is_only_a_note() {
        // 15 lb/ft2 are 73.24 kg/m2: on 0.5 x 0.5 m 18.31 kg, and 23.31 kg with the drawer.
        let build = |class: i64| {
            let (mut model, _) = cabinet(450);
            if let Some(fit) = model.hardware[0].slides.as_mut() {
                fit.slides.load_kg = class;
            }
            found(model, &CHECK)
        };
        assert!(build(24).is_empty());
        assert_eq!(build(23)[0].severity, Severity::Note);
        // Slides of an unknown class are not judged.
        assert!(build(0).is_empty());
    }
}
