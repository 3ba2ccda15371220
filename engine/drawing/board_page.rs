//! The drawings of boards, several to a page, each with its cuts in order below it.

use super::sheet_page::{CAUTION, View, about_stock, legend, sheet};
use super::{Anchor, MM, PAGE_HEIGHT, PAGE_WIDTH, Page, Stroke, bold, cut_words, foot_line, shortened, words};
use crate::base::Length;
use crate::plan::{Blank, Plan, StockLayout};

/// The most width and height that one board takes on paper.
const ROOM: (i64, i64) = (PAGE_WIDTH - 2 * SIDE, 26 * MM);

/// What is left free at both ends, so that the number of a cut at the end of a board is whole.
const SIDE: i64 = 2 * MM;

pub(super) fn pages(plan: &Plan, stock: &StockLayout) -> Vec<Page> {
    let Some(longest) = stock.blanks.iter().map(|blank| blank.length).max() else { return Vec::new() };
    let mut pages: Vec<Page> = Vec::new();
    let mut down = PAGE_HEIGHT;
    for blank in &stock.blanks {
        let (strokes, high) = board(plan, stock, blank, longest);
        if down + high > PAGE_HEIGHT - 8 * MM || pages.is_empty() {
            pages.push(begun(plan, stock, blank, longest));
            down = 16 * MM;
        }
        if let Some(page) = pages.last_mut() {
            page.strokes.extend(strokes.into_iter().map(|stroke| lowered(stroke, down)));
        }
        down += high;
    }
    pages
}

fn begun(plan: &Plan, stock: &StockLayout, blank: &Blank, longest: Length) -> Page {
    let has_thin = stock.blanks.iter().any(|blank| view(blank, longest).has_thin(blank));
    let title = format!("Boards: {}, from board {}", stock.stock, blank.number);
    let more = about_stock(plan, stock);
    let size = 33 * MM / 10;
    let strokes = vec![
        bold((0, 5 * MM), 5 * MM, Anchor::Start, shortened(&title, 5 * MM, PAGE_WIDTH)),
        words((0, 10 * MM), size, Anchor::Start, shortened(&more, size, PAGE_WIDTH)),
        foot_line((0, PAGE_HEIGHT - 43 * MM / 10), &legend(&stock.blanks, "the grain runs along each board", has_thin)),
        foot_line((0, PAGE_HEIGHT - MM), CAUTION),
    ];
    Page { number: blank.number, title, strokes }
}

/// A board drawn at the top of the page, and how much of the page it takes. All boards of a page have one scale.
fn board(plan: &Plan, stock: &StockLayout, blank: &Blank, longest: Length) -> (Vec<Stroke>, i64) {
    let printing = plan.printing;
    let view = view(blank, longest);
    let mut about = format!(
        "{} {}: {}, {}",
        if blank.copies > 1 { "boards" } else { "board" },
        blank.numbers(),
        blank.size_words(printing),
        blank.source.name()
    );
    if blank.copies > 1 {
        about += &format!(", {} cut alike", blank.copies);
    }
    if let Some(way) = blank.way_words() {
        about += &format!("; {way}");
    }
    let mut strokes = vec![words((0, 4 * MM), 33 * MM / 10, Anchor::Start, about)];
    // The grain of a board needs no arrow over each one.
    let quiet = StockLayout { grain: false, blanks: Vec::new(), ..stock.clone() };
    strokes.extend(sheet(&quiet, blank, &view, printing));
    let (_, bottom) = view.far(blank);
    let size = 25 * MM / 10;
    let mut down = bottom + 48 * MM / 10;
    for line in filled(&cut_words::lines(blank, stock.form, printing, 40), size) {
        strokes.push(words((0, down), size, Anchor::Start, line));
        down += size * 13 / 10;
    }
    (strokes, down + 2 * MM)
}

/// How a board is brought onto paper: its words above it, then room for the numbers of cuts.
fn view(blank: &Blank, longest: Length) -> View {
    let top = 75 * MM / 10;
    let share = i128::from(ROOM.0) * i128::from(blank.length.nm()) / i128::from(longest.nm().max(1));
    View::of(blank, (i64::try_from(share).unwrap_or(ROOM.0).max(MM), ROOM.1), (SIDE, top))
}

/// Sentences one after the other in lines as wide as the page.
fn filled(sentences: &[String], size: i64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for sentence in sentences {
        match lines.last_mut() {
            Some(line) if super::text_width(&format!("{line};  {sentence}"), size, false) <= PAGE_WIDTH => {
                *line += &format!(";  {sentence}");
            }
            _ => lines.push(shortened(sentence, size, PAGE_WIDTH)),
        }
    }
    lines
}

fn lowered(stroke: Stroke, by: i64) -> Stroke {
    let low = |(x, y): (i64, i64)| (x, y + by);
    match stroke {
        Stroke::Line(a, b, weight) => Stroke::Line(low(a), low(b), weight),
        Stroke::Outline(at, size, weight) => Stroke::Outline(low(at), size, weight),
        Stroke::Blank(at, size) => Stroke::Blank(low(at), size),
        Stroke::Ring(at, radius) => Stroke::Ring(low(at), radius),
        Stroke::Dot(at, radius) => Stroke::Dot(low(at), radius),
        Stroke::Point(corners) => Stroke::Point(corners.map(low)),
        Stroke::Words(own) => Stroke::Words(super::Words { at: low(own.at), ..own }),
    }
}
