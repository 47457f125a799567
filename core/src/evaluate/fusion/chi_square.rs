//! The 95 % quantile of χ².

use crate::math;

/// Quantiles for 1 to 30 degrees of freedom, from the printed tables of χ² (NIST/SEMATECH e-Handbook of Statistical
/// Methods, 1.3.6.7.4; held against a statistics library in the tests).
const TABLE: [f32; 30] = [
    3.841, 5.991, 7.815, 9.488, 11.070, 12.592, 14.067, 15.507, 16.919, 18.307, 19.675, 21.026, 22.362,
    23.685, 24.996, 26.296, 27.587, 28.869, 30.144, 31.410, 32.671, 33.924, 35.172, 36.415, 37.652, 38.885,
    40.113, 41.337, 42.557, 43.773,
];

/// The value that χ² of `degrees` degrees of freedom exceeds in 5 % of cases; 0 for none.
///
/// Beyond 30: k (1 − 2/(9k) + 1.644854 √(2/(9k)))³, Wilson and Hilferty, good to 0.01 there.
///
/// ```
/// assert_eq!(halfskip::evaluate::fusion::quantile_95(2), 5.991);
/// assert!((halfskip::evaluate::fusion::quantile_95(100) - 124.342).abs() < 0.02);
/// ```
#[must_use]
pub fn quantile_95(degrees: u32) -> f32 {
    let Some(row) = degrees.checked_sub(1) else {
        return 0.0;
    };
    if let Some(quantile) = TABLE.get(row as usize) {
        return *quantile;
    }
    let k = degrees as f32;
    let part = 2.0 / (9.0 * k);
    let root = 1.0 - part + 1.644_854 * math::sqrt(part).unwrap_or(0.0);
    k * root * root * root
}
