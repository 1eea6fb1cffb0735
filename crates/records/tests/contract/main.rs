//! The contract of the record: what holds whichever database is under it.
//!
//! Every function of the suite takes an [`common::Engine`] with nothing in it. A second engine adds one module below.

// The functions of the suite are tests, although the attribute stands elsewhere.
#![allow(clippy::unwrap_used)]

#[path = "../common/mod.rs"]
mod common;

mod access;
mod cases;
mod erasure;
mod journal;
mod journal_laws;
mod keys;
mod sessions;
mod together;
mod users;

/// One test for each function of the suite, on a fresh place of one engine.
macro_rules! contract {
    ($fresh:expr => $($part:ident: $($case:ident)*;)*) => {
        $($(
            #[tokio::test(flavor = "multi_thread", worker_threads = 2)]
            async fn $case() {
                crate::$part::$case($fresh).await;
            }
        )*)*
    };
}

macro_rules! run_all {
    ($fresh:expr) => {
        contract! { $fresh =>
            journal:
                entries_come_back_with_everything_that_was_given
                the_same_entry_twice_is_one_entry
                an_id_that_is_used_for_something_else_is_refused
                a_correction_supersedes_and_the_old_entry_stays_readable
                only_an_entry_of_the_same_case_can_be_corrected_and_only_once
                another_position_than_expected_is_a_conflict
                several_entries_are_added_all_or_none
                a_body_that_is_too_long_is_refused
                the_journal_of_the_service_is_kept_apart
                later_entries_alone_can_be_read;
            journal_laws:
                law_what_is_appended_is_read_back_in_order
                law_a_record_stays_sound_whatever_is_done;
            cases:
                a_case_is_found_by_its_reference
                opening_a_case_again_gives_the_same_case
                the_summary_moves_with_the_entry
                a_summary_worked_out_from_an_older_journal_is_a_conflict
                a_long_list_comes_in_pages
                an_unfit_reference_is_refused
                heads_change_with_every_entry
                law_a_filter_lets_through_what_it_says;
            erasure:
                an_erased_case_is_unreadable_and_its_chain_verifies
                the_reference_of_an_erased_case_can_be_used_again
                the_journal_of_the_service_cannot_be_erased;
            keys:
                the_passphrase_unlocks_and_a_wrong_one_does_not
                wrong_attempts_are_slowed_down_and_the_count_survives
                attempts_at_once_are_counted_each
                the_recovery_sheet_unlocks_and_sets_a_new_passphrase
                a_new_recovery_sheet_replaces_the_old_one
                a_given_key_unlocks_without_a_passphrase
                a_changed_passphrase_replaces_the_old_one
                a_short_passphrase_is_refused_wherever_one_is_set;
            users:
                a_user_is_added_and_signs_in
                a_removed_user_can_do_nothing_more
                the_last_administrator_stays
                names_of_users_are_checked
                law_roles_allow_what_they_say_and_nothing_else;
            sessions:
                a_session_is_found_until_it_ends
                a_locked_session_opens_with_the_passphrase_only
                sessions_end_with_their_user_and_passphrase
                expired_sessions_are_forgotten;
            access:
                every_reading_is_noted_and_refused_ones_are_not
                readings_of_several_cases_are_noted_together_or_not_at_all
                the_log_is_filtered
                reading_every_case_gives_what_reading_each_gives;
            together:
                entries_added_at_once_are_all_there_in_order
                of_two_who_expect_the_same_position_one_wins
                the_same_entry_sent_at_once_is_one_entry
                readings_at_once_are_noted_each
                readers_see_whole_transactions;
        }
    };
}

mod sqlite {
    run_all!(crate::common::SqliteFolder::fresh());
}
