//! A line editor for a serial port or a terminal in raw mode: bytes in, echo and events out.
//!
//! Keys: backspace, delete, left and right, home and end (Ctrl-A, Ctrl-E), up and down through the last lines, Ctrl-U
//! to clear the line, Ctrl-C to drop it, Ctrl-D on an empty line to end. CR, LF and CR LF each end a line once.
//!
//! A line is passed on whole or refused: what does not fit, a NUL and bytes that are not UTF-8 spoil the line they
//! stand in, so that half of what was sent can never be taken for a reading.

mod buffer;
mod history;
mod keys;
mod view;

use crate::language::text::Fault;
use buffer::Buffer;
use history::History;
use keys::{Key, Keys};
use view::View;

/// Rings the terminal's bell.
const BELL: &[u8] = b"\x07";

/// Who is at the other end.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Mode {
    /// A person at a terminal: characters are echoed and keys edit.
    Terminal,
    /// A program that sends lines: nothing is echoed, and a control code spoils its line.
    Plain,
}

/// What a byte completed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Event<'a> {
    /// A line, without its end.
    Line(&'a str),
    /// A line that cannot be taken; nothing of it is kept.
    Refused(Fault),
    /// Ctrl-C: the line was dropped.
    Interrupted,
    /// Ctrl-D on an empty line: no more will come.
    End,
}

/// The editor of one line, `LINE` bytes long at most, which remembers the last `HISTORY` lines.
///
/// ```
/// use halfskip_console::editor::{Editor, Event, Mode};
/// let mut editor: Editor = Editor::new(Mode::Terminal, "> ");
/// let mut screen = Vec::new();
/// let mut echo = |bytes: &[u8]| screen.extend_from_slice(bytes);
/// for byte in *b"sise\x7f\x7fze 1" {
///     assert_eq!(editor.push(byte, &mut echo), None);
/// }
/// assert_eq!(editor.push(b'\r', &mut echo), Some(Event::Line("size 1")));
/// assert_eq!(screen, b"sise\x08 \x08\x08 \x08ze 1\r\n");
/// ```
#[derive(Clone, Debug)]
pub struct Editor<const LINE: usize = 160, const HISTORY: usize = 4> {
    mode: Mode,
    keys: Keys,
    line: Buffer<LINE>,
    history: History<LINE, HISTORY>,
    view: View,
    /// What spoiled the line, the first of several.
    fault: Option<Fault>,
    /// The line was passed on and makes room when the next byte comes.
    passed_on: bool,
}

impl<const LINE: usize, const HISTORY: usize> Editor<LINE, HISTORY> {
    /// An editor with an empty line, for a terminal of 80 columns.
    #[must_use]
    pub const fn new(mode: Mode, prompt: &'static str) -> Self {
        Self {
            mode,
            keys: Keys::new(),
            line: Buffer::new(),
            history: History::new(),
            view: View::new(prompt, 80),
            fault: None,
            passed_on: false,
        }
    }

    /// Who is at the other end.
    #[must_use]
    pub const fn mode(&self) -> Mode {
        self.mode
    }

    /// Tells how wide the terminal is; longer lines are shown in part.
    pub fn set_columns(&mut self, columns: usize) {
        self.view.set_columns(columns);
    }

    /// Echoes the prompt, before the first line and after each answer; nothing in [`Mode::Plain`].
    pub fn prompt(&mut self, mut echo: impl FnMut(&[u8])) {
        if self.mode == Mode::Terminal {
            self.view.prompt(&mut echo);
        }
    }

    /// Takes one byte; an event when it completes one.
    pub fn push(&mut self, byte: u8, mut echo: impl FnMut(&[u8])) -> Option<Event<'_>> {
        if core::mem::take(&mut self.passed_on) {
            self.line.clear();
        }
        let (cut, key) = self.keys.push(byte);
        if cut {
            let column = self.column();
            self.spoil(Fault::NotUtf8 { column }, &mut echo);
        }
        match key? {
            Key::Enter => {
                self.echo(b"\r\n", &mut echo);
                return Some(self.enter());
            }
            Key::Interrupt => {
                self.echo(b"^C\r\n", &mut echo);
                self.restart();
                return Some(Event::Interrupted);
            }
            Key::EndOfInput if self.line.is_empty() && self.fault.is_none() => {
                self.echo(b"\r\n", &mut echo);
                return Some(Event::End);
            }
            Key::Nul => {
                let column = self.column();
                self.spoil(Fault::Nul { column }, &mut echo);
            }
            Key::NotUtf8 => {
                let column = self.column();
                self.spoil(Fault::NotUtf8 { column }, &mut echo);
            }
            Key::Character(character) => self.character(character, &mut echo),
            key if self.mode == Mode::Terminal => self.edit(key, &mut echo),
            _ => {
                let column = self.column();
                self.spoil(Fault::Control { column }, &mut echo);
            }
        }
        None
    }

    fn character(&mut self, character: char, echo: &mut impl FnMut(&[u8])) {
        let terminal = self.mode == Mode::Terminal;
        // A terminal moves on by an unknown width at a tabulator.
        let character = if terminal && character == '\t' { ' ' } else { character };
        if self.fault.is_some() {
            self.echo(BELL, echo);
        } else if !self.line.insert(character) {
            self.spoil(Fault::TooLong { limit: LINE }, echo);
        } else if terminal {
            self.view.typed(&self.line, character, echo);
        }
    }

    fn edit(&mut self, key: Key, echo: &mut impl FnMut(&[u8])) {
        let done = match key {
            Key::Backspace if self.line.backspace() => return self.view.erased(&self.line, echo),
            Key::Delete | Key::EndOfInput => self.line.delete(),
            Key::Left => self.line.left(),
            Key::Right => self.line.right(),
            Key::Home => {
                self.line.home();
                true
            }
            Key::End => {
                self.line.end();
                true
            }
            Key::Clear => {
                self.restart();
                true
            }
            Key::Up | Key::Down => self.recall(key == Key::Up),
            _ => false,
        };
        if !done {
            echo(BELL);
        }
        self.view.draw(&self.line, echo);
    }

    /// Shows an older or a newer line in place of this one; false when there is none.
    fn recall(&mut self, older: bool) -> bool {
        let line = if older { self.history.older(self.line.text()) } else { self.history.newer() };
        let Some(line) = line else {
            return false;
        };
        self.line.replace(line);
        self.fault = None;
        true
    }

    /// The line is complete.
    fn enter(&mut self) -> Event<'_> {
        if let Some(fault) = self.fault.take() {
            self.restart();
            return Event::Refused(fault);
        }
        self.passed_on = true;
        let line = self.line.text();
        self.history.keep(line);
        Event::Line(line)
    }

    fn restart(&mut self) {
        self.line.clear();
        self.history.leave();
        self.fault = None;
    }

    fn spoil(&mut self, fault: Fault, echo: &mut impl FnMut(&[u8])) {
        self.fault.get_or_insert(fault);
        self.echo(BELL, echo);
    }

    /// The column of the character to come.
    fn column(&self) -> usize {
        self.line.cursor().saturating_add(1)
    }

    fn echo(&self, bytes: &[u8], echo: &mut impl FnMut(&[u8])) {
        if self.mode == Mode::Terminal {
            echo(bytes);
        }
    }
}
