//! Layer 3: joints. Each lives in a file that tells its whole story, and has one line in [`ALL`].
//!
//! A maker places parts by what is seen of them: inside faces and shoulders. A joint then does the arithmetic. First every
//! joint lets its member grow (a tongue into a groove), then every joint cuts, when all parts have their final size, and last
//! every joint drills, when all cuts are known and holes can keep clear of them; so the order in which a recipe asks for joints
//! does not matter.

mod bearing;
mod borings;
mod box_joint;
mod bridle;
mod bring;
mod butt;
mod channel;
mod cleat;
mod contact;
mod corner;
mod dado;
mod dovetail;
mod fasteners;
mod groove;
mod half_lap;
mod hinge;
mod hung;
mod lock_rabbet;
mod loose;
mod mitre;
mod notch;
mod pin_holes;
mod pin_rows;
mod pockets;
mod rabbet;
mod spline;
mod spread;
mod stub_tenon;
mod tenon;
mod tongue;
mod tongue_and_groove;
mod trench;

use std::collections::HashMap;
use std::sync::Arc;

use crate::base::{Face, Length, Printing, Unit};
use crate::diag::Finding;
use crate::model::{Feature, HardwareUse, Hold, JointId, JointUse, Model, OptionSpec, PartId, Setting, Shop, Step};

pub use contact::Contact;

/// Every joint. One line for each; pages, help and script functions are made from this list.
pub const ALL: &[Joint] = &[
    box_joint::BOX_JOINT,
    bridle::BRIDLE,
    butt::BUTT,
    cleat::CLEAT,
    dado::DADO,
    dovetail::DOVETAIL,
    groove::GROOVE,
    half_lap::HALF_LAP,
    hinge::HINGE,
    lock_rabbet::LOCK_RABBET,
    mitre::MITRE,
    notch::NOTCH,
    pin_holes::PIN_HOLES,
    rabbet::RABBET,
    stub_tenon::STUB_TENON,
    tenon::TENON,
    tongue_and_groove::TONGUE_AND_GROOVE,
];

/// One kind of joint. Its name is the recipe function that asks for it.
#[derive(Clone, Copy, Debug)]
pub struct Joint {
    /// The recipe function, and what papers call it.
    pub name: &'static str,
    /// What it is, in one line.
    pub summary: &'static str,
    /// The option that names the other parts: `into` or `to`.
    pub target: &'static str,
    /// Its options, the target first.
    pub options: &'static [OptionSpec],
    /// What it does to both parts, and when to choose it.
    pub about: &'static str,
    /// Where its defaults are from.
    pub source: &'static str,
    /// What it refuses: codes of findings, each with its story. What every joint refuses is in [`REFUSED_BY_ALL`].
    pub refuses: &'static [&'static str],
    /// The sizes that it changes.
    pub changes: &'static str,
    /// The features that it leaves, and in which part.
    pub leaves: &'static str,
    /// The hardware and glue that it needs.
    pub needs: &'static str,
    /// The machine settings that it implies.
    pub sets: &'static str,
    /// What of it the proof measures again on the finished parts.
    pub promises: &'static str,
    /// Its sentence on the assembly sheet.
    pub assembly: &'static str,
    /// A small recipe that is whole, with the joint in it.
    pub example: &'static str,
    /// Lets the member grow into its targets.
    pub grow: fn(&mut Work<'_>, JointId) -> Result<(), Finding>,
    /// Cuts both with saw, plane or router, and brings glue, settings and the sentence for assembly.
    pub cut: fn(&mut Work<'_>, JointId) -> Result<(), Finding>,
    /// Drills holes clear of what is cut, and brings what goes into them.
    pub drill: fn(&mut Work<'_>, JointId) -> Result<(), Finding>,
}

/// A usual size as each of the two rules has it.
#[derive(Clone, Copy, Debug)]
struct ByUnit {
    inch: Length,
    metric: Length,
}

impl ByUnit {
    /// So many of so many parts of an inch, or so many thousandths of a millimetre.
    const fn new((count, of): (i64, i64), um: i64) -> Self {
        Self { inch: Length::from_inch(count, of), metric: Length::from_um(um) }
    }
}

/// What may come to another joint of the same two parts; any other joint shapes the wood where they meet, and only one can.
const ADDED: &[&str] =
    &[butt::BUTT.name, cleat::CLEAT.name, hinge::HINGE.name, notch::NOTCH.name, pin_holes::PIN_HOLES.name];

/// What every joint refuses, whatever else it does.
pub const REFUSED_BY_ALL: &[&str] = &["joint-twice", "joint-with-itself", "too-many-cuts"];

/// The job that joints work on.
#[derive(Debug)]
pub struct Work<'a> {
    /// The settled model.
    pub model: &'a mut Model,
    /// The shop.
    pub shop: &'a Shop,
    /// Cuts and holes made so far.
    cuts: usize,
    /// How many more cuts may be looked at in search of places for holes.
    looks: usize,
    /// What each face grew for which joint, so that a joint that cannot be made leaves its parts as they were.
    grown: HashMap<(PartId, Face), Vec<(JointId, Length)>>,
    /// The joints that could not be made.
    failed: Vec<bool>,
    /// The grooves asked for in each part.
    grooves: HashMap<PartId, Vec<JointId>>,
}

/// More cuts and holes than a part, or a job, can mean. The checks look at each pair of a part's cuts.
const MOST_CUTS_IN_PART: usize = 1_000;
const MOST_CUTS: usize = 20_000;
/// Thousands of times what a large job looks at before all its holes are placed.
const MOST_LOOKS: usize = 10_000_000;
/// Two parts that are joined in more ways than this by joints of one kind get too many cuts long before.
const MOST_ALIKE: usize = 20;
/// More joints that cannot be made than this are one slip seen many times.
const MOST_FAULTS: usize = 100;

impl<'a> Work<'a> {
    fn new(model: &'a mut Model, shop: &'a Shop) -> Self {
        let mut grooves: HashMap<PartId, Vec<JointId>> = HashMap::new();
        let ids = (0..).map(JointId);
        for (id, joint) in ids.zip(&model.joints).filter(|(_, joint)| joint.joint == groove::GROOVE.name) {
            for &part in &joint.into {
                grooves.entry(part).or_default().push(id);
            }
        }
        let failed = vec![false; model.joints.len()];
        Self { model, shop, cuts: 0, looks: MOST_LOOKS, grown: HashMap::new(), failed, grooves }
    }
}

impl Work<'_> {
    /// Takes material out of a part.
    fn cut(&mut self, part: PartId, feature: Feature) -> Result<(), Finding> {
        self.cuts += 1;
        if self.cuts > MOST_CUTS || self.model.part(part).features.len() >= MOST_CUTS_IN_PART {
            let name = self.model.full_name(part);
            return Err(Finding::error(
                "too-many-cuts",
                format!("`{name}` would get more cuts and holes than can be looked at together"),
            )
            .hint("use fewer joints, or a larger `spacing` of their screws"));
        }
        self.model.part_mut(part).features.push(feature);
        Ok(())
    }

    /// Moves a face of a part outwards for a joint. Where several joints or targets share a face, the furthest counts.
    fn grow(&mut self, id: JointId, part: PartId, face: Face, by: Length) {
        self.grown.entry((part, face)).or_default().push((id, by));
        self.settle_face(part, face);
    }

    /// Puts a face where the joints that let it grow want it.
    fn settle_face(&mut self, part: PartId, face: Face) {
        let growths = self.grown.get(&(part, face));
        let by = growths.into_iter().flatten().map(|&(_, by)| by).max().unwrap_or(Length::ZERO);
        let member = self.model.part_mut(part);
        let placed = member.placed.face(face);
        member.solid.set_face(face, if face.is_high() { placed + by } else { placed - by });
    }

    /// Undoes a joint that cannot be made. The parts still count as held: one slip is one finding.
    fn undo(&mut self, id: JointId) {
        let joint = self.joint(id);
        self.failed[id.0 as usize] = true;
        self.model.bearings.retain(|bearing| bearing.joint != id);
        for &part in joint.into.iter().chain([&joint.member]) {
            for face in Face::ALL {
                if let Some(growths) = self.grown.get_mut(&(part, face)) {
                    growths.retain(|(grown, _)| *grown != id);
                    self.settle_face(part, face);
                }
            }
        }
        for &part in joint.into.iter().chain([&joint.member]) {
            self.model.part_mut(part).features.retain(|feature| feature.joint != id);
        }
        self.model.holds.extend(joint.into.iter().map(|&target| Hold { part: joint.member, to: Some(target) }));
    }

    /// How much wider than what goes in the joint's cut is made: as the recipe says, else by the joint's usual word.
    fn fit(&self, joint: &JointUse, usual: &str) -> Length {
        let word = joint.options.text("fit").unwrap_or(usual);
        joint.options.length("fit").or_else(|| self.shop.fits.of(word)).unwrap_or(Length::ZERO)
    }

    /// A usual size in the unit of the job.
    fn usual(&self, size: ByUnit) -> Length {
        match self.printing().unit {
            Unit::Inch => size.inch,
            Unit::Millimetre => size.metric,
        }
    }

    fn joint(&self, id: JointId) -> Arc<JointUse> {
        self.model.joints[id.0 as usize].clone()
    }

    fn printing(&self) -> Printing {
        self.model.printing
    }
}

/// The joint of a name.
pub fn find(name: &str) -> Option<&'static Joint> {
    ALL.iter().find(|joint| joint.name == name)
}

/// Makes every joint of a settled model. What cannot be made is a finding, and the other joints are made all the same.
pub fn make(model: &mut Model, shop: &Shop) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut work = Work::new(model, shop);
    let ids: Vec<JointId> = (0..work.model.joints.len()).filter_map(|i| u32::try_from(i).ok()).map(JointId).collect();
    let mut brought: Vec<Brought> = ids.iter().map(|_| Brought::default()).collect();
    let mut made: HashMap<(&str, PartId, PartId), Vec<Arc<JointUse>>> = HashMap::new();
    for &id in &ids {
        if findings.len() >= MOST_FAULTS {
            break;
        }
        let joint = work.joint(id);
        if let Err(finding) = refuse_misnamed(&work, &joint, &mut made).and_then(|()| refuse_loose(&work, &joint)) {
            work.undo(id);
            brought[id.0 as usize].holds.append(&mut work.model.holds);
            findings.push(finding.at(joint.at.clone()));
        }
    }
    for step in [|joint: &Joint| joint.grow, |joint: &Joint| joint.cut, |joint: &Joint| joint.drill] {
        for (&id, brought) in ids.iter().zip(&mut brought) {
            let Some(joint) = find(work.model.joint(id).joint) else { continue };
            if work.failed[id.0 as usize] || findings.len() >= MOST_FAULTS {
                continue;
            }
            let before = Counts::of(work.model);
            let done = step(joint)(&mut work, id);
            brought.take(work.model, before);
            if let Err(finding) = done {
                *brought = Brought::default();
                work.undo(id);
                brought.take(work.model, before);
                let at = finding.at.clone().or_else(|| work.model.joint(id).at.clone());
                findings.push(finding.at(at));
            }
        }
    }
    findings.extend(shaped_twice(&work, &ids));
    for (&id, one) in ids.iter().zip(brought) {
        let first = work.model.steps.len();
        one.give(work.model);
        let joint = work.joint(id);
        let parts: Vec<PartId> = [joint.member].into_iter().chain(joint.into.iter().copied()).collect();
        for step in first..work.model.steps.len() {
            work.model.step_parts.insert(step, parts.clone());
        }
    }
    for part in &mut work.model.parts {
        part.features.sort_by_key(|feature| feature.joint);
    }
    findings
}

/// Two joints, each of which can be made, that shape the wood where the same two parts meet.
fn shaped_twice(work: &Work<'_>, ids: &[JointId]) -> Vec<Finding> {
    let mut shaped: HashMap<(PartId, PartId), &'static str> = HashMap::new();
    let mut findings = Vec::new();
    for &id in ids.iter().filter(|id| !work.failed[id.0 as usize]) {
        let joint = work.model.joint(id);
        if ADDED.contains(&joint.joint) {
            continue;
        }
        for &target in &joint.into {
            let pair = (joint.member.min(target), joint.member.max(target));
            if let Some(other) = shaped.insert(pair, joint.joint) {
                let [member, target] = [joint.member, target].map(|part| work.model.full_name(part));
                let message =
                    format!("{}: `{member}` and `{target}` have a joint already, made by `{other}`", joint.joint);
                findings.push(Finding::error("joint-twice", message).at(joint.at.clone()).hint(
                    "two joints cut the same wood away: leave one of the two out; `butt` may add screws, dowels or glue",
                ));
            }
        }
    }
    findings.truncate(MOST_FAULTS);
    findings
}

// Common practice, no source: a snug fit is a few thousandths of an inch, a loose one a thirty-second; with an eighth nothing is fitted.
const MOST_FIT: Length = Length::from_inch(1, 8);

/// Refuses a fit that leaves a gap.
fn refuse_loose(work: &Work<'_>, joint: &JointUse) -> Result<(), Finding> {
    let Some(fit) = joint.options.length("fit").filter(|fit| *fit > MOST_FIT) else { return Ok(()) };
    let print = work.printing();
    let message = format!(
        "{}: a fit of {} leaves `{}` loose in its cut; {} is the most",
        joint.joint,
        print.length(fit),
        work.model.full_name(joint.member),
        print.length(MOST_FIT)
    );
    Err(Finding::error("fit-too-loose", message)
        .hint("`fit` is only the play: the cut is as wide as what goes in and that; leave it out for the usual"))
}

/// Refuses a part that is joined to itself, and parts that are joined twice over.
fn refuse_misnamed(
    work: &Work<'_>,
    joint: &Arc<JointUse>,
    made: &mut HashMap<(&'static str, PartId, PartId), Vec<Arc<JointUse>>>,
) -> Result<(), Finding> {
    let name = |part: PartId| work.model.full_name(part);
    let option = find(joint.joint).map_or("into", |kind| kind.target);
    if joint.into.contains(&joint.member) {
        let message = format!("{}: `{}` cannot be joined to itself", joint.joint, name(joint.member));
        return Err(Finding::error("joint-with-itself", message).hint("name the other part"));
    }
    if joint.into.is_empty() {
        let before = made.entry((joint.joint, joint.member, joint.member)).or_default();
        if before.iter().any(|other| other.options.same_but_for(&joint.options, option)) {
            let message = format!("{}: `{}` has the very same one already", joint.joint, name(joint.member));
            return Err(Finding::error("joint-twice", message).hint("leave one of the two calls out"));
        }
        if before.len() < MOST_ALIKE {
            before.push(joint.clone());
        }
    }
    for (at, &target) in joint.into.iter().enumerate() {
        if joint.into[..at].contains(&target) {
            let message = format!("{}: `{}` is named twice in `{option}`", joint.joint, name(target));
            return Err(Finding::error("joint-twice", message).hint("name each part once"));
        }
        let before = made.entry((joint.joint, joint.member, target)).or_default();
        if before.iter().any(|other| other.options.same_but_for(&joint.options, option)) {
            let message =
                format!("{}: `{}` and `{}` are joined so already", joint.joint, name(joint.member), name(target));
            let hint = "leave one of the two calls out, or name another part of that name";
            return Err(Finding::error("joint-twice", message).hint(hint));
        }
        if before.len() < MOST_ALIKE {
            before.push(joint.clone());
        }
    }
    Ok(())
}

/// What a joint brings besides its cuts. It is kept apart until all joints are made, so that papers list it in the order of the
/// recipe, whatever was made first.
#[derive(Default)]
struct Brought {
    hardware: Vec<HardwareUse>,
    holds: Vec<Hold>,
    settings: Vec<Setting>,
    steps: Vec<Step>,
}

/// How much of everything a model has.
#[derive(Clone, Copy)]
struct Counts([usize; 4]);

impl Counts {
    fn of(model: &Model) -> Self {
        Self([model.hardware.len(), model.holds.len(), model.settings.len(), model.steps.len()])
    }
}

impl Brought {
    fn take(&mut self, model: &mut Model, Counts([hardware, holds, settings, steps]): Counts) {
        self.hardware.append(&mut model.hardware.split_off(hardware));
        self.holds.append(&mut model.holds.split_off(holds));
        self.settings.append(&mut model.settings.split_off(settings));
        self.steps.append(&mut model.steps.split_off(steps));
    }

    fn give(mut self, model: &mut Model) {
        model.hardware.append(&mut self.hardware);
        model.holds.append(&mut self.holds);
        model.settings.append(&mut self.settings);
        model.steps.append(&mut self.steps);
    }
}
#[cfg(test)]
mod bench;
