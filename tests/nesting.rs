//! The cutting-stock engine from outside: laws, plans by brute force, published values, and a verifier that refuses.

use casewright::nesting::{
    Axis, Board, Boards, Broken, Effort, Fault, Item, Keep, Layout, Matched, Node, Plan, Problem, Saw, Score, Sheet,
    Stages, Stick, Thin, Trim, Trimming, Turn, Way, plan, plan_boards, verify, verify_boards,
};
use proptest::prelude::*;
use std::collections::HashMap;

/// Cases for each law: these take some seconds where nothing is optimised.
const CASES: u32 = 40;

fn item(width: i64, height: i64, count: u32, turn: Turn) -> Item {
    Item { width, height, count, turn, matched: None }
}

fn problem(sheet: Sheet, items: Vec<Item>, saw: Saw) -> Problem {
    Problem { sheets: vec![sheet], items, saw }
}

/// Every way to cut a set of parts (bits) out of one rectangle, with the kerf at every cut: no trick shared with the
/// engine. Part sides are what cuts are tried at, alone and added up.
struct Brute<'a> {
    parts: &'a [(i64, i64, bool)],
    /// Across X, across Y.
    kerf: [i64; 2],
    known: HashMap<(i64, i64, u32), bool>,
}

impl Brute<'_> {
    fn fits(&mut self, width: i64, height: i64, set: u32) -> bool {
        if set == 0 {
            return true;
        }
        if width <= 0 || height <= 0 {
            return false;
        }
        if let Some(&known) = self.known.get(&(width, height, set)) {
            return known;
        }
        let found = self.search(width, height, set);
        self.known.insert((width, height, set), found);
        found
    }

    fn search(&mut self, width: i64, height: i64, set: u32) -> bool {
        if set.is_power_of_two() {
            let (w, h, turns) = self.parts[set.trailing_zeros() as usize];
            return w <= width && h <= height || turns && h <= width && w <= height;
        }
        // Every split of the set, every place of the cut: slow and sure.
        let mut one = (set - 1) & set;
        while one > 0 {
            for at in 1..width {
                if self.fits(at, height, one) && self.fits(width - at - self.kerf[0], height, set & !one) {
                    return true;
                }
            }
            for at in 1..height {
                if self.fits(width, at, one) && self.fits(width, height - at - self.kerf[1], set & !one) {
                    return true;
                }
            }
            one = (one - 1) & set;
        }
        false
    }
}

fn least_sheets(width: i64, height: i64, kerf: i64, parts: &[(i64, i64, bool)]) -> u64 {
    least_sheets_of(width, height, [kerf; 2], parts)
}

fn least_sheets_of(width: i64, height: i64, kerf: [i64; 2], parts: &[(i64, i64, bool)]) -> u64 {
    let mut brute = Brute { parts, kerf, known: HashMap::new() };
    let all = (1_u32 << parts.len()) - 1;
    let mut least = vec![u64::MAX; 1 << parts.len()];
    least[0] = 0;
    for set in 1..=all {
        let mut one = set;
        while one > 0 {
            let before = least[(set & !one) as usize];
            if before != u64::MAX && before + 1 < least[set as usize] && brute.fits(width, height, one) {
                least[set as usize] = before + 1;
            }
            one = (one - 1) & set;
        }
    }
    least[all as usize]
}

/// The least cost of all ways to share parts out over kinds of stock, each with its cost and how many there are.
fn least_cost(stock: &[(i64, u32)], parts: usize, mut fits: impl FnMut(usize, u32) -> bool) -> Option<i64> {
    let all = (1_usize << parts) - 1;
    let mut least: Vec<Option<i64>> = vec![None; all + 1];
    least[0] = Some(0);
    for (kind, &(cost, count)) in stock.iter().enumerate() {
        // One more of this kind each time; more than there are parts is of no use.
        for _ in 0..count.min(u32::try_from(parts).unwrap_or(0)) {
            let before = least.clone();
            for set in 1..=all {
                let mut one = set;
                while one > 0 {
                    let with = before[set & !one].map(|other| other + cost);
                    if let Some(with) = with
                        && least[set].is_none_or(|known| with < known)
                        && fits(kind, u32::try_from(one).unwrap_or(0))
                    {
                        least[set] = Some(with);
                    }
                    one = (one - 1) & set;
                }
            }
        }
    }
    least[all]
}

fn small_items() -> impl Strategy<Value = Vec<(i64, i64, bool)>> {
    prop::collection::vec((1_i64..8, 1_i64..8, any::<bool>()), 1..=6)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: CASES, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn as_few_sheets_as_all_cutting_trees_allow(parts in small_items(), width in 8_i64..11, height in 8_i64..11, kerf in 0_i64..2) {
        let items = parts.iter().map(|&(w, h, turns)| item(w, h, 1, if turns { Turn::Free } else { Turn::Fixed })).collect();
        let asked = problem(Sheet::new(width, height), items, Saw { kerf, ..Saw::default() });
        let outcome = plan(&asked, &Effort::work(3_000)).unwrap();
        let least = least_sheets(width, height, kerf, &parts);
        prop_assert_eq!(outcome.plan.sheets(), least);
        prop_assert!(outcome.bound <= i64::try_from(least).unwrap());
    }

    #[test]
    fn two_kerfs_cost_as_few_sheets_as_all_cutting_trees_allow(
        parts in small_items(), width in 8_i64..11, height in 8_i64..11, kerf in (0_i64..3, 0_i64..3),
    ) {
        let fixed: Vec<_> = parts.iter().map(|&(w, h, _)| (w, h, false)).collect();
        let items = fixed.iter().map(|&(w, h, _)| item(w, h, 1, Turn::Fixed)).collect();
        let saw = Saw { kerf: kerf.1, kerf_across_x: Some(kerf.0), ..Saw::default() };
        let asked = problem(Sheet::new(width, height), items, saw);
        let outcome = plan(&asked, &Effort::work(3_000)).unwrap();
        let least = least_sheets_of(width, height, [kerf.0, kerf.1], &fixed);
        prop_assert_eq!(outcome.plan.sheets(), least);
        prop_assert!(outcome.bound <= i64::try_from(least).unwrap());
    }

    #[test]
    fn a_rack_at_several_prices_costs_as_little_as_all_cutting_trees_allow(
        parts in small_items(),
        rack in prop::collection::vec((4_i64..9, 4_i64..9, 0_i64..9, 1_u32..3), 1..3),
        kerf in 0_i64..2,
    ) {
        let items = parts.iter().map(|&(w, h, turns)| item(w, h, 1, if turns { Turn::Free } else { Turn::Fixed })).collect();
        let mut sheets = vec![Sheet { cost: 10, ..Sheet::new(9, 8) }];
        sheets.extend(rack.iter().map(|&(w, h, cost, n)| Sheet { cost, count: Some(n), ..Sheet::new(w, h) }));
        let asked = Problem { sheets, items, saw: Saw { kerf, ..Saw::default() } };
        let mut brute = Brute { parts: &parts, kerf: [kerf; 2], known: HashMap::new() };
        let stock: Vec<(i64, u32)> = asked.sheets.iter().map(|sheet| (sheet.cost, sheet.count.unwrap_or(9))).collect();
        let least = least_cost(&stock, parts.len(), |kind, set| {
            brute.fits(asked.sheets[kind].width, asked.sheets[kind].height, set)
        });
        let outcome = plan(&asked, &Effort::work(20_000)).unwrap();
        prop_assert!(outcome.bound <= least.unwrap());
        prop_assert_eq!(Some(outcome.score.cost), least);
    }

    #[test]
    fn no_bound_is_above_a_plan_of_another_seed(
        sizes in prop::collection::vec((20_i64..110, 15_i64..80, 1_u32..12, any::<bool>()), 1..9),
        rack in prop::collection::vec((20_i64..150, 20_i64..90, 0_i64..400, 1_u32..4, 0_i64..5), 0..4),
        kerf in 0_i64..5,
        most in 1_u8..5,
        counted in any::<bool>(),
        way in prop::sample::select(vec![Way::Free, Way::RipFirst, Way::CrosscutFirst]),
        longest in prop::option::of(80_i64..140),
        narrowest in 0_i64..16,
    ) {
        let items = sizes.iter().map(|&(w, h, n, turns)| item(w, h, n, if turns { Turn::Free } else { Turn::Fixed })).collect();
        let whole = Sheet { cost: 300, keep: Keep { short: 10, long: 20, worth: 200 }, ..Sheet::new(120, 80) };
        let mut sheets: Vec<Sheet> = rack
            .iter()
            .map(|&(w, h, cost, n, trim)| Sheet {
                cost, count: Some(n), trim: Trim { left: trim, top: trim, ..Trim::default() }, ..Sheet::new(w, h)
            })
            .collect();
        sheets.push(whole);
        let trimming = if counted && most > 1 { Trimming::Counted } else { Trimming::Extra };
        let stages = (most < 4).then_some(Stages { most, trimming });
        let saw = Saw { kerf, way, stages, crosscut_capacity: longest, narrowest, ..Saw::default() };
        let asked = Problem { sheets, items, saw };
        let Ok(first) = plan(&asked, &Effort::work(3_000)) else { return Ok(()) };
        prop_assert!(verify(&asked, &first.plan).is_ok());
        let second = plan(&asked, &Effort { seed: 2, ..Effort::work(12_000) }).unwrap();
        prop_assert!(verify(&asked, &second.plan).is_ok());
        prop_assert!(first.bound <= second.score.cost && second.bound <= first.score.cost);
        // Without limits a saw can only do better.
        let free = Problem { saw: Saw { kerf, ..Saw::default() }, ..asked };
        let free = plan(&free, &Effort::work(3_000)).unwrap();
        prop_assert!(free.bound <= first.score.cost.min(second.score.cost));
    }

    #[test]
    fn every_plan_passes_and_all_area_is_accounted_for(
        sizes in prop::collection::vec((5_i64..60, 5_i64..60, 1_u32..5, any::<bool>()), 1..12),
        kerf in 0_i64..5,
        trim in 0_i64..4,
        most in 1_u8..5,
        way in prop::sample::select(vec![Way::Free, Way::RipFirst, Way::CrosscutFirst]),
        counted in any::<bool>(),
        worth in 0_i64..1000,
    ) {
        let items = sizes.iter().map(|&(w, h, n, turns)| item(w, h, n, if turns { Turn::Free } else { Turn::Fixed })).collect();
        let mut sheet = Sheet::new(120, 80);
        sheet.cost = 1000;
        sheet.trim = Trim { left: trim, right: 0, bottom: trim, top: 2 };
        sheet.keep = Keep { short: 10, long: 20, worth };
        let trimming = if counted && most > 1 { Trimming::Counted } else { Trimming::Extra };
        let stages = (most < 4).then_some(Stages { most, trimming });
        let asked = problem(sheet, items, Saw { kerf, way, stages, ..Saw::default() });
        let outcome = plan(&asked, &Effort::work(300)).unwrap();
        let areas = verify(&asked, &outcome.plan).unwrap();
        prop_assert_eq!(areas.parts + areas.offcuts + areas.waste + areas.sawdust, areas.sheets);
        prop_assert!(outcome.bound <= outcome.score.cost);
        prop_assert_eq!(Score::of(&asked, &outcome.plan), outcome.score);
        for (score, other) in &outcome.neighbours {
            prop_assert!(verify(&asked, other).is_ok());
            prop_assert_eq!(score.cost, outcome.score.cost);
        }
        let again = plan(&asked, &Effort::work(300)).unwrap();
        prop_assert_eq!(again.plan, outcome.plan);
    }

    #[test]
    fn saw_limits_and_sets_are_kept(
        sizes in prop::collection::vec((5_i64..40, 5_i64..40, 1_u32..4), 1..8),
        front in 5_i64..14,
        members in 2_u32..5,
        longest in 70_i64..130,
        stages in prop::option::of(2_u8..5),
        upright in any::<bool>(),
        counted in any::<bool>(),
        turn in prop::sample::select(vec![Turn::Free, Turn::Fixed]),
        way in prop::sample::select(vec![Way::Free, Way::RipFirst, Way::CrosscutFirst]),
        worth in 0_i64..2,
    ) {
        let mut items: Vec<Item> = sizes.iter().map(|&(w, h, n)| item(w, h, n, Turn::Free)).collect();
        for place in 0..members {
            let along = if upright { Axis::Y } else { Axis::X };
            let high = 20 + i64::from(place);
            let (width, height) = if upright { (high, front) } else { (front, high) };
            let matched = Some(Matched { set: 7, place, along });
            items.push(Item { width, height, count: 2, turn, matched });
        }
        let trimming = if counted { Trimming::Counted } else { Trimming::Extra };
        let stages = stages.map(|most| Stages { most, trimming });
        let saw =
            Saw { kerf: 3, way, longest_rip: Some(longest), crosscut_capacity: Some(80), stages, narrowest: 4, ..Saw::default() };
        let keep = Keep { short: 5, long: 5, worth: 1000 * worth };
        let asked = problem(Sheet { keep, ..Sheet::new(120, 80) }, items, saw);
        match plan(&asked, &Effort::work(300)) {
            Ok(outcome) => prop_assert!(verify(&asked, &outcome.plan).is_ok()),
            Err(fault) => prop_assert!(!matches!(fault, Fault::Engine(_)), "{fault}"),
        }
    }

    #[test]
    fn scaling_turning_and_more_stock_change_nothing_for_the_worse(
        sizes in prop::collection::vec((5_i64..60, 5_i64..60, 1_u32..4), 1..8), times in 2_i64..100_000,
    ) {
        let ask = |turned: bool, times: i64| {
            let lie = |w: i64, h: i64| if turned { (h * times, w * times) } else { (w * times, h * times) };
            let items = sizes.iter().map(|&(w, h, n)| { let (w, h) = lie(w, h); item(w, h, n, Turn::Fixed) }).collect();
            let (width, height) = lie(100, 70);
            problem(Sheet::new(width, height), items, Saw { kerf: 3 * times, ..Saw::default() })
        };
        let effort = || Effort::work(400);
        let outcome = plan(&ask(false, 1), &effort()).unwrap();
        let scaled = plan(&ask(false, times), &effort()).unwrap();
        prop_assert_eq!(outcome.plan.sheets(), scaled.plan.sheets());
        let turned = plan(&ask(true, 1), &effort()).unwrap();
        prop_assert!(outcome.bound <= turned.score.cost && turned.bound <= outcome.score.cost);
        // Another kind of sheet at a price can only help.
        let mut more = ask(false, 1);
        more.sheets[0].cost = 10;
        more.sheets.push(Sheet { cost: 7, count: Some(2), ..Sheet::new(60, 70) });
        let mixed = plan(&more, &Effort::work(6_000)).unwrap();
        prop_assert!(mixed.score.cost <= outcome.score.cost * 10);
        prop_assert!(mixed.bound <= mixed.score.cost);
    }

    #[test]
    fn a_kerf_is_the_same_as_larger_parts_on_a_larger_sheet(
        sizes in prop::collection::vec((3_i64..30, 3_i64..30, any::<bool>()), 1..=5), kerf in 1_i64..4,
    ) {
        let larger: Vec<_> = sizes.iter().map(|&(w, h, turns)| (w + kerf, h + kerf, turns)).collect();
        prop_assert_eq!(least_sheets(31, 30, kerf, &sizes), least_sheets(31 + kerf, 30 + kerf, 0, &larger));
    }

    #[test]
    fn boards_cost_as_little_as_all_ways_to_fill_them(
        lengths in prop::collection::vec(10_i64..60, 1..=6),
        rack in prop::collection::vec((20_i64..90, 0_i64..9, 1_u32..3), 0..3),
        kerf in 0_i64..4,
        trim in 0_i64..3,
    ) {
        let items = lengths.iter().map(|&length| Stick { length, count: 1 }).collect();
        let mut stock = vec![Board { cost: 10, trim_end: trim, ..Board::new(100) }];
        stock.extend(rack.iter().map(|&(length, cost, n)| Board { cost, count: Some(n), ..Board::new(length) }));
        let asked = Boards { stock, items, kerf };
        let kinds: Vec<(i64, u32)> = asked.stock.iter().map(|board| (board.cost, board.count.unwrap_or(9))).collect();
        let least = least_cost(&kinds, lengths.len(), |kind, set| {
            let chosen = || lengths.iter().enumerate().filter(|(at, _)| set >> at & 1 == 1);
            let kerfs = i64::from(set.count_ones()) - 1;
            chosen().map(|(_, length)| length).sum::<i64>() + kerfs * kerf <= asked.stock[kind].usable()
        });
        let outcome = plan_boards(&asked, &Effort::work(20_000)).unwrap();
        prop_assert!(verify_boards(&asked, &outcome.plan).is_ok());
        prop_assert!(outcome.bound <= least.unwrap());
        prop_assert_eq!(Some(outcome.cost), least);
    }

    #[test]
    fn boards_hold_what_they_say(
        lengths in prop::collection::vec((10_i64..400, 1_u32..6), 1..14), kerf in 0_i64..5, spare in 0_u32..4,
    ) {
        let items = lengths.iter().map(|&(length, count)| Stick { length, count }).collect();
        let stock = vec![
            Board { cost: 10, trim_start: 5, trim_end: 3, ..Board::new(1000) },
            Board { cost: 5, count: Some(spare), ..Board::new(600) },
        ];
        let asked = Boards { stock, items, kerf };
        let outcome = plan_boards(&asked, &Effort::work(1_000)).unwrap();
        prop_assert!(verify_boards(&asked, &outcome.plan).is_ok());
        prop_assert!(outcome.bound <= outcome.cost);
        let again = plan_boards(&asked, &Effort::work(1_000)).unwrap();
        prop_assert_eq!(again.plan, outcome.plan);
    }
}

/// A plan of 100 x 50 with kerf 2 that is right, to be spoilt: two parts of 40 x 50 and what is left.
#[allow(clippy::unwrap_used)]
fn right() -> (Problem, Plan) {
    let saw = Saw { kerf: 2, ..Saw::default() };
    let asked = problem(Sheet::new(100, 50), vec![item(40, 50, 2, Turn::Fixed)], saw);
    let outcome = plan(&asked, &Effort::work(10)).unwrap();
    assert_eq!(verify(&asked, &outcome.plan).map(|areas| (areas.parts, areas.sawdust)), Ok((4000, 200)));
    (asked, outcome.plan)
}

fn cut(across: Axis, at: i64, first: Node, rest: Option<Node>) -> Node {
    Node::Cut { across, at, first: Box::new(first), rest: rest.map(Box::new) }
}

#[test]
fn every_kind_of_broken_plan_is_refused() {
    let part = |turned| Node::Part { item: 0, turned };
    let (asked, plan) = right();
    let with = |root: Node| {
        let mut plan = plan.clone();
        plan.layouts[0].root = root;
        plan
    };
    let last = || cut(Axis::X, 40, part(false), Some(Node::Waste));
    let cases = [
        (with(cut(Axis::X, 40, part(false), None)), Broken::Rest),
        (with(cut(Axis::X, 100, part(false), None)), Broken::Outside),
        (with(cut(Axis::X, 0, part(false), None)), Broken::Outside),
        (with(cut(Axis::X, 41, part(false), Some(last()))), Broken::Size),
        (with(cut(Axis::X, 40, part(true), Some(last()))), Broken::Turned),
        (with(cut(Axis::X, 40, part(false), Some(cut(Axis::X, 40, part(false), Some(Node::Offcut))))), Broken::Offcut),
        (with(cut(Axis::X, 40, part(false), Some(Node::Waste))), Broken::Demand),
        (with(Node::Part { item: 3, turned: false }), Broken::Unknown),
        (with(cut(Axis::Y, 25, Node::Waste, Some(Node::Waste))), Broken::Demand),
    ];
    for (at, (plan, broken)) in cases.into_iter().enumerate() {
        assert_eq!(verify(&asked, &plan), Err(broken), "case {at}");
    }
    let mut twice = plan.clone();
    twice.layouts[0].copies = 2;
    assert_eq!(verify(&asked, &twice), Err(Broken::Demand));
    twice.layouts[0].copies = 0;
    assert_eq!(verify(&asked, &twice), Err(Broken::Unknown));
    twice.layouts[0].sheet = 9;
    assert_eq!(verify(&asked, &twice), Err(Broken::Unknown));

    let under = |change: &dyn Fn(&mut Problem)| {
        let mut asked = asked.clone();
        change(&mut asked);
        verify(&asked, &plan)
    };
    assert_eq!(under(&|asked| asked.sheets[0].count = Some(0)), Err(Broken::Count));
    assert_eq!(under(&|asked| asked.saw.crosscut_capacity = Some(49)), Err(Broken::Saw));
    assert_eq!(under(&|asked| asked.saw.narrowest = 41), Err(Broken::Narrow));
    assert!(under(&|asked| (asked.saw.narrowest, asked.saw.thin) = (41, Thin::WithJig)).is_ok());
    // The rest of 100 - 2 x 42 = 16 wide is worth keeping, unless the saw cannot cut so narrow a piece.
    let keep_16 = |asked: &mut Problem| asked.sheets[0].keep = Keep { short: 16, long: 16, worth: 1 };
    assert_eq!(under(&keep_16), Err(Broken::Offcut));
    let narrow = |asked: &mut Problem| {
        keep_16(asked);
        asked.saw.narrowest = 17;
    };
    assert!(under(&narrow).is_ok());
    assert!(under(&|asked| asked.saw.kerf = 3).is_ok());
    assert!(under(&|asked| asked.sheets[0].trim.left = 30).is_err());
    assert!(under(&|asked| asked.items[0].height = 49).is_err());

    let nested = with(cut(Axis::Y, 24, Node::Waste, Some(cut(Axis::X, 40, Node::Waste, Some(Node::Waste)))));
    let mut limited = asked.clone();
    limited.saw.stages = Some(Stages { most: 1, trimming: Trimming::Extra });
    assert_eq!(verify(&limited, &nested), Err(Broken::Stages));
    limited.saw.stages = None;
    limited.saw.way = Way::CrosscutFirst;
    assert_eq!(verify(&limited, &nested), Err(Broken::Way));
}

#[test]
fn a_matched_set_that_is_taken_apart_is_refused() {
    let member =
        |place| Item { matched: Some(Matched { set: 1, place, along: Axis::X }), ..item(20, 50, 1, Turn::Fixed) };
    let asked = problem(
        Sheet::new(64, 50),
        vec![member(0), member(1), item(20, 50, 1, Turn::Fixed)],
        Saw { kerf: 2, ..Saw::default() },
    );
    let row = |order: [usize; 3]| {
        let part = |item| Node::Part { item, turned: false };
        let root = cut(Axis::X, 20, part(order[0]), Some(cut(Axis::X, 20, part(order[1]), Some(part(order[2])))));
        let mut plan = plan(&asked, &Effort::work(10)).unwrap().plan;
        plan.layouts[0].root = root;
        verify(&asked, &plan).map(|areas| areas.waste)
    };
    assert_eq!(row([0, 1, 2]), Ok(0));
    assert_eq!(row([2, 0, 1]), Ok(0));
    assert_eq!(row([1, 0, 2]), Err(Broken::Matched));
    assert_eq!(row([0, 2, 1]), Err(Broken::Matched));
}

#[test]
fn a_bound_knows_that_a_part_may_lie_beside_a_short_member_of_a_set() {
    // Members of 50 x 50 and 50 x 20 side by side leave 50 x 30 of a sheet of 100 x 50: all of it is used.
    let member = |height, place| Item {
        matched: Some(Matched { set: 1, place, along: Axis::X }),
        ..item(50, height, 1, Turn::Fixed)
    };
    let items = vec![member(50, 0), member(20, 1), item(50, 30, 1, Turn::Fixed)];
    let asked = problem(Sheet::new(100, 50), items, Saw::default());
    let part = |item| Node::Part { item, turned: false };
    let root = cut(Axis::X, 50, part(0), Some(cut(Axis::Y, 20, part(1), Some(part(2)))));
    let by_hand = Plan { layouts: vec![Layout { sheet: 0, copies: 1, root }] };
    assert_eq!(verify(&asked, &by_hand).map(|areas| areas.parts), Ok(5_000));
    assert_eq!(plan(&asked, &Effort::work(20_000)).unwrap().bound, 1);
}

#[test]
fn a_bound_over_ways_to_cut_proves_what_areas_cannot() {
    // Four of 3 x 2 fit on 5 x 5 as a wheel around a hole, which no cut from edge to edge begins. Such a cut leaves 3 x 5
    // and 2 x 5, which hold two and one (or 4 x 5 and nothing, which holds three: one of 2 x 3 beside another, one of
    // 3 x 2 below). So it is three on a sheet, and four sheets for twelve; by area, or with wheels, it would be three.
    let twelve = problem(Sheet::new(5, 5), vec![item(3, 2, 12, Turn::Free)], Saw::default());
    let outcome = plan(&twelve, &Effort::work(60_000)).unwrap();
    assert_eq!((outcome.score.cost, outcome.bound, outcome.proven), (4, 4, true));
}

#[test]
fn what_cannot_be_cut_is_said() {
    let ask =
        |item: Item, saw: Saw| plan(&problem(Sheet::new(100, 50), vec![item], saw), &Effort::work(50)).map(|_| ());
    assert_eq!(ask(item(60, 60, 1, Turn::Free), Saw::default()), Err(Fault::TooLarge { item: 0 }));
    assert_eq!(ask(item(50, 100, 1, Turn::Fixed), Saw::default()), Err(Fault::TooLarge { item: 0 }));
    assert_eq!(ask(item(50, 100, 1, Turn::Free), Saw::default()), Ok(()));
    let narrow = Saw { narrowest: 30, ..Saw::default() };
    assert_eq!(ask(item(50, 20, 1, Turn::Free), narrow), Err(Fault::TooNarrow { item: 0 }));
    assert_eq!(ask(item(50, 20, 1, Turn::Free), Saw { thin: Thin::WithJig, ..narrow }), Ok(()));
    let mut few = problem(Sheet::new(100, 50), vec![item(60, 40, 3, Turn::Fixed)], Saw::default());
    few.sheets[0].count = Some(2);
    assert_eq!(plan(&few, &Effort::work(50)).map(|_| ()), Err(Fault::ShortOfStock { left: vec![(0, 1)] }));
}

#[test]
fn offcuts_on_the_rack_are_used_first_and_one_large_offcut_is_left() {
    let keep = Keep { short: 100, long: 200, worth: 500 };
    let new = Sheet { cost: 1000, keep, ..Sheet::new(2440, 1220) };
    let rack = Sheet { cost: 0, count: Some(1), ..Sheet::new(900, 700) };
    let items = vec![item(800, 600, 1, Turn::Fixed), item(700, 500, 3, Turn::Free)];
    let asked = Problem { sheets: vec![new, rack], items, saw: Saw { kerf: 3, ..Saw::default() } };
    let outcome = plan(&asked, &Effort::work(20_000)).unwrap();
    assert_eq!(outcome.score.cost, 1000);
    assert!(outcome.plan.layouts.iter().any(|layout| layout.sheet == 1));
    // Three of 700 x 500 need at least 500 of the length beside each other, so 1220 x (2440 - 1003 - 3) may stay whole.
    assert!(outcome.score.offcuts > 120, "{:?}", outcome.score);
}

#[test]
fn published_lengths_come_out_as_known() {
    // Paper rolls of the encyclopaedia, Chvatal's example, two stock lengths, and a unit case; see docs/nesting.md.
    let rolls = [
        [1380, 22],
        [1520, 25],
        [1560, 12],
        [1710, 14],
        [1820, 18],
        [1880, 18],
        [1930, 20],
        [2000, 10],
        [2050, 12],
        [2100, 14],
        [2140, 16],
        [2150, 18],
        [2200, 20],
    ];
    let chvatal = [[45, 97], [36, 610], [31, 395], [14, 211]];
    for (length, items, least) in
        [(5600, &rolls[..], 73), (100, &chvatal[..], 453), (10, &[[7, 2], [5, 2], [3, 4]][..], 4)]
    {
        let outcome = plan_boards(&Boards::raw(length, items, 0).unwrap(), &Effort::work(100_000)).unwrap();
        assert_eq!((outcome.cost, outcome.proven), (least, true));
    }
    let sticks = [(7, 3), (6, 2), (4, 6), (3, 1)].map(|(length, count)| Stick { length, count }).to_vec();
    let board = |length, cost| Board { cost, count: Some(3), ..Board::new(length) };
    let asked = Boards { stock: vec![board(15, 15), board(10, 10)], items: sticks, kerf: 0 };
    let outcome = plan_boards(&asked, &Effort::work(10_000)).unwrap();
    assert_eq!((outcome.cost, outcome.proven), (60, true));
}

#[test]
fn no_bound_is_above_a_published_plan() {
    // The instances are not part of the project; without their folder there is nothing to hold against.
    let Some(folder) = std::env::var_os("CUTTING").map(std::path::PathBuf::from) else { return };
    let text = std::fs::read_to_string(folder.join("2d_bin_packing_100.jsonl")).unwrap();
    for line in text.lines().step_by(9) {
        let line: serde_json::Value = serde_json::from_str(line).unwrap();
        let items: Vec<[i64; 3]> = serde_json::from_value(line["items"].clone()).unwrap();
        let sheet: [i64; 2] = serde_json::from_value(line["bin"].clone()).unwrap();
        for (turn, column) in [(Turn::Fixed, "OG_ub"), (Turn::Free, "RG_ub")] {
            let outcome = plan(&Problem::raw(sheet, turn, &items, 0).unwrap(), &Effort::work(1_500)).unwrap();
            assert!(outcome.bound <= line["values"][column].as_i64().unwrap(), "{} {column}", line["name"]);
        }
    }
}
