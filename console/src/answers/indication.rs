//! What there is to say of one indication, line by line; several answers share these lines.

use core::fmt;

use halfskip::acceptance::criteria;
use halfskip::evaluate::fusion::Body;
use halfskip::evaluate::sizing::length::Length;
use halfskip::findings::{
    Basis, HeightFinding, Lean, LengthRule, Match, NoLength, Point, ReadingFinding, Strongest, Undetermined,
    VerdictFinding,
};
use halfskip::part::girth::Girth;
use halfskip::part::side::{Face, Side};
use halfskip::record::entry::ObserveEntry;
use halfskip::record::examination::{Facts, Pooled};
use halfskip::units::decimal::Fixed;

use crate::answers::page::{Lengths, Page, Plus, level};
use crate::language::values::Choice;

/// "entry 17 (p60, side A, leg 1)".
pub(super) struct Source<'a>(pub &'a Facts<'a>, pub ReadingFinding<'a>);

impl fmt::Display for Source<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(facts, found) = self;
        let reading = found.reading;
        let probe = facts.probe(reading.probe()).map_or("", |state| state.name().as_str());
        write!(f, "entry {} ({probe}, side {}", reading.number(), super::locate::side(reading))?;
        match found.place {
            Ok(place) => write!(f, ", leg {})", place.leg),
            Err(_) => f.write_str(")"),
        }
    }
}

/// How strong it is, by which reading.
pub(super) fn strength(
    facts: &Facts<'_>,
    strongest: &Result<Strongest<'_>, Option<(u32, Undetermined)>>,
    page: &mut Page<'_>,
) -> fmt::Result {
    match strongest {
        Ok(found) => {
            page.item("level", format_args!("{}, {}", level(found.level), Source(facts, found.finding)))?;
            if let Some(number) = left_the_screen(found) {
                page.item("", format_args!("entry {number} left the screen and may be stronger"))?;
            }
            match found.without_level {
                Some((number, reason)) => page
                    .item("", format_args!("entry {number} has no level and may be the strongest: {reason}")),
                None => Ok(()),
            }
        }
        Err(Some((number, reason))) => {
            page.item("level", format_args!("not known: entry {number}: {reason}"))
        }
        Err(None) => page.item("level", format_args!("not known: no reading of it is in force")),
    }
}

/// The reading that makes an exact strongest level only "at least".
fn left_the_screen(found: &Strongest<'_>) -> Option<u32> {
    let own = found.finding.level.ok()?.level.bound;
    if own == found.level.bound {
        return None;
    }
    found.over.map(Pooled::number)
}

/// Where it lies.
pub(super) fn place(facts: &Facts<'_>, point: Option<&Point>, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    let Some(point) = point else {
        return page.item("place", format_args!("not known: no echo of it has a place"));
    };
    page.item(
        "place",
        format_args!(
            "x {}, y {}, z {}",
            lengths.of(point.x),
            lengths.within(point.y, point.u_y),
            lengths.within(point.z, point.u_z)
        ),
    )?;
    if let Some(girth) = facts.girth() {
        page.item("", format_args!("{}", Around(girth, point.x)))?;
    }
    let views = Views(point.views);
    let tips = if point.basis == Basis::Tips { " of its tips" } else { "" };
    let body = Sized::of(lengths, point);
    match point.consistent {
        None => page.item("", format_args!("from {views}{tips}{body}")),
        Some(true) => page.item("", format_args!("from {views}{tips}, which agree{body}")),
        Some(false) if point.off_tips > 0 => {
            let off = Views(point.off_tips);
            page.item("", format_args!("from {views}{tips}; {off} DISAGREE by more than their uncertainty"))
        }
        Some(false) => page.item(
            "",
            format_args!("from {views}{tips}, which DISAGREE by more than their uncertainty{body}"),
        ),
    }
}

/// ", about a body of 2.1 +/- 0.6 mm", ", taken as a body up to 1.0 mm", ", as a point"; nothing of an edge, which
/// has no size.
pub(in crate::answers) struct Sized(Option<(Lengths, Body)>);

impl Sized {
    pub(in crate::answers) fn of(lengths: Lengths, point: &Point) -> Self {
        let edge = point.basis == Basis::Tips || point.corner_at.is_some() && point.body == Body::Point;
        Self((!edge).then_some((lengths, point.body)))
    }
}

impl fmt::Display for Sized {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            None => Ok(()),
            Some((_, Body::Point)) => f.write_str(", as a point"),
            Some((lengths, Body::UpTo(across))) => {
                write!(f, ", taken as a body up to {}", lengths.of(across))
            }
            Some((lengths, Body::Across { across, uncertainty })) => {
                write!(f, ", about a body of {}", lengths.within(across, uncertainty))
            }
        }
    }
}

/// "2:58 on the clock, 89.0 deg around, the datum at 12".
pub(super) struct Around(pub Girth, pub f32);

impl fmt::Display for Around {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(girth, x) = self;
        write!(
            f,
            "{} on the clock, {} deg around, the datum at 12",
            girth.clock(*x),
            Fixed(girth.turn(*x), 1)
        )
    }
}

/// The part of the joint that may have made its echoes; nothing when there is none.
pub(super) fn shape(found: Option<Match>, page: &mut Page<'_>) -> fmt::Result {
    let Some(found) = found else { return Ok(()) };
    page.item("shape of joint", format_args!("{}", Shape(found)))?;
    page.item("", format_args!("advice: a flaw at the same place is not ruled out"))
}

/// "bead toe on side B, off by 0.43 of the uncertainty of 2 views".
pub(super) struct Shape(pub Match);

impl fmt::Display for Shape {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(found) = self;
        write!(f, "{}", found.reflector.kind)?;
        if let Some(side) = found.reflector.side {
            f.write_str(if side == Side::A { " on side A" } else { " on side B" })?;
        }
        write!(f, ", off by {} of the uncertainty of {}", Fixed(found.distance, 2), Views(found.views))
    }
}

struct Views(u32);

impl fmt::Display for Views {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} view{}", self.0, if self.0 == 1 { "" } else { "s" })
    }
}

/// How the ends of a length are found.
pub(super) struct Rule(pub LengthRule);

impl fmt::Display for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use halfskip::units::decimal::fixed;
        match self.0 {
            LengthRule::Drop(drop) => write!(f, "{} dB drop", fixed(drop.get())),
            LengthRule::EndPeaks { drop, .. } => write!(f, "{} dB off last peaks", fixed(drop.get())),
            LengthRule::Level(level) => write!(f, "at {} dB", Plus(level.get(), 1)),
        }
    }
}

/// "23.4 mm, x 108.2 to 131.6 mm", with 'at least' and the open ends named; around a girth weld, where the far end lies
/// past the datum.
pub(super) struct Long(pub Lengths, pub Length, pub Option<Girth>);

impl fmt::Display for Long {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(lengths, length, girth) = *self;
        if length.is_open() {
            f.write_str("at least ")?;
        }
        let (start, end) = (lengths.bare(length.start.get()), lengths.of(length.end.get()));
        write!(f, "{}, x {start} to {end}", lengths.of(length.length().get()))?;
        PastDatum(lengths, girth, length.end.get()).fmt(f)?;
        f.write_str(match (length.open_start, length.open_end) {
            (false, false) => "",
            (true, false) => ", open at the start",
            (false, true) => ", open at the end",
            (true, true) => ", open at both ends",
        })
    }
}

/// ", past the datum at 5.0 mm" of a place that counts on past a turn; nothing of any other.
pub(super) struct PastDatum(pub Lengths, pub Option<Girth>, pub f32);

impl fmt::Display for PastDatum {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(lengths, girth, x) = *self;
        match girth.filter(|girth| x >= girth.circumference()) {
            Some(girth) => write!(f, ", past the datum at {}", lengths.of(girth.wrapped(x))),
            None => Ok(()),
        }
    }
}

/// How long it is.
pub(super) fn length(
    facts: &Facts<'_>,
    label: &str,
    rule: LengthRule,
    length: &Result<Length, NoLength>,
    page: &mut Page<'_>,
) -> fmt::Result {
    let lengths = page.lengths;
    match length {
        Ok(length) => {
            page.item(label, format_args!("{} ({})", Long(lengths, *length, facts.girth()), Rule(rule)))
        }
        Err(why) => page.item(label, format_args!("not known: {why}")),
    }
}

/// How high it is.
pub(super) fn height(
    height: Option<&HeightFinding>,
    point: Option<&Point>,
    page: &mut Page<'_>,
) -> fmt::Result {
    let lengths = page.lengths;
    let Some(found) = height else {
        return page.item("height", format_args!("not known: no tip tells it"));
    };
    let breaks = match point.and_then(|point| point.corner_at) {
        Some(Face::Near) => ", from the near face",
        Some(Face::Far) => ", from the far face",
        None => ", between its tips",
    };
    let seen = found.observations;
    if found.disagrees() {
        let (lowest, highest) = (lengths.of(found.lowest), lengths.of(found.highest));
        return page.item(
            "height",
            format_args!(
                "not known: its {seen} observations DISAGREE by more than their uncertainty, {lowest} to {highest}{breaks}"
            ),
        );
    }
    let agree = if found.consistent.is_some() { ", which agree" } else { "" };
    let upright = if found.if_upright { ", if upright" } else { "" };
    page.item(
        "height",
        format_args!(
            "{}{breaks}{upright}; {seen} observation{}{agree}",
            lengths.within(found.height, found.uncertainty),
            if seen == 1 { "" } else { "s" }
        ),
    )?;
    let Some(lean) = found.lean.filter(Lean::is_told) else { return Ok(()) };
    let side = if lean.across > 0.0 { "B" } else { "A" };
    let way = lengths.within(lean.across.abs(), lean.uncertainty);
    page.item("", format_args!("it leans: its tip lies {way} toward side {side} of its base"))
}

/// What the examiner saw and no number holds, each with the number of its entry.
pub(super) fn seen(
    facts: &Facts<'_>,
    name: &str,
    mut tell: impl FnMut(fmt::Arguments<'_>) -> fmt::Result,
) -> fmt::Result {
    let mut place = 0;
    while let Some((number, voided, seen)) = facts.observation(name, &mut place) {
        if !voided {
            tell(format_args!("{} (entry {number})", Seen(&seen)))?;
        }
    }
    Ok(())
}

struct Seen<'a>(&'a ObserveEntry);

impl fmt::Display for Seen<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seen = self.0;
        let mut first = true;
        let mut say = |f: &mut fmt::Formatter<'_>, parts: [&str; 2]| {
            f.write_str(if first { "" } else { "; " })?;
            first = false;
            parts.iter().try_for_each(|part| f.write_str(part))
        };
        if let Some(word) = seen.swivel.and_then(Choice::word) {
            say(f, ["swivelled: ", word])?;
        }
        if let Some(word) = seen.orbit.and_then(Choice::word) {
            say(f, ["orbited: ", word])?;
        }
        if let Some(tip) = seen.tip {
            say(f, if tip { ["tip echo seen", ""] } else { ["no tip echo, though looked for", ""] })?;
        }
        if let Some(damped) = seen.damped {
            say(
                f,
                ["damping the surface ", if damped { "lowers the echo" } else { "leaves the echo as it is" }],
            )?;
        }
        if let Some(like) = seen.like_clean_length {
            say(f, [if like { "like" } else { "unlike" }, " the echo of a clean length"])?;
        }
        Ok(())
    }
}

/// The word of a verdict and its class.
pub(super) struct Word<'a>(pub Option<&'a VerdictFinding>);

impl fmt::Display for Word<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Some(found) = self.0 else { return f.write_str("undetermined") };
        f.write_str(found.verdict.map_or("undetermined", criteria::Verdict::word))?;
        if found.class.is_empty() { Ok(()) } else { write!(f, ", class {}", found.class) }
    }
}

/// Why the verdict is what it is.
pub(super) struct Because<'a>(pub &'a Facts<'a>, pub Option<&'a VerdictFinding>);

impl fmt::Display for Because<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.1 {
            Some(found) => found.told(self.0).fmt(f),
            None => f.write_str("no criteria sheet is in force"),
        }
    }
}
