//! Opening what may never open: a pipe waits for its other end.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::os::unix::fs::FileTypeExt;
use std::path::Path;
use std::sync::mpsc::channel;
use std::thread;
use std::time::Duration;

/// How long the other end of a pipe may take: a number of ours, for a program started by hand in the same moment.
const PATIENCE: Duration = Duration::from_secs(5);

/// Opens a file as `options` say; a pipe whose other end nobody opens is waited for no longer than five seconds.
///
/// # Errors
/// That it cannot be opened.
pub fn opened(path: &Path, options: &OpenOptions) -> io::Result<File> {
    if !fs::metadata(path).is_ok_and(|found| found.file_type().is_fifo()) {
        return options.open(path);
    }
    let (sender, opened) = channel();
    let (path, options) = (path.to_path_buf(), options.clone());
    // Where nobody comes it ends with the program.
    thread::spawn(move || sender.send(options.open(path)));
    let nobody =
        |_| Err(io::Error::new(io::ErrorKind::TimedOut, "nobody has opened the other end of this pipe"));
    opened.recv_timeout(PATIENCE).unwrap_or_else(nobody)
}
