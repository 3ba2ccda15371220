//! `cutting-plan.csv`: every cut in the order in which it is made.

use super::cells::Table;
use super::{Paper, Subject};
use crate::base::Length;
use crate::plan::{Blank, BlankForm, Cut, CutKind, Held, Made, PlacedPart, Rough, StockLayout};

/// The cuts.
pub(super) const CUTTING_PLAN: Paper = Paper {
    file: "cutting-plan.csv",
    summary: "every cut in order: sheet, rip or crosscut, what the fence or stop is set to, what it makes and leaves",
    write,
};

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let unit = plan.printing.unit.short();
    let (setting, length) = (format!("setting_{unit}"), format!("cut_length_{unit}"));
    let kerf = format!("kerf_{unit}");
    let header = [
        "stock",
        "sheet",
        "alike",
        "sheet_size",
        "cut",
        "from",
        "kind",
        &setting,
        "setting",
        &length,
        &kerf,
        "makes",
        "mark",
        "size",
        "to_size",
        "leaves",
        "note",
    ];
    let mut table = Table::new(plan.printing, &header);
    for (stock, blank) in plan.cutting.plan().blanks() {
        for cut in &blank.cuts {
            table.text(&stock.stock).number(blank.number).number(blank.copies);
            table.text(&blank.size_words(plan.printing)).number(cut.number);
            table.text(&held(stock.form, cut.from)).text(cut.kind.name());
            table.decimal(cut.setting).size(cut.setting).decimal(cut.length).decimal(cut.kerf);
            let (mark, makes, size) = match cut.makes {
                Made::Part(part) => blank.parts.get(part).map_or(("", String::new(), String::new()), |part| {
                    (part.mark.as_str(), part.part.clone(), plan.printing.by(part.length, part.width))
                }),
                other => ("", made(stock.form, blank, cut, other), offcut_size(subject, blank, other)),
            };
            table
                .text(&makes)
                .text(mark)
                .text(&size)
                .text(&to_size(subject, blank, cut.makes))
                .text(&made(stock.form, blank, cut, cut.leaves));
            table.text(&note(stock, blank, cut)).end();
        }
        if blank.cuts.is_empty() {
            // A part that is the whole sheet needs no cut, and still has to be told.
            let Some(part) = blank.parts.first() else { continue };
            table.text(&stock.stock).number(blank.number).number(blank.copies);
            table.text(&blank.size_words(plan.printing)).nothing();
            table.text(stock.form.name()).text("as it is").nothing().nothing().nothing().nothing();
            table.text(&part.part).text(&part.mark).text(&plan.printing.by(part.length, part.width));
            table.text(&rough_to(subject, part)).nothing().text("").end();
        }
    }
    table.finish()
}

/// The piece in hand: `sheet`, `rest of sheet`, `piece 3`, `rest of piece 3`.
fn held(form: BlankForm, held: Held) -> String {
    let name = held.made_by.map_or_else(|| form.name().to_owned(), |cut| format!("piece {cut}"));
    if held.begun { format!("rest of {name}") } else { name }
}

fn made(form: BlankForm, blank: &Blank, cut: &Cut, made: Made) -> String {
    match made {
        Made::Part(part) => {
            blank.parts.get(part).map_or_else(String::new, |part| format!("{} {}", part.mark, part.part))
        }
        Made::Offcut(offcut) => format!("offcut {}", offcut + 1),
        Made::Piece => format!("piece {}", cut.number),
        Made::Rest => held(form, Held { begun: true, ..cut.from }),
        Made::Waste => "waste".to_owned(),
        Made::Nothing => "nothing".to_owned(),
        Made::Elsewhere => "the other part of the board".to_owned(),
    }
}

/// The size of the cut list, of a part that is cut rough.
fn to_size(subject: Subject<'_>, blank: &Blank, made: Made) -> String {
    let Made::Part(part) = made else { return String::new() };
    blank.parts.get(part).map(|part| rough_to(subject, part)).unwrap_or_default()
}

fn rough_to(subject: Subject<'_>, part: &PlacedPart) -> String {
    match part.rough {
        Rough::No => String::new(),
        Rough::To(length, width) => subject.plan.printing.by(length, width),
        Rough::Strip => "after gluing up".to_owned(),
    }
}

fn offcut_size(subject: Subject<'_>, blank: &Blank, made: Made) -> String {
    let Made::Offcut(offcut) = made else { return String::new() };
    let size = blank.offcuts.get(offcut).map(|spot| spot.size);
    size.map(|(length, width)| subject.plan.printing.by(length, width)).unwrap_or_default()
}

/// What to mind at this cut.
fn note(stock: &StockLayout, blank: &Blank, cut: &Cut) -> String {
    // Common practice, no source: below these widths hands come too near to a blade, beyond this length a piece tips.
    let (narrow, short, long) = (Length::from_inch(3, 1), Length::from_inch(12, 1), Length::from_inch(60, 1));
    let way = (stock.form == BlankForm::Board && cut.number == 1).then(|| blank.way_words()).flatten();
    let way = way.map(|way| format!("this board: {way}"));
    let mut notes: Vec<&str> = way.as_deref().into_iter().collect();
    if cut.needs_jig {
        notes.push("narrower than the fence is good for: thin-strip jig");
    } else if cut.kind == CutKind::Rip && cut.setting < narrow {
        notes.push("narrow: push stick or push block");
    }
    if cut.kind == CutKind::Rip && cut.length < short {
        notes.push("short: sled or push block, never by hand along the fence");
    } else if cut.kind == CutKind::Rip && cut.length < cut.setting {
        notes.push("wider than it is long: it can turn at the fence, use a sled");
    }
    if cut.length >= long && matches!(cut.kind, CutKind::Rip | CutKind::TrimEdge) {
        notes.push("long: support it on both sides of the blade");
    }
    if cut.beyond_saw {
        notes.push("longer than the saw can cut: use a guided saw");
    }
    if matches!(cut.kind, CutKind::TrimEnd | CutKind::TrimEdge) {
        notes.push("the setting is what is left");
    }
    if stock.form == BlankForm::Sheet && cut.kind == CutKind::Crosscut && cut.from.made_by.is_none() {
        notes.push("a head cut over the whole sheet");
    }
    notes.join("; ")
}

#[cfg(test)]
mod tests {
    use super::super::testing::{metric_shelf, with_subject};
    use super::*;

    #[test]
    fn a_shelf_is_cut_as_worked_by_hand() {
        // MDF 2440 x 1220, a quarter inch (6.35 mm) off each edge: 2433.65, then 2427.3 are left of the length; 1213.65 and
        // 1207.3 of the width. A shelf of 800 x 300.5: ripped at 300.5 over 2427.3, then crosscut at 800. What is left is 2427.3
        // x (1207.3 - 300.5 - 3.175) and the rest of the strip, 2427.3 - 800 - 3.175 = 1624.125 long, both worth keeping.
        let text = String::from_utf8(with_subject(&metric_shelf(), write)).unwrap();
        let rows: Vec<Vec<String>> = csv::Reader::from_reader(text.as_bytes())
            .records()
            .map(|row| row.unwrap().iter().map(str::to_owned).collect())
            .collect();
        let cuts: Vec<[&str; 6]> = rows.iter().map(|row| [4, 5, 6, 7, 11, 15].map(|i| row[i].as_str())).collect();
        assert_eq!(
            cuts,
            [
                ["1", "sheet", "trim an end", "2433.65", "rest of sheet", "waste"],
                ["2", "rest of sheet", "trim an end", "2427.3", "rest of sheet", "waste"],
                ["3", "rest of sheet", "trim an edge", "1213.65", "rest of sheet", "waste"],
                ["4", "rest of sheet", "trim an edge", "1207.3", "rest of sheet", "waste"],
                ["5", "rest of sheet", "rip", "300.5", "piece 5", "offcut 1"],
                ["6", "piece 5", "crosscut", "800", "shelf", "offcut 2"],
            ]
        );
        assert_eq!((&*rows[5][12], &*rows[5][13]), ("A1", "800 mm x 300.5 mm"));
    }
}
