//! Writing papers: all of them or none.
//!
//! What is promised, for a folder that may hold other files of its user:
//!
//! - Either every paper is in the folder when the call returns, or the folder holds what it held before. A folder that was not
//!   there before is not there after a failure either.
//! - Other files in the folder are never touched, but for drawings of sheets that an earlier run wrote and this one no longer
//!   makes: they are taken away once the new papers are there. Every paper that was there stays readable until the new one takes its
//!   place in one step.
//! - All papers are written in full, into a staging folder inside the same folder, before the first one takes its place. So a
//!   full disk or a folder that may not be written to is met while nothing has changed.
//! - Should taking a place fail all the same, the papers that were replaced before are put back.
//!
//! A power cut in the short time in which the papers take their places can leave some old and some new; the old ones are then
//! still in the staging folder, whose name begins with `.casewright-`.

use std::fmt;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use casewright::job::Written;
use casewright::papers;

/// A file to write: its name in the folder, and its bytes.
#[derive(Clone, Copy, Debug)]
pub struct Sheet<'a> {
    /// Its file name, without folders.
    pub file: &'a str,
    /// Its bytes.
    pub bytes: &'a [u8],
}

impl<'a> From<&'a Written> for Sheet<'a> {
    fn from(written: &'a Written) -> Self {
        Self { file: &written.file, bytes: &written.bytes }
    }
}

/// Why nothing was written.
#[derive(Debug)]
pub struct DiskFault {
    /// The file or folder.
    pub path: PathBuf,
    /// What went wrong with it.
    pub why: String,
    /// What to do about it; empty when there is nothing to say.
    pub hint: String,
}

impl fmt::Display for DiskFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}` could not be written: {}", self.path.display(), self.why)
    }
}

/// Writes all sheets into `folder`, or none; see the head of this file for what is promised.
pub fn write_all(folder: &Path, sheets: &[Sheet<'_>]) -> Result<(), DiskFault> {
    write_with(folder, sheets, &|from, to| fs::rename(from, to))
}

/// How the names of staging folders begin.
const STAGE: &str = ".casewright-";

/// What there is to do where nothing may be written.
const MAY_WRITE: &str = "choose a folder that you may write to";

/// What is wrong with folders that hold no files of ours, such as those in which the system shows itself.
const NOTHING_MADE: &str = "nothing can be made there";

/// How a file takes its place; tests let it fail.
type Rename<'a> = &'a dyn Fn(&Path, &Path) -> io::Result<()>;

fn write_with(folder: &Path, sheets: &[Sheet<'_>], rename: Rename<'_>) -> Result<(), DiskFault> {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    match fs::metadata(folder) {
        Ok(about) if about.is_dir() => replace(folder, sheets, rename),
        Ok(_) => Err(fault(folder, "it is a file, not a folder", "give another folder to --out")),
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            if fs::symlink_metadata(folder).is_ok() {
                return Err(fault(folder, "it is a link that leads nowhere", ""));
            }
            create(folder, sheets, rename)
        }
        Err(error) => Err(told(folder, &error)),
    }
}

/// A folder that is not there yet is made beside its place and moved there whole.
fn create(folder: &Path, sheets: &[Sheet<'_>], rename: Rename<'_>) -> Result<(), DiskFault> {
    let made = make_parents(folder)?;
    let parent = parent_of(folder);
    let written = tempfile::Builder::new().prefix(STAGE).tempdir_in(parent);
    let written = written.map_err(|error| unmade(folder, parent, &error)).and_then(|stage| {
        // The staging folder is closed to other users; the folder inside it is as open as the user's folders are.
        let whole = stage.path().join("papers");
        fs::create_dir(&whole).map_err(|error| told(folder, &error))?;
        write_each(&whole, folder, sheets)?;
        rename(&whole, folder).map_err(|error| told(folder, &error))
    });
    if written.is_err() {
        for parent in made.iter().rev() {
            // A parent that someone else has meanwhile put something into stays.
            let _ = fs::remove_dir(parent);
        }
    }
    written
}

/// Makes the folders above `folder` and gives those that were not there, outermost first.
fn make_parents(folder: &Path) -> Result<Vec<PathBuf>, DiskFault> {
    let missing: Vec<&Path> =
        folder.ancestors().skip(1).take_while(|path| !path.as_os_str().is_empty() && !path.exists()).collect();
    let mut made: Vec<PathBuf> = Vec::new();
    for path in missing.into_iter().rev() {
        if let Err(error) = fs::create_dir(path) {
            for parent in made.iter().rev() {
                let _ = fs::remove_dir(parent);
            }
            return Err(unmade(folder, parent_of(path), &error));
        }
        made.push(path.to_owned());
    }
    Ok(made)
}

/// A folder that is there keeps its other files; each paper takes its place by itself.
fn replace(folder: &Path, sheets: &[Sheet<'_>], rename: Rename<'_>) -> Result<(), DiskFault> {
    for sheet in sheets {
        let place = folder.join(sheet.file);
        match fs::symlink_metadata(&place) {
            Ok(about) if about.is_dir() => {
                return Err(fault(
                    &place,
                    "a folder of this name is in the way",
                    "move it away, or choose another folder",
                ));
            }
            Ok(_) => {}
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => return Err(told(&place, &error)),
        }
    }
    let stage = stage_in(folder)?;
    let (new, old) = (stage.path().join("new"), stage.path().join("old"));
    for sub in [&new, &old] {
        fs::create_dir(sub).map_err(|error| told(folder, &error))?;
    }
    write_each(&new, folder, sheets)?;
    let mut placed: Vec<&Sheet<'_>> = Vec::new();
    for sheet in sheets {
        let taken = take_place(&new, &old, folder, sheet.file, rename);
        if let Err(error) = taken {
            let lost = put_back(&old, folder, &placed);
            if !lost.is_empty() {
                // What could not be put back must outlive the staging folder.
                let kept = stage.keep();
                let hint = format!("the papers that were there before are kept in `{}`", kept.display());
                return Err(fault(&folder.join(sheet.file), &error.to_string(), &hint));
            }
            return Err(told(&folder.join(sheet.file), &error));
        }
        placed.push(sheet);
    }
    // Drawings of sheets that are no longer cut would be cut all the same. One that cannot be removed is told by its number:
    // every drawing says how many there are.
    for stale in stale_drawings(folder, sheets) {
        let _ = fs::remove_file(stale);
    }
    Ok(())
}

/// The drawings of an earlier run that the new papers do not replace. Files that we did not write are not ours to remove.
fn stale_drawings(folder: &Path, sheets: &[Sheet<'_>]) -> Vec<PathBuf> {
    // A set of papers without a cutting plan says nothing about drawings.
    if !sheets.iter().any(|sheet| sheet.file == "cutting-plan.csv") {
        return Vec::new();
    }
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let is_stale = |path: &PathBuf| {
        let Some(name) = path.file_name().and_then(|name| name.to_str()) else { return false };
        let replaced = sheets.iter().any(|sheet| sheet.file == name);
        !replaced
            && papers::is_drawing_name(name)
            && fs::read(path).is_ok_and(|bytes| papers::is_own_drawing(name, &bytes))
    };
    entries.map(|entry| entry.path()).filter(is_stale).collect()
}

/// Keeps what is there under `old`, then lets the new file take its place in one step.
fn take_place(new: &Path, old: &Path, folder: &Path, file: &str, rename: Rename<'_>) -> io::Result<()> {
    let (place, kept) = (folder.join(file), old.join(file));
    let was_there = fs::symlink_metadata(&place).is_ok();
    // A second name for the old file costs nothing and leaves it in its place. Where the file system has no second names,
    // the old file is moved, and is away for a moment.
    let moved = was_there && fs::hard_link(&place, &kept).is_err();
    if moved {
        rename(&place, &kept)?;
    }
    rename(&new.join(file), &place).inspect_err(|_| {
        if moved {
            let _ = fs::rename(&kept, &place);
        }
    })
}

/// Undoes what was placed, last first, and gives what could not be undone.
fn put_back<'a>(old: &Path, folder: &Path, placed: &[&'a Sheet<'a>]) -> Vec<&'a str> {
    let undo = |file: &str| {
        let (place, kept) = (folder.join(file), old.join(file));
        if fs::symlink_metadata(&kept).is_ok() { fs::rename(&kept, &place) } else { fs::remove_file(&place) }
    };
    placed.iter().rev().filter(|sheet| undo(sheet.file).is_err()).map(|sheet| sheet.file).collect()
}

fn stage_in(folder: &Path) -> Result<tempfile::TempDir, DiskFault> {
    tempfile::Builder::new().prefix(STAGE).tempdir_in(folder).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound | io::ErrorKind::Unsupported => fault(folder, NOTHING_MADE, MAY_WRITE),
        _ => told(folder, &error),
    })
}

/// Writes the sheets into `stage`; a fault names the place that they were meant for.
fn write_each(stage: &Path, folder: &Path, sheets: &[Sheet<'_>]) -> Result<(), DiskFault> {
    sheets.iter().try_for_each(|sheet| {
        fs::write(stage.join(sheet.file), sheet.bytes).map_err(|error| told(&folder.join(sheet.file), &error))
    })
}

fn parent_of(folder: &Path) -> &Path {
    match folder.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

fn fault(path: &Path, why: &str, hint: &str) -> DiskFault {
    DiskFault { path: path.to_owned(), why: why.to_owned(), hint: hint.to_owned() }
}

fn told(path: &Path, error: &io::Error) -> DiskFault {
    let hint = match error.kind() {
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => MAY_WRITE,
        io::ErrorKind::StorageFull => "make room on the disk, or choose a folder on another one",
        _ => "",
    };
    fault(path, &reason(error), hint)
}

/// A folder that cannot be made, because nothing can be made in the one above it.
fn unmade(folder: &Path, parent: &Path, error: &io::Error) -> DiskFault {
    let why = match error.kind() {
        // Some folders show what the system does, and hold no files; asked for one, the system says that there is none.
        io::ErrorKind::NotFound | io::ErrorKind::Unsupported => NOTHING_MADE.to_owned(),
        _ => reason(error),
    };
    fault(folder, &format!("in `{}`, {why}", parent.display()), MAY_WRITE)
}

/// The reason in words, without the system's error number.
pub fn reason(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        io::ErrorKind::PermissionDenied => "it may not be read or written by you".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk can only be read".to_owned(),
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        io::ErrorKind::NotADirectory => "a file stands where a folder is needed".to_owned(),
        io::ErrorKind::IsADirectory => "it is a folder".to_owned(),
        _ => {
            let text = error.to_string();
            text.split(" (os error").next().unwrap_or(&text).to_owned()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;
    use std::collections::BTreeMap;

    const SHEETS: [Sheet<'static>; 3] = [
        Sheet { file: "a.csv", bytes: b"new a" },
        Sheet { file: "b.csv", bytes: b"new b" },
        Sheet { file: "c.csv", bytes: b"new c" },
    ];

    /// Every file under a folder with its text.
    fn held(folder: &Path) -> BTreeMap<String, String> {
        let mut files = BTreeMap::new();
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            let text = if path.is_dir() { "(folder)".to_owned() } else { fs::read_to_string(&path).unwrap() };
            files.insert(name, text);
        }
        files
    }

    fn with_two_papers() -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in [("a.csv", "old a"), ("c.csv", "old c"), ("mine.txt", "mine")] {
            fs::write(folder.path().join(name), text).unwrap();
        }
        folder
    }

    #[test]
    fn papers_replace_papers_and_leave_the_rest() {
        let folder = with_two_papers();
        write_all(folder.path(), &SHEETS).unwrap();
        let expected = [("a.csv", "new a"), ("b.csv", "new b"), ("c.csv", "new c"), ("mine.txt", "mine")];
        let expected = expected.map(|(name, text)| (name.to_owned(), text.to_owned()));
        assert_eq!(held(folder.path()), BTreeMap::from(expected));
    }

    #[test]
    fn a_folder_is_made_with_its_parents_or_not_at_all() {
        let outer = tempfile::tempdir().unwrap();
        let folder = outer.path().join("jobs/bench");
        let failing = |_: &Path, _: &Path| Err(io::ErrorKind::StorageFull.into());
        assert!(write_with(&folder, &SHEETS, &failing).is_err());
        assert!(held(outer.path()).is_empty());
        write_all(&folder, &SHEETS).unwrap();
        assert_eq!(held(&folder).len(), 3);
        assert_eq!(held(&outer.path().join("jobs")).len(), 1);
    }

    #[cfg(unix)]
    #[test]
    fn a_new_folder_is_as_open_as_others() {
        use std::os::unix::fs::PermissionsExt;
        let outer = tempfile::tempdir().unwrap();
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode();
        fs::create_dir(outer.path().join("plain")).unwrap();
        write_all(&outer.path().join("papers"), &SHEETS).unwrap();
        assert_eq!(mode(&outer.path().join("papers")), mode(&outer.path().join("plain")));
    }

    #[test]
    fn whichever_step_fails_the_folder_is_as_it_was() {
        for (fails_at, sheet) in SHEETS.iter().enumerate() {
            let folder = with_two_papers();
            let before = held(folder.path());
            let step = Cell::new(0);
            let rename = |from: &Path, to: &Path| {
                step.set(step.get() + 1);
                if step.get() > fails_at { Err(io::ErrorKind::PermissionDenied.into()) } else { fs::rename(from, to) }
            };
            let fault = write_with(folder.path(), &SHEETS, &rename).unwrap_err();
            assert_eq!(fault.path, folder.path().join(sheet.file));
            assert_eq!(held(folder.path()), before, "step {fails_at}");
        }
    }

    #[test]
    fn what_is_in_the_way_stops_it_before_anything_changes() {
        let folder = with_two_papers();
        fs::create_dir(folder.path().join("b.csv")).unwrap();
        let before = held(folder.path());
        let fault = write_all(folder.path(), &SHEETS).unwrap_err();
        assert!(fault.to_string().contains("in the way"), "{fault}");
        assert_eq!(held(folder.path()), before);

        let file = folder.path().join("mine.txt");
        assert!(write_all(&file, &SHEETS).unwrap_err().to_string().contains("not a folder"));
        assert!(write_all(&file.join("papers"), &SHEETS).is_err());
        assert_eq!(held(folder.path()), before);
    }

    #[cfg(unix)]
    #[test]
    fn a_folder_that_only_lets_itself_be_read_stays_as_it_was() {
        use std::os::unix::fs::PermissionsExt;
        let folder = with_two_papers();
        fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o555)).unwrap();
        // The superuser writes everywhere, and then there is nothing to see here.
        if fs::write(folder.path().join("probe"), "").is_err() {
            let before = held(folder.path());
            assert_eq!(write_all(folder.path(), &SHEETS).unwrap_err().hint, MAY_WRITE);
            let sub = folder.path().join("sub");
            let told = write_all(&sub, &SHEETS).unwrap_err();
            assert_eq!((told.path, told.hint.as_str()), (sub, MAY_WRITE));
            assert_eq!(held(folder.path()), before);
        }
        fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).unwrap();
    }
}
