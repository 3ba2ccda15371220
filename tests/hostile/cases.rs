//! The attacks, each with how it has to end.

use std::fs;
use std::path::Path;

/// How an attack has to end.
#[derive(Clone, Copy, Debug)]
pub enum Ends {
    /// With an error of this code.
    Code(&'static str),
    /// With an error of one of these codes: which limit is met first depends on the machine.
    OneOf(&'static [&'static str]),
    /// Without an error: it does no harm.
    Well,
}

/// An attack.
pub struct Case {
    /// Its name.
    pub name: &'static str,
    /// Writes its files into a folder; `main.rhai` is the recipe.
    pub write: fn(&Path),
    /// How it has to end.
    pub ends: Ends,
}

use Ends::{Code, OneOf, Well};

const TOO_MUCH: Ends = OneOf(&["recipe-too-large", "recipe-too-slow", "recipe-too-long"]);
const TOO_LARGE: Ends = Code("recipe-too-large");
const TOO_DEEP: Ends = Code("recipe-too-deep");

macro_rules! cases {
    ($($name:literal => $ends:expr, $text:expr;)+) => {
        &[$(Case { name: $name, write: |folder| main(folder, $text), ends: $ends }),+]
    };
}

/// What most of the attacks on the model begin with.
const STOCK: &str = "let ply = stock(\"3/4 birch plywood\");
    fn shelf(ply, left) { part(\"shelf\", #{ stock: ply, left: left, width: 10.inch, front: 0.mm, depth: 8.inch, bottom: 0.mm }) }
    fn post(ply, left) { part(\"post\", #{ stock: ply, left: left, front: 0.mm, depth: 8.inch, bottom: 0.mm, height: 10.inch }) }\n";

/// The attacks.
pub fn all() -> impl Iterator<Item = &'static Case> {
    [STEPS, MEMORY, SHAPES, NUMBERS, DOORS, MODEL, CUTS, FILES].into_iter().flatten()
}

/// Recipes that do not end.
const STEPS: &[Case] = cases! {
    "loop" => Code("recipe-too-long"), "loop { }";
    "while true" => Code("recipe-too-long"), "while true { let x = 1; }";
    "loop in try" => Code("recipe-too-long"), "loop { try { loop { } } catch { } }";
    "nested for" => TOO_MUCH, "let n = 0; for a in 0..100000 { for b in 0..100000 { for c in 0..100000 { n += 1; } } }";
    "huge range" => TOO_MUCH, "let n = 0; for a in 0..9223372036854775807 { n += 1; }";
    "huge stepped range" => TOO_MUCH, "let n = 0; for a in range(-9223372036854775807, 9223372036854775807, 1) { n += 1; }";
    "recursion" => TOO_DEEP, "fn f(x) { f(x + 1) } f(0)";
    "mutual recursion" => TOO_DEEP, "fn f(x) { g(x) } fn g(x) { f(x) } f(0)";
    "recursion in try" => OneOf(&["recipe-too-deep", "recipe-too-long", "recipe-too-slow"]),
        "fn f(x) { try { f(x + 1) } catch { f(x) } } f(0)";
    "closure recursion" => TOO_DEEP, "let f = |g, n| g.call(g, n + 1); f.call(f, 0)";
    "slow equality" => TOO_MUCH,
        "let a = []; a.pad(9000, 1); let b = a; let n = 0; loop { if a == b { n += 1; } }";
    "slow search" => TOO_MUCH, "let s = \"x\"; s.pad(49000, 'x'); loop { if s.contains(\"xxxxxxxxxxxy\") { stop(\"\"); } }";
    "slow sort" => TOO_MUCH, "let a = []; for i in 0..9000 { a.push(9000 - i); } loop { let b = a; b.sort(); }";
    "sort by a random comparer" => OneOf(&["recipe-fault", "recipe-too-long", "recipe-too-slow", "wrong-kind", "recipe-stop"]),
        "let n = 1; let a = []; for i in 0..2000 { a.push(i); }
         loop { a.sort(|x, y| { n = (n * 7919 + 13) % 1009; n % 3 - 1 }); }";
    "error in a comparer" => OneOf(&["recipe-stop", "recipe-fault"]), "let a = [3, 1, 2]; a.sort(|x, y| stop(\"no\")); stop(\"after\")";
    "sort by nonsense" => Code("wrong-kind"), "let a = [3, \"a\", 2.5, 1.mm]; a.sort();";
};

/// Recipes that fill the machine.
const MEMORY: &[Case] = cases! {
    "text doubling" => TOO_LARGE, "let s = \"xx\"; loop { s += s; }";
    "interpolation doubling" => TOO_LARGE, "let s = \"xx\"; loop { s = `${s}${s}`; }";
    "list of itself" => TOO_LARGE, "let a = [1]; loop { a = [a, a]; }";
    "list appended to itself" => TOO_LARGE, "let a = [1]; loop { a += a; }";
    "push without end" => TOO_MUCH, "let a = []; loop { a.push(1); }";
    "range to list" => TOO_LARGE, "let a = []; for i in 0..1000000 { a += i; }";
    "pad a list" => TOO_LARGE, "let a = []; a.pad(2000000000, 0);";
    "pad a text" => TOO_LARGE, "let s = \"\"; s.pad(2000000000, 'x');";
    "pad a text with a text" => TOO_LARGE, "let s = \"\"; s.pad(2000000000, \"xyz\");";
    "insert far out" => Well, "let a = []; a.insert(2000000000, 1);";
    "replace text by text" => TOO_LARGE, "let s = \"x\"; s.pad(49000, 'x'); s.replace(\"x\", s);";
    "replace letter by text" => TOO_LARGE, "let s = \"x\"; s.pad(49000, 'x'); let t = s; s.replace('x', t);";
    "replace nothing by text" => TOO_LARGE, "let s = \"x\"; s.pad(49000, 'x'); let t = s; s.replace(\"\", t);";
    "replace text by letter" => Well, "let s = \"x\"; s.pad(49000, 'x'); s.replace(\"xx\", 'y');";
    "split into letters" => TOO_LARGE, "let s = \"x\"; s.pad(49000, 'x'); let a = s.split(\"\"); a.len";
    "letters" => TOO_LARGE, "let s = \"x\"; s.pad(49000, 'x'); let a = s.to_chars();";
    "map of big texts" => TOO_LARGE, "let m = #{}; for i in 0..5000 { let s = `${i}`; s.pad(49000, 'x'); m[`k${i}`] = s; }";
    "map filled by key" => TOO_LARGE, "let m = #{}; for i in 0..200000 { m[`k${i}`] = i; }";
    "map filled through another" => TOO_LARGE,
        "let m = #{ a: #{ b: #{} } }; for i in 0..200000 { m.a.b[`k${i}`] = i; }";
    "list filled with one text" => TOO_LARGE,
        "let s = \"x\"; s.pad(49000, 'y'); let a = []; a.pad(9000, 0); for i in 0..9000 { a[i] = s; } let t = `${a}`;";
    "list filled with lists of one text" => TOO_LARGE,
        "let s = \"x\"; s.pad(900, 'y'); let b = []; b.pad(50, s); let a = []; a.pad(9000, 0);
         for i in 0..9000 { a[i] = b; } switch a { 1 => 2, _ => 3 }";
    "list filled in a function" => TOO_LARGE,
        "fn fill(a, s) { for i in 0..9000 { a[i] = s; } a } let s = \"x\"; s.pad(49000, 'y');
         let a = []; a.pad(9000, 0); a = fill(a, s); a == a";
    "list filled by this" => Code("not-in-recipes"),
        "fn fill(s) { for i in 0..9000 { this[i] = s; } } let s = \"x\"; s.pad(49000, 'y');
         let a = []; a.pad(9000, 0); a.fill(s); print(a);";
    "lists of lists, each within its limit" => TOO_LARGE,
        "let m = #{}; for i in 0..1000 { m[`k${i}`] = 0; } m.map(|k| { let a = []; a.pad(9000, 0); a })";
    "list through map" => TOO_LARGE, "let a = []; a.pad(9000, 0); a.map(|x| { let b = []; b.pad(9000, 0); b })";
    "copies of a large list" => TOO_LARGE,
        "let a = []; a.pad(9000, 0); let f = |n, v, f| { let b = v; f.call(n + 1, b, f) };
         let keep = #{}; for i in 0..4000 { keep[`k${i}`] = a; }";
    "two thousand variables" => TOO_MUCH, &many(2_000, |i| format!("let v{i} = \"\"; v{i}.pad(49000, 'x');\n"));
    "two thousand functions" => TOO_LARGE, &many(2_000, |i| format!("fn f{i}() {{ }}\n"));
    "closure chain" => TOO_MUCH, "let f = || 1; for i in 0..2000000 { let g = f; f = || g; }";
    "closures in themselves" => OneOf(&["recipe-too-large", "recipe-too-long", "recipe-too-slow", "value-in-use"]),
        "for i in 0..1000000 { let m = #{ big: [1, 2, 3, 4, 5, 6, 7, 8] }; let f = || m; m.f = f; }";
    "curried chain" => TOO_MUCH, "let f = |x| x; loop { f = f.curry(f); }";
    "deep list, dropped" => TOO_MUCH, "let a = []; for i in 0..1000000 { a = [a]; }";
    "deep list, compared" => TOO_MUCH,
        "let a = []; for i in 0..3000 { a = [a]; } let b = a; for i in 0..1000000 { if a == b { a = [a]; } }";
    "deep map" => TOO_MUCH, "let a = #{}; for i in 0..1000000 { a = #{ a: a }; }";
    "deep list by index" => TOO_MUCH, "let a = [0]; for i in 0..1000000 { let b = [0]; b[0] = a; a = b; }";
    "deep list, printed" => TOO_MUCH, "let a = []; for i in 0..9000 { a = [a]; } loop { print(a); }";
    "print flood" => TOO_MUCH, "loop { print(\"flood\"); }";
    "print of a long text" => Well, "let s = \"x\"; s.pad(49000, 'x'); for i in 0..100 { print(s); debug(s); }";
    "note flood" => TOO_LARGE, "loop { note(\"flood\"); }";
    "empty note flood" => TOO_LARGE, "loop { note(\"\"); }";
    "warning flood" => TOO_LARGE, "loop { warn(\"\"); }";
    "requirement flood" => TOO_LARGE, "loop { requires(false, \"\"); }";
    "input flood" => TOO_LARGE, "let i = 0; loop { input(`i${i}`, #{ default: 1 }); i += 1; }";
    "long message" => OneOf(&["recipe-stop"]), "let s = \"x\"; s.pad(49000, 'x'); stop(s);";
    "thrown list" => OneOf(&["recipe-stop"]), "let a = []; a.pad(9000, 1); throw a;";
    "long name looked up" => Code("unknown-stock"), "let s = \"x\"; s.pad(49000, 'x'); stock(s);";
    "long option looked up" => Code("unknown-option"),
        "let s = \"x\"; s.pad(49000, 'x'); let m = #{}; m[s] = 1; let ply = stock(\"3/4 birch plywood\"); part(\"a\", m);";
    "long slides looked up" => Code("unknown-hardware"), "let s = \"x\"; s.pad(49000, 'x'); slides(s, #{});";
    "long length" => OneOf(&["not-a-length"]),
        "let s = \"1\"; s.pad(49000, '1'); place(piece(\"a\"), #{ left: s });";
};

/// Texts whose shape is the attack.
const SHAPES: &[Case] = cases! {
    "nested brackets" => TOO_DEEP, &nested("(", "1", ")", 60_000);
    "nested lists" => TOO_DEEP, &nested("[", "1", "]", 60_000);
    "nested options" => TOO_DEEP, &nested("#{a:", "1", "}", 40_000);
    "nested blocks" => OneOf(&["recipe-too-deep", "syntax"]), &nested("{", "1", "}", 60_000);
    "nested calls" => TOO_DEEP, &nested("abs(", "1", ")", 40_000);
    "nested index" => TOO_DEEP, &nested("[1][", "1", "]", 40_000);
    "nested closures" => TOO_DEEP, &nested("|a| ", "1", "", 40_000);
    "nested interpolation" => OneOf(&["recipe-too-deep", "syntax"]), &nested("`${", "1", "}`", 40_000);
    "nested if" => TOO_DEEP, &nested("if true { ", "1", "}", 20_000);
    "else if chain" => OneOf(&["recipe-too-deep", "recipe-too-large"]), &format!("if false {{ }}{}", " else if false { }".repeat(5_000));
    "nested functions" => Code("syntax"), &nested("fn f() { ", "1", "}", 20_000);
    "nested loops" => TOO_DEEP, &nested("loop { ", "break;", "}", 20_000);
    "nested switch" => TOO_DEEP, &nested("switch 1 { _ => ", "1", "}", 10_000);
    "nested try" => TOO_DEEP, &nested("try { ", "1", "} catch { }", 10_000);
    "nested comments" => Code("syntax"), &format!("let x = (1 {}", "/*".repeat(40_000));
    "minus signs" => TOO_DEEP, &format!("let x = {}1;", "-".repeat(90_000).replace("--", "- "));
    "exclamation marks" => TOO_DEEP, &format!("let x = {}true;", "!".repeat(90_000));
    "chained points" => OneOf(&["recipe-too-deep", "unknown-property"]), &format!("let x = 1{};", ".mm".repeat(30_000));
    "chained additions" => TOO_DEEP, &format!("let x = 1{};", " + 1".repeat(20_000));
    "chained divisions" => TOO_DEEP, &format!("let x = 1{};", " / 1".repeat(20_000));
    "chained comparisons" => TOO_DEEP, &format!("let x = true{};", " && true".repeat(11_000));
    "forty thousand arguments" => TOO_LARGE, &format!("nothing({}1);", "1,".repeat(45_000));
    "many arguments for a function of ours" => TOO_LARGE, &format!("part({}1);", "1,".repeat(100));
    "many arguments for a method" => TOO_LARGE, &format!("let a = 1; a.foo({}1);", "1,".repeat(100));
    "many parameters" => Code("wrong-arguments"), &format!("fn f({}) {{ }} f(1)", (0..14_000).map(|i| format!("a{i}")).collect::<Vec<_>>().join(","));
    "many parameters of a closure" => Well, &format!("let f = |{}| 1;", (0..14_000).map(|i| format!("a{i}")).collect::<Vec<_>>().join(","));
    "many variables in use" => TOO_LARGE, &many(5_000, |i| format!("let a{i}=1;a{i};"));
    "many variables in a closure" => TOO_LARGE, &format!("{}let f = || {{ {} }};", many(4_000, |i| format!("let a{i}=1;")), many(4_000, |i| format!("a{i};")));
    "curried many times" => OneOf(&["recipe-too-large", "recipe-too-slow", "unknown-function", "wrong-arguments"]),
        "let f = Fn(\"nothing\"); for i in 0..200 { f = f.curry(1); } f.call()";
    "many unknown functions" => Code("unknown-function"), &"wdth();".repeat(13_000);
    "many unknown variables" => OneOf(&["unknown-name"]), &"wdth;".repeat(18_000);
    "many options" => OneOf(&["recipe-too-large", "unknown-option"]),
        &format!("piece(\"a\", #{{ {} }})", (0..9_000).map(|i| format!("a{i}: 1")).collect::<Vec<_>>().join(","));
    "a source of a megabyte" => OneOf(&["recipe-too-large", "unreadable-file"]), &"let x = 1;\n".repeat(100_000);
    "a source just within the limit" => Well, &"let x = 1;\n".repeat(8_900);
    "a line of all columns" => Code("unknown-name"), &format!("{}wdth", " ".repeat(90_000));
    "digits" => OneOf(&["syntax", "number-too-large"]), &format!("let x = {};", "9".repeat(90_000));
    "decimal places" => Code("syntax"), &format!("let x = 0.{};", "9".repeat(90_000));
    "exponent" => OneOf(&["syntax", "number-too-large"]), "let x = 1e400;";
    "a long text in the source" => TOO_LARGE, &format!("let x = \"{}\";", "x".repeat(90_000));
    "a long name in the source" => Code("unknown-name"), &format!("let x = {};", "x".repeat(90_000));
    "NUL bytes" => Code("syntax"), "let x = \0 1;";
    "control characters" => Code("syntax"), "let x = \u{1b}[2J 1;";
    "byte order mark" => Well, "\u{feff}let x = 1;";
    "right-to-left override" => Code("syntax"), "let x = \u{202e}1;";
    "empty" => Well, "";
    "only a comment" => Well, "/* never closed";
    "carriage returns" => Code("unknown-name"), "let x = 1;\r\nlet y = 2;\r\nwdth;\r\n";
};

/// Numbers at the ends of their range.
const NUMBERS: &[Case] = cases! {
    "smallest by minus one" => Code("number-too-large"), "let m = -9223372036854775807 - 1; let x = m / -1;";
    "smallest modulo minus one" => OneOf(&["number-too-large", "division-by-zero"]), "let m = -9223372036854775807 - 1; let x = m % -1;";
    "modulo zero" => Code("division-by-zero"), "let x = 5 % 0;";
    "length modulo zero" => Code("division-by-zero"), "let x = 5.mm % 0.mm;";
    "smallest as a fraction" => Code("number-too-large"), "let m = -9223372036854775807 - 1; let x = -(m / 3);";
    "absolute of the smallest fraction" => Code("number-too-large"), "let m = -9223372036854775807 - 1; let x = abs(m / 3);";
    "absolute of the smallest" => Code("number-too-large"), "let m = -9223372036854775807 - 1; let x = abs(m);";
    "ceiling of the largest fraction" => Well, "let x = ceiling(9223372036854775807 / 2); if x != 4611686018427387904 { stop(`${x}`); }";
    "floor of the smallest fraction" => Well, "let x = floor((-9223372036854775807) / 2); if x != -4611686018427387904 { stop(`${x}`); }";
    "length over the smallest" => Well, "let m = -9223372036854775807 - 1; let x = 24.inch / m;";
    "length times the largest" => Code("number-too-large"), "let x = 24.inch * 9223372036854775807;";
    "length of the largest" => Code("number-too-large"), "let x = 9223372036854775807.mm;";
    "metres of the largest" => Code("number-too-large"), "let x = 9223372036854775807.m;";
    "lengths added" => Code("number-too-large"), "let x = 1000.m; loop { x += 1.mm; }";
    "fractions with large parts" => Code("number-too-large"), "let x = 1/3; let n = 5; loop { x = x + 1/n; n += 2; }";
    "fractions multiplied" => Code("number-too-large"), "let x = 9999999967/9999999943; loop { x = x * x; }";
    "decimal powers" => OneOf(&["number-too-large", "wrong-kind", "wrong-arguments"]), "let x = 1.5; loop { x = x * x; }";
    "power" => Code("number-too-large"), "let x = 2 ** 100000;";
    "negative power" => OneOf(&["number-too-large", "recipe-fault"]), "let x = 2 ** -1;";
    "shifts" => Code("recipe-stop"), "let x = 1 << 9223372036854775807; let y = 1 << -1; let z = 1 >> 64; stop(\"\"); ";
    "sum beyond" => Code("number-too-large"), "sum([1000.m, 1000.m])";
    "range of fractions" => OneOf(&["wrong-kind", "wrong-arguments", "unknown-function"]), "for i in (1/2)..(7/2) { }";
    "round to a huge step" => Well, "let x = round_up(1.mm, 1000.m); let y = round_down(-1.mm, 1000.m); let z = round_to(1000.m, 999.m);";
    "text extremes" => Well,
        "let s = \"abc\"; for i in [9223372036854775807, -9223372036854775807, 0, -1, 3] { for n in [9223372036854775807, -9223372036854775807, 0] {
            s.sub_string(i, n); let t = s; t.crop(i, n); t = s; t.truncate(n); s.index_of(\"c\", i); s.split(i);
            let a = [1, 2]; a.splice(i, n, [3]); a.extract(i, n); a.chop(n); a.insert(i, 1); a.remove(i); a.drain(i, n); a.retain(i, n); a.split(i);
        } }";
    "bit fields" => Code("unknown-function"), "let x = 1; x.set_bits(0..9223372036854775807, -1); x.get_bits(-64, 9999); x[70] = true;";
    "letters of numbers" => Code("number-too-large"), "let x = parse_int(\"99999999999999999999999\");";
    "split of a length" => Code("wrong-count"), "split(1.inch, 9223372036854775807)";
    "split by nothing" => Code("wrong-count"), "split(1.inch, 0)";
    "step of zero" => OneOf(&["wrong-default", "recipe-fault", "size-without-size"]), "input(\"a\", #{ default: 1.mm, step: -1.mm, min: 2.mm })";
};

/// Ways out of a recipe.
const DOORS: &[Case] = cases! {
    "eval" => Code("syntax"), "eval(\"loop {}\")";
    "sleep" => Code("not-in-recipes"), "sleep(60)";
    "sleep by a decimal" => Code("not-in-recipes"), "sleep(60.5)";
    "exit" => Code("not-in-recipes"), "exit(0)";
    "plain exit" => Code("not-in-recipes"), "exit()";
    "exit in a closure" => Code("not-in-recipes"), "[1].map(|x| exit(x))";
    "caught exit" => Code("recipe-stop"), "try { exit(0) } catch { } stop(\"still here\")";
    "caught stop of the clock" => TOO_MUCH, "try { loop { } } catch { }";
    "open" => Code("unknown-function"), "open_file(\"/etc/passwd\")";
    "timestamp" => Code("unknown-function"), "timestamp()";
    "random" => Code("unknown-function"), "rand()";
    "json" => OneOf(&["not-in-recipes", "unknown-function"]), "parse_json(\"[[[[\")";
    "metadata" => TOO_MUCH, "loop { get_fn_metadata_list(); }";
    "debug of everything" => Well,
        "for it in [1, 1.5, 1/2, 1.mm, \"a\", 'a', true, (), [1], #{ a: 1 }, |x| x, stock(\"3/4 birch plywood\"), piece(\"p\"), 0..3, 0..=3, required()] { print(it); debug(it); print(`${it}`); }";
    "closure of a closure printed" => Well, "let a = []; a.pad(5000, 1); let f = |x, y| x; f = f.curry(a); print(f); debug(f); print(`${f}`);";
    "shared values in lists" => Well,
        "let x = \"a\"; let f = || x; let a = [x, [x]]; a[0] = x; a.push(x); let m = #{ x: x }; m.y = x; m.z = [x, #{ x: x }];
         let g = || { a.push(1); m.q = a; m }; g.call(); a += a; let b = a + [x]; print(b); print(m); b == a; m == m; for i in a { let h = || i; b.push(i); } print(b);";
    "shared loop values" => Well,
        "let all = []; for i in 0..10 { let c = [i]; let f = || { c.push(i); c }; all.push(f.call()); all[i] = c; } print(all); all.push(all); print(all);";
    "list given to itself" => OneOf(&["value-in-use"]), "let a = [1]; a.map(|x| a.len);";
    "control characters in a message" => Code("recipe-stop"), "stop(\"\\x1b[2J\\x07\")";
};

/// Models that take long, or that cannot be.
const MODEL: &[Case] = cases! {
    "thirty thousand parts" => TOO_LARGE, &format!("{STOCK} for i in 0..30000 {{ shelf(ply, 0.mm); }}");
    "parts in one place" => Code("shared-space"), &format!("{STOCK} for i in 0..4900 {{ shelf(ply, 0.mm); }}");
    "parts side by side" => Well, &format!("{STOCK} for i in 0..4900 {{ post(ply, i * 1.inch); }}");
    "parts on top of each other" => Well,
        &format!("{STOCK} for i in 0..4900 {{ part(\"p\", #{{ stock: ply, left: 0.mm, width: 9.inch, front: 0.mm, depth: 9.inch, bottom: i * 1.inch }}); }}");
    "thirty thousand pieces" => TOO_LARGE, "for i in 0..30000 { piece(\"a\"); }";
    "pieces in pieces" => TOO_DEEP, "let a = piece(\"a\"); for i in 0..4000 { let b = piece(\"b\"); place(b, #{ in_piece: a }); a = b; }";
    "pieces round pieces" => TOO_DEEP, "let a = piece(\"a\"); for i in 0..4000 { let b = piece(\"b\"); place(a, #{ in_piece: b }); a = b; }";
    "piece in itself" => Code("placed-in-itself"), "let a = piece(\"a\"); place(a, #{ in_piece: a });";
    "pieces in a ring" => Code("placed-in-itself"), "let a = piece(\"a\"); let b = piece(\"b\"); place(a, #{ in_piece: b }); place(b, #{ in_piece: a });";
    "size of a piece, often" => TOO_MUCH, &format!("{STOCK} let a = piece(\"a\"); for i in 0..4000 {{ a.part(\"p\", #{{ stock: ply, left: 0.mm, width: 9.inch, front: 0.mm, depth: 9.inch, bottom: i * 1.inch }}); }} loop {{ a.width; }}");
    "thirty thousand openings" => TOO_LARGE, "for i in 0..30000 { opening(\"a\", #{ widths: 9.inch, heights: 9.inch, depth: 9.inch }); }";
    "an opening of many readings" => OneOf(&["recipe-too-large"]),
        "let w = []; w.pad(9000, 9.inch); loop { opening(\"a\", #{ widths: w, heights: w, depth: 9.inch }); }";
    "thirty thousand marks" => TOO_LARGE, "loop { mark_out(\"a\", #{ from: \"the floor\", distance: 1.mm }); }";
    "thirty thousand squares" => TOO_LARGE, "loop { check_square(\"a\", #{ width: 1.mm, depth: 1.mm }); }";
    "thirty thousand pulls" => TOO_LARGE, "loop { hardware(\"pull\", #{}); }";
    "thirty thousand stocks" => TOO_LARGE, "let i = 0; loop { sheet(`s${i}`, #{ thickness: 1.mm, length: 1.m, width: 1.m }); i += 1; }";
    "boxes on slides" => OneOf(&["recipe-too-large", "shared-space"]),
        &format!("{STOCK} let space = opening(\"o\", #{{ widths: 12.inch, heights: 12.inch, depth: 22.inch }}); let s = slides(\"side-mount slides\", #{{}});
        let boxes = []; for i in 0..1000 {{ let b = piece(\"b\"); b.part(\"p\", #{{ stock: ply, left: 0.mm, width: 11.inch, front: 0.mm, depth: 11.inch, bottom: 0.mm }}); hang(b, #{{ on: s, opening: space, length: 10.inch }}); }}");
    "measured stocks on slides" => Code("moves-twice"),
        &format!("{STOCK} let space = opening(\"o\", #{{ widths: 12.inch, heights: 12.inch, depth: 22.inch }}); let s = slides(\"side-mount slides\", #{{}});
        let b = piece(\"b\"); place(b, #{{}}); for i in 0..490 {{ let own = sheet(`s${{i}}`, #{{ thickness: 19.mm, measured: 18.mm, length: 1.m, width: 1.m }});
        b.part(\"p\", #{{ stock: own, left: 0.mm, width: 11.inch, front: 0.mm, depth: 11.inch, bottom: i * 1.inch }}); hang(b, #{{ on: s, opening: space, length: 10.inch }}); }}");
    "fronts in one place" => Code("reveal-closed"),
        &format!("{STOCK} let space = opening(\"o\", #{{ widths: 12.inch, heights: 12.inch, depth: 22.inch }}); for i in 0..4000 {{ front_of(shelf(ply, 0.mm), #{{ opening: space, style: \"inset\" }}); }}");
    "one front, often" => OneOf(&["recipe-too-large", "reveal-closed"]),
        &format!("{STOCK} let space = opening(\"o\", #{{ widths: 12.inch, heights: 12.inch, depth: 22.inch }}); let f = shelf(ply, 0.mm); loop {{ front_of(f, #{{ opening: space, style: \"inset\" }}); }}");
    "a part of a kilometre" => Code("part-beyond-stock"),
        &format!("{STOCK} part(\"a\", #{{ stock: ply, left: -1000.m, right: 1000.m, front: -1000.m, back: 1000.m, bottom: 0.mm }});");
    "a stock of a kilometre" => OneOf(&["part-beyond-stock", "shared-space"]),
        "let huge = sheet(\"huge\", #{ thickness: 1000.m, length: 1000.m, width: 1000.m }); for i in 0..3 { part(\"a\", #{ stock: huge, left: -1000.m, right: 1000.m, front: -1000.m, back: 1000.m, bottom: 0.mm }); }";
    "a part of nothing" => Code("part-without-size"),
        &format!("{STOCK} part(\"a\", #{{ stock: ply, left: 0.mm, width: 0.mm, front: 0.mm, depth: 1.m, bottom: 0.mm }});");
    "a part of less than nothing" => Code("part-without-size"),
        &format!("{STOCK} part(\"a\", #{{ stock: ply, left: 0.mm, width: -5.mm, front: 0.mm, depth: 1.m, bottom: 0.mm }});");
    "an opening of nothing" => Code("size-without-size"), "opening(\"a\", #{ widths: [0.mm, 9.inch], heights: 9.inch, depth: 9.inch });";
    "an opening of no readings" => Code("size-without-size"), "opening(\"a\", #{ widths: [], heights: 9.inch, depth: 9.inch });";
    "a roll of nothing" => Code("size-without-size"), "band(\"b\", #{ width: 20.mm, thickness: 1.mm, roll: 0.mm });";
    "boards of nothing" => Code("size-without-size"), "board(\"b\", #{ species: \"oak\", thickness: 20.mm, widths: [0.mm], lengths: [-1.m] });";
    "a sheet of nothing" => Code("size-without-size"), "sheet(\"b\", #{ thickness: 20.mm, length: 0.mm, width: -1.m });";
    "a price beyond" => Code("wrong-price"), "sheet(\"b\", #{ thickness: 20.mm, length: 1.m, width: 1.m, price: 9223372036854775807 });";
    "slides of nothing" => Code("size-without-size"), "slides(\"side-mount slides\", #{ lengths: [0.mm, -5.mm] });";
    "slides of less than nothing" => Code("size-without-size"), "slides(\"side-mount slides\", #{ clearance: -5.mm });";
    "hardware without end" => Code("wrong-count"), "hardware(\"pull\", #{ quantity: 9223372036854775807 });";
    "bands thicker than the part" => Code("part-without-size"),
        &format!("{STOCK} let thick = band(\"thick\", #{{ width: 20.mm, thickness: 200.mm }}); band_edges(shelf(ply, 0.mm), #{{ with: thick, edges: [\"left\", \"right\"] }});");
    "a band of a kilometre" => Code("part-without-size"),
        &format!("{STOCK} let thick = band(\"thick\", #{{ width: 20.mm, thickness: 1000.m }}); band_edges(shelf(ply, 0.mm), #{{ with: thick, edges: \"left\" }});");
    "trimmed less than nothing" => Code("size-without-size"),
        &format!("{STOCK} let lip = band(\"lip\", #{{ width: 20.mm, thickness: 2.mm }}); band_edges(shelf(ply, 0.mm), #{{ with: lip, edges: \"left\", trim_after: -1.mm }});");
    "a name with control characters" => Code("wrong-name"), "piece(\"a\\x1b[2J\\nb\")";
    "a stock with control characters" => Code("wrong-name"), "sheet(\"a\\nb\", #{ thickness: 1.mm, length: 1.m, width: 1.m })";
    "hardware with control characters" => Code("wrong-name"), "hardware(\"a\\nb\", #{})";
    "an input with control characters" => Code("wrong-name"), "input(\"a\\nb\", #{ default: 1 })";
    "a name without end" => Code("wrong-name"), "let s = \"x\"; s.pad(40000, 'x'); piece(s)";
    "an empty name" => Code("wrong-name"), "piece(\"  \")";
};

/// Joints that take long, or that cannot be.
const CUTS: &[Case] = cases! {
    "joints between everything and itself" => Code("joint-with-itself"), &format!("{STOCK} let a = []; for i in 0..90 {{ a.push(shelf(ply, 0.mm)); }} butt(a, #{{ to: a }});");
    "ten million joints" => TOO_LARGE, &format!("{STOCK} let a = []; for i in 0..4000 {{ a.push(shelf(ply, 0.mm)); }} butt(a, #{{ to: a }});");
    "thirty thousand joints" => TOO_LARGE, &format!("{STOCK} let a = shelf(ply, 0.mm); let b = shelf(ply, 10.inch); loop {{ butt(a, #{{ to: b }}); }}");
    "ten thousand joints" => OneOf(&["too-many-cuts", "hole-meets-cut"]),
        &format!("{STOCK} let a = post(ply, 0.mm); let b = shelf(ply, a.right); for i in 0..9900 {{ butt(b, #{{ to: a, with: \"pocket screws\", edge_distance: (19 + i / 10000).mm }}); }}");
    "one joint ten thousand times" => Code("joint-twice"),
        &format!("{STOCK} let a = post(ply, 0.mm); let b = shelf(ply, a.right); for i in 0..9900 {{ butt(b, #{{ to: a }}); }}");
    "screws without end" => OneOf(&["wrong-count", "screws-misplaced"]), &screws("spacing: 0.mm");
    "screws close together" => OneOf(&["wrong-count", "screws-misplaced"]), &screws("spacing: 1.mm");
    "screws of a negative spacing" => Code("screws-misplaced"), &screws("spacing: -1.m");
    "minus five screws" => Code("wrong-count"), &screws("count: -5");
    "no screws" => Code("wrong-count"), &screws("count: 0");
    "ten million screws" => Code("wrong-count"), &screws("count: 10000000");
    "as many screws as can be" => OneOf(&["hole-meets-cut", "pocket-leaves-part"]), &screws("count: 200, edge_distance: 1.mm");
    "negative edge distance" => OneOf(&["screws-misplaced", "pocket-leaves-part"]), &screws("edge_distance: -10.mm, count: 2");
    "edge distance beyond the part" => OneOf(&["screws-misplaced", "pocket-leaves-part"]), &screws("edge_distance: 900.m, count: 2");
    "screws of nothing" => Code("screw-too-short"), &screws("screw: 0.mm");
    "screws of less than nothing" => Code("screw-too-short"), &screws("screw: -1.m");
    "screws of a kilometre" => Code("screw-comes-through"), &screws("screw: 1000.m");
    "plain screws of nothing" => Code("wrong-count"), &screws("screw: 0.mm").replace("pocket screws", "screws");
    "plain screws without end" => OneOf(&["screws-misplaced", "wrong-count"]), &screws("spacing: 1.nm").replace("1.nm", "(1/1000).mm").replace("pocket screws", "screws");
    "negative clearance" => Code("cut-without-depth"), &groove("clearance: -1000.m");
    "a little negative clearance" => Code("panel-misfits-groove"), &groove("clearance: -1.mm");
    "clearance of a kilometre" => Code("cut-without-depth"), &groove("clearance: 1000.m");
    "depth of nothing" => Code("cut-without-depth"), &groove("depth: 0.mm");
    "depth of less than nothing" => Code("cut-without-depth"), &groove("depth: -5.mm");
    "depth of a kilometre" => Code("cut-through"), &groove("depth: 1000.m");
    "fit of a kilometre" => Code("fit-too-loose"), &groove("fit: 1000.m");
    "fit of less than nothing" => OneOf(&["cut-beside-part", "panel-misfits-groove"]), &groove("fit: -1000.m");
    "stopped beyond the part" => Code("stop-beyond-the-cut"), &groove("stop: [\"front\", \"back\"], stop_at: 1000.m");
    "stopped before the part" => Code("stop-beyond-the-cut"), &groove("stop: \"front\", stop_at: -1000.m");
    "grooves over grooves" => OneOf(&["too-many-cuts", "panel-misfits-groove", "shared-space"]),
        &format!("{STOCK} let a = post(ply, 0.mm); let b = part(\"b\", #{{ stock: ply, left: a.right, width: 9.inch, front: 0.mm, depth: 8.inch, bottom: 5.inch }}); for i in 0..5000 {{ groove(b, #{{ into: a, depth: (5 + i / 10000).mm }}); }}");
    "a wall of shelves" => Well,
        &format!("{STOCK} let huge = sheet(\"huge\", #{{ thickness: 19.mm, length: 900.m, width: 900.m }}); let side = part(\"side\", #{{ stock: huge, right: 0.mm, front: 0.mm, depth: 8.inch, bottom: 0.mm, height: 100.m }});
        for i in 0..900 {{ let b = part(\"b\", #{{ stock: ply, left: 0.mm, width: 9.inch, front: 0.mm, depth: 8.inch, bottom: i * 4.inch + 1.inch }}); dado(b, #{{ into: side }}); }}");
    "a lattice of cuts" => OneOf(&["shared-space", "too-many-cuts", "hole-meets-cut"]),
        &format!("{STOCK} let huge = sheet(\"huge\", #{{ thickness: 100.mm, length: 900.m, width: 900.m }});
        let one = part(\"one\", #{{ stock: huge, right: 0.mm, front: 0.mm, depth: 20.m, bottom: 0.mm, height: 20.m }});
        let two = part(\"two\", #{{ stock: huge, right: 0.mm, front: 0.mm, depth: 20.m, bottom: 0.mm, height: 20.m }});
        for i in 1..190 {{
            groove(part(\"a\", #{{ stock: ply, left: 0.mm, width: 9.inch, front: 0.mm, depth: 20.m, bottom: i * 4.inch }}), #{{ into: one }});
            groove(part(\"b\", #{{ stock: ply, left: 0.mm, width: 9.inch, front: i * 4.inch, bottom: 0.mm, height: 20.m }}), #{{ into: one }});
        }}");
};

/// Attacks through files.
const FILES: &[Case] = &[
    Case {
        name: "import of itself",
        write: |folder| {
            main(folder, "import \"a\" as a;");
            file(folder, "a.rhai", "import \"a\" as a; fn f() { 1 }");
        },
        ends: Code("import-cycle"),
    },
    Case {
        name: "import of the recipe itself",
        write: |folder| main(folder, "import \"main\" as a;"),
        ends: Code("import-cycle"),
    },
    Case {
        name: "import in a ring",
        write: |folder| {
            main(folder, "import \"a\" as a;");
            file(folder, "a.rhai", "import \"b\" as b;");
            file(folder, "b.rhai", "import \"a\" as a;");
        },
        ends: Code("import-cycle"),
    },
    Case {
        name: "import chain of a hundred",
        write: |folder| {
            main(folder, "import \"m0\" as m;");
            for i in 0..100 {
                file(folder, &format!("m{i}.rhai"), &format!("import \"m{}\" as m;", i + 1));
            }
            file(folder, "m100.rhai", "fn f() { 1 }");
        },
        ends: Code("recipe-too-deep"),
    },
    Case {
        name: "imports of many large files",
        write: |folder| {
            let text = format!("let f = |{}| 1;", many(14_000, |i| format!("a{i},")).trim_end_matches(','));
            main(folder, &many(45, |i| format!("import \"m{i}\" as m{i};\n")));
            for i in 0..45 {
                file(folder, &format!("m{i}.rhai"), &text);
            }
        },
        ends: OneOf(&["recipe-too-slow", "recipe-too-large"]),
    },
    Case {
        name: "import of a pipe",
        write: |folder| {
            main(folder, "import \"pipe\" as p;");
            let made = std::process::Command::new("mkfifo").arg(folder.join("pipe.rhai")).status();
            if !made.is_ok_and(|status| status.success()) {
                fs::create_dir(folder.join("pipe.rhai")).expect("a folder in its place");
            }
        },
        ends: Code("import-unreadable"),
    },
    Case {
        name: "import of a folder",
        write: |folder| {
            main(folder, "import \"sub\" as p;");
            fs::create_dir(folder.join("sub.rhai")).expect("a folder");
        },
        ends: Code("import-unreadable"),
    },
    Case {
        name: "import of a huge file",
        write: |folder| {
            main(folder, "import \"huge\" as p;");
            let huge = fs::File::create(folder.join("huge.rhai")).expect("a file");
            huge.set_len(20_000_000_000).expect("a hole of 20 GB");
        },
        ends: Code("import-unreadable"),
    },
    Case {
        name: "import of what is no text",
        write: |folder| {
            main(folder, "import \"bytes\" as p;");
            fs::write(folder.join("bytes.rhai"), [0xff, 0xfe, 0, 0x80]).expect("a file");
        },
        ends: Code("import-unreadable"),
    },
    Case {
        name: "no text",
        write: |folder| fs::write(folder.join("main.rhai"), [0xff, 0xfe, 0x80]).expect("a file"),
        ends: Code("unreadable-file"),
    },
    Case {
        name: "a folder as a recipe",
        write: |folder| fs::create_dir(folder.join("main.rhai")).expect("a folder"),
        ends: Code("unreadable-file"),
    },
    Case { name: "no file", write: |_| (), ends: Code("unreadable-file") },
    Case {
        name: "import of the same, often",
        write: |folder| {
            main(folder, "loop { import \"a\" as a; a::f(); }");
            file(folder, "a.rhai", "fn f() { 1 }");
        },
        ends: OneOf(&["recipe-too-large", "recipe-too-slow", "recipe-too-long"]),
    },
    Case {
        name: "import by a made up name",
        write: |folder| main(folder, "let s = \"x\"; s.pad(49000, 'x'); import s as a;"),
        ends: Code("import-missing"),
    },
    Case {
        name: "import of a name with NUL",
        write: |folder| main(folder, "import \"a\\x00b\" as a;"),
        ends: OneOf(&["import-missing", "import-outside"]),
    },
    Case {
        name: "module that loops",
        write: |folder| {
            main(folder, "import \"a\" as a;");
            file(folder, "a.rhai", "const X = { loop { } };");
        },
        ends: OneOf(&["recipe-too-long", "recipe-too-slow"]),
    },
];

fn main(folder: &Path, text: &str) {
    file(folder, "main.rhai", text);
}

fn file(folder: &Path, name: &str, text: &str) {
    fs::write(folder.join(name), text).expect("the folder can be written");
}

fn many(count: usize, one: impl Fn(usize) -> String) -> String {
    (0..count).map(one).collect()
}

fn nested(open: &str, inside: &str, close: &str, times: usize) -> String {
    let times = times.min(90_000 / (open.len() + close.len()));
    format!("{}{inside}{}", open.repeat(times), close.repeat(times))
}

/// A shelf of 900 m at a side, held by pocket screws.
fn screws(options: &str) -> String {
    format!(
        "let huge = sheet(\"huge\", #{{ thickness: 19.mm, length: 1000.m, width: 1000.m }});
        let side = part(\"side\", #{{ stock: huge, right: 0.mm, front: 0.mm, depth: 900.m, bottom: 0.mm, height: 1.m }});
        let shelf = part(\"shelf\", #{{ stock: huge, left: 0.mm, width: 1.m, front: 0.mm, depth: 900.m, bottom: 500.mm }});
        butt(shelf, #{{ to: side, with: \"pocket screws\", {options} }});"
    )
}

/// A bottom in a groove of a side.
fn groove(options: &str) -> String {
    format!(
        "{STOCK} let side = post(ply, 0.mm);
        let floor = part(\"floor\", #{{ stock: stock(\"1/4 birch plywood\"), left: side.right, width: 9.inch, front: 0.mm, depth: 8.inch, bottom: 2.inch }});
        groove(floor, #{{ into: side, {options} }});"
    )
}
