//! Input sets drawn from a recipe's own declarations: defaults, ends of ranges and anything between.

use casewright::base::{Length, Ratio, parse_length};
use casewright::catalog;
use casewright::model::{Input, InputKind, Value};

/// One set: each input at its default, at an end of its range, or anywhere in it.
pub fn input_set(draw: &mut Draw, inputs: &[Input]) -> Vec<(String, String)> {
    // Some sets change one or two things, some everything.
    let changed = [2, 3, 8, 10][draw.below(4)];
    let mut set = Vec::new();
    for input in inputs {
        if draw.below(10) < changed {
            set.push((input.name.clone(), value(draw, input)));
        }
    }
    // Lengths drawn by themselves are hardly ever the diagonals of the opening that was drawn; half of the time they are such.
    if let Some(at) = set.iter().position(|(name, text)| name == "diagonals" && !text.is_empty())
        && draw.one_in(2)
    {
        set[at].1 = diagonals(draw, inputs, &set);
    }
    set
}

/// The diagonals of the opening of a set, as one reads them where its sides lean by up to 3 mm over their height.
fn diagonals(draw: &mut Draw, inputs: &[Input], set: &[(String, String)]) -> String {
    let smallest = |name: &str| {
        let given = set.iter().find(|(known, _)| known == name).map(|(_, text)| text.clone());
        let usual = || inputs.iter().find(|input| input.name == name).unwrap().default.typed(exact);
        let text = given.filter(|text| !text.is_empty()).unwrap_or_else(usual);
        text.split(';').map(|one| i128::from(parse_length(one, None).unwrap().nm())).min().unwrap()
    };
    let (width, height) = (smallest("width"), smallest("height"));
    let lean = i128::try_from(draw.below(6_000_001)).unwrap() - 3_000_000;
    let across = |floor: i128| {
        let square = (floor * floor + height * height).unsigned_abs();
        exact(Length::from_nm(i64::try_from(square.isqrt()).unwrap()))
    };
    format!("{}; {}", across(width + lean), across(width - lean))
}

fn value(draw: &mut Draw, input: &Input) -> String {
    let typed = |value: &Value| value.typed(exact);
    let ends: Vec<String> =
        [&input.min, &input.max].into_iter().flatten().filter(|_| !input.kind.is_stock()).map(typed).collect();
    if input.kind != InputKind::Lengths && !ends.is_empty() && draw.one_in(5) {
        return ends[draw.below(ends.len())].clone();
    }
    let length = |value: Option<&Value>| match value {
        Some(Value::Length(length)) => Some(length.nm()),
        _ => None,
    };
    let (low, high) = (length(input.min.as_ref()), length(input.max.as_ref()));
    match input.kind {
        InputKind::Length => {
            let Value::Length(default) = &input.default else { panic!("{input:?}") };
            let step = length(input.step.as_ref());
            exact(draw.length(low.unwrap_or(0), high.unwrap_or(default.nm() * 3), step))
        }
        InputKind::Lengths => {
            let (low, high) = (low.unwrap_or(Length::INCH.nm()), high.unwrap_or(Length::INCH.nm() * 40));
            // A list that may be left out is, half of the time.
            if matches!(&input.default, Value::Lengths(default) if default.is_empty()) && draw.one_in(2) {
                return String::new();
            }
            let first = draw.length(low, high, None);
            // Readings of one opening differ a little; sizes of several things differ much.
            let near = draw.one_in(2);
            // Most lists need a length; now and then none is given.
            let count = if draw.one_in(20) { 0 } else { 1 + draw.below(4) };
            let list = (0..count).map(|_| {
                if near {
                    draw.length(first.nm(), (first.nm() + 3_000_000).min(high), None)
                } else {
                    draw.length(low, high, None)
                }
            });
            list.map(exact).collect::<Vec<_>>().join("; ")
        }
        InputKind::Count => {
            let (low, high) = match (&input.min, &input.max) {
                (Some(Value::Count(low)), Some(Value::Count(high))) => (*low, *high),
                other => panic!("the input `{}` needs a range: {other:?}", input.name),
            };
            (low + i64::try_from(draw.below(usize::try_from(high - low + 1).unwrap())).unwrap()).to_string()
        }
        InputKind::Number => {
            let (Some(Value::Number(low)), Some(Value::Number(high))) = (&input.min, &input.max) else {
                panic!("the input `{}` needs a range", input.name)
            };
            let share = Ratio::new(i64::try_from(draw.below(65)).unwrap(), 64);
            (*low + (*high - *low) * share).to_string()
        }
        InputKind::Choice => input.choices[draw.below(input.choices.len())].clone(),
        InputKind::YesNo => ["yes", "no"][draw.below(2)].to_owned(),
        InputKind::Sheet | InputKind::Board | InputKind::SheetOrBoard | InputKind::Band => {
            let fits: Vec<&str> = catalog::stock_names()
                .filter(|name| {
                    let stock = catalog::stock(name).unwrap();
                    let thick = stock.thickness().nm();
                    // Now and then one of a thickness that the recipe refuses.
                    input.kind.takes_form(&stock.form)
                        && (draw.one_in(50)
                            || low.is_none_or(|low| thick >= low) && high.is_none_or(|high| thick <= high))
                })
                .collect();
            let words = input.choices.len();
            match draw.below(words + 4) {
                chosen if chosen < words => input.choices[chosen].clone(),
                _ => fits[draw.below(fits.len())].to_owned(),
            }
        }
        InputKind::Text => text(draw, &typed(&input.default)),
    }
}

/// Another name of the same kind, where the default is the name of a stock or of hardware.
fn text(draw: &mut Draw, default: &str) -> String {
    if let Some(hardware) = catalog::hardware(default) {
        let same: Vec<&str> =
            catalog::hardware_names().filter(|name| catalog::hardware(name).unwrap().kind == hardware.kind).collect();
        return same[draw.below(same.len())].to_owned();
    }
    default.to_owned()
}

/// A length as typed so that nothing of it is lost.
fn exact(length: Length) -> String {
    let nm = length.nm();
    format!("{}.{:06}mm", nm / 1_000_000, nm % 1_000_000)
}

/// A row of numbers that is the same in each run: the multiplier is that of Knuth's 64-bit generator (MMIX).
pub struct Draw(u64);

impl Draw {
    /// The row of one chunk of a recipe's sets.
    pub fn new(recipe: &str, chunk: usize) -> Self {
        let mut seed = 0xcbf2_9ce4_8422_2325_u64;
        let name = recipe.rsplit(['/', '\\']).next().unwrap_or(recipe).trim_end_matches(".rhai");
        for byte in name.bytes().chain(chunk.to_le_bytes()) {
            seed = (seed ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
        Self(seed)
    }

    /// A number below `count`.
    pub fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from((self.0 >> 33) % u64::try_from(count.max(1)).unwrap()).unwrap()
    }

    /// True one time in `count`.
    pub fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    /// A length of a range: on a rule of sixteenths or of millimetres, or, one time in four, anywhere.
    fn length(&mut self, low: i64, high: i64, step: Option<i64>) -> Length {
        let fine = 1_000_000_000;
        let share = i64::try_from(self.below(usize::try_from(fine + 1).unwrap())).unwrap();
        let anywhere = low + i64::try_from(i128::from(high - low) * i128::from(share) / i128::from(fine)).unwrap();
        let grid = match (step, self.below(4)) {
            (Some(step), _) => step,
            (None, 0) => 1,
            (None, 1) => 1_000_000,
            (None, _) => Length::from_inch(1, 16).nm(),
        };
        let from = if step.is_some() { low } else { 0 };
        let on_grid = from + (anywhere - from) / grid * grid;
        Length::from_nm(on_grid.clamp(low, high))
    }
}
