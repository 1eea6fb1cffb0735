//! A checked tree into a case. Nothing is judged here: what is not there is not known.

use super::id;
use super::read_test::test;
use crate::shape::View;
use rehab::assessment::{
    Agreement, Case, CaseId, Device, Effort, Event, Examination, Function, Heart, History, Home,
    Medicine, Nitrate, Pacemaker, Pain, Person, Place, Procedure, Status, StatusKind, UsualSymptom,
    Watched, Wishes,
};

pub(super) fn case(view: &View<'_>) -> Case {
    let person = view
        .table("person")
        .map_or_else(Person::unknown, |view| person(&view));
    let id = view
        .text("id")
        .map_or_else(|| id::derive(person.name.as_deref(), person.born), CaseId);
    Case {
        id,
        person,
        status: view
            .table("status")
            .and_then(|view| status(&view))
            .unwrap_or(Status {
                kind: StatusKind::Active,
                since: None,
            }),
        events: all(view, "event", event),
        heart: view
            .table("heart")
            .map_or_else(Heart::unknown, |view| heart(&view)),
        history: view
            .table("history")
            .map_or_else(History::unasked, |view| history(&view)),
        medicines: all(view, "medicine", medicine),
        nitrate: view
            .table("nitrate")
            .map_or_else(Nitrate::unasked, |view| nitrate(&view)),
        usual_symptoms: all(view, "usual_symptom", usual_symptom),
        function: function(view.table("function").as_ref()),
        examinations: all(view, "examination", examination),
        tests: all(view, "test", test),
        home: view
            .table("home")
            .map_or_else(Home::unknown, |view| home(&view)),
        wishes: view
            .table("wishes")
            .map_or_else(Wishes::unasked, |view| wishes(&view)),
        agreement: view.table("agreement").and_then(|view| {
            Some(Agreement {
                doctor: view.text("doctor")?,
                date: view.day("date")?,
            })
        }),
        watched: all(view, "watched", watched),
        pains: all(view, "pain", pain),
    }
}

/// Every table of a list that says enough; what does not has been told as a problem.
pub(crate) fn all<T>(view: &View<'_>, key: &str, read: fn(&View<'_>) -> Option<T>) -> Vec<T> {
    view.tables(key).iter().filter_map(read).collect()
}

/// An effort with its scale.
pub(crate) fn effort(view: &View<'_>, key: &str) -> Option<Effort> {
    let view = view.table(key)?;
    Some(Effort {
        scale: view.word("scale")?,
        value: view.number("value")?,
    })
}

fn person(view: &View<'_>) -> Person {
    Person {
        name: view.text("name"),
        called: view.text("called"),
        born: view.day("born"),
        sex: view.word("sex"),
        height_cm: view.number("height_cm"),
        weight_kg: view.number("weight_kg"),
        language: view.text("language"),
        telephones: view.texts("telephones"),
        emergency_contact: view.text("emergency_contact"),
        doctor: view.text("doctor"),
        interpreter: view.text("interpreter"),
        hearing: view.text("hearing"),
        sight: view.text("sight"),
        reading: view.text("reading"),
        memory: view.text("memory"),
        consent: view.text("consent"),
        address: view.text("address"),
    }
}

fn status(view: &View<'_>) -> Option<Status> {
    Some(Status {
        kind: view.word("kind")?,
        since: view.day("since"),
    })
}

fn event(view: &View<'_>) -> Option<Event> {
    Some(Event {
        kind: view.word("kind")?,
        date: view.day("date"),
        procedures: all(view, "procedures", procedure),
        complicated: view.flag("complicated"),
        residual_disease: view.flag("residual_disease"),
    })
}

fn procedure(view: &View<'_>) -> Option<Procedure> {
    Some(Procedure {
        kind: view.word("kind")?,
        date: view.day("date"),
        access: view.text("access"),
    })
}

fn heart(view: &View<'_>) -> Heart {
    Heart {
        ejection_fraction_pct: view.number("ejection_fraction_pct"),
        rhythm: view.word("rhythm"),
        device: view.table("device").map(|view| Device {
            lowest_treated_bpm: view.number("lowest_treated_bpm"),
            last_shock: view.day("last_shock"),
            subcutaneous: view.flag("subcutaneous"),
        }),
        pacemaker: view.table("pacemaker").map(|view| Pacemaker {
            mode: view.word("mode"),
            base_bpm: view.number("base_bpm"),
            upper_tracking_bpm: view.number("upper_tracking_bpm"),
            rate_response: view.flag("rate_response"),
            resynchronisation: view.flag("resynchronisation"),
        }),
        haemoglobin_g_dl: view.number("haemoglobin_g_dl"),
    }
}

fn history(view: &View<'_>) -> History {
    History {
        present: view.words("present").unwrap_or_default(),
        absent: view.words("absent").unwrap_or_default(),
        rest_absent: view.text("rest_absent"),
        not_asked: view.words("not_asked").unwrap_or_default(),
        since: view.days_by_word("since"),
    }
}

fn medicine(view: &View<'_>) -> Option<Medicine> {
    Some(Medicine {
        name: view.text("name")?,
        dose: view.text("dose"),
        since: view.day("since"),
        until: view.day("until"),
        times: view.text("times"),
        as_needed: view.flag("as_needed"),
    })
}

fn nitrate(view: &View<'_>) -> Nitrate {
    Nitrate {
        prescribed: view.flag("prescribed"),
        in_date: view.flag("in_date"),
        until: view.day("until"),
        taught: view.flag("taught"),
    }
}

fn usual_symptom(view: &View<'_>) -> Option<UsualSymptom> {
    Some(UsualSymptom {
        kind: view.word("kind")?,
        score: view.number("score"),
    })
}

fn function(view: Option<&View<'_>>) -> Function {
    Function {
        aid: view.and_then(|view| view.word("aid")),
        falls_12_months: view.and_then(|view| view.whole("falls_12_months")),
    }
}

fn examination(view: &View<'_>) -> Option<Examination> {
    Some(Examination {
        date: view.day("date")?,
        nyha: view.whole("nyha"),
        resting_hr_bpm: view.number("resting_hr_bpm"),
        pulse_regular: view.flag("pulse_regular"),
        resting_bp: view.pressure("resting_bp_mmhg"),
        standing_bp: view.pressure("standing_bp_mmhg"),
        spo2_pct: view.number("spo2_pct"),
        weight_kg: view.number("weight_kg"),
        temperature_c: view.number("temperature_c"),
        glucose_mmol_l: view.number("glucose_mmol_l"),
        ketones_mmol_l: view.number("ketones_mmol_l"),
        oedema: view.flag("oedema"),
        symptoms: view.words("symptoms"),
    })
}

fn home(view: &View<'_>) -> Home {
    Home {
        alone_when_exercising: view.flag("alone_when_exercising"),
        telephone: view.flag("telephone"),
        screens: view.words("screen").unwrap_or_default(),
        places: all(view, "place", place),
        props: view.words("props").unwrap_or_default(),
    }
}

fn place(view: &View<'_>) -> Option<Place> {
    Some(Place {
        name: view.text("name")?,
        kind: view.word("kind")?,
        seat_cm: view.number("seat_cm"),
        arms: view.flag("arms"),
        height_cm: view.number("height_cm"),
        rail: view.flag("rail"),
        metres_to_next: view.number("metres_to_next"),
    })
}

fn wishes(view: &View<'_>) -> Wishes {
    Wishes {
        likes: view.texts("likes"),
        dislikes: view.texts("dislikes"),
        sessions_per_week: view.whole("sessions_per_week"),
        weights_g: view.numbers("weights_g"),
        goal: view.text("goal"),
        pulse_counting: view.flag("pulse_counting"),
    }
}

fn watched(view: &View<'_>) -> Option<Watched> {
    Some(Watched {
        date: view.day("date")?,
        exercise: view.text("exercise")?,
        variant: view.text("variant")?,
        effort: effort(view, "effort"),
        hr_bpm: view.number("hr_bpm"),
        bp: view.pressure("bp_mmhg"),
        technique: view.word("technique")?,
        support: view.word("support"),
        symptoms: view.words("symptoms"),
    })
}

fn pain(view: &View<'_>) -> Option<Pain> {
    Some(Pain {
        joint: view.word("joint"),
        during: view.number("during"),
        settled_2h: view.flag("settled_2h"),
        worse_next_morning: view.flag("worse_next_morning"),
        date: view.day("date"),
        exercise: view.text("exercise"),
    })
}
