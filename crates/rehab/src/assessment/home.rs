//! The home with its places, and what the person wants and has.

closed_words!(
    /// Kind of place in a home.
    PlaceKind as "place" {
        Chair = "chair",
        Worktop = "worktop",
        Wall = "wall",
        Step = "step",
        Stairs = "stairs",
        Path = "path",
        Floor = "floor",
        Outdoors = "outdoors",
    }
);

closed_words!(
    /// A thing in the hand or near it.
    Prop as "thing" { Weights = "weights", Band = "band", Stick = "stick", Towel = "towel" }
);

closed_words!(
    /// A screen in the home.
    Screen as "screen" { Television = "television", Phone = "phone", Tablet = "tablet", Computer = "computer" }
);

/// One place: a stop of the walk.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// The person's own name for it ("armchair").
    pub name: String,
    /// What it is.
    pub kind: PlaceKind,
    /// Height of the seat in cm.
    pub seat_cm: Option<f64>,
    /// Whether the chair has arms.
    pub arms: Option<bool>,
    /// Height of the step in cm.
    pub height_cm: Option<f64>,
    /// Whether there is a rail.
    pub rail: Option<bool>,
    /// Metres to the next place of the list.
    pub metres_to_next: Option<f64>,
}

/// The home.
#[derive(Clone, Debug, PartialEq)]
pub struct Home {
    /// Whether the person is alone when exercising.
    pub alone_when_exercising: Option<bool>,
    /// Whether there is a telephone.
    pub telephone: Option<bool>,
    /// Screens at hand.
    pub screens: Vec<Screen>,
    /// Places in the order of the walk.
    pub places: Vec<Place>,
    /// Things at hand besides weights.
    pub props: Vec<Prop>,
}

impl Home {
    /// Nothing known.
    pub const fn unknown() -> Self {
        Self {
            alone_when_exercising: None,
            telephone: None,
            screens: Vec::new(),
            places: Vec::new(),
            props: Vec::new(),
        }
    }
}

/// What the person wants and has.
#[derive(Clone, Debug, PartialEq)]
pub struct Wishes {
    /// Exercise ids or families ("walking") that are liked.
    pub likes: Vec<String>,
    /// Exercise ids or families that are disliked.
    pub dislikes: Vec<String>,
    /// Sessions a week that suit.
    pub sessions_per_week: Option<u8>,
    /// Weights at hand in grams, each piece (two tins are two).
    pub weights_g: Vec<f64>,
    /// The person's own goal.
    pub goal: Option<String>,
    /// Can and wants to count the pulse.
    pub pulse_counting: Option<bool>,
}

impl Wishes {
    /// Nothing asked.
    pub const fn unasked() -> Self {
        Self {
            likes: Vec::new(),
            dislikes: Vec::new(),
            sessions_per_week: None,
            weights_g: Vec::new(),
            goal: None,
            pulse_counting: None,
        }
    }
}
