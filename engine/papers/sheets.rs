//! `sheet-1.svg` and so on: the drawings of the sheets and boards, black on white.
//!
//! SVG is written by hand: a page has lines, outlines and text and nothing else. Places are millimetres with three places, so a
//! micrometre of the drawing is exact.

use std::fmt::{self, Write as _};

use super::{Drawings, Subject};
use crate::drawing::{Anchor, PAGE_HEIGHT, PAGE_WIDTH, Page, Stroke, Weight, Words, cutting_pages};

/// The drawings of what is cut up.
pub(super) const SHEETS: Drawings = Drawings {
    file: "sheet-N.svg",
    summary: "a drawing of each sheet: parts with mark, name and size, the cuts numbered in order, offcuts hatched; boards \
              several to a page",
    write,
};

/// What stands in the first line of every drawing.
const MARKER: &str = "<!-- Casewright: a sheet and its cuts -->";

fn write(subject: Subject<'_>) -> Vec<(String, Vec<u8>)> {
    cutting_pages(subject.plan)
        .iter()
        .map(|page| (format!("sheet-{}.svg", page.number), svg(page).into_bytes()))
        .collect()
}

/// Whether a file is one of ours, by its name and its first line.
pub(super) fn is_own(file: &str, bytes: &[u8]) -> bool {
    is_name(file) && bytes.starts_with(MARKER.as_bytes())
}

/// Whether a file is called as a drawing is.
pub(super) fn is_name(file: &str) -> bool {
    let number = file.strip_prefix("sheet-").and_then(|rest| rest.strip_suffix(".svg"));
    number.is_some_and(|number| !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit()))
}

fn svg(page: &Page) -> String {
    let (width, height) = (Mm(PAGE_WIDTH), Mm(PAGE_HEIGHT));
    // A stroke takes about so many bytes.
    let mut text = String::with_capacity(120 * page.strokes.len() + 1_000);
    // Writing into text cannot fail.
    let _ = write!(
        text,
        "{MARKER}\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} \
         {height}\" font-family=\"Helvetica, Arial, 'Liberation Sans', sans-serif\">\n<title>{}</title>\n<rect width=\"{width}\" \
         height=\"{height}\" fill=\"white\"/>\n",
        escaped(&page.title)
    );
    for stroke in &page.strokes {
        let _ = draw(&mut text, stroke);
        text.push('\n');
    }
    text += "</svg>\n";
    text
}

fn draw(text: &mut String, stroke: &Stroke) -> fmt::Result {
    match stroke {
        Stroke::Line(a, b, weight) => write!(
            text,
            "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" {}/>",
            Mm(a.0),
            Mm(a.1),
            Mm(b.0),
            Mm(b.1),
            pen(*weight)
        ),
        Stroke::Outline(at, size, weight) => write!(
            text,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"none\" {}/>",
            Mm(at.0),
            Mm(at.1),
            Mm(size.0),
            Mm(size.1),
            pen(*weight)
        ),
        Stroke::Blank(at, size) => write!(
            text,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"white\"/>",
            Mm(at.0),
            Mm(at.1),
            Mm(size.0),
            Mm(size.1)
        ),
        Stroke::Ring(at, radius) => write!(
            text,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"white\" {}/>",
            Mm(at.0),
            Mm(at.1),
            Mm(*radius),
            pen(Weight::Plain)
        ),
        Stroke::Dot(at, radius) => {
            write!(text, "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>", Mm(at.0), Mm(at.1), Mm(*radius))
        }
        Stroke::Point(corners) => {
            text.push_str("<polygon points=\"");
            for (nth, at) in corners.iter().enumerate() {
                write!(text, "{}{},{}", if nth == 0 { "" } else { " " }, Mm(at.0), Mm(at.1))?;
            }
            write!(text, "\"/>")
        }
        Stroke::Words(own) => say(text, own),
    }
}

/// Text with a white rim, so that it can be read on hatching and lines.
fn say(text: &mut String, words: &Words) -> fmt::Result {
    let (x, y, size) = (Mm(words.at.0), Mm(words.at.1), Mm(words.size));
    let anchor = match words.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    write!(text, "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" text-anchor=\"{anchor}\"")?;
    if words.bold {
        text.push_str(" font-weight=\"bold\"");
    }
    if words.upwards {
        write!(text, " transform=\"rotate(-90 {x} {y})\"")?;
    }
    write!(
        text,
        " stroke=\"white\" stroke-width=\"0.8\" stroke-linejoin=\"round\" paint-order=\"stroke\">{}</text>",
        escaped(&words.text)
    )
}

const fn pen(weight: Weight) -> &'static str {
    match weight {
        Weight::Heavy => "stroke=\"black\" stroke-width=\"0.6\"",
        Weight::Plain => "stroke=\"black\" stroke-width=\"0.25\"",
        Weight::Fine => "stroke=\"black\" stroke-width=\"0.12\"",
        Weight::Dashed => "stroke=\"black\" stroke-width=\"0.25\" stroke-dasharray=\"2 1\"",
    }
}

/// Micrometres, written as millimetres without a floating number.
#[derive(Clone, Copy)]
struct Mm(i64);

impl fmt::Display for Mm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 < 0 {
            f.write_str("-")?;
        }
        let (whole, mut rest) = (self.0.unsigned_abs() / 1_000, self.0.unsigned_abs() % 1_000);
        write!(f, "{whole}")?;
        if rest == 0 {
            return Ok(());
        }
        let mut places = 3;
        while rest.is_multiple_of(10) {
            rest /= 10;
            places -= 1;
        }
        write!(f, ".{rest:0places$}")
    }
}

/// Text as XML takes it: the signs that mean something there are spelled out, and what no XML may hold is left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' | '\t' | '\r' => out.push(' '),
            // XML 1.0, 2.2: control characters and the two last of the plane are no characters of a document.
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::testing::{metric_shelf, two_drawers};
    use super::*;
    use crate::model::Shop;
    use crate::plan;

    fn write_pages(model: &crate::model::Model) -> Vec<(String, String)> {
        let plan = plan::plan(model, &Shop::default());
        let subject = Subject { model, plan: &plan, findings: &[] };
        write(subject).into_iter().map(|(file, bytes)| (file, String::from_utf8(bytes).unwrap())).collect()
    }

    #[test]
    fn a_sheet_shows_its_parts_and_cuts() {
        let pages = write_pages(&metric_shelf());
        assert_eq!(pages.len(), 1);
        let (file, text) = &pages[0];
        assert_eq!(file, "sheet-1.svg");
        assert!(text.starts_with(MARKER) && is_own(file, text.as_bytes()));
        for part in [">A1<", ">shelf<", ">800 mm x 300.5 mm<", ">2440 mm<", ">1220 mm<", "push stick"] {
            assert!(text.contains(part), "{part}\n{text}");
        }
        // No grain in MDF.
        assert!(!text.contains(">grain<"), "{text}");
        // The sides are of one stock, the fronts of boards.
        assert_eq!(write_pages(&two_drawers()).len(), 2);
    }

    #[test]
    fn names_cannot_break_out_of_their_text() {
        let mut model = metric_shelf();
        model.parts[0].name = "<script>&\"\u{1}".to_owned();
        let text = &write_pages(&model)[0].1;
        assert!(text.contains("&lt;script&gt;&amp;&quot;<") && !text.contains("<script"), "{text}");
    }

    #[test]
    fn only_our_own_drawings_are_ours() {
        assert!(!is_own("sheet-1.svg", b"<svg/>"));
        assert!(!is_own("sheet-.svg", MARKER.as_bytes()));
        assert!(!is_own("sheet-one.svg", MARKER.as_bytes()));
    }

    #[test]
    fn micrometres_are_exact() {
        let told = [0, 1_500, -20, 259_000, -1_001, 70].map(|micrometres| Mm(micrometres).to_string());
        assert_eq!(told, ["0", "1.5", "-0.02", "259", "-1.001", "0.07"]);
    }
}
