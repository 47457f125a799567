//! One point from all views: weighted least squares in which shared errors are shared.
//!
//! A view is one probe, side and leg. Its angle, index and velocity errors are those of its probe, the thickness error
//! is everyone's, and each acts with its own sign. The fit makes every shared error an unknown with its own prior
//! (zero, with the standard uncertainty of the budget), which equals generalised least squares with the full covariance
//! matrix but needs only a few numbers a probe:
//!
//! y_i = Y + Σ_k (∂y_i/∂q_k) δ_k + ε_i, likewise z_i; minimise Σ εᵀ C⁻¹ ε + Σ_k (δ_k / σ_k)²
//!
//! with C the 2 × 2 covariance of the reading's own errors: path, stand-off, and a thickness measured for it alone. The minimum is χ² distributed with
//! (number of coordinates − unknown coordinates) degrees of freedom when the views are of one reflector. Source: \[R3\]
//! for the variances, least squares with prior for the rest (general mathematics).

mod chi_square;
mod normal;

pub use chi_square::quantile_95;

use crate::math;
use crate::part::locate::Contributions;
use normal::{Normal, Unknowns};

/// One view's coordinates and their partials.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct View {
    /// The probe, by number.
    pub probe: u8,
    /// Its y, mm.
    pub y: f32,
    /// Its z, mm; none where the view fixes only y.
    pub z: Option<f32>,
    /// The z is that of a face whose depth is the joint's: it adds no misfit among corners of one face.
    pub at_face: bool,
    /// What each input's half width does to y.
    pub of_y: Contributions,
    /// What each input's half width does to z.
    pub of_z: Contributions,
}

/// The fused point.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Fused {
    /// Across the weld, mm.
    pub y: f32,
    /// Below the near face, mm; none when no view told it.
    pub z: Option<f32>,
    /// Expanded uncertainty of y, k = 2.
    pub u_y: f32,
    /// Expanded uncertainty of z, k = 2.
    pub u_z: Option<f32>,
    /// How many views.
    pub views: u32,
    /// The weighted sum of squared misfits.
    pub chi_squared: f32,
    /// Its degrees of freedom.
    pub degrees_of_freedom: u32,
}

impl Fused {
    /// Whether the views agree: χ² at most its 95 % quantile; none where nothing is left to test, as of one view.
    ///
    /// The test has no power to prove agreement; it only finds disagreement larger than the budget explains.
    #[must_use]
    pub fn consistent(&self) -> Option<bool> {
        (self.degrees_of_freedom > 0).then(|| self.chi_squared <= quantile_95(self.degrees_of_freedom))
    }
}

/// Fuses views into one point; `None` of no views. All views tell z, or none does.
///
/// ```
/// use halfskip::part::locate::{Budget, Partials};
/// use halfskip::evaluate::fusion::{View, fuse};
/// let view = |y, g: f32| View {
///     probe: 0, y, z: None, at_face: false,
///     of_y: Partials { standoff: -g, index: g, path: 0.87 * g, ..Partials::default() }
///         .contributions(&Budget::default()),
///     of_z: [0.0; 7],
/// };
/// let fused = fuse([view(0.4, 1.0), view(-0.2, -1.0)].into_iter()).unwrap();
/// assert!((fused.y - 0.1).abs() < 1e-4);
/// assert_eq!(fused.consistent(), Some(true));
/// ```
#[must_use]
pub fn fuse<I: Iterator<Item = View> + Clone>(views: I) -> Option<Fused> {
    let first = views.clone().next()?;
    let with_depth = views.clone().all(|view| view.z.is_some());
    let mut whole = Normal::<3>::default();
    let (mut count, mut last_probe) = (0u32, None);
    // Probe by probe, in the order of their numbers: each probe's own errors are eliminated before the next is read.
    while let Some(probe) = next_probe(views.clone(), last_probe) {
        let mut part = Normal::<6>::default();
        for view in views.clone().filter(|view| view.probe == probe) {
            add(&mut part, &view, &first, with_depth);
            count = count.saturating_add(1);
        }
        for own in 0..3 {
            part.add_prior(own);
        }
        part.eliminate_leading(3);
        whole.add_trailing(&part);
        last_probe = Some(probe);
    }
    whole.add_prior(0);
    whole.eliminate_leading(1);
    let unknowns = if with_depth { 2 } else { 1 };
    let Unknowns { values: [y, z], variances: [of_y, of_z], chi_squared } = whole.solve_trailing(unknowns)?;
    let depths = if with_depth { depths_told(views.clone()) } else { 0 };
    let observed = count.saturating_add(depths);
    let u = |variance: f64| math::sqrt_f64(variance).map(|sigma| (2.0 * sigma) as f32);
    Some(Fused {
        y: (f64::from(first.y) + y) as f32,
        z: first.z.filter(|_| with_depth).map(|origin| (f64::from(origin) + z) as f32),
        u_y: u(of_y)?,
        u_z: if with_depth { u(of_z) } else { None },
        views: count,
        chi_squared: math::larger(chi_squared as f32, 0.0),
        degrees_of_freedom: observed.saturating_sub(unknowns as u32),
    })
}

/// How many independent depths the views tell: each echo's own, and one for each face that corners share.
fn depths_told(views: impl Iterator<Item = View> + Clone) -> u32 {
    let echoes = views.clone().filter(|view| !view.at_face).count() as u32;
    let corners = views.filter(|view| view.at_face);
    let faces = corners.clone().enumerate().filter(|(place, corner)| {
        // Counted at the first corner of each face.
        !corners.clone().take(*place).any(|earlier| earlier.z == corner.z)
    });
    echoes.saturating_add(faces.count() as u32)
}

fn next_probe(views: impl Iterator<Item = View>, after: Option<u8>) -> Option<u8> {
    views.map(|view| view.probe).filter(|probe| after.is_none_or(|last| *probe > last)).min()
}

/// A variance that no reading is better than, (1 µm)²: it keeps the fit solvable when a half width is given as 0.
const FLOOR: f64 = 1e-6;

/// Standard uncertainty of a rectangular half width: 1 / √3.
const RECTANGULAR: f64 = 0.577_350_269_189_625_8;

/// Adds one view: unknowns angle, index, velocity of its probe, thickness, Y, Z; coordinates counted from `origin`.
fn add(normal: &mut Normal<6>, view: &View, origin: &View, with_depth: bool) {
    let sigma = |part: f32| f64::from(part) * RECTANGULAR;
    let [ya, ye, yv, yt, yp, ys, yo] = view.of_y.map(sigma);
    let row_y = [ya, ye, yv, yt, 1.0, 0.0];
    let value_y = f64::from(view.y) - f64::from(origin.y);
    let variance_y = yp * yp + ys * ys + yo * yo + FLOOR;
    let (Some(z), Some(z_origin), true) = (view.z, origin.z, with_depth) else {
        normal.add(&row_y, &row_y, value_y, value_y, 1.0 / variance_y);
        return;
    };
    let [za, ze, zv, zt, zp, zs, zo] = view.of_z.map(sigma);
    let row_z = [za, ze, zv, zt, 0.0, 1.0];
    let value_z = f64::from(z) - f64::from(z_origin);
    let variance_z = zp * zp + zs * zs + zo * zo + FLOOR;
    let covariance = yp * zp + ys * zs + yo * zo;
    let determinant = variance_y * variance_z - covariance * covariance;
    normal.add(&row_y, &row_y, value_y, value_y, variance_z / determinant);
    normal.add(&row_z, &row_z, value_z, value_z, variance_y / determinant);
    normal.add(&row_y, &row_z, value_y, value_z, -covariance / determinant);
    normal.add(&row_z, &row_y, value_z, value_y, -covariance / determinant);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::locate::{Budget, Partials};

    fn view(probe: u8, y: f32, z: f32, g: f32) -> View {
        View {
            probe,
            y,
            z: Some(z),
            at_face: false,
            of_y: Partials { angle: 0.3 * g, path: 0.87 * g, standoff: -g, index: g, ..Partials::default() }
                .contributions(&Budget::default()),
            of_z: Partials { angle: -0.5, path: 0.5, ..Partials::default() }
                .contributions(&Budget::default()),
        }
    }

    #[test]
    fn one_view_is_itself_with_its_own_uncertainty() {
        let only = view(0, 1.5, 8.0, 1.0);
        let fused = fuse([only].into_iter()).unwrap();
        assert_eq!((fused.y, fused.z), (1.5, Some(8.0)));
        let alone = only.of_y.iter().map(|part| part * part).sum::<f32>() * 4.0 / 3.0;
        assert!((fused.u_y - math::sqrt(alone).unwrap()).abs() < 1e-3);
        assert_eq!(fused.consistent(), None);
    }

    #[test]
    fn an_index_error_cancels_between_the_sides_and_does_not_average_out_on_one() {
        let both = fuse([view(0, 0.0, 8.0, 1.0), view(0, 0.0, 8.0, -1.0)].into_iter()).unwrap();
        let same = fuse([view(0, 0.0, 8.0, 1.0), view(0, 0.0, 8.0, 1.0)].into_iter()).unwrap();
        assert!(both.u_y < 0.8 * same.u_y);
    }

    #[test]
    fn views_farther_apart_than_the_budget_explains_disagree() {
        let far = fuse([view(0, 0.0, 8.0, 1.0), view(1, 9.0, 8.0, -1.0)].into_iter()).unwrap();
        assert_eq!(far.consistent(), Some(false));
    }

    #[test]
    fn the_order_of_views_does_not_matter() {
        let views = [view(1, 0.4, 8.1, 1.0), view(0, -0.2, 7.9, -1.0), view(1, 0.1, 8.4, -1.0)];
        let forth = fuse(views.into_iter()).unwrap();
        let back = fuse(views.into_iter().rev()).unwrap();
        assert!((forth.y - back.y).abs() < 1e-6 && (forth.chi_squared - back.chi_squared).abs() < 1e-5);
    }
}
