//! The doors that bytes come in by: the shell at a port, a job's text, frames, a criteria sheet, a table of readings.

use std::convert::Infallible;

use embedded_io::{ErrorType, Read, Write};
use halfskip::acceptance::criteria::DEFAULT_ROWS;
use halfskip::record::entry::frame::{self, Frame, FrameReader};
use halfskip_console::desk::import;
use halfskip_console::editor::{Editor, Mode};
use halfskip_console::port::serve;
use halfskip_console::sheets::OneSheet;
use halfskip_console::sheets::criteria as sheet_file;
use halfskip_console::shell::Shell;

use super::examination::{kept, the_same_when_kept};

struct Port<'a>(&'a [u8], Vec<u8>);

impl ErrorType for Port<'_> {
    type Error = Infallible;
}

impl Read for Port<'_> {
    fn read(&mut self, into: &mut [u8]) -> Result<usize, Infallible> {
        Ok(std::io::Read::read(&mut self.0, into).unwrap_or(0))
    }
}

impl Write for Port<'_> {
    fn write(&mut self, bytes: &[u8]) -> Result<usize, Infallible> {
        self.1.extend(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> Result<(), Infallible> {
        Ok(())
    }
}

/// A terminal's bytes at a device's port, frames among them; what is recorded is the same when it is kept.
///
/// # Panics
/// When it is not.
pub fn shell(data: &[u8]) {
    let mut port = Port(data, Vec::new());
    let mut editor: Editor = Editor::new(Mode::Terminal, "> ");
    let mut shell: Box<Shell<OneSheet<DEFAULT_ROWS>>> = Box::new(Shell::new(kept()));
    let Ok(()) = serve(&mut port, &mut editor, &mut *shell);
    the_same_when_kept(&shell);
}

/// A job's text, line by line.
///
/// # Panics
/// When what it records is not the same when it is kept.
pub fn job_text(data: &[u8]) {
    let mut shell: Box<Shell<OneSheet<DEFAULT_ROWS>>> = Box::new(Shell::new(kept()));
    for line in data.split(|byte| *byte == b'\n') {
        shell.line(line, &mut String::new());
    }
    the_same_when_kept(&shell);
}

/// A stream of frames: whatever is read is written again as bytes that are read the same.
///
/// # Panics
/// When it is not.
pub fn frames(data: &[u8]) {
    let (mut reader, mut buffer) = (FrameReader::new(), [0; frame::MAX_FRAME]);
    for byte in data {
        if let Some(Ok(Frame::Fact(entry))) = reader.push(*byte) {
            let again = frame::encode(&entry, &mut buffer).expect("what was read has room");
            assert_eq!(frame::decode(again), Ok(Frame::Fact(entry)));
        }
    }
    let _ = reader.finish();
}

/// A criteria sheet's text.
pub fn sheet(data: &[u8]) {
    if let Ok(text) = std::str::from_utf8(data) {
        let _ = sheet_file::read::<DEFAULT_ROWS>(text);
    }
}

/// A table of readings: every line that it gives is one that the language takes.
///
/// # Panics
/// When it is not.
pub fn table(data: &[u8]) {
    let Ok(readings) = import::readings("table", data, &mut std::io::sink()) else { return };
    for reading in readings {
        let taken = halfskip_console::commands::parse::line(
            reading.line.as_bytes(),
            halfskip::record::entry::LengthUnit::Mm,
        );
        assert!(taken.is_ok(), "{}", reading.line);
    }
}
