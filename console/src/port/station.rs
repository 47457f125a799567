//! What a port serves.

use core::fmt::Write;

use halfskip::record::entry::Entry;

use crate::sheets::Sheets;
use crate::shell::recorder::Recorder;
use crate::shell::{Outcome, Shell};

/// An examination at the other end of a port: it takes lines and facts, and gives its facts again.
pub trait Station {
    /// Takes one line and writes the answer.
    fn line(&mut self, line: &[u8], out: &mut dyn Write) -> Outcome;

    /// Takes a fact and writes the acknowledgement.
    fn record(&mut self, entry: Entry, out: &mut dyn Write) -> Outcome;

    /// The fact of a number.
    fn entry(&self, number: u32) -> Option<Entry>;

    /// The number of the last fact; 0 of none.
    fn last(&self) -> u32;
}

impl<
    S: Sheets<ROWS>,
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const SERIES: usize,
    const ROWS: usize,
> Station for Shell<S, PROBES, INDICATIONS, READINGS, LOG, SERIES, ROWS>
{
    fn line(&mut self, line: &[u8], out: &mut dyn Write) -> Outcome {
        Self::line(self, line, out)
    }

    fn record(&mut self, entry: Entry, out: &mut dyn Write) -> Outcome {
        Self::record(self, entry, out)
    }

    fn entry(&self, number: u32) -> Option<Entry> {
        self.examination().entry(number).map(|(entry, _)| entry)
    }

    fn last(&self) -> u32 {
        self.examination().last()
    }
}

impl<const PROBES: usize, const INDICATIONS: usize, const READINGS: usize, const LOG: usize> Station
    for Recorder<PROBES, INDICATIONS, READINGS, LOG>
{
    fn line(&mut self, line: &[u8], out: &mut dyn Write) -> Outcome {
        Self::line(self, line, out)
    }

    fn record(&mut self, entry: Entry, out: &mut dyn Write) -> Outcome {
        Self::record(self, entry, out)
    }

    fn entry(&self, number: u32) -> Option<Entry> {
        self.examination().entry(number).map(|(entry, _)| entry)
    }

    fn last(&self) -> u32 {
        self.examination().last()
    }
}
