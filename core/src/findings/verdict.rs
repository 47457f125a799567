//! What the sheet says of an indication, and what stands in the way of believing a good word.

use core::fmt;

use super::fault::fault;
use super::group::joined;
use super::measure::{measured, measured_alone, strongest_of};
use super::{Blocked, Findings, Grouped, Indication, Point, Undetermined, grouped};
use crate::acceptance::criteria::{
    self, Class, Criteria, Decision, Depth, Group, LengthAlong, Missing, decide,
};
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
    pub own: Option<(criteria::Asked, Decision)>,
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

impl Indication<'_> {
    /// What the sheet in force says; none without a sheet.
    ///
    /// Where a row asks for the shape it is a plane by the evidence, or nothing: without the feature `character` it is
    /// never settled. `place` is its [`place`](Self::place).
    #[must_use]
    pub fn verdict(self, place: Option<&Point>) -> Option<VerdictFinding> {
        self.findings().sheet().map(|sheet| verdict(self, sheet, plane(self, sheet), place))
    }
}

#[cfg(feature = "character")]
fn plane(indication: Indication<'_>, sheet: &Criteria) -> Option<bool> {
    sheet.rows().iter().any(|row| row.shape != criteria::RowShape::Any).then(|| indication.plane()).flatten()
}

#[cfg(not(feature = "character"))]
const fn plane(_: Indication<'_>, _: &Criteria) -> Option<bool> {
    None
}

fn verdict(
    indication: Indication<'_>,
    sheet: &Criteria,
    planar: Option<bool>,
    place: Option<&Point>,
) -> VerdictFinding {
    let findings = indication.findings();
    let mut finding = VerdictFinding {
        verdict: None,
        class: Class::new(),
        rating: None,
        own: None,
        group: None,
        blocked: None,
    };
    let asked = match question(indication, place, planar) {
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
    let (asked, own) = severest(indication, sheet, first, &mut finding.rating);
    let ask = |group: &Grouped| {
        let length = known(group.start, group.end, group.open);
        let measure = strongest_of(findings, group);
        decide(sheet, &criteria::Asked { length, measure, ..asked })
    };
    let number = indication.number();
    let group = grouped(findings, number);
    let group = group.map(|group| GroupVerdict { decision: ask(&group), group });
    let deciding = match &group {
        Some(group) if severity(&group.decision) > severity(&own) => &group.decision,
        _ => &own,
    };
    (finding.verdict, finding.class) = (deciding.verdict, deciding.class.clone());
    if matches!(finding.verdict, Some(criteria::Verdict::Accept | criteria::Verdict::Record)) {
        let alone = [number];
        let may_be = joined(findings, number, true);
        let members = may_be.as_ref().map_or(alone.as_slice(), |group| &group.members);
        let more = may_be.as_ref().is_some_and(|group| group.more);
        let more = more.then_some(Blocked::TooManyNeighbours { asked: members.len() as u32 });
        let objection = |member: &u8| {
            if findings.ends(*member).proved.sound {
                return None;
            }
            let found = if *member == number {
                objection(indication, place)
            } else {
                let member = findings.indication(*member);
                objection(member, member.place().as_ref())
            };
            findings.prove(*member, |proved| proved.sound = found.is_none());
            found
        };
        let further = || {
            let by = further(findings, members, group.as_ref().map(|group| &group.group))?;
            let reach = findings.ends(number).reach?;
            let length = known(reach.start, reach.end, reach.is_open());
            let another = |said: &Decision, than: &Decision| {
                let alike = severity(said) == severity(than);
                severity(said) > severity(deciding) || alike && said.class != than.class
            };
            let than = group.as_ref().map_or(&own, |group| &group.decision);
            let longer = criteria::Asked { length, ..first };
            let (_, longer) = severest(indication, sheet, longer, &mut None);
            let another =
                another(&longer, &own) || may_be.as_ref().is_some_and(|group| another(&ask(group), than));
            another.then_some(by)
        };
        let unmet = || {
            let verdict = finding.verdict?;
            members.iter().find_map(|member| {
                let (member, neighbour) = (*member, *member != number);
                if findings.ends(member).proved.grounded {
                    return None;
                }
                let ground = findings.indication(member).first_unmet();
                findings.prove(member, |proved| proved.grounded = ground.is_none());
                let ground = ground?;
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
fn further(findings: &Findings<'_>, members: &[u8], group: Option<&Grouped>) -> Option<Blocked> {
    let by = |member: &u8| Blocked::by(&findings.ends(*member).reach?);
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
fn severest(
    indication: Indication<'_>,
    sheet: &Criteria,
    asked: criteria::Asked,
    rating: &mut Option<(u32, Rating)>,
) -> (criteria::Asked, Decision) {
    let facts = indication.facts();
    let first = (asked.angle, asked.thickness);
    let mut found = (asked, decide(sheet, &asked));
    // Readings of one probe follow each other as a rule: one like the last that was asked is not asked again.
    let mut last = asked;
    for reading in indication.readings() {
        let (Some(angle), Some(thickness)) = (angle(facts, reading), facts.thickness_of(reading)) else {
            continue;
        };
        if (angle, thickness) == first {
            continue;
        }
        let Some((measure, rated)) = measured_alone(indication.findings(), reading) else { continue };
        let question = criteria::Asked { angle, thickness, measure, ..asked };
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

type Question = (criteria::Asked, Option<(u32, Rating)>);

fn question(
    indication: Indication<'_>,
    place: Option<&Point>,
    planar: Option<bool>,
) -> Result<Question, Blocked> {
    let facts = indication.facts();
    let first = indication.readings().next().ok_or(Blocked::NoReading)?;
    let (measure, rated, rating) = measured(indication);
    let reading = indication.readings().find(|reading| Some(reading.number()) == rated).unwrap_or(first);
    let thickness = facts.thickness_of(reading).ok_or(Blocked::NoThickness)?;
    let void = Blocked::WithoutPlace { number: reading.number(), reason: Undetermined::ProbeVoid };
    let angle = angle(facts, reading).ok_or(void)?;
    let extent = indication.findings().ends(indication.number());
    let length = match extent.ends {
        Some((start, end)) => known(start, end, extent.open),
        None => LengthAlong::Unknown(Missing::NoLength),
    };
    Ok((criteria::Asked { thickness, angle, measure, length, depth: depth(place), planar }, rating))
}

/// The depth with its uncertainty: near the edge of a zone neither zone is sure.
fn depth(point: Option<&Point>) -> Depth {
    let none = Depth::Unknown(Missing::NoDepth);
    let Some(point) = point else { return none };
    let from = Millimetres::new(math::larger(point.z - point.u_z, 0.0));
    match (from, Millimetres::new(point.z + point.u_z)) {
        (Ok(from), Ok(to)) => Depth::Within { from, to },
        _ => none,
    }
}

fn known(start: Millimetres, end: Millimetres, open: bool) -> LengthAlong {
    match Millimetres::new(end.get() - start.get()) {
        Ok(length) => LengthAlong::Known { length, open },
        Err(_) => LengthAlong::Unknown(Missing::LengthOutOfRange),
    }
}

/// What keeps an accept or a record from being passed on.
fn objection(indication: Indication<'_>, place: Option<&Point>) -> Option<Blocked> {
    let findings = indication.findings();
    if let Some(fault) = fault(indication, place) {
        return Some(fault);
    }
    let own = findings.ends(indication.number());
    if own.rises_again {
        return Some(Blocked::RisesAgain);
    }
    if matches!(findings.group_rule(), Group::None) {
        return None;
    }
    let mut others = findings.facts().seen().filter(|other| *other != indication.number());
    if own.ends.is_none() && others.clone().next().is_some() {
        return Some(Blocked::WithoutLength);
    }
    let without = others.find(|other| findings.ends(*other).ends.is_none());
    without.map(|indication| Blocked::NeighbourWithoutLength { indication })
}
