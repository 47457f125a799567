//! The shell on a serial port: the one file that does input and output on a device.

use core::fmt;

use embedded_io::{Read, Write};

use crate::editor::{Editor, Event, Mode};
use crate::sheets::Sheets;
use crate::shell::Shell;
use crate::text::Fault;

/// Serves a port until its other end says that no more will come: Ctrl-D on an empty line, or the end of the input.
///
/// # Errors
/// That of the port, when it cannot be read or written. What was recorded before stays recorded.
///
/// ```
/// use halfskip_console::editor::{Editor, Mode};
/// use halfskip_console::{port, sheets::NoSheets, shell::Shell};
/// # use embedded_io::{ErrorType, Read, Write};
/// # struct Loop<'a>(&'a [u8], Vec<u8>);
/// # impl ErrorType for Loop<'_> { type Error = core::convert::Infallible; }
/// # impl Read for Loop<'_> {
/// #     fn read(&mut self, into: &mut [u8]) -> Result<usize, Self::Error> { Ok(self.0.read(into).unwrap()) }
/// # }
/// # impl Write for Loop<'_> {
/// #     fn write(&mut self, bytes: &[u8]) -> Result<usize, Self::Error> { self.1.extend(bytes); Ok(bytes.len()) }
/// #     fn flush(&mut self) -> Result<(), Self::Error> { Ok(()) }
/// # }
/// let mut port = Loop(b"units mm\r", Vec::new());
/// let mut editor: Editor = Editor::new(Mode::Terminal, "> ");
/// let mut shell: Box<Shell<NoSheets>> = Box::new(Shell::new(NoSheets));
/// port::serve(&mut port, &mut editor, &mut shell).unwrap();
/// assert_eq!(port.1, b"> units mm\r\n1: units recorded\r\n> ");
/// ```
pub fn serve<
    P: Read + Write,
    S: Sheets<ROWS>,
    const LINE: usize,
    const HISTORY: usize,
    const PROBES: usize,
    const INDICATIONS: usize,
    const READINGS: usize,
    const LOG: usize,
    const SERIES: usize,
    const ROWS: usize,
>(
    port: &mut P,
    editor: &mut Editor<LINE, HISTORY>,
    shell: &mut Shell<S, PROBES, INDICATIONS, READINGS, LOG, SERIES, ROWS>,
) -> Result<(), P::Error> {
    let mut screen = Screen { port, terminal: editor.mode() == Mode::Terminal, failed: None };
    editor.prompt(|bytes| screen.send(bytes));
    loop {
        screen.flush()?;
        let mut bytes = [0u8; 16];
        let count = screen.port.read(&mut bytes)?;
        if count == 0 {
            return Ok(());
        }
        for byte in bytes.iter().take(count) {
            match editor.push(*byte, |bytes| screen.send(bytes)) {
                None => continue,
                Some(Event::Line(line)) => {
                    shell.line(line.as_bytes(), &mut screen);
                }
                Some(Event::Refused(fault)) => screen.refuse(fault),
                Some(Event::Interrupted) => {}
                Some(Event::End) => return screen.flush(),
            }
            editor.prompt(|bytes| screen.send(bytes));
        }
    }
}

/// The port as something to write on; the first failure is kept until it can be told.
struct Screen<'p, P: Write> {
    port: &'p mut P,
    /// A terminal wants a CR before each LF.
    terminal: bool,
    failed: Option<P::Error>,
}

impl<P: Write> Screen<'_, P> {
    fn send(&mut self, bytes: &[u8]) {
        if self.failed.is_none()
            && let Err(error) = self.port.write_all(bytes)
        {
            self.failed = Some(error);
        }
    }

    fn refuse(&mut self, fault: Fault) {
        use fmt::Write;
        // A failure of the port is kept by `send`.
        let _ = match fault.column() {
            Some(column) => writeln!(self, "column {column}: {fault}"),
            None => writeln!(self, "{fault}"),
        };
    }

    fn flush(&mut self) -> Result<(), P::Error> {
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
