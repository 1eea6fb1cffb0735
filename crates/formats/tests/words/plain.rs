//! Calm, British, without promises and without the words of the trade.

use super::reading::words_of;
use super::{british, every_text, for_patients};

#[test]
fn nothing_is_promised_shouted_or_scored() {
    const NEVER: [&str; 14] = [
        "safe",
        "safely",
        "unsafe",
        "optimal",
        "proven",
        "guarantee",
        "hurry",
        "faster",
        "harder",
        "score",
        "level",
        "challenge",
        "goals",
        "beat",
    ];
    // "Beat" is the rhythm here, and "do not hurry" is what we mean.
    const MEANT: [&str; 2] = ["beat", "hurry"];
    let words = british();
    for (name, text) in every_text(&words) {
        assert!(!text.contains('!'), "{name} shouts: {text}");
        if !for_patients(&name) {
            continue;
        }
        for word in words_of(&text) {
            let forbidden = NEVER.contains(&word.as_str()) && !MEANT.contains(&word.as_str());
            let meant = word == "harder" && name == "page.notes.effort-high"
                || word == "level" && text.contains("level ground")
                || word == "level" && text.contains("eyes level")
                || word == "level" && text.contains("chin level");
            assert!(!forbidden || meant, "{name} says '{word}': {text}");
        }
    }
}

#[test]
fn patients_never_see_the_words_of_the_trade() {
    const TRADE: [&str; 9] = [
        "mets",
        "met",
        "cv",
        "ar",
        "rung",
        "risk",
        "cardiovascular",
        "probability",
        "ceiling",
    ];
    let words = british();
    for (name, text) in every_text(&words) {
        if for_patients(&name) {
            for word in words_of(&text) {
                let plain =
                    word == "met" || (word == "ceiling" && text.contains("towards the ceiling"));
                assert!(plain || !TRADE.contains(&word.as_str()), "{name}: {text}");
            }
        }
    }
}

#[test]
fn spelling_is_british() {
    const AMERICAN: [&str; 12] = [
        "center", "color", "program", "favor", "gray", "meter", "meters", "practice", "behavior",
        "liter", "toward", "backward",
    ];
    // The computer program is a program in British English too.
    const MEANT: [(&str, &str); 1] = [("program", "letter.common.drafted")];
    let words = british();
    for (name, text) in every_text(&words) {
        for word in words_of(&text) {
            let meant = MEANT.contains(&(word.as_str(), name.as_str()));
            assert!(
                meant || !AMERICAN.contains(&word.as_str()),
                "{name}: {text}"
            );
        }
    }
}
