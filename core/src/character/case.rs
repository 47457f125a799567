//! Everything that is weighed of one indication, gathered once.

use heapless::Vec;

use super::byface::ByFace;
use super::direction::{Direction, directions};
use super::echo::{ECHOES, Echo, add_run, peaked, thickness};
use super::evidence::{Evidence, Fact, Says};
use super::group::{GROUPS, Group, group};
use super::moving::{Moved, moved};
use super::run::{Members, Run, runs};
use super::site::Site;
use crate::evaluate::Indication;
use crate::math;
use crate::part::side::{Face, Side};
use crate::record::entry::{PointPeaked, Sweep};
use crate::record::examination::{Facts, Observed};

/// Pieces of evidence that one indication can have.
pub const EVIDENCE: usize = 32;
/// Moving series whose look is kept.
pub(super) const MOVED: usize = 12;
/// Readings whose look elsewhere is told.
pub(super) const ELSEWHERE: usize = 4;

/// A place so far under the strongest echo, and beside it, is left out, dB. Common practice, no source.
const IDLE: f32 = 20.0;

/// What is weighed.
pub(super) struct Case<'a> {
    pub facts: &'a Facts<'a>,
    pub indication: Indication<'a>,
    pub echoes: Vec<Echo<'a>, ECHOES>,
    pub groups: Vec<Group, GROUPS>,
    pub moved: Vec<Moved, MOVED>,
    pub by_face: Vec<ByFace, MOVED>,
    pub directions: Vec<Direction, ECHOES>,
    /// Readings of echoes that were looked for in vain beside the indication, and how far beside it.
    pub elsewhere: Vec<(u32, f32), ELSEWHERE>,
    pub observed: Observed,
    /// The thickness of the joint, or of the first reading that gives one.
    pub thickness: Option<f32>,
}

impl<'a> Case<'a> {
    /// Nothing gathered yet.
    pub fn new(indication: Indication<'a>) -> Self {
        let facts = indication.facts();
        Self {
            facts,
            indication,
            echoes: Vec::new(),
            groups: Vec::new(),
            moved: Vec::new(),
            by_face: Vec::new(),
            directions: Vec::new(),
            elsewhere: Vec::new(),
            observed: indication.observed(),
            thickness: indication.readings().find_map(|reading| thickness(facts, reading)),
        }
    }

    /// Gathers in its place, which is too large to be moved about on the stack of a device; each moving series may have
    /// `N` readings before it is thinned.
    #[inline(never)]
    pub fn gather<const N: usize>(&mut self) {
        let (facts, indication) = (self.facts, self.indication);
        peaked(indication, &mut self.echoes);
        let runs = runs(indication);
        for run in &runs {
            self.look_at::<N>(*run);
        }
        self.groups = group(facts, &mut self.echoes);
        join_past(facts, &mut self.echoes, &self.groups);
        if let Some(main) = self.main() {
            for run in runs.iter().filter(|run| run.sweep == Sweep::Across) {
                self.look_by_face::<N>(*run, &main);
            }
        }
        self.look_from_directions();
    }

    /// Takes the echoes of one run and how they look.
    #[inline(never)]
    fn look_at<const N: usize>(&mut self, run: Run) {
        let mut members = Members::<N>::new(run);
        self.part(&mut members);
        let before = self.echoes.len();
        add_run(self.facts, &members, &mut self.echoes);
        let own = self.echoes.iter().skip(before);
        if let Some(moved) = moved(self.facts, &members, own) {
            // Beyond the capacity the look of a series is not kept; its echoes are.
            let _ = self.moved.push(moved);
        }
    }

    #[inline(never)]
    fn look_by_face<const N: usize>(&mut self, run: Run, main: &Group) {
        let mut members = Members::<N>::new(run);
        self.part(&mut members);
        if let Some(by_face) = ByFace::of(self, &members, main) {
            let _ = self.by_face.push(by_face);
        }
    }

    #[inline(never)]
    fn look_from_directions(&mut self) {
        (self.directions, self.elsewhere) = directions(self);
    }

    fn part<const N: usize>(&self, members: &mut Members<'a, N>) {
        members.fill(self.indication);
        let axis = self.facts.probe(members.run().probe).and_then(|state| state.axis());
        members.part(axis.map_or(1.0, |axis| axis.sin()), self.facts.common().budget.path.get());
    }

    /// The place inside that most stands saw, one that a first leg saw before any other: later legs bring echoes that
    /// went more ways than one.
    pub fn main(&self) -> Option<Group> {
        let groups = || self.groups.iter().zip(0u8..).filter(|(_, number)| !self.idle(*number));
        let direct = groups().find(|(group, _)| group.direct);
        direct.or_else(|| groups().next()).map(|(group, _)| *group)
    }

    /// Whether a place inside is far weaker than the strongest echo and lies beside it: no part of what that is.
    fn idle(&self, number: u8) -> bool {
        let peaks = self.echoes.iter().filter(|echo| !echo.cut);
        let strongest = math::largest_by(peaks, |echo| echo.strength);
        let own = self.echoes.iter().filter(|echo| echo.group == Some(number));
        let (Some(strongest), Some(own), Some(group)) =
            (strongest, largest(own.map(|echo| echo.strength)), self.groups.get(usize::from(number)))
        else {
            return false;
        };
        let y = strongest.at_face.map_or(strongest.y, |at| at.y);
        strongest.strength - own > IDLE && (group.y - y).abs() > group.u_y + strongest.u_y
    }

    /// Echoes at a face, told by depth or peaked as a corner of it.
    pub fn at(&self, face: Face) -> impl Iterator<Item = &Echo<'a>> + Clone {
        self.echoes.iter().filter(move |echo| echo.site.face() == Some(face))
    }

    /// Echoes past a face that nothing inside explains.
    pub fn past(&self, face: Face) -> impl Iterator<Item = &Echo<'a>> + Clone {
        let past = move |echo: &&Echo<'a>| matches!(echo.site, Site::Past { face: past, .. } if past == face);
        self.echoes.iter().filter(past)
    }

    /// Echoes from inside, tips among them.
    pub fn inside(&self) -> impl Iterator<Item = &Echo<'a>> + Clone {
        self.echoes.iter().filter(|echo| echo.site.inside().is_some())
    }

    /// The place inside, where at least two stands saw it, and one by a first leg if anything was seen so.
    pub fn confirmed(&self) -> Option<Group> {
        let first_leg = self.echoes.iter().any(|echo| echo.leg == 1);
        self.main().filter(|main| main.stands > 1 && (main.direct || !first_leg))
    }

    /// Whether the joint lets the probe be used on a side.
    pub fn reaches(&self, side: Side) -> bool {
        let joint = self.facts.common().joint.as_ref();
        joint.is_none_or(|(_, joint)| joint.spec().reaches(side))
    }

    /// How many echoes of this kind the examiner peaked.
    pub fn peaked(&self, wanted: impl Fn(PointPeaked) -> bool) -> u32 {
        self.echoes.iter().filter(|echo| wanted(echo.reading.point())).count() as u32
    }

    /// Whether the examiner peaked a corner with a face.
    pub fn corner_peaked(&self, face: Face) -> bool {
        self.at(face).any(|echo| echo.reading.point() == PointPeaked::Corner)
    }
}

/// An echo past a face that a place inside explains was seen by the next leg: it joins that place.
fn join_past<'a>(facts: &Facts<'a>, echoes: &mut [Echo<'a>], groups: &[Group]) {
    for echo in echoes {
        let Site::Past { face, by, .. } = echo.site else { continue };
        let Some(t) = thickness(facts, echo.reading) else { continue };
        let z = if face == Face::Far { t - by } else { by };
        let fits = |group: &Group| {
            let (y, z) = (group.y - echo.y, group.z - z);
            y * y <= group.u_y * group.u_y + echo.u_y * echo.u_y
                && z * z <= group.u_z * group.u_z + echo.u_depth * echo.u_depth
        };
        if let Some(number) = groups.iter().position(fits) {
            (echo.site, echo.group) = (Site::Inside { z }, Some(number as u8));
        }
    }
}

/// The evidence so far.
pub(super) struct Notes<'n> {
    pub list: &'n mut Vec<Evidence, EVIDENCE>,
}

impl Notes<'_> {
    /// Adds a fact; beyond the capacity those that settle nothing make room first.
    pub fn add(&mut self, fact: Fact, says: Says) {
        let Err(evidence) = self.list.push(Evidence { fact, says }) else { return };
        if let Some(idle) = self.list.iter_mut().find(|held| held.says == Says::NOTHING) {
            *idle = evidence;
        }
    }

    /// The larger of the weights of one answer, added up.
    pub fn sum(&self, weight: impl Fn(&Says) -> i8) -> i32 {
        self.list.iter().map(|evidence| i32::from(weight(&evidence.says))).fold(0, i32::saturating_add)
    }
}

/// The largest of some numbers.
pub(super) fn largest(values: impl Iterator<Item = f32>) -> Option<f32> {
    values.reduce(math::larger)
}

/// The smallest of some numbers.
pub(super) fn smallest(values: impl Iterator<Item = f32>) -> Option<f32> {
    values.reduce(math::smaller)
}

#[cfg(test)]
mod tests {
    use super::super::evidence::Fact;
    use super::super::fixture::{at_far, case, echo, inside, job, last, noted, of, place, record, seen};
    use super::*;
    use crate::record::entry::ReadingEntry;

    #[test]
    fn a_place_more_than_20_decibels_under_the_strongest_and_beside_it_is_idle() {
        let job = job([45.0]);
        let facts = job.facts();
        // The strongest known to 3 mm, the place to 2.
        let idle = |y: f32, strength: f32| {
            let strongest = at_far(Echo { u_y: 3.0, ..echo(&facts, 0, Side::A) }, y, 20.0);
            let own = Echo { group: Some(0), ..inside(echo(&facts, 0, Side::B), 3.0, 10.0, strength) };
            case(&facts, &[own, strongest], &[Group { u_y: 2.0, ..place(3.0, 10.0) }]).idle(0)
        };
        assert!(idle(-2.5, -0.5) && idle(8.5, -0.5));
        assert!(!idle(-2.5, 0.0), "20 dB under it");
        assert!(!idle(-2.0, -0.5) && !idle(8.0, -0.5), "5 mm beside it");
    }

    #[test]
    fn a_corner_was_peaked_at_the_face_that_it_lies_at() {
        let mut job = job([45.0]);
        record(&mut job, ReadingEntry { point: PointPeaked::Corner, ..seen("0", Side::A) });
        let facts = job.facts();
        let corner = at_far(of(&facts, last(&facts)), 0.0, 0.0);
        let peaked = |echo| Face::both().map(|face| case(&facts, &[echo], &[]).corner_peaked(face));
        assert_eq!(peaked(corner), [false, true]);
        assert_eq!(peaked(at_far(echo(&facts, 0, Side::A), 0.0, 0.0)), [false, false]);
    }

    /// Uncertainties of 3 and 4 mm make one of 5.
    #[test]
    fn an_echo_past_a_face_joins_a_place_within_both_their_uncertainties() {
        let job = job([45.0]);
        let facts = job.facts();
        let joined = |y: f32, z: f32| {
            // 3 mm past the far face of 20 mm: by the next leg at z 17.
            let site = Site::Past { face: Face::Far, n: 1, by: 3.0 };
            let mut echoes = [Echo { site, u_y: 4.0, u_depth: 4.0, ..echo(&facts, 0, Side::A) }];
            join_past(&facts, &mut echoes, &[Group { u_y: 3.0, u_z: 3.0, ..place(y, z) }]);
            echoes.first().and_then(|echo| echo.site.inside().zip(echo.group))
        };
        for (y, z) in [(0.0, 17.0), (5.0, 17.0), (-5.0, 17.0), (0.0, 12.0), (0.0, 22.0)] {
            assert_eq!(joined(y, z), Some((17.0, 0)), "{y} {z}");
        }
        for (y, z) in [(5.5, 17.0), (-5.5, 17.0), (0.0, 11.5), (0.0, 22.5)] {
            assert_eq!(joined(y, z), None, "{y} {z}");
        }
    }

    #[test]
    fn beyond_the_capacity_what_settles_nothing_makes_room_and_nothing_else_does() {
        let fact = |readings: usize| Fact::TipPeaked { readings: readings as u32 };
        let list = noted(|notes| {
            for number in 0..EVIDENCE {
                notes.add(fact(number), if number == 5 { Says::NOTHING } else { Says::planar(1) });
            }
            notes.add(fact(100), Says::planar(2));
            notes.add(fact(101), Says::planar(2));
        });
        let held = list.iter().map(|evidence| evidence.fact);
        let expected = (0..EVIDENCE).map(|number| fact(if number == 5 { 100 } else { number }));
        assert!(held.eq(expected));
    }

    #[test]
    fn the_largest_and_the_smallest_are_those_of_all() {
        let numbers = || [2.0, -3.0, 7.0, 1.0].into_iter();
        assert_eq!((largest(numbers()), smallest(numbers())), (Some(7.0), Some(-3.0)));
        assert_eq!((largest([].into_iter()), smallest([].into_iter())), (None, None));
    }
}
