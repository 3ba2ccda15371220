//! `sheet-1.svg` and so on: the drawings of the sheets and boards, black on white.
//!
//! SVG is written by hand: a page has lines, outlines and text and nothing else. Places are millimetres with three places, so a
//! micrometre of the drawing is exact.

use std::fmt::Write as _;

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
    let (width, height) = (mm(PAGE_WIDTH), mm(PAGE_HEIGHT));
    let mut text = format!(
        "{MARKER}\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} \
         {height}\" font-family=\"Helvetica, Arial, 'Liberation Sans', sans-serif\">\n<title>{}</title>\n<rect width=\"{width}\" \
         height=\"{height}\" fill=\"white\"/>\n",
        escaped(&page.title)
    );
    for stroke in &page.strokes {
        text += &drawn(stroke);
        text.push('\n');
    }
    text += "</svg>\n";
    text
}

fn drawn(stroke: &Stroke) -> String {
    match stroke {
        Stroke::Line(a, b, weight) => format!(
            "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" {}/>",
            mm(a.0),
            mm(a.1),
            mm(b.0),
            mm(b.1),
            pen(*weight)
        ),
        Stroke::Outline(at, size, weight) => format!(
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"none\" {}/>",
            mm(at.0),
            mm(at.1),
            mm(size.0),
            mm(size.1),
            pen(*weight)
        ),
        Stroke::Ring(at, radius) => format!(
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"white\" {}/>",
            mm(at.0),
            mm(at.1),
            mm(*radius),
            pen(Weight::Plain)
        ),
        Stroke::Dot(at, radius) => {
            format!("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>", mm(at.0), mm(at.1), mm(*radius))
        }
        Stroke::Point(corners) => {
            let corners: Vec<String> = corners.iter().map(|at| format!("{},{}", mm(at.0), mm(at.1))).collect();
            format!("<polygon points=\"{}\"/>", corners.join(" "))
        }
        Stroke::Words(own) => said(own),
    }
}

/// Text with a white rim, so that it can be read on hatching and lines.
fn said(words: &Words) -> String {
    let (x, y) = (mm(words.at.0), mm(words.at.1));
    let anchor = match words.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let mut text = format!("<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" text-anchor=\"{anchor}\"", mm(words.size));
    if words.bold {
        text += " font-weight=\"bold\"";
    }
    if words.upwards {
        let _ = write!(text, " transform=\"rotate(-90 {x} {y})\"");
    }
    let _ = write!(
        text,
        " stroke=\"white\" stroke-width=\"0.8\" stroke-linejoin=\"round\" paint-order=\"stroke\">{}</text>",
        escaped(&words.text)
    );
    text
}

const fn pen(weight: Weight) -> &'static str {
    match weight {
        Weight::Heavy => "stroke=\"black\" stroke-width=\"0.6\"",
        Weight::Plain => "stroke=\"black\" stroke-width=\"0.25\"",
        Weight::Fine => "stroke=\"black\" stroke-width=\"0.12\"",
        Weight::Dashed => "stroke=\"black\" stroke-width=\"0.25\" stroke-dasharray=\"2 1\"",
    }
}

/// Micrometres as millimetres, without a floating number.
fn mm(micrometres: i64) -> String {
    let sign = if micrometres < 0 { "-" } else { "" };
    let (whole, rest) = (micrometres.abs() / 1_000, micrometres.abs() % 1_000);
    if rest == 0 {
        format!("{sign}{whole}")
    } else {
        format!("{sign}{whole}.{rest:03}").trim_end_matches('0').to_owned()
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
        assert_eq!([mm(0), mm(1_500), mm(-20), mm(259_000)], ["0", "1.5", "-0.02", "259"]);
    }
}
