//! What an error says: the quantity, the value and the limit, in the digits that were entered.

use std::fmt::Display;

use halfskip::calibration::angle_check::AngleCheckError;
use halfskip::calibration::curve::CurveError;
use halfskip::calibration::gain_accuracy::GainAccuracyError;
use halfskip::calibration::level::LevelError;
use halfskip::calibration::linearity::LinearityError;
use halfskip::calibration::timebase::TimeBaseError;
use halfskip::calibration::transfer::{Specimen, TransferError};
use halfskip::evaluate::ReadingError;
use halfskip::evaluate::batch::LengthsDiffer;
use halfskip::evaluate::sizing::length::LengthError;
use halfskip::part::curved::CurvedError;
use halfskip::part::locate::LocateError;
use halfskip::part::side::Side;
use halfskip::physics::attenuation::AttenuationError;
use halfskip::physics::decibels::DecibelsError;
use halfskip::physics::far_field::LawError;
use halfskip::physics::material::MaterialError;
use halfskip::physics::probe::ProbeError;
use halfskip::physics::refraction::RefractionError;
use halfskip::planning::plan::{Barrier, PlanError};
use halfskip::record::entry::frame::FrameError;
use halfskip::record::store::StoreError;
use halfskip::units::decimal::DecimalError;
use halfskip::units::error::RangeError;
use halfskip::units::{
    Decibels, Degrees, Microseconds, Millimetres, MillimetresPerMicrosecond, ScreenPercent,
};

fn says(cases: &[(&dyn Display, &str)]) {
    for (error, text) in cases {
        assert_eq!(error.to_string(), *text);
    }
}

const fn mm(value: f32) -> Millimetres {
    Millimetres::constant(value)
}

/// A thickness of 0.25 mm, refused.
const RANGE: RangeError =
    RangeError { quantity: "thickness", unit: "mm", value: 0.25, min: 0.5, max: 1_000.0 };
const RANGE_TEXT: &str = "thickness 0.25 mm is outside 0.5 to 1000 mm";

#[test]
fn an_error_of_range_reads_the_same_wherever_it_comes_up() {
    says(&[
        (&RANGE, RANGE_TEXT),
        (&AngleCheckError::Range(RANGE), RANGE_TEXT),
        (&AttenuationError::Range(RANGE), RANGE_TEXT),
        (&ReadingError::Range(RANGE), RANGE_TEXT),
        (&CurveError::Range(RANGE), RANGE_TEXT),
        (&CurvedError::Range(RANGE), RANGE_TEXT),
        (&DecibelsError::Range(RANGE), RANGE_TEXT),
        (&GainAccuracyError::Range(RANGE), RANGE_TEXT),
        (&LawError::Range(RANGE), RANGE_TEXT),
        (&LengthError::Range(RANGE), RANGE_TEXT),
        (&LevelError::Range(RANGE), RANGE_TEXT),
        (&LinearityError::Range(RANGE), RANGE_TEXT),
        (&LocateError::Range(RANGE), RANGE_TEXT),
        (&LocateError::from(CurvedError::Range(RANGE)), RANGE_TEXT),
        (&PlanError::Range(RANGE), RANGE_TEXT),
        (&PlanError::Curved(CurvedError::Range(RANGE)), RANGE_TEXT),
        (&ProbeError::Range(RANGE), RANGE_TEXT),
        (&ProbeError::Refraction(RefractionError::Range(RANGE)), RANGE_TEXT),
        (&RefractionError::Range(RANGE), RANGE_TEXT),
        (&TimeBaseError::Range(RANGE), RANGE_TEXT),
        (&TransferError::Range(RANGE), RANGE_TEXT),
    ]);
    let bare = RangeError { quantity: "together", unit: "", value: 0.0, min: 1.0, max: 255.0 };
    assert_eq!(bare.to_string(), "together 0 is outside 1 to 255");
}

#[test]
fn errors_of_calibration_say_what_was_given_and_what_it_takes() {
    let deg = Degrees::constant;
    let speed = MillimetresPerMicrosecond::constant;
    let us = Microseconds::constant;
    says(&[
        (&AngleCheckError::NoHole, "no hole was peaked"),
        (&AngleCheckError::EqualDepths { depth: mm(15.5) }, "two holes have the depth 15.5 mm"),
        (&TimeBaseError::TooFew { echoes: 1 }, "1 echoes: a time base takes two or more"),
        (&TimeBaseError::EqualPaths { path: mm(25.0) }, "two echoes have the path 25 mm"),
        (
            &TimeBaseError::NotRising { path: mm(100.0), time: us(17.5) },
            "the echo from 100 mm at 17.5 us is not later than one from a shorter path",
        ),
        (
            &TimeBaseError::BeforeEntry { time: us(1.5), delay: us(2.25) },
            "time 1.5 us is not after the delay of 2.25 us",
        ),
        (&TransferError::NoShot { specimen: Specimen::Part }, "there is no shot on the part"),
        (
            &TransferError::EqualPaths { specimen: Specimen::Block, path: mm(40.0) },
            "two shots on the block have the path 40 mm",
        ),
        (&AttenuationError::NotFarther, "the second echo's path is not longer than the first one's"),
        (&LinearityError::NothingJudged, "no step lies where the window judges"),
        (&LinearityError::NoHeight { step: 2 }, "step 3 compares with an echo of 0 %"),
        (&LinearityError::WrongWindow, "the window belongs to the other linearity check"),
        (&GainAccuracyError::TooFew { readings: 6 }, "6 readings: the chain takes seven or more"),
        (&GainAccuracyError::TooMany { capacity: 16 }, "the chain holds 16 readings"),
        (
            &GainAccuracyError::Step { reading: 3, step: 5.0 },
            "reading 4 is 5 dB above the one before, not 6 dB",
        ),
        (&GainAccuracyError::NoHeight, "a reading has a height of 0 %"),
        (&CurveError::Empty, "no reference point has been recorded"),
        (
            &CurveError::Outside { path: mm(95.0), min: mm(20.0), max: mm(80.5) },
            "path 95 mm is outside the curve's 20 to 80.5 mm",
        ),
        (&CurveError::Duplicate { path: mm(30.0) }, "the curve already has a point at path 30 mm"),
        (&CurveError::Full { capacity: 16 }, "the curve is full: it holds 16 points"),
        (&CurveError::NoHeight, "a height of 0 % is no reference"),
        (
            &MaterialError::LongitudinalTooSlow { longitudinal: speed(3.2), shear: speed(5.9) },
            "longitudinal velocity 3.2 mm/us is too slow for a solid with shear velocity 5.9 mm/us; are they exchanged?",
        ),
        (&ProbeError::TemperatureWithoutWedge, "a wedge temperature needs the wedge's velocity as well"),
        (
            &RefractionError::PastFirstCritical { angle: deg(30.0), critical: deg(27.5) },
            "angle 30 deg is past the first critical angle 27.5 deg: no longitudinal wave enters",
        ),
        (
            &RefractionError::PastSecondCritical { angle: deg(60.0), critical: deg(57.5) },
            "angle 60 deg is past the second critical angle 57.5 deg: no shear wave enters",
        ),
        (
            &RefractionError::NoCriticalAngle { wedge: speed(2.73), part: speed(2.5) },
            "no critical angle: the part (2.5 mm/us) is no faster than the wedge (2.73 mm/us)",
        ),
        (
            &RefractionError::BeyondGrazing { angle: deg(80.0), largest: deg(70.5) },
            "refracted angle 80 deg cannot be reached: this wedge gives at most 70.5 deg",
        ),
        (&RefractionError::NoLongitudinalVelocity, "the material's longitudinal velocity is not known"),
    ]);
}

#[test]
fn errors_of_evaluation_say_what_stands_in_the_way() {
    let percent = ScreenPercent::constant;
    says(&[
        (&DecibelsError::Ratio { value: -0.5 }, "ratio -0.5 has no level in dB: it must be above 0"),
        (&DecibelsError::NoHeight, "a height of 0 % has no level in dB"),
        (
            &LevelError::NoNoiseHeight,
            "no echo was seen and the screen's noise height is 0 %, so there is no bound",
        ),
        (
            &LevelError::Tolerance { height: percent(4.0), half_width: percent(5.0) },
            "height 4 % is not above its tolerance of 5 %",
        ),
        (
            &LawError::TooNear { path: mm(12.0), wall: 14.5 },
            "path 12 mm is too short for a far-field law: at 14.5 mm the reflector would equal a wall",
        ),
        (
            &LocateError::CornerTooShort { path: 19.5, face: 20.0 },
            "path 19.5 mm is too short for a corner at unfolded depth 20 mm",
        ),
        (
            &LocateError::TipTooShort { path: 30.0, distance: 31.5 },
            "path 30 mm is shorter than the surface distance 31.5 mm",
        ),
        (&LengthError::TooFewSamples { samples: 1 }, "a length needs 2 samples or more, this has 1"),
        (&LengthError::NothingSeen, "no sample of the series saw an echo"),
        (
            &LengthError::OverScreen { travel: mm(12.5) },
            "the echo at 12.5 mm is over the screen, so its peak and the drop from it are unknown",
        ),
        (
            &LengthError::BelowLevel { peak: Decibels::constant(-9.5), level: Decibels::constant(-8.0) },
            "the strongest echo, -9.5 dB, stays under -8 dB",
        ),
        (&ReadingError::Curve(CurveError::Empty), "no reference point has been recorded"),
        (&ReadingError::Level(LevelError::NoNoiseHeight), &LevelError::NoNoiseHeight.to_string()),
        (
            &LengthsDiffer { longest: 5, shortest: 4 },
            "the columns are 4 to 5 long: they must be of one length",
        ),
    ]);
}

#[test]
fn errors_of_a_curved_part_and_of_a_plan_give_both_lengths() {
    says(&[
        (
            &CurvedError::NoBore { thickness: mm(30.0), od: mm(60.0) },
            "wall 30 mm leaves no bore in a pipe of 60 mm",
        ),
        (
            &CurvedError::TooDeep { depth: 20.0, deepest: 17.5 },
            "the beam misses the bore: it gets 17.5 mm deep, not 20 mm",
        ),
        (
            &CurvedError::CornerTooShort { path: 19.5, shortest: 20.0 },
            "path 19.5 mm is too short for a corner: 20 mm straight through the wall",
        ),
        (
            &CurvedError::ThroughTheBore { leg: 50.0, longest: 44.5 },
            "a leg of 50 mm would pass through the bore; the longest is 44.5 mm",
        ),
        (
            &CurvedError::TipTooShort { path: 30.0, distance: 31.5 },
            "path 30 mm is too short for a tip at the surface distance 31.5 mm",
        ),
        (
            &CurvedError::NoRay { path: 30.0, distance: 31.5 },
            "no ray near the axis has path 30 mm and surface distance 31.5 mm",
        ),
        (
            &CurvedError::Skewed,
            "a corner, or a tip seen together with one, is placed on a curved part only with the probe square to the weld",
        ),
        (&PlanError::OutOfReach { side: Side::B }, "the joint says that side b cannot be reached"),
        (
            &PlanError::NoFront,
            "the cap is not flush and the probe's nose is not recorded (front=): how near it gets is not known",
        ),
        (
            &PlanError::CapTooWide { least: 40.0, greatest: 33.5 },
            "the cap is wider than any reachable stand-off: 40 mm clears it, 33.5 mm is the greatest that meets the weld",
        ),
        (&Barrier::Cap { standoff: 10.0, least: 22.5 }, "cap in the way: stand-off 10 mm, 22.5 mm clears it"),
        (&Barrier::Range { path: 95.0, range: 80.0 }, "beyond range: path 95 mm, range 80 mm"),
        (&Barrier::BoreMissed { deepest: 17.5 }, "bore missed: the beam gets 17.5 mm deep"),
        (&Barrier::Centreline, "beyond the centreline"),
        (&Barrier::NotScanned, "not scanned"),
    ]);
}

#[test]
fn errors_of_the_record_say_what_is_lost_and_what_is_not() {
    says(&[
        (&DecimalError::NotANumber, "is not a number; expected digits such as 36.9"),
        (&DecimalError::TooManyDigits, "has more than seven significant digits"),
        (&DecimalError::TooLargeOrSmall, "is too large or too small to be a reading"),
        (&FrameError::BufferTooSmall, "the buffer is too small for the frame"),
        (&FrameError::NotAFrame, "the bytes are not a frame"),
        (&FrameError::Checksum, "the frame's checksum does not fit"),
        (&FrameError::NotAnEntry, "the frame holds no entry"),
        (&FrameError::NotPlain, "a text of the entry holds a control character"),
        (&FrameError::TooLong, "there is no end within the length of a frame"),
        (&FrameError::Cut, "the frame is cut short"),
        (&StoreError::Flash("no answer"), "the memory failed: no answer"),
        (&StoreError::<&str>::Full, "the memory is full; nothing recorded was overwritten"),
        (
            &StoreError::<&str>::Foreign { sector: 2 },
            "sector 2 holds something other than entries; format it to use it",
        ),
        (
            &StoreError::<&str>::Version { version: 1 },
            "the memory has version 1; this program reads version 2",
        ),
        (
            &StoreError::<&str>::Worn { sector: 2 },
            "sector 2 does not read back as it was written: the memory is worn",
        ),
        (&StoreError::<&str>::TooFewSectors { sectors: 1 }, "1 sectors are too few"),
        (&StoreError::<&str>::Damaged { first: 3, last: 9 }, "entries 3 to 9 can no longer be read"),
        (&StoreError::<&str>::Twice { number: 3 }, "entry 3 is there twice"),
        (&StoreError::<&str>::Stale, "the memory failed before; open it again"),
        (&StoreError::<&str>::Record(FrameError::Cut), "the frame is cut short"),
    ]);
    let told = FrameError::Version(99).to_string();
    assert!(told.starts_with("the frame has version 99; this program reads version "), "{told}");
}
