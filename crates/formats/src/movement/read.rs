//! From a checked tree to the movements of one exercise, each derived from the one it is like.

use super::shape::MOVEMENT;
use super::words::SeenFrom;
use super::{Figure, pose, room};
use crate::Problems;
use crate::shape::{Sink, View, check};
use crate::tree;
use motion::held::Held;
use motion::key::Key;
use motion::movement::Movement;
use motion::room::Room;

/// For whom furniture stands right unless a file says otherwise.
const STATURES_M: (f64, f64) = (1.56, 1.68);

/// What a movement may be derived from: those of other files.
pub(super) type Others<'a> = &'a dyn Fn(&str, &str) -> Option<Figure>;

pub(super) fn parse(text: &str, file: &str, others: Others<'_>) -> Result<Vec<Figure>, Problems> {
    let node = tree::read(file, text.as_bytes())?;
    let mut sink = Sink::new(file);
    check(&node, &MOVEMENT, &mut sink);
    let view = View::of(&node, &MOVEMENT).filter(|_| sink.is_clean());
    let figures = view.and_then(|view| figures(&view, others, &mut sink));
    sink.finish(figures)
}

fn figures(view: &View<'_>, others: Others<'_>, sink: &mut Sink) -> Option<Vec<Figure>> {
    let exercise = view.text("id")?;
    let seen_from = view.word("seen_from").unwrap_or(SeenFrom::Side);
    let mut done: Vec<Figure> = Vec::new();
    for one in view.tables("movement") {
        let variant = one.text("variant")?;
        if done.iter().any(|figure| figure.variant == variant) {
            let message = format!("the variant '{variant}' moves twice; give one another name");
            sink.say(&one.place("variant"), one.line_of("variant"), message);
        }
        let own = Figure {
            exercise: exercise.clone(),
            variant,
            seen_from,
            repetitions: 1,
            statures_m: STATURES_M,
            movement: Movement {
                room: Room::EMPTY,
                keys: Vec::new(),
                alternates: false,
                held: Held::NOTHING,
            },
        };
        let like = one.text("like");
        let begun = match &like {
            None => own,
            Some(like) => {
                let found = match like.split_once('/') {
                    Some((exercise, variant)) => others(exercise, variant),
                    None => done.iter().find(|figure| figure.variant == *like).cloned(),
                };
                let Some(found) = found else {
                    let message = format!(
                        "'{like}' is not there to be like; name a variant above in this file, or exercise/variant of another one"
                    );
                    sink.say(&one.place("like"), one.line_of("like"), message);
                    continue;
                };
                Figure {
                    exercise: own.exercise,
                    variant: own.variant,
                    ..found
                }
            }
        };
        done.push(changed(&one, begun, like.is_some(), sink));
    }
    Some(done)
}

/// A movement with what its table says.
fn changed(view: &View<'_>, mut figure: Figure, derived: bool, sink: &mut Sink) -> Figure {
    let movement = &mut figure.movement;
    if view.flag("bare") == Some(true) {
        movement.room = Room::EMPTY;
        movement.held = Held::NOTHING;
    }
    if let Some(table) = view.table("room") {
        room::lay(&table, &mut movement.room);
    }
    if let Some(table) = view.table("held") {
        room::hold(&table, &mut movement.held);
    }
    movement.alternates = view.flag("alternates").unwrap_or(movement.alternates);
    if derived {
        change_keys(view, &mut movement.keys, sink);
    } else {
        movement.keys = own_keys(view, sink);
    }
    if let Some(range) = view.number("range") {
        *movement = movement.scaled(range);
    }
    if let Some(every) = view.table("every") {
        for key in &mut movement.keys {
            pose::lay(&every, key, sink);
        }
    }
    figure.seen_from = view.word("seen_from").unwrap_or(figure.seen_from);
    figure.repetitions = view.whole("repetitions").unwrap_or(figure.repetitions);
    if let Some((low_cm, high_cm)) = view.band("statures_cm") {
        figure.statures_m = (low_cm / 100.0, high_cm / 100.0);
    }
    figure
}

fn own_keys(view: &View<'_>, sink: &mut Sink) -> Vec<Key> {
    let mut start = pose::standing();
    if let Some(table) = view.table("start") {
        pose::lay(&table, &mut start, sink);
    }
    let poses = view.tables("pose");
    if poses.is_empty() {
        let message = "it is like no other and has no key poses; add 'pose', or 'like'";
        sink.say(&view.place("variant"), view.line_of("variant"), message);
    }
    let laid = |table: &View<'_>| {
        let mut key = start;
        pose::lay(table, &mut key, sink);
        key
    };
    poses.iter().map(laid).collect()
}

fn change_keys(view: &View<'_>, keys: &mut [Key], sink: &mut Sink) {
    if view.has("start") {
        let message = "a movement that is like another one has its start from there; write 'every' for what changes in every key pose";
        sink.say(&view.place("start"), view.line_of("start"), message);
    }
    let poses = view.tables("pose");
    if poses.len() > keys.len() {
        let message = format!(
            "it has {} changes for {} key poses; take away what is too many",
            poses.len(),
            keys.len()
        );
        sink.say(&view.place("pose"), view.line_of("pose"), message);
    }
    for (key, table) in keys.iter_mut().zip(&poses) {
        pose::lay(table, key, sink);
    }
}
