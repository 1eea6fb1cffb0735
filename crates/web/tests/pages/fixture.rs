//! A temporary record with invented people, and a browser of one line.

use axum::Router;
use axum::body::Body;
use axum::http::{Request, Response, StatusCode, header};
use formats::journal::{kind_of, write_body};
use http_body_util::BodyExt as _;
use jiff::civil::{Date, date};
use records::{
    CaseId, Draft, EntryId, NewCase, NewRecord, NewUser, PassphraseCost, Roles, Store, Word,
};
use rehab::assessment::{Case, StatusKind};
use rehab::course::{Channel, Course, Digests, Happening, Signature, SignedPlan};
use rehab::diary::{DiaryEntry, DiarySymptom, SymptomKind};
use rehab::programme::{Phase, Predicted, Segment, SegmentKind, Stage, VariantRef};
use rehab::service::Service;
use tower::ServiceExt as _;
use web::{App, Clock};

/// The day of all these tests.
pub(crate) const ON: Date = date(2026, 11, 25);

pub(crate) const FENWICK: &str = include_str!("fenwick.toml");

pub(crate) struct House {
    pub(crate) pages: Router,
    pub(crate) store: Store,
    pub(crate) user: records::UserId,
    _dir: tempfile::TempDir,
}

/// An answer with its whole text.
pub(crate) struct Page {
    pub(crate) status: StatusCode,
    #[allow(dead_code)]
    pub(crate) to: Option<String>,
    pub(crate) text: String,
}

pub(crate) async fn house() -> House {
    let dir = tempfile::tempdir().unwrap();
    let new = NewRecord {
        first_user: NewUser {
            sign_in: "josie".to_owned(),
            full_name: "Josie Marwood, physiotherapist".to_owned(),
            roles: Roles::ALL,
        },
        passphrase: None,
        key: None,
        cost: PassphraseCost::STANDARD,
    };
    let now = jiff::Timestamp::now();
    let created = Store::create(&dir.path().join("record"), &new, now)
        .await
        .unwrap();
    let user = created.store.user(created.first_user).await.unwrap();
    let app = App::demonstration(created.store.clone(), user, Clock::Held(ON)).unwrap();
    House {
        pages: web::router(app),
        store: created.store,
        user: created.first_user,
        _dir: dir,
    }
}

impl House {
    /// The same record, seen by a lead who sees no patients.
    pub(crate) async fn seen_by_the_lead(mut self) -> Self {
        let lead = NewUser {
            sign_in: "petra".to_owned(),
            full_name: "Petra Lindqvist, lead".to_owned(),
            roles: Roles::LEAD,
        };
        let now = jiff::Timestamp::now();
        let id = self
            .store
            .add_user(self.user, &lead, None, now)
            .await
            .unwrap();
        let user = self.store.user(id).await.unwrap();
        let app = App::demonstration(self.store.clone(), user, Clock::Held(ON)).unwrap();
        self.pages = web::router(app);
        self
    }

    pub(crate) async fn get(&self, address: &str) -> Page {
        let request = Request::get(address)
            .header(header::HOST, "localhost")
            .body(Body::empty())
            .unwrap();
        read(self.pages.clone().oneshot(request).await.unwrap()).await
    }

    pub(crate) async fn post(&self, address: &str, fields: &[(&str, &str)]) -> Page {
        let body: Vec<String> = fields
            .iter()
            .map(|(name, value)| format!("{}={}", encoded(name), encoded(value)))
            .collect();
        let request = Request::post(address)
            .header(header::HOST, "localhost")
            .header("sec-fetch-site", "same-origin")
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
            .body(Body::from(body.join("&")))
            .unwrap();
        read(self.pages.clone().oneshot(request).await.unwrap()).await
    }

    /// Signs a sheet after a look at what follows.
    pub(crate) async fn sign(&self, address: &str, fields: &[(&str, &str)]) -> Page {
        let mut fields = fields.to_vec();
        fields.retain(|(name, _)| *name != "act");
        fields.push(("act", "follow"));
        let looked = self.post(address, &fields).await.text;
        let mark = "name=\"seen\" value=\"";
        let seen = looked.find(mark).map_or("", |at| {
            looked[at + mark.len()..].split('"').next().unwrap()
        });
        fields.retain(|(name, _)| *name != "act");
        fields.extend([("act", "sign"), ("seen", seen)]);
        self.post(address, &fields).await
    }

    /// Opens the form of an address and sends it with these fields.
    pub(crate) async fn send(&self, address: &str, fields: &[(&str, &str)]) -> Page {
        let opened = self.get(address).await.text;
        let mark = "name=\"position\" value=\"";
        let at = opened.find(mark).expect("the form knows its place") + mark.len();
        let place = opened[at..].split('"').next().unwrap();
        let mut fields = fields.to_vec();
        fields.retain(|(name, _)| *name != "position");
        fields.push(("position", place));
        self.post(address, &fields).await
    }

    pub(crate) async fn upload(&self, address: &str, name: &str, bytes: &[u8]) -> Page {
        let mut body = format!(
            "--line\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\n\r\n"
        )
        .into_bytes();
        body.extend_from_slice(bytes);
        body.extend_from_slice(b"\r\n--line--\r\n");
        let request = Request::post(address)
            .header(header::HOST, "localhost")
            .header("sec-fetch-site", "same-origin")
            .header(header::CONTENT_TYPE, "multipart/form-data; boundary=line")
            .body(Body::from(body))
            .unwrap();
        read(self.pages.clone().oneshot(request).await.unwrap()).await
    }

    /// Writes one more thing that happened today.
    pub(crate) async fn add(&self, case: CaseId, name: &str, happening: &Happening) {
        let now = jiff::Timestamp::now();
        let draft = Draft::new(
            EntryId::generate(now).unwrap(),
            Word::new(kind_of(happening)).unwrap(),
            ON.at(11, 0, 0, 0),
            write_body(&rehab::assessment::CaseId(name.to_owned()), happening),
        );
        self.store
            .append(case, self.user, draft, now)
            .await
            .unwrap();
    }

    /// Writes a person in with what happened to them, in order.
    pub(crate) async fn write(&self, case: Case, happened: Vec<(Date, Happening)>) -> CaseId {
        let now = jiff::Timestamp::now();
        let service = Service::cautious();
        let begin = happened.first().map_or(ON, |(date, _)| *date);
        let first = (begin, Happening::Case(Box::new(case.clone())));
        let all: Vec<(Date, Happening)> = std::iter::once(first).chain(happened).collect();
        let course = Course::fold(all.iter().map(|(date, one)| (*date, one)), ON).unwrap();
        let entries = all
            .iter()
            .map(|(date, one)| {
                Draft::new(
                    EntryId::generate(now).unwrap(),
                    Word::new(kind_of(one)).unwrap(),
                    date.at(10, 0, 0, 0),
                    write_body(&case.id, one),
                )
            })
            .collect();
        let new = NewCase {
            reference: case.id.0.clone(),
            summary: web::summary(&course, &service, ON),
            personal: web::personal(&course),
            entries,
        };
        self.store.open_case(self.user, new, now).await.unwrap()
    }
}

async fn read(response: Response<Body>) -> Page {
    let status = response.status();
    let to = response
        .headers()
        .get(header::LOCATION)
        .map(|value| value.to_str().unwrap().to_owned());
    let bytes = response.into_body().collect().await.unwrap().to_bytes();
    Page {
        status,
        to,
        text: String::from_utf8_lossy(&bytes).into_owned(),
    }
}

fn encoded(text: &str) -> String {
    text.bytes()
        .map(|byte| match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' => {
                char::from(byte).to_string()
            }
            other => format!("%{other:02X}"),
        })
        .collect()
}

pub(crate) fn fenwick() -> Case {
    formats::case::read("fenwick.toml", FENWICK.as_bytes(), Some(ON))
        .unwrap()
        .0
}

/// The same facts under another name.
pub(crate) fn somebody(id: &str, name: &str, called: &str) -> Case {
    let mut case = fenwick();
    case.id.0 = id.to_owned();
    case.person.name = Some(name.to_owned());
    case.person.called = Some(called.to_owned());
    case
}

pub(crate) fn standing(mut case: Case, kind: StatusKind) -> Case {
    case.status.kind = kind;
    case
}

/// A page of five brisk turns, signed and given on a day.
pub(crate) fn signed(on: Date) -> Vec<(Date, Happening)> {
    let plan = SignedPlan {
        stages: vec![stage(1), stage(2)],
        by: Signature {
            name: "Josie Marwood".to_owned(),
            role: "physiotherapist".to_owned(),
        },
        on,
        valid_until: None,
        digests: Digests {
            case: String::new(),
            service: String::new(),
            exercises: String::new(),
            program: "test".to_owned(),
        },
        overrides: Vec::new(),
        effort: None,
    };
    vec![
        (on, Happening::Signed(Box::new(plan))),
        (on, Happening::Released { stage: 1 }),
    ]
}

fn stage(number: u16) -> Stage {
    let part = |phase, kind, minutes: u32, mets, place: &str| Segment {
        phase,
        kind,
        doing: Some(VariantRef {
            exercise: "seated-march".to_owned(),
            variant: "slow".to_owned(),
        }),
        place: Some(0),
        place_name: place.to_owned(),
        round: u8::from(phase == Phase::Conditioning),
        duration_ms: minutes * 60_000,
        per_minute: Some(60.0),
        mets,
        mets_low: mets - 0.3,
        mets_high: mets + 0.3,
        hr_gain: 1.0,
        predicted_hr: Some(70.0 + mets * 8.0),
        predicted_sd: Some(4.0),
        easier: None,
        to_watch: false,
    };
    let mut segments = vec![part(
        Phase::WarmUp,
        SegmentKind::PulseRaising,
        15,
        1.9,
        "armchair",
    )];
    for turn in 0..5 {
        let place = if turn % 2 == 0 {
            "bottom stair"
        } else {
            "armchair"
        };
        segments.push(part(
            Phase::Conditioning,
            SegmentKind::Cardiovascular,
            2,
            2.7,
            place,
        ));
        segments.push(part(
            Phase::Conditioning,
            SegmentKind::ActiveRecovery,
            1,
            1.8,
            place,
        ));
    }
    segments.push(part(
        Phase::CoolDown,
        SegmentKind::Mobility,
        10,
        1.5,
        "armchair",
    ));
    Stage {
        number,
        lever: "one-more-pair".to_owned(),
        sessions_per_week: 3,
        segments,
        predicted: Predicted {
            peak_hr: Some(91.0),
            ceiling_probability: None,
        },
        objective: 0,
        bound: 0,
        proven: true,
        because: Vec::new(),
    }
}

/// News of one session, with what was felt.
pub(crate) fn session(case: &str, on: Date, felt: Option<SymptomKind>) -> (Date, Happening) {
    let symptoms = felt.map(|kind| DiarySymptom {
        kind,
        usual: None,
        score: None,
        nitrate_used: None,
    });
    let entry = DiaryEntry {
        id: format!("{case}-{on}"),
        date: on,
        stage: Some(1),
        stations_planned: Some(10),
        stations_done: Some(10),
        effort: None,
        symptoms: Some(symptoms.into_iter().collect()),
        pulses: Vec::new(),
        joint_pain: None,
        eased: Vec::new(),
        rested_s: None,
        stopped_because: None,
        medicine_change: None,
        weight_kg: None,
        pressure: None,
        minutes: Some(38.0),
        note: None,
    };
    let news = Happening::Diary {
        channel: Channel::Code,
        entries: vec![entry],
    };
    (on, news)
}
