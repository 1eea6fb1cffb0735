//! Writes the pages of an invented person: `cargo run -p handouts --example page -- OUT_DIR`.

#[path = "../tests/fixture/mod.rs"]
mod fixture;

use handouts::page::session_page;
use handouts::print::{Ink, Paper, printed_pages};
use handouts::running_order::Approval;

fn main() {
    let out = std::env::args()
        .nth(1)
        .expect("give the folder to write to");
    std::fs::create_dir_all(&out).expect("the folder can be made");
    let write = |name: &str, text: &str| {
        std::fs::write(format!("{out}/{name}"), text).expect("the file can be written");
        println!("{name}: {} bytes", text.len());
    };
    write("page.html", &session_page(&fixture::order()));
    let two = fixture::order_with(&fixture::signed(), 2, |_, _, _| {});
    write("two-rounds.html", &session_page(&two));
    let draft = fixture::order_with(&Approval::Draft, 1, |_, _, _| {});
    write("draft.html", &session_page(&draft));
    let much = fixture::order_with(&fixture::signed(), 2, |case, _, _| {
        use rehab::assessment::{Device, HistoryItem, Medicine, UsualSymptom};
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
        case.usual_symptoms.push(UsualSymptom {
            kind: rehab::diary::SymptomKind::ChestDiscomfort,
            score: Some(2.0),
        });
        for name in ["insulin", "apixaban"] {
            case.medicines.push(Medicine {
                name: name.to_owned(),
                dose: None,
                since: None,
                until: None,
                times: None,
                as_needed: None,
            });
        }
    });
    write("much.html", &session_page(&much));
    write(
        "much-a4.html",
        &printed_pages(&much, Paper::A4, Ink::Colour),
    );
    write(
        "much-letter.html",
        &printed_pages(&much, Paper::Letter, Ink::Grey),
    );
    let order = fixture::order();
    write("a4.html", &printed_pages(&order, Paper::A4, Ink::Colour));
    write("a4-grey.html", &printed_pages(&order, Paper::A4, Ink::Grey));
    write(
        "letter-draft.html",
        &printed_pages(&draft, Paper::Letter, Ink::Colour),
    );
}
