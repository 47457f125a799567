//! Decibels, the curve, levels and the far-field laws.

use halfskip::calibration::curve::{Beyond, Dac, DacPoint};
use halfskip::calibration::level::{EchoHeight, Screen, level};
use halfskip::physics::decibels::{above, decibels_to_ratio};
use halfskip::physics::far_field::{Reflector, disc_to_back_wall, equal_disc, hole_to_back_wall};
use halfskip::units::{Decibels, ScreenPercent};

use super::{Worst, mm};
use crate::reference::{Row, Table};

fn percent(value: f32) -> ScreenPercent {
    ScreenPercent::new(value).unwrap()
}

fn db(value: f32) -> Decibels {
    Decibels::new(value).unwrap()
}

/// The error of a level, in parts of it or of 20 dB, the factor of its logarithm.
fn level_error(row: Row, column: &str, level: f32) -> f64 {
    let expected: f64 = row.get(column);
    let term = if expected.abs() > 20.0 { expected.abs() } else { 20.0 };
    (f64::from(level) - expected).abs() / term
}

pub(super) fn decibels(worst: &mut Worst) {
    for row in Table::read("decibels").rows() {
        let level = above(percent(row.input("first_pct")), percent(row.input("second_pct"))).unwrap().get();
        let expected: f64 = row.get("ratio_db");
        let term = if expected.abs() > 20.0 { expected.abs() } else { 20.0 };
        worst.note("decibels::above", (f64::from(level) - expected).abs() / term, row);
        let ratio = decibels_to_ratio(db(row.input("db")));
        worst.note("decibels::decibels_to_ratio", row.error("db_ratio", ratio, "db_ratio"), row);
    }
}

pub(super) fn levels(worst: &mut Worst) {
    for row in Table::read("level").rows() {
        let reference = percent(row.input("reference_pct"));
        let mut dac = Dac::<8>::new(reference);
        for point in row.text("curve").split(' ') {
            let numbers: Vec<f32> = point.split(':').map(|number| number.parse().unwrap()).collect();
            let [path, height, gain] = numbers[..] else { panic!("{point}") };
            dac.insert(DacPoint { path: mm(path), height: percent(height), gain: db(gain) }).unwrap();
        }
        let at = dac.gain_at(mm(row.input("path_mm")), Beyond::Refuse).unwrap();
        worst.note("curve::gain_at", row.error("reference_gain_db", at.gain.get(), "level_term"), row);
        let screen = Screen::new(percent(100.0), percent(0.0), reference).unwrap();
        let height = EchoHeight::Shown(percent(row.input("height_pct")));
        let (gain, transfer) = (db(row.input("gain_db")), db(row.input("transfer_db")));
        let found = level(height, gain, &at, transfer, &screen).unwrap();
        worst.note("level", row.error("level_db", found.db.get(), "level_term"), row);
    }
}

pub(super) fn far_field(worst: &mut Worst) {
    for row in Table::read("laws").rows() {
        let [diameter, wave, path, far] =
            ["diameter_mm", "wavelength_mm", "path_mm", "far_mm"].map(|column| mm(row.input(column)));
        let disc = disc_to_back_wall(diameter, wave, path).unwrap().get();
        worst.note("laws::disc_to_back_wall", level_error(row, "disc_db", disc), row);
        let hole = hole_to_back_wall(diameter, path).unwrap().get();
        worst.note("laws::hole_to_back_wall", level_error(row, "hole_db", hole), row);
        let fall = Reflector::BackWall.fall(path, far).unwrap().get();
        worst.note("laws::Reflector::fall", level_error(row, "wall_fall_db", fall), row);
        let equal = equal_disc(diameter, wave, path).unwrap().get();
        worst.note("laws::equal_disc", row.error("equal_disc_mm", equal, "equal_disc_mm"), row);
    }
}
