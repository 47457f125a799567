//! The field of a probe: amplitude, phase and travelled path at a point.

use super::at_least;

/// Shear velocity and the ratio of the longitudinal one to it, steel.
pub const SHEAR: f64 = 3.24;
/// Longitudinal over shear velocity.
pub const RATIO: f64 = 5.92 / 3.24;
const WEDGE: f64 = 2.73;
/// Sources in the row: closer than half a wavelength, so that no second beam is made.
const ROW: usize = 32;

/// A probe on the surface, its index point at 0, looking toward +.
#[derive(Clone, Copy, Debug)]
pub struct Probe {
    /// Refracted angle, deg.
    pub angle: f64,
    /// MHz.
    pub frequency: f64,
    /// Element in the plane of incidence, mm.
    pub element: f64,
}

/// What arrives at a point, one way.
#[derive(Clone, Copy, Debug)]
pub struct Arrival {
    /// Real and imaginary part of the amplitude.
    pub amplitude: (f64, f64),
    /// Path travelled by the group, mm.
    pub path: f64,
    /// Angle of the ray from the vertical, deg.
    pub angle: f64,
}

impl Probe {
    /// Wave number, 1/mm.
    #[must_use]
    pub fn wave_number(&self) -> f64 {
        2.0 * std::f64::consts::PI * self.frequency / SHEAR
    }

    /// The field at a surface distance and an unfolded depth.
    ///
    /// Σ exp(i k q) / √r over the row, q = r + u sin a: source u fires later by u sin a / c. The group's path is the
    /// derivative of the phase with respect to k, the mean of q weighted by what each source adds.
    #[must_use]
    pub fn at(&self, distance: f64, depth: f64) -> Arrival {
        let k = self.wave_number();
        let sine = self.angle.to_radians().sin();
        let incident = (sine * WEDGE / SHEAR).asin();
        let footprint = self.element / incident.cos();
        let (mut re, mut im, mut path_re, mut path_im) = (0.0, 0.0, 0.0, 0.0);
        for place in 0..ROW {
            let u = footprint * ((place as f64 + 0.5) / ROW as f64 - 0.5);
            let (x, r) = (distance - u, ((distance - u).powi(2) + depth * depth).sqrt());
            // A source on the surface sends nothing backward and less along the surface.
            let weight = if x > 0.0 { (depth / r).sqrt() / r.sqrt() } else { 0.0 };
            let q = r + u * sine;
            let (s, c) = (k * q).sin_cos();
            re += weight * c;
            im += weight * s;
            path_re += weight * q * c;
            path_im += weight * q * s;
        }
        let power = at_least(re * re + im * im, 1e-12);
        let path = (path_re * re + path_im * im) / power;
        let angle = distance.atan2(depth).to_degrees();
        Arrival { amplitude: (re / ROW as f64, im / ROW as f64), path, angle }
    }
}

/// |R| of a shear wave at a free surface, by the plane-wave formula of elasticity, incidence in deg.
#[must_use]
pub fn reflected(incidence: f64) -> f64 {
    let b = incidence.abs().to_radians();
    let sin_p = RATIO * b.sin();
    if sin_p >= 1.0 {
        return 1.0;
    }
    let p = sin_p.asin();
    let converted = (2.0 * b).sin() * (2.0 * p).sin();
    let kept = RATIO * RATIO * (2.0 * b).cos().powi(2);
    ((converted - kept) / (converted + kept)).abs()
}
