-- The record of one service: who works with it, the wrapped keys, the cases, their journals, and what was read.
--
-- In clear: ids, dates, times, counts, kinds of entries, states of cases, names of staff.
-- Sealed (XChaCha20-Poly1305): bodies of entries, the name, birth year and one line of a patient, the reference of a case, every key.
-- Times end in `_ms` (milliseconds since 1970, UTC); dates and local times are ISO text.
-- This file is never edited once it was applied anywhere: a change is the next file.

CREATE TABLE migration (
    migration_id INTEGER PRIMARY KEY,
    file_name    TEXT    NOT NULL,
    sha256       BLOB    NOT NULL CHECK (length(sha256) = 32),
    applied_ms   INTEGER NOT NULL
) STRICT;

-- One row: the identity of this record, bound into everything that is sealed in it.
CREATE TABLE record (
    record_id  BLOB    PRIMARY KEY CHECK (length(record_id) = 16),
    only_one   INTEGER NOT NULL DEFAULT 1 UNIQUE CHECK (only_one = 1),
    created_ms INTEGER NOT NULL,
    -- A fixed text sealed with the data key: tells a right key from a wrong one.
    key_check  BLOB    NOT NULL
) STRICT;

-- Somebody who works with the record. Removed users stay, because entries name them.
CREATE TABLE app_user (
    app_user_id      BLOB    PRIMARY KEY CHECK (length(app_user_id) = 16),
    sign_in          TEXT    NOT NULL,
    full_name        TEXT    NOT NULL,
    is_practitioner  INTEGER NOT NULL CHECK (is_practitioner IN (0, 1)),
    is_lead          INTEGER NOT NULL CHECK (is_lead IN (0, 1)),
    is_administrator INTEGER NOT NULL CHECK (is_administrator IN (0, 1)),
    created_ms       INTEGER NOT NULL,
    removed_ms       INTEGER,
    CHECK (is_practitioner + is_lead + is_administrator > 0)
) STRICT;
CREATE UNIQUE INDEX app_user_sign_in ON app_user (sign_in) WHERE removed_ms IS NULL;
CREATE TRIGGER app_user_stays BEFORE DELETE ON app_user
BEGIN SELECT RAISE(ABORT, 'a user is removed by date, never deleted'); END;

-- The data key, wrapped once for each passphrase and once for the printed recovery sheet, with the throttle of wrong attempts.
CREATE TABLE key_wrap (
    key_wrap_id   BLOB    PRIMARY KEY CHECK (length(key_wrap_id) = 16),
    purpose       TEXT    NOT NULL CHECK (purpose IN ('passphrase', 'recovery')),
    app_user_id   BLOB    UNIQUE REFERENCES app_user (app_user_id),
    salt          BLOB    NOT NULL CHECK (length(salt) = 16),
    memory_kib    INTEGER NOT NULL,
    passes        INTEGER NOT NULL,
    sealed_key    BLOB    NOT NULL,
    failed_count  INTEGER NOT NULL DEFAULT 0,
    not_before_ms INTEGER NOT NULL DEFAULT 0,
    CHECK ((purpose = 'passphrase') = (app_user_id IS NOT NULL))
) STRICT;
CREATE UNIQUE INDEX key_wrap_one_sheet ON key_wrap (purpose) WHERE purpose = 'recovery';

-- One patient under care, with the dates and counts that lists need. A case is never deleted; an erased one keeps its empty shell.
CREATE TABLE patient_case (
    patient_case_id  BLOB    PRIMARY KEY CHECK (length(patient_case_id) = 16),
    -- HMAC of the reference (the id in the case file) under a key derived from the data key.
    reference_digest BLOB    UNIQUE CHECK (length(reference_digest) = 32),
    sealed_reference BLOB,
    sealed_personal  BLOB,
    status           TEXT    NOT NULL,
    due_on           TEXT,
    silent_from      TEXT,
    examined_on      TEXT,
    heard_on         TEXT,
    session_count    INTEGER NOT NULL CHECK (session_count >= 0),
    open_alert_count INTEGER NOT NULL CHECK (open_alert_count >= 0),
    -- The head of the chain: position and hash of the newest entry.
    entry_count      INTEGER NOT NULL DEFAULT 0,
    head_hash        BLOB    NOT NULL CHECK (length(head_hash) = 32),
    -- HMAC of the head under a key derived from the case key, so that an entry cut off at the end is noticed.
    head_seal        BLOB    CHECK (length(head_seal) = 32),
    opened_ms        INTEGER NOT NULL,
    changed_ms       INTEGER NOT NULL,
    erased_ms        INTEGER
) STRICT;
CREATE INDEX patient_case_due ON patient_case (due_on);
CREATE INDEX patient_case_silent ON patient_case (silent_from);
CREATE TRIGGER patient_case_stays BEFORE DELETE ON patient_case
BEGIN SELECT RAISE(ABORT, 'a case is erased by its key, never deleted'); END;
CREATE TRIGGER patient_case_grows BEFORE UPDATE ON patient_case WHEN NEW.entry_count < OLD.entry_count
BEGIN SELECT RAISE(ABORT, 'the journal of a case only grows'); END;
CREATE TRIGGER patient_case_erased BEFORE UPDATE ON patient_case WHEN OLD.erased_ms IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'an erased case stays as it is'); END;

-- The key of a case, sealed with the data key. Deleting the row erases the case.
CREATE TABLE case_key (
    patient_case_id BLOB PRIMARY KEY REFERENCES patient_case (patient_case_id),
    sealed_key      BLOB NOT NULL
) STRICT;

-- The journal: one row an entry, in order, each with the hash of the one before. It only grows.
CREATE TABLE journal_entry (
    journal_entry_id BLOB    PRIMARY KEY CHECK (length(journal_entry_id) = 16),
    patient_case_id  BLOB    NOT NULL REFERENCES patient_case (patient_case_id),
    position         INTEGER NOT NULL CHECK (position >= 1),
    kind             TEXT    NOT NULL,
    -- When it was true or done, in the local time of the service.
    effective_at     TEXT    NOT NULL,
    recorded_ms      INTEGER NOT NULL,
    app_user_id      BLOB    NOT NULL REFERENCES app_user (app_user_id),
    -- The entry that this one corrects; it stays readable and can be corrected once (then its correction is corrected).
    supersedes       BLOB    UNIQUE REFERENCES journal_entry (journal_entry_id),
    -- One line each: name, blank, SHA-256 in hexadecimal digits.
    plan_digests     TEXT    NOT NULL,
    sealed_body      BLOB    NOT NULL,
    hash_before      BLOB    NOT NULL CHECK (length(hash_before) = 32),
    hash             BLOB    NOT NULL CHECK (length(hash) = 32),
    UNIQUE (patient_case_id, position)
) STRICT;
CREATE TRIGGER journal_entry_not_changed BEFORE UPDATE ON journal_entry
BEGIN SELECT RAISE(ABORT, 'the journal only grows: correct an entry with a new one'); END;
CREATE TRIGGER journal_entry_not_deleted BEFORE DELETE ON journal_entry
BEGIN SELECT RAISE(ABORT, 'the journal only grows: nothing is deleted'); END;
-- Also against INSERT OR REPLACE, which deletes without the trigger above.
CREATE TRIGGER journal_entry_not_replaced BEFORE INSERT ON journal_entry
WHEN EXISTS (SELECT 1 FROM journal_entry WHERE journal_entry_id = NEW.journal_entry_id)
BEGIN SELECT RAISE(ABORT, 'the journal only grows: this entry is there already'); END;
CREATE TRIGGER journal_entry_in_order BEFORE INSERT ON journal_entry
WHEN NEW.position <> (SELECT entry_count + 1 FROM patient_case WHERE patient_case_id = NEW.patient_case_id)
BEGIN SELECT RAISE(ABORT, 'the journal grows at its end'); END;

-- Who opened what and when. A row without a case is about the whole record (unlocking, backup).
CREATE TABLE access (
    access_id       INTEGER PRIMARY KEY AUTOINCREMENT,
    at_ms           INTEGER NOT NULL,
    app_user_id     BLOB    REFERENCES app_user (app_user_id),
    patient_case_id BLOB    REFERENCES patient_case (patient_case_id),
    what            TEXT    NOT NULL
) STRICT;
CREATE INDEX access_by_case ON access (patient_case_id, access_id);
CREATE TRIGGER access_not_changed BEFORE UPDATE ON access
BEGIN SELECT RAISE(ABORT, 'the access log only grows'); END;
CREATE TRIGGER access_not_deleted BEFORE DELETE ON access
BEGIN SELECT RAISE(ABORT, 'the access log only grows'); END;
CREATE TRIGGER access_not_replaced BEFORE INSERT ON access
WHEN EXISTS (SELECT 1 FROM access WHERE access_id = NEW.access_id)
BEGIN SELECT RAISE(ABORT, 'the access log only grows'); END;

-- A signed-in browser. The token itself is only in its cookie; here stands its SHA-256.
CREATE TABLE session (
    session_id  BLOB    PRIMARY KEY CHECK (length(session_id) = 32),
    app_user_id BLOB    NOT NULL REFERENCES app_user (app_user_id),
    created_ms  INTEGER NOT NULL,
    expires_ms  INTEGER NOT NULL,
    is_locked   INTEGER NOT NULL DEFAULT 0 CHECK (is_locked IN (0, 1))
) STRICT;
CREATE INDEX session_by_user ON session (app_user_id);
