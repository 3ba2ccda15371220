//! What a built-in recipe has to tell, read from its text: its heading comment, and the functions that it gives to others.

use casewright::script::BuiltIn;

/// A function that recipes can call once they import the one that it stands in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    /// Its name.
    pub name: String,
    /// Its options: the name, what holds when it is left out, and the comment beside it.
    pub options: Vec<[String; 3]>,
    /// What it gives back, in words; empty when its text does not say.
    pub gives: String,
}

/// The paragraphs of the heading comment, without the first sentence, which is the recipe's line in every list.
pub fn heading(recipe: &BuiltIn) -> String {
    let comment: Vec<&str> = recipe
        .text
        .lines()
        .map_while(|line| line.strip_prefix("//"))
        .map(|line| line.trim_matches(['/', ' ']))
        .collect();
    let whole = comment.join("\n");
    let rest = whole.strip_prefix(&recipe.about()).map(|rest| rest.trim_start_matches('.').trim());
    rest.unwrap_or(&whole).to_owned()
}

/// The functions that read their options by name, in the order of the text. Others are the recipe's own.
pub fn functions(text: &str) -> Vec<Given> {
    let lines: Vec<&str> = text.lines().collect();
    let heads =
        lines.iter().enumerate().filter_map(|(at, line)| Some((at, line.strip_prefix("fn ")?.split_once('(')?.0)));
    heads
        .filter_map(|(at, name)| {
            // Recipes end a function with a brace at the edge.
            let body: Vec<&str> = lines.iter().skip(at + 1).take_while(|line| **line != "}").copied().collect();
            let start = body.iter().position(|line| line.contains(&format!("options(\"{name}\", given, #{{")))?;
            let listed = body.iter().skip(start + 1).take_while(|line| line.trim() != "});");
            Some(Given {
                name: name.trim().to_owned(),
                options: listed.filter_map(|line| option(line)).collect(),
                gives: gives(&body),
            })
        })
        .collect()
}

/// One option of the block: `back: "full height",`, with a comment after it where there is one.
fn option(line: &str) -> Option<[String; 3]> {
    let (code, comment) = line.split_once(" // ").unwrap_or((line, ""));
    let (name, default) = code.trim().trim_end_matches(',').split_once(": ")?;
    let default = match default {
        "required()" => "must be given".to_owned(),
        "()" => "may be left out".to_owned(),
        default => format!("else {default}"),
    };
    Some([name.to_owned(), default, comment.trim().to_owned()])
}

/// What the last line of a body gives back. A list is told by what is put into it.
fn gives(body: &[&str]) -> String {
    let Some(last) = body.last().map(|line| line.trim()) else { return String::new() };
    // A map over several lines: from its opening to the end.
    let open = body.iter().rposition(|line| line.trim() == "#{");
    if let Some(open) = open.filter(|_| last == "}") {
        let whole = format!("#{{{}}}", body[open + 1..body.len() - 1].concat().trim().trim_end_matches(','));
        return keys(&whole).map_or_else(String::new, |keys| keys.join(", "));
    }
    if let Some(keys) = keys(last) {
        return keys.join(", ");
    }
    let put = format!("{last}.push(");
    let each = body.iter().find_map(|line| keys(line.trim().strip_prefix(&put)?.trim_end_matches([')', ';'])));
    match each {
        Some(keys) => format!("a list, each with {}", keys.join(", ")),
        None if last.ends_with(';') || last.ends_with('}') => String::new(),
        None => last.to_owned(),
    }
}

/// The keys of a map that is written on one line.
fn keys(text: &str) -> Option<Vec<String>> {
    let inside = text.strip_prefix("#{")?.strip_suffix('}')?;
    Some(inside.split(',').filter_map(|entry| Some(entry.split_once(':')?.0.trim().to_owned())).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use casewright::script;

    #[test]
    fn a_function_is_told_by_its_options_and_what_it_gives() {
        let text = "// A box.\n\nfn own(a) { a }\n\nfn crate(given) {\n    let o = options(\"crate\", given, #{\n        \
                    width: required(),\n        lid: (),  // the lid's stock\n        ways: [\"a\", \"b\"],\n    });\n    \
                    if o.width > 1.inch {\n    }\n    #{ piece: p, sides: [a, b] }\n}\n";
        let [given] = &functions(text)[..] else { panic!("one function takes options") };
        assert_eq!(given.name, "crate");
        let options: Vec<[&str; 3]> = given.options.iter().map(|all| all.each_ref().map(String::as_str)).collect();
        let expected = [
            ["width", "must be given", ""],
            ["lid", "may be left out", "the lid's stock"],
            ["ways", "else [\"a\", \"b\"]", ""],
        ];
        assert_eq!(options, expected);
        assert_eq!(given.gives, "piece, sides");
        assert_eq!(gives(&["made.push(#{ box: b, front: f });", "made"]), "a list, each with box, front");
    }

    #[test]
    fn every_built_in_function_is_found_whole() {
        for recipe in script::library() {
            assert!(!heading(recipe).contains("//"), "{}", recipe.name);
            let blocks = recipe.text.matches(", given, #{").count();
            let functions = functions(recipe.text);
            assert_eq!(functions.len(), blocks, "{}", recipe.name);
            for function in functions {
                assert!(function.options.len() > 3, "{}: {function:?}", recipe.name);
                // What it gives has names; that of a variable inside tells nobody anything.
                assert!(function.gives.contains(", "), "{}: {function:?}", recipe.name);
            }
        }
    }
}
