//! A device on the other end of a pseudo-terminal: the shell as firmware carries it, on a line that may be bad.

use std::fs::File;
use std::io::{Read, Write};
use std::os::fd::OwnedFd;
use std::os::unix::ffi::OsStringExt;
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use embedded_io::ErrorKind;
use halfskip_console::editor::{Editor, Mode};
use halfskip_console::port::serve;
use halfskip_console::sheets::NoSheets;
use halfskip_console::shell::Shell;
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use rustix::termios::{OptionalActions, tcgetattr, tcsetattr};

/// How bad the line is.
#[derive(Clone, Copy, Debug, Default)]
pub struct Line {
    /// Of so many bytes one has a bit turned, either way; of none when 0.
    pub noise: u32,
    /// How long the device thinks after each byte.
    pub pause: Duration,
    /// The device is unplugged after it has sent so many bytes.
    pub unplugged_after: Option<usize>,
}

/// The device's end.
struct Port {
    file: File,
    line: Line,
    seed: u64,
    sent: usize,
    closed: bool,
}

impl Port {
    fn disturb(&mut self, bytes: &mut [u8]) {
        for byte in bytes.iter_mut() {
            self.seed =
                self.seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let drawn = (self.seed >> 33) as u32;
            if self.line.noise > 0 && drawn.is_multiple_of(self.line.noise) {
                *byte ^= 1 << (drawn >> 8 & 7);
            }
        }
    }
}

impl embedded_io::ErrorType for Port {
    type Error = ErrorKind;
}

impl embedded_io::Read for Port {
    fn read(&mut self, into: &mut [u8]) -> Result<usize, ErrorKind> {
        let count = self.file.read(&mut into[..1]).unwrap_or(0);
        self.closed = count == 0;
        self.disturb(&mut into[..count]);
        thread::sleep(self.line.pause);
        Ok(count)
    }
}

impl embedded_io::Write for Port {
    fn write(&mut self, bytes: &[u8]) -> Result<usize, ErrorKind> {
        let mut bytes = bytes.to_vec();
        if let Some(end) = self.line.unplugged_after {
            bytes.truncate(end.saturating_sub(self.sent));
            if bytes.is_empty() {
                return Err(ErrorKind::BrokenPipe);
            }
        }
        self.disturb(&mut bytes);
        self.sent += bytes.len();
        self.file.write_all(&bytes).map_err(|_| ErrorKind::BrokenPipe)?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> Result<(), ErrorKind> {
        Ok(())
    }
}

/// A device that serves until its line is closed, and then gives its examination back.
pub struct Device {
    /// Where it is.
    pub path: PathBuf,
    served: JoinHandle<Box<Shell<NoSheets>>>,
    // Held open, so that the line is not hung up before the program has opened it.
    _other: File,
    // Held as well, so that a device that is unplugged at once does not take its port away before that.
    opened: Sender<()>,
}

impl Device {
    /// Plugs a device in that holds what these lines say.
    pub fn plugged(lines: &str, line: Line) -> Self {
        let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).unwrap();
        grantpt(&master).unwrap();
        unlockpt(&master).unwrap();
        let name = ptsname(&master, Vec::new()).unwrap().into_bytes();
        let path = PathBuf::from(std::ffi::OsString::from_vec(name));
        let other = File::options().read(true).write(true).open(&path).unwrap();
        let mut raw = tcgetattr(&other).unwrap();
        raw.make_raw();
        tcsetattr(&other, OptionalActions::Now, &raw).unwrap();
        let lines = lines.to_string();
        let (opened, is_opened) = channel();
        let served = thread::spawn(move || device(master, &lines, line, &is_opened));
        Self { path, served, _other: other, opened }
    }

    /// Lets go of the line, which then lives as long as the program has it open.
    pub fn into_served(self) -> JoinHandle<Box<Shell<NoSheets>>> {
        self.served
    }

    /// Unplugs it and looks at what it holds.
    pub fn unplug(self) -> Box<Shell<NoSheets>> {
        drop((self._other, self.opened));
        self.served.join().unwrap()
    }
}

fn device(master: OwnedFd, lines: &str, line: Line, opened: &Receiver<()>) -> Box<Shell<NoSheets>> {
    let mut shell: Box<Shell<NoSheets>> = Box::new(Shell::new(NoSheets));
    for fact in lines.lines() {
        shell.line(fact.as_bytes(), &mut String::new());
    }
    let mut editor: Editor = Editor::new(Mode::Terminal, "> ");
    let mut port = Port { file: File::from(master), line, seed: 1, sent: 0, closed: false };
    // Noise may look like a Ctrl-D. Whatever ends the line, the examination is there.
    while !port.closed && serve(&mut port, &mut editor, &mut *shell).is_ok() {}
    // Nothing is ever sent: it ends with the other end.
    let _ = opened.recv();
    shell
}
