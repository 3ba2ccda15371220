//! The fits of a job, each with what goes into it.

use super::chain::{across, of_frame};
use super::{Fit, FitKind, Source, Term};
use crate::base::{Axis, Length, Solid};
use crate::catalog;
use crate::model::{
    Feature, Front, FrontStyle, JointUse, Material, Model, OpeningId, Part, PartId, Shape, Shop, Stock,
};

// SEEN (secondary): issuu.com, surfaceandpanel, sandp_bg2014: within one panel of fibreboard the thickness keeps to 0.005 in (A208.2).
// That a measured sheet of any other kind keeps to it too is common practice, no source.
const WITHIN_A_SHEET: Length = Length::from_um(127);
// Common practice, no source: a planer holds 1/128 in from board to board.
const PLANED: Length = Length::from_inch(1, 128);
// Common practice, no source: a dado set is brought to width by shims, and 0.005 in is a usual step of them.
const SHIM: Length = Length::from_um(127);
// Common practice, no source: a panel 0.005 in thicker than its groove still goes in by hand.
const PRESSED: Length = Length::from_um(127);
// Common practice, no source: with more play than 1/32 in a dry panel rattles.
const RATTLES: Length = Length::from_inch(1, 32);
// Common practice, no source: glue does not fill more than 1/64 in.
const GLUE_GAP: Length = Length::from_inch(1, 64);
// Common practice, no source: a reveal below 1/32 in rubs once the wood moves.
const LEAST_REVEAL: Length = Length::from_inch(1, 32);
// Common practice, no source: a reveal that is 1/32 in wider than its neighbours is seen.
const SEEN_REVEAL: Length = Length::from_inch(1, 32);
/// Fits beyond this many are of one kind many times over.
const MOST: usize = 10_000;

/// Every fit of a settled model whose joints are made, in the order of the recipe.
pub fn all(model: &Model, shop: &Shop) -> Vec<Fit> {
    let mut fits = boxes(model, shop);
    fits.extend(panels(model));
    fits.extend(fronts(model, shop));
    fits.truncate(MOST);
    fits
}

/// How far the thickness of a stock may be off what the job is drawn with.
pub(super) fn thickness_off(stock: &Stock, times: i64) -> Term {
    let drawn = stock.thickness();
    let (low, high) = match catalog::thickness_tolerance(stock) {
        _ if stock.measured.is_some() => (-WITHIN_A_SHEET, WITHIN_A_SHEET),
        Some(allowed) => ((allowed.low - drawn).min(Length::ZERO), (allowed.high - drawn).max(Length::ZERO)),
        // Solid wood is planed in the shop, to what the planer holds; for panels without a standard the same is taken.
        None if matches!(stock.material, Material::Wood(_)) => (-PLANED, PLANED),
        None => (-WITHIN_A_SHEET, WITHIN_A_SHEET),
    };
    Term { of: Source::Thickness(stock.name.clone(), drawn), times, low, high }
}

/// How far a part may be off that is cut from a stop or fence.
pub(super) fn cut_off(shop: &Shop, part: &str, times: i64) -> Term {
    let off = shop.cutting_tolerance;
    Term { of: Source::Cut(part.to_owned()), times, low: -off, high: off }
}

/// How far the depth of a cut may be off.
pub(super) fn depth_off(shop: &Shop, part: &str, times: i64) -> Term {
    let off = shop.cutting_tolerance;
    Term { of: Source::Depth(part.to_owned()), times, low: -off, high: off }
}

/// How far an opening may be off: other readings were larger, and every reading or frame is as true as a cut.
fn opening_off(model: &Model, shop: &Shop, opening: OpeningId, axis: Axis) -> Term {
    let opening = model.opening(opening);
    let readings = if axis == Axis::X { &opening.widths } else { &opening.heights };
    let least = readings.iter().min().copied().unwrap_or(Length::ZERO);
    let most = readings.iter().max().copied().unwrap_or(Length::ZERO);
    let off = shop.cutting_tolerance;
    Term { of: Source::Opening(opening.name.clone()), times: 1, low: -off, high: most - least + off }
}

fn less(terms: Vec<Term>) -> impl Iterator<Item = Term> {
    terms.into_iter().map(|term| Term { times: -term.times, ..term })
}

/// Boxes on slides.
fn boxes(model: &Model, shop: &Shop) -> Vec<Fit> {
    let hung = model.hardware.iter().filter_map(|used| used.slides.as_ref());
    hung.filter_map(|hung| {
        let bounds = model.bounds(hung.carries)?;
        let (part, _) = model.parts_of(hung.carries).next()?;
        let opening = model.opening(hung.opening);
        let mut terms = vec![opening_off(model, shop, hung.opening, Axis::X)];
        terms.extend(less(across(model, shop, hung.carries, Axis::X)));
        Some(Fit {
            kind: FitKind::BoxInOpening,
            of: model.piece(hung.carries).name.clone(),
            part,
            nominal: opening.width() - bounds.size(Axis::X),
            least: hung.slides.clearance * 2,
            most: (hung.slides.clearance + hung.slides.slack) * 2,
            terms,
        })
    })
    .collect()
}

/// Panels in grooves, shelves in dadoes: whatever lies with its whole thickness between two walls.
fn panels(model: &Model) -> Vec<Fit> {
    let mut fits = Vec::new();
    for (index, joint) in model.joints.iter().enumerate() {
        let member = model.part(joint.member);
        for &target in &joint.into {
            let trench = model.part(target).features.iter().find(|feature| {
                feature.joint.0 as usize == index
                    && matches!(feature.shape, Shape::Channel { .. })
                    && feature.face.axis() != member.thickness
            });
            if let Some(trench) = trench
                && !is_cut_there(member, index, trench)
            {
                fits.push(panel(model, joint, target, trench));
            }
            if fits.len() >= MOST {
                return fits;
            }
        }
    }
    fits
}

/// Whether the joint made the member's own edge thinner (a tongue): then both walls are cut, and no sheet's thickness counts.
fn is_cut_there(member: &Part, joint: usize, trench: &Feature) -> bool {
    let axis = member.thickness;
    let whole = trench.solid.face(axis.low()) - Length::INCH <= member.solid.face(axis.low())
        && trench.solid.size(axis) + Length::SAME_SIZE < member.solid.size(axis);
    whole
        || member.features.iter().any(|cut| {
            cut.joint.0 as usize == joint && cut.face.axis() == axis && cut.solid.size(axis) < member.solid.size(axis)
        })
}

fn panel(model: &Model, joint: &JointUse, target: PartId, trench: &Feature) -> Fit {
    let member = model.part(joint.member);
    let glued = joint.options.yes("glue").unwrap_or(trench.name != "groove");
    let width = Term { of: Source::Trench(model.part(target).name.clone()), times: 1, low: -SHIM, high: SHIM };
    Fit {
        kind: if glued { FitKind::ShelfInDado } else { FitKind::PanelInGroove },
        of: model.full_name(joint.member),
        part: joint.member,
        nominal: trench.solid.size(member.thickness) - member.solid.size(member.thickness),
        least: -PRESSED,
        most: if glued { GLUE_GAP } else { RATTLES },
        terms: vec![width, thickness_off(&member.stock, -1)],
    }
}

/// Inset fronts: each across, and each column of them up.
fn fronts(model: &Model, shop: &Shop) -> Vec<Fit> {
    let mut fits = Vec::new();
    let inset: Vec<(&Front, Solid)> = model
        .fronts
        .iter()
        .filter(|front| front.style == FrontStyle::Inset)
        .map(|front| (front, front.solid(model)))
        .collect();
    for (place, (front, solid)) in inset.iter().enumerate() {
        let opening = model.opening(front.opening);
        let alike = |other: &&(&Front, Solid)| other.0.opening == front.opening;
        let level = |other: &Solid| overlaps(solid, other, Axis::Z);
        let above = |other: &Solid| overlaps(solid, other, Axis::X);
        // One front fills the width; several beside each other are a row, told by its first.
        let row: Vec<&Front> = inset.iter().filter(alike).filter(|(_, other)| level(other)).map(|(f, _)| *f).collect();
        let column: Vec<&Front> =
            inset.iter().filter(alike).filter(|(_, other)| above(other)).map(|(f, _)| *f).collect();
        let first = |of: &dyn Fn(&Solid) -> bool| {
            !inset[..place].iter().any(|(f, other)| f.opening == front.opening && of(other))
        };
        let mut gap = |kind, axis: Axis, whole: Length, fronts: &[&Front], of: String| {
            let count = i64::try_from(fronts.len()).unwrap_or(i64::MAX);
            let nominal = whole - fronts.iter().map(|front| front_size(model, front, axis)).sum::<Length>();
            let mut terms = vec![opening_off(model, shop, front.opening, axis)];
            terms.extend(fronts.iter().flat_map(|front| front_off(model, shop, front, axis)));
            fits.push(Fit {
                kind,
                of,
                part: front.part,
                nominal,
                least: (LEAST_REVEAL * (count + 1)).min(nominal),
                most: nominal + SEEN_REVEAL * (count + 1),
                terms,
            });
        };
        let name = front.name(model);
        if first(&level) {
            gap(FitKind::FrontAcross, Axis::X, opening.width(), &row, name.clone());
        }
        if first(&above) {
            let alone = if front.rest.is_empty() { model.part(front.part).name.clone() } else { name };
            let of = if column.len() > 1 { opening.name.clone() } else { alone };
            gap(FitKind::FrontsUp, Axis::Z, opening.height(), &column, of);
        }
    }
    fits
}

/// The finished size of a front: of a frame, from one outer edge to the other.
fn front_size(model: &Model, front: &Front, axis: Axis) -> Length {
    if front.rest.is_empty() { model.part(front.part).finished_size(axis) } else { front.solid(model).size(axis) }
}

/// What may be off in the size of a front, each less what it takes of the gap: of a frame the parts that reach from edge to edge, as two
/// stiles and the rail between their inner edges do.
fn front_off(model: &Model, shop: &Shop, front: &Front, axis: Axis) -> Vec<Term> {
    if front.rest.is_empty() {
        return vec![cut_off(shop, &model.part(front.part).name, -1)];
    }
    let parts: Vec<PartId> = [front.part].into_iter().chain(front.rest.iter().copied()).collect();
    let chain = of_frame(model, shop, &parts, axis);
    if chain.is_empty() { vec![cut_off(shop, &front.name(model), -1)] } else { less(chain).collect() }
}

fn overlaps(a: &Solid, b: &Solid, axis: Axis) -> bool {
    let (low, high) = (axis.low(), axis.high());
    a.face(high).min(b.face(high)) - a.face(low).max(b.face(low)) > Length::SAME_SIZE
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::bench::{add, bay, job, join, s, sheet};
    use crate::joints;
    use crate::model::Options;

    /// An inset door of stiles and rails 2 in wide round a panel, 23-3/4 by 29-3/4 in, in an opening of 24 by 30.
    fn framed(joint: &'static str) -> Vec<Fit> {
        let mut model = job();
        let (maple, thin) = (sheet(12), sheet(4));
        let root = Model::ROOT;
        let opening = bay(&mut model, [s(384), s(320), s(480)]);
        let left = add(&mut model, root, "stile", &maple, [2, 0, 2], [34, 12, 478]);
        let right = add(&mut model, root, "stile", &maple, [350, 0, 2], [382, 12, 478]);
        let low = add(&mut model, root, "lower rail", &maple, [34, 0, 2], [350, 12, 34]);
        let high = add(&mut model, root, "upper rail", &maple, [34, 0, 446], [350, 12, 478]);
        let panel = add(&mut model, root, "panel", &thin, [34, 4, 34], [350, 8, 446]);
        for rail in [low, high] {
            join(&mut model, joint, rail, &[left, right], Options::new());
        }
        join(&mut model, "groove", panel, &[left, right, low, high], Options::new());
        let rest = vec![right, low, high, panel];
        model.fronts.push(Front { part: left, rest, opening, style: FrontStyle::Inset, at: None });
        model.settle();
        let shop = Shop::default();
        assert_eq!(joints::make(&mut model, &shop), vec![]);
        fronts(&model, &shop)
    }

    #[test]
    fn a_framed_door_by_hand() {
        // Across: the opening, two stiles and the rail between them, each off by what the shop's cuts are: four times that either way
        // round a gap of 24 - 23-3/4. Up: the opening and a stile, twice that round 30 - 29-3/4.
        let off = Shop::default().cutting_tolerance;
        let range = |fit: &Fit| {
            let ends = |term: &Term| [term.low * term.times, term.high * term.times];
            let low: Length = fit.terms.iter().map(|term| ends(term).into_iter().min().unwrap()).sum();
            let high: Length = fit.terms.iter().map(|term| ends(term).into_iter().max().unwrap()).sum();
            (fit.nominal, low, high)
        };
        let fits = framed("tenon");
        assert_eq!([fits[0].kind, fits[1].kind], [FitKind::FrontAcross, FitKind::FrontsUp]);
        assert_eq!(range(&fits[0]), (s(4), -off * 4, off * 4));
        assert_eq!(range(&fits[1]), (s(4), -off * 2, off * 2));
        let named: Vec<&Source> = fits[0].terms.iter().map(|term| &term.of).collect();
        let stile = Source::Cut("stile".into());
        assert_eq!(named, [&Source::Opening("bay".into()), &stile, &Source::Cut("lower rail".into()), &stile]);
        // A mitred rail is cut to its long points, and so reaches from edge to edge by itself.
        let mitred = framed("mitre");
        assert_eq!([range(&mitred[0]), range(&mitred[1])], [(s(4), -off * 2, off * 2); 2]);
    }
}
