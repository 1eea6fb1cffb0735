//! The keys of an unlocked record: the data key, what is derived from it, and the keys of cases.

use uuid::Uuid;
use zeroize::Zeroizing;

use crate::case::Personal;
use crate::chain::{Link, RecordId};
use crate::database::case_rows::CaseRow;
use crate::database::key_rows::WrapRow;
use crate::error::Error;
use crate::framing::Frame;
use crate::identity::{CaseId, UserId};
use crate::passphrase::{PassphraseCost, stretch, wrap_place};
use crate::seal::{Key, random_bytes};

/// Sealed with the data key when the record is created, to tell a right key from a wrong one.
const CHECK_TEXT: &[u8] = b"this is the key";

/// The data key of a record.
pub(crate) struct Keyring {
    pub(crate) record: RecordId,
    data_key: Key,
    reference_key: Key,
}

/// The key of one case.
pub(crate) struct CaseKey {
    record: RecordId,
    case: CaseId,
    key: Key,
    head_key: Key,
}

/// A new key with its sealed form.
pub(crate) struct NewCaseKey {
    pub(crate) key: CaseKey,
    pub(crate) sealed: Vec<u8>,
}

impl Keyring {
    /// The keys of a record from its data key.
    pub(crate) fn new(record: RecordId, data_key: Key) -> Keyring {
        let reference_key = data_key.derive("hearthpace case references 1");
        Keyring {
            record,
            data_key,
            reference_key,
        }
    }

    /// The same, if the key opens the check text of the record.
    pub(crate) fn checked(record: RecordId, data_key: Key, key_check: &[u8]) -> Option<Keyring> {
        let keys = Keyring::new(record, data_key);
        let opened = keys.data_key.open(&keys.check_place(), key_check)?;
        (opened.as_slice() == CHECK_TEXT).then_some(keys)
    }

    /// The check text to be stored.
    pub(crate) fn check_text(&self) -> Result<Vec<u8>, Error> {
        self.data_key.seal(&self.check_place(), CHECK_TEXT)
    }

    fn check_place(&self) -> Frame {
        Frame::for_purpose("hearthpace key check 1").bytes(&self.record)
    }

    /// The data key wrapped by a secret text (of a user, or of the recovery sheet).
    pub(crate) async fn wrap(
        &self,
        user: Option<UserId>,
        secret: &[u8],
        cost: PassphraseCost,
    ) -> Result<WrapRow, Error> {
        let id = Uuid::from_bytes(random_bytes()?);
        let salt: [u8; 16] = random_bytes()?;
        let wrapping = stretch_aside(secret, &salt, cost).await?;
        let place = wrap_place(
            &self.record,
            id.as_bytes(),
            user.as_ref().map(UserId::as_bytes),
        );
        Ok(WrapRow {
            key_wrap_id: id,
            app_user_id: user.map(UserId::to_uuid),
            salt: salt.to_vec(),
            memory_kib: cost.memory_kib.into(),
            passes: cost.passes.into(),
            sealed_key: wrapping.seal(&place, self.data_key.as_bytes())?,
            failed_count: 0,
            not_before_ms: 0,
        })
    }

    /// A new random key for a case.
    pub(crate) fn new_case_key(&self, case: CaseId) -> Result<NewCaseKey, Error> {
        let key = Key::random()?;
        let sealed = self
            .data_key
            .seal(&self.case_key_place(case), key.as_bytes())?;
        Ok(NewCaseKey {
            key: CaseKey::new(self.record, case, key),
            sealed,
        })
    }

    /// The key of a case; refused when the case was erased or the key does not open.
    pub(crate) fn case_key(&self, row: &CaseRow) -> Result<CaseKey, Error> {
        let sealed = row
            .sealed_key
            .as_deref()
            .filter(|_| row.erased_ms.is_none())
            .ok_or(Error::CaseErased)?;
        let key = self
            .data_key
            .open_key(&self.case_key_place(row.case()), sealed)
            .ok_or_else(|| Error::Tampered {
                what: format!("The key of case {}", row.case()),
            })?;
        Ok(CaseKey::new(self.record, row.case(), key))
    }

    fn case_key_place(&self, case: CaseId) -> Frame {
        Frame::for_purpose("hearthpace case key 1")
            .bytes(&self.record)
            .bytes(case.as_bytes())
    }

    /// The keyed digest under which a case is found by its reference.
    pub(crate) fn reference_digest(&self, reference: &str) -> [u8; 32] {
        self.reference_key
            .keyed_digest(&Frame::for_purpose("reference").text(reference))
    }
}

impl CaseKey {
    fn new(record: RecordId, case: CaseId, key: Key) -> CaseKey {
        let head_key = key.derive("hearthpace head of a journal 1");
        CaseKey {
            record,
            case,
            key,
            head_key,
        }
    }

    /// Seals the body of an entry to its place in the chain.
    pub(crate) fn seal_body(&self, link: &Link<'_>, body: &[u8]) -> Result<Vec<u8>, Error> {
        self.key.seal(&link.place(), body)
    }

    /// Opens the body of an entry.
    pub(crate) fn open_body(&self, link: &Link<'_>, sealed: &[u8]) -> Option<Vec<u8>> {
        self.key
            .open(&link.place(), sealed)
            .map(|mut body| std::mem::take(&mut *body))
    }

    /// Seals head, dates and counts of the case as they are in `row`; to be done after every change of it.
    pub(crate) fn seal_head(&self, row: &mut CaseRow) {
        row.head_seal = Some(
            self.head_key
                .keyed_digest(&row.head_frame(&self.record))
                .to_vec(),
        );
    }

    /// Whether head, dates and counts are as they were sealed.
    pub(crate) fn head_fits(&self, row: &CaseRow) -> bool {
        row.head_seal.as_deref()
            == Some(
                self.head_key
                    .keyed_digest(&row.head_frame(&self.record))
                    .as_slice(),
            )
    }

    /// Refuses a case whose head, dates or counts are not as they were sealed.
    pub(crate) fn check_head(&self, row: &CaseRow) -> Result<(), Error> {
        match self.head_fits(row) {
            true => Ok(()),
            false => Err(Error::Tampered {
                what: format!("The seal of case {}", row.case()),
            }),
        }
    }

    /// Seals the personal fields.
    pub(crate) fn seal_personal(&self, personal: &Personal) -> Result<Vec<u8>, Error> {
        let plain = personal.to_frame();
        self.key
            .seal(&self.field_place("personal"), plain.as_slice())
    }

    /// Opens the personal fields.
    pub(crate) fn open_personal(&self, sealed: &[u8]) -> Option<Personal> {
        Personal::from_bytes(&self.key.open(&self.field_place("personal"), sealed)?)
    }

    /// Seals the reference.
    pub(crate) fn seal_reference(&self, reference: &str) -> Result<Vec<u8>, Error> {
        self.key
            .seal(&self.field_place("reference"), reference.as_bytes())
    }

    /// Opens the reference.
    pub(crate) fn open_reference(&self, sealed: &[u8]) -> Option<String> {
        String::from_utf8(
            self.key
                .open(&self.field_place("reference"), sealed)?
                .to_vec(),
        )
        .ok()
    }

    fn field_place(&self, field: &str) -> Frame {
        Frame::for_purpose("hearthpace case field 1")
            .bytes(&self.record)
            .bytes(self.case.as_bytes())
            .text(field)
    }
}

/// Stretches a secret on a thread of its own, because it takes long on purpose.
pub(crate) async fn stretch_aside(
    secret: &[u8],
    salt: &[u8],
    cost: PassphraseCost,
) -> Result<Key, Error> {
    let (secret, salt) = (Zeroizing::new(secret.to_vec()), salt.to_vec());
    tokio::task::spawn_blocking(move || stretch(&secret, &salt, cost))
        .await
        .unwrap_or_else(|_| {
            Err(Error::unsuitable(
                "The passphrase",
                "the computer could not work on it: is memory short?",
            ))
        })
}
