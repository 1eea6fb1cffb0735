//! The running order as the page's script receives it. No METs, no class, no rule: words, times, bounds and outcomes.

use crate::json::Json;
use crate::profile::{Way, way};
use crate::running_order::{
    Answer, Band, Call, CheckRow, Choice, Closing, Cue, CueKind, Doing, Listed, Next, Node,
    Outcome, Reach, RunningOrder, Tick, Together, Told, Unwell,
};
use rehab::programme::Phase;

/// Width in px for which the walking profile is drawn.
pub(super) const WAY_PX: u16 = 354;
/// Steps of the table of heights: every second px.
const WAY_STEPS: u16 = 177;

/// Sentences whose ids the script puts together from parts.
const PUT_TOGETHER: [&str; 4] = ["page.read.", "page.signs.", "say.month.", "say.date"];

pub(super) fn data(order: &RunningOrder) -> String {
    let script = super::script::script();
    let words = order
        .words
        .iter()
        .filter(|(id, _)| {
            PUT_TOGETHER.iter().any(|part| id.starts_with(part))
                || script.contains(&format!("'{id}'"))
        })
        .map(|(id, text)| (id.clone(), Json::text(text)))
        .collect();
    let mut doings = Doings::default();
    let cues = order.cues.iter().map(|one| cue(one, &mut doings)).collect();
    let stations = order
        .cues
        .iter()
        .filter(|cue| cue.station.is_some())
        .count();
    Json::Object(vec![
        ("caseId", Json::text(&order.case_id)),
        ("called", Json::text(&order.called)),
        ("letter", Json::text(order.letter)),
        ("date", Json::text(order.date.to_string())),
        ("stage", Json::Number(f64::from(order.stage))),
        ("draft", Json::Flag(order.is_draft())),
        ("approval", Json::text(&order.approval_words)),
        (
            "validUntil",
            Json::maybe(order.valid_until.map(|day| day.to_string())),
        ),
        ("emergency", reach(&order.emergency)),
        ("team", reach(&order.team)),
        ("sum", Json::text(&order.sum)),
        ("often", Json::text(&order.often)),
        ("wayDown", Json::Number(order.way_down_ms as f64)),
        ("length", Json::Number(order.length_ms as f64)),
        (
            "resumeWithin",
            Json::Number(f64::from(order.resume_within_ms)),
        ),
        ("stations", Json::Number(stations as f64)),
        (
            "doings",
            Json::List(doings.list.iter().map(doing).collect()),
        ),
        ("cues", Json::List(cues)),
        ("check", Json::List(order.check.iter().map(row).collect())),
        ("ready", Json::texts(&order.ready)),
        ("unwell", path(&order.unwell)),
        ("closing", closing(&order.closing)),
        (
            "way",
            heights(&way(&order.course, WAY_PX, order.top_mets, WAY_STEPS)),
        ),
        ("words", Json::Map(words)),
    ])
    .write()
}

fn reach(reach: &Reach) -> Json {
    Json::Object(vec![
        ("name", Json::text(&reach.name)),
        ("number", Json::text(&reach.number)),
        ("tel", Json::text(super::dialled(&reach.number))),
        ("text", Json::text(&reach.text)),
        ("otherwise", Json::maybe(reach.otherwise.as_deref())),
    ])
}

/// What is done, each once: a further round does the same again.
#[derive(Default)]
struct Doings {
    list: Vec<Doing>,
}

impl Doings {
    fn place_of(&mut self, doing: &Doing) -> Json {
        let found = self.list.iter().position(|one| one == doing);
        let place = found.unwrap_or_else(|| {
            self.list.push(doing.clone());
            self.list.len() - 1
        });
        Json::Number(place as f64)
    }
}

fn cue(cue: &Cue, doings: &mut Doings) -> Json {
    let phase = match cue.phase {
        Phase::WarmUp => "warm-up",
        Phase::Conditioning => "conditioning",
        Phase::CoolDown => "cool-down",
    };
    let kind = match cue.kind {
        CueKind::Slope => "slope",
        CueKind::Brisk => "brisk",
        CueKind::Easy => "easy",
        CueKind::Walk => "walk",
        CueKind::Rest => "rest",
    };
    Json::Object(vec![
        ("start", Json::Number(cue.start_ms as f64)),
        ("length", Json::Number(f64::from(cue.duration_ms))),
        ("phase", Json::text(phase)),
        ("kind", Json::text(kind)),
        ("round", Json::Number(f64::from(cue.round))),
        ("onceMore", Json::Flag(cue.once_more)),
        (
            "station",
            cue.station
                .map_or(Json::Null, |one| Json::Number(f64::from(one))),
        ),
        ("title", Json::text(&cue.title)),
        ("short", Json::text(&cue.short)),
        ("place", Json::text(&cue.place)),
        ("doing", doings.place_of(&cue.doing)),
        ("easier", doings.place_of(&cue.easier)),
    ])
}

fn doing(doing: &Doing) -> Json {
    let what = doing.what.as_ref();
    Json::Object(vec![
        (
            "what",
            Json::maybe(what.map(|one| format!("{}/{}", one.exercise, one.variant))),
        ),
        (
            "exercise",
            Json::maybe(what.map(|one| one.exercise.as_str())),
        ),
        ("name", Json::text(&doing.name)),
        ("setUp", Json::text(&doing.set_up)),
        ("lines", Json::texts(&doing.lines)),
        ("tempo", Json::text(&doing.tempo)),
        ("care", Json::text(&doing.care)),
        ("figure", Json::maybe(doing.figure.as_deref())),
    ])
}

fn outcome(outcome: &Outcome) -> Json {
    let kind = |kind: &str, rest: Option<(&'static str, &str)>| {
        let mut pairs = vec![("kind", Json::text(kind))];
        pairs.extend(rest.map(|(key, text)| (key, Json::text(text))));
        Json::Object(pairs)
    };
    match outcome {
        Outcome::GoOn => kind("go-on", None),
        Outcome::First(text) => kind("first", Some(("text", text))),
        Outcome::NotToday(text) => kind("not-today", Some(("text", text))),
        Outcome::Unwell(node) => kind("unwell", Some(("node", node))),
    }
}

fn row(row: &CheckRow) -> Json {
    let mut pairs = vec![
        ("id", Json::text(&row.id)),
        ("question", Json::text(&row.question)),
        ("passed", Json::text(&row.passed)),
        ("told", told(&row.told)),
        ("listed", row.listed.as_ref().map_or(Json::Null, listed)),
    ];
    match &row.answer {
        Answer::YesNo { yes } => pairs.push(("yes", outcome(yes))),
        Answer::Number {
            unit,
            least,
            most,
            decimals,
            count_s,
            bands,
            unmeasured,
        } => pairs.extend([
            ("unmeasured", outcome(unmeasured)),
            ("unit", Json::text(unit)),
            ("least", Json::Number(*least)),
            ("most", Json::Number(*most)),
            ("decimals", Json::Number(f64::from(*decimals))),
            (
                "countS",
                count_s.map_or(Json::Null, |one| Json::Number(f64::from(one))),
            ),
            ("bands", Json::List(bands.iter().map(band).collect())),
        ]),
    }
    Json::Object(pairs)
}

fn listed(listed: &Listed) -> Json {
    Json::Object(vec![
        ("number", Json::Number(f64::from(listed.number))),
        ("head", Json::text(&listed.head)),
        ("line", Json::text(&listed.line)),
    ])
}

fn told(told: &Told) -> Json {
    Json::Object(vec![
        ("symptom", Json::maybe(told.symptom)),
        ("worse", Json::Flag(told.worse)),
        ("nitrate", Json::Flag(told.nitrate)),
        ("medicine", Json::Flag(told.medicine)),
        ("lock", Json::Flag(told.lock)),
    ])
}

fn band(band: &Band) -> Json {
    Json::Object(vec![
        ("below", band.below.map_or(Json::Null, Json::Number)),
        ("outcome", outcome(&band.outcome)),
    ])
}

fn path(path: &Unwell) -> Json {
    let nodes = path
        .nodes
        .iter()
        .map(|(id, node)| (id.clone(), screen(node)))
        .collect();
    Json::Object(vec![
        ("first", Json::text(&path.first)),
        ("nodes", Json::Map(nodes)),
        ("after", Json::texts(&path.after)),
    ])
}

fn screen(node: &Node) -> Json {
    let call = match node.call {
        Call::Emergency => "emergency",
        Call::Team => "team",
    };
    Json::Object(vec![
        ("head", Json::text(&node.head)),
        ("lines", Json::texts(&node.lines)),
        ("call", Json::text(call)),
        ("waitMs", Json::Number(f64::from(node.wait_ms))),
        ("question", Json::text(&node.question)),
        (
            "choices",
            Json::List(node.choices.iter().map(choice).collect()),
        ),
        ("ticks", Json::List(node.ticks.iter().map(tick).collect())),
        (
            "together",
            Json::List(node.together.iter().map(together).collect()),
        ),
        ("symptom", Json::maybe(node.symptom.as_deref())),
        ("lock", Json::Flag(node.lock)),
        ("nitrate", Json::Flag(node.nitrate)),
    ])
}

fn tick(tick: &Tick) -> Json {
    Json::Object(vec![
        ("id", Json::text(tick.id)),
        ("label", Json::text(&tick.label)),
        ("symptom", Json::maybe(tick.symptom.as_deref())),
    ])
}

fn together(together: &Together) -> Json {
    let needs = together.needs.iter().map(|one| Json::text(*one)).collect();
    Json::Object(vec![
        ("needs", Json::List(needs)),
        ("least", Json::Number(f64::from(together.least))),
        ("next", Json::text(&together.next)),
    ])
}

fn choice(choice: &Choice) -> Json {
    let next = match &choice.next {
        Next::Node(node) => vec![("kind", Json::text("node")), ("node", Json::text(node))],
        Next::BackEased => vec![("kind", Json::text("back-eased"))],
        Next::Back => vec![("kind", Json::text("back"))],
        Next::Afterwards => vec![("kind", Json::text("afterwards"))],
    };
    Json::Object(vec![
        ("label", Json::text(&choice.label)),
        ("next", Json::Object(next)),
        ("afterWait", Json::Flag(choice.after_wait)),
    ])
}

fn closing(closing: &Closing) -> Json {
    let signs = closing
        .signs
        .iter()
        .map(|sign| {
            Json::Object(vec![
                ("kind", Json::text(&sign.kind)),
                ("label", Json::text(&sign.label)),
                ("known", Json::Flag(sign.known)),
                ("lock", Json::Flag(sign.lock)),
            ])
        })
        .collect();
    Json::Object(vec![
        ("scale", Json::text(closing.scale.word())),
        ("scaleWords", Json::text(&closing.scale_words)),
        ("high", Json::Number(closing.effort_high)),
        ("signs", Json::List(signs)),
        ("spray", Json::Flag(closing.spray)),
        (
            "pulseS",
            closing
                .pulse_s
                .map_or(Json::Null, |one| Json::Number(f64::from(one))),
        ),
        (
            "weight",
            closing.weight.map_or(Json::Null, |(least, most)| {
                Json::Object(vec![
                    ("least", Json::Number(least)),
                    ("most", Json::Number(most)),
                ])
            }),
        ),
        ("last", Json::texts(&closing.last)),
    ])
}

fn heights(way: &Way) -> Json {
    Json::Object(vec![
        ("left", Json::Number(way.left)),
        ("right", Json::Number(way.right)),
        ("ground", Json::Number(way.ground)),
        (
            "heights",
            Json::List(way.heights.iter().copied().map(Json::Number).collect()),
        ),
    ])
}
