//! One reading: its path, its place, its level.

use super::Undetermined;
use crate::calibration::curve::ReferenceGain;
use crate::calibration::level::{Bound, Level, level};
use crate::calibration::transfer::Transfer;
use crate::evaluate::fusion::View;
use crate::part::Part;
use crate::part::locate::{
    Budget, Contributions, LocateError, Partials, Peaked, Place, Position, SeenTogether, locate,
    with_own_thickness,
};
use crate::part::path::{Axis, Plate};
use crate::part::side::Face;
use crate::planning::geometry_echoes::Seen;
use crate::record::entry::{EnteredHeight, PointPeaked, Travel};
use crate::record::examination::{Facts, Pooled, ProbeState};
use crate::units::decimal::Entered;
use crate::units::{Decibels, Millimetres};

/// A level and what it rests on.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct LevelFound {
    /// The level over the reference.
    pub level: Level,
    /// The reference gain at this path, and how it was come by.
    pub reference: ReferenceGain,
    /// The transfer correction at this path.
    pub transfer: Decibels,
}

/// What one reading says.
#[derive(Clone, Copy)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ReadingFinding<'a> {
    /// The reading.
    pub reading: Pooled<'a>,
    /// Its sound path.
    pub path: Result<Millimetres, Undetermined>,
    /// The reflector's place.
    pub place: Result<Place, Undetermined>,
    /// Its strength.
    pub level: Result<LevelFound, Undetermined>,
    /// The uncertainty budget that holds for it.
    pub budget: Budget,
}

impl ReadingFinding<'_> {
    /// Whether the echo was looked for and not seen above the noise: it lies nowhere.
    #[must_use]
    pub fn unseen(&self) -> bool {
        let below = self.level.is_ok_and(|found| found.level.bound == Bound::AtMost);
        below || self.reading.height() == EnteredHeight::Under
    }

    /// What each input's half width does to a coordinate with these partials.
    #[must_use]
    pub fn contributions(&self, partials: &Partials) -> Contributions {
        let parts = partials.contributions(&self.budget);
        if self.reading.thickness().is_some() { with_own_thickness(parts) } else { parts }
    }

    /// The reading as a view to be [fused](crate::evaluate::fusion::fuse) with others; none without a place.
    #[must_use]
    pub fn view(&self) -> Option<View> {
        let place = self.place.ok()?;
        let corner = self.reading.point() == PointPeaked::Corner;
        Some(View {
            probe: self.reading.probe(),
            y: place.y.get(),
            z: Some(place.z.get()),
            at_face: corner && self.reading.thickness().is_none(),
            of_y: self.contributions(&place.y_partials),
            of_z: self.contributions(&place.z_partials),
            of_radius: if self.reading.point() == PointPeaked::Echo { place.of_radius() } else { [0.0; 2] },
        })
    }

    /// Expanded uncertainty (k = 2) of y and z, mm.
    #[must_use]
    pub fn uncertainty(&self) -> Option<(f32, f32)> {
        self.place.ok().map(|place| (place.u_y(&self.budget), place.u_z(&self.budget)))
    }
}

/// Evaluates one reading.
#[must_use]
pub fn evaluate<'a>(facts: &Facts<'a>, reading: Pooled<'a>) -> ReadingFinding<'a> {
    let Some(state) = facts.probe(reading.probe()) else {
        let void = Undetermined::ProbeVoid;
        let budget = facts.common().budget;
        return ReadingFinding { reading, path: Err(void), place: Err(void), level: Err(void), budget };
    };
    let path = path(state, reading);
    ReadingFinding {
        reading,
        path,
        place: path.and_then(|path| place(facts, state, reading, path)),
        level: path.and_then(|path| strength(facts, state, reading, path)),
        budget: facts.budget(state),
    }
}

/// What is kept of a reading, so that it is evaluated once: what is asked again and again, and no working.
#[derive(Clone, Copy)]
pub(crate) struct Heard {
    /// Its sound path.
    pub path: Option<Millimetres>,
    /// Its level, and the reference gain at its path.
    pub level: Option<(Level, Decibels)>,
    /// The reflector's place.
    pub spot: Option<Spot>,
    /// Whether the echo was looked for and not seen.
    pub unseen: bool,
}

/// A reflector's place by one reading, without its uncertainty.
#[derive(Clone, Copy)]
pub(crate) struct Spot {
    pub x: Millimetres,
    pub z: f32,
    /// Depth before reflections are folded in, mm.
    pub unfolded: f32,
    pub leg: u32,
}

impl Heard {
    pub const NOTHING: Self = Self { path: None, level: None, spot: None, unseen: false };

    pub fn of(finding: &ReadingFinding<'_>) -> Self {
        Self {
            path: finding.path.ok(),
            level: finding.level.ok().map(|found| (found.level, found.reference.gain)),
            spot: finding.place.ok().map(|place| Spot {
                x: place.x,
                z: place.z.get(),
                unfolded: place.unfolded.get(),
                leg: place.leg,
            }),
            unseen: finding.unseen(),
        }
    }

    /// The level in decibels; −∞ of none.
    pub fn db(&self) -> f32 {
        self.level.map_or(f32::NEG_INFINITY, |(level, _)| level.db.get())
    }

    /// Where along the weld it looks: the reflector's own x, or the probe's where there is no place.
    pub fn x(&self, reading: Pooled<'_>) -> Millimetres {
        self.spot.map_or(reading.x(), |spot| spot.x)
    }
}

/// The sound path of a reading.
pub(crate) fn path_of(facts: &Facts<'_>, reading: Pooled<'_>) -> Option<Millimetres> {
    path(facts.probe(reading.probe())?, reading).ok()
}

/// The path as shown, or the time through the probe's time base; in the part, where its velocity is another than the
/// block's.
fn path(state: &ProbeState, reading: Pooled<'_>) -> Result<Millimetres, Undetermined> {
    let shown = match reading.travel() {
        Travel::Path(path) => path.quantity(),
        Travel::Time(time) => {
            let fit = state.timebase().ok_or(Undetermined::NoTimebase)?;
            fit.base().path(time.quantity()).map_err(Undetermined::TimeBase)?
        }
    };
    match state.velocities() {
        Some(velocities) => Ok(velocities.path(shown)?),
        None => Ok(shown),
    }
}

/// What a reading is placed with.
struct Stand<'s> {
    axis: &'s Axis,
    part: Part,
    position: Position,
}

fn stand<'s>(
    facts: &Facts<'_>,
    state: &'s ProbeState,
    reading: Pooled<'_>,
) -> Result<Stand<'s>, Undetermined> {
    let joint = facts.common().joint.as_ref().map(|(_, joint)| joint);
    let curvature = joint.and_then(|joint| joint.spec().curvature);
    let thickness = reading.thickness().or(joint.map(|joint| joint.spec().thickness));
    let part = Part::new(thickness.ok_or(Undetermined::NoJoint)?, curvature).map_err(LocateError::from)?;
    let position =
        Position::new(reading.side(), reading.x(), reading.standoff(), state.index())?.on(reading.face());
    let position = match reading.skew() {
        Some(skew) => position.skewed(skew)?,
        None => position,
    };
    let axis =
        state.axis().ok_or_else(|| state.no_beam().map_or(Undetermined::ProbeVoid, Undetermined::NoBeam))?;
    Ok(Stand { axis, part, position })
}

/// A reading as it is held against the reflectors of the joint.
pub(crate) fn seen(facts: &Facts<'_>, finding: &ReadingFinding<'_>) -> Option<Seen> {
    let state = facts.probe(finding.reading.probe())?;
    let Stand { axis, part, position } = stand(facts, state, finding.reading).ok()?;
    let (path, place) = (finding.path.ok()?, finding.place.ok()?);
    Some(Seen { part, axis: *axis, position, path, place, budget: finding.budget })
}

/// The reflector's place: corners by thickness and path, tips seen together by the fixed probe position, everything
/// else on the axis.
fn place(
    facts: &Facts<'_>,
    state: &ProbeState,
    reading: Pooled<'_>,
    path: Millimetres,
) -> Result<Place, Undetermined> {
    let Stand { axis, part, position } = stand(facts, state, reading)?;
    let peaked = match reading.point() {
        PointPeaked::Corner => Peaked::Corner,
        PointPeaked::UpperTip | PointPeaked::LowerTip if reading.together() > 0 => {
            Peaked::Together(known_distance(facts, state, reading, &position)?)
        }
        _ => Peaked::Axis,
    };
    let found = locate(axis, &part, &position, path, peaked)?;
    if matches!(peaked, Peaked::Corner)
        && let Some(deeper) = behind_step(facts, reading, &found)
        && let Ok(behind) = locate(axis, &Part::Flat(deeper), &position, path, peaked)
        && is_behind_step(facts, &behind).is_some()
    {
        return Ok(behind);
    }
    Ok(found)
}

/// The height of a counterbore's step, when a place lies behind the step.
fn is_behind_step(facts: &Facts<'_>, place: &Place) -> Option<Millimetres> {
    let bore = facts.common().joint.as_ref()?.1.spec().counterbore?;
    (place.y.get().abs() > bore.distance.get()).then_some(bore.height)
}

/// The wall that leg 1 meets a corner of the far face in, where that lies behind a counterbore's step: t + step. The
/// thickness of a joint is that at the weld; one measured for a reading is the wall's there.
fn behind_step(facts: &Facts<'_>, reading: Pooled<'_>, place: &Place) -> Option<Plate> {
    let first = place.leg == 1 && reading.face() == Face::Near && reading.thickness().is_none();
    let step = is_behind_step(facts, place).filter(|_| first)?;
    Plate::new(Millimetres::new(place.z.get() + step.get()).ok()?).ok()
}

/// The place of a tip that was seen together with its corner, if it lies so far across from over it.
pub(super) fn tip_moved(facts: &Facts<'_>, tip: Pooled<'_>, across: f32) -> Option<Place> {
    let state = facts.probe(tip.probe())?;
    let Stand { axis, part, position } = stand(facts, state, tip).ok()?;
    let known = known_distance(facts, state, tip, &position).ok()?.moved(&position, across)?;
    locate(axis, &part, &position, path(state, tip).ok()?, Peaked::Together(known)).ok()
}

/// The corner that a tip was seen together with, at the same probe position: it fixes the tip's surface distance. None without
/// such a corner.
///
/// # Errors
/// [`Undetermined::NotTogether`] when the only corners of that number were read at another position.
pub fn corner_with<'a>(facts: &Facts<'a>, tip: Pooled<'_>) -> Result<Option<Pooled<'a>>, Undetermined> {
    let mut corners = facts.readings_of(tip.indication()).filter(|other| {
        other.point() == PointPeaked::Corner
            && other.together() == tip.together()
            && other.height() != EnteredHeight::Under
            && (other.probe(), other.side(), other.face()) == (tip.probe(), tip.side(), tip.face())
    });
    let joint = facts.common().joint.as_ref().map(|(_, joint)| joint.thickness());
    let stood = |reading: Pooled<'_>| {
        let skew = reading.skew().map_or(0.0, |skew| skew.get());
        (reading.x(), reading.standoff(), skew, reading.thickness().or(joint))
    };
    if let Some(corner) = corners.clone().find(|corner| stood(*corner) == stood(tip)) {
        return Ok(Some(corner));
    }
    match corners.next() {
        Some(corner) => Err(Undetermined::NotTogether { together: tip.together(), corner: corner.number() }),
        None => Ok(None),
    }
}

/// The surface distance of a tip seen together with others: from the corner seen with it at the same probe position, else from the view of the
/// same indication, peaked by itself, that knows y best.
fn known_distance(
    facts: &Facts<'_>,
    state: &ProbeState,
    reading: Pooled<'_>,
    position: &Position,
) -> Result<SeenTogether, Undetermined> {
    if let Some(corner) = corner_with(facts, reading)? {
        let place = place(facts, state, corner, self::path(state, corner)?)?;
        return Ok(SeenTogether::from_corner(position, &place));
    }
    let others = facts.readings_of(reading.indication());
    let mut best: Option<(f32, bool, Place)> = None;
    for other in others.filter(|other| other.together() == 0 && other.sweep().is_none()) {
        let finding = evaluate(facts, other);
        if let (Ok(place), false) = (finding.place, finding.unseen()) {
            let u_y = place.u_y(&finding.budget);
            if best.is_none_or(|(held, ..)| u_y < held) {
                best = Some((u_y, other.probe() == reading.probe(), place));
            }
        }
    }
    let (_, same_probe, place) =
        best.ok_or(Undetermined::NothingTogether { together: reading.together() })?;
    Ok(SeenTogether::from_place(position, &place, same_probe))
}

/// The level over the probe's reference at this path, the transfer correction in it.
fn strength(
    facts: &Facts<'_>,
    state: &ProbeState,
    reading: Pooled<'_>,
    path: Millimetres,
) -> Result<LevelFound, Undetermined> {
    let reference = state.dac().gain_at(path, state.beyond()).map_err(Undetermined::Curve)?;
    let transfer = state.transfer().unwrap_or(&Transfer::NONE).at(path)?;
    let height = reading.height().map(Entered::quantity);
    let level = level(height, reading.gain(), &reference, transfer, &facts.common().screen);
    Ok(LevelFound { level: level.map_err(Undetermined::Level)?, reference, transfer })
}
