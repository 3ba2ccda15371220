//! The hardware bill: equal items summed, with what they are for.

use std::collections::HashMap;

use super::HardwareRow;
use super::names::Shortener;
use crate::base::{Printing, Unit};
use crate::catalog;
use crate::model::{HardwareKind, HardwareUse, Model};

/// The rows in order of first appearance: one for each item, size and way of counting.
pub(super) fn hardware(model: &Model, short: &Shortener<'_>) -> Vec<HardwareRow> {
    let mut places = HashMap::new();
    let mut groups: Vec<Vec<&HardwareUse>> = Vec::new();
    for one in &model.hardware {
        let place = *places.entry((one.item.as_str(), one.gauge, one.size, one.unit)).or_insert_with(|| {
            groups.push(Vec::new());
            groups.len() - 1
        });
        groups[place].push(one);
    }
    groups.iter().map(|group| row(group, short, model.printing)).collect()
}

/// What is said of all slides, whatever else their note says.
const SLIDES: &str = "follow the slide maker's instructions";

fn row(group: &[&HardwareUse], short: &Shortener<'_>, printing: Printing) -> HardwareRow {
    let first = group[0];
    let mut notes: Vec<&str> = Vec::new();
    for note in group.iter().map(|one| one.note.as_str()).filter(|note| !note.is_empty()) {
        if !notes.contains(&note) {
            notes.push(note);
        }
    }
    if first.kind == HardwareKind::Slides && !notes.iter().any(|note| note.contains(SLIDES)) {
        notes.push(SLIDES);
    }
    let purposes = group.iter().map(|one| one.purpose.as_str()).filter(|purpose| !purpose.is_empty());
    HardwareRow {
        item: first.item.clone(),
        size: size(first, printing),
        quantity: group.iter().fold(0, |sum: i64, one| sum.saturating_add(one.quantity)),
        unit: first.unit,
        purpose: short.join(purposes).join("; "),
        note: notes.join("; "),
    }
}

/// `#8 x 1-1/4"` or `4 x 30 mm`, `20"`, or nothing.
fn size(one: &HardwareUse, printing: Printing) -> String {
    let named = |gauge| match printing.unit {
        Unit::Inch => format!("#{gauge}"),
        Unit::Millimetre => catalog::metric_name(gauge),
    };
    match (one.gauge, one.size) {
        (Some(gauge), Some(size)) => format!("{} x {}", named(gauge), printing.length(size)),
        (Some(gauge), None) => named(gauge),
        (None, Some(size)) => printing.length(size),
        (None, None) => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Length;
    use crate::model::HardwareUnit;

    fn screws(count: i64, gauge: u8, purpose: &str) -> HardwareUse {
        HardwareUse {
            item: "pocket screw".into(),
            kind: HardwareKind::Screw,
            size: Some(Length::from_inch(5, 4)),
            gauge: Some(gauge),
            quantity: count,
            unit: HardwareUnit::Each,
            purpose: purpose.into(),
            note: "coarse thread".into(),
            slides: None,
            part: None,
            at: None,
        }
    }

    #[test]
    fn equal_items_are_summed_and_their_purposes_drawn_together() {
        let mut model = Model::new("bench", Printing::default());
        for n in 1..=3 {
            model.add_piece(&format!("drawer {n}"), None);
            model.hardware.push(screws(8, 7, &format!("drawer {n}")));
        }
        model.hardware.push(screws(4, 7, "bench"));
        model.hardware.push(screws(4, 8, "bench"));
        let slides = HardwareUse {
            item: "side-mount slides".into(),
            kind: HardwareKind::Slides,
            size: Some(Length::from_inch(20, 1)),
            gauge: None,
            quantity: 1,
            unit: HardwareUnit::Pair,
            note: String::new(),
            ..screws(0, 0, "drawer 2")
        };
        model.hardware.extend([slides.clone(), slides]);
        let rows = hardware(&model, &Shortener::new(&model));
        let said: Vec<_> = rows.iter().map(|row| (row.size.as_str(), row.quantity, row.purpose.as_str())).collect();
        assert_eq!(
            said,
            [("#7 x 1-1/4\"", 28, "drawer 1..3; bench"), ("#8 x 1-1/4\"", 4, "bench"), ("20\"", 2, "drawer 2")]
        );
        assert_eq!(rows[0].note, "coarse thread");
        assert_eq!(rows[2].note, SLIDES);
    }
}
