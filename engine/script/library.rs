//! The built-in recipes: the files of `scripts/`, kept in the program.

/// A built-in recipe.
#[derive(Clone, Copy, Debug)]
pub struct BuiltIn {
    /// Its name: `drawer-box`.
    pub name: &'static str,
    /// Its text.
    pub text: &'static str,
}

impl BuiltIn {
    /// What it makes, in one line.
    pub fn about(&self) -> String {
        about(self.text)
    }
}

macro_rules! built_in {
    ($($name:literal),+) => {
        &[$(BuiltIn { name: $name, text: include_str!(concat!("../../scripts/", $name, ".rhai")) }),+]
    };
}

/// The built-in recipes, in order of name.
pub fn library() -> &'static [BuiltIn] {
    built_in!(
        "base-cabinet",
        "bench-drawers",
        "bookcase",
        "carcass",
        "door",
        "drawer-bank",
        "drawer-box",
        "edged-panel",
        "face-frame",
        "pantry-tower",
        "plan-chest",
        "plinth",
        "wall-cabinet",
        "workbench-island"
    )
}

/// What findings call a built-in recipe's file.
pub(super) fn file_name(name: &str) -> String {
    format!("scripts/{name}.rhai")
}

/// The first sentence of a recipe's heading comment, without its full stop.
pub(super) fn about(text: &str) -> String {
    let heading: Vec<&str> = text
        .lines()
        .map(str::trim)
        .take_while(|line| line.starts_with("//") || line.is_empty())
        .filter_map(|line| line.strip_prefix("//"))
        .map(|line| line.trim_start_matches(['/', '!']).trim())
        .take_while(|line| !line.is_empty())
        .collect();
    let text = heading.join(" ");
    let end = text.find(". ").unwrap_or(text.len());
    text[..end].trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_sentence_is_the_line() {
        assert_eq!(about("// A box\n// for paper. It is shallow.\n\nlet a = 1;"), "A box for paper");
        assert_eq!(about("let a = 1;"), "");
    }

    #[test]
    fn names_are_in_order_and_every_recipe_says_what_it_makes() {
        assert!(library().windows(2).all(|pair| pair[0].name < pair[1].name));
        assert!(library().iter().all(|built_in| !built_in.about().is_empty()));
    }
}
