//! The uncertainty budget: what each input may be off by, and first-order propagation.

use crate::math;
use crate::units::{Degrees, Millimetres, ScreenPercent};

/// Half widths of the inputs, each taken as rectangular: standard uncertainty = half width / √3 (\[R3\] 4.3.7).
///
/// Angle, index and velocity errors are shared by all readings of one probe, the thickness error by all readings; the
/// path and stand-off errors belong to each reading alone. The defaults are common practice, no source \[R7\]; the
/// angle's ±2 degrees and the index point's ±1 mm are the limits that probe checks are held to (from memory of EN
/// 12668-3). The velocity's is 0 unless it is given: no error is put in that nobody stated.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Budget {
    /// Refracted angle.
    pub angle: Degrees,
    /// One reading of the path.
    pub path: Millimetres,
    /// Index point.
    pub index: Millimetres,
    /// One reading of the stand-off.
    pub standoff: Millimetres,
    /// Thickness.
    pub thickness: Millimetres,
    /// Velocity in the part, as a fraction of it.
    pub velocity: f32,
    /// One reading of the height.
    pub height: ScreenPercent,
}

impl Budget {
    /// The documented defaults.
    pub const DEFAULT: Self = Self {
        angle: Degrees::constant(2.0),
        path: Millimetres::constant(0.5),
        index: Millimetres::constant(1.0),
        standoff: Millimetres::constant(1.0),
        thickness: Millimetres::constant(0.3),
        velocity: 0.0,
        height: ScreenPercent::constant(5.0),
    };
}

impl Default for Budget {
    fn default() -> Self {
        Self::DEFAULT
    }
}

/// Each input's part of one coordinate's error, mm: partial times half width, in the order angle, index, velocity,
/// thickness, stand-off, path, thickness of its own. The first four errors are shared by views, the last three are the
/// reading's own.
pub type Contributions = [f32; 7];

/// The same when the thickness was measured for this reading alone: its error is then no other reading's.
#[must_use]
pub const fn with_own_thickness(parts: Contributions) -> Contributions {
    let [angle, index, velocity, thickness, standoff, path, own] = parts;
    [angle, index, velocity, 0.0, standoff, path, own + thickness]
}

/// Partial derivatives of one coordinate (mm) with respect to each input.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Partials {
    /// Per degree of refracted angle.
    pub angle: f32,
    /// Per millimetre of path.
    pub path: f32,
    /// Per millimetre of stand-off.
    pub standoff: f32,
    /// Per millimetre of index offset.
    pub index: f32,
    /// Per millimetre of thickness.
    pub thickness: f32,
    /// Per unit of relative error of the part's velocity: the path partial times the path, s = c t / 2, and where the beam's
    /// angle counts its partial in radians times tan a, sin a in proportion to c.
    pub velocity: f32,
}

impl Partials {
    /// The partials of the coordinate times `factor`.
    #[must_use]
    pub const fn scaled(self, factor: f32) -> Self {
        Self {
            angle: self.angle * factor,
            path: self.path * factor,
            standoff: self.standoff * factor,
            index: self.index * factor,
            thickness: self.thickness * factor,
            velocity: self.velocity * factor,
        }
    }

    /// The partials of the negated coordinate.
    #[must_use]
    pub const fn negated(self) -> Self {
        self.scaled(-1.0)
    }

    /// The partials when an independent reading of a path comes in, `own` per millimetre of it: their squares add.
    pub(super) fn with_path(self, own: f32, path: f32) -> Self {
        Self {
            path: math::sqrt(own * own + self.path * self.path).unwrap_or(own.abs()),
            velocity: self.velocity + own * path,
            ..self
        }
    }

    /// Each partial times the half width of its input.
    #[must_use]
    pub const fn contributions(&self, budget: &Budget) -> Contributions {
        [
            self.angle * budget.angle.get(),
            self.index * budget.index.get(),
            self.velocity * budget.velocity,
            self.thickness * budget.thickness.get(),
            self.standoff * budget.standoff.get(),
            self.path * budget.path.get(),
            0.0,
        ]
    }
}

impl Budget {
    /// Expanded uncertainty, k = 2: U = 2 sqrt(Σ (∂/∂q · half width of q)² / 3).
    ///
    /// ```
    /// use halfskip::part::locate::{Budget, Partials};
    /// let standoff_only = Partials { standoff: -1.0, ..Partials::default() };
    /// assert!((Budget::default().expanded(&standoff_only) - 1.1547).abs() < 1e-4);
    /// ```
    #[inline(always)]
    #[must_use]
    pub fn expanded(&self, partials: &Partials) -> f32 {
        let mut sum = square(partials.angle * self.angle.get());
        // Half of the inputs move one coordinate only, and the velocity is often given no width.
        if !is_nothing(partials.index) {
            sum += square(partials.index * self.index.get());
        }
        if !is_nothing(self.velocity) {
            sum += square(partials.velocity * self.velocity);
        }
        if !is_nothing(partials.thickness) {
            sum += square(partials.thickness * self.thickness.get());
        }
        if !is_nothing(partials.standoff) {
            sum += square(partials.standoff * self.standoff.get());
        }
        sum += square(partials.path * self.path.get());
        // sqrt is of a sum of squares, so it exists.
        math::sqrt(sum * (4.0 / 3.0)).unwrap_or(f32::INFINITY)
    }
}

/// The expanded uncertainty, k = 2, of a quantity with a rectangular half width of 1: 2 / √3.
pub(crate) const EXPANDED: f32 = 1.154_700_5;

#[inline]
const fn square(part: f32) -> f32 {
    part * part
}

/// Zero of either sign, or so near it that its square is zero, by its exponent alone: no float operation where floats
/// are software.
#[inline]
pub(crate) const fn is_nothing(value: f32) -> bool {
    value.to_bits() << 1 < 1 << 24
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_error_counts_by_its_own_half_width() {
        let partials = Partials { index: 3.0, angle: 0.5, ..Partials::default() };
        let budget = Budget { index: Millimetres::constant(0.5), ..Budget::DEFAULT };
        assert_eq!(partials.contributions(&budget), [1.0, 1.5, 0.0, 0.0, 0.0, 0.0, 0.0]);
    }

    #[test]
    fn nothing_is_zero_or_has_no_square() {
        let largest = f32::MIN_POSITIVE.next_down();
        assert!(
            [0.0, -0.0, 1e-45, largest, -largest].into_iter().all(is_nothing) && largest * largest == 0.0
        );
        assert!(![f32::MIN_POSITIVE, -f32::MIN_POSITIVE, 1e-30, 1.0, -2.0].into_iter().any(is_nothing));
    }
}
