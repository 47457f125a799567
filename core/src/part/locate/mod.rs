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
mod error;
mod flat;
mod peaked;

pub use crate::part::side::{Face, Side};
pub use budget::{Budget, Contributions, Partials, with_own_thickness};
pub(crate) use budget::{EXPANDED, is_nothing};
pub use error::LocateError;
pub(crate) use flat::on_axis;
pub use peaked::{Peaked, SeenTogether};

use crate::math;
use crate::part::Part;
use crate::part::curved::CurvedError;
use crate::part::path::Axis;
use crate::units::error::RangeError;
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
        let standoff = crate::units::limits::STANDOFF.check(standoff.get())?;
        let (x, index) = (x.get(), index.get());
        Ok(Self { side, face: Face::Near, x, standoff, index, skew_sin: 0.0, skew_cos: 1.0 })
    }

    /// The same probe turned by a skew of −89 to 89 degrees.
    ///
    /// # Errors
    /// [`RangeError`] outside that.
    pub fn skewed(mut self, skew: Degrees) -> Result<Self, RangeError> {
        (self.skew_sin, self.skew_cos) = math::sin_cos(crate::units::limits::SKEW.check(skew.get())?);
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

    /// The depth of the face that the probe stands on, or of the opposite one, and its partials.
    fn at_face(&self, opposite: bool, thickness: f32) -> (f32, Partials) {
        let (depth, per_thickness) = if opposite { (thickness, 1.0) } else { (0.0, 0.0) };
        let partials = Partials { thickness: per_thickness, ..Partials::default() };
        self.counted_from_near(depth, partials, thickness)
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

    /// What a millimetre of radius of the body that answered does to y and z, −∂/∂s: it answers so much short of its
    /// centre along the beam.
    #[must_use]
    pub const fn of_radius(&self) -> [f32; 2] {
        [-self.y_partials.path, -self.z_partials.path]
    }
}

/// Places an echo by its path and what was peaked.
///
/// On a plate, and along a pipe, with the partials \[R3\], the angle in degrees, dy/dp = −g and dy/de = g:
///
/// - [`Peaked::Axis`]: u = s cos a, distance = s sin a; dy/da = g s cos a cos s_k, dy/ds = g sin a cos s_k; odd leg
///   dz/ds = cos a, dz/da = −s sin a, dz/dt = −(n − 1); even leg dz/ds = −cos a, dz/da = s sin a, dz/dt = n. The velocity
///   c acts on path and angle, s = c t / 2 and sin a in proportion to c: c dy/dc = 2 g s sin a cos s_k, c dz/dc = s cos a
///   (1 − tan² a) on odd legs and its negative on even ones, nothing at 45 degrees.
/// - [`Peaked::Corner`] \[R4\]: n = the whole number nearest u / t, at least 1 (a peaked corner can unfold slightly past
///   a face). Odd n: far face, z = t; even n: near face, z = 0. distance = sqrt(s² − (n t)²); its partials are
///   s / distance for the path, −n² t / distance for the thickness, none for the angle.
/// - [`Peaked::Together`] \[R4\]: u = sqrt(s² − X²), unfolded like any depth; dz/ds = ±s / u, dz/dX = ∓X / u. The axis
///   formula would be wrong here: the factors are cos a for echoes peaked apart and 1 / cos a for echoes seen together.
///
/// Around a pipe the same by the formulas of [`curved`](crate::part::curved). There a skewed beam keeps its direction along the
/// pipe at every face; a corner, and what is seen together with one, needs the probe square to the weld.
///
/// # Errors
/// [`LocateError::Range`] for a path outside 0.01 to 10 000 mm, or X or a result out of range; on a plate
/// [`LocateError::CornerTooShort`] for s ≤ n t and [`LocateError::TipTooShort`] for s ≤ X; around a pipe
/// [`LocateError::Curved`]: path too short, through the bore, no such ray, or the probe skewed where it must be square.
///
/// ```
/// use halfskip::part::curved::Pipe;
/// use halfskip::part::joint::ScannedFrom;
/// use halfskip::part::locate::{SeenTogether, Peaked, Position, Side, locate};
/// use halfskip::part::Part;
/// use halfskip::part::path::{Axis, Plate};
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = |value| Millimetres::new(value).unwrap();
/// let axis = |angle| Axis::new(Degrees::new(angle).unwrap()).unwrap();
/// let plate = Part::Flat(Plate::new(mm(25.0)).unwrap());
/// let probe = Position::new(Side::A, mm(120.0), mm(30.0), mm(0.0)).unwrap();
/// let place = locate(&axis(60.0), &plate, &probe, mm(40.0), Peaked::Axis).unwrap();
/// assert!((place.y.get() - 4.641).abs() < 1e-3);
/// assert_eq!(place.z.get(), 20.0);
/// assert!(locate(&axis(60.0), &plate, &probe, mm(0.0), Peaked::Axis).is_err());
///
/// // A notch 5 mm high at a surface distance of 20 mm: corner at sqrt(20² + 25²), tip at sqrt(20² + 20²).
/// let corner = locate(&axis(45.0), &plate, &probe, mm(32.01562), Peaked::Corner).unwrap();
/// assert_eq!(corner.z.get(), 25.0);
/// assert!(locate(&axis(45.0), &plate, &probe, mm(24.0), Peaked::Corner).is_err());
/// let with_corner = Peaked::Together(SeenTogether::from_corner(&probe, &corner));
/// let tip = locate(&axis(45.0), &plate, &probe, mm(28.28427), with_corner).unwrap();
/// assert!((tip.z.get() - 20.0).abs() < 1e-4);
/// assert!(locate(&axis(45.0), &plate, &probe, mm(19.0), with_corner).is_err());
///
/// // Around a pipe: 300 − √(300² + 40² − 2 · 300 · 40 cos 60°), and 300 atan2(40 sin 60°, 300 − 40 cos 60°) − 30.
/// let pipe = Part::Around(Pipe::new(mm(600.0), mm(25.0), ScannedFrom::Outside).unwrap());
/// let place = locate(&axis(60.0), &pipe, &probe, mm(40.0), Peaked::Axis).unwrap();
/// assert!((place.z.get() - 17.865).abs() < 0.001);
/// assert!((place.y.get() - 6.928).abs() < 0.001);
/// // 100 acos((100² + 80² − 33²) / (2 · 100 · 80)) − 30
/// let pipe = Part::Around(Pipe::new(mm(200.0), mm(20.0), ScannedFrom::Outside).unwrap());
/// let place = locate(&axis(45.0), &pipe, &probe, mm(33.0), Peaked::Corner).unwrap();
/// assert!((place.y.get() + 0.547).abs() < 0.001);
/// assert!(locate(&axis(45.0), &pipe, &probe, mm(15.0), Peaked::Corner).is_err());
/// ```
// An image that locates on flat plates alone then links nothing of pipes.
#[inline(always)]
pub fn locate(
    axis: &Axis,
    part: &Part,
    position: &Position,
    path: Millimetres,
    peaked: Peaked,
) -> Result<Place, LocateError> {
    Ok(match (part, peaked) {
        (Part::Flat(plate), Peaked::Axis) => flat::on_axis(axis, plate, position, path)?,
        (Part::Flat(plate), Peaked::Corner) => flat::corner(axis, plate, position, path)?,
        (Part::Flat(plate), Peaked::Together(known)) => flat::together(axis, plate, position, path, &known)?,
        (Part::Around(pipe), Peaked::Axis) => around::on_axis(axis, pipe, position, path)?,
        (Part::Around(_), _) if position.is_skewed() => return Err(CurvedError::Skewed.into()),
        (Part::Around(pipe), Peaked::Corner) => around::corner(axis, pipe, position, path)?,
        (Part::Around(pipe), Peaked::Together(known)) => {
            around::together(axis, pipe, position, path, &known)?
        }
    })
}
