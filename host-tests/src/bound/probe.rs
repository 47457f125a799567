//! `probe.toml`: the modules probe and beam.

use halfskip::physics::beam::{Direction, EdgeDrop, spread};
use halfskip::physics::probe::{Element, Probe, ProbeSpec, near_field_round_short, wavelength};
use halfskip::units::{Degrees, Megahertz, Millimetres, MillimetresPerMicrosecond};

use super::{Asked, OrKind, alternative, degrees, from, mm, number, speed};
use crate::vectors::{Answer, Case};

const INCH: f64 = 25.4;

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "wavelength_mm" => wave(case).map(|length| number(length.get())),
        "near_field_short_mm" => near_field(case),
        "near_field_short_in" => near_field(case).map(|length| length / INCH),
        "near_field_in_other_material_mm" => in_other_material(case),
        "near_field_left_short_mm" => left(case),
        "spread_sine" => half_angle(case).map(|angle| number(angle.get()).to_radians().sin()),
        "spread_half_angle_deg" => half_angle(case).map(|angle| number(angle.get())),
        "spread_full_angle_deg" => half_angle(case).map(|angle| 2.0 * number(angle.get())),
        "spread_constant_round" => drop(case).map(|drop| number(drop.round())),
        "spread_constant_rectangle" => drop(case).map(|drop| number(drop.rectangular())),
        "spread_constant_round_null" => {
            assert_eq!(case.word("element"), Some("round"));
            Ok(number(EdgeDrop::FIRST_NULL.round()))
        }
        _ => return None,
    }))
}

fn frequency(megahertz: f64) -> Result<Megahertz, &'static str> {
    Megahertz::new(megahertz as f32).or_kind()
}

/// The speed in m/s, or in inches a microsecond where the source works in inches.
fn part_speed(case: &Case) -> Result<MillimetresPerMicrosecond, &'static str> {
    match case.find("speed_in_us") {
        Some(inches) => MillimetresPerMicrosecond::new((inches * INCH) as f32).or_kind(),
        None => speed(case.number("speed_m_s")),
    }
}

fn element(case: &Case) -> Result<Millimetres, &'static str> {
    match case.find("element_in") {
        Some(inches) => alternative(inches),
        None => mm(case.number("element_mm")),
    }
}

fn wave(case: &Case) -> Result<Millimetres, &'static str> {
    Ok(wavelength(part_speed(case)?, frequency(case.number("frequency_mhz"))?))
}

fn near_field(case: &Case) -> Asked {
    Ok(number(near_field_round_short(element(case)?, wave(case)?).or_kind()?.get()))
}

fn half_angle(case: &Case) -> Result<Degrees, &'static str> {
    spread(case.number("k") as f32, wave(case)?, element(case)?).ok_or("no-beam")
}

/// The element that has the first near field at 5 MHz, in the other material.
fn in_other_material(case: &Case) -> Asked {
    let five = frequency(5.0)?;
    let in_first = wavelength(speed(case.number("speed_m_s"))?, five);
    let in_other = wavelength(speed(case.number("other_speed_m_s"))?, five);
    let diameter = mm((case.number("near_field_mm") * 4.0 * number(in_first.get())).sqrt())?;
    Ok(number(near_field_round_short(diameter, in_other).or_kind()?.get()))
}

fn left(case: &Case) -> Asked {
    let probe = Probe::new(ProbeSpec {
        angle: degrees(case.number("refracted_deg"))?,
        frequency: frequency(case.number("frequency_mhz"))?,
        element: Element::Round { diameter: element(case)? },
        front: None,
        wedge: Some(speed(case.number("wedge_m_s"))?),
        wedge_path: Some(mm(case.number("wedge_path_mm"))?),
        temperature: None,
    });
    let left = probe.or_kind()?.near_field(speed(case.number("part_m_s"))?).or_kind()?;
    Ok(number(left.ok_or("not known")?.in_plane.get()))
}

fn drop(case: &Case) -> Result<EdgeDrop, &'static str> {
    let (below, direction) = match case.find("drop_echo_db") {
        Some(below) => (below, Direction::PulseEcho),
        None => (case.number("drop_one_way_db"), Direction::OneWay),
    };
    EdgeDrop::find(below as f32, direction).ok_or("no such drop")
}
