//! What every formula is made of.

use halfskip::math;

use super::Worst;
use crate::reference::{Row, Table};

/// The error of an answer in double precision, in parts of what is right.
fn double_error(row: Row, column: &str, answer: f64) -> f64 {
    let right: f64 = row.get(column);
    double_off(row, column, answer) / right.abs()
}

/// How far an answer in double precision is off.
fn double_off(row: Row, column: &str, answer: f64) -> f64 {
    (answer - row.get::<f64>(column) - row.get::<f64>(&format!("{column}_rest"))).abs()
}

/// The error of an answer in single precision, in parts of what is right.
fn single_error(row: Row, column: &str, answer: f32) -> f64 {
    let right: f64 = row.get(column);
    (f64::from(answer) - right).abs() / right.abs()
}

pub(super) fn mathematics(worst: &mut Worst) {
    for row in Table::read("mathematics").rows() {
        let angle = row.input("angle_deg");
        let (sine, cosine) = math::sin_cos_f64(angle);
        worst.note("math::sin_cos_f64 sine", double_error(row, "sine", sine), row);
        worst.note("math::sin_cos_f64 cosine", double_error(row, "cosine", cosine), row);
        assert_eq!(math::sin_cos(angle), (row.get::<f64>("sine") as f32, row.get::<f64>("cosine") as f32));
        worst.note("math::tan", single_error(row, "tangent", math::tan(angle)), row);
        let ratio = f64::from(row.input("ratio"));
        worst.note("math::asin", single_error(row, "asin_deg", math::asin(ratio).unwrap()), row);
        worst.note("math::acos", single_error(row, "acos_deg", math::acos(ratio).unwrap()), row);
        let [opposite, adjacent] = ["opposite", "adjacent"].map(|column| f64::from(row.input(column)));
        worst.note("math::atan2", single_error(row, "atan2_deg", math::atan2(opposite, adjacent)), row);
        worst.note("math::arc", double_error(row, "turn", math::arc(1.0, opposite, adjacent)), row);
        let [arc, radius] = ["arc_mm", "radius_mm"].map(|column| f64::from(row.input(column)));
        let (sine, cosine) = math::sin_cos_of_arc(arc, radius);
        worst.note("math::sin_cos_of_arc", double_off(row, "arc_sine", sine), row);
        worst.note("math::sin_cos_of_arc", double_off(row, "arc_cosine", cosine), row);
        let power = math::exp10(row.input("exponent"));
        worst.note("math::exp10", single_error(row, "power", power), row);
        let value = row.input("value");
        worst.note("math::log10", single_error(row, "log", math::log10(value).unwrap()), row);
        worst.note("math::sqrt", single_error(row, "root", math::sqrt(value).unwrap()), row);
        let root = math::sqrt_f64(f64::from(value)).unwrap();
        worst.note("math::sqrt_f64", double_error(row, "root", root), row);
    }
}
