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

use crate::answers::page::{Lengths, Page, joined, level, plus};
use crate::language::values::Choice;

/// "entry 17 (p60, side A, leg 1)".
fn source<'a>(facts: &'a Facts<'a>, found: ReadingFinding<'a>) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        let reading = found.reading;
        let probe = facts.probe(reading.probe()).map_or("", |state| state.name().as_str());
        write!(
            f,
            "entry {} ({probe}, side {}",
            reading.number(),
            super::locate::side(reading.side(), reading.face())
        )?;
        match found.place {
            Ok(place) => write!(f, ", leg {})", place.leg),
            Err(_) => f.write_str(")"),
        }
    })
}

/// How strong it is, by which reading.
pub(super) fn strength(
    facts: &Facts<'_>,
    strongest: &Result<Strongest<'_>, Option<(u32, Undetermined)>>,
    page: &mut Page<'_>,
) -> fmt::Result {
    match strongest {
        Ok(found) => {
            page.item("level", format_args!("{}, {}", level(found.level), source(facts, found.finding)))?;
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
        page.item("", format_args!("{}", around(girth, point.x)))?;
    }
    let seen = views(point.views);
    let tips = if point.basis == Basis::Tips { " of its tips" } else { "" };
    let body = body(lengths, point);
    match point.consistent {
        None => page.item("", format_args!("from {seen}{tips}{body}")),
        Some(true) => page.item("", format_args!("from {seen}{tips}, which agree{body}")),
        Some(false) if point.off_tips > 0 => {
            let off = views(point.off_tips);
            page.item("", format_args!("from {seen}{tips}; {off} DISAGREE by more than their uncertainty"))
        }
        Some(false) => page
            .item("", format_args!("from {seen}{tips}, which DISAGREE by more than their uncertainty{body}")),
    }
}

/// ", about a body of 2.1 +/- 0.6 mm", ", taken as a body up to 1.0 mm", ", as a point"; nothing of an edge, which
/// has no size.
pub(super) fn body(lengths: Lengths, point: &Point) -> impl fmt::Display {
    let edge = point.basis == Basis::Tips || point.corner_at.is_some() && point.body == Body::Point;
    let body = (!edge).then_some(point.body);
    fmt::from_fn(move |f| match body {
        None => Ok(()),
        Some(Body::Point) => f.write_str(", as a point"),
        Some(Body::UpTo(across)) => write!(f, ", taken as a body up to {}", lengths.of(across)),
        Some(Body::Across { across, uncertainty }) => {
            write!(f, ", about a body of {}", lengths.within(across, uncertainty))
        }
    })
}

/// "2:58 on the clock, 89.0 deg around, the datum at 12".
pub(super) fn around(girth: Girth, x: f32) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        let (clock, turn) = (girth.clock(x), Fixed(girth.turn(x), 1));
        write!(f, "{clock} on the clock, {turn} deg around, the datum at 12")
    })
}

/// The part of the joint that may have made its echoes; nothing when there is none.
pub(super) fn shape(found: Option<Match>, page: &mut Page<'_>) -> fmt::Result {
    let Some(found) = found else { return Ok(()) };
    page.item("shape of joint", format_args!("{}", shape_of_joint(found)))?;
    page.item("", format_args!("advice: a flaw at the same place is not ruled out"))
}

/// "bead toe on side B, off by 0.43 of the uncertainty of 2 views".
pub(super) fn shape_of_joint(found: Match) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        write!(f, "{}", found.reflector.kind)?;
        if let Some(side) = found.reflector.side {
            f.write_str(if side == Side::A { " on side A" } else { " on side B" })?;
        }
        write!(f, ", off by {} of the uncertainty of {}", Fixed(found.distance, 2), views(found.views))
    })
}

fn views(count: u32) -> impl fmt::Display {
    fmt::from_fn(move |f| write!(f, "{} view{}", count, if count == 1 { "" } else { "s" }))
}

/// How the ends of a length are found.
pub(super) fn by_rule(rule: LengthRule) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        use halfskip::units::decimal::fixed;
        match rule {
            LengthRule::Drop(drop) => write!(f, "{} dB drop", fixed(drop.get())),
            LengthRule::EndPeaks { drop, .. } => write!(f, "{} dB off last peaks", fixed(drop.get())),
            LengthRule::Level(level) => write!(f, "at {} dB", plus(level.get(), 1)),
        }
    })
}

/// "23.4 mm, x 108.2 to 131.6 mm", with 'at least' and the open ends named; around a girth weld, where the far end lies
/// past the datum.
fn extent(lengths: Lengths, length: Length, girth: Option<Girth>) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        if length.is_open() {
            f.write_str("at least ")?;
        }
        let (start, end) = (lengths.bare(length.start.get()), lengths.of(length.end.get()));
        write!(f, "{}, x {start} to {end}", lengths.of(length.length().get()))?;
        write!(f, "{}", past_datum(lengths, girth, length.end.get()))?;
        f.write_str(match (length.open_start, length.open_end) {
            (false, false) => "",
            (true, false) => ", open at the start",
            (false, true) => ", open at the end",
            (true, true) => ", open at both ends",
        })
    })
}

/// ", past the datum at 5.0 mm" of a place that counts on past a turn; nothing of any other.
pub(super) fn past_datum(lengths: Lengths, girth: Option<Girth>, x: f32) -> impl fmt::Display {
    let past = girth.filter(|girth| x >= girth.circumference());
    fmt::from_fn(move |f| match past {
        Some(girth) => write!(f, ", past the datum at {}", lengths.of(girth.wrapped(x))),
        None => Ok(()),
    })
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
            page.item(label, format_args!("{} ({})", extent(lengths, *length, facts.girth()), by_rule(rule)))
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
            tell(format_args!("{} (entry {number})", observed(&seen)))?;
        }
    }
    Ok(())
}

fn observed(seen: &ObserveEntry) -> impl fmt::Display {
    let damped = |damped| if damped { "lowers the echo" } else { "leaves the echo as it is" };
    let parts = [
        seen.swivel.and_then(Choice::word).map(|word| ["swivelled: ", word]),
        seen.orbit.and_then(Choice::word).map(|word| ["orbited: ", word]),
        seen.tip.map(|tip| if tip { ["tip echo seen", ""] } else { ["no tip echo, though looked for", ""] }),
        seen.damped.map(|yes| ["damping the surface ", damped(yes)]),
        seen.like_clean_length
            .map(|like| [if like { "like" } else { "unlike" }, " the echo of a clean length"]),
    ];
    joined(
        "; ",
        parts.into_iter().flatten().map(|[what, how]| fmt::from_fn(move |f| write!(f, "{what}{how}"))),
    )
}

/// The word of a verdict and its class.
pub(super) fn word(found: Option<&VerdictFinding>) -> impl fmt::Display {
    fmt::from_fn(move |f| match found {
        Some(found) => write!(f, "{}", said(found.verdict, &found.class)),
        None => f.write_str("undetermined"),
    })
}

/// The verdict and class of a decision.
pub(super) fn said(verdict: Option<criteria::Verdict>, class: &criteria::Class) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        f.write_str(verdict.map_or("undetermined", criteria::Verdict::word))?;
        if class.is_empty() { Ok(()) } else { write!(f, ", class {}", class) }
    })
}

/// Why the verdict is what it is.
pub(super) fn because<'a>(facts: &'a Facts<'a>, found: Option<&'a VerdictFinding>) -> impl fmt::Display {
    fmt::from_fn(move |f| match found {
        Some(found) => write!(f, "{}", found.told(facts)),
        None => f.write_str("no criteria sheet is in force"),
    })
}
