//! A checked tree into a diary.

use crate::case::read::{all, effort};
use crate::shape::{Sink, View};
use jiff::civil::Date;
use rehab::assessment::CaseId;
use rehab::diary::{Diary, DiaryEntry, DiarySymptom, JointPain, Pulse, PulseMoment};

const MOST_STATIONS: u8 = 60;

pub(super) fn diary(view: &View<'_>, sink: &mut Sink) -> Option<Diary> {
    let mut entries: Vec<DiaryEntry> = Vec::new();
    for one in view.tables("entries") {
        let Some(entry) = entry(&one) else {
            continue;
        };
        pulses_of_one_moment(&one, &entry, sink);
        match entries.iter().find(|other| other.id == entry.id) {
            Some(other) if *other == entry => {}
            Some(other) => sink.say(
                &one.place("id"),
                one.line_of("id"),
                same_id(&entry.id, other.date),
            ),
            None => entries.push(entry),
        }
    }
    Some(Diary {
        case: CaseId(view.text("case")?),
        entries,
    })
}

/// Two entries of one id that differ: which of them is true is for a person to say.
pub(super) fn same_id(id: &str, date: Date) -> String {
    format!(
        "another entry, of {date}, has the id '{id}' and says something else; keep the true one, or give this one its own id"
    )
}

fn pulses_of_one_moment(view: &View<'_>, entry: &DiaryEntry, sink: &mut Sink) {
    for (index, pulse) in entry.pulses.iter().enumerate() {
        if entry.pulses[..index].iter().any(|one| one.at == pulse.at) {
            let message = format!(
                "two pulses are given for '{}'; keep the one that was counted",
                moment_word(pulse.at)
            );
            sink.say(&view.place("pulses"), view.line_of("pulses"), message);
        }
    }
}

fn entry(view: &View<'_>) -> Option<DiaryEntry> {
    Some(DiaryEntry {
        id: view.text("id")?,
        date: view.day("date")?,
        stage: view.whole("stage"),
        stations_planned: view.whole("stations_planned"),
        stations_done: view.whole("stations_done"),
        effort: effort(view, "effort"),
        symptoms: view
            .list("symptoms")
            .map(|_| all(view, "symptoms", symptom)),
        pulses: all(view, "pulses", pulse),
        joint_pain: view.table("joint_pain").map(|view| joint_pain(&view)),
        eased: view.texts("eased"),
        rested_s: view.whole("rested_s"),
        stopped_because: view.text("stopped_because"),
        medicine_change: view.text("medicine_change"),
        weight_kg: view.number("weight_kg"),
        pressure: view.pressure("bp_mmhg"),
        minutes: view.number("minutes"),
        note: view.text("note"),
    })
}

fn symptom(view: &View<'_>) -> Option<DiarySymptom> {
    Some(DiarySymptom {
        kind: view.word("kind")?,
        usual: view.flag("usual"),
        score: view.number("score"),
        nitrate_used: view.flag("nitrate_used"),
    })
}

fn pulse(view: &View<'_>) -> Option<Pulse> {
    Some(Pulse {
        at: moment(&view.text("at")?)?,
        bpm: view.number("bpm")?,
        how: view.word("how"),
    })
}

fn joint_pain(view: &View<'_>) -> JointPain {
    let word = view.text("next_morning").map(|word| word == "worse");
    JointPain {
        during: view.number("during"),
        worse_next_morning: word.or_else(|| view.flag("next_morning")),
    }
}

pub(super) fn check_moment(text: &str) -> Result<(), String> {
    moment(text).map(drop).ok_or_else(|| {
        let shown: String = text.chars().take(40).collect();
        format!("'{shown}' is no moment of a session; write before, end-of-station-7 (1 to {MOST_STATIONS}), 60-s-after or after-cool-down")
    })
}

fn moment(text: &str) -> Option<PulseMoment> {
    match text {
        "before" => Some(PulseMoment::Before),
        "60-s-after" => Some(PulseMoment::SixtySecondsAfter),
        "after-cool-down" => Some(PulseMoment::AfterCoolDown),
        _ => {
            let digits = text.strip_prefix("end-of-station-")?;
            let plain =
                digits.bytes().all(|byte| byte.is_ascii_digit()) && !digits.starts_with('0');
            let number: u8 = digits.parse().ok().filter(|_| plain)?;
            (1..=MOST_STATIONS)
                .contains(&number)
                .then_some(PulseMoment::EndOfStation(number))
        }
    }
}

/// The moment as written in files.
pub(super) fn moment_word(moment: PulseMoment) -> String {
    match moment {
        PulseMoment::Before => "before".to_owned(),
        PulseMoment::SixtySecondsAfter => "60-s-after".to_owned(),
        PulseMoment::AfterCoolDown => "after-cool-down".to_owned(),
        PulseMoment::EndOfStation(number) => format!("end-of-station-{number}"),
    }
}
