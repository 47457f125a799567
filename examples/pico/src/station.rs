//! The examination on the board: a reading takes its place from the encoder, and a few words speak of the board.
//!
//! ```text
//! encoder                 the count, and where the probe is
//! encoder zero            the probe is at the datum
//! encoder run MM WITHIN   since then it was rolled MM millimetres, known within WITHIN: the scale
//! encoder check MM BY     a second run has to agree by BY millimetres
//! record                  whether facts are kept, and how many are
//! record erase            forgets every fact, here and in flash
//! board                   these words
//! ```
//!
//! A reading without `x=` is one at the encoder, or at the place that the button holds.

use core::fmt::Write;

use halfskip::record::entry::Entry;
use halfskip::record::examination::Room;
use halfskip::record::store::StoreError;
use halfskip::units::Millimetres;
use halfskip::units::decimal::Decimal;
use halfskip_console::port::{Fault, Kept, Station};
use halfskip_console::shell::{Outcome, Shell};
use halfskip_logger::NoReading;
use halfskip_sheets::InFlash;
use heapless::String;

use crate::board::Record;
use crate::wheel::Wheel;
use crate::{button, lamp};

const WORDS: &str = "\
encoder                 the count, and where the probe is
encoder zero            the probe is at the datum
encoder run MM WITHIN   since then it was rolled MM mm, known within WITHIN: the scale
encoder check MM BY     a second run has to agree by BY mm
record                  whether facts are kept, and how many are
record erase            forgets every fact, here and in flash
A reading without x= is one at the encoder, or where the button was pressed.
";
/// A line as long as the editor takes it, and the place behind it.
const LONGEST: usize = 192;
/// Bytes that a short note takes in the record (a number we chose): with less left the lamp says so.
const SHORT_LINE: usize = 32;

/// An examination whose facts are kept, beside a wheel.
pub struct OnBoard<'a> {
    kept: Kept<'a, Shell<InFlash>, Record>,
    wheel: Wheel,
}

impl<'a> OnBoard<'a> {
    pub fn new(kept: Kept<'a, Shell<InFlash>, Record>) -> Self {
        let station = Self { kept, wheel: Wheel::default() };
        station.tell();
        station
    }

    /// Has the lamp tell how it is.
    fn tell(&self) {
        lamp::show(match self.kept.fault() {
            None if self.full().is_none() => lamp::State::Recording,
            None | Some(Fault::Store(StoreError::Full)) => lamp::State::Full,
            Some(_) => lamp::State::Fault,
        });
    }

    /// What the examination has no more room for, the longest reading or a short line.
    fn full(&self) -> Option<&'static str> {
        let [readings, .., others] = self.kept.station().examination().facts().room();
        let full =
            |room: &Room, needed| (room.capacity.saturating_sub(room.used) < needed).then_some(room.what);
        full(&readings, 2).or(full(&others, SHORT_LINE))
    }

    fn said(&self, out: &mut dyn Write) -> core::fmt::Result {
        match (self.kept.fault(), self.full()) {
            (Some(fault), _) => write!(out, "not recording: {fault}")?,
            (None, Some(what)) => write!(out, "full: no room for more {what}")?,
            (None, None) => out.write_str("recording")?,
        }
        writeln!(out, "; {} facts are kept", self.kept.last())
    }

    fn told(&self, outcome: Outcome) -> Outcome {
        if matches!(outcome, Outcome::Recorded(_)) {
            lamp::wink();
        }
        self.tell();
        outcome
    }

    /// Answers what is about the board; none when the line is for the shell.
    fn board(&mut self, line: &str, out: &mut dyn Write) -> Option<Outcome> {
        let mut words = line.split_ascii_whitespace();
        let first = words.next()?;
        let rest = (words.next(), words.next(), words.next(), words.next());
        let said = match (first, rest) {
            ("board", (None, ..)) => out.write_str(WORDS),
            ("record", (None, ..)) => self.said(out),
            ("record", (Some("erase"), None, ..)) => match self.kept.erase() {
                Ok(()) => out.write_str("erased\n"),
                Err(fault) => writeln!(out, "not erased: {fault}"),
            },
            ("encoder", (None, ..)) => writeln!(out, "{}", self.wheel),
            ("encoder", (Some("zero"), None, ..)) => {
                self.wheel.zero();
                writeln!(out, "{}", self.wheel)
            }
            ("encoder", (Some("run"), Some(distance), Some(within), None)) => {
                let done = self.wheel.run(length(distance)?, length(within)?);
                self.answer(done, out)
            }
            ("encoder", (Some("check"), Some(distance), Some(by), None)) => {
                let done = self.wheel.check(length(distance)?, length(by)?);
                self.answer(done, out)
            }
            _ => return None,
        };
        // An answer that cannot be written is lost.
        let _ = said;
        Some(Outcome::Answered)
    }

    fn answer(&self, done: Result<(), NoReading>, out: &mut dyn Write) -> core::fmt::Result {
        match done {
            Ok(()) => writeln!(out, "{}", self.wheel),
            Err(why) => writeln!(out, "no scale: {why}"),
        }
    }

    /// Takes a reading at the encoder; none when the line is another, or says itself where.
    fn reading(&mut self, line: &str, out: &mut dyn Write) -> Option<Outcome> {
        let typed = line.split_once('#').map_or(line, |(typed, _)| typed);
        let mut words = typed.split_ascii_whitespace();
        if words.next() != Some("reading") || words.any(|word| word.starts_with("x=")) {
            return None;
        }
        let mut whole: String<LONGEST> = String::new();
        let by = if button::held().is_some() { "button" } else { "encoder" };
        let x = match self.wheel.place()? {
            Ok((x, _)) => x,
            Err(why) => {
                let _ = writeln!(out, "not recorded: {why}");
                return Some(Outcome::Refused { column: None });
            }
        };
        write!(whole, "{typed} x={x}mm").ok()?;
        let outcome = self.kept.line(whole.as_bytes(), out);
        if let Outcome::Recorded(_) = outcome {
            let _ = writeln!(out, "x {x} mm, by the {by}");
            button::release();
        }
        Some(outcome)
    }
}

fn length(text: &str) -> Option<Millimetres> {
    Millimetres::new(Decimal::parse(text).ok()?.value()).ok()
}

impl Station for OnBoard<'_> {
    fn line(&mut self, line: &[u8], out: &mut dyn Write) -> Outcome {
        let text = core::str::from_utf8(line).unwrap_or_default();
        let outcome = match self.board(text, out).or_else(|| self.reading(text, out)) {
            Some(outcome) => outcome,
            None => self.kept.line(line, out),
        };
        self.told(outcome)
    }

    fn record(&mut self, entry: Entry, out: &mut dyn Write) -> Outcome {
        let outcome = self.kept.record(entry, out);
        self.told(outcome)
    }

    fn entry(&self, number: u32) -> Option<Entry> {
        self.kept.entry(number)
    }

    fn last(&self) -> u32 {
        self.kept.last()
    }
}
