//! What every page has, whatever the job.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use halfskip::acceptance::technique::Ground;
use halfskip_console::desk::drawing::face::width;
use halfskip_console::desk::drawing::{Align, Ink, Mark, Words};
use halfskip_console::desk::report;
use halfskip_console::desk::report::document::Block;
use halfskip_host_tests::sound::{SHEET, SOUND};

use super::pages::{HOLES, ODD, desk, jobs, page, parsed, roomy, text};

#[test]
fn a_page_stands_alone_and_says_what_its_drawings_show() {
    roomy(|| {
        for (name, desk) in jobs() {
            let page = page(&desk);
            let page = parsed(&page);
            let root = page.root_element();
            assert_eq!(root.attribute("lang"), Some("en"), "{name}");
            let all = || root.descendants().filter(roxmltree::Node::is_element);
            for node in all() {
                let tag = node.tag_name().name();
                assert!(!matches!(tag, "script" | "link" | "img" | "iframe" | "object"), "{name}: {tag}");
                for attribute in node.attributes() {
                    let fetched = matches!(attribute.name(), "src" | "srcset" | "data" | "action")
                        || (attribute.name() == "href" && !attribute.value().starts_with('#'))
                        || attribute.name().starts_with("on");
                    assert!(!fetched, "{name}: {attribute:?}");
                }
            }
            let ids: Vec<&str> = all().filter_map(|node| node.attribute("id")).collect();
            let unique: BTreeSet<&str> = ids.iter().copied().collect();
            assert_eq!(ids.len(), unique.len(), "{name}");
            for node in all() {
                let link = node.attribute("href").map(|link| link.trim_start_matches('#'));
                let labels =
                    node.attribute("aria-labelledby").unwrap_or("").split(' ').filter(|id| !id.is_empty());
                for id in labels.chain(link) {
                    assert!(unique.contains(id), "{name}: nothing has the id {id}");
                }
            }
            for drawing in all().filter(|node| node.tag_name().name() == "svg") {
                assert_eq!(drawing.attribute("role"), Some("img"));
                for part in ["title", "desc"] {
                    let said = drawing.children().find(|node| node.tag_name().name() == part).map(text);
                    assert!(
                        said.is_some_and(|said| !said.trim().is_empty()),
                        "{name}: a drawing without {part}"
                    );
                }
            }
            for heading in all().filter(|node| node.tag_name().name() == "th") {
                assert!(heading.attribute("scope").is_some(), "{name}");
            }
        }
    });
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    roomy(|| {
        assert_eq!(page(&desk(ODD, None)), page(&desk(ODD, None)));
    });
}

#[test]
fn what_a_text_holds_is_shown_and_not_obeyed() {
    roomy(|| {
        let desk = desk(ODD, None);
        let page = page(&desk);
        let page = parsed(&page);
        let title = page.descendants().find(|node| node.tag_name().name() == "h1").map(text).unwrap();
        assert_eq!(title, "</title><script>alert(1)</script> & \"x\" 'y' ünïcode 漢");
        let struck: Vec<String> =
            page.descendants().filter(|node| node.tag_name().name() == "s").map(text).collect();
        assert_eq!(struck[0], "8");
        assert!(struck[1].contains("path=26mm") && struck[2].contains("void by entry 9: <i>mistyped</i>"));
    });
}

#[test]
fn fields_that_nobody_filled_are_shown_as_missing() {
    roomy(|| {
        let fields = |lines: &str| {
            let page = page(&desk(lines, None));
            let page = parsed(&page);
            let section = page.descendants().find(|node| node.attribute("id") == Some("fields")).unwrap();
            let rows = section.descendants().filter(|node| node.tag_name().name() == "tr");
            let rows = rows.map(|row| row.children().map(text).collect::<Vec<_>>());
            rows.filter(|row| row[0] != "Field").collect::<Vec<_>>()
        };
        let empty = fields("");
        assert!(empty.len() >= 40 && empty.iter().all(|row| row[1] == "not recorded"), "{empty:?}");
        let couplant =
            |rows: &[Vec<String>]| rows.iter().find(|row| row[0] == "Couplant").unwrap()[1].clone();
        assert_eq!(couplant(&fields(ODD)), "<b>water</b> & \"gel\"");
        let twice = "detail couplant is=\"water\"\ndetail couplant is=\"oil\"\n";
        assert_eq!(couplant(&fields(twice)), "water; oil");
        assert_eq!(couplant(&fields(&format!("{twice}void 1 reason=\"typo\""))), "oil");
    });
}

/// Left, top, right and bottom of words.
fn room(words: &Words) -> [f64; 4] {
    let wide = width(&words.text, words.face, words.size);
    let start = match words.align {
        Align::Start => words.at.0,
        Align::Middle => words.at.0 - 0.5 * wide,
        Align::End => words.at.0 - wide,
    };
    [start, words.at.1 - 0.72 * words.size, start + wide, words.at.1]
}

#[test]
fn no_word_of_a_drawing_leaves_it_or_lies_on_another() {
    roomy(|| {
        let mut seen = 0;
        for (name, desk) in jobs() {
            let document = report::document(desk.shell(), None).unwrap();
            let blocks = document.sections.iter().flat_map(|section| &section.blocks);
            for drawing in blocks.filter_map(|block| match block {
                Block::Figure(drawing) => Some(drawing),
                _ => None,
            }) {
                let words = drawing.marks.iter().filter_map(|mark| match mark {
                    Mark::Words(words) => Some((words, room(words))),
                    _ => None,
                });
                let words: Vec<(&Words, [f64; 4])> = words.collect();
                for (place, (one, [left, top, right, bottom])) in words.iter().enumerate() {
                    let within = *left >= 0.0 && *top >= 0.0;
                    let within = within && *right <= drawing.width && *bottom <= drawing.height - 2.0;
                    assert!(within, "{name}: {}: {one:?}", drawing.title);
                    for (other, [to_left, to_top, to_right, to_bottom]) in &words[place + 1..] {
                        let apart = right < to_left || left > to_right || bottom < to_top || top > to_bottom;
                        assert!(apart, "{name}: {}: {one:?} {other:?}", drawing.title);
                    }
                    seen += 1;
                }
            }
        }
        assert!(seen > 200);
    });
}

#[test]
fn the_page_has_no_colour_but_the_inks() {
    roomy(|| {
        let inks = Ink::ALL.map(|ink| ink.rgb().map(|part| format!("{part:02x}")).concat());
        for (name, desk) in jobs() {
            let page = page(&desk);
            let colours = page.match_indices('#').filter_map(|(at, _)| page.get(at + 1..at + 7));
            let colours = colours.filter(|found| found.chars().all(|char| char.is_ascii_hexdigit()));
            for colour in colours {
                assert!(inks.iter().any(|ink| ink == colour), "{name}: #{colour}");
            }
        }
    });
}

#[test]
fn what_no_beam_crosses_is_listed_and_drawn_under_one_number() {
    roomy(|| {
        let page = page(&desk(HOLES, None));
        let page = parsed(&page);
        let section = |id: &str| page.descendants().find(|node| node.attribute("id") == Some(id)).unwrap();
        let told = text(section("not-covered"));
        assert!(told.contains("stiffener at x 300 to 330 (entry 5)"), "{told}");
        assert!(told.contains("cap in the way"), "{told}");
        let rows =
            section("not-covered").descendants().filter(|node| node.tag_name().name() == "tr").count() - 1;
        let map = section("plan").descendants().find(|node| node.tag_name().name() == "svg").unwrap();
        let numbers = map.descendants().filter(|node| node.attribute("font-weight") == Some("bold"));
        let numbers: Vec<String> = numbers.map(text).collect();
        assert_eq!(numbers, (1..=rows).map(|number| number.to_string()).collect::<Vec<_>>());
        assert!(rows >= 1);
    });
}

#[test]
fn a_linearity_check_that_judged_some_of_its_pairs_says_how_many() {
    roomy(|| {
        let lines = "linearity screen large=100,80 small=70,40\nlinearity screen large=80,60 small=40,30\n";
        let page = page(&desk(lines, None));
        let cells: Vec<String> = parsed(&page)
            .descendants()
            .filter(|node| node.tag_name().name() == "td" || node.tag_name().name() == "th")
            .map(text)
            .filter(|cell| cell.starts_with("Linearity of the screen"))
            .collect();
        assert_eq!(cells, ["Linearity of the screen, 1 of 2 steps judged", "Linearity of the screen"]);
    });
}

#[test]
fn the_first_section_names_the_technique_and_what_each_indication_lacks() {
    roomy(|| {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("report-grounds");
        fs::create_dir_all(&folder).unwrap();
        let technique =
            "title = 'Short (INVENTED)'\nsource = 'no document'\nasks = ['angle', 'transfer', 'linearity']\n";
        fs::write(folder.join("it"), SHEET).unwrap();
        fs::write(folder.join("short"), technique).unwrap();
        let section = |job: &str, id: &str| {
            let page = page(&desk(job, Some(&folder.join("a.job"))));
            let page = parsed(&page);
            let found = page.descendants().find(|node| node.attribute("id") == Some(id)).unwrap();
            text(found).split_whitespace().collect::<Vec<_>>().join(" ")
        };
        let sound = section(SOUND, "found");
        assert!(sound.contains("built-in minimum") && !sound.contains("want of a ground"), "{sound}");
        let lacks =
            SOUND.lines().filter(|line| !line.starts_with("transfer") && !line.starts_with("linearity"));
        let lacks =
            lacks.collect::<Vec<_>>().join("\n").replace("criteria it", "criteria it\ntechnique short");
        let found = section(&lacks, "found");
        for told in [
            "leaves out what the built-in minimum asks for before an accept: range-check, ",
            "Not passed on for want of a ground",
            "transfer, linearity",
            "Short (INVENTED)",
            "nobody: not checked against its source",
        ] {
            assert!(found.contains(told), "{told}: {found}");
        }
        let indication = section(&lacks, "indication-1");
        for ground in Ground::ALL {
            assert!(indication.contains(ground.name()), "{ground}: {indication}");
        }
        assert!(indication.contains("no transfer correction of p60 is recorded"), "{indication}");
    });
}
