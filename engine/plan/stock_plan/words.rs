//! The plans next to the best one, in words.

use super::{BlankForm, tighten};
use crate::base::{Length, Printing};
use crate::nesting::{Axis, Node, Plan, Problem, Score};

/// What else could be chosen at the same cost: fewer settings, or no more settings and fewer cuts, for smaller offcuts. Where the search
/// found nothing of the kind it says so.
pub(super) fn neighbours(
    problem: &Problem,
    (own, plan): (&Score, &Plan),
    others: &[(Score, Plan)],
    (form, printing): (BlankForm, Printing),
) -> Vec<String> {
    let used = counted(u32::try_from(plan.sheets()).unwrap_or(u32::MAX), form.name());
    let tidy: Vec<(Score, Plan)> = others
        .iter()
        .map(|(_, plan)| {
            let plan = tighten::tidied(problem, plan);
            (Score::of(problem, &plan), plan)
        })
        .collect();
    let fewest_settings = tidy
        .iter()
        .filter(|(score, _)| score.settings < own.settings)
        .min_by_key(|(score, _)| (score.settings, score.cuts, -score.offcuts));
    let fewest_cuts = tidy
        .iter()
        .filter(|(score, _)| score.settings <= own.settings && score.cuts < own.cuts)
        .min_by_key(|(score, _)| (score.cuts, score.settings, -score.offcuts));
    let mut told: Vec<String> = Vec::new();
    for (score, other) in [fewest_settings, fewest_cuts].into_iter().flatten() {
        let words = sentence((own, largest(problem, plan)), (score, largest(problem, other)), &used, printing);
        if !told.contains(&words) {
            told.push(words);
        }
    }
    if told.is_empty() {
        told.push(format!(
            "{used}, {} and {}; no plan of the same money with fewer of either was found",
            counted(own.settings, "setting"),
            counted(own.cuts, "cut")
        ));
    }
    told
}

type Seen<'a> = (&'a Score, Option<(i64, i64)>);

fn sentence((own, offcut): Seen<'_>, (other, smaller): Seen<'_>, used: &str, printing: Printing) -> String {
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
    let differs = |other: u32, own: u32, word: &str| {
        (other != own).then(|| format!("{} rather than {own}", counted(other, word)))
    };
    let few: Vec<String> = [differs(other.settings, own.settings, "setting"), differs(other.cuts, own.cuts, "cut")]
        .into_iter()
        .flatten()
        .collect();
    format!(
        "{used}, {} and {}; for the same money also {}: {offcuts}",
        counted(own.settings, "setting"),
        counted(own.cuts, "cut"),
        few.join(", ")
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
                        open.push((rest, side(along - at - problem.saw.kerf_across(*across))));
                    }
                }
                Node::Part { .. } | Node::Waste => {}
            }
        }
    }
    best
}
