//! What the pieces of a job weigh, so that a maker knows what to lift and how.

use super::WeightRow;
use super::names::Shortener;
use crate::model::{Model, PieceId};
use crate::physics::{self, Mass};

/// A row for each piece that has parts, the whole job first; equal pieces that differ only in their number are one row.
pub(super) fn weights(model: &Model, short: &Shortener<'_>) -> Vec<WeightRow> {
    let mut of_piece = vec![Mass::default(); model.pieces.len()];
    for part in &model.parts {
        let own = physics::of_part(part);
        let mut next = Some(part.piece);
        while let Some(piece) = next {
            let sum = &mut of_piece[piece.0 as usize];
            *sum = [*sum, own].into_iter().sum();
            next = model.piece(piece).parent;
        }
    }
    // Grams are finer than any density is known, so that equal pieces are equal to the gram.
    let grams = |mass: f64| num_traits::ToPrimitive::to_i64(&(mass * 1_000.0).round()).unwrap_or(i64::MAX);
    let mut sizes: Vec<(i64, i64)> = Vec::new();
    let mut groups: Vec<Vec<&str>> = Vec::new();
    for (index, (mass, piece)) in of_piece.iter().zip(&model.pieces).enumerate() {
        let whole = PieceId(u32::try_from(index).unwrap_or(u32::MAX)) == Model::ROOT;
        if mass.kg <= 0.0 || (!whole && piece.parent.is_none()) {
            continue;
        }
        let size = (grams(mass.kg), grams(mass.assumed));
        // A piece that is all of the job has been told as the job.
        if !whole && sizes.first() == Some(&size) {
            continue;
        }
        let place = sizes.iter().position(|known| *known == size && !whole).unwrap_or_else(|| {
            sizes.push(size);
            groups.push(Vec::new());
            sizes.len() - 1
        });
        groups[place].push(&piece.name);
    }
    let mut rows = Vec::new();
    for ((grams, assumed), names) in sizes.into_iter().zip(groups) {
        for (what, pieces) in short.group(names.into_iter().map(|name| (name, ()))) {
            let quantity = i64::try_from(pieces.len()).unwrap_or(i64::MAX);
            rows.push(WeightRow { what, quantity, grams, assumed });
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::{Length, Printing, Solid};
    use crate::catalog;
    use crate::model::Part;

    #[test]
    fn the_job_first_and_equal_pieces_together() {
        let mut model = Model::new("bank", Printing::default());
        for n in 1..=2 {
            let piece = model.add_piece(&format!("tray {n}"), None);
            model.place(piece, Model::ROOT, [Length::ZERO; 3]);
            let high = [Length::from_mm(1000), Length::from_mm(500), Length::from_mm(18)];
            let mdf = catalog::stock("18 mm MDF").unwrap();
            model.add_part(Part::new("base", piece, mdf, Solid::new([Length::ZERO; 3], high)));
        }
        let rows = weights(&model, &Shortener::new(&model));
        // 0.009 m3 of 800 kg/m3 are 7.2 kg, and twice that.
        let said: Vec<_> = rows.iter().map(|row| (row.what.as_str(), row.quantity, row.grams, row.assumed)).collect();
        assert_eq!(said, [("bank", 1, 14_400, 0), ("tray 1, 2", 2, 7_200, 0)]);
    }
}
