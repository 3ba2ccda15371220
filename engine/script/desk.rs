//! What script functions share during a run: the model that they draw in, the order, and what was found.

use std::cell::RefCell;
use std::collections::{BTreeSet, HashMap};
use std::rc::Rc;
use std::sync::Arc;
use std::time::Instant;

use rhai::{Dynamic, Engine, EvalAltResult, NativeCallContext, Position};

use super::{Order, faults, limits, place, printing};
use crate::base::Printing;
use crate::catalog;
use crate::diag::{At, Finding, did_you_mean, has_errors};
use crate::model::{Model, Shop, Stock};

/// The desk, shared by all functions of one engine. It is borrowed only inside a native call that runs no script.
pub(super) type DeskRef = Rc<RefCell<Desk>>;

/// A result that a script function may fail with.
pub(super) type Outcome<T> = Result<T, Box<EvalAltResult>>;

/// By a call's file, line and column: its options with their own places.
pub(super) type KeyPlaces = HashMap<(Arc<str>, u32, u32), Vec<(String, At)>>;

/// The state of a run.
pub(super) struct Desk {
    /// The model as far as it is drawn.
    pub model: Model,
    /// Whether the order or the shop has fixed the unit, so that the recipe cannot.
    pub unit_fixed: bool,
    /// Inputs as they were typed.
    pub given: Vec<(String, String)>,
    /// The shop.
    pub shop: Shop,
    /// What was found.
    pub findings: Vec<Finding>,
    /// Stock that the recipe itself made, by name.
    pub stocks: HashMap<String, Arc<Stock>>,
    /// Bytes printed so far.
    pub printed: usize,
    /// Pairs of parts joined so far.
    pub joined: usize,
    /// When the run began.
    pub started: Instant,
    /// What the thread held when it began.
    pub bytes_at_start: i64,
    /// Where the keys of every options map stand: by the call's file, line and column.
    pub key_places: KeyPlaces,
    files: HashMap<String, Arc<str>>,
    engine_functions: Option<Rc<BTreeSet<String>>>,
}

impl Default for Desk {
    fn default() -> Self {
        let (started, bytes_at_start) = limits::start();
        Self {
            model: Model::new("", Printing::default()),
            unit_fixed: false,
            given: Vec::new(),
            shop: Shop::default(),
            findings: Vec::new(),
            stocks: HashMap::new(),
            printed: 0,
            joined: 0,
            started,
            bytes_at_start,
            key_places: HashMap::new(),
            files: HashMap::new(),
            engine_functions: None,
        }
    }
}

impl Desk {
    /// Makes the desk ready for a run.
    pub fn clear(&mut self, title: &str, order: Order<'_>) {
        let (print, fixed) = printing(order);
        self.model = Model::new(title, print);
        self.unit_fixed = fixed;
        self.given = order.inputs.to_vec();
        self.shop = order.shop.clone();
        self.findings.clear();
        self.stocks.clear();
        self.printed = 0;
        self.joined = 0;
        self.restart();
    }

    /// Starts the clock and the count of bytes anew.
    pub fn restart(&mut self) {
        (self.started, self.bytes_at_start) = limits::start();
    }

    /// Where a call stands: the name of its function. Parts and joints keep it for the checks, which see no text.
    pub fn at(&mut self, ctx: &NativeCallContext) -> Option<At> {
        let source = ctx.call_source().unwrap_or("");
        let file = self.file(source);
        let mut at = place(&file, ctx.call_position())?;
        at.span = u32::try_from(ctx.fn_name().chars().count()).unwrap_or(0);
        Some(at)
    }

    /// The names of the functions that the engine has. They are gathered once: an engine gains none after it is made.
    pub fn engine_functions(&mut self, engine: &Engine) -> Rc<BTreeSet<String>> {
        self.engine_functions
            .get_or_insert_with(|| Rc::new(faults::engine_functions(engine).into_iter().collect()))
            .clone()
    }

    /// The shared name of a file.
    pub fn file(&mut self, name: &str) -> Arc<str> {
        if let Some(file) = self.files.get(name) {
            return file.clone();
        }
        let file: Arc<str> = name.into();
        self.files.insert(name.to_owned(), file.clone());
        file
    }

    /// Where an option of a call stands; the call itself when the option is not written there.
    pub fn at_key(&mut self, ctx: &NativeCallContext, key: &str) -> Option<At> {
        self.at(ctx).map(|at| self.place_of_key(&at, key))
    }

    /// Where an option of the call at a place stands; the call itself when the option is not written there.
    pub fn place_of_key(&self, call: &At, key: &str) -> At {
        let places = self.key_places.get(&(call.file.clone(), call.line, call.column));
        let place = places.and_then(|keys| keys.iter().find(|(name, _)| name == key)).map(|(_, place)| place);
        place.unwrap_or(call).clone()
    }

    /// Stock by name: the recipe's own, then the shop's, then the catalog's.
    pub fn find_stock(&self, name: &str) -> Option<Arc<Stock>> {
        if let Some(stock) = self.stocks.get(name).or_else(|| self.shop.find_stock(name)) {
            return Some(stock.clone());
        }
        // The catalog knows a stock by several spellings; what the shop measured of it holds for all of them.
        let known = catalog::stock(name)?;
        Some(self.shop.find_stock(&known.name).cloned().unwrap_or(known))
    }

    /// Every name under which stock can be had.
    pub fn stock_names(&self) -> Vec<String> {
        let own = self.stocks.keys().cloned();
        let shop = self.shop.stock.iter().map(|stock| stock.name.clone());
        own.chain(shop).chain(catalog::stock_names().map(str::to_owned)).collect()
    }

    /// Reports inputs that were given and never declared.
    pub fn report_unknown_inputs(&mut self, declared_in_text: &[String]) {
        let mut known: Vec<&str> = self.model.inputs.iter().map(|input| input.name.as_str()).collect();
        known.extend(declared_in_text.iter().map(String::as_str));
        let unknown: Vec<Finding> = self
            .given
            .iter()
            .filter(|(name, _)| !known.contains(&name.as_str()))
            .map(|(name, _)| {
                Finding::error("unknown-input", format!("the recipe has no input `{name}`"))
                    .maybe_hint(did_you_mean(name, known.iter().copied()))
            })
            .collect();
        self.findings.extend(unknown);
    }

    /// Stops the recipe quietly when its inputs cannot be used: what follows would be built from the wrong values.
    pub fn refuse_if_inputs_failed(&self) -> Outcome<()> {
        if has_errors(&self.findings) { Err(quiet_stop()) } else { Ok(()) }
    }
}

/// More of one thing than a recipe can mean: what is worked out for each pair of them must still end soon.
pub(super) const MOST: usize = 5_000;
/// The most pairs of slides, each of which is looked at together with every part that it carries, and the most stocks.
pub(super) const MOST_SLIDES: usize = 500;
/// The most pairs of parts that joints may join.
pub(super) const MOST_JOINTS: usize = 10_000;
/// The most inputs.
pub(super) const MOST_INPUTS: usize = 200;

/// Refuses one more of something when there are as many as a recipe can mean.
pub(super) fn refuse_beyond(ctx: &NativeCallContext, most: usize, count: usize, what: &str) -> Outcome<()> {
    if count < most {
        return Ok(());
    }
    let finding = Finding::error("recipe-too-large", format!("the recipe makes more than {most} {what}"));
    Err(raise(ctx, finding.hint("look for a loop that goes round too often")))
}

/// Refuses a name that could not be pencilled on a part or stand in a list.
pub(super) fn refuse_name(ctx: &NativeCallContext, what: &str, name: &str) -> Outcome<()> {
    if name.trim().is_empty() || name.chars().any(char::is_control) || name.chars().count() > 80 {
        let finding = Finding::error("wrong-name", format!("{what} needs a name of up to 80 letters on one line"));
        return Err(raise(ctx, finding.hint("give it the name you would pencil on it")));
    }
    Ok(())
}

/// Bytes that a recipe may print, note and report in all.
pub(super) const MOST_WORDS: usize = 100_000;
/// Bytes that each of them counts for beside its own: an empty one takes its line too.
pub(super) const WORDS_OF_ONE: usize = 100;

/// Refuses more talk than anyone would read.
pub(super) fn refuse_talk(ctx: &NativeCallContext, printed: &mut usize, text: &str) -> Outcome<()> {
    *printed += text.len() + WORDS_OF_ONE;
    if *printed <= MOST_WORDS {
        return Ok(());
    }
    let finding = Finding::error("recipe-too-large", "the recipe has more to say than anyone would read");
    Err(raise(ctx, finding.hint("look for a loop round `note`, `warn`, `print` or `requires`")))
}

/// A marker that ends a script whose faults have been reported already.
#[derive(Clone, Copy, Debug)]
pub(super) struct QuietStop;

fn quiet_stop() -> Box<EvalAltResult> {
    Box::new(EvalAltResult::ErrorTerminated(Dynamic::from(QuietStop), Position::NONE))
}

/// Raises a finding from a script function, at the place of its call.
pub(super) fn raise(ctx: &NativeCallContext, finding: Finding) -> Box<EvalAltResult> {
    Box::new(EvalAltResult::ErrorRuntime(Dynamic::from(finding), ctx.call_position()))
}
