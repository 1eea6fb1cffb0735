//! The session page: one file, closed to the outside, nothing hidden in it, and its script tested under node.

mod fixture;

use fixture::{order, order_with, signed};
use handouts::page::session_page;
use handouts::running_order::{Approval, RunningOrder};
use rehab::assessment::{Device, HistoryItem, Medicine, UsualSymptom};
use rehab::diary::SymptomKind;
use std::process::Command;

/// What stands between a begin and the next end.
fn between<'a>(text: &'a str, begin: &str, end: &str) -> &'a str {
    let from = text.find(begin).unwrap_or_else(|| panic!("no '{begin}'")) + begin.len();
    let rest = &text[from..];
    &rest[..rest.find(end).unwrap_or_else(|| panic!("no '{end}'"))]
}

fn ill() -> RunningOrder {
    order_with(&signed(), 1, |case, _, _| {
        case.history.present = vec![HistoryItem::HeartFailure, HistoryItem::Diabetes];
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

fn usual() -> RunningOrder {
    order_with(&signed(), 1, |case, _, _| {
        for kind in [
            SymptomKind::Breathlessness,
            SymptomKind::ChestDiscomfort,
            SymptomKind::Faint,
        ] {
            case.usual_symptoms.push(UsualSymptom {
                kind,
                score: Some(3.0),
            });
        }
    })
}

#[test]
fn it_is_one_file_under_400_kb_that_asks_nobody_for_anything() {
    for order in [order(), ill(), order_with(&signed(), 2, |_, _, _| {})] {
        let page = session_page(&order);
        assert!(page.len() < 400 * 1024, "{} bytes", page.len());
        for outside in [
            "http://", "https://", "src=\"", "@import", "url(http", "<link", "<img", "<iframe",
        ] {
            let found = page.replace("http://www.w3.org/2000/svg", "");
            assert!(!found.contains(outside), "{outside}");
        }
    }
}

#[test]
fn a_page_of_thirty_different_exercises_stays_under_400_kb() {
    let exercises = fixture::exercises();
    let mut stage = fixture::stage(1);
    let pattern = stage.segments[0].clone();
    stage.segments = exercises
        .iter()
        .take(30)
        .map(|exercise| {
            let variant = &exercise.variants[0];
            let mut segment = pattern.clone();
            segment.doing = Some(fixture::named(&format!("{}/{}", exercise.id, variant.id)));
            segment.easier = variant.easier.clone();
            segment.place = None;
            segment
        })
        .collect();
    let (case, service, words, limits, approval) = (
        fixture::case(),
        fixture::service(),
        fixture::words(),
        fixture::limits(),
        signed(),
    );
    let order = handouts::running_order::running_order(&handouts::running_order::Ask {
        case: &case,
        service: &service,
        limits: &limits,
        bounds: fixture::bounds(),
        stage: &stage,
        exercises: &exercises,
        words: &words,
        letter: 'B',
        on: fixture::today(),
        valid_until: None,
        approval: &approval,
    })
    .expect("it is complete");
    let page = session_page(&order);
    assert!(page.len() < 400 * 1024, "{} bytes", page.len());
}

#[test]
fn reference_the_policy_names_the_digest_of_the_very_script_and_style() {
    use sha2::{Digest, Sha256};
    let page = session_page(&order());
    let policy = between(&page, "Content-Security-Policy\" content=\"", "\"").replace("&#39;", "'");
    assert!(policy.starts_with("default-src 'none';"));
    assert!(!policy.contains("unsafe"));
    for (name, text) in [
        ("script-src", between(&page, "<script>", "</script>")),
        ("style-src", between(&page, "<style>", "</style>")),
    ] {
        let digest = Sha256::digest(text.as_bytes());
        let named = between(&policy, &format!("{name} 'sha256-"), "'");
        assert_eq!(named, plain_base64(&digest), "{name}");
    }
    assert_eq!(page.matches("<script").count(), 2);
    assert!(!page.contains(" style=\"") && !page.contains(" onclick"));
}

/// Base64 written anew here, so that the page's own is not its own witness.
fn plain_base64(bytes: &[u8]) -> String {
    let signs: Vec<char> = ('A'..='Z')
        .chain('a'..='z')
        .chain('0'..='9')
        .chain(['+', '/'])
        .collect();
    let bits: Vec<u8> = bytes
        .iter()
        .flat_map(|byte| (0..8).rev().map(move |i| byte >> i & 1))
        .collect();
    let mut out: String = bits
        .chunks(6)
        .map(|six| signs[(0..6).fold(0, |sum, i| sum * 2 + usize::from(*six.get(i).unwrap_or(&0)))])
        .collect();
    while !out.len().is_multiple_of(4) {
        out.push('=');
    }
    out
}

#[test]
fn everything_of_the_running_order_can_be_read_without_a_script() {
    for order in [order(), ill(), order_with(&signed(), 2, |_, _, _| {})] {
        let page = session_page(&order);
        let document = between(&page, "<main id=\"whole\">", "</main>");
        let plain = document.replace("&quot;", "\"").replace("&amp;", "&");
        for cue in order.cues.iter().filter(|cue| cue.doing.what.is_some()) {
            for line in &cue.doing.lines {
                assert!(plain.contains(line), "{line}");
            }
            assert!(plain.contains(&cue.doing.set_up) && plain.contains(&cue.doing.name));
            assert!(cue.easier.lines.iter().all(|line| plain.contains(line)));
        }
        for row in order.parts.iter().flat_map(|part| &part.rows) {
            assert!(plain.contains(&format!("{}.", row.length)), "{row:?}");
        }
        for line in order
            .ready
            .iter()
            .chain(&order.closing.last)
            .chain(&order.nitrate)
        {
            assert!(plain.contains(line.as_str()), "{line}");
        }
        for row in &order.check {
            assert!(
                row.paper.iter().all(|line| plain.contains(line)),
                "{}",
                row.id
            );
        }
        assert!(plain.contains("tel:999") && plain.contains("tel:01632960117"));
        assert!(plain.contains("Nobody is watching."));
    }
}

#[test]
fn the_script_has_every_sentence_it_asks_for() {
    let page = session_page(&order());
    let script = between(&page, "<script>", "</script>");
    let data = between(&page, "id=\"order\">", "</script>");
    for begin in ["'page.", "'check.", "'unwell.", "'say."] {
        for part in script.split(begin).skip(1) {
            let id = format!("{}{}", &begin[1..], part.split('\'').next().unwrap_or(""));
            assert!(
                data.contains(&format!("\"{id}\":")),
                "no sentence '{id}' on the page"
            );
        }
    }
}

#[test]
fn no_measure_of_effort_or_class_stands_on_the_page() {
    let page = session_page(&order());
    let data = between(&page, "id=\"order\">", "</script>");
    for bad in [
        "mets",
        "METs",
        "hr_gain",
        "predicted",
        " risk",
        "\"risk",
        "ceiling",
    ] {
        assert!(!data.contains(bad), "{bad}");
    }
}

#[test]
fn a_draft_says_so_on_every_screen_and_a_signed_page_by_whom() {
    let draft = session_page(&order_with(&Approval::Draft, 1, |_, _, _| {}));
    assert!(draft.contains("<p class=\"draft\">DRAFT, NOT FOR A PATIENT</p>"));
    let page = session_page(&order());
    assert!(!page.contains("DRAFT, NOT FOR A PATIENT</p>"));
    assert!(page.contains("Signed by Josie Marwood, physiotherapist, 25 November 2026"));
}

#[test]
fn names_and_settings_cannot_break_out_of_their_place() {
    let order = order_with(&signed(), 1, |case, service, _| {
        case.person.called = Some("</script><script>alert(1)</script>".to_owned());
        service.name = "<b>".to_owned();
        if let Some(contact) = &mut service.contact {
            contact.name = "\"><svg onload=alert(1)>".to_owned();
        }
        case.home.places[0].name = "<i>chair</i>".to_owned();
    });
    let page = session_page(&order);
    assert_eq!(page.matches("<script").count(), 2);
    assert!(!page.contains("<svg onload") && !page.contains("<b>\""));
}

#[test]
fn the_same_order_gives_the_same_bytes() {
    assert_eq!(session_page(&order()), session_page(&order()));
}

#[test]
fn the_script_passes_its_tests_under_node() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("orders");
    std::fs::create_dir_all(&folder).expect("a folder for the orders");
    let orders = [
        ("signed", order()),
        ("two-rounds", order_with(&signed(), 2, |_, _, _| {})),
        ("ill", ill()),
        ("usual", usual()),
    ];
    for (name, order) in orders {
        let page = session_page(&order);
        let data = between(&page, "id=\"order\">", "</script>");
        std::fs::write(folder.join(format!("{name}.json")), data).expect("the order is written");
    }
    let tests = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("page/test");
    let files: Vec<_> = std::fs::read_dir(tests)
        .expect("the tests are in the repository")
        .map(|entry| entry.expect("a readable entry").path())
        .filter(|path| path.to_string_lossy().ends_with(".test.js"))
        .collect();
    let run = Command::new("node")
        .arg("--test")
        .args(&files)
        .env("HANDOUTS_ORDERS", &folder)
        .output();
    let run = run.expect("node runs the script's tests; install it with `cargo xtask setup`");
    let said = String::from_utf8_lossy(&run.stdout);
    assert!(run.status.success(), "{said}");
    assert!(
        said.contains("# fail 0") || said.contains("fail 0"),
        "{said}"
    );
}

#[test]
fn law_what_the_page_plays_is_the_running_order_second_for_second() {
    for order in [order(), ill(), order_with(&signed(), 2, |_, _, _| {})] {
        let page = session_page(&order);
        let data: serde_json::Value =
            serde_json::from_str(between(&page, "id=\"order\">", "</script>")).expect("JSON");
        let cues = data["cues"].as_array().expect("cues");
        assert_eq!(cues.len(), order.cues.len());
        for (played, cue) in cues.iter().zip(&order.cues) {
            assert_eq!(played["start"].as_u64(), Some(cue.start_ms));
            assert_eq!(played["length"].as_u64(), Some(u64::from(cue.duration_ms)));
            assert_eq!(played["title"], cue.title.as_str());
            assert_eq!(played["place"], cue.place.as_str());
            let care = |key: &str| {
                let place = played[key].as_u64().expect("a place in the list") as usize;
                data["doings"][place]["care"].clone()
            };
            assert_eq!(care("doing"), cue.doing.care.as_str());
            assert_eq!(care("easier"), cue.easier.care.as_str());
            for (key, doing) in [("doing", &cue.doing), ("easier", &cue.easier)] {
                let said =
                    &data["doings"][played[key].as_u64().expect("a place in the list") as usize];
                assert_eq!(said["name"], doing.name.as_str());
                assert_eq!(said["lines"], serde_json::json!(doing.lines));
            }
        }
        assert_eq!(data["length"].as_u64(), Some(order.length_ms));
    }
}
