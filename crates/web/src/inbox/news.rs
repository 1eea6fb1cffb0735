//! What of a diary file is new, what tells more than was known, and what contradicts it.

use rehab::diary::{Diary, DiaryEntry};

/// Signs of an id that are kept when one of our own is made from it.
const MOST_OF_AN_ID: usize = 60;

/// A diary file beside what is known.
#[derive(Default)]
pub(super) struct News {
    /// Entries of which nothing is known.
    pub(super) new: Vec<DiaryEntry>,
    /// Entries as they were kept, and with what the file adds.
    pub(super) grown: Vec<(DiaryEntry, DiaryEntry)>,
    /// Entries as they were kept, and what the file says now, under an id of its own.
    pub(super) changed: Vec<(DiaryEntry, DiaryEntry)>,
    /// How many say nothing that is not known.
    pub(super) same: usize,
}

impl News {
    pub(super) fn of(known: &[DiaryEntry], diary: &Diary) -> Self {
        let mut news = Self::default();
        for entry in &diary.entries {
            news.sort_in(known, entry);
        }
        news
    }

    fn sort_in(&mut self, known: &[DiaryEntry], entry: &DiaryEntry) {
        let find = |id: &str| known.iter().find(|one| one.id == id);
        let mut now = entry.clone();
        let mut number = 1;
        // What contradicted an entry before and was kept beside it is known under a number of its own.
        while let Some(one) = find(&now.id) {
            if let Some(joined) = one.joined(&now) {
                match joined == *one {
                    true => self.same += 1,
                    false => self.grown.push((one.clone(), joined)),
                }
                return;
            }
            number += 1;
            let id: String = entry.id.chars().take(MOST_OF_AN_ID).collect();
            now.id = format!("{id}, told anew {number}");
        }
        match find(&entry.id) {
            Some(one) => self.changed.push((one.clone(), now)),
            None => self.new.push(now),
        }
    }

    /// What is kept; of those that contradict what is known, the ones that are wanted.
    pub(super) fn to_keep(&self, is_wanted: impl Fn(&DiaryEntry) -> bool) -> Vec<DiaryEntry> {
        let grown = self.grown.iter().map(|(_, now)| now);
        let changed = self.changed.iter().map(|(_, now)| now);
        self.new
            .iter()
            .chain(grown)
            .chain(changed.filter(|now| is_wanted(now)))
            .cloned()
            .collect()
    }
}
