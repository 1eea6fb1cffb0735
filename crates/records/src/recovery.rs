//! The recovery sheet: a secret text that is printed once, kept in a safe place and opens the record without a passphrase.

use std::fmt;

use zeroize::Zeroizing;

use crate::digest::Digest;
use crate::error::Error;
use crate::seal::random_bytes;

/// Digits and capitals without I, L, O and U: nothing that looks like something else in print.
const SYMBOLS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// Symbols that carry the secret: 26 of 5 bits are 130 bits.
const SECRET_SYMBOLS: usize = 26;
/// Symbols that catch typing errors: the first finds every single wrong symbol, the others anything else but one in 32,768.
const CHECK_SYMBOLS: usize = 4;
const GROUP: usize = 5;

/// The text of a recovery sheet; it is made once and stored nowhere, only the data key wrapped by it is.
pub struct RecoverySheet(Zeroizing<String>);

impl RecoverySheet {
    /// A new random secret.
    pub(crate) fn random() -> Result<RecoverySheet, Error> {
        let bytes: Zeroizing<[u8; SECRET_SYMBOLS]> = Zeroizing::new(random_bytes()?);
        // 256 is a multiple of 32, so that every symbol is equally likely.
        let mut text: Zeroizing<String> = Zeroizing::new(
            bytes
                .iter()
                .map(|byte| char::from(SYMBOLS[usize::from(byte % 32)]))
                .collect(),
        );
        let check = check_of(&text);
        text.push_str(&check);
        Ok(RecoverySheet(text))
    }

    /// Reads what somebody typed from the sheet: small letters, blanks and hyphens do not matter, and the letters that
    /// are easily mistaken for digits count as them.
    pub fn parse(typed: &str) -> Result<RecoverySheet, Error> {
        let mut text = Zeroizing::new(String::with_capacity(SECRET_SYMBOLS + CHECK_SYMBOLS));
        for symbol in typed.chars().filter(|symbol| {
            !symbol.is_whitespace() && !matches!(symbol, '-' | '\u{2010}'..='\u{2015}')
        }) {
            let symbol = match symbol.to_ascii_uppercase() {
                'O' => '0',
                'I' | 'L' => '1',
                'U' => 'V',
                other => other,
            };
            if !symbol.is_ascii() || !SYMBOLS.contains(&(symbol as u8)) {
                return Err(Error::RecoveryMistyped {
                    hint: "only digits and letters stand on the sheet",
                });
            }
            if text.len() == SECRET_SYMBOLS + CHECK_SYMBOLS {
                return Err(Error::RecoveryMistyped {
                    hint: "there are more than 30 characters",
                });
            }
            text.push(symbol);
        }
        if text.len() < SECRET_SYMBOLS + CHECK_SYMBOLS {
            return Err(Error::RecoveryMistyped {
                hint: "there are fewer than 30 characters",
            });
        }
        if check_of(&text[..SECRET_SYMBOLS]) != text[SECRET_SYMBOLS..] {
            return Err(Error::RecoveryMistyped {
                hint: "one or more characters are wrong",
            });
        }
        Ok(RecoverySheet(text))
    }

    /// The text to print: six groups of five, each to be compared on its own.
    pub fn to_text(&self) -> Zeroizing<String> {
        let mut text = Zeroizing::new(String::with_capacity(self.0.len() + self.0.len() / GROUP));
        for (at, symbol) in self.0.chars().enumerate() {
            if at > 0 && at % GROUP == 0 {
                text.push('-');
            }
            text.push(symbol);
        }
        text
    }

    /// The secret that wraps the data key.
    pub(crate) fn as_bytes(&self) -> &[u8] {
        self.0.as_bytes()
    }
}

impl fmt::Debug for RecoverySheet {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("RecoverySheet(secret)")
    }
}

fn check_of(secret: &str) -> String {
    let value = |symbol: u8| {
        SYMBOLS
            .iter()
            .position(|known| *known == symbol)
            .unwrap_or(0)
    };
    let parity = secret
        .bytes()
        .fold(0, |parity, symbol| parity ^ value(symbol));
    let digest = Digest::of(format!("hearthpace recovery check 1 {secret}").as_bytes());
    let others = digest
        .as_bytes()
        .iter()
        .take(CHECK_SYMBOLS - 1)
        .map(|byte| usize::from(byte % 32));
    std::iter::once(parity)
        .chain(others)
        .map(|index| char::from(SYMBOLS[index]))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_printed_text_is_read_again_however_it_is_typed() {
        let sheet = RecoverySheet::random().unwrap();
        let printed = sheet.to_text();
        assert_eq!(printed.len(), 35);
        let lower = printed.to_lowercase();
        let mistaken = printed
            .replace('0', "o")
            .replace('1', "l")
            .replace('-', " ");
        for typed in [
            printed.as_str(),
            &lower,
            &mistaken,
            &format!("  {} \n", printed.replace('-', "")),
        ] {
            assert_eq!(
                RecoverySheet::parse(typed).unwrap().as_bytes(),
                sheet.as_bytes(),
                "{typed}"
            );
        }
    }

    #[test]
    fn errors_of_typing_are_named() {
        let printed = RecoverySheet::random().unwrap().to_text().to_string();
        let hint = |typed: &str| RecoverySheet::parse(typed).unwrap_err().to_string();
        assert!(hint(&printed[..34]).contains("fewer than 30"));
        assert!(hint(&format!("{printed}A")).contains("more than 30"));
        assert!(hint(&printed.replacen('-', "?", 1)).contains("only digits and letters"));
        assert!(hint("").contains("fewer than 30"));
        assert!(hint(&printed.replacen('-', "é", 1)).contains("only digits and letters"));
    }

    proptest! {
        #[test]
        fn law_one_wrong_symbol_is_noticed(at in 0usize..30, step in 1usize..32) {
            let sheet = RecoverySheet::random().unwrap();
            let mut typed = sheet.as_bytes().to_vec();
            let index = SYMBOLS.iter().position(|symbol| *symbol == typed[at]).unwrap();
            typed[at] = SYMBOLS[(index + step) % 32];
            let typed = String::from_utf8(typed).unwrap();
            prop_assert!(RecoverySheet::parse(&typed).is_err());
        }

        #[test]
        fn law_hostile_text_never_panics(typed in ".{0,80}") {
            let _ = RecoverySheet::parse(&typed);
        }
    }
}
