//! **halfskip**: the arithmetic of manual angle-beam ultrasonic weld examination, for devices and desks.
//!
//! It computes; it does not qualify anyone, any procedure or any weld. Examination and interpretation belong to
//! certified personnel working to an approved written procedure under the governing code.
//!
//! # Layers
//!
//! A room may use those above it in this list and no other; a test holds the picture to the code.
//!
//! ```text
//! math          elementary functions, the same bits everywhere; least squares
//! units         quantities, what can be refused, numbers as text
//! physics       materials, refraction, probes, beams, decibels, far-field laws
//! part          the joint and its section, flat and curved paths: sound path -> leg, depth, surface distance, place
//! calibration   time base, angle, reference curve, transfer, linearity, gain; a reading's level
//! acceptance    ratings, criteria sheets and technique sheets as data
//! planning      scan plan, coverage, geometry echoes
//! record        the entry, its frame, the store on flash, the examination
//! evaluate      an examination evaluated, an indication each: place, level, scans, length, height
//! character     flaw or shape, planar or not: evidence
//! findings      grounds, cautions, verdict: what an examination says now
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

pub mod acceptance;
pub mod calibration;
#[cfg(feature = "record")]
pub mod character;
pub mod evaluate;
#[cfg(feature = "record")]
pub mod findings;
pub mod math;
pub mod part;
pub mod physics;
pub mod planning;
#[cfg(feature = "record")]
pub mod record;
pub mod units;

/// Its strings and lists are in entries, sheets and findings: whoever makes them needs the version used here.
pub use heapless;
