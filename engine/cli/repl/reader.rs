//! Where the REPL's lines come from: a terminal with history and completion, or a pipe.

use std::cell::RefCell;
use std::io::{self, BufRead, IsTerminal, Read};
use std::path::PathBuf;
use std::rc::Rc;

use rustyline::completion::{Completer, Pair};
use rustyline::error::ReadlineError;
use rustyline::highlight::Highlighter;
use rustyline::hint::Hinter;
use rustyline::history::FileHistory;
use rustyline::validate::{ValidationContext, ValidationResult, Validator};
use rustyline::{CompletionType, Config, Context, Editor, Helper};

use super::desk::Desk;
use crate::cli::console::Console;
use crate::cli::exit::Exit;

/// The longest line that a pipe may bring. No recipe is as long.
const LINE_LIMIT: u64 = 1 << 20;

/// How many lines the history keeps.
const HISTORY: usize = 1_000;

/// Whether both sides of the talk are a terminal.
pub fn is_terminal() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}

/// Takes lines from the terminal until Ctrl-D or `:quit`. Ctrl-C abandons the line.
pub fn from_terminal(desk: &Rc<RefCell<Desk>>, console: &mut Console) -> Result<(), Exit> {
    let history = history_file();
    let config = Config::builder().completion_type(CompletionType::List).auto_add_history(true);
    let editor = config
        .max_history_size(HISTORY)
        .and_then(|config| config.history_ignore_dups(true))
        .and_then(|config| Editor::<Prompter, FileHistory>::with_config(config.build()));
    let mut editor =
        editor.map_err(|error| console.file_fault(&format!("the terminal cannot be used: {error}"), ""))?;
    editor.set_helper(Some(Prompter { desk: Rc::clone(desk) }));
    if let Some(history) = &history {
        // A history that is not there yet, or cannot be read, is an empty one.
        let _ = editor.load_history(history);
    }
    console.say(&format!("casewright {}; :help tells what can be typed\n", env!("CARGO_PKG_VERSION")))?;
    loop {
        match editor.readline("> ") {
            Ok(line) => {
                let reply = desk.borrow_mut().take_all(&line);
                console.say(&reply)?;
                if desk.borrow().ended {
                    break;
                }
            }
            Err(ReadlineError::Interrupted) => {}
            Err(ReadlineError::Eof) => break,
            Err(error) => return Err(console.file_fault(&format!("the terminal cannot be read: {error}"), "")),
        }
    }
    if let Some(history) = &history {
        // Nobody's work is lost with it.
        let _ = history.parent().map(std::fs::create_dir_all);
        let _ = editor.save_history(history);
    }
    Ok(())
}

/// Takes lines from a pipe until its end or `:quit`; there is no prompt.
pub fn from_pipe(desk: &Rc<RefCell<Desk>>, mut input: impl BufRead, console: &mut Console) -> Result<(), Exit> {
    let mut pending = String::new();
    loop {
        let mut bytes = Vec::new();
        let read = (&mut input).take(LINE_LIMIT + 1).read_until(b'\n', &mut bytes);
        let read = read.map_err(|error| console.file_fault(&format!("the lines cannot be read: {error}"), ""))?;
        if bytes.len() as u64 > LINE_LIMIT {
            return Err(console.file_fault("a line is longer than a million bytes", ""));
        }
        let line = String::from_utf8_lossy(&bytes);
        pending.push_str(line.trim_end_matches(['\n', '\r']));
        if read > 0 && pending.len() as u64 <= LINE_LIMIT && desk.borrow().is_incomplete(&pending) {
            pending.push('\n');
            continue;
        }
        let reply = desk.borrow_mut().take(&std::mem::take(&mut pending));
        console.say(&reply)?;
        if read == 0 || desk.borrow().ended {
            return Ok(());
        }
    }
}

/// The history belongs to the state of the user's programs (the XDG base directories, or their like on Windows).
fn history_file() -> Option<PathBuf> {
    let folder = |name: &str| std::env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute());
    let state = folder("XDG_STATE_HOME")
        .or_else(|| folder("HOME").map(|home| home.join(".local").join("state")))
        .or_else(|| folder("LOCALAPPDATA"))?;
    Some(state.join("casewright").join("history"))
}

/// What the line editor asks while a line is typed.
struct Prompter {
    desk: Rc<RefCell<Desk>>,
}

impl Helper for Prompter {}
impl Highlighter for Prompter {}

impl Hinter for Prompter {
    type Hint = String;
}

impl Validator for Prompter {
    fn validate(&self, context: &mut ValidationContext<'_>) -> rustyline::Result<ValidationResult> {
        // Of several lines that are pasted, only the last can want more.
        let incomplete = self.desk.try_borrow().is_ok_and(|desk| desk.wants_more(context.input()));
        Ok(if incomplete { ValidationResult::Incomplete } else { ValidationResult::Valid(None) })
    }
}

impl Completer for Prompter {
    type Candidate = Pair;

    fn complete(&self, line: &str, at: usize, _: &Context<'_>) -> rustyline::Result<(usize, Vec<Pair>)> {
        let typed = line.get(..at).unwrap_or(line);
        let start = word_start(typed);
        let (before, word) = typed.split_at(start);
        let Ok(desk) = self.desk.try_borrow() else { return Ok((at, Vec::new())) };
        let pairs =
            desk.completions(before, word).into_iter().map(|(display, replacement)| Pair { display, replacement });
        Ok((start, pairs.collect()))
    }
}

/// Where the word that ends the text begins. Names of recipes have dashes, so a word after a command takes them in.
fn word_start(typed: &str) -> usize {
    let in_command = typed.trim_start().starts_with(':');
    let belongs = |c: char| c.is_alphanumeric() || c == '_' || (in_command && !c.is_whitespace());
    let word: usize = typed.chars().rev().take_while(|&c| belongs(c)).map(char::len_utf8).sum();
    typed.len() - word
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::console::tests::console;
    use crate::cli::order::ShopRead;
    use casewright::script::Workbench;
    use casewright::world::Memory;

    fn piped(lines: &[u8]) -> (Result<(), Exit>, String) {
        let desk = Desk::new(Workbench::new(Memory::new()), None, ShopRead::default(), 100);
        let (mut console, out, _) = console();
        let ended = from_pipe(&Rc::new(RefCell::new(desk)), io::Cursor::new(lines), &mut console);
        (ended, out.text())
    }

    #[test]
    fn a_pipe_is_read_to_its_end_whatever_it_brings() {
        let (ended, told) = piped(b":banana\n\n\xff\xfe:x\n:quit\n:later\n"[..9].as_ref());
        assert_eq!(ended, Ok(()));
        assert!(told.contains("there is no command `:banana`"), "{told}");
        let (ended, told) = piped(b":quit\n:later\n");
        assert_eq!((ended, told.as_str()), (Ok(()), ""));
        let (ended, told) = piped(b":parts");
        assert_eq!(ended, Ok(()));
        assert!(told.contains("no recipe is open"), "{told}");
        let (ended, _) = piped(&vec![b' '; 2 << 20]);
        assert_eq!(ended, Err(Exit::File));
    }

    #[test]
    fn words_begin_where_their_letters_do() {
        for (typed, word) in
            [("2 * wid", "wid"), (":open drawer-b", "drawer-b"), ("a-b", "b"), ("", ""), ("größe", "größe")]
        {
            assert_eq!(&typed[word_start(typed)..], word, "{typed}");
        }
    }
}
