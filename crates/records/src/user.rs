//! Users and what their roles allow.

use jiff::Timestamp;

use crate::error::Error;
use crate::identity::UserId;

/// The roles of a user; somebody who works alone has all three.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Roles {
    /// Looks after patients: reads, adds, opens cases.
    pub practitioner: bool,
    /// Answers for the service: the same, and adopts settings and erases cases.
    pub lead: bool,
    /// Manages users, the recovery sheet and backups; reads no case by this role alone.
    pub administrator: bool,
}

impl Roles {
    /// A practitioner.
    pub const PRACTITIONER: Roles = Roles {
        practitioner: true,
        lead: false,
        administrator: false,
    };
    /// A lead.
    pub const LEAD: Roles = Roles {
        practitioner: false,
        lead: true,
        administrator: false,
    };
    /// An administrator.
    pub const ADMINISTRATOR: Roles = Roles {
        practitioner: false,
        lead: false,
        administrator: true,
    };
    /// Somebody who does everything.
    pub const ALL: Roles = Roles {
        practitioner: true,
        lead: true,
        administrator: true,
    };

    /// Whether a user with these roles may do this.
    pub(crate) fn may(self, action: Action) -> bool {
        match action {
            Action::ReadCase | Action::AddToCase => self.practitioner || self.lead,
            Action::EraseCase => self.lead,
            Action::AddToService => self.lead || self.administrator,
            Action::ManageUsers => self.administrator,
            Action::ReadAccessLog => self.lead || self.administrator,
            Action::BackUp => self.practitioner || self.lead || self.administrator,
        }
    }

    /// Refuses a user without any role.
    pub(crate) fn checked(self) -> Result<Roles, Error> {
        if !(self.practitioner || self.lead || self.administrator) {
            return Err(Error::unsuitable("The user", "at least one role is needed"));
        }
        Ok(self)
    }
}

/// What a role may allow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Action {
    /// Read a case or the list of cases.
    ReadCase,
    /// Add to a case or open one.
    AddToCase,
    /// Destroy the key of a case.
    EraseCase,
    /// Add to the journal of the service.
    AddToService,
    /// Add, change and remove users; print a new recovery sheet.
    ManageUsers,
    /// See who read what.
    ReadAccessLog,
    /// Take a backup.
    BackUp,
}

impl Action {
    /// The refusal, in words.
    pub(crate) fn refused(self) -> Error {
        let (action, who) = match self {
            Action::ReadCase => ("read a case", "a practitioner or lead"),
            Action::AddToCase => ("add to a case", "a practitioner or lead"),
            Action::EraseCase => ("erase a case", "the lead"),
            Action::AddToService => (
                "change the settings of the service",
                "the lead or an administrator",
            ),
            Action::ManageUsers => ("manage users", "an administrator"),
            Action::ReadAccessLog => ("see who read what", "the lead or an administrator"),
            Action::BackUp => ("take a backup", "anyone who can sign in"),
        };
        Error::NotAllowed { action, who }
    }
}

/// Somebody to be added.
#[derive(Clone, Debug)]
pub struct NewUser {
    /// The short name for signing in; capitals do not matter.
    pub sign_in: String,
    /// The name as it stands under entries and letters.
    pub full_name: String,
    /// What this person may do.
    pub roles: Roles,
}

impl NewUser {
    /// The sign-in name in small letters without blanks around it; refused if empty or overlong.
    pub(crate) fn checked_sign_in(&self) -> Result<String, Error> {
        let sign_in = fold_sign_in(&self.sign_in);
        if sign_in.is_empty() || sign_in.chars().count() > 60 || sign_in.chars().any(is_hidden) {
            return Err(Error::unsuitable(
                "The sign-in name",
                "it needs 1 to 60 characters, all of which can be seen; type it by hand",
            ));
        }
        Ok(sign_in)
    }

    /// The full name; refused if empty or overlong.
    pub(crate) fn checked_full_name(&self) -> Result<&str, Error> {
        let name = self.full_name.trim();
        if name.is_empty() || name.chars().count() > 120 || name.chars().any(is_hidden) {
            return Err(Error::unsuitable(
                "The full name",
                "it needs 1 to 120 characters, all of which can be seen; type it by hand",
            ));
        }
        Ok(name)
    }
}

/// Signs that nobody sees: they order a line anew or end it, so that a name reads as another one.
fn is_hidden(sign: char) -> bool {
    sign.is_control()
        || matches!(sign, '\u{61c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}')
}

/// How sign-in names are compared.
pub(crate) fn fold_sign_in(typed: &str) -> String {
    typed.trim().to_lowercase()
}

/// Somebody who works or worked with the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct User {
    /// The id that entries and the access log name.
    pub id: UserId,
    /// The name for signing in.
    pub sign_in: String,
    /// The full name.
    pub full_name: String,
    /// What this person may do.
    pub roles: Roles,
    /// Whether there is a passphrase to sign in with.
    pub has_passphrase: bool,
    /// When the user was removed, if so.
    pub removed: Option<Timestamp>,
}
