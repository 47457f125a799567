//! The program from its arguments to its exit status.

use std::ffi::OsString;
use std::io::{self, IsTerminal, Write};
use std::path::Path;

use super::args::{Arguments, CAUTION, Run, Unread, VERSION, Verb, parse};
use super::exit::{Exit, Stop, ended};
use super::session::Session;
use super::{Lines, check, compare, export, import, link, manual, plan, report_file, tour};

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
    let result = match parse(arguments) {
        Ok(asked) => done(asked, lines, run),
        Err(Unread::Asked(text)) => say(&[&text]),
        Err(Unread::Wrong(why)) => Err(Stop::Failed(why)),
    };
    ended(result, &mut io::stderr())
}

fn done<L: Lines>(
    asked: Arguments,
    lines: impl FnOnce(Option<&Path>) -> L,
    run: impl FnOnce(&Run) -> Result<Exit, Stop>,
) -> Result<Exit, Stop> {
    match asked.verb {
        Some(Verb::Run(asked)) => run(&asked),
        Some(Verb::Plan { job }) => plan::run(&job),
        Some(Verb::Report(asked)) => report_file::run(&asked),
        Some(Verb::Import(asked)) => import::run(&asked),
        Some(Verb::Export { jobs }) => export::run(&jobs),
        Some(Verb::Compare(asked)) => compare::run(&asked),
        Some(Verb::Check(asked)) => check::run(&asked),
        Some(Verb::Schema) => say(&[export::SCHEMA]),
        Some(Verb::Serial { port, record }) => link::serial::run(&port, record.as_deref()),
        Some(Verb::Ingest { source }) => link::ingest::run(&source),
        Some(Verb::Send { job, port }) => link::send::run(&job, &port),
        Some(Verb::Tour) => tour::run(),
        Some(Verb::Completions { shell }) => say(&[&manual::completions(shell)]),
        Some(Verb::Manual) => say(&[&manual::page().map_err(|error| Stop::writing(&error))?]),
        Some(Verb::Help { verb: None }) => say(&[&manual::all()]),
        Some(Verb::Help { verb: Some(verb) }) => say(&[&manual::of(&verb).map_err(Stop::Failed)?]),
        None => {
            if io::stdin().is_terminal() && io::stdout().is_terminal() {
                say(&[VERSION, CAUTION])?;
            }
            let mut session = match asked.job {
                Some(path) => Session::open(lines(Some(&path)), &path, &mut io::stderr())?,
                None => Session::new(lines(None)),
            };
            if asked.sealed {
                session.seal();
            }
            session.run()
        }
    }
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
