//! The facts that evidence is made of, with their figures.

use super::evidence::PatternSeen;
use crate::part::side::{Face, Side};
use crate::planning::geometry_echoes::Feature;
use crate::record::entry::Steadiness;

/// One fact, with its figures: levels in dB over the reference, depths below the near face, uncertainties expanded
/// (k = 2). A view is one probe on one side and face.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Fact {
    /// The examiner peaked a corner.
    CornerPeaked {
        /// The face that it is a corner with.
        face: Face,
        /// How many readings.
        readings: u32,
    },
    /// The examiner peaked tips beside a corner.
    TipPeaked {
        /// How many readings of tips.
        readings: u32,
    },
    /// The examiner peaked an upper and a lower tip and no corner.
    BothTipsPeaked {
        /// How far the lower lies below the upper, mm.
        apart: f32,
    },
    /// The examiner looked for a tip.
    TipObserved {
        /// Whether there was one.
        seen: bool,
    },
    /// Views whose echo lies at a face.
    AtFace {
        /// The face.
        face: Face,
        /// How many.
        views: u32,
    },
    /// The echo at a face stands far over every one from inside.
    OverInside {
        /// The face.
        face: Face,
        /// By how much at the least, dB.
        margin: f32,
    },
    /// It does not: an echo by way of the face, as a buried reflector gives.
    ByWayOf {
        /// The face.
        face: Face,
        /// How far it stands over those from inside at the most, dB; below 0 under them.
        margin: f32,
    },
    /// Those who see the face see nothing inside.
    NothingInside {
        /// The face.
        face: Face,
        /// How many.
        views: u32,
    },
    /// The echo at a face is too wide for a corner.
    WideAtFace {
        /// The face.
        face: Face,
        /// Probe travel between its 6 dB points, mm.
        width: f32,
        /// What a corner's would be at the most, mm.
        beam: f32,
    },
    /// The strongest echo is weak for a corner with a face that others lie at.
    WeakAtFace {
        /// The face.
        face: Face,
        /// Level of the strongest, dB.
        level: f32,
        /// Under this a corner is not likely, dB.
        limit: f32,
    },
    /// Both faces answer about as strongly.
    AtBothFaces {
        /// The difference of the two, dB.
        apart: f32,
    },
    /// Views that agree on a place inside, or the one that has it.
    Inside {
        /// How many.
        views: u32,
        /// Across the weld, mm.
        y: f32,
        /// Uncertainty of y, mm.
        u_y: f32,
        /// Depth, mm.
        z: f32,
        /// Uncertainty of z, mm.
        u_z: f32,
        /// Whether both sides of the weld saw it.
        both_sides: bool,
    },
    /// An echo elsewhere stands far over every one from inside.
    Outshone {
        /// By how much, dB.
        margin: f32,
    },
    /// Two places inside, one above the other.
    TwoEnds {
        /// Depth of the upper, mm.
        upper: f32,
        /// Depth of the lower, mm.
        lower: f32,
        /// Their line off upright, deg, 0 to 90 either way.
        tilt: f32,
    },
    /// Odd legs see it higher than even ones: each the side of a body that is turned to it.
    Body {
        /// Mean depth of odd legs, mm.
        above: f32,
        /// Mean depth of even legs, mm.
        below: f32,
    },
    /// An echo by way of the opposite face, as strong as the direct one: an upright plane sends it.
    ByTheFace {
        /// Refracted angle of the probe, deg.
        angle: f32,
        /// How far it stands over the direct echo, dB; below 0 under it.
        margin: f32,
    },
    /// None so strong, where it would have been seen.
    NotByTheFace {
        /// Refracted angle of the probe, deg.
        angle: f32,
        /// The strongest there over the direct echo, dB; below 0 under it.
        margin: f32,
    },
    /// Echoes past a face.
    PastFace {
        /// The face.
        face: Face,
        /// How many views saw some.
        views: u32,
        /// Mean distance past it, mm.
        by: f32,
        /// Uncertainty of the best known of them, mm.
        u: f32,
    },
    /// Both sides plot past one another.
    Crossed {
        /// The face that the echoes lie at.
        face: Face,
        /// By how much, mm: y seen from side A less y seen from side B, above 0.
        by: f32,
        /// Uncertainty of that, mm.
        u: f32,
        /// How many pairs of echoes, one from either side by one probe, it is the mean of.
        pairs: u32,
    },
    /// Both sides plot at one place.
    SamePlace {
        /// The face that the echoes lie at.
        face: Face,
        /// Difference, as above, either sign, within its uncertainty, mm.
        by: f32,
        /// Uncertainty of that, mm.
        u: f32,
        /// How many pairs, as above.
        pairs: u32,
    },
    /// Both sides plot short of one another.
    Apart {
        /// The face that the echoes lie at.
        face: Face,
        /// Difference, as above, below 0, mm.
        by: f32,
        /// Uncertainty of that, mm.
        u: f32,
        /// How many pairs, as above.
        pairs: u32,
    },
    /// From one angle to a higher one the level changes as a corner's does.
    HoldsWithAngle {
        /// Lower refracted angle, deg.
        from: f32,
        /// Higher one, deg.
        to: f32,
        /// Level at the higher less that at the lower, dB.
        change: f32,
        /// What that is of a corner, dB.
        corner: f32,
    },
    /// It falls by far more.
    FallsWithAngle {
        /// Lower refracted angle, deg.
        from: f32,
        /// Higher one, deg.
        to: f32,
        /// Level at the higher less that at the lower, dB.
        change: f32,
        /// What that is of a corner, dB.
        corner: f32,
    },
    /// Levels from several directions.
    Directions {
        /// How many.
        count: u32,
        /// The largest angle between two, deg.
        span: f32,
        /// The highest level, dB.
        highest: f32,
        /// The lowest of those far enough from its direction, dB.
        lowest: f32,
        /// The lowest is a limit: nothing was seen from there.
        at_most: bool,
    },
    /// An echo was looked for in vain where the beam did not pass the indication.
    LookedElsewhere {
        /// The reading.
        reading: u32,
        /// How far beside it, mm.
        by: f32,
    },
    /// A level at or above the limit from which the classification standard calls it planar.
    High {
        /// The level, dB.
        level: f32,
        /// The limit, dB.
        limit: f32,
    },
    /// The class of a series.
    Series(PatternSeen),
    /// How the echo falls as the probe is led around the reflector, or turned.
    Turned {
        /// Led around; else turned about its index point.
        orbit: bool,
        /// Angle between the 6 dB points, deg.
        width: f32,
        /// The series ends within them: the angle is at least that.
        open: bool,
        /// Peaks that stand out.
        peaks: u32,
    },
    /// What the examiner saw of that.
    TurnObserved {
        /// Led around; else turned about its index point.
        orbit: bool,
        /// How the echo behaved.
        seen: Steadiness,
    },
    /// How the echo begins and ends along the weld.
    Along {
        /// Peaks that stand out.
        peaks: u32,
        /// Both ends fall faster than the beam of a point does.
        abrupt: bool,
        /// The deepest valley between two peaks, dB under the lower of them; 0 of one peak.
        deepest: f32,
    },
    /// The surface was damped.
    Damped {
        /// Whether the echo fell.
        fell: bool,
    },
    /// A clean length was compared.
    LikeCleanLength {
        /// Whether it gives the same echo.
        like: bool,
    },
    /// Strong from one side, weak or not seen from the other.
    OneSided {
        /// The side that it is strong from.
        side: Side,
        /// How far over the other, or over the limit of what was not seen from there, dB.
        over: f32,
    },
    /// It lies on a prepared face and answers best where that is met squarely.
    OnFusionFace {
        /// The side of that face.
        side: Side,
        /// Distance from the face, mm.
        off: f32,
        /// The face off upright, deg.
        tilt: f32,
    },
    /// What breaks a face and is a flaw answers from a corner: it stands on the face.
    CornerOfFlaw,
    /// The echoes at a face lie clear of its reinforcement.
    Elsewhere {
        /// The face.
        face: Face,
        /// Distance of the nearest from the centreline, mm.
        y: f32,
        /// Where the reinforcement ends on its side, from the centreline, mm.
        half: f32,
    },
    /// A feature that the joint has explains every view.
    ExpectedThere {
        /// The feature.
        feature: Feature,
        /// How far off it is, in units of the expanded uncertainty.
        distance: f32,
    },
}
