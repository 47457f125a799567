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
}

impl Default for Limits {
    /// Two legs, any path.
    fn default() -> Self {
        Self { legs: 2, range: None }
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
    legs: Legs,
    index: f32,
    least: f32,
    limits: Limits,
}

/// How a leg's axis meets a point.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Aim {
    /// The leg.
    pub leg: u32,
    /// The stand-off it takes, mm.
    pub standoff: f32,
    /// The path to the point, mm.
    pub path: f32,
}

impl Scan {
    /// A probe of that axis, nose and index offset on a side of a joint.
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
        let spec = joint.spec();
        if !spec.reach.allows(side) {
            return Err(PlanError::OutOfReach { side });
        }
        let section = joint.section();
        // An unknown cap is taken as flush, and no plan sends a probe past the centreline.
        let cap = section.clearance(side, Face::Near).filter(|clear| clear.of == Obstacle::Cap);
        let least = match (cap, front) {
            (None, _) => 0.0,
            (Some(cap), Some(_)) => math::larger(cap.least(front), 0.0),
            (Some(_), None) => return Err(PlanError::NoFront),
        };
        let part = Part::new(joint.thickness(), spec.curvature)?;
        let limits = Limits { legs: clamped(limits.legs), ..limits };
        let scan = Self { side, legs: part.legs(axis), index: index.get(), least, limits };
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
        let part = Part::new(joint.thickness(), joint.spec().curvature)?;
        let limits = Limits { legs: clamped(limits.legs), ..limits };
        Ok(Self { side, legs: part.legs(axis), index: index.get(), least: f32::NEG_INFINITY, limits })
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

    /// The stand-off from which a leg's axis meets a point, p = e + D − g y, whether or not the probe can stand there.
    ///
    /// # Errors
    /// [`CurvedError`] when the leg does not reach that depth at all.
    pub fn standoff(&self, leg: u32, point: Point) -> Result<Aim, CurvedError> {
        let (path, distance) = match self.legs.reach(leg, Millimetres::new(point.z)?) {
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

    /// p = e + D − g y
    pub(crate) fn aimed(&self, leg: u32, path: f32, distance: f32, y: f32) -> Aim {
        Aim { leg, standoff: self.index + distance - self.side.sign() * y, path }
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
        let range = self.limits.range.map(Millimetres::get).filter(|range| aim.path > *range)?;
        Some(Barrier::Range { path: aim.path, range })
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
mod tests {
    use super::*;
    use crate::part::joint::{JointSpec, Preparation};
    use crate::units::error::RangeError;

    fn mm(value: f32) -> Millimetres {
        Millimetres::constant(value)
    }

    /// 60 degrees in a plate of 20 mm.
    fn scan(limits: Limits) -> Scan {
        let joint =
            Joint::new(JointSpec { gap: Some(mm(2.0)), ..JointSpec::new(mm(20.0), Preparation::Square) });
        let axis = Axis::new(Degrees::constant(60.0)).unwrap();
        Scan::anywhere(&joint.unwrap(), &axis, mm(0.0), Side::A, limits).unwrap()
    }

    #[test]
    fn a_plan_counts_with_one_to_three_legs() {
        let counted = |legs| scan(Limits { legs, range: None }).limits().legs;
        assert_eq!([0, 1, 2, 3, 9].map(counted), [1, 1, 2, 3, 3]);
    }

    /// Cap 28 wide over a groove from −1.5 to 1.5 + 18 tan 45° = 19.5: from −5 to 23.
    #[test]
    fn the_nearest_stand_off_counts_from_the_edge_of_the_cap_on_its_own_side() {
        let spec = JointSpec {
            bevel: Some(Degrees::constant(45.0)),
            gap: Some(mm(3.0)),
            land: Some(mm(2.0)),
            cap: Some(mm(28.0)),
            crown: Some(mm(2.0)),
            haz: Some(mm(10.0)),
            ..JointSpec::new(mm(20.0), Preparation::SingleBevel)
        };
        let axis = Axis::new(Degrees::constant(60.0)).unwrap();
        let least = |spec, side| {
            let joint = Joint::new(spec).unwrap();
            Scan::new(&joint, &axis, Some(mm(11.0)), mm(0.0), side, Limits::default()).unwrap().least()
        };
        assert_eq!((least(spec, Side::A), least(spec, Side::B)), (16.0, 34.0));
        let on_a = JointSpec { bevelled: Some(Side::A), ..spec };
        assert_eq!((least(on_a, Side::A), least(on_a, Side::B)), (34.0, 16.0));
        let given = |centre| JointSpec { centre: Some(mm(centre)), ..spec };
        assert_eq!((least(given(8.5), Side::A), least(given(8.5), Side::B)), (16.5, 33.5));
        // A cap that ends 16 mm past the centreline leaves the nose of 11 mm room up to it, but no plan sends a probe past it.
        assert_eq!(least(given(30.0), Side::A), 0.0);
    }

    #[test]
    fn just_below_the_surface_the_beam_still_leaves_the_index_point_at_its_angle() {
        let aim = scan(Limits::default()).standoff(1, Point { y: 0.0, z: 0.002 }).unwrap();
        // s = 0.002 / cos 60, s sin 60
        assert!((aim.path - 0.004).abs() < 1e-6 && (aim.standoff - 0.003_464).abs() < 1e-6, "{aim:?}");
    }

    #[test]
    fn the_longest_path_is_still_in_range() {
        let scan = scan(Limits { legs: 2, range: Some(mm(50.0)) });
        let bar = |path| scan.bar(&Aim { leg: 1, standoff: 0.0, path });
        assert_eq!((bar(50.0), bar(50.5)), (None, Some(Barrier::Range { path: 50.5, range: 50.0 })));
        let out = |value| {
            let error = RangeError { quantity: "path", unit: "mm", value, min: 0.01, max: 10_000.0 };
            scan.barrier(CurvedError::Range(error))
        };
        assert_eq!(out(12_000.0), Barrier::Range { path: 12_000.0, range: 10_000.0 });
        assert_eq!(out(-1.0), Barrier::Range { path: 10_000.0, range: 10_000.0 });
    }
}
