//! The case as it is written down: what other entries say by themselves stays with those entries, so that striking one
//! of them out takes its effect away.

use super::{Course, Happening};
use crate::assessment::{Case, Pain, Watched};

impl Course {
    /// How a case is written down so that it reads like this one when it is folded again.
    ///
    /// A standing, a watched session and the date on a spray that were told by entries of their own are left as they
    /// were written before. Where a value goes back to that, it takes an entry more to say so.
    pub fn written(&self, case: &Case) -> Vec<Happening> {
        let mut written = case.clone();
        written.watched.retain(|one| !self.is_of_a_session(one));
        written.pains.retain(|one| !self.is_of_a_diary(one));
        if case.status == self.case.status {
            written.status = self.written.status;
        }
        if case.nitrate.until == self.case.nitrate.until {
            written.nitrate.until = self.written.nitrate.until;
        }
        let mut happenings = Vec::new();
        let goes_back = case.nitrate.until != self.case.nitrate.until
            && case.nitrate.until == self.written.nitrate.until;
        if goes_back {
            let mut between = written.clone();
            between.nitrate.until = self.case.nitrate.until;
            happenings.push(Happening::Case(Box::new(between)));
        }
        let back_to_before = case.status != self.case.status && case.status == self.written.status;
        happenings.push(Happening::Case(Box::new(written)));
        if back_to_before {
            happenings.push(Happening::Status(case.status.kind));
        }
        happenings
    }

    fn is_of_a_diary(&self, one: &Pain) -> bool {
        let told = self.entries.iter().flat_map(super::pains);
        told.into_iter().any(|pain| pain == *one) && !self.written.pains.contains(one)
    }

    fn is_of_a_session(&self, one: &Watched) -> bool {
        let watched = self
            .watched
            .iter()
            .any(|session| session.stations.contains(one));
        watched && !self.written.watched.contains(one)
    }

    /// A newly written case keeps what was watched and which exercise hurt: a form never takes that back. Of what other
    /// entries say too, it changes only what it says otherwise than the case that was written before.
    pub(super) fn write_case(&mut self, mut case: Case) {
        let before = core::mem::replace(&mut self.written, case.clone());
        for pain in self.case.pains.iter().filter(|pain| pain.joint.is_none()) {
            if !case.pains.contains(pain) {
                case.pains.push(pain.clone());
            }
        }
        for watched in &self.case.watched {
            if !case.watched.contains(watched) {
                case.watched.push(watched.clone());
            }
        }
        if case.status == before.status {
            case.status = self.case.status;
        }
        if case.nitrate.until == before.nitrate.until {
            case.nitrate.until = self.case.nitrate.until;
        }
        self.case = case;
    }
}
