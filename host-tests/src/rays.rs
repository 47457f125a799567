//! A second way to a reflector's place: the ray is followed through the plate, face by face, as a point that moves along
//! a direction and turns back at each face. Nothing here unfolds, counts legs by division or knows which leg is odd.

/// A plate scanned from z = 0, its far face at z = `thickness`.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Slab {
    /// Thickness, mm.
    pub thickness: f64,
}

/// Where a ray starts and where it goes.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Ray {
    /// Start: x, y, z in mm.
    pub from: [f64; 3],
    /// Direction, of length 1.
    pub toward: [f64; 3],
}

/// Where a ray ended.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct End {
    /// x, y, z in mm.
    pub at: [f64; 3],
    /// How many straight pieces it took.
    pub pieces: u32,
    /// Distance to the nearer of the last face and the next, mm: how sure the count of pieces is.
    pub clear: f64,
}

impl Ray {
    /// The axis of a probe at `index_point`, on the near face (or the far one, beaming back up).
    ///
    /// `look` is +1 toward +y and -1 toward -y; positive skew turns the look toward +x.
    #[must_use]
    pub fn of_probe(
        index_point: [f64; 2],
        look: f64,
        angle: f64,
        skew: f64,
        slab: Slab,
        far_face: bool,
    ) -> Self {
        let (sin, cos) = angle.to_radians().sin_cos();
        let (turn, ahead) = skew.to_radians().sin_cos();
        let [x, y] = index_point;
        Self {
            from: [x, y, if far_face { slab.thickness } else { 0.0 }],
            toward: [sin * turn, look * sin * ahead, if far_face { -cos } else { cos }],
        }
    }

    /// Follows the ray for `path` millimetres.
    #[must_use]
    pub fn follow(self, path: f64, slab: Slab) -> End {
        let Self { from: mut at, mut toward } = self;
        let (mut left, mut pieces) = (path, 1);
        loop {
            let [_, _, z] = at;
            let [_, _, dz] = toward;
            let face = if dz > 0.0 { slab.thickness } else { 0.0 };
            let to_face = (face - z) / dz;
            let step = if left < to_face { left } else { to_face };
            for (coordinate, direction) in at.iter_mut().zip(toward) {
                *coordinate += step * direction;
            }
            left -= step;
            if left <= 0.0 {
                let [_, _, z] = at;
                let beyond = slab.thickness - z;
                return End { at, pieces, clear: if z < beyond { z } else { beyond } };
            }
            at[2] = face;
            toward[2] = -dz;
            pieces += 1;
        }
    }

    /// Surface distance from the start at which a ray of any angle meets its `count`-th face after `path` millimetres,
    /// found by trying angles: the place of a corner echo.
    #[must_use]
    pub fn corner(path: f64, count: u32, slab: Slab) -> f64 {
        let (mut low, mut high) = (0.0, 90.0);
        let mut distance = 0.0;
        for _ in 0..80 {
            let angle = 0.5 * (low + high);
            let mut ray = Self::of_probe([0.0, 0.0], 1.0, angle, 0.0, slab, false);
            let mut gone = 0.0;
            for _ in 0..count {
                let [_, y, z] = ray.from;
                let [_, dy, dz] = ray.toward;
                let face = if dz > 0.0 { slab.thickness } else { 0.0 };
                let step = (face - z) / dz;
                gone += step;
                ray = Self { from: [0.0, y + step * dy, face], toward: [0.0, dy, -dz] };
            }
            distance = ray.from[1];
            if gone < path {
                low = angle;
            } else {
                high = angle;
            }
        }
        distance
    }
}
