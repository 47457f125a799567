//! Why a ground is in its state.

use super::super::Aspect;
use crate::record::examination::EventKind;
use crate::units::{Decibels, Degrees, Megahertz, Millimetres, Percent, ScreenPercent};

/// Why a ground is in its state.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Why {
    /// Nothing is there that it could be about.
    NoReading,
    /// Good checks lie before and after all of its readings.
    Checked(Aspect),
    /// A check that speaks for a reading failed.
    CheckFailed {
        /// The check.
        check: u32,
        /// Whether it was voided.
        void: bool,
    },
    /// Nothing good of that day lies before a reading.
    NoCheckBefore {
        /// What of.
        aspect: Aspect,
        /// The probe, by its place.
        probe: u8,
        /// The reading.
        reading: u32,
    },
    /// No good check of that day lies after a reading.
    NoCheckAfter {
        /// What of.
        aspect: Aspect,
        /// The probe, by its place.
        probe: u8,
        /// The reading.
        reading: u32,
    },
    /// A line of the calibration was made anew after a reading, which is worked out with it.
    MadeAnew {
        /// Which line.
        kind: EventKind,
        /// The new one.
        entry: u32,
        /// The reading.
        reading: u32,
    },
    /// The checks around a reading are too far apart in time.
    ChecksApart {
        /// The entry before.
        before: u32,
        /// The check after.
        after: u32,
        /// Minutes between them.
        minutes: u16,
        /// Minutes allowed.
        allowed: u16,
    },
    /// The check after a reading has an earlier time than the one before.
    ChecksBackwards {
        /// The entry before.
        before: u32,
        /// The check after.
        after: u32,
    },
    /// There were more checks or days than can be held.
    ChecksLost,
    /// The angle was measured.
    AngleMeasured,
    /// The angle of a probe is stated.
    AngleStated {
        /// The probe, by its place.
        probe: u8,
        /// The angle.
        angle: Degrees,
    },
    /// Neither measured nor stated.
    NoAngle {
        /// The probe, by its place.
        probe: u8,
    },
    /// The angle in use is off the nominal one by more than allowed.
    AngleOff {
        /// The probe, by its place.
        probe: u8,
        /// The angle in use.
        angle: Degrees,
        /// The nominal angle.
        nominal: Degrees,
        /// How far it may be off.
        within: Degrees,
    },
    /// The index point is off its mark by more than allowed.
    IndexOff {
        /// The probe, by its place.
        probe: u8,
        /// How far ahead of the mark it is.
        index: Millimetres,
        /// How far it may be off.
        within: Millimetres,
    },
    /// The technique does not have this nominal angle.
    AngleNotAllowed {
        /// The probe, by its place.
        probe: u8,
        /// The nominal angle.
        nominal: Degrees,
    },
    /// The technique does not have this frequency.
    FrequencyNotAllowed {
        /// The probe, by its place.
        probe: u8,
        /// The frequency.
        frequency: Megahertz,
    },
    /// The time base runs at another velocity than the material has.
    OtherVelocity {
        /// The probe, by its place.
        probe: u8,
    },
    /// The temperature of the wedge turns the beam, and the angle was measured at an unknown one.
    AngleAtUnknownTemperature {
        /// The probe, by its place.
        probe: u8,
    },
    /// The reference curve is plausible and of one reflector.
    ReferenceMeasured,
    /// One hole is the whole reference of a weighted rating.
    OneHole,
    /// No point says which hole it is of.
    HolesNotNamed {
        /// The probe, by its place.
        probe: u8,
    },
    /// The curve ends before a reading's path, and is carried on by the procedure's word.
    CarriedOn {
        /// The reading.
        reading: u32,
    },
    /// Some points name their hole, others do not.
    HolesMixed {
        /// The probe, by its place.
        probe: u8,
    },
    /// A probe has no reference point.
    NoReference {
        /// The probe, by its place.
        probe: u8,
    },
    /// The gain of the curve falls with path.
    Falls {
        /// The probe, by its place.
        probe: u8,
        /// The point before.
        from: u32,
        /// The point that takes less gain.
        to: u32,
        /// By how much.
        by: Decibels,
    },
    /// A point of the curve lies off the line of its neighbours.
    OffTheLine {
        /// The probe, by its place.
        probe: u8,
        /// The point.
        entry: u32,
        /// By how much.
        by: Decibels,
    },
    /// The points on both sides of a reading's path are too far apart.
    PointsApart {
        /// The reading.
        reading: u32,
        /// The point at the shorter path.
        from: u32,
        /// The point at the longer path.
        to: u32,
    },
    /// The only point of the curve is at a shorter path than the reading, where the level reads low.
    BeyondOnePoint {
        /// The reading.
        reading: u32,
        /// The point's path.
        path: Millimetres,
    },
    /// The path is more than twice the longest of the curve, or less than half of the shortest.
    FarBeyond {
        /// The reading.
        reading: u32,
    },
    /// The path lies in the near field, and the only point of the curve elsewhere.
    NearField {
        /// The reading.
        reading: u32,
        /// Length of the near field in the part.
        near_field: Millimetres,
    },
    /// The transfer correction was measured.
    TransferMeasured,
    /// The transfer correction of a probe is stated.
    TransferStated {
        /// The probe, by its place.
        probe: u8,
        /// The correction.
        gain: Decibels,
    },
    /// A probe has no transfer correction.
    NoTransfer {
        /// The probe, by its place.
        probe: u8,
    },
    /// The surface term is beyond what can be.
    TransferBeyond {
        /// The probe, by its place.
        probe: u8,
        /// The correction, at the surface or where something was read.
        gain: Decibels,
        /// The limit.
        limit: Decibels,
    },
    /// The probe could be where the readings say.
    Reached {
        /// Whether only its index point could be asked about, since no `front` is recorded.
        index_only: bool,
    },
    /// No joint is recorded.
    NoJoint,
    /// The joint says that the side of a reading cannot be reached.
    SideNotReached {
        /// The reading.
        reading: u32,
    },
    /// The probe would have been on the cap or in the groove.
    InTheWay {
        /// The reading.
        reading: u32,
        /// Its stand-off.
        standoff: Millimetres,
        /// The least stand-off that clears it.
        least: Millimetres,
    },
    /// The echoes lie in weld or heat-affected zone.
    OnWeld {
        /// Whether the heat-affected zone is taken as 10 mm, since none is recorded.
        assumed: bool,
    },
    /// An echo lies outside weld, heat-affected zone and its uncertainty.
    OffWeld {
        /// The reading.
        reading: u32,
        /// Its place across the weld.
        y: Millimetres,
        /// The end of weld and heat-affected zone on that side.
        edge: Millimetres,
    },
    /// The thickness of the readings is that of the joint.
    Thickness,
    /// The thickness of a reading is another than that of the joint.
    OtherThickness {
        /// The reading.
        reading: u32,
        /// Its thickness.
        thickness: Millimetres,
        /// That of the joint.
        joint: Millimetres,
    },
    /// The readings lie together along the weld.
    Together,
    /// A reading lies apart from the others along the weld.
    Apart {
        /// The reading.
        reading: u32,
        /// Its place along the weld.
        x: Millimetres,
        /// The gap to the nearest of the others.
        gap: Millimetres,
    },
    /// The deciding echo was read within the screen.
    Amplitude,
    /// The deciding echo was read too low or too high on the screen.
    AmplitudeOutside {
        /// The reading.
        reading: u32,
        /// What was read.
        shown: ScreenPercent,
        /// Least that counts.
        from: ScreenPercent,
        /// Greatest that counts.
        to: ScreenPercent,
    },
    /// The deciding echo left the screen.
    LeftTheScreen {
        /// The reading.
        reading: u32,
    },
    /// The level is so low that no reading of it can be right.
    Implausible {
        /// The reading.
        reading: u32,
        /// The level.
        level: Decibels,
    },
    /// No reading decides a level.
    NoLevel,
    /// The place is known.
    Placed,
    /// No place is known.
    NoPlace,
    /// Screen and gain were found linear.
    Linear,
    /// Linearity of the screen or of the gain was not checked.
    NotChecked {
        /// Whether the screen was.
        screen: bool,
        /// Whether the gain control was.
        gain: bool,
    },
    /// A linearity check failed.
    NotLinear,
    /// The report says what the scan of the parent metal found.
    ParentMetalStated,
    /// Nothing is recorded of the parent metal.
    NoParentMetal,
    /// So much of weld and heat-affected zone was crossed.
    Covered {
        /// Share, %.
        share: Percent,
        /// What is asked.
        asked: Percent,
        /// Whether by the recorded movements, not by what the probes could cross.
        scanned: bool,
    },
    /// This program was built without coverage.
    CoverageLeftOut,
    /// No coverage can be worked out.
    NoCoverage,
    /// Nothing was worked out, since the technique does not ask for it.
    NotAsked,
}
