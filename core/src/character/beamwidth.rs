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

use crate::math;
use crate::physics::beam::{Edge, EdgeDrop, edges};
use crate::physics::probe::{Probe, ProbeSpec};
use crate::physics::refraction::incident;
use crate::record::examination::{Facts, ProbeState};
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
    Some(of_either(slow?, fast?))
}

/// The travel of a wedge that lies between two: each with its travel, and whether both edges exist.
fn of_either(slow: (f32, bool), fast: (f32, bool)) -> BeamTravel {
    let most = (slow.1 && fast.1).then(|| math::larger(slow.0, fast.0));
    BeamTravel { least: math::smaller(slow.0, fast.0), most, wedge_assumed: true }
}

/// From here up the tangent of an edge says no more than 'far'.
const FAR: Degrees = Degrees::constant(88.0);

/// The upper edge as far as its tangent tells, and whether that is the edge itself.
fn as_far_as_it_tells(upper: Edge) -> (Degrees, bool) {
    match upper {
        Edge::At(upper) if upper < FAR => (upper, true),
        _ => (FAR, false),
    }
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
    let (upper, whole) = as_far_as_it_tells(sides.upper);
    // w² = (D (tan b₂ − tan b₁))² + (A / (2 cos i))²
    let spread = depth * (math::tan(upper.get()) - math::tan(lower.get()));
    Some((math::sqrt(spread * spread + footprint * footprint)?, whole))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_upper_edge_tells_up_to_88_degrees() {
        let at = |angle: f32| Edge::At(Degrees::new(angle).unwrap());
        assert_eq!(as_far_as_it_tells(at(87.5)), (Degrees::constant(87.5), true));
        for past in [at(88.0), at(89.0), Edge::Grazing] {
            assert_eq!(as_far_as_it_tells(past), (FAR, false));
        }
    }

    #[test]
    fn a_travel_has_a_most_only_where_either_wedge_gives_one() {
        let told = |slow, fast| {
            let BeamTravel { least, most, .. } = of_either((9.0, slow), (8.0, fast));
            (least, most)
        };
        assert_eq!(told(true, true), (8.0, Some(9.0)));
        assert_eq!([told(true, false), told(false, true), told(false, false)], [(8.0, None); 3]);
    }
}
