//! The first two pages: am I well enough, and the session at a glance.

use super::fit::{Room, bold, title, words};
use crate::profile::{Printed, printed};
use crate::running_order::{Answer, Cue, CueKind, RunningOrder};
use maud::{Markup, PreEscaped, html};
use rehab::programme::Phase;

/// Signs of a line of the check at 16 pt that short rows may share: each row its own, airy, full.
const LINE_SIGNS: [usize; 3] = [0, 50, 66];

/// What a row gives up where the rows stand closer.
const SQUEEZED_PT: f64 = 4.0;

/// The first pages: the check with the box "stop and sit down", which only a very long check pushes to the head of the
/// next; what is made ready stands between them where there is room, else before the session at a glance.
pub(super) fn pages(order: &RunningOrder, room: Room) -> Vec<Markup> {
    let ready = ready_block(order, room);
    let halt = halt_block(order, room);
    let [_, _, full] = LINE_SIGNS;
    let fits = |signs: &&usize| room.holds(check_block(order, room, **signs).height + halt.height);
    let signs = LINE_SIGNS.iter().find(fits).copied().unwrap_or(full);
    let check = check_block(order, room, signs);
    let glance = glance_block(order, room);
    let spray = spray_block(order, room);
    let mut pages = Vec::new();
    let mut next: Vec<Block> = Vec::new();
    let squeezed = check_lines(order, full).len() as f64 * SQUEEZED_PT;
    if room.holds(check.height + ready.height + halt.height) {
        pages.push(html! { (check.drawn) (ready.drawn) (halt.drawn) });
    } else if !room.holds(check.height + halt.height - squeezed) {
        // More rows than a sheet holds beside the box: it begins the next one.
        pages.push(check.drawn);
        next.extend([halt, ready]);
    } else {
        // Somebody with many rows: they stand closer, and the box with the numbers stays on the first page.
        let dense = !room.holds(check.height + halt.height);
        pages.push(html! { div .first .dense[dense] { (check.drawn) (halt.drawn) } });
        next.push(ready);
    }
    next.extend(spray);
    next.extend(pulse_block(order, room));
    let mut pages_after = flowed(next, room);
    pages_after.extend(flowed(vec![glance, intended_block(order)], room));
    pages.extend(pages_after);
    pages
}

/// Blocks one under the other, as many to a page as it holds.
fn flowed(blocks: Vec<Block>, room: Room) -> Vec<Markup> {
    let mut pages = Vec::new();
    let mut filled = 0.0;
    let mut drawn: Vec<Markup> = Vec::new();
    for block in blocks {
        if !drawn.is_empty() && !room.holds(filled + block.height) {
            pages.push(html! { @for one in &drawn { (one) } });
            drawn.clear();
            filled = 0.0;
        }
        filled += block.height;
        drawn.push(block.drawn);
    }
    if !drawn.is_empty() {
        pages.push(html! { @for one in &drawn { (one) } });
    }
    pages
}

/// Something drawn, and how high it stands.
struct Block {
    drawn: Markup,
    height: f64,
}

fn check_block(order: &RunningOrder, room: Room, signs: usize) -> Block {
    let lines = check_lines(order, signs);
    let head = order.word("print.well.head");
    let marks: f64 = lines
        .iter()
        .map(|line| words(line, room.width - 26.0) + 5.0)
        .sum();
    Block {
        height: title(head, room.width) + 26.0 + marks + 15.0,
        drawn: html! {
            h1 { (head) }
            p .not { b { (order.word("check.print.leave-it")) } " " (order.word("check.print.if-one")) }
            ul .marks { @for line in &lines { li { (line) } } }
        },
    }
}

fn ready_block(order: &RunningOrder, room: Room) -> Block {
    let column = (room.width - 20.0) / 2.0 - 26.0;
    let rows: f64 = order
        .ready
        .chunks(2)
        .map(|pair| {
            let high = pair
                .iter()
                .map(|line| words(line, column))
                .fold(0.0, f64::max);
            high + 5.0
        })
        .sum();
    Block {
        height: 28.0 + rows + 16.0,
        drawn: html! {
            div {
                h2 { (order.word("page.ready.head")) }
                ol .ready { @for line in &order.ready { li { (line) } } }
            }
        },
    }
}

fn halt_block(order: &RunningOrder, room: Room) -> Block {
    let inner = room.width - 42.0;
    let column = (inner - 24.0) / 2.0;
    let call = order.stop.call_if.as_str();
    let team = team_words(order);
    let shock = order
        .stop
        .shock
        .as_ref()
        .map_or(0.0, |line| words(line, inner) + 10.0);
    let last = format!(
        "{} {}",
        order.word("page.nobody-watching"),
        order.stop.afterwards
    );
    let height = 24.0
        + 28.0
        + words(&order.stop.when, inner)
        + 10.0
        + 34.0
        + words(call, column).max(words(&team, column))
        + words(&order.emergency.text, inner)
        + shock
        + bold(&last, inner);
    Block {
        height,
        drawn: halt(order, call, &team, &last),
    }
}

fn team_words(order: &RunningOrder) -> String {
    let mut team = format!("{}.", order.word("page.team"));
    if let Some(otherwise) = &order.team.otherwise {
        let other = order
            .word("page.out-of-hours")
            .replace("{text}", otherwise.trim_end_matches('.'));
        team.push_str(&format!(" {other}."));
    }
    team
}

/// How the pulse is counted, where this person counts it.
fn pulse_block(order: &RunningOrder, room: Room) -> Option<Block> {
    let seconds = order.closing.pulse_s?.to_string();
    let how = order
        .word("page.notes.pulse-sit")
        .replace("{seconds}", &seconds);
    let sum = order.word("print.pulse.sum").replace("{seconds}", &seconds);
    let when = order.word("print.pulse.when");
    let lines = [when, &how, &sum].map(|line| words(line, room.width));
    Some(Block {
        height: 20.0 + 28.0 + lines.iter().sum::<f64>(),
        drawn: html! {
            div .how {
                h2 { (order.word("print.pulse.head")) }
                p { (when) }
                p { (how) }
                @if seconds != "60" { p { (sum) } }
            }
        },
    })
}

fn intended_block(order: &RunningOrder) -> Block {
    Block {
        height: 12.0 + 2.0 * 18.0,
        drawn: html! {
            p .signed { (order.word("page.intended.use")) " " (order.word("page.intended.doctor-first")) }
        },
    }
}

fn spray_block(order: &RunningOrder, room: Room) -> Option<Block> {
    if order.nitrate.is_empty() {
        return None;
    }
    let inner = room.width - 42.0;
    let intro = format!(
        "{} {}",
        order.word("print.spray.sitting"),
        order.word("print.spray.faint")
    );
    let steps: f64 = order
        .nitrate
        .iter()
        .map(|step| words(step, inner - 26.0) + 4.0)
        .sum();
    let call = format!("{} {}", order.word("page.call"), order.stop.call_if);
    Some(Block {
        height: 28.0 + 24.0 + words(&intro, inner) + steps + 12.0 + words(&call, inner),
        drawn: html! {
            div .halt .nitrate {
                h2 { (order.word("print.spray.head")) }
                p { (intro) }
                ol .steps { @for step in &order.nitrate { li { (step) } } }
                p { b { (order.word("page.call")) } " " (order.stop.call_if) }
            }
        },
    })
}

/// The rows of the check, short ones joined so that the page stays one page; their order stays.
fn check_lines(order: &RunningOrder, signs: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut of = "";
    for (row, text) in order
        .check
        .iter()
        .flat_map(|row| row.paper.iter().map(move |text| (row, text)))
    {
        // A number shares a line with its own other bound only.
        let of_its_kind =
            matches!(row.answer, Answer::YesNo { .. }) && of.is_empty() || of == row.id;
        of = match row.answer {
            Answer::YesNo { .. } => "",
            Answer::Number { .. } => &row.id,
        };
        match lines.last_mut() {
            Some(last) if of_its_kind && last.chars().count() + text.chars().count() < signs => {
                last.push_str(", ");
                last.push_str(text);
            }
            _ => lines.push(text.clone()),
        }
    }
    lines
}

fn halt(order: &RunningOrder, call: &str, team: &str, last: &str) -> Markup {
    html! {
        div .halt {
            h2 { (order.word("print.stop.head")) }
            p { (order.stop.when) }
            div .num {
                p { b { (order.word("page.call")) } (call) }
                p { b { (order.team.number) } (team) }
            }
            p { (order.emergency.text) }
            @if let Some(shock) = &order.stop.shock { p .gap { (shock) } }
            p .nob { (last) }
        }
    }
}

fn glance_block(order: &RunningOrder, room: Room) -> Block {
    let turns = turns_of(order).count() as f64;
    let sum = format!("{} {}", order.sum, order.often);
    let advice = advice(order);
    let again = if order.cues.iter().any(|cue| cue.once_more) {
        32.0
    } else {
        0.0
    };
    Block {
        height: title(order.word("print.session.head"), room.width)
            + 6.0
            + words(&sum, room.width)
            + room.width / 640.0 * 104.0
            + 24.0
            + (turns + 2.0) * 28.0
            + again
            + 10.0
            + words(&advice, room.width),
        drawn: glance(order, &advice),
    }
}

fn advice(order: &RunningOrder) -> String {
    [
        "print.session.walk-between",
        "page.start.own-pace",
        "page.session.talk-test",
    ]
    .map(|id| order.word(id))
    .join(" ")
}

fn glance(order: &RunningOrder, advice: &str) -> Markup {
    let title = order
        .word("page.profile.whole")
        .replace("{sum}", &order.sum);
    let drawn = printed(
        &order.course,
        &Printed {
            width_px: 640,
            top_mets: order.top_mets,
            chosen: None,
            ends: [
                order.word("page.profile.warm-up"),
                order.word("page.profile.way-down"),
            ],
            title: &title,
        },
    );
    html! {
        h1 { (order.word("print.session.head")) }
        p .not { (order.sum) " " (order.often) }
        div .top { (PreEscaped(drawn)) }
        table .way {
            tbody {
                (row_of_phase(order, Phase::WarmUp))
                (turns(order))
                (row_of_phase(order, Phase::CoolDown))
            }
        }
        @if order.cues.iter().any(|cue| cue.once_more) {
            p .gap { b { (order.word("print.session.once-more")) } }
        }
        p .gap { (advice) }
    }
}

fn row_of_phase(order: &RunningOrder, phase: Phase) -> Markup {
    let words = if phase == Phase::WarmUp {
        "print.session.warm-up"
    } else {
        "print.session.way-down"
    };
    let mut places: Vec<&str> = Vec::new();
    for cue in order.cues.iter().filter(|cue| cue.phase == phase) {
        if !cue.place.is_empty() && !places.contains(&cue.place.as_str()) {
            places.push(&cue.place);
        }
    }
    html! {
        @if order.cues.iter().any(|cue| cue.phase == phase) {
            tr { td .n {} td { b { (order.word(words)) } } td { (places.join(", ")) } }
        }
    }
}

/// The turns of the first round, brisk and easy.
fn turns_of(order: &RunningOrder) -> impl Iterator<Item = &Cue> {
    order.cues.iter().filter(|cue| {
        matches!(cue.kind, CueKind::Brisk | CueKind::Easy)
            && cue.round <= 1
            && cue.doing.what.is_some()
    })
}

fn turns(order: &RunningOrder) -> Markup {
    html! {
        @for cue in turns_of(order) {
            tr {
                td .n { @if let Some(turn) = cue.turn { b { (turn.number) } } }
                td { @if cue.kind == CueKind::Brisk { b { (cue.doing.name) } } @else { (cue.doing.name) } }
                td { (cue.place) }
            }
        }
    }
}
