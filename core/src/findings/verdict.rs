//! What the sheet says of an indication, and what stands in the way of believing a good word.

use core::fmt;

use super::fault::fault;
use super::group::joined;
use super::measure::{measured, measured_alone, strongest_of};
use super::{Blocked, Extent, Grouped, Point, Undetermined, first_unmet, grouped};
use crate::acceptance::criteria::{self, Class, Decision, Depth, Group, Length, Sheet, decide};
use crate::acceptance::rating::Rating;
use crate::math;
use crate::record::examination::{Facts, Pooled};
use crate::units::{Degrees, Millimetres};

/// A group's decision.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct GroupVerdict {
    /// The group.
    pub group: Grouped,
    /// What the sheet says of it: its whole length, its strongest member.
    pub decision: Decision,
}

/// What the sheet says of an indication.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct VerdictFinding {
    /// The verdict passed on; none is undetermined.
    pub verdict: Option<criteria::Verdict>,
    /// The class of the deciding row.
    pub class: Class,
    /// The weighted rating and the reading rated, when the sheet rates so.
    pub rating: Option<(u32, Rating)>,
    /// What the sheet was asked and said of the indication by itself.
    pub own: Option<(criteria::Facts, Decision)>,
    /// The same of its group.
    pub group: Option<GroupVerdict>,
    /// What stands in the way.
    pub blocked: Option<Blocked>,
}

impl VerdictFinding {
    /// The reason, in one line, with the names that the facts hold.
    #[must_use]
    pub const fn told<'a>(&'a self, facts: &'a Facts<'a>) -> impl fmt::Display + 'a {
        Told { finding: self, facts }
    }
}

struct Told<'a> {
    finding: &'a VerdictFinding,
    facts: &'a Facts<'a>,
}

impl fmt::Display for Told<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let VerdictFinding { verdict, class, own, group, blocked, .. } = self.finding;
        if let Some(blocked) = blocked {
            return blocked.told(self.facts).fmt(f);
        }
        let decides = |decision: &Decision| decision.verdict == *verdict && decision.class == *class;
        match (own, group) {
            (Some((_, own)), Some(group)) if !decides(own) && decides(&group.decision) => {
                write!(f, "as a group of {}: {}", group.group.members.len(), group.decision.because)
            }
            (Some((asked, own)), _) => {
                own.because.fmt(f)?;
                let shape =
                    if asked.planar.is_some() { "; its shape is advice from the evidence" } else { "" };
                f.write_str(shape)
            }
            (None, _) => f.write_str("nothing to ask the sheet with"),
        }
    }
}

/// Asks the sheet about an indication. `extents` are those of all indications by the sheet's own length rule.
///
/// `planar` is what the examiner or the evidence says of the shape; none when nobody could tell.
#[must_use]
pub fn verdict<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: &Sheet<ROWS>,
    indication: u8,
    extents: &[Extent],
    planar: Option<bool>,
) -> VerdictFinding {
    verdict_at(facts, sheet, indication, extents, planar, None)
}

/// The same by the [`point`](fn@super::point) of the indication where that is known already; it is worked out where it is not.
#[must_use]
pub fn verdict_at<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: &Sheet<ROWS>,
    indication: u8,
    extents: &[Extent],
    planar: Option<bool>,
    point: Option<&Point>,
) -> VerdictFinding {
    let mut finding = VerdictFinding {
        verdict: None,
        class: Class::new(),
        rating: None,
        own: None,
        group: None,
        blocked: None,
    };
    let found = if point.is_none() { super::point(facts, indication) } else { None };
    let point = point.or(found.as_ref());
    let asked = match question(facts, sheet, indication, extents, point, planar) {
        Ok((asked, rating)) => {
            finding.rating = rating;
            asked
        }
        Err(blocked) => {
            finding.blocked = Some(blocked);
            return finding;
        }
    };
    let first = asked;
    let (asked, own) = severest(facts, sheet, indication, first, &mut finding.rating);
    let ask = |group: &Grouped| {
        let length = known(group.start, group.end, group.open);
        let measure = strongest_of(facts, sheet, group, extents);
        decide(sheet, &criteria::Facts { length, measure, ..asked })
    };
    let group = grouped(sheet.head().group, extents, indication);
    let group = group.map(|group| GroupVerdict { decision: ask(&group), group });
    let deciding = match &group {
        Some(group) if severity(&group.decision) > severity(&own) => &group.decision,
        _ => &own,
    };
    (finding.verdict, finding.class) = (deciding.verdict, deciding.class.clone());
    if matches!(finding.verdict, Some(criteria::Verdict::Accept | criteria::Verdict::Record)) {
        let alone = [indication];
        let may_be = joined(sheet.head().group, extents, indication, true);
        let members = may_be.as_ref().map_or(alone.as_slice(), |group| &group.members);
        let more = may_be.as_ref().is_some_and(|group| group.more);
        let more = more.then_some(Blocked::TooManyNeighbours { asked: members.len() as u32 });
        let objection = |member: &u8| {
            let point = (*member == indication).then_some(point);
            objection(facts, sheet, *member, extents, point)
        };
        let further = || {
            let by = further(members, group.as_ref().map(|group| &group.group), extents)?;
            let reach = extents.iter().find(|extent| extent.indication == indication)?.reach?;
            let length = known(reach.start, reach.end, reach.is_open());
            let another = |said: &Decision, than: &Decision| {
                let alike = severity(said) == severity(than);
                severity(said) > severity(deciding) || alike && said.class != than.class
            };
            let than = group.as_ref().map_or(&own, |group| &group.decision);
            let longer = criteria::Facts { length, ..first };
            let (_, longer) = severest(facts, sheet, indication, longer, &mut None);
            let another =
                another(&longer, &own) || may_be.as_ref().is_some_and(|group| another(&ask(group), than));
            another.then_some(by)
        };
        let unmet = || {
            let verdict = finding.verdict?;
            members.iter().find_map(|member| {
                let (member, neighbour) = (*member, *member != indication);
                let ground = first_unmet(facts, sheet.head().measure, member)?;
                Some(Blocked::NotMet { verdict, indication: member, neighbour, ground })
            })
        };
        finding.blocked = more.or_else(|| members.iter().find_map(objection)).or_else(further).or_else(unmet);
        if finding.blocked.is_some() {
            (finding.verdict, finding.class) = (None, Class::new());
        }
    }
    (finding.own, finding.group) = (Some((asked, own)), group);
    finding
}

/// What goes further than the lengths that the sheet was asked with: an echo of one of these members, or the first of
/// them that is in no group with the others.
fn further(members: &[u8], group: Option<&Grouped>, extents: &[Extent]) -> Option<Blocked> {
    let by = |member: &u8| extents.iter().find(|extent| extent.indication == *member)?.reach?.blocks();
    let apart = |member: &&u8| !group.is_some_and(|group| group.members.contains(member));
    let joined = || members.iter().skip(1).find(apart).map(|other| Blocked::MayJoin { indication: *other });
    members.iter().find_map(by).or_else(joined)
}

/// Reject before undetermined before record before accept.
const fn severity(decision: &Decision) -> u8 {
    match decision.verdict {
        Some(criteria::Verdict::Reject) => 3,
        None => 2,
        Some(criteria::Verdict::Record) => 1,
        Some(criteria::Verdict::Accept) => 0,
    }
}

/// What the sheet says of an indication by the reading that it measures; and by each one read with a probe of another
/// angle or at another thickness, for which other rows may hold. The severest counts.
fn severest<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: &Sheet<ROWS>,
    indication: u8,
    asked: criteria::Facts,
    rating: &mut Option<(u32, Rating)>,
) -> (criteria::Facts, Decision) {
    let first = (asked.angle, asked.thickness);
    let mut found = (asked, decide(sheet, &asked));
    // Readings of one probe follow each other as a rule: one like the last that was asked is not asked again.
    let mut last = asked;
    for reading in facts.readings_of(indication) {
        let (Some(angle), Some(thickness)) = (angle(facts, reading), thickness(facts, reading)) else {
            continue;
        };
        if (angle, thickness) == first {
            continue;
        }
        let Some((measure, rated)) = measured_alone(facts, sheet, reading) else { continue };
        let question = criteria::Facts { angle, thickness, measure, ..asked };
        if question == last {
            continue;
        }
        last = question;
        let decision = decide(sheet, &question);
        if severity(&decision) > severity(&found.1) {
            *rating = rated;
            found = (question, decision);
        }
    }
    found
}

fn angle(facts: &Facts<'_>, reading: Pooled<'_>) -> Option<Degrees> {
    Some(facts.probe(reading.probe())?.probe()?.nominal())
}

fn thickness(facts: &Facts<'_>, reading: Pooled<'_>) -> Option<Millimetres> {
    let joint = facts.common().joint.as_ref().map(|(_, joint)| joint.thickness());
    reading.thickness().or(joint)
}

type Question = (criteria::Facts, Option<(u32, Rating)>);

fn question<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: &Sheet<ROWS>,
    indication: u8,
    extents: &[Extent],
    point: Option<&Point>,
    planar: Option<bool>,
) -> Result<Question, Blocked> {
    let first = facts.readings_of(indication).next().ok_or(Blocked::NoReading)?;
    let (measure, rated, rating) = measured(facts, sheet.head().measure, indication);
    let reading =
        facts.readings_of(indication).find(|reading| Some(reading.number()) == rated).unwrap_or(first);
    let thickness = thickness(facts, reading).ok_or(Blocked::NoThickness)?;
    let void = Blocked::WithoutPlace { number: reading.number(), reason: Undetermined::ProbeVoid };
    let angle = angle(facts, reading).ok_or(void)?;
    let extent = extents.iter().find(|extent| extent.indication == indication);
    let length = match extent.and_then(|extent| extent.ends) {
        Some((start, end)) => known(start, end, extent.is_some_and(|extent| extent.open)),
        None => Length::Unknown("no length along the weld was found"),
    };
    Ok((criteria::Facts { thickness, angle, measure, length, depth: depth(point), planar }, rating))
}

/// The depth with its uncertainty: near the edge of a zone neither zone is sure.
fn depth(point: Option<&Point>) -> Depth {
    let none = Depth::Unknown("the depth was not found");
    let Some(point) = point else { return none };
    let from = Millimetres::new(math::larger(point.z - point.u_z, 0.0));
    match (from, Millimetres::new(point.z + point.u_z)) {
        (Ok(from), Ok(to)) => Depth::Within { from, to },
        _ => none,
    }
}

fn known(start: Millimetres, end: Millimetres, open: bool) -> Length {
    match Millimetres::new(end.get() - start.get()) {
        Ok(length) => Length::Known { length, open },
        Err(_) => Length::Unknown("the length is out of range"),
    }
}

/// What keeps an accept or a record from being passed on.
fn objection<const ROWS: usize>(
    facts: &Facts<'_>,
    sheet: &Sheet<ROWS>,
    indication: u8,
    extents: &[Extent],
    known: Option<Option<&Point>>,
) -> Option<Blocked> {
    let own = extents.iter().find(|extent| extent.indication == indication);
    let known_sound = own.and_then(|own| own.member).is_some_and(|member| member.sound);
    if let Some(fault) = (!known_sound).then(|| fault(facts, indication, known)).flatten() {
        return Some(fault);
    }
    if own.is_some_and(|own| own.rises_again) {
        return Some(Blocked::RisesAgain);
    }
    let groups = !matches!(sheet.head().group, Group::None);
    if groups && own.is_none_or(|own| own.ends.is_none()) && facts.seen().any(|other| other != indication) {
        return Some(Blocked::WithoutLength);
    }
    let in_force = |other: u8| facts.readings_of(other).next().is_some();
    let mut without =
        extents.iter().filter(|extent| extent.indication != indication && extent.ends.is_none());
    let without = without.find(|extent| groups && in_force(extent.indication));
    without.map(|extent| Blocked::NeighbourWithoutLength { indication: extent.indication })
}
