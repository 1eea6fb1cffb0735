//! Whom today is about: chosen by the dates that lists keep, and only the chosen ones are opened.

use super::needy::{Group, Needy};
use super::say::Opened;
use crate::casefile::{CaseFile, is_open};
use crate::error::PageError;
use crate::guard::Signed;
use crate::worked_out::From;
use jiff::civil::Date;
use records::{Attention, CaseFilter, CaseId, CaseListing, Word};
use rehab::assessment::StatusKind;
use std::sync::Arc;
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
    /// Who was looked at and where they stand, the most urgent first.
    pub(super) needy: Vec<(Group, Arc<Needy>)>,
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

    /// Who stands in a group, the most urgent first.
    pub(super) fn of(&self, group: Group) -> impl Iterator<Item = &Arc<Needy>> {
        let in_it = move |(one, _): &&(Group, Arc<Needy>)| *one == group;
        self.needy.iter().filter(in_it).map(|(_, needy)| needy)
    }

    /// How many people were looked at.
    pub(super) const fn opened(&self) -> usize {
        self.needy.len()
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
    let needed = |named: u32| CaseFilter {
        statuses: words(&open),
        attention: Attention::NeededOn(on),
        limit: Some(named),
        ..CaseFilter::default()
    };
    let quiet = |kinds: &[StatusKind]| CaseFilter {
        statuses: words(kinds),
        attention: Attention::NotNeededOn(on),
        limit: Some(NAMES),
        ..CaseFilter::default()
    };
    let new = quiet(&[StatusKind::Referred, StatusKind::WaitingForClearance]);
    let active = quiet(&[StatusKind::Active]);
    let counted = Some(MOST_COUNTED + 1);
    let wanted = [
        (needed(shown + MOST_NAMED), None),
        (new, counted),
        (active, counted),
    ];
    let [mut needy, waiting, agreed] = people(signed, wanted).await?;
    let mut alerts = with_alert(&needy);
    if alerts == needy.named.len() && needy.count > alerts {
        let wanted = [(needed(MOST_OPENED + MOST_NAMED), None)];
        [needy] = people(signed, wanted).await?;
        alerts = with_alert(&needy);
    }
    // Cases with an alert come first and are looked at, as many as one page holds, so that none is cut off by others.
    let alerts = u32::try_from(alerts).unwrap_or(MOST_OPENED);
    let shown = shown.max(alerts.min(MOST_OPENED));
    let opened = needy.named.drain(..needy.named.len().min(shown as usize));
    let opened: Vec<CaseListing> = opened.collect();
    needy.count -= opened.len();
    let mut gathered = Gathered {
        more: needy,
        waiting,
        agreed,
        ..Gathered::default()
    };
    tell_each(signed, opened, &mut gathered, on).await?;
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

/// Names the first of each list and counts all of it, as they stand at the same moment.
async fn people<const LISTS: usize>(
    signed: &Signed,
    wanted: [(CaseFilter, Option<u32>); LISTS],
) -> Result<[People; LISTS], PageError> {
    let lists = signed.store.lists_of_cases(signed.user.id, &wanted).await?;
    let mut lists = lists.into_iter().zip(wanted);
    Ok(std::array::from_fn(|_| {
        let ((named, count), (_, most)) = lists.next().expect("a list for each wanted");
        People {
            named,
            count: usize::try_from(count).unwrap_or(usize::MAX),
            is_counted: most.is_none_or(|most| count < u64::from(most)),
        }
    }))
}

/// Tells of the chosen people. Of whom nothing changed since, what was said is said again; the others are opened at the
/// same time, so that their notes in the access log are written together.
async fn tell_each(
    signed: &Signed,
    listed: Vec<CaseListing>,
    gathered: &mut Gathered,
    on: Date,
) -> Result<(), PageError> {
    let service = signed.app.service(&signed.store, &signed.user).await?;
    let from = |listing: &CaseListing| From {
        entries: listing.entry_count,
        on,
        service: service.clone(),
    };
    let told = listed.iter().map(|one| {
        let sound = one.fault.is_none();
        let known = || signed.app.told().known(one.case, &from(one));
        sound.then(known).flatten()
    });
    let mut told: Vec<Option<Arc<Needy>>> = told.collect();
    let again: Vec<CaseId> = told.iter().flatten().map(|needy| needy.id).collect();
    signed
        .store
        .note_accesses(&again, &signed.reading("today"))
        .await?;
    let mut openings = JoinSet::new();
    for (place, listing) in listed.iter().enumerate() {
        if told[place].is_none() {
            let opening = open(signed, listing, from(listing));
            openings.spawn(async move { (place, opening.await) });
        }
    }
    while let Some(opened) = openings.join_next().await {
        let (place, needy) = opened.map_err(|_| {
            PageError::Refused("The page was given up while it was made. Load it again".to_owned())
        })?;
        told[place] = needy.ok();
    }
    let for_lead = is_lead_only(signed);
    for (told, listing) in told.into_iter().zip(listed) {
        match told {
            Some(needy) => gathered.needy.push((needy.group(for_lead), needy)),
            None => gathered.damaged.push(listing),
        }
    }
    Ok(())
}

/// Opens a case and tells of it.
fn open(
    signed: &Signed,
    listing: &CaseListing,
    mut from: From,
) -> impl Future<Output = Result<Arc<Needy>, PageError>> + use<> {
    let (app, store, reading) = (
        signed.app.clone(),
        signed.store.clone(),
        signed.reading("today"),
    );
    let id = listing.case;
    async move {
        let entries = store.entries(id, &reading).await?;
        from.entries = entries.len() as u64;
        let file = CaseFile::of(id, entries, from.service.clone(), &app, from.on)?;
        let review = file.review();
        let needy = Needy::of(&Opened { file, review });
        Ok(app.told().keep(id, from, needy))
    }
}

/// Somebody who leads and sees nobody themselves; who does both has the same list as a practitioner.
fn is_lead_only(signed: &Signed) -> bool {
    let roles = signed.user.roles;
    roles.lead && !roles.practitioner
}
