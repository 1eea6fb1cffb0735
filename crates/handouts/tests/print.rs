//! The printed pages: the same running order, what every sheet bears, and sizes that can be read.

mod fixture;

use fixture::{order, order_with, signed};
use handouts::print::{Ink, Paper, printed_pages};
use handouts::running_order::{Approval, RunningOrder};

fn plain(page: &str) -> String {
    page.replace("&quot;", "\"")
        .replace("&amp;", "&")
        .replace("&#39;", "'")
}

fn sheets(page: &str) -> Vec<&str> {
    page.split("<section class=\"sheet\">").skip(1).collect()
}

#[test]
fn every_station_stands_there_with_how_it_begins_its_sentences_and_its_easier_way() {
    let order = order_with(&signed(), 2, |_, _, _| {});
    let page = plain(&printed_pages(&order, Paper::A4, Ink::Colour));
    let smaller = order.word("print.list.too-much");
    for cue in order.cues.iter().filter(|cue| cue.doing.what.is_some()) {
        for line in cue.doing.lines.iter().chain([&cue.doing.set_up]) {
            assert!(page.contains(line), "{line}");
        }
        assert!(page.contains(&cue.doing.tempo), "{}", cue.doing.tempo);
        // Where the easier way has words of its own, they stand there; else the rule for all does.
        let way = cue.easier.way.trim();
        let mut signs = way.chars();
        signs.next();
        let told = match (cue.doing.what == cue.easier.what, way.is_empty()) {
            (true, _) => smaller.to_owned(),
            (false, true) => cue.easier.lines.join(" "),
            (false, false) => signs.as_str().to_owned(),
        };
        assert!(!told.is_empty() && page.contains(&told), "{told}");
        assert!(page.contains(&cue.doing.care), "{}", cue.doing.care);
        assert!(page.contains(&cue.easier.care), "{}", cue.easier.care);
    }
    let brisk = order
        .shown()
        .iter()
        .filter(|cue| cue.turn.is_some())
        .count();
    assert_eq!(
        page.matches("pf-line is-chosen").count(),
        brisk,
        "each brisk page marks its own hill"
    );
}

#[test]
fn a_round_that_is_not_the_first_once_more_is_listed_and_nothing_follows_the_slowing_down() {
    let twice = order_with(&signed(), 2, |_, _, _| {});
    let page = plain(&printed_pages(&twice, Paper::A4, Ink::Colour));
    let again = page
        .find("Do round 1 once more")
        .expect("it is the same round");
    let heads = |page: &str, head: &str| page.rfind(&format!("<h2>{head}")).unwrap_or(0);
    assert!(again > heads(&page, "Round 2 of 2"));
    assert!(again < heads(&page, "Slowing down"));

    let mut stage = fixture::stage(2);
    let dropped = stage.segments.iter().rposition(|one| one.round == 2);
    stage.segments.remove(dropped.expect("a second round"));
    let shorter = fixture::order_of(&stage, &signed());
    let page = plain(&printed_pages(&shorter, Paper::A4, Ink::Colour));
    assert!(!page.contains("Do round 1 once more"));
    let second = &page[heads(&page, "Round 2 of 2")..heads(&page, "Slowing down")];
    assert_eq!(second.matches("Brisk turn").count(), 4);
}

#[test]
fn a_home_of_one_place_is_not_walked_through() {
    let walks = "Walk over from place to place.";
    assert!(printed_pages(&order(), Paper::A4, Ink::Grey).contains(walks));
    let mut stage = fixture::stage(1);
    for segment in &mut stage.segments {
        segment.place = Some(0);
        segment.place_name = "armchair".to_owned();
    }
    let one = fixture::order_of(&stage, &signed());
    assert!(!printed_pages(&one, Paper::A4, Ink::Grey).contains(walks));
}

#[test]
fn a_wait_that_the_services_words_tell_is_not_told_again() {
    let order = order_with(&signed(), 1, |_, service, _| {
        let protocol = service.nitrate.as_mut().expect("a protocol");
        protocol.steps[0].text =
            "one spray under the tongue. Wait five minutes, sitting".to_owned();
    });
    assert_eq!(
        order.nitrate[0],
        "One spray under the tongue. Wait five minutes, sitting."
    );
    assert_eq!(
        order.nitrate[1],
        "A second spray under the tongue. Stay seated and wait five minutes."
    );
}

#[test]
fn the_first_pages_hold_the_check_and_the_numbers() {
    for order in [order(), long()] {
        let page = plain(&printed_pages(&order, Paper::A4, Ink::Grey));
        let sheets = sheets(&page);
        let first = sheets[0];
        // More rows than a sheet holds beside the box: it stands at the head of the second.
        let numbers = if first.contains("Nobody is watching.") {
            first
        } else {
            sheets[1]
        };
        for row in &order.check {
            assert!(
                row.paper.iter().all(|line| first.contains(line)),
                "{}",
                row.id
            );
        }
        for part in [
            "Call 999",
            "01632 960 117",
            &order.stop.when,
            &order.stop.call_if,
            &order.emergency.text,
            "Nobody is watching.",
        ] {
            assert!(numbers.contains(part), "{part}");
        }
        assert!(order.ready.iter().all(|line| page.contains(line.as_str())));
    }
}

/// Somebody with everything: more rows than the first page has room for what is made ready.
fn long() -> RunningOrder {
    use rehab::assessment::{Device, HistoryItem, Medicine};
    order_with(&signed(), 1, |case, _, _| {
        case.history.present = vec![
            HistoryItem::HeartFailure,
            HistoryItem::Diabetes,
            HistoryItem::KneeOsteoarthritis,
            HistoryItem::LowVision,
        ];
        case.heart.device = Some(Device {
            lowest_treated_bpm: Some(170.0),
            last_shock: None,
            subcutaneous: None,
        });
        case.medicines.push(Medicine {
            name: "insulin".to_owned(),
            dose: None,
            since: None,
            until: None,
            times: None,
            as_needed: None,
        });
    })
}

#[test]
fn every_sheet_bears_name_year_letter_date_and_that_older_pages_go() {
    for paper in [Paper::A4, Paper::Letter] {
        let page = printed_pages(&order(), paper, Ink::Colour);
        let sheets = sheets(&page);
        assert!(sheets.len() > 8);
        for (i, sheet) in sheets.iter().enumerate() {
            assert!(sheet.contains("Mrs Fenwick, born 1951"), "sheet {i}");
            assert!(
                sheet.contains("Page B, printed 25 November 2026. Throw older pages away."),
                "sheet {i}"
            );
            assert!(sheet.contains("Signed by Josie Marwood"), "sheet {i}");
            assert!(!sheet.contains("DRAFT"), "sheet {i}");
        }
    }
}

#[test]
fn a_draft_says_so_on_every_sheet_and_bears_no_signature() {
    let page = printed_pages(
        &order_with(&Approval::Draft, 1, |_, _, _| {}),
        Paper::Letter,
        Ink::Grey,
    );
    for sheet in sheets(&page) {
        assert!(sheet.contains("<p class=\"draft\">DRAFT, NOT FOR A PATIENT</p>"));
        assert!(!sheet.contains("Signed by"));
    }
}

#[test]
fn no_words_but_the_foot_and_the_note_of_intended_use_are_smaller_than_16_pt() {
    let style = include_str!("../look/print.css");
    for line in style.lines().filter(|line| line.contains("font-size")) {
        for size in line.split("font-size: ").skip(1) {
            let Some(pt) = size
                .split("pt")
                .next()
                .and_then(|text| text.parse::<f64>().ok())
            else {
                continue;
            };
            assert!(
                pt >= 16.0 || line.starts_with("footer") || line.starts_with(".signed"),
                "{line}"
            );
        }
    }
    // Words inside drawings are px of a drawing 640 px wide on 170 mm: 21 px are 15.8 pt and more.
    assert!(handouts::look::DRAWINGS.contains(".pf-print-no, .pf-print-end { font-size: 21px;"));
}

#[test]
fn the_spray_stands_there_only_with_the_services_steps() {
    let with = printed_pages(&order(), Paper::A4, Ink::Colour);
    assert!(with.contains("One spray under the tongue. Stay seated and wait five minutes."));
    let without = printed_pages(
        &order_with(&signed(), 1, |case, _, _| {
            case.nitrate.prescribed = Some(false)
        }),
        Paper::A4,
        Ink::Colour,
    );
    assert!(!without.contains("spray"));
}

#[test]
fn the_diary_has_three_boxes_for_each_session() {
    let page = printed_pages(&order(), Paper::A4, Ink::Colour);
    let rows = page.matches("<p class=\"day\">").count();
    assert!(rows >= 4, "{rows}");
    assert_eq!(page.matches("<div class=\"box\">").count(), rows * 3);
}

#[test]
fn a_pulse_has_its_place_before_and_after_only_where_one_is_counted() {
    let asked = printed_pages(&order(), Paper::A4, Ink::Colour);
    let places = "<span>Pulse before</span><span>after</span>";
    let rows = asked.matches("<p class=\"day\">").count();
    assert_eq!(asked.matches(places).count(), rows);
    assert!(asked.contains("once more at the end, when you have slowed down."));
    let without = printed_pages(
        &order_with(&signed(), 1, |_, _, limits| limits.pulse_model = false),
        Paper::A4,
        Ink::Colour,
    );
    assert!(!without.contains("Pulse before") && !without.contains("Count it before you begin"));
}

#[test]
fn the_same_order_gives_the_same_bytes() {
    let one = printed_pages(&order(), Paper::A4, Ink::Grey);
    assert_eq!(one, printed_pages(&order(), Paper::A4, Ink::Grey));
}
