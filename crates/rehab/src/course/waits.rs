//! What a page waits for.

use super::Course;
use crate::assessed::Assessed;
use crate::review::{Action, Review};
use jiff::civil::Date;

/// Why no page is signed or given now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PageRefused {
    /// The program proposes to stop: something red is open.
    Stop(String),
    /// Stopped on a day after which nobody examined.
    Stopped(Date),
}

impl core::fmt::Display for PageRefused {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Stop(why) => write!(
                f,
                "something stands that stops exercise ({why}), so no page is signed or given; speak to the person \
                 and write down what was done"
            ),
            Self::Stopped(since) => write!(
                f,
                "stopped since {since} and not examined on a later day, so no page is signed or given; examine first"
            ),
        }
    }
}

impl core::error::Error for PageRefused {}

impl Course {
    /// What signing or giving a page waits for beside the screening; also a first page, which no proposal precedes.
    ///
    /// # Errors
    /// [`PageRefused`] while something red is open, or a stop has no examination on a later day.
    pub fn may_have_a_page(&self, review: &Review, assessed: &Assessed) -> Result<(), PageRefused> {
        let proposal = &review.proposal;
        if proposal.action == Action::StopAndContact {
            let why = proposal.because.first().map(|one| one.text.clone());
            return Err(PageRefused::Stop(why.unwrap_or_default()));
        }
        match self.stopped {
            Some(since) if assessed.screening.examined.is_none_or(|day| day <= since) => {
                Err(PageRefused::Stopped(since))
            }
            _ => Ok(()),
        }
    }
}
