//! Keys of the home and the wishes.

use crate::shape::{Count, Field, Kind, LONG, SHORT, Shape, words_of};
use rehab::assessment::{PlaceKind, Prop, Screen};

pub(super) static HOME: Shape = Shape {
    name: "home",
    about: "The home.",
    fields: &[
        Field::new(
            "alone_when_exercising",
            Kind::Flag,
            "whether the person is alone when exercising",
        ),
        Field::new("telephone", Kind::Flag, "whether there is a telephone"),
        Field::new(
            "screen",
            Kind::List(
                &Kind::Word(words_of::<Screen>()),
                Count::up_to(40).each_once(),
            ),
            "screens at hand",
        ),
        Field::new(
            "place",
            Kind::List(&Kind::Table(&PLACE), Count::up_to(40)),
            "places in the order of the walk",
        ),
        Field::new(
            "props",
            Kind::List(
                &Kind::Word(words_of::<Prop>()),
                Count::up_to(40).each_once(),
            ),
            "things at hand besides weights",
        ),
    ],
    choice: None,
};

static PLACE: Shape = Shape {
    name: "place",
    about: "One place: a stop of the walk.",
    fields: &[
        Field::needed("name", Kind::Text(SHORT), "the person's own name for it"),
        Field::needed("kind", Kind::Word(words_of::<PlaceKind>()), "what it is"),
        Field::new("seat_cm", Kind::Bound("seat_cm"), "height of the seat"),
        Field::new("arms", Kind::Flag, "whether the chair has arms"),
        Field::new("height_cm", Kind::Bound("step_cm"), "height of the step"),
        Field::new("rail", Kind::Flag, "whether there is a rail"),
        Field::new(
            "metres_to_next",
            Kind::Bound("metres_to_next"),
            "way to the next place of the list",
        ),
    ],
    choice: None,
};

pub(super) static WISHES: Shape = Shape {
    name: "wishes",
    about: "What the person wants and has.",
    fields: &[
        Field::new(
            "likes",
            Kind::List(&Kind::Text(SHORT), Count::up_to(40)),
            "exercises or families of them that are liked",
        ),
        Field::new(
            "dislikes",
            Kind::List(&Kind::Text(SHORT), Count::up_to(40)),
            "exercises or families of them that are disliked",
        ),
        Field::new(
            "sessions_per_week",
            Kind::WholeBound("sessions_per_week"),
            "sessions a week that suit",
        ),
        Field::new(
            "weights_g",
            Kind::List(&Kind::Bound("weight_g"), Count::up_to(40)),
            "weights at hand, each piece",
        ),
        Field::new("goal", Kind::Text(LONG), "the person's own goal"),
        Field::new(
            "pulse_counting",
            Kind::Flag,
            "can and wants to count the pulse",
        ),
    ],
    choice: None,
};
