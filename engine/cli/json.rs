//! What commands print for other programs.

use casewright::diag::{At, Finding};
use serde::Serialize;

use super::console::Console;
use super::exit::Exit;

/// A finding as programs read it.
#[derive(Debug, Serialize)]
pub struct FindingJson {
    code: &'static str,
    severity: &'static str,
    message: String,
    at: Option<AtJson>,
    through: Vec<AtJson>,
    hint: Option<String>,
    source: Option<&'static str>,
}

/// A place as programs read it: lines and columns count from 1, columns in characters.
#[derive(Debug, Serialize)]
struct AtJson {
    file: String,
    line: u32,
    column: u32,
    span: u32,
}

impl From<&Finding> for FindingJson {
    fn from(finding: &Finding) -> Self {
        Self {
            code: finding.code,
            severity: finding.severity.name(),
            message: finding.message.clone(),
            at: finding.at.as_ref().map(AtJson::from),
            through: finding.through.iter().map(AtJson::from).collect(),
            hint: finding.hint.clone(),
            source: finding.source,
        }
    }
}

impl From<&At> for AtJson {
    fn from(at: &At) -> Self {
        Self { file: at.file.to_string(), line: at.line, column: at.column, span: at.span }
    }
}

/// Prints a value as JSON.
pub fn say_json(console: &mut Console, value: &impl Serialize) -> Result<(), Exit> {
    match serde_json::to_string_pretty(value) {
        Ok(text) => console.bytes((text + "\n").as_bytes()),
        Err(error) => Err(console.file_fault(&format!("the JSON could not be made: {error}"), "")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_finding_tells_programs_all_it_tells_people() {
        let at = At { file: "a.rhai".into(), line: 3, column: 5, span: 2 };
        let finding = Finding::error("overlap", "two parts").at(Some(at)).hint("move one");
        let json = serde_json::to_string(&FindingJson::from(&finding)).unwrap();
        insta::assert_snapshot!(json, @r#"{"code":"overlap","severity":"error","message":"two parts","at":{"file":"a.rhai","line":3,"column":5,"span":2},"through":[],"hint":"move one","source":null}"#);
    }
}
