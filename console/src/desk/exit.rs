//! How the program ends: its exit status, and the one line that says why.

use std::format;
use std::io::{self, Write};
use std::process::ExitCode;
use std::string::{String, ToString};

use super::names::shown_text;

/// The exit status.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Exit {
    /// 0: done.
    Done,
    /// 1: evaluated, and something is out of tolerance or, where the caller is strict, undetermined.
    Findings,
    /// 2: bad input, or an answer that could not be written.
    BadInput,
}

impl Exit {
    /// Its number.
    #[must_use]
    pub const fn status(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Findings => 1,
            Self::BadInput => 2,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.status())
    }
}

/// Why the program ends before its work is done.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Stop {
    /// Nobody reads the answers any more: a quiet end.
    ClosedPipe,
    /// Said already, line by line.
    Told,
    /// Something to say in one line.
    Failed(String),
}

impl Stop {
    /// Of an answer that could not be written.
    #[must_use]
    pub fn writing(error: &io::Error) -> Self {
        if error.kind() == io::ErrorKind::BrokenPipe {
            Self::ClosedPipe
        } else {
            Self::Failed(format!("cannot write the answer: {}", reason(error)))
        }
    }

    /// The same where this was found before: that nobody reads any more hides no bad input.
    #[must_use]
    pub fn after(self, found: Exit) -> Self {
        if self == Self::ClosedPipe && found == Exit::BadInput { Self::Told } else { self }
    }
}

/// The exit status of an answer: the same whether it was written or nobody reads it any more. A closed pipe hides no verdict.
///
/// # Errors
/// [`Stop`]: it could not be written for another reason.
pub fn answered(written: io::Result<()>, found: Exit) -> Result<Exit, Stop> {
    match written.map_err(|error| Stop::writing(&error)) {
        Ok(()) | Err(Stop::ClosedPipe) => Ok(found),
        Err(stop) => Err(stop),
    }
}

/// The exit status of what was done, with the message of a failure on `errors`.
pub fn ended(result: Result<Exit, Stop>, errors: &mut dyn Write) -> Exit {
    match result {
        Ok(exit) => exit,
        Err(Stop::ClosedPipe) => Exit::Done,
        Err(Stop::Told) => Exit::BadInput,
        Err(Stop::Failed(message)) => {
            // A standard error that is closed too leaves only the exit status.
            let _ = writeln!(errors, "halfskip: {}", shown_text(&message));
            Exit::BadInput
        }
    }
}

/// What the system says of an error, without its number.
#[must_use]
pub fn reason(error: &io::Error) -> String {
    let text = error.to_string();
    match text.split_once(" (os error") {
        Some((reason, _)) => reason.to_string(),
        None => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::vec::Vec;

    #[test]
    fn only_a_closed_pipe_ends_without_a_word() {
        let (mut said, full) = (Vec::new(), io::Error::from_raw_os_error(28));
        let closed = Stop::writing(&io::ErrorKind::BrokenPipe.into());
        assert_eq!(ended(Err(closed), &mut said), Exit::Done);
        assert!(said.is_empty());
        let closed = || Err(io::ErrorKind::BrokenPipe.into());
        assert_eq!(answered(closed(), Exit::Findings), Ok(Exit::Findings));
        assert_eq!(Stop::ClosedPipe.after(Exit::BadInput), Stop::Told);
        assert_eq!(ended(Err(Stop::writing(&full)), &mut said), Exit::BadInput);
        assert_eq!(said, b"halfskip: cannot write the answer: No space left on device\n");
    }
}
