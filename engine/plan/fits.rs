//! How far each fit of the job may be off, alike ones drawn together.

use super::FitRow;
use super::names::Shortener;
use crate::fits::{self, Kin};
use crate::model::{Model, Shop};

/// The rows in the order of the recipe, one kind of fit after the other.
pub(super) fn fits(model: &Model, shop: &Shop, short: &Shortener<'_>) -> Vec<FitRow> {
    let all = fits::all(model, shop);
    fits::kin(&all).iter().map(|kin| row(model, kin, short)).collect()
}

fn row(model: &Model, kin: &Kin<'_>, short: &Shortener<'_>) -> FitRow {
    let fit = kin.first;
    FitRow {
        fit: fit.kind.name(),
        of: short.join(kin.of.iter().copied()).join("; "),
        quantity: i64::try_from(kin.how_many).unwrap_or(i64::MAX),
        gap: fit.nominal,
        works: (fit.least, fit.most),
        worst: kin.spread.worst,
        likely: kin.spread.likely,
        percent: kin.percent(),
        matters_most: fit.matters_most_in_words(model.printing),
    }
}
