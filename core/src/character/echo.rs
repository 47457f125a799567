//! The echoes of an indication: one for each peak that was recorded or that a moving probe drew, and where each lies.

use heapless::Vec;

use super::beamwidth::{BeamTravel, beam_travel, wavelength};
use super::run::{Member, Members};
use super::sample::{Sample, sample};
use super::series::{Profile, profile};
use super::site::{Site, site};
use super::walk::{Walk, walk};
use crate::calibration::level::{Bound, Level};
use crate::evaluate::Indication;
use crate::math;
use crate::part::joint::Curvature;
use crate::part::locate::EXPANDED;
use crate::part::side::{Face, Side};
use crate::record::entry::{PointPeaked, Sweep};
use crate::record::examination::{Facts, Pooled, ProbeState};

/// Echoes of one indication that are weighed together.
pub(super) const ECHOES: usize = 32;
/// How far under the strongest of its run an echo may lie and still be looked at, dB. Common practice, no source.
const LOOKED_AT: f32 = 26.0;
/// An echo that was followed over less than this share of the beam's travel is a fragment. Common practice, no source.
const FRAGMENT: f32 = 0.3;
/// How far under its peak a step still tells of the walk: farther off the axis the path says more of the element than of
/// the reflector. Common practice, no source.
const WALKS: f32 = 10.0;

/// A number that may not be told, in four bytes: many of them lie on the stack of a device.
#[derive(Clone, Copy)]
pub(super) struct Told(f32);

impl Told {
    pub fn get(self) -> Option<f32> {
        (!self.0.is_nan()).then_some(self.0)
    }
}

impl From<Option<f32>> for Told {
    fn from(number: Option<f32>) -> Self {
        Self(number.unwrap_or(f32::NAN))
    }
}

/// How far the probe moves over a point, see [`BeamTravel`].
#[derive(Clone, Copy)]
pub(super) struct Passed {
    pub least: f32,
    most: Told,
}

impl Passed {
    pub fn most(self) -> Option<f32> {
        self.most.get()
    }
}

impl From<BeamTravel> for Passed {
    fn from(BeamTravel { least, most, .. }: BeamTravel) -> Self {
        Self { least, most: most.into() }
    }
}

/// Where across the weld an echo at or past a face lies.
#[derive(Clone, Copy)]
pub(super) struct AtFace {
    pub y: f32,
    /// Variance of the readings' own errors, mm².
    pub own: f32,
    /// What the thickness' half width does to y, side A counted positive, mm.
    pub of_thickness: f32,
}

/// What is kept of the profile of an echo's series.
#[derive(Clone, Copy)]
pub(super) struct Look {
    /// Travel between the 6 dB points, mm; at least that where it is open.
    pub width: f32,
    pub open: bool,
    /// Peaks of 6 dB and more.
    pub high_peaks: u16,
    /// The deepest valley between two peaks, dB.
    pub deepest: f32,
    /// Rates of rise and fall, dB/mm.
    pub rise: Told,
    pub fall: Told,
    /// Path travelled per probe travel.
    pub slope: Told,
}

impl Look {
    fn of(profile: &Profile) -> Self {
        let Profile { width_6, high_peaks, deepest, rise, fall, .. } = *profile;
        Self {
            width: width_6.get(),
            open: width_6.open(),
            high_peaks: u16::try_from(high_peaks).unwrap_or(u16::MAX),
            deepest,
            rise: rise.into(),
            fall: fall.into(),
            slope: None.into(),
        }
    }
}

/// One echo.
#[derive(Clone, Copy)]
pub(super) struct Echo<'a> {
    /// Its strongest reading.
    pub reading: Pooled<'a>,
    /// Its sound path, mm.
    pub path: f32,
    /// The beam's axis, deg.
    pub angle: f32,
    /// The leg that the strongest reading lies in.
    pub leg: u32,
    /// The movement it was seen in; none of a reading peaked by hand.
    pub sweep: Option<Sweep>,
    /// dB, comparable among the echoes of one probe.
    pub strength: f32,
    /// Over the reference, where that is recorded.
    pub level: Option<Level>,
    /// Across the weld, mm, and its expanded uncertainty.
    pub y: f32,
    pub u_y: f32,
    /// Unfolded depth, mm, and its expanded uncertainty.
    pub depth: f32,
    pub u_depth: f32,
    /// Its strongest step is the first or last of the series: the true peak lies elsewhere, off the beam's axis here.
    pub cut: bool,
    /// Whether the walk gave the depth, not the axis.
    pub walked: bool,
    pub site: Site,
    /// The place inside that it shares with others.
    pub group: Option<u8>,
    /// Across the weld, mm, if it lies at a face: from thickness and path, the angle being in neither.
    pub at_face: Option<AtFace>,
    /// How far its level may lie under that of the true peak, between two steps of its series, dB.
    pub missed: f32,
    /// The look of its series.
    pub look: Option<Look>,
    /// How far the probe would move over a point.
    pub beam: Option<Passed>,
}

impl Echo<'_> {
    pub fn probe(&self) -> u8 {
        self.reading.probe()
    }

    pub fn side(&self) -> Side {
        self.reading.side()
    }

    pub fn scanned(&self) -> Face {
        self.reading.face()
    }

    /// Whether both were seen by one probe from one side of one face.
    pub fn same_stand(&self, other: &Self) -> bool {
        (self.probe(), self.side(), self.scanned()) == (other.probe(), other.side(), other.scanned())
    }

    /// The level, where it is the level itself or at least that.
    pub fn seen_level(&self) -> Option<f32> {
        self.level.filter(|level| level.bound != Bound::AtMost).map(|level| level.db.get())
    }

    /// The level of a peak, not of the flank of one.
    pub fn peak_level(&self) -> Option<Level> {
        self.level.filter(|_| !self.cut)
    }
}

/// The thickness that holds for a reading.
pub(super) fn thickness(facts: &Facts<'_>, reading: Pooled<'_>) -> Option<f32> {
    facts.thickness_of(reading).map(|thickness| thickness.get())
}

/// Whether plane geometry holds.
pub(super) fn flat(facts: &Facts<'_>) -> bool {
    let joint = facts.common().joint.as_ref();
    !joint.is_some_and(|(_, joint)| matches!(joint.spec().curvature, Some(Curvature::AroundPipe { .. })))
}

/// The echo of one reading, placed by the axis or by what was peaked.
#[inline(never)]
fn of_sample<'a>(facts: &Facts<'a>, seen: Sample<'a>) -> Option<Echo<'a>> {
    let reading = seen.finding.reading;
    let state = facts.probe(reading.probe())?;
    let (place, path) = (seen.finding.place.ok()?, seen.finding.path.ok()?);
    let budget = &seen.finding.budget;
    let mut of_depth = place.z_partials;
    of_depth.thickness = 0.0;
    let mut echo = Echo {
        reading,
        path: path.get(),
        angle: state.axis()?.angle().get(),
        leg: place.leg,
        sweep: reading.sweep(),
        strength: seen.strength,
        level: seen.level(),
        y: place.y.get(),
        u_y: place.u_y(budget),
        depth: place.unfolded.get(),
        u_depth: budget.expanded(&of_depth),
        cut: false,
        walked: false,
        site: Site::Unclear,
        group: None,
        at_face: None,
        missed: 0.0,
        look: None,
        beam: None,
    };
    if matches!(reading.point(), PointPeaked::UpperTip | PointPeaked::LowerTip) {
        // A tip seen together with its corner does not lie on the axis: its depth is that of the place found.
        let t = thickness(facts, reading)?;
        let legs = place.leg as f32;
        let z = if echo.scanned() == Face::Near { place.z.get() } else { t - place.z.get() };
        echo.depth = if place.leg % 2 == 1 { (legs - 1.0) * t + z } else { legs * t - z };
    }
    echo.site = site(facts, &echo);
    echo.at_face = at_face(facts, &echo, core::iter::once((reading, path.get())));
    Some(echo)
}

/// y of an echo at or past a face, the mean over its samples: y = g (−p + e + √(s² − (n t)²) cos s_k).
///
/// The readings' own errors count as no less than those of a mean of four: readings of one series share some of theirs.
fn at_face<'a>(
    facts: &Facts<'a>,
    echo: &Echo<'a>,
    paths: impl Iterator<Item = (Pooled<'a>, f32)>,
) -> Option<AtFace> {
    let (_, n) = echo.site.at_or_past()?;
    let state = facts.probe(echo.probe())?;
    let (index, budget) = (state.index().get(), facts.budget(state));
    let face = n as f32 * thickness(facts, echo.reading)?;
    let (mut count, mut mean, mut distance_of_mean, mut path_of_mean) = (0.0f32, 0.0f32, 0.0f32, 0.0f32);
    for (reading, path) in paths {
        let Some(distance) = math::sqrt((path - face) * (path + face)) else { continue };
        let turned = reading.skew().map_or(1.0, |skew| math::sin_cos(skew.get()).1);
        count += 1.0;
        mean += (index - reading.standoff().get() + distance * turned - mean) / count;
        distance_of_mean += (distance - distance_of_mean) / count;
        path_of_mean += (path - path_of_mean) / count;
    }
    if distance_of_mean <= 0.0 {
        return None;
    }
    // ∂y/∂s = s / distance, ∂y/∂t = −n² t / distance
    let of_path = path_of_mean / distance_of_mean * budget.path.get();
    let standoff = budget.standoff.get();
    let own = (of_path * of_path + standoff * standoff) / 3.0;
    Some(AtFace {
        y: echo.side().sign() * mean,
        own: own / math::smaller(count, 4.0),
        of_thickness: n as f32 * face / distance_of_mean * budget.thickness.get(),
    })
}

/// Adds the echoes that were peaked by hand; the strongest are kept when there are too many.
pub(super) fn peaked<'a>(indication: Indication<'a>, found: &mut Vec<Echo<'a>, ECHOES>) {
    let facts = indication.facts();
    for reading in indication.readings() {
        if reading.sweep().is_some() && reading.point() == PointPeaked::Echo {
            continue;
        }
        let Some(seen) = sample(facts, reading).filter(|seen| seen.bound != Bound::AtMost) else { continue };
        if let Some(echo) = of_sample(facts, seen) {
            keep(found, echo);
        }
    }
}

/// Adds the echoes of one run.
pub(super) fn add_run<'a, const N: usize>(
    facts: &Facts<'a>,
    members: &Members<'a, N>,
    found: &mut Vec<Echo<'a>, ECHOES>,
) {
    let (Some(state), Some(strongest)) = (facts.probe(members.run().probe), members.strongest()) else {
        return;
    };
    for track in members.held_tracks() {
        let Some(echo) = of_track(facts, state, members, track) else { continue };
        let steps = members.track(track).count();
        if counts(echo.strength, strongest, steps, members.readings) {
            keep(found, echo);
        }
    }
}

/// Whether an echo is looked at beside the strongest; one or two steps of a fine series are none of their own.
fn counts(strength: f32, strongest: f32, steps: usize, readings: u32) -> bool {
    strength >= strongest - LOOKED_AT && (steps >= 3 || readings < 12)
}

/// Whether the beam looks square across the weld.
fn square(reading: Pooled<'_>) -> bool {
    reading.skew().is_none_or(|skew| skew.get() == 0.0)
}

#[inline(never)]
fn of_track<'a, const N: usize>(
    facts: &Facts<'a>,
    state: &ProbeState,
    members: &Members<'a, N>,
    track: u8,
) -> Option<Echo<'a>> {
    let shape = profile(members.track(track).map(Member::step))?;
    let peak = members.track(track).find(|member| member.at == shape.at && member.strength == shape.peak)?;
    let mut echo = Echo { look: Some(Look::of(&shape)), ..of_sample(facts, sample(facts, peak.reading)?)? };
    let ends = (members.track(track).next(), members.track(track).last());
    let at_end = |end: Option<Member<'a>>| end.is_some_and(|end| end.at == shape.at);
    echo.cut = at_end(ends.0) || at_end(ends.1);
    // Where along a flat top the axis points at the reflector is not told: a quarter of the 3 dB width either way, which
    // moves the path by that times sin a and the depth by cos a of it.
    if let Some(axis) = state.axis().filter(|_| echo.sweep == Some(Sweep::Across)) {
        let flat = 0.25 * shape.width_3.get() * axis.sin() * axis.cos();
        echo.u_depth = math::sqrt(echo.u_depth * echo.u_depth + flat * flat)?;
    }
    if echo.sweep == Some(Sweep::Across) && flat(facts) && square(echo.reading) {
        let index = state.index().get();
        let near = members.track(track).filter(|member| member.strength >= shape.peak - WALKS);
        let paces = near.map(|member| member.pace(index));
        let budget = facts.budget(state);
        let walked = wavelength(facts, state).and_then(|length| walk(paces, echo.side(), length, &budget));
        if let Some(look) = &mut echo.look {
            look.slope = walked.map(|walked| walked.slope).into();
        }
        if let Some(walked) = walked {
            place_by_walk(&mut echo, &walked, budget.index.get());
        }
    }
    echo.beam = beam_travel(facts, state, echo.depth).map(Passed::from);
    if let (Some(beam), Some(step), Some(Sweep::Across)) = (echo.beam, members.step(), echo.sweep) {
        echo.missed = missed(step, beam.least);
    }
    let extent = ends.0.zip(ends.1).map_or(0.0, |(first, last)| last.at - first.at);
    echo.cut |= echo.beam.is_some_and(|beam| fragment(extent, beam.least));
    echo.site = site(facts, &echo);
    let top = members.track(track).filter(|member| member.strength >= shape.peak - 6.0);
    echo.at_face = at_face(facts, &echo, top.map(|member| (member.reading, member.path)));
    Some(echo)
}

/// Places an echo by its walk where that knows better than the axis: its depth, and with it its y, which the index point's
/// half width moves too.
fn place_by_walk(echo: &mut Echo<'_>, walked: &Walk, index: f32) {
    if walked.u_depth < echo.u_depth {
        (echo.depth, echo.u_depth, echo.walked) = (walked.depth, walked.u_depth, true);
        let of_index = EXPANDED * index;
        let u_y = math::sqrt(walked.u_y * walked.u_y + of_index * of_index).unwrap_or(f32::INFINITY);
        if u_y < echo.u_y {
            (echo.y, echo.u_y) = (walked.y, u_y);
        }
    }
}

/// Half a step off the peak of a beam whose level falls by 6 dB in half its width w: 6 dB (step / w)².
fn missed(step: f32, width: f32) -> f32 {
    let part = step / width;
    6.0 * part * part
}

/// What comes and goes within a fraction of the beam is the flank of another echo, not the peak of one.
fn fragment(extent: f32, width: f32) -> bool {
    extent < FRAGMENT * width
}

fn keep<'a>(found: &mut Vec<Echo<'a>, ECHOES>, echo: Echo<'a>) {
    let Err(echo) = found.push(echo) else { return };
    let weakest = math::smallest_by(found.iter_mut(), |held| held.strength);
    if let Some(weakest) = weakest.filter(|weakest| weakest.strength < echo.strength) {
        *weakest = echo;
    }
}

#[cfg(test)]
mod tests;
