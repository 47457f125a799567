//! What the evidence amounts to; where it is thin, nothing.

use core::fmt;

use heapless::Vec;

use super::case::{Case, EVIDENCE, Notes};
use super::contact::AtTheFace;
use super::evidence::{Evidence, Fact, Says};
use super::next::{Next, SUGGESTIONS, suggestions};
use super::orientation::{Orientation, orientation};
use super::stages::{Stage, Thresholds, stages};
use super::{byface, contact, direction, fusion, moving, root};
use crate::evaluate::Indication;
use crate::evaluate::sizing::series::SAMPLES;
use crate::math;
use crate::part::side::Face;
use crate::units::decimal::Fixed;

/// Planar or not.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Shape {
    /// Planar.
    Planar,
    /// Volumetric.
    Volumetric,
}

/// The face that it breaks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Breaks {
    /// The far face.
    FarFace,
    /// The near face.
    NearFace,
    /// Neither: it is buried.
    Neither,
}

/// What lies at a face of the weld.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Root {
    /// A flaw.
    Flaw,
    /// The shape of the weld: bead, cap, mismatch.
    Geometry,
    /// Both.
    Both,
}

/// The character of an indication: advice with its evidence, never a verdict.
///
/// It is shown as one line, "planar, breaking the far face, near the centreline: supported by 5, against 1".
#[derive(Clone, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Nature {
    /// Planar or volumetric; none when the evidence is thin or divided.
    pub shape: Option<Shape>,
    /// The face that it breaks; none when that is not told, or when it is the shape of the weld.
    pub breaks: Option<Breaks>,
    /// Flaw or geometry, of echoes at a face; none where there are none, or nothing tells.
    pub root: Option<Root>,
    /// How a plane leans, where the readings bear it.
    pub orientation: Option<Orientation>,
    /// The classification standard's stages.
    pub stages: [Stage; 5],
    /// Whether the stages speak of it: they do of embedded indications, and it is not known to lie at a face.
    pub staged: bool,
    /// Across the weld, mm, and the expanded uncertainty of that.
    pub y: Option<(f32, f32)>,
    evidence: Vec<Evidence, EVIDENCE>,
    next: Vec<Next, SUGGESTIONS>,
}

impl Nature {
    /// Nothing told yet.
    const fn open() -> Self {
        Self {
            shape: None,
            breaks: None,
            root: None,
            orientation: None,
            stages: Stage::NONE,
            staged: false,
            y: None,
            evidence: Vec::new(),
            next: Vec::new(),
        }
    }

    /// What a sheet may take for known: `Some(true)` when planar, `Some(false)` only when clearly volumetric.
    #[must_use]
    pub const fn planar(&self) -> Option<bool> {
        match self.shape {
            Some(Shape::Planar) => Some(true),
            Some(Shape::Volumetric) => Some(false),
            None => None,
        }
    }

    /// What of it a sheet is asked with: `Some(true)` of a plane, else nothing. Evidence of shape may speak against a
    /// weld, never for it.
    #[must_use]
    pub fn for_sheet(&self) -> Option<bool> {
        self.planar().filter(|planar| *planar)
    }

    /// The evidence, in the order it was found.
    pub fn evidence(&self) -> impl ExactSizeIterator<Item = &Evidence> + Clone {
        self.evidence.iter()
    }

    /// What to do next to settle what is open.
    pub fn next(&self) -> impl ExactSizeIterator<Item = &Next> + Clone {
        self.next.iter()
    }

    /// How a piece of evidence bears on what is told: above 0 for it, below against it.
    #[must_use]
    pub fn bearing(&self, evidence: &Evidence) -> i32 {
        let Says { planar, far, near, buried, flaw } = evidence.says;
        let of_shape = match self.shape {
            Some(Shape::Planar) => i32::from(planar),
            Some(Shape::Volumetric) => -i32::from(planar),
            None => 0,
        };
        let of_face = match self.breaks {
            Some(Breaks::FarFace) => i32::from(far),
            Some(Breaks::NearFace) => i32::from(near),
            Some(Breaks::Neither) => i32::from(buried),
            None => 0,
        };
        let of_root = match self.root {
            Some(Root::Flaw) => i32::from(flaw),
            Some(Root::Geometry) => -i32::from(flaw),
            Some(Root::Both) => i32::from(flaw.unsigned_abs()),
            None => 0,
        };
        of_shape.saturating_add(of_face).saturating_add(of_root)
    }

    /// How many pieces of evidence support what is told, and how many speak against it.
    #[must_use]
    pub fn counts(&self) -> (u32, u32) {
        let count = |wanted: fn(i32) -> bool| {
            self.evidence.iter().filter(|evidence| wanted(self.bearing(evidence))).count() as u32
        };
        (count(|bearing| bearing > 0), count(|bearing| bearing < 0))
    }
}

/// What the shape takes to be told: so much more for planar than against. Common practice, no source, as all below.
const TOLD: i32 = 3;
/// The same for volumetric.
const TOLD_AGAINST: i32 = -TOLD;
/// What the answer of which face it breaks leads the others by.
const LEAD: i32 = 2;
/// What neither face takes to be told, and what one takes: an echo at a face is more often mistaken for a corner than a
/// place inside is for another.
const BURIED: i32 = 2;
const BREAKS: i32 = 3;
/// What a flaw at a face, or the shape of the weld beside one, takes to be told; and what the shape alone takes.
const FIRM: i32 = 2;
const SHAPE_ALONE: i32 = 3;
/// What one fact of place has to say against a flaw for the shape alone to be told.
const PLACED: i8 = -2;
/// So far from the centreline is near it even where the place is known better, mm.
const NEAR: f32 = 1.0;

impl Indication<'_> {
    /// Its character by the default thresholds; each moving series may have 128 readings before it is thinned.
    #[must_use]
    #[inline(never)]
    pub fn character(self) -> Nature {
        self.character_by::<SAMPLES>(&Thresholds::DEFAULT)
    }

    /// Its character by given thresholds; each moving series may have `N` readings before it is thinned to the strongest
    /// of each stretch.
    #[must_use]
    #[inline(never)]
    pub fn character_by<const N: usize>(self, thresholds: &Thresholds) -> Nature {
        let mut nature = Nature::open();
        fill::<N>(self, thresholds, &mut nature);
        nature
    }

    /// What of the character a sheet is asked with: `Some(true)` of a plane, else nothing. The same as
    /// [`Nature::for_sheet`], in less room.
    #[must_use]
    #[inline(never)]
    pub fn plane(self) -> Option<bool> {
        let mut case = Case::new(self);
        case.gather::<SAMPLES>();
        plane_of(&case)
    }
}

/// In a frame of its own, as what follows: what is gathered is gone from the stack when the character is used, and what
/// comes of it is not there yet while it is gathered.
#[inline(never)]
fn fill<const N: usize>(indication: Indication<'_>, thresholds: &Thresholds, nature: &mut Nature) {
    let mut case = Case::new(indication);
    case.gather::<N>();
    weigh(&case, thresholds, nature);
}

#[inline(never)]
fn plane_of(case: &Case<'_>) -> Option<bool> {
    let mut nature = Nature::open();
    weigh(case, &Thresholds::DEFAULT, &mut nature);
    nature.for_sheet()
}

#[inline(never)]
fn weigh(case: &Case<'_>, thresholds: &Thresholds, nature: &mut Nature) {
    nature.stages = stages(case, thresholds);
    let mut notes = Notes { list: &mut nature.evidence };
    let faces = contact::note(case, &mut notes);
    let corner = faces.contains(&Some(AtTheFace::Corner));
    for (face, found) in Face::both().into_iter().zip(faces) {
        // Echoes at a face beside others from inside are by way of it unless they are corners.
        let asked = match found {
            Some(AtTheFace::Corner | AtTheFace::Alone) => true,
            Some(AtTheFace::Untold | AtTheFace::Wide) => case.confirmed().is_none(),
            _ => false,
        };
        if asked {
            root::note(case, face, found == Some(AtTheFace::Wide), &mut notes);
        }
    }
    let inside = !corner && case.confirmed().is_some();
    let directional = direction::note(case, inside, &mut notes);
    if inside {
        byface::note(case, directional, &mut notes);
        fusion::note(case, &mut notes);
    }
    moving::note(case, inside, &mut notes);
    high(case, thresholds, &mut notes);
    let breaks = breaks(&notes);
    let root = root_of(&notes, breaks);
    // A flaw at a face is told only where it is told to break one.
    let flaw = matches!(root, Some(Root::Flaw | Root::Both));
    // Whether it breaks a face is told of a flaw, not of an echo that may be the shape of the weld.
    let breaks = breaks.filter(|breaks| *breaks == Breaks::Neither || flaw);
    if flaw {
        notes.add(Fact::CornerOfFlaw, Says::planar(3));
    }
    let shape = shape_of(&notes, root);
    let facts = notes.list.iter().map(|evidence| evidence.fact);
    nature.next = suggestions(case, (shape.is_some(), breaks, root), facts);
    nature.shape = shape;
    nature.breaks = breaks;
    nature.root = root;
    nature.orientation =
        orientation(case).filter(|_| shape == Some(Shape::Planar) && breaks == Some(Breaks::Neither));
    nature.staged = root.is_none();
    nature.y = place(case, breaks);
}

/// Where across the weld it lies: the place inside, else the mean of what lies at the face.
fn place(case: &Case<'_>, breaks: Option<Breaks>) -> Option<(f32, f32)> {
    if let Some(main) = case.main().filter(|_| !matches!(breaks, Some(Breaks::FarFace | Breaks::NearFace))) {
        return Some((main.y, main.u_y));
    }
    let point = case.indication.place()?;
    Some((point.y, point.u_y))
}

/// The strongest level against the limit from which the classification standard calls a reflector planar.
fn high(case: &Case<'_>, thresholds: &Thresholds, notes: &mut Notes) {
    let limit = thresholds.planar.level.get();
    let strongest = case
        .echoes
        .iter()
        .filter_map(|echo| Some((echo.seen_level()?, echo.site.at_or_past().map(|at| at.0))));
    let strongest = math::largest_by(strongest, |(level, _)| *level);
    if let Some((level, at)) = strongest.filter(|(level, _)| *level >= limit) {
        let says = at.map_or(Says::NOTHING, |face| Says::breaks(face, 1)).and_planar(1);
        notes.add(Fact::High { level, limit }, says);
    }
}

/// The face whose evidence leads that of the others, and is enough.
fn breaks(notes: &Notes) -> Option<Breaks> {
    let answers = [
        (notes.sum(|says| says.far), Breaks::FarFace),
        (notes.sum(|says| says.near), Breaks::NearFace),
        (notes.sum(|says| says.buried), Breaks::Neither),
    ];
    let (most, best) = math::largest_by(answers.into_iter(), |(sum, _)| *sum)?;
    let leads = answers.iter().all(|(sum, answer)| *answer == best || *sum <= most.saturating_sub(LEAD));
    let enough = if best == Breaks::Neither { BURIED } else { BREAKS };
    (most >= enough && leads).then_some(best)
}

/// Planar or not, where the evidence is enough; the shape of the weld is neither.
fn shape_of(notes: &Notes, root: Option<Root>) -> Option<Shape> {
    match notes.sum(|says| says.planar) {
        _ if root == Some(Root::Geometry) => None,
        TOLD.. => Some(Shape::Planar),
        ..=TOLD_AGAINST => Some(Shape::Volumetric),
        _ => None,
    }
}

fn root_of(notes: &Notes, breaks: Option<Breaks>) -> Option<Root> {
    let flaw = notes.sum(|says| says.flaw.max(0));
    let shape = notes.sum(|says| says.flaw.min(0)).saturating_neg();
    if breaks == Some(Breaks::Neither) {
        return None;
    }
    // Levels alone do not make it the shape of the weld: its place must.
    let placed = notes.list.iter().any(|evidence| {
        let position = matches!(
            evidence.fact,
            Fact::Crossed { .. } | Fact::PastFace { .. } | Fact::LikeCleanLength { .. }
        );
        position && evidence.says.flaw <= PLACED
    });
    // A flaw at a face is told of what is told to lie there.
    let there = breaks.is_some();
    match (flaw, shape) {
        (FIRM.., FIRM..) if there => Some(Root::Both),
        (FIRM.., ..FIRM) if there => Some(Root::Flaw),
        (..FIRM, SHAPE_ALONE..) if placed => Some(Root::Geometry),
        _ => None,
    }
}

impl fmt::Display for Nature {
    /// The advice in one line.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if (self.shape, self.breaks, self.root) == (None, None, None) {
            return f.write_str("undetermined: the evidence is thin or divided");
        }
        let mut words = 0u32;
        let mut say = |f: &mut fmt::Formatter<'_>, word: &str| {
            let comma = if words == 0 { "" } else { ", " };
            words = words.saturating_add(1);
            write!(f, "{comma}{word}")
        };
        match self.root {
            Some(Root::Geometry) => say(f, "the shape of the weld")?,
            Some(Root::Both) => say(f, "a flaw and the shape of the weld beside it")?,
            Some(Root::Flaw) | None => {}
        }
        match self.shape {
            Some(Shape::Planar) => say(f, "planar")?,
            Some(Shape::Volumetric) => say(f, "volumetric")?,
            None if self.root != Some(Root::Geometry) => say(f, "shape undetermined")?,
            None => {}
        }
        match self.breaks {
            Some(Breaks::FarFace) => say(f, "breaking the far face")?,
            Some(Breaks::NearFace) => say(f, "breaking the near face")?,
            Some(Breaks::Neither) => say(f, "buried")?,
            None => {}
        }
        match self.y {
            Some((y, u)) if y.abs() <= math::larger(u, NEAR) => say(f, "near the centreline")?,
            Some((y, _)) => {
                say(f, "")?;
                let side = if y.is_sign_negative() { "A" } else { "B" };
                write!(f, "{} mm from the centreline on side {side}", Fixed(y.abs(), 1))?;
            }
            None => {}
        }
        let (supported, against) = self.counts();
        write!(f, ": supported by {supported}, against {against}")
    }
}

#[cfg(test)]
mod tests;
