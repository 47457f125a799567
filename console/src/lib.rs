//! The shell.
