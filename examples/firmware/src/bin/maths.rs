//! The evaluation library without entries, examination and text: calibration, place with uncertainty, level, views,
//! height, length and rating. For its size in flash, and for the bound of its stack, which nothing indirect spoils.
#![no_std]
#![no_main]

use core::hint::black_box;

use halfskip::acceptance::rating::{Attenuation, PathUnit, Rounding, ShorterPath, Weighted};
use halfskip::calibration::angle_check::AngleCheck;
use halfskip::calibration::curve::{Beyond, Dac, DacPoint};
use halfskip::calibration::level::{EchoHeight, Screen, level};
use halfskip::calibration::timebase::TimeBase;
use halfskip::calibration::transfer::{Shot, Transfer};
use halfskip::evaluate::fusion::{View, fuse};
use halfskip::evaluate::sizing::height::{between_tips, peaked_apart};
use halfskip::evaluate::sizing::length::by_drop;
use halfskip::evaluate::sizing::series::{Sample, Series};
use halfskip::part::Part;
use halfskip::part::locate::{Budget, Peaked, Place, Position, SeenTogether, Side, locate};
use halfskip::part::path::{Axis, Plate};
use halfskip::units::{Decibels, Microseconds, Millimetres, ScreenPercent};
use halfskip_firmware::{Serial, any, end};

/// What is set up once.
struct SetUp {
    axis: Axis,
    plate: Plate,
    base: TimeBase,
    dac: Dac,
    transfer: Transfer,
}

#[inline(never)]
fn calibrated(port: &mut Serial) -> Option<SetUp> {
    let echoes = [(any(port)?, any(port)?), (any(port)?, any(port)?), (any(port)?, any(port)?)];
    let holes = [(any(port)?, any(port)?), (any(port)?, any(port)?)];
    let screen = Screen::default();
    let mut dac: Dac = Dac::new(screen.reference());
    for _ in 0..port.receive() {
        dac.insert(DacPoint { path: any(port)?, height: any(port)?, gain: any(port)? }).ok()?;
    }
    let mut shot = || Some(Shot { path: any(port)?, gain: any(port)? });
    let transfer = Transfer::lines(&[shot()?, shot()?], &[shot()?, shot()?]).ok()?;
    Some(SetUp {
        axis: Axis::new(AngleCheck::fit(&holes).ok()?.angle()).ok()?,
        plate: Plate::new(any(port)?).ok()?,
        base: TimeBase::fit(&echoes).ok()?.base(),
        dac,
        transfer,
    })
}

/// What an instrument reads.
struct Read {
    x: Millimetres,
    standoff: Millimetres,
    time: Microseconds,
    height: ScreenPercent,
    gain: Decibels,
}

fn evaluated(port: &mut Serial, set: &SetUp) -> Option<Place> {
    let (x, standoff) = (any(port)?, any(port)?);
    one(set, &Read { x, standoff, time: any(port)?, height: any(port)?, gain: any(port)? })
}

/// One reading: place, uncertainty and level.
#[inline(never)]
fn one(set: &SetUp, read: &Read) -> Option<Place> {
    let position =
        Position::new(Side::A, read.x, read.standoff, const { Millimetres::constant(0.0) }).ok()?;
    let path = set.base.path(read.time).ok()?;
    let place = locate(&set.axis, &Part::Flat(set.plate), &position, path, Peaked::Axis).ok()?;
    let budget = Budget::default();
    black_box((place.u_y(&budget), place.u_z(&budget)));
    let reference = set.dac.gain_at(path, Beyond::Refuse).ok()?;
    let echo = EchoHeight::Shown(read.height);
    let transfer = set.transfer.at(path).ok()?;
    black_box(level(echo, read.gain, &reference, transfer, &Screen::default())).ok()?;
    Some(place)
}

#[inline(never)]
fn sized(port: &mut Serial, set: &SetUp) -> Option<()> {
    let (first, second) = (evaluated(port, set)?, evaluated(port, set)?);
    let position = Position::new(Side::B, any(port)?, any(port)?, any(port)?).ok()?;
    let corner = locate(&set.axis, &Part::Flat(set.plate), &position, any(port)?, Peaked::Corner).ok()?;
    let known = SeenTogether::from_corner(&position, &corner);
    let tip =
        locate(&set.axis, &Part::Flat(set.plate), &position, any(port)?, Peaked::Together(known)).ok()?;
    black_box(between_tips(&first, &tip));
    black_box(peaked_apart(&set.axis, any(port)?, any(port)?)).ok()?;
    let budget = Budget::default();
    let views = [first, second, tip].map(|place| View {
        probe: 0,
        y: place.y.get(),
        z: Some(place.z.get()),
        at_face: false,
        of_y: place.y_partials.contributions(&budget),
        of_z: place.z_partials.contributions(&budget),
        of_radius: place.of_radius(),
    });
    black_box(fuse(views.into_iter()));
    let mut series: Series<16> = Series::new();
    for _ in 0..port.receive() {
        let reference = set.dac.gain_at(any(port)?, Beyond::Hold).ok()?;
        let zero = const { Decibels::constant(0.0) };
        let level = level(EchoHeight::Shown(any(port)?), any(port)?, &reference, zero, &Screen::default());
        series.insert(Sample { travel: any(port)?, level: level.ok()? }).ok()?;
    }
    black_box(by_drop(&series, any(port)?)).ok()?;
    let rule = Weighted {
        attenuation: Attenuation::new(PathUnit::Inch, 2.0, 1.0).ok()?,
        round: Rounding::HalfUp,
        round_d: Rounding::None,
        shorter_path: ShorterPath::Negative,
    };
    black_box(rule.rate(any(port)?, any(port)?, any(port)?)).ok()?;
    Some(())
}

#[cortex_m_rt::entry]
fn main() -> ! {
    let mut port = Serial::start();
    if let Some(set) = calibrated(&mut port) {
        black_box(sized(&mut port, &set));
    }
    end()
}
