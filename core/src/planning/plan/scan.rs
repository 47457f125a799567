//! A probe on one side of a joint, as it can be moved.

use super::target::targets;
use super::{Barrier, PlanError};
use crate::math;
use crate::part::curved::CurvedError;
use crate::part::joint::{Joint, Obstacle, Point, Section};
use crate::part::path::Axis;
use crate::part::side::{Face, Side};
use crate::part::{Legs, Part};
use crate::units::limits::PATH;
use crate::units::{Degrees, Millimetres};

/// The most legs that a plan counts with.
pub const MAX_LEGS: u32 = 3;

/// How far a plan may go.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Limits {
    /// The last leg that may be used, 1 to [`MAX_LEGS`].
    pub legs: u32,
    /// The longest path that may be used; `None` when nothing limits it.
    pub range: Option<Millimetres>,
    /// The shortest path that may be used, the first with a reference; `None` when nothing limits it.
    pub nearest: Option<Millimetres>,
}

impl Default for Limits {
    /// Two legs, any path.
    fn default() -> Self {
        Self { legs: 2, range: None, nearest: None }
    }
}

/// A probe on one side of a joint.
///
/// ```
/// use halfskip::part::joint::{Joint, JointSpec, Point, Preparation};
/// use halfskip::part::path::Axis;
/// use halfskip::planning::plan::{Limits, Scan};
/// use halfskip::part::side::Side;
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = |value| Millimetres::new(value).unwrap();
/// let joint = Joint::new(JointSpec {
///     bevel: Some(Degrees::new(30.0).unwrap()),
///     gap: Some(mm(3.0)),
///     land: Some(mm(2.0)),
///     cap: Some(mm(26.0)),
///     crown: Some(mm(2.0)),
///     ..JointSpec::new(mm(20.0), Preparation::SingleV)
/// })
/// .unwrap();
/// let axis = Axis::new(Degrees::new(60.0).unwrap()).unwrap();
/// let scan = Scan::new(&joint, &axis, Some(mm(11.0)), mm(0.0), Side::A, Limits::default()).unwrap();
/// // The cap's edge and the nose.
/// assert_eq!(scan.least(), 24.0);
/// // 20 tan 60° − 1.5
/// let root = scan.aim(1, Point { y: 1.5, z: 20.0 }).unwrap();
/// assert!((root.standoff - 33.141).abs() < 0.001);
/// let land = scan.aim(1, Point { y: 1.5, z: 12.0 });
/// assert_eq!(land.unwrap_err().to_string(), "cap in the way: stand-off 19.2846 mm, 24 mm clears it");
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Scan {
    side: Side,
    face: Face,
    legs: Legs,
    index: f32,
    least: f32,
    limits: Limits,
    /// The part's thickness, and κ: what an arc of the probe's own face is on the near one.
    thickness: f32,
    scale: f32,
    /// Stand-offs from which the axis meets standing metal where it should turn: under the first turn, under the second.
    turns: [Option<(f32, f32)>; 2],
}

/// How a leg's axis meets a point.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Aim {
    /// The leg.
    pub leg: u32,
    /// The stand-off it takes, mm.
    pub standoff: f32,
    /// The path to the point, mm.
    pub path: f32,
}

impl Scan {
    /// A probe of that axis, nose and index offset on a side of a joint, on its near face.
    ///
    /// # Errors
    /// [`PlanError`]: the side cannot be used, the nose is not known beside a cap that is not flush, or the cap is wider
    /// than any stand-off from which the allowed legs meet the weld.
    pub fn new(
        joint: &Joint,
        axis: &Axis,
        front: Option<Millimetres>,
        index: Millimetres,
        side: Side,
        limits: Limits,
    ) -> Result<Self, PlanError> {
        Self::on(joint, axis, front, index, (side, Face::Near), limits)
    }

    /// The same on either face of the joint.
    ///
    /// # Errors
    /// As those of [`new`](Self::new).
    ///
    /// ```
    /// use halfskip::part::joint::{Joint, JointSpec, Point, Preparation};
    /// use halfskip::part::path::Axis;
    /// use halfskip::part::side::{Face, Side};
    /// use halfskip::planning::plan::{Limits, Scan};
    /// use halfskip::units::{Degrees, Millimetres};
    /// let mm = |value| Millimetres::new(value).unwrap();
    /// let spec = JointSpec { gap: Some(mm(2.0)), ..JointSpec::new(mm(20.0), Preparation::Square) };
    /// let joint = Joint::new(spec).unwrap();
    /// let axis = Axis::new(Degrees::new(60.0).unwrap()).unwrap();
    /// let stand = (Side::A, Face::Far);
    /// let scan = Scan::on(&joint, &axis, None, mm(0.0), stand, Limits::default()).unwrap();
    /// // From the far face a point 5 mm below the near one lies 15 mm deep: 15 tan 60°.
    /// assert!((scan.aim(1, Point { y: 0.0, z: 5.0 }).unwrap().standoff - 25.981).abs() < 0.001);
    /// ```
    pub fn on(
        joint: &Joint,
        axis: &Axis,
        front: Option<Millimetres>,
        index: Millimetres,
        (side, face): (Side, Face),
        limits: Limits,
    ) -> Result<Self, PlanError> {
        if !joint.spec().reaches(side) {
            return Err(PlanError::OutOfReach { side });
        }
        let section = joint.section();
        // An unknown cap is taken as flush, and no plan sends a probe past the centreline.
        let metal = section.clearance(side, face).filter(|clear| clear.of != Obstacle::Groove);
        let least = match (metal, front) {
            (None, _) => 0.0,
            (Some(metal), Some(_)) => math::larger(metal.least(front), 0.0),
            (Some(_), None) => return Err(PlanError::NoFront),
        };
        let scan = Self { least, ..Self::standing(joint, axis, index, (side, face), limits)? };
        let greatest = scan.greatest(&section);
        if greatest < least {
            return Err(PlanError::CapTooWide { least, greatest });
        }
        Ok(scan)
    }

    /// A probe that may have stood anywhere, cap or not: for what was scanned rather than planned.
    ///
    /// # Errors
    /// [`PlanError::Range`], [`PlanError::Curved`] when the joint's part cannot be.
    pub fn anywhere(
        joint: &Joint,
        axis: &Axis,
        index: Millimetres,
        side: Side,
        limits: Limits,
    ) -> Result<Self, PlanError> {
        Self::standing(joint, axis, index, (side, Face::Near), limits)
    }

    /// The same on either face of the joint.
    ///
    /// # Errors
    /// As those of [`anywhere`](Self::anywhere).
    pub fn standing(
        joint: &Joint,
        axis: &Axis,
        index: Millimetres,
        (side, face): (Side, Face),
        limits: Limits,
    ) -> Result<Self, PlanError> {
        let near = Part::new(joint.thickness(), joint.spec().curvature)?;
        let (part, scale) = match (near, face) {
            (Part::Around(pipe), Face::Far) => {
                let turned = pipe.turned();
                (Part::Around(turned), pipe.scanned_radius() / turned.scanned_radius())
            }
            (part, _) => (part, 1.0),
        };
        let legs = part.legs(axis);
        let limits = Limits { legs: clamped(limits.legs), ..limits };
        let mut scan = Self {
            side,
            face,
            legs,
            index: index.get(),
            least: f32::NEG_INFINITY,
            limits,
            thickness: part.thickness(),
            scale,
            turns: [None; 2],
        };
        let section = joint.section();
        let faces = [face.opposite(), face];
        for (turn, (held, met)) in (1u8..).zip(scan.turns.iter_mut().zip(faces)) {
            // A beam that misses the bore turns at the face that it came from alone.
            if met != face && legs.misses_bore() {
                continue;
            }
            *held = section.standing(met).map(|(from, to)| {
                // y = κ g (e − p + n H), so p = e + n H − g y / κ
                let at = |y: f32| index.get() + f32::from(turn) * legs.half_skip() - side.sign() * y / scale;
                let (one, other) = (at(from), at(to));
                (math::smaller(one, other), math::larger(one, other))
            });
        }
        Ok(scan)
    }

    /// The face that it stands on.
    #[must_use]
    pub const fn face(&self) -> Face {
        self.face
    }

    /// The stand-offs from which a leg has met standing metal where it should have turned: cap, bead, or the weld on a
    /// backing bar.
    pub fn turned_off(&self, leg: u32) -> impl Iterator<Item = (f32, f32)> + Clone + use<> {
        let turns = leg.saturating_sub(1) as usize;
        self.turns.into_iter().take(turns).flatten()
    }

    /// κ, what an arc of the probe's own face is on the near one: 1 but on the far face of a curved part.
    #[must_use]
    pub const fn scale(&self) -> f32 {
        self.scale
    }

    /// The depth below the probe's own face.
    pub(super) fn own_depth(&self, z: f32) -> f32 {
        match self.face {
            Face::Near => z,
            // Rounding must not leave the part.
            Face::Far => math::larger(self.thickness - z, 0.0),
        }
    }

    /// The beam's angle from the surface's normal at a depth below the near face; `None` deeper than it gets.
    #[must_use]
    pub fn angle_at(&self, z: f32) -> Option<Degrees> {
        self.legs.angle_at(self.own_depth(z))
    }

    /// Whether a leg runs away from the near face.
    #[must_use]
    pub const fn runs_down(&self, leg: u32) -> bool {
        (leg % 2 == 1) == matches!(self.face, Face::Near)
    }

    /// The side.
    #[must_use]
    pub const fn side(&self) -> Side {
        self.side
    }

    /// The legs of its beam.
    #[must_use]
    pub const fn legs(&self) -> &Legs {
        &self.legs
    }

    /// The least stand-off that clears the cap, mm; 0 where the probe may stand on the weld.
    #[must_use]
    pub const fn least(&self) -> f32 {
        self.least
    }

    /// How far the true index point lies ahead of the mark, mm.
    #[must_use]
    pub const fn index(&self) -> f32 {
        self.index
    }

    /// How far it may go.
    #[must_use]
    pub const fn limits(&self) -> &Limits {
        &self.limits
    }

    /// The legs it may use, from 1.
    pub fn allowed(&self) -> impl Iterator<Item = u32> + use<> {
        1..=self.limits.legs
    }

    /// The stand-off from which a leg's axis meets a point, p = e + D − g y / κ, whether or not the probe can stand there.
    ///
    /// # Errors
    /// [`CurvedError`] when the leg does not reach that depth at all.
    pub fn standoff(&self, leg: u32, point: Point) -> Result<Aim, CurvedError> {
        let depth = Millimetres::new(self.own_depth(point.z))?;
        let (path, distance) = match self.legs.reach(leg, depth) {
            Ok((path, distance)) => (path.get(), distance.get()),
            // Leg 1 starts at the surface: paths too short for an echo still lead there.
            Err(CurvedError::Range(short)) if short.quantity == PATH.quantity && short.value < PATH.min => {
                let angle = self.legs.angle_at(0.0).map_or(0.0, Degrees::get);
                (short.value, short.value * math::sin_cos(angle).0)
            }
            Err(error) => return Err(error),
        };
        Ok(self.aimed(leg, path, distance, point.y))
    }

    /// p = e + D − g y / κ
    pub(crate) fn aimed(&self, leg: u32, path: f32, distance: f32, y: f32) -> Aim {
        Aim { leg, standoff: self.index + distance - self.side.sign() * y / self.scale, path }
    }

    /// The same, only if the probe can stand there and the path is in range.
    ///
    /// # Errors
    /// [`Barrier`]: what keeps the axis from the point.
    pub fn aim(&self, leg: u32, point: Point) -> Result<Aim, Barrier> {
        let aim = self.standoff(leg, point).map_err(|error| self.barrier(error))?;
        self.bar(&aim).map_or(Ok(aim), Err)
    }

    /// What keeps the probe from an aim; `None` when nothing does.
    #[must_use]
    pub fn bar(&self, aim: &Aim) -> Option<Barrier> {
        if aim.standoff < self.least {
            if self.least <= 0.0 {
                return Some(Barrier::Centreline);
            }
            return Some(Barrier::Cap { standoff: aim.standoff, least: self.least });
        }
        let (path, standoff) = (aim.path, aim.standoff);
        if let Some(range) = self.limits.range.map(Millimetres::get).filter(|range| path > *range) {
            return Some(Barrier::Range { path, range });
        }
        if let Some(nearest) = self.limits.nearest.map(Millimetres::get).filter(|nearest| path < *nearest) {
            return Some(Barrier::Short { path, nearest });
        }
        let off = self.turned_off(aim.leg).find(|(from, to)| *from < standoff && standoff < *to)?;
        Some(Barrier::Turn { standoff, from: off.0, to: off.1 })
    }

    /// A depth that no leg reaches: the bore is missed above it, or the path would leave the range of all paths.
    pub(crate) fn barrier(&self, error: CurvedError) -> Barrier {
        let longest = PATH.max;
        match error {
            CurvedError::TooDeep { deepest, .. } => Barrier::BoreMissed { deepest },
            CurvedError::Range(error) if error.value > longest => {
                Barrier::Range { path: error.value, range: longest }
            }
            _ => Barrier::Range { path: longest, range: longest },
        }
    }

    /// The greatest stand-off from which an allowed leg meets a corner of the weld or of its heat-affected zone.
    #[must_use]
    pub fn greatest(&self, section: &Section) -> f32 {
        let mut greatest = f32::NEG_INFINITY;
        targets(section, |target| {
            for point in &target.points {
                for leg in self.allowed() {
                    if let Ok(aim) = self.standoff(leg, *point) {
                        greatest = math::larger(greatest, aim.standoff);
                    }
                }
            }
        });
        greatest
    }
}

fn clamped(legs: u32) -> u32 {
    match legs {
        0 => 1,
        legs => legs.min(MAX_LEGS),
    }
}

#[cfg(test)]
mod tests;
