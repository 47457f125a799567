//! The ranges that entries are held to, one for each key of the line language that needs a narrower one than its
//! quantity has. The console checks a key against the same range before it makes the entry.

use crate::units::error::Range;

const fn range(quantity: &'static str, unit: &'static str, min: f32, max: f32) -> Range {
    Range { quantity, unit, min, max }
}

/// Sound path, index point to reflector.
pub const PATH: Range = range("path", "mm", 0.01, 10_000.0);
/// Echo time, there and back.
pub const TIME: Range = range("time", "us", 0.01, 10_000.0);
/// Stand-off, index point to weld centreline; negative where the probe has passed the centreline and still faces the same
/// way, as it can on a cap dressed flush.
pub const STANDOFF: Range = range("standoff", "mm", -10_000.0, 10_000.0);
/// Position along the weld.
pub const X: Range = range("x", "mm", -100_000.0, 100_000.0);
/// The number that ties readings seen at one probe position.
pub const TOGETHER: Range = range("together", "", 1.0, 255.0);
/// Thickness of the plate.
pub const THICKNESS: Range = range("thickness", "mm", 0.5, 1_000.0);
/// Refracted angle.
pub const ANGLE: Range = range("angle", "deg", 1.0, 89.0);
/// Skew off the weld's perpendicular.
pub const SKEW: Range = range("skew", "deg", -89.0, 89.0);
/// Bevel of one prepared face, from the vertical.
pub const BEVEL: Range = range("bevel", "deg", 0.0, 80.0);
/// Root gap.
pub const GAP: Range = range("gap", "mm", 0.0, 100.0);
/// Land, the unbevelled root face.
pub const LAND: Range = range("land", "mm", 0.0, 1_000.0);
/// Root radius of a U or J preparation.
pub const RADIUS: Range = range("radius", "mm", 0.5, 100.0);
/// Width of the cap at the scanned face.
pub const CAP: Range = range("cap", "mm", 0.1, 1_000.0);
/// Middle of the cap, from the centreline.
pub const CENTRE: Range = range("centre", "mm", -1_000.0, 1_000.0);
/// Height of the cap.
pub const CROWN: Range = range("crown", "mm", 0.0, 50.0);
/// Width of the bead at the far face.
pub const BEAD: Range = range("bead", "mm", 0.1, 1_000.0);
/// Height of the bead.
pub const EXCESS: Range = range("excess", "mm", 0.0, 50.0);
/// Width of the heat-affected zone beside the fusion face.
pub const HAZ: Range = range("haz", "mm", 0.0, 500.0);
/// Distance of a counterbore's step from the centreline, or its height.
pub const COUNTERBORE: Range = range("counterbore", "mm", 0.1, 500.0);
/// Width or height of a backing bar.
pub const BACKING: Range = range("backing", "mm", 0.1, 500.0);
/// Outside diameter of a pipe.
pub const OD: Range = range("od", "mm", 5.0, 100_000.0);
/// Frequency of a probe.
pub const FREQUENCY: Range = range("frequency", "MHz", 0.2, 25.0);
/// A dimension of a probe's element.
pub const ELEMENT: Range = range("element", "mm", 1.0, 50.0);
/// Index point to the probe's nose.
pub const FRONT: Range = range("front", "mm", 0.0, 200.0);
/// Longitudinal velocity of a wedge.
pub const WEDGE: Range = range("wedge", "mm/us", 0.5, 10.0);
/// Path in the wedge along the axis.
pub const WEDGE_PATH: Range = range("wedge-path", "mm", 0.0, 200.0);
/// Change of a wedge's velocity per degree Celsius.
pub const WEDGE_SLOPE: Range = range("wedge-slope", "mm/us", -0.1, 0.1);
/// Temperature of a probe.
pub const TEMPERATURE: Range = range("temperature", "degC", -100.0, 400.0);
/// Gain of an instrument.
pub const GAIN: Range = range("gain", "dB", -50.0, 200.0);
/// A height that a reference echo can have.
pub const REFERENCE_HEIGHT: Range = range("height", "%", 0.1, 1_000.0);
/// Depth of a hole's centre.
pub const DEPTH: Range = range("depth", "mm", 0.1, 1_000.0);
/// Surface distance to a hole.
pub const DISTANCE: Range = range("distance", "mm", 0.0, 10_000.0);
/// A stated index point, ahead of the probe's mark: no further than the widest probe is long.
pub const INDEX: Range = range("index", "mm", -50.0, 50.0);
/// A stated delay, spent before the index point; negative where the clock starts late.
pub const DELAY: Range = range("delay", "us", -1_000.0, 1_000.0);
/// Diameter of a side-drilled hole.
pub const HOLE: Range = range("hole", "mm", 0.1, 50.0);
/// A half width of the uncertainty budget, lengths.
pub const LENGTH_TOLERANCE: Range = range("tolerance", "mm", 0.0, 1_000.0);
/// A half width of the uncertainty budget, angle.
pub const ANGLE_TOLERANCE: Range = range("tolerance", "deg", 0.0, 45.0);
/// A half width of the uncertainty budget, velocity.
pub const VELOCITY_TOLERANCE: Range = range("tolerance", "mm/us", 0.0, 1.0);
/// A half width of the uncertainty budget, height.
pub const HEIGHT_TOLERANCE: Range = range("tolerance", "%", 0.0, 100.0);
/// Range drift of a check, % of the path.
pub const RANGE_TOLERANCE: Range = range("tolerance", "%", 0.0, 100.0);
/// How far an in-service check may be off, level.
pub const LEVEL_TOLERANCE: Range = range("tolerance", "dB", 0.0, 100.0);
/// Height that the screen can measure, or refers to.
pub const SCREEN: Range = range("height", "%", 1.0, 1_000.0);
/// Height of the noise.
pub const NOISE: Range = range("noise", "%", 0.0, 1_000.0);
/// A fixed transfer correction.
pub const TRANSFER: Range = range("gain", "dB", -100.0, 100.0);
/// Gain added for scanning.
pub const MARGIN: Range = range("margin", "dB", 0.0, 100.0);
/// Change of gain in a linearity check.
pub const GAIN_CHANGE: Range = range("change", "dB", -200.0, 200.0);
/// Time from one in-service check to the next.
pub const CHECK_EVERY: Range = range("check-every", "min", 1.0, 1_440.0);
/// A level that a stage of the classification begins or ends at.
pub const STAGE: Range = range("threshold", "dB", -100.0, 100.0);
/// A difference of levels between two directions.
pub const DIFFERENCE: Range = range("difference", "dB", 0.0, 100.0);
/// An angle between two directions.
pub const APART: Range = range("apart", "deg", 1.0, 90.0);
