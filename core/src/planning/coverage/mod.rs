//! Coverage: how much of the weld and its heat-affected zone the beams cross, and what they do not.
//!
//! The volume is the groove between the faces, and the heat-affected zone beside it where its width is known; cap and
//! bead are not in it. It is looked at cell by cell on a raster of [`COLUMNS`] by [`ROWS`]. A cell counts as crossed when
//! the beam's *axis* can be put through its middle: the beam's width is a reserve that is not counted. On a curved part
//! y runs along the scanned surface, and each cell counts with its own area.
//!
//! Two directions differ by the angle between the two lines: beams that meet head-on from both sides are one direction,
//! since a smooth reflector that shows itself to neither hides from both.

mod grid;
mod holes;
mod survey;

pub use grid::{COLUMNS, CellZone, Grid, ROWS};
pub use holes::{Hole, Holes, Reasons};
pub use survey::{APART, Cell, Coverage, Share, survey};
