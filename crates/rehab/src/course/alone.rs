//! What a page waits for before it may be done alone at home.

use super::Course;
use crate::assessed::{Assessed, Decision};
use crate::assessment::StatusKind;
use crate::programme::Stage;
use crate::programme::eligible::{ToWatch, still_to_watch};
use crate::review::Review;
use crate::service::Service;
use jiff::civil::Date;

/// One thing that a page waits for, whoever gives it and by which way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Waiting {
    /// The standing of the case is not that of somebody who exercises.
    Standing(StatusKind),
    /// Stopped on a day, and nobody decided on a page since.
    Stopped(Date),
    /// The review of the day lets no page be given.
    Review(String),
    /// The answer of the day is not to exercise at home.
    Decision(Decision),
    /// Sessions to be watched first.
    Sessions {
        /// How many the risk class asks for.
        needed: u8,
        /// How many were watched since the newest event.
        done: u8,
    },
    /// Ways of this page that must be watched and found good and in order first.
    NotSeen(Vec<ToWatch>),
    /// Nobody would be there to help, or could be called.
    Help(String),
}

impl Course {
    /// Everything that keeps a page from being done alone; nothing when it may be.
    pub fn waits_for(
        &self,
        stage: &Stage,
        service: &Service,
        assessed: &Assessed,
        review: &Review,
    ) -> Vec<Waiting> {
        let mut waits = Vec::new();
        let status = self.case.status.kind;
        if status != StatusKind::Active {
            waits.push(Waiting::Standing(status));
        }
        let decision = assessed.screening.decision;
        if let Some(since) = self.stopped {
            waits.push(Waiting::Stopped(since));
        } else if let Err(refused) = self.may_have_a_page(review, assessed)
            && decision == Decision::Exercise
        {
            waits.push(Waiting::Review(refused.to_string()));
        }
        if decision != Decision::Exercise {
            waits.push(Waiting::Decision(decision));
        }
        let home = &assessed.eligibility;
        let (needed, done) = (home.watched_needed, home.watched_done);
        if done < needed {
            waits.push(Waiting::Sessions { needed, done });
        }
        let unseen = still_to_watch(&self.case, service, assessed, stage);
        if !unseen.is_empty() {
            waits.push(Waiting::NotSeen(unseen));
        }
        if done >= needed && !home.alone_now && decision == Decision::Exercise {
            waits.push(Waiting::Help(home.because.text.clone()));
        }
        waits
    }
}
