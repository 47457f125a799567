//! What is known of a joint before it is checked.

use super::{JointError, Preparation};
use crate::math;
use crate::part::side::Side;
use crate::units::error::Range;
use crate::units::limits::{
    BACKING, BEAD, BEVEL, CAP, CENTRE, COUNTERBORE, CROWN, EXCESS, GAP, HAZ, LAND, OD, RADIUS, THICKNESS,
};
use crate::units::{Degrees, Millimetres};

/// The root radius of a U or J preparation for which none is given. Common practice, no source.
pub const ASSUMED_RADIUS: Millimetres = Millimetres::constant(6.0);

/// A backing bar left at the far face, centred on the gap.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Backing {
    /// Its width across the weld.
    pub width: Millimetres,
    /// Its height below the far face.
    pub height: Millimetres,
}

/// A step of the far face, where the ends were bored out to fit: the same on both sides.
///
/// The thickness of the joint is that at the weld; beyond the step the wall is thicker by its height.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Counterbore {
    /// Distance of the step from the centreline.
    pub distance: Millimetres,
    /// Its height.
    pub height: Millimetres,
}

/// The face of a pipe that is scanned.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum ScannedFrom {
    /// The outside.
    #[default]
    Outside,
    /// The bore.
    Inside,
}

/// The part's curvature as the beam meets it.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Curvature {
    /// None.
    #[default]
    Flat,
    /// The beam runs around the circumference: a longitudinal seam.
    AroundPipe {
        /// Outside diameter.
        od: Millimetres,
        /// The scanned face.
        from: ScannedFrom,
    },
    /// The beam runs along the axis, flat-plate geometry: a girth weld.
    AlongPipe {
        /// Outside diameter.
        od: Millimetres,
        /// The scanned face.
        from: ScannedFrom,
    },
}

/// The sides of the weld that the probe can use.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Reach {
    /// Side A only.
    A,
    /// Side B only.
    B,
    /// Both.
    #[default]
    Both,
}

impl Reach {
    /// Whether the probe can stand on that side.
    #[must_use]
    pub const fn allows(self, side: Side) -> bool {
        matches!((self, side), (Self::Both, _) | (Self::A, Side::A) | (Self::B, Side::B))
    }
}

/// Everything a joint can be told. Lengths are the drawing's or measured ones; what is `None` is not known.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct JointSpec {
    /// Plate thickness, 0.5 to 1000 mm.
    pub thickness: Millimetres,
    /// Preparation.
    pub preparation: Preparation,
    /// Bevel from the vertical, per side, 0 to 80 degrees; every preparation but the square one needs it.
    pub bevel: Option<Degrees>,
    /// Root gap, 0 to 100 mm; every preparation needs it. The centreline is its middle.
    pub gap: Option<Millimetres>,
    /// Land (root face); every preparation but the square one needs it.
    pub land: Option<Millimetres>,
    /// Root radius of U and J; [`ASSUMED_RADIUS`] when absent.
    pub radius: Option<Millimetres>,
    /// The side with the prepared face of a bevel or J preparation; side B when absent.
    pub bevelled: Option<Side>,
    /// Width of the weld at the scanned face.
    pub cap: Option<Millimetres>,
    /// y of the middle of the cap; absent, the cap is centred on the groove's opening. Needs `cap`.
    pub centre: Option<Millimetres>,
    /// Height of the cap; 0 or absent is dressed flush.
    pub crown: Option<Millimetres>,
    /// Width of the weld at the far face.
    pub bead: Option<Millimetres>,
    /// Height of the bead below the far face.
    pub excess: Option<Millimetres>,
    /// Width of the heat-affected zone beside each fusion face.
    pub haz: Option<Millimetres>,
    /// Backing bar.
    pub backing: Option<Backing>,
    /// Counterbore.
    pub counterbore: Option<Counterbore>,
    /// Curvature.
    pub curvature: Curvature,
    /// Sides the probe can use.
    pub reach: Reach,
}

impl JointSpec {
    /// A spec that knows the thickness and the preparation only.
    #[must_use]
    pub const fn new(thickness: Millimetres, preparation: Preparation) -> Self {
        Self {
            thickness,
            preparation,
            bevel: None,
            gap: None,
            land: None,
            radius: None,
            bevelled: None,
            cap: None,
            centre: None,
            crown: None,
            bead: None,
            excess: None,
            haz: None,
            backing: None,
            counterbore: None,
            curvature: Curvature::Flat,
            reach: Reach::Both,
        }
    }

    pub(super) fn check(&self) -> Result<(), JointError> {
        THICKNESS.check(self.thickness.get())?;
        if let Some(bevel) = self.bevel {
            BEVEL.check(bevel.get())?;
        }
        let lengths: [(Option<Millimetres>, Range); 13] = [
            (self.gap, GAP),
            (self.land, LAND),
            (self.radius, RADIUS),
            (self.cap, CAP),
            (self.centre, CENTRE),
            (self.crown, CROWN),
            (self.bead, BEAD),
            (self.excess, EXCESS),
            (self.haz, HAZ),
            (self.backing.map(|bar| bar.width), BACKING),
            (self.backing.map(|bar| bar.height), BACKING),
            (self.counterbore.map(|bore| bore.distance), COUNTERBORE),
            (self.counterbore.map(|bore| bore.height), COUNTERBORE),
        ];
        for (length, range) in lengths {
            if let Some(length) = length {
                range.check(length.get())?;
            }
        }
        self.check_what_belongs()?;
        self.check_groove()?;
        self.check_counterbore()?;
        self.check_pipe()
    }

    /// Each value that the preparation needs is there, and none that it lacks.
    fn check_what_belongs(&self) -> Result<(), JointError> {
        let preparation = self.preparation;
        let prepared = preparation != Preparation::Square;
        let radius = self.radius.is_some();
        // A zero written out says that there is none.
        let zero = |length: Option<Millimetres>| length.is_some_and(|length| length.get() == 0.0);
        let table = [
            ("gap", self.gap.is_some(), true, true),
            (
                "bevel",
                self.bevel.is_some(),
                prepared,
                prepared || self.bevel.is_some_and(|bevel| bevel.get() == 0.0),
            ),
            ("land", self.land.is_some(), prepared, prepared || zero(self.land)),
            ("radius", radius, false, preparation.has_radius() || zero(self.radius)),
            ("bevelled side", self.bevelled.is_some(), false, !preparation.is_symmetric()),
        ];
        for (quantity, given, needed, used) in table {
            if needed && !given {
                return Err(JointError::Missing { quantity, preparation });
            }
            if given && !used {
                return Err(JointError::NotUsed { quantity, preparation });
            }
        }
        for (quantity, height, needs, width) in
            [("crown", self.crown, "cap", self.cap), ("excess", self.excess, "bead", self.bead)]
        {
            if height.is_some_and(|height| height.get() > 0.0) && width.is_none() {
                return Err(JointError::Without { quantity, needs });
            }
        }
        if self.centre.is_some() && self.cap.is_none() {
            return Err(JointError::Without { quantity: "centre", needs: "cap" });
        }
        Ok(())
    }

    /// The groove fits into the thickness.
    fn check_groove(&self) -> Result<(), JointError> {
        let (Some(land), Some(bevel)) = (self.land, self.bevel) else {
            return Ok(());
        };
        let thickness = self.thickness;
        if land >= thickness {
            return Err(JointError::LandTooThick { land, thickness });
        }
        if self.preparation.has_radius() {
            let radius = self.radius.unwrap_or(ASSUMED_RADIUS);
            // The curve ends r (1 − sin b) above the land, where it meets the bevel.
            let largest = self.groove_depth() / (1.0 - math::sin_cos(bevel.get()).0);
            if radius.get() > largest {
                return Err(JointError::RadiusTooLarge { radius, largest });
            }
        }
        Ok(())
    }

    /// The step lies beside what the weld has at the far face, on a face that can be bored.
    fn check_counterbore(&self) -> Result<(), JointError> {
        let Some(Counterbore { distance, .. }) = self.counterbore else { return Ok(()) };
        match self.curvature {
            Curvature::AroundPipe { .. } | Curvature::AlongPipe { from: ScannedFrom::Inside, .. } => {
                return Err(JointError::NoBoreToStep);
            }
            Curvature::Flat | Curvature::AlongPipe { .. } => {}
        }
        let widths = [self.gap, self.bead, self.backing.map(|bar| bar.width)];
        let widest = widths.into_iter().flatten().map(Millimetres::get).fold(0.0, math::larger);
        if distance.get() <= 0.5 * widest {
            return Err(JointError::StepInWeld { distance, least: 0.5 * widest });
        }
        Ok(())
    }

    fn check_pipe(&self) -> Result<(), JointError> {
        let (Curvature::AroundPipe { od, .. } | Curvature::AlongPipe { od, .. }) = self.curvature else {
            return Ok(());
        };
        OD.check(od.get())?;
        let thickness = self.thickness;
        if od.get() <= 2.0 * thickness.get() {
            return Err(JointError::WallThickerThanPipe { thickness, od });
        }
        Ok(())
    }

    /// Depth of the groove from one face to the land: t − land, or half of that from each face.
    pub(super) fn groove_depth(&self) -> f32 {
        let land = self.land.map_or(0.0, Millimetres::get);
        let depth = self.thickness.get() - land;
        if self.preparation.is_double() { 0.5 * depth } else { depth }
    }
}
