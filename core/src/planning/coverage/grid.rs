//! The raster over the volume.

use crate::math;
use crate::part::Part;
use crate::part::joint::{Joint, Point, Section};
use crate::part::side::Side;

/// Cells across the weld.
pub const COLUMNS: u8 = 96;
/// Cells through the thickness.
pub const ROWS: u8 = 48;

/// What a cell of the volume belongs to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum CellZone {
    /// The weld between the prepared faces.
    Body,
    /// The heat-affected zone beside it.
    HeatAffected,
}

/// The raster over a joint's volume.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Grid {
    section: Section,
    part: Part,
    from: f32,
    column: f32,
    row: f32,
}

/// The parts of one row, as distances from the centreline: fusion faces, and the zone's outer edges.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Row {
    pub z: f32,
    pub area: f32,
    faces: [f32; 2],
    zone: Option<[f32; 2]>,
}

impl Grid {
    /// The raster of a joint; `None` when the joint has no volume.
    #[must_use]
    pub fn new(joint: &Joint) -> Option<Self> {
        let section = joint.section();
        let part = Part::of(joint)?;
        let widest = |side: Side| {
            let faces = section.fusion_faces().filter(|face| face.side == side);
            let edge = |point: Point| point.y.abs() + section.zone(point.z).unwrap_or(0.0);
            faces.fold(0.0, |widest, face| math::larger(widest, math::larger(edge(face.from), edge(face.to))))
        };
        let (a, b) = (widest(Side::A), widest(Side::B));
        let column = (a + b) / f32::from(COLUMNS);
        let row = part.thickness() / f32::from(ROWS);
        (column > 0.0).then(|| Self { section, part, from: 0.0 - a, column, row })
    }

    /// Width of a cell, mm.
    #[must_use]
    pub const fn column(&self) -> f32 {
        self.column
    }

    /// Height of a cell, mm.
    #[must_use]
    pub const fn row(&self) -> f32 {
        self.row
    }

    /// Across the weld, the middle of a column.
    #[must_use]
    pub fn y(&self, column: u8) -> f32 {
        self.from + (f32::from(column) + 0.5) * self.column
    }

    /// Below the scanned face, the middle of a row.
    #[must_use]
    pub fn z(&self, row: u8) -> f32 {
        (f32::from(row) + 0.5) * self.row
    }

    pub(super) fn part_of_row(&self, row: u8) -> Row {
        let z = self.z(row);
        let face = |side| self.section.half_width(side, z).unwrap_or(0.0);
        let edge = |side| self.section.heat_affected(side, z).map(|(_, to)| to);
        let zone = edge(Side::A).zip(edge(Side::B)).map(|(a, b)| [a, b]);
        let area = self.column * self.row * self.part.stretch(z);
        Row { z, area, faces: [face(Side::A), face(Side::B)], zone }
    }
}

impl Row {
    /// What a place of the row belongs to; `None` outside the volume.
    pub(super) fn zone(&self, y: f32) -> Option<CellZone> {
        let of = |[a, b]: [f32; 2]| if y < 0.0 { a } else { b };
        let (face, from) = (of(self.faces), y.abs());
        if from <= face {
            return Some(CellZone::Body);
        }
        self.zone.is_some_and(|edges| from <= of(edges)).then_some(CellZone::HeatAffected)
    }
}
