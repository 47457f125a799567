//! `halfskip run`: a job evaluated as a whole, its findings written once.

use std::io::{self, BufWriter, Write};
use std::path::Path;
use std::string::String;

use halfskip::acceptance::criteria::{Sheet, Verdict};
use halfskip::character::nature;
use halfskip::findings::{LengthRule, evaluate, suspicion, suspicion_of_probe};
use halfskip::record::examination::Facts;

use super::args::{Format, Run, Source};
use super::check::Watched;
use super::console::Desk;
use super::exit::{Exit, Stop, answered};
use super::feed::read_job;
use super::seal::Seals;
use super::{csv, json, stream};

/// Evaluates a job. Any bad line is told with its place, and nothing is evaluated then.
///
/// # Errors
/// [`Stop`]: the job cannot be had, a line of it is bad, or the findings cannot be written.
pub fn run(asked: &Run) -> Result<Exit, Stop> {
    if asked.stream {
        return stream::run(&asked.job);
    }
    let mut desk = Desk::new(folder(&asked.job));
    let mut watched = Watched { lines: &mut desk, seals: Seals::default() };
    read_job(&asked.job, &mut watched, &mut io::stderr())?;
    watched.seals.tell(&asked.job.name(), &mut io::stderr());
    let facts = desk.shell().examination().facts();
    let sheet = desk.shell().sheet();
    let open = asked.strict && !settled(&facts, sheet);
    let found = if open { Exit::Findings } else { Exit::Done };
    let mut out = BufWriter::new(io::stdout().lock());
    let written = match asked.format {
        Some(Format::Json) => json::write(asked.job.name(), desk.shell(), &mut out),
        Some(Format::Csv) => csv::write(&facts, sheet, &mut out),
        Some(Format::Text) | None => text(&desk, &mut out),
    };
    answered(written.and_then(|()| out.flush()), found)
}

/// The file that sheets lie beside.
pub(super) fn folder(job: &Source) -> Option<&Path> {
    match job {
        Source::Standard => None,
        Source::File(path) => Some(path),
    }
}

/// The findings for a person: the same answer that the shell gives.
fn text(desk: &Desk, out: &mut impl Write) -> io::Result<()> {
    let mut answer = String::new();
    desk.shell().ask(b"findings", &mut answer);
    out.write_all(answer.as_bytes())
}

/// Whether every reading is determined, nothing is out of tolerance, and every indication has a verdict, none a reject. Where
/// nothing was read, nothing was held against the sheet: that settles nothing either.
fn settled<const ROWS: usize>(facts: &Facts<'_>, sheet: Option<&Sheet<ROWS>>) -> bool {
    let mut probes = (0..=u8::MAX).take(facts.probes().len());
    let calibrated = probes.all(|probe| suspicion_of_probe(facts, probe).is_none());
    let common = facts.common();
    let checked = common.history.iter().all(|event| event.void || event.is_good())
        && !common.history_lost
        && common.failed_linearity.is_empty();
    let determined = facts.readings().all(|reading| {
        let finding = evaluate(facts, reading);
        finding.place.is_ok() && finding.level.is_ok() && suspicion(facts, reading).is_none()
    });
    let extents = json::extents(facts, LengthRule::of_sheet(sheet));
    let decided = !extents.is_empty()
        && extents.iter().all(|extent| {
            sheet.is_some_and(|sheet| {
                let character = nature(facts, extent.indication);
                let verdict = character.verdict(facts, sheet, extent.indication, &extents).verdict;
                verdict.is_some_and(|verdict| verdict != Verdict::Reject)
            })
        });
    calibrated && checked && determined && decided
}
