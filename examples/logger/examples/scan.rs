//! A scan as a logger takes it, its frames on standard output: `cargo run --example scan > scan.frames`.
//!
//! Probe, encoder and echoes are invented. On a device the tracks come from an interrupt or a timer, the gate from the
//! instrument, and the bytes go to the port; all between is as here.

use std::io::{self, Write};

use halfskip::calibration::timebase::TimeBase;
use halfskip::record::entry::frame::{MAX_FRAME, encode};
use halfskip::record::entry::{Entry, Name, Side, Sweep, Text};
use halfskip::units::{Decibels, Microseconds, Millimetres, ScreenPercent};
use halfskip_logger::{Gate, Logger, NoReading, Quadrature, Scale};

const fn mm(length: f32) -> Millimetres {
    Millimetres::constant(length)
}

/// Two echoes of a calibration block: their paths and times (invented).
const ECHOES: [(Millimetres, Microseconds); 2] =
    [(mm(25.0), Microseconds::constant(17.625)), (mm(100.0), Microseconds::constant(64.5))];
/// The guide keeps the index point at this stand-off.
const GUIDE: Millimetres = mm(31.0);
/// The encoder's tracks A and B on the way forward.
const CYCLE: [(bool, bool); 4] = [(false, false), (true, false), (true, true), (false, true)];

/// An invented wheel of eight counts a millimetre, in place of two pins.
struct Wheel(usize);

impl Wheel {
    fn forward(&mut self, counts: usize, counter: &mut Quadrature) {
        for _ in 0..counts {
            self.0 += 1;
            counter.sample(CYCLE[self.0 % 4]);
        }
    }

    /// Two counts between one sample and the next.
    fn knocked(&mut self, counter: &mut Quadrature) {
        self.0 += 2;
        counter.sample(CYCLE[self.0 % 4]);
    }
}

/// One reading at the place that the encoder gives; without a place there is none.
fn reading(logger: &Logger, scale: &Scale, counter: &Quadrature, gate: Gate) -> Result<Entry, NoReading> {
    let x = scale.position(mm(0.0), counter.count()?)?;
    let indication = Name::try_from("1").expect("a name of one character");
    logger.reading(&indication, x, GUIDE, gate)
}

/// The scan; each fact goes to `keep`.
pub fn scan(mut keep: impl FnMut(Entry)) -> Result<(), NoReading> {
    let logger = Logger {
        probe: Name::try_from("p60").expect("a short name"),
        side: Side::A,
        base: TimeBase::fit(&ECHOES).expect("two echoes of two paths").base(),
        gain: Decibels::constant(44.0),
        sweep: Some(Sweep::Along),
    };
    let (mut wheel, mut counter) = (Wheel(0), Quadrature::starting(CYCLE[0]));
    let mut tell = |found: Result<Entry, NoReading>| {
        // What cannot be a reading is told, never left out and never guessed.
        keep(found.unwrap_or_else(|why| {
            Entry::Note(Text::try_from(format!("no reading: {why}").as_str()).unwrap_or_default())
        }));
    };

    // 300 mm beside a steel rule give the scale, 150 mm more bear it out.
    wheel.forward(2400, &mut counter);
    let scale = Scale::over(mm(300.0), mm(0.3), counter.count()?)?;
    counter.set(0);
    wheel.forward(1200, &mut counter);
    scale.check(mm(150.0), counter.count()?, mm(1.0))?;

    // At the datum; then an echo every 2.5 mm that rises and falls.
    counter.set(0);
    let time = Microseconds::constant(25.5);
    for height in [12.0, 21.5, 38.0, 61.5, 76.0, 74.5, 58.0, 33.5, 15.0] {
        wheel.forward(20, &mut counter);
        let gate = Gate { time, height: ScreenPercent::constant(height) };
        tell(reading(&logger, &scale, &counter, gate));
    }
    // The wheel is knocked: no reading until the position is set again, here at a mark 100 mm, 800 counts, from the datum.
    let gate = Gate { time, height: ScreenPercent::constant(8.0) };
    wheel.knocked(&mut counter);
    tell(reading(&logger, &scale, &counter, gate));
    counter.set(800);
    tell(reading(&logger, &scale, &counter, gate));
    Ok(())
}

/// The scan as the bytes that a logger sends.
pub fn frames() -> Vec<u8> {
    let mut bytes = Vec::new();
    scan(|entry| {
        let mut buffer = [0; MAX_FRAME];
        bytes.extend_from_slice(encode(&entry, &mut buffer).expect("a frame has room for any fact"));
    })
    .expect("the invented runs calibrate");
    bytes
}

fn main() -> io::Result<()> {
    io::stdout().write_all(&frames())
}
