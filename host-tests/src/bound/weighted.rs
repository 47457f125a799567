//! `weighted.toml`: the module rating.

use halfskip::acceptance::rating::{Attenuation, PathUnit, Rounding, ShorterPath, Weighted};
use halfskip::units::Millimetres;

use super::{Asked, OrKind, alternative, db, from, mm, number};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "attenuation_factor_db" => factor(case, Rounding::HalfUp),
        "attenuation_factor_unrounded_db" => factor(case, Rounding::None),
        "weighted_rating_db" => rating(case),
        "paths_rated_apart" => rated_apart(case),
        _ => return None,
    }))
}

/// The rule in the form that the case names.
fn rule(form: Option<&str>, round: Rounding, shorter_path: Option<&str>) -> Result<Weighted, &'static str> {
    let (unit, per, beyond) = match form {
        Some("2dB/in") => (PathUnit::Inch, 2.0, 1.0),
        Some("0.08dB/mm") => (PathUnit::Millimetre, 0.08, 25.0),
        _ => return Err("no such form"),
    };
    Ok(Weighted {
        attenuation: Attenuation::new(unit, per, beyond).or_kind()?,
        round,
        round_d: Rounding::None,
        shorter_path: if shorter_path == Some("zero") { ShorterPath::Zero } else { ShorterPath::Negative },
    })
}

fn path(case: &Case) -> Result<Millimetres, &'static str> {
    match case.find("path_in") {
        Some(inches) => alternative(inches),
        None => mm(case.number("path_mm")),
    }
}

fn factor(case: &Case, round: Rounding) -> Asked {
    let rule = rule(case.word("form"), round, case.word("shorter_path"))?;
    Ok(number(rule.factor(path(case)?).or_kind()?.get()))
}

fn rating(case: &Case) -> Asked {
    let rule = rule(case.word("form"), Rounding::HalfUp, None)?;
    let (a, b) = (db(case.number("indication_db"))?, db(case.number("reference_db"))?);
    Ok(number(rule.rate(path(case)?, a, b).or_kind()?.d.get()))
}

/// How many paths of a grid get another whole factor in the one form than in the other.
fn rated_apart(case: &Case) -> Asked {
    let inch = rule(Some("2dB/in"), Rounding::HalfUp, None)?;
    let metric = rule(Some("0.08dB/mm"), Rounding::HalfUp, None)?;
    let (first, last, step) = (case.number("from_mm"), case.number("to_mm"), case.number("step_mm"));
    let mut apart = 0.0;
    for place in 0..=((last - first) / step) as u32 {
        let path = mm(first + f64::from(place) * step)?;
        if inch.factor(path).or_kind()? != metric.factor(path).or_kind()? {
            apart += 1.0;
        }
    }
    Ok(apart)
}
