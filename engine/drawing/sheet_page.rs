//! The drawing of one sheet: parts where they lie, cuts numbered in order, what is left hatched, and the cuts as a list.

use super::{
    Anchor, MM, PAGE_HEIGHT, PAGE_WIDTH, Page, Spot, Stroke, Weight, Words, bold, cut_words, dimension, hatched,
    shortened, text_width, two_arrows, words,
};
use crate::base::{Length, Printing};
use crate::plan::{Blank, Made, PlacedPart, Plan, StockLayout};

/// Where the picture of the sheet begins, and the most room that it takes.
const CORNER: Spot = (9 * MM, 21 * MM);
const ROOM: Spot = (248 * MM, 118 * MM);

/// The radius of the ring around the number of a cut.
const RING: i64 = 19 * MM / 10;

pub(super) fn page(plan: &Plan, stock: &StockLayout, blank: &Blank) -> Page {
    let printing = plan.printing;
    let view = View::of(blank, ROOM, CORNER);
    let title = format!(
        "{} {}: {}, {}",
        if blank.copies > 1 { "Sheets" } else { "Sheet" },
        blank.numbers(),
        stock.stock,
        blank.size_words(printing)
    );
    let mut strokes = head(plan, stock, blank, &title);
    strokes.extend(sheet(stock, blank, &view, printing));
    let (right, bottom) = view.far(blank);
    let below = bottom + 3 * MM;
    strokes.extend(dimension((CORNER.0, below), (right, below), &printing.length(blank.length)));
    let beside = CORNER.0 - 3 * MM;
    strokes.extend(dimension((beside, CORNER.1), (beside, bottom), &printing.length(blank.width)));
    strokes.extend(list(&cut_words::lines(blank, stock.form, printing), below + 8 * MM));
    strokes.extend(foot(stock, blank));
    Page { number: blank.number, title, strokes }
}

/// How a sheet is brought onto paper.
pub(super) struct View {
    corner: Spot,
    /// So many micrometres of paper for so many nanometres of sheet.
    scale: (i128, i128),
}

impl View {
    /// As large as it goes into the room.
    pub(super) fn of(blank: &Blank, room: Spot, corner: Spot) -> Self {
        let (long, wide) = (i128::from(blank.length.nm().max(1)), i128::from(blank.width.nm().max(1)));
        let (across, down) = (i128::from(room.0), i128::from(room.1));
        let scale = if across * wide <= down * long { (across, long) } else { (down, wide) };
        Self { corner, scale }
    }

    fn length(&self, length: Length) -> i64 {
        i64::try_from(i128::from(length.nm()) * self.scale.0 / self.scale.1).unwrap_or(0)
    }

    fn at(&self, (x, y): (Length, Length)) -> Spot {
        (self.corner.0 + self.length(x), self.corner.1 + self.length(y))
    }

    /// The corner opposite to the first.
    pub(super) fn far(&self, blank: &Blank) -> Spot {
        self.at((blank.length, blank.width))
    }

    /// Corner and size of a rectangle on paper.
    fn rect(&self, at: (Length, Length), size: (Length, Length)) -> (Spot, Spot) {
        let (low, high) = (self.at(at), self.at((at.0 + size.0, at.1 + size.1)));
        (low, (high.0 - low.0, high.1 - low.1))
    }
}

fn head(plan: &Plan, stock: &StockLayout, blank: &Blank, title: &str) -> Vec<Stroke> {
    let from = match blank.copies {
        1 => blank.source.name().to_owned(),
        copies => format!("{}, {copies} cut alike", blank.source.name()),
    };
    let all: u32 = plan.cutting.plan().blanks().map(|(_, blank)| blank.copies).sum();
    let about = format!("{from}; {} in all", if all == 1 { "one".to_owned() } else { all.to_string() });
    let more = format!("{}; thickness {}", plan.title, plan.printing.length(stock.thickness));
    vec![
        bold((0, 5 * MM), 5 * MM, Anchor::Start, shortened(title, 5 * MM, PAGE_WIDTH - 60 * MM)),
        words((PAGE_WIDTH, 5 * MM), 35 * MM / 10, Anchor::End, about),
        words((0, 10 * MM), 33 * MM / 10, Anchor::Start, shortened(&more, 33 * MM / 10, PAGE_WIDTH - 40 * MM)),
    ]
}

/// The sheet itself, without dimensions.
pub(super) fn sheet(stock: &StockLayout, blank: &Blank, view: &View, printing: Printing) -> Vec<Stroke> {
    let mut strokes = Vec::new();
    for (i, offcut) in blank.offcuts.iter().enumerate() {
        let (at, size) = view.rect(offcut.at, offcut.size);
        strokes.extend(hatched(at, size, 3 * MM));
        strokes.push(Stroke::Outline(at, size, Weight::Plain));
        let lines = [format!("offcut {}", i + 1), printing.by(offcut.size.0, offcut.size.1)];
        strokes.extend(label(
            at,
            size,
            &[(false, lines.to_vec()), (false, vec![lines.join(": ")]), (false, vec![lines[0].clone()])],
        ));
    }
    for part in &blank.parts {
        strokes.extend(part_on_sheet(stock, part, view, printing));
    }
    let mut rings: Vec<Spot> = Vec::new();
    let mut numbers = Vec::new();
    for cut in &blank.cuts {
        let [from, to] = cut.line.map(|end| view.at(end));
        let spare = |made| matches!(made, Made::Waste | Made::Nothing);
        let weight = if spare(cut.makes) || spare(cut.leaves) { Weight::Dashed } else { Weight::Plain };
        strokes.push(Stroke::Line(from, to, weight));
        let ring = ring_on(from, to, &rings);
        rings.push(ring);
        // Across a narrow strip the ring is as small as the strip.
        let along = (to.0 - from.0).abs().max((to.1 - from.1).abs());
        let radius = RING.min(along * 48 / 100).max(7 * MM / 10);
        let size = if cut.number > 99 { 17 * MM / 10 } else { 23 * MM / 10 } * radius / RING;
        numbers.push(Stroke::Ring(ring, radius));
        numbers.push(words((ring.0, ring.1 + size * 36 / 100), size, Anchor::Middle, cut.number.to_string()));
    }
    let (corner, far) = (view.corner, view.far(blank));
    strokes.push(Stroke::Outline(corner, (far.0 - corner.0, far.1 - corner.1), Weight::Heavy));
    if stock.grain {
        let middle = i64::midpoint(corner.0, far.0);
        let y = corner.1 - 35 * MM / 10;
        strokes.extend(two_arrows((middle - 25 * MM, y), (middle + 25 * MM, y), Weight::Plain));
        strokes.push(words((middle, y - MM), 3 * MM, Anchor::Middle, "grain"));
    }
    strokes.extend(numbers);
    strokes
}

/// A place for the number of a cut on its line, near the line's beginning and clear of other numbers.
fn ring_on(from: Spot, to: Spot, taken: &[Spot]) -> Spot {
    let along = (to.0 - from.0).abs().max((to.1 - from.1).abs());
    let at = |way: i64| {
        if from.1 == to.1 { (from.0 + way, from.1) } else { (from.0, from.1 + way) }
    };
    let clear =
        |spot: &Spot| taken.iter().all(|own| (own.0 - spot.0).abs().max((own.1 - spot.1).abs()) > 2 * RING - MM / 5);
    let step = 2 * RING;
    let mut way = RING + MM;
    while way < along - RING {
        if clear(&at(way)) {
            return at(way);
        }
        way += step;
    }
    at(along / 2)
}

fn part_on_sheet(stock: &StockLayout, part: &PlacedPart, view: &View, printing: Printing) -> Vec<Stroke> {
    let (at, size) = view.rect(part.spot.at, part.spot.size);
    let mut strokes = vec![Stroke::Outline(at, size, Weight::Plain)];
    let sizes = printing.by(part.length, part.width);
    let name = format!("{} {}", part.mark, part.part);
    let labels = [
        (true, vec![part.mark.clone(), part.part.clone(), sizes.clone()]),
        (true, vec![name.clone(), sizes.clone()]),
        (true, vec![format!("{name}, {sizes}")]),
        (true, vec![part.mark.clone(), sizes.clone()]),
        (true, vec![format!("{} {sizes}", part.mark)]),
        (true, vec![part.mark.clone()]),
    ];
    // In a small part the label keeps clear of the numbers on its edges.
    let small = size.0.max(size.1) < 16 * MM && size.0.min(size.1) > 4 * RING;
    let off = if small { RING } else { 0 };
    strokes.extend(label((at.0 + off, at.1 + off), (size.0 - 2 * off, size.1 - 2 * off), &labels));
    let inside = MM * 12 / 10;
    if part.shows && size.0 > 5 * MM && size.1 > 5 * MM {
        strokes.push(Stroke::Dot((at.0 + size.0 - 2 * MM, at.1 + size.1 - 2 * MM), MM * 7 / 10));
    }
    if stock.grain && size.0 > 24 * MM && size.1 > 9 * MM {
        let (x, y) = (at.0 + size.0 - 4 * MM, at.1 + size.1 - inside);
        strokes.extend(two_arrows((x - 9 * MM, y), (x, y), Weight::Fine));
    }
    strokes
}

/// The first of several ways to say it that goes into the rectangle, the largest letters first; upright where that is the
/// longer way. The last way is said whatever the room.
fn label(at: Spot, (width, height): Spot, ways: &[(bool, Vec<String>)]) -> Vec<Stroke> {
    let middle = (at.0 + width / 2, at.1 + height / 2);
    let clear = MM * 8 / 10;
    for (first_bold, lines) in ways {
        for size in [34, 28, 23, 19].map(|tenth| tenth * MM / 10) {
            let long = lines.iter().enumerate().map(|(i, line)| text_width(line, size, *first_bold && i == 0)).max();
            let long = long.unwrap_or(0) + 2 * clear;
            let high = size * 11 / 10 * i64::try_from(lines.len()).unwrap_or(1) + clear;
            if long <= width && high <= height {
                return said(middle, lines, size, *first_bold, false);
            }
            if height > width && long <= height && high <= width {
                return said(middle, lines, size, *first_bold, true);
            }
        }
    }
    let Some((first_bold, lines)) = ways.last() else { return Vec::new() };
    let upwards = height > width;
    let long = lines.iter().map(|line| text_width(line, MM, *first_bold)).max().unwrap_or(1).max(1);
    let size = (width.max(height) * MM / long).min(width.min(height) * 8 / 10).clamp(MM, 19 * MM / 10);
    said(middle, lines, size, *first_bold, upwards)
}

fn said(middle: Spot, lines: &[String], size: i64, first_bold: bool, upwards: bool) -> Vec<Stroke> {
    let pitch = size * 11 / 10;
    let count = i64::try_from(lines.len()).unwrap_or(1);
    // The base line of a single line lies a third of its height below the middle.
    let first = size * 34 / 100 - pitch * (count - 1) / 2;
    (0..)
        .zip(lines)
        .map(|(i, line)| {
            let off = first + pitch * i;
            Stroke::Words(Words {
                at: if upwards { (middle.0 + off, middle.1) } else { (middle.0, middle.1 + off) },
                size,
                anchor: Anchor::Middle,
                upwards,
                bold: first_bold && i == 0,
                text: line.clone(),
            })
        })
        .collect()
}

/// The cuts in as many columns as there is room for.
fn list(lines: &[String], top: i64) -> Vec<Stroke> {
    let room = PAGE_HEIGHT - 9 * MM - top;
    for size in [30, 27, 24, 21, 18].map(|tenth| tenth * MM / 10) {
        let pitch = size * 13 / 10;
        let rows = usize::try_from(room / pitch).unwrap_or(0).max(1);
        let widest = lines.iter().map(|line| text_width(line, size, false)).max().unwrap_or(1) + 4 * MM;
        let columns = usize::try_from(PAGE_WIDTH / widest.max(1)).unwrap_or(1).max(1);
        if rows * columns >= lines.len() {
            return in_columns(lines, size, top, rows, i64::try_from(columns).unwrap_or(1));
        }
    }
    let size = 18 * MM / 10;
    let rows = usize::try_from(room / (size * 13 / 10)).unwrap_or(0).max(1);
    let shown = (rows * 4).saturating_sub(1).min(lines.len());
    let mut short: Vec<String> =
        lines.iter().take(shown).map(|line| shortened(line, size, PAGE_WIDTH / 4 - 3 * MM)).collect();
    if shown < lines.len() {
        short.push("the cuts after these: see cutting-plan.csv".to_owned());
    }
    in_columns(&short, size, top, rows, 4)
}

fn in_columns(lines: &[String], size: i64, top: i64, rows: usize, columns: i64) -> Vec<Stroke> {
    let pitch = size * 13 / 10;
    let place = |i: usize| {
        let (column, row) = (i64::try_from(i / rows).unwrap_or(0), i64::try_from(i % rows).unwrap_or(0));
        (column * (PAGE_WIDTH / columns), top + row * pitch)
    };
    lines.iter().enumerate().map(|(i, line)| words(place(i), size, Anchor::Start, line.clone())).collect()
}

fn foot(stock: &StockLayout, blank: &Blank) -> Vec<Stroke> {
    let mut legend = vec!["numbers in rings: the cuts in order", "pieces are named by the cut that made them"];
    if !blank.offcuts.is_empty() {
        legend.push("hatched: keep");
    }
    if blank.parts.iter().any(|part| part.shows) {
        legend.push("dot: its show face looks at you here");
    }
    if stock.grain {
        legend.push("arrows: the grain");
    }
    let size = 25 * MM / 10;
    vec![
        words((0, PAGE_HEIGHT - 43 * MM / 10), size, Anchor::Start, legend.join("; ") + "."),
        words((0, PAGE_HEIGHT - MM), size, Anchor::Start, CAUTION),
    ]
}

/// The caution that stands on every drawing.
// Common practice, no source.
pub(super) const CAUTION: &str = "Guard and riving knife on, push stick for narrow strips, support for long pieces. The machine \
                                  maker's instructions, local codes and your own judgement come first.";
