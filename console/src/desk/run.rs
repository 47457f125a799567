//! `halfskip run`: a job evaluated as a whole, its findings written once.

use std::io::{self, BufWriter, Write};
use std::path::Path;
use std::string::String;

use halfskip::acceptance::criteria::Verdict;
use halfskip::findings::{Findings, evaluate, suspicion, suspicion_of_probe};

use super::args::{Format, Run, Source};
use super::check::Watched;
use super::console::Desk;
use super::exit::{Exit, Stop, answered};
use super::feed::read_job;
use super::seal::Seals;
use super::{csv, json, stream};
use crate::commands::parse::Question;

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
    let open = asked.strict && desk.shell().evaluated(settled) != Some(true);
    let found = if open { Exit::Findings } else { Exit::Done };
    let mut out = BufWriter::new(io::stdout().lock());
    let written = match asked.format {
        Some(Format::Json) => json::write(asked.job.name(), desk.shell(), &mut out),
        Some(Format::Csv) => {
            let write = |findings: &Findings<'_>| csv::write(findings, &mut out);
            desk.shell().evaluated(write).unwrap_or_else(|| Err(io::ErrorKind::WouldBlock.into()))
        }
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
    desk.shell().answer(&Question::Findings, &mut answer);
    out.write_all(answer.as_bytes())
}

/// Whether every reading is determined, nothing is out of tolerance, and every indication has a verdict, none a reject. Where
/// nothing was read, nothing was held against the sheet: that settles nothing either.
fn settled(findings: &Findings<'_>) -> bool {
    let facts = findings.facts();
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
    let decided = |verdict: Option<Verdict>| verdict.is_some_and(|verdict| verdict != Verdict::Reject);
    let mut verdicts = findings.indications().map(|one| one.verdict(one.place().as_ref())?.verdict);
    let decided = findings.indications().next().is_some() && verdicts.all(decided);
    calibrated && checked && determined && decided
}
