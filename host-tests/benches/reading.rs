//! One reading evaluated - place, uncertainty, level - beside the same formulas written naively: trigonometry on every
//! call, `f64`, the standard library's maths. Both run over the same thousand invented readings in the same run.

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use halfskip::calibration::curve::{Beyond, Dac, DacPoint};
use halfskip::calibration::level::{EchoHeight, Screen, level};
use halfskip::part::Part;
use halfskip::part::locate::{Budget, Peaked, Position, Side, locate};
use halfskip::part::path::{Axis, Plate};
use halfskip::units::{Decibels, Degrees, Millimetres, ScreenPercent};

const READINGS: usize = 1000;
const POINTS: [(f32, f32); 6] =
    [(20.0, 34.0), (40.0, 38.0), (60.0, 42.0), (80.0, 45.5), (100.0, 49.0), (130.0, 53.0)];

fn main() {
    divan::main();
}

/// Stand-off, path, height, gain of invented readings: legs 1 to 3 of a 20 mm plate at 60 degrees.
fn readings() -> Vec<[f32; 4]> {
    let spread = |i: usize, step: usize, span: f32| ((i * step) % READINGS) as f32 / READINGS as f32 * span;
    (0..READINGS)
        .map(|i| [20.0 + spread(i, 7, 80.0), 21.0 + spread(i, 31, 99.0), 10.0 + spread(i, 13, 80.0), 40.0])
        .collect()
}

#[divan::bench]
fn halfskip_reading(bencher: Bencher<'_, '_>) {
    let axis = Axis::new(Degrees::constant(60.0)).expect("an angle");
    let plate = Plate::new(Millimetres::constant(20.0)).expect("a plate");
    let screen = Screen::default();
    let mut dac: Dac = Dac::new(screen.reference());
    for (path, gain) in POINTS {
        let (path, gain) = (Millimetres::new(path).expect("a path"), Decibels::new(gain).expect("a gain"));
        dac.insert(DacPoint { path, height: ScreenPercent::constant(80.0), gain }).expect("a point");
    }
    let budget = Budget::default();
    let zero = Millimetres::constant(0.0);
    let readings = readings();
    bencher.counter(ItemsCount::new(READINGS)).bench_local(|| {
        let mut sum = 0.0f32;
        for [standoff, path, height, gain] in black_box(&readings) {
            let one = || -> Option<f32> {
                let standoff = Millimetres::new(*standoff).ok()?;
                let path = Millimetres::new(*path).ok()?;
                let position = Position::new(Side::A, zero, standoff, zero).ok()?;
                let place = locate(&axis, &Part::Flat(plate), &position, path, Peaked::Axis).ok()?;
                let reference = dac.gain_at(path, Beyond::Refuse).ok()?;
                let echo = EchoHeight::Shown(ScreenPercent::new(*height).ok()?);
                let none = Decibels::constant(0.0);
                let found = level(echo, Decibels::new(*gain).ok()?, &reference, none, &screen).ok()?;
                Some(place.y.get() + place.z.get() + place.u_y(&budget) + place.u_z(&budget) + found.db.get())
            };
            sum += one().unwrap_or(0.0);
        }
        sum
    });
}

#[divan::bench]
fn naive_reading(bencher: Bencher<'_, '_>) {
    let readings = readings();
    let (angle, t) = (60.0f64, 20.0f64);
    bencher.counter(ItemsCount::new(READINGS)).bench_local(|| {
        let mut sum = 0.0f64;
        for [p, s, h, gain] in black_box(&readings) {
            let (p, s, h, gain) = (f64::from(*p), f64::from(*s), f64::from(*h), f64::from(*gain));
            let a = black_box(angle).to_radians();
            let u = s * a.cos();
            let n = (u / t).ceil();
            let odd = n % 2.0 == 1.0;
            let z = if odd { u - (n - 1.0) * t } else { n * t - u };
            let y = -p + s * a.sin();
            let parts =
                |list: [f64; 5]| 2.0 * (list.iter().map(|part| part.powi(2)).sum::<f64>() / 3.0).sqrt();
            let degree = std::f64::consts::PI / 180.0;
            let u_y = parts([s * a.cos() * 2.0 * degree, a.sin() * 0.5, 1.0, 1.0, 0.0]);
            let of_t = if odd { n - 1.0 } else { n };
            let u_z = parts([s * a.sin() * 2.0 * degree, a.cos() * 0.5, of_t * 0.3, 0.0, 0.0]);
            let end = POINTS.iter().position(|(path, _)| f64::from(*path) >= s).unwrap_or(1).max(1);
            let ((s0, g0), (s1, g1)) = (POINTS[end - 1], POINTS[end]);
            let slope = f64::from(g1 - g0) / f64::from(s1 - s0);
            let reference = f64::from(g0) + slope * (s - f64::from(s0));
            let found = 20.0 * (h / 80.0).log10() + reference - gain;
            sum += y + z + u_y + u_z + found;
        }
        sum
    });
}
