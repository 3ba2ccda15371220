//! Holds the layer table: a module uses lower layers only, and what must not be seen is not seen.

// A test may unwrap: a failure there is its message.
#![allow(clippy::unwrap_used)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// The modules of each layer, lowest first. A new edge is a change of this table, with its reason in the commit.
const LAYERS: &[(u8, &[&str])] = &[
    (0, &["base"]),
    (1, &["diag", "world"]),
    (2, &["model", "catalog", "nesting"]),
    // The shop file is text turned into values: it needs the catalog's names and nothing that works on a model.
    // Physics judges sizes by the catalog's figures; checks and recipes ask it, and joints do not.
    (3, &["fits", "joints", "physics", "proof", "shop_file"]),
    (4, &["checks", "plan", "script"]),
    (5, &["drawing"]),
    (6, &["papers"]),
    (7, &["job"]),
    (8, &["cli"]),
];

/// Modules of one layer that may use each other, because the rows of one are values of the other.
const WITHIN: &[(&str, &str)] = &[("catalog", "model")];

/// Words that may stand only in the modules named: the outside world and the libraries that speak for it.
const ABSENCES: &[(&str, &[&str])] = &[
    ("rhai::", &["script"]),
    ("serde_json", &["papers", "cli"]),
    ("std::fs", &["world", "cli"]),
    ("std::net", &[]),
    ("SystemTime", &["cli"]),
    ("Instant", &["script", "cli"]),
    ("std::process", &["cli"]),
    ("println!", &["cli"]),
    ("print!", &["cli"]),
    ("toml::", &["shop_file"]),
];

#[test]
fn modules_use_lower_layers_only() {
    let layer_of: BTreeMap<&str, u8> =
        LAYERS.iter().flat_map(|(layer, names)| names.iter().map(move |name| (*name, *layer))).collect();
    let mut faults = Vec::new();
    for (module, path, text) in sources() {
        let own = *layer_of.get(module.as_str()).unwrap_or_else(|| panic!("`{module}` is not in the layer table"));
        for used in uses(&text) {
            let Some(&layer) = layer_of.get(used.as_str()) else {
                faults.push(format!("{}: uses `crate::{used}`, which is not in the layer table", path.display()));
                continue;
            };
            let within = used == module || WITHIN.contains(&(module.as_str(), used.as_str()));
            if layer >= own && !within {
                faults.push(format!("{}: `{module}` (layer {own}) uses `{used}` (layer {layer})", path.display()));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn the_outside_is_seen_only_where_it_may_be() {
    let mut faults = Vec::new();
    for (module, path, text) in sources() {
        for (word, allowed) in ABSENCES {
            if !allowed.contains(&module.as_str()) && text.contains(word) {
                faults.push(format!("{}: `{word}` is not for `{module}`", path.display()));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn scripts_describe_and_never_decide() {
    for (module, path, text) in sources() {
        if module == "script" {
            for later in ["crate::checks", "crate::plan", "crate::papers", "crate::job"] {
                assert!(!text.contains(later), "{}: {later}", path.display());
            }
        }
    }
}

/// Every source file without its tests: its module, its path, its text.
fn sources() -> Vec<(String, PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("engine");
    let mut files = Vec::new();
    collect(&root, &mut files);
    let found: Vec<_> = files
        .into_iter()
        .filter_map(|path| {
            let inside = path.strip_prefix(&root).ok()?.to_owned();
            let first = inside.components().next()?.as_os_str().to_string_lossy().trim_end_matches(".rs").to_owned();
            if ["lib", "main"].contains(&first.as_str()) {
                return None;
            }
            let text = fs::read_to_string(&path).ok()?;
            Some((first, path, without_tests(&text)))
        })
        .collect();
    assert!(found.len() > 30, "the sources were not found");
    found
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap().map(Result::unwrap) {
        let path = entry.path();
        if path.is_dir() {
            collect(&path, files);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
}

/// Tests stand last in a file, so that everything from the first of them on is left out; comments are too.
fn without_tests(text: &str) -> String {
    text.split("#[cfg(test)]")
        .next()
        .unwrap_or("")
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect::<Vec<_>>()
        .join("\n")
}

fn uses(text: &str) -> Vec<String> {
    let mut names: Vec<String> = text
        .match_indices("crate::")
        .map(|(at, word)| {
            text[at + word.len()..].chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>()
        })
        .filter(|name| !name.is_empty())
        .collect();
    names.sort();
    names.dedup();
    names
}
