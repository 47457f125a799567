//! The fused point against generalised least squares with the full covariance matrix, solved by plain elimination.

use halfskip::evaluate::fusion::{View, fuse, quantile_95};
use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::reference::Table;

/// Standard uncertainty of a rectangular half width.
const RECTANGULAR: f64 = 0.577_350_269_189_625_8;

type Matrix = Vec<Vec<f64>>;

/// Solves `matrix` x = each column of `right`, by Gauss-Jordan elimination with pivoting.
fn solve(mut matrix: Matrix, mut right: Matrix) -> Matrix {
    let size = matrix.len();
    for column in 0..size {
        let pivot =
            (column..size).max_by(|&a, &b| matrix[a][column].abs().total_cmp(&matrix[b][column].abs()));
        matrix.swap(column, pivot.unwrap());
        right.swap(column, pivot.unwrap());
        let scale = matrix[column][column];
        for rows in [&mut matrix, &mut right] {
            rows[column].iter_mut().for_each(|value| *value /= scale);
        }
        for row in (0..size).filter(|&row| row != column) {
            let factor = matrix[row][column];
            for rows in [&mut matrix, &mut right] {
                let taken = rows[column].clone();
                rows[row].iter_mut().zip(taken).for_each(|(value, taken)| *value -= factor * taken);
            }
        }
    }
    right
}

/// One coordinate of one view: what was found, which unknown it tells, and what each input does to it.
struct Row {
    probe: u8,
    view: usize,
    of: usize,
    value: f64,
    parts: [f64; 7],
}

/// Errors of angle, index and velocity are common to a probe, of thickness to all, the other three to a view.
fn covariance(one: &Row, other: &Row) -> f64 {
    let shared = |part: usize| match part {
        0..3 => one.probe == other.probe,
        3 => true,
        _ => one.view == other.view,
    };
    (0..7).filter(|&part| shared(part)).map(|part| one.parts[part] * other.parts[part]).sum()
}

struct Solved {
    values: Vec<f64>,
    expanded: Vec<f64>,
    chi_squared: f64,
}

/// x = (AᵀV⁻¹A)⁻¹ AᵀV⁻¹ b; χ² = (b − Ax)ᵀ V⁻¹ (b − Ax).
fn least_squares(rows: &[Row], unknowns: usize) -> Solved {
    let v: Matrix =
        rows.iter().map(|one| rows.iter().map(|other| covariance(one, other)).collect()).collect();
    let a: Matrix =
        rows.iter().map(|row| (0..unknowns).map(|of| f64::from(u8::from(of == row.of))).collect()).collect();
    let b: Matrix = rows.iter().map(|row| vec![row.value]).collect();
    let (va, vb) = (solve(v.clone(), a.clone()), solve(v.clone(), b.clone()));
    let against_a = |right: &Matrix, column: usize| -> Vec<f64> {
        (0..unknowns).map(|of| a.iter().zip(right).map(|(a, right)| a[of] * right[column]).sum()).collect()
    };
    let columns: Vec<Vec<f64>> = (0..unknowns).map(|column| against_a(&va, column)).collect();
    let normal: Matrix =
        (0..unknowns).map(|row| columns.iter().map(|column| column[row]).collect()).collect();
    let identity: Matrix =
        (0..unknowns).map(|row| (0..unknowns).map(|of| f64::from(u8::from(of == row))).collect()).collect();
    let inverse = solve(normal.clone(), identity);
    let right: Matrix = against_a(&vb, 0).into_iter().map(|value| vec![value]).collect();
    let values: Vec<f64> = solve(normal, right).into_iter().map(|row| row[0]).collect();
    let left: Vec<f64> = rows.iter().map(|row| row.value - values[row.of]).collect();
    let weighted = solve(v, left.iter().map(|&value| vec![value]).collect());
    Solved {
        expanded: (0..unknowns).map(|of| 2.0 * inverse[of][of].sqrt()).collect(),
        chi_squared: left.iter().zip(weighted).map(|(left, weighted)| left * weighted[0]).sum(),
        values,
    }
}

fn drawn_view(from: &mut Drawn, with_depth: bool) -> View {
    let mut part = |size: f32| from.between(-size, size);
    let mut parts = || [part(1.5), part(1.0), part(0.8), part(0.6), part(1.0), part(0.5), part(0.4)];
    let (mut of_y, mut of_z) = (parts(), parts());
    // No reading is free of error of its own.
    (of_y[4], of_z[5]) = (of_y[4] + 1.5, of_z[5] + 0.8);
    of_z[4] = 0.0;
    View {
        probe: from.one_of(&[0, 1, 2, 3]),
        y: from.between(-5.0, 5.0),
        z: with_depth.then(|| from.between(5.0, 15.0)),
        at_face: false,
        of_y,
        of_z,
        of_radius: [0.0; 2],
    }
}

#[test]
fn the_fused_point_is_that_of_the_full_covariance_matrix() {
    let mut from = Drawn::seeded(40);
    for _ in 0..2_000 {
        let with_depth = from.one_of(&[true, false]);
        let count = from.one_of(&[1usize, 2, 3, 5, 9]);
        let views: Vec<View> = (0..count).map(|_| drawn_view(&mut from, with_depth)).collect();
        let mut rows = Vec::new();
        for (number, view) in views.iter().enumerate() {
            let parts = |parts: [f32; 7]| parts.map(|part| f64::from(part) * RECTANGULAR);
            let (probe, of_y, of_z) = (view.probe, parts(view.of_y), parts(view.of_z));
            rows.push(Row { probe, view: number, of: 0, value: view.y.into(), parts: of_y });
            if let Some(z) = view.z {
                rows.push(Row { probe, view: number, of: 1, value: z.into(), parts: of_z });
            }
        }
        let solved = least_squares(&rows, if with_depth { 2 } else { 1 });
        let fused = fuse(views.iter().copied()).unwrap();
        let close =
            |got: f32, expected: f64| (f64::from(got) - expected).abs() <= 2e-5 * (1.0 + expected.abs());
        assert!(close(fused.y, solved.values[0]), "{fused:?} {:?}", solved.values);
        assert!(close(fused.u_y, solved.expanded[0]), "{fused:?} {:?}", solved.expanded);
        assert!(close(fused.chi_squared, solved.chi_squared), "{fused:?} {}", solved.chi_squared);
        assert_eq!(fused.z.is_some(), with_depth);
        if let (Some(z), Some(u_z)) = (fused.z, fused.u_z) {
            assert!(
                close(z, solved.values[1]) && close(u_z, solved.expanded[1]),
                "{fused:?} {:?}",
                solved.values
            );
        }
        let coordinates = if with_depth { 2 } else { 1 };
        assert_eq!(fused.degrees_of_freedom as usize, coordinates * (count - 1));
    }
}

#[test]
fn quantiles_of_chi_square_are_those_of_its_distribution() {
    for row in Table::read("chi_square").rows() {
        let degrees: u32 = row.get("degrees");
        let error = (f64::from(quantile_95(degrees)) - row.get::<f64>("quantile_95")).abs();
        // A printed table up to 30, an approximation beyond.
        assert!(error <= if degrees <= 30 { 0.000_51 } else { 0.01 }, "{degrees}: off by {error:.4}");
    }
}
