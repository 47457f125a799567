//! `laws.toml`: the modules laws and attenuation.

use halfskip::physics::attenuation::{attenuation, loss};
use halfskip::physics::decibels::{DECIBELS_PER_NEPER, above, decibels_to_ratio};
use halfskip::physics::far_field::{Reflector, disc_to_back_wall, equal_disc, equivalent_disc};
use halfskip::units::{Decibels, DecibelsPerMillimetre};

use super::{Asked, OrKind, db, from, mm, number, percent};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "loss_per_doubling_db" => doubling(case).map(|fall| number(fall.get())),
        "doubling_ratio" => doubling(case).map(|fall| number(decibels_to_ratio(fall))),
        "disc_over_wall_db" => disc_over_wall(case),
        "wall_over_disc_db" => disc_over_wall(case).map(|level| -level),
        "equivalent_disc_mm" => equivalent(case),
        "disc_size_db" => sizes(case),
        "hole_as_disc_mm" => hole_as_disc(case),
        "attenuation_db_per_mm" => from_back_walls(case),
        "pressure_pct" => spread(case),
        "attenuated_pct" => attenuated(case),
        "attenuated_from_walls_pct" => from_wall_to_wall(case),
        "neper_db" => Ok(case.number("neper") * number(DECIBELS_PER_NEPER)),
        _ => return None,
    }))
}

fn doubling(case: &Case) -> Result<Decibels, &'static str> {
    let reflector = match case.word("reflector") {
        Some("disc") => Reflector::Disc,
        Some("side-hole") => Reflector::SideDrilledHole,
        Some("back-wall") => Reflector::BackWall,
        _ => return Err("no such reflector"),
    };
    reflector.fall(mm(100.0)?, mm(200.0)?).or_kind()
}

fn disc_over_wall(case: &Case) -> Asked {
    let (disc, path) = (mm(case.number("disc_mm"))?, mm(case.number("path_mm"))?);
    let level = disc_to_back_wall(disc, mm(case.number("wavelength_mm"))?, path).or_kind()?;
    Ok(number(level.get()))
}

fn equivalent(case: &Case) -> Asked {
    let (known, known_path) = (mm(case.number("disc_mm"))?, mm(case.number("reference_path_mm"))?);
    let (path, difference) = (mm(case.number("path_mm"))?, db(case.number("difference_db"))?);
    Ok(number(equivalent_disc(known, known_path, path, difference).or_kind()?.get()))
}

/// Two discs at one path: their levels against the same back wall.
fn sizes(case: &Case) -> Asked {
    let level = |disc: f64| -> Asked {
        Ok(number(disc_to_back_wall(mm(disc)?, mm(2.0)?, mm(500.0)?).or_kind()?.get()))
    };
    Ok(level(case.number("disc_mm"))? - level(case.number("reference_mm"))?)
}

fn hole_as_disc(case: &Case) -> Asked {
    let (hole, wavelength) = (mm(case.number("hole_mm"))?, mm(case.number("wavelength_mm"))?);
    Ok(number(equal_disc(hole, wavelength, mm(case.number("path_mm"))?).or_kind()?.get()))
}

fn from_back_walls(case: &Case) -> Asked {
    let thickness = case.number("thickness_mm");
    let nearer = mm(thickness * case.number("first_echo"))?;
    let farther = mm(thickness * case.number("second_echo"))?;
    let spreading = Reflector::BackWall.fall(nearer, farther).or_kind()?;
    let found = attenuation(nearer, farther, db(case.number("difference_db"))?, spreading);
    Ok(number(found.or_kind()?.get()))
}

/// Percent of the pressure that is left after a loss.
fn left(loss: Decibels) -> Asked {
    Ok(100.0 * number(decibels_to_ratio(db(-number(loss.get()))?)))
}

fn per_millimetre(value: f64) -> Result<DecibelsPerMillimetre, &'static str> {
    DecibelsPerMillimetre::new(value as f32).or_kind()
}

/// One way, a beam's pressure falls as a back-wall echo does: with the distance.
fn spread(case: &Case) -> Asked {
    assert_eq!(case.number("attenuation_db_per_m"), 0.0);
    let (reference, path) = (mm(case.number("reference_mm"))?, mm(case.number("path_mm"))?);
    left(Reflector::BackWall.fall(reference, path).or_kind()?)
}

fn attenuated(case: &Case) -> Asked {
    let alpha = per_millimetre(case.number("attenuation_db_per_m") / 1000.0)?;
    left(loss(alpha, mm(case.number("path_mm") - case.number("reference_mm"))?).or_kind()?)
}

/// The loss there and back through one wall, spread over its travel, applied to another wall.
fn from_wall_to_wall(case: &Case) -> Asked {
    let lost = above(percent(100.0)?, percent(case.number("first_pct"))?).or_kind()?;
    let alpha = per_millimetre(number(lost.get()) / (2.0 * case.number("first_mm")))?;
    left(loss(alpha, mm(2.0 * case.number("second_mm"))?).or_kind()?)
}
