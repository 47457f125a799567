//! Ratings, criteria sheets and technique sheets: what a procedure asks, as data.

pub mod criteria;
pub mod rating;
pub mod technique;
