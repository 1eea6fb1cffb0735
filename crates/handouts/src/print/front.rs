//! The first pages: am I well enough, what is made ready, spray and pulse.

use super::fit::{Block, Room, Sheet, bold, title, words};
use crate::running_order::{Answer, RunningOrder};
use maud::{Markup, html};

/// Signs of a line of the check at 16 pt that short rows may share: each row its own, airy, full.
const LINE_SIGNS: [usize; 3] = [0, 50, 66];

/// What a row gives up where the rows stand closer.
const SQUEEZED_PT: f64 = 4.0;

/// The first pages: the check with the box "stop and sit down", which only a very long check pushes to the head of the
/// next; what is made ready stands between them where there is room. What found none is to come before the session.
pub(super) fn sheets(order: &RunningOrder, room: Room) -> (Sheet, Vec<Block>) {
    let ready = ready_block(order, room);
    let halt = halt_block(order, room);
    let [_, _, full] = LINE_SIGNS;
    let fits = |signs: &&usize| room.holds(check_block(order, room, **signs).height + halt.height);
    let signs = LINE_SIGNS.iter().find(fits).copied().unwrap_or(full);
    let check = check_block(order, room, signs);
    let mut next: Vec<Block> = Vec::new();
    let squeezed = check_lines(order, full).len() as f64 * SQUEEZED_PT;
    let first = if room.holds(check.height + ready.height + halt.height) {
        html! { (check.drawn) (ready.drawn) (halt.drawn) }
    } else if !room.holds(check.height + halt.height - squeezed) {
        // More rows than a sheet holds beside the box: it begins the next one.
        next.extend([halt, ready]);
        check.drawn
    } else {
        // Somebody with many rows: they stand closer, and the box with the numbers stays on the first page.
        let dense = !room.holds(check.height + halt.height);
        next.push(ready);
        html! { div .first .dense[dense] { (check.drawn) (halt.drawn) } }
    };
    next.extend(spray_block(order, room));
    next.extend(pulse_block(order, room));
    (Sheet::full(first), next)
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
