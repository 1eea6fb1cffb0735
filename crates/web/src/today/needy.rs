//! One person as Today speaks of them: told from the opened case once, and kept until something in it changes.

use super::say::{self, Opened};
use crate::casefile::{is_running, open_alerts, unfinished};
use crate::layout::{heard, hills};
use maud::Markup;
use records::CaseId;
use rehab::assessed::Decision;
use rehab::assessment::StatusKind;
use rehab::review::{Action, Urgency};

/// Where somebody stands on the page; in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Group {
    /// For a lead who sees nobody themselves: alerts that nobody answered within the service's time.
    Lead,
    /// An alert for today: somebody's voice first.
    First,
    /// A call or visit that was begun and is not finished.
    Unfinished,
    /// Silence, or an alert for this week.
    Ring,
    /// A call or visit agreed for today or earlier.
    Due,
    /// Active without a page yet.
    Begin,
}

impl Group {
    /// All of them, as they follow on the page.
    pub(super) const ALL: [Self; 6] = [
        Self::Lead,
        Self::First,
        Self::Unfinished,
        Self::Ring,
        Self::Due,
        Self::Begin,
    ];
}

/// Somebody who needs something, and what is said of it.
pub(crate) struct Needy {
    /// The case.
    pub(super) id: CaseId,
    /// How the person wants to be called.
    pub(super) called: String,
    /// The first telephone number.
    pub(super) number: Option<String>,
    /// The sentences.
    pub(super) said: Markup,
    /// The page as hills, for the gutter.
    pub(super) hills: Markup,
    /// Last heard from, of somebody with a page.
    pub(super) heard: Option<Markup>,
    /// That nobody has written what was done.
    pub(super) unanswered: Option<String>,
    /// Where a first or a next page is the step.
    pub(super) for_a_name: Option<ForAName>,
    group: Group,
    is_late: bool,
}

/// A page that somebody could sign.
pub(super) struct ForAName {
    /// The sentences.
    pub(super) said: Markup,
    /// Whether it can be signed now; else something waits for an answer first.
    pub(super) is_ready: bool,
}

impl Needy {
    /// What is said of an opened case.
    pub(super) fn of(opened: &Opened) -> Self {
        let file = &opened.file;
        let group = group(opened);
        let has_page = file.course.signed.is_some();
        let alerts = open_alerts(&file.course, &opened.review);
        Self {
            id: file.id,
            called: file.called(),
            number: file.course.case.person.telephones.first().cloned(),
            said: match group {
                Group::Lead | Group::First | Group::Ring => say::alert(opened),
                Group::Unfinished => say::unfinished(opened),
                Group::Due => say::due(opened),
                Group::Begin => say::begin(opened),
            },
            hills: hills(file),
            heard: has_page.then(|| heard(file, &opened.review)),
            unanswered: say::unanswered(opened),
            for_a_name: wants_a_page(opened).then(|| ForAName {
                said: if has_page {
                    say::due(opened)
                } else {
                    say::begin(opened)
                },
                is_ready: !waits(opened),
            }),
            group,
            is_late: alerts.iter().any(|alert| alert.is_with_lead(file.on)),
        }
    }

    /// Where the person stands, for a lead who sees nobody themselves or for everybody else.
    pub(super) const fn group(&self, for_lead: bool) -> Group {
        if self.is_late && for_lead {
            Group::Lead
        } else {
            self.group
        }
    }

    /// Whether a page can be signed now.
    pub(super) fn is_ready(&self) -> bool {
        self.for_a_name.as_ref().is_some_and(|page| page.is_ready)
    }
}

fn group(opened: &Opened) -> Group {
    let course = &opened.file.course;
    let alerts = open_alerts(course, &opened.review);
    let today = alerts.iter().any(|alert| alert.urgency == Urgency::Today);
    match (today, alerts.is_empty(), is_running(course)) {
        (true, ..) => Group::First,
        _ if unfinished(course).is_some() => Group::Unfinished,
        (false, false, _) => Group::Ring,
        (false, true, true) => Group::Due,
        (false, true, false) => Group::Begin,
    }
}

/// Whether a first or a next page is the step of this person.
fn wants_a_page(opened: &Opened) -> bool {
    let course = &opened.file.course;
    let active = course.case.status.kind == StatusKind::Active;
    active && (course.signed.is_none() || opened.review.proposal.action == Action::Advance)
}

fn waits(opened: &Opened) -> bool {
    let assessed = &opened.file.assessed;
    assessed.signing_blocked || assessed.screening.decision != Decision::Exercise
}
