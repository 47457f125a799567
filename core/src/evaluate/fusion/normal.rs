//! Normal equations of a few unknowns, in `f64`: misfits are differences of sums of squares.

/// Σ rows' products, right-hand sides and squares of one least-squares fit of N unknowns.
pub(super) struct Normal<const N: usize> {
    matrix: [[f64; N]; N],
    right: [f64; N],
    squares: f64,
}

/// What the trailing unknowns come to.
pub(super) struct Unknowns {
    pub values: [f64; 2],
    pub variances: [f64; 2],
    pub chi_squared: f64,
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

    /// Minimises over the first `count` unknowns, leaving the equations of the others.
    pub(super) fn eliminate_leading(&mut self, count: usize) {
        for pivot_at in 0..count {
            let Some(pivot_line) = self.matrix.get(pivot_at).copied() else {
                return;
            };
            let Some(pivot) = pivot_line.get(pivot_at).copied().filter(|pivot| *pivot > 0.0) else {
                return;
            };
            let pivot_right = self.right.get(pivot_at).copied().unwrap_or(0.0);
            self.squares -= pivot_right * pivot_right / pivot;
            for ((line, right), column) in
                self.matrix.iter_mut().zip(&mut self.right).zip(pivot_line).skip(pivot_at.saturating_add(1))
            {
                let factor = column / pivot;
                for (cell, above) in line.iter_mut().zip(&pivot_line) {
                    *cell -= factor * above;
                }
                *right -= factor * pivot_right;
            }
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

impl Normal<3> {
    /// Solves for the second unknown, or the second and third, after the first was eliminated.
    pub(super) fn solve_trailing(&self, unknowns: usize) -> Option<Unknowns> {
        let [_, [_, a, b], [_, _, d]] = self.matrix;
        let [_, p, q] = self.right;
        if unknowns == 1 {
            let value = (a > 0.0).then(|| p / a)?;
            return Some(Unknowns {
                values: [value, 0.0],
                variances: [1.0 / a, 0.0],
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
            chi_squared: self.squares - y * p - z * q,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unknown_that_no_equation_has_is_left_out() {
        let mut normal = Normal::<3>::default();
        assert!(normal.solve_trailing(1).is_none());
        for value in [3.0, 5.0] {
            normal.add(&[0.0, 1.0, 0.0], &[0.0, 1.0, 0.0], value, value, 4.0);
        }
        normal.eliminate_leading(1);
        let found = normal.solve_trailing(1).unwrap();
        // The mean, its variance 1 / 8, and 4 (1² + 1²).
        assert_eq!((found.values, found.variances, found.chi_squared), ([4.0, 0.0], [0.125, 0.0], 8.0));
    }
}
