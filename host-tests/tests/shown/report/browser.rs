//! The page in a real browser: at the width of a desk and of a phone, and on paper.
//!
//! These tests need a browser, `chromium` or the one that `CHROMIUM` names, and the feature `browser`: `bash
//! .ci/report-page` runs them and leaves pictures to be looked at in `target/report-page`. With `HALFSKIP_BLESS=1` it makes the README's pictures anew.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::devtools::Browser;
use super::figures::agree;
use super::pages::{HOLES, desk, jobs, page, roomy};

const DESK: u32 = 1280;
const PHONE: u32 = 390;
const LAYOUT: &str = include_str!("layout.js");
const GLYPHS: &str = include_str!("glyphs.js");
/// Name, width and height in inches, and the width between the margins in pixels of a 96th of an inch.
const PAPERS: [(&str, f64, f64, u32); 2] = [("a4", 8.27, 11.69, 687), ("letter", 8.5, 11.0, 710)];

/// Where the pictures go.
fn shown() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("../report-page");
    fs::create_dir_all(&folder).unwrap();
    folder.canonicalize().unwrap()
}

/// Every page of the tests, written to a file, with its name.
fn pages() -> Vec<(String, PathBuf)> {
    let written = jobs().into_iter().map(|(name, desk)| {
        let name = Path::new(&name).file_stem().unwrap().to_string_lossy().into_owned();
        let file = shown().join(format!("{name}.html"));
        fs::write(&file, page(&desk)).unwrap();
        (name, file)
    });
    written.collect()
}

fn height(browser: &mut Browser) -> u32 {
    browser.evaluate("document.documentElement.scrollHeight").as_u64().unwrap() as u32
}

#[test]
fn nothing_overflows_or_is_cut_at_any_width_or_on_paper() {
    roomy(|| {
        let mut browser = Browser::start();
        for (name, file) in pages() {
            for (place, width) in [("desk", DESK), ("phone", PHONE)] {
                browser.show(&file, width);
                let wrong = browser.evaluate(&format!("{LAYOUT}(false)"));
                assert_eq!(wrong, json!([]), "{name} at {width}: {wrong:#}");
                let whole = [0.0, 0.0, f64::from(width), f64::from(height(&mut browser))];
                fs::write(shown().join(format!("{name}-{place}.png")), browser.picture(whole)).unwrap();
            }
            browser.ask("Emulation.setEmulatedMedia", json!({"media": "print"}));
            for (paper, width, height, between) in PAPERS {
                browser.size(between, 900);
                let wrong = browser.evaluate(&format!("{LAYOUT}(true)"));
                assert_eq!(wrong, json!([]), "{name} on {paper}: {wrong:#}");
                let printed = browser.printed(width, height);
                fs::write(shown().join(format!("{name}-{paper}.pdf")), &printed).unwrap();
                let pages = printed.windows(11).filter(|bytes| *bytes == b"/Type /Page" as &[u8]).count();
                // A printed page that is smaller than its paper would be counted double.
                let least = height_in_pages(&mut browser, height);
                assert!(
                    pages >= least && pages <= 2 * least + 3,
                    "{name} on {paper}: {pages} pages, {least} at least"
                );
            }
            browser.ask("Emulation.setEmulatedMedia", json!({"media": ""}));
        }
    });
}

/// How many sheets the page fills at least, when nothing is moved to the next one.
fn height_in_pages(browser: &mut Browser, paper: f64) -> usize {
    let between = (paper - 34.0 / 25.4) * 96.0;
    (f64::from(height(browser)) / between).floor() as usize
}

#[test]
fn the_browser_shows_the_figures_of_the_json() {
    const SHOWN: &str =
        "[...document.querySelectorAll('data')].map(data => [data.dataset.key, data.value, data.innerText])";
    roomy(|| {
        let mut browser = Browser::start();
        for ((name, desk), (_, file)) in jobs().iter().zip(pages()) {
            browser.show(&file, DESK);
            let shown = browser.evaluate(SHOWN);
            let text = |value: &Value| value.as_str().unwrap().to_owned();
            let shown = shown
                .as_array()
                .unwrap()
                .iter()
                .map(|row| (text(&row[0]), text(&row[1]).parse().unwrap(), text(&row[2])));
            agree(name, desk, &shown.collect::<Vec<_>>());
        }
    });
}

#[test]
fn every_character_has_a_glyph() {
    roomy(|| {
        let mut browser = Browser::start();
        for (name, file) in pages().into_iter().filter(|(name, _)| name != "odd") {
            browser.show(&file, DESK);
            let found = browser.evaluate(GLYPHS);
            assert!(
                found["fonts"].as_u64().unwrap() >= 3 && found["missing"] == json!([]),
                "{name}: {found:#}"
            );
            // What no font has is found.
            browser.evaluate("document.querySelector('h1').append('\\u{e123}'); 0");
            let found = browser.evaluate(GLYPHS);
            assert_eq!(found["missing"].as_array().unwrap().len(), 1, "{name}: {found:#}");
        }
    });
}

#[test]
fn a_page_that_overflows_is_found() {
    roomy(|| {
        let mut browser = Browser::start();
        let file = shown().join("wide.html");
        fs::write(&file, page(&desk(HOLES, None))).unwrap();
        for (change, part) in [
            ("document.querySelector('p').style.width = '2000px'", "the page is"),
            (
                "document.querySelector('td').innerHTML = '<b style=\"white-space: nowrap\">' + 'wide '.repeat(99)",
                "wide in a place of",
            ),
            (
                "document.querySelector('td').textContent = '1234'; document.querySelector('td').style.fontSize = '9rem'",
                "is broken",
            ),
            ("document.querySelector('svg text').setAttribute('x', '-900')", "is cut by its drawing"),
        ] {
            browser.show(&file, PHONE);
            browser.evaluate(&format!("{change}; 0"));
            let wrong = browser.evaluate(&format!("{LAYOUT}(false)"));
            assert!(
                wrong.as_array().unwrap().iter().any(|told| told.as_str().unwrap().contains(part)),
                "{wrong:#}"
            );
        }
    });
}

#[test]
fn the_readmes_picture_is_of_this_page() {
    const KEPT: &str = "for (const part of document.querySelectorAll('nav, section'))
        if (!['found', 'overview'].includes(part.id)) part.remove();
        document.querySelectorAll('#found p, #found .wide ~ .wide').forEach(part => part.remove());
        document.body.style.paddingBottom = '1rem'; 0";
    let picture = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/pages/butt-weld-20mm.png");
    if std::env::var_os("HALFSKIP_BLESS").is_none() {
        assert!(picture.exists());
        return;
    }
    roomy(move || {
        let mut browser = Browser::start();
        let (_, file) = pages().into_iter().find(|(name, _)| name == "butt-weld-20mm").unwrap();
        browser.show(&file, 860);
        browser.evaluate(KEPT);
        let whole = [0.0, 0.0, 860.0, browser.evaluate("document.body.offsetHeight").as_f64().unwrap()];
        fs::write(picture, browser.picture(whole)).unwrap();
    });
}
