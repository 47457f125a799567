//! How far a probe moves across a point before the point leaves its beam: what a plateau is held against.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | D | unfolded depth of the point | mm |
//! | b₁, b₂ | refracted edges of the beam, pulse-echo drop of 6 dB | deg |
//! | A, i | element in the plane of incidence, angle in the wedge | mm, deg |
//! | w | probe travel between the 6 dB points | mm |
//!
//! w² = (D (tan b₂ − tan b₁))² + (A / (2 cos i))²
//!
//! The first term is the far field, \[R4\]; the second is half the element's footprint, the width close to the probe
//! where the beam has not begun to spread. The two put together so: common practice, no source \[R7\].

use crate::beam::{Edge, EdgeDrop, edges};
use crate::examination::{Facts, ProbeState};
use crate::math;
use crate::probe::{Probe, ProbeSpec};
use crate::refraction::incident;
use crate::units::{Degrees, MillimetresPerMicrosecond};

/// Wedge speeds between which a wedge of unknown speed is taken to lie, mm/us: from slow to fast plastics. Common
/// practice, no source \[R7\].
const WEDGES: [f32; 2] = [2.3, 2.8];

/// The travel between the 6 dB points of a point reflector, from the least to the most it can be.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct BeamTravel {
    /// The least, mm.
    pub least: f32,
    /// The most, mm; none where the beam reaches along the surface before it falls by 6 dB.
    pub most: Option<f32>,
    /// The wedge's speed is not known and was taken to lie within 2.3 to 2.8 mm/us.
    pub wedge_assumed: bool,
}

/// The shear velocity of the part: of the material, else of the probe's time base.
pub(super) fn shear(facts: &Facts<'_>, state: &ProbeState) -> Option<MillimetresPerMicrosecond> {
    let of_material = facts.common().material.as_ref().map(|(_, material)| material.shear());
    of_material.or_else(|| state.timebase().map(|fit| fit.base().velocity))
}

/// The wavelength in the part, mm.
pub(super) fn wavelength(facts: &Facts<'_>, state: &ProbeState) -> Option<f32> {
    Some(shear(facts, state)?.get() / state.probe()?.frequency().get())
}

/// The travel of a probe over a point at an unfolded depth; none where velocity or beam are not known.
pub(super) fn beam_travel(facts: &Facts<'_>, state: &ProbeState, depth: f32) -> Option<BeamTravel> {
    let (shear, probe, axis) = (shear(facts, state)?, state.probe()?, state.axis()?.angle());
    if let Some(wedge) = probe.wedge() {
        let width = of_wedge(probe, axis, shear, wedge, depth)?;
        return Some(BeamTravel { least: width.0, most: width.1.then_some(width.0), wedge_assumed: false });
    }
    let [slow, fast] = WEDGES.map(|speed| {
        let wedge = MillimetresPerMicrosecond::new(speed).ok()?;
        let probe = Probe::new(ProbeSpec { wedge: Some(wedge), ..*probe.spec() }).ok()?;
        of_wedge(&probe, axis, shear, wedge, depth)
    });
    let (slow, fast) = (slow?, fast?);
    let most = (slow.1 && fast.1).then(|| math::larger(slow.0, fast.0));
    Some(BeamTravel { least: math::smaller(slow.0, fast.0), most, wedge_assumed: true })
}

/// The travel, and whether both edges exist.
fn of_wedge(
    probe: &Probe,
    axis: Degrees,
    shear: MillimetresPerMicrosecond,
    wedge: MillimetresPerMicrosecond,
    depth: f32,
) -> Option<(f32, bool)> {
    let sides = edges(axis, probe, shear, EdgeDrop::PULSE_ECHO_6).ok()?.in_plane?;
    let lower = sides.lower.angle()?;
    let footprint =
        probe.element().in_plane().get() / (2.0 * math::sin_cos(incident(axis, wedge, shear).ok()?.get()).1);
    let (upper, whole) = match sides.upper {
        Edge::At(upper) if upper.get() < 88.0 => (upper, true),
        // Past this the tangent says no more than 'far'.
        _ => (const { Degrees::constant(88.0) }, false),
    };
    // w² = (D (tan b₂ − tan b₁))² + (A / (2 cos i))²
    let spread = depth * (math::tan(upper.get()) - math::tan(lower.get()));
    Some((math::sqrt(spread * spread + footprint * footprint)?, whole))
}
