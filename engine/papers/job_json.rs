//! `job.json`: everything that is known of a job, for other programs. Its schema is published in `docs/job.schema.json`.
//!
//! The structs here are what is written, and nothing else is: the model may change its shape without changing the format. A change
//! that a reader would stumble over raises [`VERSION`]. What a job does not have is left out of the file.

use std::io;

use schemars::JsonSchema;
use serde::Serialize;
use serde_json::ser::{Formatter, Serializer};

use super::job_stock::{RackView, StockPlanView};
use super::{Paper, Subject};
use crate::base::{Axis, Face, Length, Point, Printing, Solid};
use crate::diag::{At, Finding};
use crate::model::{
    self, BandingOrder, Bearer, HardwareUnit, Load, Material, Model, Obstacle, PieceId, StockForm, Value,
};
use crate::physics;
use crate::plan::{self, Amount, FitRow, Plan};

/// The whole job.
pub(super) const JOB_JSON: Paper = Paper {
    file: "job.json",
    summary: "everything in one file for other programs, with a version and a published schema",
    write,
};

/// The version of the format.
const VERSION: u32 = 1;

/// The JSON schema of `job.json`, as text.
pub fn job_schema() -> String {
    let schema = schemars::schema_for!(Job<'_>);
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}

fn write(subject: Subject<'_>) -> Vec<u8> {
    // From a look at real jobs: a part with its features takes one to two thousand bytes.
    let mut bytes = Vec::with_capacity(8_192 + 2_048 * subject.model.parts.len());
    let mut serializer = Serializer::with_formatter(&mut bytes, Rows { depth: 0 });
    // Nothing in a job fails to serialize: there are no maps, and every number is finite.
    let _ = Job::of(subject).serialize(&mut serializer);
    bytes.push(b'\n');
    bytes
}

/// A job as Casewright understood it: inputs, findings, pieces, parts and everything that its papers say.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "Casewright job")]
struct Job<'a> {
    /// Always `casewright-job`.
    format: Format,
    /// The version of the format. It rises when a reader of an older version could misread a file.
    version: u32,
    /// What the job is called.
    title: &'a str,
    /// The unit in which the job is printed: `in` or `mm`.
    unit: &'a str,
    /// The finest division of the shop's rule to the inch, by which trade notation is rounded.
    denominator: i64,
    /// The recipe's inputs with their values in this job.
    inputs: Vec<InputView<'a>>,
    /// Warnings and notes.
    findings: Vec<FindingView<'a>>,
    /// Pieces; the first is the job itself, every other stands in its parent.
    pieces: Vec<PieceView<'a>>,
    /// The stocks that parts and bands are made of.
    stocks: Vec<StockView<'a>>,
    /// Parts, in the order of the recipe.
    parts: Vec<PartView<'a>>,
    /// Openings.
    openings: Vec<OpeningView<'a>>,
    /// Fronts and the openings that they belong to.
    fronts: Vec<FrontView>,
    /// What stands there already, and is none of the job.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    obstacles: Vec<ObstacleView<'a>>,
    /// Joints as the recipe asked for them.
    joints: Vec<JointView<'a>>,
    /// The cut list.
    cut_list: Vec<CutView<'a>>,
    /// The hardware bill.
    hardware: Vec<HardwareView<'a>>,
    /// The edge-band bill.
    edge_bands: Vec<BandView<'a>>,
    /// What each stock needs, by area and length: an estimate, beside the stock plan.
    buying: Vec<BuyView<'a>>,
    /// How each stock is cut up.
    stock_plan: Vec<StockPlanView<'a>>,
    /// The offcuts on the rack when the job is cut.
    rack: Vec<RackView<'a>>,
    /// Machine settings.
    settings: Vec<SettingView<'a>>,
    /// Positions to mark out.
    mark_outs: Vec<MarkOutView<'a>>,
    /// Boxes to check for square by their diagonals.
    squares: Vec<SquareView<'a>>,
    fits: Vec<FitView<'a>>,
    /// What the pieces weigh, the whole job first: by their stock, without hardware, finish and load.
    weights: Vec<WeightView<'a>>,
    /// What shelves and drawers are to carry, as the recipe said it.
    loads: Vec<LoadView<'a>>,
    /// What the piece is fastened to, so that it cannot tip.
    #[serde(skip_serializing_if = "Option::is_none")]
    anchor: Option<&'a str>,
    /// Assembly, one sentence a step.
    steps: &'a [String],
    /// Notes for the maker.
    notes: &'a [String],
    /// Cautions that belong to the work.
    cautions: &'a [&'static str],
}

#[derive(Serialize, JsonSchema)]
enum Format {
    #[serde(rename = "casewright-job")]
    Job,
}

/// A length, three times the same: exact, for reading, and as the trade writes it.
#[derive(Serialize, JsonSchema)]
pub(super) struct Size {
    /// Whole nanometres, exact.
    nm: i64,
    /// Millimetres, exact to the six places that a nanometre needs.
    mm: f64,
    /// Trade notation in the job's unit; a `+` or `-` at its end says that it was rounded.
    text: String,
}

/// A place in a recipe or another file.
#[derive(Serialize, JsonSchema)]
struct AtView<'a> {
    file: &'a str,
    /// The line, counted from 1.
    line: u32,
    /// The column in characters, counted from 1.
    column: u32,
}

#[derive(Serialize, JsonSchema)]
struct InputView<'a> {
    name: &'a str,
    /// `length`, `lengths`, `count`, `number`, `choice`, `text`, `yes/no`, `sheet`, `board`, `sheet or board` or `band`.
    kind: &'a str,
    /// The value in words, as it could be typed.
    value: String,
    /// The lengths of the value in nanometres; empty for other kinds.
    value_nm: Vec<i64>,
    /// Whether the job gave it; otherwise it is the recipe's default.
    given: bool,
    help: &'a str,
}

#[derive(Serialize, JsonSchema)]
struct FindingView<'a> {
    /// The stable name of the fault.
    code: &'a str,
    /// `error`, `warning` or `note`.
    severity: &'a str,
    message: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    at: Option<AtView<'a>>,
    /// The calls that led there, innermost first.
    through: Vec<AtView<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    hint: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<&'a str>,
}

#[derive(Serialize, JsonSchema)]
struct PieceView<'a> {
    /// Its place in this list.
    id: u32,
    name: &'a str,
    /// The piece that it stands in; only the job itself has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    parent: Option<u32>,
    /// Where its zero corner lies in the whole job: x, y, z in nanometres.
    corner_nm: [i64; 3],
    #[serde(skip_serializing_if = "Option::is_none")]
    at: Option<AtView<'a>>,
}

#[derive(Serialize, JsonSchema)]
struct StockView<'a> {
    name: &'a str,
    /// What it is made of; for solid wood the species.
    material: &'a str,
    /// `sheet`, `board` or `band`.
    form: &'a str,
    /// Length of a sheet or roll, where it has one.
    #[serde(skip_serializing_if = "Option::is_none")]
    length_nm: Option<i64>,
    /// Width of a sheet or band.
    #[serde(skip_serializing_if = "Option::is_none")]
    width_nm: Option<i64>,
    /// The thickness that it is sold as.
    named_nm: i64,
    /// The thickness that was measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    measured_nm: Option<i64>,
    has_grain: bool,
    show_faces: u8,
    /// Where its figures are from.
    source: &'a str,
}

/// A cuboid from its left, front, bottom corner to its right, back, top corner, in the whole job: x to the right, y from front to
/// back, z up. A million nanometres are a millimetre, 25 400 000 an inch.
#[derive(Serialize, JsonSchema)]
struct SolidView {
    low_nm: [i64; 3],
    high_nm: [i64; 3],
}

#[derive(Serialize, JsonSchema)]
struct PartView<'a> {
    /// Its place in this list.
    id: u32,
    /// Its mark in the cut list.
    mark: &'a str,
    name: &'a str,
    /// The piece that it belongs to.
    piece: u32,
    stock: &'a str,
    /// What it fills with its tongues.
    solid: SolidView,
    /// The axis of its thickness: `x`, `y` or `z`.
    thickness: &'a str,
    /// The axis of its length in the cut list.
    length: &'a str,
    /// The axis that its grain runs along.
    #[serde(skip_serializing_if = "Option::is_none")]
    grain: Option<&'a str>,
    /// The face that will be seen.
    #[serde(skip_serializing_if = "Option::is_none")]
    show: Option<&'a str>,
    bands: Vec<BandingView<'a>>,
    /// How much longer the core is cut along its banded edges, when it is banded before it is brought to size.
    #[serde(skip_serializing_if = "Option::is_none")]
    trimmed_nm: Option<i64>,
    features: Vec<FeatureView<'a>>,
    /// Why no joint holds it, if that is meant.
    #[serde(skip_serializing_if = "Option::is_none")]
    loose: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    note: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    at: Option<AtView<'a>>,
}

#[derive(Serialize, JsonSchema)]
struct BandingView<'a> {
    stock: &'a str,
    /// The edge, named by where it looks.
    edge: &'a str,
    runs_through: bool,
    /// Whether the core is cut smaller by the band's thickness.
    taken_off: bool,
    /// The finished length of the band.
    length_nm: i64,
}

/// Material that is taken out of a part.
#[derive(Serialize, JsonSchema)]
struct FeatureView<'a> {
    /// The trade's word: `groove`, `dado`, `rabbet`, `pocket hole` ...
    name: &'a str,
    /// `channel`, `step`, `mortise`, `bevel` (a plane from edge to edge of the cuboid, as at a mitre), `dovetail` (the room between
    /// two tails or two pins), `spline slot` (square to a bevel; its cuboid holds it), `bore`, `pocket` (a bore at the
    /// shallow angle of a pocket hole) or `screw` (where nothing is drilled).
    shape: &'a str,
    /// The axis that a cut runs along.
    #[serde(skip_serializing_if = "Option::is_none")]
    along: Option<&'a str>,
    /// Given, and true, when a channel or step ends before an edge.
    #[serde(skip_serializing_if = "Option::is_none")]
    stopped: Option<bool>,
    /// The end that a bevel takes: of the cuboid, the half that touches it and `face` is removed. Of a spline slot, the
    /// end that is bevelled.
    #[serde(skip_serializing_if = "Option::is_none")]
    end: Option<&'a str>,
    /// The slope of the sides of a dovetail, as across and along: 1 and 8 is one in eight.
    #[serde(skip_serializing_if = "Option::is_none")]
    slope: Option<[i64; 2]>,
    /// The face at which a dovetail fills its cuboid.
    #[serde(skip_serializing_if = "Option::is_none")]
    wide: Option<&'a str>,
    /// The diameter of a hole.
    #[serde(skip_serializing_if = "Option::is_none")]
    diameter_nm: Option<i64>,
    /// The face that the tool enters.
    face: &'a str,
    /// The cuboid that holds what is removed, in the whole job: its low and its high corner.
    solid_nm: [[i64; 3]; 2],
    /// The joint that asked for it, by its place in `joints`.
    joint: u32,
}

#[derive(Serialize, JsonSchema)]
struct OpeningView<'a> {
    id: u32,
    name: &'a str,
    piece: u32,
    /// The largest cuboid that fits: the smallest reading each way.
    solid: SolidView,
    widths_nm: Vec<i64>,
    heights_nm: Vec<i64>,
    /// The diagonals read: from the lower left corner up, and from the upper left corner down.
    #[serde(skip_serializing_if = "Option::is_none")]
    diagonals_nm: Option<[i64; 2]>,
}

#[derive(Serialize, JsonSchema)]
struct FrontView {
    part: u32,
    /// The other parts of a front that is a frame: its stiles and rails.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    rest: Vec<u32>,
    opening: u32,
    /// `inset` or `applied`.
    style: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct ObstacleView<'a> {
    name: &'a str,
    /// Its low and its high face along x, y and z; none where it goes on without end.
    low_nm: [Option<i64>; 3],
    high_nm: [Option<i64>; 3],
}

#[derive(Serialize, JsonSchema)]
struct JointView<'a> {
    id: u32,
    joint: &'a str,
    /// The part that is fitted.
    member: u32,
    /// The parts that it is fitted to.
    into: Vec<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    at: Option<AtView<'a>>,
}

#[derive(Serialize, JsonSchema)]
struct CutView<'a> {
    mark: &'a str,
    part: &'a str,
    quantity: i64,
    stock: &'a str,
    thickness: Size,
    /// The length to cut, along the grain where there is one.
    length: Size,
    /// The width to cut.
    width: Size,
    grain_along_length: bool,
    banded: &'a str,
    joinery: &'a str,
    used_in: &'a str,
    /// Finished length and width, where they differ from those to cut.
    #[serde(skip_serializing_if = "Option::is_none")]
    finished: Option<[Size; 2]>,
    /// How many of the parts are mirror images of the first.
    mirrored: i64,
    /// The parts, by their place in `parts`.
    parts: Vec<u32>,
}

#[derive(Serialize, JsonSchema)]
struct HardwareView<'a> {
    item: &'a str,
    size: &'a str,
    /// How many; square millimetres where the unit is `mm2`.
    quantity: i64,
    /// `each`, `pair` or `mm2`.
    unit: &'a str,
    purpose: &'a str,
    note: &'a str,
}

#[derive(Serialize, JsonSchema)]
struct BandView<'a> {
    band: &'a str,
    width: Size,
    thickness: Size,
    edges: i64,
    net: Size,
    /// What is added at each end of each edge.
    end_allowance: Size,
    /// Band that is trimmed off with cores cut over their size.
    trimmed: Size,
    to_buy: Size,
    #[serde(skip_serializing_if = "Option::is_none")]
    rolls: Option<i64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    roll_length: Option<Size>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<String>,
    note: &'a str,
}

#[derive(Serialize, JsonSchema)]
struct BuyView<'a> {
    stock: &'a str,
    parts: i64,
    thickness: Size,
    waste_percent: i64,
    /// Of sheets: the net area and the area with waste, in square millimetres, rounded up.
    #[serde(skip_serializing_if = "Option::is_none")]
    area_mm2: Option<[i64; 2]>,
    /// Of boards: the net volume and the volume with waste at the thickness sold, in cubic millimetres, rounded up.
    #[serde(skip_serializing_if = "Option::is_none")]
    volume_mm3: Option<[i64; 2]>,
    /// Of boards: the net length and the length with waste.
    #[serde(skip_serializing_if = "Option::is_none")]
    length: Option<[Size; 2]>,
    /// Whole sheets or boards to buy.
    #[serde(skip_serializing_if = "Option::is_none")]
    count: Option<i64>,
    /// Length and width of one.
    #[serde(skip_serializing_if = "Option::is_none")]
    size: Option<[Size; 2]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<String>,
    note: &'a str,
}

#[derive(Serialize, JsonSchema)]
struct SettingView<'a> {
    setting: &'a str,
    work: &'a str,
    value: Size,
    quantity: i64,
    marks: &'a [String],
    note: &'a str,
}

#[derive(Serialize, JsonSchema)]
struct MarkOutView<'a> {
    what: &'a str,
    from: &'a str,
    distance: Size,
}

#[derive(Serialize, JsonSchema)]
struct SquareView<'a> {
    what: &'a str,
    quantity: i64,
    width: Size,
    depth: Size,
    diagonal: Size,
}

#[derive(Serialize, JsonSchema)]
struct FitView<'a> {
    fit: &'a str,
    of: &'a str,
    quantity: i64,
    /// The gap as drawn.
    gap: Size,
    /// The least and largest gap at which it works.
    works: [Size; 2],
    /// The gap when everything is off to one side.
    worst: [Size; 2],
    /// The gap's middle less and plus the root of the sum of squares.
    likely: [Size; 2],
    /// The share expected to fit, rounded down.
    expected_percent: u8,
    matters_most: &'a str,
}

#[derive(Serialize, JsonSchema)]
struct WeightView<'a> {
    what: &'a str,
    quantity: i64,
    /// Grams for each.
    grams: i64,
    /// Grams of it whose density is not known and was assumed.
    #[serde(skip_serializing_if = "is_nothing")]
    assumed_grams: i64,
}

#[derive(Serialize, JsonSchema)]
struct LoadView<'a> {
    /// The part that carries it, by its place in `parts`.
    #[serde(skip_serializing_if = "Option::is_none")]
    part: Option<u32>,
    /// The piece that carries it, by its place in `pieces`.
    #[serde(skip_serializing_if = "Option::is_none")]
    piece: Option<u32>,
    /// As the recipe said it: `20 kg`, `40 lb/ft2`.
    amount: String,
    /// What it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    of: Option<&'a str>,
    /// All of it, in grams.
    grams: i64,
}

impl<'a> LoadView<'a> {
    fn of(load: &'a Load, model: &Model) -> Self {
        let (part, piece) = match load.on {
            Bearer::Part(part) => (Some(part.0), None),
            Bearer::Piece(piece) => (None, Some(piece.0)),
        };
        let amount = Load { of: None, ..load.clone() }.to_string();
        let grams = num_traits::ToPrimitive::to_i64(&(physics::in_kg(model, load) * 1e3).round()).unwrap_or(i64::MAX);
        Self { part, piece, amount, of: load.of.as_deref(), grams }
    }
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde asks for a reference")]
fn is_nothing(grams: &i64) -> bool {
    *grams == 0
}

impl<'a> Job<'a> {
    fn of(subject: Subject<'a>) -> Self {
        let (model, plan, printing) = (subject.model, subject.plan, subject.plan.printing);
        Self {
            format: Format::Job,
            version: VERSION,
            title: &plan.title,
            unit: printing.unit.short(),
            denominator: printing.denominator,
            inputs: model.inputs.iter().map(|input| InputView::of(input, printing)).collect(),
            findings: subject.findings.iter().map(FindingView::of).collect(),
            pieces: pieces(model),
            stocks: stocks(model),
            parts: parts(model, plan),
            openings: openings(model),
            fronts: model
                .fronts
                .iter()
                .map(|front| FrontView {
                    part: front.part.0,
                    rest: front.rest.iter().map(|part| part.0).collect(),
                    opening: front.opening.0,
                    style: front.style.name(),
                })
                .collect(),
            obstacles: model.obstacles.iter().map(ObstacleView::of).collect(),
            joints: joints(model),
            cut_list: plan.cut_list.iter().map(|row| CutView::of(row, printing)).collect(),
            hardware: plan.hardware.iter().map(HardwareView::of).collect(),
            edge_bands: plan.bands.iter().map(|row| BandView::of(row, printing)).collect(),
            buying: plan.buying.iter().map(|row| BuyView::of(row, printing)).collect(),
            stock_plan: plan.cutting.plan().stocks.iter().map(|stock| StockPlanView::of(stock, printing)).collect(),
            rack: plan.cutting.plan().rack.iter().map(|row| RackView::of(row, printing)).collect(),
            settings: plan.settings.iter().map(|row| SettingView::of(row, printing)).collect(),
            mark_outs: plan
                .mark_outs
                .iter()
                .map(|mark| MarkOutView {
                    what: &mark.what,
                    from: &mark.from,
                    distance: Size::of(mark.distance, printing),
                })
                .collect(),
            squares: plan
                .squares
                .iter()
                .map(|row| SquareView {
                    what: &row.what,
                    quantity: row.quantity,
                    width: Size::of(row.sides.0, printing),
                    depth: Size::of(row.sides.1, printing),
                    diagonal: Size::of(row.diagonal, printing),
                })
                .collect(),
            fits: plan.fits.iter().map(|row| FitView::of(row, printing)).collect(),
            weights: plan
                .weights
                .iter()
                .map(|row| WeightView {
                    what: &row.what,
                    quantity: row.quantity,
                    grams: row.grams,
                    assumed_grams: row.assumed,
                })
                .collect(),
            loads: model.loads.iter().map(|load| LoadView::of(load, model)).collect(),
            anchor: model.anchor.as_deref(),
            steps: &plan.steps,
            notes: &plan.notes,
            cautions: &plan.cautions,
        }
    }
}

impl<'a> FitView<'a> {
    fn of(row: &'a FitRow, printing: Printing) -> Self {
        let both = |(from, to): (Length, Length)| [Size::of(from, printing), Size::of(to, printing)];
        Self {
            fit: row.fit,
            of: &row.of,
            quantity: row.quantity,
            gap: Size::of(row.gap, printing),
            works: both(row.works),
            worst: both(row.worst),
            likely: both(row.likely),
            expected_percent: row.percent,
            matters_most: &row.matters_most,
        }
    }
}

impl Size {
    pub(super) fn of(length: Length, printing: Printing) -> Self {
        Self { nm: length.nm(), mm: length.mm_f64(), text: printing.length(length) }
    }

    pub(super) fn two(a: Length, b: Length, printing: Printing) -> [Self; 2] {
        [Self::of(a, printing), Self::of(b, printing)]
    }
}

impl<'a> AtView<'a> {
    fn of(at: &'a At) -> Self {
        Self { file: &at.file, line: at.line, column: at.column }
    }

    fn maybe(at: Option<&'a At>) -> Option<Self> {
        at.map(Self::of)
    }
}

impl<'a> InputView<'a> {
    fn of(input: &'a model::Input, printing: Printing) -> Self {
        let value_nm = match &input.value {
            Value::Length(length) => vec![length.nm()],
            Value::Lengths(lengths) => lengths.iter().map(|length| length.nm()).collect(),
            _ => Vec::new(),
        };
        Self {
            name: &input.name,
            kind: input.kind.name(),
            value: input.value.typed(|length| printing.length(length)),
            value_nm,
            given: input.given,
            help: &input.help,
        }
    }
}

impl<'a> FindingView<'a> {
    fn of(finding: &'a Finding) -> Self {
        Self {
            code: finding.code,
            severity: finding.severity.name(),
            message: &finding.message,
            at: AtView::maybe(finding.at.as_ref()),
            through: finding.through.iter().map(AtView::of).collect(),
            hint: finding.hint.as_deref(),
            source: finding.source,
        }
    }
}

impl<'a> CutView<'a> {
    fn of(row: &'a plan::CutRow, printing: Printing) -> Self {
        Self {
            mark: &row.mark,
            part: &row.part,
            quantity: row.quantity,
            stock: &row.stock,
            thickness: Size::of(row.thickness, printing),
            length: Size::of(row.length, printing),
            width: Size::of(row.width, printing),
            grain_along_length: row.grain,
            banded: &row.banded,
            joinery: &row.joinery,
            used_in: &row.used_in,
            finished: row.finished.map(|(length, width)| Size::two(length, width, printing)),
            mirrored: row.mirrored,
            parts: row.parts.iter().map(|part| part.0).collect(),
        }
    }
}

impl<'a> HardwareView<'a> {
    fn of(row: &'a plan::HardwareRow) -> Self {
        Self {
            item: &row.item,
            size: &row.size,
            quantity: row.quantity,
            unit: if row.unit == HardwareUnit::Area { "mm2" } else { row.unit.name() },
            purpose: &row.purpose,
            note: &row.note,
        }
    }
}

impl<'a> BandView<'a> {
    fn of(row: &'a plan::BandRow, printing: Printing) -> Self {
        let size = |length| Size::of(length, printing);
        Self {
            band: &row.band,
            width: size(row.width),
            thickness: size(row.thickness),
            edges: row.edges,
            net: size(row.net),
            end_allowance: size(row.allowance),
            trimmed: size(row.trimmed),
            to_buy: size(row.to_buy),
            rolls: row.rolls.map(|(count, _)| count),
            roll_length: row.rolls.map(|(_, length)| size(length)),
            cost: row.cost.map(|cost| cost.to_string()),
            note: &row.note,
        }
    }
}

impl<'a> BuyView<'a> {
    fn of(row: &'a plan::BuyRow, printing: Printing) -> Self {
        let (mut area_mm2, mut volume_mm3, mut length) = (None, None, None);
        match (row.net, row.with_waste) {
            (Amount::Area(net), Amount::Area(gross)) => area_mm2 = Some([net, gross].map(|area| whole_mm(area, 2))),
            (Amount::Board { length: net, volume }, Amount::Board { length: gross, volume: gross_volume }) => {
                volume_mm3 = Some([volume, gross_volume].map(|volume| whole_mm(volume, 3)));
                length = Some(Size::two(net, gross, printing));
            }
            _ => {}
        }
        Self {
            stock: &row.stock,
            parts: row.parts,
            thickness: Size::of(row.thickness, printing),
            waste_percent: row.waste_percent,
            area_mm2,
            volume_mm3,
            length,
            count: row.to_buy.map(|(count, ..)| count),
            size: row.to_buy.map(|(_, length, width)| Size::two(length, width, printing)),
            cost: row.cost.map(|cost| cost.to_string()),
            note: &row.note,
        }
    }
}

impl<'a> SettingView<'a> {
    fn of(row: &'a plan::SettingRow, printing: Printing) -> Self {
        Self {
            setting: row.what,
            work: &row.work,
            value: Size::of(row.value, printing),
            quantity: row.quantity,
            marks: &row.marks,
            note: &row.note,
        }
    }
}

/// Nanometres to a power in millimetres to that power, rounded up.
pub(super) fn whole_mm(amount: i128, power: u32) -> i64 {
    let unit = i128::from(Length::MM.nm()).pow(power);
    i64::try_from(amount.div_euclid(unit) + i128::from(amount.rem_euclid(unit) != 0)).unwrap_or(i64::MAX)
}

fn pieces(model: &Model) -> Vec<PieceView<'_>> {
    let root = |id: u32| PieceId(id) == Model::ROOT;
    (0..)
        .zip(&model.pieces)
        .map(|(id, piece)| PieceView {
            id,
            name: &piece.name,
            // A piece that was never placed stands at the zero corner of the job.
            parent: if root(id) { None } else { Some(piece.parent.unwrap_or(Model::ROOT).0) },
            corner_nm: nm(piece.shift),
            at: AtView::maybe(piece.at.as_ref()),
        })
        .collect()
}

fn stocks(model: &Model) -> Vec<StockView<'_>> {
    let mut seen: Vec<&std::sync::Arc<model::Stock>> = Vec::new();
    for part in &model.parts {
        for stock in std::iter::once(&part.stock).chain(part.bands.iter().map(|band| &band.stock)) {
            if !seen.iter().any(|known| std::sync::Arc::ptr_eq(known, stock)) && !seen.contains(&stock) {
                seen.push(stock);
            }
        }
    }
    seen.into_iter().map(|stock| StockView::of(stock)).collect()
}

impl<'a> StockView<'a> {
    fn of(stock: &'a model::Stock) -> Self {
        let (form, length, width) = match &stock.form {
            StockForm::Sheet { length, width } => ("sheet", Some(*length), Some(*width)),
            StockForm::Board { .. } => ("board", None, None),
            StockForm::Band { width, roll, .. } => ("band", *roll, Some(*width)),
        };
        let material = match &stock.material {
            Material::HardwoodPlywood => "hardwood plywood",
            Material::SandedPlywood => "sanded plywood",
            Material::MetricPlywood => "metric plywood",
            Material::Mdf => "MDF",
            Material::Particleboard => "particleboard",
            Material::Hardboard => "hardboard",
            Material::Wood(species) => species,
            Material::Other => "other",
        };
        Self {
            name: &stock.name,
            material,
            form,
            length_nm: length.map(Length::nm),
            width_nm: width.map(Length::nm),
            named_nm: stock.named.nm(),
            measured_nm: stock.measured.map(Length::nm),
            has_grain: stock.grain,
            show_faces: stock.show_faces,
            source: stock.source,
        }
    }
}

fn parts<'a>(model: &'a Model, plan: &'a Plan) -> Vec<PartView<'a>> {
    let mut marks = vec![""; model.parts.len()];
    for row in &plan.cut_list {
        for part in &row.parts {
            if let Some(mark) = marks.get_mut(part.0 as usize) {
                *mark = &row.mark;
            }
        }
    }
    model
        .part_ids()
        .zip(marks)
        .map(|((id, part), mark)| PartView {
            id: id.0,
            mark,
            name: &part.name,
            piece: part.piece.0,
            stock: &part.stock.name,
            solid: SolidView::of(&part.solid),
            thickness: axis(part.thickness),
            length: axis(part.length_axis()),
            grain: part.grain.map(axis),
            show: part.show.map(Face::name),
            bands: part
                .bands
                .iter()
                .map(|band| BandingView {
                    stock: &band.stock.name,
                    edge: band.edge.name(),
                    runs_through: band.runs_through,
                    taken_off: band.taken_off,
                    length_nm: part.band_length(band).nm(),
                })
                .collect(),
            trimmed_nm: match part.banding_order {
                BandingOrder::BeforeSizing(allowance) => Some(allowance.nm()),
                BandingOrder::AfterSizing => None,
            },
            features: part.features.iter().map(FeatureView::of).collect(),
            loose: part.loose.as_deref(),
            note: part.note.as_deref(),
            at: AtView::maybe(part.at.as_ref()),
        })
        .collect()
}

impl FeatureView<'_> {
    fn of(feature: &model::Feature) -> Self {
        let (shape, stopped, hole) = match feature.shape {
            model::Shape::Channel { stopped, .. } => ("channel", stopped, None),
            model::Shape::Step { stopped, .. } => ("step", stopped, None),
            model::Shape::Mortise { .. } => ("mortise", false, None),
            model::Shape::Bevel { .. } => ("bevel", false, None),
            model::Shape::Spline { .. } => ("spline slot", false, None),
            model::Shape::Dovetail { .. } => ("dovetail", false, None),
            model::Shape::Bore(bore) => (if bore.pocket { "pocket" } else { "bore" }, false, Some(bore.diameter)),
            model::Shape::Screw { diameter } => ("screw", false, Some(diameter)),
        };
        let end = match feature.shape {
            model::Shape::Bevel { end, .. } | model::Shape::Spline { end, .. } => Some(end.name()),
            _ => None,
        };
        let (slope, wide) = match feature.shape {
            model::Shape::Dovetail { slope, wide, .. } => (Some([*slope.numer(), *slope.denom()]), Some(wide.name())),
            _ => (None, None),
        };
        Self {
            name: feature.name,
            shape,
            along: feature.shape.along().map(axis),
            stopped: stopped.then_some(true),
            end,
            slope,
            wide,
            diameter_nm: hole.map(Length::nm),
            face: feature.face.name(),
            solid_nm: [nm(feature.solid.low), nm(feature.solid.high)],
            joint: feature.joint.0,
        }
    }
}

fn openings(model: &Model) -> Vec<OpeningView<'_>> {
    let all_nm = |lengths: &[Length]| lengths.iter().map(|length| length.nm()).collect();
    (0..)
        .zip(&model.openings)
        .map(|(id, opening)| OpeningView {
            id,
            name: &opening.name,
            piece: opening.piece.0,
            solid: SolidView::of(&opening.solid),
            widths_nm: all_nm(&opening.widths),
            heights_nm: all_nm(&opening.heights),
            diagonals_nm: opening.diagonals.map(|read| [read.rising.nm(), read.falling.nm()]),
        })
        .collect()
}

impl<'a> ObstacleView<'a> {
    fn of(obstacle: &'a Obstacle) -> Self {
        let ends = |point: Point| point.map(|face| (face.abs() < Obstacle::WITHOUT_END).then_some(face.nm()));
        Self { name: &obstacle.name, low_nm: ends(obstacle.solid.low), high_nm: ends(obstacle.solid.high) }
    }
}

fn joints(model: &Model) -> Vec<JointView<'_>> {
    (0..)
        .zip(&model.joints)
        .map(|(id, joint)| JointView {
            id,
            joint: joint.joint,
            member: joint.member.0,
            into: joint.into.iter().map(|part| part.0).collect(),
            at: AtView::maybe(joint.at.as_ref()),
        })
        .collect()
}

impl SolidView {
    fn of(solid: &Solid) -> Self {
        Self { low_nm: nm(solid.low), high_nm: nm(solid.high) }
    }
}

fn nm(point: Point) -> [i64; 3] {
    point.map(Length::nm)
}

const fn axis(axis: Axis) -> &'static str {
    match axis {
        Axis::X => "x",
        Axis::Y => "y",
        Axis::Z => "z",
    }
}

/// Lays JSON out for people and for line-by-line comparison: a line for each field of the job, and for each entry of its lists.
struct Rows {
    depth: usize,
}

/// Deeper than this, everything stays on one line.
const ROW_DEPTH: usize = 2;

impl Rows {
    fn begin<W: ?Sized + io::Write>(&mut self, writer: &mut W, bracket: &[u8]) -> io::Result<()> {
        self.depth += 1;
        writer.write_all(bracket)
    }

    fn next<W: ?Sized + io::Write>(&self, writer: &mut W, first: bool) -> io::Result<()> {
        // A new line and two spaces for each level.
        const NEW_LINE: &[u8] = b",\n    ";
        if self.depth <= ROW_DEPTH {
            return writer.write_all(&NEW_LINE[usize::from(first)..2 + 2 * self.depth]);
        }
        if first { Ok(()) } else { writer.write_all(b", ") }
    }
}

impl Formatter for Rows {
    fn begin_array<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.begin(writer, b"[")
    }

    fn end_array<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.depth -= 1;
        writer.write_all(b"]")
    }

    fn begin_array_value<W: ?Sized + io::Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.next(writer, first)
    }

    fn begin_object<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.begin(writer, b"{")
    }

    fn end_object<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.depth -= 1;
        if self.depth == 0 { writer.write_all(b"\n}") } else { writer.write_all(b"}") }
    }

    fn begin_object_key<W: ?Sized + io::Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.next(writer, first)
    }

    fn begin_object_value<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b": ")
    }
}

#[cfg(test)]
mod tests {

    use super::super::testing::{metric_shelf, two_drawers, with_subject};
    use super::*;

    #[test]
    fn a_job_says_what_it_is_and_reads_back() {
        let written = with_subject(&two_drawers(), write);
        let job: serde_json::Value = serde_json::from_slice(&written).unwrap();
        assert_eq!((&job["format"], &job["version"]), (&"casewright-job".into(), &1.into()));
        // The second side of drawer 1: 1/2 in is 12 700 000 nm.
        assert_eq!(job["parts"][1]["mark"], "A1");
        assert_eq!(job["parts"][1]["solid"]["high_nm"][0], 12_700_000);
        assert_eq!(job["parts"][1]["solid"]["high_nm"][0], 12_700_000);
        assert_eq!(job["parts"][1]["features"][0]["shape"], "channel");
        assert_eq!(job["cut_list"][0]["length"]["text"], "20\"");
        assert_eq!(job["findings"][0]["at"]["line"], 3);
        assert_eq!(job["hardware"][2]["quantity"], 100_000);
        assert_eq!(job["pieces"][2]["parent"], 0);
    }

    #[test]
    fn each_row_of_a_list_is_a_line() {
        let text = String::from_utf8(with_subject(&metric_shelf(), write)).unwrap();
        assert!(text.starts_with("{\n  \"format\": \"casewright-job\",\n  \"version\": 1,\n"), "{text}");
        assert!(text.ends_with("]\n}\n"));
        assert_eq!(text.lines().filter(|line| line.starts_with("    {\"id\": 0, \"mark\": \"A1\"")).count(), 1);
    }
}
