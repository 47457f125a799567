//! Ten million readings in columns - place, uncertainty, level - by the library, for `columns.py` to set beside numpy.
//!
//! Prints one line: `halfskip SECONDS CHECKSUM`, the best of five runs, one thread. The columns are those of the script:
//! both start from the same 32-bit generator.

use std::time::Instant;

use halfskip::curve::{Beyond, Dac, DacPoint};
use halfskip::level::{EchoHeight, Screen, level};
use halfskip::locate::{Budget, Position, Side, locate};
use halfskip::path::{Axis, Plate};
use halfskip::units::{Decibels, Degrees, Millimetres, ScreenPercent};

const READINGS: usize = 10_000_000;
const POINTS: [(f32, f32); 6] =
    [(20.0, 34.0), (40.0, 38.0), (60.0, 42.0), (80.0, 45.5), (100.0, 49.0), (130.0, 53.0)];

/// A column from `low` to `high`, by x -> 1 664 525 x + 1 013 904 223 modulo 2^32, the upper 24 bits of it.
fn column(seed: u32, low: f32, high: f32) -> Vec<f32> {
    let mut state = seed;
    (0..READINGS)
        .map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            low + (state >> 8) as f32 / 16_777_216.0 * (high - low)
        })
        .collect()
}

struct Bench {
    axis: Axis,
    plate: Plate,
    dac: Dac,
    screen: Screen,
    budget: Budget,
}

impl Bench {
    fn one(&self, standoff: f32, path: f32, height: f32, gain: f32) -> Option<[f32; 5]> {
        let zero = Millimetres::constant(0.0);
        let path = Millimetres::new(path).ok()?;
        let position = Position::new(Side::A, zero, Millimetres::new(standoff).ok()?, zero).ok()?;
        let place = locate(&self.axis, &self.plate, &position, path).ok()?;
        let reference = self.dac.gain_at(path, Beyond::Refuse).ok()?;
        let echo = EchoHeight::Shown(ScreenPercent::new(height).ok()?);
        let none = Decibels::constant(0.0);
        let found = level(echo, Decibels::new(gain).ok()?, &reference, none, &self.screen).ok()?;
        Some([place.y.get(), place.z.get(), place.u_y(&self.budget), place.u_z(&self.budget), found.db.get()])
    }
}

fn main() {
    // `cargo test` builds benches and runs them with this argument; ten million readings are no test.
    if std::env::args().any(|argument| argument == "--test") {
        return;
    }
    let screen = Screen::default();
    let mut dac: Dac = Dac::new(screen.reference());
    for (path, gain) in POINTS {
        let (path, gain) = (Millimetres::new(path).expect("a path"), Decibels::new(gain).expect("a gain"));
        dac.insert(DacPoint { path, height: ScreenPercent::constant(80.0), gain }).expect("a point");
    }
    let bench = Bench {
        axis: Axis::new(Degrees::constant(60.0)).expect("an angle"),
        plate: Plate::new(Millimetres::constant(20.0)).expect("a plate"),
        dac,
        screen,
        budget: Budget::default(),
    };
    let [standoff, path, height, gain] =
        [column(1, 20.0, 100.0), column(2, 21.0, 120.0), column(3, 10.0, 90.0), column(4, 40.0, 60.0)];
    let mut found = vec![[0.0f32; 5]; READINGS];
    let mut best = f64::INFINITY;
    for _ in 0..5 {
        let start = Instant::now();
        for (place, out) in found.iter_mut().enumerate() {
            *out = bench.one(standoff[place], path[place], height[place], gain[place]).unwrap_or([0.0; 5]);
        }
        let seconds = start.elapsed().as_secs_f64();
        best = if seconds < best { seconds } else { best };
    }
    let sum: f64 = found.iter().flatten().map(|figure| f64::from(*figure)).sum();
    println!("halfskip {best:.4} {sum:.3}");
}
