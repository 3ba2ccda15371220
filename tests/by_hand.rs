//! Every library recipe, and the example of the README, worked once on paper.
//!
//! The comments are the work: sizes in inches as one would pencil them. Nothing here was copied from the program's output.
//! Trade facts are marked `common practice, no source`.

// A test may unwrap: a failure there is its message.
#![allow(clippy::unwrap_used)]

use std::collections::BTreeMap;

use casewright::base::{Face, Length, parse_length};
use casewright::job::{self, Order, Outcome};
use casewright::model::{HardwareKind, Shop};
use casewright::script::{Workbench, on_script_thread};
use casewright::world::Disk;

/// Runs a recipe with inputs such as `width=24`; it must have a plan.
fn run(recipe: &str, inputs: &[&str]) -> Outcome {
    let shop = Shop::default();
    on_script_thread(|| {
        let bench = Workbench::new(Disk);
        let recipe = bench.open(recipe).unwrap_or_else(|findings| panic!("{findings:?}"));
        let inputs: Vec<(String, String)> = inputs
            .iter()
            .map(|input| input.split_once('=').map(|(name, value)| (name.to_owned(), value.to_owned())).unwrap())
            .collect();
        let outcome = job::run(&bench, &recipe, Order { inputs: &inputs, units: None, shop: &shop });
        assert!(outcome.plan.is_some(), "{:#?}", outcome.findings);
        outcome
    })
}

fn inch(text: &str) -> Length {
    parse_length(&format!("{text} in"), None).unwrap()
}

/// The rows of a part: quantity, length and width to cut.
fn rows(outcome: &Outcome, part: &str) -> Vec<(i64, Length, Length)> {
    let plan = outcome.plan.as_ref().unwrap();
    plan.cut_list.iter().filter(|row| row.part == part).map(|row| (row.quantity, row.length, row.width)).collect()
}

fn sizes(list: &[(i64, &str, &str)]) -> Vec<(i64, Length, Length)> {
    list.iter().map(|(count, length, width)| (*count, inch(length), inch(width))).collect()
}

/// Screws and other hardware by item and size.
fn hardware(outcome: &Outcome, kind: HardwareKind) -> BTreeMap<(String, Option<Length>), i64> {
    let mut bill = BTreeMap::new();
    for used in outcome.model.hardware.iter().filter(|used| used.kind == kind) {
        *bill.entry((used.item.clone(), used.size)).or_insert(0) += used.quantity;
    }
    bill
}

#[test]
fn drawer_box() {
    // 18 wide, 20 deep, 5 high, of 1/2 sides and a 1/4 bottom.
    let outcome = run("drawer-box", &["width=18", "depth=20", "height=5"]);
    // The sides run from front to back: 20 x 5. Front and back stand between them: 18 - 2 x 1/2 = 17.
    assert_eq!(rows(&outcome, "side"), sizes(&[(2, "20", "5")]));
    assert_eq!(rows(&outcome, "front"), sizes(&[(1, "17", "5")]));
    assert_eq!(rows(&outcome, "back"), sizes(&[(1, "17", "5")]));
    // Common practice, no source: the groove is half the side's thickness deep, 1/4, and 1/4 up from the edge.
    // Each edge of the bottom goes in by 1/4 less 1/32 clearance, 7/32: 17 + 7/16 wide, 20 - 1 + 7/16 deep.
    assert_eq!(rows(&outcome, "bottom"), sizes(&[(1, "19-7/16", "17-7/16")]));
    for part in &outcome.model.parts {
        for groove in part.features.iter().filter(|feature| feature.name == "groove") {
            assert_eq!((groove.solid.low[2], groove.solid.high[2]), (inch("1/4"), inch("1/2")));
            assert_eq!(groove.depth(), inch("1/4"));
        }
    }
    // Joints 5 high: outer screws 3/4 from the edges, 3-1/2 between them, less than 6: two at each of four corners.
    // 1/2 into 1/2 takes a 1 in screw: 1 - 9/16 = 7/16 along the screw, 0.42 into the side, which has 0.5.
    let screws = hardware(&outcome, HardwareKind::Screw);
    assert_eq!(screws, BTreeMap::from([(("pocket screw".to_owned(), Some(inch("1"))), 8)]));
    // Equal diagonals mean square (common practice, no source): 18 x 20, root of 324 + 400 = 26.907248.
    let diagonal = outcome.plan.as_ref().unwrap().squares[0].diagonal;
    assert!((diagonal.mm_f64() / 25.4 - 26.907_248).abs() < 1e-6);
}

#[test]
fn drawer_box_with_its_back_cut_down() {
    let outcome =
        run("drawer-box", &["width=18", "depth=20", "height=5", "back=cut down", "corners=front and back run through"]);
    // Front and back run through: 18. The back stands on the bottom: 5 - 1/4 - 1/4 = 4-1/2 high.
    assert_eq!(rows(&outcome, "front"), sizes(&[(1, "18", "5")]));
    assert_eq!(rows(&outcome, "back"), sizes(&[(1, "18", "4-1/2")]));
    // The sides stand between them: 20 - 2 x 1/2 = 19.
    assert_eq!(rows(&outcome, "side"), sizes(&[(2, "19", "5")]));
    // The bottom runs out under the back: 17-7/16 wide as before; 20 - 1/2 + 7/32 = 19-23/32 deep.
    assert_eq!(rows(&outcome, "bottom"), sizes(&[(1, "19-23/32", "17-7/16")]));
}

#[test]
fn drawer_bank_applied() {
    // An opening 24 wide (read 24, 23-15/16, 24-1/16), 28 high and 22 deep; four drawers.
    let outcome = run("drawer-bank", &["width=24; 23-15/16; 24-1/16", "height=28", "depth=22", "drawers=4"]);
    // The smallest reading counts: 23-15/16. Common practice, no source: 1/2 a side for the slides, so the box is one
    // inch under its opening: 22-15/16; front and back 21-15/16 between 1/2 sides. The slides take up to 1/16 more, and sheets that
    // are expected 3/128 thinner than their name, the middle of +0, -3/64, bring 3/64 of it: no need to draw the box narrower.
    // Slides: 22 deep less 1 behind leaves 21, so 20 long.
    // Fronts: 28 + 2 x 1/2 overlay = 29, less 3 reveals of 1/8: 28-5/8 / 4 = 7.15625 = 7-5/32 exactly.
    assert_eq!(rows(&outcome, "drawer front"), sizes(&[(4, "24-15/16", "7-5/32")]));
    // Boxes: 1/2 below and above. The lowest front begins 1/2 under the opening, so its box loses the overlay as well:
    // 7-5/32 - 1/2 - 1/2 - 1/2 = 5-21/32. Equal fronts have equal boxes, so the others are as low.
    assert_eq!(rows(&outcome, "side"), sizes(&[(8, "20", "5-21/32")]));
    assert_eq!(rows(&outcome, "back"), sizes(&[(4, "21-15/16", "5-21/32")]));
    // Bottoms: 21-15/16 + 7/16 = 22-3/8 wide, 19 + 7/16 deep.
    assert_eq!(rows(&outcome, "bottom"), sizes(&[(4, "22-3/8", "19-7/16")]));
    // Slides from the floor: 1/2; then each 7-5/32 + 1/8 = 7-9/32 further, less the overlay of the first:
    // -1/2 + 7-9/32 + 1/2 = 7-9/32; 14-9/16; 21-27/32.
    let plan = outcome.plan.as_ref().unwrap();
    let marks: Vec<Length> = plan.mark_outs.iter().map(|mark| mark.distance).collect();
    assert_eq!(marks, ["1/2", "7-9/32", "14-9/16", "21-27/32"].map(inch));
    // The readings differ by 1/8, which is the limit: no finding of it.
    assert!(!outcome.findings.iter().any(|finding| finding.code == "opening-out-of-true"));
    let slides = hardware(&outcome, HardwareKind::Slides);
    assert_eq!(slides, BTreeMap::from([(("side-mount slides".to_owned(), Some(inch("20"))), 4)]));
}

#[test]
fn drawer_bank_inset_and_graduated() {
    let outcome = run(
        "drawer-bank",
        &["width=20", "height=20", "depth=22", "drawers=3", "style=inset", "heights=graduated", "grade=1"],
    );
    // 20 less 4 reveals of 1/8 is 19-1/2; less 0 + 1 + 2 = 3 is 16-1/2; a third is 5-1/2: fronts 5-1/2, 6-1/2, 7-1/2.
    // They add up to 19-1/2, so each of the 4 reveals is 1/8; the fronts are 20 - 1/4 wide.
    assert_eq!(
        rows(&outcome, "drawer front"),
        sizes(&[(1, "19-3/4", "7-1/2"), (1, "19-3/4", "6-1/2"), (1, "19-3/4", "5-1/2")])
    );
    let fronts: Vec<_> = outcome.model.parts.iter().filter(|part| part.name == "drawer front").collect();
    let edges: Vec<Length> = fronts.iter().flat_map(|part| [part.solid.low[2], part.solid.high[2]]).collect();
    let gaps = [edges[0], edges[2] - edges[1], edges[4] - edges[3], inch("20") - edges[5]];
    assert_eq!(gaps, [inch("1/8"); 4]);
    // Inset fronts of 3/4 stand in the opening: 22 - 3/4 - 1 = 20-1/4, slides of 20.
    let slides = hardware(&outcome, HardwareKind::Slides);
    assert_eq!(slides.keys().next().unwrap().1, Some(inch("20")));
}

#[test]
fn face_frame() {
    // A case 36 x 30, flush, two columns and two rows of 1-1/2 members of 3/4 maple.
    let outcome = run("face-frame", &["case_width=36", "case_height=30", "columns=2", "rows=2"]);
    // Stiles full height; rails between them 36 - 3 = 33; the mid-stile between the rails 30 - 3 = 27.
    // Columns: (33 - 1-1/2) / 2 = 15-3/4, which is the length of the mid-rails.
    assert_eq!(rows(&outcome, "stile"), sizes(&[(2, "30", "1-1/2")]));
    assert_eq!(rows(&outcome, "bottom rail"), sizes(&[(1, "33", "1-1/2")]));
    assert_eq!(rows(&outcome, "mid-stile"), sizes(&[(1, "27", "1-1/2")]));
    assert_eq!(rows(&outcome, "mid-rail"), sizes(&[(2, "15-3/4", "1-1/2")]));
    // Openings: 15-3/4 wide, (27 - 1-1/2) / 2 = 12-3/4 high.
    assert_eq!(outcome.model.openings.len(), 4);
    for opening in &outcome.model.openings {
        assert_eq!((opening.width(), opening.height()), (inch("15-3/4"), inch("12-3/4")));
    }
    // Ends: 2 rails, 1 mid-stile and 2 mid-rails have two each, with two screws of 1-1/4 in 1-1/2 of height: 20.
    let screws = hardware(&outcome, HardwareKind::Screw);
    assert_eq!(screws, BTreeMap::from([(("pocket screw".to_owned(), Some(inch("1-1/4"))), 20)]));
}

#[test]
fn face_frame_overhanging() {
    let outcome = run("face-frame", &["case_width=36", "case_height=30", "columns=1", "overhang=1/4"]);
    // 36 + 2 x 1/4 = 36-1/2 over all; the rails are 36-1/2 - 3 = 33-1/2, and the frame begins 1/4 left of the case.
    assert_eq!(rows(&outcome, "top rail"), sizes(&[(1, "33-1/2", "1-1/2")]));
    let left = outcome.model.parts.iter().map(|part| part.solid.low[0]).min();
    assert_eq!(left, Some(-inch("1/4")));
}

#[test]
fn edged_panel() {
    // 24 x 18 of 3/4 MDF with 1/4 lipping all round, the front running through, taken off.
    let inputs = ["width=24", "depth=18", "panel=3/4 MDF", "band=1/4 maple lipping", "edges=all round"];
    let outcome = run("edged-panel", &inputs);
    // The core is 24 - 1/2 by 18 - 1/2; the finished panel 24 x 18.
    assert_eq!(rows(&outcome, "panel"), sizes(&[(1, "23-1/2", "17-1/2")]));
    let plan = outcome.plan.as_ref().unwrap();
    assert_eq!(plan.cut_list[0].finished, Some((inch("24"), inch("18"))));
    // Front and back run through at 24; the ends stand between them at 18 - 1/2 = 17-1/2: 48 + 35 = 83.
    // Common practice, no source: an inch more at each of eight ends: 91.
    assert_eq!(plan.bands.len(), 1);
    assert_eq!((plan.bands[0].edges, plan.bands[0].net, plan.bands[0].to_buy), (4, inch("83"), inch("91")));
}

#[test]
fn edged_panel_banded_before_it_is_cut_to_size() {
    let inputs = ["width=24", "depth=18", "band=1/4 maple lipping", "order=band, then cut to size", "trim=1/2"];
    let outcome = run("edged-panel", &inputs);
    // Banded at the front: 18 - 1/4 deep, and 24 + 1/2 long to trim through core and band together.
    assert_eq!(rows(&outcome, "panel"), sizes(&[(1, "24-1/2", "17-3/4")]));
}

#[test]
fn bench_drawers() {
    let outcome = run("bench-drawers", &[]);
    // 60 wide, 34 high with a 3/4 top: the case is 33-1/4 high and 24 deep.
    assert_eq!(rows(&outcome, "case side"), sizes(&[(2, "33-1/4", "24")]));
    // The floor is 60 - 1-1/2 = 58-1/2 between the sides and goes a third of 3/4, 1/4, into each: 59.
    // The back is 1/4 thick, so the floor is 23-3/4 deep.
    assert_eq!(rows(&outcome, "case floor"), sizes(&[(1, "59", "23-3/4")]));
    // The back goes half of 3/4 into each side: 58-1/2 + 3/4 = 59-1/4.
    assert_eq!(rows(&outcome, "case back"), sizes(&[(1, "59-1/4", "33-1/4")]));
    // The frame's openings: (60 - 3 - 1-1/2) / 2 = 27-3/4 wide; 33-1/4 - 3 = 30-1/4 high.
    for opening in &outcome.model.openings {
        assert_eq!((opening.width(), opening.height()), (inch("27-3/4"), inch("30-1/4")));
    }
    // Inset fronts: 30-1/4 less 4 x 1/8 is 29-3/4; less 3 of grade is 26-3/4; a third is 8.91666, down to 1/32: 8-29/32.
    // 8-29/32 + 9-29/32 + 10-29/32 = 29-23/32: 17/32 is left for 4 reveals, 17/128 each, and so beside the fronts:
    // 27-3/4 - 17/64 = 27-31/64.
    // (17/128 in is not a whole number of nanometres, so that one reveal is a nanometre wider than the next.)
    let fronts = rows(&outcome, "drawer front");
    let by_hand = sizes(&[(2, "27-31/64", "10-29/32"), (2, "27-31/64", "9-29/32"), (2, "27-31/64", "8-29/32")]);
    assert_eq!(fronts.len(), 3);
    for (front, by_hand) in fronts.iter().zip(&by_hand) {
        assert!(front.1.same_size(by_hand.1), "{front:?} {by_hand:?}");
        assert_eq!((front.0, front.2), (by_hand.0, by_hand.2));
    }
    // Boxes: 27-3/4 - 1 = 26-3/4 wide, so fronts 25-3/4; slides: 23-3/4 + 3/4 - 3/4 - 1 = 22-3/4, so 22.
    assert_eq!(rows(&outcome, "side"), sizes(&[(4, "22", "9-29/32"), (4, "22", "8-29/32"), (4, "22", "7-29/32")]));
    // The top: 60 + 2 = 62 wide, 24 + 3/4 + 1 = 25-3/4 deep, less 1/4 lipping at both ends and the front.
    assert_eq!(rows(&outcome, "bench top"), sizes(&[(1, "61-1/2", "25-1/2")]));
}

#[test]
fn base_cabinet() {
    // 30 wide, 34-1/2 high, 24 deep; 3/4 plywood, a 1/4 back in rabbets, a 4 in plinth; one drawer over a shelf behind doors.
    let outcome = run("base-cabinet", &[]);
    // The sides stand on the plinth's height: 34-1/2 - 4 = 30-1/2. The drawer: see below.
    assert_eq!(rows(&outcome, "side"), sizes(&[(2, "30-1/2", "24"), (2, "22", "5")]));
    // Inside 30 - 2 x 3/4 = 28-1/2. Bottom and stretchers lie at the ends of the sides, in rabbets of half of 3/4 (common
    // practice, no source): 28-1/2 + 2 x 3/8 = 29-1/4. The bottom ends at the back: 24 - 1/4. Stretchers are 4 wide.
    assert_eq!(rows(&outcome, "bottom"), sizes(&[(1, "29-1/4", "23-3/4"), (1, "26-15/16", "21-7/16")]));
    assert_eq!(rows(&outcome, "front stretcher"), sizes(&[(1, "29-1/4", "4")]));
    assert_eq!(rows(&outcome, "rear stretcher"), sizes(&[(1, "29-1/4", "4")]));
    // The fixed shelf under the drawer goes a third of 3/4 into each side: 28-1/2 + 2 x 1/4 = 29.
    assert_eq!(rows(&outcome, "fixed shelf"), sizes(&[(1, "29", "23-3/4")]));
    // The back covers the edges of bottom and stretcher: 30-1/2 high; 28-1/2 + 2 x 3/8 wide. Its grain runs up.
    assert_eq!(rows(&outcome, "back"), sizes(&[(1, "30-1/2", "29-1/4"), (1, "26-1/2", "5")]));
    // 1/16 of room at each end and 1/4 behind the front: 28-1/2 - 1/8; 23-3/4 - 1/4.
    assert_eq!(rows(&outcome, "adjustable shelf"), sizes(&[(1, "28-3/8", "23-1/2")]));
    assert_eq!(rows(&outcome, "wall cleat"), sizes(&[(1, "28-1/2", "4")]));
    // The plinth stands 3 back under the bottom: front and back 28-1/2 x 4; between them 23-3/4 - 3 - 2 x 3/4 = 19-1/4. 28-1/2
    // is more than 24, so that a bearer stands in the middle.
    assert_eq!(rows(&outcome, "plinth front"), sizes(&[(1, "28-1/2", "4")]));
    assert_eq!(rows(&outcome, "plinth back"), sizes(&[(1, "28-1/2", "4")]));
    assert_eq!(rows(&outcome, "plinth end"), sizes(&[(2, "19-1/4", "4")]));
    assert_eq!(rows(&outcome, "plinth bearer"), sizes(&[(1, "19-1/4", "4")]));
    // The drawer's opening: 28-1/2 wide and 6 high. Its front leaves 1/8 on a 3/4 edge that it shares: it covers
    // (3/4 - 1/8) / 2 = 5/16 all round: 28-1/2 + 5/8 = 29-1/8 by 6 + 5/8.
    assert_eq!(rows(&outcome, "drawer front"), sizes(&[(1, "29-1/8", "6-5/8")]));
    // The box: 28-1/2 - 2 x 1/2 = 27-1/2 wide, 6 - 1/2 - 1/2 = 5 high. Slides: behind the front there are 23-3/4, less the
    // cleat of 3/4, less 1 of room: 22. The front is 27-1/2 - 1 = 26-1/2; the bottom 26-1/2 + 2 x 7/32 by 22 - 1 + 2 x 7/32.
    assert_eq!(rows(&outcome, "front"), sizes(&[(1, "26-1/2", "5")]));
    let slides = hardware(&outcome, HardwareKind::Slides);
    assert_eq!(slides, BTreeMap::from([(("side-mount slides".to_owned(), Some(inch("22"))), 1)]));
    // From the floor up: plinth 4, bottom 3/4; then 34-1/2 - 4 - 3/4 - 3/4 - 6 - 3/4 = 22-1/4 clear; the shelf from 27 to
    // 27-3/4; 6 clear up to 33-3/4; the stretchers to 34-1/2.
    let shelf = outcome.model.parts.iter().find(|part| part.name == "fixed shelf").unwrap();
    assert_eq!((shelf.solid.low[2], shelf.solid.high[2]), (inch("27"), inch("27-3/4")));
    // The doors cover 5/16 all round of 28-1/2 by 22-1/4: 29-1/8 less 1/8 between them is 29, half of it 14-1/2; 22-7/8 high.
    assert_eq!(rows(&outcome, "door"), sizes(&[(2, "22-7/8", "14-1/2")]));
    // 5/16 is less than half of 3/4; two hinges to each door.
    let hinges = hardware(&outcome, HardwareKind::Hinge);
    assert_eq!(hinges, BTreeMap::from([(("35 mm cup hinge, half overlay".to_owned(), None), 4)]));
    // The doors begin at 4-3/4 - 5/16 = 4-7/16. Common practice, no source: hinges 4 from the ends, at 8-7/16 and 4-7/16 + 22-7/8 - 4
    // = 23-5/16; cups of 35 mm, 5 mm from the edge.
    let mm = Length::from_mm;
    let door = outcome.model.parts.iter().find(|part| part.name == "door").unwrap();
    let cups: Vec<_> = door.features.iter().filter(|feature| feature.name == "hinge cup").collect();
    let edge = inch("3/4") - inch("5/16");
    assert_eq!([cups[0].solid.low[0], cups[0].solid.high[0]], [edge + mm(5), edge + mm(40)]);
    let middle = |low: Length, high: Length| low + (high - low).half();
    let heights: Vec<Length> = cups.iter().map(|cup| middle(cup.solid.low[2], cup.solid.high[2])).collect();
    assert_eq!(heights, ["8-7/16", "23-5/16"].map(inch));
    // The plates' line is 37 mm behind the front edge of the side, two holes 32 mm apart at each hinge.
    let side = outcome.model.parts.iter().find(|part| part.name == "side").unwrap();
    let plates: Vec<_> = side.features.iter().filter(|feature| feature.name == "plate hole").collect();
    assert_eq!(plates.len(), 4);
    for (plate, up) in plates.iter().zip([-16, 16, -16, 16]) {
        assert_eq!(middle(plate.solid.low[1], plate.solid.high[1]), mm(37));
        let hinge = if plate.solid.low[2] < inch("15") { inch("8-7/16") } else { inch("23-5/16") };
        assert_eq!(middle(plate.solid.low[2], plate.solid.high[2]), hinge + mm(up));
    }
    // The shelf on pins: 22-1/4 less 3/4 is 21-1/2, half of it 10-3/4: it lies at 4-3/4 + 10-3/4 = 15-1/2, and its pins of 1/4
    // stand 1/8 lower. Three holes more each way, 1-1/4 apart: seven in a row, the lowest at 15-3/8 - 3-3/4 = 11-5/8. The rows are
    // 2-1/2 behind the front, clear of the plates, and 1-1/2 before the back at 23-3/4.
    let holes: Vec<_> = side.features.iter().filter(|feature| feature.name == "pin hole").collect();
    assert_eq!(holes.len(), 14);
    for (at, hole) in holes.iter().enumerate() {
        let step = inch("1-1/4") * i64::try_from(at / 2).unwrap();
        let row = if at % 2 == 0 { inch("2-1/2") } else { inch("22-1/4") };
        assert_eq!(middle(hole.solid.low[2], hole.solid.high[2]), inch("11-5/8") + step);
        assert_eq!((middle(hole.solid.low[1], hole.solid.high[1]), hole.depth()), (row, inch("3/8")));
    }
}

#[test]
fn base_cabinet_with_doors_on_both_sides_of_a_partition() {
    let outcome = run("base-cabinet", &["width=48", "bays=2"]);
    // Half of 3/4 less 1/16 is 5/16: 1/8 of the partition stays between the plates' holes. Common practice, no source: 12 mm
    // would be usual. Four holes from each side.
    let partition = outcome.model.parts.iter().find(|part| part.name == "partition").unwrap();
    let plates: Vec<_> = partition.features.iter().filter(|feature| feature.name == "plate hole").collect();
    assert_eq!(plates.len(), 8);
    assert!(plates.iter().all(|plate| plate.depth() == inch("5/16")));
    // In the sides they are as deep: one setting. Bays: (48 - 3 x 3/4) / 2 = 22-7/8; doors (22-7/8 + 5/8 - 1/8) / 2 = 11-11/16 wide.
    let doors = rows(&outcome, "door");
    assert_eq!(doors, sizes(&[(4, "22-7/8", "11-11/16")]));
}

#[test]
fn base_cabinet_with_a_face_frame_and_framed_doors() {
    let inputs = ["style=framed", "bays=2", "width=48", "door_kind=frame and panel", "doors=left"];
    let outcome = run("base-cabinet", &inputs);
    // The frame: stiles 34-1/2 - 4 = 30-1/2 by 1-1/2; rails 48 - 3 = 45; the mid-stile 30-1/2 - 3 = 27-1/2. Openings
    // (45 - 1-1/2) / 2 = 21-3/4 wide, the upper ones 6 high, the lower ones 27-1/2 - 1-1/2 - 6 = 20.
    let frame: Vec<_> = rows(&outcome, "stile").into_iter().filter(|row| row.2 == inch("1-1/2")).collect();
    // The left one has the plates of a door, so that it is a row of its own.
    assert_eq!(frame, sizes(&[(1, "30-1/2", "1-1/2"), (1, "30-1/2", "1-1/2")]));
    assert_eq!(rows(&outcome, "mid-rail"), sizes(&[(2, "21-3/4", "1-1/2")]));
    let openings: Vec<_> = outcome.model.openings.iter().map(|opening| (opening.width(), opening.height())).collect();
    assert_eq!(
        openings,
        [("21-3/4", "20"), ("21-3/4", "6"), ("21-3/4", "20"), ("21-3/4", "6")].map(|(a, b)| (inch(a), inch(b)))
    );
    // Doors cover 1/2 all round: 22-3/4 by 21, with stiles of 2-1/4; rails 22-3/4 - 4-1/2 = 18-1/4 and 11/32 into each stile.
    let stiles: Vec<_> = rows(&outcome, "stile").into_iter().filter(|row| row.2 == inch("2-1/4")).collect();
    assert_eq!(stiles.iter().map(|row| row.0).sum::<i64>(), 4);
    assert!(stiles.iter().all(|row| row.1 == inch("21")));
    let rails: Vec<_> = rows(&outcome, "top rail").into_iter().filter(|row| row.2 == inch("2-1/4")).collect();
    assert_eq!(rails, sizes(&[(2, "18-15/16", "2-1/4")]));
    // The partition stands behind the middle of its mid-stile, which begins at 1-1/2 + 21-3/4 = 23-1/4: (1-1/2 - 3/4) / 2 further.
    let partition = outcome.model.parts.iter().find(|part| part.name == "partition").unwrap();
    assert_eq!(partition.solid.low[0], inch("23-5/8"));
    // The plates are screwed to the middle of the edges of the stiles, 3/8 behind their faces.
    for part in outcome.model.parts.iter().filter(|part| part.features.iter().any(|cut| cut.name == "plate hole")) {
        let plate = part.features.iter().find(|cut| cut.name == "plate hole").unwrap();
        assert!(["stile", "mid-stile"].contains(&part.name.as_str()));
        assert_eq!(plate.solid.low[1] + plate.solid.high[1], part.solid.low[1] + part.solid.high[1]);
    }
}

#[test]
fn carcass_on_toe_notches_with_dowels() {
    let inputs =
        ["joint=dowels", "base=toe notch", "height=34", "depth=20", "adjustable=0", "toe_height=4", "toe_setback=3"];
    let outcome = run("carcass", &inputs);
    // The sides go down to the floor, 34 x 20, and lose a corner of 3 by 4.
    assert_eq!(rows(&outcome, "side"), sizes(&[(2, "34", "20")]));
    for side in outcome.model.parts.iter().filter(|part| part.name == "side") {
        let notch = side.features.iter().find(|feature| feature.name == "notch").unwrap();
        assert_eq!(([notch.solid.high[1], notch.solid.high[2]]), [inch("3"), inch("4")]);
    }
    // The bottom lies on top of the notch and keeps its size: 30 - 1-1/2 = 28-1/2 by 20 - 1/4. The board stands under it, 3 back.
    assert_eq!(rows(&outcome, "bottom"), sizes(&[(1, "28-1/2", "19-3/4")]));
    let bottom = outcome.model.parts.iter().find(|part| part.name == "bottom").unwrap();
    assert_eq!((bottom.solid.low[2], bottom.solid.high[2]), (inch("4"), inch("4-3/4")));
    assert_eq!(rows(&outcome, "toe board"), sizes(&[(1, "28-1/2", "4")]));
    // Common practice, no source: dowels half as thick as the end, 3/8, four times as long; 3/4 from the ends and no more than 6
    // apart: 19-3/4 - 1-1/2 = 18-1/4 takes five at each of four ends.
    let dowels: BTreeMap<_, _> = hardware(&outcome, HardwareKind::Other)
        .into_iter()
        .filter(|((item, _), _)| item.starts_with("dowel"))
        .collect();
    assert_eq!(dowels, BTreeMap::from([(("dowel 3/8\" thick".to_owned(), Some(inch("1-1/2"))), 20)]));
}

#[test]
fn bookcase() {
    // 36 wide, 72 high, 12 deep; 3/4 plywood, a 1/4 back in rabbets, a 3 in plinth; one fixed shelf, two on pins above and below.
    let outcome = run("bookcase", &[]);
    assert_eq!(rows(&outcome, "side"), sizes(&[(2, "69", "12")]));
    // Inside 34-1/2; bottom and top in rabbets of 3/8, the fixed shelf in dados of 1/4; all end at the back.
    assert_eq!(rows(&outcome, "bottom"), sizes(&[(1, "35-1/4", "11-3/4")]));
    assert_eq!(rows(&outcome, "top"), sizes(&[(1, "35-1/4", "11-3/4")]));
    assert_eq!(rows(&outcome, "fixed shelf"), sizes(&[(1, "35", "11-3/4")]));
    assert_eq!(rows(&outcome, "back"), sizes(&[(1, "69", "35-1/4")]));
    assert_eq!(rows(&outcome, "adjustable shelf"), sizes(&[(4, "34-3/8", "11-3/4")]));
    // The plinth stands 1 back: 11-3/4 - 1 - 2 x 3/4 = 9-1/4 between front and back; 34-1/2 is more than 24: one bearer.
    assert_eq!(rows(&outcome, "plinth front"), sizes(&[(1, "34-1/2", "3")]));
    assert_eq!(rows(&outcome, "plinth back"), sizes(&[(1, "34-1/2", "3")]));
    assert_eq!(rows(&outcome, "plinth end"), sizes(&[(2, "9-1/4", "3")]));
    assert_eq!(rows(&outcome, "plinth bearer"), sizes(&[(1, "9-1/4", "3")]));
    // Clear height: 72 - 3 - 3/4 - 3/4 = 67-1/2, less the fixed shelf 66-3/4, half of it 33-3/8: the shelf lies at
    // 3-3/4 + 33-3/8 = 37-1/8. Two shelves leave 33-3/8 - 1-1/2 = 31-7/8, a third is 10-5/8: the lower one lies at 14-3/8, the
    // other would lie 11-3/8 higher; holes 1-1/4 apart (common practice, no source) give 9 of them, 11-1/4: 25-5/8. Above the fixed
    // shelf, whose top is at 37-7/8, they lie at 48-1/2 and 59-3/4.
    let heights = |name: &str| -> Vec<Length> {
        outcome.model.parts.iter().filter(|part| part.name == name).map(|part| part.solid.low[2]).collect()
    };
    assert_eq!(heights("fixed shelf"), [inch("37-1/8")]);
    assert_eq!(heights("adjustable shelf"), ["14-3/8", "25-5/8", "48-1/2", "59-3/4"].map(inch));
    // Seven holes and three more each way from the lower to the upper shelf, 10 + 6 = 16 in a row; two rows in each of two heights.
    let side = outcome.model.parts.iter().find(|part| part.name == "side").unwrap();
    assert_eq!(side.features.iter().filter(|feature| feature.name == "pin hole").count(), 64);
    // Four pins to each shelf.
    let pins: i64 = hardware(&outcome, HardwareKind::ShelfPin).values().sum();
    assert_eq!(pins, 16);
}

#[test]
fn wall_cabinet() {
    // 30 wide, 30 high, 12 deep, two shelves; cleats 3 high at top and bottom, 28-1/2 between the sides.
    let outcome = run("wall-cabinet", &[]);
    assert_eq!(rows(&outcome, "side"), sizes(&[(2, "30", "12")]));
    assert_eq!(rows(&outcome, "bottom"), sizes(&[(1, "29-1/4", "11-3/4")]));
    assert_eq!(rows(&outcome, "back"), sizes(&[(1, "30", "29-1/4")]));
    assert_eq!(rows(&outcome, "wall cleat"), sizes(&[(2, "28-1/2", "3")]));
    // The cleats take 6 of the 28-1/2 between bottom and top: 22-1/2, less two shelves 21, a third is 7: the shelves lie at
    // 3/4 + 3 + 7 = 10-3/4, and 7-3/4 higher, of which holes 1-1/4 apart (common practice, no source) give 7-1/2: 18-1/4.
    let heights: Vec<Length> = outcome
        .model
        .parts
        .iter()
        .filter(|part| part.name == "adjustable shelf")
        .map(|part| part.solid.low[2])
        .collect();
    assert_eq!(heights, ["10-3/4", "18-1/4"].map(inch));
    // The doors cover the edges of 3/4 but for 1/16: 28-1/2 + 2 x 11/16 = 29-7/8 both ways; less 1/8 and halved 14-7/8.
    assert_eq!(rows(&outcome, "door"), sizes(&[(2, "29-7/8", "14-7/8")]));
    let hinges = hardware(&outcome, HardwareKind::Hinge);
    assert_eq!(hinges, BTreeMap::from([(("35 mm cup hinge, full overlay".to_owned(), None), 4)]));
}

#[test]
fn wall_cabinet_with_inset_doors_before_a_fixed_shelf() {
    let outcome = run("wall-cabinet", &["fit=inset", "fixed=1", "adjustable=1"]);
    // 28-1/2 less three reveals of 1/8, halved: 14-1/16; 28-1/2 less two: 28-1/4.
    assert_eq!(rows(&outcome, "door"), sizes(&[(2, "28-1/4", "14-1/16")]));
    // The fixed shelf stands 3/4 back, behind the doors, and its dado runs from there out at the back: 29 x 11. Shelves on pins 1/4 further: 10-3/4.
    assert_eq!(rows(&outcome, "fixed shelf"), sizes(&[(1, "29", "11")]));
    assert_eq!(rows(&outcome, "adjustable shelf"), sizes(&[(2, "28-3/8", "10-3/4")]));
    let side = outcome.model.parts.iter().find(|part| part.name == "side").unwrap();
    let dado = side.features.iter().find(|feature| feature.name == "dado").unwrap();
    assert_eq!((dado.solid.low[1], dado.solid.high[1]), (inch("3/4"), inch("12")));
}

#[test]
fn pantry_tower() {
    // 24 wide, 84 high, 24 deep on a 4 in plinth; four drawers in 36, three shelves above.
    let outcome = run("pantry-tower", &[]);
    assert_eq!(rows(&outcome, "side")[0], (2, inch("80"), inch("24")));
    // Inside 22-1/2: the fixed shelf in dados of 1/4, 23 long; bottom and top in rabbets of 3/8, 23-1/4.
    assert_eq!(rows(&outcome, "fixed shelf"), sizes(&[(1, "23", "23-3/4")]));
    assert_eq!(rows(&outcome, "top"), sizes(&[(1, "23-1/4", "23-3/4")]));
    assert_eq!(rows(&outcome, "adjustable shelf"), sizes(&[(3, "22-3/8", "23-1/2")]));
    // Fronts: 36 + 2 x 5/16 = 36-5/8, less three reveals of 1/8 is 36-1/4; less 0 + 1 + 2 + 3 of grade 30-1/4, a quarter is
    // 7-9/16: 7-9/16, 8-9/16, 9-9/16 and 10-9/16; 22-1/2 + 5/8 wide.
    assert_eq!(
        rows(&outcome, "drawer front"),
        sizes(&[(1, "23-1/8", "10-9/16"), (1, "23-1/8", "9-9/16"), (1, "23-1/8", "8-9/16"), (1, "23-1/8", "7-9/16")])
    );
    // Above: 84 - 4 - 2-1/4 - 36 = 41-3/4. A pair of doors covers 5/16 all round: 42-3/8 high, (23-1/8 - 1/8) / 2 wide; three hinges
    // each, because 42-3/8 is more than 35 (common practice, no source).
    assert_eq!(rows(&outcome, "door"), sizes(&[(2, "42-3/8", "11-1/2")]));
    assert_eq!(hardware(&outcome, HardwareKind::Hinge).values().sum::<i64>(), 6);
    // Slides: 23-3/4 less 1 is 22-3/4: 22, of the heavy class.
    let slides = hardware(&outcome, HardwareKind::Slides);
    assert_eq!(slides, BTreeMap::from([(("heavy side-mount slides".to_owned(), Some(inch("22"))), 4)]));
}

#[test]
fn pull_outs_behind_inset_doors() {
    // 24 wide, so 22-1/2 inside. An inset door of 3/4 with 1/8 beside it stands 7/8 before the opening when it is open, and an eighth
    // more keeps clear of it: 1 in, two packers of 3/4 at each side. Four pull-outs have 2 x 2 packers each. The heavy slides are 53 mm high
    // (common practice, no source): 2-3/32; with 1/2 more 2.587, up to the next 1/32 2-19/32.
    let outcome = run("pantry-tower", &["inside=pull-outs", "fit=inset"]);
    // Boxes begin 2-1/2 behind the door, at 3-1/4. Behind them the back takes 1/4, the cleat 3/4 and 1 is free: 24 - 3-1/4 - 2 = 18-3/4,
    // so 18 in slides.
    // Those on the side have the holes of two sets of screws, those on the packers of one: two rows.
    assert_eq!(rows(&outcome, "packer"), sizes(&[(8, "18", "2-19/32"), (8, "18", "2-19/32")]));
    let slides = hardware(&outcome, HardwareKind::Slides);
    assert_eq!(slides.get(&("heavy side-mount slides".to_owned(), Some(inch("18")))), Some(&4));
    // Between the packers 22-1/2 - 3 = 19-1/2, less 1/2 for each slide: boxes 18-1/2 wide, from 3/4 + 1-1/2 + 1/2 = 2-3/4.
    let model = &outcome.model;
    let boxed: Vec<_> = model
        .parts
        .iter()
        .filter(|part| part.name == "side" && model.piece(part.piece).name.starts_with("pull-out"))
        .collect();
    assert_eq!(boxed.len(), 8);
    for pair in boxed.chunks(2) {
        assert_eq!([pair[0].placed.low[0], pair[1].placed.high[0]], ["2-3/4", "21-1/4"].map(inch));
        assert_eq!([pair[0].placed.low[1], pair[0].placed.high[1]], ["3-1/4", "21-1/4"].map(inch));
    }
    // Overlay doors of 3/4 cover 5/16 and stand 7/16 before the opening; their plates of 5/8 stand out more. With an eighth 3/4: one packer.
    let outcome = run("pantry-tower", &["inside=pull-outs"]);
    assert_eq!(rows(&outcome, "packer"), sizes(&[(8, "18", "2-19/32")]));
    // A single door has hinges at one side only.
    let outcome = run("pantry-tower", &["inside=pull-outs", "doors=left"]);
    assert_eq!(rows(&outcome, "packer"), sizes(&[(4, "18", "2-19/32")]));
}

#[test]
fn carcass_with_its_back_in_a_groove() {
    // 30 wide, 30 high, 12 deep. The back stands in grooves, 3/4 before the rear edges, so that the cleat goes behind it.
    let outcome = run("carcass", &["back=groove"]);
    // Bottom and top run to the rear edges: 29-1/4 x 12.
    assert_eq!(rows(&outcome, "bottom"), sizes(&[(1, "29-1/4", "12")]));
    // The back goes 3/8 less 1/32 into each of four grooves: 28-1/2 + 11/16 = 29-3/16 both ways.
    assert_eq!(rows(&outcome, "back"), sizes(&[(1, "29-3/16", "29-3/16")]));
    // In front of it there are 12 - 3/4 - 1/4 = 11, and shelves stand back 1/4.
    assert_eq!(rows(&outcome, "adjustable shelf"), sizes(&[(2, "28-3/8", "10-3/4")]));
    assert_eq!(rows(&outcome, "wall cleat"), sizes(&[(1, "28-1/2", "4")]));
}

#[test]
fn pins_on_both_faces_of_a_partition() {
    // 40 wide, 30 high, 12 deep, two bays with a shelf in each, a cleat of 4 at the top.
    let outcome = run("carcass", &["width=40", "bays=2", "adjustable=1"]);
    // From 3/4 up to 29-1/4 - 4 = 25-1/4 there are 24-1/2; less 3/4, by two 11-7/8: both shelves lie at 12-5/8, their pins of 1/4 stand
    // 1/8 lower. Three holes more each way: seven from 12-1/2 - 3-3/4 = 8-3/4 to 16-1/4.
    let partition = outcome.model.parts.iter().find(|part| part.name == "partition").unwrap();
    let holes: Vec<_> = partition.features.iter().filter(|feature| feature.name == "pin hole").collect();
    assert_eq!(holes.len(), 28);
    let middle = |hole: &casewright::model::Feature, axis: usize| {
        hole.solid.low[axis] + (hole.solid.high[axis] - hole.solid.low[axis]).half()
    };
    for (face, rows) in [(Face::Left, ["1-1/2", "10-1/4"]), (Face::Right, ["2", "9-3/4"])] {
        // Behind the front, and 1-1/2 before the back at 11-3/4; those of the right face stand 1/2 inwards.
        let here: Vec<_> = holes.iter().filter(|hole| hole.face == face).collect();
        assert_eq!(here.len(), 14);
        assert!(here.iter().all(|hole| rows.map(inch).contains(&middle(hole, 1)) && hole.depth() == inch("3/8")));
        let heights: Vec<Length> = here.iter().map(|hole| middle(hole, 2)).collect();
        assert_eq!((heights.iter().min(), heights.iter().max()), (Some(&inch("8-3/4")), Some(&inch("16-1/4"))));
    }
    assert_eq!(hardware(&outcome, HardwareKind::ShelfPin).values().sum::<i64>(), 8);
}

#[test]
fn plywood_that_is_not_its_name() {
    // The same box of 1/2 plywood that measures 15/32: front and back are 18 - 15/16 = 17-1/16. Half of 15/32 is 15/64; a
    // blade is set to the 1/32 below, 7/32, and the bottom is 17-1/16 + 2 x (7/32 - 1/32) = 17-7/16.
    let mut shop = Shop::default();
    let mut ply = casewright::catalog::stock("1/2 birch plywood").unwrap().as_ref().clone();
    ply.measured = Some(inch("15/32"));
    shop.stock.push(ply.into());
    let outcome = on_script_thread(|| {
        let bench = Workbench::new(Disk);
        let recipe = bench.open("drawer-box").unwrap();
        job::run(&bench, &recipe, Order { inputs: &[], units: None, shop: &shop })
    });
    assert_eq!(rows(&outcome, "front"), sizes(&[(1, "17-1/16", "5")]));
    let bottom = rows(&outcome, "bottom")[0];
    assert_eq!(bottom.2, inch("17-7/16"));
    let told = outcome.findings.iter().find(|finding| finding.code == "thickness-unlike-name").unwrap();
    assert!(told.message.contains("1/32\" thinner"), "{told}");
}

fn millimetres(list: &[(i64, &str, &str)]) -> Vec<(i64, Length, Length)> {
    let mm = |text: &str| parse_length(&format!("{text} mm"), None).unwrap();
    list.iter().map(|(count, length, width)| (*count, mm(length), mm(width))).collect()
}

#[test]
fn drawer_box_on_slips_with_dividers_and_lock_rabbets() {
    let inputs = ["width=18", "depth=20", "height=5", "bottom_in=slips", "dividers=2", "hold=lock rabbet"];
    let outcome = run("drawer-box", &inputs);
    // 17 between the sides; a tongue of half of 1/2 less 1/64 of clearance at each end: 17 + 15/32.
    assert_eq!(rows(&outcome, "front"), sizes(&[(1, "17-15/32", "5")]));
    // Slips from front to back: 20 - 1 = 19. The bottom is 1/4 up and 1/4 thick, and 1/4 of slip stands over it: 3/4.
    assert_eq!(rows(&outcome, "slip"), sizes(&[(2, "19", "3/4")]));
    // Between the slips 17 - 1 = 16, and 1/4 - 1/32 into each: 16-7/16. From the front's groove out under the back:
    // 20 - 1/2 + 7/32 = 19-23/32. The back stands on it: 5 - 1/2 = 4-1/2.
    assert_eq!(rows(&outcome, "bottom"), sizes(&[(1, "19-23/32", "16-7/16")]));
    assert_eq!(rows(&outcome, "back"), sizes(&[(1, "17-15/32", "4-1/2")]));
    // Dividers from front to back, 1/8 (a quarter of 1/2) into each: 19-1/4. From the bottom up: 4-1/2.
    assert_eq!(rows(&outcome, "divider"), sizes(&[(2, "19-1/4", "4-1/2")]));
}

#[test]
fn drawer_box_with_box_joints() {
    let outcome = run("drawer-box", &["width=18", "depth=20", "height=5", "hold=box joint"]);
    // Fingers of both parts through the corner: the front is as long as the box is wide, 18; the sides 20.
    assert_eq!(rows(&outcome, "side"), sizes(&[(2, "20", "5")]));
    assert_eq!(rows(&outcome, "front"), sizes(&[(1, "18", "5")]));
    assert_eq!(rows(&outcome, "back"), sizes(&[(1, "18", "5")]));
    // The groove runs from 1/4 to 1/2, and 3/16 over it stay whole: a finger of 11/16 at least. Eight of 5/8 are too narrow, of
    // seven of 5/7 (127 mm / 7 = 18.142857, and the first takes the nanometre left over) the lowest holds it. That one is the side's, as are four of the seven, so that the
    // front's groove ends in the open where the front has no wood.
    let front = outcome.model.parts.iter().find(|part| part.name == "front").unwrap();
    let mut sockets: Vec<_> = front.features.iter().filter(|cut| cut.name == "finger socket").collect();
    assert_eq!(sockets.len(), 8);
    sockets.sort_by_key(|cut| cut.solid.low[2]);
    assert_eq!((sockets[0].solid.low[2], sockets[0].solid.high[2]), (inch("0"), Length::from_nm(18_142_858)));
}

#[test]
fn drawer_box_with_half_blind_dovetails() {
    let outcome = run("drawer-box", &["width=18", "depth=20", "height=5", "hold=half-blind dovetail"]);
    // Front and back run through: 18. The lap is 1/8, a quarter of 1/2, so tails of 3/8: 20 - 1 + 3/4 = 19-3/4.
    assert_eq!(rows(&outcome, "front"), sizes(&[(1, "18", "5")]));
    assert_eq!(rows(&outcome, "side"), sizes(&[(2, "19-3/4", "5")]));
    // A tail comes in by 3/8 / 8 = 3/64 at each side. Under the groove, 1/4 up, a pin has room for 1/4 - 3/64 = 13/64: 3/16.
    // (5 - 3/16) / (5 x 3/16) = 5.1 tails, so five of (5 - 6 x 3/16) / 5 = 0.775: the lowest ends at 0.9625, over the bottom.
    let front = outcome.model.parts.iter().find(|part| part.name == "front").unwrap();
    let mut sockets: Vec<_> = front.features.iter().filter(|cut| cut.name == "tail socket").collect();
    sockets.sort_by_key(|cut| cut.solid.low[2]);
    assert_eq!(sockets.len(), 10);
    assert_eq!((sockets[0].solid.low[2], sockets[0].solid.high[2]), (inch("3/16"), inch("0.9625")));
    // On slips the bottom goes in from behind under a back that is cut down, between the sides in lock rabbets: the sides
    // end at 20 and have tails at the front only, 19-1/2 + 3/8; the back is 17 + 2 x (1/4 - 1/64) = 17-15/32 long.
    let inputs = ["width=18", "depth=20", "height=5", "hold=half-blind dovetail", "bottom_in=slips"];
    let outcome = run("drawer-box", &inputs);
    assert_eq!(rows(&outcome, "side"), sizes(&[(2, "19-7/8", "5")]));
    assert_eq!(rows(&outcome, "back"), sizes(&[(1, "17-15/32", "4-1/2")]));
}

#[test]
fn drawer_box_with_dividers_that_cross() {
    let outcome = run("drawer-box", &["width=18", "depth=20", "height=5", "dividers=2", "cross_dividers=1"]);
    // 19 and 17 between the walls, 1/8 (a quarter of 1/2) into each; from the bottom at 1/2 up: 4-1/2.
    assert_eq!(rows(&outcome, "divider"), sizes(&[(2, "19-1/4", "4-1/2")]));
    assert_eq!(rows(&outcome, "cross divider"), sizes(&[(1, "17-1/4", "4-1/2")]));
    // Each is slotted to half, 2-1/4, and 1/4 wide: the others go over the one from side to side.
    for (name, low, high) in [("divider", "1/2", "2-3/4"), ("cross divider", "2-3/4", "5")] {
        for part in outcome.model.parts.iter().filter(|part| part.name == name) {
            let lap = part.features.iter().find(|cut| cut.name == "lap").unwrap();
            assert_eq!(
                (lap.solid.low[2], lap.solid.high[2], lap.width().unwrap().1),
                (inch(low), inch(high), inch("1/4"))
            );
        }
    }
}

#[test]
fn drawer_bank_in_an_opening_that_leans() {
    // 24 wide and 32 high have a diagonal of 40. Read as 40-1/16 and 39-15/16, the sides lean by
    // (40-1/16^2 - 39-15/16^2) / (4 x 24) = 10 / 96 = 0.1042, which the opening loses in width.
    let inputs = ["width=24", "height=32", "depth=22", "diagonals=40-1/16; 39-15/16", "overlay=0"];
    let outcome = run("drawer-bank", &inputs);
    let front = rows(&outcome, "drawer front")[0];
    assert!((front.1.mm_f64() / 25.4 - (24.0 - 10.0 / 96.0)).abs() < 0.001, "{front:?}");
}

#[test]
fn drawer_bank_at_the_middle_of_what_slides_take() {
    // Half an inch at each side and up to 1/32 more (common practice, no source). MDF is as likely thicker as thinner, so the
    // middle is an inch and 1/32 under an opening of 24: front and back are 21-31/32. At the least gap they are 22.
    let inputs = ["width=24", "height=28", "depth=22", "sides=1/2 MDF"];
    let outcome = run("drawer-bank", &inputs);
    assert_eq!(rows(&outcome, "back")[0].1, inch("21-31/32"));
    // Each side of the box then has half of it: it begins at 33/64.
    let left = outcome.model.parts.iter().filter(|part| part.name == "side").map(|part| part.solid.low[0]).min();
    assert_eq!(left, Some(inch("33/64")));
    let outcome = run("drawer-bank", &[&inputs[..], &["aim=the least"]].concat());
    assert_eq!(rows(&outcome, "back")[0].1, inch("22"));
    // Dovetailed boxes are as wide as their front is cut, however thick the sheets are.
    let outcome = run("drawer-bank", &["width=24", "height=28", "depth=22", "hold=half-blind dovetail"]);
    assert_eq!(rows(&outcome, "front")[0].1, inch("22-31/32"));
}

#[test]
fn face_frame_with_tenons() {
    let inputs = ["case_width=36", "case_height=30", "columns=2", "rows=2", "hold=tenons"];
    let outcome = run("face-frame", &inputs);
    // Tenons go two thirds of 1-1/2 in, 1, less 1/16: rails 33 + 1-7/8, the mid-stile 27 + 1-7/8.
    assert_eq!(rows(&outcome, "top rail"), sizes(&[(1, "34-7/8", "1-1/2")]));
    assert_eq!(rows(&outcome, "mid-stile"), sizes(&[(1, "28-7/8", "1-1/2")]));
    // Into the mid-stile from both sides: 3/4 - 1/16 = 11/16 deep, less 1/16: 15-3/4 + 15/16 + 5/8.
    assert_eq!(rows(&outcome, "mid-rail"), sizes(&[(2, "17-5/16", "1-1/2")]));
}

#[test]
fn face_frame_with_half_laps() {
    let inputs = ["case_width=36", "case_height=30", "columns=2", "rows=2", "hold=half-laps"];
    let outcome = run("face-frame", &inputs);
    // Every member runs to the outside; one mid-rail crosses the mid-stile.
    assert_eq!(rows(&outcome, "top rail"), sizes(&[(1, "36", "1-1/2")]));
    assert_eq!(rows(&outcome, "mid-rail"), sizes(&[(1, "36", "1-1/2")]));
    assert_eq!(rows(&outcome, "mid-stile"), sizes(&[(1, "30", "1-1/2")]));
    // Its laps are 3/8 deep and 1-1/2 wide: at both ends and where it crosses.
    let rail = outcome.model.parts.iter().find(|part| part.name == "mid-rail").unwrap();
    let laps: Vec<_> = rail.features.iter().filter(|cut| cut.name == "lap").collect();
    assert_eq!(laps.len(), 3);
    assert!(laps.iter().all(|lap| lap.depth() == inch("3/8") && lap.width().unwrap().1 == inch("1-1/2")));
}

#[test]
fn face_frame_with_a_wide_rail_and_a_scribed_stile() {
    let inputs = ["case_width=36", "case_height=30", "rail=4", "top_rail=1-1/2", "scribe_left=1/2"];
    let outcome = run("face-frame", &inputs);
    // The left stile is 1-1/2 + 1/2; the rails keep 36 - 3 = 33; the mid-stile is 30 - 4 - 1-1/2 = 24-1/2.
    assert_eq!(rows(&outcome, "stile"), sizes(&[(1, "30", "2"), (1, "30", "1-1/2")]));
    assert_eq!(rows(&outcome, "bottom rail"), sizes(&[(1, "33", "4")]));
    assert_eq!(rows(&outcome, "top rail"), sizes(&[(1, "33", "1-1/2")]));
    assert_eq!(rows(&outcome, "mid-stile"), sizes(&[(1, "24-1/2", "1-1/2")]));
}

#[test]
fn door_of_frame_and_panel() {
    let outcome = run("door", &["width=18", "height=28"]);
    // Applied with 1/2 of overlay: 19 x 29. Rails: 19 - 4-1/2 = 14-1/2 between the stiles, with a tenon at each end of
    // 3/8 of groove less 1/32: 14-1/2 + 11/16 = 15-3/16.
    // The cups of the hinges are in one of them.
    assert_eq!(rows(&outcome, "stile"), sizes(&[(1, "29", "2-1/4"), (1, "29", "2-1/4")]));
    assert_eq!(rows(&outcome, "top rail"), sizes(&[(1, "15-3/16", "2-1/4")]));
    assert_eq!(rows(&outcome, "bottom rail"), sizes(&[(1, "15-3/16", "2-1/4")]));
    // The panel goes as far into all four: 14-1/2 + 11/16, and 29 - 4-1/2 + 11/16.
    assert_eq!(rows(&outcome, "panel"), sizes(&[(1, "25-3/16", "15-3/16")]));
    // Common practice, no source: two hinges up to 35 in of height.
    let hinges = hardware(&outcome, HardwareKind::Hinge);
    assert_eq!(hinges, BTreeMap::from([(("35 mm cup hinge, full overlay".to_owned(), None), 2)]));
    // No case is drawn: the cups are bored, 5 mm from the edge of the hinge stile, 4 from its ends (common practice, no source).
    let stile = outcome.model.parts.iter().find(|part| part.name == "stile").unwrap();
    let cups: Vec<_> = stile.features.iter().filter(|feature| feature.name == "hinge cup").collect();
    let left = stile.solid.low[0];
    assert_eq!(cups[0].solid.low[0] - left, Length::from_mm(5));
    let heights: Vec<Length> = cups
        .iter()
        .map(|cup| cup.solid.low[2] + cup.solid.size(casewright::base::Axis::Z).half() - stile.solid.low[2])
        .collect();
    assert_eq!(heights, ["4", "25"].map(inch));
}

#[test]
fn door_with_mortise_and_tenon() {
    let outcome = run("door", &["width=18", "height=28", "corner=tenon"]);
    // Rails 14-1/2 between the stiles. The mortise is two thirds of 2-1/4, 1-1/2, and 1/16 stays free (common practice, no
    // source): 14-1/2 + 2 x 1-7/16 = 17-3/8. The panel is as before.
    assert_eq!(rows(&outcome, "top rail"), sizes(&[(1, "17-3/8", "2-1/4")]));
    assert_eq!(rows(&outcome, "panel"), sizes(&[(1, "25-3/16", "15-3/16")]));
}

#[test]
fn door_with_a_panel_of_solid_wood() {
    let inputs = ["width=450mm", "height=700mm", "frame=25 mm white oak board", "panel=12 mm white oak board"];
    let inputs = [&inputs[..], &["stile=57mm", "rail=57mm", "overlay=12mm"]].concat();
    let outcome = on_script_thread(|| {
        let bench = Workbench::new(Disk);
        let recipe = bench.open("door").unwrap();
        let inputs: Vec<(String, String)> = inputs
            .iter()
            .map(|text| text.split_once('=').map(|(a, b)| (a.to_owned(), b.to_owned())).unwrap())
            .collect();
        let units = Some(casewright::base::Unit::Millimetre);
        job::run(&bench, &recipe, Order { inputs: &inputs, units, shop: &Shop::default() })
    });
    // 450 + 24 - 114 = 360 between the stiles. White oak moves 0.00365 of its width for each percent of moisture (SEEN: Wood
    // Handbook, FPL-GTR-190, Table 13-5); between 30 and 65 % of humidity at 70 F wood goes from about 6 to 12 %:
    // 360 x 0.00365 x 5.8 = 7.6, half at each side 3.8, on the rule 4. With 1 of clearance 5; the groove must keep 3 of the
    // panel when it has shrunk: 5 + 4 + 3 = 12. The panel: 360 + 2 x 7 = 374, and 724 - 114 + 14 = 624.
    assert_eq!(rows(&outcome, "panel"), millimetres(&[(1, "624", "374")]));
    for part in outcome.model.parts.iter().filter(|part| part.name == "stile") {
        let groove = part.features.iter().find(|feature| feature.name == "groove").unwrap();
        assert_eq!(groove.depth(), Length::from_mm(12));
    }
}

#[test]
fn a_pair_of_inset_slabs() {
    let inputs = ["width=30", "height=28", "kind=slab", "leaves=2", "style=inset", "reveal=1/8"];
    let outcome = run("door", &inputs);
    // 30 less three reveals of 1/8 is 29-5/8: two leaves of 14-13/16. 28 less two is 27-3/4.
    assert_eq!(rows(&outcome, "door"), sizes(&[(2, "27-3/4", "14-13/16")]));
}

#[test]
fn plinth() {
    let outcome = run("plinth", &["width=36", "depth=20", "height=4"]);
    // Front and back run through; 36 is more than 28 and less than twice that: one bearer. 20 - 1-1/2 = 18-1/2.
    assert_eq!(rows(&outcome, "plinth front"), sizes(&[(1, "36", "4")]));
    assert_eq!(rows(&outcome, "plinth back"), sizes(&[(1, "36", "4")]));
    assert_eq!(rows(&outcome, "plinth end"), sizes(&[(2, "18-1/2", "4")]));
    assert_eq!(rows(&outcome, "plinth bearer"), sizes(&[(1, "18-1/2", "4")]));
}

#[test]
fn plan_chest() {
    // A1 lies across: 841 x 594 (from memory: ISO 216; A0 of one square metre is 841 x 1189, and half of 1189 is 594).
    let outcome = run("plan-chest", &[]);
    // Boxes: 20 round the sheet and sides of 12: 841 + 40 + 24 = 905 wide and 594 + 40 + 24 = 658 deep, 6 + 9 + 50 = 65
    // high. With 12.7 of slides at each side and 1/32 in = 0.79375 for the middle of what they take 931.19375, so the case is 932
    // inside. Sheets of 12 are expected at 11.9 (from memory: EN 315, +0.56, -0.76), which brings 0.2 of it: boxes of
    // 932 - 25.99375 = 906.00625, on the rule 906.
    // Box fronts: 906 - 24 = 882, with a tongue of 6 less 0.5 at each end: 893.
    assert_eq!(rows(&outcome, "side"), millimetres(&[(10, "658", "65")]));
    assert_eq!(rows(&outcome, "front"), millimetres(&[(5, "893", "65")]));
    assert_eq!(rows(&outcome, "back"), millimetres(&[(5, "893", "65")]));
    // Bottoms: half of 12 less 1 of clearance into each groove: 882 + 10 = 892, 658 - 24 + 10 = 644.
    assert_eq!(rows(&outcome, "bottom"), millimetres(&[(5, "892", "644")]));
    // Inset fronts: 65 + 6 + 6 = 77 high, 932 - 2 x 3 = 926 wide; five with six reveals make 385 + 18 = 403.
    assert_eq!(rows(&outcome, "drawer front"), millimetres(&[(5, "926", "77")]));
    // The case: 403 + 36 = 439 high; 18 of front, 658 of box, 20 behind: 696, and 6.5 of back: 702.5 deep.
    assert_eq!(rows(&outcome, "case side"), millimetres(&[(2, "439", "702.5")]));
    // Floor and ceiling 932 and half of 18 into the rabbet at each end: 950. The back as well.
    assert_eq!(rows(&outcome, "case floor"), millimetres(&[(1, "950", "696")]));
    assert_eq!(rows(&outcome, "case ceiling"), millimetres(&[(1, "950", "696")]));
    assert_eq!(rows(&outcome, "case back"), millimetres(&[(1, "950", "439")]));
    // The plinth: 968 - 40 = 928 wide, 702.5 - 80 = 622.5 deep, 80 high; between front and back 622.5 - 36 = 586.5. A
    // bearer in the middle, because 928 is more than 700.
    assert_eq!(rows(&outcome, "plinth front"), millimetres(&[(1, "928", "80")]));
    assert_eq!(rows(&outcome, "plinth back"), millimetres(&[(1, "928", "80")]));
    assert_eq!(rows(&outcome, "plinth end"), millimetres(&[(2, "586.5", "80")]));
    assert_eq!(rows(&outcome, "plinth bearer"), millimetres(&[(1, "586.5", "80")]));
    // The top: 968 + 40 = 1008 by 702.5 + 20 = 722.5, less 6 of lipping at both ends and the front.
    assert_eq!(rows(&outcome, "chest top"), millimetres(&[(1, "996", "716.5")]));
    // Slides: 650 is the longest that a box of 658 carries.
    let slides = hardware(&outcome, HardwareKind::Slides);
    assert_eq!(slides, BTreeMap::from([(("metric side-mount slides".to_owned(), Some(Length::from_mm(650))), 5)]));
    // Half full of paper: 25 high on 0.841 x 0.594 m, at 800 kg/m3 9.99 kg.
    assert_eq!(outcome.model.loads.len(), 5);
    assert!(outcome.model.loads.iter().all(|load| load.to_string() == "10 kg of paper"));
    // Each drawer is as high inside as was asked for: from its bottom's upper face to the top of its side 50.
    let tops = |name: &str| -> Vec<Length> {
        outcome.model.parts.iter().filter(|part| part.name == name).map(|part| part.solid.high[2]).collect()
    };
    for (bottom, side) in tops("bottom").iter().zip(tops("side").chunks(2)) {
        assert_eq!(side[0] - *bottom, Length::from_mm(50));
    }
}

#[test]
fn plan_chest_for_large_sheets() {
    let outcome = run("plan-chest", &["sheet=A0", "drawers=4", "full=100"]);
    // A0 lies across, 1189 x 841: boxes of 841 + 40 + 24 = 905 deep on slides of 700, the longest there are: 205 stay behind.
    assert_eq!(rows(&outcome, "side"), millimetres(&[(8, "905", "65")]));
    let notes = &outcome.plan.as_ref().unwrap().notes;
    assert!(notes.iter().any(|note| note.contains("the rear 205 mm stay in the case")), "{notes:?}");
    // 1.189 x 0.841 x 0.05 x 800 = 40.0 kg of paper, on slides for 45. Each drawer has sides of 1.81 x 0.065 m, front and back of
    // 2.482 x 0.065 m in 12 mm, a bottom of 1.24 x 0.891 m in 9 mm and a front of 1.274 x 0.077 m in 18 mm: 3.35 + 9.94 + 1.77 =
    // 15.1 thousandths of a cubic metre, at more than 500 kg to the cubic metre more than 7 kg. It is told once.
    assert!(outcome.model.loads.iter().all(|load| load.to_string() == "40 kg of paper"));
    let told: Vec<_> = outcome.findings.iter().filter(|finding| finding.code == "slides-overloaded").collect();
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].message.starts_with("`drawer 1`, and 3 more like it, each weighs "), "{}", told[0]);
}

#[test]
fn workbench_island() {
    let outcome = run("workbench-island", &[]);
    // 36 high with a plinth of 4 and a top of 1: ends 31 x 42. Inside 72 - 1-1/2 = 70-1/2 by 31 - 1-1/2 = 29-1/2.
    assert_eq!(rows(&outcome, "case end"), sizes(&[(2, "31", "42")]));
    assert_eq!(rows(&outcome, "case floor"), sizes(&[(1, "71-1/4", "42")]));
    assert_eq!(rows(&outcome, "case ceiling"), sizes(&[(1, "71-1/4", "42")]));
    // The spine goes a third of 3/4 into each end: 71. Each side is (42 - 3/4) / 2 = 20-5/8 deep; two dividers before it and
    // one behind it, 1/4 into floor and ceiling: 30.
    assert_eq!(rows(&outcome, "spine"), sizes(&[(1, "71", "29-1/2")]));
    assert_eq!(rows(&outcome, "divider"), sizes(&[(3, "30", "20-5/8")]));
    // Three banks of (70-1/2 - 1-1/2) / 3 = 23 at the front, two of (70-1/2 - 3/4) / 2 = 34-7/8 at the back. Fronts cover
    // (3/4 - 1/8) / 2 = 5/16 all round: 23-5/8 and 35-1/2 wide.
    // Front: 29-1/2 + 5/8 - 3/8 = 29-3/4, less 6 of grade, by 4: 5-15/16. Back: 29-7/8 less 3, by 3: 8-30/32.
    assert_eq!(
        rows(&outcome, "drawer front"),
        sizes(&[
            (3, "23-5/8", "8-15/16"),
            (3, "23-5/8", "7-15/16"),
            (3, "23-5/8", "6-15/16"),
            (3, "23-5/8", "5-15/16"),
            (2, "35-1/2", "10-15/16"),
            (2, "35-1/2", "9-15/16"),
            (2, "35-1/2", "8-15/16"),
        ])
    );
    // Boxes: 20-5/8 - 1 = 19-5/8, so slides of 18. Heights: 1 less than the front, and 5/16 less at floor and ceiling.
    // 7-5/8 is the lowest at the front (three) and the highest at the back (two).
    assert_eq!(
        rows(&outcome, "side"),
        sizes(&[
            (10, "18", "7-5/8"),
            (6, "18", "6-15/16"),
            (6, "18", "5-15/16"),
            (6, "18", "4-5/8"),
            (4, "18", "9-5/8"),
            (4, "18", "8-15/16"),
        ])
    );
    // The fronts of the back's drawers stand behind the case, and their boxes run out that way.
    let behind =
        outcome.model.parts.iter().filter(|part| part.name == "drawer front" && part.solid.low[1] == inch("42"));
    assert_eq!(behind.count(), 6);
    // The top: 74 x 42 + 1-1/2 + 2 = 45-1/2, less 1/4 of lipping all round.
    assert_eq!(rows(&outcome, "bench top"), sizes(&[(1, "73-1/2", "45")]));
    assert_eq!(rows(&outcome, "plinth front"), sizes(&[(1, "70", "4")]));
    assert_eq!(rows(&outcome, "plinth end"), sizes(&[(2, "34-1/2", "4")]));
}
