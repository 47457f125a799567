//! Which cells of the raster the beams cross.

use heapless::Vec;

use super::{COLUMNS, CellZone, Grid, ROWS, Reasons};
use crate::math;
use crate::part::joint::{Joint, Point};
use crate::planning::plan::{Aim, Barrier, MAX_LEGS, Scan};
use crate::units::Degrees;

/// How far two directions lie apart to count as two, degrees.
pub const APART: f32 = 10.0;

/// One cell of the volume, looked at.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Cell {
    /// Its column.
    pub column: u8,
    /// Its row.
    pub row: u8,
    /// Its middle.
    pub at: Point,
    /// Its area, mm².
    pub area: f32,
    /// What it belongs to.
    pub zone: CellZone,
    /// Whether a beam crosses it.
    pub crossed: bool,
    /// Whether beams cross it in two directions.
    pub twice: bool,
    /// The legs that cross it, leg 1 first.
    pub legs: [bool; MAX_LEGS as usize],
    /// What kept the other beams from it.
    pub kept: Reasons,
}

/// Areas of one zone, mm².
#[derive(Clone, Copy, PartialEq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Share {
    /// The whole zone.
    pub area: f32,
    /// Crossed by a beam.
    pub crossed: f32,
    /// Crossed in two directions at least [`APART`].
    pub twice: f32,
    /// Crossed by each leg.
    pub legs: [f32; MAX_LEGS as usize],
}

impl Share {
    fn add(&mut self, cell: &Cell) {
        self.area += cell.area;
        self.crossed += if cell.crossed { cell.area } else { 0.0 };
        self.twice += if cell.twice { cell.area } else { 0.0 };
        for (sum, crosses) in self.legs.iter_mut().zip(cell.legs) {
            *sum += if crosses { cell.area } else { 0.0 };
        }
    }

    /// Both zones together.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        let mut legs = self.legs;
        for (sum, more) in legs.iter_mut().zip(other.legs) {
            *sum += more;
        }
        Self {
            area: self.area + other.area,
            crossed: self.crossed + other.crossed,
            twice: self.twice + other.twice,
            legs,
        }
    }

    /// An area as a fraction of the zone's, 0 to 1; `None` of a zone without area.
    #[must_use]
    pub fn of(&self, area: f32) -> Option<f32> {
        (self.area > 0.0).then(|| area / self.area)
    }
}

/// What the beams cross.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Coverage {
    /// Of the weld between the faces.
    pub body: Share,
    /// Of the heat-affected zone; nothing where its width is not known.
    pub heat_affected: Share,
}

impl Coverage {
    /// Body and zone together.
    #[must_use]
    pub fn whole(&self) -> Share {
        self.body.with(&self.heat_affected)
    }

    /// The fraction of the whole crossed by a beam; `None` of a joint without volume.
    #[must_use]
    pub fn fraction(&self) -> Option<f32> {
        let whole = self.whole();
        whole.of(whole.crossed)
    }
}

/// One leg in one row: from p = standoff − g y / κ it meets the cell at y.
#[derive(Clone, Copy)]
struct Crossing {
    scan: u8,
    /// g / κ
    slope: f32,
    /// The aim at the centreline, or what keeps the leg from the whole row.
    aim: Result<Aim, Barrier>,
    /// The line's tilt from the vertical, degrees, positive where it runs down toward +y.
    tilt: f32,
}

type Row<const SCANS: usize> = Vec<[Option<Crossing>; MAX_LEGS as usize], SCANS>;

/// Looks at every cell: row by row from the top, in each row from side A to side B. Cells outside the volume are not
/// visited.
///
/// `kept` says what keeps a scan, by its place, from an aim; nothing when it can be carried out. More scans than `SCANS`
/// are left out, which can only lessen the coverage.
#[must_use]
pub fn survey<const SCANS: usize>(
    joint: &Joint,
    scans: &[Scan],
    kept: impl Fn(usize, &Aim) -> Option<Barrier>,
    mut visit: impl FnMut(&Cell),
) -> Option<Coverage> {
    let grid = Grid::new(joint)?;
    let mut coverage = Coverage::default();
    for row in 0..ROWS {
        let part = grid.part_of_row(row);
        let crossings: Row<SCANS> = crossings(scans, part.z);
        for column in 0..COLUMNS {
            let y = grid.y(column);
            let Some(zone) = part.zone(y) else { continue };
            let mut cell = Cell {
                column,
                row,
                at: Point { y, z: part.z },
                area: part.area,
                zone,
                crossed: false,
                twice: false,
                legs: [false; MAX_LEGS as usize],
                kept: Reasons::default(),
            };
            cross(&crossings, &kept, &mut cell);
            match zone {
                CellZone::Body => coverage.body.add(&cell),
                CellZone::HeatAffected => coverage.heat_affected.add(&cell),
            }
            visit(&cell);
        }
    }
    Some(coverage)
}

/// What each leg of each scan does in a row.
fn crossings<const SCANS: usize>(scans: &[Scan], z: f32) -> Row<SCANS> {
    let mut row = Row::new();
    for (place, scan) in (0u8..).zip(scans) {
        let mut legs = [None; MAX_LEGS as usize];
        for (held, leg) in legs.iter_mut().zip(scan.allowed()) {
            let aim = scan.standoff(leg, Point { y: 0.0, z }).map_err(|error| scan.barrier(error));
            let angle = scan.angle_at(z).map_or(0.0, Degrees::get);
            let sign = scan.side().sign();
            let tilt = if scan.runs_down(leg) { sign * angle } else { -sign * angle };
            *held = Some(Crossing { scan: place, slope: sign / scan.scale(), aim, tilt });
        }
        if row.push(legs).is_err() {
            break;
        }
    }
    row
}

/// Puts every leg through a cell.
fn cross<const SCANS: usize>(
    row: &Row<SCANS>,
    kept: &impl Fn(usize, &Aim) -> Option<Barrier>,
    cell: &mut Cell,
) {
    let mut first: Option<f32> = None;
    // How far the directions seen so far lie to either side of the first one.
    let (mut left, mut right) = (0.0f32, 0.0f32);
    for (crossing, leg) in row.iter().flat_map(|legs| legs.iter().zip(0usize..)) {
        let Some(crossing) = crossing else { continue };
        let barrier = match crossing.aim {
            Err(barrier) => Some(barrier),
            Ok(aim) => {
                let aim = Aim { standoff: aim.standoff - crossing.slope * cell.at.y, ..aim };
                kept(usize::from(crossing.scan), &aim)
            }
        };
        if let Some(barrier) = barrier {
            cell.kept.add(&barrier);
            continue;
        }
        cell.crossed = true;
        if let Some(crosses) = cell.legs.get_mut(leg) {
            *crosses = true;
        }
        let off = between_lines(crossing.tilt - *first.get_or_insert(crossing.tilt));
        (left, right) = (math::smaller(left, off), math::larger(right, off));
        cell.twice |= right - left >= APART;
    }
}

/// A difference of two tilts as a turn from one line to the other, −90 to 90 degrees.
fn between_lines(difference: f32) -> f32 {
    if difference > 90.0 {
        difference - 180.0
    } else if difference < -90.0 {
        difference + 180.0
    } else {
        difference
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_at_right_angles_are_turned_by_90_degrees_either_way() {
        let turns = [0.0, 30.0, 90.0, 90.5, 150.0, -90.0, -90.5, -150.0].map(between_lines);
        assert_eq!(turns, [0.0, 30.0, 90.0, -89.5, -30.0, -90.0, 89.5, 30.0]);
    }

    #[test]
    fn no_area_has_no_fraction() {
        assert_eq!(Share::default().of(0.0), None);
    }
}
