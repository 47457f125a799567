//! `beam NAME`: what is known of a probe and of its beam in the part, with the verdicts of its calibration.

mod calibration;
mod sound;

use core::fmt;

use halfskip::part::Part;
use halfskip::physics::probe::{Element, Probe};
use halfskip::record::examination::{Facts, ProbeState};
use halfskip::units::decimal::{Fixed, fixed};

use crate::answers::page::{Lengths, Page};

/// Answers `beam NAME`.
#[inline(never)]
pub(super) fn answer(facts: &Facts<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let state = facts.probes().iter().find(|state| *state.name() == *name);
    let Some((state, probe)) = state.and_then(|state| Some((state, state.probe()?))) else {
        return page.heading(format_args!("no probe {name} is in force"));
    };
    let size = size(page.lengths, probe.element());
    page.heading(format_args!("Probe {name}: {} MHz, element {size}", fixed(probe.frequency().get())))?;
    if let Some(front) = probe.front() {
        let lengths = page.lengths;
        page.item("front", format_args!("{} from index point to nose", lengths.typed(front.get())))?;
    }
    calibration::angle(facts, state, probe, page)?;
    calibration::timebase(facts, state, page)?;
    skips(facts, state, page)?;
    sound::answer(facts, state, probe, page)?;
    calibration::sensitivity(facts, state, page)
}

/// The element's dimensions.
fn size(lengths: Lengths, element: Element) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        let lengths = lengths;
        match element {
            Element::Round { diameter } => write!(f, "{} round", lengths.typed(diameter.get())),
            Element::Rectangular { in_plane, across } => write!(
                f,
                "{} in the plane of incidence, {} across it",
                lengths.typed(in_plane.get()),
                lengths.typed(across.get())
            ),
        }
    })
}

/// Half skip and leg, full skip and V path twice that.
fn skips(facts: &Facts<'_>, state: &ProbeState, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    let (Some((_, joint)), Some(axis)) = (facts.common().joint.as_ref(), state.axis()) else {
        return page.item("skips", format_args!("not known: no joint is recorded"));
    };
    let Some(part) = Part::of(joint) else { return Ok(()) };
    let (legs, angle) = (part.legs(axis), Fixed(axis.angle().get(), 1));
    let wall = lengths.typed(part.thickness());
    match part {
        Part::Flat(_) => page.item("thickness", format_args!("{wall}, at {angle} deg:"))?,
        Part::Around(pipe) => {
            let radius = lengths.typed(pipe.scanned_radius());
            page.item(
                "wall",
                format_args!("{wall}, scanned face of radius {radius}, around it at {angle} deg:"),
            )?;
            if let Some(largest) = pipe.largest_angle() {
                let met =
                    if legs.misses_bore() { "this beam MISSES the bore, met" } else { "the bore is met" };
                page.item("", format_args!("{met} below {} deg", Fixed(largest.get(), 1)))?;
            }
        }
    }
    let (half, leg) = (legs.half_skip(), legs.length());
    page.item("half, full skip", format_args!("{}, {}", lengths.of(half), lengths.of(2.0 * half)))?;
    page.item("leg, V path", format_args!("{}, {}", lengths.of(leg), lengths.of(2.0 * leg)))
}

/// A figure and what the tolerance says of it.
fn judged(within: bool) -> &'static str {
    if within { "within" } else { "OUT OF TOLERANCE, more than" }
}

/// The shear velocity of the material in force, for figures that need it.
fn material<'a>(facts: &Facts<'a>) -> Option<&'a halfskip::physics::material::Material> {
    facts.common().material.as_ref().map(|(_, material)| material)
}

/// The probe's marked angle, and that of its warm or cold wedge.
fn marked(probe: &Probe) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        write!(f, "{} deg", fixed(probe.nominal().get()))?;
        if probe.refracted() == probe.nominal() {
            return Ok(());
        }
        write!(f, ", {} deg at the wedge's temperature", Fixed(probe.refracted().get(), 1))
    })
}
