//! What a page waits for before it may be done alone at home.

use crate::casefile::CaseFile;
use crate::phrases::{counted, page_of, sentence};
use rehab::assessed::Decision;
use rehab::assessment::Watched;
use rehab::course::{Outdated, Waiting};
use rehab::programme::eligible::{ToWatch, outside_when_watched};
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
    let waiting = file
        .course
        .waits_for(stage, &file.service, &file.assessed, &file.review());
    waits.extend(waiting.iter().map(|one| in_words(one, file, words)));
    waits
}

/// One thing that a page waits for, with the place where it is done.
fn in_words(waiting: &Waiting, file: &CaseFile, words: &Words) -> Waits {
    let (what, at) = match waiting {
        Waiting::Standing(status) => (
            format!("The standing is {}", crate::phrases::status(*status)),
            "standing",
        ),
        Waiting::Stopped(since) => {
            let day = crate::phrases::on_day(*since, file.on);
            (
                format!("Stopped {day}; somebody must decide on a page again"),
                "call",
            )
        }
        Waiting::Review(why) => (sentence(why), "call"),
        Waiting::Decision(Decision::NotAtHome) => ("The answer is not at home".to_owned(), "facts"),
        Waiting::Decision(_) => (
            "The answer of the screening is not today".to_owned(),
            "facts",
        ),
        Waiting::Sessions { needed, done } => {
            let left = usize::from(needed.saturating_sub(*done));
            let first = sentence(&counted(left, "session is", "sessions are"));
            (
                format!("{first} to be watched first; {done} done of {needed}"),
                "watched",
            )
        }
        Waiting::NotSeen(ways) => {
            let names: Vec<String> = ways.iter().map(|one| to_watch(words, one)).collect();
            (
                format!(
                    "To be watched and found good before it is done alone: {}",
                    shortened(&names)
                ),
                "watched",
            )
        }
        Waiting::Help(why) => (sentence(why), "facts"),
    };
    Waits { what, at }
}

/// A way that is to be watched, with what was outside the last time.
fn to_watch(words: &Words, one: &ToWatch) -> String {
    let name = name(words, &one.way);
    match one.outside.is_empty() {
        true => name,
        false => format!("{name} (last time {})", one.outside.join(", ")),
    }
}

/// What was outside what is agreed when a turn was watched; empty where all that was taken is in order.
pub(crate) fn outside(file: &CaseFile, one: &Watched) -> Vec<String> {
    outside_when_watched(&file.course.case, &file.service, &file.assessed, one)
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
            "it was made with a predicted pulse under a hard limit, and no pulse can be predicted any more".to_owned()
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
