//! The plans next to the best one, in words.

use crate::base::{Length, Printing};
use crate::nesting::{Axis, Node, Outcome, Plan, Problem, Score};

/// What else could be chosen at the same cost: fewer settings, or fewer cuts, for smaller offcuts.
pub(super) fn neighbours(problem: &Problem, outcome: &Outcome, printing: Printing) -> Vec<String> {
    let own = (&outcome.score, largest(problem, &outcome.plan));
    let fewest = |key: fn(&Score) -> (u32, u32)| {
        let better = outcome.neighbours.iter().filter(|(score, _)| key(score).0 < key(own.0).0);
        better.min_by_key(|(score, _)| (key(score), -score.offcuts))
    };
    let mut told: Vec<&(Score, Plan)> = Vec::new();
    for found in [fewest(|score| (score.settings, score.cuts)), fewest(|score| (score.cuts, score.settings))] {
        told.extend(found.filter(|found| !told.contains(found)));
    }
    told.into_iter().map(|(score, plan)| sentence(own, (score, largest(problem, plan)), printing)).collect()
}

type Seen<'a> = (&'a Score, Option<(i64, i64)>);

fn sentence((own, offcut): Seen<'_>, (other, smaller): Seen<'_>, printing: Printing) -> String {
    let size = |offcut: Option<(i64, i64)>| {
        offcut.map_or_else(
            || "none worth keeping".to_owned(),
            |(length, width)| printing.by(Length::from_nm(length), Length::from_nm(width)),
        )
    };
    let offcuts = if offcut == smaller {
        "its offcuts are worth less together".to_owned()
    } else {
        format!("its largest offcut is {} rather than {}", size(smaller), size(offcut))
    };
    format!(
        "for the same money: {} rather than {}, {} rather than {}; {offcuts}",
        counted(other.settings, "setting"),
        own.settings,
        counted(other.cuts, "cut"),
        own.cuts
    )
}

fn counted(count: u32, word: &str) -> String {
    if count == 1 { format!("1 {word}") } else { format!("{count} {word}s") }
}

/// The offcut of the largest area that a plan leaves, along x and y.
fn largest(problem: &Problem, plan: &Plan) -> Option<(i64, i64)> {
    let mut best: Option<(i64, i64)> = None;
    for layout in &plan.layouts {
        let sheet = problem.sheets.get(layout.sheet)?;
        let mut open = vec![(&layout.root, sheet.usable())];
        while let Some((node, (x, y))) = open.pop() {
            match node {
                Node::Offcut => {
                    let area = |(a, b): (i64, i64)| i128::from(a) * i128::from(b);
                    if best.is_none_or(|best| area((x, y)) > area(best)) {
                        best = Some((x, y));
                    }
                }
                Node::Cut { across, at, first, rest } => {
                    let side = |own: i64| if *across == Axis::X { (own, y) } else { (x, own) };
                    let along = if *across == Axis::X { x } else { y };
                    open.push((first, side(*at)));
                    if let Some(rest) = rest {
                        open.push((rest, side(along - at - problem.saw.kerf)));
                    }
                }
                Node::Part { .. } | Node::Waste => {}
            }
        }
    }
    best
}
