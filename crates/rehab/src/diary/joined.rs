//! Two tellings of one session as one: a file that came later may add to what is known, and never changes it.

use super::{DiaryEntry, DiarySymptom, JointPain};

impl DiaryEntry {
    /// The entry with what a later telling adds; `None` where the two contradict each other, so that a person has to ask.
    ///
    /// A sign that only one of them tells is kept, even where the other says that nothing was felt.
    pub fn joined(&self, later: &Self) -> Option<Self> {
        if self.id != later.id || self.date != later.date {
            return None;
        }
        Some(Self {
            id: self.id.clone(),
            date: self.date,
            stage: one_of(self.stage, later.stage)?,
            stations_planned: one_of(self.stations_planned, later.stations_planned)?,
            stations_done: one_of(self.stations_done, later.stations_done)?,
            effort: one_of(self.effort, later.effort)?,
            symptoms: symptoms(self.symptoms.as_deref(), later.symptoms.as_deref())?,
            pulses: all_of(&self.pulses, &later.pulses, |a, b| a.at == b.at)?,
            joint_pain: joint(self.joint_pain, later.joint_pain)?,
            eased: all_of(&self.eased, &later.eased, |a, b| a == b)?,
            rested_s: one_of(self.rested_s, later.rested_s)?,
            stopped_because: one_of(self.stopped_because.clone(), later.stopped_because.clone())?,
            medicine_change: one_of(self.medicine_change.clone(), later.medicine_change.clone())?,
            weight_kg: one_of(self.weight_kg, later.weight_kg)?,
            pressure: one_of(self.pressure, later.pressure)?,
            minutes: one_of(self.minutes, later.minutes)?,
            note: one_of(self.note.clone(), later.note.clone())?,
        })
    }
}

/// What is told, by whichever tells it; `None` where two things are told.
fn one_of<T: PartialEq>(known: Option<T>, later: Option<T>) -> Option<Option<T>> {
    match (known, later) {
        (Some(known), Some(later)) if known != later => None,
        (known, later) => Some(known.or(later)),
    }
}

/// Everything that either lists; `None` where two that speak of the same differ.
fn all_of<T: Clone + PartialEq>(
    known: &[T],
    later: &[T],
    is_same: impl Fn(&T, &T) -> bool,
) -> Option<Vec<T>> {
    let mut all = known.to_vec();
    for one in later {
        match known.iter().find(|other| is_same(other, one)) {
            Some(other) if other != one => return None,
            Some(_) => {}
            None => all.push(one.clone()),
        }
    }
    Some(all)
}

fn symptoms(
    known: Option<&[DiarySymptom]>,
    later: Option<&[DiarySymptom]>,
) -> Option<Option<Vec<DiarySymptom>>> {
    let (Some(known), Some(later)) = (known, later) else {
        return Some(known.or(later).map(<[DiarySymptom]>::to_vec));
    };
    let mut all = known.to_vec();
    for one in later {
        match all.iter_mut().find(|other| other.kind == one.kind) {
            Some(other) => *other = symptom(other, one)?,
            None => all.push(one.clone()),
        }
    }
    Some(Some(all))
}

fn symptom(known: &DiarySymptom, later: &DiarySymptom) -> Option<DiarySymptom> {
    Some(DiarySymptom {
        kind: known.kind,
        // As usual only where both say so: what was not said before is not made milder by a later telling.
        usual: match (known.usual, later.usual) {
            (None, Some(true)) | (Some(true), None) => None,
            (known, later) => one_of(known, later)?,
        },
        score: one_of(known.score, later.score)?,
        nitrate_used: one_of(known.nitrate_used, later.nitrate_used)?,
    })
}

fn joint(known: Option<JointPain>, later: Option<JointPain>) -> Option<Option<JointPain>> {
    let (Some(known), Some(later)) = (known, later) else {
        return Some(known.or(later));
    };
    Some(Some(JointPain {
        during: one_of(known.during, later.during)?,
        worse_next_morning: one_of(known.worse_next_morning, later.worse_next_morning)?,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diary::{Pulse, PulseMoment, SymptomKind};
    use jiff::civil::date;

    fn entry() -> DiaryEntry {
        DiaryEntry {
            id: "s-1".to_owned(),
            date: date(2026, 11, 24),
            stage: Some(1),
            stations_planned: Some(10),
            stations_done: Some(10),
            effort: None,
            symptoms: Some(Vec::new()),
            pulses: Vec::new(),
            joint_pain: Some(JointPain {
                during: Some(3.0),
                worse_next_morning: None,
            }),
            eased: Vec::new(),
            rested_s: Some(0),
            stopped_because: None,
            medicine_change: None,
            weight_kg: None,
            pressure: None,
            minutes: Some(38.0),
            note: None,
        }
    }

    fn pulse(bpm: f64) -> Pulse {
        Pulse {
            at: PulseMoment::Before,
            bpm,
            how: None,
        }
    }

    fn felt() -> DiarySymptom {
        DiarySymptom {
            kind: SymptomKind::ChestDiscomfort,
            usual: None,
            score: None,
            nitrate_used: None,
        }
    }

    #[test]
    fn what_is_told_later_is_added_in_either_order() {
        let known = entry();
        let mut later = entry();
        later.joint_pain = Some(JointPain {
            during: Some(3.0),
            worse_next_morning: Some(true),
        });
        later.note = Some("The knee".to_owned());
        later.pulses = vec![pulse(62.0)];
        assert_eq!(known.joined(&later).as_ref(), Some(&later));
        assert_eq!(later.joined(&known).as_ref(), Some(&later));
        assert_eq!(later.joined(&later).as_ref(), Some(&later));
    }

    #[test]
    fn a_sign_told_later_is_never_lost_and_never_taken_back() {
        let known = entry();
        let mut later = entry();
        later.symptoms = Some(vec![felt()]);
        assert_eq!(known.joined(&later).unwrap().symptoms, later.symptoms);
        assert_eq!(later.joined(&known).unwrap().symptoms, later.symptoms);
    }

    #[test]
    fn a_later_telling_makes_no_sign_usual() {
        let told = |usual: Option<bool>| {
            let mut one = entry();
            one.symptoms = Some(vec![DiarySymptom { usual, ..felt() }]);
            one
        };
        for (known, later, joined) in [
            (None, Some(true), None),
            (Some(true), None, None),
            (None, Some(false), Some(false)),
            (Some(true), Some(true), Some(true)),
        ] {
            let both = told(known).joined(&told(later)).unwrap();
            assert_eq!(
                both.symptoms.unwrap()[0].usual,
                joined,
                "{known:?} {later:?}"
            );
        }
    }

    #[test]
    fn what_contradicts_is_not_joined() {
        type Change = fn(&mut DiaryEntry);
        let changes: [(&str, Change, Change); 5] = [
            ("minutes", |_| {}, |one| one.minutes = Some(20.0)),
            ("date", |_| {}, |one| one.date = date(2026, 11, 23)),
            (
                "pulse",
                |one| one.pulses = vec![pulse(62.0)],
                |one| one.pulses = vec![pulse(92.0)],
            ),
            (
                "usual",
                |one| {
                    one.symptoms = Some(vec![DiarySymptom {
                        usual: Some(true),
                        ..felt()
                    }]);
                },
                |one| {
                    one.symptoms = Some(vec![DiarySymptom {
                        usual: Some(false),
                        ..felt()
                    }]);
                },
            ),
            (
                "joint",
                |_| {},
                |one| {
                    one.joint_pain = Some(JointPain {
                        during: Some(6.0),
                        worse_next_morning: None,
                    });
                },
            ),
        ];
        for (name, of_known, of_later) in changes {
            let (mut known, mut later) = (entry(), entry());
            of_known(&mut known);
            of_later(&mut later);
            assert_eq!(known.joined(&later), None, "{name}");
        }
    }
}
