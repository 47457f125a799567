//! `halfskip export`: the findings of many jobs, one line of JSON a job (JSON Lines), for the data engine of one's choice.

use std::io::{self, BufWriter, Write};
use std::path::PathBuf;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::entry::{Entry, ReportField};
use serde::Serialize;

use super::args::Source;
use super::desk::{Desk, HostShell};
use super::exit::{Exit, Stop, ended};
use super::feed::read_job;
use super::json;
use super::progress::Progress;

/// The layout of the findings as JSON Schema.
pub const SCHEMA: &str = include_str!("../../schema/findings-1.json");

/// Which job findings are of.
#[derive(Serialize)]
pub struct Job {
    name: String,
    title: Option<String>,
    date: Option<String>,
    examiner: Option<String>,
    procedure: Option<String>,
    weld: Option<String>,
    preparation: Option<&'static str>,
    thickness_mm: Option<f32>,
    sheet: Option<String>,
    sheet_checked: Option<bool>,
}

impl Job {
    /// Of a shell that has taken a job of this name.
    #[must_use]
    pub fn of(name: String, shell: &HostShell) -> Self {
        let examination = shell.examination();
        let entries = || examination.entries_but_readings();
        let in_force = || entries().filter(|(_, voided, _)| !voided).map(|(.., entry)| entry);
        let all = |wanted: fn(Entry) -> Option<String>| {
            let found: Vec<String> = in_force().filter_map(wanted).collect();
            (!found.is_empty()).then(|| found.join("; "))
        };
        let facts = examination.facts();
        let joint = facts.common().joint.as_ref().map(|(_, joint)| joint);
        Self {
            name,
            title: all(|entry| match entry {
                Entry::Title(text) => Some(text.to_string()),
                _ => None,
            }),
            date: in_force().filter_map(date).last(),
            examiner: all(|entry| match entry {
                Entry::Examiner { name, .. } => Some(name.to_string()),
                _ => None,
            }),
            procedure: all(|entry| match entry {
                Entry::Procedure(text) => Some(text.to_string()),
                _ => None,
            }),
            weld: all(|entry| match entry {
                Entry::Detail { field: ReportField::Weld, text } => Some(text.to_string()),
                _ => None,
            }),
            preparation: joint.map(|joint| joint.preparation().word()),
            thickness_mm: joint.map(|joint| joint.thickness().get()),
            sheet: shell.sheet().map(|sheet| sheet.head().title.to_string()),
            sheet_checked: shell.sheet().map(halfskip::criteria::Sheet::is_checked),
        }
    }
}

impl Job {
    /// In one line for a person.
    #[must_use]
    pub fn told(&self) -> String {
        let parts = [Some(&self.name), self.title.as_ref(), self.date.as_ref(), self.examiner.as_ref()];
        let parts: Vec<&str> = parts.into_iter().flatten().map(String::as_str).collect();
        parts.join(", ")
    }
}

fn date(entry: Entry) -> Option<String> {
    match entry {
        Entry::Date { date, .. } => {
            let (year, month, day) = date.parts();
            Some(std::format!("{year:04}-{month:02}-{day:02}"))
        }
        _ => None,
    }
}

/// Writes one line a job on standard output. A job that cannot be had or has a bad line is told and passed over.
///
/// # Errors
/// [`Stop`]: the findings cannot be written.
pub fn run(jobs: &[PathBuf]) -> Result<Exit, Stop> {
    let mut out = BufWriter::with_capacity(1 << 16, io::stdout().lock());
    let exit = write(jobs, &mut out, &mut io::stderr())?;
    out.flush().map_err(|error| Stop::writing(&error).after(exit))?;
    Ok(exit)
}

/// The same, to any output; what is wrong with a job is told on `errors`.
///
/// # Errors
/// [`Stop`]: the findings cannot be written.
pub fn write(jobs: &[PathBuf], out: &mut impl Write, errors: &mut dyn Write) -> Result<Exit, Stop> {
    let mut exit = Exit::Done;
    let mut progress = Progress::new("jobs", Some(jobs.len() as u64));
    for path in jobs {
        let source = Source::File(path.clone());
        let mut desk = Desk::new(Some(path));
        match read_job(&source, &mut desk, errors) {
            Ok(()) => {
                let findings =
                    json::findings_of(Job::of(path.display().to_string(), desk.shell()), desk.shell());
                json::line(&findings, out).map_err(|error| Stop::writing(&error).after(exit))?;
            }
            Err(stop) => exit = ended(Err(stop), errors),
        }
        progress.step(1);
    }
    progress.end();
    Ok(exit)
}
