//! `halfskip ingest`: frames become job lines; what is no fact is told with its place and why.

use std::collections::BTreeMap;
use std::format;
use std::io::{self, Read, Write};
use std::path::Path;
use std::string::String;
use std::time::{Duration, Instant};

use halfskip::record::entry::Entry;
use halfskip::record::entry::frame::{Control, Frame, Mixed, Piece};

use super::{Gone, Wire, gone, open};
use crate::commands::write;
use crate::desk::args::Source;
use crate::desk::exit::{Exit, Stop, reason};
use crate::shell::framed::has_a_line;

/// After this a device is asked again.
const SILENCE: Duration = Duration::from_secs(1);

/// What the sender is to do.
enum Next {
    /// Go on.
    More,
    /// Send again from a number on.
    Again(u32),
    /// Nothing: this was all.
    Done,
}

/// Turns frames into job lines, and keeps account of what was not.
struct Account<'o> {
    name: String,
    out: &'o mut dyn Write,
    errors: &'o mut dyn Write,
    /// Bytes seen.
    bytes: u64,
    /// Where a run of text began, and how long it is.
    text: Option<(u64, u64)>,
    facts: u32,
    /// The facts that came with their numbers.
    numbered: BTreeMap<u32, Entry>,
    /// The number that the next numbered fact should have.
    expected: u32,
    /// What is missing can be asked for again.
    live: bool,
    exit: Exit,
}

impl<'o> Account<'o> {
    fn new(name: String, live: bool, out: &'o mut dyn Write, errors: &'o mut dyn Write) -> Self {
        let (text, numbered, exit) = (None, BTreeMap::new(), Exit::Done);
        Self { name, out, errors, bytes: 0, text, facts: 0, numbered, expected: 1, live, exit }
    }

    /// Takes a part of the stream.
    fn take(&mut self, part: Piece) -> Result<Next, Stop> {
        if !matches!(part, Piece::Text(_)) {
            self.end_text();
        }
        match part {
            Piece::Text(_) => {
                let (_, length) = self.text.get_or_insert((self.bytes, 0));
                *length += 1;
            }
            Piece::Frame(Frame::Fact(entry)) => self.fact(&entry)?,
            // Of a fact that is sent again nothing is said.
            Piece::Frame(Frame::Numbered(number, entry)) if number < self.expected => {
                if self.numbered.get(&number) != Some(&entry) {
                    self.tell(format_args!("entry {number} comes late or as another fact, and is left out"));
                }
            }
            // Those before it were lost, and are asked for again.
            Piece::Frame(Frame::Numbered(number, _)) if self.live && number > self.expected => {}
            Piece::Frame(Frame::Numbered(number, entry)) => {
                if number > self.expected {
                    let (first, last) = (self.expected, number - 1);
                    self.tell(format_args!("entries {first} to {last} are missing"));
                }
                self.expected = number.saturating_add(1);
                self.fact(&entry)?;
                self.numbered.insert(number, entry);
            }
            Piece::Frame(Frame::Control(Control::Last(last))) if self.live => {
                return Ok(if last < self.expected { Next::Done } else { Next::Again(self.expected) });
            }
            Piece::Frame(Frame::Control(_)) => {}
            Piece::Skipped(skipped) => self.tell(format_args!("{skipped}")),
        }
        Ok(Next::More)
    }

    fn fact(&mut self, entry: &Entry) -> Result<(), Stop> {
        let (mut line, mut why) = (String::new(), String::new());
        if !has_a_line(entry, &mut why) || write::entry(&mut line, entry).is_err() {
            self.tell(format_args!("{}", why.trim_end()));
            return Ok(());
        }
        line.push('\n');
        self.facts = self.facts.saturating_add(1);
        self.out
            .write_all(line.as_bytes())
            .and_then(|()| self.out.flush())
            .map_err(|error| Stop::writing(&error).after(self.exit))
    }

    fn end_text(&mut self) {
        if let Some((at, length)) = self.text.take() {
            let name = &self.name;
            // A standard error that is closed leaves only the exit status.
            let _ = writeln!(self.errors, "{name}: byte {at}: {length} bytes of text");
        }
    }

    fn tell(&mut self, what: core::fmt::Arguments<'_>) {
        let (name, at) = (&self.name, self.bytes);
        let _ = writeln!(self.errors, "{name}: byte {at}: {what}");
        self.exit = Exit::BadInput;
    }

    fn end(mut self, rest: Option<Piece>) -> Result<Exit, Stop> {
        if let Some(part) = rest {
            self.take(part)?;
        }
        self.end_text();
        if self.facts == 0 {
            self.tell(format_args!("there is no fact in it"));
        }
        Ok(self.exit)
    }
}

/// Turns a file of frames into job lines on `out`.
///
/// Returns [`Exit::BadInput`] when bytes of it were no facts, or numbers are missing; text between frames is told and
/// does not count.
///
/// # Errors
/// [`Stop`]: it cannot be read, or the lines cannot be written.
pub fn file(
    name: String,
    source: impl Read,
    out: &mut dyn Write,
    errors: &mut dyn Write,
) -> Result<Exit, Stop> {
    let mut account = Account::new(name, false, out, errors);
    let mut mixed = Mixed::new();
    for byte in io::BufReader::new(source).bytes() {
        let byte = byte
            .map_err(|error| Stop::Failed(format!("{}: cannot be read: {}", account.name, reason(&error))))?;
        account.bytes += 1;
        if let Some(part) = mixed.push(byte) {
            account.take(part)?;
        }
    }
    account.end(mixed.finish())
}

/// Asks a device for all its facts and turns them into job lines on `out`, until it has sent them or is gone.
///
/// A device that is not asked but sends as it measures is listened to until it is gone.
///
/// # Errors
/// [`Stop`]: the port fails, or the lines cannot be written.
pub fn device(
    name: String,
    device: impl Read + Write,
    out: &mut dyn Write,
    errors: &mut dyn Write,
) -> Result<Exit, Stop> {
    let mut account = Account::new(name, true, out, errors);
    let mut wire = Wire::new(device);
    let mut ask = Some(1);
    loop {
        let next = match ask.take().map_or(Ok(()), |from| wire.control(Control::Ask(from))) {
            Ok(()) => wire.next(Instant::now() + SILENCE),
            Err(why) => Err(why),
        };
        match next {
            Ok(Some(part)) => {
                account.bytes = wire.at();
                match account.take(part)? {
                    Next::More => {}
                    Next::Again(from) => ask = Some(from),
                    Next::Done => return account.end(None),
                }
            }
            Ok(None) => ask = Some(account.expected),
            Err(Gone::HungUp) => {
                let rest = wire.rest();
                account.bytes = wire.at();
                if account.expected == 1 {
                    return account.end(rest);
                }
                // That a frame was cut short goes without saying.
                account.tell(format_args!("the device is gone before it has sent its last fact"));
                return account.end(None);
            }
            Err(why) => return Err(gone(&account.name, &why)),
        }
    }
}

/// Turns the frames of a file, of standard input or of a device into job lines on standard output.
///
/// # Errors
/// [`Stop`]: it cannot be read, or the lines cannot be written.
pub fn run(source: &Source) -> Result<Exit, Stop> {
    let (mut out, mut errors) = (io::stdout().lock(), io::stderr());
    match source {
        Source::File(path) if is_port(path) => device(source.name(), open(path)?, &mut out, &mut errors),
        _ => file(source.name(), crate::desk::feed::open(source)?, &mut out, &mut errors),
    }
}

/// Whether a path is a device and no file.
#[must_use]
pub fn is_port(path: &Path) -> bool {
    use std::os::unix::fs::FileTypeExt;
    std::fs::metadata(path).is_ok_and(|found| found.file_type().is_char_device())
}
