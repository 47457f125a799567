//! Readings are kept packed: whatever was typed comes back as it was typed, and long numbers take the room of two.

use halfskip::record::entry::{Entry, LengthUnit};
use halfskip::record::examination::{Examination, Refusal};
use halfskip::units::decimal::Decimal;
use halfskip_console::commands::parse::{self, Line};
use halfskip_host_tests::told::fact;

/// Numbers that are different and always the same ones.
struct Numbers {
    state: u64,
    /// As long as a number can be, or as an instrument shows it.
    long: bool,
}

impl Numbers {
    fn below(&mut self, end: u64) -> u64 {
        self.state =
            self.state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.state >> 33) % end
    }

    /// A decimal of up to seven digits, any of them after the point.
    fn decimal(&mut self, negative: bool) -> String {
        let most = if self.long { 7 } else { 3 };
        let (digits, places) = (1 + self.below(most) as u32, self.below(most) as i8);
        let mantissa = self.below(10u64.pow(digits)) as u32;
        let negative = negative && self.below(2) == 0;
        Decimal::new(negative, mantissa, -places).unwrap().to_string()
    }

    fn pick<'a>(&mut self, words: &[&'a str]) -> &'a str {
        words[self.below(words.len() as u64) as usize]
    }

    fn line(&mut self) -> String {
        let unit = self.pick(&["", "mm", "in"]);
        let travel = self.pick(&["path", "time"]);
        let side = self.pick(&["a", "b"]);
        let face = self.pick(&["near", "far"]);
        let (x, standoff, travelled) = (self.decimal(true), self.decimal(false), self.decimal(false));
        let height = self.decimal(false);
        let height = self.pick(&[height.as_str(), "over", "under"]).to_string();
        let gain = self.decimal(true);
        let end = if travel == "time" { "" } else { unit };
        let mut line = format!(
            "reading {} probe=p{} side={side} x={x}{unit} standoff={standoff}{unit} {travel}={travelled}{end} \
             height={height} gain={gain} face={face}",
            1 + self.below(9),
            1 + self.below(3),
        );
        if self.below(2) == 0 {
            line += &format!(" skew={}", self.decimal(true));
        }
        if self.below(2) == 0 {
            line += &format!(" thickness={}{unit}", self.decimal(false));
        }
        line + self.pick(&[
            "",
            " together=200",
            " sweep=along",
            " sweep=across",
            " sweep=swivel",
            " sweep=orbit",
        ]) + self.pick(&["", " point=corner", " point=upper-tip", " point=lower-tip"])
    }
}

#[test]
fn a_reading_comes_back_as_it_was_typed() {
    let mut examination: Box<Examination<4, 16, 16_384>> = Box::new(Examination::new());
    for number in 1..=3 {
        let probe = format!("probe p{number} angle=60 frequency=4 element=9");
        examination.record(fact(&probe, LengthUnit::Mm).unwrap()).unwrap();
        let base = format!("timebase p{number} path=25,100 time=15.4,61.7");
        examination.record(fact(&base, LengthUnit::Mm).unwrap()).unwrap();
    }
    let mut numbers = Numbers { state: 1, long: false };
    let mut entered = Vec::new();
    while entered.len() < 4000 {
        numbers.long = entered.len() % 2 == 0;
        if let Ok(Some(Line::Fact(entry))) = parse::line(numbers.line().as_bytes(), LengthUnit::Mm) {
            let number = examination.record(entry.clone()).unwrap();
            entered.push((number, entry));
        }
    }
    let [readings, ..] = examination.facts().room();
    assert!(readings.used > 4500 && readings.used < 7900, "both kinds: {}", readings.used);
    for (number, entry) in &entered {
        assert_eq!(examination.entry(*number), Some((entry.clone(), false)));
    }
    let kept = examination.entries().filter(|(.., entry)| matches!(entry, Entry::Reading(_)));
    assert!(kept.eq(entered.iter().map(|(number, entry)| (*number, false, entry.clone()))));
    let last = entered.last().map(|(number, _)| *number);
    assert_eq!(examination.facts().last_reading().map(|reading| reading.number()), last);
    for (number, entry) in entered.into_iter().rev().step_by(99) {
        let void = fact(&format!("void {number} reason=r"), LengthUnit::Mm).unwrap();
        examination.record(void).unwrap();
        assert_eq!(examination.entry(number), Some((entry, true)));
    }
}

fn device() -> Box<Examination> {
    let mut examination: Box<Examination> = Box::new(Examination::new());
    examination.record(fact("probe p1 angle=60 frequency=4 element=9", LengthUnit::Mm).unwrap()).unwrap();
    examination
}

fn taken(numbers: &str) -> u32 {
    let mut examination = device();
    for count in 0.. {
        let line = format!("reading 1 probe=p1 side=a {numbers}");
        match examination.record(fact(&line, LengthUnit::Mm).unwrap()) {
            Ok(_) => {}
            Err(Refusal::Full { what: "readings", capacity: 512 }) => return count,
            Err(refusal) => panic!("{refusal}"),
        }
    }
    unreachable!()
}

#[test]
fn a_device_has_room_for_512_readings_as_they_are_read_off_an_instrument() {
    assert_eq!(taken("x=-1048.575 standoff=-65.535 path=262.143 height=204.7 gain=163.83"), 512);
    assert_eq!(
        taken("x=9999.99 standoff=655.35 path=2621.43 height=over gain=-40 skew=-89.0 thickness=327.67"),
        512
    );
    assert_eq!(taken("x=41.284in standoff=5.160in path=10.320in height=80 gain=38.5 thickness=12.9in"), 512);
}

#[test]
fn longer_numbers_take_the_room_of_two() {
    for long in [
        "x=1048.576 standoff=30 path=35 height=50 gain=40",
        "x=0 standoff=65.536 path=35 height=50 gain=40",
        "x=0 standoff=30 path=262.144 height=50 gain=40",
        "x=0 standoff=30 path=35 height=204.8 gain=40",
        "x=0 standoff=30 path=35 height=50 gain=163.84",
        "x=0 standoff=30 path=35 height=50 gain=40 skew=10.24",
        "x=0 standoff=30 path=35 height=50 gain=40 thickness=32.768",
        "x=0 standoff=30.0000 path=35 height=50 gain=40",
    ] {
        assert_eq!(taken(long), 256, "{long}");
    }
}
