//! The two streams that a command talks through.
//!
//! Text is given with its colours; a stream that is no terminal takes them off. Whoever reads our output may stop reading
//! at any time, and then the program ends without a word.

use std::io::{self, Write};

use casewright::plan::WrongPlan;

use super::exit::Exit;

/// How wide lines may get where nothing says how wide they are.
pub const WIDTH: usize = 100;

/// The narrowest that tables are laid out for, and the widest that the eye follows a line along.
const LIMITS: (usize, usize) = (80, 160);

/// What a command writes to, and how wide it may write.
pub struct Console {
    out: Box<dyn Write>,
    err: Box<dyn Write>,
    /// Columns of the terminal.
    pub width: usize,
}

impl Console {
    /// The program's own streams, with colours where they are terminals.
    pub fn standard() -> Self {
        Self { out: Box::new(anstream::stdout()), err: Box::new(anstream::stderr()), width: terminal_width() }
    }

    /// Says what was asked for. The error is the code to end with at once.
    pub fn say(&mut self, text: &str) -> Result<(), Exit> {
        let written = write_line(&mut self.out, text);
        self.or_stop(written)
    }

    /// Writes bytes as they are, for output that another program reads.
    pub fn bytes(&mut self, bytes: &[u8]) -> Result<(), Exit> {
        let written = self.out.write_all(bytes).and_then(|()| self.out.flush());
        self.or_stop(written)
    }

    /// Says what the maker should know beside it. Nobody listening there is no reason to stop.
    pub fn tell(&mut self, text: &str) {
        let _ = write_line(&mut self.err, text);
    }

    /// Tells of a fault in what was typed, and gives the code for it.
    pub fn usage(&mut self, message: &str, hint: &str) -> Exit {
        self.tell(&complaint(message, hint));
        Exit::Usage
    }

    /// Tells of a file that could not be read or written, and gives the code for it.
    pub fn file_fault(&mut self, message: &str, hint: &str) -> Exit {
        self.tell(&complaint(message, hint));
        Exit::File
    }

    /// Tells of a stock plan that cannot be cut, which is a fault of ours, and gives the code for it.
    pub fn wrong_plan(&mut self, wrong: &WrongPlan) -> Exit {
        self.tell(&super::fault::told(&wrong.to_string()));
        Exit::Fault
    }

    fn or_stop(&mut self, written: io::Result<()>) -> Result<(), Exit> {
        match written {
            Ok(()) => Ok(()),
            // The reader has what it wanted, as with `| head`.
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Err(Exit::Done),
            Err(error) => Err(self.file_fault(&format!("the output could not be written: {error}"), "")),
        }
    }
}

/// Columns of the terminal that answers go to; [`WIDTH`] where they go to a file or another program.
fn terminal_width() -> usize {
    terminal_size::terminal_size_of(io::stdout())
        .map_or(WIDTH, |(width, _)| usize::from(width.0).clamp(LIMITS.0, LIMITS.1))
}

fn write_line(to: &mut dyn Write, text: &str) -> io::Result<()> {
    to.write_all(text.as_bytes())?;
    if !text.is_empty() && !text.ends_with('\n') {
        to.write_all(b"\n")?;
    }
    to.flush()
}

fn complaint(message: &str, hint: &str) -> String {
    let error = super::render::paint(super::render::ERROR, "error");
    let mut text = format!("{error}: {}\n", super::render::visible(message));
    if !hint.is_empty() {
        text.push_str("  hint: ");
        text.push_str(&super::render::visible(hint));
        text.push('\n');
    }
    text
}

#[cfg(test)]
pub mod tests {
    use super::*;
    use std::cell::RefCell;
    use std::rc::Rc;

    /// What was written to a stream, without its colours.
    #[derive(Clone, Default)]
    pub struct Heard(Rc<RefCell<Vec<u8>>>);

    impl Heard {
        pub fn text(&self) -> String {
            anstream::adapter::strip_str(std::str::from_utf8(&self.0.borrow()).unwrap()).to_string()
        }
    }

    impl Write for Heard {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.borrow_mut().extend_from_slice(bytes);
            Ok(bytes.len())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    /// A console whose streams can be looked at: the console, its output, its errors.
    pub fn console() -> (Console, Heard, Heard) {
        let (out, err) = (Heard::default(), Heard::default());
        (Console { out: Box::new(out.clone()), err: Box::new(err.clone()), width: WIDTH }, out, err)
    }

    struct Closed(io::ErrorKind);

    impl Write for Closed {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(self.0.into())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn a_closed_pipe_ends_quietly_and_a_full_disk_does_not() {
        let (mut console, _, err) = console();
        console.out = Box::new(Closed(io::ErrorKind::BrokenPipe));
        assert_eq!(console.say("text"), Err(Exit::Done));
        assert_eq!(err.text(), "");
        console.out = Box::new(Closed(io::ErrorKind::StorageFull));
        assert_eq!(console.say("text"), Err(Exit::File));
        assert!(err.text().starts_with("error: the output could not be written"), "{}", err.text());
    }
}
