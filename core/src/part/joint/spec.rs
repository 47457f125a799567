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
pub struct Backing<L = Millimetres> {
    /// Its width across the weld, 0.1 to 500 mm.
    pub width: L,
    /// Its height below the far face, 0.1 to 500 mm.
    pub height: L,
}

/// A step of the far face, where the ends were bored out to fit: the same on both sides.
///
/// The thickness of the joint is that at the weld; beyond the step the wall is thicker by its height.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Counterbore<L = Millimetres> {
    /// Distance of the step from the centreline, 0.1 to 500 mm.
    pub distance: L,
    /// Its height, 0.1 to 500 mm.
    pub height: L,
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

/// How a curved part is met by the beam. The outside diameter is more than twice the thickness
/// ([`OD`](crate::units::limits::OD)).
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Curvature<L = Millimetres> {
    /// The beam runs around the circumference: a longitudinal seam.
    AroundPipe {
        /// Outside diameter.
        od: L,
        /// The scanned face.
        from: ScannedFrom,
    },
    /// The beam runs along the axis, flat-plate geometry: a girth weld.
    AlongPipe {
        /// Outside diameter.
        od: L,
        /// The scanned face.
        from: ScannedFrom,
    },
}

/// The sides of the weld that the probe can use.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Reach {
    /// Side A only.
    A,
    /// Side B only.
    B,
    /// Both.
    Both,
}

/// All that is known of a joint, with its lengths as `L` and its angles as `A`: typed, as an entry has them, or plain. What
/// is `None` is not known, unless it says otherwise.
///
/// The order of the fields is that of an entry's frame: new ones are appended, none is moved.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct JointOf<L, A> {
    /// Thickness of plate or wall at the weld, 0.5 to 1000 mm.
    pub thickness: L,
    /// How the edges were prepared.
    pub preparation: Preparation,
    /// Bevel of one prepared face from the vertical, 0 to 80 degrees; every preparation but the square one needs it.
    pub bevel: Option<A>,
    /// Root gap, 0 to 100 mm; every preparation needs it. The centreline is its middle.
    pub gap: Option<L>,
    /// Height of the unbevelled root face, below the thickness; every preparation but the square one needs it.
    pub land: Option<L>,
    /// Root radius of a U or J, 0.5 to 100 mm; `None` there is [`ASSUMED_RADIUS`].
    pub radius: Option<L>,
    /// Width of the weld at the scanned face, 0.1 to 1000 mm.
    pub cap: Option<L>,
    /// Height of the cap, 0 to 50 mm; 0 or `None` is dressed flush. Needs `cap` when above 0.
    pub crown: Option<L>,
    /// Width of the weld at the far face, 0.1 to 1000 mm.
    pub bead: Option<L>,
    /// Height of the bead below the far face, 0 to 50 mm. Needs `bead` when above 0.
    pub excess: Option<L>,
    /// Width of the heat-affected zone beside each fusion face, 0 to 500 mm.
    pub haz: Option<L>,
    /// Backing bar.
    pub backing: Option<Backing<L>>,
    /// Counterbore.
    pub counterbore: Option<Counterbore<L>>,
    /// Curvature of the part; `None` is flat.
    pub curvature: Option<Curvature<L>>,
    /// The sides that the probe can use; `None` is both.
    pub reach: Option<Reach>,
    /// The side with the prepared face of a bevel or J preparation; `None` is side B. The others have no such side.
    pub bevelled: Option<Side>,
    /// y of the middle of the cap, -1000 to 1000 mm; `None` is the middle of the groove's opening at the scanned face. Needs
    /// `cap`.
    pub centre: Option<L>,
}

/// What is known of a joint before it is checked.
pub type JointSpec = JointOf<Millimetres, Degrees>;

impl<L, A> JointOf<L, A> {
    /// One of which the thickness and the preparation alone are known.
    #[must_use]
    pub const fn new(thickness: L, preparation: Preparation) -> Self {
        Self {
            thickness,
            preparation,
            bevel: None,
            gap: None,
            land: None,
            radius: None,
            cap: None,
            crown: None,
            bead: None,
            excess: None,
            haz: None,
            backing: None,
            counterbore: None,
            curvature: None,
            reach: None,
            bevelled: None,
            centre: None,
        }
    }

    /// The same joint with its lengths and angles in another form.
    pub fn map<M, B>(self, length: impl Fn(L) -> M, angle: impl Fn(A) -> B) -> JointOf<M, B> {
        let l = &length;
        JointOf {
            thickness: l(self.thickness),
            preparation: self.preparation,
            bevel: self.bevel.map(angle),
            gap: self.gap.map(l),
            land: self.land.map(l),
            radius: self.radius.map(l),
            cap: self.cap.map(l),
            crown: self.crown.map(l),
            bead: self.bead.map(l),
            excess: self.excess.map(l),
            haz: self.haz.map(l),
            backing: self.backing.map(|bar| Backing { width: l(bar.width), height: l(bar.height) }),
            counterbore: self
                .counterbore
                .map(|bore| Counterbore { distance: l(bore.distance), height: l(bore.height) }),
            curvature: self.curvature.map(|curvature| match curvature {
                Curvature::AroundPipe { od, from } => Curvature::AroundPipe { od: l(od), from },
                Curvature::AlongPipe { od, from } => Curvature::AlongPipe { od: l(od), from },
            }),
            reach: self.reach,
            bevelled: self.bevelled,
            centre: self.centre.map(l),
        }
    }

    /// Whether the probe can be put on that side.
    #[must_use]
    pub const fn reaches(&self, side: Side) -> bool {
        !matches!((self.reach, side), (Some(Reach::A), Side::B) | (Some(Reach::B), Side::A))
    }
}

impl JointSpec {
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
        if let Some(Curvature::AroundPipe { .. } | Curvature::AlongPipe { from: ScannedFrom::Inside, .. }) =
            self.curvature
        {
            return Err(JointError::NoBoreToStep);
        }
        let widths = [self.gap, self.bead, self.backing.map(|bar| bar.width)];
        let widest = widths.into_iter().flatten().map(Millimetres::get).fold(0.0, math::larger);
        if distance.get() <= 0.5 * widest {
            return Err(JointError::StepInWeld { distance, least: 0.5 * widest });
        }
        Ok(())
    }

    fn check_pipe(&self) -> Result<(), JointError> {
        let Some(Curvature::AroundPipe { od, .. } | Curvature::AlongPipe { od, .. }) = self.curvature else {
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
