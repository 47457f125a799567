//! The values of one line, each read as the type that its key stands for.

mod choices;
mod fields;
mod lists;
mod numbers;
mod reader;
mod texts;

#[cfg(feature = "planning")]
pub use choices::Faces;
pub(crate) use choices::{Choice, Curve, Seen, YesNo};
pub(crate) use fields::{At, Fields, at};
pub(crate) use reader::{Reader, Reads};
