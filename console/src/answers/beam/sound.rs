//! The beam in the part's material: wavelength, near field, edges, critical angles.

use core::fmt;

use halfskip::physics::beam::{Edge, EdgeDrop, edges};
use halfskip::physics::material::Material;
use halfskip::physics::probe::{Probe, wavelength};
use halfskip::physics::refraction::{RefractionError, first_critical, second_critical};
use halfskip::record::examination::{Facts, ProbeState};
use halfskip::units::Degrees;
use halfskip::units::decimal::Fixed;

use super::material;
use crate::answers::page::Page;

/// What the material makes of the beam.
pub(super) fn answer(
    facts: &Facts<'_>,
    state: &ProbeState,
    probe: &Probe,
    page: &mut Page<'_>,
) -> fmt::Result {
    let Some(material) = material(facts) else {
        return page.item("wavelength", format_args!("not known: no material is recorded"));
    };
    let (lengths, shear) = (page.lengths, material.shear());
    page.item(
        "wavelength",
        format_args!(
            "{} at {} mm/us",
            lengths.finely(wavelength(shear, probe.frequency()).get()),
            Fixed(shear.get(), 3)
        ),
    )?;
    near_field(probe, material, page)?;
    let axis = state.axis().map_or(probe.refracted(), |axis| axis.angle());
    beam_edges(axis, probe, material, page)?;
    critical(probe, material, page)
}

fn near_field(probe: &Probe, material: &Material, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    match probe.near_field(material.shear()) {
        Ok(Some(left)) => page.item(
            "near field",
            format_args!(
                "left in the part: {} in the plane of incidence, {} across it",
                lengths.of(left.in_plane.get()),
                lengths.of(left.across.get())
            ),
        ),
        Ok(None) => page.item("near field", format_args!("not known: give wedge= and wedge-path=")),
        Err(error) => page.item("near field", format_args!("not known: {error}")),
    }
}

/// The edges for an echo 6 dB below that on the axis.
fn beam_edges(axis: Degrees, probe: &Probe, material: &Material, page: &mut Page<'_>) -> fmt::Result {
    let label = "edges, -6 dB echo";
    let found = match edges(axis, probe, material.shear(), EdgeDrop::PULSE_ECHO_6) {
        Ok(found) => found,
        Err(error) => return page.item(label, format_args!("not known: {error}")),
    };
    match found.in_plane {
        Some(sides) => page.item(
            label,
            format_args!(
                "steep {}, flat {}, axis {}",
                edge(sides.lower),
                edge(sides.upper),
                edge(Edge::At(axis))
            ),
        )?,
        None => page.item(label, format_args!("not known in the plane of incidence: give wedge="))?,
    }
    match found.across {
        Some(across) => {
            page.item("", format_args!("{} deg to either side across it", Fixed(across.get(), 1)))
        }
        None => page.item("", format_args!("none across it: the element is too small")),
    }
}

fn edge(edge: Edge) -> impl fmt::Display {
    fmt::from_fn(move |f| match edge {
        Edge::At(angle) => write!(f, "{} deg", Fixed(angle.get(), 1)),
        Edge::Grazing => f.write_str("along the surface"),
    })
}

fn critical(probe: &Probe, material: &Material, page: &mut Page<'_>) -> fmt::Result {
    let Some(wedge) = probe.wedge() else { return Ok(()) };
    let (first, second) = (first_critical(wedge, material), second_critical(wedge, material));
    match probe.incident(material.shear()) {
        Ok(Some(angle)) => page.item("angle in wedge", format_args!("{} deg", Fixed(angle.get(), 1)))?,
        Ok(None) => {}
        Err(error) => page.item("angle in wedge", format_args!("not known: {error}"))?,
    }
    page.item(
        "critical angles",
        format_args!("first {}, second {}", critical_angle(first), critical_angle(second)),
    )
}

fn critical_angle(angle: Result<Degrees, RefractionError>) -> impl fmt::Display {
    fmt::from_fn(move |f| match angle {
        Ok(angle) => write!(f, "{} deg", Fixed(angle.get(), 1)),
        Err(error) => write!(f, "not known ({error})"),
    })
}
