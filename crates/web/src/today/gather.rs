//! Whom today is about: chosen by the dates that lists keep, and only the chosen ones are opened.

use crate::casefile::{CaseFile, is_open, is_running, open_alerts, unfinished};
use crate::error::PageError;
use crate::guard::Signed;
use jiff::civil::Date;
use records::{Attention, CaseFilter, CaseListing, Word};
use rehab::assessment::StatusKind;
use rehab::review::{Review, Urgency};
use tokio::task::JoinSet;

/// People whose case is opened for the page at first; "show more" opens as many again.
pub(super) const AT_ONCE: u32 = 14;
/// Most people whose case is opened at once.
pub(super) const MOST_OPENED: u32 = 140;
/// Most people who are named after those.
const MOST_NAMED: u32 = 40;
/// Most names of those who are new or go on as agreed.
pub(super) const NAMES: u32 = 8;
/// Most people of the rest who are counted one by one.
const MOST_COUNTED: u32 = 120;

/// Somebody who needs something, opened.
pub(super) struct Needy {
    pub(super) file: CaseFile,
    pub(super) review: Review,
}

/// Some people of a kind, and how many there are.
#[derive(Default)]
pub(super) struct People {
    pub(super) named: Vec<CaseListing>,
    /// All of them; where there are very many, only that they are more than can be counted quickly.
    pub(super) count: usize,
    pub(super) is_counted: bool,
}

/// Everybody today is about.
#[derive(Default)]
pub(super) struct Gathered {
    /// For a lead who sees nobody themselves: alerts that nobody answered within the service's time.
    pub(super) lead: Vec<Needy>,
    /// An alert for today: somebody's voice first.
    pub(super) first: Vec<Needy>,
    /// A call or visit that was begun and is not finished.
    pub(super) unfinished: Vec<Needy>,
    /// Silence, or an alert for this week.
    pub(super) ring: Vec<Needy>,
    /// A call or visit agreed for today or earlier.
    pub(super) due: Vec<Needy>,
    /// Active without a page yet.
    pub(super) begin: Vec<Needy>,
    /// Need something too, less urgently, and are not opened here.
    pub(super) more: People,
    /// Could not be opened: damaged or changed outside the program.
    pub(super) damaged: Vec<CaseListing>,
    /// Referred or waiting for clearance.
    pub(super) waiting: People,
    /// Going on as agreed.
    pub(super) agreed: People,
    /// Where nobody of all these is there: how many are in the record who left or died.
    pub(super) left: usize,
}

impl Gathered {
    pub(super) fn is_empty(&self) -> bool {
        self.opened() == 0
            && self.more.count == 0
            && self.damaged.is_empty()
            && self.waiting.count == 0
            && self.agreed.count == 0
    }

    /// The people who were opened, in the groups of the page.
    pub(super) const fn groups(&self) -> [&Vec<Needy>; 6] {
        [
            &self.lead,
            &self.first,
            &self.unfinished,
            &self.ring,
            &self.due,
            &self.begin,
        ]
    }

    /// The same, those who can wait first.
    pub(super) fn into_opened(self) -> impl Iterator<Item = Needy> {
        let groups = [
            self.begin,
            self.due,
            self.ring,
            self.unfinished,
            self.first,
            self.lead,
        ];
        groups.into_iter().flatten()
    }

    /// How many cases were opened.
    pub(super) fn opened(&self) -> usize {
        self.groups().iter().map(|group| group.len()).sum()
    }

    /// How many are looked at when more are wanted.
    pub(super) fn next(&self) -> usize {
        self.opened() + self.damaged.len() + AT_ONCE as usize
    }
}

fn words(kinds: &[StatusKind]) -> Vec<Word> {
    let word = |kind: &StatusKind| Word::new(kind.word()).expect("status words are words of ours");
    kinds.iter().map(word).collect()
}

/// Gathers everybody; the `shown` most urgent are opened.
pub(super) async fn gather(signed: &Signed, shown: u32) -> Result<Gathered, PageError> {
    let on = signed.app.clock().today();
    let shown = shown.clamp(AT_ONCE, MOST_OPENED);
    let open: Vec<StatusKind> = StatusKind::ALL
        .iter()
        .copied()
        .filter(|kind| is_open(*kind))
        .collect();
    let needed = CaseFilter {
        statuses: words(&open),
        attention: Attention::NeededOn(on),
        ..CaseFilter::default()
    };
    let mut needy = some(signed, needed.clone(), shown + MOST_NAMED, None).await?;
    let mut alerts = with_alert(&needy);
    if alerts == needy.named.len() && needy.count > alerts {
        needy = some(signed, needed, MOST_OPENED + MOST_NAMED, None).await?;
        alerts = with_alert(&needy);
    }
    // Cases with an alert come first and are opened, as many as one page holds, so that none is cut off by others.
    let alerts = u32::try_from(alerts).unwrap_or(MOST_OPENED);
    let shown = shown.max(alerts.min(MOST_OPENED));
    let opened = needy.named.drain(..needy.named.len().min(shown as usize));
    let opened: Vec<CaseListing> = opened.collect();
    // Somebody may be written in between the count and the list.
    needy.count = needy.count.saturating_sub(opened.len());
    let quiet = |kinds: &[StatusKind]| CaseFilter {
        statuses: words(kinds),
        attention: Attention::NotNeededOn(on),
        ..CaseFilter::default()
    };
    let new = quiet(&[StatusKind::Referred, StatusKind::WaitingForClearance]);
    let mut gathered = Gathered {
        more: needy,
        waiting: some(signed, new, NAMES, Some(MOST_COUNTED)).await?,
        agreed: some(
            signed,
            quiet(&[StatusKind::Active]),
            NAMES,
            Some(MOST_COUNTED),
        )
        .await?,
        ..Gathered::default()
    };
    open_each(signed, opened, &mut gathered, on).await?;
    if gathered.is_empty() {
        let anybody = CaseFilter::default();
        let count = signed.store.count_cases(signed.user.id, &anybody).await?;
        gathered.left = usize::try_from(count).unwrap_or(usize::MAX);
    }
    if gathered.more.count == 0 {
        let ready = super::name::count_ready(&gathered);
        signed.app.remember_for_a_name(on, ready);
    }
    Ok(gathered)
}

/// How many people have something to answer: they come first.
fn with_alert(needy: &People) -> usize {
    let all = needy.named.iter();
    all.take_while(|one| one.summary.open_alert_count > 0)
        .count()
}

/// Names the first of a list and counts the rest.
async fn some(
    signed: &Signed,
    mut filter: CaseFilter,
    named: u32,
    counted: Option<u32>,
) -> Result<People, PageError> {
    filter.limit = counted.map(|most| most + 1);
    let count = signed.store.count_cases(signed.user.id, &filter).await?;
    filter.limit = Some(named);
    let named = signed.store.list_cases(signed.user.id, &filter).await?;
    Ok(People {
        named,
        count: usize::try_from(count).unwrap_or(usize::MAX),
        is_counted: counted.is_none_or(|most| count <= u64::from(most)),
    })
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
        _ if unfinished(&file.course).is_some() => &mut gathered.unfinished,
        (false, false, _) => &mut gathered.ring,
        (false, true, true) => &mut gathered.due,
        (false, true, false) => &mut gathered.begin,
    };
    group.push(Needy { file, review });
}
