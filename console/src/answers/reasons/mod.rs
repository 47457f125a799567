//! Answers of the feature `reasons`: how a verdict came about, and how near it is to another.

pub(super) mod margin;
pub(super) mod why;
