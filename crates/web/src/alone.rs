//! What a page waits for before it may be done alone at home.

use crate::casefile::{CaseFile, is_running};
use crate::phrases::{counted, page_of, sentence};
use rehab::assessed::Decision;
use rehab::assessment::Watched;
use rehab::course::Outdated;
use rehab::programme::eligible::still_to_watch;
use rehab::programme::{PastLimit, Stage, VariantRef};
use rehab::wording::Words;

/// What a page waits for: each a sentence, with the place where it is done.
pub(crate) struct Waits {
    /// What is missing.
    pub(crate) what: String,
    /// The page of the case where it is done: `sign`, `watched`, `facts` ...
    pub(crate) at: &'static str,
}

/// Everything for which a signed page is to be signed anew.
pub(crate) fn outdated(file: &CaseFile, stage: &Stage) -> Vec<Outdated> {
    let exercises = file.app.exercises();
    file.course
        .outdated(stage, &file.service, exercises, &file.assessed)
}

/// Everything that keeps a signed page from being given; empty when it may be done alone.
pub(crate) fn waits(file: &CaseFile, stage: &Stage, words: &Words) -> Vec<Waits> {
    let mut waits = Vec::new();
    let mut say = |what: String, at: &'static str| waits.push(Waits { what, at });
    let page = sentence(&page_of(stage.number));
    if !file.course.signed_stages().any(|one| one == stage) {
        say(format!("{page} is not signed"), "sign");
    } else if file
        .course
        .current_stage
        .is_none_or(|here| here < stage.number)
    {
        say(
            format!("{page} is signed and not yet given; it is given at a contact"),
            "sign",
        );
    }
    for one in outdated(file, stage) {
        let why = outdated_in_words(&one, file, words);
        say(format!("{page} is to be signed anew: {why}"), "sign");
    }
    if !is_running(&file.course)
        && file.course.case.status.kind != rehab::assessment::StatusKind::Active
    {
        say(
            format!(
                "The standing is {}",
                crate::phrases::status(file.course.case.status.kind)
            ),
            "standing",
        );
    }
    if let Some(since) = file.course.stopped {
        let day = crate::phrases::on_day(since, file.on);
        say(
            format!("Stopped {day}; somebody must decide on a page again"),
            "call",
        );
    } else if let Err(refused) = file.course.may_have_a_page(&file.review(), &file.assessed)
        && file.assessed.screening.decision == Decision::Exercise
    {
        say(sentence(&refused.to_string()), "call");
    }
    match file.assessed.screening.decision {
        Decision::Exercise => {}
        Decision::NotToday => say(
            "The answer of the screening is not today".to_owned(),
            "facts",
        ),
        Decision::NotAtHome => say("The answer is not at home".to_owned(), "facts"),
    }
    let eligible = &file.assessed.eligibility;
    let left = eligible
        .watched_needed
        .saturating_sub(eligible.watched_done);
    if left > 0 {
        say(
            format!(
                "{} to be watched first; {} done of {}",
                sentence(&counted(usize::from(left), "session is", "sessions are")),
                eligible.watched_done,
                eligible.watched_needed
            ),
            "watched",
        );
    }
    let unseen = still_to_watch(&file.course.case, &file.service, &file.assessed, stage);
    if !unseen.is_empty() {
        let names: Vec<String> = unseen.iter().map(|one| name(words, one)).collect();
        say(
            format!(
                "To be watched and found good before it is done alone: {}",
                shortened(&names)
            ),
            "watched",
        );
    }
    if left == 0 && !eligible.alone_now && file.assessed.screening.decision == Decision::Exercise {
        say(sentence(&eligible.because.text), "facts");
    }
    waits
}

/// Why, after "is to be signed anew".
pub(crate) fn outdated_in_words(outdated: &Outdated, file: &CaseFile, words: &Words) -> String {
    match outdated {
        Outdated::Event(date) => format!(
            "there was a heart event or procedure {}, after the signature",
            crate::phrases::on_day(*date, file.on)
        ),
        Outdated::Effort => {
            "the effort agreed with it is above the one of now, or on another scale".to_owned()
        }
        Outdated::Growth(week, most) => format!(
            "a week of it comes to {week:.0} MET-minutes, and beside the page at home {most:.0} are the most now"
        ),
        Outdated::Past(limit) => past_in_words(limit, words),
    }
}

fn past_in_words(limit: &PastLimit, words: &Words) -> String {
    match limit {
        PastLimit::Way(way, why) => format!("{} is not open any more: {why}", name(words, way)),
        PastLimit::Place(place) => format!("\"{place}\" is no place of the home any more"),
        PastLimit::Round(mean, most) => {
            format!("its round takes {mean:.1} METs on average, and {most:.1} are the most now")
        }
        PastLimit::Station(mets, most) => {
            format!("its hardest turn takes {mets:.1} METs, and {most:.1} are the most now")
        }
        PastLimit::Pulse(expected, most) => format!(
            "a pulse of {expected:.0} is expected by what is known today, too close to the hard limit of {most:.0} or above it"
        ),
        PastLimit::NoPrediction => {
            "there is a hard limit of the pulse, and no pulse can be predicted".to_owned()
        }
    }
}

/// Names one by one as long as they are few; a page of which nothing was watched would fill the screen.
fn shortened(names: &[String]) -> String {
    const FEW: usize = 6;
    match names.len() {
        few if few <= FEW => names.join("; "),
        many => format!(
            "{}; and {} more",
            names[..3].join("; "),
            crate::phrases::count(many - 3)
        ),
    }
}

/// The name of a variant in words.
pub(crate) fn name(words: &Words, named: &VariantRef) -> String {
    match words.exercise(named) {
        Some(said) if said.way.is_empty() => said.name.to_lowercase(),
        Some(said) => format!("{}, {}", said.name.to_lowercase(), said.way),
        None => format!("{} {}", named.exercise, named.variant).replace('-', " "),
    }
}

/// The newest that was watched of a variant.
pub(crate) fn newest<'f>(file: &'f CaseFile, named: &VariantRef) -> Option<&'f Watched> {
    file.course
        .case
        .watched
        .iter()
        .filter(|one| one.exercise == named.exercise && one.variant == named.variant)
        .max_by_key(|one| one.date)
}

/// The signed page by its number; without a number the one the person is on, else the first signed.
pub(crate) fn chosen(file: &CaseFile, number: Option<u16>) -> Option<&Stage> {
    match number.or(file.course.current_stage) {
        Some(number) => file.course.signed_stage(number),
        None => file.course.signed_stages().next(),
    }
}
