//! `halfskip export`: the findings of many jobs, one line of JSON a job (JSON Lines), for the data engine of one's choice.

use std::io::{self, BufWriter, Write};
use std::path::PathBuf;

use super::args::Source;
use super::console::Desk;
use super::exit::{Exit, Stop, ended};
use super::feed::read_job;
use super::json;
use super::progress::Progress;

/// The layout of the findings as JSON Schema.
pub const SCHEMA: &str = include_str!("../../schema/findings-2.json");

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
                let written = json::write(source.name(), desk.shell(), out);
                written.map_err(|error| Stop::writing(&error).after(exit))?;
            }
            Err(stop) => exit = ended(Err(stop), errors),
        }
        progress.step(1);
    }
    progress.end();
    Ok(exit)
}
