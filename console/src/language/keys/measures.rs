//! The measures of the keys: each a quantity of the core, held to the core's range for that key.

use halfskip::units::limits;
use halfskip::units::{
    Decibels, DecibelsPerMillimetre, Degrees, Megahertz, Microseconds, Millimetres,
    MillimetresPerMicrosecond, Percent, ScreenPercent, VelocityDifference,
};

use super::Measure;

macro_rules! measures {
    ($($quantity:ident: $($name:ident)+;)+) => {$($(
        pub(crate) const $name: &Measure = &Measure::of::<$quantity>(limits::$name);
    )+)+};
}

measures! {
    Millimetres: PATH STANDOFF X THICKNESS GAP LAND RADIUS CAP CENTRE CROWN BEAD EXCESS HAZ BACKING COUNTERBORE OD ELEMENT
        FRONT WEDGE_PATH DEPTH DISTANCE INDEX HOLE LENGTH_TOLERANCE;
    Degrees: ANGLE SKEW BEVEL ANGLE_TOLERANCE APART;
    Megahertz: FREQUENCY;
    Microseconds: TIME DELAY;
    Decibels: GAIN TRANSFER MARGIN GAIN_CHANGE LEVEL_TOLERANCE STAGE DIFFERENCE;
    ScreenPercent: REFERENCE_HEIGHT SCREEN NOISE HEIGHT_TOLERANCE;
    Percent: RANGE_TOLERANCE;
    MillimetresPerMicrosecond: WEDGE;
    VelocityDifference: VELOCITY_TOLERANCE;
}

pub(crate) const VELOCITY: &Measure =
    &Measure::of::<MillimetresPerMicrosecond>(MillimetresPerMicrosecond::RANGE);
pub(crate) const ATTENUATION: &Measure = &Measure::of::<DecibelsPerMillimetre>(DecibelsPerMillimetre::RANGE);
