//! What an instrument may log with defmt: an example job's facts as they are recorded, what is refused and why, and what
//! the facts come to. The log leaves by semihosting; a board with a debug probe would take `defmt-rtt` in its place.
#![no_std]
#![no_main]

use core::mem::MaybeUninit;

use defmt_semihosting as _;
use halfskip::acceptance::criteria::{DEFAULT_ROWS, Sheet};
use halfskip::acceptance::rating::{Attenuation, PathUnit, Rounding, ShorterPath, Weighted};
use halfskip::findings::{self, Findings, Scratch};
use halfskip::record::entry::LengthUnit;
use halfskip::record::examination::{Examination, Facts};
use halfskip::units::{Decibels, Millimetres};
use halfskip_console::commands::parse::{self, Line};
use halfskip_console::sheets::Sheets;
use halfskip_firmware::{InFlash, end};

/// An invented examination; a line that nothing fits follows it.
const JOB: &str = include_str!("../../../jobs/bracket-weld-inch.job");
const NO_PROBE: &str = "reading 1 probe=p45 side=a x=4 standoff=2 path=2 height=50 gain=38";
const SAMPLES: usize = 32;

type Small = Examination<2, 4, 64, 1024>;

fn take(examination: &mut Small, line: &str) {
    if let Ok(Some(Line::Fact(entry))) = parse::line(line.as_bytes(), LengthUnit::In) {
        defmt::info!("{}", entry);
        match examination.record(entry) {
            Ok(number) => defmt::debug!("recorded as entry {}", number),
            Err(refusal) => defmt::warn!("{}", refusal),
        }
    }
}

fn tell(facts: &Facts<'_>, sheet: &Sheet<DEFAULT_ROWS>) {
    for reading in facts.readings().take(1) {
        defmt::info!("{}", findings::evaluate(facts, reading));
    }
    let mut scratch = Scratch::<4>::new();
    let evaluated = Findings::new(*facts, Some(sheet), &mut scratch);
    let one = evaluated.indication(0);
    let place = one.place();
    defmt::info!("{} {}", place, one.height(place.as_ref()));
    defmt::info!("{}", one.level());
    defmt::info!("{}", one.length(evaluated.length_rule()));
    defmt::info!("{}", one.verdict(place.as_ref()));
}

fn rate() {
    let path = Millimetres::constant(76.2);
    defmt::info!("{}", path);
    let Ok(attenuation) = Attenuation::new(PathUnit::Inch, 2.0, 1.0) else { return };
    let (round, round_d, shorter_path) = (Rounding::HalfUp, Rounding::None, ShorterPath::Negative);
    let rule = Weighted { attenuation, round, round_d, shorter_path };
    let (a, b) = (Decibels::constant(48.0), Decibels::constant(40.0));
    defmt::info!("{}", rule.rate(path, a, b));
    defmt::error!("{}", rule.rate(Millimetres::constant(0.0), a, b));
}

#[cortex_m_rt::entry]
fn main() -> ! {
    static mut EXAMINATION: MaybeUninit<Small> = MaybeUninit::uninit();
    let examination = EXAMINATION.write(Small::new());
    JOB.lines().chain([NO_PROBE]).for_each(|line| take(examination, line));
    match InFlash.sheet("demonstration.toml") {
        Ok(sheet) => tell(&examination.facts(), &sheet),
        Err(why) => defmt::error!("{}", why),
    }
    rate();
    end()
}
