//! The shell on a serial port: the one file that does input and output on a device.
//!
//! A person types lines and reads answers. A program may send frames among them, and is answered in frames: a fact with
//! its number is taken once however often it comes, and acknowledged by sending it back; [`Control::Ask`] has all facts
//! sent from a number on, and from then on each one that is taken.

mod kept;
mod screen;
mod station;

pub use kept::{Fault, Kept};
pub use station::{Keeping, Station};

use embedded_io::{Read, Write};
use halfskip::record::entry::Entry;
use halfskip::record::entry::frame::{Control, Frame, Mixed, Piece};

use crate::editor::{Editor, Event, Mode};
use crate::shell::Outcome;
use crate::shell::framed::{has_a_line, same};
use screen::Screen;

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
/// port::serve(&mut port, &mut editor, &mut *shell).unwrap();
/// assert_eq!(port.1, b"> units mm\r\n1: units recorded\r\n> ");
/// ```
pub fn serve<P: Read + Write, const LINE: usize, const HISTORY: usize>(
    port: &mut P,
    editor: &mut Editor<LINE, HISTORY>,
    shell: &mut impl Station,
) -> Result<(), P::Error> {
    let mut screen = Screen::new(port, editor.mode() == Mode::Terminal);
    let mut mixed = Mixed::new();
    // Whether the other end wants each fact as a frame.
    let mut asked = false;
    editor.prompt(|bytes| screen.send(bytes));
    loop {
        screen.flush()?;
        let mut bytes = [0u8; 16];
        let count = screen.read(&mut bytes)?;
        if count == 0 {
            return Ok(());
        }
        for byte in bytes.iter().take(count) {
            match next(&mut mixed, *byte, shell, &mut asked, &mut screen) {
                Next::Nothing => continue,
                Next::Text(byte) => match editor.push(byte, |bytes| screen.send(bytes)) {
                    None => continue,
                    Some(Event::Line(line)) => {
                        let outcome = shell.line(line.as_bytes(), &mut screen);
                        if let (true, Outcome::Recorded(number)) = (asked, outcome) {
                            acknowledge(shell, number, &mut screen);
                        }
                    }
                    Some(Event::Refused(fault)) => screen.refuse(fault),
                    Some(Event::Interrupted) => {}
                    Some(Event::End) => return screen.flush(),
                },
                Next::Said => {}
            }
            editor.prompt(|bytes| screen.send(bytes));
        }
    }
}

/// What a byte came to.
enum Next {
    /// Nothing that anyone sees.
    Nothing,
    /// A byte of a line.
    Text(u8),
    /// Something was written.
    Said,
}

/// Takes a byte, and the frame that it may be the end of. Apart from lines, so that neither lies on the stack below the
/// other.
#[inline(never)]
fn next<P: Write>(
    mixed: &mut Mixed,
    byte: u8,
    shell: &mut impl Station,
    asked: &mut bool,
    screen: &mut Screen<'_, P>,
) -> Next {
    match mixed.push(byte) {
        None => Next::Nothing,
        Some(Piece::Text(byte)) => Next::Text(byte),
        Some(Piece::Frame(frame)) => {
            if framed(shell, frame, asked, screen) {
                Next::Nothing
            } else {
                Next::Said
            }
        }
        Some(Piece::Skipped(skipped)) => {
            screen.say(format_args!("{skipped}\n"));
            Next::Said
        }
    }
}

/// Takes what came in a frame; whether it was a control, which no person sees.
#[inline(never)]
fn framed<P: Write>(
    shell: &mut impl Station,
    frame: Frame,
    asked: &mut bool,
    screen: &mut Screen<'_, P>,
) -> bool {
    match frame {
        Frame::Control(Control::Ask(from)) => {
            *asked = true;
            (from..=shell.last()).for_each(|number| acknowledge(shell, number, screen));
            screen.control(Control::Last(shell.last()));
            true
        }
        Frame::Control(_) => true,
        Frame::Fact(entry) => {
            take(shell, None, entry, screen);
            false
        }
        Frame::Numbered(number, entry) => {
            take(shell, Some(number), entry, screen);
            false
        }
    }
}

/// Takes a fact that came in a frame.
#[inline(never)]
fn take<P: Write>(shell: &mut impl Station, number: Option<u32>, entry: Entry, screen: &mut Screen<'_, P>) {
    let last = shell.last();
    let next = last.saturating_add(1);
    let number = number.unwrap_or(next);
    if number > next {
        // Some have been lost on the way.
        return screen.control(Control::Last(last));
    }
    if number < next {
        if shell.entry(number).is_some_and(|held| same(&held, &entry)) {
            return acknowledge(shell, number, screen);
        }
        screen.say(format_args!("not recorded: entry {number} is another fact\n"));
        return screen.control(Control::Refused(number));
    }
    if has_a_line(&entry, screen)
        && let Outcome::Recorded(number) = shell.record(entry, screen)
    {
        return acknowledge(shell, number, screen);
    }
    screen.control(Control::Refused(number));
}

/// Sends a fact that is held, with its number.
#[inline(never)]
fn acknowledge<P: Write>(shell: &impl Station, number: u32, screen: &mut Screen<'_, P>) {
    if let Some(entry) = shell.entry(number) {
        screen.numbered(number, &entry);
    }
}
