//! Layer 1: the one door through which the engine reads anything from outside.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// Where recipes, shop files and job tables are read from.
pub trait World {
    /// The text of a plain file of at most `limit` bytes.
    fn read(&self, path: &Path, limit: u64) -> io::Result<String>;

    /// The true place of a file, with every link followed.
    fn true_path(&self, path: &Path) -> io::Result<PathBuf>;
}

/// The machine's own files.
#[derive(Clone, Copy, Debug, Default)]
pub struct Disk;

impl World for Disk {
    fn read(&self, path: &Path, limit: u64) -> io::Result<String> {
        // Asked before opening: to open a named pipe would wait for a writer that may never come.
        let about = std::fs::metadata(path)?;
        if !about.is_file() {
            return Err(io::Error::new(io::ErrorKind::InvalidInput, "it is not a plain file"));
        }
        let mut text = Vec::new();
        File::open(path)?.take(limit + 1).read_to_end(&mut text)?;
        if text.len() as u64 > limit {
            return Err(io::Error::new(io::ErrorKind::InvalidData, format!("it is longer than {limit} bytes")));
        }
        String::from_utf8(text).map_err(|_| io::Error::new(io::ErrorKind::InvalidData, "it is not UTF-8 text"))
    }

    fn true_path(&self, path: &Path) -> io::Result<PathBuf> {
        path.canonicalize()
    }
}

/// Files in memory, for tests and for recipes that come from elsewhere than the disk.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    files: BTreeMap<PathBuf, String>,
}

impl Memory {
    /// A world of no files.
    pub const fn new() -> Self {
        Self { files: BTreeMap::new() }
    }

    /// The world with one more file.
    #[must_use]
    pub fn with(mut self, path: impl Into<PathBuf>, text: impl Into<String>) -> Self {
        self.files.insert(plain(&path.into()), text.into());
        self
    }
}

/// The path without a leading `./`.
fn plain(path: &Path) -> PathBuf {
    path.strip_prefix(".").unwrap_or(path).to_owned()
}

impl World for Memory {
    fn read(&self, path: &Path, limit: u64) -> io::Result<String> {
        let text = self.files.get(&plain(path)).ok_or(io::ErrorKind::NotFound)?;
        if text.len() as u64 > limit {
            return Err(io::Error::new(io::ErrorKind::InvalidData, format!("it is longer than {limit} bytes")));
        }
        Ok(text.clone())
    }

    fn true_path(&self, path: &Path) -> io::Result<PathBuf> {
        if self.files.contains_key(&plain(path)) { Ok(path.to_owned()) } else { Err(io::ErrorKind::NotFound.into()) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_a_short_plain_text_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.rhai");
        std::fs::write(&path, b"part").unwrap();
        assert_eq!(Disk.read(&path, 4).unwrap(), "part");
        assert!(Disk.read(&path, 3).is_err());
        assert!(Disk.read(folder.path(), 100).is_err());
        std::fs::write(&path, [0xff, 0xfe]).unwrap();
        assert!(Disk.read(&path, 100).is_err());
        let world = Memory::new().with("a.rhai", "x");
        assert_eq!(world.read(Path::new("a.rhai"), 1).unwrap(), "x");
        assert!(world.read(Path::new("b.rhai"), 1).is_err());
    }
}
