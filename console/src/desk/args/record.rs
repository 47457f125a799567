//! The arguments of what makes a record, reads one and compares two.

use std::format;
use std::path::PathBuf;
use std::string::String;

use clap::{ArgGroup, Args, ValueEnum};

use super::Source;
use crate::desk::paper::Sheet;
use crate::desk::seal::is_digest;

/// A job and where its report is written.
#[derive(Clone, PartialEq, Eq, Debug, Args)]
#[command(group(ArgGroup::new("written").required(true).multiple(true).args(["html", "pdf"])))]
pub struct Report {
    /// Job file; - is standard input
    pub job: Source,
    /// As one page, by itself
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// On sheets
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
    /// Size of the sheets
    #[arg(long, value_enum, requires = "pdf", default_value = "a4")]
    pub paper: Sheet,
}

/// A table of readings and the job that they belong to.
#[derive(Clone, PartialEq, Eq, Debug, Args)]
pub struct Import {
    /// CSV table; - is standard input
    pub table: Source,
    /// Add them to a job, all of them or none
    #[arg(long, value_name = "FILE")]
    pub job: Option<PathBuf>,
    /// Only show what that would record
    #[arg(long, requires = "job")]
    pub dry_run: bool,
}

/// A job whose seals are checked.
#[derive(Clone, PartialEq, Eq, Debug, Args)]
pub struct Check {
    /// Job file; - is standard input
    pub job: Source,
    /// Whether the last digest is this one too
    #[arg(long, value_name = "DIGITS", value_parser = digest)]
    pub digest: Option<String>,
}

/// Two examinations of one weld.
#[derive(Clone, PartialEq, Debug, Args)]
pub struct Compare {
    /// Job file; - is standard input
    #[arg(value_name = "JOB")]
    pub first: Source,
    /// The other one
    #[arg(value_name = "OTHER")]
    pub second: Source,
    /// Added to the second's x to count from the first's datum
    #[arg(long, value_name = "MM", default_value = "0", allow_negative_numbers = true, value_parser = shift)]
    pub shift: f32,
    /// How far apart along the weld one place may be; 5 is common practice, no source
    #[arg(long, value_name = "MM", default_value = "5", allow_negative_numbers = true, value_parser = within)]
    pub within: f32,
    /// How that is written
    #[arg(long, value_enum, default_value = "text")]
    pub format: Compared,
}

/// How a comparison is written.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub enum Compared {
    /// For a person.
    Text,
    /// JSON.
    Json,
}

fn digest(digits: &str) -> Result<String, String> {
    if is_digest(digits) {
        Ok(digits.to_lowercase())
    } else {
        Err(format!("'{digits}' is no digest; expected 64 hexadecimal digits"))
    }
}

/// The longest shift and span along a weld, mm: a limit of ours, far beyond any weld.
const LONGEST: f32 = 100_000.0;

fn shift(text: &str) -> Result<f32, String> {
    length(text, -LONGEST)
}

fn within(text: &str) -> Result<f32, String> {
    length(text, 0.0)
}

fn length(text: &str, least: f32) -> Result<f32, String> {
    let read = text.parse::<f32>().ok().filter(|mm| (least..=LONGEST).contains(mm));
    read.ok_or_else(|| format!("'{text}' is no length in mm, {least} to {LONGEST}"))
}
