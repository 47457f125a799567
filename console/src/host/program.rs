//! The program from its arguments to its exit status.

use std::ffi::OsString;
use std::io::{self, IsTerminal, Write};
use std::path::Path;

use super::args::{CAUTION, Command, Run, VERSION, parse};
use super::exit::{Exit, Stop, ended};
use super::session::Session;
use super::{Lines, check, compare, export, import, link, manual, plan, report, tour};

/// Does what the arguments behind the program's name say: `lines` makes an empty examination, `run` evaluates a job.
///
/// `run` writes the findings itself; when nobody reads them any more it still knows the exit status.
pub fn program<I, L>(
    arguments: I,
    lines: impl FnOnce(Option<&Path>) -> L,
    run: impl FnOnce(&Run) -> Result<Exit, Stop>,
) -> Exit
where
    I: IntoIterator<Item: Into<OsString>>,
    L: Lines,
{
    let result = parse(arguments).map_err(Stop::Failed).and_then(|command| match command {
        Command::Help(verb) => say(&[&verb.and_then(manual::of).unwrap_or_else(manual::all)]),
        Command::Tour => tour::run(),
        Command::Completions(shell) => say(&[&shell.script()]),
        Command::Manual => say(&[&manual::page::page()]),
        Command::Version => say(&[VERSION]),
        Command::Run(asked) => run(&asked),
        Command::Plan(job) => plan::run(&job),
        Command::Report(asked) => report::run(&asked),
        Command::Import(asked) => import::run(&asked),
        Command::Export(jobs) => export::run(&jobs),
        Command::Compare(asked) => compare::run(&asked),
        Command::Check(asked) => check::run(&asked),
        Command::Schema => say(&[export::SCHEMA]),
        Command::Serial { port, record } => link::serial::run(&port, record.as_deref()),
        Command::Ingest(source) => link::ingest::run(&source),
        Command::Send { job, port } => link::send::run(&job, &port),
        Command::Interactive { job, sealed } => {
            if io::stdin().is_terminal() && io::stdout().is_terminal() {
                say(&[VERSION, CAUTION])?;
            }
            let mut session = match job {
                Some(path) => Session::open(lines(Some(&path)), &path, &mut io::stderr())?,
                None => Session::new(lines(None)),
            };
            if sealed {
                session.seal();
            }
            session.run()
        }
    });
    ended(result, &mut io::stderr())
}

fn say(parts: &[&str]) -> Result<Exit, Stop> {
    let mut output = io::stdout();
    let mut write = || {
        for part in parts {
            output.write_all(part.as_bytes())?;
        }
        output.flush()
    };
    write().map(|()| Exit::Done).map_err(|error| Stop::writing(&error))
}
