//! The arguments of the program.

use std::ffi::{OsStr, OsString};
use std::format;
use std::path::PathBuf;
use std::string::{String, ToString};
use std::vec::Vec;

mod link;
mod record;

pub use record::{Check, Import, Report};

use lexopt::prelude::{Long, Value};

/// What `--help` says.
pub const HELP: &str = "\
halfskip [--job FILE [--sealed]] take facts and questions line by line; with --job, keep each fact in FILE
  --sealed                       each line kept carries a running digest; a job that is sealed stays so
halfskip run [options] JOB       evaluate a job file; - is standard input
  --format text|json|csv         how the findings are written; text unless told
  --strict                       exit status 1 when anything is out of tolerance or undetermined
  --stream                       one JSON line a reading as it comes; keeps none, any length
halfskip plan JOB                the scan plan for joint and probes of a job, its section and coverage
halfskip report [options] JOB    the record of a job, drawn; - is standard input
  --html FILE                    as one page, by itself
  --pdf FILE                     on sheets
  --paper a4|letter              their size; a4 unless told
halfskip import [options] TABLE  the readings of a CSV table as lines; - is standard input
  --job FILE                     add them to a job, all of them or none
  --dry-run                      only show what that would record
halfskip export JOB...           the findings of many jobs, one line of JSON a job
halfskip check [options] JOB     whether the running digests of a sealed job fit its lines
  --digest DIGITS                and whether the last one is this; exit status 1 when one does not fit
halfskip schema                  the layout of the findings as JSON Schema
halfskip serial [options] PORT   a terminal to the console of a device; Ctrl-] ends
  --record FILE                  keep the facts of the device in FILE
halfskip ingest SOURCE           frames of a file or a port become job lines; - is standard input
halfskip send JOB PORT           a job goes to a device, fact by fact
halfskip --help
halfskip --version

Exit status: 0 done, 1 as --strict says, 2 bad input.
";

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
    /// Say what the arguments are.
    Help,
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

/// Reads the arguments behind a verb.
type Read = fn(&mut lexopt::Parser) -> Result<Command, String>;

/// The verbs of the program.
const VERBS: &[(&str, Read)] = &[
    ("run", run),
    ("plan", plan),
    ("report", record::report),
    ("import", record::import),
    ("export", record::export),
    ("check", record::check),
    ("schema", record::schema),
    ("serial", link::serial),
    ("ingest", link::ingest),
    ("send", link::send),
];

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
            Long("help") => return alone(&mut parser, Command::Help),
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
                let Some((_, read)) = VERBS.iter().find(|(verb, _)| word == **verb) else {
                    return Err(format!("unknown command '{shown}'; see halfskip --help"));
                };
                if job.is_some() || sealed {
                    return Err(format!(
                        "--job and --sealed belong to the interactive program; {shown} takes the file itself"
                    ));
                }
                return read(&mut parser);
            }
            other => return Err(wrong(other.unexpected())),
        }
    }
    if sealed && job.is_none() {
        return Err("--sealed needs --job FILE: only what is kept is sealed".to_string());
    }
    Ok(Command::Interactive { job, sealed })
}

fn run(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let (mut job, mut format, mut strict, mut stream) = (None, None, false, false);
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help),
            Long("format") => {
                let word = parser.value().map_err(wrong)?;
                format = Some(match word.to_str() {
                    Some("text") => Format::Text,
                    Some("json") => Format::Json,
                    Some("csv") => Format::Csv,
                    _ => {
                        let word = word.display();
                        return Err(format!("unknown format '{word}'; expected text, json or csv"));
                    }
                });
            }
            Long("strict") => strict = true,
            Long("stream") => stream = true,
            Value(path) if job.is_none() => job = Some(source(&path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    let Some(job) = job else {
        return Err("run needs a job file, or - for standard input".to_string());
    };
    if stream && matches!(format, Some(Format::Text | Format::Csv)) {
        return Err("--stream writes JSON lines only".to_string());
    }
    if stream && strict {
        return Err("--strict judges a whole job; --stream keeps none of it".to_string());
    }
    Ok(Command::Run(Run {
        job,
        format: format.unwrap_or(if stream { Format::Json } else { Format::Text }),
        strict,
        stream,
    }))
}

fn plan(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let mut job = None;
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help),
            Value(path) if job.is_none() => job = Some(source(&path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    job.map(Command::Plan).ok_or("plan needs a job file, or - for standard input".to_string())
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
        ] {
            let said = parse(arguments).unwrap_err();
            assert!(!said.is_empty() && !said.contains('\n'), "{said}");
        }
    }
}
