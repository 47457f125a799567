//! A reading's place in the weld's frame, with its uncertainty.
//!
//! x runs along the weld, y across it with zero on the centreline, z down from the scanned face. Side A is y < 0 and
//! looks toward +y, side B is y > 0 and looks toward −y. Skew turns the look direction toward +x on both sides.
//!
//! | identifier | symbol | meaning |
//! | --- | --- | --- |
//! | `standoff` | p | index point to centreline, positive |
//! | `index` | e | the true index point ahead of the mark |
//! | `sign` | g | +1 on side A, −1 on side B |
//! | `skew` | s_k | off the weld's perpendicular |
//!
//! y = g (−p + e + s sin a cos s_k), x = x_probe + s sin a sin s_k. Source: \[R1\], \[R4\].

mod around;
mod budget;
mod corner;
mod tied;

pub use crate::side::{Face, Side};
pub use around::{locate_around, locate_corner_around, locate_tied_around};
pub use budget::{Budget, Contributions, Partials, with_own_thickness};
pub(crate) use budget::{EXPANDED, is_nothing};
pub use corner::locate_corner;
pub use tied::{KnownDistance, TiedError, locate_tied};

use crate::error::RangeError;
use crate::math::{self, RADIANS_PER_DEGREE};
use crate::path::{Axis, Plate, unfold};
use crate::units::{Degrees, Millimetres};

/// Where the probe stands and looks.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Position {
    side: Side,
    face: Face,
    x: f32,
    standoff: f32,
    index: f32,
    skew_sin: f32,
    skew_cos: f32,
}

impl Position {
    /// A probe that looks square across the weld.
    ///
    /// `index` is how far the true index point lies ahead of the mark (0 when it was not measured).
    ///
    /// # Errors
    /// [`RangeError`] for a stand-off beyond 10 000 mm either way; it is negative past the centreline.
    pub fn new(
        side: Side,
        x: Millimetres,
        standoff: Millimetres,
        index: Millimetres,
    ) -> Result<Self, RangeError> {
        let standoff = crate::limits::STANDOFF.check(standoff.get())?;
        let (x, index) = (x.get(), index.get());
        Ok(Self { side, face: Face::Near, x, standoff, index, skew_sin: 0.0, skew_cos: 1.0 })
    }

    /// The same probe turned by a skew of −89 to 89 degrees.
    ///
    /// # Errors
    /// [`RangeError`] outside that.
    pub fn skewed(mut self, skew: Degrees) -> Result<Self, RangeError> {
        (self.skew_sin, self.skew_cos) = math::sin_cos(crate::limits::SKEW.check(skew.get())?);
        Ok(self)
    }

    /// The same probe on the given face.
    #[must_use]
    pub const fn on(mut self, face: Face) -> Self {
        self.face = face;
        self
    }

    /// The side it stands on.
    #[must_use]
    pub const fn side(&self) -> Side {
        self.side
    }

    /// The face it stands on.
    #[must_use]
    pub const fn face(&self) -> Face {
        self.face
    }

    /// Whether it is turned off the weld's perpendicular.
    #[must_use]
    pub fn is_skewed(&self) -> bool {
        self.skew_sin != 0.0
    }

    /// The surface distance, square across the weld, at which a point at `y` lies from the index point.
    #[must_use]
    pub fn distance_to(&self, y: Millimetres) -> f32 {
        self.side.sign() * y.get() + self.standoff - self.index
    }

    /// What a distance comes to square across the weld: distance cos s_k.
    fn square(&self, distance: f32) -> f32 {
        // The sine is +0 exactly where the cosine is 1.
        if self.skew_sin.to_bits() == 0 { distance } else { distance * self.skew_cos }
    }

    /// y = g (−p + e + distance cos s_k).
    fn across(&self, distance: f32) -> Result<Millimetres, RangeError> {
        Millimetres::new(self.side.signed(self.index - self.standoff + self.square(distance)))
    }

    /// x = x_probe + distance sin s_k.
    fn along(&self, distance: f32) -> Result<Millimetres, RangeError> {
        Millimetres::new(self.x + distance * self.skew_sin)
    }

    /// Depth counted from the near face, and its partials, when the probe stands on the far one: z → t − z.
    fn counted_from_near(&self, depth: f32, mut z: Partials, thickness: f32) -> (f32, Partials) {
        match self.face {
            Face::Near => (depth, z),
            Face::Far => {
                z = z.negated();
                z.thickness += 1.0;
                (thickness - depth, z)
            }
        }
    }
}

/// A reflector's place and how it depends on what was measured.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Place {
    /// The leg that reached it.
    pub leg: u32,
    /// Along the weld.
    pub x: Millimetres,
    /// Across the weld.
    pub y: Millimetres,
    /// Below the near face.
    pub z: Millimetres,
    /// Unfolded depth s cos a.
    pub unfolded: Millimetres,
    /// Surface distance from the index point.
    pub distance: Millimetres,
    /// Partial derivatives of y.
    pub y_partials: Partials,
    /// Partial derivatives of z.
    pub z_partials: Partials,
}

impl Place {
    /// Expanded uncertainty (k = 2) of y.
    #[inline]
    #[must_use]
    pub fn u_y(&self, budget: &Budget) -> f32 {
        budget.expanded(&self.y_partials)
    }

    /// Expanded uncertainty (k = 2) of z.
    #[inline]
    #[must_use]
    pub fn u_z(&self, budget: &Budget) -> f32 {
        budget.expanded(&self.z_partials)
    }
}

/// Places an echo on the beam's axis.
///
/// Partials (\[R3\], angle in degrees): dy/da = g s cos a cos s_k, dy/ds = g sin a cos s_k, dy/dp = −g, dy/de = g;
/// odd leg dz/ds = cos a, dz/da = −s sin a, dz/dt = −(n − 1); even leg dz/ds = −cos a, dz/da = s sin a, dz/dt = n.
///
/// # Errors
/// [`RangeError`] for a path outside 0.01 to 10 000 mm.
///
/// ```
/// use halfskip::locate::{Position, Side, locate};
/// use halfskip::path::{Axis, Plate};
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = Millimetres::new;
/// let axis = Axis::new(Degrees::new(60.0)?)?;
/// let plate = Plate::new(mm(25.0)?)?;
/// let probe = Position::new(Side::A, mm(120.0)?, mm(30.0)?, mm(0.0)?)?;
/// let place = locate(&axis, &plate, &probe, mm(40.0)?)?;
/// assert!((place.y.get() - 4.641).abs() < 1e-3);
/// assert_eq!(place.z.get(), 20.0);
/// assert!(locate(&axis, &plate, &probe, mm(0.0)?).is_err());
/// # Ok::<(), halfskip::error::RangeError>(())
/// ```
pub fn locate(
    axis: &Axis,
    plate: &Plate,
    position: &Position,
    path: Millimetres,
) -> Result<Place, RangeError> {
    let end = unfold(axis, plate, path)?;
    let odd = end.leg % 2 == 1;
    let g = position.side.sign();
    let across = |distance| position.side.signed(position.square(distance));
    let y_partials = Partials {
        angle: across(end.unfolded) * RADIANS_PER_DEGREE,
        path: across(axis.sin()),
        standoff: -g,
        index: g,
        thickness: 0.0,
        velocity: across(end.distance),
    };
    let z_on_odd_leg = Partials {
        angle: -end.distance * RADIANS_PER_DEGREE,
        path: axis.cos(),
        standoff: 0.0,
        index: 0.0,
        thickness: 0.0,
        velocity: end.unfolded,
    };
    let z_partials = if odd {
        Partials { thickness: -((end.leg - 1) as f32), ..z_on_odd_leg }
    } else {
        Partials { thickness: end.leg as f32, ..z_on_odd_leg.negated() }
    };
    let (z, z_partials) = position.counted_from_near(end.depth, z_partials, plate.thickness());
    Ok(Place {
        leg: end.leg,
        x: position.along(end.distance)?,
        y: position.across(end.distance)?,
        // No depth leaves the plate but by rounding; s cos a and s sin a are above 0 and at most s.
        z: Millimetres::computed(z),
        unfolded: Millimetres::computed(end.unfolded),
        distance: Millimetres::computed(end.distance),
        y_partials,
        z_partials,
    })
}
