//! `slides`, `hang` and `hardware`: what is bought and screwed on.

use rhai::{Dynamic, Engine, ImmutableString, Map, NativeCallContext};

use super::args::{a_value, at_key, read, refuse_unless};
use super::desk::{DeskRef, MOST, MOST_SLIDES, Outcome, raise, refuse_beyond, refuse_name};
use super::functions::{HANG, HARDWARE, SLIDES};
use super::motion;
use super::parts::PieceHandle;
use crate::base::{Axis, Face, Length};
use crate::catalog;
use crate::diag::{Finding, did_you_mean, nearest};
use crate::model::{
    HardwareClass, HardwareKind, HardwareUnit, HardwareUse, Hold, Model, Moving, PieceId, SlideFit, Slides, Stage,
    Step, Way,
};

/// Slides in a script.
#[derive(Clone, Debug)]
pub(super) struct SlidesHandle {
    name: String,
    slides: Slides,
    note: String,
}

pub(super) fn register(engine: &mut Engine, desk: &DeskRef) {
    engine.register_type_with_name::<SlidesHandle>("slides");
    engine.register_get("clearance", |slides: &mut SlidesHandle| slides.slides.clearance);
    engine.register_get("slack", |slides: &mut SlidesHandle| slides.slides.slack);
    engine.register_get("height", |slides: &mut SlidesHandle| slides.slides.height);
    engine.register_get("under", |slides: &mut SlidesHandle| slides.slides.under);
    engine.register_get("name", |slides: &mut SlidesHandle| -> ImmutableString { slides.name.as_str().into() });
    engine.register_fn("to_string", |slides: &mut SlidesHandle| -> ImmutableString { slides.name.as_str().into() });
    engine.register_fn("to_debug", |slides: &mut SlidesHandle| -> ImmutableString { slides.name.as_str().into() });
    let shared = desk.clone();
    engine.register_fn("slides", move |ctx: NativeCallContext, name: ImmutableString, given: Map| {
        slides(&ctx, &shared, &name, &given)
    });
    let shared = desk.clone();
    engine.register_fn("longest_slide", move |ctx: NativeCallContext, slides: SlidesHandle, depth: Length| {
        longest(&ctx, &shared, &slides, depth)
    });
    let shared = desk.clone();
    engine.register_fn("hang", move |ctx: NativeCallContext, piece: PieceHandle, given: Map| {
        hang(&ctx, &shared, piece.0, &given)
    });
    let shared = desk.clone();
    engine.register_fn("hardware", move |ctx: NativeCallContext, name: ImmutableString, given: Map| {
        hardware(&ctx, &shared, &name, &given)
    });
}

fn slides(ctx: &NativeCallContext, desk: &DeskRef, name: &str, given: &Map) -> Outcome<SlidesHandle> {
    desk.borrow().refuse_if_inputs_failed()?;
    let options = read(ctx, desk, "slides", SLIDES.options, given)?;
    let Some(entry) = catalog::hardware(name) else { return Err(unknown(ctx, name, HardwareKind::Slides)) };
    let mut slides = match &entry.class {
        HardwareClass::Slides(class) => class.clone(),
        HardwareClass::SlidesBySheet => by_sheet(ctx, name, options.length("clearance"))?,
        HardwareClass::Plain => return Err(unknown(ctx, name, HardwareKind::Slides)),
    };
    for key in ["clearance", "slack", "under", "height"] {
        let negative = options.length(key).is_some_and(Length::is_negative);
        refuse_unless(ctx, desk, key, !negative, "cannot be negative")?;
    }
    let no_length = options.lengths("lengths").iter().any(|length| !length.is_positive());
    refuse_unless(ctx, desk, "lengths", !no_length, "must be more than nothing")?;
    refuse_unless(ctx, desk, "load_kg", options.count("load_kg").unwrap_or(0) >= 0, "cannot be negative")?;
    slides.clearance = options.length("clearance").unwrap_or(slides.clearance);
    slides.slack = options.length("slack").unwrap_or(slides.slack);
    slides.under = options.length("under").unwrap_or(slides.under);
    slides.height = options.length("height").unwrap_or(slides.height);
    slides.load_kg = options.count("load_kg").unwrap_or(slides.load_kg);
    if options.get("lengths").is_some() {
        slides.lengths = options.lengths("lengths");
        slides.lengths.sort_unstable();
    }
    Ok(SlidesHandle { name: name.to_owned(), slides, note: entry.note.clone() })
}

/// Slides of which only the maker's sheet tells the sizes.
fn by_sheet(ctx: &NativeCallContext, name: &str, clearance: Option<Length>) -> Outcome<Slides> {
    let Some(clearance) = clearance else {
        let finding =
            Finding::error("clearance-unknown", format!("the clearance of {name} differs from maker to maker"));
        return Err(raise(ctx, finding.hint("give `clearance`, the room at each side, from the maker's sheet")));
    };
    let none = Length::ZERO;
    Ok(Slides { clearance, slack: none, lengths: Vec::new(), height: none, under: none, load_kg: 0 })
}

fn longest(ctx: &NativeCallContext, desk: &DeskRef, handle: &SlidesHandle, depth: Length) -> Outcome<Length> {
    if handle.slides.lengths.is_empty() {
        let finding = Finding::error("lengths-unknown", format!("the lengths of {} are not known", handle.name));
        return Err(raise(ctx, finding.hint("give `lengths` to `slides`, from the maker's sheet")));
    }
    let found = handle.slides.lengths.iter().copied().filter(|length| *length <= depth).max();
    found.ok_or_else(|| {
        let print = desk.borrow().model.printing;
        let shortest = handle.slides.lengths.first().copied().unwrap_or(Length::ZERO);
        let finding = Finding::error(
            "no-slide-fits",
            format!(
                "no length of {} fits a depth of {}; the shortest is {}",
                handle.name,
                print.length(depth),
                print.length(shortest)
            ),
        );
        raise(
            ctx,
            finding.hint("make the opening deeper, keep less room behind, or give the `lengths` that can be had"),
        )
    })
}

fn hang(ctx: &NativeCallContext, desk: &DeskRef, piece: PieceId, given: &Map) -> Outcome<()> {
    let Some(on) = given.get("on").cloned() else {
        return Err(raise(
            ctx,
            Finding::error("missing-option", "`hang` needs the option `on`")
                .hint("give the slides, as `slides(...)` gives them"),
        ));
    };
    let Some(handle) = on.try_cast::<SlidesHandle>() else {
        let value = given.get("on").map(a_value).unwrap_or_default();
        let finding = Finding::error("wrong-kind", format!("`on` of `hang` takes slides; {value} was given"));
        return Err(at_key(ctx, desk, "on", finding.hint("write `let slide = slides(\"...\", #{})` and `on: slide`")));
    };
    let mut rest = given.clone();
    rest.insert("on".into(), Dynamic::from(ImmutableString::from(handle.name.as_str())));
    let options = read(ctx, desk, "hang", HANG.options, &rest)?;
    let (Some(opening), Some(length)) = (options.opening("opening"), options.length("length")) else { return Ok(()) };
    refuse_unless(ctx, desk, "length", length.is_positive(), "must be more than nothing")?;
    refuse_length(ctx, desk, &handle, length)?;
    let room_behind = options.length("room_behind").unwrap_or(Length::ZERO);
    refuse_unless(ctx, desk, "room_behind", !room_behind.is_negative(), "cannot be negative")?;
    let travel = options.length("travel").unwrap_or(length);
    refuse_unless(ctx, desk, "travel", travel.is_positive(), "must be more than nothing")?;
    let out = options.face("opens").unwrap_or(Face::Front);
    if out.axis() != Axis::Y {
        // An opening's width is from left to right, and there its slides are; every check of their fit rests on that.
        let name = desk.borrow().model.piece(piece).name.clone();
        let message = format!(
            "`{name}` cannot open to the {}: its slides are at the left and the right of its opening",
            out.name()
        );
        let finding = Finding::error("drawer-opens-sideways", message);
        let hint = "a drawer opens to the \"front\" or the \"back\"; draw what opens to a side in a job of its own, seen from that side";
        return Err(at_key(ctx, desk, "opens", finding.hint(hint)));
    }
    let mut desk = desk.borrow_mut();
    desk.refuse_if_inputs_failed()?;
    let slides = desk.model.hardware.iter().filter(|used| used.slides.is_some()).count();
    refuse_beyond(ctx, MOST_SLIDES, slides, "pairs of slides")?;
    let at = desk.at(ctx);
    let first = motion::add(ctx, &mut desk, Moving::Piece(piece), Way::Slide { out, travel }, &options)?;
    let purpose = desk.model.piece(piece).name.clone();
    let space = desk.model.opening(opening).name.clone();
    let text = format!("Hang {purpose} in {space}: fit its slides by the marks below.");
    let step = desk.model.steps.len();
    desk.model.step_parts.insert(step, vec![first]);
    desk.model.steps.push(Step { piece: Model::ROOT, stage: Stage::Hang, text });
    desk.model.holds.push(Hold { part: first, to: None });
    desk.model.hardware.push(HardwareUse {
        item: handle.name,
        kind: HardwareKind::Slides,
        size: Some(length),
        gauge: None,
        quantity: 1,
        unit: HardwareUnit::Pair,
        purpose,
        note: handle.note,
        slides: Some(SlideFit { slides: handle.slides, carries: piece, opening, length, room_behind }),
        part: None,
        at,
    });
    Ok(())
}

/// Slides are bought in the lengths that they are made in. Where none are known, as of runners made in the shop, the maker's word counts.
fn refuse_length(ctx: &NativeCallContext, desk: &DeskRef, handle: &SlidesHandle, length: Length) -> Outcome<()> {
    let lengths = &handle.slides.lengths;
    if lengths.is_empty() || lengths.iter().any(|known| known.same_size(length)) {
        return Ok(());
    }
    let print = desk.borrow().model.printing;
    let shorter = lengths.iter().copied().filter(|known| *known < length).max();
    let longer = lengths.iter().copied().filter(|known| *known > length).min();
    let nearest: Vec<String> = shorter.into_iter().chain(longer).map(|known| print.length(known)).collect();
    let message = format!("{} are not made {} long", handle.name, print.length(length));
    let finding = Finding::error("slide-length-unknown", message).hint(format!(
        "choose {}, as `longest_slide` does; or give the `lengths` of your own slides to `slides`",
        nearest.join(" or ")
    ));
    Err(at_key(ctx, desk, "length", finding))
}

fn hardware(ctx: &NativeCallContext, desk: &DeskRef, name: &str, given: &Map) -> Outcome<()> {
    desk.borrow().refuse_if_inputs_failed()?;
    refuse_name(ctx, "hardware", name)?;
    let options = read(ctx, desk, "hardware", HARDWARE.options, given)?;
    let size = options.length("size");
    refuse_unless(ctx, desk, "size", size.is_none_or(Length::is_positive), "must be more than nothing")?;
    refuse_beyond(ctx, MOST, desk.borrow().model.hardware.len(), "entries of hardware")?;
    let quantity = options.count("quantity").unwrap_or(1);
    if !(0..=100_000).contains(&quantity) {
        let finding = Finding::error("wrong-count", format!("{quantity} of `{name}` cannot be bought"));
        return Err(at_key(ctx, desk, "quantity", finding.hint("give a count from 0 up")));
    }
    let known = catalog::hardware(name);
    if known.as_ref().is_some_and(|entry| !matches!(entry.class, HardwareClass::Plain)) {
        let finding =
            Finding::error("slides-as-hardware", format!("`{name}` carries a box, so that its fit has to be checked"));
        return Err(raise(ctx, finding.hint("use `slides` and `hang`")));
    }
    let part = options.parts("on").first().copied();
    let stands_out = motion::stands_out(ctx, desk, name, quantity, &options)?;
    let mut desk = desk.borrow_mut();
    desk.model.stands_out.extend(stands_out);
    let at = desk.at(ctx);
    // Once for a name: a recipe may need the same at many places.
    if known.is_none() && !desk.model.hardware.iter().any(|used| used.item == name) {
        let near = nearest(name, catalog::hardware_names()).map(|near| format!("did you mean `{near}`?"));
        let finding = Finding::note("hardware-unlisted", format!("`{name}` is not in the catalog; taken as written"));
        desk.findings.push(finding.at(at.clone()).maybe_hint(near));
    }
    let purpose = options.text("purpose").map_or_else(
        || {
            let piece = part.map_or(Model::ROOT, |part| desk.model.part(part).piece);
            desk.model.piece(piece).name.clone()
        },
        str::to_owned,
    );
    let note = options.text("note").map(str::to_owned).or_else(|| known.as_ref().map(|entry| entry.note.clone()));
    desk.model.hardware.push(HardwareUse {
        item: name.to_owned(),
        kind: known.as_ref().map_or(HardwareKind::Other, |entry| entry.kind),
        size,
        gauge: None,
        quantity,
        unit: known.as_ref().map_or(HardwareUnit::Each, |entry| entry.unit),
        purpose,
        note: note.unwrap_or_default(),
        slides: None,
        part,
        at,
    });
    Ok(())
}

fn of_kind(kind: HardwareKind) -> Vec<&'static str> {
    catalog::hardware_names().filter(|name| catalog::hardware(name).is_some_and(|entry| entry.kind == kind)).collect()
}

fn unknown(ctx: &NativeCallContext, name: &str, kind: HardwareKind) -> Box<rhai::EvalAltResult> {
    let finding = Finding::error("unknown-hardware", format!("no slides are called `{name}`"));
    raise(ctx, finding.maybe_hint(did_you_mean(name, of_kind(kind))))
}
