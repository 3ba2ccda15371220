//! Names of jobs, which are names of folders on whatever disk they land on.

use super::combined;

/// Why a job's name cannot be the name of a folder everywhere, if it cannot.
pub fn unfit(name: &str) -> Option<String> {
    // Long enough for every name that anyone reads, short enough for every file system with a folder around it.
    const LONGEST: usize = 100;
    let upper = name.to_uppercase();
    let stem = upper.split('.').next().unwrap_or_default().trim_end();
    let device = ["CON", "PRN", "AUX", "NUL"].contains(&stem)
        || (stem.chars().count() == 4
            && (stem.starts_with("COM") || stem.starts_with("LPT"))
            && stem.ends_with(|c: char| "123456789¹²³".contains(c)));
    if name.is_empty() {
        return Some("the job has no name".into());
    }
    if let Some(sign) = name.chars().find(|c| c.is_control() || "/\\:*?\"<>|".contains(*c)) {
        let shown = if sign.is_control() { "a control character".to_owned() } else { format!("`{sign}`") };
        return Some(format!("a folder's name cannot have {shown} in it"));
    }
    if name.starts_with('.') || name.ends_with('.') {
        return Some("a folder's name cannot begin or end with a dot".into());
    }
    if name.starts_with(['=', '+', '-', '@']) {
        return Some("a name that begins with this sign would be a formula in a spreadsheet".into());
    }
    if device {
        return Some("this is the name of a device on some systems".into());
    }
    if combined::FILES.iter().any(|file| file.eq_ignore_ascii_case(name))
        || casewright::papers::is_drawing_name(&name.to_lowercase())
    {
        return Some("a list of all jobs has this name".into());
    }
    if name.chars().count() > LONGEST {
        return Some(format!("a folder's name is at most {LONGEST} letters long"));
    }
    None
}

/// What two names have in common when they would be one folder on a disk that does not tell capitals apart.
pub fn folded(name: &str) -> String {
    name.to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_some_disk_refuses_are_refused() {
        for name in [
            "",
            ".",
            "..",
            ".hidden",
            "end.",
            "a/b",
            "a\\b",
            "c:",
            "what?",
            "a*",
            "tab\there",
            "con",
            "NUL.txt",
            "Com1",
            "lpt9 .x",
            "=SUM(A1)",
            "-x",
            "@x",
            "+x",
            "Summary.CSV",
            "cut-list.csv",
        ] {
            assert!(unfit(name).is_some(), "{name:?}");
        }
        assert!(unfit(&"x".repeat(101)).is_some());
        for name in ["bench", "bank 2", "Küche links", "v1.2", "com", "com10", "console", "summary"] {
            assert_eq!(unfit(name), None, "{name:?}");
        }
        assert_eq!(folded("Ähre"), folded("ähre"));
    }
}
