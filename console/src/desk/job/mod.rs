//! A job file: facts, one a line, each on disk before the next is asked for.
//!
//! One program at a time has it; a lock on the file says so. A file that ends within a line was cut short while that
//! line was written. The piece is set aside in a sibling file and told, never guessed.
//!
//! A job may be sealed: each line then carries a running digest. Once it is, it stays so.

mod error;

use std::ffi::OsString;
use std::format;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, BufReader, Read, Seek, SeekFrom, Write};
use std::os::unix::fs::{FileExt, MetadataExt};
use std::path::{Path, PathBuf};
use std::string::{String, ToString};
use std::vec::Vec;

use super::LINE;
use super::lines::{Line, LineReader};
use super::names::shown;
use super::seal::Seals;
use crate::language::words::MAX_LINE;
pub use error::{JobError, Problem};

/// A job file that is locked and ends in a whole line.
#[derive(Debug)]
pub struct Job {
    path: PathBuf,
    file: File,
    /// Bytes of it, all in whole lines.
    length: u64,
    /// A line may be on disk in part.
    damaged: bool,
    /// What its seals say.
    seals: Seals,
    /// Lines to come are sealed.
    sealing: bool,
}

/// What was found when a job was opened.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Opened {
    /// The file was made.
    pub created: bool,
    /// Whole lines that were read.
    pub lines: u64,
    /// Where the piece of a last line was set aside, when there was one.
    pub torn: Option<PathBuf>,
    /// What its seals say.
    pub seals: Seals,
}

impl Job {
    /// Opens or makes a job file, locks it and reads its lines; `take` says whether a line is good.
    ///
    /// A file of which any line is not good is left as it is, the piece of a last line too.
    ///
    /// # Errors
    /// [`JobError`]: it cannot be opened, is in use, is no job file, or has lines that are not good.
    pub fn open(path: &Path, take: impl FnMut(Line<'_>) -> bool) -> Result<(Self, Opened), JobError> {
        let failed = |problem| JobError::new(path, problem);
        match (fs::metadata(path), fs::read_link(path)) {
            (Ok(found), _) if found.is_dir() => return Err(failed(Problem::Directory)),
            (Ok(found), _) if !found.is_file() => return Err(failed(Problem::NoFile)),
            (Err(_), Ok(to)) => return Err(failed(Problem::Dangling(to))),
            _ => {}
        }
        let (file, created) = open_or_make(path).map_err(|error| failed(Problem::Open(error)))?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Err(failed(Problem::InUse)),
            Err(TryLockError::Error(error)) => return Err(failed(Problem::Lock(error))),
        }
        let read = |error| failed(Problem::Read(error));
        let size = file.metadata().map_err(read)?.len();
        let tail = tail(&file, size).map_err(read)?;
        let Some(length) = size.checked_sub(tail.len() as u64) else {
            return Err(failed(Problem::Changed));
        };
        if tail.len() > LINE {
            return Err(failed(Problem::NoJob));
        }
        let mut job = Self {
            path: path.to_path_buf(),
            file,
            length,
            damaged: false,
            seals: Seals::default(),
            sealing: false,
        };
        let mut opened = Opened { created, ..Opened::default() };
        opened.lines = job.replay(take)?;
        opened.seals = job.seals;
        job.sealing = job.seals.sealed > 0;
        if !tail.is_empty() {
            let aside = job.set_aside(&tail).map_err(|error| failed(Problem::SetAside(error)))?;
            opened.torn = Some(aside);
        }
        Ok((job, opened))
    }

    /// Reads the lines again from the first; `take` says whether a line is good. Returns how many there are.
    ///
    /// # Errors
    /// [`JobError`]: it cannot be read, or has lines that are not good.
    pub fn replay(&mut self, mut take: impl FnMut(Line<'_>) -> bool) -> Result<u64, JobError> {
        let (mut lines, mut bad, mut seals) = (0u64, 0u64, Seals::default());
        let mut read = || {
            self.file.seek(SeekFrom::Start(0))?;
            let whole = BufReader::new((&self.file).take(self.length));
            let mut reader = LineReader::new(whole, LINE);
            while let Some(line) = reader.next_line()? {
                lines = lines.saturating_add(1);
                if let Ok(text) = line.text {
                    seals.take(text);
                }
                bad = bad.saturating_add(u64::from(!take(line)));
            }
            Ok(())
        };
        read().map_err(|error| JobError::new(&self.path, Problem::Read(error)))?;
        if bad > 0 {
            return Err(JobError::new(&self.path, Problem::BadLines(bad)));
        }
        self.seals = seals;
        Ok(lines)
    }

    /// Seals the lines to come.
    pub const fn seal(&mut self) {
        self.sealing = true;
    }

    /// Adds a line and returns when it is on disk. After an error the file holds what it held before.
    ///
    /// # Errors
    /// [`JobError`]: the file cannot be written, or was changed, moved or removed by another program.
    pub fn append(&mut self, line: &[u8]) -> Result<(), JobError> {
        self.append_all(&[line])
    }

    /// Adds lines, all of them or none, and returns when they are on disk.
    ///
    /// # Errors
    /// As of one line.
    pub fn append_all(&mut self, lines: &[&[u8]]) -> Result<(), JobError> {
        let failed = |problem| JobError::new(&self.path, problem);
        if self.damaged {
            return Err(failed(Problem::Damaged));
        }
        if !self.is_untouched() {
            return Err(failed(Problem::Changed));
        }
        let (mut seals, mut whole) = (self.seals, String::new());
        for line in lines {
            let line =
                str::from_utf8(line).map_err(|error| failed(Problem::Write(io::Error::other(error))))?;
            let line = if self.sealing { seals.sealed_line(line) } else { line.to_string() };
            if self.sealing && line.len() > MAX_LINE {
                return Err(failed(Problem::TooLong));
            }
            seals.take(&line);
            whole.push_str(&line);
            whole.push('\n');
        }
        let written =
            self.file.write_all_at(whole.as_bytes(), self.length).and_then(|()| self.file.sync_data());
        if let Err(error) = written {
            let cut = self.file.set_len(self.length).and_then(|()| self.file.sync_data());
            self.damaged = cut.is_err();
            return Err(JobError::new(&self.path, Problem::Write(error)));
        }
        self.length += whole.len() as u64;
        self.seals = seals;
        Ok(())
    }

    /// Whether the path still names this file, with the length that was left.
    fn is_untouched(&self) -> bool {
        match (self.file.metadata(), fs::metadata(&self.path)) {
            (Ok(held), Ok(named)) => {
                held.dev() == named.dev() && held.ino() == named.ino() && held.len() == self.length
            }
            _ => false,
        }
    }

    /// Moves the piece of a last line to the sibling file: there first, so that no crash can lose it.
    fn set_aside(&self, tail: &[u8]) -> io::Result<PathBuf> {
        let mut name = OsString::from(&self.path);
        name.push(".torn");
        let aside = PathBuf::from(name);
        // A pipe might never take it, and a device keeps nothing.
        if fs::metadata(&aside).is_ok_and(|found| !found.is_file()) {
            return Err(io::Error::other(format!("{} is no file", shown(&aside))));
        }
        let mut file = OpenOptions::new().append(true).create(true).open(&aside)?;
        file.write_all(tail)?;
        file.write_all(b"\n")?;
        file.sync_all()?;
        sync_directory(&aside)?;
        self.file.set_len(self.length)?;
        self.file.sync_all()?;
        Ok(aside)
    }
}

/// The file, and whether it had to be made.
fn open_or_make(path: &Path) -> io::Result<(File, bool)> {
    let mut options = OpenOptions::new();
    options.read(true).write(true);
    match options.open(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            let file = options.create_new(true).open(path)?;
            file.sync_all()?;
            sync_directory(path)?;
            Ok((file, true))
        }
        opened => Ok((opened?, false)),
    }
}

/// Puts the name of a new file on disk.
pub(super) fn sync_directory(path: &Path) -> io::Result<()> {
    let parent = path.parent().filter(|parent| !parent.as_os_str().is_empty());
    File::open(parent.unwrap_or(Path::new(".")))?.sync_all()
}

/// What stands behind the last line end; one byte more than a line at most.
fn tail(file: &File, size: u64) -> io::Result<Vec<u8>> {
    let start = size.saturating_sub(LINE as u64 + 1);
    let mut end = Vec::new();
    let mut reader = file;
    reader.seek(SeekFrom::Start(start))?;
    reader.take(size - start).read_to_end(&mut end)?;
    Ok(match end.iter().rposition(|byte| *byte == b'\n') {
        Some(last) => end.split_off(last + 1),
        None => end,
    })
}
