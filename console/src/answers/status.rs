//! `status`: what is used, what is set, what is missing, what is suspect.

use core::fmt;

use halfskip::findings::{suspicion, suspicion_of_probe};
use halfskip::record::entry::LengthUnit;
use halfskip::record::examination::{Facts, ProbeState};
use halfskip::units::decimal::fixed;

use super::Record;
use super::findings::sheet;
use crate::answers::page::{Page, joined, percent};

/// Answers `status`.
#[inline(never)]
pub(super) fn answer(record: &Record<'_>, page: &mut Page<'_>) -> fmt::Result {
    let in_force = |page: &mut Page<'_>| sheet(record, page);
    let shown = Shown { judged: record.sheet.is_some(), located: true };
    status(&record.facts, &shown, in_force, page)
}

/// The answer of a console that reads no sheet.
#[inline(never)]
pub(super) fn of_the_record(facts: &Facts<'_>, page: &mut Page<'_>) -> fmt::Result {
    let shown = Shown { judged: true, located: false };
    let in_force = |page: &mut Page<'_>| {
        page.item("sheet", format_args!("none is read here; 'list' shows which is named"))
    };
    status(facts, &shown, in_force, page)
}

/// What the console around the answer has.
struct Shown {
    /// A sheet is in force, or none is read.
    judged: bool,
    /// It answers `locate`.
    located: bool,
}

fn status(
    facts: &Facts<'_>,
    shown: &Shown,
    in_force: impl FnOnce(&mut Page<'_>) -> fmt::Result,
    page: &mut Page<'_>,
) -> fmt::Result {
    let mut used = Under { label: "used", count: 0 };
    for room in facts.room() {
        used.tell(page, format_args!("{} of {} {}", room.used, room.capacity, room.what))?;
    }
    set(facts, page)?;
    in_force(page)?;
    let mut missing = Under { label: "missing", count: 0 };
    lacking(facts, shown.judged, &mut missing, page)?;
    missing.end(page)?;
    let mut suspect = Under { label: "suspect", count: 0 };
    doubtful(facts, shown.located, &mut suspect, page)?;
    suspect.end(page)
}

/// Things told one below the other under one label.
struct Under {
    label: &'static str,
    count: u32,
}

impl Under {
    fn tell(&mut self, page: &mut Page<'_>, text: fmt::Arguments<'_>) -> fmt::Result {
        let label = if self.count == 0 { self.label } else { "" };
        self.count = self.count.saturating_add(1);
        page.item(label, text)
    }

    fn end(&self, page: &mut Page<'_>) -> fmt::Result {
        if self.count == 0 { page.item(self.label, format_args!("nothing")) } else { Ok(()) }
    }
}

fn set(facts: &Facts<'_>, page: &mut Page<'_>) -> fmt::Result {
    let (common, lengths) = (facts.common(), page.lengths);
    let unit = if common.units == LengthUnit::Mm { "mm" } else { "in" };
    page.item("bare lengths", format_args!("in {unit}"))?;
    let screen = &common.screen;
    page.item(
        "screen",
        format_args!(
            "up to {}, noise {}, reference height {}",
            percent(screen.max().get()),
            percent(screen.noise().get()),
            percent(screen.reference().get())
        ),
    )?;
    let budget = &common.budget;
    page.item(
        "half widths",
        format_args!(
            "angle {} deg, path {}, index {}, stand-off {}, thickness {}, velocity {} mm/us, height {}",
            fixed(budget.angle.get()),
            lengths.typed(budget.path.get()),
            lengths.typed(budget.index.get()),
            lengths.typed(budget.standoff.get()),
            lengths.typed(budget.thickness.get()),
            fixed(common.velocity),
            percent(budget.height.get())
        ),
    )?;
    let (reflector, lean) = (lengths.typed(common.reflector.get()), fixed(common.lean.get()));
    page.item("taken", format_args!("a reflector up to {reflector} across where few views cannot tell; a lean up to {lean} deg from one side"))?;
    let limits = &common.check_limits;
    page.item(
        "check limits",
        format_args!("{} of the path, {} dB", percent(limits.range.get()), fixed(limits.sensitivity.get())),
    )
}

fn lacking(facts: &Facts<'_>, judged: bool, missing: &mut Under, page: &mut Page<'_>) -> fmt::Result {
    let common = facts.common();
    if common.joint.is_none() {
        missing.tell(page, format_args!("the joint: no reading without its own thickness has a place"))?;
    }
    if common.material.is_none() {
        missing.tell(page, format_args!("the material: wavelength and beam edges are not known"))?;
    }
    if !judged {
        missing.tell(page, format_args!("a criteria sheet: nothing is held against a criterion"))?;
    }
    if facts.probes().iter().all(|state| state.probe().is_none()) {
        missing.tell(page, format_args!("a probe"))?;
    }
    for state in facts.probes() {
        let name = state.name();
        if state.probe().is_none() {
            missing.tell(page, format_args!("probe {name}: its entry was voided"))?;
            continue;
        }
        if lacks(state).next().is_some() {
            missing.tell(page, format_args!("probe {name}: {}", joined("; ", lacks(state))))?;
        }
    }
    Ok(())
}

/// What has not been recorded of a probe.
fn lacks(state: &ProbeState) -> impl Iterator<Item = &'static str> + Clone {
    let lacks = [
        (state.dac().points().len() == 0, "no reference point, so no levels"),
        (state.timebase().is_none(), "no time base, paths are taken as shown"),
        (
            state.angle_entries().is_none() && state.angle_stated().is_none(),
            "no hole peaked, the nominal angle is used",
        ),
        (state.transfer().is_none(), "no transfer correction, 0 dB is used"),
    ];
    lacks.into_iter().filter(|(lacks, _)| *lacks).map(|(_, what)| what)
}

fn doubtful(facts: &Facts<'_>, located: bool, suspect: &mut Under, page: &mut Page<'_>) -> fmt::Result {
    for (state, place) in facts.probes().iter().zip(0u8..) {
        if let Some(why) = suspicion_of_probe(facts, place) {
            suspect.tell(page, format_args!("probe {}: {why}", state.name()))?;
        }
    }
    let doubtful = facts.readings().filter(|reading| suspicion(facts, *reading).is_some()).count();
    if doubtful > 0 {
        let are = if doubtful == 1 { "reading is" } else { "readings are" };
        let marked = if located { "; 'locate' marks them" } else { "" };
        suspect.tell(page, format_args!("{doubtful} {are} suspect{marked}"))?;
    }
    Ok(())
}
