//! A second way to a place in a curved part: the ray is followed through the pipe's wall as a point in space, circle by
//! circle, and turned about the surface's normal at each. Nothing here knows a leg's length or mirrors anything.

/// A pipe's wall, its axis along x.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Wall {
    /// Radius of the outside, mm.
    pub outer: f64,
    /// Radius of the bore, mm.
    pub inner: f64,
    /// Scanned from the bore.
    pub inside: bool,
}

/// Where a ray ended.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct End {
    /// Along the axis from the start, mm.
    pub x: f64,
    /// Angle about the axis from the start, in radians, counted on through full turns.
    pub turned: f64,
    /// Distance from the axis, mm.
    pub radius: f64,
    /// How many straight pieces it took; a chord that misses the bore counts as two.
    pub pieces: u32,
    /// Length of path to the nearer of the last face or deepest point and the next, mm.
    pub clear: f64,
    /// Whether it came to the outside without meeting the bore.
    pub missed: bool,
}

impl Wall {
    const fn start(&self) -> f64 {
        if self.inside { self.inner } else { self.outer }
    }

    /// Follows the axis of a probe at that refracted angle and skew, in degrees, for `path` millimetres.
    #[must_use]
    pub fn follow(&self, angle: f64, skew: f64, path: f64) -> End {
        let (sin, cos) = angle.to_radians().sin_cos();
        let (aside, ahead) = skew.to_radians().sin_cos();
        let down = if self.inside { cos } else { -cos };
        // The start lies on the axis of v; u is the direction of the surface there.
        let (mut at, mut toward) = ([0.0, 0.0, self.start()], [sin * aside, sin * ahead, down]);
        let (mut left, mut pieces, mut turned, mut missed) = (path, 1, 0.0, false);
        loop {
            let (step, meets_bore) = self.next_face(at, toward);
            // Where the path comes nearest to the axis.
            let deepest = -(at[1] * toward[1] + at[2] * toward[2]) / square(toward[1], toward[2]);
            let chord = !self.inside && !meets_bore && at_circle(at, self.outer);
            missed |= chord;
            let gone = if left < step { left } else { step };
            let from = at;
            for (coordinate, direction) in at.iter_mut().zip(toward) {
                *coordinate += gone * direction;
            }
            let cross = from[2] * at[1] - from[1] * at[2];
            turned += cross.atan2(from[1] * at[1] + from[2] * at[2]);
            left -= gone;
            if left <= 0.0 {
                let past = chord && gone > deepest;
                let marks = [gone, step - gone, if chord { (gone - deepest).abs() } else { step }];
                return End {
                    x: at[0],
                    turned,
                    radius: square(at[1], at[2]).sqrt(),
                    pieces: pieces + u32::from(past),
                    clear: marks
                        .into_iter()
                        .fold(step, |least, mark| if mark < least { mark } else { least }),
                    missed,
                };
            }
            pieces += if chord { 2 } else { 1 };
            // Mirrored about the tangent plane: d − 2 (d · n) n
            let radius = square(at[1], at[2]).sqrt();
            let normal = [at[1] / radius, at[2] / radius];
            let onto = toward[1] * normal[0] + toward[2] * normal[1];
            toward[1] -= 2.0 * onto * normal[0];
            toward[2] -= 2.0 * onto * normal[1];
        }
    }

    /// Path to the next face, and whether that is the bore.
    fn next_face(&self, at: [f64; 3], toward: [f64; 3]) -> (f64, bool) {
        let speed = square(toward[1], toward[2]);
        let along = at[1] * toward[1] + at[2] * toward[2];
        let roots = |radius: f64| {
            let rest = along * along - speed * (square(at[1], at[2]) - radius * radius);
            (rest > 0.0).then(|| [(-along - rest.sqrt()) / speed, (-along + rest.sqrt()) / speed])
        };
        let ahead = |root: &f64| *root > 1e-9 * self.outer;
        let bore = roots(self.inner).and_then(|roots| roots.into_iter().find(ahead));
        let outside = roots(self.outer).and_then(|roots| roots.into_iter().rev().find(ahead)).unwrap_or(0.0);
        match bore {
            Some(bore) if bore < outside && along < 0.0 => (bore, true),
            _ => (outside, false),
        }
    }
}

fn square(first: f64, second: f64) -> f64 {
    first * first + second * second
}

fn at_circle(at: [f64; 3], radius: f64) -> bool {
    (square(at[1], at[2]).sqrt() - radius).abs() < 1e-9 * radius
}
