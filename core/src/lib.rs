//! **halfskip**: the arithmetic of manual angle-beam ultrasonic weld examination, for devices and desks.
//!
//! It computes; it does not qualify anyone, any procedure or any weld. Examination and interpretation belong to
//! certified personnel working to an approved written procedure under the governing code.
//!
//! # Layers
//!
//! Imports only go back in this list, up its lines and from right to left in one; a test holds the picture to the code.
//!
//! ```text
//! math  decimal  error  limits  line           decimal: numbers as text; line: least squares, shared by the fits
//! units/            one quantity a file
//! decimal/entered   a quantity as it was typed
//! decibels  attenuation  laws                  heights and gains, far-field laws
//! side  material  refraction  probe            physics and things
//! beam  joint/                                 edges of the beam; the weld and its cross-section
//! path  curved/                                flat, around a pipe: sound path -> leg, depth, surface distance
//! part                                         either of them, and the legs of a beam in it
//! curve  transfer                              gain lines
//! timebase  anglecheck  linearity  gainaccuracy   calibration
//! locate  level                                a reading's place and strength, with uncertainty
//! columns                                      the same for many readings at once
//! sizing/  views                               height, length, both sides
//! plan/  coverage/  expected/                  before the probe touches steel
//! rating  criteria/                            ratings, sheets and verdicts
//! technique/                                   what an accept asks for
//! entry/                                       the fact, and its frame
//! store/                                       entries on flash memory
//! examination/                                 the fold over entries
//! findings/                                    what the examination says now
//! nature/                                      flaw or shape, planar or not: evidence
//! ```
//!
//! # References
//!
//! Doc comments cite these keys.
//!
//! - **\[R1\]** ISO 17640, ultrasonic testing of welds: frame of reference, legs, velocities 5920 ± 50 and
//!   3255 ± 30 m/s.
//! - **\[R2\]** ISO 16811, sensitivity and range setting: reference curves, transfer correction.
//! - **\[R3\]** JCGM 100:2008 (GUM), first-order propagation of uncertainty.
//! - **\[R4\]** NDE-Ed (Iowa State University), formulas for near field, spread, decibels, tip diffraction.
//! - **\[R5\]** ASTM E494, table X3.1: velocities.
//! - **\[R6\]** NAVSEA T9074-AS-GIB-010/271 revision 1 (2014), linearity and recording limits.
//! - **\[R7\]** Common practice, no source.
//! - **\[R8\]** T.O. 33B-1-1 / TM 1-1500-335-23, wedge table 5-3.
//! - **\[R9\]** AWS D1.1, indication rating d = a − b − c (structure only; its tables are not shipped).
//! - **\[R10\]** UFGS-15216N, 3.5.5: length rule for pressure piping.
//! - **\[R11\]** ISO 22232-2:2020, velocities of the reference steel for probe data.
//! - **\[R12\]** CRC Handbook of Chemistry and Physics, section 14: speed of sound.
//! - **\[R13\]** Preparatory notes for ASNT Level III ultrasonic testing (2014), p. 1285: largest angle on a tube.
//! - **\[R14\]** Elasticity of plane waves at a free surface, as in J. D. Achenbach, Wave Propagation in Elastic Solids
//!   (1973), chapter 5; from memory, and held against the boundary conditions in a test.
//! - **\[R15\]** ISO 23279, characterisation of discontinuities in welds: order of the stages from its contents page,
//!   thresholds and classes of echo dynamics from memory.
#![no_std]

#[cfg(test)]
extern crate std;

pub mod anglecheck;
pub mod attenuation;
pub mod beam;
pub mod columns;
pub mod coverage;
pub mod criteria;
pub mod curve;
pub mod curved;
pub mod decibels;
pub mod decimal;
#[cfg(feature = "record")]
pub mod entry;
pub mod error;
#[cfg(feature = "record")]
pub mod examination;
pub mod expected;
#[cfg(feature = "record")]
pub mod findings;
pub mod gainaccuracy;
pub mod joint;
pub mod laws;
pub mod level;
pub mod limits;
mod line;
pub mod linearity;
pub mod locate;
pub mod material;
pub mod math;
#[cfg(feature = "record")]
pub mod nature;
pub mod part;
pub mod path;
pub mod plan;
pub mod probe;
pub mod rating;
pub mod refraction;
pub mod side;
pub mod sizing;
#[cfg(feature = "record")]
pub mod store;
pub mod technique;
pub mod timebase;
pub mod transfer;
pub mod units;
pub mod views;
