//! Writes a page with every drawing at its real widths: `cargo run -p handouts --example drawings -- OUT.html`.

use handouts::look;
use handouts::profile::{
    Captions, Course, Full, Pace, Part, Patient, Printed, PulseScale, TakenPulse, full, hill,
    patient, printed, tiny,
};
use handouts::thread::{MARK, Stitch, Thread, thread};
use rehab::programme::Phase;

fn course() -> Course {
    let warm = [
        (180, 1.48, "armchair"),
        (180, 1.78, "armchair"),
        (180, 1.96, "worktop"),
        (180, 2.15, "worktop"),
        (180, 2.34, "worktop"),
    ];
    let turns = [
        (120, 2.74, "worktop"),
        (60, 1.95, "worktop"),
        (120, 2.93, "hall"),
        (60, 2.24, "armchair"),
        (120, 2.74, "armchair"),
        (60, 1.86, "armchair"),
        (120, 2.64, "bottom stair"),
        (60, 1.95, "bottom stair"),
        (120, 2.74, "worktop"),
    ];
    let down = [
        (180, 2.15, "worktop"),
        (180, 1.86, "hall"),
        (240, 1.48, "armchair"),
    ];
    let part = |phase, pace, (seconds, mets, place): (u32, f64, &str)| Part {
        phase,
        pace,
        place: place.to_owned(),
        round: u8::from(phase == Phase::Conditioning),
        duration_ms: seconds * 1000,
        mets,
        pulse: Some(64.0 + (mets - 1.0) * 14.0),
        pulse_sd: Some(3.4),
    };
    let mut parts = Vec::new();
    parts.extend(warm.map(|one| part(Phase::WarmUp, Pace::Slope, one)));
    parts.extend(turns.iter().enumerate().map(|(i, one)| {
        let pace = if i % 2 == 0 { Pace::Brisk } else { Pace::Easy };
        part(Phase::Conditioning, pace, *one)
    }));
    parts.extend(down.map(|one| part(Phase::CoolDown, Pace::Slope, one)));
    Course::new(parts)
}

fn crowded() -> Course {
    let places = [
        "worktop",
        "hall",
        "armchair",
        "bottom stair",
        "the wall by the door",
    ];
    let mut parts = Vec::new();
    let mut put = |phase, pace, round, seconds: u32, mets: f64, place: &str| {
        parts.push(Part {
            phase,
            pace,
            place: place.to_owned(),
            round,
            duration_ms: seconds * 1000,
            mets,
            pulse: Some(64.0 + (mets - 1.0) * 14.0),
            pulse_sd: Some(3.4),
        });
    };
    for i in 0..10 {
        put(
            Phase::WarmUp,
            Pace::Slope,
            0,
            90,
            1.5 + 0.08 * f64::from(i),
            "armchair",
        );
    }
    for round in 1..=2_u8 {
        for i in 0..5_u8 {
            let place = places[usize::from(i)];
            put(Phase::Conditioning, Pace::Walk, round, 15, 2.3, place);
            put(
                Phase::Conditioning,
                Pace::Brisk,
                round,
                60,
                2.6 + 0.08 * f64::from(i),
                place,
            );
            put(Phase::Conditioning, Pace::Easy, round, 30, 1.9, place);
        }
    }
    for i in 0..5 {
        put(
            Phase::CoolDown,
            Pace::Slope,
            0,
            120,
            2.1 - 0.15 * f64::from(i),
            "armchair",
        );
    }
    Course::new(parts)
}

fn captions(course: &Course) -> Captions {
    Captions {
        title: "Session profile of page B".to_owned(),
        description:
            "A warm-up slope, brisk turns as hills, a long way down; all under the ceiling."
                .to_owned(),
        ceiling: "Her ceiling".to_owned(),
        ceiling_note: "effort 4 of 10, pulse 97 (guiding)".to_owned(),
        legend: "fine band: pulse expected, diamonds: pulse taken".to_owned(),
        phases: [
            "warm-up, 15 minutes".to_owned(),
            "five brisk turns, four easy, 14 minutes".to_owned(),
            "the long way down, 10 minutes".to_owned(),
        ],
        ends: ["warm-up".to_owned(), "way down".to_owned()],
        turns: course
            .turns()
            .iter()
            .map(|turn| format!("{} up and down, 2 minutes", turn.number))
            .collect(),
    }
}

fn main() {
    let out = std::env::args().nth(1).expect("give the file to write");
    let (one, two) = (course(), crowded());
    let scale = PulseScale {
        resting_bpm: 64.0,
        ceiling_bpm: 97.0,
        tau_s: 60.0,
    };
    let taken = [
        TakenPulse {
            at_ms: 1_020_000,
            bpm: 85.0,
        },
        TakenPulse {
            at_ms: 1_440_000,
            bpm: 86.0,
        },
    ];
    let link = |number: u16| format!("#hill-{number}");
    let draw = |course: &Course, width_px, chosen| {
        let captions = captions(course);
        full(
            course,
            &Full {
                width_px,
                top_mets: 3.1,
                pulse: Some(scale),
                taken: &taken,
                chosen,
                alternative_mets: chosen.map(|_| 2.4),
                captions: &captions,
                link: Some(&link),
            },
        )
    };
    let walk = |course: &Course, at_ms| {
        patient(
            course,
            &Patient {
                width_px: 354,
                top_mets: 3.1,
                at_ms,
                place: "bottom stair",
                ends: ["start", "end"],
                title: "Where you are",
            },
        )
    };
    let weeks = thread(&Thread {
        days: 28,
        stitches: &[
            (26, Stitch::Contact),
            (20, Stitch::Session),
            (18, Stitch::Session),
            (16, Stitch::Session),
            (13, Stitch::Stopped),
            (12, Stitch::Contact),
        ],
        silent_days: 12,
        late: true,
        width_px: 240,
        title: "Last heard from 12 days ago",
    });
    let mut body = format!("<p>{MARK} Hearthpace</p>");
    for width in [1200, 720, 360] {
        body += &format!("<div>{}</div>", draw(&one, width, Some(4)));
        body += &format!("<div>{}</div>", draw(&two, width, Some(7)));
    }
    body += &format!(
        "<div class=row>{}{}{}</div>",
        walk(&one, Some(1_600_000)),
        walk(&one, None),
        walk(&two, Some(1_300_000))
    );
    body += &format!(
        "<div data-room=dark class=row style='background:var(--paper)'>{}</div>",
        walk(&one, Some(1_600_000))
    );
    let paper = |course: &Course, chosen| {
        printed(
            course,
            &Printed {
                width_px: 640,
                top_mets: 3.1,
                chosen,
                ends: ["warm-up", "way down"],
                title: "The whole session",
            },
        )
    };
    body += &format!(
        "<div data-ink=grey style='background:#fff;padding:9px'>{}{}{}</div>",
        paper(&one, Some(3)),
        paper(&two, Some(7)),
        draw(&one, 1100, Some(4))
    );
    body += &format!(
        "<p>{} {} {}</p>",
        tiny(&one, 104, 3.1, Some(1_500_000), "stopped"),
        tiny(&two, 104, 3.1, None, "two rounds"),
        weeks
    );
    for mets in [2.2, 2.9, 2.64] {
        body += &hill(&one, 4, mets, 3.1, "turn 4 otherwise");
    }
    let page = format!(
        "<!doctype html><html lang=en-GB><meta charset=utf-8><title>Drawings</title><style>{}{}{}body{{background:var(--paper);margin:20px;font:16px/24px var(--face);color:var(--ink)}}div{{margin:14px 0}}.row{{display:flex;gap:20px}}</style>{body}</html>",
        look::faces(),
        look::TOKENS,
        look::DRAWINGS
    );
    std::fs::write(out, page).expect("the file can be written");
}
