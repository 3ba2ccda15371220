//! The drawing of one sheet: parts where they lie, cuts numbered in order, what is left hatched, and the cuts as a list.

use super::rings::{Area, Line, RING, rings};
use super::{
    Anchor, MM, PAGE_HEIGHT, PAGE_WIDTH, Page, Spot, Stroke, Weight, Words, bold, cut_words, dimension, foot_line,
    hatched, shortened, text_width, two_arrows, words,
};
use crate::base::{Length, Printing};
use crate::plan::{Blank, Made, PlacedPart, Plan, Rough, StockLayout};

/// Where the picture of the sheet begins, and the most width that it takes.
const CORNER: Spot = (9 * MM, 21 * MM);
const ROOM: i64 = 248 * MM;

/// The most height that the picture takes, and less where the list of cuts below it needs more room.
const HEIGHTS: [i64; 3] = [118 * MM, 104 * MM, 90 * MM];

pub(super) fn page(plan: &Plan, stock: &StockLayout, blank: &Blank) -> Page {
    let printing = plan.printing;
    let told = |letters| cut_words::lines(blank, stock.form, printing, letters);
    let views = HEIGHTS.map(|height| View::of(blank, (ROOM, height), CORNER));
    let top = |view: &View| view.far(blank).1 + 11 * MM;
    let (view, cuts) = views
        .iter()
        .find_map(|view| Some((view, list(told, top(view))?)))
        .unwrap_or_else(|| (&views[2], list_of_the_first(&told(0), top(&views[2]))));
    let title = format!(
        "{} {}: {}, {}",
        if blank.copies > 1 { "Sheets" } else { "Sheet" },
        blank.numbers(),
        stock.stock,
        blank.size_words(printing)
    );
    let mut strokes = head(plan, stock, blank, &title);
    strokes.extend(sheet(stock, blank, view, printing));
    let (right, bottom) = view.far(blank);
    let below = bottom + 3 * MM;
    strokes.extend(dimension((CORNER.0, below), (right, below), &printing.length(blank.length)));
    let beside = CORNER.0 - 3 * MM;
    strokes.extend(dimension((beside, CORNER.1), (beside, bottom), &printing.length(blank.width)));
    strokes.extend(cuts);
    strokes.extend(foot(stock, blank, view));
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

    /// Whether a part is too thin on paper for its mark.
    pub(super) fn has_thin(&self, blank: &Blank) -> bool {
        blank.parts.iter().any(|part| is_too_thin(self.rect(part.spot.at, part.spot.size).1))
    }

    /// Corner and size of a rectangle on paper.
    fn rect(&self, at: (Length, Length), size: (Length, Length)) -> (Spot, Spot) {
        let (low, high) = (self.at(at), self.at((at.0 + size.0, at.1 + size.1)));
        (low, (high.0 - low.0, high.1 - low.1))
    }
}

fn head(plan: &Plan, stock: &StockLayout, blank: &Blank, title: &str) -> Vec<Stroke> {
    let alike = if blank.copies == 1 { "" } else { ", cut alike" };
    let all: u32 = plan.cutting.plan().blanks().map(|(_, blank)| blank.copies).sum();
    let whole =
        if all == blank.copies { "all that the job takes".to_owned() } else { format!("the whole job takes {all}") };
    let about = format!("{} {}{alike}; {whole}", blank.source.name(), blank.copies);
    let more = about_stock(plan, stock);
    // The title is bold, so a little wider than it is taken for.
    let room = (PAGE_WIDTH - text_width(&about, 35 * MM / 10, false)) * 92 / 100 - 5 * MM;
    vec![
        bold((0, 5 * MM), 5 * MM, Anchor::Start, shortened(title, 5 * MM, room)),
        words((PAGE_WIDTH, 5 * MM), 35 * MM / 10, Anchor::End, about),
        words((0, 10 * MM), 33 * MM / 10, Anchor::Start, shortened(&more, 33 * MM / 10, PAGE_WIDTH - 40 * MM)),
    ]
}

/// The job, the thickness and what the blade takes, in one line.
pub(super) fn about_stock(plan: &Plan, stock: &StockLayout) -> String {
    let kerf = Some(stock.kerf_words(plan.printing)).filter(|words| !words.is_empty());
    let thickness = format!("thickness {}", plan.printing.length(stock.thickness));
    [Some(plan.title.clone()), Some(thickness), kerf].into_iter().flatten().collect::<Vec<_>>().join("; ")
}

/// The sheet itself, without dimensions.
pub(super) fn sheet(stock: &StockLayout, blank: &Blank, view: &View, printing: Printing) -> Vec<Stroke> {
    let mut strokes = Vec::new();
    let mut written: Vec<Area> = Vec::new();
    for (i, offcut) in blank.offcuts.iter().enumerate() {
        let (at, size) = view.rect(offcut.at, offcut.size);
        strokes.extend(hatched(at, size, 3 * MM));
        strokes.push(Stroke::Outline(at, size, Weight::Plain));
        let lines = [format!("offcut {}", i + 1), printing.by(offcut.size.0, offcut.size.1)];
        let ways = [(false, lines.to_vec()), (false, vec![lines.join(": ")]), (false, vec![lines[0].clone()])];
        let (said, (low, high), _) = label(at, size, &ways);
        strokes.push(Stroke::Blank(low, (high.0 - low.0, high.1 - low.1)));
        strokes.extend(said);
        written.push((low, high));
    }
    for part in &blank.parts {
        let (drawn, areas) = part_on_sheet(stock, part, view, printing);
        strokes.extend(drawn);
        written.extend(areas);
    }
    let mut lines = Vec::new();
    for (cut, again) in blank.cuts.iter().zip(cut_words::again(blank)) {
        let [from, to] = cut.line.map(|end| view.at(end));
        let spare = |made| matches!(made, Made::Waste | Made::Nothing);
        let weight = if spare(cut.makes) || spare(cut.leaves) { Weight::Dashed } else { Weight::Plain };
        strokes.push(Stroke::Line(from, to, weight));
        lines.push(Line { number: cut.number, from, to, again });
    }
    let (corner, far) = (view.corner, view.far(blank));
    strokes.push(Stroke::Outline(corner, (far.0 - corner.0, far.1 - corner.1), Weight::Heavy));
    if stock.grain {
        let middle = i64::midpoint(corner.0, far.0);
        let y = corner.1 - 35 * MM / 10;
        strokes.extend(two_arrows((middle - 25 * MM, y), (middle + 25 * MM, y), Weight::Plain));
        strokes.push(words((middle, y - MM), 3 * MM, Anchor::Middle, "grain"));
    }
    strokes.extend(rings(&lines, &written, (corner, far)));
    strokes
}

/// A part where it lies, and the areas in which something is written or drawn.
fn part_on_sheet(stock: &StockLayout, part: &PlacedPart, view: &View, printing: Printing) -> (Vec<Stroke>, Vec<Area>) {
    let (at, size) = view.rect(part.spot.at, part.spot.size);
    let mut strokes = vec![Stroke::Outline(at, size, Weight::Plain)];
    let own = printing.by(part.length, part.width);
    let (sizes, more) = match part.rough {
        Rough::No => (own, None),
        Rough::To(length, width) => (format!("{own} rough"), Some(format!("{} to size", printing.by(length, width)))),
        Rough::Strip => (format!("{own} rough"), None),
    };
    let name = format!("{} {}", part.mark, part.part);
    let all = more.into_iter().flat_map(|more| {
        let lines = [vec![part.mark.clone(), part.part.clone()], vec![name.clone()]];
        let long = format!("{sizes}, {more}");
        let [first, second] = lines.map(|lines| [lines, vec![sizes.clone(), more.clone()]].concat());
        [first, second, vec![name.clone(), long.clone()], vec![format!("{name}, {long}")]]
    });
    let mut labels: Vec<(bool, Vec<String>)> = all.map(|lines| (true, lines)).collect();
    let short = some_letters(&part.part);
    labels.extend([
        (true, vec![part.mark.clone(), part.part.clone(), sizes.clone()]),
        (true, vec![name.clone(), sizes.clone()]),
        (true, vec![format!("{name}, {sizes}")]),
        (true, vec![part.mark.clone(), short.clone(), sizes.clone()]),
        (true, vec![format!("{} {short}", part.mark), sizes.clone()]),
        (true, vec![part.mark.clone(), sizes.clone()]),
        (true, vec![format!("{} {sizes}", part.mark)]),
        (true, vec![part.mark.clone()]),
    ]);
    // In a small part the label keeps clear of the numbers on its edges.
    let small = size.0.max(size.1) < 16 * MM && size.0.min(size.1) > 4 * RING;
    let off = if small { RING } else { 0 };
    let arrow = stock.grain && size.0 > 24 * MM && size.1 > 9 * MM;
    // In a short part the label keeps above the arrow.
    let low = if arrow && size.0 < 55 * MM { 24 * MM / 10 } else { 0 };
    let within = |off: i64| label((at.0 + off, at.1 + off), (size.0 - 2 * off, size.1 - 2 * off - low), &labels);
    let (said, area, way) = within(off);
    // Where that leaves room for the mark alone, the numbers make way.
    let (said, area) = if way + 1 == labels.len() && small {
        let (said, area, _) = within(0);
        (said, area)
    } else {
        (said, area)
    };
    let mut areas = Vec::new();
    if is_too_thin(size) {
        // Letters as low as that are a smudge: the list of cuts names the part.
    } else {
        strokes.extend(said);
        areas.push(area);
    }
    // The dot keeps clear of the number of the cut at the part's end, and in a narrow part of its edges.
    let right = at.0 + size.0;
    if part.shows && size.0 > 8 * MM && size.1 > 28 * MM / 10 {
        let (x, y) = (right - 33 * MM / 10, at.1 + size.1 - (size.1 / 2).min(2 * MM));
        let radius = MM * 7 / 10;
        strokes.push(Stroke::Dot((x, y), radius));
        areas.push(((x - radius, y - radius), (x + radius, y + radius)));
    }
    if arrow {
        let (x, y) = (right - 56 * MM / 10, at.1 + size.1 - MM * 12 / 10);
        strokes.extend(two_arrows((x - 9 * MM, y), (x, y), Weight::Fine));
        areas.push(((x - 9 * MM, y - MM / 2), (x, y + MM / 2)));
    }
    (strokes, areas)
}

/// Whether a part is too thin on paper for its mark.
fn is_too_thin((width, height): Spot) -> bool {
    // From memory: print of less than a millimetre and a half is read with a glass.
    width.min(height) < 14 * MM / 10
}

/// The name of a part, or its first letters.
fn some_letters(name: &str) -> String {
    const LETTERS: usize = 20;
    if name.chars().count() <= LETTERS {
        return name.to_owned();
    }
    name.chars().take(LETTERS - 3).collect::<String>().trim_end().to_owned() + "..."
}

/// The first of several ways to say it that goes into the rectangle, the largest letters first; upright where that is the
/// longer way. The last way is said whatever the room. With it goes the area that it takes, and
/// which of the ways it is.
fn label(at: Spot, (width, height): Spot, ways: &[(bool, Vec<String>)]) -> (Vec<Stroke>, Area, usize) {
    let middle = (at.0 + width / 2, at.1 + height / 2);
    let clear = MM * 8 / 10;
    // Letters that fill a narrow piece leave no room for the numbers of the cuts beside it.
    let most = (width.min(height) * 45 / 100).max(19 * MM / 10);
    for (way, (first_bold, lines)) in ways.iter().enumerate() {
        for size in [34, 28, 23, 19].map(|tenth| tenth * MM / 10).into_iter().filter(|&size| size <= most) {
            let long = lines.iter().enumerate().map(|(i, line)| text_width(line, size, *first_bold && i == 0)).max();
            let long = long.unwrap_or(0) + 2 * clear;
            let high = size * 11 / 10 * i64::try_from(lines.len()).unwrap_or(1) + clear;
            if long <= width && high <= height {
                let (strokes, area) = said(middle, lines, size, *first_bold, false);
                return (strokes, area, way);
            }
            if height > width && long <= height && high <= width {
                let (strokes, area) = said(middle, lines, size, *first_bold, true);
                return (strokes, area, way);
            }
        }
    }
    let Some((first_bold, lines)) = ways.last() else { return (Vec::new(), (middle, middle), 0) };
    let upwards = height > width;
    let long = lines.iter().map(|line| text_width(line, MM, *first_bold)).max().unwrap_or(1).max(1);
    let size = (width.max(height) * MM / long).min(width.min(height) * 8 / 10).clamp(MM, 19 * MM / 10);
    let (strokes, area) = said(middle, lines, size, *first_bold, upwards);
    (strokes, area, ways.len() - 1)
}

fn said(middle: Spot, lines: &[String], size: i64, first_bold: bool, upwards: bool) -> (Vec<Stroke>, Area) {
    let pitch = size * 11 / 10;
    let count = i64::try_from(lines.len()).unwrap_or(1);
    // The base line of a single line lies a third of its height below the middle.
    let first = size * 34 / 100 - pitch * (count - 1) / 2;
    let wide =
        lines.iter().enumerate().map(|(i, line)| text_width(line, size, first_bold && i == 0)).max().unwrap_or(0);
    let half = (wide / 2, pitch * count / 2);
    let half = if upwards { (half.1, half.0) } else { half };
    let area = ((middle.0 - half.0, middle.1 - half.1), (middle.0 + half.0, middle.1 + half.1));
    let strokes = (0..)
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
        .collect();
    (strokes, area)
}

/// The cuts in columns, each as wide as it needs to be, if there is room. Where they are many, the names of parts are shortened before
/// the letters get small; the marks stay.
fn list(told: impl Fn(usize) -> Vec<String>, top: i64) -> Option<Vec<Stroke>> {
    let ways: [(usize, &[i64]); 4] =
        [(usize::MAX, &[30, 27, 24]), (24, &[27, 24]), (16, &[27, 24]), (0, &[24, 21, 18])];
    ways.into_iter().find_map(|(letters, sizes)| {
        let lines = told(letters);
        sizes.iter().map(|tenth| tenth * MM / 10).find_map(|size| in_columns(&lines, size, top, rows_of(size, top)))
    })
}

/// As many of the first cuts as there is room for, and where the others are.
fn list_of_the_first(lines: &[String], top: i64) -> Vec<Stroke> {
    let size = 18 * MM / 10;
    let rows = rows_of(size, top);
    let some = |columns: usize| {
        let mut first: Vec<String> = lines.iter().take(rows * columns - 1).cloned().collect();
        first.push("the cuts after these: see cutting-plan.csv".to_owned());
        in_columns(&first, size, top, rows)
    };
    (1..=8).rev().find_map(some).unwrap_or_default()
}

/// How many lines of a size go between a place and the foot of the page.
fn rows_of(size: i64, top: i64) -> usize {
    usize::try_from((PAGE_HEIGHT - 9 * MM - top) / (size * 13 / 10)).unwrap_or(0).max(1)
}

/// What lies between two columns.
const GAP: i64 = 6 * MM;

/// Lines in columns of so many rows, if they go onto the page.
fn in_columns(lines: &[String], size: i64, top: i64, rows: usize) -> Option<Vec<Stroke>> {
    let mut strokes = Vec::new();
    let mut x = 0;
    for column in lines.chunks(rows) {
        let widest = column.iter().map(|line| text_width(line, size, false)).max().unwrap_or(0);
        if x + widest > PAGE_WIDTH {
            return None;
        }
        let mut y = top;
        for line in column {
            strokes.push(words((x, y), size, Anchor::Start, line.clone()));
            y += size * 13 / 10;
        }
        x += widest + GAP;
    }
    Some(strokes)
}

fn foot(stock: &StockLayout, blank: &Blank, view: &View) -> Vec<Stroke> {
    let grain = if stock.grain { "arrows: the grain" } else { "no grain" };
    vec![
        foot_line((0, PAGE_HEIGHT - 43 * MM / 10), &legend(std::slice::from_ref(blank), grain, view.has_thin(blank))),
        foot_line((0, PAGE_HEIGHT - MM), CAUTION),
    ]
}

/// What the signs of a drawing mean.
pub(super) fn legend(blanks: &[Blank], grain: &str, has_thin: bool) -> String {
    let mut told =
        vec!["rings: the cuts in order, of equal cuts at least the first", "a piece has the number of its cut"];
    if blanks.iter().any(|blank| !blank.offcuts.is_empty()) {
        told.push("hatched: keep");
    }
    told.push(if has_thin {
        "unmarked: waste, and what is too thin for a mark (see the list)"
    } else {
        "unmarked: waste"
    });
    if blanks.iter().flat_map(|blank| &blank.parts).any(|part| part.rough != Rough::No) {
        told.push("rough: cut over its size, to be jointed");
    }
    if blanks.iter().flat_map(|blank| &blank.parts).any(|part| part.shows) {
        told.push("dot: its show face looks at you here");
    }
    if blanks.iter().flat_map(|blank| &blank.cuts).any(|cut| cut.needs_jig) {
        told.push("jig: narrower than the fence is good for");
    }
    told.push(grain);
    told.join("; ") + "."
}

/// The caution that stands on every drawing.
// Common practice, no source.
pub(super) const CAUTION: &str = "Guard and riving knife on, push stick for narrow strips, support for long pieces. The machine \
                                  maker's instructions, local codes and your own judgement come first.";
