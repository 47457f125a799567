//! Functions of the library, each by itself, against what is known of it from elsewhere: published values, references,
//! laws, and the same worked out a second way.

mod accuracy;
mod at_the_edges;
mod columns;
mod coverage;
mod criteria_properties;
mod criteria_sheets;
mod curved;
mod error_texts;
mod length;
mod monte_carlo;
mod placed;
mod plan;
mod properties;
mod published;
mod reference_f64;
mod simulated;
mod small_functions;
mod technique_sheets;
mod views;
