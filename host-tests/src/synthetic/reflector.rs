//! Reflectors as pieces of line.

use super::at_least;

/// A piece of reflecting line.
#[derive(Clone, Copy, Debug)]
pub struct Piece {
    /// Across, mm, looking direction of side A positive.
    pub y: f64,
    /// Depth, mm.
    pub z: f64,
    /// Unit normal; toward the sound for a body, either way for a crack.
    pub normal: (f64, f64),
    /// Length, mm; negative where something that would else be there is taken away.
    pub length: f64,
    /// Open to sound from one side only.
    pub body: bool,
    /// Sound reaches it straight only: it is part of a face.
    pub of_face: bool,
}

/// What lies in the plate.
#[derive(Clone, Copy, Debug)]
pub enum Reflector {
    /// A round body.
    Void {
        /// Across.
        y: f64,
        /// Depth.
        z: f64,
        /// Diameter.
        diameter: f64,
    },
    /// An oval body, flat across the thickness.
    Slag {
        /// Across.
        y: f64,
        /// Depth.
        z: f64,
        /// Across its long way.
        width: f64,
        /// Across its short way.
        height: f64,
        /// How far its long way leans off level, deg.
        lean: f64,
    },
    /// A plane between two points, rough by so much.
    Plane {
        /// Lower end, across and depth.
        foot: (f64, f64),
        /// Upper end.
        head: (f64, f64),
        /// Departure from the plane, mm.
        rough: f64,
        /// Seed of the roughness.
        seed: u64,
    },
    /// A root bead, a squared cosine below the far face.
    Bead {
        /// Its middle, across.
        y: f64,
        /// Width.
        width: f64,
        /// Height.
        height: f64,
        /// Thickness of the plate.
        thickness: f64,
    },
}

/// Length of a piece, mm: a sixth of a wavelength at 4 MHz.
const PIECE: f64 = 0.135;

impl Reflector {
    /// Its pieces.
    #[must_use]
    pub fn pieces(&self) -> Vec<Piece> {
        match *self {
            Self::Void { y, z, diameter } => {
                let count = at_least((std::f64::consts::PI * diameter / PIECE).ceil(), 12.0);
                let length = std::f64::consts::PI * diameter / count;
                (0..count as u32)
                    .map(|place| {
                        let (sin, cos) = (2.0 * std::f64::consts::PI * f64::from(place) / count).sin_cos();
                        let normal = (cos, sin);
                        let radius = diameter / 2.0;
                        Piece {
                            y: y + radius * cos,
                            z: z + radius * sin,
                            normal,
                            length,
                            body: true,
                            of_face: false,
                        }
                    })
                    .collect()
            }
            Self::Slag { y, z, width, height, lean } => {
                let count = at_least((std::f64::consts::PI * width / PIECE).ceil(), 12.0);
                let (sin, cos) = lean.to_radians().sin_cos();
                let turned = |(along, up): (f64, f64)| (cos * along - sin * up, sin * along + cos * up);
                (0..count as u32)
                    .map(|place| {
                        let turn = 2.0 * std::f64::consts::PI / count;
                        let (s, c) = (turn * f64::from(place)).sin_cos();
                        let at = turned((width / 2.0 * c, height / 2.0 * s));
                        // Tangent (−a sin, b cos), normal (b cos, a sin), each over its length.
                        let (across, up) = (height / 2.0 * c, width / 2.0 * s);
                        let stretch = across.hypot(up);
                        let normal = turned((across / stretch, up / stretch));
                        let length = turn * stretch;
                        Piece { y: y + at.0, z: z + at.1, normal, length, body: true, of_face: false }
                    })
                    .collect()
            }
            Self::Plane { foot, head, rough, seed } => {
                let (dy, dz) = (head.0 - foot.0, head.1 - foot.1);
                let whole = dy.hypot(dz);
                let count = at_least((whole / PIECE).ceil(), 4.0);
                let normal = (-dz / whole, dy / whole);
                let mut drawn = crate::drawn::Drawn::seeded(seed);
                let mut off = 0.0;
                (0..count as u32)
                    .map(|place| {
                        let part = (f64::from(place) + 0.5) / count;
                        if place % 5 == 0 {
                            // Facets about a wavelength long, each displaced by itself.
                            off = rough * f64::from(drawn.between(-1.0, 1.0));
                        }
                        let (y, z) =
                            (foot.0 + part * dy + off * normal.0, foot.1 + part * dz + off * normal.1);
                        Piece { y, z, normal, length: whole / count, body: false, of_face: false }
                    })
                    .collect()
            }
            Self::Bead { y, width, height, thickness } => {
                let count = at_least((width / PIECE).ceil(), 12.0);
                let step = width / count;
                let mut pieces = Vec::new();
                for place in 0..count as u32 {
                    let across = (f64::from(place) + 0.5) * step - width / 2.0;
                    let turn = std::f64::consts::PI * across / width;
                    let slope = -height * std::f64::consts::PI / width * (2.0 * turn).sin();
                    let stretch = (1.0 + slope * slope).sqrt();
                    // The normal points up, into the metal.
                    let normal = (slope / stretch, -1.0 / stretch);
                    let z = thickness + height * turn.cos().powi(2);
                    let (body, of_face) = (true, true);
                    pieces.push(Piece { y: y + across, z, normal, length: step * stretch, body, of_face });
                    // The face itself is not there where the bead is.
                    let (z, normal) = (thickness, (0.0, -1.0));
                    pieces.push(Piece { y: y + across, z, normal, length: -step, body, of_face });
                }
                pieces
            }
        }
    }
}
