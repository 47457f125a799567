//! A calibration made on a block, used on a part in which sound runs at another velocity.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | c_b | shear velocity of the block: that of the time base | mm/us |
//! | c | shear velocity of the part: that of the material | mm/us |
//! | s_b, a_b | path as the time base shows it, angle on the block | mm, deg |
//! | s, a | path and angle in the part | mm, deg |
//!
//! A time base turns times into paths of the block, so `s = s_b c / c_b`. By Snell's law the wedge's own angle and
//! velocity drop out of `sin a / c = sin a_b / c_b`, so `sin a = sin a_b c / c_b` \[R4\].

use crate::physics::refraction::{RefractionError, ratio, remarked};
use crate::units::error::RangeError;
use crate::units::{Degrees, Millimetres, MillimetresPerMicrosecond};

/// How far the velocity of a table may lie from that of the block, mm/us, and still count as the block's own. \[R1\]
/// gives steel as 3255 ± 30 m/s; for the other materials of the table the width is ours.
pub const OF_TABLE: f32 = 0.03;

/// The velocity of a part, and where it comes from.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct PartVelocity {
    /// Shear velocity.
    pub shear: MillimetresPerMicrosecond,
    /// Whether it is the one that a table has for the material's name, and not the part's own.
    pub of_table: bool,
}

/// The velocities of a block and of a part that differ.
///
/// ```
/// use halfskip::calibration::velocities::{PartVelocity, Velocities};
/// use halfskip::units::{Degrees, Millimetres, MillimetresPerMicrosecond};
/// let velocity = |value| MillimetresPerMicrosecond::new(value).unwrap();
/// let part = PartVelocity { shear: velocity(3.2), of_table: false };
/// let turned = Velocities::of(velocity(3.255), part).unwrap();
/// // 60 · 3.2 / 3.255, and asin(sin 70° · 3.2 / 3.255).
/// assert!((turned.path(Millimetres::new(60.0).unwrap()).unwrap().get() - 58.986).abs() < 1e-3);
/// assert!((turned.angle(Degrees::new(70.0).unwrap(), 1.0).unwrap().get() - 67.49).abs() < 0.01);
/// // A beam of 70 degrees on copper does not exist in steel.
/// let steel = Velocities::of(velocity(2.26), PartVelocity { shear: velocity(3.255), of_table: false }).unwrap();
/// assert!(steel.angle(Degrees::new(70.0).unwrap(), 1.0).is_err());
/// // Of a table, what lies within its width is the block's own.
/// assert_eq!(Velocities::of(velocity(3.23), PartVelocity { shear: velocity(3.255), of_table: true }), None);
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Velocities {
    block: MillimetresPerMicrosecond,
    part: MillimetresPerMicrosecond,
}

impl Velocities {
    /// Those of a block and a part; `None` where they are the same, or the part's is that of a table within [`OF_TABLE`].
    #[must_use]
    pub fn of(block: MillimetresPerMicrosecond, part: PartVelocity) -> Option<Self> {
        let allowed = if part.of_table { OF_TABLE } else { 0.0 };
        // A thousandth of the allowance is the rounding of two velocities.
        let apart = (block.get() - part.shear.get()).abs() > allowed * 1.001;
        apart.then_some(Self { block, part: part.shear })
    }

    /// That of the block, c_b.
    #[must_use]
    pub const fn block(&self) -> MillimetresPerMicrosecond {
        self.block
    }

    /// That of the part, c.
    #[must_use]
    pub const fn part(&self) -> MillimetresPerMicrosecond {
        self.part
    }

    /// The path in the part of one that the time base shows.
    ///
    /// # Errors
    /// [`RangeError`] for a result that no length can have.
    #[inline]
    pub fn path(&self, shown: Millimetres) -> Result<Millimetres, RangeError> {
        // s = s_b c / c_b
        Millimetres::new(shown.get() * (self.part.get() / self.block.get()))
    }

    /// What the time base shows of a path in the part.
    ///
    /// # Errors
    /// [`RangeError`] for a result that no length can have.
    pub fn shown(&self, path: Millimetres) -> Result<Millimetres, RangeError> {
        // s_b = s c_b / c
        Millimetres::new(path.get() * (self.block.get() / self.part.get()))
    }

    /// The angle in the part of a beam measured on the block, after a factor on its sine for the wedge's warmth.
    ///
    /// # Errors
    /// [`RefractionError::PastSecondCritical`] when the beam does not exist in the part.
    pub fn angle(&self, on_block: Degrees, warmth: f64) -> Result<Degrees, RefractionError> {
        // sin a = sin a_b c / c_b
        remarked(on_block, warmth * ratio(self.part, self.block))
    }
}
