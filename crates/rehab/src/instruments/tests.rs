use super::*;

/// Answers that sum to a score: as many 3s as fit, then the rest.
fn adding_to(score: u8, questions: usize, most: u8) -> Vec<u8> {
    let mut left = score;
    (0..questions)
        .map(|_| {
            let answer = left.min(most);
            left -= answer;
            answer
        })
        .collect()
}

// Sources: kroenke-2001, spitzer-2006 (printed bands); computed: 9 is mild, 10 moderate; worry 15 severe.
#[test]
fn published_bands_of_mood_and_worry() {
    let mood = |score| phq_9(&adding_to(score, 9, 3)).unwrap().severity;
    assert_eq!(mood(4), Severity::Minimal);
    assert_eq!(mood(5), Severity::Mild);
    assert_eq!(mood(9), Severity::Mild);
    assert_eq!(mood(10), Severity::Moderate);
    assert_eq!(mood(15), Severity::ModeratelySevere);
    assert_eq!(mood(20), Severity::Severe);
    assert_eq!(mood(27), Severity::Severe);
    let worry = |score| gad_7(&adding_to(score, 7, 3)).unwrap().severity;
    assert_eq!(worry(4), Severity::Minimal);
    assert_eq!(worry(14), Severity::Moderate);
    assert_eq!(worry(15), Severity::Severe);
}

// Computed by hand: raw 13 is 52 and no flag, raw 12 is 48 and a flag, raw 7 is 28.
#[test]
fn worked_well_being() {
    let of = |raw| who_5(&adding_to(raw, 5, 5)).unwrap();
    assert_eq!((of(13).score, of(13).low), (52, false));
    assert_eq!(
        (of(12).score, of(12).low, of(12).very_low),
        (48, true, false)
    );
    assert_eq!((of(7).score, of(7).very_low), (28, true));
    assert_eq!(of(25).score, 100);
}

// A public page subtracts 5 before multiplying; raw 13 would be 32 and a false alarm.
#[test]
fn the_known_wrong_well_being_is_not_ours() {
    assert_ne!(who_5(&adding_to(13, 5, 5)).unwrap().score, (13 - 5) * 4);
}

#[test]
fn the_ninth_item_alerts_even_when_the_rest_is_low_or_missing() {
    assert!(ninth_item_alert(&[0, 0, 0, 0, 0, 0, 0, 0, 1]).is_some());
    assert!(ninth_item_alert(&[3, 3, 3, 3, 3, 3, 3, 3, 0]).is_none());
    assert!(ninth_item_alert(&[0; 8]).is_none());
}

#[test]
fn a_part_is_not_a_score_and_an_impossible_answer_is_refused() {
    assert_eq!(phq_9(&[0; 8]), Err(NotScored::Unanswered));
    assert_eq!(phq_9(&[4; 9]), Err(NotScored::NotAnAnswer));
    assert_eq!(gad_7(&[0; 8]), Err(NotScored::NotAnAnswer));
    assert_eq!(who_5(&[6, 0, 0, 0, 0]), Err(NotScored::NotAnAnswer));
    assert_eq!(two_items_positive(&[1, 2]), Ok(true));
    assert_eq!(two_items_positive(&[1, 1]), Ok(false));
}

#[test]
fn licensed_scores_have_a_range_and_bands_only() {
    let hads = score_entry("hads").unwrap();
    assert_eq!(hads.band(7.0), Some("usual"));
    assert_eq!(hads.band(8.0), Some("borderline"));
    assert_eq!(hads.band(11.0), Some("raised"));
    assert_eq!(hads.band(22.0), None);
    assert_eq!(score_entry("macnew").unwrap().band(4.0), None);
}
