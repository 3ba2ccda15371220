//! Cuts in words, short enough for a list beside a picture.

use crate::base::Printing;
use crate::plan::{Blank, BlankForm, Cut, CutKind, Made};

/// The cuts in order, equal ones that follow each other in one line: `4 to 7. piece 3: crosscut 20", A1 side`.
/// A part has its mark and so many letters of its name.
pub(super) fn lines(blank: &Blank, form: BlankForm, printing: Printing, letters: usize) -> Vec<String> {
    let mut lines: Vec<Vec<&Cut>> = Vec::new();
    for cut in &blank.cuts {
        match lines.last_mut() {
            Some(run) if run.last().is_some_and(|last| goes_on(blank, last, cut)) => run.push(cut),
            _ => lines.push(vec![cut]),
        }
    }
    lines.into_iter().filter_map(|run| line(blank, form, printing, letters, &run)).collect()
}

/// For each cut, whether it is told in one line with the cut before it.
pub(super) fn again(blank: &Blank) -> Vec<bool> {
    let goes = blank.cuts.windows(2).map(|pair| goes_on(blank, &pair[0], &pair[1]));
    std::iter::once(false).chain(goes).collect()
}

/// Whether a cut is the same again, on what the last one left or on another piece.
fn goes_on(blank: &Blank, last: &Cut, cut: &Cut) -> bool {
    let quiet = matches!(last.leaves, Made::Rest | Made::Waste | Made::Nothing);
    let alike = match (last.makes, cut.makes) {
        (Made::Piece, Made::Piece) => true,
        (Made::Part(_), Made::Part(_)) => {
            made(blank, last, last.makes, usize::MAX) == made(blank, cut, cut.makes, usize::MAX)
        }
        _ => false,
    };
    quiet
        && alike
        && (last.kind, last.setting) == (cut.kind, cut.setting)
        && matches!(cut.kind, CutKind::Rip | CutKind::Crosscut)
}

/// `3`, `3, 4`, `3 to 7`, `3 to 5, 9`: numbers that rise.
fn numbered(numbers: &[u32]) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for &number in numbers {
        match runs.last_mut() {
            Some((_, last)) if number <= *last + 1 => *last = number.max(*last),
            _ => runs.push((number, number)),
        }
    }
    let words = runs.iter().map(|&(first, last)| match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first} to {last}"),
    });
    words.collect::<Vec<_>>().join(", ")
}

fn line(blank: &Blank, form: BlankForm, printing: Printing, letters: usize, run: &[&Cut]) -> Option<String> {
    let (first, last) = (run.first()?, run.last()?);
    let numbers = numbered(&run.iter().map(|cut| cut.number).collect::<Vec<_>>());
    let mut pieces: Vec<u32> = run.iter().filter_map(|cut| cut.from.made_by).collect();
    pieces.sort_unstable();
    pieces.dedup();
    let from = match pieces.len() {
        0 => form.name().to_owned(),
        1 => format!("piece {}", numbered(&pieces)),
        _ => format!("pieces {}", numbered(&pieces)),
    };
    let setting = printing.length(first.setting);
    if matches!(first.kind, CutKind::TrimEnd | CutKind::TrimEdge) {
        return Some(format!("{numbers}. {from}: {}, {setting} left", first.kind.name()));
    }
    if last.leaves == Made::Elsewhere {
        return Some(format!("{numbers}. {from}: {} {setting}, the good length of it", first.kind.name()));
    }
    let makes = match first.makes {
        Made::Piece if run.len() > 1 => format!("pieces {numbers}"),
        makes => made(blank, first, makes, letters),
    };
    let leaves = match last.leaves {
        Made::Part(_) | Made::Offcut(_) => format!(", leaves {}", made(blank, last, last.leaves, letters)),
        _ => String::new(),
    };
    let jig = if first.needs_jig { " (jig)" } else { "" };
    Some(format!("{numbers}. {from}: {} {setting}{jig}, {makes}{leaves}", first.kind.name()))
}

fn made(blank: &Blank, cut: &Cut, made: Made, letters: usize) -> String {
    match made {
        Made::Part(part) => {
            blank.parts.get(part).map_or_else(String::new, |part| named(&part.mark, &part.part, letters))
        }
        Made::Offcut(offcut) => format!("offcut {}", offcut + 1),
        Made::Piece => format!("piece {}", cut.number),
        Made::Rest => "the rest".to_owned(),
        Made::Waste => "waste".to_owned(),
        Made::Nothing => "nothing".to_owned(),
        Made::Elsewhere => "the other part of the board".to_owned(),
    }
}

/// A mark, and as much of the name as may stand there.
fn named(mark: &str, name: &str, letters: usize) -> String {
    if name.chars().count() <= letters {
        return format!("{mark} {name}");
    }
    match letters.saturating_sub(3) {
        0 => mark.to_owned(),
        some => format!("{mark} {}...", name.chars().take(some).collect::<String>().trim_end()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_told_in_runs() {
        assert_eq!(numbered(&[3]), "3");
        assert_eq!(numbered(&[3, 4]), "3, 4");
        assert_eq!(numbered(&[3, 4, 5, 9, 11, 12, 13]), "3 to 5, 9, 11 to 13");
    }

    #[test]
    fn a_mark_always_stands_and_the_name_as_far_as_there_is_room() {
        assert_eq!(named("A1", "side", usize::MAX), "A1 side");
        assert_eq!(named("A1", "side", 4), "A1 side");
        assert_eq!(named("A1", "uppermost drawer front", 13), "A1 uppermost...");
        assert_eq!(named("A1", "uppermost drawer front", 0), "A1");
    }
}
