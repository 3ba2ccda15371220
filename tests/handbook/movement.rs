//! How far wood moves across its grain.

use casewright::catalog::{wood, woods};
use casewright::physics::{change, change_beyond};

/// Wood Handbook (FPL-GTR-190), chapter 13, the example after Table 13-5. SEEN in part: a board 232 mm (9.15 in) wide gains 1.7 mm
/// (0.067 in) and comes to 233.7 mm (9.217 in); that it is flat-sawn white fir from 8 to 11 % is from memory.
#[test]
fn the_handbooks_example() {
    let white_fir = share(wood("white fir").unwrap().tangential.unwrap().value);
    // 232 x 0.00245 x 3 = 1.705 mm; 9.15 x 0.00245 x 3 = 0.0673 in.
    assert!((change(232.0, white_fir, 8.0, 11.0) - 1.705).abs() < 0.0005);
    assert!((change(9.15, white_fir, 8.0, 11.0) - 0.067).abs() < 0.0005);
    // The thickness of the same board uses 0.00112: SEEN on the same page.
    assert_eq!(wood("white fir").unwrap().radial.unwrap().value, 112);
}

/// SEEN (secondary): flooringartists.com, dimensional-change: 5 in of mesquite, 0.00129, from 6 to 9 %: 0.019 in.
/// SEEN: pressreader.com, Wood magazine 2021-09: 8 in of red alder over 6 points: 8 x 0.0026 x 6 = 0.1248 in, about an eighth; the
/// handbook's 0.00256 gives 0.1229.
#[test]
fn published_examples() {
    assert!((change(5.0, 0.00129, 6.0, 9.0) - 0.01935).abs() < 1e-9);
    assert!((change(8.0, 0.0026, 6.0, 12.0) - 0.1248).abs() < 1e-9);
    let alder = share(wood("red alder").unwrap().tangential.unwrap().value);
    assert!((change(8.0, alder, 6.0, 12.0) - 0.1229).abs() < 0.00005);
    // Drying takes away what damp gave.
    assert!((change(8.0, alder, 12.0, 6.0) + 0.1229).abs() < 0.00005);
}

/// Wood Handbook (FPL-GTR-190), Table 4-3, SEEN: radial and tangential shrinkage from green to ovendry, in tenths of a percent.
const SHRINKAGE: [(&str, i32, i32); 16] = [
    ("red alder", 44, 73),
    ("white ash", 49, 78),
    ("basswood", 66, 93),
    ("beech", 55, 119),
    ("paper birch", 63, 86),
    ("yellow birch", 73, 95),
    ("butternut", 34, 64),
    ("cherry", 37, 71),
    ("sweetgum", 53, 102),
    ("sycamore", 50, 84),
    ("walnut", 55, 78),
    ("yellow-poplar", 46, 82),
    ("Douglas fir", 48, 76),
    ("white fir", 33, 70),
    ("western redcedar", 24, 50),
    // From memory.
    ("Sitka spruce", 43, 75),
];

/// The two tables hold each other: a coefficient of Table 13-5 is S / (30 - 20 S), the straight line from 30 % referred to the size at
/// 10 % (DERIVED). To the last printed digit, but one of it for sycamore. The oaks are left out: Table 13-5 lists their commercial groups.
#[test]
fn the_coefficients_follow_from_the_other_table() {
    let of = |tenths: i32| {
        let shrinkage = f64::from(tenths) / 1000.0;
        shrinkage / (30.0 - 20.0 * shrinkage) * 100_000.0
    };
    for (name, radial, tangential) in SHRINKAGE {
        let row = wood(name).unwrap();
        for (tenths, figure) in [(radial, row.radial), (tangential, row.tangential)] {
            let printed = f64::from(figure.unwrap().value);
            assert!((of(tenths) - printed).abs() <= 1.0, "{name}: {:.1}, printed {printed}", of(tenths));
        }
    }
}

/// Coefficients as printed in Table 13-5, SEEN, for the woods that boards are most often of: radial, tangential.
#[test]
fn coefficients_as_printed() {
    for (name, radial, tangential) in [
        ("hard maple", 165, 353),
        ("soft maple", 137, 289),
        // Some flooring tables print 0.00365 for red oak; the handbook, in 2010 and in 2021, has 0.00369.
        ("red oak", 158, 369),
        ("white oak", 180, 365),
        ("elm", 144, 338),
        ("hackberry", 165, 315),
        ("pecan", 169, 315),
        ("aspen", 119, 234),
    ] {
        let row = wood(name).unwrap();
        assert_eq!((row.radial.unwrap().value, row.tangential.unwrap().value), (radial, tangential), "{name}");
    }
}

/// A board moves more along its rings than across them, and no more than a beech.
#[test]
fn no_row_is_turned() {
    for row in woods() {
        let (Some(radial), Some(tangential)) = (row.radial, row.tangential) else { continue };
        assert!(radial.value < tangential.value && tangential.value <= 431, "{}", row.name);
    }
}

/// Beyond 6 to 14 % the handbook goes by the whole shrinkage; from memory: `D (M_F - M_I) / (30 x 100 / S - 30 + M_I)`. Within, both
/// must say nearly the same.
#[test]
fn both_equations_agree_where_both_hold() {
    for (name, _, tangential) in SHRINKAGE {
        let row = wood(name).unwrap();
        let line = change(100.0, share(row.tangential.unwrap().value), 7.0, 12.0);
        let curve = change_beyond(100.0, f64::from(tangential) / 1000.0, 7.0, 12.0);
        assert!((line - curve).abs() < 0.05 * line, "{name}: {line} and {curve}");
    }
    // Worked: 100 mm of beech (11.9 %) from 12 to 20 %: 3000 / 11.9 = 252.10; 252.10 - 30 + 12 = 234.10; 800 / 234.10 = 3.417.
    assert!((change_beyond(100.0, 0.119, 12.0, 20.0) - 3.417).abs() < 0.001);
    // No moisture counts above 30 %.
    assert!((change_beyond(100.0, 0.119, 12.0, 30.0) - change_beyond(100.0, 0.119, 12.0, 60.0)).abs() < 1e-12);
}

fn share(hundred_thousandths: i32) -> f64 {
    f64::from(hundred_thousandths) / 100_000.0
}
