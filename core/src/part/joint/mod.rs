//! The joint: what the examiner knows of the weld before a probe touches it, checked, and its cross-section.
//!
//! ```text
//!      side A                 side B
//!            \  cap width  /                y: across, 0 = centreline (middle of the gap), side A negative
//!   z = 0 ____\___________/____  scanned    z: down from the scanned face
//!              \         /
//!               \       /   bevel from the vertical, per side
//!                \     /
//!                 |   |     land
//!   z = t ________|   |________  far face
//!                  gap
//! ```
//!
//! Single preparations open toward the scanned face. A bevel or J preparation has its upright face on side A unless the
//! spec names side A as the bevelled one. The cap is centred on the groove's opening at the scanned face, and the bead on
//! the one at the far face; the spec can give another middle for the cap.

mod clearance;
mod error;
mod faces;
mod preparation;
mod profile;
mod reinforcement;
mod section;
mod spec;

pub use clearance::{Clearance, Obstacle};
pub use error::JointError;
pub use faces::{FusionFace, RootEdge};
pub use preparation::Preparation;
pub use profile::{FaceKind, Point};
pub use reinforcement::CAP_CORNERS;
pub use section::{BODY_CORNERS, Section};
pub use spec::{ASSUMED_RADIUS, Backing, Counterbore, Curvature, JointOf, JointSpec, Reach, ScannedFrom};

use crate::units::Millimetres;

/// A checked joint.
///
/// ```
/// use halfskip::part::joint::{Joint, JointError, JointSpec, Preparation};
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = |value| Millimetres::new(value).unwrap();
/// let spec = JointSpec {
///     bevel: Some(Degrees::new(30.0).unwrap()),
///     gap: Some(mm(3.0)),
///     land: Some(mm(2.0)),
///     ..JointSpec::new(mm(20.0), Preparation::SingleV)
/// };
/// assert!(Joint::new(spec).is_ok());
///
/// let flat = JointSpec { bevel: None, ..spec };
/// assert_eq!(
///     Joint::new(flat).unwrap_err().to_string(),
///     "a single-v preparation needs bevel"
/// );
/// let solid = JointSpec { land: Some(mm(20.0)), ..spec };
/// assert!(matches!(Joint::new(solid), Err(JointError::LandTooThick { .. })));
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "JointSpec", into = "JointSpec"))]
pub struct Joint {
    spec: JointSpec,
}

impl Joint {
    /// Checks a spec.
    ///
    /// # Errors
    /// [`JointError`] by the name of what is missing, does not belong, is out of its range or does not fit.
    pub fn new(spec: JointSpec) -> Result<Self, JointError> {
        spec.check()?;
        Ok(Self { spec })
    }

    /// The spec it was made from.
    #[must_use]
    pub const fn spec(&self) -> &JointSpec {
        &self.spec
    }

    /// Plate thickness.
    #[must_use]
    pub const fn thickness(&self) -> Millimetres {
        self.spec.thickness
    }

    /// Preparation.
    #[must_use]
    pub const fn preparation(&self) -> Preparation {
        self.spec.preparation
    }

    /// Root radius; `None` of a preparation that has none.
    #[must_use]
    pub fn radius(&self) -> Option<Millimetres> {
        self.preparation().has_radius().then(|| self.spec.radius.unwrap_or(ASSUMED_RADIUS))
    }

    /// Whether the root radius is [`ASSUMED_RADIUS`] because none was given.
    #[must_use]
    pub const fn radius_is_assumed(&self) -> bool {
        self.preparation().has_radius() && self.spec.radius.is_none()
    }

    /// Whether the cap is dressed flush, so that the probe may stand on the weld.
    #[must_use]
    pub fn is_flush(&self) -> bool {
        self.spec.crown.is_none_or(|crown| crown.get() == 0.0)
    }

    /// The cross-section.
    #[must_use]
    pub fn section(&self) -> Section {
        Section::new(self)
    }
}

impl TryFrom<JointSpec> for Joint {
    type Error = JointError;

    fn try_from(spec: JointSpec) -> Result<Self, Self::Error> {
        Self::new(spec)
    }
}

impl From<Joint> for JointSpec {
    fn from(joint: Joint) -> Self {
        joint.spec
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Degrees;

    fn mm(value: f32) -> Option<Millimetres> {
        Millimetres::new(value).ok()
    }

    fn spec(preparation: Preparation) -> JointSpec {
        JointSpec {
            bevel: Degrees::new(15.0).ok(),
            gap: mm(2.0),
            land: mm(2.0),
            ..JointSpec::new(Millimetres::constant(20.0), preparation)
        }
    }

    fn refused(spec: JointSpec) -> std::string::String {
        std::format!("{}", Joint::new(spec).unwrap_err())
    }

    #[test]
    fn what_a_preparation_needs_or_lacks_is_named() {
        use Preparation::{DoubleBevel, SingleJ, SingleV, Square};
        assert_eq!(refused(JointSpec { bevel: None, ..spec(SingleJ) }), "a single-j preparation needs bevel");
        assert_eq!(refused(JointSpec { gap: None, ..spec(SingleV) }), "a single-v preparation needs gap");
        assert_eq!(
            refused(JointSpec { land: None, ..spec(DoubleBevel) }),
            "a double-bevel preparation needs land"
        );
        assert_eq!(refused(spec(Square)), "a square preparation has no bevel");
        assert_eq!(
            refused(JointSpec { radius: mm(6.0), ..spec(SingleV) }),
            "a single-v preparation has no radius"
        );
        let sided = JointSpec { bevelled: Some(crate::part::side::Side::A), ..spec(SingleV) };
        assert_eq!(refused(sided), "a single-v preparation has no bevelled side");
        assert_eq!(refused(JointSpec { crown: mm(2.0), ..spec(SingleV) }), "crown needs cap as well");
        assert_eq!(refused(JointSpec { centre: mm(-2.0), ..spec(SingleV) }), "centre needs cap as well");
        assert!(Joint::new(JointSpec { centre: mm(-2.0), cap: mm(30.0), ..spec(SingleV) }).is_ok());
        let sided = JointSpec { bevelled: Some(crate::part::side::Side::B), ..spec(DoubleBevel) };
        assert!(Joint::new(sided).is_ok());
        assert!(Joint::new(JointSpec { crown: mm(0.0), ..spec(SingleV) }).is_ok());
    }

    #[test]
    fn a_groove_that_does_not_fit_is_refused() {
        let thin = JointSpec { thickness: Millimetres::constant(8.0), ..spec(Preparation::DoubleU) };
        // (8 − 2) / 2 / (1 − sin 15°)
        assert_eq!(refused(thin), "root radius 6 mm does not fit: at most 4.0476 mm between land and face");
        let fits = JointSpec { radius: mm(4.0), ..thin };
        assert!(Joint::new(fits).is_ok_and(|joint| !joint.radius_is_assumed()));
        // With an upright bevel a radius as large as the groove is deep only just fits.
        let whole =
            JointSpec { bevel: Degrees::new(0.0).ok(), radius: mm(18.0), ..spec(Preparation::SingleU) };
        assert!(Joint::new(whole).is_ok());
        let crossing = JointSpec { land: mm(20.5), ..spec(Preparation::DoubleV) };
        assert_eq!(refused(crossing), "land 20.5 mm leaves nothing to bevel in 20 mm");
    }

    #[test]
    fn numbers_out_of_range_are_refused_by_their_own_name() {
        use Preparation::SingleV;
        for (spec, text) in [
            (JointSpec { gap: mm(-1.0), ..spec(SingleV) }, "gap -1 mm is outside 0 to 100 mm"),
            (
                JointSpec { thickness: Millimetres::constant(0.4), ..spec(SingleV) },
                "thickness 0.4 mm is outside 0.5 to 1000 mm",
            ),
            (JointSpec { haz: mm(-3.0), ..spec(SingleV) }, "haz -3 mm is outside 0 to 500 mm"),
            (
                JointSpec { cap: mm(30.0), centre: mm(-1001.0), ..spec(SingleV) },
                "centre -1001 mm is outside -1000 to 1000 mm",
            ),
            (
                JointSpec { bevel: Degrees::new(85.0).ok(), ..spec(SingleV) },
                "bevel 85 deg is outside 0 to 80 deg",
            ),
        ] {
            assert_eq!(refused(spec), text);
        }
        let od = Millimetres::constant(40.0);
        let pipe = JointSpec {
            curvature: Some(Curvature::AlongPipe { od, from: ScannedFrom::Outside }),
            ..spec(SingleV)
        };
        assert_eq!(refused(pipe), "wall 20 mm leaves no bore in a pipe of 40 mm");
    }

    #[test]
    fn a_counterbores_step_lies_beside_the_bead() {
        let at = |distance| JointSpec {
            bead: mm(10.0),
            counterbore: Some(Counterbore {
                distance: Millimetres::constant(distance),
                height: Millimetres::constant(2.0),
            }),
            ..spec(Preparation::SingleV)
        };
        assert!(Joint::new(at(6.0)).is_ok());
        let in_weld = JointError::StepInWeld { distance: Millimetres::constant(5.0), least: 5.0 };
        assert_eq!(Joint::new(at(5.0)).unwrap_err(), in_weld);
    }
}
