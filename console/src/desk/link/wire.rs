//! A line to a device: frames and text out of its bytes, frames into them.

use std::collections::VecDeque;
use std::io::{self, ErrorKind, Read, Write};
use std::time::Instant;

use halfskip::record::entry::Entry;
use halfskip::record::entry::frame::{
    Control, FrameError, MAX_FRAME, Mixed, Piece, encode, encode_control, encode_numbered,
};

/// Why no more comes from a device.
#[derive(Debug)]
pub enum Gone {
    /// It was unplugged, or its program has ended.
    HungUp,
    /// The port fails.
    Failed(io::Error),
}

impl From<io::Error> for Gone {
    fn from(error: io::Error) -> Self {
        // Unplugged devices give an input/output error, or that there is no such device.
        const EIO: i32 = 5;
        const ENXIO: i32 = 6;
        const ENODEV: i32 = 19;
        match (error.kind(), error.raw_os_error()) {
            (ErrorKind::BrokenPipe | ErrorKind::UnexpectedEof, _) | (_, Some(EIO | ENXIO | ENODEV)) => {
                Self::HungUp
            }
            _ => Self::Failed(error),
        }
    }
}

/// A line to a device, whose reading ends after a pause of its own when nothing comes.
#[derive(Debug)]
pub struct Wire<D> {
    device: D,
    mixed: Mixed,
    parts: VecDeque<(u64, Piece)>,
    /// Bytes that have come.
    came: u64,
    /// The byte that completed the last part given.
    at: u64,
}

impl<D: Read + Write> Wire<D> {
    /// A line on which nothing has come yet.
    pub const fn new(device: D) -> Self {
        Self { device, mixed: Mixed::new(), parts: VecDeque::new(), came: 0, at: 0 }
    }

    /// What comes next; none when nothing has come until `end`.
    ///
    /// # Errors
    /// [`Gone`].
    pub fn next(&mut self, end: Instant) -> Result<Option<Piece>, Gone> {
        let mut bytes = [0u8; 512];
        loop {
            if let Some((at, part)) = self.parts.pop_front() {
                self.at = at;
                return Ok(Some(part));
            }
            if Instant::now() >= end {
                return Ok(None);
            }
            let count = match self.device.read(&mut bytes) {
                Ok(0) => return Err(Gone::HungUp),
                Ok(count) => count,
                Err(error) => match error.kind() {
                    ErrorKind::TimedOut | ErrorKind::WouldBlock | ErrorKind::Interrupted => continue,
                    _ => return Err(error.into()),
                },
            };
            for byte in bytes.iter().take(count) {
                self.came = self.came.saturating_add(1);
                self.parts.extend(self.mixed.push(*byte).map(|part| (self.came, part)));
            }
        }
    }

    /// Which byte, counted from 1, completed the part that came last.
    pub const fn at(&self) -> u64 {
        self.at
    }

    /// What had begun to come when the device was gone.
    pub fn rest(&mut self) -> Option<Piece> {
        self.at = self.came;
        self.mixed.finish()
    }

    /// Sends a fact, to be numbered by the device.
    ///
    /// # Errors
    /// [`Gone`].
    pub fn fact(&mut self, entry: &Entry) -> Result<(), Gone> {
        let mut buffer = [0; MAX_FRAME];
        self.frame(encode(entry, &mut buffer))
    }

    /// Sends a fact with its number.
    ///
    /// # Errors
    /// [`Gone`].
    pub fn numbered(&mut self, number: u32, entry: &Entry) -> Result<(), Gone> {
        let mut buffer = [0; MAX_FRAME];
        self.frame(encode_numbered(number, entry, &mut buffer))
    }

    /// Sends a control.
    ///
    /// # Errors
    /// [`Gone`].
    pub fn control(&mut self, control: Control) -> Result<(), Gone> {
        let mut buffer = [0; 16];
        self.frame(encode_control(control, &mut buffer))
    }

    fn frame(&mut self, frame: Result<&[u8], FrameError>) -> Result<(), Gone> {
        let frame = frame.map_err(|error| Gone::Failed(io::Error::other(error)))?;
        self.bytes(frame)
    }

    /// Sends bytes as they are.
    ///
    /// # Errors
    /// [`Gone`].
    pub fn bytes(&mut self, bytes: &[u8]) -> Result<(), Gone> {
        self.device.write_all(bytes)?;
        self.device.flush()?;
        Ok(())
    }
}
