//! How the watched session looks: big targets, in the order of the running session.

use super::read::{Turn, turns};
use crate::address;
use crate::alone;
use crate::casefile::CaseFile;
use crate::guard::Signed;
use crate::layout::{Nav, case_page as shell, row};
use crate::phrases::{calendar_day, counted, page_of, sentence};
use crate::typed::{Typed, Wrong};
use handouts::call::HeartSign;
use maud::{Markup, html};
use rehab::assessed::{Ceiling, CeilingKind};
use rehab::assessment::{EffortScale, Support, Technique};
use rehab::course::TeachBack;
use rehab::programme::{Phase, Stage};

/// Without a signed page there is nothing to watch.
pub(super) fn nothing(signed: &Signed, file: &CaseFile) -> Markup {
    let title = format!("Watching {}", file.called());
    let body = row(
        &html! {},
        &html! {
            h1.title { (title) }
            p.lead { "No page is signed yet. The session that is watched is the signed one." }
            p.acts { a.do href=(address::of_case(file.id, "sign")) { "See what can be signed" } }
        },
        &html! {},
    );
    shell(signed, file, &title, Nav::People, &body)
}

pub(super) fn page(
    signed: &Signed,
    file: &CaseFile,
    stage: &Stage,
    typed: &Typed,
    wrong: &Wrong,
) -> Markup {
    let title = format!("Watching {} do {}", file.called(), page_of(stage.number));
    let list = turns(stage);
    let eligible = &file.assessed.eligibility;
    let head = html! {
        h1.title { (title) }
        p.lead { "In the order of the session. Mark only what you saw; what is left empty stays to be watched." }
        @if list.iter().any(|turn| turn.measured) {
            p.quiet { "The pulse at the end of a brisk turn: count the beats over 15 seconds at once, and write four times their number." }
        }
    };
    let margin = html! {
        p { (so_far(eligible.watched_done, eligible.watched_needed)) }
        p { (of_today(file)) }
        p { "Effort agreed: " (file.assessed.limits.effort.low) " to " (file.assessed.limits.effort.high) "."
            @if let Some(ceiling) = file.assessed.limits.ceiling { " " (sentence(&ceiling_in_words(&ceiling))) } }
    };
    let body = html! {
        form.sheet.watching method="post" action=(address::of_case(file.id, "watched")) autocomplete="off" data-keep="" {
            input type="hidden" name="position" value=(typed.get("position"));
            input type="hidden" name="stage" value=(stage.number);
            (row(&html! {}, &head, &margin))
            @for part in list.chunk_by(|a, b| a.phase == b.phase) {
                section.group {
                    (row(&html! {}, &html! { h2.part { (phase(part[0].phase)) } }, &html! {
                        @if part.iter().all(|turn| !turn.measured) { button.wordlike.act type="button" data-all-good="" hidden { "All of it seen, and good" } }
                    }))
                    (rows(signed, file, part, typed, wrong))
                }
            }
            (felt(typed, wrong))
            (shown(file, typed))
            (close(signed, typed, wrong))
        }
    };
    shell(signed, file, &title, Nav::People, &body)
}

/// The turns of a part. Movements without a number to take that were each found good before lie folded behind one line,
/// open again where something of them was typed or is wrong.
fn rows(signed: &Signed, file: &CaseFile, part: &[Turn], typed: &Typed, wrong: &Wrong) -> Markup {
    let all = html! {
        @for (at, turn) in part.iter().enumerate() {
            @let moved = at == 0 || part[at - 1].place != turn.place;
            (one(signed, file, turn, moved, typed, wrong))
        }
    };
    let good = |turn: &Turn| {
        !turn.measured
            && alone::newest(file, &turn.doing).is_some_and(|one| {
                one.technique == Technique::Good && alone::outside(file, one).is_empty()
            })
    };
    let in_use = part.iter().any(|turn| {
        let name = format!("technique-{}", turn.number);
        !typed.get(&name).is_empty() || wrong.of(&name).is_some()
    });
    if !part.iter().all(good) {
        return all;
    }
    let count = sentence(&counted(part.len(), "movement", "movements"));
    html! {
        details.folded open[in_use] {
            summary.more { (count) ", each found good before; open to mark them one by one" }
            (all)
        }
    }
}

/// How many sessions were watched, against what the service asks for.
fn so_far(done: u8, needed: u8) -> String {
    let said = sentence(&counted(usize::from(done), "session", "sessions"));
    match (done, needed) {
        (0, 0) => {
            "No session watched yet, and none is asked for before the first alone.".to_owned()
        }
        (0, needed) => format!(
            "No session watched yet; {} asked for before the first alone.",
            counted(usize::from(needed), "is", "are")
        ),
        (done, needed) if done >= needed => {
            format!("{said} watched so far, as many as are asked for.")
        }
        (_, needed) => format!(
            "{said} watched so far; {} asked for.",
            counted(usize::from(needed), "is", "are")
        ),
    }
}

/// A day counts once, and that is said before it is saved once more.
fn of_today(file: &CaseFile) -> String {
    let sessions = file.course.watched.iter();
    match sessions.filter(|one| one.date == file.on).count() {
        0 => "A day counts as one session, however many are watched on it.".to_owned(),
        many => format!(
            "{} kept today already. Today counts as one session: what is saved now adds what was seen, not a session.",
            sentence(&counted(many, "session is", "sessions are"))
        ),
    }
}

fn phase(phase: Phase) -> &'static str {
    match phase {
        Phase::WarmUp => "Warm-up",
        Phase::Conditioning => "Round",
        Phase::CoolDown => "Way down",
    }
}

/// One turn; its place stands in the gutter where it is another than before.
fn one(
    signed: &Signed,
    file: &CaseFile,
    turn: &Turn,
    moved: bool,
    typed: &Typed,
    wrong: &Wrong,
) -> Markup {
    let name = sentence(&alone::name(signed.app.words(), &turn.doing));
    let field = |what: &str| format!("{what}-{}", turn.number);
    let gutter = html! { @if moved && !turn.place.is_empty() { b { (sentence(&turn.place)) } } };
    let before = alone::newest(file, &turn.doing);
    let margin = html! {
        @if let Some(before) = before {
            p { "Watched on " (calendar_day(before.date, file.on)) ": " (technique_words(before.technique))
                @if let Some(effort) = before.effort { ", effort " (effort.value) } "." }
            @let outside = alone::outside(file, before);
            @if !outside.is_empty() { p { "To be watched again: " (outside.join("; ")) "." } }
        } @else { p { "Not watched before." } }
    };
    let text = html! {
        p.spoken { b { (name) }
            span.quiet { (turn.seconds) " seconds" @if let Some(rate) = turn.per_minute { ", " (rate) " a minute" } } }
        (mistake(wrong, &field("technique")))
        div.opts.big {
            @for one in Technique::ALL { (opt("radio", &field("technique"), one.word(), technique_words(*one), typed)) }
        }
        @if turn.measured { (measured(file, turn, typed, wrong)) }
    };
    html! { fieldset.qu.brief[!turn.measured] { legend.sr { (name) } (row(&gutter, &text, &margin)) } }
}

fn measured(file: &CaseFile, turn: &Turn, typed: &Typed, wrong: &Wrong) -> Markup {
    let field = |what: &str| format!("{what}-{}", turn.number);
    let limits = &file.assessed.limits;
    let scale = match limits.effort_scale {
        EffortScale::ZeroToTen => 0..=10_u8,
        EffortScale::SixToTwenty => 6..=20,
    };
    let inside = |step: u8| {
        let step = f64::from(step);
        step >= limits.effort.low && step <= limits.effort.high
    };
    html! {
        (mistake(wrong, &field("effort")))
        p.word { "effort, " (scale_words(limits.effort_scale)) }
        div.eff.big role="group" aria-label="Effort" {
            @for step in scale {
                @let value = step.to_string();
                label class=[inside(step).then_some("in")] {
                    input type="radio" name=(field("effort")) value=(value) checked[typed.has(&field("effort"), &value)];
                    span { (value) }
                }
            }
        }
        (mistake(wrong, &field("pulse"))) (mistake(wrong, &field("pressure")))
        div.pair data-pulse=[limits.ceiling.map(|ceiling| ceiling.rate.to_bpm() - NEAR_BPM)] {
            label.pairing data-count="" { span { "pulse" } input.field.short type="text" inputmode="numeric" name=(field("pulse")) value=(typed.get(&field("pulse"))); }
            label.pairing { span { "pressure" } input.field.short type="text" inputmode="text" placeholder="128/74" name=(field("pressure")) value=(typed.get(&field("pressure"))); }
        }
        @if let Some(ceiling) = limits.ceiling {
            p.after.near { "From a pulse of " (ceiling.rate.to_bpm() - NEAR_BPM) " on take the pressure too: " (ceiling_in_words(&ceiling)) }
        }
        div.opts {
            @for one in Support::ALL { (opt("radio", &field("support"), one.word(), support_words(*one), typed)) }
        }
    }
}

/// The numbers of a scale, for the word beside its strip.
const fn scale_words(scale: EffortScale) -> &'static str {
    match scale {
        EffortScale::ZeroToTen => "0 to 10",
        EffortScale::SixToTwenty => "6 to 20",
    }
}

/// How far below the ceiling a pulse is near it, so that the pressure is asked for. Source: `service-ours`, a default of
/// ours.
const NEAR_BPM: f64 = 10.0;

/// A guiding rate is no limit: only a hard one is said as one.
fn ceiling_in_words(ceiling: &Ceiling) -> String {
    let rate = ceiling.rate.to_bpm();
    match ceiling.kind {
        CeilingKind::Hard => format!("the pulse stays at or below {rate}, a hard limit."),
        CeilingKind::Guiding => format!("a pulse of {rate} guides, the effort decides."),
    }
}

fn mistake(wrong: &Wrong, name: &str) -> Markup {
    html! { @if let Some(message) = wrong.of(name) { p.wrong { (message) } } }
}

fn opt(kind: &str, name: &str, value: &str, words: &str, typed: &Typed) -> Markup {
    html! {
        label.opt { input type=(kind) name=(name) value=(value) checked[typed.has(name, value)]; span { (words) } }
    }
}

pub(crate) const fn technique_words(technique: Technique) -> &'static str {
    match technique {
        Technique::Good => "good",
        Technique::NeededHelp => "needed help",
        Technique::NotForThem => "not for this person",
    }
}

pub(crate) const fn support_words(support: Support) -> &'static str {
    match support {
        Support::None => "no hands",
        Support::OneHand => "one hand",
        Support::TwoHands => "two hands",
        Support::Seated => "seated",
    }
}

pub(crate) const fn shown_words(shown: TeachBack) -> &'static str {
    match shown {
        TeachBack::StopsWhenUnwell => "stops when unwell",
        TeachBack::KnowsWhomToRing => "knows whom to ring",
        TeachBack::EffortScale => "says effort on the scale",
        TeachBack::TalkTest => "can tell by talking",
        TeachBack::Nitrate => "knows the spray",
        TeachBack::Pulse => "counts the pulse",
        TeachBack::EaseOff => "eases off",
        TeachBack::CoolDown => "keeps moving at the end",
        TeachBack::Chair => "chair against the wall",
    }
}

fn felt(typed: &Typed, wrong: &Wrong) -> Markup {
    let sign_words = |sign: HeartSign| match sign {
        HeartSign::Chest => "chest, jaw, arm",
        HeartSign::Faint => "faint",
        HeartSign::Racing => "racing",
        HeartSign::Breathless => "breathless, new",
        HeartSign::Shock => "shock of the device",
        HeartSign::Swelling => "swelling",
    };
    let text = html! {
        p.spoken { "Anything felt during it?" }
        (mistake(wrong, "felt"))
        div.opts {
            (opt("checkbox", "felt", "none", "none", typed))
            @for sign in HeartSign::ALL { (opt("checkbox", "felt", sign.word(), sign_words(sign), typed)) }
        }
    };
    html! { fieldset.qu { legend.sr { "Felt" } (row(&html! { "Felt" }, &text, &html! { p { "What is marked here is reviewed as if it had been told on the telephone." } })) } }
}

fn shown(file: &CaseFile, typed: &Typed) -> Markup {
    let before = |one: TeachBack| {
        file.course
            .watched
            .iter()
            .any(|session| session.shown.contains(&one))
    };
    let known: Vec<&str> = TeachBack::ALL
        .iter()
        .filter(|one| before(**one))
        .map(|one| shown_words(*one))
        .collect();
    let text = html! {
        p.spoken { "Shown back, not only told" }
        div.opts { @for one in TeachBack::ALL { (opt("checkbox", "shown", one.word(), shown_words(*one), typed)) } }
    };
    let margin = html! { @if !known.is_empty() { p { "Shown before: " (known.join(", ")) "." } } };
    html! { fieldset.qu { legend.sr { "Shown back" } (row(&html! { "Shown back" }, &text, &margin)) } }
}

fn close(signed: &Signed, typed: &Typed, wrong: &Wrong) -> Markup {
    let text = html! {
        label { span.spoken { "In your words" } textarea.field name="note" rows="3" { (typed.get("note")) } }
        (mistake(wrong, "note"))
        (mistake(wrong, "save"))
        @if wrong.count() > 0 { p.wrong { "Not saved yet: see " (crate::phrases::counted(wrong.count(), "place", "places")) } }
        p.acts { button.do type="submit" { "Save as " (signed.user.full_name) } }
    };
    row(
        &html! { "Note" },
        &text,
        &html! { p { "What was found good, with effort, pulse and pressure in order and nothing felt, may be done alone from then on, within the page that is signed." } },
    )
}
