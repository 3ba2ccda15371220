//! The diagonals that tell whether a box is square: both are equal, and as long as its sides say.

use super::SquareRow;
use super::names::Shortener;
use crate::base::Length;
use crate::model::Model;

/// The rows in order of first appearance; boxes of one size that differ only in the number of their piece are one row.
pub(super) fn squares(model: &Model, short: &Shortener<'_>) -> Vec<SquareRow> {
    let mut sizes: Vec<(Length, Length)> = Vec::new();
    let mut groups: Vec<Vec<&str>> = Vec::new();
    for square in &model.squares {
        let same = |&(width, depth): &(Length, Length)| width.same_size(square.width) && depth.same_size(square.depth);
        let place = sizes.iter().position(same).unwrap_or_else(|| {
            sizes.push((square.width, square.depth));
            groups.push(Vec::new());
            sizes.len() - 1
        });
        groups[place].push(&square.what);
    }
    let mut rows = Vec::new();
    for (sides, whats) in sizes.into_iter().zip(groups) {
        for (what, boxes) in short.group(whats.into_iter().map(|what| (what, ()))) {
            let quantity = i64::try_from(boxes.len()).unwrap_or(i64::MAX);
            rows.push(SquareRow { what, quantity, sides, diagonal: diagonal(sides.0, sides.1) });
        }
    }
    rows
}

/// The diagonal of a rectangle, to the nearest nanometre, by whole numbers alone.
fn diagonal(width: Length, depth: Length) -> Length {
    let square = |side: Length| u128::from(side.nm().unsigned_abs()).pow(2);
    let sum = square(width) + square(depth);
    let root = sum.isqrt();
    // The next whole number is nearer when the rest is beyond (root + 1/2)^2 = root^2 + root + 1/4.
    let nearest = if sum - root * root > root { root + 1 } else { root };
    Length::from_nm(i64::try_from(nearest).unwrap_or(i64::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Printing;
    use crate::model::Squareness;
    use proptest::prelude::*;

    #[test]
    fn three_four_five_is_square() {
        assert_eq!(diagonal(Length::from_inch(3, 1), Length::from_inch(4, 1)), Length::from_inch(5, 1));
        assert_eq!(diagonal(Length::from_mm(500), Length::from_mm(1_200)), Length::from_mm(1_300));
        // The square root of 2 is 1.41421356 to eight places.
        assert_eq!(diagonal(Length::from_nm(100_000_000), Length::from_nm(100_000_000)).nm(), 141_421_356);
        assert_eq!(diagonal(Length::ZERO, Length::ZERO), Length::ZERO);
    }

    proptest! {
        #[test]
        fn the_diagonal_is_the_nearest(a in 0_i64..2_000_000_000_000, b in 0_i64..2_000_000_000_000) {
            let found = i128::from(diagonal(Length::from_nm(a), Length::from_nm(b)).nm());
            let sum = 4 * (i128::from(a).pow(2) + i128::from(b).pow(2));
            // (2d - 1)^2 <= 4 (a^2 + b^2) <= (2d + 1)^2.
            prop_assert!(found == 0 || (2 * found - 1).pow(2) <= sum);
            prop_assert!(sum <= (2 * found + 1).pow(2));
        }
    }

    #[test]
    fn equal_boxes_are_one_row() {
        let mut model = Model::new("bank", Printing::default());
        for n in 1..=3 {
            model.add_piece(&format!("drawer {n}"), None);
            let width = Length::from_inch(if n == 3 { 8 } else { 3 }, 1);
            model.squares.push(Squareness { what: format!("drawer {n}"), width, depth: Length::from_inch(4, 1) });
        }
        let rows = squares(&model, &Shortener::new(&model));
        let said: Vec<_> = rows.iter().map(|row| (row.what.as_str(), row.quantity)).collect();
        assert_eq!(said, [("drawer 1, 2", 2), ("drawer 3", 1)]);
    }
}
