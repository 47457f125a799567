//! Why a job file cannot be had or kept, in one line.

use core::fmt;
use std::io;
use std::path::{Path, PathBuf};

use crate::desk::exit::reason;
use crate::desk::names::shown;

/// A job file and what is wrong with it.
#[derive(Debug)]
pub struct JobError {
    path: PathBuf,
    problem: Problem,
}

/// What is wrong with a job file.
#[derive(Debug)]
#[non_exhaustive]
pub enum Problem {
    /// A directory has the name.
    Directory,
    /// A device or a pipe has the name.
    NoFile,
    /// A link has the name, and what it points at is not there.
    Dangling(PathBuf),
    /// It cannot be opened or made.
    Open(io::Error),
    /// Another program has it.
    InUse,
    /// The file system knows no locks, or refuses this one.
    Lock(io::Error),
    /// It cannot be read.
    Read(io::Error),
    /// It ends in something far longer than a line.
    NoJob,
    /// So many of its lines are not good; each was told.
    BadLines(u64),
    /// The piece of a last line cannot be set aside.
    SetAside(io::Error),
    /// Another program changed, moved or removed it.
    Changed,
    /// With its seal the line would be longer than a line may be.
    TooLong,
    /// It cannot be written; what it held is whole.
    Write(io::Error),
    /// It could not be written, and not be brought back to whole lines either.
    Damaged,
}

impl JobError {
    pub(super) fn new(path: &Path, problem: Problem) -> Self {
        Self { path: path.to_path_buf(), problem }
    }

    /// What is wrong.
    #[must_use]
    pub const fn problem(&self) -> &Problem {
        &self.problem
    }
}

impl fmt::Display for JobError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", shown(&self.path))?;
        match &self.problem {
            Problem::Directory => f.write_str("is a directory, not a job file"),
            Problem::NoFile => f.write_str("is a device or a pipe, not a job file"),
            Problem::Dangling(to) => write!(f, "is a link to {}, which is not there", shown(to)),
            Problem::Open(error) => write!(f, "cannot be opened: {}", reason(error)),
            Problem::InUse => f.write_str("is in use by another program"),
            Problem::Lock(error) => write!(f, "cannot be locked: {}", reason(error)),
            Problem::Read(error) => write!(f, "cannot be read: {}", reason(error)),
            Problem::NoJob => f.write_str("does not end in a line; this is no job file"),
            Problem::BadLines(1) => f.write_str("1 bad line; nothing was changed"),
            Problem::BadLines(bad) => write!(f, "{bad} bad lines; nothing was changed"),
            Problem::SetAside(error) => {
                write!(f, "its cut last line cannot be set aside: {}", reason(error))
            }
            Problem::Changed => f.write_str("was changed by another program; nothing more is kept in it"),
            Problem::TooLong => f.write_str("the line is too long to be sealed"),
            Problem::Write(error) => write!(f, "cannot be written: {}", reason(error)),
            Problem::Damaged => f.write_str("may end in part of a line; nothing more is kept in it"),
        }
    }
}

impl core::error::Error for JobError {}
