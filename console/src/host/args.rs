//! The arguments of the program.

use std::ffi::{OsStr, OsString};
use std::format;
use std::path::PathBuf;
use std::string::{String, ToString};
use std::vec::Vec;

mod link;
mod record;
mod run;
pub mod usage;

pub use record::{Check, Compare, Import, Report};

use lexopt::prelude::{Long, Value};

use super::manual::completions::Completed;
use crate::nearest::nearest;
use usage::{VERBS, find};

/// What every user is told.
pub const CAUTION: &str = "\
It computes; it does not qualify anyone, any procedure or any weld. Examination and interpretation belong to
certified personnel working to an approved written procedure under the governing code.
";

/// What `--version` says.
pub const VERSION: &str = concat!("halfskip ", env!("CARGO_PKG_VERSION"), "\n");

/// What the program is asked to do.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Command {
    /// Lines from the keyboard or a pipe, kept in a job file when one is named.
    Interactive {
        /// The job file.
        job: Option<PathBuf>,
        /// Its lines are sealed.
        sealed: bool,
    },
    /// A job file, evaluated.
    Run(Run),
    /// The scan plan for the joint and the probes of a job.
    Plan(Source),
    /// The report of a job.
    Report(Report),
    /// Readings of a table.
    Import(Import),
    /// The findings of many jobs.
    Export(Vec<PathBuf>),
    /// Two examinations of one weld.
    Compare(Compare),
    /// The seals of a job.
    Check(Check),
    /// The layout of the findings.
    Schema,
    /// The console of a device.
    Serial {
        /// Where it is.
        port: PathBuf,
        /// The job file that keeps its facts.
        record: Option<PathBuf>,
    },
    /// Frames of a file or a port, as job lines.
    Ingest(Source),
    /// A job for a device.
    Send {
        /// Where the job comes from.
        job: Source,
        /// Where the device is.
        port: PathBuf,
    },
    /// Say what the arguments are, of all verbs or of one.
    Help(Option<&'static str>),
    /// Walk through an invented examination.
    Tour,
    /// Write what lets a shell complete them.
    Completions(Completed),
    /// Write the manual page.
    Manual,
    /// Say which version this is.
    Version,
}

/// A job file and how to evaluate it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Run {
    /// Where the job comes from.
    pub job: Source,
    /// How the findings are written.
    pub format: Format,
    /// An undetermined verdict counts as a finding.
    pub strict: bool,
    /// Readings are answered as they come and not kept.
    pub stream: bool,
}

/// Where lines come from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Source {
    /// Standard input.
    Standard,
    /// A file.
    File(PathBuf),
}

impl Source {
    /// Its name in messages.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::Standard => "stdin".to_string(),
            Self::File(path) => path.display().to_string(),
        }
    }
}

/// How findings are written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Format {
    /// For a person.
    Text,
    /// JSON, schema 1.
    Json,
    /// A table of the indications.
    Csv,
}

/// Reads the arguments behind the program's name.
///
/// # Errors
/// One line that says what was wrong.
///
/// ```
/// use halfskip_console::host::args::{Command, parse};
/// assert_eq!(parse(["--version"]), Ok(Command::Version));
/// assert!(parse(["walk"]).is_err());
/// ```
pub fn parse<I>(arguments: I) -> Result<Command, String>
where
    I: IntoIterator,
    I::Item: Into<OsString>,
{
    let mut parser = lexopt::Parser::from_args(arguments);
    let (mut job, mut sealed) = (None, false);
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(&mut parser, Command::Help(None)),
            Long("version") => return alone(&mut parser, Command::Version),
            Long("job") => {
                let path = parser.value().map_err(wrong)?;
                if path.is_empty() || path == "-" {
                    return Err("--job needs a file to keep the facts in".to_string());
                }
                job = Some(PathBuf::from(path));
            }
            Long("sealed") => sealed = true,
            Value(word) => {
                let shown = word.display();
                let Some(verb) = word.to_str().and_then(find) else {
                    return Err(unknown("command", &word, VERBS.iter().map(|verb| verb.word)));
                };
                if job.is_some() || sealed {
                    return Err(format!(
                        "--job and --sealed belong to the interactive program; {shown} takes the file itself"
                    ));
                }
                return match (verb.read)(&mut parser)? {
                    Command::Help(None) if verb.word != "help" => Ok(Command::Help(Some(verb.word))),
                    command => Ok(command),
                };
            }
            other => return Err(wrong(other.unexpected())),
        }
    }
    if sealed && job.is_none() {
        return Err("--sealed needs --job FILE: only what is kept is sealed".to_string());
    }
    Ok(Command::Interactive { job, sealed })
}

/// A file, or standard input.
fn source(path: &OsStr) -> Source {
    if path == "-" { Source::Standard } else { Source::File(path.into()) }
}

/// An option that takes no value.
fn alone(parser: &mut lexopt::Parser, command: Command) -> Result<Command, String> {
    match parser.optional_value() {
        Some(_) => Err("--help and --version take no value".to_string()),
        None => Ok(command),
    }
}

/// That a word is not known, and the nearest one that is.
fn unknown<'k>(what: &str, word: &OsStr, known: impl Iterator<Item = &'k str> + Clone) -> String {
    let near = word.to_str().and_then(|word| nearest(word, known));
    let near = near.map_or("see halfskip --help".to_string(), |near| format!("did you mean {near}?"));
    format!("unknown {what} '{}'; {near}", word.display())
}

fn wrong(error: lexopt::Error) -> String {
    format!("{error}; see halfskip --help")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn job_of(path: &str, format: Format, strict: bool, stream: bool) -> Result<Command, String> {
        let job = if path == "-" { Source::Standard } else { Source::File(path.into()) };
        Ok(Command::Run(Run { job, format, strict, stream }))
    }

    #[test]
    fn options_stand_before_or_behind_the_job() {
        assert_eq!(parse(["run", "a.job"]), job_of("a.job", Format::Text, false, false));
        assert_eq!(parse(["run", "--format=json", "-"]), job_of("-", Format::Json, false, false));
        assert_eq!(
            parse(["run", "a.job", "--strict", "--format", "csv"]),
            job_of("a.job", Format::Csv, true, false)
        );
        assert_eq!(parse(["run", "--stream", "--", "--odd"]), job_of("--odd", Format::Json, false, true));
        let job = Some("b.job".into());
        assert_eq!(parse(["--job", "b.job"]), Ok(Command::Interactive { job: job.clone(), sealed: false }));
        assert_eq!(parse(["--sealed", "--job=b.job"]), Ok(Command::Interactive { job, sealed: true }));
        assert_eq!(parse([""; 0]), Ok(Command::Interactive { job: None, sealed: false }));
    }

    #[test]
    fn what_is_not_known_is_refused_in_one_line() {
        for arguments in [
            &["walk"][..],
            &["--jib", "x"],
            &["-x"],
            &["--job"],
            &["--job", "-"],
            &["--job", "a", "run", "b"],
            &["run"],
            &["run", "a", "b"],
            &["run", "--format", "xml", "a"],
            &["run", "--format"],
            &["run", "--stream", "--format", "text", "a"],
            &["run", "--stream", "--strict", "a"],
            &["run", "--strict=yes", "a"],
            &["--version=2"],
            &["--sealed"],
            &["--sealed", "run", "a"],
            &["help", "walk"],
            &["help", "run", "plan"],
            &["completions"],
            &["completions", "csh"],
            &["manual", "run"],
        ] {
            let said = parse(arguments).unwrap_err();
            assert!(!said.is_empty() && !said.contains('\n'), "{said}");
        }
    }
}
