//! `halfskip plan`: what a job's joint and probes allow, before the probe touches steel.

use std::io::{self, Write};
use std::string::String;

use super::Lines;
use super::args::Source;
use super::console::Desk;
use super::exit::{Exit, Stop};
use super::feed::read_job;
use super::run::folder;

/// The questions that make up a plan.
const QUESTIONS: [&str; 3] = ["section", "plan", "coverage"];

/// Answers for a job. Any bad line is told with its place, and nothing is answered then.
///
/// # Errors
/// [`Stop`]: the job cannot be had, a line of it is bad, or the plan cannot be written.
pub fn run(job: &Source) -> Result<Exit, Stop> {
    let mut desk = Desk::new(folder(job));
    read_job(job, &mut desk, &mut io::stderr())?;
    let mut answers = String::new();
    for question in QUESTIONS {
        if !answers.is_empty() {
            answers.push('\n');
        }
        desk.line(question.as_bytes(), &mut answers);
    }
    let mut out = io::stdout().lock();
    let written = out.write_all(answers.as_bytes()).and_then(|()| out.flush());
    written.map(|()| Exit::Done).map_err(|error| Stop::writing(&error))
}
