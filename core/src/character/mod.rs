//! Flaw or shape, planar or not: what the readings bear, as evidence that can be read and disputed.
//!
//! It answers as a careful examiner writes it down: what was seen, with figures; what that says for and against; and
//! only then what it amounts to, which is nothing where the evidence is thin or divided. It is advice and never a
//! verdict: characterisation belongs to certified personnel.
//!
//! ```text
//! series  walk                  the curve that a moving probe draws; the depth that its walk gives
//! sample  run  echo  site       readings, parted into echoes; where in the thickness each lies
//! group  crossing               echoes at one place inside; one face seen from both sides
//! contact  byface               does it break a face
//! root  corner                  flaw or the shape of the weld
//! direction  orientation  fusion   levels by direction; how a plane leans; prepared faces
//! moving  beamwidth             classes of echo dynamics; swivelled, led around, along
//! stages                        the classification standard's order
//! evidence  fact  wording  told    facts, what they say, and their words
//! decide  next                  what it amounts to, and what would settle the rest
//! ```
//!
//! The weights of evidence are not probabilities: no uncertainty of measurement was found that they could be derived
//! from. They are counts, firm evidence counting two or three, and the facts stand beside them.

mod beamwidth;
mod byface;
mod case;
mod contact;
mod corner;
mod crossing;
mod decide;
mod direction;
mod echo;
mod evidence;
mod fact;
#[cfg(test)]
mod fixture;
mod fusion;
mod group;
mod moving;
mod next;
mod orientation;
mod root;
mod run;
mod sample;
mod series;
mod site;
mod stages;
mod told;
mod walk;
mod wording;

pub use beamwidth::BeamTravel;
pub use case::EVIDENCE;
pub use corner::{corner_strength, shear_reflected};
pub use decide::{Breaks, Nature, Root, Shape};
pub use evidence::{Evidence, Fact, Pattern, PatternSeen, Says};
pub use next::{Next, SUGGESTIONS};
pub use orientation::{From, Orientation};
pub use series::{Profile, Step, Width, profile};
pub use stages::{Asked, Class, Outcome, Provenance, Stage, Threshold, Thresholds};
pub use walk::{Pace, Walk, walk};
