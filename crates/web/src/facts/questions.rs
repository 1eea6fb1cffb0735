//! What a file left to be asked when a case came in: kept with the case as notes, open until somebody writes the answer.

use jiff::civil::Date;

/// How the note of a question begins.
const ASKED: &str = "Asked when the case came in: ";
/// How the note of its answer begins; the question follows, then this mark, then the answer.
const ANSWERED: &str = "Answered: ";
const MARK: &str = " | ";

/// The note that keeps a question open.
pub(crate) fn asked(question: &str) -> String {
    format!("{ASKED}{question}")
}

/// The note that answers it.
pub(crate) fn answered(question: &str, answer: &str) -> String {
    format!("{ANSWERED}{question}{MARK}{answer}")
}

/// The questions that nobody has answered yet, in the order in which they were asked.
pub(crate) fn open(notes: &[(Date, String)]) -> Vec<&str> {
    let is_answered = |question: &str| {
        notes.iter().any(|(_, note)| {
            note.strip_prefix(ANSWERED)
                .and_then(|rest| rest.strip_prefix(question))
                .is_some_and(|rest| rest.starts_with(MARK))
        })
    };
    let asked = notes
        .iter()
        .filter_map(|(_, note)| note.strip_prefix(ASKED));
    asked.filter(|question| !is_answered(question)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_question_is_open_until_its_own_answer_is_written() {
        let notes = |texts: &[String]| -> Vec<(Date, String)> {
            let day = date(2026, 11, 25);
            texts.iter().map(|text| (day, text.clone())).collect()
        };
        let (first, second) = ("allergy to nitrates", "allergy to nitrates, and more");
        let asked_both = notes(&[asked(first), "a note".to_owned(), asked(second)]);
        assert_eq!(open(&asked_both), [first, second]);
        let one = notes(&[asked(first), asked(second), answered(second, "none")]);
        assert_eq!(open(&one), [first]);
        let both = notes(&[
            asked(first),
            answered(first, "x"),
            asked(second),
            answered(second, "y"),
        ]);
        assert!(open(&both).is_empty());
    }
}
