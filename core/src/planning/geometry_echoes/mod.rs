//! Expected echoes: where the shape of a joint itself sends sound back.
//!
//! A sound weld has reflectors: the bead's far flank and toe, the cap's edges, a backing bar, the step of a counterbore.
//! Their echoes can be told beforehand, and a reading that lies on one within its uncertainty is *marked* so. That is
//! advice: it never takes an indication away. Edges of the preparation itself - the root's corners, the corners of an
//! upright face - return an echo only where they are not fused, so that they are listed and never explain a reading.

mod echo;
mod matched;
mod reflector;

pub use echo::{Echo, expect};
pub use matched::{DRAWN, Off, Seen, held, with_drawn};
pub use reflector::{Feature, Reflector, ReflectorKind, reflectors};
