//! What is read back out of the printed booklet is the running order: round by round, part by part, second for second.
//!
//! The reader here knows only what a person sees: the lists with their clock, their lengths and their numbers, and the
//! pictures with these numbers.

#[path = "../../crates/handouts/tests/fixture/mod.rs"]
mod fixture;

use handouts::print::{Ink, Paper, printed_pages};
use handouts::running_order::{Approval, Ask, Cue, DayBounds, RunningOrder, running_order};
use rehab::programme::{Choices, Exercises, Phase, Stage, plan_with};
use rehab::service::Service;
use rehab::wording::Words;
use std::collections::BTreeMap;
use tests::{Draw, RANDOM_DAY, random_case};

/// How many invented people get a booklet.
const PEOPLE: u64 = 150;
/// How many invented sessions are printed: rounds, lengths and orders that no programme makes.
const SESSIONS: u64 = 80;
/// A clock's face has a mark every five seconds: nothing is further than half of that from where it is signed.
const HALF_A_MARK_S: f64 = 2.5;

/// A row of a list, as it is read.
#[derive(Clone, Debug)]
struct Line {
    from_s: u32,
    length_s: u32,
    text: String,
    picture: Option<u32>,
}

/// A list, as it is read.
#[derive(Clone, Debug)]
struct List {
    head: String,
    place: String,
    lines: Vec<Line>,
}

/// The text of some markup without its tags.
fn plain(markup: &str) -> String {
    let mut out = String::new();
    for part in markup.split('<') {
        out.push_str(part.split_once('>').map_or(part, |(_, text)| text));
    }
    out.replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
}

/// What stands between a begin and the end after it, again and again.
fn all<'a>(text: &'a str, begin: &'a str, end: &'a str) -> impl Iterator<Item = &'a str> {
    let parts = text.split(begin).skip(1);
    parts.map(move |part| part.split(end).next().unwrap_or(part))
}

fn first<'a>(text: &'a str, begin: &'a str, end: &'a str) -> &'a str {
    all(text, begin, end).next().unwrap_or("")
}

/// "45 seconds", "2 minutes", "2 min 15 s".
fn seconds_of(text: &str) -> u32 {
    let words: Vec<&str> = text.split_whitespace().collect();
    let pairs = words.chunks(2).map(|pair| {
        let count: u32 = pair[0]
            .parse()
            .unwrap_or_else(|_| panic!("no number: {text}"));
        match pair[1] {
            "minute" | "minutes" | "min" => count * 60,
            "seconds" | "s" => count,
            other => panic!("no unit: {other}"),
        }
    });
    pairs.sum()
}

/// "3:45".
fn clock_of(text: &str) -> u32 {
    let (minutes, seconds) = text.split_once(':').expect("a time");
    let number = |text: &str| text.parse::<u32>().expect("a number");
    number(minutes) * 60 + number(seconds)
}

/// The lists in the order in which they are printed; one that goes on over the sheet is one, and "once more" is what it
/// says: the list before it again.
fn lists(page: &str) -> Vec<List> {
    let mut lists: Vec<List> = Vec::new();
    for one in all(page, "<div class=\"list\">", "</section>") {
        let one = one.split("<div class=").next().unwrap_or(one);
        let head = plain(first(one, "<h2>", "</h2>"));
        let place = plain(first(one, "<p class=\"place\">", "</p>"));
        let again = plain(first(one, "<p class=\"again\">", "</p>"));
        let mut lines: Vec<Line> = all(first(one, "<tbody>", "</tbody>"), "<tr", "</tr>")
            .map(|row| {
                let cell = |name| plain(first(row, &format!("<td class=\"{name}\">"), "</td>"));
                Line {
                    from_s: clock_of(&cell("from")),
                    length_s: seconds_of(&cell("long")),
                    text: cell("what"),
                    picture: cell("no").trim().parse().ok(),
                }
            })
            .collect();
        if !again.is_empty() {
            let before = lists.last().expect("something to do once more");
            assert!(again.starts_with("Do round "), "{again}");
            lines.clone_from(&before.lines);
            let told = again
                .rsplit(": ")
                .next()
                .unwrap_or("")
                .trim_end_matches('.');
            let whole: u32 = lines.iter().map(|line| line.length_s).sum();
            assert_eq!(seconds_of(told), whole);
        }
        match lists.last_mut().filter(|last| last.head == head) {
            Some(last) => last.lines.extend(lines),
            None => lists.push(List { head, place, lines }),
        }
    }
    lists
}

/// Every picture by its number: its name, and all that stands under it.
fn pictures(page: &str) -> BTreeMap<u32, (String, String)> {
    let mut pictures = BTreeMap::new();
    let (small, large) = ("<div class=\"half\">", "<div class=\"station");
    for begin in [small, large] {
        for one in all(page, begin, "</section>") {
            let one = one.split(begin).next().unwrap_or(one);
            let number = plain(first(one, "<b class=\"pic\">", "</b>"));
            let name = plain(first(one, "<span class=\"called\">", "</span>"));
            let number = number.parse().expect("a number");
            let seen = pictures.insert(number, (name, plain(one)));
            assert!(seen.is_none(), "two pictures bear the number {number}");
        }
    }
    pictures
}

/// Reads booklets of both sizes back against the running order.
fn assert_is_printed(order: &RunningOrder, told: &str) {
    for paper in [Paper::A4, Paper::Letter] {
        assert_reads(&printed_pages(order, paper, Ink::Grey), order, told);
    }
}

fn assert_reads(page: &str, order: &RunningOrder, told: &str) {
    let (lists, pictures) = (lists(page), pictures(page));
    let mut parts: Vec<Vec<&Cue>> = Vec::new();
    for cue in &order.cues {
        let key = |cue: &Cue| (cue.phase, cue.round);
        match parts.last_mut().filter(|part| key(part[0]) == key(cue)) {
            Some(part) => part.push(cue),
            None => parts.push(vec![cue]),
        }
    }
    assert_eq!(
        lists.len(),
        parts.len(),
        "{told}: a list for every part, none after"
    );
    for (list, part) in lists.iter().zip(&parts) {
        let told = format!("{told}, {}", list.head);
        assert_list(list, part, &told);
        assert_pictures(list, part, &pictures, &told);
    }
}

/// The lengths add up, the clock agrees with them, and every second has what is signed for it, at its place.
fn assert_list(list: &List, part: &[&Cue], told: &str) {
    let mut sum = 0;
    for line in &list.lines {
        assert_eq!(line.from_s, sum, "{told}: the clock at {}", line.text);
        assert!(line.length_s > 0, "{told}: {}", line.text);
        sum += line.length_s;
    }
    let begin = part[0].start_ms;
    let signed_ms: u64 = part.iter().map(|cue| u64::from(cue.duration_ms)).sum();
    assert_eq!(
        u64::from(sum),
        signed_ms.div_ceil(1000),
        "{told}: its length"
    );
    let head_length = list.head.rsplit(", ").next().unwrap_or("");
    assert_eq!(seconds_of(head_length), sum, "{told}: its head");
    let mut place = String::new();
    let mut at = 0;
    for cue in part {
        let from = (cue.start_ms - begin) as f64 / 1000.0;
        let to = (cue.end_ms() - begin) as f64 / 1000.0;
        let middle = f64::midpoint(from, to);
        while f64::from(list.lines[at].from_s + list.lines[at].length_s) < middle {
            at += 1;
        }
        let line = &list.lines[at];
        let name = match cue.doing.what {
            Some(_) => cue.doing.name.as_str(),
            None => cue.doing.lines[0].as_str(),
        };
        assert!(
            line.text.contains(name),
            "{told}: at {from} s stands {line:?} and not {name}"
        );
        assert!(
            f64::from(line.from_s) <= from + HALF_A_MARK_S,
            "{told}: {line:?} for {from}"
        );
        let end = f64::from(line.from_s + line.length_s);
        assert!(end >= to - HALF_A_MARK_S, "{told}: {line:?} until {to}");
        let goes_on = |other: &&&Cue| other.doing.name == cue.doing.name;
        if part.iter().filter(goes_on).count() == 1 {
            assert!(
                (f64::from(line.from_s) - from).abs() <= HALF_A_MARK_S,
                "{told}: {line:?}"
            );
            assert!((end - to).abs() <= HALF_A_MARK_S + 1.0, "{told}: {line:?}");
        }
        if !cue.place.is_empty() {
            for text in [&list.place, &line.text] {
                if text.contains(&cue.place) {
                    place.clone_from(&cue.place);
                }
            }
            assert_eq!(place, cue.place, "{told}: the place of {line:?}");
        }
    }
}

/// The number of a row leads to a picture of that name with how it begins, its sentences and its easier way.
fn assert_pictures(
    list: &List,
    part: &[&Cue],
    pictures: &BTreeMap<u32, (String, String)>,
    told: &str,
) {
    for cue in part.iter().filter(|cue| cue.doing.what.is_some()) {
        let doing = &cue.doing;
        let shows = |line: &&Line| {
            let picture = line.picture.and_then(|number| pictures.get(&number));
            line.text.contains(&doing.name)
                && picture.is_some_and(|(name, text)| {
                    let own = doing.what != cue.easier.what;
                    *name == doing.name
                        && text.contains(&doing.set_up)
                        && text.contains(&doing.tempo)
                        && text.contains(&doing.care)
                        && doing.lines.iter().all(|line| text.contains(line))
                        && (!own || text.contains(&cue.easier.care))
                })
        };
        assert!(
            list.lines.iter().any(|line| shows(&line)),
            "{told}: {doing:?}"
        );
    }
}

struct Desk {
    service: Service,
    exercises: Exercises,
    words: Words,
}

impl Desk {
    fn open() -> Self {
        Self {
            service: fixture::service(),
            exercises: formats::exercises().expect("the library is read"),
            words: formats::words("en-GB").expect("the words are read"),
        }
    }

    /// A page of an invented person; none where nothing is to be done at home.
    fn page_of(&self, seed: u64) -> Option<RunningOrder> {
        let mut case = random_case(seed);
        case.person.called = Some("Mrs Invented".to_owned());
        let choices = Choices {
            stage: 1 + (seed % 9) as u16,
            ..Choices::none()
        };
        let (plan, _) = plan_with(&case, &self.service, &self.exercises, RANDOM_DAY, &choices);
        let stage = plan.stages.last()?;
        let ask = Ask {
            case: &case,
            service: &self.service,
            limits: &plan.assessed.limits,
            bounds: DayBounds::of(&self.service),
            stage,
            exercises: &self.exercises,
            words: &self.words,
            letter: 'B',
            on: RANDOM_DAY,
            valid_until: None,
            approval: &Approval::Draft,
        };
        Some(running_order(&ask).unwrap_or_else(|refused| panic!("{seed}: {refused}")))
    }
}

#[test]
fn a_booklet_in_which_something_was_changed_is_found_out() {
    let order = fixture::order_of(&fixture::stage(2), &fixture::signed());
    let page = printed_pages(&order, Paper::A4, Ink::Grey);
    assert_reads(&page, &order, "as it is");
    let shorter = page.replacen(
        "<td class=\"long\">2 minutes",
        "<td class=\"long\">1 minute",
        1,
    );
    let again = page.replacen("<p class=\"again\">", "<p>", 1);
    let elsewhere = page.replacen("at the armchair", "at the sofa", 1);
    let elsewhere = elsewhere.replacen("At the armchair", "At the sofa", 1);
    let unheld = page.replace("Hold on with both hands.", "");
    let other = page.replacen("<b class=\"pic\">1<", "<b class=\"pic\">99<", 1);
    let changed = [
        ("a length", shorter),
        ("a round", again),
        ("a place", elsewhere),
        ("how it is begun", unheld),
        ("a number", other),
    ];
    for (what, changed) in changed {
        assert!(changed != page, "{what} is not there to be changed");
        let read = std::panic::catch_unwind(|| assert_reads(&changed, &order, what));
        assert!(read.is_err(), "{what} was changed and nothing was noticed");
    }
}

#[test]
fn law_what_is_read_off_the_paper_is_the_running_order_second_for_second() {
    let desk = Desk::open();
    let (mut printed, mut turns) = (0, 0);
    for seed in 0..PEOPLE {
        if let Some(order) = desk.page_of(seed) {
            assert_is_printed(&order, &format!("seed {seed}"));
            printed += 1;
            turns += usize::from(order.cues.iter().any(|cue| cue.turn.is_some()));
        }
    }
    assert!(
        printed >= 40 && turns >= 20,
        "{printed} booklets, {turns} with turns"
    );
}

/// A session with rounds that differ, lengths that no clock shows, and things that go on or come again.
fn invented_session(seed: u64) -> Stage {
    let mut draw = Draw::new(seed);
    let mut stage = fixture::stage(1 + (seed % 3) as u8);
    stage.segments.retain(|one| {
        let needed = one.round <= 1 && one.phase == Phase::Conditioning;
        needed || draw.chance(0.8)
    });
    if draw.chance(0.3) {
        let until = stage.segments.len();
        for i in (1..until).rev() {
            if stage.segments[i].phase == stage.segments[i - 1].phase && draw.chance(0.3) {
                let again = stage.segments[i].clone();
                stage.segments.insert(i, again);
            }
        }
    }
    for segment in &mut stage.segments {
        if draw.chance(0.5) {
            segment.duration_ms = draw.whole(8_000, 200_000) as u32;
        }
    }
    stage
}

#[test]
fn law_no_session_however_odd_is_printed_otherwise_than_it_is() {
    let mut again = 0;
    for seed in 0..SESSIONS {
        let order = fixture::order_of(&invented_session(seed), &fixture::signed());
        again += order
            .parts
            .iter()
            .filter(|part| part.again.is_some())
            .count();
        assert_is_printed(&order, &format!("session {seed}"));
    }
    for rounds in 1..=3 {
        let order = fixture::order_of(&fixture::stage(rounds), &fixture::signed());
        again += order
            .parts
            .iter()
            .filter(|part| part.again.is_some())
            .count();
        assert_is_printed(&order, &format!("{rounds} rounds"));
    }
    assert!(
        again >= 3,
        "rounds that come once more are among them: {again}"
    );
}
