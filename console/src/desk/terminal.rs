//! The terminal in raw mode, and back.

use std::io;
use std::os::fd::{AsFd, OwnedFd};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;

use rustix::termios::{OptionalActions, OutputModes, Termios, isatty, tcgetattr, tcgetwinsize, tcsetattr};
use signal_hook::consts::{SIGHUP, SIGINT, SIGQUIT, SIGTERM};
use signal_hook::iterator::Signals;
use signal_hook::low_level::emulate_default_handler;

/// Signals that end the program.
const ENDING: [i32; 4] = [SIGHUP, SIGINT, SIGQUIT, SIGTERM];

/// A terminal that passes every key on at once; dropping it restores what was set before, and so does a signal that ends the
/// program.
#[derive(Debug)]
pub struct RawMode<F: AsFd> {
    terminal: F,
    before: Termios,
    restored: Arc<AtomicBool>,
}

impl<F: AsFd> RawMode<F> {
    /// Sets a terminal to raw mode; none when it is no terminal.
    ///
    /// The terminal still puts a CR before each LF that is written.
    ///
    /// # Errors
    /// That the terminal cannot be set, or signals not be waited for.
    pub fn enter(terminal: F) -> io::Result<Option<Self>> {
        if !isatty(&terminal) {
            return Ok(None);
        }
        let before = tcgetattr(&terminal)?;
        let restored = Arc::new(AtomicBool::new(false));
        restore_on_signal(terminal.as_fd().try_clone_to_owned()?, before.clone(), Arc::clone(&restored))?;
        let mut raw = before.clone();
        raw.make_raw();
        raw.output_modes |= OutputModes::OPOST | OutputModes::ONLCR;
        tcsetattr(&terminal, OptionalActions::Now, &raw)?;
        Ok(Some(Self { terminal, before, restored }))
    }
}

/// Waits for a signal for as long as the program runs. It then restores the terminal, unless that was done, and the program
/// ends by the signal as any other does.
fn restore_on_signal(terminal: OwnedFd, before: Termios, restored: Arc<AtomicBool>) -> io::Result<()> {
    let mut signals = Signals::new(ENDING)?;
    thread::spawn(move || {
        for signal in signals.forever() {
            if !restored.load(Ordering::SeqCst) {
                let _ = tcsetattr(&terminal, OptionalActions::Now, &before);
            }
            let _ = emulate_default_handler(signal);
        }
    });
    Ok(())
}

impl<F: AsFd> Drop for RawMode<F> {
    fn drop(&mut self) {
        self.restored.store(true, Ordering::SeqCst);
        // A terminal that has gone cannot be restored, and need not be.
        let _ = tcsetattr(&self.terminal, OptionalActions::Now, &self.before);
    }
}

/// The columns of a terminal, when it tells them.
#[must_use]
pub fn columns(terminal: impl AsFd) -> Option<usize> {
    let columns = usize::from(tcgetwinsize(terminal).ok()?.ws_col);
    (columns > 0).then_some(columns)
}

/// Whether standard output is a terminal whose locale says UTF-8 (LC_ALL, else LC_CTYPE, else LANG).
#[must_use]
pub fn shows_utf8() -> bool {
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().filter_map(std::env::var_os);
    let locale = locale.into_iter().find(|value| !value.is_empty());
    let says = locale.is_some_and(|value| {
        let value = value.to_string_lossy().to_ascii_uppercase();
        value.ends_with("UTF-8") || value.ends_with("UTF8")
    });
    says && isatty(io::stdout())
}

#[cfg(test)]
mod tests {
    use super::*;
    use rustix::fs::{Mode, OFlags, open};
    use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
    use rustix::termios::{LocalModes, Winsize, tcsetwinsize};
    use std::vec::Vec;

    #[test]
    fn raw_mode_ends_with_its_guard() {
        let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).unwrap();
        grantpt(&master).unwrap();
        unlockpt(&master).unwrap();
        let name = ptsname(&master, Vec::new()).unwrap();
        let terminal = open(name, OFlags::RDWR | OFlags::NOCTTY, Mode::empty()).unwrap();
        let edits = || tcgetattr(&terminal).unwrap().local_modes.contains(LocalModes::ICANON);
        assert!(edits());
        let guard = RawMode::enter(&terminal).unwrap().expect("a terminal");
        assert!(!edits());
        drop(guard);
        assert!(edits());
        let size = Winsize { ws_row: 24, ws_col: 100, ws_xpixel: 0, ws_ypixel: 0 };
        tcsetwinsize(&terminal, size).unwrap();
        assert_eq!(columns(&terminal), Some(100));
    }

    #[test]
    fn what_is_no_terminal_is_left_alone() {
        let null = std::fs::File::open("/dev/null").unwrap();
        assert!(RawMode::enter(&null).unwrap().is_none());
        assert_eq!(columns(&null), None);
    }
}
