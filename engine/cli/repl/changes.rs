//! What a change did to the parts.

use casewright::base::Printing;
use casewright::plan::{CutRow, Plan};

use crate::cli::render::{ADDED, CHANGED, GONE, counted, paint};
use crate::cli::table::{Column, Group, section};

/// One row of the cut list, as it is and as it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Row<'a> {
    /// It is as it was.
    Same(&'a CutRow),
    /// It was not there.
    Added(&'a CutRow),
    /// It is another than it was.
    Changed {
        /// As it was.
        old: &'a CutRow,
        /// As it is.
        new: &'a CutRow,
    },
    /// It is not there any more.
    Removed(&'a CutRow),
}

/// Compares two cut lists by their marks, in the order of the new one; rows that are gone come last.
pub fn compare<'a>(old: &'a Plan, new: &'a Plan) -> Vec<Row<'a>> {
    // Words about joinery hold sizes in the unit of their plan; in another unit the same work reads differently.
    let in_words = old.printing == new.printing;
    let mut rows: Vec<Row<'a>> = new
        .cut_list
        .iter()
        .map(|now| match old.cut_list.iter().find(|was| was.mark == now.mark) {
            None => Row::Added(now),
            Some(was) if same(was, now, in_words) => Row::Same(now),
            Some(was) => Row::Changed { old: was, new: now },
        })
        .collect();
    let gone = old.cut_list.iter().filter(|was| !new.cut_list.iter().any(|now| now.mark == was.mark));
    rows.extend(gone.map(Row::Removed));
    rows
}

/// Which rows a list shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// All of them, with what changed.
    All,
    /// Only those that changed.
    Changed,
}

/// The cut list in short form, with what has changed since `old`. Without an old plan nothing has changed.
pub fn short_list(old: Option<&Plan>, new: &Plan, shown: Shown, width: usize) -> String {
    const COLUMNS: [Column; 7] = [
        Column::words("", 1),
        Column::words("mark", 8),
        Column::number("qty"),
        Column::words("part", 24),
        Column::number("size"),
        Column::words("stock", 24),
        Column::text("was"),
    ];
    let rows = compare(old.unwrap_or(new), new);
    let cells: Vec<Vec<String>> = rows
        .iter()
        .filter(|row| shown == Shown::All || !matches!(row, Row::Same(_)))
        .map(|row| match row {
            Row::Same(now) => cells("", now, new.printing, String::new()),
            Row::Added(now) => cells("+", now, new.printing, "new".into()),
            Row::Removed(was) => cells("-", was, new.printing, "gone".into()),
            Row::Changed { old, new: now } => cells("~", now, new.printing, difference(old, now, new.printing)),
        })
        .collect();
    if cells.is_empty() {
        return String::new();
    }
    let parts: i64 = new.cut_list.iter().map(|row| row.quantity).sum();
    let summary = match shown {
        Shown::All => counted(usize::try_from(parts).unwrap_or(0), "part"),
        Shown::Changed => String::new(),
    };
    let heading = if shown == Shown::All { "Cut list" } else { "Changes" };
    let text = section(heading, &summary, &COLUMNS, &[Group { heading: String::new(), rows: cells }], width);
    text.lines().map(|line| coloured(line) + "\n").collect()
}

/// Whether two plans have the same parts.
pub fn same_parts(old: &Plan, new: &Plan) -> bool {
    compare(old, new).iter().all(|row| matches!(row, Row::Same(_)))
}

/// Whether two rows say the same. Which parts of the recipe they stand for may differ.
fn same(old: &CutRow, new: &CutRow, in_words: bool) -> bool {
    let mut new = CutRow { parts: old.parts.clone(), ..new.clone() };
    if !in_words {
        new.joinery.clone_from(&old.joinery);
        new.banded.clone_from(&old.banded);
    }
    *old == new
}

fn coloured(line: &str) -> String {
    match line.trim_start().chars().next() {
        Some('+') => paint(ADDED, line),
        Some('-') => paint(GONE, line),
        Some('~') => paint(CHANGED, line),
        _ => line.to_owned(),
    }
}

fn cells(sign: &str, row: &CutRow, printing: Printing, was: String) -> Vec<String> {
    vec![
        sign.to_owned(),
        row.mark.clone(),
        row.quantity.to_string(),
        row.part.clone(),
        printing.by(row.length, row.width),
        row.stock.clone(),
        was,
    ]
}

/// What a row was, where it differs.
fn difference(old: &CutRow, new: &CutRow, printing: Printing) -> String {
    let mut was = Vec::new();
    if (old.length, old.width) != (new.length, new.width) {
        was.push(printing.by(old.length, old.width));
    }
    if old.quantity != new.quantity {
        was.push(format!("{} of them", old.quantity));
    }
    if old.part != new.part {
        was.push(format!("called {}", old.part));
    }
    if old.stock != new.stock {
        was.push(format!("of {}", old.stock));
    } else if old.thickness != new.thickness {
        was.push(format!("{} thick", printing.length(old.thickness)));
    }
    if old.banded != new.banded {
        was.push(if old.banded.is_empty() { "not banded".into() } else { format!("banded {}", old.banded) });
    }
    if old.joinery != new.joinery {
        was.push(if old.joinery.is_empty() { "without joinery".into() } else { "other joinery".into() });
    }
    if was.is_empty() {
        // Grain, finished size or the pieces it goes into: nothing that is cut.
        was.push("the same to cut".into());
    }
    was.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::table::tests::sample;
    use casewright::base::Length;

    fn changed() -> (Plan, Plan) {
        let (old, mut new) = (sample(), sample());
        new.cut_list[1].length = Length::from_inch(127, 8);
        new.cut_list[1].quantity = 1;
        let mut divider = new.cut_list.remove(2);
        divider.mark = "A6".into();
        divider.part = "divider".into();
        new.cut_list.push(divider);
        (old, new)
    }

    #[test]
    fn rows_are_compared_by_their_marks() {
        let (old, new) = changed();
        let rows = compare(&old, &new);
        assert!(matches!(rows[0], Row::Same(_)));
        assert!(matches!(rows[1], Row::Changed { .. }));
        assert!(matches!(rows[2], Row::Added(row) if row.mark == "A6"));
        assert!(matches!(rows[3], Row::Removed(row) if row.mark == "A5"));
        assert!(same_parts(&old, &old) && !same_parts(&old, &new));
    }

    #[test]
    fn a_change_reads_as_what_it_did() {
        let (old, new) = changed();
        let plain = |text: String| anstream::adapter::strip_str(&text).to_string();
        insta::assert_snapshot!(plain(short_list(Some(&old), &new, Shown::All, 100)), @r#"
        Cut list  4 parts
             mark  qty  part                            size  stock              was
             A1      2  side                        20" x 4"  1/2 birch plywood
          ~  A3      1  front and back          15-7/8" x 4"  1/2 birch plywood  14-15/16" x 4"; 2 of them
          +  A6      1  divider         15-11/32"+ x 19-1/2"  1/4 birch plywood  new
          -  A5      1  bottom          15-11/32"+ x 19-1/2"  1/4 birch plywood  gone
        "#);
        insta::assert_snapshot!(plain(short_list(Some(&old), &new, Shown::Changed, 100)), @r#"
        Changes
             mark  qty  part                            size  stock              was
          ~  A3      1  front and back          15-7/8" x 4"  1/2 birch plywood  14-15/16" x 4"; 2 of them
          +  A6      1  divider         15-11/32"+ x 19-1/2"  1/4 birch plywood  new
          -  A5      1  bottom          15-11/32"+ x 19-1/2"  1/4 birch plywood  gone
        "#);
        insta::assert_snapshot!(plain(short_list(None, &new, Shown::All, 100)), @r#"
        Cut list  4 parts
          mark  qty  part                            size  stock
          A1      2  side                        20" x 4"  1/2 birch plywood
          A3      1  front and back          15-7/8" x 4"  1/2 birch plywood
          A6      1  divider         15-11/32"+ x 19-1/2"  1/4 birch plywood
        "#);
        assert_eq!(short_list(Some(&new), &new, Shown::Changed, 100), "");
    }
}
