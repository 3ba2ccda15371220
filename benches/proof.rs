//! How fast the proof is that a job fits: `cargo bench --bench proof`.
//!
//! A cabinet of 40 parts with five drawers, and jobs of so many of them in rows one above the other, each standing free.
//! `locked_in_one_piece` puts all their parts into one piece, so that every part has all others before it.

use std::sync::Arc;

use casewright::base::{Face, Length, Printing, Solid};
use casewright::checks::{self, Check, Subject};
use casewright::diag::has_errors;
use casewright::joints;
use casewright::model::{
    JointUse, Material, Model, Motion, Moving, Options, Part, PartId, PieceId, Shop, Stock, StockForm, Value, Way,
};
use casewright::proof::Proved;
use divan::{Bencher, black_box};

/// The checks that prove geometry.
const PROOF: [&str; 7] = [
    "fit-not-kept",
    "hole-meets-cut",
    "joint-cut-away",
    "locked-in",
    "moving-part-fixed",
    "path-blocked",
    "shared-space",
];

fn main() {
    divan::main();
}

/// 1 cabinet is 40 parts; 3, 25 and 250 stand for 100, 1 000 and 10 000.
#[divan::bench(args = [1, 3, 25, 250], sample_count = 20)]
fn whole_proof(bencher: Bencher<'_, '_>, cabinets: i64) {
    let (model, shop) = job(cabinets, true);
    let checks: Vec<&Check> = checks::ALL.iter().filter(|check| PROOF.contains(&check.code)).collect();
    bencher.bench_local(|| {
        let proof = Proved::new(black_box(&model));
        let mut findings = Vec::new();
        for check in &checks {
            (check.run)(Subject { model: proof.model, shop: &shop, proof: &proof }, &mut findings);
        }
        findings
    });
}

#[divan::bench(args = [1, 3, 25, 250], sample_count = 20)]
fn shared_space(bencher: Bencher<'_, '_>, cabinets: i64) {
    one(bencher, job(cabinets, true), "shared-space");
}

#[divan::bench(args = [1, 3, 25, 250], sample_count = 20)]
fn locked_in(bencher: Bencher<'_, '_>, cabinets: i64) {
    one(bencher, job(cabinets, true), "locked-in");
}

#[divan::bench(args = [1, 3, 25, 250], sample_count = 20)]
fn locked_in_one_piece(bencher: Bencher<'_, '_>, cabinets: i64) {
    one(bencher, job(cabinets, false), "locked-in");
}

#[divan::bench(args = [1, 3, 25, 250], sample_count = 20)]
fn path_blocked(bencher: Bencher<'_, '_>, cabinets: i64) {
    one(bencher, job(cabinets, true), "path-blocked");
}

fn one(bencher: Bencher<'_, '_>, (model, shop): (Model, Shop), code: &str) {
    let Some(check) = checks::ALL.iter().find(|check| check.code == code) else { panic!("no check {code}") };
    bencher.bench_local(|| {
        let proof = Proved::new(black_box(&model));
        let mut findings = Vec::new();
        (check.run)(Subject { model: proof.model, shop: &shop, proof: &proof }, &mut findings);
        findings
    });
}

fn job(cabinets: i64, in_pieces: bool) -> (Model, Shop) {
    let mut model = Model::new("cabinets", Printing::default());
    let shop = Shop::default();
    for number in 0..cabinets {
        cabinet(&mut model, number, in_pieces);
    }
    model.settle();
    let mut findings = joints::make(&mut model, &shop);
    let proof = Proved::new(&model);
    for check in checks::ALL.iter().filter(|check| PROOF.contains(&check.code)) {
        (check.run)(Subject { model: &model, shop: &shop, proof: &proof }, &mut findings);
    }
    assert!(!has_errors(&findings), "{findings:?}");
    (model, shop)
}

const fn mm(count: i64) -> Length {
    Length::from_mm(count)
}

/// Where parts go: a piece, and how far from its zero corner.
type Spot = (PieceId, [i64; 3]);

fn add(model: &mut Model, (piece, at): Spot, name: &str, thick: i64, low: [i64; 3], high: [i64; 3]) -> PartId {
    let form = StockForm::Sheet { length: mm(2_440), width: mm(1_220) };
    let stock = Arc::new(Stock::new("sheet", Material::MetricPlywood, form, mm(thick)));
    let corner = |corner: [i64; 3]| std::array::from_fn(|axis| mm(at[axis] + corner[axis]));
    model.add_part(Part::new(name, piece, stock, Solid::new(corner(low), corner(high))))
}

/// A piece in another, or only its place in the same one.
fn piece(model: &mut Model, name: &str, (parent, from): Spot, at: [i64; 3], in_pieces: bool) -> Spot {
    let at = std::array::from_fn(|axis| from[axis] + at[axis]);
    if !in_pieces {
        return (parent, at);
    }
    let piece = model.add_piece(name, None);
    model.place(piece, parent, at.map(mm));
    (piece, [0; 3])
}

fn join(model: &mut Model, joint: &'static str, member: PartId, into: &[PartId]) {
    let target = joints::find(joint).map_or("into", |joint| joint.target);
    let options = Options::new().with(target, Value::Parts(into.to_vec()));
    model.add_joint(JointUse { joint, member, into: into.to_vec(), options, at: None });
}

/// A case 600 x 560 x 1800 of 18 mm stock: two sides, bottom, top, a back in rabbets, five shelves above and five drawers with
/// their fronts below.
fn cabinet(model: &mut Model, number: i64, in_pieces: bool) {
    let at = [number % 16 * 700, 0, number / 16 * 2_000];
    let case = piece(model, &format!("cabinet {number}"), (Model::ROOT, [0; 3]), at, in_pieces);
    let left = add(model, case, "side", 18, [0, 0, 0], [18, 560, 1_800]);
    let right = add(model, case, "side", 18, [582, 0, 0], [600, 560, 1_800]);
    let mut between = |name: &str, z: i64, back: i64| add(model, case, name, 18, [18, 0, z], [582, back, z + 18]);
    let level: Vec<PartId> = [0, 1_782].into_iter().map(|z| between("bottom", z, 554)).collect();
    let shelves: Vec<PartId> = (0..5).map(|i| between("shelf", 900 + 150 * i, 554)).collect();
    for part in level.iter().chain(&shelves) {
        join(model, "dado", *part, &[left, right]);
    }
    let back = add(model, case, "back", 6, [18, 554, 0], [582, 560, 1_800]);
    join(model, "rabbet", back, &[left, right]);
    for i in 0..5 {
        let up = 40 + 160 * i;
        let drawer = piece(model, &format!("drawer {i}"), case, [31, 0, up], in_pieces);
        let a = add(model, drawer, "side", 12, [0, 0, 0], [12, 500, 120]);
        let b = add(model, drawer, "side", 12, [526, 0, 0], [538, 500, 120]);
        let front = add(model, drawer, "front", 12, [12, 0, 0], [526, 12, 120]);
        let back = add(model, drawer, "back", 12, [12, 488, 0], [526, 500, 120]);
        let floor = add(model, drawer, "bottom", 6, [12, 12, 10], [526, 488, 16]);
        join(model, "butt", front, &[a, b]);
        join(model, "groove", floor, &[a, b, front, back]);
        join(model, "butt", back, &[a, b]);
        let applied = add(model, case, "drawer front", 18, [2, -18, up - 18], [598, 0, up + 138]);
        join(model, "butt", applied, &[front]);
        if in_pieces {
            let way = Way::Slide { out: Face::Front, travel: mm(500) };
            let moving = Moving::Piece(drawer.0);
            model.motions.push(Motion { moving, way, behind: vec![], with_open: vec![], opening: None, at: None });
        }
    }
}
