//! Refraction, wavelength, near field and spread.

use halfskip::physics::beam::{Edge, EdgeDrop, edges, spread};
use halfskip::physics::material::Material;
use halfskip::physics::probe::{
    Element, Probe, ProbeSpec, near_field_round, near_field_round_short, wavelength,
};
use halfskip::physics::refraction::{incident, refracted_shear, second_critical};
use halfskip::units::{Degrees, Megahertz};

use super::{Worst, degrees, mm, speed};
use crate::reference::Table;

/// How far apart the sines of two angles are: near grazing a sine hardly moves while the angle runs away.
fn sine_error(got: Degrees, expected: f64) -> f64 {
    (f64::from(got.get()).to_radians().sin() - expected.to_radians().sin()).abs()
}

fn megahertz(value: f32) -> Megahertz {
    Megahertz::new(value).unwrap()
}

pub(super) fn refraction(worst: &mut Worst) {
    for row in Table::read("snell").rows() {
        let (first, second) = (speed(row.input("first_mm_per_us")), speed(row.input("second_mm_per_us")));
        let angle = degrees(row.input("incident_deg"));
        let part = Material::new(second, None, None).unwrap();
        let refracted = refracted_shear(angle, first, &part).unwrap();
        worst.note("refraction refracted angle", sine_error(refracted, row.get("refracted_deg")), row);
        // The same law the other way round: the angle that the wedge must give.
        let wedge_angle = incident(angle, second, first).unwrap();
        worst.note("refraction::incident", sine_error(wedge_angle, row.get("refracted_deg")), row);
        if row.text("critical_deg").is_empty() {
            assert!(second_critical(first, &part).is_err());
        } else {
            let critical = second_critical(first, &part).unwrap();
            worst.note("refraction critical angle", sine_error(critical, row.get("critical_deg")), row);
        }
    }
}

pub(super) fn beam(worst: &mut Worst) {
    for row in Table::read("beam").rows() {
        let (speed, diameter) = (speed(row.input("speed_mm_per_us")), mm(row.input("element_mm")));
        let wave = wavelength(speed, megahertz(row.input("frequency_mhz")));
        worst.note("probe::wavelength", row.error("wavelength_mm", wave.get(), "wavelength_mm"), row);
        let long = near_field_round(diameter, wave).unwrap().get();
        worst.note("probe::near_field_round", row.error("near_field_mm", long, "near_field_term"), row);
        let short = near_field_round_short(diameter, wave).unwrap().get();
        let error = row.error("near_field_term", short, "near_field_term");
        worst.note("probe::near_field_round_short", error, row);
        let half_angle = spread(row.input("k"), wave, diameter).unwrap();
        worst.note("beam::spread", sine_error(half_angle, row.get("spread_deg")), row);
    }
    for row in Table::read("near_field_left").rows() {
        let probe = Probe::new(ProbeSpec {
            angle: degrees(row.input("refracted_deg")),
            frequency: megahertz(row.input("frequency_mhz")),
            element: Element::Round { diameter: mm(row.input("element_mm")) },
            front: None,
            wedge: Some(speed(row.input("wedge_mm_per_us"))),
            wedge_path: Some(mm(row.input("wedge_path_mm"))),
            temperature: None,
        });
        let left = probe.unwrap().near_field(speed(row.input("part_mm_per_us"))).unwrap().unwrap();
        let error = row.error("in_plane_mm", left.in_plane.get(), "in_plane_term");
        worst.note("probe near field left, in plane", error, row);
        let error = row.error("across_mm", left.across.get(), "across_term");
        worst.note("probe near field left, across", error, row);
    }
}

pub(super) fn beam_edges(worst: &mut Worst) {
    for row in Table::read("beam_edges").rows() {
        let axis = degrees(row.input("axis_deg"));
        let probe = Probe::new(ProbeSpec {
            angle: axis,
            frequency: megahertz(row.input("frequency_mhz")),
            element: Element::Round { diameter: mm(row.input("element_mm")) },
            front: None,
            wedge: Some(speed(row.input("wedge_mm_per_us"))),
            wedge_path: None,
            temperature: None,
        });
        let part = speed(row.input("part_mm_per_us"));
        let found = edges(axis, &probe.unwrap(), part, EdgeDrop::PULSE_ECHO_6).unwrap().in_plane.unwrap();
        for (edge, column) in [(found.lower, "lower_deg"), (found.upper, "upper_deg")] {
            let Edge::At(angle) = edge else { panic!("{row:?}: {edge:?}") };
            worst.note("beam::edges in the plane", sine_error(angle, row.get(column)), row);
        }
    }
}
