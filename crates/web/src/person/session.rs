//! A watched session in the list of all that was written: every turn with what was taken.

use crate::alone;
use crate::phrases::{counted, list, sentence};
use crate::watched::{shown_words, support_words, technique_words};
use maud::{Markup, html};
use rehab::assessment::{Support, Technique, Watched};
use rehab::course::WatchedSession;
use rehab::programme::VariantRef;
use rehab::wording::Words;

pub(super) fn said(words: &Words, session: &WatchedSession) -> Markup {
    let (plain, told): (Vec<&Watched>, Vec<&Watched>) =
        session.stations.iter().partition(|one| is_plain(one));
    let good: Vec<String> = plain.iter().map(|one| name(words, one)).collect();
    let shown: Vec<&str> = session.shown.iter().map(|one| shown_words(*one)).collect();
    // Felt is asked once in a session, and stands with every turn of it.
    let felt = session
        .stations
        .iter()
        .find_map(|one| one.symptoms.as_ref());
    html! {
        p { "A session watched: " (counted(session.stations.len(), "turn", "turns")) "." }
        @if !told.is_empty() {
            dl.changes { @for one in told { dt { (sentence(&name(words, one))) } dd { (taken(one)) } } }
        }
        @if !good.is_empty() { p.small { "Good, and nothing taken: " (list(&good)) "." } }
        @if let Some(felt) = felt {
            @let kinds: Vec<String> = felt.iter().map(|kind| kind.word().replace('-', " ")).collect();
            p { "Felt: " @if kinds.is_empty() { "none" } @else { (list(&kinds)) } "." }
        }
        @if !shown.is_empty() { p.small { "Shown back: " (shown.join(", ")) "." } }
        @if !session.note.is_empty() { p { (session.note) } }
    }
}

/// Good, without a number or a hand.
fn is_plain(one: &Watched) -> bool {
    one.technique == Technique::Good
        && one.effort.is_none()
        && one.hr_bpm.is_none()
        && one.bp.is_none()
        && one.support.is_none_or(|support| support == Support::None)
}

fn name(words: &Words, one: &Watched) -> String {
    let way = VariantRef {
        exercise: one.exercise.clone(),
        variant: one.variant.clone(),
    };
    alone::name(words, &way)
}

fn taken(one: &Watched) -> String {
    let effort = one.effort.map(|effort| format!("effort {}", effort.value));
    let pulse = one.hr_bpm.map(|bpm| format!("pulse {bpm}"));
    let pressure = one
        .bp
        .map(|bp| format!("pressure {}/{}", bp.systolic_mmhg, bp.diastolic_mmhg));
    let support = one.support.map(|support| support_words(support).to_owned());
    let looked = Some(technique_words(one.technique).to_owned());
    let parts = [looked, effort, pulse, pressure, support];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}
