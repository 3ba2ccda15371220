//! The story of every finding that does not come from a check: `casewright explain CODE` prints it.

/// A code and its story.
#[derive(Clone, Copy, Debug)]
pub struct Code {
    /// The code.
    pub code: &'static str,
    /// The fault, in one line.
    pub summary: &'static str,
    /// Why it is a fault and what to do.
    pub about: &'static str,
}

/// Every code that is not a check's, in order. `tests/findings` holds the table to what the engine raises.
pub const ALL: &[Code] = &[
    code(
        "band-as-part",
        "a part is to be made of an edge band",
        "Parts are cut from sheets and boards. A band goes onto the edge of a part with `band_edges`; \
         solid lipping that is a part of its own needs a board.",
    ),
    code(
        "banded-edge-in-cut",
        "an edge with a band would go into a groove, dado or rabbet",
        "The band would be pinched in the cut and its glue line would shear. Leave the edge that goes \
         into the cut without a band.",
    ),
    code(
        "banded-twice",
        "an edge is given two bands",
        "Each edge takes one band. Two calls of `band_edges` may band one part, as long as they name different edges.",
    ),
    code(
        "bare-number",
        "a plain number stands where a length is needed",
        "A size without its unit can be read in two ways, so every length says its unit: 18.mm, 24.inch, \
         (16 + 7/8).inch. A length can be multiplied and divided by a plain number, and added to or \
         compared with lengths only.",
    ),
    code(
        "bearing-too-narrow",
        "what lies on a cleat would slip off it",
        "An upright bows and wood shrinks; what lies on less than half an inch then falls. Use a thicker cleat, or make the shelf \
         longer.",
    ),
    code(
        "beyond-the-saw",
        "the saw cannot cut a part",
        "The shop file says how long a rip or crosscut the saw can make (`longest_rip`, `crosscut_capacity` under \
         `[cutting]`), and no way to cut this part from its stock keeps within it. Cut it with a guided saw, and take \
         the limit out of the shop file for that; or make the part of two.",
    ),
    code(
        "broad-face-banded",
        "a broad face is named as an edge to be banded",
        "A band goes onto the narrow faces of a part. Which these are follows from how the part is \
         placed: all faces but the two that its thickness lies between.",
    ),
    code(
        "broad-face-in-cut",
        "a joint would push the broad face of a part into a cut",
        "Only an edge or end goes into a groove, dado or rabbet. Most often the two parts of the call are \
         exchanged: the first is the one that goes in, `into` names the one that is cut.",
    ),
    code(
        "clearance-unknown",
        "slides are chosen whose clearance only their maker knows",
        "Under-mount slides and wooden runners need room that differs from maker to maker. Take it from \
         the maker's sheet and give it as `clearance`, the room at each side.",
    ),
    code(
        "cleat-misplaced",
        "a cleat is not under what it carries, or not beside an upright",
        "A cleat stands with a side against an upright, which `to` names, and what it `carries` lies on its top. Most often \
         the two are exchanged.",
    ),
    code(
        "constant-changed",
        "a constant is given another value",
        "What is declared with `const` keeps its value. Declare it with `let` if it has to change.",
    ),
    code(
        "corner-not-flush",
        "two parts do not meet in a corner",
        "Fingers and tails of both parts fill one corner, so that the end of the one must be flush with the outer face of the \
         other, and the first may not be higher than the other. The finding tells how far they are out.",
    ),
    code(
        "corner-too-weak",
        "a corner joint leaves too little of a part",
        "Wood beyond a dado near the end of a part is held by its short grain alone, and thin fingers or tails break. Make what goes \
         in thinner, or the part that is cut thicker.",
    ),
    code(
        "cup-beside-stile",
        "a hinge cup breaks out of the side of its door",
        "A cup needs wood all round. Use a wider stile, or the cup distance of the hinge maker's sheet.",
    ),
    code(
        "cup-comes-through",
        "a hinge cup is nearly as deep as its door is thick",
        "What is left behind the cup would show or break. Use a thicker door, or hinges with shallower cups.",
    ),
    code(
        "cut-beside-part",
        "a cut would run out of its part",
        "A groove or dado needs wood on both sides. Move the part that goes in, or use a rabbet, which is \
         open to the edge.",
    ),
    code(
        "cut-through",
        "a cut is as deep as its part is thick",
        "A depth of half the thickness is usual for a groove or rabbet, a third for a dado. Leave `depth` \
         out for that.",
    ),
    code(
        "cut-without-depth",
        "a cut has no depth, or its clearance leaves nothing in it",
        "The depth must be more than nothing and more than the clearance, or the part that goes in would \
         not reach into the cut.",
    ),
    code(
        "diagonals-impossible",
        "an opening cannot have the diagonals that were read",
        "Both diagonals are given, the one from the lower left corner first. With the width and the height that were read they \
         must make a figure that closes; when they cannot, one of the readings is wrong.",
    ),
    code(
        "division-by-zero",
        "a number or length is divided by zero",
        "Look where the divisor comes from: a count of drawers or columns may be zero for some inputs. \
         Give the input a `min` of 1, or ask with `if` first.",
    ),
    code(
        "door-off-hinge",
        "a door does not lie where it could hang",
        "An overlaid door lies before the front of the part that it hangs on, an inset one stands beside it with a reveal.",
    ),
    code(
        "drawer-opens-sideways",
        "a drawer is said to open to a side, up or down",
        "The width of an opening is from left to right, and its slides stand at these sides. A drawer opens to the front or the back; \
         what opens to a side is drawn in a job of its own, seen from that side.",
    ),
    code(
        "edge-shown",
        "`show` names an edge of a part",
        "`show` tells which of the two broad faces will be seen, so that the better face of the stock is \
         turned there. Edges are dressed by banding.",
    ),
    code(
        "edge-too-thin-for-screws",
        "screws would go into an edge that is too thin for them",
        "A screw driven into the edge of a thin part splits it. The edge must be three times as thick as the \
         screw; a thinner part goes into a groove, dado or rabbet.",
    ),
    code(
        "empty-list",
        "a list of lengths is empty",
        "There is no smallest or largest of nothing. Look where the list comes from, or ask with \
         `list.is_empty()` first.",
    ),
    code(
        "empty-piece",
        "a piece without parts is hung on slides",
        "`hang` checks the box against its opening, so that the parts of the box must be made before it is hung.",
    ),
    code(
        "face-not-named",
        "it is not clear which face a joint works on",
        "Shelf pins stand in a broad face of a part. The shelf shows which, or `show` does; where neither is given, or shelves \
         stand on both sides, name it as `face`.",
    ),
    code(
        "faces-disagree",
        "a part's faces and its size contradict each other",
        "Along each axis two of low face, high face and size are enough; the third follows. Leave one \
         out, or make them agree.",
    ),
    code(
        "fastener-leaves-part",
        "a dowel, biscuit or loose tenon has no room in a part",
        "Each needs wood on both sides of its hole, in both parts. Use smaller ones, or another way to hold the joint.",
    ),
    code(
        "fingers-left-over",
        "whole fingers do not fill the corner of a box joint",
        "A dado set cuts sockets of one width. Make the parts as high as a whole number of them, or let the joint divide the \
         height and set the cutter to what comes of it.",
    ),
    code(
        "fit-too-loose",
        "a joint is asked for with so much play that nothing is fitted",
        "`fit` is how much wider a cut is than what goes into it, shared by both walls; the cut follows the measured thickness by \
         itself. Glue fills 1/64 in, a loose fit is 1/32 in, and with more than 1/8 in (3.175 mm) a part stands in air.",
    ),
    code(
        "grain-through-thickness",
        "the grain is to run through the thickness of a part",
        "Grain runs along a part or across it. Name one of the two directions in which the part is broad.",
    ),
    code(
        "hardware-unlisted",
        "hardware has a name that the catalog does not know",
        "It goes on the bill as it is written, and that is right for what the catalog does not have. \
         Look at the name once more: a slip of the hand would go on the bill too.",
    ),
    code(
        "haunch-misfits",
        "a haunch has nothing to fill, or is as long as its tenon",
        "A haunch fills the groove at the end of a stile, so the rail must lie flush with that end, and the \
         haunch must be shorter than the tenon beside it. Write `kind: \"blind\"` away from the end.",
    ),
    code(
        "heavy-part",
        "a part is heavier than one person handles",
        "Its weight is reckoned from its size and the upper end of the usual weight of its material. The limit is \
         `heaviest` under `[cutting]` in the shop file.",
    ),
    code(
        "hinges-on-broad-face",
        "hinges are asked for on the face that swings outwards",
        "A door turns about one of its edges. `hinged` names that edge, `opens` the broad face that swings \
         outwards.",
    ),
    code(
        "import-cycle",
        "files import each other in a ring",
        "Each would need the other to be read first. Move what both need into a third file.",
    ),
    code(
        "import-missing",
        "a file or built-in recipe to import is not there",
        "A recipe imports from its own folder, and from the built-in recipes by their names.",
    ),
    code(
        "import-outside",
        "an import leads out of the recipe's folder",
        "A recipe from elsewhere must not read what lies on the machine. Copy the file into the folder of the recipe.",
    ),
    code(
        "import-twofold",
        "a file has the name of a built-in recipe",
        "It would not be clear which of the two is imported. Give the file another name.",
    ),
    code(
        "import-unreadable",
        "a file to import cannot be read",
        "It must be a plain text file in UTF-8, no longer than a recipe may be.",
    ),
    code(
        "input-given-twice",
        "an input is given more than once",
        "Give each input once, so that it is clear which value holds.",
    ),
    code(
        "input-not-used",
        "an input was given that has no effect in this job",
        "Another input decides: doors are not asked for where drawers take the whole height. The recipe says why; leave the input out, or \
         change the other one.",
    ),
    code(
        "input-out-of-range",
        "an input lies outside its range, or off its steps",
        "The recipe says which values it was made for. Give one of those; the hint tells the range.",
    ),
    code(
        "input-twice",
        "a recipe declares an input twice",
        "Declare it once, and keep its value in a variable for the other place.",
    ),
    code(
        "job-table",
        "a table of jobs has a fault",
        "The finding tells row and column. A table has one row a job, with the columns `job`, `recipe`, \
         `count` and one for each input that is not to keep its default.",
    ),
    code(
        "joint-needs-contact",
        "two parts of a joint do not meet face to face",
        "Place parts by what is seen of them: up to the face of the other. The joint adds what goes into \
         the other part, so that a gap or an overlap means that one of them is misplaced.",
    ),
    code(
        "joint-not-flat",
        "two parts of a frame joint do not lie in one plane",
        "Half-laps and bridles join parts that lie flat in one plane. Where one stands on the other, use a dado \
         or a tenon; dividers on edge may cross in a half-lap, placed at their full length.",
    ),
    code(
        "joint-twice",
        "two parts are joined twice over",
        "One call would cut, glue and count everything again. Most often a list names a part twice, or a loop asks for \
         a joint that was asked for before it. Two joints that shape the wood where two parts meet, a mitre and a tenon, would cut \
         each other away; `butt`, `cleat`, `hinge`, `notch` and `pin_holes` may come to another joint, and twice when something differs.",
    ),
    code("joint-with-itself", "a part is joined to itself", "Look at the lists of the call: one part is in both."),
    code(
        "keeps-beside-lap",
        "a half-lap is to keep a face across which it is not parted",
        "Parts that lie flat are parted through their thickness, dividers on edge through their height. `keeps` \
         names the side on which the first part keeps its half, so it is one of the two faces there.",
    ),
    code(
        "length-times-length",
        "two lengths are multiplied",
        "That gives an area, and no size of a part is one. Multiply a length by a plain number: 2 * 18.mm.",
    ),
    code(
        "lengths-unknown",
        "the lengths of slides are not known",
        "Only slides of which the lengths are known can be chosen by depth. Give `lengths` to `slides`, \
         from the maker's sheet.",
    ),
    code(
        "list-too-short",
        "an item is asked for that a list or text does not have",
        "Items count from 0, so that the last of three is number 2, or -1 counted from the end.",
    ),
    code(
        "missing-option",
        "an option that is needed is not given",
        "The finding names it. `casewright explain` with the function's name lists all its options.",
    ),
    code(
        "mitre-beside-end",
        "two parts that are to be mitred do not meet at their ends",
        "A mitre joins the end of one part to the end of another, both whole across the corner. Place one flush \
         with the end of the other; away from the end use a half-lap or a tenon.",
    ),
    code(
        "mitre-uneven",
        "two parts of unequal width are to be mitred",
        "A cut at 45 degrees closes only where both parts are as wide (or, round a box, as thick). Make them so, \
         or use another joint for the corner.",
    ),
    code(
        "more-of-the-same",
        "one fault is found so often that the rest is not told",
        "A hundred findings of one kind have one cause as a rule. Mend the first ones and look again.",
    ),
    code(
        "mortise-open",
        "a mortise would be open at the end of its part",
        "A mortise has wood at both ends, or the tenon draws out sideways. Leave `shoulder` out, so that enough \
         wood is kept at the end, or use a bridle, which is meant to be open.",
    ),
    code(
        "moves-twice",
        "a door or drawer is hung twice",
        "What moves has one way to move: it hangs on slides or on hinges, once. Each drawer of a bank is a piece \
         of its own.",
    ),
    code(
        "no-end-for-dowels",
        "dowels, biscuits or loose tenons are asked for between two broad faces",
        "They join an end or edge to a face, or two ends. Two broad faces are held by screws or glue.",
    ),
    code(
        "no-screw-fits",
        "no usual screw holds and stays inside the wood",
        "A screw needs enough thread in the second part to hold, and must not come out of its far face. \
         Use thicker stock, glue, or another joint.",
    ),
    code(
        "no-slide-fits",
        "no length of the slides fits the depth",
        "The shortest of them is longer than what the opening leaves. Make the opening deeper, keep less \
         room behind, or give the `lengths` that can be had.",
    ),
    code(
        "not-a-length",
        "a text is no length in any notation of the trade",
        "Write 16-7/8\", 1' 4-7/8\", 428mm or 42.8 cm. What can be read in two ways is refused with both readings.",
    ),
    code(
        "not-in-recipes",
        "a function of the language is not for recipes",
        "A recipe only describes: it does not wait, leave or change what it is called on.",
    ),
    code(
        "notch-misfits",
        "a notch has no size, or leaves its part too little wood",
        "A notch goes in from two edges, by the two lengths of `reach` or as far as what stands in it needs, and leaves half an \
         inch or more of the part beside it.",
    ),
    code(
        "notch-not-at-corner",
        "a notch is asked for away from a corner",
        "A notch takes a corner of the broad face: `at` names the two edges that meet there. For a trench between the edges use \
         a dado or groove.",
    ),
    code(
        "number-over-length",
        "a plain number is divided by a length",
        "Most often a fraction of a unit is meant: 7/8.inch reads as 7 divided by 8 inches. Put the \
         fraction in brackets: (7/8).inch.",
    ),
    code(
        "number-too-large",
        "a result is too large to be held exactly",
        "Numbers and fractions are exact as long as they fit; lengths go up to one kilometre. Look for a \
         wrong unit or a slip in a factor.",
    ),
    code(
        "obstacle-not-placed",
        "an obstacle has no place",
        "It reaches without end on each side that is not given, so that one face is enough: `left` for a wall at the right, `top` for \
         the floor. A size needs a face to count from.",
    ),
    code(
        "option-without-effect",
        "an option is given that changes nothing",
        "`count`, `spacing`, `edge_distance` and `screw` of `butt` say where its screws go. Glue has none; and through a \
         broad face screws stand in rows that fill it, so that only `count` is asked for. Take the option out, or choose screws.",
    ),
    code(
        "part-as-band",
        "a sheet or board is used as an edge band",
        "`band_edges` takes a band of the catalog, of the shop file, or one made with `band`.",
    ),
    code(
        "part-list",
        "a list of parts, offcuts or problems cannot be read",
        "Every fault is told with its row and column. A list of parts has the columns part, length, width and stock, \
         and if you like qty, grain and note; a rack has the columns of `offcuts.csv`.",
    ),
    code(
        "part-not-placed",
        "a part is not placed along an axis",
        "Along each axis give two of low face, high face and size; along its thickness one face is \
         enough, because the stock tells the other.",
    ),
    code(
        "part-without-size",
        "a part has no size left",
        "Its high face would lie at or before its low face, or its bands would leave no core. Look at the \
         sizes that are subtracted, and at the inputs.",
    ),
    code(
        "pins-in-level-part",
        "shelf pins are asked for in a part that lies flat",
        "A shelf rests on pins in the upright parts at its ends. Most often the two parts of the call are exchanged: the \
         sides come first, the shelf is named as `shelf`.",
    ),
    code(
        "pins-misplaced",
        "rows of holes for shelf pins have no room where they are asked for",
        "Each hole needs wood round it, and the two rows and the holes of a row must keep apart. Leave out what is not needed: \
         the usual distances suit most cases.",
    ),
    code(
        "placed-in-itself",
        "a piece is placed in itself",
        "A piece cannot stand in itself, nor in a piece that stands in it.",
    ),
    code(
        "placed-twice",
        "a piece is placed twice",
        "A piece stands in one place. Build another one for the second place: equal pieces are one row in \
         the lists all the same.",
    ),
    code(
        "plate-misses-case",
        "a hinge plate has no wood to be screwed to",
        "The plates go onto the inner face of the part that the door hangs on, at the same heights as the cups. That part must \
         reach there.",
    ),
    code(
        "pocket-in-broad-face",
        "pocket screws would leave a part through its broad face",
        "A pocket screw runs along the part and leaves it through its end. Exchange the two parts, or use \
         plain screws.",
    ),
    code(
        "pocket-in-edge",
        "pocket holes are to be drilled into an edge",
        "The jig clamps onto a broad face. Name one of the two in `drill`.",
    ),
    code(
        "pocket-leaves-part",
        "a pocket hole would come out of its part",
        "The part is too short along the screw, or the hole lies too near to its edge. Use fewer screws, \
         a larger `edge_distance`, or another way to hold it.",
    ),
    code(
        "printed",
        "the recipe printed something",
        "What `print` and `debug` are given is shown as a note, for the one who writes the recipe.",
    ),
    code(
        "rabbet-in-edge",
        "the tongue of a dado is to be cut on an edge",
        "The tongue is what a rabbet on one broad face of the shelf leaves. `rabbet` names that face; the edges \
         of the shelf have nothing to do with it.",
    ),
    code(
        "rabbet-too-wide",
        "a rabbet would take far more than the part that lies in it",
        "A rabbet runs out at the edge. A part that is set in from there by up to two inches leaves an edge to scribe to a wall; further in the \
         rabbet would cut away wood that nothing fills. Place the part nearer to the edge, or let it into a dado or groove.",
    ),
    code(
        "recipe-fault",
        "the recipe fails in a way that has no story of its own",
        "The message is the script engine's. If it does not help, the recipe and the message make a good \
         report to the authors.",
    ),
    code(
        "recipe-stop",
        "the recipe ended itself with a message",
        "The message is the recipe's own, from `stop` or `throw`. Most often the inputs ask for something \
         that it cannot build.",
    ),
    code(
        "recipe-too-deep",
        "functions, brackets, files or pieces are nested too deeply",
        "A function may be calling itself without an end. What is deep by itself reads better in steps, \
         with variables.",
    ),
    code(
        "recipe-too-large",
        "the recipe, or something that it makes, is too large",
        "A recipe describes some hundreds of parts and needs little of anything. Look for a loop that \
         goes round too often.",
    ),
    code("recipe-too-long", "the recipe takes too many steps", "A loop may have no end: look at its condition."),
    code(
        "recipe-too-slow",
        "the recipe runs for too long",
        "Look for a loop over long texts or lists, or one that has no end.",
    ),
    code(
        "recipe-warning",
        "the recipe warns",
        "The message is the recipe's own, from `warn`. The papers are written all the same.",
    ),
    code(
        "requirement",
        "the inputs break a condition of the recipe",
        "The message is the recipe's own, from `requires`. Change the inputs so that the condition holds.",
    ),
    code(
        "screw-comes-through",
        "a screw would come out of the wood",
        "What is asked for as `screw` is longer than the two parts can hold. Leave it out for the longest \
         that stays inside.",
    ),
    code(
        "screw-too-short",
        "a screw would hold nothing",
        "What is asked for as `screw` reaches too little into the second part, or not at all. Leave it \
         out for the longest that stays inside.",
    ),
    code(
        "screws-misplaced",
        "screws cannot stand where they are asked for",
        "The `edge_distance` is taken from both ends of the joint, and the `spacing` must be at least the \
         width of a pocket. Leave both out for the usual.",
    ),
    code(
        "shelf-misses-pins",
        "a shelf would not rest on its pins",
        "Pins carry a shelf when they stand under it, near enough to its ends, and when a row has holes at its height. The finding \
         tells how far the shelf has to move.",
    ),
    code(
        "shelf-tips",
        "both rows of pins stand before the middle of their shelf",
        "What a shelf weighs, and what stands on it, is carried by the pins on both sides of its middle. With both rows on one side it tips off \
         them. Move one row over, or make the shelf so deep that its middle lies between them.",
    ),
    code(
        "shop-file-key",
        "the shop file has a key that is not known, twice, or missing",
        "The finding tells the line. docs/shop-file.md lists every key with what it takes.",
    ),
    code(
        "shop-file-syntax",
        "the shop file is not TOML",
        "The finding tells the line. A key, an equals sign and a value stand on a line of their own; \
         texts are in quotes.",
    ),
    code(
        "shop-file-value",
        "a value of the shop file cannot be",
        "The finding tells the line and what to write. Sizes are written with their unit.",
    ),
    code(
        "size-without-size",
        "a size is nothing or less",
        "Thicknesses, widths, depths and lengths must be more than nothing; room and clearance must not be negative.",
    ),
    code(
        "slide-length-unknown",
        "slides are not made in this length",
        "Slides are bought by their length. `longest_slide` chooses one of those that the class has for a depth; `lengths` of \
         `slides` replaces them by those of the slide maker's sheet.",
    ),
    code(
        "slides-as-hardware",
        "slides are put on the bill as plain hardware",
        "Slides carry a box, and the box must fit its opening. `slides` and `hang` put them on the bill \
         and check the fit.",
    ),
    code(
        "spline-misfits",
        "a spline has no room in its mitre",
        "The slots of a spline need wood on both sides of them and before the outside of the corner. Use a thinner or a narrower \
         spline.",
    ),
    code(
        "stock-twice",
        "a recipe makes two stocks of one name",
        "Lists and the shop file know a stock by its name. Give each its own.",
    ),
    code(
        "stop-beside-the-cut",
        "a cut is to stop at an end that it does not have",
        "A stopped cut ends short of the part's edge, at one or both of the ends that it runs to. The hint names them.",
    ),
    code(
        "stop-beyond-the-cut",
        "a stopped cut has nothing left, or leaves its part",
        "`stop_at` is measured from the end of the part inwards. Leave it out for half an inch.",
    ),
    code(
        "syntax",
        "the recipe cannot be read",
        "Something is missing or misspelt where the finding points, or just before. The hint tells what to write.",
    ),
    code(
        "tenon-misfits-groove",
        "a stub tenon does not fill the groove of the panel beside it",
        "The tenon at the end of a rail goes into the groove that holds the panel, so its thickness and length \
         follow from that groove. Leave `thickness` and `depth` out, and let the panel lie within the thickness of \
         the rail; a longer tenon is a `tenon`.",
    ),
    code(
        "thickness-unlike-stock",
        "a part is placed thicker or thinner than its stock",
        "Along its thickness give a part one face only; the stock tells the other, as it was measured.",
    ),
    code(
        "tongue-too-thick",
        "a tongue or tenon is as thick as its part",
        "A tongue is thinner than its part, so that a shoulder is left to close the joint. A third of the \
         thickness is usual; leave `thickness` out for that.",
    ),
    code(
        "too-many-cuts",
        "a part, or the job, has more cuts and holes than can be looked at",
        "Far beyond any furniture: look for a joint in a loop, or a very small `spacing`.",
    ),
    code(
        "too-thin-for-dowels",
        "a part is too thin for the dowels, biscuits or loose tenons that are asked for",
        "An eighth of an inch of wood must stay beside and behind each hole, and each must go in as far as it is thick. Use \
         thinner ones, or thicker stock.",
    ),
    code(
        "too-thin-for-pockets",
        "a part is too thin for pocket holes",
        "The hole would come out of the other face. Use plain screws or glue.",
    ),
    code(
        "trimmed-across-bands",
        "a part is to be trimmed through bands on neighbouring edges",
        "Trimming to size after banding cuts the ends of the band. With bands on neighbouring edges it \
         would cut one of them away.",
    ),
    code(
        "unbanded-edge-runs-through",
        "`run_through` names an edge that is not banded here",
        "It chooses among the edges of the same call whose band covers the ends of its neighbours.",
    ),
    code(
        "units-too-late",
        "`units` comes after an input",
        "The input was read in another unit already. Write `units` in the first line of the recipe.",
    ),
    code("unknown-choice", "a word is none of those to choose from", "The hint gives the nearest, or all of them."),
    code(
        "unknown-function",
        "there is no function of that name",
        "The hint gives the nearest. The recipe's own functions, the language's and those of imported \
         files, with their name and ::, can be called.",
    ),
    code(
        "unknown-hardware",
        "no slides have that name",
        "The catalog knows slides by their class. What is not in it can be given by the sizes of its maker's sheet.",
    ),
    code("unknown-input", "the recipe has no input of that name", "`casewright inputs` with the recipe lists them."),
    code(
        "unknown-name",
        "nothing has that name",
        "A variable must be declared with `let` before it is used. A function sees its own arguments and \
         variables only: hand it what it needs.",
    ),
    code(
        "unknown-option",
        "a function or joint has no option of that name",
        "The hint gives the nearest, or all of them.",
    ),
    code(
        "unknown-property",
        "a part, list or set of options has nothing of that name",
        "The hint gives the nearest. After a number stands its unit: 18.mm, 24.inch.",
    ),
    code(
        "unknown-stock",
        "no stock has that name",
        "Stock is looked for in the recipe, in the shop file and in the catalog. Names are as in a price \
         list: 3/4 birch plywood.",
    ),
    code(
        "unreadable-file",
        "a recipe file cannot be read",
        "It is not there, is not a plain text file, or is longer than a recipe may be.",
    ),
    code(
        "value-in-use",
        "a value is used inside itself",
        "A function that a list runs for each item cannot look at the list meanwhile. Keep what is needed \
         of it in a variable first.",
    ),
    code(
        "wood-unknown",
        "a wood is not in the tables of weights and movement",
        "What is reckoned with in its place is told. A board's `species` names its wood; where the tables do not have \
         it, look its figures up and leave the room that they ask for.",
    ),
    code(
        "wrong-angle",
        "a door or lid is to open by an angle that no hinge has",
        "The angle counts from closed, in whole degrees: 95 to 170 for doors, up to 270 for a leaf that folds \
         flat against the side of its case.",
    ),
    code("wrong-arguments", "a function is called with the wrong things", "The hint shows how it is written."),
    code("wrong-count", "a count cannot be", "The hint tells which counts can."),
    code(
        "wrong-default",
        "the default of an input breaks the input's own rule",
        "A recipe must work as it stands, so that it can be tried at once. Change the default, the range \
         or the choices.",
    ),
    code(
        "wrong-input",
        "what was typed for an input cannot be read",
        "The finding tells what it takes. `casewright inputs` with the recipe lists kinds and ranges.",
    ),
    code(
        "wrong-kind",
        "a value is of the wrong kind",
        "A length where text is needed, a list where one value is needed: the finding tells both.",
    ),
    code(
        "wrong-load",
        "a load is not told in one way",
        "`load` takes one amount: kg or lb in all, kg_per_m2 or lb_per_ft2 on its area, kg_per_m or lb_per_ft on its \
         longer side. Further calls for the same shelf or drawer add to the first.",
    ),
    code(
        "wrong-name",
        "a name is empty, too long, or not on one line",
        "Names are pencilled on parts and stand in lists: up to 80 letters, on one line.",
    ),
    code(
        "wrong-price",
        "a price cannot be",
        "A price is a plain number without its currency, from nothing to ten million.",
    ),
];

const fn code(code: &'static str, summary: &'static str, about: &'static str) -> Code {
    Code { code, summary, about }
}
