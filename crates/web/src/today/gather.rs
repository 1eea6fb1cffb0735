//! Whom today is about: chosen by the dates that lists keep, and only the chosen ones are opened.

use crate::casefile::{CaseFile, is_open, is_running, open_alerts};
use crate::error::PageError;
use crate::guard::Signed;
use jiff::civil::Date;
use records::{CaseFilter, CaseListing, Word};
use rehab::assessment::StatusKind;
use rehab::review::{Review, Urgency};
use std::collections::BTreeSet;
use tokio::task::JoinSet;

/// Most people whose case is opened for the page; the others are named with "and N more".
const MOST_OPENED: usize = 14;
/// Most people of the rest who are counted one by one.
const MOST_COUNTED: u32 = 120;

/// Somebody who needs something, opened.
pub(super) struct Needy {
    pub(super) file: CaseFile,
    pub(super) review: Review,
}

/// Everybody today is about.
#[derive(Default)]
pub(super) struct Gathered {
    /// For a lead who sees nobody themselves: alerts that nobody answered within the service's time.
    pub(super) lead: Vec<Needy>,
    /// An alert for today: somebody's voice first.
    pub(super) first: Vec<Needy>,
    /// Silence, or an alert for this week.
    pub(super) ring: Vec<Needy>,
    /// A call or visit agreed for today or earlier.
    pub(super) due: Vec<Needy>,
    /// Active without a page yet.
    pub(super) begin: Vec<Needy>,
    /// Need something too, not opened here.
    pub(super) more: Vec<CaseListing>,
    /// Could not be opened: damaged or changed outside the program.
    pub(super) damaged: Vec<CaseListing>,
    /// Referred or waiting for clearance.
    pub(super) waiting: Vec<CaseListing>,
    /// Going on as agreed.
    pub(super) agreed: Vec<CaseListing>,
    /// Whether `agreed` is everybody.
    pub(super) agreed_is_whole: bool,
}

impl Gathered {
    pub(super) fn is_empty(&self) -> bool {
        self.lead.is_empty()
            && self.first.is_empty()
            && self.ring.is_empty()
            && self.due.is_empty()
            && self.begin.is_empty()
            && self.more.is_empty()
            && self.damaged.is_empty()
            && self.waiting.is_empty()
            && self.agreed.is_empty()
    }
}

fn words(kinds: &[StatusKind]) -> Vec<Word> {
    let word = |kind: &StatusKind| Word::new(kind.word()).expect("status words are words of ours");
    kinds.iter().map(word).collect()
}

pub(super) async fn gather(signed: &Signed) -> Result<Gathered, PageError> {
    let on = signed.app.clock().today();
    let open: Vec<StatusKind> = StatusKind::ALL
        .iter()
        .copied()
        .filter(|kind| is_open(*kind))
        .collect();
    let mut needy = list(signed, words(&open), Some(on), None).await?;
    needy.sort_by_key(|one| rank(one, on));
    let mut gathered = Gathered::default();
    let ids: BTreeSet<_> = needy.iter().map(|one| one.case).collect();
    let rest = list(
        signed,
        words(&[StatusKind::Active]),
        None,
        Some(MOST_COUNTED),
    )
    .await?;
    gathered.agreed_is_whole = rest.len() < MOST_COUNTED as usize;
    gathered.agreed = rest
        .into_iter()
        .filter(|one| !ids.contains(&one.case))
        .collect();
    let waiting = words(&[StatusKind::Referred, StatusKind::WaitingForClearance]);
    gathered.waiting = list(signed, waiting, None, Some(MOST_COUNTED)).await?;
    gathered.waiting.retain(|one| !ids.contains(&one.case));
    gathered.more = needy.split_off(needy.len().min(MOST_OPENED));
    open_each(signed, needy, &mut gathered, on).await?;
    Ok(gathered)
}

async fn list(
    signed: &Signed,
    statuses: Vec<Word>,
    attention_on: Option<Date>,
    limit: Option<u32>,
) -> Result<Vec<CaseListing>, PageError> {
    let filter = CaseFilter {
        statuses,
        attention_on,
        limit,
        ..CaseFilter::default()
    };
    Ok(signed.store.list_cases(signed.user.id, &filter).await?)
}

/// Open alerts come first, then the longest silence, then what was due first.
fn rank(one: &CaseListing, on: Date) -> (bool, Date, Date) {
    let summary = &one.summary;
    (
        summary.open_alert_count == 0,
        summary.silent_from.unwrap_or(Date::MAX).min(on),
        summary.due_on.unwrap_or(Date::MAX),
    )
}

/// Opens the chosen cases at the same time, so that their notes in the access log are written together.
async fn open_each(
    signed: &Signed,
    listed: Vec<CaseListing>,
    gathered: &mut Gathered,
    on: Date,
) -> Result<(), PageError> {
    let service = signed.app.service(&signed.store, &signed.user).await?;
    let mut readings = JoinSet::new();
    for (place, one) in listed.iter().enumerate() {
        let (store, reading, id) = (signed.store.clone(), signed.reading("today"), one.case);
        readings.spawn(async move { (place, store.entries(id, &reading).await) });
    }
    let mut opened = Vec::new();
    while let Some(read) = readings.join_next().await {
        let (place, entries) = read.map_err(|_| {
            PageError::Refused("The page was given up while it was made. Load it again".to_owned())
        })?;
        opened.push((place, entries));
    }
    opened.sort_by_key(|(place, _)| *place);
    for ((_, entries), listing) in opened.into_iter().zip(listed) {
        let file = entries.map_err(PageError::from).and_then(|entries| {
            CaseFile::of(listing.case, entries, service.clone(), &signed.app, on)
        });
        match file {
            Ok(file) => sort_in(file, gathered, is_lead_only(signed)),
            Err(_) => gathered.damaged.push(listing),
        }
    }
    Ok(())
}

/// Somebody who leads and sees nobody themselves; who does both has the same list as a practitioner.
fn is_lead_only(signed: &Signed) -> bool {
    let roles = signed.user.roles;
    roles.lead && !roles.practitioner
}

fn sort_in(file: CaseFile, gathered: &mut Gathered, for_lead: bool) {
    let review = file.review();
    let alerts = open_alerts(&file.course, &review);
    let late = alerts.iter().any(|alert| alert.is_with_lead(file.on));
    let today = alerts.iter().any(|alert| alert.urgency == Urgency::Today);
    let group = match (today, alerts.is_empty(), is_running(&file.course)) {
        _ if late && for_lead => &mut gathered.lead,
        (true, ..) => &mut gathered.first,
        (false, false, _) => &mut gathered.ring,
        (false, true, true) => &mut gathered.due,
        (false, true, false) => &mut gathered.begin,
    };
    group.push(Needy { file, review });
}
