//! Every function that a recipe can call: how it is written, what it does, its options. Help, completion, `explain`, the
//! reference page and the check of option names all read this table.

use crate::joints;
use crate::model::{Kind, OptionSpec};

/// A function of the recipe language.
#[derive(Clone, Copy, Debug)]
pub struct Function {
    /// Its name.
    pub name: &'static str,
    /// How it is written.
    pub usage: &'static str,
    /// What it does, in one sentence.
    pub about: &'static str,
    /// Its options; empty when it takes none.
    pub options: &'static [OptionSpec],
}

const fn function(
    name: &'static str,
    usage: &'static str,
    about: &'static str,
    options: &'static [OptionSpec],
) -> Function {
    Function { name, usage, about, options }
}

const RUNS: &[&str] = &["across", "front to back", "up"];
const PERS: &[&str] = &["sheet", "board foot", "metre", "foot", "roll"];
const SAWN: &[&str] = &["flat", "quarter"];
const STYLES: &[&str] = &["inset", "applied"];

/// `units`.
pub const UNITS: Function =
    function("units", "units(\"mm\")", "Says which unit bare input numbers and papers are in; write it first.", &[]);

/// `input`.
pub const INPUT: Function = function(
    "input",
    "let width = input(\"width\", #{ default: 24.inch, min: 8.inch, max: 48.inch, help: \"...\" })",
    "Asks the maker for a value, and gives the value that holds in this job.",
    &[
        OptionSpec::may("default", Kind::Any, "must be given", "the value when the maker gives none"),
        OptionSpec::may("min", Kind::Any, "none", "the smallest value; of a stock, the smallest thickness"),
        OptionSpec::may("max", Kind::Any, "none", "the largest value; of a stock, the largest thickness"),
        OptionSpec::may("step", Kind::Any, "none", "values go in steps of this, from `min` or zero"),
        OptionSpec::may(
            "choices",
            Kind::Texts,
            "none",
            "the words to choose from; of a stock, words that stand for none",
        ),
        OptionSpec::may("help", Kind::Text, "none", "one line for the maker"),
        OptionSpec::may(
            "kind",
            Kind::Text,
            "told by the default",
            "length, lengths, count, number, choice, text, yes/no, sheet, board, sheet or board, or band",
        ),
    ],
);

/// `sheet`.
pub const SHEET: Function = function(
    "sheet",
    "let ply = sheet(\"9 ply birch\", #{ thickness: 12.mm, length: 2440.mm, width: 1220.mm })",
    "Makes a sheet stock of the recipe's own.",
    &[
        OptionSpec::must("thickness", Kind::Length, "the thickness that it is sold as"),
        OptionSpec::may("measured", Kind::Length, "as sold", "the thickness that was measured"),
        OptionSpec::must("length", Kind::Length, "its length, along the grain"),
        OptionSpec::must("width", Kind::Length, "its width"),
        OptionSpec::may(
            "material",
            Kind::Choice(SHEET_MATERIALS),
            "not known",
            "what it is made of: for its weight, its sag and how true its thickness is",
        ),
        OptionSpec::may("grain", Kind::YesNo, "yes; no for boards of fibres and particles", "whether it has a grain"),
        OptionSpec::may("show_faces", Kind::Count, "2", "how many of its faces may be seen: 0, 1 or 2"),
        OptionSpec::may("price", Kind::Number, "none", "its price"),
    ],
);

/// What sheets are made of, in the words of the shop file.
const SHEET_MATERIALS: &[&str] =
    &["hardwood plywood", "sanded plywood", "metric plywood", "mdf", "particleboard", "hardboard", "other"];

/// `board`.
pub const BOARD: Function = function(
    "board",
    "let oak = board(\"oak 4/4\", #{ species: \"oak\", thickness: (3/4).inch })",
    "Makes a board stock of the recipe's own.",
    &[
        OptionSpec::must("species", Kind::Text, "the wood"),
        OptionSpec::must("thickness", Kind::Length, "its dressed thickness"),
        OptionSpec::may("measured", Kind::Length, "as dressed", "the thickness that was measured"),
        OptionSpec::may("widths", Kind::Lengths, "any", "the widths to be had"),
        OptionSpec::may("lengths", Kind::Lengths, "any", "the lengths to be had"),
        OptionSpec::may("price", Kind::Number, "none", "its price"),
        OptionSpec::may("per", Kind::Choice(PERS), "\"board foot\"", "what the price is for"),
    ],
);

/// `band`.
pub const BAND: Function = function(
    "band",
    "let lip = band(\"birch lipping\", #{ width: 20.mm, thickness: 6.mm })",
    "Makes an edge band or lipping of the recipe's own.",
    &[
        OptionSpec::must("width", Kind::Length, "its width before trimming"),
        OptionSpec::must("thickness", Kind::Length, "its thickness"),
        OptionSpec::may("roll", Kind::Length, "sold in lengths", "the length of a roll"),
        OptionSpec::may(
            "taken_off",
            Kind::YesNo,
            "yes from 0.5 mm up",
            "whether cores are cut smaller by its thickness",
        ),
        OptionSpec::may("price", Kind::Number, "none", "its price"),
        OptionSpec::may("per", Kind::Choice(PERS), "\"metre\"", "what the price is for"),
    ],
);

/// `part`.
pub const PART: Function = function(
    "part",
    "let side = part(\"side\", #{ stock: ply, left: 0.mm, front: 0.mm, depth: 450.mm, bottom: 0.mm, height: 120.mm })",
    "Places a part by its faces: two of low face, high face and size along each axis, and one face along its thickness.",
    &[
        OptionSpec::must("stock", Kind::Stock, "what it is made of"),
        OptionSpec::may("left", Kind::Length, "told by the others", "the position of its left face"),
        OptionSpec::may("right", Kind::Length, "told by the others", "the position of its right face"),
        OptionSpec::may("width", Kind::Length, "told by the others", "its size from left to right"),
        OptionSpec::may("front", Kind::Length, "told by the others", "the position of its front face"),
        OptionSpec::may("back", Kind::Length, "told by the others", "the position of its back face"),
        OptionSpec::may("depth", Kind::Length, "told by the others", "its size from front to back"),
        OptionSpec::may("bottom", Kind::Length, "told by the others", "the position of its bottom face"),
        OptionSpec::may("top", Kind::Length, "told by the others", "the position of its top face"),
        OptionSpec::may("height", Kind::Length, "told by the others", "its size from bottom to top"),
        OptionSpec::may("grain", Kind::Choice(RUNS), "along the longer side", "the way its grain runs"),
        OptionSpec::may("show", Kind::Face, "none", "the broad face that will be seen"),
        OptionSpec::may("loose", Kind::Text, "none", "why no joint holds it, such as \"rests on shelf pins\""),
        OptionSpec::may("note", Kind::Text, "none", "a word for the maker"),
    ],
);

/// `band_edges`.
pub const BAND_EDGES: Function = function(
    "band_edges",
    "band_edges(shelf, #{ with: veneer, edges: [\"front\", \"left\"] })",
    "Puts a band or lipping on edges of a part.",
    &[
        OptionSpec::must("with", Kind::Stock, "the band"),
        OptionSpec::must("edges", Kind::Faces, "the edges, named by where they look"),
        OptionSpec::may(
            "run_through",
            Kind::Faces,
            "the longer edges",
            "the edges whose band covers its neighbours' ends",
        ),
        OptionSpec::may(
            "taken_off",
            Kind::YesNo,
            "as the band says",
            "whether the core is cut smaller, so that the part keeps its size",
        ),
        OptionSpec::may(
            "trim_after",
            Kind::Length,
            "banded after cutting to size",
            "cut the core this much longer, band it, then cut to size",
        ),
    ],
);

/// `place`.
pub const PLACE: Function = function(
    "place",
    "place(drawer, #{ left: 10.mm, front: 0.mm, bottom: 60.mm })",
    "Places a piece: where its own zero corner goes in the job, or in the piece named by `in_piece`.",
    &[
        OptionSpec::may("in_piece", Kind::Piece, "the job", "the piece that it stands in"),
        OptionSpec::may("left", Kind::Length, "0", "how far to the right its zero corner goes"),
        OptionSpec::may("front", Kind::Length, "0", "how far back"),
        OptionSpec::may("bottom", Kind::Length, "0", "how far up"),
    ],
);

/// `opening`.
pub const OPENING: Function = function(
    "opening",
    "let space = opening(\"left bay\", #{ widths: [24.inch, (23 + 15/16).inch], heights: 30.inch, depth: 22.inch })",
    "Describes a measured opening; the smallest reading counts, and what its lean takes is left out.",
    &[
        OptionSpec::must("widths", Kind::Lengths, "the width, read once or at several places"),
        OptionSpec::must("heights", Kind::Lengths, "the height, read once or at several places"),
        OptionSpec::must("depth", Kind::Length, "from its front plane to the back of the case"),
        OptionSpec::may(
            "diagonals",
            Kind::Lengths,
            "taken as equal",
            "both diagonals: from the lower left corner up, then from the upper left corner down",
        ),
        OptionSpec::may("left", Kind::Length, "0", "the position of its left side"),
        OptionSpec::may("front", Kind::Length, "0", "the position of its front plane"),
        OptionSpec::may("bottom", Kind::Length, "0", "the position of its floor"),
        OptionSpec::may("limit", Kind::Length, "1/8 in (3.2 mm)", "how far readings may differ before it is a finding"),
        OptionSpec::may("in_piece", Kind::Piece, "the job", "the piece whose coordinates are used"),
    ],
);

/// `front_of`.
pub const FRONT_OF: Function = function(
    "front_of",
    "front_of(panel, #{ opening: space, style: \"inset\" })",
    "Says that a part, or a list of parts such as the stiles and rails of a door, is a front of an opening, so that its reveals \
     are checked.",
    &[
        OptionSpec::must("opening", Kind::Opening, "the opening"),
        OptionSpec::must("style", Kind::Choice(STYLES), "whether it stands in the opening or lies on the case"),
        OptionSpec::may("uneven", Kind::YesNo, "no", "whether the gaps round the opening's fronts may differ"),
    ],
);

/// `slides`.
pub const SLIDES: Function = function(
    "slides",
    "let slide = slides(\"side-mount slides\", #{})",
    "Chooses slides by their class; sizes from the maker's sheet replace those of the class.",
    &[
        OptionSpec::may("clearance", Kind::Length, "as the class has it", "the room that each side needs"),
        OptionSpec::may("slack", Kind::Length, "as the class has it", "how much more than that a side may have"),
        OptionSpec::may("under", Kind::Length, "as the class has it", "the room that it needs under the box"),
        OptionSpec::may("lengths", Kind::Lengths, "as the class has it", "the lengths to be had"),
        OptionSpec::may("height", Kind::Length, "as the class has it", "the height of its member"),
        OptionSpec::may("load_kg", Kind::Count, "as the class has it", "the load that a pair carries, in kilograms"),
    ],
);

const LINES: &[&str] = &["front", "back"];

const BEHIND: OptionSpec =
    OptionSpec::may("behind", Kind::Moving, "nothing", "what must be opened first: the door in front of a drawer");
const WITH_OPEN: OptionSpec =
    OptionSpec::may("with_open", Kind::Moving, "nothing", "what may stand open at the same time");

/// `swing`.
pub const SWING: Function = function(
    "swing",
    "swing(door, #{ hinged: \"left\" })",
    "Hangs a door or flap on hinges, so that its way is proved to be free.",
    &[
        OptionSpec::must("hinged", Kind::Face, "the edge that its hinges are on"),
        OptionSpec::may("angle", Kind::Count, "95", "how far it opens, in degrees"),
        OptionSpec::may("opens", Kind::Face, "\"front\"", "the face that swings outwards"),
        OptionSpec::may(
            "line",
            Kind::Choice(LINES),
            "\"front\"",
            "which face the hinge line lies in: the one that opens, or the one behind it",
        ),
        OptionSpec::may("opening", Kind::Opening, "none", "the opening that it closes"),
        BEHIND,
        WITH_OPEN,
    ],
);

/// `lift`.
pub const LIFT: Function = function(
    "lift",
    "lift(lid, #{ hinged: \"back\" })",
    "Hangs a lid on hinges, so that its way up is proved to be free.",
    &[
        OptionSpec::may("hinged", Kind::Face, "\"back\"", "the edge that its hinges are on"),
        OptionSpec::may("angle", Kind::Count, "90", "how far it opens, in degrees"),
        OptionSpec::may("opens", Kind::Face, "\"top\"", "the face that swings outwards"),
        OptionSpec::may(
            "line",
            Kind::Choice(LINES),
            "\"back\"",
            "which face the hinge line lies in: the one that opens, or the one behind it",
        ),
        OptionSpec::may("opening", Kind::Opening, "none", "the opening that it closes"),
        BEHIND,
        WITH_OPEN,
    ],
);

/// `hang`.
pub const HANG: Function = function(
    "hang",
    "hang(box, #{ on: slide, opening: space, length: 18.inch, room_behind: 1.inch })",
    "Hangs a box on slides in an opening, so that their fit is checked and the slides are on the bill.",
    &[
        OptionSpec::must("on", Kind::Any, "the slides, as `slides(...)` gives them"),
        OptionSpec::must("opening", Kind::Opening, "the opening that it runs in"),
        OptionSpec::must("length", Kind::Length, "the length of the slides"),
        OptionSpec::may("room_behind", Kind::Length, "0", "the room to be kept behind them"),
        OptionSpec::may("travel", Kind::Length, "the length of the slides", "how far the box comes out"),
        OptionSpec::may("opens", Kind::Face, "\"front\"", "the face that comes out first: the front or the back"),
        BEHIND,
        WITH_OPEN,
    ],
);

/// `obstacle`.
pub const OBSTACLE: Function = function(
    "obstacle",
    "obstacle(\"wall\", #{ left: 37.inch })",
    "Says what stands there already (a wall, the floor, an appliance), so that nothing is built into it and nothing that moves meets \
     it. It is not cut, bought or weighed, and it reaches without end on each side that is not given.",
    &[
        OptionSpec::may("left", Kind::Length, "without end", "its left face"),
        OptionSpec::may("right", Kind::Length, "without end", "its right face"),
        OptionSpec::may("width", Kind::Length, "without end", "its size across; give a face as well"),
        OptionSpec::may("front", Kind::Length, "without end", "its front face"),
        OptionSpec::may("back", Kind::Length, "without end", "its back face"),
        OptionSpec::may("depth", Kind::Length, "without end", "its size from front to back; give a face as well"),
        OptionSpec::may("bottom", Kind::Length, "without end", "its bottom face"),
        OptionSpec::may("top", Kind::Length, "without end", "its top face"),
        OptionSpec::may("height", Kind::Length, "without end", "its size up; give a face as well"),
    ],
);

/// `hardware`.
pub const HARDWARE: Function = function(
    "hardware",
    "hardware(\"pull\", #{ quantity: 2, on: front })",
    "Puts hardware on the bill: pulls, hinges, shelf pins, screws and whatever else is needed.",
    &[
        OptionSpec::may("quantity", Kind::Count, "1", "how many"),
        OptionSpec::may("size", Kind::Length, "none", "its size"),
        OptionSpec::may("on", Kind::Part, "none", "the part that it is fixed to"),
        OptionSpec::may("purpose", Kind::Text, "the piece that it is for", "what it is for"),
        OptionSpec::may("note", Kind::Text, "as the class has it", "what to mind"),
        OptionSpec::may(
            "stands_out",
            Kind::Length,
            "not looked at",
            "how far it stands out from the part: nothing that moves may meet it",
        ),
        OptionSpec::may("face", Kind::Face, "the shown face, else \"front\"", "the face that it stands out from"),
        OptionSpec::may("wide", Kind::Length, "its `size`, else as far as it stands out", "its size across the face"),
        OptionSpec::may("high", Kind::Length, "as far as it stands out", "its size up the face"),
        OptionSpec::may("from_left", Kind::Length, "the middle", "from the part's left face to its middle"),
        OptionSpec::may("from_front", Kind::Length, "the middle", "from the part's front face to its middle"),
        OptionSpec::may("from_bottom", Kind::Length, "the middle", "from the part's bottom face to its middle"),
    ],
);

/// `mark_out`.
pub const MARK_OUT: Function = function(
    "mark_out",
    "mark_out(\"slide 2, centre line\", #{ from: \"the floor of the opening\", distance: 214.mm })",
    "Puts a position to mark out on the assembly sheet.",
    &[
        OptionSpec::must("from", Kind::Text, "where the distance is measured from"),
        OptionSpec::must("distance", Kind::Length, "how far"),
    ],
);

/// `check_square`.
pub const CHECK_SQUARE: Function = function(
    "check_square",
    "check_square(\"drawer box\", #{ width: 400.mm, depth: 450.mm })",
    "Puts the diagonal of a box on the assembly sheet: equal diagonals mean square.",
    &[
        OptionSpec::must("width", Kind::Length, "its outside width"),
        OptionSpec::must("depth", Kind::Length, "its outside depth or height"),
    ],
);

/// `movement`.
pub const MOVEMENT: Function = function(
    "movement",
    "let room = movement(stock(\"3/4 cherry board\"), 16.inch)",
    "How far a width of solid wood moves across its grain between the driest and the dampest month, rounded up to the shop's rule; \
     nothing for sheets.",
    &[OptionSpec::may(
        "sawn",
        Kind::Choice(SAWN),
        "\"flat\", which moves more",
        "how it was sawn from the log, as its end grain shows",
    )],
);

/// `load`.
pub const LOAD: Function = function(
    "load",
    "load(shelf, #{ kg: 20, of: \"books\" })",
    "Says what a shelf or a drawer is to carry, so that its sag, its slides and the balance of the piece are checked by it; give one \
     amount. A piece counts when it hangs on slides.",
    &[
        OptionSpec::may("kg", Kind::Number, "another amount", "kilograms in all"),
        OptionSpec::may("lb", Kind::Number, "another amount", "pounds in all"),
        OptionSpec::may("kg_per_m2", Kind::Number, "another amount", "kilograms on each square metre"),
        OptionSpec::may("lb_per_ft2", Kind::Number, "another amount", "pounds on each square foot"),
        OptionSpec::may("kg_per_m", Kind::Number, "another amount", "kilograms on each metre of its longer side"),
        OptionSpec::may("lb_per_ft", Kind::Number, "another amount", "pounds on each foot of its longer side"),
        OptionSpec::may("of", Kind::Text, "none", "what it is, for the findings"),
    ],
);

/// The functions that are not joints and have a page of their own in the reference.
pub const FUNCTIONS: &[Function] = &[
    UNITS,
    function(
        "by_unit",
        "by_unit((1/4).inch, 6.mm)",
        "The first length in a job in inches, the second in one in millimetres.",
        &[],
    ),
    INPUT,
    function(
        "requires",
        "requires(width > 8.inch, \"the box must be wider than 8 in\")",
        "Refuses inputs for which the condition is false, with your own words.",
        &[],
    ),
    function(
        "not_used",
        "not_used([\"doors\", \"door_kind\"], \"drawers take the whole height\")",
        "Tells the maker which of these inputs was given and has no effect in this job, and why.",
        &[],
    ),
    function(
        "stock",
        "let ply = stock(\"3/4 birch plywood\")",
        "Finds stock by name: the recipe's, the shop's or the catalog's.",
        &[],
    ),
    SHEET,
    BOARD,
    BAND,
    function(
        "piece",
        "let drawer = piece(\"drawer\")",
        "Begins a piece that is built by itself; its parts are placed from its own zero corner.",
        &[],
    ),
    PART,
    BAND_EDGES,
    PLACE,
    OPENING,
    FRONT_OF,
    SLIDES,
    function(
        "longest_slide",
        "let length = longest_slide(slide, 20.inch)",
        "The longest of the slides that fits a depth.",
        &[],
    ),
    HANG,
    SWING,
    LIFT,
    OBSTACLE,
    HARDWARE,
    MOVEMENT,
    LOAD,
    function(
        "anchor",
        "anchor(\"the studs of the wall, with two angle brackets\")",
        "Says what the piece is fastened to, so that it cannot tip; the assembly sheet has it as a step.",
        &[],
    ),
    MARK_OUT,
    CHECK_SQUARE,
    function(
        "note",
        "note(\"Plane the top edge before gluing up.\")",
        "Puts a sentence for the maker on the assembly sheet.",
        &[],
    ),
    function(
        "warn",
        "warn(\"the pull is wider than the front\")",
        "Reports a warning; the papers are written all the same.",
        &[],
    ),
    function("stop", "stop(\"no drawer fits\")", "Ends the recipe with an error.", &[]),
    function(
        "options",
        "let o = options(\"drawer_box\", given, #{ width: required(), gap: 2.mm })",
        "Reads the options of a function of your own: unknown and missing ones are errors.",
        &[],
    ),
    function("required", "required()", "Stands in `options` for an option that must be given.", &[]),
    function(
        "given_or",
        "given_or(o.depth, side.thickness / 2)",
        "The first value, or the second when the first was not given.",
        &[],
    ),
    function("is_given", "if is_given(o.band) { ... }", "Whether an option with the default `()` was given.", &[]),
    function("split", "split(30.inch, 4)", "Splits a length evenly; the pieces add up to it exactly.", &[]),
    function("round_to", "round_to(width, (1/16).inch)", "The nearest multiple of a step.", &[]),
    function("round_down", "round_down(width, 1.mm)", "The multiple of a step that is not more.", &[]),
    function("round_up", "round_up(width, 1.mm)", "The multiple of a step that is not less.", &[]),
    function("smallest", "smallest([24.inch, 600.mm])", "The smallest of a list of lengths.", &[]),
    function("largest", "largest([24.inch, 600.mm])", "The largest of a list of lengths.", &[]),
    function("sum", "sum([1.inch, 2.inch])", "The sum of a list of lengths.", &[]),
];

/// The names of all functions of the recipe language, joints included.
pub fn names() -> impl Iterator<Item = &'static str> {
    FUNCTIONS.iter().map(|function| function.name).chain(joints::ALL.iter().map(|joint| joint.name))
}

/// The options of a function or joint, if it takes an options map.
pub fn options_of(name: &str) -> Option<&'static [OptionSpec]> {
    let function = FUNCTIONS.iter().find(|function| function.name == name).map(|function| function.options);
    let options = function.or_else(|| joints::find(name).map(|joint| joint.options))?;
    (!options.is_empty()).then_some(options)
}

/// How a function or joint is written.
pub fn usage_of(name: &str) -> Option<String> {
    if let Some(function) = FUNCTIONS.iter().find(|function| function.name == name) {
        return Some(function.usage.to_owned());
    }
    joints::find(name).map(|joint| format!("{}(part, #{{ {}: other, ... }})", joint.name, joint.target))
}

/// What a function or joint takes, in words, where the maker could not guess it.
pub fn takes(name: &str) -> Option<&'static str> {
    if joints::find(name).is_some() {
        return Some("a part and options #{ ... }");
    }
    let function = FUNCTIONS.iter().find(|function| function.name == name)?;
    let (_, handed) = function.usage.split_once(&format!("{name}("))?;
    match (handed.starts_with('"'), function.options.is_empty(), name) {
        (true, false, _) => Some("a name and options #{ ... }"),
        (_, false, "load") => Some("a part or a piece, and options #{ ... }"),
        (_, false, "movement") => Some("a stock, a width and perhaps options #{ ... }"),
        (_, false, "place" | "hang") => Some("a piece and options #{ ... }"),
        (_, false, "swing" | "lift") => Some("a part or piece and options #{ ... }"),
        (_, false, _) => Some("a part and options #{ ... }"),
        (_, _, "not_used") => Some("a list of names of inputs and a text in quotes"),
        (_, _, "requires") => Some("a condition and a text in quotes"),
        (_, _, "by_unit" | "round_to" | "round_down" | "round_up") => Some("two lengths"),
        (_, _, "smallest" | "largest" | "sum") => Some("a list of lengths"),
        (true, true, "stock" | "piece") => Some("a name in quotes"),
        (true, true, "note" | "warn" | "stop") => Some("a text in quotes"),
        (true, true, "units") => Some("\"in\" or \"mm\""),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_function_tells_its_story_once() {
        let mut seen: Vec<&str> = names().collect();
        seen.sort_unstable();
        assert!(seen.windows(2).all(|pair| pair[0] != pair[1]));
        for function in FUNCTIONS {
            assert!(function.usage.contains(function.name), "{}", function.name);
            assert!(function.about.ends_with('.'), "{}", function.name);
        }
    }
}
