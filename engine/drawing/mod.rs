//! Layer 5: pages of lines, text and dimensions. It knows no file format; papers write a page down.
//!
//! Places on a page are whole micrometres of paper, x to the right and y down.

mod board_page;
mod cut_words;
mod rings;
mod sheet_page;

use crate::base::Printing;
use crate::plan::{Blank, BlankForm, Plan};

/// A point on the page, in micrometres.
pub type Spot = (i64, i64);

/// A millimetre of paper.
pub const MM: i64 = 1_000;

/// The width of every page: what A4 and Letter both have on their longer side within margins of 10 mm.
// ISO 216 A4 is 297 mm long, Letter 11 in, 279.4 mm (from memory); less 20 mm of margins the shorter one gives 259 mm.
pub const PAGE_WIDTH: i64 = 259 * MM;

/// The height of every page: what A4 and Letter both have on their shorter side within margins of 10 mm.
// ISO 216 A4 is 210 mm wide, Letter 8-1/2 in, 215.9 mm (from memory).
pub const PAGE_HEIGHT: i64 = 190 * MM;

/// One page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    /// The number of the first sheet or board on it.
    pub number: u32,
    /// What it shows, in one line.
    pub title: String,
    /// What is drawn, the first below the others.
    pub strokes: Vec<Stroke>,
}

/// How heavy a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Outlines.
    Heavy,
    /// Edges of parts, dimensions.
    Plain,
    /// Hatching.
    Fine,
    /// Cuts that take off what is not kept.
    Dashed,
}

/// Which way text runs from its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    Start,
    /// It is centred there.
    Middle,
    /// It ends there.
    End,
}

/// Text on the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words {
    /// Where its base line is anchored.
    pub at: Spot,
    /// The height of its letters with their descent, in micrometres.
    pub size: i64,
    /// How it runs from there.
    pub anchor: Anchor,
    /// Whether it runs upwards.
    pub upwards: bool,
    /// Whether it is bold.
    pub bold: bool,
    /// The text.
    pub text: String,
}

/// Something drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stroke {
    /// A straight line.
    Line(Spot, Spot, Weight),
    /// The outline of a rectangle by its corner and size.
    Outline(Spot, Spot, Weight),
    /// A white rectangle by its corner and size, to write on.
    Blank(Spot, Spot),
    /// A small ring with white inside, to put a number into.
    Ring(Spot, i64),
    /// A small filled dot.
    Dot(Spot, i64),
    /// A filled triangle: the point of an arrow.
    Point([Spot; 3]),
    /// Text.
    Words(Words),
}

/// The drawings of a stock plan: a page for each sheet that is cut differently, boards several to a page.
pub fn cutting_pages(plan: &Plan) -> Vec<Page> {
    let mut pages = Vec::new();
    for stock in &plan.cutting.plan().stocks {
        match stock.form {
            BlankForm::Sheet => {
                pages.extend(stock.blanks.iter().map(|blank| sheet_page::page(plan, stock, blank)));
            }
            BlankForm::Board => pages.extend(board_page::pages(plan, stock)),
        }
    }
    pages
}

/// The cuts of a sheet or board in words, in order, equal ones that follow each other in one line.
pub fn cut_lines(blank: &Blank, form: BlankForm, printing: Printing) -> Vec<String> {
    cut_words::lines(blank, form, printing, usize::MAX)
}

/// How wide a text is at most, in micrometres. Sans-serif letters are taken a little wider than they are on average.
fn text_width(text: &str, size: i64, bold: bool) -> i64 {
    // From memory: the letters of common sans-serif faces are half as wide as they are high on average, capitals two thirds.
    let each = |c: char| match c {
        'i' | 'j' | 'l' | 'I' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | ' ' => 300,
        'f' | 't' | 'r' | '-' | '/' | '(' | ')' | '"' => 370,
        'm' | 'w' | 'M' | 'W' => 880,
        c if c.is_uppercase() => 690,
        c if c.is_ascii() => 560,
        _ => 1_000,
    };
    let sum: i64 = text.chars().map(each).sum();
    sum * size / 1_000 * if bold { 107 } else { 100 } / 100
}

/// The text, or as much of it as goes into a width.
fn shortened(text: &str, size: i64, width: i64) -> String {
    if text_width(text, size, false) <= width {
        return text.to_owned();
    }
    let mut short = text.to_owned();
    while !short.is_empty() && text_width(&format!("{short}..."), size, false) > width {
        short.pop();
    }
    short.trim_end().to_owned() + "..."
}

/// A line of text at the foot of the page, in letters as large as its length allows.
fn foot_line(at: Spot, text: &str) -> Stroke {
    // From memory: print of less than a millimetre and a half is read with a glass.
    let (usual, least) = (25 * MM / 10, 17 * MM / 10);
    let size = (usual * PAGE_WIDTH / text_width(text, usual, false).max(1)).clamp(least, usual);
    words(at, size, Anchor::Start, shortened(text, size, PAGE_WIDTH))
}

fn words(at: Spot, size: i64, anchor: Anchor, text: impl Into<String>) -> Stroke {
    Stroke::Words(Words { at, size, anchor, upwards: false, bold: false, text: text.into() })
}

fn bold(at: Spot, size: i64, anchor: Anchor, text: impl Into<String>) -> Stroke {
    Stroke::Words(Words { at, size, anchor, upwards: false, bold: true, text: text.into() })
}

/// Slanting lines over a rectangle, as waste and what is left are drawn in a workshop.
fn hatched((x, y): Spot, (width, height): Spot, spacing: i64) -> Vec<Stroke> {
    let mut strokes = Vec::new();
    // Lines x + y = c, rising to the right; c counts from the upper left corner.
    let mut c = spacing;
    while c < width + height {
        let from = (c.min(width), (c - width).max(0));
        let to = ((c - height).max(0), c.min(height));
        strokes.push(Stroke::Line((x + from.0, y + from.1), (x + to.0, y + to.1), Weight::Fine));
        c += spacing;
    }
    strokes
}

/// A line with an arrow at both ends.
fn two_arrows(from: Spot, to: Spot, weight: Weight) -> Vec<Stroke> {
    let (long, half) = (2 * MM, 6 * MM / 10);
    let level = from.1 == to.1;
    let point = |tip: Spot, towards: i64| {
        let (a, b) = if level {
            ((tip.0 + towards * long, tip.1 - half), (tip.0 + towards * long, tip.1 + half))
        } else {
            ((tip.0 - half, tip.1 + towards * long), (tip.0 + half, tip.1 + towards * long))
        };
        Stroke::Point([tip, a, b])
    };
    vec![Stroke::Line(from, to, weight), point(from, 1), point(to, -1)]
}

/// A dimension along x below a line, or along y to the left of it, with its text in the middle.
fn dimension(from: Spot, to: Spot, text: &str) -> Vec<Stroke> {
    let size = 3 * MM;
    let mut strokes = two_arrows(from, to, Weight::Plain);
    let middle = (i64::midpoint(from.0, to.0), i64::midpoint(from.1, to.1));
    let level = from.1 == to.1;
    strokes.push(Stroke::Words(Words {
        at: if level { (middle.0, middle.1 + size) } else { (middle.0 - MM, middle.1) },
        size,
        anchor: Anchor::Middle,
        upwards: !level,
        bold: false,
        text: text.to_owned(),
    }));
    strokes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatching_stays_inside_its_rectangle() {
        for (width, height) in [(30_000, 5_000), (5_000, 30_000), (700, 700)] {
            for stroke in hatched((1_000, 2_000), (width, height), 1_500) {
                let Stroke::Line(a, b, _) = stroke else { panic!("a hatch is a line") };
                for (x, y) in [a, b] {
                    assert!((1_000..=1_000 + width).contains(&x) && (2_000..=2_000 + height).contains(&y), "{x} {y}");
                }
            }
        }
    }

    #[test]
    fn what_is_too_long_is_shortened() {
        assert_eq!(shortened("side", 3_000, 20_000), "side");
        let short = shortened("the uppermost drawer front of them all", 3_000, 20_000);
        assert!(short.ends_with("...") && text_width(&short, 3_000, false) <= 20_000, "{short}");
        assert_eq!(shortened("side", 3_000, 1), "...");
    }
}
