//! What the catalog knows of a piece of hardware, in words.

use casewright::base::{Length, Printing, Unit};
use casewright::model::{Hardware, HardwareClass, HardwareKind, HardwareUnit};

/// What it is, in one line.
pub fn summary(hardware: &Hardware) -> String {
    let kind = match hardware.kind {
        HardwareKind::Slides => "slides or runners that carry a drawer",
        HardwareKind::Pull => "a pull or knob",
        HardwareKind::Hinge => "a hinge",
        HardwareKind::ShelfPin => "a pin that carries a shelf",
        HardwareKind::Screw => "screws; joints choose their size and number",
        HardwareKind::Glue => "glue; joints reckon its area",
        HardwareKind::Other => "hardware",
    };
    let counted = match hardware.unit {
        HardwareUnit::Each => "one by one",
        HardwareUnit::Pair => "in pairs",
        HardwareUnit::Area => "by area",
    };
    format!("{kind}, counted {counted}")
}

/// The sizes of its class, each with what it is for.
pub fn sizes(hardware: &Hardware) -> Vec<Vec<String>> {
    let row = |what: &str, value: String, why: &str| vec![what.to_owned(), value, why.to_owned()];
    match &hardware.class {
        HardwareClass::Plain => Vec::new(),
        HardwareClass::SlidesBySheet => vec![
            row(
                "clearance",
                "none known".into(),
                "give it from the maker's sheet: slides(\"...\", #{ clearance: ... })",
            ),
            row("lengths", "none known".into(), "give those that can be had: `lengths`"),
        ],
        HardwareClass::Slides(slides) => {
            // Each system in its own unit; the other stands beside it where one size says it all.
            let metric = hardware.name.starts_with("metric");
            let unit = if metric { Unit::Millimetre } else { Unit::Inch };
            let print = |length: &Length| Printing { unit, denominator: 32 }.length(*length);
            let both = |length: &Length| {
                let other = if metric { Unit::Inch } else { Unit::Millimetre };
                format!("{} ({})", print(length), Printing { unit: other, denominator: 32 }.length(*length))
            };
            let lengths: Vec<String> = slides.lengths.iter().map(print).collect();
            let mut rows = vec![
                row("clearance", both(&slides.clearance), "room that each side of the box needs"),
                row("slack", both(&slides.slack), "how much more than that a side may have"),
                row("lengths", lengths.join(", "), "those that can be had"),
                row("height", both(&slides.height), "of the member at the box's side"),
            ];
            if slides.under.is_positive() {
                rows.push(row("under", both(&slides.under), "room that the box needs under it"));
            }
            rows.push(row(
                "load",
                format!("{} kg a pair", slides.load_kg),
                "as usual for the class; the maker's sheet decides",
            ));
            rows
        }
    }
}
