//! `refraction.toml`.

use halfskip::physics::material::Material;
use halfskip::physics::probe::WedgeTemperature;
use halfskip::physics::refraction::{
    first_critical, incident, lowest_shear_alone, on_another_material, refracted_longitudinal,
    refracted_shear, second_critical,
};
use halfskip::units::Degrees;

use super::{Asked, OrKind, degrees, from, speed};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    let (quantity, sine) = match case.quantity.strip_suffix("_sine") {
        Some(quantity) => (quantity, true),
        None => (case.quantity.strip_suffix("_deg")?, false),
    };
    let asked = match quantity {
        "wedge_angle" => wedge_angle(case),
        "first_critical" => first(case),
        "second_critical" => second(case),
        "refracted_long" => longitudinal(case),
        "refracted_shear" => shear(case),
        "shear_at_first_critical" => lowest(case),
        "angle_in_other_part" => other_part(case),
        "refracted_after_wedge_change" => wedge_change(case),
        _ => return None,
    };
    let asked: Asked = asked.map(|angle| {
        let angle = f64::from(angle.get());
        if sine { angle.to_radians().sin() } else { angle }
    });
    Some(from(asked))
}

/// A part in which only the longitudinal speed matters: its shear speed is put at half of it.
fn longitudinal_part(case: &Case) -> Result<Material, &'static str> {
    let long = case.number("part_m_s");
    Material::new(speed(long / 2.0)?, Some(speed(long)?), None).or_kind()
}

fn shear_part(case: &Case) -> Result<Material, &'static str> {
    Material::new(speed(case.number("part_m_s"))?, None, None).or_kind()
}

fn wedge_angle(case: &Case) -> Result<Degrees, &'static str> {
    let (wedge, part) = (speed(case.number("wedge_m_s"))?, speed(case.number("part_m_s"))?);
    incident(degrees(case.number("refracted_deg"))?, wedge, part).or_kind()
}

fn first(case: &Case) -> Result<Degrees, &'static str> {
    first_critical(speed(case.number("wedge_m_s"))?, &longitudinal_part(case)?).or_kind()
}

fn second(case: &Case) -> Result<Degrees, &'static str> {
    second_critical(speed(case.number("wedge_m_s"))?, &shear_part(case)?).or_kind()
}

fn longitudinal(case: &Case) -> Result<Degrees, &'static str> {
    let incident = degrees(case.number("incident_deg"))?;
    refracted_longitudinal(incident, speed(case.number("wedge_m_s"))?, &longitudinal_part(case)?).or_kind()
}

fn shear(case: &Case) -> Result<Degrees, &'static str> {
    let incident = degrees(case.number("incident_deg"))?;
    refracted_shear(incident, speed(case.number("wedge_m_s"))?, &shear_part(case)?).or_kind()
}

fn lowest(case: &Case) -> Result<Degrees, &'static str> {
    let (shear, long) = (speed(case.number("shear_m_s"))?, speed(case.number("long_m_s"))?);
    let part = Material::new(shear, Some(long), None).or_kind()?;
    lowest_shear_alone(speed(case.number("wedge_m_s"))?, &part).or_kind()
}

fn other_part(case: &Case) -> Result<Degrees, &'static str> {
    let (marked_for, used_on) = (speed(case.number("marked_m_s"))?, speed(case.number("part_m_s"))?);
    on_another_material(degrees(case.number("marked_deg"))?, marked_for, used_on).or_kind()
}

/// The wedge's own angle stays while its speed changes: by Snell's law there and back, and as a wedge that warms.
fn wedge_change(case: &Case) -> Result<Degrees, &'static str> {
    let (marked_wedge, wedge) = (speed(case.number("marked_wedge_m_s"))?, speed(case.number("wedge_m_s"))?);
    let (part, marked) = (shear_part(case)?, degrees(case.number("marked_deg"))?);
    let in_wedge = incident(marked, marked_wedge, part.shear()).or_kind()?;
    let there_and_back = refracted_shear(in_wedge, wedge, &part).or_kind();
    let in_one_degree = WedgeTemperature::new(wedge.get() - marked_wedge.get(), 20.0, 21.0).or_kind()?;
    let warmed = in_one_degree.refracted(marked, marked_wedge).or_kind();
    if let (Ok(one), Ok(other)) = (&there_and_back, &warmed) {
        assert!((one.get() - other.get()).abs() < 1e-4, "{one:?} {other:?}");
    } else {
        assert_eq!(there_and_back, warmed);
    }
    warmed
}
