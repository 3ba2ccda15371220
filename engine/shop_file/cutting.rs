//! The keys that say how stock is cut up: the table `[cutting]`, and what a stock says of its other sizes and of what is in hand.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{KEY, Key, Reader, VALUE, WIDEST_KERF, in_order, set};
use crate::base::{Length, parse_ratio};
use crate::model::{BoardRun, CuttingRules, FirstCut, Money, Supply, SupplySize};

/// The keys of the table `[cutting]`.
pub const CUTTING_KEYS: [Key; 22] = [
    Key {
        name: "way",
        takes: "\"rip first\", \"crosscut first\" or \"free\"",
        help: "with which cut a sheet is begun",
    },
    Key { name: "stages", takes: "1 to 9, or \"any\"", help: "how often the direction of cutting may change" },
    Key {
        name: "sheet_kerf",
        takes: "a length",
        help: "what the saw that cuts sheets takes away, where it is not `kerf`",
    },
    Key {
        name: "rip_kerf",
        takes: "a length",
        help: "what the saw that rips boards takes away, where it is not `kerf`",
    },
    Key {
        name: "crosscut_kerf",
        takes: "a length",
        help: "what the saw that crosscuts boards takes away, where it is not `kerf`",
    },
    Key {
        name: "trim_ends",
        takes: "a length, or a list of two",
        help: "what is trimmed off the short sides of a sheet",
    },
    Key {
        name: "trim_edges",
        takes: "a length, or a list of two",
        help: "what is trimmed off the long sides of a sheet",
    },
    Key { name: "end_trim", takes: "a length", help: "what is cut off each end of a board" },
    Key { name: "longest_rip", takes: "a length", help: "the longest rip that there is room for" },
    Key { name: "crosscut_capacity", takes: "a length", help: "the longest crosscut that the saw can make" },
    Key { name: "narrowest", takes: "a length", help: "the narrowest strip that the fence is good for without a jig" },
    Key { name: "heaviest", takes: "a weight such as \"23 kg\" or \"50 lb\"", help: "what one person handles" },
    Key { name: "offcut_short", takes: "a length", help: "the least short side of an offcut of a sheet that is kept" },
    Key { name: "offcut_long", takes: "a length", help: "the least long side of an offcut of a sheet that is kept" },
    Key { name: "board_offcut_width", takes: "a length", help: "the least width of what is kept of a board" },
    Key { name: "board_offcut_length", takes: "a length", help: "the least length of what is kept of a board" },
    Key { name: "offcut_worth", takes: "a percentage", help: "what stock on the rack is worth, of its price when new" },
    Key {
        name: "joint_oversize",
        takes: "a length",
        help: "what a part ripped from a board is cut wider, to be jointed off",
    },
    Key { name: "length_oversize", takes: "a length", help: "what a part of a board is cut longer, to be squared off" },
    Key { name: "panel_oversize", takes: "a length", help: "what a part of a sheet is cut over its size each way" },
    Key { name: "widest_strip", takes: "a length", help: "the widest strip that goes into a glued-up part" },
    Key {
        name: "match_fronts",
        takes: "true or false",
        help: "whether the fronts of a bank are cut next to each other",
    },
];

/// The keys by which a stock says what else there is of it.
pub const SUPPLY_KEYS: [Key; 2] = [
    Key { name: "sizes", takes: "a list of tables", help: "other sizes that are sold, each with its price" },
    Key { name: "in_hand", takes: "a count, or a list of tables", help: "sheets or boards that are there already" },
];

/// The keys of one size in `sizes` and `in_hand`.
pub const SIZE_KEYS: [Key; 5] = [
    Key { name: "length", takes: "a length", help: "its length, along the grain" },
    Key { name: "width", takes: "a length", help: "its width" },
    Key { name: "price", takes: "an amount of money", help: "what one costs" },
    Key { name: "count", takes: "a whole number", help: "how many are there" },
    Key { name: "defects", takes: "a list of pairs of lengths", help: "from where to where a board is no good" },
];

/// No sheet or board is larger.
const LARGEST: Length = Length::from_mm(12_000);

/// A count beyond this is a slip.
const MOST: i64 = 10_000;

impl Reader<'_> {
    /// The table `[cutting]`.
    pub(super) fn cutting(&mut self, value: &Spanned<DeValue<'_>>) -> CuttingRules {
        let mut rules = CuttingRules::default();
        let Some(table) = value.get_ref().as_table() else {
            self.wrong_kind("cutting", value, "a table: [cutting]");
            return rules;
        };
        for (key, span, value) in in_order(table) {
            let inches = |n: i64| Length::from_inch(n, 1);
            match key {
                "way" => set(&mut rules.first, self.word(key, value, &FirstCut::ALL.map(|(way, word)| (word, way)))),
                "stages" => self.stages(value, &mut rules.stages),
                "sheet_kerf" => set(&mut rules.sheet_kerf, self.small_length(key, value, WIDEST_KERF).map(Some)),
                "rip_kerf" => set(&mut rules.rip_kerf, self.small_length(key, value, WIDEST_KERF).map(Some)),
                "crosscut_kerf" => set(&mut rules.crosscut_kerf, self.small_length(key, value, WIDEST_KERF).map(Some)),
                "trim_ends" => set(&mut rules.trim_ends, self.one_or_two(key, value).map(Some)),
                "trim_edges" => set(&mut rules.trim_edges, self.one_or_two(key, value).map(Some)),
                "end_trim" => set(&mut rules.end_trim, self.small_length(key, value, inches(12))),
                "longest_rip" => set(&mut rules.longest_rip, self.size(key, value, LARGEST).map(Some)),
                "crosscut_capacity" => set(&mut rules.crosscut_capacity, self.size(key, value, LARGEST).map(Some)),
                "narrowest" => set(&mut rules.narrowest, self.small_length(key, value, inches(12))),
                "heaviest" => set(&mut rules.heaviest, self.weight(key, value)),
                "offcut_short" => set(&mut rules.offcut_short, self.size(key, value, LARGEST)),
                "offcut_long" => set(&mut rules.offcut_long, self.size(key, value, LARGEST)),
                "board_offcut_width" => set(&mut rules.board_offcut_width, self.size(key, value, LARGEST)),
                "board_offcut_length" => set(&mut rules.board_offcut_length, self.size(key, value, LARGEST)),
                "offcut_worth" => set(&mut rules.offcut_worth, self.percentage(key, value)),
                "joint_oversize" => set(&mut rules.joint_oversize, self.small_length(key, value, inches(1))),
                "length_oversize" => set(&mut rules.length_oversize, self.small_length(key, value, inches(6))),
                "panel_oversize" => set(&mut rules.panel_oversize, self.small_length(key, value, inches(2))),
                "widest_strip" => set(&mut rules.widest_strip, self.size(key, value, LARGEST)),
                "match_fronts" => set(&mut rules.match_fronts, self.yes_no(key, value)),
                _ => {
                    let known = CUTTING_KEYS.iter().map(|key| key.name);
                    let hint = crate::diag::did_you_mean(key, known).unwrap_or_default();
                    self.tell(KEY, format!("there is no key `{key}` under `cutting`"), span, &hint);
                }
            }
        }
        rules
    }

    fn stages(&mut self, value: &Spanned<DeValue<'_>>, stages: &mut Option<u8>) {
        if value.get_ref().as_str() == Some("any") {
            *stages = None;
            return;
        }
        let number = value.get_ref().is_integer().then(|| self.digits(value).parse::<u8>().ok()).flatten();
        match number.filter(|number| (1..=9).contains(number)) {
            Some(number) => *stages = Some(number),
            None => self.wrong_kind("stages", value, "a whole number from 1 to 9, or \"any\""),
        }
    }

    /// A trim for both sides, or one for each.
    fn one_or_two(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<[Length; 2]> {
        // Nobody trims half a foot.
        let most = Length::from_inch(6, 1);
        let Some(list) = value.get_ref().as_array() else {
            return self.small_length(key, value, most).map(|trim| [trim; 2]);
        };
        let trims: Vec<Option<Length>> = list.iter().map(|value| self.small_length(key, value, most)).collect();
        if let [a, b] = trims.as_slice() {
            return Some([(*a)?, (*b)?]);
        }
        self.wrong_kind(key, value, "a length, or two in brackets: ['1/4\"', 0]");
        None
    }

    /// A weight in grams.
    fn weight(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<i64> {
        const WANTED: &str = "a weight with its unit: \"23 kg\" or \"50 lb\"";
        let Some(text) = value.get_ref().as_str().map(str::trim) else {
            self.wrong_kind(key, value, WANTED);
            return None;
        };
        // SEEN (secondary): the pound is 0.45359237 kg by the agreement of 1959; to the gram.
        let (number, grams) = match (text.strip_suffix("kg"), text.strip_suffix("lb")) {
            (Some(number), _) => (number, 1_000_000),
            (_, Some(number)) => (number, 453_592),
            _ => ("", 0),
        };
        let grams = parse_ratio(number)
            .ok()
            .filter(|number| *number.numer() > 0 && *number.numer() < 1_000_000 && *number.denom() < 1_000_000)
            .map(|number| *number.numer() * grams / *number.denom() / 1_000);
        if grams.is_none() {
            self.tell(VALUE, format!("`{key}` of `{text}` is not a weight"), value.span(), &format!("write {WANTED}"));
        }
        grams
    }

    /// What a stock says in `sizes`.
    pub(super) fn sizes_sold(&mut self, value: &Spanned<DeValue<'_>>) -> Option<Vec<SupplySize>> {
        let tables = self.size_tables("sizes", value)?;
        let mut sizes = Vec::new();
        for (table, span) in tables {
            let read = self.size_table("sizes", table, &span)?;
            sizes.push(read.size);
        }
        Some(sizes)
    }

    /// What a stock says in `in_hand`: a count of the usual size, or tables.
    pub(super) fn in_hand(&mut self, value: &Spanned<DeValue<'_>>) -> Option<InHand> {
        if value.get_ref().is_integer() {
            return self.count("in_hand", value).map(InHand::Usual);
        }
        let tables = self.size_tables("in_hand", value)?;
        let mut pieces = Vec::new();
        for (table, span) in tables {
            let read = self.size_table("in_hand", table, &span)?;
            for (from, to) in good_runs(read.size.length, read.defects) {
                let of = read.size.length;
                let run = (to - from < of).then_some(BoardRun { of, from });
                let share = |price: Money| {
                    let part = i128::from(price.0) * i128::from((to - from).nm()) / i128::from(of.nm().max(1));
                    Money(i64::try_from(part).unwrap_or(price.0))
                };
                let price = read.size.price.map(share);
                pieces.push((read.count, SupplySize { length: to - from, price, run, ..read.size }));
            }
        }
        Some(InHand::Pieces(pieces))
    }

    fn count(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<u32> {
        let number = value.get_ref().is_integer().then(|| self.digits(value).parse::<i64>().ok()).flatten();
        let number = number.filter(|number| (0..=MOST).contains(number)).and_then(|number| u32::try_from(number).ok());
        if number.is_none() {
            self.wrong_kind(key, value, &format!("a whole number up to {MOST}"));
        }
        number
    }

    fn size_tables<'v>(
        &mut self,
        key: &str,
        value: &'v Spanned<DeValue<'v>>,
    ) -> Option<Vec<(&'v DeTable<'v>, Range<usize>)>> {
        let list = value.get_ref().as_array();
        let tables: Option<Vec<_>> = list.and_then(|list| {
            list.iter().map(|each| each.get_ref().as_table().map(|table| (table, each.span()))).collect()
        });
        if tables.is_none() {
            let wanted = "a list of sizes in brackets: [{ length = \"5 ft\", width = \"5 ft\" }]";
            self.wrong_kind(key, value, wanted);
        }
        tables
    }

    fn size_table(&mut self, within: &str, table: &DeTable<'_>, span: &Range<usize>) -> Option<ReadSize> {
        let (mut length, mut width, mut price, mut count, mut defects) = (None, None, None, Some(1), Some(Vec::new()));
        let mut sound = true;
        for (key, at, value) in in_order(table) {
            match key {
                "length" => length = self.size(key, value, LARGEST),
                "width" => width = self.size(key, value, LARGEST),
                "price" => price = self.money(key, value),
                "count" if within == "in_hand" => count = self.count(key, value),
                "defects" if within == "in_hand" => defects = self.pairs(value),
                _ => {
                    sound = false;
                    let known = SIZE_KEYS.iter().map(|key| key.name);
                    let hint = crate::diag::did_you_mean(key, known).unwrap_or_default();
                    self.tell(KEY, format!("there is no key `{key}` under `{within}`"), at, &hint);
                }
            }
        }
        for (name, given) in [("length", length.is_some()), ("width", width.is_some())] {
            if !given && !in_order(table).iter().any(|(key, ..)| *key == name) {
                let message = format!("a size under `{within}` has no `{name}`");
                self.tell(KEY, message, span.clone(), &format!("add {name}, as it was measured"));
            }
        }
        sound.then_some(())?;
        let size = SupplySize { length: length?, width: width?, price, run: None };
        Some(ReadSize { size, count: count?, defects: defects? })
    }

    fn pairs(&mut self, value: &Spanned<DeValue<'_>>) -> Option<Vec<(Length, Length)>> {
        const WANTED: &str = "pairs of distances from one end: [[\"40 in\", \"43 in\"]]";
        let Some(list) = value.get_ref().as_array() else {
            self.wrong_kind("defects", value, WANTED);
            return None;
        };
        let mut pairs = Vec::new();
        for pair in list {
            let both: Vec<&Spanned<DeValue<'_>>> =
                pair.get_ref().as_array().map(|pair| pair.iter().collect()).unwrap_or_default();
            let [from, to] = both.as_slice() else {
                self.wrong_kind("defects", pair, WANTED);
                return None;
            };
            let from = self.small_length("defects", from, LARGEST)?;
            let to = self.small_length("defects", to, LARGEST)?;
            pairs.push((from.min(to), from.max(to)));
        }
        Some(pairs)
    }
}

struct ReadSize {
    size: SupplySize,
    count: u32,
    defects: Vec<(Length, Length)>,
}

/// What a stock says of what is in hand.
#[derive(Clone, Debug)]
pub(super) enum InHand {
    /// So many of the usual size.
    Usual(u32),
    /// These.
    Pieces(Vec<(u32, SupplySize)>),
}

/// What is left of a board between its defects.
fn good_runs(length: Length, mut defects: Vec<(Length, Length)>) -> Vec<(Length, Length)> {
    defects.sort_unstable();
    let mut runs = Vec::new();
    let mut from = Length::ZERO;
    for (start, end) in defects {
        if start > from {
            runs.push((from, start.min(length)));
        }
        from = from.max(end);
    }
    if length > from {
        runs.push((from, length));
    }
    runs
}

/// Puts together what a stock says, with the count of its usual size.
pub(super) fn supply(
    sold: Option<Vec<SupplySize>>,
    in_hand: Option<InHand>,
    usual: Option<(Length, Length)>,
) -> Supply {
    let in_hand = match (in_hand, usual) {
        (Some(InHand::Usual(count)), Some((length, width))) if count > 0 => {
            vec![(count, SupplySize { length, width, price: None, run: None })]
        }
        (Some(InHand::Pieces(pieces)), _) => pieces.into_iter().filter(|(count, _)| *count > 0).collect(),
        _ => Vec::new(),
    };
    Supply { sizes: sold.unwrap_or_default(), in_hand }
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use super::*;
    use crate::model::Shop;

    fn good(text: &str) -> Shop {
        read("shop.toml", text).unwrap_or_else(|findings| panic!("{findings:#?}"))
    }

    fn bad(text: &str) -> Vec<String> {
        let findings = read("shop.toml", text).unwrap_err();
        findings.iter().map(|finding| finding.message.clone()).collect()
    }

    #[test]
    fn every_rule_is_read() {
        let shop = good(
            "units = \"mm\"\n[cutting]\nway = \"free\"\nstages = \"any\"\nsheet_kerf = 3.2\nrip_kerf = 1\ntrim_ends = [5, 0]\ntrim_edges = 8\nend_trim = 20\n\
             longest_rip = 1500\ncrosscut_capacity = 1250\nnarrowest = 30\nheaviest = \"50 lb\"\noffcut_short = 200\n\
             offcut_long = 500\nboard_offcut_width = 40\nboard_offcut_length = 300\noffcut_worth = \"10%\"\njoint_oversize = 3\nlength_oversize = 25\npanel_oversize = 1\n\
             widest_strip = 120\nmatch_fronts = false\n",
        );
        let rules = &shop.cutting;
        let mm = Length::from_mm;
        assert_eq!((rules.first, rules.stages), (FirstCut::Free, None));
        // What is not said is the shop's, an eighth of an inch.
        assert_eq!((shop.sheet_kerf(), shop.rip_kerf()), (Length::from_um(3_200), mm(1)));
        assert_eq!(shop.crosscut_kerf(), Length::from_inch(1, 8));
        assert_eq!((shop.trim_ends(), shop.trim_edges()), ([mm(5), mm(0)], [mm(8), mm(8)]));
        assert_eq!((rules.longest_rip, rules.crosscut_capacity), (Some(mm(1500)), Some(mm(1250))));
        // 50 x 453.592 g.
        assert_eq!((rules.heaviest, rules.end_trim, rules.widest_strip), (22_679, mm(20), mm(120)));
        assert_eq!((rules.offcut_short, rules.offcut_long, rules.narrowest), (mm(200), mm(500), mm(30)));
        assert_eq!((rules.board_offcut_width, rules.board_offcut_length), (mm(40), mm(300)));
        assert_eq!((rules.joint_oversize, rules.length_oversize, rules.panel_oversize), (mm(3), mm(25), mm(1)));
        assert!(!rules.match_fronts && *rules.offcut_worth.denom() == 10);
        let shop = good("trim = '1/8\"'");
        assert_eq!((shop.trim_ends(), shop.trim_edges()), ([Length::from_inch(1, 8); 2], [Length::from_inch(1, 8); 2]));
    }

    #[test]
    fn what_is_in_hand_is_read_and_defects_are_cut_around() {
        let shop = good(
            "[stock.\"3/4 birch plywood\"]\nprice = 70\nin_hand = 2\nsizes = [{ length = \"5 ft\", width = \"5 ft\", price = 40 }]\n\
             [stock.\"4/4 cherry board\"]\nin_hand = [{ length = 96, width = 6, count = 2, defects = [[40, 43]] }]\n",
        );
        let inch = |n: i64| Length::from_inch(n, 1);
        let birch = &shop.find_stock("3/4 birch plywood").unwrap().supply;
        assert_eq!(birch.in_hand, [(2, SupplySize { length: inch(96), width: inch(48), price: None, run: None })]);
        assert_eq!(
            birch.sizes,
            [SupplySize { length: inch(60), width: inch(60), price: Some(Money(4_000)), run: None }]
        );
        // 96 in with a knot from 40 to 43: a piece of 40 in and one of 53 in, of each of the two boards.
        let cherry = &shop.find_stock("4/4 cherry board").unwrap().supply.in_hand;
        let run = |from: i64| Some(BoardRun { of: inch(96), from: inch(from) });
        let sizes: Vec<_> = cherry.iter().map(|(count, size)| (*count, size.length, size.run)).collect();
        assert_eq!(sizes, [(2, inch(40), run(0)), (2, inch(53), run(43))]);
    }

    #[test]
    fn slips_are_told() {
        for (text, told) in [
            ("cutting = 3", "`cutting` cannot be 3"),
            ("[cutting]\nwya = \"free\"", "there is no key `wya` under `cutting`"),
            ("[cutting]\nway = \"rip\"", "`way` cannot be `rip`"),
            ("[cutting]\nstages = 0", "`stages` cannot be 0"),
            ("[cutting]\ntrim_ends = [1, 1, 1]", "`trim_ends` is a list, and cannot be that"),
            ("[cutting]\nheaviest = 23", "`heaviest` cannot be 23"),
            ("[cutting]\nheaviest = \"23 stone\"", "`heaviest` of `23 stone` is not a weight"),
            ("[stock.\"3/4 birch plywood\"]\nin_hand = -1", "`in_hand` cannot be -1"),
            ("[stock.\"3/4 birch plywood\"]\nin_hand = [3]", "`in_hand` is a list, and cannot be that"),
            ("[stock.\"3/4 birch plywood\"]\nsizes = [{ length = 3 }]", "a size under `sizes` has no `width`"),
            (
                "[stock.\"3/4 birch plywood\"]\nsizes = [{ lenght = 3, length = 3, width = 3 }]",
                "there is no key `lenght` under `sizes`",
            ),
            (
                "[stock.\"3/4 birch plywood\"]\nin_hand = [{ length = 30, width = 3, defects = [3] }]",
                "`defects` cannot be 3",
            ),
        ] {
            assert_eq!(bad(text), [told], "{text}");
        }
    }
}
