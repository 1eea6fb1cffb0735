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
    ($($module:ident :: { $($name:ident),+ $(,)? })+) => {
        $($(impl ClosedWord for rehab::$module::$name {
            const LIST: &'static str = Self::LIST;

            fn all() -> &'static [Self] {
                Self::ALL
            }

            fn word(self) -> &'static str {
                rehab::$module::$name::word(self)
            }
        })+)+
    };
}

closed! {
    assessment::{
        EffortScale, EventKind, ExaminationSymptom, ExerciseTestSymptom, HistoryItem, Joint, PacingMode, PlaceKind,
        PressureResponse, ProcedureKind, Prop, Rhythm, Screen, Sex, StatusKind, Support, Technique, TestPlace,
        WalkingAid,
    }
    course::{Channel, Towards}
    diary::{PulseMethod, SymptomKind}
    evidence::{Tag}
    programme::{
        ArmHeight, CostGrade, ExerciseKind, MuscleGroup, Phase, Posture, RestrictionEffect, RestrictionReason, SegmentKind,
    }
    review::{Action, ContactKind}
    service::{HomeConsequence, HrMaxPolicy, ScreeningSet}
}
