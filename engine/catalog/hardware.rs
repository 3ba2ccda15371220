//! Hardware by its geometry, never by its brand.

use std::sync::LazyLock;

use crate::base::Length;
use crate::model::{Hardware, HardwareClass, HardwareKind, HardwareUnit, Slides};

/// The catalog's hardware of a name; capitals do not matter.
pub fn hardware(name: &str) -> Option<&'static Hardware> {
    let name = name.trim();
    CATALOG
        .iter()
        .find(|row| row.name == name)
        .or_else(|| CATALOG.iter().find(|row| row.name.eq_ignore_ascii_case(name)))
}

/// The names of all hardware of the catalog, in its order.
pub fn hardware_names() -> impl Iterator<Item = &'static str> {
    CATALOG.iter().map(|row| row.name.as_str())
}

static CATALOG: LazyLock<Vec<Hardware>> = LazyLock::new(|| {
    let mut rows = Vec::new();
    side_mount_slides(&mut rows);
    slides_by_sheet(&mut rows);
    rows.extend(PLAIN.iter().map(|&(name, kind, unit, note)| Hardware {
        name: name.to_owned(),
        kind,
        unit,
        class: HardwareClass::Plain,
        note: note.to_owned(),
        source: COMMON,
    }));
    rows
});

const COMMON: &str = "common practice, no source";

/// The note that travels with every pair of slides.
const SLIDE_NOTE: &str = "class by geometry: follow the slide maker's instructions, and check clearance and load there";

fn side_mount_slides(rows: &mut Vec<Hardware>) {
    // Common practice, no source: lengths from 10 to 28 in by 2 in, and from 250 to 700 mm by 50 mm.
    let inch: Vec<Length> = (5..=14).map(|n| Length::from_inch(2 * n, 1)).collect();
    let metric: Vec<Length> = (5..=14).map(|n| Length::from_mm(50 * n)).collect();
    // Common practice, no source: the loads (75, 100 and 150 lb a pair) and heights of three usual classes. The slide's
    // own sheet decides.
    for (class, load_kg, height) in
        [("light ", 34, Length::from_mm(35)), ("", 45, Length::from_mm(45)), ("heavy ", 68, Length::from_mm(53))]
    {
        for (system, lengths) in [("", &inch), ("metric ", &metric)] {
            rows.push(Hardware {
                name: format!("{system}{class}side-mount slides"),
                kind: HardwareKind::Slides,
                unit: HardwareUnit::Pair,
                class: HardwareClass::Slides(Slides {
                    // Common practice, no source: half an inch a side, 1/32 in more at most and never less.
                    clearance: Length::from_inch(1, 2),
                    slack: Length::from_inch(1, 32),
                    lengths: lengths.clone(),
                    height,
                    under: Length::ZERO,
                    load_kg,
                }),
                note: SLIDE_NOTE.to_owned(),
                source: COMMON,
            });
        }
    }
}

fn slides_by_sheet(rows: &mut Vec<Hardware>) {
    for (name, note) in [
        ("under-mount slides", SLIDE_NOTE),
        (
            "wooden runners",
            "give the clearances that the runners are made to; wax them, and leave room for the wood to move",
        ),
    ] {
        rows.push(Hardware {
            name: name.to_owned(),
            kind: HardwareKind::Slides,
            unit: HardwareUnit::Pair,
            class: HardwareClass::SlidesBySheet,
            note: note.to_owned(),
            source: "no figures: they differ from maker to maker, so the maker's sheet is asked for",
        });
    }
}

type Row = (&'static str, HardwareKind, HardwareUnit, &'static str);

// Common practice, no source: what a hardware store keeps, by the words and sizes of the trade.
const PLAIN: &[Row] = &[
    ("pull", HardwareKind::Pull, HardwareUnit::Each, ""),
    ("3 in pull", HardwareKind::Pull, HardwareUnit::Each, "3 in between screw centres"),
    ("4 in pull", HardwareKind::Pull, HardwareUnit::Each, "4 in between screw centres"),
    ("96 mm pull", HardwareKind::Pull, HardwareUnit::Each, "96 mm between screw centres"),
    ("128 mm pull", HardwareKind::Pull, HardwareUnit::Each, "128 mm between screw centres"),
    ("cup pull", HardwareKind::Pull, HardwareUnit::Each, ""),
    ("knob", HardwareKind::Pull, HardwareUnit::Each, ""),
    ("butt hinge", HardwareKind::Hinge, HardwareUnit::Each, "mortise to the leaf's thickness"),
    ("35 mm cup hinge, full overlay", HardwareKind::Hinge, HardwareUnit::Each, "drill to the hinge maker's sheet"),
    ("35 mm cup hinge, half overlay", HardwareKind::Hinge, HardwareUnit::Each, "drill to the hinge maker's sheet"),
    ("35 mm cup hinge, inset", HardwareKind::Hinge, HardwareUnit::Each, "drill to the hinge maker's sheet"),
    ("1/4 in shelf pin", HardwareKind::ShelfPin, HardwareUnit::Each, ""),
    ("5 mm shelf pin", HardwareKind::ShelfPin, HardwareUnit::Each, ""),
    ("wood screw", HardwareKind::Screw, HardwareUnit::Each, ""),
    (
        "pocket screw",
        HardwareKind::Screw,
        HardwareUnit::Each,
        "coarse thread for softwood and panels, fine thread for hardwood",
    ),
    (
        "wood glue",
        HardwareKind::Glue,
        HardwareUnit::Area,
        "by area of joint; follow the glue maker's spread and open time",
    ),
];

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    #[test]
    fn names_are_unique_and_found() {
        let mut seen = HashSet::new();
        for name in hardware_names() {
            assert!(seen.insert(name.to_lowercase()), "{name} comes twice");
            assert_eq!(hardware(&name.to_uppercase()).unwrap().name, name);
        }
    }

    #[test]
    fn side_mount_slides_take_half_an_inch_a_side() {
        let row = hardware("side-mount slides").unwrap();
        let HardwareClass::Slides(slides) = &row.class else { panic!("they have a geometry") };
        assert_eq!(slides.clearance, Length::from_inch(1, 2));
        assert_eq!((slides.lengths[0], slides.lengths[9]), (Length::from_inch(10, 1), Length::from_inch(28, 1)));
        assert_eq!(slides.lengths.len(), 10);
        let HardwareClass::Slides(metric) = &hardware("metric heavy side-mount slides").unwrap().class else {
            panic!("they have a geometry")
        };
        assert_eq!((metric.lengths[0], metric.lengths[9]), (Length::from_mm(250), Length::from_mm(700)));
    }

    #[test]
    fn slides_without_figures_ask_for_the_makers_sheet() {
        for name in ["under-mount slides", "wooden runners"] {
            assert_eq!(hardware(name).unwrap().class, HardwareClass::SlidesBySheet);
        }
    }
}
