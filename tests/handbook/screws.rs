//! Wood screws by gauge.

use casewright::base::{Length, decimal_inches};
use casewright::catalog::{Hardness, lead_hole, root_diameter, screw_diameter};

/// Major diameter. SEEN: finescrews.com (6, 8, 10, 12, 14) and albanycountyfasteners.com (7, 9); ASME B18.6.1 itself was not seen.
/// Millimetres are from the same pages, to two places.
#[test]
fn gauge_to_diameter() {
    for (gauge, inches, hundredths_mm) in [
        (6, "0.138", 351),
        (7, "0.151", 384),
        (8, "0.164", 417),
        (9, "0.177", 450),
        (10, "0.19", 483),
        (12, "0.216", 549),
        (14, "0.242", 615),
    ] {
        let diameter = screw_diameter(gauge);
        assert_eq!(decimal_inches(diameter), inches, "#{gauge}");
        assert_eq!(diameter.to_nearest(Length::from_um(10)), Length::from_um(hundredths_mm * 10), "#{gauge}");
    }
}

/// The root is about two thirds of the shank: SEEN (secondary), engineersedge.com. The roots that the NDS tabulates (6: 0.113,
/// 8: 0.131, 10: 0.152 in) are from memory and larger, so a hole by the two-thirds rule is never too wide for them.
#[test]
fn roots_are_on_the_safe_side() {
    for (gauge, tabulated_thousandths) in [(6, 113), (8, 131), (10, 152)] {
        let tabulated = Length::from_nm(tabulated_thousandths * 25_400);
        assert!(root_diameter(gauge) < tabulated, "#{gauge}");
        assert!(lead_hole(gauge, Hardness::Hard).unwrap() < tabulated, "#{gauge}");
    }
    // 0.164 x 2/3 = 0.109333 in.
    assert_eq!(decimal_inches(root_diameter(8)), "0.109333");
}

/// 90 % of the root for wood of 0.6 and more, 70 % for 0.5 to 0.6, none below: SEEN, civilengineeringx.com, Wood-Screws (restates
/// the NDS). Holes are to the nearest 64th.
#[test]
fn lead_holes() {
    // Number 10: 0.190 x 2/3 = 0.12667; 90 % 0.114 = 7.296/64; 70 % 0.08867 = 5.675/64.
    assert_eq!(lead_hole(10, Hardness::Hard), Some(Length::from_inch(7, 64)));
    assert_eq!(lead_hole(10, Hardness::Medium), Some(Length::from_inch(6, 64)));
    assert_eq!(lead_hole(10, Hardness::Soft), None);
}
