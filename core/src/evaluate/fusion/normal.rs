//! Normal equations of a few unknowns, in `f64`: misfits are differences of sums of squares.

/// Σ rows' products, right-hand sides and squares of one least-squares fit of N unknowns.
#[derive(Clone, Copy)]
pub(super) struct Normal<const N: usize> {
    matrix: [[f64; N]; N],
    right: [f64; N],
    squares: f64,
}

/// What the last two unknowns come to.
pub(super) struct Unknowns {
    pub values: [f64; 2],
    pub variances: [f64; 2],
    pub covariance: f64,
    pub chi_squared: f64,
}

impl Unknowns {
    /// Keeps the last unknown within bounds, the one before following it: minimised over what the bound leaves.
    pub(super) fn keep_within(&mut self, low: f64, high: f64) {
        let [y, z] = self.values;
        let [_, z_z] = self.variances;
        let bound = if z < low {
            low
        } else if z > high {
            high
        } else {
            return;
        };
        if z_z > 0.0 {
            let moved = bound - z;
            self.values = [y + self.covariance / z_z * moved, bound];
            self.chi_squared += moved * moved / z_z;
        }
    }
}

impl<const N: usize> Default for Normal<N> {
    fn default() -> Self {
        Self { matrix: [[0.0; N]; N], right: [0.0; N], squares: 0.0 }
    }
}

impl<const N: usize> Normal<N> {
    /// Adds weight · (first row)ᵀ (second row), and the same of the values.
    pub(super) fn add(
        &mut self,
        first: &[f64; N],
        second: &[f64; N],
        value_1: f64,
        value_2: f64,
        weight: f64,
    ) {
        for ((line, right), one) in self.matrix.iter_mut().zip(&mut self.right).zip(first) {
            for (cell, two) in line.iter_mut().zip(second) {
                *cell += weight * one * two;
            }
            *right += weight * one * value_2;
        }
        self.squares += weight * value_1 * value_2;
    }

    /// States that an unknown is zero with unit standard uncertainty.
    pub(super) fn add_prior(&mut self, unknown: usize) {
        if let Some(cell) = self.matrix.get_mut(unknown).and_then(|line| line.get_mut(unknown)) {
            *cell += 1.0;
        }
    }

    /// States that an unknown has a value with a standard uncertainty.
    pub(super) fn add_known(&mut self, unknown: usize, value: f64, sigma: f64) {
        let weight = 1.0 / (sigma * sigma);
        let cell = self.matrix.get_mut(unknown).and_then(|line| line.get_mut(unknown));
        if let (Some(cell), Some(right)) = (cell, self.right.get_mut(unknown)) {
            *cell += weight;
            *right += weight * value;
            self.squares += weight * value * value;
        }
    }

    /// Minimises over the first `count` unknowns, leaving the equations of the others.
    pub(super) fn eliminate_leading(&mut self, count: usize) {
        for unknown in 0..count {
            self.eliminate(unknown);
        }
    }

    /// Minimises over an unknown, leaving the equations of those after it; an unknown that no equation has is left out.
    pub(super) fn eliminate(&mut self, unknown: usize) {
        let Some(pivot_line) = self.matrix.get(unknown).copied() else {
            return;
        };
        let Some(pivot) = pivot_line.get(unknown).copied().filter(|pivot| *pivot > 0.0) else {
            return;
        };
        let pivot_right = self.right.get(unknown).copied().unwrap_or(0.0);
        self.squares -= pivot_right * pivot_right / pivot;
        for ((line, right), column) in
            self.matrix.iter_mut().zip(&mut self.right).zip(pivot_line).skip(unknown.saturating_add(1))
        {
            let factor = column / pivot;
            for (cell, above) in line.iter_mut().zip(&pivot_line) {
                *cell -= factor * above;
            }
            *right -= factor * pivot_right;
        }
    }

    /// Adds the equations that remain of a larger fit, its trailing unknowns being these.
    pub(super) fn add_trailing<const M: usize>(&mut self, other: &Normal<M>) {
        let skipped = M.saturating_sub(N);
        for (line, more) in self.matrix.iter_mut().zip(other.matrix.iter().skip(skipped)) {
            for (cell, term) in line.iter_mut().zip(more.iter().skip(skipped)) {
                *cell += term;
            }
        }
        for (cell, term) in self.right.iter_mut().zip(other.right.iter().skip(skipped)) {
            *cell += term;
        }
        self.squares += other.squares;
    }
}

impl Normal<4> {
    /// Solves for the third unknown, or the third and fourth, after those before were eliminated or left at zero.
    pub(super) fn solve_trailing(&self, unknowns: usize) -> Option<Unknowns> {
        let [_, _, [_, _, a, b], [_, _, _, d]] = self.matrix;
        let [_, _, p, q] = self.right;
        if unknowns == 1 {
            let value = (a > 0.0).then(|| p / a)?;
            return Some(Unknowns {
                values: [value, 0.0],
                variances: [1.0 / a, 0.0],
                covariance: 0.0,
                chi_squared: self.squares - value * p,
            });
        }
        let determinant = a * d - b * b;
        if determinant <= 0.0 {
            return None;
        }
        let (y, z) = ((d * p - b * q) / determinant, (a * q - b * p) / determinant);
        Some(Unknowns {
            values: [y, z],
            variances: [d / determinant, a / determinant],
            covariance: -b / determinant,
            chi_squared: self.squares - y * p - z * q,
        })
    }

    /// The second unknown and its variance, when the last two came to this; the equations are those from before it was
    /// eliminated.
    pub(super) fn second(&self, found: &Unknowns) -> (f64, f64) {
        let [_, [_, own, of_y, of_z], _, _] = self.matrix;
        let [_, right, _, _] = self.right;
        let Unknowns { values: [y, z], variances: [y_y, z_z], covariance: y_z, .. } = *found;
        let from_others = of_y * of_y * y_y + of_z * of_z * z_z + 2.0 * of_y * of_z * y_z;
        ((right - of_y * y - of_z * z) / own, 1.0 / own + from_others / (own * own))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unknown_that_no_equation_has_is_left_out() {
        let mut normal = Normal::<4>::default();
        assert!(normal.solve_trailing(1).is_none());
        for value in [3.0, 5.0] {
            let row = [0.0, 0.0, 1.0, 0.0];
            normal.add(&row, &row, value, value, 4.0);
        }
        normal.eliminate_leading(2);
        let found = normal.solve_trailing(1).unwrap();
        // The mean, its variance 1 / 8, and 4 (1² + 1²).
        assert_eq!((found.values, found.variances, found.chi_squared), ([4.0, 0.0], [0.125, 0.0], 8.0));
    }

    #[test]
    fn an_unknown_known_beforehand_comes_back_with_what_the_rows_add() {
        // r = 2 ± 1 and y − r = 3 ± 1 tell y = 5 ± √2; r is told by nothing else.
        let mut normal = Normal::<4>::default();
        normal.add_known(1, 2.0, 1.0);
        let row = [0.0, -1.0, 1.0, 0.0];
        normal.add(&row, &row, 3.0, 3.0, 1.0);
        let before = normal;
        normal.eliminate(1);
        let found = normal.solve_trailing(1).unwrap();
        assert!((found.values[0] - 5.0).abs() < 1e-12 && (found.variances[0] - 2.0).abs() < 1e-12);
        let (radius, variance) = before.second(&found);
        assert!((radius - 2.0).abs() < 1e-12 && (variance - 1.0).abs() < 1e-12 && found.chi_squared < 1e-12);
    }
}
