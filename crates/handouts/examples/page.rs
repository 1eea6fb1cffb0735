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
    let order = fixture::order();
    write("a4.html", &printed_pages(&order, Paper::A4, Ink::Colour));
    write("a4-grey.html", &printed_pages(&order, Paper::A4, Ink::Grey));
    write(
        "letter-draft.html",
        &printed_pages(&draft, Paper::Letter, Ink::Colour),
    );
}
