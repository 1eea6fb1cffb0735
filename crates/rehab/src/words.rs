//! Closed lists of words: the enums whose written form stands in files and on screens.

/// A word that is not in the closed list it was looked up in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnknownWord {
    /// The word as it was given.
    pub given: String,
    /// What the list is of, for the message.
    pub list: &'static str,
    /// Every word of the list.
    pub known: Vec<&'static str>,
}

impl core::fmt::Display for UnknownWord {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(
            f,
            "'{}' is not a known {}; known are {}",
            self.given,
            self.list,
            self.known.join(", ")
        )
    }
}

impl core::error::Error for UnknownWord {}

/// Declares an enum whose variants each have one written word.
macro_rules! closed_words {
    ($(#[$meta:meta])* $name:ident as $list:literal { $( $variant:ident = $word:literal ),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name {
            $( #[doc = concat!("`", $word, "`.")] $variant ),+
        }

        impl $name {
            /// Every word of the list, in order.
            pub const ALL: &'static [Self] = &[ $( Self::$variant ),+ ];
            /// What the list is of, for messages.
            pub const LIST: &'static str = $list;

            /// The word as written in files.
            pub const fn word(self) -> &'static str {
                match self { $( Self::$variant => $word ),+ }
            }

            /// Reads the word as written in files.
            ///
            /// # Errors
            /// [`UnknownWord`](crate::UnknownWord) when it is not in the list.
            pub fn parse(text: &str) -> Result<Self, crate::UnknownWord> {
                match text {
                    $( $word => Ok(Self::$variant), )+
                    _ => Err(crate::UnknownWord {
                        given: text.to_owned(),
                        list: $list,
                        known: Self::ALL.iter().map(|one| one.word()).collect(),
                    }),
                }
            }
        }

        impl core::fmt::Display for $name {
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                f.write_str(self.word())
            }
        }
    };
}
