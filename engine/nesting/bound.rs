//! Lower bounds.

use super::setup::Setup;

/// No plan costs less.
pub(super) fn bound(setup: &Setup) -> i64 {
    let area: i128 = setup.kinds.iter().zip(&setup.needed).map(|(kind, &n)| i128::from(kind.width)*i128::from(kind.height) * i128::from(n)).sum();
    let sheet = i128::from(setup.frames[0].width)*i128::from(setup.frames[0].height);
    if setup.frames.len() > 1 { return 0; }
    i64::try_from((area + sheet - 1) / sheet).unwrap_or(0) * setup.costs[0]
}
