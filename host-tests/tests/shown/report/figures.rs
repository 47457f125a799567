//! Every figure of the page is the one of the JSON, and every figure of the JSON is on the page.

use std::collections::BTreeMap;

use halfskip::record::entry::LengthUnit;
use halfskip_console::desk::console::Desk;
use serde_json::Value;

use super::pages::{jobs, json, page, parsed, roomy, text};

/// Figures that a page shows of an indication, whenever they are known.
const OF_INDICATION: [&str; 9] =
    ["x_mm", "y_mm", "z_mm", "level_db", "x_start_mm", "x_end_mm", "length_mm", "height_mm", "rating_db"];
/// Figures behind a plus-minus, by the figure that they belong to.
const UNCERTAIN: [(&str, &str); 3] = [("y_mm", "u_y_mm"), ("z_mm", "u_z_mm"), ("height_mm", "u_height_mm")];

/// Key, value and what is shown, of every figure of a page.
fn figures(page: &str) -> Vec<(String, f64, String)> {
    let page = parsed(page);
    page.descendants()
        .filter(|node| node.tag_name().name() == "data")
        .map(|node| {
            let (key, value) = (node.attribute("data-key").unwrap(), node.attribute("value").unwrap());
            (key.to_string(), value.parse().unwrap(), text(node))
        })
        .collect()
}

/// The JSON's figures under the names that the page uses.
fn known(json: &Value) -> BTreeMap<String, Value> {
    let mut known = BTreeMap::new();
    for (list, name) in [("indications", "id"), ("readings", "n")] {
        for item in json[list].as_array().unwrap() {
            let name = item[name].as_str().map_or_else(|| item[name].to_string(), ToString::to_string);
            for (key, value) in item.as_object().unwrap() {
                known.insert(format!("{list}.{name}.{key}"), value.clone());
            }
        }
    }
    known.insert("coverage.fraction".into(), json["coverage"]["fraction"].clone());
    for (place, probe) in json["coverage"]["by_probe"].as_array().unwrap().iter().enumerate() {
        known.insert(format!("coverage.by_probe.{place}.fraction"), probe["fraction"].clone());
    }
    known
}

/// A number as it is shown, and half of its last digit.
fn number(shown: &str) -> (f64, f64) {
    let shown = shown.trim_start_matches(['\u{2265}', '\u{2264}', ' ', '+']).trim_end_matches([' ', '%']);
    let decimals = shown.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    (shown.parse().unwrap(), 0.5 * 10f64.powi(-(decimals as i32)))
}

/// Holds the figures shown of a job against its JSON, both ways; how many there are.
pub fn agree(name: &str, desk: &Desk, found: &[(String, f64, String)]) -> usize {
    let json = json(desk);
    let known = known(&json);
    let inches = desk.shell().examination().facts().common().units == LengthUnit::In;
    let shown_as = |key: &str, value: f64| match key {
        key if key.ends_with("fraction") => 100.0 * value,
        key if inches && key.ends_with("_mm") => value / 25.4,
        _ => value,
    };
    for (key, value, shown) in found {
        let held = known.get(key).and_then(Value::as_f64).unwrap_or_else(|| panic!("{name}: {key}"));
        assert_eq!(*value as f32, held as f32, "{name}: {key}");
        let (main, uncertain) =
            shown.split_once(" \u{b1} ").map_or((shown.as_str(), None), |(a, b)| (a, Some(b)));
        let (main, half) = number(main);
        let off = (main - shown_as(key, held)).abs();
        assert!(off <= half * 1.0001, "{name}: {key} {held} shown as {shown}");
        if let Some(uncertain) = uncertain {
            let (of, u) = UNCERTAIN.into_iter().find(|(of, _)| key.ends_with(&format!(".{of}"))).unwrap();
            let key = key.replace(&format!(".{of}"), &format!(".{u}"));
            let (uncertain, half) = number(uncertain);
            let held = known[&key].as_f64().unwrap();
            assert!((uncertain - shown_as(&key, held)).abs() <= half * 1.0001, "{name}: {key}");
        }
    }
    for indication in json["indications"].as_array().unwrap() {
        for key in OF_INDICATION {
            let full = format!("indications.{}.{key}", indication["id"].as_str().unwrap());
            let on_page = found.iter().any(|(found, ..)| *found == full);
            assert_eq!(on_page, !indication[key].is_null(), "{name}: {full}");
        }
    }
    found.len()
}

#[test]
fn page_and_json_have_the_same_figures() {
    roomy(|| {
        let jobs = jobs();
        let compared: usize = jobs.iter().map(|(name, desk)| agree(name, desk, &figures(&page(desk)))).sum();
        assert!(compared > 100);
    });
}

#[test]
fn a_bound_is_shown_as_one() {
    roomy(|| {
        for (name, desk) in jobs() {
            let (page, json) = (page(&desk), json(&desk));
            let found = figures(&page);
            for (list, id) in [("indications", "id"), ("readings", "n")] {
                for item in json[list].as_array().unwrap() {
                    let id = item[id].as_str().map_or_else(|| item[id].to_string(), ToString::to_string);
                    let sign = match item["level_bound"].as_str() {
                        Some("at-least") => "\u{2265} ",
                        Some("at-most") => "\u{2264} ",
                        _ => "",
                    };
                    let key = format!("{list}.{id}.level_db");
                    for (_, _, shown) in found.iter().filter(|(found, ..)| *found == key) {
                        let bare = shown.trim_start_matches(['\u{2265}', '\u{2264}', ' ']);
                        assert_eq!(*shown, format!("{sign}{bare}"), "{name}: {key}");
                    }
                }
            }
        }
    });
}

#[test]
fn the_row_that_decides_is_the_one_that_the_reason_names() {
    roomy(|| {
        let mut seen = 0;
        for (name, desk) in jobs() {
            let (page, json) = (page(&desk), json(&desk));
            let page = parsed(&page);
            for (place, indication) in json["indications"].as_array().unwrap().iter().enumerate() {
                let because = indication["because"].as_str().unwrap();
                let Some(row) = because.strip_prefix("row ").and_then(|rest| rest.split(' ').next()) else {
                    continue;
                };
                let id = format!("indication-{}", place + 1);
                let section = page.descendants().find(|node| node.attribute("id") == Some(&id)).unwrap();
                let cells = section.descendants().filter(|node| node.tag_name().name() == "tr");
                let decides = cells.map(text).find(|row| row.starts_with("Row that decides")).unwrap();
                assert!(
                    decides.starts_with(&format!("Row that decides{row}: ")),
                    "{name}: {because} {decides}"
                );
                seen += 1;
            }
        }
        assert!(seen > 0);
    });
}
