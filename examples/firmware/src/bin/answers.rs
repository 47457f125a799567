//! Counts the instructions of each answer at full capacity: 504 invented readings of 12 indications, by three probes from
//! both sides. Run with `-icount shift=0`, where one instruction takes one nanosecond and a tick of the 25 MHz clock is 40
//! of them.
#![no_std]
#![no_main]

use core::fmt::{self, Write};
use core::mem::MaybeUninit;
use core::sync::atomic::{AtomicU32, Ordering};

use cortex_m::peripheral::syst::SystClkSource;
use cortex_m::peripheral::{Peripherals, SYST};
use halfskip_console::shell::{Outcome, Shell};
use halfskip_firmware::{InFlash, Serial, end};
use heapless::String;

const TICK: u64 = 40;
/// The counter has 24 bits.
const TURN: u32 = 1 << 24;
/// How often it has come around.
static TURNS: AtomicU32 = AtomicU32::new(0);
const INDICATIONS: u32 = 12;
/// Samples of one movement; each indication has one of each probe along the weld, and its probe's peak from both sides.
const SAMPLES: u32 = 12;

const SET_UP: &str = include_str!("answers.job");

const QUESTIONS: [&str; 22] = [
    "rate 1",
    "why 1",
    "margin 1",
    "nature 1",
    "findings",
    "grounds",
    "grounds 1",
    "coverage",
    "coverage legs=1",
    "locate",
    "size 1",
    "sides 1",
    "beam p60",
    "plan",
    "expect p60 side=a",
    "section",
    "along",
    "dynamic 1",
    "curve p60",
    "list",
    "status",
    "help",
];

/// Half skips across, and the path of the corner's echo there, of the three probes of the set-up: 45, 60, 70 degrees.
const PROBES: [(&str, f32, f32); 3] = [("p45", 20.0, 28.28), ("p60", 34.64, 40.0), ("p70", 54.95, 58.48)];

/// Counts what is written, and keeps nothing.
struct Sink(usize);

impl fmt::Write for Sink {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.0 += text.len();
        Ok(())
    }
}

#[inline(never)]
fn blank(place: &mut MaybeUninit<Shell<InFlash>>) -> &mut Shell<InFlash> {
    place.write(Shell::new(InFlash))
}

/// One line of the examination; a refused one ends the run.
fn take(shell: &mut Shell<InFlash>, line: &str) {
    let outcome = shell.line(line.as_bytes(), &mut Sink(0));
    assert!(!matches!(outcome, Outcome::Refused { .. }), "a line that can be");
}

/// The readings: echoes that rise to a peak and fall along the weld, each probe in its own side's movement, and peaks from
/// both sides.
fn readings(shell: &mut Shell<InFlash>) {
    for indication in 1..=INDICATIONS {
        let at = 40 * indication;
        for (place, (probe, half_skip, path)) in (0u32..).zip(PROBES) {
            let side = if place % 2 == 0 { 'a' } else { 'b' };
            for sample in 0..SAMPLES {
                let x = at + 2 * sample;
                let off = sample.abs_diff(SAMPLES / 2);
                let height = 76 - 10 * off - indication % 3;
                let mut line: String<160> = String::new();
                write!(
                    line,
                    "reading {indication} probe={probe} side={side} x={x} standoff={half_skip:.2} path={path:.2} \
                     height={height} gain=40 sweep=along"
                )
                .expect("a line has room");
                take(shell, &line);
            }
            for side in ['a', 'b'] {
                let (x, height) = (at + SAMPLES, 77 - indication % 3);
                let mut line: String<160> = String::new();
                write!(
                    line,
                    "reading {indication} probe={probe} side={side} x={x} standoff={half_skip:.2} path={path:.2} \
                     height={height} gain=40"
                )
                .expect("a line has room");
                take(shell, &line);
            }
        }
    }
}

#[cortex_m_rt::exception]
fn SysTick() {
    TURNS.store(TURNS.load(Ordering::Relaxed) + 1, Ordering::Relaxed);
}

#[cortex_m_rt::entry]
fn main() -> ! {
    static mut SHELL: MaybeUninit<Shell<InFlash>> = MaybeUninit::uninit();
    let shell = blank(SHELL);
    let mut port = Serial::start();
    let peripherals = Peripherals::take().expect("taken once");
    let mut clock = peripherals.SYST;
    clock.set_clock_source(SystClkSource::Core);
    clock.set_reload(TURN - 1);
    clock.enable_interrupt();
    clock.enable_counter();

    for line in SET_UP.lines() {
        take(shell, line);
    }
    readings(shell);
    for line in
        ["check p45 path=100 shown=100 height=80 gain=49", "check p60 path=100 shown=100 height=80 gain=49"]
    {
        take(shell, line);
    }
    take(shell, "check p70 path=100 shown=100 height=80 gain=49");
    for question in QUESTIONS {
        let mut sink = Sink(0);
        clock.clear_current();
        TURNS.store(0, Ordering::Relaxed);
        let outcome = shell.line(question.as_bytes(), &mut sink);
        let left = SYST::get_current();
        // The first turn is the one that clearing begins.
        let turns = u64::from(TURNS.load(Ordering::Relaxed)).saturating_sub(1);
        assert!(outcome == Outcome::Answered, "a question of this image");
        let instructions = (turns * u64::from(TURN) + u64::from(TURN - left)) * TICK;
        writeln!(port, "{question}\t{instructions}\t{}", sink.0).expect("a port cannot fail");
    }
    end()
}
