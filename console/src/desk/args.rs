//! The arguments of the program: what is written here is read by, explained by, completed by and printed as a manual from.

use std::ffi::OsString;
use std::format;
use std::path::PathBuf;
use std::string::{String, ToString};
use std::vec::Vec;

use clap::builder::{OsStringValueParser, TypedValueParser};
use clap::error::ErrorKind;
use clap::{Args, FromArgMatches, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

mod help;
mod record;
mod refusal;

pub use help::{command, of_line};
pub use record::{Check, Compare, Compared, Import, Report};

use super::names::shown;

/// What every user is told.
pub const CAUTION: &str = "\
It computes; it does not qualify anyone, any procedure or any weld. Examination and interpretation belong to
certified personnel working to an approved written procedure under the governing code.
";

/// What `--version` says.
pub const VERSION: &str = concat!("halfskip ", env!("CARGO_PKG_VERSION"), "\n");

/// What angle-beam ultrasonic readings of a weld amount to
///
/// A job is a list of facts, one a line, in words of the trade: joint, probes, calibration, readings. What they amount to is
/// computed whenever it is asked for: where an indication lies, how strong, how long and how high it is, and what the
/// acceptance sheet in force makes of it, each with its uncertainty. Nothing is edited; a void line takes an earlier one out.
///
/// Without a verb it takes facts and questions line by line. There, help lists what a line can say, and help VERB one of them.
#[derive(Clone, PartialEq, Debug, Parser)]
#[command(
    name = "halfskip",
    version,
    args_conflicts_with_subcommands = true,
    args_override_self = true,
    disable_help_subcommand = true,
    subcommand_value_name = "VERB",
    subcommand_help_heading = "Verbs",
    term_width = 110,
    after_help = help::STATUS,
    after_long_help = help::behind()
)]
pub struct Arguments {
    /// Keep each accepted fact in FILE, on disk before the next line is asked for
    #[arg(long, value_name = "FILE", value_parser = OsStringValueParser::new().try_map(kept))]
    pub job: Option<PathBuf>,
    /// Give each line kept a running digest; a job that is sealed stays so
    #[arg(long, requires = "job")]
    pub sealed: bool,
    /// What to do with a job.
    #[command(subcommand)]
    pub verb: Option<Verb>,
}

/// What the program does with a job.
#[derive(Clone, PartialEq, Debug, Subcommand)]
pub enum Verb {
    /// Evaluate a job file
    ///
    /// Every bad line of a job is named, and a job with one is not evaluated. Questions in it are passed over. To
    /// --strict a job without a sheet or without a reading in force is undetermined, however well calibrated.
    #[command(after_help = "\
Examples:
  halfskip run weld.job                 the findings, for a person
  halfskip run --format json weld.job   the same for another program")]
    Run(Run),
    /// Scan plan for joint and probes of a job, its section and coverage
    ///
    /// It needs no reading: it can be asked before the probe touches steel.
    Plan {
        /// Job file; - is standard input
        job: Source,
    },
    /// Record of a job, drawn
    ///
    /// What a report has to hold and nobody recorded is shown as missing. The same job gives the same bytes. A report that was
    /// there before is kept until the new one is whole; a file that is no report of this program is not written over.
    #[command(after_help = "\
Example:
  halfskip report weld.job --html weld.html --pdf weld.pdf")]
    Report(Report),
    #[allow(rustdoc::broken_intra_doc_links, reason = "help as it is shown, with brackets")]
    /// Readings of a CSV table as lines
    ///
    /// The first line names the columns by the keys of a reading, with the unit of its numbers: x [mm], gain [dB]. Cells are
    /// parted by comma, semicolon or tab; an empty cell leaves its key out.
    #[command(after_help = "\
Example:
  halfskip import log.csv --job weld.job --dry-run   see what would be recorded")]
    Import(Import),
    /// Findings of many jobs, one line of JSON a job
    ///
    /// A job that is bad is named and passed over; the exit status is then 2.
    #[command(after_help = "\
Example:
  halfskip export *.job > archive.jsonl   what a data engine reads")]
    Export {
        /// Job files
        #[arg(value_name = "JOB", required = true)]
        jobs: Vec<PathBuf>,
    },
    /// Two examinations of one weld, indication by indication
    ///
    /// A difference is given in units of its expanded uncertainty U; above 1 U the uncertainties do not explain it. An
    /// indication that only one examination has is no proof of change: the other may not have looked there.
    #[command(after_help = "\
Example:
  halfskip compare before.job after.job   before and after a repair, or two examiners")]
    Compare(Compare),
    /// Whether the running digests of a sealed job fit its lines
    ///
    /// Exit status 1 says that a line does not fit, that no line is sealed, or that the digest is another. There is no secret in
    /// a seal: compare the last digest with one kept elsewhere, such as on a signed report.
    #[command(after_help = "\
Example:
  halfskip check weld.job   names the first entry that does not fit")]
    Check(Check),
    /// Layout of the findings as JSON Schema
    Schema,
    /// Terminal to the console of a device; Ctrl-] ends
    #[command(after_help = "\
Example:
  halfskip serial /dev/ttyACM0 --record weld.job   talk, and keep what was recorded")]
    Serial {
        /// Where the device is
        port: PathBuf,
        /// Keep the facts of the device in FILE
        #[arg(long, value_name = "FILE")]
        record: Option<PathBuf>,
    },
    /// Frames of a file or a port as job lines
    #[command(after_help = "\
Example:
  halfskip ingest weld.bin > weld.job   a job from a device's frames")]
    Ingest {
        /// File of frames, or port; - is standard input
        source: Source,
    },
    /// Job sent to a device, fact by fact
    #[command(after_help = "\
Example:
  halfskip send weld.job /dev/ttyACM0   what the desk knows, on the device")]
    Send {
        /// Job file; - is standard input
        job: Source,
        /// Where the device is
        port: PathBuf,
    },
    /// Invented examination, typed and answered step by step
    ///
    /// In a pipe it runs through without a stop. Nothing is kept.
    Tour,
    /// What lets a shell complete these words
    #[command(after_help = "\
Example:
  halfskip completions bash > halfskip.bash   to be sourced by the shell")]
    Completions {
        /// Which shell
        shell: Shell,
    },
    /// This as a manual page
    #[command(after_help = "\
Example:
  halfskip manual | man -l -   read it")]
    Manual,
    /// More of one verb, of the program or of a line
    #[command(after_help = "\
Examples:
  halfskip help report    its options
  halfskip help reading   the keys of a line")]
    Help {
        /// The verb
        verb: Option<String>,
    },
}

/// A job file and how to evaluate it.
#[derive(Clone, PartialEq, Eq, Debug, Args)]
pub struct Run {
    /// Job file; - is standard input
    pub job: Source,
    /// How the findings are written; text without it
    #[arg(long, value_enum)]
    pub format: Option<Format>,
    /// Exit status 1 when anything is rejected, out of tolerance or undetermined
    #[arg(long, conflicts_with = "stream")]
    pub strict: bool,
    /// One line of JSON a reading as it comes; keeps none, any length
    #[arg(long)]
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

impl From<OsString> for Source {
    fn from(path: OsString) -> Self {
        if path == "-" { Self::Standard } else { Self::File(path.into()) }
    }
}

impl Source {
    /// Its name in messages.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::Standard => "stdin".to_string(),
            Self::File(path) => shown(path),
        }
    }
}

/// How findings are written.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub enum Format {
    /// For a person.
    Text,
    /// JSON, schema 1.
    Json,
    /// A table of the indications.
    Csv,
}

/// A file that facts can be kept in.
fn kept(path: OsString) -> Result<PathBuf, &'static str> {
    if path.is_empty() || path == "-" {
        Err("a file is needed to keep the facts in")
    } else {
        Ok(path.into())
    }
}

/// Arguments that ask for nothing to be done.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Unread {
    /// A text was asked for: the help or the version.
    Asked(String),
    /// They are wrong, for this reason.
    Wrong(String),
}

/// Reads the arguments behind the program's name.
///
/// # Errors
/// [`Unread`]: help or version were asked for, or one line that says what was wrong.
///
/// ```
/// use halfskip_console::desk::args::{Unread, VERSION, parse};
/// assert_eq!(parse(["--version"]), Err(Unread::Asked(VERSION.into())));
/// assert!(matches!(parse(["walk"]), Err(Unread::Wrong(_))));
/// ```
pub fn parse<I>(arguments: I) -> Result<Arguments, Unread>
where
    I: IntoIterator,
    I::Item: Into<OsString>,
{
    let words = [OsString::from("halfskip")].into_iter().chain(arguments.into_iter().map(Into::into));
    let read = command().try_get_matches_from(words);
    let read = read.and_then(|matches| Arguments::from_arg_matches(&matches)).map_err(|error| match error
        .kind()
    {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => Unread::Asked(error.to_string()),
        _ => Unread::Wrong(refusal::told(&error)),
    })?;
    match &read.verb {
        Some(Verb::Run(Run { stream: true, format: Some(Format::Text | Format::Csv), .. })) => {
            Err(Unread::Wrong("--stream writes JSON lines only".to_string()))
        }
        Some(Verb::Compare(Compare { first: Source::Standard, second: Source::Standard, .. })) => {
            Err(Unread::Wrong("standard input can be one of the two jobs only".to_string()))
        }
        _ => Ok(read),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(job: &str, format: Option<Format>, strict: bool, stream: bool) -> Result<Arguments, Unread> {
        let verb = Some(Verb::Run(Run { job: OsString::from(job).into(), format, strict, stream }));
        Ok(Arguments { job: None, sealed: false, verb })
    }

    #[test]
    fn the_arguments_fit_together() {
        command().debug_assert();
    }

    #[test]
    fn options_stand_before_or_behind_the_job() {
        assert_eq!(parse(["run", "a.job"]), run("a.job", None, false, false));
        assert_eq!(parse(["run", "--format=json", "-"]), run("-", Some(Format::Json), false, false));
        assert_eq!(
            parse(["run", "a.job", "--strict", "--format", "csv"]),
            run("a.job", Some(Format::Csv), true, false)
        );
        assert_eq!(parse(["run", "--stream", "--", "--odd"]), run("--odd", None, false, true));
        let session =
            |job: Option<&str>, sealed| Ok(Arguments { job: job.map(Into::into), sealed, verb: None });
        assert_eq!(parse(["--job", "b.job"]), session(Some("b.job"), false));
        assert_eq!(parse(["--sealed", "--job=b.job"]), session(Some("b.job"), true));
        assert_eq!(parse([""; 0]), session(None, false));
        let compared = parse(["compare", "a", "--shift", "-3", "b"]);
        assert!(matches!(
            compared,
            Ok(Arguments { verb: Some(Verb::Compare(Compare { shift: -3.0, .. })), .. })
        ));
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
            &["help", "run", "plan"],
            &["completions"],
            &["completions", "csh"],
            &["manual", "run"],
            &["report", "a"],
            &["report", "a", "--html", "b", "--paper", "a4"],
            &["import", "--dry-run", "a"],
            &["compare", "a"],
            &["compare", "-", "-"],
            &["compare", "a", "b", "--within", "-1"],
            &["check", "a", "--digest", "12"],
            &["export"],
            &["send", "a"],
        ] {
            match parse(arguments) {
                Err(Unread::Wrong(said)) => assert!(!said.is_empty() && !said.contains('\n'), "{said}"),
                other => panic!("{arguments:?}: {other:?}"),
            }
        }
    }
}
