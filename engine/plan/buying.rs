//! What to buy by area and by length, until the stock is laid out.

use super::{Amount, BuyRow, StockTable};
use crate::base::{Axis, Length, Ratio};
use crate::catalog;
use crate::model::{Model, Money, Part, Per, Price, Shop, Stock, StockForm};

/// What to buy for several jobs together, each made so many times: one row for each stock over all of them.
///
/// Sheets and boards are counted from what all jobs need of a stock, so that two jobs of half a sheet take one.
pub fn buying_together(jobs: &[(&Model, i64)], shop: &Shop) -> Vec<BuyRow> {
    let wanted = jobs.iter().flat_map(|(model, count)| model.parts.iter().map(|part| Wanted { part, count: *count }));
    rows(wanted, shop, &mut StockTable::default())
}

/// The rows in order of first appearance: one for each stock, and of boards with fixed widths one for each width.
pub(super) fn buying<'a>(model: &'a Model, shop: &Shop, stocks: &mut StockTable<'a>) -> Vec<BuyRow> {
    rows(model.parts.iter().map(|part| Wanted { part, count: 1 }), shop, stocks)
}

/// A part, and how many of it are cut.
#[derive(Clone, Copy)]
struct Wanted<'a> {
    part: &'a Part,
    count: i64,
}

impl Wanted<'_> {
    /// What all of them need, where one needs `each`. Beyond what can be counted it is the most that can, which no job reaches.
    fn times(&self, each: i128) -> i128 {
        each.saturating_mul(i128::from(self.count))
    }
}

fn rows<'a>(wanted: impl Iterator<Item = Wanted<'a>>, shop: &Shop, stocks: &mut StockTable<'a>) -> Vec<BuyRow> {
    let mut groups: Vec<Vec<Wanted<'_>>> = Vec::new();
    let mut order = Vec::new();
    for each in wanted {
        let part = each.part;
        let place = stocks.place(&part.stock);
        if groups.len() <= place {
            groups.resize_with(place + 1, Vec::new);
        }
        if groups[place].is_empty() {
            order.push(place);
        }
        groups[place].push(each);
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
    amount.checked_mul(n).and_then(|product| up(product, d)).map_or(amount, |extra| amount.saturating_add(extra))
}

fn percent(waste: Ratio) -> i64 {
    (waste * Ratio::from_integer(100) + Ratio::new(1, 2)).floor().to_integer()
}

fn area(part: &Part) -> i128 {
    let size = |axis: Axis| i128::from(part.cut_size(axis).nm());
    size(part.length_axis()) * size(part.width_axis())
}

/// How many parts in all.
fn counted(parts: &[Wanted<'_>]) -> i64 {
    parts.iter().fold(0, |sum, each| sum.saturating_add(each.count))
}

fn total(amounts: impl Iterator<Item = i128>) -> i128 {
    amounts.fold(0, i128::saturating_add)
}

fn sheets(stock: &Stock, parts: &[Wanted<'_>], shop: &Shop, length: Length, width: Length) -> BuyRow {
    let net = total(parts.iter().map(|each| each.times(area(each.part))));
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
        parts: counted(parts),
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
fn boards(stock: &Stock, parts: &[Wanted<'_>], shop: &Shop, widths: &[Length], lengths: &[Length]) -> Vec<BuyRow> {
    let mut widths: Vec<Length> = widths.iter().copied().filter(|width| width.is_positive()).collect();
    widths.sort_unstable();
    let Some(&widest) = widths.last() else {
        return vec![board_row(stock, parts, shop, None, lengths)];
    };
    let width_for = |each: &Wanted<'_>| {
        let needed = each.part.cut_size(each.part.width_axis());
        widths.iter().copied().find(|&width| needed <= width + Length::SAME_SIZE).unwrap_or(widest)
    };
    widths
        .iter()
        .filter_map(|&width| {
            let cut_from: Vec<Wanted<'_>> = parts.iter().copied().filter(|each| width_for(each) == width).collect();
            (!cut_from.is_empty()).then(|| board_row(stock, &cut_from, shop, Some(width), lengths))
        })
        .collect()
}

fn board_row(stock: &Stock, parts: &[Wanted<'_>], shop: &Shop, width: Option<Length>, lengths: &[Length]) -> BuyRow {
    let thickness = i128::from(catalog::sold_thickness(stock).nm());
    let strips = |part: &Part| width.map_or(1, |width| strips(part.cut_size(part.width_axis()), width));
    let length_of = |part: &Part| part.cut_size(part.length_axis());
    let length = total(parts.iter().map(|each| each.times(i128::from(length_of(each.part).nm()) * strips(each.part))));
    let volume = match width {
        Some(width) => length.saturating_mul(i128::from(width.nm())).saturating_mul(thickness),
        None => total(parts.iter().map(|each| each.times(area(each.part).saturating_mul(thickness)))),
    };
    let gross_length = with_waste(length, shop.waste);
    let gross_volume = with_waste(volume, shop.waste);

    let mut notes = vec!["boards by length and volume, not yet laid out".to_owned()];
    let mut bought = Bought { length: Some(held(gross_length)), volume: Some(gross_volume), ..Bought::default() };
    let mut to_buy = None;
    if let Some(width) = width {
        let glued_up = parts.iter().any(|each| strips(each.part) > 1);
        if glued_up {
            notes.push("a part is wider than the widest board: it is counted as glued up from several".to_owned());
        }
        let cut = parts.iter().filter(|each| length_of(each.part).is_positive()).map(|each| {
            // A part of more strips than a shop would ever glue up is not laid end to end; its length is counted above.
            let strips = i64::try_from(strips(each.part).min(100)).unwrap_or(1);
            (length_of(each.part), each.count.saturating_mul(strips))
        });
        match best_length(lengths, cut.collect(), held(gross_length), shop.crosscut_kerf()) {
            Some((count, length)) => {
                to_buy = Some((count, length, width));
                let whole = i128::from(length.nm()) * i128::from(count);
                bought.length = Some(held(whole));
                bought.volume = Some(whole.saturating_mul(i128::from(width.nm())).saturating_mul(thickness));
            }
            None if !lengths.is_empty() => notes.push("a part is longer than the longest board".to_owned()),
            None => {}
        }
    }
    let cost = cost(stock.price, &bought);
    notes.extend(waste_of_price(stock.price, cost));
    BuyRow {
        stock: stock.name.clone(),
        parts: counted(parts),
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
///
/// `parts` are lengths, each with how many there are of it.
fn best_length(
    lengths: &[Length],
    mut parts: Vec<(Length, i64)>,
    gross: Length,
    kerf: Length,
) -> Option<(i64, Length)> {
    parts.sort_unstable_by(|a, b| b.cmp(a));
    let (longest, _) = parts.first().copied()?;
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

/// Boards that parts take when each board is filled until the next part does not fit. `parts` are lengths, each with how many
/// there are of it; the longest first, and none longer than the board.
fn boards_end_to_end(parts: &[(Length, i64)], board: Length, kerf: Length) -> i64 {
    // How many of a length come out of what is left of a board. The last cut of a board may take all of it.
    let fits = |left: Length, part: Length| if part > left { 0 } else { (left - part).nm() / (part + kerf).nm() + 1 };
    let (mut count, mut left) = (0_i64, Length::ZERO);
    for &(part, of_it) in parts {
        let into_rest = fits(left, part).min(of_it);
        left -= (part + kerf) * into_rest;
        let more = of_it - into_rest;
        if more > 0 {
            let each = fits(board, part).max(1);
            let boards = (more - 1) / each + 1;
            count = count.saturating_add(boards);
            left = board - (part + kerf) * (more - (boards - 1) * each);
        }
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
    fn several_jobs_share_their_sheets_and_boards() {
        let three_quarters = Length::from_inch(3, 4);
        let sheet = |count: usize| {
            job(priced("3/4 birch plywood", 6_000, Per::Sheet), &vec![[inch(48), inch(40), three_quarters]; count])
        };
        let pine = |count: usize| {
            let stock = (*catalog::stock("3/4 pine board").unwrap()).clone();
            job(stock, &vec![[inch(40), inch(3), three_quarters]; count])
        };
        // One part in two jobs, of which one is made three times, is four parts in one job.
        let (one, four) = (sheet(1), sheet(4));
        assert_eq!(buying_together(&[(&one, 1), (&one, 3)], &Shop::default()), bought(&four));
        assert_eq!(buying_together(&[(&four, 1)], &Shop::default()), bought(&four));
        let (one, ten) = (pine(1), pine(10));
        assert_eq!(buying_together(&[(&one, 7), (&one, 3)], &Shop::default()), bought(&ten));
        let rows = buying_together(&[(&one, 2), (&sheet(1), 2), (&one, 1)], &Shop::default());
        let stocks: Vec<(&str, i64)> = rows.iter().map(|row| (row.stock.as_str(), row.parts)).collect();
        assert_eq!(stocks, [("3/4 pine board", 3), ("3/4 birch plywood", 2)]);
        assert!(buying_together(&[], &Shop::default()).is_empty());
    }

    #[test]
    fn many_of_a_length_are_laid_out_like_one_after_the_other() {
        let board = inch(96);
        let kerf = Length::from_inch(1, 8);
        let one_by_one = |parts: &[(Length, i64)]| {
            let (mut count, mut left) = (0, Length::ZERO);
            for part in parts.iter().flat_map(|&(part, of_it)| (0..of_it).map(move |_| part)) {
                if part > left {
                    count += 1;
                    left = board;
                }
                left = left - part - kerf;
            }
            count
        };
        for a in [96, 60, 48, 47, 40] {
            for b in [40, 31, 24, 5, 1] {
                for (n, m) in [(1, 1), (2, 3), (5, 7), (1, 40)] {
                    let parts = [(inch(a), n), (inch(b), m)];
                    assert_eq!(boards_end_to_end(&parts, board, kerf), one_by_one(&parts), "{a} {b} {n} {m}");
                }
            }
        }
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
        let job = job(Stock::new("n", Material::Other, narrow, Length::LIMIT), &[km; 50]);
        bought(&job);
        buying_together(&vec![(&job, 10_000); 1_000], &Shop::default());
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
