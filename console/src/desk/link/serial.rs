//! `halfskip serial`: a terminal to the console of a device.

use std::format;
use std::io::{self, BufRead, Read, Write};
use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::{Duration, Instant};
use std::vec::Vec;

use halfskip::record::entry::frame::{Control, Frame, Piece};

use super::record::Record;
use super::{Gone, Wire, gone, open};
use crate::desk::LINE;
use crate::desk::exit::{Exit, Stop};
use crate::desk::lines::LineReader;
use crate::desk::names::shown;
use crate::desk::terminal::RawMode;

/// Ctrl-] ends the program; the device never sees it.
const QUIT: u8 = 0x1D;
/// How long the screen waits for the next byte before the keyboard is looked at.
const BLINK: Duration = Duration::from_millis(10);
/// How long a device may take to answer a line of a pipe.
const PATIENCE: Duration = Duration::from_secs(10);
/// Clears what may have been typed, and asks for a prompt.
const ATTENTION: &[u8] = b"\x15\r";

/// Connects keyboard and screen with a device, until Ctrl-], the end of a pipe, or the device is gone.
///
/// With a record, each fact that the device holds or takes is kept in that file.
///
/// # Errors
/// [`Stop`]: port or record cannot be had, the device is gone, or the record cannot be kept.
pub fn run(port: &Path, record: Option<&Path>) -> Result<Exit, Stop> {
    let (name, device) = (shown(port), open(port)?);
    // Without a port no record is begun.
    let record = record.map(|path| Record::open(path, &mut io::stderr())).transpose()?;
    let mut out = io::stdout().lock();
    let mut talk = Talk::new(&name, device, record, &mut out)?;
    let input = io::stdin();
    let raw = RawMode::enter(&input).map_err(|error| Stop::Failed(format!("terminal: {error}")))?;
    if raw.is_some() {
        // A standard error that is closed is no reason to stop.
        let _ = write!(io::stderr(), "{name}: connected; Ctrl-] ends\r\n");
        talk.type_on(&keyboard())
    } else {
        talk.feed(input.lock(), PATIENCE)
    }
}

/// The keys, read by a thread of their own: a keyboard cannot be waited for together with a port.
fn keyboard() -> Receiver<Vec<u8>> {
    let (sender, keys) = channel();
    // It ends with the program, or when nobody listens any more.
    thread::spawn(move || {
        let mut bytes = [0u8; 256];
        while let Ok(count @ 1..) = io::stdin().read(&mut bytes) {
            if sender.send(bytes.iter().take(count).copied().collect()).is_err() {
                break;
            }
        }
    });
    keys
}

/// A conversation with a device.
pub struct Talk<'t, D> {
    name: &'t str,
    wire: Wire<D>,
    record: Option<Record>,
    out: &'t mut dyn Write,
    /// The last characters shown.
    tail: [u8; 3],
}

impl<'t, D: Read + Write> Talk<'t, D> {
    /// Begins a conversation; with a record, all facts that the device holds are asked for.
    ///
    /// # Errors
    /// [`Stop`]: the device is gone.
    pub fn new(
        name: &'t str,
        device: D,
        record: Option<Record>,
        out: &'t mut dyn Write,
    ) -> Result<Self, Stop> {
        let mut talk = Self { name, wire: Wire::new(device), record, out, tail: [0; 3] };
        talk.ask(1)?;
        Ok(talk)
    }

    fn ask(&mut self, from: u32) -> Result<(), Stop> {
        if self.record.is_none() {
            return Ok(());
        }
        self.sent(|wire| wire.control(Control::Ask(from)))
    }

    fn sent(&mut self, send: impl FnOnce(&mut Wire<D>) -> Result<(), Gone>) -> Result<(), Stop> {
        send(&mut self.wire).map_err(|why| gone(self.name, &why))
    }

    /// Passes keys on until Ctrl-] or their end.
    ///
    /// # Errors
    /// [`Stop`]: the device is gone, or something cannot be written.
    pub fn type_on(&mut self, keys: &Receiver<Vec<u8>>) -> Result<Exit, Stop> {
        use std::sync::mpsc::TryRecvError::Disconnected;
        loop {
            self.show(Instant::now() + BLINK)?;
            match keys.try_recv() {
                Ok(typed) => {
                    let wanted = typed.iter().copied().take_while(|key| *key != QUIT);
                    let passed: Vec<u8> = wanted.filter(|key| *key != 0).collect();
                    self.sent(|wire| wire.bytes(&passed))?;
                    if typed.contains(&QUIT) {
                        return Ok(Exit::Done);
                    }
                }
                Err(Disconnected) => return Ok(Exit::Done),
                Err(_) => {}
            }
        }
    }

    /// Passes lines on, each when the device has answered the one before: a slow device is never outrun.
    ///
    /// # Errors
    /// [`Stop`]: the device does not answer in time or is gone, or something cannot be written.
    pub fn feed(&mut self, lines: impl BufRead, patience: Duration) -> Result<Exit, Stop> {
        self.typed(ATTENTION, patience)?;
        let mut reader = LineReader::new(lines, LINE);
        loop {
            let line = match reader.next_line() {
                Ok(Some(line)) => line,
                Ok(None) => return self.catch_up(patience),
                Err(error) => return Err(Stop::Failed(format!("stdin: cannot be read: {error}"))),
            };
            let text = line.text.map_err(|fault| Stop::Failed(format!("stdin:{}: {fault}", line.number)))?;
            let typed: Vec<u8> = text.bytes().chain([b'\r']).collect();
            self.typed(&typed, patience)?;
        }
    }

    fn typed(&mut self, bytes: &[u8], patience: Duration) -> Result<(), Stop> {
        self.tail = [0; 3];
        self.sent(|wire| wire.bytes(bytes))?;
        let end = Instant::now() + patience;
        while self.tail != *b"\n> " {
            if Instant::now() >= end {
                return Err(Stop::Failed(format!("{}: the device does not answer", self.name)));
            }
            self.show(Instant::now() + BLINK)?;
        }
        Ok(())
    }

    /// Waits until the record holds what the device does.
    fn catch_up(&mut self, patience: Duration) -> Result<Exit, Stop> {
        let end = Instant::now() + patience;
        let mut done = self.record.is_none();
        if let Some(next) = self.record.as_ref().map(Record::next) {
            self.ask(next)?;
        }
        while !done {
            if Instant::now() >= end {
                return Err(Stop::Failed(format!("{}: the record is not whole", self.name)));
            }
            done = self.show(Instant::now() + BLINK)?;
        }
        Ok(Exit::Done)
    }

    /// Shows what comes until a moment of silence; whether the device said that the record is whole.
    fn show(&mut self, end: Instant) -> Result<bool, Stop> {
        let mut whole = false;
        while let Some(part) = self.wire.next(end).map_err(|why| gone(self.name, &why))? {
            match part {
                Piece::Text(byte) => {
                    let [_, second, third] = self.tail;
                    self.tail = [second, third, byte];
                    self.out.write_all(&[byte]).map_err(|error| Stop::writing(&error))?;
                }
                Piece::Frame(Frame::Numbered(number, entry)) => {
                    if let Some(record) = &mut self.record {
                        record.keep(number, entry)?;
                    }
                }
                Piece::Frame(Frame::Control(Control::Last(last))) => {
                    if let Some(next) = self.record.as_ref().map(Record::next) {
                        whole = next > last;
                        if !whole {
                            self.ask(next)?;
                        }
                    }
                }
                Piece::Frame(_) | Piece::Skipped(_) => {}
            }
        }
        self.out.flush().map_err(|error| Stop::writing(&error))?;
        Ok(whole)
    }
}
