//! `material.toml`.

use halfskip::physics::material::{Material, preset};

use super::{Asked, OrKind, from, number, speed};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "tabulated_long_m_s" => tabulated(case, |material| material.longitudinal().map(|speed| speed.get())),
        "tabulated_shear_m_s" => tabulated(case, |material| Some(material.shear().get())),
        "shear_of_pair_m_s" => pair(case),
        _ => return None,
    }))
}

/// The preset's speed; without one, the printed speed as it comes back from being entered.
fn tabulated(case: &Case, of: impl Fn(&Material) -> Option<f32>) -> Asked {
    case.word("material").ok_or("no-name")?;
    let in_km_per_s = match case.word("preset") {
        Some(name) => of(&preset(name).ok_or("no-preset")?.material).ok_or("no-speed")?,
        None => speed(case.printed().map_or(f64::NAN, |printed| printed.value()))?.get(),
    };
    Ok(number(in_km_per_s) * 1000.0)
}

fn pair(case: &Case) -> Asked {
    let (long, shear) = (speed(case.number("long_m_s"))?, speed(case.number("shear_m_s"))?);
    let material = Material::new(shear, Some(long), None).or_kind()?;
    Ok(number(material.shear().get()) * 1000.0)
}
