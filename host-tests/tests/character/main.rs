//! Whether a reflector is planar, breaks a face, is a flaw at all.

mod nature;
mod nature_seen;
mod nature_synthetic;
