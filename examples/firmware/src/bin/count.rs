//! Counts instructions: one reading evaluated by the library, and by the same formulas written naively. Run with
//! `-icount shift=0`, where one instruction takes one nanosecond and a tick of the 25 MHz clock is 40 of them.
#![no_std]
#![no_main]

use core::fmt::Write;
use core::hint::black_box;

use cortex_m::peripheral::syst::SystClkSource;
use cortex_m::peripheral::{Peripherals, SYST};
use halfskip::calibration::curve::{Beyond, Dac, DacPoint};
use halfskip::calibration::level::{EchoHeight, Screen, level};
use halfskip::part::Part;
use halfskip::part::locate::{Budget, Peaked, Position, Side, locate};
use halfskip::part::path::{Axis, Plate};
use halfskip::units::{Decibels, Degrees, Millimetres, ScreenPercent};
use halfskip_firmware::{Serial, end};

const READINGS: usize = 1000;
const TICK: u32 = 40;
/// The counter has 24 bits.
const TURN: u32 = 1 << 24;
const POINTS: [(f32, f32); 6] =
    [(20.0, 34.0), (40.0, 38.0), (60.0, 42.0), (80.0, 45.5), (100.0, 49.0), (130.0, 53.0)];

/// Stand-off, path, height, gain of invented readings: legs 1 to 3 of a 20 mm plate at 60 degrees.
fn reading(number: usize) -> [f32; 4] {
    let spread = |step: usize, span: f32| ((number * step) % READINGS) as f32 / READINGS as f32 * span;
    [20.0 + spread(7, 80.0), 21.0 + spread(31, 99.0), 10.0 + spread(13, 80.0), 40.0]
}

/// What a reading gives: y, z, their uncertainties, the level.
type Found = [f32; 5];

struct SetUp {
    axis: Axis,
    plate: Plate,
    screen: Screen,
    dac: Dac,
    budget: Budget,
}

impl SetUp {
    fn new() -> Option<Self> {
        let screen = Screen::default();
        let mut dac: Dac = Dac::new(screen.reference());
        for (path, gain) in POINTS {
            let (path, gain) = (Millimetres::new(path).ok()?, Decibels::new(gain).ok()?);
            dac.insert(DacPoint { path, height: ScreenPercent::constant(80.0), gain }).ok()?;
        }
        Some(Self {
            axis: Axis::new(Degrees::constant(60.0)).ok()?,
            plate: Plate::new(Millimetres::constant(20.0)).ok()?,
            screen,
            dac,
            budget: Budget::default(),
        })
    }

    #[inline(never)]
    fn evaluate(&self, [standoff, path, height, gain]: [f32; 4]) -> Option<Found> {
        let zero = Millimetres::constant(0.0);
        let path = Millimetres::new(path).ok()?;
        let position = Position::new(Side::A, zero, Millimetres::new(standoff).ok()?, zero).ok()?;
        let place = locate(&self.axis, &Part::Flat(self.plate), &position, path, Peaked::Axis).ok()?;
        let reference = self.dac.gain_at(path, Beyond::Refuse).ok()?;
        let echo = EchoHeight::Shown(ScreenPercent::new(height).ok()?);
        let none = Decibels::constant(0.0);
        let found = level(echo, Decibels::new(gain).ok()?, &reference, none, &self.screen).ok()?;
        Some([place.y.get(), place.z.get(), place.u_y(&self.budget), place.u_z(&self.budget), found.db.get()])
    }
}

/// Trigonometry on every call, double precision, nothing prepared.
#[inline(never)]
fn naive([p, s, h, gain]: [f32; 4]) -> Found {
    let (p, s, h, gain) = (f64::from(p), f64::from(s), f64::from(h), f64::from(gain));
    let degree = core::f64::consts::PI / 180.0;
    let (a, t) = (black_box(60.0) * degree, 20.0);
    let u = s * libm::cos(a);
    let n = libm::ceil(u / t);
    let odd = n % 2.0 == 1.0;
    let z = if odd { u - (n - 1.0) * t } else { n * t - u };
    let y = -p + s * libm::sin(a);
    let parts = |list: [f64; 5]| 2.0 * libm::sqrt(list.iter().map(|part| part * part).sum::<f64>() / 3.0);
    let u_y = parts([s * libm::cos(a) * 2.0 * degree, libm::sin(a) * 0.5, 1.0, 1.0, 0.0]);
    let of_t = if odd { n - 1.0 } else { n };
    let u_z = parts([s * libm::sin(a) * 2.0 * degree, libm::cos(a) * 0.5, of_t * 0.3, 0.0, 0.0]);
    let end = POINTS.iter().position(|(path, _)| f64::from(*path) >= s).unwrap_or(1).clamp(1, 5);
    let ((s0, g0), (s1, g1)) = (POINTS[end - 1], POINTS[end]);
    let reference = f64::from(g0) + f64::from(g1 - g0) / f64::from(s1 - s0) * (s - f64::from(s0));
    let found = 20.0 * libm::log10(h / 80.0) + reference - gain;
    [y, z, u_y, u_z, found].map(|figure| figure as f32)
}

/// Instructions that `work` takes for one reading.
fn counted(clock: &mut SYST, work: impl Fn([f32; 4]) -> Found) -> u32 {
    clock.clear_current();
    let before = SYST::get_current();
    for number in 0..READINGS {
        black_box(work(black_box(reading(number))));
    }
    let ticks = before.wrapping_sub(SYST::get_current()) % TURN;
    (ticks * TICK).div_ceil(READINGS as u32)
}

#[cortex_m_rt::entry]
fn main() -> ! {
    let mut port = Serial::start();
    let peripherals = Peripherals::take().expect("taken once");
    let mut clock = peripherals.SYST;
    clock.set_clock_source(SystClkSource::Core);
    clock.set_reload(TURN - 1);
    clock.enable_counter();

    let set = SetUp::new().expect("a set-up that can be");
    let evaluate = |reading| set.evaluate(reading).expect("a reading that can be");
    for number in 0..READINGS {
        let (ours, naive) = (evaluate(reading(number)), naive(reading(number)));
        // Both are the same formulas: to the digits of single precision they agree.
        let near = ours.iter().zip(naive).all(|(ours, naive)| (ours - naive).abs() <= 2e-4);
        assert!(near, "the naive formulas give something else");
    }
    let loop_alone = counted(&mut clock, |[a, b, c, d]| [a, b, c, d, 0.0]);
    let ours = counted(&mut clock, evaluate) - loop_alone;
    let naive = counted(&mut clock, naive) - loop_alone;
    writeln!(port, "reading {ours}\nnaive {naive}").expect("a port cannot fail");
    end()
}
