//! Board feet: 144 cubic inches, on the thickness that a board is sold as.

use std::sync::Arc;

use casewright::base::{Length, Printing, Solid};
use casewright::catalog;
use casewright::model::{Material, Model, Part, Shop, Stock, StockForm};
use casewright::plan::{self, Amount, BOARD_FOOT};

/// The volume of one part of `thick` x `wide` inches and `feet` long, out of boards named `thick` inches that were
/// measured 1/4 in thinner when dressed: rough lumber, sold by its name.
fn volume(thick: i64, wide: i64, feet: i64) -> i128 {
    let named = Length::from_inch(thick, 1);
    let dressed = named - Length::from_inch(1, 4);
    let form = StockForm::Board { widths: Vec::new(), lengths: Vec::new() };
    let mut stock = Stock::new("rough", Material::Wood("oak".into()), form, named);
    stock.measured = Some(dressed);
    let size = [Length::from_inch(12 * feet, 1), Length::from_inch(wide, 1), dressed];
    let mut model = Model::new("job", Printing::default());
    model.add_part(Part::new("board", Model::ROOT, Arc::new(stock), Solid::new([Length::ZERO; 3], size)));
    match plan::plan(&model, &Shop::default()).buying[0].net {
        Amount::Board { volume, .. } => volume,
        Amount::Area(_) => panic!("a board is no sheet"),
    }
}

/// Thickness in inches x width in inches x length in feet / 12, figured on nominal sizes.
#[test]
fn published_examples() {
    // SEEN: furnituremaking.us, ordering-lumber-by-the-board-foot: 1 x 3, 8 ft: 1 x 3 x 8 / 12 = 2.
    assert_eq!(volume(1, 3, 8), 2 * BOARD_FOOT);
    // SEEN: westcoastlands.net, SawmillBoardFoot: 3 x 8 x 10 / 12 = 20.
    assert_eq!(volume(3, 8, 10), 20 * BOARD_FOOT);
    // SEEN: bobvila.com, calculating-board-feet: 2x6, 10 ft: 2 x 6 x 10 / 12 = 10.
    assert_eq!(volume(2, 6, 10), 10 * BOARD_FOOT);
}

/// Rough to S2S. SEEN: engineeringtoolbox.com, hardwood-lumber-dimensions-chart-d_1462; the same at woodbin.com/ref/lumber-dimensions.
/// Stock under one inch counts as one inch: SEEN, goodwoodcorp.com/HardWoodTerminology.
#[test]
fn dressed_thickness_and_the_thickness_sold() {
    for (quarters, sixteenths) in [(4, 13), (5, 17), (6, 21), (8, 28)] {
        let stock = catalog::stock(&format!("{quarters}/4 hard maple board")).unwrap();
        assert_eq!(stock.thickness(), Length::from_inch(sixteenths, 16), "{quarters}/4");
        assert_eq!(catalog::sold_thickness(&stock), Length::from_inch(quarters, 4), "{quarters}/4");
    }
    assert_eq!(catalog::sold_thickness(&catalog::stock("1/2 walnut board").unwrap()), Length::INCH);
}

/// Face widths of dry softwood, one inch nominal, 1x2 to 1x12. SEEN (secondary): engineeringtoolbox.com,
/// softwood-lumber-standard-d_1270, and sutherlands.com, nominal-vs-actual. (mendhamplywood.com prints 1x8 wrongly as 7-1/2.)
#[test]
fn softwood_widths() {
    let stock = catalog::stock("3/4 pine board").unwrap();
    let StockForm::Board { widths, .. } = &stock.form else { panic!("it is a board") };
    // In quarters of an inch: 1-1/2, 2-1/2, 3-1/2, 5-1/2, 7-1/4, 9-1/4, 11-1/4.
    assert_eq!(*widths, [6, 10, 14, 22, 29, 37, 45].map(|quarters| Length::from_inch(quarters, 4)));
}
