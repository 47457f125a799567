//! Neighbouring indications that a sheet counts as one length.

use heapless::Vec;

use super::marks::Marks;
use super::{Extent, Findings};
use crate::acceptance::criteria::Group;
use crate::evaluate::Reach;
use crate::math;
use crate::units::Millimetres;

/// Members that one group can hold.
const MEMBERS: usize = 64;

/// What a length may be whose end is open.
const LONGEST: Millimetres = Millimetres::constant(Millimetres::RANGE.max);

/// Indications that count as one.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Grouped {
    /// Their places, the asked one first.
    pub members: Vec<u8, MEMBERS>,
    /// Start of the first along the weld.
    pub start: Millimetres,
    /// End of the last.
    pub end: Millimetres,
    /// Whether any end is open, or there are more members.
    pub open: bool,
    /// Whether there are more members than the list holds.
    pub more: bool,
}

impl Grouped {
    /// From the first start to the last end, gaps included.
    #[must_use]
    pub fn length(&self) -> f32 {
        self.end.get() - self.start.get()
    }
}

/// The group that an indication belongs to; none when it stands alone or has no length.
///
/// Two indications join when the gap between them is within the sheet's rule for their own lengths; joining carries on
/// through neighbours. A sheet's rule speaks of distance along the weld only: whether two indications at different
/// depths belong together is for the examiner.
#[must_use]
pub fn grouped(findings: &Findings<'_>, indication: u8) -> Option<Grouped> {
    joined(findings, indication, false)
}

/// The same, or the group that it may belong to: an open end may go on as far as the neighbour, and a length beyond any.
pub(super) fn joined(findings: &Findings<'_>, indication: u8, may_go: bool) -> Option<Grouped> {
    let rule = findings.group_rule();
    if matches!(rule, Group::None) {
        return None;
    }
    let extents = findings.facts().seen().map(|place| findings.ends(place));
    join(rule, extents, findings.ends(indication), may_go)
}

fn join(
    rule: Group,
    extents: impl Iterator<Item = Extent> + Clone,
    own: Extent,
    may_go: bool,
) -> Option<Grouped> {
    let mut last = own.stretch(may_go)?;
    let Reach { mut start, mut end, .. } = last;
    let mut open = own.open || last.is_open();
    let mut members: Vec<u8, MEMBERS> = Vec::new();
    members.push(own.indication).ok()?;
    let mut more = false;
    let (mut taken, mut beside) = (Marks::default(), Marks::default());
    taken.mark(own.indication);
    loop {
        // What no member before joins is compared with the last one only.
        for extent in extents.clone() {
            let stretch = extent.stretch(may_go).filter(|_| !beside.has(extent.indication));
            let stretch = stretch.map(|stretch| stretch.beside(&last, own.around));
            if stretch.is_some_and(|stretch| joins(rule, last, stretch)) {
                beside.mark(extent.indication);
            }
        }
        let next = extents.clone().find(|extent| {
            extent.ends.is_some() && beside.has(extent.indication) && !taken.has(extent.indication)
        });
        let Some((next, stretch)) = next.and_then(|next| Some((next, next.stretch(may_go)?))) else { break };
        if members.push(next.indication).is_err() {
            (more, open) = (true, true);
            break;
        }
        taken.mark(next.indication);
        last = stretch.beside(&last, own.around);
        start = Millimetres::computed(math::smaller(start.get(), last.start.get()));
        end = Millimetres::computed(math::larger(end.get(), last.end.get()));
        open |= next.open || last.is_open();
    }
    // What was joined before the datum counts from there.
    let back = own.around.map_or(0.0, |girth| girth.wrapped(start.get()) - start.get());
    let [start, end] = [start, end].map(|x| Millimetres::computed(x.get() + back));
    (members.len() > 1).then_some(Grouped { members, start, end, open, more })
}

fn joins(rule: Group, one: Reach, other: Reach) -> bool {
    let (first, second) = if one.start <= other.start { (one, other) } else { (other, one) };
    let length = |reach: Reach| {
        let length = if reach.is_open() { LONGEST.get() } else { reach.end.get() - reach.start.get() };
        Millimetres::new(length)
    };
    let open = first.open_end || second.open_start;
    let gap = if open { 0.0 } else { math::larger(0.0, second.start.get() - first.end.get()) };
    match (Millimetres::new(gap), length(first), length(second)) {
        (Ok(gap), Ok(first), Ok(second)) => rule.joins(gap, first, second),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::acceptance::criteria::Multiple;

    fn grouped(rule: Group, extents: &[Extent], indication: usize) -> Option<Grouped> {
        joined(rule, extents, indication, false)
    }

    fn joined(rule: Group, extents: &[Extent], indication: usize, may_go: bool) -> Option<Grouped> {
        join(rule, extents.iter().copied(), extents[indication], may_go)
    }

    fn extent(indication: u8, start: f32, end: f32) -> Extent {
        let ends = Some((Millimetres::constant(start), Millimetres::constant(end)));
        Extent {
            indication,
            ends,
            open: false,
            rises_again: false,
            around: None,
            reach: None,
            level: None,
            proved: Default::default(),
        }
    }

    #[test]
    fn a_chain_of_close_neighbours_is_one_group_and_a_far_one_is_not() {
        let rule = Group::Times(Multiple::new(2, 1).unwrap());
        let extents =
            [extent(0, 0.0, 10.0), extent(1, 30.0, 34.0), extent(2, 42.0, 46.0), extent(3, 90.0, 92.0)];
        let group = grouped(rule, &extents, 2).unwrap();
        assert_eq!((group.start.get(), group.end.get(), group.members.len()), (0.0, 46.0, 3));
        assert_eq!(grouped(rule, &extents, 3), None);
    }

    fn stretch(start: f32, end: f32) -> Reach {
        Reach::closed(Millimetres::constant(start), Millimetres::constant(end))
    }

    #[test]
    fn stretches_that_overlap_or_are_open_towards_each_other_have_no_gap() {
        let rule = Group::Gap(Millimetres::constant(2.0));
        let (one, other) = (stretch(0.0, 10.0), stretch(30.0, 40.0));
        let joins = |one, other| [joins(rule, one, other), joins(rule, other, one)];
        assert_eq!(joins(one, other), [false; 2]);
        assert_eq!(joins(one, stretch(12.0, 40.0)), [true; 2]);
        assert_eq!(joins(one, stretch(4.0, 8.0)), [true; 2]);
        assert_eq!(joins(Reach { open_end: true, ..one }, other), [true; 2]);
        assert_eq!(joins(one, Reach { open_start: true, ..other }), [true; 2]);
        assert_eq!(joins(Reach { open_start: true, ..one }, Reach { open_end: true, ..other }), [false; 2]);
    }

    #[test]
    fn a_group_goes_from_its_first_start_to_its_last_end_and_is_open_where_a_member_is() {
        let rule = Group::Gap(Millimetres::constant(5.0));
        let wide = [extent(0, 20.0, 30.0), extent(1, 0.0, 60.0), extent(2, 25.0, 28.0)];
        let group = grouped(rule, &wide, 0).unwrap();
        assert_eq!((group.start.get(), group.end.get(), group.open), (0.0, 60.0, false));
        for at in 0..3 {
            let mut open = wide;
            open[at].open = true;
            assert!(grouped(rule, &open, 0).unwrap().open, "member {at}");
        }
    }

    #[test]
    fn a_member_that_may_go_on_joins_as_far_as_it_may_and_leaves_the_group_open() {
        let rule = Group::Gap(Millimetres::constant(5.0));
        let with = |own: Extent, reach| Extent { reach: Some(reach), ..own };
        let far = [
            with(extent(0, 0.0, 10.0), stretch(0.0, 10.0)),
            with(extent(1, 40.0, 50.0), Reach { open_start: true, ..stretch(40.0, 50.0) }),
        ];
        assert_eq!(grouped(rule, &far, 0), None);
        for asked in 0..2 {
            let group = joined(rule, &far, asked, true).unwrap();
            assert_eq!((group.start.get(), group.end.get(), group.open), (0.0, 50.0, true));
        }
    }
}
