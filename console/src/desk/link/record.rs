//! A device's facts kept in a job file, each on disk as it comes.

use std::format;
use std::io::Write;
use std::path::Path;
use std::string::String;
use std::vec::Vec;

use halfskip::record::entry::Entry;

use super::facts::Facts;
use crate::commands::write;
use crate::desk::Outcome;
use crate::desk::exit::Stop;
use crate::desk::feed::tell;
use crate::desk::job::{Job, Opened};
use crate::desk::names::shown;
use crate::shell::framed::has_a_line;

/// A job file that follows a device.
#[derive(Debug)]
pub struct Record {
    name: String,
    job: Job,
    held: Vec<Entry>,
}

impl Record {
    /// Opens or makes a job file; the facts that it holds have to be the device's first ones.
    ///
    /// # Errors
    /// [`Stop`]: it cannot be had, or has lines that are not good; each of them is told on `errors`.
    pub fn open(path: &Path, errors: &mut dyn Write) -> Result<Self, Stop> {
        let name = shown(path);
        let mut facts = Facts::default();
        let (job, opened) = Job::open(path, |line| {
            let mut why = String::new();
            let outcome = match line.text {
                Ok(text) => facts.take(text.as_bytes(), &mut why),
                Err(fault) => {
                    why = format!("{fault}");
                    Outcome::Refused { column: fault.column() }
                }
            };
            if let Outcome::Refused { column } = outcome {
                tell(errors, &name, line.number, column, &why);
                return false;
            }
            true
        })
        .map_err(|error| Stop::Failed(format!("{error}")))?;
        let Opened { torn, .. } = opened;
        if let Some(aside) = torn {
            let aside = shown(&aside);
            // A standard error that is closed leaves only the exit status.
            let _ = writeln!(errors, "{name}: the last line was cut short; its piece is in {aside}");
        }
        let held = facts.into_facts().into_iter().map(|fact| fact.entry).collect();
        Ok(Self { name, job, held })
    }

    /// The number of the fact that it wants next.
    #[must_use]
    pub fn next(&self) -> u32 {
        u32::try_from(self.held.len()).unwrap_or(u32::MAX).saturating_add(1)
    }

    /// Keeps a fact of the device; false when facts before it are missing, which have to be asked for again.
    ///
    /// # Errors
    /// [`Stop`]: it is another fact than the file holds, or cannot be written.
    pub fn keep(&mut self, number: u32, entry: Entry) -> Result<bool, Stop> {
        let next = self.next();
        if number > next || number == 0 {
            return Ok(false);
        }
        if number < next {
            let place = usize::try_from(number).unwrap_or(usize::MAX).saturating_sub(1);
            return if self.held.get(place) == Some(&entry) { Ok(true) } else { Err(self.other(number)) };
        }
        let (mut line, mut why) = (String::new(), String::new());
        if !has_a_line(&entry, &mut why) || write::entry(&mut line, &entry).is_err() {
            return Err(Stop::Failed(format!("{}: fact {number}: {}", self.name, why.trim_end())));
        }
        self.job.append(line.as_bytes()).map_err(|error| Stop::Failed(format!("{error}")))?;
        self.held.push(entry);
        Ok(true)
    }

    fn other(&self, number: u32) -> Stop {
        Stop::Failed(format!("{}: fact {number} is not that of the device; name another file", self.name))
    }
}
