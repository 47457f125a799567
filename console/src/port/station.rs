//! What a port serves.

use core::fmt::Write;

use halfskip::record::entry::Entry;

use crate::sheets::Sheets;
use crate::shell::keep::Keep;
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

/// A station that can have its facts kept before it acknowledges them: what [`Kept`](super::Kept) needs.
pub trait Keeping: Station {
    /// Takes one line as [`Station::line`] does.
    fn line_kept(&mut self, line: &[u8], keep: &mut impl Keep, out: &mut dyn Write) -> Outcome;

    /// Takes a fact as [`Station::record`] does.
    fn record_kept(&mut self, entry: Entry, keep: &mut impl Keep, out: &mut dyn Write) -> Outcome;

    /// Forgets every fact.
    fn clear(&mut self);
}

/// Both traits by the methods of the same names.
macro_rules! stations {
    ($([$($parameters:tt)*] $station:ty;)*) => {$(
        impl<$($parameters)*> Station for $station {
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

        impl<$($parameters)*> Keeping for $station {
            fn line_kept(&mut self, line: &[u8], keep: &mut impl Keep, out: &mut dyn Write) -> Outcome {
                Self::line_kept(self, line, keep, out)
            }

            fn record_kept(&mut self, entry: Entry, keep: &mut impl Keep, out: &mut dyn Write) -> Outcome {
                Self::record_kept(self, entry, keep, out)
            }

            fn clear(&mut self) {
                Self::clear(self);
            }
        }
    )*};
}

stations! {
    [S: Sheets<ROWS>, const PROBES: usize, const INDICATIONS: usize, const READINGS: usize, const LOG: usize,
        const SERIES: usize, const ROWS: usize, const LINKS: usize, const KEPT: usize]
    Shell<S, PROBES, INDICATIONS, READINGS, LOG, SERIES, ROWS, LINKS, KEPT>;
    [const PROBES: usize, const INDICATIONS: usize, const READINGS: usize, const LOG: usize]
    Recorder<PROBES, INDICATIONS, READINGS, LOG>;
}
