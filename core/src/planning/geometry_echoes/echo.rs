//! Where on the time base a reflector of the joint shows, and where the probe must stand for it.

use super::{Reflector, reflectors};
use crate::part::curved::CurvedError;
use crate::part::joint::Joint;
use crate::part::side::Face;
use crate::planning::plan::{Aim, Barrier, Scan};
use crate::units::{Degrees, Millimetres};

/// An expected echo.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Echo {
    /// The reflector.
    pub reflector: Reflector,
    /// The leg, stand-off and path by which the beam's axis meets it.
    pub aim: Aim,
    /// The leg that a flat reading of the path shows: beyond the far face the next one.
    pub leg_shown: u32,
    /// The depth that it shows, mm.
    pub depth_shown: f32,
    /// What keeps the probe from it; none when nothing does.
    pub barrier: Option<Barrier>,
}

/// Tells every echo that a scan can expect, reflector by reflector and leg by leg within its limits.
///
/// ```
/// use halfskip::planning::geometry_echoes::{ReflectorKind, expect};
/// use halfskip::part::joint::{Joint, JointSpec, Preparation};
/// use halfskip::part::path::Axis;
/// use halfskip::planning::plan::{Limits, Scan};
/// use halfskip::part::side::Side;
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = |value| Millimetres::new(value).unwrap();
/// let joint = Joint::new(JointSpec {
///     gap: Some(mm(0.0)),
///     bead: Some(mm(4.0)),
///     excess: Some(mm(1.5)),
///     ..JointSpec::new(mm(16.0), Preparation::Square)
/// })
/// .unwrap();
/// let axis = Axis::new(Degrees::new(45.0).unwrap()).unwrap();
/// let scan = Scan::new(&joint, &axis, None, mm(0.0), Side::A, Limits::default()).unwrap();
/// let mut crown = None;
/// expect(&joint, &scan, |echo| {
///     if echo.reflector.kind == ReflectorKind::BeadCrown {
///         crown = Some(echo);
///     }
/// });
/// let crown = crown.unwrap();
/// // 17.5 mm below the scanned face: it shows as 14.5 mm in leg 2.
/// assert_eq!((crown.aim.standoff, crown.leg_shown, crown.depth_shown), (17.5, 2, 14.5));
/// ```
pub fn expect(joint: &Joint, scan: &Scan, mut tell: impl FnMut(Echo)) {
    let angle = scan.legs().angle_at(0.0).map_or(0.0, Degrees::get);
    reflectors(joint, scan.side(), angle, |reflector| {
        let odd = reflector.face == Face::Far;
        for leg in scan.allowed().filter(|leg| (leg % 2 == 1) == odd) {
            let Ok(aim) = scan.through(leg, reflector.at) else { continue };
            if let Some(echo) = echo(scan, reflector, aim) {
                tell(echo);
            }
        }
    });
}

fn echo(scan: &Scan, reflector: Reflector, aim: Aim) -> Option<Echo> {
    let end = scan.legs().at(Millimetres::new(aim.path).ok()?).ok()?;
    Some(Echo { reflector, aim, leg_shown: end.leg, depth_shown: end.depth, barrier: scan.bar(&aim) })
}

impl Scan {
    /// The stand-off from which a leg's axis meets a point, straight on through the far face where the point lies in
    /// bead or backing.
    ///
    /// # Errors
    /// [`CurvedError`] when the leg does not get there.
    pub fn through(&self, leg: u32, point: crate::part::joint::Point) -> Result<Aim, CurvedError> {
        let (path, distance) = self.legs().through(leg, Millimetres::new(point.z)?)?;
        Ok(self.aimed(leg, path.get(), distance.get(), point.y))
    }
}
