//! When a piece with drawers tips. No published case with figures was found: these are DERIVED, from the law of the lever.

use casewright::base::Unit;
use casewright::job::{self, Order};
use casewright::model::{Model, Shop};
use casewright::physics::stand;
use casewright::script::{Workbench, on_script_thread};
use casewright::world::Disk;

/// A block of MDF, 800 kg/m3, 500 mm wide and deep and 200 mm high, with a drawer over it that is a board of 10 mm, and slides of a
/// length that let it out by `travel`.
fn block(travel: i64, load: i64) -> Model {
    let recipe = format!(
        "units(\"mm\");
         let block = sheet(\"block\", #{{ thickness: 200.mm, length: 2400.mm, width: 1200.mm, material: \"mdf\" }});
         let board = sheet(\"board\", #{{ thickness: 10.mm, length: 2400.mm, width: 1200.mm, material: \"mdf\" }});
         part(\"case\", #{{ stock: block, left: 0.mm, width: 500.mm, front: 0.mm, depth: 500.mm, bottom: 0.mm }});
         let drawer = piece(\"drawer\");
         drawer.part(\"floor\", #{{ stock: board, left: 0.mm, width: 500.mm, front: 0.mm, depth: 500.mm, bottom: 0.mm }});
         place(drawer, #{{ bottom: 300.mm }});
         let space = opening(\"bay\", #{{ widths: 500.mm, heights: 100.mm, depth: 500.mm, bottom: 250.mm }});
         let slide = slides(\"metric side-mount slides\", #{{ clearance: 0.mm }});
         hang(drawer, #{{ on: slide, opening: space, length: 500.mm, travel: {travel}.mm }});
         load(drawer, #{{ kg: {load} }});"
    );
    let shop = Shop::default();
    on_script_thread(|| {
        let bench = Workbench::new(Disk);
        let recipe = bench.compile("block.rhai", &recipe).unwrap_or_else(|findings| panic!("{findings:#?}"));
        job::run(&bench, &recipe, Order { inputs: &[], units: Some(Unit::Millimetre), shop: &shop }).model
    })
}

/// The case weighs 0.5 x 0.5 x 0.2 x 800 = 40 kg, the drawer 2 kg. About the front edge of the case, open by 450 mm:
/// 40 x 250 - 2 x 200 = 9600 kg mm are left.
#[test]
fn the_law_of_the_lever() {
    let empty = block(450, 0);
    let balance = stand(&empty).unwrap().balances[0];
    assert!((balance.one_open - 9_600.0).abs() < 1e-6, "{balance:?}");
    // The edge of the drawer stands 450 before the case: 9600 / 450 = 21.33 kg on it balance the piece.
    assert!((balance.edge - 9_600.0 / 450.0).abs() < 1e-6, "{balance:?}");
    // A load lies 200 before the edge: 48 kg balance it, and a kilogram more tips it.
    assert!(stand(&block(450, 48)).unwrap().balances[0].one_open.abs() < 1e-6);
    assert!(stand(&block(450, 49)).unwrap().balances[0].one_open < 0.0);
}

/// How far a drawer comes out counts, not how long its slides are: by 250 mm its middle is over the edge, and no load in it tips the case.
#[test]
fn what_comes_out_counts() {
    for load in [0, 1_000] {
        let balance = stand(&block(250, load)).unwrap().balances[0];
        assert!((balance.one_open - 10_000.0).abs() < 1e-6, "{balance:?}");
    }
}
