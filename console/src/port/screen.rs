//! The port as something to write on.

use core::fmt;

use embedded_io::{Read, Write};
use halfskip::record::entry::Entry;
use halfskip::record::entry::frame::{Control, FrameError, MAX_FRAME, encode_control, encode_numbered};

use crate::language::text::Fault;

/// A port to write text and frames on; its first failure is kept until it can be told.
pub(super) struct Screen<'p, P: Write> {
    port: &'p mut P,
    /// A terminal wants a CR before each LF.
    terminal: bool,
    failed: Option<P::Error>,
}

impl<P: Read + Write> Screen<'_, P> {
    pub(super) fn read(&mut self, bytes: &mut [u8]) -> Result<usize, P::Error> {
        self.port.read(bytes)
    }
}

impl<'p, P: Write> Screen<'p, P> {
    pub(super) const fn new(port: &'p mut P, terminal: bool) -> Self {
        Self { port, terminal, failed: None }
    }

    pub(super) fn send(&mut self, bytes: &[u8]) {
        if self.failed.is_none()
            && let Err(error) = self.port.write_all(bytes)
        {
            self.failed = Some(error);
        }
    }

    pub(super) fn say(&mut self, text: fmt::Arguments<'_>) {
        // A failure of the port is kept by `send`.
        let _ = fmt::Write::write_fmt(self, text);
    }

    /// Tells why a line is none.
    pub(super) fn refuse(&mut self, fault: Fault) {
        match fault.column() {
            Some(column) => self.say(format_args!("column {column}: {fault}\n")),
            None => self.say(format_args!("{fault}\n")),
        }
    }

    pub(super) fn numbered(&mut self, number: u32, entry: &Entry) {
        let mut buffer = [0; MAX_FRAME];
        self.frame(encode_numbered(number, entry, &mut buffer));
    }

    pub(super) fn control(&mut self, control: Control) {
        let mut buffer = [0; 16];
        self.frame(encode_control(control, &mut buffer));
    }

    /// Every fact that is held has a frame.
    fn frame(&mut self, frame: Result<&[u8], FrameError>) {
        if let Ok(frame) = frame {
            self.send(frame);
        }
    }

    pub(super) fn flush(&mut self) -> Result<(), P::Error> {
        match self.failed.take() {
            Some(error) => Err(error),
            None => self.port.flush(),
        }
    }
}

impl<P: Write> fmt::Write for Screen<'_, P> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        if !self.terminal {
            self.send(text.as_bytes());
            return Ok(());
        }
        for (place, line) in text.split('\n').enumerate() {
            if place > 0 {
                self.send(b"\r\n");
            }
            self.send(line.as_bytes());
        }
        Ok(())
    }
}
