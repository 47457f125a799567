//! How far each function may be off, in parts of the largest term of its formula: the one table that the checks use.
//!
//! The promise is [`PROMISED`] over the whole valid range. A function that does better says how much better, so that a
//! change which loses digits is seen long before the promise breaks.

/// What is promised of every result: one millionth of the largest term in its formula.
pub const PROMISED: f64 = 1e-6;

/// What one function is held to.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Allowed {
    /// The function and the result of it.
    pub function: &'static str,
    /// Largest error allowed, in parts of the term.
    pub error: f64,
    /// The term.
    pub term: &'static str,
}

const fn allowed(function: &'static str, error: f64, term: &'static str) -> Allowed {
    Allowed { function, error, term }
}

/// Every function that is held against the reference.
pub const TABLE: &[Allowed] = &[
    allowed("math::sin_cos_f64 sine", 2e-16, "the sine"),
    allowed("math::sin_cos_f64 cosine", 2e-16, "the cosine"),
    allowed("math::sin_cos_of_arc", 5e-16, "1 (its sine)"),
    allowed("math::tan", 6e-8, "the tangent"),
    allowed("math::asin", 6e-8, "the angle"),
    allowed("math::acos", 6e-8, "the angle"),
    allowed("math::atan2", 6e-8, "the angle"),
    allowed("math::arc", 3e-16, "the arc"),
    allowed("math::exp10", 6e-8, "the power"),
    allowed("math::log10", 1e-7, "the logarithm"),
    allowed("math::sqrt", 6e-8, "the root"),
    allowed("math::sqrt_f64", 2e-16, "the root"),
    allowed("path::unfold depth", 2e-7, "u or n t"),
    allowed("path::unfold distance", 2e-7, "s sin a"),
    allowed("path::half_skip", 2e-7, "t tan a"),
    allowed("path::leg_length", 2e-7, "t / cos a"),
    allowed("path::reach path", 2e-7, "n t / cos a"),
    allowed("path::reach distance", 2e-7, "n t tan a"),
    allowed("locate corner distance", 2e-7, "s"),
    allowed("curved::Course leg length", 1e-7, "the length"),
    allowed("curved::Course half skip", 1e-7, "the arc"),
    allowed("curved::Course::at depth", 1e-7, "s"),
    allowed("curved::Course::at arc", 2e-7, "the arc"),
    allowed("locate around y", 2e-7, "s"),
    allowed("locate corner around arc", 8e-7, "the arc"),
    allowed("refraction refracted angle", 5e-8, "1 (its sine)"),
    allowed("refraction critical angle", 5e-8, "1 (its sine)"),
    allowed("refraction::incident", 5e-8, "1 (its sine)"),
    allowed("probe::wavelength", 1e-7, "c / f"),
    allowed("probe::near_field_round", 3e-7, "D^2 / 4 lambda"),
    allowed("probe::near_field_round_short", 2e-7, "D^2 / 4 lambda"),
    allowed("probe near field left, in plane", 5e-7, "the near field or what the wedge uses"),
    allowed("probe near field left, across", 3e-7, "the near field or what the wedge uses"),
    allowed("beam::spread", 5e-8, "1 (its sine)"),
    allowed("beam::edges in the plane", 2e-7, "1 (its sine)"),
    allowed("decibels::above", 2e-7, "20 dB or the level"),
    allowed("decibels::decibels_to_ratio", 1e-6, "the ratio"),
    allowed("laws::disc_to_back_wall", 2e-7, "20 dB or the level"),
    allowed("laws::hole_to_back_wall", 2e-7, "20 dB or the level"),
    allowed("laws::Reflector::fall", 2e-7, "20 dB or the level"),
    allowed("laws::equal_disc", 2e-7, "the diameter"),
    allowed("timebase::TimeBase::time", 2e-7, "t"),
    allowed("timebase::TimeBase::path", 2e-7, "c t / 2"),
    allowed("timebase::TimeBase::fit velocity", 1e-7, "c"),
    allowed("timebase::TimeBase::fit delay", 1e-7, "t of the first echo"),
    allowed("anglecheck::AngleCheck::fit", 1e-7, "a"),
    allowed("curve::gain_at", 2e-7, "largest gain or level"),
    allowed("level", 2e-7, "largest gain or level"),
    allowed("locate y", 2e-7, "stand-off or s sin a"),
    allowed("locate x", 2e-7, "s sin a"),
    allowed("locate z", 2e-7, "u or n t"),
    allowed("locate together z", 6e-7, "s"),
    allowed("sizing::height::seen_together", 5e-8, "s"),
    allowed("sizing::height::from_face, peaked", 2e-7, "u or n t"),
    allowed("sizing::height::peaked_apart", 2e-7, "the height"),
];

/// What the near field of a rectangle may be off by: its shape factor stands in steps of a tenth of the side ratio and
/// runs straight between them.
pub const RECTANGLE: f64 = 4e-3;

/// The entry of one function.
///
/// # Panics
/// When the table has none: a function cannot be measured against nothing.
#[must_use]
pub fn of(function: &str) -> Allowed {
    let found = TABLE.iter().find(|entry| entry.function == function);
    *found.unwrap_or_else(|| panic!("'{function}' is not in the accuracy table"))
}
