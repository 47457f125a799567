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
//!
//! A [body](Prior) has its radius as one more unknown that all its views share, and lies in the part.

mod body;
mod chi_square;
mod normal;

pub use body::{Body, FREE_FROM, Prior};
pub use chi_square::quantile_95;

use crate::math;
use crate::part::locate::{Contributions, EXPANDED};
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
    /// What a millimetre of the body's radius does to y and z, −∂/∂s along the beam; nothing at a corner or a tip.
    pub of_radius: [f32; 2],
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
    /// How large the reflector is; the point is its centre.
    pub body: Body,
    /// U of y and z by the fit alone, though the views disagree.
    pub of_fit: [f32; 2],
}

impl Fused {
    /// Whether the views agree: χ² at most its 95 % quantile; none where nothing is left to test, as of one view.
    ///
    /// The test has no power to prove agreement; it only finds disagreement larger than the budget explains.
    #[must_use]
    pub fn consistent(&self) -> Option<bool> {
        (self.degrees_of_freedom > 0).then(|| self.chi_squared <= quantile_95(self.degrees_of_freedom))
    }

    /// The same with uncertainties that reach to the far end of what each of these views tells by itself.
    fn reaching(mut self, views: impl Iterator<Item = View>) -> Self {
        for view in views {
            self.u_y = math::larger(self.u_y, (view.y - self.y).abs() + alone(&view.of_y));
            if let (Some(z), Some(own), Some(u_z)) = (view.z, self.z, self.u_z) {
                self.u_z = Some(math::larger(u_z, (z - own).abs() + alone(&view.of_z)));
            }
        }
        self
    }
}

/// The expanded uncertainty that these contributions amount to in one view alone.
fn alone(parts: &Contributions) -> f32 {
    let squares = parts.iter().fold(0.0, |sum, part| sum + part * part);
    // The root of a sum of squares exists.
    math::sqrt(squares).unwrap_or(0.0) * EXPANDED
}

/// Fuses views of a point into one; `None` of no views. All views tell z, or none does.
///
/// ```
/// use halfskip::part::locate::{Budget, Partials};
/// use halfskip::evaluate::fusion::{View, fuse};
/// let view = |y, g: f32| View {
///     probe: 0, y, z: None, at_face: false,
///     of_y: Partials { standoff: -g, index: g, path: 0.87 * g, ..Partials::default() }
///         .contributions(&Budget::default()),
///     of_z: [0.0; 7],
///     of_radius: [0.0; 2],
/// };
/// let fused = fuse([view(0.4, 1.0), view(-0.2, -1.0)].into_iter()).unwrap();
/// assert!((fused.y - 0.1).abs() < 1e-4);
/// assert_eq!(fused.consistent(), Some(true));
/// ```
#[must_use]
pub fn fuse<I: Iterator<Item = View> + Clone>(views: I) -> Option<Fused> {
    fit(views, &Prior::POINT)
}

/// Fuses views into the centre of one body of which something is known beforehand.
///
/// The depth keeps within the part, with the y that fits best there; it is as uncertain as without that bound. Where the
/// views disagree, U reaches from the point to the far end of what each of them tells by itself.
///
/// ```
/// use halfskip::evaluate::fusion::{Body, Prior, View, fuse_within};
/// use halfskip::part::locate::{Budget, Partials};
/// // A pore of 2 mm is seen from both sides at 45 degrees: each echo lies 0.7 mm short of its centre.
/// let view = |y, g: f32| {
///     let of_y = Partials { standoff: -g, path: 0.707 * g, ..Partials::default() };
///     let of_z = Partials { path: 0.707, ..Partials::default() };
///     let budget = Budget::default();
///     let (of_y, of_z) = (of_y.contributions(&budget), of_z.contributions(&budget));
///     View { probe: 0, y, z: Some(9.3), at_face: false, of_y, of_z, of_radius: [-0.707 * g, -0.707] }
/// };
/// let views = [view(-0.7, 1.0), view(0.7, -1.0)];
/// let fused = fuse_within(views.into_iter(), &Prior { across: 1.0, thickness: Some(20.0) }).unwrap();
/// assert_eq!(fused.body, Body::UpTo(1.0));
/// assert!(fused.y.abs() < 1e-4 && fused.z.unwrap() > 9.6);
/// ```
#[must_use]
pub fn fuse_within<I: Iterator<Item = View> + Clone>(views: I, prior: &Prior) -> Option<Fused> {
    let fused = fit(views.clone(), prior)?;
    Some(if fused.consistent() == Some(false) { fused.reaching(views) } else { fused })
}

fn fit<I: Iterator<Item = View> + Clone>(views: I, prior: &Prior) -> Option<Fused> {
    let first = views.clone().next()?;
    let with_depth = views.clone().all(|view| view.z.is_some());
    let mut whole = Normal::<4>::default();
    let (mut count, mut last_probe) = (0u32, None);
    let met = views.clone().filter(|view| view.of_radius != [0.0; 2]).count() as u32;
    let radius = prior.radius(met);
    // Probe by probe, in the order of their numbers: each probe's own errors are eliminated before the next is read.
    while let Some(probe) = next_probe(views.clone(), last_probe) {
        let mut part = Normal::<7>::default();
        for view in views.clone().filter(|view| view.probe == probe) {
            let view = if radius.is_some() { view } else { View { of_radius: [0.0; 2], ..view } };
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
    whole.eliminate(0);
    let unknowns = if with_depth { 2 } else { 1 };
    let depths = if with_depth { depths_told(views.clone()) } else { 0 };
    let known = count.saturating_add(depths).saturating_sub(unknowns as u32);
    let (mut found, body, degrees_of_freedom) = match radius {
        None => (whole.solve_trailing(unknowns)?, Body::Point, known),
        Some(radius) => {
            let (found, radius, sigma) = round(whole, radius, unknowns)?;
            let told = Body::Across { across: 2.0 * radius as f32, uncertainty: 4.0 * sigma as f32 };
            let told_by_views = met >= FREE_FROM;
            // A radius that the views tell takes one of their coordinates; one that is known beforehand brings its own.
            let taken = u32::from(told_by_views && radius > 0.0);
            (found, if told_by_views { told } else { Body::UpTo(prior.across) }, known.saturating_sub(taken))
        }
    };
    if let (Some(origin), Some(thickness), true) = (first.z, prior.thickness, with_depth) {
        let origin = f64::from(origin);
        found.keep_within(-origin, f64::from(thickness) - origin);
    }
    let Unknowns { values: [y, z], variances: [of_y, of_z], chi_squared, .. } = found;
    let u = |variance: f64| math::sqrt_f64(variance).map(|sigma| (2.0 * sigma) as f32);
    Some(Fused {
        y: (f64::from(first.y) + y) as f32,
        z: first.z.filter(|_| with_depth).map(|origin| (f64::from(origin) + z) as f32),
        u_y: u(of_y)?,
        u_z: if with_depth { u(of_z) } else { None },
        views: count,
        chi_squared: math::larger(chi_squared as f32, 0.0),
        degrees_of_freedom,
        body,
        of_fit: [u(of_y)?, u(of_z)?],
    })
}

/// The fit with a radius known beforehand to so much: the point, the radius and its standard uncertainty. A body has no
/// negative radius; its uncertainty, and that of the point, are those of the fit without that bound.
fn round(mut whole: Normal<4>, radius: (f64, f64), unknowns: usize) -> Option<(Unknowns, f64, f64)> {
    let (value, sigma) = radius;
    whole.add_known(1, value, sigma);
    let before = whole;
    whole.eliminate(1);
    let found = whole.solve_trailing(unknowns)?;
    let (radius, variance) = before.second(&found);
    let sigma = math::sqrt_f64(variance)?;
    if radius >= 0.0 {
        return Some((found, radius, sigma));
    }
    let at_none = before.solve_trailing(unknowns)?;
    Some((Unknowns { values: at_none.values, chi_squared: at_none.chi_squared, ..found }, 0.0, sigma))
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

/// Adds one view: unknowns angle, index, velocity of its probe, thickness, radius, Y, Z; coordinates counted from `origin`.
fn add(normal: &mut Normal<7>, view: &View, origin: &View, with_depth: bool) {
    let sigma = |part: f32| f64::from(part) * RECTANGULAR;
    let [ya, ye, yv, yt, yp, ys, yo] = view.of_y.map(sigma);
    let [yr, zr] = view.of_radius.map(f64::from);
    let row_y = [ya, ye, yv, yt, yr, 1.0, 0.0];
    let value_y = f64::from(view.y) - f64::from(origin.y);
    let variance_y = yp * yp + ys * ys + yo * yo + FLOOR;
    let (Some(z), Some(z_origin), true) = (view.z, origin.z, with_depth) else {
        normal.add(&row_y, &row_y, value_y, value_y, 1.0 / variance_y);
        return;
    };
    let [za, ze, zv, zt, zp, zs, zo] = view.of_z.map(sigma);
    let row_z = [za, ze, zv, zt, zr, 0.0, 1.0];
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
mod tests;
