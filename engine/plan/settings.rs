//! Machine settings, each once with all parts that share it.

use std::collections::HashMap;

use super::{CutRow, SettingRow};
use crate::base::Length;
use crate::model::{Model, Setting};

/// The rows in order of first appearance, so that one setting-up of a machine serves all parts that need it.
pub(super) fn settings(model: &Model, cut_list: &[CutRow]) -> Vec<SettingRow> {
    let mut row_of_part = vec![usize::MAX; model.parts.len()];
    for (row, cut) in cut_list.iter().enumerate() {
        for part in &cut.parts {
            row_of_part[part.0 as usize] = row;
        }
    }
    let mut groups: Vec<Vec<&Setting>> = Vec::new();
    let mut places: HashMap<(&str, &str), Vec<usize>> = HashMap::new();
    for setting in &model.settings {
        let alike = places.entry((setting.what, &setting.work)).or_default();
        let known = alike.iter().copied().find(|&place| groups[place][0].value.same_size(setting.value));
        if let Some(place) = known {
            groups[place].push(setting);
        } else {
            alike.push(groups.len());
            groups.push(vec![setting]);
        }
    }
    groups.iter().map(|group| row(group, cut_list, &row_of_part)).collect()
}

fn row(group: &[&Setting], cut_list: &[CutRow], row_of_part: &[usize]) -> SettingRow {
    let first = group[0];
    let mut parts: Vec<usize> = group.iter().map(|setting| setting.part.0 as usize).collect();
    parts.sort_unstable();
    parts.dedup();
    let mut rows: Vec<usize> = parts.iter().filter_map(|&part| row_of_part.get(part).copied()).collect();
    rows.sort_unstable();
    rows.dedup();
    // Parts that share a setting may differ in a word of it; what they have in common is said once.
    let mut clauses: Vec<&str> = Vec::new();
    for clause in group.iter().flat_map(|setting| setting.note.split("; ")).filter(|clause| !clause.is_empty()) {
        if !clauses.contains(&clause) {
            clauses.push(clause);
        }
    }
    SettingRow {
        what: first.what,
        work: first.work.clone(),
        value: group.iter().map(|setting| setting.value).min().unwrap_or(Length::ZERO),
        note: clauses.join("; "),
        marks: rows.iter().filter_map(|&row| cut_list.get(row)).map(|row| row.mark.clone()).collect(),
        quantity: i64::try_from(parts.len()).unwrap_or(i64::MAX),
    }
}
