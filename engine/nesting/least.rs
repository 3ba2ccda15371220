//! A bound and nothing else, for whoever has a plan already.

use super::bound::Bounds;
use super::effort::Effort;
use super::fault::Fault;
use super::problem::Problem;
use super::setup::Setup;

/// What every plan of this problem costs at least. It goes on until the bound is `enough` or the effort is spent.
///
/// # Errors
///
/// A [`Fault`] that says what makes no sense, or what cannot be cut.
pub fn least_cost(problem: &Problem, enough: i64, effort: &Effort<'_>) -> Result<i64, Fault> {
    let setup = Setup::new(problem)?;
    let mut bounds = Bounds::new(&setup);
    bounds.by_bars(enough, effort.work.saturating_mul(AN_ATTEMPT), &effort.stop);
    Ok(bounds.best)
}

/// Entries of a table that take as long as one attempt of a search.
// From measurements: an attempt takes some microseconds, an entry half a nanosecond.
const AN_ATTEMPT: u64 = 20_000;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nesting::{Item, Saw, Sheet, Turn};

    #[test]
    fn boards_of_several_widths_are_worth_what_they_hold() {
        // Six pieces of 100 x 7 out of boards 12, 16 and 20 wide, each at the price of its width: one comes out of 12, two out of 16 and
        // no more out of 20. So each costs 8 at least, and six cost 48. By area they are 42, and prices like these add up to 44.
        let board = |width| Sheet { cost: width, ..Sheet::new(100, width) };
        let item = Item { width: 100, height: 7, count: 6, turn: Turn::Fixed, matched: None };
        let problem = Problem { sheets: [12, 16, 20].map(board).to_vec(), items: vec![item], saw: Saw::default() };
        assert_eq!(least_cost(&problem, i64::MAX, &Effort::work(100)), Ok(48));
        // Where 44 is enough, nothing more is looked for.
        assert_eq!(least_cost(&problem, 44, &Effort::work(100)), Ok(44));
        // With two of 16 on the rack for nothing, the other two cost 16.
        let mut with_rack = problem.clone();
        with_rack.sheets.push(Sheet { cost: 0, count: Some(2), ..Sheet::new(100, 16) });
        assert_eq!(least_cost(&with_rack, i64::MAX, &Effort::work(100)), Ok(16));
    }
}
