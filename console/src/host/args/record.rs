//! The arguments of what makes a record, reads one and compares two.

use std::format;
use std::path::PathBuf;
use std::string::{String, ToString};
use std::vec::Vec;

use lexopt::prelude::{Long, Value};

use super::{Command, Format, Source, alone, source, wrong};
use crate::host::paper::Sheet;
use crate::host::seal::is_digest;

/// A job and where its report goes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Report {
    /// Where the job comes from.
    pub job: Source,
    /// The page.
    pub html: Option<PathBuf>,
    /// The sheets.
    pub pdf: Option<PathBuf>,
    /// Their size.
    pub paper: Sheet,
}

/// A table of readings and the job that they belong to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Import {
    /// Where the table comes from.
    pub table: Source,
    /// The job; without one the lines are shown.
    pub job: Option<PathBuf>,
    /// The job is left as it is.
    pub dry_run: bool,
}

/// A job whose seals are checked.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Check {
    /// Where the job comes from.
    pub job: Source,
    /// What its last digest has to be.
    pub digest: Option<String>,
}

pub(super) fn report(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let (mut job, mut html, mut pdf, mut paper) = (None, None, None, None);
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help(None)),
            Long("html") => html = Some(PathBuf::from(parser.value().map_err(wrong)?)),
            Long("pdf") => pdf = Some(PathBuf::from(parser.value().map_err(wrong)?)),
            Long("paper") => {
                let word = parser.value().map_err(wrong)?;
                paper = Some(match word.to_str() {
                    Some("a4") => Sheet::A4,
                    Some("letter") => Sheet::Letter,
                    _ => return Err(format!("unknown paper '{}'; expected a4 or letter", word.display())),
                });
            }
            Value(path) if job.is_none() => job = Some(source(&path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    let Some(job) = job else {
        return Err("report needs a job file, or - for standard input".to_string());
    };
    if html.is_none() && pdf.is_none() {
        return Err("report needs --html FILE or --pdf FILE".to_string());
    }
    if paper.is_some() && pdf.is_none() {
        return Err("--paper belongs to --pdf FILE".to_string());
    }
    Ok(Command::Report(Report { job, html, pdf, paper: paper.unwrap_or_default() }))
}

pub(super) fn import(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let (mut table, mut job, mut dry_run) = (None, None, false);
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help(None)),
            Long("job") => job = Some(PathBuf::from(parser.value().map_err(wrong)?)),
            Long("dry-run") => dry_run = true,
            Value(path) if table.is_none() => table = Some(source(&path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    let Some(table) = table else {
        return Err("import needs a table of readings, or - for standard input".to_string());
    };
    if dry_run && job.is_none() {
        return Err("--dry-run tries the readings on a job: it needs --job FILE".to_string());
    }
    Ok(Command::Import(Import { table, job, dry_run }))
}

/// Two examinations of one weld.
#[derive(Clone, PartialEq, Debug)]
pub struct Compare {
    /// The first and the second.
    pub jobs: [Source; 2],
    /// Added to the second's places along the weld, mm.
    pub shift: f32,
    /// How far apart along the weld one place may be, mm.
    pub within: f32,
    /// How it is written.
    pub format: Format,
}

// Lengths of the command line are finite, so that equality is one.
impl Eq for Compare {}

/// How far apart along the weld two indications of one place may lie, mm. Common practice, no source.
const WITHIN: f32 = 5.0;

pub(super) fn compare(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let mut jobs = Vec::new();
    let (mut shift, mut within, mut format) = (0.0, WITHIN, Format::Text);
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help(None)),
            Long("shift") => shift = length(parser, "--shift", -100_000.0)?,
            Long("within") => within = length(parser, "--within", 0.0)?,
            Long("format") => {
                let word = parser.value().map_err(wrong)?;
                format = match word.to_str() {
                    Some("text") => Format::Text,
                    Some("json") => Format::Json,
                    _ => return Err(format!("unknown format '{}'; expected text or json", word.display())),
                };
            }
            Value(path) if jobs.len() < 2 => jobs.push(source(&path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    match jobs.try_into() {
        Ok(jobs) if jobs != [Source::Standard, Source::Standard] => {
            Ok(Command::Compare(Compare { jobs, shift, within, format }))
        }
        Ok(_) => Err("standard input can be one of the two jobs only".to_string()),
        Err(_) => Err("compare needs two job files".to_string()),
    }
}

/// A length in millimetres.
fn length(parser: &mut lexopt::Parser, option: &str, least: f32) -> Result<f32, String> {
    let value = parser.value().map_err(wrong)?;
    let read = value.to_str().and_then(|value| value.parse::<f32>().ok());
    read.filter(|mm| (least..=100_000.0).contains(mm))
        .ok_or_else(|| format!("{option} takes a length in mm, {least} to 100000, not '{}'", value.display()))
}

pub(super) fn export(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let mut jobs = Vec::new();
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help(None)),
            Value(path) => jobs.push(PathBuf::from(path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    if jobs.is_empty() { Err("export needs job files".to_string()) } else { Ok(Command::Export(jobs)) }
}

pub(super) fn check(parser: &mut lexopt::Parser) -> Result<Command, String> {
    let (mut job, mut digest) = (None, None);
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Long("help") => return alone(parser, Command::Help(None)),
            Long("digest") => {
                let value = parser.value().map_err(wrong)?;
                let digits = value.to_str().filter(|digits| is_digest(digits));
                let refused =
                    || format!("'{}' is no digest; expected 64 hexadecimal digits", value.display());
                digest = Some(digits.ok_or_else(refused)?.to_lowercase());
            }
            Value(path) if job.is_none() => job = Some(source(&path)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    match job {
        Some(job) => Ok(Command::Check(Check { job, digest })),
        None => Err("check needs a job file, or - for standard input".to_string()),
    }
}

pub(super) fn schema(parser: &mut lexopt::Parser) -> Result<Command, String> {
    match parser.next().map_err(wrong)? {
        None => Ok(Command::Schema),
        Some(Long("help")) => alone(parser, Command::Help(None)),
        Some(other) => Err(wrong(other.unexpected())),
    }
}
