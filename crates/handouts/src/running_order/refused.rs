//! Why no running order is made: always with what to do next.

/// What is missing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OrderRefused {
    /// The service gives no emergency number and text.
    NoEmergency,
    /// The service does not say how its team is reached.
    NoContact,
    /// It is not known how the person is called.
    NoName,
    /// The rung has no parts.
    Empty,
    /// An exercise has no words in this language.
    NoWords {
        /// Exercise.
        exercise: String,
        /// Variant.
        variant: String,
        /// Language tag.
        language: String,
    },
    /// A rung names an exercise that the exercise data does not hold.
    UnknownExercise {
        /// Exercise.
        exercise: String,
        /// Variant.
        variant: String,
    },
}

impl core::fmt::Display for OrderRefused {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::NoEmergency => f.write_str(
                "no page is made without the service's emergency number and text; write them under emergency in the service file",
            ),
            Self::NoContact => f.write_str(
                "no page is made without the team's name and telephone; write them under contact in the service file",
            ),
            Self::NoName => f.write_str(
                "no page is made for nobody; write the person's name, and how they want to be called",
            ),
            Self::Empty => f.write_str("this page has nothing to do on it; see the reasons under programme"),
            Self::NoWords { exercise, variant, language } => write!(
                f,
                "{exercise}/{variant} has no words in {language}; write them under data/words/{language}/exercises, or swap the exercise"
            ),
            Self::UnknownExercise { exercise, variant } => write!(
                f,
                "{exercise}/{variant} is not among the exercises; the plan was made with other data, so make it anew"
            ),
        }
    }
}

impl core::error::Error for OrderRefused {}
