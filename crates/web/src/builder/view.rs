//! How the builder looks: profile across, then the figure, the other ways, and where this page stands.

use super::turns::Turn;
use crate::address;
use crate::alone;
use crate::casefile::CaseFile;
use crate::drafted::{self, Drafted};
use crate::guard::Signed;
use crate::layout::{Nav, case_page as shell, row};
use crate::phrases::{counted, page_of, sentence, times_a_week};
use crate::profile::{Look, drawn};
use handouts::figure::{Build, Facts, still};
use handouts::profile::{Course, hill, tiny};
use maud::{Markup, PreEscaped, html};
use rehab::programme::{Alternative, Others, Phase, Stage};

pub(super) struct Builder<'a> {
    pub(super) signed: &'a Signed,
    pub(super) file: &'a CaseFile,
    pub(super) drafted: &'a Drafted,
    pub(super) stage: &'a Stage,
    pub(super) turns: &'a [Turn],
    pub(super) turn: Option<&'a Turn>,
    pub(super) others: &'a Others,
}

pub(super) fn nothing(signed: &Signed, file: &CaseFile, drafted: &Drafted) -> Markup {
    let title = format!("{}'s page", file.called());
    let text = html! {
        h1.title { (title) }
        p.lead { "There is no page to build today." }
        ul.waits { @for finding in &drafted.findings { li { (sentence(&finding.text)) } } }
        p.acts { a.do href=(address::case(file.id)) { "See the chain of reasons" } }
    };
    shell(
        signed,
        file,
        &title,
        Nav::People,
        &row(&html! {}, &text, &html! {}),
    )
}

pub(super) fn page(at: &Builder<'_>) -> Markup {
    let page = page_of(at.stage.number);
    let title = format!("{}\u{2019}s {page}", at.file.called());
    let body = html! {
        div.bt {
            div {
                h1.title { (title) }
                p.lead { (format!("{:.0}", at.stage.minutes())) " minutes, " (times_a_week(at.stage.sessions_per_week)) ". Nothing reaches " (at.file.called()) " until you sign." }
            }
            div.small.hold { (holds(at)) }
        }
        div.stage {
            div.wide-only { (profile(at, 1214)) }
            div.mid-only { (profile(at, 976)) }
        }
        div.under {
            (figure(at))
            (choose(at))
            (rungs(at))
        }
    };
    shell(at.signed, at.file, &title, Nav::People, &body)
}

/// What the page comes to against its limits. Each is compared here, not taken for granted.
fn holds(at: &Builder<'_>) -> Markup {
    let limits = &at.file.assessed.limits;
    let round: Vec<_> = at
        .stage
        .segments
        .iter()
        .filter(|one| one.phase == Phase::Conditioning)
        .collect();
    let time: f64 = round.iter().map(|one| f64::from(one.duration_ms)).sum();
    let work: f64 = round
        .iter()
        .map(|one| one.mets * f64::from(one.duration_ms))
        .sum();
    let highest = at
        .stage
        .segments
        .iter()
        .map(|one| one.mets)
        .fold(0.0, f64::max);
    let (top, station) = (
        limits.mets.high.to_mets(),
        limits.mets_station_high.to_mets(),
    );
    let mean = (time > 0.0).then(|| work / time);
    let peak = at.stage.predicted.peak_hr;
    let over_pulse = limits
        .ceiling
        .zip(peak)
        .is_some_and(|(ceiling, peak)| peak > ceiling.rate.to_bpm());
    let over = mean.is_some_and(|mean| mean > top + 0.05) || highest > station + 0.05 || over_pulse;
    html! {
        p {
            @if over { b { "Look: it comes above what is named here. " } } @else { b { "Nothing in it passes a limit. " } }
            @if let Some(mean) = mean { "The round averages " (one(mean)) " METs, limit " (one(top)) "; " }
            "its highest turn is " (one(highest)) ", limit " (one(station))
            @if let Some((peak, ceiling)) = peak.zip(limits.ceiling) {
                "; pulse " (format!("{peak:.0}")) " expected, " (ceiling.rate.to_bpm()) " " (ceiling.kind.word())
            }
            ". "
            @if at.stage.proven { "No other list meets more of the wishes. " }
        }
        (drafted::reasons(at.stage, "page"))
    }
}

fn one(value: f64) -> String {
    format!("{value:.1}")
}

fn profile(at: &Builder<'_>, width_px: u16) -> Markup {
    let link = |turn: u16| format!("?stage={}&turn={turn}#choose", at.stage.number);
    let look = Look {
        width_px,
        chosen: at.turn.map(|turn| turn.number),
        alternative_mets: at.others.ways.first().map(|other| other.mets),
        link: Some(&link),
    };
    drawn(at.file, at.stage, &look)
}

/// The figure of the chosen turn and its words.
fn figure(at: &Builder<'_>) -> Markup {
    let Some(turn) = at.turn else {
        return html! { figure.now { figcaption { b { "Choose a hill." } "Each is a brisk turn. Its other ways come up here, with the reason for each." } } };
    };
    let segment = &at.stage.segments[turn.segment];
    let words = at.signed.app.words().exercise(&turn.doing);
    let drawn = at
        .signed
        .app
        .exercises()
        .find(&turn.doing)
        .map(|(exercise, variant)| {
            let place = segment
                .place
                .and_then(|place| at.file.course.case.home.places.get(place));
            let facts = Facts::of(exercise, variant, place.map(|place| place.kind));
            still(&facts, Build::of(&at.file.course.case.id.0), &exercise.id).svg
        });
    html! {
        figure.now {
            @if let Some(drawn) = drawn { (PreEscaped(drawn)) }
            figcaption {
                b { "Turn " (turn.number) @if !segment.place_name.is_empty() { ", " (segment.place_name) } "." }
                @if let Some(words) = words {
                    (sentence(&words.name)) @if !words.way.is_empty() { ", " (words.way) } ". "
                    (words.say.join(" "))
                    @if !words.serves.is_empty() { " " (sentence(&words.serves)) "." }
                }
            }
        }
    }
}

fn choose(at: &Builder<'_>) -> Markup {
    let Some(turn) = at.turn else {
        return html! {
            section.choose id="choose" {
                h2.part { "The turns" }
                ol.plainlist {
                    @for turn in at.turns {
                        li { a href=(format!("?stage={}&turn={}#choose", at.stage.number, turn.number)) {
                            (turn.number) ". " (sentence(&alone::name(at.signed.app.words(), &turn.doing))) } }
                    }
                }
                @if at.turns.is_empty() { p.quiet { "This page is a warm-up and a cool-down alone; it has no hills." } }
                p.acts { a.do href=(address::of_case(at.file.id, "sign")) { "Go to signing" } @if has_choices(at) { (clear(at)) } }
            }
        };
    };
    let name = alone::name(at.signed.app.words(), &turn.doing);
    html! {
        section.choose id="choose" {
            h2.part { "What else could turn " (turn.number) " be?" }
            ol { @for (place, other) in at.others.ways.iter().enumerate() { (offer(at, turn, other, place == 0)) } }
            @if let Some(few) = &at.others.why_few { p.quiet.few { (few.text) "." } }
            form.acts.small method="post" action=(address::of_case(at.file.id, "builder")) {
                (hidden(at, turn))
                a.act href=(format!("?stage={}", at.stage.number)) { "Leave the hill as it is" }
                button.wordlike.act name="act" value="never" { "Never " (name) }
                button.wordlike.act name="act" value="always" { "Always this here" }
            }
        }
    }
}

fn hidden(at: &Builder<'_>, turn: &Turn) -> Markup {
    html! {
        input type="hidden" name="position" value=(at.file.next_position());
        input type="hidden" name="stage" value=(at.stage.number);
        input type="hidden" name="turn" value=(turn.number);
    }
}

/// Whether anything was chosen for this very page.
fn has_choices(at: &Builder<'_>) -> bool {
    let own = at.file.course.chosen_for(at.stage.number);
    !(own.pins.is_empty() && own.bans.is_empty())
}

fn clear(at: &Builder<'_>) -> Markup {
    html! {
        form.inline method="post" action=(address::of_case(at.file.id, "builder")) {
            input type="hidden" name="position" value=(at.file.next_position());
            input type="hidden" name="stage" value=(at.stage.number);
            button.wordlike.act name="act" value="clear" { "Take back what was chosen for " (page_of(at.stage.number)) }
        }
    }
}

/// One other way: the hill before and after, what it is, why.
fn offer(at: &Builder<'_>, turn: &Turn, other: &Alternative, first: bool) -> Markup {
    let top = at.file.assessed.limits.mets_station_high.to_mets();
    let course = Course::of(at.stage);
    let name = sentence(&alone::name(at.signed.app.words(), &other.doing));
    let place = match other.place_name.is_empty() {
        true => String::new(),
        false => format!(", {}", other.place_name),
    };
    let reasons: Vec<String> = other
        .because
        .iter()
        .map(|one| format!("{}.", sentence(one.text.trim_end_matches('.'))))
        .collect();
    let drawn = hill(
        &course,
        turn.number,
        other.mets,
        top,
        &format!("The hill with {name}"),
    );
    html! {
        li.alt.is-on[first] {
            div.mini { (PreEscaped(drawn)) }
            form method="post" action=(address::of_case(at.file.id, "builder")) {
                (hidden(at, turn))
                input type="hidden" name="doing" value=(format!("{}/{}", other.doing.exercise, other.doing.variant));
                p.s { (name) (place) "." }
                p.quiet { (reasons.join(" ")) @if other.to_watch && !other.new { " It waits until you have watched it." } }
                p.acts {
                    @if first { button.do name="act" value="put" { "Put this in" } }
                    @else { button.wordlike.act name="act" value="put" { "Put this in" } }
                }
            }
        }
    }
}

/// Where this page stands among the others.
fn rungs(at: &Builder<'_>) -> Markup {
    let top = at.file.assessed.limits.mets_station_high.to_mets();
    let here = at.file.course.current_stage;
    let before = at
        .file
        .course
        .signed
        .as_ref()
        .map_or(&[][..], |plan| &plan.stages);
    let shown = at
        .drafted
        .plan
        .stages
        .iter()
        .map(|one| one.number)
        .min()
        .unwrap_or(1);
    let earlier = before.iter().filter(|one| one.number < shown);
    let all: Vec<&Stage> = earlier.chain(&at.drafted.plan.stages).collect();
    html! {
        aside.rungs {
            h2.part { "Where this page stands" }
            ul {
                @for stage in all {
                    @let page = sentence(&page_of(stage.number));
                    li.here[stage.number == at.stage.number] {
                        (PreEscaped(tiny(&Course::of(stage), 148, top, None, &page)))
                        p { a href=(format!("?stage={}", stage.number)) { b { (page) "." } } " "
                            (match stage.cardiovascular_stations() { 0 => "Warm-up alone".to_owned(), more => sentence(&counted(more, "turn", "turns")) })
                            @if here == Some(stage.number) { ", here now" } @else if before.iter().any(|one| one == stage) { ", signed" } @else { ", drafted" } "." }
                    }
                }
                @if !at.drafted.plan.sketch.is_empty() {
                    li.sk {
                        @for sketch in at.drafted.plan.sketch.iter().take(2) { p { "Then " (crate::phrases::stopped(&crate::phrases::begun(&sketch.text))) } }
                        p { "So far only sketched." }
                    }
                }
            }
        }
    }
}
