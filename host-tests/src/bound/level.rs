//! `level.toml`.

use halfskip::calibration::curve::{Beyond, Dac, DacPoint, How, ReferenceGain};
use halfskip::calibration::level::{Bound, EchoHeight, Screen, level};
use halfskip::physics::decibels::{above, decibels_to_ratio, height_after};

use super::{Asked, OrKind, db, from, mm, number, percent};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "ratio_db" => ratio(case),
        "db_ratio" => db(case.number("db")).map(|level| number(decibels_to_ratio(level))),
        "height_after_db" => after(case),
        "level_db" => over_reference(case),
        "curve_points" => curve(case).map(|curve| curve.points().len() as f64),
        _ => return None,
    }))
}

fn ratio(case: &Case) -> Asked {
    let (height, reference) = (percent(case.number("height"))?, percent(case.number("reference"))?);
    Ok(number(above(height, reference).or_kind()?.get()))
}

fn after(case: &Case) -> Asked {
    let (height, change) = (percent(case.number("height"))?, db(case.number("db"))?);
    Ok(number(height_after(height, change).or_kind()?.get()))
}

/// The curve of a case, given as path:height:gain.
fn curve(case: &Case) -> Result<Dac<8>, &'static str> {
    let mut curve = Dac::new(percent(case.number("reference_pct"))?);
    for point in case.words("curve") {
        let numbers: Vec<f64> = point.split(':').filter_map(|number| number.parse().ok()).collect();
        let [path, height, gain] = numbers[..] else {
            panic!("{}: '{point}' is no path:height:gain", case.id);
        };
        let point = DacPoint { path: mm(path)?, height: percent(height)?, gain: db(gain)? };
        curve.insert(point).or_kind()?;
    }
    Ok(curve)
}

fn over_reference(case: &Case) -> Asked {
    let reference = match case.find("reference_gain_db") {
        Some(gain) => ReferenceGain { gain: db(gain)?, how: How::Flat },
        None => curve(case)?.gain_at(mm(case.number("path_mm"))?, Beyond::Refuse).or_kind()?,
    };
    let screen =
        Screen::new(percent(100.0)?, percent(0.0)?, percent(case.number("reference_pct"))?).or_kind()?;
    let height = EchoHeight::Shown(percent(case.number("height_pct"))?);
    let transfer = db(case.find("transfer_db").unwrap_or(0.0))?;
    let level = level(height, db(case.number("gain_db"))?, &reference, transfer, &screen).or_kind()?;
    match level.bound {
        Bound::Exact => Ok(number(level.db.get())),
        _ => Err("a bound only"),
    }
}
