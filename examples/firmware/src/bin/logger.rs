//! A data logger: samples come over the first serial port in place of an encoder, two draw-wires and an instrument's gate,
//! and facts leave it as frames over the second. What cannot be a reading leaves as a note that says why.
//!
//! ```text
//! q S          the encoder's tracks, S a digit of 0 to 3: A is its bit 1, B its bit 0
//! s D A        calibrates: the counts since the last set are D mm within A
//! c D T        checks a second run of D mm, within T
//! z            sets the datum here
//! w A B        the lengths of the draw-wires in mm
//! e T H        an echo: its time in us, its height in percent, where the encoder stands and at the guide's stand-off
//! v T H        the same, where the draw-wires meet
//! ```
#![no_std]
#![no_main]

use core::fmt::Write;

use halfskip::calibration::timebase::TimeBase;
use halfskip::record::entry::frame::{MAX_FRAME, encode};
use halfskip::record::entry::{Entry, Name, Side, Sweep, Text};
use halfskip::units::decimal::Decimal;
use halfskip::units::{Decibels, Microseconds, Millimetres, Quantity, ScreenPercent};
use halfskip_firmware::{Serial, end};
use halfskip_logger::{Gate, Logger, NoReading, Quadrature, Scale, ScaleError, Stand, Wires};

/// Echoes of a calibration block that the logger was set up with (invented).
const ECHOES: [(Millimetres, Microseconds); 2] = [
    (Millimetres::constant(25.0), Microseconds::constant(17.625)),
    (Millimetres::constant(100.0), Microseconds::constant(64.5)),
];
/// Distance of the wires' anchors, and how well a wire is read.
const BASE: (Millimetres, Millimetres) = (Millimetres::constant(500.0), Millimetres::constant(0.5));
/// Where the guide keeps the index point.
const GUIDE: Millimetres = Millimetres::constant(31.0);

struct State {
    logger: Logger,
    indication: Name,
    counter: Quadrature,
    scale: Option<Scale>,
    wires: Wires,
    stand: Option<Stand>,
}

impl State {
    fn new() -> Option<Self> {
        Some(Self {
            logger: Logger {
                probe: Name::try_from("p60").ok()?,
                side: Side::A,
                base: TimeBase::fit(&ECHOES).ok()?.base(),
                gain: Decibels::constant(44.0),
                sweep: Some(Sweep::Along),
            },
            indication: Name::try_from("1").ok()?,
            counter: Quadrature::starting((false, false)),
            scale: None,
            wires: Wires::new(BASE.0, BASE.1).ok()?,
            stand: None,
        })
    }

    /// Takes one sample; the fact that it makes, if any.
    fn take(&mut self, line: &str) -> Option<Result<Entry, NoReading>> {
        let mut words = line.split_ascii_whitespace();
        match (words.next()?, words.next(), words.next()) {
            ("q", Some(tracks), None) => {
                let tracks = tracks.parse::<u8>().ok()?;
                self.counter.sample((tracks & 2 != 0, tracks & 1 != 0));
                None
            }
            ("z", None, None) => {
                self.counter.set(0);
                None
            }
            ("s", Some(distance), Some(half_width)) => {
                let (distance, half_width) = (quantity(distance)?, quantity(half_width)?);
                self.calibrate(distance, half_width).err().map(Err)
            }
            ("c", Some(distance), Some(tolerance)) => {
                let (distance, tolerance) = (quantity(distance)?, quantity(tolerance)?);
                self.check(distance, tolerance).err().map(Err)
            }
            ("w", Some(first), Some(second)) => {
                let stand = self.wires.place(quantity(first)?, quantity(second)?);
                self.stand = stand.ok();
                stand.err().map(|error| Err(error.into()))
            }
            ("e", Some(time), Some(height)) => {
                let gate = Gate { time: quantity(time)?, height: quantity(height)? };
                Some(self.at_the_encoder(gate))
            }
            ("v", Some(time), Some(height)) => {
                let gate = Gate { time: quantity(time)?, height: quantity::<ScreenPercent>(height)? };
                let stand = self.stand?;
                Some(self.logger.reading(&self.indication, stand.x, stand.y, gate))
            }
            _ => None,
        }
    }

    fn calibrate(&mut self, distance: Millimetres, half_width: Millimetres) -> Result<(), NoReading> {
        self.scale = None;
        self.scale = Some(Scale::over(distance, half_width, self.counter.count()?)?);
        Ok(())
    }

    /// A scale that a second run does not bear out is not used.
    fn check(&mut self, distance: Millimetres, tolerance: Millimetres) -> Result<(), NoReading> {
        let counts = self.counter.count()?;
        let scale = self.scale.take().ok_or(ScaleError::NotCalibrated)?;
        scale.check(distance, counts, tolerance)?;
        self.scale = Some(scale);
        Ok(())
    }

    fn at_the_encoder(&self, gate: Gate) -> Result<Entry, NoReading> {
        let scale = self.scale.ok_or(ScaleError::NotCalibrated)?;
        let x = scale.position(Millimetres::constant(0.0), self.counter.count()?)?;
        self.logger.reading(&self.indication, x, GUIDE, gate)
    }
}

fn quantity<Q: Quantity>(text: &str) -> Option<Q> {
    Q::checked(Decimal::parse(text).ok()?.value()).ok()
}

/// What cannot be a reading is told, not left out.
fn note(why: &NoReading) -> Entry {
    let mut text = Text::new();
    // What does not fit is cut off.
    let _ = write!(text, "no reading: {why}");
    Entry::Note(text)
}

fn send(port: &mut Serial, entry: &Entry) {
    let mut buffer = [0; MAX_FRAME];
    if let Ok(frame) = encode(entry, &mut buffer) {
        frame.iter().for_each(|byte| port.send(*byte));
    }
}

#[cortex_m_rt::entry]
fn main() -> ! {
    let (mut samples, mut frames) = (Serial::start(), Serial::second());
    if let Some(mut state) = State::new() {
        let mut line = heapless::String::<80>::new();
        loop {
            match samples.receive() {
                0x04 => break,
                b'\n' => {
                    match state.take(&line) {
                        None => {}
                        Some(Ok(entry)) => send(&mut frames, &entry),
                        Some(Err(why)) => send(&mut frames, &note(&why)),
                    }
                    line.clear();
                }
                byte => _ = line.push(char::from(byte)),
            }
        }
    }
    end()
}
