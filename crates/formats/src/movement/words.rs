//! The closed lists of words of a movement file.

use crate::shape::ClosedWord;

macro_rules! closed_list {
    ($(#[$meta:meta])* $vis:vis $name:ident, $list:literal { $($item:ident = $word:literal,)* }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        $vis enum $name { $(#[doc = $word] $item,)* }

        impl ClosedWord for $name {
            const LIST: &'static str = $list;

            fn all() -> &'static [Self] {
                &[$(Self::$item,)*]
            }

            fn word(self) -> &'static str {
                match self { $(Self::$item => $word,)* }
            }
        }
    };
}

closed_list!(
    /// From where a movement is best seen.
    pub SeenFrom, "view" {
        Side = "side",
        Front = "front",
    }
);

closed_list!(
    /// What bears a foot.
    pub(super) Ground, "ground" {
        Floor = "floor",
        Step = "step",
        Air = "air",
    }
);

closed_list!(
    /// What a hand lies on.
    pub(super) LiesOn, "hold" {
        ChairBack = "chair-back",
        Worktop = "worktop",
        Seat = "seat",
        ArmRest = "arm-rest",
        Wall = "wall",
        Rail = "rail",
        Stick = "walking-stick",
        Thigh = "thigh",
        Belly = "belly",
        Hip = "hip",
        OtherShoulder = "other-shoulder",
        OtherArm = "other-arm",
    }
);

closed_list!(
    /// What is held beside the person.
    pub(super) Beside, "thing to hold" {
        Rail = "rail",
        Chair = "chair",
        Worktop = "worktop",
        Wall = "wall",
    }
);

closed_list!(
    /// What a band goes round.
    pub(super) BandRound, "way of a band" {
        Nothing = "nothing",
        Back = "back",
        Feet = "feet",
    }
);
