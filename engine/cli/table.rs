//! The lists of a job as the terminal shows them: columns, a quiet head, no boxes.

use std::fmt::Write as _;

use casewright::base::{Printing, Unit};
use casewright::model::{HardwareUnit, Money};
use casewright::plan::{Amount, BandRow, BuyRow, CutRow, HardwareRow, Plan, Proof, SettingRow, amounts};
use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle, Width};

use super::render::{HEADING, QUIET, counted, one_line, paint};

/// A column: its head, and how it behaves.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    head: &'static str,
    lay: Lay,
}

/// How the cells of a column lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lay {
    /// Numbers: to the right, never broken.
    Number,
    /// Words, broken past so many columns.
    Words(u16),
    /// Text that takes the room that is left.
    Text,
}

impl Column {
    /// A column of numbers or sizes, to the right.
    pub const fn number(head: &'static str) -> Self {
        Self { head, lay: Lay::Number }
    }

    /// A column of words of at most `upto` letters a line.
    pub const fn words(head: &'static str, upto: u16) -> Self {
        Self { head, lay: Lay::Words(upto) }
    }

    /// A column that takes the room that is left.
    pub const fn text(head: &'static str) -> Self {
        Self { head, lay: Lay::Text }
    }
}

/// Rows under one heading.
#[derive(Clone, Debug, Default)]
pub struct Group {
    /// The heading; none when it is empty.
    pub heading: String,
    /// The rows, a cell for each column.
    pub rows: Vec<Vec<String>>,
}

/// Everything in a plan that a maker reads at the bench.
pub fn plan(plan: &Plan, width: usize) -> String {
    let mut text = format!("{}\n\n", paint(HEADING, &one_line(&plan.title)));
    let printing = plan.printing;
    text += &cut_list(&plan.cut_list, printing, width);
    text += &hardware(&plan.hardware, printing, width);
    text += &bands(&plan.bands, printing, width);
    text += &stock_plan(plan, width);
    text += &settings(&plan.settings, printing, width);
    text += &mark_outs(plan, width);
    text += &squares(plan, width);
    text += &sentences("Assembly", &plan.steps, Some(Numbering::Counted), width);
    text += &sentences("Notes", &plan.notes, None, width);
    text += &sentences("Take care", &plan.cautions, None, width);
    text
}

/// The cut list, a group for each stock.
pub fn cut_list(rows: &[CutRow], printing: Printing, width: usize) -> String {
    const COLUMNS: [Column; 7] = [
        Column::words("mark", 8),
        Column::number("qty"),
        Column::words("part", 24),
        Column::number("length"),
        Column::number("width"),
        Column::text("work"),
        Column::words("used in", 18),
    ];
    let mut groups: Vec<Group> = Vec::new();
    for row in rows {
        let heading = format!("{}, {}", row.stock, printing.length(row.thickness));
        let banded = Some(&row.banded).filter(|words| !words.is_empty()).map(|words| format!("band {words}"));
        let finished = row.finished.map(|(length, width)| format!("finished {}", printing.by(length, width)));
        let joinery = Some(row.joinery.clone()).filter(|words| !words.is_empty());
        let work: Vec<String> = [banded, joinery, finished].into_iter().flatten().collect();
        let cells = vec![
            row.mark.clone(),
            row.quantity.to_string(),
            row.part.clone(),
            printing.length(row.length),
            printing.length(row.width),
            work.join("; "),
            row.used_in.clone(),
        ];
        match groups.iter_mut().find(|group| group.heading == heading) {
            Some(group) => group.rows.push(cells),
            None => groups.push(Group { heading, rows: vec![cells] }),
        }
    }
    let parts: i64 = rows.iter().map(|row| row.quantity).sum();
    let summary = format!("{} in {}", words(parts, "part"), counted(rows.len(), "row"));
    section("Cut list", &summary, &COLUMNS, &groups, width)
}

/// The hardware bill, and below it what to mind, each note once.
pub fn hardware(rows: &[HardwareRow], printing: Printing, width: usize) -> String {
    const COLUMNS: [Column; 4] =
        [Column::number("qty"), Column::words("item", 36), Column::words("size", 14), Column::text("for")];
    const NOTES: [Column; 2] = [Column::words("", 36), Column::text("")];
    let mut notes: Vec<(String, Vec<&str>)> = Vec::new();
    for row in rows.iter().filter(|row| !row.note.is_empty()) {
        match notes.iter_mut().find(|(note, _)| *note == row.note) {
            Some((_, items)) if items.contains(&row.item.as_str()) => {}
            Some((_, items)) => items.push(&row.item),
            None => notes.push((row.note.clone(), vec![&row.item])),
        }
    }
    let notes = notes.into_iter().map(|(note, items)| vec![items.join(", "), note]).collect();
    let rows = rows
        .iter()
        .map(|row| {
            let quantity = match row.unit {
                HardwareUnit::Each => row.quantity.to_string(),
                HardwareUnit::Pair => words(row.quantity, "pair"),
                HardwareUnit::Area => {
                    let (number, unit) = amounts::glue(row.quantity, printing.unit);
                    format!("{number} {unit}")
                }
            };
            vec![quantity, row.item.clone(), row.size.clone(), row.purpose.clone()]
        })
        .collect();
    section("Hardware", "", &COLUMNS, &[Group { heading: String::new(), rows }], width)
        + section("Mind", "", &NOTES, &[Group { heading: String::new(), rows: notes }], width).as_str()
}

/// The edge-band bill.
pub fn bands(rows: &[BandRow], printing: Printing, width: usize) -> String {
    const COLUMNS: [Column; 7] = [
        Column::words("band", 34),
        Column::number("width"),
        Column::number("edges"),
        Column::number("net"),
        Column::number("to buy"),
        Column::number("rolls"),
        Column::number("cost"),
    ];
    let rows = rows
        .iter()
        .map(|row| {
            vec![
                row.band.clone(),
                printing.length(row.width),
                row.edges.to_string(),
                printing.length(row.net),
                printing.length(row.to_buy),
                row.rolls.map(|(count, roll)| format!("{count} of {}", printing.length(roll))).unwrap_or_default(),
                row.cost.map(|cost| cost.to_string()).unwrap_or_default(),
            ]
        })
        .collect();
    section("Edge band", "", &COLUMNS, &[Group { heading: String::new(), rows }], width)
}

/// What to buy of each stock.
pub fn buying(rows: &[BuyRow], printing: Printing, width: usize) -> String {
    const COLUMNS: [Column; 6] = [
        Column::words("stock", 34),
        Column::number("parts"),
        Column::number("net"),
        Column::number("with waste"),
        Column::number("to buy"),
        Column::number("cost"),
    ];
    let summary = match rows.first() {
        Some(row) if rows.iter().all(|other| other.waste_percent == row.waste_percent) => {
            format!("by area and length, {} % more for waste", row.waste_percent)
        }
        _ => "by area and length, with an allowance for waste".to_owned(),
    };
    let rows: Vec<Vec<String>> = rows
        .iter()
        .map(|row| {
            vec![
                row.stock.clone(),
                row.parts.to_string(),
                amount(row.net, printing.unit),
                amount(row.with_waste, printing.unit),
                row.to_buy
                    .map(|(count, length, width)| format!("{count} of {}", printing.by(length, width)))
                    .unwrap_or_default(),
                row.cost.map(|cost| cost.to_string()).unwrap_or_default(),
            ]
        })
        .collect();
    section("To buy", &summary, &COLUMNS, &[Group { heading: String::new(), rows }], width)
}

/// What to buy and use of each stock as it is laid out; by area and volume where it is not.
pub fn stock_plan(plan: &Plan, width: usize) -> String {
    const COLUMNS: [Column; 6] = [
        Column::words("stock", 34),
        Column::number("parts"),
        Column::words("use", 8),
        Column::number("of"),
        Column::number("cost"),
        Column::text("proof"),
    ];
    const NOTES: [Column; 2] = [Column::words("", 34), Column::text("")];
    let printing = plan.printing;
    let (mut rows, mut notes) = (Vec::new(), Vec::new());
    let cost = |cost: Option<Money>| cost.map(|cost| cost.to_string()).unwrap_or_default();
    let sized = |count: i64, length, width| format!("{count} of {}", printing.by(length, width));
    for stock in &plan.cutting.plan().stocks {
        for (i, row) in stock.uses.iter().enumerate() {
            let proof = stock.proof.filter(|_| i == 0).map(Proof::words).unwrap_or_default();
            let parts = if i == 0 { stock.parts.to_string() } else { String::new() };
            let size = sized(row.count, row.length, row.width);
            rows.push(vec![stock.stock.clone(), parts, row.source.name().to_owned(), size, cost(row.cost), proof]);
        }
        if let Some(why) = &stock.unplanned {
            for row in plan.buying.iter().filter(|row| row.stock == stock.stock) {
                let size = row.to_buy.map_or_else(
                    || amount(row.with_waste, printing.unit),
                    |(count, length, width)| sized(count, length, width),
                );
                let proof = format!("not laid out: {} % more for waste", row.waste_percent);
                rows.push(vec![
                    row.stock.clone(),
                    row.parts.to_string(),
                    "buy".to_owned(),
                    size,
                    cost(row.cost),
                    proof,
                ]);
            }
            notes.push(vec![stock.stock.clone(), why.clone()]);
        }
        let told = stock.notes.iter().chain(&stock.neighbours);
        notes.extend(told.map(|note| vec![stock.stock.clone(), note.clone()]));
    }
    let summary = plan.cutting.plan().cost().map(|cost| format!("costs {cost}")).unwrap_or_default();
    let told = section("About the stock", "", &NOTES, &[Group { heading: String::new(), rows: notes }], width);
    section("To buy and use", &summary, &COLUMNS, &[Group { heading: String::new(), rows }], width) + told.as_str()
}

/// Every cut in order, a group for each sheet or board.
pub fn cuts(plan: &Plan, width: usize) -> String {
    const COLUMNS: [Column; 2] = [Column::words("", 2), Column::text("")];
    let mut groups = Vec::new();
    for (stock, blank) in plan.cutting.plan().blanks() {
        let heading = format!(
            "{}{} {}: {}, {}",
            stock.form.name(),
            if blank.copies > 1 { "s" } else { "" },
            blank.numbers(),
            stock.stock,
            blank.size_words(plan.printing)
        );
        let lines = casewright::drawing::cut_lines(blank, stock.form, plan.printing);
        groups.push(Group { heading, rows: lines.into_iter().map(|line| vec!["-".to_owned(), line]).collect() });
    }
    section("Cuts in order", "pieces are named by the cut that made them", &COLUMNS, &groups, width)
}

/// A heading, then the groups in columns that are aligned through all of them. Nothing when there are no rows. A column
/// without a single cell is left away.
pub fn section(heading: &str, summary: &str, columns: &[Column], groups: &[Group], width: usize) -> String {
    let shown: Vec<usize> = (0..columns.len())
        .filter(|&i| {
            groups.iter().flat_map(|group| &group.rows).any(|row| row.get(i).is_some_and(|cell| !cell.is_empty()))
        })
        .collect();
    if shown.is_empty() {
        return String::new();
    }
    let mut text = paint(HEADING, heading);
    if !summary.is_empty() {
        let _ = write!(text, "{}", paint(QUIET, &format!("  {}", one_line(summary))));
    }
    text.push('\n');
    let columns: Vec<Column> = shown.iter().filter_map(|&i| columns.get(i).copied()).collect();
    let mut cells = Vec::new();
    for row in groups.iter().flat_map(|group| &group.rows) {
        cells.push(shown.iter().map(|&i| row.get(i).cloned().unwrap_or_default()).collect());
    }
    let (head, lines) = laid_out(&columns, &cells, width.saturating_sub(2));
    for line in head {
        text += &paint(QUIET, &format!("  {line}"));
        text.push('\n');
    }
    let mut lines = lines.into_iter();
    for group in groups {
        if !group.heading.is_empty() && !group.rows.is_empty() {
            let _ = writeln!(text, "  {}", paint(HEADING, &one_line(&group.heading)));
        }
        for line in lines.by_ref().take(group.rows.len()).flatten() {
            let _ = writeln!(text, "  {line}");
        }
    }
    text.push('\n');
    text
}

/// How sentences are led in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Numbering {
    Counted,
}

fn sentences(heading: &str, all: &[impl AsRef<str>], numbering: Option<Numbering>, width: usize) -> String {
    let columns = [Column::number(""), Column::text("")];
    let rows: Vec<Vec<String>> = all
        .iter()
        .enumerate()
        .map(|(i, text)| {
            let lead = if numbering == Some(Numbering::Counted) { format!("{}.", i + 1) } else { "-".to_owned() };
            vec![lead, text.as_ref().to_owned()]
        })
        .collect();
    section(heading, "", &columns, &[Group { heading: String::new(), rows }], width)
}

fn settings(rows: &[SettingRow], printing: Printing, width: usize) -> String {
    const COLUMNS: [Column; 4] =
        [Column::words("set", 18), Column::number("to"), Column::words("for", 40), Column::text("parts")];
    let rows = rows
        .iter()
        .map(|row| vec![row.what.to_owned(), printing.length(row.value), row.work.clone(), row.marks.join(" ")])
        .collect();
    let summary = "settings.csv tells how to come by each";
    section("Machine settings", summary, &COLUMNS, &[Group { heading: String::new(), rows }], width)
}

fn mark_outs(plan: &Plan, width: usize) -> String {
    const COLUMNS: [Column; 3] = [Column::words("mark", 40), Column::number("at"), Column::text("measured")];
    let rows = plan
        .mark_outs
        .iter()
        .map(|mark| vec![mark.what.clone(), plan.printing.length(mark.distance), mark.from.clone()])
        .collect();
    section("To mark out", "", &COLUMNS, &[Group { heading: String::new(), rows }], width)
}

fn squares(plan: &Plan, width: usize) -> String {
    const COLUMNS: [Column; 4] =
        [Column::words("of", 40), Column::number("qty"), Column::number("outside"), Column::number("each diagonal")];
    let rows = plan
        .squares
        .iter()
        .map(|row| {
            let (side, other) = row.sides;
            vec![
                row.what.clone(),
                row.quantity.to_string(),
                plan.printing.by(side, other),
                plan.printing.length(row.diagonal),
            ]
        })
        .collect();
    section("Diagonals", "equal ones mean square", &COLUMNS, &[Group { heading: String::new(), rows }], width)
}

/// The lines of the head, none when it is blank, and the lines of every row.
fn laid_out(columns: &[Column], rows: &[Vec<String>], width: usize) -> (Vec<String>, Vec<Vec<String>>) {
    // A sign for private use stands between rows, so that the lines of a row can be told apart where cells were broken.
    const BETWEEN: char = '\u{f8ff}';
    let style = TableStyle::new().row_separator(LineStyle::none().fill(BETWEEN));
    let mut table = Table::new();
    table.load_style(style).set_content_arrangement(ContentArrangement::Dynamic);
    table.set_width(u16::try_from(width).unwrap_or(u16::MAX));
    table.add_row(columns.iter().map(|column| column.head));
    for row in rows {
        table.add_row(row.iter().map(|cell| one_line(cell).replace(BETWEEN, " ")));
    }
    let widths = widths(columns, &table.column_max_content_widths(), width);
    for (i, column) in columns.iter().enumerate() {
        let Some(settings) = table.column_mut(i) else { continue };
        let gap = if i + 1 == columns.len() { 0 } else { GAP };
        settings.set_padding((0, gap));
        if column.lay == Lay::Number {
            settings.set_cell_alignment(CellAlignment::Right);
        }
        let content = widths.get(i).copied().unwrap_or(0);
        settings.set_constraint(ColumnConstraint::Absolute(Width::Fixed(content + gap)));
    }
    let mut blocks: Vec<Vec<String>> = vec![Vec::new()];
    for line in table.lines() {
        if line.contains(BETWEEN) {
            blocks.push(Vec::new());
        } else if let Some(block) = blocks.last_mut() {
            block.push(line.trim_end().to_owned());
        }
    }
    let head = if blocks.is_empty() { Vec::new() } else { blocks.remove(0) };
    (head.into_iter().filter(|line| !line.is_empty()).collect(), blocks)
}

/// How wide each column is, without the gap after it.
fn widths(columns: &[Column], longest: &[u16], width: usize) -> Vec<u16> {
    let mut widths: Vec<u16> = columns
        .iter()
        .zip(longest)
        .map(|(column, &longest)| match column.lay {
            Lay::Number => longest.min(40),
            Lay::Words(upto) => longest.min(upto),
            Lay::Text => longest.min(TEXT),
        })
        .collect();
    let gaps = GAP * u16::try_from(columns.len().saturating_sub(1)).unwrap_or(0);
    let room = u16::try_from(width).unwrap_or(u16::MAX).saturating_sub(gaps);
    // Too wide: the widest column that can be broken gives way, again and again.
    while widths.iter().sum::<u16>() > room {
        let breakable =
            columns.iter().zip(&mut widths).filter(|(column, width)| column.lay != Lay::Number && **width > 8);
        let Some((_, widest)) = breakable.max_by_key(|(_, width)| **width) else { break };
        *widest -= 1;
    }
    // Room to spare goes to the texts, one letter after the other.
    loop {
        let used = widths.iter().sum::<u16>();
        let texts = columns.iter().zip(longest).zip(&mut widths);
        let narrow = texts.filter(|((column, longest), width)| column.lay == Lay::Text && **width < **longest);
        match narrow.min_by_key(|(_, width)| **width) {
            Some((_, narrowest)) if used < room => *narrowest += 1,
            _ => return widths,
        }
    }
}

/// What a text column has before the room to spare is shared out.
const TEXT: u16 = 24;

/// The blank columns between two columns.
const GAP: u16 = 2;

/// An amount in words: sheet by area, board by length and volume.
pub fn amount(amount: Amount, unit: Unit) -> String {
    let joined = |(number, unit): (String, &str)| format!("{number} {unit}");
    match amount.measured_length(unit) {
        Some(length) => format!("{}, {}", joined(length), joined(amount.measured(unit))),
        None => joined(amount.measured(unit)),
    }
}

fn words(count: i64, word: &str) -> String {
    counted(usize::try_from(count).unwrap_or(0), word)
}

#[cfg(test)]
pub mod tests {
    use super::*;
    use casewright::base::Length;
    use casewright::model::MarkOut;
    use casewright::plan::SquareRow;

    const INCH: i128 = 25_400_000;
    use insta::assert_snapshot;

    fn inch(n: i64, d: i64) -> Length {
        Length::from_inch(n, d)
    }

    fn cut(mark: &str, part: &str, quantity: i64, stock: &str, size: [Length; 3], joinery: &str) -> CutRow {
        CutRow {
            mark: mark.into(),
            part: part.into(),
            quantity,
            stock: stock.into(),
            thickness: size[0],
            length: size[1],
            width: size[2],
            grain: true,
            banded: String::new(),
            joinery: joinery.into(),
            used_in: "drawer box".into(),
            finished: None,
            mirrored: 0,
            parts: Vec::new(),
        }
    }

    /// A small plan with something in every list.
    pub fn sample() -> Plan {
        let ply = "1/2 birch plywood";
        let t = inch(15, 32);
        Plan {
            title: "drawer box".into(),
            printing: Printing::default(),
            cutting_tolerance: Length::ZERO,
            cut_list: vec![
                cut("A1", "side", 2, ply, [t, inch(20, 1), inch(4, 1)], "groove 1/4\" wide, 1/4\" deep for the bottom"),
                cut(
                    "A3",
                    "front and back",
                    2,
                    ply,
                    [t, inch(239, 16), inch(4, 1)],
                    "groove 1/4\" wide, 1/4\" deep for the bottom; 4 pocket holes",
                ),
                CutRow {
                    banded: "front".into(),
                    finished: Some((inch(31, 2), inch(39, 2))),
                    ..cut(
                        "A5",
                        "bottom",
                        1,
                        "1/4 birch plywood",
                        [Length::from_mm(5), Length::from_mm(390), inch(39, 2)],
                        "",
                    )
                },
            ],
            hardware: vec![
                HardwareRow {
                    item: "side-mount ball-bearing slides".into(),
                    size: "20\"".into(),
                    quantity: 1,
                    unit: HardwareUnit::Pair,
                    purpose: "drawer box".into(),
                    note: "follow the slide maker's instructions".into(),
                },
                HardwareRow {
                    item: "glue".into(),
                    size: String::new(),
                    quantity: 46_452,
                    unit: HardwareUnit::Area,
                    purpose: "corners".into(),
                    note: String::new(),
                },
            ],
            bands: vec![BandRow {
                band: "birch veneer band".into(),
                width: inch(7, 8),
                thickness: inch(1, 50),
                edges: 2,
                net: inch(40, 1),
                allowance: inch(1, 1),
                trimmed: Length::ZERO,
                note: String::new(),
                to_buy: inch(44, 1),
                rolls: Some((1, inch(600, 1))),
                cost: Some(Money(1250)),
            }],
            buying: vec![BuyRow {
                stock: ply.into(),
                parts: 4,
                thickness: t,
                net: Amount::Area(INCH * INCH * 280),
                waste_percent: 20,
                with_waste: Amount::Area(INCH * INCH * 336),
                to_buy: Some((1, inch(96, 1), inch(48, 1))),
                cost: None,
                note: String::new(),
            }],
            settings: vec![SettingRow {
                what: "blade height",
                work: "groove for the bottom".into(),
                value: inch(1, 4),
                note: "from the inside face".into(),
                marks: vec!["A1".into(), "A3".into()],
                quantity: 4,
            }],
            mark_outs: vec![MarkOut {
                what: "slide 1, centre line".into(),
                from: "from the floor of the opening".into(),
                distance: inch(5, 2),
            }],
            fits: Vec::new(),
            squares: vec![SquareRow {
                what: "drawer box".into(),
                quantity: 1,
                sides: (inch(253, 16), inch(20, 1)),
                diagonal: inch(1632, 64),
            }],
            weights: Vec::new(),
            steps: vec!["Glue and clamp front and back between the sides.".into()],
            notes: vec!["The bottom is not glued.".into()],
            cautions: vec!["Pocket holes are drilled before the box is glued."],
            cutting: casewright::plan::Cutting::default(),
        }
    }

    fn plain(text: &str) -> String {
        anstream::adapter::strip_str(text).to_string()
    }

    #[test]
    fn a_plan_reads_from_the_parts_to_the_cautions() {
        assert_snapshot!(plain(&plan(&sample(), 100)), @r#"
        drawer box

        Cut list  5 parts in 3 rows
          mark  qty  part                length    width  work                                    used in
          1/2 birch plywood, 15/32"
          A1      2  side                   20"       4"  groove 1/4" wide, 1/4" deep for the     drawer box
                                                          bottom
          A3      2  front and back   14-15/16"       4"  groove 1/4" wide, 1/4" deep for the     drawer box
                                                          bottom; 4 pocket holes
          1/4 birch plywood, 3/16"+
          A5      1  bottom          15-11/32"+  19-1/2"  band front; finished 15-1/2" x 19-1/2"  drawer box

        Hardware
              qty  item                            size  for
           1 pair  side-mount ball-bearing slides  20"   drawer box
          0.6 ft2  glue                                  corners

        Mind
          side-mount ball-bearing slides  follow the slide maker's instructions

        Edge band
          band               width  edges  net  to buy      rolls   cost
          birch veneer band   7/8"      2  40"     44"  1 of 600"  12.50

        Machine settings  settings.csv tells how to come by each
          set             to  for                    parts
          blade height  1/4"  groove for the bottom  A1 A3

        To mark out
          mark                      at  measured
          slide 1, centre line  2-1/2"  from the floor of the opening

        Diagonals  equal ones mean square
          of          qty          outside  each diagonal
          drawer box    1  15-13/16" x 20"        25-1/2"

        Assembly
          1.  Glue and clamp front and back between the sides.

        Notes
          -  The bottom is not glued.

        Take care
          -  Pocket holes are drilled before the box is glued.
        "#);
    }

    #[test]
    fn lines_fit_the_width() {
        let mut plan_of_long_names = sample();
        for row in &mut plan_of_long_names.cut_list {
            row.part = "a part with a very long name that a recipe gave it".into();
            row.used_in = "drawer 1, drawer 2, drawer 3, drawer 4, drawer 5, drawer 6, drawer 7, drawer 8".into();
            row.stock = "word".repeat(8);
        }
        for width in [80, 100, 140] {
            let text = plain(&plan(&plan_of_long_names, width));
            let longest = text.lines().map(|line| line.chars().count()).max().unwrap();
            assert!(longest <= width, "{longest} > {width}\n{text}");
        }
    }

    #[test]
    fn cells_cannot_break_the_table() {
        let mut hostile = sample();
        hostile.cut_list[0].part = "a\nb\u{1b}[31m\u{f8ff}".into();
        let text = plain(&cut_list(&hostile.cut_list, hostile.printing, 100));
        assert!(text.contains("a b\u{241b}[31m"), "{text}");
    }
}
