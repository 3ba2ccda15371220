//! The language as recipes use it: every trap of the script engine that was found, and what is made of it.
//!
//! Each of these held when the engine's version was pinned; an update that changes one is seen here.

use casewright::base::{Length, Unit};
use casewright::diag::{Finding, Severity};
use casewright::model::{Model, Shop, Value};
use casewright::script::{Evaluated, Order, Session, Workbench, on_script_thread};
use casewright::world::{Disk, Memory};

/// Runs a text with inputs; gives its model and findings.
fn run_with(text: &str, inputs: &[(&str, &str)], units: Option<Unit>, shop: &Shop) -> (Model, Vec<Finding>) {
    let inputs: Vec<(String, String)> =
        inputs.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
    on_script_thread(|| {
        let bench = Workbench::new(Memory::new());
        match bench.compile("test.rhai", text) {
            Ok(recipe) => {
                let drawn = bench.run(&recipe, Order { inputs: &inputs, units, shop });
                (drawn.model, drawn.findings)
            }
            Err(findings) => (Model::new("", casewright::base::Printing::default()), findings),
        }
    })
}

fn findings(text: &str) -> Vec<Finding> {
    run_with(text, &[], None, &Shop::default()).1
}

/// The one finding that a text must give.
fn error(text: &str) -> Finding {
    let found = findings(text);
    assert_eq!(found.len(), 1, "{text}: {found:?}");
    found.into_iter().next().expect("one finding")
}

/// The value of an expression, as the REPL prints it.
fn value(expression: &str) -> String {
    on_script_thread(|| {
        let bench = Workbench::new(Memory::new());
        match Session::default().evaluate(&bench, None, order(&Shop::default()), expression) {
            Evaluated::Value(text) => text,
            other => panic!("{expression}: {other:?}"),
        }
    })
}

fn order(shop: &Shop) -> Order<'_> {
    Order { inputs: &[], units: None, shop }
}

/// Holds that an expression gives an error of a code, with a hint that contains a text.
fn refused(text: &str, code: &str, hint: &str) {
    let finding = error(text);
    assert_eq!(finding.code, code, "{text}: {finding}");
    assert!(finding.hint.as_deref().unwrap_or("").contains(hint), "{text}: {finding}");
    assert!(finding.at.is_some(), "{text}: {finding}");
}

#[test]
fn division_is_exact() {
    for (expression, printed) in [
        ("7/8", "7/8"),
        ("16 + 7/8", "135/8"),
        // The precedence of the built-in operator: 1 + (6/8 * 2), 10 - 1/2 - 1/2.
        ("1 + 6/8*2", "5/2"),
        ("10 - 1/2 - 1/2", "9"),
        ("12/2/3", "2"),
        ("2*3/4", "3/2"),
        ("-7/8", "-7/8"),
        ("7/-8", "-7/8"),
        // Whole quotients count, index and select.
        ("[1, 2, 3, 4, 5][8/2]", "5"),
        ("let n = 0; for i in 0..(8/2) { n += 1; } n", "4"),
        ("switch 8/2 { 4 => \"four\", _ => \"other\" }", "four"),
        ("switch 7/8 + 1/8 { 1 => \"one\", _ => \"other\" }", "one"),
        ("floor(7/2)", "3"),
        ("ceiling(7/2)", "4"),
        ("floor(-7/2)", "-4"),
    ] {
        assert_eq!(value(expression), printed, "{expression}");
    }
    refused("let x = 7; x /= 8;", "syntax", "x = x / 2");
}

#[test]
fn decimals_are_exact() {
    for (expression, printed) in [
        ("0.1 + 0.2 == 0.3", "true"),
        ("16.875 == 16 + 7/8", "true"),
        ("16.875.inch == (16 + 7/8).inch", "true"),
        // 0.703 in is 17.8562 mm.
        ("0.703.inch == 17.8562.mm", "true"),
        ("(0.1 + 0.2).mm == 0.3.mm", "true"),
        ("1.5 * 7/8 == 21/16", "true"),
        ("0.5 / 2 == 1/4", "true"),
        ("7/8 < 0.9", "true"),
        ("0.9 > 7/8", "true"),
        ("7/8 < 1", "true"),
        ("1 > 7/8", "true"),
    ] {
        assert_eq!(value(expression), printed, "{expression}");
    }
}

#[test]
fn lengths_have_units_and_their_own_arithmetic() {
    for (expression, printed) in [
        ("24.inch", "24\""),
        ("(16 + 7/8).inch", "16-7/8\""),
        // 18 mm is 22.68 thirty-seconds: printed as 23/32 with the sign that it was a little less.
        ("18.mm", "23/32\"-"),
        ("18.mm == 1.8.cm", "true"),
        ("2.m == 2000.mm", "true"),
        ("1.foot == 12.inch", "true"),
        ("3.feet == 36.inch", "true"),
        ("1.inch == 25.4.mm", "true"),
        ("-16.inch + 20.inch", "4\""),
        ("1_000.mm == 1.m", "true"),
        ("2 * 3.inch", "6\""),
        ("3.inch * 2", "6\""),
        ("3.inch * 1/2", "1-1/2\""),
        ("0.5 * 3.inch", "1-1/2\""),
        ("3.inch / 2", "1-1/2\""),
        ("30.inch / 4.inch", "15/2"),
        ("30.inch / 5.inch", "6"),
        ("30.inch % 4.inch", "2\""),
        ("let x = 3.inch; x += 1.inch; x -= 2.inch; x *= 3; x", "6\""),
        ("min(3.inch, 2.inch)", "2\""),
        ("max(3.inch, 2.inch)", "3\""),
        ("abs(-3.inch)", "3\""),
        ("sum([1.inch, 2.inch, 3.inch])", "6\""),
        ("smallest([24.inch, 600.mm]) == 600.mm", "true"),
        ("largest([24.inch, 600.mm]) == 24.inch", "true"),
        ("round_to((16 + 7/9).inch, (1/16).inch)", "16-3/4\""),
        ("round_down(2.inch - 1.mm, (1/16).inch)", "1-15/16\""),
        ("round_up(2.inch - 1.mm, (1/16).inch)", "2\""),
        ("`${(7/8).inch} of ${1/3}`", "7/8\" of 1/3"),
        ("\"wide: \" + 3.inch", "wide: 3\""),
        ("[1.inch, 2.inch].len", "2"),
        ("1.inch in [2.inch, 1.inch]", "true"),
    ] {
        assert_eq!(value(expression), printed, "{expression}");
    }
}

#[test]
fn splits_add_up_again() {
    // 100 mm / 7 is 14 285 714.28... nanometres: two pieces of one more make it up.
    assert_eq!(value("sum(split(100.mm, 7)) == 100.mm"), "true");
    assert_eq!(value("let all = split(100.mm, 7); (all[0] - all[6]) * 1000000 == 1.mm"), "true");
    assert_eq!(value("split(30.inch, 4)[3]"), "7-1/2\"");
    refused("split(1.inch, 0);", "wrong-count", "from 1");
    refused("split(1.inch, -3);", "wrong-count", "from 1");
}

#[test]
fn comparisons_of_unlike_values_are_errors() {
    for operator in ["<", "<=", ">", ">=", "==", "!="] {
        let hint = "write 20.mm or 20.inch";
        refused(&format!("let x = 16.mm {operator} 20;"), "bare-number", hint);
        refused(&format!("let x = 20 {operator} 16.mm;"), "bare-number", hint);
        refused(&format!("let x = 16.mm {operator} 7/8;"), "bare-number", "write (7/8).inch");
        refused(&format!("let x = 16.mm {operator} 20.5;"), "bare-number", "write");
        refused(&format!("let x = 16.mm {operator} ();"), "wrong-kind", "no value");
        refused(&format!("let x = () {operator} 16.mm;"), "wrong-kind", "no value");
        refused(&format!("let x = 7/8 {operator} \"a\";"), "wrong-kind", "compare");
        refused(&format!("let x = \"a\" {operator} 16.mm;"), "wrong-kind", "compare");
        refused(&format!("let x = true {operator} 16.mm;"), "wrong-kind", "compare");
    }
    refused("let x = 16.mm in [1, 2];", "bare-number", "write");
    for (expression, printed) in [("16.mm < 20.mm", "true"), ("16.mm == 16.mm", "true"), ("1.inch != 25.4.mm", "false")]
    {
        assert_eq!(value(expression), printed);
    }
}

#[test]
fn what_has_no_unit_is_refused_with_its_cure() {
    refused("let x = 16.mm + 1;", "bare-number", "write 1.mm or 1.inch");
    refused("let x = 1 + 16.mm;", "bare-number", "write 1.mm or 1.inch");
    refused("let x = 16.mm - 7/8;", "bare-number", "write (7/8).inch");
    refused("let x = 16.mm; x += 0.5;", "bare-number", "write (1/2).inch");
    refused("let x = min(16.mm, 3);", "bare-number", "write 3.mm or 3.inch");
    refused("let p = piece(\"a\"); place(p, #{ left: 3 });", "bare-number", "write 3.mm or 3.inch");
    refused("let p = piece(\"a\"); place(p, #{ left: 7/8 });", "bare-number", "write (7/8).inch");
    refused("let p = piece(\"a\"); place(p, #{ left: 2.5 });", "bare-number", "write 2.5.mm or 2.5.inch");
    refused("let x = 3.mm * 4.mm;", "length-times-length", "plain number");
    refused("let x = 7/8.inch;", "number-over-length", "(7/8).inch");
    refused("let x = 16.in;", "syntax", ".inch");
    refused("let x = 10 mm;", "syntax", "10.mm");
    refused("let x = 10 inch;", "syntax", "10.inch");
    refused("let x = 16-7/8\";", "syntax", "(16 + 7/8).inch");
    refused("let x = 428.mn;", "unknown-property", "did you mean `mm`?");
    refused("let x = 3.mm.inch;", "unknown-property", "has its unit already");
}

#[test]
fn numbers_stay_in_their_range() {
    for text in [
        "let x = 9223372036854775807 + 1;",
        "let x = 9223372036854775807 * 2;",
        "let x = 1001.m;",
        "let x = 600.m + 600.m;",
        "let x = 600.m * 2;",
        "let x = 1/4611686018427387904 + 1/4611686018427387903;",
    ] {
        assert_eq!(error(text).code, "number-too-large", "{text}");
    }
    for text in [
        "let x = 1 / 0;",
        "let x = 1.mm / 0;",
        "let x = 1 % 0;",
        "let x = 1.mm / 0.mm;",
        "let x = 7/8 / 0;",
        "let x = 1.5 / 0;",
    ] {
        assert_eq!(error(text).code, "division-by-zero", "{text}");
    }
    assert_eq!(error("let x = 0.12345678901234567890123456789012345;").code, "syntax");
}

#[test]
fn texts_are_read_as_lengths_where_a_length_is_wanted() {
    for (written, nm) in [
        // 16-7/8 in = 16.875 x 25.4 mm = 428.625 mm.
        ("`16-7/8\"`", 428_625_000),
        ("\"16 7/8in\"", 428_625_000),
        ("\"428.625mm\"", 428_625_000),
        ("`1' 4-7/8\"`", 428_625_000),
        ("\"42.8 cm\"", 428_000_000),
    ] {
        let text = format!("let p = piece(\"a\"); place(p, #{{ left: {written} }});");
        let (model, found) = run_with(&text, &[], None, &Shop::default());
        assert!(found.is_empty(), "{text}: {found:?}");
        assert_eq!(model.pieces[1].shift[0], Length::from_nm(nm), "{written}");
    }
    refused("let p = piece(\"a\"); place(p, #{ left: \"16\" });", "not-a-length", "write `16in` or `16mm`");
    refused("let p = piece(\"a\"); place(p, #{ left: \"banana\" });", "not-a-length", "write one such as");
}

#[test]
fn words_that_the_engine_never_uses_are_names() {
    for word in ["default", "with", "new", "is", "case", "match", "use", "module", "package", "static", "public"] {
        assert_eq!(value(&format!("let o = #{{ {word}: 3 }}; o.{word}")), "3", "{word}");
        assert_eq!(value(&format!("let {word} = 4; {word}")), "4", "{word}");
    }
    for word in ["fn", "let", "if", "for", "in", "while", "return", "import", "as"] {
        assert_eq!(error(&format!("let {word} = 4;")).code, "syntax", "{word}");
    }
}

#[test]
fn a_missing_property_is_an_error() {
    refused("let o = #{ width: 3.mm }; let x = o.widht;", "unknown-property", "did you mean `width`?");
    refused("let o = #{ width: 3.mm }; if o.depth < 3.mm { }", "unknown-property", "");
}

#[test]
fn a_function_does_not_see_what_is_outside_it() {
    refused("let gap = 3.mm;\nfn f() { gap }\nf();", "unknown-name", "hand them in as arguments");
    refused("const GAP = 3.mm;\nfn f() { GAP }\nf();", "unknown-name", "hand them in as arguments");
    assert_eq!(value("let gap = 3; let f = |x| x + gap; f.call(4)"), "7");
}

#[test]
fn what_would_wait_or_leave_or_build_code_is_not_there() {
    for text in ["sleep(1);", "sleep(1.5);", "exit();", "exit(3);", "fn f() { this = 3; } let x = 1; x.f();"] {
        assert_eq!(error(text).code, "not-in-recipes", "{text}");
    }
    for text in ["eval(\"1\");", "let x = eval(\"1\");"] {
        assert_eq!(error(text).code, "syntax", "{text}");
    }
    assert_eq!(error("timestamp();").code, "unknown-function");
}

// Imports.

fn world() -> Memory {
    Memory::new()
        .with("shop/legs.rhai", "const COUNT = 4;\nlet outside = 3;\nfn legs(height) { height * COUNT_OF() }\nfn COUNT_OF() { 2 }\nnote(\"not run\");\ninput(\"ghost\", #{ default: 1 });\npart(\"ghost\", #{});")
        .with("shop/parts/rails.rhai", "import \"legs\" as l;\nfn rail(height) { l::legs(height) }")
        .with("shop/broken.rhai", "fn f(a) {\n    a + hieght\n}")
        .with("shop/deep.rhai", "fn outer(a) {\n    inner(a)\n}\n\nfn inner(a) {\n    a + 1\n}")
        .with("shop/ring.rhai", "import \"ring2\" as r;")
        .with("shop/ring2.rhai", "import \"ring\" as r;")
        .with("shop/drawer-box.rhai", "fn f() { 1 }")
        .with("secret.rhai", "fn f() { 1 }")
}

/// Runs a recipe of the memory world's `shop` folder; gives its notes and findings.
fn in_shop(text: &str) -> (Vec<String>, Vec<Finding>) {
    on_script_thread(|| {
        let bench = Workbench::new(world().with("shop/main.rhai", text));
        match bench.open("shop/main.rhai") {
            Ok(recipe) => {
                let drawn = bench.run(&recipe, order(&Shop::default()));
                (drawn.model.notes, drawn.findings)
            }
            Err(findings) => (Vec::new(), findings),
        }
    })
}

#[test]
fn functions_and_constants_come_over_and_nothing_else_runs() {
    let (notes, found) = in_shop("import \"legs\" as l; note(`${l::legs(3)} ${l::COUNT}`);");
    assert!(found.is_empty(), "{found:?}");
    assert_eq!(notes, ["6 4"]);
    let (notes, _) = in_shop("import \"parts/rails\" as r; note(`${r::rail(5)}`);");
    assert_eq!(notes, ["10"]);
    let (_, found) = in_shop("import \"legs\" as l; let x = l::outside;");
    assert_eq!(found.len(), 1, "{found:?}");
}

#[test]
fn imports_stay_in_their_folder() {
    for (text, code, hint) in [
        ("import \"../secret\" as s;", "import-outside", "plain name"),
        ("import \"/etc/passwd\" as s;", "import-outside", "plain name"),
        ("import \"..\\\\secret\" as s;", "import-outside", "plain name"),
        ("import \"parts/../../secret\" as s;", "import-outside", "plain name"),
        ("import \"ring\" as s;", "import-cycle", "third file"),
        ("import \"drawer-box\" as s;", "import-twofold", "another name"),
        ("import \"face-fram\" as s;", "import-missing", "did you mean `face-frame`?"),
        ("import \"nothing\" as s;", "import-missing", "put `nothing.rhai` into the folder"),
    ] {
        let (_, found) = in_shop(text);
        assert_eq!(found.len(), 1, "{text}: {found:?}");
        assert_eq!(found[0].code, code, "{text}: {}", found[0]);
        assert!(found[0].hint.as_deref().unwrap_or("").contains(hint), "{text}: {}", found[0]);
    }
    let (_, found) = in_shop("import \"face-frame\" as f; import \"edged-panel\" as p;");
    assert!(found.is_empty(), "{found:?}");
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_not_followed() {
    let folder = tempfile::tempdir().unwrap();
    let shop = folder.path().join("shop");
    std::fs::create_dir(&shop).unwrap();
    std::fs::write(folder.path().join("secret.rhai"), "fn f() { 1 }").unwrap();
    std::fs::write(shop.join("main.rhai"), "import \"link\" as l;").unwrap();
    std::os::unix::fs::symlink(folder.path().join("secret.rhai"), shop.join("link.rhai")).unwrap();
    let main = shop.join("main.rhai").display().to_string();
    let found = on_script_thread(|| {
        let bench = Workbench::new(Disk);
        let recipe = bench.open(&main).unwrap();
        bench.run(&recipe, order(&Shop::default())).findings
    });
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].code, "import-outside");
}

#[test]
fn errors_point_into_the_imported_file_with_the_way_there() {
    let (_, found) = in_shop("import \"deep\" as d;\n\nlet x = d::outer(3.mm);");
    assert_eq!(found.len(), 1, "{found:?}");
    let at = found[0].at.as_ref().unwrap();
    assert_eq!((&*at.file, at.line, at.column), ("shop/deep.rhai", 6, 7));
    let way: Vec<(&str, u32, u32)> = found[0].through.iter().map(|at| (&*at.file, at.line, at.column)).collect();
    assert_eq!(way, [("shop/deep.rhai", 2, 5), ("shop/main.rhai", 3, 12)]);
    let (_, found) = in_shop("let x = 1;\nimport \"broken\" as b;");
    let at = found[0].at.as_ref().unwrap();
    assert_eq!((&*at.file, at.line, at.column, at.span), ("shop/broken.rhai", 2, 9, 6));
    assert_eq!(found[0].through.iter().map(|at| at.line).collect::<Vec<_>>(), [2]);
}

// Inputs.

const ALL_KINDS: &str = "
    let a = input(\"a\", #{ default: 16.inch, min: 8.inch, max: 48.inch });
    let b = input(\"b\", #{ default: [36.inch], kind: \"lengths\", min: 1.inch });
    let c = input(\"c\", #{ default: 4, min: 1, max: 12 });
    let d = input(\"d\", #{ default: 3/2, kind: \"number\" });
    let e = input(\"e\", #{ default: \"inset\", choices: [\"inset\", \"applied\"] });
    let f = input(\"f\", #{ default: \"none\" });
    let g = input(\"g\", #{ default: true });
    note(`${a}|${b}|${c}|${d}|${e}|${f}|${g}`);";

#[test]
fn every_kind_of_input_is_read() {
    let notes = |inputs: &[(&str, &str)]| {
        let (model, found) = run_with(ALL_KINDS, inputs, None, &Shop::default());
        assert!(found.is_empty(), "{found:?}");
        model.notes[0].clone()
    };
    assert_eq!(notes(&[]), "16\"|[36\"]|4|3/2|inset|none|true");
    let given = [
        ("a", "16 7/8"),
        ("b", "36; 35-15/16; 36"),
        ("c", "6"),
        ("d", "7/8"),
        ("e", "applied"),
        ("f", "oak"),
        ("g", "no"),
    ];
    assert_eq!(notes(&given), "16-7/8\"|[36\", 35-15/16\", 36\"]|6|7/8|applied|oak|false");
    assert_eq!(notes(&[("d", "2"), ("g", "Yes")]), "16\"|[36\"]|4|2|inset|none|true");
}

/// A recipe that has lengths by default counts on some; one whose default is an empty list takes one.
#[test]
fn an_empty_list_is_taken_where_it_is_the_default() {
    let (_, found) = run_with(ALL_KINDS, &[("b", "")], None, &Shop::default());
    assert!(found.len() == 1 && found[0].message.contains("needs at least one length"), "{found:?}");
    let text = "let a = input(\"a\", #{ default: [], kind: \"lengths\" }); note(`${a}`);";
    let (model, found) = run_with(text, &[("a", "")], None, &Shop::default());
    assert!(found.is_empty(), "{found:?}");
    assert_eq!(model.notes, ["[]"]);
}

#[test]
fn every_slip_in_an_input_is_told_at_once() {
    let inputs = [
        ("a", "7"),
        ("b", "36; soon"),
        ("c", "13"),
        ("d", "much"),
        ("e", "insett"),
        ("g", "maybe"),
        ("h", "1"),
        ("c", "3"),
    ];
    let (_, found) = run_with(ALL_KINDS, &inputs, None, &Shop::default());
    let mut codes: Vec<&str> = found.iter().map(|finding| finding.code).collect();
    codes.sort_unstable();
    let mut wanted = vec!["wrong-input"; 4];
    wanted.extend(["input-given-twice", "input-out-of-range", "input-out-of-range", "unknown-input"]);
    wanted.sort_unstable();
    assert_eq!(codes, wanted, "{found:?}");
    // What cannot be used builds nothing, so that no fault follows from it.
    let text = format!("{ALL_KINDS} piece(\"a\"); let x = 1 / 0;");
    let (model, found) = run_with(&text, &[("a", "7")], None, &Shop::default());
    assert_eq!((found.len(), model.pieces.len()), (1, 1), "{found:?}");
}

#[test]
fn steps_count_from_the_least() {
    let text = "let a = input(\"a\", #{ default: 3.inch, min: 1.inch, step: (1/4).inch });";
    for (typed, fine) in [("1", true), ("1 1/4", true), ("3 3/8", false), ("1.25", true), ("1.3", false)] {
        let (_, found) = run_with(text, &[("a", typed)], None, &Shop::default());
        assert_eq!(found.is_empty(), fine, "{typed}: {found:?}");
    }
}

#[test]
fn the_order_goes_before_the_shop_and_the_shop_before_the_recipe() {
    let unit = |text: &str, order: Option<Unit>, shop: Option<Unit>| {
        let shop = Shop { units: shop, ..Shop::default() };
        let text = format!("{text} let a = input(\"a\", #{{ default: 1.mm, max: 100.inch }});");
        let (model, found) = run_with(&text, &[("a", "10")], order, &shop);
        assert!(found.is_empty(), "{found:?}");
        // The bare number is read in the same unit.
        let ten = if model.unit() == Unit::Inch { Length::from_inch(10, 1) } else { Length::from_mm(10) };
        assert_eq!(model.inputs[0].value, Value::Length(ten));
        model.unit()
    };
    let (inch, mm) = (Unit::Inch, Unit::Millimetre);
    assert_eq!(unit("", None, None), inch);
    assert_eq!(unit("units(\"mm\");", None, None), mm);
    assert_eq!(unit("units(\"mm\");", None, Some(inch)), inch);
    assert_eq!(unit("units(\"in\");", None, Some(mm)), mm);
    assert_eq!(unit("units(\"mm\");", Some(inch), Some(mm)), inch);
    assert_eq!(unit("units(\"in\");", Some(mm), Some(inch)), mm);
}

#[test]
fn requirements_are_told_together_and_stop_the_building() {
    let text = "requires(1 > 2, \"first\"); requires(2 > 1, \"fine\"); requires(1 > 3, \"second\"); piece(\"a\"); requires(false, \"never\");";
    let (model, found) = run_with(text, &[], None, &Shop::default());
    assert_eq!(found.iter().map(|finding| finding.message.as_str()).collect::<Vec<_>>(), ["first", "second"]);
    assert_eq!(model.pieces.len(), 1);
}

#[test]
fn what_a_recipe_says_is_a_finding() {
    let found = findings("print(7/8); warn(\"careful\"); debug(3.inch);");
    let told: Vec<(Severity, &str)> =
        found.iter().map(|finding| (finding.severity, finding.message.as_str())).collect();
    assert_eq!(told, [(Severity::Note, "7/8"), (Severity::Warning, "careful"), (Severity::Note, "3\"")]);
}

#[test]
fn what_would_move_the_pen_is_a_space() {
    let (model, found) = run_with("note(\"a\\x1b[31m\\nb\");", &[], None, &Shop::default());
    assert!(found.is_empty(), "{found:?}");
    assert_eq!(model.notes, ["a [31m b"]);
}

// The REPL's session.

/// Evaluates lines one after the other in one session, with inputs that may differ from line to line.
fn session(lines: &[(&str, &[(&str, &str)])], recipe: &str) -> Vec<Evaluated> {
    on_script_thread(|| {
        let bench = Workbench::new(world());
        let recipe = bench.compile("shop/main.rhai", recipe).expect("a recipe that can be read");
        let shop = Shop::default();
        let mut session = Session::default();
        lines
            .iter()
            .map(|(line, inputs)| {
                let inputs: Vec<(String, String)> =
                    inputs.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
                session.evaluate(&bench, Some(&recipe), Order { inputs: &inputs, units: None, shop: &shop }, line)
            })
            .collect()
    })
}

fn is(text: &str) -> Evaluated {
    Evaluated::Value(text.to_owned())
}

#[test]
fn a_session_keeps_variables_functions_and_imports() {
    let lines: &[(&str, &[(&str, &str)])] = &[
        ("let gap = 3.mm", &[]),
        ("fn twice(x) { 2 * x }", &[]),
        ("import \"legs\" as l", &[]),
        ("twice(gap) == 6.mm", &[]),
        ("l::legs(4)", &[]),
        ("thrice(2)", &[]),
        ("fn twice(x) { 20 * x }", &[]),
        ("twice(2)", &[]),
        ("gap += 1.mm", &[]),
        ("gap == 4.mm", &[]),
    ];
    let answers = session(lines, "fn thrice(x) { 3 * x }");
    assert_eq!(answers[3], is("true"));
    assert_eq!(answers[4], is("8"));
    assert_eq!(answers[5], is("6"));
    assert_eq!(answers[7], is("40"));
    assert_eq!(answers[9], is("true"));
    for quiet in [0, 1, 2, 6, 8] {
        assert_eq!(answers[quiet], Evaluated::Done, "{}", lines[quiet].0);
    }
}

#[test]
fn an_error_leaves_a_session_as_it_was() {
    let lines: &[(&str, &[(&str, &str)])] = &[
        ("let a = 1", &[]),
        ("a = 10; boom()", &[]),
        ("a = 10; let x = 1 / 0", &[]),
        ("a", &[]),
        ("let a = (", &[]),
        ("a", &[]),
        ("a = 1.mm + 2", &[]),
        ("a", &[]),
    ];
    let answers = session(lines, "");
    assert_eq!((&answers[3], &answers[5], &answers[7]), (&is("1"), &is("1"), &is("1")));
    let code = |answer: &Evaluated| match answer {
        Evaluated::Failed(findings) => {
            let at = findings[0].at.clone().unwrap();
            (findings[0].code, at.line, at.column, at.span)
        }
        other => panic!("{other:?}"),
    };
    assert_eq!(code(&answers[1]), ("unknown-function", 1, 9, 4));
    assert_eq!(code(&answers[2]), ("division-by-zero", 1, 19, 1));
    assert_eq!(code(&answers[6]), ("bare-number", 1, 10, 1));
    assert_eq!(answers[4], Evaluated::Incomplete);
}

#[test]
fn what_follows_from_an_input_follows_its_change() {
    let lines: &[(&str, &[(&str, &str)])] =
        &[("let half = width / 2", &[]), ("half", &[]), ("half", &[("width", "30")]), ("width", &[("width", "12mm")])];
    let answers = session(lines, "let width = input(\"width\", #{ default: 16.inch });");
    assert_eq!(answers[1..3], [is("8\""), is("15\"")]);
    assert_eq!(answers[3], is("15/32\"+"));
}

#[test]
fn a_line_that_is_not_finished_waits_for_more() {
    let waits =
        |line: &str| on_script_thread(|| Session::default().is_incomplete(&Workbench::new(Memory::new()), line));
    for line in [
        "let a = [1,",
        "fn f() {",
        "if true {",
        "part(\"side\", #{",
        "let x = 1 +",
        "let m = #{ a: 1",
        "f(1,",
        "let t = `open",
        "/* a comment",
        "let x = (1 + 2",
        "if x",
        "x.",
        "let a =",
        "let a = width +",
        "let a = [width,",
        "l::legs(",
    ] {
        assert!(waits(line), "{line}");
    }
    for line in [
        "let a = 1",
        "f(1)",
        "\"open",
        "let x = ) 1",
        "a b",
        "",
        "// a comment",
        "wdth",
        "let t = `closed`",
        "/* c */ 1",
        "let q = \"/*\"",
    ] {
        assert!(!waits(line), "{line}");
    }
}

#[test]
fn one_recipe_draws_the_same_model_every_time() {
    let draw = |bench: &Workbench, name: &str| {
        let recipe = bench.open(name).unwrap();
        let drawn = bench.run(&recipe, order(&Shop::default()));
        format!("{:?} {:?}", drawn.model, drawn.findings)
    };
    on_script_thread(|| {
        let (one, two) = (Workbench::new(Memory::new()), Workbench::new(Memory::new()));
        for built_in in casewright::script::library() {
            let first = draw(&one, built_in.name);
            assert_eq!(first, draw(&one, built_in.name), "{}", built_in.name);
            assert_eq!(first, draw(&two, built_in.name), "{}", built_in.name);
        }
    });
}
