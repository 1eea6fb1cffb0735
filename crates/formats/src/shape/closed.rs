//! The domain's closed lists of words, as one trait, so that a table of keys can name any of them.

/// A closed list of words of the domain.
pub trait ClosedWord: Copy + 'static {
    /// What the list is of.
    const LIST: &'static str;
    /// Every word.
    fn all() -> &'static [Self];
    /// The word as written in files.
    fn word(self) -> &'static str;

    /// Reads a word.
    fn read(text: &str) -> Option<Self> {
        Self::all().iter().copied().find(|one| one.word() == text)
    }
}

/// A closed list named in a table of keys.
#[derive(Clone, Copy, Debug)]
pub struct Words {
    /// What the list is of.
    pub list: &'static str,
    /// Every word, in order.
    pub all: fn() -> Vec<&'static str>,
}

/// The list of a type.
pub const fn words_of<T: ClosedWord>() -> Words {
    Words {
        list: T::LIST,
        all: all_words::<T>,
    }
}

fn all_words<T: ClosedWord>() -> Vec<&'static str> {
    T::all().iter().map(|one| one.word()).collect()
}

macro_rules! closed {
    ($($kind:ty),+ $(,)?) => {
        $(impl ClosedWord for $kind {
            const LIST: &'static str = Self::LIST;

            fn all() -> &'static [Self] {
                Self::ALL
            }

            fn word(self) -> &'static str {
                // The type's own function of this name, not the trait's: the first takes precedence.
                <$kind>::word(self)
            }
        })+
    };
}

closed! {
    rehab::assessment::EffortScale,
    rehab::assessment::EventKind,
    rehab::assessment::ExaminationSymptom,
    rehab::assessment::ExerciseTestSymptom,
    rehab::assessment::HistoryItem,
    rehab::assessment::Joint,
    rehab::assessment::PacingMode,
    rehab::assessment::PlaceKind,
    rehab::assessment::PressureResponse,
    rehab::assessment::ProcedureKind,
    rehab::assessment::Prop,
    rehab::assessment::Rhythm,
    rehab::assessment::Screen,
    rehab::assessment::Sex,
    rehab::assessment::StatusKind,
    rehab::assessment::Support,
    rehab::assessment::Technique,
    rehab::assessment::TestPlace,
    rehab::assessment::WalkingAid,
    rehab::course::Channel,
    rehab::course::Towards,
    rehab::diary::PulseMethod,
    rehab::diary::SymptomKind,
    rehab::evidence::Tag,
    rehab::programme::ArmHeight,
    rehab::programme::CostGrade,
    rehab::programme::ExerciseKind,
    rehab::programme::MuscleGroup,
    rehab::programme::Phase,
    rehab::programme::Posture,
    rehab::programme::RestrictionEffect,
    rehab::programme::RestrictionReason,
    rehab::programme::SegmentKind,
    rehab::programme::composer::Class,
    rehab::programme::composer::Repeats,
    rehab::review::Action,
    rehab::review::ContactKind,
    rehab::service::HomeConsequence,
    rehab::service::HrMaxPolicy,
    rehab::service::ScreeningSet,
    rehab::service::WeightGainRule,
}
