//! Ten million readings in columns - place, uncertainty, level - by the library, for `columns.py` to set beside numpy.
//!
//! Prints one line: `halfskip SECONDS ONE-BY-ONE CHECKSUM`, the best of five runs, one thread. The columns are those of the script:
//! both start from the same 32-bit generator.

use std::time::Instant;

use halfskip::calibration::curve::{Beyond, Dac, DacPoint};
use halfskip::calibration::level::Screen;
use halfskip::evaluate::batch::{Evaluated, Readings, ScanSetUp};
use halfskip::part::locate::{Budget, Face, Side};
use halfskip::part::path::{Axis, Plate};
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
    let common = ScanSetUp {
        axis: Axis::new(Degrees::constant(60.0)).expect("an angle"),
        plate: Plate::new(Millimetres::constant(20.0)).expect("a plate"),
        side: Side::A,
        face: Face::Near,
        index: Millimetres::constant(0.0),
        dac: &dac,
        beyond: Beyond::Refuse,
        transfer: Decibels::constant(0.0),
        screen,
        budget: Budget::default(),
    };
    let [standoff, path, height, gain] =
        [column(1, 20.0, 100.0), column(2, 21.0, 120.0), column(3, 10.0, 90.0), column(4, 40.0, 60.0)];
    let readings = Readings { standoff: &standoff, path: &path, height: &height, gain: &gain };
    let mut found = vec![None; READINGS];
    let best = best_of_five(|| common.evaluate(&readings, &mut found).expect("columns of one length"));
    let mut alone = vec![None; READINGS];
    let one_by_one = best_of_five(|| {
        for (row, out) in alone.iter_mut().enumerate() {
            *out = common.one(standoff[row], path[row], height[row], gain[row]).ok();
        }
    });
    assert!(found == alone, "columns give what readings give one by one");
    let figures =
        |found: &Evaluated| [found.y.get(), found.z.get(), found.u_y, found.u_z, found.level.db.get()];
    let sum: f64 = found.iter().flatten().flat_map(figures).map(f64::from).sum();
    println!("halfskip {best:.4} {one_by_one:.4} {sum:.3}");
}

fn best_of_five(mut work: impl FnMut()) -> f64 {
    let mut best = f64::INFINITY;
    for _ in 0..5 {
        let start = Instant::now();
        work();
        let seconds = start.elapsed().as_secs_f64();
        best = if seconds < best { seconds } else { best };
    }
    best
}
