//! Cuts in words, short enough for a list beside a picture.

use crate::base::Printing;
use crate::plan::{Blank, BlankForm, Cut, CutKind, Made};

/// The cuts in order, equal ones that follow each other in one line: `4 to 7. piece 3: crosscut 20", A1 side`.
pub(super) fn lines(blank: &Blank, form: BlankForm, printing: Printing) -> Vec<String> {
    let mut lines: Vec<(Vec<&Cut>, String)> = Vec::new();
    for cut in &blank.cuts {
        let same = made(blank, cut, cut.makes);
        match lines.last_mut() {
            Some((run, text)) if *text == same && run.last().is_some_and(|last| goes_on(last, cut)) => run.push(cut),
            _ => lines.push((vec![cut], same)),
        }
    }
    lines.into_iter().filter_map(|(run, text)| line(blank, form, printing, &run, &text)).collect()
}

/// Whether a cut is the same again on what the last one left.
fn goes_on(last: &Cut, cut: &Cut) -> bool {
    last.leaves == Made::Rest
        && matches!(cut.makes, Made::Part(_))
        && (last.from.made_by, last.kind, last.setting) == (cut.from.made_by, cut.kind, cut.setting)
        && matches!(cut.kind, CutKind::Rip | CutKind::Crosscut)
}

fn line(blank: &Blank, form: BlankForm, printing: Printing, run: &[&Cut], text: &str) -> Option<String> {
    let (first, last) = (run.first()?, run.last()?);
    let numbers = match run.len() {
        1 => format!("{}.", first.number),
        2 => format!("{}, {}.", first.number, last.number),
        _ => format!("{} to {}.", first.number, last.number),
    };
    let from = first.from.made_by.map_or_else(|| form.name().to_owned(), |cut| format!("piece {cut}"));
    let setting = printing.length(first.setting);
    if matches!(first.kind, CutKind::TrimEnd | CutKind::TrimEdge) {
        return Some(format!("{numbers} {from}: {}, {setting} left", first.kind.name()));
    }
    if last.leaves == Made::Elsewhere {
        return Some(format!("{numbers} {from}: {} {setting}, the good length of it", first.kind.name()));
    }
    let leaves = match last.leaves {
        Made::Part(_) | Made::Offcut(_) => format!(", leaves {}", made(blank, last, last.leaves)),
        _ => String::new(),
    };
    Some(format!("{numbers} {from}: {} {setting}, {text}{leaves}", first.kind.name()))
}

fn made(blank: &Blank, cut: &Cut, made: Made) -> String {
    match made {
        Made::Part(part) => {
            blank.parts.get(part).map_or_else(String::new, |part| format!("{} {}", part.mark, part.part))
        }
        Made::Offcut(offcut) => format!("offcut {}", offcut + 1),
        Made::Piece => format!("piece {}", cut.number),
        Made::Rest => "the rest".to_owned(),
        Made::Waste => "waste".to_owned(),
        Made::Nothing => "nothing".to_owned(),
        Made::Elsewhere => "the other part of the board".to_owned(),
    }
}
