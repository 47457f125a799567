//! `locate`: every reading's place and strength, indication by indication.

use core::fmt::{self, Write};

use halfskip::calibration::level::{Bound, Level};
use halfskip::findings::{ReadingFinding, evaluate, suspicion};
use halfskip::part::side::{Face, Side};
use halfskip::record::examination::Facts;

use super::Record;
use crate::answers::page::{Left, Page, Right, plus};

/// Answers `locate`.
#[inline(never)]
pub(super) fn answer(record: &Record<'_>, page: &mut Page<'_>) -> fmt::Result {
    let facts = &record.facts;
    if facts.readings().next().is_none() {
        return page.heading(format_args!("no reading is in force"));
    }
    let columns = Columns::new(facts);
    let mut told = None;
    let mut marks = Marks::default();
    columns.head(page)?;
    for indication in record.indications() {
        page.heading(format_args!("Indication {}", indication.name()))?;
        for reading in indication.readings() {
            let (found, suspicion) = (evaluate(facts, reading), suspicion(facts, reading));
            marks.note(&found, suspicion.is_some());
            columns.row(page, facts, &found, suspicion.is_some())?;
            // A reason is told where it begins to hold.
            if let Some(why) = suspicion.filter(|why| told != Some(*why)) {
                page.remark(format_args!("suspect: {why}"))?;
                told = Some(why);
            }
        }
    }
    page.heading(format_args!(
        "+/- is the expanded uncertainty, k = 2. y is positive toward side B, z counts from the near face, s cos a \
         is the unfolded depth, dB the level over the reference."
    ))?;
    marks.explain(page)
}

/// The marks that a table used.
#[derive(Default)]
struct Marks {
    suspect: bool,
    over: bool,
    unseen: bool,
    far: bool,
}

impl Marks {
    fn note(&mut self, found: &ReadingFinding<'_>, suspect: bool) {
        self.suspect |= suspect;
        self.over |= found.level.is_ok_and(|found| found.level.bound == Bound::AtLeast);
        self.unseen |= found.unseen();
        self.far |= found.reading.face() == Face::Far;
    }

    fn explain(&self, page: &mut Page<'_>) -> fmt::Result {
        let marks = [
            (self.suspect, "? marks a suspect reading."),
            (self.over, ">= marks an echo that left the screen."),
            (self.unseen, "<= marks an echo that was not seen: its place is where it was looked for."),
            (self.far, "A side in small letters is one on the far face."),
        ];
        let used = marks.iter().filter(|(used, _)| *used);
        used.map(|(_, what)| what).try_for_each(|what| page.heading(format_args!("{what}")))
    }
}

/// The table's columns: the probe's is as wide as the longest name.
struct Columns {
    probe: usize,
}

impl Columns {
    fn new(facts: &Facts<'_>) -> Self {
        let longest = facts.probes().iter().map(|state| state.name().chars().count()).max();
        Self { probe: longest.unwrap_or(0).max(5) }
    }

    fn head(&self, page: &mut Page<'_>) -> fmt::Result {
        let unit = page.lengths.unit();
        writeln!(
            page,
            "entry {} side leg {} {}  +/- {}  +/- s cos a      dB",
            Left(self.probe, &"probe"),
            Right(6, &format_args!("x {unit}")),
            Right(6, &format_args!("y {unit}")),
            Right(6, &format_args!("z {unit}")),
        )
    }

    fn row(
        &self,
        page: &mut Page<'_>,
        facts: &Facts<'_>,
        found: &ReadingFinding<'_>,
        suspect: bool,
    ) -> fmt::Result {
        let reading = found.reading;
        let probe = facts.probe(reading.probe()).map_or("", |state| state.name().as_str());
        let lengths = page.lengths;
        write!(
            page,
            "{}{} {} {} ",
            Right(4, &reading.number()),
            if suspect { "?" } else { " " },
            Left(self.probe, &probe),
            Left(4, &side(reading.side(), reading.face())),
        )?;
        let shown = |page: &mut Page<'_>, width, mm: Option<f32>| match mm {
            Some(mm) => write!(page, " {}", Right(width, &lengths.bare(mm))),
            None => write!(page, " {}", Right(width, &"-")),
        };
        let place = found.place.ok();
        let (u_y, u_z) = found.uncertainty().unzip();
        match place {
            Some(place) => write!(page, "{}", Right(3, &place.leg))?,
            None => write!(page, "{}", Right(3, &"-"))?,
        }
        shown(page, 6, place.map(|place| place.x.get()))?;
        shown(page, 6, place.map(|place| place.y.get()))?;
        shown(page, 4, u_y)?;
        shown(page, 6, place.map(|place| place.z.get()))?;
        shown(page, 4, u_z)?;
        shown(page, 7, place.map(|place| place.unfolded.get()))?;
        match found.level {
            Ok(found) => writeln!(page, " {}", Right(7, &short(found.level)))?,
            Err(_) => writeln!(page, " {}", Right(7, &"-"))?,
        }
        if let Err(reason) = found.place {
            page.remark(format_args!("no place: {reason}"))?;
        }
        match found.level {
            Err(reason) if found.place.err() != Some(reason) => {
                page.remark(format_args!("no level: {reason}"))
            }
            _ => Ok(()),
        }
    }
}

/// The side, in a small letter when the probe stood on the far face.
pub(super) const fn side(side: Side, face: Face) -> &'static str {
    match (side, face) {
        (Side::A, Face::Near) => "A",
        (Side::B, Face::Near) => "B",
        (Side::A, Face::Far) => "a",
        (Side::B, Face::Far) => "b",
    }
}

/// A level for a column of decibels.
pub(super) fn short(level: Level) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        f.write_str(match level.bound {
            Bound::Exact => "",
            Bound::AtLeast => ">=",
            Bound::AtMost => "<=",
        })?;
        write!(f, "{}", plus(level.db.get(), 1))
    })
}
