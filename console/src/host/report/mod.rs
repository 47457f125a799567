//! `halfskip report`: the record that another examiner can repeat, as one page or on paper.
//!
//! The sections are filled from the findings that every other output shows, and from the answers of the shell; nothing is
//! computed here. What a report has to hold and nobody recorded is shown as missing.

mod beforehand;
mod closing;
pub mod document;
mod drawn;
mod entries;
mod fields;
mod grounds;
pub mod html;
mod indication;
mod joint;
mod known;
mod overview;
mod probes;
mod summary;

use std::format;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::entry::Entry;

use super::args::Report;
use super::check::Watched;
use super::desk::{Desk, HostShell};
use super::exit::{Exit, Stop, reason};
use super::feed::read_job;
use super::paper;
use super::run::folder;
use super::seal::Seals;
use document::Document;
use known::Known;

/// Writes the report of a job. Any bad line is told with its place, and nothing is written then.
///
/// # Errors
/// [`Stop`]: the job cannot be had, a line of it is bad, or the report cannot be written.
pub fn run(asked: &Report) -> Result<Exit, Stop> {
    let mut desk = Desk::new(folder(&asked.job));
    let mut watched = Watched { lines: &mut desk, seals: Seals::default() };
    read_job(&asked.job, &mut watched, &mut io::stderr())?;
    let seals = watched.seals;
    let document = document(desk.shell(), Some(&seals));
    if let Some(path) = &asked.html {
        write(path, html::HEAD.as_bytes(), html::page(&document).as_bytes())?;
    }
    if let Some(path) = &asked.pdf {
        write(path, paper::HEAD, &paper::pdf(&document, asked.paper))?;
    }
    Ok(Exit::Done)
}

/// Writes a report, of which every one begins with `head`.
fn write(path: &Path, head: &[u8], report: &[u8]) -> Result<(), Stop> {
    let name = path.display();
    let failed = |error| Stop::Failed(format!("{name}: cannot be written: {}", reason(&error)));
    if !may_be_replaced(path, head).map_err(failed)? {
        return Err(Stop::Failed(format!("{name}: holds something else than a report; name another file")));
    }
    fs::write(path, report).map_err(failed)
}

/// Whether a report may be written there: a job or a sheet named by mistake must not be lost to it.
fn may_be_replaced(path: &Path, head: &[u8]) -> io::Result<bool> {
    match fs::metadata(path) {
        Ok(found) if found.is_file() => {
            let mut held = Vec::new();
            File::open(path)?.take(head.len() as u64).read_to_end(&mut held)?;
            Ok(held.is_empty() || held == head)
        }
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(true),
    }
}

/// The report of an examination, and of the seals of the job that it was read from.
#[must_use]
pub fn document(shell: &HostShell, seals: Option<&Seals>) -> Document {
    let known = Known::new(shell);
    let mut sections = Vec::from([
        summary::section(&known),
        fields::section(&known),
        joint::section(&known),
        probes::section(&known),
        beforehand::section(&known),
        overview::section(&known),
    ]);
    sections.extend(indication::sections(&known));
    sections.push(closing::not_covered(&known));
    sections.push(closing::cautions(&known));
    sections.push(entries::section(&known, seals));
    sections.push(closing::signatures());
    Document { title: title(&known), sections }
}

/// The titles in force, or that there is none.
fn title(known: &Known<'_>) -> String {
    let titles = known.in_force().filter_map(|(_, entry)| match entry {
        Entry::Title(text) => Some(text.as_str()),
        _ => None,
    });
    let titles: Vec<&str> = titles.collect();
    if titles.is_empty() { "Examination without a title".to_string() } else { titles.join("; ") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_report_replaces_a_report_and_nothing_else() {
        let folder = std::env::temp_dir().join(format!("halfskip-report-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        let page = html::page(&Document { title: "Invented".to_string(), sections: Vec::new() });
        for (held, free) in
            [(page.as_str(), true), ("", true), ("title \"Invented\"\n", false), ("<!", false)]
        {
            let file = folder.join("file");
            fs::write(&file, held).unwrap();
            assert_eq!(may_be_replaced(&file, html::HEAD.as_bytes()).unwrap(), free, "{held}");
        }
        assert!(may_be_replaced(&folder.join("none"), paper::HEAD).unwrap());
        fs::remove_dir_all(&folder).unwrap();
    }
}
