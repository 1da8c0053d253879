//! What crosses between the window and the shell: one struct per request, its reply, and [`Fault`].
//!
//! What this crate does *not* hold: no rule, no SQL, no path of a file, no key. A view sends a
//! request through its one typed `call`; a shell command unpacks, makes one call and answers.

mod demonstration;
mod drafts;
mod evidence;
mod facility;
mod fault;
mod notices;
mod people;
mod people_file;
mod person_file;
mod procedures;
mod requirements;
mod sessions;
mod standing;
mod told;

pub use demonstration::*;
pub use drafts::*;
pub use evidence::*;
pub use facility::*;
pub use fault::{Fault, Next};
pub use notices::*;
pub use people::*;
pub use people_file::*;
pub use person_file::*;
pub use procedures::*;
pub use requirements::*;
pub use sessions::*;
pub use standing::*;
pub use told::{beginning, grouped};

use serde::{Serialize, de::DeserializeOwned};

/// A request of the window, answered by the shell command of the same name.
pub trait Command: Serialize + DeserializeOwned {
    /// Name of the shell command.
    const NAME: &'static str;
    /// What a success brings.
    type Reply: Serialize + DeserializeOwned;
}

macro_rules! commands {
    ($($request:ident => $name:literal -> $reply:ty;)*) => {
        $(impl Command for $request {
            const NAME: &'static str = $name;
            type Reply = $reply;
        })*
        /// Every command, in the order of this list; a test holds the shell and its capability to it.
        pub const COMMANDS: &[&str] = &[$($name),*];
    };
}

commands! {
    OpenHome => "open_home" -> Home;
    CreateFacility => "create_facility" -> Home;
    ListPeople => "list_people" -> People;
    AddPerson => "add_person" -> Person;
    AppointObserver => "appoint_observer" -> Person;
    SaveAuthority => "save_authority" -> SavedAuthority;
    ListProcedures => "list_procedures" -> Vec<ProcedureLine>;
    OpenProcedure => "open_procedure" -> OpenedProcedure;
    SaveProcedure => "save_procedure" -> Shown;
    SaveForm => "save_form" -> Shown;
    RetireProcedure => "retire_procedure" -> Vec<ProcedureLine>;
    ListDrafts => "list_drafts" -> Vec<DraftLine>;
    BeginDraft => "begin_draft" -> OpenedDraft;
    OpenDraft => "open_draft" -> OpenedDraft;
    KeepDraft => "keep_draft" -> Kept;
    DropDraft => "drop_draft" -> Vec<DraftLine>;
    PublishDraft => "publish_draft" -> OpenedProcedure;
    BeginDemonstration => "begin_demonstration" -> OpenedDemonstration;
    OpenDemonstration => "open_demonstration" -> OpenedDemonstration;
    Tap => "tap" -> Acknowledged;
    ReviewDemonstration => "review_demonstration" -> Review;
    StopReview => "stop_review" -> Stopped;
    SealDemonstration => "seal_demonstration" -> Sealed;
    OpenRosterPage => "open_roster" -> RosterPage;
    OpenHistory => "open_history" -> History;
    ShowRecord => "show_record" -> Shown;
    SaveRoster => "save_roster" -> Shown;
    SaveReminders => "save_reminders" -> Shown;
    NotifyDue => "notify_due" -> Notified;
    SaveHistory => "save_history" -> Shown;
    Countersign => "countersign" -> Countersigned;
    CheckRecord => "check_record" -> CheckedRecord;
    CorrectRecord => "correct_record" -> History;
    RevokeSigning => "revoke_signing" -> RevokedSigning;
    BackUp => "back_up" -> BackedUp;
    BringBackup => "bring_backup" -> Brought;
    RestoreBackup => "restore_backup" -> RestoredBackup;
    SaveRecoverySheet => "save_recovery_sheet" -> Shown;
    RemoveRecoverySheet => "remove_recovery_sheet" -> Removed;
    SaveTrustPage => "save_trust_page" -> Shown;
    RollAuthorityOver => "roll_authority_over" -> SavedAuthority;
    MakeJoinRequest => "make_join_request" -> JoinRequested;
    ReadJoinRequest => "read_join_request" -> JoinRequestRead;
    AnswerJoinRequest => "answer_join_request" -> Shown;
    ListObservers => "list_observers" -> Observers;
    OpenUnitFindings => "open_unit_findings" -> UnitFindings;
    OpenRequirements => "open_requirements" -> Requirements;
    SetRequirement => "set_requirement" -> Requirements;
    SetFacilityRules => "set_facility_rules" -> Requirements;
    AskAgain => "ask_again" -> Requirements;
    ReadPeopleFile => "read_people_file" -> PeopleTable;
    TryImport => "try_import" -> ImportTold;
    ConfirmImport => "confirm_import" -> ImportTold;
    OpenPerson => "open_person" -> PersonFile;
    StateAbout => "state_about" -> PersonFile;
    EraseName => "erase_name" -> PersonFile;
    WhoMayGoIn => "who_may_go_in" -> MayGoIn;
    CheckPrerequisites => "check_prerequisites" -> Prerequisites;
    OpenSessions => "open_sessions" -> Sessions;
    SetSession => "set_session" -> Sessions;
    GivePlaces => "give_places" -> Sessions;
    SaveInvitations => "save_invitations" -> Shown;
}
