//! A corner of the reflector with a face of a curved part: thickness and path fix it, the angle only counts the legs.

use super::{Course, CurvedError, Slopes};
use crate::math;
use crate::units::Millimetres;

/// A corner: its leg, its arc and the slopes of that, and whether it lies at the opposite face.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Corner {
    pub leg: u32,
    pub arc: f64,
    pub of_arc: Slopes,
    pub opposite: bool,
}

/// Places a corner by its path: n = the whole number nearest s / L, at least 1, and n equal legs of l = s / n.
///
/// φ = n acos((q² + o² − l²) / (2 q o)), computed as 2 n asin √((l² − t²) / (4 q o)), which keeps its digits on large
/// radii. Odd n: the opposite face; even n: the scanned one. When the bore is missed only the scanned face has corners:
/// m chords, n = 2 m, φ = n asin(s / (n q)).
pub(crate) fn corner(course: &Course, path: Millimetres) -> Result<Corner, CurvedError> {
    let s = f64::from(crate::limits::PATH.check(path.get())?);
    let pipe = course.pipe();
    let (q, o) = (pipe.scanned(), pipe.other());
    if course.misses_bore() {
        let n = 2.0 * f64::from(nearest(s / (2.0 * course.leg_exact())));
        // A straight chord: l = q sin(φ / n).
        let sine = s / (n * q);
        let cosine = math::sqrt_f64((1.0 - sine) * (1.0 + sine)).filter(|cosine| *cosine > 0.0);
        let cosine = cosine
            .ok_or(CurvedError::ThroughTheBore { leg: (s / n) as f32, longest: pipe.scanned_radius() })?;
        let arc = math::arc(n * q, sine, cosine);
        let of_arc = Slopes { path: 1.0 / cosine, scanned: arc / q - n * sine / cosine, ..Slopes::default() };
        return Ok(Corner { leg: n as u32, arc, of_arc, opposite: false });
    }
    let leg = nearest(s / course.leg_exact());
    let n = f64::from(leg);
    let (l, t) = (s / n, (q - o) * -pipe.inward());
    // sin²(φ / 2n) = (l² − t²) / (4 q o)
    let half_sine_squared = (l - t) * (l + t) / (4.0 * q * o);
    let half_sine = math::sqrt_f64(half_sine_squared).filter(|half_sine| *half_sine > 0.0);
    let half_sine =
        half_sine.ok_or(CurvedError::CornerTooShort { path: path.get(), shortest: (n * t) as f32 })?;
    // The leg that grazes the bore: l² = R² − r².
    let longest = math::sqrt_f64(t * (q + o)).unwrap_or(0.0);
    if l > longest {
        return Err(CurvedError::ThroughTheBore { leg: l as f32, longest: longest as f32 });
    }
    let half_cosine = math::sqrt_f64(1.0 - half_sine_squared).unwrap_or(0.0);
    let (sine, cosine) = (2.0 * half_sine * half_cosine, 1.0 - 2.0 * half_sine_squared);
    let arc = math::arc(2.0 * n * q, half_sine, half_cosine);
    // q o sin φ₁ dφ₁ = l dl − (q − o cos φ₁) dq − (o − q cos φ₁) do
    let per = n * q / (q * o * sine);
    let of_arc = Slopes {
        path: per * l / n,
        angle: 0.0,
        scanned: arc / q - per * (q - o * cosine),
        other: -per * (o - q * cosine),
    };
    Ok(Corner { leg, arc, of_arc, opposite: leg % 2 == 1 })
}

/// The whole number nearest a count of legs, at least 1.
fn nearest(legs: f64) -> u32 {
    let nearest = (legs + 0.5) as u32;
    if nearest == 0 { 1 } else { nearest }
}
