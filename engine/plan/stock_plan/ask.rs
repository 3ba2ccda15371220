//! What is wanted of each stock: the rows of the cut list, and which fronts belong together.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{CutRow, Lot, Member, Wanted};
use crate::base::{Axis, Length};
use crate::model::{Model, PartId, Shop, StockForm};

/// What the rows need, by stock in order of first appearance.
pub(super) fn lots(model: &Model, rows: &[CutRow], shop: &Shop) -> Vec<Lot> {
    let members = if shop.cutting.match_fronts { banks(model) } else { BTreeMap::new() };
    let mut lots: Vec<Lot> = Vec::new();
    for row in rows {
        let Some(first) = row.parts.first().map(|&id| model.part(id)) else { continue };
        if first.stock.is_band() {
            continue;
        }
        let place = lots.iter().position(|lot| Arc::ptr_eq(&lot.stock, &first.stock) || lot.stock == first.stock);
        let place = place.unwrap_or_else(|| {
            lots.push(Lot { stock: first.stock.clone(), wanted: Vec::new() });
            lots.len() - 1
        });
        let wanted = |count: u32, bank| Wanted {
            mark: row.mark.clone(),
            part: row.part.clone(),
            length: row.length,
            width: row.width,
            count,
            shows: row.parts.iter().any(|&id| model.part(id).show.is_some()),
            bank,
            at: first.at.clone(),
        };
        let of_banks: Vec<Member> = row.parts.iter().filter_map(|id| members.get(id).copied()).collect();
        let single = usize::try_from(row.quantity).unwrap_or(0).saturating_sub(of_banks.len());
        if single > 0 {
            lots[place].wanted.push(wanted(u32::try_from(single).unwrap_or(u32::MAX), None));
        }
        lots[place].wanted.extend(of_banks.into_iter().map(|member| wanted(1, Some(member))));
    }
    lots
}

/// Adds what another job needs, so many times.
pub(super) fn add(lots: &mut Vec<Lot>, job: &str, more: &[Lot], count: u32) {
    let banks = lots.iter().flat_map(|lot| &lot.wanted).filter_map(|wanted| wanted.bank).map(|member| member.bank);
    let next = banks.max().map_or(0, |bank| bank + 1);
    for lot in more {
        let place = lots.iter().position(|own| own.stock == lot.stock).unwrap_or_else(|| {
            lots.push(Lot { stock: lot.stock.clone(), wanted: Vec::new() });
            lots.len() - 1
        });
        lots[place].wanted.extend(lot.wanted.iter().map(|wanted| Wanted {
            mark: format!("{job} {}", wanted.mark),
            count: wanted.count.saturating_mul(count),
            bank: wanted.bank.map(|member| Member { bank: member.bank + next, ..member }),
            ..wanted.clone()
        }));
    }
}

/// Fronts that stand above each other in one plane and are cut from one sheet stock with a grain, from the top down.
fn banks(model: &Model) -> BTreeMap<PartId, Member> {
    type Column = (Length, Length, Length);
    let mut columns: Vec<(Column, Vec<PartId>)> = Vec::new();
    for front in &model.fronts {
        let part = model.part(front.part);
        // A frame is cut from boards one by one.
        if !front.rest.is_empty() || part.grain.is_none() || !matches!(part.stock.form, StockForm::Sheet { .. }) {
            continue;
        }
        let solid = &part.solid;
        let column = (solid.low[0], solid.high[0], solid.low[1]);
        let alike = |other: PartId| {
            let other = model.part(other);
            other.stock == part.stock && other.grain == part.grain
        };
        match columns.iter_mut().find(|(own, fronts)| *own == column && fronts.first().is_some_and(|&one| alike(one))) {
            Some((_, fronts)) if !fronts.contains(&front.part) => fronts.push(front.part),
            Some(_) => {}
            None => columns.push((column, vec![front.part])),
        }
    }
    let mut members = BTreeMap::new();
    let mut bank = 0;
    for (_, mut fronts) in columns {
        if fronts.len() < 2 {
            continue;
        }
        fronts.sort_by_key(|&id| std::cmp::Reverse(model.part(id).solid.low[2]));
        for (place, id) in (0..).zip(fronts) {
            members.insert(id, Member { bank, place, along_grain: model.part(id).grain == Some(Axis::Z) });
        }
        bank += 1;
    }
    members
}
