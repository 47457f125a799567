use super::*;
use crate::part::locate::{Budget, Partials};

fn view(probe: u8, y: f32, z: f32, g: f32) -> View {
    View {
        probe,
        y,
        z: Some(z),
        at_face: false,
        of_y: Partials { angle: 0.3 * g, path: 0.87 * g, standoff: -g, index: g, ..Partials::default() }
            .contributions(&Budget::default()),
        of_z: Partials { angle: -0.5, path: 0.5, ..Partials::default() }.contributions(&Budget::default()),
        of_radius: [-0.87 * g, -0.5],
    }
}

#[test]
fn one_view_is_itself_with_its_own_uncertainty() {
    let only = view(0, 1.5, 8.0, 1.0);
    let fused = fuse([only].into_iter()).unwrap();
    assert_eq!((fused.y, fused.z), (1.5, Some(8.0)));
    let alone = only.of_y.iter().map(|part| part * part).sum::<f32>() * 4.0 / 3.0;
    assert!((fused.u_y - math::sqrt(alone).unwrap()).abs() < 1e-3);
    assert_eq!(fused.consistent(), None);
}

#[test]
fn an_index_error_cancels_between_the_sides_and_does_not_average_out_on_one() {
    let both = fuse([view(0, 0.0, 8.0, 1.0), view(0, 0.0, 8.0, -1.0)].into_iter()).unwrap();
    let same = fuse([view(0, 0.0, 8.0, 1.0), view(0, 0.0, 8.0, 1.0)].into_iter()).unwrap();
    assert!(both.u_y < 0.8 * same.u_y);
}

#[test]
fn views_farther_apart_than_the_budget_explains_disagree() {
    let far = fuse([view(0, 0.0, 8.0, 1.0), view(1, 9.0, 8.0, -1.0)].into_iter()).unwrap();
    assert_eq!(far.consistent(), Some(false));
}

#[test]
fn the_order_of_views_does_not_matter() {
    let views = [view(1, 0.4, 8.1, 1.0), view(0, -0.2, 7.9, -1.0), view(1, 0.1, 8.4, -1.0)];
    let forth = fuse(views.into_iter()).unwrap();
    let back = fuse(views.into_iter().rev()).unwrap();
    assert!((forth.y - back.y).abs() < 1e-6 && (forth.chi_squared - back.chi_squared).abs() < 1e-5);
}
