//! The least-squares straight line that calibration fits share.
//!
//! Computed in `f64`: the sums of squares cancel, and `f32` would lose the digits that a residual is read from.

/// A straight line through the mean of its points.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Line {
    mean_x: f64,
    mean_y: f64,
    slope: f64,
}

impl Line {
    /// The line with the least sum of squared departures in y; `None` unless two points differ in x.
    pub(crate) fn through<I>(points: I) -> Option<Self>
    where
        I: Iterator<Item = (f64, f64)> + Clone,
    {
        let mut count = 0.0f64;
        let (mut mean_x, mut mean_y) = (0.0f64, 0.0f64);
        for (x, y) in points.clone() {
            count += 1.0;
            mean_x += (x - mean_x) / count;
            mean_y += (y - mean_y) / count;
        }
        // slope = Σ(x − x̄)(y − ȳ) / Σ(x − x̄)²
        let (mut xx, mut xy) = (0.0f64, 0.0f64);
        for (x, y) in points {
            xx += (x - mean_x) * (x - mean_x);
            xy += (x - mean_x) * (y - mean_y);
        }
        (xx > 0.0).then(|| Self { mean_x, mean_y, slope: xy / xx })
    }

    /// The line's y at `x`.
    pub(crate) fn at(self, x: f64) -> f64 {
        self.mean_y + self.slope * (x - self.mean_x)
    }

    /// The line's rise per unit of x.
    pub(crate) const fn slope(self) -> f64 {
        self.slope
    }
}

/// The first value that occurs twice, for fits that refuse one abscissa given twice.
pub(crate) fn repeated<I>(values: I) -> Option<f32>
where
    I: Iterator<Item = f32> + Clone,
{
    let mut rest = values.clone();
    values.into_iter().find(|value| {
        rest.next();
        rest.clone().any(|other| other == *value)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_points_are_met_exactly() {
        let points = [(25.0, 17.31), (100.0, 63.75)];
        let line = Line::through(points.into_iter()).unwrap();
        for (x, y) in points {
            assert!((line.at(x) - y).abs() < 1e-13);
        }
    }

    #[test]
    fn departures_from_the_line_cancel_and_have_no_trend() {
        let points = [(1.0, 2.0), (2.0, 1.0), (4.0, 7.0), (9.0, 3.0)];
        let line = Line::through(points.into_iter()).unwrap();
        let sum: f64 = points.iter().map(|(x, y)| y - line.at(*x)).sum();
        let trend: f64 = points.iter().map(|(x, y)| (y - line.at(*x)) * x).sum();
        assert!(sum.abs() < 1e-12 && trend.abs() < 1e-12);
    }

    #[test]
    fn no_line_goes_through_one_abscissa() {
        assert_eq!(Line::through([(3.0, 1.0), (3.0, 2.0)].into_iter()), None);
        assert_eq!(Line::through(core::iter::empty()), None);
    }

    #[test]
    fn a_value_given_twice_is_found_wherever_it_stands() {
        assert_eq!(repeated([1.0, 2.0, 3.0].into_iter()), None);
        assert_eq!(repeated([1.0, 2.0, 1.0].into_iter()), Some(1.0));
        assert_eq!(repeated([3.0, 1.0, 1.0].into_iter()), Some(1.0));
    }

    #[test]
    fn a_line_far_from_the_origin_keeps_its_slope() {
        let x = [1e8 + 0.1, 1e8 + 0.2, 1e8 + 0.4];
        let line = Line::through(x.into_iter().map(|x| (x, 2.0 * (x - 1e8)))).unwrap();
        assert!((line.slope() - 2.0).abs() < 1e-9, "{}", line.slope());
    }
}
