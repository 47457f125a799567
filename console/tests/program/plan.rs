//! `halfskip plan`: drawing, scan plan and coverage of a joint, before anything was scanned.

use std::process::{Command, Output, Stdio};

const JOINT: &str = "joint butt thickness=16 prep=single-v bevel=30 gap=3 land=2 cap=22 crown=1 haz=8\n";
const PROBE: &str = "probe p60 angle=60 frequency=4 element=8x9 front=12\n";

/// The answer to a plan of these lines, and its exit status.
fn plan(lines: &str) -> (i32, String, String) {
    use std::io::Write;
    let mut child = Command::new(env!("CARGO_BIN_EXE_halfskip"))
        .args(["plan", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(lines.as_bytes()).unwrap();
    let Output { status, stdout, stderr } = child.wait_with_output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (status.code().unwrap(), text(stdout), text(stderr))
}

#[test]
fn the_half_skip_of_sixty_degrees_is_the_thickness_times_root_three() {
    let (status, told, _) = plan(&format!("{JOINT}{PROBE}"));
    // t tan 60 = 16 x 1.7321 = 27.7, twice that is the full skip, t / cos 60 = 32 the leg.
    assert!(told.contains("half, full skip   27.7 mm, 55.4 mm; leg 32.0 mm"), "{told}");
    assert_eq!(status, 0);
    for answer in ["Section", "Scan plan", "Coverage"] {
        assert!(told.contains(answer), "{answer}: {told}");
    }
}

#[test]
fn a_cap_that_nothing_clears_is_a_plan_that_says_so() {
    let wide = JOINT.replace("cap=22", "cap=400");
    let (status, told, _) = plan(&format!("{wide}{PROBE}"));
    assert_eq!(status, 0);
    // 200 mm of half the cap and 12 mm of nose.
    assert!(told.contains("side a: stand-off 212.0 mm, half the cap and the nose"), "{told}");
    assert!(told.contains("root b                    1  none: cap\n"), "{told}");
    assert!(told.contains("100.0 % of all: cap in the way"), "{told}");
}

#[test]
fn without_a_joint_there_is_nothing_to_plan_for() {
    let (_, told, _) = plan(PROBE);
    assert!(told.contains("no joint is recorded: there is nothing to plan for"), "{told}");
}

#[test]
fn joints_that_cannot_be_are_refused_by_name_and_line() {
    for (wrong, reason) in [
        (
            "joint butt thickness=16 prep=single-v bevel=30 gap=3 land=17\n",
            "land 17 mm leaves nothing to bevel",
        ),
        ("joint butt thickness=16 prep=single-v bevel=30 gap=3 land=2 curvature=around od=30\n", "no bore"),
        (
            "joint butt thickness=16 prep=double-v bevel=30 gap=3 land=16\n",
            "land 16 mm leaves nothing to bevel",
        ),
        ("joint butt thickness=16 prep=single-v bevel=30 gap=3 land=2 reach=none\n", "reach"),
    ] {
        let (status, _, refused) = plan(&format!("{wrong}{PROBE}"));
        assert_eq!(status, 2, "{wrong}");
        assert!(refused.contains(":1:") && refused.contains(reason), "{wrong}: {refused}");
    }
}
