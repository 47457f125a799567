//! `halfskip send`: a job goes to a device, fact by fact, each until it is acknowledged.

use std::format;
use std::io::{self, Read, Write};
use std::path::Path;
use std::string::String;
use std::time::{Duration, Instant};

use halfskip::record::entry::frame::{Control, Frame, Piece};

use super::facts::{self, Fact};
use super::{Wire, gone, open};
use crate::desk::args::Source;
use crate::desk::exit::{Exit, Stop};
use crate::desk::names::shown;

/// How long an answer may take before the fact is sent again; a busy device takes its time.
const PATIENCE: Duration = Duration::from_secs(2);
/// How often a fact is sent before the device is given up.
const TRIES: u32 = 5;

/// Sends a job to a device.
///
/// # Errors
/// [`Stop`]: the job or the port cannot be had, the device holds other facts, refuses one or does not answer.
pub fn run(job: &Source, port: &Path) -> Result<Exit, Stop> {
    let facts = facts::read(job, &mut io::stderr())?;
    let names = (job.name(), shown(port));
    let taken = send(&facts, (&names.0, &names.1), open(port)?, PATIENCE)?;
    let mut out = io::stdout();
    writeln!(out, "{}: {taken} of {} facts sent, the device holds all of them", names.1, facts.len())
        .map_err(|error| Stop::writing(&error))?;
    Ok(Exit::Done)
}

/// What a device says of the fact that it was sent.
enum Answer {
    /// It holds it.
    Holds,
    /// It does not take it.
    Refuses,
    /// Its last number is another.
    Last(u32),
}

/// Sends facts to a device that may hold the first of them already; returns how many it has taken.
///
/// `names` are those of the job and of the port, for messages; `patience` is how long an answer may take.
///
/// # Errors
/// [`Stop`]: the device holds other facts, refuses one, does not answer or is gone.
pub fn send(
    facts: &[Fact],
    names: (&str, &str),
    device: impl Read + Write,
    patience: Duration,
) -> Result<u32, Stop> {
    let (job, port) = names;
    let mut sender = Sender { wire: Wire::new(device), port, patience, said: String::new() };
    let held = sender.last()?;
    let mut taken = 0u32;
    for (number, fact) in (1u32..).zip(facts) {
        match sender.one(number, fact)? {
            Answer::Holds => taken = taken.saturating_add(u32::from(number > held)),
            Answer::Refuses => {
                let (line, said) = (fact.line, sender.said());
                return Err(Stop::Failed(format!("{job}:{line}: the device refuses: {said}")));
            }
            Answer::Last(last) => {
                return Err(Stop::Failed(format!(
                    "{port}: the device holds {last} facts where it held {}; was it restarted?",
                    number.saturating_sub(1)
                )));
            }
        }
    }
    Ok(taken)
}

struct Sender<'n, D> {
    wire: Wire<D>,
    port: &'n str,
    patience: Duration,
    /// The text since the last fact was sent.
    said: String,
}

impl<D: Read + Write> Sender<'_, D> {
    /// The number of the device's last fact.
    fn last(&mut self) -> Result<u32, Stop> {
        for _ in 0..TRIES {
            // From beyond the last: only its number is wanted.
            self.wire.control(Control::Ask(u32::MAX)).map_err(|why| gone(self.port, &why))?;
            let last = self.answer(|frame| match frame {
                Frame::Control(Control::Last(last)) => Some(last),
                _ => None,
            })?;
            if let Some(last) = last {
                return Ok(last);
            }
        }
        Err(self.silent())
    }

    /// Sends one fact until the device says something of it.
    fn one(&mut self, number: u32, fact: &Fact) -> Result<Answer, Stop> {
        for _ in 0..TRIES {
            self.said.clear();
            self.wire.numbered(number, &fact.entry).map_err(|why| gone(self.port, &why))?;
            let answer = self.answer(|frame| match frame {
                Frame::Numbered(held, entry) if held == number && entry == fact.entry => Some(Answer::Holds),
                Frame::Control(Control::Refused(refused)) if refused == number => Some(Answer::Refuses),
                Frame::Control(Control::Last(last)) if last.saturating_add(1) < number => {
                    Some(Answer::Last(last))
                }
                _ => None,
            })?;
            if let Some(answer) = answer {
                return Ok(answer);
            }
        }
        Err(self.silent())
    }

    /// Waits for the frame that is meant; none when the device takes too long.
    fn answer<A>(&mut self, meant: impl Fn(Frame) -> Option<A>) -> Result<Option<A>, Stop> {
        let end = Instant::now() + self.patience;
        while let Some(part) = self.wire.next(end).map_err(|why| gone(self.port, &why))? {
            match part {
                Piece::Text(byte) => self.said.push(char::from(byte)),
                Piece::Frame(frame) => {
                    if let Some(answer) = meant(frame) {
                        return Ok(Some(answer));
                    }
                }
                Piece::Skipped(_) => {}
            }
        }
        Ok(None)
    }

    fn silent(&self) -> Stop {
        Stop::Failed(format!("{}: the device does not answer", self.port))
    }

    /// The device's own words, in one line.
    fn said(&self) -> String {
        let words = self.said.split_whitespace().filter(|word| *word != ">");
        words.fold(String::new(), |mut line, word| {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
            line
        })
    }
}
