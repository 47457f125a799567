//! Technique sheets: what has to be known before an accept counts.
//!
//! A sheet names grounds, such as a good check after the reading or a measured angle, and the limits of some. Without a
//! sheet the built-in minimum holds, which is common practice without a source \[R7\]. Like an acceptance sheet it is
//! data: transcribed from a procedure, checked when it is read, and it says who compared it with its source.
//!
//! ```
//! use halfskip::acceptance::technique::{Ground, Grounds, Technique, TechniqueError, Terms, Texts};
//! use halfskip::units::Decibels;
//!
//! assert!(Technique::MINIMUM.asks.contains(Ground::Angle));
//! let mut terms = Terms::asking(Grounds::from_iter([Ground::Reference, Ground::Transfer]));
//! terms.transfer_to = Some(Decibels::constant(6.0));
//! let texts = Texts::new("invented", "no document");
//! let technique = Technique::new(texts.clone(), terms.clone())?;
//! assert!(technique.left_out().contains(Ground::Angle), "it asks less than the minimum, and says so");
//!
//! terms.transfer_from = Some(Decibels::constant(9.0));
//! let error = Technique::new(texts, terms).unwrap_err();
//! assert_eq!(error.to_string(), "transfer-from 9 dB is above transfer-to 6 dB");
//! # Ok::<(), TechniqueError>(())
//! ```

mod error;
mod ground;
mod sheet;
mod terms;

pub use error::TechniqueError;
pub use ground::{Ground, Grounds};
pub use sheet::{Technique, Texts};
pub use terms::Terms;
