//! The cut list: equal parts in one row, each row with a mark that stays when sizes change.

use std::collections::HashMap;
use std::hash::{Hash, Hasher};
use std::sync::Arc;

use super::banded::{self, Bands};
use super::hands::hands;
use super::joinery::{self, Sizes, Work};
use super::names::{numbered, runs};
use super::{CutRow, StockTable};
use crate::base::{Length, Printing, mark};
use crate::model::{Model, Part, PartId, PieceId, Stock};

/// The rows in the order of their marks.
///
/// Parts are equal when name, stock, grain, banding and joinery are, and every size of theirs differs by no more than
/// [`Length::SAME_SIZE`] from the smallest of its kind; the row takes the smallest.
pub(super) fn cut_list<'a>(model: &'a Model, stocks: &mut StockTable<'a>) -> Vec<CutRow> {
    let looks: Vec<Look<'a>> = model.parts.iter().map(|part| Look::of(part, stocks)).collect();
    let kinds = Kinds::of(model);
    let mut drafts: Vec<Draft> = Vec::new();
    for bucket in buckets(&looks) {
        drafts.extend(equal_sizes(&looks, &bucket).into_iter().map(|parts| Draft::of(&kinds, &looks, parts)));
    }
    drafts.sort_by_key(|draft| (draft.kind, draft.number, draft.parts[0]));
    let mut rows = Vec::with_capacity(drafts.len());
    for same_name in drafts.chunk_by(|a, b| (a.kind, a.number) == (b.kind, b.number)) {
        for (i, draft) in same_name.iter().enumerate() {
            let suffix = if same_name.len() == 1 { String::new() } else { suffix(i) };
            rows.push(draft.row(model, &kinds, &looks, suffix));
        }
    }
    rows
}

/// What tells a part from others, apart from its sizes.
#[derive(PartialEq, Eq)]
struct Key<'a> {
    name: &'a str,
    stock: usize,
    has_grain: bool,
    bands: Bands,
    work: Work,
}

/// Name and stock tell nearly all parts apart; to hash the work as well would cost more than to compare it.
impl Hash for Key<'_> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (self.name, self.stock).hash(state);
    }
}

struct Look<'a> {
    part: &'a Part,
    key: Key<'a>,
    /// Thickness, length and width to cut, finished length and width, then the sizes of the work.
    sizes: [Length; 5],
    work_sizes: Sizes,
}

impl<'a> Look<'a> {
    fn of(part: &'a Part, stocks: &mut StockTable<'a>) -> Self {
        let (work, work_sizes) = joinery::work(part);
        let bands = banded::bands(part, |stock: &'a Arc<Stock>| stocks.place(stock));
        let (length, width) = (part.length_axis(), part.width_axis());
        Self {
            part,
            key: Key {
                name: &part.name,
                stock: stocks.place(&part.stock),
                has_grain: part.grain.is_some(),
                bands,
                work,
            },
            sizes: [
                part.cut_size(part.thickness),
                part.cut_size(length),
                part.cut_size(width),
                part.finished_size(length),
                part.finished_size(width),
            ],
            work_sizes,
        }
    }

    fn size(&self, i: usize) -> Length {
        self.sizes.get(i).copied().unwrap_or_else(|| self.work_sizes[i - self.sizes.len()])
    }
}

/// Parts with equal keys, in order of first appearance.
fn buckets(looks: &[Look<'_>]) -> Vec<Vec<usize>> {
    let mut places: HashMap<&Key<'_>, usize> = HashMap::with_capacity(looks.len());
    let mut buckets: Vec<Vec<usize>> = Vec::new();
    for (i, look) in looks.iter().enumerate() {
        let place = *places.entry(&look.key).or_insert_with(|| {
            buckets.push(Vec::new());
            buckets.len() - 1
        });
        buckets[place].push(i);
    }
    buckets
}

/// Splits parts with equal keys into those of equal sizes, each group in the order of the parts.
fn equal_sizes(looks: &[Look<'_>], bucket: &[usize]) -> Vec<Vec<usize>> {
    let first = &looks[bucket[0]];
    let count = first.sizes.len() + first.work_sizes.len();
    let mut groups = vec![bucket.to_vec()];
    for size in 0..count {
        let is_one = |group: &[usize]| group.iter().all(|&i| looks[i].size(size) == looks[group[0]].size(size));
        groups = groups
            .into_iter()
            .flat_map(|group| if is_one(&group) { vec![group] } else { clusters(group, |i| looks[i].size(size)) })
            .collect();
    }
    groups
}

/// Groups of sizes that lie within [`Length::SAME_SIZE`] above the smallest of their group, so that a long row of small
/// steps cannot creep.
fn clusters(mut members: Vec<usize>, size: impl Fn(usize) -> Length) -> Vec<Vec<usize>> {
    members.sort_by_key(|&i| size(i));
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for i in members {
        match groups.last_mut() {
            Some(group) if size(i) - size(group[0]) <= Length::SAME_SIZE => group.push(i),
            _ => groups.push(vec![i]),
        }
    }
    // Back in the order of the parts: the clusters of the next size are found from any order, but a row begins with its first part.
    for group in &mut groups {
        group.sort_unstable();
    }
    groups
}

/// Pieces of one name apart from its number, and the names of their parts.
struct Kinds<'a> {
    /// The kind of each piece of the model that has parts of its own.
    of_piece: Vec<Option<usize>>,
    kinds: Vec<Kind<'a>>,
}

#[derive(Default)]
struct Kind<'a> {
    stem: &'a str,
    /// The pieces in order of first appearance.
    pieces: Vec<PieceId>,
    /// Whether each of the pieces has a number, and one of its own.
    is_numbered: bool,
    /// The number of each part name, in order of first appearance.
    part_names: HashMap<&'a str, usize>,
}

impl<'a> Kinds<'a> {
    fn of(model: &'a Model) -> Self {
        let mut of_piece = vec![None; model.pieces.len()];
        let mut kinds: Vec<Kind<'a>> = Vec::new();
        let mut places: HashMap<&str, usize> = HashMap::new();
        for part in &model.parts {
            let piece = part.piece.0 as usize;
            let kind = *of_piece[piece].get_or_insert_with(|| {
                let (stem, _) = numbered(&model.piece(part.piece).name);
                let kind = *places.entry(stem).or_insert_with(|| {
                    kinds.push(Kind { stem, ..Kind::default() });
                    kinds.len() - 1
                });
                kinds[kind].pieces.push(part.piece);
                kind
            });
            let names = &mut kinds[kind].part_names;
            let next = names.len();
            names.entry(&part.name).or_insert(next);
        }
        for kind in &mut kinds {
            let mut numbers: Vec<_> = kind.pieces.iter().map(|&id| numbered(&model.piece(id).name).1).collect();
            numbers.sort_unstable();
            kind.is_numbered = numbers.iter().all(Option::is_some) && numbers.windows(2).all(|two| two[0] != two[1]);
        }
        Self { of_piece, kinds }
    }

    /// The kind of the piece of a part. Every piece that has a part has one.
    fn kind(&self, part: &Part) -> usize {
        self.of_piece[part.piece.0 as usize].unwrap_or(0)
    }

    /// The pieces that parts go into, shortly: `drawer x6; bench`.
    fn used_in(&self, model: &Model, parts: impl Iterator<Item = &'a Part>) -> String {
        let mut pieces: Vec<Vec<PieceId>> = vec![Vec::new(); self.kinds.len()];
        let mut order: Vec<usize> = Vec::new();
        for part in parts {
            let kind = self.kind(part);
            if pieces[kind].is_empty() {
                order.push(kind);
            }
            // Parts stand in the order of the recipe, so those of one piece mostly follow each other.
            if pieces[kind].last() != Some(&part.piece) && !pieces[kind].contains(&part.piece) {
                pieces[kind].push(part.piece);
            }
        }
        let words: Vec<String> = order.into_iter().map(|kind| self.kinds[kind].said(model, &pieces[kind])).collect();
        words.join("; ")
    }
}

impl Kind<'_> {
    fn said(&self, model: &Model, used: &[PieceId]) -> String {
        let name = |id: PieceId| model.piece(id).name.as_str();
        if self.pieces.len() == 1 {
            return name(used[0]).to_owned();
        }
        if used.len() == self.pieces.len() {
            return format!("{} x{}", self.stem, used.len());
        }
        if self.is_numbered {
            if let [only] = used {
                return name(*only).to_owned();
            }
            let numbers = used.iter().filter_map(|&id| numbered(name(id)).1).collect();
            return format!("{} x{} ({})", self.stem, used.len(), runs(numbers));
        }
        let mut places: Vec<String> = used
            .iter()
            .map(|&id| match model.piece(id).parent {
                Some(parent) => format!("{} / {}", name(parent), name(id)),
                None => name(id).to_owned(),
            })
            .collect();
        places.dedup();
        match places.as_slice() {
            [only] if used.len() == 1 => only.clone(),
            _ => format!("{} x{} ({})", self.stem, used.len(), places.join(", ")),
        }
    }
}

/// A row before it has its mark.
struct Draft {
    kind: usize,
    number: usize,
    /// Places of its parts, in order.
    parts: Vec<usize>,
}

impl Draft {
    fn of(kinds: &Kinds<'_>, looks: &[Look<'_>], parts: Vec<usize>) -> Self {
        let first = looks[parts[0]].part;
        let kind = kinds.kind(first);
        let number = kinds.kinds[kind].part_names.get(first.name.as_str()).copied().unwrap_or(0);
        Self { kind, number, parts }
    }

    fn row<'a>(&self, model: &Model, kinds: &Kinds<'a>, looks: &[Look<'a>], suffix: String) -> CutRow {
        let first = &looks[self.parts[0]];
        let part = first.part;
        let parts = || self.parts.iter().map(|&i| looks[i].part);
        let least = |size: usize| self.parts.iter().map(|&i| looks[i].sizes[size]).min().unwrap_or(first.sizes[size]);
        let (length, width, finished) = (least(1), least(2), (least(3), least(4)));
        let hands = hands(parts());
        CutRow {
            mark: mark(self.kind, self.number) + suffix.as_str(),
            part: part.name.clone(),
            quantity: i64::try_from(self.parts.len()).unwrap_or(i64::MAX),
            stock: part.stock.name.clone(),
            thickness: least(0),
            length,
            width,
            grain: part.grain.is_some(),
            banded: banded::words(part, model.printing),
            joinery: joinery_words(first, hands, model.printing),
            used_in: kinds.used_in(model, parts()),
            finished: (!finished.0.same_size(length) || !finished.1.same_size(width)).then_some(finished),
            mirrored: hands.1,
            parts: self.parts.iter().map(|&i| PartId(u32::try_from(i).unwrap_or(u32::MAX))).collect(),
        }
    }
}

fn joinery_words(look: &Look<'_>, (alike, mirrored): (i64, i64), printing: Printing) -> String {
    let words = joinery::words(look.part, &look.key.work, &look.work_sizes, printing);
    if mirrored == 0 {
        return words;
    }
    let join = if words.is_empty() { "" } else { "; " };
    format!("{words}{join}cut {alike} and {mirrored} as mirror images")
}

/// `a` to `z`, then `aa`.
fn suffix(mut n: usize) -> String {
    let mut letters = Vec::new();
    loop {
        letters.push(char::from(b'a' + u8::try_from(n % 26).unwrap_or(0)));
        if n < 26 {
            return letters.iter().rev().collect();
        }
        n = n / 26 - 1;
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::testing::{bore, channel, drawers, inch, solid, step, stock};
    use super::*;
    use crate::base::{Axis, Face, Solid};
    use crate::model::{Banding, BandingOrder};

    fn rows(model: &Model) -> Vec<CutRow> {
        cut_list(model, &mut StockTable::default())
    }

    fn marks(rows: &[CutRow]) -> Vec<(&str, &str, i64, &str)> {
        rows.iter().map(|row| (row.mark.as_str(), row.part.as_str(), row.quantity, row.used_in.as_str())).collect()
    }

    #[test]
    fn a_drawer_worked_by_hand() {
        // 16 x 4 in outside, 20 in deep. Sides 20 x 4; front and back 16 - 2 x 1/4 = 15-1/2 in; bottom 15-1/2 x 19-1/2 with its
        // grain along the longer side.
        let model = drawers(&[("drawer", inch(16, 1), inch(4, 1))]);
        let rows = rows(&model);
        assert_eq!(
            marks(&rows),
            [
                ("A1", "side", 2, "drawer"),
                ("A2", "front", 1, "drawer"),
                ("A3", "back", 1, "drawer"),
                ("A4", "bottom", 1, "drawer"),
            ]
        );
        let sizes: Vec<_> = rows.iter().map(|row| (row.length, row.width, row.thickness)).collect();
        let (half, quarter) = (inch(1, 2), inch(1, 4));
        assert_eq!(
            sizes,
            [
                (inch(20, 1), inch(4, 1), half),
                (inch(31, 2), inch(4, 1), half),
                (inch(31, 2), inch(4, 1), half),
                (inch(39, 2), inch(31, 2), quarter),
            ]
        );
        assert_eq!(
            rows[0].joinery,
            "groove 1/4\" x 1/4\" deep, 1/4\" from bottom edge; rabbet 1/2\" x 1/4\" deep at both ends"
        );
        assert_eq!(rows[1].joinery, "groove 1/4\" x 1/4\" deep, 1/4\" from bottom edge");
        assert_eq!(rows[3].joinery, "");
        assert!(rows.iter().all(|row| row.grain && row.finished.is_none() && row.mirrored == 0));
    }

    #[test]
    fn equal_drawers_are_one_kind_and_graduated_ones_keep_their_numbers() {
        let (wide, low, high) = (inch(16, 1), inch(4, 1), inch(6, 1));
        let equal = drawers(&[("drawer 1", wide, low), ("drawer 2", wide, low), ("drawer 3", wide, low)]);
        assert_eq!(marks(&rows(&equal))[0], ("A1", "side", 6, "drawer x3"));
        let graduated = drawers(&[("drawer 1", wide, low), ("drawer 2", wide, low), ("drawer 3", wide, high)]);
        assert_eq!(
            marks(&rows(&graduated)),
            [
                ("A1a", "side", 4, "drawer x2 (1, 2)"),
                ("A1b", "side", 2, "drawer 3"),
                ("A2a", "front", 2, "drawer x2 (1, 2)"),
                ("A2b", "front", 1, "drawer 3"),
                ("A3a", "back", 2, "drawer x2 (1, 2)"),
                ("A3b", "back", 1, "drawer 3"),
                ("A4", "bottom", 3, "drawer x3"),
            ]
        );
    }

    #[test]
    fn marks_stay_when_a_size_changes() {
        let narrow = drawers(&[("drawer 1", inch(16, 1), inch(4, 1)), ("tray", inch(9, 1), inch(2, 1))]);
        let wide = drawers(&[("drawer 1", inch(24, 1), inch(5, 1)), ("tray", inch(11, 1), inch(3, 1))]);
        let (narrow, wide) = (rows(&narrow), rows(&wide));
        assert_eq!(marks(&narrow), marks(&wide));
        assert_eq!(narrow[4].mark, "B1");
    }

    #[test]
    fn a_row_over_two_kinds_says_both() {
        let mut model = drawers(&[("drawer 1", inch(16, 1), inch(4, 1)), ("drawer 2", inch(16, 1), inch(4, 1))]);
        super::super::testing::drawer(&mut model, "tray", inch(16, 1), inch(4, 1));
        assert_eq!(marks(&rows(&model))[0], ("A1", "side", 6, "drawer x2; tray"));
    }

    #[test]
    fn pieces_of_one_name_are_told_by_where_they_stand() {
        let mut model = drawers(&[("drawer 1", inch(16, 1), inch(4, 1)), ("drawer 1", inch(16, 1), inch(6, 1))]);
        for (piece, bank) in [(1, "left bank"), (2, "right bank")] {
            let bank = model.add_piece(bank, None);
            model.place(PieceId(piece), bank, [Length::ZERO; 3]);
        }
        let rows = rows(&model);
        assert_eq!(
            (rows[0].used_in.as_str(), rows[1].used_in.as_str()),
            ("left bank / drawer 1", "right bank / drawer 1")
        );
    }

    #[test]
    fn nanometres_of_an_even_split_do_not_part_a_row() {
        let widths = inch(50, 1).split(3);
        assert_ne!(widths[0], widths[2]);
        let model = drawers(&[("drawer 1", widths[0], inch(4, 1)), ("drawer 2", widths[2], inch(4, 1))]);
        let rows = rows(&model);
        assert_eq!((rows.len(), rows[1].quantity), (4, 2));
        // The row takes the smaller: 50/3 in less 1/2 in, the nanometre below.
        assert_eq!(rows[1].length, widths[2] - inch(1, 2));
    }

    /// A part in the root piece.
    fn part(name: &str, low: [Length; 3], high: [Length; 3]) -> Part {
        Part::new(name, Model::ROOT, stock("3/4 birch plywood"), solid(low, high))
    }

    fn model_of(parts: Vec<Part>) -> Model {
        let mut model = Model::new("case", Printing::default());
        model.parts = parts;
        model
    }

    /// The left and right side of a case 24 in wide, 30 in high, 11 in deep.
    fn sides() -> (Part, Part) {
        let (o, t, wide) = (Length::ZERO, inch(3, 4), inch(24, 1));
        (
            part("side", [o, o, o], [t, inch(11, 1), inch(30, 1)]),
            part("side", [wide - t, o, o], [wide, inch(11, 1), inch(30, 1)]),
        )
    }

    #[test]
    fn twins_that_are_mirror_images_are_one_row_and_said_to_be() {
        let (mut left, mut right) = sides();
        let (o, depth, height) = (Length::ZERO, inch(11, 1), inch(30, 1));
        let (in_left, in_right) = ((inch(1, 2), inch(3, 4)), (inch(93, 4), inch(47, 2)));
        for (side, face, (low, high)) in [(&mut left, Face::Right, in_left), (&mut right, Face::Left, in_right)] {
            // A dado 10 in up and a rabbet 1/2 in wide for the back: turned end for end, the left side is no right side.
            let dado = solid([low, o, inch(10, 1)], [high, depth, inch(43, 4)]);
            side.features.push(channel("dado", face, Axis::Y, dado));
            let rabbet = solid([low, depth - inch(1, 2), o], [high, depth, height]);
            side.features.push(step("rabbet", face, Axis::Z, rabbet));
        }
        let rows = rows(&model_of(vec![left, right]));
        assert_eq!(rows.len(), 1);
        assert_eq!((rows[0].quantity, rows[0].mirrored), (2, 1));
        assert_eq!(
            rows[0].joinery,
            "dado 3/4\" x 1/4\" deep, 10\" from bottom end; rabbet 1/2\" x 1/4\" deep at back edge; \
             cut 1 and 1 as mirror images"
        );
    }

    #[test]
    fn twins_that_can_be_turned_over_are_no_mirror_images() {
        // A rabbet at the back edge alone: turned end for end, the left side is the right side.
        let (mut left, mut right) = sides();
        let (o, depth, height) = (Length::ZERO, inch(11, 1), inch(30, 1));
        let removed = |low, high| solid([low, depth - inch(1, 2), o], [high, depth, height]);
        // The tool may enter by the back edge as well: the rabbet is the same.
        left.features.push(step("rabbet", Face::Right, Axis::Z, removed(inch(1, 2), inch(3, 4))));
        right.features.push(step("rabbet", Face::Back, Axis::Z, removed(inch(93, 4), inch(47, 2))));
        let rows = rows(&model_of(vec![left, right]));
        assert_eq!((rows.len(), rows[0].mirrored), (1, 0));
        assert_eq!(rows[0].joinery, "rabbet 1/2\" x 1/4\" deep at back edge");
    }

    /// A divider 30 in long along x, 11 in along y, lying flat.
    fn flat() -> Part {
        let o = Length::ZERO;
        part("flat", [o, o, o], [inch(30, 1), inch(11, 1), inch(3, 4)])
    }

    fn dado(from: Length, face: Face) -> crate::model::Feature {
        let z = if face == Face::Top { (inch(1, 2), inch(3, 4)) } else { (Length::ZERO, inch(1, 4)) };
        channel("dado", face, Axis::Y, solid([from, Length::ZERO, z.0], [from + inch(3, 4), inch(11, 1), z.1]))
    }

    fn joinery_of(features: Vec<crate::model::Feature>) -> String {
        let mut part = flat();
        part.features = features;
        rows(&model_of(vec![part])).remove(0).joinery
    }

    #[test]
    fn words_for_places() {
        let top = Face::Top;
        // 30 - 3/4 = 29-1/4 in to share: centred is 14-5/8 in from each end.
        assert_eq!(joinery_of(vec![dado(inch(117, 8), top)]), "dado 3/4\" x 1/4\" deep, centred");
        // 5 in from the left end, or 5 in from the right end (30 - 5 - 3/4): one and the same board turned around.
        let left = joinery_of(vec![dado(inch(5, 1), top)]);
        assert_eq!(left, "dado 3/4\" x 1/4\" deep, 5\" from one end");
        assert_eq!(left, joinery_of(vec![dado(inch(97, 4), top)]));
        assert_eq!(
            joinery_of(vec![dado(inch(97, 4), top), dado(inch(5, 1), top)]),
            "2 dados 3/4\" x 1/4\" deep, 5\" from both ends"
        );
        assert_eq!(
            joinery_of(vec![dado(inch(12, 1), top), dado(inch(5, 1), top), dado(inch(8, 1), top)]),
            "3 dados 3/4\" x 1/4\" deep, 5\", 8\" and 12\" from one end"
        );
        assert_eq!(
            joinery_of(vec![dado(inch(5, 1), top), dado(inch(5, 1), Face::Bottom)]),
            "dado 3/4\" x 1/4\" deep, 5\" from one end in both faces"
        );
        assert_eq!(
            joinery_of(vec![dado(inch(117, 8), top), dado(inch(5, 1), Face::Bottom)]),
            "dado 3/4\" x 1/4\" deep, 5\" from one end in bottom face; dado 3/4\" x 1/4\" deep, centred, in top face"
        );
    }

    #[test]
    fn stopped_work_says_where_it_stops() {
        let mut stopped = dado(inch(117, 8), Face::Top);
        stopped.solid.low[1] = inch(3, 8);
        assert_eq!(joinery_of(vec![stopped]), "dado 3/4\" x 1/4\" deep, centred, stopped 3/8\" short of front edge");
    }

    #[test]
    fn a_groove_in_an_edge_and_holes() {
        let o = Length::ZERO;
        let groove =
            channel("groove", Face::Front, Axis::X, solid([o, o, inch(1, 4)], [inch(30, 1), inch(3, 8), inch(1, 2)]));
        let hole = |x: i64| {
            let (low, high) = ([inch(x, 1), inch(1, 1), o], [inch(x, 1) + inch(3, 8), inch(2, 1), inch(1, 2)]);
            bore("pocket hole", Face::Bottom, solid(low, high))
        };
        assert_eq!(
            joinery_of(vec![hole(1), groove, hole(28)]),
            "groove 1/4\" x 3/8\" deep in front edge, centred; 2 pocket holes"
        );
        assert_eq!(joinery_of(vec![hole(1)]), "1 pocket hole");
    }

    #[test]
    fn bands_change_the_size_to_cut_and_the_finished_size_is_told() {
        let lipping = stock("1/4 maple lipping");
        let mut shelf = flat();
        let front = Banding { stock: lipping, edge: Face::Front, runs_through: true, taken_off: true };
        shelf.bands.push(front);
        shelf.banding_order = BandingOrder::BeforeSizing(inch(1, 2));
        let row = rows(&model_of(vec![shelf])).remove(0);
        // Cut 30 + 1/2 by 11 - 1/4; finished 30 by 11.
        assert_eq!((row.length, row.width), (inch(61, 2), inch(43, 4)));
        assert_eq!(row.finished, Some((inch(30, 1), inch(11, 1))));
        assert_eq!(row.banded, "1 long edge (front): 1/4 maple lipping; band first, then trim 1/2\" off with the core");
    }

    #[test]
    fn other_stock_or_grain_is_another_row() {
        let mut other = flat();
        other.stock = stock("3/4 maple plywood");
        let mut across = flat();
        across.grain = Some(Axis::Y);
        let rows = rows(&model_of(vec![flat(), other, across]));
        let sizes: Vec<_> = rows.iter().map(|row| (row.mark.as_str(), row.length)).collect();
        // With the grain along y, the length is 11 in.
        assert_eq!(sizes, [("A1a", inch(30, 1)), ("A1b", inch(30, 1)), ("A1c", inch(11, 1))]);
    }

    #[test]
    fn more_rows_than_letters() {
        assert_eq!((suffix(0), suffix(25), suffix(26)), ("a".into(), "z".into(), "aa".into()));
    }

    proptest! {
        #[test]
        fn no_part_is_lost_and_none_is_cut_too_large(
            sizes in prop::collection::vec((1_i64..4, 0_i64..2_500), 1..40)
        ) {
            let parts = sizes.iter().map(|&(inches, nm)| {
                let mut part = flat();
                part.solid = Solid::new(part.solid.low, [inch(inches * 20, 1) + Length::from_nm(nm), inch(11, 1), inch(3, 4)]);
                part
            });
            let model = model_of(parts.collect());
            let rows = rows(&model);
            prop_assert_eq!(rows.iter().map(|row| row.quantity).sum::<i64>(), i64::try_from(sizes.len()).unwrap());
            for row in &rows {
                prop_assert_eq!(i64::try_from(row.parts.len()).unwrap(), row.quantity);
                for &id in &row.parts {
                    let over = model.part(id).cut_size(Axis::X) - row.length;
                    prop_assert!(!over.is_negative() && over <= Length::SAME_SIZE);
                }
            }
            let mut marks: Vec<&str> = rows.iter().map(|row| row.mark.as_str()).collect();
            marks.sort_unstable();
            marks.dedup();
            prop_assert_eq!(marks.len(), rows.len());
        }
    }
}
