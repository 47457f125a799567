//! The acknowledgement of a fact: one short line, with what the fact says at once.

#[cfg(not(feature = "terse"))]
mod remarks;

use core::fmt::{self, Write};

#[cfg(not(feature = "terse"))]
pub(crate) use remarks::sheet as of_sheet;

use halfskip::findings::{evaluate, suspicion, suspicion_of_probe};
#[cfg(not(feature = "terse"))]
use halfskip::record::entry::DacEntry;
use halfskip::record::entry::{Entry, Name};
#[cfg(not(feature = "terse"))]
use halfskip::record::examination::linearity_of;
use halfskip::record::examination::{EventKind, Facts, ProbeState};
use halfskip::units::decimal::{Fixed, fixed};

use crate::answers::page::{Lengths, Page, level, percent};

/// What an acknowledgement needs of a fact that has gone into the record.
pub(crate) enum Said {
    /// A reading.
    Reading,
    /// It took out the entry of this number.
    Void(u32),
    /// A check, and whether it says a level.
    Check(bool),
    /// A check of linearity: how many of its steps were judged, and how many there are.
    Linearity(usize, usize),
    /// The time base of a probe.
    Timebase(Name),
    /// The angle of a probe.
    Angle(Name),
    /// A reference point of a probe, or what holds beyond its points.
    #[cfg(not(feature = "terse"))]
    Dac(Name),
    /// The transfer correction of a probe.
    #[cfg(not(feature = "terse"))]
    Transfer(Name),
    /// Half widths and limits.
    #[cfg(not(feature = "terse"))]
    Tolerance,
    /// Any other, by its verb.
    Other(&'static str),
}

impl Said {
    /// Of an entry that is about to be recorded.
    pub fn of(entry: &Entry) -> Self {
        match entry {
            Entry::Reading(_) => Self::Reading,
            Entry::Void { number, .. } => Self::Void(*number),
            Entry::Check(entry) => Self::Check(entry.height.is_some()),
            #[cfg(not(feature = "terse"))]
            Entry::ScreenLinearity(_) | Entry::GainLinearity(_) => {
                let found = linearity_of(entry).and_then(Result::ok);
                found.map_or(Self::Linearity(0, 0), |found| Self::Linearity(found.judged(), found.steps()))
            }
            #[cfg(feature = "terse")]
            Entry::ScreenLinearity(_) | Entry::GainLinearity(_) => Self::Linearity(0, 0),
            Entry::Timebase(entry) => Self::Timebase(entry.probe.clone()),
            Entry::Angle(entry) => Self::Angle(entry.probe.clone()),
            #[cfg(not(feature = "terse"))]
            Entry::Dac(DacEntry { probe, .. }) | Entry::DacBeyond { probe, .. } => Self::Dac(probe.clone()),
            #[cfg(not(feature = "terse"))]
            Entry::Transfer(entry) => Self::Transfer(entry.probe.clone()),
            #[cfg(not(feature = "terse"))]
            Entry::Tolerance(_) => Self::Tolerance,
            entry => Self::Other(entry.verb()),
        }
    }

    /// Acknowledges entry `number`, the last of the examination.
    pub fn acknowledge(&self, facts: &Facts<'_>, number: u32, out: &mut dyn Write) -> fmt::Result {
        let mut page = Page::new(out, facts.common().units);
        page.hanging(3, format_args!("{number}: {}", fmt::from_fn(|f| self.line(facts, number, f))))?;
        match self {
            Self::Void(taken_out) => voided(facts, *taken_out, &mut page),
            #[cfg(not(feature = "terse"))]
            Self::Reading => remarks::reading(facts, &mut page),
            #[cfg(not(feature = "terse"))]
            Self::Check(_) => remarks::check(facts, number, &mut page),
            #[cfg(not(feature = "terse"))]
            Self::Dac(probe) => remarks::dac(facts, place_of(facts, probe), &mut page),
            #[cfg(not(feature = "terse"))]
            Self::Transfer(probe) => remarks::transfer(facts, place_of(facts, probe), &mut page),
            #[cfg(not(feature = "terse"))]
            Self::Tolerance => remarks::tolerance(facts, &mut page),
            _ => Ok(()),
        }
    }

    fn line(&self, facts: &Facts<'_>, number: u32, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Reading => reading(facts, f),
            Self::Void(taken_out) => write!(f, "entry {taken_out} is void"),
            Self::Check(levelled) => check(facts, number, *levelled, f),
            Self::Linearity(judged, steps) => {
                let failed = facts.common().failed_linearity.contains(&number);
                f.write_str(if failed {
                    "linearity OUT OF ITS WINDOW"
                } else {
                    "linearity within its window"
                })?;
                if judged == steps { Ok(()) } else { write!(f, ", {judged} of {steps} steps judged") }
            }
            Self::Timebase(probe) => {
                let place = place_of(facts, probe);
                place.and_then(|place| facts.probe(place)).map_or(Ok(()), |state| timebase(state, f))?;
                out_of_tolerance(facts, place, f)
            }
            Self::Angle(probe) => {
                let place = place_of(facts, probe);
                place.and_then(|place| facts.probe(place)).map_or(Ok(()), |state| angle(facts, state, f))?;
                out_of_tolerance(facts, place, f)
            }
            #[cfg(not(feature = "terse"))]
            Self::Dac(_) => f.write_str("dac recorded"),
            #[cfg(not(feature = "terse"))]
            Self::Transfer(_) => f.write_str("transfer recorded"),
            #[cfg(not(feature = "terse"))]
            Self::Tolerance => f.write_str("tolerance recorded"),
            Self::Other(verb) => write!(f, "{verb} recorded"),
        }
    }
}

/// A probe by its name.
fn place_of(facts: &Facts<'_>, probe: &Name) -> Option<u8> {
    let place = facts.probes().iter().position(|state| state.name() == probe)?;
    u8::try_from(place).ok()
}

/// What the calibration of a probe is suspected of.
fn out_of_tolerance(facts: &Facts<'_>, place: Option<u8>, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match place.and_then(|place| suspicion_of_probe(facts, place)) {
        Some(suspicion) => write!(f, "; OUT OF TOLERANCE: {suspicion}"),
        None => Ok(()),
    }
}

/// Taking out a check that failed makes nothing good.
fn voided(facts: &Facts<'_>, number: u32, page: &mut Page<'_>) -> fmt::Result {
    let failed = facts.common().history.iter().any(|event| {
        event.number == number && event.kind == EventKind::Check && event.void && !event.is_good()
    });
    if failed {
        page.remark(format_args!("that check still counts as failed until a good check follows"))
    } else {
        Ok(())
    }
}

/// What a check was held against, and how it came out. One without a level has not checked the sensitivity.
fn check(facts: &Facts<'_>, number: u32, levelled: bool, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    let common = facts.common();
    let event = common.history.iter().find(|event| event.number == number);
    let good = event.is_some_and(|event| event.is_good());
    let levelled = levelled && event.is_none_or(|event| event.level.is_some());
    f.write_str(if good { "check within its limits" } else { "check OUT OF ITS LIMITS" })?;
    write!(f, " of {} of the path", percent(common.check_limits.range.get()))?;
    if levelled {
        write!(f, " and {} dB", fixed(common.check_limits.sensitivity.get()))?;
    } else {
        f.write_str("; its level was NOT checked")?;
    }
    f.write_str(if good { "" } else { "; readings since the last good one are suspect" })
}

/// "leg 1, y 0.4 mm, z 19.8 mm, level +3.2 dB", or why not.
fn reading(facts: &Facts<'_>, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    let Some(reading) = facts.last_reading() else { return Ok(()) };
    let lengths = Lengths(facts.common().units);
    let found = evaluate(facts, reading);
    match found.place {
        Ok(place) => {
            let (y, z) = (lengths.of(place.y.get()), lengths.of(place.z.get()));
            f.write_str(if found.unseen() { "not seen, looked for in " } else { "" })?;
            write!(f, "leg {}, y {y}, z {z}", place.leg)?;
        }
        Err(reason) => write!(f, "no place: {reason}")?,
    }
    match found.level {
        Ok(found) => write!(f, ", level {}", level(found.level))?,
        Err(reason) if found.place.err() == Some(reason) => f.write_str("; no level either")?,
        Err(reason) => write!(f, "; no level: {reason}")?,
    }
    match suspicion(facts, reading) {
        Some(why) => write!(f, "; SUSPECT: {why}"),
        None => Ok(()),
    }
}

fn timebase(state: &ProbeState, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    let Some(fit) = state.timebase() else { return f.write_str("timebase recorded") };
    let (velocity, delay) = (fit.base().velocity.get(), fit.base().delay.get());
    let stated = if matches!(state.timebase_entry(), Some((_, true))) { " as stated" } else { "" };
    write!(f, "timebase recorded{stated}, {} mm/us, delay {} us", Fixed(velocity, 3), Fixed(delay, 2))
}

fn angle(facts: &Facts<'_>, state: &ProbeState, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    let lengths = Lengths(facts.common().units);
    if let (Some((_, stated)), Some(probe)) = (state.angle_stated(), state.probe()) {
        let (angle, nominal) = (Fixed(stated.get(), 1), fixed(probe.nominal().get()));
        write!(f, "angle recorded as stated, {angle} deg, nominal {nominal} deg")?;
        return match state.index_stated() {
            Some(index) => write!(f, ", index point {}", lengths.ahead(index.get())),
            None => Ok(()),
        };
    }
    let (Some(check), Some(probe)) = (state.angle_check(), state.probe()) else {
        return f.write_str("angle recorded");
    };
    let holes = state.holes().len();
    write!(
        f,
        "angle recorded, {} deg from {holes} hole{}, nominal {} deg",
        Fixed(check.angle().get(), 1),
        if holes == 1 { "" } else { "s" },
        fixed(probe.nominal().get())
    )?;
    match check.index() {
        Some(index) => write!(f, ", index point {}", lengths.ahead(index.get())),
        None => Ok(()),
    }
}
