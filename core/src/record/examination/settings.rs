//! What is in force for the whole examination, folded entry by entry.

mod beam;
mod clear;
mod history;

use heapless::{Vec, VecView};

pub use history::{CheckLimits, Day, Event, EventKind};
use history::{DAYS, EVENTS};

use super::linearity::{linearity_of, paired};
use super::{ProbeState, Refusal};
use crate::acceptance::technique::Technique;
use crate::calibration::curve::DacPoint;
use crate::calibration::level::Screen;
use crate::calibration::velocities::PartVelocity;
use crate::part::joint::Joint;
use crate::part::locate::Budget;
use crate::physics::material::Material;
use crate::record::entry::{Entry, LengthUnit, Name, ScreenEntry, ToleranceEntry};
use crate::units::decimal::Entered;
use crate::units::error::RangeError;
use crate::units::limits;
use crate::units::{Degrees, Millimetres, ScreenPercent};

/// Failed linearity checks that are remembered.
const FAILED: usize = 8;

/// What is in force apart from the probes.
#[derive(Clone)]
#[non_exhaustive]
pub struct Common {
    /// Default unit of bare lengths.
    pub units: LengthUnit,
    /// The part's material.
    pub material: Option<(u32, Material)>,
    /// The part's velocity by the material, and whether it is that of a table.
    pub part_velocity: Option<PartVelocity>,
    /// The joint.
    pub joint: Option<(u32, Joint)>,
    /// The screen.
    pub screen: Screen,
    /// The uncertainty budget.
    pub budget: Budget,
    /// Half width of the velocity, mm/us, until a velocity makes it relative.
    pub velocity: f32,
    /// How large a reflector may be where its views are too few to tell; 0 for a point. The default, 1 mm, is ours.
    pub reflector: Millimetres,
    /// How far a flaw that was seen from one side may lean. The default, 10 degrees, is ours.
    pub lean: Degrees,
    /// Limits of in-service checks.
    pub check_limits: CheckLimits,
    /// Checks and measured calibrations, in order. Of those of one probe that follow each other on one day and say the
    /// same, all good, the first and the last are held: those between decide nothing.
    pub history: Vec<Event, EVENTS>,
    /// The days on which facts were recorded, in order.
    pub days: Vec<Day, DAYS>,
    /// There were more events or days than can be held, so that it is not known which readings they speak for.
    pub history_lost: bool,
    /// Linearity checks out of their window.
    pub failed_linearity: Vec<u32, FAILED>,
    /// What an accept asks for: that of the sheet, or the built-in minimum.
    pub technique: Technique,
}

impl Common {
    /// Whether an in-service check is recorded.
    #[must_use]
    pub fn is_checked(&self) -> bool {
        self.history.iter().any(|event| event.kind == EventKind::Check)
    }

    const fn new() -> Self {
        Self {
            units: LengthUnit::Mm,
            material: None,
            part_velocity: None,
            joint: None,
            screen: Screen::DEFAULT,
            budget: Budget::DEFAULT,
            velocity: 0.0,
            reflector: const { Millimetres::constant(1.0) },
            lean: const { Degrees::constant(10.0) },
            check_limits: CheckLimits::FIRST,
            history: Vec::new(),
            days: Vec::new(),
            history_lost: false,
            failed_linearity: Vec::new(),
            technique: Technique::MINIMUM,
        }
    }
}

/// What is in force: the common part and the probes, in the order of their first appearance; of any capacity.
#[derive(Clone)]
pub struct Settings<P: ?Sized = VecView<ProbeState>> {
    common: Common,
    probes: P,
}

impl<const PROBES: usize> Settings<Vec<ProbeState, PROBES>> {
    pub(super) const fn new() -> Self {
        Self { common: Common::new(), probes: Vec::new() }
    }
}

impl Settings {
    /// What is in force apart from the probes.
    #[must_use]
    pub const fn common(&self) -> &Common {
        &self.common
    }

    /// The probes; a voided one keeps its place.
    #[must_use]
    pub fn probes(&self) -> &[ProbeState] {
        &self.probes
    }

    /// How many probes there is room for.
    pub(super) fn room(&self) -> usize {
        self.probes.capacity()
    }

    /// A probe by its place.
    #[must_use]
    pub fn probe(&self, place: u8) -> Option<&ProbeState> {
        self.probes.get(usize::from(place))
    }

    /// A probe's place by its name, in force or not.
    #[inline(never)]
    fn place(&self, name: &Name) -> Option<usize> {
        self.probes.iter().position(|state| state.name() == name)
    }

    /// A probe in force by its name.
    pub(super) fn declared(&self, name: &Name) -> Result<(usize, &ProbeState), Refusal> {
        let found = self.place(name).and_then(|place| Some((place, self.probes.get(place)?)));
        found.filter(|(_, state)| state.probe().is_some()).ok_or(Refusal::UnknownProbe(name.clone()))
    }

    /// A probe is declared anew as one that sounds otherwise: the references it has by now are another probe's.
    pub(super) fn remake(&mut self, entry: &Entry, number: u32) {
        let Entry::Probe(probe) = entry else { return };
        if let Ok(state) = self.state(&probe.name) {
            state.remake(number);
        }
    }

    /// A reference echo has to be one that the screen can show, above its noise.
    fn on_the_screen(&self, height: ScreenPercent) -> Result<(), Refusal> {
        let (noise, max) = (self.common.screen.noise().get(), self.common.screen.max().get());
        let value = height.get();
        if noise < value && value <= max {
            return Ok(());
        }
        Err(Refusal::Range(RangeError {
            quantity: "height on the screen",
            unit: "%",
            value,
            min: noise,
            max,
        }))
    }

    /// Takes a technique into force, for the next fold.
    pub(super) fn adopt(&mut self, technique: Technique) {
        self.common.technique = technique;
    }

    /// Nothing in force but the technique, whose sheet is no entry. Every probe keeps its place: readings refer to it.
    pub(super) fn forget(&mut self, reference: Option<ScreenPercent>) {
        let technique = core::mem::replace(&mut self.common.technique, Technique::MINIMUM);
        let check_limits = CheckLimits::FIRST.under(&technique);
        self.common = Common { technique, check_limits, ..Common::new() };
        for state in &mut self.probes {
            state.forget(reference.unwrap_or(Screen::DEFAULT.reference()));
        }
    }

    /// No history.
    pub(super) fn forget_history(&mut self) {
        let Common { history, days, history_lost, .. } = &mut self.common;
        history.clear();
        days.clear();
        *history_lost = false;
    }

    fn state(&mut self, name: &Name) -> Result<&mut ProbeState, Refusal> {
        let found = self.place(name).and_then(|place| self.probes.get_mut(place));
        found.ok_or(Refusal::UnknownProbe(name.clone()))
    }

    /// Refuses calibration of a probe that is not in force; a fold of what was recorded does not ask.
    pub(super) fn check(&self, entry: &Entry) -> Result<(), Refusal> {
        match entry {
            Entry::Probe(_) => Ok(()),
            Entry::Dac(point) => {
                self.declared(&point.probe)?;
                self.on_the_screen(point.height.quantity())
            }
            entry => entry.probe().map_or(Ok(()), |name| self.declared(name).map(drop)),
        }
    }

    /// Takes an entry into force; on refusal nothing has changed.
    pub(super) fn apply(&mut self, entry: &Entry, number: u32) -> Result<(), Refusal> {
        match entry {
            Entry::Units(unit) => self.common.units = *unit,
            Entry::Material(entry) => self.apply_material(entry, number)?,
            Entry::Joint(entry) => {
                if let Some((holder, _)) = self.common.joint {
                    return Err(Refusal::InForce { what: "the joint", number: holder });
                }
                let spec = entry.map(Entered::quantity, Entered::quantity);
                self.common.joint = Some((number, Joint::new(spec).map_err(Refusal::Joint)?));
            }
            Entry::Probe(entry) => {
                if self.state(&entry.name).is_err() {
                    let full = Refusal::Full { what: "probes", capacity: self.probes.capacity() as u32 };
                    let state = ProbeState::new(entry.name.clone(), self.common.screen.reference());
                    if self.probes.is_full() {
                        return Err(full);
                    }
                    // A probe that cannot be must not take a place.
                    let mut trial = state;
                    trial.declare(number, entry)?;
                    self.probes.push(trial).map_err(|_| full)?;
                } else {
                    self.state(&entry.name)?.declare(number, entry)?;
                }
                self.aim(&entry.name);
            }
            Entry::Timebase(entry) => {
                self.state(&entry.probe)?.set_timebase(number, &entry.how)?;
                self.aim(&entry.probe);
            }
            Entry::Angle(entry) => {
                self.apply_angle(entry, number)?;
                self.aim(&entry.probe);
            }
            Entry::Dac(entry) => {
                let point = DacPoint {
                    path: entry.path.within(limits::PATH)?,
                    height: entry.height.within(limits::REFERENCE_HEIGHT)?,
                    gain: entry.gain.within(limits::GAIN)?,
                };
                let hole = entry.hole.map(|hole| hole.within(limits::HOLE)).transpose()?;
                self.state(&entry.probe)?.add_reference(number, point, hole)?;
            }
            Entry::DacBeyond { probe, beyond } => self.state(probe)?.set_beyond(*beyond),
            Entry::Screen(entry) => self.apply_screen(entry)?,
            Entry::Transfer(entry) => self.state(&entry.probe)?.set_transfer(number, &entry.how)?,
            Entry::Scanning { probe, margin } => {
                let margin = margin.within(limits::MARGIN)?;
                self.state(probe)?.set_margin(margin);
            }
            Entry::Check(entry) => self.judge(entry, None, &self.common.check_limits).map(drop)?,
            Entry::ScreenLinearity(_) | Entry::GainLinearity(_) => {
                paired(entry)?;
                if let Some(found) = linearity_of(entry) {
                    self.note_linearity(number, found.map_err(Refusal::Linearity)?.within())?;
                }
            }
            Entry::Tolerance(entry) => self.apply_tolerance(entry)?,
            _ => {}
        }
        Ok(())
    }

    fn apply_screen(&mut self, entry: &ScreenEntry) -> Result<(), Refusal> {
        let (max, noise, reference) = {
            let screen = &self.common.screen;
            (screen.max(), screen.noise(), screen.reference())
        };
        let pick = |given: Option<Entered<ScreenPercent>>, held| given.map_or(held, |g| g.quantity());
        let screen =
            Screen::new(pick(entry.max, max), pick(entry.noise, noise), pick(entry.reference, reference));
        self.common.screen = screen.map_err(Refusal::Screen)?;
        Ok(())
    }

    fn apply_tolerance(&mut self, entry: &ToleranceEntry) -> Result<(), Refusal> {
        let mut budget = self.common.budget;
        let mut check_limits = self.common.check_limits;
        let (mut velocity, mut reflector, mut lean) =
            (self.common.velocity, self.common.reflector, self.common.lean);
        if let Some(angle) = entry.angle {
            budget.angle = angle.within(limits::ANGLE_TOLERANCE)?;
        }
        let lengths = [
            (entry.path, &mut budget.path),
            (entry.index, &mut budget.index),
            (entry.standoff, &mut budget.standoff),
            (entry.thickness, &mut budget.thickness),
            (entry.reflector, &mut reflector),
        ];
        for (given, held) in lengths {
            if let Some(given) = given {
                *held = given.within(limits::LENGTH_TOLERANCE)?;
            }
        }
        if let Some(given) = entry.velocity {
            velocity = limits::VELOCITY_TOLERANCE.check(given.number())?;
        }
        if let Some(height) = entry.height {
            budget.height = height.within(limits::HEIGHT_TOLERANCE)?;
        }
        if let Some(range) = entry.range {
            check_limits.range = range.within(limits::RANGE_TOLERANCE)?;
        }
        if let Some(sensitivity) = entry.sensitivity {
            check_limits.sensitivity = sensitivity.within(limits::LEVEL_TOLERANCE)?;
        }
        if let Some(given) = entry.lean {
            lean = given.within(limits::ANGLE_TOLERANCE)?;
        }
        let check_limits = check_limits.under(&self.common.technique);
        (self.common.budget, self.common.check_limits, self.common.velocity) =
            (budget, check_limits, velocity);
        (self.common.reflector, self.common.lean) = (reflector, lean);
        Ok(())
    }

    /// Whether checks already judged rest on this one.
    pub(super) fn touches_checks(&self, entry: &Entry) -> bool {
        let judged_by = matches!(entry, Entry::Tolerance(_) | Entry::Dac(_) | Entry::DacBeyond { .. });
        judged_by && self.common.is_checked()
    }

    fn note_linearity(&mut self, number: u32, within: bool) -> Result<(), Refusal> {
        if within {
            return Ok(());
        }
        let full = Refusal::Full { what: "failed linearity checks", capacity: FAILED as u32 };
        self.common.failed_linearity.push(number).map_err(|_| full)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::entry::Text;

    #[test]
    fn a_note_changes_nothing_that_rests_on_others() {
        let note = Entry::Note(Text::try_from("dull surface").unwrap());
        let settings: &Settings = &Settings::<Vec<_, 1>>::new();
        assert!(!settings.touches_checks(&note));
    }
}
