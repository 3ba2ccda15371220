//! `piece`, `part`, `place`, `opening` and what is done to parts: banded edges, fronts.

use rhai::{Array, Engine, ImmutableString, Map, NativeCallContext};

use super::args::{a_value, at_key, read, words};
use super::desk::{DeskRef, MOST, Outcome, raise, refuse_beyond, refuse_name};
use super::functions::{BAND_EDGES, FRONT_OF, OPENING, PART, PLACE};
use super::stock::StockHandle;
use crate::base::{Axis, Face, Length, Printing, Solid};
use crate::diag::Finding;
use crate::model::{
    Banding, BandingOrder, Diagonals, Front, FrontStyle, Model, Opening, OpeningId, Options, Part, PartId, PieceId,
    plumb_height,
};

/// A part in a script.
#[derive(Clone, Copy, Debug)]
pub(super) struct PartHandle(pub PartId);

/// A piece in a script.
#[derive(Clone, Copy, Debug)]
pub(super) struct PieceHandle(pub PieceId);

/// An opening in a script.
#[derive(Clone, Copy, Debug)]
pub(super) struct OpeningHandle(pub OpeningId);

// Common practice, no source: an eighth of an inch between two readings is where shimming or scribing begins.
const READINGS_LIMIT: Length = Length::from_inch(1, 8);
/// Pieces in pieces in pieces: more than a piece of furniture has, and few enough to be followed for every part.
const DEEPEST: usize = 12;

pub(super) fn register(engine: &mut Engine, desk: &DeskRef) {
    engine.register_type_with_name::<PartHandle>("part");
    engine.register_type_with_name::<PieceHandle>("piece");
    engine.register_type_with_name::<OpeningHandle>("opening");
    making(engine, desk);
    changing(engine, desk);
    reading(engine, desk);
}

fn making(engine: &mut Engine, desk: &DeskRef) {
    let shared = desk.clone();
    engine.register_fn("piece", move |ctx: NativeCallContext, name: ImmutableString| -> Outcome<PieceHandle> {
        let mut desk = shared.borrow_mut();
        desk.refuse_if_inputs_failed()?;
        refuse_name(&ctx, "a piece", &name)?;
        refuse_beyond(&ctx, MOST, desk.model.pieces.len(), "pieces")?;
        let at = desk.at(&ctx);
        Ok(PieceHandle(desk.model.add_piece(&name, at)))
    });
    let shared = desk.clone();
    engine.register_fn("part", move |ctx: NativeCallContext, name: ImmutableString, given: Map| {
        part(&ctx, &shared, Model::ROOT, &name, &given)
    });
    let shared = desk.clone();
    engine.register_fn(
        "part",
        move |ctx: NativeCallContext, piece: &mut PieceHandle, name: ImmutableString, given: Map| {
            part(&ctx, &shared, piece.0, &name, &given)
        },
    );
    let shared = desk.clone();
    engine.register_fn("opening", move |ctx: NativeCallContext, name: ImmutableString, given: Map| {
        opening(&ctx, &shared, &name, &given)
    });
}

fn changing(engine: &mut Engine, desk: &DeskRef) {
    let shared = desk.clone();
    engine.register_fn("place", move |ctx: NativeCallContext, piece: PieceHandle, given: Map| {
        place(&ctx, &shared, piece.0, &given)
    });
    let shared = desk.clone();
    engine.register_fn("band_edges", move |ctx: NativeCallContext, part: PartHandle, given: Map| {
        band_edges(&ctx, &shared, part.0, &given)
    });
    let shared = desk.clone();
    engine.register_fn("front_of", move |ctx: NativeCallContext, part: PartHandle, given: Map| {
        front_of(&ctx, &shared, part.0, Vec::new(), &given)
    });
    let shared = desk.clone();
    engine.register_fn("front_of", move |ctx: NativeCallContext, parts: Array, given: Map| -> Outcome<()> {
        let mut members = Vec::with_capacity(parts.len());
        for part in &parts {
            let Some(part) = part.read_lock::<PartHandle>() else {
                let message = format!("`front_of` takes the parts of one front; {} is in the list", a_value(part));
                return Err(raise(&ctx, Finding::error("wrong-kind", message)));
            };
            members.push(part.0);
        }
        if members.is_empty() {
            let finding = Finding::error("wrong-count", "`front_of` is given a list without parts");
            return Err(raise(&ctx, finding.hint("name the parts of the front, such as its stiles and rails")));
        }
        let rest = members.split_off(1);
        front_of(&ctx, &shared, members[0], rest, &given)
    });
}

fn front_of(ctx: &NativeCallContext, desk: &DeskRef, part: PartId, rest: Vec<PartId>, given: &Map) -> Outcome<()> {
    let options = read(ctx, desk, "front_of", FRONT_OF.options, given)?;
    let there = desk.borrow().model.fronts.iter().map(|front| 1 + front.rest.len()).sum::<usize>();
    refuse_beyond(ctx, MOST, there + rest.len(), "fronts")?;
    let style = if options.text("style") == Some("inset") { FrontStyle::Inset } else { FrontStyle::Applied };
    let mut desk = desk.borrow_mut();
    let at = desk.at(ctx);
    if let Some(opening) = options.opening("opening") {
        if options.yes("uneven") == Some(true) {
            desk.model.uneven.push(opening);
        }
        desk.model.fronts.push(Front { part, rest, opening, style, at });
    }
    Ok(())
}

fn reading(engine: &mut Engine, desk: &DeskRef) {
    for face in Face::ALL {
        let shared = desk.clone();
        engine.register_get(face.name(), move |part: &mut PartHandle| {
            shared.borrow().model.part(part.0).placed.face(face)
        });
        let shared = desk.clone();
        engine.register_get(face.name(), move |opening: &mut OpeningHandle| {
            // Where it stands in the job, as far as its piece has been placed: there its drawers and fronts go.
            let desk = shared.borrow();
            let opening = desk.model.opening(opening.0);
            opening.solid.shifted(desk.model.shift_in_job(opening.piece)).face(face)
        });
    }
    for axis in Axis::ALL {
        let shared = desk.clone();
        engine.register_get(axis.size_name(), move |part: &mut PartHandle| {
            shared.borrow().model.part(part.0).placed.size(axis)
        });
        let shared = desk.clone();
        engine.register_get(axis.size_name(), move |opening: &mut OpeningHandle| {
            shared.borrow().model.opening(opening.0).solid.size(axis)
        });
        let shared = desk.clone();
        engine.register_get(axis.size_name(), move |piece: &mut PieceHandle| {
            shared.borrow().model.bounds_as_placed(piece.0).map_or(Length::ZERO, |bounds| bounds.size(axis))
        });
    }
    let shared = desk.clone();
    engine.register_get("thickness", move |part: &mut PartHandle| shared.borrow().model.part(part.0).stock.thickness());
    let shared = desk.clone();
    engine.register_get("stock", move |part: &mut PartHandle| {
        StockHandle(shared.borrow().model.part(part.0).stock.clone())
    });
    for printer in ["to_string", "to_debug"] {
        let shared = desk.clone();
        engine.register_fn(printer, move |part: &mut PartHandle| -> ImmutableString {
            let desk = shared.borrow();
            let part = desk.model.part(part.0);
            let print = desk.model.printing;
            let size = Axis::ALL.map(|axis| print.length(part.placed.size(axis))).join(" x ");
            format!("part `{}`, {size}, {}", part.name, part.stock.name).into()
        });
        let shared = desk.clone();
        engine.register_fn(printer, move |piece: &mut PieceHandle| -> ImmutableString {
            format!("piece `{}`", shared.borrow().model.piece(piece.0).name).into()
        });
        let shared = desk.clone();
        engine.register_fn(printer, move |opening: &mut OpeningHandle| -> ImmutableString {
            let desk = shared.borrow();
            let opening = desk.model.opening(opening.0);
            let print = desk.model.printing;
            format!(
                "opening `{}`, {} wide, {} high, {} deep",
                opening.name,
                print.length(opening.width()),
                print.length(opening.height()),
                print.length(opening.depth())
            )
            .into()
        });
    }
    let shared = desk.clone();
    engine.register_get("name", move |part: &mut PartHandle| -> ImmutableString {
        shared.borrow().model.part(part.0).name.as_str().into()
    });
    let shared = desk.clone();
    engine.register_get("taper", move |opening: &mut OpeningHandle| -> Length {
        let desk = shared.borrow();
        let widths = &desk.model.opening(opening.0).widths;
        let (least, most) = (widths.iter().min().copied(), widths.iter().max().copied());
        most.unwrap_or(Length::ZERO) - least.unwrap_or(Length::ZERO)
    });
    let shared = desk.clone();
    engine.register_get("name", move |opening: &mut OpeningHandle| -> ImmutableString {
        shared.borrow().model.opening(opening.0).name.as_str().into()
    });
    let shared = desk.clone();
    engine.register_get("name", move |piece: &mut PieceHandle| -> ImmutableString {
        shared.borrow().model.piece(piece.0).name.as_str().into()
    });
}

fn part(ctx: &NativeCallContext, desk: &DeskRef, piece: PieceId, name: &str, given: &Map) -> Outcome<PartHandle> {
    desk.borrow().refuse_if_inputs_failed()?;
    refuse_name(ctx, "a part", name)?;
    let options = read(ctx, desk, "part", PART.options, given)?;
    let Some(stock) = options.stock("stock") else {
        return Err(raise(ctx, Finding::error("missing-option", "a part needs a stock")));
    };
    if stock.is_band() {
        let finding = Finding::error(
            "band-as-part",
            format!("`{}` is an edge band; the part `{name}` needs a sheet or a board", stock.name),
        );
        return Err(at_key(ctx, desk, "stock", finding.hint("to band an edge, use `band_edges`")));
    }
    let (solid, thickness) = solid(ctx, desk, name, &options, stock.thickness())?;
    let mut part = Part::new(name, piece, stock, solid);
    if part.thickness != thickness {
        part.thickness = thickness;
        part.grain = part.stock.grain.then(|| {
            let [a, b] = thickness.others();
            if solid.size(b) > solid.size(a) { b } else { a }
        });
    }
    if let Some(run) = options.text("grain") {
        let axis = Axis::ALL.into_iter().find(|axis| axis.run_name() == run).unwrap_or(Axis::X);
        if axis == thickness {
            let finding = Finding::error(
                "grain-through-thickness",
                format!("the grain of `{name}` cannot run {run}: that is its thickness"),
            );
            let [a, b] = thickness.others();
            return Err(at_key(
                ctx,
                desk,
                "grain",
                finding.hint(format!("write \"{}\" or \"{}\"", a.run_name(), b.run_name())),
            ));
        }
        part.grain_asked = true;
        part.grain = part.stock.grain.then_some(axis);
    }
    if let Some(show) = options.face("show") {
        if show.axis() != thickness {
            let finding = Finding::error(
                "edge-shown",
                format!("the {} of `{name}` is an edge; `show` names a broad face", show.name()),
            );
            let hint = format!("write \"{}\" or \"{}\"", thickness.low().name(), thickness.high().name());
            return Err(at_key(ctx, desk, "show", finding.hint(hint)));
        }
        part.show = Some(show);
    }
    part.loose = options.text("loose").map(str::to_owned);
    part.note = options.text("note").map(str::to_owned);
    let mut desk = desk.borrow_mut();
    refuse_beyond(ctx, MOST, desk.model.parts.len(), "parts")?;
    part.at = desk.at(ctx);
    Ok(PartHandle(desk.model.add_part(part)))
}

/// Works out where a part's faces are: two sayings along each axis, one along its thickness.
fn solid(
    ctx: &NativeCallContext,
    desk: &DeskRef,
    name: &str,
    options: &Options,
    thickness: Length,
) -> Outcome<(Solid, Axis)> {
    let print = desk.borrow().model.printing;
    let said = Axis::ALL.map(|axis| {
        [options.length(axis.low().name()), options.length(axis.high().name()), options.length(axis.size_name())]
    });
    let count = |axis: Axis| said[axis.index()].iter().flatten().count();
    let through = thickness_axis(ctx, print, name, &said, thickness)?;
    let mut solid = Solid::new([Length::ZERO; 3], [Length::ZERO; 3]);
    for axis in Axis::ALL {
        let [low, high, size] = said[axis.index()];
        let size = if axis == through && count(axis) == 1 { Some(thickness) } else { size };
        let (low, high) = match (low, high, size) {
            (Some(low), Some(high), None) => (low, high),
            (Some(low), None, Some(size)) => (low, low + size),
            (None, Some(high), Some(size)) => (high - size, high),
            (Some(low), Some(high), Some(size)) if (high - low).same_size(size) => (low, high),
            (Some(low), Some(high), Some(size)) => {
                return Err(at_key(ctx, desk, axis.size_name(), faces_disagree(print, name, axis, high - low, size)));
            }
            _ => unreachable_axis(ctx, name)?,
        };
        if high <= low {
            let finding = Finding::error(
                "part-without-size",
                format!("`{name}` has no {} left: it would be {}", axis.size_name(), print.length(high - low)),
            );
            return Err(raise(ctx, finding.hint("look at the sizes that are subtracted, and at the inputs")));
        }
        solid.low[axis.index()] = low;
        solid.high[axis.index()] = high;
    }
    let there = solid.size(through);
    if !there.same_size(thickness) {
        let finding = Finding::error(
            "thickness-unlike-stock",
            format!(
                "`{name}` is placed {} thick {}, but its stock is {} thick",
                print.length(there),
                through.run_name(),
                print.length(thickness)
            ),
        );
        return Err(raise(ctx, finding.hint("along the thickness, give one face only; the stock tells the other")));
    }
    Ok((solid, through))
}

/// Both faces along an axis and the size between them are said, and do not agree.
pub(super) fn faces_disagree(print: Printing, name: &str, axis: Axis, between: Length, size: Length) -> Finding {
    Finding::error(
        "faces-disagree",
        format!(
            "`{name}` is said to be {} in {}, but between its {} and {} there is {}",
            print.length(size),
            axis.size_name(),
            axis.low().name(),
            axis.high().name(),
            print.length(between)
        ),
    )
    .hint("leave one of the three out")
}

/// The axis that the stock's thickness runs along: the one of which one thing is said, else one that is as thick as the stock.
fn thickness_axis(
    ctx: &NativeCallContext,
    print: Printing,
    name: &str,
    said: &[[Option<Length>; 3]; 3],
    thickness: Length,
) -> Outcome<Axis> {
    let count = |axis: &Axis| said[axis.index()].iter().flatten().count();
    let [low, high, size] = ["low face", "high face", "size"];
    let single: Vec<Axis> = Axis::ALL.into_iter().filter(|axis| count(axis) == 1).collect();
    if let Some(empty) = Axis::ALL.into_iter().find(|axis| count(axis) == 0) {
        let finding = Finding::error("part-not-placed", format!("`{name}` is not placed {}", empty.run_name()));
        let hint = format!(
            "give two of `{}`, `{}` and `{}`, or one face if that is its thickness",
            empty.low().name(),
            empty.high().name(),
            empty.size_name()
        );
        return Err(raise(ctx, finding.hint(hint)));
    }
    match single.as_slice() {
        [axis] if said[axis.index()][2].is_some() => {
            let finding = Finding::error(
                "part-not-placed",
                format!("`{name}` has a {} and no place {}", axis.size_name(), axis.run_name()),
            );
            Err(raise(ctx, finding.hint(format!("give `{}` or `{}` as well", axis.low().name(), axis.high().name()))))
        }
        [axis] => Ok(*axis),
        [] => Axis::ALL
            .into_iter()
            .find(|axis| {
                let [low, high, size] = said[axis.index()];
                let there = size.or_else(|| Some(high? - low?));
                there.is_some_and(|there| there.same_size(thickness))
            })
            .ok_or_else(|| {
                let finding = Finding::error(
                    "thickness-unlike-stock",
                    format!("no side of `{name}` is as thick as its stock, {}", print.length(thickness)),
                );
                raise(ctx, finding.hint("along the thickness, give one face only; the stock tells the other"))
            }),
        [first, second, ..] => {
            let finding = Finding::error(
                "part-not-placed",
                format!(
                    "`{name}` is half placed {} and {}; only its thickness may be",
                    first.run_name(),
                    second.run_name()
                ),
            );
            Err(raise(ctx, finding.hint(format!("along every other axis give two of {low}, {high} and {size}"))))
        }
    }
}

fn unreachable_axis(ctx: &NativeCallContext, name: &str) -> Outcome<(Length, Length)> {
    Err(raise(ctx, Finding::error("part-not-placed", format!("`{name}` is not placed"))))
}

fn place(ctx: &NativeCallContext, desk: &DeskRef, piece: PieceId, given: &Map) -> Outcome<()> {
    desk.borrow().refuse_if_inputs_failed()?;
    let options = read(ctx, desk, "place", PLACE.options, given)?;
    let parent = options.piece("in_piece").unwrap_or(Model::ROOT);
    let shift = Axis::ALL.map(|axis| options.length(axis.low().name()).unwrap_or(Length::ZERO));
    let mut desk = desk.borrow_mut();
    let name = desk.model.piece(piece).name.clone();
    if desk.model.piece(piece).parent.is_some() {
        let finding = Finding::error("placed-twice", format!("the piece `{name}` is placed twice"));
        return Err(raise(ctx, finding.hint("build another one for the second place")));
    }
    if desk.model.stands_in(parent, piece) {
        let finding = Finding::error("placed-in-itself", format!("the piece `{name}` is placed in itself"));
        return Err(raise(ctx, finding.hint("place it in the piece that holds it")));
    }
    if depth_of(&desk.model, parent) + height_of(&desk.model, piece) > DEEPEST {
        let finding = Finding::error(
            "recipe-too-deep",
            format!("the piece `{name}` is more than {DEEPEST} pieces deep, one in the other"),
        );
        return Err(raise(ctx, finding.hint("place it in the job, or in a piece further out")));
    }
    desk.model.place(piece, parent, shift);
    Ok(())
}

/// How many pieces a piece stands in, itself included.
fn depth_of(model: &Model, piece: PieceId) -> usize {
    std::iter::successors(Some(piece), |&piece| model.piece(piece).parent).count()
}

/// How many pieces stand in one another from a piece inwards, itself included.
fn height_of(model: &Model, outer: PieceId) -> usize {
    let up_to_outer = |piece: PieceId| {
        let mut chain = std::iter::successors(Some(piece), |&piece| model.piece(piece).parent);
        chain.position(|piece| piece == outer).map_or(0, |steps| steps + 1)
    };
    let ids = (0..model.pieces.len()).filter_map(|index| u32::try_from(index).ok()).map(PieceId);
    ids.map(up_to_outer).max().unwrap_or(1)
}

fn opening(ctx: &NativeCallContext, desk: &DeskRef, name: &str, given: &Map) -> Outcome<OpeningHandle> {
    desk.borrow().refuse_if_inputs_failed()?;
    refuse_name(ctx, "an opening", name)?;
    refuse_beyond(ctx, MOST, desk.borrow().model.openings.len(), "openings")?;
    let options = read(ctx, desk, "opening", OPENING.options, given)?;
    let (widths, heights) = (options.lengths("widths"), options.lengths("heights"));
    let smallest = |lengths: &[Length], key: &str| -> Outcome<Length> {
        lengths.iter().copied().min().filter(|length| length.is_positive()).ok_or_else(|| {
            at_key(
                ctx,
                desk,
                key,
                Finding::error("size-without-size", format!("the {key} of `{name}` must be more than nothing")),
            )
        })
    };
    let low = Axis::ALL.map(|axis| options.length(axis.low().name()).unwrap_or(Length::ZERO));
    let depth = options.length("depth").into_iter().collect::<Vec<_>>();
    let size = [smallest(&widths, "widths")?, smallest(&depth, "depth")?, smallest(&heights, "heights")?];
    let high = [low[0] + size[0], low[1] + size[1], low[2] + size[2]];
    let mut solid = Solid::new(low, high);
    let diagonals = read_diagonals(ctx, desk, name, &options)?;
    if let Some(read) = diagonals {
        let lean = read.lean(size[0]);
        let height = plumb_height(size[2], lean).filter(|_| lean.abs() < size[0]);
        let Some(height) = height else {
            let print = desk.borrow().model.printing;
            let message = format!(
                "no opening {} wide with sides {} long has diagonals of {} and {}",
                print.length(size[0]),
                print.length(size[2]),
                print.length(read.rising),
                print.length(read.falling)
            );
            let finding = Finding::error("diagonals-impossible", message).hint("measure both diagonals again");
            return Err(at_key(ctx, desk, "diagonals", finding));
        };
        // Level and upright between sides that lean: the side that leans inwards sets it, at its upper end.
        if lean.is_negative() {
            solid.high[0] += lean;
        } else {
            solid.low[0] += lean;
        }
        solid.high[2] = low[2] + height;
    }
    let mut desk = desk.borrow_mut();
    let at = desk.at(ctx);
    let opening = Opening {
        name: name.to_owned(),
        piece: options.piece("in_piece").unwrap_or(Model::ROOT),
        solid,
        widths,
        heights,
        diagonals,
        limit: options.length("limit").unwrap_or(READINGS_LIMIT),
        at,
    };
    Ok(OpeningHandle(desk.model.add_opening(opening)))
}

/// The two diagonals of an opening, if they were given.
fn read_diagonals(
    ctx: &NativeCallContext,
    desk: &DeskRef,
    name: &str,
    options: &Options,
) -> Outcome<Option<Diagonals>> {
    let finding = match options.lengths("diagonals").as_slice() {
        [] => return Ok(None),
        [rising, falling] if rising.is_positive() && falling.is_positive() => {
            return Ok(Some(Diagonals { rising: *rising, falling: *falling }));
        }
        [_, _] => Finding::error("size-without-size", format!("the diagonals of `{name}` must be more than nothing")),
        others => Finding::error(
            "diagonals-impossible",
            format!("`{name}` is given {} diagonals; an opening has two", others.len()),
        )
        .hint("give both, the one from the lower left corner first, or none"),
    };
    Err(at_key(ctx, desk, "diagonals", finding))
}

fn band_edges(ctx: &NativeCallContext, desk: &DeskRef, id: PartId, given: &Map) -> Outcome<()> {
    let options = read(ctx, desk, "band_edges", BAND_EDGES.options, given)?;
    let Some(stock) = options.stock("with") else { return Ok(()) };
    if !stock.is_band() {
        let finding = Finding::error("part-as-band", format!("`{}` is not an edge band", stock.name));
        return Err(at_key(
            ctx,
            desk,
            "with",
            finding.hint("name a band of the catalog or the shop file, or make one with `band`"),
        ));
    }
    let part = desk.borrow().model.part(id).clone();
    let edges = options.faces("edges").to_vec();
    let mut bands = part.bands.clone();
    for &edge in &edges {
        if edge.axis() == part.thickness {
            let finding = Finding::error(
                "broad-face-banded",
                format!("the {} of `{}` is a broad face, not an edge", edge.name(), part.name),
            );
            let [a, b] = part.thickness.others().map(|axis| [axis.low().name(), axis.high().name()]);
            let hint = format!("its edges are {}, {}, {} and {}", a[0], a[1], b[0], b[1]);
            return Err(at_key(ctx, desk, "edges", finding.hint(hint)));
        }
        if bands.iter().any(|band| band.edge == edge) {
            let finding =
                Finding::error("banded-twice", format!("the {} edge of `{}` is banded twice", edge.name(), part.name));
            return Err(at_key(ctx, desk, "edges", finding));
        }
        let taken_off = options.yes("taken_off").unwrap_or(stock.is_taken_off());
        let runs_through = if options.get("run_through").is_some() {
            options.faces("run_through").contains(&edge)
        } else {
            part.edge_axis(edge) == longer_axis(&part)
        };
        bands.push(Banding { stock: stock.clone(), edge, runs_through, taken_off });
    }
    if let Some(stray) = options.faces("run_through").iter().find(|face| !edges.contains(face)) {
        let finding = Finding::error(
            "unbanded-edge-runs-through",
            format!("`run_through` names the {} edge, which is not among the edges banded here", stray.name()),
        );
        return Err(at_key(ctx, desk, "run_through", finding));
    }
    let mut order = part.banding_order;
    if let Some(allowance) = options.length("trim_after") {
        let axes: Vec<Axis> = part
            .thickness
            .others()
            .into_iter()
            .filter(|axis| bands.iter().any(|band| band.edge.axis() == *axis))
            .collect();
        if axes.len() == 2 {
            let finding = Finding::error(
                "trimmed-across-bands",
                format!(
                    "`{}` is banded on neighbouring edges; trimming it afterwards would cut a band away",
                    part.name
                ),
            );
            return Err(at_key(
                ctx,
                desk,
                "trim_after",
                finding.hint("leave `trim_after` out, or band opposite edges only"),
            ));
        }
        if allowance.is_negative() {
            return Err(at_key(
                ctx,
                desk,
                "trim_after",
                Finding::error("size-without-size", "`trim_after` cannot be negative"),
            ));
        }
        order = BandingOrder::BeforeSizing(allowance);
    }
    let mut desk = desk.borrow_mut();
    let part = desk.model.part_mut(id);
    part.bands = bands;
    part.banding_order = order;
    for axis in part.thickness.others() {
        if !part.cut_size(axis).is_positive() {
            let name = words(&part.name.as_str().into());
            return Err(raise(
                ctx,
                Finding::error("part-without-size", format!("the bands of `{name}` leave no core")),
            ));
        }
    }
    Ok(())
}

fn longer_axis(part: &Part) -> Axis {
    let [a, b] = part.thickness.others();
    if part.placed.size(b) > part.placed.size(a) { b } else { a }
}
