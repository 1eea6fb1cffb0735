//! What the record tells on one day: the shared facts that screening, risk, limits and adaptations all read.
//!
//! Only what was known on that day counts: examinations, tests, medicines and events dated later are not seen, so
//! that an old answer can be given again.

use crate::assessment::{
    Agreement, Answered, Case, Event, EventKind, Examination, ExaminationSymptom, ExerciseTest,
    ExerciseTestSymptom, HistoryItem, ProcedureKind, Test, TestResult,
};
use crate::diary::SymptomKind;
use crate::medicine::recognise_medicine;
use crate::service::Service;
use jiff::civil::Date;

/// ST depression from which it counts as ischaemia, in mm.
// Source: acsm-getp (recalled): 1 mm.
const ISCHAEMIC_ST_MM: f64 = 1.0;
/// Inotropes by their international names.
const INOTROPES: &[&str] = &["dobutamine", "milrinone", "levosimendan"];

/// The record on one day.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Known<'a> {
    /// The record.
    pub(crate) case: &'a Case,
    /// What the service sets.
    pub(crate) service: &'a Service,
    /// The day.
    pub(crate) on: Date,
}

impl<'a> Known<'a> {
    /// The record as it was known on a day.
    pub(crate) const fn new(case: &'a Case, service: &'a Service, on: Date) -> Self {
        Self { case, service, on }
    }

    /// Events up to the day; one without a date counts.
    pub(crate) fn events(&self) -> impl Iterator<Item = &'a Event> {
        let on = self.on;
        self.case
            .events
            .iter()
            .filter(move |event| event.date.is_none_or(|date| date <= on))
    }

    /// Day of the newest event or procedure, or of a shock of the device.
    pub(crate) fn newest_event(&self) -> Option<Date> {
        let procedures = self
            .events()
            .flat_map(|event| event.procedures.iter().map(|procedure| procedure.date));
        let shock = self.case.heart.device.and_then(|device| device.last_shock);
        self.events()
            .map(|event| event.date)
            .chain(procedures)
            .chain([shock])
            .flatten()
            .filter(|date| *date <= self.on)
            .max()
    }

    /// Examinations up to the day, newest first; of two on one day the one written later comes first.
    pub(crate) fn examinations(&self) -> Vec<&'a Examination> {
        let mut seen: Vec<&Examination> = self
            .case
            .examinations
            .iter()
            .filter(|one| one.date <= self.on)
            .collect();
        seen.sort_by_key(|one| one.date);
        seen.reverse();
        seen
    }

    /// The newest examination, whether it still counts or not, with what was taken or told alone since.
    pub(crate) fn examination(&self) -> Option<Examination> {
        let all = self.examinations();
        let at = all.iter().position(|one| one.examines())?;
        let mut newest = all[at].clone();
        for later in all[..at].iter().rev() {
            newest.add(later);
        }
        Some(newest)
    }

    /// Functional class as last recorded, with its day.
    pub(crate) fn nyha(&self) -> Option<(u8, Date)> {
        self.examinations()
            .into_iter()
            .find_map(|one| one.nyha.map(|class| (class, one.date)))
    }

    /// Weight in kg as last known.
    pub(crate) fn weight_kg(&self) -> Option<f64> {
        self.examinations()
            .into_iter()
            .find_map(|one| one.weight_kg)
            .or(self.case.person.weight_kg)
    }

    /// Resting rate as last recorded, with its day.
    pub(crate) fn resting_hr(&self) -> Option<(f64, Date)> {
        self.examinations()
            .into_iter()
            .find_map(|one| one.resting_hr_bpm.map(|bpm| (bpm, one.date)))
    }

    /// Whether the newest examination reports a symptom; `None` when symptoms were not asked.
    pub(crate) fn reports(&self, symptom: ExaminationSymptom) -> Option<bool> {
        let asked = self.examination()?.symptoms?;
        Some(asked.contains(&symptom))
    }

    /// Whether a symptom is written down as usual for this person.
    pub(crate) fn usual(&self, kind: SymptomKind) -> bool {
        self.case.usual_symptoms.iter().any(|one| one.kind == kind)
    }

    /// What is known of one item of the history, completed by what the rest of the record already says.
    pub(crate) fn answer(&self, item: HistoryItem) -> Answered {
        let written = self.case.history.answer(item);
        match (written, self.implied(item)) {
            (Answered::Present, _) | (_, Some(Answered::Present)) => Answered::Present,
            (Answered::NotKnown, Some(implied)) => implied,
            _ => written,
        }
    }

    /// Whether an item is present.
    pub(crate) fn has(&self, item: HistoryItem) -> bool {
        self.answer(item) == Answered::Present
    }

    /// What other parts of the record say about an item of the history.
    fn implied(&self, item: HistoryItem) -> Option<Answered> {
        use HistoryItem as Item;
        let written = |other: Item| self.case.history.answer(other);
        match item {
            Item::HeartFailure => self
                .had(EventKind::HeartFailure)
                .then_some(Answered::Present),
            Item::CardiacArrest => self
                .had(EventKind::CardiacArrest)
                .then_some(Answered::Present),
            Item::DecompensatedHeartFailure
                if self.answer(Item::HeartFailure) == Answered::Absent =>
            {
                Some(Answered::Absent)
            }
            Item::UncontrolledDiabetes if written(Item::Diabetes) == Answered::Absent => {
                Some(Answered::Absent)
            }
            Item::IschaemiaAtLowLoad if self.ischaemia_at_low_load() => Some(Answered::Present),
            Item::InotropeTherapy if self.takes_inotrope() => Some(Answered::Present),
            Item::UnpacedThirdDegreeBlock if self.case.heart.pacemaker.is_some() => {
                Some(Answered::Absent)
            }
            Item::SternumUnstable if self.breastbone_whole() => Some(Answered::Absent),
            Item::NewAtrialFibrillation if self.steady_sinus() => Some(Answered::Absent),
            Item::AcuteIllness => {
                let fever = self.reports(ExaminationSymptom::Fever)?;
                let unwell = self.reports(ExaminationSymptom::Unwell)?;
                (!fever && !unwell).then_some(Answered::Absent)
            }
            _ => None,
        }
    }

    /// Whether a coronary disease is known: by an event, a procedure, what is present, or a test that shows ischaemia.
    ///
    /// Absent only where every event is one before which the coronary arteries are looked at, and none of this stands
    /// beside it. Source: `service-ours`.
    pub(crate) fn coronary_disease(&self) -> Answered {
        use EventKind as Kind;
        let of_event = |event: &Event| {
            let by_kind = matches!(
                event.kind,
                Kind::MyocardialInfarction
                    | Kind::Angina
                    | Kind::BypassSurgery
                    | Kind::CoronaryDissection
            );
            let by_procedure = event
                .procedures
                .iter()
                .any(|one| matches!(one.kind, ProcedureKind::Stent | ProcedureKind::Bypass));
            by_kind || by_procedure || event.residual_disease == Some(true)
        };
        let items = [
            HistoryItem::UnstableAngina,
            HistoryItem::IschaemiaAtLowLoad,
            HistoryItem::PostEventIschaemia,
        ];
        let tests = self.exercise_tests();
        let present = self.events().any(of_event)
            || items.into_iter().any(|item| self.has(item))
            || tests.into_iter().any(|(_, test)| shows_ischaemia(test))
            || self.usual(SymptomKind::ChestDiscomfort);
        let looked_at = |event: &Event| {
            matches!(
                event.kind,
                Kind::ValveSurgery | Kind::CatheterValve | Kind::StressCardiomyopathy
            )
        };
        let mut events = self.events().peekable();
        if present {
            Answered::Present
        } else if events.peek().is_some() && events.all(looked_at) {
            Answered::Absent
        } else {
            Answered::NotKnown
        }
    }

    /// Whether an event of a kind is recorded.
    pub(crate) fn had(&self, kind: EventKind) -> bool {
        self.events().any(|event| event.kind == kind)
    }

    /// Whether an exercise test since the newest event shows ischaemia, and it came before 2 METs were reached.
    fn ischaemia_at_low_load(&self) -> bool {
        // Source: heart-fail-rev-2023, table 1: significant ischaemia at low load (under 2 METs).
        const LOW_LOAD_METS: f64 = 2.0;
        self.exercise_tests().into_iter().any(|(test, exercise)| {
            let angina = had_angina(exercise);
            let low = |mets: Option<f64>| mets.is_some_and(|mets| mets < LOW_LOAD_METS);
            let at_low_load = low(exercise.peak_mets) || (angina && low(exercise.symptom_mets));
            self.since_newest_event(test) && shows_ischaemia(exercise) && at_low_load
        })
    }

    /// Whether a medicine taken on the day strengthens the heart by drip.
    fn takes_inotrope(&self) -> bool {
        self.case
            .medicines
            .iter()
            .filter(|one| one.taken_on(self.on))
            .map(|one| recognise_medicine(one, &self.service.medicine_names))
            .any(|read| {
                read.substances
                    .iter()
                    .any(|one| INOTROPES.contains(&one.inn))
            })
    }

    /// Whether a device was implanted of which the record does not say what it is.
    pub(crate) fn device_unnamed(&self) -> bool {
        let heart = &self.case.heart;
        let named = heart.device.is_some()
            || heart.pacemaker.is_some()
            || self
                .events()
                .flat_map(|event| &event.procedures)
                .any(|one| matches!(one.kind, ProcedureKind::Icd | ProcedureKind::Pacemaker));
        self.had(EventKind::DeviceImplant) && !named
    }

    fn steady_sinus(&self) -> bool {
        self.case.heart.rhythm == Some(crate::assessment::Rhythm::Sinus)
            && self.examination().and_then(|one| one.pulse_regular) == Some(true)
    }

    /// Whether events are recorded and none of them opened the breastbone.
    fn breastbone_whole(&self) -> bool {
        self.events().next().is_some() && self.sternotomies().is_empty()
    }

    /// Days on which the breastbone was opened, as far as they are known; an entry without a date is `None`.
    pub(crate) fn sternotomies(&self) -> Vec<Option<Date>> {
        let mut days = Vec::new();
        for event in self.events() {
            let by_kind = matches!(
                event.kind,
                EventKind::BypassSurgery
                    | EventKind::ValveSurgery
                    | EventKind::Transplant
                    | EventKind::AneurysmRepair
            );
            let by_catheter = event.kind == EventKind::CatheterValve;
            let opened = |kind: ProcedureKind| match kind {
                ProcedureKind::Sternotomy | ProcedureKind::Bypass => true,
                ProcedureKind::Valve => !by_catheter,
                _ => false,
            };
            let by_procedure = event.procedures.iter().filter(|one| opened(one.kind));
            let mut found = false;
            for procedure in by_procedure {
                days.push(procedure.date.or(event.date));
                found = true;
            }
            if by_kind && !found {
                days.push(event.date);
            }
        }
        days
    }

    /// Tests up to the day, newest first; those without a date come last.
    pub(crate) fn tests(&self) -> Vec<&'a Test> {
        let mut seen: Vec<&Test> = self
            .case
            .tests
            .iter()
            .filter(|test| test.date.is_none_or(|date| date <= self.on))
            .collect();
        seen.sort_by_key(|test| test.date);
        seen.reverse();
        seen
    }

    /// Exercise tests up to the day, newest first, each with its record.
    pub(crate) fn exercise_tests(&self) -> Vec<(&'a Test, &'a ExerciseTest)> {
        self.tests()
            .into_iter()
            .filter_map(|test| match &test.result {
                TestResult::Exercise(exercise) => Some((test, exercise)),
                _ => None,
            })
            .collect()
    }

    /// Whether a test is dated and not from before the newest event: only such a test says how the person is now.
    pub(crate) fn since_newest_event(&self, test: &Test) -> bool {
        match (test.date, self.newest_event()) {
            (Some(date), Some(event)) => event <= date,
            (Some(_), None) => true,
            (None, _) => false,
        }
    }

    /// The doctor's agreement, when it is not from before the newest event.
    pub(crate) fn agreement(&self) -> Option<&'a Agreement> {
        let agreement = self.case.agreement.as_ref()?;
        let in_time = agreement.date <= self.on
            && self
                .newest_event()
                .is_none_or(|event| event <= agreement.date);
        in_time.then_some(agreement)
    }
}

fn had_angina(test: &ExerciseTest) -> bool {
    let symptoms = test.symptoms.as_ref();
    symptoms.is_some_and(|all| all.contains(&ExerciseTestSymptom::Angina))
}

fn shows_ischaemia(test: &ExerciseTest) -> bool {
    had_angina(test)
        || test.ischaemia_hr_bpm.is_some()
        || test
            .st_depression_mm
            .is_some_and(|mm| mm >= ISCHAEMIC_ST_MM)
}
