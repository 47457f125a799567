//! What is known of a reflector before its views are fused, and what they tell of its size.
//!
//! A round body answers r short of its centre along every beam, so that one radius is shared by all views:
//! echo = centre − r ∂(y, z)/∂s. Where views are few, r = w/2 ± w/2 (standard uncertainty); from [`FREE_FROM`] views
//! on, the views alone tell it, and it is never negative.

/// Views of bodies from which on their size is told by them alone. Ours, set on draws of voids up to 5 mm.
pub const FREE_FROM: u32 = 4;

/// What is known of a reflector beforehand.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Prior {
    /// w, mm: how large a body may be where the views are too few to tell; 0 for a point, however many they are.
    pub across: f32,
    /// The thickness that bounds its depth, mm; none where it may lie anywhere.
    pub thickness: Option<f32>,
}

impl Prior {
    /// A point, anywhere.
    pub const POINT: Self = Self { across: 0.0, thickness: None };

    /// The radius of a body that `seen` views have met, as it is known beforehand: value and standard uncertainty, mm.
    ///
    /// From [`FREE_FROM`] views on it is free as far as the part has room for it: 2 σ is half the thickness.
    pub(super) fn radius(&self, seen: u32) -> Option<(f64, f64)> {
        let half = f64::from(self.across) / 2.0;
        let room = self.thickness.map_or(LARGEST, |thickness| f64::from(thickness) / 4.0);
        (half > 0.0 && seen > 0).then_some((half, if seen < FREE_FROM || room < half { half } else { room }))
    }
}

/// The standard uncertainty of a radius that nothing limits, mm.
const LARGEST: f64 = 1_000.0;

/// How large a reflector was found to be, mm.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Body {
    /// A point: an edge, or taken as one.
    Point,
    /// Up to so large, which is taken: the views are too few to tell.
    UpTo(f32),
    /// So large by its views.
    Across {
        /// Its diameter.
        across: f32,
        /// Expanded uncertainty, k = 2.
        uncertainty: f32,
    },
}
