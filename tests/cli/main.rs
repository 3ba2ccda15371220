//! The program as typed: whole output, exit codes, files on the disk, the REPL through a pipe and a real terminal.

#![allow(clippy::unwrap_used, reason = "a test's failure is its message")]

mod batch;
mod layout;
mod papers;
mod repl;
mod words;

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

/// What a run of the program left behind.
struct Ran {
    code: i32,
    out: String,
    err: String,
}

impl Ran {
    /// Both streams, for a message when something is not as it should be.
    fn all(&self) -> String {
        format!("code {}\n--- out\n{}\n--- err\n{}", self.code, self.out, self.err)
    }
}

/// The program, in a folder, without anything of the user's settings.
fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_casewright"));
    command.current_dir(folder).env_clear().env("HOME", folder).env("XDG_STATE_HOME", folder.join("state"));
    command
}

/// Runs the program in a folder with a text on its standard input.
fn typed_in(folder: &Path, args: &[&str], input: &str) -> Ran {
    let mut child =
        program(folder).args(args).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    // A program that ends before it has read everything is no fault of the test.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    let done = child.wait_with_output().unwrap();
    Ran {
        code: done.status.code().unwrap_or(-1),
        out: String::from_utf8(done.stdout).unwrap(),
        err: String::from_utf8(done.stderr).unwrap(),
    }
}

/// Runs the program in a folder.
fn run_in(folder: &Path, args: &[&str]) -> Ran {
    typed_in(folder, args, "")
}

/// Runs the program in an empty folder.
fn run(args: &[&str]) -> Ran {
    run_in(tempfile::tempdir().unwrap().path(), args)
}

/// The names and bytes of all files below a folder.
fn files(folder: &Path) -> std::collections::BTreeMap<String, Vec<u8>> {
    let mut found = std::collections::BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(next) = folders.pop() {
        for entry in std::fs::read_dir(&next).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap().to_string_lossy().replace('\\', "/");
                found.insert(name, std::fs::read(&path).unwrap());
            }
        }
    }
    found
}
