//! What to buy by area and by length, until the stock is laid out.

use super::{Amount, BuyRow, StockTable};
use crate::base::{Axis, Length, Ratio};
use crate::catalog;
use crate::model::{Model, Money, Part, Per, Price, Shop, Stock, StockForm};

/// The rows in order of first appearance: one for each stock, and of boards with fixed widths one for each width.
pub(super) fn buying<'a>(model: &'a Model, shop: &Shop, stocks: &mut StockTable<'a>) -> Vec<BuyRow> {
    let mut groups: Vec<Vec<&Part>> = Vec::new();
    let mut order = Vec::new();
    for part in &model.parts {
        let place = stocks.place(&part.stock);
        if groups.len() <= place {
            groups.resize_with(place + 1, Vec::new);
        }
        if groups[place].is_empty() {
            order.push(place);
        }
        groups[place].push(part);
    }
    order
        .into_iter()
        .flat_map(|place| {
            let (stock, parts) = (stocks.0[place].as_ref(), groups[place].as_slice());
            match &stock.form {
                StockForm::Sheet { length, width } => vec![sheets(stock, parts, shop, *length, *width)],
                StockForm::Board { widths, lengths } => boards(stock, parts, shop, widths, lengths),
                StockForm::Band { .. } => boards(stock, parts, shop, &[], &[]),
            }
        })
        .collect()
}

/// What a price can be for.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Bought {
    pub(super) sheets: Option<i64>,
    pub(super) rolls: Option<i64>,
    pub(super) length: Option<Length>,
    /// Cubic nanometres.
    pub(super) volume: Option<i128>,
}

/// A board foot in cubic nanometres: 144 cubic inches.
// SEEN: furnituremaking.us, ordering-lumber-by-the-board-foot.
pub const BOARD_FOOT: i128 = 144 * (Length::INCH.nm() as i128).pow(3);

/// What it costs, up to the next hundredth; `None` without a price, or with one for something that is not bought here.
pub(super) fn cost(price: Option<Price>, bought: &Bought) -> Option<Money> {
    let price = price?;
    let each = i128::from(price.amount.0);
    let of_length =
        |unit: Length| bought.length.and_then(|length| up(i128::from(length.nm()) * each, i128::from(unit.nm())));
    let hundredths = match price.per {
        Per::Sheet => bought.sheets.map(|count| i128::from(count) * each),
        Per::Roll => bought.rolls.map(|count| i128::from(count) * each),
        Per::BoardFoot => bought.volume.and_then(|volume| up(volume.checked_mul(each)?, BOARD_FOOT)),
        Per::Metre => of_length(Length::from_mm(1_000)),
        Per::Foot => of_length(Length::from_inch(12, 1)),
    };
    hundredths.and_then(|hundredths| i64::try_from(hundredths).ok()).map(Money)
}

/// Says so when there is a price, and it is for something else than what is bought.
pub(super) fn waste_of_price(price: Option<Price>, cost: Option<Money>) -> Option<String> {
    price.filter(|_| cost.is_none()).map(|price| format!("its price per {} does not fit this stock", price.per.name()))
}

/// Division up to the next whole number; `None` by zero.
fn up(value: i128, divisor: i128) -> Option<i128> {
    (divisor != 0).then(|| value.div_euclid(divisor) + i128::from(value.rem_euclid(divisor) != 0))
}

/// `amount` with the share of waste, up to the next whole number. A shop's waste is a small share, far from overflow.
fn with_waste(amount: i128, waste: Ratio) -> i128 {
    let (n, d) = (i128::from(*waste.numer()), i128::from(*waste.denom()));
    amount.checked_mul(n).and_then(|product| up(product, d)).map_or(amount, |extra| amount + extra)
}

fn percent(waste: Ratio) -> i64 {
    (waste * Ratio::from_integer(100) + Ratio::new(1, 2)).floor().to_integer()
}

fn area(part: &Part) -> i128 {
    let size = |axis: Axis| i128::from(part.cut_size(axis).nm());
    size(part.length_axis()) * size(part.width_axis())
}

fn sheets(stock: &Stock, parts: &[&Part], shop: &Shop, length: Length, width: Length) -> BuyRow {
    let net: i128 = parts.iter().map(|part| area(part)).sum();
    let gross = with_waste(net, shop.waste);
    let inner = |size: Length| i128::from((size - shop.trim * 2).nm().max(0));
    let usable = inner(length) * inner(width);
    let count = up(gross, usable).and_then(|count| i64::try_from(count.max(1)).ok());
    let cost = cost(stock.price, &Bought { sheets: count, ..Bought::default() });
    let mut notes = vec!["sheets by area, not yet laid out: check that the parts fit before you buy".to_owned()];
    if count.is_none() {
        notes.push("nothing is left of a sheet once its edges are trimmed".to_owned());
    }
    notes.extend(waste_of_price(stock.price, cost));
    BuyRow {
        stock: stock.name.clone(),
        parts: i64::try_from(parts.len()).unwrap_or(i64::MAX),
        thickness: stock.thickness(),
        net: Amount::Area(net),
        waste_percent: percent(shop.waste),
        with_waste: Amount::Area(gross),
        to_buy: count.map(|count| (count, length, width)),
        cost,
        note: notes.join("; "),
    }
}

/// Boards of random width are one row; boards of fixed widths are a row for each width that a part needs, the narrowest that it
/// comes out of.
fn boards(stock: &Stock, parts: &[&Part], shop: &Shop, widths: &[Length], lengths: &[Length]) -> Vec<BuyRow> {
    let mut widths: Vec<Length> = widths.iter().copied().filter(|width| width.is_positive()).collect();
    widths.sort_unstable();
    let Some(&widest) = widths.last() else {
        return vec![board_row(stock, parts, shop, None, lengths)];
    };
    let width_for = |part: &Part| {
        let needed = part.cut_size(part.width_axis());
        widths.iter().copied().find(|&width| needed <= width + Length::SAME_SIZE).unwrap_or(widest)
    };
    widths
        .iter()
        .filter_map(|&width| {
            let cut_from: Vec<&Part> = parts.iter().copied().filter(|part| width_for(part) == width).collect();
            (!cut_from.is_empty()).then(|| board_row(stock, &cut_from, shop, Some(width), lengths))
        })
        .collect()
}

fn board_row(stock: &Stock, parts: &[&Part], shop: &Shop, width: Option<Length>, lengths: &[Length]) -> BuyRow {
    let thickness = i128::from(catalog::sold_thickness(stock).nm());
    let strips = |part: &Part| width.map_or(1, |width| strips(part.cut_size(part.width_axis()), width));
    let length_of = |part: &Part| part.cut_size(part.length_axis());
    let length: i128 = parts.iter().map(|part| i128::from(length_of(part).nm()) * strips(part)).sum();
    let volume: i128 = match width {
        Some(width) => length * i128::from(width.nm()) * thickness,
        None => parts.iter().map(|part| area(part) * thickness).sum(),
    };
    let gross_length = with_waste(length, shop.waste);
    let gross_volume = with_waste(volume, shop.waste);

    let mut notes = vec!["boards by length and volume, not yet laid out".to_owned()];
    let mut bought = Bought { length: Some(held(gross_length)), volume: Some(gross_volume), ..Bought::default() };
    let mut to_buy = None;
    if let Some(width) = width {
        let glued_up = parts.iter().any(|part| strips(part) > 1);
        if glued_up {
            notes.push("a part is wider than the widest board: it is counted as glued up from several".to_owned());
        }
        let cut = parts.iter().filter(|part| length_of(part).is_positive()).flat_map(|part| {
            // A part of more strips than a shop would ever glue up is not laid end to end; its length is counted above.
            std::iter::repeat_n(length_of(part), usize::try_from(strips(part).min(100)).unwrap_or(1))
        });
        match best_length(lengths, cut.collect(), held(gross_length), shop.kerf) {
            Some((count, length)) => {
                to_buy = Some((count, length, width));
                let whole = i128::from(length.nm()) * i128::from(count);
                bought.length = Some(held(whole));
                bought.volume = Some(whole * i128::from(width.nm()) * thickness);
            }
            None if !lengths.is_empty() => notes.push("a part is longer than the longest board".to_owned()),
            None => {}
        }
    }
    let cost = cost(stock.price, &bought);
    notes.extend(waste_of_price(stock.price, cost));
    BuyRow {
        stock: stock.name.clone(),
        parts: i64::try_from(parts.len()).unwrap_or(i64::MAX),
        thickness: stock.thickness(),
        net: Amount::Board { length: held(length), volume },
        waste_percent: percent(shop.waste),
        with_waste: Amount::Board { length: held(gross_length), volume: gross_volume },
        to_buy,
        cost,
        note: notes.join("; "),
    }
}

/// How many boards side by side make up a width.
fn strips(needed: Length, board: Length) -> i128 {
    up(i128::from((needed - Length::SAME_SIZE).nm().max(1)), i128::from(board.nm())).unwrap_or(1)
}

/// A sum of lengths as a length; beyond what a length holds, the longest that it can.
fn held(nm: i128) -> Length {
    Length::from_nm(i64::try_from(nm).unwrap_or(i64::MAX))
}

/// How many boards of which length to buy: of the lengths that hold the longest part, the one with the least to pay for, and
/// of equals the shorter. Enough boards for the parts laid end to end, the longest first, and for the length with its waste.
fn best_length(lengths: &[Length], mut parts: Vec<Length>, gross: Length, kerf: Length) -> Option<(i64, Length)> {
    parts.sort_unstable_by(|a, b| b.cmp(a));
    let longest = parts.first().copied()?;
    lengths
        .iter()
        .copied()
        .filter(|&length| length >= longest && length.is_positive())
        .map(|length| {
            let by_length = (gross.nm() - 1) / length.nm() + 1;
            (by_length.max(boards_end_to_end(&parts, length, kerf)), length)
        })
        .min_by_key(|&(count, length)| (i128::from(count) * i128::from(length.nm()), length))
}

/// Boards that parts take when each board is filled until the next part does not fit. `parts` are the longest first.
fn boards_end_to_end(parts: &[Length], board: Length, kerf: Length) -> i64 {
    let (mut count, mut left) = (0, Length::ZERO);
    for &part in parts {
        if part > left {
            count += 1;
            left = board;
        }
        left = left - part - kerf;
    }
    count
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::base::{Printing, Solid};
    use crate::model::Material;

    fn inch(n: i64) -> Length {
        Length::from_inch(n, 1)
    }

    /// Parts of `stock`, given by length, width and thickness.
    fn job(stock: Stock, parts: &[[Length; 3]]) -> Model {
        let stock = Arc::new(stock);
        let mut model = Model::new("job", Printing::default());
        for &size in parts {
            let solid = Solid::new([Length::ZERO; 3], size);
            model.add_part(Part::new("part", Model::ROOT, stock.clone(), solid));
        }
        model
    }

    fn bought(model: &Model) -> Vec<BuyRow> {
        buying(model, &Shop::default(), &mut StockTable::default())
    }

    fn priced(name: &str, amount: i64, per: Per) -> Stock {
        let stock = catalog::stock(name).unwrap();
        Stock { price: Some(Price { amount: Money(amount), per }), ..(*stock).clone() }
    }

    #[test]
    fn sheets_are_bought_whole_with_waste_and_trim() {
        // Usable: 95.5 x 47.5 = 4536.25 in2. Two parts of 48 x 40 are 3840 in2, with a fifth more 4608: two sheets at 60.00.
        let three_quarters = Length::from_inch(3, 4);
        let model = job(priced("3/4 birch plywood", 6_000, Per::Sheet), &[[inch(48), inch(40), three_quarters]; 2]);
        let rows = bought(&model);
        let in2 = i128::from(inch(1).nm()).pow(2);
        assert_eq!((rows[0].net, rows[0].with_waste), (Amount::Area(3840 * in2), Amount::Area(4608 * in2)));
        assert_eq!(rows[0].to_buy, Some((2, inch(96), inch(48))));
        assert_eq!((rows[0].cost, rows[0].waste_percent), (Some(Money(12_000)), 20));
        // However small the part, a sheet is a sheet.
        let one = job(priced("3/4 birch plywood", 6_000, Per::Foot), &[[inch(2), inch(1), three_quarters]]);
        assert_eq!(bought(&one)[0].to_buy.unwrap().0, 1);
        assert!(bought(&one)[0].note.contains("price per foot does not fit"));
    }

    #[test]
    fn boards_count_board_feet_on_the_thickness_sold() {
        // 3/4 in hard maple is sold as 4/4. 36 x 4 in, twice: 288 in2 x 1 in = 288 in3 = 2 board feet; with a fifth 2.4.
        // At 5.25 a board foot: 12.60.
        let model = job(
            priced("3/4 hard maple board", 525, Per::BoardFoot),
            &[[inch(36), inch(4), Length::from_inch(3, 4)]; 2],
        );
        let row = &bought(&model)[0];
        assert_eq!(row.net, Amount::Board { length: inch(72), volume: 2 * BOARD_FOOT });
        assert_eq!(row.with_waste, Amount::Board { length: Length::from_inch(432, 5), volume: BOARD_FOOT * 12 / 5 });
        assert_eq!((row.to_buy, row.cost), (None, Some(Money(1_260))));
    }

    #[test]
    fn boards_of_fixed_width_are_counted_by_length() {
        // Ten parts of 40 x 3 in come out of boards 3-1/2 in wide. A 6 ft board holds one, 8 ft two (80-1/8 in with the kerf), 10 ft two
        // (three take 120-1/4 in), 12 ft three. Boards: 10, 5, 5, 4; feet: 60, 40, 50, 48. So five of 8 ft; 400 in with a fifth is
        // 480 in, just five times 96 in.
        let model = job(
            (*catalog::stock("3/4 pine board").unwrap()).clone(),
            &[[inch(40), inch(3), Length::from_inch(3, 4)]; 10],
        );
        let rows = bought(&model);
        assert_eq!(rows.len(), 1);
        assert_eq!(rows[0].to_buy, Some((5, inch(96), Length::from_inch(7, 2))));
    }

    #[test]
    fn a_part_wider_than_any_board_is_glued_up() {
        // 20 in of width out of boards of 11-1/4 in: two strips of 30 in each.
        let model =
            job((*catalog::stock("3/4 pine board").unwrap()).clone(), &[[inch(30), inch(20), Length::from_inch(3, 4)]]);
        let row = &bought(&model)[0];
        assert!(matches!(row.net, Amount::Board { length, .. } if length == inch(60)));
        assert!(row.note.contains("glued up"));
    }

    #[test]
    fn silly_stock_does_no_harm() {
        let size = [inch(30), inch(20), inch(1)];
        let sheet = StockForm::Sheet { length: Length::from_nm(1), width: Length::ZERO };
        let row = bought(&job(Stock::new("s", Material::Other, sheet, inch(1)), &[size])).remove(0);
        assert_eq!(row.to_buy, None);
        assert!(row.note.contains("nothing is left of a sheet"));
        let narrow = StockForm::Board { widths: vec![Length::from_nm(1)], lengths: vec![Length::ZERO, Length::LIMIT] };
        let km = [Length::LIMIT, Length::LIMIT, Length::LIMIT];
        bought(&job(Stock::new("n", Material::Other, narrow, Length::LIMIT), &[km; 50]));
    }

    #[test]
    fn a_price_is_rounded_up_to_the_hundredth() {
        // One metre and a nanometre at 0.01 a metre is 0.02.
        let bought = Bought { length: Some(Length::from_nm(1_000_000_001)), ..Bought::default() };
        assert_eq!(cost(Some(Price { amount: Money(1), per: Per::Metre }), &bought), Some(Money(2)));
        assert_eq!(cost(Some(Price { amount: Money(1), per: Per::Roll }), &bought), None);
        assert_eq!(cost(None, &bought), None);
    }
}
