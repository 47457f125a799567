//! Time base and angle check.

use halfskip::calibration::angle_check::AngleCheck;
use halfskip::calibration::timebase::TimeBase;
use halfskip::units::Microseconds;

use super::{Worst, mm, speed};
use crate::reference::Table;

pub(super) fn calibration(worst: &mut Worst) {
    let us = |value| Microseconds::new(value).unwrap();
    for row in Table::read("time_base").rows() {
        let base =
            TimeBase { velocity: speed(row.input("speed_mm_per_us")), delay: us(row.input("delay_us")) };
        let time = base.time(mm(row.input("path_mm"))).unwrap().get();
        worst.note("timebase::TimeBase::time", row.error("time_us", time, "time_us"), row);
        let path = base.path(us(row.input("read_us"))).unwrap().get();
        worst.note("timebase::TimeBase::path", row.error("shown_mm", path, "shown_term"), row);
        let echo = |path, time| (mm(row.input(path)), us(row.input(time)));
        let fit =
            TimeBase::fit(&[echo("first_mm", "first_us"), echo("second_mm", "second_us")]).unwrap().base();
        let error = row.error("velocity_mm_per_us", fit.velocity.get(), "velocity_mm_per_us");
        worst.note("timebase::TimeBase::fit velocity", error, row);
        let error = row.error("fitted_delay_us", fit.delay.get(), "delay_term");
        worst.note("timebase::TimeBase::fit delay", error, row);
    }
    for row in Table::read("true_angle").rows() {
        let hole = (mm(row.input("depth_mm")), mm(row.input("surface_mm")));
        match AngleCheck::fit(&[hole]) {
            Ok(check) => {
                let error = row.error("angle_deg", check.angle().get(), "angle_deg");
                worst.note("anglecheck::AngleCheck::fit", error, row);
            }
            Err(_) => assert!(!(1.0..=89.0).contains(&row.get::<f64>("angle_deg")), "{row:?}"),
        }
    }
}
