//! Faults of our own: caught, told humanely, with what to report.

use std::cell::RefCell;
use std::panic::{self, AssertUnwindSafe, PanicHookInfo};
use std::sync::Mutex;

use super::render::{self, paint};

/// The last fault of any thread, for one that is caught on another thread than it arose on.
static LAST: Mutex<Option<String>> = Mutex::new(None);

thread_local! {
    static HERE: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// Keeps faults quiet until they are told by [`caught`], in place of the compiler's own report.
pub fn listen() {
    panic::set_hook(Box::new(|info| {
        let what = describe(info);
        HERE.with(|here| *here.borrow_mut() = Some(what.clone()));
        if let Ok(mut last) = LAST.lock() {
            *last = Some(what);
        }
    }));
}

/// Does `work`; a fault in it becomes the text to tell.
pub fn caught<T>(work: impl FnOnce() -> T) -> Result<T, String> {
    panic::catch_unwind(AssertUnwindSafe(work)).map_err(|_| {
        let here = HERE.with(|here| here.borrow_mut().take());
        let what = here.or_else(|| LAST.lock().ok().and_then(|mut last| last.take()));
        told(&what.unwrap_or_else(|| "it left no trace".into()))
    })
}

/// A fault of ours in words, with the wish to have it reported.
pub fn told(what: &str) -> String {
    format!(
        "{}: the program made a mistake, and stopped before it wrote anything wrong\n  what: {}\n  hint: this is a \
         fault of casewright {}, not of yours; please report it with the recipe and the command\n",
        paint(render::ERROR, "fault"),
        render::one_line(what),
        env!("CARGO_PKG_VERSION"),
    )
}

fn describe(info: &PanicHookInfo<'_>) -> String {
    let payload = info.payload();
    let message = payload
        .downcast_ref::<&str>()
        .map(|text| (*text).to_owned())
        .or_else(|| payload.downcast_ref::<String>().cloned())
        .unwrap_or_else(|| "unknown".into());
    match info.location() {
        Some(at) => format!("{message} ({}:{})", at.file(), at.line()),
        None => message,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_is_told_and_not_passed_on() {
        let quiet = |index: usize| [1, 2][index];
        let told = caught(|| quiet(std::hint::black_box(5))).unwrap_err();
        assert!(told.contains("please report it"), "{told}");
        assert_eq!(caught(|| 5), Ok(5));
    }
}
