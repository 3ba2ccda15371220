//! `assembly.txt`: the sheet that hangs beside the bench.

use super::{Paper, Subject};
use crate::base::{Printing, Unit};
use crate::physics;
use crate::plan::Plan;

/// The assembly sheet.
pub(super) const ASSEMBLY: Paper = Paper {
    file: "assembly.txt",
    summary: "steps, positions to mark out, diagonals for square, weights, notes and cautions as plain text",
    write,
};

/// Columns that a printed page holds in a readable type.
// Common practice, no source.
const WIDTH: usize = 100;

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let mut page = Page(String::with_capacity(4_096));
    page.title(&plan.title);
    page.paragraph(&about(plan), "", "");
    if !plan.cut_list.is_empty() {
        page.heading("Marks");
        marks(&mut page, plan);
    }
    if !plan.steps.is_empty() {
        page.heading("Assembly");
        page.paragraph(
            "It goes together in this order, proved backwards. Read all of it, and try the piece dry, before you glue.",
            "",
            "",
        );
        page.0.push('\n');
        for (i, step) in plan.steps.iter().enumerate() {
            page.paragraph(step, &format!("{:>4}. ", i + 1), "      ");
        }
    }
    if !plan.mark_outs.is_empty() {
        page.heading("Mark out");
        let rows: Vec<[String; 3]> = plan
            .mark_outs
            .iter()
            .map(|mark| [clean(&mark.what), plan.printing.length(mark.distance), clean(&mark.from)])
            .collect();
        page.table(&rows);
    }
    if !plan.squares.is_empty() {
        page.heading("Check for square");
        squares(&mut page, plan);
    }
    if !plan.weights.is_empty() {
        page.heading("Weights");
        weights(&mut page, plan);
    }
    if !subject.findings.is_empty() {
        page.heading("Findings");
        for finding in subject.findings {
            let place = finding.at.as_ref().map(|at| format!(" ({at})")).unwrap_or_default();
            let hint = finding.hint.as_ref().map(|hint| format!("; {hint}")).unwrap_or_default();
            page.bullet(&format!("{}: {}{hint}{place}", finding.severity.name(), finding.message));
        }
    }
    for (heading, sentences) in
        [("Notes", plan.notes.iter().map(String::as_str).collect()), ("Cautions", plan.cautions.clone())]
    {
        if !sentences.is_empty() {
            page.heading(heading);
            for sentence in sentences {
                page.bullet(sentence);
            }
        }
    }
    page.0.into_bytes()
}

fn about(plan: &Plan) -> String {
    let printing = plan.printing;
    // A tolerance is finer than the rule that sizes are printed to.
    let off = Printing { denominator: 64, ..printing }.length(plan.cutting_tolerance);
    let fineness = match printing.unit {
        Unit::Inch => format!("Sizes are in inches to 1/{}.", printing.denominator),
        Unit::Millimetre => "Sizes are in millimetres to a tenth.".to_owned(),
    };
    format!(
        "{fineness} A + or - after a size says that the true size is a little more or a little less; the cut list has it in full. \
         Cut to within {off} each way."
    )
}

fn marks(page: &mut Page, plan: &Plan) {
    let rows: Vec<[String; 4]> = plan
        .cut_list
        .iter()
        .map(|row| [row.mark.clone(), format!("{} x", row.quantity), clean(&row.part), clean(&row.used_in)])
        .collect();
    page.table(&rows);
}

fn squares(page: &mut Page, plan: &Plan) {
    page.paragraph(
        "Measure both diagonals outside, corner to corner, before the glue sets. Equal diagonals mean a square box; \
         a box of these sizes has these:",
        "  ",
        "  ",
    );
    let rows: Vec<[String; 3]> = plan
        .squares
        .iter()
        .map(|row| {
            let count = if row.quantity == 1 { String::new() } else { format!(" ({} of them)", row.quantity) };
            let what = format!("{}{count}", clean(&row.what));
            [
                what,
                plan.printing.by(row.sides.0, row.sides.1),
                format!("diagonal {}", plan.printing.length(row.diagonal)),
            ]
        })
        .collect();
    page.table(&rows);
}

fn weights(page: &mut Page, plan: &Plan) {
    let assumed = plan.weights.iter().any(|row| row.assumed > 0);
    let unknown =
        if assumed { " A * marks a piece with stock whose weight is not known; 700 kg/m3 are assumed." } else { "" };
    let about = format!(
        "Reckoned from the stock, without hardware, finish and load, each with the pieces that stand in it; wood differs by a tenth and \
         more.{unknown}"
    );
    page.paragraph(&about, "  ", "  ");
    let rows: Vec<[String; 2]> = plan
        .weights
        .iter()
        .map(|row| {
            let count = if row.quantity == 1 { String::new() } else { format!(" ({} of them, each)", row.quantity) };
            let mark = if row.assumed > 0 { " *" } else { "" };
            let kg = num_traits::ToPrimitive::to_f64(&row.grams).unwrap_or(0.0) / 1e3;
            [format!("{}{count}", clean(&row.what)), format!("{}{mark}", physics::weight_text(kg, plan.printing.unit))]
        })
        .collect();
    page.table(&rows);
}

/// Plain text that is being laid out.
struct Page(String);

impl Page {
    fn title(&mut self, title: &str) {
        let title = clean(title);
        let rule = "=".repeat(title.chars().count().clamp(1, WIDTH));
        self.0.extend([&title, "\n", &rule, "\n\n"]);
    }

    fn heading(&mut self, heading: &str) {
        let rule = "-".repeat(heading.len());
        self.0.extend(["\n", heading, "\n", &rule, "\n"]);
    }

    fn bullet(&mut self, text: &str) {
        self.paragraph(text, "  * ", "    ");
    }

    /// A paragraph broken between words; a word that is longer than a line keeps it to itself.
    fn paragraph(&mut self, text: &str, first: &str, rest: &str) {
        let mut column = first.chars().count();
        self.0.push_str(first);
        let mut at_start = true;
        for word in text.split(|c: char| c.is_whitespace() || c.is_control()).filter(|word| !word.is_empty()) {
            let width = word.chars().count();
            if !at_start && column + 1 + width > WIDTH {
                self.0.push('\n');
                self.0.push_str(rest);
                column = rest.chars().count();
                at_start = true;
            }
            if !at_start {
                self.0.push(' ');
                column += 1;
            }
            self.0.push_str(word);
            column += width;
            at_start = false;
        }
        self.0.push('\n');
    }

    /// Rows with their columns aligned; the last column may be any length.
    fn table<const N: usize>(&mut self, rows: &[[String; N]]) {
        let mut widths = [0; N];
        for row in rows {
            for (width, cell) in widths.iter_mut().zip(row) {
                *width = (*width).max(cell.chars().count());
            }
        }
        for row in rows {
            let mut line = String::from(" ");
            for (width, cell) in widths.iter().zip(row) {
                line.push(' ');
                line.push_str(cell);
                line.extend(std::iter::repeat_n(' ', width - cell.chars().count() + 1));
            }
            self.0.push_str(line.trim_end());
            self.0.push('\n');
        }
    }
}

/// The text on one line: names come from anyone, and a control character could move the cursor of a terminal.
fn clean(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::super::testing::{two_drawers, with_subject};
    use super::*;

    #[test]
    fn the_sheet_of_two_drawers() {
        let text = String::from_utf8(with_subject(&two_drawers(), write)).unwrap();
        // 15 and 20 in: the diagonal is 25 in. A side is 40 in3 less a groove of 1.25, 635.0 cm3 of 0.60, 381 g; a front is 63.75 in3, 1044.7
        // cm3 of 0.63 x 1.12, 737 g: 1499 g a drawer, 3.305 lb.
        let expected = "\
bank
====

Sizes are in inches to 1/32. A + or - after a size says that the true size is a little more or a
little less; the cut list has it in full. Cut to within 1/64\" each way.

Marks
-----
  A1  4 x  side   drawer x2
  A2  2 x  front  drawer x2

Assembly
--------
It goes together in this order, proved backwards. Read all of it, and try the piece dry, before you
glue.

   1. Glue up drawer 1, 2: sides to front and back; the bottom stays dry.

Mark out
--------
  slide 1, centre line  2-1/16\"  from the floor of the opening

Check for square
----------------
  Measure both diagonals outside, corner to corner, before the glue sets. Equal diagonals mean a
  square box; a box of these sizes has these:
  drawer 1, 2 (2 of them)  15\" x 20\"  diagonal 25\"

Weights
-------
  Reckoned from the stock, without hardware, finish and load, each with the pieces that stand in it;
  wood differs by a tenth and more.
  bank                           6.6 lb (3.0 kg)
  drawer 1, 2 (2 of them, each)  3.3 lb (1.5 kg)

Findings
--------
  * warning: shelf `middle` would sag; use thicker stock (a.rhai:3:1)

Notes
-----
  * Measure the opening again before cutting.

Cautions
--------
";
        assert!(text.starts_with(expected), "{text}");
        assert!(text.contains("29 CFR 1910.213(a)(15)"));
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH));
    }

    #[test]
    fn names_cannot_break_the_page() {
        let mut model = two_drawers();
        model.title = "a\u{1b}[2Jb\nc".into();
        model.parts[0].name = "x\ny".into();
        let step = |text: String| crate::model::Step {
            piece: crate::model::Model::ROOT,
            stage: crate::model::Stage::Build,
            text,
        };
        model.steps = vec![step("w".repeat(300)), step("z\n\nz".into())];
        let text = String::from_utf8(with_subject(&model, write)).unwrap();
        assert!(!text.contains('\u{1b}') && text.starts_with("a [2Jb c\n"));
        assert!(text.contains("x y") && text.contains("   2. z z\n"));
    }
}
